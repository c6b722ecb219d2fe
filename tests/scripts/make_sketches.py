"""Draw the sketches of the forms anew: each .svg of the writer's folder as a .png beside it.

    python tests/scripts/make_sketches.py        from the project's folder

Chromium draws them, twice as large as they are printed.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

from browser import browser
from datumbook.writer.sketches import DRAWINGS

WINDOW = (1240, 400)  # pixels: no narrower, or the browser draws the page smaller
PAGE = (
    "<!doctype html><meta charset=utf-8>"
    "<style>body{{margin:0}}svg{{width:{0}px;height:{1}px}}</style>"
)


def draw() -> None:
    """Draw every sketch."""
    with TemporaryDirectory() as made, browser() as opened:
        for drawing in sorted(DRAWINGS.glob("*.svg")):
            page = Path(made) / f"{drawing.stem}.html"
            drawn = drawing.read_text("utf-8")
            wide, high = re.findall(r'(?:width|height)="(\d+)"', drawn)[:2]
            twice = (2 * int(wide), 2 * int(high))
            page.write_text(PAGE.format(*twice) + drawn, "utf-8")
            opened.open(page, *WINDOW)
            opened.picture(drawing.with_suffix(".png"), twice)


if __name__ == "__main__":
    draw()

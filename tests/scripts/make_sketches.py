"""Draw the sketches of the forms anew: each .svg of the writer's folder as a .png beside it.

    python tests/scripts/make_sketches.py        from the project's folder

Chromium draws them, twice as large as they are printed.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

from browser import browser
from datumbook.writer.sketches import DRAWINGS, SKETCH_HIGH, SKETCH_WIDE

PAGE = (
    "<!doctype html><meta charset=utf-8>"
    "<style>body{{margin:0}}svg{{width:{0}px;height:{1}px}}</style>"
)


def draw() -> None:
    """Draw every sketch."""
    twice = (2 * SKETCH_WIDE, 2 * SKETCH_HIGH)
    with TemporaryDirectory() as made, browser() as opened:
        for drawing in sorted(DRAWINGS.glob("*.svg")):
            page = Path(made) / f"{drawing.stem}.html"
            page.write_text(PAGE.format(*twice) + drawing.read_text("utf-8"), "utf-8")
            opened.open(page, *twice)
            opened.picture(drawing.with_suffix(".png"))


if __name__ == "__main__":
    draw()

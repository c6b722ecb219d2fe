"""Make output_examples/pictures.md anew, with its pictures: the demonstration's filled workbook and
report as printed.

    python tests/scripts/make_pictures.py        from the project's folder, after
    tests/scripts/make_examples.py

LibreOffice prints the workbook, poppler and Chromium draw. Programs of another version draw a
little otherwise, so no test holds the pictures to the byte.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

from browser import browser
from datumbook.commands.demo import ENGINE
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from make_examples import EXAMPLES
from programs import need, office

PAGE, FOLDER = "pictures.md", "pictures"
DOTS = 64  # an inch: small files that still read
SHEETS = {
    "Job": "the way through: what is next, what is left to fill, what holds",
    "Bores": "each reading is judged as it is typed; the next size of all bores follows",
    "Threads": "what holes are opened to at the bench, and what each thread wants",
    "Heights": "how the faces lie, corner by corner, and the metal left above the least",
    "Budget": "one line for each resource: gone, planned, still to spare",
    "Plan": "what each intended cut leaves",
    "Schedule": "the hole work in the order of fewest tool changes",
    "Cards": "depth and stop reading in large print, one card an operation",
    "Map": "the holes of each face, numbered in walking order",
    "Release": "what still holds the job up, and the concessions",
    "Customer": "one page to go with the block",
}
REPORT = "The report page of the validator, on a desk"
TELEPHONE = "The same on a telephone"


class Drawn(NamedTuple):
    """One picture: its file and the words under its heading."""

    file: str
    title: str
    says: str


def titles() -> dict[str, str]:
    """The title of every sheet of the demonstration."""
    layout = lay_out(load_spec(shipped_specs()[ENGINE]), Job("pictures"))
    return {name: plan.sheet.title for name, plan in layout.plans.items()}


def wanted() -> list[Drawn]:
    """Every picture of the page, in its order."""
    sheets = [
        Drawn(f"{name}.png", titles()[name], f"{name}: {says}") for name, says in SHEETS.items()
    ]
    return [
        *sheets,
        Drawn("report.png", REPORT, "Verdict first"),
        Drawn("telephone.png", TELEPHONE, "360 px wide"),
    ]


def draw_sheets(book: Path, folder: Path) -> None:
    """The first printed page of each sheet, by the name that stands at its head."""
    with TemporaryDirectory() as made:
        (printed,) = office([book], "pdf", Path(made), recalculate=False)
        pages = subprocess.run(
            [need("poppler"), printed, "-"], capture_output=True, check=True, text=True
        ).stdout.split("\f")
        heads = [page.partition("\n")[0].strip() for page in pages]
        for name in SHEETS:
            number = str(heads.index(name) + 1)
            options = ["-png", "-singlefile", "-r", str(DOTS), "-f", number, "-l", number]
            subprocess.run(["pdftoppm", *options, printed, folder / name], check=True)


def draw_report(page: Path, folder: Path) -> None:
    """The top of the report page, on a desk and on a telephone."""
    with browser() as opened:
        for name, width, height in (("report", 820, 900), ("telephone", 360, 760)):
            opened.open(page, width, height)
            opened.picture(folder / f"{name}.png")


def page_text(pictures: list[Drawn]) -> str:
    """The page that shows them."""
    head = (
        "# Pictures of the demonstration\n\nThe filled workbook printed by a spreadsheet program, "
        "and the report in a "
        "browser; made by `python tests/scripts/make_pictures.py`. The engine and every figure "
        "are invented.\n"
    )
    return head + "".join(
        f"\n## {one.title}\n\n{one.says}.\n\n![{one.title}]({FOLDER}/{one.file})\n"
        for one in pictures
    )


def make_pictures(examples: Path) -> Path:
    """Draw them from the examples in a folder, into that folder, and return the page that shows
    them.
    """
    folder = examples / FOLDER
    folder.mkdir(exist_ok=True)
    for old in folder.glob("*.png"):
        old.unlink()
    draw_sheets(examples / f"{ENGINE}_filled.xlsx", folder)
    draw_report(examples / "report.html", folder)
    (page := examples / PAGE).write_text(page_text(wanted()), "utf-8")
    return page


if __name__ == "__main__":
    sys.stdout.write(f"{make_pictures(EXAMPLES)}\n")

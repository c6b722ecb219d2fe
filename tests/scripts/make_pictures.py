"""Make output_examples/pictures.md anew, with its pictures: the demonstration's filled workbook,
its forms and the report as printed.

    python tests/scripts/make_pictures.py        from the project's folder, after
    tests/scripts/make_examples.py

LibreOffice prints the workbook, poppler and Chromium draw. Programs of another version draw a
little otherwise, so no test holds the pictures to the byte.
"""

from __future__ import annotations

import subprocess
import sys
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

from browser import browser
from datumbook.commands.demo import ENGINE
from datumbook.job import Job, job_of
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.writer import write
from make_examples import EXAMPLES
from programs import need, office

PAGE, FOLDER = "pictures.md", "pictures"
DOTS = 64  # an inch: small files that still read
SHEETS = {
    "Job": "the way through: what is next, what is left to fill, what holds",
    "Instruments": "how far each gauge may be off, its setting, and the warmth",
    "Plugs": "gallery plugs out, and what came behind them",
    "Proofs": "crack test and pressure test, each with its outcome",
    "Bores": "each reading is judged as it is typed; the next size of all bores follows",
    "Heights": "how the faces lie, corner by corner, and the metal left above the least",
    "Tunnels": "the main bearing tunnels, and whether they stand in one line",
    "Parts": "crank, rods and pistons as far as the block is cut to them",
    "Plan": "what each intended cut leaves",
    "Budget": "one line for each resource: gone, planned, still to spare",
    "Threads": "what holes are opened to at the bench, and what each thread wants",
    "Schedule": "the hole work in the order of fewest tool changes",
    "Cards": "depth and stop reading in large print, one card a walk; all of them",
    "Holes": "every hole gauged, the danger hole on a line of its own",
    "Map": "the holes of each face, numbered in walking order",
    "Finished": "the block measured again, each figure beside its limit",
    "Fits": "how the parts fit what was cut",
    "Release": "what still holds the job up, and the concessions",
    "Customer": "one page to go with the block",
}
WHOLE = ("Cards",)  # of which every page is kept; of the others the first
FORM = "form"
REPORT = "The report page of the validator, on a desk"
TELEPHONE = "The same on a telephone"


class Drawn(NamedTuple):
    """One picture: its file and the words under its heading."""

    file: str
    title: str
    says: str


@cache
def titles() -> dict[str, str]:
    """The title of every sheet of the demonstration."""
    layout = lay_out(load_spec(shipped_specs()[ENGINE]), Job("pictures"))
    return {name: plan.sheet.title for name, plan in layout.plans.items()}


def wanted(folder: Path) -> list[Drawn]:
    """Every picture of the page, in its order: the sheets, the forms, the report. How many pages
    there are, the files in the folder say.
    """
    sheets = [
        Drawn(path.name, titles()[name], f"{name}: {says}")
        for name, says in SHEETS.items()
        for path in (folder / f"{name}.png", *sorted(folder.glob(f"{name}_*.png")))
    ]
    forms = [
        Drawn(path.name, f"Form to write on, page {number}", "Of the usual reconditioning")
        for number, path in enumerate(sorted(folder.glob(f"{FORM}_*.png")), 1)
    ]
    return [
        *sheets,
        *forms,
        Drawn("report.png", REPORT, "Verdict first"),
        Drawn("telephone.png", TELEPHONE, "360 px wide"),
    ]


def printed_pages(book: Path, folder: Path) -> tuple[Path, list[str]]:
    """A workbook printed, and the name at the head of each of its pages."""
    (printed,) = office([book], "pdf", folder, recalculate=False)
    told = subprocess.run(
        [need("poppler"), printed, "-"], capture_output=True, check=True, text=True
    )
    return printed, [page.partition("\n")[0].strip() for page in told.stdout.split("\f")[:-1]]


def draw_page(printed: Path, number: int, picture: Path) -> None:
    """One page of a print as a picture."""
    options = ["-png", "-singlefile", "-r", str(DOTS), "-f", str(number), "-l", str(number)]
    subprocess.run(["pdftoppm", *options, printed, picture.with_suffix("")], check=True)


def draw_sheets(book: Path, folder: Path) -> None:
    """The first printed page of each sheet, by the name that stands at its head, and every page of
    some.
    """
    with TemporaryDirectory() as made:
        printed, heads = printed_pages(book, Path(made))
        for name in SHEETS:
            pages = [at for at, head in enumerate(heads, 1) if head == name]
            for number, at in enumerate(pages if name in WHOLE else pages[:1], 1):
                file = f"{name}.png" if number == 1 else f"{name}_{number}.png"
                draw_page(printed, at, folder / file)


def draw_forms(folder: Path) -> None:
    """Every page of the forms of the usual reconditioning."""
    with TemporaryDirectory() as made:
        job = job_of({"block": "SQ-2209", "work": "recondition"})
        layout = lay_out(load_spec(shipped_specs()[ENGINE]), job)
        write(layout, book := Path(made) / "forms.xlsx", pen=True)
        printed, heads = printed_pages(book, Path(made))
        for number in range(1, len(heads) + 1):
            draw_page(printed, number, folder / f"{FORM}_{number:02}.png")


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
    draw_forms(folder)
    draw_report(examples / "report.html", folder)
    (page := examples / PAGE).write_text(page_text(wanted(folder)), "utf-8")
    return page


if __name__ == "__main__":
    sys.stdout.write(f"{make_pictures(EXAMPLES)}\n")

"""What was measured of spreadsheet programs, as a page of the manual, from two data files beside
this one: compatibility.json as measured, compatibility.toml what is known not to hold.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Any

MEASURED = Path(__file__).with_name("compatibility.json")
GAPS = Path(__file__).with_name("compatibility.toml")
MEASURES = ("results", "typed", "saved", "printed")


@dataclass(frozen=True)
class Measured:
    """What one program did with one book; None where it cannot be asked.

    Results that are those of the book's own reckoning, and all; readings that the validator finds
    in the saved file as they were typed, and all; the codes of damage of which the saved file is
    accused; pages printed, and how many of them are empty.
    """

    results: tuple[int, int]
    typed: tuple[int, int] | None
    saved: tuple[str, ...] | None
    printed: tuple[int, int] | None

    def holds(self, measure: str) -> bool | None:
        """Say whether a measure is as it should be, None where it cannot be asked."""
        found = getattr(self, measure)
        if found is None:
            return None
        if measure == "saved":
            return not found
        if measure == "printed":
            return found[0] > 0 and found[1] == 0
        return bool(found[0] == found[1])


@dataclass(frozen=True)
class Gap:
    """What a program is known not to do: with every book, or with the books named."""

    program: str
    measure: str
    why: str
    books: tuple[str, ...] = ()


@cache
def gaps() -> tuple[Gap, ...]:
    """The known gaps."""
    listed = tomllib.loads(GAPS.read_text("utf-8")).get("gap", [])
    return tuple(Gap(**{**one, "books": tuple(one.get("books", ()))}) for one in listed)


def gap(program: str, measure: str, book: str) -> Gap | None:
    """Return the known gap of a program at a measure with a book."""
    alike = [one for one in gaps() if (one.program, one.measure) == (program, measure)]
    return next((one for one in alike if not one.books or book in one.books), None)


def keep(found: Mapping[str, Mapping[str, Any]]) -> None:
    """Write what was measured: program -> version and books."""
    MEASURED.write_text(json.dumps(found, indent=1, ensure_ascii=False) + "\n", "utf-8")


def row(version: str, opens: str, books: Mapping[str, Measured]) -> dict[str, Any]:
    """Return one program's part of the data file."""
    measured = {name: asdict(one) for name, one in books.items()}
    return {"version": version, "opens": opens, "books": measured}


def page() -> str:
    """The page of the manual, from the data file alone."""
    measured: dict[str, Any] = json.loads(MEASURED.read_text("utf-8"))
    lines = [
        "# Spreadsheet programs",
        "",
        "Made by `python tests/scripts/programs_bench.py`; not to be changed by hand.",
        "",
        "Each program was given the books of the shipped engines, every operation and station in "
        "them, without one right result: a wrong number stood in each formula's cell, or nothing. "
        "Every reading asked for was typed, the program reckoned, every result was held against "
        "that of the tool itself, the file was saved and validated, and printed where the program "
        "prints without a window. A program that cannot be typed into without its window (–) was "
        "given the book filled in; one that reads no file was given its formulas.",
        "",
        "| program | version | books | opens | results alike | typed and read back | saved file "
        "accused of damage | pages printed, of them empty |",
        "| --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    marks: dict[str, int] = {}
    for program, one in measured.items():
        books = {name: remade(found) for name, found in one["books"].items()}
        cells = [cell(program, books, of, marks) for of in MEASURES]
        lines.append(
            f"| {program} | {one['version']} | {len(books)} | {one['opens']} "
            f"| {' | '.join(cells)} |"
        )
    said = [f"{number}. {why}" for why, number in marks.items()]
    names = ", ".join(f"`{name}`" for name in next(iter(measured.values()))["books"])
    few = [
        f"{program}: {', '.join(f'`{name}`' for name in one['books'])} alone, as it takes minutes "
        f"for a larger one."
        for program, one in measured.items()
        if len(one["books"]) < len(next(iter(measured.values()))["books"])
    ]
    lines += ["", f"The books: {names}. {' '.join(few)}".rstrip(), "", "Known gaps:", "", *said]
    return "\n".join([*lines, "", *left_out()]) + "\n"


def left_out() -> list[str]:
    """What was not tried, and why."""
    listed = tomllib.loads(GAPS.read_text("utf-8"))["left_out"]
    return ["Not in the table:", "", *(f"- {one['program']}: {one['why']}" for one in listed)]


def remade(found: Mapping[str, Any]) -> Measured:
    """Return a measurement as it was before it was written."""
    made = {key: None if one is None else tuple(one) for key, one in found.items()}
    return Measured(**made)  # type: ignore[arg-type]


def cell(program: str, books: Mapping[str, Measured], of: str, marks: dict[str, int]) -> str:
    """Return one cell of the table: what was measured over all books, and the marks of its gaps."""
    found = [getattr(one, of) for one in books.values()]
    if all(one is None for one in found):
        said = "–"
    elif of == "saved":
        said = ", ".join(sorted({f"`{code}`" for one in found for code in one})) or "no"
    else:
        first, second = (sum(one[at] for one in found) for at in (0, 1))
        said = f"{first}, {second}" if of == "printed" else f"{first} of {second}"
    known = [gap(program, of, name) for name in books]
    for one in known:
        if one:
            marks.setdefault(f"{program}: {one.why}", len(marks) + 1)
    numbers = sorted({marks[f"{program}: {one.why}"] for one in known if one})
    return said + "".join(f" [{number}]" for number in numbers)

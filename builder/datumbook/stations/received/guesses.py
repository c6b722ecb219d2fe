"""What the engine file guesses: told on the first sheet, section by section, until it guesses
nothing more.
"""

from __future__ import annotations

import re
from dataclasses import replace

from datumbook.cells.columns import Check, Result, Sizes, words
from datumbook.cells.tables import Row, Table
from datumbook.equations.guesses import verdict_of_guesses
from datumbook.grouping import grouped
from datumbook.numbers.quantities import read_quantity
from datumbook.spec.guesses import guesses
from datumbook.spec.limits import LIMIT_GUESSED
from datumbook.workbook.layout import Layout

MEASURED = ("bores", "lands", "heights")  # sections that every spec has, a job not always
SECTION = re.compile(r"\w+")  # the first word of where a figure stands
FEW = 6  # figures named of a section


def guessed_figures(layout: Layout) -> list[Table]:
    """The sections of the engine file of which figures are guessed; none where none is."""
    at = {"lands": "bores"}
    out = {one for one in MEASURED if not layout.has(at.get(one, one))}
    found = grouped((SECTION.match(one)[0], one) for one in guesses(layout.spec))  # type: ignore[index]
    sections = {name: figures for name, figures in found.items() if name not in out}
    if not sections:
        return []
    figures = Sizes("", 0, width=7.5).given(
        "figures",
        "guessed",
        lambda row: replace(read_quantity(str(len(sections[row])), ""), guessed=True),
        whole=True,
    )
    verdict = Result(
        name="verdict", words="verdict", equation=verdict_of_guesses, inputs={"guessed": figures}
    )
    return [
        Table(
            key="engine_file",
            title="Guessed in the engine file",
            heading="Section",
            note=f"{LIMIT_GUESSED[:1].upper()}{LIMIT_GUESSED[1:]}, take its mark of a guess away, "
            "and make the book anew with its readings. Till then the block is not released.",
            rows=[Row(name, name.replace("_", " ")) for name in sections],
            columns=(
                figures,
                verdict,
                Check(of=verdict, judged=True, source="the engine file"),
                words("which", "figures", lambda row: _some(sections[row]), runs_on=True),
            ),
        )
    ]


def _some(figures: list[str]) -> str:
    """The first figures of a section, and how many more there are."""
    said = [SECTION.sub("", one, count=1).lstrip(".") or one for one in figures]
    more = f" and {len(said) - FEW} more" if len(said) > FEW else ""
    return f"{', '.join(said[:FEW])}{more}"

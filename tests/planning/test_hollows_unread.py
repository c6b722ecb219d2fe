"""Where no straight-edge is laid on a face, four corners are all that is known of it: no cut is
said to clean it, and none is proposed as enough.

Source: geometry; a hollow between four corners can be as deep as you like.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from as_asked import values_of
from datumbook.job import Job
from datumbook.planning import decision_lines, plan, plan_lines
from datumbook.planning.words import Plan
from datumbook.spec import load_spec
from datumbook.stations import lay_out
from datumbook.stations.decided.face_corners import HOLLOWS_UNREAD
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout
from project import SPECS
from readings_made import plausible

SURE = re.compile(
    r"\bsurely\b|\bcleans at\b|\(proposed\)|the least that serves|: cleans\b", re.IGNORECASE
)


@cache
def layout() -> Layout:
    return lay_out(load_spec(SPECS / "hollowmere_v8.toml"), Job("HV-1"))


def planned(cut: float | None) -> tuple[Layout, dict[str, object], Plan]:
    book = layout()
    block = plausible(book) | {"left_deck_cut.parallel_to": "crank line", "left_deck_cut.cut": cut}
    values = values_of(book, block)
    return book, dict(values), plan(Validation(Path("block.xlsx"), layout=book, values=values))


def test_no_cut_is_told_as_enough() -> None:
    _, _, made = planned(0.050)
    deck = re.compile(r"Faces, Left bank.*?(?=\n\n)", re.DOTALL)
    told = deck.search("\n".join(plan_lines(made)))
    page = [line for title, lines in decision_lines(made) for line in (title, *lines)]
    assert told is not None
    assert "by the corners" in told[0]
    assert "hollow" in told[0]
    assert not SURE.search(told[0])
    assert any(HOLLOWS_UNREAD in line.lower() for line in page)
    typed = next(one for one in made.judged if "left bank" in one.intention)
    assert typed.unseen == HOLLOWS_UNREAD


def test_the_sheet_says_that_the_corners_alone_are_known() -> None:
    book, values, _ = planned(0.050)
    assert book.stations.cuts is not None
    deck = next(iter(book.stations.cuts.banks.values())).deck
    assert values[deck.form.cleans.key] == "corners only"
    said = [deck.compared.note, *(column.words for column in deck.compared.columns)]
    assert HOLLOWS_UNREAD in deck.compared.note.lower()
    assert not any(SURE.search(str(one)) for one in said)

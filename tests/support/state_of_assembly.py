"""The section on the state of assembly, of a new spec, on the shipped engine; and what is typed
where every series was read as its limits mean.
"""

from __future__ import annotations

from functools import cache

from datumbook.cells.columns import Reading
from datumbook.cells.tables import StateRead
from datumbook.job import Job
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from project import full_form
from whole_engine import whole_text

NAMED = ("assembly",)  # the stations a job names
Typed = dict[str, object]


def section() -> str:
    """The section as a new spec has it."""
    return "[assembly]" + whole_text().partition("\n[assembly]")[2]


@cache
def stated(*changes: tuple[str, str]) -> Layout:
    """The shipped engine with that section, and words of it put in the place of others."""
    text = section()
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    spec = read_spec(full_form("orrindale_qp4") + text, "stated.toml")
    return lay_out(spec, Job("stated", also=NAMED))


def states(layout: Layout) -> list[StateRead]:
    """The tables that ask for a state, in the order of the book."""
    homes = (place.column.home for place in layout.readings() if place.column)
    return [*dict.fromkeys(home for home in homes if isinstance(home, StateRead))]


def asked(layout: Layout) -> list[Place]:
    """The cells in which a state is typed."""
    stated = states(layout)
    return [one for one in layout.readings() if one.stands_in(*stated)]


def as_meant(layout: Layout) -> Typed:
    """Every state as the limits mean it: the word or figure beside it, any plate, 20 degrees."""
    return {place.key: _meant(layout, place) for place in asked(layout)}


def _meant(layout: Layout, place: Place) -> object:
    assert isinstance(place.column, Reading)
    if place.row == "warmth":
        return 20.0
    home = place.column.home
    assert isinstance(home, StateRead)
    beside = layout.places[home.cell(place.row, "meant")].value
    return "plate 3" if place.row == "plate_number" else beside


def otherwise(place: Place, meant: object) -> object:
    """What is typed where it was another than meant: another of the words, half the torque."""
    assert isinstance(place.column, Reading)
    if isinstance(meant, float):
        return meant / 2
    choices: tuple[str, ...] = place.column.choices  # type: ignore[assignment]
    return next(word for word in choices if word != meant)

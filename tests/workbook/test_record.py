"""The hidden record: small ASCII chunks, each change of each of them found, everything back as it
went in.
"""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clean_readings import shipped_layout
from datumbook import VERSION
from datumbook.job import Job
from datumbook.stations import lay_out
from datumbook.workbook.record import RecordError, chunks, read_record

MOST = 8000
"""Characters in one cell: a quarter of the least any program allows; INTEROP's measure, from
memory.
"""


@cache
def made() -> list[str]:
    return chunks(shipped_layout())


def test_the_chunks_are_short_ascii_and_numbered() -> None:
    assert all(len(one) <= MOST and one.isascii() and one.isprintable() for one in made())
    assert [one.partition(":")[0] for one in made()] == [
        f"#{number}/{len(made())}" for number in range(1, len(made()) + 1)
    ]
    assert len(made()) > 1
    assert chunks(shipped_layout()) == made()


def test_what_went_in_comes_back() -> None:
    layout, record = shipped_layout(), read_record(made())
    assert (record.identity, record.version, record.spec_name) == (
        layout.identity,
        VERSION,
        layout.spec.path.name,
    )
    assert (record.spec_text, record.job) == (layout.spec.text, layout.job)
    assert [one.key for one in record.map] == list(layout.places)
    for one in record.map:
        place = layout.places[one.key]
        assert (one.sheet, one.cell, one.unit, one.role, one.label) == (
            place.at.sheet,
            place.at.cell,
            place.unit,
            place.role,
            place.label,
        )
        assert one.formula == (layout.formula(one.key) if layout.has_formula(one.key) else "")


def test_the_units_chosen_and_a_name_of_any_script_come_back() -> None:
    job = Job("№ 7 · Ærø", {"bores": "in", "heights": "mm"})
    assert read_record(chunks(lay_out(shipped_layout().spec, job))).job == job


@given(st.data())
def test_any_character_of_any_chunk_changed_is_found_with_its_line(data: st.DataObject) -> None:
    line = data.draw(st.integers(0, len(made()) - 1))
    chunk = made()[line]
    spot = data.draw(st.integers(0, len(chunk) - 1) | st.integers(0, 14))
    other = data.draw(st.characters().filter(lambda one: one != chunk[spot]))
    with pytest.raises(RecordError) as broken:
        read_record([*made()[:line], chunk[:spot] + other + chunk[spot + 1 :], *made()[line + 1 :]])
    assert broken.value.line == line + 1


@given(st.data())
def test_chunks_out_of_order_are_found(data: st.DataObject) -> None:
    order = data.draw(st.permutations(made()).filter(lambda one: one != made()))
    with pytest.raises(RecordError):
        read_record(order)


@pytest.mark.parametrize("kept", [slice(1, None), slice(None, -1), slice(0, 0)])
def test_chunks_lost_are_found(kept: slice) -> None:
    with pytest.raises(RecordError):
        read_record(made()[kept])


@given(st.lists(st.text(max_size=40), max_size=4))
def test_whatever_stands_there_is_a_record_error_and_nothing_else(texts: list[str]) -> None:
    with pytest.raises(RecordError):
        read_record(texts)

"""What the writer leaves to the library, and what it does not."""

from __future__ import annotations

import pytest
from xlsxwriter.worksheet import Worksheet

from clean_readings import clean_readings
from datumbook import writer
from datumbook.spec import read_spec, shipped_specs
from datumbook.stations import lay_out
from whole_engine import whole


def test_formulas_stored_as_they_are_spelled_give_the_librarys_own_file(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    ours = writer.workbook_bytes(whole(), clean_readings(whole()))
    monkeypatch.setattr(writer, "_Sheet", Worksheet)
    assert writer.workbook_bytes(whole(), clean_readings(whole())) == ours


def test_a_function_that_needed_the_librarys_care_would_be_noticed() -> None:
    assert Worksheet._prepare_formula(
        Worksheet(), "=UNIQUE(A1:A9)"
    ) != writer._Sheet()._prepare_formula("=UNIQUE(A1:A9)")


def test_words_with_letters_that_count_twice_fit_the_messages_of_a_cell() -> None:
    text = (
        shipped_specs()["tarnside_f2"]
        .read_text("utf-8")
        .replace('"Left barrel"', '"Left barrel 😀 of the two, upper 😀😀😀"')
    )
    assert writer.workbook_bytes(lay_out(read_spec(text, "emoji.toml")), {})
    assert writer._cut("😀" * 20, 32) == "😀" * 15 + "…"
    assert writer._cut("😀" * 16, 32) == "😀" * 16

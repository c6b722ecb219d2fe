"""What the writer leaves to the library, and what it does not."""

from __future__ import annotations

import pytest
from xlsxwriter.worksheet import Worksheet

from builder import writer
from clean_readings import clean_readings
from whole_engine import whole


def test_formulas_stored_as_they_are_spelled_give_the_librarys_own_file(monkeypatch: pytest.MonkeyPatch) -> None:
    ours = writer.workbook_bytes(whole(), clean_readings(whole()))
    monkeypatch.setattr(writer, "_Sheet", Worksheet)
    assert writer.workbook_bytes(whole(), clean_readings(whole())) == ours


def test_a_function_that_needed_the_librarys_care_would_be_noticed() -> None:
    assert Worksheet._prepare_formula(Worksheet(), "=UNIQUE(A1:A9)") != writer._Sheet()._prepare_formula("=UNIQUE(A1:A9)")

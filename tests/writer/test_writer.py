"""What the writer leaves to the library, and what it does not."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from xlsxwriter.worksheet import Worksheet

from clean_readings import clean_readings, shipped_layout
from datumbook import writer
from datumbook.spec import read_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook import entry_rules
from datumbook.writer import write
from datumbook.writer.measures import FIGURE, LIBRARYS_OWN, POINTS, column_pixels, pixels
from whole_engine import whole
from xlsx_parts import MAIN, Parts


def test_formulas_stored_as_they_are_spelled_give_the_librarys_own_file(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    ours = writer.workbook_bytes(whole(), clean_readings(whole()))
    monkeypatch.delattr(writer._Sheet, "_prepare_formula")
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
    assert entry_rules._cut("😀" * 20, 32) == "😀" * 15 + "…"
    assert entry_rules._cut("😀" * 16, 32) == "😀" * 16


def test_the_font_is_the_books_own_and_every_size_a_whole_pixel_but_the_librarys(
    tmp_path: Path,
) -> None:
    """Versions of the library round half pixels and mark a column as wide as its own differently;
    of the theme's font each program makes what it likes.
    """
    write(shipped_layout(), tmp_path / "book.xlsx")
    parts = Parts(tmp_path / "book.xlsx")
    assert parts.styles is not None
    assert not list(parts.styles.iter(f"{MAIN}scheme"))
    heights = [
        float(row.get("ht", "0"))
        for root in parts.sheets.values()
        for row in root.iter(f"{MAIN}row")
    ]
    assert any(heights)
    assert not any(height % POINTS for height in heights)
    widths = {
        float(one.get("width", "0")) for r in parts.sheets.values() for one in r.iter(f"{MAIN}col")
    }
    assert len(widths) > 5
    assert not any(math.isclose(width, LIBRARYS_OWN / FIGURE, abs_tol=0.01) for width in widths)


def test_sizes_are_whole_pixels_before_the_library_sees_them() -> None:
    assert [pixels(height) for height in (31.0, 79.9, 15.0)] == [41, 107, 20]
    assert [column_pixels(width) for width in (9.0, 8.4, 8.43, 8.6)] == [68, 65, 65, 65]

"""The written file against the schema of its format: the elements, their order, their attributes
and what they may hold, the relations of its parts.

Oracle: openxml-audit, which carries the particles and constraints of the Open XML SDK (ECMA-376,
transitional, with the extensions of Office up to 2019). No package of Python's or npm's registry
carries the schemas of the standard themselves.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree
from openxml_audit import OpenXmlValidator

from compatibility import layout_of, readings_of
from datumbook.spec import shipped_specs
from datumbook.writer import write
from long_runs import mostly_long
from stored_books import StoredXlsx
from xlsx_parts import MAIN


def faults(path: Path) -> list[str]:
    return [
        f"{one.part_uri}: {one.description}" for one in OpenXmlValidator().validate(path).errors
    ]


@pytest.mark.parametrize("name", mostly_long(sorted(shipped_specs())))
def test_a_written_book_keeps_to_the_schema_of_its_format(name: str, tmp_path: Path) -> None:
    write(layout_of(name), tmp_path / "book.xlsx", readings_of(name))
    assert faults(tmp_path / "book.xlsx") == []


def test_an_element_out_of_its_order_is_noticed(tmp_path: Path) -> None:
    write(layout_of("brackwater_s1"), tmp_path / "book.xlsx", {})
    book = StoredXlsx(tmp_path / "book.xlsx")
    sheet = book.sheet("Bores")
    first = sheet[0]
    assert etree.QName(first).localname != "pageMargins"
    margins = sheet.find(f"{MAIN}pageMargins")
    assert margins is not None
    sheet.insert(0, margins)
    assert faults(book.save(tmp_path / "astray.xlsx")) != []

from __future__ import annotations

import pytest
from openpyxl.utils.cell import get_column_letter

from datumbook.formulas.spelling import column_letters
from datumbook.readers import address_of, place_of, target
from datumbook.readers.addresses import LAST_COLUMN, column_number


def test_columns_as_an_outside_library_names_them() -> None:
    for number in (*range(1, 800), 702, 703, LAST_COLUMN):
        assert column_letters(number) == get_column_letter(number)
        assert column_number(get_column_letter(number)) == number


@pytest.mark.parametrize(
    "address", ["", "A", "7", "A0", "XFE1", "A1048577", "A1:B2", "A-1", "AAAA1", "É1", "A1 "]
)
def test_what_is_no_address(address: str) -> None:
    with pytest.raises(ValueError, match="is not"):
        place_of(address)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("Bores!$C$7", ("Bores", 7, 3)),
        ("'Bores'!$C$7", ("Bores", 7, 3)),
        ("=Bores!C7", ("Bores", 7, 3)),
        ("$Bores.$C$7", ("Bores", 7, 3)),
        ("$'Rob''s gauge'.$C$7", ("Rob's gauge", 7, 3)),
        ("Bores!#REF!", None),
        ("#REF!", None),
        ("#REF!$C$7", None),
        ("$Bores.#REF!", None),
        ("Bores!$C$7:$D$8", None),
        ("$Bores.$C$7:.$D$8", None),
        ("3.5", None),
        ("Bores!A0", None),
        ("[1]Bores!$C$7", None),
        ("C7", None),
        ("", None),
        ("." * 100_000, None),
    ],
)
def test_the_one_cell_a_name_stands_for(text: str, place: tuple[str, int, int] | None) -> None:
    assert target(text) == place


def test_there_and_back() -> None:
    assert place_of(address_of(1_048_576, 16_384)) == (1_048_576, 16_384)

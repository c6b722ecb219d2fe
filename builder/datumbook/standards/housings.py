"""How true a flywheel housing runs to the crank, by its SAE number."""

from __future__ import annotations

from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table


def housing_run_out(number: str) -> tuple[Quantity, str]:
    """Return the most an indicator may read on bore or face of a housing, and where that comes
    from; LookupError for a number the table does not hold.

    >>> housing_run_out("3")[0].text
    '0.008 in'
    """
    rows = table("housings")["housings"]
    for row in rows:
        if number in row["numbers"]:
            return read_quantity(row["most"]), str(table("housings")["source"]["words"])
    known = ", ".join(one for row in rows for one in row["numbers"])
    raise LookupError(f'"{number}" is no SAE housing known here; they are {known}.')

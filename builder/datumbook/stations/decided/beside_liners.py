"""Beside liners: what each bore counts for where some are lined and all are finished alike."""

from __future__ import annotations

from collections.abc import Callable

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column
from datumbook.cells.handles import Key
from datumbook.cells.tables import Table, cylinder_rows
from datumbook.equations import budget, liners
from datumbook.stations.decided.clean_up_room import CleanUpSizes
from datumbook.stations.received.bores import ReceivedBores


class BesideLiners(Table):
    """Every bore as it counts among the others; a lined one as the standard bore."""

    clean_up: Column
    surely_own: Column
    surely_clean: Column
    widest: Column
    finish: Column


def beside_liners(
    basis: Basis,
    bores: ReceivedBores,
    surely: CleanUpSizes,
    next_size: Column,
    planned: Callable[[str], Callable[[str], Key]],
) -> BesideLiners:
    """The bores beside those that are lined; `surely` says at which size each is clean, `next_size`
    what the others are finished to next, and `planned` gives a column of the plan, row by row.
    """
    sizes, liner, standard = basis.sizes("bores"), planned("liner"), bores.rebore.standard
    bare = sizes.result(
        "bare",
        "finish bore, were it not lined",
        budget.as_planned,
        typed=planned("typed_bore"),
        suggested=next_size,
    )
    counted = (
        sizes.result(
            name, said, liners.size_among_others, liner=liner, size=size, standard=standard
        )
        for name, said, size in (
            ("clean_up", "cleans up at", bores.each.clean_up_size),
            ("surely_own", "surely", surely.surely_own),
            ("surely_clean", "surely, as set over", surely.surely_clean),
            ("widest", "at its widest", bores.each.largest_size),
            ("finish", "finish bore", bare),
        )
    )
    return BesideLiners(
        key="beside_liners",
        title="What each bore counts for",
        heading="Cylinder",
        note="A liner is new metal: its cylinder asks for no oversize, counts as the standard bore "
        "and is finished as the others are. The block round it is held to the hole of the liner.",
        rows=cylinder_rows(basis.cylinders()),
        columns=(bare, *counted),
    )

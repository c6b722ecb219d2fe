"""The lines of one liner on the card that hangs where it goes in: what forbids it, and how far and
by what it gets in by each of three ways.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Column, Result, Sizes
from datumbook.cells.handles import Key
from datumbook.cells.tables import Table
from datumbook.equations import forbidden_fits
from datumbook.stations.received.shown import shown_words

THREE_WAYS = (  # of each: its name on the card, the cells of temperature and means, the words
    ("chill", "chill_to", "chilled_by", "cold alone, chill the liner to"),
    ("warm", "warm_to", "heated_by", "or heat alone, warm the block to"),
    ("both", "warm_to_in_dry_ice", "heated_by_in_dry_ice", "or liner in dry ice, block warmed to"),
)


def liner_on_card(
    cylinder: str, ways_in: Table, fits: Table, sizes: Sizes, warmths: Sizes
) -> Iterator[Column]:
    """What the card says of the liner of a cylinder; no temperature where its fit is forbidden."""
    forbidden = ways_in.column("fit_forbidden")[cylinder]
    yield shown_words(f"forbidden_{cylinder}", f"Cylinder {cylinder}", lambda _: forbidden)
    yield sizes.result(
        f"bore_{cylinder}",
        "bore the hole to",
        forbidden_fits.bored_first,
        fit_forbidden=forbidden,
        hole=fits.column("hole")[cylinder],
    )
    by = []
    for name, to, means, said in THREE_WAYS:
        yield warmths.result(
            f"{name}_{cylinder}",
            said,
            forbidden_fits.temperature_unless_forbidden,
            fit_forbidden=forbidden,
            wanted=ways_in.column(to)[cylinder],
        )
        by.append(_means(f"{name}_{cylinder}_by", forbidden, ways_in.column(means)[cylinder]))
        yield by[-1]
    cold, heat, both = by
    yield Result(
        name=f"no_way_{cylinder}",
        words="none of the three",
        equation=forbidden_fits.no_way_in,
        inputs={"cold": cold, "heat": heat, "both": both},
    )


def _means(name: str, forbidden: Key, means: Key) -> Result:
    return Result(
        name=name,
        words="by",
        equation=forbidden_fits.means_unless_forbidden,
        inputs={"fit_forbidden": lambda _: forbidden, "means": lambda _: means},
    )

"""Tables with a line a group of holes, and the columns that several of them share."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from datumbook.cells.columns import Check, Column, Input, Per, Reading, Result, Sizes, per
from datumbook.cells.handles import Key
from datumbook.cells.tables import Table
from datumbook.equations import standings
from datumbook.numbers.quantities import Quantity
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_groups import Groups


class GroupTable(Table):
    """A line a group, of all or of those in `only`."""

    def __init__(
        self,
        groups: Groups,
        key: str,
        title: str,
        columns: Iterable[Column | Check],
        only: Iterable[str] | None = None,
        note: str = "",
        turned: bool = True,
    ) -> None:
        super().__init__(
            key=key,
            title=title,
            heading="Group",
            note=note,
            turned=turned,
            rows=groups.rows(only),
            columns=columns,
        )


def stated(*columns: Column | Check) -> list[Column | Check]:
    """Those that stand in some row."""
    return [one for one in columns if one.rows is None or one.rows]


def with_rows(*tables: Table) -> list[Table]:
    """The tables that have a row."""
    return [one for one in tables if one.rows]


def held(
    column: Column, source: Per[str], low: Per[Input] | None = None, high: Per[Input] | None = None
) -> tuple[Column, Check]:
    """A column, and the check that holds it between other cells wherever it stands."""
    return column, Check(of=column, low=low, high=high, rows=column.rows, source=source)


def picked_words(
    name: str,
    heading: str,
    picked: Mapping[str, Per[Input]],
    rows: Sequence[str] | None = None,
    width: float = 15,
) -> Result:
    """A column of words that stand at a place of several."""
    return Result(
        name=name, words=heading, equation=standings.words_at, inputs=picked, rows=rows, width=width
    )


def probed(
    sizes: Sizes,
    widest: Per[float],
    near: Per[Quantity | None] = None,
    rows: Sequence[str] | None = None,
) -> Reading:
    """The first hole of a drill, probed before it is tapped: judged instead of what a drill makes
    in the mean.
    """

    def possible(row: str) -> tuple[float, float]:
        return 0.0, 2 * per(widest, row)

    return sizes.reading(
        "probed",
        "first hole, probed",
        near,
        "Small-hole gauge or gauge pins in the first hole of this drill, before it is tapped; "
        "blank: judged as the drill probably makes it.",
        wanted=False,
        rows=rows,
        possible=possible,
    )


def off_the_face(
    groups: Groups, heading: str, ask: Callable[[GroupAtWork], Key | None], rows: list[str]
) -> Result:
    """What comes off the face of each group, shown again."""
    again = standings.shown_again
    return groups.sizes.result("skim", heading, again, rows, value=groups.of(ask))

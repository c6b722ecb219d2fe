"""Budget: one line for each resource of metal, before the spindle starts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from builder.equations import budget
from builder.equations.bores import largest_size
from builder.equations.verdicts import shown_again
from builder.layout import Layout
from builder.sheets.lands import narrowest_land
from builder.table import Check, Form, Line, Picture, Result, Row, Series, Sheet, Sizes, Table, words

BARS = {"taken": "gone so far", "planned": "the plan takes", "to_spare": "still to spare"}


@dataclass(frozen=True)
class Resource:
    """One resource: where its sizes stand on the other sheets, and whether work makes it shrink or grow."""

    key: str
    words: str
    group: str
    as_new: str
    as_received: str
    after: str
    limit: str
    source: str
    grows: bool = False


def sheet(layout: Layout) -> Sheet:
    """The sheet of the metal budget."""
    extremes = _extremes(layout)
    lines = resources(layout, extremes is not None)
    parts = (_budget(layout, lines), _bars(lines), *((extremes,) if extremes else ()))
    return Sheet(
        name="Budget", title="Metal budget", parts=parts, stage="planned", behind=tuple(f"share_{name}" for name in BARS)
    )


def _extremes(layout: Layout) -> Form | None:
    """The narrowest land and the widest bore, where boring to an oversize is on the cards."""
    lands = [key for key in layout.places if key.startswith("lands") and key.endswith(".clamping_land")]
    if not lands:
        return None
    widths = [key.replace("clamping_land", "width") for key in lands]
    bores = [f"bore.{number}.largest_size" for number in layout.cylinders()]
    by_land, by_bore = layout.sizes("lands"), layout.sizes("bores")
    return Form(
        key="extremes",
        title="Narrowest land, widest bore, as received and after the plan",
        lines=(
            Line(column=by_land.given("land_as_new", "Narrowest land between bores, as drawn", narrowest_land(layout))),
            Line(column=by_land.result("land", "Narrowest land between bores", budget.least_of, sizes=widths)),
            Line(column=by_land.result("clamping_land", "Narrowest land to clamp after it", budget.least_of, sizes=lands)),
            Line(column=by_bore.result("bore", "Widest bore", largest_size, diameters=bores)),
        ),
    )


def resources(layout: Layout, boring: bool) -> list[Resource]:
    """The resources this engine has, by the cells that other sheets hold them in."""
    spec, places = layout.spec, layout.places
    found = []
    if spec.heights.overall_limit is not None and "overall.lowest_corner" in places:
        found.append(
            Resource("overall_height", "Overall height, lowest corner", "heights", "ledger.overall_standard",
                     "overall.lowest_corner", "plan.overall_after", "ledger.overall_least", spec.heights.overall_limit.source)
        )  # fmt: skip
    for bank in spec.rows:
        of = f"{bank.key}_" if bank.key else ""
        found.append(
            Resource(f"{of}deck_height", bank.title("Deck height, lowest corner"), "heights", f"{of}ledger.deck_standard",
                     f"{of}deck.lowest_corner", f"{of}plan.deck_after", f"{of}ledger.deck_least",
                     spec.heights.deck_clearance.source)
        )  # fmt: skip
    if boring:
        found += [
            Resource("land", "Narrowest land, less its chamfers after", "lands", "extremes.land_as_new", "extremes.land",
                     "extremes.clamping_land",
                     f"lands{spec.rows[0].suffix}.clamping_land.from", spec.lands.clamping_land.source),
            Resource("bore", "Widest bore, to its finish size", "bores", "rebore.standard", "extremes.bore",
                     "rebore.next_oversize", "rebore.worst_clean_up.to", "the largest oversize", grows=True),
        ]  # fmt: skip
    return [one for one in found if one.limit in places]


def _budget(layout: Layout, lines: list[Resource]) -> Table:
    by_key = {one.key: one for one in lines}
    shrinks = [one.key for one in lines if not one.grows]
    grows = [one.key for one in lines if one.grows]
    every = [*shrinks, *grows]
    sizes = Sizes(lambda row: layout.unit_of(by_key[row].group), lambda row: layout.decimals_of(by_key[row].group))

    def of(name: str) -> Callable[[str], Any]:
        return lambda row: getattr(by_key[row], name)

    def both(name: str, heading: str, shrinking: Any, growing: Any, rows: list[str]) -> list[Result]:
        return [sizes.result(name, heading, shrinking, [row for row in rows if row in shrinks]),
                sizes.result(name, heading, growing, [row for row in rows if row in grows])]  # fmt: skip

    return Table(
        key="budget",
        title="What may still be cut, and what the plan does to it",
        heading="Resource",
        note="Read from left to right: what was there, what has gone, what the plan takes, and what is then still to spare. "
        "Below zero is OUT before the spindle starts.",
        rows=[Row(one.key, one.words) for one in lines],
        columns=(
            words("unit", "in", lambda row: layout.unit_of(by_key[row].group), width=5),
            sizes.result("as_new", "as new", shown_again, value=of("as_new")),
            sizes.result("as_received", "as received", shown_again, value=of("as_received")),
            *both("taken", "gone so far", budget.taken_so_far, budget.grown_so_far, every),
            sizes.result("after", "after the plan", shown_again, value=of("after")),
            *both("planned", "the plan takes", budget.taken_by_plan, budget.grown_by_plan, every),
            sizes.result("limit", "limit", shown_again, value=of("limit")),
            *both("to_spare", "still to spare", budget.still_to_spare, budget.still_to_grow, every),
            sizes.given("least", "not less than", 0.0),
            Check(of="to_spare", low="least", source=of("source")),
            *(_share(name, words) for name, words in BARS.items()),
        ),
    )


def _share(name: str, words: str) -> Result:
    """What share of its whole allowance one part of a resource is, for the bars."""
    parts = [f"budget.{{row}}.{one}" for one in BARS]
    return Sizes("%", 0).result(f"share_{name}", f"{words}", budget.share, part=f"budget.{{row}}.{name}", parts=parts)


def _bars(lines: list[Resource]) -> Picture:
    """Each resource as one bar: gone, planned, still to spare."""
    series = [Series(words, [f"budget.{one.key}.share_{name}" for one in lines]) for name, words in BARS.items()]
    return Picture(
        title="Each allowance: what has gone, what the plan takes, what is left", kind="bars", series=series, lines=12
    )

"""Tunnels: the main bearing bores with their caps torqued: size, shape, and whether they stand in
one line.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column
from datumbook.cells.tables import Form, Line, Row, Sheet, Table
from datumbook.equations import tunnels
from datumbook.spec.features import Alignment, Caps, Tunnels
from datumbook.stations.received.features import Feature, drawn, tick
from datumbook.workbook.layout import Layout

DIRECTIONS = {
    "vertical": "square to the joint",
    "left": "off the joint to the left",
    "right": "off the joint to the right",
}
ENDS = ("front", "rear")


def sheet(layout: Layout) -> Sheet:
    """The sheet of the main tunnels as received."""
    parts = measured(Feature(layout, "tunnels"))
    return Sheet(name="Tunnels", title="Main bearing tunnels", parts=parts)


def measured(feature: Feature) -> list[Table | Form]:
    """What is measured of the tunnels in one state."""
    spec = feature.layout.spec.tunnels
    if spec is None:
        return []
    lined = spec.alignment
    parts: list[Table | Form] = [make(feature, spec) for make in (_readings, _each, _tapers, _row)]
    if spec.caps is not None and not feature.state.prefix:
        parts.insert(1, _caps(feature, spec.caps))
    return [
        *parts,
        *((_line_of_centres(feature, lined), _overall(feature, lined)) if lined else ()),
    ]


def _numbers(feature: Feature) -> list[str]:
    return [str(number) for number in range(1, feature.layout.spec.engine.bearing_caps + 1)]


def _readings(feature: Feature, spec: Tunnels) -> Table:
    sizes, key = feature.layout.sizes("tunnels"), feature.key("tunnels")
    how = "Bore gauge, cap torqued: 30 to 45° off the joint, never on it."
    return Table(
        key=key,
        title=feature.title("Tunnel readings"),
        heading="Where",
        note="Three directions at the front and at the rear of each tunnel; tunnel 1 is nearest "
        "to cylinder 1.",
        spoilers=feature.spoilers(),
        rows=[
            Row(f"{number}.{end}", f"Tunnel {number}, {end}")
            for number in _numbers(feature)
            for end in ENDS
        ],
        columns=(
            *(
                sizes.reading(name, words, drawn(spec.size), how)
                for name, words in DIRECTIONS.items()
            ),
            sizes.result(
                "out_of_round",
                "out of round",
                tunnels.tunnel_out_of_round,
                diameters=[f"{key}.{{row}}.{name}" for name in DIRECTIONS],
            ),
            feature.check("tunnels", "out_of_round", spec.out_of_round),
        ),
    )


def _each(feature: Feature, spec: Tunnels) -> Table:
    sizes, key = feature.layout.sizes("tunnels"), feature.key("tunnels")
    everywhere = [f"{key}.{{row}}.{end}.{name}" for end in ENDS for name in DIRECTIONS]
    return Table(
        key=feature.key("tunnel"),
        title=feature.title("Each tunnel"),
        heading="Tunnel",
        note="Out of size decides: as it is, hone, caps cut and line bored, another cap, or "
        "reject.",
        fresh_in=key if feature.spoilers() else "",
        rows=[Row(number, f"Tunnel {number}") for number in _numbers(feature)],
        columns=(
            tick(
                "torqued",
                "cap torqued",
                "Type done when the cap is on its own seat, the right way round, torqued.",
            ),
            feature.done("tunnel", "torqued"),
            sizes.result("tunnel_size", "mean size", tunnels.tunnel_size, diameters=everywhere),
            feature.check("tunnel", "tunnel_size", spec.size),
        ),
    )


def _caps(feature: Feature, spec: Caps) -> Table:
    """The caps before they are cut; what the cut leaves of them stands in the budget."""
    sizes = feature.layout.sizes("tunnels")
    how = "Micrometer, joint face to the seat of the nuts, at the lower side."
    return Table(
        key="caps",
        title="Height of the caps",
        heading="Cap",
        note="A cap cut before is lower; one below its least height is replaced, and bored with "
        "the others.",
        rows=[Row(number, f"Cap {number}") for number in _numbers(feature)],
        columns=(
            sizes.reading("height", "height", spec.standard, how),
            Check(of="height", limits=spec.least),
        ),
    )


def _tapers(feature: Feature, spec: Tunnels) -> Table:
    sizes, key = feature.layout.sizes("tunnels"), feature.key("tunnels")

    def columns() -> Iterator[Column | Check]:
        for name, words in DIRECTIONS.items():
            ends = {end: f"{key}.{{row}}.{end}.{name}" for end in ENDS}
            yield sizes.result(f"taper_{name}", words, tunnels.tunnel_taper, **ends)
            yield feature.check("tunnel_taper", f"taper_{name}", spec.taper)

    return Table(
        key=feature.key("tunnel_taper"),
        title=feature.title("Taper of the tunnels"),
        heading="Tunnel",
        note="Front less rear, in each direction.",
        fresh_in=key if feature.spoilers() else "",
        rows=[Row(number, f"Tunnel {number}") for number in _numbers(feature)],
        columns=tuple(columns()),
    )


def _line_of_centres(feature: Feature, spec: Alignment) -> Table:
    sizes, key = feature.layout.sizes("tunnels"), feature.key("alignment")
    numbers = _numbers(feature)
    ends = {"front": numbers[0], "rear": numbers[-1]}
    line = {
        f"{end}_{what}": f"{key}.{number}.{what}"
        for end, number in ends.items()
        for what in ("centre", "place")
    }
    return Table(
        key=key,
        title=feature.title("Line of the centres"),
        heading="Tunnel",
        note="How far each centre stands above (+) or below (-) a straight bar; judged from the "
        "line through the end tunnels. "
        "Out of line decides: line bore.",
        spoilers=feature.spoilers(),
        rows=[Row(number, f"Tunnel {number}") for number in numbers],
        columns=(
            sizes.given("place", "from the front end face", lambda row: spec.places[int(row) - 1]),
            sizes.reading(
                "centre",
                "centre read",
                how="Indicator on a true bar.",
                possible=feature.signed("tunnels"),
            ),
            sizes.result("misalignment", "off the line", tunnels.misalignment, **line),
            sizes.result(
                "adjacent",
                "from the one before",
                tunnels.adjacent_misalignment,
                numbers[1:],
                misalignment=lambda row: f"{key}.{int(row) - 1}.misalignment",
                next_misalignment=f"{key}.{{row}}.misalignment",
            ),
            feature.check("alignment", "adjacent", spec.adjacent, numbers[1:]),
        ),
    )


def _row(feature: Feature, spec: Tunnels) -> Form:
    sizes, numbers = feature.layout.sizes("tunnels"), _numbers(feature)
    of = [f"{feature.key('tunnel')}.{number}.tunnel_size" for number in numbers]
    spread = Line(
        column=sizes.result(
            "size_spread", "Largest less smallest", tunnels.size_spread, tunnel_sizes=of
        )
    )
    lines = [feature.judged("tunnel_row", spread, spec.spread)]
    fresh = feature.key("tunnels") if feature.spoilers() else ""
    return Form(
        key=feature.key("tunnel_row"),
        title=feature.title("The row of tunnels"),
        lines=lines,
        fresh_in=fresh,
    )


def _overall(feature: Feature, spec: Alignment) -> Form:
    sizes, key = feature.layout.sizes("tunnels"), feature.key("alignment")
    off = [f"{key}.{number}.misalignment" for number in _numbers(feature)]
    overall = sizes.result(
        "overall_misalignment",
        "Highest less lowest off the line",
        tunnels.overall_misalignment,
        misalignments=off,
    )
    return Form(
        key=feature.key("tunnel_line"),
        title=feature.title("The line of tunnels"),
        lines=(feature.judged("tunnel_line", Line(column=overall), spec.overall),),
        fresh_in=key if feature.spoilers() else "",
    )

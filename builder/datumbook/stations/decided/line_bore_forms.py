"""Line bore forms: what is decided of a line bore, what it comes to, between what it must stay."""

from __future__ import annotations

from datumbook.cells.columns import Check, Column, Result, Sizes, limited
from datumbook.cells.tables import Form, Line, Table, held
from datumbook.equations import line_bore
from datumbook.equations.standings import worst_said
from datumbook.equations.tunnels import cap_height_after
from datumbook.spec import limit
from datumbook.spec.features import Tunnels
from datumbook.stations.received.tunnels import MainTunnels


def unseen(spec: Tunnels | None) -> str:
    """What the spec does not ask where the tunnels' centres lie, in words; nothing where it asks
    both ways, or has no tunnels.
    """
    if spec is None or (spec.alignment and spec.alignment.sideways):
        return ""
    if spec.alignment:
        return (
            "The spec asks for no tunnel sideways: their centres are taken as on the line that "
            "way; nothing is known of a tunnel that lies beside it."
        )
    return (
        "The spec has no line of the tunnels: their centres are taken as on it; nothing is known "
        "of a tunnel that lies off it."
    )


class LineBore(Form):
    """The line bore intended, which moves the crank line under every deck."""

    line_bored: Column
    cap_cut: Column | None
    finish_size: Column | None
    rise_front: Column
    rise_rear: Column


class LineBoreCounted(Form):
    """What the line bore intended comes to."""

    front: Column
    rear: Column
    cap_cut_taken: Column | None
    most_rise: Column


class Corridor(Form):
    """Between what and what the crank line may rise, the same all along."""

    lowest_parallel_lift: Column
    highest_parallel_lift: Column


class LineBoreJudged(Form):
    """What the line bore finds and leaves, all tunnels together."""

    least_anywhere: Column
    bored_to: Column


class TunnelMetal(Table):
    """What the cutter finds in each tunnel."""

    lowest_lift: Column
    highest_lift: Column
    clean_size: Column
    side_metal: Column
    least_all_round: Column
    least_metal: Column
    cap_left: Column | None


def corridor(sizes: Sizes, each: TunnelMetal) -> Corridor:
    """How far the crank line may rise with every saddle and cap clean."""
    numbers = [row.key for row in each.rows]
    return Corridor(
        key="corridor",
        title="How far the crank line may rise, the same all along",
        lines=(
            sizes.result(
                "lowest_parallel_lift",
                "At least",
                line_bore.lowest_parallel_lift,
                lowest_lifts=[each.lowest_lift[one] for one in numbers],
            ),
            sizes.result(
                "highest_parallel_lift",
                "At most",
                line_bore.highest_parallel_lift,
                highest_lifts=[each.highest_lift[one] for one in numbers],
            ),
        ),
    )


def cap_left(
    sizes: Sizes, spec: Tunnels, tunnels: MainTunnels, counted: LineBoreCounted | None
) -> tuple[Column | Check, ...]:
    """Each cap after the cut of its joint, where the caps are measured."""
    cut = counted.cap_cut_taken if counted else None
    if tunnels.caps is None or spec.caps is None or cut is None:
        return ()
    height = tunnels.caps.height
    left = sizes.result(
        "cap_left",
        "cap after its cut",
        cap_height_after,
        cap_height=lambda row: height[row],
        cap_cut=cut,
    )
    return limited(left, spec.caps.least)


def judged(sizes: Sizes, form: LineBore, spec: Tunnels, each: TunnelMetal) -> LineBoreJudged:
    """The metal where it is least, and the size for which there are shells."""
    said = Result(
        name="standing",
        words="Verdict on it, tunnel by tunnel",
        equation=worst_said,
        inputs={"verdicts": [each.least_metal.verdict[row.key] for row in each.rows]},
    )
    least = sizes.result(
        "least_anywhere",
        "Least metal the cutter finds",
        line_bore.least_all_round,
        metals=[each.least_metal[row.key] for row in each.rows],
    )
    size = sizes.result(
        "bored_to",
        "Tunnels bored to",
        line_bore.finish_size_judged,
        line_bored=form.line_bored,
        least_size=spec.size.low,
        finish_size=form.finish_size or spec.size.low,
    )
    return LineBoreJudged(
        key="line_bore_judged",
        title="What the line bore leaves",
        lines=(
            Line(column=least),
            Line(column=said),
            held(size, limit("the tunnels' sizes", low=spec.size.low, high=spec.size.high)),
        ),
    )

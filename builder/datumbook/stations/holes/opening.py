"""A hole opened to the next size: what its fastener gains, and what must grow with it."""

from __future__ import annotations

from datumbook.cells.columns import Sizes, words
from datumbook.equations import fasteners, openings
from datumbook.standards.clearance import clearance_holes
from datumbook.stations.holes.clamps import Clamps
from datumbook.stations.holes.fastener_groups import areas, clamped, loads, nut_end_of, torques
from datumbook.stations.holes.group import quantity
from datumbook.stations.holes.group_tables import GroupTable, held, stated
from datumbook.stations.holes.hole_groups import PERCENT, RATIO, Groups
from datumbook.stations.holes.openings import Openings
from datumbook.stations.holes.options import clearance_of
from datumbook.stations.holes.threads import ThreadHoles


class Opening(GroupTable):
    """The checklist of the groups that are opened: what clamp and torque become with the new
    thread, and the holes of gasket and mating part against its clearance hole.
    """

    def __init__(
        self, groups: Groups, choices: Openings, holes: ThreadHoles, clamps: Clamps
    ) -> None:
        of, load = groups.of, loads(groups)
        old = Sizes(
            of(lambda one: one.before.unit),
            of(lambda one: 4 if one.before.unit == "in" else 3),
            width=9.5,
        )
        known = groups.keys(
            lambda one: (
                one.thread.kin.stress_area
                and one.before
                and one.before.kin.stress_area
                and not nut_end_of(one)  # which sets the clamp, whatever the block's end is
            )
        )
        tightened = [key for key in known if key in clamped(groups, "torque")]
        major = old.given("major", "old major", of(lambda one: one.major_before))
        pitch = of(lambda one: quantity(one.before.pitch, one.before.unit))
        across = {"diameter_before": major, "diameter_after": holes.major}
        opened = groups.keys(lambda one: one.before and clearance_of(one.thread))
        clear = groups.sizes.result(
            "clearance_hole",
            "close clearance hole",
            openings.value_at,
            opened,
            **choices.picked("clearance_hole"),
        )
        gasket = groups.given(
            "gasket_hole", "gasket hole", lambda one: one.spec.gasket_hole, opened
        )
        mating = groups.given(
            "mating_hole", "mating part's hole", lambda one: one.spec.mating_hole, opened
        )
        source = of(lambda one: clearance_holes(one.thread)[0].source)
        super().__init__(
            groups,
            key="opening",
            title="Opened to the next size: what is gained, and what must grow too",
            note="At equal stress the clamp goes with the stress area; at the old torque a larger "
            "thread clamps less. Old groove, walls, edge, floor and thread left are checked on the "
            "Threads and Schedule sheets. Also: longer studs and holes in both parts, room "
            "for nut and spanner.",
            only=groups.keys(lambda one: one.before),
            columns=(
                *stated(
                    words(
                        "before", "opened from", of(lambda one: one.before.designation), width=11
                    ),
                    major,
                    old.given("pitch", "old pitch", pitch),
                    *areas(groups, "area_before", "old area", lambda one: one.before),
                    RATIO.result(
                        "stress_area_ratio",
                        "area, times",
                        fasteners.stress_area_ratio,
                        known,
                        area_after=clamps.thread_area,
                    ),
                    PERCENT.result(
                        "clamp_gain",
                        "clamp gained, equal stress",
                        fasteners.clamp_gain,
                        known,
                        area_after=clamps.thread_area,
                    ),
                    load.result(
                        "clamp",
                        "old clamp, this torque",
                        fasteners.clamp_load,
                        tightened,
                        diameter=major,
                        torque=lambda row: clamps.torque[row],
                        nut_factor=lambda row: clamps.nut_factor[row],
                    ),
                    load.result(
                        "clamp_at_same_torque",
                        "new clamp, this torque",
                        fasteners.clamp_at_same_torque,
                        tightened,
                        **across,
                    ),
                    torques(groups).result(
                        "torque_at_same_stress",
                        "torque, equal stress",
                        fasteners.torque_at_same_stress,
                        tightened,
                        torque=lambda row: clamps.torque[row],
                        area_after=clamps.thread_area,
                        **across,
                    ),
                ),
                *stated(clear, *held(gasket, source, low=clear), *held(mating, source, low=clear)),
            ),
        )

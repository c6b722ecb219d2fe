"""The second way to a face: from the machine's table; and what a face that is not flat yet takes
off a depth.
"""

from __future__ import annotations

from datumbook.cells.columns import Column, Sizes
from datumbook.cells.tables import Row, Table
from datumbook.equations import cutting
from datumbook.numbers.units import convert
from datumbook.stations.holes.allowances import DepthAllowances
from datumbook.stations.holes.hole_groups import Steps
from datumbook.stations.holes.stop_settings import StopSettings


class SetUps(Table):
    """What is measured once on each set-up."""

    block_height: Column
    tilt: Column

    def __init__(self, steps: Steps) -> None:
        sizes, unit = steps.groups.basis.sizes("heights"), steps.groups.basis.unit_of("heights")
        faces = {one.spec.on: one for one, _ in map(steps.by_row.__getitem__, steps.cuts)}
        super().__init__(
            key="set_up",
            title="Set-ups: measured once, with the face up",
            heading="Face up",
            note="Only for the checks below; both may stay blank.",
            rows=[Row(key, one.face_words) for key, one in faces.items()],
            columns=(
                sizes.reading(
                    "block_height",
                    "face over the table",
                    how="From the table to the face that is up, parallels and packing included; "
                    "blank where the table is not touched.",
                    wanted=False,
                    possible=(0.0, convert(2000, "mm", unit)),
                ),
                sizes.reading(
                    "tilt",
                    "tilt, highest to lowest",
                    how="Indicator swept over the corners of a face that is not cut yet: highest "
                    "less lowest; 0 once it is flat.",
                    wanted=False,
                    possible=(0.0, convert(3, "mm", unit)),
                ),
            ),
        )


def touches(
    steps: Steps, allowed: DepthAllowances, settings: StopSettings, set_ups: SetUps
) -> Table:
    """Every cut's touch of the face against the way from the table."""
    sizes, face = steps.read, settings.face_reading
    return Table(
        key="touches",
        title="The face by the table as well, and an uncut face",
        heading="Group and operation",
        note="Touch the table with the same tool and type its reading: less the height it is the "
        "face again. If the two differ by the feeler, it was counted where none was used, or the "
        "height is wrong by as much. On a face that is not flat the stop is set from the highest "
        "corner: under the lowest the cut is shallower by the tilt.",
        rows=steps.stop_rows(),
        columns=(
            steps.scale_column(),
            sizes.reading(
                "table_reading",
                "scale at the table",
                how="Quill scale with this tool on the bare table.",
                wanted=False,
                possible=(-2000.0, 2000.0),
            ),
            sizes.result(
                "table_face_reading",
                "face by the table",
                cutting.table_face_reading,
                quill=allowed.quill,
                block_height=steps.of(lambda one, _: set_ups.block_height[one.spec.on]),
            ),
            sizes.result(
                "face_disagreement",
                "touch less table",
                cutting.face_disagreement,
                face_reading=face,
            ),
            Sizes(None, 0, width=30).result(
                "said",
                "the two ways",
                cutting.touches_in_words,
                face_reading=face,
                touch_reading=settings.touch_reading,
                touch_apart=allowed.touch_apart,
            ),
            sizes.result(
                "depth_at_lowest_corner",
                "depth at the lowest corner",
                cutting.depth_at_lowest_corner,
                depth=settings.set_depth,
                tilt=steps.of(lambda one, _: set_ups.tilt[one.spec.on]),
            ),
        ),
    )

"""The second way to a face: from the machine's table; and what a face that is not flat yet takes
off a depth.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.cells.columns import Column, Result
from datumbook.cells.tables import Row, Table
from datumbook.equations import cutting
from datumbook.numbers.units import convert
from datumbook.stations.holes.hole_groups import Group, Steps
from datumbook.workbook.layout import Layout


def cross_checks(layout: Layout, steps: Steps) -> list[Table]:
    """The set-ups with what is measured once on each, and every cut's touch against the table."""
    cut = [steps.by_row[row][0] for row in steps.cuts]
    return [_set_ups(layout, {one.spec.on: one for one in cut}), _touches(steps)] if cut else []


def _set_ups(layout: Layout, faces: dict[str, Group]) -> Table:
    sizes = layout.sizes("heights")

    def most(millimetres: float) -> tuple[float, float]:
        return 0.0, convert(millimetres, "mm", layout.unit_of("heights"))

    over = (
        "From the table to the face that is up, parallels and packing included; blank where "
        "the table is not touched."
    )
    tilt = (
        "Indicator swept over the corners of a face that is not cut yet: highest less lowest; "
        "0 once it is flat."
    )
    return Table(
        key="set_up",
        title="Set-ups: measured once, with the face up",
        heading="Face up",
        note="Only for the checks below; both may stay blank.",
        rows=[Row(key, one.face_words) for key, one in faces.items()],
        columns=(
            sizes.reading(
                "block_height", "face over the table", how=over, wanted=False, possible=most(2000)
            ),
            sizes.reading(
                "tilt", "tilt, highest to lowest", how=tilt, wanted=False, possible=most(3)
            ),
        ),
    )


def _touches(steps: Steps) -> Table:
    return Table(
        key="touches",
        title="The face by the table as well, and an uncut face",
        heading="Group and operation",
        note="Touch the table with the same tool and type its reading: less the height it is the "
        "face again. If the two "
        "differ by the feeler, it was counted where none was used, or the height is wrong by as "
        "much. On a face that is not "
        "flat the stop is set from the highest corner: under the lowest the cut is shallower by "
        "the tilt.",
        rows=steps.rows(steps.cuts),
        columns=tuple(_columns(steps)),
    )


def _columns(steps: Steps) -> Iterator[Column]:
    sizes, quill = steps.sizes, "allowances.quill"
    scale: dict[str, Any] = {"wanted": False, "possible": (-2000.0, 2000.0)}
    height = steps.of(lambda one, _: f"set_up.{one.spec.on}.block_height")
    tilt = steps.of(lambda one, _: f"set_up.{one.spec.on}.tilt")
    face = "stops.{row}.face_reading"
    yield sizes.reading(
        "table_reading",
        "scale at the table",
        how="Quill scale with this tool on the bare table.",
        **scale,
    )
    yield sizes.result(
        "table_face_reading",
        "face by the table",
        cutting.table_face_reading,
        quill=quill,
        block_height=height,
    )
    yield sizes.result(
        "face_disagreement", "touch less table", cutting.face_disagreement, face_reading=face
    )
    yield Result(
        name="said",
        words="the two ways",
        unit=None,
        equation=cutting.touches_in_words,
        width=30,
        inputs={
            "face_reading": face,
            "touch_reading": "stops.{row}.touch_reading",
            "touch_apart": "allowances.touch_apart",
        },
    )
    yield sizes.result(
        "depth_at_lowest_corner",
        "depth at the lowest corner",
        cutting.depth_at_lowest_corner,
        depth="stops.{row}.depth",
        tilt=tilt,
    )

"""The work: how a limit is judged, what is read twice, and where the order of work is not the usual
one.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from datumbook.spec.groups import ReadingGroup
from datumbook.spec.limits import SpecPart
from datumbook.spec.values import NotBlank


class DecisionSpec(SpecPart):
    """How the uncertainty of a reading counts at a limit."""

    rule: Literal["simple acceptance", "guard band, 1998 edition", "guard band, 2017 edition"] = (
        Field(
            "guard band, 1998 edition",
            description="Rule by which a value near a limit is judged, by its name.",
        )
    )


class Repeat(SpecPart):
    """Which readings are taken twice."""

    groups: tuple[ReadingGroup, ...] = Field(
        (),
        strict=False,
        description="Groups whose tables have room for a second reading of each place, as in "
        "[units].",
    )


class Overruled(SpecPart):
    """A rule of the order of work that this shop sets aside."""

    before: NotBlank = Field(
        description="Operation that usually comes first, by its key in the order of work."
    )
    after: NotBlank = Field(description="Operation that usually comes after it, by its key.")
    reason: NotBlank = Field(
        description="Why this shop does otherwise; it is printed beside the operation."
    )


class Order(SpecPart):
    """What this engine's order of work has otherwise than the usual one."""

    left_out: tuple[str, ...] = Field(
        (), strict=False, description="Operations this engine never needs, by their keys."
    )
    overruled: tuple[Overruled, ...] = Field(
        (), strict=False, description="Rules this shop sets aside, with the reason."
    )

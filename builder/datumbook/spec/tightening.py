"""The part of a spec that says how fasteners are tightened: surface, method, friction, turn,
stretch.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field

from datumbook.spec.limits import SpecPart
from datumbook.spec.values import (
    AnglePositive,
    LengthPositive,
    NotBlank,
    RatioPositive,
    StressPositive,
    refused,
)


def _surface(text: str) -> str:
    from datumbook.standards.tightening import friction  # tables, read when fasteners are

    try:
        return friction(text).name
    except LookupError as refusal:
        raise refused("unknown-surface", text, str(refusal)) from None


def _method(text: str) -> str:
    from datumbook.standards.tightening import clamp_scatter

    try:
        return clamp_scatter(text).name
    except LookupError as refusal:
        raise refused("unknown-method", text, str(refusal)) from None


SurfaceName = Annotated[NotBlank, AfterValidator(_surface)]
MethodName = Annotated[NotBlank, AfterValidator(_method)]


class Stretched(SpecPart):
    """What of a fastener stretches, and how much stiffer the joint is."""

    shank: LengthPositive | None = Field(
        None, description="Length of the plain shank that stretches, a length; left out for none."
    )
    shank_diameter: LengthPositive | None = Field(
        None, description="Diameter of that shank, a length."
    )
    thread: LengthPositive = Field(
        description="Length of free thread that stretches, to the middle of nut and of the thread "
        "engaged, a length."
    )
    modulus: StressPositive | None = Field(
        None, description="Modulus of elasticity of the fastener; steel's if left out."
    )
    joint_stiffer: RatioPositive | None = Field(
        None,
        description="How many times stiffer than the fastener the clamped parts are, a bare "
        "number; wanted for a turn.",
    )


class Tightening(SpecPart):
    """How the fasteners of one group are tightened; what is left out is as the shop has it."""

    surface: SurfaceName | None = Field(
        None,
        description="Surface of thread and head, by its name in the table: dry, oiled, zinc; gives "
        "the nut factor and, of a torque, how far clamp strays.",
    )
    method: MethodName | None = Field(
        None,
        description="How it is tightened, by its name in the table: torque, angle, stretch; gives "
        "how far clamp strays. Left out, it is what is stated: an angle, a stretch, a torque.",
    )
    nut_factor: RatioPositive | None = Field(
        None, description="Torque over force and diameter, a bare number, instead of the surface's."
    )
    scatter: RatioPositive | None = Field(
        None, description="How far clamp strays either way, a share, instead of the table's."
    )
    thread_friction: RatioPositive | None = Field(
        None, description="Coefficient of friction in the thread, instead of a nut factor."
    )
    head_friction: RatioPositive | None = Field(
        None, description="Coefficient of friction under the head or nut that turns."
    )
    head_face: LengthPositive | None = Field(
        None, description="Outer diameter of the face under it, a length; friction wants it."
    )
    angle: AnglePositive | None = Field(
        None, description="Turn after the torque, an angle, where it is tightened by angle."
    )
    stretch: LengthPositive | None = Field(
        None, description="Stretch to tighten to, a length, where it is tightened by stretch."
    )
    stretched: Stretched | None = Field(
        None, description="What of the fastener stretches, for a turn or a stretch."
    )

    @property
    def way(self) -> str:
        """The method, by its name: as stated, else by what it is tightened to."""
        return self.method or ("angle" if self.angle else "stretch" if self.stretch else "torque")

    @property
    def by_friction(self) -> bool:
        """Whether the friction of thread and head stands for the nut factor."""
        return self.thread_friction is not None

"""The liners of an engine, as a spec describes them: dry, wet or flanged, each kind with the figures it needs.

Only what one section says about itself is held here, as in spec_model.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from builder.spec_limits import Band, Limit, Part
from builder.spec_values import LengthPositive, StressPositive, refused

NEEDED = {
    "dry": ("interference", "liner_wall"),
    "wet": ("stand_out", "spread"),
    "flanged": ("flange_thickness", "counterbore_depth", "counterbore_spread", "stand_out", "spread"),
}


class Liners(Part):
    """The liners: dry ones are pressed into a bore, wet ones stand in the water, flanged ones hang in a counterbore."""

    kind: Literal["dry", "wet", "flanged"] = Field(description="Kind of the liners: dry, wet or flanged.")
    outside_diameter: LengthPositive = Field(description="Outside diameter of a liner as drawn, a length.")
    interference: Band | None = Field(None, description="How much larger a dry liner is than its hole, two ends.")
    liner_wall: Limit | None = Field(None, description="Wall of a dry liner bored to its finish size, a length.")
    parent_wall: Limit | None = Field(None, description="Wall of the block left round a dry liner, a length.")
    modulus: StressPositive | None = Field(None, description="Elasticity of block and dry liner, such as 110 GPa.")
    flange_thickness: LengthPositive | None = Field(None, description="Thickness of a flange as drawn, a length.")
    counterbore_depth: LengthPositive | None = Field(None, description="Depth of the flange's counterbore as drawn, a length.")
    counterbore_spread: Limit | None = Field(None, description="Deepest less shallowest of four places, a length.")
    stand_out: Limit | None = Field(None, description="How far a wet or flanged liner stands out of the deck, a length.")
    spread: Limit | None = Field(None, description="Proudest less least proud liner under one head, a length.")
    heads: tuple[Annotated[tuple[int, ...], Field(strict=False, min_length=1)], ...] = Field(
        (), strict=False, description="The cylinders under each head, front to rear; one head for each deck if left out."
    )

    @model_validator(mode="after")
    def _has_what_its_kind_needs(self) -> Liners:
        for name in NEEDED[self.kind]:
            if getattr(self, name) is None:
                raise refused("missing-key", name, description=f"{self.kind} liners need it")
        return self

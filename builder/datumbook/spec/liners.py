"""The liners of an engine, as a spec describes them: dry, wet or flanged, each kind with the
figures it needs.

Only what one section says about itself is held here, as in model.py.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from datumbook.numbers.quantities import number_text
from datumbook.spec.limits import Band, Limit, SpecPart
from datumbook.spec.values import LengthPositive, NotBlank, refused

NEEDED = {
    "dry": ("liner_wall",),
    "wet": ("stand_out", "spread"),
    "flanged": (
        "flange_thickness",
        "counterbore_depth",
        "counterbore_spread",
        "stand_out",
        "spread",
    ),
}


class Liners(SpecPart):
    """The liners: dry ones are pressed into a bore, wet ones stand in the water, flanged ones hang
    in a counterbore.
    """

    kind: Literal["dry", "wet", "flanged"] = Field(
        description="Kind of the liners: dry, wet or flanged."
    )
    outside_diameter: LengthPositive = Field(
        description="Outside diameter of a liner as drawn, a length."
    )
    cylinders: tuple[int, ...] = Field(
        (),
        strict=False,
        description="The cylinders that have a liner, or may get one, by number; all if left out.",
    )
    fit: NotBlank | None = Field(
        None, description="Fit of a dry liner by the code of ISO 286, size first, such as 86 H7/s6."
    )
    interference: Band | None = Field(
        None, description="How much larger a dry liner is than its hole, where no fit is named."
    )
    liner_wall: Limit | None = Field(
        None, description="Wall of a dry liner bored to its finish size, a length."
    )
    parent_wall: Limit | None = Field(
        None, description="Wall of the block left round a dry liner, a length."
    )
    material: NotBlank = Field(
        "grey iron",
        description="Material of dry liners in words; its stiffness is looked up by it.",
    )
    block: NotBlank = Field(
        "grey iron", description="Material of the block round them in the same words."
    )
    room: LengthPositive | None = Field(
        None, description="Room wanted while a chilled dry liner goes in, a length."
    )
    flange_thickness: LengthPositive | None = Field(
        None, description="Thickness of a flange as drawn, a length."
    )
    counterbore_depth: LengthPositive | None = Field(
        None, description="Depth of the flange's counterbore as drawn, a length."
    )
    counterbore_spread: Limit | None = Field(
        None, description="Deepest less shallowest of four places, a length."
    )
    stand_out: Limit | None = Field(
        None, description="How far a wet or flanged liner stands out of the deck, a length."
    )
    spread: Limit | None = Field(
        None, description="Proudest less least proud liner under one head, a length."
    )
    heads: tuple[Annotated[tuple[int, ...], Field(strict=False, min_length=1)], ...] = Field(
        (),
        strict=False,
        description="The cylinders under each head, front to rear; one head for each deck if left "
        "out.",
    )

    @field_validator("fit")
    @classmethod
    def _is_known(cls, fit: str | None) -> str | None:
        from datumbook.standards.fits import parse_fit  # a table, read when a fit is named

        try:
            parse_fit(fit or "1 mm H7/h6")
        except ValueError as refusal:
            raise refused("unknown-fit", str(fit), str(refusal)) from None
        return fit

    @field_validator("material", "block")
    @classmethod
    def _has_figures(cls, material: str) -> str:
        from datumbook.standards.materials import figure

        try:
            figure(material, "modulus"), figure(material, "poisson"), figure(material, "expansion")
        except LookupError as refusal:
            raise refused(
                "unknown-material", material, f"{str(refusal).partition(';')[0]}."
            ) from None
        return material

    @model_validator(mode="after")
    def _has_what_its_kind_needs(self) -> Liners:
        for name in NEEDED[self.kind]:
            if getattr(self, name) is None:
                raise refused("missing-key", name, description=f"{self.kind} liners need it")
        if self.kind == "dry" and self.fit is None and self.interference is None:
            raise refused(
                "missing-key",
                "interference",
                description="dry liners need it, or a fit by its code",
            )
        return self

    @property
    def tightness(self) -> Band:
        """How much larger a dry liner is than its hole: as stated, else by the code of the fit."""
        if self.interference is not None:
            return self.interference
        from datumbook.standards.fits import parse_fit

        fit = parse_fit(self.fit or "")
        return Band.model_validate(
            {
                "from": f"{number_text(fit.shaft.lower - fit.hole.upper)} mm",
                "to": f"{number_text(fit.shaft.upper - fit.hole.lower)} mm",
                "source": f"ISO 286-1, {fit.designation}",
            }
        )

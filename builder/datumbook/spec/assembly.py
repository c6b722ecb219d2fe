"""The state of assembly that the limits of a series of readings mean: caps, torque plate, liners,
plugs, clamping, warmth.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from datumbook.spec.limits import SpecPart
from datumbook.spec.values import NotBlank, TemperaturePositive, TorquePositive, refused


class StateMeant(SpecPart):
    """The state that limits mean. What is left out is not asked."""

    caps: Literal["torqued", "off"] | None = Field(
        None, description='Main caps: "torqued" or "off".'
    )
    plate: Literal["on", "off"] | None = Field(
        None, description='Torque plate: "on" or "off"; its number is asked as well where it is on.'
    )
    torque: TorquePositive | None = Field(
        None, description="Torque of the plate's fasteners, such as 42 lbf*ft; only with a plate."
    )
    gasket: Literal["crushed", "new", "none"] | None = Field(
        None, description='Gasket under the plate: "crushed", "new" or "none".'
    )
    fasteners: NotBlank | None = Field(
        None,
        description="Fasteners of the plate in words: kind, thread engaged, lubricant, sequence, "
        "angle or stretch where they are tightened by it.",
    )
    liners: Literal["in", "out"] | None = Field(None, description='Liners: "in" or "out".')
    plugs: Literal["in", "out"] | None = Field(
        None, description='Gallery and core plugs: "in" or "out".'
    )
    attached: Literal["torqued", "off"] | None = Field(
        None, description='Bell housing, pump and mounts: "torqued" or "off".'
    )
    clamping: Literal["clamped", "free"] | None = Field(
        None, description='The block, or the liners in it: "clamped" or "free".'
    )
    source: NotBlank = Field(description="Where it stands that the limits mean this state.")

    @model_validator(mode="after")
    def _has_a_plate(self) -> StateMeant:
        for name in ("torque", "gasket", "fasteners"):
            if getattr(self, name) is not None and self.plate != "on":
                raise refused(
                    "missing-key",
                    'plate = "on"',
                    description=f"{name} is that of a torque plate; or take {name} out",
                )
        return self


class AssemblySpec(SpecPart):
    """In which state of assembly each series of readings is to be taken; a series left out is not
    asked for it.
    """

    coolest: TemperaturePositive | None = Field(
        None, description="Temperature of the block at least, such as 18 degC; with warmest."
    )
    warmest: TemperaturePositive | None = Field(
        None, description="Temperature of the block at most, such as 22 degC; with coolest."
    )
    slanting: bool = Field(
        False,
        description="Whether bores under a torque plate are read at 45 and 135 deg as well, where "
        "four lobes show: true or false.",
    )
    bores: StateMeant | None = Field(None, description="The state the limits of the bores mean.")
    finished_bores: StateMeant | None = Field(
        None, description="The same of the finished bores, where it is another."
    )
    tunnels: StateMeant | None = Field(
        None, description="The state the limits of the main tunnels mean."
    )
    finished_tunnels: StateMeant | None = Field(
        None, description="The same of the finished tunnels, where it is another."
    )
    heights: StateMeant | None = Field(
        None, description="The state the limits of heights and faces mean."
    )
    finished_heights: StateMeant | None = Field(
        None, description="The same of the finished heights, where it is another."
    )
    cam: StateMeant | None = Field(None, description="The state the limits of the cam tunnel mean.")
    finished_cam: StateMeant | None = Field(
        None, description="The same of the finished cam tunnel, where it is another."
    )
    liners: StateMeant | None = Field(
        None, description="The state the limits of the liners' stand-out mean."
    )
    finished_liners: StateMeant | None = Field(
        None, description="The same of the finished stand-out, where it is another."
    )

    @model_validator(mode="after")
    def _has_both_ends(self) -> AssemblySpec:
        if (self.coolest is None) is not (self.warmest is None):
            absent = "coolest" if self.coolest is None else "warmest"
            raise refused("missing-key", absent, description="a band of warmth has two ends")
        if (
            self.coolest is not None
            and self.warmest is not None
            and self.coolest.exactly("degC") >= self.warmest.exactly("degC")
        ):
            raise refused("limit-crossed", self.coolest.text, self.warmest.text)
        return self

    def of(self, series: str, prefix: str) -> StateMeant | None:
        """The state that a series means, as received or, with its prefix, as finished."""
        own: StateMeant | None = getattr(self, f"{prefix}{series}", None)
        return own if own is not None else getattr(self, series, None)

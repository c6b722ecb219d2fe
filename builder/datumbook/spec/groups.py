"""The groups of readings: each has one unit, one number of places and one instrument."""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import Field

from datumbook.messages import ExpectedError
from datumbook.numbers.units import unit
from datumbook.spec.limits import SpecPart
from datumbook.spec.values import LengthUnit

ReadingGroup = Literal[
    "bores",
    "lands",
    "walls",
    "heights",
    "flatness",
    "tunnels",
    "cam",
    "small_bores",
    "liners",
    "parts",
    "gaps",
    "surfaces",
    "holes",
]
GROUPS: tuple[ReadingGroup, ...] = get_args(ReadingGroup)
AS_READ: dict[str, str] = {"walls": "lands", "flatness": "heights"} | dict.fromkeys(
    ("tunnels", "cam", "small_bores", "liners", "parts", "gaps"), "bores"
)
"""The group whose unit and places another has where the spec names none for it."""

Places = Annotated[int, Field(ge=0, le=6)]


class Units(SpecPart):
    """Which group of readings is read in which unit of length."""

    bores: LengthUnit = Field(description="Unit of length in which the bores are read.")
    lands: LengthUnit = Field(
        description="Unit of length in which the lands between the bores are read."
    )
    heights: LengthUnit = Field(
        description="Unit of length in which deck and other heights are read."
    )
    holes: LengthUnit = Field(
        description="Unit of the hole allowances and the depth gauge; hole sizes keep their "
        "thread's."
    )
    walls: LengthUnit | None = Field(
        None, description="Unit in which the walls are read; that of the lands if left out."
    )
    flatness: LengthUnit | None = Field(
        None, description="Unit of feelers and indicator; that of the heights if left out."
    )
    tunnels: LengthUnit | None = Field(
        None, description="Unit in which the main tunnels are read; as the bores if left out."
    )
    cam: LengthUnit | None = Field(
        None, description="Unit in which the cam tunnel is read; as the bores if left out."
    )
    liners: LengthUnit | None = Field(
        None, description="Unit in which the liners are read; as the bores if left out."
    )
    small_bores: LengthUnit | None = Field(
        None, description="Unit of tappet bores and core holes; as the bores if left out."
    )
    parts: LengthUnit | None = Field(
        None, description="Unit in which the parts are measured; as the bores if left out."
    )
    gaps: LengthUnit | None = Field(
        None, description="Unit of ring gaps, crush and end float; as the bores if left out."
    )
    surfaces: LengthUnit = Field("um", description="Unit of a stylus, such as um or uin.")

    def __getitem__(self, group: str) -> str:
        return str(_of_group(self, group))


def group_unit(text: str) -> tuple[str, str]:
    """Return the group and the unit of length that a text such as bores=in names. Raises
    ExpectedError.
    """
    group, mark, word = text.partition("=")
    if not mark or group not in GROUPS:
        raise ExpectedError(
            f"write a group and a unit, as bores=in; the groups are {', '.join(GROUPS)}."
        )
    if (known := unit(word)).dimension != "[length]":
        raise ExpectedError(f"{word} is no unit of length.")
    return group, known.word


class Decimals(SpecPart):
    """How many places after the decimal point each group of readings shows."""

    bores: Places = Field(description="Places after the decimal point shown for bores, 0 to 6.")
    lands: Places = Field(description="Places after the decimal point shown for lands, 0 to 6.")
    heights: Places = Field(description="Places after the decimal point shown for heights, 0 to 6.")
    holes: Places = Field(
        description="Places of the hole allowances; hole sizes have four in inches, three in mm."
    )
    walls: Places | None = Field(
        None, description="Places shown for walls, 0 to 6; those of the lands if left out."
    )
    flatness: Places | None = Field(
        None, description="Places shown for flatness, 0 to 6; those of the heights if left out."
    )
    tunnels: Places | None = Field(
        None, description="Places shown for tunnels, 0 to 6; those of the bores if left out."
    )
    cam: Places | None = Field(
        None, description="Places shown for the cam tunnel, 0 to 6; those of the bores if left out."
    )
    liners: Places | None = Field(
        None, description="Places shown for the liners, 0 to 6; those of the bores if left out."
    )
    small_bores: Places | None = Field(
        None, description="Places shown for small bores, 0 to 6; as the bores if left out."
    )
    parts: Places | None = Field(
        None, description="Places shown for the parts, 0 to 6; those of the bores if left out."
    )
    gaps: Places | None = Field(
        None, description="Places of gaps, crush and end float, 0 to 6; as the bores if left out."
    )
    surfaces: Places = Field(2, description="Places shown for finishes, 0 to 6.")

    def __getitem__(self, group: str) -> int:
        return int(_of_group(self, group))


def _of_group(part: Units | Decimals, group: str) -> Any:
    """What a group has of its own, else what the group has that it is read as; KeyError for no
    group.
    """
    if group not in GROUPS:
        raise KeyError(group)
    own = getattr(part, group)
    return own if own is not None else _of_group(part, AS_READ[group])

"""The kinds of number the trade measures, as plain floats that carry their dimension.

An equation's annotations name kinds and nothing else: ``def out_of_round(thrust: Length, axial:
Length) -> Length``. The text inside ``Annotated`` is the dimension over the bases of
numbers/units.py. "" is a bare number, a ratio or a share; angles and counts are kinds of their own,
which nothing but `taken_as` turns into another.
"""

from __future__ import annotations

from functools import cache
from typing import Annotated, get_type_hints

Length = Annotated[float, "[length]"]
Area = Annotated[float, "[length] ** 2"]
Volume = Annotated[float, "[length] ** 3"]
Ratio = Annotated[float, ""]
Share = Annotated[float, ""]  # a ratio that is said in per cent: so much of a whole
Count = Annotated[float, "[count]"]
Angle = Annotated[float, "[angle]"]
Force = Annotated[float, "[mass] * [length] / [time] ** 2"]
Torque = Annotated[float, "[mass] * [length] ** 2 / [time] ** 2"]
Stress = Annotated[float, "[mass] / [length] / [time] ** 2"]
Stiffness = Annotated[float, "[mass] / [time] ** 2"]
Mass = Annotated[float, "[mass]"]
Unbalance = Annotated[float, "[mass] * [length]"]
SpindleSpeed = Annotated[float, "1 / [time]"]
CuttingSpeed = Annotated[float, "[length] / [time]"]
Temperature = Annotated[float, "[temperature]"]
Expansion = Annotated[float, "1 / [temperature]"]
Words = Annotated[str, "words"]
Measure = Annotated[float, "any"]  # any kind, the same one wherever an equation says Measure


def dimension(kind: object) -> str:
    """Return the dimension a kind carries ("words" for a text); TypeError for anything that is not
    a kind.
    """
    metadata = getattr(kind, "__metadata__", ())
    if not metadata or not isinstance(metadata[0], str):
        raise TypeError(f"{kind!r} is not one of the kinds in builder/datumbook/formulas/kinds.py")
    return metadata[0]


@cache
def kinds_of(function: object) -> dict[str, str]:
    """Return parameter name (and "return") -> dimension, read from a function's annotations."""
    return {
        name: dimension(hint)
        for name, hint in get_type_hints(function, include_extras=True).items()
    }

"""What a warm block would measure at the temperature all sizes are stated for."""

from __future__ import annotations

from builder.kinds import Expansion, Length, Temperature


def at_reference(length: Length, expansion: Expansion, temperature: Temperature, reference: Temperature) -> Length:
    """Length a part would have at the reference temperature (20 degC by ISO 1), from a length read at another.

    The first-order form L x (1 - a (T - Tref)), as measuring laboratories publish it; L / (1 + a (T - Tref)) differs
    by less than a tenth of a micrometre on a metre of iron 25 degrees warm.

    Source: NPL 20 degC, its worked example.

    >>> at_reference(length=500.035, expansion=11.7e-6, temperature=23.7, reference=20)
    500.013
    """
    return length * (1 - expansion * (temperature - reference))

"""The unit border: what a unit word is worth, and how units multiply.

Every word is an exact factor to one coherent set (millimetre, newton, second, kelvin, radian), so
that equations may run on bare floats. The everyday words stand in standards/units.toml with pint's
own figures, because starting a pint registry costs more time than validating a book; any other word
is asked of pint itself.
"""

from __future__ import annotations

import difflib
import math
import re
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any

from datumbook.messages import ExpectedError

# each base, the word pint has for its root unit, and how many coherent units that is
ROOTS = {
    "[length]": ("meter", Fraction(1000)),
    "[mass]": ("gram", Fraction(1, 1_000_000)),
    "[time]": ("second", Fraction(1)),
    "[temperature]": ("kelvin", Fraction(1)),
    "[angle]": ("radian", Fraction(1)),
    "[count]": ("count", Fraction(1)),
}
BASES = tuple(ROOTS)
Exponents = tuple[Fraction, ...]
COUNT = "count"  # the unit of a counted number, which is printed without a word
PRINTED = {
    "1/min": "rev/min",
    COUNT: "",
    "degC": "°C",
    "degF": "°F",
    "um": "µm",
    "uin": "µin",
    "deg": "°",
    "1/degC": "1/°C",
    "1/degF": "1/°F",
}
INCH = Fraction(254, 10)  # in mm, exactly
BARE: Exponents = (Fraction(0),) * len(BASES)


class UnitError(ExpectedError):
    """Two units that cannot meet, or a word that is no unit; the message names both.

    `instead` is the word to write, where a word is refused for what it hides.
    """

    def __init__(self, sentence: str, instead: str = "") -> None:
        super().__init__(sentence)
        self.instead = instead


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: its exponents over BASES, its exact factor to the coherent set, the zero of a
    temperature scale.
    """

    word: str
    exponents: Exponents
    factor: Fraction
    zero: Fraction | None = None

    @property
    def dimension(self) -> str:
        """The dimension as pint writes it ("" for a bare number)."""
        return dimension_text(self.exponents)

    @property
    def named(self) -> str:
        """The unit in words for messages; an angle by its word, a count and a ratio by what they
        are.
        """
        return named(self.word)

    def __mul__(self, other: Unit) -> Unit:
        return self._joined(other, 1, "*")

    def __truediv__(self, other: Unit) -> Unit:
        return self._joined(other, -1, "/")

    def __pow__(self, power: Fraction) -> Unit:
        return Unit(
            f"({self.word})**{power}" if self.word else "",
            tuple(exponent * power for exponent in self.exponents),
            Fraction(self.factor**power),  # of a root a float
        )

    def _joined(self, other: Unit, sign: int, mark: str) -> Unit:
        return Unit(
            f"{self.word or 1}{mark}{other.word}" if other.word else self.word,
            tuple(
                one + sign * two for one, two in zip(self.exponents, other.exponents, strict=True)
            ),
            self.factor * other.factor**sign,
        )


@cache
def _words() -> tuple[dict[str, Unit], dict[str, str], dict[str, str]]:
    table = tomllib.loads(files("datumbook.standards").joinpath("units.toml").read_text("utf-8"))
    words = {
        word: Unit(word, exponents(dimension), _exact(factor), *map(Fraction, zero))
        for word, (dimension, factor, *zero) in table["words"].items()
    }
    return words, table["aliases"], table["refused"]


def _exact(text: str) -> Fraction:
    above, _, below = text.partition("/")
    return Fraction(above) / Fraction(below or 1)


@cache
def exponents(dimension: str) -> Exponents:
    """Return the exponents over BASES of a dimension text such as "[mass] * [length] / [time] **
    2".
    """
    found = dict.fromkeys(BASES, Fraction(0))
    for mark, base, power in re.findall(r"([*/]?)\s*(\[\w+\])(?:\s*\*\*\s*(\d+))?", dimension):
        found[base] += (-1 if mark == "/" else 1) * Fraction(power or 1)
    return tuple(found.values())


def dimension_text(powers: Exponents) -> str:
    """Return a dimension in words for messages, "" for a bare number."""
    above = [_power(base, power) for base, power in zip(BASES, powers, strict=True) if power > 0]
    below = [_power(base, -power) for base, power in zip(BASES, powers, strict=True) if power < 0]
    return " / ".join([" * ".join(above) or "1", *below]) if above or below else ""


def _power(base: str, power: Fraction) -> str:
    return base if power == 1 else f"{base} ** {power}"


@cache
def unit(word: str) -> Unit:
    """Return the unit of a word; UnitError with the nearest known words when there is none, with
    the word to write when it hides a turn or a count. A stroke first is one over it: /min.
    """
    words, aliases, refused = _words()
    plain = word.strip()
    plain = f"1{plain}" if plain.startswith("/") else plain
    plain = aliases.get(plain, plain)
    if plain in refused:
        raise UnitError(f'"{word}" can be misread; write {refused[plain]}.', refused[plain])
    return words[plain] if plain in words else _asked_of_pint(plain)


@cache
def _registry() -> Any:
    import pint  # a registry costs a tenth of a second and is hardly ever asked

    return pint.UnitRegistry()


def _asked_of_pint(word: str) -> Unit:
    try:
        asked = _registry().Quantity(1.0, word).to_root_units()
        powers = {name: Fraction(str(power)) for name, power in asked.unit_items()}
        found = tuple(powers.pop(root, Fraction(0)) for root, _ in ROOTS.values())
    except Exception as refusal:  # pint raises a dozen kinds for words that are no unit
        raise UnitError(f'"{word}" is not a unit known here{_nearest(word)}.') from refusal
    pure = not any(found[4:]) or found in (exponents("[angle]"), exponents("[count]"))
    without = (*found[:4], *BARE[4:])
    fitting = (word for word, known in _words()[0].items() if known.exponents == without)
    instead = "" if pure else shown(next(fitting, ""))
    if powers or not (pure or instead):
        raise UnitError(
            f'"{word}" comes down to {asked.units}, which nothing on a block is measured in.'
        )
    if found == exponents("[temperature]"):
        raise UnitError(f'"{word}" is a temperature scale not known here; write degC or degF.')
    if instead:
        raise UnitError(
            f'"{word}" hides an angle or a count; leave it out and write {instead}.', instead
        )
    roots = (size ** int(power) for (_, size), power in zip(ROOTS.values(), found, strict=True))
    return Unit(word, found, Fraction(f"{asked.magnitude:.15g}") * math.prod(roots))


def _nearest(word: str) -> str:
    words, aliases, _ = _words()
    near = difflib.get_close_matches(
        word, [known for known in (*words, *aliases) if known], n=3, cutoff=0.5
    )
    return (
        f"; did you mean {' or '.join(near)}?"
        if near
        else "; write for example mm, in, N*m or 1/min"
    )


@cache
def factor(from_word: str, to_word: str) -> Fraction:
    """Return the exact factor from one unit to another; UnitError where their dimensions differ."""
    here, there = unit(from_word), unit(to_word)
    if here.exponents != there.exponents:
        raise UnitError(
            f'"{from_word}" ({here.dimension or "a bare number"}) cannot be turned into '
            f'"{to_word}" ({there.dimension or "a bare number"}).'
        )
    return here.factor / there.factor


def convert(value: float, from_word: str, to_word: str) -> float:
    """Convert a number from one unit to another; temperatures by their scales, not as
    differences.
    """
    if from_word == to_word:
        return value
    here, there, ratio = unit(from_word), unit(to_word), factor(from_word, to_word)
    if here.zero is not None and there.zero is not None:
        return (value - float(here.zero)) * float(ratio) + float(there.zero)
    return (
        value * ratio.numerator / ratio.denominator
        if ratio.denominator < 10**9
        else value * float(ratio)
    )


def to_coherent(value: float, word: str) -> float:
    """Return a number of this unit in the coherent set (mm, N, s, degC, rad)."""
    zero, ratio = _scale(word)
    return (value - zero) * ratio


def from_coherent(value: float, word: str) -> float:
    """Return a number of the coherent set in this unit."""
    zero, ratio = _scale(word)
    return value / ratio + zero


@cache
def _scale(word: str) -> tuple[float, float]:
    """The zero of a unit in the coherent set, and how many coherent units one of it is."""
    here = unit(word)
    return float(here.zero or 0), float(here.factor)


def named(word: str) -> str:
    """Return a unit word or a dimension as a message names it."""
    return {"": "a bare number", COUNT: "a count", "[count]": "a count"}.get(word, word)


def shown(word: str) -> str:
    """Return a unit word as it is printed for a person: °C, N·m, rev/min."""
    return PRINTED.get(word, word).replace("**2", "²").replace("**3", "³").replace("*", "·")


@cache
def coherent_word(dimension: str) -> str:
    """Return the unit word of the coherent set for a dimension: "mm" for "[length]"; a bare number
    for "any".
    """
    return next(
        word
        for word, known in _words()[0].items()
        if known.exponents == exponents(dimension) and known.factor == 1
    )

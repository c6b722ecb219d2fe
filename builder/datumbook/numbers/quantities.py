"""Quantities as people write them: one number exactly as printed, and the unit behind it.

The number is read here and kept as a fraction; only the unit word is asked of
datumbook.numbers.units. (A units library alone reads "2 3/8 in" as three quarters of an inch and
"1,5 mm" as fifteen millimetres.)
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from decimal import Context, Decimal, Inexact
from fractions import Fraction
from typing import NoReturn

from datumbook.messages import ExpectedError
from datumbook.messages.refusals import shown, spoken

LONGEST_QUANTITY = 60
BETWEEN_SOURCES = "; "
EXACT = Context(prec=400, traps=[Inexact])  # more digits than any decimal that ends has
ONE_SPELLING = str.maketrans("−‐‑–﹣－⁄∕", "------//")
FRACTION = r"[0-9]{1,9}/[0-9]{1,9}"
DECIMAL = r"(?:[0-9]{1,20}(?:\.[0-9]{0,20})?|\.[0-9]{1,20})(?:[eE][-+]?[0-9]{1,2})?(?![0-9.])"
NUMBER = re.compile(rf"([-+]?) ?(?:([0-9]{{1,9}})(?: | ?- ?)({FRACTION})|({FRACTION})|({DECIMAL}))")
UNIT_NAME = "(?:[A-Za-zµμ°%]+|\"|'|”|″|′|’)(?:\\*\\*[1-9]|[23²³])?"
UNIT_WORD = re.compile(rf"(?:1?/)?{UNIT_NAME}(?: ?[*/.·-] ?{UNIT_NAME}){{0,3}}")
# The same in the words of a JSON Schema, for editors; the parser here is stricter.
NUMBER_PATTERN = (
    r"\s*[-+−]?\s*(\d+[\s-]+\d+/\d+|\d+/\d+|\d+\.?\d*([eE][-+]?\d{1,2})?"
    r"|\.\d+([eE][-+]?\d{1,2})?)\s*"
)
UNIT_PATTERN = r"""([A-Za-zµ°%"'′″/][^,±]*|1/[^,±]+)"""
INCH_MARKS = {"”": '"', "″": '"', "’": "′", "'": "′"}

# a dimension as datumbook.formulas.kinds writes it -> its words, two units to spell an example with
KINDS = {
    "[length]": ("a length", "in", "mm"),
    "[length] ** 2": ("an area", "in**2", "mm**2"),
    "[length] ** 3": ("a volume", "in**3", "cm**3"),
    "": ("a bare number", "", "%"),
    "[angle]": ("an angle", "deg", "rad"),
    "[count]": ("a count", "", ""),
    "[mass] * [length] / [time] ** 2": ("a force", "lbf", "N"),
    "[mass] * [length] ** 2 / [time] ** 2": ("a torque", "lbf*ft", "N*m"),
    "[mass] / [length] / [time] ** 2": ("a stress", "psi", "MPa"),
    "1 / [time]": ("a spindle speed", "1/min", "1/s"),
    "[length] / [time]": ("a cutting speed", "ft/min", "m/min"),
    "[mass]": ("a mass", "g", "oz"),
    "[mass] * [length]": ("an unbalance", "g*mm", "oz*in"),
    "[temperature]": ("a temperature", "degC", "degF"),
    "1 / [temperature]": ("an expansion", "1/degC", "1/degF"),
}


class QuantityFault(ExpectedError):  # noqa: N818  # a fault of the text, not an error here
    """A text that is no quantity; as text one sentence. Code, found, expected and remedy are
    attributes.
    """

    def __init__(self, code: str, found: object, expected: str = "", **words: str) -> None:
        self.code, self.found, self.expected = code, shown(found), expected
        self.sentence, self.remedy = spoken(code, self.found, expected, **words)
        super().__init__(code, self.found, expected)

    def __str__(self) -> str:
        return f"{self.sentence.rstrip('.')}: {self.remedy[:1].lower()}{self.remedy[1:]}"


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity: its exact number, its unit, the decimals printed (of the number written out),
    the text.

    `source` is where the figure comes from, when whoever wrote it says so; "" otherwise. What is
    worked out from figures comes from where each of them does, and from a guessed one is guessed.
    """

    number: Fraction
    unit: str
    decimals: int
    text: str
    source: str = ""
    guessed: bool = field(default=False, repr=False)

    def to(self, unit: str) -> float:
        """Return the number in another unit, exact until one last rounding; UnitError between
        dimensions.

        >>> read_quantity("2 3/8 in").to("mm")
        60.325
        """
        return float(self.exactly(unit))

    def exactly(self, unit: str) -> Fraction:
        """Return the exact number in another unit; temperatures by their scales."""
        from datumbook.numbers import units  # the unit table is read when the first quantity is

        here, there, ratio = units.unit(self.unit), units.unit(unit), units.factor(self.unit, unit)
        if here.zero is None or there.zero is None:
            return self.number * ratio
        return (self.number - here.zero) * ratio + there.zero

    def __add__(self, other: Quantity) -> Quantity:
        return self._worked(
            self.number + other.exactly(self.unit), max(self.decimals, other.decimals), other
        )

    def __neg__(self) -> Quantity:
        return self._worked(-self.number, self.decimals)

    def __sub__(self, other: Quantity) -> Quantity:
        return self + -other

    def __mul__(self, share: Fraction) -> Quantity:
        return self._worked(self.number * share, self.decimals)

    def _worked(self, number: Fraction, decimals: int, *others: Quantity) -> Quantity:
        """A number worked out, in the unit of this quantity; the text is our own."""
        text = f"{number_text(number)} {self.unit}".rstrip()
        figures = (self, *others)
        told = dict.fromkeys(one for it in figures for one in it.source.split(BETWEEN_SOURCES))
        source = BETWEEN_SOURCES.join(filter(None, told))
        guessed = any(one.guessed for one in figures)
        return Quantity(number, self.unit, decimals, text, source, guessed)

    def __str__(self) -> str:
        return self.text


def counted(number: int) -> Quantity:
    """Return a count as a quantity."""
    return Quantity(Fraction(number), "count", 0, str(number))


def number_text(number: Fraction) -> str:
    """Return a number as a decimal where it ends, else as a fraction: 14.252, -1/3."""
    try:
        return f"{EXACT.divide(Decimal(number.numerator), Decimal(number.denominator)):f}"
    except Inexact:
        return str(number)


def read_number(text: str) -> tuple[Fraction, int]:
    """Return the exact number of a text and its decimals; QuantityFault for anything else.

    >>> read_number("2 3/8"), read_number("-.0005")
    ((Fraction(19, 8), 0), (Fraction(-1, 2000), 4))
    """
    quantity = read_quantity(text)
    if quantity.unit:
        _refuse("unit-not-wanted", text, "", expected=_kind_of(quantity.unit))
    return quantity.number, quantity.decimals


def read_quantity(text: str, dimension: str | None = None) -> Quantity:
    """Return the quantity a text says; QuantityFault where it says none, or one of another
    dimension.

    The dimension is a text of datumbook.formulas.kinds, or None for any; "" wants a bare number
    or a percentage, "[count]" a number without a unit.

    >>> read_quantity('3 1/2"', "[length]")
    Quantity(number=Fraction(7, 2), unit='in', decimals=0, text='3 1/2"', source='')
    """
    if not isinstance(text, str):
        _refuse("number-not-text", text, dimension, str(text) if type(text) in (int, float) else "")
    plain = _plain(text)
    _refuse_marks(text, plain)
    found = NUMBER.match(plain)
    if not found or len(text) > LONGEST_QUANTITY:
        _refuse("not-a-quantity", text, dimension)
    number, decimals = _number(text, found, plain[found.end() :])
    unit = _unit(text, plain[found.end() :].strip(), dimension, plain[: found.end()])
    _hold_dimension(text, unit, dimension, plain[: found.end()])
    return Quantity(number, unit, decimals, text)


def _plain(text: str) -> str:
    """Return a text with one kind of blank, minus, stroke and fraction."""
    spelled = "".join(map(_letter, text[: LONGEST_QUANTITY + 1]))
    return re.sub(" +", " ", spelled).strip(" ").translate(ONE_SPELLING)


def _letter(letter: str) -> str:
    if "VULGAR FRACTION" in unicodedata.name(letter, "") and letter != "⅟":
        return " " + unicodedata.normalize("NFKC", letter)
    return " " if unicodedata.category(letter) == "Zs" or letter == "\t" else letter


def _refuse_marks(text: str, plain: str) -> None:
    """Refuse a comma between figures and a ± before them."""
    if re.match(r"±|\+ ?/? ?-", plain):
        size = plain.lstrip("±+/- ") or "0.002 in"
        raise QuantityFault("plus-minus", text, "one size", size=shown(size))
    if not re.search(r"[0-9] ?,|, ?[0-9]", plain):
        return
    better = "a point before the decimals and no mark between thousands"
    if "." not in plain and plain.count(",") == 1:
        better = f'"{plain.replace(",", ".")}"'
        if re.search(r"[0-9],[0-9]{3}(?![0-9])", plain):
            better = f'{better} or "{plain.replace(",", "")}", whichever is meant'
    raise QuantityFault("decimal-comma", text, "a decimal point", better=shown(better))


def _number(text: str, found: re.Match[str], behind: str) -> tuple[Fraction, int]:
    sign, whole, part, fraction, decimal = found.groups()
    if decimal is not None:
        figures, _, power = decimal.lower().partition("e")
        decimals = max(0, len(figures.partition(".")[2]) - int(power or 0))
        number = Fraction(decimal.replace(".e", "e").replace(".E", "E").rstrip("."))
    else:
        decimals = 0
        number = Fraction(whole or 0) + _fraction(text, part or fraction, whole, behind)
    return (-number if sign == "-" else number), decimals


def _fraction(text: str, fraction: str, whole: str | None, behind: str) -> Fraction:
    above, below = map(int, fraction.split("/"))
    if below == 0:
        raise QuantityFault("zero-denominator", text)
    if whole is not None and above >= below:
        more, rest = divmod(above, below)
        better = f"{int(whole) + more} {f'{rest}/{below}' if rest else ''}".rstrip()
        raise QuantityFault("mixed-fraction", text, better=f'"{better}{behind}"')
    return Fraction(above, below)


def _unit(text: str, word: str, dimension: str | None, number: str) -> str:
    """Return the unit as datumbook.numbers.units writes it."""
    if not word:
        return "count" if dimension == "[count]" else ""
    if not UNIT_WORD.fullmatch(word):
        _refuse("not-a-quantity", text, dimension)
    from datumbook.numbers import units

    try:
        return units.unit(INCH_MARKS.get(word, word)).word
    except units.UnitError as fault:
        if fault.instead:
            _refuse("misread-unit", text, dimension, number, unit=word, instead=fault.instead)
        _refuse("unknown-unit", text, dimension, number, unit=word)


def _hold_dimension(text: str, unit: str, dimension: str | None, number: str) -> None:
    """Refuse a unit of another dimension than the one wanted."""
    wanted = KINDS[dimension][0] if dimension in KINDS else dimension or ""
    if dimension is None or _kind_of(unit) == wanted:
        return
    if unit == "":
        _refuse("no-unit", text, dimension, number, expected=wanted)
    kind = "a percentage" if unit == "%" else _kind_of(unit)
    if dimension in ("", "[count]"):
        _refuse("unit-not-wanted", text, dimension, number, expected=kind)
    _refuse("wrong-dimension", text, dimension, number, **{"is": kind})


def _kind_of(unit: str) -> str:
    """Return the words for what a unit measures."""
    if unit in ("", "%"):
        return KINDS[""][0]
    from datumbook.numbers import units

    measured = units.unit(unit)
    words = {units.exponents(known): words for known, (words, _, _) in KINDS.items()}
    return words.get(measured.exponents, measured.dimension)


def _refuse(
    code: str, text: object, dimension: str | None, number: str = "", **words: str
) -> NoReturn:
    """Raise the fault with two examples of what is wanted, spelled with the number found where
    there is one.
    """
    wanted, one, two = KINDS.get(
        dimension if dimension is not None else "[length]", (dimension or "", "in", "mm")
    )
    number = number or ("45" if dimension == "[angle]" else "0.5")
    examples = {"first": f'"{f"{number} {one}".strip()}"', "second": f'"{number} {two}"'}
    raise QuantityFault(code, text, words.pop("expected", wanted), **examples, **words)


NO_LENGTH = read_quantity("0 mm")

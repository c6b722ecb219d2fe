"""One fit at the bench, by its code: `85 H7/s6`, its limits, its clearances, and what a liner of it
presses and pulls.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from datumbook.calculator.threads import MM
from datumbook.equations import liner_pressure
from datumbook.equations.fits import interference_per_size
from datumbook.messages import ExpectedError
from datumbook.messages.refusals import shown
from datumbook.numbers.printing import Printer, figures
from datumbook.numbers.quantities import Quantity, QuantityFault, read_quantity
from datumbook.numbers.units import from_coherent
from datumbook.standards.fits import CAST_IRON, Fit, FitLimits, parse_fit, tighter_than
from datumbook.standards.materials import figure

IRON = "grey iron"
WANTED = ("parent_ring", "liner_bore")
RING_SHARE, BORE_SHARE = 104 / 85, 80 / 85  # of a liner, as usual in a car's block: for an example
CODES = re.compile(r"[A-Za-z]{1,2}\d{1,2}\s*/\s*[A-Za-z]{1,2}\d{1,2}\s*")
FIT_INCHES, STRESSES, KSI = Printer("in", 5), Printer("MPa", 1), Printer("ksi", 2)
FINER_MM = Printer("mm", 4)


def is_fit(text: str) -> bool:
    """Say whether a text ends with the two codes of a fit.

    >>> is_fit("85 H7/s6"), is_fit("5/16-24")
    (True, False)
    """
    return re.search(rf"{CODES.pattern}$", text[:80]) is not None


def fit_card(text: str) -> str:
    """Return everything known here of the fit a text names; ExpectedError saying what to write
    instead.

    >>> print(fit_card("85 H7/s6").splitlines()[0])
    85 H7/s6: interference
    """
    return "\n".join(_card(parse_fit(text)))


def fit_worked(text: str, arguments: Sequence[str]) -> str:
    """Return a fit of a dry liner in iron worked at both ends of its interference; ExpectedError
    for an argument not known.

    arguments: none, or both of parent_ring and liner_bore with their units.
    """
    fit = parse_fit(text)
    if not arguments:
        return "\n".join([*_card(fit), "", f"What a liner of it presses: {_like(fit)}"])
    sizes = _sizes(fit, arguments)
    return "\n".join([*_card(fit), "", *_pressed(fit, sizes["parent_ring"], sizes["liner_bore"])])


def _like(fit: Fit) -> str:
    """How a liner of a fit is asked for, in the unit of the fit."""
    inches = fit.unit == "in"
    size = float(fit.nominal) / (25.4 if inches else 1.0)
    ring, bore = (
        f"{round(size * by, 2 if inches else 0):g}{fit.unit}" for by in (RING_SHARE, BORE_SHARE)
    )
    return f'datumbook work "{fit.designation}" parent_ring={ring} liner_bore={bore}'


def _both(fit: Fit, metric: str, inches: str, rest: str = "") -> str:
    """A size in both units, that of the fit first."""
    first, second = (inches, metric) if fit.unit == "in" else (metric, inches)
    return f"{first} = {second}{rest}"


def _length(fit: Fit, millimetres: float, sign: str = "", metric: Printer = MM) -> str:
    inches = FIT_INCHES.quantity(millimetres / 25.4, sign)
    return _both(fit, metric.quantity(millimetres, sign), inches)


def _stress(fit: Fit, megapascals: float, metric: Printer = STRESSES) -> str:
    ksi = KSI.quantity(from_coherent(megapascals, "ksi"))
    return _both(fit, metric.quantity(megapascals), ksi)


def _card(fit: Fit) -> Iterator[str]:
    yield f"{fit.designation}: {fit.kind}"
    yield from (
        _limits(fit, words, one)
        for words, one in (("hole", fit.hole), ("shaft or liner", fit.shaft))
    )
    for words, clearance in (
        ("least clearance", fit.least_clearance_mm),
        ("greatest clearance", fit.greatest_clearance_mm),
    ):
        per_size = interference_per_size(-clearance, float(fit.nominal))
        tight = (
            f", interference of {Printer('', 5).number(per_size)} to the unit of diameter"
            if clearance < 0
            else ""
        )
        yield _row(words, f"{_length(fit, clearance, '+')}{tight}")
    yield _row("source", "ISO 286-1")
    if tighter_than(fit, CAST_IRON):
        yield (
            f"  MIND: tighter than {CAST_IRON}, the tightest fit usable with cast iron "
            f"(Shigley table 7-9)."
        )


def _limits(fit: Fit, words: str, one: FitLimits) -> str:
    low, high = (float(one.nominal + end) for end in (one.lower, one.upper))
    millimetres = f"{MM.number(low)} to {MM.quantity(high)}"
    inches = f"{FIT_INCHES.number(low / 25.4)} to {FIT_INCHES.quantity(high / 25.4)}"
    return _row(f"{words} {one.code}", _both(fit, millimetres, inches))


def _row(words: str, value: str) -> str:
    return f"  {words:<22}{value}"


def _sizes(fit: Fit, arguments: Sequence[str]) -> dict[str, Quantity]:
    """The sizes typed as name=size."""
    found: dict[str, Quantity] = {}
    for argument in arguments:
        name, _, text = argument.partition("=")
        if name not in WANTED:
            raise ExpectedError(
                f'A fit takes {" and ".join(WANTED)}, not "{shown(name)}". Write: {_like(fit)}'
            )
        try:
            found[name] = read_quantity(text, "[length]")
        except QuantityFault as fault:
            raise ExpectedError(f"{name}: {fault}") from fault
    if lacking := [name for name in WANTED if name not in found]:
        raise ExpectedError(
            f"A fit that is worked lacks {' and '.join(lacking)}. Write: {_like(fit)}"
        )
    return found


def _pressed(fit: Fit, parent_ring: Quantity, liner_bore: Quantity) -> Iterator[str]:
    """Pressure and stresses at the least and the greatest interference, block and liner both of
    grey iron.
    """
    ring, bore, outside = parent_ring.to("mm"), liner_bore.to("mm"), float(fit.nominal)
    if not bore < outside < ring:
        size = fit.size_text if fit.unit == "in" else f"{figures(outside)} mm"
        raise ExpectedError(
            f"The liner's bore, {size} and the block's ring must rise in this order: "
            f"{liner_bore.text}, {parent_ring.text}."
        )
    modulus, poisson = figure(IRON, "modulus"), figure(IRON, "poisson")
    stiff, ratio = modulus.value.to("MPa"), poisson.value.to("")
    parent, liner = (
        liner_pressure.parent_hoop_factor(ring, outside),
        liner_pressure.liner_hoop_factor(outside, bore),
    )
    yield (
        f"Pressed into a block like a ring of {parent_ring.text}, liner bored "
        f"{liner_bore.text}, both {IRON}:"
    )
    for words, clearance in (
        ("least", fit.greatest_clearance_mm),
        ("greatest", fit.least_clearance_mm),
    ):
        pressure = liner_pressure.contact_pressure(
            -clearance, outside, parent, liner, stiff, ratio, stiff, ratio
        )
        yield f"  at the {words} interference, {_length(fit, -clearance)}"
        if clearance >= 0:
            yield "    the liner is loose, or only just held: no pressure"
            continue
        hoop, strain, inner = (
            _stress(fit, stress)
            for stress in (
                liner_pressure.parent_hoop_stress(pressure, parent),
                liner_pressure.parent_strain_stress(pressure, parent, ratio),
                liner_pressure.liner_hoop_stress(pressure, liner),
            )
        )
        closing = liner_pressure.bore_closing(pressure, liner, bore, stiff)
        rows = {
            "  pressure": _stress(fit, pressure, Printer("MPa", 2)),
            "  block, plain hoop stress at the hole": f" {hoop}, tension",
            "  block, hoop + Poisson x pressure": f" {strain}, as handbook tables for steel count",
            "  liner, plain hoop stress at its bore": f" {inner}",
            "  bore closes by": _length(fit, closing, metric=FINER_MM),
        }
        yield from (_row(words, said) for words, said in rows.items())
    yield _row(
        "source",
        f"Shigley eq. 3-56; {IRON}: modulus {modulus.value.text}, Poisson's ratio "
        f"{poisson.value.text}",
    )

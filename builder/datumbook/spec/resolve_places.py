"""Places evenly spaced or laid out in a pattern, each written out: exact, in the unit they were
given in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import cos, pi, sin
from typing import Any

from pydantic import ValidationError

from datumbook.numbers.quantities import Quantity
from datumbook.spec.drafts import Draft, Stated
from datumbook.spec.faults import faults_of
from datumbook.spec.limits import SpecPart
from datumbook.spec.positions import Path
from datumbook.spec.written import (
    PATTERNS,
    ByCylinder,
    Crossings,
    HoleCircle,
    Mirror,
    Rectangle,
    RowOfHoles,
    Spaced,
)

HolePlace = tuple[Quantity, Quantity]
WrittenPair = list[str | Stated]
WRITTEN_TO = {"mm": 3, "in": 4}  # places to which what is worked out is rounded; others: as mm


@dataclass(frozen=True)
class Cylinders:
    """Where the cylinders of a deck stand: each by its number, and the line of their centres."""

    along: Mapping[int, Quantity]
    across: Quantity | None


def modelled(draft: Draft, path: Path, model: type[SpecPart], given: Any) -> Any:
    """A shorter form held to its model; None, with the faults put down, where it does not hold."""
    try:
        return model.model_validate(given)
    except ValidationError as error:
        for one in faults_of(error, model.model_json_schema()):
            draft.put_down(replace(one, path=(*path, *one.path)))
        return None


def written_out(size: Quantity) -> str | Stated:
    """A length worked out, as a text: with the places it was given with, or as many as it needs
    down to the finest there are. Beside it stands what was said of the figures it comes from:
    their source, and that one is a guess.
    """
    finest = max(size.decimals, WRITTEN_TO.get(size.unit, WRITTEN_TO["mm"]))
    number = Decimal(size.number.numerator) / Decimal(size.number.denominator)
    digits = number.quantize(Decimal(1).scaleb(-finest), ROUND_HALF_UP)
    needed = -int(digits.normalize().as_tuple().exponent)
    return _told(size, f"{digits:.{max(size.decimals, needed, 0)}f} {size.unit}")


def _told(size: Quantity, text: str) -> str | Stated:
    """A text with what was said of the figure; alone where nothing was."""
    said = {"source": size.source, "guessed": size.guessed}
    kept = {name: value for name, value in said.items() if value}
    return {"value": text, **kept} if kept else text


def spaced(form: Spaced, count: int) -> list[str | Stated]:
    """Lengths evenly spaced, as many as they are."""
    step = form.step or (form.to - form.from_) * Fraction(1, max(count - 1, 1))  # type: ignore[operator]
    return [written_out(form.from_ + step * Fraction(at)) for at in range(count)]


def pairs_of(
    draft: Draft, path: Path, given: Any, cylinders: Callable[[Path], Cylinders | None]
) -> list[Any]:
    """Every place of a group of holes as a pair of lengths; a pair given as such stays as it is."""
    entries = given if isinstance(given, list) else [given]
    points: list[Any] = []
    for at, entry in enumerate(entries):
        here = (*path, at) if isinstance(given, list) else path
        if not isinstance(entry, dict):
            points.append(entry)
            continue
        kind = next((key for key in PATTERNS if key in entry), None)
        if kind is None:
            draft.refuse(here, "pattern-unknown", ", ".join(entry) or "{}")
            continue
        form = modelled(draft, here, PATTERNS[kind], entry)
        if isinstance(form, Mirror):
            points += _mirrored(draft, here, form, points)
        elif form is not None:
            points += _laid_out(draft, here, form, cylinders)
    return points


def _laid_out(
    draft: Draft, path: Path, form: Any, cylinders: Callable[[Path], Cylinders | None]
) -> list[WrittenPair]:
    match form:
        case Crossings():
            return [
                [_told(one, one.text), _told(other, other.text)]
                for other in form.across
                for one in form.along
            ]
        case RowOfHoles():
            if (form.to is None) is (form.step is None) and form.row > 1:
                draft.refuse(path, "row-ends", str(form.row))
                return []
            return [_pair(one) for one in _row(form)]
        case Rectangle():
            return [_pair(one) for one in _round(form)]
        case HoleCircle():
            return [_pair(one) for one in _circle(form)]
        case ByCylinder():
            known = cylinders(path)
            return list(_each(draft, path, form, known)) if known else []
    raise TypeError(form)


def _pair(point: HolePlace) -> WrittenPair:
    return [written_out(one) for one in point]


def _row(form: RowOfHoles) -> Iterator[HolePlace]:
    start = form.from_
    ends = zip(start, form.to or start, strict=True)
    steps = form.step or [(end - one) * Fraction(1, max(form.row - 1, 1)) for one, end in ends]
    for at in range(form.row):
        along, across = (one + step * Fraction(at) for one, step in zip(start, steps, strict=True))
        yield along, across


def _round(form: Rectangle) -> Iterator[HolePlace]:
    along, across = (
        [one + (end - one) * Fraction(at, max(count - 1, 1)) for at in range(count)]
        for one, end, count in zip(form.from_, form.to, form.rectangle, strict=True)
    )
    yield from ((one, across[0]) for one in along)
    yield from ((along[-1], one) for one in across[1:])
    if len(across) > 1:
        yield from ((one, across[-1]) for one in reversed(along[:-1]))
    if len(along) > 1:
        yield from ((along[0], one) for one in reversed(across[1:-1]))


def _circle(form: HoleCircle) -> Iterator[HolePlace]:
    radius = form.diameter * Fraction(1, 2)
    first = form.first.to("rad") if form.first else 0.0
    for at in range(form.circle):
        angle = first + 2 * pi * at / form.circle
        along, across = (
            one + radius * Fraction(f"{share:.12f}")
            for one, share in zip(form.centre, (cos(angle), sin(angle)), strict=True)
        )
        yield along, across


def _mirrored(draft: Draft, path: Path, form: Mirror, before: list[Any]) -> list[WrittenPair]:
    if not before:
        draft.refuse(path, "mirror-alone")
    turned = list[WrittenPair]()
    changed = ("along", "across").index(form.mirror)
    for pair in before[::-1] if form.order == "back" else before:
        words = ("along", "across")
        if not isinstance(pair, list) or len(pair) != len(words):
            continue  # the model says that it is no place
        known = modelled(draft, path, Crossings, dict(zip(words, pair, strict=True)))
        if known is None:
            return []
        copy = list(pair)
        copy[changed] = written_out(form.about * Fraction(2) - getattr(known, form.mirror)[0])
        turned.append(copy)
    return turned


def _each(draft: Draft, path: Path, form: ByCylinder, known: Cylinders) -> Iterator[WrittenPair]:
    """The holes of every cylinder; one that two of them share stands once."""
    line = form.line or known.across
    if line is None:
        draft.refuse((*path, "line"), "cylinders-line")
        return
    stood = set[tuple[Fraction, ...]]()
    for number in form.cylinders or known.along:
        if number not in known.along:
            every = ", ".join(map(str, known.along))
            draft.refuse((*path, "cylinders"), "cylinder-unknown", str(number), every)
            continue
        for along, across in form.by_cylinder:
            place = (known.along[number] + along, line + across)
            exact = tuple(one.exactly("mm") for one in place)
            if exact not in stood:
                stood.add(exact)
                yield _pair(place)

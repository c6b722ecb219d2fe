"""Rules about words: placeholders left, materials and names that nobody knows or uses."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.messages.refusals import Fault, fault_at
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit, Spec
from datumbook.spec.faults import nearest
from datumbook.spec.guesses import is_placeholder
from datumbook.spec.limits import SpecPart
from datumbook.spec.positions import Path
from datumbook.spec.review.registry import rule

MAY_BE_BLANK = ("story", "drill_reason")
WORDS_ASKED = ("name", "words", "material", "first_cylinder", "seen_from", "reason", "gauged_at")


@rule
def guessed(spec: Spec) -> Iterator[Fault]:
    """Figures that are marked as guesses."""
    if spec.guessed:
        yield fault_at(("guessed",), "guessed-whole")
    for path, value in _everything(spec):
        if isinstance(value, Limit | Quantity) and value.guessed:
            words = value.in_words if isinstance(value, Limit) else value.text
            yield fault_at(path, "guessed", words)


@rule
def placeholder_left(spec: Spec) -> Iterator[Fault]:
    """Words and sources that only hold a place."""
    for path, value in _everything(spec):
        words = value.source if isinstance(value, Limit | Quantity) else value
        name = str(path[-1])
        asked = name in WORDS_ASKED or "source" in name or isinstance(value, Limit | Quantity)
        if asked and isinstance(words, str) and words and is_placeholder(words):
            at = (*path, "source") if isinstance(value, Limit | Quantity) else path
            yield fault_at(at, "placeholder-left", words)


def _everything(part: object, path: Path = ()) -> Iterator[tuple[Path, object]]:
    if isinstance(part, SpecPart) and not isinstance(part, Limit):
        for name, value in part:
            yield from _everything(value, (*path, name))
    elif isinstance(part, tuple):
        for at, value in enumerate(part):
            yield from _everything(value, (*path, at))
    else:
        yield path, part


@rule
def material_unknown(spec: Spec) -> Iterator[Fault]:
    """A material of the block for which the table has no cutting speeds."""
    from datumbook.standards import table

    known = sorted({row["material"] for row in table("cutting")["speed"]})
    material = spec.engine.material
    if material.strip().casefold() not in known:
        spoken = {"gray": "grey", "aluminum": "aluminium", "alloy": "aluminium", "cast": "grey"}
        words = " ".join(spoken.get(one, one) for one in material.casefold().split())
        path = ("engine", "material")
        yield fault_at(path, "material-unknown", material, advice=nearest(words, known))


@rule
def caps_unlike_cylinders(spec: Spec) -> Iterator[Fault]:
    """More main bearing caps than a crank with these cylinders has."""
    most = max((len(row.cylinders) for row in spec.rows), default=spec.engine.cylinders) + 1
    if spec.engine.bearing_caps > most:
        found, path = str(spec.engine.bearing_caps), ("engine", "bearing_caps")
        yield fault_at(path, "caps-unlike-cylinders", found, f"{most} or fewer")


@rule
def angle_without_banks(spec: Spec) -> Iterator[Fault]:
    """An angle between banks of an engine that has none."""
    if spec.engine.bank_angle is not None and not spec.banks:
        angle = spec.engine.bank_angle.text
        yield fault_at(("engine", "bank_angle"), "angle-without-banks", angle)


@rule
def ends_alike(spec: Spec) -> Iterator[Fault]:
    """A bank that nothing tells from the other, and cylinders that are not front to rear."""
    for at, bank in enumerate(spec.banks):
        if list(bank.cylinders) != sorted(bank.cylinders):
            said = ", ".join(map(str, bank.cylinders))
            yield fault_at(("banks", at, "cylinders"), "cylinders-not-in-turn", said)
        if any(other.words.casefold() == bank.words.casefold() for other in spec.banks[:at]):
            yield fault_at(("banks", at, "words"), "words-alike", bank.words)


@rule
def name_unused(spec: Spec) -> Iterator[Fault]:
    """Outlines of faces without a hole or a bore, and units or places of a group nobody reads."""
    from datumbook.spec.model import groups_of

    faces = {group.on for group in spec.holes}
    for at, plan in enumerate(spec.outlines):
        if plan.on not in faces and plan.of != "deck" and spec.holes:
            yield fault_at(("outlines", at), "name-unused", plan.on.replace("_", " "), "hole")
    read = set(groups_of(spec))
    for section in ("units", "decimals"):
        for group in getattr(spec, section).model_fields_set:
            if group not in read and group != "holes":
                yield fault_at((section, group), "name-unused", group, "section of readings")


@rule
def words_twice(spec: Spec) -> Iterator[Fault]:
    """Groups of holes that are called alike on the sheets."""
    for at, group in enumerate(spec.holes):
        if any(one.words.casefold() == group.words.casefold() for one in spec.holes[:at]):
            yield fault_at(("holes", at, "words"), "words-alike", group.words)

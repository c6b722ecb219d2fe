"""Rules about sizes: beside one another, in sums, against what is drawn, in the places shown."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from itertools import pairwise
from math import inf, pi, tan
from tomllib import loads
from typing import Any

from datumbook.messages.refusals import Fault, fault_at
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import INCH
from datumbook.spec import Limit, Spec
from datumbook.spec.limits import SpecPart
from datumbook.spec.model import groups_of
from datumbook.spec.positions import Path
from datumbook.spec.review.figures import Figured, figure_at, figures, term
from datumbook.spec.review.registry import rule

WIDEST = 1.05  # of a size with two ends: the larger over the smaller. Common practice, no source
UNEVEN = 2.0  # times the least distance of two bore centres. Common practice, no source
BOTH_UNITS = {"mm", "in"}
# what nothing is held against while the size at this path is in doubt
HELD_AGAINST = {"bores.standard": {"bore", "stroke", "row", "mm"}, "bores.stroke": {"stroke"}}
OF_THE_LARGER = ("gasket-over-bore", "liner-inside-bore")  # told of what should be more


@cache
def _data(name: str) -> dict[str, Any]:
    return loads(files("datumbook.spec.review").joinpath(f"{name}.toml").read_text("utf-8"))


@rule
def out_of_proportion(spec: Spec) -> Iterator[Fault]:
    """Sizes out of all proportion to bore, stroke or thread; inches written as millimetres and the
    other way about. Nothing is held against a size that is itself in doubt.
    """
    doubted: set[str] = set()
    for row in _data("proportions")["size"]:
        if row["of"] not in doubted:
            found = list(_unlike(spec, row))
            yield from found
            doubted |= HELD_AGAINST.get(row["path"], set()) if found else set()


def _unlike(spec: Spec, row: dict[str, Any]) -> Iterator[Fault]:
    unit = row["of"] if row["of"] in ("deg", "1/degC", "MPa") else "mm"
    for one in figures(spec, row["path"], unit):
        beside = _beside(spec, row["of"], one.path)
        for end, size in one.ends:
            share = abs(size) / beside if beside else row["from"]
            if size and not row["from"] <= share <= row["to"]:
                yield _told(one.path, end, share, row)
                break


def _told(path: Path, end: Quantity, share: float, row: dict[str, Any]) -> Fault:
    """What is said of a size out of proportion: whether it fits in the other unit, else what is
    usual.
    """
    for unit, other, fits in (("mm", "in", share * INCH), ("in", "mm", share / INCH)):
        if end.unit == unit and row["from"] <= fits <= row["to"]:
            number = end.text.partition(unit)[0].strip().rstrip("\"'")
            return fault_at(path, "unit-slip", end.text, better=f"{number} {other}")
    usual = f"{row['from']:g} to {row['to']:g}"
    of = row["of"] if row["of"] in ("mm", "deg", "1/degC", "MPa") else f"of the {row['of']}"
    if row["of"] == "major":
        of = "of the thread's major diameter"
    return fault_at(path, "out-of-proportion", end.text, f"{usual} {of}")


def _beside(spec: Spec, of: str, path: Path) -> float:
    """What a size is held against, in mm; 0 where that is not known."""
    bore = spec.bores.standard.high.to("mm")
    stroke = spec.bores.stroke.to("mm") if spec.bores.stroke else 0.0
    if of == "row":
        of_bank = spec.banks[int(path[1])].cylinders if path[0] == "banks" else ()
        longest = max((len(row.cylinders) for row in spec.rows), default=spec.engine.cylinders)
        return bore * (len(of_bank) or longest)
    if of == "major":
        from datumbook.standards.threads import parse_thread  # tables, read when holes are

        return parse_thread(spec.holes[int(path[1])].thread).major_mm
    return {"bore": bore, "stroke": stroke}.get(of, 1.0)


@rule
def does_not_add_up(spec: Spec) -> Iterator[Fault]:
    """Sums that miss their limit by more than all their tolerances."""
    for row in _data("sums")["sum"]:
        limit = figure_at(spec, row["limit"])
        terms = [term(spec, one) for one in row["terms"]]
        if limit is None or None in terms:
            continue
        low, high = (sum(ends) for ends in zip(*(one for one in terms if one), strict=True))
        below = limit.high is not None and low - limit.high > 1e-9
        if below or (limit.low is not None and limit.low - high > 1e-9):
            found = f"{(low + high) / 2:.3f} mm ({(low + high) / 2 / INCH:.4f} in)"
            yield fault_at(limit.path, "does-not-add-up", found, limit.words, terms=row["words"])


@rule
def more_than_it_can_be(spec: Spec) -> Iterator[Fault]:
    """What is more than it can be beside another figure."""
    for row in _data("sums")["pair"]:
        less, more = figure_at(spec, row["less"]), figure_at(spec, row["more"])
        if less is None or more is None:
            continue
        small = less.low if less.low is not None and less.high != less.low else less.high
        if row["code"] == "finished-looser":
            small = less.high
        large = more.high if more.high is not None else more.low
        if small is not None and large is not None and small - large > 1e-9:
            own, other = (more, less) if row["code"] in OF_THE_LARGER else (less, more)
            yield fault_at(own.path, row["code"], own.words, other.words)


@rule
def one_sided(spec: Spec) -> Iterator[Fault]:
    """Limits of a signed difference that allow none at all: a sign was left out."""
    for path in _data("sums")["around_zero"][0]["paths"]:
        found = figure_at(spec, path)
        if found and ((found.low or 0.0) > 0 or (found.high is not None and found.high < 0)):
            yield fault_at(found.path, "one-sided", found.words)


@rule
def ends_far_apart(spec: Spec) -> Iterator[Fault]:
    """Sizes with two ends so far apart that one of them is mistyped."""
    for path in _data("sums")["near"][0]["paths"]:
        found = figure_at(spec, path)
        if found and found.low and found.high and found.high / found.low > WIDEST:
            yield fault_at(found.path, "ends-far-apart", found.words)


@rule
def units_mixed(spec: Spec) -> Iterator[Fault]:
    """Limits with one end in millimetres and the other in inches."""
    for path, limit in _limits(spec):
        units = {
            one.unit
            for one in (limit.from_, limit.to, limit.nominal, limit.plus, limit.minus)
            if one is not None and one.number
        }
        if units >= BOTH_UNITS:
            yield fault_at(path, "units-mixed", limit.in_words)


def _limits(part: object, path: Path = ()) -> Iterator[tuple[Path, Limit]]:
    if isinstance(part, Limit):
        yield path, part
    elif isinstance(part, SpecPart):
        for name, value in part:
            yield from _limits(value, (*path, name))
    elif isinstance(part, tuple):
        for at, value in enumerate(part):
            yield from _limits(value, (*path, at))


@rule
def too_few_places(spec: Spec) -> Iterator[Fault]:
    """Places so few that the last of them is wider than the limit it is read for."""
    for group in groups_of(spec):
        step = 10.0 ** -spec.decimals[group]
        for path in _data("sums")["read_in"].get(group, ()):
            found = figure_at(spec, path, spec.units[group])
            width = _width(found) if found else None
            if found and width is not None and 0 < width < step:
                if group not in spec.decimals.model_fields_set:
                    break  # told of the group whose places it takes
                at = ("decimals", group)
                places = str(spec.decimals[group])
                yield fault_at(at, "too-few-places", places, found.words, of=path)
                break


def _width(found: Figured) -> float | None:
    if found.low is not None and found.high is not None:
        return found.high - found.low
    return found.high if found.high is not None else found.low


@rule
def centres_uneven(spec: Spec) -> Iterator[Fault]:
    """Bore centres of which one stands out of line with the others: a figure was mistyped."""
    rows: list[tuple[Path, tuple[Quantity, ...]]] = []
    if spec.lands is not None:
        rows.append((("lands",), spec.lands.centres))
    rows += [(("banks", at), bank.centres) for at, bank in enumerate(spec.banks)]
    for path, centres in rows:
        apart = [rear.to("mm") - front.to("mm") for front, rear in pairwise(centres)]
        if apart and max(apart) > UNEVEN * min(apart):
            at = apart.index(max(apart)) + 1
            yield fault_at((*path, "centres", at), "centres-uneven", centres[at].text)


@rule
def land_too_narrow(spec: Spec) -> Iterator[Fault]:
    """Lands that are narrower as drawn than the least that is to be left of them."""
    if spec.lands is None or (least := spec.lands.clamping_land.low) is None:
        return
    wide = spec.lands.mouth_chamfer.height.to("mm") / tan(
        float(spec.lands.mouth_chamfer.angle.to("rad"))
    )
    for row in spec.rows:
        apart = [rear.to("mm") - front.to("mm") for front, rear in pairwise(row.centres)]
        left = min(apart, default=inf) - spec.bores.standard.high.to("mm") - 2 * wide
        if left < least.to("mm"):
            found = f"{left:.2f} mm ({left / INCH:.3f} in)"
            yield fault_at(("lands", "clamping_land"), "land-too-narrow", found, least.text)
            return


@rule
def compression_unlikely(spec: Spec) -> Iterator[Fault]:
    """Volumes from which no engine's compression ratio follows."""
    if spec.combustion is None or spec.bores.stroke is None:
        return
    swept = spec.bores.standard.high.to("mm") ** 2 * pi / 4 * spec.bores.stroke.to("mm")
    left = spec.combustion.chamber_volume.to("mm**3") + spec.combustion.dish_volume.to("mm**3")
    ratio = 1 + swept / left if left > 0 else 0.0
    if not 3 <= ratio <= 30:  # common practice, no source
        path = ("combustion", "chamber_volume")
        yield fault_at(path, "compression-unlikely", f"{ratio:.1f} : 1", "3 : 1 to 30 : 1")


@rule
def an_oversize_is_a_size(spec: Spec) -> Iterator[Fault]:
    """Oversizes written as the whole bore instead of what is added to it."""
    bore = spec.bores.standard.high
    for at, size in enumerate(spec.bores.oversizes):
        if 1.0 <= size.to("mm") / bore.to("mm") <= 1.1:
            more = (size - spec.bores.standard.low).text
            yield fault_at(("bores", "oversizes", at), "oversize-is-a-size", size.text, better=more)

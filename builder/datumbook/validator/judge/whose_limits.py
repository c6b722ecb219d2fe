"""Whose limits a book is held to: its own spec, figure by figure, beside the one the shop keeps.

A book carries the spec it was made from and is judged by it; whether that is still, or ever was,
the shop's own, only the shop's files tell.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from datumbook.cells.handles import Key
from datumbook.grouping import grouped
from datumbook.messages import ExpectedError
from datumbook.messages.findings import Finding, finding
from datumbook.numbers.units import convert
from datumbook.spec import Spec
from datumbook.spec.guesses import guesses
from datumbook.validator.locate.location import Located
from datumbook.validator.recognise.recognition import laid_out_like
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.workbook.printed import printed

TURNED = 1e-9  # of a size: what turning inches into millimetres and back may leave


def against_shop(layout: Layout, located: Located, shop: Sequence[Spec]) -> Iterator[Finding]:
    """Yield where a book's spec differs from the shop's own for its engine: limits looser or
    tighter, other figures and words, and what one of them has alone.
    """
    own = [spec for spec in shop if spec.engine.name == layout.spec.engine.name]
    if not own:
        names = "; ".join(sorted({spec.engine.name for spec in shop}))
        yield finding("spec-not-the-shops", found=layout.spec.engine.name, expected=names)
        return
    texts = [(spec.text, spec.full_text) for spec in own]
    if (layout.spec.text, layout.spec.full_text) in texts:
        return
    named = [spec for spec in own if spec.path.name == layout.spec.path.name] or own
    now = named[0]
    try:
        theirs = laid_out_like(now, layout.job).for_job(layout.job, layout.identity)
    except ExpectedError as faults:
        yield finding("spec-superseded", expected=now.path.name, found=str(faults))
        return
    differing = list(_differing(layout, theirs, located))
    yield from differing
    yield from _held_alone(layout, theirs, located)
    yield from _guessed_alone(layout.spec, now)
    alone = [
        [place.label for key, place in one.places.items() if key not in other.places]
        for one, other in ((layout, theirs), (theirs, layout))
    ]
    words = [f"figures that differ: {len(differing)}", *_alone(alone)]
    yield finding("spec-superseded", expected=now.path.name, found=", ".join(words))


def _alone(alone: list[list[str]]) -> Iterator[str]:
    for whose, labels in zip(("this book", "the shop's"), alone, strict=True):
        if labels:
            yield f"cells only in {whose}: {len(labels)}"


def _differing(layout: Layout, theirs: Layout, located: Located) -> Iterator[Finding]:
    """A finding for each figure or word of the spec that is another, the worst of a kind first."""
    ours, shops = reckon(layout, {}), reckon(theirs, {})
    ends, stations = _ends(layout), layout.stations
    own = (
        *(stations.release.checks, stations.release.decision, stations.job.way),
        *stations.job.guesses,
    )  # what is counted and pointed at in this book, and no figure of the spec
    for key, place in layout.places.items():
        other = theirs.places.get(key)
        both = place.role == "given" and other is not None and other.role == "given"
        if other is None or not both or place.stands_in(*own):
            continue
        was, now = _in_unit(shops[key], other, place), ours[key]
        if not _same(was, now):
            code = _sense(ends.get(key, ""), was, now)
            yield located.about(
                code, place, found=printed(now, place), expected=printed(was, place)
            )


def _held_alone(layout: Layout, theirs: Layout, located: Located) -> Iterator[Finding]:
    """The ends of limits that one of the two has alone: where the book has no cell for it, its
    sheet and its words are told.
    """
    for place, shown in _ends_alone(theirs, layout):
        sheet = place.at.sheet if place.at.sheet in layout.plans else ""
        yield finding("limit-missing", sheet=sheet, label=place.label, expected=shown)
    for place, shown in _ends_alone(layout, theirs):
        yield located.about("limit-added", place, found=shown)


def _ends_alone(one: Layout, other: Layout) -> Iterator[tuple[Place, str]]:
    """The ends of limits stated in one layout and not in another, with what stands there."""
    values = reckon(one, {})
    for key in _ends(one):
        place, beside = one.places[Key(key)], other.places.get(Key(key))
        stated = beside is not None and beside.role == "given"
        if place.role == "given" and not stated and values[key] is not None:
            yield place, printed(values[key], place)


def _guessed_alone(ours: Spec, shops: Spec) -> Iterator[Finding]:
    """The figures that only one of the two specs marks as guessed."""
    book, shop = ([*dict.fromkeys(guesses(spec))] for spec in (ours, shops))
    for code, alone in (
        ("guess-missing", [one for one in shop if one not in book]),
        ("guess-added", [one for one in book if one not in shop]),
    ):
        for figure in alone:
            yield finding(code, found=figure.replace("_", " "))


def _ends(layout: Layout) -> Mapping[str, str]:
    """Which end of its checks a cell of a limit is, by its key."""
    ends = [(check.low, "low") for check in layout.checks if check.low]
    ends += [(check.high, "high") for check in layout.checks if check.high]
    told = grouped((str(key), end) for key, end in ends)
    return {key: which[0] for key, which in told.items() if len(set(which)) == 1}


def _sense(end: str, was: object, now: object) -> str:
    """The code of a difference: a limit that lets more through, one that lets less, any other."""
    if not end or not isinstance(was, float) or not isinstance(now, float):
        return "limit-looser" if end else "figure-differs"
    return "limit-looser" if (now > was) == (end == "high") else "limit-tighter"


def _in_unit(value: object, given: Place, shown: Place) -> object:
    if isinstance(value, float) and given.unit and shown.unit and given.unit != shown.unit:
        return convert(value, given.unit, shown.unit)
    return value


def _same(was: object, now: object) -> bool:
    if isinstance(was, float) and isinstance(now, float):
        return abs(was - now) <= TURNED * max(1.0, abs(was))
    return was == now

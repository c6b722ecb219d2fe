"""What the book was given against what stands there now: formulas, figures, printed words, shown
results.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from datumbook.messages.findings import Finding
from datumbook.numbers.printing import figures
from datumbook.readers import FoundCell
from datumbook.readers.arithmetic import number_said
from datumbook.readers.canonical import references
from datumbook.validator.compare.formula_changes import change
from datumbook.validator.compare.looks import looks_changed
from datumbook.validator.compare.pasted import REWRITTEN, gathered
from datumbook.validator.compare.printed_words import words_changed
from datumbook.validator.locate.location import Located
from datumbook.workbook.evaluation import Breakdown
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.workbook.printed import printed

TOLERANCE = 1e-9


def compare(
    layout: Layout, located: Located, values: Mapping[str, object]
) -> tuple[list[Finding], set[str]]:
    """Return what was altered in formulas, figures and printed words, and the keys of the cells
    altered.
    """
    found: list[Finding] = []
    touched = {key for key in layout.places if key not in located.spots} | located.strayed
    lost = {layout.homes[key] for key in touched}
    rewritten = 0
    for place in layout.places.values():
        if place.role == "given" and place.key in located.spots:
            found += _given(layout, place, located)
        elif place.role != "reading" and place.key in located.spots:
            told = list(_formula(layout, place, located, values, lost, rewritten <= REWRITTEN))
            rewritten += len(told)
            found += told
    altered = {one.key for one in found if one.severity == "damage"}
    found += words_changed(layout, located)
    found += looks_changed(layout, located)
    return gathered(layout, located, found), altered | touched


def _given(layout: Layout, place: Place, located: Located) -> Iterator[Finding]:
    cell, head = located.cell(place.key), layout.stations.job.block
    as_typed = cell is None or cell.formula is None
    if not (as_typed and same(None if cell is None or cell.error else cell.value, place.value)):
        codes = {head.identity.key: "identity-differs", head.number.key: "job-number-differs"}
        code, expected = codes.get(place.key, "given-changed"), printed(place.value, place)
        yield located.about(code, place, found=_found(cell), expected=expected)


def _formula(
    layout: Layout,
    place: Place,
    located: Located,
    values: Mapping[str, object],
    lost: set[tuple[str, int, int]],
    closely: bool,
) -> Iterator[Finding]:
    cell, expected = located.cell(place.key), layout.formula(place.key)
    if (
        cell is not None
        and cell.formula == expected
        and not cell.array
        and (located.untouched or located.unfollowed)
    ):
        return
    if cell is None or cell.formula is None:
        written = (
            cell is not None
            and isinstance(cell.value, str)
            and cell.value.lstrip(" '").startswith("=")
        )
        verdict = "verdict-overwritten" if place.role == "verdict" else "formula-replaced"
        yield located.about(
            "formula-as-text" if written else verdict,
            place,
            found=_found(cell),
            expected=printed(values[place.key], place),
            formula=expected,
        )
    # where it reads what was deleted or moved away, that is the finding
    elif not (lost and references(expected, place.at.sheet) & lost):
        changed = change(layout, place, cell, located, closely)
        told = [
            (one.code, one.sheet, one.cell)
            for one in located.book.problems
            if one.code == "formula-outside"
        ]
        if changed is not None and (changed[0], *located.shown_at(place)) not in told:
            yield located.about(changed[0], place, found=changed[1], formula=expected)


def stale(
    layout: Layout, located: Located, values: Mapping[str, object], apart_from: set[str]
) -> Iterator[Finding]:
    """Yield one finding for each way in which results show something else than the readings
    give.
    """
    wrong: dict[str, list[Place]] = {}
    for place in layout.places.values():
        if place.role in {"result", "verdict"} and place.key not in apart_from:
            cell = located.cell(place.key)
            if cell is not None and not shows(cell, values[place.key]):
                wrong.setdefault(_way(cell, values[place.key]), []).append(place)
    if (
        "results-stale" in wrong
    ):  # where one is old, one that shows nothing was blank and is old too
        wrong["results-stale"] += wrong.pop("results-missing", [])
    for code, places in wrong.items():
        value, found = values[places[0].key], _found(located.cell(places[0].key))
        yield located.about(
            code,
            places[0],
            count=len(places),
            found=found,
            expected=printed(value, places[0]),
            read=_with_a_point(found, value) if code == "results-are-text" else "",
        )


def _way(cell: FoundCell, value: object) -> str:
    if cell.error is not None:
        return "results-in-error"
    if cell.value is None:
        return "results-missing"
    return (
        "results-are-text"
        if isinstance(cell.value, str) and cell.value and isinstance(value, float)
        else "results-stale"
    )


def _with_a_point(words: str, value: object) -> str:
    """What words say that are the number given but for the sign between its digits, "" for any
    others.

    >>> _with_a_point("82,014", 82.014)
    '; that is 82.014, written with a comma for the point'
    >>> _with_a_point("1.082,5", 1082.5)
    '; that is 1082.5, written with a comma for the point'
    >>> _with_a_point("82,014", 82.015)
    ''
    """
    plain = "".join(sign for sign in words if sign in "0123456789,+-Ee").replace(",", ".")
    try:
        alike = words.count(",") == 1 and isinstance(value, float) and same(float(plain), value)
    except ValueError:
        return ""
    return f"; that is {plain}, written with a comma for the point" if alike else ""


def shows(cell: FoundCell, value: object) -> bool:
    """Say whether a cell shows the value worked out here; of errors only that they are errors."""
    if isinstance(value, Breakdown) or cell.error is not None:
        return isinstance(value, Breakdown) and cell.error is not None
    return same(cell.value, value)


def same(one: object, two: object) -> bool:
    """Say whether two values are the same: words exactly, numbers to a billionth, blank as empty
    words.
    """
    if isinstance(one, bool) or isinstance(two, bool):
        return one is two
    if isinstance(one, int | float) and isinstance(two, int | float):
        return abs(one - two) <= TOLERANCE * max(1.0, abs(two))
    if isinstance(one, int | float) or isinstance(two, int | float):
        number, other = (one, two) if isinstance(one, int | float) else (two, one)
        return isinstance(other, str) and number == number_said(other)
    return (one or "") == (two or "")


def _found(cell: FoundCell | None) -> str:
    """What stands in a cell, as it stands there."""
    if cell is None or cell.is_blank:
        return "nothing"
    if cell.error is not None:
        return cell.error
    if cell.formula is not None and cell.value is None:
        return f"={cell.formula}"
    return figures(cell.value) if isinstance(cell.value, float) else str(cell.value)

"""What the book was given against what stands there now: formulas, figures, printed words, shown results."""

from __future__ import annotations

from collections.abc import Mapping

from builder.findings import Finding, finding
from builder.layout import Layout, Place, Text
from builder.locating import Located
from builder.reader import Cell, address_of
from builder.reader.canonical import canonical, references
from builder.reckoning import Fault
from builder.units import shown

TOLERANCE = 1e-9


def compare(layout: Layout, located: Located, values: Mapping[str, object]) -> tuple[list[Finding], set[str]]:
    """Return what was altered in formulas, figures and printed words, and the keys of the cells altered."""
    found: list[Finding] = []
    altered: set[str] = set()
    gone = {place.key for place in layout.places.values() if place.key not in located.spots}
    lost = {(layout.places[key].at.sheet, layout.places[key].at.row, layout.places[key].at.column) for key in gone}
    for place in layout.places.values():
        if place.key in gone or place.role == "reading":
            continue
        cell = located.cell(place.key)
        one = _given(place, cell, located) if place.role == "given" else _formula(layout, place, cell, located, values, lost)
        if one is not None:
            found.append(one)
            altered.add(place.key)
    return found + _words(layout, located), altered | gone


def _given(place: Place, cell: Cell | None, located: Located) -> Finding | None:
    now = None if cell is None or cell.formula is not None or cell.error else cell.value
    if same(now, place.value):
        return None
    return _about("given-changed", place, located, found=_said(cell), expected=spoken(place.value, place))


def _formula(
    layout: Layout,
    place: Place,
    cell: Cell | None,
    located: Located,
    values: Mapping[str, object],
    lost: set[tuple[str, int, int]],
) -> Finding | None:
    expected = layout.formula(place.key)
    if cell is not None and cell.formula == expected and located.untouched:
        return None
    if cell is None or cell.formula is None:
        value = spoken(values[place.key], place)
        return _about("formula-replaced", place, located, found=_said(cell), expected=value, formula=expected)
    if lost and references(expected, place.at.sheet) & lost:
        return None  # it reads what was deleted: the deletion is the finding
    here = located.sheets[place.at.sheet] or place.at.sheet
    if canonical(cell.formula, here) == canonical(expected, place.at.sheet, located.moved):
        return None
    return _about("formula-edited", place, located, found=cell.formula, formula=expected)


def _words(layout: Layout, located: Located) -> list[Finding]:
    """Printed words on the sheets where nothing was moved."""
    found = []
    touched = {name for name in layout.plans if not _in_place(name, located)}
    for name, plan in layout.plans.items():
        now = located.sheets[name]
        if now is None or name in touched:
            continue
        cells = located.book.sheets[now].cells
        for text in plan.texts:
            cell = cells.get((text.at.row, text.at.column))
            shown = cell.value if cell is not None else ""
            if text.words and _plain(shown) != _plain(text.words):
                found.append(_changed(text, now, shown))
    return found


def _in_place(sheet: str, located: Located) -> bool:
    lines = (located.rows.get(sheet, {}), located.columns.get(sheet, {}))
    return all(old == new for one in lines for old, new in one.items())


def _changed(text: Text, sheet: str, shown: object) -> Finding:
    code = "unit-changed" if text.style == "unit" or (text.style == "heading" and "\n" in text.words) else "label-changed"
    return finding(
        code,
        sheet=sheet,
        cell=address_of(text.at.row, text.at.column),
        found=" ".join(str(shown or "nothing").split()),
        expected=" ".join(text.words.split()),
    )


def _plain(words: object) -> str:
    return " ".join(str(words if words is not None else "").split())


def stale(layout: Layout, located: Located, values: Mapping[str, object], apart_from: set[str]) -> list[Finding]:
    """Return one finding for all results that show something else than the readings give, one for all without any."""
    old: list[Place] = []
    missing: list[Place] = []
    for place in layout.places.values():
        if place.role not in {"result", "verdict"} or place.key in apart_from:
            continue
        cell = located.cell(place.key)
        value = values[place.key]
        if cell is None or shows(cell, value):
            continue
        (missing if cell.value is None and cell.error is None else old).append(place)
    found = []
    if old:
        first = old[0]
        found.append(
            _about(
                "results-stale",
                first,
                located,
                count=len(old),
                found=_said(located.cell(first.key)),
                expected=spoken(values[first.key], first),
            )
        )
    if missing:
        found.append(_about("results-missing", missing[0], located, count=len(missing)))
    return found


def shows(cell: Cell, value: object) -> bool:
    """Say whether a cell shows the value worked out here; of errors only that they are errors."""
    if isinstance(value, Fault) or cell.error is not None:
        return isinstance(value, Fault) and cell.error is not None
    return same(cell.value, value)


def same(one: object, two: object) -> bool:
    """Say whether two values are the same: words exactly, numbers to a billionth, blank as empty words."""
    if isinstance(one, bool) or isinstance(two, bool):
        return one is two
    if isinstance(one, int | float) and isinstance(two, int | float):
        return abs(one - two) <= TOLERANCE * max(1.0, abs(two))
    return (one or "") == (two or "") if not isinstance(one, int | float) and not isinstance(two, int | float) else False


def spoken(value: object, place: Place, *, exactly: bool = False) -> str:
    """A value as a person would write it, with the place's decimals and unit; exactly: with all the digits it has."""
    if isinstance(value, Fault):
        return "an error"
    if value is None or value == "":
        return "nothing"
    if isinstance(value, int | float):
        return f"{figures(value, place.decimals, exactly=exactly)} {shown(place.unit or '')}".rstrip()
    return str(value)


def figures(value: float, decimals: int, *, exactly: bool = False) -> str:
    """A number with so many decimals, or with up to four more where it has them."""
    if not exactly:
        return f"{value:.{decimals}f}"
    whole, _, part = f"{value:.{decimals + 4}f}".partition(".")
    part = part[:decimals] + part[decimals:].rstrip("0")
    return f"{whole}.{part}" if part else whole


def _said(cell: Cell | None) -> str:
    if cell is None or (cell.value is None and cell.error is None and cell.formula is None):
        return "nothing"
    if cell.error is not None:
        return cell.error
    if cell.formula is not None and cell.value is None:
        return f"={cell.formula}"
    return f"{cell.value:.15g}" if isinstance(cell.value, float) else str(cell.value)


def _about(code: str, place: Place, located: Located, **words: object) -> Finding:
    sheet, cell = located.shown_at(place)
    return finding(code, sheet=sheet, cell=cell, key=place.key, label=place.label, **words)

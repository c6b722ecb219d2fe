"""What the book was given against what stands there now: formulas, figures, printed words, shown results."""

from __future__ import annotations

from collections.abc import Mapping

from builder.findings import Finding, finding
from builder.layout import Layout, Place, SheetPlan, Text
from builder.locating import Located, plain
from builder.reader import Cell, address_of
from builder.reader.canonical import canonical, references
from builder.reader.syntax import Tree
from builder.reckoning import Fault
from builder.units import shown

TOLERANCE = 1e-9
GROUPED = {"+": "+-", "*": "*/"}


def compare(layout: Layout, located: Located, values: Mapping[str, object]) -> tuple[list[Finding], set[str]]:
    """Return what was altered in formulas, figures and printed words, and the keys of the cells altered."""
    found: list[Finding] = []
    altered: set[str] = set()
    gone = {place.key for place in layout.places.values() if place.key not in located.spots}
    touched = gone | located.strayed
    lost = {(layout.places[key].at.sheet, layout.places[key].at.row, layout.places[key].at.column) for key in touched}
    for place in layout.places.values():
        if place.key in gone or place.role == "reading":
            continue
        cell = located.cell(place.key)
        one = _given(place, cell, located) if place.role == "given" else _formula(layout, place, cell, located, values, lost)
        if one is not None:
            found.append(one)
            altered.add(place.key)
    return found + _words(layout, located), altered | touched


def _given(place: Place, cell: Cell | None, located: Located) -> Finding | None:
    now = None if cell is None or cell.formula is not None or cell.error else cell.value
    if same(now, place.value):
        return None
    code = "identity-differs" if place.key == "job.identity" else "given-changed"
    return _about(code, place, located, found=_said(cell), expected=spoken(place.value, place))


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
        return None  # it reads what was deleted or moved away: that is the finding
    here = located.sheets[place.at.sheet] or place.at.sheet
    if levelled(canonical(cell.formula, here)) == levelled(canonical(expected, place.at.sheet, located.moved)):
        return None
    return _about("formula-edited", place, located, found=cell.formula, formula=expected)


def levelled(tree: Tree) -> Tree:
    """A formula's tree with sums and products taken from left to right: some programs drop brackets that only group them.

    >>> levelled(canonical("A1+(B1-C1)", "Bores")) == levelled(canonical("A1+B1-C1", "Bores"))
    True
    """
    tree = tuple([levelled(branch) if type(branch) is tuple else branch for branch in tree])
    if len(tree) == 3 and tree[0] in GROUPED and type(tree[2]) is tuple and tree[2][0] in GROUPED[tree[0]]:
        mark, first, second = tree[2]
        return (mark, levelled((tree[0], tree[1], first)), second)
    return tree


def _words(layout: Layout, located: Located) -> list[Finding]:
    """Printed words on the sheets where nothing was moved."""
    found = []
    touched = {name for name in layout.plans if not _in_place(name, located)}
    for name, plan in layout.plans.items():
        now = located.sheets[name]
        if now is None or name in touched:
            continue
        cells = located.book.sheets[now].cells
        changed: list[tuple[Text, str]] = []
        for text in plan.texts:
            cell = cells.get((text.at.row, text.at.column))
            shown = plain(None if cell is None else cell.value)
            if text.words and shown != plain(text.words):
                changed.append((text, shown))
        exchanged = _exchanged(plan, changed)
        found += [_rows_exchanged(exchanged, now)] if exchanged else []
        found += [_changed(text, now, shown) for text, shown in changed if (text, shown) not in exchanged]
    return found


def _exchanged(plan: SheetPlan, changed: list[tuple[Text, str]]) -> list[tuple[Text, str]]:
    """The rows and columns that now bear the words of another one, as after sorting."""
    words = {style: {plain(text.words) for text in plan.texts if text.style == style} for style in ("row", "heading")}
    return [(text, shown) for text, shown in changed if shown and shown in words.get(text.style, ())]


def _rows_exchanged(exchanged: list[tuple[Text, str]], sheet: str) -> Finding:
    text, shown = exchanged[0]
    cell = address_of(text.at.row, text.at.column)
    return finding("words-exchanged", sheet=sheet, cell=cell, count=len(exchanged), found=shown, expected=plain(text.words))


def _in_place(sheet: str, located: Located) -> bool:
    lines = (located.rows.get(sheet, {}), located.columns.get(sheet, {}))
    return all(old == new for one in lines for old, new in one.items())


def _changed(text: Text, sheet: str, shown: str) -> Finding:
    unit = text.words if text.style == "unit" else text.words.partition("\n")[2] if text.style == "heading" else ""
    if text.style == "identity":
        return finding("identity-differs", sheet=sheet, cell=address_of(text.at.row, text.at.column), label="the printed line",
                       found=" ".join(str(shown or "nothing").split()), expected=text.words)  # fmt: skip
    code = "unit-changed" if unit and shown.split()[-len(unit.split()) :] != unit.split() else "label-changed"
    return finding(
        code, sheet=sheet, cell=address_of(text.at.row, text.at.column), found=shown or "nothing", expected=plain(text.words)
    )


def stale(layout: Layout, located: Located, values: Mapping[str, object], apart_from: set[str]) -> list[Finding]:
    """Return one finding for all results that show something else than the readings give, one for all without any."""
    wrong: list[tuple[Place, bool]] = []
    for place in layout.places.values():
        if place.role not in {"result", "verdict"} or place.key in apart_from:
            continue
        cell = located.cell(place.key)
        value = values[place.key]
        if cell is None or shows(cell, value):
            continue
        wrong.append((place, cell.value is None and cell.error is None))
    all_missing = all(missing for _, missing in wrong)  # where one is old, one that shows nothing was blank and is old too
    old, missing = [place for place, _ in wrong if not all_missing], [place for place, _ in wrong if all_missing]
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

"""What the sheets do by themselves, against what they were given: colours that follow the
verdicts, and what the cells of readings ask for.

A program that drops all of them is told for information; a rule changed, or one more that touches a
verdict, is not.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import Any

from datumbook.messages.findings import Finding, finding
from datumbook.readers import SheetFound, address_of
from datumbook.readers.looks import Look, colour
from datumbook.readers.number_formats import decimals_shown
from datumbook.readers.rules import ColourRule, EntryRule, Within
from datumbook.validator.locate.location import Located, plain
from datumbook.validator.locate.moved_lines import RowColumn
from datumbook.workbook.entry_rules import entry_rule
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place, SheetPlan
from datumbook.workbook.styles import VERDICT_STYLES, says_verdict

KINDS_IN_FILES = {"integer": "whole"}
OWN_COLOURS = {
    word: (colour(look.get("font_color", "")), colour(look.get("bg_color", "")))
    for word, look in VERDICT_STYLES.items()
}


@dataclass
class _SheetNow:
    """One sheet of the book as it is now: its verdicts, all its cells, and the words whose colour
    each verdict has.
    """

    sheet: SheetFound
    places: dict[RowColumn, Place]
    printed: set[RowColumn]
    covered: dict[str, set[RowColumn]] = field(default_factory=dict)

    @cached_property
    def verdicts(self) -> set[RowColumn]:
        """The cells that hold a verdict's word."""
        return {at for at, place in self.places.items() if says_verdict(place)}


def rules_changed(layout: Layout, located: Located) -> list[Finding]:
    """Return what became of the colours and of what the cells ask for, on sheets where nothing
    moved.
    """
    sheets = list(_sheets(layout, located))
    found: list[Finding] = []
    for one in sheets:
        found += _colours_added(one)
    bare = not any(cells for one in sheets for cells in one.covered.values())
    if bare and any(one.verdicts for one in sheets):
        found += [] if located.forms else [finding("colours-lost")]  # a form has none
    else:
        found += [said for one in sheets for said in _colours_taken(one)]
    return [*found, *_entries(layout, sheets)]


def _sheets(layout: Layout, located: Located) -> Iterator[_SheetNow]:
    places: dict[str, dict[RowColumn, Place]] = {}
    for key, spot in located.spots.items():
        places.setdefault(spot[0], {})[spot[1:]] = layout.places[key]
    for name, plan in layout.plans.items():
        now = located.sheets[name]
        if now is not None and located.in_place(name) and name not in located.unfollowed:
            yield _SheetNow(located.book.sheets[now], places.get(now, {}), _printed(plan))


def _printed(plan: SheetPlan) -> set[RowColumn]:
    return {(text.at.row, text.at.column) for text in plan.texts if text.words}


# --- colours


def _colours_added(one: _SheetNow) -> Iterator[Finding]:
    """The rules that are not the book's own, the first of each weight; its own are counted."""
    within, verdicts = Within([*one.places, *one.printed]), one.verdicts
    told: set[str] = set()
    for rule in one.sheet.colours:
        over = set(within.of(rule.areas))
        if not over:
            continue
        if _own(rule):
            one.covered.setdefault(rule.word, set()).update(over & verdicts)
            continue
        why = _misleads(rule, one, over, verdicts)
        code = "colours-changed" if why else "colours-added"
        if code not in told:
            told.add(code)
            at = min(over & verdicts or over)
            yield _about(code, one, at, found=why or rule.test[:60])


def _own(rule: ColourRule) -> bool:
    """Say whether a rule is one of the book's: a verdict's word and its colours."""
    look = rule.look
    if rule.word not in OWN_COLOURS or look.number_format or look.struck:
        return False
    ink, ground = OWN_COLOURS[rule.word]
    return look.ink == ink and look.grounds == ((ground,) if ground else ())


def _misleads(
    rule: ColourRule, one: _SheetNow, over: set[RowColumn], verdicts: set[RowColumn]
) -> str:
    """How a strange rule misleads, "" where it does not."""
    if rule.look.number_format and decimals_shown(rule.look.number_format) is None:
        return f"a rule ({rule.test[:60]}) shows other words here than stand in the cell"
    if over & verdicts:
        return f"a rule that is not the book's ({rule.test[:60]}) colours this verdict"
    cells = one.sheet.cells
    hidden = (
        how
        for at in sorted(over)
        if at in cells and (how := _over(rule.look, cells[at].look).hides)
    )
    how = next(hidden, "")
    return f"a rule ({rule.test[:60]}) hides what stands here: {how}" if how else ""


def _over(rule: Look, cell: Look) -> Look:
    return cell._replace(
        ink=rule.ink or cell.ink,
        grounds=rule.grounds or cell.grounds,
        size=min(rule.size, cell.size),
        struck=rule.struck or cell.struck,
    )


def _colours_taken(one: _SheetNow) -> Iterator[Finding]:
    """The verdicts that have lost their colours while others have them."""
    verdicts = one.verdicts
    bare = {word: verdicts - one.covered.get(word, set()) for word in OWN_COLOURS}
    lost = {word: cells for word, cells in bare.items() if cells}
    if lost:
        first = min(at for cells in lost.values() for at in cells)
        count = len(set[RowColumn]().union(*lost.values()))
        said = f"{count} verdict(s) have lost their colour for {', '.join(lost)}"
        yield _about("colours-changed", one, first, found=said)


# --- what the cells ask for


def _entries(layout: Layout, sheets: list[_SheetNow]) -> Iterator[Finding]:
    lost: list[tuple[_SheetNow, RowColumn]] = []
    own: set[EntryRule] = set()
    copied: dict[EntryRule, bool] = {}
    for one in sheets:
        found, changed = _asked(one), 0
        for at, place in sorted(one.places.items()):
            rule = found.get(at)
            if place.role != "reading":
                if rule is not None and not rule.says_nothing:
                    changed += 1
                    if changed == 1:
                        yield _rule_changed(one, at, rule, "nothing")
                continue
            given = _given(place)
            if rule is None or rule.says_nothing or _only_words_left(rule, given):
                lost.append((one, at))
            elif not _same(rule, given):
                own = own or {_given(each) for each in layout.readings()}
                if rule not in copied:
                    copied[rule] = any(_same(rule, other) for other in own)
                if copied[rule]:
                    lost.append((one, at))  # copied with a reading from elsewhere
                    continue
                changed += 1
                if changed == 1:
                    yield _rule_changed(one, at, rule, _in_words(given))
    if lost:
        yield _about("entry-rules-lost", *lost[0], count=len(lost))


def _asked(one: _SheetNow) -> dict[RowColumn, EntryRule]:
    within, found = Within([*one.places]), dict[RowColumn, EntryRule]()
    for areas, rule in one.sheet.entries:
        for at in within.of(areas):
            if at not in found or found[at].says_nothing:
                found[at] = rule
    return found


def _rule_changed(one: _SheetNow, at: RowColumn, rule: EntryRule, expected: str) -> Finding:
    return _about("entry-rule-changed", one, at, found=_in_words(rule), expected=expected)


def _in_words(rule: EntryRule) -> str:
    ends = " and ".join(end[:60] for end in rule.ends)
    prompt = f" “{rule.prompt[1][:80]}”" if rule.prompt[1] else ""
    return f"{rule.kind[:40]} {ends}".strip() + prompt


def _given(place: Place) -> EntryRule:
    return _settled(tuple(sorted(_as_text(entry_rule(place)).items())))


def _as_text(rule: dict[str, Any]) -> dict[str, str]:
    source = {"source": f'"{",".join(rule["source"])}"'} if "source" in rule else {}
    return {name: str(said) for name, said in (rule | source).items()}


@lru_cache(maxsize=16_384)
def _settled(items: tuple[tuple[str, str], ...]) -> EntryRule:
    rule = dict(items)
    kind = KINDS_IN_FILES.get(rule["validate"], rule["validate"])
    ends: tuple[str, ...] = (rule["source"],) if kind == "list" else ()
    if "minimum" in rule:
        ends = (rule["minimum"], rule["maximum"])
    return EntryRule(
        kind,
        ends,
        (rule["input_title"], rule["input_message"]),
        (rule.get("error_title", ""), rule.get("error_message", "")),
    )


def _same(found: EntryRule, given: EntryRule) -> bool:
    """Say whether two rules ask and say the same; words that were dropped do not count."""
    return (
        found.kind == given.kind
        and (found.kind == "any" or _same_ends(found.ends, given.ends))
        and _says_the_same(found, given)
    )


def _only_words_left(found: EntryRule, given: EntryRule) -> bool:
    """Say whether a program kept what a rule says and dropped what it asks for, as some do with
    lists.
    """
    return found.kind == "any" != given.kind and _says_the_same(found, given)


def _says_the_same(found: EntryRule, given: EntryRule) -> bool:
    return all(
        not said or plain(said) == plain(wanted)
        for now, was in ((found.prompt, given.prompt), (found.warning, given.warning))
        for said, wanted in zip(now, was, strict=True)
    )


def _same_ends(found: tuple[str, ...], given: tuple[str, ...]) -> bool:
    return len(found) == len(given) and all(map(_same_end, found, given))


def _same_end(found: str, given: str) -> bool:
    if found == given or _items(found) == _items(given) != []:
        return True
    try:
        one, two = float(found), float(given)
    except ValueError:
        return False
    return abs(one - two) <= 1e-9 * max(1.0, abs(two))


def _items(text: str) -> list[str]:
    """The words of a list, which a comma parts wherever it stands; none of another text."""
    listed = text.startswith('"') and text.endswith('"')
    return [item.strip() for item in text[1:-1].split(",")] if listed else []


def _about(code: str, one: _SheetNow, at: RowColumn, **words: object) -> Finding:
    place = one.places.get(at)
    return finding(
        code,
        sheet=one.sheet.name,
        cell=address_of(*at),
        key=place.key if place else "",
        label=place.label if place else "",
        **words,
    )

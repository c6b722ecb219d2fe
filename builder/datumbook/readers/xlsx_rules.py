"""Conditional formats and data validations of .xlsx. Source: ECMA-376 part 1, 18.3.1.10,
18.3.1.18, 18.3.1.32 and 18.3.1.33, and [MS-XLSX] 2.4 for those kept in extensions (from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.readers.looks import PLAIN_LOOK, Look
from datumbook.readers.markup import Element, truth, whole
from datumbook.readers.rules import CellArea, ColourRule, EntryRule, areas_of
from datumbook.readers.xlsx_styles import MAIN, XlsxStyles

EXTENDED = "http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"
_FORMULAS = "http://schemas.microsoft.com/office/excel/2006/main"
_TEXT = f"{{{_FORMULAS}}}f"
_KIND_OF_RULE = {"": "any", "none": "any"}
_COMPARED_BY = {
    "equal": "=",
    "notEqual": "<>",
    "greaterThan": ">",
    "lessThan": "<",
    "greaterThanOrEqual": ">=",
    "lessThanOrEqual": "<=",
}
COLOUR_TAGS = [f"{{{space}}}conditionalFormatting" for space in (MAIN, EXTENDED)]
ENTRY_TAGS = [f"{{{space}}}dataValidation" for space in (MAIN, EXTENDED)]


def colour_rules(element: Element, styles: XlsxStyles) -> Iterator[ColourRule]:
    """Yield the rules of one conditional format."""
    areas = _areas(element)
    for rule in element:
        if rule.tag.endswith("cfRule"):
            yield ColourRule(areas, _test(rule), _look(rule, styles))


def entry_rule(element: Element) -> tuple[tuple[CellArea, ...], EntryRule]:
    """Return where a data validation holds, and what it is."""
    kind = element.get("type", "")
    ends = tuple(formulas(element))
    kind = _KIND_OF_RULE.get(kind, kind)
    operator = element.get("operator", "between")
    if kind in ("list", "any", "custom"):
        operator = "between"
    if operator not in ("between", "notBetween") or kind in ("list", "any", "custom"):
        ends = ends[:1] if kind != "any" else ()
    shown = truth(element.get("showInputMessage"))
    prompt = (element.get("promptTitle", ""), element.get("prompt", "")) if shown else ("", "")
    warned = truth(element.get("showErrorMessage"))
    warning = (element.get("errorTitle", ""), element.get("error", "")) if warned else ("", "")
    said = kind if operator == "between" else f"{kind} {operator}"
    return _areas(element), EntryRule(said, ends, prompt, warning)


def formulas(element: Element) -> Iterator[str]:
    """Yield the formulas of a rule as they are spelled."""
    for child in element.iter():
        if isinstance(child.tag, str) and child.tag.rpartition("}")[2] in (
            "formula",
            "formula1",
            "formula2",
            "f",
        ):
            text = (child.text or "").strip().removeprefix("=")
            if text:
                yield text


def _areas(element: Element) -> tuple[CellArea, ...]:
    said = element.get("sqref") or " ".join(
        one.text or "" for one in element.iterchildren(f"{{{_FORMULAS}}}sqref")
    )
    return areas_of(said)


def _test(rule: Element) -> str:
    kind, said = rule.get("type", ""), list(formulas(rule))
    sign = _COMPARED_BY.get(rule.get("operator", ""))
    if kind == "cellIs" and sign and len(said) == 1:
        return f"{sign}{said[0]}"
    operator = rule.get("operator", "") if kind == "cellIs" else ""
    return " ".join(part for part in (kind, operator, *said) if part)


def _look(rule: Element, styles: XlsxStyles) -> Look:
    for own in rule.iterchildren(f"{{{EXTENDED}}}dxf"):
        return styles.over_of(own)
    number = whole(rule.get("dxfId", ""), len(styles.over))
    return (
        styles.over[number] if number < len(styles.over) else PLAIN_LOOK._replace(number_format="")
    )

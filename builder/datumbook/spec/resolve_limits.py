"""Limits as a drawing has them, in one text: "82.000 .. 82.018 mm", "<= 0.040 mm", "14.250 ± 0.002
in", "82 +0.018/-0 mm"; and the source that holds for all of a file or a section.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from pydantic import BaseModel

from datumbook.messages.refusals import shown
from datumbook.numbers.quantities import QuantityFault, read_quantity
from datumbook.spec.drafts import Draft, Stated, parts_of
from datumbook.spec.limits import Limit
from datumbook.spec.positions import Path

END = re.compile(r"\s*(?:(<=|=<|≤)|(>=|=>|≥))\s*(.+)")
BETWEEN_ENDS = re.compile(r"(.+?)\s*(?:\.\.\.?|…)\s*(.+)")
EITHER_WAY = re.compile(r"(.*?)\s*(?:±|\+ ?/ ?[-−]|\+[-−])\s*(.+)")
SIGNED = r"[+−-](?:[0-9]+/[0-9]+|[0-9]*\.?[0-9]+)"
UNIT_BEHIND = r"(?:\s*([^\s0-9+−/.,-][^\s+−/]*))?"
ONE_WAY = re.compile(
    rf"(.*?[^\s+−-])(?:\s+|(?=\+))({SIGNED}|0(?=\s*/)){UNIT_BEHIND}"
    rf"(?:\s*/\s*|\s+)?({SIGNED}|0)?{UNIT_BEHIND}\s*"
)
LARGEST_MINUS = Fraction(1, 10)  # of its size; a range from high to low is written like it
WORD = re.compile(r"[A-Za-zµμ°\"'”″′’]+\s*$")
FORMS_AS_TEXT = (
    '"82.000 .. 82.018 mm" · "<= 0.040 mm" · ">= 5.0 mm" · "14.250 ± 0.002 in" · '
    '"82.000 +0.018/-0 mm" · "± 0.05 mm"'
)


def limits_in_full(draft: Draft, model: type[BaseModel]) -> None:
    """Write every limit of a draft as a table with its source, and give each table that must name
    its source the one stated above it.
    """
    _in_full(draft, (), model, draft.document, None)


def _in_full(draft: Draft, path: Path, model: type[BaseModel], given: Any, source: Any) -> None:
    if isinstance(given, list):
        for at, entry in enumerate(given):
            _in_full(draft, (*path, at), model, entry, source)
    elif issubclass(model, Limit):
        _one_limit(draft, path, given, source)
    elif isinstance(given, dict):
        source = _source_of(draft, path, model, given, source)
        for name, part in parts_of(model):
            if name in given:
                _in_full(draft, (*path, name), part, given[name], source)


def _source_of(draft: Draft, path: Path, model: type[BaseModel], given: Stated, source: Any) -> Any:
    """The source that holds in a table: its own, which goes to what stands below it, else that of
    the table above.
    """
    own = model.model_fields.get("source")
    if "source" in given:
        source = given["source"]
        if not isinstance(source, str) or not source.strip():
            draft.refuse(
                (*path, "source"),
                "empty",
                shown(source) or '""',
                description="where the limits come from, in words",
            )
        if own is None:
            del given["source"]
    elif own is not None and own.is_required() and source is not None:
        given["source"] = source
    return source


def _one_limit(draft: Draft, path: Path, given: Any, source: Any) -> None:
    table = given
    if isinstance(given, dict) and isinstance(given.get("value"), str):
        table = {key: value for key, value in given.items() if key != "value"}
        ends = _ends(draft, (*path, "value"), given["value"])
    elif isinstance(given, str):
        table, ends = {}, _ends(draft, path, given)
    else:
        ends = {}
    if isinstance(table, dict):
        if "source" not in table and source is not None:
            table["source"] = source
        if table is not given:
            draft.set(path, {**ends, **table})


def _ends(draft: Draft, path: Path, text: str) -> dict[str, str]:
    try:
        return limit_of(text)
    except QuantityFault as fault:
        draft.refuse(path, "limit-text", shown(text), FORMS_AS_TEXT, because=fault.sentence)
    except ValueError:
        draft.refuse(path, "limit-text", shown(text), FORMS_AS_TEXT, because=_meant(text))
    return {"at_most": "1 mm"}  # a stand-in, so that nothing is told twice


def _meant(text: str) -> str:
    """What a text that is no limit may have been meant to be."""
    if re.search(r"[0-9] ?,", text):
        return "A size has a decimal point, no comma."
    if ONE_WAY.fullmatch(text):
        return "A tolerance as large as that, or two of different units, is none."
    try:
        size = read_quantity(text).text
    except QuantityFault:
        return "It is none of the forms of a limit."
    return f'One size alone has no limits: "<= {size}", ">= {size}", "{size} ± …"?'


def limit_of(text: str) -> dict[str, str]:
    """The ends of a limit written as one text, exact, as a table has them; ValueError where it is
    none, QuantityFault where a tolerance cannot be added.

    >>> limit_of("82.000 .. 82.018 mm")
    {'from': '82.000 mm', 'to': '82.018 mm'}
    >>> limit_of("82 +0.018 mm")
    {'nominal': '82 mm', 'plus': '0.018 mm', 'minus': '0 mm'}
    >>> limit_of("60 +0.05/+0.02 mm")
    {'from': '60.02 mm', 'to': '60.05 mm'}
    """
    if found := END.fullmatch(text):
        return {"at_most" if found[1] else "at_least": found[3].strip()}
    if found := BETWEEN_ENDS.fullmatch(text):
        low, high = _in_one_unit(found[1], found[2])
        return {"from": low, "to": high}
    if found := EITHER_WAY.fullmatch(text):
        if not found[1].strip():
            return {"from": f"-{found[2].strip()}", "to": found[2].strip()}
        nominal, width = _in_one_unit(found[1], found[2])
        return _toleranced(nominal, f"+{width}", f"-{width}")
    if found := ONE_WAY.fullmatch(text):
        return _one_way(*found.groups())
    raise ValueError(text)


def _in_one_unit(*sizes: str, last: str = "") -> list[str]:
    """Sizes of which the last may name the unit of all."""
    word = last or (WORD.search(sizes[-1]) or [""])[0].strip()
    return [
        size.strip() if WORD.search(size) else f"{size.strip()} {word}".strip() for size in sizes
    ]


def _one_way(
    size: str, first: str, first_unit: str | None, second: str | None, second_unit: str | None
) -> dict[str, str]:
    """A size with a tolerance to one side, or with two that differ."""
    if first_unit and second_unit and first_unit != second_unit:
        raise ValueError("deviations in two units: which one the size has is not said")
    bare_minus = second is None and first[0] in "-−"
    unit = second_unit or first_unit or (WORD.search(size) or [""])[0].strip()
    (nominal,) = _in_one_unit(size, last=unit)
    second = second or "0"
    turned = first[0] in "-−" and second[0] in "+0"
    upper, lower = (second, first) if turned else (first, second)
    for one in (upper, lower):
        width = read_quantity(f"{one.lstrip('+-−')} {first_unit or unit}", "[length]")
        most = abs(read_quantity(nominal, "[length]").exactly("mm"))
        most *= LARGEST_MINUS if bare_minus else 1
        if width.exactly("mm") >= most > 0:
            raise ValueError("a tolerance larger than its size: two sizes were meant")
    return _toleranced(nominal, f"{upper} {first_unit or unit}", f"{lower} {unit}")


def _toleranced(nominal: str, upper: str, lower: str) -> dict[str, str]:
    """A size with its two deviations, each with its sign, as plus and minus where it lies between
    them.
    """
    above, below = upper.replace("−", "-"), lower.replace("−", "-")
    if above[0] in "+0" and below[0] in "-0":
        return {"nominal": nominal, "plus": above.lstrip("+"), "minus": below.lstrip("-")}
    size = read_quantity(nominal, "[length]")
    ends = [size + read_quantity(one.lstrip("+"), "[length]") for one in (below, above)]
    low, high = sorted(ends, key=lambda end: end.exactly("mm"))
    return {"from": low.text, "to": high.text}

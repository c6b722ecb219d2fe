"""Heat and cold at the bench: what is taken where nothing is typed, by what a temperature is
reached, and what to mind; beyond what a shop can reach there is no answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from datumbook.calculator.equations import BenchError, plain_name
from datumbook.equations.heat_and_cold import DROPS_IN, chilling_temperature, heating_temperature
from datumbook.numbers.quantities import QuantityFault, read_quantity
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import (
    USUAL_MATERIAL,
    Means,
    WayIn,
    farthest,
    instead,
    means,
    usual,
)

WAY_OF: Mapping[str, WayIn] = {
    chilling_temperature.__name__: "cold",
    heating_temperature.__name__: "hot",
}
CODES_FIRST = "local codes and licensed practice come first"


def with_usual(name: str, arguments: Sequence[str]) -> list[str]:
    """Return the arguments typed for an equation, and the usual figures for those left out: of grey
    iron, the mean to a far temperature in proportion to the expansion where that is typed. None are
    added where the equation is asked for one of its arguments.

    >>> with_usual("chilling_temperature", ["temperature=15degC", "expansion=11e-6 1/°C"])[2:]
    ['cold_expansion=8.657e-06 1/degC', 'coldest=-196 degC']
    """
    one, typed = plain_name(name), dict(_apart(argument) for argument in arguments)
    if one in typed:
        return list(arguments)
    known = usual(one)
    if (expansion := typed.get("expansion")) is not None and known:
        share = _share(expansion, known["expansion"])
        known |= {
            it: f"{_per_degree(text) * share:.4g} 1/degC" for it, text in known.items() if _far(it)
        }
    return [*arguments, *(f"{it}={text}" for it, text in known.items() if it not in typed)]


def _apart(argument: str) -> tuple[str, str]:
    word, _, text = argument.partition("=")
    return plain_name(word), text


def _far(argument: str) -> bool:
    """Whether an argument is the mean expansion to a far temperature."""
    return argument.endswith("_expansion")


def _per_degree(text: str) -> float:
    return read_quantity(text, "1 / [temperature]").to("1/degC")


def _share(typed: str, usual_one: str) -> float:
    """How many times the usual expansion the typed one is; 1 where it is none, which is refused
    where it is read.
    """
    try:
        return _per_degree(typed) / _per_degree(usual_one)
    except QuantityFault:
        return 1.0


def reached_by(name: str, found: Any, shop: Any) -> Iterator[str]:
    """Yield the lines that go with a temperature a part is to be brought to: by what, and what to
    mind; nothing for other equations.

    found: the answer in degC, None where it lies beyond the bounds typed; shop: the shop's
    temperature. BenchError with what to do instead, where it lies beyond what a shop can reach.
    """
    way = WAY_OF.get(name)
    if way is None:
        return
    bound = farthest(way).to("degC")
    if found is None or (found < bound if way == "cold" else found > bound):
        raise BenchError(_beyond(way))
    if found >= shop if way == "cold" else found <= shop:
        yield f"  by     nothing: it goes in {DROPS_IN}"
        return
    by = next(one for one in means(way) if _reaches(one, found))
    yield f"  by     {by.words}, which reaches {by.reaches.text.replace('degC', '°C')}"
    said = [it for it in at_station("liners") if it.key == way]
    yield f"  mind   {CODES_FIRST}"
    yield from (f"         {line}" for line in (by.mind, *(it for one in said for it in one.lines)))
    yield f"  figures not typed are those of {USUAL_MATERIAL}"


def _reaches(one: Means, found: float) -> bool:
    reach = one.reaches.to("degC")
    return found >= reach if one.way == "cold" else found <= reach


def _beyond(way: WayIn) -> str:
    far = means(way)[-1]
    bound = f"{far.reaches.text.replace('degC', '°C')}, {far.words}"
    if way == "cold":
        return f"No cold in a shop shrinks it so far (the coldest is {bound}): {instead(way)}."
    return f"The block would have to be hotter than does it good (at most {bound}): {instead(way)}."

"""Heat and cold at the bench: what is taken where nothing is typed, by what a temperature is
reached, and what to mind; beyond what a shop can reach there is no answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from datumbook.calculator.equations import BenchError, plain_name
from datumbook.equations.heat_and_cold import chilling_temperature, heating_temperature
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import (
    USUAL_MATERIAL,
    Means,
    Way,
    farthest,
    instead,
    means,
    usual,
)

WAYS: Mapping[str, Way] = {
    chilling_temperature.__name__: "cold",
    heating_temperature.__name__: "hot",
}
FIRST = "local codes and licensed practice come first"


def with_usual(name: str, arguments: Sequence[str]) -> list[str]:
    """Return the arguments typed for an equation, and the usual figures for those left out; none
    are added where the equation is asked for one of its arguments.

    >>> with_usual("chilling_temperature", ["temperature=15degC", "expansion=11e-6/°C"])[2:]
    ['cold_expansion=8.5e-6 1/degC', 'coldest=-196 degC']
    """
    one = plain_name(name)
    typed = {plain_name(it.partition("=")[0]) for it in arguments}
    if one in typed:
        return list(arguments)
    return [*arguments, *(f"{it}={text}" for it, text in usual(one).items() if it not in typed)]


def reached_by(name: str, found: Any) -> Iterator[str]:
    """Yield the lines that go with a temperature a part is to be brought to: by what, and what to
    mind; nothing for other equations.

    found: the answer in degC, None where it lies beyond the bounds typed. BenchError with what to
    do instead, where it lies beyond what a shop can reach.
    """
    way = WAYS.get(name)
    if way is None:
        return
    bound = farthest(way).to("degC")
    if found is None or (found < bound if way == "cold" else found > bound):
        raise BenchError(_beyond(way))
    by = next(one for one in means(way) if _reaches(one, found))
    yield f"  by     {by.words}, which reaches {by.reaches.text.replace('degC', '°C')}"
    said = [it for it in at_station("liners") if it.key == way]
    yield f"  mind   {FIRST}"
    yield from (f"         {line}" for line in (by.mind, *(it for one in said for it in one.lines)))
    yield f"  figures not typed are those of {USUAL_MATERIAL}, and of what a shop can reach"


def _reaches(one: Means, found: float) -> bool:
    reach = one.reaches.to("degC")
    return found >= reach if one.way == "cold" else found <= reach


def _beyond(way: Way) -> str:
    far = means(way)[-1]
    bound = f"{far.reaches.text.replace('degC', '°C')}, {far.words}"
    if way == "cold":
        return (
            f"No cold that a shop has shrinks it so far (the coldest is {bound}): {instead(way)}."
        )
    return f"The block would have to be hotter than does it good (at most {bound}): {instead(way)}."

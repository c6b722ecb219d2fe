"""Heat and cold at the bench: what is taken where nothing is typed, by what a temperature is
reached, and what to mind; beyond what a shop can reach there is no answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from datumbook.calculator.equations import BenchError, equation, kind_names, plain_name
from datumbook.equations.heat_and_cold import (
    chilling_temperature,
    heating_temperature,
    temperature_on_leaving,
)
from datumbook.formulas.tracing import called
from datumbook.numbers.printing import figures
from datumbook.numbers.quantities import Quantity, QuantityFault, read_quantity
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import (
    USUAL_MATERIAL,
    Means,
    WayIn,
    farthest,
    instead,
    lost_on_the_way,
    means,
    usual,
)

WAY_OF: Mapping[str, WayIn] = {
    chilling_temperature.__name__: "cold",
    heating_temperature.__name__: "hot",
}
BOUND: Mapping[WayIn, str] = {"cold": "coldest", "hot": "hottest"}
FAR_MEAN: Mapping[WayIn, str] = {"cold": "cold_expansion", "hot": "hot_expansion"}
_A_LINER = {"liner_interference": "0.075mm", "assembly_clearance": "0.05mm"}
SAMPLES: Mapping[str, Mapping[str, str]] = {  # what one can type; the rest is taken as usual
    chilling_temperature.__name__: _A_LINER | {"outside_diameter": "86mm"},
    heating_temperature.__name__: _A_LINER | {"hole": "86mm"},
}
CODES_FIRST = "local codes and licensed practice come first"
CELSIUS, PER_DEGREE = "degC", "1/degC"


def with_usual(name: str, arguments: Sequence[str]) -> list[str]:
    """Return the arguments typed for an equation, and the usual figures for those left out: of grey
    iron, the mean to a far temperature in proportion to the expansion where that is typed, and to
    the bound that is typed. Where one argument is asked for, and it is one of these, none are
    added.

    >>> with_usual("chilling_temperature", ["temperature=15degC", "expansion=11e-6 1/°C"])[2:]
    ['cold_expansion=8.657e-06 1/degC', 'coldest=-196 degC']
    """
    one, typed = plain_name(name), dict(_apart(argument) for argument in arguments)
    known = usual(one)
    if not known:
        return list(arguments)
    lacking = [it for it in kind_names(equation(one)) if it not in typed and it != "return"]
    if one in typed and all(it in known for it in lacking):
        return list(arguments)
    if one in WAY_OF:
        far = FAR_MEAN[WAY_OF[one]]
        known |= {far: _far_mean(WAY_OF[one], typed, known)}
    return [*arguments, *(f"{it}={text}" for it, text in known.items() if it not in typed)]


def _apart(argument: str) -> tuple[str, str]:
    word, _, text = argument.partition("=")
    return plain_name(word), text


def _far_mean(way: WayIn, typed: Mapping[str, str], known: Mapping[str, str]) -> str:
    """The mean expansion to the bound typed, of a metal whose expansion is as typed: the mean runs
    straight with the temperature. As it stands in the table where nothing of that is typed, or is
    no quantity, which is refused where it is read.
    """
    if not {"expansion", "temperature", BOUND[way]} & {*typed}:
        return known[FAR_MEAN[way]]
    said = {**known, **typed}
    try:
        near, shop, bound = (
            read_quantity(said[it]).to(unit)
            for it, unit in (
                ("expansion", PER_DEGREE),
                ("temperature", CELSIUS),
                (BOUND[way], CELSIUS),
            )
        )
    except (QuantityFault, ValueError):
        return known[FAR_MEAN[way]]
    usual_near, usual_far = (
        read_quantity(known[it]).to(PER_DEGREE) for it in ("expansion", FAR_MEAN[way])
    )
    share = (bound - shop) / (farthest(way).to(CELSIUS) - shop) if shop != bound else 1.0
    return f"{near * (1 + (usual_far / usual_near - 1) * share):.4g} {PER_DEGREE}"


def hold_fit(name: str, given: Mapping[str, Any]) -> None:
    """Refuse what asks for no cold or heat, or for what is none: a liner that is loose, no room to
    drop in, a bound on the wrong side of the shop; BenchError with the remedy.
    """
    way = WAY_OF.get(name)
    if way is None:
        return
    if given["liner_interference"] < 0:
        raise BenchError(
            "liner_interference below zero is a liner smaller than its hole: it is loose, drops in "
            "as it is and does not hold. Type how much larger than its hole the liner is."
        )
    if given["assembly_clearance"] <= 0:
        raise BenchError(
            "assembly_clearance is the room it drops in with, and has to be more than nothing: "
            "without it sticks half way down. Write for example assembly_clearance=0.05mm."
        )
    bound, shop = given[BOUND[way]], given["temperature"]
    if bound >= shop if way == "cold" else bound <= shop:
        raise BenchError(
            f"{BOUND[way]} has to be {'colder' if way == 'cold' else 'hotter'} than temperature, "
            f"which is that of the shop."
        )


def hold_result(name: str, found: float) -> None:
    """Refuse to work back from a temperature that no shop reaches; BenchError with what to do."""
    way = WAY_OF.get(name)
    if way is not None and not _reaches(way, farthest(way).to(CELSIUS), found):
        raise BenchError(_beyond(way))


def reached_by(
    name: str, found: Any, given: Mapping[str, Any], said: Callable[[float], str]
) -> Iterator[str]:
    """Yield the lines that go with a temperature at which a part goes in: by what, to how many
    degrees for what is lost on the way, and what to mind; nothing for other equations.

    found: that temperature in degC, None where it lies beyond the bounds typed; given: everything
    the equation was worked with; said: a temperature in words. BenchError with what to do instead,
    where it lies beyond what a shop can reach, or beyond the bound typed.
    """
    way = WAY_OF.get(name)
    if way is None:
        return
    shop, lost = given["temperature"], lost_on_the_way().value
    wanted = _without_bound(way, given) if found is None else found
    leaving = None if wanted is None else _on_leaving(way, wanted, shop, lost)
    if leaving is None:
        raise BenchError(_beyond(way))
    by = next(one for one in means(way) if _reaches(way, one.reaches.to(CELSIUS), leaving))
    if not _reaches(way, given[BOUND[way]], leaving):
        raise BenchError(_bound_too_near(way, given[BOUND[way]], leaving, by))
    yield f"  by     {by.words}, which reaches {_degrees(by.reaches)}"
    yield f"  bring  it to {said(leaving)}: {lost.text} of the way back is lost until it is in"
    cautions = [it for it in at_station("liners") if it.key == way]
    yield f"  mind   {CODES_FIRST}"
    yield from (
        f"         {line}" for line in (by.mind, *(it for one in cautions for it in one.lines))
    )
    yield f"  figures not typed are those of {USUAL_MATERIAL}"


def _without_bound(way: WayIn, given: Mapping[str, Any]) -> float | None:
    """The temperature wanted, were everything to be had that a shop can reach."""
    far, shop, near = farthest(way).to(CELSIUS), given["temperature"], given["expansion"]
    rise = (given[FAR_MEAN[way]] - near) / (given[BOUND[way]] - shop)
    every = {**given, BOUND[way]: far, FAR_MEAN[way]: near + rise * (far - shop)}
    one = chilling_temperature if way == "cold" else heating_temperature
    found: float | None = called(one, every)
    return found


def _on_leaving(way: WayIn, wanted: float, shop: float, lost: Quantity) -> float | None:
    share, bound = lost.to(""), farthest(way).to(CELSIUS)
    found: float | None = called(
        temperature_on_leaving,
        {"wanted": wanted, "temperature": shop, "lost": share, "farthest": bound},
    )
    return found


def _reaches(way: WayIn, reach: float, leaving: float) -> bool:
    return leaving >= reach if way == "cold" else leaving <= reach


def _degrees(temperature: Quantity) -> str:
    return temperature.text.replace("degC", "°C")


def _bound_too_near(way: WayIn, bound: float, leaving: float, by: Means) -> str:
    done = "chilled" if way == "cold" else "warmed"
    return (
        f"{figures(bound, 4)} °C does not do it: it has to be {done} to {figures(leaving, 4)} °C, "
        f"with what is lost on the way; {by.words} reaches {_degrees(by.reaches)}. Leave out "
        f"{BOUND[way]} to work with that, or {instead(way)}."
    )


def _beyond(way: WayIn) -> str:
    far = means(way)[-1]
    bound = f"{_degrees(far.reaches)}, {far.words}"
    lost = f"of which {lost_on_the_way().value.text} is lost on the way"
    if way == "cold":
        return (
            f"No cold in a shop shrinks it so far (the coldest is {bound}, {lost}): {instead(way)}."
        )
    return (
        f"The block would have to be hotter than does it good (at most {bound}, {lost}): "
        f"{instead(way)}."
    )

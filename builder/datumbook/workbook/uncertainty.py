"""Uncertainty carried along: what the settings of the gauges and the single readings add to a value
(JCGM 100, law of propagation, 5.2 and F.1.2.3).

A gauge is stated with what one reading may be off by itself, and with what all readings of one
setting may be off together: zero until stated. Where only the first is stated it is one figure
for both, and the worse of all in common and all by itself is taken.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from math import isclose, sqrt
from typing import NamedTuple

from datumbook.formulas.functions import largest, missing, square_root, total
from datumbook.formulas.tracing import guarded
from datumbook.formulas.tree import Call, Formula, Number, tree
from datumbook.workbook.slopes import Cells, Coefficient, Gradient, Setting, Slope, bare, is_choice

OF_A_GAUGE = ("uncertainty", "setting", "all_told", "in_common")


def expanded_uncertainty(slope: Slope, key: str) -> Formula:
    """Return the formula of a value's expanded uncertainty, in the value's own unit."""
    layout, gradient = slope.layout, slope.of_key(key)
    if not gradient:
        return Number(0.0)
    settings: dict[Setting, Gradient] = defaultdict(dict)
    for (setting, reading), coefficient in gradient.items():
        settings[setting][setting, reading] = coefficient
    steady: dict[str, float] = defaultdict(float)  # a figure's cell: how often its square counts
    squares: list[Formula] = []
    for setting, of_setting in settings.items():
        gauge = Gauge(layout, setting)
        if (counts := gauge.counted(of_setting)) is not None:
            for name, count in counts.items():
                steady[layout.figure_of(name, setting.group)] += count
        else:
            squares.append(gauge.square(of_setting))
    stated = {key: _zero_if_blank(layout, key) for key in steady}
    if len(steady) == 1 and not squares:
        found = _weighed(sqrt(*steady.values()), *stated.values())
    else:
        parts = [_weighed(count, stated[key] ** 2) for key, count in steady.items()]
        found = tree(square_root(_summed([*parts, *squares])))  # type: ignore[arg-type]
    blank = {layout.figure_of(name, one.group) for name in OF_A_GAUGE for one in settings}
    return guarded(found, blank, layout.cell(key))


def sensitivity(slope: Slope, key: str, reading: str) -> Formula:
    """Return the formula of how much a value moves for each unit of one reading under it; the slope
    is one by reading.
    """
    layout, found = slope.layout, slope.expanded(key)
    setting = layout.setting_of(reading)
    assert setting is not None  # only readings and influences are asked for
    return guarded(tree(found.get((setting, reading), 0.0)), (), layout.cell(key))


class Gauge(NamedTuple):
    """What one setting of a gauge adds to the square of a value's uncertainty.

    With A the square of the sum of its derivatives and B the sum of their squares: A times the
    setting's figure squared and B times that of one reading squared; the larger of A and B times
    the one figure squared where there is one only.
    """

    layout: Cells
    setting: Setting

    def counted(self, gradient: Gradient) -> dict[str, float] | None:
        """How often the square of each figure counts: what A and B share all told, the rest of A in
        common, the rest of B by itself. None where a derivative depends on the readings.
        """
        together, numbers = gradient.get((self.setting, ""), 0.0), self._readings(gradient)
        each = [one for one in numbers if isinstance(one, float)]
        if not isinstance(together, float) or len(each) != len(numbers):
            return None
        of_all, apart = together**2, sum(one**2 for one in each)
        alike = apart if isclose(of_all, apart) else min(of_all, apart)
        counts = {"all_told": alike, "in_common": of_all - alike, "uncertainty": apart - alike}
        return {name: count for name, count in counts.items() if count > 1e-12 * apart}

    def square(self, gradient: Gradient) -> Formula:
        """The formula of it; where all turns on one choice, that of either branch."""
        if (counts := self.counted(gradient)) is not None:
            parts = [_weighed(count, self._figure(name) ** 2) for name, count in counts.items()]
            return _summed(parts)
        choices = {
            id(one.arguments[0]): one.arguments[0] for one in gradient.values() if is_choice(one)
        }
        if len(choices) == 1:
            (test,) = choices.values()
            then, otherwise = (self.square(_taken(gradient, branch)) for branch in (1, 2))
            return Call("IF", (test, then, otherwise))
        together, each = gradient.get((self.setting, ""), 0.0), self._readings(gradient)
        if len(each) == 1:
            return (each[0] * self._figure("all_told")) ** 2
        of_all, apart = tree(together) ** 2, _summed([tree(one**2) for one in each])
        own = self._figure("uncertainty") ** 2
        if isinstance(together, float) and not together:
            return apart * own
        setting = self.layout.cell(self.layout.figure_of("setting", self.setting.group))
        worse = tree(largest(of_all, apart)) * own  # type: ignore[arg-type]
        both = of_all * setting**2 + apart * own
        return Call("IF", (tree(missing(setting)), worse, both))  # type: ignore[arg-type]

    def _readings(self, gradient: Gradient) -> list[Coefficient]:
        return [one for (_, reading), one in gradient.items() if reading]

    def _figure(self, name: str) -> Formula:
        return _zero_if_blank(self.layout, self.layout.figure_of(name, self.setting.group))


def _zero_if_blank(layout: Cells, key: str) -> Formula:
    return tree(total(layout.cell(key)))  # type: ignore[arg-type]


def _weighed(weight: float, figure: Formula) -> Formula:
    return figure if isclose(weight, 1.0) else weight * figure


def _summed(terms: Sequence[Formula]) -> Formula:
    if not terms:
        return Number(0.0)
    return terms[0] if len(terms) == 1 else tree(total(*terms))  # type: ignore[arg-type]


def _taken(gradient: Gradient, branch: int) -> Gradient:
    """The gradient where a choice has been made; what counts for zero is left out."""
    found = {
        origin: bare(one.arguments[branch]) if is_choice(one) else one
        for origin, one in gradient.items()
    }
    return {origin: one for origin, one in found.items() if not isinstance(one, float) or one}

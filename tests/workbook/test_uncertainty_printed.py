"""Uncertainty carried along, held against the printed examples of JCGM 100:2008, H.1 and H.2, in
standard uncertainties: the law is linear in them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from datumbook.formulas.functions import cosine, mean, taken_as, total
from datumbook.formulas.kinds import Angle, Ratio
from small_layout import Size, Stated, reckon_one, small, typed

OBSERVED = {  # table H.2: potential (V), current (mA) and phase (rad), read at once
    "potential": (5.007, 4.994, 5.005, 4.990, 4.999),
    "current": (19.663, 19.639, 19.640, 19.685, 19.678),
    "phase": (1.0456, 1.0438, 1.0468, 1.0428, 1.0433),
}


def observed(name: str) -> Callable[..., Any]:
    """The mean of five readings; `sets` are how far each set is off, one uncertain number for the
    three quantities read in it.
    """
    readings = OBSERVED[name]
    centre, share = math.fsum(readings) / 5, math.sqrt(5 * 4)

    def mean_of_sets(*sets: Ratio) -> Ratio:
        off = ((one - centre) / share * this for one, this in zip(readings, sets, strict=True))
        return total(centre, *off)

    return mean_of_sets


def resistance(potential: Ratio, current: Ratio, phase: Ratio) -> Ratio:
    return potential / (current / 1000) * cosine(taken_as(phase, Angle))


def reactance(potential: Ratio, current: Ratio, phase: Ratio) -> Ratio:
    return potential / (current / 1000) * cosine(taken_as(phase - math.pi / 2, Angle))


def impedance(potential: Ratio, current: Ratio) -> Ratio:
    return potential / (current / 1000)


def test_resistance_and_reactance_measured_at_once_have_the_printed_uncertainty() -> None:
    # JCGM 100:2008, H.2, tables H.3 and H.4: the three are correlated, -0.36, 0.86 and -0.65
    sets = {f"set{place}": Size(0.0, "", "bores", f"set {place}") for place in range(5)}
    stated = {"bores": Stated("", 1.0)}
    means = {
        name: (observed(name), "", {"sets": [f"of.{one}" for one in sets]}) for name in OBSERVED
    }
    given_each = {name: f"of.{name}" for name in OBSERVED}
    worked = {
        "resistance": (resistance, "", given_each),
        "reactance": (reactance, "", given_each),
        "impedance": (impedance, "", {name: f"of.{name}" for name in ("potential", "current")}),
    }
    layout, readings = small(means | worked, sets, stated), typed(sets, stated)
    printed = {
        "potential": (4.9990, 0.0032, 1e-4),
        "current": (19.6610, 0.0095, 1e-4),
        "phase": (1.04446, 0.00075, 1e-5),
        "resistance": (127.732, 0.071, 1e-3),
        "reactance": (219.847, 0.295, 1e-3),
        "impedance": (254.260, 0.236, 1e-3),
    }
    for name, (value, uncertainty, step) in printed.items():
        assert reckon_one(layout, f"of.{name}", readings) == pytest.approx(value, abs=step / 2)
        found = reckon_one(layout, f"of.{name}_uncertainty", readings)
        # the reactance's is 0.2956, printed without its last figure
        assert found == pytest.approx(uncertainty, abs=step * (0.6 if name == "reactance" else 0.5))


def end_gauge(
    standard: Ratio,
    unlike_expansion: Ratio,
    warmth: Ratio,
    expansion: Ratio,
    unlike_warmth: Ratio,
    *differences: Ratio,
) -> Ratio:
    unlike = unlike_expansion * warmth + expansion * unlike_warmth
    return standard + mean(*differences) - standard * unlike


def test_an_end_gauge_has_the_printed_uncertainty() -> None:
    # JCGM 100:2008, H.1: in nm; 13 of one of five differences, and 3.9 and 6.7 of the comparator,
    # which all five have in common; 9.7 nm together, 32 nm of the whole
    standard = {
        "standard": (Size(50.000623e6, "", "bores"), Stated("", 25.0)),
        "unlike_expansion": (Size(0.0, "", "lands"), Stated("", 0.58e-6)),
        "warmth": (Size(-0.1, "", "heights"), Stated("", 0.41)),
        "expansion": (Size(11.5e-6, "", "walls"), Stated("", 1.2e-6)),
        "unlike_warmth": (Size(0.0, "", "cam"), Stated("", 0.029)),
    }
    sizes = {name: size for name, (size, _) in standard.items()}
    stated = {size.group: one for size, one in standard.values()}
    stated["gaps"] = Stated("", 13.0, math.hypot(3.9, 6.7))
    differences = {f"d{place}": Size(215.0, "", "gaps") for place in range(5)}
    sizes |= differences
    read = [f"of.{name}" for name in differences]
    found = small(
        {
            "difference": (averaged_ratios, "", {"sizes": read}),
            "gauge": (
                end_gauge,
                "",
                {name: f"of.{name}" for name in standard} | {"differences": read},
            ),
        },
        sizes,
        stated,
    )
    readings = typed(sizes, stated)
    assert reckon_one(found, "of.gauge", readings) == pytest.approx(50.000838e6, abs=0.5)
    assert reckon_one(found, "of.difference_uncertainty", readings) == pytest.approx(9.7, abs=0.05)
    assert reckon_one(found, "of.gauge_uncertainty", readings) == pytest.approx(32.0, abs=0.5)
    # and to one more digit, worked by hand: the root of 25² + 9.7² + 2.9² + 16.6²
    assert reckon_one(found, "of.gauge_uncertainty", readings) == pytest.approx(31.7, abs=0.05)


def averaged_ratios(*sizes: Ratio) -> Ratio:
    return mean(*sizes)

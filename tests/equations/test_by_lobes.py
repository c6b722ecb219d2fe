"""A bore with lobes, read in one direction after the other.

Source: geometry; the sizes are invented.
"""

from __future__ import annotations

import numpy as np
import pytest

from datumbook.equations import bores
from witnesses import witness


@witness(bores.out_of_round_all, by="simulation")
def test_lobes_of_a_bore_between_two_points() -> None:
    def read(lobes: int, turned: float) -> float:
        wall = [41.0 + 0.01 * np.cos(lobes * (turned + half)) for half in (0, np.pi)]
        return float(sum(wall))

    for lobes, shown in ((4, 0.04), (2, 0.04), (3, 0.0)):
        sizes = [read(lobes, np.radians(turned)) for turned in (0, 45, 90, 135)]
        found = bores.out_of_round_all(*sizes)
        assert found == pytest.approx(shown, abs=1e-9)
        assert found == pytest.approx(np.ptp(sizes), abs=1e-12)
    square = [read(4, np.radians(turned)) for turned in (0, 90)]
    assert bores.out_of_round_all(*square) == pytest.approx(0, abs=1e-9)

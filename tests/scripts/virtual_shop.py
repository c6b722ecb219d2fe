"""Print what the book's forecasts are worth: `python tests/scripts/virtual_shop.py 5000 1`, the
number of blocks of each engine and the seed. What it prints is the manual's page forecasts.md.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

SUPPORT = Path(__file__).parents[1] / "support"
sys.path.insert(0, str(SUPPORT))

import shop_trial  # noqa: E402
import shop_trial_table  # noqa: E402

ENGINES = ("orrindale_qp4", "hollowmere_v8")


def tried(name: str, lot: tuple[int, int]) -> shop_trial.Lot:
    """One lot of one engine, by its seed and its size."""
    return shop_trial.one_lot(shop_trial.trial_engine(name), *lot)


def page(count: int, seed: int) -> Iterator[str]:
    """The lines of the page."""
    yield (SUPPORT / "shop_trial.md").read_text("utf-8")
    with ProcessPoolExecutor(2) as pool:
        for name in ENGINES:
            engine = shop_trial.trial_engine(name)
            lots = list(pool.map(partial(tried, name), shop_trial.lots_of(count, seed)))
            yield f"## {name}: {count} blocks, seed {seed}\n"
            yield from shop_trial_table.table(engine, lots)
            yield "\nThe cut suggested, and whether it cleaned (to 0.002 mm):\n"
            yield from shop_trial_table.cleaning(engine, lots)
            yield ""


if __name__ == "__main__":
    asked = (int(one) for one in [*sys.argv[1:], "1000", "1"][:2])
    print("\n".join(page(*asked)).rstrip())

"""False alarms over honest workbooks, and the share of slips found, by simulation of real
measuring.

    python tests/support/simulation/run.py [WORKBOOKS] [FIRST_SEED]      from the project's folder;
    3000 and 0 where left out

Every workbook is a whole set of readings of the shipped engine, judged as the validator judges
entries, days and signatures. Prints how many honest workbooks drew a suspicion, rule by rule, and
for each slip how often a finding named one of the cells spoiled.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[3]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "scripts"),
]

from clean_readings import clean_readings, shipped_layout  # noqa: E402
from datumbook.cells.tables import STAGES  # noqa: E402
from datumbook.messages.findings import Finding  # noqa: E402
from datumbook.validator.judge.calendar import calendar  # noqa: E402
from datumbook.validator.judge.signed import signed  # noqa: E402
from datumbook.validator.readings.entries import read_entries  # noqa: E402
from datumbook.workbook.evaluation import reckon  # noqa: E402
from datumbook.workbook.layout import Layout  # noqa: E402
from memory_books import located  # noqa: E402
from simulation.measuring import honest  # noqa: E402
from simulation.paperwork import Written, paperwork  # noqa: E402
from simulation.slips import SLIPS, Sizes  # noqa: E402


def judged(layout: Layout, readings: Sizes) -> list[Finding]:
    """What is said of the entries of a workbook that holds these readings."""
    return read_entries(layout, located(layout, readings)).findings


def papers_judged(
    layout: Layout, readings: Sizes, papers: Written, sound: Mapping[str, object]
) -> list[Finding]:
    """What is said of the entries of a workbook with its days, names and reasons; what hangs on its
    checks is as in the values of a sound one.
    """
    book = located(layout, {**readings, **papers})
    entries = read_entries(layout, book)
    values = {**sound, **papers}
    said = (calendar(layout, book, entries, values, STAGES), signed(layout, book, values, STAGES))
    return [*entries.findings, *(one for each in said for one in each)]


def false_alarms(layout: Layout, seeds: range) -> tuple[int, Counter[str]]:
    """How many honest workbooks drew a finding, and how many by each code."""
    disturbed, codes, sound = 0, Counter[str](), reckon(layout, clean_readings(layout))
    for seed in seeds:
        chance = random.Random(seed)
        readings, papers = honest(layout, chance), paperwork(layout, chance)
        found = {one.code for one in papers_judged(layout, readings, papers, sound)}
        disturbed += bool(found)
        codes.update(found)
    return disturbed, codes


def found_of(layout: Layout, slip: str, seeds: range) -> tuple[int, int]:
    """How many workbooks had room for a slip, and in how many a finding named a cell it spoiled."""
    tried = named = 0
    for seed in seeds:
        chance = random.Random(seed)
        spoiled = SLIPS[slip](layout, honest(layout, chance), chance)
        if spoiled is not None:
            tried += 1
            named += bool({one.key for one in judged(layout, spoiled[0])} & spoiled[1])
    return tried, named


def main() -> None:
    """Measure and print."""
    count, first = (int(one) for one in (*sys.argv[1:3], *("3000", "0")[len(sys.argv) - 1 :]))
    layout = shipped_layout()
    disturbed, codes = false_alarms(layout, range(first, first + count))
    print(
        f"honest workbooks {count}, with a finding {disturbed} ({1000 * disturbed / count:.2f} in "
        f"1,000): {dict(codes)}"
    )
    for slip in SLIPS:
        tried, named = found_of(layout, slip, range(first, first + max(count // 10, 50)))
        print(
            f"{slip:<32} found {named} of {tried} ({100 * named / max(tried, 1):.1f} %)", flush=True
        )


if __name__ == "__main__":
    main()

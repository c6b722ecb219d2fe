"""Two cells of a workbook changed at once: are both told, and is the book never released on that
account?

python tests/scripts/pairs.py [PAIRS] [SEED]     from the project's folder
"""

from __future__ import annotations

import random
import sys
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "scripts"),
]

from clean_readings import STALE, Told, clean_book, told  # noqa: E402
from datumbook.validator import Validation  # noqa: E402
from mutation import Judge, Mutant, judge_of, mutants  # noqa: E402


def together(judge: Judge, chosen: tuple[Mutant, ...]) -> Validation:
    """The validation of the book with all these changes."""
    kept = {(one.sheet, one.at): judge.book.sheets[one.sheet].cells[one.at] for one in chosen}
    for one in chosen:
        cells = judge.book.sheets[one.sheet].cells
        cells.pop(one.at) if one.cell is None else cells.update({one.at: one.cell})
    try:
        return judge.validated()
    finally:
        for (sheet, at), cell in kept.items():
            judge.book.sheets[sheet].cells[at] = cell


def news(judge: Judge, made: Validation) -> Told:
    """What is said more than of the sound book, apart from results that nothing recalculated."""
    more = told(made.findings) - told(judge.before.findings)
    return type(more)({one: count for one, count in more.items() if one[0] not in STALE})


def both_told(judge: Judge, pair: tuple[Mutant, Mutant]) -> tuple[bool, bool, bool] | None:
    """Whether both are told, whether something is, whether it stays unreleased; None where one
    alone is no damage.
    """
    alone = [together(judge, (one,)) for one in pair]
    if (
        any(made.verdict == "release" or not news(judge, made) for made in alone)
        or pair[0].at == pair[1].at
    ):
        return None
    made = together(judge, pair)
    said = news(judge, made)
    at_cells = [{one for one in news(judge, single) if one in said} for single in alone]
    return all(at_cells), bool(said), made.verdict != "release"


def counted(pairs: int, seed: int) -> tuple[int, int, int, int]:
    """Of so many pairs that can coexist: how many, with both told, with something told, and not
    released.
    """
    judge, chance = judge_of(clean_book()), random.Random(seed)
    everything, found = list(mutants(judge.book)), list[tuple[bool, bool, bool]]()
    while len(found) < pairs:
        one, other = chance.sample(everything, 2)
        told_of = both_told(judge, (one, other))
        if told_of is not None:
            found.append(told_of)
    return (
        len(found),
        sum(one[0] for one in found),
        sum(one[1] for one in found),
        sum(one[2] for one in found),
    )


def main() -> None:
    """Count and print."""
    pairs, seed = (int(one) for one in (*sys.argv[1:3], *("200", "1")[len(sys.argv) - 1 :]))
    tried, both, any_told, unreleased = counted(pairs, seed)
    print(f"{tried} pairs: both told {both}, something told {any_told}, not released {unreleased}")


if __name__ == "__main__":
    main()

"""Whole series that are too much alike: each way of copying holds the job until one cell says that
it was read again; readings that honest gauges bring about do not.

What chance brings about is reckoned in the module; that it is right is seen here by drawing
readings (the roads differ: one integrates, one counts). What gauges and bores do: common practice,
no source.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from pathlib import Path

import pytest

from clean_readings import shipped_layout
from datumbook.messages.findings import catalogue
from datumbook.report import told
from datumbook.validator import Validation
from datumbook.validator.readings.alike import DOUBTED, agreeing, on_one_step
from datumbook.validator.readings.entries import read_entries
from datumbook.workbook.evaluation import reckon
from judged_in_memory import ANSWER, news_of, said_of, sound_readings
from long_runs import mostly_long
from memory_books import located

Changed = Mapping[str, float | str | None]
CYLINDERS = range(1, 5)
PLACES = [
    f"{depth}.{axis}" for depth in ("top", "middle", "bottom") for axis in ("thrust", "axial")
]
WAS = [f"bores.{cylinder}.{place}" for cylinder in CYLINDERS for place in PLACES]
NOW = [f"finished_{key}" for key in WAS]
RESOLVES = "instruments.bores.resolution"


def read(key: str) -> float:
    value = sound_readings()[key]
    assert isinstance(value, float)
    return value


def pasted(first: int, second: int, table: str = "bores") -> Changed:
    return {f"{table}.{second}.{one}": read(f"{table}.{first}.{one}") for one in PLACES}


def strayed(keys: list[str], about: float, spread: float, step: float, seed: int) -> Changed:
    """Readings drawn about a size by a gauge of a step."""
    chance = random.Random(seed)
    return {key: round(round(chance.gauss(about, spread) / step) * step, 4) for key in keys}


ATTACKS: dict[str, tuple[Changed, str]] = {
    "all received typed again as finished": (
        dict(zip(NOW, map(read, WAS), strict=True)),
        "series-not-new",
    ),
    "all finished typed as received": (
        dict(zip(WAS, map(read, NOW), strict=True)),
        "series-not-new",
    ),
    "received again as finished, nothing bored, a fine gauge": (
        {**dict(zip(NOW, map(read, WAS), strict=True)), "route.bore.done": None, RESOLVES: 0.001},
        "series-not-new",
    ),
    "received again as finished, a digit written more": (
        {key: float(f"{read(one):.4f}") for key, one in zip(NOW, WAS, strict=True)},
        "series-not-new",
    ),
    "cylinder 1 under 2": (pasted(1, 2), "series-copied"),
    "cylinder 2 under 1": (pasted(2, 1), "series-copied"),
    "cylinder 1 under 4": (pasted(1, 4), "series-copied"),
    "cylinder 3 under 4": (pasted(3, 4), "series-copied"),
    "one cylinder under two others": ({**pasted(1, 2), **pasted(1, 3)}, "series-copied"),
    "one cylinder under all others": (
        {**pasted(1, 2), **pasted(1, 3), **pasted(1, 4)},
        "series-copied",
    ),
    "one finished cylinder under all others": (
        {
            **pasted(1, 2, "finished_bores"),
            **pasted(1, 3, "finished_bores"),
            **pasted(1, 4, "finished_bores"),
        },
        "series-copied",
    ),
    "two cylinders under the other two": ({**pasted(1, 2), **pasted(3, 4)}, "series-copied"),
    "all as drawn, received": (dict.fromkeys(WAS, 82.0), "series-all-one"),
    "all as drawn, received, a fine gauge": (
        {**dict.fromkeys(WAS, 82.0), RESOLVES: 0.001},
        "series-all-one",
    ),
    "all received of one size, a fine gauge": (
        {**dict.fromkeys(WAS, 82.02), RESOLVES: 0.001},
        "series-all-one",
    ),
    "all finished of one size, the gauge seen to be fine": (
        dict.fromkeys(NOW, 82.75),
        "series-all-one",
    ),
    "all finished of one size, a fine gauge stated": (
        {**dict.fromkeys(NOW, 82.756), RESOLVES: 0.001},
        "series-all-one",
    ),
    "all finished of one size but written as fractions of a step": (
        dict.fromkeys(NOW, 82.7500),
        "series-all-one",
    ),
}
HONEST: dict[str, Changed] = {
    "finished, a coarse gauge, all alike": {
        **strayed(WAS, 82.03, 0.02, 0.01, 1),
        **dict.fromkeys(NOW, 82.51),
        RESOLVES: 0.01,
    },
    "finished as decided, a coarse gauge, all alike": {
        **strayed(WAS, 82.03, 0.02, 0.01, 2),
        **dict.fromkeys(NOW, 82.5),
        RESOLVES: 0.01,
    },
    "a block that never ran, a coarse gauge": dict.fromkeys(WAS, 82.01) | {RESOLVES: 0.01},
    "one cylinder alike throughout": {f"finished_bores.2.{one}": 82.752 for one in PLACES},
    "a few alike in each": dict.fromkeys(NOW[::3], 82.752),
    "the same in three places of six": {
        f"bores.2.{one}": read(f"bores.1.{one}") for one in PLACES[:3]
    },
    "two cylinders honed alike, a coarse gauge": {
        **strayed(NOW, 82.505, 0.003, 0.01, 3),
        RESOLVES: 0.01,
    },
    "nothing finished yet": dict.fromkeys(NOW),
    "one cylinder read": dict.fromkeys(WAS[6:]),
}


@pytest.mark.parametrize("attack", mostly_long(ATTACKS, 5))
def test_a_series_that_chance_does_not_bring_about_holds_the_job(attack: str) -> None:
    changed, code = ATTACKS[attack]
    codes = {one.code for one in news_of(changed) if one.code in DOUBTED}
    assert code in codes
    assert catalogue()[code]["severity"] == "check"


@pytest.mark.parametrize("attack", mostly_long(ATTACKS, 5))
def test_one_cell_in_words_settles_it_and_a_dash_does_not(attack: str) -> None:
    changed, code = ATTACKS[attack]
    answered = {**changed, ANSWER: "read twice by A. N., the same each time"}
    assert DOUBTED.isdisjoint(one.code for one in news_of(answered))
    for none in ("\u200b", "ok"):
        codes = {one.code for one in news_of({**changed, ANSWER: none})}
        assert code in codes
        assert "reason-is-none" in codes


@pytest.mark.parametrize("shop", mostly_long(HONEST, 3))
def test_what_an_honest_gauge_brings_about_is_not_told(shop: str) -> None:
    assert DOUBTED.isdisjoint(one.code for one in news_of(HONEST[shop]))


def test_a_short_series_is_a_note_and_counted_apart() -> None:
    """Six readings of one honed cylinder under another, as chance has it once in thousands."""
    chance = random.Random(4)
    honed = {key: 82.75 + chance.randrange(6) / 1000 for key in NOW}
    again = {key: honed[key.replace(".2.", ".1.")] for key in NOW if ".2." in key}
    (one,) = [one for one in news_of({**honed, **again}) if one.code in DOUBTED]
    assert (one.code, one.severity) == ("suspect-alike", "note")


def test_readings_rounded_to_fives_are_a_note_where_the_gauge_is_stated_finer() -> None:
    fives = strayed(WAS, 82.03, 0.02, 0.005, 1) | strayed(NOW, 82.755, 0.02, 0.005, 2)
    lips = {f"bore.{cylinder}.unworn_lip": 82.005 for cylinder in CYLINDERS}
    told = {one.code: one for one in news_of({**fives, **lips, RESOLVES: 0.001})}
    assert told["suspect-coarser"].severity == "note"
    assert "0.005 mm" in told["suspect-coarser"].message
    assert "suspect-coarser" not in {
        one.code for one in news_of({**fives, **lips, RESOLVES: 0.005})
    }


def test_one_row_of_a_station_pasted_into_another_is_told() -> None:
    """The corners of one bank under the other, of an engine with two."""
    from datumbook.job import Job
    from datumbook.spec import load_spec, shipped_specs
    from datumbook.stations import lay_out

    layout = lay_out(load_spec(shipped_specs()["hollowmere_v8"]), Job())
    keys = [one.key for one in layout.readings() if one.key.startswith("left_corners.")]
    near = {one: layout.place(one).column.near.to(layout.place(one).unit) for one in keys}  # type: ignore[union-attr, arg-type]
    chance = random.Random(1)
    read_ = {key: round(size + chance.gauss(0, 0.03), 3) for key, size in near.items()}
    other = {key.replace("left_", "right_", 1): value for key, value in read_.items()}
    told = [one for one in said_of({**read_, **other}, layout) if one.code in DOUBTED]
    assert len(keys) >= 4
    assert [one.code for one in told] == ["series-copied"]
    apart = {key: round(value + chance.gauss(0, 0.03), 3) for key, value in other.items()}
    assert DOUBTED.isdisjoint(one.code for one in said_of({**read_, **apart}, layout))


@pytest.mark.parametrize("stray", [0.3, 0.5, 1.0, 2.0, 5.0])
def test_how_often_two_readings_agree_is_as_counted(stray: float) -> None:
    chance, alike, many = random.Random(7), 0, 20_000
    for _ in range(many):
        first = chance.random()
        alike += round(first) == round(first + chance.gauss(0, stray))
    assert alike / many == pytest.approx(agreeing(stray), abs=0.015)


@pytest.mark.parametrize("stray", [0.2, 0.5, 1.5, 4.0])
def test_how_often_a_reading_lies_on_its_step_is_as_counted(stray: float) -> None:
    chance, many = random.Random(8), 20_000
    inside = sum(abs(chance.gauss(0, stray)) < 0.5 for _ in range(many))
    assert inside / many == pytest.approx(on_one_step(1.0, stray), abs=0.015)


def test_what_was_doubted_and_answered_is_told_to_whoever_reads_the_report() -> None:
    layout = shipped_layout()
    typed = {**sound_readings(), **ATTACKS["cylinder 1 under 2"][0], ANSWER: "read again, A. N."}
    book = located(layout, typed)
    entries, values = read_entries(layout, book), reckon(layout, typed)
    assert [one.code for one in entries.settled] == ["series-copied"]
    made = Validation(Path("book.xlsx"), layout=layout, values=values, settled=entries.settled)
    said = "\n".join(line for _, line in told(made))
    assert "are those of cylinder 1" in said
    assert "read again, A. N." in said

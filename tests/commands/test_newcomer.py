"""The way of a newcomer: a spec by questions, a workbook, three readings typed, what the validator
says, a page of it.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from bench_typing import type_into
from command import run
from datumbook.job import Job
from datumbook.spec import load_spec
from datumbook.stations import lay_out

ANSWERS = "Ebbmouth 2\n2\n70 mm\n75 mm\nmm\n"
TYPED = {
    "bores.1.top.thrust": "70.01",
    "bores.1.top.axial": "70.3",
    "lands.front_end.width": "17,5",
}


@pytest.mark.program("libreoffice")
def test_three_readings_in_a_new_engine_are_judged_and_the_rest_is_named(tmp_path: Path) -> None:
    spec, empty, typed, page = (
        tmp_path / name for name in ("ebbmouth.toml", "empty.xlsx", "typed.xlsx", "report.html")
    )
    asked = run("spec", "new", "-o", spec, typed=ANSWERS)
    assert (asked.exit_code, spec.is_file()) == (0, True), asked.output
    made = run("generate", spec, "--block", "EB-1", "-o", empty)
    assert made.exit_code == 0, made.output

    layout = lay_out(load_spec(spec), Job("EB-1"))
    at = {key: layout.place(key).at for key in TYPED}
    type_into(empty, typed, [(at[key].sheet, at[key].cell, text) for key, text in TYPED.items()])

    told = run("validate", typed, "--report", page)
    assert told.exit_code == 1, told.output
    assert "ON HOLD" in told.output
    shown = page.read_text("utf-8")
    assert f"2 of {len(layout.wanted())} readings taken" in shown
    words = " ".join(told.output.split())
    assert "out of round" in words
    assert "0.290" in words, "what was typed was worked out: 70.3 less 70.01"
    assert "17,5" in words, "a decimal comma is no number, and is told as it was typed"
    still = [place for place in layout.wanted() if place.key not in TYPED]
    named = [
        f"<b>{place.at.cell}</b> {place.label.partition(' · ')[2]}" in shown for place in still
    ]
    assert all(named), "every reading that is missing is named"
    for key in ("bores.1.top.thrust", "bores.1.top.axial"):
        assert f"<b>{at[key].cell}</b> {layout.place(key).label.partition(' · ')[2]}" not in shown
    assert all(place.at.sheet in words for place in still)

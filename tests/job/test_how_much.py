"""How much a job is: readings and sheets of the shipped engines by their work, and that an honest
job of each work ends without a concession.

The most of each is what a shop will bear (common practice, no source); the blocks are drawn by
chance, cut and measured by tests/support/simulation/good_job.py, which knows nothing of the sheets.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import Validation, validate
from datumbook.workbook.flow import upstream
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from long_runs import mostly_long
from simulation.good_job import GoodJob

SHIPPED = "orrindale_qp4"
MOST = {  # of the shipped four-cylinder engine: cells that are wanted, sheets
    "measure": (90, 10),
    "recondition": (130, 14),
    "full": (330, 26),
}
STAGES = {"measure": "received", "recondition": "finished", "full": "finished"}


@cache
def layout(work: str, engine: str = SHIPPED) -> Layout:
    return lay_out(load_spec(shipped_specs()[engine]), Job("7 Quay", work=work))


@pytest.mark.parametrize("work", MOST)
def test_the_shipped_engine_asks_for_no_more_than_a_shop_will_bear(work: str) -> None:
    readings, sheets = MOST[work]
    assert len(layout(work).wanted()) <= readings
    assert len(layout(work).plans) <= sheets


@pytest.mark.parametrize("engine", shipped_specs())
def test_every_engine_grows_with_its_work_in_like_proportion(engine: str) -> None:
    wanted = {work: len(layout(work, engine).wanted()) for work in MOST}
    sheets = {work: len(layout(work, engine).plans) for work in MOST}
    assert wanted["measure"] < wanted["full"]
    assert wanted["recondition"] <= wanted["full"]
    assert sheets["measure"] < sheets["recondition"] <= sheets["full"] <= 26
    # a cylinder's share of the usual job is no more than that of the shipped engine
    share = {
        name: len(layout("recondition", name).wanted()) / layout("full", name).spec.engine.cylinders
        for name in (engine, SHIPPED)
    }
    alone = layout("full", engine).spec.engine.cylinders == 1
    assert alone or share[engine] <= share[SHIPPED]


@cache
def finished(work: str, seed: int, folder: Path) -> tuple[Validation, dict[str, float | str]]:
    typed = GoodJob(layout(work), seed).done()
    path = folder / f"{work}_{seed}.xlsx"
    write(layout(work), path, typed)
    return validate(path, stage=STAGES[work]), typed  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("work", "seed"), mostly_long(((work, seed) for seed in range(12) for work in MOST), 3)
)
def test_an_honest_job_ends_without_any_concession(work: str, seed: int, tmp_path: Path) -> None:
    found, typed = finished(work, seed, tmp_path)
    assert [one.message for one in found.findings if one.severity != "note"] == []
    assert found.exit_status == 0
    assert found.state == ("RELEASABLE" if work == "measure" else "RELEASED")
    assert not [key for key in typed if "conceded" in key]


@cache
def whole(work: str) -> dict[str, float | str]:
    return GoodJob(layout(work), 0).done()


@pytest.mark.parametrize(
    ("work", "nth"),
    mostly_long(((work, nth) for work in MOST for nth in range(2, MOST[work][0], 7)), 6),
)
def test_any_blank_cell_that_is_wanted_holds_the_job_and_is_named_once(
    work: str, nth: int, tmp_path: Path
) -> None:
    wanted, path = layout(work).wanted(), tmp_path / "book.xlsx"
    place = wanted[nth % len(wanted)]
    key = place.key
    write(layout(work), path, {one: said for one, said in whole(work).items() if one != key})
    found = validate(path, stage=STAGES[work])  # type: ignore[arg-type]
    missing = [one for one in found.findings if one.code == "reading-missing"]
    checks = [one for one in layout(work).checks if key in upstream(layout(work), one.verdict)]
    if all(one.superseded_by or found.values[one.verdict] == "OK" for one in checks):
        # the block was measured again since
        assert (found.exit_status, missing) == (0, [])
        return
    assert found.exit_status == 1
    assert [(one.sheet, one.cell) for one in missing] == [(place.at.sheet, place.at.cell)]

"""The blocks a harness draws: repeated by seed, with their share of every fault."""

from __future__ import annotations

import ast
import sys

import numpy as np
import pytest

from hand_made import SIZES, SUPPORT, VEE, fixed_chance
from virtual_shop.blocks import random_blocks
from virtual_shop.cutting import CuttingSheet, Shop, face_cut
from virtual_shop.gauges import Gauges, measured
from virtual_shop.intents import CLEARANCE, NOWHERE, OVERALL, blocks_with_work, without_error
from virtual_shop.line_boring import line_bored
from virtual_shop.truth import true_figures


def test_the_shop_knows_nothing_of_the_package() -> None:
    names: set[str] = set()
    for path in (SUPPORT / "virtual_shop").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            match node:
                case ast.Import():
                    names |= {one.name.split(".")[0] for one in node.names}
                case ast.ImportFrom(module=str(module)):
                    names.add(module.split(".")[0])
    assert names - set(sys.stdlib_module_names) == {"numpy", "virtual_shop"}


def test_a_seed_makes_the_same_block_again() -> None:
    first, again, other = (random_blocks(SIZES, seed, 5) for seed in (7, 7, 8))
    assert (first.faces["deck"].points() == again.faces["deck"].points()).all()
    assert (first.take([3]).banks["deck"].rod == again.banks["deck"].rod[3]).all()
    assert (first.faces["deck"].height != other.faces["deck"].height).any()


@pytest.mark.parametrize("sizes", [SIZES, VEE], ids=["in line", "vee"])
def test_every_fault_has_its_tenth_and_half_the_work_ends_near_a_limit(sizes: dict) -> None:  # type: ignore[type-arg]
    blocks, work = blocks_with_work(sizes, 11, 600, uncertainty=0.006)
    lifted = np.isfinite(work.size)
    faces = [blocks.faces[bank] for bank in blocks.banks]
    half_way = [np.full(2, (face.along[0] + face.along[-1]) / 2) for face in faces]
    raised = [
        face.height_at(x, face.corner_places[1][:2]).mean(axis=1)
        - face.corner_heights().mean(axis=1)
        for face, x in zip(faces, half_way, strict=True)
    ]
    received = true_figures(blocks)
    tenth = {
        "twist": np.abs([received[f"{bank}.twist"] for bank in blocks.banks]).mean(axis=0) > 0.01,
        "crown": np.mean(raised, axis=0) > 0.005,
        "lift": lifted & (work.front == work.rear),
        "tilted lift": lifted & (np.abs(work.front - work.rear) > 0.005),
        "worn seat": np.ptp(blocks.mandrel_axis().z - blocks.crank_line.z, axis=1) > 0.002,
    }
    assert {name: share.mean() for name, share in tenth.items() if share.mean() < 0.1} == {}

    found = true_figures(without_error(blocks, work))
    least = np.min([found[f"{bank}.clearance"].min(axis=1) for bank in blocks.banks], axis=0)
    close = work.near == CLEARANCE
    assert np.abs(least[close] - sizes["clearance_least"]).max() <= 0.012 + 1e-9
    assert least[close] - sizes["clearance_least"] == pytest.approx(work.beyond[close], abs=1e-9)
    if "bottom" in blocks.faces:
        thin = work.near == OVERALL
        over = found["overall"].min(axis=1)[thin] - sizes["overall_least"]
        assert over == pytest.approx(work.beyond[thin], abs=1e-9)
        assert thin.mean() > 0.2
    assert (work.near != NOWHERE).mean() == pytest.approx(0.5, abs=0.06)


@pytest.mark.parametrize("sizes", [SIZES, VEE], ids=["in line", "vee"])
def test_a_lot_goes_through_the_whole_shop(sizes: dict) -> None:  # type: ignore[type-arg]
    """Planned here from the true heights: work that errs ends within what the shop states."""
    blocks, work = blocks_with_work(sizes, 13, 200, uncertainty=0.006)
    chance, shop = fixed_chance(), Shop()
    assert set(measured(blocks, Gauges(), chance)) >= {f"{bank}.height" for bank in blocks.banks}
    bored = line_bored(blocks, work.boring, shop, chance)
    ideal = true_figures(without_error(blocks, work))
    for bank in blocks.banks:
        lowest = true_figures(bored.blocks)[f"{bank}.height"].argmin(axis=1)
        sheet = CuttingSheet(bank, "crank line", lowest, 0.10)
        cut = face_cut(bored.blocks, sheet, shop, chance)
        found = true_figures(cut)
        assert (found[f"{bank}.uncut"] >= -1e-9).all()
        assert np.isfinite(found[f"{bank}.clearance"]).all()
        assert not np.allclose(found[f"{bank}.height"], ideal[f"{bank}.height"])
        removed = blocks.faces[bank].height - cut.faces[bank].height
        assert removed.min() >= 0
        assert removed.max() > 0.08

"""A sound block of the demonstration engine, what may be wrong with it, and the plan for it without
a file between.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from datumbook.cells.basis import Job
from datumbook.plan import Plan, plan
from datumbook.spec import load_spec
from datumbook.stations import lay_out
from datumbook.stations.received.deck_heights import CORNERS
from datumbook.validator import Validation
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from project import SPECS
from readings_made import plausible

SPEC = SPECS / "orrindale_qp4.toml"
DECKS = [f"corners.{corner}.deck" for corner in CORNERS]


@cache
def layout() -> Layout:
    return lay_out(load_spec(SPEC), Job("SQ-17"))


def readings(**changed: object) -> dict[str, object]:
    """A sound block, no line bore; keys with dots are given with two underlines."""
    block = plausible(layout()) | dict.fromkeys(DECKS, 10.695)
    block |= {"plan.crown_metal": 0.0, "plan.tunnel_before": 2.404, "plan.tunnel_after": 2.404}
    block["instruments.heights.uncertainty"] = None
    return block | {key.replace("__", "."): value for key, value in changed.items()}


def corners(kind: str, *sizes: float) -> dict[str, object]:
    return {f"corners.{corner}.{kind}": size for corner, size in zip(CORNERS, sizes, strict=True)}


def planned(block: dict[str, object]) -> Plan:
    return plan(Validation(Path("block.xlsx"), layout=layout(), values=reckon(layout(), block)))

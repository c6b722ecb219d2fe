"""A sound block of the demonstration engine, what may be wrong with it, and the plan for it without
a file between.

The engine's tunnels are read along a line here, upwards and sideways, which the shipped spec leaves
out, and the work on a face is as good as never off, so that verdicts fall on the limits. Worked
figures in millimetres about a deck of 220.00 and an overall height of 300.00 are set into its book
a tenth as large, in inches: 0.04 mm there are 0.004 in here.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from as_asked import values_of
from datumbook.job import Job
from datumbook.planning import Plan, plan
from datumbook.spec import load_spec
from datumbook.stations import lay_out
from datumbook.stations.received.deck_heights import CORNERS
from datumbook.stations.received.faces import EDGES_OF
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout
from project import full_form
from readings_made import plausible

LINE = """
[tunnels.alignment]
places = ["20 mm", "197 mm", "374 mm"]
sideways = true
adjacent = { at_most = "0.013 mm", source = "common practice, no source" }
overall = { at_most = "0.025 mm", source = "common practice, no source" }

# The parts that go into the block"""
NEVER = "0.0000000001 mm"
CYLINDERS = ("1", "2", "3", "4")
TUNNELS = ("1", "2", "3")
STACK = 3.740 / 2 + 7.010 + 1.810  # in, from the spec
AXIS, OPPOSITE, ITSELF, NOT_CUT = "crank line", "opposite face", "the face itself", "not cut"


@cache
def layout(bar_off: str = NEVER) -> Layout:
    """The book; bar_off: what either end of the boring bar may be off in this shop."""
    path = Path(mkdtemp()) / "orrindale_qp4.toml"
    text = full_form(path.stem)
    text = text.replace("\n# The parts that go into the block", LINE, 1)
    off = {"infeed_off": NEVER, "clocking_off": NEVER, "bar_off": bar_off}
    shop = "".join(f'{name} = "{most}"\n' for name, most in off.items())
    path.write_text(text.replace("[shop]\n", f"[shop]\n{shop}", 1), "utf-8")
    return lay_out(load_spec(path), Job("SQ-17"))


def readings(**changed: object) -> dict[str, object]:
    """A sound block, no line bore, faces without a hollow, parts as drawn, nothing decided of the
    faces; keys with dots are given with two underlines.
    """
    block = plausible(layout()) | heights([10.695] * 4, [14.250] * 4) | hollows("deck")
    block |= hollows("bottom") | parts() | tunnels([61.060] * 3)
    block |= {"line_bore.line_bored": "no", "deck_cut.parallel_to": None}
    block |= {"bottom_cut.parallel_to": None}
    block |= dict.fromkeys(f"instruments.{one}.uncertainty" for one in ("heights", "parts"))
    block["instruments.flatness.uncertainty"] = None
    return block | {key.replace("__", "."): value for key, value in changed.items()}


def corners(kind: str, *sizes: float) -> dict[str, object]:
    return {f"corners.{corner}.{kind}": size for corner, size in zip(CORNERS, sizes, strict=True)}


def heights(deck: Sequence[float], overall: Sequence[float]) -> dict[str, object]:
    """Deck and overall at the four corners, and the bottom height at either end that goes with
    them.
    """
    bottom = [over - under for over, under in zip(overall, deck, strict=True)]
    ends = {"axis.front": (bottom[0] + bottom[1]) / 2, "axis.rear": (bottom[2] + bottom[3]) / 2}
    return corners("deck", *deck) | corners("overall", *overall) | ends


def worked(
    deck: Sequence[float], overall: Sequence[float], higher: float = 0.0
) -> dict[str, object]:
    """Worked figures about 220.00 and 300.00 mm, a tenth as large; both faces so much farther
    apart.
    """
    return heights(
        [10.695 + higher + (each - 220) / 10 for each in deck],
        [14.250 + higher + (each - 300) / 10 for each in overall],
    )


def hollows(face: str, **gaps: float) -> dict[str, object]:
    """The gaps under the straight-edge, by the line it lies on; none where not said."""
    across = ("front_end", "rear_end")
    found: dict[str, object] = {}
    for line in EDGES_OF:
        way = "gap_across" if line in across else "gap_along"
        found[f"{face}_flatness.{line}.{way}"] = gaps.get(line, 0.0)
        found[f"{face}_flatness.{line}.edge_lies"] = "rests on its ends"
    return found


def parts(longer_rods: float = 0.0, higher_pistons: float = 0.0) -> dict[str, object]:
    """Rods and pistons as measured, so much over the drawing."""
    found: dict[str, object] = {"gasket.gasket_thickness": 0.035}
    for cylinder in CYLINDERS:
        found[f"rods.{cylinder}.rod_length"] = 7.010 + longer_rods
        found[f"pistons.{cylinder}.compression_height"] = 1.810 + higher_pistons
    return found


def tunnels(
    upright: Sequence[float],
    across: Sequence[float] | None = None,
    centres: Sequence[float] = (0.0, 0.0, 0.0),
    sideways: Sequence[float] = (0.0, 0.0, 0.0),
) -> dict[str, object]:
    """The tunnels by their size upright, off the joint, and where their centres lie; in mm."""
    found: dict[str, object] = {}
    for at, number in enumerate(TUNNELS):
        for end in ("front", "rear"):
            found[f"tunnels.{number}.{end}.vertical"] = upright[at]
            for side in ("left", "right"):
                found[f"tunnels.{number}.{end}.{side}"] = (across or upright)[at]
        found[f"alignment.{number}.centre"] = centres[at]
        found[f"alignment.{number}.centre_sideways"] = sideways[at]
    return found


def cut(face: str, parallel_to: str, size: float | None = None) -> dict[str, object]:
    """A cut typed on one face."""
    return {f"{face}_cut.parallel_to": parallel_to, f"{face}_cut.cut": size}


def line_bored(
    finish: float | None = None,
    caps: float | None = None,
    rise: tuple[float | None, float | None] = (None, None),
) -> dict[str, object]:
    """A line bore typed, in mm."""
    return {
        "line_bore.line_bored": "yes",
        "line_bore.finish_size": finish,
        "line_bore.cap_cut": caps,
        "line_bore.rise_front": rise[0],
        "line_bore.rise_rear": rise[1],
    }


def planned(block: dict[str, object], bar_off: str = NEVER) -> Plan:
    book = layout(bar_off)
    return plan(Validation(Path("block.xlsx"), layout=book, values=values_of(book, block)))

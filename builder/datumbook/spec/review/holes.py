"""Rules about holes: what is done to them, with which tools, and what is near them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import hypot, pi

from datumbook.messages.refusals import Fault, fault_at
from datumbook.numbers.units import INCH
from datumbook.spec import Spec
from datumbook.spec.review.registry import rule
from datumbook.spec.soundness import placed_holes
from datumbook.standards.drills import all_drills, parse_drill
from datumbook.standards.threads import parse_thread

TAPS = {"start tap", "finish tap"}
LATE = (  # what is better done after what. Common practice of the trade, no source
    ("finish tap", "deburr"),
    ("start tap", "deburr"),
    ("finish tap", "probe depth"),
    ("spot-face", "drill"),
    ("finish tap", "plug"),
)
CLOSE = 1.0  # diameters of metal between two threads, at least. Common practice, no source
NUT_FACTOR = (0.08, 0.35)  # from the best lubricant to rust. Common practice, no source
BOLT_STRESSES = (20.0, 1300.0)  # MPa in a fastener as tightened, at least and at most


@rule
def tapped_undrilled(spec: Spec) -> Iterator[Fault]:
    """Holes that are tapped and never drilled, although they had no thread before."""
    for at, group in enumerate(spec.holes):
        made = {"drill", "chase", "insert drill", "insert tap"} & set(group.operations)
        if TAPS & set(group.operations) and not made and group.opened_from is None:
            yield fault_at(("holes", at, "operations"), "tapped-undrilled", group.words)


@rule
def finish_untapped(spec: Spec) -> Iterator[Fault]:
    """Holes that are drilled, and get no thread."""
    threads = {*TAPS, "chase", "insert tap", "plug"}
    for at, group in enumerate(spec.holes):
        if "drill" in group.operations and not threads & set(group.operations):
            yield fault_at(("holes", at, "operations"), "drilled-untapped", group.thread)


@rule
def late_work(spec: Spec) -> Iterator[Fault]:
    """Work that is better done after other work of the same hole."""
    for at, group in enumerate(spec.holes):
        done = group.operations
        for first, then in LATE:
            if first in done and then in done and done.index(then) < done.index(first):
                path = ("holes", at, "operations", done.index(then))
                yield fault_at(path, "better-later", then, first)


@rule
def drill_not_owned(spec: Spec) -> Iterator[Fault]:
    """Drills of a series that the shop does not own, or of a size that is in none."""
    made = {drill.name for drill in all_drills()}
    for at, group in enumerate(spec.holes):
        if group.drill is None:
            continue
        drill, path = parse_drill(group.drill), ("holes", at, "drill")
        if drill.name not in made:
            near = sorted(all_drills(), key=lambda one: abs(one.diameter_mm - drill.diameter_mm))
            names = " or ".join(one.name for one in near[:2])
            yield fault_at(path, "drill-not-made", group.drill, names)
        elif drill.system not in spec.shop.drills:
            yield fault_at(path, "drill-not-owned", group.drill, ", ".join(spec.shop.drills))


@rule
def drill_off_thread(spec: Spec) -> Iterator[Fault]:
    """Drills whose hole is so far from the limits of the thread that another thread was meant."""
    from datumbook.standards.drills import choice

    for at, group in enumerate(spec.holes):
        if group.drill is None or "drill" not in group.operations or group.drill_reason:
            continue
        thread = parse_thread(group.thread)
        found = choice(thread, parse_drill(group.drill), group.oversize_mm(spec.shop))
        if not 0.5 <= found.drill_chart_thread <= 0.95 and thread.form.charted:
            share = f"{100 * found.drill_chart_thread:.0f} %"
            path = ("holes", at, "drill")
            yield fault_at(path, "drill-off-thread", group.drill, group.thread, share=share)


@rule
def no_bottoming_tap(spec: Spec) -> Iterator[Fault]:
    """Blind holes tapped near their floor by a shop that owns no bottoming tap."""
    for group in spec.holes:
        pitch = parse_thread(group.thread).pitch_mm
        room = group.floor.to("mm") - group.thread_depth.to("mm")
        if TAPS & set(group.operations) and room < 3 * pitch and "bottoming" not in spec.shop.taps:
            yield fault_at(("shop", "taps"), "no-bottoming-tap", group.words)


@rule
def holes_close(spec: Spec) -> Iterator[Fault]:
    """Holes so near each other that little metal stands between their threads."""
    for there in placed_holes(spec).values():
        for one, other in combinations(there, 2):
            apart = hypot(one.along - other.along, one.across - other.across)
            metal, least = apart - one.radius - other.radius, CLOSE * (one.radius + other.radius)
            if metal < least:
                left = f"{metal:.2f} mm ({metal / INCH:.3f} in)"
                yield fault_at(other.path, "holes-close", other.words, one.name, left=left)


@rule
def danger_deeper(spec: Spec) -> Iterator[Fault]:
    """Danger holes with more below them than the others of their group have."""
    for at, group in enumerate(spec.holes):
        for n, danger in enumerate(group.danger):
            path = ("holes", at, "danger", n, "floor")
            if danger.floor.exactly("mm") > group.floor.exactly("mm"):
                yield fault_at(path, "danger-deeper", danger.floor.text, group.floor.text)
            elif danger.floor.exactly("mm") <= group.thread_depth.exactly("mm"):
                yield fault_at(path, "danger-in-thread", danger.floor.text, group.thread_depth.text)


@rule
def relief_swallows_thread(spec: Spec) -> Iterator[Fault]:
    """Counterbores and countersinks as deep as the thread under them."""
    for at, group in enumerate(spec.holes):
        depth = group.thread_depth
        if group.counterbore and group.counterbore.depth.exactly("mm") >= depth.exactly("mm"):
            path = ("holes", at, "counterbore", "depth")
            yield fault_at(path, "relief-swallows-thread", group.counterbore.depth.text, depth.text)
        if group.boss and group.counterbore:
            wide = group.counterbore.diameter
            if wide.exactly("mm") >= group.boss.exactly("mm"):
                path = ("holes", at, "counterbore", "diameter")
                yield fault_at(path, "wider-than-boss", wide.text, group.boss.text)


@rule
def fastener_short(spec: Spec) -> Iterator[Fault]:
    """Fasteners no longer than what they hold, and such that reach below the thread."""
    for at, group in enumerate(spec.holes):
        bolt, path = group.fastener, ("holes", at, "fastener", "length")
        if bolt is None or bolt.length is None or bolt.grip is None:
            continue
        reach = bolt.length.to("mm") - bolt.grip.to("mm")
        if reach <= 0:
            yield fault_at(path, "fastener-short", bolt.length.text, bolt.grip.text)


@rule
def torque_unlikely(spec: Spec) -> Iterator[Fault]:
    """Torques that would tear the fastener off or leave it loose whatever its surface.

    Source: force = torque / (nut factor times diameter), over the area of the thread's core.
    """
    for at, group in enumerate(spec.holes):
        if group.torque is None or group.tightening is not None:
            continue
        thread = parse_thread(group.thread)
        area = pi / 4 * (thread.major_mm - 0.9382 * thread.pitch_mm) ** 2
        most, least = (
            group.torque.to("N*m") * 1000 / (factor * thread.major_mm) / area
            for factor in NUT_FACTOR
        )
        what = "tear it off" if least > BOLT_STRESSES[1] else "leave it loose"
        if least > BOLT_STRESSES[1] or most < BOLT_STRESSES[0]:
            path = ("holes", at, "torque")
            yield fault_at(path, "torque-unlikely", group.torque.text, group.thread, what=what)


@rule
def outline_unlike(spec: Spec) -> Iterator[Fault]:
    """Outlines of a deck that are not as long as the deck, corners read beyond their face."""
    corners = spec.heights.corners if spec.heights else None
    for at, plan in enumerate(spec.outlines):
        if plan.of != "deck":
            continue
        for row in spec.rows:
            same = not plan.bank or plan.bank == row.key
            if same and abs(plan.length.to("mm") / row.deck_length.to("mm") - 1) > 0.01:
                path = ("outlines", at, "length")
                yield fault_at(path, "outline-unlike", plan.length.text, row.deck_length.text)
        if corners and corners.across.exactly("mm") > plan.width.exactly("mm"):
            across = ("heights", "corners", "across")
            yield fault_at(across, "corners-off-face", corners.across.text, plan.width.text)
        if plan.bores_across and not 0.2 <= plan.bores_across.to("mm") / plan.width.to("mm") <= 0.8:
            path = ("outlines", at, "bores_across")
            yield fault_at(path, "bores-off-deck", plan.bores_across.text, plan.width.text)

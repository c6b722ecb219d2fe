"""What may be cut: the least metal off the faces under every limit the book knows today, and the
size for the bores.

Cuts and limits are gathered from a validated book; builder/datumbook/optimise/least_metal.py weighs
them, words.py and telling.py tell them. Faces, tunnels, bores and the set-over of the bar each have
a module beside this one.
"""

from __future__ import annotations

from datumbook.messages import ExpectedError
from datumbook.optimise.least_metal import least_metal
from datumbook.plan import faces
from datumbook.plan.bores import bores
from datumbook.plan.boring import set_overs
from datumbook.plan.numbers import Numbers
from datumbook.plan.telling import plan_lines
from datumbook.plan.tunnels import tunnels
from datumbook.plan.words import Plan
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout

__all__ = ["NoBook", "Plan", "layout_of", "plan", "plan_lines"]


class NoBook(ExpectedError):  # noqa: N818  # a state of the file, not an error here
    """A workbook that cannot be read or is not one of ours; as text what is wrong and what to
    do.
    """


def layout_of(validation: Validation) -> Layout:
    """The layout of a validated book; NoBook with the validator's own sentence where the book is
    not one of ours.
    """
    if validation.layout is not None and validation.readable:
        return validation.layout
    why = next(
        (one.message for one in validation.findings if one.severity == "damage"),
        "It holds no record.",
    )
    raise NoBook(f"{validation.path.name} cannot be used here. {why}")


def plan(validation: Validation) -> Plan:
    """Work out what may be cut from what the book holds today; NoBook where it is unreadable or not
    one of ours.
    """
    work = Numbers(layout_of(validation), validation.values)
    cuts = work.stations.cuts
    shift, limits = work.number(cuts.line_bore.axis_shift.key), faces.limits(work)
    return Plan(
        block=work.layout.job.block,
        engine=work.layout.spec.engine.name,
        damaged=validation.verdict == "untrusted",
        measure=work.measure("heights"),
        axis_shift=shift,
        decks=faces.decks(work),
        whole=cuts.block is not None,
        faces=least_metal(faces.cuts(work), limits),
        restored=faces.restored(work, limits, shift),
        tunnels=tunnels(work),
        tunnel_measure=work.measure("tunnels"),
        bores=bores(work),
        set_overs=set_overs(work),
        unknown=tuple(work.unknown),
    )

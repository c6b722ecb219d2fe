"""What may be cut: what is typed is judged, then the least line bore, the least metal off the faces
and the sizes of the bores are sought under every limit the book knows today.

There is no second geometry here: an intention is typed into the book and the book works it out
(numbers.py, limits.py); builder/datumbook/optimise/ weighs what it does, words.py and the telling
modules tell it. Each piece of the work has a module beside this one.
"""

from __future__ import annotations

from datumbook.messages import ExpectedError
from datumbook.planning.bores import bores
from datumbook.planning.boring import set_overs
from datumbook.planning.faces import face_plans
from datumbook.planning.intentions import forbidden, judged
from datumbook.planning.numbers import Numbers
from datumbook.planning.telling import decision_lines, plan_lines
from datumbook.planning.tunnels import line_bore
from datumbook.planning.words import Plan
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout

__all__ = ["NoBook", "Plan", "decision_lines", "layout_of", "plan", "plan_lines"]


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
    layout = layout_of(validation)
    if layout.stations.plan is None:
        raise NoBook(
            f"{validation.path.name}: this job measures neither heights nor bores, so that there "
            "is nothing to plan; make a book with more work and carry the readings over."
        )
    work = Numbers(layout, validation.values)
    said = judged(work)
    line, typed = line_bore(work)
    after = work.typed(typed) if typed else work
    return Plan(
        block=work.layout.job.block,
        engine=work.layout.spec.engine.name,
        damaged=validation.verdict == "untrusted",
        forbidden=tuple(forbidden(work)),
        judged=tuple(said),
        line_bore=line,
        faces={one.bank: one for one in face_plans(after)},
        measure=work.measure("heights"),
        bores=bores(work),
        set_overs=set_overs(work),
        unknown=tuple(work.unknown),
    )

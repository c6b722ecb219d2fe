"""What other programs are told of what may be cut: one JSON document, the operations in the order
of the route, each with its cuts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from datumbook.api.plan_shapes import (
    PLAN_FORMAT,
    BudgetDocument,
    CutDocument,
    FigureDocument,
    LandDocument,
    LimitDocument,
    OperationDocument,
    PairingDocument,
    PlanDocument,
)
from datumbook.equations.bores import bore_before_honing
from datumbook.equations.verdicts import OUT
from datumbook.numbers.printing import Printer
from datumbook.optimise.least_metal import Allowed, CutSizes, SizeLimit
from datumbook.optimise.least_set_over import across_of
from datumbook.planning import layout_of, plan
from datumbook.planning.numbers import Numbers
from datumbook.planning.pairing import Pairing, pairings
from datumbook.planning.words import BoresTold, FaceSet, FacesPlanned, LineBorePlan, Plan
from datumbook.report.document import content, published_schema
from datumbook.validator import Validation

RISES = {"front": "rise at the front", "rear": "rise at the rear"}


def plan_document(validation: Validation) -> PlanDocument:
    """What may be cut, as one document. NoBook where the book cannot be read, is none of ours, or
    measures nothing that is cut.
    """
    made, told = plan(validation), content(validation)
    work = Numbers(layout_of(validation), validation.values)
    return {
        "format": PLAN_FORMAT,
        "books": [
            {
                "workbook": str(validation.path),
                "tool": told["tool"],
                "spec": told["spec"],
                "job": told["job"],
                "damaged": made.damaged,
                "forbidden": list(made.forbidden),
                "typed": [
                    {
                        "intention": one.intention,
                        "sentences": list(one.sentences),
                        "wants": one.wants,
                        "unseen": one.unseen,
                    }
                    for one in made.judged
                ],
                "operations": list(_operations(work, made)),
                "lands": list(_lands(made.bores)),
                "budgets": list(_budgets(work)),
                "pairings": [_pairing(work, one) for one in pairings(validation)],
                "unknown": [
                    {"name": one.name, "readings": list(one.readings)} for one in made.unknown
                ],
            }
        ],
    }


def plan_schema() -> dict[str, Any]:
    """The JSON Schema of the document."""
    return published_schema(PlanDocument, "plan", PLAN_FORMAT)


def _operations(work: Numbers, made: Plan) -> Iterator[OperationDocument]:
    """Every operation of this job's route with what is planned of it."""
    route = work.stations.route.operations
    cuts = {
        "line_bore": list(_line_bore(made.line_bore, made.measure)),
        "bottom_face": list(_faces(made, "bottom")),
        "deck": list(_faces(made, "deck")),
        "bore": list(_bores(made)),
    }
    for row in route.rows:
        done = work.number(route.done[row.key])
        yield {
            "key": row.key,
            "words": row.words,
            "done": None if done is None else int(done),
            "cuts": cuts.get(row.key, []),
        }


def _line_bore(line: LineBorePlan | None, heights: Printer) -> Iterator[CutDocument]:
    """The line bore, where one is asked for or typed."""
    if line is None or not (line.typed or line.asked_by):
        return
    unit = line.measure.unit
    sizes = line.sizes or {}
    figures = [_figure(RISES.get(name, name), size, unit) for name, size in sizes.items()]
    for bank, (front, rear) in line.lifts.items():
        of = f", {bank} deck" if bank else ""
        figures += [
            _figure(f"taken from the deck height at the front{of}", front, heights.unit),
            _figure(f"taken from the deck height at the rear{of}", rear, heights.unit),
        ]
    figures += [
        _figure(f"least metal, tunnel {one.number}", one.least, unit) for one in line.tunnels
    ]
    yield {
        "place": "main tunnels",
        "set_up": line.typed,
        "proposed": line.sizes is not None,
        "typed": bool(line.typed),
        "forbidden": bool(line.conflict),
        "figures": figures,
        "limits": [],
        "conflict": _limits(line.conflict, unit),
    }


def _faces(made: Plan, face: str) -> Iterator[CutDocument]:
    """Every set-up of the bottom face, or of the decks, side by side."""
    unit = made.measure.unit
    for bank, faces in made.faces.items():
        for one in faces.sets:
            if not one.way.cut.startswith(face):
                continue
            figures = []
            if one.way.cuts:
                figures.append(_figure("off the lowest corner", one.size, unit))
            if one.clean is not None:
                at = "cleans at" if one.way.hollows_read else "corners clean at, hollows not read"
                figures.append(_figure(at, one.clean.bound, unit))
            if one.way.cuts and one.size is not None:
                figures.append(_figure("infeed", one.infeed, unit))
                tilts = zip(("lengthwise", "crosswise"), one.tilts, strict=False)
                figures += [_figure(f"tilt left {way}", tilt, unit) for way, tilt in tilts]
            conflict = _against(one)
            yield {
                "place": f"{one.way.face}, {bank}" if bank else one.way.face,
                "set_up": one.way.set_up,
                "proposed": one.proposed,
                "typed": one.way.typed,
                "forbidden": one.way.cuts and bool(conflict),
                "figures": figures,
                "limits": list(_kept(faces, one.way.cut, made.measure)) if one.proposed else [],
                "conflict": _limits(conflict, unit),
            }


def _against(one: FaceSet) -> Sequence[SizeLimit]:
    """The limits that forbid this set-up, or that are not kept with nothing cut at all; of a face
    that stays, what another's cut breaks is told of that one.
    """
    answer, others_cut = one.tried.answer, any(way.cuts for way in one.tried.ways)
    return answer.conflict if answer and (one.way.cuts or not others_cut) else ()


def _kept(faces: FacesPlanned, cut: str, measure: Printer) -> Iterator[LimitDocument]:
    """What the cuts proposed leave of every limit on which this one has a bearing."""
    chosen = faces.chosen
    if chosen is not None:
        held = [one for one in chosen.held if cut in one.coefficients]
        sizes = chosen.rounded(measure.decimals)
        yield from _limits(held, measure.unit, sizes, chosen.binding)


def _bores(made: Plan) -> Iterator[CutDocument]:
    """Every bore: the size at which it is clean, the one decided, how far the bar goes over."""
    told, unit = made.bores, made.bores.land_measure.unit
    rows = [(row, row.rounded(told.land_measure.decimals)) for row in made.set_overs.values()]
    too_small = {one.name for one in told.bores if one.verdict == OUT}
    for bore in told.bores:
        cylinder = bore.name.rpartition(" ")[2]
        figures = [
            _figure("cleans up at", bore.clean_up, told.measure.unit),
            _figure("cleans up about its own axis at", bore.own_axis, told.measure.unit),
            _figure("counted as set over to the rear", bore.offset, unit),
            _figure("counted as set over to the left", bore.across, unit),
            _figure("finish size, honed", bore.size, told.measure.unit),
        ]
        if bore.size is not None and told.stock is not None:
            size = bore_before_honing(bore.size, told.stock)
            figures.append(_figure("bore to", size, told.measure.unit))
        row, sizes = next(
            ((row, sizes) for row, sizes in rows if _of_row(row, sizes, cylinder)), (None, None)
        )
        if sizes:
            figures += [
                _figure("bar set over to the rear", sizes[cylinder], unit),
                _figure("bar set over to the left", sizes[across_of(cylinder)], unit),
            ]
        conflict = _limits(row.conflict, unit) if row else []
        yield {
            "place": bore.name,
            "set_up": "",
            "proposed": bore.size is not None,
            "typed": False,
            "forbidden": bore.name in too_small or bool(conflict),
            "figures": figures,
            "limits": _limits(_bearing(row, cylinder), unit, sizes, row.binding) if row else [],
            "conflict": conflict,
        }


def _of_row(row: Allowed, sizes: CutSizes | None, cylinder: str) -> bool:
    """Whether a row of set-overs is this cylinder's."""
    return cylinder in sizes if sizes is not None else bool(_bearing(row, cylinder))


def _bearing(row: Allowed, cylinder: str) -> list[SizeLimit]:
    """The limits on which the set-over of a cylinder has a bearing."""
    return [one for one in row.limits if {cylinder, across_of(cylinder)} & set(one.coefficients)]


def _lands(told: BoresTold) -> Iterator[LandDocument]:
    for one in told.lands:
        yield {
            "name": one.name,
            "left": one.left,
            "low": one.least,
            "unit": told.land_measure.unit,
            "verdict": one.verdict,
            "source": one.source,
        }


def _budgets(work: Numbers) -> Iterator[BudgetDocument]:
    """The lines of the metal budget as the book holds them."""
    table = work.stations.budget.budget
    for one in work.stations.budget.lines.values():

        def said(name: str, row: str = one.key) -> float | None:
            return work.number(table.column(name)[row])

        yield {
            "key": one.key,
            "words": one.words,
            "as_new": said("as_new"),
            "as_received": said("as_received"),
            "taken": said("taken"),
            "planned": said("planned"),
            "after": said("after"),
            "limit": said("limit"),
            "to_spare": said("to_spare"),
            "unit": work.layout.unit_of(one.group),
            "verdict": work.words(table.column("to_spare").verdict[one.key]),
            "source": one.source,
        }


def _pairing(work: Numbers, one: Pairing) -> PairingDocument:
    """One kind of part, and where each of them goes."""
    return {
        "words": one.words,
        "part": one.part,
        "place": one.place,
        "pairs": [
            {
                "place": place,
                "part": part + 1,
                "clearance": clearance,
                "within": one.within(clearance),
            }
            for place, (part, clearance) in enumerate(zip(one.order, one.found(), strict=True), 1)
        ],
        "low": one.low,
        "high": one.high,
        "unit": work.layout.unit_of("parts"),
    }


def _limits(
    limits: Iterable[SizeLimit],
    unit: str,
    sizes: Mapping[str, float] | None = None,
    binding: Iterable[SizeLimit] = (),
) -> list[LimitDocument]:
    """Limits in their one unit, with what these cuts leave of them."""
    reached = list(binding)
    return [
        {
            "name": one.name,
            "before": one.before,
            "after": None if sizes is None else one.after(sizes),
            "low": one.low,
            "high": one.high,
            "uncertainty": one.uncertainty,
            "unit": unit,
            "source": one.source,
            "binds": one in reached,
        }
        for one in limits
    ]


def _figure(name: str, value: float | None, unit: str) -> FigureDocument:
    return {"name": name, "value": value, "unit": unit}

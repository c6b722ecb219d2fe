"""The report page: one book's validation on paper or on a telephone, complete without script or
network.

The page says the verdict first and what to do, then what was damaged, what is out and why with the
numbers put in, the plan, what is missing station by station, then the rest; behind it the cards.
Everything that comes from a spec, a job or a cell is shown as text: the template escapes it,
`printable` shows what cannot be seen.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from importlib.resources import files
from itertools import chain
from typing import Any

from jinja2 import Environment, StrictUndefined, Template

from datumbook import VERSION
from datumbook.grouping import grouped
from datumbook.messages.findings import Finding, marked
from datumbook.numbers.printing import signed
from datumbook.report import NOT_ENTERED, as_stage
from datumbook.report.checks import ChecksTold, where_and_what
from datumbook.report.decisions import decisions
from datumbook.report.drawings import drawings
from datumbook.report.liners import cautions_of, liners_in
from datumbook.report.missing import stations_missing
from datumbook.report.spindle_cards import cards_to_drill
from datumbook.report.verdict import headline, sealing, to_do_first
from datumbook.validator import Validation
from datumbook.workbook import styles
from datumbook.workbook.placed import Place
from datumbook.workbook.printed import printed

SEVERITY_HEADINGS = {
    "damage": "What happened to the workbook",
    "reading": "Readings to put right",
    "check": "Other things that hold the job up",
    "note": "For information",
}


def report_html(validation: Validation) -> str:
    """Return the report on one workbook as one HTML page that needs nothing else."""
    parts = _parts(validation)
    missing = [one for one in validation.findings if one.code == "reading-missing"]
    explained = {
        line.outcome.key
        for one in parts["judged"]
        for line in (one.check, *(also for _, also in one.alike))
    }
    return _template().render(
        headline=headline(validation),
        state=as_stage(validation),
        first=to_do_first(validation, parts["decisions"]),
        sealed=sealing(validation),
        explained=explained,
        shared=_shared([one.remedies for one in parts["judged"]]),
        validation=validation,
        counts=validation.counts,
        missing=stations_missing(validation),
        take_them=missing[0].remedy if missing else "",
        others=_others(validation.findings, explained),
        severities=SEVERITY_HEADINGS,
        cautions=cautions_of(validation.layout),
        cards=cards_to_drill(validation),
        not_entered=NOT_ENTERED,
        version=VERSION,
        styles=styles,
        **parts,
    )


def _shared(remedies: list[tuple[str, ...]]) -> list[str]:
    """What is to be done about more than one check: said once, after all of them."""
    counted = Counter(chain.from_iterable(remedies))
    return [remedy for remedy, count in counted.items() if count > 1]


@cache
def _template() -> Template:
    page = Environment(
        autoescape=True,
        undefined=StrictUndefined,
        finalize=printable,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return page.from_string(files("datumbook.report").joinpath("report.html").read_text("utf-8"))


def printable(value: object) -> object:
    """Return words with every character that would not be seen, or would turn the line round, as
    the mark �.
    """
    if not isinstance(value, str) or hasattr(value, "__html__"):
        return value
    return marked(value, kept="\n\t")


def _others(findings: list[Finding], judged: set[str]) -> dict[str, list[tuple[Finding, str, str]]]:
    """Every finding that is neither a missing reading nor said already beside a check, the worst
    first; each with where it is and what it says there.
    """
    found = grouped(
        (one.severity, (one, *where_and_what(one)))
        for one in findings
        if one.code != "reading-missing" and not (one.severity == "check" and one.key in judged)
    )
    return {grade: found[grade] for grade in SEVERITY_HEADINGS if grade in found}


def _parts(validation: Validation) -> dict[str, Any]:
    """The parts of the page that are there only where the layout of the book is known."""
    layout, values = validation.layout, validation.values
    if layout is None:
        names = ("judged", "drawings", "concessions", "signatures", "entered", "job", "liners")
        return {**dict.fromkeys(names, ()), "checks": {}, "decisions": None}
    stations, checks = layout.stations, ChecksTold(validation, layout)
    return {
        "judged": checks.judged(),
        "decisions": decisions(validation),
        "concessions": list(checks.concessions()),
        "liners": list(liners_in(layout, values)),
        "drawings": list(drawings(layout, values, validation.reached)),
        "checks": grouped((line.outcome.sheet, line) for line in checks.lines.values()),
        "job": [
            (_without_form(place), _entered(values[place.key], place))
            for place in layout.places.values()
            if place.stands_in(stations.job.block) and place.role != "result"
        ],
        "signatures": [
            (_without_form(place), _entered(values[place.key], place))
            for place in layout.readings()
            if place.stands_in(stations.release.decision)
            and place.stage in validation.reached
            and (place.key != stations.release.decision.read_again.key or values.get(place.key))
        ],
        "entered": [
            (place.label, _entered(values[place.key], place))
            for place in layout.readings()
            if place.stands_in(*stations.instruments.tables)
            and values.get(place.key) not in (None, "")
        ],
    }


def _without_form(place: Place) -> str:
    """The words of a line without the title of its form and what they are read as."""
    return place.label.rpartition(" · ")[2].partition(", as ")[0]


def _entered(value: object, place: Place) -> str:
    return NOT_ENTERED if value in (None, "") else signed(printed(value, place))

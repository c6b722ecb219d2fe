"""The report page: the right words in the right order, nothing from a book able to become markup,
for every book.
"""

from __future__ import annotations

import dataclasses
import html
import re
from collections.abc import Mapping
from html.parser import HTMLParser
from pathlib import Path

import openpyxl
import pytest

from as_asked import values_of
from clean_readings import clean_readings, demo_book, validated
from datumbook.cells.tables import Stage
from datumbook.equations import bores, cutting, heights, threads
from datumbook.job import Job
from datumbook.numbers.printing import NOT_LESS, NOT_MORE, signed
from datumbook.planning import plan, plan_lines
from datumbook.report import told
from datumbook.report.checks import ChecksTold
from datumbook.report.page import printable, report_html
from datumbook.report.verdict import headline
from datumbook.report.worked import CHOSEN, in_signs, steps, with_numbers
from datumbook.spec import load_spec, shipped_specs
from datumbook.standards import table
from datumbook.stations import lay_out
from datumbook.validator import Validation, limits_of, limits_printed, validate
from datumbook.workbook.layout import Layout
from datumbook.workbook.printed import printed, printer
from datumbook.writer import write
from readings_made import faulty, measured_after, plausible, spoiled

VOID = {"meta", "br", "img", "link", "input", "hr"}
ALLOWED = {
    "html",
    "head",
    "meta",
    "title",
    "style",
    "body",
    "header",
    "main",
    "footer",
    "section",
    "article",
    "div",
    "h1",
    "h2",
    "h3",
    "p",
    "b",
    "span",
    "ul",
    "ol",
    "li",
    "details",
    "summary",
    "dl",
    "dt",
    "dd",
    "table",
    "thead",
    "tbody",
    "tr",
    "th",
    "td",
    "figure",
    "figcaption",
    "a",
    "svg",
    "pattern",
    "rect",
    "polyline",
    "polygon",
    "circle",
    "text",
}


class Page(HTMLParser):
    """The page as a browser sees it: its tags, their attributes and the text between them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.open: list[str] = []
        self.words: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] != "style":
            self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@pytest.fixture(scope="module")
def layout() -> Layout:
    return lay_out(load_spec(shipped_specs()["orrindale_qp4"]), Job("SQ-17"))


JUDGED: dict[tuple[object, ...], Validation] = {}


def judged(layout: Layout, folder: Path, readings: Mapping[str, object]) -> Validation:
    """A book of these readings judged, once for all tests that ask for the same."""
    of = (layout.identity, *readings.items())
    if of not in JUDGED:
        write(layout, folder / "book.xlsx", readings)
        JUDGED[of] = validate(folder / "book.xlsx")
    return JUDGED[of]


def seen(validation: Validation) -> Page:
    page = Page(report_html(validation))
    assert page.open == []
    return page


def is_told(page: Page, validation: Validation) -> None:
    for one in validation.findings:
        row, _, column = one.label.partition(" · ")
        places = (
            [row, f"{one.cell} {column}"]
            if one.code == "reading-missing"
            else [f"{one.sheet} {one.cell}"]
        )
        assert all(" ".join(place.split()) in page.text for place in places)
        assert " ".join(one.remedy.split()) in page.text


def test_an_out_of_round_bore_is_shown_with_its_numbers(layout: Layout, tmp_path: Path) -> None:
    not_finished = {
        "finished_bores.3.top.thrust": None
    }  # else the finished bore would be judged instead
    readings = (
        plausible(layout)
        | {"bores.3.top.thrust": 82.178, "bores.3.top.axial": 82.121}
        | not_finished
    )
    page = seen(judged(layout, tmp_path, readings))
    at = page.text.index("out of round = |thrust − axial|")
    card = page.text[at : at + 400]
    assert "|82.178 − 82.121| mm = 0.057 mm" in card
    assert f"Limit: {NOT_MORE} 0.040 mm (Orrindale workshop sheet 4, invented" in card
    assert "Beyond the limit by 0.017 mm, more than its uncertainty of ±0.0042 mm." in card
    assert "holds the job up" in card


def test_a_limit_is_told_in_the_unit_of_what_is_held_to_it(layout: Layout, tmp_path: Path) -> None:
    """Ratios as per cent, and inches of the shop round a metric hole as millimetres, by the inch of
    25.4 mm.
    """
    readings = plausible(layout)
    page = seen(judged(layout, tmp_path, readings))
    for key, words in {
        "fasteners.head_studs.share_of_proof": f"{NOT_MORE} 90.0 %",
        "metal.sump_rail.wall_after": f"{NOT_LESS} 4.7625 mm",
    }.items():
        place = layout.place(key)
        row = page.text[page.text.index(f"{place.label} {place.at.cell}") :]
        assert words in row[:100]


def test_a_limit_that_hangs_on_a_reading_not_taken_is_not_told_as_nothing(layout: Layout) -> None:
    """A gauge's drift is held to what it resolves, which nobody has entered."""
    check = next(one for one in layout.checks if one.key.endswith(".drift"))
    assert limits_printed(layout, check, values_of(layout, {})) == "no limit known yet"


def test_a_floor_stated_in_inches_holds_depths_in_millimetres(layout: Layout) -> None:
    """The hole over the gallery: least floor 1/8 in, by the inch of 25.4 mm."""
    check = next(one for one in layout.checks if one.key == "stops.sump_rail.drill.floor_left")
    assert limits_of(layout, check, values_of(layout, plausible(layout))) == (
        pytest.approx(25.4 / 8),
        None,
    )


def test_a_stale_check_says_what_moved_it_and_nothing_of_a_limit_it_keeps(
    layout: Layout, tmp_path: Path
) -> None:
    readings = {**clean_readings(layout), **measured_after(layout, "consent")}
    page = seen(judged(layout, tmp_path, readings))
    assert re.search(
        r"The operation with done number \d+ moved the feature after the reading was taken \(after "
        r"consent, done number 6\)\.",
        page.text,
    )
    assert "Beyond the limit by −" not in page.text


def test_a_difference_too_small_for_the_places_shown_is_shown_all_the_same(layout: Layout) -> None:
    shown = printer(layout.places["bore.1.mean_size"])
    assert shown.beside(0.00004, 0.0) == "0.00004 mm"
    assert shown.beside(0.017, 0.0) == "0.017 mm"


def test_the_gauge_of_a_check_stands_in_the_unit_of_the_check() -> None:
    """Mark and span read back against the limit that stands in the middle: both in the unit of the
    value.
    """
    text = report_html(validated(demo_book()))
    found = re.findall(
        r"Beyond the limit by ([\d.]+) \S+, more than its uncertainty of ±([\d.]+) ", text
    )
    drawn = re.findall(
        r'class="gauge">(<svg.*?</svg>)</div>\s*<p>[^\n]*?Beyond the limit by [\d.]+ \S+, more '
        r"than",
        text,
    )
    assert len(found) == len(drawn) > 3
    for (beyond, uncertainty), svg in zip(found, drawn, strict=True):
        span = [
            float(x)
            for x in re.search(r'class="span" points="([\d.]+),15.0 ([\d.]+),15.0"', svg).groups()
        ]  # type: ignore[union-attr]
        mark = float(re.search(r'class="mark" cx="([\d.]+)"', svg)[1])  # type: ignore[index]
        half = (
            138 * float(uncertainty) / (2 * float(beyond))
        )  # the value stands half way from the limit to the edge
        assert (span[1] - span[0]) / 2 == pytest.approx(half, rel=0.25, abs=0.11)
        assert abs(mark - 150) == pytest.approx(69, abs=0.11)


def leads_nowhere_else(page: Page) -> bool:
    """Whether every link of a page leads to a place on it."""
    places = {f"#{value}" for name, value in page.attributes if name == "id"}
    return {value for name, value in page.attributes if name == "href"} <= places


def test_what_is_out_and_its_line_in_the_table_lead_to_each_other(
    layout: Layout, tmp_path: Path
) -> None:
    validation = judged(layout, tmp_path, faulty(layout))
    page = seen(validation)
    assert leads_nowhere_else(page)
    links = {value for name, value in page.attributes if name == "href"}
    (one,) = [one for one in validation.findings if one.code == "check-out"][:1]
    assert {f"#{one.sheet}-{one.cell}", f"#why-{one.sheet}-{one.cell}"} <= links


def test_the_order_is_verdict_out_entries_plan_missing_signatures_cautions_checks(
    layout: Layout, tmp_path: Path
) -> None:
    page = seen(judged(layout, tmp_path, faulty(layout)))
    order = [
        "ON HOLD: do not assemble.",
        "To do first",
        "File book.xlsx",
        "Job SQ-17",
        "What is OUT, STALE or UNSURE, and why",
        "Readings to put right",
        "The plan",
        "To spare as planned",
        "What is missing",
        "Concessions",
        "Signatures, as entered",
        "Cautions",
        "Every check",
        "Made by datumbook",
    ]
    at = 0
    for words in order:
        at = page.text.index(words, at)
    assert layout.identity in page.text
    assert layout.spec.engine.name in page.text
    assert all(line in page.text for line in table("cautions")["lines"])


DAY = "holes_front_cover.F3.thread"
"""The demonstration's depth that a program turned into a day."""


def test_a_day_is_no_size() -> None:
    """The day number is nowhere told as a size, nor how far it lies beyond a limit."""
    validation = validated(demo_book())
    assert validation.typed[DAY] == 46150.0
    page, terminal = seen(validation).text, "\n".join(line for _, line in told(validation))
    assert "46150" not in page + terminal
    assert "46148" not in page + terminal
    place = validation.layout.place(DAY) if validation.layout else None
    assert place is not None
    says = "a day, not a size: the program turned what was typed into the date 2026-05-08"
    assert f"{place.at.sheet} {place.at.cell} ({place.label}): {says}" in terminal
    assert re.search(rf"{place.at.cell} a day, not a size from 0\.6250", page)


def test_many_of_one_column_are_told_by_the_worst_of_them(tmp_path: Path) -> None:
    layout = lay_out(load_spec(shipped_specs()["hollowmere_v8"]), Job("HV-8"))
    validation = judged(layout, tmp_path, spoiled(layout))
    cards = ChecksTold(validation, layout).judged()
    together = [one for one in cards if one.measured and one.alike]
    assert together
    for one in together:
        column = layout.places[one.check.outcome.key].column
        alike = [line.outcome.key for _, line in one.alike]
        assert {layout.places[key].column for key in alike} == {column}
        assert len(alike) >= 2, "two are told apart"
    grades = [("OUT", "STALE", "UNSURE").index(one.check.outcome.verdict) for one in cards]
    assert grades == sorted(grades)


def test_the_page_of_decisions_tells_what_plan_and_plan_sheet_tell() -> None:
    validation = validated(demo_book())
    layout, page = validation.layout, seen(validation).text
    assert layout is not None
    of_plan = " ".join(plan_lines(plan(validation)))
    at = page.index("The plan"), page.index("What is missing")
    section = page[slice(*at)]
    for words in (
        "Finish size, honed: 82.500 mm; bore to 82.440 mm",
        "Your 0.0010 in off the deck",
    ):
        assert words in section
        assert words in of_plan
    spared = [one for one in layout.places.values() if re.fullmatch(r"spared\.\w+\.left", one.key)]
    assert len(spared) == 9
    for one in spared:
        words, left = one.label.partition(" · ")[0], printed(validation.values[one.key], one)
        assert (
            f"{words} {signed(left)} {validation.values[one.key.replace('left', 'standing')]}"
            in (section)
        )


@pytest.mark.parametrize("stage", ["received", "planned"])
def test_an_earlier_stage_is_told_as_that_stage(stage: Stage) -> None:
    """Neither a verdict on the finished block nor a word of a sheet that comes later."""
    validation = validate(demo_book(), stage)
    assert validation.layout is not None
    page, terminal = seen(validation).text, [line for _, line in told(validation)]
    assert "assemble" not in page + "\n".join(terminal)
    begins = {"received": "MEASURED AS RECEIVED: ", "planned": "PLANNED: "}[stage]
    beyond = {"received": "out of round, taper across the crank", "planned": "least left (2)"}[
        stage
    ]
    assert terminal[1].startswith(f"{begins}beyond its limit: {beyond}")
    assert terminal[1] in page
    assert ("The plan" in page) == (stage == "planned")
    places = validation.layout.places.values()
    later = {one.at.sheet for one in places if one.stage == "finished"}
    assert {"Finished", "Fits"} <= later
    assert not {one.sheet for one in validation.findings} & later
    reached = {"received": ["received"], "planned": ["received", "planned"]}[stage]
    asked = sum(one.stage in reached for one in validation.layout.checks)
    assert f" {asked} checks: " in terminal[3]
    assert "Finished" not in page[: page.index("Cautions")]


def test_a_block_sound_as_received_says_so(layout: Layout, tmp_path: Path) -> None:
    write(layout, tmp_path / "book.xlsx", clean_readings(layout))
    made = validate(tmp_path / "book.xlsx", "received")
    assert made.exit_status == 0
    assert headline(made).startswith("MEASURED AS RECEIVED: every reading is taken and every limit")


def test_forecasts_in_doubt_are_told_once_by_the_worst_of_them() -> None:
    """The demonstration's crowns and corners: each in one card."""
    validation = validated(demo_book())
    assert validation.layout is not None
    judged = ChecksTold(validation, validation.layout).judged()
    cards = {one.check.outcome.key: one for one in judged}
    told = [line.outcome.key for one in cards.values() for _, line in one.alike]
    doubtful = {one.key for one in validation.outcomes if one.verdict in {"OUT", "STALE", "UNSURE"}}
    assert DAY in doubtful
    doubtful -= {DAY}  # told as the reading that is to be put right
    assert sorted([*cards, *told]) == sorted(doubtful)
    crowns = [key for key in doubtful if key.startswith("crown.")]
    (worst,) = [one for one in crowns if one in cards]
    found = {one: validation.values[one] for one in crowns}
    assert found[worst] == min(size for size in found.values() if isinstance(size, float))
    assert set(crowns) == {worst, *(line.outcome.key for _, line in cards[worst].alike)}
    measured = [key for key in doubtful if key.startswith(("bores.", "bore_taper."))]
    assert measured
    assert all(key in cards and not cards[key].alike for key in measured)


def test_every_finding_of_a_faulty_book_is_told_with_its_cell_and_remedy(
    layout: Layout, tmp_path: Path
) -> None:
    validation = judged(layout, tmp_path, faulty(layout))
    assert {"reading-missing", "reading-is-text", "check-out"} <= {
        one.code for one in validation.findings
    }
    is_told(seen(validation), validation)


def test_every_check_has_its_line_with_verdict_in_words(layout: Layout, tmp_path: Path) -> None:
    validation = judged(layout, tmp_path, faulty(layout) | {"route.wash.done": None})
    text = report_html(validation)
    line = (
        r"<tr id=.*?><td>(.*?)</td>.*?data-head=\"limits\".*?<span class=\"verdict "
        r"(\w*)\">([\w ]+)</span>"
    )
    rows = re.findall(line, text)
    verdicts = {one.key: one.verdict for one in validation.outcomes}
    assert len(rows) == len(layout.checks)
    told = [verdicts[check.key] for check in layout.checks]
    assert [shade for _, shade, _ in rows] == told
    assert [word for _, _, word in rows] == [one or "nothing asked" for one in told]
    assert validation.counts["nothing_asked"] == told.count("") > 0


def test_an_empty_book_lists_every_reading_it_wants(layout: Layout, tmp_path: Path) -> None:
    validation = judged(layout, tmp_path, {})
    page = seen(validation)
    assert f"0 of {len(layout.wanted())} readings taken" in page.text
    is_told(page, validation)
    assert {one.key for one in validation.findings if one.code == "reading-missing"} == {
        one.key for one in layout.wanted()
    }


def test_a_damaged_book_says_first_what_was_done_to_it(layout: Layout, tmp_path: Path) -> None:
    write(layout, tmp_path / "made.xlsx", plausible(layout))
    book = openpyxl.load_workbook(tmp_path / "made.xlsx")
    at = layout.address("bores.1.top.out_of_round")
    book[at.sheet][at.cell] = 0.01
    book.save(tmp_path / "book.xlsx")
    validation = validate(tmp_path / "book.xlsx")
    page = seen(validation)
    assert page.text.startswith("Report on book.xlsx NOT TO BE TRUSTED")
    assert page.text.index(f"What happened to the workbook {at.sheet} {at.cell}") < page.text.index(
        "Every check"
    )
    assert "Found 0.01" in page.text
    is_told(page, validation)


@pytest.mark.parametrize(
    ("content", "verdict"), [(b"", "UNREADABLE"), (b"PK\x03\x04 cut short", "UNREADABLE")]
)
def test_an_unreadable_file_still_gives_a_page(
    tmp_path: Path, content: bytes, verdict: str
) -> None:
    (tmp_path / "book.xlsx").write_bytes(content)
    validation = validate(tmp_path / "book.xlsx")
    page = seen(validation)
    assert verdict in page.text
    (told,) = validation.findings
    assert " ".join(told.message.removesuffix(told.remedy).split()) in page.text
    assert " ".join(told.remedy.split()) in page.text
    assert "Every check" not in page.text


def test_a_workbook_that_is_not_ours_still_gives_a_page(tmp_path: Path) -> None:
    openpyxl.Workbook().save(tmp_path / "book.xlsx")
    page = seen(validate(tmp_path / "book.xlsx"))
    assert "NOT TO BE TRUSTED" in page.text
    assert "was not made by this tool" in page.text


def test_a_released_book_says_so_with_its_names(layout: Layout, tmp_path: Path) -> None:
    conceded: dict[str, object] = {}
    values = values_of(layout, plausible(layout))
    for check in layout.checks:
        if values[check.verdict] not in ("OK", ""):
            stem = f"release.{check.key}"
            conceded |= {
                f"{stem}.reason": "owner accepts",
                f"{stem}.conceded_by": "C. D.",
                f"{stem}.conceded_on": "2026-05-04",
                f"{stem}.conceded_value": values[check.key],
            }
    page = seen(judged(layout, tmp_path, plausible(layout) | conceded))
    assert "RELEASED: every check is OK or under a concession" in page.text
    assert "owner accepts C. D. 2026-05-04 conceded" in page.text
    assert "Measured by A. N." in page.text
    assert "What to do" not in page.text


def test_a_rejected_block_says_so(layout: Layout, tmp_path: Path) -> None:
    rejected = {
        "decision.decision": "rejected",
        "decision.reason": "cracked web",
        "decision.released_by": "B. M.",
    }
    page = seen(judged(layout, tmp_path, plausible(layout) | rejected))
    assert "REJECTED: the block does not go on." in page.text
    assert "The block is rejected: cracked web." in page.text


HOSTILE = '"><script>alert(1)</script><a href="https://x.invalid">'


def test_words_of_job_and_cells_never_become_markup(layout: Layout, tmp_path: Path) -> None:
    hostile = lay_out(layout.spec, Job("<script>x</script>"))
    check = layout.checks[0].key
    keys = (
        "decision.released_by",
        "decision.reason",
        "job.owner",
        "instruments.bores.instrument",
        f"release.{check}.reason",
        f"release.{check}.conceded_by",
    )
    readings = faulty(hostile) | dict.fromkeys(keys, HOSTILE)
    readings["bores.2.top.thrust"] = "<b>82.01</b>"
    text = report_html(judged(hostile, tmp_path, readings))
    page = Page(text)
    assert set(page.tags) <= ALLOWED
    assert not {name for name, _ in page.attributes} & {"src", "style", "action"}
    assert leads_nowhere_else(page)
    assert not [name for name, _ in page.attributes if name.startswith("on")]
    assert page.text.count(HOSTILE) == len(keys)
    assert "<script>x</script>" in page.text
    assert "<b>82.01</b>" in page.text
    assert html.escape("<script>x</script>") in text


def test_a_file_name_never_becomes_markup(tmp_path: Path) -> None:
    (tmp_path / "<img src=x onerror=y>.xlsx").write_bytes(b"")
    page = seen(validate(tmp_path / "<img src=x onerror=y>.xlsx"))
    assert set(page.tags) <= ALLOWED
    assert "File <img src=x onerror=y>.xlsx" in page.text


def test_characters_that_are_not_seen_are_shown_as_a_mark() -> None:
    assert printable("A\u202eN\x00 \ud800\n±") == "A�N� �\n±"
    assert printable(3) == 3


def test_the_page_is_whole_without_a_network(layout: Layout, tmp_path: Path) -> None:
    text = report_html(judged(layout, tmp_path, plausible(layout)))
    assert "default-src &#39;none&#39;" in text or "default-src 'none'" in text
    assert not re.search(r"url\((?!#)|@import|https?://|<script|<link|<img", text)
    text.encode("utf-8")


def test_a_finding_of_any_kind_keeps_its_words(tmp_path: Path) -> None:
    """A finding with every word filled in, also beside a check that the book has not."""
    (tmp_path / "book.xlsx").write_bytes(b"")
    bare = validate(tmp_path / "book.xlsx")
    full = dataclasses.replace(
        bare.findings[0],
        severity="check",
        message="It is so. Do this.",
        remedy="Do this.",
        sheet="Bores",
        cell="Z9",
        key="bores.9",
        label="<i>",
        found="1",
        expected="2",
        suggestion="3",
    )
    page = seen(Validation(bare.path, [full], readable=True))
    assert "Bores Z9 <i> It is so. Found 1 Expected 2 It may have been 3 Do this." in page.text


def test_formulas_are_written_in_the_signs_of_the_trade() -> None:
    """Geometry as the docstrings of the equations state it."""
    assert in_signs(bores.out_of_round) == "out of round = |thrust − axial|"
    assert in_signs(bores.wear) == "wear = largest size − unworn lip"
    assert in_signs(heights.mean_height) == "mean height = mean(corners)"
    assert (
        in_signs(heights.piston_stack)
        == "piston stack = stroke ÷ 2 + rod length + compression height"
    )
    assert "tan(point angle ÷ 2)" in in_signs(cutting.drill_point)
    assert "ROUND" not in in_signs(bores.next_oversize)
    assert in_signs(threads.pitch_tolerance_2b) == (
        "pitch tolerance 2b = rounded(1.3 × pitch tolerance ÷ 25.4, 4 places, a tie to even) × 25.4"
    )


def test_numbers_are_put_in_with_their_unit(layout: Layout) -> None:
    values = dict(
        values_of(
            layout, plausible(layout) | {"bores.1.top.thrust": 82.0115, "bores.1.top.axial": 82.02}
        )
    )
    assert (
        with_numbers(layout, "bores.1.top.out_of_round", values)
        == "|82.0115 − 82.020| mm = 0.008 mm"
    )
    assert with_numbers(layout, "bores.1.top.thrust", values) == "82.0115 mm"
    assert "0.50 mm × tan(45°) = 0.50 mm" in with_numbers(layout, "chamfer.chamfer_width", values)
    below = {place.key: text for place, text in steps(layout, "bore.1.wear", values)}
    assert list(below) == ["bore.1.largest_size"]
    assert below["bore.1.largest_size"].startswith("largest(82.0115, 82.020, ")


def test_a_number_that_is_not_there_stays_open(layout: Layout) -> None:
    assert (
        with_numbers(layout, "bores.1.top.out_of_round", values_of(layout, {}))
        == "|? − ?| mm = nothing"
    )


def test_a_number_below_nought_is_bracketed_where_it_is_taken_away(layout: Layout) -> None:
    bore = {
        "bores.1.top.thrust": -0.5,
        "bores.1.top.axial": -0.25,
        "bores.1.top.out_of_round": 0.25,
    }
    values = dict(values_of(layout, {})) | bore
    assert (
        with_numbers(layout, "bores.1.top.out_of_round", values)
        == "|−0.500 − (−0.250)| mm = 0.250 mm"
    )


def test_every_computed_key_can_be_written(layout: Layout) -> None:
    values = values_of(layout, faulty(layout))
    for key in layout.places:
        text = with_numbers(layout, key, values)
        stated = not layout.has_formula(key) or layout.place(key).equation in CHOSEN
        assert stated or " = " in text
        assert text.count("(") == text.count(")")

"""What a person is told: the verdict first, each place named, a common remedy once; and the same as
one JSON document.
"""

from __future__ import annotations

import json
from pathlib import Path

from clean_readings import clean_book, demo_book, empty_book, shipped_layout, validated
from damaged_books import with_cell
from datumbook.report import told
from datumbook.report.document import as_json, content, whole_document
from datumbook.report.page import report_html
from datumbook.report.verdict import VERDICT_COLOURS
from datumbook.validator import Validation, validate

FINDING = {
    "code",
    "severity",
    "sheet",
    "cell",
    "key",
    "label",
    "found",
    "expected",
    "suggestion",
    "message",
}
RESULT = {"key", "sheet", "cell", "unit", "computed", "shown", "verdict", "concession"}


def lines(made: Validation) -> list[str]:
    return [line for _, line in told(made)]


def test_the_book_and_the_verdict_come_first_then_job_and_counts() -> None:
    for book, verdict in ((empty_book(), "hold"), (demo_book(), "hold"), (clean_book(), "release")):
        said = lines(validated(book))
        assert said[:2] == [str(book), VERDICT_COLOURS[verdict]]
        assert shipped_layout().identity in said[2]
        wanted = len(shipped_layout().wanted())
        assert f" of {wanted} readings taken" in said[3]
    clean = validated(clean_book())
    said = lines(clean)[4:]
    assert clean.settled, "every bore of it is of the size as drawn"
    assert said[0].startswith("Doubted, and answered on the Release sheet")
    assert said[-1].startswith("  Answered: ")
    assert len(said) == 2 + len(clean.settled), "of a clean book there is no more to say"


def test_every_finding_is_told_with_its_place_and_readings_that_are_missing_are_gathered() -> None:
    made = validated(demo_book())
    said = "\n".join(lines(made))
    for one in made.findings:
        if one.code == "reading-missing":
            continue
        assert one.cell in said, one.message
        assert one.label in said, one.message
    remedies = {one.remedy for one in made.findings if one.code == "check-out"}
    assert [said.count(remedy) for remedy in remedies] == [1]
    gathered = lines(validated(empty_book()))
    assert len(gathered) < 40, "a hundred missing readings are a line a sheet"
    assert sum(line.startswith("  Missing on ") for line in gathered) == len(
        {one.sheet for one in validated(empty_book()).findings if one.code == "reading-missing"}
    )


def test_a_damaged_book_is_never_said_to_be_releasable(tmp_path: Path) -> None:
    place = shipped_layout().place("bores.1.top.out_of_round")
    made = validate(
        with_cell(clean_book(), tmp_path / "book.xlsx", (place.at.sheet, place.at.cell), holds=0.0)
    )
    assert lines(made)[1] == VERDICT_COLOURS["untrusted"]
    assert not any("RELEAS" in line for line in lines(made))
    assert any(place.at.cell in line and "formula was replaced" in line for line in lines(made))


def test_a_file_that_is_no_workbook_is_told_in_three_lines(tmp_path: Path) -> None:
    (tmp_path / "book.xlsx").write_bytes(b"82.0")
    said = lines(validate(tmp_path / "book.xlsx"))
    assert said[1] == VERDICT_COLOURS["unreadable"]
    assert len(said) == 4


def test_the_document_keeps_to_its_contract_and_survives_json(tmp_path: Path) -> None:
    for book in (clean_book(), demo_book()):
        made = json.loads(as_json(content(validated(book))))
        assert set(made) == {
            "tool",
            "spec",
            "job",
            "verdict",
            "counts",
            "findings",
            "results",
            "struck",
            "settled",
        }
        assert all(set(one) >= FINDING for one in made["findings"])
        assert all(set(one) >= RESULT for one in made["results"])
        assert made["counts"]["findings"] == len(made["findings"])
    (tmp_path / "book.xlsx").write_bytes(b"82.0")
    judged = [validated(clean_book()), validate(tmp_path / "book.xlsx")]
    both = json.loads("".join(whole_document(as_json(content(one)) for one in judged)))["books"]
    assert [one["verdict"] for one in both] == ["release", "unreadable"]
    assert (both[1]["spec"], both[1]["job"]) == (None, None)


def test_a_forbidden_cut_comes_before_readings_to_put_right_at_terminal_and_on_the_page() -> None:
    made = validated(demo_book())
    said = lines(made)
    first = said[said.index("To do, the most pressing first") + 1]
    assert first.startswith(
        "  1. DO NOT CUT the deck: overall height at the rear left corner would"
    )
    page = report_html(made)
    assert 0 < page.index("DO NOT CUT the deck") < page.index("Put 1 reading right")
    assert not any("DO NOT" in line for line in lines(validated(clean_book())))

"""Any bytes in, a finding out: never a traceback, never a hang, within stated time and memory.

The long run is `python tests/support/fuzz/files.py FIRST LAST`.
"""

from __future__ import annotations

import io
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from datumbook.readers import FoundCell
from datumbook.validator.judge.judgement import judge
from datumbook.validator.readings.entries import read_entries
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from foreign_saves import small_layout
from fuzz.files import MEGABYTES, SECONDS, judged, memory, mutated
from long_runs import examples, mostly_long
from memory_books import located

FILES, AT_ONCE = 2_000, 50


@pytest.mark.parametrize("first", mostly_long(range(0, FILES, AT_ONCE)))
def test_mutated_files_are_judged_soon_and_without_a_traceback(first: int, tmp_path: Path) -> None:
    verdicts, slowest = judged(range(first, first + AT_ONCE), tmp_path)
    assert sum(verdicts.values()) == AT_ONCE
    assert verdicts["release"] == 0, "the small book is on hold before anything is done to it"
    past_the_gate = verdicts["hold"] + verdicts["untrusted"]
    assert min(verdicts["unreadable"], past_the_gate) > 0, (
        "mutations that all stop at the gate, or none, would prove little"
    )
    assert slowest < SECONDS


def test_the_same_seed_is_the_same_file() -> None:
    assert mutated(3) == mutated(3) != mutated(4)


ANYTHING = st.one_of(
    st.none(),
    st.booleans(),
    st.floats(),
    st.integers().map(lambda number: float(min(max(number, -(10**300)), 10**300))),
    st.text(),
    st.sampled_from(
        ["81,02", "1/0", '3 1/2"', "=1+1", "−5", "½", "1e999", "O.5", " ", "done", "#REF!"]
    ),
)
FORMULA = (
    st.none()
    | st.text(min_size=1)
    | st.sampled_from(["1/2", "Bores!B6", "[1]x!A1", "SUM(A1:A3", '"', "'", "=", "#REF!", "A1:"])
)


@st.composite
def cells(draw: st.DrawFn) -> FoundCell:
    return FoundCell(
        draw(ANYTHING),
        draw(FORMULA),
        draw(st.none() | st.sampled_from(["#N/A", "#DIV/0!", "?"])),
        draw(st.booleans()),
        draw(st.booleans()),
        draw(st.sampled_from(["", "General", "yyyy-mm-dd", "0%", "# ??/64", ";;;"])),
    )


@settings(max_examples=examples(150), deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_any_type_and_any_text_in_any_cell_is_read_and_judged(data: st.DataObject) -> None:
    layout: Layout = small_layout()
    keys = [place.key for place in layout.readings()]
    held = data.draw(st.dictionaries(st.sampled_from(keys), cells(), min_size=1, max_size=12))
    found = located(layout, held)
    entries = read_entries(layout, found)
    values = reckon(layout, entries.typed)
    assert set(values) == set(layout.places)
    for one in [*entries.findings, *judge(layout, found, entries, values, "finished")]:
        assert one.message.strip()
        assert one.key in layout.places


def hostile(kind: str) -> bytes:
    """A workbook made to exhaust whoever opens it."""
    entities = "".join(
        f'<!ENTITY a{number} "{f"&a{number - 1};" * 10}">' for number in range(1, 10)
    )
    sheet = {
        "bomb": b"<worksheet>" + b"<c/>" * 40_000_000,
        "rows": b"<worksheet><sheetData>" + b"<row/>" * 10_000_000 + b"</sheetData></worksheet>",
        "entities": (
            f'<!DOCTYPE x [<!ENTITY a0 "lol">{entities}]><worksheet>&a9;</worksheet>'.encode()
        ),
        "deep": b"<a>" * 2_000_000,
        "attributes": b"<worksheet "
        + b" ".join(b'a%d=""' % number for number in range(400_000))
        + b"/>",
    }[kind]
    parts = {
        "[Content_Types].xml": b"<Types/>",
        "xl/workbook.xml": b"<workbook/>",
        "xl/worksheets/sheet1.xml": sheet,
    }
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return buffer.getvalue()


ASKED = """
import re, sys, time
from pathlib import Path
from datumbook.validator import validate
begun = time.process_time()
made = validate(Path(sys.argv[1]))
peak = re.search(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())
print(made.exit_status, time.process_time() - begun, int(peak[1]) / 1024)
"""


@pytest.mark.parametrize("kind", mostly_long(["bomb", "rows", "entities", "deep", "attributes"], 2))
def test_a_hostile_file_is_refused_inside_two_seconds_and_300_megabytes(
    kind: str, tmp_path: Path
) -> None:
    """Processor time, because the machine is shared with the other tests. What is exhausted: common
    knowledge, no source.
    """
    path = tmp_path / "book.xlsx"
    path.write_bytes(hostile(kind))
    said = subprocess.run(
        [sys.executable, "-c", ASKED, str(path)],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    ).stdout.split()
    assert said[0] == "2"
    assert float(said[1]) < 2.0
    assert float(said[2]) < 300


def test_memory_is_counted() -> None:
    assert memory() > 1
    assert MEGABYTES == 300

"""A CSV of readings is read as it was written, by whatever program, or refused with file, line and
remedy: nothing in it is dropped, swallowed or guessed.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clean_readings import clean_readings, shipped_layout
from command import run
from datumbook.carrying import CarryError, csv_text, from_csv, readings_csv
from datumbook.cells.columns import Reading, possible
from datumbook.validator import Validation
from long_runs import examples
from programs import LANGUAGE, need, profile
from programs import run as run_program

BORE, LIP, HOLE, NOTE, TICK, FREE = (
    "bores.2.middle.thrust",
    "bore.1.unworn_lip",
    "holes_front_cover.F1.thread",
    "job.owner",
    "line_bore.line_bored",
    "instruments.heights.part",
)
LIMITLESS = "release.bores.1.top.out_of_round.conceded_value"
RESULT = "bores.2.middle.out_of_round"
NAME = "Jürgen"


def refused(folder: Path, data: bytes) -> str:
    path = folder / "readings.csv"
    path.write_bytes(data)
    with pytest.raises(CarryError) as refusal:
        from_csv(shipped_layout(), path)
    assert str(path) in str(refusal.value)
    return str(refusal.value)


def read(folder: Path, data: bytes) -> dict[str, float | str]:
    path = folder / "readings.csv"
    path.write_bytes(data)
    return dict(from_csv(shipped_layout(), path).typed)


SHAPES = [
    (f"key,value\n{BORE},82,013\n", 2, "3 columns stand here and 2 in the header"),
    (f"key,value\n{HOLE},0.64\n\n{BORE},82,013\n", 4, '"82,013"'),
    (f"key;value\n{BORE};82;013\n", 2, "3 columns"),
    (f"key,value,unit\n{BORE},82,013\n", 2, "013"),
    (f"key,value,unit\n{BORE},82,013,mm\n", 2, "4 columns"),
    (f"key,value,remark\n{BORE},82,013\n", 2, "may be one number"),
    (f"value,key\n82,013,{BORE}\n", 2, "3 columns"),
    (f'key,value\n{HOLE},0.64\n{BORE},"82.0\n{LIP},82.0\n', 3, "never closed"),
    (f'key,value\n{BORE},"82.0\n{LIP},82.0\n{HOLE},"0.64"\n', 2, "closes in the middle of line 4"),
    (f'key,value\n{NOTE},"Trust\n{LIP},82.0\n{HOLE},0.64"\n', 2, f"swallows the line of {LIP}"),
    (f'key;value\n{NOTE};"Trust\n{LIP};82.0"\n', 2, f"swallows the line of {LIP}"),
    (f'key,remark,value\n{BORE},"worn,82.0\n{LIP},,82.0"\n', 2, "swallows the line"),
    (f'key,value\n{BORE},"82.0"1\n', 2, "close it where its cell ends"),
    ("key,value\nbores.2.middle.trust,82.0\n", 2, f"nearest is {BORE}"),
    ("key,value\nBores.2.Middle.Thrust,82.0\n", 2, f"nearest is {BORE}"),
    (f"key,value\n{RESULT},0.01\n", 2, "worked out or printed by the book"),
    ("key,value\n,82.0\n", 2, "without a key"),
    (f"key;value\n{BORE},82.0\n", 2, "no reading is called"),
    (f"key,value\n{BORE};82.0\n", 2, "no reading is called"),
    (f"key,value\n{BORE}=82.0\n", 2, "no reading is called"),
    (f"key,value\n{BORE},82.0\n{BORE},82.0\n", 3, "both name"),
    (f"key|value\n{BORE}|82.0\n", 1, "commas, semicolons, tabs between them"),
    (f"sep=|\nkey|value\n{BORE}|82.0\n", 2, "the header must name"),
    (f"key,value,Value\n{BORE},82.0,82.1\n", 1, "two columns are called value"),
    (f"key,value\n{BORE},=82+0.001\n", 2, "=82+0.001"),
]


@pytest.mark.parametrize(("text", "line", "says"), SHAPES)
def test_a_file_of_a_wrong_shape_is_refused_with_its_line(
    tmp_path: Path, text: str, line: int, says: str
) -> None:
    for written in (text, text.replace("\n", "\r\n"), f"\ufeff{text}"):
        said = refused(tmp_path, written.encode())
        assert f"line {line}" in said or f"and {line}: both" in said
        assert says in said


SIGNS = [
    (f'key,value\n{BORE},"82,013"\n', {BORE: 82.013}),
    (f"key;value\n{BORE};82,013\n", {BORE: 82.013}),
    (f"key\tvalue\n{BORE}\t82,013 mm\n{HOLE}\t0,64\n", {BORE: 82.013, HOLE: 0.64}),
    (f"key;value\n{FREE};2,500\n{BORE};82,013\n", {FREE: 2.5, BORE: 82.013}),
    (f"key;value\n{FREE};2,5\n", {FREE: 2.5}),
    (f"key;value\n{FREE};-0,500\n", {FREE: -0.5}),
    (f"key;value\n{BORE};8,2013E+01\n", {BORE: 82.013}),
    (f"key;value\n{FREE};,5\n{NOTE};1,5 t\n", {FREE: 0.5, NOTE: "1,5 t"}),
    (f"key;value;unit\n{BORE};3,2289;in\n", {BORE: pytest.approx(82.01406)}),
    (f"key;value\n{BORE};82\n{NOTE};Trust, Harbour\n", {BORE: 82.0, NOTE: "Trust, Harbour"}),
    (f"key;value\n{BORE};82.013\n{NOTE};Trust, Harbour\n", {BORE: 82.013, NOTE: "Trust, Harbour"}),
    (f"sep=;\nkey;value\n{BORE};82,013\n", {BORE: 82.013}),
    (f"key,value,remark\n{BORE},82.0,013\n", {BORE: 82.0}),
    (f"key,value,remark\n{BORE},82\n", {BORE: 82.0}),
    (f"key,value,sheet\n{BORE},82,,\n".replace(",,\n", ",\n"), {BORE: 82.0}),
    (f'key,value\n{NOTE},"Harbour\nTrust"\n{BORE},82.0\n', {NOTE: "Harbour\nTrust", BORE: 82.0}),
    ("key,value\nbores.9.top.thrust,\n", {}),
]


@pytest.mark.parametrize(("text", "typed"), SIGNS)
def test_a_decimal_sign_that_is_certain_is_read(
    tmp_path: Path, text: str, typed: dict[str, float | str]
) -> None:
    for written in (text, text.replace("\n", "\r\n")):
        found = read(tmp_path, written.encode())
        assert {key: one.replace("\r\n", "\n") if isinstance(one, str) else one
                for key, one in found.items()} == typed  # fmt: skip
        assert read(tmp_path, written.encode("utf-16")) == found
        assert read(tmp_path, written.encode("utf-16-be").join([b"\xfe\xff", b""])) == found


UNSURE = [
    (f"key;value\n{LIMITLESS};2,500\n", 2, "may be a decimal sign or stand between thousands"),
    (f"key;value\n{BORE};82,013\n{HOLE};0.64\n", 2, "while line 3 has a point (0.64)"),
    (f'key,value\n{HOLE},0.64\n{BORE},"82,0"\n', 3, "write points everywhere"),
    (f"key;value\n{BORE};1.082,5\n", 2, "no mark between thousands"),
    (f"key;value\n{BORE};82,013\n{LIP};1.082,5\n", 3, "no mark between thousands"),
    (f'key;value\n{FREE};"2,500,000"\n', 2, "no mark between thousands"),
]


@pytest.mark.parametrize(("text", "line", "says"), UNSURE)
def test_a_decimal_sign_that_is_not_certain_is_refused(
    tmp_path: Path, text: str, line: int, says: str
) -> None:
    said = refused(tmp_path, text.encode())
    assert f"line {line}: " in said
    assert says in said


def own_csv(typed: dict[str, float | str]) -> list[list[str]]:
    """Our own CSV of these readings, as rows."""
    made = Validation(Path("book.xlsx"), layout=shipped_layout(), typed=typed)
    return list(csv.reader(io.StringIO(readings_csv(made), newline="")))


def rewritten(rows: list[list[str]], separator: str, end: str, comma: bool) -> str:
    """Rows as another program writes them."""
    out = io.StringIO()
    lines = csv.writer(out, delimiter=separator, lineterminator=end)
    for key, *beside, value in rows:
        place = shipped_layout().places.get(key)
        sized = place is not None and place.unit is not None and "-" not in value[1:]
        lines.writerow([key, *beside, value.replace(".", ",") if comma and sized else value])
    return out.getvalue()


PAGES = ["cp1252", "cp1250", "iso8859_15", "mac_roman", "cp850"]
NAMES = [  # ü and é stand alike in every western and central page, ø and à do not
    *((page, name, True) for page in PAGES for name in ("Jürgen", "René")),
    ("mac_roman", "Bjørn", True),
    ("cp1252", "Bjørn", False),
    ("cp850", "Bjørn", False),
    ("iso8859_15", "voilà", False),
    ("cp1251", "Лена", False),
    ("cp1253", "Ελένη", False),
    ("cp1252", "Ü", False),
]


@pytest.mark.parametrize(("page", "name", "certain"), NAMES)
def test_a_code_page_is_told_by_the_words_printed_beside_the_readings(
    tmp_path: Path, page: str, name: str, certain: bool
) -> None:
    text = rewritten(own_csv({BORE: 82.013, NOTE: name}), ";", "\r\n", comma=True)
    data = text.encode(page, "replace")
    if certain:
        assert read(tmp_path, data) == {BORE: 82.013, NOTE: name}
    else:
        assert "in which alphabet its value is written" in refused(tmp_path, data)


def test_words_in_an_alphabet_that_nothing_tells_are_refused_and_sizes_are_not(
    tmp_path: Path,
) -> None:
    for page in PAGES:
        said = refused(tmp_path, f"key,value\n{BORE},82.0\n{NOTE},{NAME}\n".encode(page))
        assert "line 3" in said
        assert "UTF-8" in said
    said = refused(tmp_path, f"key,value\n{NOTE},voilà\n".encode("cp850"))
    assert "line 2" in said, "à is a blank in another alphabet"
    beside = f"key,value,remark\n{BORE},82.0,geprüft\n".encode("cp1252")
    assert read(tmp_path, beside) == {BORE: 82.0}


@pytest.mark.parametrize("page", ["cp1252", "mac_roman", "cp850"])
def test_a_label_that_somebody_wrote_anew_spoils_no_file(tmp_path: Path, page: str) -> None:
    """What is ASCII is the same in every code page; the labels left as they were still tell which
    page it is.
    """
    text = rewritten(own_csv({BORE: 82.013, NOTE: "Jürgen"}), ";", "\r\n", comma=True)
    head, _, rest = text.partition("\r\n")
    at = head.split(";").index("label")
    lines = [line.split(";") for line in rest.split("\r\n") if line]
    renamed = [[*one[:at], "Bohrung für mich", *one[at + 1 :]] for one in lines[:1]] + lines[1:]
    again = "\r\n".join([head, *map(";".join, renamed), ""])
    assert read(tmp_path, again.encode(page, "replace")) == {BORE: 82.013, NOTE: "Jürgen"}
    bare = f"key,value,label\n{BORE},82.0,Größe\n{NOTE},{NAME},x\n".encode("cp1252")
    said = refused(tmp_path, bare)
    assert "line 3" in said
    assert "line 2" not in said


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [  # a furlong is 660 feet; no bore of 82 is a fifth off
        ("3.2344", "furlong", "3.2344 furlong, which is 650659 mm, cannot be"),
        ("8201", "", "8201 mm cannot be"),
        ("0", "mm", "0 mm cannot be"),
        ("-82.01 mm", "", "-82.01 mm cannot be"),
    ],
)
def test_what_no_bore_can_be_is_refused_with_its_line(
    tmp_path: Path, value: str, unit: str, said: str
) -> None:
    told = refused(tmp_path, f"key,value,unit\n{NOTE},x,\n{BORE},{value},{unit}\n".encode())
    assert f"line 3: {BORE}: {said}" in told
    assert "between 65.6 and 98.4 mm" in told


BYTES = [
    (f"key,value\n{BORE},82.0\n".encode("utf-16-le"), "two bytes a sign without the mark"),
    (f"key,value\n{BORE},82.0\n".encode("utf-32"), "two bytes a sign without the mark"),
    (f"key,value\n{BORE},82.0\n".encode("utf-16")[:-1], "breaks that off"),
    (b"\xef\xbb\xbfkey,value\njob.owner,\xfc\n", "breaks that off"),
    (f"key,value\n{BORE},82.0\n\0".encode(), "without the mark"),
    (b"", "the header must name"),
    (b"<html><body>82.0</body></html>", "the header must name"),
]


@pytest.mark.parametrize(("data", "says"), BYTES)
def test_bytes_that_are_no_certain_text_are_refused(tmp_path: Path, data: bytes, says: str) -> None:
    assert says in refused(tmp_path, data)


def test_a_file_without_end_is_refused_and_many_faults_are_counted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    many = "key,value\n" + "".join(f"strange.{number},1\n" for number in range(3_000))
    said = refused(tmp_path, many.encode())
    assert said.endswith(f"and {3_000 - csv_text.MOST_TOLD} more faults.")
    monkeypatch.setattr(csv_text, "LARGEST_CSV", 1_000)
    assert "no CSV of readings is" in refused(tmp_path, many.encode())


def test_the_command_writes_nothing_from_a_file_it_refuses(tmp_path: Path) -> None:
    source, out = tmp_path / "readings.csv", tmp_path / "book.xlsx"
    source.write_text(f"key,value\n{BORE},82,013\n", "utf-8")
    made = run(
        "generate", "orrindale_qp4", "--block", "SQ-1", "--readings", str(source), "-o", str(out)
    )
    said = " ".join(made.output.split())
    assert made.exit_code == 2
    assert "line 2: 3 columns stand here" in said
    assert not out.exists()


SIZED = [place for place in shipped_layout().readings() if place.unit is not None]
WORDED = [place.key for place in shipped_layout().readings() if place.unit is None]


@st.composite
def typed_readings(draw: st.DrawFn) -> dict[str, float | str]:
    """Sizes that can be, and words of all signs."""
    typed: dict[str, float | str] = {}
    for place in draw(st.lists(st.sampled_from(SIZED), max_size=6, unique_by=lambda one: one.key)):
        assert isinstance(place.column, Reading)
        low, high = possible(place.column, place.row) or (-1e4, 1e4)
        decimals = draw(st.integers(0, 6))
        size = round(draw(st.floats(low, high)), decimals)
        typed[place.key] = (size if low < size < high else round((low + high) / 2, 6)) + 0.0
    signs = st.characters(exclude_categories=("Cs", "Cc"))
    words = st.text(st.one_of(signs, st.sampled_from("\n\r\t\",;'=+-@·üø")), min_size=1, max_size=9)
    for key in draw(st.lists(st.sampled_from(WORDED), max_size=3, unique=True)):
        said = draw(words).strip()
        typed |= {key: said} if said else {}
    return typed


@settings(max_examples=examples(300), deadline=None)
@given(
    typed=typed_readings(),
    separator=st.sampled_from(",;\t"),
    end=st.sampled_from(["\n", "\r\n"]),
    comma=st.booleans(),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "cp1252", "cp1250", "mac_roman"]),
)
def test_what_is_written_in_any_way_is_read_back_the_same_or_refused(
    tmp_path_factory: pytest.TempPathFactory,
    typed: dict[str, float | str],
    separator: str,
    end: str,
    comma: bool,
    encoding: str,
) -> None:
    text = rewritten(own_csv(typed), separator, end, comma)
    lost = not "".join(one for one in typed.values() if isinstance(one, str)).isascii()
    if not encoding.startswith("utf") and lost:
        try:
            "".join(one for one in typed.values() if isinstance(one, str)).encode(encoding)
        except UnicodeEncodeError:
            return  # the other program lost it before it came here
    path = tmp_path_factory.mktemp("csv") / "readings.csv"
    path.write_bytes(text.encode(encoding, "replace"))
    try:
        found = from_csv(shipped_layout(), path)
    except CarryError:
        assert comma or lost, "our own signs and letters are never refused"
    else:
        assert found.typed == typed


def test_a_whole_set_of_readings_comes_back_from_every_desktop(tmp_path: Path) -> None:
    typed = clean_readings(shipped_layout())
    for separator in ",;\t":
        for comma in (False, True):
            text = rewritten(own_csv(typed), separator, "\r\n", comma)
            for encoding in ("utf-8", "utf-8-sig", "utf-16", "cp1252", "mac_roman", "cp850"):
                assert read(tmp_path, text.encode(encoding, "replace")) == typed


AS_SHOWN = "1,,0,false,true,false"
ROUTES = {  # separator, then the number of the encoding, as the program counts them
    "semicolons in UTF-8": (59, 76),
    "semicolons in the code page": (59, 1),
    "tabs in UTF-16": (9, 65_535),
    "commas in UTF-8": (44, 76),
}


@pytest.mark.program("libreoffice")
@pytest.mark.parametrize("locale", ["en-US", "de"])
def test_a_csv_that_a_desktop_saved_again_is_read_the_same(locale: str, tmp_path: Path) -> None:
    typed = clean_readings(shipped_layout()) | {NOTE: "Harbour; Trust, Saltmarrow", HOLE: 0.6405}
    source = tmp_path / "readings.csv"
    source.write_text(rewritten(own_csv(typed), ",", "\n", comma=False), "utf-8")
    home = profile(f"saving-{locale}", LANGUAGE.format(locale=locale))
    for name, (separator, encoding) in ROUTES.items():
        run_program(
            [
                need("libreoffice"),
                "--headless",
                "--norestore",
                f"-env:UserInstallation={home.as_uri()}",
                "--infilter=CSV:44,34,76,1,,1033",
                "--convert-to",
                f"csv:Text - txt - csv (StarCalc):{separator},34,{encoding},{AS_SHOWN}",
                "--outdir",
                tmp_path / name,
                source,
            ]
        )
        saved = (tmp_path / name / source.name).read_bytes()
        assert read(tmp_path / name, saved) == typed, name

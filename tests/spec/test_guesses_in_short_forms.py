"""A guess inside a shorter form is a guess of every length it is written out to, and so is a
source that says nothing: a book that rests on it is not released.

Worked by hand on a drawing of our own.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from as_drawn import held
from datumbook.job import Job
from datumbook.spec import Spec, read_spec, shipped_specs
from datumbook.spec.guesses import guesses, is_placeholder
from datumbook.stations import lay_out
from long_runs import mostly_long
from project import SUPPORT

ENGINES = SUPPORT / "engines"
BORES = (ENGINES / "bores_alone.toml").read_text("utf-8")
LANDS = """
[lands]
centres = { from = "56 mm", step = "92 mm" }
deck_length = "204 mm"
offset = "± 0.13 mm"
closure = "± 0.10 mm"
mouth_chamfer = { height = "0.5 mm", angle = "45 deg" }
clamping_land = ">= 5.0 mm"
"""
HOLES = """
[[outlines]]
of = "deck"
length = "204 mm"
width = "190 mm"
bores_across = "95 mm"
[[holes]]
key = "studs"
face = "deck"
thread = "M8x1.25"
thread_depth = "16 mm"
floor = "28 mm"
operations = ["chase"]
"""
MARKS = {
    "guess": "guessed = true",
    "empty source": 'source = "not yet filled in"',
    "guess with source": 'source = "scaled off a photograph", guessed = true',
}
PATTERNS = {  # form -> where a hole name ends, ? is the figure that is doubted
    '{ along = [?20 mm?, "60 mm"], across = "30 mm" }': 2,
    '{ along = ["20 mm", "60 mm"], across = ?30 mm? }': 2,
    '{ row = 3, from = [?24 mm?, "14 mm"], to = ["180 mm", "14 mm"] }': 3,
    '{ row = 3, from = ["24 mm", "14 mm"], to = ["180 mm", ?14 mm?] }': 3,
    '{ row = 3, from = ["24 mm", ?14 mm?], step = ["60 mm", "0 mm"] }': 3,
    '{ rectangle = [2, 2], from = [?20 mm?, "10 mm"], to = ["180 mm", "170 mm"] }': 4,
    '{ rectangle = [2, 2], from = ["20 mm", "10 mm"], to = ["180 mm", ?170 mm?] }': 4,
    '{ circle = 4, centre = [?100 mm?, "90 mm"], diameter = "120 mm" }': 4,
    '{ circle = 4, centre = ["100 mm", "90 mm"], diameter = ?120 mm? }': 4,
    '[["20 mm", "28 mm"], { mirror = "across", about = ?95 mm? }]': 2,
    '[["20 mm", ?28 mm?], { mirror = "across", about = "95 mm" }]': 2,
    '[[?20 mm?, "28 mm"], { mirror = "across", about = "95 mm" }]': 2,
    '{ by_cylinder = [["-46 mm", "-67 mm"]], line = ?95 mm? }': 2,
}


def doubted(form: str, at: int, mark: str) -> str:
    """A form with its figures plain but for one, counted from 0, which is marked."""
    pieces = form.split("?")
    for number, figure in enumerate(pieces[1::2]):
        text = f'"{figure}"'
        pieces[2 * number + 1] = f"{{ value = {text}, {mark} }}" if number == at else text
    return "".join(pieces)


def read(text: str) -> Spec:
    return read_spec(text, str(ENGINES / "x.toml"))


@pytest.mark.parametrize("mark", MARKS.values(), ids=MARKS)
@pytest.mark.parametrize("form", PATTERNS)
def test_a_doubt_in_a_pattern_of_holes_stays_a_doubt(form: str, mark: str) -> None:
    holes = HOLES.replace('face = "deck"', 'face = "front"') if "circle" in form else HOLES
    group = f'{holes}names = "S1-S{PATTERNS[form]}"\nplaces = '
    sure = read(f"{BORES}{LANDS}{group}{doubted(form, -1, mark)}\n")
    assert not list(guesses(sure))
    spec = read(f"{BORES}{LANDS}{group}{doubted(form, 0, mark)}\n")
    found = list(guesses(spec))
    assert found
    assert all(one.startswith("holes.studs.places[") for one in found)
    assert [[one.to("mm") for one in pair] for pair in spec.holes[0].places] == [
        [one.to("mm") for one in pair] for pair in sure.holes[0].places
    ]


@pytest.mark.parametrize("mark", MARKS.values(), ids=MARKS)
@pytest.mark.parametrize("figure", ["56 mm", "92 mm", "95 mm"])
def test_holes_by_cylinder_are_as_doubtful_as_the_cylinders(figure: str, mark: str) -> None:
    group = f'{HOLES}names = "D1-D3"\n'
    text = f"{BORES}{LANDS}{group}".replace(f'"{figure}"', f'{{ value = "{figure}", {mark} }}')
    pattern = 'places = { by_cylinder = [["-46 mm", "-67 mm"], ["46 mm", "-67 mm"]] }\n'
    spec = read(text + pattern)
    assert any(one.startswith("holes.studs.places[") for one in guesses(spec))
    stand = [(along.to("mm"), across.to("mm")) for along, across in spec.holes[0].places]
    assert stand == [(10, 28), (102, 28), (194, 28)]


GRID = """
[flatness.deck.grid]
along = { from = "20 mm", step = "90 mm", points = 3 }
across = { from = "20 mm", to = "70 mm", points = 3 }
at_most = "0.05 mm"
source = "face drawing, invented"
"""
ROWS = {  # key -> shipped spec, what is added to it, the row and its figures
    "lands.centres": ("keldmire_d3", "", "centres = ", ("82.00 mm", "124.00 mm")),
    "banks.left.centres": ("hollowmere_v8", "", "centres = ", ("2.500 in", "4.400 in")),
    "tunnels.alignment.places": ("keldmire_d3", "", "places = ", ("20 mm", "124 mm")),
    "flatness.deck.grid.along": ("orrindale_qp4", GRID, "along = ", ("20 mm", "90 mm")),
    "flatness.deck.grid.across": ("orrindale_qp4", GRID, "across = ", ("20 mm", "70 mm")),
}


@pytest.mark.parametrize("mark", MARKS.values(), ids=MARKS)
@pytest.mark.parametrize("at", [0, 1])
@pytest.mark.parametrize("key", ROWS)
def test_a_doubt_in_a_row_of_lengths_stays_a_doubt(key: str, at: int, mark: str) -> None:
    shipped, added, row, figures = ROWS[key]
    text = shipped_specs()[shipped].read_text("utf-8") + added
    line = next(one for one in (added or text).splitlines() if one.startswith(f"{row}{{ from"))
    other = line.replace(f'"{figures[at]}"', f'{{ value = "{figures[at]}", {mark} }}')
    assert other != line
    found = [*guesses(read(text.replace(line, other, 1)))]
    assert any(one.startswith(key) for one in found)
    assert not list(guesses(read(text)))


@pytest.mark.parametrize("key", mostly_long(ROWS))
def test_a_doubt_in_a_row_of_lengths_holds_the_release(key: str) -> None:
    shipped, added, row, figures = ROWS[key]
    text = shipped_specs()[shipped].read_text("utf-8") + added
    line = next(one for one in (added or text).splitlines() if one.startswith(f"{row}{{ from"))
    other = line.replace(f'"{figures[0]}"', f'{{ value = "{figures[0]}", guessed = true }}')
    layout = lay_out(read(text.replace(line, other, 1)), Job("doubted"))
    resting = {one.key for one in layout.checks if one.guessed}
    assert resting & set(held(layout)), "of those that nothing finished answers"


EMPTY = [
    "not yet filled in",
    "not yet filled in.",
    "Not yet filled in, ask Bob",
    "drawing 12: not yet filled in",
    "t.b.d.",
    "T.B.A.",
    "t. b. d.",
    "tbd, drawing 12",
    "n.k.",
    "tba.",
    "...",
    "drawing 12; ...",
]
FULL = [
    "sheet 4",
    "data plate 12 b",
    "bolt B and bolt T",
    "the text of drawing 4",
    "filled in by the foundry",
    "tab washer drawing",
    "unit bank 3",
    "value of the maker's table 3",
]


@pytest.mark.parametrize("source", EMPTY)
def test_a_source_that_only_holds_a_place_says_nothing(source: str) -> None:
    marked = f'{{ value = "<= 0.040 mm", source = "{source}" }}'
    text = BORES.replace('"<= 0.040 mm"', marked)
    assert list(guesses(read(text))) == ["bores.out_of_round"]


@pytest.mark.parametrize("source", FULL)
def test_a_source_that_says_something_is_one(source: str) -> None:
    assert not is_placeholder(source)


@pytest.mark.parametrize("path", shipped_specs().values(), ids=lambda path: path.stem)
def test_no_words_of_a_shipped_spec_hold_the_place_of_others(path: Path) -> None:
    every = texts(tomllib.loads(path.read_text("utf-8")))
    assert len(every) > 50
    assert not [one for one in every if is_placeholder(one)]


def texts(part: object) -> list[str]:
    """Every text of a document, however deep."""
    if isinstance(part, dict):
        part = list(part.values())
    if isinstance(part, list | tuple):
        return [text for one in part for text in texts(one)]
    return [part] if isinstance(part, str) and len(part) > 2 else []

"""A first spec from a few answers: every key with its comment, every figure that is not an answer
marked as a guess.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from importlib.resources import files
from string import Template
from textwrap import fill
from typing import Literal, get_args

from datumbook.numbers.quantities import INCH_MARKS, QuantityFault, read_quantity
from datumbook.spec import read_spec
from datumbook.spec.faults import nearest
from datumbook.spec.guesses import TO_DO
from datumbook.standards.order import operations

SCHEMA_FILE = "datumbook.schema.json"
GUESS = 'source = "in proportion to bore and stroke", guessed = true'
Arrangement = Literal["in line", "vee", "flat", "single"]
ARRANGEMENTS: tuple[Arrangement, ...] = get_args(Arrangement)
MOST_CYLINDERS = 16
BANK_ANGLES = {"vee": "90 deg", "flat": "180 deg"}
BANKS = (("left", "Left bank"), ("right", "Right bank"))
# what is refused as an answer, in mm: from model engines to ships' engines. Common practice, no
# source
BORE_RANGE, STROKE_RANGE, STROKE_OF_BORE = (15.0, 1000.0), (12.0, 3500.0), (0.25, 5.0)
OVERSIZES = {  # common practice, no source
    "mm": ("0.25 mm", "0.50 mm", "0.75 mm", "1.00 mm"),
    "in": ("0.010 in", "0.020 in", "0.030 in", "0.040 in"),
}
STUD_THREADS = {"mm": "M10x1.5", "in": "7/16-14 UNC"}


@dataclass(frozen=True, slots=True)
class Answers:
    """What is asked before a new spec is written; bore and stroke with their unit, `unit` is mm,
    in or thou.
    """

    name: str
    cylinders: int
    bore: str
    stroke: str
    unit: str = "mm"
    arrangement: Arrangement = "in line"
    material: str = "grey iron"
    thread: str = ""


# what is answered: each reads one answer, and says in QuantityFault what it cannot be


def name_answered(text: str) -> str:
    """Return a name as one line; QuantityFault for none."""
    if not (name := _one_line(text)) or len(name) > 60:
        raise QuantityFault("answer", text, "a name of 1 to 60 characters", example='"Pump 4"')
    return name


def cylinders_answered(text: str) -> int:
    """Return a number of cylinders; QuantityFault for one that no block has."""
    count = int(text) if re.fullmatch(r" *[0-9]{1,2} *", text) else 0
    if not 1 <= count <= MOST_CYLINDERS:
        wanted = f"a whole number from 1 to {MOST_CYLINDERS}"
        raise QuantityFault("answer", text, wanted, example="4")
    return count


def arrangement_answered(text: str, cylinders: int) -> Arrangement:
    """Return how the cylinders stand, by its word; QuantityFault with the nearest for another, and
    for one that so many cylinders cannot have.
    """
    word = " ".join(text.replace("-", " ").casefold().split())
    for known in ARRANGEMENTS:
        if word and word in (known, known.partition(" ")[0]):
            if (known in BANK_ANGLES and cylinders % 2) or (known == "single" and cylinders != 1):
                wanted = f"how {cylinders} cylinders stand; two banks want an even number"
                raise QuantityFault("answer", text, wanted, example="in line")
            return known
    advice = nearest(word, ARRANGEMENTS)
    raise QuantityFault("not-one-of", text, ", ".join(ARRANGEMENTS), advice=advice)


def bore_answered(text: str) -> str:
    """Return a bore as it goes into the spec; QuantityFault for none that a machine shop sees."""
    return _plausible(text, "bore", BORE_RANGE)


def stroke_answered(text: str, bore: str) -> str:
    """Return a stroke as it goes into the spec; QuantityFault for none that goes with the bore."""
    size = _plausible(text, "stroke", STROKE_RANGE)
    share = _millimetres(size) / _millimetres(bore)
    if not STROKE_OF_BORE[0] <= share <= STROKE_OF_BORE[1]:
        raise QuantityFault("implausible", text, f"a stroke beside a bore of {bore}")
    return size


def unit_answered(text: str) -> str:
    """Return the unit of the readings; QuantityFault for another word."""
    word = text.strip().casefold()
    known = {"mm": "mm", "in": "in", "inch": "in", '"': "in", "thou": "thou"}
    if word not in known:
        advice = nearest(word, ("mm", "in", "thou"))
        raise QuantityFault("not-one-of", text, "mm, in, thou", advice=advice)
    return known[word]


def _plausible(text: str, what: str, within: tuple[float, float]) -> str:
    size = checked_size(text)
    if not within[0] <= _millimetres(size) <= within[1]:
        low, high = (f"{end:g} mm" for end in within)
        raise QuantityFault("implausible", text, f"a {what} from {low} to {high}")
    return size


def _millimetres(size: str) -> float:
    return read_quantity(size, "[length]").to("mm")


def checked_size(text: str) -> str:
    """Return an answer that is a size, as it goes into the spec: `3 3/16"` as `3 3/16 in`;
    QuantityFault for any other.
    """
    quantity = read_quantity(text, "[length]")
    if quantity.number <= 0:
        raise QuantityFault("not-positive", text)
    size = " ".join(text.split())
    if quantity.unit == "in" and size.endswith(('"', *INCH_MARKS)):
        return f"{size[:-1].rstrip()} in"
    return size


def checked(answers: Answers) -> Answers:
    """Return answers as they go into the spec; QuantityFault for the first that cannot be."""
    bore, count = bore_answered(answers.bore), cylinders_answered(str(answers.cylinders))
    return Answers(
        name_answered(answers.name),
        count,
        bore,
        stroke_answered(answers.stroke, bore),
        unit_answered(answers.unit),
        arrangement_answered(answers.arrangement, count),
        answers.material,
        answers.thread,
    )


# the spec


def write_new_spec(answers: Answers) -> str:
    """Return the text of a commented spec; QuantityFault for an answer that cannot be, SpecFaults
    for a material or thread.
    """
    given = checked(answers)
    bore, stroke = _millimetres(given.bore), _millimetres(given.stroke)
    lengths = _sizes(bore, stroke, given)
    sizes = {name: _length(size, given.unit) for name, size in lengths.items()}
    own = read_quantity(given.bore).unit
    words = _words(given) | sizes | {"bore_plus": _length(lengths["plus"], own)}
    text = Template(_data("new_spec.toml")).substitute(
        words,
        **_rows(given, bore, sizes),
        operations=fill(", ".join(operations()), 116, initial_indent="# ", subsequent_indent="# "),
        features=_features(),
    )
    read_spec(text, "new spec")
    return text


def begun_from(text: str, name: str) -> str:
    """Return the text of a spec as that of another engine of this name: every figure of it is a
    guess.
    """
    called = re.sub(
        r'(?m)^(name *= *)(?:"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\')',
        lambda found: found[1] + _quoted(name_answered(name)),
        text,
        count=1,
    )
    plain = re.sub(r"(?m)\A(?:#.*\n)+", "", called)
    head = (
        f"#:schema {SCHEMA_FILE}\n# {_one_line(name)}: begun from another engine's file; every "
        "figure is still that engine's.\n# Put in this engine's own, then take the next line away. "
        "Till then no block is released by it.\nguessed = true\n"
    )
    made = f"{head}{plain}"
    read_spec(made, "new spec")
    return made


def _data(name: str) -> str:
    return files("datumbook.spec").joinpath(name).read_text("utf-8")


def _features() -> str:
    """The sections that an engine may have besides, each line of them set aside as a comment."""
    made = Template(_data("new_features.toml")).substitute(to_do=TO_DO, guess=GUESS)
    return "\n".join(f"# {line}".rstrip() for line in made.splitlines())


def _words(answers: Answers) -> dict[str, object]:
    inch = answers.unit != "mm"
    rows = 2 if answers.arrangement in BANK_ANGLES else 1
    material, thread = answers.material, answers.thread or STUD_THREADS["in" if inch else "mm"]
    return {
        "schema": SCHEMA_FILE,
        "guess": GUESS,
        "title": answers.name,
        "name": _quoted(answers.name),
        "bore": _quoted(answers.bore),
        "stroke": _quoted(answers.stroke),
        "material": _quoted(material),
        "thread": _quoted(thread),
        "cylinders": answers.cylinders,
        "caps": answers.cylinders // rows + 1,
        "unit": answers.unit,
        "fine": 4 if inch else 3,
        "coarse": 3 if inch else 2,
        "oversizes": _guessed(OVERSIZES["in" if inch else "mm"]),
    }


def _rows(answers: Answers, bore: float, sizes: dict[str, str]) -> dict[str, str]:
    """What an engine of one row has, or one of two banks, in their places of the template."""
    many = answers.cylinders // (2 if answers.arrangement in BANK_ANGLES else 1)
    centres = _guessed(_length(bore * (0.75 + 1.2 * at), answers.unit) for at in range(many))
    length = f'{{ value = "{sizes["deck_length"]}", guessed = true }}'
    row = f"centres = [{centres}]\ndeck_length = {length}\n"
    small, tilted = sizes["small"], answers.arrangement in BANK_ANGLES
    if not tilted:
        return {
            "row": f"# One centre for each cylinder.\n{row}",
            "over_all": f'overall = {{ nominal = "{sizes["overall"]}", plus = "{small}", minus = '
            f'"{small}", {GUESS} }}\noverall_limit = {{ at_least = "{sizes["overall_limit"]}", '
            f"{GUESS} }}\n",
            "bottom_face": f'bottom = {{ nominal = "{sizes["below"]}", plus = "{small}", minus = '
            f'"{small}", {GUESS} }}\n',
            "banks": "",
            "bank": "",
            "bank_angle": '# bank_angle = "90 deg"                    # of a vee or flat engine\n',
        }
    angle = BANK_ANGLES[answers.arrangement]
    banks = "".join(
        f'[[banks]]\nkey = "{key}"\nwords = "{words}"\n'
        f"cylinders = {[*range(side, answers.cylinders + 1, 2)]}\n{row}\n"
        for side, (key, words) in enumerate(BANKS, start=1)
    )
    return {
        "row": "",
        "over_all": "",
        "bottom_face": "# How far a line bore may take the crank line off the plane of the bores.\n"
        f'bores_off_line = {{ at_most = "{small}", {GUESS} }}\n',
        "banks": f"# The rows of cylinders, each under its own deck, front to rear.\n{banks}",
        "bank": f'bank = "{BANKS[0][0]}"\n',
        "bank_angle": f'bank_angle = {{ value = "{angle}", guessed = true }}\n',
    }


def _guessed(sizes: Iterable[str]) -> str:
    """A list of guessed sizes, one on each line."""
    return "".join(f'\n  {{ value = "{size}", guessed = true }},' for size in sizes) + "\n"


def _sizes(bore: float, stroke: float, answers: Answers) -> dict[str, float]:
    """Return places held in mm, in proportion to the bore and the stroke. Common practice, no
    source.
    """
    rod, crown, below = 1.8 * stroke, 0.5 * bore, stroke
    deck = stroke / 2 + rod + crown + 0.25
    many = answers.cylinders // (2 if answers.arrangement in BANK_ANGLES else 1)
    return {
        "rod": rod,
        "crown": crown,
        "deck": deck,
        "below": below,
        "overall": deck + below,
        "top": 0.15 * stroke,
        "middle": 0.65 * stroke,
        "bottom": 1.15 * stroke,
        "none": 0.0,
        "plus": 0.02,
        "small": 0.05,
        "tight": 0.01,
        "large": 0.15,
        "stock": 0.06,
        "clearance": 0.5,
        "chamfer": 0.01 * bore,
        "land": 0.1 * bore,
        "thread_depth": 25.0,
        "floor": 40.0,
        "outline_width": 2 * bore,
        "outline_middle": bore,
        "overall_limit": deck + below - 0.7,
        "bottom_limit": below - 0.4,
        "deck_length": bore * (1.5 + 1.2 * (many - 1)),
    }


def _length(millimetres: float, unit: str) -> str:
    return f"{millimetres:.3f} mm" if unit == "mm" else f"{millimetres / 25.4:.4f} in"


def _one_line(text: str) -> str:
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text).split())


def _quoted(text: str) -> str:
    return json.dumps(_one_line(text), ensure_ascii=False)

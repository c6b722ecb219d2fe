"""A first spec from a few answers: every key with its comment, every figure to be replaced by the
engine's own.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from string import Template
from textwrap import fill

from datumbook.numbers.quantities import INCH_MARKS, Quantity, QuantityFault, read_quantity
from datumbook.spec import Limit, Spec, read_spec
from datumbook.spec.limits import SpecPart
from datumbook.standards.order import operations

TO_DO = "not yet filled in"
OVERSIZES = {  # common practice, no source
    "mm": ("0.25 mm", "0.50 mm", "0.75 mm", "1.00 mm"),
    "in": ("0.010 in", "0.020 in", "0.030 in", "0.040 in"),
}
TEMPLATE = Template("""\
# $title: written from a few answers. The figures marked "$to_do" only hold the places: put in the
# engine's own. Sizes are texts with their unit: "82.00 mm", "3 7/32 in". Each limit names where it
# comes from and has one of the forms
# { from, to } · { at_most } · { at_least } · { nominal, plus, minus }.

[engine]
name = $name                                   # as it stands on every sheet
story = ""                                     # one line for the first sheet, may stay empty
cylinders = $cylinders
material = $material
first_cylinder = "front end"                   # the end at which cylinder 1 lies
seen_from = "rear end, looking forward"        # left and right are named as seen from here
thrust_side = "left"                           # left or right
bearing_caps = $caps

# Which group of readings is read in which unit: mm, in, thou.
[units]
bores = "$unit"
lands = "$unit"
heights = "$unit"
holes = "$unit"

# Places after the decimal point on the sheets; no more than one beyond what the gauge resolves.
[decimals]
bores = $fine
lands = $coarse
heights = $fine
holes = $coarse

[bores]
standard = { nominal = $bore, plus = "$plus", minus = "$none", source = "$to_do" }
# Where each bore is measured, from the deck downwards; the keys become part of cell names.
depths = [
  { key = "top", words = "top of ring travel", at = "$top" },
  { key = "middle", words = "middle", at = "$middle" },
  { key = "bottom", words = "bottom of ring travel", at = "$bottom" },
]
out_of_round = { at_most = "$small", source = "$to_do" }  # two diameters at one depth
taper = { from = "-$small", to = "$small", source = "$to_do" }    # between top and bottom
wear = { at_most = "$large", source = "$to_do" }                  # above the bore's own unworn lip
oversizes = [$oversizes]                       # for which pistons exist, rising
clean_up_stock = "$stock"                      # left on the diameter for the hone
stroke = $stroke

# Distances along the deck, from the front end face.
[lands]
centres = [$centres]                           # one for each cylinder, $to_do
deck_length = "$deck_length"                   # $to_do
offset = { from = "-$large", to = "$large", source = "$to_do" }   # a bore's centre from its place
closure = { from = "-$large", to = "$large", source = "$to_do" }  # to deck_length
mouth_chamfer = { height = "$chamfer", angle = "45 deg" }         # $to_do
clamping_land = { at_least = "$land", source = "$to_do" }         # between two chamfers

# overall: bottom face to deck; deck: crankshaft's axis to deck; bottom: bottom face to crankshaft's
# axis.
[heights]
overall = { nominal = "$overall", plus = "$small", minus = "$small", source = "$to_do" }
overall_limit = { at_least = "$overall_limit", source = "$to_do" }
deck = { nominal = "$deck", plus = "$small", minus = "$small", source = "$to_do" }
bottom = { nominal = "$below", plus = "$small", minus = "$small", source = "$to_do" }
# bottom_limit = { at_least = "$bottom_limit", source = "$to_do" }   # axis over bottom face
tilt = { from = "-$small", to = "$small", source = "$to_do" }     # end to end, side to side
twist = { from = "-$small", to = "$small", source = "$to_do" }  # from the diagonals
corners = { across = "$outline_width" }        # how far apart left and right are read, $to_do
# corners = { along = ["10 mm", "390 mm"], across = "180 mm" }    # where not at the very ends
closure = { from = "-$large", to = "$large", source = "$to_do" }  # deck and bottom against overall
rod_length = "$rod"                            # centre to centre, $to_do
compression_height = "$crown"                  # pin centre to crown, $to_do
deck_clearance = { from = "$none", to = "$clearance", source = "$to_do" }  # crown below the deck
expansion = { value = "10.8e-6 1/degC", source = "grey iron, common figure; from memory" }

# How a reading's uncertainty counts at a limit: "simple acceptance", "guard band, 1998 edition"
# (the whole of it) or "guard band, 2017 edition" (0.825 of it).
[decision]
rule = "guard band, 1998 edition"

# Groups whose readings are taken twice, by two people, such as "bores"; may be left out.
[repeat]
groups = []

# What stands above the piston and what drives the camshaft, to see before a cut what it does to
# them. Both may stay out.
# [combustion]
# gasket_thickness = "1.0 mm"                  # as pressed
# gasket_hole = "84.0 mm"
# chamber_volume = "60 cm**3"                  # in the head
# dish_volume = "3 cm**3"                      # in the crown; below zero for a dome
# squish = { at_least = "0.8 mm", source = "…" }
# [cam_drive]
# kind = "chain"                               # or "gears"
# centre_distance = "136.5 mm"                 # crank axis to cam axis
# least_centre = { at_least = "136.3 mm", source = "…" }       # after any line bore
# angle = "20 deg"                             # crank to cam against crank to deck
# sprocket_radius = "41.0 mm"                  # of the cam sprocket, for a chain
# span = "130.0 mm"                            # of the slack strand, for a chain
# pressure_angle = "20 deg"                    # of the teeth, for gears

# A vee or flat engine has one [[banks]] table for each deck, and no centres and deck_length under
# [lands], no overall, overall_limit and bottom under [heights]. Under [engine] it
# says: bank_angle = "90 deg"; under [heights], how far a line bore may take the crank line out of
# the plane of the bores: bores_off_line = { at_most = "0.05 mm", source = "…" }
# [[banks]]
# key = "left"
# words = "Left bank"
# cylinders = [1, 3, 5, 7]                     # front to rear
# centres = ["60.0 mm", "160.0 mm", "260.0 mm", "360.0 mm"]
# deck_length = "420.0 mm"

# What the block is held to when the work is done, measured once more. Without this section only the
# block as received is judged; with it, the book has one sheet more, and its checks stand in for
# those as received.
[finished]
bore_plus = "$plus"                            # above the size bored to, $to_do
bore_minus = "$none"                           # below the size bored to, $to_do
out_of_round = { at_most = "$tight", source = "$to_do" }
taper = { from = "-$tight", to = "$tight", source = "$to_do" }
tilt = { from = "-$small", to = "$small", source = "$to_do" }
twist = { from = "-$small", to = "$small", source = "$to_do" }

# Where this engine's work differs from the usual order; may be left out. The operations by key:
$operations
[order]
left_out = []                                  # operations never needed, such as "dry_liners"
# Rules this shop sets aside, each with the reason, which is printed beside the operation:
#   { before = "deck", after = "hole_work", reason = "why it is done the other way about" }
overruled = []

# Left out, a table of common figures stands in.
[shop]
nut_factor = { value = "0.20", source = "dry thread, textbook value" }
# surface = "dry"                              # or oiled, zinc, …: clamp strays so, and K by it
# iron_shear = { value = "30000 psi", source = "$to_do" }     # of the block, for stripping
# iron_tensile = { value = "26000 psi", source = "$to_do" }
# chilling_room = "30 m**3"                                    # where liners are chilled
drills = ["fraction", "number", "letter", "metric"]            # the series the shop owns
taps = ["taper", "second", "bottoming"]                        # owned of each thread
# drill_oversize = "0.1 mm"                    # cut over their size; left out: a chart's mean
stop = "depth stop of the quill, locked"       # stop_scale = "0.005 in": from line to line on it
spared = "tool changes"                                        # or "set-ups"
tightening_rounds = 3
infeed_off = "0.01 mm"                         # what touch and infeed of a face cut may be off
clocking_off = "0.01 mm"                       # what a block may be clocked out of level
bar_off = "0.01 mm"                            # what either end of a line bore may be off its place

# The outline of a face, for the map of its holes and their distance from its edges:
# [[outlines]]
# of = "deck"
# bank = "left"                                # whose deck it is, where there are several
# length = "$deck_length"                      # along, from the front or left end
# width = "$outline_width"                     # across, from the lower edge as seen from outside
# bores_across = "$outline_middle"             # where the bores' centres lie across the deck

# One such group for each kind of threaded hole. Faces: deck, bottom, front, rear, left, right.
# Operations in the order of the work: drill, ream, counterbore, spot-face, countersink, start tap,
# finish tap, chase, insert drill, insert tap, insert, plug, deburr, probe depth.
[[holes]]
key = "head_studs"                             # becomes part of cell names
words = "Head studs"
face = "deck"
names = ["D1", "D2", "D3", "D4"]               # unique over the whole block
thread = $thread
# opened_from = "M8x1.25"                      # the thread it had before, where it is opened up
# drill = "17/64"                              # chosen for the thread where it is left out
# drill_reason = ""                            # why a drill outside the thread's limits is used
# drill_oversize = "0 mm"                      # cut over its size: none in a bush, or by a reamer
# thread_share = "70 %"                        # share of thread left, by the drill charts
thread_depth = "$thread_depth"
floor = "$floor"                               # face to what lies below
# danger = [{ hole = "D3", over = "main oil gallery", floor = "$floor" }]   # must not break through
# walls = [{ to = "water jacket", metal = "$land" }]           # metal beside the hole
# edge = "$outline_middle"                     # centre to the nearest edge
# places = [["$land", "$land"]]                # centre of each hole, along and across its face
operations = ["chase", "deburr"]
# counterbore = { diameter = "15/32 in", depth = "3/32 in", plus = "0.015 in", minus = "0.010 in" }
# cuts = [{ operation = "spot-face", diameter = "7/8 in", depth = "0.010 in" }]
# insert = { drill = "29/64", tap = "the insert's own tap", length = "0.656 in" }
# gasket_hole = "17/32 in"
# boss = "1 1/8 in"
# mating_hole = "15/32 in"                     # in the part that is bolted on
# engagement_length = "0.500 in"               # holds the hole to what is recommended for it
# engagement = "1.25 d"                        # or 1.5 d, strength, FED-STD 14, FED-STD 16
# fastener = { grade = "SAE 5", length = "3.500 in", grip = "2.600 in", proof_share = "0.75" }
# torque = "42 lbf*ft"                         # besides, of a stud with unlike ends:
#   nut_end = "7/16-20 UNF", run_out = "0.15 in"

$features
""")


@dataclass(frozen=True, slots=True)
class Answers:
    """What is asked before a new spec is written; bore and stroke with their unit, `unit` is mm or
    in.
    """

    name: str
    cylinders: int
    bore: str
    stroke: str
    unit: str = "mm"
    material: str = "grey iron"
    thread: str = "7/16-14 UNC"


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


def write_new_spec(answers: Answers) -> str:
    """Return the text of a commented spec; QuantityFault for a bore or stroke, SpecFaults for any
    other answer.
    """
    sizes = {"bore": checked_size(answers.bore), "stroke": checked_size(answers.stroke)}
    bore, stroke = (read_quantity(size, "[length]").to("mm") for size in sizes.values())
    text = TEMPLATE.substitute(
        _words(answers),
        **{name: _quoted(size) for name, size in sizes.items()},
        **{
            name: _length(size, answers.unit)
            for name, size in _sizes(bore, stroke, answers.cylinders).items()
        },
        operations=fill(", ".join(operations()), 118, initial_indent="# ", subsequent_indent="# "),
        oversizes=", ".join(
            f'"{size}"' for size in OVERSIZES["mm" if answers.unit == "mm" else "in"]
        ),
        features=_features(),
        centres=", ".join(
            f'"{_length(bore * (0.75 + 1.2 * at), answers.unit)}"'
            for at in range(answers.cylinders)
        ),
    )
    read_spec(text, "new spec")
    return text


def unfilled(spec: Spec) -> list[str]:
    """The keys of a spec whose source still says that they are not filled in, in the order of the
    model.
    """
    return [key for key, source in _sources(spec, "") if TO_DO in source.casefold()]


def _sources(part: object, key: str) -> Iterator[tuple[str, str]]:
    """Every key that names its source, with what it names."""
    if isinstance(part, Limit | Quantity):
        yield key, part.source
    elif isinstance(part, SpecPart):
        for name, value in part:
            yield from _sources(value, f"{key}.{name}".lstrip("."))


def _features() -> str:
    """The sections that an engine may have besides, each line of them set aside as a comment."""
    template = Template(files("datumbook.spec").joinpath("new_features.toml").read_text("utf-8"))
    return "\n".join(f"# {line}".rstrip() for line in template.substitute(to_do=TO_DO).splitlines())


def _words(answers: Answers) -> dict[str, object]:
    inch = answers.unit != "mm"
    return {
        "title": _one_line(answers.name),
        "to_do": TO_DO,
        "name": _quoted(answers.name),
        "material": _quoted(answers.material),
        "thread": _quoted(answers.thread),
        "cylinders": answers.cylinders,
        "caps": answers.cylinders + 1,
        "unit": answers.unit,
        "fine": 4 if inch else 3,
        "coarse": 3 if inch else 2,
    }


def _sizes(bore: float, stroke: float, cylinders: int) -> dict[str, float]:
    """Return places held in mm, in proportion to the bore and the stroke. Common practice, no
    source.
    """
    rod, crown, below = 1.8 * stroke, 0.5 * bore, stroke
    deck = stroke / 2 + rod + crown + 0.25
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
        "chamfer": 0.5,
        "land": 5.0,
        "thread_depth": 25.0,
        "floor": 40.0,
        "outline_width": 2 * bore,
        "outline_middle": bore,
        "overall_limit": deck + below - 0.7,
        "bottom_limit": below - 0.4,
        "deck_length": bore * (1.5 + 1.2 * (cylinders - 1)),
    }


def _length(millimetres: float, unit: str) -> str:
    return f"{millimetres:.3f} mm" if unit == "mm" else f"{millimetres / 25.4:.4f} in"


def _one_line(text: str) -> str:
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text).split())


def _quoted(text: str) -> str:
    return json.dumps(_one_line(text), ensure_ascii=False)

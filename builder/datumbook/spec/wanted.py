"""What a section of a spec cannot be worked out without, and the form in which that is added: a
spec may begin with the bores alone, and grows with the work.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from datumbook.messages.refusals import Fault, fault_at

SECTION_FORMS = {  # a section that may be lacking -> how one begins
    "lands": '[lands] with centres = { from = "56 mm", step = "92 mm" }, deck_length = "388 mm", '
    "offset, closure, mouth_chamfer and clamping_land",
    "heights": '[heights] with overall = "14.250 ± 0.002 in", deck, bottom, overall_limit, tilt, '
    "twist, closure, rod_length, compression_height, deck_clearance and expansion",
    "holes": '[[holes]] with key, words, face, names = "D1-D10", thread, thread_depth, floor and '
    "operations",
}
KEY_FORMS = {  # a key that may be lacking -> what it is, in its form
    "engine.first_cylinder": 'the end at which cylinder 1 lies, such as "timing end"',
    "engine.seen_from": 'where one stands, such as "flywheel end, looking forward"',
    "engine.thrust_side": '"left" or "right"',
    "bores.stroke": 'the stroke of the crankshaft, such as "95.00 mm"',
    "finished.tilt": 'what the finished deck is held to, such as "± 0.04 mm"',
    "finished.twist": 'what the finished deck is held to, such as "± 0.03 mm"',
}
WANTED_BY = {  # a section -> the sections and keys without which it cannot be worked out
    "heights": ("lands", "engine.first_cylinder", "engine.seen_from", "bores.stroke"),
    "walls": ("lands", "engine.thrust_side"),
    "parts": ("heights",),
    "combustion": ("heights",),
    "cam_drive": ("heights",),
}


def wanting(document: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield what the sections of a document in full form lack of each other."""
    for section, wanted in WANTED_BY.items():
        for name in wanted if section in document else ():
            form = SECTION_FORMS.get(name)
            if form is None:
                yield from _key(document, section, name)
            elif name not in document:
                yield fault_at((section,), "section-wanted", section, name, form=form)
    if "heights" in document and "finished" in document:
        yield from _key(document, "heights", "finished.tilt")
        yield from _key(document, "heights", "finished.twist")


def _key(document: Mapping[str, Any], section: str, name: str) -> Iterator[Fault]:
    holder, key = name.split(".")
    table = document.get(holder)
    if isinstance(table, dict) and key not in table:
        yield fault_at(
            (holder, key),
            "missing-key",
            key,
            description=f"{KEY_FORMS[name]}; [{section}] is worked out from it",
        )

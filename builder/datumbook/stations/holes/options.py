"""What a group's holes can be opened to, each with its drill and its tools in words."""

from __future__ import annotations

from dataclasses import dataclass

from datumbook.numbers.quantities import Quantity
from datumbook.standards.clearance import clearance_holes
from datumbook.standards.drill_choice import ChartRemark
from datumbook.standards.drills import Drill
from datumbook.standards.threads import Thread

TAPPED = ("start tap", "finish tap", "chase", "plug", "insert")  # named by the thread


@dataclass(frozen=True, slots=True)
class Option:
    """One thread that a hole is opened to, by the words it is asked for with; `taps` are the
    shop's, the longest lead first, `charted` is the drill that charts name.
    """

    words: str
    thread: Thread
    drill: Drill | None
    taps: tuple[str, ...]
    charted: ChartRemark | None

    def tool(self, operation: str) -> str:
        """The tool of an operation that goes by the thread, in words."""
        thread, taps = self.thread.designation, self.taps
        return {
            "drill": drill_words(self.drill),
            "start tap": f"{thread} {taps[0]} tap, spindle unpowered",
            "finish tap": f"{thread} {', then '.join(taps[1:] or taps)} tap, by hand",
            "chase": f"{thread} chaser, by hand",
            "plug": f"{thread} plug, by hand",
            "insert": f"{thread} insert tool, by hand",
        }[operation]


def drill_words(drill: Drill | None) -> str:
    """A drill as a tool of the schedule."""
    return f"drill {drill.name}" if drill else ""


def clearance_of(thread: Thread) -> Quantity | None:
    """The close clearance hole of a thread; None where the table has none."""
    try:
        closest = clearance_holes(thread)[0]
    except LookupError:
        return None
    return Quantity(closest.diameter, closest.unit, 0, closest.words)

"""What a threaded hole is opened to: the next larger sizes of its own family."""

from __future__ import annotations

from datumbook.grouping import grouped
from datumbook.standards.thread_rows import Thread, all_threads


def larger_threads(thread: Thread) -> list[Thread]:
    """Return the threads of a family that are larger than one, the next first; of each size the one
    whose pitch comes nearest to its own, the finer of two.

    >>> from datumbook.standards.threads import parse_thread
    >>> [one.designation for one in larger_threads(parse_thread("M8x1"))]
    ['M10x1', 'M12x1', 'M14x1.25', 'M16x1.5', 'M18x1.5', 'M20x1.5', 'M22x1.5', 'M24x2']
    """
    larger = grouped(
        (one.major, one) for one in all_threads([thread.family]) if one.major > thread.major
    )
    return [
        min(larger[major], key=lambda one: (abs(one.pitch - thread.pitch), one.pitch))
        for major in sorted(larger)
    ]

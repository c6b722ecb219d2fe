"""Effort: what reading and judging one file may cost, counted while it is done.

Where work grows with what a file holds, `spend` is told how many steps of it come next, and on
what. A step is about a millionth of a second on a machine of today. Steps are counted and not
timed: a file is refused on every machine alike. What no step tells of is held by processor time.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import wraps
from time import process_time
from typing import ParamSpec, TypeVar

Taken = ParamSpec("Taken")
Done = TypeVar("Done")

LOOKED_EACH = 50_000  # steps between two looks at the clock


class TooMuchWork(Exception):  # noqa: N818 - said of the file, no error of anybody's
    """A file costs more than it may; the message is what it has too much of."""


@dataclass(frozen=True)
class EffortLimits:
    """How much work a file may make: steps of a file up to so many bytes, steps of a larger one,
    and seconds of processor time. Those of a small file bear the largest shipped book with every
    formula spelled anew by another program.
    """

    small: int = 1 << 20
    steps_of_small: int = 5_600_000
    steps: int = 15_000_000
    seconds: float = 30.0

    def of(self, size: int) -> int:
        """The steps that a file of so many bytes may take."""
        return self.steps_of_small if size <= self.small else self.steps


EFFORT_LIMITS = EffortLimits()


@dataclass
class Effort:
    """The steps that are left to the file at hand, and the processor time at which it ends."""

    left: int
    until: float
    look_at: int = 0

    def spend(self, steps: int, on: str) -> None:
        """Take steps off; TooMuchWork where none are left or the time is over."""
        self.left -= steps
        if self.left < self.look_at:
            self.look_at = max(0, self.left - LOOKED_EACH)
            if self.left < 0 or process_time() > self.until:
                raise TooMuchWork(on)


_AT_HAND: ContextVar[Effort | None] = ContextVar("effort", default=None)


@contextmanager
def held_to(size: int, limits: EffortLimits = EFFORT_LIMITS) -> Iterator[Effort]:
    """Hold what is done here to the effort that a file of so many bytes may make."""
    steps = limits.of(size)
    effort = Effort(steps, process_time() + limits.seconds, max(0, steps - LOOKED_EACH))
    before = _AT_HAND.set(effort)
    try:
        yield effort
    finally:
        _AT_HAND.reset(before)


def in_one_go(work: Callable[Taken, Done]) -> Callable[Taken, Done]:
    """Mark what makes many objects that all stay: memory is not searched over and over meanwhile
    for what nobody holds, which takes a fifth of the time.
    """

    @wraps(work)
    def done(*values: Taken.args, **named: Taken.kwargs) -> Done:
        if not gc.isenabled():
            return work(*values, **named)
        gc.disable()
        try:
            return work(*values, **named)
        finally:
            gc.enable()

    return done


def spend(steps: int, on: str) -> None:
    """Take steps off what the file at hand may cost: `on` says what it has many of. TooMuchWork
    where none are left; nothing where no file is judged.
    """
    effort = _AT_HAND.get()
    if effort is not None:
        effort.spend(steps, on)

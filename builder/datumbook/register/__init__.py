"""The register of a shop: one line for each workbook of a folder, validated side by side and
forgotten but for its line.

A book is judged by the validator and by nothing else. What is kept of it is small, so that a
register of thousands of books takes no more memory than one of two. A book that was judged before,
byte by byte the same, asked the same and by the same tool, is not judged again.
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import asdict
from datetime import date
from functools import partial
from pathlib import Path

from datumbook.messages import ExpectedError
from datumbook.register.judging import BookJudged, HowJudged, judged, recalled, remembered
from datumbook.register.lines import RegisterLine, dated, day_asked, undated_line
from datumbook.register.memory import Memory, remembering
from datumbook.report.document import as_json, content, joined
from datumbook.validator import Validation

__all__ = [
    "FEW_BOOKS",
    "HowJudged",
    "LineTold",
    "RegisterError",
    "RegisterLine",
    "day_asked",
    "entered",
    "register",
    "remembering",
    "told_whole",
]

FEW_BOOKS = 6  # books that are judged sooner than other processes are begun
AHEAD = 4  # books handed to each process before their answers are fetched

LineTold = tuple[RegisterLine, str]
"""A book's line and its JSON document, "" where that was not asked for."""

Judging = Callable[[], BookJudged]
"""What a book comes to, once it is asked for."""


class RegisterError(ExpectedError):
    """The register could not be finished; the message says why and what to do."""


def register(
    paths: Sequence[Path],
    asked: HowJudged,
    processes: int | None = None,
    memory: Memory | None = None,
) -> Iterator[LineTold]:
    """Yield each book's line in the order given, and its JSON document where all is asked for; ""
    where not. What the memory holds of a book is not judged again, and what is judged is kept in
    it.

    Raises RegisterError when a process was ended from outside.
    """
    keys = [asked.key_of_file(path) if memory else "" for path in paths]
    known = memory.known(keys) if memory else set[str]()
    anew = sum(key not in known for key in keys)
    count = min(processes or os.cpu_count() or 2, max(anew, 1))
    waiting: deque[tuple[Path, Judging]] = deque()  # few, that memory does not grow with the books

    def told() -> LineTold:
        path, answer = waiting.popleft()
        return _told(path, answer(), asked)

    with _judges(asked, anew, count) as begin:
        for path, key in zip(paths, keys, strict=True):
            kept = recalled(memory.recall(key)) if memory and key in known else None
            answer = (
                partial(_anew, path, begin(path), asked, memory) if kept is None else kept.again
            )
            waiting.append((path, answer))
            if len(waiting) > AHEAD * count:
                yield told()
        while waiting:
            yield told()


def entered(path: Path, asked: HowJudged) -> LineTold:
    """Judge one book and return its line, with its JSON document where all is asked for."""
    return _told(path, judged(path, asked), asked)


def _told(path: Path, one: BookJudged, asked: HowJudged) -> LineTold:
    line = dated(one.line, path, asked.today)
    return line, _entry(path, one.told, line) if asked.whole else ""


def told_whole(made: Validation, today: date | None = None) -> str:
    """A validated book as the document tells of it, with its line of the register."""
    return _entry(made.path, as_json(content(made)), dated(undated_line(made), made.path, today))


def _entry(path: Path, told: str, line: RegisterLine) -> str:
    return joined(as_json({"workbook": str(path)}), told, as_json({"register": asdict(line)}))


def _anew(path: Path, answer: Judging, asked: HowJudged, memory: Memory | None) -> BookJudged:
    """A book as it was judged now, kept for the next time."""
    one = answer()
    if memory and one.digest:
        memory.keep(asked.key(path, one.digest), remembered(one))
    return one


@contextmanager
def _judges(asked: HowJudged, anew: int, count: int) -> Iterator[Callable[[Path], Judging]]:
    """What begins to judge a book: in this process where few are to be judged anew, else in others.
    Raises RegisterError.
    """
    if anew < FEW_BOOKS:
        yield lambda path: partial(judged, path, asked)
        return
    try:
        with ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), _begun) as pool:
            yield lambda path: pool.submit(_judged_apart, path, asked).result
    except BrokenProcessPool:
        raise RegisterError(
            "The register is not complete: a process that read workbooks was ended from outside, "
            "perhaps for want of memory. Validate fewer books at once."
        ) from None


def _begun() -> None:
    """How a process of a register begins: who stops the register stops the first process, and that
    ends the others.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.disable()


def _judged_apart(path: Path, asked: HowJudged) -> BookJudged:
    """As judged, in a process of its own: unreachable objects are sought between two books, not in
    the midst of one.
    """
    answer = judged(path, asked)
    gc.collect()
    gc.freeze()  # what is left is kept for the next book, and need not be searched again
    return answer

"""Threads as people write them: `5/16-24 UNF`, `M8x1.25`, `1/4 BSW`, `2 BA`, `G1/8`, `1/8 NPT`."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from datumbook.messages import ExpectedError
from datumbook.standards.thread_rows import Thread, all_threads, number_size

__all__ = ["Thread", "all_threads", "parse_thread"]

UNIFIED = ("UNC", "UNF", "UNEF", "UN")
INCH_FAMILIES = (*UNIFIED, "BSW", "BSF", "BSC")
METRIC = ("metric coarse", "metric fine")
NUMBERED = range(2, 13)  # whole sizes that are numbers, unless inches are written
ONLY_IN_FULL = {"metric fine", "UNEF", "UN"}  # never meant by a bare size
OTHER_NAMES = {
    "W": "BSW",
    "WHIT": "BSW",
    "WHITWORTH": "BSW",
    "CEI": "BSC",
    "BSCY": "BSC",
    "CYCLE": "BSC",
    "BSP": "G",  # the parallel one, unless a T says taper
    "BSPP": "G",
    "BSPT": "R",
    "RC": "R",
}
HOW_TO_WRITE_A_THREAD = "write it like 5/16-24 UNF or M8x1.25"

CLASS_OF_FIT = r"(?:\s*[-–]?\s*(?P<limits>\d[a-z]))?"
NUMBER_MARK = r"(?P<mark>\#|no\.?|number)"
INCH_WORD = r"""\s*(?P<inch>"|″|''|in\b\.?|inch\b)?\s*"""
INCH_FORM = re.compile(
    rf"""(?:{NUMBER_MARK}\s*)?(?P<size>(?:\d+[ -])?\d+/\d+|\d*\.\d+|\d+){INCH_WORD}
    (?:[-–]\s*(?P<pitch>\d+(?:\.\d+|\s1/2)?)\s*(?:tpi\b)?)?\s*(?P<family>[a-z]+)?{CLASS_OF_FIT}""",
    re.VERBOSE | re.IGNORECASE,
)
METRIC_FORM = re.compile(
    rf"""m\s*(?P<size>\d+(?:\.\d+)?)\s*(?:[x×*-]\s*(?P<pitch>\d*\.?\d+)(?![\da-z.])\s*(?:mm\b)?)?\s*
    (?P<family>[a-z]{{3,}})?{CLASS_OF_FIT}""",
    re.VERBOSE | re.IGNORECASE,
)
NUMBER_FORM = re.compile(
    r"(?:no\.?\s*|\#)?(?P<size>\d+)\s*-?\s*(?P<family>b\.?a\.?)|b\.?a\.?\s*-?\s*(?P<second>\d+)",
    re.IGNORECASE,
)
FAMILY_FIRST = re.compile(r"(g|rc?|npt|bsp[pt]?|bs[wfc]|w)\s*(?=\d)(.+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Written:
    """What a designation says: its words, size, family and families that may be meant, pitch and
    class, as far as written.
    """

    words: str
    size: Fraction
    families: tuple[str, ...]
    family: str | None
    pitch: Fraction | None
    limits: str | None


def parse_thread(text: str) -> Thread:
    """Return the thread a text names; ExpectedError saying what was found, what is known near it
    and what to write.

    A bare inch size means unified, a whole one from 2 to 12 its number, a bare M size the coarse
    pitch, BSP the parallel pipe thread.

    >>> [parse_thread(words).designation for words in ("5/16-24", "m8 x 1", "M10", "#10-32")]
    ['5/16-24 UNF', 'M8x1', 'M10x1.5', '10-32 UNF']
    >>> [parse_thread(words).designation for words in ("3/8 W", "0BA", "1/8 BSP")]
    ['3/8-16 BSW', '0 BA', 'G1/8']
    """
    words = " ".join(text.split())
    written = _number(words) or _metric(words) or _inches(words)
    if written:
        return _chosen(written)
    remedy = "write the decimal point as a full stop" if "," in words else HOW_TO_WRITE_A_THREAD
    raise ExpectedError(f'"{words}" is not a thread designation known here; {remedy}.')


def _number(words: str) -> Written | None:
    if found := NUMBER_FORM.fullmatch(words):
        return Written(words, Fraction(found["size"] or found["second"]), ("BA",), "BA", None, None)
    return None


def _metric(words: str) -> Written | None:
    found = METRIC_FORM.fullmatch(words)
    return found and _read(words, found, METRIC, found["family"])


def _inches(words: str) -> Written | None:
    first = FAMILY_FIRST.fullmatch(words)
    found = INCH_FORM.fullmatch(first[2] if first else words)
    if not found or (first and found["family"]):
        return None
    family = (first[1] if first else found["family"] or "").upper()
    family = OTHER_NAMES.get(family, family)
    families = {"": UNIFIED, "G": ("G",), "R": ("R",), "NPT": ("NPT",)}.get(family, INCH_FAMILIES)
    written = _read(words, found, families, family or None)
    if not found["mark"] and (found["inch"] or written.size not in NUMBERED):
        return written
    if family not in ("", *UNIFIED) or not found["size"].isdecimal():
        return None if found["mark"] else written
    return replace(written, size=number_size(int(written.size)))


def _read(
    words: str, found: re.Match[str], families: tuple[str, ...], family: str | None
) -> Written:
    return Written(
        words=words,
        size=_fraction(words, found["size"]),
        families=families,
        family=family,
        pitch=_fraction(words, found["pitch"]) if found["pitch"] else None,
        limits=found["limits"],
    )


def _chosen(written: Written) -> Thread:
    rows = all_threads(written.families)
    same = [thread for thread in rows if thread.size == written.size]
    if not same:
        raise ExpectedError(_no_size(written, rows))
    left = [thread for thread in same if _agrees(thread, written)]
    if len(left) != 1:
        raise ExpectedError(_not_one(written, left, same))
    if written.limits and written.limits.upper() != left[0].limit_class:
        known = f"no limits of {left[0].designation}"
        if left[0].limit_class is not None:
            known = f"only the limits of {left[0].limit_class}"
        raise ExpectedError(
            f'"{written.words}" asks for class {written.limits.upper()}; {known} are known here.'
        )
    return left[0]


def _agrees(thread: Thread, written: Written) -> bool:
    if written.family and written.family.upper() != thread.family.upper():
        return False
    if written.pitch:
        return written.pitch == (thread.threads_per_inch or thread.pitch)
    return bool(written.family) or thread.family not in ONLY_IN_FULL


def _no_size(written: Written, rows: tuple[Thread, ...]) -> str:
    by_size = sorted(rows, key=lambda thread: thread.size)
    near = sorted(rows, key=lambda thread: abs(thread.size - written.size))[:4]
    return (
        f'The size of "{written.words}" is not in the table of threads, which runs from '
        f"{by_size[0].designation} to "
        f"{by_size[-1].designation}; nearest are {_named(near)}: write one of its rows."
    )


def _not_one(written: Written, left: list[Thread], same: list[Thread]) -> str:
    words = written.words
    if left:
        return f'"{words}" could be {_named(left)}: write the pitch as well.'
    also = [
        one
        for one in all_threads(INCH_FAMILIES if written.families == UNIFIED else ())
        if one.size == written.size and one not in same and written.pitch == one.threads_per_inch
    ]
    hint = (
        f"; of another family there is {_named(also)}, whose family must be written" if also else ""
    )
    return (
        f'"{words}" is not in the table of threads; of this size it holds '
        f"{_named(same)}{hint}: write one of these."
    )


def _named(threads: list[Thread]) -> str:
    names = [thread.designation for thread in threads]
    return " or ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def _fraction(words: str, size: str) -> Fraction:
    try:
        return sum((Fraction(part) for part in re.split("[ -]", size)), Fraction(0))
    except ZeroDivisionError:
        raise ExpectedError(
            f'The size of "{words}" divides by nothing; write it like 5/16-24 UNF.'
        ) from None

"""Whether two signatures are of two people, and whether what stands for a name or a reason is one.

Names are compared as they are read aloud: letters that look alike are one, signs that cannot be
seen, accents, points and the order of the parts do not count. An initial stands for every name that
begins with it, so that two of one family write their first names in full. Common practice, no
source.
"""

from __future__ import annotations

import re
import unicodedata
from itertools import permutations

from datumbook.standards import table

LEAST_REASON = 3  # letters
MOST_PARTS = 5  # of a name that are tried in every order
NO_LETTERS = {"Cc", "Cf", "Cs", "Co", "Cn", "Mn", "Me"}
"""Categories of signs that are no letters of a name: those that cannot be seen, and accents."""
FILLERS = "\u115f\u1160\u3164\uffa0\u2800"
"""Signs that count as letters or symbols and show nothing."""
INITIALS = re.compile(r"[^\W\d_]{1,3}")
WORDS_SEEN = re.compile(r"\w+")


def one_person(first: str, second: str) -> bool:
    """Say whether two signatures may be of one person, as far as their letters tell.

    >>> one_person("A. Vey", "Vey, Anna"), one_person("Anna Vey", "Adam Vey")
    (True, False)
    """
    ours, theirs = (_words_of(_in_order(signature)) for signature in (first, second))
    if not ours or not theirs:
        return False
    generations = [{*one} & {*table("signatures")["generations"]} for one in (ours, theirs)]
    titles = [{*one} & {*table("signatures")["titles"]} for one in (ours, theirs)]
    if generations[0] != generations[1] or (all(titles) and titles[0] != titles[1]):
        return False
    apart = {*table("signatures")["generations"], *table("signatures")["titles"]}
    one, two = (_parts(words, apart) for words in (ours, theirs))
    return _run_together(one, two) or _answers(one, two) or _answers(two, one)


def is_name(text: str) -> bool:
    """Say whether words can be a person's name or initials: a tick or a dash is none.

    >>> is_name("A. N."), is_name("-"), is_name("x"), is_name("n/a")
    (True, False, False, False)
    """
    run = "".join(_words_of(text))
    struck = run == "na" and "/" in text
    return {*run} - {"x"} != set() and not struck and run not in table("signatures")["nobody"]


def is_reason(text: str) -> bool:
    """Say whether words can be a reason: of three letters at least, not all the same, and none of
    those by which nothing is said. A letter of a script without capitals may be a word, and counts
    for two.

    >>> is_reason("owner accepts"), is_reason("xxx"), is_reason("n/a")
    (True, False, False)
    """
    run = "".join(_words_of(text))
    letters = sum(1 + (unicodedata.category(one) == "Lo") for one in run if one.isalpha())
    several = len({*run}) > 1
    return letters >= LEAST_REASON and several and run not in table("signatures")["nothing"]


def _in_order(signature: str) -> str:
    """A name as it is said, where it is written with the surname before a comma."""
    surname, comma, others = unicodedata.normalize("NFKC", signature).partition(",")
    return f"{others} {surname}" if comma else signature


def _words_of(text: str) -> list[str]:
    """The words of a text in small letters, without what cannot be seen and without accents."""
    plain = unicodedata.normalize("NFKD", unicodedata.normalize("NFKC", text))
    seen = "".join(
        one for one in plain if unicodedata.category(one) not in NO_LETTERS and one not in FILLERS
    )
    return [word.casefold() for word in WORDS_SEEN.findall(seen.replace("_", " "))]


def _parts(words: list[str], apart: set[str]) -> list[str]:
    """The parts of a name, look-alikes as one letter; initials run together taken apart."""
    alike = str.maketrans(table("signatures")["alike"])
    names = [word.translate(alike) for word in words if word not in apart] or words
    if len(names) == 1 and INITIALS.fullmatch(names[0]):
        return [*names[0]]
    return names


def _run_together(one: list[str], two: list[str]) -> bool:
    """Say whether two names are of the same letters, however they are put together and in whatever
    order.
    """
    short, long = sorted((one, two), key=len)
    run = "".join(long)
    if len(short) == len(run):  # initials alone
        return "".join(short) == run
    return len(short) <= MOST_PARTS and any("".join(order) == run for order in permutations(short))


def _answers(short: list[str], long: list[str]) -> bool:
    """Say whether every part of one name stands in another, in full or as its initial: one part in
    full at least, or all of them initials in their order.
    """
    if len(short) > min(len(long), MOST_PARTS):
        return False
    if all(len(part) == 1 for part in short):
        return len(short) == len(long) > 1 and all(map(_fits, short, long))
    return any(
        all(map(_fits, short, order))
        and any(one == other and len(one) > 1 for one, other in zip(short, order, strict=True))
        for order in permutations(long[: MOST_PARTS + 1], len(short))
    )


def _fits(part: str, other: str) -> bool:
    return part == other or (1 in (len(part), len(other)) and part[0] == other[0])

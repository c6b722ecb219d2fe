"""Two people are two, a name is a name and a reason is a reason, however they are written.

Normal forms, letters that are mistaken for one another and signs that cannot be seen: Unicode
Standard Annex 15 and Technical Standard 39. How people write their names: common practice, no
source.
"""

from __future__ import annotations

import random
import unicodedata

import pytest

from clean_readings import CONCEDED
from datumbook.messages.findings import catalogue
from datumbook.validator.readings.signatures import is_name, is_reason, one_person
from judged_in_memory import news_of
from long_runs import mostly_long
from simulation.paperwork import two_people

ONE = "A. Vey"
DISGUISES = {
    "as it is": ONE,
    "a space behind": "A. Vey ",
    "spaces that do not break": "A.\u00a0Vey",
    "a narrow space": "A.\u2009Vey",
    "small letters": "a. vey",
    "capitals": "A. VEY",
    "no space": "A.Vey",
    "no point": "A Vey",
    "run together": "AVey",
    "a dash": "A-Vey",
    "an underline": "A_Vey",
    "a space of no width": "A.\u200b Vey",
    "a joiner": "A. V\u200dey",
    "a soft hyphen": "A. Ve\u00ady",
    "a mark of direction": "\u202eA. Vey",
    "a mark at the head": "\ufeffA. Vey",
    "a tag": "A. Vey\U000e0041",
    "a filler": "A. Vey\u3164",
    "full-width letters": "Ａ． Ｖｅｙ",
    "mathematical letters": "𝐀. 𝐕𝐞𝐲",
    "an accent": "A. Véy",
    "an accent that combines": "A. Ve\u0301y",
    "a struck-through letter": "A. Ve\u0336y",
    "a Cyrillic letter": "А. Vey",
    "a Greek letter": "Α. Vey",
    "all letters Cyrillic that can be": "А. Vеу",
    "the surname first": "Vey, A.",
    "the surname first, no comma": "Vey A.",
    "the whole name": "Anna Vey",
    "the whole name, turned": "VEY, Anna",
    "a second first name": "A. M. Vey",
    "initials": "A. V.",
    "initials run together": "AV",
    "a title": "Dr. A. Vey",
    "a trade": "A. Vey (foreman)",
    "a number": "A. Vey 2",
    "a line break": "A.\nVey",
}
TWO = {
    "two names": ("Anna Vey", "Bert Falk"),
    "initials": ("A. N.", "B. M."),
    "two of one family": ("Anna Vey", "Adam Vey"),
    "two of one family, other initials": ("A. Vey", "B. Vey"),
    "father and son": ("A. Vey", "A. Vey jr."),
    "a couple": ("Mr Vey", "Mrs Vey"),
    "one first name": ("Anna Vey", "Anna Falk"),
    "one first name, an initial": ("Anna V.", "Anna F."),
    "surnames alike but for a letter": ("J. Hansen", "J. Hanson"),
    "initials the other way round": ("J. K.", "K. J."),
    "a first name that is a surname": ("V. Anders", "A. Vey"),
    "short surnames": ("Li Wei", "Li Na"),
    "another script": ("李伟", "李娜"),
    "numbers of the time card": ("17", "23"),
    "benches": ("bench 1", "bench 2"),
    "one letter more": ("Jo Falk", "Jon Falk"),
}
NO_REASONS = [
    *("-", "x", "X", "?", "...", "—", "\u200b", "\u3164", "\u2800", "\u200b\u200b", "//", "n/a"),
    *(
        "N.A.",
        "none",
        "ｎｏｎｅ",
        "xxx",
        "aaa",
        "ok",
        "Ok.",
        "yes",
        "tbd",
        "x x x",
        "1",
        "123",
        "𝐱",
    ),
]
REASONS = [
    *("owner accepts", "as new", "fit", "磨损", "gauge plug holds", "wear step, seen", "re-read"),
    *("cover bolts only; gauge plug holds", "Ölfilm", "по желанию владельца", "see card 4"),
]
NO_NAMES = ["-", "x", "XX", "?", "\u200b", "\u3164", "n/a", "nobody", "TBD", "...", "_"]
NAMES = ["A. N.", "N. A.", "Jo", "李", "O. K.", "F. F.", "7", "Müller", "K", "Xaver", "X. X. Roth"]
REASON, BY = f"release.{CONCEDED}.reason", f"release.{CONCEDED}.conceded_by"


@pytest.mark.parametrize("disguise", mostly_long(DISGUISES, 5))
def test_one_person_under_two_names_releases_nothing(disguise: str) -> None:
    told = news_of({"decision.measured_by": ONE, "decision.released_by": DISGUISES[disguise]})
    assert [one.code for one in told] == ["one-person"]
    assert catalogue()["one-person"]["severity"] == "check"


@pytest.mark.parametrize("pair", mostly_long(TWO, 3))
def test_two_people_are_two(pair: str) -> None:
    one, two = TWO[pair]
    assert news_of({"decision.measured_by": one, "decision.released_by": two}) == []


def test_in_whatever_way_they_are_written_names_and_reasons_are_told_apart() -> None:
    assert [one for one in DISGUISES.values() if not one_person(ONE, one)] == []
    assert [one for one in DISGUISES.values() if not one_person(one, ONE)] == []
    assert [pair for pair in TWO.values() if one_person(*pair) or one_person(*pair[::-1])] == []
    assert [one for one in NO_REASONS if is_reason(one)] == []
    assert [one for one in REASONS if not is_reason(one)] == []
    assert [one for one in NO_NAMES if is_name(one)] == []
    assert [one for one in NAMES if not is_name(one)] == []


def test_whoever_measured_may_reject_and_may_sign_before_it_is_decided() -> None:
    alone = {"decision.measured_by": ONE, "decision.released_by": ONE}
    assert news_of({**alone, "decision.decision": None}) == []
    rejected = {"decision.decision": "rejected", "decision.reason": "cracked"}
    assert [one.code for one in news_of({**alone, **rejected})] == ["job-rejected"]


def test_of_honest_pairs_none_is_taken_for_one_in_whatever_ways_they_sign() -> None:
    for seed in range(2000):
        pair = two_people(random.Random(seed))
        assert not one_person(*pair), pair


def test_every_sign_that_cannot_be_seen_leaves_a_name_as_it_is() -> None:
    hidden = [chr(one) for one in range(0x110000) if unicodedata.category(chr(one)) == "Cf"]
    assert len(hidden) > 150
    assert all(one_person(ONE, f"A. V{sign}ey") for sign in hidden)
    assert not any(is_name(sign) or is_reason(sign * 5) for sign in hidden)


@pytest.mark.parametrize("reason", mostly_long(NO_REASONS, 3))
def test_what_gives_no_reason_concedes_nothing(reason: str) -> None:
    assert [one.code for one in news_of({REASON: reason})] == ["reason-is-none"]


@pytest.mark.parametrize("reason", mostly_long(REASONS, 2))
def test_a_reason_in_few_words_is_one(reason: str) -> None:
    assert news_of({REASON: reason}) == []


@pytest.mark.parametrize("name", mostly_long(NO_NAMES, 2))
@pytest.mark.parametrize("key", ["decision.released_by", BY])
def test_what_is_no_name_signs_nothing(key: str, name: str) -> None:
    assert [one.code for one in news_of({key: name})] == ["name-is-none"]


@pytest.mark.parametrize("name", mostly_long(NAMES, 2))
def test_a_short_name_is_one(name: str) -> None:
    assert news_of({"decision.measured_by": name}) == []


def test_a_station_left_and_a_block_rejected_want_a_reason_as_well() -> None:
    left = {"stations.Tunnels.left": "left as it is", "stations.Tunnels.by": "A. N."}
    told = {one.code for one in news_of({**left, "stations.Tunnels.reason": "-"})}
    assert told == {"reason-is-none"}
    assert news_of({**left, "stations.Tunnels.reason": "owner's wish"}) == []
    rejected = {"decision.decision": "rejected", "decision.reason": "."}
    assert "reason-is-none" in {one.code for one in news_of(rejected)}

"""Honest paperwork, simulated: the days, names and reasons of one book whose people made no slip.

Common practice, no source: a block comes in, is measured, worked on for days or weeks and let go;
most days are written, some are not; names are written out, with initials, in capitals, as on the
time card; in some shops two of one family work, who write their first names in full where their
initials agree, as they are used to being taken for one another.
"""

from __future__ import annotations

import random
from datetime import date, timedelta

from clean_readings import CONCEDED
from datumbook.stations.received.route import operations_of
from datumbook.workbook.layout import Layout

Written = dict[str, float | str]
FIRST = (
    "Anna Adam Bert Carla Dora Emil Erik Frieda Georg Hanna Ida Ivo Jan Jutta Karl Lena Lars Maria "
    "Max Nora Otto Paula Piet Rosa Rolf Sara Sven Tilda Tom Ute Viktor Wilma"
)
LAST = (
    "Abel Anders Berg Bruun Carl Dahl Ebner Falk Fels Gram Hansen Hanson Holm Ilves Jung Kern Koch "
    "Lund Maas Maier Meyer Nagy Nord Olsen Park Quist Roth Rood Saar Steen Thon Uhl Vey Vogel Wahl "
    "Winter Young Zahn"
)
REASONS = (
    "owner accepts",
    "gauge plug holds",
    "fits by hand, tried",
    "customer's wish",
    "not on this block",
    "as new, seen by both",
    "cover bolts only",
)
NOW = date(2026, 11, 30)


def name_of(first: str, last: str, chance: random.Random) -> str:
    """A name in one of the ways in which people write it."""
    ways = (
        f"{first} {last}",
        f"{first[0]}. {last}",
        f"{last}, {first}",
        f"{first[0]}.{last}",
        f"{first} {last}".upper(),
        f"{first[0]}. {last[0]}.",
        f"{first} {last} ",
    )
    return chance.choice(ways)


def two_people(chance: random.Random) -> tuple[str, str]:
    """Who measured and who released."""
    (one, two) = chance.sample(FIRST.split(), 2)
    surname, other = chance.sample(LAST.split(), 2)
    if chance.random() < 0.05:
        other = surname
        if one[0] == two[0]:
            return f"{one} {surname}", f"{two} {other}"
    if (one[0], surname[0]) == (two[0], other[0]):  # who sign alike write their names out
        return f"{one} {surname}", f"{two} {other}"
    return name_of(one, surname, chance), name_of(two, other, chance)


def paperwork(layout: Layout, chance: random.Random) -> Written:
    """The days, names and reasons of one honest book."""
    received = NOW - timedelta(days=chance.randint(20, 900))
    found: Written = {}

    def write(key: str, day: date) -> None:
        if chance.random() < 0.7:
            found[key] = day.isoformat()

    write("job.received_on", received)
    day = received
    for group in layout.scope.groups:
        read = received + timedelta(days=chance.randint(0, 3))
        write(f"instruments.{group}.measured_on", read)
        due = read + timedelta(days=chance.randint(0, 730))
        write(f"instruments.{group}.calibration_due", due)
        day = max(day, read)
    for number, key in enumerate(operations_of(layout.spec), 1):
        found[f"route.{key}.done"] = float(number)
        day = min(NOW, day + timedelta(days=chance.choice((0, 0, 0, 1, 1, 2, 5))))
        write(f"route.{key}.date", day)
    measured, released = two_people(chance)
    found |= {
        "decision.decision": "released",
        "decision.measured_by": measured,
        "decision.released_by": released,
        "decision.released_on": day.isoformat(),
        f"release.{CONCEDED}.reason": chance.choice(REASONS),
        f"release.{CONCEDED}.conceded_by": released,
        f"release.{CONCEDED}.conceded_on": day.isoformat(),
    }
    if chance.random() < 0.3:
        found |= {
            "struck.1.where": "Bores B12",
            "struck.1.reason": "misread",
            "struck.1.struck_on": day.isoformat(),
        }
    return {key: value for key, value in found.items() if key in layout.places}

"""Days as spreadsheets count them: a whole number of days since an epoch, the time of day as its
fraction.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta

EPOCH_1900 = datetime(1899, 12, 30)
"""Day 0 of the usual date system, right for every day from 1 March 1900 on (the system counts a 29
February 1900).
"""

EPOCH_1904 = datetime(1904, 1, 1)
"""Day 0 of the other date system."""

_DURATION = re.compile(r"(-)?P(?:(\d+)D)?T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:[.,]\d+)?)S)?", re.ASCII)


def epoch(date_1904: bool) -> datetime:
    """Return day 0 of a date system."""
    return EPOCH_1904 if date_1904 else EPOCH_1900


def serial_of(text: str, date_1904: bool = False) -> float:
    """Return the day number of an ISO date, with or without a time; ValueError if it is none.

    >>> serial_of("2026-01-04")
    46026.0
    """
    moment = datetime.fromisoformat(text).replace(tzinfo=None)
    return (moment - epoch(date_1904)) / timedelta(days=1)


def serial_of_duration(text: str) -> float:
    """Return an ISO duration as a share of days; ValueError if it is none.

    >>> serial_of_duration("PT01H30M00S")
    0.0625
    """
    match = _DURATION.fullmatch(text)
    if match is None:
        raise ValueError(f"{text!r} is not a duration")
    sign, days, hours, minutes, seconds = match.groups(default="0")
    total = (
        int(days) * 86400 + int(hours) * 3600 + int(minutes) * 60 + float(seconds.replace(",", "."))
    )
    return (-total if sign == "-" else total) / 86400


def moment_of(serial: float, date_1904: bool = False) -> datetime | None:
    """Return the day and time of a day number, to the second; None where the calendar has no such
    day.

    >>> moment_of(46026.0)
    datetime.datetime(2026, 1, 4, 0, 0)
    """
    try:
        return epoch(date_1904) + timedelta(seconds=round(serial * 86400))
    except (OverflowError, ValueError):
        return None

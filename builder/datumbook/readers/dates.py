"""Days as spreadsheets count them: a whole number of days since an epoch, the time of day as its
fraction.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta

EPOCHS = {False: datetime(1899, 12, 30), True: datetime(1904, 1, 1)}
"""Whether a book counts from 1904 -> day 0. That of the usual system is right for every day from 1
March 1900 on (it counts a 29 February 1900).
"""

_DURATION = re.compile(r"(-)?P(?:(\d+)D)?T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:[.,]\d+)?)S)?", re.ASCII)


def serial_of(text: str, date_1904: bool = False) -> float:
    """Return the day number of an ISO date, with or without a time; ValueError if it is none.

    >>> serial_of("2026-01-04")
    46026.0
    """
    moment = datetime.fromisoformat(text).replace(tzinfo=None)
    return (moment - EPOCHS[date_1904]) / timedelta(days=1)


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

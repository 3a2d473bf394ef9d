"""Days of the month and hours, as reports give them, made whole moments in UTC near a known one."""

from __future__ import annotations

import calendar
from datetime import UTC, datetime, timedelta


def near(day: int, hour: int, minute: int, reference: datetime) -> datetime | None:
    """Return the moment of that day of a month which is nearest to a reference; None if there is no such time.

    Parameters
    ----------
    day : 1 to 31.
    hour : 0 to 24; 24 is midnight at the end of the day, and has no minutes.
    minute : 0 to 59.
    reference : an aware moment, of a year from 2 to 9998.

    >>> near(31, 24, 0, datetime(2026, 2, 1, 3, tzinfo=UTC))
    datetime.datetime(2026, 2, 1, 0, 0, tzinfo=datetime.timezone.utc)
    """
    if minute > 59 or hour * 60 + minute > 24 * 60:
        return None
    months = [reference.year * 12 + reference.month - 1 + step for step in (-1, 0, 1)]
    moments = [
        datetime(month // 12, month % 12 + 1, day, tzinfo=UTC) + timedelta(hours=hour, minutes=minute)
        for month in months
        if 1 <= day <= calendar.monthrange(month // 12, month % 12 + 1)[1]
    ]
    return min(moments, key=lambda moment: abs(moment - reference), default=None)


def ordinal(day: int) -> str:
    """Return '1st', '22nd', '13th'.

    >>> [ordinal(day) for day in (1, 2, 3, 4, 11, 12, 13, 21, 22, 23, 31)]
    ['1st', '2nd', '3rd', '4th', '11th', '12th', '13th', '21st', '22nd', '23rd', '31st']
    """
    ending = "th" if day in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(day % 10, "th")
    return f"{day}{ending}"


def said(moment: datetime) -> str:
    """Return a moment in words.

    >>> said(datetime(2026, 5, 9, 19, 30, tzinfo=UTC))
    '19:30Z on the 9th'
    """
    return f"{moment:%H:%M}Z on the {ordinal(moment.day)}"


def window(from_: datetime, to: datetime) -> str:
    """Return the two ends of a window in words.

    >>> window(datetime(2026, 5, 9, 20, tzinfo=UTC), datetime(2026, 5, 9, 22, tzinfo=UTC))
    '20:00Z to 22:00Z on the 9th'
    """
    return f"{from_:%H:%M}Z to {said(to)}" if from_.date() == to.date() else f"{said(from_)} to {said(to)}"

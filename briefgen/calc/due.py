"""When a paper runs out: calendar months, the preceding 90 days, a date that is marked on it, time in service.

A calendar month runs to its end: what was done at any day of a month is good through the last day of the month that
is so many months later. A paper that is good through a day is good all that day.

'Within the preceding 90 days' does not say whether day 90 counts. It is not counted here, and the paper says
'day 90 - check' on that day.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta
from enum import Enum
from typing import NamedTuple

from briefgen.figures import Figure, Source, missing, stated
from briefgen.model.papers import HoursLeft, Occasion
from briefgen.units import down, up

DAY_90 = "day 90 - check"
NINETY = 90


class Standing(Enum):
    """How a paper stands on the day of the flight, best first."""

    CURRENT = "current"
    RUNS_OUT = "runs out before the flight ends"
    EXPIRED = "expired"
    NOT_MET = "not met"
    NOT_SHOWN = "not shown"


class Paper(NamedTuple):
    """One paper, and how it stands.

    `left` is what is left from the first day of the flight [days], or before it [h]; negative: how long it is past.
    `asked_of`: empty where the rule asks for it on this flight, else of which flights it asks; it is then there for
    information.
    """

    id: str
    name: str
    source: Source
    standing: Standing
    done: date | None = None
    good_through: date | None = None
    left: Figure = missing("left", "days", "it has no date")
    reason: str = ""
    asked_of: str = ""

    @property
    def stops(self) -> bool:
        """Whether the rule asks for it, and it is not shown to be good to the end of the flight."""
        return not self.asked_of and self.standing is not Standing.CURRENT


def month_end(event: date, months: int) -> date:
    """Return the last day of the calendar month that is some months after that of an event.

    Parameters
    ----------
    event : the day it was done.
    months : how many calendar months it is good for, none or more.

    Raises
    ------
    ValueError : fewer months than none, or a year past 9999.

    >>> month_end(date(2024, 2, 29), 12)
    datetime.date(2025, 2, 28)
    """
    if months < 0:
        raise ValueError(f"{months} calendar months")
    year, month = divmod(event.year * 12 + event.month - 1 + months, 12)
    return date(year, month + 1, monthrange(year, month + 1)[1])


def by_months(id: str, name: str, source: Source, done: date | None, months: int, flight: Occasion) -> Paper:
    """Return a paper that is good through the end of a calendar month.

    Parameters
    ----------
    id, name, source : what it is, and the rule.
    done : the day it was done; None: not given.
    months : how many calendar months it is good for.
    flight : when the flight is.
    """
    if done is None:
        return not_shown(id, name, source)
    detail = f"done {done}, {months} calendar months on"
    return _dated(Paper(id, name, source, Standing.CURRENT, done), month_end(done, months), detail, flight)


def by_days(id: str, name: str, source: Source, done: date | None, days: int, flight: Occasion) -> Paper:
    """Return a paper that is good for some days after the day it was done.

    Parameters
    ----------
    id, name, source : what it is, and the rule.
    done : the day it was done; None: not given.
    days : the last of them that counts.
    flight : when the flight is.
    """
    if done is None:
        return not_shown(id, name, source)
    detail = f"done {done}, {days} days on"
    return _dated(Paper(id, name, source, Standing.CURRENT, done), done + timedelta(days=days), detail, flight)


def within_90_days(id: str, name: str, source: Source, done: date | None, flight: Occasion) -> Paper:
    """Return a paper that must have been done within the preceding 90 days: day 89 counts, day 90 is to check.

    Parameters
    ----------
    id, name, source : what it is, and the rule.
    done : the day it was done; None: not given.
    flight : when the flight is.
    """
    found = by_days(id, name, source, done, NINETY - 1, flight)
    edge = done + timedelta(days=NINETY) if done else None
    if edge and flight.first_day <= edge <= flight.last_day:
        return found._replace(reason=f"{DAY_90}: {edge} is the 90th day after {done}")
    return found


def for_good(id: str, name: str, source: Source, done: date | None, flight: Occasion) -> Paper:
    """Return a paper that does not run out once it is done.

    Parameters
    ----------
    id, name, source : what it is, and the rule.
    done : the day it was done; None: not given.
    flight : when the flight is.
    """
    if done is None:
        return not_shown(id, name, source)
    future = _not_after(done, flight)
    paper = Paper(id, name, source, Standing.CURRENT, done, left=missing("left", "days", "it does not run out"))
    return _of_the_future(paper, future) if future else paper


def until(id: str, name: str, source: Source, good_through: date | None, flight: Occasion) -> Paper:
    """Return a paper that has the last day that it is good for marked on it.

    Parameters
    ----------
    id, name, source : what it is, and the rule.
    good_through : that day; None: not given.
    flight : when the flight is.
    """
    if good_through is None:
        return not_shown(id, name, source)
    return _dated(Paper(id, name, source, Standing.CURRENT), good_through, "as marked", flight)


def by_hours(id: str, due: HoursLeft, flight: Occasion) -> Paper:
    """Return something that is due by time in service.

    Parameters
    ----------
    id : its name in the program.
    due : what is left before the flight; nothing left is as good as past.
    flight : with how much time in service [h] it will add.
    """
    if due.left_h is None:
        return not_shown(id, due.name, due.source, "hours", "h")
    left = stated("left", "h", due.left_h, "as given", due.source, step="left before the flight")
    paper = Paper(id, due.name, due.source, Standing.CURRENT, left=left)
    if due.left_h <= 0:
        return paper._replace(standing=Standing.EXPIRED, reason="nothing left of its hours")
    if flight.hours is None:
        reason = "how long the flight is, in time in service, is not given"
        return paper._replace(standing=Standing.NOT_SHOWN, reason=reason)
    if flight.hours > due.left_h:
        takes, left_h = up(flight.hours, 0.1), down(due.left_h, 0.1)
        reason = f"the flight takes {takes:.1f}\u00a0h, and {left_h:.1f}\u00a0h are left"
        return paper._replace(standing=Standing.RUNS_OUT, reason=reason)
    return paper


def not_shown(id: str, name: str, source: Source, what: str = "date", unit: str = "days") -> Paper:
    """Return a paper of which something was not given: never taken as good.

    Parameters
    ----------
    id, name, source : what it is, and the rule.
    what : what was not given.
    unit : what is left of it is in.
    """
    reason = f"no {what} given"
    return Paper(id, name, source, Standing.NOT_SHOWN, left=missing("left", unit, reason), reason=reason)


def answered(
    id: str, name: str, source: Source, answers: dict[str, bool | None], *, no: str = "not there", rest: str = ""
) -> Paper:
    """Return a paper that is a list of things, each confirmed, denied, or not answered.

    Parameters
    ----------
    id, name, source : what it is, and the rule.
    answers : the things in their order.
    no : what is said of one that is denied.
    rest : what else the rule asks for that is not looked at.
    """
    denied = [thing for thing, there in answers.items() if there is False]
    silent = [thing for thing, there in answers.items() if there is None]
    said = [f"{no}: {', '.join(denied)}"] if denied else []
    said += [f"not answered: {', '.join(silent)}"] if silent else []
    standing = Standing.NOT_MET if denied else Standing.NOT_SHOWN if silent else Standing.CURRENT
    return Paper(id, name, source, standing, reason="; ".join(filter(None, (*said, rest))))


def _dated(paper: Paper, through: date, detail: str, flight: Occasion) -> Paper:
    """Return a paper with its standing, from the day that it is good through."""
    future = _not_after(paper.done, flight)
    if future:
        return _of_the_future(paper._replace(good_through=through), future)
    days, standing, reason = (through - flight.first_day).days, Standing.CURRENT, ""
    if days < 0:
        standing, reason = Standing.EXPIRED, f"it ran out on {through}"
    elif through < flight.last_day:
        standing, reason = Standing.RUNS_OUT, f"it runs out on {through}, the flight ends on {flight.last_day}"
    words = f"{detail}: through {through}, less {flight.first_day}"
    left = stated("left", "days", days, words, paper.source, step="days left")
    return paper._replace(good_through=through, left=left, standing=standing, reason=reason)


def _not_after(done: date | None, flight: Occasion) -> str:
    """Return why what was done on a day does not count: it is dated later than it can have been; else ''."""
    return f"it is dated {done}, {too_late(flight)}" if done and done > flight.latest else ""


def _of_the_future(paper: Paper, reason: str) -> Paper:
    return paper._replace(standing=Standing.NOT_SHOWN, reason=reason, left=missing("left", "days", reason))


def too_late(flight: Occasion) -> str:
    """Return after what something is dated that does not count for a flight."""
    if flight.known_day and flight.known_day <= flight.first_day:
        return f"after as_of, {flight.known_day}"
    return "after the flight"

"""Sunrise, sunset and civil twilight at a place, and the three nights that the rules know.

Times are aware datetimes, worked in UTC. A day is the solar day of the place, from one midnight of its local mean
time to the next: so the evening that a time belongs to is never the one before or after, whatever the longitude.
Sunrise and sunset: the sun's centre is 50 minutes of arc below a flat horizon at sea level, so that its upper limb
shows; civil twilight: its centre is 6 degrees below (US Naval Observatory; read). Height above the sea is left out,
as the almanacs do.

`astral` is asked only for the height of the sun's centre at a time, without the refraction that it adds by itself:
that makes its dusk late by about 0.4 min, the unsafe side. So asked, the times are early or late, to neither side,
by less than 0.1 min to 55° of latitude, 0.25 to 65°, and half a minute within a few days of where there is no night
any more (measured against a numerical ephemeris). What is printed goes to the whole minute on the safe side: sunset
and dusk down, dawn and sunrise up, so that the night that is printed is never the shorter one. Nights begin and end
at those minutes.

Hills, haze and cloud make it dark sooner than any of this says.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import NamedTuple

from briefgen.calc.sun import HALF_DAY, crossing, height, noon, solar_day
from briefgen.figures import Figure, Source, Step, missing, stated
from briefgen.model.route import Spot

DAY_RESERVE_MIN, NIGHT_RESERVE_MIN = 30.0, 45.0  # 14 CFR 91.151(a), at normal cruise (read)
RULE = Source("14 CFR 91.151(a)", "regulation")
HORIZON_DEG = -50 / 60  # of the sun's centre, at sunrise and sunset: USNO definitions (read)
PLAINLY_DAY_DEG = 1.0  # of the sun's centre: sunset is some minutes away
STEEP_DEG = 60.0  # of latitude, to which the sun's height rises and sinks once a day however its declination moves
TWILIGHT_DEG = -6.0  # at the beginning and end of civil twilight: USNO definitions (read)
SUN = Source("sun's position by astral (NOAA's formulas); angles of the US Naval Observatory", "published")

UP_ALL_DAY = "the sun is up all day"
NEVER_RISES = "the sun never rises"
NO_NIGHT = "no night: twilight lasts until the morning"
NO_DAY = "night all day: not even twilight"

_TO_MIDNIGHT = timedelta(hours=12, minutes=1)  # and what noon moves by from day to day
_MIN = timedelta(minutes=1)
_DAY_RESERVE = timedelta(minutes=DAY_RESERVE_MIN)

Span = tuple[datetime, datetime]


class Event(NamedTuple):
    """One event of a solar day: when it is, in UTC, or why it is not.

    `minutes` counts from 00:00 UTC of the day that was asked about.
    """

    name: str
    at: datetime | None
    minutes: float | None
    reason: str
    rises: bool
    detail: str

    @property
    def whole(self) -> datetime | None:
        """The time as it is printed, to the whole minute; None where there is none."""
        return None if self.at is None else _to_minute(self.at, upward=self.rises)

    @property
    def printed(self) -> str:
        """The time to the whole minute, an evening's down, a morning's up; the reason where there is none."""
        if self.at is None:
            return self.reason
        return _said(self.at, upward=self.rises)

    @property
    def figure(self) -> Figure:
        """The event as a figure [min after 00:00 UTC of the day that was asked about], with its step."""
        if self.minutes is None:
            return missing(self.name, "min", self.reason)
        step = Step(self.name, self.name, self.detail, None, self.minutes, "min", SUN)
        return Figure(self.name, "min", self.minutes, (step,), printed=self.printed)


class SunDay(NamedTuple):
    """The four events of one solar day, in their order."""

    dawn: Event
    sunrise: Event
    sunset: Event
    dusk: Event


class Night(NamedTuple):
    """One night of the rules: below which angle [deg] it is, and how long after and before that [min]."""

    id: str
    used_for: str
    angle_deg: float
    after_min: float
    source: Source


LIGHTS = Night("lights", "position lights", HORIZON_DEG, 0, Source("14 CFR 91.209(a)", "regulation"))
LOGGED = Night("logged", "logging, and the fuel reserve", TWILIGHT_DEG, 0, Source("14 CFR 1.1", "regulation"))
PASSENGERS = Night(
    "passengers", "carrying persons, and its recency", HORIZON_DEG, 60, Source("14 CFR 61.57(b)(1)", "regulation")
)
NIGHTS = (LIGHTS, LOGGED, PASSENGERS)


class Touched(NamedTuple):
    """How a span of time lies in one night. `parts` are the spans inside it; none: not touched."""

    night: Night
    parts: tuple[Span, ...]

    @property
    def minutes(self) -> float:
        """How long the span is inside the night [min]."""
        return sum((end - start) / _MIN for start, end in self.parts)

    @property
    def begins(self) -> str:
        """When the span is first inside, to the minute before; empty where it never is."""
        return _said(self.parts[0][0]) if self.parts else ""


def sun_day(at: datetime, place: Spot) -> SunDay:
    """Return dawn, sunrise, sunset and dusk of the solar day of a place that a time is in.

    Parameters
    ----------
    at : an aware time.
    place : where; past 89.8 degrees of latitude the sun of 89.8 degrees is taken.

    Raises
    ------
    ValueError : the time is not aware of its zone.

    >>> from datetime import datetime, timezone
    >>> evening = sun_day(datetime(2018, 9, 12, 23, 0, tzinfo=timezone.utc), Spot(40.8939, -83.8917))
    >>> evening.sunrise.printed, evening.sunset.printed
    ('11:14Z', '23:49Z')
    """
    at = _utc(at)
    day = solar_day(at, place)
    midnight = at.replace(hour=0, minute=0, second=0, microsecond=0)

    def event(name: str, angle_deg: float, rises: bool) -> Event:
        when = crossing(place, day, angle_deg, rises=rises)
        minutes = None if when is None else (when - midnight) / _MIN
        reason = "" if when else _why_not(place, day, angle_deg)
        detail = f"sun's centre {-angle_deg:.2f}° below a sea-level horizon at {place}, solar day {day}"
        return Event(name, when, minutes, reason, rises, detail)

    return SunDay(
        event("beginning of civil twilight", TWILIGHT_DEG, True),
        event("sunrise", HORIZON_DEG, True),
        event("sunset", HORIZON_DEG, False),
        event("end of civil twilight", TWILIGHT_DEG, False),
    )


def nights(span: Span, places: Iterable[Spot]) -> tuple[Touched, ...]:
    """Return how a flight lies in each of the three nights.

    The airplane is anywhere between its places meanwhile, so it counts as night when it is night at any of them:
    the earliest dusk and the latest dawn, on the safe side. For takeoffs and landings that are to count towards
    recency that is not the safe side: ask at their own place.

    Parameters
    ----------
    span : from when to when, aware times, the second not before the first, a month at the most.
    places : where the flight begins, turns and ends; one at least.

    Raises
    ------
    ValueError : a time is not aware of its zone, the span is turned about or over a month, or no place is given.
    """
    span = _checked(span)
    places = _doubtful(span, places)
    return tuple(_touched(night, span, places) for night in NIGHTS)


def _checked(span: Span) -> Span:
    """Return a span in UTC."""
    span = _utc(span[0]), _utc(span[1])
    if not timedelta(0) <= span[1] - span[0] <= timedelta(days=31):
        raise ValueError("a span begins before it ends, and is no longer than a month")
    return span


def _doubtful(span: Span, places: Iterable[Spot]) -> tuple[Spot, ...]:
    """Return the places, each once, where some night may touch a flight or the reserve by day after it."""
    found = tuple(dict.fromkeys(places))
    if not found:
        raise ValueError("a flight has one place at least")
    return tuple(place for place in found if not _by_day(*span, place))


def _touched(night: Night, span: Span, places: Iterable[Spot]) -> Touched:
    return Touched(night, _merged(part for place in places for part in _dark(night, span, place)))


@lru_cache(maxsize=256)  # asked for the nights and again for the reserve
def _by_day(start: datetime, end: datetime, place: Spot) -> bool:
    """Say whether a flight and the day's reserve are by day with so much to spare that no sunset need be worked.

    Within one solar day the sun rises to noon and sinks from it, so it is lowest at an end of that time.
    """
    end += _DAY_RESERVE
    if abs(place.latitude_deg) > STEEP_DEG or solar_day(start, place) != solar_day(end, place):
        return False
    return all(height(place, at) > PLAINLY_DAY_DEG for at in (start, end))


def reserve(span: Span, places: Iterable[Spot]) -> Figure:
    """Return the reserve that the rule asks for [min]: that of the night if any of the flight or reserve is in it.

    The reserve begins at the end of the flight; it is by day if all 30 minutes of the day's reserve are.

    Parameters
    ----------
    span : from takeoff to landing, aware times.
    places : where the flight begins, turns and ends; one at least.

    Raises
    ------
    ValueError : as for `nights`.

    Source: 14 CFR 91.151(a) with the night of 1.1 (read); that one minute of it makes it a night's: the safe side.
    """
    span = _checked(span)
    with_reserve = span[0], span[1] + _DAY_RESERVE
    touched = _touched(LOGGED, with_reserve, _doubtful(span, places))
    minutes = NIGHT_RESERVE_MIN if touched.parts else DAY_RESERVE_MIN
    until = _said(with_reserve[1], upward=True)
    detail = f"night from {touched.begins}" if touched.parts else f"flight and reserve, to {until}, by day"
    label = "reserve of the rule"
    return Figure(label, "min", minutes, (Step("reserve", label, detail, None, minutes, "min", RULE),))


def minutes_to_sunset(at: datetime, place: Spot) -> Figure:
    """Return how long it is until the sun sets [min]; negative: how long ago it set, while it is down.

    Parameters
    ----------
    at : an aware time.
    place : where.

    Raises
    ------
    ValueError : the time is not aware of its zone.
    """
    at, label = _utc(at), "time to sunset"
    sunset, reason = evening_of(at, place)
    if sunset is None:
        return missing(label, "min", reason)
    minutes = (sunset - at) / _MIN
    detail = f"sunset {_said(sunset)} at {place}, less {_said(at)}"
    return stated(label, "min", minutes, detail, SUN)


def evening_of(at: datetime, place: Spot) -> tuple[datetime | None, str]:
    """Return the sunset that a time is to be held against, or why there is none.

    By day the next one, while the sun is down the last one.

    Parameters
    ----------
    at : an aware time.
    place : where.

    Raises
    ------
    ValueError : the time is not aware of its zone.
    """
    at, day = _utc(at), 2 * HALF_DAY
    rise, set_ = (crossing(place, solar_day(at, place), HORIZON_DEG, rises=rises) for rises in (True, False))
    if rise and set_ and rise <= at < set_:
        return set_, ""
    lit = _lit(HORIZON_DEG, (at - day, at + day), place)
    sunset = next((end for start, end in lit if start <= at < end), None)
    if sunset and sunset - at > day:
        return None, UP_ALL_DAY
    sunset = sunset or max((end for _, end in lit if end <= at), default=at - 2 * day)
    if at - sunset > day:
        return None, NEVER_RISES
    return sunset, ""


def _utc(at: datetime) -> datetime:
    if at.tzinfo is None:
        raise ValueError(f"{at} does not say in which zone it is")
    return at.astimezone(UTC)


def _said(at: datetime, *, upward: bool = False) -> str:
    return f"{_to_minute(at, upward=upward):%H:%M}Z"


def _to_minute(at: datetime, *, upward: bool) -> datetime:
    """Return a time as it is printed, to the whole minute."""
    whole = at.replace(second=0, microsecond=0)
    return whole + _MIN if upward and at > whole else whole


def _why_not(place: Spot, day: date, angle_deg: float) -> str:
    """Return why the sun does not pass an angle on a day: it stays above, or below."""
    above = height(place, noon(place, day)) > angle_deg
    if angle_deg == HORIZON_DEG:
        return UP_ALL_DAY if above else NEVER_RISES
    return NO_NIGHT if above else NO_DAY


def _lit(angle_deg: float, span: Span, place: Spot) -> tuple[Span, ...]:
    """Return the spans in which the sun is above an angle, on the days of a span, one before and one after."""
    day, last = (solar_day(at, place) for at in span)
    found = []
    day -= timedelta(days=1)
    while day <= last + timedelta(days=1):
        highest = noon(place, day)
        if height(place, highest) > angle_deg:
            rise, set_ = (crossing(place, day, angle_deg, rises=rises) for rises in (True, False))
            found.append((rise or highest - _TO_MIDNIGHT, set_ or highest + _TO_MIDNIGHT))
        day += timedelta(days=1)
    return _merged(found)


def _merged(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Return spans in order, those that overlap or meet made one."""
    found: list[Span] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = found[-1][0], max(end, found[-1][1])
        else:
            found.append((start, end))
    return tuple(found)


def _dark(night: Night, span: Span, place: Spot) -> tuple[Span, ...]:
    """Return the parts of a span that are in a night at one place; where they only meet, a part of no length."""
    longer, day = timedelta(minutes=night.after_min), 2 * HALF_DAY
    lit = _merged(
        (_to_minute(rise, upward=True) - longer, _to_minute(set_, upward=False) + longer)
        for rise, set_ in _lit(night.angle_deg, span, place)
    )
    ends = [span[0] - day, *(set_ for _, set_ in lit)]
    begins = [*(rise for rise, _ in lit), span[1] + day]
    gaps = ((max(dusk, span[0]), min(dawn, span[1])) for dusk, dawn in zip(ends, begins, strict=True))
    return tuple((dusk, dawn) for dusk, dawn in gaps if dusk <= dawn)

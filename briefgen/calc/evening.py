"""The light of one flight: when it lands, the sun at its fields, the nights that it touches, the rule's reserve.

The times are those of the route, or of circuits, which know nothing of the reserve: it can be worked from them.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import NamedTuple

from briefgen.calc.daylight import LOGGED, NEVER_RISES, SUN, SunDay, Touched, evening_of, nights, reserve, sun_day
from briefgen.calc.legs import Navigation
from briefgen.figures import Figure, Source, Step, missing
from briefgen.model.route import Spot
from briefgen.model.strip import Strip
from briefgen.model.trip import Trip
from briefgen.units import up

NO_TIME = "the trip file gives no 'takeoff_time'"
ETA = Source("takeoff time and the times of the way, rounded up to the minute", "standard")
CRUISE_ONLY = "no climb was worked: the way as if in cruise, so the landing may be later"

_MIN = timedelta(minutes=1)


class FieldSun(NamedTuple):
    """The sun at one field of a trip on the evening that its time is held against.

    `at` is the takeoff at the departure, the ETA elsewhere; `sunset` None: there is none, and `reason` says why.
    """

    role: str  # departure, destination, alternate
    name: str
    spot: Spot
    at: datetime
    sunset: datetime | None
    reason: str

    @property
    def day(self) -> SunDay:
        """Its morning is that of the solar day of `at`, its evening the one of that sunset.

        After midnight the morning is still to come, while the evening is the one before.
        """
        morning = sun_day(self.at, self.spot)
        evening = sun_day(self.sunset or self.at, self.spot)
        return evening._replace(dawn=morning.dawn, sunrise=morning.sunrise)

    @property
    def after_sunset(self) -> bool:
        """Whether the time is later than sunset, to the whole minute; where the sun never rises, it is."""
        if self.sunset is None:
            return self.reason == NEVER_RISES
        return self.at > self.sunset.replace(second=0, microsecond=0)

    @property
    def night(self) -> bool:
        """Whether the time is in the night of 14 CFR 1.1, at this place alone."""
        return any(each.parts for each in nights((self.at, self.at), (self.spot,)) if each.night is LOGGED)

    @property
    def before_sunrise_min(self) -> float | None:
        """Minutes to the sunrise as it is printed, in the dark past the place's midnight; None at other times."""
        sunrise = self.day.sunrise.at
        if not self.after_sunset or sunrise is None or sunrise <= self.at:
            return None
        return up((sunrise - self.at) / _MIN)

    @property
    def dark(self) -> str:
        """In which dark the time is, in words; '' in daylight."""
        if not self.after_sunset:
            return ""
        if self.before_sunrise_min is not None:
            return f"{self.before_sunrise_min:.0f}\u00a0min before sunrise"
        return "after sunset" if self.sunset else self.reason


class Evening(NamedTuple):
    """The light of a flight. `landing` is the ETA, rounded up.

    `need` is from takeoff to landing, `have` from takeoff to sunset at the destination, both in minutes and
    unrounded; `estimate` says why the landing may be later, '' where nothing is left out of it.
    """

    takeoff: datetime
    landing: datetime
    fields: tuple[FieldSun, ...]
    nights: tuple[Touched, ...]
    reserve: Figure
    need: Figure
    have: Figure
    estimate: str

    @property
    def destination(self) -> FieldSun:
        """The sun at the destination."""
        return self.fields[1]


def evening(trip: Trip, navigation: Navigation | None) -> tuple[Evening | None, str]:
    """Return the light of a trip; or None, and why it could not be worked.

    Parameters
    ----------
    trip : its takeoff time, its fields; circuits where it has no route.
    navigation : its route, worked.
    """
    takeoff, minutes, reason = _times(trip, navigation)
    if takeoff is None or reason:
        return None, reason or NO_TIME
    landing, onward = reached(takeoff, navigation or minutes)
    assert landing, "a way that cannot be worked has its reason"
    home = _spot(trip.arrival.use.strip)
    places = [_spot(trip.departure.use.strip), home, *_ends(navigation)]
    fields = tuple(_fields(trip, takeoff, landing, onward))
    span = takeoff, landing
    estimate = CRUISE_ONLY if navigation and not navigation.climbed else ""
    detail = f"takeoff {takeoff:%H:%M}Z, landing {landing:%H:%M}Z, rounded up"
    need = Figure(
        "takeoff to landing",
        "min",
        minutes,
        (Step("eta", "takeoff to landing", detail, None, minutes, "min", ETA),),
        estimate=bool(estimate),
    )
    return Evening(
        takeoff,
        landing,
        fields,
        nights(span, places),
        reserve(span, places),
        need,
        _have(takeoff, fields[1]),
        estimate,
    ), ""


def reached(takeoff: datetime, way: Navigation | float) -> tuple[datetime | None, datetime | None]:
    """Return when the destination is reached and when the alternate is, to the minute, up; None: not known.

    Parameters
    ----------
    takeoff : an aware time.
    way : the route worked, or how long circuits take [min].
    """
    if isinstance(way, float):
        return takeoff + up(way) * _MIN, None
    if way.refused or way.climb_reason:
        return None, None
    onward = takeoff + up(way.minutes + way.alternate.time.known) * _MIN if way.alternate else None
    return takeoff + up(way.minutes) * _MIN, onward


def _times(trip: Trip, navigation: Navigation | None) -> tuple[datetime | None, float, str]:
    """Return the takeoff, and the minutes from it to the landing; a reason where those could not be worked."""
    if trip.route and navigation:
        refused = navigation.refused[0][1].reason if navigation.refused else ""
        if navigation.climb_reason:
            refused = refused or f"no climb could be worked: {navigation.climb_reason}"
        return trip.takeoff_time, navigation.minutes, refused if trip.takeoff_time else ""
    if trip.fuel is None or trip.fuel.circuits_s is None:
        return None, 0.0, ""
    return trip.takeoff_time, trip.fuel.circuits_s / 60, ""


def _have(takeoff: datetime, field: FieldSun) -> Figure:
    label = "takeoff to sunset"
    if field.sunset is None:
        return missing(label, "min", field.reason)
    minutes = (field.sunset - takeoff) / _MIN
    detail = f"sunset {field.sunset:%H:%M}Z at {field.name}, {field.spot}; takeoff {takeoff:%H:%M}Z"
    return Figure(label, "min", minutes, (Step("sunset", label, detail, None, minutes, "min", SUN),))


def _spot(strip: Strip) -> Spot:
    return Spot(strip.latitude_deg, strip.longitude_deg)


def _ends(navigation: Navigation | None) -> Iterator[Spot]:
    """Return where the legs end."""
    for each in navigation.legs if navigation else ():
        yield each.end


def _fields(trip: Trip, takeoff: datetime, landing: datetime, onward: datetime | None) -> Iterator[FieldSun]:
    """Return the sun at the departure, the destination, and the alternate where the way to it is worked."""
    yield _field("departure", trip.departure.use.strip, takeoff)
    yield _field("destination", trip.arrival.use.strip, landing)
    if onward and trip.alternate:
        yield _field("alternate", trip.alternate.use.strip, onward)


def _field(role: str, strip: Strip, at: datetime) -> FieldSun:
    spot = _spot(strip)
    sunset, reason = evening_of(at, spot)
    return FieldSun(role, strip.name, spot, at, sunset, reason)

"""Where the sun is: how high at a time, when highest on a day, when it passes a height.

`astral` is asked only for the height of the sun's centre, without refraction.
"""

from datetime import UTC, date, datetime, timedelta, timezone
from functools import cache
from math import acos, cos, pi, radians, sin

from briefgen.model.route import Spot

HALF_DAY = timedelta(hours=12)
_SECOND_H = 1 / 3600
_TURN = pi / 12  # of the sun in an hour [rad]


def _zone(place: Spot) -> timezone:
    """Return local mean time: four minutes for each degree. With UTC, astral would give another evening."""
    return timezone(timedelta(seconds=round(240 * place.longitude_deg)))


def solar_day(at: datetime, place: Spot) -> date:
    """Return the day of a place's local mean time that an aware time is in."""
    return at.astimezone(_zone(place)).date()


@cache
def noon(place: Spot, day: date) -> datetime:
    """Return when the sun is highest on a solar day, in UTC."""
    from astral import Observer, sun

    return sun.noon(Observer(*place, 0.0), day, UTC)


def height(place: Spot, at: datetime) -> float:
    """Return how high the sun's centre is [deg], without refraction."""
    from astral import Observer
    from astral.sun import elevation

    return elevation(Observer(*place, 0.0), at, with_refraction=False)


@cache
def crossing(place: Spot, day: date, angle_deg: float, *, rises: bool) -> datetime | None:
    """Return when the sun passes an angle on a solar day, to the second; None where it does not.

    Between midnight and noon, the second that is still day: astral's own rising and setting may be those of the
    next day east of Greenwich, and stop short within a few days of where there is no night. Were the sun's
    declination to stand still, the sine of its height would go with the cosine of the time from noon; so the first
    guess is all but right, and the next ones, a second to its side, close in on it. Halving does the rest.
    """
    highest, side = noon(place, day), -1 if rises else 1
    wanted = sin(radians(angle_deg))

    def at(hours: float) -> datetime:
        return highest + side * timedelta(hours=hours)

    def sine(hours: float) -> float:
        return sin(radians(height(place, at(hours))))

    day_h, night_h = 0.0, 12.0
    by_day, by_night = sine(day_h), sine(night_h)
    if not by_night < wanted < by_day:
        return None
    guesses = 0
    while night_h - day_h > _SECOND_H:
        guesses += 1
        tried_h = _guessed(wanted, (day_h, by_day), (night_h, by_night)) if guesses <= 6 else (day_h + night_h) / 2
        tried = sine(tried_h)
        if tried < wanted:
            night_h, by_night = tried_h, tried
        else:
            day_h, by_day = tried_h, tried
    return at(day_h)


def _guessed(wanted: float, by_day: tuple[float, float], by_night: tuple[float, float]) -> float:
    """Return the time from noon [h] at which the sine of the sun's height is the wanted one, between two known.

    Moved by most of a second towards the further of the two, so that the next two enclose it.
    """
    (day_h, day_sine), (night_h, night_sine) = by_day, by_night
    day_cosine, night_cosine = cos(_TURN * day_h), cos(_TURN * night_h)
    share = (wanted - night_sine) / (day_sine - night_sine)
    found = acos(night_cosine + share * (day_cosine - night_cosine)) / _TURN
    step = 0.4 * _SECOND_H if night_h - found > found - day_h else -0.4 * _SECOND_H
    return min(max(found + step, day_h), night_h)

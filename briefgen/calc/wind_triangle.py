"""The wind triangle, winds aloft, and the way from a true to a compass heading."""

from collections.abc import Sequence
from itertools import pairwise
from math import asin, atan2, cos, degrees, hypot, radians, sin
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Source
from briefgen.model.route import WindAloft

TRIANGLE = Source("wind triangle: PHAK FAA-H-8083-25C ch. 16", "published", "from memory")
RESOLVED = Source("interpolated by height, north and east components apart", "common practice", "no source")


class Triangle(NamedTuple):
    """A wind triangle solved: correction angle [deg, right positive], true heading [deg], ground speed [kt]."""

    correction_deg: float
    heading_deg: float
    ground_speed_kt: float


def solve(course_deg: float, airspeed_kt: float, wind_from_deg: float, wind_kt: float) -> Triangle:
    """Return the heading that holds a course in a wind, and the speed over the ground.

    Parameters
    ----------
    course_deg : true course [deg].
    airspeed_kt : true airspeed [kt], over zero.
    wind_from_deg : where the wind blows from [deg true].
    wind_kt : wind speed [kt], zero or more.

    Raises
    ------
    Refusal : the wind across is as fast as the airplane, or nothing is left of its speed along the course.

    >>> found = solve(90, 120, 45, 40)
    >>> round(found.correction_deg, 2), round(found.heading_deg, 2), round(found.ground_speed_kt, 2)
    (-13.63, 76.37, 88.33)
    """
    angle = radians(wind_from_deg - course_deg)
    across, against = wind_kt * sin(angle), wind_kt * cos(angle)
    if abs(across) >= airspeed_kt:
        raise Refusal(
            f"the wind across the course, {abs(across):.0f} kt, is no less than the airspeed, {airspeed_kt:.0f} kt",
            "wind",
        )
    correction = asin(across / airspeed_kt)
    ground_kt = airspeed_kt * cos(correction) - against
    if ground_kt <= 0:
        raise Refusal(f"a headwind of {against:.0f} kt leaves no speed over the ground", "wind")
    return Triangle(degrees(correction), (course_deg + degrees(correction)) % 360, ground_kt)


def aloft(levels: Sequence[WindAloft], height_ft: float) -> WindAloft:
    """Return the wind at a height between levels that are given: components interpolated, not direction and speed.

    Parameters
    ----------
    levels : one or more, in any order.
    height_ft : height above sea level [ft], from the lowest level to the highest.

    Raises
    ------
    Refusal : the height is below the lowest or above the highest level.
    """
    ordered = sorted(levels)
    for level in ordered:
        if level.height_ft == height_ft:
            return level
    for low, high in pairwise(ordered):
        if low.height_ft < height_ft < high.height_ft:
            share = (height_ft - low.height_ft) / (high.height_ft - low.height_ft)
            east, north = (a + share * (b - a) for a, b in zip(_components(low), _components(high), strict=True))
            return WindAloft(height_ft, degrees(atan2(east, north)) % 360, hypot(east, north))
    given = (
        f"the winds given go from {ordered[0].height_ft:,.0f} to {ordered[-1].height_ft:,.0f} ft"
        if ordered
        else "no winds are given"
    )
    raise Refusal(f"there is no wind for {height_ft:,.0f} ft: {given}", "altitude" if ordered else "no wind")


def _components(level: WindAloft) -> tuple[float, float]:
    return level.speed_kt * sin(radians(level.from_deg)), level.speed_kt * cos(radians(level.from_deg))


def compass_heading(heading_deg: float, card: Sequence[tuple[float, float]]) -> float:
    """Return the compass heading by a deviation card, linear between its entries, round past north.

    Parameters
    ----------
    heading_deg : magnetic heading [deg].
    card : pairs of a magnetic heading, rising from 0 to under 360, and the heading to steer for it.

    >>> compass_heading(120, [(0, 0), (120, 114), (240, 240)]), compass_heading(300, [(0, 2), (240, 240)])
    (114.0, 301.0)
    """
    heading = heading_deg % 360
    points = [(at, (steer - at + 180) % 360 - 180) for at, steer in card]
    around = [(points[-1][0] - 360, points[-1][1]), *points, (points[0][0] + 360, points[0][1])]
    low, high = next(pair for pair in pairwise(around) if pair[0][0] <= heading <= pair[1][0])
    share = (heading - low[0]) / (high[0] - low[0])
    return (heading + low[1] + share * (high[1] - low[1])) % 360

"""Distances and courses over the earth, on the ellipsoid of WGS84.

Source: Karney, 'Algorithms for geodesics', J. Geodesy 87 (2013), as `geographiclib` carries it.
"""

from math import isclose
from typing import NamedTuple

from briefgen.figures import Source
from briefgen.model.route import Spot
from briefgen.units import FT_PER_M, FT_PER_NM

WGS84 = Source("geodesic on WGS84 (Karney 2013)", "published")
_M_PER_NM = FT_PER_NM / FT_PER_M


class Line(NamedTuple):
    """The shortest way between two places: its length [NM], and the true course at its beginning [deg]."""

    distance_nm: float
    course_deg: float


class Halfway(NamedTuple):
    """The middle of a line, and the true course there [deg]."""

    spot: Spot
    course_deg: float


def between(start: Spot, end: Spot) -> Line:
    """Return the distance and the initial course from one place to another.

    >>> line = between(Spot(40.6, -73.8), Spot(49.01666667, 2.55))
    >>> round(line.distance_nm * 1852), round(line.course_deg, 5)
    (5853226, 53.47022)
    """
    from geographiclib.geodesic import Geodesic

    found = Geodesic.WGS84.Inverse(*start, *end)
    return Line(found["s12"] / _M_PER_NM, _course(found["azi1"]))


def along(start: Spot, course_deg: float, distance_nm: float) -> Spot:
    """Return the place that a distance on an initial course leads to.

    Parameters
    ----------
    start : where it begins.
    course_deg : initial course [deg] true.
    distance_nm : length of the way [NM].
    """
    from geographiclib.geodesic import Geodesic

    found = Geodesic.WGS84.Direct(*start, course_deg, distance_nm * _M_PER_NM)
    return Spot(found["lat2"], found["lon2"])


def half_way(start: Spot, line: Line) -> Halfway:
    """Return the middle of a line from a place, and the course there."""
    from geographiclib.geodesic import Geodesic

    found = Geodesic.WGS84.Direct(*start, line.course_deg, line.distance_nm / 2 * _M_PER_NM)
    return Halfway(Spot(found["lat2"], found["lon2"]), _course(found["azi2"]))


def _course(azimuth_deg: float) -> float:
    """Return an azimuth as a course from 0 to 360 degrees, north as 0 however close it is from below."""
    course = azimuth_deg % 360
    return 0.0 if isclose(course, 360.0, abs_tol=1e-9) else course

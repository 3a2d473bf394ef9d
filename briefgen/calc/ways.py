"""Where each leg of a route goes: its end, its course, its length, and the variation along it."""

from typing import NamedTuple

from briefgen.calc.geodesic import WGS84, along, between, half_way
from briefgen.calc.performance import TYPED
from briefgen.calc.variation import MODEL, variation
from briefgen.figures import Source, Step
from briefgen.model.route import Leg, Route, Spot

SHORTEST_NM = 0.1  # what is printed: a leg under it has no length


class Way(NamedTuple):
    """Where a leg goes: its end, true course [deg], length [NM], variation [deg east], and where those are from."""

    end: Spot
    course_deg: float
    distance_nm: float
    variation_deg: float
    variation_step: tuple[str, Source]
    steps: tuple[Step, ...]
    measured: tuple[str, Source]
    turns_deg: float = 0.0


def way_of(leg: Leg, here: Spot, route: Route) -> Way:
    """Return where a leg goes from a place: to a position, or by a typed course and distance.

    Raises
    ------
    Refusal : the magnetic model does not hold for the date.
    """
    return _typed_course(leg, here, route) if leg.position is None else _to_position(leg, leg.position, here, route)


def _to_position(leg: Leg, end: Spot, here: Spot, route: Route) -> Way:
    """Return the shortest way to a position, by its course half-way, to which both ends are nearest."""
    line = between(here, end)
    half = half_way(here, line)
    turns_deg = abs((half.course_deg - line.course_deg + 180) % 360 - 180) * 2
    east_deg, known = _variation(leg, half.spot, route)
    detail = f"{here} to {end}"
    course = Step("course", "true course half-way", detail, None, half.course_deg, "deg", WGS84)
    whence = (detail, WGS84)
    return Way(end, half.course_deg, line.distance_nm, east_deg, known, (course,), whence, turns_deg)


def _typed_course(leg: Leg, here: Spot, route: Route) -> Way:
    """Return the way of a course and a distance as typed; a magnetic one takes the variation where it begins."""
    assert leg.course_deg is not None
    assert leg.distance_nm is not None
    east_deg, known = _variation(leg, here, route)
    true_deg = (leg.course_deg + east_deg) % 360 if leg.course_magnetic else leg.course_deg % 360
    reference = "magnetic" if leg.course_magnetic else "true"
    steps = [Step("course", f"{reference} course", "as typed", None, leg.course_deg, "deg", TYPED)]
    if leg.course_magnetic:
        steps.append(
            Step("course", "true course", f"variation {known[0]}", leg.course_deg, true_deg, "deg", known[1])
        )
    end = along(here, true_deg, leg.distance_nm)
    return Way(end, true_deg, leg.distance_nm, east_deg, known, tuple(steps), ("as typed", TYPED))


def _variation(leg: Leg, at: Spot, route: Route) -> tuple[float, tuple[str, Source]]:
    """Return a leg's variation [deg east], its words and source: the leg's own, the route's, else the model's."""
    typed = route.variation_deg if leg.variation_deg is None else leg.variation_deg
    if typed is not None:
        return typed, (said(typed), TYPED)
    found = variation(*at, leg.altitude_ft, route.year)
    return found, (f"{said(found)} at {at}, {route.year:.1f}", MODEL)


def said(east_deg: float) -> str:
    """Return a variation in words.

    >>> said(-5.5)
    '5.5° W'
    """
    return f"{abs(east_deg):.1f}° {'E' if east_deg >= 0 else 'W'}"


def to_the_field(way: Way, route: Route) -> Way:
    """Return the last leg with what its typed course and distance leave to the field counted as flown too."""
    if route.end_position is None or way.measured[1] is not TYPED:
        return way
    gap_nm = between(way.end, route.end_position).distance_nm
    if gap_nm < SHORTEST_NM:
        return way
    detail = f"as typed, and {gap_nm:.2f}\u00a0NM from where that ends to the field"
    return way._replace(distance_nm=way.distance_nm + gap_nm, measured=(detail, TYPED))

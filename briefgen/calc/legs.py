"""Work a route leg by leg: course, wind, heading, ground speed, distance, time and fuel."""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from briefgen.calc.geodesic import WGS84, along, between
from briefgen.calc.variation import MODEL, variation
from briefgen.calc.wind_triangle import RESOLVED, TRIANGLE, Triangle, aloft, compass_heading, solve
from briefgen.errors import Refusal
from briefgen.figures import Figure, Source, Step
from briefgen.model.aircraft import Deviation
from briefgen.model.route import Leg, Route, Spot, WindAloft

TYPED = Source("trip file", "pilot")
BY_SPEED = Source("distance by ground speed", "standard")
SHORTEST_NM = 0.1  # what is printed: a leg under it has no length


class LegWorked(NamedTuple):
    """One leg worked. `course_deg` is true, `magnetic_course_deg` magnetic; `compass` None without a card."""

    leg: Leg
    course_deg: float
    magnetic_course_deg: float
    wind: WindAloft
    distance: Figure  # NM
    heading: Figure  # deg magnetic
    compass: Figure | None  # deg
    ground_speed: Figure  # kt
    time: Figure  # min
    fuel: Figure  # gal, by the book


class Navigation(NamedTuple):
    """A route worked. `refused` are the legs that could not be, by their index, each with the reason."""

    legs: tuple[LegWorked, ...]
    end: Spot
    refused: tuple[tuple[int, Refusal], ...] = ()

    @property
    def distance_nm(self) -> float:
        """The sum of the legs' distances."""
        return sum(each.distance.known for each in self.legs)

    @property
    def minutes(self) -> float:
        """The sum of the legs' times."""
        return sum(each.time.known for each in self.legs)

    @property
    def fuel_gal(self) -> float:
        """The sum of the legs' fuel, by the book."""
        return sum(each.fuel.known for each in self.legs)


class _Way(NamedTuple):
    """Where a leg goes: its end, true course [deg], length [NM], variation [deg east], and where those are from."""

    end: Spot
    course_deg: float
    distance_nm: float
    variation_deg: float
    variation_step: tuple[str, Source]
    steps: tuple[Step, ...]
    measured: tuple[str, Source]


@lru_cache(maxsize=16)  # one route is flown when it is read, and again when the trip is worked
def navigate(route: Route, deviation: Deviation | None = None) -> Navigation:
    """Work every leg of a route that can be worked; one whose end is not known stops the rest."""
    here, worked, refused = route.start_position, [], []
    for i, leg in enumerate(route.legs):
        try:
            way = _typed_course(leg, here, route) if leg.position is None else _to_position(leg, here, route)
        except Refusal as refusal:
            refused.append((i, refusal))
            break
        here = way.end
        try:
            worked.append(_work(leg, way, route.winds, deviation))
        except Refusal as refusal:
            refused.append((i, refusal))
    return Navigation(tuple(worked), here, tuple(refused))


def _to_position(leg: Leg, here: Spot, route: Route) -> _Way:
    assert leg.position is not None
    line = between(here, leg.position)
    middle = along(here, line.course_deg, line.distance_nm / 2)
    east_deg, known = _variation(leg, middle, route)
    detail = f"{here} to {leg.position}"
    course = Step("course", "true course at the start", detail, None, line.course_deg, "deg", WGS84)
    return _Way(leg.position, line.course_deg, line.distance_nm, east_deg, known, (course,), (detail, WGS84))


def _typed_course(leg: Leg, here: Spot, route: Route) -> _Way:
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
    return _Way(end, true_deg, leg.distance_nm, east_deg, known, tuple(steps), ("as typed", TYPED))


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


def _work(leg: Leg, way: _Way, winds: Sequence[WindAloft], deviation: Deviation | None) -> LegWorked:
    if way.distance_nm < SHORTEST_NM:
        raise Refusal(f"the leg to {leg.to} has no length: it ends where it begins", "length")
    wind = leg.wind or aloft(winds, leg.altitude_ft)
    found = solve(way.course_deg, leg.airspeed_kt, wind.from_deg, wind.speed_kt)
    magnetic_deg = (found.heading_deg - way.variation_deg) % 360
    minutes = way.distance_nm / found.ground_speed_kt * 60
    detail, by = way.measured
    speed = Step("ground speed", "ground speed", wind_said(wind), None, found.ground_speed_kt, "kt", TRIANGLE)
    return LegWorked(
        leg=leg,
        course_deg=way.course_deg,
        magnetic_course_deg=(way.course_deg - way.variation_deg) % 360,
        wind=wind,
        distance=_figure("distance", "NM", way.distance_nm, detail, by),
        heading=Figure("magnetic heading", "deg", magnetic_deg, _heading(leg, way, wind, found)),
        compass=_compass(magnetic_deg, deviation),
        ground_speed=Figure("ground speed", "kt", found.ground_speed_kt, (*_wind_steps(leg, wind), speed)),
        time=_figure(
            "time",
            "min",
            minutes,
            f"{way.distance_nm:.2f}\u00a0NM at {found.ground_speed_kt:.1f}\u00a0kt",
            BY_SPEED,
        ),
        fuel=_figure(
            "fuel",
            "gal",
            minutes / 60 * leg.flow_galh,
            f"{minutes:.1f}\u00a0min at {leg.flow_galh:g}\u00a0gal/h",
            TYPED,
        ),
    )


def _heading(leg: Leg, way: _Way, wind: WindAloft, found: Triangle) -> tuple[Step, ...]:
    """Return the steps from the course to the magnetic heading."""
    side = "right" if found.correction_deg >= 0 else "left"
    into = (
        f"wind {wind_said(wind)}, airspeed {leg.airspeed_kt:.0f}\u00a0kt: {abs(found.correction_deg):.1f}° {side}"
    )
    words, by = way.variation_step
    magnetic_deg = (found.heading_deg - way.variation_deg) % 360
    return (
        *way.steps,
        Step("heading", "true heading", into, way.course_deg, found.heading_deg, "deg", TRIANGLE),
        Step("heading", "magnetic heading", f"variation {words}", found.heading_deg, magnetic_deg, "deg", by),
    )


def _figure(label: str, unit: str, value: float, detail: str, source: Source) -> Figure:
    return Figure(label, unit, value, (Step(label, label, detail, None, value, unit, source),))


def _wind_steps(leg: Leg, wind: WindAloft) -> tuple[Step, ...]:
    """Return where a leg's wind comes from: nothing to say where it was typed for the leg."""
    if leg.wind is not None:
        return ()
    label = f"wind at {leg.altitude_ft:,.0f}\u00a0ft"
    return (Step("wind", label, wind_said(wind), None, wind.speed_kt, "kt", RESOLVED),)


def wind_said(wind: WindAloft) -> str:
    """Return a wind in words.

    >>> wind_said(WindAloft(3000, 7.2, 12.4))
    '007° at 12\\xa0kt'
    """
    if wind.speed_kt < 0.5:
        return "calm"
    return f"{degrees_said(wind.from_deg)} at {wind.speed_kt:.0f}\u00a0kt"


def degrees_said(angle_deg: float) -> str:
    """Return a direction as three figures, north as 360.

    >>> degrees_said(359.7), degrees_said(7.2)
    ('360°', '007°')
    """
    return f"{round(angle_deg) % 360 or 360:03d}°"


def keeps_cruising_rule(worked: LegWorked, ground_ft: float) -> bool:
    """Say whether a leg's altitude is one of 14 CFR 91.159(a) (read in part): odd thousands and 500 ft to the east.

    Parameters
    ----------
    worked : a leg; its magnetic course counts.
    ground_ft : height of the ground [ft]; to 3,000 ft above it, and from 18,000 ft up, any altitude does.
    """
    altitude_ft = worked.leg.altitude_ft
    if altitude_ft <= ground_ft + 3000 or altitude_ft >= 18_000:
        return True
    odd = worked.magnetic_course_deg < 180
    return (altitude_ft - (1500 if odd else 500)) % 2000 == 0


def _compass(heading_deg: float, deviation: Deviation | None) -> Figure | None:
    if deviation is None:
        return None
    steered = compass_heading(heading_deg, deviation.card)
    by = Source(deviation.source)
    step = Step("compass", "compass heading", "deviation by the card", heading_deg, steered, "deg", by)
    return Figure("compass heading", "deg", steered, (step,))

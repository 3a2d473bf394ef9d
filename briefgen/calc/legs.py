"""Work a route leg by leg: course, wind, heading, ground speed, distance, time and fuel.

A climb by the handbook's table is flown at the beginning of its leg, and is a part of its own; the rest of the leg
is cruise. Descents take cruise figures.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from briefgen.calc.performance import SUM, NoTables, Tables, climbs, cruising, joined, parted
from briefgen.calc.ways import SHORTEST_NM, Way, to_the_field, way_of
from briefgen.calc.wind_triangle import RESOLVED, TRIANGLE, Triangle, aloft, compass_heading, solve
from briefgen.errors import Refusal
from briefgen.figures import Figure, Source, Step, Steps, stated
from briefgen.handbook.climb import Climbed
from briefgen.model.aircraft import Deviation
from briefgen.model.route import Leg, Route, Spot, WindAloft

BY_SPEED = Source("distance by ground speed", "standard")
CARRIED = Source("wind triangle at the climb's mean airspeed, no credit for a tailwind", "standard")
MOST_TURN_DEG = (
    4.0  # of the course along a leg, so that it stays within 2 of the heading; common practice, no source
)


class LegWorked(NamedTuple):
    """One leg worked, or its part in a climb or after one; the parts of a leg add up to it.

    `course_deg` is true, `magnetic_course_deg` magnetic; `compass` None without a card. `climb` None: cruise.
    `airspeed` of a climb is its mean, and it has no `flow`; `tops`: the climb ends on this leg.
    """

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
    airspeed: Figure  # kt true
    end: Spot  # of the whole leg
    flow: Figure | None = None  # gal/h
    climb: Climbed | None = None
    tops: bool = False
    technique: str = ""  # how the page of its table says to fly
    least_gal: float = 0.0  # by the book, in the forecast wind or in calm, whichever takes less


class Navigation(NamedTuple):
    """A route worked. `refused` are the legs that could not be, by their index, each with the reason.

    `alternate` is the way on from the end, in no sum; `alternate_refused` says why it could not be worked.
    `ways`: where every leg goes, refused or not. `climb_reason`: why no climb was worked, '' where it was, or where
    none is to be. `stop`, `stop_refused` and
    `stop_end` are the same of the way to a fuel stop, from where its leg begins.
    """

    legs: tuple[LegWorked, ...]
    end: Spot
    refused: tuple[tuple[int, Refusal], ...] = ()
    alternate: LegWorked | None = None
    alternate_refused: Refusal | None = None
    alternate_end: Spot | None = None
    climb_reason: str = ""
    stop: LegWorked | None = None
    stop_refused: Refusal | None = None
    stop_end: Spot | None = None
    ways: tuple[tuple[Leg, Way], ...] = ()

    def until(self, place: str) -> tuple[LegWorked, ...]:
        """Return the legs, and the parts of legs, that are flown to reach a place where one of them ends.

        Parameters
        ----------
        place : the end of one of the legs, by its name.
        """
        last = max(i for i, each in enumerate(self.legs) if each.leg.to == place)
        return self.legs[: last + 1]

    @property
    def climbed(self) -> tuple[LegWorked, ...]:
        """The parts that are climbs by the handbook's table."""
        return tuple(each for each in self.legs if each.climb)

    @property
    def cruised(self) -> tuple[LegWorked, ...]:
        """The legs and parts of legs that are cruise."""
        return tuple(each for each in self.legs if not each.climb)

    @property
    def least_gal(self) -> float:
        """The least fuel that is credible, leg by leg: a headwind may die."""
        return sum(each.least_gal for each in self.legs)

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


@lru_cache(maxsize=16)  # one route is flown when it is read, and again when the trip is worked
def navigate(route: Route, deviation: Deviation | None = None, book: Tables | NoTables | None = None) -> Navigation:
    """Work every leg of a route that can be worked; one whose end is not known stops the rest.

    Parameters
    ----------
    route : at least one leg.
    deviation : the compass card.
    book : the handbook's tables: for legs by power, and for climbs, which are worked where it has a climb table.
    """
    if isinstance(book, NoTables):
        return _navigate(route, deviation, book, ())._replace(climb_reason=book.climb_reason)
    if book is None or book.climb is None:
        return _navigate(route, deviation, book, ())
    try:
        return _navigate(route, deviation, book, climbs(route, book))
    except Refusal as refusal:
        return _navigate(route, deviation, book, ())._replace(climb_reason=refusal.reason)


def _navigate(
    route: Route, deviation: Deviation | None, book: Tables | NoTables | None, begun: Sequence[Climbed | None]
) -> Navigation:
    """Work the legs, with the climbs that begin them; raises Refusal where a climb cannot be flown."""
    here, refused = route.start_position, []
    worked: list[LegWorked] = []
    ways: list[tuple[Leg, Way]] = []
    pending: Climbed | None = None
    for i, leg in enumerate(route.legs):
        try:
            way = way_of(leg, here, route)
        except Refusal as refusal:
            refused.append((i, refusal))
            break
        here = way.end
        if i == len(route.legs) - 1:
            way = to_the_field(way, route)
        ways.append((leg, way))
        try:
            whole = _cruise(leg, way, route, deviation, book)
        except Refusal as refusal:
            refused.append((i, refusal))
            continue
        if pending and leg.altitude_ft < route.legs[i - 1].altitude_ft:
            raise Refusal(
                f"{route.legs[i - 1].to} is reached before {_feet(route.legs[i - 1])}, and the next leg is lower"
            )
        pending = joined(pending, begun[i] if begun else None)
        parts, pending = ((whole,), None) if pending is None else _after_climb(whole, way, pending, deviation)
        worked += parts
    if pending:
        raise Refusal(f"the route ends before the climb to {_feet(route.legs[-1])} does")
    found = Navigation(tuple(worked), here, tuple(refused), ways=tuple(ways))
    if refused:
        return found
    if route.alternate:
        way_on, why, end = _aside(route.alternate, here, route, deviation, book)
        found = found._replace(alternate=way_on, alternate_refused=why, alternate_end=end)
    if route.fuel_stop:
        at, leg = route.fuel_stop
        way_on, why, end = _aside(leg, found.until(at)[-1].end, route, deviation, book)
        found = found._replace(stop=way_on, stop_refused=why, stop_end=end)
    return found


def _aside(
    leg: Leg, begins: Spot, route: Route, deviation: Deviation | None, book: Tables | NoTables | None
) -> tuple[LegWorked | None, Refusal | None, Spot | None]:
    """Return a way off the route, all of it in cruise; or why it cannot be flown. Then where it ends."""
    try:
        way = way_of(leg, begins, route)
        return _cruise(leg, way, route, deviation, book), None, way.end
    except Refusal as refusal:
        return None, refusal, None


def _feet(leg: Leg) -> str:
    return f"{leg.altitude_ft:,.0f}\u00a0ft"


def _cruise(
    leg: Leg, way: Way, route: Route, deviation: Deviation | None, book: Tables | NoTables | None
) -> LegWorked:
    """Return a whole leg in cruise."""
    if way.distance_nm < SHORTEST_NM:
        raise Refusal(f"the leg to {leg.to} has no length: it ends where it begins", "length")
    if way.turns_deg > MOST_TURN_DEG:
        turn = f"the shortest way to {leg.to} turns by {way.turns_deg:.0f}°, and no one heading follows it"
        raise Refusal(turn, "turn")
    wind = leg.wind or aloft(route.winds, leg.altitude_ft)
    airspeed, flow, by_power, technique = cruising(leg, route, book)
    found = solve(way.course_deg, airspeed.known, wind.from_deg, wind.speed_kt)
    magnetic_deg = (found.heading_deg - way.variation_deg) % 360
    detail, by = way.measured

    def over_ground() -> tuple[Step, ...]:
        said = wind_said(wind)
        return (
            *_wind_steps(leg, wind),
            Step("ground speed", "ground speed", said, None, found.ground_speed_kt, "kt", TRIANGLE),
        )

    time, fuel = _taking(way.distance_nm, found.ground_speed_kt, flow, by_power)
    return LegWorked(
        leg=leg,
        course_deg=way.course_deg,
        magnetic_course_deg=(way.course_deg - way.variation_deg) % 360,
        wind=wind,
        distance=stated("distance", "NM", way.distance_nm, detail, by),
        heading=_heading(airspeed.known, way, wind, found),
        compass=_compass(magnetic_deg, deviation),
        ground_speed=Figure("ground speed", "kt", found.ground_speed_kt, Steps(over_ground)),
        time=time,
        fuel=fuel,
        airspeed=airspeed,
        flow=flow,
        technique=technique,
        least_gal=min(fuel.known, way.distance_nm / airspeed.known * flow.known),
        end=way.end,
    )


def _taking(distance_nm: float, ground_speed_kt: float, flow: Figure, source: Source) -> tuple[Figure, Figure]:
    """Return the time and the fuel of a distance in cruise."""
    minutes = distance_nm / ground_speed_kt * 60
    burnt_gal = minutes / 60 * flow.known

    def time() -> tuple[Step, ...]:
        over = f"{distance_nm:.2f}\u00a0NM at {ground_speed_kt:.1f}\u00a0kt"
        return (Step("time", "time", over, None, minutes, "min", BY_SPEED),)

    def fuel() -> tuple[Step, ...]:
        burnt = f"{minutes:.1f}\u00a0min at {flow.known:.4g}\u00a0gal/h"
        return (Step("fuel", "fuel", burnt, None, burnt_gal, "gal", source),)

    return Figure("time", "min", minutes, Steps(time)), Figure("fuel", "gal", burnt_gal, Steps(fuel))


def _after_climb(
    whole: LegWorked, way: Way, climb: Climbed, deviation: Deviation | None
) -> tuple[tuple[LegWorked, ...], Climbed | None]:
    """Return a leg as its climb and the cruise after it; or all of it as climb, and what is left of that.

    Raises
    ------
    Refusal : the wind is too strong for the climb's airspeed, or the table gives so small a climb no time.
    """
    if climb.time.known <= 0:
        raise Refusal(f"the climb table gives no time for so small a climb ({climb.source})")
    wind, airspeed_kt = whole.wind, climb.distance.known / climb.time.known * 60
    found = solve(way.course_deg, airspeed_kt, wind.from_deg, wind.speed_kt)
    ground_kt = min(found.ground_speed_kt, airspeed_kt)
    over_nm, rest = ground_kt * climb.time.known / 60, None
    if over_nm > way.distance_nm:
        climb, rest = parted(climb, way.distance_nm / over_nm, whole.leg.to)
        over_nm = way.distance_nm
    magnetic_deg = (found.heading_deg - way.variation_deg) % 360
    carried = Step("distance", "over the ground", wind_said(wind), climb.distance.known, over_nm, "NM", CARRIED)
    speed = Step("ground speed", "ground speed", wind_said(wind), airspeed_kt, ground_kt, "kt", CARRIED)
    detail = f"{climb.distance.known:.2f}\u00a0NM in {climb.time.known:.1f}\u00a0min"
    steps = climb.distance.steps
    climbing = whole._replace(
        distance=climb.distance._replace(value=over_nm, steps=Steps(lambda: (*steps, carried))),
        heading=_heading(airspeed_kt, way, wind, found),
        compass=_compass(magnetic_deg, deviation),
        ground_speed=Figure("ground speed", "kt", ground_kt, (speed,)),
        time=climb.time,
        fuel=climb.fuel,
        airspeed=stated("mean true airspeed of the climb", "kt", airspeed_kt, detail, BY_SPEED),
        flow=None,
        climb=climb,
        tops=rest is None,
        technique=climb.technique,
        least_gal=climb.fuel.known,
    )
    if rest:
        return (climbing,), rest
    assert whole.flow is not None
    left_nm = way.distance_nm - over_nm
    time, fuel = _taking(left_nm, whole.ground_speed.known, whole.flow, whole.fuel.steps[0].source)
    less = Step("distance", "less the climb", f"−{over_nm:.2f}\u00a0NM", way.distance_nm, left_nm, "NM", SUM)
    cruise = whole._replace(
        distance=whole.distance._replace(value=left_nm, steps=(*whole.distance.steps, less)),
        time=time,
        fuel=fuel,
        least_gal=min(fuel.known, left_nm / whole.airspeed.known * whole.flow.known),
    )
    return (climbing, cruise), None


def _heading(airspeed_kt: float, way: Way, wind: WindAloft, found: Triangle) -> Figure:
    """Return the magnetic heading, with its steps from the course."""
    steps = Steps(lambda: _from_the_course(airspeed_kt, way, wind, found))
    return Figure("magnetic heading", "deg", (found.heading_deg - way.variation_deg) % 360, steps)


def _from_the_course(airspeed_kt: float, way: Way, wind: WindAloft, found: Triangle) -> tuple[Step, ...]:
    side = "right" if found.correction_deg >= 0 else "left"
    into = f"wind {wind_said(wind)}, airspeed {airspeed_kt:.0f}\u00a0kt: {abs(found.correction_deg):.1f}° {side}"
    words, by = way.variation_step
    magnetic_deg = (found.heading_deg - way.variation_deg) % 360
    return (
        *way.steps,
        Step("heading", "true heading", into, way.course_deg, found.heading_deg, "deg", TRIANGLE),
        Step("heading", "magnetic heading", f"variation {words}", found.heading_deg, magnetic_deg, "deg", by),
    )


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
    altitude_ft = round(worked.leg.altitude_ft)  # one typed in metres comes out a hair off its foot
    if altitude_ft <= ground_ft + 3000 or altitude_ft >= 18_000:
        return True
    odd = worked.magnetic_course_deg < 180
    return (altitude_ft - (1500 if odd else 500)) % 2000 == 0


def _compass(heading_deg: float, deviation: Deviation | None) -> Figure | None:
    if deviation is None:
        return None
    steered = compass_heading(heading_deg, deviation.card)

    def step() -> tuple[Step, ...]:
        by = Source(deviation.source)
        return (Step("compass", "compass heading", "deviation by the card", heading_deg, steered, "deg", by),)

    return Figure("compass heading", "deg", steered, Steps(step))

"""The route and the fuel as they are printed: a log of the legs, a table of the fuel, and what it gives.

Times and fuel are rounded up leg by leg along the way, so that every column adds up to its total.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import timedelta

from briefgen.calc.fuel import FuelPlan, Stage
from briefgen.calc.legs import LegWorked, Navigation, degrees_said, wind_said
from briefgen.calc.ways import Way
from briefgen.figures import Figure
from briefgen.item import Item
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.route import Leg, Route
from briefgen.model.trip import Trip
from briefgen.plans import Reading
from briefgen.printing import Printing
from briefgen.units import down, up

DAY_MIN = 24 * 60
TOP = "top of climb"  # the row of a climb that ends on its leg
NO_LOG = "Headings, times and fuel, of these legs and of the ways on from them, are not shown"
LEFT = "on board less need"


@dataclass(frozen=True, slots=True)
class LegRow:
    """One leg of the log. Headings and courses in degrees; `compass` '' without a card, `eta` '' without a time.

    A climb by the handbook's table is a row of its own. `flown` is the power setting of cruise, or the speed of a
    climb; '' where the trip or the table gives none.
    """

    to: str
    altitude: str
    course: str  # true
    wind: str
    airspeed_kt: int
    ground_speed_kt: int
    heading: str  # magnetic
    compass: str
    distance_nm: float
    minutes: int
    fuel: float
    eta: str
    flown: str = ""
    climb: bool = False


@dataclass(frozen=True, slots=True)
class LadderRow:
    """One row of the fuel: a stage, or a sum in bold; the amount in the printed unit, minutes where it has some.

    Its bar runs from `bar_from` to `bar_to`, shares of the longest: each stage begins where the one before ends.
    """

    name: str
    amount: float | None
    minutes: int | None = None
    total: bool = False
    bar_from: float = 0.0
    bar_to: float = 0.0


@dataclass(frozen=True, slots=True)
class RoutePage:
    """The way and its fuel. A log that lacked a leg would mislead: it has none then, but `ways` and `no_log`."""

    where: str
    setting: tuple[str, ...]
    legs: tuple[LegRow, ...]
    distance_nm: float
    minutes: int | None
    fuel: float | None
    eta: str
    unit: str  # of fuel
    ladder: tuple[LadderRow, ...]
    reason: str  # why there is no ladder, '' where there is one
    readings: tuple[Reading, ...]
    down_by: str  # UTC, to land with the reserve kept
    alternate: LegRow | None = None  # the way on from the destination, in no sum
    not_counted: str = ""  # what the trip gives no fuel for
    kept: str = ""  # what is still on board at `down_by`
    ways: tuple[str, ...] = ()  # of legs that could not be worked: where they go
    no_log: str = ""  # why they could not

    @property
    def left(self) -> str:
        """The name of the row of what is left over the need."""
        return LEFT

    @property
    def has_card(self) -> bool:
        """Whether the log has compass headings."""
        return any(each.compass for each in self.legs)

    @property
    def has_climbs(self) -> bool:
        """Whether the log has climbs by the handbook's table."""
        return any(each.climb for each in self.legs)

    @property
    def has_times(self) -> bool:
        """Whether the log has times of arrival."""
        return any(each.eta for each in self.legs)


def route_page(trip: Trip, navigation: Navigation | None, fuel: FuelPlan, item: Item) -> RoutePage | None:
    """Return the page of a trip's route; None where the trip gives none."""
    if trip.route is None or navigation is None:
        return None
    printing = (trip.policy or NO_POLICY).printing
    onward = (navigation.alternate,) if navigation.alternate else ()
    flown, lost = navigation.legs, next((refusal.reason for _, refusal in navigation.refused), "")
    if lost:
        flown, onward = (), ()
    rows = log((*flown, *onward), trip.route, printing)
    legs, instead = rows[: len(flown)], rows[len(flown) :]
    lengths = _steps((way.distance_nm for _, way in navigation.ways), 0.1)
    out, home = trip.departure.use.strip.name, trip.arrival.use.strip.name
    return RoutePage(
        where=f"{out} to {home}",
        setting=(*_setting(trip, trip.route, legs), *_by_table(navigation)),
        legs=legs,
        distance_nm=round(sum(lengths), 1),
        minutes=None if lost else sum(each.minutes for each in legs),
        fuel=None if lost else round(sum(each.fuel for each in legs), 1),
        eta=legs[-1].eta if legs else "",
        unit=printing.unit("gal"),
        ladder=_ladder(fuel, item, printing, instead),
        reason=fuel.need.reason or fuel.have.reason,
        readings=_readings(fuel),
        down_by=_down_by(fuel.down_by, trip),
        alternate=instead[0] if instead else None,
        not_counted=_not_counted(trip) if fuel.stages else "",
        kept=kept(fuel, trip.policy, onward=any(_is_onward(stage) for stage in fuel.stages)),
        ways=tuple(map(_goes, navigation.ways, lengths)) if lost else (),
        no_log=f"{NO_LOG}: {lost}" if lost else "",
    )


def _goes(where: tuple[Leg, Way], length_nm: float) -> str:
    """Return where a leg goes that could not be worked."""
    leg, way = where
    course = f"{degrees_said(way.course_deg)} true, {length_nm:.1f}\u00a0NM"
    return f"to {leg.to}: {course}, at {leg.altitude_ft:,.0f}\u00a0ft"


def kept(fuel: FuelPlan, policy: Policy | None, *, onward: bool) -> str:
    """Return what is kept by landing in time: the longer reserve, and the way to the alternate where counted."""
    reserve_min = max(fuel.reserve_min, policy.fuel_reserve_s / 60 if policy else 0.0)
    return f"{reserve_min:g}\u00a0min{' and the alternate' if onward else ''} kept"


def _not_counted(trip: Trip) -> str:
    """Return what no fuel is given for, so that nothing is counted."""
    fuel, route = trip.fuel, trip.route
    lacking = []
    if fuel and fuel.approach_gal is None:
        lacking.append("an approach")
    if fuel and fuel.alternate is None and not (route and route.alternate):
        lacking.append("an alternate")
    return f"No fuel is given for {' or for '.join(lacking)}, and none is counted." if lacking else ""


def clock(minutes: int) -> str:
    """Return minutes after midnight UTC as a time.

    >>> clock(905), clock(1450)
    ('15:05Z', '00:10Z')
    """
    return f"{minutes % DAY_MIN // 60:02d}:{minutes % 60:02d}Z"


def _there_at(trip: Trip, minutes: float) -> str:
    """Return a time so long after takeoff by the clocks at the destination; '' where no takeoff time is given."""
    at, clock = trip.takeoff_time, trip.arrival.use.clock
    return clock.words(at + timedelta(minutes=minutes), trip.takeoff_day) if at else ""


def _setting(trip: Trip, route: Route, legs: tuple[LegRow, ...]) -> tuple[str, ...]:
    out = trip.departure.use.clock
    known = trip.arrival.use.clock.name and legs
    eta = _there_at(trip, sum(each.minutes for each in legs)) if known else ""
    typed = route.variation_deg is not None or all(leg.variation_deg is not None for leg in route.legs)
    return (
        f"takeoff {out.words(route.takeoff)}" if route.takeoff else "no takeoff time given",
        *([f"ETA {eta}"] if eta else []),
        "variation as typed" if typed else "variation by the World Magnetic Model",
        f"winds aloft of {route.aloft.station}, see 'Weather'" if route.aloft else "winds from the trip file",
    )


def _by_table(navigation: Navigation) -> tuple[str, ...]:
    """Return how the climbs were worked; nothing to say where their fuel was typed."""
    if navigation.refused:
        return ()  # no leg is shown as worked
    if navigation.climb_reason:
        return ("no climb worked: legs as if in cruise all the way",)
    return ("climbs by the handbook",) if navigation.climbed else ()


def _flown(part: LegWorked) -> str:
    """Return the power setting of a leg by its printed name, or the speed of a climb, from its foot to its top."""
    if part.climb is None:
        return re.sub(r"(?<=[0-9]) (?=[^0-9 ])", "\u00a0", part.leg.power)
    if part.climb.speeds_kt is None:
        return ""
    speeds = dict.fromkeys(f"{up(each):.0f}" for each in part.climb.speeds_kt)
    return f"{' to '.join(speeds)}\u00a0kt"


def _steps(values: Iterable[float], step: float) -> list[float]:
    """Return values as differences of their running sum rounded up, so that they add up to the rounded total."""
    found, total, before = [], 0.0, 0.0
    for value in values:
        total += value
        upto = up(total, step)
        found.append(round(upto - before, 1))
        before = upto
    return found


def log(legs: tuple[LegWorked, ...], route: Route, printing: Printing) -> tuple[LegRow, ...]:
    """Return the rows of legs flown one after another from takeoff on."""
    distances = _steps((each.distance.known for each in legs), 0.1)
    minutes = [int(each) for each in _steps((each.time.known for each in legs), 1)]
    fuels = _steps((printing.exact(each.fuel.known, "gal") for each in legs), 0.1)
    return tuple(
        LegRow(
            to=TOP if each.tops else each.leg.to,
            altitude=f"{each.leg.altitude_ft:,.0f}\u00a0ft",
            course=degrees_said(each.course_deg),
            wind=wind_said(each.wind),
            airspeed_kt=int(down(each.airspeed.known)),
            ground_speed_kt=int(down(each.ground_speed.known)),
            heading=degrees_said(each.heading.known),
            compass=degrees_said(each.compass.known) if each.compass else "",
            distance_nm=distances[i],
            minutes=minutes[i],
            fuel=fuels[i],
            eta="" if route.takeoff_min is None else clock(route.takeoff_min + sum(minutes[: i + 1])),
            flown=_flown(each),
            climb=each.climb is not None,
        )
        for i, each in enumerate(legs)
    )


def _ladder(fuel: FuelPlan, item: Item, printing: Printing, instead: tuple[LegRow, ...]) -> tuple[LadderRow, ...]:
    """Return the stages to the need, to the policy need, what is on board, and what is left over the need."""
    if not fuel.stages:
        return ()
    stages = (*fuel.stages, *fuel.policy_stages)
    instead_of = {i: (not _inlog(stages[i]), not (instead and _is_onward(stages[i]))) for i in range(len(stages))}
    order = sorted(instead_of, key=lambda i: instead_of[i])  # first, so that they are those of the log
    rounded = _steps((printing.exact(stages[i].fuel_gal, "gal") for i in order), 0.1)
    amounts = dict(zip(order, rounded, strict=True))
    logged = [i for i in order if _inlog(stages[i])]
    minutes = dict(zip(logged, _steps((stages[i].minutes or 0.0 for i in logged), 1), strict=True))
    rows = [_row(stage, amounts[i], minutes.get(i, stage.minutes)) for i, stage in enumerate(stages)]
    if instead:
        rows = [replace(each, minutes=instead[0].minutes) if _is_onward(each) else each for each in rows]
    count = len(fuel.stages)
    sums = [LadderRow("need, with the rule's reserve", item.need, total=True)]
    if fuel.policy_stages:
        sums.append(LadderRow("policy need", item.policy_need, total=True))
    past = None if fuel.past_reserve is None else int(down(fuel.past_reserve.known))
    return _with_bars(
        (
            *rows[:count],
            sums[0],
            *rows[count:],
            *sums[1:],
            LadderRow("usable on board", item.have, total=True),
            LadderRow(LEFT, item.margin, past, total=True),
        ),
        item,
    )


def _inlog(stage: Stage) -> bool:
    """Say whether the log has a stage: the legs, and a climb that was worked."""
    return stage.name == "legs" or (stage.name == "climb" and stage.minutes is not None)


def _row(stage: Stage, amount: float, minutes: float | None) -> LadderRow:
    return LadderRow(stage.name, amount, None if minutes is None else int(up(minutes)))


def _with_bars(rows: Iterable[LadderRow], item: Item) -> tuple[LadderRow, ...]:
    """Return the rows with their bars: the stages end to end, a sum from nil, what is left from the need on."""
    ends = [each for each in (item.need, item.policy_need, item.have) if each is not None]
    whole, reached, found = max(ends), 0.0, []
    for row in rows:
        begins, amount = (0.0 if row.total else reached), row.amount or 0.0
        if row.name == LEFT and item.need is not None and item.have is not None:
            begins, amount = min(item.need, item.have), abs(amount)
        ends_at = begins + amount
        reached = reached if row.total else ends_at
        shares = [round(min(each / whole, 1.0), 4) for each in (begins, ends_at)]
        found.append(replace(row, bar_from=shares[0], bar_to=shares[1]))
    return tuple(found)


def _is_onward(row: Stage | LadderRow) -> bool:
    return row.name.startswith("alternate ")


def _readings(fuel: FuelPlan) -> tuple[Reading, ...]:
    """Return how long the fuel lasts, in whole minutes down; past the reserve, the fuel's table says it."""
    return (Reading(fuel.endurance.label, down(fuel.endurance.known), "min"),) if fuel.endurance else ()


def _down_by(figure: Figure | None, trip: Trip) -> str:
    """Return the time by which the wheels must be down; '' where no takeoff time is given or no fuel is worked."""
    if figure is None or trip.takeoff_time is None:
        return ""
    minutes = int(down(figure.known))
    return _there_at(trip, minutes) if minutes > 0 else "none: the reserve is not on board"

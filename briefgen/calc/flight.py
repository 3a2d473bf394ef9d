"""Work everything that one trip needs: both runways, every landing case, the decision points, the grid."""

from functools import partial as bound
from typing import NamedTuple

from briefgen.calc.atmosphere import density_altitude, humid_density_altitude
from briefgen.calc.balance import Balanced, balanced
from briefgen.calc.climb_out import Climb, after_go_around, after_takeoff
from briefgen.calc.decision import Abort, GoAround, abort, go_around
from briefgen.calc.distance import NoAir, Scene, scene
from briefgen.calc.fuel import NO_JOURNEY, Journey, journey
from briefgen.calc.fuel_stop import Stop, fuel_stop
from briefgen.calc.landing import Cases, Landing, forbidden, partial, set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.obstacles import Cleared, over_obstacles
from briefgen.calc.occasion import Papers, papers_of
from briefgen.calc.recheck import Recheck, grid
from briefgen.calc.runway import Seen, available, marks
from briefgen.calc.speeds import gust_additive
from briefgen.calc.speeds_card import SpeedsCard, speeds_card
from briefgen.calc.takeoff import Takeoff, takeoff
from briefgen.calc.wind import RunwayWind, worst_on_runway
from briefgen.figures import Figure, Source, missing, stated
from briefgen.model.aircraft import Aircraft
from briefgen.model.layers import longer
from briefgen.model.policy import NO_POLICY, Policy, Touchdown
from briefgen.model.trip import Arrival, Departure, Trip, Use
from briefgen.model.weather import NotGiven, Wind

RESOLVED = Source("headwind from the steady wind, tailwind and crosswind from the gust", "standard")
ATMOSPHERE = Source("ICAO standard atmosphere, Doc 7488, dry air", "standard")
HUMID = Source("ICAO standard atmosphere, Doc 7488; water vapor by the formula of the NWS", "standard")


class Air(NamedTuple):
    """The air over one field; every figure of it missing where its conditions are not given."""

    pressure_altitude: Figure
    density_altitude: Figure
    along: Figure  # headwind positive, tailwind negative
    counted: Figure
    across: Figure


class Ending(NamedTuple):
    """A landing worked at one field: every case of it, and the decision points; `plan` and `cases` work others."""

    there: Scene | NoAir
    air: Air
    plan: LandingPlan
    cases: Cases
    planned: Landing
    flaps_up: Landing
    partial: Landing | None
    go_around: GoAround
    go_around_flaps_up: GoAround
    marks: tuple[Seen, ...]


class Flight(NamedTuple):
    """Everything worked for one trip."""

    departure: Scene | NoAir
    arrival: Scene | NoAir
    departure_air: Air
    arrival_air: Air
    takeoff: Takeoff
    planned: Landing
    flaps_up: Landing
    partial: Landing | None
    back: Landing
    go_around: GoAround
    go_around_flaps_up: GoAround
    abort: Abort
    gusts: Figure
    touchdown: Touchdown | None
    takeoff_marks: tuple[Seen, ...]
    landing_marks: tuple[Seen, ...]
    climb: Climb  # after the takeoff
    cleared: tuple[Cleared, ...]  # what stands past the departure end and 50 ft does not clear, nearest first
    balance: Balanced | None  # None: no load, or nothing in the aircraft file to work it with
    speeds: SpeedsCard
    papers: Papers
    calm_takeoff: Takeoff | None = None  # the takeoff without its headwind, where it has one
    calm_landing: Landing | None = None  # the landing as planned without its headwind, where it has one
    dry_landing: Landing | None = None  # the landing as planned on a dry surface, where it is wet
    journey: Journey = NO_JOURNEY  # its route and fuel
    alternate: Ending | None = None  # the landing at the alternate, where one is given
    stop: Stop | None = None  # the fuel stop that may be decided on, where one is given
    plan: LandingPlan | None = None
    cases: Cases | None = None

    @property
    def recheck(self) -> tuple[Recheck, ...]:
        """The landing in other winds, dry and wet: worked each time it is read."""
        if self.plan is None or self.cases is None or isinstance(self.arrival, NoAir):
            return ()
        return grid(self.plan, self.arrival, self.cases)


def fly(trip: Trip) -> Flight:
    """Work a trip; what cannot be worked is a missing figure with its reason, never an exception."""
    policy = trip.policy or NO_POLICY
    out, home = trip.departure, trip.arrival
    departure, ended = scene_of(out.use, policy), ending(trip.aircraft, home, policy)
    took_off = takeoff(trip.aircraft, departure, out.flaps, out.weight_lb, policy)
    plan, cases, arrival = ended.plan, ended.cases, ended.there
    back_plan = plan._replace(weight_lb=out.weight_lb)
    back = set_up(back_plan, out.use.conditions.wind, home.flaps).work_planned(back_plan, departure)
    if not out.use.end.landing:
        back = forbidden(back, f"the strip file does not allow a landing on runway {out.use.end.ident}")
    takeoff_marks = marks(out.use, for_landing=False)
    way = journey(trip)
    climb, cleared = climb_away(trip.aircraft, out, departure, took_off, policy)
    return Flight(
        departure=departure,
        arrival=arrival,
        departure_air=air_of(out.use, departure),
        arrival_air=ended.air,
        takeoff=took_off,
        planned=ended.planned,
        flaps_up=ended.flaps_up,
        partial=ended.partial,
        back=back._replace(name="back at the departure"),
        go_around=ended.go_around,
        go_around_flaps_up=ended.go_around_flaps_up,
        abort=abort(took_off, departure, policy, takeoff_marks),
        gusts=gust_additive(home.use.conditions.wind, policy),
        touchdown=plan.touchdown,
        takeoff_marks=takeoff_marks,
        landing_marks=ended.marks,
        climb=climb,
        cleared=cleared,
        balance=balanced(trip.aircraft.balance, trip.load) if trip.aircraft.balance and trip.load else None,
        speeds=speeds_card(trip, way.navigation, way.fuel.most_burn.value if way.fuel.most_burn else None),
        calm_takeoff=_calm_takeoff(trip, departure, policy),
        calm_landing=_calm_landing(plan, arrival, cases),
        dry_landing=_dry_landing(plan, arrival, cases),
        journey=way,
        papers=papers_of(trip, way),
        alternate=ending(trip.aircraft, trip.alternate, policy) if trip.alternate else None,
        stop=fuel_stop(trip, way),
        plan=plan,
        cases=cases,
    )


def climb_away(
    aircraft: Aircraft, out: Departure, there: Scene | NoAir, took_off: Takeoff, policy: Policy
) -> tuple[Climb, tuple[Cleared, ...]]:
    """Work the climb after a takeoff, and over what stands past the departure end; `there`: its runway's scene."""
    climb_at = bound(after_takeoff, aircraft, there, out.climb_flaps or out.flaps, out.weight_lb)
    return climb_at(), over_obstacles(aircraft, out.use, there, took_off, climb_at, policy)


def ending(aircraft: Aircraft, home: Arrival, policy: Policy) -> Ending:
    """Work a landing at one field: as planned, with the flaps up, with partial flaps, and both decision points.

    Parameters
    ----------
    aircraft : its landing charts and speeds.
    home : the landing as planned.
    policy : the factor, the guidance, the pilot's touchdown figures.
    """
    there, touchdown = scene_of(home.use, policy), longer(policy.touchdown, home.touchdown)
    plan = LandingPlan(aircraft, home.weight_lb, policy, touchdown, home.extra_speed_kt)
    cases = set_up(plan, home.use.conditions.wind, home.flaps)
    planned, up = cases.work(plan, there)
    seen = marks(home.use, for_landing=True)
    return Ending(
        there=there,
        air=air_of(home.use, there),
        plan=plan,
        cases=cases,
        planned=planned,
        flaps_up=up,
        partial=partial(plan, there, home.partial_flaps, up) if home.partial_flaps else None,
        go_around=_go_around(plan, home.use, there, planned, seen),
        go_around_flaps_up=_go_around(plan, home.use, there, up, seen),
        marks=seen,
    )


def _go_around(
    plan: LandingPlan, use: Use, there: Scene | NoAir, case: Landing, seen: tuple[Seen, ...]
) -> GoAround:
    return go_around(
        case,
        there,
        plan.policy,
        plan.touchdown,
        seen,
        use.end.go_around,
        after=after_go_around(plan.aircraft, there, case.flaps, plan.weight_lb),
        beyond=use.opposite.obstacles,
    )


def _calm_takeoff(trip: Trip, departure: Scene | NoAir, policy: Policy) -> Takeoff | None:
    if isinstance(departure, NoAir) or departure.wind.headwind_kt <= 0:
        return None
    calm = departure._replace(wind=RunwayWind(0.0, 0.0, 0.0, ""))
    return takeoff(trip.aircraft, calm, trip.departure.flaps, trip.departure.weight_lb, policy, keep_steps=False)


def _calm_landing(plan: LandingPlan, arrival: Scene | NoAir, cases: Cases) -> Landing | None:
    """Return the landing as planned without its headwind."""
    if isinstance(arrival, NoAir) or arrival.wind.headwind_kt <= 0:
        return None
    wind = arrival.wind
    calm = arrival._replace(wind=RunwayWind(0.0, 0.0, wind.crosswind_kt, wind.crosswind_from))
    return cases.work_planned(plan, calm, keep_steps=False)


def _dry_landing(plan: LandingPlan, arrival: Scene | NoAir, cases: Cases) -> Landing | None:
    if isinstance(arrival, NoAir) or arrival.conditions.surface != "wet":
        return None
    dry = arrival._replace(conditions=arrival.conditions._replace(surface="dry"))
    return cases.work_planned(plan, dry, keep_steps=False)


def scene_of(use: Use, policy: Policy) -> Scene | NoAir:
    """Return the scene of one runway in its conditions, with what the policy counts of the wind there.

    Where the trip file gives no conditions, only what there is of the runway.
    """
    have, conditions = available(use, policy), use.conditions
    if isinstance(conditions, NotGiven):
        return NoAir(conditions, have)
    wind = worst_on_runway(conditions.winds, use.end.heading_deg, use.end.heading_known_to_deg)
    return scene(use.runway.surface, use.strip.elevation_ft, conditions, wind, have, policy.wind_shares)


_PRESSURE, _DENSITY = "pressure altitude", "density altitude"
_ALONG, _COUNTED, _ACROSS = "headwind (−: tailwind)", "wind along the runway as counted", "crosswind"


def air_of(use: Use, there: Scene | NoAir) -> Air:
    """Return the air over a field, with its working."""
    if isinstance(there, NoAir):
        heights = (missing(each, "ft", there.reason) for each in (_PRESSURE, _DENSITY))
        return Air(*heights, *(missing(each, "kt", there.reason) for each in (_ALONG, _COUNTED, _ACROSS)))
    height_ft, conditions, wind = there.pressure_altitude_ft, there.conditions, there.wind
    degC, dew_point_degC = conditions.temperature_degC, conditions.dew_point_degC
    dense_ft, by, humid = density_altitude(height_ft, degC), ATMOSPHERE, ""
    if dew_point_degC is not None:
        dense_ft, by = humid_density_altitude(height_ft, degC, dew_point_degC), HUMID
        humid = f", dew point {dew_point_degC:,.1f} °C"

    def setting() -> str:
        return f"elevation {use.strip.elevation_ft:,.0f} ft, altimeter {conditions.altimeter_hPa:,.1f} hPa"

    def at() -> str:
        return f"pressure altitude {height_ft:,.0f} ft at {degC:,.1f} °C{humid}"

    return Air(
        stated(_PRESSURE, "ft", height_ft, setting, ATMOSPHERE),
        stated(_DENSITY, "ft", dense_ft, at, by),
        stated(_ALONG, "kt", wind.along_kt, bound(_wind_said, use, conditions.wind), RESOLVED),
        stated(_COUNTED, "kt", there.counted_kt, bound(_share_said, there), RESOLVED),
        stated(_ACROSS, "kt", wind.crosswind_kt, bound(_across_said, use, there), RESOLVED),
    )


def _across_said(use: Use, there: Scene) -> str:
    side = there.wind.crosswind_from
    from_side = f"; from the {side}" if side in ("left", "right") else f"; from {side}" if side else ""
    return _wind_said(use, there.conditions.wind) + from_side


def _wind_said(use: Use, wind: Wind) -> str:
    """Return what a runway's wind is resolved from, in degrees true."""
    end = use.end
    known = f" within {end.heading_known_to_deg:g}°, worst case" if end.heading_known_to_deg else ""
    runway = f"runway {end.ident} at {end.heading_deg:.1f}° true{known}"
    if wind.from_deg is None:
        return f"{wind.text}; {runway}"
    across = f", between {wind.between_deg[0]:.0f}° and {wind.between_deg[1]:.0f}°" if wind.between_deg else ""
    return f"{wind.text}, from {wind.from_deg:.1f}° true{across}; {runway}"


def _share_said(there: Scene) -> str:
    """Return how much of the wind along the runway the policy counts."""
    head, tail = there.shares
    return f"{head:.0%} of a headwind, {tail:.0%} of a tailwind, by the policy".replace("%", " %")

"""The facts that rules may ask about: printed values and states, by name, each name ending in its unit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from math import isinf
from typing import Any

from briefgen.alternate_page import alternate_facts
from briefgen.calc.approach import (
    DEFAULT_ANGLE_DEG,
    cost_of_a_tenth_fast,
    descent_rate,
    ground_speed,
    height_before,
    hydroplaning_speed,
)
from briefgen.calc.balance import Balanced
from briefgen.calc.decision import GoAround
from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.calc.speeds import speed
from briefgen.climb_facts import climb_facts, climb_out_facts
from briefgen.daylight_page import daylight_facts
from briefgen.fact_list import FACTS
from briefgen.figures import Figure
from briefgen.handbook.causes import CAUSES
from briefgen.handbook.charts import Chart
from briefgen.item import Item
from briefgen.model.aircraft import Aircraft
from briefgen.model.policy import NO_POLICY, Factor, Policy
from briefgen.model.trip import Trip
from briefgen.paper_facts import paper_facts
from briefgen.place_facts import place_facts
from briefgen.speed_facts import speed_facts
from briefgen.units import down, up
from briefgen.way_facts import fuel_facts, route_facts, stop_facts
from briefgen.weather_page import weather_facts

NOT_ALWAYS = (  # items that not every trip has
    "landing_partial",
    "climb_out",
    "fuel_stop",
    "takeoff_dark",
    "alternate_dark",
    "confirmed",
    "legs_weather",
    "alternate_weather",
)
WET = 1.15  # of the dry landing: GM1 CAT.POL.A.430, Reg. (EU) 965/2012


def facts_of(trip: Trip, flight: Flight, items: tuple[Item, ...]) -> dict[str, Any]:
    """Return the facts of a worked trip, those of `fact_list`. A fact that could not be worked is None."""
    departure = place_facts(trip.departure.use, flight.departure, flight.departure_air)
    arrival = place_facts(trip.arrival.use, flight.arrival, flight.arrival_air)
    humid = [cost for each in (departure, arrival) if (cost := each["humidity_cost_ft"]) is not None]
    return {
        "policy": _standard(trip.policy),
        "trip": {
            "same_field": trip.departure.use.strip == trip.arrival.use.strip,
            "takeoff_after_h": _takeoff_after(trip),
            "humidity_cost_ft": max(humid, default=None),
            "passengers": flight.papers.flight.carries,
        },
        "aircraft": _aircraft(trip.aircraft, trip.as_of[:10]),
        "load": _load(flight.balance),
        "departure": {**departure, "climb": climb_out_facts(flight, items)},
        "arrival": {**arrival, "climb": climb_facts(flight.go_around.climb, flight.planned.flaps)},
        "takeoff": {
            "weight_share": trip.departure.weight_lb / trip.aircraft.maximum_takeoff_lb.value,
            "roll_ft": _up(flight.takeoff.roll, 5),
            "over_50_ft": _up(flight.takeoff.total, 5),
            "over_50_share": _share(_row(items, "takeoff-50")),
            "edge_used": bool(flight.takeoff.edges),
            "factored": _factored(flight.takeoff.chart),
            "abort_past_liftoff": (_down(flight.abort.point, 5) or 0.0) > (_up(flight.takeoff.roll, 5) or 0.0),
            "abort_ft": _down(flight.abort.point, 5),
            "stopping_worked": flight.abort.stopping.value is not None,
            **_takeoff(trip, flight),
        },
        "landing": {
            "planned": _landing(flight.planned, flight.go_around, flight),
            "flaps_up": {
                **_landing(flight.flaps_up, flight.go_around_flaps_up, flight),
                "increase_ft": _increase(flight),
            },
            "partial": {"given": flight.partial is not None, "flaps": trip.arrival.partial_flaps},
            "partial_without_data": flight.partial is not None and flight.partial.need is flight.flaps_up.need,
            "planned_without_data": flight.planned.need is flight.flaps_up.need,
            "planned_flaps": trip.arrival.flaps,
            "planned_share": _share(_row(items, "landing")),
            "extra_kt": up(trip.arrival.extra_speed_kt),
            **_approach(trip, flight),
            **_elsewise(flight),
        },
        "gusts": {"additive_kt": _up(flight.gusts, 1), "cost_ft": _cost(flight.planned)},
        **_besides(trip, flight),
        "items": {**dict.fromkeys(NOT_ALWAYS), **_states(items)},
    }


def _besides(trip: Trip, flight: Flight) -> dict[str, Any]:
    """Return the facts of what goes with a takeoff and a landing."""
    return {
        "alternate": alternate_facts(trip, flight),
        "crosswind": _crosswind(trip, flight),
        "route": route_facts(trip, flight),
        "fuel": fuel_facts(flight.journey),
        "fuel_stop": stop_facts(trip, flight),
        "daylight": daylight_facts(trip, flight),
        "speeds": speed_facts(flight),
        "papers": paper_facts(trip, flight),
        "weather": weather_facts(trip, flight.journey.evening),
    }


def _takeoff_after(trip: Trip) -> float | None:
    """Return how long after `as_of` the takeoff is [h], to the tenth above; None without a takeoff time."""
    if trip.takeoff_time is None:
        return None
    return round(up((trip.takeoff_time - datetime.fromisoformat(trip.as_of)).total_seconds() / 3600, 0.1), 1)


def _standard(policy: Policy | None) -> dict[str, Any]:
    rules = policy or NO_POLICY
    return {
        "loaded": policy is not None,
        "takeoff_factor": _factor(rules.takeoff_factor),
        "landing_factor": _factor(rules.landing_factor),
        "turn_back_height_ft": rules.turn_back_height_ft,
    }


def _factor(factor: Factor | None) -> float | None:
    return None if factor is None else factor.value


def _load(worked: Balanced | None) -> dict[str, Any]:
    room = worked.worst.room_in if worked else None
    return {
        "given": worked is not None,
        "worst": worked.worst.mass.name if worked else None,
        "room_in": None if room is None or isinf(room) else round(down(room, 0.1), 1),
    }


def _aircraft(aircraft: Aircraft, day: str) -> dict[str, Any]:
    tires, slips, records = aircraft.main_tires_psi, aircraft.slips, aircraft.provenance
    return {
        "carburetor": aircraft.carburetor,
        "differences": "; ".join(aircraft.differences) or None,
        "hydroplaning_kt": down(hydroplaning_speed(tires.value)) if tires else None,
        "slip_restriction": slips.restriction if slips else None,
        "unchecked": "; ".join(f"{each.of} ({each.unchecked})" for each in records if each.unchecked) or None,
        "changed_since_check": _listed(each.change for each in records),
        "checked_by_its_typist": _listed(each.alone for each in records),
        "checked_after_brief": _listed(each.later(day) for each in records),
    }


def _listed(words: Iterable[str]) -> str | None:
    return "; ".join(each for each in words if each) or None


def _crosswind(trip: Trip, flight: Flight) -> dict[str, Any]:
    known = [_up(air.across, 1) for air in (flight.departure_air, flight.arrival_air)]
    most_kt = max((kt for kt in known if kt is not None), default=None)
    shown, limit = trip.aircraft.demonstrated_crosswind_kt, trip.aircraft.crosswind_limit_kt
    own = trip.policy.crosswind_maximum_kt if trip.policy else None
    return {
        "most_kt": most_kt,
        "demonstrated_kt": shown.value if shown else None,
        "demonstrated_share": most_kt / shown.value if shown and most_kt is not None else None,
        "limitation_kt": limit.value if limit else None,
        "policy_kt": own,
        "over_policy": own is not None and most_kt is not None and most_kt > own,
        "over_limitation": limit is not None and most_kt is not None and most_kt > limit.value,
    }


def _takeoff(trip: Trip, flight: Flight) -> dict[str, Any]:
    takeoff, have, end = flight.takeoff, flight.departure.have, trip.departure.use.end
    tora, needed = down(have.tora.known, 5), _up(takeoff.total, 5)
    toda, asda = tora if end.toda_ft is None else down(end.toda_ft, 5), down(have.asda.known, 5)
    calm = flight.calm_takeoff
    glide = speed(trip.aircraft.best_glide, "best glide", trip.departure.weight_lb)
    return {
        "abort_speed_kt": _up(flight.abort.speed, 1),
        "best_glide_kt": _up(glide, 1),
        "checked_cell": takeoff.checked_cell,
        "slope_credit": have.slope < 0 and _credits_slope(takeoff.chart),
        "clearway": toda > tora,
        "stopway": asda > tora,
        "tora_ratio": _ratio(tora, needed),
        "toda_ratio": _ratio(toda, needed),
        "asda_ratio": _ratio(asda, needed),
        "calm_over_50_ft": _up(calm.total, 5) if calm else None,
        "short_in_calm": calm is not None
        and (_is_short(calm.roll, have.tora) or _is_short(calm.total, have.over_50)),
    }


def _approach(trip: Trip, flight: Flight) -> dict[str, Any]:
    """Return what the last part of the approach is like: speeds over the ground, descent, water, haste."""
    planned, policy = flight.planned, trip.policy or NO_POLICY
    angle_deg = DEFAULT_ANGLE_DEG if policy.approach_angle_deg is None else policy.approach_angle_deg
    tires, slips = trip.aircraft.main_tires_psi, trip.aircraft.slips
    cost_ft, ground_kt = cost_of_a_tenth_fast(planned), ground_speed(trip.aircraft, planned, flight.arrival)
    over_kt = None
    if ground_kt is not None and tires:
        fastest_kt = up(max(ground_kt, planned.approach.known))
        over_kt = max(0.0, fastest_kt - down(hydroplaning_speed(tires.value)))
    return {
        "aim_ft": up(flight.arrival.have.begins_ft + flight.touchdown.aim_ft, 5) if flight.touchdown else None,
        "ground_speed_kt": None if ground_kt is None else up(ground_kt),
        "approach_angle_deg": angle_deg,
        "descent_fpm": None if ground_kt is None else up(descent_rate(ground_kt, angle_deg), 5),
        "over_hydroplaning_kt": over_kt,
        "tenth_fast_cost_ft": None if cost_ft is None else up(cost_ft, 5),
        "aim_under_obstacle_ft": _aim_under_obstacle(trip, flight, angle_deg),
        "slip_restricted": slips is not None and planned.flaps in slips.flaps,
    }


def _aim_under_obstacle(trip: Trip, flight: Flight, angle_deg: float) -> float | None:
    """Return by how much the path to the aim point passes under an approach obstacle [ft], 0 where over all."""
    end = trip.arrival.use.end
    if flight.touchdown is None or not end.obstacles:
        return None
    aim_ft = (
        flight.arrival.have.begins_ft + flight.touchdown.aim_ft + end.displaced_ft
    )  # from the end of the runway
    under = [each.height_ft - height_before(aim_ft + each.distance_ft, angle_deg) for each in end.obstacles]
    return max(0.0, up(max(under)))


def _elsewise(flight: Flight) -> dict[str, Any]:
    """Return what is there for the landing, and the need in calm wind and on a dry surface."""
    planned, have, calm, dry = flight.planned, flight.arrival.have, flight.calm_landing, flight.dry_landing
    lda = have.lda.value
    return {
        "available_ft": _down(have.lda, 5),
        "first_third_ft": None if lda is None else down(lda / 3, 5),
        "first_third_centre_ft": None if lda is None else down(lda / 6, 5),
        "slope_credit": have.slope > 0 and _credits_slope(planned.chart),
        "calm_need_ft": _up(calm.need, 5) if calm else None,
        "short_in_calm": calm is not None and _is_short(calm.need, have.lda),
        "wet_ratio": None
        if lda is None or dry is None or dry.need.value is None
        else _ratio(down(lda, 5), up(WET * dry.need.value, 5)),
    }


def _credits_slope(chart: Chart | None) -> bool:
    """Say whether a chart prints a credit for the slope that shortens its distance."""
    causes = [CAUSES[name] for name in (*(note.cause for note in chart.notes), *chart.answers)] if chart else []
    return chart is not None and any(cause.unit == "%" and cause.helps(chart.phase) for cause in causes)


def _is_short(need: Figure, have: Figure) -> bool:
    """Say whether a need is longer than what there is, from the printed values; unknown is not."""
    needed, there = _up(need, 5), _down(have, 5)
    return needed is not None and there is not None and there < needed


def _ratio(have: float, need: float | None) -> float | None:
    return None if not need else round(down(have / need, 0.01), 2)


def _states(items: tuple[Item, ...]) -> dict[str, str]:
    """Return the state of every item that is worked; what a policy of its own asks for is no fact of the list."""
    states = {item.id.replace("-", "_"): item.state.value for item in items}
    return {name: state for name, state in states.items() if f"items.{name}" in FACTS}


def _row(items: tuple[Item, ...], id: str) -> Item:
    return next(item for item in items if item.id == id)


def _share(item: Item) -> float | None:
    """Return need as a share of have, from the printed values, rounded up."""
    return None if item.need is None or not item.have else round(up(item.need / item.have, 0.01), 2)


def _landing(case: Landing, point: GoAround, flight: Flight) -> dict[str, Any]:
    return {
        "need_ft": _up(case.need, 5),
        "from_50_ft": _up(case.total, 5),
        "roll_ft": _up(case.roll, 5),
        "allowance_ft": _up(case.allowance, 5),
        "estimate": case.need.estimate,
        "edge_used": bool(case.edges),
        "approach_kt": _up(case.approach, 1),
        "go_around_ft": _down(point.point, 5),
        "go_around_reason": point.point.reason or None,
        "factored": _factored(case.chart),
        "mark_before_touchdown": point.mark is not None
        and point.mark.from_threshold_ft < (case.allowance.value or 0.0),
        "mark": point.mark.name if point.mark else None,
        "window_ft": None if point.window_ft is None else down(point.window_ft, 5),
        "zone_ft": None if point.zone_ft is None else down(point.zone_ft, 5),
        "window_short_ft": _short(point),
        "checked_cell": case.checked_cell,
        **_touchdown(case, point, flight),
    }


def _touchdown(case: Landing, point: GoAround, flight: Flight) -> dict[str, Any]:
    """Return where the planned touchdown lies in the landing distance available."""
    have, touchdown = flight.arrival.have, flight.touchdown
    lda, allowance = have.lda.value, case.allowance.value
    aim_ft = None if touchdown is None else have.begins_ft + touchdown.aim_ft
    before_aim = aim_ft is not None and point.limit_ft is not None and point.limit_ft <= aim_ft
    if lda is None or allowance is None:
        return {
            "touchdown_share": None,
            "past_first_third_ft": None,
            "past_centre_ft": None,
            "limit_before_aim": before_aim,
        }
    down_ft = up(have.begins_ft + allowance, 5)
    return {
        "touchdown_share": round(up(down_ft / lda, 0.01), 2),
        "past_first_third_ft": max(0.0, down_ft - down(lda / 3, 5)),
        "past_centre_ft": max(0.0, down_ft - down(lda / 6, 5)),
        "limit_before_aim": before_aim,
    }


def _factored(chart: Chart | None) -> bool:
    """Say whether a table has a safety factor in it, nobody knows how large."""
    return chart is not None and chart.conditions.factored and chart.conditions.factor_inside is None


def _short(point: GoAround) -> float | None:
    """Return by how much the window is narrower than the pilot's own touchdown zone [ft], 0 where it is not."""
    if point.window_ft is None or point.zone_ft is None:
        return None
    return max(0.0, up(point.zone_ft - down(point.window_ft, 5), 5))


def _increase(flight: Flight) -> float | None:
    planned, longer = _up(flight.planned.need, 5), _up(flight.flaps_up.need, 5)
    return None if planned is None or longer is None else longer - planned


def _cost(case: Landing) -> float | None:
    return None if case.speed_cost_ft is None else up(case.speed_cost_ft, 5)


def _up(figure: Figure, step: float) -> float | None:
    return None if figure.value is None else up(figure.value, step)


def _down(figure: Figure, step: float) -> float | None:
    return None if figure.value is None else down(figure.value, step)


def flat(facts: Mapping[str, Any], prefix: str = "") -> dict[str, Any]:
    """Return facts by their dotted paths."""
    found: dict[str, Any] = {}
    for name, value in facts.items():
        path = f"{prefix}{name}"
        found |= flat(value, f"{path}.") if isinstance(value, Mapping) else {path: value}
    return found

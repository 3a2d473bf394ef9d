"""The facts that rules may ask about: printed values and states, by name, each name ending in its unit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from briefgen.calc.decision import GoAround
from briefgen.calc.distance import Scene
from briefgen.calc.flight import Air, Flight
from briefgen.calc.landing import Landing
from briefgen.fact_list import FACTS
from briefgen.figures import Figure
from briefgen.handbook.chart import DistanceChart
from briefgen.items import Item
from briefgen.model.trip import Trip, Use
from briefgen.units import down, up


def facts_of(trip: Trip, flight: Flight, items: tuple[Item, ...]) -> dict[str, Any]:
    """Return the facts of a worked trip, those of `fact_list`. A fact that could not be worked is None."""
    most_kt = up(max(flight.departure.wind.crosswind_kt, flight.arrival.wind.crosswind_kt))
    shown = trip.aircraft.demonstrated_crosswind_kt
    return {
        "policy": {"loaded": trip.policy is not None},
        "departure": _place(trip.departure.use, flight.departure, flight.departure_air),
        "arrival": _place(trip.arrival.use, flight.arrival, flight.arrival_air),
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
        },
        "landing": {
            "planned": _landing(flight.planned, flight.go_around),
            "flaps_up": {
                **_landing(flight.flaps_up, flight.go_around_flaps_up),
                "increase_ft": _increase(flight),
            },
            "partial": {"given": flight.partial is not None, "flaps": trip.arrival.partial_flaps},
            "partial_without_data": flight.partial is not None and flight.partial.need is flight.flaps_up.need,
            "planned_without_data": flight.planned.need is flight.flaps_up.need,
            "planned_flaps": trip.arrival.flaps,
            "planned_share": _share(_row(items, "landing")),
            "extra_kt": up(trip.arrival.extra_speed_kt),
        },
        "gusts": {"additive_kt": up(flight.gusts.known), "cost_ft": _cost(flight.planned)},
        "crosswind": {
            "most_kt": most_kt,
            "demonstrated_kt": shown.value if shown else None,
            "demonstrated_share": most_kt / shown.value if shown else None,
        },
        "items": {"landing_partial": None, **_states(items)},
    }


def _states(items: tuple[Item, ...]) -> dict[str, str]:
    """Return the state of every item that is worked; what a policy of its own asks for is no fact of the list."""
    states = {item.id.replace("-", "_"): item.state.value for item in items}
    return {name: state for name, state in states.items() if f"items.{name}" in FACTS}


def _row(items: tuple[Item, ...], id: str) -> Item:
    return next(item for item in items if item.id == id)


def _share(item: Item) -> float | None:
    """Return need as a share of have, from the printed values, rounded up."""
    return None if item.need is None or not item.have else round(up(item.need / item.have, 0.01), 2)


def _place(use: Use, there: Scene, air: Air) -> dict[str, Any]:
    conditions, wind = use.conditions, there.wind
    return {
        "name": use.name,
        "surface": use.runway.surface,
        "state": conditions.surface,
        "grass": conditions.grass or None,
        "soft": conditions.soft,
        "temperature_degC": round(conditions.temperature_degC, 1),
        "density_altitude_ft": _up(air.density_altitude, 10),
        "density_above_field_ft": up((air.density_altitude.value or 0.0) - use.strip.elevation_ft, 10),
        "headwind_kt": down(wind.headwind_kt),
        "tailwind_kt": up(wind.tailwind_kt),
        "crosswind_kt": up(wind.crosswind_kt),
        "gust_kt": up(conditions.wind.gust_kt - conditions.wind.steady_kt),
        "upslope_percent": round(there.have.slope * 100, 2),
        "beyond": use.opposite.beyond or None,
        "displaced_ft": up(use.end.displaced_ft, 5),
        "approach_obstacles": len(use.end.obstacles),
        "departure_obstacles": len(use.opposite.obstacles),
        "obstacle_shift_ft": up(there.have.begins_ft, 5),
        "go_around_possible": use.end.go_around,
    }


def _landing(case: Landing, point: GoAround) -> dict[str, Any]:
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
    }


def _factored(chart: DistanceChart | None) -> bool:
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

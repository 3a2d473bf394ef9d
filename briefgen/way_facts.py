"""The facts of the way: route, fuel and fuel stop; fuel in minutes that it lasts, alike in every unit."""

from __future__ import annotations

from typing import Any

from briefgen.calc.flight import Flight
from briefgen.calc.fuel import Journey
from briefgen.calc.legs import degrees_said, keeps_cruising_rule
from briefgen.figures import Figure
from briefgen.model.trip import Trip
from briefgen.units import down, up


def route_facts(trip: Trip, flight: Flight) -> dict[str, Any]:
    navigation = flight.journey.navigation
    legs = navigation.cruised if navigation else ()
    ground_ft = max(trip.departure.use.strip.elevation_ft, trip.arrival.use.strip.elevation_ft)
    odd = [each for each in legs if not keeps_cruising_rule(each, ground_ft)]
    said = [
        f"{each.leg.to} on {degrees_said(each.magnetic_course_deg)} at {each.leg.altitude_ft:,.0f} ft"
        for each in odd
    ]
    return {"given": navigation is not None, "off_rule_legs": len(odd), "off_rule": "; ".join(said) or None}


def fuel_facts(way: Journey) -> dict[str, Any]:
    fuel, light = way.fuel, way.evening
    return {
        "to_down_by_min": down(fuel.down_by.known) - up(light.need.known) if fuel.down_by and light else None,
        "past_reserve_min": None if fuel.past_reserve is None else down(fuel.past_reserve.known),
        "reserve_min": fuel.reserve_min or None,
        "endurance_min": None if fuel.endurance is None else down(fuel.endurance.known),
    }


def stop_facts(trip: Trip, flight: Flight) -> dict[str, Any]:
    """Return the facts of the fuel stop; null where none is given, or where they could not be worked."""
    stop = flight.stop
    if stop is None:
        names = ("at", "to", "continue_over_min", "land_over_min", "sooner_min")
        return {"given": False, "landing_worked": False, **dict.fromkeys(names)}

    def minutes(have: Figure, need: Figure) -> float | None:
        if have.value is None or need.value is None:
            return None
        printed = round(down(have.known, 0.1) - up(need.known, 0.1), 1)
        return down(printed / stop.most_galh * 60)

    return {
        "given": True,
        "at": stop.at,
        "to": stop.to,
        "landing_worked": landing_worked(trip, stop.to),
        "continue_over_min": minutes(stop.planned, stop.policy_continue_need),
        "land_over_min": minutes(stop.planned, stop.policy_land),
        "sooner_min": minutes(stop.policy_continue_need, stop.policy_land),
    }


def landing_worked(trip: Trip, to: str) -> bool:
    """Say whether the landing at a field is on the sheet: the alternate's, or that back at the departure."""
    return to in {each.use.strip.name for each in (trip.departure, trip.alternate) if each}

"""The facts of the fuel stop: in minutes that the fuel lasts, which are the same in every unit of fuel."""

from __future__ import annotations

from typing import Any

from briefgen.calc.flight import Flight
from briefgen.figures import Figure
from briefgen.model.trip import Trip
from briefgen.units import down, up


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

"""The facts of the climbs: after takeoff, over what stands past the departure end, and after a go-around."""

from __future__ import annotations

from typing import Any

from briefgen.calc.climb_out import Climb
from briefgen.calc.flight import Flight
from briefgen.item import Item
from briefgen.items import CLIMB_OVER
from briefgen.units import down


def climb_facts(climb: Climb | None, flaps: str) -> dict[str, Any]:
    """Return the facts of a climb in one flap setting; None where there is none to count on."""
    percent = climb.percent if climb else None
    return {
        "flaps": flaps,
        "rate_fpm": None if climb is None or climb.rate.value is None else down(climb.rate.value, 10),
        "gradient_percent": None if percent is None else round(down(percent, 0.1), 1),
    }


def climb_out_facts(flight: Flight, items: tuple[Item, ...]) -> dict[str, Any]:
    """Return the facts of the climb after takeoff, and of the obstacle under it that has the least room."""
    row = next((each for each in items if each.id == "climb-out"), None)
    return {
        **climb_facts(flight.climb, flight.climb.flaps),
        "flaps_moved": flight.climb.flaps != flight.takeoff.flaps,
        "obstacle": row.title.removeprefix(CLIMB_OVER) if row else None,
        "obstacle_top_ft": row.need if row else None,
        "over_it_ft": row.have if row else None,
        "asked_ft": row.policy_need if row else None,
    }

"""The facts of a place: its runway, and the air and the ground where the trip file gives them."""

from __future__ import annotations

from typing import Any

from briefgen.calc.atmosphere import density_altitude, relative_humidity
from briefgen.calc.distance import NoAir, Scene
from briefgen.calc.flight import Air
from briefgen.model.trip import Use
from briefgen.units import down, up

_OF_THE_WIND = ("headwind_kt", "tailwind_kt", "crosswind_kt")
_OF_THE_WATER = ("dew_point_degC", "humidity_percent", "humidity_cost_ft")
_OF_THE_AIR = (
    *("state", "grass", "soft", "temperature_degC", "density_altitude_ft", "density_above_field_ft"),
    *("gust_kt", "wind_variable"),
    *_OF_THE_WIND,
    *_OF_THE_WATER,
)


def place_facts(use: Use, there: Scene | NoAir, air: Air) -> dict[str, Any]:
    """Return the facts of the departure or the arrival; those of the air are null where it is not given."""
    return {
        "name": use.name,
        "surface": use.runway.surface,
        "upslope_percent": round(there.have.slope * 100, 2),
        "beyond": use.opposite.beyond or None,
        "displaced_ft": up(use.end.displaced_ft, 5),
        "approach_obstacles": len(use.end.obstacles),
        "departure_obstacles": len(use.opposite.obstacles),
        "obstacle_shift_ft": up(there.have.begins_ft, 5),
        "go_around_possible": use.end.go_around,
        **_air(use, there, air),
    }


def wind_facts(there: Scene | NoAir) -> dict[str, Any]:
    """Return the facts of the wind on a runway: credits down, penalties up; null where no wind is given."""
    if isinstance(there, NoAir):
        return dict.fromkeys(_OF_THE_WIND)
    wind = there.wind
    return {
        "headwind_kt": down(wind.headwind_kt),
        "tailwind_kt": up(wind.tailwind_kt),
        "crosswind_kt": up(wind.crosswind_kt),
    }


def _air(use: Use, there: Scene | NoAir, air: Air) -> dict[str, Any]:
    if isinstance(there, NoAir):
        return dict.fromkeys(_OF_THE_AIR)
    conditions, wind = there.conditions, there.conditions.wind
    density_ft = air.density_altitude.known
    return {
        "state": conditions.surface,
        "grass": conditions.grass or None,
        "soft": conditions.soft,
        "temperature_degC": round(conditions.temperature_degC, 1),
        "density_altitude_ft": up(density_ft, 10),
        "density_above_field_ft": up(density_ft - use.strip.elevation_ft, 10),
        "gust_kt": up(wind.gust_kt - wind.steady_kt),
        "wind_variable": wind.steady_kt > 0 and (wind.from_deg is None or wind.between_deg is not None),
        **wind_facts(there),
        **_moisture(there, density_ft),
    }


def _moisture(there: Scene, density_ft: float) -> dict[str, Any]:
    """Return how humid the air is, and what that adds to the density altitude."""
    temperature, dew_point = there.conditions.temperature_degC, there.conditions.dew_point_degC
    if dew_point is None:
        return dict.fromkeys(_OF_THE_WATER)
    dry_ft = density_altitude(there.pressure_altitude_ft, temperature)
    return {
        "dew_point_degC": round(dew_point, 1),
        "humidity_percent": up(100 * relative_humidity(temperature, dew_point)),
        "humidity_cost_ft": up(density_ft - dry_ft, 10),
    }

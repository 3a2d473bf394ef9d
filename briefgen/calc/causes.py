"""Which causes are there today, and how much of each: the inputs that correction notes answer."""

from __future__ import annotations

from briefgen.calc.atmosphere import standard_temperature
from briefgen.model.weather import Conditions


def present(
    *,
    along_kt: float,
    slope: float,
    surface: str,
    conditions: Conditions,
    pressure_altitude_ft: float,
    at_standard: bool,
    phase: str,
) -> dict[str, float]:
    """Return the causes present with their amounts, in the units that `handbook.causes` gives.

    Parameters
    ----------
    along_kt : headwind positive, tailwind negative [kt]
    slope : up in the direction of use, a fraction
    surface : paved, grass or gravel
    conditions : temperature [degC], and the state of the surface
    pressure_altitude_ft : of the field [ft]
    at_standard : the chart is printed at standard temperature only
    phase : 'takeoff' or 'landing'; very short wet grass is slippery, which lengthens a landing only
    """
    found: dict[str, float] = {}
    if along_kt > 0:
        found["headwind"] = along_kt
    if along_kt < 0:
        found["tailwind"] = -along_kt
    if slope > 0:
        found["upslope"] = slope
    if slope < 0:
        found["downslope"] = -slope
    if at_standard:
        above = conditions.temperature_degC - standard_temperature(pressure_altitude_ft)
        if above > 0:
            found["above standard temperature"] = above
        if above < 0:
            found["below standard temperature"] = -above
    found |= dict.fromkeys(_surface_causes(surface, conditions, phase), 1.0)
    if conditions.soft:
        found["soft ground"] = 1.0
    return found


def _surface_causes(surface: str, conditions: Conditions, phase: str) -> list[str]:
    """Return the causes that the surface and its state bring: what it is made of, then what lies on it."""
    state = conditions.surface
    on_it = [state] if state in _LYING else []
    if surface == "paved":
        return ["wet paved"] if state == "wet" else on_it
    wet = state in _WET
    if surface == "gravel":
        return ["wet gravel" if wet else "gravel", *on_it]
    height = "" if conditions.grass == "very short" and phase == "takeoff" else conditions.grass
    return [_GRASS.get((wet, height), "wet grass" if wet else "dry grass"), *on_it]


_WET = ("wet", "standing water", "slush")
_LYING = ("standing water", "slush", "snow", "ice")
_GRASS = {
    (True, "very short"): "very short wet grass",
    (False, "long"): "long grass",
    (True, "long"): "long wet grass",
}

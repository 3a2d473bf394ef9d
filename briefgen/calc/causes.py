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
    wet = conditions.surface == "wet"
    if surface == "paved" and wet:
        found["wet paved"] = 1.0
    if surface != "paved":
        found[_UNPAVED[surface, wet]] = 1.0
    if conditions.surface == "snow":
        found["snow"] = 1.0
    if conditions.soft:
        found["soft ground"] = 1.0
    return found


_UNPAVED = {
    ("grass", False): "dry grass",
    ("grass", True): "wet grass",
    ("gravel", False): "gravel",
    ("gravel", True): "wet gravel",
}

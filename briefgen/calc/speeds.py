"""Speeds to fly: from the handbook by flap setting and weight, and what is added for gusts."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from itertools import pairwise

from briefgen.figures import Figure, Source, Step, missing
from briefgen.model.aircraft import Aircraft, Calibration, SpeedByWeight
from briefgen.model.policy import Policy
from briefgen.model.weather import Wind
from briefgen.units import down


def find(speeds: Iterable[SpeedByWeight], flaps: str) -> SpeedByWeight | None:
    """Return the entry for a flap setting, if the handbook prints one."""
    return next((speed for speed in speeds if speed.flaps == flaps), None)


def speed(entry: SpeedByWeight | None, label: str, weight_lb: float) -> Figure:
    """Return a printed speed [kt indicated] at a weight.

    Linear between printed weights; below the lightest, the lightest's speed; above the heaviest, refused. A
    speed printed without a weight is used at every weight, and never lowered.

    Parameters
    ----------
    entry : the handbook's own figures, None where it prints none.
    label : what the speed is called.
    weight_lb : above 0 [lb].
    """
    if entry is None:
        return missing(label, "kt", "the aircraft file gives no such speed")
    source = Source(entry.page)
    if not entry.weights_lb:
        return Figure(
            label,
            "kt",
            entry.speeds_kt[0],
            (Step(label, label, "printed for every weight", None, entry.speeds_kt[0], "kt", source),),
        )
    weights, speeds = entry.weights_lb, entry.speeds_kt
    if weight_lb > weights[-1]:
        return missing(label, "kt", f"printed up to {weights[-1]:,.0f} lb only ({entry.page})", "weight_lb")
    if weight_lb <= weights[0]:
        value, words = speeds[0], f"printed at {weights[0]:,.0f} lb"
    else:
        value = _between(weights, speeds, weight_lb)
        words = f"at {weight_lb:,.0f} lb, between printed weights"
    return Figure(label, "kt", value, (Step(label, label, words, None, value, "kt", source),))


def gust_additive(wind: Wind, policy: Policy) -> Figure:
    """Return what is added to the approach speed for gusts [kt]: a whole knot, never more than the share."""
    label = "gust additive"
    factor = wind.gust_kt - wind.steady_kt
    value = down(policy.gust_share * factor)
    words = f"{policy.gust_share * 100:g} % of the gust factor of {factor:g} kt, rounded down"
    return Figure(label, "kt", value, (Step(label, label, words, None, value, "kt", policy.gust_source),))


def calibrated(aircraft: Aircraft, flaps: str, indicated_kt: float) -> float:
    """Return the calibrated airspeed [kt]; the indicated one outside the handbook's own calibration."""
    table: Calibration | None = next((each for each in aircraft.calibration if each.flaps == flaps), None)
    if table is None or not table.indicated_kt[0] <= indicated_kt <= table.indicated_kt[-1]:
        return indicated_kt
    return _between(table.indicated_kt, table.calibrated_kt, indicated_kt)


def _between(points: tuple[float, ...], values: tuple[float, ...], at: float) -> float:
    index = min(bisect_right(points, at) - 1, len(points) - 2)
    (a, x), (b, y) = list(pairwise(zip(points, values, strict=True)))[index]
    return x + (y - x) * (at - a) / (b - a)

"""Speeds to fly: from the handbook by flap setting and weight, and what is added for gusts."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from itertools import pairwise
from math import sqrt

from briefgen.figures import Figure, Source, Step, missing, stated
from briefgen.model.aircraft import Aircraft, Calibration, SpeedByWeight
from briefgen.model.policy import Policy
from briefgen.model.weather import NotGiven, Wind
from briefgen.units import down

NO_SPEED = "the aircraft file gives no such speed"
LOWER_WHEN_LIGHTER = Source(
    "maneuvering speed falls with weight, by its root: PHAK FAA-H-8083-25C ch. 5, load factors",
    "published",
    "from memory",
)


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
        return missing(label, "kt", NO_SPEED)
    source = Source(entry.page)
    if not entry.weights_lb:
        return stated(label, "kt", entry.speeds_kt[0], "printed for every weight", source)
    weights, speeds = entry.weights_lb, entry.speeds_kt
    if weight_lb > weights[-1]:
        return missing(label, "kt", f"printed up to {weights[-1]:,.0f} lb only ({entry.page})", "weight_lb")
    if weight_lb <= weights[0]:
        return stated(label, "kt", speeds[0], f"printed at {weights[0]:,.0f} lb", source)
    value = _between(weights, speeds, weight_lb)
    return stated(label, "kt", value, f"at {weight_lb:,.0f} lb, between printed weights", source)


def gust_additive(wind: Wind | NotGiven, policy: Policy) -> Figure:
    """Return what is added to the approach speed for gusts [kt]: a whole knot, never more than the share."""
    label = "gust additive"
    if not policy.gust_share:
        return stated(label, "kt", 0.0, "none is added", policy.gust_source)
    if isinstance(wind, NotGiven):
        return missing(label, "kt", wind.reason)
    factor = wind.gust_kt - wind.steady_kt
    value = down(policy.gust_share * factor)
    words = f"{policy.gust_share * 100:g} % of the gust factor of {factor:g} kt, rounded down"
    return stated(label, "kt", value, words, policy.gust_source)


def calibrated(aircraft: Aircraft, flaps: str, indicated_kt: float) -> float:
    """Return the calibrated airspeed [kt]; the indicated one outside the handbook's own calibration."""
    table = calibration(aircraft, flaps, indicated_kt)
    return indicated_kt if table is None else _between(table.indicated_kt, table.calibrated_kt, indicated_kt)


def calibration(aircraft: Aircraft, flaps: str, indicated_kt: float) -> Calibration | None:
    """Return the handbook's calibration for a flap setting, where it covers an indicated airspeed [kt]."""
    table: Calibration | None = next((each for each in aircraft.calibration if each.flaps == flaps), None)
    if table is None or not table.indicated_kt[0] <= indicated_kt <= table.indicated_kt[-1]:
        return None
    return table


def indicated(table: Calibration, calibrated_kt: float) -> float | None:
    """Return the highest indicated airspeed [kt] of a calibrated one; None past either end of the table.

    >>> indicated(Calibration("up", (40.0, 60.0), (50.0, 64.0), "p. 5"), 57)
    50.0
    """
    found = None
    for (a, x), (b, y) in pairwise(zip(table.indicated_kt, table.calibrated_kt, strict=True)):
        if min(x, y) <= calibrated_kt <= max(x, y):
            found = b if x == y else a + (b - a) * (calibrated_kt - x) / (y - x)
    return found


def maneuvering(entry: SpeedByWeight | None, label: str, weight_lb: float) -> Figure:
    """Return the maneuvering speed [kt indicated] at a weight: a most, so that it is printed rounded down.

    Every other speed on the sheet is one to hold, and is rounded up; this one must not be exceeded. It falls with
    the root of the weight. Between printed weights it is linear, which is never above the root. Below the lightest,
    or below the only one, it falls by the root from there: an estimate, as long as the structure is what limits the
    wing and nothing else of the airplane. Above the heaviest it is refused, as no speed is made up.

    Parameters
    ----------
    entry : the handbook's own figures, each at a weight; None where it prints none.
    label : what the speed is called.
    weight_lb : above 0 [lb].
    """
    if entry is None:
        return missing(label, "kt", "the aircraft file has no speeds: maneuvering")
    lightest_lb, printed_kt = entry.weights_lb[0], entry.speeds_kt[0]
    if weight_lb >= lightest_lb:
        return speed(entry, label, weight_lb)
    value = by_root_of_weight(printed_kt, lightest_lb, weight_lb)
    printed = Step(label, label, f"printed at {lightest_lb:,.0f} lb", None, printed_kt, "kt", Source(entry.page))
    words = f"× root of {weight_lb:,.0f} / {lightest_lb:,.0f} lb"
    lighter = Step(label, "lighter than printed", words, printed_kt, value, "kt", LOWER_WHEN_LIGHTER)
    return Figure(label, "kt", value, (printed, lighter), estimate=True)


def by_root_of_weight(speed_kt: float, weight_lb: float, other_lb: float) -> float:
    """Return a speed of one angle of attack [kt] at another weight.

    Parameters
    ----------
    speed_kt : at the first weight, above 0 [kt].
    weight_lb, other_lb : the first weight and the other, above 0 [lb].

    Source: PHAK FAA-H-8083-25C ch. 11, Takeoff Performance: 21 % more weight takes 10 % more speed.

    >>> round(by_root_of_weight(100, 1000, 1210), 6)
    110.0
    """
    return speed_kt * sqrt(other_lb / weight_lb)


def _between(points: tuple[float, ...], values: tuple[float, ...], at: float) -> float:
    index = min(bisect_right(points, at) - 1, len(points) - 2)
    (a, x), (b, y) = list(pairwise(zip(points, values, strict=True)))[index]
    return x + (y - x) * (at - a) / (b - a)

"""Printed numbers: a figure rounded the safe way, with its unit, or why there is none."""

from __future__ import annotations

from dataclasses import dataclass, replace

from briefgen.calc.climb_out import Climb
from briefgen.figures import Figure
from briefgen.units import down, up


@dataclass(frozen=True, slots=True)
class Reading:
    """One printed number: rounded the safe way, or missing with the reason."""

    label: str
    value: float | None
    unit: str
    reason: str = ""
    estimate: bool = False
    beside: str = ""  # the same in other words, printed after it


@dataclass(frozen=True, slots=True)
class ClimbReadings:
    """A climb as it is printed: rates and gradients rounded down, the indicated speed up."""

    flaps: str
    speed: Reading
    rate: Reading
    gradient: Reading  # ft/NM over the ground
    percent: float | None

    @property
    def printed(self) -> Reading:
        """The line of a page: rate, gradient and speed; why there is none, where there is none."""
        if self.rate.value is None:
            return self.rate
        if self.gradient.value is None:
            return replace(self.rate, beside=self.gradient.reason)
        label = self.rate.label.replace("rate of climb", f"climb at {self.speed.value:.0f}\u00a0kt")
        gradient = f"{self.gradient.value:,.0f}\u00a0ft/NM, {self.percent:.1f}\u00a0%"
        return replace(self.rate, label=label, beside=gradient)


def reading(label: str, figure: Figure, *, step: float, upward: bool) -> Reading:
    """Return a figure as it is printed."""
    if figure.value is None:
        return Reading(label, None, figure.unit, figure.reason)
    value = up(figure.value, step) if upward else down(figure.value, step)
    return Reading(label, value, figure.unit, estimate=figure.estimate)


def climb_readings(climb: Climb, *, changed: bool = False) -> ClimbReadings:
    """Return a climb as it is printed; `changed`: the pilot moves the flaps at 50 ft, which no handbook prints."""
    flaps = f"flaps {climb.flaps}" + (" from 50\u00a0ft on" if changed else "")
    percent = None if climb.percent is None else round(down(climb.percent, 0.1), 1)
    return ClimbReadings(
        climb.flaps,
        reading(f"climb speed, {flaps}", climb.speed, step=1, upward=True),
        reading(f"rate of climb, {flaps}", climb.rate, step=10, upward=False),
        reading("climb gradient", climb.gradient, step=5, upward=False),
        percent,
    )

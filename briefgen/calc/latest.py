"""The latest times of a flight whose fuel was worked with the day's reserve, held against the night."""

from __future__ import annotations

from datetime import timedelta
from typing import NamedTuple

from briefgen.calc.daylight import DAY_RESERVE_MIN, LOGGED, NIGHT_RESERVE_MIN, RULE, nights
from briefgen.calc.evening import Evening
from briefgen.figures import Figure, Step
from briefgen.model.policy import Policy

_MIN = timedelta(minutes=1)
_DAY_MIN = 24 * 60.0


class Dusk(NamedTuple):
    """When the night of 14 CFR 1.1 begins along a flight that has the day's reserve: min after takeoff, whole."""

    begins_min: float
    said: str
    kept_min: float  # the reserve that is kept, the rule's or the policy's: less than the night's

    def latest_min(self, onward_min: float) -> float:
        """Return the latest minute after takeoff, so long before the landing, with the day's reserve by day."""
        return self.begins_min - DAY_RESERVE_MIN - 1 - onward_min

    def reached(self, at_min: float, onward_min: float) -> bool:
        """Say whether the day's reserve, begun so long after a time, reaches the night, or only meets it."""
        return at_min + onward_min + DAY_RESERVE_MIN >= self.begins_min


def dusk_of(light: Evening | None, reserve_min: float, policy: Policy) -> Dusk | None:
    """Return the night that latest times are held against; None where its reserve is kept, or no time is known.

    Parameters
    ----------
    light : of the flight; None without a takeoff time.
    reserve_min : that of the rule, at the planned landing [min].
    policy : its own reserve.

    Source: 14 CFR 91.151(a) with the night of 1.1 (read). The night is looked for a day ahead, and taken to
    begin there at the latest.
    """
    kept_min = max(reserve_min, policy.fuel_reserve_s / 60)
    if light is None or kept_min >= NIGHT_RESERVE_MIN:
        return None
    ahead = light.takeoff, light.takeoff + _DAY_MIN * _MIN
    parts = next(each.parts for each in nights(ahead, light.places) if each.night is LOGGED)
    begins = parts[0][0] if parts else ahead[1]
    return Dusk((begins - light.takeoff) / _MIN, f"night from {begins:%H:%M}Z", kept_min)


def down_in_time(figure: Figure, dusk: Dusk, policy: Policy) -> tuple[Figure, float]:
    """Return by when the wheels must be down [min after takeoff], and the reserve that is kept by it [min].

    The later of two: the last minute with the day's reserve by day, and the time with the night's reserve on board.

    Parameters
    ----------
    figure : the time with the day's reserve, or the policy's, on board.
    dusk : when the night begins.
    policy : its margin on what is burnt until then.
    """
    if not dusk.reached(figure.known, 0.0):
        return figure, dusk.kept_min
    by_day, more_min = dusk.latest_min(0.0), NIGHT_RESERVE_MIN - dusk.kept_min
    by_night = figure.known - more_min / (1 + policy.burn_margin)
    if by_night > by_day:
        detail = f"{dusk.said}: by night, so {NIGHT_RESERVE_MIN:g}\u00a0min kept"
        return _held(figure, by_night, detail), NIGHT_RESERVE_MIN
    return in_daylight(figure, dusk, 0.0), dusk.kept_min


def in_daylight(figure: Figure, dusk: Dusk, onward_min: float) -> Figure:
    """Return a latest time [min after takeoff] no later than has the day's reserve by day after the landing.

    Parameters
    ----------
    figure : the time by the fuel; may be missing.
    dusk : when the night begins.
    onward_min : from that time to the landing [min].
    """
    if figure.value is None or not dusk.reached(figure.known, onward_min):
        return figure
    detail = f"{dusk.said}: the last minute with {DAY_RESERVE_MIN:g}\u00a0min by day after the landing"
    return _held(figure, dusk.latest_min(onward_min), detail)


def _held(figure: Figure, value: float, detail: str) -> Figure:
    step = Step("night", figure.label, detail, figure.known, value, "min", RULE)
    return figure._replace(value=value, steps=(*figure.steps, step))

"""The weather along the way: what 14 CFR 91.155 asks of each leg at its altitude, and what is known there.

Known is what the trip file types for the leg or the route; else the worse of the two fields that it lies between,
their ceilings made heights above the sea. Nothing here knows the weather between the fields: that is said with it.
Only ceilings count; a cloud that is no ceiling can be passed beside, at the distance that the rule names.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import NamedTuple

from briefgen.calc.evening import Evening
from briefgen.calc.minima import AIRSPACES, Minimum, WeatherNeed, minimum, need
from briefgen.errors import Refusal
from briefgen.model.route import Leg, Sky
from briefgen.model.trip import Trip, Use
from briefgen.model.weather import Seen
from briefgen.units import down

CLASS_A_FT = 18_000.0  # above sea level, from which on no one flies under visual rules: 14 CFR 71.33 (from memory)
TYPED, ENDS = "as typed", "from the fields at both ends"
NOT_TYPED = Sky(None, None)


class Ends(NamedTuple):
    """The worse of what is known at two fields; `beyond`: no cloud is known below that base, and nothing above."""

    sky: Sky
    beyond: bool


class LegSky(NamedTuple):
    """One leg. `base_ft` [above sea level], infinite where there is no ceiling; it or the sight None: not known.

    `asked` None: the rule could not be looked up. `ground_ft`: the height over the highest ground as typed, None
    where none is. `reason` says what is not known.
    """

    leg: Leg
    asked: WeatherNeed | None
    taken: str  # how the class of airspace was taken, '' where it was given
    base_ft: float | None
    visibility_SM: float | None
    by: str
    ground_ft: float | None
    reason: str
    beyond: bool = False  # no cloud is known below that base, and nothing above it


def along(trip: Trip, night: bool | None, light: Evening | None = None) -> tuple[LegSky, ...]:
    """Return each leg of a trip's route, and the way to the alternate; none where it has no route.

    Parameters
    ----------
    trip : its route, and what is known at its fields.
    night : whether any of the flight is at night; None, not known, is taken as night.
    light : of the flight, which says whether it is night at the alternate; None: not known.
    """
    if trip.route is None:
        return ()
    out, home, other = trip.departure.use, trip.arrival.use, trip.alternate
    onward = trip.route.alternate
    between = _at_both(out, home)
    found = [_leg(leg, between, night) for leg in trip.route.legs]
    return (
        (*found, _leg(onward, _at_both(home, other.use), _night_later(night, light)))
        if onward and other
        else tuple(found)
    )


def _night_later(night: bool | None, light: Evening | None) -> bool | None:
    """Return whether it is night on the way to the alternate, which is flown after the flight."""
    if night or light is None:
        return night
    return next((field.night for field in light.fields if field.role == "alternate"), None)


def _leg(leg: Leg, ends: Ends, night: bool | None) -> LegSky:
    asked, taken, reason = _asked(leg, night)
    sky, by, unknown = _known(leg.sky, ends.sky)
    beyond = ends.beyond and leg.sky.base_ft is None
    if beyond and asked and sky.base_ft is not None and sky.base_ft < asked.cloud_base.known:
        known = f"at the ends no cloud is known below {down(sky.base_ft, 10):,.0f}\u00a0ft, and nothing above it"
        sky, unknown, beyond = sky._replace(base_ft=None), "; ".join(filter(None, (known, unknown))), False
    reasons = "; ".join(filter(None, (reason, unknown)))
    height_ft = over_ground_ft(leg)
    return LegSky(leg, asked, taken, sky.base_ft, sky.visibility_SM, by, height_ft, reasons, beyond)


def over_ground_ft(leg: Leg) -> float | None:
    """Return how high a leg is over its highest ground as typed [ft]; None where none is."""
    return None if leg.terrain_ft is None else leg.altitude_ft - leg.terrain_ft


def _asked(leg: Leg, night: bool | None) -> tuple[WeatherNeed | None, str, str]:
    """Return the strictest that the rule may ask for, how its class was taken, and why there is nothing."""
    if leg.altitude_ft >= CLASS_A_FT:
        return None, "", f"class A from {CLASS_A_FT:,.0f}\u00a0ft: no flight under visual rules"
    taken = [] if leg.airspace else ["the strictest class, as the leg gives no 'airspace'"]
    if leg.airspace == "G" and leg.lowest_ft is None:
        taken.append("as over 1,200\u00a0ft above the surface, as the leg gives no 'lowest_ground'")
    lowest_ft = -inf if leg.lowest_ft is None else leg.lowest_ft
    try:
        rows = [minimum(each, leg.altitude_ft, lowest_ft, night) for each in leg.airspace or AIRSPACES[1:]]
    except Refusal as refusal:
        return None, "", refusal.reason
    return need(max(rows, key=_strict), leg.altitude_ft), "; ".join(taken), ""


def _strict(row: Minimum) -> tuple[float, float]:
    return row.visibility_sm, row.below_ft or 0.0


def _known(typed: Sky, ends: Sky) -> tuple[Sky, str, str]:
    """Return the cloud base and the visibility that are known, by what, and which of them is not."""
    if typed == NOT_TYPED and None not in ends:
        return ends, ENDS, ""
    found = Sky(*(at_ends if own is None else own for own, at_ends in zip(typed, ends, strict=True)))
    by = {
        name: ENDS if own is None else TYPED for name, own in zip(("cloud base", "visibility"), typed, strict=True)
    }
    said = "; ".join(f"{name} {how}" for name, how in by.items())
    lacking = [name for name, value in zip(by, found, strict=True) if value is None]
    unknown = f"{' and '.join(lacking)} not known at both ends; or type 'along' under 'route'" if lacking else ""
    return found, by["cloud base"] if len(set(by.values())) == 1 else said, unknown


def _at_both(*ends: Use) -> Ends:
    """Return the worse of what is known at fields; of what is not known at one of them, nothing."""
    sky = Sky(_least(_bases(ends)), _least(_sights(ends)))
    return Ends(sky, _is_beyond(ends, sky.base_ft))


def _least(values: Iterator[float | None]) -> float | None:
    """Return the least of values, None where one of them is not known."""
    found = list(values)
    return None if None in found else min(each for each in found if each is not None)


def _seen(ends: tuple[Use, ...], key: str) -> Iterator[tuple[Use, Seen]]:
    for use in ends:
        weather = use.conditions.weather
        yield use, getattr(weather, key) if weather else Seen(None)


def _is_beyond(ends: tuple[Use, ...], base_ft: float | None) -> bool:
    """Say whether a cloud base is only how far up the sky is known to be clear at one of the ends."""
    return any(
        seen.beyond and seen.value is not None and seen.value + use.strip.elevation_ft == base_ft
        for use, seen in _seen(ends, "ceiling")
    )


def _bases(ends: tuple[Use, ...]) -> Iterator[float | None]:
    for use, seen in _seen(ends, "ceiling"):
        yield None if seen.value is None else seen.value + use.strip.elevation_ft


def _sights(ends: tuple[Use, ...]) -> Iterator[float | None]:
    for _, seen in _seen(ends, "visibility"):
        yield seen.value

"""The speeds card: what the sheet adds to the speeds of the takeoff and the landing."""

from typing import NamedTuple

from briefgen.calc.bank import StallRow, stalls
from briefgen.calc.crosswinds import Crosswinds, crosswinds
from briefgen.calc.glide import Glide, density_aloft, glide
from briefgen.calc.legs import Navigation
from briefgen.calc.speeds import maneuvering, speed
from briefgen.figures import Figure, missing
from briefgen.model.aircraft import SpeedByWeight
from briefgen.model.trip import Trip


class SpeedsCard(NamedTuple):
    """The figures of the card, in the order in which they are flown. Speeds in kt indicated.

    `maneuvering`: by weight [lb], that of the takeoff, then that of the landing. `cruise_kt` is the
    fastest leg's calibrated airspeed, None without a route.
    """

    best_angle: Figure
    best_rate: Figure
    maneuvering: tuple[tuple[float, Figure], ...]
    glide: Glide
    stalls: tuple[StallRow, ...]
    crosswinds: tuple[Crosswinds, ...]
    cruise_kt: float | None


def speeds_card(trip: Trip, navigation: Navigation | None) -> SpeedsCard:
    """Work the card of a trip; what the aircraft file does not give is missing, with the key that would give it."""
    aircraft, out, home = trip.aircraft, trip.departure, trip.arrival
    weights_lb = (out.weight_lb, home.weight_lb)
    return SpeedsCard(
        best_angle=_climb(aircraft.best_angle, "best angle", out.weight_lb),
        best_rate=_climb(aircraft.best_rate, "best rate", out.weight_lb),
        maneuvering=tuple(
            (weight_lb, maneuvering(aircraft.maneuvering, f"maneuvering, {weight_lb:,.0f}\u00a0lb", weight_lb))
            for weight_lb in dict.fromkeys(weights_lb)
        ),
        glide=glide(trip, navigation),
        stalls=stalls(aircraft, home.flaps, weights_lb),
        crosswinds=tuple(crosswinds(use) for use in dict.fromkeys((home.use, out.use))),
        cruise_kt=_cruise(trip, navigation),
    )


def _climb(entry: SpeedByWeight | None, name: str, weight_lb: float) -> Figure:
    if entry is None:
        return missing(name, "kt", f"the aircraft file has no speeds: {name.replace(' ', '_')}")
    return speed(entry, name, weight_lb)


def _cruise(trip: Trip, navigation: Navigation | None) -> float | None:
    """Return the fastest calibrated airspeed of the legs [kt]: true airspeed by the root of the density there."""
    legs = navigation.cruised if navigation else ()
    return max(
        (each.airspeed.known * density_aloft(trip, each.leg.altitude_ft) ** 0.5 for each in legs), default=None
    )

"""The speeds card: what the sheet adds to the speeds of the takeoff and the landing."""

from typing import NamedTuple

from briefgen.calc.atmosphere import density_ratio
from briefgen.calc.bank import StallRow, stalls
from briefgen.calc.crosswinds import Crosswinds, crosswinds
from briefgen.calc.glide import Glide, density_aloft, glide
from briefgen.calc.legs import Navigation
from briefgen.calc.performance import NoTables, Tables, level, tables
from briefgen.calc.speeds import maneuvering, speed
from briefgen.figures import Figure, missing
from briefgen.model.aircraft import SpeedByWeight
from briefgen.model.route import Leg
from briefgen.model.trip import Trip, Use
from briefgen.model.weather import Conditions, NotGiven, Wind


class SpeedsCard(NamedTuple):
    """The figures of the card, in the order in which they are flown. Speeds in kt indicated.

    `maneuvering`: by weight [lb], that of the takeoff, then the lightest of the flight. `cruise_kt` is the
    fastest leg's calibrated airspeed, None without a route or without the departure's air.
    """

    best_angle: Figure
    best_rate: Figure
    maneuvering: tuple[tuple[float, Figure], ...]
    glide: Glide
    stalls: tuple[StallRow, ...]
    runways: tuple[Use, ...]
    cruise_kt: float | None

    @property
    def crosswinds(self) -> tuple[Crosswinds, ...]:
        """The table of each runway that has a wind, worked when it is read."""
        return tuple(table for use in self.runways if (table := crosswinds(use)))

    @property
    def without_wind(self) -> tuple[tuple[Use, str], ...]:
        """The runways that have none, each with the reason."""
        return tuple((use, use.conditions.reason) for use in self.runways if isinstance(use.conditions, NotGiven))


def speeds_card(trip: Trip, navigation: Navigation | None, most_gal: float | None = None) -> SpeedsCard:
    """Work the card of a trip; what the aircraft file does not give is missing, with the key that would give it.

    Parameters
    ----------
    trip : its airplane, weights and weather.
    navigation : its route, worked.
    most_gal : the most that it may burn from takeoff to landing [gal], None where that is not worked.
    """
    aircraft, out, home = trip.aircraft, trip.departure, trip.arrival
    weights_lb = (out.weight_lb, home.weight_lb)
    return SpeedsCard(
        best_angle=_climb(aircraft.best_angle, "best angle", out.weight_lb),
        best_rate=_climb(aircraft.best_rate, "best rate", out.weight_lb),
        maneuvering=tuple(
            (weight_lb, maneuvering(aircraft.maneuvering, f"maneuvering, {weight_lb:,.0f}\u00a0lb", weight_lb))
            for weight_lb in dict.fromkeys((out.weight_lb, _lightest(trip, most_gal)))
        ),
        glide=glide(trip, navigation),
        stalls=stalls(aircraft, home.flaps, weights_lb),
        runways=_each_runway(home.use, out.use),
        cruise_kt=_cruise(trip, navigation),
    )


def _each_runway(*uses: Use) -> tuple[Use, ...]:
    """Return the runways in use, one of them only once where the same wind is expected for both uses."""
    return tuple({(use.name, _winds(use.conditions)): use for use in reversed(uses)}.values())[::-1]


def _winds(conditions: Conditions | NotGiven) -> tuple[Wind | NotGiven, ...]:
    return (conditions,) if isinstance(conditions, NotGiven) else conditions.winds


def _lightest(trip: Trip, most_gal: float | None) -> float:
    """Return the least that the airplane may weigh before it lands [lb]: with all burnt that may be."""
    burnt_lb = (most_gal or 0.0) * trip.aircraft.fuel_lb_per_gal
    return min(trip.arrival.weight_lb, trip.departure.weight_lb - burnt_lb)


def _climb(entry: SpeedByWeight | None, name: str, weight_lb: float) -> Figure:
    if entry is None:
        return missing(name, "kt", f"the aircraft file has no speeds: {name.replace(' ', '_')}")
    return speed(entry, name, weight_lb)


def _cruise(trip: Trip, navigation: Navigation | None) -> float | None:
    """Return the fastest calibrated airspeed of the legs [kt]: true airspeed by the root of the density there."""
    legs, ground = navigation.cruised if navigation else (), trip.departure.use.conditions
    if isinstance(ground, NotGiven):
        return None
    book = tables(trip.aircraft, trip.departure, trip.fuel)
    return max((each.airspeed.known * _density(trip, ground, each.leg, book) ** 0.5 for each in legs), default=None)


def _density(trip: Trip, ground: Conditions, leg: Leg, book: Tables | NoTables | None) -> float:
    """Return the density ratio at a leg's altitude: by the temperature given there, else by the departure's."""
    air = level(leg, trip.route.temperatures, book)[0] if isinstance(book, Tables) and trip.route else None
    if air is None or air.temperature_degC is None:
        return density_aloft(trip.departure.use.strip.elevation_ft, ground, leg.altitude_ft)
    return density_ratio(air.pressure_altitude_ft, air.temperature_degC)

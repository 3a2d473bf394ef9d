"""The flight as papers and confirmations look at it: which days, how long, with whom, whether at night."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import NamedTuple

from briefgen.calc.airplane_papers import airplane_papers
from briefgen.calc.daylight import LIGHTS, LOGGED, PASSENGERS
from briefgen.calc.due import Paper
from briefgen.calc.evening import Evening
from briefgen.calc.fuel import Journey
from briefgen.calc.geodesic import between
from briefgen.calc.pilot_papers import limited, pilot_papers
from briefgen.calc.sky import there
from briefgen.model.clock import NO_OFFSET
from briefgen.model.confirmed import CONFIRMABLE
from briefgen.model.papers import Occasion
from briefgen.model.policy import NO_POLICY
from briefgen.model.route import Fuel, Spot
from briefgen.model.trip import Trip
from briefgen.units import up

_ALONE = re.compile(r"\b(solo|alone)\b", re.IGNORECASE)  # of who flies, in the trip's own words


class Papers(NamedTuple):
    """The papers of a trip, looked at for its flight; None where the trip names no file of them."""

    flight: Occasion
    pilot: tuple[Paper, ...] | None
    airplane: tuple[Paper, ...] | None
    taken: tuple[str, ...]  # what was not said, and how it was taken


class Confirmation(NamedTuple):
    """Something to confirm by hand. `open`: why it does not count as confirmed, '' where it does."""

    id: str
    words: str
    asked: bool
    by: str
    at: str
    open: str


def papers_of(trip: Trip, way: Journey) -> Papers:
    """Return the papers of a trip, looked at for its flight.

    Parameters
    ----------
    trip : gives the papers.
    way : the route worked, for how long the flight is.
    """
    flight = occasion(trip, way)
    features = trip.papers.features if trip.papers else {}
    return Papers(
        flight,
        pilot_papers(trip.pilot, flight, features) if trip.pilot else None,
        airplane_papers(trip.papers, flight) if trip.papers else None,
        _taken(trip, flight),
    )


def occasion(trip: Trip, way: Journey) -> Occasion:
    """Return the flight of a trip, from its takeoff or, without a time of it, from `as_of`.

    Its first day is that of the clocks at the departure, its last that of those at the destination; of UTC where an
    offset is not known. The landing is rounded up to the minute.

    Parameters
    ----------
    trip : gives the time.
    way : the route worked, for how long the flight is.
    """
    begins, minutes = trip.begins, air_minutes(trip, way)
    first = trip.departure.use.clock.day(begins)
    last = trip.arrival.use.clock.day(begins + timedelta(minutes=up(minutes or 0.0)))
    after_sunset, night, passenger_night = dark(trip.fuel, way.evening)
    return Occasion(
        first,
        max(first, last),  # past the date line the calendar at the destination may be a day behind
        hours=None if minutes is None else minutes / 60,
        passengers=trip.passengers,
        after_sunset=after_sunset,
        night=night,
        passenger_night=passenger_night,
        known_day=trip.departure.use.clock.day(datetime.fromisoformat(trip.as_of)),
        persons=trip.load.persons if trip.load else None,
        farthest_nm=farthest(trip, way) if trip.pilot and limited(trip.pilot) else None,
        sights_SM=sights_SM(trip),
        elsewhere=trip.departure.use.strip != trip.arrival.use.strip,
        crew=1 if _ALONE.search(trip.crew) or (trip.pilot and trip.pilot.student) else 2,
    )


def sights_SM(trip: Trip) -> tuple[float | None, ...]:
    """Return the visibility at the departure and at the destination [SM], None where it is not known, as printed.

    Behind them stand those on the legs, where the trip gives any; what is not typed there is not looked at.

    Parameters
    ----------
    trip : gives the weather of its fields and legs.
    """
    weather = [use.conditions.weather for use in (trip.departure.use, trip.arrival.use)]
    fields = [each.visibility.value if each else None for each in weather]
    legs = [leg.sky.visibility_SM for leg in trip.route.legs] if trip.route else []
    return tuple(there(None, each)[1] for each in (*fields, *(each for each in legs if each is not None)))


def dark(fuel: Fuel | None, light: Evening | None) -> tuple[bool | None, bool | None, bool | None]:
    """Return whether the flight is after sunset, at night, and in the night of passengers; None: not known.

    By the sun where a takeoff time is given; and by the trip file's own 'night' under 'fuel', which alone does not
    say whether the flight ends before sunset. Either that says night counts.

    Parameters
    ----------
    fuel : of the trip.
    light : of the flight, worked.
    """
    night = fuel.night if fuel else None
    if light is None:
        return (True if night else None), night, night
    touched = {each.night: bool(each.parts) or night is True for each in light.nights}
    return touched[LIGHTS], touched[LOGGED], touched[PASSENGERS]


def air_minutes(trip: Trip, way: Journey) -> float | None:
    """Return how long the flight is in the air [min]; None where that is not worked.

    Parameters
    ----------
    trip : gives the circuits, where there is no route.
    way : the route worked.
    """
    if way.navigation is None:
        seconds = trip.fuel.circuits_s if trip.fuel else None
        return None if seconds is None else seconds / 60
    if way.navigation.refused:
        return None
    return sum(leg.time.known for leg in way.navigation.legs)


def farthest(trip: Trip, way: Journey) -> float | None:
    """Return how far from the departure the legs of a flight end at the most [NM]; None where they are not worked.

    Parameters
    ----------
    trip : gives the field; without a route its circuits stay there.
    way : the route worked, the way to the alternate not counted.
    """
    if way.navigation is None:
        return 0.0 if trip.route is None and trip.fuel and trip.fuel.circuits_s else None
    if way.navigation.refused:
        return None
    home = Spot(trip.departure.use.strip.latitude_deg, trip.departure.use.strip.longitude_deg)
    return max((between(home, leg.end).distance_nm for leg in way.navigation.legs), default=None)


def confirmations(trip: Trip) -> tuple[Confirmation, ...]:
    """Return everything that can be confirmed by hand, in one order, each with whether it is asked for and done.

    Parameters
    ----------
    trip : gives what was confirmed, and the policy that asks.
    """
    asked, found = (trip.policy or NO_POLICY).confirm, []
    for id, (words, keeps_h) in CONFIRMABLE.items():
        given = trip.confirmed.get(id)
        by, at = given or ("", "")
        found.append(Confirmation(id, words, id in asked, by, at, _open(trip, at, keeps_h)))
    return tuple(found)


def _open(trip: Trip, at: str, keeps_h: float | None) -> str:
    """Return why a confirmation does not count: it may be made until the takeoff, or, untimed, until `as_of`."""
    if not at:
        return "not confirmed"
    ago = trip.begins - datetime.fromisoformat(at)
    if ago < timedelta(0):
        return "dated after the takeoff" if trip.takeoff_time else "dated after as_of, and no takeoff time is given"
    if keeps_h is not None and ago > timedelta(hours=keeps_h):
        return f"more than {keeps_h:g}\u00a0h before the flight: confirm again"
    return ""


def _day_said(trip: Trip, flight: Occasion) -> str:
    """Return the day of the flight, by which clocks, and of what."""
    clocks = [trip.departure.use.clock, trip.arrival.use.clock]
    names = " and ".join(dict.fromkeys(each.name for each in clocks if each.name))
    until = f" to {flight.last_day}" if flight.last_day != flight.first_day else ""
    by = f"local, {names}" if names else "UTC"
    unknown = "" if all(each.name for each in clocks) else f"; the local date may differ: {NO_OFFSET}"
    of = "the takeoff" if trip.takeoff_time else "as_of"
    return f"Day of the flight: {flight.first_day}{until}, {by}, of {of}{unknown}."


def _taken(trip: Trip, flight: Occasion) -> tuple[str, ...]:
    """Return what the trip file does not say, and how it was taken."""
    said = [_day_said(trip, flight)]
    if flight.passengers is None:
        said.append("Passengers not said: taken as carried.")
    if flight.contradicted:
        said.append(f"No passengers, as typed, but {flight.persons} weights in the seats: taken as carried.")
    if flight.night is None:
        said.append("Night not said: taken as at night.")
    if flight.hours is None:
        said.append("Time in the air not worked.")
    return (*said, "Not for hire, under visual rules.")

"""The fuel stop as it is printed: one sentence to decide by, the way there, and the numbers behind it."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.calc.flight import Flight
from briefgen.calc.fuel_stop import Stop
from briefgen.figures import Figure
from briefgen.item import Item
from briefgen.items import no_way_out
from briefgen.model.policy import NO_POLICY
from briefgen.model.trip import Trip
from briefgen.plans import Reading
from briefgen.printing import Printing
from briefgen.route_page import LegRow, clock, kept, log
from briefgen.units import down, up
from briefgen.way_facts import landing_worked


@dataclass(frozen=True, slots=True)
class StopPage:
    """A fuel stop. `decide`: what to do where it is decided; `way` None: it could not be worked.

    `readings` are fuel in the printed unit, by the standard in force: needs up, what is there down.
    """

    at: str
    to: str
    decide: str
    way: LegRow | None
    readings: tuple[Reading, ...]
    landing: str  # where the landing there is worked


def stop_page(trip: Trip, flight: Flight, items: tuple[Item, ...]) -> StopPage | None:
    """Return the fuel stop of a trip as it is printed; None where none is given."""
    stop, navigation = flight.stop, flight.journey.navigation
    if stop is None or trip.route is None or navigation is None:
        return None
    printing = (trip.policy or NO_POLICY).printing
    row, way = next(each for each in items if each.id == "fuel-stop"), None
    if stop.way:
        way = log((*navigation.until(stop.at), stop.way), trip.route, printing)[-1]
    return StopPage(
        at=stop.at,
        to=stop.to,
        decide=_decide(stop, row, way, trip.route.takeoff_min, printing),
        way=way,
        readings=_readings(trip, flight, stop, row),
        landing=_landing(trip, stop.to),
    )


def least(stop: Stop, printing: Printing) -> float | None:
    """Return the least to continue with, as printed: the policy's, or without one the rule's."""
    needed = stop.policy_continue_need.value
    return None if needed is None else printing.up(needed, "gal")


def _decide(stop: Stop, row: Item, way: LegRow | None, takeoff_min: int | None, printing: Printing) -> str:
    """Return the decision in one sentence; or why there is none; never to a stop that is no way out."""
    needed = least(stop, printing)
    if needed is None:
        return f"At {stop.at}, not shown: {row.reason}"
    if no_way_out(stop, printing):
        return _none(stop, row, needed, printing)
    there = (
        f", {way.distance_nm:.1f}\u00a0NM, heading {way.heading} magnetic, {way.minutes}\u00a0min" if way else ""
    )
    land = f"land at {stop.to} for fuel{there}."
    if row.have is not None and row.have < needed:
        return (
            f"At {stop.at} the {row.have:.1f}\u00a0{row.unit} planned are under the {needed:.1f}\u00a0{row.unit} "
            f"that continuing asks for: {land}"
        )
    late = ""
    if stop.by.value is not None:
        after = int(down(stop.by.known))
        late = f"{after}\u00a0min after takeoff" if takeoff_min is None else clock(takeoff_min + after)
        late = f" or later than {late}"
    return f"At {stop.at}, under {needed:.1f}\u00a0{row.unit}{late}: {land}"


def _none(stop: Stop, row: Item, needed: float, printing: Printing) -> str:
    """Return why a stop is none to turn to, and what to do before the flight; no order to land there."""
    said = f"{stop.to} is no fuel stop from {stop.at}: "
    if stop.policy_land.value is None:
        return f"{said}the way there is not worked, {stop.policy_land.reason}."
    asked = printing.up(stop.policy_land.value, "gal")
    said += f"landing there takes {asked:.1f}\u00a0{row.unit} with the reserve, "
    if row.have is not None and row.have < asked:
        return f"{said}{row.have:.1f} are planned. Choose another stop, or take more fuel."
    return f"{said}continuing {needed:.1f}. Choose another stop, or decide sooner."


def _readings(trip: Trip, flight: Flight, stop: Stop, row: Item) -> tuple[Reading, ...]:
    printing = (trip.policy or NO_POLICY).printing
    needed = least(stop, printing)
    if needed is None:
        return ()
    fuel = flight.journey.fuel
    onward = any(each.name.startswith("alternate ") for each in fuel.stages)
    whole, reserve = (kept(fuel, trip.policy, onward=each) for each in (onward, False))
    at = _at(stop.reached, trip.route.takeoff_min if trip.route else None)
    planned = Reading(
        f"planned at {stop.at}", row.have, row.unit, row.reason if row.have is None else "", beside=at
    )
    found = [planned, Reading(f"least to continue, {whole}", needed, row.unit)]
    return (
        *found,
        _gallons(f"least to land at {stop.to}, {reserve}", stop.policy_land, printing, upward=True),
        _gallons("left on landing there, as planned", stop.left, printing, upward=False),
    )


def _at(reached: Figure, takeoff_min: int | None) -> str:
    minutes = int(up(reached.known))
    return f"{minutes}\u00a0min after takeoff" if takeoff_min is None else clock(takeoff_min + minutes)


def _gallons(label: str, figure: Figure, printing: Printing, *, upward: bool) -> Reading:
    if figure.value is None:
        return Reading(label, None, printing.unit("gal"), figure.reason)
    rounded = printing.up if upward else printing.down
    return Reading(label, rounded(figure.value, "gal"), printing.unit("gal"))


NOT_LOOKED_AT = "Weather, ground and light on the way there are not shown: nothing here looks at them."


def _landing(trip: Trip, to: str) -> str:
    """Return where on the sheet the runway of the stop is, or that it is not shown; and what of the way is not."""
    return f"{_landing_there(trip, to)} {NOT_LOOKED_AT}"


def _landing_there(trip: Trip, to: str) -> str:
    if trip.alternate and trip.alternate.use.strip.name == to:
        name = trip.alternate.use.name
        return f"The landing there is that at the alternate, {name}; its weather is of its ETA, not of this one."
    if landing_worked(trip, to):
        return f"The landing there is that back at the departure, {trip.departure.use.name}, at takeoff weight."
    return f"The landing at {to} is not shown: it is worked only where the stop is the trip's alternate."

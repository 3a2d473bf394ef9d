"""Read the fuel stop of a route, and note one that cannot be decided on or flown to as it is typed."""

from __future__ import annotations

from briefgen.calc.geodesic import between
from briefgen.calc.legs import Navigation
from briefgen.files.entry import Entry
from briefgen.files.read_leg import note_refused, read_leg
from briefgen.model.aircraft import Aircraft
from briefgen.model.route import FuelStop, Leg, Route, Spot
from briefgen.model.trip import Arrival, Departure
from briefgen.units import up

NEAR_NM = 1.0  # a way to a field ends this near it; as that to the alternate


def read_fuel_stop(
    entry: Entry, legs: tuple[Leg, ...], places: dict[str, Spot], end: str, aircraft: Aircraft
) -> FuelStop | None:
    """Return the fuel stop as typed; None, with the fault noted, where it cannot be one.

    Parameters
    ----------
    entry : of the route.
    legs : those of the route.
    places : fields that need no position.
    end : the destination's name.
    aircraft : has the power settings.
    """
    at, before = entry.get("at"), len(entry.faults.problems)
    if at is None:
        return None
    leg = read_leg(entry, places, aircraft)
    ends = [each.to for each in legs]
    fixes = ", ".join(dict.fromkeys(ends[:-1]))
    hint = f"legs before the last end at {fixes}" if fixes else "put a place to decide at between, as a leg's end"
    if ends.count(str(at.value)) > 1:
        at.fault(f"two legs end at {at.value}, and which of them is meant is not said", "give one another name")
    elif at.value == ends[-1] or at.value == end:
        at.fault(f"the route ends at {at.value}, too late to decide on a fuel stop", hint)
    elif at.value not in ends:
        at.fault(f"no leg ends at {at.value}, where the fuel stop is decided", hint)
    elif leg.to == at.value:
        entry["to"].fault(f"the fuel stop {leg.to} is where it is decided", "name the field to land at")
    elif leg.to == end:
        entry["to"].fault(f"{leg.to} is the destination, where the route leads", "name another field to land at")
    elif leg.altitude_ft > legs[ends.index(str(at.value))].altitude_ft:
        message = f"{entry['altitude'].value} is above the leg to {at.value}"
        entry["altitude"].fault(f"{message}, and no climb to a fuel stop is worked", "fly there no higher")
    return FuelStop(str(at.value), leg) if len(entry.faults.problems) == before else None


def way_there(root: Entry, entry: Entry, places: dict[str, Spot], found: Navigation) -> None:
    """Note a way to the fuel stop that cannot be flown as it is typed, or that ends elsewhere than its field."""
    if found.stop_refused:
        note_refused(root, entry, entry["fuel_stop"], found.stop_refused)
    if found.stop is None or found.stop_end is None or found.stop.leg.to not in places:
        return
    off_nm, to = between(found.stop_end, places[found.stop.leg.to]).distance_nm, found.stop.leg.to
    if off_nm > NEAR_NM:
        entry["fuel_stop"]["to"].fault(
            f"the way to the fuel stop ends {off_nm:.1f} NM from {to}", "leave out its position or course"
        )


def stop_weight(route: Route, found: Navigation, takeoff_lb: float, aircraft: Aircraft) -> float | None:
    """Return the heaviest credible weight [lb] on landing at the fuel stop: the takeoff's less the least burn.

    None without a fuel stop whose way is worked.
    """
    if route.fuel_stop is None or found.stop is None:
        return None
    burnt_gal = sum(each.least_gal for each in found.until(route.fuel_stop.at)) + found.stop.least_gal
    return takeoff_lb - burnt_gal * aircraft.fuel_lb_per_gal


def not_too_heavy(
    root: Entry,
    stop_lb: float | None,
    ends: tuple[Departure | None, Arrival | None],
    aircraft: Aircraft | None,
) -> None:
    """Note a landing at the fuel stop over the maximum weight; not where takeoff or destination are over theirs."""
    departure, arrival = ends
    if stop_lb is None or not (departure and arrival and aircraft):
        return
    maximum = aircraft.maximum_landing_lb
    heavy = departure.weight_lb > aircraft.maximum_takeoff_lb.value or arrival.weight_lb > maximum.value
    if stop_lb > maximum.value and not heavy:
        to = root["route"]["fuel_stop"]["to"]
        limit = f"the maximum of {maximum.value:,.0f} lb ({maximum.page})"
        to.fault(
            f"landing at {to.value} for fuel at {up(stop_lb):,.0f} lb is over {limit}",
            "decide on it later, when more is burnt",
        )

"""Read the load of a trip, and what it makes the airplane weigh."""

from __future__ import annotations

from difflib import get_close_matches
from typing import NamedTuple

from briefgen.calc.balance import lines, masses
from briefgen.errors import Refusal
from briefgen.files.entry import Entry
from briefgen.model.aircraft import Aircraft
from briefgen.model.load import Balance, Load
from briefgen.model.route import Fuel
from briefgen.units import up

SAME_GAL = 0.05  # fuel that is typed twice and differs by no more than this is the same


class Loaded(NamedTuple):
    """A load, and the weights [lb] that come out of it; the landing's once the burn is known."""

    load: Load
    takeoff_lb: float
    landing_lb: float | None = None


def read_load(entry: Entry, aircraft: Aircraft | None, fuel: Fuel | None) -> Loaded | None:
    """Return the load of a trip; None, with the faults noted, where it cannot be read or carried.

    What is burnt is nil until `burnt` says it; what the taxi takes is typed here or with the fuel.
    """
    if aircraft is None:
        return None
    balance = aircraft.balance
    if balance is None:
        entry.fault("the aircraft file has no 'balance', so no load can be worked", "add it there, or type weights")
        return None
    before = len(entry.faults.problems)
    typed = {name: _weights(each) for name, each in _named(entry["stations"], [s.name for s in balance.stations])}
    stations = {name: sum(weights) for name, weights in typed.items()}
    tanks = {
        name: each.quantity("volume", 0, 400)
        for name, each in _named(entry["fuel"], [tank.name for tank in balance.tanks])
    }
    category = _category(entry, balance)
    counts = {name: sum(weight > 0 for weight in weights) for name, weights in typed.items()}
    load = Load(category, stations, tanks, _taxi(entry, fuel), counts=counts)
    if len(entry.faults.problems) == before and not entry.faults.touch(entry.place):
        _within_limits(entry, balance, load)
    if len(entry.faults.problems) > before or entry.faults.touch(entry.place):
        return None
    points = {mass.name: mass.weight_lb for mass in masses(balance, load)}
    for name, limit in (("ramp", balance.maximum_ramp_lb), ("zero fuel", balance.maximum_zero_fuel_lb)):
        if limit and points[name] > limit.value:
            over = f"{name} weight {up(points[name]):,.0f} lb is over the maximum of {limit.value:,.0f} lb"
            entry.fault(f"{over} ({limit.page})", f"leave {up(points[name] - limit.value):,.0f} lb behind")
    return Loaded(load, points["takeoff"])


def _taxi(entry: Entry, fuel: Fuel | None) -> float:
    """Return what the taxi takes [gal]: as typed with the load or with the fuel, nil where neither says it."""
    there = fuel.taxi_gal if fuel else None
    here = entry.optional("taxi", "volume", 0, 20)
    if here is not None and there is not None and abs(here - there) > SAME_GAL:
        entry["taxi"].fault(
            f"{entry['taxi'].value} for the taxi is not the {there:,.1f} gal of 'fuel: taxi'", "delete one of them"
        )
    return there or 0.0 if here is None else here


def burnt(entry: Entry, balance: Balance, loaded: Loaded, least_gal: float | None) -> Loaded | None:
    """Return a load with what will at least be burnt before the landing, and the landing weight.

    Parameters
    ----------
    entry : the load as typed.
    balance : the airplane's.
    loaded : the load as read.
    least_gal : the least that the route or the circuits take [gal]; None where a fault there, which is told, is in
        the way.
    """
    typed, before = entry.get("burn"), len(entry.faults.problems)
    gal = typed.quantity("volume", 0, 400) if typed else least_gal
    if typed and least_gal is not None and gal is not None and gal > least_gal + SAME_GAL:
        way = f"the {least_gal:,.2f} gal that the trip takes at least"
        typed.fault(f"{typed.value} burnt is more than {way}", "delete it, or give less")
        return None
    if gal is None:
        return None
    load = loaded.load._replace(burn_gal=gal)
    try:
        points = {mass.name: mass.weight_lb for mass in masses(balance, load)}
    except Refusal as refusal:
        (typed or entry["fuel"]).fault(refusal.reason, "look at the load and at the tables of moments")
        return None
    return Loaded(load, points["takeoff"], points["landing"]) if len(entry.faults.problems) == before else None


def _named(entry: Entry, known: list[str]) -> list[tuple[str, Entry]]:
    """Return the entries of a group by their names, those with faults left out; a fault for every unknown name."""
    found = []
    for name in entry.value if isinstance(entry.value, dict) else ():
        if name not in known:
            near = get_close_matches(name, known, 1, 0.6)
            hint = f"did you mean '{near[0]}'?" if near else f"it has {', '.join(known)}"
            place = (*entry.place, name)
            message = f"the aircraft file has no '{name}' among its {entry.place[-1]}"
            entry.faults.problems.append(entry.faults.document.problem(place, message, hint, key=True))
        elif not entry.faults.touch((*entry.place, name)):
            found.append((name, entry[name]))
    return found


def _weights(entry: Entry) -> list[float]:
    """Return the weights of a station: a list of them, or one."""
    each_of_them = entry.each() if isinstance(entry.value, list) else [entry]
    return [each.quantity("weight", 0, 3000) for each in each_of_them]


def _category(entry: Entry, balance: Balance) -> str:
    """Return the category whose envelope holds: the one named, or the only one there is."""
    known = [envelope.category for envelope in balance.envelopes]
    found = entry.get("category")
    if found is None:
        if len(known) > 1:
            entry.fault("which category the load is for is not said", f"add category: {' or '.join(known)}")
        return known[0]
    if found.value not in known:
        found.fault(f"there is no category '{found.value}'", f"the handbook has {', '.join(known)}")
    return str(found.value)


def _within_limits(entry: Entry, balance: Balance, load: Load) -> None:
    """Note what is over its limit, a table of moments that ends too soon, and more taxi fuel than there is."""
    for station in balance.stations:
        weight_lb = load.stations.get(station.name, 0.0)
        if station.maximum_lb is not None and weight_lb > station.maximum_lb:
            there = entry["stations"][station.name]
            over = f"{station.name}: {up(weight_lb):,.0f} lb is over the {station.maximum_lb:,.0f} lb it may carry"
            there.fault(f"{over} ({station.page})", f"leave {up(weight_lb - station.maximum_lb):,.0f} lb behind")
    for tank in balance.tanks:
        gal = load.fuel_gal.get(tank.name, 0.0)
        if gal > tank.usable_gal:
            there = entry["fuel"][tank.name]
            there.fault(
                f"{gal:,.1f} gal is more than the {tank.usable_gal:,.1f} gal that the tank holds ({tank.page})"
            )
    for read, place in ((lines, "stations"), (masses, "fuel")):
        try:
            read(balance, load)
        except Refusal as refusal:
            entry[place].fault(refusal.reason, "look at the load and at the tables of moments")
            return

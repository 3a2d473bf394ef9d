"""The weights of a trip: those that come out of its load, and typed ones that must agree with them."""

from __future__ import annotations

from math import inf, isfinite
from typing import NamedTuple

from briefgen.files.entry import Entry
from briefgen.files.read_load import SAME_GAL, Loaded, burnt
from briefgen.model.aircraft import Aircraft
from briefgen.model.limit import Limit
from briefgen.model.load import FUEL_LB_PER_GAL, Balance
from briefgen.model.route import Fuel
from briefgen.units import up

SAME_LB = 2.0  # a typed weight that is this little under what is worked is the same
ROUNDED_UP_LB = 10.0  # and one this little over it was rounded up, which is on the safe side


class Weights(NamedTuple):
    """The load as typed, and what it comes to, None where that is not known."""

    typed: Entry | None
    loaded: Loaded | None

    def after_burn(self, balance: Balance | None, least_gal: float | None, *, unknown: bool) -> Weights:
        """Return the weights with that of the landing; see `burnt`.

        `unknown`: nothing says what is burnt, or it cannot be worked for want of the departure's air. Unless it is
        typed nothing is counted then: the landing is as heavy as the takeoff, or as typed.
        """
        if self.typed is None or self.loaded is None or balance is None:
            return self
        if unknown and self.typed.get("burn") is None:
            return self
        typed, loaded = self.typed, self.loaded
        return Weights(typed, typed.faults.part(typed, lambda each: burnt(each, balance, loaded, least_gal)))

    def of(self, entry: Entry, phase: str, maximum: Limit | None) -> float | None:
        """Return the weight of a takeoff or a landing [lb]; None, with the fault noted, where there is none."""
        computed = None
        if self.loaded:
            computed = self.loaded.takeoff_lb if phase == "takeoff" else self.loaded.landing_lb
            if computed is None and entry.get("weight") is None:
                computed = self.loaded.takeoff_lb
        if entry.get("weight") is None and computed is None:
            if self.typed is None:
                hint = "for example weight: 2450 lb; or give the load under 'load'"
                problem = entry.faults.document.problem(entry.place, "missing key 'weight'", hint, key=True)
                entry.faults.problems.append(problem)
            return None
        weight_lb = _agreed(entry, computed, phase)
        if maximum and weight_lb > maximum.value:
            limit = f"the maximum of {maximum.value:,.0f} lb ({maximum.page})"
            place = entry["weight"] if entry.get("weight") else self.typed
            leave = f"leave {up(weight_lb - maximum.value):,.0f} lb behind" if computed else ""
            assert place is not None
            place.fault(f"{phase} weight {_just_over(weight_lb)} lb is over {limit}", leave)
        return weight_lb


def _just_over(weight_lb: float) -> str:
    """Return a weight rounded up, which is never that of the limit it is over.

    >>> _just_over(2550.4), _just_over(2610)
    ('2,551', '2,610')
    """
    return f"{up(weight_lb):,.0f}"


def _agreed(entry: Entry, loaded_lb: float | None, phase: str) -> float:
    """Return the weight that counts, the heavier of the load's and a typed one; a fault where they disagree.

    A typed takeoff weight may be rounded up a little, a landing weight be for less burnt; neither down.
    """
    weight = entry.get("weight")
    if weight is None:
        assert loaded_lb is not None
        return loaded_lb
    value_lb = weight.quantity("weight", 300, 12_500)
    if loaded_lb is None:
        return value_lb
    over_lb = inf if phase == "landing" else ROUNDED_UP_LB  # a landing may come sooner than the route says
    if isfinite(value_lb) and not -SAME_LB <= value_lb - loaded_lb <= over_lb:
        message = f"{phase} weight {weight.value} is not what the load comes to, {loaded_lb:,.1f} lb"
        weight.fault(message, "take it out, or mend the load")
    return max(value_lb, loaded_lb)


def lighter_on_landing(
    root: Entry, least_gal: float | None, aircraft: Aircraft | None, loaded: Loaded | None
) -> None:
    """Note a typed landing weight that is over the takeoff weight, or lighter than the way there makes it."""
    departure, arrival = root.get("departure"), root.get("arrival")
    if departure is None or arrival is None or not arrival.get("weight"):
        return
    takeoff, landing = departure.get("weight"), arrival["weight"]
    if takeoff is None and loaded is None:
        return
    takeoff_lb = takeoff.quantity("weight") if takeoff else loaded.takeoff_lb if loaded else 0.0
    landing_lb = landing.quantity("weight")
    if landing_lb > takeoff_lb:
        there = takeoff.value if takeoff else f"{up(takeoff_lb):,.0f} lb"
        landing.fault(
            f"landing weight {landing.value} is over the takeoff weight of {there}",
            "take off the fuel that will at least be burnt",
        )
    if least_gal is None or root.get("load"):
        return
    burnt_lb = least_gal * (aircraft.fuel_lb_per_gal if aircraft else FUEL_LB_PER_GAL)
    if landing_lb < takeoff_lb - burnt_lb - SAME_LB:
        message = f"landing weight {landing.value} supposes more fuel burnt than the {least_gal:,.1f} gal"
        landing.fault(f"{message} that the trip takes at least", f"{up(takeoff_lb - burnt_lb):,.0f} lb then")


def one_fuel(root: Entry, fuel: Fuel | None, loaded: Loaded | None, usable: Limit | None) -> Fuel | None:
    """Return the fuel with what is on board, and the taxi's, from the load; a fault where they differ."""
    if loaded is None:
        return fuel
    in_tanks = sum(loaded.load.fuel_gal.values())
    if usable and in_tanks > usable.value + SAME_GAL:
        message = f"{in_tanks:,.1f} gal in the tanks is over the usable {usable.value:,.1f} gal ({usable.page})"
        root["load"]["fuel"].fault(message, "the tanks together hold no more than that")
    if fuel is None:
        return None
    if fuel.taxi_gal is None and root["load"].get("taxi"):
        fuel = fuel._replace(taxi_gal=loaded.load.taxi_gal)
    if fuel.on_board_gal is None:
        return fuel._replace(on_board_gal=in_tanks)
    if abs(fuel.on_board_gal - in_tanks) > SAME_GAL:
        typed = root["fuel"]["on_board"]
        message = f"{typed.value} on board is not the {in_tanks:,.1f} gal in the tanks of the load"
        typed.fault(message, "mend the one that is wrong")
    return fuel

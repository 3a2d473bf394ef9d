"""Read the landing at the alternate, and check what is said of the alternate in one trip file against the rest."""

from __future__ import annotations

from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.files.read_policy import read_touchdown
from briefgen.files.read_weights import ROUNDED_UP_LB, SAME_LB
from briefgen.model.aircraft import Aircraft
from briefgen.model.load import FUEL_LB_PER_GAL
from briefgen.model.trip import Arrival, Use
from briefgen.units import up


def read_alternate(
    entry: Entry,
    use: Use | None,
    arrival: Arrival | None,
    aircraft: Aircraft | None,
    onward_gal: float | None = 0.0,
    stop_lb: float | None = None,
) -> Arrival | None:
    """Return the landing at the alternate; what it leaves out is the arrival's, the weight too.

    None where its runway or the arrival could not be read; what is wrong in it is noted all the same. `onward_gal`
    is the least that the way there takes [gal], 0 where no way is given, None where it cannot be worked for want of
    the departure's air: no weight is then too light. `stop_lb`: the weight on a landing there for fuel, on the way
    to the destination, which counts where it is heavier.
    """
    flaps, partial = read_flaps(entry, "flaps", aircraft), read_flaps(entry, "partial_flaps", aircraft)
    extra_kt, touchdown = entry.optional("extra_speed", "speed", 0, 30), entry.get("touchdown")
    own = Source("the pilot's own for the alternate, trip file", "pilot")
    figures = read_touchdown(touchdown, own) if touchdown else None
    weight_lb = _weight(entry, arrival, aircraft, onward_gal, stop_lb)
    if use is None or arrival is None:
        return None
    return Arrival(
        use=use,
        weight_lb=max(arrival.weight_lb, stop_lb or 0.0) if weight_lb is None else weight_lb,
        flaps=flaps or arrival.flaps,
        technique=entry.text("technique", arrival.technique),
        partial_flaps=partial or arrival.partial_flaps,
        extra_speed_kt=arrival.extra_speed_kt if extra_kt is None else extra_kt,
        touchdown=figures or arrival.touchdown,
        weight_taken=weight_lb is None,
    )


def _weight(
    entry: Entry,
    arrival: Arrival | None,
    aircraft: Aircraft | None,
    onward_gal: float | None,
    stop_lb: float | None,
) -> float | None:
    """Return the weight as typed [lb]; over the maximum, or over that at the destination, it is a fault."""
    weight_lb = entry.optional("weight", "weight", 300, 12_500)
    if weight_lb is None:
        return None
    maximum = aircraft.maximum_landing_lb if aircraft else None
    onward_lb = (onward_gal or 0.0) * (aircraft.fuel_lb_per_gal if aircraft else FUEL_LB_PER_GAL)
    if maximum and weight_lb > maximum.value:
        entry["weight"].fault(
            f"landing weight {weight_lb:,.0f} lb is over the maximum of {maximum.value:,.0f} lb ({maximum.page})"
        )
    elif onward_gal is None:
        return weight_lb  # what is burnt on the way is not known, and so not what it can be held against
    elif stop_lb is not None and weight_lb < stop_lb - SAME_LB:
        message = f"landing weight {entry['weight'].value} is lighter than on a landing here for fuel"
        entry["weight"].fault(
            f"{message}, {up(stop_lb):,.0f} lb",
            "leave the weight out: the heavier of both then counts",
        )
    elif arrival and weight_lb > max(arrival.weight_lb, (stop_lb or 0.0) + ROUNDED_UP_LB):
        entry["weight"].fault(
            f"landing weight {entry['weight'].value} is over that at the destination, {arrival.weight_lb:,.0f} lb",
            "take off the fuel that the way there will at least burn, or leave the weight out",
        )
    elif arrival and weight_lb < arrival.weight_lb - onward_lb - SAME_LB:
        way = f"{onward_gal:,.1f} gal that the way there takes at least" if onward_gal else "no way there is worked"
        entry["weight"].fault(
            f"landing weight {entry['weight'].value} is lighter than at the destination by more than burnt: {way}",
            "leave the weight out: that of the destination then counts",
        )
    return weight_lb


def read_flaps(entry: Entry, key: str, aircraft: Aircraft | None) -> str:
    """Return a flap setting as typed, '' where none is; one that the airplane does not have is a fault."""
    found = entry.get(key)
    if found is None:
        return ""
    if aircraft and isinstance(found.value, str) and found.value not in aircraft.flap_settings:
        found.fault(
            f"flaps '{found.value}' is none of the airplane's settings: {', '.join(aircraft.flap_settings)}",
            "write it as the aircraft file does",
        )
    return str(found.value)


def one_alternate(root: Entry, alternate: Arrival | None) -> None:
    """Note an alternate that is said twice and differs: its landing, the way there, and its fuel.

    Parameters
    ----------
    root : the trip file.
    alternate : the landing there; None where none is given or it could not be read.
    """
    route, fuel = root.get("route"), root.get("fuel")
    way, typed = (each.get("alternate") if each else None for each in (route, fuel))
    if way and typed:
        message = "the way to the alternate is in the route too, where its time and fuel are worked"
        typed.fault(message, "delete one of them")
    for each in (way, typed):
        to = each.get("to") if each else None
        if to and alternate and str(to.value) != alternate.use.strip.name:
            name = alternate.use.strip.name
            to.fault(f"{to.value} is not {name}, where the landing at the alternate is", f"write 'to: {name}'")

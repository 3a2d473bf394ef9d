"""What would bring a load back into its envelope, each mend worked and tried before it is offered.

Source of the method: PHAK FAA-H-8083-25C chapter 10 and FAA-H-8083-1, weight shifting and ballast. The handbooks'
formulas give the pounds; here the least whole number is found by trying, so that every limit is looked at too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from briefgen.calc.balance import Balanced, balanced
from briefgen.errors import Refusal
from briefgen.model.load import Balance, Load, Station


class Mend(NamedTuple):
    """One change that brings every point inside: its words, and the pounds that it moves, adds or leaves out."""

    words: str
    lb: float


def mends(balance: Balance, load: Load, worked: Balanced) -> tuple[Mend, ...]:
    """Return what would mend a load that is outside its envelope, the least of each kind; none for one inside."""
    if worked.inside:
        return ()
    kinds = (_shifts, _left, _drained, _ballast)
    found = [_least(kind(balance, load)) for kind in kinds]
    return tuple(mend for mend in found if mend)


def _least(offers: Iterator[Mend]) -> Mend | None:
    return min(offers, key=lambda mend: mend.lb, default=None)


def _shifts(balance: Balance, load: Load) -> Iterator[Mend]:
    """Move some of what one station carries to another."""
    for here in balance.stations:
        there_is = int(load.stations.get(here.name, 0.0))
        for there in balance.stations:
            change = {here.name: -1, there.name: 1}
            if here is not there and (lb := _first(balance, load, change, there_is)):
                yield Mend(f"move {lb:,.0f} lb from {here.name} to {there.name}", lb)


def _left(balance: Balance, load: Load) -> Iterator[Mend]:
    """Leave some of what a station carries behind."""
    for here in balance.stations:
        there_is = int(load.stations.get(here.name, 0.0))
        if lb := _first(balance, load, {here.name: -1}, there_is):
            yield Mend(f"leave {lb:,.0f} lb of {here.name} behind", lb)


def _ballast(balance: Balance, load: Load) -> Iterator[Mend]:
    """Carry ballast at a station."""
    heaviest = max(weight for envelope in balance.envelopes for weight, _ in envelope.points)
    for there in balance.stations:
        if lb := _first(balance, load, {there.name: 1}, int(heaviest - balance.empty_lb)):
            yield Mend(f"carry {lb:,.0f} lb of ballast at {there.name}", lb)


def _drained(balance: Balance, load: Load) -> Iterator[Mend]:
    """Leave some of the fuel of a tank out, in tenths of a gallon; never of what will be burnt."""
    spare_gal = sum(load.fuel_gal.values()) - load.taxi_gal - load.burn_gal
    for tank in balance.tanks:
        there_is = load.fuel_gal.get(tank.name, 0.0)

        def without(tenths: int, name: str = tank.name, there_is: float = there_is) -> Load:
            return load._replace(fuel_gal={**load.fuel_gal, name: there_is - tenths / 10})

        if tenths := _halved(balance, without, int(10 * min(there_is, spare_gal) + 1e-6)):
            gal = f"{tenths / 10:,.1f} gal"
            yield Mend(f"drain {gal} from {tank.name}", tenths / 10 * balance.fuel_lb_per_gal)


def _first(balance: Balance, load: Load, change: dict[str, int], most_lb: int) -> int:
    """Return the least whole number of pounds by which a change of the stations mends a load; 0 where none does."""
    limits = [_room(station, load) for station in balance.stations if change.get(station.name, 0) > 0]

    def moved(lb: int) -> Load:
        stations = dict(load.stations)
        for name, sign in change.items():
            stations[name] = stations.get(name, 0.0) + sign * lb
        return load._replace(stations=stations)

    return _halved(balance, moved, int(min([most_lb, *limits])))


def _halved(balance: Balance, changed: Callable[[int], Load], most: int) -> int:
    """Return the least whole number up to `most` whose change mends the load; 0 where none does.

    The balance point moves one way with the number, so that the first that is inside is found by halving; it is
    tried, and so is what each station may carry.
    """
    low, high = 0, most
    before = _outside(balance, changed(0))
    while high > low + 1:
        middle = (low + high) // 2
        if _outside(balance, changed(middle)) == before:
            low = middle
        else:
            high = middle
    return high if high > 0 and not _outside(balance, changed(high)) else 0


def _room(station: Station, load: Load) -> float:
    """Return how much more a station may carry [lb]."""
    if station.maximum_lb is None:
        return float("inf")
    return station.maximum_lb - load.stations.get(station.name, 0.0)


def _outside(balance: Balance, load: Load) -> str:
    """Return on which side a load is outside: 'ahead', 'behind', 'over'; '' where every point is inside."""
    try:
        worked = balanced(balance, load)
    except Refusal:  # past the end of a table of moments
        return "over"
    if worked.inside:
        return ""
    place = worked.worst.place
    return "over" if place.over_lb or place.under_lb else "ahead" if place.out_in < 0 else "behind"

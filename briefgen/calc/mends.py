"""What would bring a load back into its envelope, each mend worked and tried before it is offered.

Source of the method: PHAK FAA-H-8083-25C chapter 10 and FAA-H-8083-1, weight shifting and ballast. The handbooks'
formulas give the pounds; here the least whole number is found by trying, so that every limit is looked at too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from math import inf
from typing import NamedTuple

from briefgen.calc.balance import Balanced, balanced
from briefgen.errors import Refusal
from briefgen.model.load import Balance, Load, Station


class Mend(NamedTuple):
    """One change that brings every point inside: its words, and the pounds that it moves, adds or leaves out."""

    words: str
    lb: float


class Bounds(NamedTuple):
    """What a mend must keep to beside the envelope: the most that each point may weigh, and spare fuel.

    `maxima_lb` by the name of the point (ramp, takeoff, landing, zero fuel). `spare_gal`: what is on board over the
    need, 0 where that is not worked: fuel that may be needed is never offered to be drained.
    """

    maxima_lb: Mapping[str, float] = {}
    spare_gal: float = 0.0


NO_BOUNDS = Bounds()


def mends(balance: Balance, load: Load, worked: Balanced, bounds: Bounds = NO_BOUNDS) -> tuple[Mend, ...]:
    """Return what would mend a load that is outside its envelope, the least of each kind; none for one inside.

    Baggage goes first: of what is moved or left behind, that of stations with a limit of their own.
    """
    if worked.inside:
        return ()
    trial = _Trial(balance, load, bounds)
    kinds = (trial.shifts, trial.left, trial.drained, trial.ballast)
    found = [min(kind(), key=lambda offer: offer[0], default=None) for kind in kinds]
    return tuple(offer[1] for offer in found if offer)


Offer = tuple[tuple[bool, float], Mend]  # what it is ranked by, baggage before people, and the mend


class _Trial(NamedTuple):
    """A load that is outside, and what may be changed about it."""

    balance: Balance
    load: Load
    bounds: Bounds

    def shifts(self) -> Iterator[Offer]:
        """Move some of what one station carries to another."""
        for here in self.balance.stations:
            for there in self.balance.stations:
                change = {here.name: -1, there.name: 1}
                if here is not there and (lb := self._first(change, self._carried(here))):
                    yield _offer(f"move {lb:,.0f} lb from {here.name} to {there.name}", lb, here)

    def left(self) -> Iterator[Offer]:
        """Leave some of what a station carries behind."""
        for here in self.balance.stations:
            if lb := self._first({here.name: -1}, self._carried(here)):
                yield _offer(f"leave {lb:,.0f} lb of {here.name} behind", lb, here)

    def drained(self) -> Iterator[Offer]:
        """Leave some of the fuel of a tank out, in tenths of a gallon; never of what is needed."""
        load, on_board = self.load, sum(self.load.fuel_gal.values())
        spare_gal = min(self.bounds.spare_gal, on_board - load.taxi_gal - load.burn_gal)
        for tank in self.balance.tanks:
            there_is = load.fuel_gal.get(tank.name, 0.0)

            def without(tenths: int, name: str = tank.name, there_is: float = there_is) -> Load:
                return load._replace(fuel_gal={**load.fuel_gal, name: there_is - tenths / 10})

            if tenths := self._least(without, int(10 * min(there_is, spare_gal) + 1e-6)):
                lb = tenths / 10 * self.balance.fuel_lb_per_gal
                yield (False, lb), Mend(f"drain {tenths / 10:,.1f} gal from {tank.name}", lb)

    def ballast(self) -> Iterator[Offer]:
        """Carry ballast at a station."""
        heaviest = max(weight for envelope in self.balance.envelopes for weight, _ in envelope.points)
        for there in self.balance.stations:
            if lb := self._first({there.name: 1}, int(heaviest - self.balance.empty_lb)):
                yield (False, lb), Mend(f"carry {lb:,.0f} lb of ballast at {there.name}", lb)

    def _carried(self, station: Station) -> int:
        return int(self.load.stations.get(station.name, 0.0))

    def _first(self, change: Mapping[str, int], most_lb: int) -> int:
        """Return the least whole pounds by which a change of the stations mends the load; 0 where none does."""
        load, stations = self.load, self.balance.stations
        rooms = [_room(station, load) for station in stations if change.get(station.name, 0) > 0]

        def moved(lb: int) -> Load:
            there = dict(load.stations)
            for name, sign in change.items():
                there[name] = there.get(name, 0.0) + sign * lb
            return load._replace(stations=there)

        return self._least(moved, int(min([most_lb, *rooms])))

    def _least(self, changed: Callable[[int], Load], most: int) -> int:
        """Return the least whole number up to `most` whose change mends the load; 0 where none does.

        The balance point moves one way with the number, so that its first change of side is found by halving;
        where that is no mend, as where a limit of weight comes in first, every number from there on is tried.
        """
        low, high = 0, most
        before = self._outside(changed(0))
        while high > low + 1:
            middle = (low + high) // 2
            if self._outside(changed(middle)) == before:
                low = middle
            else:
                high = middle
        return next((number for number in range(max(high, 1), most + 1) if not self._outside(changed(number))), 0)

    def _outside(self, load: Load) -> str:
        """Return on which side a load is outside: 'ahead', 'behind', 'over'; '' where every point is inside."""
        try:
            worked = balanced(self.balance, load)
        except Refusal:  # past the end of a table of moments
            return "over"
        maxima = self.bounds.maxima_lb
        if any(each.mass.weight_lb > maxima.get(each.mass.name, inf) for each in worked.points):
            return "over"
        if worked.inside:
            return ""
        place = worked.worst.place
        return "over" if place.over_lb or place.under_lb else "ahead" if place.out_in < 0 else "behind"


def _offer(words: str, lb: float, station: Station) -> Offer:
    return (station.maximum_lb is None, lb), Mend(words, lb)


def _room(station: Station, load: Load) -> float:
    """Return how much more a station may carry [lb]."""
    if station.maximum_lb is None:
        return inf
    return station.maximum_lb - load.stations.get(station.name, 0.0)

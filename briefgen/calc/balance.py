"""Weight and balance: every point of the flight from the ramp to dry tanks, against the handbook's envelope.

Weights in lb, arms in inches, moments in lb-in. Source of the method: PHAK FAA-H-8083-25C chapter 10 and
AC 43.13-1B chapter 10, computational method.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import inf, sqrt
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.model.load import Balance, Envelope, Lever, Load

INSIDE, EDGE, OUTSIDE = "inside", "on the edge", "outside"
_GRACE = 1e-6  # of a pound or an inch: a point on the line counts as inside, and is said to be on it


class Line(NamedTuple):
    """One line of the loading sheet."""

    name: str
    weight_lb: float
    moment_lb_in: float
    page: str
    maximum_lb: float | None = None

    @property
    def over_lb(self) -> float:
        """By how much it is over its own limit, 0 where it is not."""
        return max(0.0, self.weight_lb - self.maximum_lb) if self.maximum_lb is not None else 0.0


class Mass(NamedTuple):
    """The airplane at one point of the flight."""

    name: str
    weight_lb: float
    moment_lb_in: float

    @property
    def arm_in(self) -> float:
        """Where it balances, aft of the datum."""
        return self.moment_lb_in / self.weight_lb


class Place(NamedTuple):
    """Where a mass lies against an envelope.

    `forward_in`, `aft_in`: the limits at its weight, None above the heaviest and below the lightest that the
    envelope has. `out_in`: how far ahead of (negative) or behind its limit; `over_lb`: how far above the heaviest.
    """

    where: str
    forward_in: float | None
    aft_in: float | None
    out_in: float = 0.0
    over_lb: float = 0.0
    under_lb: float = 0.0  # how far below the lightest weight drawn


def moment(lever: Lever, weight_lb: float) -> float:
    """Return the moment of a weight at a station or in a tank [lb-in]; linear between the weights of a table.

    Raises
    ------
    Refusal : past the end of a table.
    """
    if lever.arm_in is not None:
        return weight_lb * lever.arm_in + 0.0  # nil is never minus nil
    for (w0, m0), (w1, m1) in pairwise(lever.table):
        if w0 <= weight_lb <= w1:
            return m0 + (m1 - m0) * (weight_lb - w0) / (w1 - w0)
    raise Refusal(f"{weight_lb:,.0f} lb is past the end of the table of moments, {lever.table[-1][0]:,.0f} lb")


def lines(balance: Balance, load: Load) -> tuple[Line, ...]:
    """Return the loading sheet without fuel: the empty airplane, then every station, that of an empty seat too."""
    found = [Line("empty airplane", balance.empty_lb, balance.empty_lb_in, balance.empty_page)]
    for station in balance.stations:
        weight_lb = load.stations.get(station.name, 0.0)
        turned = moment(station.lever, weight_lb)
        found.append(Line(station.name, weight_lb, turned, station.page, station.maximum_lb))
    return tuple(found)


def fuel_lines(balance: Balance, load: Load, burnt_gal: float = 0.0) -> tuple[Line, ...]:
    """Return what is left in every tank after a burn [US gal], taken from the tanks in their order.

    Raises
    ------
    Refusal : more is burnt than there is.
    """
    found = []
    for tank in balance.tanks:
        there = load.fuel_gal.get(tank.name, 0.0)
        taken = min(there, burnt_gal)
        burnt_gal -= taken
        weight_lb = (there - taken) * balance.fuel_lb_per_gal
        if there:
            limit = tank.usable_gal * balance.fuel_lb_per_gal
            found.append(Line(f"fuel, {tank.name}", weight_lb, moment(tank.lever, weight_lb), tank.page, limit))
    if burnt_gal > _GRACE:
        raise Refusal(f"{burnt_gal:,.1f} gal more are burnt than there are in the tanks")
    return tuple(found)


def total(name: str, of: Iterable[Line]) -> Mass:
    """Return the sum of some lines."""
    of = tuple(of)
    return Mass(name, sum(line.weight_lb for line in of), sum(line.moment_lb_in for line in of))


def masses(balance: Balance, load: Load) -> tuple[Mass, ...]:
    """Return the airplane at every point to be checked: ramp, takeoff, each change of tank, landing, zero fuel.

    Between two of them one tank is burnt, so that weight and moment run along a straight line where its lever is
    one arm; points in between are checked by `along`.
    """
    dry = lines(balance, load)
    on_board = sum(load.fuel_gal.get(tank.name, 0.0) for tank in balance.tanks)

    def after(name: str, burnt_gal: float) -> Mass:
        return total(name, (*dry, *fuel_lines(balance, load, burnt_gal)))

    changes, emptied = [], 0.0
    for tank in balance.tanks:
        emptied += load.fuel_gal.get(tank.name, 0.0)
        changes.append((emptied, f"{tank.name} empty"))
    landing = load.taxi_gal + load.burn_gal
    points = [(0.0, "ramp"), (load.taxi_gal, "takeoff"), (landing, "landing")]
    between = [(gal, name) for gal, name in changes[:-1] if load.taxi_gal < gal < on_board and gal != landing]
    ordered = sorted([*points, *between], key=lambda point: point[0])
    return (*(after(name, gal) for gal, name in ordered), total("zero fuel", dry))


def _at_rows(balance: Balance, load: Load) -> tuple[Mass, ...]:
    """Return the airplane wherever a tank passes a row of its table of moments: there the burn line bends."""
    dry, emptied, found = lines(balance, load), 0.0, []
    for tank in balance.tanks:
        there_lb = load.fuel_gal.get(tank.name, 0.0) * balance.fuel_lb_per_gal
        for row_lb, _ in reversed(tank.lever.table):
            if 0 < row_lb < there_lb:
                burnt_gal = emptied + (there_lb - row_lb) / balance.fuel_lb_per_gal
                left = fuel_lines(balance, load, burnt_gal)
                found.append(total(f"{tank.name} at {row_lb:,.0f} lb", (*dry, *left)))
        emptied += load.fuel_gal.get(tank.name, 0.0)
    return tuple(found)


def along(masses: tuple[Mass, ...], envelope: Envelope) -> tuple[Mass, ...]:
    """Return points of the burn line, between the masses, at every weight where it may be nearest to the envelope.

    These are where the envelope turns a corner; and, of one drawn in arms, where the burn line, which bows there,
    runs abreast of a side.
    """
    corners = {weight for weight, _ in envelope.points}
    found = []
    for heavier, lighter in pairwise(masses):
        for weight_lb in sorted(corners | _abreast(heavier, lighter, envelope), reverse=True):
            if lighter.weight_lb < weight_lb < heavier.weight_lb:
                share = (heavier.weight_lb - weight_lb) / (heavier.weight_lb - lighter.weight_lb)
                turned = heavier.moment_lb_in + share * (lighter.moment_lb_in - heavier.moment_lb_in)
                found.append(Mass(f"{heavier.name} to {lighter.name}", weight_lb, turned))
    return tuple(found)


def _abreast(heavier: Mass, lighter: Mass, envelope: Envelope) -> set[float]:
    """Return the weights [lb] where the arm along a burn changes with the weight as a side of the envelope does.

    With a moment of m W + c the arm is m + c / W, which changes by -c / W² for a pound.
    """
    burnt_lb = heavier.weight_lb - lighter.weight_lb
    if envelope.by == "moment" or not burnt_lb:
        return set()
    constant = lighter.moment_lb_in - (heavier.moment_lb_in - lighter.moment_lb_in) / burnt_lb * lighter.weight_lb
    sides = pairwise((*envelope.points, envelope.points[0]))
    squares = (-constant * (w1 - w0) / (x1 - x0) for (w0, x0), (w1, x1) in sides if x0 != x1)
    return {sqrt(each) for each in squares if each > 0}


def place(mass: Mass, envelope: Envelope) -> Place:
    """Return where a mass lies against an envelope. A point on the line counts as inside."""
    weights = [weight for weight, _ in envelope.points]
    if mass.weight_lb > max(weights) + _GRACE:
        return Place(OUTSIDE, None, None, over_lb=mass.weight_lb - max(weights))
    if mass.weight_lb < min(weights) - _GRACE:
        return Place(OUTSIDE, None, None, under_lb=min(weights) - mass.weight_lb)
    forward, aft = _section(mass, envelope)
    out = min(mass.arm_in - forward, 0.0) or max(mass.arm_in - aft, 0.0)
    if abs(out) > _GRACE:
        return Place(OUTSIDE, forward, aft, out_in=out)
    on_line = min(mass.arm_in - forward, aft - mass.arm_in) <= _GRACE or mass.weight_lb >= max(weights) - _GRACE
    return Place(EDGE if on_line else INSIDE, forward, aft)


def _section(mass: Mass, envelope: Envelope) -> tuple[float, float]:
    """Return the forward and the aft limit [in] at a weight that the envelope has."""
    weight_lb = min(max(mass.weight_lb, min(w for w, _ in envelope.points)), max(w for w, _ in envelope.points))
    crossed = []
    for (w0, x0), (w1, x1) in pairwise((*envelope.points, envelope.points[0])):
        if min(w0, w1) <= weight_lb <= max(w0, w1):
            crossed += [x0, x1] if w0 == w1 else [x0 + (x1 - x0) * (weight_lb - w0) / (w1 - w0)]
    arms = [x / weight_lb for x in crossed] if envelope.by == "moment" else crossed
    return min(arms), max(arms)


def stretches(points: tuple[tuple[float, float], ...], weight_lb: float) -> int:
    """Return how many stretches of a closed line's inside there are at a weight that is none of its corners'."""
    return sum(min(a, b) < weight_lb < max(a, b) for (a, _), (b, _) in pairwise((*points, points[0]))) // 2


def crosses_itself(points: tuple[tuple[float, float], ...]) -> bool:
    """Say whether a closed line crosses itself: two sides that do not meet at a corner have a point in common."""
    sides = list(pairwise((*points, points[0])))
    return any(
        _cross(a, b)
        for i, a in enumerate(sides)
        for j, b in enumerate(sides)
        if i + 1 < j and not (i == 0 and j == len(sides) - 1)
    )


_Side = tuple[tuple[float, float], tuple[float, float]]


def _cross(one: _Side, other: _Side) -> bool:
    """Say whether two sides have a point in common."""

    def turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    if turn(a, b, c) == turn(a, b, d) == 0:  # on one straight line: in common only where they overlap
        return max(min(a, b), min(c, d)) <= min(max(a, b), max(c, d))
    return turn(a, b, c) * turn(a, b, d) <= 0 and turn(c, d, a) * turn(c, d, b) <= 0


class Checked(NamedTuple):
    """One point of the flight, and where it lies."""

    mass: Mass
    place: Place

    @property
    def room_in(self) -> float:
        """How far inside its nearest limit it balances [in]; negative outside, minus infinity where none is."""
        place = self.place
        if place.forward_in is None or place.aft_in is None:
            return -inf
        return min(self.mass.arm_in - place.forward_in, place.aft_in - self.mass.arm_in)


class Balanced(NamedTuple):
    """A load worked: the loading sheet, every point that has a name, and those of the burn line between them."""

    dry: tuple[Line, ...]
    fuel: tuple[Line, ...]  # before the engine starts
    points: tuple[Checked, ...]
    between: tuple[Checked, ...]
    envelope: Envelope

    @property
    def worst(self) -> Checked:
        """The point nearest to a limit, or furthest outside; the first of them in the order of the flight."""
        return min((*self.points, *self.between), key=lambda each: each.room_in)

    @property
    def inside(self) -> bool:
        """Whether every point is inside the envelope or on its line."""
        return all(each.place.where != OUTSIDE for each in (*self.points, *self.between))


def balanced(balance: Balance, load: Load) -> Balanced:
    """Work a load, and check every point of the flight against the envelope of its category.

    Raises
    ------
    Refusal : a table of moments ends too soon, or more is burnt than there is; StopIteration: no such category.
    """
    envelope = next(each for each in balance.envelopes if each.category == load.category)
    points, bends = masses(balance, load), _at_rows(balance, load)
    line = tuple(sorted((*points, *bends), key=lambda mass: -mass.weight_lb))

    def checked(of: Iterable[Mass]) -> tuple[Checked, ...]:
        return tuple(Checked(mass, place(mass, envelope)) for mass in of)

    between = checked((*bends, *along(line, envelope)))
    return Balanced(lines(balance, load), fuel_lines(balance, load), checked(points), between, envelope)

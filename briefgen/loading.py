"""The load as it is printed: the loading sheet, where the airplane balances all along, and what would mend it.

In the handbook's units, lb and inches, whatever the sheet is printed in: these figures are compared with its pages.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from briefgen.calc.balance import EDGE, OUTSIDE, Balanced, Checked, Line
from briefgen.calc.flight import Flight
from briefgen.calc.fuel import FuelPlan
from briefgen.calc.mends import Bounds, mends
from briefgen.model.load import Balance, Envelope
from briefgen.model.trip import Trip
from briefgen.units import down, up


class LoadLine(NamedTuple):
    """One line of the loading sheet, as printed: weight [lb], arm [in], moment [lb-in], and its page."""

    name: str
    weight: str
    arm: str
    moment: str
    page: str


class LoadPoint(NamedTuple):
    """One point of the flight, as printed: weight [lb], where it balances and its limits [in], the verdict."""

    name: str
    weight: str
    arm: str
    limits: str
    verdict: str


class EnvelopeChart(NamedTuple):
    """What the envelope's drawing is made from: weights [lb] against arms [in] or moments [1000 lb-in]."""

    unit: str
    corners: tuple[tuple[float, float], ...]  # (arm or moment, weight)
    path: tuple[tuple[str, float, float], ...]  # name, arm or moment, weight
    text: str


class LoadPage(NamedTuple):
    """The load and balance page."""

    category: str
    weighed: str
    datum: str
    lines: tuple[LoadLine, ...]
    points: tuple[LoadPoint, ...]
    mends: tuple[str, ...]
    chart: EnvelopeChart
    pages: str


def load_page(trip: Trip, flight: Flight) -> LoadPage | None:
    """Return the page of a worked load; None where there is no load."""
    worked, balance = flight.balance, trip.aircraft.balance
    if worked is None or balance is None or trip.load is None:
        return None
    offers = mends(balance, trip.load, worked, _bounds(trip, balance, flight.journey.fuel))
    return LoadPage(
        category=worked.envelope.category,
        weighed=balance.empty_page,
        datum=balance.datum,
        lines=tuple(_line(line) for line in (*worked.dry, *worked.fuel)),
        points=tuple(_points(worked)),
        mends=tuple(mend.words for mend in offers),
        chart=chart_of(worked),
        pages=worked.envelope.page,
    )


def _bounds(trip: Trip, balance: Balance, fuel: FuelPlan) -> Bounds:
    """Return what a mend must keep to: every maximum weight, and the fuel that is needed."""
    aircraft = trip.aircraft
    limits = {
        "ramp": balance.maximum_ramp_lb,
        "takeoff": aircraft.maximum_takeoff_lb,
        "landing": aircraft.maximum_landing_lb,
        "zero fuel": balance.maximum_zero_fuel_lb,
    }
    need, have = fuel.policy_need.value, fuel.have.value
    spare_gal = 0.0 if need is None or have is None else max(0.0, have - need)
    return Bounds({name: limit.value for name, limit in limits.items() if limit}, spare_gal)


def _line(line: Line) -> LoadLine:
    return LoadLine(
        line.name,
        f"{line.weight_lb:,.1f}",
        f"{line.moment_lb_in / line.weight_lb:,.1f}" if line.weight_lb else "",
        f"{line.moment_lb_in:,.0f}".replace("-", "−"),
        line.page,
    )


def _points(worked: Balanced) -> Iterable[LoadPoint]:
    """Return every named point, and the worst between them where that is worse than all of those."""
    named = list(worked.points)
    if worked.worst not in named:
        named.append(worked.worst)
    for checked in named:
        mass, place = checked.mass, checked.place
        yield LoadPoint(
            mass.name,
            f"{up(mass.weight_lb):,.0f}",
            f"{mass.arm_in:,.2f}".replace("-", "−"),
            "" if place.forward_in is None else f"{place.forward_in:,.2f} to {place.aft_in:,.2f}".replace("-", "−"),
            _verdict(checked),
        )


def _verdict(checked: Checked) -> str:
    place = checked.place
    if place.over_lb:
        return f"outside: {up(place.over_lb):,.0f} lb over"
    if place.under_lb:
        return f"outside: {up(place.under_lb):,.0f} lb under"
    if place.where == OUTSIDE:
        return f"outside: {up(abs(place.out_in), 0.01):.2f} in {'ahead' if place.out_in < 0 else 'behind'}"
    if place.where == EDGE:
        return "on the line: counts as inside"
    return f"inside by {down(checked.room_in, 0.01):.2f} in"


def chart_of(worked: Balanced) -> EnvelopeChart:
    """Return what the envelope's drawing is made from."""
    envelope = worked.envelope
    words = [f"{each.name}: {each.weight} lb at {each.arm} in, {each.verdict}" for each in _points(worked)]
    return EnvelopeChart(
        "in" if envelope.by == "arm" else "1000 lb-in",
        tuple((_across(envelope, x, 1.0), weight) for weight, x in envelope.points),
        tuple(
            (each.mass.name, _across(envelope, each.mass.arm_in, each.mass.weight_lb), each.mass.weight_lb)
            for each in worked.points
        ),
        "; ".join([f"weight and balance, {envelope.category} category", *words]),
    )


def _across(envelope: Envelope, x: float, weight_lb: float) -> float:
    """Return what the drawing has across: an arm, or a moment in thousands."""
    return x if envelope.by == "arm" else x * weight_lb / 1000

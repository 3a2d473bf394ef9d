"""A required item: what is needed, what there is, the margin between them, and the state that follows.

The state is taken from the printed values, needs rounded up and haves down, so that arithmetic and word agree.
"""

import re
from collections.abc import Iterable, Mapping
from enum import Enum
from typing import NamedTuple

from briefgen.calc.balance import OUTSIDE, Checked
from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.figures import Figure, Source, Step, Steps, missing
from briefgen.model.limit import Limit
from briefgen.model.policy import NO_POLICY, Asked, Policy
from briefgen.model.trip import Trip
from briefgen.printing import US, Printing
from briefgen.units import down, up


class State(Enum):
    """The four states, best first."""

    MEETS = "meets policy"
    UNDER = "under policy"
    SHORT = "short"
    NOT_SHOWN = "not shown"

    @property
    def rank(self) -> int:
        """0 for the best, 3 for the worst."""
        return list(State).index(self)


class Item(NamedTuple):
    """One row of the sheet. Printed values, in `unit`, are rounded; the figures behind them are not.

    `minimum` is the margin that the policy asks for, in `unit`; `policy_need` None without a policy. `ratio` is
    have divided by need, for distances and fuel. `unrounded` has need, policy need and have in `unit`; the figures
    are in the unit that they were worked in.
    """

    id: str
    title: str
    where: str
    unit: str
    need: float | None
    policy_need: float | None
    have: float | None
    margin: float | None
    ratio: float | None
    state: State
    reason: str
    minimum: float
    estimate: bool
    figures: tuple[Figure, Figure, Figure]  # need, policy need, have
    unrounded: tuple[float | None, float | None, float | None] = (None, None, None)
    answer: str = ""  # to an item that the policy asks for and no table can work

    @property
    def about(self) -> str:
        """The input at fault, where the item could not be worked because of one."""
        return next((figure.about for figure in self.figures if figure.about), "")

    @property
    def working(self) -> tuple[Figure, ...]:
        """The figures behind the row; the policy need without the steps that it shares with the need."""
        need, policy_need, have = self.figures
        if policy_need is need:
            return need, have
        own = Steps(lambda: tuple(step for step in policy_need.steps if step not in need.steps))
        return need, policy_need._replace(steps=own), have

    @property
    def source(self) -> str:
        """Where the need comes from."""
        steps = self.figures[0].steps
        return str(steps[0].source) if steps else ""


def tally(items: Iterable[Item]) -> dict[State, int]:
    """Return how many items are in each state, all four told."""
    states = [each.state for each in items]
    return {state: states.count(state) for state in State}


def told(tally: Mapping[State, int]) -> str:
    """Return a tally in words.

    >>> told({State.MEETS: 7, State.UNDER: 1, State.SHORT: 2, State.NOT_SHOWN: 0})
    '7 meets policy, 1 under policy, 2 short, 0 not shown'
    """
    return ", ".join(f"{tally[state]} {state.value}" for state in State)


def item(
    id: str,
    title: str,
    where: str,
    need: Figure,
    policy_need: Figure,
    have: Figure,
    *,
    policy: Policy | None,
    minimum: float = 0.0,
    printing: Printing = US,
) -> Item:
    """Return an item with its state.

    Parameters
    ----------
    id, title, where : what the row is called, and the runway or airplane that it is about.
    need, policy_need, have : unrounded figures in one unit; any may be missing.
    policy : None caps the state at 'under policy'.
    minimum : margin that the policy asks for, in the same unit.
    printing : the unit to print in, by which the values are rounded and the state is found.
    """
    inside = need.unit
    needed, asked = (_need(figure, have, printing) for figure in (need, policy_need))
    there = None if have.value is None else printing.down(have.value, inside)
    least = printing.up(minimum, inside) if minimum else 0.0
    margin = ratio = None
    state, reason = State.NOT_SHOWN, next((f.reason for f in (need, policy_need, have) if f.value is None), "")
    if needed is not None and asked is not None and there is not None:
        margin = round(there - needed, 1) if inside == "gal" else there - needed
        ratio = round(down(there / needed, 0.01), 2) if inside in ("ft", "gal") else None
        state = state_of(needed, asked, there, least, policy)
    return Item(
        id=id,
        title=title,
        where=where,
        unit=printing.unit(inside),
        need=needed,
        policy_need=asked if policy else None,
        have=there,
        margin=margin,
        ratio=ratio,
        state=state,
        reason=reason,
        minimum=least,
        estimate=need.estimate,
        figures=_stamped(need, policy_need, have, printing),
        unrounded=(_exact(need, printing), _exact(policy_need, printing), _exact(have, printing)),
    )


def _need(need: Figure, have: Figure, printing: Printing) -> float | None:
    """Return a need as it is printed: rounded up, but a weight within its maximum never past that as printed."""
    if need.value is None:
        return None
    printed = printing.up(need.value, need.unit)
    if need.unit == "lb" and have.value is not None and need.value <= have.value * (1 + 1e-9):
        return min(printed, printing.down(have.value, need.unit))
    return printed


def stamped(figure: Figure, printing: Printing, *, upward: bool) -> Figure:
    """Return a figure with the words in which it is printed elsewhere, where that is in another unit."""
    if figure.value is None or printing.unit(figure.unit) == figure.unit:
        return figure
    rounded = printing.up if upward else printing.down
    return figure._replace(printed=printing.said(rounded(figure.value, figure.unit), figure.unit))


def _exact(figure: Figure, printing: Printing) -> float | None:
    return None if figure.value is None else printing.exact(figure.value, figure.unit)


def _stamped(need: Figure, policy_need: Figure, have: Figure, printing: Printing) -> tuple[Figure, Figure, Figure]:
    """Return an item's figures stamped; a policy need that is the need itself stays so."""
    first = stamped(need, printing, upward=True)
    second = first if policy_need is need else stamped(policy_need, printing, upward=True)
    return first, second, stamped(have, printing, upward=False)


def state_of(need: float, policy_need: float, have: float, minimum: float, policy: Policy | None) -> State:
    """Return the state that printed values have; with no policy nothing is better than 'under policy'."""
    if have < need:
        return State.SHORT
    if policy is None or have < policy_need or have - need < minimum:
        return State.UNDER
    return State.MEETS


def required_items(trip: Trip, flight: Flight) -> tuple[Item, ...]:
    """Return every item of a trip, in the order in which it is flown."""
    policy, rules = trip.policy, trip.policy or NO_POLICY
    out, home = trip.departure.use.name, trip.arrival.use.name
    home += ", landing" if home == out else ""
    take, there, arrive = flight.takeoff, flight.departure.have, flight.arrival.have

    def distance(id: str, title: str, where: str, need: Figure, policy_need: Figure, have: Figure) -> Item:
        minimum = rules.takeoff_margin_ft if id.startswith("takeoff") else rules.landing_margin_ft
        return item(
            id, title, where, need, policy_need, have, policy=policy, minimum=minimum, printing=rules.printing
        )

    def landing(id: str, title: str, case: Landing, where: str = home, have: Figure = arrive.lda) -> Item:
        return distance(id, title, where, case.need, case.policy_need, have)

    rows = [
        _weight(trip, "takeoff", out, trip.departure.weight_lb, trip.aircraft.maximum_takeoff_lb),
        distance("takeoff-roll", "Takeoff ground roll", out, take.roll, take.policy_roll, there.tora),
        distance("takeoff-50", "Takeoff over 50 ft", out, take.total, take.policy_total, there.over_50),
        _crosswind(trip, "takeoff", out, flight.departure.wind.crosswind_kt),
        landing("landing-back", "Land back at once", flight.back, out, there.lda),
        _weight(trip, "landing", home, trip.arrival.weight_lb, trip.aircraft.maximum_landing_lb),
        landing("landing", "Landing as planned", flight.planned),
        landing("landing-flaps-up", "Landing, flaps up", flight.flaps_up),
    ]
    if flight.partial:
        rows.append(landing("landing-partial", f"Landing, flaps {flight.partial.flaps}", flight.partial))
    rows.append(_crosswind(trip, "landing", home, flight.arrival.wind.crosswind_kt))
    rows = [*_load_rows(trip, flight), *rows, _fuel(trip, flight, home)]
    return (*rows, *(_answered(each, trip.answers.get(each.id, "")) for each in rules.asked))


def _fuel(trip: Trip, flight: Flight, where: str) -> Item:
    fuel, printing = flight.journey.fuel, (trip.policy or NO_POLICY).printing
    return item(
        "fuel", "Fuel", where, fuel.need, fuel.policy_need, fuel.have, policy=trip.policy, printing=printing
    )


_DENIED = re.compile(r"(?:no|not|none yet)\b", re.IGNORECASE)  # 'no', 'not yet', 'not dipped'


def _answered(asked: Asked, answer: str) -> Item:
    """Return an item that the policy asks for: 'meets policy' where the trip file answers it, else 'not shown'.

    An answer that begins with 'no' or 'not' is an answer, but not what was asked for: 'under policy'.
    """
    reason = "" if answer else f"asked for by {asked.source.text}; answer it in the trip file, answers: {asked.id}"
    state = State.MEETS if answer else State.NOT_SHOWN
    if _DENIED.match(answer):
        state = State.UNDER
    return _in_words(asked.id, asked.title, "Asked for by the policy", state, reason, answer)


def _in_words(id: str, title: str, where: str, state: State, reason: str, answer: str) -> Item:
    """Return an item that says words instead of numbers."""
    none = missing(title, "", reason)
    return Item(
        id=id,
        title=title,
        where=where,
        unit="",
        need=None,
        policy_need=None,
        have=None,
        margin=None,
        ratio=None,
        state=state,
        reason=reason,
        minimum=0.0,
        estimate=False,
        figures=(none, none, none),
        answer=answer,
    )


def _load_rows(trip: Trip, flight: Flight) -> list[Item]:
    """Return the balance: the point of the flight that is nearest to a limit, or furthest outside."""
    where, title, worked, limits = "Load", "Balance", flight.balance, trip.aircraft.balance
    if worked is None or limits is None:
        reason = "the aircraft file has no 'balance'" if limits is None else "the trip file gives no 'load'"
        return [_in_words("balance", title, where, State.NOT_SHOWN, reason, "")]
    state = State.SHORT if not worked.inside else State.MEETS if trip.policy else State.UNDER
    return [_in_words("balance", title, where, state, "", balance_said(worked.worst))]


def balance_said(checked: Checked) -> str:
    """Return where a point of the flight balances, in words; the limits rounded inward, the point outward."""
    mass, place = checked.mass, checked.place
    if place.forward_in is None or place.aft_in is None:
        by = f"{up(place.over_lb):,.0f} lb over" if place.over_lb else f"{up(place.under_lb):,.0f} lb under"
        return f"{by} the envelope ({mass.name})"
    nearer_aft = place.aft_in - mass.arm_in < mass.arm_in - place.forward_in
    arm = up(mass.arm_in, 0.1) if nearer_aft else down(mass.arm_in, 0.1)
    inside = "outside" if place.where == OUTSIDE else "within"
    limits = f"{up(place.forward_in, 0.1):.1f} to {down(place.aft_in, 0.1):.1f}"
    return f"{arm:.1f} in, {inside} {limits} ({mass.name})".replace("-", "−")


def _weight(trip: Trip, phase: str, where: str, weight_lb: float, maximum: Limit) -> Item:
    label, source = f"{phase} weight", "the load, worked" if trip.load else "trip file"
    need = Figure(
        label,
        "lb",
        weight_lb,
        (Step(label, label, source, None, weight_lb, "lb", Source(source, "pilot")),),
    )
    limit = Step(label, f"maximum {label}", "printed", None, maximum.value, "lb", Source(maximum.page))
    have = Figure(f"maximum {label}", "lb", maximum.value, (limit,))
    return item(
        f"{phase}-weight",
        f"{phase.capitalize()} weight",
        where,
        need,
        need,
        have,
        policy=trip.policy,
        printing=(trip.policy or NO_POLICY).printing,
    )


def _crosswind(trip: Trip, phase: str, where: str, crosswind_kt: float) -> Item:
    """Return the crosswind item: short over a limitation or a policy's maximum, never over a demonstrated value."""
    label, aircraft, policy = f"crosswind, {phase}", trip.aircraft, trip.policy
    detail = "gust across the runway, worst case"
    step = Step(
        label, label, detail, None, crosswind_kt, "kt", Source("wind of the trip file, resolved", "standard")
    )
    need = Figure(label, "kt", crosswind_kt, (step,))
    limits: list[tuple[float, Source]] = []
    if aircraft.crosswind_limit_kt:
        limits.append(
            (aircraft.crosswind_limit_kt.value, Source(f"limitation, {aircraft.crosswind_limit_kt.page}"))
        )
    if policy and policy.crosswind_maximum_kt is not None:
        by = policy.by("crosswind_maximum_kt")
        limits.append((policy.crosswind_maximum_kt, by._replace(text=f"maximum of {by.text}")))
    shown = aircraft.demonstrated_crosswind_kt
    if not limits and shown is None:
        have = missing("crosswind limit", "kt", "neither the handbook nor the policy gives a crosswind figure")
    else:
        value, source = min(limits) if limits else (shown.value, Source(f"demonstrated, {shown.page}"))  # type: ignore[union-attr]
        have = Figure(
            "crosswind limit",
            "kt",
            value,
            (Step(label, "least of what is set", source.text, None, value, "kt", source),),
        )
    row = item(f"{phase}-crosswind", "Crosswind", where, need, need, have, policy=policy)
    if not limits and row.state is State.SHORT:
        return row._replace(state=State.UNDER)
    return row

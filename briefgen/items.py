"""A required item: what is needed, what there is, the margin between them, and the state that follows.

The state is taken from the printed values, needs rounded up and haves down, so that arithmetic and word agree.
"""

from collections.abc import Iterable, Mapping
from enum import Enum
from typing import NamedTuple

from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.figures import Figure, Source, Step, Steps, missing
from briefgen.model.aircraft import Limit
from briefgen.model.policy import NO_POLICY, Asked, Policy
from briefgen.model.trip import Trip
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


PRINTED_STEP = {"ft": 5.0, "kt": 1.0, "lb": 1.0}  # the design's rounding: distances to 5 ft


class Item(NamedTuple):
    """One row of the sheet. Printed values are rounded; the figures behind them are not.

    `minimum` is the margin that the policy asks for,
    `policy_need` None without one. `ratio` is have divided by need, for distances only.
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
) -> Item:
    """Return an item with its state.

    Parameters
    ----------
    id, title, where : what the row is called, and the runway or airplane that it is about.
    need, policy_need, have : unrounded figures in one unit; any may be missing.
    policy : None caps the state at 'under policy'.
    minimum : margin that the policy asks for, in the same unit.
    """
    step = PRINTED_STEP[need.unit]
    needed = None if need.value is None else up(need.value, step)
    asked = None if policy_need.value is None else up(policy_need.value, step)
    there = None if have.value is None else down(have.value, step)
    margin = ratio = None
    state, reason = State.NOT_SHOWN, next((f.reason for f in (need, policy_need, have) if f.value is None), "")
    if needed is not None and asked is not None and there is not None:
        margin = there - needed
        ratio = round(down(there / needed, 0.01), 2) if need.unit == "ft" else None
        state = state_of(needed, asked, there, minimum, policy)
    return Item(
        id=id,
        title=title,
        where=where,
        unit=need.unit,
        need=needed,
        policy_need=asked if policy else None,
        have=there,
        margin=margin,
        ratio=ratio,
        state=state,
        reason=reason,
        minimum=minimum,
        estimate=need.estimate,
        figures=(need, policy_need, have),
    )


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
    take, there, arrive = flight.takeoff, flight.departure.have, flight.arrival.have

    def distance(id: str, title: str, where: str, need: Figure, policy_need: Figure, have: Figure) -> Item:
        minimum = rules.takeoff_margin_ft if id.startswith("takeoff") else rules.landing_margin_ft
        return item(id, title, where, need, policy_need, have, policy=policy, minimum=minimum)

    def landing(id: str, title: str, case: Landing, where: str = home, have: Figure = arrive.lda) -> Item:
        return distance(id, title, where, case.need, case.policy_need, have)

    rows = [
        _weight(trip, "takeoff", out, trip.departure.weight_lb, trip.aircraft.maximum_takeoff_lb),
        distance("takeoff-roll", "Takeoff ground roll", out, take.roll, take.policy_roll, there.tora),
        distance("takeoff-50", "Takeoff over 50 ft", out, take.total, take.policy_total, there.over_50),
        _crosswind(trip, "takeoff", out, flight.departure.wind.crosswind_kt),
        landing("landing-back", "Land back here, full weight", flight.back, out, there.lda),
        _weight(trip, "landing", home, trip.arrival.weight_lb, trip.aircraft.maximum_landing_lb),
        landing("landing", "Landing as planned", flight.planned),
        landing("landing-flaps-up", "Landing, flaps up", flight.flaps_up),
    ]
    if flight.partial:
        rows.append(landing("landing-partial", f"Landing, flaps {flight.partial.flaps}", flight.partial))
    rows.append(_crosswind(trip, "landing", home, flight.arrival.wind.crosswind_kt))
    return (*rows, *(_answered(each, trip.answers.get(each.id, "")) for each in rules.asked))


def _answered(asked: Asked, answer: str) -> Item:
    """Return an item that the policy asks for: 'meets policy' where the trip file answers it, else 'not shown'."""
    reason = "" if answer else f"asked for by {asked.source.text}; answer it in the trip file, answers: {asked.id}"
    none = missing(asked.title, "", reason)
    return Item(
        id=asked.id,
        title=asked.title,
        where="Asked for by the policy",
        unit="",
        need=None,
        policy_need=None,
        have=None,
        margin=None,
        ratio=None,
        state=State.MEETS if answer else State.NOT_SHOWN,
        reason=reason,
        minimum=0.0,
        estimate=False,
        figures=(none, none, none),
        answer=answer,
    )


def _weight(trip: Trip, phase: str, where: str, weight_lb: float, maximum: Limit) -> Item:
    label = f"{phase} weight"
    need = Figure(
        label,
        "lb",
        weight_lb,
        (Step(label, label, "trip file", None, weight_lb, "lb", Source("trip file", "pilot")),),
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

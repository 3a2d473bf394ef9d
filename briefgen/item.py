"""A required item: what is needed, what there is, the margin between them, and the state that follows.

The state is taken from the printed values, needs rounded up and haves down, so that arithmetic and word agree.
"""

from collections.abc import Iterable, Mapping
from enum import Enum
from typing import NamedTuple

from briefgen.figures import Figure, Steps, missing
from briefgen.model.policy import Policy
from briefgen.printing import US, Printing
from briefgen.units import down


class State(Enum):
    """The four states, best first."""

    MEETS = "meets policy"
    UNDER = "under policy"
    SHORT = "short"
    NOT_SHOWN = "not shown"

    @property
    def rank(self) -> int:
        """0 for the best, 3 for the worst."""
        return _RANKS[self]


_RANKS = {state: rank for rank, state in enumerate(State)}


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
    height: bool = False  # in ft, on a sheet whose lengths along the ground are in another unit

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
    inside, figures = need.unit, (need, policy_need, have)
    as_worked = printing.unit(inside) == inside  # printed in the unit that it was worked in
    needed = _need(need, have, printing)
    asked = needed if policy_need is need else _need(policy_need, have, printing)
    there = None if have.value is None else printing.down(have.value, inside)
    least = printing.up(minimum, inside) if minimum else 0.0
    margin = ratio = None
    state, reason = State.NOT_SHOWN, next((f.reason for f in figures if f.value is None), "")
    if needed is not None and asked is not None and there is not None:
        margin = round(there - needed, 1) if inside == "gal" else there - needed
        ratio = round(down(there / needed, 0.01), 2) if inside in ("ft", "gal") and needed else None
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
        figures=figures if as_worked else _stamped(*figures, printing),
        unrounded=_values(figures, printing, as_worked=as_worked),
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


def _values(
    figures: tuple[Figure, Figure, Figure], printing: Printing, *, as_worked: bool
) -> tuple[float | None, float | None, float | None]:
    """Return the values of an item's figures in the unit they are printed in, unrounded."""
    need, policy_need, have = figures
    if as_worked:
        return need.value, policy_need.value, have.value
    return _exact(need, printing), _exact(policy_need, printing), _exact(have, printing)


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


def in_words(id: str, title: str, where: str, state: State, reason: str, answer: str) -> Item:
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

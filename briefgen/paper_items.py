"""The rows of the first page that papers and confirmations have: the pilot's, the airplane's, what is confirmed."""

from __future__ import annotations

from collections.abc import Iterable

from briefgen.calc.due import Paper, Standing
from briefgen.calc.flight import Flight
from briefgen.calc.occasion import confirmations
from briefgen.item import Item, State, in_words
from briefgen.model.trip import Trip

WHERE = "Papers"
_PAST = (Standing.EXPIRED, Standing.NOT_MET, Standing.RUNS_OUT)
_NAMED = 2  # of each standing, on the first page; the page 'Papers' has them all


def paper_rows(trip: Trip, flight: Flight) -> tuple[Item, ...]:
    """Return one row for the pilot's papers, one for the airplane's, and one for what is asked to be confirmed.

    There is no row for confirmations where no policy asks for any.
    """
    found = flight.papers
    groups = (("pilot", "pilot", found.pilot), ("airplane", "papers", found.airplane))
    rows = [_row(trip, f"papers-{whose}", f"Papers, {whose}", key, papers) for whose, key, papers in groups]
    return (*rows, *_confirmed(trip))


def _row(trip: Trip, id: str, title: str, key: str, papers: tuple[Paper, ...] | None) -> Item:
    if papers is None:
        return in_words(id, title, WHERE, State.NOT_SHOWN, f"the trip file gives no '{key}'", "")
    asked = [each for each in papers if not each.asked_of]
    good = [each for each in asked if not each.stops]
    said = "; ".join([f"{len(good)} of {len(asked)} current", *_said(asked)])
    state = _state(trip, {each.standing for each in asked})
    return in_words(id, title, WHERE, state, said if state is State.NOT_SHOWN else "", said)


def _state(trip: Trip, standings: set[Standing]) -> State:
    """Return the state that papers have together: the worst of those that the flight asks for."""
    if standings & set(_PAST):
        return State.SHORT
    if Standing.NOT_SHOWN in standings:
        return State.NOT_SHOWN
    return State.MEETS if trip.policy else State.UNDER


def _said(asked: Iterable[Paper]) -> list[str]:
    """Return what is not current, worst first, the first few of each by name."""
    names: dict[Standing, list[str]] = {standing: [] for standing in (*_PAST, Standing.NOT_SHOWN)}
    for each in asked:
        if each.stops:
            names[each.standing].append(each.name.partition(",")[0])
    return [f"{standing.value}: {_few(each)}" for standing, each in names.items() if each]


def _few(names: list[str]) -> str:
    rest = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return ", ".join(names[:_NAMED]) + rest


def _confirmed(trip: Trip) -> tuple[Item, ...]:
    """Return the row of what is asked to be confirmed by hand: not shown where any of it is not."""
    asked = [each for each in confirmations(trip) if each.asked]
    if not asked:
        return ()
    done = sum(not each.open for each in asked)
    said = f"{done} of {len(asked)}"
    if done == len(asked):
        return (in_words("confirmed", "Confirmed by hand", WHERE, State.MEETS, "", said),)
    said += "; open ones on page 'Papers'"
    return (in_words("confirmed", "Confirmed by hand", WHERE, State.NOT_SHOWN, said, said),)

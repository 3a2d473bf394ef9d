"""The facts that rules may ask about papers and confirmations."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from briefgen.calc.due import DAY_90, NINETY, Paper, Standing
from briefgen.calc.flight import Flight
from briefgen.calc.occasion import confirmations
from briefgen.model.papers import Occasion, PilotPapers
from briefgen.model.trip import Trip


def paper_facts(trip: Trip, flight: Flight) -> dict[str, Any]:
    """Return the facts of papers, those of `fact_list` under 'papers'."""
    found, said = flight.papers, confirmations(trip)
    asked = [each for each in (*(found.pilot or ()), *(found.airplane or ())) if not each.asked_of]
    by_id = {each.id: each for each in asked}
    return {
        "pilot_given": found.pilot is not None,
        "airplane_given": found.airplane is not None,
        "annual": _standing(by_id.get("annual")),
        "annual_days": _days(by_id.get("annual")),
        "flight_review": _standing(by_id.get("flight-review")),
        "flight_review_days": _days(by_id.get("flight-review")),
        "expired": _names(each for each in asked if each.standing is Standing.EXPIRED),
        "day_90": _names(each for each in asked if each.reason.startswith(DAY_90)),
        "persons_denied": found.flight.persons if found.flight.contradicted else None,
        **_recent(trip.pilot, found.flight),
        "confirmed_asked": sum(each.asked for each in said),
        "confirmed_open": sum(each.asked and bool(each.open) for each in said),
    }


def _recent(pilot: PilotPapers | None, flight: Occasion) -> dict[str, float | None]:
    """Return how much was flown in the 90 days before the first day of the flight, as 61.57(a) is counted here.

    What is dated after the figures of the trip does not count.
    """
    log = pilot.log if pilot else None
    ago = [((flight.first_day - line.day).days, line) for line in log or () if line.day <= flight.latest]
    recent = [line for days, line in ago if days < NINETY]
    landed = [days for days, line in ago if line.landings]
    return {
        "takeoffs_90_days": None if log is None else sum(line.takeoffs for line in recent),
        "landings_90_days": None if log is None else sum(line.landings for line in recent),
        "last_landing_days": min(landed, default=None),
    }


def _standing(paper: Paper | None) -> str | None:
    return None if paper is None else paper.standing.value


def _days(paper: Paper | None) -> float | None:
    return None if paper is None else paper.left.value


def _names(papers: Iterable[Paper]) -> str | None:
    return "; ".join(each.name for each in papers) or None

"""The day that papers and confirmations are held against: the takeoff's, and never later than what was known.

Sources: check-values AW-01 (91.409(a), rule read, date computed), PL-01 and PL-04 (61.57(a), 61.56(c), read); the
calendar by hand; the contract: what cannot have been done yet is 'not shown'.
"""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
from papers_of_trips import PAPERS, SOLO, Edit, line, row, trip_of, worked

from briefgen.item import State

CIRCUITS = "fuel: {on_board: 28 gal, taxi: 1.1 gal, circuits: 40 min, fuel_flow: 8.4 gal/h, night: false}"
NAMED = "\npilot: pilots/instructor-a.yaml\npapers: papers/n0142.yaml\npassengers: false\n"


@pytest.fixture
def club(example: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(example.parent, tmp_path / "club"))


def circuits(takeoff: str = "", more: str = NAMED) -> Edit:
    """Return the edit of the example's circuits that gives them a takeoff time, and more besides."""
    timed = f", takeoff_time: {takeoff}" if takeoff else ""
    return SOLO, CIRCUITS, CIRCUITS.replace("}", f"{timed}}}{more}")


def test_the_papers_of_circuits_are_those_of_the_day_of_their_takeoff(club: Path) -> None:
    """AW-01: the annual of 2025-11-03 is good through 2026-11-30, so not on 2026-12-05; `as_of` is in May."""
    found = worked(club, circuits("2026-12-05T14:00Z"), trip=SOLO)
    assert line(found, "annual").standing == "expired"
    assert row(found, "papers-airplane").state is State.SHORT
    assert line(found, "flight review").standing == "expired"  # PL-04: of 2024-06, through 2026-06-30
    assert row(found, "papers-pilot").state is State.SHORT
    assert found.papers
    assert found.papers.taken.startswith("Day of the flight: 2026-12-05, UTC, of the takeoff")


def test_circuits_past_midnight_have_the_day_of_their_takeoff_not_of_as_of(club: Path) -> None:
    """An annual of 2025-05-20 is good through 2026-05-31 (AW-01); the takeoff is on June the first."""
    edits: list[Edit] = [
        (SOLO, "as_of: 2026-05-17T09:00Z", "as_of: 2026-05-31T22:00Z"),
        (PAPERS, "annual: 2025-11-03", "annual: 2025-05-20"),
    ]
    found = worked(club, *edits, circuits("2026-06-01T13:00Z"), trip=SOLO)
    assert (line(found, "annual").left, line(found, "annual").standing) == ("−1\u00a0d", "expired")


def test_a_flight_begins_at_its_takeoff_wherever_that_is_given_else_at_as_of(club: Path) -> None:
    trip = trip_of(club)
    assert (trip.takeoff, trip.begins) == (datetime(2026, 5, 16, 14, 20, tzinfo=UTC),) * 2
    assert trip.fuel is not None
    round_home = trip._replace(route=None, fuel=trip.fuel._replace(takeoff=datetime(2026, 5, 16, 15, tzinfo=UTC)))
    assert round_home.begins == datetime(2026, 5, 16, 15, tzinfo=UTC)
    untimed = trip._replace(route=None)
    assert (untimed.takeoff, untimed.begins) == (None, datetime(2026, 5, 16, 14, 0, tzinfo=UTC))
    assert trip._replace(route=None, fuel=None).takeoff is None

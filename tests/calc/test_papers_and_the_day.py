"""The day that papers and confirmations are held against: the takeoff's, and never later than what was known.

Sources: check-values AW-01 (91.409(a), rule read, date computed), PL-01 and PL-04 (61.57(a), 61.56(c), read); the
calendar by hand; the contract: what cannot have been done yet is 'not shown'.
"""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
from papers_of_trips import PAPERS, PILOT, SOLO, TRIP, Edit, confirmed, line, row, trip_of, worked

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
    assert (trip.takeoff_time, trip.begins) == (datetime(2026, 5, 16, 14, 20, tzinfo=UTC),) * 2
    assert trip.fuel is not None
    round_home = trip._replace(route=None, fuel=trip.fuel._replace(takeoff=datetime(2026, 5, 16, 15, tzinfo=UTC)))
    assert round_home.begins == datetime(2026, 5, 16, 15, tzinfo=UTC)
    untimed = trip._replace(route=None)
    assert (untimed.takeoff_time, untimed.begins) == (None, datetime(2026, 5, 16, 14, 0, tzinfo=UTC))
    assert trip._replace(route=None, fuel=None).takeoff_time is None


@pytest.mark.parametrize(
    ("takeoff", "at", "said"),
    [
        ("", "2026-05-17T09:00Z", ""),  # as_of itself
        ("", "2026-05-17T09:01Z", "dated after as_of, and no takeoff time is given"),
        ("", "2030-01-01T00:00Z", "dated after as_of, and no takeoff time is given"),
        ("2026-05-17T10:00Z", "2026-05-17T10:00Z", ""),
        ("2026-05-17T10:00Z", "2026-05-17T12:00Z", "dated after the takeoff"),
    ],
)
def test_no_confirmation_of_circuits_is_from_after_their_takeoff_or_as_of(
    club: Path, takeoff: str, at: str, said: str
) -> None:
    """The contract: what cannot have been looked at yet does not count as looked at."""
    more = f"{NAMED}confirmed:\n  notices: {{by: A, at: {at}}}\n"
    found = confirmed(worked(club, circuits(takeoff, more), trip=SOLO), "notices")
    assert found.confirmed is (said == "")
    assert found.said.endswith(said or at[11:])


def test_a_paper_dated_between_as_of_and_the_takeoff_is_not_shown(club: Path) -> None:
    """The figures are of 16 May, the flight is on the 20th: nobody can have done it on the 19th when they were."""
    later = (TRIP, "takeoff_time: 2026-05-16T14:20Z", "takeoff_time: 2026-05-20T14:20Z")
    found = worked(club, later, (PAPERS, "annual: 2025-11-03", "annual: 2026-05-19"))
    annual = line(found, "annual")
    assert (annual.standing, annual.why) == ("not shown", "it is dated 2026-05-19, after as_of, 2026-05-16")
    assert row(found, "papers-airplane").state is State.NOT_SHOWN


def test_a_line_of_the_log_after_as_of_does_not_count_and_says_so(club: Path) -> None:
    """PL-01 (read): 3 and 3 in the preceding 90 days. Without the line of the 19th the log has 3 of 2025."""
    edits: list[Edit] = [
        (TRIP, "takeoff_time: 2026-05-16T14:20Z", "takeoff_time: 2026-05-20T14:20Z"),
        (PILOT, "date: 2026-05-02, takeoffs: 6, landings: 6", "date: 2026-05-19, takeoffs: 6, landings: 6"),
    ]
    brief = worked(club, *edits)
    assert brief.facts["papers"]["last_landing_days"] == 60  # 2026-03-21: 10 + 30 + 20 days before 05-20
    day = line(brief, "3 takeoffs and landings")
    # of 2026-03-21 and 02-15 the third newest is the latter: + 89 days is 2026-05-15
    assert (day.done, day.good_through, day.standing) == ("2026-02-15", "2026-05-15", "expired")
    assert day.why.endswith("not counted: what is dated after as_of, 2026-05-16")
    short = line(worked(club, (PILOT, "date: 2026-02-15", "date: 2026-05-19")), "3 takeoffs and landings")
    assert short.standing == "not met"
    assert "the log given has 2 of 3 takeoffs and 2 of 3 landings; not counted: what is dated after" in short.why

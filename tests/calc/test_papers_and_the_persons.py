"""Who is in the airplane, by the trip and by its load, and what the pilot's certificate allows of it.

Sources: check-values PL-01 (61.57(a), read); 14 CFR 61.87(o), 61.89, 61.93 and 61.101 from memory, as their sources
say; distances from the minutes of latitude, by hand.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from papers_of_trips import PILOT, TRIP, Edit, line, row, worked

from briefgen.item import State

DENIED: Edit = (TRIP, "passengers: true", "passengers: false")
NOT_RECENT: Edit = (PILOT, "takeoffs: 6, landings: 6, full_stop: 2", "takeoffs: 0, landings: 0")


@pytest.fixture
def club(example: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(example.parent, tmp_path / "club"))


@pytest.mark.parametrize(
    ("crew", "front", "rear", "asked"),
    [
        ("instructor and student", "[192 lb, 165 lb]", "171 lb", True),  # three
        ("instructor and student", "[192 lb, 336 lb]", "0 lb", False),  # two: nobody is a passenger
        ("instructor, solo", "[192 lb, 336 lb]", "0 lb", True),  # one more than the pilot
        ("instructor, alone", "528 lb", "[0 lb, 0 lb]", False),
    ],
)
def test_more_persons_in_the_seats_than_a_crew_are_passengers_whatever_is_typed(
    club: Path, crew: str, front: str, rear: str, asked: bool
) -> None:
    """PL-01, 61.57(a) (read): recency of flights that carry persons; a bag of 92 lb is none."""
    edits: list[Edit] = [
        (TRIP, "crew: instructor and student", f"crew: {crew}"),
        (TRIP, "front seats: [192 lb, 165 lb]", f"front seats: {front}"),
        (TRIP, "rear seats: 171 lb", f"rear seats: {rear}"),
    ]
    found = worked(club, DENIED, NOT_RECENT, *edits)
    assert line(found, "3 takeoffs and landings").asked is asked
    assert row(found, "papers-pilot").state is (State.SHORT if asked else State.MEETS)
    assert ("passengers-denied" in {each.id for each in found.cautions}) is asked
    assert found.papers
    assert ("weights in the seats: taken as carried" in found.papers.taken) is asked


def test_the_student_in_the_seat_beside_is_a_passenger_of_a_pilot_who_is_a_student(club: Path) -> None:
    """By the schema: a student pilot carries nobody, so a second weight in the seats contradicts 'false'."""
    two: Edit = (TRIP, "165 lb]\n    rear seats: 171 lb", "336 lb]\n    rear seats: 0 lb")
    found = worked(club, DENIED, two, (PILOT, "certificate: commercial", "certificate: student"))
    assert found.facts["papers"]["persons_denied"] == 2


def test_without_a_load_it_is_as_typed(club: Path) -> None:
    text = (club / TRIP).read_text(encoding="utf-8")
    load = text[text.index("load:") : text.index("passengers:")]
    found = worked(club, DENIED, NOT_RECENT, (TRIP, load, ""))
    assert not line(found, "3 takeoffs and landings").asked

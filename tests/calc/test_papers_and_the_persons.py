"""Who is in the airplane, by the trip and by its load, and what the pilot's certificate allows of it.

Sources: check-values PL-01 (61.57(a), read); 14 CFR 61.87(o), 61.89, 61.93 and 61.101 from memory, as their sources
say; distances from the minutes of latitude, by hand.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from papers_of_trips import PILOT, TRIP, Edit, line, row, trip_of, worked

from briefgen.calc.certificate_limits import student_limits
from briefgen.calc.fuel import NO_JOURNEY, journey
from briefgen.calc.occasion import farthest, occasion, sights_SM
from briefgen.errors import Refusal
from briefgen.item import State
from briefgen.model.route import Fuel
from briefgen.model.weather import Seen

DENIED: Edit = (TRIP, "passengers: true", "passengers: false")
NOT_RECENT: Edit = (PILOT, "takeoffs: 6, landings: 6, full_stop: 2", "takeoffs: 0, landings: 0")


@pytest.fixture
def club(example: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(example.parent, tmp_path / "club"))


@pytest.mark.parametrize(
    ("crew", "front", "rear", "asked"),
    [
        ("instructor and student", "[192 lb, 165 lb]", "[171 lb, 78 lb]", True),  # four
        ("instructor and student", "[192 lb, 414 lb]", "0 lb", False),  # two: nobody is a passenger
        ("instructor, solo", "[192 lb, 414 lb]", "0 lb", True),  # one more than the pilot
        ("instructor, alone", "606 lb", "[0 lb, 0 lb]", False),
    ],
)
def test_more_persons_in_the_seats_than_a_crew_are_passengers_whatever_is_typed(
    club: Path, crew: str, front: str, rear: str, asked: bool
) -> None:
    """PL-01, 61.57(a) (read): recency of flights that carry persons; a bag of 92 lb is none."""
    edits: list[Edit] = [
        (TRIP, "crew: instructor and student", f"crew: {crew}"),
        (TRIP, "front seats: [192 lb, 165 lb]", f"front seats: {front}"),
        (TRIP, "rear seats: [171 lb, 78 lb]", f"rear seats: {rear}"),
    ]
    found = worked(club, DENIED, NOT_RECENT, *edits)
    assert line(found, "3 takeoffs and landings").asked is asked
    assert row(found, "papers-pilot").state is (State.SHORT if asked else State.MEETS)
    assert ("passengers-denied" in {each.id for each in found.cautions}) is asked
    assert found.facts["trip"]["passengers"] is asked
    assert found.papers
    assert ("weights in the seats: taken as carried" in found.papers.taken) is asked


def test_the_student_in_the_seat_beside_is_a_passenger_of_a_pilot_who_is_a_student(club: Path) -> None:
    """By the schema: a student pilot carries nobody, so a second weight in the seats contradicts 'false'."""
    two: Edit = (TRIP, "165 lb]\n    rear seats: [171 lb, 78 lb]", "414 lb]\n    rear seats: 0 lb")
    found = worked(club, DENIED, two, (PILOT, "certificate: commercial", "certificate: student"))
    assert found.facts["papers"]["persons_denied"] == 2


def test_without_a_load_it_is_as_typed(club: Path) -> None:
    text = (club / TRIP).read_text(encoding="utf-8")
    load = text[text.index("load:") : text.index("passengers:")]
    found = worked(club, DENIED, NOT_RECENT, (TRIP, load, ""))
    assert not line(found, "3 takeoffs and landings").asked


STUDENT: Edit = (PILOT, "certificate: commercial", "certificate: student\nsolo_endorsement: 2026-05-01")


def test_a_student_with_passengers_is_short_of_what_the_rules_ask(club: Path) -> None:
    """61.89(a)(1) (from memory): a student pilot carries nobody; the example has four weights in its seats."""
    found = worked(club, STUDENT)
    assert line(found, "limits of a student pilot").standing == "not met"
    assert row(found, "papers-pilot").state is State.SHORT
    assert "not met: limits of a student pilot" in row(found, "papers-pilot").answer


@pytest.mark.parametrize(
    ("old", "new", "standing", "said"),
    [
        # at the alternate; at both fields there are 6 SM, and on the way none is typed
        ("ceiling: 6000 ft, visibility: 6 SM}", "ceiling: 6000 ft, visibility: 1 SM}", "current", "visibility not"),
        ("  variation: 5.5 W\n", "  variation: 5.5 W\n  along: {visibility: 2.9 SM}\n", "not met", "broken: vis"),
    ],
)
def test_a_student_is_held_against_the_visibility_of_the_fields_and_the_legs(
    club: Path, old: str, new: str, standing: str, said: str
) -> None:
    """61.89(a)(6) (from memory): 3 SM by day; that of the alternate, where no landing is planned, is not asked."""
    alone: Edit = (TRIP, "front seats: [192 lb, 165 lb]\n    rear seats: [171 lb, 78 lb]", "front seats: 606 lb")
    found = line(worked(club, STUDENT, DENIED, alone, (TRIP, old, new)), "limits of a student pilot")
    assert (found.standing, found.why.startswith(said)) == (standing, True)


@pytest.mark.parametrize(
    ("place", "seen", "said"),
    [
        ("departure", None, "not answered: vis"),
        ("arrival", None, "not answered: vis"),
        ("arrival", 2.9, "broken: vis"),
    ],
)
def test_a_student_s_visibility_is_that_of_both_fields(
    club: Path, place: str, seen: float | None, said: str
) -> None:
    """As above; the weather of one field taken away, or made too little."""
    trip = trip_of(club)
    assert sights_SM(trip) == (6.0, 6.0)
    planned = getattr(trip, place)
    weather = planned.use.conditions.weather
    less = weather._replace(visibility=Seen(seen)) if seen else None
    use = planned.use._replace(conditions=planned.use.conditions._replace(weather=less))
    changed = trip._replace(**{place: planned._replace(use=use)})
    assert [each for each in sights_SM(changed) if each != 6.0] == [seen]
    limits, _ = student_limits(None, occasion(changed, journey(changed))._replace(passengers=False, persons=1))
    assert limits.reason.startswith(said)


def test_a_student_alone_on_a_route_is_asked_for_the_endorsement_for_it(club: Path) -> None:
    """61.93 (from memory): the example lands at another field."""
    alone: Edit = (TRIP, "front seats: [192 lb, 165 lb]\n    rear seats: [171 lb, 78 lb]", "front seats: 606 lb")
    found = worked(club, STUDENT, DENIED, alone)
    assert line(found, "solo cross-country").asked
    assert row(found, "papers-pilot").state is State.NOT_SHOWN
    given = worked(club, (PILOT, "landings:\n", "solo_cross_country_endorsement: 2026-05-16\nlandings:\n"))
    assert line(given, "solo cross-country").standing == "current"
    assert row(given, "papers-pilot").state is State.MEETS


def test_a_recreational_pilot_with_two_passengers_is_short(club: Path) -> None:
    """61.101 (from memory): one passenger, 50 NM. From Quillmere to Tansy Bottom are 1.295 degrees north, 77.7 NM,

    and 0.310 degrees of longitude at 40.60 N west, 60 x 0.759 x 0.310 = 14.1 NM: 79.0 NM, so more than 50.
    """
    found = worked(club, (PILOT, "certificate: commercial", "certificate: recreational"))
    limits = line(found, "limits of a recreational pilot")
    assert limits.standing == "not met"
    assert limits.why.startswith("broken: one passenger at most; not answered: within 50\u00a0NM")
    assert row(found, "papers-pilot").state is State.SHORT


def test_how_far_the_legs_get_is_measured_from_the_departure(club: Path) -> None:
    """As above: 79.0 NM on a sphere, within 0.6 % of it; circuits stay; no way, and one refused, say none."""
    trip = trip_of(club)
    way = journey(trip)
    assert way.navigation is not None
    assert farthest(trip, way) == pytest.approx(79.0, rel=0.006)
    refused = way._replace(navigation=way.navigation._replace(refused=((0, Refusal("too windy")),)))
    assert farthest(trip, refused) is None
    stays = trip._replace(route=None, fuel=Fuel(circuits_s=1200.0))
    assert farthest(stays, NO_JOURNEY) == 0.0
    assert farthest(stays._replace(fuel=Fuel()), NO_JOURNEY) is None
    assert farthest(stays._replace(fuel=None), NO_JOURNEY) is None
    assert farthest(trip, NO_JOURNEY) is None

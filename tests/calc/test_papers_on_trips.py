"""Papers and confirmations through whole trips: from the files to the rows of the first page and the page itself.

Sources: check-values PL-01 to PL-06, AW-01 (14 CFR parts 61 and 91, each known as its rule says), the calendar by
hand; the contract: what is not given is 'not shown', and no file or answer that is missing counts as good.
"""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest
from papers_of_trips import PAPERS, PILOT, POLICY, TAKEOFF, TRIP, Edit, confirmed, line, row, trip_of, worked

from briefgen.calc.due import Standing
from briefgen.calc.flight import fly
from briefgen.calc.fuel import NO_JOURNEY, Journey
from briefgen.calc.legs import Navigation
from briefgen.calc.occasion import air_minutes, confirmations, dark, occasion, papers_of
from briefgen.errors import Refusal
from briefgen.item import State
from briefgen.model.route import Fuel, Spot
from briefgen.pipeline import brief_of
from briefgen.render.text import summary

NAMES_PILOT, NAMES_PAPERS = "pilot: pilots/instructor-a.yaml\n", "papers: papers/n0142.yaml\n"
ASKS = (
    "confirm: [notices, restrictions, traffic_delays, strip_permission, runway_condition, passenger_briefing, "
    "overdue, self_assessment]\n"
)
OVERDUE = "  overdue: {by: A, at: 2026-05-16T13:35Z}\n"


@pytest.fixture
def club(example: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(example.parent, tmp_path / "club"))


# AW-01, 14 CFR 91.409(a) (rule read, date computed): done 2025-11-03, good through 2026-11-30
def test_an_annual_of_november_is_good_through_the_next_november(club: Path) -> None:
    annual = line(worked(club), "annual")
    assert (annual.done, annual.good_through, annual.standing) == ("2025-11-03", "2026-11-30", "current")
    assert annual.left == "198\u00a0d"  # 15 of May, 30, 31, 31, 30, 31 of June to October, 30 of November


@pytest.mark.parametrize(
    ("takeoff", "state"), [("2026-11-30T14:20Z", State.MEETS), ("2026-12-01T14:20Z", State.SHORT)]
)
def test_the_annual_counts_to_the_last_day_of_its_month_and_no_longer(
    club: Path, takeoff: str, state: State
) -> None:
    """AW-01 again; the airplane's other papers of the example run longer, but for the locator's inspection."""
    found = worked(club, (TRIP, TAKEOFF, f"takeoff_time: {takeoff}"))
    assert row(found, "papers-airplane").state is state
    assert (line(found, "annual").standing == "expired") is (state is State.SHORT)


# PL-04, 14 CFR 61.56(c) (read): a review of 2024-09 is valid through 2026-09-30
@pytest.mark.parametrize(("takeoff", "standing"), [("2026-09-30", "current"), ("2026-10-01", "expired")])
def test_a_flight_review_of_september_is_good_through_the_second_september_after(
    club: Path, takeoff: str, standing: str
) -> None:
    review = (PILOT, "flight_review: 2024-06-08", "flight_review: 2024-09-15")
    found = line(worked(club, review, (TRIP, TAKEOFF, f"takeoff_time: {takeoff}T14:20Z")), "flight review")
    assert (found.good_through, found.standing) == ("2026-09-30", standing)


# PL-03: for a flight of 2026-08-07 day 89 is 2026-05-10, which counts; 2026-05-09 is day 90, to check (computed)
@pytest.mark.parametrize(("flown", "state"), [("2026-05-10", State.MEETS), ("2026-05-09", State.SHORT)])
def test_landings_of_the_90th_day_do_not_count_and_say_so(club: Path, flown: str, state: State) -> None:
    later = [(PILOT, "date: 2026-05-02", f"date: {flown}"), (TRIP, TAKEOFF, "takeoff_time: 2026-08-07T14:20Z")]
    later += [(PILOT, "days: 90", "days: 180"), (PILOT, "flight_review: 2024-06-08", "flight_review: 2025-06-08")]
    found = worked(club, *later)
    assert row(found, "papers-pilot").state is state
    assert ("day 90 - check" in line(found, "3 takeoffs and landings").why) is (state is State.SHORT)
    assert (found.facts["papers"]["day_90"] is not None) is (state is State.SHORT)


# 14 CFR 61.57(b) (read): asked only of flights that carry persons in that night
@pytest.mark.parametrize("night", ["  night: true\n", ""])
def test_landings_at_night_are_asked_for_at_night_and_where_it_is_not_said(club: Path, night: str) -> None:
    untimed = (TRIP, "  takeoff_time: 2026-05-16T14:20Z\n", "")  # without which the sun does not say it
    found = worked(club, (TRIP, "  night: false\n", night), untimed)
    assert row(found, "papers-pilot").state is State.SHORT
    assert line(found, "3 takeoffs and full-stop").asked
    assert row(found, "papers-airplane").state is State.NOT_SHOWN  # the rest of the night's equipment
    assert found.papers
    assert ("Night not said" in found.papers.taken) is (night == "")


@pytest.mark.parametrize(
    ("said", "asked"), [("passengers: true\n", True), ("", True), ("passengers: false\n", False)]
)
def test_recency_is_asked_for_unless_the_trip_says_that_nobody_is_carried(
    club: Path, said: str, asked: bool
) -> None:
    found = worked(
        club,
        (TRIP, "passengers: true\n", said),
        (TRIP, "165 lb]\n    rear seats: [171 lb, 78 lb]", "414 lb]\n    rear seats: 0 lb"),  # two, as heavy
        (PILOT, "takeoffs: 6, landings: 6, full_stop: 2", "takeoffs: 0, landings: 0"),
    )
    assert line(found, "3 takeoffs and landings").asked is asked
    assert row(found, "papers-pilot").state is (State.SHORT if asked else State.MEETS)
    assert found.papers
    assert ("Passengers not said" in found.papers.taken) is (said == "")


# The contract: never error, never silence, never good
def test_a_trip_without_papers_has_its_rows_not_shown_with_the_reason_and_no_page(club: Path) -> None:
    found = worked(
        club, (TRIP, NAMES_PILOT, ""), (TRIP, NAMES_PAPERS, ""), (POLICY, ASKS, ""),
        (TRIP, (club / TRIP).read_text().partition("\nconfirmed:")[2], ""), (TRIP, "\nconfirmed:", ""),
    )  # fmt: skip
    for id, key in (("papers-pilot", "pilot"), ("papers-airplane", "papers")):
        assert row(found, id).state is State.NOT_SHOWN
        assert row(found, id).reason == f"the trip file gives no '{key}'"
    assert found.papers is None
    assert "confirmed" not in {each.id for each in found.items}
    assert found.facts["papers"]["annual"] is None
    assert "Confirmed by hand" not in summary(found)


@pytest.mark.parametrize(
    ("edit", "id", "said"),
    [
        ((PILOT, "flight_review: 2024-06-08\n", ""), "papers-pilot", "5 of 6 current; not shown: flight review"),
        ((PAPERS, "annual: 2025-11-03\n", ""), "papers-airplane", "not shown: annual inspection"),
        ((PAPERS, ", since: 61.4 h", ""), "papers-airplane", "not shown: 100-hour inspection"),
        (
            (PAPERS, "hundred_hour: {required: true, since: 61.4 h}\n", ""),
            "papers-airplane",
            "8 of 9 current; not shown: 100-hour inspection",
        ),
        ((PAPERS, "  tachometer: true\n", ""), "papers-airplane", "not shown: equipment"),
        ((PAPERS, ", left: 12.5 h", ""), "papers-airplane", "not shown: oil change"),
    ],
)
def test_what_is_left_out_of_a_file_is_not_shown(club: Path, edit: Edit, id: str, said: str) -> None:
    found = row(worked(club, edit), id)
    assert found.state is State.NOT_SHOWN
    assert said in found.reason


def test_only_required_false_takes_the_hundred_hours_out(club: Path) -> None:
    """91.409(b) (second-hand): not asked of an airplane that nobody is carried or instructed in for hire."""
    found = worked(club, (PAPERS, "{required: true, since: 61.4 h}", "{required: false}"))
    assert row(found, "papers-airplane").answer == "8 of 8 current"
    assert not line(found, "100-hour inspection").asked


def test_what_is_denied_or_used_up_is_short_even_beside_what_is_not_shown(club: Path) -> None:
    """0.8 h are 48 min, less than the flight's 51."""
    edits = [(PAPERS, "  tachometer: true", "  tachometer: false"), (PAPERS, "annual: 2025-11-03\n", "")]
    found = row(worked(club, *edits, (PAPERS, "left: 12.5 h", "left: 0.8 h")), "papers-airplane")
    assert found.state is State.SHORT
    assert found.answer.endswith(
        "not met: equipment; runs out before the flight ends: oil change; not shown: annual inspection"
    )


def test_without_a_policy_papers_are_at_best_under_it(club: Path) -> None:
    """design.md: 'With no policy loaded nothing is better than under policy'."""
    text = (club / TRIP).read_text(encoding="utf-8")
    bare = text.replace("policy: policy.yaml\n", "").replace("answers:\n  fuel-dipped: 21 gal, both tanks\n", "")
    own = "  touchdown: {aim_point: 80 ft, float: 120 ft, float_flaps_up: 300 ft, zone: 200 ft}\n"
    bare = bare.replace("  partial_flaps:", own + "  partial_flaps:", 1)
    (club / TRIP).write_text(bare, encoding="utf-8")
    found = brief_of(club / TRIP, TRIP)
    assert row(found, "papers-pilot").state is row(found, "papers-airplane").state is State.UNDER
    assert "confirmed" not in {each.id for each in found.items}  # nobody asks
    assert confirmed(found, "notices").confirmed  # and what was confirmed is still printed


def test_all_that_is_asked_for_must_be_confirmed(club: Path) -> None:
    whole = row(worked(club), "confirmed")
    assert (whole.state, whole.answer, whole.reason) == (State.MEETS, "8 of 8", "")
    found = row(worked(club, (TRIP, OVERDUE, "")), "confirmed")
    assert (found.state, found.answer) == (State.NOT_SHOWN, "7 of 8; open ones on page 'Papers'")
    assert found.reason == found.answer


def test_a_trip_can_ask_for_more_to_be_confirmed_and_not_for_less(club: Path) -> None:
    """A layer over another is never the looser: `today` adds fuel on site."""
    found = worked(club, (TRIP, "policy: policy.yaml\n", "policy: policy.yaml\ntoday: {confirm: [fuel_on_site]}\n"))
    assert row(found, "confirmed").answer.startswith("8 of 9")
    assert confirmed(found, "fuel_on_site").asked
    assert confirmed(found, "notices").asked


@pytest.mark.parametrize(
    ("at", "said"),
    [
        ("2026-05-15T14:20Z", ""),  # 24 h before the takeoff
        ("2026-05-15T14:19Z", "more than 24\u00a0h before the flight: confirm again"),
        ("2026-05-16T14:20Z", ""),
        ("2026-05-16T14:21Z", "dated after the takeoff"),
    ],
)
def test_a_confirmation_counts_for_the_day_before_the_takeoff(club: Path, at: str, said: str) -> None:
    trip = trip_of(club, (TRIP, "notices: {by: A, at: 2026-05-16T13:20Z}", f"notices: {{by: A, at: {at}}}"))
    assert confirmations(trip)[0].open == said


def test_the_owner_s_permission_may_be_older(club: Path) -> None:
    older = (
        TRIP,
        "strip_permission: {by: A, at: 2026-05-14T18:00Z}",
        "strip_permission: {by: A, at: 2026-04-01T18:00Z}",
    )
    assert confirmed(worked(club, older), "strip_permission").confirmed


def test_without_a_takeoff_time_the_day_and_the_last_moment_are_those_of_as_of(club: Path) -> None:
    trip = trip_of(club, (TRIP, f"  {TAKEOFF}\n", ""), (TRIP, "13:20Z", "14:00Z"), (TRIP, "13:25Z", "14:01Z"))
    assert occasion(trip, NO_JOURNEY).first_day == date(2026, 5, 16)
    found = {each.id: each.open for each in confirmations(trip)}
    assert found["notices"] == found["restrictions"] == ""
    assert found["traffic_delays"] == "dated after as_of, and no takeoff time is given"


def test_a_flight_past_midnight_ends_on_the_next_day(club: Path) -> None:
    """A takeoff at 23:30Z and well over half an hour of legs: papers must be good on the 17th too."""
    found = worked(club, (TRIP, TAKEOFF, "takeoff_time: 2026-05-16T23:30Z"), (PAPERS, "2028-06-30", "2026-05-16"))
    battery = line(found, "emergency locator's battery")
    assert battery.standing == "runs out before the flight ends"
    assert row(found, "papers-airplane").state is State.SHORT


def test_time_in_the_air_is_that_of_the_circuits_without_a_route_and_unknown_without_either(club: Path) -> None:
    trip = trip_of(club)
    assert air_minutes(trip._replace(fuel=Fuel(circuits_s=2400.0)), NO_JOURNEY) == 40.0
    assert air_minutes(trip._replace(fuel=None), NO_JOURNEY) is None
    assert occasion(trip._replace(fuel=None), NO_JOURNEY).hours is None


# Not at night does not say before sunset: position lights are from sunset on, 14 CFR 91.209(a) (read)
def test_the_nights_are_as_the_trip_says_and_never_taken_as_day() -> None:
    assert dark(Fuel(night=True), None) == (True, True, True)
    assert dark(Fuel(night=False), None) == (None, False, False)
    assert dark(Fuel(), None) == dark(None, None) == (None, None, None)


def test_with_a_takeoff_time_the_sun_says_it_and_the_trip_may_only_add_to_it(club: Path) -> None:
    """14:20Z to 15:11Z on 16 May at 84 W is the morning by the sun; 03:30Z is late in the evening."""
    late_time = (TRIP, "takeoff_time: 2026-05-16T14:20Z", "takeoff_time: 2026-05-17T03:30Z")
    day, late = (fly(each).journey.evening for each in (trip_of(club), trip_of(club, late_time)))
    assert dark(Fuel(night=False), day) == dark(Fuel(), day) == (False, False, False)
    assert dark(Fuel(night=True), day) == (True, True, True)
    assert dark(Fuel(night=False), late) == (True, True, True)


def test_hours_without_a_time_in_the_air_are_not_shown(club: Path) -> None:
    trip = trip_of(club)._replace(fuel=None)
    found = papers_of(trip, NO_JOURNEY)
    assert found.airplane
    (oil,) = (each for each in found.airplane if each.name == "oil change")
    assert oil.standing is Standing.NOT_SHOWN
    assert "Time in the air not worked." in found.taken


def test_a_leg_that_cannot_be_flown_leaves_the_time_in_the_air_unknown(club: Path) -> None:
    way = Journey(Navigation((), Spot(41.0, -83.0), ((0, Refusal("no")),)), NO_JOURNEY.fuel)
    assert air_minutes(trip_of(club), way) is None


# PL-06: BasicMed, 89 FR 90572 (read): course 24, examination 48 calendar months
def test_basicmed_has_two_dates_and_one_alone_is_not_shown(club: Path) -> None:
    medical = "medical: {class: second, examined: 2025-03-12, born: 1979-08-21}"
    found = worked(club, (PILOT, medical, "basicmed: {course: 2025-06-10}"))
    assert line(found, "BasicMed course").good_through == "2027-06-30"
    assert row(found, "papers-pilot").state is State.NOT_SHOWN


# PL-05's rule, 14 CFR 61.23(d) (read): under 40 at the examination 60 months, else 24
@pytest.mark.parametrize(
    ("born", "through"), [("1985-03-13", "2030-03-31"), ("1985-03-12", "2027-03-31"), ("", "2027-03-31")]
)
def test_the_fortieth_birthday_itself_is_not_under_forty(club: Path, born: str, through: str) -> None:
    new = f", born: {born}" if born else ""
    assert line(worked(club, (PILOT, ", born: 1979-08-21", new)), "medical").good_through == through


def test_a_student_needs_a_solo_endorsement_and_no_flight_review(club: Path) -> None:
    """14 CFR 61.87(n) (read), 61.56(g) (second-hand)."""
    found = worked(club, (PILOT, "certificate: commercial", "certificate: student"))
    assert not line(found, "flight review").asked
    assert line(found, "solo endorsement").standing == "not shown"
    assert found.facts["papers"]["flight_review"] is None


def test_both_files_mark_the_brief_as_invented(club: Path) -> None:
    mark = "not_for_flight: invented data"
    others = ["trip.yaml", "policy.yaml", "aircraft/n0142.yaml"]
    others += [f"strips/{name}.yaml" for name in ("quillmere", "tansy-bottom", "pennywort-hill")]
    strip = [(each, mark, "") for each in others]
    assert worked(club, *strip).not_for_flight
    assert worked(club, (PILOT, mark, "")).not_for_flight
    assert not worked(club, (PAPERS, mark, "")).not_for_flight

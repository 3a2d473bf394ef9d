"""Papers hold what needs no source: calendar arithmetic against the calendar, and nothing gets better with time.

Source: the definitions in calc/due.py; Python's own calendar as the oracle of months.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.calc.airplane_papers import FEATURES, airplane_papers
from briefgen.calc.due import (
    Paper,
    Standing,
    by_days,
    by_hours,
    by_months,
    for_good,
    month_end,
    until,
    within_90_days,
)
from briefgen.calc.occasion import confirmations
from briefgen.calc.pilot_papers import pilot_papers, recency
from briefgen.figures import Source
from briefgen.files.read_trip import read_trip
from briefgen.item import State
from briefgen.model.confirmed import Confirmed
from briefgen.model.papers import (
    AirplanePapers,
    BasicMed,
    ClubPaper,
    HoursLeft,
    LogLine,
    Medical,
    Occasion,
    PilotPapers,
)
from briefgen.model.policy import NO_POLICY
from briefgen.paper_items import _row

TRIP, _ = read_trip(Path(__file__).parents[2] / "examples" / "quillmere" / "trip.yaml", "trip.yaml")
QUICK = settings(deadline=None, derandomize=True, max_examples=150, database=None)
DAYS = st.dates(date(1990, 1, 1), date(2090, 12, 31))
NEAR = st.dates(date(2024, 11, 18), date(2028, 12, 31))
MONTHS = st.integers(0, 120)
CLUB = Source("club standard", "policy")
ABOUT = ("x", "a paper", CLUB)
GOOD_FIRST = (Standing.CURRENT, Standing.RUNS_OUT, Standing.EXPIRED)


def on(first: date, days: int = 0) -> Occasion:
    return Occasion(first, first + timedelta(days=days))


@QUICK
@given(DAYS, MONTHS)
def test_the_end_of_a_month_is_the_calendar_s(event: date, months: int) -> None:
    year, month = event.year, event.month
    for _ in range(months):
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    assert month_end(event, months) == date(year, month, monthrange(year, month)[1])


@QUICK
@given(DAYS, DAYS, MONTHS)
def test_a_later_event_never_runs_out_sooner(one: date, other: date, months: int) -> None:
    early, late = sorted((one, other))
    assert month_end(early, months) <= month_end(late, months)
    assert month_end(early, months) < month_end(early, months + 1)
    assert month_end(early, months) >= early
    assert (month_end(early, months) + timedelta(days=1)).day == 1


@pytest.mark.parametrize(("event", "months"), [(date(2026, 1, 1), -1), (date(9999, 12, 1), 1)])
def test_what_no_calendar_has_is_refused(event: date, months: int) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - the calendar's own words
        month_end(event, months)


@QUICK
@given(NEAR, st.integers(0, 60), st.integers(0, 800), st.integers(0, 5))
def test_a_paper_is_good_through_its_last_day_and_not_after(
    done: date, months: int, ahead: int, nights: int
) -> None:
    flight = on(done + timedelta(days=ahead), nights)
    found = by_months(*ABOUT, done, months, flight)
    end = month_end(done, months)
    wanted = (
        Standing.EXPIRED
        if flight.first_day > end
        else Standing.RUNS_OUT
        if flight.last_day > end
        else Standing.CURRENT
    )
    assert (found.standing, found.good_through) == (wanted, end)
    assert found.left.value == (end - flight.first_day).days
    assert bool(found.reason) == (wanted is not Standing.CURRENT)
    assert found.left.steps[0].source is CLUB


@QUICK
@given(NEAR, st.integers(0, 200), st.integers(0, 3))
def test_a_paper_never_gets_better_from_one_day_to_the_next(done: date, ahead: int, nights: int) -> None:
    for make in (
        lambda flight: by_months(*ABOUT, done, 3, flight),
        lambda flight: by_days(*ABOUT, done, 60, flight),
        lambda flight: within_90_days(*ABOUT, done, flight),
        lambda flight: until(*ABOUT, done + timedelta(days=40), flight),
    ):
        today, tomorrow = (make(on(done + timedelta(days=ahead + more), nights)) for more in (0, 1))
        assert GOOD_FIRST.index(today.standing) <= GOOD_FIRST.index(tomorrow.standing)
        assert today.left.known == tomorrow.left.known + 1


@QUICK
@given(NEAR, st.integers(0, 120), st.integers(0, 3))
def test_ninety_days_are_eighty_nine_and_the_check_is_said_on_the_ninetieth(
    done: date, ahead: int, nights: int
) -> None:
    found = within_90_days(*ABOUT, done, on(done + timedelta(days=ahead), nights))
    assert (found.standing is Standing.CURRENT) == (ahead + nights <= 89)
    assert ("day 90 - check" in found.reason) == (ahead <= 90 <= ahead + nights)


def test_what_is_not_given_is_not_shown() -> None:
    flight = on(date(2026, 8, 7))
    found = [
        by_months(*ABOUT, None, 12, flight),
        by_days(*ABOUT, None, 12, flight),
        within_90_days(*ABOUT, None, flight),
        until(*ABOUT, None, flight),
        for_good(*ABOUT, None, flight),
        by_hours("x", HoursLeft("oil", None, CLUB), flight),
        by_hours("x", HoursLeft("oil", 5.0, CLUB), flight),  # how long the flight is was not given
        recency(None, flight, tailwheel=True)[0],
    ]
    assert [each.standing for each in found] == [Standing.NOT_SHOWN] * len(found)
    assert all(each.reason and each.stops for each in found)


def test_what_is_dated_after_the_flight_is_not_shown() -> None:
    flight, later = on(date(2026, 8, 7)), date(2026, 8, 8)
    for found in (by_months(*ABOUT, later, 12, flight), for_good(*ABOUT, later, flight)):
        assert found.standing is Standing.NOT_SHOWN
        assert "after the flight" in found.reason
        assert found.left.value is None
    assert for_good(*ABOUT, flight.first_day, flight).standing is Standing.CURRENT
    day, _ = recency((LogLine(later, 3, 3),), flight, tailwheel=False)
    assert day.standing is Standing.NOT_MET
    assert "0 of 3 takeoffs and 0 of 3 landings" in day.reason


LINES = st.builds(
    lambda day, landings, full, tail, night: LogLine(
        day, landings, landings, min(full, landings), tail, min(night, landings), min(night, full, landings)
    ),
    st.dates(date(2026, 1, 1), date(2026, 8, 7)),
    st.integers(0, 4),
    st.integers(0, 4),
    st.booleans(),
    st.integers(0, 4),
)


@QUICK
@given(st.lists(LINES, max_size=8), LINES, st.booleans())
def test_another_landing_never_makes_a_pilot_less_recent(
    log: list[LogLine], more: LogLine, tailwheel: bool
) -> None:
    flight = on(date(2026, 8, 7))
    order = [Standing.CURRENT, Standing.EXPIRED, Standing.NOT_MET]
    before, after = (recency(tuple(lines), flight, tailwheel=tailwheel) for lines in (log, [*log, more]))
    turned = recency(tuple(reversed(log)), flight, tailwheel=tailwheel)
    assert turned == before
    for one, other in zip(before, after, strict=True):
        assert order.index(other.standing) <= order.index(one.standing)


@QUICK
@given(st.lists(LINES, max_size=8))
def test_recency_is_what_counting_the_last_ninety_days_gives(log: list[LogLine]) -> None:
    """Counted anew: of the 89 days before the flight and its own."""
    flight = on(date(2026, 8, 7))
    window = [line for line in log if line.day >= flight.first_day - timedelta(days=89)]
    counted = {
        False: min(sum(line.takeoffs for line in window), sum(line.landings for line in window)),
        True: min(
            sum(line.takeoffs for line in window if line.tailwheel),
            sum(line.full_stops for line in window if line.tailwheel),
        ),
    }
    at_night = min(sum(line.night_takeoffs for line in window), sum(line.night_full_stops for line in window))
    for tailwheel in (False, True):
        day, night = recency(tuple(log), flight, tailwheel=tailwheel)
        assert (day.standing is Standing.CURRENT) == (counted[tailwheel] >= 3)
        assert (night.standing is Standing.CURRENT) == (at_night >= 3)


@QUICK
@given(st.floats(-20, 120), st.floats(0, 8))
def test_hours_run_out_with_the_flight(left: float, takes: float) -> None:
    flight = on(date(2026, 8, 7))._replace(hours=takes)
    found = by_hours("oil", HoursLeft("oil change", left, CLUB), flight)
    wanted = Standing.EXPIRED if left <= 0 else Standing.RUNS_OUT if takes > left else Standing.CURRENT
    assert found.standing is wanted
    assert found.left.value == left


def of_basic(medical: Medical | None, basic: BasicMed | None) -> dict[str, Paper]:
    papers = PilotPapers(medical=medical, basic_med=basic)
    return {each.id: each for each in pilot_papers(papers, on(date(2026, 8, 7)), {}) if "med" in each.id}


def test_a_current_medical_or_basicmed_is_enough() -> None:
    """Either is asked for, not both: 61.23(a)(3), (c)(3) (second-hand)."""
    current, lapsed = Medical(date(2026, 1, 5), 3, True), Medical(date(2015, 1, 5), 3, True)
    basic, half = BasicMed(date(2026, 1, 5), date(2026, 1, 5)), BasicMed(date(2026, 1, 5), None)
    assert [name for name, each in of_basic(current, half).items() if each.stops] == []
    assert [name for name, each in of_basic(lapsed, basic).items() if each.stops] == []
    assert [name for name, each in of_basic(lapsed, half).items() if each.stops] == ["medical", "basicmed-exam"]
    assert [name for name, each in of_basic(None, half).items() if each.stops] == ["basicmed-exam"]
    assert [name for name, each in of_basic(None, None).items() if each.stops] == ["medical"]


def test_who_carries_nobody_is_not_asked_for_recency_and_a_student_for_no_review() -> None:
    """61.57(a), (b): with persons carried (read); 61.56(g): not a student with a solo endorsement (second-hand)."""
    day = date(2026, 8, 7)

    def asked(papers: PilotPapers, flight: Occasion) -> set[str]:
        found = pilot_papers(papers, flight, dict.fromkeys(FEATURES, False))
        return {
            each.id
            for each in found
            if not each.asked_of and each.id in ("recency-day", "recency-night", "flight-review")
        }

    assert asked(PilotPapers(), on(day)) == {"recency-day", "recency-night", "flight-review"}  # nothing is known
    assert asked(PilotPapers(), Occasion(day, day, passengers=False)) == {"flight-review"}
    by_day = Occasion(day, day, passengers=True, passenger_night=False)
    assert asked(PilotPapers(), by_day) == {"recency-day", "flight-review"}
    assert asked(PilotPapers(student=True), on(day)) == set()


def test_a_club_s_own_papers_run_by_its_own_figures() -> None:
    done, flight = date(2026, 5, 10), on(date(2026, 8, 7))
    club = (
        ClubPaper("Checkout", done, CLUB, months=3),
        ClubPaper("Strip sign-off", done, CLUB, days=88),
        ClubPaper("Key", done, CLUB),
    )
    found = {each.id: each for each in pilot_papers(PilotPapers(club=club), flight, {}) if each.source is CLUB}
    assert found["club-checkout"].good_through == date(2026, 8, 31)
    assert found["club-strip-sign-off"].good_through == date(2026, 8, 6)
    assert [each.standing for each in found.values()] == [Standing.CURRENT, Standing.EXPIRED, Standing.CURRENT]


def test_an_empty_paper_file_shows_every_row_and_says_of_each_that_it_is_not_shown() -> None:
    flight = on(date(2026, 8, 7))
    found = (*pilot_papers(PilotPapers(), flight, {}), *airplane_papers(AirplanePapers(), flight))
    assert len({each.id for each in found}) == len(found) > 16
    assert all(each.standing is Standing.NOT_SHOWN and each.reason for each in found)


def test_things_due_by_hours_have_a_row_each() -> None:
    due = (HoursLeft("Oil change", 12.0, CLUB), HoursLeft("Next inspection", 0.4, CLUB))
    flight = Occasion(date(2026, 8, 7), date(2026, 8, 7), hours=0.5)
    found = {each.id: each.standing for each in airplane_papers(AirplanePapers(by_hours=due), flight)}
    assert found["hours-oil-change"] is Standing.CURRENT
    assert found["hours-next-inspection"] is Standing.RUNS_OUT


ROW_STANDINGS = st.lists(st.tuples(st.sampled_from(Standing), st.booleans()), min_size=1, max_size=12)


@QUICK
@given(ROW_STANDINGS, st.integers(0, 11), st.sampled_from(Standing))
def test_a_row_of_papers_is_as_its_worst_paper_and_never_better_for_a_worse_one(
    given_: list[tuple[Standing, bool]], at: int, worse: Standing
) -> None:
    """All that is asked for current: meets. One past or not met: short. Else one not shown: not shown."""

    def papers(drawn: list[tuple[Standing, bool]]) -> tuple[Paper, ...]:
        flights = ("", "flights at night")
        return tuple(Paper("x", "a paper", CLUB, each, asked_of=flights[free]) for each, free in drawn)

    trip = TRIP._replace(policy=NO_POLICY)
    state = _row(trip, "x", "Papers", "pilot", papers(given_)).state
    asked = {standing for standing, free in given_ if not free}
    past = {Standing.EXPIRED, Standing.NOT_MET, Standing.RUNS_OUT}
    expected = State.SHORT if asked & past else State.NOT_SHOWN if Standing.NOT_SHOWN in asked else State.MEETS
    assert state is expected
    at %= len(given_)
    if given_[at] == (Standing.CURRENT, False):
        changed = [*given_[:at], (worse, False), *given_[at + 1 :]]
        after = _row(trip, "x", "Papers", "pilot", papers(changed)).state
        assert (after is State.MEETS) <= (state is State.MEETS and worse is Standing.CURRENT)


@QUICK
@given(st.datetimes(datetime(2026, 5, 1), datetime(2026, 6, 1)))
def test_a_confirmation_counts_from_24_hours_before_the_takeoff_up_to_it(at: datetime) -> None:
    """The example's takeoff is at 2026-05-16T14:20Z."""
    stamp = f"{at:%Y-%m-%dT%H:%M}Z"
    (notices, *others) = confirmations(TRIP._replace(confirmed={"notices": Confirmed("A", stamp)}))
    assert (notices.open == "") is ("2026-05-15T14:20Z" <= stamp <= "2026-05-16T14:20Z")
    assert {each.open for each in others} == {"not confirmed"}

"""Daylight holds what needs no source: the earth turns evenly, nights nest, and no place or day is an error.

Source: definitions in calc/daylight.py; 15 degrees of longitude an hour; by hand where a number is given.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.calc.daylight import (
    LIGHTS,
    LOGGED,
    NEVER_RISES,
    NO_DAY,
    NO_NIGHT,
    PASSENGERS,
    UP_ALL_DAY,
    Event,
    Touched,
    minutes_to_sunset,
    nights,
    reserve,
    sun_day,
)
from briefgen.model.route import Spot

QUICK = settings(deadline=None, derandomize=True, max_examples=60, database=None)
START = datetime(2026, 1, 1, tzinfo=UTC)
TIMES = st.integers(0, 365 * 24 * 60).map(lambda minutes: START + timedelta(minutes=minutes))
LONGITUDES = st.floats(-180, 180).map(lambda deg: round(deg, 3))
ANYWHERE = st.builds(Spot, st.floats(-90, 90), LONGITUDES)
MILD = st.builds(Spot, st.floats(-55, 55), LONGITUDES)  # night and day on every day of the year
MINUTE = timedelta(minutes=1)
ARCTIC = Spot(71.3, -156.8)


def by_night(found: tuple[Touched, ...]) -> dict[str, Touched]:
    return {each.night.id: each for each in found}


def minutes(event: Event) -> float:
    assert event.minutes is not None
    return event.minutes


@QUICK
@given(TIMES, ANYWHERE)
def test_no_place_and_no_time_is_an_error(at: datetime, place: Spot) -> None:
    for event in sun_day(at, place):
        assert (event.at is None) == bool(event.reason) == (event.figure.value is None)
        assert event.printed
    assert len(nights((at, at + timedelta(hours=5)), [place])) == 3
    left = minutes_to_sunset(at, place)
    assert left.value is not None or left.reason in (UP_ALL_DAY, NEVER_RISES)
    assert reserve((at, at + timedelta(hours=2)), [place]).value in (30, 45)


@QUICK
@given(TIMES, MILD)
def test_the_events_of_a_day_are_in_their_order_and_of_the_day_asked_about(at: datetime, place: Spot) -> None:
    found = sun_day(at, place)
    times = [each.at for each in found]
    assert all(times)
    assert times == sorted(times, key=lambda each: each or at)
    assert all(abs(each - at) < timedelta(hours=24.5) for each in times if each)
    sunrise, sunset = found.sunrise.at, found.sunset.at
    assert sunrise
    assert sunset
    noon = sunrise + (sunset - sunrise) / 2
    mean_noon = START + timedelta(minutes=-4 * place.longitude_deg)
    past = ((noon - mean_noon) % timedelta(days=1)) / MINUTE - 12 * 60
    assert abs(past) < 17.5  # the equation of time is at most 16.5 min (from memory)


@QUICK
@given(TIMES, MILD)
def test_what_is_printed_never_makes_the_night_shorter(at: datetime, place: Spot) -> None:
    for event in sun_day(at, place):
        assert event.at
        printed = event.at.replace(
            hour=int(event.printed[:2]), minute=int(event.printed[3:5]), second=0, microsecond=0
        )
        late = (printed - event.at) / MINUTE
        late = late + 1440 if late < -720 else late  # past midnight
        assert (0 <= late < 1) if event.rises else (-1 < late <= 0)


@QUICK
@given(st.floats(-60, 60), st.floats(-179, 164), st.integers(0, 364))
def test_the_sun_sets_four_minutes_later_for_each_degree_west(north: float, east: float, day: int) -> None:
    """15 degrees of longitude are an hour; the sun's own motion moves it by 0.3 min at most at these latitudes."""
    noon = START + timedelta(days=day, hours=12)
    here, there = (
        sun_day(noon - timedelta(minutes=4 * longitude), Spot(north, longitude)).sunset.at
        for longitude in (east, east + 15)
    )
    assert here
    assert there
    assert (here - there) / MINUTE == pytest.approx(60, abs=0.3)


@QUICK
@given(st.floats(5, 60), LONGITUDES)
def test_the_day_is_as_long_in_the_south_half_a_year_later(north: float, east: float) -> None:
    """From solstice to solstice, within what the earth's orbit and the refraction leave: 3 min (by hand)."""

    def length(month: int, latitude: float) -> float:
        found = sun_day(datetime(2026, month, 21, 12, tzinfo=UTC), Spot(latitude, east))
        return minutes(found.sunset) - minutes(found.sunrise)

    assert length(6, north) == pytest.approx(length(12, -north), abs=3)
    assert length(6, north) > length(12, north)


@QUICK
@given(TIMES, ANYWHERE, st.integers(0, 600))
def test_the_night_for_passengers_lies_inside_that_of_the_lights_and_so_does_the_logged(
    at: datetime, place: Spot, length: int
) -> None:
    found = by_night(nights((at, at + timedelta(minutes=length)), [place]))
    for inner in (PASSENGERS, LOGGED):
        for start, end in found[inner.id].parts:
            assert any(a <= start and end <= b for a, b in found[LIGHTS.id].parts)
        assert found[inner.id].minutes <= found[LIGHTS.id].minutes


@QUICK
@given(TIMES, MILD, MILD, st.integers(1, 600))
def test_a_flight_between_two_places_has_the_night_of_both(
    at: datetime, start: Spot, end: Spot, length: int
) -> None:
    span = at, at + timedelta(minutes=length)
    both = nights(span, [start, end])
    assert both == nights(span, [end, start, end])
    for each, one, other in zip(both, nights(span, [start]), nights(span, [end]), strict=True):
        assert max(one.minutes, other.minutes) <= each.minutes <= min(length, one.minutes + other.minutes)
        assert bool(each.parts) == bool(one.parts or other.parts)
        assert all(span[0] <= a <= b <= span[1] for a, b in each.parts)


@QUICK
@given(TIMES, MILD, st.integers(0, 300), st.integers(0, 300))
def test_a_longer_flight_never_has_less_night_nor_a_shorter_reserve(
    at: datetime, place: Spot, length: int, more: int
) -> None:
    short, long = ((at, at + timedelta(minutes=each)) for each in (length, length + more))
    for one, other in zip(nights(short, [place]), nights(long, [place]), strict=True):
        assert one.minutes <= other.minutes
    assert reserve(short, [place]).known <= reserve(long, [place]).known


@QUICK
@given(TIMES, MILD, st.integers(1, 120))
def test_the_time_to_sunset_runs_down_by_the_clock(at: datetime, place: Spot, later: int) -> None:
    now, then = minutes_to_sunset(at, place).known, minutes_to_sunset(at + later * MINUTE, place).known
    if (now > 0) == (then > 0) or now > 0:
        assert now - then == pytest.approx(later)
    sunset = minutes(sun_day(at, place).sunset)
    if now > 0:
        midnight = at.replace(hour=0, minute=0)
        day_off = (at - midnight) / MINUTE + now - sunset
        assert min(abs(day_off), abs(day_off - 1440), abs(day_off + 1440)) < 6  # the same evening, or its neighbor


@pytest.mark.parametrize(
    ("month", "place", "twilight", "sun"),
    [
        (6, ARCTIC, NO_NIGHT, UP_ALL_DAY),
        (6, Spot(64.8, -147.8), NO_NIGHT, None),  # the sun sets, and it never gets dark
        (12, ARCTIC, None, NEVER_RISES),  # twilight at noon, no sunrise
        (12, Spot(85.0, 20.0), NO_DAY, NEVER_RISES),
        (6, Spot(-78.0, 166.0), NO_DAY, NEVER_RISES),  # the other end of the earth has the other season
        (6, Spot(90.0, 0.0), NO_NIGHT, UP_ALL_DAY),
    ],
)
def test_near_the_poles_there_is_a_word_instead_of_a_time(
    month: int, place: Spot, twilight: str | None, sun: str | None
) -> None:
    """64.8 and 71.3 N at midsummer as the check values name them (measured there); the rest by the tilt of 23.4."""
    found = sun_day(datetime(2026, month, 21, 20, 0, tzinfo=UTC), place)
    for event, word in ((found.dawn, twilight), (found.dusk, twilight), (found.sunrise, sun), (found.sunset, sun)):
        assert event.reason == (word or "")
        assert (event.printed == word) if word else event.printed.endswith("Z")
        assert event.figure.reason == (word or "")


def test_a_polar_day_has_no_night_at_midnight_and_a_polar_night_no_day_at_noon() -> None:
    """Days that touch at midnight must leave no gap there; by definition."""
    summer = nights((datetime(2026, 6, 10, tzinfo=UTC), datetime(2026, 6, 20, tzinfo=UTC)), [ARCTIC])
    assert [each.parts for each in summer] == [(), (), ()]
    assert [each.begins for each in summer] == ["", "", ""]
    winter = by_night(nights((datetime(2026, 12, 20, tzinfo=UTC), datetime(2026, 12, 22, tzinfo=UTC)), [ARCTIC]))
    assert winter["lights"].minutes == winter["passengers"].minutes == 2 * 24 * 60
    assert winter["lights"].begins == "00:00Z"
    assert 0 < winter["logged"].minutes < 2 * 24 * 60


def test_the_evening_is_never_that_of_the_day_before() -> None:
    """The check values' trap: at 36.95 N 112.52 W the sun sets at 02:50 UTC, of the 16th for the 15th's noon."""
    place = Spot(36.95, -112.52)
    sunset = sun_day(datetime(2026, 6, 15, 19, 30, tzinfo=UTC), place).sunset
    assert sunset.at
    assert f"{sunset.at:%d %H:%M}"[:5] == "16 02"
    assert 1440 < minutes(sunset) < 1440 + 180  # counted from 00:00 UTC of the 15th
    assert minutes_to_sunset(datetime(2026, 6, 16, 2, 0, tzinfo=UTC), place).known == pytest.approx(50, abs=2)
    assert minutes_to_sunset(datetime(2026, 6, 16, 4, 0, tzinfo=UTC), place).known == pytest.approx(-70, abs=2)


def test_another_zone_is_the_same_time_and_no_zone_is_refused() -> None:
    from datetime import timezone

    place = Spot(40.0, -80.0)
    at = datetime(2026, 5, 1, 18, 0, tzinfo=UTC)
    same = at.astimezone(timezone(timedelta(hours=-4)))
    assert sun_day(at, place) == sun_day(same, place)
    assert minutes_to_sunset(at, place) == minutes_to_sunset(same, place)
    naive = at.replace(tzinfo=None)
    for ask in (
        lambda: sun_day(naive, place),
        lambda: minutes_to_sunset(naive, place),
        lambda: nights((naive, naive), [place]),
        lambda: reserve((naive, naive), [place]),
    ):
        with pytest.raises(ValueError, match="which zone"):
            ask()


@pytest.mark.parametrize("length", [timedelta(minutes=-1), timedelta(days=31, minutes=1)])
def test_a_span_that_is_turned_about_or_too_long_is_refused(length: timedelta) -> None:
    with pytest.raises(ValueError, match="span"):
        nights((START, START + length), [ARCTIC])


def test_a_flight_without_a_place_is_refused_rather_than_by_day() -> None:
    for ask in (nights, reserve):
        with pytest.raises(ValueError, match="place"):
            ask((START, START + MINUTE), [])


def test_a_turning_point_to_the_east_brings_the_night_sooner() -> None:
    """By hand: four degrees of longitude are 16 min: a flight out east and back meets night sooner."""
    home, east = Spot(41.3, -84.4), Spot(41.3, -80.4)
    dusk = sun_day(START + timedelta(hours=17), home).dusk.at
    assert dusk
    span = dusk - timedelta(minutes=90), dusk - timedelta(minutes=35)
    assert reserve(span, [home, home]).value == 30
    assert reserve(span, [home, east, home]).value == 45


def test_a_figure_carries_the_place_the_angle_and_the_source() -> None:
    found = sun_day(datetime(2026, 5, 1, 18, 0, tzinfo=UTC), Spot(40.0, -80.0)).dusk.figure
    (step,) = found.steps
    assert "6.00° below" in step.detail
    assert "40.000\u00a0N 80.000\u00a0W" in step.detail
    assert "astral" in step.source.text
    assert found.printed.endswith("Z")
    assert found.unit == "min"

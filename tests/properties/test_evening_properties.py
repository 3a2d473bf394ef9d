"""The light of a flight holds what needs no source: later is never lighter, lights never worsen, stricter rules.

Source: definitions in calc/evening.py and items.py; by hand where a number is given.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from conftest import EXAMPLE
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.calc.flight import fly
from briefgen.calc.fuel import journey
from briefgen.daylight_page import daylight_page, left_min
from briefgen.files.read_trip import read_trip
from briefgen.item import Item, State
from briefgen.light_items import daylight_row
from briefgen.model.route import Fuel
from briefgen.model.strip import LIGHTING, NO_LIGHTING
from briefgen.model.trip import Trip
from briefgen.render import lettering
from briefgen.render.drawings import Label
from briefgen.render.timeline import Flag, lay_out

TRIP, _ = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")
FLIGHT = fly(TRIP)
QUICK = settings(deadline=None, derandomize=True, max_examples=30, database=None)
START = datetime(2026, 1, 1, tzinfo=UTC)
TIMES = st.integers(0, 365 * 24 * 60).map(lambda minutes: START + timedelta(minutes=minutes))
LENGTHS = st.integers(60, 5 * 3600)
WIDTH = 1230


def circuits(takeoff: datetime, length_s: float, lighting: str = NO_LIGHTING, night: bool | None = None) -> Trip:
    use = TRIP.arrival.use
    home = TRIP.arrival._replace(use=use._replace(runway=use.runway._replace(lighting=lighting)))
    fuel = Fuel(34.0, 1.1, night=night, circuits_s=length_s, flow_galh=8.0, takeoff=takeoff)
    return TRIP._replace(route=None, fuel=fuel, arrival=home, alternate=None)  # no fuel is typed to fly to one


def row(trip: Trip) -> Item:
    return daylight_row(trip, FLIGHT._replace(journey=journey(trip)), "there")


@QUICK
@given(TIMES, LENGTHS)
def test_the_word_agrees_with_the_printed_numbers(takeoff: datetime, length_s: int) -> None:
    found, light = row(circuits(takeoff, length_s)), journey(circuits(takeoff, length_s)).evening
    assert light is not None
    if found.title == "After sunrise":  # in words, in the dark past midnight
        assert (found.state, light.destination.after_sunset) == (State.SHORT, True)
        assert found.answer.startswith(light.destination.dark)
        return
    assert found.need is not None
    assert found.have is not None
    assert (found.state is State.SHORT) == (found.have < found.need) == light.destination.after_sunset
    assert found.margin == found.have - found.need == left_min(light)
    assert found.state is not State.MEETS or found.margin >= 30


@QUICK
@given(TIMES, LENGTHS, st.sampled_from(LIGHTING))
def test_lights_make_it_no_worse_and_never_meet_the_policy_in_the_dark(
    takeoff: datetime, length_s: int, lighting: str
) -> None:
    dark, lit = (row(circuits(takeoff, length_s, each)).state for each in (NO_LIGHTING, lighting))
    assert lit is (State.UNDER if dark is State.SHORT else dark)
    assert row(circuits(takeoff, length_s, "")).state is dark  # not said counts as none


@QUICK
@given(TIMES, LENGTHS)
def test_what_is_typed_never_makes_the_reserve_shorter_than_the_sun_does(takeoff: datetime, length_s: int) -> None:
    day, unsaid, night = (
        journey(circuits(takeoff, length_s, night=typed)).fuel.reserve_min for typed in (False, None, True)
    )
    assert day == unsaid
    assert unsaid <= night == 45
    assert unsaid in (30, 45)


def words(label: Label | Flag) -> tuple[float, float]:
    """Where the words of a label begin and end."""
    length = lettering.width(label.text, strong=label.strong)
    if isinstance(label, Flag):
        return (
            (label.words_x - length, label.words_x) if label.leftward else (label.words_x, label.words_x + length)
        )
    return label.x - length / 2, label.x + length / 2


@QUICK
@given(TIMES, LENGTHS)
def test_no_label_of_the_line_of_time_touches_another_or_leaves_the_paper(takeoff: datetime, length_s: int) -> None:
    trip = circuits(takeoff, length_s)
    page = daylight_page(trip, FLIGHT._replace(journey=journey(trip)))
    assert page is not None
    drawn = lay_out(page.line, WIDTH)
    labels = [*drawn.above, *drawn.below, *drawn.scale]
    assert len(drawn.above) >= 2
    for i, one in enumerate(labels):
        begins, ends = words(one)
        assert begins >= -0.1
        assert ends <= WIDTH + 0.1
        assert 0 < one.y <= drawn.height
        for other in labels[i + 1 :]:
            others, end = words(other)
            assert ends < others or end < begins or abs(one.y - other.y) >= 36  # the height of the letters
    assert all(drawn.band.x - 0.2 <= bar.x <= drawn.band.x + drawn.band.width + 0.2 for bar in drawn.shades)
    assert drawn.flight.width > 0

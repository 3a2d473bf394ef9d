"""The lines of the contract about daylight, each with its dates: ETA up, sunset down, the reserve of the night.

Source of the evening: check value NT-04 (times read): 41.281944 N 84.362778 W, 2019-11-08 UTC, sunset 22:25, end of
civil twilight 22:54, to the nearest minute; so sunset rounded down is 22:24 or 22:25. Rules: NT-01, NT-02, NT-03,
RG-01 (91.209(a), 1.1, 61.57(b)(1), 91.151(a); read). The rest is arithmetic, by hand beside each test.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.calc.evening import evening, reached
from briefgen.calc.fuel import journey
from briefgen.errors import Refusal
from briefgen.files.read_trip import read_trip
from briefgen.item import Item, State
from briefgen.model.route import Fuel
from briefgen.model.trip import Trip
from briefgen.pipeline import caution, rules_of, work

TRIP, _ = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")
OHIO = {"latitude_deg": 41.281944, "longitude_deg": -84.362778}  # NT-04's place
HOUR = timedelta(hours=1)
ARCTIC = {"latitude_deg": 71.3, "longitude_deg": -156.8}


def at(hour: int, minute: int, day: int = 8) -> datetime:
    return datetime(2019, 11, day, hour, minute, tzinfo=UTC)


def placed(trip: Trip, lighting: str, place: dict[str, float]) -> Trip:
    """Return the example with both of its fields at one place, and what its destination says of its lighting."""
    out, home = trip.departure.use, trip.arrival.use
    there = home.strip._replace(**place)
    lit = home._replace(strip=there, runway=home.runway._replace(lighting=lighting))
    return trip._replace(
        departure=trip.departure._replace(use=out._replace(strip=out.strip._replace(**place))),
        arrival=trip.arrival._replace(use=lit),
    )


def circuits(takeoff: datetime | None, minutes: float = 60, lighting: str = "none", **more: Any) -> Trip:
    """Return the example without its route, in the air for so long, at 8 gal/h."""
    night = more.pop("night", None)
    place = more.pop("place", OHIO)
    fuel = Fuel(34.0, 1.1, night=night, circuits_s=minutes * 60, flow_galh=8.0, takeoff=takeoff)
    return placed(TRIP, lighting, place)._replace(route=None, fuel=fuel, alternate=None, **more)


def briefed(trip: Trip) -> Brief:
    return caution(work(trip), rules_of(trip.policy)[0])


def row(brief: Brief, id: str = "daylight") -> Item:
    return next(each for each in brief.items if each.id == id)


def raised(brief: Brief) -> set[str]:
    return {each.id for each in (*brief.cautions, *brief.folded) if each.id.startswith(("daylight", "part-91-"))}


# 'ETA up, sunset and dusk down'
def test_the_eta_goes_up_and_the_sunset_down() -> None:
    """21:00 and 59.2 min is 21:59.2, so 22:00; from 21:00 to sunset at 22:25 are 85 min, or 84 rounded down."""
    found = row(briefed(circuits(at(21, 0), 59.2)))
    assert found.need == 60
    assert found.have in (84, 85)
    assert found.margin == found.have - 60
    light = journey(circuits(at(21, 0), 59.2)).evening
    assert light is not None
    assert light.landing == at(22, 0)


@pytest.mark.parametrize(
    ("minutes", "state", "note"),
    [
        (54, State.MEETS, ""),  # 31 min before 22:25, or 30 before 22:24: the policy asks for 30
        (56.5, State.UNDER, ""),  # up to 57: 28 min, or 27
        (83, State.UNDER, ""),  # 22:23: two minutes, or one
        (85.1, State.SHORT, "after sunset, and runway 09 has no lighting"),  # up to 22:26
        (90, State.SHORT, "after sunset, and runway 09 has no lighting"),
    ],
)
def test_the_landing_is_held_against_sunset_and_the_policy_s_margin(
    minutes: float, state: State, note: str
) -> None:
    found = row(briefed(circuits(at(21, 0), minutes)))
    assert (found.state, found.reason, found.minimum) == (state, note, 30)


@pytest.mark.parametrize(
    ("lighting", "state", "said"),
    [
        ("", State.SHORT, "no lighting of runway 09 is said"),  # not said counts as none
        ("none", State.SHORT, "runway 09 has no lighting"),
        ("runway lights", State.UNDER, "runway 09 has lighting: runway lights"),
        ("pilot-controlled", State.UNDER, "runway 09 has lighting: pilot-controlled"),
    ],
)
@pytest.mark.parametrize("policy", [TRIP.policy, None])
def test_after_sunset_it_is_short_unless_the_runway_has_lights(
    lighting: str, state: State, said: str, policy: Any
) -> None:
    found = row(briefed(circuits(at(22, 0), 60, lighting, policy=policy)))  # 23:00, after 22:25
    assert (found.state, found.reason) == (state, f"after sunset, and {said}")


def test_without_a_policy_there_is_no_margin_and_nothing_better_than_under_policy() -> None:
    found = row(briefed(circuits(at(20, 0), policy=None)))
    assert (found.state, found.minimum) == (State.UNDER, 0)


def test_before_the_morning_it_is_as_dark_as_after_the_evening() -> None:
    """Landing at 09:00Z, 04:00 in the place's winter time: the last sunset counts, 10 h 35 min before.

    The sun rises there as long before noon as it sets after it. Noon is at 12:00 less 16 min by the equation of
    time (from memory, early November) and 84.363 x 4 = 337 min west: 17:21Z. It set at 22:25, 5 h 04 min later; so
    it rises at 12:17Z.
    """
    found = briefed(circuits(at(8, 0, day=9)))
    assert found.daylight is not None
    assert found.daylight.rows[1].sunrise in [f"12:{minute}Z" for minute in range(15, 21)]
    assert found.daylight.lines[0].endswith(f"sunrise {found.daylight.rows[1].sunrise}.")
    drawn = [each.label for each in found.daylight.line.moments if each.kind == "sun"]
    assert len(drawn) <= 2  # its own evening is too long ago
    assert row(found).state is State.SHORT
    assert found.facts["daylight"]["left_min"] in (-636, -635)


def test_the_words_of_the_morning_are_of_the_sunrise_and_not_of_the_evening_before() -> None:
    """As above, the sun rises at 12:17Z, by hand and within 3 min: a landing at 12:11Z is some 6 min before it.

    It is in the night for lights to its end, while the twilight ended that for logging: NT-01 and NT-02 (read).
    """
    brief = briefed(circuits(at(11, 11, day=9)))
    found, page = row(brief), brief.daylight
    assert page is not None
    sunrise = page.rows[1].sunrise
    gap = int(sunrise[3:5]) - 11
    assert 3 <= gap <= 9
    assert (found.title, found.state, found.margin) == ("After sunrise", State.SHORT, None)
    assert found.answer == f"{gap}\u00a0min before sunrise {sunrise}, and runway 09 has no lighting"
    assert page.lines[0] == f"Landing 12:11Z, {gap}\u00a0min before sunrise {sunrise}."
    logged = page.lines[1].partition("logging, and the fuel reserve, from 11:11Z to ")[2][:6]
    assert logged.startswith("11:4")  # twilight is some 29 min in the evening (NT-04), and as long in the morning
    assert "for position lights, from 11:11Z to 12:11Z;" in page.lines[1]
    assert "daylight-short" in raised(brief)
    assert row(briefed(circuits(at(11, 30, day=9)))).title == "Before sunset"  # landing 12:30Z, in the sun


def lit(trip: Trip, lighting: str) -> Trip:
    """Return a trip with what its departure says of its lighting."""
    use = trip.departure.use
    runway = use.runway._replace(lighting=lighting)
    return trip._replace(departure=trip.departure._replace(use=use._replace(runway=runway)))


@pytest.mark.parametrize(
    ("lighting", "state", "said"),
    [
        ("", State.SHORT, "no lighting of runway 17 is said"),
        ("none", State.SHORT, "runway 17 has no lighting"),
        ("runway lights", State.UNDER, "runway 17 has lighting: runway lights"),
    ],
)
def test_a_takeoff_in_the_dark_is_looked_at_like_a_landing(lighting: str, state: State, said: str) -> None:
    """The contract: what is not said counts as none. 11:45Z is before the sunrise of 12:17Z, 12:45Z after it."""
    brief = briefed(lit(circuits(at(11, 45, day=9)), lighting))
    found = row(brief, "takeoff-dark")
    assert (found.state, found.where) == (state, "Quillmere 17")
    assert found.answer.endswith(f"min before sunrise, and {said}")
    assert ("takeoff-dark" in {each.id for each in brief.cautions}) is (state is State.SHORT)
    assert brief.daylight is not None
    assert f"Lighting of Quillmere 17, departure: {lighting or 'not said'}." in brief.daylight.lines
    by_day = briefed(lit(circuits(at(12, 45, day=9)), lighting))
    assert "takeoff-dark" not in {each.id for each in by_day.items}
    assert by_day.facts["items"]["takeoff_dark"] is None


def test_a_takeoff_after_sunset_and_one_where_the_sun_never_rises_say_so() -> None:
    """22:25 is the sunset of NT-04 (read); 71.3 N has no sun in midwinter (by definition)."""
    after = row(briefed(lit(circuits(at(22, 40)), "none")), "takeoff-dark")
    assert after.answer == "after sunset, and runway 17 has no lighting"
    winter = circuits(datetime(2019, 12, 21, 22, tzinfo=UTC), place=ARCTIC)
    assert row(briefed(lit(winter, "none")), "takeoff-dark").answer.startswith("the sun never rises, and runway 17")


@pytest.mark.parametrize(("hour", "dark"), [(0, False), (1, True)])
def test_the_alternate_s_landing_in_the_dark_is_looked_at_too(hour: int, dark: bool) -> None:
    """From 23:00Z the alternate's ETA is some 65 min on, before its sunset at 00:50Z; from 00:00Z it is after it.

    Sunset there: that of the example's rules' trips, 00:50Z (by hand from the check values of the sun, +- 1 min).
    """
    assert TRIP.route is not None
    trip = TRIP._replace(route=TRIP.route._replace(takeoff=datetime(2026, 5, 16, 23, tzinfo=UTC) + hour * HOUR))
    brief = briefed(trip)
    rows = [each for each in brief.items if each.id == "alternate-dark"]
    assert [each.answer for each in rows] == ["after sunset, and no lighting of runway 13 is said"] * dark
    assert [each.state for each in rows] == [State.SHORT] * dark
    assert ("alternate-dark" in {each.id for each in brief.cautions}) is dark
    assert brief.daylight is not None
    said = "Lighting of Pennywort Hill 13, alternate: not said."
    assert (said in brief.daylight.lines) is dark


# RG-01: 'the 45-minute reserve if any part of flight or reserve is night', by the night of 1.1
@pytest.mark.parametrize(
    ("takeoff", "night", "minutes", "said"),
    [
        (at(21, 21), None, 30, "by day, by the sun"),  # landing 22:21, and 30 min: 22:51, before 22:54
        (at(21, 26), None, 45, "night from 22:5"),  # to 22:56
        (at(21, 26), False, 45, "'night: false' is overruled"),
        (at(21, 21), False, 30, "by day, by the sun"),
        (at(21, 21), True, 45, "at night, as typed"),  # typed true stays true
        (at(21, 26), True, 45, "night from 22:5"),
        (None, None, 45, "as at night: whether it is day is not said"),  # as it was without a takeoff time
        (None, False, 30, "by day"),
        (None, True, 45, "at night"),
    ],
)
def test_the_reserve_is_by_the_sun_or_as_typed_where_that_is_stricter(
    takeoff: datetime | None, night: bool | None, minutes: float, said: str
) -> None:
    plan = journey(circuits(takeoff, night=night)).fuel
    stage = plan.stages[-1]
    page = briefed(circuits(takeoff, night=night)).daylight
    if page:  # which says the same as the fuel
        assert f"Reserve of the rule {minutes}\u00a0min" in page.lines[2]
        assert said in page.lines[2]
    assert (plan.reserve_min, stage.minutes) == (minutes, minutes)
    assert stage.fuel_gal == pytest.approx(minutes / 60 * 8)  # 4 gal, or 6
    assert said in stage.detail


def test_the_times_of_the_way_do_not_depend_on_the_reserve() -> None:
    found = [journey(circuits(at(21, 26), night=night)).evening for night in (None, False, True)]
    assert found[0] is not None
    assert found[0] == found[1] == found[2]


def test_a_delay_of_ninety_minutes_changes_the_reserve_the_lights_and_the_item_each_with_its_reason() -> None:
    """By hand: sunset 22:25 and dusk 22:54 (NT-04), an hour's flight at 8 gal/h, a policy that asks for 30 min.

    Off at 20:50: down at 21:50, 35 min before sunset, so it meets policy; flight and reserve end at 22:20, by day:
    30 min, 4 gal; the lights' night is not touched. Off at 22:20: 5 min to sunset, down at 23:20, 55 min after it:
    short on a strip without lighting; lights from 22:25; the reserve is 45 min, 6 gal, 2 gal more, since the flight
    is in the night of 1.1 from 22:54; that for passengers begins at 23:25, after the landing.
    """
    soon, late = (briefed(circuits(each, night=False)) for each in (at(20, 50), at(22, 20)))
    before, after = row(soon), row(late)
    assert (before.state, before.need) == (State.MEETS, 60)
    assert (after.state, after.need) == (State.SHORT, 60)
    assert before.margin in (34, 35)
    assert after.margin in (-56, -55)
    assert after.reason == "after sunset, and runway 09 has no lighting"
    assert soon.facts["fuel"]["reserve_min"] == 30
    assert late.facts["fuel"]["reserve_min"] == 45
    more = row(late, "fuel").unrounded[0], row(soon, "fuel").unrounded[0]
    assert more[0] is not None
    assert more[1] is not None
    assert more[0] - more[1] == pytest.approx(2.0)
    assert soon.facts["daylight"]["lights_from"] is None
    assert late.facts["daylight"]["lights_from"] in ("22:24Z", "22:25Z")
    assert late.facts["daylight"]["passengers_from"] is None
    assert late.facts["daylight"]["overruled"]
    new = raised(late) - raised(soon)
    assert new == {"daylight-short", "part-91-lights-after-sunset", "part-91-reserve-by-night"}
    assert late.daylight is not None
    assert "min after sunset" in late.daylight.lines[0]
    assert late.daylight.lines[-1] == "Lighting of runway 09: none."


@pytest.mark.parametrize(
    ("minutes", "logged", "passengers"),
    [
        (25, False, False),  # 22:35: NT-01 only
        (60, True, False),  # 23:10: NT-04, loggable night that does not count for 61.57(b)
        (80, True, True),  # 23:30: an hour past sunset
    ],
)
def test_NT_04_as_a_trip(minutes: float, logged: bool, passengers: bool) -> None:
    found = briefed(circuits(at(22, 10), minutes)).facts["daylight"]
    assert found["lights_from"] in ("22:24Z", "22:25Z")
    assert found["sunset"] == found["lights_from"]
    assert (found["logged_from"] is not None, found["passengers_from"] is not None) == (logged, passengers)
    assert found["dusk"] in ("22:53Z", "22:54Z")


@pytest.mark.parametrize(
    ("month", "lighting", "state", "said"),
    [
        (6, "none", State.MEETS, "the sun is up all day"),
        (12, "none", State.SHORT, "the sun never rises; runway 09 has no lighting"),
        (12, "runway lights", State.UNDER, "the sun never rises; runway 09 has lighting: runway lights"),
    ],
)
def test_where_the_sun_does_not_set_or_rise_the_row_says_so(
    month: int, lighting: str, state: State, said: str
) -> None:
    """71.3 N is inside the polar circle: midsummer has no night, midwinter no sun (by definition)."""
    brief = briefed(circuits(datetime(2019, month, 21, 22, tzinfo=UTC), 60, lighting, place=ARCTIC))
    found = row(brief)
    assert (found.state, found.answer) == (state, said)
    assert brief.daylight is not None
    assert said.partition(";")[0] in brief.daylight.lines[0]
    assert brief.daylight.rows[1].sunset == "none"
    assert brief.facts["daylight"]["after_sunset"] == (month == 12)


def test_without_a_policy_a_sun_that_is_up_all_day_is_no_better_than_under_policy() -> None:
    trip = circuits(datetime(2019, 6, 21, 22, tzinfo=UTC), place=ARCTIC, policy=None)
    assert row(briefed(trip)).state is State.UNDER


# 'A trip that leaves it out gets not shown with its reason'
def test_without_a_takeoff_time_it_is_not_shown() -> None:
    assert TRIP.route is not None
    for trip in (
        circuits(None),
        TRIP._replace(route=None, fuel=None),
        TRIP._replace(route=TRIP.route._replace(takeoff=None, takeoff_min=None)),
    ):
        brief = briefed(trip)
        assert (row(brief).state, row(brief).reason) == (
            State.NOT_SHOWN,
            "the trip file gives no 'takeoff_time'",
        )
        assert brief.daylight is None
        assert not brief.facts["daylight"]["given"]


def test_a_way_that_could_not_be_worked_has_no_light() -> None:
    way = journey(TRIP).navigation
    assert way is not None
    assert evening(TRIP, way._replace(refused=((0, Refusal("too windy")),))) == (None, "too windy")
    none, reason = evening(TRIP, way._replace(climb_reason="no table so high"))
    assert (none, reason) == (None, "no climb could be worked: no table so high")


def test_a_typed_climb_is_in_no_time_and_the_row_says_so() -> None:
    """Its fuel is typed and its table not entered: every leg is flown as if in cruise."""
    assert TRIP.fuel is not None
    brief = briefed(TRIP._replace(fuel=TRIP.fuel._replace(climb_gal=2.0)))
    found = row(brief)
    assert found.estimate
    assert found.reason.endswith("no climb was worked: the way as if in cruise, so the landing may be later")
    assert brief.daylight is not None
    assert brief.daylight.lines[0].startswith("Landing about ")


def test_the_night_is_that_of_any_place_of_the_route() -> None:
    """Two Chimneys lies 1.00° east of Tansy Bottom: 4 min for each degree, so the sun sets 4.0 min sooner there."""
    assert TRIP.route is not None
    late = datetime(2026, 5, 17, 0, 30, tzinfo=UTC)
    found = evening(TRIP._replace(route=TRIP.route._replace(takeoff=late)), journey(TRIP).navigation)[0]
    assert found is not None
    assert found.destination.sunset is not None
    lights = found.nights[0].parts[0][0]
    assert timedelta(minutes=3) < found.destination.sunset - lights < timedelta(minutes=6)
    roles = [each.role for each in found.fields]
    assert roles == ["departure", "destination", "alternate"]
    assert found.fields[2].at > found.landing


def test_when_a_way_that_cannot_be_flown_ends_is_not_known() -> None:
    """Nor is it where no climb could be worked: the way as if in cruise would end too soon."""
    way = journey(TRIP).navigation
    assert way is not None
    start = datetime(2026, 5, 16, 14, 20, tzinfo=UTC)
    assert None not in reached(start, way)
    assert reached(start, way._replace(climb_reason="too high")) == (None, None)
    assert reached(start, way._replace(refused=((0, Refusal("wind", "wind")),))) == (None, None)
    assert reached(start, 40.2) == (start + timedelta(minutes=41), None)


def test_without_fuel_on_board_the_line_of_time_has_only_the_flight_and_the_sun() -> None:
    trip = circuits(at(20, 50))
    assert trip.fuel is not None
    page = briefed(trip._replace(fuel=trip.fuel._replace(on_board_gal=None))).daylight
    assert page is not None
    labels = [each.label.rpartition(" ")[0] for each in page.line.moments]
    assert labels == ["takeoff", "ETA", "sunset", "twilight ends"]

"""The weather along the legs: what the rule asks for at a leg's altitude, what is known, and the one row of all.

Source: 14 CFR 91.155(a) (check value RG-03, read; 9,999 and 10,000 ft above the sea, 1,200 and 1,201 ft above the
surface), 91.119(c) (RG-07, read). Heights by hand: a cloud base needed is the altitude and 500 or 1,000 ft.
The example's ceilings: 7,000 ft above Quillmere at 712 ft, none at Tansy Bottom; 6 SM at both.
"""

from __future__ import annotations

from math import inf
from typing import Any

import pytest
from conftest import EXAMPLE

from briefgen.along_page import LegLine, least_over_ground_ft, leg_lines, legs_row
from briefgen.calc.along import along
from briefgen.files.read_trip import read_trip
from briefgen.item import Item, State
from briefgen.model.route import Leg, Sky
from briefgen.model.trip import Trip
from briefgen.pipeline import caution, rules_of, work

TRIP, _ = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")
GOOD = Sky(inf, 10.0)


def of(*legs: dict[str, Any], trip: Trip = TRIP) -> Trip:
    """Return the example with other legs, to three places at 5,500, 5,500 and 4,500 ft, and no alternate."""
    assert trip.route
    plain = (Leg("Marl Pit", 5500, 100, 8), Leg("Two Chimneys", 5500, 100, 8), Leg("Tansy Bottom", 4500, 100, 8))
    found = [leg._replace(**more) for leg, more in zip(plain, legs, strict=False)]
    return trip._replace(route=trip.route._replace(legs=tuple(found), alternate=None), alternate=None)


def line(leg: dict[str, Any], *, night: bool | None = False) -> LegLine:
    (found,) = leg_lines(of(leg), night=night)
    return found


def row(trip: Trip) -> Item:
    (found,) = legs_row(trip, night=False)
    return found


@pytest.mark.parametrize(
    ("airspace", "altitude", "lowest", "night", "asked"),
    [
        ("B", 5500, None, False, "5,500\u00a0ft, 3\u00a0SM"),
        ("C", 5500, None, False, "6,000\u00a0ft, 3\u00a0SM"),
        ("D", 2500, None, True, "3,000\u00a0ft, 3\u00a0SM"),
        ("E", 9999, None, False, "10,500\u00a0ft, 3\u00a0SM"),  # 10,499 up to ten
        ("E", 10000, None, False, "11,000\u00a0ft, 5\u00a0SM"),
        ("G", 1840, 640, False, "1,840\u00a0ft, 1\u00a0SM"),  # 1,200 ft above the surface
        ("G", 1841, 640, False, "2,350\u00a0ft, 1\u00a0SM"),  # 1,201 ft: 2,341 up to ten
        ("G", 1840, 640, True, "2,340\u00a0ft, 3\u00a0SM"),
        ("G", 1840, None, False, "2,340\u00a0ft, 1\u00a0SM"),  # the surface not said: as over 1,200 ft
        ("G", 5500, 640, True, "6,000\u00a0ft, 3\u00a0SM"),
        ("G", 10000, 640, False, "11,000\u00a0ft, 5\u00a0SM"),
        ("", 5500, None, False, "6,000\u00a0ft, 3\u00a0SM"),  # the strictest of B to G
        ("", 11500, None, None, "12,500\u00a0ft, 5\u00a0SM"),
    ],
)
def test_what_the_rule_asks_for_at_a_leg(
    airspace: str, altitude: float, lowest: float | None, night: bool | None, asked: str
) -> None:
    leg = {"airspace": airspace, "altitude_ft": altitude, "lowest_ft": lowest, "sky": GOOD}
    found = line(leg, night=night)
    assert (found.asked, found.state) == (asked, State.MEETS)


def test_what_was_taken_is_said() -> None:
    assert "the strictest class, as the leg gives no 'airspace'" in line({"sky": GOOD}).rule
    assert "as the leg gives no 'lowest_ground'" in line({"sky": GOOD, "airspace": "G"}).rule
    assert line({"sky": GOOD, "airspace": "E"}).rule == "class E, below 10,000\u00a0ft"


@pytest.mark.parametrize(
    ("base", "sight", "state"),
    [
        (6000, 3.0, State.MEETS),
        (6099, 3.0, State.MEETS),
        (5999, 3.0, State.SHORT),  # down to 5,900 ft
        (6000, 2.99, State.SHORT),
        (inf, 3.0, State.MEETS),
        (-50, 3.0, State.SHORT),  # fog over ground below the sea
    ],
)
def test_a_leg_is_held_to_what_is_typed(base: float, sight: float, state: State) -> None:
    """5,500 ft in class E: 500 ft below cloud, so 6,000 ft."""
    found = line({"airspace": "E", "altitude_ft": 5500, "sky": Sky(base, sight)})
    assert (found.state, found.by) == (state, "as typed")


def test_without_a_policy_nothing_is_better_than_under_policy() -> None:
    trip = of({"sky": GOOD})._replace(policy=None)
    assert [each.state for each in leg_lines(trip, night=False)] == [State.UNDER]


def test_what_is_not_typed_is_the_worse_of_both_ends() -> None:
    """712 and 7,000 ft, down to 7,700; the other end has no ceiling. Typed 5 SM go before both fields' 6."""
    found = line({"airspace": "E"})
    assert (found.known, found.by) == ("7,700\u00a0ft, 6\u00a0SM", "from the fields at both ends")
    found = line({"airspace": "E", "sky": Sky(None, 5.0)})
    assert found.known == "7,700\u00a0ft, 5\u00a0SM"
    assert found.by == "cloud base from the fields at both ends; visibility as typed"


def test_an_end_that_is_not_known_leaves_the_leg_not_shown() -> None:
    out = TRIP.departure
    use = out.use._replace(conditions=out.use.conditions._replace(weather=None))
    blind = of({"airspace": "E"}, trip=TRIP._replace(departure=out._replace(use=use)))
    (found,) = leg_lines(blind, night=False)
    assert (found.state, found.known) == (State.NOT_SHOWN, "not known")
    assert found.reason == "cloud base and visibility not known at both ends; or type 'along' under 'route'"
    assert row(blind).reason.startswith("Marl Pit at 5,500\u00a0ft: cloud base and visibility not known")


def test_no_one_flies_by_sight_from_18_000_ft_on() -> None:
    found = line({"altitude_ft": 18000, "sky": GOOD})
    assert (found.state, found.asked) == (State.NOT_SHOWN, "nothing")
    assert "class A" in found.reason
    assert line({"altitude_ft": 17999, "sky": GOOD}).state is State.MEETS


def test_an_altitude_below_the_lowest_ground_has_no_minimum() -> None:
    """Read from a file it is a fault; nothing is worked from it either."""
    found = line({"altitude_ft": 600, "lowest_ft": 640, "airspace": "G", "sky": GOOD})
    assert (found.state, found.reason) == (State.NOT_SHOWN, "600 ft is below the ground at 640 ft")


@pytest.mark.parametrize(
    ("terrain", "state", "ground"),
    [
        (5000, State.MEETS, "500\u00a0ft over the highest ground"),
        (5001, State.SHORT, "490\u00a0ft over the highest ground"),  # 499 down to ten
        (1150, State.MEETS, "4,350\u00a0ft over the highest ground"),
    ],
)
def test_the_ground_must_be_500_ft_below(terrain: float, state: State, ground: str) -> None:
    """RG-07: 500 ft above the surface, over other than congested areas; the leg is at 5,500 ft."""
    trip = of({"terrain_ft": terrain, "airspace": "E", "sky": GOOD})
    (found,) = leg_lines(trip, night=False)
    assert (found.state, found.ground) == (state, ground)
    assert least_over_ground_ft(trip) == 5500 - terrain - (5500 - terrain) % 10
    if state is State.SHORT:
        assert found.reason == "less than 500\u00a0ft over the highest ground"


def test_ground_too_near_is_short_also_where_the_weather_is_not_known() -> None:
    out = TRIP.departure
    use = out.use._replace(conditions=out.use.conditions._replace(weather=None))
    blind = of({"terrain_ft": 5400.0}, trip=TRIP._replace(departure=out._replace(use=use)))
    (found,) = leg_lines(blind, night=False)
    assert found.state is State.SHORT
    assert "cloud base and visibility not known" in found.reason


def test_the_row_is_that_of_the_worst_leg() -> None:
    """Class E at 5,500, 5,500 and 4,500 ft; 7,700 ft is the base at the ends: the typed 6,100 ft leave 100 ft."""
    trip = of({"airspace": "E"}, {"airspace": "E", "sky": Sky(6100.0, 6.0)}, {"airspace": "E"})
    found = row(trip)
    assert found.where == "Quillmere 17"
    assert (
        found.answer
        == "Two Chimneys at 5,500\u00a0ft: cloud 6,100\u00a0ft, 6\u00a0SM; need 6,000\u00a0ft, 3\u00a0SM"
    )
    short = row(of({"airspace": "E"}, {"airspace": "E"}, {"airspace": "E", "sky": Sky(4900.0, 6.0)}))
    assert (short.state, short.answer.partition(" at ")[0]) == (State.SHORT, "Tansy Bottom")
    near = row(of({"airspace": "E", "sky": GOOD}, {"airspace": "E", "sky": GOOD, "terrain_ft": 4700.0}))
    assert near.answer.startswith("Two Chimneys at 5,500\u00a0ft: no ceiling, 10\u00a0SM; need 6,000")
    assert near.answer.endswith("; 800\u00a0ft over the highest ground")


def test_a_leg_that_is_short_goes_before_one_that_is_not_known() -> None:
    out = TRIP.departure
    use = out.use._replace(conditions=out.use.conditions._replace(weather=None))
    blind = TRIP._replace(departure=out._replace(use=use))
    found = row(of({"airspace": "E"}, {"airspace": "E", "sky": Sky(3000.0, 6.0)}, trip=blind))
    assert found.state is State.SHORT


def test_without_a_route_there_is_no_row() -> None:
    trip = TRIP._replace(route=None)
    assert along(trip, False) == ()
    assert legs_row(trip, night=False) == ()
    assert least_over_ground_ft(trip) is None


def test_the_way_to_the_alternate_is_in_the_table_and_in_the_row_only_where_it_is_short() -> None:
    """Its leg is at 3,000 ft. An alternate that says nothing of its weather says so in a row of its own."""
    assert TRIP.alternate
    assert TRIP.route
    use = TRIP.alternate.use
    blind = use._replace(conditions=use.conditions._replace(weather=None))
    trip = TRIP._replace(alternate=TRIP.alternate._replace(use=blind))
    assert leg_lines(trip, night=False)[-1].to == "Pennywort Hill"
    assert leg_lines(trip, night=False)[-1].state is State.NOT_SHOWN
    assert row(trip).state is State.MEETS
    assert TRIP.route.alternate
    onward: Leg = TRIP.route.alternate._replace(sky=Sky(3000.0, 6.0))
    low = TRIP._replace(route=TRIP.route._replace(alternate=onward))
    assert row(low).state is State.SHORT
    assert row(low).answer.startswith("Pennywort Hill at 3,000\u00a0ft: cloud 3,000\u00a0ft, 6\u00a0SM; need 3,500")


def test_the_rows_and_the_cautions_on_the_sheet() -> None:
    assert TRIP.route
    low = tuple(leg._replace(sky=Sky(leg.altitude_ft, 6.0)) for leg in TRIP.route.legs)
    trip = TRIP._replace(route=TRIP.route._replace(legs=low, alternate=None, fuel_stop=None), alternate=None)
    brief = caution(work(trip), rules_of(TRIP.policy)[0])
    items = {each.id: each for each in brief.items}
    assert items["legs-weather"].state is State.SHORT
    assert "alternate-weather" not in items
    assert "weather-below-minimums-on-the-way" in {each.id for each in brief.cautions}
    assert brief.weather
    assert {each.state for each in brief.weather.legs} == {State.SHORT}
    assert brief.facts["items"]["alternate_weather"] is None

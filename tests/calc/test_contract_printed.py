"""Rounding, states, crosswind, weights, sameness: the lines of the design's 'How the figures are defined'.

Each test names its line. Source of the expected numbers: computed by hand from that line.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from chain_steps import Worked
from small_models import aircraft, chart, place, policy

from briefgen.calc.takeoff import factor_for, takeoff
from briefgen.figures import Figure
from briefgen.files.read_trip import read_trip
from briefgen.item import Item, State, item
from briefgen.items import required_items
from briefgen.model.aircraft import Aircraft
from briefgen.model.limit import Limit
from briefgen.model.policy import Policy
from briefgen.model.strip import Obstacle
from briefgen.pipeline import brief_of, work
from briefgen.plans import reading
from briefgen.render.data import to_json

ROOT = Path(__file__).resolve().parents[2]
TRIP = ROOT / "examples" / "quillmere" / "trip.yaml"


def row(need: float, policy_need: float, have: float, rules: Policy | None = None, minimum: float = 0.0) -> Item:
    """Return an item of a distance."""
    need_, policy_need_, have_ = (Figure("x", "ft", value) for value in (need, policy_need, have))
    return item("x", "X", "here", need_, policy_need_, have_, policy=rules, minimum=minimum)


# Line: 'State is taken from the printed values ...: distances need up, have down (5 ft)'
def test_the_state_is_taken_from_the_printed_values() -> None:
    tight = row(996.0, 996.0, 999.9, policy())
    assert (tight.need, tight.have, tight.margin, tight.state) == (1000, 995, -5, State.SHORT)
    exact = row(1000.0, 1000.0, 1000.0, policy())
    assert (exact.need, exact.have, exact.margin, exact.state) == (1000, 1000, 0, State.MEETS)
    assert row(995.0, 1001.0, 1004.9, policy()).state is State.UNDER  # 1005 does not fit in 1000


# Line of 'Words': 'under policy: fits, but have < policy need or under the minimum margin; short: have < need'
def test_the_states_follow_need_policy_need_and_minimum_margin() -> None:
    assert row(900.0, 1200.0, 1200.0, policy()).state is State.MEETS
    assert row(900.0, 1200.0, 1195.0, policy()).state is State.UNDER
    assert row(900.0, 900.0, 1000.0, policy(), 100.0).state is State.MEETS
    assert row(900.0, 900.0, 999.0, policy(), 100.0).state is State.UNDER
    assert row(900.0, 900.0, 899.0, policy()).state is State.SHORT


# Line of 'Words': 'With no policy loaded nothing is better than under policy'
def test_without_a_policy_nothing_is_better_than_under_policy() -> None:
    assert row(900.0, 900.0, 9000.0).state is State.UNDER


# Line of 'Words': 'have minus need; and, for distances and fuel only, have divided by need'
def test_have_divided_by_need_is_for_distances_only() -> None:
    assert row(900.0, 900.0, 1000.0).ratio == 1.11
    kt = Figure("x", "kt", 9.0)
    assert item("x", "X", "here", kt, kt, kt, policy=None).ratio is None


# Line: 'crosswind up; speeds up; ... points along the strip down; ... JSON keeps the unrounded.'
def test_the_sheet_rounds_each_number_the_safe_way() -> None:
    work_ = Worked(TRIP)
    flight, page, items = work_.flight, work_.brief, work_.items
    assert items["landing-crosswind"].need == 6 > flight.arrival.wind.crosswind_kt > 5
    assert page.takeoff.abort_speed.value == 38 > flight.abort.speed.known > 37
    assert page.takeoff.abort.at.value == 1135 < flight.abort.point.known < 1140
    assert page.landing.go_around.at.value == 270 < flight.go_around.point.known < 275
    speed = Figure("approach", "kt", 56.1)
    assert reading("approach", speed, step=1, upward=True).value == 57
    assert repr(flight.planned.need.known) in to_json(page)


# Line: 'weight up'
def test_a_weight_is_rounded_up() -> None:
    lb = Figure("weight", "lb", 2380.2)
    limit = Figure("maximum", "lb", 2381.0)
    assert item("w", "W", "here", lb, lb, limit, policy=policy()).need == 2381


# Line: 'Over the demonstrated value is a caution, not short, unless the handbook prints a limitation or ...'
@pytest.mark.parametrize(
    ("limitation", "maximum", "have", "state"),
    [
        (None, None, 5.0, State.UNDER),  # demonstrated only, and over it
        (5.5, None, 5.0, State.SHORT),
        (None, 5.0, 5.0, State.SHORT),
        (9.0, 8.0, 8.0, State.MEETS),  # both set: the least; the demonstrated value is neither
    ],
)
def test_crosswind_over_the_demonstrated_value_is_not_short_unless_it_is_a_limit(
    limitation: float | None, maximum: float | None, have: float, state: State
) -> None:
    # the example's landing crosswind is 5.164 kt, printed 6 (hand_worked_chain_one.md)
    trip, _ = read_trip(TRIP, "trip.yaml")
    assert trip.policy is not None
    printed = None if limitation is None else Limit(limitation, "p. 2")
    plane = trip.aircraft._replace(demonstrated_crosswind_kt=Limit(5.0, "p. 4"), crosswind_limit_kt=printed)
    changed = trip._replace(aircraft=plane, policy=trip.policy._replace(crosswind_maximum_kt=maximum))
    found = {each.id: each for each in required_items(changed, Worked(TRIP).flight)}["landing-crosswind"]
    assert (found.need, found.have, found.state) == (6, have, state)


# Line: 'Landing back at the departure at takeoff weight is worked too.'
def test_landing_back_at_the_departure_is_worked_at_takeoff_weight() -> None:
    trip, _ = read_trip(TRIP, "trip.yaml")
    light = trip._replace(arrival=trip.arrival._replace(weight_lb=2200.0))
    for each in (trip, light):
        items = {row_.id: row_ for row_ in work(each).items}
        assert items["landing-back"].where == "Quillmere 17"
        assert items["landing-back"].need == 975  # 970.66 by hand_worked_chain_one.md, whatever the landing weight


def test_landing_back_over_the_heaviest_printed_weight_is_not_shown() -> None:
    trip, _ = read_trip(TRIP, "trip.yaml")
    heavy = trip._replace(departure=trip.departure._replace(weight_lb=2560.0))
    items = {row_.id: row_ for row_ in work(heavy).items}
    assert items["landing-back"].state is State.NOT_SHOWN
    assert items["landing-back"].reason.startswith("weight 2,560 lb is above the table's highest, weight 2,550 lb")


# Line: 'Same input, same output: figures, JSON'
def test_the_same_input_gives_the_same_brief_and_the_same_json() -> None:
    first, second = (brief_of(TRIP, "trip.yaml") for _ in range(2))
    assert first == second
    assert to_json(first) == to_json(second)
    assert len(to_json(first)) > 10_000


# Line of the idea: 'Nothing is ever silently left off the sheet: what could not be worked says so, in its row.'
def test_every_required_item_has_a_row_whatever_could_not_be_worked() -> None:
    trip, _ = read_trip(TRIP, "trip.yaml")
    nothing = aircraft(takeoff=(), landing=(), approach=(), liftoff=())
    full, empty = work(trip), work(trip._replace(aircraft=nothing, policy=None))
    asked = [each.id for each in full.items if each.where.startswith("Asked")]  # by a policy, which the other lacks
    assert asked == ["fuel-dipped"]
    assert [each.id for each in full.items][-2:] == ["confirmed", "fuel-dipped"]  # the first asked for by it too
    assert [each.id for each in empty.items] == [each.id for each in full.items][:-2]
    assert len(full.items) == 24
    for each in empty.items:
        assert each.reason or each.state is not State.NOT_SHOWN
    worked = {each.id for each in empty.items if each.state is not State.NOT_SHOWN}
    apart = {
        "departure-weather",
        "legs-weather",
        "arrival-weather",
        "alternate-weather",
        "papers-pilot",
    }  # no figure of the airplane
    assert worked == {"takeoff-weight", "landing-weight", *apart}  # the legs are by power: no table, no fuel


def test_the_factor_named_is_the_policy_s_or_none_or_the_table_s_own() -> None:
    assert factor_for(chart(), policy().landing_factor).value == 1.4
    assert factor_for(chart(), None).source.text.startswith("no factor")
    assert factor_for(chart(factored=True), policy().landing_factor).source.text.startswith("no further factor")
    assert takeoff(aircraft(), place(), "10", 2400.0, policy()).policy_total.known == pytest.approx(1800)


# Line: 'state': one row stands for all that the climb is held against: the worst state, then the least room.
def test_the_row_of_the_climb_is_that_of_the_obstacle_with_the_least_room() -> None:
    trip, _ = read_trip(TRIP, "trip.yaml")
    use = trip.departure.use

    def row(*obstacles: Obstacle, plane: Aircraft = trip.aircraft) -> Item | None:
        opposite = use.opposite._replace(obstacles=obstacles)
        there = trip.departure._replace(use=use._replace(opposite=opposite))
        found = work(trip._replace(departure=there, aircraft=plane)).items
        return next((each for each in found if each.id == "climb-out"), None)

    low, tall, wall = Obstacle("low", 60, 2000), Obstacle("tall", 200, 2000), Obstacle("wall", 0, 10)
    shown = [row(low, tall), row(tall, low), row(low, tall, plane=trip.aircraft._replace(climb_rates=()))]
    assert [each.title for each in shown if each] == ["Climb over tall"] * 3
    assert [each.state.value for each in shown if each] == ["meets policy", "meets policy", "not shown"]
    assert row() is None
    assert row(wall) is None  # no more than 50 ft with the policy's clearance of 50 ft

"""Figures of a runway without conditions in the trip file: each missing with that reason, none half worked."""

from __future__ import annotations

import pytest
from small_models import TOUCHDOWN, aircraft, chart, have, place, policy, use
from test_contract_climb import plane

from briefgen.calc.approach import ground_speed
from briefgen.calc.climb_out import NO_FIGURES, after_go_around, after_takeoff
from briefgen.calc.crosswinds import crosswinds
from briefgen.calc.decision import abort, go_around
from briefgen.calc.distance import NoAir
from briefgen.calc.flight import air_of, scene_of
from briefgen.calc.landing import partial, set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.speeds import gust_additive
from briefgen.calc.takeoff import takeoff
from briefgen.model.strip import End
from briefgen.model.weather import NotGiven

WHY = "the trip file gives no conditions there"
LACKING = NotGiven(WHY)
BARE = NoAir(LACKING, have())
PLANE = aircraft(takeoff=(chart("takeoff", "10"),), landing=(chart("landing", "30"), chart("landing", "20")))


def test_of_what_is_not_given_nothing_is() -> None:
    assert LACKING.wind is LACKING
    assert LACKING.weather is None
    assert BARE.reason == WHY


def test_what_there_is_of_a_runway_needs_no_air() -> None:
    given = use(End("36", 360.0, 0.0), End("18", 180.0, 0.0))
    bare = given._replace(conditions=LACKING)
    there = scene_of(bare, policy())
    assert isinstance(there, NoAir)
    assert there.have == scene_of(given, policy()).have
    assert {(figure.value, figure.reason) for figure in air_of(bare, there)} == {(None, WHY)}
    assert [figure.label for figure in air_of(bare, there)] == [
        figure.label for figure in air_of(given, scene_of(given, policy()))
    ]
    assert crosswinds(bare) is None
    assert (bare.ground, given.ground) == ("paved", "paved, dry")


def test_no_takeoff_is_worked_nor_where_to_give_it_up() -> None:
    worked = takeoff(PLANE, BARE, "10", 2400.0, policy())
    for figure in (worked.roll, worked.total, worked.policy_roll, worked.policy_total):
        assert (figure.value, figure.reason) == (None, WHY)
    assert worked.chart is None
    assert worked.liftoff == takeoff(PLANE, place(), "10", 2400.0, policy()).liftoff
    given_up = abort(worked, BARE, policy(), ())
    for figure in (given_up.point, given_up.speed, given_up.latest_liftoff, given_up.stopping):
        assert (figure.value, figure.reason, figure.steps) == (None, WHY, ())


@pytest.mark.parametrize("share", [0.0, 0.5])
def test_no_landing_is_worked_in_any_case(share: float) -> None:
    """Where nothing is added for gusts the approach speed needs no wind; the landing needs it all the same."""
    rules = policy(gust_share=share)
    plan = LandingPlan(PLANE, 2300.0, rules, TOUCHDOWN)
    cases = set_up(plan, LACKING, "30")
    planned, up = cases.work(plan, BARE)
    flaps_20 = partial(plan, BARE, "20", up)
    for landing in (planned, up, flaps_20, cases.work_planned(plan, BARE)):
        for figure in (landing.roll, landing.total, landing.need, landing.policy_need):
            assert (figure.value, figure.reason) == (None, WHY)
        assert ground_speed(PLANE, landing, BARE) is None
    point = go_around(planned, BARE, rules, TOUCHDOWN, (), True)
    assert (point.point.value, point.point.reason) == (None, WHY)


def test_gusts_are_not_known_without_a_wind_unless_nothing_is_added_for_them() -> None:
    assert gust_additive(LACKING, policy(gust_share=0.0)).known == 0
    unknown = gust_additive(LACKING, policy(gust_share=0.5))
    assert (unknown.value, unknown.reason) == (None, WHY)


def test_no_climb_is_worked_with_a_table_or_without() -> None:
    with_table = after_takeoff(plane(), BARE, "10", 2400.0)
    assert after_takeoff(plane(), place(), "10", 2400.0).rate.value is not None
    for figure in (with_table.speed, with_table.true, with_table.rate, with_table.gradient):
        assert (figure.value, figure.reason) == (None, WHY)
    assert after_go_around(PLANE, BARE, "30", 2300.0).rate.reason == NO_FIGURES

"""A fuel stop by hand: calm air, 100 kt and 8 gal/h, so that 50 NM are 30 min and 4 gal (worked as FU-01 is).

The trip: taxi 1 gal; A to B 50 NM, B to C 25 NM (15 min, 2 gal), an approach of 0.5 gal, from C to the alternate
12.5 NM (7.5 min, 1 gal). Decided at B; from there to the stop 10 NM (6 min, 0.8 gal). Reserve by day 30 min, 4 gal.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from briefgen.calc.fuel import Journey, plan
from briefgen.calc.fuel_stop import TOO_LITTLE, Stop, fuel_stop
from briefgen.calc.legs import navigate
from briefgen.items import no_way_out
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.route import Fuel, FuelStop, Leg, Route, Spot, WindAloft
from briefgen.printing import US

CALM = WindAloft(3000, 0.0, 0.0)
STRICT = NO_POLICY._replace(burn_margin=0.1, fuel_reserve_s=3600.0)


def leg(to: str, distance_nm: float, course_deg: float = 90.0, **more: Any) -> Leg:
    settings: dict[str, Any] = {"altitude_ft": 3000, "airspeed_kt": 100, "flow_galh": 8.0, "wind": CALM}
    typed = {"course_deg": course_deg, "distance_nm": distance_nm, "variation_deg": 0.0}
    return Leg(**({"to": to} | settings | typed | more))


def worked(
    on_board_gal: float | None = 15.0,
    policy: Policy | None = None,
    legs: tuple[Leg, ...] = (leg("B", 50), leg("C", 25)),
    stop: Leg | None = None,
    **more: Any,
) -> tuple[Stop, Journey]:
    """Return the stop and the journey of the trip above, with another fuel, policy, legs or way to the stop."""
    given = FuelStop("B", stop or leg("S", 10, 0.0))
    route = Route("A", Spot(40.0, -80.0), legs, 2026.0, alternate=leg("ALT", 12.5), fuel_stop=given)
    fuel = Fuel(**({"taxi_gal": 1.0, "climb_gal": 0.0, "approach_gal": 0.5, "night": False} | more))
    fuel = fuel._replace(on_board_gal=on_board_gal)
    navigation = navigate(route)
    way = Journey(navigation, plan(fuel, navigation, policy or NO_POLICY))
    found = fuel_stop(SimpleNamespace(route=route, fuel=fuel, policy=policy), way)  # type: ignore[arg-type]
    assert found is not None
    return found, way


def test_what_going_on_needs_and_what_is_planned_there_by_hand() -> None:
    """To continue 2 + 0.5 + 1 + 4 = 7.5; planned 15 - 1 - 4 = 10; 2.5 over, at 8 gal/h 18.75 min after the 30."""
    found, way = worked()
    assert (found.at, found.to) == ("B", "S")
    assert found.continue_need.known == found.policy_continue_need.known == pytest.approx(7.5)
    assert found.planned.known == pytest.approx(10)
    assert found.reached.known == pytest.approx(30)
    assert found.by.known == pytest.approx(48.75)
    assert way.fuel.need.known == pytest.approx(1 + 4 + 7.5)
    assert [step.after for step in found.continue_need.steps] == pytest.approx([2, 2.5, 3.5, 7.5])
    assert [step.after for step in found.planned.steps] == pytest.approx(
        [15, 14, 14, 10]
    )  # taxi, a climb of nil, legs


def test_the_way_to_the_stop_and_what_is_left_there_by_hand() -> None:
    """To land 0.8 + 0.5 + 4 = 5.3; left 10 - 0.8 - 0.5 = 8.7."""
    found, _ = worked()
    assert found.way is not None
    assert (found.way.distance.known, found.way.time.known) == pytest.approx((10, 6))
    assert found.land.known == found.policy_land.known == pytest.approx(5.3)
    assert found.left.known == pytest.approx(8.7)
    assert [step.after for step in found.left.steps] == pytest.approx([10, 9.2, 8.7])


def test_under_a_policy_the_burn_s_margin_and_the_longer_reserve_count_on_both_sides() -> None:
    """A tenth more burnt, 60 min: to continue 7.5 + 0.35 + 4 = 11.85; planned 15 - 1 - 4.4 = 9.6, too little.

    With 18 gal 12.6 are planned: 0.75 over, at 8.8 gal/h 5.11 min. To land 5.3 + 0.13 + 4 = 9.43; left 12.6 - 1.43.
    """
    short, _ = worked(policy=STRICT)
    assert (short.continue_need.known, short.policy_continue_need.known) == pytest.approx((7.5, 11.85))
    assert short.planned.known == pytest.approx(9.6)
    assert (short.by.value, short.by.reason) == (None, TOO_LITTLE)
    found, _ = worked(18.0, STRICT)
    assert found.by.known == pytest.approx(30 + 0.75 / 8.8 * 60)
    assert found.policy_land.known == pytest.approx(9.43)
    assert found.left.known == pytest.approx(11.17)
    assert found.most_galh == pytest.approx(8.8)


def test_the_greatest_flow_counts_the_way_to_the_stop_too() -> None:
    """By hand: at 10 gal/h the 30 min of reserve are 5 gal, in the trip's fuel and at the stop."""
    found, way = worked(stop=leg("S", 10, 0.0, flow_galh=10.0))
    assert found.continue_need.known == pytest.approx(8.5)
    assert way.fuel.need.known == pytest.approx(13.5)
    assert found.land.known == pytest.approx(1 + 0.5 + 5)


def test_a_typed_climb_counts_before_and_where_a_later_leg_is_higher_after_too() -> None:
    """By hand: 1.2 gal; planned 10 - 1.2 = 8.8; to continue 7.5, and 8.7 where the second leg is at 5,000 ft."""
    low, _ = worked(climb_gal=1.2)
    high, _ = worked(climb_gal=1.2, legs=(leg("B", 50), leg("C", 25, altitude_ft=5000)))
    assert (low.planned.known, low.continue_need.known) == pytest.approx((8.8, 7.5))
    assert (high.planned.known, high.continue_need.known) == pytest.approx((8.8, 8.7))


def test_without_an_approach_or_fuel_on_board_the_rest_is_worked() -> None:
    """By hand: 2 + 1 + 4 to continue, 0.8 + 4 to land; what is planned to be left is not known."""
    found, _ = worked(None, approach_gal=None)
    assert (found.continue_need.known, found.land.known) == pytest.approx((7, 4.8))
    for figure in (found.planned, found.by, found.left):
        assert (figure.value, figure.reason) == (None, "the trip file does not give 'fuel: on_board'")


def test_what_cannot_be_worked_says_why() -> None:
    """A way against 120 kt of wind at 100; a taxi that is not given; no fuel at all."""
    refused, way = worked(stop=leg("S", 10, 0.0, wind=WindAloft(3000, 0.0, 120.0)))
    assert way.navigation is not None
    assert refused.way is None
    assert way.navigation.stop_refused is not None
    for figure in (refused.land, refused.policy_land, refused.left):
        assert (figure.value, figure.reason) == (None, way.navigation.stop_refused.reason)
    assert refused.continue_need.known == pytest.approx(7.5)
    assert no_way_out(refused, US)
    lacking, _ = worked(taxi_gal=None)
    assert lacking.way is not None
    assert not no_way_out(lacking, US)  # nothing is worked, and that is said
    for figure in (lacking.continue_need, lacking.planned, lacking.by, lacking.land, lacking.left):
        assert (figure.value, figure.reason) == (None, "the trip file does not give 'fuel: taxi'")


def test_a_stop_is_no_way_out_from_where_landing_there_asks_for_more_than_continuing() -> None:
    """RG-01. To continue 7.5; to land 4.5 and 8 gal/h of 100 kt: at 37.5 NM 7.5 too, at 40 NM 7.7."""
    for distance, expected in ((10.0, False), (37.5, False), (40.0, True)):
        for on_board in (None, 15.0):
            assert no_way_out(worked(on_board, stop=leg("S", distance, 0.0))[0], US) is expected


def test_a_stop_is_no_way_out_with_less_planned_than_landing_there_asks_for() -> None:
    """RG-01. To land 5.3, to continue 7.5; planned 5 less than on board: with 10.31 gal 5.3, with 10.2 5.2."""
    assert not no_way_out(worked(10.31)[0], US)
    assert no_way_out(worked(10.2)[0], US)


def test_a_trip_without_a_stop_has_none_and_one_without_fuel_has_no_figures() -> None:
    route = Route("A", Spot(40.0, -80.0), (leg("B", 50), leg("C", 25)), 2026.0)
    given = route._replace(fuel_stop=FuelStop("B", leg("S", 10, 0.0)))
    for each, fuel, expected in ((None, None, False), (route, None, False), (given, None, True)):
        navigation = navigate(each) if each else None
        way = Journey(navigation, plan(fuel, navigation, NO_POLICY))
        found = fuel_stop(SimpleNamespace(route=each, fuel=fuel, policy=None), way)  # type: ignore[arg-type]
        assert (found is not None) is expected
    assert fuel_stop(SimpleNamespace(route=given), Journey(None, plan(None, None, NO_POLICY))) is None  # type: ignore[arg-type]
    assert found is not None
    assert found.continue_need.reason == "the trip file does not give 'fuel'"


def test_a_leg_that_cannot_be_flown_leaves_the_stop_unworked() -> None:
    route = Route("A", Spot(40.0, -80.0), (leg("B", 50, wind=WindAloft(3000, 90.0, 120.0)), leg("C", 25)), 2026.0)
    navigation = navigate(route._replace(fuel_stop=FuelStop("B", leg("S", 10, 0.0))))
    assert navigation.refused
    assert navigation.stop is None
    assert navigation.stop_end is None

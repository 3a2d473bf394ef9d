"""Legs and fuel by worked problems, and what is refused.

Sources beside each number; 'by hand' is arithmetic that stands in the comment.
"""

from __future__ import annotations

from typing import Any

import pytest

from briefgen.calc.fuel import FuelPlan, plan
from briefgen.calc.legs import LegWorked, keeps_cruising_rule, navigate, wind_said
from briefgen.calc.wind_triangle import aloft
from briefgen.errors import Refusal
from briefgen.model.aircraft import Deviation
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.route import Alternate, Fuel, Leg, Route, Spot, WindAloft
from briefgen.units import L_PER_GAL

HOME = Spot(40.0, -80.0)
CALM = WindAloft(3000, 0.0, 0.0)


def leg(**more: Any) -> Leg:
    settings: dict[str, Any] = {"to": "X", "altitude_ft": 3000, "airspeed_kt": 100, "flow_galh": 8.0}
    typed = {"course_deg": 90.0, "distance_nm": 50.0, "wind": CALM, "variation_deg": 0.0}
    return Leg(**(settings | typed | more))


def worked(*legs: Leg, deviation: Deviation | None = None, **more: Any) -> tuple[LegWorked, ...]:
    found = navigate(Route("A", HOME, legs, 2026.0, **more), deviation)
    assert found.refused == ()
    return found.legs


def refusal(*legs: Leg, **more: Any) -> Refusal:
    found = navigate(Route("A", HOME, legs, more.pop("year", 2026.0), **more))
    assert len(found.refused) == 1
    return found.refused[0][1]


def test_the_handbook_s_flight_log() -> None:
    """NV-03 and NV-12, PHAK 'Charting the course': TAS, wind, fuel and deviation read; course, variation, 53 NM and
    results from memory. Computed: 2.57 left, 28.43 true, 21.43 magnetic, 23.43 by the compass, 106.31 kt, 29.9 min,
    4.0 gal."""
    wind = WindAloft(3000, 360, 10)
    card = Deviation(tuple((at, at + 2) for at in (0.0, 90.0, 180.0, 270.0)), "card")
    one = leg(course_deg=31.0, distance_nm=53.0, airspeed_kt=115, wind=wind, variation_deg=7.0)
    found = worked(one, deviation=card)[0]
    assert found.course_deg == 31
    assert found.heading.known == pytest.approx(21.43, abs=0.005)
    assert found.compass is not None
    assert found.compass.known == pytest.approx(23.43, abs=0.005)
    assert found.ground_speed.known == pytest.approx(106.31, abs=0.005)
    assert [step.detail for step in found.ground_speed.steps] == ["360° at 10\u00a0kt"]  # typed for the leg
    assert found.time.known == pytest.approx(30, abs=0.1)
    assert found.fuel.known == pytest.approx(4.0, abs=0.05)
    assert [step.after for step in found.heading.steps] == pytest.approx([31, 28.43, 21.43], abs=0.005)


@pytest.mark.parametrize(
    ("distance", "ground", "minutes", "flow", "gallons"),
    [
        (220, 88, 150, 8.0, 20.0),  # NV-02, PHAK (from memory): 220 NM at 88 kt, 2.5 h; fuel by hand
        (210, 140, 90, 8.0, 12.0),  # NV-09, PHAK basic calculations (read): 1 h 30
        (210, 120, 105, 8.0, 14.0),  # NV-09: 120 kt for 1 h 45
        (270, 90, 180, 8.0, 24.0),  # NV-09: 270 NM in 3 h
        (53, 106, 30, 8.0, 4.0),  # FU-01, PHAK flight log
        (400, 100, 240, 5.0, 20.0),  # FU-06, PHAK basic calculations (from memory)
        (350, 100, 210, 95.0, 332.5),  # FU-02, 1940s text (read): 3.5 h at 95 gal/h, 330 by slide rule
        (145, 60, 145, 94.3, 228.0),  # FU-04, the same: 228 gal in 145 min are 94.3 gal/h
    ],
)
def test_time_and_fuel(distance: float, ground: float, minutes: float, flow: float, gallons: float) -> None:
    found = worked(leg(distance_nm=float(distance), airspeed_kt=ground, flow_galh=flow))[0]
    assert found.time.known == pytest.approx(minutes)
    assert found.fuel.known == pytest.approx(gallons, abs=0.15)


def test_legs_follow_one_another_and_add_up() -> None:
    """By hand: the second leg begins where the first ends, 50 NM east, so that back west is 50 NM too."""
    out, back = worked(leg(), leg(to="A", course_deg=None, distance_nm=None, position=HOME))
    assert back.distance.known == pytest.approx(50)
    assert back.course_deg == pytest.approx(270, abs=1)
    found = navigate(Route("A", HOME, (out.leg, back.leg), 2026.0))
    assert found.distance_nm == pytest.approx(100)
    assert found.minutes == pytest.approx(out.time.known + back.time.known) == pytest.approx(60)
    assert found.fuel_gal == pytest.approx(8.0)
    assert found.end == HOME


def test_a_magnetic_course_is_turned_by_the_variation() -> None:
    """By hand: 113 magnetic with 5 west is 108 true."""
    found = worked(leg(course_deg=113.0, course_magnetic=True, variation_deg=-5.0))[0]
    assert found.course_deg == pytest.approx(108)
    assert found.magnetic_course_deg == pytest.approx(113)
    assert found.heading.known == pytest.approx(113)


def test_variation_is_the_leg_s_own_then_the_route_s_then_the_model_s() -> None:
    own, route = worked(leg(variation_deg=3.0), leg(variation_deg=None), variation_deg=-4.0)
    assert (own.heading.known, route.heading.known) == pytest.approx((87, 94))
    model = worked(leg(variation_deg=None))[0]
    assert model.heading.known != pytest.approx(90, abs=1)
    assert "World Magnetic Model" in model.heading.steps[-1].source.text


def test_the_wind_between_two_levels_is_interpolated_by_components() -> None:
    """By hand: from 360 at 10 and from 090 at 10, half way: 5 north and 5 east, from 045 at 7.07 kt."""
    levels = (WindAloft(6000, 90, 10), WindAloft(3000, 360, 10))
    assert aloft(levels, 4500) == pytest.approx((4500, 45, 7.0711), abs=1e-4)
    assert aloft(levels, 6000) == levels[0]
    found = worked(leg(wind=None, altitude_ft=4500), winds=levels)[0]
    assert wind_said(found.wind) == "045° at 7\u00a0kt"
    assert len(found.ground_speed.steps) == 2
    assert wind_said(CALM) == "calm"


@pytest.mark.parametrize("height_ft", [2999, 6001])
def test_no_wind_is_taken_past_the_levels(height_ft: float) -> None:
    levels = (WindAloft(3000, 360, 10), WindAloft(6000, 90, 10))
    found = refusal(leg(wind=None, altitude_ft=height_ft), winds=levels)
    assert found.about == "altitude"
    assert "3,000 to 6,000 ft" in found.reason


def test_what_cannot_be_flown_is_refused_and_says_what_it_is_about() -> None:
    assert refusal(leg(wind=None)).about == "no wind"
    assert refusal(leg(position=HOME, course_deg=None, distance_nm=None)).about == "length"
    assert refusal(leg(wind=WindAloft(3000, 180, 120)), leg()).about == "wind"
    assert refusal(leg(variation_deg=None), leg(), year=2031.0).about == "year"


@pytest.mark.parametrize(
    ("course", "altitude", "keeps"),
    [
        # RG-08, 14 CFR 91.159(a): 0 to 179 odd thousands and 500 (read), 180 to 359 even (from memory)
        (0, 5500, True), (179, 5500, True), (180, 5500, False), (359, 5500, False),
        (0, 4500, False), (179, 4500, False), (180, 4500, True), (359, 4500, True),
        (90, 5000, False), (90, 3700, True), (90, 3701, False), (270, 18_000, True),
    ],
)  # fmt: skip
def test_the_cruising_altitude_rule(course: float, altitude: float, keeps: bool) -> None:
    """RG-08, over ground at 700 ft: the rule begins above 3,700 ft."""
    found = worked(leg(course_deg=float(course), altitude_ft=altitude))[0]
    assert keeps_cruising_rule(found, 700.0) is keeps


def circuits(minutes: float, flow: float, policy: Policy = NO_POLICY, **more: Any) -> FuelPlan:
    typed: dict[str, Any] = {"on_board_gal": 40.0, "taxi_gal": 0.0, "night": False}
    return plan(Fuel(**(typed | {"circuits_s": minutes * 60, "flow_galh": flow} | more)), None, policy)


@pytest.mark.parametrize(("night", "gallons", "reserve"), [(False, 25.0, 30), (True, 27.5, 45), (None, 27.5, 45)])
def test_the_reserve_of_the_rule(night: bool | None, gallons: float, reserve: float) -> None:
    """RG-01 and RG-02, 14 CFR 91.151(a) (read): 2 h at 10 gal/h, and 30 or 45 min; the longer if not said."""
    found = circuits(120, 10, night=night)
    assert found.need.known == pytest.approx(gallons)
    assert found.policy_need is found.need
    assert found.reserve_min == reserve
    assert ("is not said" in found.need.steps[-1].detail) is (night is None)
    assert sum(stage.fuel_gal for stage in found.stages) == pytest.approx(gallons)


def test_how_long_the_fuel_lasts() -> None:
    """FU-05, a worked problem (read): 90 L at 45 L/h are 120 min; 30 to be left, 20 flown: 70 remain."""
    found = circuits(20, 45 / L_PER_GAL, on_board_gal=90 / L_PER_GAL)
    assert found.endurance is not None
    assert found.down_by is not None
    assert found.endurance.known == pytest.approx(120)
    assert found.down_by.known == pytest.approx(20 + 70)
    # FU-03, 1940s text (read): 230 gal at 80 gal/h, 172.5 min
    other = circuits(20, 80, on_board_gal=230.0).endurance
    assert other is not None
    assert other.known == pytest.approx(172.5)


def test_the_policy_adds_a_margin_and_a_longer_reserve_and_never_shortens_the_rule_s() -> None:
    """By hand: 60 min at 10, 1 taxi, 30 min: 16; a tenth of 10 is 1, 30 min more are 5: 22."""
    whose = {"fuel_reserve_s": "club", "burn_margin": "club"}
    policy = Policy("club", fuel_reserve_s=3600, burn_margin=0.1, whose=whose)
    found = circuits(60, 10, policy, taxi_gal=1.0)
    assert (found.need.known, found.policy_need.known) == pytest.approx((16, 22))
    assert found.least_burn is not None
    assert found.most_burn is not None
    # nil at least: the first of the landings comes minutes after the takeoff
    assert (found.least_burn.known, found.most_burn.known) == pytest.approx((0, 11))
    assert found.past_reserve is not None
    assert found.past_reserve.known == pytest.approx(24 / 11 * 60)  # 40 less 16, at 11 gal/h
    short = circuits(60, 10, Policy("club", fuel_reserve_s=600, whose=whose), taxi_gal=1.0)
    assert short.policy_need is short.need
    assert short.need.known == pytest.approx(16)


def test_a_route_s_fuel_stage_by_stage() -> None:
    """By hand: 30 min at 8 is 4; taxi 1, climb 1.5, approach 0.5; 15 min to the alternate are 2; 30 min are 4."""
    navigation = navigate(Route("A", HOME, (leg(),), 2026.0))
    typed = Fuel(30.0, 1.0, 1.5, 0.5, Alternate("B", time_s=900), False)
    found = plan(typed, navigation, NO_POLICY)
    assert [stage.fuel_gal for stage in found.stages] == pytest.approx([1, 1.5, 4, 0.5, 2, 4])
    assert found.need.known == pytest.approx(13)
    assert found.least_burn is not None
    assert found.least_burn.known == pytest.approx(4)  # without the climb: the landing weight must not be too light
    assert found.down_by is not None
    assert found.down_by.known == pytest.approx(30 + 17 / 8 * 60)  # the way, and 17 gal over the need of 13
    by_fuel = plan(typed._replace(alternate=Alternate("B", fuel_gal=3.0)), navigation, NO_POLICY)
    assert by_fuel.need.known == pytest.approx(14)


def test_what_is_not_typed_is_not_taken_as_nil() -> None:
    nothing = plan(None, None, NO_POLICY)
    assert nothing.need.reason == "the trip file does not give 'route' and 'fuel'"
    assert nothing.have.reason == "the trip file does not give 'fuel: on_board'"
    navigation = navigate(Route("A", HOME, (leg(),), 2026.0))
    assert plan(Fuel(30.0), navigation, NO_POLICY).need.reason.endswith("'fuel: taxi' and 'fuel: climb'")
    assert plan(Fuel(30.0, 1.0, 1.0), None, NO_POLICY).need.reason.endswith("'route'")
    unknown = circuits(60, 10, on_board_gal=None)
    assert unknown.have.value is None
    assert unknown.need.known == pytest.approx(15)
    assert unknown.endurance is None


def test_a_leg_that_could_not_be_worked_leaves_the_fuel_not_shown() -> None:
    navigation = navigate(Route("A", HOME, (leg(wind=WindAloft(3000, 90, 120)),), 2026.0))
    found = plan(Fuel(30.0, 1.0, 1.0), navigation, NO_POLICY)
    assert "no speed over the ground" in found.need.reason
    assert found.stages == ()

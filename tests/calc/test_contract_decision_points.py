"""Go-around point and abort point: the lines of the design's 'How the figures are defined'.

Each test names its line. Source of the expected numbers: computed by hand from that line on one-number tables
(takeoff 800/1500, landing 600/1200, x 1.2 and x 1.4, aim 100, float 150, 300 flaps up), at sea level in standard
air, so that true airspeed is indicated airspeed; or the published value named beside them.
"""

from __future__ import annotations

import pytest
from small_models import CALM, INVENTED, TOUCHDOWN, aircraft, chart, conditions, have, note, place, policy

from briefgen.calc.climb_out import NO_FIGURES
from briefgen.calc.decision import TOO_FAR, Abort, GoAround, abort, go_around
from briefgen.calc.distance import Scene
from briefgen.calc.landing import set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.runway import Have, Seen
from briefgen.calc.takeoff import takeoff
from briefgen.calc.wind import RunwayWind
from briefgen.figures import missing
from briefgen.model.aircraft import Aircraft
from briefgen.model.policy import Braking, Policy, Touchdown
from briefgen.model.weather import Conditions

CONES = tuple(Seen(f"cone {n}", 200.0 * n, 200.0 * n) for n in range(1, 15))
BRAKING = (Braking("paved", False, 0.3, INVENTED), Braking("grass", True, 0.1, INVENTED))


def point(
    there: Have, rules: Policy | None = None, touchdown: Touchdown | None = TOUCHDOWN, *, climbs: bool = True
) -> GoAround:
    """Return the go-around point of the landing as planned, with a cone each 200 ft."""
    rules, scene = rules or policy(), place(there=there)
    plan = LandingPlan(aircraft(), 2400.0, rules, touchdown)
    planned, _ = set_up(plan, CALM, "30").work(plan, scene)
    return go_around(planned, scene, rules, touchdown, CONES, climbs)


# An airplane whose handbook prints that a tailwind costs nothing: so that only the speeds depend on it.
INDIFFERENT = aircraft(takeoff=(chart("takeoff", "10", 800.0, 1500.0, (note("tailwind", 0.0, per=2.0),)),))


def aborted(scene: Scene | None = None, rules: Policy | None = None, plane: Aircraft | None = None) -> Abort:
    scene, rules = scene or place(), rules or policy()
    return abort(takeoff(plane or aircraft(), scene, "10", 2400.0, rules), scene, rules, CONES)


# Line: 'the lesser of LDA - F x ground roll and the policy's last-touchdown share of LDA (first third by default)'
def test_the_go_around_point_is_the_lesser_of_what_leaves_the_roll_and_the_first_third() -> None:
    assert point(have(lda=3000.0)).point.known == pytest.approx(1000)  # 3000 - 840 = 2160 is farther
    assert point(have(lda=1200.0)).point.known == pytest.approx(360)  # 1200 - 840; a third is 400
    assert point(have(lda=3000.0), policy(last_touchdown_share=0.25)).point.known == pytest.approx(750)


# Published: last touchdown in the first third, AFH FAA-H-8083-3C p. 9-32 (check values G-11, read; G-19, computed):
# table of 445/1075 on 2000 ft: LDA - roll 1555 ft unfactored, 1363.7 ft with the roll x 1.43; first third 666.7 ft.
def test_the_published_go_around_arithmetic() -> None:
    rules = policy(landing_factor=policy().landing_factor._replace(value=1.43))  # type: ignore[union-attr]
    plane = aircraft(landing=(chart(roll=445.0, total=1075.0),))
    plan = LandingPlan(plane, 2400.0, rules, TOUCHDOWN)
    scene = place(there=have(lda=2000.0))
    planned, _ = set_up(plan, CALM, "30").work(plan, scene)
    found = go_around(planned, scene, rules, TOUCHDOWN, CONES, True).point
    assert found.steps[0].after == pytest.approx(1363.7, abs=0.05)
    assert found.known == pytest.approx(666.7, abs=0.05)


# Line: 'Before the touchdown allowance: print none: the planned touchdown is already too far, never a negative.'
def test_a_go_around_point_before_the_planned_touchdown_is_none_and_never_a_negative() -> None:
    for lda in (740.0, 800.0, 1000.0):  # - 100, -40, 160: all before the allowance of 250
        found = point(have(lda=lda))
        assert (found.point.value, found.point.reason) == (None, TOO_FAR)
        assert (found.mark, found.window_ft) == (None, None)
    assert TOO_FAR == "none: the planned touchdown is already too far"


# Line: 'No mark between aim point and limit: no mark.'
def test_only_a_mark_between_the_aim_point_and_the_limit_is_a_mark_to_go_by() -> None:
    found = point(have(lda=3000.0))
    assert found.mark is not None
    assert (found.mark.name, found.window_ft) == ("cone 5", 900.0)  # cone 5 stands on the limit of 1000 itself
    far_aim = Touchdown(210.0, 40.0, 100.0, 200.0, INVENTED)
    found = point(have(lda=1200.0), None, far_aim)  # limit 360; cones at 200 and 400
    assert found.mark is None
    assert found.window_ft == pytest.approx(150)  # to the limit itself


def test_an_approach_obstacle_moves_the_aim_point_and_the_planned_touchdown_up_the_runway() -> None:
    found = point(have(lda=2400.0, begins_ft=600.0))
    assert (found.point.value, found.point.reason) == (None, TOO_FAR)  # touchdown at 850, a third of 2400 is 800
    found = point(have(lda=2400.0, begins_ft=500.0))
    assert found.point.known == pytest.approx(800)
    assert found.mark is not None
    assert found.mark.from_threshold_ft == 800  # the aim point is 500 + 100
    assert found.window_ft == pytest.approx(200)
    half = policy(last_touchdown_share=0.5)
    assert point(have(lda=1300.0, begins_ft=150.0), half).point.known == pytest.approx(610)  # 150 + 1300 - 840


# Line: 'Beside it: climb-out after a go-around worked, not shown, or the strip says none (strips can be one-way).'
def test_beside_the_go_around_point_stands_what_is_known_of_the_climb_out() -> None:
    assert point(have()).climb_out == f"not shown: {NO_FIGURES}"
    assert point(have(), climbs=False).climb_out == "none: the strip says so"


def test_what_the_go_around_point_lacks_is_its_reason() -> None:
    found = point(have(lda=missing("LDA", "ft", "no LDA")))
    assert (found.point.reason, found.zone_ft) == ("no LDA", 200.0)
    found = point(have(), touchdown=None)
    assert found.point.reason.startswith("no touchdown figures")
    assert found.zone_ft is None


# Line: 'Latest liftoff = TORA less the air distance to 50 ft; the check point is half of that.'
def test_the_check_point_is_half_of_TORA_less_the_air_distance() -> None:
    found = aborted()
    assert found.latest_liftoff.known == 2300  # 3000 - (1500 - 800)
    assert found.point.known == 1150
    assert found.mark is not None
    assert found.mark.name == "cone 5"  # the last one passed


# Line: 'IAS = headwind + 0.71 x (liftoff speed - headwind), with a tailwind 0.71 x liftoff speed'
# Published: 70 % of liftoff speed half-way, AIM runway half-way signs (check value G-17, second-hand).
def test_the_speed_to_see_half_way_counts_the_headwind_and_not_a_tailwind() -> None:
    assert aborted().speed.known == pytest.approx(35.5)
    assert aborted(place(wind=RunwayWind(10.0, 0.0, 0.0, ""))).speed.known == pytest.approx(38.4)  # 10 + 0.71 x 40
    assert aborted(place(wind=RunwayWind(0.0, 10.0, 0.0, "")), None, INDIFFERENT).speed.known == pytest.approx(35.5)


# Line: 'Last stopping point: accelerate, a stated reaction time, stop on this surface'
def test_stopping_from_the_last_stopping_point_takes_exactly_the_runway() -> None:
    rules = policy(reaction_s=3.0, braking=BRAKING)
    found = aborted(rules=rules)
    x = found.stopping.known
    # by hand: 50 kt = 84.390 ft/s at 800 ft, so 2.98364 ft/s per root ft; then 3 s, then 0.3 g = 9.65222 ft/s2
    speed = 84.390 * (x / 800) ** 0.5
    assert x + 3 * speed + speed**2 / (2 * 9.65222) == pytest.approx(3000, abs=0.5)


# Line: 'Print the earlier, with its own speed; an estimate, with assumptions.'
def test_the_earlier_of_the_two_points_is_the_abort_point_with_its_own_speed() -> None:
    poor = (Braking("paved", False, 0.03, INVENTED),)
    rules = policy(reaction_s=3.0, braking=poor)
    found = aborted(rules=rules, plane=INDIFFERENT)
    assert found.point.known == found.stopping.known < 1150
    assert found.speed.known == pytest.approx(50 * (found.stopping.known / 800) ** 0.5)
    assert found.point.estimate
    assert "3 s before braking" in found.assumptions
    better = aborted(rules=policy(reaction_s=3.0, braking=BRAKING))
    assert better.point.known == 1150 < better.stopping.known
    assert better.speed.known == pytest.approx(35.5)


# Line: 'not shown with no braking figure'
@pytest.mark.parametrize(
    ("rules", "air", "reason"),
    [
        (policy(reaction_s=3.0), conditions(), "no braking figure for this surface"),
        (policy(braking=BRAKING), conditions(), "no reaction time in the policy"),
        (policy(reaction_s=3.0, braking=BRAKING), conditions(surface="wet"), "no braking figure for this surface"),
        (policy(reaction_s=3.0, braking=BRAKING), conditions(soft=True), "no braking figure for this surface"),
        (policy(reaction_s=3.0, braking=BRAKING), conditions(surface="snow"), "no braking figure for this surface"),
    ],
)
def test_without_a_braking_figure_the_last_stopping_point_is_not_shown(
    rules: Policy, air: Conditions, reason: str
) -> None:
    found = aborted(place(air=air), rules)
    assert (found.stopping.value, found.stopping.reason) == (None, reason)


def test_without_a_liftoff_speed_there_is_neither_abort_point_nor_stopping_point() -> None:
    found = aborted(rules=policy(reaction_s=3.0, braking=BRAKING), plane=aircraft(liftoff=()))
    assert found.point.reason == found.stopping.reason == "the aircraft file gives no such speed"
    assert (found.speed.value, found.mark, found.assumptions) == (None, None, ())


def test_without_a_takeoff_distance_there_is_no_latest_liftoff() -> None:
    found = aborted(plane=aircraft(takeoff=()))
    assert found.latest_liftoff.reason == found.point.reason
    assert found.point.reason == "the aircraft file has no takeoff table for flaps 10"


def test_a_climb_to_50_ft_longer_than_TORA_leaves_no_latest_liftoff() -> None:
    found = aborted(place(there=have(tora=650.0)))  # the air distance alone is 700
    assert found.latest_liftoff.value is None
    assert found.latest_liftoff.reason == "none: the climb to 50 ft alone is longer than TORA"


def test_no_mark_is_named_where_none_is_passed_before_the_abort_point() -> None:
    assert aborted(place(there=have(tora=1000.0))).mark is None  # half of 300 ft is before the first cone

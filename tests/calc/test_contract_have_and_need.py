"""What there is, what is needed, the flaps-up case: the lines of the design's 'How the figures are defined'.

Each test names its line. Source of the expected numbers: computed by hand from that line on one-number tables
(takeoff 800/1500, landing 600/1200, x 1.2 and x 1.4, aim 100, float 150, 300 flaps up), unless said beside them.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from small_models import (
    CALM,
    INVENTED,
    TOUCHDOWN,
    aircraft,
    chart,
    have,
    note,
    place,
    policy,
    speed_of,
    use,
)

from briefgen.calc.landing import Landing, partial, set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.runway import available, marks
from briefgen.calc.takeoff import takeoff
from briefgen.calc.wind import RunwayWind
from briefgen.model.aircraft import Aircraft
from briefgen.model.layers import longer
from briefgen.model.policy import NO_POLICY, Policy, Touchdown
from briefgen.model.strip import End, Mark, Obstacle
from briefgen.model.weather import Wind
from briefgen.pipeline import check


def end(ident: str = "09", **more: object) -> End:
    return End(ident, 90.0, 0.0, **more)  # type: ignore[arg-type]


def landings(
    plane: Aircraft | None = None, flaps: str = "30", wind: Wind = CALM, **more: object
) -> tuple[Landing, Landing]:
    """Return the landing as planned and the one with the flaps up, on a level runway in still standard air."""
    rules = more.pop("rules", policy())
    assert isinstance(rules, Policy)
    scene = more.pop("scene", place())
    plan = LandingPlan(plane or aircraft(), 2400.0, rules, more.pop("touchdown", TOUCHDOWN), **more)  # type: ignore[arg-type]
    return set_up(plan, wind, flaps).work(plan, scene)  # type: ignore[arg-type]


# Line: 'Have. Ground roll: TORA.'
def test_have_for_the_ground_roll_is_TORA_or_the_length_where_none_is_declared() -> None:
    assert available(use(end(tora_ft=2800.0), end("27")), policy()).tora.known == 2800
    assert available(use(end(), end("27")), policy()).tora.known == 3000


# Line: 'Over 50 ft: TODA where declared, else TORA.'
def test_have_to_50_ft_is_TODA_where_declared_else_TORA() -> None:
    assert available(use(end(tora_ft=2800.0, toda_ft=3200.0), end("27")), policy()).over_50.known == 3200
    assert available(use(end(tora_ft=2800.0), end("27")), policy()).over_50.known == 2800


# Line: 'Landing: LDA, else length less the displaced threshold'
def test_have_for_landing_is_LDA_else_length_less_the_displaced_threshold() -> None:
    assert available(use(end(displaced_ft=250.0, lda_ft=2600.0), end("27")), policy()).lda.known == 2600
    assert available(use(end(displaced_ft=250.0), end("27")), policy()).lda.known == 2750


# Line: 'an approach obstacle that puts the 50-ft point inside the threshold shortens it'
def test_the_farthest_of_several_approach_obstacles_shortens_the_landing_distance() -> None:
    # over the mast: (100 - 50) / tan 3 = 954.06 (check value G-1: 954.1 for 50 ft at 3 degrees), less 300 = 654.06;
    # over the shed: (60 - 50) / tan 3 = 190.81 (G-2: 190.8), less 100 = 90.81
    both = (Obstacle("mast", 100.0, 300.0), Obstacle("shed", 60.0, 100.0))
    there = available(use(end(obstacles=both), end("27")), policy(approach_angle_deg=3.0))
    assert there.begins_ft == pytest.approx(654.06, abs=0.05)
    assert there.lda.known == pytest.approx(2345.94, abs=0.05)


def test_nothing_is_left_of_the_landing_distance_behind_a_tall_enough_obstacle() -> None:
    # (250 - 50) / tan 3 = 3816 ft past the threshold of a 3000-ft runway
    tall = (Obstacle("mast", 250.0, 0.0),)
    there = available(use(end(obstacles=tall), end("27")), policy(approach_angle_deg=3.0))
    assert there.lda.value is None
    assert there.lda.reason == "nothing is left of the landing distance behind the approach obstacle"


# Line: 'An obstacle that is given but not worked makes its item not shown.'
def test_an_approach_obstacle_that_cannot_be_worked_leaves_LDA_missing() -> None:
    there = available(use(end(obstacles=(Obstacle("mast", 60.0, 100.0),)), end("27")), policy())
    assert there.lda.value is None


def test_an_obstacle_of_at_most_50_ft_past_the_end_limits_where_50_ft_must_be_reached() -> None:
    far = end("27", obstacles=(Obstacle("fence", 20.0, 50.0), Obstacle("wall", 50.0, 400.0)))
    assert available(use(end(toda_ft=3300.0), far), policy()).over_50.known == 3050


# Line of 'Words': 'the last mark that the pilot can see before it'; a mark abeam the threshold is not past it
def test_a_mark_abeam_the_threshold_is_not_counted_and_one_at_the_far_end_is() -> None:
    near = end(displaced_ft=200.0)
    runway = use(near, end("27"))
    posts = (Mark("gate", 0.0, "09"), Mark("post", 400.0, "09", True), Mark("far post", 2800.0, "09"))
    there = runway._replace(runway=runway.runway._replace(marks=posts))
    assert [mark.name for mark in marks(there, for_landing=True)] == ["1st post", "far post"]
    assert [mark.from_start_ft for mark in marks(there, for_landing=False)] == [200, 600, 3000]


# Line: 'Landing need = the longer of (a) the handbook's distance from 50 ft and (b) touchdown allowance + roll'
def test_landing_need_is_the_longer_of_the_distance_from_50_ft_and_allowance_plus_roll() -> None:
    planned, _ = landings()
    assert planned.need.known == 1200  # 250 + 600 = 850 is less
    longer_float = TOUCHDOWN._replace(float_ft=650.0)
    planned, _ = landings(touchdown=longer_float)
    assert planned.need.known == 1350  # 100 + 650 + 600


# Line: 'the factor multiplies handbook feet, never the pilot's own allowance'
def test_policy_need_multiplies_handbook_feet_and_never_the_allowance() -> None:
    assert landings()[0].policy_need.known == pytest.approx(1680)  # 1.4 x 1200
    planned, _ = landings(touchdown=TOUCHDOWN._replace(float_ft=1000.0))
    assert planned.policy_need.known == pytest.approx(1940)  # 1100 + 1.4 x 600


def test_without_a_factor_the_policy_need_is_the_need() -> None:
    planned, _ = landings(rules=NO_POLICY)
    assert (planned.need.known, planned.policy_need.known) == (1200, 1200)


# Line: 'The handbook's flaps-up note where there is one'
def test_a_flaps_up_note_for_both_distances_gives_both() -> None:
    both = note("flaps up", 0.5, extra_speed_kt=9.0)
    _, up = landings(aircraft(landing=(chart(notes=(both,)),)))
    assert (up.roll.known, up.total.known, up.need.known) == (900, 1800, 1800)
    assert up.approach.known == 69  # 60 + the note's 9
    assert not up.need.estimate


# Line: 'without a flaps-up distance from 50 ft, that figure is not shown and the need is the longest of ...'
def test_a_flaps_up_note_for_the_roll_alone_makes_the_need_an_estimate() -> None:
    roll_only = note("flaps up", 0.35, changes=("roll",), of="value so far")
    plane = aircraft(landing=(chart(notes=(roll_only,)),))
    _, up = landings(plane)
    assert up.total.reason == "the handbook's flaps-up note gives no distance from 50 ft"
    assert up.need.estimate
    assert up.need.known == pytest.approx(1410)  # planned air 1200 - 600, + 810; 400 + 810 and 1200 are less
    _, up = landings(plane, touchdown=TOUCHDOWN._replace(flaps_up_float_ft=700.0))
    assert up.need.known == pytest.approx(1610)  # the float case: 100 + 700 + 810


# Common practice, no source: ground roll 630 ft, + 35 % with flaps up = 850.5; 400 ft of allowance make 1250.5.
def test_the_trade_s_own_example_of_a_flaps_up_landing() -> None:
    roll_only = note("flaps up", 0.35, changes=("roll",), of="value so far", extra_speed_kt=9.0)
    plane = aircraft(landing=(chart(roll=630.0, total=700.0, notes=(roll_only,)),))
    planned, up = landings(plane, touchdown=Touchdown(0, 200, 400, 200, INVENTED))
    assert (planned.need.known, up.roll.known, up.need.known) == (830, 850.5, 1250.5)


# Line: 'Always at least as long as planned.'
def test_the_flaps_up_case_is_never_shorter_than_the_landing_as_planned() -> None:
    short_up = chart(flaps="up", roll=500.0, total=900.0)  # a table that prints less with the flaps up
    planned, up = landings(aircraft(landing=(chart(), short_up), approach=(speed_of("30", 60.0),)))
    assert (planned.need.known, up.need.known, up.policy_need.known) == (1200, 1200, pytest.approx(1680))


def test_the_flaps_up_case_is_never_shorter_than_planned_where_the_note_is_from_another_table() -> None:
    twenty = chart(flaps="20", roll=900.0, total=2000.0)
    thirty = chart(notes=(note("flaps up", 0.35, changes=("roll",), of="value so far"),))
    planned, up = landings(aircraft(landing=(twenty, thirty)), flaps="20")
    assert planned.need.known == 2000
    assert up.roll.known == pytest.approx(810)  # the note's own table: 600 x 1.35
    assert up.need.known == 2000  # planned air 1100 + 810 = 1910 is less than planned
    assert up.policy_need.known == pytest.approx(2800)


# Line: 'A partial setting without data takes the flaps-up distance and the flaps-up speed together.'
def test_a_partial_setting_without_data_takes_flaps_up_distance_and_speed_together() -> None:
    plane = aircraft(landing=(chart(notes=(note("flaps up", 0.5, extra_speed_kt=9.0),)),))
    plan = LandingPlan(plane, 2400.0, policy(), TOUCHDOWN)
    _, up = set_up(plan, CALM, "30").work(plan, place())
    half = partial(plan, place(), "20", up)
    assert (half.name, half.flaps, half.need.known, half.approach.known) == ("partial flaps", "20", 1800, 69)


def test_a_partial_setting_with_its_own_table_is_worked_from_that() -> None:
    plane = aircraft(landing=(chart(), chart(flaps="20", roll=700.0, total=1300.0)))
    plan = LandingPlan(plane, 2400.0, policy(), TOUCHDOWN)
    _, up = set_up(plan, CALM, "30").work(plan, place())
    assert partial(plan, place(), "20", up).need.known == 1300


def test_a_planned_setting_without_a_table_takes_flaps_up_distance_and_speed_together() -> None:
    noted = aircraft(landing=(chart(notes=(note("flaps up", 0.5, extra_speed_kt=9.0),)),))
    for plane in (noted, aircraft(landing=(chart(flaps="up", roll=900.0, total=1800.0),))):
        plan = LandingPlan(plane, 2400.0, policy(), TOUCHDOWN)
        cases = set_up(plan, CALM, "20")
        planned, up = cases.work(plan, place())
        assert (planned.name, planned.flaps, planned.need.known) == ("as planned", "20", up.need.known)
        assert up.need.known == 1800
        assert cases.work_planned(plan, place()).need.known == 1800


def test_without_a_flaps_up_table_or_note_the_flaps_up_case_is_not_shown() -> None:
    planned, up = landings()
    assert planned.need.known == 1200
    assert up.need.value is None
    assert up.need.reason == "the handbook gives neither a flaps-up table nor a flaps-up note"


def test_the_flaps_up_case_is_not_shown_where_the_landing_as_planned_is_not() -> None:
    plane = aircraft(landing=(chart(roll=1300.0), chart(flaps="up")))  # a roll longer than its total: not checked
    planned, up = landings(plane)
    assert planned.need.value is None
    assert up.need.reason.startswith("the landing as planned is not worked: the cell at ")


# Line: 'Nothing stands in for a takeoff or climb flap setting.'
def test_nothing_stands_in_for_a_takeoff_flap_setting() -> None:
    worked = takeoff(aircraft(), place(), "20", 2400.0, policy())
    assert worked.total.value is None
    assert worked.total.reason == "the aircraft file has no takeoff table for flaps 20"
    assert worked.policy_roll.value is None


def test_takeoff_is_worked_without_a_liftoff_speed_but_then_without_headwind_credit() -> None:
    credit = note("headwind", -0.1, per=9.0, up_to=27.0)
    plane = aircraft(takeoff=(chart("takeoff", "10", 800.0, 1500.0, (credit,)),), liftoff=())
    scene = place(wind=RunwayWind(18.0, 0.0, 0.0, ""))
    assert takeoff(plane, scene, "10", 2400.0, policy()).total.known == 1500  # no speed: the square law allows none
    assert takeoff(aircraft(takeoff=plane.takeoff), scene, "10", 2400.0, policy()).total.known == 1200


# Line of 'Words': touchdown allowance = 'aim point plus flare and float; the float part is larger with flaps up'
def test_the_touchdown_allowance_is_aim_plus_float_and_larger_with_flaps_up() -> None:
    both = aircraft(landing=(chart(notes=(note("flaps up", 0.5, extra_speed_kt=9.0),)),))
    planned, up = landings(both)
    assert (planned.allowance.known, up.allowance.known) == (250, 400)


def test_without_touchdown_figures_the_landing_is_not_shown() -> None:
    planned, _ = landings(touchdown=None)
    assert planned.need.reason == "no touchdown figures (aim point and float) in the policy or the trip"


def test_the_longer_of_the_policy_s_and_the_pilot_s_touchdown_figures_is_taken_one_by_one() -> None:
    pilot = Touchdown(80, 200, 250, 220, INVENTED)
    both = longer(TOUCHDOWN, pilot)
    assert both is not None
    assert both[:4] == (100, 200, 300, 220)
    assert longer(None, pilot) is pilot
    assert longer(TOUCHDOWN, None) is TOUCHDOWN
    assert longer(None, None) is None


# Line: 'lengthens the need as a step: (planned / table ground speed) squared'
def test_added_approach_speed_costs_the_square_of_the_ground_speeds() -> None:
    planned, _ = landings(extra_speed_kt=6.0)
    assert planned.total.known == pytest.approx(1200 * 1.1**2)  # check value LS-2: +10 % speed, at least +21 %
    assert planned.speed_cost_ft == pytest.approx(1200 * 0.21)  # of the need, which the distance from 50 ft governs
    # with a tailwind of 10 kt and a note of nil for it: (66 + 10) / (60 + 10)
    free = chart(notes=(note("tailwind", 0.0, per=2.0),))
    scene = place(wind=RunwayWind(0.0, 10.0, 0.0, ""))
    planned, _ = landings(aircraft(landing=(free,)), extra_speed_kt=6.0, scene=scene)
    assert planned.total.known == pytest.approx(1200 * (76 / 70) ** 2)


def test_a_headwind_without_a_note_counts_nothing_in_the_ground_speed_either() -> None:
    scene = place(wind=RunwayWind(10.0, 0.0, 0.0, ""))
    planned, _ = landings(extra_speed_kt=6.0, scene=scene)
    assert planned.total.known == pytest.approx(1200 * 1.21)


# Line: 'a flaps-up note's own speed increase is already in its percentage'
def test_the_speed_that_a_flaps_up_note_brings_is_not_charged_again() -> None:
    plane = aircraft(landing=(chart(notes=(note("flaps up", 0.5, extra_speed_kt=9.0),)),))
    _, up = landings(plane)
    assert (up.approach.known, up.total.known) == (69, 1800)
    _, up = landings(plane, extra_speed_kt=6.9)
    assert up.total.known == pytest.approx(1800 * 1.21)  # 75.9 on 69


# Line: 'Approach speed is not lowered for weight unless the handbook does.'
def test_approach_speed_is_not_lowered_for_weight_unless_the_handbook_prints_it() -> None:
    plan = LandingPlan(aircraft(), 1500.0, policy(), TOUCHDOWN)
    assert set_up(plan, CALM, "30").work(plan, place())[0].approach.known == 60


def test_speed_added_to_an_approach_speed_that_is_not_known_leaves_the_landing_not_shown() -> None:
    plane = aircraft(approach=())
    assert landings(plane)[0].need.known == 1200  # nothing added: the table stands as it is
    planned, _ = landings(plane, extra_speed_kt=5.0)
    assert planned.need.reason == "no approach speed for flaps 30, so what the added speed costs cannot be worked"


def test_a_flaps_up_speed_is_the_printed_one_before_the_note_s_and_missing_where_there_is_neither() -> None:
    plain = note("flaps up", 0.5)
    printed = aircraft(landing=(chart(notes=(plain,)),), approach=(speed_of("30", 60.0), speed_of("up", 71.0)))
    assert landings(printed)[1].approach.known == 71
    _, up = landings(aircraft(landing=(chart(notes=(plain,)),)))
    assert up.approach.reason == "the handbook gives no approach speed for flaps up"
    assert up.need.known == 1800


def test_a_headwind_as_fast_as_the_approach_leaves_the_landing_not_shown() -> None:
    table = chart(notes=(note("headwind", -0.1, per=9.0),))
    scene = place(wind=RunwayWind(63.0, 0.0, 0.0, ""))
    planned, _ = landings(aircraft(landing=(table,)), extra_speed_kt=5.0, scene=scene)
    assert planned.need.reason == "the headwind is as fast as the approach"


def test_a_table_that_is_already_factored_is_never_factored_twice() -> None:
    table = chart(factored=True)
    planned, _ = landings(aircraft(landing=(table,)))
    assert planned.policy_need.known == 1200
    assert (table.conditions.factor_words, chart().conditions.factor_words) == ("yes, how large is not known", "no")


def test_of_a_larger_policy_factor_only_what_the_table_lacks_is_applied() -> None:
    """By hand: 1.4 asked for, 1.25 in the table: 1200 x 1.4 / 1.25 = 1344; a table with 1.5 in it is left alone."""
    table = chart(factored=True, factor_inside=1.25)
    some, _ = landings(aircraft(landing=(table,)))
    assert table.conditions.factor_words == "yes, by 1.25"
    assert some.need.known == 1200
    assert some.policy_need.known == pytest.approx(1344)
    assert "of which 1.25 is in the table already" in str(list(some.policy_need.steps))
    more, _ = landings(aircraft(landing=(chart(factored=True, factor_inside=1.5),)))
    assert more.policy_need.known == 1200


def test_a_missing_LDA_does_not_hide_the_need() -> None:
    none = have()._replace(lda=have().lda._replace(value=None, reason="not known"))
    assert landings(scene=place(there=none))[0].need.known == 1200


# Line: 'Landing back at the departure at takeoff weight is worked too', but not where the strip forbids it
def test_landing_back_on_a_runway_that_is_for_takeoff_only_is_not_shown(example: Path, tmp_path: Path) -> None:
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    strip = club / "strips" / "quillmere.yaml"
    text = strip.read_text(encoding="utf-8")
    strip.write_text(text.replace('ident: "17"', 'ident: "17"\n        use: takeoff only'), encoding="utf-8")
    back = next(item for item in check(club / "trip.yaml", "trip.yaml") if item.id == "landing-back")
    assert (back.state.value, back.need) == ("not shown", None)
    assert back.reason == "the strip file does not allow a landing on runway 17"

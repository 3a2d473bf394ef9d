"""The flaps-up case is never the better one, and no decision point gives away what the policy keeps back."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from modelled import (
    airplane,
    alongs,
    forms,
    heights,
    land,
    multiples,
    pairs,
    place,
    policy,
    quick,
    surfaces,
    temperatures,
    touchdown,
    weights,
)

from briefgen.calc.decision import TOO_FAR, go_around
from briefgen.calc.landing import Landing, partial
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.runway import Seen

NEAR = 1e-6
floats_ft = st.tuples(st.floats(0.0, 400.0), st.floats(0.0, 400.0), st.floats(0.0, 400.0)).map(
    lambda each: touchdown(each[0], *sorted(each[1:]))
)


@st.composite
def landings(draw: st.DrawFn) -> tuple[Landing, Landing]:
    """Return a landing as planned and with the flaps up, from any of the three forms of data."""
    surface, wet, soft = draw(surfaces)
    there = place(
        draw(heights),
        draw(temperatures),
        draw(alongs),
        gusting_kt=draw(st.sampled_from([0.0, 5.0, 11.0])),
        surface=surface,
        wet=wet,
        soft=soft,
        slope=draw(st.floats(-0.02, 0.02)),
    )
    rules = policy(draw(multiples), pro_rata_credit=draw(st.booleans()))
    return land(
        there,
        draw(weights),
        rules,
        of=airplane(draw(forms)),
        down=draw(floats_ft),
        extra_kt=draw(st.sampled_from([0.0, 5.0, 15.0])),
    )


@quick
@given(landings())
def test_the_flaps_up_need_is_never_under_the_planned_one(both: tuple[Landing, Landing]) -> None:
    planned, up = both
    assert up.need.known >= planned.need.known - NEAR
    assert up.policy_need.known >= planned.policy_need.known - NEAR


@quick
@given(landings())
def test_each_need_is_the_longest_of_what_it_must_cover_and_the_policy_need_is_not_under_it(
    both: tuple[Landing, Landing],
) -> None:
    for case in both:
        assert case.factor is not None
        multiple = case.factor.value
        assert case.need.known >= case.allowance.known + case.roll.known - NEAR
        assert case.policy_need.known >= case.allowance.known + multiple * case.roll.known - NEAR
        assert case.policy_need.known >= case.need.known - NEAR
        if case.total.value is not None:
            assert case.need.known >= case.total.known - NEAR
            assert case.policy_need.known >= multiple * case.total.known - NEAR
    planned, _ = both
    assert planned.need.known in (planned.total.known, planned.allowance.known + planned.roll.known)


@quick
@given(landings())
def test_without_a_flaps_up_distance_from_50_ft_the_need_is_an_estimate_that_keeps_the_air_distance(
    both: tuple[Landing, Landing],
) -> None:
    planned, up = both
    assert up.need.estimate == (up.total.value is None)
    if up.need.estimate:
        air = planned.total.known - planned.roll.known
        assert up.need.known >= air + up.roll.known - NEAR


@quick
@given(forms, heights, temperatures, weights, alongs, st.sampled_from(["10", "20"]))
def test_a_partial_setting_without_data_takes_the_flaps_up_distance_and_speed_together(
    form: str, height_ft: float, degC: float, weight_lb: float, along_kt: float, flaps: str
) -> None:
    there, rules = place(height_ft, degC, along_kt), policy()
    _, up = land(there, weight_lb, rules, of=airplane(form))
    plan = LandingPlan(airplane(form), weight_lb, rules, touchdown())
    part = partial(plan, there, flaps, up)
    assert part.flaps == flaps
    for name in ("need", "policy_need", "roll", "approach", "allowance"):
        assert getattr(part, name).value == getattr(up, name).value is not None


@quick
@given(landings(), st.floats(300.0, 4000.0), st.sampled_from([None, 0.5, 0.9]))
def test_the_go_around_point_leaves_the_policys_ground_roll_and_its_share_of_the_runway(
    both: tuple[Landing, Landing], lda_ft: float, share: float | None
) -> None:
    rules = policy() if share is None else policy(last_touchdown_share=share)
    there = place(0.0, 15.0, 0.0, length_ft=lda_ft)
    seen = [Seen(f"mark {feet:.0f}", feet, feet) for feet in range(50, 4000, 150)]
    for case in both:
        assert case.factor is not None
        aim = touchdown(80.0)
        found = go_around(case, there, rules, aim, seen, True)
        if found.point.value is None:
            assert found.point.reason == TOO_FAR
            leaves = lda_ft - case.factor.value * case.roll.known
            assert min(leaves, (share or 1 / 3) * lda_ft) < case.allowance.known
            continue
        point = found.point.known
        assert point + case.factor.value * case.roll.known <= lda_ft + NEAR
        assert point <= (share or 1 / 3) * lda_ft + NEAR
        assert point >= case.allowance.known
        if found.mark:
            assert aim.aim_ft <= found.mark.from_threshold_ft <= point
            assert found.window_ft == found.mark.from_threshold_ft - aim.aim_ft
        else:
            assert not [mark for mark in seen if aim.aim_ft <= mark.from_threshold_ft <= point]


@quick
@given(landings(), pairs(st.floats(300.0, 4000.0)))
def test_a_shorter_runway_never_puts_the_go_around_point_further_in(
    both: tuple[Landing, Landing], two: list[float]
) -> None:
    for case in both:
        short, long = (
            go_around(case, place(0.0, 15.0, 0.0, length_ft=feet), policy(), touchdown(), (), True).point.value
            for feet in two
        )
        assert short is None or (long is not None and short <= long + NEAR)

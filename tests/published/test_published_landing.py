"""A published landing table, its notes, and the problems worked from it come out of the tool as printed.

Source: PHAK FAA-H-8083-25C ch. 11, Fig. 11-32 (= FAA-CT-8080-2H Fig. 38), a two-seat trainer at 1,600 lb with 40 of
flaps, each row at its own standard temperature. Totals and notes are read; the ground rolls of 445, 470 and 495 ft
are second-hand; the ground roll of 520 ft and the approach speed of 60 mph are from memory.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest
from printed import CALM, FIG_11_32, factor, headwind, place, read_airplane, touchdown

from briefgen.calc.atmosphere import standard_temperature
from briefgen.calc.decision import HALF_WAY, TOO_FAR, GoAround, go_around
from briefgen.calc.landing import Landing, set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.item import State, item
from briefgen.model.aircraft import Aircraft
from briefgen.model.policy import NO_POLICY, Policy, Touchdown
from briefgen.model.weather import Wind

# read totals; second-hand ground rolls but for 520, which is from memory
FIG_11_32_ROWS = {0: (445, 1075), 2500: (470, 1135), 5000: (495, 1195), 7500: (520, 1255)}
AT_ONCE = touchdown(0)


@cache
def airplane() -> Aircraft:
    """Return the airplane of the figure."""
    return read_airplane(FIG_11_32 / "aircraft.yaml")


def work(
    height_ft: float,
    wind: Wind = CALM,
    *,
    warmer_degC: float = 0.0,
    surface: str = "paved",
    policy: Policy = NO_POLICY,
    down: Touchdown = AT_ONCE,
    extra_kt: float = 0.0,
) -> Landing:
    """Work the figure's landing, so much warmer than standard."""
    scene = place(height_ft, standard_temperature(height_ft) + warmer_degC, wind, surface=surface)
    plan = LandingPlan(airplane(), 1600, policy, down, extra_kt)
    return set_up(plan, wind, "40").work(plan, scene)[0]


def pair(worked: Landing) -> tuple[float, float]:
    """Return ground roll and distance from 50 ft [ft]."""
    return worked.roll.known, worked.total.known


@pytest.mark.parametrize(("height_ft", "expected"), list(FIG_11_32_ROWS.items()))
def test_every_printed_row_is_looked_up(height_ft: int, expected: tuple[int, int]) -> None:
    assert pair(work(height_ft)) == pytest.approx(expected, abs=1e-6)


def test_LD_1_sample_problem_11() -> None:
    # PHAK-25C Sample Problem 11, read: 1,250 ft, standard: ground roll 457.5, total 1,105 ft.
    assert pair(work(1250)) == pytest.approx((457.5, 1105), abs=1e-6)


def test_LD_2_eight_knots_of_headwind() -> None:
    # FAA Fig. 38 question, second-hand: 366 ft, half a foot: two steps of 4 kt add; the key truncates first.
    assert work(1250, headwind(8)).roll.known == pytest.approx(366, abs=0.5)
    assert work(1250, headwind(8)).roll.known == pytest.approx(457.5 * 0.8, abs=1e-6)


def test_LD_6_twelve_knots_and_four_knots() -> None:
    # FAA Fig. 38, from memory, arithmetic checked: total 816 ft at 3,750 ft, 12 kt; ground roll 401 ft at SL, 4 kt.
    assert work(3750, headwind(12)).total.known == pytest.approx(1165 * 0.7, abs=1e-6)
    assert work(3750, headwind(12)).total.known == pytest.approx(816, abs=0.5 + 1e-6)
    assert work(0, headwind(4)).roll.known == pytest.approx(401, abs=0.5 + 1e-6)


def test_LD_7_dry_grass_adds_a_fifth_of_the_total_to_both() -> None:
    # Note 3 applied (note read, computed): 445 + 215 = 660; 1,075 + 215 = 1,290.
    assert pair(work(0, surface="grass")) == pytest.approx((660, 1290), abs=1e-6)


def test_sixty_degrees_fahrenheit_above_standard_cost_ten_per_cent() -> None:
    # Note of Fig. 11-32 (read): +10 % per 60 degF, which are 33.3 degC; part of a step costs its part.
    assert pair(work(0, warmer_degC=60 / 1.8)) == pytest.approx((445 * 1.1, 1075 * 1.1), abs=1e-6)
    assert pair(work(0, warmer_degC=30 / 1.8)) == pytest.approx((445 * 1.05, 1075 * 1.05), abs=1e-6)


def test_LS_6_ten_degrees_celsius_cost_three_per_cent() -> None:
    # Fig. 11-32's note, computed: +3 % per 10 degC.
    assert work(0, warmer_degC=10).total.known / 1075 == pytest.approx(1.03, abs=1e-6)


@pytest.mark.parametrize("colder", [0.1, 10, 35])
def test_air_below_standard_gives_no_credit(colder: float) -> None:
    # No such credit is printed in Fig. 11-32 (read).
    assert pair(work(2500, warmer_degC=-colder)) == pytest.approx((470, 1135), abs=1e-6)


@pytest.mark.parametrize("knots", [1, 5, 10])
def test_a_tailwind_that_the_table_has_no_note_for_makes_the_need_missing(knots: float) -> None:
    # Fig. 11-32 prints no tailwind note (read).
    worked = work(0, headwind(-knots))
    for figure in (worked.roll, worked.total, worked.need, worked.policy_need):
        assert figure.value is None
        assert "tailwind" in figure.reason


def test_the_need_keeps_the_uncorrected_figure_in_its_working_only() -> None:
    # The two figures of the first row: total read, ground roll second-hand.
    steps = work(0, headwind(-5)).need.steps
    assert {step.after for step in steps} == {445, 1075}


def test_LS_4_the_table_rises_by_a_ninth_to_5000_ft() -> None:
    # Computed from the table: 11.2 % from sea level to 5,000 ft, ground roll and total alike; 2.23 % per 1,000 ft.
    low, high = pair(work(0)), pair(work(5000))
    for a, b in zip(low, high, strict=True):
        assert b / a == pytest.approx(1.112, abs=0.0005)
        assert (b / a - 1) / 5 == pytest.approx(0.0223, abs=0.0002)
    # That is less than 1/sigma, +16 % (LS-3, PHAK-25C Landing Performance section, read): the table rules.
    assert high[1] / low[1] < 1.16


def test_G_6_the_air_distance_that_the_table_implies() -> None:
    # Exact arithmetic on the rows: 630, 665, 700, 735 ft (the last rests on the 520 ft that is from memory).
    rows = [pair(work(height_ft)) for height_ft in FIG_11_32_ROWS]
    assert [total - roll for roll, total in rows] == pytest.approx([630, 665, 700, 735], abs=1e-6)
    assert all(a[0] < b[0] and a[1] < b[1] for a, b in pairwise(rows))


def test_LS_2_ten_per_cent_more_speed_costs_twenty_one_per_cent() -> None:
    # PHAK-25C, Landing Performance section, read: at least +21 %. The table's speed of 60 mph is from memory; any
    # speed would do, as 1.1 squared is 1.21.
    slow = work(0).table_speed.known
    assert pair(work(0, extra_kt=0.1 * slow)) == pytest.approx((445 * 1.21, 1075 * 1.21), abs=1e-6)


def point(worked: Landing, policy: Policy, down: Touchdown, length_ft: float) -> GoAround:
    """Return the go-around point on a runway with no marks."""
    return go_around(worked, place(0, 15, length_ft=length_ft), policy, down, (), True)


@pytest.mark.parametrize(("multiple", "leaves_ft"), [(1.0, 1555.0), (1.43, 1363.7)])
def test_G_19_latest_touchdown_on_2000_ft(multiple: float, leaves_ft: float) -> None:
    # Computed from the sea-level row: LDA - roll 1,555 ft, 1,363.7 ft with the roll x1.43; the first third, 666.7,
    # binds; over the table's own touchdown at 630 ft that leaves 36.7 ft; 0.1 ft.
    policy, down = Policy("test", landing_factor=factor(multiple)), touchdown(630)
    found = point(work(0, policy=policy, down=down), policy, down, 2000)
    assert found.point.known == pytest.approx(666.7, abs=0.1)
    assert found.window_ft == pytest.approx(36.7, abs=0.1)
    # With no limit but the end of the runway, the roll binds.
    anywhere = Policy("test", landing_factor=factor(multiple), last_touchdown_share=1.0)
    free = point(work(0, policy=anywhere, down=down), anywhere, down, 2000)
    assert free.point.known == pytest.approx(leaves_ft, abs=0.1)


def test_G_20_margins_on_2000_ft() -> None:
    # Computed, 0.1 ft: used 1,075 (53.8 %), left 925; x1.15 1,236.3; x1.43 1,537.3; /0.70 1,535.7; both 1,767.8.
    down = touchdown(630)
    for multiple, expected in ((1.15, 1236.3), (1.43, 1537.3), (1 / 0.70, 1535.7), (1.15 * 1.43, 1767.8)):
        policy = Policy("test", landing_factor=factor(multiple))
        worked = work(0, policy=policy, down=down)
        assert worked.need.known == pytest.approx(1075, abs=0.1)
        assert worked.policy_need.known == pytest.approx(expected, abs=0.1)
        lda = place(0, 15, length_ft=2000).have.lda
        row = item("landing", "Landing", "here", worked.need, worked.policy_need, lda, policy=policy)
        assert (row.need, row.have, row.margin, row.state) == (1075, 2000, 925, State.MEETS)
        assert 1 / row.ratio == pytest.approx(0.538, abs=0.001)  # type: ignore[operator]


def test_G_11_a_landing_that_cannot_be_made_on_the_first_third_is_broken_off() -> None:
    # AFH FAA-H-8083-3C p. 9-32, read: L/3 is the latest touchdown, and so the default with no policy.
    for length_ft in (1500.0, 2000.0, 3000.0):
        found = point(work(0), NO_POLICY, AT_ONCE, length_ft)
        assert found.point.known == pytest.approx(length_ft / 3)


def test_G_10_an_aim_for_the_middle_of_the_first_third_leaves_the_other_half_of_it() -> None:
    # AFH FAA-H-8083-3C p. 9-3, read: target touchdown L/6; with the latest at L/3 the window is L/6 too.
    for length_ft in (1500.0, 3000.0):
        down = touchdown(length_ft / 6)
        found = point(work(0, down=down), NO_POLICY, down, length_ft)
        assert found.window_ft == pytest.approx(length_ft / 6)


def test_a_touchdown_planned_past_the_first_third_has_no_go_around_point() -> None:
    # G-6 and G-11 (read, computed): the table's touchdown at 630 ft is past a third of 1,800 ft.
    down = touchdown(630)
    found = point(work(0, down=down), NO_POLICY, down, 1800)
    assert found.point.value is None
    assert found.point.reason == TOO_FAR


def test_G_17_seventy_per_cent_of_liftoff_speed_by_half_way() -> None:
    # AIM, runway half-way signs, second-hand: 70 % by half-way is a stop criterion; at constant acceleration the
    # exact share is 1/sqrt(2) = 70.7 %, and 70 % is reached after 49 % of the run (computed).
    assert pytest.approx(0.70, abs=0.01 + 1e-9) == HALF_WAY
    assert 0.5**0.5 <= HALF_WAY < 0.5**0.5 + 0.005
    assert pytest.approx(0.49) == 0.70**2

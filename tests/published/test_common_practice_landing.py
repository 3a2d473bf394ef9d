"""The arithmetic of the trade's own landing example comes out as instructors work it.

Source of every figure here: common practice, no source. A ground roll of 630 ft and 200 ft of touchdown zone or
float make 830 ft; flaps up, +35 % of ground roll, +9 kt, and 400 ft of touchdown allowance make 1,250.5 ft. The
airplane is invented: its distance from 50 ft, 800 ft, is chosen shorter than touchdown and roll, so that those
govern.
"""

from __future__ import annotations

import pytest
from printed import CALM, headwind, place, touchdown

from briefgen.calc.landing import Landing, set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.figures import Source
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.notes import Note
from briefgen.handbook.table import Axis, Grid
from briefgen.item import item
from briefgen.model.aircraft import Aircraft, Handbook, SpeedByWeight
from briefgen.model.limit import Limit
from briefgen.model.policy import NO_POLICY
from briefgen.model.weather import Wind

PAGE = Source("invented page")
NOTES = (
    Note("headwind", -0.10, PAGE, per=9.0),
    Note("tailwind", 0.10, PAGE, per=2.0, up_to=10.0),
    Note("dry grass", 0.45, PAGE, percent_of="roll"),
    Note("flaps up", 0.35, PAGE, changes=("roll",), of="value so far", extra_speed_kt=9.0),
)
CELL = (0, 0)
CHART = DistanceChart(
    phase="landing",
    flaps="30",
    grid=Grid((Axis("pressure_altitude_ft", (0.0,)), Axis("weight_lb", (2400.0,))), PAGE.text),
    roll={CELL: 630.0},
    total={CELL: 800.0},
    conditions=ChartConditions("short field", "idle", "paved"),
    notes=NOTES,
    at_standard=True,
)
AIRPLANE = Aircraft(
    registration="N0104",
    description="invented",
    handbook=Handbook("invented", "1", "2026"),
    maximum_takeoff_lb=Limit(2400.0, PAGE.text),
    maximum_landing_lb=Limit(2400.0, PAGE.text),
    flap_settings=("up", "30"),
    takeoff=(),
    landing=(CHART,),
    approach=(SpeedByWeight("30", (), (60.0,), PAGE.text),),
)


def both(wind: Wind = CALM, surface: str = "paved") -> tuple[Landing, Landing]:
    """Work the landing with full flaps and the one with the flaps up: 200 and 400 ft of allowance."""
    plan = LandingPlan(AIRPLANE, 2400.0, NO_POLICY, touchdown(0.0, 200.0, 400.0))
    return set_up(plan, wind, "30").work(plan, place(0.0, 15.0, wind, surface=surface))


def test_two_hundred_feet_of_touchdown_zone_and_a_roll_of_630_make_830() -> None:
    planned, _ = both()
    assert planned.roll.known == pytest.approx(630)
    assert planned.need.known == pytest.approx(830)


def test_flaps_up_makes_the_roll_850_and_a_half_and_the_need_1250_and_a_half() -> None:
    planned, up = both()
    assert up.roll.known == pytest.approx(850.5)
    assert up.need.known == pytest.approx(1250.5)
    assert up.need.known - planned.need.known == pytest.approx(420.5)
    assert up.approach.known - planned.approach.known == 9
    # The note gives no distance from 50 ft, so that is not shown and the need is an estimate.
    assert up.total.value is None
    assert up.need.estimate


def test_the_sheet_says_830_and_1255() -> None:
    # Rounding up to 5 ft is the design's own; 1,250.5 ft must not be printed as 1,250.
    planned, up = both()
    lda = place(0.0, 15.0, length_ft=1300.0).have.lda
    rows = [
        item("landing", "Landing", "here", case.need, case.policy_need, lda, policy=None) for case in (planned, up)
    ]
    assert [(row.need, row.have, row.margin) for row in rows] == [(830, 1300, 470), (1255, 1300, 45)]


def test_dry_grass_adds_forty_five_per_cent_of_the_ground_roll_to_both() -> None:
    planned, _ = both(surface="grass")
    assert planned.roll.known == pytest.approx(630 * 1.45)
    assert planned.total.known == pytest.approx(800 + 0.45 * 630)


def test_nine_knots_of_headwind_take_ten_per_cent_off() -> None:
    planned, _ = both(headwind(9))
    assert (planned.roll.known, planned.total.known) == pytest.approx((630 * 0.9, 800 * 0.9))


@pytest.mark.parametrize("knots", [2, 5, 10])
def test_two_knots_of_tailwind_add_ten_per_cent_up_to_ten_knots(knots: int) -> None:
    planned, _ = both(headwind(-knots))
    assert planned.roll.known == pytest.approx(630 * (1 + 0.05 * knots))


def test_a_tailwind_past_ten_knots_is_refused() -> None:
    planned, up = both(headwind(-10.5))
    assert planned.need.value is None
    assert planned.need.about == "tailwind"
    assert up.need.value is None

"""Speeds to fly: by weight where printed, calibrated where printed, and what gusts add.

Source of the expected numbers: computed by hand from the printed points, or the published value named beside them.
"""

from __future__ import annotations

import pytest
from small_models import aircraft, policy

from briefgen.calc.speeds import calibrated, find, gust_additive, speed
from briefgen.model.aircraft import Calibration, SpeedByWeight
from briefgen.model.weather import Wind

# Published: liftoff 51/49/46 KIAS at 2,400/2,200/2,000 lb (check value V-2, PHAK-25C Fig. 11-24, read).
LIFTOFF = SpeedByWeight("10", (2000.0, 2200.0, 2400.0), (46.0, 49.0, 51.0), "p. 5-11")


@pytest.mark.parametrize(
    ("weight", "kt"), [(2400, 51), (2300, 50), (2200, 49), (2100, 47.5), (2000, 46), (1800, 46)]
)
def test_a_speed_by_weight_is_linear_between_printed_weights_and_not_lowered_below_them(
    weight: float, kt: float
) -> None:
    assert speed(LIFTOFF, "liftoff", weight).known == pytest.approx(kt)


def test_a_speed_by_weight_is_refused_over_the_heaviest_printed() -> None:
    figure = speed(LIFTOFF, "liftoff", 2401.0)
    assert (figure.value, figure.reason, figure.about) == (
        None,
        "printed up to 2,400 lb only (p. 5-11)",
        "weight_lb",
    )


def test_a_speed_that_is_not_printed_is_missing() -> None:
    assert find((LIFTOFF,), "20") is None
    assert find((LIFTOFF,), "10") is LIFTOFF
    assert speed(None, "liftoff", 2000.0).reason == "the aircraft file gives no such speed"


def test_a_speed_printed_without_a_weight_holds_at_every_weight() -> None:
    assert speed(SpeedByWeight("10", (), (50.0,), "p. 5"), "liftoff", 1200.0).known == 50


def test_a_speed_printed_at_one_weight_holds_up_to_it() -> None:
    one = SpeedByWeight("10", (2400.0,), (51.0,), "p. 5")
    assert speed(one, "liftoff", 2000.0).known == speed(one, "liftoff", 2400.0).known == 51


# Published: 70 kt and a gust factor of 15 kt make 77 kt, exact 77.5 (check value V-7, AFH-3C p. 9-20, read); a
# short field takes no more than half of the gust factor (V-8).
def test_gusts_add_half_of_the_gust_factor_and_no_more() -> None:
    half = policy(gust_share=0.5)
    assert 70 + gust_additive(Wind(0.0, 10.0, 25.0), half).known == pytest.approx(77.25, abs=0.25)
    for factor in range(20):
        added = gust_additive(Wind(0.0, 10.0, 10.0 + factor), half).known
        assert factor / 2 - 1 < added <= factor / 2
    assert gust_additive(Wind(0.0, 10.0, 25.0), policy(gust_share=0.0)).known == 0


def test_calibrated_airspeed_is_linear_inside_the_table_and_indicated_outside_it() -> None:
    table = Calibration("30", (40.0, 50.0, 70.0), (46.0, 54.0, 71.0), "p. 5-3")
    plane = aircraft(calibration=(table,))
    for indicated, found in ((40, 46), (45, 50), (50, 54), (60, 62.5), (70, 71), (39, 39), (71, 71)):
        assert calibrated(plane, "30", indicated) == pytest.approx(found)
    assert calibrated(plane, "up", 60.0) == 60

"""Speeds by weight, and what gusts add to them, agree with published figures.

Sources: PHAK FAA-H-8083-25C ch. 11, Fig. 11-24 (read); AFH FAA-H-8083-3C p. 9-20 (read).
"""

from __future__ import annotations

from math import sqrt

import pytest
from printed import FIG_11_24, read_airplane

from briefgen.calc.speeds import find, gust_additive, speed
from briefgen.model.policy import NO_POLICY
from briefgen.model.weather import Wind

# V-2: Fig. 11-24, read: weight [lb], liftoff and 50-ft speed [kt indicated]; and what the root of the weight gives.
FIG_11_24_SPEEDS = [(2400, 51, 56, 51.0, 56.0), (2200, 49, 54, 48.8, 53.6), (2000, 46, 51, 46.6, 51.1)]


@pytest.mark.parametrize(("weight_lb", "liftoff", "at_50_ft", "root_liftoff", "root_50"), FIG_11_24_SPEEDS)
def test_V_2_speeds_by_weight_are_the_printed_ones(
    weight_lb: float, liftoff: float, at_50_ft: float, root_liftoff: float, root_50: float
) -> None:
    airplane = read_airplane(FIG_11_24 / "aircraft.yaml")
    found = [
        speed(find(entries, "10"), "speed", weight_lb).known for entries in (airplane.liftoff, airplane.at_50_ft)
    ]
    assert found == [liftoff, at_50_ft]
    # Within 0.6 kt of the root of the weight (V-2, computed to a tenth: half a digit more).
    assert found == pytest.approx([root_liftoff, root_50], abs=0.65)


def test_V_2_between_printed_weights_the_speed_keeps_to_the_root_of_the_weight() -> None:
    # 0.6 kt, as at the printed weights (V-2): they are rounded to whole knots.
    airplane = read_airplane(FIG_11_24 / "aircraft.yaml")
    for weight_lb in range(2000, 2401, 10):
        found = speed(find(airplane.liftoff, "10"), "liftoff", weight_lb).known
        assert found == pytest.approx(51 * sqrt(weight_lb / 2400), abs=0.6)


def test_a_speed_is_not_made_up_past_the_heaviest_printed_weight() -> None:
    # Fig. 11-24 prints nothing above 2,400 lb (read).
    airplane = read_airplane(FIG_11_24 / "aircraft.yaml")
    assert speed(find(airplane.liftoff, "10"), "liftoff", 2401).value is None
    assert speed(find(airplane.liftoff, "10"), "liftoff", 1900).value == 46


def test_V_7_half_of_a_gust_factor_of_fifteen_knots_makes_seventy_seventy_seven() -> None:
    # AFH FAA-H-8083-3C p. 9-20, read: 70 kt and a gust factor of 15 kt make 77 kt; exact 77.5, the print truncates.
    approach_kt = 70 + gust_additive(Wind(360, 10, 25), NO_POLICY).known
    assert 77 <= approach_kt <= 77.5


@pytest.mark.parametrize("factor_kt", range(0, 26))
def test_V_8_no_more_than_half_the_gust_factor_is_added(factor_kt: int) -> None:
    # AFH FAA-H-8083-3C p. 9-20, read, for a short field in gusts: no more than half the gust factor.
    assert gust_additive(Wind(360, 8, 8 + factor_kt), NO_POLICY).known <= factor_kt / 2

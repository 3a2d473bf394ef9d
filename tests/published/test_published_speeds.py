"""Speeds by weight, and what gusts add to them, agree with published figures.

Sources: PHAK FAA-H-8083-25C ch. 11, Figs. 11-18, 11-24, 11-33 and 11-34 (read); AFH FAA-H-8083-3C pp. 9-3, 9-20,
9-26 and 9-37 (read). Of V-6 and V-9 nothing is worked: the program never puts a rule of thumb in place of a speed
that the handbook does not print, and that is what their tests hold. V-10 to V-12 are tested with the approach too.
"""

from __future__ import annotations

from math import sqrt

import pytest
from conftest import EXAMPLE
from printed import FIG_11_24, read_airplane

from briefgen.calc.approach import HYDROPLANING, hydroplaning_speed
from briefgen.calc.bank import BANKS_DEG, banked
from briefgen.calc.glide import NO_GLIDE, glide
from briefgen.calc.speeds import by_root_of_weight, find, gust_additive, maneuvering, speed
from briefgen.figures import Figure
from briefgen.files.read_trip import read_trip
from briefgen.model.aircraft import SpeedByWeight
from briefgen.model.policy import NO_POLICY
from briefgen.model.weather import Wind

# V-1: Fig. 11-33, read: weight [lb] and approach speed [kt]; 1 kt against the root of the weight (the print rounds
# down).
FIG_11_33_SPEEDS = ((2200.0, 60.0), (2400.0, 63.0), (2600.0, 65.0), (2800.0, 68.0), (2950.0, 70.0))
BY_WEIGHT = SpeedByWeight("30", *(tuple(each) for each in zip(*FIG_11_33_SPEEDS, strict=True)), "Fig. 11-33")

# V-3 and V-5: Fig. 11-34, read: stall [kt] at 0, 30, 45 and 60 degrees of bank; 1 kt. 45 degrees, flaps and gear
# down, power off, is Sample Problem 13.
FIG_11_34 = {
    "V-3 power off, down": (57, 62, 68, 81),
    "V-5 power on, down": (47, 50, 56, 66),
    "V-5 power on, up": (54, 58, 64, 76),
}


@pytest.mark.parametrize(("weight_lb", "kt"), FIG_11_33_SPEEDS)
def test_V_1_speeds_by_weight_are_the_printed_ones_and_keep_to_the_root_of_the_weight(
    weight_lb: float, kt: float
) -> None:
    assert speed(BY_WEIGHT, "approach", weight_lb).known == kt
    assert by_root_of_weight(70, 2950, weight_lb) == pytest.approx(kt, abs=1)


@pytest.mark.parametrize(("weight_lb", "kt"), FIG_11_33_SPEEDS)
def test_V_1_the_root_below_the_only_printed_weight_is_the_table_s_own(weight_lb: float, kt: float) -> None:
    # The same law that lowers a maneuvering speed printed at one weight, held to a table that prints five.
    only = SpeedByWeight("up", (2950.0,), (70.0,), "Fig. 11-33")
    assert maneuvering(only, "speed", weight_lb).known == pytest.approx(kt, abs=1)


@pytest.mark.parametrize("row", FIG_11_34)
def test_V_3_and_V_5_the_stall_rises_with_the_bank_as_printed(row: str) -> None:
    level_kt, *in_a_bank = FIG_11_34[row]
    airplane = read_airplane(FIG_11_24 / "aircraft.yaml")._replace(calibration=())
    level = Figure("stall", "kt", float(level_kt))
    found = [banked(airplane, "up", level, bank).known for bank in BANKS_DEG]
    assert found == pytest.approx(in_a_bank, abs=1)
    assert list(BANKS_DEG) == [30, 45, 60]


def test_V_6_no_approach_speed_is_made_up_of_the_stall() -> None:
    # AFH-3C pp. 9-3 and 9-20, read: 1.3 times the calibrated stall only where the maker gives no speed.
    trip = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")[0]
    assert find(trip.aircraft.stall, "30") is not None
    assert speed(find(trip.aircraft._replace(approach=()).approach, "30"), "approach", 2380).value is None


def test_V_9_no_glide_speed_is_made_up_of_the_stall() -> None:
    # AFH-3C p. 9-26, read: the maker's glide speed, or 1.4 times the stall; the sheet says which key is missing.
    trip = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")[0]
    assert glide(trip, None).speed.value == 68  # the maker's, invented p. 3-5
    worked = glide(trip._replace(aircraft=trip.aircraft._replace(best_glide=None)), None)
    assert (worked.speed.value, worked.speed.reason) == (None, NO_GLIDE)


def test_V_10_to_V_12_the_more_careful_of_two_published_coefficients_is_used() -> None:
    # V-10: PHAK-25C Fig. 11-18, read: 9 x root of 36 = 54 kt; exact. V-11: AFH-3C p. 9-37, read: 8.6 x root of 24,
    # 42 kt; 0.5 kt. V-12, computed: at 24 psi 44.1 and 42.1 kt, at 36 psi 54.0 and 51.6 kt.
    assert 9 * sqrt(36) == 54
    assert hydroplaning_speed(24) == pytest.approx(42, abs=0.5)
    for psi, phak_kt, afh_kt in ((24, 44.1, 42.1), (36, 54.0, 51.6)):
        assert 9 * sqrt(psi) == pytest.approx(phak_kt, abs=0.05)
        assert hydroplaning_speed(psi) == pytest.approx(afh_kt, abs=0.05)
    assert HYDROPLANING == 8.6


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

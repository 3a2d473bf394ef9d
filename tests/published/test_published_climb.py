"""Gradients of climb against what is published of gradients, and against trigonometry.

Sources: S-9 (PHAK FAA-H-8083-25C, Runway Surface and Gradient, read); G-3 and G-4 (computed, beside them).
"""

from __future__ import annotations

from math import radians, tan

import pytest
from printed import FIG_11_24, place, read_airplane

from briefgen.calc.climb_out import Climb, after_takeoff
from briefgen.handbook.readings import Readings
from briefgen.handbook.table import Axis, Grid
from briefgen.model.aircraft import ClimbRates
from briefgen.units import FT_PER_NM


def at(rate_fpm: float, ground_kt: float) -> Climb:
    """Return a climb at a rate and a ground speed: at sea level in standard air, calm, true is indicated."""
    grid = Grid((Axis("pressure_altitude_ft", (0.0, 1000.0)),), "a table of one number")
    cells = {"rate": dict.fromkeys(grid.cells(), rate_fpm)}
    table = ClimbRates("up", "climb", Readings("rate", grid, cells, {"rate": "ft/min"}), ground_kt)
    plane = read_airplane(FIG_11_24 / "aircraft.yaml")._replace(climb_rates=(table,), calibration=())
    return after_takeoff(plane, place(0.0, 15.0), "up", 2000.0)


# S-9: 3 % is 3 ft up for 100 ft along; of a NM of 6,076.115 ft that is 182.28 ft (computed).
def test_S_9_three_percent_is_three_feet_in_a_hundred() -> None:
    found = at(182.2835, 60.0)  # 60 kt: one NM a minute
    assert found.percent == pytest.approx(3, abs=0.0005)
    assert found.gradient.known * 100 / FT_PER_NM == pytest.approx(3, abs=0.0005)


# G-3: GS x tan 3 degrees, computed; 1 ft/min, which at 60 kt is 0.017 %.
@pytest.mark.parametrize(("ground_kt", "fpm"), [(60, 318), (65, 345), (70, 371), (75, 398)])
def test_G_3_a_gradient_of_three_degrees_at_its_published_rates(ground_kt: float, fpm: float) -> None:
    assert at(fpm, ground_kt).percent == pytest.approx(100 * tan(radians(3)), abs=0.017)


# G-4: ground covered in a second, computed; 0.1 ft. In a minute 60 times that; 300 ft/min climbed over it.
@pytest.mark.parametrize(("ground_kt", "feet"), [(60, 101.3), (65, 109.7), (70, 118.1), (75, 126.6)])
def test_G_4_the_ground_covered_while_it_climbs(ground_kt: float, feet: float) -> None:
    assert at(300.0, ground_kt).percent == pytest.approx(100 * 300 / (60 * feet), abs=0.006)

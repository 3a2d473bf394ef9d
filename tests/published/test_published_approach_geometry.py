"""An approach obstacle puts the 50-ft point as far inside the threshold as published approach geometry says.

Source: G-1 and G-2, computed: 50 ft divided by the tangent of the approach angle, and the same for 10 ft.
"""

from __future__ import annotations

import pytest

from briefgen.calc.runway import available
from briefgen.model.policy import Policy
from briefgen.model.strip import End, Obstacle, Runway, Strip
from briefgen.model.trip import Use
from briefgen.model.weather import Conditions, Wind


def begins_ft(top_ft: float, angle_deg: float) -> float:
    """Return how far past the threshold 50 ft is reached over an obstacle that stands on the threshold."""
    near = End("36", 360.0, 0.0, obstacles=(Obstacle("hedge", top_ft, 0.0),))
    far = End("18", 180.0, 0.0)
    runway = Runway(5000.0, "grass", (near, far), 0.0)
    strip = Strip("test", 0.0, 0.0, 0.0, 0.0, (runway,), "test")
    use = Use(strip, runway, near, far, Conditions(15.0, 1013.25, Wind(None, 0.0, 0.0), "dry"))
    have = available(use, Policy("test", approach_angle_deg=angle_deg))
    assert have.lda.known == pytest.approx(5000.0 - have.begins_ft)
    return have.begins_ft


# G-1: computed, 0.1 ft.
@pytest.mark.parametrize(
    ("angle_deg", "feet"),
    [(2.5, 1145.2), (3, 954.1), (3.5, 817.5), (4, 715.0), (4.5, 635.3), (5, 571.5), (6, 475.7)],
)
def test_G_1_fifty_feet_over_the_screen_move_it_by_the_distance_from_50_ft_to_the_aim_point(
    angle_deg: float, feet: float
) -> None:
    assert begins_ft(100.0, angle_deg) == pytest.approx(feet, abs=0.1)


# G-2: computed, 0.1 ft. The rule of thumb of 200 ft per 10 ft (from memory) is near the 3 degree figure.
@pytest.mark.parametrize(("angle_deg", "feet"), [(3, 190.8), (4, 143.0), (5, 114.3)])
def test_G_2_each_ten_feet_of_height(angle_deg: float, feet: float) -> None:
    assert begins_ft(60.0, angle_deg) == pytest.approx(feet, abs=0.1)


def test_an_obstacle_that_the_screen_height_clears_takes_nothing() -> None:
    # By G-1's geometry: nothing is above the line through 50 ft over the threshold.
    assert begins_ft(50.0, 3) == 0
    assert begins_ft(20.0, 3) == 0

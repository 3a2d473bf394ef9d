"""The last part of the approach: ground speed, rate of descent, where the tires can slide, what haste costs."""

from __future__ import annotations

from math import radians, sqrt, tan

from briefgen.calc.atmosphere import true_airspeed
from briefgen.calc.distance import NoAir, Scene
from briefgen.calc.landing import Landing
from briefgen.calc.speeds import calibrated
from briefgen.model.aircraft import Aircraft
from briefgen.units import FT_PER_NM

HYDROPLANING = 8.6  # kt per root of psi: AFH FAA-H-8083-3C p. 9-37; PHAK-25C fig. 11-18 prints 9, the less careful
DEFAULT_ANGLE_DEG = (
    3.0  # AFH FAA-H-8083-3C ch. 9, Stabilized Approach Concept: the normal descent of a light airplane
)
TOO_FAST = 1.1  # a tenth fast over the ground, squared: PHAK FAA-H-8083-25C ch. 11, Landing Performance


def hydroplaning_speed(tire_psi: float) -> float:
    """Return the speed [kt] from which a tire can slide on standing water.

    Parameters
    ----------
    tire_psi : pressure of the tire [psi], above 0

    Source: AFH FAA-H-8083-3C p. 9-37, which asks for at least a tenth of an inch of water.

    >>> round(hydroplaning_speed(24))
    42
    """
    return HYDROPLANING * sqrt(tire_psi)


def descent_rate(ground_kt: float, angle_deg: float) -> float:
    """Return the rate of descent [ft/min] along an approach.

    Parameters
    ----------
    ground_kt : ground speed [kt], above 0
    angle_deg : of the approach [deg], 2 to 10

    >>> round(descent_rate(60, 3))
    318
    """
    return ground_kt * FT_PER_NM / 60 * tan(radians(angle_deg))


def height_before(distance_ft: float, angle_deg: float) -> float:
    """Return how high a straight path is [ft] before the point where it meets the ground.

    Parameters
    ----------
    distance_ft : from there [ft], 0 or more
    angle_deg : of the approach [deg], 2 to 10

    >>> round(height_before(1000, 3), 1)
    52.4
    """
    return distance_ft * tan(radians(angle_deg))


def ground_speed(aircraft: Aircraft, landing: Landing, scene: Scene | NoAir) -> float | None:
    """Return the ground speed [kt] of an approach as flown, from the true airspeed and the wind as it blows.

    Parameters
    ----------
    aircraft : its airspeed calibration.
    landing : worked; None comes of an approach speed that is not known.
    scene : the runway in its air; a headwind is taken off, a tailwind added.
    """
    if landing.approach.value is None or isinstance(scene, NoAir):
        return None
    true_kt = true_airspeed(calibrated(aircraft, landing.flaps, landing.approach.value), scene.density_ratio)
    return true_kt - scene.wind.along_kt


def cost_of_a_tenth_fast(landing: Landing) -> float | None:
    """Return how much longer [ft] a landing is that comes in a tenth fast over the ground.

    Roll and distance from 50 ft go with the square of the ground speed; the touchdown allowance stays.

    Parameters
    ----------
    landing : worked; None comes of one that is not, or is only estimated.
    """
    if landing.need.value is None or landing.roll.value is None or landing.total.value is None:
        return None
    more = TOO_FAST**2
    return max(more * landing.total.value, landing.allowance.known + more * landing.roll.value) - landing.need.value

"""What stands past the departure end, against the path of the climb from the end of the distance over 50 ft.

The airplane is at 50 ft where that distance ends. From there it climbs at the gradient of the handbook's rate of
climb, less the height that getting from the speed at 50 ft to the climb speed costs: by energy, (V2^2 - V1^2) / 2g
in true airspeeds, never below 50 ft. Before that distance ends no handbook gives a path: the airplane is counted as
on the ground. Each obstacle is worked with the rate of climb at the height of its own top. Tops are above the
runway end; where the runway goes up to that end, the rise is added, since 50 ft is counted from where the takeoff
begins; where it goes down nothing is taken off.
"""

from collections.abc import Callable
from typing import NamedTuple

from briefgen.calc.atmosphere import true_airspeed
from briefgen.calc.climb_out import GEOMETRY, Climb
from briefgen.calc.distance import NoAir, Scene
from briefgen.calc.runway import SCREEN_FT
from briefgen.calc.speeds import calibrated
from briefgen.calc.takeoff import Takeoff
from briefgen.figures import Figure, Source, Step, Steps, missing, stated
from briefgen.model.aircraft import Aircraft
from briefgen.model.policy import Policy
from briefgen.model.strip import Obstacle
from briefgen.model.trip import Use
from briefgen.units import FT_PER_NM, G_FT_PER_S2, KT_TO_FT_PER_S, down

ENERGY = Source("height for speed by energy, (V2² − V1²) ÷ 2g; computed", "standard")
NO_PATH = "no handbook gives a path below 50 ft: counted as on the ground"


class Cleared(NamedTuple):
    """One obstacle past the departure end, heights in ft above where the takeoff begins.

    `at_ft`: from the start of the takeoff run. `need`: its top. `have`: the height of the path there, by the
    unfactored distance over 50 ft. `policy_need`: the top, the policy's clearance, and what its factor takes off.
    """

    obstacle: Obstacle
    at_ft: float
    need: Figure
    policy_need: Figure
    have: Figure
    climb: Climb


def rise(use: Use, slope: float) -> float:
    """Return by how much the far end is higher than where the takeoff begins [ft]; 0 where it is lower.

    Parameters
    ----------
    use : the runway in one direction; the larger of what its slope and its elevations say counts.
    slope : up in that direction, a fraction.
    """
    near_ft, far_ft = use.end.elevation_ft, use.opposite.elevation_ft
    by_ends = far_ft - near_ft if near_ft is not None and far_ft is not None else 0.0
    return max(0.0, slope * use.runway.length_ft, by_ends)


def over_obstacles(
    aircraft: Aircraft,
    use: Use,
    scene: Scene | NoAir,
    takeoff: Takeoff,
    climb_at: Callable[[float], Climb],
    policy: Policy,
) -> tuple[Cleared, ...]:
    """Return every obstacle past the departure end that 50 ft, less the policy's clearance, does not clear.

    Lower ones only limit where 50 ft must be reached, as taller ones do too: see `runway.available`.

    Parameters
    ----------
    aircraft : for its calibration.
    use : the departure runway in its direction.
    scene : its air.
    takeoff : worked; its distances over 50 ft, plain and under policy, begin the two paths.
    climb_at : gives the climb as worked at a height above the field [ft].
    policy : the clearance over a departure obstacle [ft].
    """
    found = []
    for obstacle in use.opposite.obstacles:
        rise_ft = rise(use, scene.have.slope)
        if obstacle.height_ft + rise_ft + policy.departure_clearance_ft > SCREEN_FT:
            climb = climb_at(max(obstacle.height_ft + rise_ft, SCREEN_FT))
            at_ft = use.runway.length_ft + obstacle.distance_ft
            cost = _to_climb_speed(aircraft, takeoff, climb, scene)
            plain = _path(obstacle, at_ft, takeoff.total, climb, cost)
            factored = _path(obstacle, at_ft, takeoff.policy_total, climb, cost)
            need = _top(obstacle, rise_ft, Source(use.strip.source, "published"))
            asked = _asked(obstacle, need, plain, factored, takeoff, policy)
            found.append(Cleared(obstacle, at_ft, need, asked, plain, climb))
    return tuple(sorted(found, key=lambda each: (each.at_ft, each.need.known, each.obstacle.what)))


def _top(obstacle: Obstacle, rise_ft: float, source: Source) -> Figure:
    label = f"top of the {obstacle.what}"
    steps = [Step(label, label, "above the runway end", None, obstacle.height_ft, "ft", source)]
    if rise_ft:
        top_ft = obstacle.height_ft + rise_ft
        words = f"+ {rise_ft:,.1f}, by which that end is higher than where the takeoff begins"
        steps.append(Step(label, "runway going up", words, obstacle.height_ft, top_ft, "ft", source))
    return Figure(label, "ft", steps[-1].after, tuple(steps))


def _to_climb_speed(aircraft: Aircraft, takeoff: Takeoff, climb: Climb, scene: Scene | NoAir) -> Figure:
    """Return the height that the way from the speed at 50 ft to the climb speed costs [ft], 0 where it is slower.

    The liftoff speed, which is no faster, is taken where no speed at 50 ft is given.
    """
    label = "height given up for the climb speed"
    before = takeoff.at_50_ft if takeoff.at_50_ft.value is not None else takeoff.liftoff
    if before.value is None or climb.true.value is None or isinstance(scene, NoAir):
        return missing(label, "ft", climb.true.reason or f"no speed at 50 ft for flaps {takeoff.flaps}")
    true_kt = true_airspeed(calibrated(aircraft, takeoff.flaps, before.value), scene.density_ratio)
    from_ft_s, to_ft_s = true_kt * KT_TO_FT_PER_S, climb.true.value * KT_TO_FT_PER_S
    value = max(0.0, (to_ft_s**2 - from_ft_s**2) / (2 * G_FT_PER_S2))
    detail = f"from {true_kt:,.1f} to {climb.true.value:,.1f} kt true ({before.label}, climb speed)"
    return stated(label, "ft", value, detail, ENERGY)


def _path(obstacle: Obstacle, at_ft: float, total: Figure, climb: Climb, cost: Figure) -> Figure:
    """Return the height of the path over an obstacle [ft]."""
    label = f"height over the {obstacle.what}"
    if total.value is None:
        return missing(label, "ft", total.reason, total.about)
    if at_ft < total.value:
        detail = f"50 ft is reached at {total.value:,.1f}, past the obstacle at {at_ft:,.1f}; {NO_PATH}"
        return stated(label, "ft", 0.0, detail, GEOMETRY)
    if climb.rate.value is not None and climb.rate.value <= 0:
        step = Step(label, label, "the table gives no climb here: counted as none", None, 0.0, "ft", GEOMETRY)
        return Figure(label, "ft", 0.0, (*climb.rate.steps, step))
    lacking = next((each for each in (climb.gradient, cost) if each.value is None), None)
    if lacking is not None:
        return missing(label, "ft", lacking.reason, lacking.about)
    gradient, from_ft, less_ft = climb.gradient.known, total.value, cost.known
    off_ft = at_ft - from_ft
    value = max(SCREEN_FT, SCREEN_FT + gradient * off_ft / FT_PER_NM - less_ft)

    def steps() -> tuple[Step, ...]:
        detail = (
            f"50 + {gradient:,.1f} ft/NM over {off_ft:,.1f} ft ({at_ft:,.1f} − {from_ft:,.1f}) − {less_ft:,.1f}"
        )
        detail += "; held at 50 until the climb speed is there" if value == SCREEN_FT else ""
        last = Step(label, label, detail, None, value, "ft", GEOMETRY)
        return (*climb.rate.steps, *climb.speed.steps, *climb.gradient.steps, *cost.steps, last)

    return Figure(label, "ft", value, Steps(steps))


def _asked(
    obstacle: Obstacle, need: Figure, plain: Figure, factored: Figure, takeoff: Takeoff, policy: Policy
) -> Figure:
    """Return what the policy asks of the unfactored path [ft]: the top, its clearance, what its factor costs.

    The last is between the two heights as they are printed, in whole feet, so that the room left under the policy
    is that of the factored path, whatever the other is.
    """
    label = f"height asked over the {obstacle.what}"
    lacking = next((each for each in (plain, factored) if each.value is None), None)
    if lacking is not None:
        return missing(label, "ft", lacking.reason, lacking.about)
    plain_ft, factored_ft = down(plain.known), down(factored.known)
    spare_ft, less_ft = policy.departure_clearance_ft, plain_ft - factored_ft
    spared_ft = need.known + spare_ft
    value, factor = spared_ft + less_ft, "what the safety factor takes off the path"

    def steps() -> tuple[Step, ...]:
        path = f"the path from {takeoff.policy_total.known:,.1f} is at {factored_ft:,.0f} there"
        words, by = f"+ {less_ft:,.0f}: {path}, not {plain_ft:,.0f}", policy.by("departure_clearance_ft")
        return (
            *need.steps,
            Step(label, "height to spare", f"+ {spare_ft:,.0f}", need.known, spared_ft, "ft", by),
            Step(label, factor, words, spared_ft, value, "ft", takeoff.factor.source),
        )

    return Figure(label, "ft", value, Steps(steps))

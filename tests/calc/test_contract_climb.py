"""The climb over obstacles and after a go-around: the lines of the design's 'How the figures are defined'.

Each test names its line. Source of the expected numbers: computed by hand on one-number tables (takeoff 800/1500
and x 1.2, a rate of climb of 600 ft/min at 60 kt, liftoff 50 kt, no speed at 50 ft) on 3,000 ft at sea level in
standard air. At 60 kt over the ground 600 ft/min is 600 ft for each NM (6,076.115 ft): 600 x 60 / 60.
"""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest
from small_models import (
    CALM,
    INVENTED,
    TOUCHDOWN,
    aircraft,
    chart,
    conditions,
    have,
    note,
    place,
    policy,
    speed_of,
    use,
)

from briefgen.calc.climb_out import NO_FIGURES, Climb, after_go_around, after_takeoff, said
from briefgen.calc.decision import go_around
from briefgen.calc.distance import Scene
from briefgen.calc.landing import set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.obstacles import Cleared, over_obstacles, rise
from briefgen.calc.runway import available
from briefgen.calc.takeoff import takeoff
from briefgen.calc.wind import RunwayWind
from briefgen.handbook.readings import FALLS, Readings
from briefgen.handbook.table import Axis, Grid
from briefgen.item import item
from briefgen.model.aircraft import Aircraft, Calibration, ClimbRates
from briefgen.model.policy import Policy
from briefgen.model.strip import End, Obstacle
from briefgen.printing import HEIGHTS

NM = 6076.115  # ft; from memory
ALTITUDES = Axis("pressure_altitude_ft", (-1000.0, 8000.0))
HEAT = Axis("temperature_degC", (-20.0, 50.0))


def rates(
    flaps: str = "10",
    purpose: str = "climb",
    rate: float = 600.0,
    speed_kt: float | None = 60.0,
    *,
    axes: tuple[Axis, ...] = (ALTITUDES, HEAT),
    rows_kt: float | None = None,
) -> ClimbRates:
    """Return a table whose every cell is the same."""
    grid = Grid(axes, "p. 5-13")
    cells: dict[str, Any] = {"rate": dict.fromkeys(grid.cells(), rate)}
    if rows_kt:
        cells["speed"] = dict.fromkeys(grid.cells(), rows_kt)
    units = {"rate": "ft/min", "speed": "kt"}
    return ClimbRates(
        flaps, purpose, Readings("rate of climb", grid, cells, units, course={"rate": FALLS}), speed_kt
    )


def plane(*tables: ClimbRates, **more: Any) -> Aircraft:
    return aircraft(climb_rates=tables or (rates(),), **more)


def climb(of: Aircraft, scene: Scene | None = None, flaps: str = "10") -> Climb:
    return after_takeoff(of, scene or place(), flaps, 2400.0)


def over(
    *obstacles: Obstacle,
    of: Aircraft | None = None,
    scene: Scene | None = None,
    rules: Policy | None = None,
    climb_flaps: str = "10",
    ends_ft: tuple[float | None, float | None] = (None, None),
) -> tuple[Cleared, ...]:
    """Return what is made of obstacles past the far end of 3,000 ft."""
    of, scene, rules = of or plane(), scene or place(), rules or policy(departure_clearance_ft=0.0)
    near, far = End("09", 90.0, 0.0, elevation_ft=ends_ft[0]), End("27", 270.0, 0.0, obstacles=obstacles)
    used = use(near, far._replace(elevation_ft=ends_ft[1]))
    worked = takeoff(of, scene, "10", 2400.0, rules)
    return over_obstacles(of, used, scene, worked, partial(after_takeoff, of, scene, climb_flaps, 2400.0), rules)


def trees(height_ft: float, past_ft: float = 1000.0) -> Obstacle:
    return Obstacle("trees", height_ft, past_ft)


def density(height_ft: float) -> float:
    """Return the density share at 15 degC, from the textbook form of the standard atmosphere's pressure."""
    return float((1 - 6.8756e-6 * height_ft) ** 5.2559)


def by_hand(top_ft: float, over_50_ft: float, past_ft: float = 1000.0) -> float:
    """Return the height of the path: 600 ft/min at 60 kt indicated, in the air at the height of the top."""
    true_kt = 60 / density(top_ft) ** 0.5
    lost_ft = (true_kt**2 - 50**2) * (NM / 3600) ** 2 / (2 * 32.174)  # 32.174 ft/s2: from memory
    return 50 + 600 * 60 / true_kt * (3000 + past_ft - over_50_ft) / NM - lost_ft


# Line: 'climb and glide down' (rounding), and the gradient over the ground.
def test_the_gradient_is_the_rate_over_the_ground_speed() -> None:
    found = climb(plane())
    assert (found.rate.value, found.speed.value) == (600, 60)
    assert found.gradient.known == pytest.approx(600, abs=0.01)
    assert found.percent == pytest.approx(100 * 600 / NM, abs=0.001)  # 9.875 ft up for 100 ft
    assert said(found) == "600\u00a0ft/min, 600\u00a0ft/NM, 9.8\u00a0%, at 60\u00a0kt, flaps 10"
    assert said(climb(plane(rates(rate=617.0)))).startswith(
        "610\u00a0ft/min, 615\u00a0ft/NM, 10.1\u00a0%"
    )  # 617: 10.154


# Line: 'Headwind credit from the steady wind; tailwind and crosswind from the gust', by the policy's share.
def test_a_headwind_steepens_it_and_a_tailwind_flattens_it() -> None:
    assert climb(plane(), place(wind=RunwayWind(20, 0, 0, ""))).gradient.known == pytest.approx(
        900, abs=0.01
    )  # / 40
    half = place(wind=RunwayWind(20, 0, 0, ""))._replace(shares=(0.5, 1.5))
    assert climb(plane(), half).gradient.known == pytest.approx(720, abs=0.01)  # / 50
    tail = place(wind=RunwayWind(0, 12, 0, ""))
    assert climb(plane(), tail).gradient.known == pytest.approx(500, abs=0.01)  # / 72
    assert climb(plane(), tail._replace(shares=(0.5, 1.5))).gradient.known == pytest.approx(36_000 / 78, abs=0.01)


def test_a_headwind_as_fast_as_the_climb_leaves_no_gradient() -> None:
    found = climb(plane(), place(wind=RunwayWind(60, 0, 0, "")))
    assert (found.gradient.value, found.percent) == (None, None)
    assert found.gradient.reason == "the headwind is as fast as the climb"
    assert said(found) == "600\u00a0ft/min; no gradient: the headwind is as fast as the climb"


def test_the_climb_speed_is_calibrated_and_made_true_before_it_is_a_ground_speed() -> None:
    table = Calibration("10", (40.0, 80.0), (44.0, 80.0), "p. 5-9")  # 60 indicated is 62 calibrated
    assert climb(plane(calibration=(table,))).gradient.known == pytest.approx(36_000 / 62, abs=0.01)
    thin = climb(plane(), place(elevation_ft=5000.0))
    assert thin.gradient.known == pytest.approx(600 * density(5000.0) ** 0.5, abs=0.1)


def test_a_speed_of_the_rows_is_read_like_the_rate() -> None:
    found = climb(plane(rates(speed_kt=None, rows_kt=66.0)))
    assert found.speed.known == pytest.approx(66)
    assert found.gradient.known == pytest.approx(36_000 / 66, abs=0.01)


# Line: 'Nothing stands in for a takeoff or climb flap setting.'
def test_nothing_stands_in_for_a_climb_flap_setting() -> None:
    assert climb(aircraft()).rate.reason == NO_FIGURES
    up_only = plane(rates("up"))
    assert climb(up_only).rate.value is None
    assert climb(up_only).rate.reason.startswith("no rate of climb for flaps 10 in the aircraft file")
    assert "to climb in another setting, up, write climb_flaps" in climb(up_only).rate.reason
    assert climb(up_only, flaps="up").rate.known == 600  # which the pilot says
    assert climb(plane(rates("10", "balked landing"))).rate.reason == NO_FIGURES  # another purpose


# Line: 'Off the table ... Never extrapolate'; a table at standard temperature says nothing of warmer air.
def test_off_the_table_there_is_no_rate() -> None:
    hot = climb(plane(), place(air=conditions(51.0)))
    assert (hot.rate.value, hot.rate.about) == (None, "temperature_degC")
    standard = plane(rates(axes=(ALTITUDES,)))
    assert climb(standard).rate.known == pytest.approx(600)
    assert climb(standard, place(air=conditions(5.0))).rate.known == pytest.approx(600)  # colder is no worse
    warm = climb(standard, place(air=conditions(16.0)))
    assert warm.rate.reason == "the table is for standard temperature, and it is 1.0 °C warmer (p. 5-13)"
    above = plane(rates(axes=(ALTITUDES, Axis("above_standard_degC", (0.0, 20.0)))))
    assert climb(above, place(air=conditions(35.0))).rate.known == pytest.approx(600)
    assert climb(above, place(air=conditions(36.0))).rate.value is None


# Line: 'obstacles on departure against the climb-out path from the end of the over-50 distance'
def test_the_path_begins_at_50_ft_where_the_distance_ends_and_pays_for_the_climb_speed() -> None:
    (found,) = over(trees(100.0))
    assert found.at_ft == 4000
    assert found.have.known == pytest.approx(by_hand(100.0, 1500.0), abs=0.05)  # 247.1
    assert found.need.known == 100


def test_a_speed_at_50_ft_is_taken_before_the_liftoff_speed_and_a_slower_climb_gives_no_credit() -> None:
    (found,) = over(
        trees(100.0), of=plane(at_50_ft=(speed_of("10", 60.1),))
    )  # as fast as the climb, true, at 100 ft
    gradient = 600 * density(100.0) ** 0.5
    assert found.have.known == pytest.approx(50 + gradient * 2500 / NM, abs=0.1)
    (faster,) = over(trees(100.0), of=plane(at_50_ft=(speed_of("10", 70.0),)))
    assert faster.have.known == pytest.approx(50 + gradient * 2500 / NM, abs=0.05)


def test_the_airplane_is_held_at_50_ft_until_the_climb_speed_is_there() -> None:
    slow = plane(rates(rate=100.0))  # 41 ft up in 2,500 ft, and 49 ft to pay
    (found,) = over(trees(60.0), of=slow)
    assert found.have.known == 50
    assert "held at 50" in found.have.steps[-1].detail


def test_without_any_speed_at_50_ft_the_path_is_not_known() -> None:
    (found,) = over(trees(60.0), of=plane(liftoff=()))
    assert (found.have.value, found.policy_need.value) == (None, None)
    assert found.have.reason == "no speed at 50 ft for flaps 10"


# Line: 'policy need: the same under the policy's factor and allowances'
def test_the_policy_asks_for_its_clearance_and_for_what_its_factor_takes_off_the_path() -> None:
    (found,) = over(trees(100.0), rules=policy(departure_clearance_ft=50.0))  # 1.2 x 1,500 = 1,800 ft
    assert (by_hand(100.0, 1500.0), by_hand(100.0, 1800.0)) == pytest.approx((247.15, 217.58), abs=0.01)
    assert found.policy_need.known == 100 + 50 + (247 - 217)  # the heights as they are printed, down
    words = [(each.label, each.source.kind) for each in found.policy_need.steps[-2:]]
    assert words == [("height to spare", "policy"), ("what the safety factor takes off the path", INVENTED.kind)]


def state(found: Cleared, rules: Policy | None) -> str:
    figures = found.need, found.policy_need, found.have
    return item("climb-out", "Climb", "here", *figures, policy=rules, printing=HEIGHTS).state.value


def test_the_state_says_which_of_the_two_paths_clears_the_top() -> None:
    """The paths are at 247 and 217 ft over a low top; with 50 ft to spare 167 ft is the most under the policy."""
    rules = policy(departure_clearance_ft=50.0)
    states = {height: state(over(trees(height), rules=rules)[0], rules) for height in (160.0, 175.0, 240.0, 260.0)}
    assert states == {160.0: "meets policy", 175.0: "under policy", 240.0: "under policy", 260.0: "short"}
    assert state(over(trees(160.0))[0], None) == "under policy"  # with no policy nothing is better


# 'An obstacle nearer than the over-50 distance and taller than 50 ft: the airplane is below it.'
def test_an_obstacle_before_50_ft_is_reached_is_never_cleared_even_without_climb_figures() -> None:
    for of in (plane(), aircraft()):
        short = of._replace(takeoff=(chart("takeoff", "10", 800.0, 4001.0),))
        (found,) = over(trees(60.0), of=short)
        assert found.have.known == 0
        assert state(found, policy()) == "short"
    (there,) = over(trees(60.0), of=plane(takeoff=(chart("takeoff", "10", 800.0, 4000.0),)))
    assert there.have.known == 50


def test_no_climb_at_all_clears_nothing() -> None:
    (found,) = over(trees(60.0), of=plane(rates(rate=-20.0)))
    assert found.have.known == 0
    assert found.climb.gradient.reason == "none: the table gives no climb here"
    assert said(found.climb) == "−20\u00a0ft/min; no gradient: the table gives no climb here"


# Line: 'An obstacle that is given but not worked makes its item not shown.'
def test_an_obstacle_without_a_climb_or_a_takeoff_is_not_shown() -> None:
    (found,) = over(trees(60.0), of=aircraft())
    assert (found.need.value, found.policy_need.value, found.have.value) == (60, None, None)
    assert found.have.reason == NO_FIGURES
    (found,) = over(trees(60.0), of=plane(takeoff=()))
    assert found.have.reason == "the aircraft file has no takeoff table for flaps 10"
    (high,) = over(trees(8100.0), of=plane())  # worked at its own top, past the table
    assert "above the table's highest" in high.have.reason


def test_the_climb_is_worked_at_the_height_of_each_top() -> None:
    steep = Grid((Axis("pressure_altitude_ft", (0.0, 1000.0)), HEAT), "p. 5-13")
    falling = {cell: 600.0 - 300.0 * cell[0] for cell in steep.cells()}  # 600 at sea level, 300 at 1,000 ft
    table = Readings("rate of climb", steep, {"rate": falling}, {"rate": "ft/min"}, course={"rate": FALLS})
    low, tall = over(trees(100.0, 900.0), trees(200.0), of=plane(ClimbRates("10", "climb", table, 60.0)))
    assert low.climb.rate.known == pytest.approx(570)
    assert tall.climb.rate.known == pytest.approx(540)


# 'an upsloping runway raises the end': 50 ft is counted from where the takeoff begins; downhill gives no credit.
def test_a_runway_that_goes_up_raises_the_tops_and_one_that_goes_down_lowers_none() -> None:
    up = place(there=have(slope=0.01))
    (found,) = over(trees(40.0), scene=up, of=plane(takeoff=(uphill(),)))
    assert found.need.known == pytest.approx(40 + 30)  # 1 % of 3,000 ft
    (found,) = over(trees(60.0), scene=place(there=have(slope=-0.01)))
    assert found.need.known == 60
    (found,) = over(trees(60.0), ends_ft=(100.0, 112.0))
    assert found.need.known == 72  # by the ends, where the slope says less
    ends = End("09", 90.0, 0.0, elevation_ft=112.0), End("27", 270.0, 0.0, elevation_ft=100.0)
    assert rise(use(*ends), 0.0) == 0


def uphill() -> Any:
    return chart("takeoff", "10", 800.0, 1500.0, (note("upslope", 0.1, per=0.01),))


# 'Obstacles of up to 50 ft keep today's rule ... both rules agree and never loosen each other.'
def test_an_obstacle_that_50_ft_clears_is_left_to_the_distance_and_a_taller_one_limits_it_too() -> None:
    assert over(trees(50.0)) == ()
    assert len(over(trees(50.1))) == 1
    assert len(over(trees(30.0), rules=policy(departure_clearance_ft=20.1))) == 1  # the policy wants more over it
    for height in (50.0, 51.0, 200.0):
        used = use(End("09", 90.0, 0.0, toda_ft=4500.0), End("27", 270.0, 0.0, obstacles=(trees(height, 100.0),)))
        assert available(used, policy()).over_50.known == 3100


def test_obstacles_are_worked_nearest_first_whatever_their_order() -> None:
    a, b, c = trees(100.0, 500.0), Obstacle("mast", 180.0, 2000.0), Obstacle("barn", 100.0, 500.0)
    names = [each.obstacle.what for each in over(a, b, c)]
    assert names == ["barn", "trees", "mast"] == [each.obstacle.what for each in over(c, b, a)]


def gone_around(of: Aircraft, flaps: str = "30", *, climbs: bool = True, beyond: tuple[Obstacle, ...] = ()) -> str:
    rules, scene = policy(), place()
    planned, _ = set_up(LandingPlan(of, 2400.0, rules, TOUCHDOWN), CALM, "30").work(
        LandingPlan(of, 2400.0, rules, TOUCHDOWN), scene
    )
    after = after_go_around(of, scene, flaps, 2400.0)
    return go_around(planned, scene, rules, TOUCHDOWN, (), climbs, after=after, beyond=beyond).climb_out


# Line: 'Beside it: climb-out after a go-around worked, not shown, or the strip says none (strips can be one-way).'
def test_the_climb_after_a_go_around_is_that_of_the_landing_flaps_at_the_landing_weight() -> None:
    of = plane(
        rates(), rates("30", "balked landing", 300.0), rates("30", "climb", 900.0), rates("up", "climb", 700.0)
    )
    assert gone_around(of) == "300\u00a0ft/min, 300\u00a0ft/NM, 4.9\u00a0%, at 60\u00a0kt, flaps 30"  # 4.937
    assert gone_around(of, "up").startswith("700\u00a0ft/min")  # a climb table, where no balked landing is printed
    assert gone_around(of, "20").startswith("not shown: no rate of climb for flaps 20 in the aircraft file")
    assert gone_around(of, climbs=False) == "none: the strip says so"
    named = gone_around(of, beyond=(Obstacle("oaks", 60.0, 200.0), Obstacle("wall", 4.0, 20.0)))
    assert named.endswith("; past the end, not worked: oaks, 60\u00a0ft, wall, 4\u00a0ft")
    assert gone_around(aircraft()) == f"not shown: {NO_FIGURES}"


def test_something_of_no_height_is_held_against_the_clearance_alone() -> None:
    rules = policy(departure_clearance_ft=60.0)
    (found,) = over(trees(0.0), rules=rules)
    assert found.need.known == 0
    assert state(found, rules) == "meets policy"
    assert state(over(trees(0.0), rules=policy(departure_clearance_ft=300.0))[0], rules) == "under policy"

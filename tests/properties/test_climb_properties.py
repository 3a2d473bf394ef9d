"""What is worse never helps a climb: tailwind, heat, altitude, weight; a taller obstacle never improves a state.

The airplane is the modelled one, with a rate of climb from a model too: (700 ft/min - 1,910 ft/min x (1 - s)) x
w^-1.6, with s and w as `modelled` has them, each cell rounded down to 5 ft/min. No expected figure is needed: each
property compares two workings.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from math import floor

from hypothesis import assume, given
from hypothesis import strategies as st
from modelled import (
    HEIGHTS_FT,
    PAGE,
    TEMPERATURES_DEGC,
    WEIGHTS_LB,
    airplane,
    alongs,
    cells,
    density,
    multiples,
    pairs,
    place,
    policy,
    quick,
    take_off,
    temperatures,
    weights,
)

from briefgen.calc.climb_out import Climb, after_takeoff
from briefgen.calc.distance import Scene
from briefgen.calc.obstacles import Cleared, over_obstacles
from briefgen.calc.runway import available
from briefgen.handbook.readings import FALLS, Readings
from briefgen.handbook.table import Axis, Grid
from briefgen.item import State, item
from briefgen.model.aircraft import ClimbRates
from briefgen.model.policy import Policy
from briefgen.model.strip import End, Obstacle, Runway, Strip
from briefgen.model.trip import Use
from briefgen.printing import HEIGHTS

NEAR = 1e-6
GRID = Grid(
    (
        Axis("pressure_altitude_ft", HEIGHTS_FT, True),
        Axis("temperature_degC", TEMPERATURES_DEGC, True),
        Axis("weight_lb", WEIGHTS_LB, True),
    ),
    PAGE.text,
)
SPEEDS_KT = dict(zip(range(3), (57.0, 60.0, 62.0), strict=True))


def rate(at: tuple[int, ...]) -> float:
    """Return the model's rate of climb in one cell [ft/min]."""
    w, s = WEIGHTS_LB[at[2]] / 2550, density(HEIGHTS_FT[at[0]], TEMPERATURES_DEGC[at[1]])
    return 5.0 * floor((700 - 1910 * (1 - s)) * w**-1.6 / 5)


TABLE = Readings(
    "rate of climb",
    GRID,
    {"rate": {at: rate(at) for at in GRID.cells()}, "speed": {at: SPEEDS_KT[at[2]] for at in GRID.cells()}},
    {"rate": "ft/min", "speed": "kt"},
    course={"rate": FALLS},
)
AIRPLANE = airplane()._replace(climb_rates=(ClimbRates("10", "climb", TABLE),))
LENGTH_FT = 1500.0  # so short that an obstacle can stand before 50 ft is reached


@dataclass(frozen=True)
class Day:
    """One takeoff."""

    height_ft: float
    degC: float
    along_kt: float
    weight_lb: float
    multiple: float = 1.3
    clearance_ft: float = 0.0

    @property
    def scene(self) -> Scene:
        """The runway in its air."""
        return place(self.height_ft, self.degC, self.along_kt, length_ft=LENGTH_FT)

    @property
    def rules(self) -> Policy:
        """The standard."""
        return policy(self.multiple, departure_clearance_ft=self.clearance_ft, takeoff_margin_ft=300.0)

    @property
    def climb(self) -> Climb:
        """The climb after takeoff, at the field."""
        return after_takeoff(AIRPLANE, self.scene, "10", self.weight_lb)

    def over(self, *obstacles: Obstacle) -> tuple[Cleared, ...]:
        """Return what is made of obstacles past the far end."""
        scene = self.scene
        climb_at = partial(after_takeoff, AIRPLANE, scene, "10", self.weight_lb)
        worked = take_off(scene, self.weight_lb, self.rules, AIRPLANE)
        return over_obstacles(AIRPLANE, self.use(*obstacles), scene, worked, climb_at, self.rules)

    def use(self, *obstacles: Obstacle) -> Use:
        """Return the runway with obstacles past its far end."""
        ends = End("36", 360.0, 0.0), End("18", 180.0, 0.0, obstacles=obstacles)
        runway = Runway(LENGTH_FT, "paved", ends, 0.0)
        return Use(Strip("x", 0.0, 40.0, -80.0, 0.0, (runway,), "x"), runway, *ends, self.scene.conditions)

    def states(self, *obstacles: Obstacle) -> dict[str, State]:
        """Return the state of the distance over 50 ft, and of each obstacle that has one."""
        rules, worked = self.rules, take_off(self.scene, self.weight_lb, self.rules, AIRPLANE)
        have = available(self.use(*obstacles), rules).over_50
        over_50 = item(
            "takeoff-50",
            "x",
            "x",
            worked.total,
            worked.policy_total,
            have,
            policy=rules,
            minimum=rules.takeoff_margin_ft,
        )
        found = {"over 50 ft": over_50.state}
        for each in self.over(*obstacles):
            row = item("x", "x", "x", each.need, each.policy_need, each.have, policy=rules, printing=HEIGHTS)
            found[each.obstacle.what] = row.state
        return found

    def worst(self, *obstacles: Obstacle) -> int:
        """Return the rank of the worst of these states."""
        return max(state.rank for state in self.states(*obstacles).values())


heights = st.floats(-1000.0, 6000.0)
days = st.builds(Day, heights, temperatures, alongs, weights, multiples, st.sampled_from([0.0, 20.0, 50.0]))
tops = st.floats(0.0, 600.0)
distances = st.floats(0.0, 2000.0) | st.floats(0.0, 9000.0)


def no_flatter(better: Day, worse: Day) -> None:
    """Say that a worse day has no steeper climb; a climb that is none is the flattest."""
    one, other = better.climb.gradient.value, worse.climb.gradient.value
    assert other is None or (one is not None and other <= one + NEAR)


def test_the_model_climbs_as_it_says() -> None:
    """700 ft/min at sea level in standard air, 2,550 lb; every cell falls with height, heat and weight."""
    assert rate((0, 0, 2)) > 700 > rate((0, 2, 2))
    table = cells(lambda w, s: (700 - 1910 * (1 - s)) * w**-1.6)
    assert all(value is not None and rate(at) <= value for at, value in table.items())
    assert Day(0.0, 15.0, 0.0, 2550.0).climb.rate.known > 690


@quick
@given(days, pairs(alongs))
def test_more_headwind_never_flattens_a_climb(day: Day, winds: list[float]) -> None:
    no_flatter(replace(day, along_kt=winds[1]), replace(day, along_kt=winds[0]))


@quick
@given(days, pairs(temperatures), pairs(heights), pairs(weights))
def test_hotter_higher_and_heavier_never_steepen_a_climb(
    day: Day, degC: list[float], height_ft: list[float], weight_lb: list[float]
) -> None:
    for field, (less, more) in (("degC", degC), ("height_ft", height_ft), ("weight_lb", weight_lb)):
        no_flatter(replace(day, **{field: less}), replace(day, **{field: more}))


@quick
@given(days, pairs(alongs), pairs(temperatures), pairs(heights), st.floats(60.0, 400.0), distances)
def test_a_worse_day_never_lifts_the_path_over_an_obstacle(
    day: Day, winds: list[float], degC: list[float], height_ft: list[float], top: float, past: float
) -> None:
    trees = Obstacle("trees", top, past)
    for field, (one, other) in (("along_kt", winds[::-1]), ("degC", degC), ("height_ft", height_ft)):
        (better,), (worse,) = replace(day, **{field: one}).over(trees), replace(day, **{field: other}).over(trees)
        assume(worse.have.value is not None)
        assert better.have.value is not None
        assert worse.have.known <= better.have.value + NEAR


@quick
@given(days, pairs(tops), distances)
def test_a_taller_obstacle_never_improves_the_worst_state_across_50_ft_too(
    day: Day, two: list[float], past: float
) -> None:
    low, tall = (day.worst(Obstacle("trees", top, past)) for top in two)
    assert low <= tall


@quick
@given(days, st.floats(51.0, 600.0), pairs(distances))
def test_a_nearer_obstacle_never_improves_the_worst_state(day: Day, top: float, past: list[float]) -> None:
    near, far = (day.worst(Obstacle("trees", top, off)) for off in past)
    assert far <= near


@quick
@given(days, st.floats(51.0, 600.0), distances, pairs(st.floats(0.0, 200.0)))
def test_a_larger_clearance_or_factor_never_improves_a_state(
    day: Day, top: float, past: float, clearances: list[float]
) -> None:
    trees = Obstacle("trees", top, past)
    less, more = (replace(day, clearance_ft=each) for each in clearances)
    assert less.worst(trees) <= more.worst(trees)
    assert day.worst(trees) <= replace(day, multiple=day.multiple + 0.3).worst(trees)


@quick
@given(days, st.lists(st.tuples(tops, distances), min_size=2, max_size=5), st.randoms(use_true_random=False))
def test_the_order_of_obstacles_never_matters(day: Day, given_: list[tuple[float, float]], random: object) -> None:
    obstacles = [Obstacle(f"thing {n}", top, past) for n, (top, past) in enumerate(given_)]
    shuffled = list(obstacles)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    one, other = day.over(*obstacles), day.over(*shuffled)
    assert [each.obstacle for each in one] == [each.obstacle for each in other]
    assert [each.have.value for each in one] == [each.have.value for each in other]
    assert day.states(*obstacles) == day.states(*shuffled)


@quick
@given(days, st.floats(51.0, 600.0), distances, tops, distances)
def test_one_more_obstacle_never_improves_the_worst_state(
    day: Day, top: float, past: float, other_top: float, other_past: float
) -> None:
    one, other = Obstacle("trees", top, past), Obstacle("mast", other_top, other_past)
    assert day.worst(one) <= day.worst(one, other)

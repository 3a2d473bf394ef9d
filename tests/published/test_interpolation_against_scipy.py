"""A chart's look-up is plain linear interpolation, as an independent library works it, in two, three and four axes.

Source: scipy.interpolate.RegularGridInterpolator on the same axes and cells, at 10,000 random points each (fixed
seed); tolerance a billionth, for one by one and for all at once.

Cells are random, so that no symmetry of a real table hides a swapped axis.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.interpolate import RegularGridInterpolator

from briefgen.figures import work
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.many import look_up_many
from briefgen.handbook.table import Axis, Grid

POINTS = 10_000
AXES = {
    "pressure_altitude_ft": (-500.0, 0.0, 1000.0, 2500.0, 3000.0, 7000.0, 8000.0),
    "temperature_degC": (-20.0, 0.0, 10.0, 25.0, 40.0),
    "weight_lb": (2000.0, 2150.0, 2400.0),
    "headwind_kt": (-10.0, 0.0, 10.0, 15.0, 30.0),
}

BOUND = {"headwind_bound": -1.0}  # what the square law leaves of a distance in still air: nothing held to it


def chart_of(
    names: tuple[str, ...], roll: NDArray[np.float64], total: NDArray[np.float64], **more: bool
) -> DistanceChart:
    """Return a chart of random cells over some of the axes."""
    grid = Grid(tuple(Axis(name, AXES[name]) for name in names), "random cells")
    cells = grid.cells()
    return DistanceChart(
        phase="takeoff",
        flaps="10",
        grid=grid,
        roll={cell: float(roll[cell]) for cell in cells},
        total={cell: float(total[cell]) for cell in cells},
        conditions=ChartConditions("none", "none", "none"),
        **more,
    )


@pytest.mark.parametrize(
    "names",
    [
        ("pressure_altitude_ft", "temperature_degC", "weight_lb"),
        ("pressure_altitude_ft", "temperature_degC"),
        ("pressure_altitude_ft", "weight_lb"),
        ("pressure_altitude_ft", "temperature_degC", "weight_lb", "headwind_kt"),
        ("pressure_altitude_ft", "headwind_kt"),
    ],
)
def test_a_look_up_agrees_with_scipy(names: tuple[str, ...]) -> None:
    dice = np.random.default_rng(20260516)
    shape = tuple(len(AXES[name]) for name in names)
    roll, total = dice.uniform(10.0, 200.0, shape), dice.uniform(10.0, 200.0, shape)
    for axis, name in enumerate(names):  # a table that falls along an axis is refused, but for a headwind
        roll, total = np.cumsum(roll, axis), np.cumsum(total, axis)
        if name == "headwind_kt":
            roll, total = np.flip(roll, axis), np.flip(total, axis)
    total += roll
    chart = chart_of(names, roll, total, at_standard="temperature_degC" not in names)
    points = np.column_stack([dice.uniform(AXES[name][0], AXES[name][-1], POINTS) for name in names])
    # A tenth of the points lies on printed lines, where a cell's edge must not be missed.
    for column, name in enumerate(names):
        on_line = dice.choice(POINTS, POINTS // 10, replace=False)
        points[on_line, column] = dice.choice(AXES[name], POINTS // 10)
    axes = [AXES[name] for name in names]
    expected = [RegularGridInterpolator(axes, cells)(points) for cells in (roll, total)]
    for i, point in enumerate(points):
        inputs = {name: float(value) for name, value in zip(names, point, strict=True)} | BOUND
        values = work(chart.look_ups(), inputs, keep_steps=False).values
        assert abs(values["roll"] / expected[0][i] - 1) < 1e-9
        assert abs(values["total"] / expected[1][i] - 1) < 1e-9
    for quantity, there in zip(("roll", "total"), expected, strict=True):
        np.testing.assert_allclose(look_up_many(chart, quantity, points), there, rtol=1e-9)


def test_the_shares_of_the_cells_touched_make_one() -> None:
    dice = np.random.default_rng(7)
    grid = Grid(tuple(Axis(name, points) for name, points in AXES.items()), "random cells")
    for _ in range(200):
        at = tuple(float(dice.uniform(points[0], points[-1])) for points in AXES.values())
        corners, edges = grid.corners(at)
        assert sum(corner.share for corner in corners) == pytest.approx(1.0, abs=1e-12)
        assert all(0 < corner.share <= 1 for corner in corners)
        assert len(corners) == 16
        assert edges == ()

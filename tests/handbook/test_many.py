"""Look-ups at very many points at once give what they give one by one: values, refusals, edges.

Source of the expected numbers: the look-up one by one. `tests/published/test_interpolation_against_scipy.py` holds
both against an independent library.
"""

from __future__ import annotations

from dataclasses import replace
from math import isnan, nan

import numpy as np
import pytest
from numpy.typing import NDArray

from briefgen.errors import Refusal
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.many import look_up_many
from briefgen.handbook.table import Axis, Grid

HEIGHTS = Axis("pressure_altitude_ft", (0.0, 1000.0, 2500.0, 4000.0), True)
DEGREES = Axis("temperature_degC", (0.0, 15.0, 30.0))
WEIGHTS = Axis("weight_lb", (2000.0, 2400.0), True)
WIND = Axis("headwind_kt", (-5.0, 0.0, 10.0))


def chart(*axes: Axis) -> DistanceChart:
    """Return a chart whose roll rises by 100 ft, and total by 150, with each line to the worse side."""
    grid = Grid(axes, "p. 5")
    worse = {
        cell: sum(-i if axis.name == "headwind_kt" else i for axis, i in zip(axes, cell, strict=True))
        for cell in grid.cells()
    }
    roll = {cell: 1000.0 + 100 * steps for cell, steps in worse.items()}
    total = {cell: 2000.0 + 150 * steps for cell, steps in worse.items()}
    return DistanceChart("takeoff", "10", grid, dict(roll), dict(total), ChartConditions("", "", ""))


def one_by_one(table: DistanceChart, quantity: str, points: NDArray[np.float64]) -> list[float]:
    found = []
    for point in points:
        try:
            found.append(table.value(quantity, tuple(map(float, point))))
        except Refusal:
            found.append(nan)
    return found


def points_on(table: DistanceChart, count: int = 3000) -> NDArray[np.float64]:
    """Return points on and around a table; a third of their coordinates on printed lines."""
    dice = np.random.default_rng(7)
    columns = []
    for axis in table.grid.axes:
        low, high = axis.points[0], axis.points[-1]
        spare = max(high - low, 10.0) / 6
        column = dice.uniform(low - spare, high + spare, count)
        on_line = dice.random(count) < 1 / 3
        column[on_line] = dice.choice(axis.points, int(on_line.sum()))
        columns.append(column)
    return np.column_stack(columns)


TABLES = [
    chart(HEIGHTS),
    chart(HEIGHTS, DEGREES),
    chart(HEIGHTS, DEGREES, WEIGHTS),
    chart(HEIGHTS, DEGREES, WEIGHTS, WIND),
    chart(HEIGHTS, WEIGHTS._replace(points=(2400.0,))),
    chart(WEIGHTS._replace(points=(2400.0,))),
    chart(Axis("pressure_altitude_ft", tuple(500.0 * i for i in range(20))), DEGREES),
]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: str([len(axis.points) for axis in table.grid.axes]))
@pytest.mark.parametrize("quantity", ["roll", "total"])
def test_many_are_what_each_is(table: DistanceChart, quantity: str) -> None:
    points = points_on(table)
    expected = one_by_one(table, quantity, points)
    refused = sum(map(isnan, expected))
    assert 0 < refused < len(points)
    np.testing.assert_allclose(look_up_many(table, quantity, points), expected, rtol=1e-9)


@pytest.mark.parametrize("checked", [False, True])
def test_blank_cells_and_such_as_are_amiss_are_refused_as_one_by_one(checked: bool) -> None:
    table = chart(HEIGHTS, DEGREES, WEIGHTS)
    roll = {**table.roll, (3, 2, 1): None, (1, 1, 0): 500.0, (2, 0, 1): 9000.0}
    table = replace(table, roll=roll, checked={(1, 1, 0): "as printed"} if checked else {})
    points = points_on(table)
    for quantity in ("roll", "total"):
        expected = one_by_one(table, quantity, points)
        assert sum(map(isnan, expected)) > 500
        np.testing.assert_allclose(look_up_many(table, quantity, points), expected, rtol=1e-9)


def test_what_is_not_a_number_is_refused_and_nothing_is_extrapolated() -> None:
    table = chart(HEIGHTS, DEGREES, WEIGHTS)
    points = np.array([[nan, 10, 2100], [500, nan, 2100], [500, 10, nan], [4000.1, 10, 2100], [-9e9, 15, 1.0]])
    found = look_up_many(table, "roll", points)
    assert [isnan(each) for each in found] == [True, True, True, True, False]
    assert found[4] == 1100  # the lowest row and the lightest weight, at 15 degC
    assert len(look_up_many(table, "roll", points[:0])) == 0


def test_points_that_are_all_on_a_sound_table_need_no_second_look() -> None:
    table = chart(HEIGHTS, DEGREES)
    points = np.array([[0.0, 0.0], [500.0, 7.5], [4000.0, 30.0]])
    assert look_up_many(table, "roll", points) == pytest.approx([1000, 1100, 1500])

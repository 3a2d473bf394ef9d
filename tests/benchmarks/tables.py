"""Print how fast tables are looked up, each as a ratio to scipy's on the same points. None is asserted.

Run by `make bench`. Every point is another one, and what is remembered of single points is forgotten before each
run, so that no memory flatters. What a chart keeps of its boxes of cells stays, as the other keeps its grid. The
ratios are medians of runs taken in turn.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from functools import partial

import numpy as np
from scipy.interpolate import RegularGridInterpolator

from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.many import look_up_many
from briefgen.handbook.table import Axis, Grid

AXES = {
    "pressure_altitude_ft": tuple(1000.0 * row for row in range(9)),
    "temperature_degC": (0.0, 10.0, 20.0, 30.0, 40.0),
    "weight_lb": (2150.0, 2350.0, 2550.0),
    "headwind_kt": (0.0, 10.0, 20.0, 30.0),
}
MANY, ONE_BY_ONE, ROUNDS = 100_000, 2000, 11


def main() -> None:
    """Print a line for each number of axes."""
    for count in (2, 3, 4):
        names = tuple(AXES)[:count]
        dice = np.random.default_rng(20260516)
        cells = dice.uniform(10.0, 200.0, [len(AXES[name]) for name in names])
        for axis, name in enumerate(names):
            cells = np.cumsum(cells, axis)
            cells = np.flip(cells, axis) if name == "headwind_kt" else cells
        grid = Grid(tuple(Axis(name, AXES[name]) for name in names), "random cells")
        roll = {cell: float(cells[cell]) for cell in grid.cells()}
        total = {cell: 2 * value for cell, value in roll.items()}
        chart = DistanceChart("takeoff", "10", grid, dict(roll), dict(total), ChartConditions("", "", ""))
        points = np.column_stack([dice.uniform(AXES[name][0], AXES[name][-1], MANY) for name in names])
        theirs = RegularGridInterpolator([AXES[name] for name in names], cells)
        few = [tuple(map(float, point)) for point in points[:ONE_BY_ONE]]

        one = _ratio(partial(_each, partial(chart.value, "roll"), few), partial(_each, theirs, few), chart)
        many = _ratio(partial(look_up_many, chart, "roll", points), partial(theirs, points), chart)
        print(f"{count} axes, one by one: {one} as fast as scipy, wanted 5; {MANY:,} at once: {many}, wanted 1")


def _each(look_up: Callable[[tuple[float, ...]], object], points: list[tuple[float, ...]]) -> None:
    for point in points:
        look_up(point)


def _ratio(ours: Callable[[], object], theirs: Callable[[], object], chart: DistanceChart) -> str:
    pairs = []
    for _ in range(ROUNDS):
        chart.grid.corners.cache_clear()  # type: ignore[attr-defined]
        chart.value.cache_clear()  # type: ignore[attr-defined]
        pairs.append((_clock(ours), _clock(theirs)))
    ratio = statistics.median(b / a for a, b in pairs)
    mine = statistics.median(a for a, _ in pairs)
    return f"{ratio:.1f} times ({mine * 1e3:.1f} ms)"


def _clock(run: Callable[[], object]) -> float:
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


if __name__ == "__main__":
    main()

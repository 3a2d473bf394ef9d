"""The surface through a table: against numpy's least squares, and against surfaces that are known."""

from __future__ import annotations

import random
from itertools import product
from math import inf

import numpy as np
import pytest

from briefgen.studies.surface import FAR, Surface, surface

GRID = [(float(a), float(t), float(w)) for a, t, w in product(range(9), range(5), range(3))]


def bowl(point: tuple[float, ...]) -> float:
    """A surface of the second degree, which the plainest form holds exactly."""
    a, t, w = (*point, 0.0, 0.0)[:3]
    return 6.0 + 0.1 * a + 0.07 * t + 0.2 * w + 0.002 * a * a + 0.001 * a * t + 0.003 * t * w


def through(points: list[tuple[float, ...]], values: list[float], noise: float = 0.001) -> Surface:
    found = surface(points, values, [noise] * len(points))
    assert found is not None
    return found


def test_a_cell_far_off_is_left_out_and_its_own_value_expected() -> None:
    values = [bowl(point) for point in GRID]
    for at in (0, 67, len(GRID) - 1):  # a corner, the middle, the other corner
        spoilt = [*values[:at], values[at] + 2.3, *values[at + 1 :]]  # in logarithms: a digit too many
        found = through(GRID, spoilt)
        assert [i for i, kept in enumerate(found.kept) if not kept] == [at]
        assert found.cells[at].expected == pytest.approx(values[at], abs=1e-6)
        assert found.cells[at].off > 100 * FAR


def test_cells_that_rounding_has_moved_are_expected_as_numpy_does() -> None:
    """Without a cell: (value - H value) / (1 - leverage) off, from the hat matrix of numpy's pseudo-inverse."""
    dice = random.Random(1)
    values = [bowl(point) + dice.uniform(-0.002, 0.002) for point in GRID]
    found = through(GRID, values, 0.002 / 3**0.5)
    assert all(found.kept)
    scaled = (np.array(GRID) - [4, 2, 1]) / [4, 2, 1]
    powers = [each for each in product(range(3), repeat=3) if sum(each) <= 3]
    matrix = np.array([[np.prod(point ** np.array(each)) for each in powers] for point in scaled])
    hat = matrix @ np.linalg.pinv(matrix)
    off = (np.array(values) - hat @ values) / (1 - np.diag(hat))
    expected = np.array(values) - off
    assert [cell.expected for cell in found.cells] == pytest.approx(expected.tolist(), abs=1e-9)


def test_a_whole_edge_row_out_of_place_is_found() -> None:
    values = [bowl(point) for point in GRID]
    row = [i for i, (a, _, w) in enumerate(GRID) if (a, w) == (8.0, 2.0)]
    spoilt = [value + (0.1 if i in row else 0.0) for i, value in enumerate(values)]
    found = through(GRID, spoilt)
    assert [i for i, cell in enumerate(found.cells) if abs(cell.off) > FAR] == row


def test_in_a_small_table_a_corner_does_not_pull_the_surface_to_itself() -> None:
    points = [(float(a), float(t)) for a, t in product(range(5), range(3))]
    values = [bowl(point) for point in points]
    for at in range(len(points)):
        found = through(points, [value + (0.3 if i == at else 0.0) for i, value in enumerate(values)])
        assert [i for i, cell in enumerate(found.cells) if abs(cell.off) > FAR] == [at]


def test_a_bend_of_four_cells_is_no_slip() -> None:
    """Logarithms of 1460, 2000, 2660, 3700 ft: a takeoff table bends so much; one digit lost does not."""
    points = [(0.0,), (2500.0,), (5000.0,), (7500.0,)]
    bent = through(points, [7.286, 7.601, 7.886, 8.216])
    assert all(abs(cell.off) <= FAR for cell in bent.cells)
    lost = through(points, [7.286, 7.601 - 2.303, 7.886, 8.216])
    assert abs(lost.cells[1].off) > FAR


def test_a_cell_that_nothing_else_tells_of_is_not_judged() -> None:
    """One cell alone at its temperature: whatever it is, the surface can bend to it."""
    points = [(float(a), 0.0) for a in range(9)] + [(4.0, 1.0)]
    found = through(points, [bowl(point) for point in points[:-1]] + [99.0])
    assert (found.cells[-1].error, found.cells[-1].off) == (inf, 0.0)


@pytest.mark.parametrize("points", [[], [(0.0,)], [(0.0,), (1.0,), (2.0,)], [(0.0, 5.0)] * 1])
def test_too_few_cells_have_no_surface(points: list[tuple[float, ...]]) -> None:
    assert surface(points, [1.0] * len(points), [0.1] * len(points)) is None

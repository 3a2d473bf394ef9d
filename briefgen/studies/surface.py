"""The smooth surface that a printed table lies on, found although some of its cells are wrong.

A polynomial of low degree in the axes of a table, fitted so that a few cells far off it do not pull it: first by
the least sum of distances, or with every cell of a small table left out in turn; then by least squares over the
cells that stay near, cells being left out and let in again until that settles. Plain arithmetic: tables are small.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from math import inf, prod, sqrt
from operator import mul
from statistics import median
from typing import NamedTuple

FAR = 5.0  # so many standard errors off the surface a cell is out of place; set on clean tables, no source
_RICHER = 1.4  # a fit with more scatter than this, in shares of what rounding explains, asks for a richer surface
_LEAST_SCATTER = 0.8  # no table is taken to be smoother than this share of its rounding
_FREE = 2  # cells beside those that a surface needs, at least
_TRIES = 12
_FEW = 40  # cells: in so small a table every one of them is left out in turn
_FITS = 1.5  # the scatter of cells that agree with each other
_MUCH = 4.0  # by so much one cell left out must better the scatter of a small table that is rough
_STRAIGHT = 0.03  # how far off a straight line a curve of four cells may be, a share of how far they rise
_BEND = 0.06  # the same of a small table off its surface, shared by its cells; both seen on tables with a kink
_MEDIAN_TO_DEVIATION = 1.4826  # of a normal distribution
# Highest power along altitude, temperature, weight and wind, and highest sum; the plainest that fits is taken.
_PLAIN = ((2, 2, 2, 2), 3)
_RICH = ((3, 2, 2, 2), 4)
_LINE = ((1, 1, 1, 1), 1)
_POORER = (((2, 1, 1, 1), 2), _LINE)

Point = tuple[float, ...]
Vector = list[float]


class Fitted(NamedTuple):
    """What the surface says of one cell, were the cell itself not there: `off` is in standard errors."""

    expected: float
    error: float
    off: float


class Surface(NamedTuple):
    """The cells' fits, in their order; `scatter` of those that were kept, in shares of the noise expected."""

    cells: tuple[Fitted, ...]
    kept: tuple[bool, ...]
    scatter: float


def surface(points: Sequence[Point], values: Sequence[float], noise: Sequence[float]) -> Surface | None:
    """Return the surface through a table's cells; None where there are too few cells to tell.

    Parameters
    ----------
    points : of the cells, each of the axes in any unit.
    values : of the cells.
    noise : standard deviation that rounding gives each value, over 0.
    """
    if not points:
        return None
    scaled = _scaled(points)
    enough = [form for form in (_PLAIN, *_POORER) if _enough(scaled, form)]
    if not enough:
        return None
    bend = _bend(values, enough[0])
    noise = [sqrt(each * each + bend * bend) for each in noise]
    found = _settled(_basis(scaled, enough[0]), values, noise)
    if found.scatter > _RICHER and enough[0] is _PLAIN and len(points) >= 3 * _terms(scaled, _RICH):
        richer = _settled(_basis(scaled, _RICH), values, noise)
        if richer.scatter < found.scatter:
            return richer
    return found


def _bend(values: Sequence[float], form: tuple[tuple[int, ...], int]) -> float:
    """Return how far off its surface a small table may be, beside its rounding: of a kink few cells tell."""
    n = len(values)
    if n > _FEW:
        return 0.0
    end = 1 if n > 4 else 0  # the outermost may be the slip
    inner = sorted(values)[end : n - end]
    rise = (inner[-1] - inner[0]) * (n - 1) / (len(inner) - 1)
    return rise * (_STRAIGHT if form == _LINE else _BEND / n)


def _scaled(points: Sequence[Point]) -> list[Point]:
    """Return points with every axis from -1 to 1; an axis of one point is left out."""
    spans = [(min(axis), max(axis)) for axis in zip(*points, strict=True)]
    return [
        tuple(
            [(2 * x - low - high) / (high - low) for x, (low, high) in zip(point, spans, strict=True) if high > low]
        )
        for point in points
    ]


def _powers(points: Sequence[Point], form: tuple[tuple[int, ...], int]) -> list[tuple[int, ...]]:
    highest, most = form
    ranges = [
        range(min(top, len(set(axis)) - 1) + 1)
        for top, axis in zip(highest, zip(*points, strict=True), strict=False)
    ]
    return [powers for powers in product(*ranges) if sum(powers) <= most]


def _terms(points: Sequence[Point], form: tuple[tuple[int, ...], int]) -> int:
    return len(_powers(points, form))


def _enough(points: Sequence[Point], form: tuple[tuple[int, ...], int]) -> bool:
    terms = _terms(points, form)
    return len(points) >= terms + _FREE + terms // 4


def _basis(points: Sequence[Point], form: tuple[tuple[int, ...], int]) -> list[Vector]:
    """Return the terms of a surface at every cell, each made perpendicular to those before it."""
    basis: list[Vector] = []
    for powers in _powers(points, form):
        term = [prod([x**power for x, power in zip(point, powers, strict=True)]) for point in points]
        for _ in range(2):  # twice is enough for the last bits
            for other in basis:
                share = _dot(term, other)
                term = [a - share * b for a, b in zip(term, other, strict=True)]
        length = sqrt(_dot(term, term))
        if length > 1e-6:  # else the cells that are not blank cannot tell it from the others
            basis.append([a / length for a in term])
    return basis


def _settled(basis: list[Vector], values: Sequence[float], noise: Sequence[float]) -> Surface:
    """Return the surface over the cells that stay near it."""
    n = len(values)
    kept = _all_but_one(basis, values, noise) or _first_kept(basis, values, noise)
    for _ in range(_TRIES):
        made = _fit(basis, values, noise, kept)
        near = [abs(each.off) <= FAR for each in made.cells]
        if near == kept or sum(near) < min(n, len(basis) + _FREE):
            break
        kept = near
    return made


def _all_but_one(basis: list[Vector], values: Sequence[float], noise: Sequence[float]) -> list[bool] | None:
    """Return all cells of a small table, or all but the one without which the rest agree; None if there is none."""
    n = len(values)
    if n > _FEW:
        return None
    every = [True] * n
    best, scatter = every, _scatter(basis, values, noise, every)
    enough = max(_FITS, scatter / _MUCH)
    if scatter > _FITS:
        for i in range(n):
            kept = [j != i for j in range(n)]
            without = _scatter(basis, values, noise, kept)
            if without < scatter:
                best, scatter = kept, without
    return best if scatter <= enough else None


def _scatter(basis: list[Vector], values: Sequence[float], noise: Sequence[float], kept: Sequence[bool]) -> float:
    """Return how far kept cells are off their own surface, in shares of the noise expected."""
    weights = [1 / (each * each) if keep else 0.0 for each, keep in zip(noise, kept, strict=True)]
    rest = _rest(basis, values, _solved(basis, values, weights)[0])
    return _spread(weights, rest, sum(kept) - len(basis))


def _spread(weights: Vector, rest: Vector, free: int) -> float:
    total = sum([weight * off * off for weight, off in zip(weights, rest, strict=True)])
    return sqrt(total / max(free, 1))


def _first_kept(basis: list[Vector], values: Sequence[float], noise: Sequence[float]) -> list[bool]:
    """Return which cells are near the surface of the least sum of distances."""
    rest = list(values)
    for turn in range(_TRIES):
        least = max(4.0 / 2**turn, 0.25)
        weights = [
            1 / (each * each * (max(abs(off) / each, least) if turn else 1.0))
            for each, off in zip(noise, rest, strict=True)
        ]
        rest = _rest(basis, values, _solved(basis, values, weights)[0])
    sizes = [abs(off) / each for off, each in zip(rest, noise, strict=True)]
    share = len(values) / max(len(values) - len(basis), 1)
    spread = max(median(sizes) * _MEDIAN_TO_DEVIATION * sqrt(share), _LEAST_SCATTER)
    return [size <= 4 * spread for size in sizes]


def _fit(basis: list[Vector], values: Sequence[float], noise: Sequence[float], kept: Sequence[bool]) -> Surface:
    """Return the surface by least squares over the kept cells, and how far every cell is from it."""
    weights = [1 / (each * each) if keep else 0.0 for each, keep in zip(noise, kept, strict=True)]
    answer, factor = _solved(basis, values, weights)
    rest = _rest(basis, values, answer)
    scatter = max(_spread(weights, rest, sum(kept) - len(basis)), _LEAST_SCATTER)
    cells = []
    for i, (value, off, each, keep) in enumerate(zip(values, rest, noise, kept, strict=True)):
        lever = _lever(factor, [term[i] for term in basis]) / (each * each)
        if not keep:
            error, away = scatter * each * sqrt(1 + lever), off
        elif lever < 1 - 1e-9:
            error, away = scatter * each / sqrt(1 - lever), off / (1 - lever)
        else:  # nothing but the cell itself says where the surface is there
            error, away = inf, 0.0
        cells.append(Fitted(value - away, error, away / error))
    return Surface(tuple(cells), tuple(kept), scatter)


def _rest(basis: list[Vector], values: Sequence[float], answer: Vector) -> Vector:
    fitted = [0.0] * len(values)
    for share, term in zip(answer, basis, strict=True):
        fitted = [a + share * b for a, b in zip(fitted, term, strict=True)]
    return [value - each for value, each in zip(values, fitted, strict=True)]


def _solved(basis: list[Vector], values: Sequence[float], weights: Vector) -> tuple[Vector, list[Vector]]:
    """Return the shares of least squares, and the triangular factor of their equations."""
    weighted = [list(map(mul, term, weights)) for term in basis]
    matrix = [[_dot(a, b) for b in basis[: i + 1]] for i, a in enumerate(weighted)]
    factor = _factored(matrix)
    middle = _forward(factor, [_dot(term, values) for term in weighted])
    return _backward(factor, middle), factor


def _factored(matrix: list[Vector]) -> list[Vector]:
    """Return the lower triangle whose square a positive matrix is (Cholesky)."""
    least = 1e-12 * max(row[-1] for row in matrix)
    factor: list[Vector] = []
    for i, row in enumerate(matrix):
        made: Vector = []
        for j in range(i):
            made.append((row[j] - _dot(made, factor[j][:j])) / factor[j][j])
        made.append(sqrt(max(row[i] - _dot(made, made), least)))
        factor.append(made)
    return factor


def _forward(factor: list[Vector], right: Sequence[float]) -> Vector:
    found: Vector = []
    for row, value in zip(factor, right, strict=True):
        found.append((value - _dot(row, found)) / row[-1])
    return found


def _backward(factor: list[Vector], right: Vector) -> Vector:
    found, size = list(right), len(right)
    for i in reversed(range(size)):
        found[i] = (found[i] - sum([factor[k][i] * found[k] for k in range(i + 1, size)])) / factor[i][i]
    return found


def _lever(factor: list[Vector], row: Vector) -> float:
    half = _forward(factor, row)
    return _dot(half, half)


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    """Return the sum of products over the shorter of two."""
    found: float = sum(map(mul, a, b))
    return found

"""Look a value up in a printed table: linear between printed cells, and never past them."""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import product
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.handbook.axes import BEHIND, QUANTITIES, about, brief, said

_GRACE = 1e-6  # of any unit: what the last bits of a conversion make of a value that is printed

CHECKED = "; cell checked: "  # in a step's detail, before the reason for which a cell that looks wrong is used


class Axis(NamedTuple):
    """One axis of a table.

    `points` rise strictly. `low_edge`: below the first point the first point's values may be used, because
    they are no better than what was asked for; otherwise, and always past the last point, the table is
    refused. `unit`: the page's own, '' where that is the inside unit, in which the points are kept.
    """

    name: str  # the input looked up, a key of `axes.QUANTITIES`
    points: tuple[float, ...]
    low_edge: bool = False
    unit: str = ""

    def place(self, value: float, page: str) -> tuple[int, float, bool]:
        """Return the cell's lower index, the fraction into it (0 to 1), and whether the edge was used.

        Raises
        ------
        Refusal : `value` is outside the printed points, and that end is not declared as an edge.
        """
        points = self.points
        if value < points[0]:
            if self.low_edge:
                return 0, 0.0, True
            raise self._refusal(value, "below the table's lowest", points[0], page)
        if value > points[-1]:
            raise self._refusal(value, "above the table's highest", points[-1], page)
        if len(points) == 1:
            return 0, 0.0, False
        index = min(bisect_right(points, value) - 1, len(points) - 2)
        return index, (value - points[index]) / (points[index + 1] - points[index]), False

    def _refusal(self, value: float, words: str, end: float, page: str) -> Refusal:
        asked, printed = (said(self.name, each, self.unit) for each in (value, end))
        if about(self.name, value) == BEHIND:
            words = "more than the table prints"
        return Refusal(f"{asked} is {words}, {printed} ({page})", about(self.name, value))

    def worse(self, value: float) -> float:
        """Return the printed point nearest to a value on the side that is worse for the airplane.

        Parameters
        ----------
        value : within the points, or below the first where that end may be used.
        """
        points = self.points
        if QUANTITIES[self.name].rises:
            return points[min(bisect_left(points, value - _GRACE), len(points) - 1)]
        return points[max(bisect_right(points, value + _GRACE) - 1, 0)]


class Corner(NamedTuple):
    """One printed cell that a look-up touched, and its share of the answer."""

    cell: tuple[int, ...]
    share: float


@cache
def neighbours(corners: int) -> tuple[tuple[int, int], ...]:
    """Return which of the corners of a look-up stand next to each other along an axis: a lower one and the next.

    Parameters
    ----------
    corners : how many: 1, 2, 4, 8 ... in the order of `Grid.corners`.

    >>> neighbours(4)
    ((0, 1), (2, 3), (0, 2), (1, 3))
    """
    steps = [1 << bit for bit in range(corners.bit_length() - 1)]
    return tuple((low, low + step) for step in steps for low in range(corners) if not low & step)


@dataclass(frozen=True, slots=True, eq=False)  # one grid is itself: it keys the cells found before
class Grid:
    """The axes of one printed table, and the page it is on."""

    axes: tuple[Axis, ...]
    page: str

    @lru_cache(maxsize=1024)  # noqa: B019 - bounded; one brief asks for the same few points again and again
    def corners(self, coordinates: tuple[float, ...]) -> tuple[list[Corner], tuple[str, ...]]:
        """Return the cells that a look-up touches, and the names of the axes whose edge was used.

        Only cells with a share above nil are touched: a look-up on a printed line never needs the cells
        beside that line.
        """
        corners: list[tuple[tuple[int, ...], float]] = [((), 1.0)]
        edges: list[str] = []
        for axis, value in zip(self.axes, coordinates, strict=True):
            index, fraction, edge = axis.place(value, self.page)
            if edge:
                edges.append(axis.name)
            if fraction == 0:
                corners = [((*at, index), share) for at, share in corners]
            elif fraction == 1:
                corners = [((*at, index + 1), share) for at, share in corners]
            else:
                corners = [
                    ((*at, index + step), share * part)
                    for at, share in corners
                    for step, part in ((0, 1 - fraction), (1, fraction))
                ]
        return [Corner(*corner) for corner in corners], tuple(edges)

    def box(self, coordinates: tuple[float, ...]) -> tuple[tuple[int, int], list[float]]:
        """Return which cells a look-up touches, as a key that the same cells have, and the fractions between them.

        The cells are those of `corners`, in its order; on a printed line there is no fraction along that axis.
        """
        start = between = 0
        fractions: list[float] = []
        for axis, value in zip(self.axes, coordinates, strict=True):
            index, fraction, _ = axis.place(value, self.page)
            between *= 2
            if fraction == 1:
                index += 1
            elif fraction:
                between += 1
                fractions.append(fraction)
            start = start * len(axis.points) + index
        return (start, between), fractions

    def said(self, index: tuple[int, ...]) -> str:
        """Return where a cell is, in the words of the table's own axes."""
        return ", ".join(
            said(axis.name, axis.points[i], axis.unit)
            for axis, i in zip(self.axes, index, strict=True)
            if len(axis.points) > 1
        )

    def short(self, index: tuple[int, ...]) -> str:
        """Return where a cell is, in figures and units alone."""
        return ", ".join(
            brief(axis.name, axis.points[i], axis.unit)
            for axis, i in zip(self.axes, index, strict=True)
            if len(axis.points) > 1
        )

    def worse(self, coordinates: tuple[float, ...]) -> tuple[float, ...]:
        """Return the printed point on the worse side of coordinates that the table reaches."""
        return tuple([axis.worse(value) for axis, value in zip(self.axes, coordinates, strict=True)])

    def place_of(self, name: str) -> int:
        """Return which axis has a name; -1 where none has."""
        return next((i for i, axis in enumerate(self.axes) if axis.name == name), -1)

    def cells(self) -> list[tuple[int, ...]]:
        """Return the index of every cell, in printed order."""
        return list(product(*(range(len(axis.points)) for axis in self.axes)))

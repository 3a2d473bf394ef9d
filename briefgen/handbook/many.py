"""Look distances up at very many points at once, with the same answers and refusals as one by one.

For studies over samples; the only module here that needs numpy, which is imported when it is first asked.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise, product
from typing import TYPE_CHECKING, Any, NamedTuple

from briefgen.errors import Refusal
from briefgen.handbook.chart import DistanceChart

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]
    Places = NDArray[np.intp]

_AT_ONCE = 8192  # points: what is in work then stays near the processor
_NEAR = 1e-9
_FEW = 16  # points of an axis that are faster compared one by one than searched


def look_up_many(chart: DistanceChart, quantity: str, points: Numbers) -> Numbers:
    """Return a distance [ft] for every point, linear between the printed cells; not a number where it is refused.

    Parameters
    ----------
    chart : a takeoff or landing distance chart.
    quantity : 'roll' or 'total'.
    points : shape (n, axes), in the order of the chart's axes and their inside units.
    """
    import numpy as np

    columns = np.ascontiguousarray(np.asarray(points, dtype=float).T)
    table = _table(chart, quantity)
    answer = np.empty(columns.shape[1])
    for start in range(0, len(answer), _AT_ONCE):
        part = slice(start, start + _AT_ONCE)
        answer[part] = _looked_up(table, columns[:, part])
    return answer


class _Table(NamedTuple):
    """One column of a chart as arrays: its cells laid flat, and whether a look-up inside each box is answered."""

    chart: DistanceChart
    quantity: str
    cells: Numbers
    strides: tuple[int, ...]
    sound: NDArray[np.bool_]
    all_sound: bool


@lru_cache(maxsize=64)
def _table(chart: DistanceChart, quantity: str) -> _Table:
    """Return a chart's column; each box is asked for in its middle, one by one."""
    import numpy as np

    axes = chart.grid.axes
    column = chart.roll if quantity == "roll" else chart.total
    printed = [column[cell] for cell in chart.grid.cells()]
    cells = np.array([np.nan if value is None else value for value in printed])
    middles = [[(a + b) / 2 for a, b in pairwise(axis.points)] or [axis.points[0]] for axis in axes]
    boxes = np.zeros([len(axis.points) for axis in axes], dtype=bool)
    for place in product(*(range(len(each)) for each in middles)):
        middle = tuple([each[i] for each, i in zip(middles, place, strict=True)])
        boxes[place] = not np.isnan(_one(chart, quantity, middle))
    inner = boxes[tuple(slice(len(each)) for each in middles)]
    strides = tuple(stride // boxes.itemsize for stride in boxes.strides)
    return _Table(chart, quantity, cells, strides, boxes.ravel(), bool(inner.all()))


def _one(chart: DistanceChart, quantity: str, point: tuple[float, ...]) -> float:
    try:
        return chart.value(quantity, point)
    except Refusal:
        return float("nan")


def _looked_up(table: _Table, columns: Numbers) -> Numbers:
    """Return the distances at some points; what lies off the table or among cells that are amiss is asked apart."""
    import numpy as np

    start: Any = 0
    between: list[tuple[int, Numbers]] = []
    off: Any = None
    for axis, stride, column in zip(table.chart.grid.axes, table.strides, columns, strict=True):
        first, last = axis.points[0], axis.points[-1]
        value = column
        if not (value.min() >= first and value.max() <= last):  # not a number is not inside either
            outside = ~(value <= last) if axis.low_edge else ~((value >= first) & (value <= last))
            off = outside if off is None else off | outside
            value = np.clip(np.where(outside, first, value), first, last)
        if len(axis.points) > 1:
            place, fraction = _placed(axis.points, value)
            start = start + place * stride
            between.append((stride, fraction))
    start = np.broadcast_to(start, columns.shape[1:])
    found = _mixed(table.cells, start, between)
    if not table.all_sound:
        amiss = np.flatnonzero(~table.sound[start])
        found[amiss] = np.nan
        on_line = np.zeros(len(amiss), dtype=bool)  # which may touch none of the cells that are amiss
        for _, fraction in between:
            on_line |= (fraction[amiss] == 0) | (fraction[amiss] > 1 - _NEAR)
        for i in amiss[on_line]:
            found[i] = _one(table.chart, table.quantity, tuple(map(float, columns[:, i])))
    if off is not None:
        found[off] = np.nan
    return found


def _placed(printed: tuple[float, ...], value: Numbers) -> tuple[Places, Numbers]:
    """Return the lower index of each value's box along an axis, and the fraction into it."""
    import numpy as np

    points = np.array(printed)
    if len(printed) <= _FEW:
        few = np.zeros(len(value), dtype=np.uint8)
        for point in printed[1:-1]:
            few += value >= point
        place = few.astype(np.intp)
    else:
        place = np.searchsorted(points[1:-1], value, side="right")
    fraction = value - np.take(points, place)
    fraction *= np.take(1 / np.diff(points), place)
    return place, fraction


def _mixed(cells: Numbers, start: Places, between: list[tuple[int, Numbers]]) -> Numbers:
    """Return the linear mix of the cells around each point, one axis after another."""
    import numpy as np

    if not between:
        return np.take(cells, start)
    (stride, fraction), rest = between[0], between[1:]
    low, high = _mixed(cells, start, rest), _mixed(cells[stride:], start, rest)
    high -= low
    high *= fraction
    low += high
    return low

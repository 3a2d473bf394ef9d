"""Lay an envelope out to scale, in tenths of a millimetre: its line, its axes, the line that the burn draws."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor
from typing import NamedTuple

from briefgen.loading import EnvelopeChart

HEIGHT = 640
LEFT, RIGHT, TOP, BOTTOM = 120, 40, 20, 84  # room for the labels of the axes
_STEPS = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 250, 500, 1000, 2000)
_LETTER, _LINE, _AWAY = 17.0, 40.0, 46.0  # mean width of a letter, height of a line, from a point to its label


class Tick(NamedTuple):
    """A number on an axis."""

    text: str
    at: float


class Spot(NamedTuple):
    """A point of the burn line at `x`, `y`; its label begins or ends at `text_x`, as `anchor` says, on `text_y`."""

    text: str
    x: float
    y: float
    text_x: float
    text_y: float
    anchor: str  # 'start' or 'end', as SVG has it
    moved: bool  # so far from its point that a line leads to it


class EnvelopeDrawing(NamedTuple):
    """Everything that the envelope's template draws."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    corners: str  # of the envelope, as SVG writes points
    burn: str
    spots: tuple[Spot, ...]
    weights: tuple[Tick, ...]
    across: tuple[Tick, ...]
    unit: str
    text: str


def lay_out(chart: EnvelopeChart, width: float) -> EnvelopeDrawing:
    """Return the drawing of an envelope and its burn line, for a width in tenths of a millimetre."""
    xs = [x for x, _ in chart.corners] + [x for _, x, _ in chart.path]
    ys = [y for _, y in chart.corners] + [y for _, _, y in chart.path]
    (low_x, high_x), (low_y, high_y) = _padded(xs), _padded(ys)
    right, bottom = width - RIGHT, HEIGHT - BOTTOM

    def place(x: float, y: float) -> tuple[float, float]:
        across = LEFT + (x - low_x) / (high_x - low_x) * (right - LEFT)
        return round(across, 1), round(bottom - (y - low_y) / (high_y - low_y) * (bottom - TOP), 1)

    burn = [(name, *place(x, y)) for name, x, y in chart.path]
    return EnvelopeDrawing(
        width=width,
        height=HEIGHT,
        left=LEFT,
        right=right,
        top=TOP,
        bottom=bottom,
        corners=_written(place(x, y) for x, y in chart.corners),
        burn=_written((x, y) for _, x, y in burn),
        spots=_spots(burn, width),
        weights=tuple(Tick(f"{y:,.0f}", place(low_x, y)[1]) for y in _ticks(low_y, high_y, 5)),
        across=tuple(Tick(f"{x:,.0f}", place(x, low_y)[0]) for x in _ticks(low_x, high_x, 7)),
        unit=chart.unit,
        text=chart.text,
    )


def _padded(values: list[float]) -> tuple[float, float]:
    """Return the ends of an axis with a twelfth of its length to spare on both sides."""
    low, high = min(values), max(values)
    spare = (high - low or 1.0) / 12
    return low - spare, high + spare


def _ticks(low: float, high: float, most: int) -> list[float]:
    """Return round numbers between the ends of an axis, at most so many."""
    step = next((step for step in _STEPS if (high - low) / step <= most), _STEPS[-1])
    return [i * step for i in range(ceil(low / step), floor(high / step) + 1)]


def _written(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{x},{y}" for x, y in points)


def _spots(burn: list[tuple[str, float, float]], width: float) -> tuple[Spot, ...]:
    """Return the points with their labels beside them, moved down where they would lie over one another."""
    spots: list[Spot] = []
    for name, x, y in burn:
        long = len(name) * _LETTER
        after = x + _AWAY + long < width - RIGHT
        text_x, text_y = (x + _AWAY if after else x - _AWAY), y + 12
        while any(abs(text_y - other.text_y) < _LINE and abs(text_x - other.text_x) < long for other in spots):
            text_y = round(text_y + _LINE / 4, 1)
        anchor = "start" if after else "end"
        spots.append(Spot(name, x, y, round(text_x, 1), text_y, anchor, text_y > y + _LINE / 2))
    return tuple(spots)

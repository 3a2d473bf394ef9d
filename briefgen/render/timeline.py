"""Lay one line of time out, in tenths of a millimetre: the flight above it, the sun below, the dark in it."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil
from typing import NamedTuple

from briefgen.daylight_page import Timeline
from briefgen.render.drawings import LETTER, LINE, Bar, Label, apart, held

MARGIN = 40
BAND, FLIGHT = 46, 20  # heights of the band of light, and of the flight's bar on it
STEPS_MIN = (10, 15, 30, 60, 120, 180, 240, 360, 720)  # of the scale
DAY_MIN = 24 * 60


class TimelineDrawing(NamedTuple):
    """Everything that the template of the line of time draws. `above` and `below` are the labels of moments."""

    width: float
    height: float
    band: Bar
    shades: tuple[Bar, ...]
    flight: Bar
    above: tuple[Label, ...]
    below: tuple[Label, ...]
    scale: tuple[Label, ...]
    text: str


def lay_out(line: Timeline, width: float) -> TimelineDrawing:
    """Return the drawing of a line of time, for a width in tenths of a millimetre.

    Labels stand in as many lines as keep them apart: those of the flight above the band, those of the sun below it,
    beside the figures of the scale, which leave out what would lie over them.
    """
    per_min = (width - 2 * MARGIN) / (line.to_min - line.from_min)

    def x(at_min: float) -> float:
        return round(MARGIN + (at_min - line.from_min) * per_min, 1)

    def labels(kind: str) -> list[tuple[int, Label]]:
        moments = (each for each in line.moments if each.kind == kind)
        return apart(((each.label, x(each.at_min), each.strong) for each in moments), width)

    def bar(kind: str, begins_min: float, ends_min: float, y: float, height: float) -> Bar:
        return Bar(kind, x(begins_min), y, max(round(x(ends_min) - x(begins_min), 1), 4), height)

    above, below = labels("flight"), labels("sun")
    top = (1 + max(row for row, _ in above)) * LINE + 14
    under = top + BAND + LINE
    nearest = [label for row, label in below if row == 0]
    numbers = [held(text, x(at_min), under, width) for text, at_min in _scale(line)]
    return TimelineDrawing(
        width=width,
        height=under + max((row for row, _ in below), default=0) * LINE + 14,
        band=bar("day", line.from_min, line.to_min, top, BAND),
        shades=tuple(bar(each.kind, each.from_min, each.to_min, top, BAND) for each in line.shades),
        flight=bar("flight", 0, line.eta_min, top + (BAND - FLIGHT) / 2, FLIGHT),
        above=_placed(above, top - 14, -LINE),
        below=_placed(below, under, LINE),
        scale=tuple(each for each in numbers if not any(_touch(each, other) for other in nearest)),
        text=line.text,
    )


def _touch(one: Label, other: Label) -> bool:
    return abs(one.x - other.x) < (len(one.text) + len(other.text)) / 2 * LETTER + 8


def _placed(rows: Iterable[tuple[int, Label]], y: float, step: float) -> tuple[Label, ...]:
    return tuple(Label(each.text, each.x, y + row * step, each.tick_x, strong=each.strong) for row, each in rows)


def _scale(line: Timeline) -> list[tuple[str, float]]:
    """Return the figures of the scale, at most six, at round times, each with its place [min after takeoff]."""
    step = next(each for each in STEPS_MIN if (line.to_min - line.from_min) / each <= 5.5)
    first = ceil((line.takeoff_min + line.from_min) / step) * step
    found, last = [], line.takeoff_min + line.to_min
    while first <= last:
        found.append((f"{first % DAY_MIN // 60:02d}:{first % 60:02d}Z", float(first - line.takeoff_min)))
        first += step
    return found

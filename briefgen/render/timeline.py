"""Lay one line of time out, in tenths of a millimetre: the flight above it, the sun below, the dark in it."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import count
from math import ceil
from typing import NamedTuple

from briefgen.daylight_page import Timeline
from briefgen.render.drawings import LINE, Bar, Label, held
from briefgen.render.lettering import width as width_of

MARGIN = 40
GAP = 8  # from a pole to its words
BAND, FLIGHT = 46, 20  # heights of the band of light, and of the flight's bar on it
STEPS_MIN = (10, 15, 30, 60, 120, 180, 240, 360, 720)  # of the scale
DAY_MIN = 24 * 60


class Flag(NamedTuple):
    """The words of a moment, flown from a pole that stands on it at `x`: to its right, or to its left."""

    text: str
    x: float
    y: float
    strong: bool
    leftward: bool

    @property
    def words_x(self) -> float:
        """Where the words begin; where they end, if they are to the left."""
        return self.x + (-GAP if self.leftward else GAP)

    @property
    def span(self) -> tuple[float, float]:
        """What the words cover of the line, a gap on both sides counted."""
        length = width_of(self.text, strong=self.strong) + 2 * GAP
        return (self.x - length, self.x) if self.leftward else (self.x, self.x + length)


class TimelineDrawing(NamedTuple):
    """Everything that the template of the line of time draws. `above` and `below` are the flags of moments."""

    width: float
    height: float
    band: Bar
    shades: tuple[Bar, ...]
    flight: Bar
    above: tuple[Flag, ...]
    below: tuple[Flag, ...]
    scale: tuple[Label, ...]
    text: str


def lay_out(line: Timeline, width: float) -> TimelineDrawing:
    """Return the drawing of a line of time, for a width in tenths of a millimetre.

    Flags stand in as many lines as keep them apart: those of the flight above the band, those of the sun below it,
    beside the figures of the scale, which leave out what would lie over them.
    """
    per_min = (width - 2 * MARGIN) / (line.to_min - line.from_min)

    def x(at_min: float) -> float:
        return round(MARGIN + (at_min - line.from_min) * per_min, 1)

    def flags(kind: str) -> list[tuple[int, Flag]]:
        moments = (each for each in line.moments if each.kind == kind)
        return _in_rows([_flag(each.label, x(each.at_min), each.strong, width) for each in moments])

    def bar(kind: str, begins_min: float, ends_min: float, y: float, height: float) -> Bar:
        return Bar(kind, x(begins_min), y, max(round(x(ends_min) - x(begins_min), 1), 4), height)

    above, below = flags("flight"), flags("sun")
    top = (1 + max(row for row, _ in above)) * LINE + 14
    under = top + BAND + LINE
    nearest = [flag for row, flag in below if row == 0]
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


def _flag(text: str, x: float, strong: bool, width: float) -> Flag:
    flag = Flag(text, x, 0, strong, leftward=False)
    return flag._replace(leftward=True) if flag.span[1] > width else flag


def _in_rows(flags: list[Flag]) -> list[tuple[int, Flag]]:
    """Return each flag with its line, the nearest first: past all whose poles its words would lie over.

    So no pole crosses words, save where a flag to the right and one to the left lie over each other's poles.
    """
    rows: dict[Flag, int] = {}

    def row(flag: Flag, asked: tuple[Flag, ...] = ()) -> int:
        if flag not in rows:
            begins, ends = flag.span
            others = [each for each in flags if each not in (flag, *asked) and begins <= each.x <= ends]
            rows[flag] = max((1 + row(each, (*asked, flag)) for each in others), default=0)
        return rows[flag]

    return _apart([(row(flag), flag) for flag in sorted(flags, key=lambda each: (each.leftward, each.x))])


def _apart(rows: Iterable[tuple[int, Flag]]) -> list[tuple[int, Flag]]:
    """Return flags with those that lie over one in their own line moved further."""
    found: list[tuple[int, Flag]] = []
    for row, flag in sorted(rows, key=lambda each: each[0]):
        begins, ends = flag.span
        taken = {line for line, each in found if each.span[0] < ends and begins < each.span[1]}
        found.append((next(line for line in count(row) if line not in taken), flag))
    return found


def _touch(one: Label, other: Flag) -> bool:
    half = width_of(one.text) / 2
    return one.x - half < other.span[1] and other.span[0] < one.x + half


def _placed(rows: Iterable[tuple[int, Flag]], y: float, step: float) -> tuple[Flag, ...]:
    return tuple(each._replace(y=y + row * step) for row, each in rows)


def _scale(line: Timeline) -> list[tuple[str, float]]:
    """Return the figures of the scale, at most six, at round times, each with its place [min after takeoff]."""
    step = next(each for each in STEPS_MIN if (line.to_min - line.from_min) / each <= 5.5)
    first = ceil((line.takeoff_min + line.from_min) / step) * step
    found, last = [], line.takeoff_min + line.to_min
    while first <= last:
        found.append((f"{first % DAY_MIN // 60:02d}:{first % 60:02d}Z", float(first - line.takeoff_min)))
        first += step
    return found

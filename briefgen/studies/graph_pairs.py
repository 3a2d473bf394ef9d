"""Two lines that are all a panel has, looked through against each other; and what of a panel nobody looked at.

So few lines say little. Their ratio goes evenly along the input where both follow the same power of it, which is
what charts print about; between the obstacle's two heights both lines rise by about the same power of where they
begin. Only what is far from that is told, and the report says that it was looked at roughly.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot, log
from typing import NamedTuple

from briefgen.model.typed_graph import TypedLine, TypedPanel, TypedPoint

LEAST_POINTS = 4  # in a line between two kinks; with fewer nothing says how it bends
_LEAST_LINES = 3  # of which one stands between two
_LEAST_SHARED = 3  # inputs at which both of two lines have a point
_OF_THE_RATIO = 0.06  # how unevenly two lines of one family may go; common practice, no source
_AT_ONCE = 1.4  # readings are seldom all at their worst; common practice, no source
# The power of the ground roll that the distance in the air goes with. Between all cells of the tables of
# FAA-H-8083-25C Fig. 11-24 and 11-32 it is 0.9 to 1.7 for takeoffs, 1.0 for landings; the room around: no source.
_RISES = {"takeoff": (0.6, 2.0), "landing": (0.3, 2.0)}
_APART = 1.3  # lines that begin closer say nothing of that power

Pair = tuple[TypedPoint, TypedPoint]


class Off(NamedTuple):
    """How far a point is off what is expected of it, in what is allowed; `expected` is None where nothing says."""

    times: float
    expected: float | None
    allowed: float
    reason: str


def runs(points: Sequence[TypedPoint]) -> Iterator[list[TypedPoint]]:
    """Return the points between kinks; a kink ends one run and begins the next."""
    run: list[TypedPoint] = []
    for point in points:
        run.append(point)
        if point.kink:
            yield run
            run = [point]
    yield run


def weight(of: TypedPoint, among: Sequence[TypedPoint], at: float) -> float:
    """Return the weight of a point in the value at an input of the polynomial through some points (Lagrange's)."""
    share = 1.0
    for other in among:
        if other is not of:
            share *= (at - other.at) / (of.at - other.at)
    return share


def off_the_pair(panel: TypedPanel) -> tuple[TypedLine, TypedPoint, Off] | None:
    """Return the point that is worst off in a panel of two lines; None if none is, or in other panels."""
    found = [*_off_the_rise(panel), *_off_the_ratio(panel)]
    worst = max(found, key=lambda each: each[2].times, default=None)
    return worst if worst and worst[2].times > 1 else None


def not_looked_at(panel: TypedPanel) -> str:
    """Return which points of a panel nothing was held against, or little; '' where there are none."""
    every = [point for line in panel.lines for point in line.points]
    well = {id(point) for line in panel.lines for run in runs(line.points) for point in _enough(run)}
    for three in zip(panel.lines, panel.lines[1:], panel.lines[2:], strict=False):
        shared = _shared(*three)
        well |= {id(point) for points in shared for point in points} if len(shared) > 1 else set()
    rough = {id(point) for pair in (*_by_ratio(panel), *_by_rise(panel)) for point in pair} - well
    left = len(every) - len(well) - len(rough)
    if left == len(every):
        return f"{panel.name}: not looked at, fewer than three lines, and than four points in a line"
    said = [f"{left} of its {len(every)} points not looked at"] if left else []
    if rough:
        said.append(f"{len(rough)} of its {len(every)} points looked at only roughly, one line against the other")
    return f"{panel.name}: {'; '.join(said)}" if said else ""


def _enough(run: list[TypedPoint]) -> list[TypedPoint]:
    return run if len(run) >= LEAST_POINTS else []


def _shared(*lines: TypedLine) -> list[tuple[TypedPoint, ...]]:
    """Return the points of lines at the inputs at which each has one."""
    by_input = [{point.at: point for point in line.points} for line in lines]
    return [
        tuple([line[at] for line in by_input]) for at in by_input[0] if all(at in line for line in by_input[1:])
    ]


def _pairs(panel: TypedPanel) -> list[Pair]:
    if len(panel.lines) >= _LEAST_LINES or len(panel.lines) < 2:
        return []
    return [(low, high) for low, high in _shared(*panel.lines) if low.value > 0 and high.value > 0]


def _by_ratio(panel: TypedPanel) -> list[Pair]:
    pairs = _pairs(panel)
    return pairs if len(pairs) >= _LEAST_SHARED else []


def _off_the_ratio(panel: TypedPanel) -> Iterator[tuple[TypedLine, TypedPoint, Off]]:
    """Return how far each ratio of two lines is off those beside it; the rougher line is told."""
    pairs = _by_ratio(panel)
    for pair in pairs:
        at = pair[0].at
        near = sorted((each for each in pairs if each is not pair), key=lambda each: abs(each[0].at - at))[:2]
        ratios = [high.value / low.value for low, high in near]
        lows = [low for low, _ in near]
        straight = sum(weight(low, lows, at) * ratio for low, ratio in zip(lows, ratios, strict=True))
        here = pair[1].value / pair[0].value
        likely = [each for each in (straight, sum(ratios) / 2) if each > 0]
        ratio = min(likely, key=lambda each: abs(here - each))
        read = [panel.reads_to / 2 / each.value for each in pair]
        read += [panel.reads_to / 4 / each.value for other in near for each in other]
        allowed = _OF_THE_RATIO + max(ratios) / min(ratios) - 1 + _AT_ONCE * hypot(*read)
        upper = _bend(pair[1], [high for _, high in near]) > _bend(pair[0], lows)
        expected = pair[0].value * ratio if upper else pair[1].value / ratio
        off = Off(abs(here / ratio - 1) / allowed, expected, allowed * expected, _UNLIKE)
        yield panel.lines[upper], pair[upper], off


def _bend(point: TypedPoint, near: list[TypedPoint]) -> float:
    """Return how far a point is off the straight line through two others, on a scale of powers."""
    return abs(log(point.value) - sum(weight(each, near, point.at) * log(each.value) for each in near))


def _by_rise(panel: TypedPanel) -> list[Pair]:
    """Return the ends of two lines over the height of the obstacle, where they say by which power they rise."""
    pairs = _pairs(panel)
    if panel.subject != "obstacle height" or panel.scale == "divisions" or len(pairs) < 2:
        return []
    (low, high), *_ = pairs
    rising = all(start.value < end.value for start, end in zip(pairs[0], pairs[-1], strict=True))
    return [pairs[0], pairs[-1]] if rising and high.value > _APART * low.value else []


def _off_the_rise(panel: TypedPanel) -> Iterator[tuple[TypedLine, TypedPoint, Off]]:
    """Return how far the power is out by which two lines rise, every reading at its kinder end."""
    least, most = _RISES.get(panel.chart.partition(",")[0], (0.0, 0.0))
    for (low, high), (low_end, high_end) in pairwise(_by_rise(panel)):
        low_rise, high_rise = low_end.value - low.value, high_end.value - high.value
        apart, half = high.value / low.value, panel.reads_to / 2
        room = log(1 + 2 * half / low_rise) + log(1 + 2 * half / high_rise) + log(1 + half / low.value)
        power = log(high_rise / low_rise) / log(apart)
        over = max(least - power, power - most, 0.0) * log(apart)
        words = (
            f"the two lines rise by {low_rise:g} and {high_rise:g} {panel.scale} from {low.value:g} and "
            f"{high.value:g}: with the power {power:.1f}; {least:g} to {most:g} is what tables print. One is off"
        )
        yield panel.lines[1], high_end, Off(over / max(room, 1e-9), None, 0.0, words)


_UNLIKE = "does not go with the other line, as it does elsewhere; one of the two is off"

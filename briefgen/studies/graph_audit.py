"""One panel of a staged graph, looked through for points that were misread: off their own line, or off the fan.

A point that was read within half of `reads_to` is off a smooth line by no more than its neighbours' errors and its
own allow; so much, and a little for what a cubic is off the printed line, is never reported. A bend that the page
prints is marked `kink`, and no smooth line is laid across it. Where a panel has two lines only, `graph_pairs`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from statistics import median
from typing import NamedTuple

from briefgen.model.typed_graph import TypedLine, TypedPanel, TypedPoint
from briefgen.studies.graph_pairs import LEAST_POINTS, Off, off_the_pair, runs, weight
from briefgen.studies.slips import mend, printed_step
from briefgen.studies.table_audit import Finding, Grade

_NEIGHBOURS = 4  # a cubic through so many
_OF_THE_VALUE = 0.001  # what a cubic is off a printed line; common practice, no source
_OF_THE_GAP = 0.05  # how unevenly lines of one family may fan; common practice, no source
_AS_FAR = 0.8  # of the furthest off: as far
_FAR = 3.0  # times what is allowed: suspect, not only unusual


class Misread(NamedTuple):
    """One point that looks wrong: its panel and place in it, and what is to be said."""

    panel: TypedPanel
    point: TypedPoint
    finding: Finding


def misread(panel: TypedPanel) -> tuple[Misread, ...]:
    """Return the points of a panel that look wrong: those off their own line, off the fan alone, off a pair."""
    fan = {id(point): off.times for _, point, off in _off_the_fan(panel)}
    found = [each for line in panel.lines for each in _of_line(panel, line, fan)]
    told = {id(each.point) for each in found}
    with_found = {line.name for line in panel.lines if any(id(point) in told for point in line.points)}
    by_line: dict[str, Misread] = {}
    for line, point, off in sorted(_off_the_fan(_without(panel, told)), key=lambda each: each[2].times):
        if off.times > 1 and line.name not in with_found:
            by_line[line.name] = _told(panel, line, point, off)  # the worst of a line stands for it
    pair = off_the_pair(_without(panel, told))
    if pair and pair[0].name not in with_found:
        by_line[pair[0].name] = _told(panel, *pair)
    return (*found, *by_line.values())


def _without(panel: TypedPanel, told: set[int]) -> TypedPanel:
    """Return a panel without some of its points."""
    lines = (line._replace(points=tuple(p for p in line.points if id(p) not in told)) for line in panel.lines)
    return panel._replace(lines=tuple(lines))


def _of_line(panel: TypedPanel, line: TypedLine, fan: Mapping[int, float]) -> Iterator[Misread]:
    """Find the points off their own line: the worst is set aside before the others are looked at again.

    In a short line every point is as far off the others as any: then the one furthest off the fan is meant, or that
    which is off by the least.
    """
    left = list(line.points)
    while True:
        off = [(each, point) for run in runs(left) for point in run if (each := _off_the_line(panel, run, point))]
        if not off:
            return
        most = max(each.times for each, _ in off)
        likely = [(each, point) for each, point in off if each.times > _AS_FAR * most]
        worst, point = max(likely, key=lambda each: (fan.get(id(each[1]), 0.0), -each[0].allowed * each[0].times))
        yield _told(panel, line, point, worst)
        left.remove(point)


def _off_the_line(panel: TypedPanel, run: list[TypedPoint], point: TypedPoint) -> Off | None:
    """Return how far a point is off the curve through those nearest to it, None if no more than is allowed."""
    if len(run) < LEAST_POINTS:
        return None
    others = sorted((each for each in run if each is not point), key=lambda each: abs(each.at - point.at))
    near = others[:_NEIGHBOURS]
    weights = [weight(each, near, point.at) for each in near]
    expected = sum(weight * each.value for weight, each in zip(weights, near, strict=True))
    each_off = panel.reads_to / 2 + _OF_THE_VALUE * abs(expected)
    allowed = each_off * (1 + sum(map(abs, weights)))
    times = abs(point.value - expected) / allowed
    return Off(times, expected, allowed, _ROUGH) if times > 1 else None


def _off_the_fan(panel: TypedPanel) -> Iterator[tuple[TypedLine, TypedPoint, Off]]:
    """Return how far each point is off the place that its line mostly keeps between its two neighbours."""
    for below, line, above in zip(panel.lines, panel.lines[1:], panel.lines[2:], strict=False):
        low, high = ({point.at: point.value for point in each.points} for each in (below, above))
        shared = [point for point in line.points if point.at in low and point.at in high]
        places = [(point.value - low[point.at]) / (high[point.at] - low[point.at]) for point in shared]
        for i, point in enumerate(shared):
            others = places[:i] + places[i + 1 :]
            if others:
                gap = high[point.at] - low[point.at]
                expected = low[point.at] + median(others) * gap
                allowed = 2 * panel.reads_to + _OF_THE_GAP * gap
                yield line, point, Off(abs(point.value - expected) / allowed, expected, allowed, _UNEVEN)


_ROUGH = "is off the smooth line through its neighbours, or one of these is"
_UNEVEN = "does not keep its place between the lines beside it, as it does elsewhere; one of the three is off"


def _told(panel: TypedPanel, line: TypedLine, point: TypedPoint, off: Off) -> Misread:
    step = printed_step([each.text for of in panel.lines for each in of.points])
    expected = off.expected
    meant = mend(point.text, expected, max(off.allowed / 3, 1e-9), step) if expected is not None else None
    return Misread(
        panel,
        point,
        Finding(
            grade=Grade.SUSPECT if off.times > _FAR else Grade.UNUSUAL,
            table=panel.name,
            page=panel.page,
            where=f"{line.name} at {point.at:,.4g} {panel.across}",
            line=point.line,
            column=point.column,
            reasons=(off.reason,),
            unit=panel.scale,
            typed=point.text,
            expected=round(expected, 2) if expected is not None else None,
            mend=meant.text if meant else "",
            slip=meant.slip if meant else "",
            share=point.value / expected - 1 if expected else 0.0,
        ),
    )

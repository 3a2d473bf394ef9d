"""Lay the curves of a printed table out to scale, in tenths of a millimetre, with rings round some of its cells."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor, log10
from typing import NamedTuple

from briefgen.table_picture import TablePanel

LEFT, RIGHT, TOP, BOTTOM = 118, 120, 24, 62  # room for the numbers of the axes, and for the names of the curves
_FLAT = 0.05  # a curve that rises less than this share, up and down, is drawn as flat as it is
_LETTER, _LINE = 17.0, 38.0  # mean width of a letter of the face, height of a line
_FIGURE = 190.0  # of the lower edge, for one number
_SPARE = 0.06  # of the height, above and below the curves
RING = 17.0
TABLE_HEIGHT = 400.0
# Where a label may stand beside its point, nearest first: how far across and down, in its own widths and in lines.
_BESIDE = [
    (across, down)
    for down in (0.0, -1.0, 1.0, -2.0, 2.0, -3.0, 3.0, -4.0, 4.0)
    for across in (0.5, -0.5, 1.0, -1.0)
]


class Curve(NamedTuple):
    """One line of a table: its points, its label if it is named, whether it is dashed."""

    points: tuple[tuple[float, float], ...]
    label: str
    dashed: bool


class Ringed(NamedTuple):
    """A cell that looks wrong: the name of its finding, where it is, and what is expected there."""

    name: str
    x: float
    y: float
    expected: float | None


class Panel(NamedTuple):
    """What is drawn in one frame: the curves of one weight of a table, or of one of its quantities."""

    title: str
    unit: str
    across: str  # the unit along the lower edge
    curves: tuple[Curve, ...]
    ringed: tuple[Ringed, ...]
    text: str  # the drawing in words
    height: float = 700


class Tick(NamedTuple):
    """A number on an axis; `wide`: with its unit it would reach past the drawing, and ends at its edge."""

    text: str
    at: float
    wide: bool = False


class Label(NamedTuple):
    """Words in the drawing, `x` their middle."""

    text: str
    x: float
    y: float
    width: float
    strong: bool


class Drawn(NamedTuple):
    """Everything that the template of the curves draws."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    lines: tuple[tuple[str, bool], ...]  # points as SVG writes them, and whether dashed
    dots: tuple[tuple[float, float], ...]
    rings: tuple[tuple[float, float], ...]
    crosses: tuple[tuple[float, float], ...]
    labels: tuple[Label, ...]
    up: tuple[Tick, ...]
    across: tuple[Tick, ...]
    text: str
    ring: float = RING


def of_table(panel: TablePanel) -> Panel:
    """Return the panel of a table that the day's air is ringed on."""
    curves = tuple(Curve(each.points, each.label, each.dashed) for each in panel.curves)
    ringed = tuple(Ringed(each.label, each.at, each.value_ft, each.value_ft) for each in panel.points)
    return Panel(panel.title, "ft", panel.across, curves, ringed, panel.text, height=TABLE_HEIGHT)


def lay_out(panel: Panel, width: float) -> Drawn:
    """Return the drawing of a panel; a ringed cell off its range stands at the edge."""
    right, bottom = width - RIGHT, panel.height - BOTTOM
    off = {(each.x, each.y) for each in panel.ringed}
    points = [point for curve in panel.curves for point in curve.points]
    known = [y for x, y in points if (x, y) not in off]
    known += [each.expected for each in panel.ringed if each.expected is not None]
    known = known or [y for _, y in points]
    (low_x, high_x), (low_y, high_y) = _ends([x for x, _ in points], 0.0), _ends(known, _SPARE)

    along = _round_numbers(low_x, high_x, max(int((right - LEFT) / _FIGURE), 2))

    def place(x: float, y: float) -> tuple[float, float]:
        across = LEFT + (x - low_x) / (high_x - low_x) * (right - LEFT)
        up = bottom - (y - low_y) / (high_y - low_y) * (bottom - TOP)
        return round(across, 1), round(min(max(up, TOP), bottom), 1)

    def held(x: float, y: float) -> tuple[float, float]:
        across, up = place(x, y)
        return across, min(max(up, TOP + RING), bottom - RING)

    rings = [(each.name, *held(each.x, each.y), True) for each in panel.ringed]
    ends = [(curve.label, *place(*curve.points[-1]), False) for curve in panel.curves if curve.label]
    return Drawn(
        width=width,
        height=panel.height,
        left=LEFT,
        right=right,
        top=TOP,
        bottom=bottom,
        lines=tuple(
            (" ".join("{},{}".format(*place(*point)) for point in curve.points), curve.dashed)
            for curve in panel.curves
        ),
        dots=tuple(place(*point) for point in points),
        rings=tuple((x, y) for _, x, y, _ in rings),
        crosses=tuple(place(each.x, each.expected) for each in panel.ringed if each.expected is not None),
        labels=tuple(_apart([*rings, *ends], width, panel.height - BOTTOM)),
        up=tuple(Tick(f"{y:,.10g}", place(low_x, y)[1]) for y in _round_numbers(low_y, high_y, 6)),
        across=tuple(_across([(x, place(x, low_y)[0]) for x in along], panel, width)),
        text=panel.text,
    )


def _across(numbers: list[tuple[float, float]], panel: Panel, width: float) -> Iterable[Tick]:
    """Return the numbers along the lower edge, the last with its unit."""
    for i, (x, at) in enumerate(numbers, 1):
        text = f"{x:,.10g}" + (f" {panel.across}" if i == len(numbers) else "")
        yield Tick(text, at, at + len(text) * _LETTER / 2 > width)


def _ends(values: list[float], spare: float) -> tuple[float, float]:
    """Return the ends of an axis, with a share of its length to spare."""
    low, high = min(values), max(values)
    more = max((high - low) * spare, _FLAT * abs(high) - (high - low) / 2, 0.5 if high == low else 0.0)
    return low - more, high + more


def _round_numbers(low: float, high: float, most: int) -> list[float]:
    """Return round numbers from one end of an axis to the other, at most so many."""
    rough = 10 ** floor(log10((high - low) / most))
    step = next(rough * each for each in (1, 2, 5, 10, 20) if (high - low) / (rough * each) <= most)
    return [round(i * step, 9) for i in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]


def _apart(labels: Iterable[tuple[str, float, float, bool]], width: float, bottom: float) -> Iterable[Label]:
    """Return labels beside their points, none over another; one that finds no room is left out."""
    taken: list[tuple[float, float, float]] = []
    for text, x, y, strong in labels:
        half = len(text) * _LETTER / 2 + 4
        for across, down in _BESIDE:
            middle = x + across * (2 * half + 2 * RING + 8)
            line = y + 12 + down * _LINE / 2
            inside = LEFT + half < middle < width - half and TOP + _LINE / 2 < line < bottom - 4
            if inside and all(
                abs(middle - other) >= half + wide or abs(line - other_line) >= _LINE
                for other, other_line, wide in taken
            ):
                taken.append((middle, line, half))
                yield Label(text, round(middle, 1), round(line, 1), len(text) * _LETTER, strong)
                break

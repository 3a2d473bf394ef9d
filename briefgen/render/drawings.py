"""Lay a strip out to scale: where each bar, tick and label goes, in tenths of a millimetre."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from briefgen.plans import Sketch, Span

WIDTH = 1230  # the width of the safe area of a half-letter page; other paper gives its own
MARGIN = 62  # room at both ends for the idents
LINE = 44  # height of one line of labels
STEPS = (25, 50, 100, 200, 250, 500, 1000, 2000, 5000)  # of the scale, in ft or m
LETTER = 17.0  # mean width of a letter at 10 pt in the condensed face, measured, rounded up


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place: `x` is their middle, `tick_x` the place itself."""

    text: str
    x: float
    y: float
    tick_x: float
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar from one place to another; kind names how it is filled."""

    kind: str
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything that the strip's template draws."""

    width: float
    height: float
    strip: Bar
    strip_y: float
    surface: str
    near_ident: str
    far_ident: str
    marks: tuple[Label, ...]
    bars: tuple[Bar, ...]
    ends: tuple[Label, ...]
    point: Label | None
    threshold_x: float | None
    available_x: float | None
    scale: tuple[Label, ...]
    text: str


TRACKS = {"planned": "as planned", "flaps-up": "flaps up", "takeoff": "takeoff"}


def lay_out(sketch: Sketch, width: float = WIDTH) -> Drawing:
    """Return the drawing of a strip, for a width in tenths of a millimetre.

    Labels of marks go above the strip, in as many lines as keep them apart; each way of landing has a track of its
    own below it. A need longer than the strip is drawn past its end.
    """
    furthest = max([sketch.length_ft, *(p.at_ft for p in sketch.places), *(s.to_ft for s in sketch.spans)])
    per_ft = (width - 2 * MARGIN) / furthest

    def x(at_ft: float) -> float:
        return round(MARGIN + at_ft * per_ft, 1)

    seen = [place for place in sketch.places if place.kind in ("mark", "aim", "threshold")]
    rows = apart([(place.label, x(place.at_ft), place.kind == "aim") for place in seen], width)
    lines = 1 + max((row for row, _ in rows), default=0)
    top = lines * LINE + 14
    marks = tuple(
        Label(label.text, label.x, top - 14 - row * LINE, label.tick_x, strong=label.strong) for row, label in rows
    )
    strip = Bar("strip", x(0), top, x(sketch.length_ft) - x(0), 46)
    point_place = next((p for p in sketch.places if p.kind in ("go-around", "abort")), None)
    y: float = top + 46 + 16
    point = None
    if point_place:
        point = held(point_place.label, x(point_place.at_ft), y + 34, width, strong=True)
        y += LINE + 10
    bars, ends, y = _tracks(sketch, x, y, width)
    return Drawing(
        width=width,
        height=y + LINE,
        strip=strip,
        strip_y=top,
        surface=sketch.surface,
        near_ident=sketch.near_ident,
        far_ident=sketch.far_ident,
        marks=marks,
        bars=tuple(bars),
        ends=tuple(ends),
        point=point,
        threshold_x=next((x(p.at_ft) for p in sketch.places if p.kind == "threshold"), None),
        available_x=None if sketch.available_ft is None else x(sketch.available_ft),
        scale=_scale(sketch, x, y + 32, width),
        text=sketch.text,
    )


def _tracks(
    sketch: Sketch, x: Callable[[float], float], y: float, width: float
) -> tuple[list[Bar], list[Label], float]:
    """Return the bars and end labels of each way of using the strip, a track each, and where the next goes."""
    bars: list[Bar] = []
    ends: list[Label] = []
    for name in TRACKS:
        spans = [span for span in sketch.spans if span.kind.startswith(f"{name} ")]
        needs = [place for place in sketch.places if place.kind == f"{name} need"]
        if not spans:
            continue
        bars += [_bar(span, x, y) for span in spans]
        rows = apart([(place.label, x(place.at_ft), False) for place in needs], width)
        lines = 1 + max((row for row, _ in rows), default=0)
        ends += [Label(each.text, each.x, y + 60 + row * LINE, each.tick_x) for row, each in rows]
        y += 34 + lines * LINE + 10
    return bars, ends, y


def _bar(span: Span, x: Callable[[float], float], y: float) -> Bar:
    left = x(span.from_ft)
    return Bar(span.kind.rpartition(" ")[2], left, y, max(x(span.to_ft) - left, 1), 24)


def _scale(sketch: Sketch, x: Callable[[float], float], y: float, width: float) -> tuple[Label, ...]:
    """Return the figures of the scale: at most seven, at round distances from where the sketch counts from."""
    length = (sketch.length_ft - sketch.origin_ft) / sketch.ft_per_unit
    step = next(s for s in STEPS if length / s <= 6.5)
    return tuple(
        held(
            f"{at:,}" + (f" {sketch.unit}" if at == 0 else ""),
            x(sketch.origin_ft + at * sketch.ft_per_unit),
            y,
            width,
        )
        for at in range(0, int(length) + 1, step)
    )


def held(text: str, at: float, y: float, width: float, *, strong: bool = False) -> Label:
    """Return a label centred on its place, or held inside the paper."""
    half = len(text) * LETTER / 2
    return Label(text, min(max(at, half), width - half), y, at, strong=strong)


def apart(labels: Iterable[tuple[str, float, bool]], width: float) -> list[tuple[int, Label]]:
    """Return each label with a line to stand in, such that none touches another."""
    right_edges: list[float] = []
    placed = []
    for text, at, strong in sorted(labels, key=lambda each: each[1]):
        label = held(text, at, 0, width, strong=strong)
        half = len(text) * LETTER / 2
        row = next((i for i, edge in enumerate(right_edges) if label.x - half > edge + 8), len(right_edges))
        if row == len(right_edges):
            right_edges.append(0)
        right_edges[row] = label.x + half
        placed.append((row, label))
    return placed

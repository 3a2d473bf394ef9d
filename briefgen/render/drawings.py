"""Lay a strip out to scale: where each bar, tick and label goes, in tenths of a millimetre."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

from briefgen.plans import Place, Sketch, Span
from briefgen.render.flags import Flag, Flags, flown
from briefgen.render.flags import Label as Words
from briefgen.render.lettering import width as width_of

WIDTH = 1230  # the width of the safe area of a half-letter page; other paper gives its own
MARGIN = 62  # room at both ends for the idents; a longer ident takes more
LINE = 44  # height of one line of labels
STEPS = (25, 50, 100, 200, 250, 500, 1000, 2000, 5000, 10_000)  # of the scale, in ft or m
MOST_STEPS = 6.5
STRIP, BAR = 46, 24  # heights of the strip, and of a bar beneath it
BESIDE = 8.0  # between the strip and an ident, and between two figures
MOST_ROWS = 6  # of labels above the strip, before a row of counted marks is thinned out
THINNED = (1, 2, 5, 10, 20)  # every one of such a row is named, every second ...


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
    surface: str
    near_ident: str
    far_ident: str
    marks: tuple[Flag, ...]
    ticks: tuple[float, ...]  # of marks that are not named
    bars: tuple[Bar, ...]
    ends: tuple[Flag, ...]
    point: Label | None
    point_from_y: float
    threshold_x: float | None
    available_x: float | None
    available: tuple[tuple[float, float], ...]  # where its line is drawn, from one y to another: past no words
    scale: tuple[Label, ...]
    text: str


TRACKS = {"planned": "as planned", "flaps-up": "flaps up", "takeoff": "takeoff"}


def lay_out(sketch: Sketch, width: float = WIDTH) -> Drawing:
    """Return the drawing of a strip, for a width in tenths of a millimetre.

    Marks fly flags above the strip; each way of landing has a track of its own below it, with flags below that. A
    need longer than the strip is drawn past its end.
    """
    furthest = max([sketch.length_ft, *(p.at_ft for p in sketch.places), *(s.to_ft for s in sketch.spans)])
    idents = (sketch.near_ident, sketch.far_ident)
    margin = max(MARGIN, *(round(width_of(ident, strong=True) + BESIDE + 2) for ident in idents))
    per_ft = (width - 2 * margin) / furthest

    def x(at_ft: float) -> float:
        return round(margin + at_ft * per_ft, 1)

    flags, bare = _marks(sketch, x, width)
    top = max(round(flags.height, 1), LINE) + 14
    bottom = top + STRIP
    end_x = x(sketch.length_ft)
    point_place = next((p for p in sketch.places if p.kind in ("go-around", "abort")), None)
    y: float = bottom + 16
    point = None
    if point_place:
        point = held(point_place.label, x(point_place.at_ft), y + 34, width, strong=True)
        y += LINE + 10
    bars, ends, y = _tracks(sketch, x, y, width)
    available_x = None if sketch.available_ft is None else x(sketch.available_ft)
    outside = available_x is not None and available_x > end_x
    return Drawing(
        width=width,
        height=y + LINE,
        strip=Bar("strip", margin, top, round(end_x - margin, 1), STRIP),
        surface=sketch.surface,
        near_ident=sketch.near_ident,
        far_ident=sketch.far_ident,
        marks=flags.above(top),
        ticks=tuple(x(place.at_ft) for place in bare),
        bars=tuple(bars),
        ends=tuple(ends),
        point=point,
        point_from_y=bottom + 4 if point and point.tick_x > end_x else top - 4,
        threshold_x=next((x(p.at_ft) for p in sketch.places if p.kind == "threshold"), None),
        available_x=available_x,
        available=_beside_bars(bars, bottom + 4 if outside else top, bottom + 14),
        scale=_scale(sketch, x, y + 32, width, furthest),
        text=sketch.text,
    )


def _marks(sketch: Sketch, x: Callable[[float], float], width: float) -> tuple[Flags, list[Place]]:
    """Return the flags of the marks, and what has none: of a row of counted marks as many as must."""
    seen = [place for place in sketch.places if place.kind in ("mark", "aim", "threshold")]
    named = seen
    for every in THINNED:
        named = [each for each in seen if each.counted in (0, 1) or each.counted % every == 0]
        flags = flown([Words(each.label, x(each.at_ft), each.kind == "aim") for each in named], width)
        if flags.rows <= MOST_ROWS:
            break
    return flags, [each for each in seen if each not in named]


def _tracks(
    sketch: Sketch, x: Callable[[float], float], y: float, width: float
) -> tuple[list[Bar], list[Flag], float]:
    """Return the bars and end labels of each way of using the strip, a track each, and where the next goes."""
    bars: list[Bar] = []
    ends: list[Flag] = []
    for name in TRACKS:
        spans = [span for span in sketch.spans if span.kind.startswith(f"{name} ")]
        needs = [place for place in sketch.places if place.kind == f"{name} need"]
        if not spans:
            continue
        bars += [_bar(span, x, y) for span in spans]
        flags = flown([Words(place.label, x(place.at_ft)) for place in needs], width)
        ends += flags.below(y + BAR + 4)
        y += BAR + 20 + max(flags.height, LINE)
    return bars, ends, round(y, 1)


def _bar(span: Span, x: Callable[[float], float], y: float) -> Bar:
    left = x(span.from_ft)
    return Bar(span.kind.rpartition(" ")[2], left, y, max(round(x(span.to_ft) - left, 1), 1), BAR)


def _beside_bars(bars: list[Bar], from_y: float, to_y: float) -> tuple[tuple[float, float], ...]:
    """Return where a line across the strip and all tracks is drawn: along those, not through the words between."""
    return ((from_y, to_y), *((y - 6, y + BAR + 6) for y in dict.fromkeys(bar.y for bar in bars)))


def _scale(
    sketch: Sketch, x: Callable[[float], float], y: float, width: float, furthest_ft: float
) -> tuple[Label, ...]:
    """Return the figures of the scale: at most seven, at round distances from where the sketch counts from."""
    length = (furthest_ft - sketch.origin_ft) / sketch.ft_per_unit
    widest = width_of(f"{ceil(length):,} {sketch.unit}") + 2 * BESIDE
    most = min(MOST_STEPS, (x(furthest_ft) - x(sketch.origin_ft)) / widest)
    step = next((s for s in STEPS if length / s <= most), ceil(length) + 1)
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
    half = width_of(text, strong=strong) / 2
    return Label(text, round(min(max(at, half), width - half), 1), y, at, strong=strong)

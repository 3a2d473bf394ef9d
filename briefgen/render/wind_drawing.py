"""Lay the wind on a runway out, in tenths of a millimetre: the runway from above in a ring, its words beside."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, radians, sin
from typing import NamedTuple

from briefgen.render.flags import LINE
from briefgen.render.lettering import CAP, DROP, folded
from briefgen.wind_picture import Arrow, WindPicture

WIDTH = 490.0
MIDDLE = 126.0  # of the ring, across and down
RING, ARC = 82.0, 103.0  # radii: of what no arrow enters, of a range
TIP, TAIL = 86.0, 122.0  # radii of both ends of an arrow
RUNWAY = (70.0, 138.0)  # its width and length
WORDS_X = 258.0
HEAD, SIDE = 20.0, 13.0  # of an arrow: how long its head is, and half how wide


class Blow(NamedTuple):
    """One wind: its arrow's line and head, or the arc of its range, as SVG writes them; '' where there is none."""

    line: str
    head: str
    arc: str
    first: bool


class WindDrawn(NamedTuple):
    """Everything that the template of the wind draws."""

    width: float
    height: float
    middle: float
    ring: float
    runway: tuple[float, float]
    near_ident: str
    far_ident: str
    blows: tuple[Blow, ...]
    words_x: float
    words: tuple[tuple[str, float, bool], ...]  # each with its y, and whether in bold
    text: str


def lay_out(picture: WindPicture, width: float = WIDTH) -> WindDrawn:
    """Return the drawing of a wind; the words fold where they would leave it."""
    lines = [
        (line, i == 0)
        for i, said in enumerate(picture.words)
        for line in folded(said, width - WORDS_X, strong=i == 0)
    ]
    height = max(2 * MIDDLE, len(lines) * LINE + DROP)
    first = (height - len(lines) * LINE) / 2 + CAP + (LINE - CAP - DROP) / 2
    return WindDrawn(
        width=width,
        height=height,
        middle=MIDDLE,
        ring=RING,
        runway=RUNWAY,
        near_ident=picture.near_ident,
        far_ident=picture.far_ident,
        blows=tuple(_blow(arrow) for arrow in picture.arrows),
        words_x=WORDS_X,
        words=tuple((line, round(first + i * LINE, 1), strong) for i, (line, strong) in enumerate(lines)),
        text=picture.text,
    )


def _blow(arrow: Arrow) -> Blow:
    line = head = arc = ""
    if arrow.from_deg is not None:
        tip, tail, neck = (at(arrow.from_deg, r) for r in (TIP, TAIL, TIP + HEAD))
        across = radians(arrow.from_deg)
        side = (SIDE * cos(across), SIDE * sin(across))
        line = f"M{_points([tail, neck])}"
        corners = [tip, (neck[0] + side[0], neck[1] + side[1]), (neck[0] - side[0], neck[1] - side[1])]
        head = f"M{_points(corners)}Z"
    if arrow.between_deg is not None:
        arc = _arc(*arrow.between_deg)
    elif arrow.from_deg is None:
        arc = _arc(0.0, 359.9)
    return Blow(line, head, arc, arrow.first)


def at(clockwise_deg: float, radius: float) -> tuple[float, float]:
    """Return a place round the middle: 0 is straight up."""
    angle = radians(clockwise_deg)
    return round(MIDDLE + radius * sin(angle), 1), round(MIDDLE - radius * cos(angle), 1)


def _arc(from_deg: float, to_deg: float) -> str:
    """Return an arc, clockwise, with a bar at each of its ends."""
    ends = [_points([at(each, ARC - 12), at(each, ARC + 12)]) for each in (from_deg, to_deg)]
    begin, end = (_points([at(each, ARC)]) for each in (from_deg, to_deg))
    large = int((to_deg - from_deg) % 360 > 180)
    bars = "" if to_deg - from_deg > 359 else "".join(f"M{each}" for each in ends)
    return f"M{begin}A{ARC:g} {ARC:g} 0 {large} 1 {end}{bars}"


def _points(points: Iterable[tuple[float, float]]) -> str:
    return "L".join(f"{x:.1f} {y:.1f}" for x, y in points)

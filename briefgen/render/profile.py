"""Lay a side view out, in tenths of a millimetre: to scale along and up, each for itself, and how they differ."""

from __future__ import annotations

from typing import NamedTuple

from briefgen.render.flags import Flag, Label, flown
from briefgen.side_view import SideView

SIDE = 24.0  # room at both ends
UP = 110.0  # height of the highest that is drawn
GROUND = 10.0  # thickness of the runway
SPARE = 0.03  # of the width, past the last that is drawn


class Mast(NamedTuple):
    """Something that stands on the ground, or a post of the height to be at there."""

    x: float
    y: float
    post: bool


class Profile(NamedTuple):
    """Everything that the template of a side view draws."""

    width: float
    height: float
    ceiling: float  # above it stand words, below it what they name
    ground: float
    runway: tuple[float, float]
    threshold_x: float | None
    stretch: tuple[float, float] | None
    masts: tuple[Mast, ...]
    ways: tuple[tuple[str, bool], ...]  # points as SVG writes them, and whether dashed
    above: tuple[Flag, ...]
    below: tuple[Flag, ...]
    scale: str
    text: str


def lay_out(view: SideView, width: float) -> Profile:
    """Return the drawing of a side view, for a width in tenths of a millimetre.

    What ends past the drawing, as a runway may, is cut at its edge; nothing that has a number does.
    """
    numbers = [top.at_ft for top in view.tops] + [at_ft for _, at_ft in view.marks]
    numbers += [at_ft for way in view.ways for at_ft, _ in way.points]
    first_ft, last_ft = min(numbers), max(numbers)
    heights = [top.height_ft for top in view.tops] + [up_ft for way in view.ways for _, up_ft in way.points]
    per_ft = (width - 2 * SIDE) / (max(last_ft - first_ft, 1.0) * (1 + SPARE))
    up_per_ft = UP / max([1.0, *heights])

    def x(at_ft: float) -> float:
        return round(min(max(SIDE + (at_ft - first_ft) * per_ft, 0.0), width), 1)

    tops = flown([Label(top.label, x(top.at_ft), top.post) for top in view.tops], width)
    marks = flown([Label(name, x(at_ft)) for name, at_ft in view.marks], width)
    ceiling = round(tops.height + 8, 1)
    ground = ceiling + UP

    def y(up_ft: float) -> float:
        return round(ground - up_ft * up_per_ft, 1)

    lengths = "" if view.unit == "ft" else f", lengths in {view.unit}"
    stretch = None
    if view.stretch is not None and view.stretch[1] > first_ft:
        stretch = x(view.stretch[0]), x(view.stretch[1])
    return Profile(
        width=width,
        height=round(ground + GROUND + marks.height + 14, 1),
        ceiling=ceiling,
        ground=ground,
        runway=(x(view.runway[0]), x(view.runway[1])),
        threshold_x=None if view.threshold_ft is None else x(view.threshold_ft),
        stretch=stretch,
        masts=tuple(Mast(x(top.at_ft), y(top.height_ft), top.post) for top in view.tops),
        ways=tuple(
            (" ".join(f"{x(at_ft)},{y(up_ft)}" for at_ft, up_ft in way.points), way.dashed) for way in view.ways
        ),
        above=tops.above(ceiling),
        below=marks.below(ground + GROUND),
        scale=f"Heights in ft{lengths}, at {up_per_ft / per_ft:.2g} times the scale of lengths",
        text=view.text,
    )


def heights(view: SideView, width: float) -> str:
    """Return by how much more heights are drawn than lengths, in words."""
    return lay_out(view, width).scale

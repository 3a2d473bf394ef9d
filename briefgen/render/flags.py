"""Words flown from poles: none over another, and no pole over words, however crowded their places are.

Flags fly to the right; one that would leave the drawing flies to the left, if it lies over no other's place there.
The words that stand furthest right are the nearest to the ground, and each is above all whose poles it would lie
over. A flag that finds no room, or that stands on another's pole, has its pole moved aside: a line leans from the
place itself to the foot of the pole. No two poles change places, so no two lines cross either. Where all of it the
other way round moves the poles less, it is done that way round.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from briefgen.render.lettering import CAP, DROP, folded, width

LINE = 44.0  # height of one line of words
GAP = 8.0  # from a pole to its words, and between two poles
LEAST_LEAN, MOST_LEAN, LEAN = 14.0, 90.0, 0.2  # height of what leans, and how much of how far it leans
FOLDED_AT = 0.52  # of the width of the drawing


class Label(NamedTuple):
    """Words of a place: where that is across the drawing, and whether they are in bold."""

    text: str
    at: float
    strong: bool = False


class Flag(NamedTuple):
    """Words flown from a pole. `at`: the place itself, `line`: from there to the end of the pole."""

    lines: tuple[tuple[str, float], ...]  # words, each with its y
    words_x: float  # where they begin; where they end, if they fly to the left
    leftward: bool
    at: float
    line: tuple[tuple[float, float], ...]
    strong: bool

    @property
    def path(self) -> str:
        """The line from the place to the end of the pole, as SVG writes it."""
        return "M" + "L".join(f"{x:g} {y:g}" for x, y in self.line)


class _Hung(NamedTuple):
    """A label with its lines, its pole, and the lines that it takes, counted from the ground."""

    label: Label
    lines: tuple[str, ...]
    x: float
    long: float  # of its words, with a gap on both sides
    leftward: bool
    row: int

    @property
    def begins(self) -> float:
        """Where its pole or its words begin, whatever is further left."""
        return self.x - self.long if self.leftward else self.x

    @property
    def end(self) -> int:
        return self.row + len(self.lines)


class Flags(NamedTuple):
    """The flags of one side of a drawing: how many lines they take, and how high what leans is."""

    hung: tuple[_Hung, ...]
    rows: int
    lean: float

    @property
    def height(self) -> float:
        """What they take of the drawing."""
        return self.rows * LINE + self.lean

    def above(self, ground: float) -> tuple[Flag, ...]:
        """Return them standing on the ground, whose y is given."""
        first = ground - self.lean - DROP - 4
        return tuple(self._flag(each, ground, -1, first) for each in self.hung)

    def below(self, ground: float) -> tuple[Flag, ...]:
        """Return them hanging from the ground."""
        first = ground + self.lean + GAP + CAP
        return tuple(self._flag(each, ground, 1, first) for each in self.hung)

    def _flag(self, each: _Hung, ground: float, way: int, first: float) -> Flag:
        in_order = each.lines if way > 0 else each.lines[::-1]
        lines = tuple((text, first + way * (each.row + i) * LINE) for i, text in enumerate(in_order))
        end = lines[-1][1] - (0 if way > 0 else CAP)
        foot = (each.x, ground + way * self.lean)
        start = (each.label.at, ground)
        line = (start, foot, (each.x, end)) if self.lean else (start, (each.x, end))
        words_x = each.x + (-GAP if each.leftward else GAP)
        return Flag(lines, words_x, each.leftward, each.label.at, line, each.label.strong)


def flown(labels: Iterable[Label], across: float) -> Flags:
    """Return the flags of labels, for a drawing of a width in tenths of a millimetre.

    Flown to the right, or all the other way round where that moves the poles less.
    """
    given = list(labels)
    mirrored = [each._replace(at=across - each.at) for each in given]
    there = [
        each._replace(
            label=each.label._replace(at=round(across - each.label.at, 1)),
            x=round(across - each.x, 1),
            leftward=not each.leftward,
        )
        for each in _flown(mirrored, across)
    ]
    return min((_counted(_flown(given, across)), _counted(there)), key=lambda flags: flags.lean)


def _counted(hung: list[_Hung]) -> Flags:
    leans = max((abs(each.label.at - each.x) for each in hung), default=0.0)
    lean = round(min(LEAST_LEAN + LEAN * leans, MOST_LEAN), 1) if leans else 0.0
    return Flags(tuple(hung), max((each.end for each in hung), default=0), lean)


def _flown(labels: Iterable[Label], across: float) -> list[_Hung]:
    hung: list[_Hung] = []
    edge = across
    in_order = sorted(labels, key=lambda each: each.at, reverse=True)
    for i, label in enumerate(in_order):
        lines = folded(label.text, across * FOLDED_AT, strong=label.strong)
        long = max(width(line, strong=label.strong) for line in lines) + 2 * GAP
        room = (len(in_order) - 1 - i) * GAP  # what the poles further left need
        next_at = in_order[i + 1].at if i + 1 < len(in_order) else 0.0
        leftward = across - long < label.at <= edge and max(next_at, room) <= label.at - long
        x = label.at if leftward else round(max(min(label.at, edge, across - long), room), 1)
        ends = x if leftward else x + long
        row = max((each.end for each in hung if each.begins <= ends), default=0)
        hung.append(_Hung(label, lines, x, long, leftward, row))
        edge = hung[-1].begins - GAP
    return hung

"""The paper that a sheet can be printed on: its size, and how much of the sheet a page holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from types import MappingProxyType
from typing import NamedTuple

PT_PER_MM = 72 / 25.4  # exact: the point of PostScript and PDF, 1/72 in
BESIDE_MM = 33.1  # of the foot, for the mark, the number of the page and the files
LEAST_FOOT_MM = 17
LINE_MM = 3.85  # 10 pt, leading 1.08
CHARACTER_MM = 1.62  # of 10 pt text at the foot, on average: a little more than it was measured to be

SIGN_MM = 12  # of lines to sign on that are told in one line of text each
SIGN_LINE_MM = 4.41  # 10 pt, leading 1.25
SIGN_GAP_MM = 3
SIGN_CHARACTER_MM = 1.75  # of 10 pt text
COLUMN_GAP_MM, PANEL_GAP_MM = 9.0, 1.5  # between two columns, beside a panel: as in the style of the page


class Paper(NamedTuple):
    """One size of paper [mm], upright. `wide`: takeoff and landing share a page if they fit; texts in columns."""

    width_mm: float
    height_mm: float
    side_mm: float
    wide: bool

    @property
    def text_mm(self) -> float:
        """Width between the side margins."""
        return self.width_mm - 2 * self.side_mm

    def foot_mm(self, limits: str) -> int:
        """Return the height of the foot of a page: for the limits, and for the three lines beside them."""
        lines = ceil(CHARACTER_MM * len(limits) / (self.text_mm - BESIDE_MM))
        return max(LEAST_FOOT_MM, ceil(2.5 + LINE_MM * lines))

    def sign_mm(self, lines: Sequence[str]) -> float:
        """Return the height of the lines to sign on, at the foot of the first page, with the room to sign above."""
        column_mm = (self.text_mm - SIGN_GAP_MM * (len(lines) + 1)) / len(lines)
        deepest = max(ceil(SIGN_CHARACTER_MM * len(each) / column_mm) for each in lines)
        return SIGN_MM + SIGN_LINE_MM * (deepest - 1)

    @property
    def drawing(self) -> int:
        """Width of a strip's drawing, in tenths of a millimetre, rounded down to whole millimetres."""
        return int(self.text_mm) * 10

    @property
    def panel(self) -> int:
        """Width of a panel of curves, in tenths of a millimetre: one in a column of wide paper, else two."""
        between_mm = COLUMN_GAP_MM if self.wide else 0.0
        return int((self.text_mm - between_mm) / 2 - PANEL_GAP_MM) * 10


# Half letter is half of ANSI letter, 8.5 by 11 in; A4 and A5 are ISO 216's.
PAPERS: Mapping[str, Paper] = MappingProxyType(
    {
        "half letter": Paper(139.7, 215.9, 8.3, wide=False),
        "letter": Paper(215.9, 279.4, 14, wide=True),
        "A5": Paper(148, 210, 8.3, wide=False),
        "A4": Paper(210, 297, 14, wide=True),
    }
)

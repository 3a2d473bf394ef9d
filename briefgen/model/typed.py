"""A table of the handbook as it was typed: every number with its digits and its place in the file."""

from collections.abc import Mapping
from typing import NamedTuple

from briefgen.handbook.table import Grid

Index = tuple[int, ...]
ROLL, TOTAL = "ground roll", "over 50 ft"


class Typed(NamedTuple):
    """One number of a cell: its value in the page's own unit, its digits, the place of its cell in the file."""

    value: float
    text: str
    line: int
    column: int


class TypedTable(NamedTuple):
    """One table, as typed.

    `kind`: 'takeoff', 'landing', or another that is no distance. `units` as the page prints them. `cells` by
    quantity, None where blank. `course`: quantities that can only rise (1) or fall (-1) as the airplane gets
    higher, hotter or heavier. `checked`: cells that were looked at against the page, each with its reason.
    """

    kind: str
    name: str
    page: str
    grid: Grid
    units: Mapping[str, str]
    cells: Mapping[str, Mapping[Index, Typed | None]]
    course: Mapping[str, int]
    checked: Mapping[Index, str]
    line: int
    column: int

    @property
    def printed(self) -> int:
        """How many numbers it prints."""
        return sum(cell is not None for cells in self.cells.values() for cell in cells.values())

    def said(self, index: Index) -> str:
        """Return where a cell is, in words; 'its one cell' in a table of one."""
        return self.grid.short(index) or "its one cell"

    def point(self, axis: int, at: int) -> str:
        """Return a point of an axis in words, counted from its end if `at` is negative; '' of an axis of one."""
        points = self.grid.axes[axis].points
        return Grid((self.grid.axes[axis],), self.page).short((at % len(points),))


class TypedSpeed(NamedTuple):
    """One speed of a list by weight: kt indicated and lb inside, and as typed."""

    weight_lb: float
    speed_kt: float
    weight: str
    speed: str
    line: int
    column: int
    weight_line: int
    weight_column: int


class TypedSpeeds(NamedTuple):
    """A speed by weight, lightest first: what it is, its page."""

    kind: str
    name: str
    page: str
    speeds: tuple[TypedSpeed, ...]

"""A table of the handbook as it was typed: every number with its digits and its place in the file."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from briefgen.handbook.axes import QUANTITIES
from briefgen.handbook.table import Grid

Index = tuple[int, ...]
ROLL, TOTAL = "ground roll", "over 50 ft"
# What a point of an axis is called, and what stands at it on the page.
LINES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "pressure_altitude_ft": ("altitude", "row"),
        "density_altitude_ft": ("altitude", "row"),
        "temperature_degC": ("temperature", "column"),
        "above_standard_degC": ("temperature", "column"),
        "weight_lb": ("weight", "block"),
        "headwind_kt": ("headwind", "block"),
    }
)


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
    file: str = ""  # in which its cells were typed, where that is another than the aircraft file

    @property
    def printed(self) -> int:
        """How many numbers it prints."""
        return sum(cell is not None for cells in self.cells.values() for cell in cells.values())

    def said(self, index: Index) -> str:
        """Return where a cell is, in words; 'its one cell' in a table of one."""
        return self.grid.short(index) or "its one cell"

    def worsens(self, axis: int) -> int:
        """Return 1 if more along an axis is the worse for the airplane, else -1."""
        return 1 if QUANTITIES[self.grid.axes[axis].name].rises else -1

    def line_name(self, axis: int) -> str:
        """Return what a point of an axis is called."""
        return LINES[self.grid.axes[axis].name][0]

    def altitude(self) -> str:
        """Return which altitude its rows are of."""
        return QUANTITIES[self.grid.axes[0].name].words

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

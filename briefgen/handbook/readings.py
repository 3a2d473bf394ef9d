"""Tables that print other things than a distance: a rate of climb, what a climb takes, a cruise setting.

One printed table may print several quantities in a cell. Each is looked up like a distance: linear between printed
cells, never past them, and with its working.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from briefgen.errors import Refusal
from briefgen.figures import Figure, Inputs, Source, Step, Steps, missing
from briefgen.handbook.axes import QUANTITIES
from briefgen.handbook.table import CHECKED, Corner, Grid, neighbours

Cells = Mapping[tuple[int, ...], float | None]
FALLS, RISES = -1, 1


@dataclass(frozen=True, slots=True, eq=False)  # one table is itself
class Readings:
    """One printed table of one or more quantities over pressure altitude, and temperature and weight where printed.

    `cells` by quantity, in the inside unit that `units` says. `course`: quantities that can only rise, or only
    fall, as the airplane gets higher, hotter or heavier; neighbours that go the other way are refused until one
    of them is `checked` against the page. `technique`: how the table says to fly, and with which power.
    """

    title: str
    grid: Grid
    cells: Mapping[str, Cells]
    units: Mapping[str, str]
    technique: str = ""
    course: Mapping[str, int] = field(default_factory=dict)
    checked: Mapping[tuple[int, ...], str] = field(default_factory=dict)

    @property
    def source(self) -> Source:
        """The page of the table."""
        return Source(self.grid.page)

    def value(self, quantity: str, inputs: Inputs) -> float:
        """Return a quantity in its unit, linear between the printed cells.

        Raises
        ------
        Refusal : off the table, a blank cell, or neighbours that go the wrong way.
        """
        return self._value(quantity, self._at(inputs))

    @lru_cache(maxsize=1024)  # noqa: B019 - bounded; a route asks for the same few points again and again
    def _value(self, quantity: str, coordinates: tuple[float, ...]) -> float:
        corners, _ = self.grid.corners(coordinates)
        values = [self._cell(quantity, cell) for cell, _ in corners]
        way = self.course.get(quantity, 0)
        for low, high in neighbours(len(values)):
            if (values[high] - values[low]) * way < 0:
                self._refuse_turning(quantity, corners, values, low, high)
        return sum([corner.share * value for corner, value in zip(corners, values, strict=True)])

    def read(self, quantity: str, label: str, inputs: Inputs) -> Figure:
        """Return a quantity as a figure: the cells that it was read from are its step, a refusal its reason.

        Parameters
        ----------
        quantity : one of `units`.
        label : what the figure is called.
        inputs : the axes of the table by name [ft, degC, lb].
        """
        unit = self.units[quantity]
        try:
            value = self.value(quantity, inputs)
        except Refusal as refusal:
            return missing(label, unit, refusal.reason, refusal.about)
        return Figure(label, unit, value, Steps(lambda: (self._step(quantity, label, inputs, value),)))

    def _step(self, quantity: str, label: str, inputs: Inputs, value: float) -> Step:
        words = self._words(quantity, inputs)
        return Step(label, self.title, words, None, value, self.units[quantity], self.source)

    def edges(self, inputs: Inputs) -> tuple[str, ...]:
        """Return the names of the axes whose outermost figure is used as it stands; none where it is refused."""
        try:
            return self.grid.corners(self._at(inputs))[1]
        except Refusal:
            return ()

    def _at(self, inputs: Inputs) -> tuple[float, ...]:
        return tuple([inputs[axis.name] for axis in self.grid.axes])

    def _cell(self, quantity: str, index: tuple[int, ...]) -> float:
        value = self.cells[quantity][index]
        if value is None:
            at = self.grid.said(index)
            raise Refusal(f"the table is blank{f' at {at}' if at else ''} ({self.grid.page})")
        return value

    def _refuse_turning(
        self, quantity: str, corners: list[Corner], values: list[float], low: int, high: int
    ) -> None:
        """Refuse neighbours that go against the course of the quantity."""
        if any(cell in self.checked for cell, _ in corners):
            return
        here, there = (self.grid.said(corners[each].cell) for each in (high, low))
        goes = "falls" if self.course[quantity] == RISES else "rises"
        words = f"{quantity} {goes} from {values[low]:,.6g} at {there} to {values[high]:,.6g} at {here}"
        raise Refusal(f"{words} ({self.grid.page}): check both cells against the page")

    def _words(self, quantity: str, inputs: Inputs) -> str:
        """Return the cells looked up, any edge that was used, and why a cell that looks wrong was."""
        corners, edges = self.grid.corners(self._at(inputs))
        cells = []
        for cell, _ in corners:
            at = self.grid.short(cell)
            cells.append(f"{self._cell(quantity, cell):,.6g}" + (f" ({at})" if at else ""))
        used = "".join(f"; {QUANTITIES[edge].low_end} of the table used" for edge in edges)
        reasons = dict.fromkeys(self.checked[cell] for cell, _ in corners if cell in self.checked)
        checked = "".join(f"{CHECKED}{reason}" for reason in reasons)
        return ("between " if len(cells) > 1 else "") + ", ".join(cells) + used + checked

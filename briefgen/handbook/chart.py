"""Takeoff and landing distance charts: one printed table pair, its own conditions, and its notes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Inputs, Source, Step
from briefgen.handbook.notes import Note
from briefgen.handbook.table import CHECKED, Corner, Grid, neighbours

Cells = Mapping[tuple[int, ...], float | None]


class ChartConditions(NamedTuple):
    """What the table itself assumes, in the handbook's words; printed beside the planned technique.

    `factored`: a safety factor is in it already; `factor_inside` is how large that is, None where it is not known.
    """

    technique: str
    power: str
    surface: str
    braking: str = ""
    wind: str = ""
    factored: bool = False
    factor_inside: float | None = None

    @property
    def factor_words(self) -> str:
        """What to say of a safety factor in the table."""
        if not self.factored:
            return "no"
        return "yes, how large is not known" if self.factor_inside is None else f"yes, by {self.factor_inside:g}"


@dataclass(frozen=True, slots=True, eq=False)  # one chart is itself
class DistanceChart:
    """Ground roll and distance over 50 ft [ft] over pressure altitude, and temperature and weight where printed.

    `at_standard`: printed at standard temperature only, so that temperature is a cause for the notes, not an
    axis. `order_open`: the handbook does not say in which order its notes apply. `checked`: cells that were
    checked against the page although they look wrong, each with its reason.
    """

    phase: str  # 'takeoff' or 'landing'
    flaps: str
    grid: Grid
    roll: Cells
    total: Cells
    conditions: ChartConditions
    notes: tuple[Note, ...] = ()
    at_standard: bool = False
    order_open: bool = False
    checked: Mapping[tuple[int, ...], str] = field(default_factory=dict)

    @property
    def page(self) -> str:
        """The page of the table, as a source text."""
        return self.grid.page

    def note_for(self, cause: str) -> Note | None:
        """Return the first note printed for a cause."""
        return next((note for note in self.notes if note.cause == cause), None)

    def covers(self, cause: str, quantity: str) -> bool:
        """Say whether a note is printed for a cause that changes 'roll' or 'total'."""
        return any(note.cause == cause and quantity in note.changes for note in self.notes)

    @property
    def answers(self) -> tuple[str, ...]:
        """The causes that the table itself answers: none, they are its notes'."""
        return ()

    def look_ups(
        self, causes: Sequence[str] = (), guidance: Sequence[Note] = (), *, whole_steps: bool = True
    ) -> "tuple[LookUp, LookUp]":
        """Return the two operations that begin every distance chain, whatever the causes."""
        return LookUp("roll", self), LookUp("total", self)

    def credited(self, cause: str, amount: float, *, whole_steps: bool) -> float:
        """Return how much of a cause that helps the table's note credits.

        Parameters
        ----------
        cause : of `handbook.causes`, such as a wind from ahead.
        amount : of it, in its unit there, 0 or more.
        whole_steps : count credits in whole printed steps only.
        """
        note = self.note_for(cause)
        return note.counted(amount, whole_steps=whole_steps) if note else 0.0

    @lru_cache(maxsize=256)  # noqa: B019 - bounded; every case of a brief looks up the same few points
    def value(self, quantity: str, coordinates: tuple[float, ...]) -> float:
        """Return 'roll' or 'total' [ft] at coordinates in the order of the axes, linear between printed cells.

        Raises
        ------
        Refusal : off the table, a blank cell, a cell whose roll is not shorter than its total, or neighbours that
            fall where they must rise.
        """
        corners, _ = self.grid.corners(coordinates)
        values = [self.cell(quantity, cell) for cell, _ in corners]
        for low, high in neighbours(len(values)):
            if values[low] > values[high]:
                self._refuse_falling(corners, values, low, high)
        return sum([corner.share * value for corner, value in zip(corners, values, strict=True)])

    def _refuse_falling(self, corners: list[Corner], values: list[float], low: int, high: int) -> None:
        """Refuse neighbours that fall: higher, hotter or heavier never makes a distance shorter."""
        if any(cell in self.checked for cell, _ in corners):
            return
        here, there = (self.grid.said(corners[each].cell) for each in (high, low))
        falls = f"the table falls from {values[low]:,.0f} ft at {there} to {values[high]:,.0f} ft at {here}"
        raise Refusal(f"{falls} ({self.page}): check both cells against the page")

    def edges(self, inputs: Inputs) -> tuple[str, ...]:
        """Return the names of the axes whose outermost figure is used as it stands; none where it is refused."""
        try:
            return self.grid.corners(tuple([inputs[axis.name] for axis in self.grid.axes]))[1]
        except Refusal:
            return ()

    def vouched(self, inputs: Inputs) -> bool:
        """Say whether a look-up touches a cell that looks wrong and is used because somebody checked it."""
        if not self.checked:
            return False
        try:
            corners, _ = self.grid.corners(tuple([inputs[axis.name] for axis in self.grid.axes]))
        except Refusal:
            return False
        return any(cell in self.checked for cell, _ in corners)

    def cell(self, quantity: str, index: tuple[int, ...]) -> float:
        """Return one printed cell [ft]; refuses a blank one, and one that looks wrong and was not checked."""
        roll, total = self.roll[index], self.total[index]
        value = roll if quantity == "roll" else total
        if value is None:
            raise Refusal(f"the table is blank at {self.grid.said(index)} ({self.page})")
        if roll is not None and total is not None and roll >= total and index not in self.checked:
            raise Refusal(
                f"the cell at {self.grid.said(index)} prints a ground roll of {roll:,.0f} ft, not shorter than "
                f"its total of {total:,.0f} ft ({self.page}): check it against the page"
            )
        return value


class LookUp(NamedTuple):
    """Look one distance up."""

    quantity: str
    chart: DistanceChart
    needs: tuple[str, ...] = ()

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the distance [ft], linear between the printed cells.

        Raises
        ------
        Refusal : off the table, a blank cell, or a cell whose roll is not shorter than its total.
        """
        return self.chart.value(self.quantity, tuple([inputs[axis.name] for axis in self.chart.grid.axes]))

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed: the cells looked up, and any edge of the table that was used."""
        chart = self.chart
        corners, edges = chart.grid.corners(tuple([inputs[axis.name] for axis in chart.grid.axes]))
        name = "ground roll" if self.quantity == "roll" else "distance over 50 ft"
        rows = [f"{chart.cell(self.quantity, cell):,.0f} ({chart.grid.short(cell)})" for cell, _ in corners]
        used = "".join(f"; {_EDGES[edge]} of the table used" for edge in edges)
        reasons = dict.fromkeys(chart.checked[cell] for cell, _ in corners if cell in chart.checked)
        checked = "".join(f"{CHECKED}{reason}" for reason in reasons)
        words = ("between " if len(rows) > 1 else "") + ", ".join(rows) + used + checked
        return Step(
            self.quantity, f"{name}, flaps {self.chart.flaps}", words, None, after, "ft", Source(self.chart.page)
        )


_EDGES = {
    "weight_lb": "lightest weight",
    "temperature_degC": "coldest column",
    "pressure_altitude_ft": "lowest row",
}

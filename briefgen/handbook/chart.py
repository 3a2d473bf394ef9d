"""Takeoff and landing distance charts: one printed table pair, its own conditions, and its notes."""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from operator import mul
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Inputs, Source, Step
from briefgen.handbook.axes import AGAINST, BEHIND, HEADWIND, QUANTITIES, WORKED_OUT, said
from briefgen.handbook.notes import Note, signed
from briefgen.handbook.table import CHECKED, Axis, Corner, Grid, neighbours
from briefgen.units import KINDS

Cells = Mapping[tuple[int, ...], float | None]
_GRACE_KT = 1e-9  # a wind of 20.0 kt resolved to 19.999999999 is that column's


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
    """Ground roll and distance over 50 ft [ft] over altitude, and temperature, weight and wind where printed.

    `at_standard`: printed at standard temperature only, so that temperature is a cause for the notes, not an
    axis. `order_open`: the handbook does not say in which order its notes apply. `checked`: cells that were
    checked against the page although they look wrong, each with its reason. `unit`: in which the page prints its
    distances; the cells are kept in ft, unrounded. `_sound`: the cells of look-ups that were found to be in order.
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
    unit: str = "ft"
    _sound: dict[tuple[str, int, int], tuple[float, ...]] = field(default_factory=dict, init=False, repr=False)

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
    def wind(self) -> Axis | None:
        """The printed axis of the wind along the runway, None where wind is left to the notes."""
        place = self.grid.place_of(HEADWIND)
        return self.grid.axes[place] if place >= 0 else None

    @property
    def axes(self) -> tuple[str, ...]:
        """The names of what the table is entered with."""
        return tuple(axis.name for axis in self.grid.axes)

    @property
    def answers(self) -> tuple[str, ...]:
        """The causes that the table's own columns answer, so that no note may: the winds that they print."""
        if self.wind is None:
            return ()
        return (AGAINST, BEHIND) if self.wind.points[0] < 0 else (AGAINST,)

    def look_ups(
        self,
        causes: Sequence[str] = (),
        guidance: Sequence[Note] = (),
        *,
        whole_steps: bool = True,
        worse: bool = False,
    ) -> "tuple[LookUp, LookUp]":
        """Return the two operations that begin every distance chain, whatever the causes.

        `worse`: by the nearest worse row.
        """
        wind = self.grid.place_of(HEADWIND)
        return LookUp("roll", self, worse=worse, wind=wind), LookUp("total", self, worse=worse, wind=wind)

    def credited(self, cause: str, amount: float, *, whole_steps: bool) -> float:
        """Return how much of a cause that helps is credited, by printed columns of it, or else by the note.

        A headwind counts in whole printed columns unless that is said not to be asked for, and no further than the
        last of them.

        Parameters
        ----------
        cause : of `handbook.causes`, such as a wind from ahead.
        amount : of it, in its unit there, 0 or more.
        whole_steps : count credits in whole printed steps only.
        """
        if self.wind and cause == AGAINST:
            points = self.wind.points
            return points[bisect_right(points, amount + _GRACE_KT) - 1] if whole_steps else min(amount, points[-1])
        note = self.note_for(cause)
        return note.counted(amount, whole_steps=whole_steps) if note else 0.0

    def taken_up_ft(self, quantity: str, inputs: Inputs, *, whole_steps: bool) -> float:
        """Return nothing: a table prints its figures."""
        return 0.0

    @lru_cache(maxsize=256)  # noqa: B019 - bounded; every case of a brief looks up the same few points
    def value(self, quantity: str, coordinates: tuple[float, ...]) -> float:
        """Return 'roll' or 'total' [ft] at coordinates in the order of the axes, linear between printed cells.

        Raises
        ------
        Refusal : off the table, a blank cell, a cell whose roll is not shorter than its total, or neighbours that
            fall where they must rise.
        """
        key, fractions = self.grid.box(coordinates)
        cells = self._sound.get((quantity, *key))
        if cells is None:
            cells = self._sound[(quantity, *key)] = self._in_order(quantity, self.grid.corners(coordinates)[0])
        shares = [1.0]
        for fraction in fractions:
            shares = [share * part for share in shares for part in (1 - fraction, fraction)]
        found: float = sum(map(mul, shares, cells))
        return found

    def worse(self, quantity: str, coordinates: tuple[float, ...]) -> float:
        """Return what is printed at the nearest worse row, column, weight and wind [ft], nothing interpolated.

        Where a cell that falls there was checked against the page, and so counts, it is not shorter than `value`.

        Raises
        ------
        Refusal : wherever `value` refuses.
        """
        between = self.value(quantity, coordinates)
        return max(between, self.value(quantity, self.grid.worse(coordinates)))

    def _in_order(self, quantity: str, corners: list[Corner]) -> tuple[float, ...]:
        """Return the cells that a look-up touches; refuse what `value` refuses of them."""
        cells = tuple([self.cell(quantity, cell) for cell, _ in corners])
        by_wind = self.wind is not None
        for low, high in neighbours(len(cells)):
            if by_wind or cells[low] > cells[high]:
                self._refuse_falling(corners, cells, low, high)
        return cells

    def _refuse_falling(self, corners: list[Corner], cells: tuple[float, ...], low: int, high: int) -> None:
        """Refuse neighbours out of order: higher, hotter, heavier, less headwind never makes a distance shorter."""
        before, after = corners[low].cell, corners[high].cell
        axis = next(i for i, (a, b) in enumerate(zip(before, after, strict=True)) if a != b)
        rises = QUANTITIES[self.grid.axes[axis].name].rises
        if cells[low] == cells[high] or (cells[low] < cells[high]) == rises:
            return
        if any(cell in self.checked for cell, _ in corners):
            return
        goes, there = "falls" if rises else "rises", f"{self.printed(cells[low])} at {self.grid.said(before)}"
        words = f"the table {goes} from {there} to {self.printed(cells[high])} at {self.grid.said(after)}"
        raise Refusal(f"{words} ({self.page}): check both cells against the page")

    def printed(self, value_ft: float) -> str:
        """Return a distance [ft] as the page prints it, with what it is in feet where that is another unit."""
        if self.unit == "ft":
            return f"{value_ft:,.0f} ft"
        return f"{value_ft / KINDS['length'][self.unit][0]:,.6g} {self.unit} = {value_ft:,.0f} ft"

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
                f"the cell at {self.grid.said(index)} prints a ground roll of {self.printed(roll)}, not shorter "
                f"than its total of {self.printed(total)} ({self.page}): check it against the page"
            )
        return value


class LookUp(NamedTuple):
    """Look one distance up; `wind`: which axis of the table is the wind's, -1 where none is."""

    quantity: str
    chart: DistanceChart
    needs: tuple[str, ...] = ()
    worse: bool = False
    wind: int = -1

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the distance [ft]: linear between the printed cells, or that of the nearest worse row.

        A headwind shortens it no further than physics does, as with a note for it.

        Raises
        ------
        Refusal : off the table, a blank cell, or a cell whose roll is not shorter than its total.
        """
        at = tuple([inputs[axis.name] for axis in self.chart.grid.axes])
        found = self._at(at)
        return found if self.wind < 0 or at[self.wind] <= 0 else max(found, self._least(at, inputs))

    def _at(self, at: tuple[float, ...]) -> float:
        return self.chart.worse(self.quantity, at) if self.worse else self.chart.value(self.quantity, at)

    def _least(self, at: tuple[float, ...], inputs: Inputs) -> float:
        """Return the distance in still air [ft], shortened by the square law."""
        still = (*at[: self.wind], 0.0, *at[self.wind + 1 :])
        return self._at(still) * (1 + inputs["headwind_bound"])

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed: the cells looked up, and any edge of the table that was used."""
        chart = self.chart
        at = tuple([inputs[axis.name] for axis in chart.grid.axes])
        _, edges = chart.grid.corners(at)
        corners, _ = chart.grid.corners(chart.grid.worse(at) if self.worse else at)
        name = "ground roll" if self.quantity == "roll" else "distance over 50 ft"
        rows = [self._row(cell) for cell, _ in corners]
        used = "".join(f"; {QUANTITIES[edge].low_end} of the table used" for edge in edges)
        reasons = dict.fromkeys(chart.checked[cell] for cell, _ in corners if cell in chart.checked)
        checked = "".join(f"{CHECKED}{reason}" for reason in reasons)
        nearest = ": nearest worse row" if self.worse else ""
        values_at = zip(chart.grid.axes, at, strict=True)
        entered = [said(axis.name, value) for axis, value in values_at if axis.name in WORKED_OUT]
        words = ("between " if len(rows) > 1 else "") + ", ".join(rows) + nearest + used + checked
        words += f"; entered with {', '.join(entered)}" if entered else ""
        if self.wind >= 0 and at[self.wind] > 0 and after > self._at(at):
            words += f"; held to the square law, {signed(inputs['headwind_bound'])} of that in still air"
        return Step(
            self.quantity, f"{name}, flaps {self.chart.flaps}", words, None, after, "ft", Source(self.chart.page)
        )

    def _row(self, cell: tuple[int, ...]) -> str:
        """Return one cell as it is printed, and where it stands."""
        printed = self.chart.printed(self.chart.cell(self.quantity, cell))
        return (
            f"{printed.removesuffix(' ft') if self.chart.unit == 'ft' else printed} ({self.chart.grid.short(cell)})"
        )

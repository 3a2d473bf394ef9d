"""The table that a distance is looked up in, drawn as curves over temperature, with the day's point on it.

Of all pressure altitudes and weights those next to the day's are drawn: the figure is worked between them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.calc.distance import NoAir, Scene
from briefgen.errors import Refusal
from briefgen.handbook.chart import DistanceChart
from briefgen.handbook.charts import Chart
from briefgen.handbook.table import Axis
from briefgen.units import up

ALTITUDE, TEMPERATURE, WEIGHT = "pressure_altitude_ft", "temperature_degC", "weight_lb"
QUANTITIES = (("roll", "ground roll"), ("total", "over 50\u00a0ft"))
UNITS = {ALTITUDE: "ft", TEMPERATURE: "°C"}


@dataclass(frozen=True, slots=True)
class TableCurve:
    """One line of a table, for one pressure altitude, which labels it; dashed for the heavier of two weights."""

    points: tuple[tuple[float, float], ...]
    label: str
    dashed: bool


@dataclass(frozen=True, slots=True)
class DayPoint:
    """What the table says for the day, rounded up as a need is."""

    label: str
    at: float  # along the lower edge
    value_ft: float


@dataclass(frozen=True, slots=True)
class TablePanel:
    """The curves of one distance of a table."""

    title: str
    across: str  # the unit along the lower edge
    curves: tuple[TableCurve, ...]
    points: tuple[DayPoint, ...]
    text: str


@dataclass(frozen=True, slots=True)
class TablePicture:
    """A table next to the day's air and weight: a panel for each distance, and what all of it says."""

    panels: tuple[TablePanel, ...]
    said: str


def table_picture(
    chart: Chart, there: Scene | NoAir, weight_lb: float, *, nearest_worse: bool = False
) -> TablePicture | None:
    """Return the picture of a table; None where the air is not known, or where it is not drawn in this way.

    That is a table in ft, °C and lb, over no more than pressure altitude, temperature and weight; no graph.

    Parameters
    ----------
    chart : the table, or what is no table.
    there : the runway in its air.
    weight_lb : the day's.
    nearest_worse : ring what is printed at the nearest worse row, column and weight, as the policy looks it up.
    """
    if not isinstance(chart, DistanceChart) or not _plain(chart):
        return None
    axes = {axis.name: axis for axis in chart.grid.axes}
    along = TEMPERATURE if len(axes[TEMPERATURE].points if TEMPERATURE in axes else ()) > 1 else ALTITUDE
    if isinstance(there, NoAir) or along not in axes or len(axes[along].points) < 2:
        return None
    day = {
        ALTITUDE: there.pressure_altitude_ft,
        TEMPERATURE: there.conditions.temperature_degC,
        WEIGHT: weight_lb,
    }
    beside = {name: _beside(axis, day[name]) for name, axis in axes.items() if name != along}
    panels = tuple(_panel(chart, along, day, beside, *each, nearest_worse) for each in QUANTITIES)
    said = "Lines: the table, ringed: the day."
    if beside.get(ALTITUDE):
        said = f"Lines: the table at {_listed(beside[ALTITUDE])}\u00a0ft pressure altitude. {_ringed(day)}"
    weights = beside.get(WEIGHT, ())
    if len(weights) > 1:
        said += f" Solid: {weights[0]:,.0f}\u00a0lb, dashed: {weights[1]:,.0f}\u00a0lb."
    if not all(panel.points for panel in panels):
        return TablePicture(panels, f"{said} The day is not on this table.")
    by = "by its nearest worse row" if nearest_worse else "it gives"
    gives = ", ".join(f"{panel.title} {panel.points[0].label}\u00a0ft" for panel in panels)
    return TablePicture(panels, f"{said} At {weight_lb:,.0f}\u00a0lb {by}, uncorrected: {gives}.")


def _ringed(day: Mapping[str, float]) -> str:
    return f"Ringed: the day, {day[ALTITUDE]:,.0f}\u00a0ft, {day[TEMPERATURE]:.0f}\u00a0°C."


def _listed(values: tuple[float, ...]) -> str:
    return " and ".join(f"{value:,.0f}" for value in values)


def _beside(axis: Axis, value: float) -> tuple[float, ...]:
    """Return the printed points next to a value: one if it is printed, the outermost if it is off the table."""
    below = [point for point in axis.points if point <= value]
    above = [point for point in axis.points if point >= value]
    return tuple(dict.fromkeys([*below[-1:], *above[:1]]))


def _panel(
    chart: DistanceChart,
    along: str,
    day: Mapping[str, float],
    beside: Mapping[str, tuple[float, ...]],
    quantity: str,
    name: str,
    worse: bool,
) -> TablePanel:
    axis = next(each for each in chart.grid.axes if each.name == along)
    value = _looked_up(chart, quantity, day, worse=worse)
    points: tuple[DayPoint, ...] = ()
    text = f"{chart.page}, {name}, from {axis.points[0]:,.0f} to {axis.points[-1]:,.0f}\u00a0{UNITS[along]}"
    if value is not None:
        points = (DayPoint(f"{value:,.0f}", max(day[along], axis.points[0]), value),)
        text += f"; ringed: {value:,.0f}\u00a0ft at {points[0].at:,.0f}\u00a0{UNITS[along]}"
    return TablePanel(name, UNITS[along], tuple(_curves(chart, along, beside, quantity)), points, text)


def _plain(chart: DistanceChart) -> bool:
    axes = chart.grid.axes
    return chart.unit == "ft" and all(
        axis.name in (ALTITUDE, TEMPERATURE, WEIGHT) and not axis.unit for axis in axes
    )


def _looked_up(chart: DistanceChart, quantity: str, at: Mapping[str, float], *, worse: bool) -> float | None:
    """Return a distance of the table, rounded up to a whole foot; None where it refuses."""
    try:
        return up(
            (chart.worse if worse else chart.value)(quantity, tuple(at[axis.name] for axis in chart.grid.axes))
        )
    except Refusal:
        return None


def _curves(
    chart: DistanceChart, along: str, beside: Mapping[str, tuple[float, ...]], quantity: str
) -> Iterator[TableCurve]:
    """Return a curve through the printed cells for each pressure altitude and weight next to the day's."""
    cells = chart.roll if quantity == "roll" else chart.total
    names = [axis.name for axis in chart.grid.axes]
    lines: dict[tuple[float | None, float | None], list[tuple[float, float]]] = {}
    for index in chart.grid.cells():
        place = {axis.name: axis.points[i] for axis, i in zip(chart.grid.axes, index, strict=True)}
        value = cells[index]
        if value is not None and all(place[name] in beside[name] for name in names if name != along):
            altitude = place[ALTITUDE] if along != ALTITUDE else None
            lines.setdefault((altitude, place.get(WEIGHT)), []).append((place[along], value))
    heavier = max(beside[WEIGHT]) if len(beside.get(WEIGHT, ())) > 1 else None
    for (altitude, weight_lb), points in lines.items():
        label = "" if altitude is None else f"{altitude:,.0f}"
        yield TableCurve(tuple(points), label, dashed=weight_lb is not None and weight_lb == heavier)

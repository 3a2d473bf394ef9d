"""The handbook's table drawn with the day's point: its value by scipy's interpolation, its place to scale."""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from pathlib import Path

import numpy as np
import pytest
from changed import only
from scipy.interpolate import RegularGridInterpolator

from briefgen.brief import Brief
from briefgen.calc.distance import NoAir, Scene
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.table import Axis, Grid
from briefgen.model.weather import NotGiven
from briefgen.pipeline import brief_of
from briefgen.render.curves import LEFT, lay_out, of_table
from briefgen.render.paper import PAPERS
from briefgen.render.sheet import to_html
from briefgen.table_picture import TablePicture, table_picture

SAID = ChartConditions("technique", "power", "paved")


@pytest.fixture(scope="module")
def brief() -> Brief:
    path = Path(__file__).resolve().parents[2] / "examples" / "quillmere" / "trip.yaml"
    return brief_of(path, "trip.yaml")


def scene(brief: Brief) -> Scene:
    there = brief.flight.departure
    assert isinstance(there, Scene)
    return there


def table(*axes: Axis) -> DistanceChart:
    """A table whose ground roll is the sum of its coordinates over 10 and 100, and twice that over 50 ft."""
    grid = Grid(axes, "p. 1")
    roll = {
        cell: sum(axis.points[i] for axis, i in zip(axes, cell, strict=True)) / 10 + 100 for cell in grid.cells()
    }
    return DistanceChart("takeoff", "0", grid, roll, {cell: 2 * value for cell, value in roll.items()}, SAID)


ALTITUDES = Axis("pressure_altitude_ft", (0, 1000, 2000))
TEMPERATURES = Axis("temperature_degC", (0, 20, 40))
WEIGHTS = Axis("weight_lb", (2000, 2400))


@pytest.mark.parametrize("which", ["takeoff", "landing"])
def test_the_ringed_values_are_scipy_s(brief: Brief, which: str) -> None:
    flight, trip = brief.flight, brief.trip
    chart = flight.takeoff.chart if which == "takeoff" else flight.planned.chart
    there = flight.departure if which == "takeoff" else flight.arrival
    weight = trip.departure.weight_lb if which == "takeoff" else trip.arrival.weight_lb
    assert isinstance(chart, DistanceChart)
    assert isinstance(there, Scene)
    picture = table_picture(chart, there, weight)
    assert picture is not None
    inputs = {
        "pressure_altitude_ft": there.pressure_altitude_ft,
        "temperature_degC": there.conditions.temperature_degC,
        "weight_lb": weight,
    }
    axes = [axis for axis in chart.grid.axes if len(axis.points) > 1]
    for panel, cells in zip(picture.panels, (chart.roll, chart.total), strict=True):
        values = np.array([cells[cell] for cell in chart.grid.cells()], dtype=float)
        shaped = values.reshape([len(axis.points) for axis in axes])
        found = RegularGridInterpolator([axis.points for axis in axes], shaped)(
            [inputs[axis.name] for axis in axes]
        )
        assert panel.points[0].value_ft == ceil(found[0] - 1e-9)
        assert panel.points[0].at == there.conditions.temperature_degC
        assert f"{panel.title} {panel.points[0].label}" in picture.said
        assert f"ringed: {panel.points[0].label}" in panel.text


def test_the_lines_are_those_next_to_the_day(brief: Brief) -> None:
    """27 °C at a pressure altitude of 621 ft and 2,100 lb: between 0 and 1,000 ft, between 2,000 and 2,400 lb."""
    picture = table_picture(table(ALTITUDES, TEMPERATURES, WEIGHTS), scene(brief), 2100.0)
    assert picture is not None
    roll, total = picture.panels
    assert [(curve.label, curve.dashed) for curve in roll.curves] == [
        ("0", False),
        ("0", True),
        ("1,000", False),
        ("1,000", True),
    ]
    assert roll.curves[0].points == ((0, 300), (20, 302), (40, 304))
    assert total.curves[0].points == ((0, 600), (20, 604), (40, 608))
    assert "0 and 1,000\u00a0ft pressure altitude" in picture.said
    assert "Solid: 2,000\u00a0lb, dashed: 2,400\u00a0lb" in picture.said


def test_a_printed_weight_and_altitude_have_one_line(brief: Brief) -> None:
    there = scene(brief)._replace(pressure_altitude_ft=1000.0)
    picture = table_picture(table(ALTITUDES, TEMPERATURES, WEIGHTS), there, 2400.0)
    assert picture is not None
    assert [(curve.label, curve.dashed) for curve in picture.panels[0].curves] == [("1,000", False)]
    assert "dashed" not in picture.said


def test_a_day_off_the_table_has_no_ring_and_says_so(brief: Brief) -> None:
    picture = table_picture(table(ALTITUDES, TEMPERATURES, WEIGHTS), scene(brief), 2500.0)
    assert picture is not None
    assert [panel.points for panel in picture.panels] == [(), ()]
    assert picture.said.endswith("The day is not on this table.")
    assert lay_out(of_table(picture.panels[0]), 600).rings == ()


def test_by_the_nearest_worse_row_the_ring_is_a_printed_cell(brief: Brief) -> None:
    """621 ft, 27 °C, 2,100 lb: worse are 1,000 ft, 40 °C and 2,400 lb; 100 + 3,440 / 10 = 444."""
    picture = table_picture(table(ALTITUDES, TEMPERATURES, WEIGHTS), scene(brief), 2100.0, nearest_worse=True)
    assert picture is not None
    assert [panel.points[0].value_ft for panel in picture.panels] == [444, 888]
    assert "by its nearest worse row" in picture.said


def test_a_table_in_other_units_or_by_other_axes_is_not_drawn(brief: Brief) -> None:
    there = scene(brief)
    for axis in (TEMPERATURES._replace(unit="degF"), Axis("headwind_kt", (0, 10))):
        assert table_picture(table(ALTITUDES, axis), there, 2100.0) is None
    assert table_picture(replace(table(ALTITUDES, TEMPERATURES), unit="m"), there, 2100.0) is None


def test_a_table_without_temperatures_is_drawn_over_pressure_altitude(brief: Brief) -> None:
    picture = table_picture(table(ALTITUDES), scene(brief), 2100.0)
    assert picture is not None
    assert picture.panels[0].across == "ft"
    assert picture.panels[0].curves[0].points == ((0, 100), (1000, 200), (2000, 300))
    assert picture.panels[0].points[0].value_ft == ceil(100 + scene(brief).pressure_altitude_ft / 10)


def test_a_low_edge_is_ringed_at_the_edge(brief: Brief) -> None:
    """27 °C on a table that begins at 30 °C, whose first column may be used below it."""
    hot = Axis("temperature_degC", (30, 40), low_edge=True)
    picture = table_picture(table(ALTITUDES, hot), scene(brief), 2100.0)
    assert picture is not None
    assert picture.panels[0].points[0].at == 30


def test_no_picture_without_air_or_without_an_axis_to_draw_along(brief: Brief) -> None:
    no_air = NoAir(NotGiven("no conditions"), scene(brief).have)
    assert table_picture(table(ALTITUDES, TEMPERATURES), no_air, 2100.0) is None
    assert table_picture(table(Axis("pressure_altitude_ft", (0,))), scene(brief), 2100.0) is None


def test_the_ring_stands_to_scale(brief: Brief) -> None:
    """A ring at 27 °C on an axis from 0 to 40 is 27/40 along; its height is linear between the printed numbers."""
    picture = table_picture(table(ALTITUDES, TEMPERATURES), scene(brief), 2100.0)
    assert picture is not None
    drawn = lay_out(of_table(picture.panels[0]), 600)
    (x, y), (low, *_, high) = drawn.rings[0], drawn.up
    assert x == pytest.approx(LEFT + 27 / 40 * (drawn.right - LEFT), abs=0.1)
    share = (picture.panels[0].points[0].value_ft - float(low.text)) / (float(high.text) - float(low.text))
    assert y == pytest.approx(low.at + share * (high.at - low.at), abs=0.2)
    assert drawn.crosses == drawn.rings


def pictures(brief: Brief) -> list[TablePicture]:
    return [each.picture for each in brief.compared if each.picture]


def test_the_working_shows_both_tables_with_their_words(brief: Brief) -> None:
    html = to_html(only(brief, "working"), for_screen=False)
    assert len(pictures(brief)) == 2
    for picture in pictures(brief):
        assert all(f'alt="{panel.text}"' in html for panel in picture.panels)
        assert picture.said in html
    assert PAPERS["letter"].panel > PAPERS["half letter"].panel  # one in a column, not two abreast

"""Charts by density altitude, by temperature above standard and by printed wind, and the nearest worse row.

Source of the expected numbers: the design's lines on axes, wind and the edge of a table, worked by hand on small
tables of one number in each row or column, beside each test; the density altitude is the published one named there.
"""

from __future__ import annotations

from typing import Any

import pytest
from small_models import aircraft, conditions, note, place, policy

from briefgen.calc.distance import axes_there
from briefgen.calc.landing import set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.takeoff import Takeoff, takeoff
from briefgen.calc.wind import RunwayWind
from briefgen.figures import Source
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.notes import Note
from briefgen.handbook.table import Axis, Grid
from briefgen.model.policy import Touchdown
from briefgen.units import FT_PER_M


def chart(
    axis: Axis,
    rolls: tuple[float, ...],
    *,
    phase: str = "takeoff",
    flaps: str = "10",
    notes: tuple[Note, ...] = (),
    unit: str = "ft",
) -> DistanceChart:
    """Return a chart of one axis; each total is twice its roll."""
    axes = (axis,) if axis.name.endswith("altitude_ft") else (Axis("pressure_altitude_ft", (0.0, 9000.0)), axis)
    grid = Grid(axes, "p. 5")
    roll = {cell: rolls[cell[-1]] for cell in grid.cells()}
    total = {cell: 2 * value for cell, value in roll.items()}
    plain = ChartConditions("any", "any", "paved")
    return DistanceChart(phase, flaps, grid, dict(roll), dict(total), plain, notes, unit=unit)


def worked(
    table: DistanceChart, *, along_kt: float = 0.0, degC: float = 15.0, height_ft: float = 0.0, **rules: Any
) -> Takeoff:
    wind = RunwayWind(max(along_kt, 0.0), max(-along_kt, 0.0), 0.0, "")
    there = place(elevation_ft=height_ft, air=conditions(degC), wind=wind)
    return takeoff(aircraft(takeoff=(table,)), there, "10", 2500.0, policy(**rules))


# Line: 'A pressure-altitude table is never entered with density altitude', nor the other way about.
# Published: 5,000 ft at 30 degC is a density altitude of 7,801 ft (the check value of `density_altitude`).
def test_a_table_over_density_altitude_is_entered_with_that() -> None:
    table = chart(Axis("density_altitude_ft", (0.0, 10_000.0)), (500.0, 1500.0))
    found = worked(table, degC=30.0, height_ft=5000.0).roll
    assert found.known == pytest.approx(500 + 780.1, abs=0.1)
    entered = found.steps[0].detail.partition("; entered with density altitude ")[2].removesuffix(" ft")
    assert round(float(entered.replace(",", ""))) == 7801
    other = chart(Axis("pressure_altitude_ft", (0.0, 10_000.0)), (500.0, 1500.0))
    assert worked(other, degC=30.0, height_ft=5000.0).roll.known == pytest.approx(1000)
    refused = worked(table, degC=40.0, height_ft=7500.0).roll
    assert refused.value is None
    assert "is above the table's highest, density altitude 10,000 ft" in refused.reason
    assert refused.about == "density_altitude_ft"


# Standard at 5,000 ft is 15 - 9.906 = 5.094 degC: 30 degC is 24.906 above it; 500 + 24.906 / 40 x 1000 = 1,122.65.
def test_columns_above_standard_are_entered_with_the_difference_from_standard() -> None:
    table = chart(Axis("above_standard_degC", (0.0, 40.0)), (500.0, 1500.0))
    assert worked(table, degC=30.0, height_ft=5000.0).roll.known == pytest.approx(1122.65, abs=0.05)


WIND = Axis("headwind_kt", (-10.0, 0.0, 10.0, 20.0))
ROLLS = (1400.0, 1000.0, 900.0, 810.0)


# Line: 'Credits in whole printed steps unless the policy says pro rata, penalties always pro rata; credit stops at
# the note's limit', here at the last column.
@pytest.mark.parametrize(
    ("along_kt", "whole", "pro_rata"),
    [
        (0.0, 1000, 1000),
        (9.9, 1000, 901),
        (10.0, 900, 900),
        (15.0, 900, 855),
        (20.0, 810, 810),
        (30.0, 810, 810),
        (-5.0, 1200, 1200),
        (-10.0, 1400, 1400),
    ],
)
def test_printed_wind_credits_whole_columns_and_penalizes_in_full(
    along_kt: float, whole: float, pro_rata: float
) -> None:
    found = worked(chart(WIND, ROLLS), along_kt=along_kt).roll
    assert found.known == pytest.approx(whole)
    counted_kt = max(along_kt if along_kt < 0 else 10.0 * (along_kt // 10), -10.0)
    side = "tailwind" if counted_kt < 0 else "headwind"
    assert f"; entered with {side} {min(abs(counted_kt), 20.0):g} kt" in found.steps[0].detail
    assert worked(chart(WIND, ROLLS), along_kt=along_kt, pro_rata_credit=True).roll.known == pytest.approx(pro_rata)


# Line: 'a tailwind past the note's limit is refused': here past the last column, or with no column and no note.
def test_more_tailwind_than_is_printed_is_refused() -> None:
    found = worked(chart(WIND, ROLLS), along_kt=-11.0).roll
    assert found.reason == "tailwind 11 kt is more than the table prints, tailwind 10 kt (p. 5)"
    assert found.about == "tailwind"
    only_head = chart(Axis("headwind_kt", (0.0, 10.0)), (1000.0, 900.0))
    assert worked(only_head, along_kt=-1.0).roll.reason.startswith("no correction for tailwind")


def test_a_tailwind_that_no_column_prints_is_answered_by_the_note_for_it() -> None:
    tail = note("tailwind", 0.10, per=2.0, up_to=10.0)
    table = chart(Axis("headwind_kt", (0.0, 10.0)), (1000.0, 900.0), notes=(tail,))
    assert worked(table, along_kt=-4.0).roll.known == pytest.approx(1200)  # still air, and two steps of 10 %
    assert worked(table, along_kt=12.0).roll.known == pytest.approx(900)


# Line: 'never more than the square law (1 - w/V)^2': 50 kt indicated at sea level in standard air, 20 kt of wind:
# 0.6^2 = 0.36 of 1,000 ft, more than the 300 ft that this table prints.
def test_printed_credit_is_held_to_the_square_law() -> None:
    table = chart(Axis("headwind_kt", (0.0, 20.0)), (1000.0, 300.0))
    found = worked(table, along_kt=20.0).roll
    assert found.known == pytest.approx(360.0, abs=0.1)
    assert "held to the square law, −64 % of that in still air" in found.steps[0].detail


def test_a_chart_that_prints_wind_asks_for_no_note_for_it() -> None:
    there = place(wind=RunwayWind(12.0, 0.0, 0.0, ""))
    table = chart(WIND, ROLLS)
    assert table.answers == ("headwind", "tailwind")
    assert table.note_for("headwind") is None
    assert worked(table, along_kt=12.0).roll.known == pytest.approx(900)  # the column of 10 kt, by no note
    assert axes_there(there, table, pro_rata=False)["headwind_kt"] == 10.0
    assert axes_there(there, table, pro_rata=True)["headwind_kt"] == 12.0


# Line: 'a stricter policy still rules': 10 kt of tailwind by the guidance 10 % for 1 kt is 2,000 ft, not 1,400.
def test_guidance_that_is_stricter_than_the_printed_wind_rules() -> None:
    strict = note("tailwind", 0.10, per=1.0, rank="if longer")
    mild = note("tailwind", 0.10, per=5.0, rank="if longer")
    small = note("headwind", -0.02, per=10.0, rank="if longer")
    table = chart(WIND, ROLLS)
    assert worked(table, along_kt=-10.0, takeoff_guidance=(strict,)).roll.known == pytest.approx(2000)
    assert worked(table, along_kt=-10.0, takeoff_guidance=(mild,)).roll.known == pytest.approx(1400)
    assert worked(table, along_kt=10.0, takeoff_guidance=(small,)).roll.known == pytest.approx(980)
    assert worked(table, along_kt=10.0, takeoff_guidance=(strict,)).roll.known == pytest.approx(900)


# By hand: 60 kt flown 66 kt (sea level, standard air), 10 kt of headwind counted:
# ((66 - 10) / (60 - 10))^2 = 1.2544 of the 900 ft printed for 10 kt; with 9 kt no column is counted:
# (66 / 60)^2 = 1.21 of 1,000 ft.
@pytest.mark.parametrize(("along_kt", "roll"), [(10.0, 900 * 1.2544), (9.0, 1210.0)])
def test_speed_added_on_landing_counts_the_wind_as_the_columns_do(along_kt: float, roll: float) -> None:
    table = chart(WIND, ROLLS, phase="landing", flaps="30", notes=(note("flaps up", 0.3),))
    there = place(wind=RunwayWind(along_kt, 0.0, 0.0, ""))
    touch = Touchdown(0, 0, 0, 0, Source("invented"))
    plan = LandingPlan(aircraft(landing=(table,)), 2500.0, policy(), touch, 6.0)
    planned, _ = set_up(plan, there.conditions.wind, "30").work(plan, there)
    assert planned.roll.known == pytest.approx(roll, abs=0.5)


# By hand: 1,400 ft lies between 1,000 ft (200 m) and 2,000 ft (300 m): 240 m linear; the nearest worse row, 300 m.
def test_the_nearest_worse_row_is_what_the_page_prints_there() -> None:
    table = chart(Axis("pressure_altitude_ft", (1000.0, 2000.0)), (200 * FT_PER_M, 300 * FT_PER_M), unit="m")
    linear, nearest = (worked(table, height_ft=1400.0, nearest_worse=worse).roll for worse in (False, True))
    assert linear.known == pytest.approx(240 / 0.3048)
    assert linear.steps[0].detail == "between 200 m = 656 ft (1,000 ft), 300 m = 984 ft (2,000 ft)"
    assert nearest.known == pytest.approx(300 / 0.3048)
    assert nearest.steps[0].detail == "300 m = 984 ft (2,000 ft): nearest worse row"
    assert worked(table, height_ft=2000.0, nearest_worse=True).roll.known == pytest.approx(300 / 0.3048)


# Less headwind and more tailwind are the worse: 15 kt is 10 kt's column even pro rata, 5 kt from behind is 10's.
@pytest.mark.parametrize(("along_kt", "roll"), [(15.0, 900), (25.0, 810), (5.0, 1000), (-5.0, 1400), (0.0, 1000)])
def test_the_nearest_worse_column_of_the_wind(along_kt: float, roll: float) -> None:
    found = worked(chart(WIND, ROLLS), along_kt=along_kt, nearest_worse=True, pro_rata_credit=True)
    assert found.roll.known == pytest.approx(roll)


# Line: 'per end of each axis, edge or refuse': the nearest worse row as a linear look-up.
def test_the_nearest_worse_row_is_refused_where_a_linear_look_up_is() -> None:
    rows = (0.0, 1000.0, 2000.0)
    falling = chart(Axis("pressure_altitude_ft", rows), (800.0, 700.0, 900.0))
    assert "the table falls from 800 ft" in worked(falling, height_ft=400.0, nearest_worse=True).roll.reason
    assert "above the table's highest" in worked(falling, height_ft=2100.0, nearest_worse=True).roll.reason
    edge = chart(Axis("pressure_altitude_ft", rows, True), (600.0, 700.0, 900.0))
    found = worked(edge, height_ft=-300.0, nearest_worse=True)
    assert found.roll.known == 600
    assert found.edges == ("pressure_altitude_ft",)
    assert found.roll.steps[0].detail.endswith(": nearest worse row; lowest row of the table used")


def test_wind_columns_that_grow_with_the_headwind_are_refused() -> None:
    wrong = chart(Axis("headwind_kt", (0.0, 10.0, 20.0)), (900.0, 950.0, 800.0))
    words = "the table rises from 900 ft at pressure altitude 0 ft, headwind 0 kt to 950 ft at"
    assert worked(wrong, along_kt=5.0, pro_rata_credit=True).roll.reason.startswith(words)

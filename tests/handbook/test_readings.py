"""Tables of readings: linear between their cells, never past them, and refused where they turn the wrong way.

Source of the expected numbers: worked by hand on the small tables below, from the design's line 'Off the table'.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from briefgen.errors import Refusal
from briefgen.handbook.readings import FALLS, RISES, Readings
from briefgen.handbook.table import Axis, Grid

PAGE = "Handbook p. 5-13"
# a rate of climb [ft/min] by pressure altitude 0 and 2000 ft, temperature 0 and 20 C, weight 2000 and 2400 lb
RATES = {
    (0, 0, 0): 900.0,
    (0, 1, 0): 820.0,
    (1, 0, 0): 780.0,
    (1, 1, 0): 700.0,
    (0, 0, 1): 700.0,
    (0, 1, 1): 620.0,
    (1, 0, 1): 580.0,
    (1, 1, 1): 500.0,
}


def climb(*, edge: bool = False, **cells: float | None) -> Readings:
    axes = (
        Axis("pressure_altitude_ft", (0.0, 2000.0), edge),
        Axis("temperature_degC", (0.0, 20.0), edge),
        Axis("weight_lb", (2000.0, 2400.0), edge),
    )
    rates = {**RATES, **{tuple(int(i) for i in key.removeprefix("at_")): value for key, value in cells.items()}}
    return Readings("rate of climb", Grid(axes, PAGE), {"rate": rates}, {"rate": "ft/min"}, course={"rate": FALLS})


def at(height: float, temperature: float, weight: float) -> dict[str, float]:
    return {"pressure_altitude_ft": height, "temperature_degC": temperature, "weight_lb": weight}


def test_a_reading_is_linear_along_every_axis_and_says_its_cells() -> None:
    figure = climb().read("rate", "rate of climb", at(1000, 10, 2200))
    assert figure.value == pytest.approx((900 + 820 + 780 + 700 + 700 + 620 + 580 + 500) / 8)  # midway: the mean
    assert figure.unit == "ft/min"
    (step,) = figure.steps
    assert step.source.text == PAGE
    assert step.detail.startswith("between 900 (0 ft, 0 °C, 2,000 lb)")


def test_a_reading_on_a_printed_cell_is_that_cell() -> None:
    figure = climb().read("rate", "rate of climb", at(2000, 20, 2400))
    assert figure.value == 500
    assert figure.steps[0].detail == "500 (2,000 ft, 20 °C, 2,400 lb)"


@pytest.mark.parametrize(
    ("inputs", "about"),
    [
        (at(2001, 10, 2200), "pressure_altitude_ft"),
        (at(1000, 21, 2200), "temperature_degC"),
        (at(1000, 10, 2401), "weight_lb"),
        (at(-1, 10, 2200), "pressure_altitude_ft"),
        (at(1000, -1, 2200), "temperature_degC"),
        (at(1000, 10, 1999), "weight_lb"),
    ],
)
def test_past_either_end_of_any_axis_there_is_no_reading(inputs: dict[str, float], about: str) -> None:
    figure = climb().read("rate", "rate of climb", inputs)
    assert figure.value is None
    assert figure.about == about
    assert PAGE in figure.reason
    assert climb().edges(inputs) == ()


def test_a_declared_edge_is_used_at_the_cold_low_and_light_ends_only_and_said() -> None:
    table, inputs = climb(edge=True), at(-500, -10, 1900)
    figure = table.read("rate", "rate of climb", inputs)
    assert figure.value == 900  # the cell at the corner, no better
    assert "lowest row of the table used" in figure.steps[0].detail
    assert set(table.edges(inputs)) == {"pressure_altitude_ft", "temperature_degC", "weight_lb"}
    assert table.read("rate", "rate of climb", at(2001, 10, 2200)).value is None


def test_a_blank_cell_is_refused_only_where_it_has_a_share() -> None:
    table = climb(at_111=None)
    blank = "the table is blank at pressure altitude 2,000 ft, temperature 20 °C, weight 2,400 lb"
    assert table.read("rate", "rate of climb", at(2000, 10, 2400)).reason == f"{blank} ({PAGE})"
    assert table.read("rate", "rate of climb", at(1000, 0, 2200)).value is not None  # on the line beside it


def test_a_table_without_axes_names_no_place_for_its_blank() -> None:
    one = Readings("x", Grid((Axis("weight_lb", (2000.0,)),), PAGE), {"rate": {(0,): None}}, {"rate": "ft/min"})
    assert one.read("rate", "x", {"weight_lb": 2000}).reason == f"the table is blank ({PAGE})"


def test_a_rate_that_rises_where_it_can_only_fall_is_refused_until_it_is_checked() -> None:
    table = climb(at_101=880.0)  # for 580: two digits changed places
    with pytest.raises(Refusal, match="rate rises from 700"):
        table.value("rate", at(1000, 10, 2400))
    vouched = replace(table, checked={(1, 0, 1): "the page prints it so"})
    figure = vouched.read("rate", "rate of climb", at(2000, 0, 2400))
    assert figure.value == 880
    assert "cell checked: the page prints it so" in figure.steps[0].detail
    four = [vouched.cells["rate"][(high, warm, 1)] for high in (0, 1) for warm in (0, 1)]
    assert vouched.value("rate", at(1000, 10, 2400)) == pytest.approx(sum(each or 0.0 for each in four) / 4)


def test_a_time_that_falls_where_it_can_only_rise_is_refused() -> None:
    times = {(0,): 0.0, (1,): 6.0, (2,): 5.0}
    grid = Grid((Axis("pressure_altitude_ft", (0.0, 2000.0, 4000.0)),), PAGE)
    table = Readings("climb", grid, {"time": times}, {"time": "min"}, course={"time": RISES})
    assert table.value("time", {"pressure_altitude_ft": 1000}) == 3
    with pytest.raises(Refusal, match="time falls from 6"):
        table.value("time", {"pressure_altitude_ft": 3000})

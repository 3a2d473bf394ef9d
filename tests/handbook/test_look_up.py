"""Look-up and refusal: a printed table is linear between its cells, and never read past them.

Source of the expected numbers: computed by hand on the small table below, from the design's line 'Off the
table', named beside each test; or the published value named beside them.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from briefgen.errors import Refusal
from briefgen.figures import work
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.table import Axis, Grid

PAGE = "Handbook p. 5-1"
# feet of roll / total by pressure altitude 0 and 1000 ft, temperature 10 and 20 C, weight 2000 and 2200 lb
CELLS = {
    (0, 0, 0): (400, 800),
    (0, 1, 0): (420, 840),
    (1, 0, 0): (440, 880),
    (1, 1, 0): (480, 960),
    (0, 0, 1): (500, 1000),
    (0, 1, 1): (520, 1040),
    (1, 0, 1): (540, 1080),
    (1, 1, 1): (580, 1160),
}


def chart(
    *, edge: bool = False, blank: tuple[int, ...] = (), checked: bool = False, wrong: bool = False
) -> DistanceChart:
    axes = (
        Axis("pressure_altitude_ft", (0.0, 1000.0), edge),
        Axis("temperature_degC", (10.0, 20.0), edge),
        Axis("weight_lb", (2000.0, 2200.0), edge),
    )
    roll: dict[tuple[int, ...], float | None] = {cell: float(pair[0]) for cell, pair in CELLS.items()}
    total: dict[tuple[int, ...], float | None] = {cell: float(pair[1]) for cell, pair in CELLS.items()}
    if blank:
        roll[blank] = total[blank] = None
    if wrong:
        roll[1, 1, 1] = 1200.0
    looked_at = {(1, 1, 1): "the page prints it so"} if checked else {}
    return DistanceChart(
        "takeoff", "10", Grid(axes, PAGE), roll, total, ChartConditions("", "", ""), checked=looked_at
    )


def look_up(table: DistanceChart, height: float, temperature: float, weight: float) -> tuple[float, float]:
    """Return roll and total; raise the refusal where there is one."""
    inputs = {"pressure_altitude_ft": height, "temperature_degC": temperature, "weight_lb": weight}
    done = work(table.look_ups(), inputs)
    if done.refusals:
        raise done.refusals["roll"]
    return done.values["roll"], done.values["total"]


def test_a_look_up_on_a_printed_cell_is_that_cell() -> None:
    for (altitude, temperature, weight), printed in CELLS.items():
        found = look_up(chart(), altitude * 1000.0, 10.0 + 10 * temperature, 2000.0 + 200 * weight)
        assert found == printed


def test_a_look_up_between_cells_is_linear_in_every_axis() -> None:
    # 2000 lb, half-way both ways: (400 + 420 + 440 + 480) / 4 = 435; 2200 lb: 535; a quarter of the way: 460
    assert look_up(chart(), 500.0, 15.0, 2050.0) == (pytest.approx(460), pytest.approx(920))


# Published: takeoff table of a four-seat trainer, 2,400 lb, 2,500 ft, 20 C: (1,115 + 1,230) / 2 = 1,172.5 ft
# (check value TO-2, PHAK interpolation figure, read).
def test_the_published_interpolation() -> None:
    grid = Grid((Axis("pressure_altitude_ft", (2000.0, 3000.0)),), PAGE)
    corners, _ = grid.corners((2500.0,))
    assert sum(share * (1115, 1230)[cell[0]] for cell, share in corners) == 1172.5


# Line: 'per end of each axis, edge or refuse; the default is refuse. ... Never extrapolate.'
@pytest.mark.parametrize(
    ("height", "temperature", "weight", "words", "about"),
    [
        (
            -1,
            15,
            2100,
            "pressure altitude -1 ft is below the table's lowest, pressure altitude 0 ft",
            "pressure_altitude_ft",
        ),
        (1001, 15, 2100, "pressure altitude 1,001 ft is above the table's highest", "pressure_altitude_ft"),
        (500, 9.5, 2100, "temperature 9.5 °C is below the table's lowest, temperature 10 °C", "temperature_degC"),
        (500, 20.1, 2100, "temperature 20.1 °C is above the table's highest", "temperature_degC"),
        (500, 15, 1999, "weight 1,999 lb is below the table's lowest, weight 2,000 lb", "weight_lb"),
        (500, 15, 2201, "weight 2,201 lb is above the table's highest, weight 2,200 lb", "weight_lb"),
    ],
)
def test_off_the_table_is_refused_with_the_value_at_fault(
    height: float, temperature: float, weight: float, words: str, about: str
) -> None:
    with pytest.raises(Refusal) as refusal:
        look_up(chart(), height, temperature, weight)
    assert refusal.value.reason.startswith(words)
    assert refusal.value.about == about
    inputs = {"pressure_altitude_ft": height, "temperature_degC": temperature, "weight_lb": weight}
    assert chart().edges(inputs) == ()


# Line: 'Only takeoff and landing distance and rate of climb have edge at the cold, low and light ends.'
def test_an_edge_at_the_cold_low_and_light_ends_uses_the_outermost_figure_and_says_so() -> None:
    assert look_up(chart(edge=True), -200.0, -5.0, 1500.0) == (400, 800)
    inputs = {"pressure_altitude_ft": -200.0, "temperature_degC": -5.0, "weight_lb": 1500.0}
    detail = work(chart(edge=True).look_ups(), inputs).figure("roll", "roll").steps[0].detail
    for words in ("lowest row", "coldest column", "lightest weight"):
        assert f"{words} of the table used" in detail
    assert chart(edge=True).edges(inputs) == ("pressure_altitude_ft", "temperature_degC", "weight_lb")


def test_an_edge_never_helps_at_the_hot_high_and_heavy_ends() -> None:
    for point in ((1001.0, 15.0, 2100.0), (500.0, 21.0, 2100.0), (500.0, 15.0, 2201.0)):
        with pytest.raises(Refusal):
            look_up(chart(edge=True), *point)


def test_an_axis_of_one_point_takes_that_point_alone_or_its_edge() -> None:
    assert Axis("weight_lb", (2550.0,)).place(2550.0, PAGE) == (0, 0.0, False)
    assert Axis("weight_lb", (2550.0,), True).place(2400.0, PAGE) == (0, 0.0, True)


# Published: blank cells are not available: the tool must refuse, not extrapolate (check value 3.1, read).
def test_a_blank_cell_is_refused_and_only_where_it_is_touched() -> None:
    table = chart(blank=(1, 1, 1))
    with pytest.raises(
        Refusal, match=r"the table is blank at pressure altitude 1,000 ft, temperature 20 °C, weight 2,200 lb"
    ):
        look_up(table, 500.0, 15.0, 2100.0)
    assert look_up(table, 1000.0, 10.0, 2200.0) == (540, 1080)  # on the printed line beside it


# Line: 'A lookup that touches a cell whose roll is not shorter than its total is not shown until ... checked.'
def test_a_cell_whose_roll_is_not_shorter_than_its_total_is_refused_until_it_is_checked() -> None:
    with pytest.raises(Refusal, match=r"prints a ground roll of 1,200 ft, not shorter than its total of 1,160 ft"):
        look_up(chart(wrong=True), 900.0, 15.0, 2100.0)
    assert look_up(chart(wrong=True), 0.0, 10.0, 2000.0) == (400, 800)
    table = chart(wrong=True, checked=True)
    assert look_up(table, 1000.0, 20.0, 2200.0) == (1200, 1160)
    inputs = {"pressure_altitude_ft": 1000.0, "temperature_degC": 20.0, "weight_lb": 2200.0}
    detail = work(table.look_ups(), inputs).figure("roll", "roll").steps[0].detail
    assert detail.endswith("; cell checked: the page prints it so")


def test_the_step_names_the_cells_that_were_looked_up() -> None:
    inputs = {"pressure_altitude_ft": 0.0, "temperature_degC": 15.0, "weight_lb": 2000.0}
    step = work(chart().look_ups(), inputs).figure("total", "total").steps[0]
    assert step.detail == "between 800 (0 ft, 10 °C, 2,000 lb), 840 (0 ft, 20 °C, 2,000 lb)"
    assert (step.label, str(step.source)) == ("distance over 50 ft, flaps 10", PAGE)


def test_a_chart_says_what_its_notes_cover() -> None:
    assert chart().note_for("headwind") is None
    assert not chart().covers("headwind", "roll")
    assert chart().page == PAGE


def test_neighbours_that_fall_where_they_must_rise_are_refused_until_one_is_checked() -> None:
    """A digit slipped: 420 ft at 20 degC typed 240, under the 400 ft at 10 degC. Hotter never makes it shorter."""
    table = chart()
    slipped = replace(table, roll={**table.roll, (0, 1, 0): 240.0})
    with pytest.raises(Refusal, match=r"the table falls from 400 ft at .*10 °C.* to 240 ft at .*20 °C") as caught:
        slipped.value("roll", (0.0, 15.0, 2000.0))
    assert caught.value.about == ""
    assert slipped.value("roll", (0.0, 10.0, 2000.0)) == 400
    marked = replace(slipped, checked={(0, 1, 0): "as printed"})
    assert marked.value("roll", (0.0, 15.0, 2000.0)) == 320


def test_a_look_up_that_touches_a_cell_vouched_for_says_so() -> None:
    page = "p. 5"
    grid = Grid((Axis("pressure_altitude_ft", (0.0, 1000.0, 2000.0)),), page)
    roll = {(0,): 500.0, (1,): 1200.0, (2,): 1300.0}
    total = {(0,): 900.0, (1,): 1200.0, (2,): 1500.0}

    def chart(checked: dict[tuple[int, ...], str]) -> DistanceChart:
        return DistanceChart("takeoff", "10", grid, roll, total, ChartConditions("", "", ""), checked=checked)

    vouched = chart({(1,): "as printed"})
    assert vouched.vouched({"pressure_altitude_ft": 500.0})
    assert not vouched.vouched({"pressure_altitude_ft": 2000.0})
    assert not vouched.vouched({"pressure_altitude_ft": 2500.0})  # off the table: refused elsewhere
    assert not chart({}).vouched({"pressure_altitude_ft": 500.0})

"""Whatever a graph's lines are: worked in order, exact at its points, inside its lines, never shortened.

Sources: style.md 16 (monotone where lines are, inside their bounds); the contract, design.md 'Off the table' and
'Wind'; the ruler's own geometry.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from briefgen.errors import Refusal
from briefgen.figures import work
from briefgen.handbook.chart import ChartConditions
from briefgen.handbook.graph import Graph, Scale
from briefgen.handbook.graph_chart import GraphChart
from briefgen.handbook.lines import SUBJECTS, Curves, Guides, Line, guides

PAGE = "Handbook p. 5-1"
TEMPERATURES = (-20.0, 0.0, 15.0, 40.0)
ALTITUDES = (0.0, 2000.0, 5000.0)
WEIGHTS = (2000.0, 2300.0, 2550.0)
WINDS = (-10.0, 0.0, 10.0, 25.0)


@st.composite
def curves(draw: st.DrawFn) -> Curves:
    """Rising curves that never cross, within 500 and 2,000."""
    lines, floor = [], [500.0] * len(TEMPERATURES)
    for _ in ALTITUDES:
        values = [low + draw(st.floats(5, 150)) for low in floor]
        values = [max(values[: i + 1]) for i in range(len(values))]
        lines.append(Line(TEMPERATURES, tuple(values)))
        floor = values
    return Curves(ALTITUDES, tuple(lines))


@st.composite
def family(draw: st.DrawFn, name: str) -> Guides:
    """Guide lines from 100 to over 2,600, fanned at will, none crossing another, each going its own course."""
    inputs, reference = (WEIGHTS, 2550.0) if name == "weight" else (WINDS, 0.0)
    course = SUBJECTS[name].course("takeoff")
    gaps = [1.0] * len(inputs)
    values, lines = [100.0] * len(inputs), []
    for start in (100.0, 700.0, 1400.0, 2800.0):
        if lines:
            step = start - lines[-1].value(reference)
            gaps = [draw(st.floats(0.4, 1.0)) for _ in inputs]
            gaps = sorted(gaps, reverse=course < 0)
            at = inputs.index(reference)
            gaps = [gap / gaps[at] for gap in gaps]
            values = [value + step * gap for value, gap in zip(values, gaps, strict=True)]
        lines.append(Line(inputs, tuple(values)))
    return guides(SUBJECTS[name], reference, tuple(lines))


def chart_of(first: Curves, *stages: Guides, reads_to: float = 10.0) -> GraphChart:
    graph = Graph("takeoff", first, stages, Scale("ft", reads_to), PAGE)
    return GraphChart("takeoff", "10", {"roll": graph}, ChartConditions("", "", ""), PAGE)


def roll(
    of: GraphChart, degC: float, ft: float, lb: float = 2550.0, kt: float = 0.0, *, whole: bool = False
) -> float:
    """Return the roll, taken up; skip what is off the lines."""
    causes = {"headwind": kt} if kt > 0 else {"tailwind": -kt} if kt < 0 else {}
    inputs = {
        "temperature_degC": degC,
        "pressure_altitude_ft": ft,
        "weight_lb": lb,
        "headwind_bound": -1.0,
        **causes,
    }
    done = work(of.look_ups(tuple(causes), whole_steps=whole), inputs, keep_steps=False)
    assume(not done.refusals.get("roll"))
    return done.values["roll"]


DEGC, FEET = st.floats(-20, 40), st.floats(0, 5000)


@given(curves(), st.sampled_from(TEMPERATURES), st.sampled_from(ALTITUDES))
def test_the_first_panel_is_exact_at_each_digitized_point(first: Curves, degC: float, ft: float) -> None:
    printed = first.lines[ALTITUDES.index(ft)].values[TEMPERATURES.index(degC)]
    assert first.enter(degC, ft, PAGE).value == printed


@given(family("weight"), st.integers(0, 3), st.sampled_from(WEIGHTS))
def test_a_later_panel_is_exact_at_each_digitized_point(stage: Guides, i: int, lb: float) -> None:
    assert stage.follow(stage.starts[i], lb, PAGE).value == stage.lines[i].values[WEIGHTS.index(lb)]


@given(curves(), DEGC, FEET)
def test_a_value_of_the_first_panel_stands_between_the_points_around_it(
    first: Curves, degC: float, ft: float
) -> None:
    value = first.enter(degC, ft, PAGE).value
    t = max(i for i, at in enumerate(TEMPERATURES) if at <= degC)
    a = max(i for i, at in enumerate(ALTITUDES) if at <= ft)
    around = [each.values[i] for each in first.lines[a : a + 2] for i in (t, min(t + 1, len(TEMPERATURES) - 1))]
    assert min(around) - 1e-9 <= value <= max(around) + 1e-9


@given(family("wind"), st.floats(100, 2800), st.floats(-10, 25))
def test_a_value_stays_between_the_guide_lines_it_came_from(stage: Guides, value: float, kt: float) -> None:
    i = max(k for k, start in enumerate(stage.starts) if start <= value)
    lower, upper = stage.lines[i], stage.lines[min(i + 1, 3)]
    assert lower.value(kt) - 1e-9 <= stage.follow(value, kt, PAGE).value <= upper.value(kt) + 1e-9


@given(family("weight"), st.floats(-500, 3500), st.sampled_from(WEIGHTS[:-1]))
def test_a_value_off_the_guide_lines_is_refused(stage: Guides, value: float, lb: float) -> None:
    if 100 <= value <= 2800:
        stage.follow(value, lb, PAGE)
    else:
        with pytest.raises(Refusal):
            stage.follow(value, lb, PAGE)


@given(curves(), family("weight"), family("wind"), st.data())
def test_hotter_higher_heavier_and_less_wind_from_ahead_are_never_shorter(
    first: Curves, weight: Guides, wind: Guides, data: st.DataObject
) -> None:
    of = chart_of(first, weight, wind)
    hot = sorted(data.draw(st.tuples(DEGC, DEGC)))
    high = sorted(data.draw(st.tuples(FEET, FEET)))
    heavy = sorted(data.draw(st.tuples(st.floats(2000, 2550), st.floats(2000, 2550))))
    ahead = sorted(data.draw(st.tuples(st.floats(-10, 25), st.floats(-10, 25))), reverse=True)
    whole = data.draw(st.booleans())
    best = roll(of, hot[0], high[0], heavy[0], ahead[0], whole=whole)
    for i in range(4):
        at = [pair[1 if i == j else 0] for j, pair in enumerate((hot, high, heavy, ahead))]
        assert roll(of, *at, whole=whole) >= best - 1e-6


@given(curves(), family("weight"), family("wind"), st.floats(2000, 2540), st.floats(1, 25), DEGC, FEET)
def test_the_order_of_the_panels_is_kept(
    first: Curves, weight: Guides, wind: Guides, lb: float, kt: float, degC: float, ft: float
) -> None:
    """Each order gives what following its own panels one after the other gives, by hand."""
    start = first.enter(degC, ft, PAGE).value
    inputs = {"temperature_degC": degC, "pressure_altitude_ft": ft, "weight_lb": lb, "headwind": kt}
    found = []
    for stages in ((weight, wind), (wind, weight)):
        value = start
        for stage in stages:
            assume(value >= stage.starts[0])
            value = stage.follow(value, lb if stage is weight else kt, PAGE).value
        found.append(value)
        plain = chart_of(first, *stages).reading_ft("roll", inputs, whole_steps=False)
        assert plain == value
    assume(abs(found[0] - found[1]) > 1)  # laws that do not separate: the order matters, and is the page's
    of = [chart_of(first, *stages, reads_to=1e-6) for stages in ((weight, wind), (wind, weight))]
    assert roll(of[0], degC, ft, lb, kt) != roll(of[1], degC, ft, lb, kt)


@given(curves(), family("weight"), st.data(), st.floats(2000, 2550), DEGC, FEET)
def test_readings_that_are_off_by_half_of_what_they_are_read_to_never_shorten(
    first: Curves, weight: Guides, data: st.DataObject, lb: float, degC: float, ft: float
) -> None:
    """Each digitized point is within half of the true page's; the taken-up roll is never shorter than that."""
    half, off = 5.0, st.floats(-5.0, 5.0)

    def spoiled(line: Line) -> Line:
        return Line(line.inputs, tuple(value + data.draw(off) for value in line.values))

    read = Curves(ALTITUDES, tuple(spoiled(each) for each in first.lines))
    lines = tuple(spoiled(each) for each in weight.lines)
    assume(all(b.value(at) > a.value(at) for a, b in pairwise(lines) for at in WEIGHTS))
    true = chart_of(first, weight).reading_ft(
        "roll", {"temperature_degC": degC, "pressure_altitude_ft": ft, "weight_lb": lb}, whole_steps=True
    )
    digitized = chart_of(read, guides(SUBJECTS["weight"], 2550.0, lines), reads_to=2 * half)
    assert roll(digitized, degC, ft, lb) >= true - 1e-6


@given(family("wind"), st.floats(200, 2700), st.floats(0.1, 60))
def test_a_credit_in_whole_steps_is_never_more_than_pro_rata(stage: Guides, value: float, kt: float) -> None:
    counted = [stage.counted({"headwind": kt}, "takeoff", whole_steps=whole) for whole in (True, False)]
    assert counted[0] in WINDS
    assert counted[0] <= counted[1] == min(kt, 25.0)
    assert stage.follow(value, counted[0], PAGE).value >= stage.follow(value, counted[1], PAGE).value - 1e-9


@given(st.floats(10.001, 40))
def test_a_tailwind_past_the_printed_range_is_refused(kt: float) -> None:
    lines = tuple(Line(WINDS, tuple(start * k for k in (1.5, 1.0, 0.8, 0.6))) for start in (100.0, 2800.0))
    stage = guides(SUBJECTS["wind"], 0.0, lines)
    at = stage.counted({"tailwind": kt}, "takeoff", whole_steps=True)
    assert at == -kt
    with pytest.raises(Refusal) as refused:
        stage.follow(1000.0, at, PAGE)
    assert refused.value.about == "tailwind"

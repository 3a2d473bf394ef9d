"""The nearest worse row is never shorter than a linear look-up, refused where that is, and what a page prints.

The tables come from the physical model that `modelled` gives, monotone as its cells are; the one by wind is that
table shortened and lengthened by a share for each column. No expected figure is needed: two workings are compared.
"""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from modelled import (
    TAKEOFF,
    airplane,
    alongs,
    cells,
    distances,
    forms,
    heights,
    land,
    multiples,
    place,
    policy,
    quick,
    surfaces,
    take_off,
    takeoff_roll,
    takeoff_total,
    temperatures,
    weights,
)

from briefgen.handbook.chart import DistanceChart
from briefgen.handbook.table import Axis, Grid

NEAR = 1e-6  # ft: the last bits of a float
WIND = {-10.0: 1.5, -5.0: 1.25, 0.0: 1.0, 9.0: 0.9, 18.0: 0.8, 27.0: 0.7}


def by_wind() -> DistanceChart:
    """Return the takeoff chart with wind as a fourth axis, in place of its notes for it."""
    grid = Grid((*TAKEOFF.grid.axes, Axis("headwind_kt", tuple(WIND))), TAKEOFF.page)
    shares = tuple(WIND.values())
    roll, total = (
        {(*cell, i): value * share for cell, value in cells(of).items() if value for i, share in enumerate(shares)}
        for of in (takeoff_roll, takeoff_total)
    )
    notes = tuple(note for note in TAKEOFF.notes if "wind" not in note.cause)
    return DistanceChart("takeoff", "10", grid, dict(roll), dict(total), TAKEOFF.conditions, notes)


BY_WIND = airplane(takeoff=by_wind())


@quick
@given(heights, temperatures, alongs, weights, st.floats(-0.02, 0.02), surfaces, multiples, forms, st.booleans())
def test_the_nearest_worse_row_is_never_shorter(
    height_ft: float,
    degC: float,
    along_kt: float,
    weight_lb: float,
    slope: float,
    ground: tuple[str, bool, bool],
    multiple: float,
    form: str,
    pro_rata: bool,
) -> None:
    surface, wet, soft = ground
    there = place(height_ft, degC, along_kt, surface=surface, wet=wet, soft=soft, slope=slope)
    linear = policy(multiple, pro_rata_credit=pro_rata)
    nearest = linear._replace(nearest_worse=True)
    pairs = [(take_off(there, weight_lb, rules) for rules in (linear, nearest))]
    pairs.append(take_off(there, weight_lb, rules, BY_WIND) for rules in (linear, nearest))
    back = there._replace(have=there.have._replace(slope=-there.have.slope))
    runs = [land(back, weight_lb, rules, of=airplane(form)) for rules in (linear, nearest)]
    for one, other in [*pairs, *zip(*runs, strict=True)]:
        short, long = distances(one), distances(other)
        assert list(short) == list(long)
        assert len(short) >= 3
        for name, value in short.items():
            assert long[name] >= value - NEAR, name


@quick
@given(heights, temperatures, weights, alongs)
def test_it_is_a_number_that_the_page_prints(
    height_ft: float, degC: float, weight_lb: float, along_kt: float
) -> None:
    chart = BY_WIND.takeoff[0]
    wind_kt = chart.credited("headwind", along_kt, whole_steps=False) if along_kt > 0 else along_kt
    for quantity, printed in (("roll", chart.roll), ("total", chart.total)):
        assert chart.worse(quantity, (height_ft, degC, weight_lb, wind_kt)) in printed.values()


@quick
@given(st.tuples(*[st.sampled_from(axis.points) for axis in BY_WIND.takeoff[0].grid.axes]))
def test_on_a_printed_cell_both_are_that_cell(at: tuple[float, ...]) -> None:
    chart = BY_WIND.takeoff[0]
    cell = tuple(axis.points.index(value) for axis, value in zip(chart.grid.axes, at, strict=True))
    assert chart.worse("roll", at) == chart.value("roll", at) == chart.roll[cell]

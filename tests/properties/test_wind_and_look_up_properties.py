"""Look-ups stay inside their cell, a table is left at its declared good ends only, and wind counts at its worst."""

from __future__ import annotations

from itertools import pairwise
from math import isclose

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from modelled import (
    HEIGHTS_FT,
    LANDING,
    NOTES,
    PAGE,
    TAKEOFF,
    TEMPERATURES_DEGC,
    WEIGHTS_LB,
    airplane,
    alongs,
    chart,
    heights,
    land,
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

from briefgen.calc.atmosphere import true_airspeed
from briefgen.calc.distance import square_law
from briefgen.calc.speeds import speed
from briefgen.calc.wind import on_runway
from briefgen.figures import work
from briefgen.handbook.chart import DistanceChart
from briefgen.handbook.notes import Note
from briefgen.model.aircraft import SpeedByWeight
from briefgen.model.policy import NO_POLICY
from briefgen.model.weather import Wind

NEAR = 1e-6
CHARTS = (TAKEOFF, *LANDING["table"])
POINTS = (HEIGHTS_FT, TEMPERATURES_DEGC, WEIGHTS_LB)
NAMES = ("pressure_altitude_ft", "temperature_degC", "weight_lb")


def around(points: tuple[float, ...], value: float) -> set[int]:
    """Return the indices of the printed points on either side of a value, found by hand."""
    if value <= points[0]:
        return {0}
    return next({i, i + 1} for i, (a, b) in enumerate(pairwise(points)) if a <= value <= b)


@quick
@given(st.sampled_from(CHARTS), heights, temperatures, weights)
def test_a_look_up_lies_within_the_corners_of_its_cell(
    of: DistanceChart, height_ft: float, degC: float, weight_lb: float
) -> None:
    at = (height_ft, degC, weight_lb)
    values = work(of.look_ups(), dict(zip(NAMES, at, strict=True)), keep_steps=False).values
    near = [around(points, value) for points, value in zip(POINTS, at, strict=True)]
    corners = [(i, j, k) for i in near[0] for j in near[1] for k in near[2]]
    for name, cells in (("roll", of.roll), ("total", of.total)):
        found = [cells[corner] or 0.0 for corner in corners]
        assert min(found) - NEAR <= values[name] <= max(found) + NEAR
    assert values["roll"] < values["total"]


OUTSIDE = {
    "pressure_altitude_ft": (st.floats(-1900, -0.01), st.floats(8000.01, 14_000)),
    "temperature_degC": (st.floats(-40, -0.01), st.floats(40.01, 55)),
    "weight_lb": (st.floats(1500, 2149.9), st.floats(2550.01, 3000)),
}
NO_EDGE = chart("takeoff", "10", takeoff_roll, takeoff_total, NOTES, edge=False)


@pytest.mark.parametrize("name", NAMES)
@quick
@given(st.data(), st.floats(0, 8000), st.floats(0, 40), st.floats(2150, 2550))
def test_off_the_table_is_refused_and_only_a_declared_good_end_is_used(
    name: str, data: st.DataObject, height_ft: float, degC: float, weight_lb: float
) -> None:
    inside = dict(zip(NAMES, (height_ft, degC, weight_lb), strict=True))
    low, high = (inside | {name: data.draw(values)} for values in OUTSIDE[name])
    for of, at in ((TAKEOFF, high), (NO_EDGE, high), (NO_EDGE, low)):
        done = work(of.look_ups(), at)
        assert not {"roll", "total"} & set(done.values)
        assert {done.refusals[each].about for each in ("roll", "total")} == {name}
    at_the_end = inside | {name: POINTS[NAMES.index(name)][0]}
    used, edge = (work(TAKEOFF.look_ups(), at).values for at in (low, at_the_end))
    assert (used["roll"], used["total"]) == (edge["roll"], edge["total"])


winds = st.builds(
    lambda steady, more: (steady, steady + more),
    st.floats(0.5, 40.0),
    st.one_of(st.just(0.0), st.floats(0.0, 25.0)),
)
degrees = st.floats(0.0, 360.0)


@quick
@given(winds, degrees)
def test_a_wind_of_variable_direction_is_a_full_tailwind_and_a_full_crosswind(
    wind: tuple[float, float], heading_deg: float
) -> None:
    found = on_runway(Wind(None, *wind), heading_deg)
    assert (found.headwind_kt, found.tailwind_kt, found.crosswind_kt) == (0.0, wind[1], wind[1])


@quick
@given(winds, degrees, degrees, st.floats(0.0, 359.0), st.floats(0.0, 1.0), st.sampled_from([0.0, 5.0]))
def test_a_wind_between_two_directions_is_no_better_than_any_between_them(
    wind: tuple[float, float], heading_deg: float, first: float, span: float, share: float, known_to: float
) -> None:
    varying = Wind(first, *wind, (first % 360, (first + span) % 360))
    worst = on_runway(varying, heading_deg, known_to)
    for off in (-known_to, 0.0, known_to):
        one = on_runway(Wind((first + share * span) % 360, *wind), heading_deg + off)
        assert worst.headwind_kt <= one.headwind_kt + NEAR
        assert worst.tailwind_kt >= one.tailwind_kt - NEAR
        assert worst.crosswind_kt >= one.crosswind_kt - NEAR


@quick
@given(winds, degrees, degrees)
def test_headwind_is_of_the_steady_wind_and_tailwind_and_crosswind_of_the_gust(
    wind: tuple[float, float], from_deg: float, heading_deg: float
) -> None:
    steady, gust = wind
    found = on_runway(Wind(from_deg, steady, gust), heading_deg)
    mirror = on_runway(Wind((from_deg + 180) % 360, steady, gust), heading_deg)
    assert min(found.headwind_kt, found.tailwind_kt) == 0
    # Pythagoras: the components of one speed.
    ahead, behind = (found, mirror) if found.headwind_kt >= mirror.headwind_kt else (mirror, found)
    assert isclose(behind.tailwind_kt**2 + behind.crosswind_kt**2, gust**2, rel_tol=1e-6, abs_tol=1e-6)
    assert isclose(ahead.headwind_kt * gust, behind.tailwind_kt * steady, rel_tol=1e-6, abs_tol=1e-6)


headwind_notes = st.builds(
    Note,
    st.just("headwind"),
    st.floats(-0.9, -0.01),
    st.just(PAGE),
    per=st.floats(1.0, 12.0),
    up_to=st.one_of(st.none(), st.floats(5.0, 40.0)),
    percent_of=st.sampled_from(["itself", "roll", "total"]),
    of=st.sampled_from(["table figure", "value so far", "open"]),
    steps=st.sampled_from(["add", "compound"]),
)


@quick
@given(headwind_notes, heights, temperatures, weights, st.floats(0.1, 60.0), surfaces, st.booleans())
def test_credit_for_a_headwind_is_never_more_than_the_square_law_whatever_the_note_says(
    note: Note,
    height_ft: float,
    degC: float,
    weight_lb: float,
    along_kt: float,
    ground: tuple[str, bool, bool],
    pro_rata: bool,
) -> None:
    of = airplane(takeoff=chart("takeoff", "10", takeoff_roll, takeoff_total, (note, *NOTES[1:])))
    rules = policy(1.0, pro_rata_credit=pro_rata)
    surface, wet, soft = ground
    scenes = [place(height_ft, degC, along, surface=surface, wet=wet, soft=soft) for along in (0.0, along_kt)]
    calm, windy = (take_off(there, weight_lb, rules, of) for there in scenes)
    least = 1 + square_law(along_kt, true_airspeed(calm.liftoff.known, scenes[0].density_ratio))
    assert calm.roll.known * least - NEAR <= windy.roll.known <= calm.roll.known + NEAR
    assert calm.total.known * least - NEAR <= windy.total.known <= calm.total.known + NEAR


@quick
@given(st.lists(st.floats(40.0, 70.0), min_size=3, max_size=3).map(sorted), weights)
def test_a_speed_between_printed_weights_lies_between_the_printed_speeds(kt: list[float], weight_lb: float) -> None:
    found = speed(SpeedByWeight("10", WEIGHTS_LB, tuple(kt), PAGE.text), "liftoff", weight_lb).known
    near = [kt[i] for i in around(WEIGHTS_LB, weight_lb)]
    assert min(near) - NEAR <= found <= max(near) + NEAR


@quick
@given(heights, temperatures, weights, alongs)
def test_without_a_liftoff_or_approach_speed_a_headwind_gives_no_credit(
    height_ft: float, degC: float, weight_lb: float, along_kt: float
) -> None:
    # The square law cannot be asked without a speed, so nothing is credited.
    assume(along_kt > 0)
    of = airplane("table")._replace(liftoff=(), approach=())
    calm, windy = (place(height_ft, degC, along) for along in (0.0, along_kt))
    assert (
        take_off(windy, weight_lb, NO_POLICY, of).roll.value == take_off(calm, weight_lb, NO_POLICY, of).roll.value
    )
    for before, after in zip(
        land(calm, weight_lb, NO_POLICY, of=of), land(windy, weight_lb, NO_POLICY, of=of), strict=True
    ):
        assert after.need.known == before.need.known

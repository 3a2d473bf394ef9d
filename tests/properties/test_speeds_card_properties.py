"""What must hold of the speeds card whatever the numbers: it follows physics, and is never on the unsafe side."""

from __future__ import annotations

from math import radians, sin

import pytest
from conftest import EXAMPLE
from hypothesis import given
from hypothesis import strategies as st
from modelled import quick

from briefgen.calc.bank import banked
from briefgen.calc.crosswinds import SPREADS_DEG, crosswinds
from briefgen.calc.glide import glide
from briefgen.calc.legs import navigate
from briefgen.calc.speeds import calibrated, indicated, maneuvering
from briefgen.figures import Figure
from briefgen.files.read_trip import read_trip
from briefgen.model.aircraft import Calibration, SpeedByWeight
from briefgen.model.route import WindAloft
from briefgen.model.weather import Wind

TRIP = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")[0]
WEIGHTS = st.floats(800, 3000)


@st.composite
def entries(draw: st.DrawFn) -> SpeedByWeight:
    """Maneuvering speeds at one to four weights that rise, none falling as the weight rises."""
    count = draw(st.integers(1, 4))
    weights = sorted(draw(st.lists(st.floats(1200, 2900), min_size=count, max_size=count, unique_by=round)))
    speeds = sorted(draw(st.lists(st.floats(70, 140), min_size=count, max_size=count)))
    return SpeedByWeight("up", tuple(weights), tuple(speeds), "p. 2-3")


@quick
@given(entries(), WEIGHTS, WEIGHTS)
def test_the_lighter_airplane_never_has_the_higher_maneuvering_speed(
    entry: SpeedByWeight, one_lb: float, other_lb: float
) -> None:
    light, heavy = (maneuvering(entry, "maneuvering", weight).value for weight in sorted((one_lb, other_lb)))
    if heavy is not None:
        assert light is not None
        assert light <= heavy + 1e-9


@quick
@given(entries(), WEIGHTS)
def test_a_maneuvering_speed_is_never_above_the_highest_printed(entry: SpeedByWeight, weight_lb: float) -> None:
    found = maneuvering(entry, "maneuvering", weight_lb)
    assert (found.value is None) == (weight_lb > entry.weights_lb[-1])
    if found.value is not None:
        assert found.value <= entry.speeds_kt[-1] + 1e-9
        assert found.estimate == (weight_lb < entry.weights_lb[0])
        if found.estimate:
            assert found.value < entry.speeds_kt[0]


@quick
@given(st.floats(0, 359.9), st.floats(0, 40), st.floats(0, 15), st.floats(-30, 30))
def test_the_crosswind_table_is_never_under_the_component_of_a_direction_in_its_row(
    from_deg: float, steady_kt: float, gust_kt: float, turned_deg: float
) -> None:
    use = TRIP.arrival.use
    wind = Wind(from_deg, steady_kt, steady_kt + gust_kt)
    table = crosswinds(use._replace(conditions=use.conditions._replace(wind=wind)))
    for row in table.rows:
        if abs(turned_deg) <= row.spread_deg:
            across = abs(sin(radians(from_deg + turned_deg - use.end.heading_deg)))
            for kt, worked in zip(table.speeds_kt, row.winds, strict=True):
                assert worked.crosswind_kt >= kt * across - 1e-6
                assert worked.crosswind_kt <= kt + 1e-9
    for column in range(3):
        rising = [row.winds[column].crosswind_kt for row in table.rows]
        assert rising == sorted(rising)
    assert [row.spread_deg for row in table.rows] == list(SPREADS_DEG)


@quick
@given(st.lists(st.tuples(st.floats(0, 359), st.floats(0, 90)), min_size=2, max_size=2))
def test_the_glide_reaches_furthest_downwind_and_least_into_the_wind(winds: list[tuple[float, float]]) -> None:
    assert TRIP.route is not None
    levels = tuple(WindAloft(height, *wind) for height, wind in zip((1000, 6000), winds, strict=True))
    legs = tuple(leg._replace(wind=levels[0]._replace(height_ft=leg.altitude_ft)) for leg in TRIP.route.legs)
    route = TRIP.route._replace(winds=levels, legs=legs)
    worked = glide(TRIP._replace(route=route), navigate(route))
    assert worked.downwind.known >= worked.still.known
    if worked.into.value is not None:
        assert 0 < worked.into.value <= worked.still.known
    assert worked.strongest.speed_kt >= worked.weakest.speed_kt


@quick
@given(st.floats(30, 80), st.floats(0, 75), st.floats(0, 75))
def test_the_stall_never_falls_as_the_bank_grows(level_kt: float, one_deg: float, other_deg: float) -> None:
    level = Figure("stall", "kt", level_kt)
    less, more = (banked(TRIP.aircraft, "up", level, bank).known for bank in sorted((one_deg, other_deg)))
    assert level_kt <= less <= more


@quick
@given(
    st.lists(st.floats(1, 12), min_size=3, max_size=3),
    st.lists(st.floats(1, 12), min_size=3, max_size=3),
    st.floats(0, 1),
)
def test_an_indicated_speed_found_from_a_calibrated_one_is_the_one_that_it_came_from(
    steps: list[float], rises: list[float], share: float
) -> None:
    shown, true = [40.0], [45.0]
    for step, rise in zip(steps, rises, strict=True):
        shown.append(shown[-1] + step)
        true.append(true[-1] + rise)
    table = Calibration("up", tuple(shown), tuple(true), "p. 5-3")
    aircraft = TRIP.aircraft._replace(calibration=(table,))
    at_kt = shown[0] + share * (shown[-1] - shown[0])
    assert indicated(table, calibrated(aircraft, "up", at_kt)) == pytest.approx(at_kt, abs=1e-6)

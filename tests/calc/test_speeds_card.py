"""The speeds card: maneuvering by weight, the stall in a bank, the glide in the wind, the crosswind turned.

Source of the expected numbers: worked by hand beside them; the rules are the card's own contract (a most is never
above what is printed, nothing past the heaviest weight or the calibration, each way the worse wind).
"""

from __future__ import annotations

from math import cos, radians, sin, sqrt

import pytest
from conftest import EXAMPLE
from small_models import aircraft, speed_of

from briefgen.calc.bank import BANKS_DEG, stalls
from briefgen.calc.crosswinds import SPREADS_DEG, crosswinds
from briefgen.calc.flight import fly
from briefgen.calc.glide import NO_GLIDE, NO_RANGE, densities, glide, winds_met
from briefgen.calc.legs import Navigation, navigate
from briefgen.calc.performance import tables
from briefgen.calc.speeds import calibration, indicated, maneuvering
from briefgen.calc.speeds_card import speeds_card
from briefgen.files.read_trip import read_trip
from briefgen.model.aircraft import Calibration, SpeedByWeight
from briefgen.model.limit import Limit
from briefgen.model.route import WindAloft
from briefgen.model.trip import Trip
from briefgen.model.weather import Wind

# Invented: 100 kt at 2,500 lb, 90 kt at 2,000 lb. The root of 2,000 / 2,500 is 0.894: 89.4, so 90 is rounded up.
PRINTED = SpeedByWeight("up", (2000.0, 2500.0), (90.0, 100.0), "p. 2-3")
ONE = SpeedByWeight("up", (2500.0,), (100.0,), "p. 2-3")


@pytest.fixture
def trip() -> Trip:
    return read_trip(EXAMPLE / "trip.yaml", "trip.yaml")[0]


def with_wind(trip: Trip, wind: Wind) -> Trip:
    """Return a trip without a route, in one wind at both fields."""
    out, home = (
        each._replace(use=each.use._replace(conditions=each.use.conditions._replace(wind=wind)))
        for each in (trip.departure, trip.arrival)
    )
    return trip._replace(departure=out, arrival=home, route=None)


@pytest.mark.parametrize(("weight", "kt"), [(2500, 100), (2250, 95), (2100, 92), (2000, 90)])
def test_the_maneuvering_speed_is_linear_between_printed_weights(weight: float, kt: float) -> None:
    found = maneuvering(PRINTED, "maneuvering", weight)
    assert (found.value, found.estimate) == (pytest.approx(kt), False)
    assert found.known <= 100 * sqrt(weight / 2500) + 1  # the print's own rounding


def test_between_exact_printed_speeds_linear_is_never_above_the_root() -> None:
    # the root law is concave: its chord lies below it
    exact = SpeedByWeight("up", (1600.0, 2500.0), (80.0, 100.0), "p. 2-3")
    for weight_lb in range(1600, 2501, 20):
        assert maneuvering(exact, "maneuvering", weight_lb).known <= 100 * sqrt(weight_lb / 2500) + 1e-9


@pytest.mark.parametrize(("entry", "weight", "kt"), [(PRINTED, 1620, 81.0), (ONE, 2025, 90.0), (ONE, 1600, 80.0)])
def test_below_the_lightest_printed_weight_it_falls_by_the_root_and_is_an_estimate(
    entry: SpeedByWeight, weight: float, kt: float
) -> None:
    # by hand: root of 1,620 / 2,000 is 0.9; of 2,025 / 2,500, 0.9; of 1,600 / 2,500, 0.8
    found = maneuvering(entry, "maneuvering", weight)
    assert (found.value, found.estimate) == (pytest.approx(kt), True)
    assert [str(step.source) for step in found.steps] == [
        "p. 2-3",
        "maneuvering speed falls with weight, by its root: PHAK FAA-H-8083-25C ch. 5, load factors (from memory)",
    ]


@pytest.mark.parametrize("entry", [PRINTED, ONE])
def test_above_the_heaviest_printed_weight_the_maneuvering_speed_is_refused(entry: SpeedByWeight) -> None:
    assert maneuvering(entry, "maneuvering", 2500).value == 100
    found = maneuvering(entry, "maneuvering", 2501)
    assert (found.value, found.reason) == (None, "printed up to 2,500 lb only (p. 2-3)")


def test_what_the_aircraft_file_leaves_out_names_the_key_that_would_give_it(trip: Trip) -> None:
    bare = trip.aircraft._replace(best_angle=None, best_rate=None, maneuvering=None, glide_nm=None, stall=())
    card = speeds_card(trip._replace(aircraft=bare), None)
    missing = [card.best_angle, card.best_rate, *(figure for _, figure in card.maneuvering), card.stalls[0].level]
    assert {figure.value for figure in missing} == {None}
    assert [figure.reason for figure in missing] == [
        "the aircraft file has no speeds: best_angle",
        "the aircraft file has no speeds: best_rate",
        "the aircraft file has no speeds: maneuvering",
        "the aircraft file has no speeds: maneuvering",
        "the aircraft file has no speeds: stall for flaps up",
    ]
    assert {each.reason for each in card.stalls[0].banked} == {
        "the aircraft file has no speeds: stall for flaps up"
    }
    assert (card.glide.speed.value, card.glide.still.reason, card.glide.into.reason) == (68, NO_RANGE, NO_RANGE)
    assert card.cruise_kt is None
    none = glide(trip._replace(aircraft=bare._replace(best_glide=None)), None)
    assert (none.speed.reason, none.still.reason, none.downwind.reason) == (NO_GLIDE, NO_GLIDE, NO_GLIDE)


def test_a_trip_at_one_weight_has_one_maneuvering_speed_and_a_landing_elsewhere_another(trip: Trip) -> None:
    assert [weight for weight, _ in speeds_card(trip, None).maneuvering] == [2450, 2410]
    same = trip._replace(arrival=trip.arrival._replace(weight_lb=2450.0))
    assert [weight for weight, _ in speeds_card(same, None).maneuvering] == [2450]


def test_the_stall_in_a_bank_is_an_estimate_from_the_indicated_speed_without_a_calibration() -> None:
    # by hand: 50 / root of 0.5 = 70.71
    plane = aircraft(stall=(speed_of("up", 50.0), speed_of("30", 40.0)))
    clean, down = stalls(plane, "30", (2400.0, 2300.0))
    assert (clean.flaps, clean.weight_lb, down.flaps) == ("up", None, "30")
    assert clean.banked[2].known == pytest.approx(70.71, abs=0.005)
    assert all(each.estimate for each in clean.banked)
    assert [each.flaps for each in stalls(plane, "up", (2400.0,))] == ["up"]


def test_the_stall_by_weight_has_a_row_for_each_weight() -> None:
    by_weight = SpeedByWeight("up", (2000.0, 2400.0), (46.0, 50.0), "p. 5")
    rows = stalls(aircraft(stall=(by_weight,)), "up", (2400.0, 2200.0))
    assert [(row.weight_lb, row.level.value) for row in rows] == [(2400, 50), (2200, 48)]
    assert [row.weight_lb for row in stalls(aircraft(stall=(by_weight,)), "up", (2400.0, 2400.0))] == [2400]
    heavy = stalls(aircraft(stall=(by_weight,)), "up", (2500.0,))[0]
    assert {each.value for each in heavy.figures} == {None}


def test_the_stall_in_a_bank_goes_through_the_calibration_where_there_is_one() -> None:
    # By hand: 40 kt indicated is 50 calibrated; at 60 degrees 50 x 1.414 = 70.7, which is 70.7 indicated, and 14 kt
    # more than 40 x 1.414 = 56.6. At 30 degrees 53.73: 3.73 of the 16 kt from 50 to 66, 45.6 indicated.
    table = Calibration("up", (40.0, 64.0, 70.0, 80.0), (50.0, 66.0, 70.0, 80.0), "p. 5-3")
    row = stalls(aircraft(stall=(speed_of("up", 40.0),), calibration=(table,)), "up", (2400.0,))[0]
    assert row.banked[0].known == pytest.approx(40 + 24 * 3.728 / 16, abs=0.01)
    assert row.banked[2].known == pytest.approx(70.71, abs=0.005)
    assert not any(each.estimate for each in row.banked)


def test_past_the_end_of_the_calibration_the_stall_in_a_bank_is_refused() -> None:
    table = Calibration("up", (40.0, 60.0), (50.0, 62.0), "p. 5-3")
    row = stalls(aircraft(stall=(speed_of("up", 40.0),), calibration=(table,)), "up", (2400.0,))[0]
    assert [each.value is None for each in row.banked] == [False, False, True]  # 53.7, 59.5 and 70.7 calibrated
    assert row.banked[2].reason == "71 kt is past the airspeed calibration (p. 5-3)"


def test_of_several_indicated_speeds_for_one_calibrated_speed_the_highest_is_taken() -> None:
    flat = Calibration("up", (40.0, 50.0, 60.0), (52.0, 52.0, 60.0), "p. 5-3")
    assert indicated(flat, 52) == 50
    assert (indicated(flat, 51), indicated(flat, 61)) == (None, None)
    assert calibration(aircraft(calibration=(flat,)), "up", 39.0) is None
    assert calibration(aircraft(calibration=(flat,)), "30", 50.0) is None


def test_without_winds_aloft_the_glide_takes_the_steady_wind_of_the_departure(trip: Trip) -> None:
    # By hand: 1.5 NM x (TAS - 20) / TAS and (TAS + 20) / TAS. Both in the departure's air: 68 kt / root of 0.939 is
    # 70.2 kt (the example's field at 717 ft with 30.02 inHg and 27 degC).
    worked = glide(with_wind(trip, Wind(90.0, 20.0, 35.0, text="090 at 20 gust 35")), None)
    assert worked.still.value == 1.5
    assert worked.into.known == pytest.approx(1.5 * 50.2 / 70.2, abs=0.002)
    assert worked.downwind.known == pytest.approx(1.5 * 90.2 / 70.2, abs=0.002)
    assert worked.strongest == worked.weakest
    assert (worked.into.estimate, worked.downwind.estimate, worked.still.estimate) == (True, True, False)


def test_in_a_calm_all_three_are_the_range_in_still_air(trip: Trip) -> None:
    worked = glide(with_wind(trip, Wind(None, 0.0, 0.0)), None)
    assert (worked.still.known, worked.into.known, worked.downwind.known) == (1.5, 1.5, 1.5)
    assert worked.strongest.words == "calm, steady, at the departure"


def test_no_ground_is_won_against_a_wind_as_fast_as_the_airplane(trip: Trip) -> None:
    worked = glide(with_wind(trip, Wind(90.0, 71.0, 71.0)), None)
    assert worked.into.value is None
    assert worked.into.reason == "a wind of 71 kt is no less than the true airspeed of 70 kt"
    assert worked.downwind.known > 3.0


def test_aloft_the_strongest_wind_counts_against_the_glide_and_the_weakest_with_it(trip: Trip) -> None:
    """Levels above the highest leg count only as far as its own wind is interpolated from them."""
    assert trip.route is not None
    levels = (WindAloft(2000, 200, 11), WindAloft(4500, 240, 30), WindAloft(9000, 250, 60))
    route = trip.route._replace(winds=levels)
    navigation = navigate(route, None, tables(trip.aircraft, trip.departure, trip.fuel))
    windy = trip._replace(route=route)
    ground, home = (each.use.conditions for each in (trip.departure, trip.arrival))
    found = winds_met(route, navigation, (ground.wind, home.wind))
    assert max(found).speed_kt == 30
    assert min(found).speed_kt == 7  # the steady wind at the destination
    worked = glide(windy, navigation)
    near, high = densities(trip.departure.use.strip.elevation_ft, ground, navigation)
    assert high < near
    slow_kt, fast_kt = 68 / sqrt(near), 68 / sqrt(high)
    assert worked.into.known == pytest.approx(1.5 * (slow_kt - 30) / slow_kt)
    assert worked.downwind.known == pytest.approx(1.5 * (fast_kt + 7) / fast_kt)


def test_a_route_of_which_no_leg_could_be_worked_takes_the_wind_of_the_departure(trip: Trip) -> None:
    assert trip.route is not None
    nothing = Navigation((), trip.route.start_position)
    ground, home = (each.use.conditions for each in (trip.departure, trip.arrival))
    assert [each.speed_kt for each in winds_met(trip.route, nothing, (ground.wind, home.wind))] == [8.0, 7.0]
    assert len(densities(trip.departure.use.strip.elevation_ft, ground, nothing)) == 1
    assert speeds_card(trip, nothing).cruise_kt is None


def test_the_cruise_is_the_fastest_leg_s_true_airspeed_in_its_air(trip: Trip) -> None:
    # By hand, with 30.02 inHg (-92 ft, PA-3): 106 kt at 3,500 ft, 3,408 ft by pressure, where the standard pressure
    # is 0.97657^5.25588 = 0.88283 of that at sea level; a sixth of the way from 21 degC at 3,000 ft to 14 at 6,000
    # is 19.83: 0.88283 x 288.15/292.98 = 0.8683 as dense, 98.8 kt; 106 kt at 4,500 ft are fewer.
    assert fly(trip).speeds.cruise_kt == pytest.approx(98.8, abs=0.1)


def test_without_a_temperature_aloft_the_warmth_of_the_departure_counts(trip: Trip) -> None:
    # By hand, as above but with 27 degC at the field, 13.2 above standard, so 21.5 at 3,408 ft: 0.8634, 98.5 kt.
    assert trip.route is not None
    legs = tuple(each._replace(power="", airspeed_kt=106.0, flow_galh=8.4) for each in trip.route.legs)
    cold = trip._replace(route=trip.route._replace(temperatures=(), legs=legs))
    assert cold.route is not None
    assert speeds_card(cold, navigate(cold.route)).cruise_kt == pytest.approx(98.5, abs=0.1)


def test_a_glide_over_the_weight_that_its_speed_is_printed_for_is_not_shown(trip: Trip) -> None:
    by_weight = SpeedByWeight("up", (2400.0,), (68.0,), "p. 3-5")
    worked = glide(trip._replace(aircraft=trip.aircraft._replace(best_glide=by_weight)), None)
    assert worked.into.reason == worked.speed.reason == "printed up to 2,400 lb only (p. 3-5)"
    assert trip.aircraft.glide_nm == Limit(1.5, "Handbook p. 3-5")


def test_the_crosswind_is_that_of_the_worst_direction_of_the_row(trip: Trip) -> None:
    # By hand: the wind 28 degrees off (120 on 092 magnetic), 11 kt in the gust: 11 x sin 28, 38, 48 and 58.
    table = crosswinds(trip.arrival.use)
    assert table.speeds_kt == (7, 11, 16)
    for row, off in zip(table.rows, (28, 38, 48, 58), strict=True):
        for kt, wind in zip((7, 11, 16), row.winds, strict=True):
            assert wind.crosswind_kt == pytest.approx(kt * sin(radians(off)), abs=0.05)
    assert [row.words for row in table.rows] == [
        "as forecast",
        *(f"up to {spread}° either way" for spread in SPREADS_DEG[1:]),
    ]


def test_past_square_across_the_whole_wind_counts_and_not_less(trip: Trip) -> None:
    use = trip.arrival.use
    use = use._replace(conditions=use.conditions._replace(wind=Wind(use.end.heading_deg + 80, 10.0, 10.0)))
    assert [row.winds[1].crosswind_kt for row in crosswinds(use).rows] == pytest.approx(
        [10 * cos(radians(10)), 10, 10, 10]
    )


@pytest.mark.parametrize("wind", [Wind(None, 9.0, 12.0), Wind(None, 0.0, 0.0)])
def test_a_wind_of_no_direction_is_all_across(trip: Trip, wind: Wind) -> None:
    use = trip.arrival.use
    table = crosswinds(use._replace(conditions=use.conditions._replace(wind=wind)))
    for row in table.rows:
        assert [each.crosswind_kt for each in row.winds] == [wind.steady_kt, wind.gust_kt, wind.gust_kt + 5]
    details = [step.detail for step in table.figures[0].steps]
    assert details[-1] == "from either side"
    assert (details[0] == "none across") == (wind.steady_kt == 0)


def test_the_landing_s_runway_comes_first_and_one_runway_in_one_wind_stands_once(trip: Trip) -> None:
    assert [each.use.name for each in speeds_card(trip, None).crosswinds] == ["Tansy Bottom 09", "Quillmere 17"]
    back = trip._replace(arrival=trip.arrival._replace(use=trip.departure.use))
    assert [each.use.name for each in speeds_card(back, None).crosswinds] == ["Quillmere 17"]
    assert len(BANKS_DEG) == 3


def test_a_runway_that_is_left_and_landed_on_in_one_wind_has_one_table(trip: Trip) -> None:
    use = trip.departure.use
    dull = use._replace(conditions=use.conditions._replace(altimeter_hPa=1000.0))  # another air, the same wind
    other = use._replace(conditions=use.conditions._replace(wind=Wind(90.0, 5.0, 5.0)))
    for home, count in ((dull, 1), (other, 2), (trip.arrival.use, 2)):
        card = speeds_card(trip._replace(arrival=trip.arrival._replace(use=home)), None)
        assert len(card.crosswinds) == count

"""Climbs by difference and legs by power, worked by hand on small tables, and what is refused.

Source: the contract's 'Time, fuel and distance to climb (difference of table values, with its notes)', 'Off the
table' and 'A condition with no correction'; numbers by hand, in the comment beside them. The climb table: at 0,
2,000, 4,000 and 6,000 ft 0, 3, 7 and 12 min, 0, 0.6, 1.4 and 2.4 gal, 0, 4, 9 and 16 NM. From 1,000 to 4,000 ft:
7 - 1.5 = 5.5 min, 1.4 - 0.3 = 1.1 gal, 9 - 2 = 7 NM.
"""

from __future__ import annotations

from dataclasses import replace
from math import nan
from typing import Any

import pytest
from conftest import EXAMPLE

from briefgen.calc.fuel import FuelPlan, plan
from briefgen.calc.legs import Navigation, navigate
from briefgen.calc.performance import Tables, cruising, tables, temperature_aloft
from briefgen.errors import Refusal
from briefgen.figures import Figure
from briefgen.files.read_trip import read_trip
from briefgen.handbook.climb import ClimbTable, End, WarmNote
from briefgen.handbook.cruise import Air, CruiseTable, SpeedNote
from briefgen.handbook.readings import RISES, Readings
from briefgen.handbook.table import Axis, Grid
from briefgen.model.limit import Limit
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.route import Fuel, Leg, Route, Spot, TemperatureAloft, WindAloft

CALM = WindAloft(0, 0.0, 0.0)
PAGE = "Handbook p. 5-14"
HEIGHTS = (0.0, 2000.0, 4000.0, 6000.0)
TIMES = {
    "time": (0.0, 3.0, 7.0, 12.0),
    "fuel": (0.0, 0.6, 1.4, 2.4),
    "distance": (0.0, 4.0, 9.0, 16.0),
}
UNITS = {"time": "min", "fuel": "gal", "distance": "NM", "speed": "kt"}
NOTE = WarmNote("warm air", 0.1, 10.0, "Handbook p. 5-14 note 2")


def readings(**more: Any) -> Readings:
    grid = Grid((Axis("pressure_altitude_ft", HEIGHTS),), PAGE)
    cells = {name: {(i,): value for i, value in enumerate(values)} for name, values in TIMES.items()}
    settings: dict[str, Any] = {"grid": grid, "cells": cells, "course": dict.fromkeys(TIMES, RISES)} | more
    return Readings("climb table", units={name: UNITS[name] for name in settings["cells"]}, **settings)


CLIMB = ClimbTable(readings())


def book(climb: ClimbTable | None = CLIMB, **more: Any) -> Tables:
    """Return tables for a field at 1,000 ft, by the altimeter too, at its standard 13 degC."""
    settings: dict[str, Any] = {
        "elevation_ft": 1000.0,
        "pressure_altitude_ft": 1000.0,
        "temperature_degC": 15 - 1.9812,
        "weight_lb": 2300.0,
        "climb": climb,
    }
    return Tables(**(settings | more))


def leg(**more: Any) -> Leg:
    settings: dict[str, Any] = {"to": "X", "altitude_ft": 4000, "airspeed_kt": 100, "flow_galh": 8.0}
    typed = {"course_deg": 90.0, "distance_nm": 50.0, "wind": CALM, "variation_deg": 0.0}
    return Leg(**(settings | typed | more))


def way(*legs: Leg, tables: Tables | None = None, **more: Any) -> Navigation:
    found = navigate(Route("A", Spot(40.0, -80.0), legs, 2026.0, **more), None, tables or book())
    assert found.refused == ()
    return found


def rows(found: Navigation) -> list[tuple[float, ...]]:
    """Return distance, time and fuel of every part, to a thousandth."""
    return [
        tuple(round(figure.known, 3) for figure in (each.distance, each.time, each.fuel)) for each in found.legs
    ]


def test_a_climb_is_flown_at_the_beginning_of_its_leg_and_the_rest_is_cruise() -> None:
    """By hand: 50 less 7 is 43 NM, 25.8 min at 100 kt, 3.44 gal at 8 gal/h."""
    found = way(leg())
    assert rows(found) == [(7, 5.5, 1.1), (43, 25.8, 3.44)]
    climb, cruise = found.legs
    assert (climb.tops, cruise.tops, climb.flow) == (True, False, None)
    assert climb.airspeed.known == climb.ground_speed.known == pytest.approx(7 / 5.5 * 60)
    assert [step.label for step in climb.time.steps][-3:] == [
        "climb table, to the field",
        "climb table, to 4,000\u00a0ft",
        "time to climb from the field",
    ]
    assert [step.source.text for step in climb.fuel.steps[:2]] == [PAGE, PAGE]
    assert (found.distance_nm, found.minutes, found.fuel_gal) == pytest.approx((50, 31.3, 4.54))
    assert (found.climbed, found.cruised) == ((climb,), (cruise,))


def test_the_altimeter_of_the_departure_moves_every_altitude_and_is_a_step() -> None:
    """By hand: 500 ft more at both ends: 1,500 to 4,500 ft: 8.25 - 2.25 = 6 min."""
    found = way(leg(), tables=book(pressure_altitude_ft=1500.0, temperature_degC=12.0)).legs[0]
    assert found.time.known == pytest.approx(6)
    assert [step.after for step in found.time.steps if step.quantity == "pressure altitude"] == [1500, 4500]
    assert "+500\u00a0ft" in found.time.steps[2].detail


def test_a_headwind_shortens_the_way_of_a_climb_and_a_tailwind_gives_no_credit() -> None:
    """By hand: 76.364 less 20 is 56.364 kt for 5.5 min, 5.167 NM; 44.833 NM at 80 kt are 33.625 min."""
    against = way(leg(wind=WindAloft(4000, 90, 20)))
    assert rows(against) == [(5.167, 5.5, 1.1), (44.833, 33.625, 4.483)]
    behind = way(leg(wind=WindAloft(4000, 270, 20)))
    assert rows(behind)[0] == (7, 5.5, 1.1)
    assert "no credit for a tailwind" in behind.legs[0].distance.steps[-1].source.text
    across = way(leg(wind=WindAloft(4000, 180, 20))).legs[0]
    assert across.heading.known == pytest.approx(90 + 15.18, abs=0.01)  # asin(20 / 76.364)
    assert across.distance.known < 7


def test_a_climb_longer_than_its_leg_goes_on_along_the_next() -> None:
    """By hand: 3 of 7 NM on a first leg of 3 NM: 5.5 x 3/7 = 2.357 min, 0.471 gal; the rest, 4 NM, on the next."""
    found = way(leg(distance_nm=3.0), leg(to="Y"))
    assert rows(found)[:2] == [(3, 2.357, 0.471), (4, 3.143, 0.629)]
    first, second, third = found.legs
    assert (first.leg.to, first.tops, second.leg.to, second.tops, third.climb) == ("X", False, "Y", True, None)
    assert third.distance.known == pytest.approx(46)
    assert found.distance_nm == pytest.approx(53)
    assert "the part of it to X" in [step.label for step in first.time.steps]


def test_a_climb_that_goes_on_can_go_on_to_a_higher_level() -> None:
    """By hand: 4/7 of the first climb are left, 4 NM, and to 6,000 ft 5 min, 1 gal, 7 NM: 11 NM in all."""
    found = way(leg(distance_nm=3.0), leg(to="Y", altitude_ft=6000))
    assert rows(found)[1] == (11, round(5.5 * 4 / 7 + 5, 3), round(1.1 * 4 / 7 + 1, 3))
    assert found.legs[1].climb is not None
    assert found.legs[1].climb.speeds_kt is None


def test_a_later_leg_that_is_higher_climbs_by_the_difference_and_a_lower_one_takes_cruise_figures() -> None:
    found = way(leg(), leg(to="Y", altitude_ft=6000), leg(to="Z", altitude_ft=3000))
    assert [each.climb is not None for each in found.legs] == [True, False, True, False, False]
    assert rows(found)[2] == (7, 5, 1)  # 16 - 9 NM, 12 - 7 min, 2.4 - 1.4 gal
    assert rows(found)[4] == (50, 30, 4)


@pytest.mark.parametrize(
    ("legs", "words"),
    [
        ((leg(distance_nm=3.0), leg(to="Y", altitude_ft=3000)), "X is reached before 4,000\u00a0ft"),
        ((leg(distance_nm=3.0),), "the route ends before the climb to 4,000\u00a0ft does"),
        ((leg(altitude_ft=6001),), "above the table's highest"),
        ((leg(altitude_ft=1000),), "4,000 ft is not above the field".replace("4,000 ft", "1,000\u00a0ft")),
        ((leg(altitude_ft=900),), "is not above the field"),
        ((leg(wind=WindAloft(4000, 90, 80)),), "no speed over the ground"),
    ],
)
def test_a_climb_that_cannot_be_worked_leaves_legs_in_cruise_and_the_fuel_not_shown(
    legs: tuple[Leg, ...], words: str
) -> None:
    found = way(*legs)
    assert words in found.climb_reason
    assert found.climbed == ()
    assert len(found.legs) == len(legs)
    fuel = plan(Fuel(30.0, 1.0), found, NO_POLICY)
    assert words in fuel.need.reason
    assert "'fuel: climb' may be typed" in fuel.need.reason
    assert fuel.stages == ()


def test_a_climb_that_the_table_gives_no_time_is_not_worked() -> None:
    """A table printed in whole minutes may print one time in two rows: by hand, 7 less 7 min."""
    cells = {name: {(i,): value for i, value in enumerate(values)} for name, values in TIMES.items()}
    cells["time"][(3,)] = 7.0
    flat = book(ClimbTable(readings(cells=cells)))
    assert way(leg(), tables=flat).climb_reason == ""
    assert "no time for so small a climb" in way(leg(), leg(to="Y", altitude_ft=6000), tables=flat).climb_reason


def test_tables_are_not_entered_with_what_could_not_be_read() -> None:
    trip = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")[0]
    assert tables(trip.aircraft, trip.departure, trip.fuel) is not None
    assert tables(trip.aircraft, trip.departure._replace(weight_lb=nan), trip.fuel) is None


def test_nothing_is_used_below_the_lowest_row_either() -> None:
    found = way(leg(), tables=book(pressure_altitude_ft=-1.0))
    assert "below the table's lowest" in found.climb_reason


def test_a_typed_climb_and_an_airplane_without_a_table_have_no_climb_in_the_log() -> None:
    for found in (way(leg(), tables=book(None)), navigate(Route("A", Spot(40, -80), (leg(),), 2026.0))):
        assert rows(found) == [(50, 30, 4)]
        assert found.climb_reason == ""
        assert plan(Fuel(30.0, 1.0), found, NO_POLICY).need.reason.endswith("'fuel: climb'")
        assert plan(Fuel(30.0, 1.0, 1.2, night=False), found, NO_POLICY).need.known == pytest.approx(10.2)


def fuel_of(found: Navigation, policy: Policy = NO_POLICY, taxi: float | None = 1.0, **more: Any) -> FuelPlan:
    return plan(Fuel(30.0, taxi, night=False), found, policy, **more)


def test_the_fuel_has_the_climb_as_a_stage_of_its_own_and_in_the_least_burn() -> None:
    """By hand: taxi 1, climb 1.1, legs 3.44, 30 min at 8 are 4: 9.54; least burn 4.54; 28 - 0.1 gal last at 8."""
    found = fuel_of(way(leg()))
    assert [(stage.name, round(stage.fuel_gal, 3)) for stage in found.stages[:3]] == [
        ("taxi", 1.0),
        ("climb", 1.1),
        ("legs", 3.44),
    ]
    assert found.stages[1].source.text == PAGE
    assert found.need.known == pytest.approx(9.54)
    assert found.least_burn is not None
    assert found.least_burn.known == pytest.approx(4.54)
    assert "climb and legs" in found.least_burn.steps[0].detail
    assert found.endurance is not None
    assert found.endurance.known == pytest.approx((30 - 1 - 1.1) / 8 * 60 + 5.5)
    assert found.down_by is not None
    assert found.down_by.known == pytest.approx((30 - 1 - 1.1 - 4) / 8 * 60 + 5.5)


def test_the_policy_s_margin_is_on_a_climb_that_was_worked_too() -> None:
    """By hand: a tenth of 4.54 is 0.454; the climb burns 1.21, and the rest lasts at 8.8 gal/h."""
    found = fuel_of(way(leg()), Policy("club", burn_margin=0.1, whose={"burn_margin": "club"}))
    assert found.policy_need.known == pytest.approx(9.54 + 0.454)
    assert found.endurance is not None
    assert found.endurance.known == pytest.approx((29 - 1.21) / 8.8 * 60 + 5.5)


def test_the_handbook_s_allowance_is_the_taxi_where_none_or_less_is_typed() -> None:
    allowance = Limit(1.4, "Handbook p. 5-14 note 1")
    found = fuel_of(way(leg()), taxi=None, allowance=allowance)
    assert (found.stages[0].fuel_gal, found.stages[0].source.text) == (1.4, allowance.page)
    less = fuel_of(way(leg()), taxi=1.0, allowance=allowance).stages[0]
    assert (less.fuel_gal, less.detail.endswith("; 1.0\u00a0gal are typed")) == (1.4, True)
    assert fuel_of(way(leg()), taxi=2.0, allowance=allowance).stages[0].fuel_gal == 2.0
    assert fuel_of(way(leg()), taxi=None).need.reason.endswith("'fuel: taxi'")


def low(above: float | None = 0.0, temperature: float | None = 13.0) -> End:
    return End("the field", 1000, temperature, above)


def high(above: float | None = 0.0, temperature: float | None = 7.0) -> End:
    return End("4,000 ft", 4000, temperature, above, "no temperature is given for 4,000 ft")


def minutes(table: ClimbTable, bottom: End, top: End) -> float:
    return table.climb(bottom, top, 2300).time.known


@pytest.mark.parametrize(
    ("bottom", "top", "expected"),
    [
        (low(0), high(0), 5.5),
        (low(5), high(0), 5.5 * 1.05),  # the warmer end counts, in proportion
        (low(0), high(20), 5.5 * 1.2),
        (low(-20), high(-10), 5.5),  # no credit for cold air
        (low(10), high(None), 5.5 * 1.1),
    ],
)
def test_a_note_for_warm_air_is_in_proportion_to_the_warmer_end_and_never_a_credit(
    bottom: End, top: End, expected: float
) -> None:
    noted = ClimbTable(readings(), at_standard=True, note=NOTE)
    found = noted.climb(bottom, top, 2300)
    assert found.time.known == pytest.approx(expected)
    assert found.fuel.known / 1.1 == pytest.approx(found.distance.known / 7) == pytest.approx(expected / 5.5)
    words = found.time.steps[-1].detail
    assert ("not known at 4,000 ft" in words) is (top.above_standard_degC is None)


def test_a_table_at_standard_is_refused_in_warm_air_that_it_has_no_note_for() -> None:
    bare = ClimbTable(readings(), at_standard=True)
    assert minutes(bare, low(0.4), high(-3)) == 5.5
    with pytest.raises(Refusal, match="no note for 3") as caught:
        minutes(bare, low(0), high(3))
    assert caught.value.about == "temperature"
    assert minutes(CLIMB, low(0), high(3)) == 5.5  # a page that says no temperature has none to be off


def columns(name: str) -> ClimbTable:
    """Return the table with a second column, 20 degC on, of twice as much."""
    grid = Grid((Axis("pressure_altitude_ft", HEIGHTS), Axis(name, (0.0, 20.0))), PAGE)
    cells = {
        quantity: {(i, t): value * (1 + t) for i, value in enumerate(values) for t in (0, 1)}
        for quantity, values in TIMES.items()
    }
    return ClimbTable(readings(grid=grid, cells=cells))


def test_columns_of_temperature_are_entered_at_each_end_with_its_own() -> None:
    """By hand: at 4,000 ft and 10 degC 7 x 1.5 = 10.5; at 1,000 ft and 20 degC 1.5 x 2 = 3: 7.5 min."""
    table = columns("temperature_degC")
    assert minutes(table, low(temperature=20.0), high(temperature=10.0)) == pytest.approx(7.5)
    with pytest.raises(Refusal, match="needs the temperature at 4,000 ft: no temperature is given"):
        minutes(table, low(), high(temperature=None))


def test_columns_above_standard_are_entered_at_both_ends_with_the_warmer() -> None:
    """By hand: 10 above at the warmer end: 5.5 x 1.5."""
    table = columns("above_standard_degC")
    for bottom, top in ((low(10), high(2)), (low(2), high(10)), (low(10), high(None))):
        assert minutes(table, bottom, top) == pytest.approx(8.25)
    with pytest.raises(Refusal, match="below the table's lowest"):
        minutes(table, low(-1), high(-1))


def test_a_difference_that_is_negative_is_refused() -> None:
    """A row that falls between rows that the two ends do not touch together: only their difference shows it."""
    cells = {name: {(i,): value for i, value in enumerate(values)} for name, values in TIMES.items()}
    cells["fuel"] = {(0,): 0.0, (1,): 9.0, (2,): 1.4, (3,): 2.4}
    table = ClimbTable(readings(cells=cells, course={}))
    with pytest.raises(Refusal, match=r"fuel at 4,000 ft, 1\.4, is less than at the field, 4\.5"):
        minutes(table, low(), high())


def test_speeds_of_the_rows_are_read_at_both_ends() -> None:
    """By hand: 76 at sea level less 1 kt for each 2,000 ft: 75.5 and 74 kt; of two climbs, the last's."""
    cells = {name: {(i,): value for i, value in enumerate(values)} for name, values in TIMES.items()}
    cells["speed"] = {(i,): 76.0 - i for i in range(4)}
    table = ClimbTable(readings(cells=cells))
    assert table.climb(low(), high(), 2300).speeds_kt == (75.5, 74)
    found = way(leg(distance_nm=3.0), leg(to="Y", altitude_ft=6000), tables=book(table)).legs[1].climb
    assert found is not None
    assert found.speeds_kt == (75.5, 73)


def test_a_later_climb_without_any_temperature_of_its_own_takes_the_field_s() -> None:
    """By hand: 10 above standard at the field, nothing known aloft: both climbs a tenth longer."""
    noted = ClimbTable(readings(), at_standard=True, note=NOTE)
    warm = book(noted, temperature_degC=15 - 1.9812 + 10)
    found = way(leg(), leg(to="Y", altitude_ft=6000), tables=warm)
    assert found.legs[0].time.known == pytest.approx(6.05)
    assert found.legs[2].time.known == pytest.approx(5.5)
    known = way(leg(temperature_degC=7.0752), leg(to="Y", altitude_ft=6000), tables=warm)
    assert known.legs[2].time.known == pytest.approx(5)  # standard at 4,000 ft, from where it climbs


CRUISE_CELLS = {"tas": {(0, 0): 100.0, (1, 0): 104.0, (0, 1): 98.0, (1, 1): 102.0}}
CRUISE_CELLS["flow"] = {cell: value / 10 for cell, value in CRUISE_CELLS["tas"].items()}


def cruise(axis: str = "above_standard_degC", **more: Any) -> CruiseTable:
    grid = Grid((Axis("pressure_altitude_ft", (2000.0, 4000.0)), Axis(axis, (0.0, 20.0))), "Handbook p. 5-16")
    table = Readings("cruise table, 2400 rpm", grid, CRUISE_CELLS, {"tas": "kt", "flow": "gal/h"})
    return CruiseTable("2400 rpm", table, **more)


def standard_cruise() -> CruiseTable:
    grid = Grid((Axis("pressure_altitude_ft", (2000.0, 4000.0)),), "Handbook p. 5-16")
    cells = {name: {(0,): each[0, 0], (1,): each[1, 0]} for name, each in CRUISE_CELLS.items()}
    table = Readings("cruise table, 2400 rpm", grid, cells, {"tas": "kt", "flow": "gal/h"})
    return CruiseTable("2400 rpm", table, at_standard=True)


def test_a_leg_by_power_is_flown_by_its_table_with_its_steps() -> None:
    """By hand: 3,000 ft, 10 above standard (19.06 degC): 101 kt and 10.1 gal/h; less 8 without fairings: 93 kt."""
    notes = (
        SpeedNote("no wheel fairings", -8.0, True, "note 1"),
        SpeedNote("tundra tires", -20.0, False, "note 2"),
    )
    by_power = leg(airspeed_kt=None, flow_galh=None, power="2400 rpm", altitude_ft=3000.0)
    levels = (TemperatureAloft(2000, 21.06), TemperatureAloft(4000, 17.0536))
    given = book(None, cruise=(replace(cruise(), power="2300 rpm"), cruise(notes=notes)))
    (found,) = way(by_power, tables=given, temperatures=levels).legs
    assert found.airspeed.known == found.ground_speed.known == pytest.approx(93, abs=0.01)
    assert found.flow is not None
    assert found.flow.known == pytest.approx(10.1, abs=0.001)
    assert found.fuel.known == pytest.approx(50 / 93 * 10.1, abs=0.001)
    labels = [step.label for step in found.airspeed.steps]
    assert labels[0] == "pressure altitude at 3,000\u00a0ft"
    assert labels[-1] == "no wheel fairings"
    own = way(by_power._replace(temperature_degC=9.06), tables=given, temperatures=levels).legs[0]
    assert own.airspeed.known == pytest.approx(102 - 8, abs=0.01)  # its own temperature goes before the levels'


def refused(table: CruiseTable, air: Air) -> Refusal:
    with pytest.raises(Refusal) as caught:
        table.cruise(air, 2300)
    return caught.value


@pytest.mark.parametrize("axis", ["temperature_degC", "above_standard_degC"])
def test_a_cruise_table_by_temperature_needs_one(axis: str) -> None:
    found = refused(cruise(axis), Air(3000, None, None, "no temperature is given for 3,000 ft"))
    assert found.about == "temperature"
    assert found.reason.endswith("no temperature is given for 3,000 ft")
    assert cruise(axis).cruise(Air(3000, 10.0, 10.0), 2300).airspeed.known == pytest.approx(101)
    assert refused(cruise(axis), Air(3000, 21.0, 21.0)).about == axis
    assert refused(cruise(axis), Air(4001, 10.0, 10.0)).about == "pressure_altitude_ft"


def test_a_cruise_table_at_standard_is_for_standard_air_only() -> None:
    table = standard_cruise()
    assert table.cruise(Air(3000, 9.3, 0.3), 2300).airspeed.known == pytest.approx(102)
    assert "12\u00a0°C above" in refused(table, Air(3000, 21.0, 12.0)).reason
    assert "12\u00a0°C below" in refused(table, Air(3000, -3.0, -12.0)).reason
    assert refused(table, Air(3000, None, None, "no temperature is given")).about == "temperature"


def test_an_airspeed_that_notes_take_all_of_is_refused() -> None:
    slow = cruise(notes=(SpeedNote("floats", -75.0, True, "note 1"),))
    assert refused(slow, Air(3000, 19.0, 10.0)).about == "power"


def test_a_blank_cell_of_a_cruise_table_is_about_the_power() -> None:
    table = standard_cruise()
    cells = {**table.table.cells, "tas": {(0,): None, (1,): 104.0}}
    blank = replace(table, table=replace(table.table, cells=cells))
    assert refused(blank, Air(3000, 9.0, 0.0)).about == "power"


def test_a_setting_that_is_not_printed_is_refused() -> None:
    by_power = leg(airspeed_kt=None, flow_galh=None, power="2450 rpm")
    route = Route("A", Spot(40.0, -80.0), (by_power,), 2026.0)
    for given in (None, book(cruise=(cruise(),))):
        with pytest.raises(Refusal, match="no power setting '2450 rpm'") as caught:
            cruising(by_power, route, given)
        assert caught.value.about == "power"
    assert navigate(route).refused[0][0] == 0


def test_a_leg_that_is_refused_leaves_the_fuel_not_shown_with_its_own_reason() -> None:
    by_power = leg(airspeed_kt=None, flow_galh=None, power="2450 rpm")
    found = navigate(Route("A", Spot(40.0, -80.0), (by_power,), 2026.0), None, book())
    assert "2450 rpm" in plan(Fuel(30.0, 1.0), found, NO_POLICY).need.reason


def test_temperatures_are_linear_between_levels_and_refused_past_them() -> None:
    levels = (TemperatureAloft(6000, 14), TemperatureAloft(3000, 20), TemperatureAloft(9000, 2))
    assert [temperature_aloft(levels, height) for height in (3000, 4500, 6000, 7500, 9000)] == [20, 17, 14, 8, 2]
    for height in (2999, 9001):
        with pytest.raises(Refusal, match="those given go from 3,000 to 9,000") as caught:
            temperature_aloft(levels, height)
        assert caught.value.about == "temperature"
    with pytest.raises(Refusal, match="no temperature is given"):
        temperature_aloft((), 3000)


def test_a_figure_that_was_typed_says_so() -> None:
    found: Figure = way(leg(), tables=book(None)).legs[0].airspeed
    assert (found.known, found.steps[0].detail) == (100, "as typed")

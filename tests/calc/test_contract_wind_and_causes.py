"""Wind, conditions without a correction, axes: the lines of the design's 'How the figures are defined'.

Each test names its line. Source of the expected numbers: computed by hand from that line on a one-number table of
600/1200, or the published value named beside them.
"""

from __future__ import annotations

import pytest
from small_models import aircraft, causes_of, chart, conditions, distances, note, place, policy

from briefgen.calc.atmosphere import HIGHEST_FT, LOWEST_FT, density_altitude, standard_temperature
from briefgen.calc.distance import square_law
from briefgen.calc.takeoff import takeoff
from briefgen.calc.wind import RunwayWind, on_runway
from briefgen.model.weather import Wind

HEADWIND = note("headwind", -0.10, per=9.0, up_to=27.0)
TAILWIND = note("tailwind", 0.10, per=2.0, up_to=10.0)


# Line: 'Headwind credit from the steady wind; tailwind and crosswind from the gust.'
def test_headwind_is_taken_from_the_steady_wind_and_crosswind_from_the_gust() -> None:
    found = on_runway(Wind(120.0, 10.0, 20.0), 90.0)
    assert found.headwind_kt == pytest.approx(8.660, abs=5e-4)  # 10 cos 30
    assert found.crosswind_kt == pytest.approx(10.0)  # 20 sin 30
    assert found.along_kt == pytest.approx(8.660, abs=5e-4)


def test_tailwind_is_taken_from_the_gust() -> None:
    found = on_runway(Wind(270.0, 10.0, 20.0), 90.0)
    assert (found.headwind_kt, found.tailwind_kt, found.crosswind_kt) == (0.0, pytest.approx(20.0), 0.0)
    assert found.along_kt == pytest.approx(-20.0)
    assert found.crosswind_from == ""


# Published: runway 040, wind 130 at 20 kt: head 0, cross 20 (check value W-4, second-hand).
def test_a_wind_square_across_is_neither_headwind_nor_tailwind() -> None:
    assert on_runway(Wind(130.0, 20.0, 20.0), 40.0) == RunwayWind(0.0, 0.0, pytest.approx(20.0), "right")


# Line: 'Variable direction: full tailwind and full crosswind.'
def test_a_variable_wind_counts_as_full_tailwind_and_full_crosswind() -> None:
    assert on_runway(Wind(None, 5.0, 9.0), 90.0) == RunwayWind(0.0, 9.0, 9.0, "either side")
    assert on_runway(Wind(None, 0.0, 0.0), 90.0) == RunwayWind(0.0, 0.0, 0.0, "")


def test_a_wind_that_varies_between_two_directions_counts_worst_at_each() -> None:
    found = on_runway(Wind(90.0, 10.0, 10.0, (60.0, 150.0)), 90.0)
    assert found.headwind_kt == pytest.approx(5.0)  # 60 degrees off
    assert found.crosswind_kt == pytest.approx(8.660, abs=5e-4)
    assert found.crosswind_from == "either side"


# Line: 'Runway headings say true or magnetic; one taken from the ident is +-5 degrees, worst case.'
def test_a_heading_taken_from_the_ident_is_worked_for_the_worst_of_5_degrees_either_way() -> None:
    found = on_runway(Wind(90.0, 10.0, 10.0), 90.0, 5.0)
    assert found.headwind_kt == pytest.approx(9.962, abs=5e-4)  # 10 cos 5
    assert found.crosswind_kt == pytest.approx(0.872, abs=5e-4)  # 10 sin 5
    assert on_runway(Wind(177.0, 10.0, 10.0), 90.0, 5.0).tailwind_kt == pytest.approx(0.349, abs=5e-4)  # 92 degrees


# Line: 'Credits in whole printed steps unless the policy says pro rata'
# Published: 18 kt of headwind at 10 % per 9 kt take 20 % off, not 19 % (check value TO-1, read).
def test_credit_is_counted_in_whole_printed_steps_unless_pro_rata() -> None:
    table = chart(notes=(HEADWIND,))
    assert distances(table, {"headwind": 18.0}).value("total") == pytest.approx(960)
    assert distances(table, {"headwind": 17.0}).value("total") == pytest.approx(1080)
    assert distances(table, {"headwind": 8.9}).value("total") == 1200
    assert distances(table, {"headwind": 17.0}, pro_rata=True).value("total") == pytest.approx(1200 * (1 - 17 / 90))


# Line: 'penalties always pro rata'
def test_penalties_are_counted_pro_rata_whatever_the_policy_says() -> None:
    for pro_rata in (True, False):
        found = distances(chart(notes=(TAILWIND,)), {"tailwind": 3.0}, pro_rata=pro_rata)
        assert found.value("total") == pytest.approx(1380)


# Line: 'credit stops at the note's limit'
def test_credit_stops_at_the_limit_of_its_note() -> None:
    for pro_rata in (True, False):
        found = distances(chart(notes=(HEADWIND,)), {"headwind": 40.0}, pro_rata=pro_rata)
        assert found.value("total") == pytest.approx(840)


# Line: 'and is never more than the square law (1 - w/V)^2'
def test_credit_is_never_more_than_the_square_law() -> None:
    # (1 - 18/51)^2 = 0.41869
    assert 1 + square_law(18.0, 51.0) == pytest.approx(0.41869, abs=5e-6)
    assert square_law(60.0, 51.0) == -1  # no less than nothing
    assert square_law(18.0, None) == 0  # no speed: no credit
    greedy = chart(notes=(note("headwind", -0.5, per=9.0),))
    worked = distances(greedy, {"headwind": 9.0}, headwind_bound=square_law(9.0, 60.0))
    assert worked.value("total") == pytest.approx(1200 * 0.7225)  # (51/60)^2
    assert "held to the square law, −27.8 %" in worked.figure("total", "x").steps[-1].detail


# Line: 'a tailwind past the note's limit is refused'
def test_a_tailwind_past_the_limit_of_its_note_is_refused() -> None:
    table = chart(notes=(TAILWIND,))
    assert distances(table, {"tailwind": 10.0}).value("total") == pytest.approx(1800)
    worked = distances(table, {"tailwind": 10.5})
    assert worked.value("total") is None
    figure = worked.figure("total", "x")
    assert (figure.reason, figure.about) == (
        "tailwind 10.5 kt is past the note's limit of 10 kt (invented for the test)",
        "tailwind",
    )


# Line: 'No credit for a downhill takeoff, an uphill landing, or below-standard temperature, unless printed.'
@pytest.mark.parametrize(
    ("phase", "cause", "amount"),
    [("takeoff", "downslope", 0.02), ("landing", "upslope", 0.02), ("landing", "below standard temperature", 15.0)],
)
def test_what_helps_gives_no_credit_unless_printed(phase: str, cause: str, amount: float) -> None:
    chosen = note(cause, -0.1, per=amount, rank="where silent")  # guidance never gives credit
    assert distances(chart(phase), {cause: amount}, chosen).value("total") == 1200
    printed = chart(phase, notes=(note(cause, -0.1, per=amount),))
    assert distances(printed, {cause: amount}).value("total") == pytest.approx(1080)


# Line: 'A condition with no correction (wet grass, soft, slope with a silent handbook and no policy factor) ...'
@pytest.mark.parametrize("cause", ["wet grass", "soft ground", "downslope", "dry grass", "snow", "tailwind"])
def test_a_condition_without_a_correction_is_refused_and_the_uncorrected_figure_stays_in_the_working(
    cause: str,
) -> None:
    figure = distances(chart(), {cause: 1.0}).figure("total", "landing")
    assert figure.value is None
    assert figure.reason == f"no correction for {cause}: the handbook is silent and no guidance is chosen for it"
    assert [step.after for step in figure.steps] == [1200]


# Line: 'Handbook first, guidance where it is silent, never two for one cause; a stricter policy still rules'
def test_guidance_fills_in_only_where_the_handbook_is_silent_unless_it_is_stricter() -> None:
    printed = note("dry grass", 0.2)
    silent, longer = (note("dry grass", 0.5, rank=rank) for rank in ("where silent", "if longer"))
    assert distances(chart(), {"dry grass": 1.0}, silent).value("total") == pytest.approx(1800)
    assert distances(chart(notes=(printed,)), {"dry grass": 1.0}, silent).value("total") == pytest.approx(1440)
    assert distances(chart(notes=(printed,)), {"dry grass": 1.0}, longer).value("total") == pytest.approx(1800)
    milder = note("dry grass", 0.1, rank="if longer")
    assert distances(chart(notes=(printed,)), {"dry grass": 1.0}, milder).value("total") == pytest.approx(1440)


# Line: 'for wet grass the larger of the handbook's dry figure and the guidance's wet one'
def test_for_wet_grass_the_larger_of_the_dry_note_and_the_wet_guidance_is_taken_on_each_distance() -> None:
    # one printed of the roll, one guidance of the total: 0.40 x 600 = 240 ft or 0.35 x 1200 = 420 ft, on both
    dry = note("dry grass", 0.40, percent_of="roll", of="value so far")
    wet = note("wet grass", 0.35, percent_of="total", of="value so far", rank="where silent")
    found = distances(chart(notes=(dry,)), {"wet grass": 1.0}, wet)
    assert (found.value("roll"), found.value("total")) == (pytest.approx(1020), pytest.approx(1620))
    light = note("wet grass", 0.1, percent_of="total", of="value so far", rank="where silent")
    found = distances(chart(notes=(dry,)), {"wet grass": 1.0}, light)
    assert (found.value("roll"), found.value("total")) == (pytest.approx(840), pytest.approx(1440))
    assert (
        distances(chart(notes=(dry,)), {"wet grass": 1.0}).value("total") is None
    )  # a dry note alone is no answer


# Line: 'A pressure-altitude table is never entered with density altitude.'
def test_a_pressure_altitude_table_is_entered_with_pressure_altitude() -> None:
    # density altitude at 4000 ft and 30 degrees is 6589 ft (check value DA-6, computed): that would give 1376.5 ft
    assert density_altitude(4000.0, 30.0) == pytest.approx(6589, abs=2)
    steep = chart("takeoff", "10", 0.0, 0.0)
    cells = {index: 800.0 + 700.0 * index[0] for index in steep.grid.cells()}
    totals = {index: 2 * value for index, value in cells.items()}
    plane = aircraft(takeoff=(type(steep)("takeoff", "10", steep.grid, cells, totals, steep.conditions),))
    worked = takeoff(plane, place(elevation_ft=4000.0, air=conditions(30.0)), "10", 2400.0, policy())
    assert worked.roll.known == pytest.approx(1150, abs=0.01)  # half-way from 0 to 8000 ft of pressure altitude


def test_the_atmosphere_is_refused_outside_its_range() -> None:
    # ICAO Doc 7488: from 5 km below sea level to the tropopause
    for height in (LOWEST_FT - 1, HIGHEST_FT + 1):
        with pytest.raises(ValueError, match="is outside -16,000 to 36,089 ft"):
            standard_temperature(height)


# Each cause of the ground and the air, by itself. Source: the design's list of conditions.
@pytest.mark.parametrize(
    ("given", "causes"),
    [
        ({}, {}),
        ({"along_kt": 5.0}, {"headwind": 5.0}),
        ({"along_kt": -5.0}, {"tailwind": 5.0}),
        ({"slope": 0.01}, {"upslope": 0.01}),
        ({"slope": -0.01}, {"downslope": 0.01}),
        ({"conditions": conditions(surface="wet")}, {"wet paved": 1.0}),
        ({"conditions": conditions(surface="snow")}, {"snow": 1.0}),
        ({"conditions": conditions(soft=True), "surface": "grass"}, {"dry grass": 1.0, "soft ground": 1.0}),
        ({"conditions": conditions(surface="wet"), "surface": "grass"}, {"wet grass": 1.0}),
        ({"surface": "gravel"}, {"gravel": 1.0}),
        ({"conditions": conditions(surface="wet"), "surface": "gravel"}, {"wet gravel": 1.0}),
        ({"conditions": conditions(surface="standing water")}, {"standing water": 1.0}),
        ({"conditions": conditions(surface="slush"), "surface": "grass"}, {"wet grass": 1.0, "slush": 1.0}),
        ({"conditions": conditions(surface="ice"), "surface": "gravel"}, {"gravel": 1.0, "ice": 1.0}),
        ({"conditions": conditions(grass="very short"), "surface": "grass"}, {"dry grass": 1.0}),
        ({"conditions": conditions(grass="to 20 cm"), "surface": "grass"}, {"dry grass": 1.0}),
        ({"conditions": conditions(grass="long"), "surface": "grass"}, {"long grass": 1.0}),
        ({"conditions": conditions(surface="wet", grass="long"), "surface": "grass"}, {"long wet grass": 1.0}),
        (
            {"conditions": conditions(surface="wet", grass="very short"), "surface": "grass"},
            {"very short wet grass": 1.0},
        ),
        (  # slippery under brakes, which a takeoff has no use for
            {"conditions": conditions(surface="wet", grass="very short"), "surface": "grass", "phase": "takeoff"},
            {"wet grass": 1.0},
        ),
        ({"conditions": conditions(25.0), "at_standard": True}, {"above standard temperature": 10.0}),
        ({"conditions": conditions(5.0), "at_standard": True}, {"below standard temperature": 10.0}),
        ({"conditions": conditions(15.0), "at_standard": True}, {}),
    ],
)
def test_each_cause_is_found_by_itself(given: dict[str, object], causes: dict[str, float]) -> None:
    assert causes_of(**given) == pytest.approx(causes)

"""Courses, distances, variation and headings against published values: rows GD-01 to GD-07, MG-00 to MG-11, NV.

Sources beside each number. PHAK: FAA-H-8083-25, navigation chapter. The rows of the magnetic model are its own test
values, as NOAA publishes them with WMM2025 (read); they are kept in tests/data. NV-02, NV-03 and NV-09 are in
tests/calc/test_route_and_fuel.py, the factors of NV-10 against pint in tests/files/test_units.py.
"""

from __future__ import annotations

import random
from datetime import UTC, date, datetime
from math import asin, cos, hypot, radians, sin, sqrt

import pytest
from conftest import ROOT
from pygeomag import GeoMag
from pygeomag.wmm.wmm_2020 import WMM_2020
from pygeomag.wmm.wmm_2025 import WMM_2025

from briefgen.calc.geodesic import along, between
from briefgen.calc.legs import navigate
from briefgen.calc.variation import FIRST_YEAR, PAST_YEAR, WEAKEST_NT, field, variation
from briefgen.calc.wind_triangle import compass_heading, solve
from briefgen.errors import Refusal
from briefgen.model.route import Leg, Route, Spot, WindAloft
from briefgen.units import FT_PER_NM, KT_PER_MPH

M_PER_NM = 1852  # exact
ROWS = [
    [float(each) for each in line.split()]
    for line in (ROOT / "tests" / "data" / "wmm2025_test_values.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]


FLINDERS_PEAK = Spot(-(37 + 57 / 60 + 3.72030 / 3600), 144 + 25 / 60 + 29.52440 / 3600)
BUNINYONG = Spot(-(37 + 39 / 60 + 10.15610 / 3600), 143 + 55 / 60 + 35.38390 / 3600)
FIVE_PLACES = 0.5e-5  # deg, or half of the last digit of five decimals
HUNDREDTH_OF_A_SECOND = 0.01 / 3600


@pytest.mark.parametrize(
    ("start", "end", "metres", "tolerance"),
    [
        # GD-01: GeographicLib's own test GeodSolve0 (read)
        (Spot(40.6, -73.8), Spot(49.01666667, 2.55), 5_853_226, 0.5),
        # GD-03: GeographicLib documentation, nearly opposite places (read)
        (Spot(-41.32, 174.81), Spot(40.96, -5.50), 19_959_679.267, 1e-3),
        # GD-04: GeographicLib test cases (read)
        (Spot(35.60777, -139.44815), Spot(-11.17491, -69.95921), 8_935_244.5604818305, 1e-6),
        (Spot(-17.42761, 173.34268), Spot(-15.84784, 5.93557), 16_076_603.1631180673, 1e-6),
        (Spot(-19.79938, -174.47484), Spot(-11.99349, -154.35109), 2_319_004.8601169389, 1e-6),
        (Spot(-41.22777, 122.32875), Spot(-7.57291, 130.37946), 3_812_686.035106021, 1e-6),
        # GD-05: test line of the Australian GDA technical manual, on GRS80: WGS84 is 0.1 mm off (from memory)
        (FLINDERS_PEAK, BUNINYONG, 54_972.271, 1e-3),
        # GD-06: GeographicLib's GeodSolve4, a line of 7 cm (read)
        (Spot(36.493349428792, 0), Spot(36.49334942879201, 0.0000008), 0.072, 5e-4),
    ],
)
def test_a_distance_is_that_published(start: Spot, end: Spot, metres: float, tolerance: float) -> None:
    assert between(start, end).distance_nm * M_PER_NM == pytest.approx(metres, abs=tolerance)
    assert between(end, start).distance_nm * M_PER_NM == pytest.approx(metres, abs=tolerance)


@pytest.mark.parametrize(
    ("start", "end", "course", "onward", "tolerance"),
    [
        # GD-01 (read): azimuths at the beginning and at the end
        (Spot(40.6, -73.8), Spot(49.01666667, 2.55), 53.47022, 111.59367, FIVE_PLACES),
        # GD-04 (read)
        (
            Spot(35.60777, -139.44815),
            Spot(-11.17491, -69.95921),
            111.098748429560326,
            129.289270889708762,
            1e-8,
        ),
        # GD-05 (from memory): 306 52 05.37, and back 127 10 25.07, which is 307 10 25.07 onward
        (
            FLINDERS_PEAK,
            BUNINYONG,
            306 + 52 / 60 + 5.37 / 3600,
            307 + 10 / 60 + 25.07 / 3600,
            HUNDREDTH_OF_A_SECOND,
        ),
    ],
)
def test_courses_out_and_back_are_those_published(
    start: Spot, end: Spot, course: float, onward: float, tolerance: float
) -> None:
    assert between(start, end).course_deg == pytest.approx(course, abs=tolerance)
    assert between(end, start).course_deg == pytest.approx((onward + 180) % 360, abs=tolerance)


def test_a_course_and_a_distance_lead_where_published() -> None:
    """GD-02, GeographicLib's test GeodSolve1 (read): 5,850 km on 53.5 degrees; there the course is 111.62947."""
    start = Spot(40.63972222, -73.77888889)
    end = along(start, 53.5, 5_850_000 / M_PER_NM)
    assert end == pytest.approx((49.01467, 2.56106), abs=FIVE_PLACES)
    assert between(end, start).course_deg == pytest.approx(111.62947 + 180, abs=FIVE_PLACES)


def test_no_sphere_stands_in_for_the_ellipsoid() -> None:
    """GD-07 (computed, 20,000 lines): over the United States, 10 to 500 NM, a sphere is off by up to 0.42 %."""
    dice, off = random.Random(7), []
    for _ in range(3000):
        start, length_nm = Spot(dice.uniform(25, 49), dice.uniform(-124, -67)), dice.uniform(10, 500)
        end = along(start, dice.uniform(0, 360), length_nm)
        assert between(start, end).distance_nm == pytest.approx(length_nm, abs=1e-6)
        (south, west), (north, east) = ((radians(each) for each in spot) for spot in (start, end))
        half = sin((north - south) / 2) ** 2 + cos(south) * cos(north) * sin((east - west) / 2) ** 2
        on_a_sphere_nm = 2 * 6_371_008.8 * asin(sqrt(half)) / M_PER_NM  # IUGG mean radius (from memory)
        off.append(abs(on_a_sphere_nm / length_nm - 1))
    assert 0.0035 < max(off) < 0.00425


def test_a_meridian_north_is_a_course_of_nothing_or_360() -> None:
    """By hand: a degree of latitude at 40 north is near 60 NM; the course is due north or due south."""
    north = between(Spot(40, -80), Spot(41, -80))
    assert north.distance_nm == pytest.approx(60, abs=0.2)
    assert north.course_deg == 0.0
    assert between(Spot(41, -80), Spot(40, -80)).course_deg == 180.0


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]:.1f} {row[2]:.0f} {row[3]:.0f}")
def test_the_magnetic_model_gives_its_own_test_values(row: list[float]) -> None:
    """MG-00: all rows of WMM2025's test values (read): D and I 0.006 deg, H, X, Y, Z and F 0.01 nT."""
    year, height_km, latitude, longitude, declination, inclination, horizontal = row[:7]
    found = field(latitude, longitude, height_km, year)
    assert (found.d, found.i) == pytest.approx((declination, inclination), abs=0.006)
    assert (found.h, found.x, found.y, found.z, found.f) == pytest.approx(row[6:11], abs=0.01)
    if horizontal < WEAKEST_NT:  # WMM2025 report: caution zone under 6,000 nT (read in pygeomag)
        with pytest.raises(Refusal, match="magnetic pole"):
            variation(latitude, longitude, height_km / 0.0003048, year)
    else:
        assert variation(latitude, longitude, height_km / 0.0003048, year) == pytest.approx(declination, abs=0.006)


def test_there_are_a_hundred_rows_and_some_are_near_a_pole() -> None:
    """MG-00."""
    assert len(ROWS) == 100
    assert 0 < sum(hypot(row[7], row[8]) < WEAKEST_NT for row in ROWS) < 50


@pytest.mark.parametrize(
    ("at", "column", "printed"),
    [
        # MG-01 to MG-08, as the check values quote them from the table: a guard on how the file is read
        ((2025.5, 44, 33, -118), {4: 11.10, 5: 57.89, 10: 44542.827}, "MG-01"),
        ((2026.0, 46, -24, -122), {4: 14.01, 5: -34.17, 6: 26638.500}, "MG-02"),
        ((2026.5, 12, 33, -145), {4: 11.96, 5: 52.51}, "MG-04"),
        ((2026.5, 14, 0, 80), {4: -3.10, 5: -17.15}, "MG-05"),
        ((2027.0, 61, 59, -77), {4: -16.48, 5: 78.68}, "MG-06"),
        ((2025.0, 28, 89, -121), {4: -99.77}, "MG-08"),
    ],
)
def test_the_rows_are_read_as_they_are_printed(
    at: tuple[float, ...], column: dict[int, float], printed: str
) -> None:
    (row,) = (each for each in ROWS if tuple(each[:4]) == at)
    assert {index: row[index] for index in column} == pytest.approx(column, abs=0.0005), printed


def test_the_model_before_it_is_another_and_is_not_used() -> None:
    """MG-09 (WMM2020 test values, read): at MG-08's place in 2020.0 it was -112.41; ours refuses that year."""
    before = GeoMag(coefficients_data=WMM_2020).calculate(glat=89, glon=-121, alt=28, time=2020.0)
    assert before.d == pytest.approx(-112.41, abs=0.006)
    assert field(89, -121, 28, 2025.0).d == pytest.approx(-99.77, abs=0.006)
    with pytest.raises(Refusal, match="2025-01-01"):
        variation(89, -121, 28 / 0.0003048, 2020.0)


def test_the_model_and_its_life_are_those_of_its_first_line() -> None:
    """MG-10 (read): 2025.0 WMM-2025 11/13/2024, for 2025.0 to 2030.0."""
    model = GeoMag(coefficients_data=WMM_2025)
    assert (model.model, model.release_date, model.life_span) == ("WMM-2025", "11/13/2024", (2025.0, 2030.0))
    assert (FIRST_YEAR, PAST_YEAR) == (2025.0, 2030.0)


def test_the_model_is_not_past_its_life_as_this_runs() -> None:
    """MG-10: this fails from 2030 on, so that the model is replaced. The one test that looks at the clock."""
    assert datetime.now(UTC).date() < date(2030, 1, 1), "replace the magnetic model, and its test values"


@pytest.mark.parametrize(("place", "degrees"), [((35, -98), 0.36), ((47, -122), 0.38)])
def test_the_model_s_own_error_is_under_half_of_a_degree_that_is_printed(
    place: tuple[float, float], degrees: float
) -> None:
    """MG-11, WMM2025 report (constants read, results computed): root of 0.26 squared and (5,417 / H) squared."""
    error = hypot(0.26, 5417 / field(*place, 0.0, 2026.0).h)
    assert error == pytest.approx(degrees, abs=0.01)
    assert error < 0.5  # headings are printed in whole degrees


@pytest.mark.parametrize("year", [2024.99, 2030.0, 2026 - 10])
def test_the_model_is_not_used_outside_its_life(year: float) -> None:
    """MG-10, WMM2025: 2025.0 to 2030.0 (its report; read)."""
    with pytest.raises(Refusal, match="2025-01-01 to 2029-12-31") as caught:
        variation(41.3, -84.4, 0.0, year)
    assert caught.value.about == "year"


@pytest.mark.parametrize(
    ("course", "airspeed", "wind", "correction", "heading", "ground", "tolerance"),
    [
        # NV-01: PHAK, the drawn triangle (course, wind, TAS, GS 88 read; 14, 076 from memory): printed to a degree
        (90, 120, (45, 40), -14, 76, 88, 1),
        (90, 120, (45, 40), -13.63, 76.37, 88.33, 0.005),  # NV-01, computed by hand
        # NV-03: PHAK, 'Charting the course' (TAS and wind read, the rest from memory): GS 106, 3 degrees left
        (31, 115, (360, 10), -2.57, 28.43, 106.31, 0.01),
        # NV-05: a tutorial's heading 045, drift 15 left, track 030, GS 77.6, worked backwards (read; computed)
        (30.07, 75, (135, 20), 14.93, 45, 77.6, 0.05),
        # NV-06: 1940s training text: course 094, 10 right, TAS 165, GS 146, wind by slide rule 154 at 34 (read)
        (94, 165, (154, 34), 10, 104, 146, 1),
        (94, 165, (154.07, 33.06), 10, 104, 146, 0.01),  # NV-06, the wind exactly (computed)
        (360, 90, (270, 10), -6.4, 353.6, 89.4, 0.05),  # NV-07: a wind straight across, computed by hand
        (123, 100, (0, 0), 0, 123, 100, 1e-9),  # calm
    ],
)
def test_the_wind_triangle_is_that_printed(
    course: float,
    airspeed: float,
    wind: tuple[float, float],
    correction: float,
    heading: float,
    ground: float,
    tolerance: float,
) -> None:
    found = solve(course, airspeed, *wind)
    assert found == pytest.approx((correction, heading, ground), abs=tolerance)


@pytest.mark.parametrize(("wind", "words"), [((90, 100), "across"), ((90, 130), "across"), ((0, 100), "no speed")])
def test_a_wind_that_cannot_be_flown_in_is_refused(wind: tuple[float, float], words: str) -> None:
    """NV-08: course 360 at 100 kt: as fast across, faster across, as fast ahead (by hand)."""
    with pytest.raises(Refusal, match=words):
        solve(0, 100, *wind)


@pytest.mark.parametrize(("true", "magnetic"), [(360, 351), (90, 81), (180, 171), (270, 261), (60, 51)])
def test_variation_east_is_least(true: float, magnetic: float) -> None:
    """NV-11, PHAK (read): variation 9 east. Through a leg in calm air, so that the sense is the program's own."""
    leg = Leg("X", 3000, 100, 8, None, true, False, 10, WindAloft(3000, 0, 0), 9.0)
    found = navigate(Route("A", Spot(40, -80), (leg,), 2026.0)).legs[0]
    assert found.heading.known == pytest.approx(magnetic)
    assert found.magnetic_course_deg == pytest.approx(magnetic)


def test_the_compass_card_s_own_example() -> None:
    """NV-13, PHAK (read): 'for 120 steer 114'. Between entries, and round past 360, in proportion: by hand."""
    card = [(0, 2), (120, 114), (240, 240)]
    assert compass_heading(120, card) == 114
    assert compass_heading(60, card) == pytest.approx(58)  # half of +2 and -6 is -2
    assert compass_heading(300, card) == pytest.approx(301)  # half of 0 and +2
    assert compass_heading(360, card) == 2
    assert compass_heading(359.9, [(0, 1), (180, 180)]) == pytest.approx(0.9, abs=0.01)
    assert compass_heading(5, [(10, 12), (190, 190)]) == pytest.approx(5 + 2 * 175 / 180)  # before the first entry


def test_a_nautical_and_a_statute_mile_are_those_printed() -> None:
    """NV-10 (read): 1 NM is 6,076.1 ft, exactly 1,852 m; 1 kt is 1.15 mph, exactly 1.150779; 20 kt are 23 mph."""
    assert pytest.approx(6076.1, abs=0.05) == FT_PER_NM
    assert pytest.approx(1852 / 0.3048, rel=1e-12) == FT_PER_NM
    assert pytest.approx(1.15, abs=0.005) == 1 / KT_PER_MPH
    assert pytest.approx(1.150779, abs=5e-7) == 1 / KT_PER_MPH
    assert pytest.approx(23, abs=0.05) == 20 / KT_PER_MPH

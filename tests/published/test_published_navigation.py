"""Courses, distances, variation and headings against published values.

Sources beside each number. PHAK: FAA-H-8083-25, navigation chapter. The rows of the magnetic model are its own test
values, as NOAA publishes them with WMM2025 (read); they are kept in tests/data.
"""

from __future__ import annotations

from math import hypot

import pytest
from conftest import ROOT

from briefgen.calc.geodesic import along, between
from briefgen.calc.variation import WEAKEST_NT, field, variation
from briefgen.calc.wind_triangle import compass_heading, solve
from briefgen.errors import Refusal
from briefgen.model.route import Spot

M_PER_NM = 1852  # exact
ROWS = [
    [float(each) for each in line.split()]
    for line in (ROOT / "tests" / "data" / "wmm2025_test_values.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]


@pytest.mark.parametrize(
    ("start", "end", "metres", "course", "tolerance"),
    [
        # GeographicLib's own test GeodSolve0 (read)
        (Spot(40.6, -73.8), Spot(49.01666667, 2.55), 5_853_226, 53.47022, 0.5),
        # GeographicLib documentation, nearly opposite places (read)
        (Spot(-41.32, 174.81), Spot(40.96, -5.50), 19_959_679.267, None, 1e-3),
        # GeographicLib test cases (read)
        (Spot(35.60777, -139.44815), Spot(-11.17491, -69.95921), 8_935_244.5604818305, 111.098748429560326, 1e-6),
        (Spot(-17.42761, 173.34268), Spot(-15.84784, 5.93557), 16_076_603.1631180673, None, 1e-6),
        (Spot(-19.79938, -174.47484), Spot(-11.99349, -154.35109), 2_319_004.8601169389, None, 1e-6),
        (Spot(-41.22777, 122.32875), Spot(-7.57291, 130.37946), 3_812_686.035106021, None, 1e-6),
        # GeographicLib's GeodSolve4, a line of 7 cm (read)
        (Spot(36.493349428792, 0), Spot(36.49334942879201, 0.0000008), 0.072, None, 5e-4),
        # the test line of the Australian GDA technical manual, on GRS80: WGS84 differs by 0.1 mm (from memory)
        (
            Spot(-(37 + 57 / 60 + 3.72030 / 3600), 144 + 25 / 60 + 29.52440 / 3600),
            Spot(-(37 + 39 / 60 + 10.15610 / 3600), 143 + 55 / 60 + 35.38390 / 3600),
            54_972.271,
            306 + 52 / 60 + 5.37 / 3600,
            1e-3,
        ),
    ],
)
def test_a_distance_and_a_course_are_those_published(
    start: Spot, end: Spot, metres: float, course: float | None, tolerance: float
) -> None:
    line = between(start, end)
    assert line.distance_nm * M_PER_NM == pytest.approx(metres, abs=tolerance)
    if course is not None:
        assert line.course_deg == pytest.approx(course, abs=5e-6)


def test_a_course_and_a_distance_lead_where_published() -> None:
    """GeographicLib's test GeodSolve1 (read): 5,850 km on 53.5 degrees."""
    end = along(Spot(40.63972222, -73.77888889), 53.5, 5_850_000 / M_PER_NM)
    assert end == pytest.approx((49.01467, 2.56106), abs=5e-6)


def test_a_meridian_north_is_a_course_of_nothing_or_360() -> None:
    """By hand: a degree of latitude at 40 north is near 60 NM; the course is due north or due south."""
    north = between(Spot(40, -80), Spot(41, -80))
    assert north.distance_nm == pytest.approx(60, abs=0.2)
    assert north.course_deg == 0.0
    assert between(Spot(41, -80), Spot(40, -80)).course_deg == 180.0


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]:.1f} {row[2]:.0f} {row[3]:.0f}")
def test_the_magnetic_model_gives_its_own_test_values(row: list[float]) -> None:
    """All rows of WMM2025's test values (read), to half of the last digit printed, and a hundredth."""
    year, height_km, latitude, longitude, declination, horizontal = *row[:5], row[6]
    found = field(latitude, longitude, height_km, year)
    assert found.d == pytest.approx(declination, abs=0.0051)
    assert found.h == pytest.approx(horizontal, abs=0.5)
    if horizontal < WEAKEST_NT:  # WMM2025 report: caution zone under 6,000 nT (read in pygeomag)
        with pytest.raises(Refusal, match="magnetic pole"):
            variation(latitude, longitude, height_km / 0.0003048, year)
    else:
        assert variation(latitude, longitude, height_km / 0.0003048, year) == pytest.approx(declination, abs=0.0051)


def test_there_are_a_hundred_rows_and_some_are_near_a_pole() -> None:
    assert len(ROWS) == 100
    assert 0 < sum(hypot(row[7], row[8]) < WEAKEST_NT for row in ROWS) < 50


@pytest.mark.parametrize("year", [2024.99, 2030.0, 2026 - 10])
def test_the_model_is_not_used_outside_its_life(year: float) -> None:
    """WMM2025: 2025.0 to 2030.0 (its report; read)."""
    with pytest.raises(Refusal, match="2025-01-01 to 2029-12-31") as caught:
        variation(41.3, -84.4, 0.0, year)
    assert caught.value.about == "year"


@pytest.mark.parametrize(
    ("course", "airspeed", "wind", "correction", "heading", "ground", "tolerance"),
    [
        # PHAK, the drawn triangle (course, wind, TAS, GS 88 read; 14 and 076 from memory): printed to a degree
        (90, 120, (45, 40), -14, 76, 88, 1),
        (90, 120, (45, 40), -13.63, 76.37, 88.33, 0.005),  # the same, computed by hand
        # PHAK, 'Charting the course' (TAS and wind read, the rest from memory): GS 106, 3 degrees left
        (31, 115, (360, 10), -2.57, 28.43, 106.31, 0.01),
        # a tutorial's heading 045, drift 15 left, track 030, GS 77.6, worked backwards (read; computed)
        (30.07, 75, (135, 20), 14.93, 45, 77.6, 0.05),
        # 1940s training text: course 094, 10 right, TAS 165, GS 146, wind by slide rule 154 at 34 (read)
        (94, 165, (154, 34), 10, 104, 146, 1),
        (360, 90, (270, 10), -6.4, 353.6, 89.4, 0.05),  # a wind straight across, computed by hand
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
    """Course 360 at 100 kt: as fast across, faster across, as fast ahead (by hand)."""
    with pytest.raises(Refusal, match=words):
        solve(0, 100, *wind)


@pytest.mark.parametrize(("true", "magnetic"), [(360, 351), (90, 81), (180, 171), (270, 261), (60, 51)])
def test_variation_east_is_least(true: float, magnetic: float) -> None:
    """PHAK (read): variation 9 east. Through a leg in calm air, so that the sense is the program's own."""
    from briefgen.calc.legs import navigate
    from briefgen.model.route import Leg, Route, WindAloft

    leg = Leg("X", 3000, 100, 8, None, true, False, 10, WindAloft(3000, 0, 0), 9.0)
    found = navigate(Route("A", Spot(40, -80), (leg,), 2026.0)).legs[0]
    assert found.heading.known == pytest.approx(magnetic)
    assert found.magnetic_course_deg == pytest.approx(magnetic)


def test_the_compass_card_s_own_example() -> None:
    """PHAK (read): 'for 120 steer 114'. Between entries, and round past 360, in proportion: by hand."""
    card = [(0, 2), (120, 114), (240, 240)]
    assert compass_heading(120, card) == 114
    assert compass_heading(60, card) == pytest.approx(58)  # half of +2 and -6 is -2
    assert compass_heading(300, card) == pytest.approx(301)  # half of 0 and +2
    assert compass_heading(360, card) == 2
    assert compass_heading(359.9, [(0, 1), (180, 180)]) == pytest.approx(0.9, abs=0.01)
    assert compass_heading(5, [(10, 12), (190, 190)]) == pytest.approx(5 + 2 * 175 / 180)  # before the first entry

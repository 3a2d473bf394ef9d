"""Basic VFR weather minima against the rule's table: rows RG-03 to RG-07, at their edges.

14 CFR 91.155, 91.157 and 91.119, edition of 2024 and the texts beside it (read). What clouds an altitude needs is
computed by hand from them.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.calc.minima import (
    AIRSPACES,
    MINIMUM_HEIGHTS,
    TABLE,
    Minimum,
    above_station,
    cloud_base_estimate,
    minimum,
    need,
    special,
    surface_area,
)
from briefgen.errors import Refusal

QUICK = settings(deadline=None, derandomize=True, max_examples=150, database=None)
CLEAR = (None, None, None)
AWAY = (500, 1_000, 2_000)
HIGH = (1_000, 1_000, 5_280)  # 1 SM beside: a statute mile is 5,280 ft


def of(row: Minimum) -> tuple[float, tuple[float | None, ...]]:
    return row.visibility_sm, (row.below_ft, row.above_ft, row.beside_ft)


@pytest.mark.parametrize(
    ("airspace", "altitude", "ground", "night", "sight", "clouds"),
    [
        ("B", 5_000, 0, False, 3, CLEAR),
        ("B", 5_000, 0, True, 3, CLEAR),
        ("C", 3_000, 0, False, 3, AWAY),
        ("D", 2_000, 0, True, 3, AWAY),
        ("E", 9_999, 0, False, 3, AWAY),
        ("E", 10_000, 0, False, 5, HIGH),
        ("E", 9_999, 0, True, 3, AWAY),
        ("E", 10_000, 0, True, 5, HIGH),
        ("E", 10_500, 10_000, False, 5, HIGH),  # class E goes by the altitude alone
        ("G", 1_200, 0, False, 1, CLEAR),
        ("G", 1_201, 0, False, 1, AWAY),
        ("G", 1_200, 0, True, 3, AWAY),
        ("G", 1_201, 0, True, 3, AWAY),
        ("G", 9_999, 0, False, 1, AWAY),
        ("G", 9_999, 0, True, 3, AWAY),
        ("G", 10_000, 0, False, 5, HIGH),
        ("G", 10_000, 0, True, 5, HIGH),
        ("G", 10_200, 9_000, False, 1, CLEAR),  # at 1,200 above the surface, whatever the altitude
        ("G", 10_201, 9_000, False, 5, HIGH),
        ("G", 10_200, 9_000, True, 3, AWAY),
    ],
)
def test_each_row_of_the_rule_at_its_edges(
    airspace: str,
    altitude: float,
    ground: float,
    night: bool,
    sight: float,
    clouds: tuple[float | None, ...],
) -> None:
    """RG-03, 91.155(a) (read): 9,999 and 10,000 ft above the sea, 1,200 and 1,201 ft above the surface."""
    row = minimum(airspace, altitude, ground, night)
    assert of(row) == (sight, clouds)
    assert row.source.text == "14 CFR 91.155(a)"


def test_the_pattern_at_night_in_class_g_may_have_a_mile() -> None:
    """RG-04, 91.155(b)(2) (read): below 1,200 ft, within half a mile of the runway; else as ever."""
    found = minimum("G", 1_199, 0, True, pattern=True)
    assert of(found) == (1, CLEAR)
    assert found.source.text == "14 CFR 91.155(b)(2)"
    assert of(minimum("G", 1_200, 0, True, pattern=True)) == (3, AWAY)
    assert of(minimum("G", 1_201, 0, True, pattern=True)) == (3, AWAY)
    assert minimum("G", 800, 0, False, pattern=True) == minimum("G", 800, 0, False)
    assert minimum("D", 800, 0, True, pattern=True) == minimum("D", 800, 0, True)


@pytest.mark.parametrize("airspace", ["B", "C", "D", "E"])
def test_a_surface_area_asks_for_a_thousand_feet_and_three_miles(airspace: str) -> None:
    """RG-05, 91.155(c), (d) (read)."""
    ceiling, sight = surface_area(airspace)
    assert (ceiling.value, ceiling.unit, sight.value, sight.unit) == (1_000, "ft", 3, "SM")
    assert ceiling.steps[0].source.text == "14 CFR 91.155(c), (d)"


def test_class_g_has_no_surface_area_and_others_are_refused() -> None:
    assert [each.value for each in surface_area("G")] == [None, None]
    assert all("no surface area" in each.reason for each in surface_area("G"))
    for airspace in ("A", "F", ""):
        with pytest.raises(Refusal, match="surface area"):
            surface_area(airspace)


@pytest.mark.parametrize(
    ("altitude", "sun_down", "instrument", "allowed"),
    [
        (2_000, False, False, True),
        (9_999, False, False, True),
        (10_000, False, False, False),
        (10_000, False, True, False),
        (2_000, True, False, False),
        (2_000, None, False, False),  # not known is taken as down
        (2_000, True, True, True),
    ],
)
def test_special_vfr_is_a_mile_clear_of_clouds_while_the_sun_is_up(
    altitude: float, sun_down: bool | None, instrument: bool, allowed: bool
) -> None:
    """RG-06, 91.157 (read): below 10,000 ft; from sunset to sunrise only for instrument pilots and airplanes."""
    if allowed:
        found = special(altitude, sun_down, instrument=instrument)
        assert of(found) == (1, CLEAR)
        assert found.source.text == "14 CFR 91.157"
    else:
        with pytest.raises(Refusal):
            special(altitude, sun_down, instrument=instrument)


def test_the_lowest_heights_are_the_rule_s() -> None:
    """RG-07, 91.119 (read): 1,000 ft over what is within 2,000 ft; 500 ft; 500 ft from persons and things."""
    found = {each.over: (each.height_ft, each.within_ft) for each in MINIMUM_HEIGHTS}
    assert found == {
        "anywhere": (None, None),
        "congested areas": (1_000, 2_000),
        "other areas": (500, None),
        "open water and sparsely populated areas": (None, 500),
    }
    assert {each.source.text for each in MINIMUM_HEIGHTS} == {"14 CFR 91.119"}


@pytest.mark.parametrize(
    ("airspace", "altitude", "night", "base", "station", "above"),
    [
        ("E", 4_500, False, 5_000, 870, 4_130),  # 500 below; less the station's elevation (by hand)
        ("E", 10_500, False, 11_500, 870, 10_630),  # 1,000 below
        ("G", 1_870, False, 1_870, 870, 1_000),  # clear of clouds, 1,000 ft up
        ("G", 1_870, True, 2_370, 870, 1_500),
        ("B", 4_500, False, 4_500, 870, 3_630),
        ("G", 1_870, False, 1_870, 2_500, 0),  # a station on a hill above it
    ],
)
def test_an_altitude_needs_clouds_so_high(
    airspace: str, altitude: float, night: bool, base: float, station: float, above: float
) -> None:
    """By hand from RG-03: the altitude, and the distance below cloud where the rule asks for one."""
    row = minimum(airspace, altitude, 870, night)
    found = need(row, altitude)
    assert (found.cloud_base.value, found.cloud_base.unit) == (base, "ft")
    assert (found.visibility.value, found.visibility.unit) == (row.visibility_sm, "SM")
    assert found.cloud_base.steps[-1].after == base
    assert found.cloud_base.steps[-1].source == row.source
    report = above_station(found.cloud_base, station)
    assert report.value == above
    assert len(report.steps) == 3


@pytest.mark.parametrize(
    ("airspace", "altitude", "words"),
    [
        ("A", 18_000, "class A"),
        ("F", 3_000, "no airspace"),
        ("g", 3_000, "no airspace"),
        ("E", 799, "below the ground"),
    ],
)
def test_what_has_no_row_is_refused(airspace: str, altitude: float, words: str) -> None:
    """RG-03 (read): class A is not for visual rules; the United States has no class F (from memory)."""
    with pytest.raises(Refusal, match=words):
        minimum(airspace, altitude, 800, night=False)


def test_the_words_are_those_of_the_row() -> None:
    """RG-03 (read)."""
    assert minimum("G", 500, 0, False).words == "1\u00a0SM, clear of clouds"
    assert minimum("E", 4_500, 0, False).words == (
        "3\u00a0SM, 500\u00a0ft below, 1,000\u00a0ft above, 2,000\u00a0ft beside cloud"
    )
    assert minimum("E", 11_500, 0, False).words == (
        "5\u00a0SM, 1,000\u00a0ft below, 1,000\u00a0ft above, 1\u00a0SM beside cloud"
    )
    assert len({row.where for row in TABLE}) == len(TABLE) == 12


ALTITUDES = st.integers(0, 17_500)


def asks(row: Minimum) -> tuple[float, ...]:
    return row.visibility_sm, row.below_ft or 0, row.above_ft or 0, row.beside_ft or 0


@QUICK
@given(st.sampled_from(AIRSPACES[1:]), ALTITUDES, st.integers(0, 10_000))
def test_night_higher_and_unknown_never_ask_for_less(airspace: str, altitude: int, ground: int) -> None:
    """Property: what is not known is taken as night, and night, or lower ground, never asks for less."""
    altitude = max(altitude, ground)
    day, night = (minimum(airspace, altitude, ground, each) for each in (False, True))
    assert minimum(airspace, altitude, ground, None) == night
    assert all(a <= b for a, b in zip(asks(day), asks(night), strict=True))
    for dark in (False, True):
        here, lower = minimum(airspace, altitude, ground, dark), minimum(airspace, altitude, 0, dark)
        assert all(a <= b for a, b in zip(asks(here), asks(lower), strict=True))
    assert need(night, altitude).cloud_base.known >= need(day, altitude).cloud_base.known >= altitude


@pytest.mark.parametrize(
    ("fahrenheit", "dew_point", "feet"),
    [(82, 38, 10_000), (70, 48, 5_000)],
)
def test_the_base_of_cumulus_is_that_of_the_question_bank(fahrenheit: float, dew_point: float, feet: float) -> None:
    """FAA question bank (from memory): 82 and 38 F, 10,000 ft above the surface; 70 and 48 F, 5,000 ft.

    Those go by 4.4 F for each 1,000 ft, this by 2.5 degC, which is 4.5 F: 2.3 % lower.
    """
    found = cloud_base_estimate((fahrenheit - 32) / 1.8, (dew_point - 32) / 1.8)
    assert found.value == pytest.approx(feet, rel=0.025)
    assert found.known <= feet
    assert found.estimate
    assert found.steps[0].source.known == "from memory"


def test_air_that_is_saturated_has_its_cloud_at_the_ground_and_no_dew_point_is_above_the_temperature() -> None:
    assert cloud_base_estimate(12.0, 12.0).value == 0
    with pytest.raises(Refusal) as caught:
        cloud_base_estimate(12.0, 12.1)
    assert caught.value.about == "dew_point_degC"

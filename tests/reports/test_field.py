"""What counts at one field: of a report and a forecast the worst, and nothing that is not known.

Source: the meaning of BECMG, TEMPO and PROB is WMO-No. 306, FM 51 (read). That the worst of all that overlaps
counts, and that a report counts for 90 minutes, are design choices, worked by hand from the texts.
"""

from __future__ import annotations

from datetime import timedelta
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading import NEAR, forecast, on, report

from briefgen.reports.field import OLDEST_MIN, AtField, at_field, kept

BECOMING = "11007G11KT P6SM SKC BECMG 0920/0922 16010G18KT 5SM BKN030"


def test_before_a_change_begins_only_what_was_counts() -> None:
    found = at_field(None, forecast(BECOMING), on(9, 19), on(9, 19))
    assert [each.text for each in found.winds] == ["110 true at 7 gust 11 kt"]
    assert found.ceiling.value == inf
    assert found.visibility.value == 6


def test_while_a_change_goes_on_the_worse_of_both_counts_and_says_so() -> None:
    found = at_field(None, forecast(BECOMING), on(9, 21), on(9, 21))
    assert [each.text for each in found.winds] == ["160 true at 10 gust 18 kt", "110 true at 7 gust 11 kt"]
    assert found.ceiling.value == 3000
    assert found.ceiling.words.startswith("3,000\u00a0ft: BKN030 (becoming, ")
    assert found.visibility.value == 5


def test_when_a_change_is_complete_only_what_will_be_counts() -> None:
    found = at_field(None, forecast(BECOMING), on(9, 23), on(9, 23))
    assert [each.text for each in found.winds] == ["160 true at 10 gust 18 kt"]
    assert found.ceiling.value == 3000
    assert "becoming" not in found.ceiling.words


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        ("00000KT", "calm"),
        ("VRB04KT", "variable at 4 kt"),
        ("23006KT 200V270", "230 true varying 200 to 270 at 6 kt"),
        ("36010G15KT", "360 true at 10 gust 15 kt"),
    ],
)
def test_a_wind_is_said_as_a_trip_file_says_it(sent: str, words: str) -> None:
    """Source: the form of a wind in schemas/trip.schema.json."""
    found = at_field(report(f"{sent} 10SM SKC 20/10 A3000"), None, NEAR, NEAR)
    assert [each.text for each in found.winds] == [words]


def test_a_report_alone_counts_while_it_is_fresh_and_gives_the_air() -> None:
    found = at_field(report("15005KT 10SM OVC020 20/10 A2992"), None, NEAR, NEAR)  # made 5 minutes before
    assert (found.temperature_degC, found.dew_point_degC) == (20, 10)
    assert found.altimeter_hPa == pytest.approx(1013.2, abs=0.05)  # 29.92 inHg: standard, 1013.25 hPa
    assert (found.ceiling.value, found.visibility.value) == (2000, 10)


def test_a_report_without_a_setting_gives_none() -> None:
    assert at_field(report("15005KT 10SM SKC 20/10"), None, NEAR, NEAR).altimeter_hPa is None


def test_a_report_that_is_too_old_is_left_out_with_the_reason() -> None:
    later = NEAR + timedelta(minutes=OLDEST_MIN)  # 95 minutes after it was made
    found = at_field(report("15005KT 10SM OVC020 20/10 A2992"), None, later, later)
    assert (found.winds, found.ceiling.value, found.visibility.value) == ((), None, None)
    assert (found.temperature_degC, found.altimeter_hPa) == (None, None)
    assert "95\u00a0min old" in found.no_air
    assert "95\u00a0min old" in found.no_wind
    assert found.no_air in kept(found)


def test_a_report_alone_says_nothing_of_a_window_that_outlasts_it() -> None:
    found = at_field(report("15005KT 10SM OVC020 20/10 A2992"), None, NEAR, NEAR + timedelta(hours=3))
    assert found.ceiling.value is None
    assert found.ceiling.reason == "there is no forecast"
    assert found.no_wind == "there is no forecast"


def test_less_than_a_visibility_counts_as_nothing_and_clear_to_a_height_as_that_height() -> None:
    """How much less is not said; CLR is of an automated station, to 12,000 ft (FMH-1 9.5.4, read)."""
    found = at_field(report("15005KT M1/4SM CLR 20/10 A2992"), None, NEAR, NEAR)
    assert found.visibility.value == 0
    assert found.ceiling.value == 12_000
    assert found.ceiling.words.startswith("none below 12,000\u00a0ft")


def test_a_height_that_was_not_observed_leaves_the_ceiling_unknown() -> None:
    found = at_field(report("15005KT 10SM OVC/// 20/10 A2992"), None, NEAR, NEAR)
    assert found.ceiling.value is None
    assert found.ceiling.reason


def test_thunderstorms_are_told_with_their_time_and_past_ones_are_not() -> None:
    found = at_field(
        report("15005KT 10SM RETS SKC 20/10 A2992"),
        forecast("15005KT P6SM SKC TEMPO 0919/0923 3SM TSRA BKN020CB"),
        on(9, 20),
        on(9, 20),
    )
    assert [each.kind for each in found.hazards] == ["thunderstorm", "storm cloud"]
    assert found.hazards[0].words == "thunderstorm with moderate rain (temporarily, 19:00Z to 23:00Z on the 9th)"


@pytest.mark.parametrize(
    ("body", "kind", "words"),
    [
        ("15005KT 10SM -FZRA SKC", "freezing precipitation", "light freezing rain"),  # GR-06
        ("15005KT 10SM -FZDZ SKC", "freezing precipitation", "light freezing drizzle"),  # GR-06
        ("15005KT 10SM PL SKC", "freezing precipitation", "moderate ice pellets"),
        ("15005KT 10SM SCT015TCU", "storm cloud", "towering cumulus at 1,500\u00a0ft"),  # GR-09
        ("15005KT 10SM OVC010CB", "storm cloud", "cumulonimbus at 1,000\u00a0ft"),  # MT-01
        ("15005KT 10SM //////CB", "storm cloud", "cumulonimbus"),
        ("15005KT 10SM +FC SKC", "funnel cloud", "tornado or waterspout"),  # GR-06
        ("15005KT 10SM SHGR SKC", "hail", "showers of hail"),
        ("15005KT 10SM SHGS SKC", "hail", "showers of small hail or snow pellets"),  # GR-06
        ("15005KT 1/4SM FG VV001", "fog", "fog"),
        ("15005KT 10SM VCFG SKC", "fog", "fog nearby, not at the field"),
        ("15005KT 10SM SKC WS R09", "wind shear", "WS R09"),
    ],
)
def test_each_danger_is_told_as_a_thunderstorm_is(body: str, kind: str, words: str) -> None:
    found = at_field(report(f"{body} 20/10 A2992"), None, NEAR, NEAR)
    assert [each.kind for each in found.hazards] == [kind]
    assert found.hazards[0].words.startswith(words)


def test_wind_shear_of_a_forecast_counts_in_its_period_alone() -> None:
    """MT-02: WS010/31022KT stands in the first period, and FM091930 supersedes it (GR-20)."""
    sent = forecast("15005KT 5SM HZ FEW020 WS010/31022KT FM091930 30015G25KT 3SM SHRA OVC015")
    assert [each.kind for each in at_field(None, sent, on(9, 19), on(9, 19)).hazards] == ["wind shear"]
    assert at_field(None, sent, on(9, 20), on(9, 20)).hazards == ()


def test_a_danger_that_is_past_is_none() -> None:
    assert at_field(report("15005KT 10SM REFZRA SKC 20/10 A2992"), None, NEAR, NEAR).hazards == ()


GROUPS = st.builds(
    lambda degrees, speed, more, sight, height: (
        f"{degrees:02d}0{speed:02d}G{speed + more:02d}KT {sight}SM BKN{height:03d}"
    ),
    st.integers(1, 36),
    st.integers(3, 30),
    st.integers(1, 20),
    st.integers(1, 6),
    st.integers(2, 90),
)


def known(found: AtField) -> tuple[float, float]:
    assert found.ceiling.value is not None
    assert found.visibility.value is not None
    return found.ceiling.value, found.visibility.value


@given(GROUPS, GROUPS, st.sampled_from(["TEMPO 0919/0923", "PROB30 0919/0923", "BECMG 0919/0921"]))
def test_a_forecast_that_says_more_never_makes_the_weather_better(first: str, more: str, change: str) -> None:
    """A change adds to what counts while it goes on, and takes nothing away (by the design choice above)."""
    alone = at_field(None, forecast(first), on(9, 20), on(9, 20))
    both = at_field(None, forecast(f"{first} {change} {more}"), on(9, 20), on(9, 20))
    assert all(worse <= better for worse, better in zip(known(both), known(alone), strict=True))
    assert set(alone.winds) <= set(both.winds)

"""What to expect in a window: the worst of all that overlaps it, what is missing, and what was observed.

Source: the meaning of FM, BECMG, TEMPO and PROB is WMO-No. 306, FM 51 (51.8, 51.9; read). That the worst counts, of
a report that is not too old too, is a design choice: worked by hand from the texts.
"""

from __future__ import annotations

import pytest
from reading import NEAR, forecast, on, report

from briefgen.errors import Refusal
from briefgen.reports import model
from briefgen.reports.metar import read_metar
from briefgen.reports.model import Ceiling, Missing
from briefgen.reports.outlook import age_min, at_departure, expected

FINE = "15005KT P6SM SKC"


def test_every_wind_counts_the_strongest_gust_first_and_then_the_steadiest() -> None:
    said = forecast(
        "15010KT P6SM SKC TEMPO 0919/0923 15018G25KT PROB30 0919/0923 20020G25KT BECMG 0920/0922 30012KT"
    )
    found = expected(said, on(9, 21), on(9, 21))
    assert [(each.text, each.status) for each in found.winds] == [
        ("20020G25KT", model.PROBABLE[30]),
        ("15018G25KT", model.TEMPORARY),
        ("30012KT", model.BECOMING),
        ("15010KT", model.PREVAILING),
    ]


def test_less_than_a_visibility_is_worse_than_it_and_more_than_it_is_better() -> None:
    said = forecast("15010KT P1/4SM SKC TEMPO 0919/0923 1/4SM PROB30 0919/0923 M1/4SM")
    found = expected(said, on(9, 21), on(9, 21))
    assert [each.text for each in found.visibilities] == ["M1/4SM", "1/4SM", "P1/4SM"]


def test_no_ceiling_that_is_known_less_far_up_is_the_worse_one() -> None:
    found = expected(forecast("15010KT CAVOK BECMG 0920/0922 P6SM SKC"), on(9, 21), on(9, 21))
    assert [each.value for each in found.ceilings] == [Ceiling(None, "CAVOK", 5000), Ceiling(None, "SKC")]


def test_of_two_ways_to_say_that_there_is_no_ceiling_the_one_known_less_far_up_counts() -> None:
    found = at_departure(report("15005KT 10SM SKC CLR"), None, NEAR, NEAR, 60)
    assert [each.value for each in found.ceilings] == [Ceiling(None, "CLR", 12_000)]


def test_cavok_ends_weather_and_cloud() -> None:
    found = expected(forecast("15010KT 1SM BR OVC005 BECMG 0920/0922 CAVOK"), on(10, 0), on(10, 1))
    assert [each.text for each in found.visibilities] == ["CAVOK"]
    assert [each.text for each in found.ceilings] == ["CAVOK"]
    assert not found.weather
    assert not found.missing


def test_a_change_after_cavok_leaves_of_it_what_the_change_does_not_name() -> None:
    found = expected(forecast("15010KT CAVOK BECMG 0920/0922 4000 BR"), on(10, 0), on(10, 1))
    assert [each.text for each in found.visibilities] == ["4000"]
    assert [each.text for each in found.ceilings] == ["CAVOK"]
    assert [each.text for each in found.weather] == ["BR"]


def test_of_two_changes_that_overlap_what_was_counts_until_the_first_is_complete() -> None:
    said = forecast("15010KT 1SM SKC BECMG 0920/0923 2SM BECMG 0921/0924 3SM")
    assert [each.text for each in expected(said, on(9, 22), on(9, 22)).visibilities] == ["1SM", "2SM", "3SM"]
    assert [each.text for each in expected(said, on(9, 23), on(9, 23)).visibilities] == ["2SM", "3SM"]
    assert [each.text for each in expected(said, on(10, 0), on(10, 0)).visibilities] == ["3SM"]


def test_a_new_start_ends_a_change_that_is_not_complete() -> None:
    said = forecast("15010KT 1SM SKC BECMG 0920/0923 2SM FM092100 18010KT 5SM SKC")
    assert [each.text for each in expected(said, on(9, 20, 30), on(9, 20, 30)).visibilities] == ["1SM", "2SM"]
    assert [each.text for each in expected(said, on(9, 22), on(9, 22)).visibilities] == ["5SM"]


def test_temporary_weather_goes_on_to_its_own_end_over_a_new_start() -> None:
    said = forecast(f"{FINE} TEMPO 0919/0923 1SM FM092100 18010KT 5SM SKC")
    assert [each.text for each in expected(said, on(9, 22), on(9, 22)).visibilities] == ["1SM", "5SM"]
    assert [each.text for each in expected(said, on(9, 23), on(9, 23)).visibilities] == ["5SM"]


def test_changes_count_by_their_times_in_whatever_order_they_were_sent() -> None:
    said = forecast("15010KT 1SM SKC FM100300 18010KT 5SM SKC FM092100 18010KT 3SM SKC")
    assert [each.text for each in expected(said, on(10, 0), on(10, 0)).visibilities] == ["3SM"]
    assert [each.text for each in expected(said, on(10, 4), on(10, 4)).visibilities] == ["5SM"]


@pytest.mark.parametrize(
    "heading",
    [
        "TEMPO 0922/0920",
        "TEMPO 0822/0902",
        "BECMG 1022/1102",
        "FM081900",
        "FM110100",
        "FM102561",
        "TEMPO 3222/0920",
    ],
)
def test_a_change_whose_times_do_not_fit_counts_throughout_and_is_doubted(heading: str) -> None:
    for hour in (18, 21, 23):
        found = expected(forecast(f"{FINE} {heading} 18025KT 1SM"), on(9, hour), on(9, hour))
        assert [(each.text, each.status) for each in found.visibilities] == [
            ("1SM", model.UNCLEAR),
            ("P6SM", model.PREVAILING),
        ]
        assert found.doubts == (f"{heading}: its times do not fit the forecast, so it counts throughout",)


def test_the_older_form_of_a_start_that_the_validity_has_twice_counts_throughout() -> None:
    found = expected(forecast(f"{FINE} FM2000 18025KT 1SM OVC005"), on(10, 12), on(10, 12))
    assert [each.status for each in found.visibilities] == [model.UNCLEAR, model.PREVAILING]


def test_a_window_beyond_the_validity_is_missing_for_that_part_and_not_filled_in() -> None:
    said = forecast(FINE)
    over = expected(said, on(10, 23), on(11, 1))
    assert over.missing == (Missing("all", "the forecast ends at 00:00Z on the 11th"),)
    assert over.visibility
    after = expected(said, on(11, 0), on(11, 0))
    assert after.missing == over.missing
    assert (after.wind, after.visibility, after.ceiling) == (None, None, None)
    before = expected(said, on(9, 16), on(9, 17))
    assert before.missing == (Missing("all", "the forecast begins at 18:00Z on the 9th"),)
    assert before.wind is None
    assert expected(said, on(9, 18), on(11, 0)).missing == ()


def test_what_prevails_and_lacks_a_quantity_says_so() -> None:
    found = expected(forecast(f"{FINE} FM092000 BR TEMPO 0920/0922 1SM"), on(9, 20), on(9, 21))
    assert found.missing == (
        Missing("ceiling", "from 20:00Z on the 9th: no cloud is given"),
        Missing("wind", "from 20:00Z on the 9th: no wind is given"),
        Missing("visibility", "from 20:00Z on the 9th: no visibility is given"),
    )
    assert [each.text for each in found.visibilities] == ["1SM"]


def test_a_ceiling_whose_height_was_not_observed_is_missing_and_not_none() -> None:
    found = at_departure(report("15005KT 10SM FEW010 BKN///"), None, NEAR, NEAR, 60)
    assert not found.ceilings
    assert Missing("ceiling", "observed at 19:55Z on the 9th: BKN/// gives no height of a ceiling") in found.missing


def test_what_an_automated_station_did_not_observe_is_missing() -> None:
    found = at_departure(report("AUTO /////KT //// // //////"), None, NEAR, NEAR, 60)
    assert {each.quantity for each in found.missing} == {"wind", "visibility", "weather", "ceiling", "all"}
    assert not found.weather


def test_weather_that_is_not_given_is_none_and_not_missing() -> None:
    assert not expected(forecast(FINE), on(9, 20), on(9, 20)).missing


def test_a_known_ceiling_beside_one_of_unknown_height_is_kept_with_the_reason() -> None:
    found = at_departure(report("15005KT 10SM OVC010 BKN///"), None, NEAR, NEAR, 60)
    assert [each.value.height_ft for each in found.ceilings] == [1000]
    assert any(each.quantity == "ceiling" for each in found.missing)


def test_shear_and_clouds_of_a_period_are_kept() -> None:
    found = expected(forecast("15005KT P6SM SCT030TCU WS010/31022KT"), on(9, 20), on(9, 20))
    assert [each.text for each in found.shears] == ["WS010/31022KT"]
    assert [each.value.type for each in found.clouds] == ["towering cumulus"]


def test_what_was_not_decoded_is_a_doubt_of_every_period_it_may_belong_to() -> None:
    found = expected(forecast("15005KT P6SM SKC BKNO08"), on(10, 3), on(10, 3))
    assert found.doubts == (
        "BKNO08 and what follows may belong to a change that was lost, so it counts throughout",
        "from 18:00Z on the 9th: BKNO08 was not decoded",
    )


def test_a_doubt_of_what_prevailed_stays_when_a_change_is_laid_over_it() -> None:
    found = expected(forecast("15005KT P6SM SKC ???? BECMG 0920/0922 1SM !!!!"), on(10, 3), on(10, 3))
    assert [doubt for doubt in found.doubts if "was not decoded" in doubt] == [
        "from 18:00Z on the 9th: ???? was not decoded",
        "changing 20:00Z to 22:00Z on the 9th, complete by its end: !!!! was not decoded",
    ]


@pytest.mark.parametrize("work", [expected, lambda said, *window: at_departure(None, said, *window, 60)])
def test_a_window_that_ends_before_it_begins_is_refused(work: object) -> None:
    with pytest.raises(
        Refusal, match="the window ends at 19:00Z on the 9th, before it begins at 20:00Z on the 9th"
    ):
        work(forecast(FINE), on(9, 20), on(9, 19))  # type: ignore[operator]


def test_the_age_of_a_report_is_in_minutes_and_never_below_nil() -> None:
    said = report("15005KT")
    assert age_min(said, on(9, 21, 25)) == 90
    assert age_min(said, on(9, 19, 55)) == 0
    with pytest.raises(Refusal, match="made at 19:55Z on the 9th, which is after 19:54Z on the 9th"):
        age_min(said, on(9, 19, 54))
    assert age_min(forecast(FINE), on(9, 18)) == 30


def test_of_report_and_forecast_the_worse_counts_quantity_by_quantity() -> None:
    found = at_departure(
        report("20012G22KT 3SM BR BKN020"), forecast("15015KT P6SM SCT010 OVC015"), NEAR, on(9, 20, 30), 60
    )
    assert [(each.text, each.status) for each in found.winds] == [
        ("20012G22KT", model.OBSERVED),
        ("15015KT", model.PREVAILING),
    ]
    assert found.visibility
    assert (found.visibility.text, found.visibility.where) == ("3SM", "observed at 19:55Z on the 9th")
    assert found.ceiling
    assert (found.ceiling.text, found.ceiling.where) == ("OVC015", "from 18:00Z on the 9th")
    assert [each.text for each in found.weather] == ["BR"]
    assert not found.left_out
    assert not found.missing


def test_a_report_that_is_too_old_does_not_count_and_says_so() -> None:
    said = report("20040KT 1SM OVC002")
    assert at_departure(said, forecast(FINE), on(9, 20, 55), on(9, 21), 60).wind
    found = at_departure(said, forecast(FINE), on(9, 20, 56), on(9, 21), 60)
    assert [each.text for each in found.visibilities] == ["P6SM"]
    assert found.left_out == ("the report of 19:55Z on the 9th is then 61\u00a0min old, more than 60\u00a0min",)


def test_a_report_of_the_future_is_a_fault() -> None:
    with pytest.raises(Refusal, match="which is after"):
        at_departure(report("20040KT"), None, on(9, 19), on(9, 20), 60)


def test_without_a_report_or_a_forecast_that_is_said() -> None:
    found = at_departure(None, forecast(FINE), on(9, 19), on(9, 20), 60)
    assert found.left_out == ("there is no report",)
    found = at_departure(report(FINE), None, NEAR, NEAR, 60)
    assert found.missing == (Missing("all", "there is no forecast"),)
    assert [each.text for each in found.visibilities] == ["P6SM"]


def test_the_trend_of_a_report_counts_for_two_hours() -> None:
    said = report("15005KT 9999 SKC 18/16 Q1013 TEMPO 3000 TSRA BECMG 24020KT NSW")
    assert [(period.status, period.from_, period.to) for period in said.trend] == [
        (model.TEMPORARY, on(9, 19, 55), on(9, 21, 55)),
        (model.BECOMING, on(9, 19, 55), on(9, 21, 55)),
    ]
    found = at_departure(said, None, NEAR, NEAR, 60)
    assert [each.text for each in found.visibilities] == ["3000", "9999"]
    assert [each.text for each in found.winds] == ["24020KT", "15005KT"]
    assert [each.text for each in found.weather] == ["TSRA"]
    later = at_departure(said, None, on(9, 21, 55), on(9, 22), 180)
    assert [each.text for each in later.visibilities] == ["9999"]


def test_the_contradictions_of_a_report_are_doubts() -> None:
    said = read_metar("METAR XAAA 091955Z 15005KT 10SM SKC 18/16 A2992 A2892", NEAR)
    assert at_departure(said, None, NEAR, NEAR, 60).doubts == (
        "observed at 19:55Z on the 9th: two different altimeter settings are given",
    )

"""Forms of groups beside those of the published rows: what can be read, and what no report can mean.

Sources: FMH-1 chapter 12 and WMO-No. 306, FM 15 (read; see the published rows for the edition); where a line says
'memory', that form is from memory.
"""

from __future__ import annotations

import pytest
from reading import MT_01, MT_02, NEAR, forecast, group, on, report, tokens, words

from briefgen.errors import Refusal
from briefgen.reports import model
from briefgen.reports.metar import ceiling_of, read_metar, visibility_of, wind_of
from briefgen.reports.model import Cloud, RunwayRange, Shear, Weather, not_decoded
from briefgen.reports.taf import read_taf


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("MIFG", "shallow fog"),
        ("BCFG", "patches of fog"),
        ("PRFG", "fog over part of the field"),
        ("DRSN", "low drifting snow"),
        ("BLSN", "blowing snow"),
        ("VCTS", "thunderstorm nearby, not at the field"),
        ("VCFG", "fog nearby, not at the field"),
        ("FC", "funnel cloud"),
        ("+DS", "heavy dust storm"),
        ("GR", "hail"),
        ("SHGR", "showers of hail"),
        ("RASN", "moderate rain and snow"),
        ("TS", "thunderstorm"),
        ("RERA", "earlier, not now: rain"),
        ("RETSRA", "earlier, not now: thunderstorm with rain"),
        ("UP", "moderate precipitation of unknown kind"),
        ("//", "weather not observed"),
        ("0000", "visibility less than 50 m"),
        ("0800", "visibility 800 m"),
        ("1500NE", "visibility to the northeast 1,500 m"),
        ("4000NDV", "visibility 4,000 m"),
        ("////", "visibility not observed"),
        ("////SM", "visibility not observed"),
        ("/////KT", "wind not observed"),
        ("NSC", "no cloud below 5,000 ft (or the highest minimum sector altitude) and no cumulonimbus"),
        ("NCD", "no cloud detected, by an automated station"),
        ("//////CB", "cumulonimbus: amount or height not observed"),
        ("//////", "cloud: amount or height not observed"),
        ("BKN///", "broken clouds (5 to 7 eighths) at height not observed"),
        ("VV///", "sky hidden, vertical visibility height not observed"),
        ("A////", "altimeter not observed"),
        ("/////", "temperature not observed, dew point not observed"),
        ("R28L/////FT", "visual range along a runway not observed"),
        ("R14R/0800N", "visual range along runway 14R: 800 m, steady"),
        ("R27/P6000FT/U", "visual range along runway 27: more than 6,000 ft, rising"),
        ("R27/M0600VP6000FT/D", "visual range along runway 27: less than 600 ft to more than 6,000 ft, falling"),
        ("WS R28L", "wind shear on runway 28L"),
        ("WS ALL RWY", "wind shear on all runways"),
        ("M00/M00", "temperature 0 °C (from half a degree below), dew point 0 °C"),
        ("NOSIG", "no significant change in the two hours after the report"),
        ("CCA", "corrected"),
    ],
)
def test_a_group_of_a_body_in_words_FMH_12_6_and_WMO_15_read(text: str, said: str) -> None:
    assert words(text) == said


@pytest.mark.parametrize(
    "text",
    [
        "22515KT",  # no ten of degrees
        "37010KT",
        "00010KT",  # a wind has a direction
        "09000KT",  # a calm has none
        "27020G15KT",  # a gust below the wind
        "270P98KT",
        "270012KT",  # three digits are of 100 at least
        "09070G140MPS",  # more than was ever measured
        "1/3SM",
        "5/4SM",
        "1234",  # no step of 50 m
        "MIRA",
        "SH",
        "-FG",
        "-FC",
        "RARA",
        "RABR",
        "SHTS",
        "TSRASNGRGS",
        "A1234",
        "Q1234",
        "///",
        "R28L/2600V0600FT",
        "WS010/35522KT",
        "WS010/31099KTS",
    ],
)
def test_a_group_that_no_report_can_mean_is_not_decoded(text: str) -> None:
    said = report(f"10SM {text}") if text != "1234" else report(f"{text} SKC")
    if text == "///":
        assert group(said, text).value == Cloud("", None, "", None, "///")
    else:
        assert not_decoded(said.groups) == (text,)


@pytest.mark.parametrize("text", ["VRB03KT 180V240", "21010KT 180V370", "21010KT 18OV240"])
def test_a_range_that_cannot_be_leaves_the_wind_and_is_not_decoded(text: str) -> None:
    said = report(text)
    found = wind_of(said)
    assert found
    assert found.wind.between_deg is None
    assert not_decoded(said.groups) == (text.split()[1],)


def test_speeds_in_metres_per_second_and_kilometres_an_hour_become_knots() -> None:
    """10 m/s is 19.438 kt and 37.04 km/h is 20 kt, by the nautical mile of 1,852 m (exact)."""
    for text, steady_kt in (("05010MPS", 19.4384), ("050100KMH", 53.9957)):
        found = wind_of(report(text))
        assert found
        assert found.wind.steady_kt == pytest.approx(steady_kt, abs=1e-3)


def test_the_least_visibility_in_metres_is_less_than_fifty_of_them() -> None:
    """50 m are 0.031069 SM by the mile of 1,609.344 m (exact); 0000 is less than that (WMO 15.6, read)."""
    found = visibility_of(report("0000"))
    assert found
    assert found.less_than
    assert found.distance_SM == pytest.approx(0.031069, abs=1e-6)


def test_a_wind_of_three_digits_in_knots_up_to_250_is_read_and_no_stronger_one() -> None:
    assert wind_of(report("090250KT"))
    assert not_decoded(report("090251KT").groups) == ("090251KT",)


def test_a_runway_visual_range_in_metres_becomes_feet() -> None:
    """800 m are 2,624.67 ft by the foot of 0.3048 m (exact)."""
    value = group(report("R14R/0800"), "R14R/0800").value
    assert isinstance(value, RunwayRange)
    assert value.least_ft == pytest.approx(2624.67, abs=0.01)


def test_shear_on_a_runway_has_no_height() -> None:
    assert group(report("WS R28L"), "WS R28L").value == Shear(None, None)
    assert words("10SM") == "visibility 10 SM"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("AO1", "automated station without a precipitation sensor"),
        ("AO2", "automated station with a precipitation sensor"),
        ("PRESRR", "pressure rising rapidly"),
        ("T0026", "temperature 2.6 °C, dew point not observed"),
        ("T10001000", "temperature 0.0 °C, dew point 0.0 °C"),
        ("57012", "pressure changed by \u22121.2 hPa in three hours (tendency 7)"),
        ("50000", "pressure changed by 0.0 hPa in three hours (tendency 0)"),
        ("6////", "amount of precipitation not known"),
        ("VIS 1/2V2 1/2", "visibility varying from 1/2 SM to 2 1/2 SM"),
        ("SCT V BKN", "the layer varies between scattered and broken"),
        ("FEW014 V SCT", "the layer at 1,400 ft varies between few and scattered"),
        ("FZRAB12", "freezing rain began at minute 12 of the hour"),
        ("LTG DSNT W", "lightning, distant, to the west"),  # memory
        ("FRQ LTGICCG OHD", "frequent lightning, in cloud, cloud to ground, overhead"),  # memory
        ("OCNL LTGIC NE-S", "occasional lightning, in cloud, to the northeast to south"),  # memory
        ("LTG DSNT N AND SE-SW", "lightning, distant, to the north and southeast to southwest"),  # memory
        ("PNO", "amount of precipitation: not working or not given"),  # memory
        ("NOSPECI", "this station makes no special reports"),  # memory
        ("$", "the station's equipment asks for maintenance"),  # memory
    ],
)
def test_a_remark_in_words_FMH_12_7_read(text: str, said: str) -> None:
    assert words("10SM", text) == said


@pytest.mark.parametrize(
    "text",
    [
        "PK WND 28045/75",
        "PK WND 28545/15",
        "WSHFT 2561",
        "TWR VIS 1/3",
        "VIS 2V1",
        "VIS 1/3V2",
        "CIG 010V005",
        "RAB75",
        "MIB05",
    ],
)
def test_a_remark_that_cannot_be_is_not_decoded_token_by_token(text: str) -> None:
    said = report("10SM", text)
    assert list(not_decoded(said.groups)) == text.split()


def test_a_report_without_a_group_has_no_value_for_it() -> None:
    said = report("NOSIG")
    assert (wind_of(said), visibility_of(said), said.temperature_degC, said.altimeter) == (None, None, None, None)
    assert ceiling_of(said) == (None, "no cloud is given")


def test_a_special_report_says_so() -> None:
    assert read_metar("SPECI XAAA 091955Z 15005KT", NEAR).special


@pytest.mark.parametrize(
    ("body", "remarks", "best", "doubt"),
    [
        ("18/16", "T01830155", (18.3, 15.5), ""),
        (
            "18/16",
            "T02830155",
            (18, 15.5),
            "the temperature in tenths does not agree with the temperature in whole",
        ),
        ("18/16 17/16", "", (None, None), "two different temperatures are given"),
        ("18/16 18/16", "", (18, 16), ""),
        ("18/16", "T01830155 T01810155", (18, 16), "two different temperatures in tenths are given"),
        ("10SM", "T01830155", (18.3, 15.5), ""),
    ],
)
def test_tenths_count_where_they_agree(
    body: str, remarks: str, best: tuple[float | None, float | None], doubt: str
) -> None:
    """Whole degrees are the tenths, rounded (FMH 12.6.10, read); what counts where they differ: a design choice."""
    said = report(body, remarks)
    assert (said.temperature_degC, said.dew_point_degC) == best
    assert [each.startswith(doubt) for each in said.doubts] == ([True] if doubt else [])


def test_a_setting_in_both_units_that_agree_is_the_first() -> None:
    """29.92 inHg is 1013.2 hPa, which is given as 1013 (WMO 15.12, read)."""
    said = report("Q1013 A2992")
    assert said.altimeter
    assert said.altimeter.given == "1013\u00a0hPa"
    assert not said.doubts


def test_the_times_of_a_trend_are_read_in_words_memory() -> None:
    said = report("15005KT TEMPO FM2000 TL2100 AT2030 3000")
    assert [each.words for each in said.trend[0].groups[:3]] == ["from 20:00Z", "until 21:00Z", "at 20:30Z"]
    assert tokens(said)[-5:] == ["TEMPO", "FM2000", "TL2100", "AT2030", "3000"]


def test_the_end_sign_and_small_letters_change_nothing() -> None:
    for text in (MT_01 + "=", MT_01 + " =", MT_01.lower(), MT_01.replace(" ", "\n")):
        said = read_metar(text, NEAR)
        assert tokens(said) == text.split()
        assert not not_decoded(said.groups)
        assert (said.station, said.temperature_degC) == ("XPIT", 18.2)
    assert not not_decoded(read_taf(MT_02 + "=", NEAR).groups)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "the text of the METAR is empty"),
        (" \n ", "the text of the METAR is empty"),
        ("TAF XAAA 091730Z 0918/1024 15005KT", "this is a forecast"),
        ("METAR", "names its station, four letters, where this has nothing"),
        ("METAR 091955Z 15005KT", "names its station, four letters, where this has 091955Z"),
        ("METAR XAAA 15005KT", "gives its day and time, such as 091955Z, where this has 15005KT"),
        ("METAR XAAA 322955Z 15005KT", "322955Z is no day and time"),
        ("METAR XAAA 091955Z NIL", "the report of XAAA has no content"),
        ("METAR XAAA 091955Z", "the report of XAAA has no content"),
        ("METAR XAAA 091955Z 15005KT= METAR XAAA 092055Z", "goes on after the '='"),
        ("hello, " + "world" * 20, "where this has hello,$"),
        ("METAR " + "world" * 20, "where this has worldworldworldworldworl…$"),
    ],
)
def test_a_text_that_is_no_report_is_refused_with_its_reason(text: str, reason: str) -> None:
    with pytest.raises(Refusal) as refused:
        read_metar(text, NEAR)
    assert reason in f"{refused.value.reason}$"


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("METAR XAAA 091955Z 15005KT", "this is a report"),
        ("TAF XAAA 091730Z 15005KT", "gives its validity, such as 0918/1018, where this has 15005KT"),
        ("TAF XAAA 091730Z", "gives its validity, such as 0918/1018, where this has nothing"),
        ("TAF XAAA 091730Z 0918/1024", "the forecast of XAAA has no content"),
        ("TAF XAAA 091730Z 0918/1024 CNL", "the forecast of XAAA has no content"),
        ("TAF XAAA 091730Z NIL", "the forecast has no content"),
    ],
)
def test_a_text_that_is_no_forecast_is_refused_with_its_reason(text: str, reason: str) -> None:
    with pytest.raises(Refusal) as refused:
        read_taf(text, NEAR)
    assert reason in refused.value.reason


def test_small_letters_say_the_same_of_a_report() -> None:
    said = read_metar("speci xaaa 091955z auto cor 15005kt", NEAR)
    assert (said.special, said.automated, said.corrected) == (True, True, True)
    assert read_taf("taf amd xaaa 091730z 0918/1024 15005kt", NEAR).amended


def test_amended_and_corrected_forecasts_say_so() -> None:
    said = read_taf("TAF AMD XAAA 091730Z 0918/1024 15005KT", NEAR)
    assert (said.amended, said.corrected) == (True, False)
    said = read_taf("TAF COR XAAA 091730Z 0918/1024 15005KT", NEAR)
    assert (said.amended, said.corrected) == (False, True)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("TX18/0921Z", "highest temperature 18 °C, on day 9 at 21Z"),
        ("TNM02/1005Z", "lowest temperature \u22122 °C, on day 10 at 05Z"),
        ("QNH2992INS", "lowest altimeter setting 29.92 inHg"),
        ("NXT FCST BY 00Z", "next forecast by 00Z"),
        ("AMD NOT SKED", "amendments are not scheduled"),
    ],
)
def test_what_a_forecast_adds_at_its_end_memory(text: str, said: str) -> None:
    for body in (f"15005KT P6SM SKC {text}", f"15005KT P6SM SKC RMK {text}"):
        assert group(forecast(body), text).words.replace("\u00a0", " ") == said


@pytest.mark.parametrize("text", ["TX18/0925Z", "TX18/3221Z"])
def test_an_extreme_at_no_time_is_not_decoded(text: str) -> None:
    assert not_decoded(forecast(f"15005KT {text}").groups) == (text,)


def test_a_change_after_remarks_is_still_a_change() -> None:
    said = forecast("15005KT P6SM SKC RMK HELLO FM092000 18005KT 1SM SKC")
    assert said.periods[1].from_ == on(9, 20)
    assert not_decoded(said.groups) == ("HELLO",)
    assert [period.status for period in said.periods] == [model.PREVAILING, model.PREVAILING]


def test_weather_of_none_has_no_codes() -> None:
    assert group(forecast("15005KT NSW"), "NSW").value == Weather(words="no significant weather")

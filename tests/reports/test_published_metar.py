"""METARs as published, row by row of the check values: MT-01, MT-04, MT-05, MT-06, and GR-01 to GR-19.

Sources: AIM = Aeronautical Information Manual 7-1, key to TAF and METAR (read); PHAK = Pilot's Handbook of
Aeronautical Knowledge, weather services (from memory); FMH = Federal Meteorological Handbook No. 1, FCM-H1-1995
with changes to 1998, chapter 12, pages 12-2 to 12-16 (read); WMO = WMO-No. 306 vol I.1 part A, 1995 edition,
supplement 3, FM 15 (read).
The words are our own; a test compares the figures in them, and the meaning that the source gives.
"""

from __future__ import annotations

import pytest
from reading import MT_01, MT_04, MT_05, MT_06, NEAR, group, on, report, tokens, words

from briefgen.reports.metar import ceiling_of, read_metar, visibility_of, wind_of
from briefgen.reports.model import (
    Ceiling,
    Cloud,
    Pressure,
    RunwayRange,
    Temperatures,
    Visibility,
    Weather,
    not_decoded,
)

INHG = 33.8639  # hPa in an inch of mercury: FAA-H-8083-25 (read), to a tenth of an hPa over an altimeter's range


def wind(body: str) -> tuple[float | None, float, float, tuple[float, float] | None]:
    found = wind_of(report(body))
    assert found
    return found.wind.from_deg, found.wind.steady_kt, found.wind.gust_kt, found.wind.between_deg


def visibility(body: str, remarks: str = "") -> tuple[float, bool, bool]:
    found = visibility_of(report(body, remarks))
    assert found
    return found.distance_SM, found.less_than, found.more_than


def ceiling_ft(body: str, remarks: str = "") -> float | None:
    found, unknown = ceiling_of(report(body, remarks))
    assert found
    assert not unknown
    return found.height_ft


def plain(found: object) -> object:
    """Return the value without the text that it keeps."""
    assert isinstance(found, Cloud)
    return found._replace(text="")


def test_MT_01_the_key_to_metar_AIM_read() -> None:
    said = read_metar(MT_01, NEAR)
    assert (said.station, said.made, said.corrected) == ("XPIT", on(9, 19, 55), True)
    assert not said.special
    assert not said.automated
    found = wind_of(said)
    assert found
    assert (found.wind.from_deg, found.wind.steady_kt, found.wind.gust_kt) == (220, 15, 25)
    assert visibility_of(said) == Visibility(0.75, text="3/4SM")
    assert group(said, "R28L/2600FT").value == RunwayRange("28L", 2600, 2600)
    assert group(said, "TSRA").words == "thunderstorm with moderate rain"
    assert plain(group(said, "OVC010CB").value) == Cloud("overcast", 1000, "cumulonimbus")
    assert ceiling_of(said) == (Ceiling(1000, "OVC010CB"), "")
    assert group(said, "18/16").value == Temperatures(18, 16)
    assert (said.temperature_degC, said.dew_point_degC) == (18.2, 15.9)
    assert said.altimeter
    assert said.altimeter.given == "29.92\u00a0inHg"
    assert said.altimeter.setting_hPa == pytest.approx(29.92 * INHG, abs=0.05)
    assert group(said, "SLP045").words == "sea-level pressure 1004.5\u00a0hPa"
    assert not not_decoded(said.groups)
    assert tokens(said) == MT_01.split()


def test_MT_04_an_automated_report_PHAK_from_memory() -> None:
    said = read_metar(MT_04, NEAR)
    assert said.automated
    assert wind("14021G26KT") == (140, 21, 26, None)
    assert visibility_of(said) == Visibility(0.75, text="3/4SM")
    assert group(said, "+TSRA").words == "thunderstorm with heavy rain"
    assert group(said, "BR").words == "mist"
    assert ceiling_of(said) == (Ceiling(800, "BKN008"), "")
    assert plain(group(said, "OVC012CB").value) == Cloud("overcast", 1200, "cumulonimbus")
    assert said.altimeter
    assert said.altimeter.given == "29.70\u00a0inHg"
    assert group(said, "PRESFR").words == "pressure falling rapidly"
    assert not not_decoded(said.groups)


def test_MT_05_a_report_in_metres_and_hectopascals_read() -> None:
    said = read_metar(MT_05, on(17, 12))
    assert said.made == on(17, 11)
    found = wind_of(said)
    assert found
    assert (found.wind.from_deg, found.wind.steady_kt, found.wind.gust_kt) == (None, 0, 0)
    assert group(said, "00000KT").words == "calm"
    assert group(said, "9999").words == "visibility 10\u00a0km or more"
    assert plain(group(said, "FEW016").value) == Cloud("few", 1600)
    assert ceiling_of(said) == (Ceiling(25_000, "BKN250"), "")
    assert said.altimeter == Pressure(1013, "1013\u00a0hPa")
    assert not not_decoded(said.groups)


def test_MT_06_remarks_of_all_kinds_report_read_decoded_by_FMH_12_7() -> None:
    said = read_metar(MT_06, on(16, 23))
    assert (said.temperature_degC, said.dew_point_degC) == (-1.7, -2.2)
    assert ceiling_of(said) == (Ceiling(11_000, "BKN110"), "")
    expected = {
        "70033": "0.33\u00a0in",
        "SLP205": "1020.5\u00a0hPa",
        "11006": "highest temperature of six hours \u22120.6",
        "21017": "lowest temperature of six hours \u22121.7",
        "PK WND 29027/2250": "290° true at 27\u00a0kt, at 22:50Z",
        "WSHFT 2241": "22:41Z",
        "53016": "+1.6\u00a0hPa",
    }
    for text, part in expected.items():
        assert part in group(said, text).words
    assert not not_decoded(said.groups)
    assert tokens(said) == MT_06.split()


def test_GR_01_the_day_and_time_FMH_12_6_3_read() -> None:
    assert read_metar("METAR XAAA 210855Z 08008KT", on(21, 10)).made == on(21, 8, 55)


def test_GR_02_winds_of_two_digits_and_of_three_FMH_12_6_5_read() -> None:
    assert wind("09008KT") == (90, 8, 8, None)
    assert wind("090112KT") == (90, 112, 112, None)


def test_GR_03_gusts_a_variable_wind_a_range_and_a_calm_FMH_12_6_5_read() -> None:
    assert wind("27020G35KT") == (270, 20, 35, None)
    assert wind("VRB03KT") == (None, 3, 3, None)
    assert wind("21010KT 180V240") == (210, 10, 10, (180, 240))
    assert wind("00000KT") == (None, 0, 0, None)
    assert words("21010KT 180V240") == "from 210° true at 10 kt, varying between 180° and 240°"
    assert words("VRB03KT") == "of variable direction at 3 kt"


def test_GR_04_visibility_in_miles_FMH_12_6_6_read() -> None:
    assert visibility("1 1/2SM") == (1.5, False, False)
    assert visibility("M1/4SM") == (0.25, True, False)
    assert words("M1/4SM") == "visibility less than 1/4 SM"


TABLE_12_1 = {
    "1/4": 0.25,
    "1/2": 0.5,
    "3/4": 0.75,
    "1 1/4": 1.25,
    "1 1/2": 1.5,
    "1 3/4": 1.75,
    "2 1/2": 2.5,
    **{str(miles): miles for miles in range(1, 11)},
}


@pytest.mark.parametrize(("text", "miles"), [*TABLE_12_1.items()])
def test_GR_04_every_automated_value_FMH_table_12_1_read(text: str, miles: float) -> None:
    assert visibility(f"{text}SM") == (miles, False, False)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("R01L/0800FT", RunwayRange("01L", 800, 800)),
        ("R01L/0600V1000FT", RunwayRange("01L", 600, 1000)),
        ("R01L/M0600FT", RunwayRange("01L", 600, 600, less_than=True)),
        ("R27/P6000FT", RunwayRange("27", 6000, 6000, more_than=True)),
    ],
)
def test_GR_05_runway_visual_range_FMH_12_6_7_read(text: str, value: RunwayRange) -> None:
    assert group(report(text), text).value == value


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("+SHRA", "heavy showers of rain"),
        ("TSSNGS", "thunderstorm with moderate snow and small hail or snow pellets"),
        ("-FZDZ", "light freezing drizzle"),
        ("+FC", "tornado or waterspout"),
        ("VCSH", "showers nearby, not at the field"),
    ],
)
def test_GR_06_weather_FMH_12_6_8_and_table_12_2_read(text: str, said: str) -> None:
    assert words(text) == said


def test_GR_06_three_groups_of_weather_are_kept_apart_FMH_12_6_8_read() -> None:
    values = [each.value for each in report("+SHRA BR VCFG").body]
    assert all(isinstance(value, Weather) for value in values)
    assert len(values) == 3


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("FEW010", "1 to 2 eighths"),
        ("SCT010", "3 to 4 eighths"),
        ("BKN010", "5 to 7 eighths"),
        ("OVC010", "8 eighths"),
        ("VV002", "vertical visibility 200 ft"),
        ("CLR", "at or below 12,000 ft, by an automated station"),
        ("SKC", "sky clear, by an observer"),
    ],
)
def test_GR_07_amounts_of_cloud_FMH_table_12_3_read(text: str, said: str) -> None:
    assert said in words(text)


def test_GR_08_heights_by_the_steps_in_which_they_are_given_FMH_table_12_4_read() -> None:
    heights = {"BKN049": 4900, "BKN050": 5000, "BKN055": 5500, "BKN100": 10_000, "BKN110": 11_000}
    assert {text: ceiling_ft(text) for text in heights} == heights


def test_GR_09_scattered_towering_cumulus_FMH_12_6_9_read() -> None:
    assert plain(group(report("SCT015TCU"), "SCT015TCU").value) == Cloud("scattered", 1500, "towering cumulus")


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("04/M02", Temperatures(4, -2)),
        ("M00/M01", Temperatures(0, -1)),
        ("00/M00", Temperatures(0, 0)),
        ("02/", Temperatures(2, None)),
    ],
)
def test_GR_10_temperature_and_dew_point_FMH_12_6_10_read(text: str, value: Temperatures) -> None:
    said = report(text)
    assert group(said, text).value == value
    assert "-0" not in f"{said.temperature_degC} {said.dew_point_degC}"  # nil has no sign
    assert "\u22120\u00a0" not in group(said, text).words


def test_GR_10_minus_half_a_degree_is_M00_and_three_tenths_are_00_FMH_12_6_10_read() -> None:
    assert report("M00/M01", "T10051012").temperature_degC == -0.5
    assert report("00/M01", "T00031012").temperature_degC == 0.3
    assert not report("M00/M01", "T10051012").doubts


def test_GR_11_a_ceiling_is_the_lowest_broken_or_overcast_layer_or_vertical_visibility_FMH_9_4_5_read() -> None:
    assert ceiling_ft("FEW005 SCT010 BKN020 OVC040") == 2000
    assert ceiling_ft("OVC040 BKN020") == 2000
    assert ceiling_ft("VV002") == 200
    assert ceiling_ft("FEW005 SCT010") is None
    assert ceiling_ft("SKC") is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("PK WND 28045/15", "peak wind from 280° true at 45 kt, at minute 15 of the hour"),
        ("WSHFT 30 FROPA", "the wind shifted at minute 30 of the hour, a front passing"),
        ("TWR VIS 1 1/2", "visibility from the tower 1 1/2 SM"),
        ("SFC VIS 2", "visibility at the surface 2 SM"),
        ("VIS 1/2V2", "visibility varying from 1/2 SM to 2 SM"),
        ("VIS NE 2 1/2", "visibility to the northeast 2 1/2 SM"),
        ("VIS 2 1/2 RWY11", "visibility at runway 11 2 1/2 SM"),
        ("CIG 005V010", "ceiling varying from 500 ft to 1,000 ft"),
        ("CIG 002 RWY11", "ceiling 200 ft at runway 11"),
        ("BKN014 V OVC", "the layer at 1,400 ft varies between broken and overcast"),
    ],
)
def test_GR_12_remarks_FMH_12_7_1_read(text: str, said: str) -> None:
    assert words("10SM OVC020", text) == said


def test_GR_12_a_worse_visibility_or_ceiling_in_the_remarks_counts() -> None:
    """What the remarks mean is FMH 12.7.1 (read); that the worse one counts is a design choice."""
    assert visibility("2SM", "VIS 1/2V2") == (0.5, False, False)
    assert visibility("3SM", "TWR VIS 1 1/2") == (1.5, False, False)
    assert ceiling_ft("OVC008", "CIG 005V010") == 500
    assert ceiling_ft("OVC008", "CIG 002 RWY11") == 200
    assert ceiling_ft("SCT014 OVC030", "SCT014 V BKN") == 1400


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "RAB05E30SNB20E55",
            "rain began at minute 05 of the hour; rain ended at minute 30 of the hour; "
            "snow began at minute 20 of the hour; snow ended at minute 55 of the hour",
        ),
        ("TSB0159E30", "thunderstorm began at 01:59Z; thunderstorm ended at minute 30 of the hour"),
    ],
)
def test_GR_13_when_weather_began_and_ended_FMH_12_7_1_read(text: str, said: str) -> None:
    assert words("10SM", text) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("SLP982", "998.2 hPa"),
        ("SLP045", "1004.5 hPa"),
        ("SLP500", "950.0 hPa"),  # by the rule: from 500 on a 9 goes before
        ("SLP499", "1049.9 hPa"),
    ],
)
def test_GR_14_sea_level_pressure_FMH_12_7_1_read(text: str, said: str) -> None:
    assert words("10SM", text) == f"sea-level pressure {said}"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("T00261015", "temperature 2.6 °C, dew point \u22121.5 °C"),
        ("11021", "highest temperature of six hours \u22122.1 °C"),
        ("21001", "lowest temperature of six hours \u22120.1 °C"),
        ("401001015", "highest temperature of 24 hours 10.0 °C, lowest \u22121.5 °C"),
        ("52032", "pressure changed by +3.2 hPa in three hours (tendency 2)"),
    ],
)
def test_GR_15_temperatures_in_tenths_and_the_tendency_FMH_12_7_2_read(text: str, said: str) -> None:
    assert words("10SM", text) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("P0009", "precipitation of this hour 0.09 in"),
        ("60217", "precipitation of three or six hours 2.17 in"),
        ("70125", "precipitation of 24 hours 1.25 in"),
        ("4/021", "snow on the ground 21 in"),
        ("933036", "water in the snow on the ground 3.6 in"),
    ],
)
def test_GR_16_amounts_of_precipitation_FMH_12_7_2_read(text: str, said: str) -> None:
    assert words("10SM", text) == said


def test_GR_17_ten_kilometres_or_more_WMO_15_6_and_15_10_read() -> None:
    for text in ("9999", "CAVOK"):
        miles, less_than, more_than = visibility(text)
        assert miles == pytest.approx(10_000 / 1609.344)  # the mile of 1959, exact
        assert (less_than, more_than) == (False, True)
    found, unknown = ceiling_of(report("CAVOK"))
    assert (found, unknown) == (Ceiling(None, "CAVOK", 5000), "")
    assert "no cloud below 5,000 ft (or the highest minimum sector altitude)" in words("CAVOK")


@pytest.mark.parametrize(
    ("text", "given", "hPa"),
    [
        ("Q0995", "995\u00a0hPa", 995),
        ("A2991", "29.91\u00a0inHg", 29.91 * INHG),
        ("A3027", "30.27\u00a0inHg", 30.27 * INHG),
    ],
)
def test_GR_18_altimeter_settings_WMO_15_12_read(text: str, given: str, hPa: float) -> None:
    setting = report(text).altimeter
    assert setting
    assert setting.given == given
    assert setting.setting_hPa == pytest.approx(hPa, abs=0.05)


def test_GR_19_a_hundred_knots_or_more_and_variable_winds_WMO_15_5_read() -> None:
    found = wind_of(report("27080GP99KT"))
    assert found
    assert found.more_than
    assert (found.wind.steady_kt, found.wind.gust_kt) == (80, 100)
    assert words("270P99KT") == "from 270° true at 100 kt or more"
    assert words("27080GP99KT") == "from 270° true at 80 kt, gusting 100 kt or more"
    assert wind("VRB06KT") == (None, 6, 6, None)  # FMH allows six

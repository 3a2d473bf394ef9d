"""The weather on whole trips: what is read, what is used, what the rows and the page say of it.

Each trip is the example's with a few edits. The example: takeoff 14:20Z at Quillmere (712 ft), landing 15:11Z at
Tansy Bottom (640 ft); magnetic 5.5 degrees west of true; policy 1,500 ft and 5 SM.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from briefgen.brief import Brief
from briefgen.errors import InputFault
from briefgen.item import Item, State
from briefgen.pipeline import brief_of
from briefgen.render.data import to_json
from briefgen.render.sheet import to_html
from briefgen.render.text import summary
from briefgen.weather_page import FieldPage

OUT = "METAR XQLM 161353Z 18008G14KT 10SM BKN070 27/16 A3002"
WIND, HOME_WIND = "    wind: 190 magnetic at 8 gust 14 kt\n", "    wind: 120 magnetic at 7 gust 11 kt\n"
AT = "    at: 2026-05-16T15:11Z\n"
TYPED = "    ceiling: 7000 ft\n    visibility: 6 SM\n"
STATION = "    station: {ident: XTNS, position: 41.190 N 84.180 W, elevation: 622 ft}\n"
TAF = "TAF XTNS 161130Z 1612/1712 11007G11KT P6SM SKC BECMG 1617/1619 16010G18KT 5SM BKN030"
Made = Callable[..., Brief]


@pytest.fixture
def made(example: Path, tmp_path: Path) -> Made:
    """Return the brief of the example with edits; each must find what it replaces."""

    def make(*edits: tuple[str, str], name: str = "trip.yaml") -> Brief:
        club = Path(shutil.copytree(example.parent, tmp_path / "club", dirs_exist_ok=True))
        text = (club / name).read_text(encoding="utf-8")
        for old, new in edits:
            assert old in text, old
            text = text.replace(old, new, 1)
        (club / name).write_text(text, encoding="utf-8")
        return brief_of(club / name, name)

    return make


def row(brief: Brief, id: str) -> Item:
    return next(item for item in brief.items if item.id == id)


def field(brief: Brief, place: str) -> FieldPage:
    assert brief.weather
    return next(each for each in brief.weather.fields if each.where.startswith(place))


def test_a_trip_without_weather_has_both_rows_not_shown_and_no_page(made: Made) -> None:
    brief = made(name="solo.yaml")
    assert brief.weather is None
    for id in ("departure-weather", "arrival-weather"):
        assert row(brief, id).state.value == "not shown"
        assert "no 'ceiling' and 'visibility', and no 'report' or 'forecast'" in row(brief, id).reason
    assert json.loads(to_json(brief))["weather"] is None
    assert "\nWeather\n" not in summary(brief)


def test_a_landing_in_the_middle_of_a_change_is_held_to_the_worse_of_both(made: Made) -> None:
    """To 18:00Z, between 17:00Z and 19:00Z: BKN030, 5 SM; the field is 18 ft higher: 2,982 ft, down."""
    brief = made((AT, "    at: 2026-05-16T18:00Z\n"))
    assert row(brief, "arrival-weather").answer.startswith("2,900\u00a0ft, 5\u00a0SM; need")
    assert row(brief, "arrival-weather").state.value == "meets policy"
    assert "becoming" in json.dumps(json.loads(to_json(brief))["weather"])


def test_a_ceiling_over_a_higher_station_is_left_as_it_is(made: Made) -> None:
    brief = made((AT, "    at: 2026-05-16T18:00Z\n"), ("elevation: 622 ft", "elevation: 700 ft"))
    assert row(brief, "arrival-weather").answer.startswith("3,000\u00a0ft, ")
    assert "60\u00a0ft higher" in field(brief, "Destination").station


def test_a_station_as_high_and_one_without_a_place_say_so(made: Made) -> None:
    brief = made((STATION, "    station: {ident: XTNS, elevation: 640 ft}\n"))
    assert field(brief, "Destination").station == "XTNS, as high, its distance is not said"
    brief = made((STATION, "    station: {ident: XTNS}\n"))
    assert field(brief, "Destination").station == "XTNS, its distance and height are not said"
    assert brief.facts["weather"]["station"] == "Tansy Bottom: of XTNS distance and height are not said"
    assert "weather-station-far" in raised(brief)
    assert field(brief, "Departure").station == "XQLM, taken as the field's own"


def test_night_that_is_typed_counts_at_every_field(made: Made) -> None:
    brief = made(("  night: false", "  night: true"))
    assert "1,500\u00a0ft, 3\u00a0SM" in field(brief, "Departure").asked


TAKEOFF = "  takeoff_time: 2026-05-16T14:20Z\n"
LATE = "TAF XTNS 161130Z 1612/1712 11007G11KT P6SM SKC FM161505 16010G18KT 1/4SM FG OVC002"


@pytest.mark.parametrize("at", ["", "    at: 2026-05-16T14:30Z\n"])
def test_the_destination_is_looked_up_for_the_landing_as_worked_whatever_time_was_typed(
    made: Made, at: str
) -> None:
    """GR-20, RG-03, RG-09: from 15:05Z 1/4 SM and 200 ft; the landing is at 15:11Z, and 1 SM is asked by day."""
    brief = made((AT, at), (TAF, LATE))
    assert field(brief, "Destination").window == "15:11Z on the 16th, the landing as worked"
    assert row(brief, "arrival-weather").state.value == "short"
    assert row(brief, "arrival-weather").answer.startswith("100\u00a0ft, 0.25\u00a0SM")  # 18 ft higher than XTNS
    said = brief.facts["weather"]["other_time"]
    told = "Tansy Bottom: 'at' says 14:30Z on the 16th, but the airplane is there at 15:11Z on the 16th"
    assert said == (told if at else None)


def test_the_alternate_is_looked_up_for_its_own_landing(made: Made) -> None:
    """10.0 NM on 226 into 14 kt from 220 at 103 kt: 89 kt, 6.7 min past 15:11Z at the latest; fog from 15:12Z."""
    sent = "ceiling: 6000 ft, visibility: 6 SM}"
    fog = "forecast: TAF XPWH 161130Z 1612/1712 15009G13KT P6SM SKC FM161512 15009KT 1/4SM FG VV001}"
    brief = made((sent, fog))
    assert row(brief, "alternate-weather").state.value == "short"
    assert field(brief, "Alternate").window.endswith("the landing as worked")


def test_without_a_takeoff_time_the_three_hours_from_the_time_of_the_file_count(made: Made) -> None:
    """14:00Z to 17:00Z: the change begins at 17:00Z."""
    brief = made((AT, ""), (TAKEOFF, ""))
    assert "14:00Z to 17:00Z on the 16th: three hours" in field(brief, "Destination").window
    assert row(brief, "arrival-weather").answer.startswith("2,900\u00a0ft, 5\u00a0SM")


def test_without_a_takeoff_time_the_departure_is_looked_up_for_as_of(made: Made) -> None:
    brief = made(("  takeoff_time: 2026-05-16T14:20Z\n", ""))
    assert (
        field(brief, "Departure").window == "14:00Z on the 16th, the time of this file, as no takeoff time is given"
    )


def test_what_is_typed_rules_and_both_are_printed_where_they_differ(made: Made) -> None:
    brief = made(("10SM BKN070", "2SM BKN008"))
    assert row(brief, "departure-weather").answer.startswith("7,000\u00a0ft, 6\u00a0SM")
    text = " ".join(summary(brief).split())
    assert "ceiling 7,000 ft [typed; reported: 800 ft: BKN008" in text
    assert "weather-typed-better" in {each.id for each in brief.cautions}
    for output in (to_html(brief, for_screen=True), to_json(brief)):
        assert "BKN008" in output


def test_what_is_not_typed_comes_from_the_report(made: Made) -> None:
    """2,000 ft is the ceiling of the report and not that of the forecast; the policy asks for 1,500 ft and 5 SM."""
    brief = made(("10SM BKN070", "4SM BKN020"), (TYPED, ""))
    assert row(brief, "departure-weather").answer.startswith("2,000\u00a0ft, 4\u00a0SM; need")
    assert row(brief, "departure-weather").state.value == "under policy"


def test_no_ceiling_typed_is_no_ceiling(made: Made) -> None:
    brief = made(("ceiling: 7000 ft", "ceiling: none"))
    assert row(brief, "departure-weather").answer.startswith("no ceiling, 6\u00a0SM")


def test_only_a_visibility_typed_leaves_the_ceiling_not_shown_with_its_key(made: Made) -> None:
    brief = made((f"    report: {OUT}\n", ""), ("    ceiling: 7000 ft\n", ""),
                 ("    forecast: TAF XQLM 161130Z 1612/1712 18008G14KT P6SM BKN070\n", ""))  # fmt: skip
    assert row(brief, "departure-weather").state.value == "not shown"
    assert "no 'ceiling'" in row(brief, "departure-weather").reason


def test_the_air_and_the_wind_of_a_report_are_those_that_were_typed_before(made: Made) -> None:
    """The same temperature and setting; 184.5 degrees typed, 180 reported: both within 10 of the runway's 168.5."""
    typed = made()
    temperature = "    temperature: 27 degC\n    altimeter: 30.02 inHg\n"
    read = made((temperature, ""), (WIND, ""))
    assert row(read, "takeoff-50").need == row(typed, "takeoff-50").need
    assert read.facts["departure"]["temperature_degC"] == 27
    assert read.facts["departure"]["dew_point_degC"] == 16


def test_of_all_winds_that_count_the_worst_of_each_part_is_counted(made: Made) -> None:
    """Landing on 09 (086.5 true) at 18:00Z: 110 at 7 gusting 11, and 160 at 10 gusting 18.

    Across by the second: 18 x sin 73.5 = 17.3 kt, up to 18; headwind by it: 10 x cos 73.5 = 2.84 kt, down to 2.
    """
    brief = made((HOME_WIND, ""), (AT, "    at: 2026-05-16T18:00Z\n"))
    assert brief.facts["arrival"]["crosswind_kt"] == 18
    assert brief.facts["arrival"]["headwind_kt"] == 2
    assert brief.facts["arrival"]["gust_kt"] == 8
    assert "and 1 more, the worst of all counted" in summary(brief)


def test_a_report_made_after_the_time_of_use_is_a_fault(made: Made) -> None:
    with pytest.raises(InputFault, match="this report cannot be used: it was made at 13:55Z"):
        made((AT, "    at: 2026-05-16T13:30Z\n"), (TAKEOFF, ""))


def test_a_forecast_that_ends_before_is_not_shown_and_its_wind_is_a_fault(made: Made) -> None:
    ended = (TAF, "TAF XTNS 161130Z 1612/1614 11007G11KT P6SM SKC")
    old = ("METAR XTNS 161355Z", "METAR XTNS 161335Z")  # 96 min before the landing, so that it is not used either
    brief = made(ended, old)
    assert row(brief, "arrival-weather").state.value == "not shown"
    assert "the forecast ends at 14:00Z" in row(brief, "arrival-weather").reason
    with pytest.raises(InputFault, match="no wind for this field: the forecast ends at 14:00Z"):
        made(ended, old, (HOME_WIND, ""))


def test_a_base_is_estimated_only_where_no_ceiling_is_known(made: Made) -> None:
    """27 less 16 is 11 degC of spread: 11 x 400 = 4,400 ft."""
    taf = "    forecast: TAF XQLM 161130Z 1612/1712 18008G14KT P6SM BKN070\n"
    brief = made(("10SM BKN070", "10SM"), (TYPED, ""), (taf, ""))
    assert "about 4,400\u00a0ft above the station: an estimate" in field(brief, "Departure").estimate
    assert row(brief, "departure-weather").state.value == "not shown"
    assert field(made(), "Destination").estimate == ""


def test_a_dew_point_above_the_reported_temperature_is_a_fault(made: Made) -> None:
    with pytest.raises(InputFault, match="above the temperature of 27 degC in the report"):
        made(("    temperature: 27 degC\n", "    dew_point: 28 degC\n"))


def test_the_alternate_has_its_weather_too_and_the_night_is_said(made: Made) -> None:
    brief = made(
        ("ceiling: 6000 ft, visibility: 6 SM}", "ceiling: 900 ft, visibility: 3 SM}"),
        ("  night: false\n", ""),
        ("  takeoff_time: 2026-05-16T14:20Z\n", ""),  # without which the sun does not say it
    )
    found = field(brief, "Alternate")
    assert found.report is None
    assert "as at night, as it is not said" in found.asked
    assert "1,500\u00a0ft, 3\u00a0SM" in found.asked  # class G at night: 500 ft below cloud, 3 SM


def test_circuits_are_looked_up_for_their_own_takeoff_time(made: Made) -> None:
    """Circuits have their takeoff time beside them, under 'fuel': 10:30Z, not the 09:00Z of the file."""
    taf = "TAF XQLM 170830Z 1709/1809 29008KT P6SM BKN040 FM171015 29008KT 3SM OVC009"
    sent = f"    ground: firm\n    forecast: {taf}\n"
    time = ("circuits: 40 min", "takeoff_time: 2026-05-17T10:30Z, circuits: 40 min")
    brief = made(
        ("    ground: firm\n", sent), time, ("ground: firm\n\nanswers", f"{sent[4:]}\nanswers"), name="solo.yaml"
    )
    assert field(brief, "Destination").window == "11:10Z on the 17th, the landing as worked"
    assert row(brief, "arrival-weather").answer.startswith("900\u00a0ft, 3\u00a0SM; need")
    assert field(brief, "Departure").window == "10:30Z on the 17th, the takeoff time"
    assert row(brief, "departure-weather").answer.startswith("900\u00a0ft, 3\u00a0SM; need")


@pytest.mark.parametrize(
    ("sent", "forecast"),
    [
        ("TX31/1620Z TN14/1710Z", "31\u00a0°C is forecast for 20:00Z on the 16th"),
        (
            "TN14/1710Z TX28/1620Z TX33/1716Z",
            "33\u00a0°C is forecast for 16:00Z on the 17th",
        ),
        ("TX27/1620Z", ""),  # not over it
        ("TNM02/1710Z", ""),
        ("TX31/1624Z", "31\u00a0°C is forecast for 00:00Z on the 17th"),
        ("TX31/3120Z", "31\u00a0°C is forecast for 20:00Z on the 31st"),
    ],
)
def test_a_forecast_maximum_over_the_temperature_counted_is_told(made: Made, sent: str, forecast: str) -> None:
    """WMO-No. 306, FM 51, TX and TN (read): the temperature, then the day and the hour. 27 degC are typed."""
    brief = made(("5SM BKN030", f"5SM BKN030 {sent}"))
    said = f"{forecast}, 27\u00a0°C is counted" if forecast else ""
    assert field(brief, "Destination").warmer == said
    assert ("weather-warmer-forecast" in {each.id for each in brief.cautions}) == bool(said)
    assert said in summary(brief)
    assert field(brief, "Destination").not_decoded == ()


def test_a_cold_forecast_maximum_is_read_with_its_sign(made: Made) -> None:
    air = "    temperature: {} degC\n    altimeter: 30.02 inHg\n    wind: 120"
    brief = made((air.format(27), air.format(-8)), ("5SM BKN030", "5SM BKN030 TXM05/1620Z"))
    said = "\u22125\u00a0°C is forecast for 20:00Z on the 16th, \u22128\u00a0°C is counted"
    assert field(brief, "Destination").warmer == said


CAVOK = "METAR XTNS 161355Z 11007KT CAVOK 27/17 A3002"
TODAY = "today: {minimum_ceiling: 6000 ft}\n"
METAR = "METAR XTNS 161355Z 11007G11KT 10SM SKC 27/17 A3002"


@pytest.mark.parametrize(
    ("report", "forecast", "words"),
    [
        ("METAR XTNS 161355Z 11007KT 10SM FEW020 BKN0O8 27/17 A3002", TAF, "BKN0O8 was not decoded"),
        (METAR, "TAF XTNS 161130Z 1612/1712 11007KT P6SM SCT020 OVCO04", "OVCO04 was not decoded"),
        ("METAR XTNS 161355Z 11007KT 10SM 1/4SMX SKC 27/17 A3002", TAF, "1/4SMX was not decoded"),
        (METAR, "TAF XTNS 161130Z 1612/1712 11007KT P6SM SKC TEMPO 1615/1616 1SN4", "1SN4 was not decoded"),
    ],
)
def test_a_group_that_cannot_be_read_leaves_the_row_not_shown(
    made: Made, report: str, forecast: str, words: str
) -> None:
    """RG-09; GR-07: it may be a layer or a sight below the minimum, so no figure of the rest is the worst."""
    brief = made((METAR, report), (TAF, forecast))
    found = row(brief, "arrival-weather")
    assert found.state.value == "not shown"
    assert words in found.reason
    assert "may be a worse" in found.reason


def test_a_group_that_can_be_no_cloud_and_no_sight_leaves_the_row_as_it_is(made: Made) -> None:
    """GR-18: A and four figures are an altimeter setting; here one is a letter, and the setting is typed."""
    brief = made((METAR, METAR.replace("A3002", "A30O2")))
    assert row(brief, "arrival-weather").state.value == "meets policy"
    assert field(brief, "Destination").not_decoded == ("A30O2",)


def test_a_wind_that_cannot_be_read_must_be_typed(made: Made) -> None:
    """GR-03: 00020G35KT is no wind, as calm has no speed; 35 kt from anywhere may have been meant."""
    edits = [(TAF, "TAF XTNS 161130Z 1612/1712 11007KT P6SM SKC TEMPO 1614/1616 00020G35KT"), (HOME_WIND, "")]
    with pytest.raises(InputFault, match=r"no wind for this field: .*00020G35KT was not decoded"):
        made(*edits)


def test_the_row_is_short_by_the_one_that_is_known(made: Made) -> None:
    """RG-03: by day in class G 1 SM is asked for; 1/4 SM is under it whatever the ceiling is."""
    brief = made((METAR, "METAR XTNS 161355Z 11007KT 1/4SM FG VV/// 27/17 A3002"))
    found = row(brief, "arrival-weather")
    assert found.state.value == "short"
    assert found.answer.startswith("ceiling not known, 0.25\u00a0SM; need")
    assert "weather-below-minimums" in {each.id for each in brief.cautions}
    legs = row(brief, "legs-weather")
    assert legs.state.value == "short"
    assert "cloud not known, 0.25\u00a0SM" in legs.answer


def test_the_row_is_short_by_a_ceiling_alone_too(made: Made) -> None:
    """RG-03: clear of clouds in the pattern at 1,000 ft; 18 ft of 900 are the field's height over the station."""
    brief = made((METAR, "METAR XTNS 161355Z 11007KT OVC009 27/17 A3002"))
    found = row(brief, "arrival-weather")
    assert (found.state.value, found.answer[:32]) == ("short", "800\u00a0ft, visibility not known; ne")


@pytest.mark.parametrize(
    ("sky", "answer"),
    [
        # GR-17: CAVOK is no cloud below 5,000 ft, and 10 km or more: 10 / 1.852 x 1.15078 = 6.21 SM
        ("CAVOK", "none below 4,900\u00a0ft, 6.21\u00a0SM; need"),
        # GR-07: CLR is none at or below 12,000 ft, by an automated station; the field is 18 ft higher
        ("10SM CLR", "none below 11,900\u00a0ft, 10\u00a0SM; need"),
    ],
)
def test_no_cloud_up_to_a_height_is_no_ceiling_at_that_height(made: Made, sky: str, answer: str) -> None:
    brief = made((METAR, f"METAR XTNS 161355Z 11007KT {sky} 27/17 A3002"), (f"    forecast: {TAF}\n", ""),
                 )  # fmt: skip
    assert row(brief, "arrival-weather").answer.startswith(answer)
    assert (
        brief.facts["weather"]["ceiling_under_cruise_ft"] == -2240
    )  # 4,500 less 748 + 6,000 ft at the alternate, up to 10


def test_a_leg_over_what_is_known_to_be_clear_is_not_shown(made: Made) -> None:
    """GR-17: to 4,982 + 640 = 5,622 ft no cloud is known; at 5,500 ft a base of 6,000 ft is asked for (RG-03)."""
    brief = made(
        (METAR, "METAR XTNS 161355Z 11007KT CAVOK 27/17 A3002"), ("altitude: 3500 ft", "altitude: 5500 ft")
    )
    found = row(brief, "legs-weather")
    assert found.state.value == "not shown"
    assert "no cloud is known below 5,620\u00a0ft, and nothing above it" in found.reason
    assert "weather-below-minimums-on-the-way" not in {each.id for each in brief.cautions}


def test_a_minimum_above_what_is_known_to_be_clear_is_not_shown(made: Made) -> None:
    brief = made(
        (METAR, "METAR XTNS 161355Z 11007KT CAVOK 27/17 A3002"),
        ("policy: policy.yaml\n", f"policy: policy.yaml\n{TODAY}"),
    )
    found = row(brief, "arrival-weather")
    assert found.state.value == "not shown"
    assert "no ceiling is known below 4,982\u00a0ft, and nothing above it" in found.reason


CLEAR = "    ground: firm\n    ceiling: none\n    visibility: 10 SM\n    station"
FIRM = "    ground: firm\n    station"
FOGGED = "METAR XTNS 161325Z 11007KT 1/4SM FG VV001 27/10 A3002"


def raised(brief: Brief) -> set[str]:
    return {each.id for each in brief.cautions}


@pytest.mark.parametrize(
    ("report", "forecast", "why"),
    [
        (FOGGED, f"    forecast: {TAF}\n", "too old to count"),  # 106 min old at 15:11Z, and 90 count
        (FOGGED, "", "too old to count"),
        (METAR, "    forecast: TAF XTNS 161130Z 1612/1615 11007KT 1/4SM FG VV001\n", "the forecast ends at 15:00Z"),
        (
            METAR,
            "    forecast: TAF XTNS 161130Z 1616/1712 11007KT 1/4SM FG VV001\n",
            "the forecast begins at 16:00Z",
        ),
    ],
)
def test_fog_typed_away_is_told_though_what_reports_it_does_not_count(
    made: Made, report: str, forecast: str, why: str
) -> None:
    """RG-09, RG-03: 100 ft less 18 of the field's height, and 1/4 SM, where 1,000 ft and 1 SM are asked for."""
    brief = made((METAR, report), (f"    forecast: {TAF}\n", forecast), (FIRM, CLEAR))
    assert {"weather-typed-better", "weather-typed-over-minimums"} <= raised(brief)
    assert f"({why}" in brief.facts["weather"]["typed_better"]
    assert row(brief, "arrival-weather").state is State.UNDER
    answer = row(brief, "arrival-weather").answer
    assert answer.endswith("typed; reported ceiling 100\u00a0ft, visibility 0.25\u00a0SM")


def test_a_ceiling_typed_over_one_that_was_sent_without_a_height_is_told(made: Made) -> None:
    brief = made((METAR, "METAR XTNS 161355Z 11007KT 10SM VV/// 27/10 A3002"), (FIRM, CLEAR))
    assert "ceiling none typed, reported not known" in brief.facts["weather"]["typed_better"]
    assert row(brief, "arrival-weather").answer.endswith("typed; reported ceiling not known")


def test_a_wind_typed_over_one_that_cannot_be_read_is_told(made: Made) -> None:
    brief = made((TAF, "TAF XTNS 161130Z 1612/1712 11007G11KT P6SM SKC TEMPO 1614/1616 00020G35KT"))
    assert "kt typed, reported not known" in brief.facts["weather"]["typed_better"].replace("\u00a0", " ")
    assert row(brief, "landing-crosswind").reason == "typed; reported wind not known"


def test_more_than_was_sent_typed_over_more_than_is_no_better(made: Made) -> None:
    """GR-04: P6SM is more than 6 miles, so that 10 typed are not more than it says."""
    brief = made((METAR, "METAR XTNS 161355Z 11007G11KT 27/17 A3002"), (FIRM, CLEAR))
    assert brief.facts["weather"]["typed_better"] is None


CALM, STEADY = "    wind: calm\n", "    wind: 090 true at 7 kt\n"


@pytest.mark.parametrize(
    ("new", "report", "told"),
    [
        # landing on 09, 86.5 true: 40 sin 93.5 = 39.9 kt across
        (CALM, "18025G40KT 10SM SKC 27/17 A3002", "wind calm typed, reported 180 true at 25 gust 40 kt"),
        # 7 cos 28 = 6.2 kt of headwind typed, 10 cos 173.5 = 9.9 kt of tailwind sent
        (HOME_WIND, "26010KT 10SM SKC 27/17 A3002", "wind 120 magnetic at 7 gust 11 kt typed, reported 260 true"),
        # the gusts alone: none typed, 18 - 7 = 11 kt sent, all but straight down the runway
        (STEADY, "09007G18KT 10SM SKC 27/17 A3002", "wind 090 true at 7 kt typed"),
        (HOME_WIND, "11007G11KT 10SM SKC 40/17 A3002", "temperature 27 °C typed, reported 40 °C"),
        (HOME_WIND, "11007G11KT 10SM SKC 27/17 A2902", "altimeter 30.02 inHg typed, reported 29.02 inHg"),
    ],
)
def test_wind_and_air_typed_kinder_than_reported_are_told(made: Made, new: str, report: str, told: str) -> None:
    """RG-09: each of them makes the landing figures look better than by the report."""
    brief = made((HOME_WIND, new), (METAR, f"METAR XTNS 161355Z {report}"), (f"    forecast: {TAF}\n", ""))
    said = brief.facts["weather"]["typed_better"]
    assert said
    assert told in said.replace("\u00a0", " ")
    assert "weather-typed-better" in raised(brief)
    assert "weather-typed-over-minimums" not in raised(brief)
    assert row(brief, "landing").reason.startswith("typed; reported ")


@pytest.mark.parametrize("report", ["11009G13KT 10SM SKC 28/17 A2999", "12006KT 10SM SKC 20/17 A3020"])
def test_what_is_as_near_as_reports_are_coded_is_no_better(made: Made, report: str) -> None:
    """By 1 degC and 0.03 inHg; of 7 gusting 11 kt from 114.5 true on 086.5, 6.2 kt along and 5.2 across:

    9 gusting 13 from 110 are 13 x sin 23.5 = 5.2 across; 6 from 120 are 6 x cos 33.5 = 5.0 along.
    """
    brief = made((METAR, f"METAR XTNS 161355Z {report}"), (f"    forecast: {TAF}\n", ""))
    assert brief.facts["weather"]["typed_better"] is None
    assert row(brief, "landing").reason == ""


def test_crosswind_rows_say_what_wind_was_reported(made: Made) -> None:
    brief = made((HOME_WIND, CALM), (METAR, METAR.replace("11007G11KT", "18025G40KT")))
    said = row(brief, "landing-crosswind").reason.replace("\u00a0", " ")
    assert said.startswith("typed; reported wind")
    assert "180 true at 25 gust 40 kt" in said


LATER = "takeoff_time: 2026-05-17T00:25Z"  # landing at 01:16Z, dusk 01:21Z; the alternate 6.7 min later


def test_each_field_is_asked_for_what_its_own_light_asks_for(made: Made) -> None:
    """RG-03: class G by day 1 SM clear of clouds; at night 3 SM and 500 ft below, so 1,500 ft (NT-01, 1.1)."""
    way = "{to: Pennywort Hill, altitude: 3000 ft, tas"
    low = way.replace("3000 ft", "3000 ft, airspace: G, lowest_ground: 1900 ft")
    brief = made(("takeoff_time: 2026-05-16T14:20Z", LATER), (way, low))
    assert brief.weather
    assert brief.weather.legs[-1].asked == "3,500\u00a0ft, 3\u00a0SM"
    assert "1,000\u00a0ft, 1\u00a0SM" in field(brief, "Departure").asked
    assert "1,500\u00a0ft, 3\u00a0SM" in field(brief, "Alternate").asked
    need = "6\u00a0SM; need 1,{}00\u00a0ft, {}\u00a0SM"
    assert need.format(5, 3) in row(brief, "alternate-weather").answer
    assert need.format(0, 1) in row(brief, "departure-weather").answer


def test_of_equal_figures_a_class_that_asks_for_both_is_named(made: Made, tmp_path: Path) -> None:
    """RG-03: 3 SM in B, C, D and E; 500 ft below cloud, so 1,500 ft, in C, D and E; B asks clear of clouds."""
    made()
    strip = tmp_path / "club" / "strips" / "tansy-bottom.yaml"
    strip.write_text(strip.read_text(encoding="utf-8").replace("airspace: G\n", ""), encoding="utf-8")
    brief = brief_of(tmp_path / "club" / "trip.yaml", "trip.yaml")
    assert "(class C; the strictest" in field(brief, "Destination").asked


@pytest.mark.parametrize(
    ("longitude", "far"),
    [
        # NM for each degree of longitude at 41.2 N: 60 cos 41.2 = 45.1; 3.3 NM of latitude; 10 SM are 8.69 NM
        ("84.140", False),  # 0.170 degrees are 7.7 NM: 8.4 in all
        ("84.125", True),  # 0.185 degrees are 8.4 NM: 9.0 in all
        ("90.180", True),
    ],
)
def test_a_station_past_the_vicinity_of_its_report_is_told(made: Made, longitude: str, far: bool) -> None:
    """GR-06: VC is within 10 SM."""
    brief = made(("41.190 N 84.180 W", f"41.190 N {longitude} W"))
    assert (brief.facts["weather"]["station"] is not None) == far
    assert ("weather-station-far" in raised(brief)) == far


def test_a_forecast_of_another_field_is_named_as_that(made: Made) -> None:
    brief = made((TAF, TAF.replace("XTNS", "XABC")))
    other = "the forecast is that of XABC, whose distance and height are not said"
    assert field(brief, "Destination").station == f"XTNS, 6.7\u00a0NM from the field, 18\u00a0ft lower; {other}"
    assert brief.facts["weather"]["station"] == f"Tansy Bottom: {other}"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("TEMPO 1614/1615 1SM OVC004", "1SM OVC004 ends at 15:00Z on the 16th"),
        ("FM161512 16010KT 1SM OVC004", "16010KT 1SM OVC004 begins at 15:12Z on the 16th"),
        ("FM161541 16010KT 1SM OVC004", "16010KT 1SM OVC004 begins at 15:41Z on the 16th"),  # 30 min after 15:11Z
        ("FM161542 16010KT 1SM OVC004", ""),
        ("TEMPO 1613/1614 1SM OVC004", ""),
    ],
)
def test_what_begins_or_ends_within_half_an_hour_is_named(made: Made, change: str, said: str) -> None:
    """GR-20, GR-22; half an hour is a design choice."""
    brief = made((TAF, f"TAF XTNS 161130Z 1612/1712 11007G11KT P6SM SKC {change}"))
    assert ("weather-changes-soon" in raised(brief)) == bool(said)
    assert said in (brief.facts["weather"]["soon"] or "")
    assert f"near: {said}" in summary(brief).replace("\n", " ") or not said
    assert row(brief, "arrival-weather").state.value == "meets policy"


def test_a_period_that_has_just_been_superseded_is_named(made: Made) -> None:
    brief = made((TAF, "TAF XTNS 161130Z 1612/1712 11007KT 1/4SM FG VV001 FM161500 11007KT P6SM SKC"))
    assert "1/4SM FG VV001 ends at 15:00Z" in brief.facts["weather"]["soon"]


@pytest.mark.parametrize("style", ["|", ">-"])
def test_texts_may_be_pasted_in_the_lines_that_they_were_sent_in(made: Made, style: str) -> None:
    """Indented lines keep their breaks in both styles of YAML 1.2 (8.1.2, 8.1.3)."""
    lines = TAF.replace(" BECMG", "\n          BECMG")
    brief = made((TAF, f"{style}\n      {lines}"), (METAR, f"{style}\n      {METAR}"))
    assert row(brief, "arrival-weather") == row(made(), "arrival-weather")
    told = field(brief, "Destination").forecast
    assert told
    assert told.text == TAF

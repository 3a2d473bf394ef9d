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
from briefgen.item import Item
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
    """At 18:00Z, between 17:00Z and 19:00Z: BKN030, 5 SM; the field is 18 ft higher: 2,982 ft, down."""
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
    assert field(brief, "Destination").station == "XTNS, as high"
    brief = made((STATION, "    station: {ident: XTNS}\n"))
    assert field(brief, "Destination").station == "XTNS"


def test_without_a_time_the_three_hours_from_the_takeoff_count_and_the_sheet_says_so(made: Made) -> None:
    """14:20Z to 17:20Z: the change has begun at 17:00Z."""
    brief = made((AT, ""))
    assert "14:20Z to 17:20Z on the 16th: three hours" in field(brief, "Destination").window
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
        made((AT, "    at: 2026-05-16T13:30Z\n"))


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
    brief = made(("    ground: firm\n", sent), time, name="solo.yaml")
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

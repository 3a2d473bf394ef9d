"""Winds aloft as sent, in a route: the levels of one station, what is typed over them, and when they are for use.

Source: the standard coding of such tables (from memory, as in tests/reports/test_aloft.py), decoded here by hand:
2214 is from 220 true at 14 kt; 2522+14 from 250 at 22 kt and 14 degC; 9900 light and variable. Half-way between
two levels the components are averaged: from 220 at 14 and 250 at 22 kt, north 14 cos 220 + 22 cos 250 =
-10.7246 - 7.5244, half of it -9.1245; east -8.9990 - 20.6732, half -14.8361; so from 238.41 degrees at 17.42 kt.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.calc.wind_triangle import aloft
from briefgen.errors import InputFault
from briefgen.files.read_trip import read_trip
from briefgen.model.route import Route, TemperatureAloft, WindAloft
from briefgen.pipeline import brief_of
from briefgen.render.data import to_json
from briefgen.render.text import summary

LOW = "    - {altitude: 3000 ft, wind: 220 true at 14 kt, temperature: 21 degC}\n"
HIGH = "    - {altitude: 6000 ft, wind: 250 true at 22 kt, temperature: 14 degC}\n"
HEAD = "VALID 161800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000"
SENT = """  winds_report:
    station: XQL
    report: |
      {head}
      FT  3000    6000    9000   12000
      XQL 2214 2522+14 2630+08 2736+02
      XHI      9900+12 2630+07 2738+01
"""


def trip(folder: Path, typed: str = "", head: str = HEAD, *edits: tuple[str, str]) -> Path:
    club = Path(shutil.copytree(EXAMPLE, folder / "club"))
    text = (club / "trip.yaml").read_text(encoding="utf-8")
    sent = SENT.format(head=head)
    for old, new in (("  winds:\n" + LOW + HIGH, (f"  winds:\n{typed}" if typed else "") + sent), *edits):
        assert old in text, old
        text = text.replace(old, new)
    (club / "trip.yaml").write_text(text, encoding="utf-8")
    return club / "trip.yaml"


def route(path: Path) -> Route:
    found = read_trip(path, "trip.yaml")[0].route
    assert found
    return found


def briefed(path: Path) -> Brief:
    return brief_of(path, "trip.yaml")


def raised(brief: Brief) -> set[str]:
    return {each.id for each in (*brief.cautions, *brief.folded)}


AIR = "    - {altitude: 3000 ft, wind: 220 true at 14 kt, temperature: 21 degC}\n"


def test_the_levels_of_the_station_are_the_winds(tmp_path: Path) -> None:
    found = route(trip(tmp_path, AIR))
    assert found.winds == (
        WindAloft(3000, 220, 14),
        WindAloft(6000, 250, 22),
        WindAloft(9000, 260, 30),
        WindAloft(12000, 270, 36),
    )
    assert found.temperatures[:2] == (TemperatureAloft(6000, 14), TemperatureAloft(9000, 8))
    assert TemperatureAloft(3000, 21) in found.temperatures  # typed, where the row has none
    assert found.aloft
    assert found.aloft.remarks == ()
    halfway = aloft(found.winds, 4500)
    assert (halfway.from_deg, halfway.speed_kt) == (
        pytest.approx(238.41, abs=0.01),
        pytest.approx(17.42, abs=0.005),
    )


def test_a_typed_level_counts_and_both_are_printed(tmp_path: Path) -> None:
    typed = AIR + "    - {altitude: 6000 ft, wind: 240 true at 30 kt, temperature: 9 degC}\n"
    path = trip(tmp_path, typed)
    assert WindAloft(6000, 240, 30) in route(path).winds
    assert WindAloft(6000, 250, 22) not in route(path).winds
    brief = briefed(path)
    text = " ".join(summary(brief).replace("\u00a0", " ").split())
    assert "At 6,000 ft typed 240 true at 30 kt, 9 °C, which counts; sent 2522+14." in text
    assert brief.route
    assert "winds aloft of XQL, see 'Weather'" in brief.route.setting
    assert json.loads(to_json(brief))["winds_aloft"]["station"] == "XQL"


def test_light_and_variable_is_calm_and_the_sheet_says_what_that_leaves_out(tmp_path: Path) -> None:
    """XHI has nothing at 3,000 ft, so a level is typed there: calm; and -3 degC for 12 at 6,000."""
    typed = "    - {altitude: 3000 ft, wind: calm, temperature: 21 degC}\n"
    typed += "    - {altitude: 6000 ft, wind: 010 true at 3 kt, temperature: -3 degC}\n"
    found = route(trip(tmp_path, typed, HEAD, ("station: XQL", "station: XHI")))
    assert found.aloft
    assert found.aloft.remarks[0].startswith("at 6,000\u00a0ft typed 010 true at 3\u00a0kt, \u22123\u00a0°C")
    assert found.aloft.remarks[1] == (
        "light and variable at 6,000\u00a0ft: counted as calm, so up to 5\u00a0kt of headwind may come on top"
    )


def test_a_height_under_the_lowest_level_of_the_row_stays_refused(tmp_path: Path) -> None:
    """The row of XHI begins at 6,000 ft; the legs are at 4,500 and 3,500 ft."""
    with pytest.raises(InputFault, match="no wind for 4,500 ft: the winds given go from 6,000 to 12,000 ft"):
        route(trip(tmp_path, "", HEAD, ("station: XQL", "station: XHI")))


FLOWN = ", and the flight is 14:20Z to 15:11Z on the 16th"


@pytest.mark.parametrize(
    ("head", "said"),
    [
        (HEAD, None),  # 14:20Z to the ETA of the log, 15:11Z, is inside
        (
            HEAD.replace("1400-2100", "1430-2100"),
            f"XQL: for use 14:30Z to 21:00Z on the 16th{FLOWN}",
        ),
        (
            HEAD.replace("1400-2100", "1200-1500"),
            f"XQL: for use 12:00Z to 15:00Z on the 16th{FLOWN}",
        ),
        ("VALID 161800Z", "XQL: its times of use are not given"),
        (
            "VALID 151800Z FOR USE 1400-2100Z.",
            f"XQL: for use 14:00Z to 21:00Z on the 15th{FLOWN}",
        ),
    ],
)
def test_its_times_of_use_are_held_against_the_flight(tmp_path: Path, head: str, said: str | None) -> None:
    brief = briefed(trip(tmp_path, AIR, head))
    found = brief.facts["weather"]["winds_other_time"]
    assert (found is None) == (said is None)
    assert said is None or found.startswith(said)
    assert ("winds-aloft-other-time" in raised(brief)) == (said is not None)


def test_without_a_takeoff_time_that_cannot_be_told(tmp_path: Path) -> None:
    time = ("  takeoff_time: 2026-05-16T14:20Z\n", "")
    found = briefed(trip(tmp_path, AIR, HEAD, time)).facts["weather"]["winds_other_time"]
    assert found.endswith("when the flight is, is not known")


def test_what_cannot_be_read_is_printed_and_warned_of(tmp_path: Path) -> None:
    brief = briefed(trip(tmp_path, AIR, HEAD, ("2736+02", "2736/02")))
    assert brief.facts["weather"]["not_decoded"] == "winds aloft: 2736/02"
    assert "weather-not-decoded" in raised(brief)
    assert "Not decoded: 2736/02." in " ".join(summary(brief).split())

"""One flight over a change of the forecast, sunset and local midnight; and the same with 90 minutes of delay.

Everything that hangs on the time must move together, each with its reason on the sheet. The expected values are
those of hand_worked.md beside this file; check values NT-01 to NT-03, RG-01, RG-03, GR-21, PL-02, PL-04, AW-07,
AW-08, SUN-05.
"""

from __future__ import annotations

import shutil
from datetime import UTC, datetime, timedelta
from math import asin, atan2, cos, degrees, radians, sin
from pathlib import Path

import pytest

from briefgen.brief import Brief
from briefgen.calc.daylight import sun_day
from briefgen.item import Item, State
from briefgen.model.route import Spot
from briefgen.papers_page import PaperLine
from briefgen.pipeline import brief_of
from briefgen.render.text import summary
from briefgen.weather_page import FieldPage

HERE = Path(__file__).resolve().parent
FIELD = Spot(63.5, -5.0)
DELAY = (("T20:55Z", "T22:25Z"), ("T22:05Z", "T23:35Z"))


def worked(folder: Path, *edits: tuple[str, str]) -> Brief:
    club = Path(shutil.copytree(HERE, folder / "club", ignore=shutil.ignore_patterns("*.py", "__pycache__")))
    text = (club / "trip.yaml").read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new)
    (club / "trip.yaml").write_text(text, encoding="utf-8")
    return brief_of(club / "trip.yaml", "trip.yaml")


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Brief:
    return worked(tmp_path_factory.mktemp("planned"))


@pytest.fixture(scope="module")
def delayed(tmp_path_factory: pytest.TempPathFactory) -> Brief:
    return worked(tmp_path_factory.mktemp("delayed"), *DELAY)


def row(brief: Brief, id: str) -> Item:
    return next(each for each in brief.items if each.id == id)


def paper(brief: Brief, name: str) -> PaperLine:
    assert brief.papers
    (found,) = (each for table in brief.papers.tables for each in table.lines if each.name.startswith(name))
    return found


def lines(brief: Brief) -> tuple[str, ...]:
    assert brief.daylight
    return brief.daylight.lines


def field(brief: Brief, place: str) -> FieldPage:
    assert brief.weather
    return next(each for each in brief.weather.fields if each.where.startswith(place))


def taken(brief: Brief, place: str, what: str) -> str:
    return next(each.used for each in field(brief, place).taken if each.what == what)


def raised(brief: Brief) -> set[str]:
    return {each.id for each in (*brief.cautions, *brief.folded)}


def height_of_the_sun(at: datetime, place: Spot) -> float:
    """Return the height of the sun's centre [deg] by the Almanac's low-precision formulas (from memory)."""
    days = (at - datetime(2000, 1, 1, 12, tzinfo=UTC)) / timedelta(days=1)
    mean, anomaly = (280.460 + 0.9856474 * days) % 360, radians(357.528 + 0.9856003 * days)
    along = radians(mean + 1.915 * sin(anomaly) + 0.020 * sin(2 * anomaly))
    tilt = radians(23.439 - 4e-7 * days)
    ascension, declination = degrees(atan2(cos(tilt) * sin(along), cos(along))), asin(sin(tilt) * sin(along))
    fast_deg = (mean - ascension + 180) % 360 - 180  # the equation of time
    hour = radians(((at.hour * 60 + at.minute + at.second / 60) / 4 - 180) + place.longitude_deg + fast_deg)
    north = radians(place.latitude_deg)
    return degrees(asin(sin(north) * sin(declination) + cos(north) * cos(declination) * cos(hour)))


# SUN-05; the sun sinks about 0.1 degree in a minute here, so 0.05 degree is half a minute
def test_the_sun_of_that_evening_agrees_with_other_formulas() -> None:
    """By hand: sunset 21:20.7Z, end of civil twilight 22:43.5Z, each to half a minute."""
    day = sun_day(datetime(2026, 7, 31, 22, 5, tzinfo=UTC), FIELD)
    for event, angle_deg, by_hand_min in ((day.sunset, -5 / 6, 21 * 60 + 20.7), (day.dusk, -6.0, 22 * 60 + 43.5)):
        assert event.at
        assert event.minutes == pytest.approx(by_hand_min, abs=0.5)
        assert height_of_the_sun(event.at, FIELD) == pytest.approx(angle_deg, abs=0.05)


def test_the_landing_is_past_sunset_and_local_midnight_but_not_in_the_night(planned: Brief) -> None:
    """Sunset 21:20Z to 22:05Z: 45 min by the printed times."""
    first, second, third, *_ = lines(planned)
    assert first.startswith("Landing about 22:05Z 00:05L+1, 45\u00a0min after sunset 21:20Z 23:20L; ")
    assert first.endswith("civil twilight ends 22:43Z 00:43L+1.")
    assert second == "The flight is in the night: for position lights, from 21:20Z 23:20L to 22:05Z 00:05L+1."
    assert third == "Reserve of the rule 30\u00a0min: flight and reserve, to 22:35Z, by day, by the sun."


def test_the_delayed_flight_is_in_all_three_nights(delayed: Brief) -> None:
    """The takeoff is past sunset and 1 h, 22:20Z; 21:20Z to 23:35Z are 135 min."""
    first, second, third, *_ = lines(delayed)
    assert first.startswith("Landing about 23:35Z 01:35L, 135\u00a0min after sunset 21:20Z 23:20L\u22121; ")
    whole = "from 22:25Z 00:25L to 23:35Z 01:35L"
    assert f"for position lights, {whole}; for logging, and the fuel reserve, from 22:43Z 00:43L to" in second
    assert second.endswith(f"for carrying persons, and its recency, {whole}.")
    assert third == "Reserve of the rule 45\u00a0min: night from 22:43Z, by the sun."


def test_the_reserve_takes_the_fuel_from_enough_to_short(planned: Brief, delayed: Brief) -> None:
    """15.3333 and 17.3333 gal, up to a tenth; 17 on board. The way itself takes the same."""
    before, after = row(planned, "fuel"), row(delayed, "fuel")
    assert (before.need, before.have, before.margin, before.state) == (15.4, 17.0, 1.6, State.MEETS)
    assert (after.need, after.have, after.margin, after.state) == (17.4, 17.0, -0.4, State.SHORT)
    for brief in (planned, delayed):
        assert brief.route
        assert [(leg.minutes, leg.fuel) for leg in brief.route.legs] == [(42, 5.6), (28, 3.8)]
    assert {"part-91-reserve-by-night", "fuel-short"} <= raised(delayed)
    assert not {"part-91-reserve-by-night", "fuel-short"} & raised(planned)


def test_the_group_of_the_forecast_that_is_in_force_moves_with_the_time(planned: Brief, delayed: Brief) -> None:
    """The first group at 20:55Z; both from 21:00Z to 23:00Z; the second alone at 23:35Z."""
    assert taken(planned, "Departure", "ceiling").startswith("4,000\u00a0ft: BKN040")
    assert taken(delayed, "Departure", "ceiling").startswith("1,300\u00a0ft: BKN013 (becoming")
    assert taken(planned, "Departure", "wind") == "360 true at 8\u00a0kt"
    assert "and 1 more" in taken(delayed, "Departure", "wind")
    assert "and 1 more" in taken(planned, "Destination", "wind")
    assert taken(delayed, "Destination", "wind") == "330 true at 10 gust 16\u00a0kt"
    assert "becoming" not in taken(delayed, "Destination", "ceiling")
    assert [row(each, "takeoff-crosswind").need for each in (planned, delayed)] == [0, 8]


def test_the_minimums_are_those_of_the_night(planned: Brief, delayed: Brief) -> None:
    assert row(planned, "departure-weather").answer == "4,000\u00a0ft, 6\u00a0SM; need 1,000\u00a0ft, 1\u00a0SM"
    assert row(planned, "arrival-weather").answer == "1,300\u00a0ft, 2\u00a0SM; need 1,000\u00a0ft, 1\u00a0SM"
    assert row(planned, "arrival-weather").state is State.MEETS
    assert row(delayed, "departure-weather").answer == "1,300\u00a0ft, 2\u00a0SM; need 1,000\u00a0ft, 1\u00a0SM"
    assert row(delayed, "departure-weather").state is State.MEETS  # 22:25Z is before the night, 22:43Z
    assert row(delayed, "arrival-weather").answer == "1,300\u00a0ft, 2\u00a0SM; need 1,500\u00a0ft, 3\u00a0SM"
    assert row(delayed, "arrival-weather").state is State.SHORT
    assert "at night" in field(delayed, "Destination").asked


def test_recency_with_a_passenger_is_asked_for_an_hour_after_sunset(planned: Brief, delayed: Brief) -> None:
    """PL-02: the log has three full stops of 2026-07-12, none of them at night."""
    before, after = (paper(each, "3 takeoffs and full-stop landings at night") for each in (planned, delayed))
    assert (before.asked, after.asked, after.standing) == (False, True, "not met")
    assert "from 1 h after sunset" in before.why
    assert after.why == "the log given has 0 of 3 takeoffs and 0 of 3 landings"
    assert "part-91-night-with-passengers" in raised(delayed) - raised(planned)


def test_the_equipment_is_lights_after_sunset_and_the_whole_list_at_night(planned: Brief, delayed: Brief) -> None:
    """AW-08: the airplane has position lights, no anticollision lights, and nothing is said of fuses."""
    before, night = paper(planned, "equipment, from"), paper(delayed, "equipment at night")
    assert (before.standing, before.rule) == ("current", "91.209(a)")
    assert (night.standing, night.rule, night.asked) == ("not met", "91.205(c)", True)
    assert "anticollision lights" in night.why
    assert row(planned, "papers-airplane").state is State.MEETS
    assert row(delayed, "papers-airplane").state is State.SHORT


def test_the_flight_review_is_counted_by_local_dates(planned: Brief, delayed: Brief, tmp_path: Path) -> None:
    """PL-04: good through 2026-07-31; the landing, and then the takeoff, are on 08-01 by the clocks there."""
    assert paper(planned, "flight review").standing == "runs out before the flight ends"
    assert paper(delayed, "flight review").standing == "expired"
    utc = worked(tmp_path, ("utc_offset: +2 h\n", ""), *DELAY)
    assert paper(utc, "flight review").standing == "current"
    assert utc.papers
    assert "the local date may differ" in utc.papers.taken


def test_every_reason_is_on_the_sheet(delayed: Brief) -> None:
    text = " ".join(summary(delayed).replace("\u00a0", " ").split())
    for words in (
        "Reserve of the rule 45 min: night from 22:43Z",
        "for position lights, from 22:25Z 00:25L",
        "1,300 ft, 2 SM; need 1,500 ft, 3 SM",
        "the log given has 0 of 3 takeoffs",
        "Day of the flight: 2026-08-01, local, UTC+2 h",
    ):
        assert words in text, words


def test_a_delay_without_the_time_of_use_is_seen(tmp_path: Path) -> None:
    """Only the takeoff is moved: the typed 22:05Z is 90 min too early, and the landing as worked is looked up."""
    brief = worked(tmp_path, DELAY[0])
    assert "weather-other-time" in raised(brief)
    doubts = field(brief, "Destination").doubts
    assert "'at' says 22:05Z on the 31st, but the airplane is there at 23:35Z on the 31st" in doubts
    assert not any("but the airplane" in each for each in field(brief, "Departure").doubts)
    assert taken(brief, "Destination", "wind") == "330 true at 10 gust 16\u00a0kt"


def test_a_flight_longer_than_three_hours_is_looked_up_where_it_ends(tmp_path: Path) -> None:
    """160 NM each way: 120 and 80 min, 200 together, so landing 00:15Z, past three hours and past midnight."""
    longer = (("distance: 56 NM", "distance: 160 NM"), ("    at: 2026-07-31T22:05Z\n", ""), ("17 gal", "24 gal"))
    brief = worked(tmp_path, *longer, ("1560 lb", "1585 lb"))
    assert "weather-other-time" not in raised(brief)
    assert field(brief, "Destination").window == "00:15Z on the 1st, the landing as worked"

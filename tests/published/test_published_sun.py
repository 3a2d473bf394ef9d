"""Sunrise, sunset, civil twilight and the three nights against published times.

The year's table is the US Naval Observatory's (read); it is kept as printed in tests/data. The second witness, for
twilight and for other latitudes, is a numerical ephemeris, kept beside it with how it was computed.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

import pytest
from conftest import ROOT

from briefgen.calc.daylight import (
    HORIZON_DEG,
    LIGHTS,
    LOGGED,
    NIGHTS,
    PASSENGERS,
    TWILIGHT_DEG,
    Event,
    SunDay,
    nights,
    reserve,
    sun_day,
)
from briefgen.model.route import Spot

DATA = ROOT / "tests" / "data"
FREDONIA = Spot(36 + 57 / 60, -(112 + 31 / 60))
WEST = timedelta(hours=7)  # 'Zone: 7h West of Greenwich', as the table prints
HALF_MIN = 0.5  # of a printed whole minute


def usno_year() -> list[tuple[datetime, datetime]]:
    """Return sunrise and sunset of every day of 2023, in UTC, as the table prints them."""
    found = []
    for line in (DATA / "usno_sun_2023_36d57m_n_112d31m_w.txt").read_text(encoding="utf-8").splitlines():
        if not re.match(r"\d\d  [\d ]", line):
            continue
        for month in range(12):
            pair = line[4 + 11 * month : 13 + 11 * month].split()
            if pair:
                day = datetime(2023, month + 1, int(line[:2]), tzinfo=UTC) + WEST
                rise, set_ = (day + timedelta(hours=int(each[:2]), minutes=int(each[2:])) for each in pair)
                found.append((rise, set_))
    return sorted(found)


class Row(NamedTuple):
    """One row of the second witness."""

    place: Spot
    noon: datetime  # of local mean time
    events: tuple[datetime | None, ...]


def witness() -> list[Row]:
    found = []
    for line in (DATA / "skyfield_sun_2026.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            continue
        north, east, day, *events = line.split()
        place = Spot(float(north), float(east))
        noon = datetime.fromisoformat(f"{day}T12:00Z") - timedelta(minutes=4 * place.longitude_deg)
        times = tuple(None if each == "-" else datetime.fromisoformat(each + "Z") for each in events)
        found.append(Row(place, noon, times))
    return found


def minutes_off(event: Event, published: datetime) -> float:
    assert event.at is not None
    return (event.at - published) / timedelta(minutes=1)


def test_all_730_times_of_a_year_are_those_of_the_naval_observatory() -> None:
    """SUN-01 (read): to half of the minute printed, and the tenth that the formulas are off."""
    year = usno_year()
    assert len(year) == 365
    off = []
    for rise, set_ in year:
        found = sun_day(rise + timedelta(hours=4), FREDONIA)
        off += [minutes_off(found.sunrise, rise), minutes_off(found.sunset, set_)]
    assert len(off) == 730
    assert max(map(abs, off)) < HALF_MIN + 0.1
    assert abs(sum(off[::2]) / 365) < 0.05  # to neither side: sunrise
    assert abs(sum(off[1::2]) / 365) < 0.05  # and sunset


@pytest.mark.parametrize(
    ("day", "rise", "set_"),
    [
        # SUN-01's own samples, as the check values quote them from the table: a guard on how the file is read
        ((1, 1), "0743", "1724"),
        ((3, 20), "0634", "1842"),
        ((6, 21), "0511", "1953"),
        ((9, 22), "0618", "1827"),
        ((12, 21), "0739", "1717"),
    ],
)
def test_the_table_is_read_as_it_is_printed(day: tuple[int, int], rise: str, set_: str) -> None:
    by_day = {((up - WEST).month, (up - WEST).day): (up - WEST, down - WEST) for up, down in usno_year()}
    assert [f"{each:%H%M}" for each in by_day[day]] == [rise, set_]


def test_one_day_elsewhere_is_that_of_the_naval_observatory() -> None:
    """SUN-02 (read): 40.8939 N 83.8917 W, 2018-09-12, 11:13 and 23:50 UTC; printed outward by up to a minute."""
    found = sun_day(datetime(2018, 9, 12, 17, 0, tzinfo=UTC), Spot(40.8939, -83.8917))
    assert abs(minutes_off(found.sunrise, datetime(2018, 9, 12, 11, 13, tzinfo=UTC))) < HALF_MIN + 0.1
    assert abs(minutes_off(found.sunset, datetime(2018, 9, 12, 23, 50, tzinfo=UTC))) < HALF_MIN + 0.1
    assert found.sunrise.printed in ("11:13Z", "11:14Z")
    assert found.sunset.printed in ("23:49Z", "23:50Z")


def test_the_angles_are_the_naval_observatory_s() -> None:
    """SUN-05 (read): centre 50 minutes of arc below the horizon; 6 degrees for civil twilight."""
    assert pytest.approx(-50 / 60) == HORIZON_DEG
    assert TWILIGHT_DEG == -6


@pytest.mark.parametrize(("north", "tolerance"), [((0, 55), 0.1), ((55, 65), 0.25), ((65, 90), 0.5)])
def test_a_numerical_ephemeris_gives_the_same_events(north: tuple[float, float], tolerance: float) -> None:
    """Second witness: DE421 by skyfield (computed), twilight too; and where it has no event there is none.

    The tolerances are what the module says of itself: wider where the sun passes the angle at a slant.
    """
    compared = 0
    for row in witness():
        if not north[0] <= abs(row.place.latitude_deg) <= north[1]:
            continue
        for event, published in zip(sun_day(row.noon, row.place), row.events, strict=True):
            assert (event.at is None) == (published is None), (row, event)
            if published is not None:
                compared += 1
                assert abs(minutes_off(event, published)) < tolerance, (row, event)
    assert compared > 60


def test_the_second_witness_has_hemispheres_and_days_without_events() -> None:
    rows = witness()
    assert len(rows) == 336
    assert {(row.place.latitude_deg > 0, row.place.longitude_deg > 0) for row in rows} >= {
        (True, True),
        (True, False),
        (False, True),
    }
    assert sum(None in row.events for row in rows) > 20


OHIO = Spot(41.281944, -84.362778)  # NT-04's place


def eighth(hour: int, minute: int) -> datetime:
    return datetime(2019, 11, 8, hour, minute, tzinfo=UTC)


def test_the_evening_of_the_worked_example_is_the_published_one() -> None:
    """NT-04 (times read): 2019-11-08, sunset 22:25, end of civil twilight 22:54 UTC."""
    found: SunDay = sun_day(eighth(20, 0), OHIO)
    assert abs(minutes_off(found.sunset, eighth(22, 25))) < HALF_MIN + 0.1
    assert abs(minutes_off(found.dusk, eighth(22, 54))) < HALF_MIN + 0.1


@pytest.mark.parametrize(
    ("landing", "touched"),
    [
        (eighth(22, 20), set()),
        (eighth(22, 30), {"lights"}),  # NT-01, 91.209(a): from sunset
        (eighth(22, 58), {"lights", "logged"}),  # NT-02, 1.1: from the end of civil twilight
        (eighth(23, 10), {"lights", "logged"}),  # NT-04: loggable, and does not count for 61.57(b)
        (eighth(23, 30), {"lights", "logged", "passengers"}),  # NT-03, 61.57(b): an hour after sunset
    ],
)
def test_the_three_nights_begin_one_after_the_other(landing: datetime, touched: set[str]) -> None:
    """NT-01 to NT-04 (rules read, logic by hand)."""
    found = nights((eighth(21, 30), landing), [OHIO])
    assert {each.night.id for each in found if each.parts} == touched


def test_the_three_nights_end_in_the_same_order_backwards() -> None:
    """NT-01 to NT-03 (read): an hour before sunrise, the beginning of civil twilight, sunrise."""
    morning = sun_day(datetime(2019, 11, 9, 17, 0, tzinfo=UTC), OHIO)
    assert morning.sunrise.at
    assert morning.dawn.at
    span = (eighth(23, 59), datetime(2019, 11, 9, 17, 0, tzinfo=UTC))
    ends = {each.night: each.parts[-1][1] for each in nights(span, [OHIO])}
    up_to_a_minute = timedelta(minutes=1)
    assert timedelta(0) <= ends[LIGHTS] - morning.sunrise.at < up_to_a_minute
    assert timedelta(0) <= ends[LOGGED] - morning.dawn.at < up_to_a_minute
    assert timedelta(0) <= ends[PASSENGERS] - (morning.sunrise.at - timedelta(hours=1)) < up_to_a_minute


def test_each_night_names_its_own_rule() -> None:
    """NT-01 to NT-03 (read)."""
    assert [each.source.text for each in NIGHTS] == ["14 CFR 91.209(a)", "14 CFR 1.1", "14 CFR 61.57(b)(1)"]


@pytest.mark.parametrize(
    ("landing", "minutes"),
    [(eighth(22, 20), 30), (eighth(22, 27), 45), (eighth(22, 58), 45), (eighth(21, 0), 30)],
)
def test_the_reserve_is_the_night_s_once_any_of_it_is_at_night(landing: datetime, minutes: float) -> None:
    """RG-01, NT-02 (read): dusk at 22:54, so a reserve of 30 min is by day up to a landing at 22:23 or 22:24."""
    found = reserve((eighth(20, 30), landing), [OHIO])
    assert found.value == minutes
    assert found.steps[0].source.text == "14 CFR 91.151(a)"

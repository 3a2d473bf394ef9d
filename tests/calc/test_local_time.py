"""Local date and time: what is printed beside UTC, and which date papers are looked at for.

Source of the evening: check value NT-04 (times read): 41.281944 N 84.362778 W, 2019-11-08 UTC, sunset 22:25, end of
civil twilight 22:54. The clocks there are 5 h behind UTC in November. Papers: 'the preceding 90 days' and 'calendar
months' (check values PL-03, PL-04; read) are counted in local dates, as logbooks are kept. The calendar by hand.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.calc.fuel import journey
from briefgen.calc.occasion import confirmations, occasion, papers_of
from briefgen.files.read_trip import read_trip
from briefgen.model.clock import Clock
from briefgen.model.confirmed import Confirmed
from briefgen.model.papers import LogLine
from briefgen.model.route import Fuel
from briefgen.model.trip import Trip
from briefgen.pipeline import work

TRIP, _ = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")
OHIO = {"latitude_deg": 41.281944, "longitude_deg": -84.362778}
EASTERN = Clock(-300)


def circuits(takeoff: datetime, minutes: float, out: Clock = EASTERN, home: Clock = EASTERN, **more: Any) -> Trip:
    """Return the example without its route: so many minutes in the air at the place of NT-04."""

    def there(use: Any, clock: Clock) -> Any:
        return use._replace(strip=use.strip._replace(**OHIO), clock=clock)

    departure = TRIP.departure._replace(use=there(TRIP.departure.use, out))
    arrival = TRIP.arrival._replace(use=there(TRIP.arrival.use, home))
    fuel = Fuel(34.0, 1.1, circuits_s=minutes * 60, flow_galh=8.0, takeoff=takeoff)
    trip = TRIP._replace(departure=departure, arrival=arrival, fuel=fuel, route=None, alternate=None)
    return trip._replace(**more)


def days(trip: Trip) -> tuple[date, date]:
    found = occasion(trip, journey(trip))
    return found.first_day, found.last_day


def rows(brief: Brief) -> list[tuple[str, ...]]:
    assert brief.daylight
    return [(each.field, each.at, each.sunset, each.dusk) for each in brief.daylight.rows]


def test_local_time_stands_beside_utc_in_the_lines_and_in_a_row_of_its_own() -> None:
    """21:00Z and 60 min: landing 22:00Z, 17:00 by clocks 5 h behind; sunset 22:25Z (down: 22:24 or 22:25)."""
    brief = work(circuits(datetime(2019, 11, 8, 21, 0, tzinfo=UTC), 60))
    assert brief.daylight
    assert brief.daylight.lines[0].startswith("Landing 22:00Z 17:00L, ")
    utc, local, *_ = rows(brief)
    assert utc[:2] == ("Quillmere, departure", "takeoff 21:00Z")
    assert utc[2] in ("22:24Z", "22:25Z")
    assert local[:2] == ("Quillmere, UTC\u22125\u00a0h", "takeoff 16:00L")
    assert (local[2][:2], local[2][3:5]) == ("17", utc[2][3:5])
    assert (local[3][:2], local[3][3:5]) == ("17", utc[3][3:5])
    assert "L: local, UTC\u22125\u00a0h; +1, \u22121: a day after, before that of the takeoff, 2019-11-08" in (
        brief.daylight.horizon
    )


def test_without_an_offset_all_is_utc_and_the_sheet_says_so() -> None:
    brief = work(circuits(datetime(2019, 11, 8, 21, 0, tzinfo=UTC), 60, Clock(), Clock()))
    assert brief.daylight
    assert brief.papers
    assert len(rows(brief)) == 2
    assert not any("L" in cell.partition(" ")[2] for each in rows(brief) for cell in each[1:])
    assert brief.daylight.horizon.startswith("UTC: the trip file gives no 'utc_offset'; ")
    assert brief.papers.taken.startswith(
        "Day of the flight: 2019-11-08, UTC, of the takeoff; the local date may differ: the trip file gives no"
    )


def test_past_local_midnight_times_have_their_day_and_papers_both_dates() -> None:
    """04:30Z on the 9th is 23:30 on the 8th; 40 min on it is 05:10Z, 00:10 on the 9th."""
    trip = circuits(datetime(2019, 11, 9, 4, 30, tzinfo=UTC), 40)
    assert days(trip) == (date(2019, 11, 8), date(2019, 11, 9))
    brief = work(trip)
    assert brief.daylight
    assert brief.papers
    assert brief.daylight.lines[0].startswith("Landing 05:10Z 00:10L+1, ")
    assert rows(brief)[1][1] == "takeoff 23:30L"
    assert rows(brief)[3][1] == "ETA 00:10L+1"
    assert brief.papers.taken.startswith(
        "Day of the flight: 2019-11-08 to 2019-11-09, local, UTC\u22125\u00a0h, of the takeoff. "
    )


def test_the_landing_that_is_rounded_up_to_midnight_is_on_the_next_day() -> None:
    """23:30 and 29.2 min are 23:59.2, printed as 24:00: the safe side for a paper that is good through the day."""
    assert days(circuits(datetime(2019, 11, 9, 4, 30, tzinfo=UTC), 29.2))[1] == date(2019, 11, 9)
    assert days(circuits(datetime(2019, 11, 9, 4, 30, tzinfo=UTC), 29))[1] == date(2019, 11, 8)


@pytest.mark.parametrize(
    ("clock", "standing"),
    [(EASTERN, "current"), (Clock(), "expired")],  # 2019-11-30 by local date; 2019-12-01 in UTC
)
def test_a_calendar_month_ends_at_local_midnight(clock: Clock, standing: str) -> None:
    """PL-04: a review of November 2017 is good through 2019-11-30. Takeoff 01:00Z on 12-01: 20:00 on 11-30."""
    trip = circuits(datetime(2019, 12, 1, 1, 0, tzinfo=UTC), 60, clock, clock)
    assert trip.pilot
    trip = trip._replace(pilot=trip.pilot._replace(flight_review=date(2017, 11, 12)))
    found = papers_of(trip, journey(trip)).pilot
    assert found
    assert next(each for each in found if each.id == "flight-review").standing.value == standing


@pytest.mark.parametrize(
    ("day", "clock", "reason"),
    [
        (date(2026, 5, 9), EASTERN, "day 90 - check: 2026-08-07 is the 90th day after 2026-05-09"),
        (date(2026, 5, 10), EASTERN, ""),  # 89 days before 2026-08-07
        (date(2026, 5, 10), Clock(), "day 90 - check: 2026-08-08 is the 90th day after 2026-05-10"),  # in UTC
    ],
)
def test_the_90_days_are_counted_in_local_dates(day: date, clock: Clock, reason: str) -> None:
    """PL-03: flight of 2026-08-07. Here 22:00 by clocks 5 h behind, so 03:00Z of the 8th."""
    trip = circuits(datetime(2026, 8, 8, 3, 0, tzinfo=UTC), 60, clock, clock)
    assert trip.pilot
    line = LogLine(day, 3, 3, 3, night_takeoffs=3, night_full_stops=3)
    trip = trip._replace(pilot=trip.pilot._replace(log=(line,)))
    found = papers_of(trip, journey(trip)).pilot
    assert found
    assert next(each for each in found if each.id == "recency-night").reason == reason


def test_clocks_that_differ_are_each_their_field_s_and_nights_stay_in_utc() -> None:
    """A destination 6 h behind: its landing at 23:10Z is 17:10 there; the night from 22:25Z is nobody's clock."""
    brief = work(circuits(datetime(2019, 11, 8, 22, 10, tzinfo=UTC), 60, home=Clock(-360)))
    assert brief.daylight
    assert brief.daylight.lines[0].startswith("Landing 23:10Z 17:10L, ")
    assert "L: local, UTC\u22125\u00a0h or UTC\u22126\u00a0h; +1" in brief.daylight.horizon
    assert "L" not in brief.daylight.lines[1].replace("Lighting", "")
    assert "daylight.lights_from" not in brief.said
    assert brief.said["daylight.eta"] == "23:10Z 17:10L"


def test_one_clock_that_is_not_known_is_said() -> None:
    brief = work(circuits(datetime(2019, 11, 8, 22, 10, tzinfo=UTC), 60, home=Clock()))
    assert brief.daylight
    assert "L: local, UTC\u22125\u00a0h, where the trip file gives an offset; +1" in brief.daylight.horizon
    assert len(rows(brief)) == 3


def test_a_calendar_that_is_a_day_behind_at_the_destination_is_not_before_the_takeoff() -> None:
    """12:00Z on the 8th is 01:00 on the 9th by clocks 13 h ahead; 1 h on, 11 h behind, it is 02:00 on the 8th."""
    trip = circuits(datetime(2019, 11, 8, 12, 0, tzinfo=UTC), 60, Clock(780), Clock(-660))
    assert days(trip) == (date(2019, 11, 9), date(2019, 11, 9))


def test_the_takeoff_time_of_circuits_counts_for_papers_and_confirmations() -> None:
    """As of 2026-05-16T14:00Z, with circuits on the 18th: papers of the 18th; notices of the 16th are old."""
    trip = circuits(datetime(2026, 5, 18, 14, 0, tzinfo=UTC), 60)
    assert days(trip) == (date(2026, 5, 18), date(2026, 5, 18))
    said = {"notices": Confirmed("A", "2026-05-16T13:20Z"), "overdue": Confirmed("A", "2026-05-18T15:00Z")}
    found = {each.id: each.open for each in confirmations(trip._replace(confirmed=said))}
    assert found["notices"].startswith("more than 24")
    assert found["overdue"] == "dated after the takeoff"


def test_the_route_prints_local_time_beside_takeoff_landing_and_the_last_of_the_fuel() -> None:
    """The example: takeoff 14:20Z; its log ends at 15:47Z. Clocks 4 h behind: 10:20 and 11:47."""
    clock = Clock(-240)
    out, home = TRIP.departure, TRIP.arrival
    trip = TRIP._replace(
        departure=out._replace(use=out.use._replace(clock=clock)),
        arrival=home._replace(use=home.use._replace(clock=clock)),
    )
    page, plain = work(trip).route, work(TRIP).route
    assert page
    assert plain
    assert page.setting[:2] == (
        "takeoff 14:20Z 10:20L",
        f"ETA {plain.eta} {int(plain.eta[:2]) - 4}{plain.eta[2:5]}L",
    )
    assert page.down_by == f"{plain.down_by} {int(plain.down_by[:2]) - 4}{plain.down_by[2:5]}L"

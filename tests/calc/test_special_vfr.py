"""Special VFR: its minimums, by day and after sunset, and what the sheet says must be true.

Source: 14 CFR 91.157 (check value RG-06, read): in a surface area, under a clearance, clear of clouds, 1 SM flight
visibility and for takeoff and landing 1 SM ground visibility; from sunset to sunrise only with pilot and airplane
for instrument flight. It names no ceiling; 500 ft over the ground is 91.119(c) (RG-07, read). Sunset at the
departure of the example on 2026-05-16 is 00:45Z of the 17th (astral, held against the USNO's table).
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.calc.sky import rounded, special_need
from briefgen.errors import Refusal
from briefgen.files.read_trip import read_trip
from briefgen.item import Item, State
from briefgen.model.trip import BY_DAY, FOR_INSTRUMENTS, Trip
from briefgen.model.weather import Seen
from briefgen.pipeline import caution, rules_of, work

TRIP, _ = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")


def planned(
    special: str, takeoff: datetime | None = None, ceiling_ft: float = 700.0, sight_SM: float = 1.5
) -> Trip:
    """Return the example with special VFR at its departure, in class D, and little to see by there."""
    use, route = TRIP.departure.use, TRIP.route
    assert use.conditions.weather
    assert route
    seen = use.conditions.weather._replace(ceiling=Seen(ceiling_ft), visibility=Seen(sight_SM))
    low = use._replace(
        strip=use.strip._replace(airspace="D"), special=special, conditions=use.conditions._replace(weather=seen)
    )
    minutes = takeoff.hour * 60 + takeoff.minute if takeoff else None
    return TRIP._replace(
        departure=TRIP.departure._replace(use=low),
        route=route._replace(takeoff=takeoff, takeoff_min=minutes),
        policy=None,
    )


def row(brief: Brief) -> Item:
    return next(each for each in brief.items if each.id == "departure-weather")


DAY, LATE = datetime(2026, 5, 16, 14, 20, tzinfo=UTC), datetime(2026, 5, 17, 0, 55, tzinfo=UTC)


def test_by_day_a_mile_and_clear_of_clouds_are_enough() -> None:
    """In class D the pattern asks for 1,500 ft and 3 SM: short without special VFR."""
    found = row(work(planned(BY_DAY, DAY)))
    assert found.state is State.UNDER  # no policy
    assert (
        found.answer == "700\u00a0ft, 1.5\u00a0SM; need 500\u00a0ft, 1\u00a0SM; special VFR, only with a clearance"
    )
    assert row(work(planned("", DAY))).state is State.SHORT


@pytest.mark.parametrize(("ceiling", "sight"), [(499.0, 1.5), (700.0, 0.99)])
def test_under_them_it_is_short(ceiling: float, sight: float) -> None:
    assert row(work(planned(BY_DAY, DAY, ceiling, sight))).state is State.SHORT


def test_after_sunset_it_is_for_instrument_pilots_and_airplanes() -> None:
    """The takeoff at 00:55Z is after sunset, 00:45Z, and before the end of twilight."""
    brief = work(planned(BY_DAY, LATE))
    found = row(brief)
    reason = "special VFR from sunset to sunrise is for instrument pilots and airplanes"
    assert (found.state, found.reason, found.answer) == (State.SHORT, reason, reason)
    assert brief.weather
    assert brief.weather.fields[0].asked == reason
    assert row(work(planned(FOR_INSTRUMENTS, LATE))).state is State.UNDER


def test_without_a_time_the_sun_is_not_known() -> None:
    found = row(work(planned(BY_DAY)))
    assert (found.state, found.answer) == (State.NOT_SHOWN, "")
    assert row(work(planned(FOR_INSTRUMENTS))).state is State.UNDER


def test_the_policy_s_own_minimums_still_count() -> None:
    """The example's club asks for 1,500 ft and 5 SM."""
    found = row(work(planned(BY_DAY, DAY)._replace(policy=TRIP.policy)))
    assert found.state is State.UNDER
    assert "policy 1,500\u00a0ft, 5\u00a0SM" in found.answer


def test_the_sheet_says_what_must_be_true() -> None:
    brief = caution(work(planned(BY_DAY, DAY)), rules_of(TRIP.policy)[0])
    text = next(each.text for each in brief.cautions if each.id == "part-91-special-vfr")
    assert text.startswith("Special VFR is planned: Quillmere, by day. It takes a clearance")
    assert "From sunset to sunrise pilot and airplane must be for instrument flight" in text
    assert brief.weather
    assert brief.weather.fields[0].asked == (
        "asked for under special VFR, by day: 500\u00a0ft, 1\u00a0SM, clear of clouds; only with a clearance"
    )


def test_the_height_of_the_field_is_no_part_of_the_ceiling_and_it_must_be_below_10_000_ft() -> None:
    strip = TRIP.departure.use.strip
    assert rounded(special_need(strip._replace(elevation_ft=9_499), False, instrument=False)) == (500, 1)
    with pytest.raises(Refusal, match="below 10,000"):
        special_need(strip._replace(elevation_ft=9_500), False, instrument=False)

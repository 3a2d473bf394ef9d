"""Days of the month near a known moment: month ends, year ends, leap days, hour 24.

Source: the calendar, computed by hand; that hour 24 ends a day is WMO-No. 306, FM 51 (from memory).
"""

from __future__ import annotations

import calendar
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading import on

from briefgen.errors import Refusal
from briefgen.reports.metar import read_metar
from briefgen.reports.moments import near, window
from briefgen.reports.taf import read_taf


@pytest.mark.parametrize(
    ("code", "reference", "moment"),
    [
        ((31, 23, 50), on(1, 0, 30, 2), on(31, 23, 50, 1)),
        ((1, 0, 10), on(31, 23, 50, 1), on(1, 0, 10, 2)),
        ((31, 23, 0), on(1, 1, 0, 1, 2027), on(31, 23, 0, 12, 2026)),
        ((1, 0, 0), on(31, 22, 0, 12, 2026), on(1, 0, 0, 1, 2027)),
        ((29, 12, 0), on(1, 6, 0, 3, 2028), on(29, 12, 0, 2, 2028)),  # 2028 is a leap year
        ((29, 12, 0), on(1, 6, 0, 3, 2026), on(29, 12, 0, 3, 2026)),  # 2026 is not: the end of March is nearest
        ((10, 24, 0), on(10, 12), on(11, 0)),
        ((31, 24, 0), on(31, 12, 0, 12, 2026), on(1, 0, 0, 1, 2027)),
    ],
)
def test_a_day_and_time_is_the_nearest_one(
    code: tuple[int, int, int], reference: datetime, moment: datetime
) -> None:
    assert near(*code, reference) == moment


@pytest.mark.parametrize("code", [(0, 12, 0), (32, 12, 0), (9, 25, 0), (9, 24, 1), (9, 12, 60)])
def test_a_time_that_no_day_has_is_none(code: tuple[int, int, int]) -> None:
    assert near(*code, on(9, 12)) is None


@given(st.datetimes(datetime(1990, 1, 1), datetime(2090, 1, 1)), st.integers(-20_000, 20_000))
def test_any_time_within_a_fortnight_comes_back(naive: datetime, minutes: int) -> None:
    reference = naive.replace(tzinfo=on(1, 0).tzinfo, second=0, microsecond=0)
    moment = reference + timedelta(minutes=minutes)
    assert calendar.monthrange(moment.year, moment.month)[1] >= 28  # no month is shorter than two fortnights
    assert near(moment.day, moment.hour, moment.minute, reference) == moment


def test_a_window_over_midnight_names_both_days() -> None:
    assert window(on(9, 22), on(10, 2)) == "22:00Z on the 9th to 02:00Z on the 10th"


def test_a_report_of_the_last_day_of_a_year_is_read_on_the_first() -> None:
    assert read_metar("METAR XAAA 312355Z 08008KT", on(1, 0, 20, 1, 2027)).made == on(31, 23, 55, 12, 2026)


def test_a_forecast_over_the_end_of_a_month_ends_in_the_next() -> None:
    said = read_taf(
        "TAF XAAA 311730Z 3118/0124 15005KT P6SM SKC TEMPO 3122/0102 1SM FM010300 18005KT 1SM SKC", on(1, 2, 0, 6)
    )
    assert (said.valid_from, said.valid_to) == (on(31, 18), on(2, 0, 0, 6))
    assert (said.periods[1].from_, said.periods[1].to) == (on(31, 22), on(1, 2, 0, 6))
    assert said.periods[2].from_ == on(1, 3, 0, 6)


@pytest.mark.parametrize("validity", ["0918/0918", "0918/0912", "0918/1107", "0925/1006", "3218/3224", "0918/1025"])
def test_a_validity_that_ends_before_it_begins_or_is_too_long_is_refused(validity: str) -> None:
    with pytest.raises(Refusal, match=f"{validity} is no validity of 36 hours at most"):
        read_taf(f"TAF XAAA 091730Z {validity} 15005KT P6SM SKC", on(9, 18))

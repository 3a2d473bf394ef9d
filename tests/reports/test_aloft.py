"""Winds and temperatures aloft.

Source: the standard coding of such tables, from memory (two digits of tens of degrees true, two of knots, then
temperature; 50 added to the direction adds 100 kt; 9900 light and variable; above 24,000 ft no sign and below zero;
the levels nearest to the ground left out). The groups are made up by that rule and decoded by hand.
"""

from __future__ import annotations

import pytest
from reading import on

from briefgen.errors import Refusal
from briefgen.reports import model
from briefgen.reports.aloft import read_aloft
from briefgen.reports.model import Aloft, Level

TABLE = """DATA BASED ON 010000Z
VALID 010600Z   FOR USE 0500-0900Z. TEMPS NEG ABV 24000

FT  3000    6000    9000   12000   18000   24000  30000  34000  39000
XRL 2727 2226-06 2322+11 2124-16 2440-27 2350-38 236345 234554 731960
XHI      9900+00 2322-11 2124-16 2440-27 2350-38 236345 234554 819960
"""
NEAR = on(31, 20, 0, 12)


def level(code: str, altitude: int = 9000) -> Level | None:
    """Return one level of a table of one."""
    levels = read_aloft(f"FT {altitude}\nXRL {code}", "XRL", NEAR).levels
    return levels[0] if levels else None


def figures(found: Level | None) -> tuple[float | None, float, float | None]:
    assert found
    assert found.wind.wind.gust_kt == found.wind.wind.steady_kt
    return found.wind.wind.from_deg, found.wind.wind.steady_kt, found.temperature_degC


def altitudes(found: Aloft) -> list[float]:
    return [each.altitude_ft for each in found.levels]


def test_a_row_is_read_level_by_level() -> None:
    found = read_aloft(TABLE, "xrl", NEAR)
    assert altitudes(found) == [3000, 6000, 9000, 12_000, 18_000, 24_000, 30_000, 34_000, 39_000]
    assert [figures(each) for each in found.levels[:3]] == [(270, 27, None), (220, 26, -6), (230, 22, 11)]
    assert found.levels[1].words == "at 6,000\u00a0ft the wind is from 220° true at 26\u00a0kt, \u22126\u00a0°C"


def test_its_times_are_those_nearest() -> None:
    found = read_aloft(TABLE, "XRL", NEAR)
    day = (1, 2027)
    assert (found.valid, found.use_from, found.use_to) == (
        on(1, 6, 0, *day),
        on(1, 5, 0, *day),
        on(1, 9, 0, *day),
    )
    over = read_aloft("VALID 010000Z FOR USE 2100-0600Z\nFT 9000\nXRL 2322-11", "XRL", NEAR)
    assert (over.use_from, over.use_to) == (on(31, 21, 0, 12), on(1, 6, 0, *day))


def test_a_table_without_a_window_or_without_any_time_leaves_them_out() -> None:
    some = read_aloft("VALID 010000Z\nFT 9000\nXRL 2322-11", "XRL", NEAR)
    assert (some.valid, some.use_from, some.use_to) == (on(1, 0, 0, 1, 2027), None, None)
    none = read_aloft("FT 9000\nXRL 2322-11", "XRL", NEAR)
    assert (none.valid, none.use_from, none.use_to) == (None, None, None)


@pytest.mark.parametrize("line", ["VALID 320000Z", "VALID 012560Z FOR USE 0500-0900Z", "DATA BASED ON 019900Z"])
def test_a_time_that_no_day_has_is_not_decoded(line: str) -> None:
    found = read_aloft(f"{line}\nFT 9000\nXRL 2322-11", "XRL", NEAR)
    assert found.valid is None
    assert list(model.not_decoded(found.groups)) == line.split()


def test_a_window_of_use_that_no_day_has_is_left_out() -> None:
    found = read_aloft("VALID 010600Z FOR USE 0599-0900Z\nFT 9000\nXRL 2322-11", "XRL", NEAR)
    assert (found.valid, found.use_from, found.use_to) == (on(1, 6, 0, 1, 2027), None, None)


@pytest.mark.parametrize(
    ("code", "altitude", "expected"),
    [
        ("2322+11", 9000, (230, 22, 11)),
        ("2322-11", 9000, (230, 22, -11)),
        ("3600+00", 9000, (360, 0, 0)),
        ("2350-38", 24_000, (230, 50, -38)),
        ("731960", 39_000, (230, 119, -60)),
        ("236345", 30_000, (230, 63, -45)),
        ("860045", 30_000, (360, 100, -45)),
        ("510045", 30_000, (10, 100, -45)),
        ("7519-20", 18_000, (250, 119, -20)),
    ],
)
def test_a_group_by_the_standard_coding(code: str, altitude: int, expected: tuple[float, float, float]) -> None:
    assert figures(level(code, altitude)) == expected


def test_light_and_variable_is_less_than_five_knots_from_anywhere() -> None:
    found = level("9900+07")
    assert figures(found) == (None, 5, 7)
    assert found
    assert "light and variable, less than 5\u00a0kt" in found.words


def test_the_fastest_that_can_be_coded_is_that_or_more() -> None:
    found = level("819960", 39_000)
    assert found
    assert found.wind.more_than
    assert figures(found) == (310, 199, -60)
    assert "at 199\u00a0kt or more" in found.words


@pytest.mark.parametrize("code", ["0012-05", "3712-05", "5012-05", "8712-05", "9910-05", "23220", "232211", "abcd"])
def test_a_group_that_the_coding_does_not_have_is_not_decoded(code: str) -> None:
    """232211 at 9,000 ft has a temperature without a sign."""
    found = read_aloft(f"FT 9000\nXRL {code}", "XRL", NEAR)
    assert not found.levels
    assert model.not_decoded(found.groups) == (code,)


def test_levels_left_out_near_the_ground_are_told_by_their_columns() -> None:
    assert altitudes(read_aloft(TABLE, "XHI", NEAR))[:2] == [6000, 9000]


def test_a_row_of_fewer_groups_whose_columns_do_not_tell_which_is_refused() -> None:
    with pytest.raises(Refusal, match="the row has 2 groups for 3 altitudes, and its columns do not tell which"):
        read_aloft("FT 3000 6000 9000\nXRL 2322-11 2322-12", "XRL", NEAR)
    with pytest.raises(Refusal, match="the row has 2 groups for 1 altitudes"):
        read_aloft("FT 3000\nXRL 2322-11 2322-12", "XRL", NEAR)


@pytest.mark.parametrize(
    ("text", "station", "reason"),
    [
        (TABLE, "XZZ", "the text has no row of XZZ: it has to have one"),
        (TABLE + "XRL 2727", "XRL", "the text has 2 rows of XRL"),
        (TABLE, "FT", "no row of FT"),
        ("XRL 2727", "XRL", "one line of altitudes"),
        (TABLE + "FT 3000", "XRL", "one line of altitudes"),
        ("FT 6000 3000\nXRL 2727 2322-11", "XRL", "the altitudes do not rise along their line"),
        ("FT 3000 3000\nXRL 2727 2322-11", "XRL", "the altitudes do not rise along their line"),
        ("X" * 4001, "XRL", "the text has 4,001 characters; no more than 4,000 are read"),
    ],
)
def test_a_text_without_the_row_asked_for_is_refused(text: str, station: str, reason: str) -> None:
    with pytest.raises(Refusal, match=reason):
        read_aloft(text, station, NEAR)


def test_every_token_of_the_table_is_accounted_for() -> None:
    found = read_aloft(TABLE + "a word\n", "XRL", NEAR)
    assert [token for group in found.groups for token in group.tokens] == (TABLE + "a word").split()
    assert model.not_decoded(found.groups) == ("a", "word")
    assert [group.text for group in found.groups if group.kind == model.OTHER] == [
        " ".join(TABLE.splitlines()[-1].split())
    ]

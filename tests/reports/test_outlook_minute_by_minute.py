"""A window holds what each of its minutes holds, and a minute what a plain reading of the text gives.

Source: WMO-No. 306, FM 51 (51.8, 51.9; read), worked out here a second time, from the text and by the clock alone:
FM ends all before it, BECMG what prevailed when it is complete, the others stand beside it from start to end.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from made import tafs
from reading import NEAR, on

from briefgen.reports.outlook import expected
from briefgen.reports.taf import read_taf

START, END = on(9, 18), on(11, 0)
HEADING = re.compile(r"(FM\d{6}|(?:BECMG|PROB\d0 TEMPO|PROB\d0|TEMPO) \d{4}/\d{4}) ")
SEEN = re.compile(r"(?:\d )?[\d/]+SM")


def moment(code: str) -> datetime:
    return on(int(code[:2]), 0) + timedelta(hours=int(code[2:4]), minutes=int(code[4:] or 0))


def by_hand(text: str, at: datetime) -> set[str]:
    """Return every visibility that counts at a moment, as coded."""
    first, *rest = HEADING.split(text)
    prevailing = [(SEEN.findall(first)[-1], END)]
    beside = []
    for heading, said in sorted(zip(rest[::2], rest[1::2], strict=True), key=lambda each: start(each[0])):
        seen = SEEN.findall(said)[0]
        if start(heading) > at:
            continue
        if heading.startswith("FM"):
            prevailing = [(seen, END)]
        elif heading.startswith("BECMG"):
            complete = moment(heading[-4:])
            prevailing = [(old, min(until, complete)) for old, until in prevailing] + [(seen, END)]
        else:
            beside.append((seen, moment(heading[-4:])))
    return {seen for seen, until in prevailing + beside if at < until}


def start(heading: str) -> datetime:
    return moment(heading[2:] if heading.startswith("FM") else heading[-9:-5])


@settings(max_examples=150, deadline=None)
@given(tafs(), st.integers(0, 30 * 60 - 1))
def test_a_moment_holds_what_a_plain_reading_gives(text: str, minutes: int) -> None:
    at = START + timedelta(minutes=minutes)
    found = expected(read_taf(text, NEAR), at, at)
    assert {each.text for each in found.visibilities} == by_hand(text, at)
    assert not found.doubts


@settings(max_examples=25, deadline=None)
@given(tafs(), st.integers(0, 27 * 60), st.integers(0, 150))
def test_a_window_holds_what_its_minutes_hold(text: str, minutes: int, length: int) -> None:
    said, from_ = read_taf(text, NEAR), START + timedelta(minutes=minutes)
    found = expected(said, from_, from_ + timedelta(minutes=length))
    each = [from_ + timedelta(minutes=minute) for minute in range(length + 1)]
    assert {one.text for one in found.visibilities} == set().union(*(by_hand(text, at) for at in each))
    worst = min(found.visibilities, key=lambda one: one.value.distance_SM)
    assert found.visibility
    assert found.visibility.value.distance_SM == worst.value.distance_SM

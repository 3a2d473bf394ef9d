"""Which number may have been meant: each slip by hand, and every slip undone."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefgen.studies.slips import (
    DOUBLED,
    DROPPED,
    MISTYPED,
    POINT,
    SWAPPED,
    Mend,
    meant_for,
    mend,
    off_step,
    printed_step,
)


@pytest.mark.parametrize(
    ("typed", "expected", "step", "meant"),
    [
        ("1235", 1325, 5, Mend("1325", SWAPPED)),
        ("13325", 1325, 5, Mend("1325", DOUBLED)),
        ("132", 1325, 5, Mend("1325", DROPPED)),
        ("325", 1325, 5, Mend("1325", DROPPED)),
        ("1825", 1325, 5, Mend("1325", MISTYPED)),
        ("13725", 1325, 5, Mend("1325", MISTYPED)),  # one digit too many
        ("93", 9.3, 0.1, Mend("9.3", POINT)),
        ("8.3", 9.3, 0.1, Mend("9.3", MISTYPED)),
        ("2145", 1042, 5, None),  # a number of another cell: no slip of a finger makes it of 1040
        ("1235", 1327, 5, Mend("1325", SWAPPED)),  # 1330 is as near, and no slip away
    ],
)
def test_what_was_meant(typed: str, expected: float, step: float, meant: Mend | None) -> None:
    assert mend(typed, expected, expected * 0.003, step) == meant


def test_a_number_off_the_step_of_the_table_is_not_meant() -> None:
    found = mend("100", 1003, 3, 5)  # 1003 is one digit more, and no number that the table would print
    assert found is not None
    assert found.text in ("1000", "1005")


@pytest.mark.parametrize(
    ("texts", "step"),
    [
        ("725 1265 790 1400", 5),
        ("9.3 8.6 8.0", 0.1),
        ("104 103 107", 1),
        ("100 150 250", 50),
        (" ".join(["725"] * 30 + ["1152"]), 5),  # one slip among many is no step
        ("725 1152", 1),
    ],
)
def test_the_step_that_a_table_is_printed_in(texts: str, step: float) -> None:
    assert printed_step(texts.split()) == pytest.approx(step)


def test_a_number_between_two_steps() -> None:
    assert off_step("1152", 5)
    assert not off_step("1155", 5)
    assert not off_step("9.3", 0.1)


@given(st.integers(100, 9999), st.data())
def test_every_slip_can_be_undone(number: int, data: st.DataObject) -> None:
    text = str(number)
    i = data.draw(st.integers(0, len(text) - 1))
    slips = [text[:i] + text[i + 1 :], text[:i] + text[i] + text[i:]]
    slips.append(text[:i] + data.draw(st.sampled_from("0123456789")) + text[i + 1 :])
    if i:
        slips.append(text[: i - 1] + text[i] + text[i - 1] + text[i + 1 :])
    for slip in slips:
        if slip and slip != text:
            assert text in {meant for meant, _ in meant_for(slip)}, slip

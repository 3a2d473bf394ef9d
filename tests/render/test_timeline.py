"""The line of time of the daylight: every flag beside its own pole, and no words over words or over a pole.

The widths of words are those that the drawing counts with, for which `LETTER` was measured. Rules of legibility:
common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from briefgen.daylight_page import Moment, Timeline
from briefgen.render.timeline import Flag, lay_out

WIDTH = 1230.0
MINUTES = st.lists(st.floats(0, 600), min_size=1, max_size=5, unique=True)


def line(flight: Iterable[float], sun: Iterable[float] = (580.0, 611.0)) -> Timeline:
    moments = [Moment("flight", f"moment {n} 15:1{n}Z", at, strong=n == 1) for n, at in enumerate(flight)]
    moments += [Moment("sun", f"sunset {n} 00:5{n}Z", at) for n, at in enumerate(sun)]
    return Timeline(0.0, 611.0, 51.0, 860, tuple(moments), (), "a line of time")


def over(one: Flag, other: Flag) -> bool:
    """Whether the words of two flags in one line lie over each other."""
    return one.y == other.y and one.span[0] < other.span[1] and other.span[0] < one.span[1]


def pole_over_words(pole: Flag, words: Flag, band: float) -> bool:
    """Whether a pole, from its own words to the band, crosses the words of another flag."""
    between = abs(words.y - band) < abs(pole.y - band)
    return between and words.span[0] < pole.x < words.span[1]


@given(MINUTES, MINUTES)
def test_no_words_lie_over_words(flight: list[float], sun: list[float]) -> None:
    drawn = lay_out(line(flight, sun), WIDTH)
    for flags in (drawn.above, drawn.below):
        assert not any(over(one, other) for one, other in combinations(flags, 2))


@given(MINUTES)
def test_no_pole_crosses_words_where_all_flags_fly_to_one_side(flight: list[float]) -> None:
    drawn = lay_out(line(at / 2 for at in flight), WIDTH)  # the first half of the line: room to the right
    assert not any(flag.leftward for flag in drawn.above)
    for pole in drawn.above:
        assert not any(pole_over_words(pole, other, drawn.band.y) for other in drawn.above if other != pole)


def test_a_flag_at_the_right_end_flies_to_the_left() -> None:
    drawn = lay_out(line([0.0]), WIDTH)
    assert [flag.leftward for flag in drawn.below] == [True, True]
    assert all(flag.span[1] <= WIDTH for flag in drawn.below)


@given(MINUTES)
def test_every_flag_stands_on_its_own_minute(flight: list[float]) -> None:
    """40 on each side are margin: a minute is (1230 - 80) / 611 wide."""
    drawn = lay_out(line(flight), WIDTH)
    wanted = {f"moment {n} 15:1{n}Z": 40 + at * 1150 / 611 for n, at in enumerate(flight)}
    assert all(abs(flag.x - wanted[flag.text]) <= 0.06 for flag in drawn.above)

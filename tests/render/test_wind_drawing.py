"""The wind on a runway, drawn and said: against components worked by hand, and its geometry at any wind."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, radians, sin
from pathlib import Path

import pytest
from changed import changed, only
from hypothesis import given, settings
from hypothesis import strategies as st
from test_drawings import Box, box_at

from briefgen.calc.flight import scene_of
from briefgen.model.policy import NO_POLICY
from briefgen.model.strip import End, Runway, Strip
from briefgen.model.trip import Use
from briefgen.model.weather import Conditions, NotGiven, Wind
from briefgen.pipeline import brief_of
from briefgen.plans import Reading
from briefgen.render.sheet import to_html
from briefgen.render.wind_drawing import MIDDLE, RING, WORDS_X, lay_out
from briefgen.wind_picture import WindPicture, wind_picture

RUNWAY = Runway(2000, "paved", (End("17", 170, 0), End("35", 350, 0)), 0.0)
FIELD = Strip("Here", 500, 40.0, -84.0, 0.0, (RUNWAY,), "by hand")


def picture(*winds: Wind) -> WindPicture:
    conditions: Conditions | NotGiven = NotGiven("the trip file gives no conditions here")
    if winds:
        conditions = Conditions(15.0, 1013.25, winds[0], "dry", other_winds=winds[1:])
    use = Use(FIELD, RUNWAY, *RUNWAY.ends, conditions)
    return wind_picture(use, scene_of(use, NO_POLICY))


def test_a_gusty_wind_from_ahead_and_the_right() -> None:
    """8 gust 14 from 200° on 170°: 30° right; 8 cos 30° = 6.93 is a headwind of 6; 14 sin 30° = 7 across."""
    drawn = picture(Wind(200, 8, 14))
    assert drawn.words == ("8 gust 14\u00a0kt", "headwind 6\u00a0kt", "crosswind 7\u00a0kt", "from the right")
    assert (drawn.near_ident, drawn.far_ident) == ("17", "35")
    assert drawn.text == (
        "Runway 17 from above, its heading up: wind 8 gust 14\u00a0kt from 30° to the right of straight ahead; "
        "headwind 6\u00a0kt, crosswind 7\u00a0kt from the right"
    )
    line = lay_out(drawn).blows[0].line
    x, y = (float(each) for each in re.findall(r"[\d.]+", line)[:2])
    radius = hypot(x - MIDDLE, y - MIDDLE)
    assert (x - MIDDLE, MIDDLE - y) == pytest.approx(
        (radius * sin(radians(30)), radius * cos(radians(30))), abs=0.1
    )


def test_a_tailwind_is_said_with_its_gust_rounded_up() -> None:
    """8 gust 13 from 290° on 170°: 120° right; 13 cos 60° = 6.5 is a tailwind of 7; 13 sin 60° = 11.26 is 12."""
    drawn = picture(Wind(290, 8, 13))
    assert drawn.words[1:] == ("tailwind 7\u00a0kt", "crosswind 12\u00a0kt", "from the right")


@pytest.mark.parametrize(("from_deg", "said"), [(170, "straight ahead"), (350, "straight behind")])
def test_a_wind_along_the_runway(from_deg: float, said: str) -> None:
    assert f"wind 10\u00a0kt from {said}" in picture(Wind(from_deg, 10, 10)).text


def test_a_calm_has_no_arrow() -> None:
    drawn = picture(Wind(None, 0, 0))
    assert drawn.arrows == ()
    assert drawn.words[0] == "calm"
    assert "calm" in drawn.text


def test_no_wind_known_says_why() -> None:
    drawn = picture()
    assert (drawn.arrows, drawn.words) == ((), ("no wind known",))
    assert "the trip file gives no conditions here" in drawn.text


def test_a_variable_wind_is_an_arc_all_round_and_counts_in_full() -> None:
    drawn = picture(Wind(None, 5, 5))
    assert drawn.words == ("5\u00a0kt", "tailwind 5\u00a0kt", "crosswind 5\u00a0kt", "from either side")
    blow = lay_out(drawn).blows[0]
    assert (blow.line, blow.head) == ("", "")
    assert blow.arc
    assert "5\u00a0kt, variable" in drawn.text


def test_a_range_is_an_arc_from_one_end_to_the_other() -> None:
    """160° to 220° on 170° are 10° to the left and 50° to the right: the arc is short, clockwise."""
    drawn = picture(Wind(190, 9, 9, (160, 220)))
    assert drawn.arrows[0].between_deg == (350, 50)
    assert " 0 0 1 " in lay_out(drawn).blows[0].arc
    assert "varying" in drawn.text
    assert " 0 1 1 " in lay_out(picture(Wind(190, 9, 9, (100, 320)))).blows[0].arc


def test_every_wind_that_counts_is_drawn_and_the_first_is_told_apart() -> None:
    drawn = picture(Wind(200, 8, 14), Wind(240, 6, 6))
    assert [blow.first for blow in lay_out(drawn).blows] == [True, False]
    assert "worst of all winds counted" in drawn.text


WINDS = st.builds(
    lambda from_deg, steady, more, varies: Wind(
        from_deg, steady, steady + more, None if varies is None else ((from_deg - varies) % 360, from_deg)
    ),
    st.floats(0, 359.9),
    st.floats(1, 60),
    st.floats(0, 40),
    st.none() | st.floats(5, 350),
)


@settings(deadline=None)
@given(WINDS)
def test_words_touch_no_words_and_no_arrow_and_none_leave_the_drawing(wind: Wind) -> None:
    drawn = lay_out(picture(wind))
    boxes: list[Box] = [box_at(line, drawn.words_x, y, strong) for line, y, strong in drawn.words]
    assert not any(a.over(b) for a, b in pairwise(boxes))
    assert all(box.right <= drawn.width and box.top >= 0 and box.bottom <= drawn.height for box in boxes)
    for blow in drawn.blows:
        numbers = [float(each) for each in re.findall(r"[\d.]+", blow.line + " " + blow.head)]
        for x, y in zip(numbers[::2], numbers[1::2], strict=True):
            assert 0 <= x < WORDS_X
            assert 0 <= y <= drawn.height
            assert hypot(x - MIDDLE, y - MIDDLE) > RING


def test_the_runway_and_its_idents_stand_inside_the_ring() -> None:
    drawn = lay_out(picture(Wind(200, 8, 14)))
    width, length = drawn.runway
    assert hypot(width / 2, length / 2) <= RING
    assert box_at("35R", 0, 0, True).right <= width


def test_a_speed_that_is_not_known_leaves_the_wind_a_row_of_its_own(example: Path) -> None:
    """Its reason would not stand in the narrow column of speeds beside the picture."""
    brief = brief_of(example, "trip.yaml")
    html = to_html(only(brief, "takeoff"), for_screen=False)
    assert html.count('<td class="wind" rowspan="3">') == html.count('class="rose"') == 1
    assert f'alt="{brief.takeoff.wind_picture.text}"' in html
    without = Reading("liftoff", None, "kt", "the aircraft file gives no liftoff speed")
    page = replace(brief.takeoff, speeds=(without, *brief.takeoff.speeds[1:]))
    html = to_html(changed(only(brief, "takeoff"), takeoff=page), for_screen=False)
    assert "rowspan" not in html
    assert html.count('class="rose"') == 1
    assert html.count("gives no liftoff speed") == 1

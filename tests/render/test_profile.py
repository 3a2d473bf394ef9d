"""The side view of an approach and of a climb: heights by hand, all of it to scale, no words over words."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from changed import only
from hypothesis import given, settings
from hypothesis import strategies as st
from test_drawings import NAMES, Box, box_at, real_width, through

from briefgen.brief import Brief
from briefgen.items import over_obstacles
from briefgen.pipeline import brief_of
from briefgen.render.profile import SIDE, Profile, lay_out
from briefgen.render.sheet import to_html
from briefgen.side_view import SideView, Top, Way, approach_view

WIDTH = 1230.0
HARD = "\u00a0"


@pytest.fixture(scope="module")
def brief() -> Brief:
    path = Path(__file__).resolve().parents[2] / "examples" / "quillmere" / "trip.yaml"
    return brief_of(path, "trip.yaml")


def boxes_of(drawn: Profile) -> list[Box]:
    boxes = []
    for flag in drawn.above + drawn.below:
        for text, y in flag.lines:
            left = flag.words_x - (real_width(text, flag.strong) if flag.leftward else 0)
            boxes.append(box_at(text, left, y, flag.strong))
    return boxes


def test_the_approach_over_the_hedge_by_hand(brief: Brief) -> None:
    """A hedge of 10 ft, 60 ft before a threshold with the aim point 80 ft past it, at the policy's 3.5°.

    tan 3.5° = 0.06116. 50 ft over the threshold end 50 / 0.06116 = 817.5 ft past it, and are 877.5 x 0.06116 =
    53.7 ft up at the hedge; the path to the aim point is 140 x 0.06116 = 8.56 ft up there.
    """
    view = brief.landing.side
    assert view is not None
    assert view.said == (
        f"Solid: 3.5°, the policy's, through 50{HARD}ft over the threshold: 53{HARD}ft up at the hedge, 10{HARD}ft",
        f"Dashed: 3.5° to the aim point: 8{HARD}ft up at the hedge, 10{HARD}ft: not over it",
    )
    assert [(top.label, top.at_ft, top.height_ft) for top in view.tops] == [
        (f"hedge, 10{HARD}ft", -60, 10),
        ("50 ft", 0, 50),
    ]
    assert view.marks == (("threshold", 0), ("aim", 80), ("down by 200", 200))
    solid, dashed = view.ways
    assert solid.points[-1] == pytest.approx((817.5, 0), abs=0.1)
    assert (dashed.dashed, dashed.points[-1]) == (True, (80, 0))
    assert all(each in view.text for each in ("Approach from the side, Tansy Bottom 09", *view.said))


def test_the_climb_over_what_stands_past_the_far_end(brief: Brief) -> None:
    """Its heights are those of the rows of the first page; barn and beeches stand 2990 + 600 and + 1300 ft out."""
    view = brief.takeoff.side
    assert view is not None
    rows = over_obstacles(brief.trip, brief.flight)
    assert len(rows) == 2
    places = {top.label: top.at_ft for top in view.tops}
    for row, each in rows:
        label = f"{each.obstacle.what} {row.need:,.0f}, climb {row.have:,.0f}"
        assert places[label] == {"barn": 3590, "beeches": 4290}[each.obstacle.what]
        assert (places[label], row.have) in view.ways[0].points
    assert view.marks == (("end 2,990", 2990),)
    assert view.ways[0].points[0][1] == 50
    assert all(label in view.text for label in places)


def test_it_is_drawn_only_where_something_stands_or_the_threshold_is_displaced(brief: Brief) -> None:
    flight, trip = brief.flight, brief.trip
    assert brief.alternate is not None
    assert brief.alternate.side is not None  # displaced by 120 ft, nothing stands there
    assert brief.alternate.side.threshold_ft == 0
    assert brief.alternate.side.runway == (-120, 2140)
    use = trip.arrival.use
    bare = use._replace(end=use.end._replace(obstacles=()))
    assert approach_view(trip, bare, flight.planned, flight.touchdown, 0.0) is None


def test_without_a_policy_the_angle_is_that_of_a_normal_descent(brief: Brief) -> None:
    """3°, AFH FAA-H-8083-3C ch. 9: 50 ft end 50 / tan 3° = 954.1 ft past where they are."""
    trip, flight = brief.trip._replace(policy=None), brief.flight
    view = approach_view(trip, trip.arrival.use, flight.planned, None, 0.0)
    assert view is not None
    assert len(view.ways) == 1
    assert view.said[0].startswith("Solid: 3°, a normal descent's")
    assert view.ways[0].points[-1][0] == pytest.approx(954.1, abs=0.1)


def test_an_obstacle_that_holds_the_airplane_up_moves_both_paths(brief: Brief) -> None:
    trip, flight = brief.trip, brief.flight
    view = approach_view(trip, trip.arrival.use, flight.planned, flight.touchdown, 104.2)
    assert view is not None
    assert f"105{HARD}ft past the threshold, where the landing distance begins" in view.said[0]
    assert dict(view.marks) == {"threshold": 0, "aim": 184.2, "down by 200": 304.2}


TOPS = st.lists(st.tuples(NAMES, st.floats(-4000, 900), st.floats(1, 600), st.booleans()), min_size=1, max_size=8)


@settings(deadline=None)
@given(TOPS, st.lists(st.tuples(NAMES, st.floats(0, 1200)), min_size=1, max_size=4), st.floats(600, 12_000))
def test_no_words_touch_and_all_stands_to_scale(
    tops: list[tuple[str, float, float, bool]], marks: list[tuple[str, float]], length: float
) -> None:
    ways = (Way(((min(at for _, at, _, _ in tops), 90.0), (950.0, 0.0))), Way(((0.0, 50.0), (80.0, 0.0)), True))
    standing = tuple(Top(*top) for top in tops)
    view = SideView("title", (0, length), None, (0, 200), standing, ways, tuple(marks), (), "text", "ft")
    drawn = lay_out(view, WIDTH)
    boxes = boxes_of(drawn)
    assert not [(a.text, b.text) for a, b in combinations(boxes, 2) if a.over(b)]
    lines = [pair for flag in drawn.above + drawn.below for pair in pairwise(flag.line)]
    lines += [((mast.x, drawn.ceiling), (mast.x, drawn.ground)) for mast in drawn.masts]
    assert not [box.text for box in boxes for line in lines if through(line, box)]
    assert all(box.left >= -0.1 and box.right <= WIDTH + 0.1 for box in boxes)
    assert all(box.top >= 0 and box.bottom <= drawn.height for box in boxes)
    first = min(each[1] for each in (*tops, *marks, *((0.0, 0.0),)))
    places = sorted(((mast.x - SIDE, top[1] - first) for mast, top in zip(drawn.masts, tops, strict=True)))
    per_ft = (drawn.masts[0].x - SIDE) / (tops[0][1] - first) if tops[0][1] - first > 100 else None
    if per_ft:
        assert all(x == pytest.approx(at * per_ft, abs=0.2 + at * per_ft * 0.002) for x, at in places)
    tallest = max([90.0, *(height for _, _, height, _ in tops)])
    up = (drawn.ground - drawn.ceiling) / tallest
    for mast, (_, _, height, _) in zip(drawn.masts, tops, strict=True):
        assert drawn.ground - mast.y == pytest.approx(height * up, abs=0.06)


def test_the_drawing_s_words_are_its_alternative(brief: Brief) -> None:
    html = to_html(only(brief, "landing", "takeoff"), for_screen=True)
    for view in (brief.landing.side, brief.takeoff.side):
        assert view is not None
        assert f"<title>{view.text}</title>".replace("'", "&#39;") in html
    assert "times the scale of lengths" in html


def test_the_scale_of_heights_is_said(brief: Brief) -> None:
    view = brief.landing.side
    assert view is not None
    drawn = lay_out(view, WIDTH)
    hedge, post = drawn.masts
    along = (post.x - hedge.x) / 60
    up = (drawn.ground - post.y) / 50
    assert f"at {up / along:.2g} times" in drawn.scale
    assert "lengths" not in drawn.scale.removesuffix("the scale of lengths")
    assert lay_out(replace(view, unit="m"), WIDTH).scale.startswith("Heights in ft, lengths in m, at")
    assert lay_out(replace(view, stretch=(-500, -400)), WIDTH).stretch is None

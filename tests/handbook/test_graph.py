"""A staged graph is worked panel by panel, as with a ruler, and never past its lines.

Source of the expected numbers: worked by hand on the small graph of `graphs.py`, beside each test. The rule of the
ruler, that a value keeps its proportional place between two guide lines, is common practice, no source; what is
taken up for the reading follows from the text at the head of `handbook/graph.py`.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from graphs import CURVES, OBSTACLE, PAGE, SLOPE, WEIGHT, WIND, chart, graph, line, panel, worked

from briefgen.errors import Refusal
from briefgen.figures import Source, Step
from briefgen.handbook.graph import Scale
from briefgen.handbook.graph_chart import SQUARE_LAW, GraphChart, NotPrinted
from briefgen.handbook.lines import SUBJECTS, Curves
from briefgen.handbook.notes import Note

EXACT = Scale("ft", 1e-9)  # read so well that nothing is taken up
BOTH = graph(WEIGHT, WIND, OBSTACLE, scale=EXACT)
CHART = chart(BOTH, BOTH)


def read(of: GraphChart, causes: dict[str, float] | None = None, **more: float) -> tuple[float, float]:
    roll, total = worked(of, causes or {}, **more)
    return roll.known, total.known


def test_the_first_panel_is_straight_between_points_and_between_curves() -> None:
    one = chart(graph(scale=EXACT), None)
    for degC, height_ft, by_hand in (
        (20.0, 0.0, 1000.0),  # a printed point
        (10.0, 0.0, 900.0),  # halfway from 800 to 1,000
        (30.0, 0.0, 1150.0),  # past the kink, halfway from 1,000 to 1,300
        (40.0, 4000.0, 2000.0),  # the last point of the last curve
        (30.0, 1000.0, 1300.0),  # 1,150 and 1,750, a quarter of the way
    ):
        roll, _ = worked(one, {}, temperature_degC=degC, pressure_altitude_ft=height_ft)
        assert roll.known == pytest.approx(by_hand)


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("temperature_degC", 41.0, "temperature 41 °C is above the graph's highest of the 0 ft curve, 40 °C"),
        ("temperature_degC", -1.0, "temperature −1 °C is below the graph's lowest of the 0 ft curve, 0 °C"),
        ("pressure_altitude_ft", 4001.0, "pressure altitude 4,001 ft is above the graph's highest curve, 4,000 ft"),
        ("pressure_altitude_ft", -5.0, "pressure altitude −5 ft is below the graph's lowest curve, 0 ft"),
        ("weight_lb", 1999.0, "weight 1,999 lb is past the guide line from 800, which ends at 2,000 lb"),
        ("weight_lb", 2401.0, "weight 2,401 lb is past the guide line from 800, which ends at 2,400 lb"),
    ],
)
def test_off_the_graph_is_refused_with_the_input_at_fault(name: str, value: float, words: str) -> None:
    for figure in worked(CHART, {}, **{name: value}):
        assert figure.value is None
        assert figure.reason == f"{words} ({PAGE})"
        assert figure.about == name


def test_a_declared_edge_is_used_and_named_and_only_at_the_cold_low_and_light_ends() -> None:
    light = panel("weight", 2400.0, *WEIGHT.lines, light_edge=True)
    edge = chart(graph(light, scale=EXACT, curves=CURVES._replace(cold_edge=True, low_edge=True)), None)
    low = {"temperature_degC": -9.0, "pressure_altitude_ft": -200.0, "weight_lb": 1800.0}
    at_the_ends = {"temperature_degC": 0.0, "pressure_altitude_ft": 0.0, "weight_lb": 2000.0}
    assert worked(edge, {}, **low)[0].value == worked(edge, {}, **at_the_ends)[0].value
    assert edge.edges(low) == ("pressure_altitude_ft", "temperature_degC", "weight_lb")
    assert edge.edges(at_the_ends) == ()
    assert edge.edges({**low, "weight_lb": 2500.0}) == ()  # refused
    assert [step.detail.rpartition("; ")[2] for step in worked(edge, {}, **low)[0].steps[:2]] == [
        "coldest point of the graph used",
        "lightest weight of the graph used",
    ]
    assert not edge.vouched(low)


def test_a_value_keeps_its_proportional_place_between_two_guide_lines() -> None:
    # 1,000 on the reference line is a sixth of the way from 800 to 2,000; at 2,000 lb the lines are at 600 and
    # 1,500: 600 + 900 / 6 = 750. At 2,200 lb they are at 700 and 1,750: 700 + 1,050 / 6 = 875.
    one = chart(graph(WEIGHT, scale=EXACT), None)
    assert worked(one, {}, weight_lb=2000.0)[0].known == pytest.approx(750.0)
    assert worked(one, {}, weight_lb=2200.0)[0].known == pytest.approx(875.0)
    assert worked(one, {})[0].known == pytest.approx(1000.0)  # on the reference line: straight across
    # 800 at 0 degC stands on a guide line; 2,000 on the last.
    assert worked(one, {}, weight_lb=2000.0, temperature_degC=0.0)[0].known == pytest.approx(600.0)
    hot = {"weight_lb": 2000.0, "temperature_degC": 40.0, "pressure_altitude_ft": 4000.0}
    assert worked(one, {}, **hot)[0].known == pytest.approx(1500.0)


def test_every_panel_is_a_step_as_a_pilot_says_it() -> None:
    # 30 degC, 1,000 ft: 1,300. 2,200 lb: (1,300 - 800) / 1,200 = 0.417 of 700 to 1,750 = 1,137.5. 10 kt: 0.425 of
    # the way from 500 to 2,000, where the lines are at 400 and 1,700: 952.5. Obstacle: (952.5 - 300) / 2,300 =
    # 0.2837 of 700 to 4,600 = 1,806.4.
    more = {"temperature_degC": 30.0, "pressure_altitude_ft": 1000.0, "weight_lb": 2200.0}
    roll, total = worked(CHART, {"headwind": 10.0}, whole_steps=False, **more)
    steps = {step.quantity: step for step in (*roll.steps, *total.steps)}
    assert [(each.label, round(each.after, 1), each.unit) for each in steps.values()] == [
        ("enter at 30 °C between the 0 ft and 4,000 ft lines", 1300.0, "ft"),
        ("follow weight from 2,400 lb to 2,200 lb", 1137.5, "ft"),
        ("follow wind from calm to headwind 10 kt", 952.5, "ft"),
        ("ground roll: obstacle height: on the reference line, 0 ft", 952.5, "ft"),
        ("ground roll: credit for headwind", 952.5, "ft"),
        ("read to 1e-09 ft: taken up", 952.5, "ft"),
        ("distance over 50 ft: follow obstacle height from 0 ft to 50 ft", 1806.4, "ft"),
        ("distance over 50 ft: credit for headwind", 1806.4, "ft"),
        ("read to 1e-09 ft: taken up", 1806.4, "ft"),
    ]
    details = [each.detail for each in steps.values()]
    assert details[0] == "1,150 and 1,750; 1,000 ft is 0.25 of the way"
    assert details[1] == "0.42 of the way between the guide lines from 800 and 2,000, there 700 and 1,750"
    assert details[3] == "straight across"
    assert {each.source for each in steps.values()} == {Source(PAGE), Source(f"{PAGE}, as digitized"), SQUARE_LAW}
    on_lines = worked(CHART, {}, temperature_degC=0.0, weight_lb=2000.0)[0].steps
    assert on_lines[0][1:3] == ("enter at 0 °C on the 0 ft line", "the 0 ft line gives 800")
    assert on_lines[1].detail == "on the guide line from 800"


def test_a_value_off_the_guide_lines_is_refused_not_extrapolated() -> None:
    low = chart(graph(WEIGHT, WIND, scale=EXACT, curves=Curves((0.0, 1.0), (line((0, 700), (20, 790)),) * 2)), None)
    figure = worked(low, {}, weight_lb=2300.0)[0]
    assert (
        figure.reason
        == f"790 on the reference line of weight is below the lowest guide line, which starts at 800 ({PAGE})"
    )
    assert figure.about == ""
    high = chart(graph(WEIGHT, scale=EXACT, curves=Curves((0.0, 1.0), (line((0, 700), (20, 2001)),) * 2)), None)
    assert (
        "2,001 on the reference line of weight is above the highest guide line"
        in worked(high, {}, weight_lb=2300.0)[0].reason
    )


def test_a_headwind_counts_in_whole_printed_steps_unless_pro_rata_is_allowed_and_no_further_than_printed() -> None:
    # Both lines have points at -10, 0 and 20 kt: those are the printed steps. From 1,000, a third of the way from
    # 500 to 2,000: at 20 kt a third of 350 to 1,400, 700; at 10 kt 400 and 1,700, 833.3.
    one = chart(graph(WIND, scale=EXACT), None)
    for kt, whole_steps, by_hand in (
        (19.0, True, 1000.0),
        (20.0, True, 700.0),
        (19.9999999999, True, 700.0),  # a resolved wind that lacks the last bit
        (35.0, True, 700.0),
        (10.0, False, 2500 / 3),
        (35.0, False, 700.0),
    ):
        assert worked(one, {"headwind": kt}, whole_steps=whole_steps)[0].known == pytest.approx(by_hand)
    said = [
        worked(one, {"headwind": kt}, whole_steps=whole)[0].steps[1]
        for kt, whole in ((19.0, True), (35.0, True), (35.0, False))
    ]
    assert (said[0].label, said[0].detail) == (
        "ground roll: wind: on the reference line, calm",
        "headwind 19 kt is less than one printed step: no credit",
    )
    assert said[1].detail.endswith("; of headwind 35 kt, counted to a whole printed step")
    assert said[2].detail.endswith("; of headwind 35 kt, counted no further than is printed")


def test_a_tailwind_counts_in_full_and_past_the_printed_range_is_refused() -> None:
    # From 1,000, a third: at -5 kt the lines are at 550 and 2,300: 550 + 1,750 / 3 = 1,133.3.
    one = chart(graph(WIND, scale=EXACT), None)
    assert worked(one, {"tailwind": 5.0})[0].known == pytest.approx(550 + 1750 / 3)
    past = worked(one, {"tailwind": 10.5})[0]
    assert past.reason == f"tailwind 10.5 kt is past the guide line from 500, which ends at tailwind 10 kt ({PAGE})"
    assert past.about == "tailwind"


def test_no_credit_is_more_than_the_square_law_of_the_calm_distance() -> None:
    # 20 kt credits 30 %; a bound of 15 % leaves 850 of 1,000. A bound that is not given allows nothing.
    one = chart(graph(WIND, scale=EXACT), None)
    held = worked(one, {"headwind": 20.0}, headwind_bound=-0.15)[0]
    assert held.known == pytest.approx(850.0)
    assert held.steps[2].detail == "held to it: the square law allows −15 % at most, to 850 ft"
    free = worked(one, {"headwind": 20.0}, headwind_bound=-0.5)[0]
    assert free.steps[2].detail == "the square law allows −50 % at most, to 500 ft: not reached"
    assert worked(one, {"headwind": 20.0}, headwind_bound=0.0)[0].known == pytest.approx(1000.0)


def test_every_reading_at_its_longer_end() -> None:
    # Read to 20 ft, so each within 10. At 2,000 lb: 1,000 + 10 where it enters, + 10 on the reference line, 1,020
    # is 0.1833 of the way, 600 + 165 = 765, + 10 = 775 where the point read was 750. Without a panel: 1,010.
    roll = worked(chart(graph(WEIGHT), None), {}, weight_lb=2000.0)[0]
    assert roll.known == pytest.approx(775.0)
    assert roll.steps[-1].detail == "+25.0 ft: every reading of the graph at its longer end, half of 20 ft each"
    assert roll.steps[-1].label == "read to 20 ft: taken up"
    assert worked(chart(graph(), None), {})[0].known == pytest.approx(1010.0)
    # On the reference line as beside it: 1,000 + 10 where it enters, + 10 and + 10 there.
    assert worked(chart(graph(WEIGHT), None), {})[0].known == pytest.approx(1030.0)
    assert worked(chart(graph(WEIGHT), None), {}, weight_lb=2399.999)[0].known == pytest.approx(1030.0, abs=0.1)
    # But the roll of a graph for both takes nothing up for the obstacle, which never varies.
    both = graph(OBSTACLE)
    assert worked(chart(both, both), {})[0].known == pytest.approx(1010.0)
    # On the highest guide line, 2,000: raised past it, it stays on it; 1,500 + 10.
    hot = {"weight_lb": 2000.0, "temperature_degC": 40.0, "pressure_altitude_ft": 4000.0}
    assert worked(chart(graph(WEIGHT), None), {}, **hot)[0].known == pytest.approx(1510.0)
    # The bound on a headwind's credit holds with every reading at its longer end too: 85 % of 1,030.
    windy = worked(chart(graph(WIND), None), {"headwind": 20.0}, headwind_bound=-0.15)[0]
    assert windy.known == pytest.approx(0.85 * 1030)


def test_a_scale_of_divisions_is_read_off_the_printed_scale_of_distances() -> None:
    # Divisions: 1,000 stands at 10, 1,200 at 15. 12 divisions are 1,080 ft; read to 1 division, 12 + 0.5 where it
    # enters and 0.5 on the scale, 13: 1,120 ft.
    scale = Scale("divisions", 1.0, line((10, 1000), (15, 1200)))
    curves = Curves((0.0, 4000.0), (line((0, 9), (20, 12), (30, 14.8)), line((0, 12), (20, 14), (30, 16))))
    one = chart(graph(scale=scale, curves=curves), None)
    roll = worked(one, {})[0]
    assert roll.known == pytest.approx(1120.0)
    assert roll.steps[0].unit == "divisions"
    assert roll.steps[1][1:5] == (
        "read on the scale of distances",
        "at 12.00 divisions",
        None,
        pytest.approx(1080.0),
    )
    assert roll.steps[2].label == "read to 1 division: taken up"
    assert worked(one, {}, temperature_degC=30.0)[0].known == pytest.approx(1200.0)  # stays on the scale's end
    cold = worked(one, {}, temperature_degC=0.0)[0]
    assert cold.reason == f"9 divisions is off the scale of distances, 10 to 15 ({PAGE})"


def test_the_order_of_the_panels_is_the_order_they_are_worked_in() -> None:
    # A wind panel whose lines do not go with their starts: weight first, 1,000 -> 750 -> a sixth of the way between
    # 500 and 2,000, at 20 kt 350 and 1,400: 525. Wind first: 1,000 -> 700, which is under the lowest weight line.
    first = chart(graph(WEIGHT, WIND, scale=EXACT), None)
    second = chart(graph(WIND, WEIGHT, scale=EXACT), None)
    at = {"weight_lb": 2000.0}
    assert worked(first, {"headwind": 20.0}, **at)[0].known == pytest.approx(525.0)
    assert "700 on the reference line of weight is below" in worked(second, {"headwind": 20.0}, **at)[0].reason


def test_a_slope_helps_one_phase_and_hinders_the_other() -> None:
    # From 1,000, a third of the way: 2 % up 600 and 2,400, 1,200; 2 % down 450 and 1,800, 900.
    one = chart(graph(SLOPE, scale=EXACT), None)
    assert worked(one, {"upslope": 0.01})[0].known == pytest.approx(1100.0)
    assert worked(one, {"downslope": 0.01})[0].known == pytest.approx(1000.0)  # less than one printed step
    assert worked(one, {"downslope": 0.02})[0].known == pytest.approx(900.0)
    assert worked(one, {"upslope": 0.03})[0].about == "upslope"
    assert SUBJECTS["slope"].said(0.015) == "upslope 1.5 %"
    assert SUBJECTS["slope"].said(0.0) == "level"
    landing = replace(chart(graph(SLOPE, scale=EXACT, phase="landing"), None), phase="landing")
    assert (SUBJECTS["slope"].course("takeoff"), SUBJECTS["slope"].course("landing")) == (1, -1)
    assert landing.credited("upslope", 0.019, whole_steps=True) == 0.0
    assert one.credited("downslope", 0.05, whole_steps=True) == 0.02


def test_what_a_panel_does_not_print_is_left_to_the_notes() -> None:
    ahead = panel("wind", 0.0, line((0, 500), (20, 350)), line((0, 2000), (20, 1400)))
    note = Note("tailwind", 0.1, Source("note"), per=2.0)
    one = chart(graph(ahead), None, note)
    assert one.answers == ("headwind",)
    assert (one.note_for("tailwind"), one.note_for("headwind")) == (note, None)
    assert one.covers("tailwind", "roll")
    assert not one.covers("headwind", "roll")
    assert worked(one, {"tailwind": 5.0})[0].known == pytest.approx(1030.0)  # the note's, after this
    behind = panel("wind", 0.0, line((-10, 600), (0, 500)), line((-10, 2600), (0, 2000)))
    assert chart(graph(behind), None).answers == ("tailwind",)
    by_note = chart(graph(), None, Note("headwind", -0.1, Source("note"), per=9.0, up_to=27.0))
    assert by_note.credited("headwind", 20.0, whole_steps=True) == 18.0
    assert chart(graph(), None).credited("headwind", 20.0, whole_steps=True) == 0.0
    assert chart(graph(WIND), None).credited("headwind", 25.0, whole_steps=False) == 20.0


def test_one_distance_alone_leaves_the_other_not_shown() -> None:
    one = chart(None, graph(scale=EXACT))
    roll, total = worked(one, {})
    assert total.known == pytest.approx(1000.0)
    assert roll.reason == f"the handbook's graph gives no ground roll ({PAGE})"
    assert "distance over 50 ft" in worked(chart(graph(), None), {})[1].reason
    with pytest.raises(AssertionError):
        NotPrinted("roll", one).step({}, {}, 0.0)


def test_two_graphs_of_which_the_roll_is_not_the_shorter_are_refused() -> None:
    short = graph(
        scale=EXACT, curves=Curves((0.0, 4000.0), (line((0, 700), (20, 900)), line((0, 1100), (20, 1200))))
    )
    roll, total = worked(chart(graph(scale=EXACT), short), {})
    words = "the graphs give a ground roll of 1,000 ft, not shorter than the total of 900 ft"
    assert roll.reason == total.reason == f"{words} ({PAGE}): check both against the page"
    right = worked(chart(short, graph(scale=EXACT)), {})
    assert [each.known for each in right] == [pytest.approx(900.0), pytest.approx(1000.0)]
    # Past 20 degC only one of the two can be read: that one is shown.
    alone = worked(chart(short, graph(scale=EXACT)), {}, temperature_degC=30.0)
    assert (alone[0].value, alone[1].value) == (None, pytest.approx(1150.0))


@pytest.mark.parametrize(
    ("note", "by_hand"),
    [
        (Note("tailwind", 0.5, Source("policy"), per=5.0, rank="if longer"), 1500.0),  # of 1,000 calm
        (
            Note("tailwind", 0.05, Source("policy"), per=5.0, rank="if longer"),
            550 + 1750 / 3,
        ),  # the graph's is longer
        (Note("tailwind", 0.5, Source("policy"), per=5.0, up_to=2.5, rank="if longer"), 1250.0),  # at its own limit
        (Note("tailwind", 300.0, Source("policy"), per=5.0, in_feet=True, rank="if longer"), 1300.0),
        (Note("tailwind", 0.5, Source("policy"), per=5.0, percent_of="roll", rank="if longer"), 1500.0),
        (Note("tailwind", 0.5, Source("policy"), per=5.0, rank="where silent"), 550 + 1750 / 3),  # it is not silent
        (Note("dry grass", 0.5, Source("policy"), rank="if longer"), 550 + 1750 / 3),  # no panel's
    ],
)
def test_a_stricter_policy_still_rules_what_a_panel_answers(note: Note, by_hand: float) -> None:
    one = chart(graph(WIND, scale=EXACT), None)
    figure = worked(one, {"tailwind": 5.0}, guidance=[note])[0]
    assert figure.known == pytest.approx(by_hand)
    asked = [step for step in figure.steps if step.label.startswith("policy's figure")]
    assert len(asked) == (note.rank == "if longer" and note.cause == "tailwind")
    assert all(step.detail.endswith("is longer" if by_hand > 1134 else "is not longer") for step in asked)


def test_the_chart_s_own_lines_are_not_asked_for_where_the_page_is_followed_straight_across() -> None:
    # 700 is under the lowest weight line, but at the reference weight no line is followed.
    one = chart(graph(WEIGHT, scale=EXACT, curves=Curves((0.0, 1.0), (line((0, 690), (20, 700)),) * 2)), None)
    assert worked(one, {})[0].known == pytest.approx(700.0)


def test_a_refusal_is_raised_by_each_panel_itself() -> None:
    with pytest.raises(Refusal) as refused:
        WEIGHT.follow(900.0, 1900.0, PAGE)
    assert refused.value.about == "weight_lb"
    assert isinstance(worked(CHART, {})[0].steps[0], Step)

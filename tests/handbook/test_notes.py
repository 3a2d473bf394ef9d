"""Correction notes: base, order, steps, limits, silence; each as the handbook prints it.

Source of the expected numbers: computed by hand on 600 ft of roll and 1200 ft over 50 ft, from the design's line
'notes are data, with their base, their order, whether steps add or compound, and their limits', or the published
value named beside them.
"""

from __future__ import annotations

from typing import Any

import pytest

from briefgen.errors import Refusal
from briefgen.figures import Source, work
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.notes import Note, Silent, corrections, published_first, said, signed
from briefgen.handbook.table import Axis, Grid

INVENTED = Source("p. 5 note 1")


def note(cause: str, change: float, **more: Any) -> Note:
    return Note(cause, change, INVENTED, **more)


def corrected(
    causes: dict[str, float],
    *notes: Note,
    guidance: tuple[Note, ...] = (),
    phase: str = "landing",
    whole: bool = True,
) -> tuple[float | None, float | None]:
    """Return roll and total after the notes, None where refused."""
    grid = Grid((Axis("weight_lb", (2000.0,)),), "p. 5")
    cells = grid.cells()
    table = DistanceChart(
        phase,
        "30",
        grid,
        dict.fromkeys(cells, 600.0),
        dict.fromkeys(cells, 1200.0),
        ChartConditions("", "", ""),
        notes,
    )
    fixes = corrections(phase, tuple(causes), notes, guidance, whole_steps=whole)
    done = work((*table.look_ups(), *fixes), {"weight_lb": 2000.0, "headwind_bound": -1.0, **causes})
    return done.values.get("roll"), done.values.get("total")


# Published: dry grass adds 15 % of the ground-roll figure to both distances (check value TO-7, computed from note 3
# of PHAK-25C Fig. 11-24): 0.15 x 1325 = 198.75, so 1523.75 and 2678.75. The same on 600/1200 adds 90 ft to both.
def test_a_percentage_of_the_ground_roll_adds_the_same_feet_to_both_distances() -> None:
    grass = note("dry grass", 0.15, percent_of="roll")
    assert corrected({"dry grass": 1.0}, grass) == (pytest.approx(690), pytest.approx(1290))


# Published: 20 % of the total to both: 445 + 215 = 660, 1075 + 215 = 1290 (check value LD-7, computed).
def test_a_percentage_of_the_total_adds_the_same_feet_to_both_distances() -> None:
    for of in ("table figure", "value so far", "open"):
        grass = note("dry grass", 0.20, percent_of="total", of=of)
        assert corrected({"dry grass": 1.0}, grass) == (pytest.approx(840), pytest.approx(1440))


def test_the_base_is_the_table_figure_or_the_value_so_far() -> None:
    first = note("tailwind", 0.10, per=2.0)
    table, so_far = (note("dry grass", 0.20, of=of) for of in ("table figure", "value so far"))
    causes = {"tailwind": 2.0, "dry grass": 1.0}
    assert corrected(causes, first, table)[1] == pytest.approx(1560)  # 1200 + 120 + 240
    assert corrected(causes, first, so_far)[1] == pytest.approx(1584)  # 1320 x 1.2


# Line: 'Where the handbook leaves the base or order open, the longer result is taken, and the step says so.'
def test_a_base_left_open_takes_the_longer_result_for_a_penalty_and_for_a_credit() -> None:
    causes = {"tailwind": 2.0, "dry grass": 1.0}
    worse = note("tailwind", 0.10, per=2.0)
    assert corrected(causes, worse, note("dry grass", 0.20, of="open"))[1] == pytest.approx(1584)
    causes = {"headwind": 9.0, "dry grass": 1.0}
    credit = note("headwind", -0.10, per=9.0, of="open")
    bounded = corrected(causes, note("dry grass", 0.20), credit)
    assert bounded[1] == pytest.approx(1320)  # 1440 - 120, not 1440 - 144


def test_the_step_says_that_the_base_is_left_open_and_from_where_it_comes() -> None:
    notes = (note("tailwind", 0.10, per=2.0), note("dry grass", 0.20, of="open"))
    fixes = corrections("landing", ("tailwind", "dry grass"), notes, (), whole_steps=True)
    values = {"first roll": 600.0, "roll": 660.0, "first total": 1200.0, "total": 1320.0}
    step = next(fix for fix in fixes if fix.cause == "dry grass").step(values, {"dry grass": 1.0}, 792.0)
    assert step.detail == "+20 % of 660.0 ft; the handbook leaves the base open: the longer result"
    assert (step.label, str(step.source)) == ("dry grass", "p. 5 note 1")


# Published: 20 % for two 9-kt steps, not 19 % (check value TO-1, read): such notes add.
def test_steps_add_or_compound_as_printed() -> None:
    add, compound = (note("tailwind", 0.10, per=2.0, steps=steps) for steps in ("add", "compound"))
    assert corrected({"tailwind": 4.0}, add)[1] == pytest.approx(1440)
    assert corrected({"tailwind": 4.0}, compound)[1] == pytest.approx(1452)  # 1.1 x 1.1


def test_a_note_in_feet_adds_feet_and_counts_the_steps() -> None:
    slope = note("downslope", 35.0, per=0.01, in_feet=True)
    assert corrected({"downslope": 0.02}, slope) == (pytest.approx(670), pytest.approx(1270))
    once = note("soft ground", 100.0, in_feet=True, changes=("total",))
    assert corrected({"soft ground": 1.0}, once, guidance=(note("soft ground", 50.0, in_feet=True),)) == (650, 1300)
    (fix, _) = corrections("landing", ("downslope",), (slope,), (), whole_steps=True)
    step = fix.step({"roll": 600.0}, {"downslope": 0.02}, 670.0)
    assert (step.label, step.detail) == ("downslope 2.0 %", "+70.0 ft")


def test_a_note_for_one_distance_leaves_the_other_without_an_answer() -> None:
    assert corrected({"dry grass": 1.0}, note("dry grass", 0.2, changes=("roll",))) == (pytest.approx(720), None)
    # a percentage of a roll that itself has no answer still corrects the total: it is the roll so far that is meant
    of_roll = note("dry grass", 0.2, changes=("total",), percent_of="roll")
    assert corrected({"dry grass": 1.0}, of_roll) == (None, pytest.approx(1320))


def test_two_notes_that_each_read_the_other_distance_read_it_as_it_was() -> None:
    # the roll by 10 % of the total, the total by 50 % of the roll: 600 + 120 and 1200 + 300
    crossed = (
        note("dry grass", 0.1, changes=("roll",), percent_of="total", of="value so far"),
        note("dry grass", 0.5, changes=("total",), percent_of="roll", of="value so far"),
    )
    assert corrected({"dry grass": 1.0}, *crossed) == (pytest.approx(720), pytest.approx(1500))


def test_notes_apply_in_printed_order_and_guidance_after_them_but_before_the_airplane_s_own() -> None:
    notes = (note("dry grass", 0.2), note("flaps up", 0.3), note("tailwind", 0.1, per=2.0))
    chosen = (note("downslope", 0.05, per=0.01),)
    causes = ("flaps up", "tailwind", "downslope", "dry grass")
    fixes = corrections("landing", causes, notes, chosen, whole_steps=True)
    assert list(dict.fromkeys(fix.cause for fix in fixes)) == ["dry grass", "downslope", "flaps up", "tailwind"]


def test_less_than_one_whole_step_gives_no_credit_and_says_so() -> None:
    credit = note("headwind", -0.10, per=9.0, up_to=27.0)
    (fix, _) = corrections("landing", ("headwind",), (credit,), (), whole_steps=True)
    values = {"first roll": 600.0, "roll": 600.0}
    assert fix.work(values, {"headwind": 7.7, "headwind_bound": -0.3}) == 600
    step = fix.step(values, {"headwind": 7.7, "headwind_bound": -0.3}, 600.0)
    assert step.detail == "less than one whole step of 9 kt: no credit"


def test_a_whole_number_of_steps_counts_as_that_though_the_last_bit_is_short() -> None:
    credit = note("headwind", -0.10, per=9.0)
    assert credit.counted(18 - 1e-12, whole_steps=True) == 18
    assert credit.counted(17.9, whole_steps=True) == 9


def test_a_penalty_past_its_limit_is_refused_and_a_credit_stops_there() -> None:
    with pytest.raises(Refusal, match=r"tailwind 11 kt is past the note's limit of 10 kt \(p\. 5 note 1\)"):
        note("tailwind", 0.1, per=2.0, up_to=10.0).fraction(11.0, whole_steps=True)
    assert note("headwind", -0.1, per=9.0, up_to=27.0).fraction(50.0, whole_steps=False) == pytest.approx(-0.3)


def test_where_two_notes_are_weighed_the_step_names_both_and_takes_the_longer() -> None:
    stricter = Note("dry grass", 0.5, Source("leaflet", "published", "second-hand"), rank="if longer")
    notes = (note("dry grass", 0.2),)
    fixes = corrections("landing", ("dry grass",), notes, (stricter,), whole_steps=True)
    step = fixes[0].step({"first roll": 600.0, "roll": 600.0}, {"dry grass": 1.0}, 900.0)
    assert str(step.source) == "the longer of p. 5 note 1; or leaflet (second-hand)"
    assert step.detail == "+50 % of 600.0 ft"


def test_a_silent_handbook_refuses_and_has_no_step_to_print() -> None:
    silent = Silent("roll", "snow")
    with pytest.raises(Refusal, match=r"no correction for snow"):
        silent.work({}, {})
    with pytest.raises(AssertionError):
        silent.step({}, {}, 0.0)


def test_amounts_and_fractions_are_said_in_a_pilot_s_figures() -> None:
    assert (signed(-0.278), signed(0.2), signed(1.0)) == ("−27.8 %", "+20 %", "+100 %")
    assert (said(0.015, "%"), said(10.0, "kt"), said(10.5, "kt")) == ("1.5 %", "10 kt", "10.5 kt")


def test_a_stricter_policy_gives_less_credit_than_the_handbook_and_never_one_that_it_does_not_print() -> None:
    """Two steps of 9 kt by hand: the handbook's 10 % each leave 480 of 600 ft, the policy's 5 % each leave 540."""
    printed = note("headwind", -0.10, per=9.0)
    stricter = note("headwind", -0.05, per=9.0, rank="if longer")
    milder = note("headwind", -0.20, per=9.0, rank="if longer")
    filler = note("headwind", -0.01, per=9.0, rank="where silent")
    assert corrected({"headwind": 18.0}, printed)[0] == pytest.approx(480)
    assert corrected({"headwind": 18.0}, printed, guidance=(stricter,))[0] == pytest.approx(540)
    assert corrected({"headwind": 18.0}, printed, guidance=(milder, filler))[0] == pytest.approx(480)
    assert corrected({"headwind": 18.0}, guidance=(stricter, filler))[0] == 600


def test_guidance_applies_in_the_policy_s_order() -> None:
    """600 ft by hand: 10 % of the table figure, then 50 % of the value so far, 990; the other way round 960."""
    soft = note("soft ground", 0.5, of="value so far", rank="where silent")
    snow = note("snow", 0.1, of="table figure", rank="where silent")
    causes = {"soft ground": 1.0, "snow": 1.0}
    assert corrected(causes, guidance=(snow, soft))[0] == pytest.approx(990)
    assert corrected(causes, guidance=(soft, snow))[0] == pytest.approx(960)


# The order of sources: handbook first, published guidance second, common practice third, never two for one cause.
COMMON = Source("club figure", "common practice", "no source")


def test_common_practice_gives_way_to_something_published_by_the_same_layer() -> None:
    published = Note("soft ground", 0.25, Source("a leaflet", "published"), rank="where silent")
    practice = Note("soft ground", 0.50, COMMON, rank="where silent")
    cause = {"soft ground": 1.0}
    assert corrected(cause, guidance=(practice,)) == (900, 1800)
    kept = published_first([("landing", practice), ("landing", published)])
    assert kept == (("landing", published),)
    assert corrected(cause, guidance=tuple(note for _, note in kept)) == (750, 1500)
    # another phase's, or another layer's, leaves it alone: of two layers the longer rules
    assert published_first([("landing", practice), ("takeoff", published)])[0] == ("landing", practice)
    assert corrected(cause, guidance=(practice, published)) == (900, 1800)


def test_common_practice_stays_for_the_distance_that_the_published_note_leaves_alone() -> None:
    published = Note("soft ground", 0.25, Source("a", "published"), changes=("total",), rank="where silent")
    practice = Note("soft ground", 0.50, COMMON, rank="where silent")
    ((_, kept), _) = published_first([("landing", practice), ("landing", published)])
    assert (kept.changes, kept.change) == (("roll",), 0.50)


def test_common_practice_that_is_chosen_as_stricter_still_rules() -> None:
    published = Note("soft ground", 0.25, Source("a leaflet", "published"), rank="where silent")
    practice = Note("soft ground", 0.50, COMMON, rank="if longer")
    kept = published_first([("landing", practice), ("landing", published)])
    assert corrected({"soft ground": 1.0}, guidance=tuple(note for _, note in kept)) == (900, 1800)


def test_of_two_publications_the_longer_is_taken_and_never_both() -> None:
    one, other = (
        Note("wet grass", change, Source(text, "published"), rank="where silent")
        for change, text in ((0.30, "one"), (0.35, "other"))
    )
    assert corrected({"wet grass": 1.0}, guidance=(one, other)) == (pytest.approx(810), pytest.approx(1620))


def test_guidance_past_its_own_range_does_not_answer_where_another_does() -> None:
    """By hand: 3 % up is past the first's 2 %; the other's 10 % for each 1 % makes 30 %."""
    short = Note("upslope", 0.05, Source("one", "published"), per=0.01, up_to=0.02, rank="where silent")
    steep = Note("upslope", 0.10, Source("other", "published"), per=0.01, up_to=0.04, rank="where silent")
    within, past = {"upslope": 0.03}, {"upslope": 0.05}
    answer = corrected(within, guidance=(short, steep), phase="takeoff")
    assert answer == (pytest.approx(780), pytest.approx(1560))
    (fix, _) = corrections("takeoff", ("upslope",), (), (short, steep), whole_steps=True)
    step = fix.step({"roll": 600.0, "first roll": 600.0}, within, 780.0)
    assert step.source.text == "the longer of one; or other"
    assert corrected(within, guidance=(short,), phase="takeoff") == (None, None)
    assert corrected(past, guidance=(short, steep), phase="takeoff") == (None, None)


def test_a_handbook_s_note_past_its_limit_is_refused_whatever_guidance_says() -> None:
    printed = note("tailwind", 0.10, per=2.0, up_to=10.0)
    stricter = Note("tailwind", 0.20, Source("club", "policy"), per=2.0, rank="if longer")
    assert corrected({"tailwind": 11.0}, printed, guidance=(stricter,)) == (None, None)


def test_very_short_wet_grass_is_never_answered_by_less_than_wet_grass_or_dry() -> None:
    """By hand: a handbook's 80 % for dry grass stands over 60 % for very short wet grass; 35 % for wet does not."""
    dry, wet = note("dry grass", 0.80), Note("wet grass", 0.35, Source("a", "published"), rank="where silent")
    slippery = Note("very short wet grass", 0.60, Source("a", "published"), rank="where silent")
    cause = {"very short wet grass": 1.0}
    assert corrected(cause, guidance=(wet, slippery)) == (pytest.approx(960), pytest.approx(1920))
    assert corrected(cause, dry, guidance=(wet, slippery)) == (pytest.approx(1080), pytest.approx(2160))
    assert corrected(cause, dry, guidance=(wet,)) == (None, None)


def test_more_of_a_cause_never_drops_what_a_stricter_note_asks_at_its_limit() -> None:
    """By hand: +2 % per 1 % printed, +10 % per 1 % up to 2 % stricter: 20 % at 2 % of slope, and at 2.1 % too."""
    printed = note("downslope", 0.02, per=0.01)
    stricter = Note("downslope", 0.10, Source("own", "policy"), per=0.01, up_to=0.02, rank="if longer")
    at, past = ({"downslope": slope} for slope in (0.02, 0.021))
    assert corrected(at, printed, guidance=(stricter,)) == (pytest.approx(720), pytest.approx(1440))
    assert corrected(past, printed, guidance=(stricter,)) == (pytest.approx(720), pytest.approx(1440))


def test_wet_is_never_shorter_than_dry_though_it_is_so_printed() -> None:
    """By hand: 40 % printed for dry grass stands over 30 % printed for wet."""
    dry, wet = note("dry grass", 0.40), note("wet grass", 0.30)
    assert corrected({"wet grass": 1.0}, dry, wet) == (pytest.approx(840), pytest.approx(1680))
    long_dry, long_wet = (
        Note(cause, change, Source("own", "policy"), rank="where silent")
        for cause, change in (("long grass", 0.80), ("long wet grass", 0.40))
    )
    both = (long_dry, long_wet)
    assert corrected({"long wet grass": 1.0}, guidance=both) == corrected({"long grass": 1.0}, guidance=both)


@pytest.mark.parametrize("lying", ["slush", "snow", "ice", "standing water"])
def test_what_lies_on_pavement_never_needs_less_than_wet(lying: str) -> None:
    """By hand: 15 % chosen for wet stands over 5 % chosen for what lies on it."""
    wet, little = (
        Note(cause, change, Source("own", "policy"), rank="where silent")
        for cause, change in (("wet paved", 0.15), (lying, 0.05))
    )
    assert corrected({lying: 1.0}, guidance=(wet, little)) == (pytest.approx(690), pytest.approx(1380))
    assert corrected({lying: 1.0}, guidance=(wet,)) == (None, None)

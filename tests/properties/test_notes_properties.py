"""Correction notes: an open order takes the longest, wet grass is no better than dry, a stricter policy rules."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st
from modelled import (
    HEADWIND,
    PAGE,
    TAILWIND,
    airplane,
    alongs,
    chart,
    distances,
    heights,
    land,
    landing_roll,
    landing_total,
    place,
    policy,
    quick,
    take_off,
    takeoff_roll,
    takeoff_total,
    temperatures,
    weights,
)

from briefgen.figures import Source
from briefgen.handbook.notes import Note
from briefgen.model.policy import Policy

NEAR = 1e-6
OUTSIDE = Source("guidance", "published")
NEVER_SAID = Policy("no guidance")

bases = st.sampled_from(["itself", "roll", "total"])
ofs = st.sampled_from(["table figure", "value so far", "open"])
both = ("roll", "total")


def note(cause: str, rank: str = "handbook", most: float = 0.8) -> st.SearchStrategy[Note]:
    """Return any note for a cause that is there or not, on both distances."""
    return st.builds(
        Note, st.just(cause), st.floats(0.0, most), st.just(OUTSIDE), percent_of=bases, of=ofs, rank=st.just(rank)
    )


def amount_note(cause: str, per: float, up_to: float) -> st.SearchStrategy[Note]:
    """Return any note for a cause that comes in amounts."""
    return st.builds(
        Note,
        st.just(cause),
        st.floats(0.0, 0.4),
        st.just(PAGE),
        per=st.just(per),
        up_to=st.just(up_to),
        percent_of=bases,
        of=ofs,
        steps=st.sampled_from(["add", "compound"]),
    )


flaps_up_notes = st.builds(
    Note,
    st.just("flaps up"),
    st.floats(0.0, 0.6),
    st.just(PAGE),
    changes=st.sampled_from([("roll",), both]),
    of=ofs,
    extra_speed_kt=st.just(9.0),
)
runway_notes = st.tuples(
    amount_note("tailwind", 2.0, 10.0), note("dry grass"), amount_note("downslope", 0.01, 0.05), flaps_up_notes
)


@settings(quick, max_examples=30)
@given(runway_notes, heights, temperatures, weights, st.floats(-10.0, 0.0), st.floats(-0.02, 0.0))
def test_an_open_order_is_never_shorter_than_any_fixed_order(
    notes: tuple[Note, ...], height_ft: float, degC: float, weight_lb: float, along_kt: float, slope: float
) -> None:
    there = place(height_ft, degC, along_kt, surface="grass", slope=slope)

    def work(printed: tuple[Note, ...], order_open: bool) -> list[dict[str, float]]:
        of = chart("landing", "30", landing_roll, landing_total, printed, order_open=order_open)
        return [distances(each) for each in land(there, weight_lb, NEVER_SAID, of=airplane(landing=(of,)))]

    left_open = work(notes, True)
    for order in permutations(notes):
        for fixed, longest in zip(work(order, False), left_open, strict=True):
            assert set(fixed) == set(longest)
            assert all(longest[name] >= fixed[name] - NEAR for name in fixed)


@quick
@given(runway_notes, heights, temperatures, weights, st.floats(-10.0, 0.0), st.floats(-0.02, 0.0))
def test_a_base_left_open_is_never_shorter_than_either_reading_of_it(
    notes: tuple[Note, ...], height_ft: float, degC: float, weight_lb: float, along_kt: float, slope: float
) -> None:
    there = place(height_ft, degC, along_kt, surface="grass", slope=slope)

    def work(of: str) -> list[dict[str, float]]:
        printed = tuple(replace(each, of=of) for each in notes)
        charts = (chart("landing", "30", landing_roll, landing_total, printed),)
        return [distances(each) for each in land(there, weight_lb, NEVER_SAID, of=airplane(landing=charts))]

    for said in ("table figure", "value so far"):
        for read, longest in zip(work(said), work("open"), strict=True):
            assert set(read) == set(longest)
            assert all(longest[name] >= read[name] - NEAR for name in read)


@quick
@given(
    handbook=st.lists(note("dry grass"), max_size=1),
    dry=st.lists(st.one_of(note("dry grass", "where silent"), note("dry grass", "if longer")), max_size=2),
    wet=st.one_of(note("wet grass", "where silent"), note("wet grass", "if longer")),
    height_ft=heights,
    degC=temperatures,
    weight_lb=weights,
    along_kt=alongs,
)
def test_wet_grass_is_never_shorter_than_dry_grass(
    handbook: list[Note],
    dry: list[Note],
    wet: Note,
    height_ft: float,
    degC: float,
    weight_lb: float,
    along_kt: float,
) -> None:
    notes, chosen = (HEADWIND, TAILWIND, *handbook), (wet, *dry)
    of = airplane(
        takeoff=chart("takeoff", "10", takeoff_roll, takeoff_total, notes),
        landing=(chart("landing", "30", landing_roll, landing_total, notes),),
    )
    rules = Policy("guidance", takeoff_guidance=chosen, landing_guidance=chosen)
    dry_there, wet_there = (place(height_ft, degC, along_kt, surface="grass", wet=each) for each in (False, True))
    pairs = [
        (take_off(dry_there, weight_lb, rules, of), take_off(wet_there, weight_lb, rules, of)),
        (land(dry_there, weight_lb, rules, of=of)[0], land(wet_there, weight_lb, rules, of=of)[0]),
    ]
    for before, after in pairs:
        longer = distances(after)
        assert len(longer) == 4
        assert all(longer[name] >= value - NEAR for name, value in distances(before).items())


causes = st.sampled_from(["dry grass", "wet grass"])


@quick
@given(
    printed=st.lists(note("dry grass"), max_size=1),
    wet_printed=st.lists(note("wet grass"), max_size=1),
    silent=st.lists(causes.flatmap(lambda cause: note(cause, "where silent")), max_size=2),
    stricter=causes.flatmap(lambda cause: note(cause, "if longer")),
    is_wet=st.booleans(),
    degC=temperatures,
    weight_lb=weights,
    along_kt=alongs,
)
def test_a_note_that_counts_if_longer_never_shortens(
    printed: list[Note],
    wet_printed: list[Note],
    silent: list[Note],
    stricter: Note,
    is_wet: bool,
    degC: float,
    weight_lb: float,
    along_kt: float,
) -> None:
    of = airplane(
        takeoff=chart("takeoff", "10", takeoff_roll, takeoff_total, (HEADWIND, TAILWIND, *printed, *wet_printed)),
        landing=(
            chart("landing", "30", landing_roll, landing_total, (HEADWIND, TAILWIND, *printed, *wet_printed)),
        ),
    )
    there = place(500.0, degC, along_kt, surface="grass", wet=is_wet)
    mild = Policy("mild", takeoff_guidance=tuple(silent), landing_guidance=tuple(silent))
    chosen = (*silent, stricter)
    strict = Policy("strict", takeoff_guidance=chosen, landing_guidance=chosen)
    for before, after in (
        (take_off(there, weight_lb, mild, of), take_off(there, weight_lb, strict, of)),
        (land(there, weight_lb, mild, of=of)[0], land(there, weight_lb, strict, of=of)[0]),
    ):
        longer = distances(after)
        assert all(longer[name] >= value - NEAR for name, value in distances(before).items())


@quick
@given(heights, temperatures, weights, st.sampled_from(["grass", "gravel"]), st.booleans())
def test_a_condition_that_nothing_answers_makes_the_need_missing(
    height_ft: float, degC: float, weight_lb: float, surface: str, wet: bool
) -> None:
    of = airplane(
        takeoff=chart("takeoff", "10", takeoff_roll, takeoff_total, (HEADWIND,)),
        landing=(chart("landing", "30", landing_roll, landing_total, (HEADWIND,)),),
    )
    for there in (
        place(height_ft, degC, 0.0, surface=surface, wet=wet),
        place(height_ft, degC, 0.0, soft=True),
        place(height_ft, degC, -1.0),
    ):
        assert distances(take_off(there, weight_lb, NEVER_SAID, of)) == {}
        assert distances(land(there, weight_lb, NEVER_SAID, of=of)[0]) == {}
    assert len(distances(take_off(place(height_ft, degC, 0.0), weight_lb, policy(), of))) == 4

"""Kinds of correction notes that handbooks print, each typed as it stands there and worked by hand beside it.

Every table here prints 1,000 ft of ground roll and 2,000 ft over 50 ft, so that a percentage is read off. The kinds
are common practice, no source; the arithmetic is worked beside each.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from conftest import ROOT

from briefgen.calc.distance import work_chart
from briefgen.errors import InputFault
from briefgen.files.document import parse
from briefgen.files.entry import opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.handbook.chart import DistanceChart
from briefgen.handbook.notes import Note

TEXT = (ROOT / "tests" / "data" / "geometry" / "aircraft.yaml").read_text(encoding="utf-8")
TO_BOTH = "to: both, percent_of: itself, of: table figure, page: 5-1"
ADD = f"steps: add, {TO_BOTH}"
ON_TOP, INSTEAD = "counts: what is above", "counts: all of it"
TAKEOFF = TEXT.index("\ntakeoff:") + 1


def chart(*notes: str) -> DistanceChart:
    """Return a takeoff table of 1,000/2,000 ft with notes."""
    given = "".join(f"\n      - {{{note}}}" for note in notes)
    table = f"""takeoff:
  - flaps: full
    page: 5-1
    conditions: {{technique: any, power: full, surface: paved, factored: false}}
    temperatures: standard
    tables:
      - weight: 2000 lb
        rows: [[0 ft, 1000/2000], [5000 ft, 1000/2000]]
    notes: {given or "[]"}
    notes_order: as printed
landing:
  - flaps: full
    page: 5-2
    conditions: {{technique: any, power: idle, surface: paved, factored: false}}
    temperatures: standard
    tables:
      - weight: 2000 lb
        rows: [[0 ft, 700/1300]]
provenance: {{typed: {{by: A. Student, on: 2026-05-02}}, unchecked: invented}}
"""
    document = parse(TEXT[:TAKEOFF] + table, Path("a.yaml"), "a.yaml")
    return read_aircraft(opened(document, "aircraft")).takeoff[0]


def worked(of: DistanceChart, **causes: float) -> tuple[float | None, float | None]:
    """Return ground roll and distance over 50 ft at sea level; causes by name, spaces as underscores."""
    amounts = {name.replace("_", " "): amount for name, amount in causes.items()}
    amounts |= {note.cause: 1.0 for note in of.notes if note.which}
    inputs = {"pressure_altitude_ft": 0.0, "weight_lb": 2000.0, "headwind_bound": -0.9, **amounts}
    runs = work_chart(of, amounts, (), inputs, (), pro_rata=True)
    found = runs.value("roll"), runs.value("total")
    return tuple(None if each is None else round(each, 6) for each in found)  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("amount", "share"),
    # up to 5 kt 2 % a knot; on top of it 4 % a knot from there on: 10 % at 5 kt, 10 + 3 x 4 = 22 % at 8 kt,
    # 10 + 5 x 4 = 30 % at 10 kt
    [(1.0, 0.02), (5.0, 0.10), (8.0, 0.22), (10.0, 0.30)],
)
def test_a_note_that_goes_on_with_more_above_an_amount(amount: float, share: float) -> None:
    of = chart(
        f"for: tailwind, change: +2 %, per: 1 kt, up_to: 5 kt, {ADD}",
        f"for: tailwind, change: +4 %, per: 1 kt, above: 5 kt, {ON_TOP}, up_to: 10 kt, {ADD}",
    )
    assert worked(of, tailwind=amount) == (round(1000 * (1 + share), 6), round(2000 * (1 + share), 6))
    assert worked(of, tailwind=10.1) == (None, None)  # past the last limit: refused
    (note,) = of.notes
    assert note.words() == (
        "tailwind: +2 % for each 1 kt of itself, on both distances, up to 5 kt; "
        "above 5 kt: +4 % for each 1 kt above that"
    )


@pytest.mark.parametrize(("amount", "feet"), [(0.1, 1100), (5.0, 1100), (5.1, 1250), (10.0, 1250), (15.0, 1600)])
def test_a_note_of_steps_each_in_place_of_the_one_before(amount: float, feet: float) -> None:
    # 'up to 5 kt 10 %, 5 to 10 kt 25 %, above that 4 % a knot': 15 kt are 60 %
    of = chart(
        f"for: tailwind, change: +10 %, per: any amount, up_to: 5 kt, {ADD}",
        f"for: tailwind, change: +25 %, per: any amount, above: 5 kt, {INSTEAD}, up_to: 10 kt, {ADD}",
        f"for: tailwind, change: +4 %, per: 1 kt, above: 10 kt, {INSTEAD}, up_to: 15 kt, {ADD}",
    )
    assert worked(of, tailwind=amount)[0] == feet


def test_steps_that_compound_go_on_compounding() -> None:
    of = chart(
        f"for: upslope, change: +5 %, per: 1 %, up_to: 2 %, steps: compound, {TO_BOTH}",
        f"for: upslope, change: +10 %, per: 1 %, above: 2 %, {ON_TOP}, up_to: 4 %, steps: compound, {TO_BOTH}",
    )
    # 1.05 x 1.05 x 1.10 x 1.10 = 1.334025
    assert worked(of, upslope=0.04) == (1334.025, 2668.05)


def test_a_credit_counts_whole_steps_from_where_its_note_begins() -> None:
    notes = chart(
        f"for: headwind, change: -10 %, per: 9 kt, up_to: 9 kt, {ADD}",
        f"for: headwind, change: -5 %, per: 5 kt, above: 9 kt, {ON_TOP}, up_to: 19 kt, {ADD}",
    ).notes
    (note,) = notes
    # 16 kt: 9 kt and one whole step of 5 more, 14 kt; 30 kt: held to 19 kt, -10 - 10 %
    assert note.counted(16.0, whole_steps=True) == 14.0
    assert note.fraction(16.0, whole_steps=True) == pytest.approx(-0.15)
    assert note.fraction(30.0, whole_steps=True) == pytest.approx(-0.20)
    assert note.fraction(8.9, whole_steps=True) == 0.0


def test_feet_go_on_in_feet() -> None:
    of = chart(
        "for: tailwind, change: +50 ft, per: 1 kt, up_to: 4 kt, steps: add, to: ground roll, page: 5-1",
        "for: tailwind, change: +100 ft, per: 1 kt, above: 4 kt, counts: what is above, up_to: 8 kt, steps: add, "
        "to: ground roll, page: 5-1",
    )
    (note,) = of.notes
    assert note.fraction(6.0, whole_steps=False) == 400.0  # 4 x 50 + 2 x 100
    assert "+100 ft for each 1 kt above that" in note.words()


@pytest.mark.parametrize("times", ["times 1.15", "+15 %"])
def test_a_factor_is_the_percentage_that_it_is(times: str) -> None:
    of = chart(f"for: dry grass, change: {times}, {TO_BOTH}")
    assert worked(of, dry_grass=1.0) == (1150.0, 2300.0)
    assert of.notes[0].change == 0.15  # not 1.15 - 1 in binary


def test_equipment_counts_on_every_runway_of_this_airplane_alone() -> None:
    typed = "for: own equipment, which: no wheel fairings, change: +3 %"
    of = chart(f"{typed}, applies: true, {TO_BOTH}")
    assert worked(of) == (1030.0, 2060.0)
    assert of.notes[0].words().startswith("no wheel fairings: +3 %")
    assert chart(f"{typed}, applies: false, {TO_BOTH}").notes == ()


def test_the_working_names_the_equipment() -> None:
    of = chart("for: own equipment, which: air conditioner on, applies: true, change: +100 ft, to: both, page: 5-1")
    inputs = {"pressure_altitude_ft": 0.0, "weight_lb": 2000.0, "own equipment": 1.0}
    figure = work_chart(of, {"own equipment": 1.0}, (), inputs, (), pro_rata=True).figure("roll", "ground roll")
    assert figure.value == 1100.0
    assert figure.steps[-1].label == "air conditioner on"


BEGUN = f"for: tailwind, change: +2 %, per: 1 kt, up_to: 5 kt, {ADD}"
MORE = "for: tailwind, change: +4 %, per: 1 kt, above: 5 kt, counts: what is above, up_to: 10 kt, steps: add, "


@pytest.mark.parametrize(
    ("notes", "message"),
    [
        ([MORE + TO_BOTH], "no note for tailwind stands before this one"),
        (
            [BEGUN, MORE.replace("above: 5", "above: 6") + TO_BOTH],
            "above 6 kt, but the note before it ends at 5",
        ),
        (
            [BEGUN.replace("up_to: 5 kt, ", ""), MORE + TO_BOTH],
            "above 5 kt, but the note before it has no 'up_to'",
        ),
        (
            [BEGUN, MORE + TO_BOTH.replace("itself", "ground roll")],
            "this note is of another distance, or adds otherwise, than the one that it goes on from",
        ),
        (
            [BEGUN, MORE.replace("+4", "+1").replace("what is above", "all of it") + TO_BOTH],
            "just above 5 kt it changes less than just below",
        ),
        ([BEGUN, MORE.replace("10 kt", "5 kt") + TO_BOTH], "above 5 kt is not under its own 'up_to'"),
        (
            [f"for: dry grass, change: +5 %, above: 5 kt, {INSTEAD}, {TO_BOTH}"],
            "dry grass is there or not",
        ),
        (
            [f"for: tailwind, change: +5 %, per: any amount, {ADD}"],
            "'per: any amount' is for",
        ),
        (
            [f"for: headwind, change: -5 %, per: any amount, up_to: 9 kt, {ADD}"],
            "'per: any amount' is for",
        ),
        (
            [f"for: own equipment, change: +3 %, {TO_BOTH}"],
            "a note for own equipment needs",
        ),
        ([f"for: dry grass, change: +3 %, which: fairings, {TO_BOTH}"], "'which' is for a note on"),
        ([f"for: dry grass, change: times 5, {TO_BOTH}"], "times 5 is outside what is plausible"),
        (
            [f"for: dry grass, change: times 0.85, {TO_BOTH}"],
            "dry grass hinders a takeoff",
        ),
        (["for: dry grass, change: times 1.15, to: both, page: 5-1"], "the factor times 1.15 needs"),
        (
            [f"for: own equipment, which: x, applies: true, change: -3 %, {TO_BOTH}"],
            "own equipment hinders a takeoff",
        ),
    ],
)
def test_what_does_not_fit_is_a_fault(notes: list[str], message: str) -> None:
    with pytest.raises(InputFault) as raised:
        chart(*notes)
    (problem,) = raised.value.problems
    assert problem.message.startswith(message)


def test_a_note_is_still_one_note_with_what_goes_on_from_it() -> None:
    (note,) = chart(BEGUN, MORE + TO_BOTH).notes
    assert isinstance(note, Note)
    assert [each.above for each in note.further] == [5.0]

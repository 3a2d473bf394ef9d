"""The published sets that come with the program: each factor, base and range as the publication has it.

Sources, by the ids of the check values: F-1, F-3 to F-7 Reg. (EU) 965/2012 (read); F-9 the grass tables of AMC1
CAT.POL.A.305 and .330 (second-hand); UK Safety Sense Leaflet 07, 7c, January 2013 (from memory or second-hand, as
each row says); F-8: the factors go on top of the operational ones (read); F-10: no credit for a slope that helps
(second-hand).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from test_published_factors import corrected

from briefgen.errors import Refusal
from briefgen.files.read_guidance import names, published
from briefgen.files.read_trip import read_trip
from briefgen.handbook.causes import CAUSES

EU, UK = "eu-light-aeroplanes", "uk-leaflet-07"

# set, phase, cause, amount, factor on the distance to or from 50 ft, how well known, where from
FACTORS = [
    (EU, "takeoff", "dry grass", 1.0, 1.20, "second-hand", "F-9"),
    (EU, "takeoff", "wet grass", 1.0, 1.30, "second-hand", "F-9"),
    (EU, "takeoff", "upslope", 0.01, 1.05, "", "F-6"),
    (EU, "takeoff", "upslope", 0.02, 1.10, "", "F-6"),
    (EU, "landing", "dry grass", 1.0, 1.15, "second-hand", "F-9"),
    (EU, "landing", "very short wet grass", 1.0, 1.60, "", "F-5"),
    (EU, "landing", "wet paved", 1.0, 1.15, "", "F-4"),
    (EU, "landing", "downslope", 0.01, 1.05, "", "F-7"),
    (UK, "takeoff", "above standard temperature", 10.0, 1.10, "second-hand", "leaflet"),
    (UK, "takeoff", "dry grass", 1.0, 1.20, "second-hand", "leaflet"),
    (UK, "takeoff", "wet grass", 1.0, 1.30, "second-hand", "leaflet"),
    (UK, "takeoff", "upslope", 0.02, 1.10, "second-hand", "leaflet"),
    (UK, "takeoff", "soft ground", 1.0, 1.25, "from memory", "leaflet"),
    (UK, "landing", "above standard temperature", 10.0, 1.05, "second-hand", "leaflet"),
    (UK, "landing", "dry grass", 1.0, 1.15, "second-hand", "leaflet"),
    (UK, "landing", "wet grass", 1.0, 1.35, "second-hand", "leaflet"),
    (UK, "landing", "very short wet grass", 1.0, 1.60, "second-hand", "leaflet"),
    (UK, "landing", "wet paved", 1.0, 1.15, "from memory", "leaflet"),
    (UK, "landing", "downslope", 0.02, 1.10, "second-hand", "leaflet"),
    (UK, "landing", "soft ground", 1.0, 1.25, "from memory", "leaflet"),
]


@pytest.mark.parametrize(("name", "phase", "cause", "amount", "factor", "known", "source"), FACTORS)
def test_each_factor_is_as_published(
    name: str, phase: str, cause: str, amount: float, factor: float, known: str, source: str
) -> None:
    """The factors are on the distance to or from 50 ft; the roll grows by the same number of feet."""
    (note,) = (each for of, each in published(name).notes if (of, each.cause) == (phase, cause))
    roll, total = corrected(phase, 600, 1200, {cause: amount}, note)
    assert total == pytest.approx(1200 * factor), source
    assert roll == pytest.approx(600 + 1200 * (factor - 1)), source
    assert note.source.known == known
    assert note.source.text.startswith(published(name).title)
    assert ", for " in note.source.text


def test_no_factor_of_a_set_is_left_unchecked() -> None:
    looked_at = {(name, phase, cause) for name, phase, cause, *_ in FACTORS}
    there = {(name, phase, note.cause) for name in names() for phase, note in published(name).notes}
    assert looked_at == there


@pytest.mark.parametrize(
    ("name", "phase", "factor", "known"),
    [
        (EU, "takeoff", 1.25, ""),  # F-1: x 1.25 within TORA, no stopway or clearway
        (EU, "landing", 1.43, ""),  # F-3: within 70 % of LDA, printed 1.43
        (UK, "takeoff", 1.33, "from memory"),
        (UK, "landing", 1.43, "from memory"),
    ],
)
def test_each_safety_factor_is_as_published(name: str, phase: str, factor: float, known: str) -> None:
    found = published(name).factors[phase]
    assert (found.value, found.source.known) == (factor, known)


def test_wet_and_the_safety_factor_multiply() -> None:
    """F-4: 1.15 x 1.43 = 1.64, as GM1 CAT.POL.A.435 prints it (read)."""
    (wet,) = (note for phase, note in published(EU).notes if note.cause == "wet paved")
    assert (1 + wet.change) * published(EU).factors["landing"].value == pytest.approx(1.64, abs=0.005)


@pytest.mark.parametrize(("phase", "cause"), [("takeoff", "upslope"), ("landing", "downslope")])
@pytest.mark.parametrize("name", [EU, UK])
def test_a_slope_past_the_range_is_refused(name: str, phase: str, cause: str) -> None:
    """F-6: above 2 % only with demonstrated data (read); the leaflet prints 2 % (second-hand)."""
    (note,) = (each for of, each in published(name).notes if (of, each.cause) == (phase, cause))
    with pytest.raises(Refusal, match="past the note's limit of 2"):
        corrected(phase, 600, 1200, {cause: 0.021}, note)


@pytest.mark.parametrize("name", names())
def test_no_set_gives_credit_for_what_helps(name: str) -> None:
    """F-10: no credit for a downhill takeoff or an uphill landing (CAP 698, second-hand)."""
    assert published(name).notes
    for phase, note in published(name).notes:
        assert note.change > 0
        assert not CAUSES[note.cause].helps(phase)


def test_the_factors_go_on_top_of_the_operational_factor() -> None:
    """F-8: AMC1 CAT.POL.A.305: 'in addition': 1,200 ft x 1.20 for grass x 1.25 is 1,800 ft (computed)."""
    (grass,) = (note for phase, note in published(EU).notes if (phase, note.cause) == ("takeoff", "dry grass"))
    _, total = corrected("takeoff", 600, 1200, {"dry grass": 1.0}, grass)
    assert total * published(EU).factors["takeoff"].value == pytest.approx(1800)


def test_the_example_policy_takes_its_factors_from_the_sets() -> None:
    trip, _ = read_trip(Path(__file__).parents[2] / "examples" / "quillmere" / "trip.yaml", "trip.yaml")
    assert trip.policy is not None
    assert trip.policy.takeoff_factor == published(UK).factors["takeoff"]
    assert trip.policy.landing_factor == published(EU).factors["landing"]
    given = [
        (note.cause, note.change) for name in names() for phase, note in published(name).notes if phase == "landing"
    ]
    taken = [note for note in trip.policy.landing_guidance if note.source.kind == "published"]
    assert {note.cause for note in taken} == {
        "downslope",
        "wet paved",
        "very short wet grass",
        "wet grass",
        "soft ground",
    }
    assert all((note.cause, note.change) in given for note in taken)

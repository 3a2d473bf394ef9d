"""The last part of the approach: what published figures say of it, and the facts and rules made from them.

Sources: AFH FAA-H-8083-3C ch. 9 (read), PHAK FAA-H-8083-25C ch. 11 (read), trigonometry (computed).
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from briefgen.calc.approach import (
    HYDROPLANING,
    cost_of_a_tenth_fast,
    descent_rate,
    ground_speed,
    hydroplaning_speed,
)
from briefgen.facts import flat
from briefgen.pipeline import brief_of
from briefgen.rules.coverage import case_facts
from briefgen.rules.engine import PACKS, holds
from briefgen.rules.pack import read_pack

RULES = {rule.id: rule for file in PACKS.glob("*.yaml") for rule in read_pack(file, file.name)}


def fires(rule: str, **facts: Any) -> bool:
    """Say whether a rule fires with facts alone; a double underscore stands for the stop in a path."""
    return holds(RULES[rule].when, case_facts({name.replace("__", "."): value for name, value in facts.items()}))


@pytest.fixture
def facts_with(example: Path, tmp_path: Path) -> Callable[..., dict[str, Any]]:
    """Return a function that gives the example's facts after edits: file, what is replaced, by what."""

    def work(*edits: tuple[str, str, str]) -> dict[str, Any]:
        club = Path(shutil.copytree(example.parent, tmp_path / "club"))
        for file, old, new in edits:
            text = (club / file).read_text(encoding="utf-8")
            assert old in text
            (club / file).write_text(text.replace(old, new), encoding="utf-8")
        return flat(brief_of(club / "trip.yaml", "trip.yaml").facts)

    return work


# G-3: computed, GS x tan 3 degrees; 1 ft/min.
@pytest.mark.parametrize(("ground_kt", "fpm"), [(60, 318), (65, 345), (70, 371), (75, 398)])
def test_G_3_the_rate_of_descent_at_three_degrees(ground_kt: float, fpm: int) -> None:
    assert descent_rate(ground_kt, 3) == pytest.approx(fpm, abs=1)


def test_G_3_the_fact_is_that_of_the_ground_speed_and_the_policy_s_angle(facts_with: Any) -> None:
    """Without an angle in the policy 3 degrees, G-8 (AFH-3C, read): about 5.3 times the ground speed (G-3)."""
    facts = facts_with(
        ("policy.yaml", "approach_angle: 3.5 deg\n", ""), ("strips/tansy-bottom.yaml", "height: 10", "height: 1")
    )
    assert facts["landing.approach_angle_deg"] == 3
    assert facts["landing.descent_fpm"] == pytest.approx(5.307 * facts["landing.ground_speed_kt"], abs=10)


@pytest.mark.parametrize(("aim_point", "under_ft"), [("aim_point: 80 ft", 2), ("aim_point: 120 ft", 0)])
def test_the_path_to_the_aim_point_is_held_against_what_stands_before_it(
    facts_with: Any, aim_point: str, under_ft: float
) -> None:
    """By hand: the hedge of 10 ft is 60 ft before the runway; with the aim point 80 ft in it is
    140 ft x tan 3.5 deg = 8.56 ft, 1.44 under it, up 2; with 120 ft in, 180 ft x tan 3.5 deg = 11.01 ft, over it.
    """
    known = facts_with(("policy.yaml", "aim_point: 80 ft", aim_point))
    assert known["landing.aim_under_obstacle_ft"] == under_ft


def test_the_ground_speed_is_the_true_airspeed_less_the_wind_along_the_runway(facts_with: Any) -> None:
    """By hand: 60 kt indicated where the air is 0.943 as dense (ATM-4, 2,000 ft: the density altitude is 2,060) is
    60 / 0.971 = 61.8 kt true; 7 kt from 28 degrees off is 6.2 kt along the runway: 55.6, printed 56."""
    assert facts_with()["landing.ground_speed_kt"] == 56


def test_G_8_the_descent_rule_begins_above_five_hundred_feet_a_minute() -> None:
    # AFH-3C, Stabilized Approach Concept, read: not more than 500 ft/min below 300 ft.
    assert fires("fast-descent", landing__descent_fpm=505)
    assert not fires("fast-descent", landing__descent_fpm=500)


def test_G_8_and_G_9_the_gates_are_those_of_the_handbook() -> None:
    # AFH-3C, Stabilized Approach Concept, read: +10/-5 kt, 15 degrees of bank, 500 ft/min below 300 ft; 500 ft.
    text = RULES["stable-approach"].text.replace("\u00a0", " ")
    for words in ("+10/−5 kt", "15°", "500 ft/min at most below 300 ft", "by 500 ft above the field", "go around"):
        assert words in text


# G-10, G-11: AFH-3C pp. 9-3 and 9-32, read: a sixth and a third of the landing distance available.
@pytest.mark.parametrize(
    ("length", "centre", "third"), [(1120, 186.7, 373.3), (1500, 250, 500), (2000, 333.3, 666.7)]
)
def test_G_10_and_G_11_the_first_third_and_its_centre(
    facts_with: Any, length: int, centre: float, third: float
) -> None:
    facts = facts_with(("strips/tansy-bottom.yaml", "length: 1120 ft", f"length: {length} ft"))
    assert 0 <= third - facts["landing.first_third_ft"] <= 5
    assert 0 <= centre - facts["landing.first_third_centre_ft"] <= 5
    # the example's touchdown, by hand: 80 + 120 = 200 ft
    assert facts["landing.planned.past_centre_ft"] == max(0, 200 - facts["landing.first_third_centre_ft"])
    assert facts["landing.planned.past_first_third_ft"] == 0


def test_V_11_the_speed_from_which_tires_slide_is_the_afh_s() -> None:
    # AFH-3C p. 9-37, read: 8.6 x root of 24 psi = 42 kt; 0.5 kt.
    assert hydroplaning_speed(24) == pytest.approx(42, abs=0.5)


def test_V_10_the_phak_s_is_higher_and_not_used() -> None:
    # PHAK-25C fig. 11-18, read: 9 x root of 36 psi = 54 kt. V-12, computed: 4.7 % above the AFH's 51.6 kt.
    assert hydroplaning_speed(36) == pytest.approx(51.6, abs=0.05)
    assert 54 / hydroplaning_speed(36) == pytest.approx(1.047, abs=0.001)
    assert HYDROPLANING < 9


@pytest.mark.parametrize(("tires", "kt"), [("28 psi", 45), ("36 psi", 51), ("2.5 bar", 51), ("165.5 kPa", 42)])
def test_V_11_tires_in_every_unit(facts_with: Any, tires: str, kt: int) -> None:
    """By hand, rounded down: 8.6 x root of 28 is 45.5; of 36, 51.6; of 36.26 (2.5 bar), 51.8; of 24.0, 42.1."""
    facts = facts_with(("aircraft/n0142.yaml", "main: 28 psi", f"main: {tires}"))
    assert facts["aircraft.hydroplaning_kt"] == kt
    assert facts["landing.over_hydroplaning_kt"] == 60 - kt  # the approach indicated, faster than over the ground


def test_a_tailwind_brings_the_airplane_in_faster_than_it_shows(facts_with: Any) -> None:
    facts = facts_with(("trip.yaml", "120 magnetic at 7 gust 11 kt", "272 magnetic at 4 kt"))
    assert facts["landing.ground_speed_kt"] > facts["landing.planned.approach_kt"]
    assert facts["landing.over_hydroplaning_kt"] == facts["landing.ground_speed_kt"] - 45


def test_LS_2_a_tenth_fast_costs_a_fifth_of_the_landing(facts_with: Any) -> None:
    # PHAK-25C, Landing Performance, read: at least 21 %; the need is the distance from 50 ft here.
    facts = facts_with()
    assert facts["landing.planned.need_ft"] == facts["landing.planned.from_50_ft"]
    assert facts["landing.tenth_fast_cost_ft"] == pytest.approx(0.21 * facts["landing.planned.need_ft"], abs=5)


def test_what_is_not_known_of_an_approach_is_not_made_up(example: Path) -> None:
    """No approach speed: no ground speed; an estimate, or no touchdown figures: no cost."""
    from briefgen.calc.flight import fly
    from briefgen.files.read_trip import read_trip

    trip = read_trip(example, "trip.yaml")[0]
    flight = fly(trip)
    assert cost_of_a_tenth_fast(flight.flaps_up) is None
    unknown = flight.planned._replace(approach=flight.planned.approach._replace(value=None))
    assert ground_speed(trip.aircraft, unknown, flight.arrival) is None
    assert cost_of_a_tenth_fast(flight.planned._replace(need=unknown.approach)) is None
    # by hand: a roll of 1,000 ft after an allowance of 400 ft governs over 1,100 ft from 50 ft: 400 + 1,210 - 1,400
    figure = flight.planned.roll
    slow = flight.planned._replace(
        roll=figure._replace(value=1000.0),
        total=figure._replace(value=1100.0),
        allowance=figure._replace(value=400.0),
        need=figure._replace(value=1400.0),
    )
    assert cost_of_a_tenth_fast(slow) == pytest.approx(210)

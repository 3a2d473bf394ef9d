"""Faults are gathered, one for each mistake; a mistake of ours is never taken for one of the file.

Source: design.md 'Bad input' (all faults of a file in one run) and style.md 9 (a user's mistake is not a bug).
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from briefgen.errors import InputFault, Problem
from briefgen.files.document import parse
from briefgen.files.entry import Entry, opened
from briefgen.files.schema import another_kind

GOOD = """\
policy: a club
minimum_margin: {takeoff: 300 ft, landing: 100 m}
reaction_time: 3 s
"""


def entry(text: str) -> Entry:
    return opened(parse(text, Path("policy.yaml"), "policy.yaml"), "policy")


def said(root: Entry) -> list[str]:
    return [str(problem) for problem in root.faults.problems]


def test_a_sound_file_has_no_faults_and_its_values_come_in_the_inside_unit() -> None:
    root = entry(GOOD)
    assert said(root) == []
    assert root["minimum_margin"]["takeoff"].quantity("length") == 300
    assert root["minimum_margin"]["landing"].quantity("length") == pytest.approx(100 / 0.3048)  # by definition
    assert root.optional("reaction_time", "duration") == 3
    assert root.optional("approach_angle", "angle") is None
    assert root.text("policy") == "a club"
    assert root.text("not_for_flight", "otherwise") == "otherwise"
    assert root.items("guidance") == []


def test_an_implausible_quantity_is_one_fault_in_the_unit_that_was_typed() -> None:
    root = entry(GOOD.replace("100 m}", "9000 m}"))
    assert math.isnan(root["minimum_margin"]["landing"].quantity("length", 0, 5000))
    assert said(root) == [  # 5000 ft is 1524 m, by definition of the foot
        "policy.yaml:2:44 9000 m is over the most that is plausible here, 1,524 m; "
        "look at the number and at its unit"
    ]


def test_a_quantity_with_a_fault_of_form_is_not_a_number_and_brings_no_second_fault() -> None:
    root = entry(GOOD.replace("300 ft", "300"))
    assert math.isnan(root["minimum_margin"]["takeoff"].quantity("length", 0, 10))
    assert len(said(root)) == 1


def test_a_missing_key_is_read_as_nothing_only_where_its_fault_is_noted() -> None:
    root = entry(GOOD + "rework: {warmer: 3 degC, wind: 5 kt, heavier: 20 lb}\n")
    assert math.isnan(root["rework"]["after"].quantity("duration"))
    assert len(said(root)) == 1
    with pytest.raises(KeyError):
        root["approach_angle"]


def test_an_unknown_key_does_not_stop_the_reading_of_the_others() -> None:
    root = entry(GOOD + "zzz: 1\n")
    assert len(said(root)) == 1
    assert not root.faults.touch(("reaction_time",))
    assert root["reaction_time"].quantity("duration") == 3


def test_a_mistake_of_the_program_is_not_swallowed() -> None:
    def mistaken(each: Entry) -> float:
        return float(each.value["no such key"])

    root = entry(GOOD)
    with pytest.raises((LookupError, TypeError)):
        root.faults.part(root["minimum_margin"], mistaken)
    spoiled = entry(GOOD.replace("300 ft", "300"))
    assert spoiled.faults.part(spoiled["minimum_margin"], mistaken) is None  # the file's fault is noted already


def test_a_quantity_that_the_schema_let_pass_and_the_code_does_not_read_is_a_mistake_of_the_program() -> None:
    root = entry(GOOD)
    with pytest.raises(ValueError, match="no speed"):
        root["reaction_time"].quantity("speed")


def test_problems_are_told_once_and_in_the_order_of_their_places() -> None:
    one, other = Problem("b.yaml", 2, 1, "x"), Problem("a.yaml", 10, 1, "x", "y")
    assert InputFault([one, other, one, Problem("a.yaml", 9, 3, "z")]).lines() == [
        "a.yaml:9:3 z",
        "a.yaml:10:1 x; y",
        "b.yaml:2:1 x",
    ]
    assert InputFault([one]).exit_status == 2


def test_a_problem_is_one_line_whatever_is_in_it() -> None:
    line = str(Problem("a\nb.yaml", 1, 1, "'x\ty\x1b[2J\u202e\u00a0'", "Zoë's ≥ 5 °C"))
    assert line == r"a\nb.yaml:1:1 'x\ty\x1b[2J\u202e\xa0'; Zoë's ≥ 5 °C"


@pytest.mark.parametrize(
    ("text", "wanted", "told"),
    [
        ("registration: N0142\nspeeds: {}\n", "strip", "looks like an aircraft file; a strip file is wanted here"),
        ("as_of: x\ndeparture: {}\n", "policy", "looks like a trip file; a policy file is wanted here"),
        ("runways: []\n", "aircraft", "looks like a strip file; an aircraft file is wanted here"),
        ("factors: {}\n", "trip", "looks like a policy file; a trip file is wanted here"),
        ("runways: []\n", "strip", ""),  # it is
        ("runways: []\nas_of: x\n", "policy", ""),  # cannot be known
        ("remarks: [x]\n", "policy", ""),
        ("a word\n", "policy", ""),
    ],
)
def test_a_file_in_the_place_of_another_is_known_by_its_keys(text: str, wanted: str, told: str) -> None:
    assert another_kind(parse(text, Path("f.yaml"), "f.yaml"), wanted) == told

"""A file is read as YAML 1.2 core, every value knows its place, and what is refused is refused all at once.

Source of the scalars: YAML 1.2.2, section 10.3.2, 'Tag Resolution' of the core schema, and its example 10.9 (read).
Departures on purpose: infinities and not-a-number stay text, for no quantity is one; numbers of 300 digits too.
Places are counted by hand in the texts below: line and column from 1, a column for each character.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from briefgen.errors import InputFault
from briefgen.files.document import Document, parse, read, scalar

CORE = {
    # text, for the core schema knows no dates, no times in sixties, and of truths only true and false
    **{text: text for text in ("NO", "no", "yes", "on", "off", "y", "N", "tRUE", "nULL", "<<", "=", "+", "-", ".")},
    **{text: text for text in ("12:30", "190:20:30", "2026-05-16", "2026-05-16T14:00Z", "2450 lb", "925/1685")},
    **{text: text for text in ("1_000", "0b11", "0o8", "0xG", "+0x1F", "1e", "e3", "1.2.3", "5-11", "٣")},
    # integers: a leading nought means nothing
    **{"07": 7, "09": 9, "010": 10, "0": 0, "-0": 0, "+12": 12, "-19": -19},
    **{"0o17": 15, "0o7": 7, "0x1F": 31, "0x3a": 58},
    # floats
    **{"1e3": 1000.0, "12e03": 12000.0, "-2E+05": -200000.0, "0.": 0.0, "-0.0": 0.0},
    **{".5": 0.5, "+12.3": 12.3, "5.10": 5.1},
    # nothing, and truths
    **{"": None, "~": None, "null": None, "Null": None, "NULL": None},
    **{"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False},
    # departures
    **{text: text for text in (".inf", "-.Inf", "+.INF", ".nan", ".NaN", "1e999", "-1e999", "9" * 300)},
}  # fmt: skip


def document(text: str) -> Document:
    return parse(text, Path("trip.yaml"), "trip.yaml")


def said(text: str) -> list[str]:
    with pytest.raises(InputFault) as caught:
        document(text)
    return caught.value.lines()


@pytest.mark.parametrize(("text", "value"), CORE.items())
def test_plain_scalars_are_those_of_the_core_schema(text: str, value: Any) -> None:
    found = scalar(text)
    assert (found, type(found)) == (value, type(value))
    if text not in ("", "=", "-", "~"):
        assert document(f"key: {text}").value == {"key": value}


@pytest.mark.parametrize("text", ["09", "NO", "1e3", "null", "true", "5.10", "", "~"])
def test_quoted_scalars_are_text_whatever_they_look_like(text: str) -> None:
    for quoted in (f'"{text}"', f"'{text}'"):
        assert document(f"key: {quoted}").value == {"key": text}
    if text:
        assert document(f"key: |-\n  {text}\n").value == {"key": text}
        assert document(f"key: >-\n  {text}\n").value == {"key": text}


def test_plain_scalars_that_are_no_text_are_kept_as_typed_too() -> None:
    found = document("runway: 09\npage: 5.10\nlist: [0x1F, ~, 'x', x]\nquoted: '09'\n")
    assert found.value == {"runway": 9, "page": 5.1, "list": [31, None, "x", "x"], "quoted": "09"}
    assert found.written == {("runway",): "09", ("page",): "5.10", ("list", 0): "0x1F", ("list", 1): "~"}


def test_merge_keys_are_keys_as_any_other() -> None:
    found = document("base: &b {flaps: '10'}\nown:\n  <<: *b\n  speed: 50 kt\n")
    assert found.value["own"] == {"<<": {"flaps": "10"}, "speed": "50 kt"}


def test_an_alias_is_the_value_that_its_anchor_names() -> None:
    found = document("first: &t 27 degC\nsecond: *t\n")
    assert found.value == {"first": "27 degC", "second": "27 degC"}
    assert found.marks["second",] == found.marks["first",] == (1, 8)


MARKED = """\
# a comment
trip: Zoë's trip
departure:
    strip: "x.yaml"   # another
    conditions: {wind: calm, surface: dry}
remarks:
- first
-   second é, third
"""


def test_every_value_and_key_knows_its_line_and_column() -> None:
    found = document(MARKED)
    assert found.marks == {
        (): (2, 1),
        ("trip",): (2, 7),
        ("departure",): (4, 5),
        ("departure", "strip"): (4, 12),
        ("departure", "conditions"): (5, 17),
        ("departure", "conditions", "wind"): (5, 24),
        ("departure", "conditions", "surface"): (5, 39),
        ("remarks",): (7, 1),
        ("remarks", 0): (7, 3),
        ("remarks", 1): (8, 5),
    }
    assert found.key_marks["departure",] == (3, 1)
    assert found.key_marks["departure", "conditions", "surface"] == (5, 30)
    for place, (line, column) in found.marks.items():
        value: Any = found.value
        for step in place:
            value = value[step]
        if isinstance(value, str):
            assert MARKED.splitlines()[line - 1][column - 1 :].lstrip('"').startswith(value)


def test_a_problem_is_placed_at_a_value_or_a_key_or_at_the_nearest_value_above() -> None:
    found = document(MARKED)
    assert str(found.problem(("departure", "strip"), "x")) == "trip.yaml:4:12 x"
    assert str(found.problem(("departure", "strip"), "x", "y", key=True)) == "trip.yaml:4:5 x; y"
    assert str(found.problem(("departure", "conditions", "ground"), "x", key=True)) == "trip.yaml:5:17 x"
    assert str(found.problem(("arrival", "weight"), "x")) == "trip.yaml:2:1 x"


def test_a_byte_order_mark_and_line_ends_of_other_systems_do_no_harm(tmp_path: Path) -> None:
    file = tmp_path / "trip.yaml"
    file.write_bytes(b"\xef\xbb\xbftrip: x\r\ncrew: y\r\n")
    found = read(file, "trip.yaml")
    assert found.value == {"trip": "x", "crew": "y"}
    assert found.marks["crew",] == (2, 7)


def test_every_repeated_key_is_told_at_once_and_within_its_own_group_only() -> None:
    assert said("a: 1\nb: {c: 1, c: 2}\na: 2\nd: {c: 3}\n") == [
        "trip.yaml:2:11 the key 'c' is repeated; it stands on line 2 too; keep one of them",
        "trip.yaml:3:1 the key 'a' is repeated; it stands on line 1 too; keep one of them",
    ]


def test_refusals_of_different_kinds_come_in_one_run() -> None:
    assert [line.split(" ")[0] for line in said('a: !x 1\n? [b]\n: 2\nc: "\\0"\nc: 3\n"\\x07": 4\n')] == [
        "trip.yaml:1:4",
        "trip.yaml:2:3",
        "trip.yaml:4:4",
        "trip.yaml:5:1",
        "trip.yaml:6:1",
    ]


@pytest.mark.parametrize("depth", [29, 30])
def test_thirty_groups_inside_one_another_are_read_and_thirty_one_are_not(depth: int) -> None:
    """The bound is the one of `document.py`, far over the deepest schema (10); common practice, no source."""
    assert document("[" * depth + "]" * depth).value is not None
    assert "more than 30 values" in said("[" * 31 + "]" * 31)[0]


def test_a_value_in_itself_is_refused_and_the_same_value_twice_is_not() -> None:
    assert "holds itself" in said("a: &a\n  - b: *a\n")[0]
    assert document("a: &a [x]\nb: [*a, *a]\n").value["b"] == [["x"], ["x"]]

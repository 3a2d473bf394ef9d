"""A second typing beside the first: what differs, cell by cell, whatever the order."""

from __future__ import annotations

from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.auditing import audit_of
from briefgen.cli import main
from briefgen.files.document import parse
from briefgen.render.audit_words import audit_lines
from briefgen.studies.compared import Compared, compare
from briefgen.studies.table_audit import Grade

AIRPLANE = EXAMPLE / "aircraft" / "n0142.yaml"
TAKEOFF = "takeoff, flaps 10, 2550 lb"
RATES = "rate of climb, flaps 10 for climb"
TEXT = AIRPLANE.read_text(encoding="utf-8")


def against(second: str, first: str = TEXT) -> Compared:
    documents = [parse(text, Path(name), name) for text, name in ((first, "one.yaml"), (second, "two.yaml"))]
    return compare(*documents)


def edited(*edits: tuple[str, str]) -> str:
    text = TEXT
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def said(found: Compared) -> list[tuple[str, str, str]]:
    return [(each.where, each.here, each.there) for each in found.differences]


def test_the_same_typing_has_no_difference() -> None:
    found = against(TEXT)
    assert said(found) == []
    assert found.left_out == ()
    assert found.cells > 1000  # and it did look


@pytest.mark.parametrize(
    ("old", "new", "where", "here", "there"),
    [
        ("1440/2800", "1440/2080", f"{TAKEOFF}, 5000 ft, 30 degC", "1440/2800", "1440/2080"),
        ("3460,     blank", "3460, 1865/3770", f"{TAKEOFF}, 7000 ft, 40 degC", "blank", "1865/3770"),
        ("62 kt,   505", "62 kt,   550", f"{RATES}, 2550 lb, 3000 ft, 0 degC", "505", "550"),
        ("[3000 ft,  62 kt,", "[3000 ft,  26 kt,", f"{RATES}, 2550 lb, 3000 ft, its speed", "62 kt", "26 kt"),
        ("8/1.4/11", "8/1.4/12", "climb, 2550 lb, 5000 ft, its cell", "8/1.4/11", "8/1.4/12"),
        ("63/104/8.2", "63/104/8.3", "cruise, 2300 rpm, 6000 ft, -20 degC", "63/104/8.2", "63/104/8.3"),
        ("up_to: 27 kt", "up_to: 72 kt", "takeoff, flaps 10, notes, for headwind to both, up to", "27 kt", "72 kt"),
        ("[2350 lb, 49 kt]", "[2350 lb, 94 kt]", "speeds, liftoff, flaps 10, 2350 lb, number 2", "49 kt", "94 kt"),
        ("arm: 39.2 in", "arm: 39.4 in", "balance, empty, arm", "39.2 in", "39.4 in"),
        ("page: 2-6}\ndeviation", "page: 2-9}\ndeviation", "fuel, page", "2-6", "2-9"),
    ],
)  # fmt: skip
def test_one_difference_is_told_at_its_place(old: str, new: str, where: str, here: str, there: str) -> None:
    (one,) = against(edited((old, new))).differences
    assert (one.where, one.here, one.there) == (where, here, there)
    line = TEXT[: TEXT.index(old)].count("\n") + 1
    assert line <= one.line <= line + old.count("\n")
    assert one.other_line == one.line


def test_the_order_of_blocks_rows_and_keys_is_no_difference() -> None:
    rows = [
        "          - [0 ft,      355/795,   365/815,   380/835,   390/855,   405/875]\n",
        "          - [1000 ft,   365/815,   380/835,   395/860,   405/880,   420/900]\n",
    ]
    turned = edited(
        (rows[0] + rows[1], rows[1] + rows[0]), ("{main: 28 psi, page: 8-5}", "{page: 8-5, main: 28 psi}")
    )
    assert said(against(turned)) == []


def test_spaces_and_quotes_are_no_difference() -> None:
    assert said(against(edited(("725/1265", '"725/1265"'), ("page: 5-20\n", "page: '5-20'\n")))) == []


def test_a_row_that_only_one_of_them_has() -> None:
    row = "          - [3000 ft,   395/860,   410/885,   420/900,   435/925,   450/950]\n"
    where = "landing, flaps 30, 2550 lb, 3000 ft"
    assert said(against(edited((row, "")))) == [(where, "something", "nothing")]
    assert said(against(TEXT, edited((row, "")))) == [(where, "nothing", "something")]


def test_a_cell_too_few_shifts_the_row_to_its_right_end() -> None:
    """Cells are named by their temperatures, counted from the row's end; what has none of its own is told."""
    found = against(edited(("410/885,   420/900,", "420/900,")))
    assert [where for where, _, _ in said(found)]
    assert all(where.startswith("landing, flaps 30, 2550 lb, 3000 ft, ") for where, _, _ in said(found))


def test_a_table_alone_is_enough() -> None:
    takeoff = TEXT[TEXT.index("\ntakeoff:") : TEXT.index("\nlanding:")]
    found = against(takeoff.replace("1440/2800", "1440/2080"))
    assert len(found.differences) == 1
    (left,) = found.left_out
    assert left.startswith("only in one.yaml: registration, ")
    assert "landing" in left
    assert "takeoff" not in left


def test_a_part_of_the_second_that_the_first_has_not() -> None:
    found = against(TEXT + "\nremarks: [typed at night]\n")
    assert found.left_out == ("only in two.yaml: remarks",)


def test_lists_of_two_things_of_one_name() -> None:
    first = "takeoff:\n  - {flaps: up, page: a}\n  - {flaps: up, page: b}\n"
    assert said(against(first.replace("b}", "c}"), first)) == [("takeoff, flaps up again, page", "b", "c")]


def test_the_command_lists_them_and_counts_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = tmp_path / "other.yaml"
    other.write_text(edited(("1440/2800", "1440/2080")), encoding="utf-8")
    found = audit_of(AIRPLANE, "n.yaml", str(other))
    assert (found.findings, found.worst) == ((), Grade.SUSPECT)
    text = " ".join(audit_lines(found).split())
    assert "here 1440/2800, there 1440/2080" in text
    assert main(["audit", str(AIRPLANE), "--against", str(other), "--fail-on", "suspect"]) == 1
    assert main(["audit", str(AIRPLANE), "--against", str(other), "--fail-on", "impossible"]) == 0
    assert main(["audit", str(AIRPLANE), "--against", str(AIRPLANE), "--fail-on", "unusual"]) == 0
    assert "0 differences in" in capsys.readouterr().out

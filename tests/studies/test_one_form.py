"""Two typings of one table that say the same in other ways differ in nothing, and one slip between them is found.

Sources: the example airplane's own tables, typed anew; what differs is put in by the tests, and its place is found
in the text as written.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import sheets
import yaml
from conftest import EXAMPLE

from briefgen.auditing import audit_of
from briefgen.files.document import parse, read
from briefgen.studies.compared import Compared, compare

AIRPLANE = EXAMPLE / "aircraft" / "n0142.yaml"
TEXT = AIRPLANE.read_text(encoding="utf-8")
TAKEOFF = sheets.written(sheets.long_in_feet(list(sheets.printed(read(AIRPLANE, "a").value["takeoff"][0]))))
HEAVY = [each for each in sheets.printed(read(AIRPLANE, "a").value["takeoff"][0]) if each.weight == 2550]


def airplane(folder: Path, part: str, table: str, **beside: Any) -> Path:
    """Return an aircraft file like the example's with one table in a sheet, and what stands beside that."""
    plain = read(AIRPLANE, "n0142.yaml").value
    of = plain[part][0] if isinstance(plain[part], list) else plain[part]
    for key in ("cell", "temperatures", "tables"):
        of.pop(key, None)
    of |= {"csv": "table.csv", **beside}
    if "headwind" in table:
        of["notes"] = [note for note in of["notes"] if "wind" not in note["for"]]
    (folder / "table.csv").write_text(table, encoding="utf-8")
    file = folder / "aircraft.yaml"
    file.write_text(yaml.safe_dump(plain, allow_unicode=True), encoding="utf-8")
    return file


def beside(file: Path, sheet: str, name: str) -> Compared:
    second = file.parent / "second.csv"
    second.write_text(sheet, encoding="utf-8")
    found = audit_of(file, "aircraft.yaml", str(second), name).compared
    assert found
    return found


def said(found: Compared) -> list[tuple[str, str, str]]:
    return [(each.where, each.here, each.there) for each in found.differences]


def place(text: str, of: str) -> tuple[int, int]:
    at = text.index(of)
    return text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)


def standard() -> str:
    """Return the takeoff table of 2,550 lb with its column of 10 degC alone, and neither weight nor temperature."""
    rows = [(each.altitude, each.roll, each.total) for each in HEAVY if each.degC == 10]
    return sheets.written([("pressure altitude ft", "ground roll ft", "over 50 ft ft"), *rows])


def by_wind() -> str:
    """Return the takeoff table of 2,550 lb in no wind and in 10 kt, there a tenth shorter, without its weight."""
    rows: list[tuple[object, ...]] = [("headwind kt", *sheets.HEADER[1:])]
    for kt, share in ((0, 1.0), (10, 0.9)):
        for each in HEAVY:
            pair = [None if ft is None else round(ft * share) for ft in (each.roll, each.total)]
            rows.append((kt, each.altitude, each.degC, *pair))
    return sheets.written(rows)


def climb() -> str:
    """Return the climb table with fuel before time."""
    rows: list[tuple[object, ...]] = [("weight lb", "pressure altitude ft", "speed kt", "fuel gal", "time min")]
    rows[0] += ("distance NM",)
    for block in read(AIRPLANE, "a").value["climb"]["tables"]:
        for altitude, speed, cell in block["rows"]:
            time, fuel, distance = cell.split("/")
            rows.append(
                (*(sheets.number(each) for each in (block["weight"], altitude, speed)), fuel, time, distance)
            )
    return sheets.written(rows)


CASES = [
    (
        "takeoff",
        "takeoff, flaps 10",
        standard(),
        {"weight": "2550 lb", "temperatures": "standard"},
        "\n5000,",
        2,
        9,
    ),
    ("takeoff", "takeoff, flaps 10", by_wind(), {"weight": "2550 lb"}, "\n10,5000,30,", 2, 45),
    ("climb", "climb", climb(), {"temperatures": "standard"}, "\n2350,5000,74,", 3, 22),
]


@pytest.mark.parametrize(("part", "name", "table", "more", "row", "numbers", "cells"), CASES)
def test_a_sheet_beside_itself_differs_in_nothing_and_one_slip_is_found(
    part: str, name: str, table: str, more: dict[str, str], row: str, numbers: int, cells: int, tmp_path: Path
) -> None:
    """Whatever stands beside the sheet in the aircraft file; `cells` is the least that must have been compared."""
    file = airplane(tmp_path, part, table, **more)
    same = beside(file, table, name)
    assert said(same) == []
    assert same.left_out == ()
    assert same.cells > cells
    old = table[table.index(row) + 1 :].split("\n")[0]
    slipped = ",".join([*old.split(",")[:-1], "987"])
    (one,) = beside(file, table.replace(f"\n{old}\n", f"\n{slipped}\n"), name).differences
    assert one.here == "/".join(old.split(",")[-numbers:])
    assert one.there == "/".join(slipped.split(",")[-numbers:])
    line = place(table, f"\n{old}\n")[0] + 1
    assert (one.other_line, one.other_column) == (line, len(old) - len(old.split(",")[-1]) + 1)


def test_the_order_of_a_cell_s_numbers_is_no_difference(tmp_path: Path) -> None:
    """Fuel stands before time in the sheet; 1.4 gal at 5,000 ft and 2,550 lb is told in the order of the file."""
    assert said(beside(copied(tmp_path), climb(), "climb")) == []
    slipped = climb().replace("2550,5000,74,1.4,8,11", "2550,5000,74,4.1,8,11")
    (one,) = beside(copied(tmp_path), slipped, "climb").differences
    assert (one.where, one.here, one.there) == ("climb, 2550 lb, 5000 ft, its cell", "8/1.4/11", "8/4.1/11")
    line, column = place(slipped, "2550,5000,74,4.1")
    assert (one.other_line, one.other_column) == (line, column + len("2550,5000,74,"))


def copied(folder: Path) -> Path:
    file = folder / "n0142.yaml"
    file.write_text(TEXT, encoding="utf-8")
    return file


@pytest.mark.parametrize(
    ("ours", "theirs", "where", "here", "there"),
    [
        ("roll ft", "roll m", "distances", "ft", "m"),
        ("roll m", "roll ft", "distances", "m", "ft"),
        ("pressure", "density", "altitude", "pressure altitude", "density altitude"),
        ("density", "pressure", "altitude", "density altitude", "pressure altitude"),
    ],
)
def test_a_unit_and_an_altitude_that_go_without_saying_are_compared(
    ours: str, theirs: str, where: str, here: str, there: str, tmp_path: Path
) -> None:
    def sheet(word: str) -> str:
        text = standard().replace("pressure", word) if word in ("pressure", "density") else standard()
        return text.replace("roll ft", "roll m").replace("50 ft ft", "50 ft m") if word == "roll m" else text

    more = {} if ours == "density" else {"temperatures": "standard"}
    file = airplane(tmp_path, "takeoff", sheet(ours), weight="2550 lb", **more)
    found = said(beside(file, sheet(theirs), "takeoff, flaps 10"))
    assert (f"takeoff, flaps 10, {where}", here, there) in found
    assert [each for each in found if "temperatures" not in each[0]] == [
        (f"takeoff, flaps 10, {where}", here, there)
    ]


def test_columns_of_another_kind_are_one_difference_and_the_cells_are_said_to_be_left_out(tmp_path: Path) -> None:
    found = beside(copied(tmp_path), standard(), "takeoff, flaps 10")
    assert said(found) == [("takeoff, flaps 10, columns", "temperatures", "nothing")]
    assert found.left_out == ("the cells: their columns are not of the same kind",)


def both(first: str, second: str) -> list[tuple[str, str, str]]:
    one, two = (parse(text, Path(name), name) for text, name in ((first, "one.yaml"), (second, "two.yaml")))
    return said(compare(one, two))


ROWS = "rows: [[0 ft, 9/1.5, 7/1.2], [1000 ft, 8/1.3, blank]]"
CLIMB = "climb: {page: 5-1, cell: [time min, fuel gal], temperatures: [0 degC, 9 degC], "


def test_two_aircraft_files_that_say_the_same_in_other_ways() -> None:
    first = f"{CLIMB}weight: 2550 lb, {ROWS}}}\n"
    blocks = f"{CLIMB}altitude: pressure altitude, tables: [{{weight: 2550 lb, {ROWS}}}]}}\n"
    other = blocks.replace("time min, fuel gal", "fuel gal, time min")
    for one, swapped in (("9/1.5", "1.5/9"), ("7/1.2", "1.2/7"), ("8/1.3", "1.3/8")):
        other = other.replace(one, swapped)
    assert both(first, blocks) == both(first, other) == both(other, first) == []
    assert both(first, other.replace("1.3/8", "1.3/3")) == [("climb, 2550 lb, 1000 ft, 0 degC", "8/1.3", "3/1.3")]
    assert both(first, blocks.replace("pressure", "density")) == [
        ("climb, altitude", "pressure altitude", "density altitude")
    ]
    takeoff = f"takeoff: [{{flaps: '10', temperatures: standard, tables: [{{{ROWS}}}]}}]\n"
    metres = takeoff.replace("temperatures", "distances: m, temperatures")
    assert both(takeoff, metres.replace("distances: m", "distances: ft")) == []
    assert both(takeoff, metres) == [("takeoff, flaps 10, distances", "ft", "m")]


@pytest.mark.parametrize(
    "rows", ["rows: none", "tables: none", "tables: [none]", "rows: [none, 3]", "tables: [{rows: 3}]", "cell: none"]
)
def test_a_second_typing_that_is_not_sound_is_compared_as_it_is(rows: str) -> None:
    first = f"{CLIMB}{ROWS}}}\n"
    second = f"climb: {{page: 5-1, cell: [fuel gal, time min], {rows}}}\n"
    second = second.replace("cell: [fuel gal, time min], cell", "cell")
    assert both(first, second)
    assert both(second, first)

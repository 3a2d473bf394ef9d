"""Tables typed in a spreadsheet: every good export reads the same, every bad one ends in a line that says where.

Source: the layout as its schema and the guide give it; what is expected of a fault is told by hand from the cell
that is wrong. A fault names the line and character of the cell, and the cell as a spreadsheet does.
"""

from __future__ import annotations

import random
import re
from pathlib import Path
from typing import Any

import pytest

from briefgen.errors import InputFault
from briefgen.files.sheet_table import SheetTable, read_sheet_table

HEAD = "weight lb,pressure altitude ft,temperature degC,ground roll ft,over 50 ft ft\n"
ROWS = "2550,0,0,725,1265\n2550,0,10,790,1400\n2550,1000,0,791,1401\n2550,1000,10,860,1540\n"
LAID = {
    "temperatures": ["0 degC", "10 degC"],
    "tables": [
        {
            "weight": "2550 lb",
            "rows": [["0 ft", "725/1265", "790/1400"], ["1000 ft", "791/1401", "860/1540"]],
        }
    ],
}
WIDE = (
    "weight lb,pressure altitude ft,ground roll ft at 0 degC,over 50 ft ft at 0 degC,"
    "ground roll ft at 10 degC,over 50 ft ft at 10 degC\n2550,0,725,1265,790,1400\n2550,1000,791,1401,860,1540\n"
)


def read(folder: Path, content: str | bytes) -> SheetTable:
    file = folder / "t.csv"
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return read_sheet_table(file, "t.csv")


def said(folder: Path, content: str | bytes) -> list[str]:
    with pytest.raises(InputFault) as fault:
        read(folder, content)
    return fault.value.lines()


@pytest.mark.parametrize(
    "content",
    [
        HEAD + ROWS,
        "\ufeff" + HEAD + ROWS,
        (HEAD + ROWS).replace("\n", "\r\n"),
        (HEAD + ROWS).replace("\n", "\r"),
        (HEAD + ROWS).replace(",", ";"),
        (HEAD + ROWS).replace(",", "\t"),
        (HEAD + ROWS).rstrip("\n"),
        HEAD + ROWS + ",,,,\n\n ,, ,,\n",
        "sep=;\n" + (HEAD + ROWS).replace(",", ";"),
        "\ufeffsep=,\r\n" + (HEAD + ROWS).replace("\n", "\r\n"),
        "sep=\t\n" + (HEAD + ROWS).replace(",", "\t"),
        'sep=;\ntable;"takeoff, flaps 10"\n' + (HEAD + ROWS).replace(",", ";"),
        (HEAD + ROWS).replace("\n", ",,\n"),
        HEAD + "\n" + ROWS.replace("2550,1000,0", "\n2550,1000,0"),
        "# page 5-11, typed from the paper copy\n" + HEAD + ROWS,
        'table,"takeoff, flaps 10"\n' + HEAD + ROWS,
        HEAD.upper().replace("FT", "ft").replace("LB", "lb").replace("DEGC", "°C") + ROWS,
        HEAD.replace("weight lb", "weight (lb)").replace("pressure altitude ft", "pressure altitude [ft]") + ROWS,
        HEAD + ROWS.replace("725", '"725"').replace("1540", ' "1540" '),
        HEAD + ROWS.replace("2550,0,0", "+2550,0, 0"),
        "over 50 ft ft,temperature degC,ground roll ft,weight lb,pressure altitude ft\n"
        "1265,0,725,2550,0\n1400,10,790,2550,0\n1401,0,791,2550,1000\n1540,10,860,2550,1000\n",
        WIDE,
        WIDE.replace(",", ";"),
    ],
)
def test_every_export_of_one_page_reads_the_same(content: str, tmp_path: Path) -> None:
    assert read(tmp_path, content).value == LAID


def test_decimals_stand_after_a_comma_where_cells_are_apart_by_semicolons(tmp_path: Path) -> None:
    content = HEAD.replace(" ft ft", " ft m").replace("roll ft", "roll m") + "2550,0,0,221.0,385.5\n"
    swapped = content.replace(",", ";").replace(".", ",")
    for each in (content, swapped, content.replace(",", "\t")):
        assert read(tmp_path, each).value["tables"][0]["rows"] == [["0 ft", "221.0/385.5"]]


def test_an_empty_cell_and_a_row_left_out_are_where_the_page_prints_nothing(tmp_path: Path) -> None:
    for rows in (ROWS.replace("860,1540", ","), ROWS.replace("2550,1000,10,860,1540\n", "")):
        found = read(tmp_path, HEAD + rows).value["tables"][0]["rows"]
        assert found[1] == ["1000 ft", "791/1401", "blank"]


def test_every_part_knows_the_cell_it_was_typed_in(tmp_path: Path) -> None:
    marks = read(tmp_path, HEAD + ROWS).marks
    assert marks["tables", 0, "weight"] == (2, 1)
    assert marks["tables", 0, "rows", 1, 0] == (4, 6)  # 1000 of '2550,1000,0,791,1401'
    assert marks["temperatures", 1] == (3, 8)
    assert marks["tables", 0, "rows", 1, 2] == (5, 14)  # 860
    assert marks["tables", 0, "rows", 1, 2, 1] == (5, 18)  # 1540


def test_columns_may_be_spread_by_weight_by_wind_or_above_standard(tmp_path: Path) -> None:
    by_weight = "pressure altitude ft,temperature degC,rate ft/min at 2550 lb,rate ft/min at 2350 lb\n0,0,700,800\n"
    assert read(tmp_path, by_weight).value["tables"] == [
        {"weight": "2350 lb", "rows": [["0 ft", "800"]]},
        {"weight": "2550 lb", "rows": [["0 ft", "700"]]},
    ]
    wind = "weight kg,density altitude m,ground roll m at 0 kt,over 50 ft m at 0 kt,ground roll m at 10 kt,"
    wind += "over 50 ft m at 10 kt\n1000,0,200,400,180,360\n"
    assert read(tmp_path, wind).value == {
        "altitude": "density altitude",
        "temperatures": "any",
        "distances": "m",
        "tables": [
            {"weight": "1000 kg", "headwind": "0 kt", "rows": [["0 m", "200/400"]]},
            {"weight": "1000 kg", "headwind": "10 kt", "rows": [["0 m", "180/360"]]},
        ],
    }
    above = (
        "pressure altitude ft,rate ft/min at -20 degC above standard,rate ft/min at 0 degC above standard\n0,9,8\n"
    )
    value = read(tmp_path, above).value
    assert (value["above_standard"], value["cell"], value["rows"]) == (
        ["-20 degC", "0 degC"],
        ["rate ft/min"],
        [["0 ft", "9", "8"]],
    )


def test_a_row_s_speed_stands_once_before_its_cells(tmp_path: Path) -> None:
    long = "pressure altitude ft,temperature degC,speed kt,rate ft/min\n0,0,73,700\n0,10,73,650\n"
    assert read(tmp_path, long).value["rows"] == [["0 ft", "73 kt", "700", "650"]]
    wide = "pressure altitude ft,speed kt,rate ft/min at 0 degC,rate ft/min at 10 degC\n0,73,700,650\n"
    assert read(tmp_path, wide).value["rows"] == [["0 ft", "73 kt", "700", "650"]]
    twice = said(tmp_path, long.replace("10,73", "10,72"))
    assert twice == [
        "t.csv:3:6 cell C3: a speed of 72 kt, and 73 kt in row 2; one speed for all temperatures of an altitude"
    ]


BAD_CELLS = [
    ("1265", "1.o5", "2:14 cell E2: '1.o5' is not a number; write 1.05 if the page prints that"),
    ("1265", "1\u00a0265", "2:14 cell E2: '1\\xa0265' is not a number; write 1265 if that is meant: nothing"),
    ("1265", '"1,265"', "2:14 cell E2: '1,265' is not a number; write 1265 if that is meant: nothing"),
    ("1265", '"12,5"', "2:14 cell E2: '12,5' is not a number; write 12.5 if the page prints that"),
    ("1265", "725/1265", "2:14 cell E2: '725/1265' is not a number; one number in each cell, and a column"),
    ("2550,0,0", "2550,S.L.,0", "2:6 cell B2: 'S.L.' is not a number; write 0 if sea level is meant"),
    ("2550,0,0", "2550,SL,0", "2:6 cell B2: 'SL' is not a number; write 0 if sea level is meant"),
    ("1265", "n/a", "2:14 cell E2: 'n/a' is not a number; leave the cell empty where the page prints nothing"),
    ("1265", "1265 ft", "2:14 cell E2: '1265 ft' is not a number; digits, with a point before decimals"),
    ("1265", "", "2:14 cell E2: nothing stands here, where the row prints the others; all of them or none"),
    ("725,1265", "725", "2:10 cell D2: row 2 has 4 cells, the header has 5; an empty cell for each that the page"),
    ("1265", "1265,99", "2:19 cell F2: '99' stands in a column without a name; delete it, or name it"),
    ("2550,0,10,", "2550,2000,10,", "5:6 cell B5: 1000 ft comes after 2000 ft; each must be above the one before"),
    ("2550,0,0,", "2550,0,20,", "3:8 cell C3: 10 degC comes after 20 degC; each must be above the one before"),
    ("2550,0,10,", "2550,0,0,", "3:1 cell A3: 0 ft, 0 degC, 2550 lb stands in row 2 too; one row for each"),
    ("2550,1000,0", ",1000,0", "4:1 cell A4: no weight is given; its number stands in every row"),
    ("2550,1000,0", "255o,1000,0", "4:1 cell A4: '255o' is not a number; write 2550 if the page prints that"),
    ("725", '"725', "2:10 this quote is not closed on its line; a cell with a line break in it cannot be read"),
    ("725", "72\u20285", "2:10 cell D2: the text has an invisible character in it (U+2028); delete it"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "line"), BAD_CELLS)
def test_a_bad_cell_ends_in_one_line(old: str, new: str, line: str, tmp_path: Path) -> None:
    assert old in ROWS
    found = said(tmp_path, HEAD + ROWS.replace(old, new, 1))
    assert found[0].startswith(f"t.csv:{line}")
    assert len(found) == 1


BAD_HEADS = [
    ("weight lb", "weight", "1:1 cell A1: 'weight' has no unit of its own; write it behind: 'weight lb'"),
    ("over 50 ft ft", "over 50 ft", "1:64 cell E1: 'over 50 ft' has no unit of its own; write it behind: 'over 50"),
    ("weight lb", "weight stone", "1:1 cell A1: 'stone' is no unit of weight; write 'weight lb' or 'weight kg'"),
    ("weight lb", "wieght lb", "1:1 cell A1: 'wieght lb' is no column of a table; did you mean 'weight'?"),
    ("weight lb", "remarks", "1:1 cell A1: 'remarks' is no column of a table; for example 'pressure altitude ft'"),
    ("pressure altitude", "altitude", "1:11 cell B1: 'altitude ft' is no column of a table; say which: 'pressure"),
    ("pressure altitude ft", "headwind kt", "1:1 cell A1: no column is for the altitude; 'pressure altitude ft'"),
    ("over 50 ft ft", "over 50 ft m", "1:64 cell E1: over 50 ft in m, but ft in D1; the page prints"),
    ("over 50 ft ft", "ground roll ft", "1:64 cell E1: stands in D1 too; one of the two"),
    ("over 50 ft ft", "rate ft/min", "1:64 cell E1: 'rate ft/min' does not stand beside distances; it is another"),
    ("over 50 ft ft", "", "1:1 cell A1: no column is for the over 50 ft; a table of distances has both"),
    ("weight lb", "density altitude ft", "1:21 cell B1: a table has one altitude; leave this or the other out"),
    ("weight lb", "above standard degC", "1:42 cell C1: a table has temperatures of one kind; leave this or the"),
    ("weight lb", "weight lb at 10 kt", "1:1 cell A1: weight is an axis of the table, and stands for no one point"),
    ("ground roll ft", "ground roll ft at 10 kt", "1:73 cell E1: is not spread over columns as D1 is; every"),
    ("ground roll ft", "ground roll ft at noon", "1:49 cell D1: 'at noon' is no point of an axis; for example"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "line"), BAD_HEADS)
def test_a_bad_header_ends_in_one_line(old: str, new: str, line: str, tmp_path: Path) -> None:
    assert old in HEAD
    found = said(tmp_path, HEAD.replace(old, new, 1) + ROWS)
    assert len(found) == 1
    assert found[0].startswith(f"t.csv:{line}")


def test_an_axis_with_a_column_of_its_own_is_not_spread_over_others_too(tmp_path: Path) -> None:
    head = HEAD.replace("roll ft", "roll ft at 0 degC").replace("50 ft ft", "50 ft ft at 0 degC")
    found = said(tmp_path, head + ROWS)
    assert [line.partition("; ")[0] for line in found] == [
        "t.csv:1:49 cell D1: temperature has a column of its own too",
        "t.csv:1:74 cell E1: temperature has a column of its own too",
    ]


@pytest.mark.parametrize(
    ("content", "line"),
    [
        ("", "t.csv:1:1 the file is empty"),
        (",,\n\n", "t.csv:1:1 the file is empty"),
        ("sep=;\n", "t.csv:1:1 the file is empty"),
        ("# ours\nsep=|\n" + HEAD, "t.csv:2:1 cells apart by '|' are not read; save it with a comma, a semicolon"),
        (HEAD, "t.csv:1:1 a header and the rows below it are wanted"),
        ("table,takeoff\n", "t.csv:1:1 a header and the rows below it are wanted"),
        ("weight lb,pressure altitude ft\n2550,0\n", "t.csv:1:1 cell A1: no column is for what the page prints;"),
        (b"weight lb,\xb0C\n", "t.csv:1:11 this is not UTF-8 text (byte 0xb0); save the file again"),
        (HEAD + ROWS * 1300, "t.csv:1:1 more than 5,000 rows or 200 columns; look whether this is the file"),
        (HEAD + "1," * 300, "t.csv:1:1 more than 5,000 rows or 200 columns; look whether this is the file"),
        (HEAD + "".join(f"2550,{i},0,700,900\n" for i in range(61)), "t.csv:1:1 cell A1: 61 values of pressure"),
        ("#" * 1_000_001, "t.csv:1:1 the file has 1,000,001 bytes; the most that is read is 1,000,000"),
    ],
)
def test_a_file_that_is_no_table_ends_in_one_line(content: str | bytes, line: str, tmp_path: Path) -> None:
    found = said(tmp_path, content)
    assert len(found) == 1
    assert found[0].startswith(line)


def test_more_combinations_than_any_page_has_are_refused(tmp_path: Path) -> None:
    axes = [(300 + i, i, i, i - 30) for i in range(40)]
    head = "weight lb,pressure altitude ft,temperature degC,headwind kt,ground roll ft,over 50 ft ft\n"
    rows = "".join(f"{w},{a},{t},{h},700,900\n" for w, a, t, h in axes)
    assert "more than 50,000 combinations of its axes" in said(tmp_path, head + rows)[0]


def test_all_faults_of_a_file_come_in_one_run(tmp_path: Path) -> None:
    rows: Any = ROWS.replace("725", "72S").replace("860", "B60")
    assert [line[:24] for line in said(tmp_path, HEAD + rows)] == [
        "t.csv:2:10 cell D2: '72S'"[:24],
        "t.csv:5:14 cell D5: 'B60'"[:24],
    ]


JUNK = (
    *"\"',;\t\n\r#-./ ",
    *("\u00a0", "é", "\x00", "9" * 400, "1e9", "nan", "table", " at ", "at 20 degC", "ft", "°C"),
)


def test_whatever_is_done_to_a_sheet_it_is_read_or_ends_in_placed_lines(tmp_path: Path) -> None:
    """Four hundred mutations, the same ones every time. Source: the contract, design.md 'Bad input'."""
    ended = {True: 0, False: 0}
    for seed in range(400):
        dice = random.Random(seed)
        text = dice.choice((HEAD + ROWS, WIDE, "table,takeoff\n" + (HEAD + ROWS).replace(",", ";")))
        for _ in range(dice.choice((1, 1, 2, 4))):
            at = dice.randrange(len(text) + 1)
            kind = dice.choice(("junk", "cut", "double"))
            more = {"junk": dice.choice(JUNK), "cut": "", "double": text[at : at + 40] * 2}[kind]
            text = text[:at] + more + text[at + dice.randrange(3) :]
        lines: list[str] = []
        try:
            read(tmp_path, text)
        except InputFault as fault:
            lines = fault.lines()
        ended[not lines] += 1
        assert all(re.match(r"t\.csv:[0-9]+:[0-9]+ \S", line) for line in lines), lines
    assert min(ended.values()) > 20

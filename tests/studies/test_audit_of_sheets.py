"""An audit reads tables typed in a spreadsheet as those typed inline, and lays one sheet beside either.

Sources: the example airplane's own tables, typed anew by `sheets`; the slips are put in by the tests, and their
places counted by hand from the rows as written.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
import sheets
import yaml
from conftest import EXAMPLE
from jsonschema import Draft202012Validator
from seeded import found_in, put

from briefgen.auditing import audit_of
from briefgen.cli import main
from briefgen.errors import InputFault
from briefgen.files.document import read
from briefgen.model.typed import TOTAL
from briefgen.render.audit_page import audit_html
from briefgen.render.audit_words import audit_json, audit_lines
from briefgen.resources import folder
from briefgen.studies.audit import Audit
from briefgen.studies.table_audit import Finding, Grade

AIRPLANE = EXAMPLE / "aircraft" / "n0142.yaml"
PLAIN = read(AIRPLANE, "n0142.yaml").value
TAKEOFF = sheets.written(sheets.long_in_feet(list(sheets.printed(PLAIN["takeoff"][0]))))
SLIPPED = TAKEOFF.replace("2550,5000,30,1440,2800", "2550,5000,30,1440,2080")
LINE = TAKEOFF[: TAKEOFF.index("2550,5000,30,")].count("\n") + 1
NAME = "takeoff, flaps 10"
WHERE = "takeoff, flaps 10, 2550 lb, 5000 ft, 30 degC"


def in_sheets(to: Path, **edits: tuple[str, str]) -> Path:
    """Return an aircraft file like the example's, its distance tables in sheets, with an edit of each as asked."""
    club = Path(shutil.copytree(EXAMPLE, to / "club"))
    sheets.moved_to_sheets(club, sheets.long_in_feet)
    for phase, (old, new) in edits.items():
        file = club / "aircraft" / "tables" / f"{phase}.csv"
        text = file.read_text(encoding="utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), encoding="utf-8")
    return club / "aircraft" / "n0142.yaml"


def sheet(to: Path, text: str) -> str:
    file = to / "second.csv"
    file.write_text(text, encoding="utf-8")
    return str(file)


def found(of: Audit) -> list[tuple[str, ...]]:
    return [(each.grade.value, each.table, each.where, each.typed, *each.reasons) for each in of.findings]


def test_an_audit_of_sheets_finds_what_one_of_the_same_tables_inline_does(tmp_path: Path) -> None:
    inline, typed = audit_of(AIRPLANE, "one.yaml"), audit_of(in_sheets(tmp_path), "two.yaml")
    assert typed.cells == inline.cells > 500
    assert found(typed) == found(inline)


@pytest.mark.parametrize("lacking", ["2550,8000,40,", "2550,8000,"])
def test_a_combination_that_no_row_has_is_audited_as_an_empty_cell(lacking: str, tmp_path: Path) -> None:
    """Of one temperature, and of all of an altitude that another weight has; the file can be marked as checked."""
    empty = re.sub(f"(?m)^({lacking}.*?),[0-9]*,[0-9]*$", r"\1,,", TAKEOFF)
    short = re.sub(f"(?m)^{lacking}.*\n", "", TAKEOFF)
    assert empty.count("\n") > short.count("\n")
    given, left_out = (
        audit_of(in_sheets(tmp_path / name, takeoff=(TAKEOFF, text)), "a.yaml")
        for name, text in (("given", empty), ("left_out", short))
    )
    assert left_out.cells == given.cells
    assert found(left_out) == found(given)
    signed = ["--by", "B. Writer", "--on", "2026-06-01"]
    assert main(["checked", str(tmp_path / "left_out" / "club" / "aircraft" / "n0142.yaml"), *signed]) == 0


def test_a_slip_in_a_sheet_is_told_at_its_cell(tmp_path: Path) -> None:
    file = in_sheets(tmp_path, takeoff=("2550,5000,30,1440,2800", "2550,5000,30,1440,2080"))
    audited = audit_of(file, "aircraft/n0142.yaml")
    first = audited.findings[0]
    assert (first.file, first.line, first.column) == ("aircraft/tables/takeoff.csv", LINE, 19)
    assert (first.where, first.typed, first.mend) == ("over 50 ft at 5,000 ft, 30 °C, 2,550 lb", "2080", "2800")
    assert f"aircraft/tables/takeoff.csv:{LINE}:19 typed 2080 ft" in audit_lines(audited)
    data = json.loads(audit_json(audited))
    assert data["findings"][0]["file"] == "aircraft/tables/takeoff.csv"
    schema = json.loads((folder("schemas") / "audit.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(data)


def test_a_sheet_beside_an_inline_table(tmp_path: Path) -> None:
    same = audit_of(AIRPLANE, "n0142.yaml", sheet(tmp_path, TAKEOFF), NAME).compared
    assert same
    assert same.differences == ()
    assert same.cells > 150
    one = audit_of(AIRPLANE, "n0142.yaml", sheet(tmp_path, SLIPPED), NAME).compared
    assert one
    (difference,) = one.differences
    assert (difference.where, difference.here, difference.there) == (WHERE, "1440/2800", "1440/2080")
    text = AIRPLANE.read_text(encoding="utf-8").splitlines()
    assert text[difference.line - 1][difference.column - 1 :].startswith("1440/2800")
    assert (difference.other_line, difference.other_column) == (LINE, 19)


def test_a_sheet_beside_a_sheet_and_an_aircraft_file_of_sheets_beside_one_without(tmp_path: Path) -> None:
    file = in_sheets(tmp_path)
    second = sheet(tmp_path, SLIPPED)
    both = audit_of(file, "aircraft/n0142.yaml", second, NAME)
    assert both.compared
    (difference,) = both.compared.differences
    assert (difference.line, difference.column, difference.file) == (LINE, 19, "aircraft/tables/takeoff.csv")
    assert f"aircraft/tables/takeoff.csv:{LINE}:19, {second}:{LINE}:19" in audit_lines(both)
    data = json.loads(audit_json(both))["compared"]["differences"][0]
    assert (data["file"], data["other_file"]) == ("aircraft/tables/takeoff.csv", None)
    inline = audit_of(AIRPLANE, "n0142.yaml", str(file)).compared
    assert inline
    assert inline.differences == ()
    assert inline.left_out == ()


def test_blank_cells_rows_left_out_and_other_units_are_differences(tmp_path: Path) -> None:
    blank = audit_of(AIRPLANE, "a", sheet(tmp_path, TAKEOFF.replace("0,0,725,1265", "0,0,,")), NAME).compared
    assert blank
    assert [(each.here, each.there) for each in blank.differences] == [("725/1265", "blank")]
    without = "".join(line for line in TAKEOFF.splitlines(keepends=True) if not line.startswith("2550,8000"))
    gone = audit_of(AIRPLANE, "a", sheet(tmp_path, without), NAME).compared
    assert gone
    assert [(each.here, each.there) for each in gone.differences][:3] == [
        ("1475/2875", "blank"),
        ("1610/3180", "blank"),
        ("1745/3500", "blank"),
    ]
    in_metres = TAKEOFF.replace("ft ft", "ft m").replace("roll ft", "roll m")
    metres = audit_of(AIRPLANE, "a", sheet(tmp_path, in_metres), NAME)
    assert metres.compared
    assert [each.where for each in metres.compared.differences] == ["takeoff, flaps 10, distances"]


RATES = "pressure altitude ft,temperature degC,rate ft/min\n0,0,800\n0,10,730\n"


@pytest.mark.parametrize(
    ("content", "table", "words"),
    [
        (RATES, None, "which table this is cannot be told; name it by --table"),
        (RATES, "takeoff, flaps 10", "'takeoff, flaps 10' is no such table of n0142.yaml"),
        ("table,takeoff flaps 40\n" + TAKEOFF, None, "second.csv:1:7 'takeoff flaps 40' is no such table of"),
    ],
)
def test_a_sheet_of_no_known_table_ends_in_one_line(
    content: str, table: str | None, words: str, tmp_path: Path
) -> None:
    with pytest.raises(InputFault) as fault:
        audit_of(AIRPLANE, "n0142.yaml", sheet(tmp_path, content), table)
    (line,) = fault.value.lines()
    assert words in line
    assert line.endswith(
        "rate of climb, flaps 10, climb; rate of climb, flaps up, climb; rate of climb, flaps 30, balked landing; "
        "cruise, power 2300 rpm; cruise, power 2400 rpm; cruise, power 2500 rpm; climb"
        if content == RATES
        else "there are takeoff, flaps 10; landing, flaps 30"
    )


@pytest.mark.parametrize("named", ["option", "first row"])
def test_a_sheet_that_says_which_it_is(named: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    content = f"table,rate of climb flaps up climb\n{RATES}" if named == "first row" else RATES
    option = ["--table", "rate of climb, flaps up, climb"] if named == "option" else []
    assert main(["audit", str(AIRPLANE), "--against", sheet(tmp_path, content), *option]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "rate of climb, flaps up, number 2: here 10 degC" not in out
    assert "differences in" in out


Shares = dict[int, float]  # of a distance in calm, by headwind [kt]


def by_wind(to: Path, shares: Shares, *edits: tuple[str, str]) -> Audit:
    """Return the audit of the takeoff table with columns of wind, to 5 ft, after edits of the sheet."""
    rows: list[tuple[object, ...]] = [("headwind kt", *sheets.HEADER)]
    for kt, share in shares.items():
        for each in sheets.printed(PLAIN["takeoff"][0]):
            pair = [None if ft is None else round(ft * share / 5) * 5 for ft in (each.roll, each.total)]
            rows.append((kt, each.weight, each.altitude, each.degC, *pair))
    text = sheets.written(rows)
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    plain = read(AIRPLANE, "n0142.yaml").value
    table = plain["takeoff"][0]
    for key in ("temperatures", "tables"):
        del table[key]
    table["csv"] = "wind.csv"
    table["notes"] = [note for note in table["notes"] if "wind" not in note["for"]]
    file = to / "aircraft.yaml"
    file.write_text(yaml.safe_dump(plain, allow_unicode=True), encoding="utf-8")
    (to / "wind.csv").write_text(text, encoding="utf-8")
    return audit_of(file, "aircraft.yaml")


def of_takeoff(audited: Audit) -> list[Finding]:
    return [each for each in audited.findings if each.table.startswith("takeoff")]


WINDY = {-5: 1.25, 0: 1.0, 10: 0.9}


def test_a_table_by_wind_is_audited_and_drawn(tmp_path: Path) -> None:
    """The takeoff table with three columns of wind; one cell of 2,350 lb in 10 kt has two digits exchanged."""
    assert of_takeoff(by_wind(tmp_path, WINDY)) == []
    slipped = by_wind(tmp_path, WINDY, ("10,2350,5000,20,995,1880", "10,2350,5000,20,995,1808"))
    (finding,) = of_takeoff(slipped)
    assert finding.where == "over 50 ft at 5,000 ft, 20 °C, 2,350 lb, headwind 10 kt"
    assert (finding.typed, finding.mend) == ("1808", "1880")
    assert "2,350 lb, headwind 10 kt" in audit_html(slipped, for_screen=True)


def by_note(kt: int) -> float:
    """Return a share of the distance in calm: less 10 % for each 9 kt of headwind, more 10 % per 2 kt behind."""
    return 1 - 0.1 * kt / 9 if kt >= 0 else 1 - 0.1 * kt / 2


def by_square(kt: int) -> float:
    """Return the share of a ground speed's square: 55 kt through the air."""
    return (1 - kt / 55) ** 2


@pytest.mark.parametrize(
    ("law", "winds"),
    [
        (by_note, (-10, 0, 9, 18)),
        (by_note, (0, 9, 18)),
        (by_note, (-10, -5, 0, 10, 20)),
        (by_square, (-10, 0, 10, 20)),
        (by_square, (0, 10, 20, 30)),
    ],
)
def test_a_bend_at_calm_is_no_slip_and_a_slip_beside_it_is_found(
    law: Callable[[int], float], winds: tuple[int, ...], tmp_path: Path
) -> None:
    """2,550 lb, 4,000 ft, 20 degC prints 1215/2300 in calm (the example's table); two digits are exchanged."""
    shares = {kt: law(kt) for kt in winds}
    clean = by_wind(tmp_path, shares)
    assert of_takeoff(clean) == []
    table = clean.tables[0].table
    for kt in winds:
        at = {"pressure_altitude_ft": 4000, "temperature_degC": 20, "weight_lb": 2550, "headwind_kt": kt}
        index = tuple(axis.points.index(at[axis.name]) for axis in table.grid.axes)
        total = str(round(2300 * shares[kt] / 5) * 5)
        wrong = f"{total[:-3]}{total[-2]}{total[-3]}{total[-1]}"
        (one,) = [each for each in found_in(put(table, {(TOTAL, index): wrong})) if each.grade is not Grade.UNUSUAL]
        assert one.cells == ((TOTAL, index),)
        assert (one.typed, one.mend) == (wrong, total)


def test_a_wind_of_too_few_cells_is_told_to_be_looked_at_for_order_alone(tmp_path: Path) -> None:
    """Of the block behind, three cells are printed; of the others, all."""
    few = by_wind(tmp_path, WINDY)
    assert few.without_surface == ()
    lines = (tmp_path / "wind.csv").read_text(encoding="utf-8").splitlines()
    behind = [line for line in lines if line.startswith("-5,")]
    blank = [(f"\n{line}\n", f"\n{','.join(line.split(',')[:4])},,\n") for line in behind[3:] if line[-1] != ","]
    found = by_wind(tmp_path, WINDY, *blank)
    assert found.without_surface == (
        "takeoff, flaps 10, ground roll, tailwind 5 kt",
        "takeoff, flaps 10, over 50 ft, tailwind 5 kt",
    )


def test_a_takeoff_in_much_wind_is_not_taken_for_one_in_calm(tmp_path: Path) -> None:
    """51 kt are 86.1 ft/s; the shortest, 490 ft, makes 86.1^2 / 980 / 32.17 = 0.24 g; half of it 0.47, over 0.4."""
    assert of_takeoff(by_wind(tmp_path, {0: 1.0, 20: 0.5})) == []


def test_a_takeoff_table_in_meters_that_says_so_is_right(tmp_path: Path) -> None:
    metres = {0: 0.3048}
    header = (("ground roll ft", "ground roll m"), ("over 50 ft ft", "over 50 ft m"))
    assert of_takeoff(by_wind(tmp_path, metres, *header)) == []
    (one,) = of_takeoff(by_wind(tmp_path, metres))  # in meters, headed feet
    assert "g on the way" in one.reasons[0]

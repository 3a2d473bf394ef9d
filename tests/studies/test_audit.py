"""What the audit finds: in published tables and their misprints, in seeded slips, in each thing it looks for."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from conftest import EXAMPLE
from jsonschema import Draft202012Validator
from seeded import (
    DIGIT_SLIPS,
    FIG_11_24,
    FIG_11_32,
    LARGE,
    blocks,
    distance_tables,
    found_in,
    mended,
    other_tables,
    rough_tables,
    typed_tables,
)
from seeded import slips as seeded_slips

from briefgen.auditing import GRADES, audit_of
from briefgen.cli import main
from briefgen.model.typed import ROLL, TOTAL
from briefgen.render.audit_words import audit_json, audit_lines
from briefgen.resources import folder
from briefgen.studies.audit import Audit
from briefgen.studies.table_audit import Finding, Grade

AIRPLANE = EXAMPLE / "aircraft" / "n0142.yaml"
NO_TABLE = (
    "it has no table that aircraft/n0142.yaml has; a second typing of the aircraft file is wanted, or of some of "
    "its parts: takeoff, landing, rate_of_climb, climb, cruise, speeds, balance"
)
Captured = pytest.CaptureFixture[str]


def spoilt(folder: Path, *edits: tuple[str, str], of: Path = AIRPLANE) -> Path:
    """Return a copy of an aircraft file with edits in it, each of a text that stands there once at least."""
    text = of.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new, 1)
    path = folder / "airplane.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def audited(folder: Path, *edits: tuple[str, str], of: Path = AIRPLANE) -> Audit:
    return audit_of(spoilt(folder, *edits, of=of), "airplane.yaml")


def only(found: Audit) -> Finding:
    (one,) = found.findings
    return one


# Published tables


def test_fig_11_24_has_exactly_its_three_misprints() -> None:
    """FAA-H-8083-25C Fig. 11-24 (check values, 3.1): three ground rolls repeat totals of the row below."""
    found = audit_of(FIG_11_24, "fig.yaml")
    assert [(each.typed, each.where) for each in found.findings] == [
        ("2715", "ground roll at 7,000 ft, 30 °C, 2,000 lb"),
        ("2405", "ground roll at 6,000 ft, 30 °C, 2,000 lb"),
        ("2145", "ground roll at 5,000 ft, 30 °C, 2,000 lb"),
    ]
    # geometrically between their neighbours about 1,271, 1,150 and 1,042 ft (3.1); within a step of print, 5 ft
    for each, between in zip(found.findings, (1271, 1150, 1042), strict=True):
        assert each.expected == pytest.approx(between, abs=5)
        assert (each.grade, each.mend) == (Grade.IMPOSSIBLE, "")
    copied = [each.reasons[-1] for each in found.findings]
    assert copied == [
        f"the same number stands as over 50 ft at {altitude} ft, 30 °C, 2,000 lb"
        for altitude in ("8,000", "7,000", "6,000")
    ]


def test_fig_11_24_mended_is_clean() -> None:
    assert found_in(mended(typed_tables(FIG_11_24)[0])) == []


def test_clean_tables_raise_no_alarm() -> None:
    """The example's, Fig. 11-24 mended, Fig. 11-32; whole, and each block of 90 numbers of one weight alone."""
    whole = [*distance_tables(), *other_tables()]
    apart = [each for table in whole for each in blocks(table)]
    assert max(table.printed for table in apart) == 90
    assert len(apart) >= 18
    assert {each.name: found_in(each) for each in (*whole, *apart) if found_in(each)} == {}
    for path in (AIRPLANE, FIG_11_32):
        found = audit_of(path, "a.yaml")
        assert (found.findings, found.checked, found.worst) == ((), (), None)


def test_rough_tables_of_many_shapes_raise_hardly_an_alarm() -> None:
    """Numbers off by 0.3 % by chance, or a kink at 3,000 ft: no printed table is as smooth as a model."""
    rough = rough_tables(4, 2)
    assert len(rough) == 64
    assert sum(bool(found_in(table)) for table in rough) <= 2


# Seeded slips; tests/benchmarks/slips.py prints the same for a thousand


def test_of_seeded_slips_the_large_ones_are_flagged_and_the_digit_is_known() -> None:
    made = seeded_slips(distance_tables(), 80, 2)
    large = [slip for slip in made if slip.share > LARGE]
    digits = [slip for slip in large if slip.kind in DIGIT_SLIPS]
    assert len(large) > 50
    assert len(digits) > 25
    assert sum(slip.flagged for slip in large) >= 0.98 * len(large)
    assert sum(slip.mend_is_right for slip in digits) >= 0.9 * len(digits)
    assert sum(slip.bystanders for slip in made) <= 0.1 * len(made)


def test_of_seeded_slips_in_other_tables_most_are_flagged() -> None:
    made = [slip for slip in seeded_slips(other_tables(), 80, 3) if slip.share > LARGE]
    assert sum(slip.flagged for slip in made) >= 0.95 * len(made) > 60


# Each thing that is looked for. Numbers are the example's own; what stands there is edited.


def test_a_digit_swapped(tmp_path: Path) -> None:
    one = only(audited(tmp_path, ("1440/2800", "4140/2800")))
    assert (one.typed, one.mend, one.slip) == ("4140", "1440", "two digits swapped")
    assert one.where == "ground roll at 5,000 ft, 30 °C, 2,550 lb"
    assert (one.line, one.column) == (66, 56)
    assert "ground roll 4140 is not shorter than the total 2800" in one.reasons
    assert one.grade is Grade.IMPOSSIBLE


def test_roll_and_total_exchanged(tmp_path: Path) -> None:
    found = audited(tmp_path, ("1440/2800", "2800/1440"))
    assert {each.typed for each in found.findings} == {"2800", "1440"}
    words = "ground roll 2800 is not shorter than the total 1440: exchanged, both fit"
    assert sum(words in each.reasons for each in found.findings) == 1


def test_a_small_slip_that_no_page_would_print(tmp_path: Path) -> None:
    one = only(audited(tmp_path, ("1125/2100", "1126/2100")))
    assert one.reasons == ("is no whole number of 5, as the others of the table are",)
    assert (one.grade, one.mend) == (Grade.SUSPECT, "1125")


def test_a_row_typed_from_the_row_above(tmp_path: Path) -> None:
    row = "[6000 ft,  830/1535,  905/1695,  985/1870, 1065/2050, 1155/2245]"
    found = audited(tmp_path, (row, "[6000 ft,  760/1385,  830/1530,  900/1685,  975/1850, 1055/2025]"))
    assert {each.where for each in found.findings} == {
        f"{name} from 6,000 ft, 0 °C, 2,150 lb to 6,000 ft, 40 °C, 2,150 lb" for name in (ROLL, TOTAL)
    }
    words = "5 cells stand where those of the next lower altitude belong: the line is shifted"
    assert {each.reasons for each in found.findings} == {(words,)}
    assert all(len(each.cells) == 5 for each in found.findings)


def test_a_neighbour_copied(tmp_path: Path) -> None:
    found = audited(tmp_path, ("1225/2315", "1125/2100"))
    assert [each.typed for each in found.findings] == ["2100", "1125"]
    for each in found.findings:
        assert each.reasons[-1].endswith("at 5,000 ft, 0 °C, 2,550 lb")


def test_a_rate_of_climb_that_rises(tmp_path: Path) -> None:
    one = only(audited(tmp_path, ("62 kt,   505,   440,   380", "62 kt,   505,   580,   380")))
    assert one.table == "rate of climb, flaps 10"
    assert one.grade is Grade.IMPOSSIBLE
    assert one.reasons[0].startswith("rises from ")
    assert one.expected == pytest.approx(440, abs=5)


def test_a_cruise_speed_mistyped(tmp_path: Path) -> None:
    one = only(audited(tmp_path, ("67/104/8.8", "67/140/8.8")))
    assert (one.typed, one.unit, one.mend) == ("140", "kt", "104")


def test_units_and_digits_are_the_page_s_own(tmp_path: Path) -> None:
    """A table in mph: 104 kt is 120 mph; the slip and its mend are in mph, as typed."""
    text = AIRPLANE.read_text(encoding="utf-8")
    start = text.index("  - power: 2300 rpm")
    block = text[start : text.index("  - power: 2400 rpm")]
    in_mph = block.replace("tas kt", "tas mph").replace("/104/", "/120/").replace("/103/", "/119/")
    one = only(audited(tmp_path, (block, in_mph.replace("67/120/8.8", "67/210/8.8"))))
    assert (one.typed, one.unit, one.mend) == ("210", "mph", "120")


def test_a_checked_cell_is_quiet_and_stands_apart_with_its_reason(tmp_path: Path) -> None:
    reason = "read twice on the page"
    mark = "checked: [{altitude: 5000 ft, temperature: 30 degC, weight: 2550 lb, reason: " + reason + "}]"
    first = "    temperatures: [0 degC, 10 degC, 20 degC, 30 degC, 40 degC]\n"
    found = audited(tmp_path, ("1440/2800", "1640/2800"), (first, f"{first}    {mark}\n"))
    assert (found.findings, found.worst) == ((), None)
    (one,) = found.checked
    assert (one.typed, one.checked) == ("1640", reason)
    assert reason in " ".join(audit_lines(found).split())
    assert json.loads(audit_json(found))["checked"][0]["reason"] == reason


def test_uneven_steps_of_altitude(tmp_path: Path) -> None:
    """The row of 3,000 ft typed as 3,250 ft in all three blocks: told once by its numbers, once as odd."""
    found = audited(tmp_path, *[("[3000 ft,", "[3250 ft,")] * 3)
    cells, steps = found.findings
    assert (cells.grade, cells.where) == (Grade.SUSPECT, "all at 3,250 ft")
    assert cells.reasons[0].endswith("is 3,250 ft the altitude that the page prints?")
    assert steps.reasons == ("3,250 ft is out of step with the others; even would be 3,000 ft",)
    assert steps.grade is Grade.UNUSUAL


def test_a_row_left_out(tmp_path: Path) -> None:
    row = "          - [3000 ft,   395/860,   410/885,   420/900,   435/925,   450/950]\n"
    one = only(audited(tmp_path, (row, "")))
    assert one.reasons == ("a row seems to be left out between 2,000 ft and 4,000 ft",)
    assert (one.grade, one.table) == (Grade.UNUSUAL, "landing, flaps 30")


def test_steps_of_two_kinds(tmp_path: Path) -> None:
    rows = [
        (f"[{at} ft,   {cell}", f"[{at + 500} ft,   {cell}") for at, cell in ((7000, "455/955"), (8000, "475/985"))
    ]
    found = audited(tmp_path, *rows)
    assert "the steps are uneven: mostly 1000, but 1500 too" in {r for each in found.findings for r in each.reasons}


def test_a_blank_among_printed_cells(tmp_path: Path) -> None:
    found = audited(tmp_path, ("1440/2800", "    blank"))
    assert {each.reasons for each in found.findings} == {("is blank, though 5,000 ft, 40 °C, 2,550 lb is printed",)}
    assert {each.grade for each in found.findings} == {Grade.UNUSUAL}


def test_a_page_that_nobody_can_look_up(tmp_path: Path) -> None:
    one = only(audited(tmp_path, ('  - flaps: "30"\n    page: 5-20', '  - flaps: "30"\n    page: "?"')))
    assert one.reasons == ("the page is given as '?': nobody can look it up",)


def test_an_axis_in_another_unit_is_far_from_physics(tmp_path: Path) -> None:
    """Blocks 40 and 80 lb apart, for 400: (725/490)^(1/p), ln(725/490) / ln(2550/2470) = 12."""
    edits = [
        (f"weight: {old} lb\n        rows", f"weight: {new} lb\n        rows")
        for old, new in ((2350, 2510), (2150, 2470))
    ]
    found = audited(tmp_path, *edits)
    words = [reason for each in found.findings for reason in each.reasons if "goes with" in reason]
    assert len(words) == 2
    assert all(" of the weight; 1.5 to 3.5 is what tables print" in each for each in words)
    assert all(each.endswith("the unit of its weights may not be the page's") for each in words)


def test_speeds_off_the_square_root_law(tmp_path: Path) -> None:
    """51 kt at 2550 lb: 51 x sqrt(2350/2550) = 49.0."""
    one = only(audited(tmp_path, ("[2350 lb, 49 kt]", "[2350 lb, 54 kt]")))
    assert (one.table, one.where, one.typed, one.unit, one.expected) == (
        "liftoff speed, flaps 10", "at 2350 lb", "54", "kt", 49,
    )  # fmt: skip
    two = audited(
        tmp_path, ("[[2550 lb, 51 kt], [2350 lb, 49 kt], [2150 lb, 47 kt]]", "[[2550 lb, 57 kt], [2150 lb, 47 kt]]")
    )
    assert {each.grade for each in two.findings} == {Grade.UNUSUAL}  # of two, nobody knows which


def test_published_speeds_keep_the_law() -> None:
    """Fig. 11-24: 51/49/46 and 56/54/51 kt at 2,400/2,200/2,000 lb (check values, 3.1)."""
    assert not [each for each in audit_of(FIG_11_24, "a.yaml").findings if "speed" in each.table]


def test_a_table_of_two_rows_says_that_only_its_order_was_looked_at(tmp_path: Path) -> None:
    landing = AIRPLANE.read_text(encoding="utf-8").index("\nlanding:")
    text = AIRPLANE.read_text(encoding="utf-8")[landing:]
    cells = text[text.index("    temperatures:") : text.index("    notes:")]
    rows = "rows: [[0 ft, 365/815], [1000 ft, 380/835]]"
    few = f"    temperatures: standard\n    tables:\n      - weight: 2550 lb\n        {rows}\n"
    found = audited(tmp_path, (cells, few))
    assert found.without_surface == (f"landing, flaps 30, {ROLL}", f"landing, flaps 30, {TOTAL}")
    assert "Too few cells" in audit_lines(found)


# The command


def test_it_prints_writes_and_exits_as_asked(tmp_path: Path, capsys: Captured) -> None:
    bad = str(spoilt(tmp_path, ("67/104/8.8", "67/140/8.8")))  # suspect
    assert main(["audit", bad]) == 0
    assert "two digits swapped" in " ".join(capsys.readouterr().out.split())
    assert [main(["audit", bad, "--fail-on", grade]) for grade in GRADES] == [1, 1, 0]
    assert main(["audit", str(AIRPLANE), "--fail-on", "unusual"]) == 0
    capsys.readouterr()
    target = tmp_path / "audit.json"
    assert main(["audit", bad, "-o", str(target), "--fail-on", "suspect"]) == 1
    assert capsys.readouterr().out.startswith(
        f"{target}: 9 tables, 930 numbers: 0 impossible, 1 suspect, 0 unusual"
    )
    data: dict[str, Any] = json.loads(target.read_text(encoding="utf-8"))
    assert data["findings"][0]["may_be_meant"] == "104"
    assert main(["audit", bad, "-o", str(tmp_path / "audit.txt")]) == 0
    assert (tmp_path / "audit.txt").read_text(encoding="utf-8") == audit_lines(audit_of(Path(bad), bad))


def test_the_grades_of_the_command_are_those_of_the_findings() -> None:
    assert [grade.value for grade in sorted(Grade, key=lambda grade: grade.rank)] == list(GRADES)


@pytest.mark.parametrize("against", [None, str(AIRPLANE)])
def test_the_json_is_by_its_schema(tmp_path: Path, against: str | None) -> None:
    content = json.loads((folder("schemas") / "audit.schema.json").read_text(encoding="utf-8"))
    bad = spoilt(tmp_path, ("1440/2800", "4140/2800"), ("up_to: 27 kt", "up_to: 72 kt"))
    for path in (bad, AIRPLANE, FIG_11_24):
        data = json.loads(audit_json(audit_of(path, path.name, against)))
        assert [error.message for error in Draft202012Validator(content).iter_errors(data)] == []
        assert list(Draft202012Validator(content).iter_errors({**data, "verdict": "good"}))


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (("nosuch.yaml",), "nosuch.yaml: there is no such file"),
        (("trip.yaml",), "trip.yaml:4:1 looks like a trip file; an aircraft file is wanted here"),
        (("aircraft/n0142.yaml", "-o", "a.doc"), "a.doc: the ending must be one of .pdf, .html, .json, .txt"),
        (("aircraft/n0142.yaml", "-o", "no/a.txt"), "no/a.txt: there is no such folder to write it in"),
        (("aircraft/n0142.yaml", "--against", "nosuch.yaml"), "nosuch.yaml: there is no such file"),
        (
            ("aircraft/n0142.yaml", "--against", "trip.yaml"),
            f"trip.yaml:1:1 {NO_TABLE}",
        ),
        (
            ("aircraft/n0142.yaml", "--against", "list.yaml"),
            f"list.yaml:1:1 {NO_TABLE}",
        ),
    ],
)
def test_bad_input_ends_in_a_line(
    arguments: tuple[str, ...], line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    (club / "list.yaml").write_text("- 725/1265\n", encoding="utf-8")
    monkeypatch.chdir(club)
    before = sorted(club.rglob("*"))
    assert main(["audit", *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.err.splitlines() == [line]
    assert captured.out == ""
    assert sorted(club.rglob("*")) == before


def test_what_the_reader_refuses_comes_first(tmp_path: Path, capsys: Captured) -> None:
    """A climb that takes less fuel higher up, a line round an envelope that crosses itself: faults of the file."""
    path = spoilt(
        tmp_path,
        ("8/1.4/11", "8/14/11"),
        (
            "[1950 lb, 35.0 in], [2550 lb, 39.5 in], [2558 lb, 39.5 in], [2558 lb, 47.3 in]",
            "[2558 lb, 47.3 in], [2558 lb, 39.5 in], [1950 lb, 35.0 in]",
        ),
    )
    assert main(["audit", str(path)]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert [each for each in lines if "fuel falls from 14" in each]
    assert [each for each in lines if "the line around the envelope crosses itself" in each]


@pytest.mark.parametrize(
    ("old", "new", "mend", "slip"),
    [
        # the takeoff tables print 2,350 lb; 49 kt by the root of 2,550 lb's 51 kt: 51 x (2350/2550)^0.5 = 48.96
        ("[2350 lb, 49 kt]", "[2530 lb, 49 kt]", "2350", "two digits swapped"),
        # 89 kt by the root: 97 x (2150/2550)^0.5 = 89.1; at 2,510 lb it were 96.2
        ("[2150 lb, 89 kt]", "[2510 lb, 89 kt]", "2150", "two digits swapped"),
        # no table prints 1,750 lb, but 400 lb is the step here: 97 x (1750/2550)^0.5 = 80.4, at 1,570 lb 76.1
        ("[1750 lb, 80 kt]", "[1570 lb, 80 kt]", "1750", "two digits swapped"),
        # at 2,850 lb 53.9 kt, though over every limit: a digit mistyped
        ("[2350 lb, 49 kt]", "[2850 lb, 49 kt]", "2350", "a digit mistyped"),
    ],
)
def test_a_weight_of_a_list_of_speeds(tmp_path: Path, old: str, new: str, mend: str, slip: str) -> None:
    one = only(audited(tmp_path, (old, new)))
    assert (one.grade, one.mend, one.slip) == (Grade.SUSPECT, mend, slip)
    number = new[1:5]
    assert one.where == f"the weight {number} lb"
    assert one.typed == number


def test_a_weight_of_its_own_raises_no_alarm(tmp_path: Path) -> None:
    """2,450 lb stands in no table, and is one digit off 2,350 and 2,550 lb; 97 x (2450/2550)^0.5 = 95.1 kt."""
    assert audited(tmp_path, ("[2150 lb, 89 kt]", "[2450 lb, 95 kt]")).findings == ()


def test_a_block_s_weight_that_no_other_table_has(tmp_path: Path) -> None:
    """2,350 lb of the takeoff table typed 2,530: the rates of climb and the climb table print 2,350."""
    found = audited(tmp_path, ("      - weight: 2350 lb\n", "      - weight: 2530 lb\n"))
    first = found.findings[0]
    assert (first.grade, first.where, first.mend) == (Grade.SUSPECT, "the block of 2530 lb", "2350")


def test_a_table_in_meters(tmp_path: Path) -> None:
    """The landing table divided by 3.2808, as one in meters is typed: 355 ft become 108.

    58 kt are 97.9 ft/s; 97.9^2 / (2 x 108) = 44.4 ft/s2, over 32.17 is 1.38 g. In feet it is 0.42 g.
    """
    text = AIRPLANE.read_text(encoding="utf-8")
    start = text.index("          - [0 ft,      355/795")
    block = text[start : text.index("    notes:", start)]
    metres = re.sub(
        r"[0-9]+(?=[/,\]])", lambda each: f"{round(int(each[0]) / 3.2808)}", re.sub(r"\[.*? ft,", "@", block)
    )
    altitudes = iter(re.findall(r"\[.*? ft,", block))
    found = audited(tmp_path, (block, re.sub("@", lambda _: next(altitudes), metres)))
    (one,) = (each for each in found.findings if "g on the way" in each.reasons[0])
    assert "108 ft, and 58 kt make 1.38 g" in one.reasons[0]


def test_usable_fuel_beside_the_tanks(tmp_path: Path) -> None:
    one = only(audited(tmp_path, ("fuel: {usable: 40 gal", "fuel: {usable: 14 gal")))
    assert one.reasons == ("14 gal under 'fuel', but 40 gal in the tanks of 'balance'",)
    assert (one.table, one.grade) == ("usable fuel", Grade.UNUSUAL)


@pytest.mark.parametrize("page", ["TBC", "see handbook"])
def test_a_page_without_a_number(tmp_path: Path, page: str) -> None:
    one = only(audited(tmp_path, ('  - flaps: "30"\n    page: 5-20', f'  - flaps: "30"\n    page: {page}')))
    assert one.reasons == (f"the page is given as '{page}': nobody can look it up",)

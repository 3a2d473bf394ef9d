"""Who typed and who checked an aircraft file, and what counts as a change since.

The digits are the first 16 of SHA-256 (FIPS 180-4) over JSON with sorted keys and no spaces; those expected here
were worked by `sha256sum` (GNU coreutils) from the text beside them. What is said of a record is worked by hand.
"""

from __future__ import annotations

import json
import re
import shutil
from hashlib import sha256
from pathlib import Path
from timeit import repeat
from typing import Any

import pytest
from conftest import EXAMPLE, ROOT

from briefgen.cli import main
from briefgen.errors import InputFault
from briefgen.files.document import parse, read
from briefgen.files.entry import opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.files.read_provenance import PARTS, content_of, contents
from briefgen.model.provenance import Provenance
from briefgen.pipeline import brief_of

AIRCRAFT = EXAMPLE / "aircraft" / "n0142.yaml"
TEXT = AIRCRAFT.read_text(encoding="utf-8")
OWN = '  - flaps: "30"\n    page: 5-20\n'  # where the landing table begins
HERE = "    provenance: {typed: {by: C. Member, on: 2026-06-01}"


def records(text: str) -> tuple[Provenance, ...]:
    return read_aircraft(opened(parse(text, Path("a.yaml"), "a.yaml"), "aircraft")).provenance


def edited(old: str, new: str, text: str = TEXT) -> str:
    assert old in text
    return text.replace(old, new, 1)


def faults(text: str) -> list[str]:
    with pytest.raises(InputFault) as raised:
        records(text)
    return [problem.message for problem in raised.value.problems]


def test_digits_are_those_of_a_reference_program() -> None:
    value = {
        "registration": "N0001",
        "tires": {"page": "7-2", "main": "29  psi"},  # two spaces: one
        "takeoff": [{"page": "5-20", "flaps": "30"}],
        "provenance": {"typed": "whatever"},
    }
    # printf '%s' TEXT | sha256sum, of
    #   [{"flaps":"30","page":"5-20"}]
    #   {"registration":"N0001","tires":{"main":"29 psi","page":"7-2"}}
    assert contents(value) == {"takeoff": "02f4ef6f577a7551", "rest": "0af1fe28a35e5d27"}
    # {"flaps":"30","page":"5-20"}
    assert content_of(value["takeoff"][0], ("takeoff", 0)) == "a4f9e65cf24f61de"  # type: ignore[index]
    # [[{"flaps":"30","page":"5-20"}],[[["takeoff",0,"file"],[["0 ft","930/1685"]]]]]
    files = {("takeoff", 0, "file"): [["0 ft", "930/1685"]]}
    assert contents(value, files) == {"takeoff": "bb67f16faf96c748", "rest": "0af1fe28a35e5d27"}


def test_the_interpreters_own_hash_is_the_library_s() -> None:
    text = json.dumps({"registration": "N0001"}, sort_keys=True, separators=(",", ":"))
    assert contents({"registration": "N0001"})["rest"] == sha256(text.encode("ascii")).hexdigest()[:16]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("registration: N0142", "# a comment\nregistration:   N0142   # another"),
        ("typed: {by: A. Student, on: 2026-04-18}", "typed: {on: 2026-04-19, by: C. Member}"),
        ("{value: 15 kt, page: 4-9}", "{page: 4-9, value: 15 kt}"),
        ("{value: 15 kt, page: 4-9}", "\n    value: '15 kt'\n    page: \"4-9\""),
        (
            "four-seat fixed-gear trainer, fixed-pitch propeller",
            "four-seat fixed-gear  trainer,\n  fixed-pitch propeller",
        ),
    ],
    ids=["comments", "the record", "order of keys", "layout", "a line folded"],
)
def test_what_means_the_same_is_unchanged(old: str, new: str) -> None:
    assert [each.doubts("2026-05-16") for each in records(edited(old, new))] == [()]


@pytest.mark.parametrize(
    ("old", "new", "part"),
    [
        ("930/1685", "935/1685", "takeoff"),
        ("[2550 lb, 97 kt]", "[2550 lb, 98 kt]", "speeds"),
        ("maximum_landing: {value: 2550 lb", "maximum_landing: {value: 2500 lb", "weights"),
        ("47/103/6.1", "47/103/6.2", "cruise"),
        ("17/2.6/22", "17/2.6/23", "climb"),
        ("Rev. 3 (invented)", "Rev. 4 (invented)", "rest"),
        ("usable: 40 gal", "usable: 38 gal", "rest"),
    ],
)
def test_a_changed_figure_names_its_part(old: str, new: str, part: str) -> None:
    (found,) = records(edited(old, new))
    assert found.changed == (part,)
    assert found.doubts("2026-05-16") == (
        f"aircraft file: {part} changed since B. Instructor checked it on 2026-04-25",
    )


def test_a_part_that_was_added_or_taken_out_has_changed() -> None:
    (added,) = records(re.sub(r"\n      rate_of_climb: .*", "", TEXT))
    assert added.changed == ("rate of climb",)
    cruise = TEXT.index("\ncruise:"), TEXT.index("\n# The record of the check")
    (gone,) = records(TEXT[: cruise[0]] + TEXT[cruise[1] :])
    assert gone.changed == ("cruise",)


def test_two_parts_that_changed_are_both_named() -> None:
    text = edited("930/1685", "935/1685", edited("[2550 lb, 97 kt]", "[2550 lb, 98 kt]"))
    assert records(text)[0].change == (
        "aircraft file: speeds and takeoff changed since B. Instructor checked it on 2026-04-25"
    )


def test_one_person_and_a_later_day_are_said() -> None:
    (found,) = records(edited("by: A. Student", "by: b.  instructor"))
    assert found.doubts("2026-05-16") == ("aircraft file: B. Instructor both typed and checked it",)
    (found,) = records(TEXT)
    assert found.doubts("2026-04-25") == ()  # that very day
    assert found.doubts("2026-04-24") == ("aircraft file: checked on 2026-04-25, after the day of this brief",)
    assert found.words == (
        "aircraft file, from Handbook, Rev. 3 (invented), 2019-04-01: typed by A. Student on 2026-04-18; "
        "checked by B. Instructor on 2026-04-25, unchanged since"
    )


def test_a_table_with_a_check_of_its_own_answers_for_itself() -> None:
    begun = edited(OWN, f"{OWN}{HERE}, unchecked: new page}}\n")
    of_file, table = records(begun)
    assert of_file.changed == ("landing",)  # there is no other landing table: the part that was checked is gone
    assert table.doubts("2026-07-01") == ("landing, flaps 30: checked by nobody (new page)",)
    assert table.words.startswith("landing, flaps 30, from p. 5-20: typed by C. Member on 2026-06-01; ")
    value = parse(begun, Path("a.yaml"), "a.yaml").value
    digits = content_of(value["landing"][0], ("landing", 0))
    done = edited("unchecked: new page", f'checked: {{by: D. Owner, on: 2026-06-02, content: "{digits}"}}', begun)
    assert records(done)[1].doubts("2026-07-01") == ()
    cell = re.search(r"landing:\n(?:.*\n)*?.*?(\d+/\d+)", done)
    assert cell
    spoiled = done[: cell.start(1)] + "900/1900" + done[cell.end(1) :]
    assert records(spoiled)[1].change == "landing, flaps 30: it changed since D. Owner checked it on 2026-06-02"


def test_a_table_that_another_typed_is_under_the_file_s_check() -> None:
    of_file, table = records(edited(OWN, f"{OWN}{HERE}}}\n"))
    assert of_file.changed == ()
    assert (table.typed.by, table.checked) == ("C. Member", of_file.checked)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("on: 2026-04-25", "on: 2026-04-17", "checked on 2026-04-17, before it was typed on 2026-04-18"),
        ("on: 2026-04-25", "on: 2026-04-31", "there is no day 2026-04-31"),
        ("    on: 2026-04-25\n", "", "missing key 'on'"),
        ("    by: B. Instructor\n", "", "missing key 'by'"),
        ('      rest: "', '      rest: "0', "'0"),
    ],
)
def test_a_record_that_cannot_be_is_a_fault(old: str, new: str, message: str) -> None:
    found = faults(edited(old, new))
    assert len(found) == 1
    assert found[0].startswith(message)


def test_a_file_without_a_record_is_told_what_to_add() -> None:
    with pytest.raises(InputFault) as raised:
        records(TEXT[: TEXT.index("\nprovenance:")])
    (problem,) = raised.value.problems
    assert problem.message == "missing key 'provenance'"
    assert problem.hint == (
        "for example provenance: {typed: {by: A. Student, on: 2026-05-02}, "
        "unchecked: not yet compared with the pages}"
    )
    parsed: Any = parse(problem.hint.removeprefix("for example "), Path("h"), "h").value
    assert set(parsed["provenance"]) == {"typed", "unchecked"}  # the hint itself is YAML that can be pasted


def test_the_example_is_as_it_was_checked() -> None:
    assert records(TEXT)[0].changed == (), (
        "after an edit: python tests/records.py examples/quillmere/aircraft/n0142.yaml"
    )


def test_every_part_has_its_digits_in_the_schema() -> None:
    schema = json.loads((ROOT / "schemas" / "aircraft.schema.json").read_text(encoding="utf-8"))
    content = schema["properties"]["provenance"]["properties"]["checked"]["properties"]["content"]
    assert list(content["properties"]) == [*PARTS, "rest"]
    assert set(PARTS) <= set(schema["properties"])


def test_it_costs_next_to_nothing() -> None:
    value = read(AIRCRAFT, "a.yaml").value
    ours = min(repeat(lambda: contents(value), number=20, repeat=5))
    bare = min(
        repeat(lambda: json.dumps(value), number=20, repeat=5)
    )  # what no program that writes it can do without
    assert ours < 4 * bare


def test_what_is_printed_can_be_pasted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "a.yaml"
    begun = TEXT[: TEXT.index("\n  checked:\n    by: ")] + "\n"
    path.write_text(edited("930/1685", "903/1685", begun + "  unchecked: to come\n"), encoding="utf-8")
    assert main(("checked", str(path), "--by", "B. Instructor", "--on", "2026-05-01")) == 0
    out, err = capsys.readouterr()
    assert out.startswith("# briefgen audit: 9 tables, 930 numbers: 0 impossible, 1 suspect, 0 unusual")
    assert "briefgen audit" in err  # one cell off by two digits stands open
    pasted = edited("930/1685", "903/1685", begun) + out
    assert records(pasted)[0].doubts("2026-05-16") == ()
    assert records(edited("903/1685", "930/1685", pasted))[0].changed == ("takeoff",)


def test_the_record_of_one_table_can_be_pasted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "a.yaml"
    begun = edited(OWN, f"{OWN}{HERE}, unchecked: new page}}\n")
    path.write_text(begun, encoding="utf-8")
    asked = ("checked", str(path), "--by", "C. Member", "--on", "2026-06-02", "--table", "landing, flaps 30")
    assert main(asked) == 0
    out, err = capsys.readouterr()
    assert err == "C. Member typed it too: every brief says so\n"
    record = out.splitlines()[-1]
    table = records(edited("unchecked: new page", record, begun))[1]
    assert table.doubts("2026-06-03") == ("landing, flaps 30: C. Member both typed and checked it",)


@pytest.mark.parametrize(
    ("arguments", "lines"),
    [
        (("--by", "B", "--on", "2026-04-31"), ["--on '2026-04-31' is no day; for example --on 2026-05-09"]),
        (("--by", "B", "--on", "20260509"), ["--on '20260509' is no day; for example --on 2026-05-09"]),
        (
            ("--by", "B", "--on", "2026-04-17"),
            ["--on 2026-04-17 is before the aircraft file was typed, 2026-04-18; a check comes after the typing"],
        ),
        (("--by", " ", "--on", "2026-05-01"), ["--by is not a name of at most 60 characters"]),
        (("--by", "B", "--on", "2026-05-01", "--table", "lading"), ["there is no table 'lading'; the tables are "]),
    ],
)
def test_a_record_that_cannot_be_is_not_printed(
    arguments: tuple[str, ...], lines: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(("checked", str(AIRCRAFT), *arguments)) == 2
    err = capsys.readouterr().err.splitlines()
    assert len(err) == len(lines)
    for line, wanted in zip(err, lines, strict=True):
        assert line.startswith(f"briefgen checked: {wanted}")


def test_a_brief_and_a_check_say_what_changed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    path = club / "aircraft" / "n0142.yaml"
    path.write_text(edited("930/1685", "935/1685"), encoding="utf-8")
    said = "aircraft file: takeoff changed since B. Instructor checked it on 2026-04-25"
    assert main(("check", str(club / "trip.yaml"))) == 0
    assert capsys.readouterr().out.splitlines()[-1] == said
    brief = brief_of(club / "trip.yaml", "trip.yaml")
    assert said in brief.remarks
    assert any(said in caution.text for caution in brief.cautions)
    assert brief.sections[0].remark.endswith("checked by B. Instructor on 2026-04-25; changed since: takeoff")
    clean = brief_of(EXAMPLE / "trip.yaml", "trip.yaml")
    assert not [each for each in clean.remarks if "aircraft file" in each]
    assert clean.sections[0].remark.endswith("unchanged since")

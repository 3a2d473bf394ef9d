"""Every bad input ends in lines that a pilot understands, and in exit status 2.

Each folder beside this file is one case: `case.yaml` says why it is bad and what differs from the example club,
`expected.txt` holds every line that must be said. The source of the lines is the contract, design.md 'Bad input':
`file:line:column message; hint`, all faults of a file in one run, nothing half-written. That a place is right
does not rest on the program: `points_at` is the text that must stand there, read from the file by this test.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from club import copied, listing, runner

HERE = Path(__file__).resolve().parent
CASES = sorted(each for each in HERE.iterdir() if each.is_dir() and each.name != "__pycache__")
PLACED = re.compile(r"(?P<file>[^ :]+):(?P<line>[0-9]+)(:(?P<column>[0-9]+))? (?P<message>\S.*)")


def spoil(case: Path, club: Path) -> Any:
    """Make a copy of the club bad in the way of a case, and return the case."""
    told = yaml.safe_load((case / "case.yaml").read_text(encoding="utf-8"))
    for edit in told.get("edits", []):
        file = club / edit["file"]
        text = file.read_text(encoding="utf-8")
        assert edit["find"] in text, f"the example has changed: {edit['file']} has no {edit['find']!r}"
        file.write_text(text.replace(edit["find"], edit["put"], 1), encoding="utf-8")  # the first of them
    (club.parent / "outside.yaml").write_text("policy: outside\n", encoding="utf-8")
    for link, target in told.get("links", {}).items():
        (club / link).symlink_to(target)
    for file in case.rglob("*"):
        if file.is_file() and file.name not in ("case.yaml", "expected.txt"):
            inside = club / "aircraft" / "tables" if file.suffix == ".csv" else club
            target = inside / file.relative_to(case)
            target.parent.mkdir(exist_ok=True)
            shutil.copy(file, target)
    return told


def expected(case: Path) -> list[str]:
    """Return the lines that must be said."""
    return (case / "expected.txt").read_text(encoding="utf-8").splitlines()


def test_there_are_enough_cases_and_each_says_why_it_is_bad_and_what_is_expected() -> None:
    assert len(CASES) >= 45
    for case in CASES:
        assert expected(case), case.name
        told = yaml.safe_load((case / "case.yaml").read_text(encoding="utf-8"))
        assert told["why"], case.name
        assert len(told["points_at"]) == len(expected(case)), case.name
        assert all(told["points_at"]), case.name


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_bad_file_is_told_line_by_line_and_nothing_is_written(
    case: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    club, run = copied(tmp_path), runner(capsys)
    told = spoil(case, club)
    monkeypatch.chdir(club)
    before = listing(club)
    others = (
        ("build", "trip.yaml", "-o", "brief.html"),
        ("explain", "trip.yaml"),
    )  # which read by the same function
    number = CASES.index(case)
    for arguments in (("check", "trip.yaml"), *((others[number % 2],) if number % 3 == 0 else ())):
        ended = run(*arguments)
        assert ended.err.splitlines() == expected(case)
        assert (ended.status, ended.out) == (2, "")
    assert listing(club) == before  # no brief, and no part of one
    for line, text in zip(expected(case), told["points_at"], strict=True):
        found = PLACED.fullmatch(line)
        assert found, line
        row = (club / found["file"]).read_text(encoding="utf-8").splitlines(keepends=True)[int(found["line"]) - 1]
        assert row[int(found["column"] or 1) - 1 :].startswith(text), line


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_no_line_speaks_to_a_programmer(case: Path) -> None:
    """Words of our own choice, from reading the lines as a flight instructor would; common practice, no source."""
    jargon = (
        r"\b(schema|regex|pattern|null|None|bool|string|integer|float64|dict|object|array|mapping|scalar|token|"
    )
    jargon += r"parser?|exception|traceback|Error|enum|instance|property|invalid|YAML)\b"
    for line in expected(case):
        found = re.search(jargon, line)
        assert not found, f"{found[0] if found else ''}: {line}"


def test_the_command_itself_ends_so_too(tmp_path: Path) -> None:
    club = copied(tmp_path)
    case = HERE / "several_faults_in_one_file"
    spoil(case, club)
    command = [sys.executable, "-m", "briefgen", "build", "trip.yaml", "-o", "brief.html"]
    ended = subprocess.run(command, cwd=club, capture_output=True, text=True, check=False, timeout=60)
    assert ended.stderr.splitlines() == expected(case)
    assert (ended.returncode, ended.stdout) == (2, "")
    assert not (club / "brief.html").exists()


def test_an_older_brief_stays_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    club = copied(tmp_path)
    spoil(HERE / "gust_under_steady", club)
    monkeypatch.chdir(club)
    (club / "brief.html").write_text("the brief of this morning", encoding="utf-8")
    assert runner(capsys)("build", "trip.yaml", "-o", "brief.html").status == 2
    assert (club / "brief.html").read_text(encoding="utf-8") == "the brief of this morning"


def test_files_are_named_as_seen_from_where_the_pilot_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(HERE / "faults_in_several_files", copied(tmp_path))
    monkeypatch.chdir(tmp_path)
    ended = runner(capsys)("check", "club/trip.yaml")
    assert ended.err.splitlines() == [f"club/{line}" for line in expected(HERE / "faults_in_several_files")]


def test_the_example_itself_is_not_bad(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(copied(tmp_path))
    ended = runner(capsys)("check", "trip.yaml")
    assert (ended.status, ended.err) == (0, "")

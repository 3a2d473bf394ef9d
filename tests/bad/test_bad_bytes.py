"""Files that are no text, too large, too deep, or meant to do harm end as every bad input does.

Such files are made here, for nobody should have to open them. Source of the contract: design.md 'Bad input'
(no tags, bounded size, depth and time, one line for each fault); of the bytes: Unicode 15.0 section 3.9 (what is
no UTF-8), YAML 1.2.2 sections 5.1 (characters), 6.1 (no tabs in indentation) and 7.1 (aliases). The bounds that
the lines name are those of `briefgen/files/document.py`, typed out here. Time: 'bounded', taken as 5 s.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from club import copied, runner

BOMB = "crew: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"k{i}: &{chr(98 + i)} [{', '.join([f'*{chr(97 + i)}'] * 9)}]\n" for i in range(9)
)
BRACKETS = "; look for brackets or indents that never close"
WANTED = "a trip file is wanted here"
LONG = "x" * 300 + ".txt"
NO_ITEM = "there is no item 'landin'; did you mean 'landing'?"
TOO_MANY = "the faults from here on are not shown, they are too many"
LAYOUT = (
    "the layout of the file cannot be followed from here on; "
    "look here and on the lines above for a missing colon, quote or bracket, or a wrong indent"
)

MADE: dict[str, tuple[bytes, str]] = {
    "ten megabytes": (
        b"# " + b"x" * 10_000_000,
        "1:1 the file has 10,000,002 bytes; the most that is read is 1,000,000; "
        "look whether this is the file you meant",
    ),
    "Latin-1": (
        "trip: Quillmere\ncrew: Zoë and student\n".encode("latin-1"),
        "2:9 this is not UTF-8 text (byte 0xeb); save the file again, with the encoding UTF-8",
    ),
    "UTF-16": (
        "trip: Quillmere\n".encode("utf-16"),
        "1:1 this is not UTF-8 text (byte 0xff); save the file again, with the encoding UTF-8",
    ),
    "a zero byte": (
        b"trip: Quill\0mere\n",
        "1:12 an invisible character that YAML does not allow (U+0000); delete it",
    ),
    "an escape byte": (
        b"trip: Quillmere\ncrew: \x1b[2J\n",
        "2:7 an invisible character that YAML does not allow (U+001B); delete it",
    ),
    "a tab": (b"trip: x\ndeparture:\n\tweight: 2450 lb\n", "3:1 a tab indents this line; use spaces"),
    "a tab after spaces": (b"departure:\n  \tweight: 2450 lb\n", "2:3 a tab indents this line; use spaces"),
    "nothing at all": (b"", "1:1 the file is empty"),
    "only a byte order mark": (b"\xef\xbb\xbf", "1:1 the file is empty"),
    "only spaces": (b"   \n\n", "1:1 the file is empty"),
    "aliases that multiply": (
        BOMB.encode(),
        "1:11 more than 50,000 values, each counted again where a '*' refers to it; "
        "look for a '*' that is repeated",
    ),
    "a group that holds itself": (
        b"departure: &a\n  weight: *a\n",
        "1:12 this value holds itself, through a '*' inside it; write it out",
    ),
    "brackets a hundred deep": (
        b"trip: " + b"[" * 100 + b"]" * 100,
        f"1:36 more than 30 values inside one another{BRACKETS}",
    ),
    "indents a hundred deep": (
        "".join(f"{' ' * i}a:\n" for i in range(100)).encode(),
        f"31:31 more than 30 values inside one another{BRACKETS}",
    ),
    "dashes a thousand deep": (b"- " * 1000, f"1:61 more than 30 values inside one another{BRACKETS}"),
    "a hundred thousand brackets": (b"[" * 100_000, "1:1001 " + LAYOUT),
    "brackets hidden behind a comment": (
        b"# " + b"]" * 1000 + b"\n" + b"[ #]\n" * 90_000,
        f"32:1 more than 30 values inside one another{BRACKETS}",
    ),
    "a tag": (
        b"!!python/object/apply:os.system [true]\n",
        "1:1 a value may not begin with a '!' here; leave it out; a text that begins with it needs quotes",
    ),
    "a key that is a list": (
        b"? [a, b]\n: c\n",
        "1:3 a key must be a plain word; look for a stray '?', '{' or '[' before a colon",
    ),
    "an invisible character in a key": (
        b'"tr\\u202eip": Quillmere\n',
        "1:1 the key has an invisible character in it; delete it",
    ),
    "a merge key": (
        b"<<: {trip: Quillmere}\nas_of: 2026-05-16T14:00Z\n",
        "1:1 unknown key '<<'; the keys here are trip, as_of, prepared, utc_offset, crew, not_for_flight, "
        "aircraft, policy, personal, today, answers, departure, arrival, alternate, remarks, load, route, fuel, "
        "pilot, papers, passengers, confirmed",
    ),
    "a word": (b"hello\n", ""),
}


@pytest.mark.parametrize("name", MADE)
def test_a_file_that_is_no_trip_ends_in_a_line(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    content, line = MADE[name]
    club = copied(tmp_path)
    (club / "trip.yaml").write_bytes(content)
    monkeypatch.chdir(club)
    ended = runner(capsys)("build", "trip.yaml", "-o", "brief.html")
    assert (ended.status, ended.out) == (2, "")
    lines = ended.err.splitlines()
    assert lines
    assert all(each.startswith("trip.yaml:") for each in lines)
    if name == "a merge key":  # and the keys that are missing
        assert f"trip.yaml:{line}" in lines
    elif line:
        assert lines == [f"trip.yaml:{line}"]
    assert not (club / "brief.html").exists()
    assert not list(club.glob("**/.*"))


def test_more_faults_than_anyone_would_read_are_cut_off(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    club = copied(tmp_path)
    first = len((club / "policy.yaml").read_text(encoding="utf-8").splitlines()) + 1
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.writelines(f"factor{i}: 1\n" for i in range(40_000))
    monkeypatch.chdir(club)
    ended = runner(capsys)("check", "trip.yaml")
    lines = ended.err.splitlines()
    assert len(lines) == 201
    assert lines[0].startswith(f"policy.yaml:{first}:1 unknown key 'factor0'; did you mean 'factors'?")
    assert lines[-1] == f"policy.yaml:{first + 200}:1 {TOO_MANY}"


def test_a_row_of_marks_on_an_endless_runway_does_not_fill_the_memory(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    club = copied(tmp_path)
    strip = club / "strips" / "tansy-bottom.yaml"
    strip.write_text(strip.read_text().replace("length: 1120 ft", "length: 99999999999999 ft"))
    monkeypatch.chdir(club)
    ended = runner(capsys)("check", "trip.yaml")
    assert ended.err.splitlines() == [
        "strips/tansy-bottom.yaml:13:13 99999999999999 ft is over the most that is plausible here, 20,000 ft; "
        "look at the number and at its unit"
    ]


def test_a_name_that_steers_a_terminal_is_printed_as_its_codes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "\x1b[2J.yaml").write_text("trip: x\n  crew: y\n")
    ended = runner(capsys)("check", "\x1b[2J.yaml")
    assert ended.status == 2
    assert "\x1b" not in ended.err
    assert ended.err.startswith("\\x1b[2J.yaml:2:")


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (("check", "nosuch.yaml"), "nosuch.yaml: there is no such file"),
        (("check", "strips"), "strips: this is a folder; a file is wanted"),
        (("check", "aircraft/n0142.yaml"), f"aircraft/n0142.yaml:11:1 this looks like an aircraft file; {WANTED}"),
        (("check", "strips/quillmere.yaml"), f"strips/quillmere.yaml:4:1 this looks like a strip file; {WANTED}"),
        (("build", "trip.yaml", "-o", "b.doc"), "b.doc: the ending must be one of .pdf, .html, .json, .txt"),
        (("build", "trip.yaml", "-o", "no/b.txt"), "no/b.txt: there is no such folder to write it in"),
        (("build", "trip.yaml", "-o", "taken.txt"), "taken.txt: cannot be written: Is a directory"),
        (("build", "trip.yaml", "-o", LONG), f"{LONG}: cannot be written: File name too long"),
        (("explain", "trip.yaml", "landin"), f"briefgen explain: {NO_ITEM}"),
        (("new", "strips"), "strips: exists and is not an empty folder; nothing was written"),
    ],
    ids=lambda value: "" if isinstance(value, str) else " ".join(value)[:40],
)  # fmt: skip
def test_a_wrong_word_on_the_command_line_ends_in_a_line(
    arguments: tuple[str, ...],
    line: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    club = copied(tmp_path)
    (club / "taken.txt").mkdir()
    monkeypatch.chdir(club)
    ended = runner(capsys)(*arguments)
    assert ended.err.splitlines() == [line]
    assert (ended.status, ended.out) == (2, "")
    assert not list(club.glob("**/*.part"))
    assert not list(club.glob("**/.*"))


def test_signs_that_a_terminal_lacks_are_printed_as_their_codes(tmp_path: Path) -> None:
    club = copied(tmp_path)
    ended = subprocess.run(
        [sys.executable, "-m", "briefgen", "explain", "trip.yaml"],
        cwd=club,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
        capture_output=True,
        check=False,
        timeout=60,
    )
    assert (ended.returncode, ended.stderr) == (0, b"")
    assert b"\\xd7" in ended.stdout  # the multiplication sign of the working

"""`briefgen build --watch`: each save builds again, a fault keeps the last good sheet, Ctrl-C ends it in order.

Source: the contract, that a fault leaves the older sheet as it was. That editors write another file and rename it
is common practice, no source.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from queue import Empty, Queue
from threading import Thread

import pytest
from conftest import EXAMPLE

from briefgen.files.looked_at import look_at, noting, stamp
from briefgen.pipeline import brief_of
from briefgen.watching import changed

PATIENCE_S = 60  # a build takes about one; a machine may be busy
# Ctrl-C counts, whatever started the tests: what runs in the background is often told to ignore it.
COMMAND = """
import signal
from briefgen.cli import main
signal.signal(signal.SIGINT, signal.default_int_handler)
raise SystemExit(main(["build", "trip.yaml", "-o", "brief.txt", "--watch"]))
"""
CLOCK = r"[0-2]\d:[0-5]\d"


@dataclass
class Watching:
    """A running `briefgen build --watch`, and the lines that it has printed."""

    club: Path
    process: subprocess.Popen[str]
    lines: Queue[str] = field(default_factory=Queue)

    def line(self, pattern: str) -> str:
        """Return the next line of a form; the lines before it are passed over."""
        passed: list[str] = []
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            try:
                passed.append(self.lines.get(timeout=0.2))
            except Empty:
                continue
            if re.search(pattern, passed[-1]):
                return passed[-1]
        raise AssertionError(f"no line {pattern!r} came, but {passed}")

    def text(self) -> str:
        return (self.club / "brief.txt").read_text(encoding="utf-8")


@pytest.fixture
def club(tmp_path: Path) -> Path:
    return Path(shutil.copytree(EXAMPLE, tmp_path / "club"))


@pytest.fixture
def watching(club: Path) -> Iterator[Watching]:
    process = subprocess.Popen(
        [sys.executable, "-c", COMMAND], cwd=club, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    found = Watching(club, process)
    assert process.stdout

    def gather() -> None:
        assert process.stdout
        for line in process.stdout:
            found.lines.put(line.rstrip("\n"))

    reader = Thread(target=gather, daemon=True)
    reader.start()
    yield found
    process.kill()
    process.wait(PATIENCE_S)
    reader.join(PATIENCE_S)
    process.stdout.close()


def save(file: Path, old: str, new: str) -> None:
    """Write another file beside it and rename that, as many editors save."""
    text = file.read_text(encoding="utf-8")
    assert old in text
    beside = file.with_name(f"{file.name}~new")
    beside.write_text(text.replace(old, new, 1), encoding="utf-8")
    beside.replace(file)


def test_each_save_builds_again_and_a_fault_keeps_the_last_good_sheet(watching: Watching) -> None:
    built = rf"^{CLOCK}:[0-5]\d brief\.txt: 21 meets policy, 1 under policy, 2 short, 0 not shown$"
    watching.line(built)
    assert watching.text().startswith("Quillmere to Tansy Bottom  ")

    trip = watching.club / "trip.yaml"
    save(trip, "trip: Quillmere to Tansy Bottom", "trip: Two circuits")
    watching.line(built)
    assert watching.text().startswith("Two circuits  ")

    save(watching.club / "policy.yaml", "rules: rules.yaml", "rules: rule.yaml")
    assert watching.line("no file").startswith("policy.yaml:34:8 there is no file 'rule.yaml'")
    watching.line(rf"^{CLOCK}:[0-5]\d brief\.txt is still the one from {CLOCK}$")
    assert watching.text().startswith("Two circuits  ")

    shutil.copy(watching.club / "rules.yaml", watching.club / "rule.yaml")  # a file that was named, and not there
    watching.line(built)

    trip.rename(watching.club / "away.yaml")
    watching.line(r"^trip\.yaml: there is no such file$")
    (watching.club / "away.yaml").rename(trip)
    watching.line(built)

    watching.process.send_signal(signal.SIGINT)
    assert watching.process.wait(PATIENCE_S) == 0
    assert watching.line("stopped").endswith(" stopped")


def test_a_fault_from_the_start_is_told_and_no_sheet_is_claimed(watching: Watching) -> None:
    watching.line("meets policy")
    (watching.club / "brief.txt").unlink()
    save(watching.club / "strips" / "quillmere.yaml", "strip:", "strap:")
    watching.line(r"^strips/quillmere\.yaml:\d+:\d+ unknown key 'strap'")
    watching.line(r"brief\.txt is not there yet$")
    save(watching.club / "strips" / "quillmere.yaml", "strap:", "strip:")
    watching.line("meets policy")


def test_all_that_a_trip_is_read_from_is_noted(club: Path) -> None:
    with noting() as noted:
        brief = brief_of(club / "trip.yaml", "trip.yaml")
    assert len(brief.trip.files) == 9
    assert {club / each.name for each in brief.trip.files} <= set(noted)
    assert not changed(noted)


def test_what_is_read_is_noted_only_where_somebody_wants_to_know(tmp_path: Path) -> None:
    with noting() as noted:
        look_at(tmp_path / "a")
    look_at(tmp_path / "b")
    assert noted == {tmp_path / "a": None}


def test_a_file_of_the_same_size_and_time_that_was_renamed_into_its_place_is_another(tmp_path: Path) -> None:
    file, other = tmp_path / "a", tmp_path / "b"
    for each, text in ((file, "one"), (other, "two")):
        each.write_text(text, encoding="utf-8")
        os.utime(each, ns=(10**18, 10**18))
    seen = {file: stamp(file)}
    assert not changed(seen)
    other.replace(file)
    assert changed(seen)
    assert stamp(tmp_path / "b") is None
    assert stamp(Path("a\0b")) is None  # no name of a file

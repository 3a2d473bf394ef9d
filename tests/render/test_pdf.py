"""The PDF: the same bytes each time, no network, no file that is not its own, a plain word where libraries lack."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.cli import main
from briefgen.errors import CannotPrint
from briefgen.render import pdf
from briefgen.render.pdf import render


def build(trip: Path, target: Path) -> bytes:
    command = [sys.executable, "-m", "briefgen", "build", str(trip), "-o", str(target)]
    subprocess.run(command, check=True, capture_output=True)
    return target.read_bytes()


@pytest.fixture
def drawn(tmp_path: Path) -> Path:
    """The example with every kind of page and drawing, but for most of its pages, which are its working."""
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write("\npages: [takeoff, route, load, speeds, required]\n")
    return club / "trip.yaml"


@pytest.mark.parametrize("ending", ["html", "json", "txt"])
def test_two_builds_in_two_processes_give_the_same_bytes(example: Path, tmp_path: Path, ending: str) -> None:
    first, second = (build(example, tmp_path / f"{n}.{ending}") for n in (1, 2))
    assert len(first) > 2_000
    assert first == second


def test_two_pdfs_of_two_processes_are_the_same_bytes_and_dated_by_the_trip(drawn: Path, tmp_path: Path) -> None:
    import pypdfium2

    first, second = (build(drawn, tmp_path / f"{n}.pdf") for n in (1, 2))
    assert len(first) > 20_000
    assert first == second
    document = pypdfium2.PdfDocument(first)
    assert document.get_metadata_dict()["CreationDate"].startswith("D:20260516140000")
    document.close()


@pytest.mark.parametrize(
    "address",
    ["http://127.0.0.1:9/x.svg", "file:///etc/hostname", "FILE:///etc/hostname", "file:///etc/../etc/hostname"],
)
def test_a_sheet_opens_nothing_but_its_own(address: str) -> None:
    with pytest.raises(CannotPrint, match="may not open"):
        render(f'<img src="{address}">')


def test_missing_libraries_end_in_one_line_and_status_3(
    example: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(pdf, "_loads", lambda library: library != "libpango-1.0.so.0")
    monkeypatch.setattr(sys, "platform", "linux")
    target = tmp_path / "brief.pdf"
    assert main(["build", str(example), "-o", str(target)]) == 3
    assert "apt-get install libpango-1.0-0\n" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_html_needs_no_libraries(example: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "_loads", lambda _: False)
    assert main(["build", str(example), "-o", str(tmp_path / "brief.html")]) == 0


def test_no_libraries_are_looked_for_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "darwin")
    monkeypatch.setattr(pdf, "_loads", lambda _: False)
    assert pdf.missing_packages() == []

"""Two pages on a sheet: all of both, in their order, on the larger paper on its side; the same bytes each time.

Source of the sizes: ANSI letter is 8.5 by 11 in, half of it 5.5 by 8.5; A4 of ISO 216 is 210 by 297 mm.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.cli import main
from briefgen.render.proof import read_back

SHEETS_PT = {"half letter": (792, 612), "A5": (841.9, 595.3)}


@pytest.fixture(params=list(SHEETS_PT))
def club(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[Path, str]:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write(f"\npages: [takeoff]\npage_size: {request.param}\n")
    return club, request.param


def built(club: Path, name: str, *options: str) -> bytes:
    assert main(["build", str(club / "trip.yaml"), "-o", str(club / name), *options]) == 0
    return (club / name).read_bytes()


def test_both_pages_are_whole_on_a_sheet_twice_as_wide(club: tuple[Path, str]) -> None:
    folder, size = club
    _, pages, _ = read_back(built(folder, "one.pdf"))
    found = built(folder, "two.pdf", "--two-up")
    sizes, sheets, boxes = read_back(found)
    assert len(sheets) == (len(pages) + 1) // 2 >= 2
    for each in sizes:
        assert each == pytest.approx(SHEETS_PT[size], abs=0.6)
    for i, sheet in enumerate(sheets):
        assert sorted(sheet.split()) == sorted(" ".join(pages[2 * i : 2 * i + 2]).split())
    left = [box for box in boxes if box.page == 1 and "1 of" in box.text]
    right = [box for box in boxes if box.page == 1 and "2 of" in box.text]
    assert left[0].right < SHEETS_PT[size][0] / 2 < right[0].left
    assert built(folder, "again.pdf", "--two-up") == found


def test_it_is_refused_of_larger_pages_and_of_other_outputs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write("\npages: [takeoff]\npage_size: A4\n")
    assert main(["build", str(club / "trip.yaml"), "-o", str(club / "a.pdf"), "--two-up"]) == 3
    assert "two pages to a sheet are for half letter and A5; these are A4" in capsys.readouterr().err
    assert not (club / "a.pdf").exists()
    assert main(["build", str(club / "trip.yaml"), "-o", str(club / "a.html"), "--two-up"]) == 2
    assert "--two-up is for a PDF; end the file in .pdf" in capsys.readouterr().err

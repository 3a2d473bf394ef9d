"""A cell that looks wrong and was checked is used, and its reason stands in the working and on the first page.

The reasons are those typed here; which cells the example's trip touches is read off its tables by hand: takeoff at
620 ft, 27 degC, 2,450 lb lies between 0 and 1,000 ft, 20 and 30 degC, 2,350 and 2,550 lb.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.pipeline import brief_of

WHY = "read twice on the page"
COLUMNS = "    temperatures: [0 degC, 10 degC, 20 degC, 30 degC, 40 degC]\n"
AT = "altitude: 1000 ft, temperature: 30 degC, weight: 2550 lb"


def brief(folder: Path, start: str, after: str, at: str) -> Brief:
    club = Path(shutil.copytree(EXAMPLE, folder / "club"))
    path = club / "aircraft" / "n0142.yaml"
    text = path.read_text(encoding="utf-8")
    place = text.index(after, text.index(start)) + len(after)
    mark = f"    checked: [{{{at}, reason: {WHY}}}]\n"
    if start == "\nclimb:":
        mark = mark[2:]
    path.write_text(text[:place] + mark + text[place:], encoding="utf-8")
    return brief_of(club / "trip.yaml", "trip.yaml")


@pytest.mark.parametrize(
    ("start", "after", "at", "page"),
    [
        ("takeoff:", COLUMNS, AT, "p. 5-11"),
        ("landing:\n", COLUMNS, "altitude: 1000 ft, temperature: 30 degC, weight: 2550 lb", "p. 5-20"),
        ("rate_of_climb:", "page: 5-13\n", "altitude: 1000 ft, temperature: 30 degC, weight: 2550 lb", "p. 5-13"),
        ("\nclimb:", "page: 5-14\n", "altitude: 1000 ft, weight: 2550 lb", "p. 5-14"),
        ("cruise:\n", "power: 2400 rpm\n", "altitude: 4000 ft, above_standard: 0 degC", "p. 5-16"),
    ],
)
def test_the_reason_is_in_the_working_and_once_on_the_first_page(
    tmp_path: Path, start: str, after: str, at: str, page: str
) -> None:
    found = brief(tmp_path, start, after, at)
    details = [step.detail for part in found.sections for figure in part.figures for step in figure.steps]
    assert any(f"; cell checked: {WHY}" in each for each in details)
    said = f"Handbook {page}: a cell that looks wrong is used as it stands, checked: {WHY}"
    assert found.remarks.count(said) == 1

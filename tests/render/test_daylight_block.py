"""The daylight stands in every output, on the route's page or on its own, and nowhere without a takeoff time.

Sources: the contract (four outputs from one Brief); the example's figures are checked by tests/calc, not here.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from changed import only

from briefgen.brief import Brief
from briefgen.pipeline import brief_of
from briefgen.render.data import as_data
from briefgen.render.pdf import to_pdf
from briefgen.render.proof import read_back
from briefgen.render.sheet import to_html
from briefgen.render.text import summary

CIRCUITS = "circuits: 40 min, fuel_flow: 8.4 gal/h, night: false}"


@pytest.fixture
def alone(example: Path, tmp_path: Path) -> Brief:
    """The student's circuits, begun at a time that is given."""
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    text = (club / "solo.yaml").read_text(encoding="utf-8")
    assert CIRCUITS in text
    timed = CIRCUITS.replace("night: false", "takeoff_time: 2026-05-18T00:20Z")
    (club / "solo.yaml").write_text(text.replace(CIRCUITS, timed), encoding="utf-8")
    return brief_of(club / "solo.yaml", "solo.yaml")


def test_the_daylight_is_in_the_text_and_in_the_data(example: Path) -> None:
    brief = brief_of(example, "trip.yaml")
    page = brief.daylight
    assert page is not None
    text = " ".join(summary(brief).split())
    data = as_data(brief)["daylight"]
    assert len(page.lines) >= 3
    assert len(page.rows) == 3  # departure, destination, alternate
    for words in (*page.lines, page.horizon):
        assert " ".join(words.split()) in text
    for row in page.rows:
        assert f"{row.field}, {row.at}: sunrise {row.sunrise}, sunset {row.sunset}, dusk {row.dusk}" in text
    assert data["lines"] == list(page.lines)
    assert [each["field"] for each in data["fields"]] == [row.field for row in page.rows]
    labels = [each["label"].rpartition(" ")[0] for each in data["moments"]]
    assert labels == ["takeoff", "ETA", "Pennywort Hill", "wheels down by", "fuel out", "sunset", "twilight ends"]
    assert data["dark"][0]["kind"] == "twilight"


def test_the_drawing_s_words_are_in_the_page_for_a_screen(example: Path) -> None:
    brief = brief_of(example, "trip.yaml")
    assert brief.daylight is not None
    html = to_html(brief, for_screen=True)
    for moment in brief.daylight.line.moments:
        assert f">{moment.label}</text>" in html


def test_circuits_with_a_takeoff_time_have_a_page_of_their_own(alone: Brief) -> None:
    """40 min from 00:20Z is 01:00Z; sunset there at 00:50Z or 00:51Z on that day (check values of the sun)."""
    page = alone.daylight
    assert page is not None
    assert alone.route is None
    assert page.rows[1].at == "ETA 01:00Z"
    assert "min after sunset" in page.lines[0]
    row = next(each for each in alone.items if each.id == "daylight")
    assert row.reason == "after sunset, and runway 26 has lighting: pilot-controlled"
    _, texts, _ = read_back(to_pdf(only(alone, "route")))
    assert any(text.lstrip().startswith(f"Daylight: {page.where}") for text in texts)


def test_without_a_takeoff_time_there_is_no_block(example: Path) -> None:
    brief = brief_of(example.parent / "solo.yaml", "solo.yaml")
    assert brief.daylight is None
    assert as_data(brief)["daylight"] is None
    assert "Daylight:" not in to_html(brief, for_screen=False)
    assert "Daylight:" not in summary(brief)
    row = next(each for each in brief.items if each.id == "daylight")
    assert (row.state.value, row.reason) == ("not shown", "the trip file gives no 'takeoff_time'")

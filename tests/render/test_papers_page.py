"""The page of papers on every output, and its escaping. Source: the contract, DEVELOPERS.md 'The sheet'."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from changed import changed, only

from briefgen.brief import Brief
from briefgen.calc.airplane_papers import DAY, FEATURES, NIGHT, ON_BOARD
from briefgen.calc.pilot_papers import CARRIED, ENDORSEMENTS
from briefgen.errors import CannotPrint
from briefgen.files.read_papers import key_of
from briefgen.files.schema import _load
from briefgen.model.confirmed import CONFIRMABLE
from briefgen.pipeline import brief_of
from briefgen.render.data import as_data
from briefgen.render.pdf import render
from briefgen.render.proof import prove
from briefgen.render.sheet import to_html
from briefgen.render.text import summary

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "quillmere"


@pytest.fixture(scope="module")
def brief() -> Brief:
    return brief_of(EXAMPLE / "trip.yaml", "trip.yaml")


def test_every_paper_and_every_confirmation_is_on_every_output(brief: Brief) -> None:
    page = brief.papers
    assert page
    assert len(page.tables) == 2
    lines = [line for table in page.tables for line in table.lines]
    assert len(lines) > 15
    assert len(page.confirmed) == len(CONFIRMABLE) == 9
    text, html, data = " ".join(summary(brief).split()), to_html(brief, for_screen=True), as_data(brief)["papers"]
    for line in lines:
        assert line.good_through in text
        assert f">{line.name}</th>" in html.replace("&#39;", "'")
    for each in page.confirmed:
        assert f"[{'x' if each.confirmed else ' '}] {each.words}" in text
    assert [each["name"] for table in data["tables"] for each in table["lines"]] == [line.name for line in lines]
    assert [each["id"] for each in data["confirmed"]] == list(CONFIRMABLE)
    assert html.count('class="box"') == sum(not each.confirmed for each in page.confirmed)


def test_a_sheet_that_lost_a_paper_or_a_confirmation_is_not_written(brief: Brief) -> None:
    content = render(to_html(only(brief, "papers"), for_screen=False))
    prove(content, only(brief, "papers"), [])
    assert brief.papers
    table = brief.papers.tables[0]
    lost = replace(table.lines[0], good_through="2031-01-31")
    wrong = replace(brief.papers, tables=(replace(table, lines=(lost, *table.lines[1:])), brief.papers.tables[1]))
    with pytest.raises(CannotPrint, match="lost from the sheet"):
        prove(content, changed(only(brief, "papers"), papers=wrong), [])
    unticked = replace(brief.papers.confirmed[3], confirmed=True)
    wrong = replace(brief.papers, confirmed=(*brief.papers.confirmed[:3], unticked, *brief.papers.confirmed[4:]))
    with pytest.raises(CannotPrint, match="lost from the sheet"):
        prove(content, changed(only(brief, "papers"), papers=wrong), [])


def test_a_stranger_s_words_stay_words(tmp_path: Path) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    for file, old, new in (
        ("pilots/instructor-a.yaml", "pilot: Instructor A", 'pilot: "<b>A</b> {{ 7 * 7 }}"'),
        ("trip.yaml", "notices: {by: A", 'notices: {by: "<i>A</i>"'),
    ):
        text = (club / file).read_text(encoding="utf-8")
        assert old in text
        (club / file).write_text(text.replace(old, new), encoding="utf-8")
    html = to_html(brief_of(club / "trip.yaml", "trip.yaml"), for_screen=True)
    assert "&lt;b&gt;A&lt;/b&gt; {{ 7 * 7 }}" in html
    assert "&lt;i&gt;A&lt;/i&gt;" in html


@pytest.mark.parametrize(
    ("kind", "group", "names"),
    [
        ("pilot", "endorsements", list(ENDORSEMENTS)),
        ("pilot", "carried", list(CARRIED)),
        ("papers", "on_board", list(ON_BOARD)),
        ("papers", "equipment", list(dict.fromkeys(each.name for each in (*DAY, *NIGHT)))),
        ("papers", "features", list(FEATURES)),
    ],
)
def test_a_file_can_answer_everything_that_the_rules_ask_and_nothing_else(
    kind: str, group: str, names: list[str]
) -> None:
    keys: Any = _load(kind)["properties"][group]["properties"]
    assert list(keys) == [key_of(name) for name in names]
    assert len(set(keys)) == len(names) > 2


def test_a_trip_can_confirm_and_a_policy_ask_for_the_same_things() -> None:
    trip, policy = _load("trip")["properties"], _load("policy")["properties"]
    assert list(trip["confirmed"]["properties"]) == policy["confirm"]["items"]["enum"] == list(CONFIRMABLE)


BASICMED = "basicmed: {course: 2025-06-10, examined: 2024-01-10}\n"
MEDICAL = "medical: {class: second, examined: 2025-03-12, born: 1979-08-21}\n"


@pytest.mark.parametrize("held", [BASICMED, BASICMED + MEDICAL])
def test_a_paper_and_what_is_said_beneath_it_stay_on_one_page(tmp_path: Path, held: str) -> None:
    """With a line or two more than the example has, the list runs on to a second page between two papers."""
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    path = club / "pilots" / "instructor-a.yaml"
    text = path.read_text(encoding="utf-8")
    assert MEDICAL in text
    path.write_text(text.replace(MEDICAL, held), encoding="utf-8")
    brief = brief_of(club / "trip.yaml", "trip.yaml")
    prove(render(to_html(only(brief, "papers"), for_screen=False)), only(brief, "papers"), [])

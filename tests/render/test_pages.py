"""Which pages a sheet has, and in which order, by its policy: what is left out is said, and no item is lost."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.pipeline import brief_of
from briefgen.printing import PAGES
from briefgen.render.data import to_json
from briefgen.render.pdf import to_pdf
from briefgen.render.proof import read_back
from briefgen.render.sheet import to_html
from briefgen.resources import folder


def with_pages(tmp_path: Path, pages: str, trip: str = "trip.yaml") -> Brief:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write(f"\npages: {pages}\n")
    return brief_of(club / trip, trip)


def heads(brief: Brief) -> list[str]:
    return re.findall(r'<h2 id="(\w+)"', to_html(brief, for_screen=False))


def test_every_page_is_a_template_and_a_word_of_the_schema() -> None:
    schema = json.loads((folder("schemas") / "policy.schema.json").read_text(encoding="utf-8"))
    assert schema["properties"]["pages"]["items"]["enum"] == list(PAGES)
    assert [page for page in PAGES if not (folder("templates") / f"{page}.html.j2").is_file()] == []


def test_without_a_choice_all_are_printed_in_the_house_s_order() -> None:
    brief = brief_of(EXAMPLE / "trip.yaml", "trip.yaml")
    assert brief.pages == tuple(PAGES)
    assert brief.pages_left_out == ()
    assert "Left out by" not in to_html(brief, for_screen=False)


def test_the_policy_s_pages_are_printed_in_its_order_and_the_others_named(tmp_path: Path) -> None:
    brief = with_pages(tmp_path, "[speeds, takeoff, required]")
    assert heads(brief) == ["cautions", "speeds", "takeoff"]
    content = to_pdf(brief)  # which proves that every item is there
    _, texts, _ = read_back(content)
    said = "Landing; Alternate; Route, fuel and daylight; Load and balance; Weather; Papers; Risk; Working."
    assert f"Left out by {brief.policy}: {said}" in " ".join(" ".join(texts).split())
    assert "Papers (left out)" in " ".join(" ".join(texts).split())
    data = json.loads(to_json(brief))
    assert data["pages"] == ["speeds", "takeoff", "required"]
    assert data["working"]


@pytest.mark.parametrize("page", PAGES)
def test_each_page_can_be_the_only_one(tmp_path: Path, page: str) -> None:
    html = to_html(with_pages(tmp_path, f"[{page}]"), for_screen=True)
    assert html.count('<section class="page') <= 1
    assert set(re.findall(r'href="#(\w+)"', html)) <= set(re.findall(r'id="(\w+)"', html))


def test_a_page_that_the_trip_does_not_have_is_not_called_left_out(tmp_path: Path) -> None:
    brief = with_pages(tmp_path, "[takeoff]", "solo.yaml")
    assert brief.alternate is None
    assert "alternate" not in brief.pages_left_out
    assert "landing" in brief.pages_left_out

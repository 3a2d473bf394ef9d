"""The alternate on every output: the sheet, the text, the JSON; a sheet that has lost part of it is not written."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from changed import changed, only
from conftest import EXAMPLE
from jsonschema import Draft202012Validator

from briefgen.brief import Brief
from briefgen.errors import CannotPrint
from briefgen.pipeline import brief_of
from briefgen.render.data import as_data
from briefgen.render.pdf import render
from briefgen.render.proof import prove, read_back
from briefgen.render.sheet import to_html
from briefgen.render.text import summary, working
from briefgen.resources import folder


@pytest.fixture(scope="module")
def brief() -> Brief:
    return brief_of(EXAMPLE / "trip.yaml", "trip.yaml")


def test_the_block_stands_on_a_page_of_its_own_after_the_landing(brief: Brief) -> None:
    printed = only(brief, "landing", "alternate")
    content = render(to_html(printed, for_screen=False))
    prove(content, printed, [])
    _, texts, _ = read_back(content)
    pages = [number for number, text in enumerate(texts) if "Alternate: Pennywort Hill 13" in text]
    landing = [number for number, text in enumerate(texts) if "Landing: Tansy Bottom 09" in text]
    assert len(pages) == len(landing) == 1
    assert pages[0] > landing[0] > 0
    there = " ".join(texts[pages[0]].split())
    for words in ("go around if not down by", "windsock, 520", "approach, flaps up", "NOT FOR FLIGHT", "1,195"):
        assert words in there


def test_the_way_there_is_a_line_below_the_total_and_its_fuel_is_the_log_s(brief: Brief) -> None:
    page = brief.route
    assert page is not None
    assert page.alternate is not None
    assert page.alternate.to == "Pennywort Hill"
    stage = next(each for each in page.ladder if each.name.startswith("alternate"))
    assert (stage.amount, stage.minutes) == (page.alternate.fuel, page.alternate.minutes)
    lines = summary(brief).splitlines()
    total = next(number for number, line in enumerate(lines) if line.lstrip().startswith("total "))
    assert lines[total + 1].startswith("  then, to the alternate, Pennywort Hill: ")
    html = to_html(only(brief, "route"), for_screen=False)
    assert html.index(">total<") < html.index("then, to the alternate, ")
    assert page.minutes == sum(each.minutes for each in page.legs)  # the alternate is in no sum


def test_the_text_and_the_working_have_it(brief: Brief) -> None:
    text = summary(brief)
    assert "\nAlternate: Pennywort Hill 13\n" in text
    said = working(brief)
    for title in ("Air at the alternate", "Landing, alternate, flaps up", "Then, to the alternate, Pennywort Hill"):
        assert f"\n{title}\n" in said
    assert "heavier than it will be here" in " ".join(said.split())


def test_the_json_has_it_by_the_schema(brief: Brief) -> None:
    content = json.loads((folder("schemas") / "brief.schema.json").read_text(encoding="utf-8"))
    data = json.loads(json.dumps(as_data(brief)))
    assert [error.message for error in Draft202012Validator(content).iter_errors(data)] == []
    assert [row["id"] for row in data["alternate"]["items"]][:2] == [
        "landing-alternate",
        "landing-alternate-flaps-up",
    ]
    assert data["route"]["alternate"]["to"] == "Pennywort Hill"
    assert list(Draft202012Validator(content).iter_errors({**data, "alternate": {"where": "?"}}))


def test_a_block_that_lost_a_number_fails_the_proof(brief: Brief) -> None:
    printed = only(brief, "alternate", "route")
    html = to_html(printed, for_screen=False)
    start = html.index("Alternate: Pennywort Hill 13")
    spoiled = html[:start] + html[start:].replace("windsock, 520", "windsock, 250", 1)
    assert spoiled != html
    with pytest.raises(CannotPrint, match="lost from the sheet: windsock, 520"):
        prove(render(html.replace("windsock, 520", "windsock, 250")), printed, [])
    assert brief.route is not None
    assert brief.route.alternate is not None
    other = replace(brief.route, alternate=replace(brief.route.alternate, heading="999°"))
    with pytest.raises(CannotPrint, match="lost from the sheet: 999°"):
        prove(render(html), changed(printed, route=other), [])


def test_a_runway_without_a_go_around_says_so_there(tmp_path: Path) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    strip = club / "strips" / "pennywort-hill.yaml"
    text = strip.read_text(encoding="utf-8")
    assert "        beyond: a beet field" in text
    text = text.replace("        beyond: a beet field", "        go_around: none\n        beyond: a beet field")
    strip.write_text(text, encoding="utf-8")
    html = to_html(brief_of(club / "trip.yaml", "trip.yaml"), for_screen=False)
    page = html[html.index("Alternate: Pennywort Hill 13") : html.index("Route and fuel")]
    assert "NO GO-AROUND" in page
    assert "be down by" in page


def test_in_metric_units_it_is_in_metres(tmp_path: Path) -> None:
    """By hand, as in tests/calc: 942.4 ft = 287.24 m, up; 713.3 ft = 217.4 m and 520 ft = 158.5 m, down."""
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write("\nunits: metric\n")
    page = brief_of(club / "trip.yaml", "trip.yaml").alternate
    assert page is not None
    assert (page.rows[0].need, page.rows[0].unit) == (288, "m")
    assert (page.go_around.at.value, page.go_around.at.unit) == (217, "m")
    assert page.go_around.mark_at is not None
    assert page.go_around.mark_at.value == 158

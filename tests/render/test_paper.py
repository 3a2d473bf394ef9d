"""Every paper with all units, through the real PDF: nothing is lost, off the paper or over another.

Source of the sizes: half letter is half of ANSI letter, 8.5 by 11 in of 25.4 mm; A4 and A5 are ISO 216's 210 by 297
and 148 by 210 mm; a point is 1/72 in.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from changed import changed, only, shortened

from briefgen.brief import Brief
from briefgen.caution import Caution
from briefgen.errors import CannotPrint
from briefgen.model.policy import Letterhead
from briefgen.pipeline import brief_of
from briefgen.printing import PAGE_SIZES
from briefgen.render.paper import PAPERS
from briefgen.render.pdf import render, to_pdf
from briefgen.render.proof import prove, read_back
from briefgen.render.sheet import to_html
from briefgen.render.text import summary

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "quillmere"
SIZES_PT = {"half letter": (396, 612), "letter": (612, 792), "A5": (419.5, 595.3), "A4": (595.3, 841.9)}
# Each paper in the units of those who use it; `make gallery` looks at every paper in both.
PAIRS = (("US", "half letter"), ("US", "letter"), ("metric", "A5"), ("metric", "A4"))
WHOLE = ("half letter",)  # with all of the working; on the others with some of it
HEAD = Letterhead("Quillmere <b>Flying</b> & Gliding Club", ("Hangar 2, the old field", "telephone 555 0142"))


@pytest.fixture(scope="module")
def briefs(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Brief]:
    """The example in each of the units, under a letterhead."""
    found = {}
    for units in ("US", "metric"):
        club = Path(shutil.copytree(EXAMPLE, tmp_path_factory.mktemp(units) / "club"))
        with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
            policy.write(f"\nunits: {units}\n")
        found[units] = changed(brief_of(club / "trip.yaml", "trip.yaml"), letterhead=HEAD)
    return found


def longwinded(brief: Brief) -> Brief:
    """Return a Brief with far too much to say, everywhere that a stranger's text can stand."""
    long = "a remark that goes on and on about the sheep, the gate and the soft patch by the hedge " * 4
    rows = tuple(
        row._replace(title=f"{row.title} with a name of forty letters", where="W" * 60) for row in brief.items
    )
    cautions = tuple(Caution(f"c{n}", "watch", f"Number {n}: {long}"[:300], long[:200]) for n in range(25))
    landing = replace(
        brief.landing, sketch=replace(brief.landing.sketch, beyond=long[:300]), setting=(long[:300],) * 2
    )
    head = Letterhead("W" * 60, ("M" * 60, long[:60], "W" * 60))
    return changed(
        brief,
        remarks=(long,) * 10,
        items=rows,
        cautions=cautions,
        differences=(long,) * 6,
        landing=landing,
        letterhead=head,
        sections=brief.sections[:4],  # nothing in them is a stranger's
    )


BUILT: dict[tuple[int, str], Any] = {}


def build(brief: Brief, size: str) -> Any:
    """Return the sizes, texts and boxes of the PDF of a Brief on one paper, built and proved once."""
    key = (id(brief), size)
    if key not in BUILT:
        BUILT[key] = (
            read_back(to_pdf(changed(brief if size in WHOLE else shortened(brief), page_size=size))),
            brief,
        )  # kept, so that its id stays its own
    return BUILT[key][0]


def test_the_papers_are_those_of_the_policy() -> None:
    assert tuple(PAPERS) == PAGE_SIZES == tuple(SIZES_PT)


@pytest.mark.parametrize(("units", "size"), PAIRS)
def test_the_example_is_printed_on_every_paper(briefs: dict[str, Brief], units: str, size: str) -> None:
    sizes, texts, boxes = build(briefs[units], size)
    assert len(sizes) > len(briefs[units].pages)
    for found in sizes:
        assert found == pytest.approx(SIZES_PT[size], abs=0.5)
    side = PAPERS[size].side_mm * 72 / 25.4
    width = SIZES_PT[size][0]
    assert [box for box in boxes if box.left < side - 1 or box.right > width - side + 1] == []
    heads = [next(n for n, text in enumerate(texts) if head in text) for head in ("Takeoff: Quillmere", "Working")]
    assert 1 < heads[0] < heads[1]


@pytest.mark.parametrize(("units", "size"), [("US", "half letter"), ("metric", "A4")])
def test_a_brief_with_far_too_much_to_say_loses_nothing(briefs: dict[str, Brief], units: str, size: str) -> None:
    sizes, _, _ = build(longwinded(briefs[units]), size)
    assert len(sizes) > 10


def test_larger_paper_holds_more_in_the_same_type(briefs: dict[str, Brief]) -> None:
    pages = {size: len(build(briefs["US"], size)[0]) for size in SIZES_PT}
    assert all(
        "html { font: 12pt/1.25" in to_html(changed(briefs["US"], page_size=size), for_screen=False)
        for size in SIZES_PT
    )
    assert pages["A4"] < pages["A5"]
    assert pages["letter"] < pages["A5"]


def test_takeoff_and_landing_share_a_page_of_large_paper_where_they_fit(briefs: dict[str, Brief]) -> None:
    """Without side views, which take the room."""
    whole = briefs["metric"]
    bare = {"takeoff": replace(whole.takeoff, side=None), "landing": replace(whole.landing, side=None)}
    brief = only(changed(whole, **bare), "takeoff", "landing")
    _, texts, _ = build(brief, "A4")
    (page,) = [text for text in texts if "Takeoff: Quillmere 17" in text]
    assert "Landing: Tansy Bottom 09" in page


@pytest.mark.parametrize(("units", "size"), PAIRS)
def test_the_first_page_is_signed_and_the_cautions_come_before_the_takeoff(
    briefs: dict[str, Brief], units: str, size: str
) -> None:
    _, texts, _ = build(briefs[units], size)
    signed = [n for n, text in enumerate(texts) if "pilot in command, date and time" in text]
    assert signed == [0]
    cautions, takeoff = (
        next(n for n, text in enumerate(texts) if wanted in text)
        for wanted in ("serious: If the flaps stay up", "Takeoff: Quillmere 17")
    )
    assert cautions < takeoff


def test_a_sheet_on_other_paper_than_asked_for_fails(briefs: dict[str, Brief]) -> None:
    brief = only(changed(briefs["US"], page_size="half letter"), "takeoff")
    content = render(to_html(brief, for_screen=False))
    prove(content, brief, [])
    with pytest.raises(CannotPrint, match="page 1 is not A5: 396 by 612 pt"):
        prove(content, changed(brief, page_size="A5"), [])


def test_a_lost_printed_as_line_fails(briefs: dict[str, Brief]) -> None:
    brief = only(briefs["metric"], "working")
    html = to_html(brief, for_screen=False)
    assert "printed as 333\u00a0m" in html
    with pytest.raises(CannotPrint, match="lost from the sheet: printed as 333"):
        prove(render(html.replace("printed as 333\u00a0m", "", 99)), brief, [])


def test_the_letterhead_stands_above_the_title_escaped(briefs: dict[str, Brief]) -> None:
    brief = only(briefs["US"], "takeoff")
    html = to_html(brief, for_screen=True)
    assert "Quillmere &lt;b&gt;Flying&lt;/b&gt; &amp; Gliding Club" in html
    assert "<b>Flying" not in html
    assert html.index('<p class="letterhead">') < html.index('<h1 class="title"')
    assert summary(brief).splitlines()[:4] == [HEAD.name, *HEAD.lines, ""]
    _, texts, _ = build(brief, "half letter")
    assert texts[0].index("Gliding Club") < texts[0].index("Quillmere to Tansy Bottom")
    assert [number for number, text in enumerate(texts, 1) if "Gliding Club" in text] == [1]
    with pytest.raises(CannotPrint, match="lost from the sheet: telephone 555 0142"):
        prove(render(html.replace("telephone 555 0142", "")), brief, [])


def test_without_a_letterhead_nothing_stands_above_the_title(briefs: dict[str, Brief]) -> None:
    html = to_html(changed(briefs["US"], letterhead=None), for_screen=True)
    body = html[html.index("<body>") :]
    assert re.match(r"<body>\s*<section>\s*<h1", body)
    assert 'class="letterhead"' not in body
    assert summary(changed(briefs["US"], letterhead=None)).startswith("Quillmere to Tansy Bottom")


def test_the_heads_of_columns_say_the_unit(briefs: dict[str, Brief]) -> None:
    for units, unit in (("US", "ft"), ("metric", "m")):
        html = to_html(briefs[units], for_screen=False)
        assert f">item, {unit}<" in html
        assert f"landing need, {unit}<" in html
        assert f"Scale in {unit} from the start" in html
        assert f"Scale in {unit} from the landing threshold" in html


@pytest.mark.parametrize("size", ["half letter", "A5"])
def test_limits_that_end_on_another_day_stand_on_the_page(briefs: dict[str, Brief], size: str) -> None:
    """The longest that they get with every limit given: four lines at the foot of the smallest pages."""
    longest = briefs["metric"].limits.replace("after 16:00Z", "after 00:50Z on 2026-05-17")
    assert longest != briefs["metric"].limits
    _, texts, _ = read_back(
        to_pdf(changed(only(briefs["metric"], "takeoff", "load", "speeds"), page_size=size, limits=longest))
    )
    assert all("after 00:50Z on 2026-05-17" in " ".join(text.split()) for text in texts)

"""The sheet's HTML: everything of the Brief is in it, strangers' text is only text, and no verdict is printed."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path

import pytest

from briefgen.brief import Brief
from briefgen.pipeline import brief_of
from briefgen.render.sheet import to_html
from briefgen.render.text import summary


@pytest.fixture
def edited(example: Path, tmp_path: Path) -> Callable[[str, str], Brief]:
    """Return the example's Brief with one replacement in its trip file."""
    import shutil

    def edit(old: str, new: str) -> Brief:
        shutil.copytree(example.parent, tmp_path / "club", dirs_exist_ok=True)
        trip = tmp_path / "club" / "trip.yaml"
        text = trip.read_text(encoding="utf-8")
        assert old in text
        trip.write_text(text.replace(old, new), encoding="utf-8")
        return brief_of(trip, "trip.yaml")

    return edit


def words(html: str) -> str:
    """Return the visible words of a sheet, spaces folded."""
    body = html[html.index("<body>") :]
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


def test_every_item_and_caution_is_on_the_sheet(example: Path) -> None:
    brief = brief_of(example, "trip.yaml")
    text = words(to_html(brief, for_screen=True))
    assert brief.items
    assert brief.cautions
    for item in brief.items:
        assert (item.title if item.unit in ("ft", "") else f"{item.title}, {item.unit}") in text
        assert " ".join(item.answer.split()) in text
    for caution in brief.cautions:
        assert " ".join(f"{caution.severity}: {caution.text} [{caution.citation}]".split()) in text


def test_the_file_needs_nothing_else(example: Path) -> None:
    html = to_html(brief_of(example, "trip.yaml"), for_screen=True)
    addresses = re.findall(r'(?:src="|href="(?!#)|url\(")([^"]{5})', html)
    assert addresses
    assert set(addresses) == {"data:"}


def test_every_part_carries_the_limits_and_the_mark(example: Path) -> None:
    brief = brief_of(example, "trip.yaml")
    sections = to_html(brief, for_screen=True).split("<section")[1:]
    assert len(sections) == 13
    for section in sections:
        assert brief.as_of in section
        assert "NOT FOR FLIGHT" in section


def test_what_a_stranger_wrote_is_only_text(edited: Callable[[str, str], Brief]) -> None:
    brief = edited("trip: Quillmere to Tansy Bottom", "trip: '<script>alert(1)</script> {{ 7 * 7 }}'")
    html = to_html(brief, for_screen=True)
    assert "<script" not in html
    assert "&lt;script&gt;alert(1)&lt;/script&gt; {{ 7 * 7 }}" in html


def test_no_sheet_gives_a_verdict(example: Path) -> None:
    brief = brief_of(example, "trip.yaml")
    for text in (words(to_html(brief, for_screen=True)), summary(brief)):
        assert not re.search(r"\bsafe\b|\bapproved to\b|\bcleared\b|\bGO\b|\bgo!", text)
        assert not re.search(r"\bgo\b(?! around|-around| elsewhere)", text), (
            "'go' stands only in 'go around' and 'go elsewhere'"
        )


def test_what_could_not_be_worked_says_so_in_its_row(edited: Callable[[str, str], Brief]) -> None:
    brief = edited("policy: policy.yaml\n", "")
    text = words(to_html(brief, for_screen=True))
    assert "no touchdown figures (aim point and float) in the policy or the trip" in text
    assert "0 meets policy" in text


def test_without_a_policy_nothing_is_better_than_under_policy(edited: Callable[[str, str], Brief]) -> None:
    brief = edited("policy: policy.yaml\n", "")
    assert {item.state.value for item in brief.items} == {"under policy", "not shown"}


def test_texts_side_by_side_and_a_line_with_what_stands_below_it_keep_to_one_page(example: Path) -> None:
    """A row that broke at the foot of a page would mix the lines of its cells; read back, both texts were lost."""
    for trip in (example, example.parent / "solo.yaml"):
        html = to_html(brief_of(trip, trip.name), for_screen=False)
        beside = re.findall(r"<tr([^>]*)><t[hd] class=\"said\"", html)
        assert len(beside) > 3
        assert set(beside) == {' class="row"'}
        row = r"<tr class=\"([^\"]*)\">(?:(?!</tr>).)*</tr>\s*"
        above = re.findall(row + r"<tr[^>]*><td class=\"why\"", html, re.DOTALL)
        assert above
        assert [each for each in above if "explained" not in each] == []

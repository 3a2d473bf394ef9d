"""The proof that follows every PDF: it must fail on whatever text can do when it vanishes.

The ways of vanishing are those measured for WeasyPrint: a fixed height, an absolute or a fixed position, a box past
the paper's edge, rows on top of each other.
"""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from changed import changed, only, shortened

from briefgen.brief import Brief
from briefgen.caution import Caution
from briefgen.errors import CannotPrint
from briefgen.pipeline import brief_of
from briefgen.render.pdf import heard, render, to_pdf
from briefgen.render.proof import prove, read_back
from briefgen.render.sheet import to_html

FILLER = "".join(f"<p>line {n}</p>" for n in range(120))


@pytest.fixture(scope="module")
def whole() -> Brief:
    return brief_of(Path(__file__).parents[2] / "examples" / "quillmere" / "trip.yaml", "trip.yaml")


@pytest.fixture(scope="module")
def brief(whole: Brief) -> Brief:
    return only(shortened(whole), "takeoff", "landing", "working")


@pytest.fixture(scope="module")
def html(brief: Brief) -> str:
    return to_html(brief, for_screen=False)


def failure(content: bytes, brief: Brief, lines: tuple[str, ...] = ()) -> str:
    with pytest.raises(CannotPrint) as caught:
        prove(content, brief, lines)
    return str(caught.value)


def test_a_whole_sheet_passes(whole: Brief) -> None:
    prove(render(to_html(whole, for_screen=False)), whole, [])


def test_a_caution_that_is_not_on_the_sheet_is_missed(brief: Brief, html: str) -> None:
    extra = Caution("invented", "watch", "The brakes are cold before nine.", "no source")
    more = changed(brief, cautions=(*brief.cautions, extra))
    assert "lost from the sheet: watch: The brakes are cold before nine." in failure(render(html), more)


def test_an_item_whose_number_changed_is_missed(brief: Brief, html: str) -> None:
    at = next(i for i, each in enumerate(brief.items) if each.id == "landing")
    row = brief.items[at]
    other = changed(brief, items=(*brief.items[:at], row._replace(have=row.have + 5), *brief.items[at + 1 :]))  # type: ignore[operator]
    assert "lost from the sheet: Landing as planned" in failure(render(html), other)


@pytest.mark.parametrize(
    "style", ["height: 20mm; overflow: hidden", "position: absolute; top: 0", "float: left; height: 30mm"]
)
def test_text_that_vanishes_from_the_cautions_is_missed(brief: Brief, html: str, style: str) -> None:
    words = brief.cautions[-1].text
    assert words in html
    hidden = html.replace('<h2 id="cautions" class="head">Cautions</h2>', f'<div style="{style}">{FILLER}', 1)
    hidden = hidden.replace("Working</h2>", "Working</h2></div>", 1)
    said = failure(render(hidden), brief)
    assert "lost from the sheet" in said or "lies over" in said


def test_a_box_past_the_edge_of_the_paper_is_seen(brief: Brief, html: str) -> None:
    wide = html.replace(
        "</section>", '<p style="white-space: nowrap">' + "far too long a line " * 9 + "</p></section>", 1
    )
    assert re.search(r"off page [12]", failure(render(wide), brief))  # the second where the first is full


def test_a_box_over_another_is_seen(brief: Brief, html: str) -> None:
    over = html.replace(
        "</section>", '<p style="margin-top: -14pt">printed over the line above it</p></section>', 1
    )
    assert "lies over" in failure(render(over), brief)


def test_a_page_without_the_mark_is_seen(brief: Brief, html: str) -> None:
    plain = html.replace('data-mark="NOT FOR FLIGHT"', 'data-mark=""')
    assert "page 2 does not show NOT FOR FLIGHT" in failure(render(plain), brief)


def test_whatever_the_library_says_fails_the_sheet(brief: Brief, html: str) -> None:
    assert "the PDF library said: something" in failure(render(html), brief, ("something",))


def test_the_library_is_heard(html: str) -> None:
    with heard() as lines:
        render(html.replace("<style>", "<style>.nothing { colour-of-the-sky: 3 }"))
    assert any("colour-of-the-sky" in line for line in lines)


def test_no_line_is_logged_for_the_example(brief: Brief) -> None:
    with heard() as lines:
        to_pdf(brief)
    assert lines == []


def test_half_letter_pages_and_readable_text(html: str) -> None:
    """5.5 by 8.5 in is half of ANSI letter, 72 points to the inch."""
    sizes, texts, boxes = read_back(render(html))
    assert {(round(width), round(height)) for width, height in sizes} == {(396, 612)}
    assert "Tansy Bottom" in texts[0]
    assert len(boxes) > 300


def test_no_type_is_smaller_than_ten_points(html: str) -> None:
    """10 pt floor: UK CAA CAP 676, as in the check values, LG-03 (read)."""
    import pypdfium2
    import pypdfium2.raw as raw

    document = pypdfium2.PdfDocument(render(html))
    drawn = []
    for page in document:
        text_page = page.get_textpage()
        for index in range(text_page.count_chars()):
            _, bottom, _, top = text_page.get_charbox(index, loose=True)
            matrix = raw.FS_MATRIX()
            raw.FPDFText_GetMatrix(text_page.raw, index, matrix)
            if top > bottom:  # not a space that the reader put in
                drawn.append(raw.FPDFText_GetFontSize(text_page.raw, index) * abs(matrix.d))
        text_page.close()
        page.close()
    document.close()
    assert len(drawn) > 2000
    assert min(drawn) > 9.99


def test_a_brief_with_far_too_much_to_say_still_prints_all_of_it(brief: Brief) -> None:
    """Paragraphs and rows that break across pages, long names: nothing is lost, nothing lies over another."""
    long = "a remark that goes on and on about the sheep, the gate and the soft patch by the hedge " * 4
    rows = tuple(
        row._replace(title=f"{row.title} with a name of forty letters", where="W" * 60) for row in brief.items
    )
    cautions = tuple(Caution(f"c{n}", "watch", f"Number {n}: {long}"[:300], long[:200]) for n in range(25))
    much = changed(brief, remarks=(long,) * 10, items=rows, cautions=cautions, differences=(long,) * 6)
    sizes, _, _ = read_back(to_pdf(much))
    assert len(sizes) > 14


def test_a_sheet_without_any_conditions_passes(example: Path, tmp_path: Path) -> None:
    """Nothing but the airplane, two runways and how: most rows are reasons, and every one is on the paper."""
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    how = 'weight: 2400 lb, technique: short field, flaps: "30"'
    (club / "bare.yaml").write_text(
        f"trip: bare\nas_of: 2026-05-16T14:00Z\ncrew: pilot\naircraft: aircraft/n0142.yaml\n"
        f'departure: {{strip: strips/quillmere.yaml, runway: "17", {how}}}\n'
        f'arrival: {{strip: strips/tansy-bottom.yaml, runway: "09", {how}}}\n',
        encoding="utf-8",
    )
    bare = brief_of(club / "bare.yaml", "bare.yaml")
    _, texts, _ = read_back(to_pdf(bare))
    first = " ".join(texts[0].split())
    assert first.count("the trip file gives no conditions at the departure") == 6  # distances, climb, wind, sky
    assert "not shown" in first

"""The checks of finished pages: none finds a fault in the example's pages, and each finds what it is there for."""

from __future__ import annotations

from pathlib import Path

import pytest
from page_faults import contrast, look_over, luminance
from pdf_lines import BLACK, WHITE
from printed import flown, fronts, printed

from briefgen.item import Item
from briefgen.pipeline import brief_of
from briefgen.render.pdf import render
from briefgen.render.sheet import typefaces
from briefgen.render.words import times

STYLE = """@page {{ size: 139.7mm 215.9mm; margin: 18mm 8.3mm 20mm }}
@page {{ @bottom-left {{ content: "As of now"; font-size: 10pt }} }}
@font-face {{ font-family: "Plex"; src: url("{font}") }} html {{ font: 12pt/1.25 "Plex" }}
body, h2, p {{ margin: 0 }} td {{ padding: 0 }} {more}"""
NIGHT = "a mark of contrast 2.8"  # the grey of the night in the drawing of the daylight: not mended yet
SHEET = (
    '<!DOCTYPE html><html lang="en"><head><title>t</title><style>{style}</style></head><body>{body}</body></html>'
)
FILLER = (
    "<p>a line that fills</p>" * 30
)  # of 33 that a page holds: 177.9 mm are 504 pt, a line 12 pt x 1.25 = 15 pt


@pytest.fixture
def flown_items(example: Path) -> tuple[Item, ...]:
    return brief_of(example, "trip.yaml").items


def faults(body: str, more: str = "", html: str = "") -> str:
    page = SHEET.format(style=STYLE.format(font=typefaces()["regular"].as_uri(), more=more), body=body)
    return "\n".join(look_over(render(page), html or page, "half letter").faults)


def test_the_pages_that_are_looked_at_in_flight_have_no_fault() -> None:
    told = look_over(*flown())
    assert [fault for fault in told.faults if NIGHT not in fault] == []
    assert any("pages; lines of running text" in remark for remark in told.remarks)


def test_the_first_pages_on_a4_have_no_fault() -> None:
    assert look_over(*fronts()).faults == []


@pytest.mark.parametrize(
    ("name", "pages"),
    [
        ("12000 ft at the destination", ()),  # numbers of five digits in every column
        ("twelve legs A4", ("route",)),  # a leg that would break between its head and its figures
        ("long names", ("route",)),
    ],
)
def test_hard_pages_have_no_fault(name: str, pages: tuple[str, ...]) -> None:
    told = look_over(*printed(name, *pages))
    assert [fault for fault in told.faults if NIGHT not in fault] == []


def test_a_ratio_of_ten_and_over_has_one_place_rounded_down(flown_items: tuple[Item, ...]) -> None:
    """12,000 ft / 880 ft = 13.636, 12,000 / 1,210 = 9.917: two places down are 13.63 and 9.91; of the first one."""
    item = next(each for each in flown_items if each.ratio)
    assert times(item._replace(ratio=13.63)) == "13.6"
    assert times(item._replace(ratio=13.69)) == "13.6"
    assert times(item._replace(ratio=9.91)) == "9.91"
    assert times(item._replace(ratio=10.0)) == "10.0"


def test_a_plain_page_has_no_fault() -> None:
    assert (
        faults(
            "<h2>Head</h2><p>one line</p><table><tr><th>a</th><td>12</td><td>34</td></tr></table>",
            "td { padding: 0 4mm }",
        )
        == ""
    )


@pytest.mark.parametrize(
    ("body", "more", "said"),
    [
        (
            "<p>one</p><p style='margin-left: 120mm; white-space: nowrap'>too wide</p>",
            "",
            "in the margin: 'too wide'",
        ),
        ("<p>one</p><p style='position: relative; top: 182mm'>low</p>", "", "in the foot: 'low'"),
        ("<p>one line</p><p style='margin-top: -12pt'>two lines</p>", "", "'one line' lies over 'two lines'"),
        (
            "<table><tr><td>12,000</td><td>+11,120</td></tr></table>",
            "table { border-spacing: 0 }",
            "runs into '+11,120'",
        ),
        (
            FILLER + "<p>a</p><h2 style='break-after: auto'>Low</h2><p style='margin-top: 20mm'>next</p>",
            "",
            "page 1: 'Low' is parted from",
        ),
        ("<p style='font-size: 9.5pt'>small print</p>", "", "9.5 pt: 'small print'"),
        ("<p style='line-height: 1'>" + "close " * 30 + "</p>", "", "1.00 of its size"),
        ("<p style='line-height: 1.2'>" + "close " * 30 + "</p>", "", "1.20 of its size"),
        ("<p style='font-size: 10pt; word-spacing: -1pt'>" + "il il i " * 20 + "</p>", "", "a line of 1"),
        ("<p style='color: #999'>pale words</p>", "", "contrast 2.8: 'pale words'"),
        ("<p style='background: #555'>on dark ground</p>", "", "contrast 2.8: 'on dark ground'"),
        ("<p>one</p><div style='background: #aaa; height: 5mm'></div>", "", "a mark of contrast 2.3"),
        (
            "<p style='height: 4pt; overflow: hidden; line-height: 3'>clipped words</p>",
            "",
            "not to be seen: 'clipped words'",
        ),
        (
            "<div style='width: 20mm; overflow: hidden; white-space: nowrap'>words cut off at the side</div>",
            "",
            "not to be seen",
        ),
    ],
)
def test_each_fault_is_seen(body: str, more: str, said: str) -> None:
    assert said in faults(body, more)


def test_text_that_is_lost_or_changed_is_seen() -> None:
    """The HTML that the page is held against has a line more, or another number."""
    body = "<p>first</p><p>1,590 ft</p><p>last</p>"
    assert "is lost: 'second'" in faults(body, html="<p>first</p><p>second</p><p>1,590 ft</p><p>last</p>")
    assert "the end is lost: 'more'" in faults(body, html=f"{body}<p>more</p>")
    assert "'1,590 ft' does not stand there" in faults(body, html=body.replace("1,590", "1,560"))


def test_a_head_of_a_group_left_at_the_foot_of_a_page_is_seen() -> None:
    rows = "<tr><th colspan=2>Tansy Bottom</th></tr><tr style='height: 30mm'><td>need</td><td>1,120</td></tr>"
    assert "'Tansy Bottom' is parted from" in faults(FILLER + f"<table>{rows}</table>")


def test_contrast_is_that_of_the_definition() -> None:
    """By hand from the definition (WCAG 2, from memory): black on white (1 + 0.05) / (0 + 0.05) = 21. Grey of 0.5:
    ((0.5 + 0.055) / 1.055)^2.4 = 0.52607^2.4 = exp(2.4 x -0.64232) = exp(-1.54157) = 0.21404."""
    assert contrast(BLACK, WHITE) == pytest.approx(21)
    assert contrast(WHITE, WHITE) == 1
    assert luminance((0.5, 0.5, 0.5)) == pytest.approx(0.21404, abs=1e-5)
    assert luminance((0.0, 1.0, 0.0)) == pytest.approx(0.7152)

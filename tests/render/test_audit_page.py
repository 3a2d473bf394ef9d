"""The report of an audit: every finding in it, every table drawn, the suspects ringed, the proof of the PDF."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from conftest import EXAMPLE, ROOT

from briefgen.auditing import audit_of
from briefgen.cli import main
from briefgen.errors import CannotPrint
from briefgen.render.audit_page import audit_html, audit_pdf
from briefgen.render.curves import RING, Curve, Panel, Ringed, lay_out
from briefgen.render.proof import prove_text, read_back

FIG_11_24 = ROOT / "tests" / "data" / "published_fig_11_24" / "aircraft.yaml"
AIRPLANE = EXAMPLE / "aircraft" / "n0142.yaml"


def spoilt(folder: Path) -> Path:
    """A file with a finding of each kind, one cell checked, and two small tables."""
    text = AIRPLANE.read_text(encoding="utf-8")
    first = "    temperatures: [0 degC, 10 degC, 20 degC, 30 degC, 40 degC]\n"
    mark = "    checked: [{altitude: 2000 ft, temperature: 20 degC, weight: 2350 lb, reason: read twice}]\n"
    row = "[6000 ft,  830/1535,  905/1695,  985/1870, 1065/2050, 1155/2245]"
    for old, new in (
        ("1440/2800", "144/2800"),
        (first, first + mark),
        ("845/1540", "485/1540"),
        (row, "[6000 ft,  760/1385,  830/1530,  900/1685,  975/1850, 1055/2025]"),
        ("67/104/8.8", "67/140/8.8"),
        ("1730/3460,     blank", "    blank,     blank"),
    ):
        assert old in text
        text = text.replace(old, new, 1)
    path = folder / "airplane.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_pdf_has_every_finding_and_passes_its_proof(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, target = spoilt(tmp_path), tmp_path / "audit.pdf"
    assert main(["audit", str(path), "--against", str(AIRPLANE), "-o", str(target)]) == 0
    assert capsys.readouterr().out.startswith(f"{target}: 9 tables")
    texts = read_back(target.read_bytes())[1]
    text = re.sub(r"\s+", " ", " ".join(texts))
    for words in (
        "ground roll at 5,000 ft, 30 °C, 2,550 lb",
        "1440 may be meant: a digit dropped",
        "the line is shifted",
        "104 may be meant: two digits swapped",
        "read twice",
        "here 144/2800, there 1440/2800",
        "cruise table, 2500 rpm",
    ):
        assert words in text, words
    assert all("not for flight: invented data" in each for each in texts)


def test_the_same_audit_gives_the_same_bytes() -> None:
    found = audit_of(FIG_11_24, "a.yaml")
    assert audit_html(found, for_screen=True) == audit_html(audit_of(FIG_11_24, "a.yaml"), for_screen=True)
    assert audit_pdf(found) == audit_pdf(found)


def test_on_a_screen_the_three_misprints_are_ringed_and_their_places_crossed() -> None:
    html = audit_html(audit_of(FIG_11_24, "a.yaml"), for_screen=True)
    assert html.count(f'r="{RING}"') == 3
    assert html.count("<svg") == 3  # one for each weight
    assert "Ringed 1, 2, 3; a cross is what the neighbours of a cell say." in html
    assert "ringed: 1, 2, 3</title>" in html
    clean = audit_html(audit_of(AIRPLANE, "a.yaml"), for_screen=True)
    assert f'r="{RING}"' not in clean
    assert clean.count("Nothing looks wrong in it.") == 9


def test_a_checked_cell_is_ringed_as_checked(tmp_path: Path) -> None:
    html = audit_html(audit_of(spoilt(tmp_path), "a.yaml"), for_screen=True)
    assert html.count(">checked</text>") == 1
    assert "Checked against the page before, and left alone" in html


def test_text_of_the_file_cannot_become_a_part_of_the_page(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    text = AIRPLANE.read_text(encoding="utf-8")
    text = text.replace("description: four-seat", "description: <script>x</script> four-seat")
    path.write_text(text, encoding="utf-8")
    assert "<script>" not in audit_html(audit_of(path, "a.yaml"), for_screen=True)


def test_the_proof_tells_what_is_lost_and_a_page_without_its_mark() -> None:
    content = audit_pdf(audit_of(FIG_11_24, "a.yaml"))
    with pytest.raises(CannotPrint, match="lost from the page: never printed"):
        prove_text(content, ["never printed"], "letter", "not for flight: a textbook's example", [])
    with pytest.raises(CannotPrint, match="page 1 does not show another mark"):
        prove_text(content, [], "letter", "another mark", [])
    with pytest.raises(CannotPrint, match="is not A5"):
        prove_text(content, [], "A5", "not for flight: a textbook's example", ["a line was logged"])


def panel(*ys: float, ringed: tuple[Ringed, ...] = ()) -> Panel:
    points = tuple((1000.0 * i, y) for i, y in enumerate(ys))
    return Panel("2,550 lb", "ft", "ft", (Curve(points, "0 °C", False),), ringed, "curves")


def test_a_ring_off_the_range_stands_at_the_edge_and_the_rest_keeps_its_scale() -> None:
    """14400 for 1440 does not squash the curve: it stands at the top, its expected place is crossed."""
    drawn = lay_out(panel(1200, 14400, 1700, ringed=(Ringed("1", 1000.0, 14400.0, 1440.0),)), 600)
    ((_, ring_y),), ((_, cross_y),) = drawn.rings, drawn.crosses
    assert ring_y == drawn.top + RING
    assert drawn.top < cross_y < drawn.bottom
    assert [tick.text for tick in drawn.up] == ["1,200", "1,300", "1,400", "1,500", "1,600", "1,700"]


def test_labels_stand_apart_and_inside() -> None:
    ringed = tuple(Ringed(str(i), 2000.0, 1000.0 + i, 1000.0) for i in range(12))
    drawn = lay_out(panel(1000, 1010, 1020, ringed=ringed), 600)
    boxes = [(each.x - each.width / 2, each.x + each.width / 2, each.y) for each in drawn.labels]
    assert len(boxes) > 3
    for i, (left, right, y) in enumerate(boxes):
        assert left > 0
        assert right < drawn.width
        for other_left, other_right, other_y in boxes[:i]:
            assert right <= other_left or other_right <= left or abs(y - other_y) >= 38


@pytest.mark.parametrize("ys", [(0.0, 0.0), (104.0, 104.0, 103.0), (5.0, -5.0)])
def test_a_flat_curve_is_drawn_as_flat_as_it_is(ys: tuple[float, ...]) -> None:
    drawn = lay_out(panel(*ys), 600)
    heights = [y for _, y in drawn.dots]
    assert all(drawn.top <= y <= drawn.bottom for y in heights)
    if max(ys) - min(ys) <= 1:
        assert max(heights) - min(heights) < 0.2 * (drawn.bottom - drawn.top)

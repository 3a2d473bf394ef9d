"""Pages as pictures, against those that were looked at and kept: what no text tells, as a drawing's shape."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from pictures import compare, drawn, keep, kept, marked
from printed import flown, fronts

from briefgen.render.pdf import render

FOLDER = Path(__file__).parent / "pictures"
# What stands first on each page, or as a head on it.
PAGES = {
    "front": "Quillmere to Tansy Bottom",
    "takeoff": "Takeoff: ",
    "landing": "Landing: ",
    "route": "Route and fuel: ",
    "load": "Load and balance",
    "daylight": "Daylight: ",
    "speeds": "Speeds",
}
ROW = "<tr><th>takeoff</th><td>1,590</td><td>{have}</td><td{style}>{margin}</td></tr>"
TABLE = """<!DOCTYPE html><html lang="en"><title>rows</title><style>
@page {{ size: 120mm 120mm; margin: 5mm }} td, th {{ width: 25mm; text-align: left; padding: 1mm 0 }}
body {{ font: 12pt "Plex", sans-serif; {body} }} @font-face {{ font-family: "Plex"; src: url("{font}") }}
</style><h1>Rows</h1><table>{rows}</table></html>"""


def page_of(content: bytes, begins: str) -> np.ndarray:
    """Return the picture of the first page with a line that begins so."""
    document = pypdfium2.PdfDocument(content)
    for page in document:
        text = page.get_textpage().get_text_range()
        if any(line.startswith(begins) for line in text.splitlines()):
            return drawn(page)
    raise AssertionError(f"no page has {begins!r}")


def hold(name: str, now: np.ndarray, told: Path, request: pytest.FixtureRequest) -> None:
    path = FOLDER / f"{name}.png"
    if request.config.getoption("--update-golden"):
        keep(now, path)
    before = kept(path)
    difference = compare(before, now)
    if not difference.passes:
        both = told / f"{name}-kept-and-now.png"
        marked(before, now, difference, both)
        pytest.fail(
            f"{difference.blocks} blocks of {name} are others, mean difference {difference.mean:.2f}; "
            f"look at {both}; `make golden` keeps the new one"
        )


@pytest.mark.parametrize("name", PAGES)
def test_a_page_looks_as_it_did(name: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    hold(name, page_of(flown().content, PAGES[name]), tmp_path, request)


def test_the_first_page_on_a4_looks_as_it_did(tmp_path: Path, request: pytest.FixtureRequest) -> None:
    hold("front-a4", page_of(fronts().content, PAGES["front"]), tmp_path, request)


def test_the_kept_pictures_are_those_that_are_compared_and_small() -> None:
    assert {path.stem for path in FOLDER.iterdir()} == {*PAGES, "front-a4"}
    assert sum(path.stat().st_size for path in FOLDER.iterdir()) < 400_000


@pytest.fixture
def table() -> Path:
    from briefgen.render.sheet import typefaces

    return typefaces()["regular"]


def rows(font: Path, body: str = "", last: str = "", count: int = 7) -> np.ndarray:
    each = [
        ROW.format(have=2990 - 10 * i, style=last if i == 3 else "", margin=f"+{400 + i}") for i in range(count)
    ]
    html = TABLE.format(font=font.as_uri(), body=body, rows="".join(each))
    return drawn(pypdfium2.PdfDocument(render(html))[0])


@pytest.mark.parametrize(
    "body", ["letter-spacing: 0.05pt", "font-size: 12.02pt", "padding-left: 0.5pt", "color: #111"]
)
def test_what_another_build_of_the_text_libraries_moves_passes(table: Path, body: str) -> None:
    difference = compare(rows(table), rows(table, body))
    assert difference.passes
    assert difference.mean > 0


def test_a_number_that_moves_is_seen(table: Path) -> None:
    moved = compare(rows(table), rows(table, last=' style="padding-left: 3mm"'))
    assert moved.blocks > 2
    assert not moved.passes


def test_a_row_that_is_lost_is_seen(table: Path) -> None:
    assert not compare(rows(table), rows(table, count=6)).passes


def test_what_differs_is_shown_beside_what_was_kept(table: Path, tmp_path: Path) -> None:
    before, now = rows(table), rows(table, count=6)
    marked(before, now, compare(before, now), tmp_path / "both.png")
    high, wide = kept(tmp_path / "both.png").shape
    assert (high, wide) == (before.shape[0], 2 * before.shape[1])

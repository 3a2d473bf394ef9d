"""A finished PDF read back: its lines of text in the order of its tags, and its marks, with their colours."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from html.parser import HTMLParser
from io import BytesIO
from statistics import median
from typing import Any, NamedTuple

import pdfplumber

Colour = tuple[float, float, float]
BLACK, WHITE = (0.0, 0.0, 0.0), (1.0, 1.0, 1.0)


class Line(NamedTuple):
    """One run of text on one line of one element; places in points from the upper left.

    `element` numbers the tagged paragraph, head or cell; 0 is what has no place in the order of reading: a foot, a
    repeated table head, the words of a drawing. `path` is its tags, from the document down; `row` its row.
    """

    page: int
    element: int
    path: tuple[str, ...]
    row: int
    text: str
    left: float
    top: float
    right: float
    bottom: float
    baseline: float
    size: float
    colour: Colour

    @property
    def kind(self) -> str:
        """The tag of its paragraph, head or cell."""
        return self.path[-1] if self.path else ""


class Mark(NamedTuple):
    """One shape of a page, filled (`area`) or drawn, and its colour."""

    page: int
    left: float
    top: float
    right: float
    bottom: float
    colour: Colour
    area: bool


class Read(NamedTuple):
    """A whole PDF: sizes of its pages, its lines in the order of reading and then the others, its marks."""

    sizes: tuple[tuple[float, float], ...]
    lines: tuple[Line, ...]
    marks: tuple[Mark, ...]


def read(content: bytes) -> Read:
    """Return what a tagged PDF has on its pages."""
    with pdfplumber.open(BytesIO(content)) as document:
        sizes = tuple((float(page.width), float(page.height)) for page in document.pages)
        runs: dict[tuple[int, int | None], list[Any]] = defaultdict(list)
        marks: list[Mark] = []
        for page in document.pages:
            for char in page.chars:
                runs[page.page_number, char["mcid"]].append(char)
            marks += _marks(page)
        lines = []
        for at, path, element, row in _in_order(document.structure_tree):
            for line in _split(runs.pop(at, [])):
                lines.append(_line(at[0], element, path, row, line))
        for (number, _), chars in sorted(runs.items(), key=lambda each: each[0][0]):
            lines += [_line(number, 0, (), 0, line) for line in _split(chars)]
    return Read(sizes, tuple(each for each in lines if each.text.strip()), tuple(marks))


def _in_order(tree: list[Any]) -> Iterator[tuple[tuple[int, int], tuple[str, ...], int, int]]:
    """Yield page and number of each run of text, with its tags, its element and its table row, as they are read."""
    counted = {"element": 0, "row": 0}

    def within(node: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[int, int], tuple[str, ...], int, int]]:
        kind = node["type"]
        if kind not in ("Span", "Link"):
            path = (*path, kind)
            counted["element"] += 1
        counted["row"] += kind == "TR"
        here = counted["element"]
        for mcid in node.get("mcids", ()):
            if kind != "Figure":
                yield (node["page_number"], mcid), path, here, counted["row"]
        for child in node.get("children", ()):
            counted["element"] = max(counted["element"], here)
            yield from _as_of(within(child, path), child, here)

    def _as_of(found: Iterator[Any], child: Any, here: int) -> Iterator[Any]:
        """Text beside an inline child belongs to the same element as that child's."""
        inline = child["type"] in ("Span", "Link")
        for at, path, element, row in found:
            yield at, path, here if inline else element, row

    for node in tree:
        yield from within(node, ())


def _split(chars: list[Any]) -> list[list[Any]]:
    """Return the characters of one run line by line and colour by colour, a drawing's word by word."""
    lines: list[list[Any]] = []
    for char in chars:
        last = lines[-1][-1] if lines else None
        if (
            last
            and abs(char["bottom"] - last["bottom"]) < 1
            and abs(char["x0"] - last["x1"]) < 0.5 * char["size"]
            and char["non_stroking_color"] == last["non_stroking_color"]
        ):
            lines[-1].append(char)
        else:
            lines.append([char])
    return lines


def _line(page: int, element: int, path: tuple[str, ...], row: int, chars: list[Any]) -> Line:
    seen = [char for char in chars if char["text"].strip()] or chars
    return Line(
        page,
        element,
        path,
        row,
        "".join(char["text"] for char in chars),
        min(char["x0"] for char in seen),
        min(char["top"] for char in seen),
        max(char["x1"] for char in seen),
        max(char["bottom"] for char in seen),
        seen[0]["top"] + seen[0]["y1"] - seen[0]["matrix"][5],
        median(char["size"] for char in seen),
        _colour(seen[0]["non_stroking_color"]),
    )


def _marks(page: Any) -> Iterator[Mark]:
    for shape in (*page.rects, *page.curves, *page.lines):
        place = (page.page_number, shape["x0"], shape["top"], shape["x1"], shape["bottom"])
        if shape["fill"] and shape["object_type"] != "line" and _is_plain(shape["non_stroking_color"]):
            yield Mark(*place, _colour(shape["non_stroking_color"]), area=True)
        if shape["stroke"] and _is_plain(shape["stroking_color"]):
            yield Mark(*place, _colour(shape["stroking_color"]), area=False)


def _is_plain(colour: Any) -> bool:
    """Say whether a colour is one: a pattern is given by its name."""
    return colour is not None and not any(isinstance(each, str) for each in colour)


def _colour(given: Any) -> Colour:
    """Return a colour as red, green and blue, of a grey too. Black where nothing is said (ISO 32000-1, 8.6.8)."""
    if not given or not _is_plain(given):
        return BLACK
    assert len(given) in (1, 3), given
    red, green, blue = given * 3 if len(given) == 1 else given
    return float(red), float(green), float(blue)


class _Words(HTMLParser):
    """The text of a page that is printed: not its styles, nor what stands on the screen only."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        void = tag in ("meta", "img", "br", "col", "link")
        if not void and (self.hidden or tag in ("head", "style") or "running" in (dict(attrs).get("class") or "")):
            self.hidden += 1

    def handle_endtag(self, tag: str) -> None:
        self.hidden = max(0, self.hidden - 1)

    def handle_data(self, data: str) -> None:
        if not self.hidden:
            self.found.append(data)


def text_of(html: str) -> str:
    """Return the text of a sheet's HTML that must be printed, in its order."""
    words = _Words()
    words.feed(html)
    return "".join(words.found)


def bare(text: str) -> str:
    """Return text without what a line break may change: spaces, joiners, and hyphens at line ends."""
    return re.sub(r"[\s\u00a0\u00ad\u2060\ufeff-]+", "", text)

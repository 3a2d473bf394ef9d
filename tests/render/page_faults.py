"""What can be wrong with a printed page, told from the finished PDF alone: text, places, sizes, colours, ink.

The proof of `briefgen/render/proof.py` is short, for it follows every build. These checks take their time.
Where a figure comes from stands beside it; LG-… are the check values on legibility.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, pairwise
from typing import NamedTuple

import numpy as np
import pypdfium2
from pdf_lines import BLACK, WHITE, Colour, Line, Read, bare, read, text_of

from briefgen.render.paper import PAPERS, PT_PER_MM

FLOOR_PT = 9.99  # LG-03: never under 10 pt (UK CAA CAP 676, read); a hundredth for rounding
RUNNING_SPACING = 1.25  # LG-06: line spacing not under 25 % of the type size (read)
DENSE_SPACING = 1.1  # of cells and titles, under LG-06: a house rule, or a page holds a third less
TEXT_CONTRAST = 4.5  # WCAG 2, criterion 1.4.3, from memory
MARK_CONTRAST = 3.0  # WCAG 2, criterion 1.4.11, from memory
GROUND_CONTRAST = 1.4  # paler than this is ground to stand on, no mark: common practice, no source
LONGEST = {False: 100, True: 145}  # characters of a line, narrow and wide paper: what they are today, no longer
CLIP_MM = 18  # the clip of the board: KB-03
APART_PT = 2.0  # two cells of a row closer than that read as one number: common practice, no source
SHARED_PT = 1.0
SCALE = 2.0  # points of a picture to one of type
INK = 100  # that far from the ground, of 255, is ink
EMPTY = 1 / 3  # of a page's height


class Told(NamedTuple):
    """What was found: faults, which fail a sheet; and remarks, to be looked at."""

    faults: list[str]
    remarks: list[str]


def look_over(content: bytes, html: str, paper: str) -> Told:
    """Return all that is wrong with a sheet, and what is worth a look."""
    pages = read(content)
    faults = [
        *lost_text(pages, html),
        *outside(pages, paper),
        *overlaps(pages),
        *run_together(pages),
        *orphans(pages),
        *small_type(pages),
        *close_lines(pages),
        *long_lines(pages, paper),
        *pale(pages),
        *unseen(content, pages),
    ]
    return Told(faults, [*empty(pages), *measures(pages)])


def lost_text(pages: Read, html: str) -> Iterator[str]:
    """Find text of the HTML that is not in the PDF in its order; and the other way round.

    The PDF alone has table heads once more on a further page, and the numbers of pages that are referred to.
    """
    wanted, at = bare(text_of(html)), 0
    for line in pages.lines:
        if not line.element:
            continue
        found = bare(line.text)
        if not wanted.startswith(found, at):
            found = bare(re.sub(r"\xa0p\.\xa0\d+", "", line.text))
        if wanted.startswith(found, at):
            at += len(found)
        elif (further := wanted.find(found, at, at + 3000)) >= 0 and "THead" not in line.path:
            yield f"page {line.page}: before {line.text!r} is lost: {wanted[at:further][:60]!r}"
            at = further + len(found)
        elif "THead" not in line.path:
            yield f"page {line.page}: {line.text!r} does not stand there in the HTML"
    if at < len(wanted):
        yield f"the end is lost: {wanted[at:][:60]!r}"


def outside(pages: Read, paper: str) -> Iterator[str]:
    """Find text in the margins, under the clip, or that runs into the foot of its page."""
    side = PAPERS[paper].side_mm * PT_PER_MM - 0.5
    feet = {number: _foot(pages, number) for number in range(1, len(pages.sizes) + 1)}
    for line in pages.lines:
        width, height = pages.sizes[line.page - 1]
        if line.left < side or line.right > width - side or line.top < CLIP_MM * PT_PER_MM - SHARED_PT:
            yield f"page {line.page}: in the margin: {line.text!r}"
        if line.bottom > (feet[line.page] if line.element else height - 8):
            yield f"page {line.page}: in the foot: {line.text!r}"


def _foot(pages: Read, page: int) -> float:
    """Return where the foot of a page begins: the top of its limits, which are not in the order of reading."""
    return min(
        (e.top for e in pages.lines if e.page == page and e.text.startswith("As of ") and not e.element),
        default=1e9,
    )


def overlaps(pages: Read) -> Iterator[str]:
    """Find lines over one another. A line's box is that of its type, a fifth of it empty."""
    for page in _by_page(pages.lines):
        for a, b in combinations(page, 2):
            high = 0.2 * min(a.size, b.size)
            if (
                min(a.right, b.right) - max(a.left, b.left) > SHARED_PT
                and min(a.bottom, b.bottom) - max(a.top, b.top) > high
                and not _halo(a, b)
            ):
                yield f"page {a.page}: {a.text!r} lies over {b.text!r}"


def _halo(a: Line, b: Line) -> bool:
    """Say whether one is the other's white edge, as words in a drawing have it."""
    return a.text == b.text and WHITE in (a.colour, b.colour) and abs(a.left - b.left) < SHARED_PT


def run_together(pages: Read) -> Iterator[str]:
    """Find cells of one row so close that their numbers read as one."""
    rows: dict[tuple[int, int], list[Line]] = defaultdict(list)
    for line in pages.lines:
        if line.row and line.kind in ("TD", "TH"):
            rows[line.page, line.row].append(line)
    for cells in rows.values():
        for a, b in combinations(cells, 2):
            gap = max(a.left, b.left) - min(a.right, b.right)
            shared = min(a.bottom, b.bottom) - max(a.top, b.top)
            if a.element != b.element and gap < APART_PT and shared > 0.3 * min(a.size, b.size):
                yield f"page {a.page}: {a.text!r} runs into {b.text!r}"


def orphans(pages: Read) -> Iterator[str]:
    """Find heads whose next line is on the next page: titles, and the heads of groups inside a table."""
    ordered = [line for line in pages.lines if line.element]
    cells: dict[int, set[int]] = defaultdict(set)
    for line in ordered:
        cells[line.row].add(line.element)
    for a, b in pairwise(ordered):
        alone = a.kind == "TH" and len(cells[a.row]) == 1  # a head of a group has its row to itself
        if a.element != b.element and a.page != b.page and (a.kind[0] == "H" or alone or "THead" in a.path):
            yield f"page {a.page}: {a.text!r} is parted from what it heads"


def small_type(pages: Read) -> Iterator[str]:
    """Find type under 10 pt, in drawings too."""
    for line in pages.lines:
        if line.size < FLOOR_PT:
            yield f"page {line.page}: {line.size:.1f} pt: {line.text!r}"


def spacing(pages: Read) -> Iterator[tuple[float, Line]]:
    """Yield the distance of the lines of each element as a share of their type's size."""
    for a, b in pairwise(line for line in pages.lines if line.element):
        if a.element == b.element and a.page == b.page and b.bottom > a.bottom + 1 and b.left < a.right:
            yield 2 * (b.baseline - a.baseline) / (a.size + b.size), b


def close_lines(pages: Read) -> Iterator[str]:
    """Find lines of one element too close: of running text, and of cells, heads and titles."""
    for share, line in spacing(pages):
        least = RUNNING_SPACING if line.kind == "P" else DENSE_SPACING
        if share < least - 0.005:
            yield f"page {line.page}: {share:.2f} of its size under the line above: {line.text!r}"


def long_lines(pages: Read, paper: str) -> Iterator[str]:
    """Find lines of running text longer than an eye finds back from."""
    for line in pages.lines:
        if line.kind == "P" and len(line.text) > LONGEST[PAPERS[paper].wide]:
            yield f"page {line.page}: a line of {len(line.text)} characters: {line.text!r}"


def luminance(colour: Colour) -> float:
    """Return the relative luminance of a colour of sRGB [0 to 1]. WCAG 2, from memory."""
    linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in colour]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: Colour, b: Colour) -> float:
    """Return the contrast of two colours, 1 to 21. WCAG 2, from memory."""
    lighter, darker = sorted((luminance(a), luminance(b)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def pale(pages: Read) -> Iterator[str]:
    """Find areas that are neither ground to stand on nor plain to see on white; lines of a grid may be pale."""
    for mark in pages.marks:
        ratio = contrast(mark.colour, WHITE)
        if mark.area and GROUND_CONTRAST < ratio < MARK_CONTRAST:
            yield f"page {mark.page}: a mark of contrast {ratio:.1f} at {mark.left:.0f}, {mark.top:.0f}"


def unseen(content: bytes, pages: Read) -> Iterator[str]:
    """Find text that is in the file but not to be seen on paper: clipped, covered, or pale on its ground.

    The text's colour is the file's own; the ground's is that of most points round it, as the page is drawn.
    """
    document = pypdfium2.PdfDocument(content)
    for page in _by_page(pages.lines):
        sheet = document[page[0].page - 1]
        points = sheet.render(scale=SCALE, rev_byteorder=True).to_numpy()[..., :3]
        for line in page:
            if line.colour == WHITE and any(_halo(line, other) for other in page if other is not line):
                continue
            box = [max(0, round(SCALE * each)) for each in (line.top, line.bottom, line.left, line.right)]
            around = points[box[0] : box[1], box[2] : box[3]].reshape(-1, 3)
            ground = _commonest(around)
            ratio = contrast(line.colour, ground)
            if ratio < TEXT_CONTRAST:
                yield f"page {line.page}: contrast {ratio:.1f}: {line.text!r}"
                continue
            inked = abs(points[box[0] : box[1], box[2] : box[3]] - np.array(ground) * 255.0).max(axis=(0, 2)) > INK
            bare_run = max(len(run) for run in "".join(" x"[not each] for each in inked).split(" "))
            if bare_run > SCALE * line.size:  # no space is as wide as its type is high
                yield f"page {line.page}: not to be seen: {line.text!r}"
        sheet.close()
    document.close()


def _commonest(points: np.ndarray) -> Colour:
    values, counts = np.unique(points.astype(int) @ (65536, 256, 1), return_counts=True)
    value = int(values[counts.argmax()])
    return (value >> 16) / 255, (value >> 8 & 255) / 255, (value & 255) / 255


def empty(pages: Read) -> Iterator[str]:
    """Tell of pages with little on them, but for the last of each part."""
    titled = {line.page for line in pages.lines if line.kind in ("H1", "H2")}
    for number, (_, height) in enumerate(pages.sizes, 1):
        last = number == len(pages.sizes) or number + 1 in titled
        lowest = max((line.bottom for line in pages.lines if line.page == number and line.element), default=0)
        if lowest < EMPTY * height + CLIP_MM * PT_PER_MM:
            yield f"page {number} is {lowest / height:.0%} full{', the last of its part' if last else ''}"


def measures(pages: Read) -> Iterator[str]:
    """Tell how long lines are, how far apart, and how strong."""
    lengths = sorted(len(line.text) for line in pages.lines if line.kind == "P")
    shares = sorted(share for share, _ in spacing(pages))
    if lengths and shares:
        middle, most = lengths[len(lengths) // 2], lengths[-1]
        yield f"{len(pages.sizes)} pages; lines of running text: half over {middle}, longest {most} characters"
        under = sum(share < RUNNING_SPACING - 0.005 for share in shares) / len(shares)
        grey = sum(line.colour not in (BLACK, WHITE) for line in pages.lines)
        yield f"{grey} words in grey, which a copy of a copy loses" if grey else "all words in black"  # LG-08
        yield f"lines apart: {shares[0]:.2f} to {shares[-1]:.2f} of the size; {under:.0%} under {RUNNING_SPACING}"


def _by_page(things: tuple) -> list[list]:
    pages = defaultdict(list)
    for thing in things:
        pages[thing.page].append(thing)
    return [pages[number] for number in sorted(pages)]

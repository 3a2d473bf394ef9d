"""Read a finished PDF back: is everything in it, on the paper, and apart?"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import combinations
from typing import NamedTuple

from briefgen.brief import Brief
from briefgen.daylight_page import DaylightPage
from briefgen.errors import CannotPrint
from briefgen.fuel_stop_page import StopPage
from briefgen.item import Item
from briefgen.render import words
from briefgen.render.asked import required_said, risk_said
from briefgen.render.paper import PAPERS, PT_PER_MM
from briefgen.render.sky import weather_said
from briefgen.route_page import RoutePage

SLACK_PT = 1.0  # two boxes may share this much: line boxes of one paragraph touch, and rounding moves them
FAILED = (
    "this is a fault of briefgen, not of the trip file; the same sheet as HTML: briefgen build TRIP -o FILE.html"
)
FAILED_REPORT = "this is a fault of briefgen, not of your file; the same report as HTML: -o FILE.html"
SIZE_SLACK_PT = 0.5  # a paper in mm is no whole number of points


class Box(NamedTuple):
    """One run of text on a page: its edges in points from the lower left, and what it says."""

    page: int
    left: float
    bottom: float
    right: float
    top: float
    text: str


class FailedProof(CannotPrint):
    """A finished sheet or report does not show what it must."""


def prove(content: bytes, brief: Brief, heard: Sequence[str]) -> None:
    """Check a finished PDF against its Brief.

    Raises
    ------
    CannotPrint : says all that is wrong. A sheet that fails is never written.
    """
    sizes, texts, boxes = read_back(content)
    faults = [f"the PDF library said: {line}" for line in heard]
    printed = _run_on(texts, brief)
    faults += [f"lost from the sheet: {each}" for each in brief.sign_off if _bare(each) not in printed]
    faults += [f"lost from the sheet: {each}" for each in expected(brief) if _bare(each) not in printed]
    faults += [
        f"page {number} does not show {mark}"
        for number, text in enumerate(texts, 1)
        for mark in (brief.limits, brief.mark, brief.filed)
        if _bare(mark) not in _bare(text)
    ]
    faults += _other_paper(sizes, brief.page_size)
    faults += _off_the_page(boxes, sizes)
    faults += _over_another(boxes)
    least = _least_pages(brief)
    if len(sizes) < least:
        faults.append(f"only {len(sizes)} pages, where {least} are planned")
    _refuse(faults)


def lost(text: str, brief: Brief) -> list[str]:
    """Return what of a Brief cannot be read in the text of a sheet."""
    printed = _bare(text)
    return [f"lost from the sheet: {each}" for each in expected(brief) if _bare(each) not in printed]


def prove_text(content: bytes, expected: Iterable[str], paper: str, mark: str, heard: Sequence[str]) -> None:
    """Check a finished PDF that is no sheet: every text is in it, its mark on every page, nothing over another.

    Raises
    ------
    CannotPrint : says all that is wrong.
    """
    sizes, texts, boxes = read_back(content)
    feet = [_bare(f"{mark}{number} of {len(texts)}") for number in range(1, len(texts) + 1)]
    printed = "".join(_bare(text).replace(foot, "") for text, foot in zip(texts, feet, strict=True))
    faults = [f"the PDF library said: {line}" for line in heard]
    faults += [f"lost from the page: {each}" for each in expected if _bare(each) not in printed]
    faults += [
        f"page {i} does not show {mark}" for i, text in enumerate(texts, 1) if _bare(mark) not in _bare(text)
    ]
    faults += [*_other_paper(sizes, paper), *_off_the_page(boxes, sizes), *_over_another(boxes)]
    _refuse(faults, FAILED_REPORT)


def _refuse(faults: Sequence[str], hint: str = FAILED) -> None:
    if faults:
        shown = "; ".join(faults[:8]) + (f"; and {len(faults) - 8} more" if len(faults) > 8 else "")
        raise FailedProof(f"the sheet failed its own proof and was not written: {shown}\n{hint}")


def read_back(content: bytes) -> tuple[list[tuple[float, float]], list[str], list[Box]]:
    """Return page sizes [pt], the text of each page, and every run of text with its box."""
    import pypdfium2

    document = pypdfium2.PdfDocument(content)
    sizes, texts, boxes = [], [], []
    for number, page in enumerate(document, 1):
        text_page = page.get_textpage()
        sizes.append(page.get_size())
        texts.append(text_page.get_text_range())
        for index in range(text_page.count_rects()):
            left, bottom, right, top = text_page.get_rect(index)
            boxes.append(
                Box(number, left, bottom, right, top, text_page.get_text_bounded(left, bottom, right, top))
            )
        text_page.close()
        page.close()
    document.close()
    return sizes, texts, boxes


def expected(brief: Brief) -> Iterable[str]:
    """Return everything that must be readable on the sheet."""
    if brief.letterhead:
        yield from (brief.letterhead.name, *brief.letterhead.lines)
    yield brief.title
    yield from brief.standing
    yield words.pages_left_out(brief)
    yield from brief.remarks
    for item in brief.items:
        yield from _row(item)
    for caution in brief.cautions:
        yield f"{caution.severity}: {caution.text} [{caution.citation}]"
    if brief.folded:
        yield words.left_out(brief.folded)
    for row in brief.recheck:
        yield f"{row.surface}, {row.case}" + "".join(words.number(need) for _, need, _ in row.cells)
    yield brief.no_recheck
    for page in brief.pages:
        yield from _OF_PAGES[page](brief)
    for own in brief.extra_pages:
        yield own.title
        yield from (part.text for part in own.parts)


def _row(item: Item) -> Iterable[str]:
    if item.answer:
        yield f"{item.title}{item.answer}{item.state.value}"
        return
    if not item.unit:
        yield f"{item.title}—{item.state.value}"
        yield words.note(item)
        return
    numbers = [words.needed(item), *(words.amount(each, item.unit) for each in (item.policy_need, item.have))]
    margin = words.signed(item.margin, item.unit) + words.times(item)
    yield words.title(item) + "".join(numbers) + margin + item.state.value
    if words.note(item):
        yield words.note(item)


def _plan(brief: Brief, page: str) -> Iterable[str]:
    plan = brief.takeoff if page == "takeoff" else brief.landing
    yield from (f"{each.label}{words.told(each)}" for each in (*plan.speeds, *plan.air))
    yield from plan.wind_picture.words
    yield from plan.side.said if plan.side else ()


def _load(brief: Brief) -> Iterable[str]:
    assert brief.load, "a page that there is"
    yield from ("".join(line[:4]) for line in brief.load.lines)
    yield from ("".join(point) for point in brief.load.points)
    yield from brief.load.mends


def _alternate(brief: Brief) -> Iterable[str]:
    page = brief.alternate
    assert page, "a page that there is"
    yield f"Alternate: {page.where}"
    yield "; ".join(page.setting)
    yield from (page.wind, page.remark)
    for row in page.rows:
        yield from _row(row)
    yield from (f"{each.label}{words.told(each)}" for each in page.speeds)
    for point in (page.go_around, page.go_around_flaps_up):
        yield words.told(point.at)
        if point.mark_at is not None:
            yield f"{point.mark}, {words.told(point.mark_at)}"


def _way(brief: Brief) -> Iterable[str]:
    if brief.route:
        yield from _log(brief.route)
        yield from _stop(brief.stop, brief.route) if brief.stop else ()
    if brief.daylight:
        yield from _light(brief.daylight)


def _log(page: RoutePage) -> Iterable[str]:
    yield f"Route and fuel: {page.where}"
    yield "; ".join(page.setting)
    for row in page.legs:
        yield f"{row.to}{words.planned(row)}"
        yield "".join(words.flown(row, page))
    yield from (*page.ways, page.no_log)
    yield "" if page.no_log else "total" + "".join(words.summed(page))
    yield page.not_counted
    if page.alternate:
        yield f"then, to the alternate, {page.alternate.to}{words.planned(page.alternate)}"
        yield "".join(words.flown(page.alternate, page))
    yield page.reason
    for each in page.ladder:
        yield f"{each.name}{words.amount(each.amount, page.unit)}{words.minutes(each)}"
    yield from (f"{each.label}{words.told(each)}" for each in page.readings)
    yield page.down_by
    yield page.down_note


def _stop(page: StopPage, log: RoutePage) -> Iterable[str]:
    yield from (page.decide, page.landing)
    if page.way:
        yield f"from {page.at}, for fuel, to {page.to}{words.planned(page.way)}"
        yield "".join(words.flown(page.way, log))
    yield from (f"{each.label}{words.told(each)}" for each in page.readings)


def _light(page: DaylightPage) -> Iterable[str]:
    yield f"Daylight: {page.where}"
    yield from page.lines
    for row in page.rows:
        yield f"{row.field}{row.at}{row.sunrise}{row.sunset}{row.dusk}"
    yield from (each.label for each in page.line.moments)
    yield page.horizon


def _card(brief: Brief) -> Iterable[str]:
    page = brief.speeds
    for group in page.groups:
        for line in group.lines:
            for_ = "" if line.reading.value is None else words.worked_for(line)
            yield f"{line.reading.label}{words.told(line.reading)}{for_}"
    for row in page.stalls:
        yield row.label + "".join(words.number(line.reading.value) for line in row.lines)
        yield words.unshown(row)
    yield page.stall_note
    for table in page.crosswinds:
        yield f"{table.where}: {table.wind}"
    yield "".join(head for table in page.crosswinds for head in table.heads)
    yield from page.without_wind
    for i, said in enumerate(page.turned if page.crosswinds else ()):
        yield said + "".join(words.across(cell) for table in page.crosswinds for cell in table.rows[i])
    yield page.legend


def _papers(brief: Brief) -> Iterable[str]:
    page = brief.papers
    assert page, "a page that there is"
    yield page.taken
    for table in page.tables:
        yield table.whose
        for line in table.lines:
            dates = line.done + line.good_through + line.left
            yield line.name + dates + words.beside(line) + line.standing + words.beneath(line)
    yield page.known
    yield from (("✓" if line.confirmed else "") + line.words + line.said for line in page.confirmed)


def _working(brief: Brief) -> Iterable[str]:
    yield brief.worked_in
    yield f"{brief.registration}: {brief.description}. {brief.handbook}."
    yield from (f"{each.label}{each.value}{each.whose}" for each in brief.standard)
    yield from (table.picture.said for table in brief.compared if table.picture)
    for section in brief.sections:
        yield section.title
        yield section.remark
        for figure in section.figures:
            yield from (
                f"{words.step_label(step)}: {words.arithmetic(step)}" for step in figure.steps if step.detail
            )
            yield f"printed as {figure.printed}" if figure.printed else ""


# What must be readable of each page.
_OF_PAGES: Mapping[str, Callable[[Brief], Iterable[str]]] = {
    "takeoff": lambda brief: _plan(brief, "takeoff"),
    "landing": lambda brief: _plan(brief, "landing"),
    "alternate": _alternate,
    "route": _way,
    "load": _load,
    "weather": lambda brief: weather_said(brief.weather),
    "speeds": _card,
    "papers": _papers,
    "risk": risk_said,
    "required": required_said,
    "working": _working,
}


def _least_pages(brief: Brief) -> int:
    """Return the least number of pages: one begins each, but for the risk, and on wide paper for the landing."""
    with_others = ("risk", "landing") if PAPERS[brief.page_size].wide else ("risk",)
    return 1 + sum(page not in with_others for page in brief.pages) + len(brief.extra_pages)


def _run_on(texts: Sequence[str], brief: Brief) -> str:
    """Return the text of all pages as one, without the foot of each page, so that a page break hides nothing."""
    pages = []
    for number, text in enumerate(texts, 1):
        foot = _bare(f"{brief.mark}{number} of {len(texts)}{brief.filed}")
        pages.append(_bare(text).replace(_bare(brief.limits), "").replace(foot, ""))
    return "".join(pages)


def _bare(text: str) -> str:
    """Return text without what a line break may change: spaces, and hyphens at line ends."""
    return re.sub(r"[\s\u00a0\u00ad\ufffe\u0002-]+", "", text)


def _other_paper(sizes: Sequence[tuple[float, float]], name: str) -> list[str]:
    """Return a fault for each page that is not of the size asked for."""
    wanted = tuple(each * PT_PER_MM for each in PAPERS[name][:2])
    return [
        f"page {number} is not {name}: {size[0]:.0f} by {size[1]:.0f} pt"
        for number, size in enumerate(sizes, 1)
        if max(abs(is_ - asked) for is_, asked in zip(size, wanted, strict=True)) > SIZE_SLACK_PT
    ]


def _off_the_page(boxes: Iterable[Box], sizes: Sequence[tuple[float, float]]) -> list[str]:
    faults = []
    for box in boxes:
        width, height = sizes[box.page - 1]
        if box.left < 0 or box.bottom < 0 or box.right > width or box.top > height:
            faults.append(f"off page {box.page}: {box.text!r}")
    return faults


def _over_another(boxes: Iterable[Box]) -> list[str]:
    by_page: dict[int, list[Box]] = {}
    for box in boxes:
        by_page.setdefault(box.page, []).append(box)
    return [
        f"on page {page}, {a.text!r} lies over {b.text!r}"
        for page, there in by_page.items()
        for a, b in combinations(there, 2)
        if min(a.right, b.right) - max(a.left, b.left) > SLACK_PT
        and min(a.top, b.top) - max(a.bottom, b.bottom) > SLACK_PT
    ]

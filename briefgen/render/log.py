"""The route and the fuel as plain lines of text."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.fuel_stop_page import StopPage
from briefgen.render.words import amount, flown, heads, minutes, planned, summed, told
from briefgen.route_page import RoutePage


def stop_lines(page: StopPage, log: RoutePage) -> Iterator[str]:
    """Return the fuel stop: what to decide, the way there by the log's columns, and the fuel behind it."""
    yield page.decide
    if page.way:
        yield f"  from {page.at}, for fuel, to {page.to}: {planned(page.way)}"
        yield "  " + "".join(f"{head:>12}" for head in heads(log))
        yield "  " + "".join(f"{cell:>12}" for cell in flown(page.way, log))
    for reading in page.readings:
        yield f"  {reading.label}: {told(reading)}"
    yield f"  {page.landing}"


def route_lines(page: RoutePage) -> Iterator[str]:
    """Return the log of a route, the fuel stage by stage, and what it gives."""
    yield f"Route and fuel: {page.where}"
    yield f"  {'; '.join(page.setting)}" + ("; descents at cruise figures" if page.has_climbs else "")
    yield from _log(page)
    if page.alternate:
        yield f"  then, to the alternate, {page.alternate.to}: {planned(page.alternate)}"
        yield "  " + "".join(f"{cell:>12}" for cell in flown(page.alternate, page))
    if page.reason:
        yield f"  fuel not shown: {page.reason}"
    for each in page.ladder:
        said = f"{minutes(each):>6} min" if each.minutes is not None else ""
        yield f"  {each.name:40}{amount(each.amount, page.unit):>8} {page.unit}{said}"
    if page.not_counted:
        yield f"  {page.not_counted}"
    if page.down_by:
        yield f"  wheels down by, {page.kept}: {page.down_by}"
    for reading in page.readings:
        yield f"  {reading.label}: {told(reading)}"


def _log(page: RoutePage) -> Iterator[str]:
    """Return the legs and their sums; of legs that could not be worked, where they go, and why no more."""
    if page.no_log:
        yield from (f"  {each}" for each in page.ways)
        yield f"  {page.no_log}"
        return
    columns, sums = heads(page), summed(page)
    yield "  " + "".join(f"{head:>12}" for head in columns)
    for row in page.legs:
        yield f"  {row.to}: {planned(row)}"
        yield "  " + "".join(f"{cell:>12}" for cell in flown(row, page))
    blank = len(columns) - len(sums)
    yield "  " + f"{'total':>{12 * blank}}" + "".join(f"{cell:>12}" for cell in sums)

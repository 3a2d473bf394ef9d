"""The speeds card as plain lines of text."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.render.words import across, number, told, unshown, worked_for
from briefgen.speeds_page import SpeedsPage


def speeds_lines(page: SpeedsPage) -> Iterator[str]:
    """Return the speeds by the part of the flight, the stall by bank, and the crosswinds by direction."""
    yield "Speeds, indicated: those to hold are rounded up; maneuvering, a most, and glide down"
    for group in page.groups:
        yield f"  {group.title}"
        for line in group.lines:
            said = told(line.reading)
            yield f"    {line.reading.label}: {said}" + (f" ({worked_for(line)})" if line.reading.value else "")
    yield f"  {'Stall, kt':34}" + "".join(f"{line.reading.label:>12}" for line in page.stalls[0].lines)
    for row in page.stalls:
        yield f"    {row.label:32}" + "".join(f"{number(line.reading.value):>12}" for line in row.lines)
        if unshown(row):
            yield f"      {unshown(row)}"
    yield f"  {page.stall_note}"
    for table in page.crosswinds:
        yield f"  Crosswind, kt: {table.where}, wind {table.wind}"
        yield "    " + " " * 24 + "".join(f"{head:>12}" for head in table.heads)
        for words, cells in zip(page.turned, table.rows, strict=True):
            yield f"    {words:24}" + "".join(f"{across(cell):>12}" for cell in cells)
    yield from (f"  Crosswind, {each}" for each in page.without_wind)
    if page.legend:
        yield f"  {page.legend}"

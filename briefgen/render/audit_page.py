"""An audit as a page: what was found, and each table drawn as curves with the suspects ringed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product
from typing import NamedTuple

from briefgen.model.typed import Index, TypedTable
from briefgen.render import audit_words as words
from briefgen.render.curves import Curve, Panel, Ringed
from briefgen.render.graph_panels import drawn
from briefgen.render.paper import PAPERS
from briefgen.render.pdf import heard, render
from briefgen.render.proof import prove_text
from briefgen.render.sheet import faces, filled
from briefgen.studies.audit import Audit
from briefgen.studies.graph_pairs import not_looked_at
from briefgen.studies.table_audit import Finding, Key, Looked

PAPER = "letter"
_GAP = 40  # between panels, tenths of a millimetre
_ABREAST = 3
_CHECKED = "checked"  # what is written beside the ring of a cell that was
_CLEAN = "Nothing looks wrong in it."
_NOT_ALL = "Nothing looks wrong of what was looked at; not everything in it was."


class Plate(NamedTuple):
    """One table as it is shown: its panels in rows of as many as stand beside each other."""

    title: str
    said: str
    key: str
    rows: tuple[tuple[Panel, ...], ...]
    width: int  # of a panel, tenths of a millimetre


def audit_html(found: Audit, *, for_screen: bool) -> str:
    """Return the report.

    Parameters
    ----------
    found : the audit.
    for_screen : carry the typeface inside, so that the file needs nothing else; otherwise name the files.
    """
    return filled(
        "audit.html.j2",
        audit=found,
        words=words,
        plates=list(_plates(found)),
        mark=_mark(found),
        font=faces(for_screen=for_screen),
        for_screen=for_screen,
        paper=PAPERS[PAPER],
    )


def audit_pdf(found: Audit) -> bytes:
    """Return the report as PDF, proved: every finding is in it, nothing is off the page or over another.

    Raises
    ------
    CannotPrint : a library is missing, or the proof failed.
    """
    html = audit_html(found, for_screen=False)
    with heard() as lines:
        content = render(html)
    prove_text(content, _expected(found), PAPER, _mark(found), lines)
    return content


def _mark(found: Audit) -> str:
    """Return what stands at the foot of every page."""
    return f"not for flight: {found.not_for_flight}" if found.not_for_flight else found.registration


def _expected(found: Audit) -> Iterator[str]:
    """Return everything that must be readable in the report."""
    yield words.counted(found)
    for each in found.findings:
        yield words.heading(each)
        yield words.numbers(each)
        yield from each.reasons
    for each in found.checked:
        yield f"{words.heading(each)}, {words.numbers(each)}: {each.checked}"
    for difference in found.compared.differences if found.compared else ():
        yield words.differs(difference)
    yield from (each.table.name for each in found.tables if each.table.printed)
    yield from (each.chart for each in found.panels)
    yield from found.not_looked_at
    yield from found.standing


def _plates(found: Audit) -> Iterator[Plate]:
    named = [(str(i), each) for i, each in enumerate(found.findings, 1)]
    named += [(_CHECKED, each) for each in found.checked]
    for looked in found.tables:
        table = looked.table
        if not table.printed:
            continue
        ours = [(name, each) for name, each in named if each.table == table.name]
        numbers = ", ".join(dict.fromkeys(name for name, _ in ours))
        said = f"Ringed {numbers}; a cross is what the neighbours of a cell say." if ours else _CLEAN
        yield _plate(f"{table.name} ({table.page})", said, _key(table), list(_panels(looked, ours)))
    for chart in dict.fromkeys(each.chart for each in found.panels):
        panels = [each for each in found.panels if each.chart == chart]
        shown = [drawn(each, found.misread, named) for each in panels]
        rings = ", ".join(ring.name for each in shown for ring in each.ringed)
        clean = _NOT_ALL if any(not_looked_at(each) for each in panels) else _CLEAN
        said = f"Ringed {rings}; a cross is what the points beside it say." if rings else clean
        key = "A panel after the other, each line through its points; the outer ones are named."
        yield _plate(f"{chart} ({panels[0].page})", said, key, shown)


def _plate(title: str, said: str, key: str, panels: list[Panel]) -> Plate:
    """Return a plate with its panels in rows."""
    abreast = min(len(panels), _ABREAST) if len(panels) != 4 else 2
    width = (PAPERS[PAPER].drawing - (abreast - 1) * _GAP) // max(abreast, 2)
    rows = tuple(tuple(panels[i : i + abreast]) for i in range(0, len(panels), abreast))
    return Plate(title, said, key, rows, width)


def _key(table: TypedTable) -> str:
    """Return what the lines of a table's panels are."""
    by, along = _line_axis(table), f"over {table.altitude()}"
    if by:
        along += f", a line for each {table.line_name(by)}, {table.point(by, 0)} to {table.point(by, -1)}"
    if not _together(table):
        return f"{along[0].upper()}{along[1:]}."
    solid, dashed = table.cells
    return f"{solid.capitalize()} solid, {dashed} dashed, {along}."


def _together(table: TypedTable) -> bool:
    """Say whether the quantities of a table share their panels: the two distances of a takeoff or a landing."""
    return table.kind in ("takeoff", "landing")


def _line_axis(table: TypedTable) -> int:
    """Return which axis has a line for each of its points; 0, which is the altitude, where there is none."""
    axes = table.grid.axes
    return next((i for i in range(1, len(axes)) if len(axes[i].points) > 1), 0)


def _panels(looked: Looked, findings: list[tuple[str, Finding]]) -> Iterator[Panel]:
    """Return a panel for each weight and wind, and for each quantity that has its own unit."""
    table = looked.table
    by = _line_axis(table)
    outer = table.grid.axes[by + 1 :] if by else ()
    groups = [tuple(table.cells)] if _together(table) else [(name,) for name in table.cells]
    for group in groups:
        for block in product(*(range(len(axis.points)) for axis in outer)):
            yield _panel(looked, group, block, by, findings)


def _panel(
    looked: Looked, group: tuple[str, ...], block: Index, by: int, findings: list[tuple[str, Finding]]
) -> Panel:
    table = looked.table
    altitudes = table.grid.axes[0].points

    def inside(key: Key) -> bool:
        return key[0] in group and (not by or key[1][by + 1 :] == block)

    ringed = [_ringed(looked, i, key) for i, each in findings for key in each.cells if inside(key)]
    parts = [] if _together(table) else [group[0]]
    parts += [table.point(by + 1 + i, at) for i, at in enumerate(block)]
    title = ", ".join(filter(None, parts)) or "every cell"
    curves = [curve for name in group for curve in _curves(table, name, block, by, dashed=name != group[0])]
    unit = table.units[group[0]]
    rings = f"; ringed: {', '.join(each.name for each in ringed)}" if ringed else ""
    text = f"{table.name}, {title} [{unit}] from {altitudes[0]:,g} to {altitudes[-1]:,g} ft{rings}"
    return Panel(title, unit, "ft", tuple(curves), tuple(ringed), text)


def _ringed(looked: Looked, name: str, key: Key) -> Ringed:
    cell, expected = looked.table.cells[key[0]][key[1]], looked.expected.get(key)
    assert cell is not None
    altitude = looked.table.grid.axes[0].points[key[1][0]]
    return Ringed(name, altitude, cell.value, expected.value if expected else None)


def _curves(table: TypedTable, name: str, block: Index, by: int, *, dashed: bool) -> Iterable[Curve]:
    """Return a curve over altitude for each point of the axis that has lines; the outermost two are named."""
    cells, altitudes = table.cells[name], table.grid.axes[0].points
    lines: list[tuple[str, tuple[tuple[float, float], ...]]] = []
    for at in range(len(table.grid.axes[by].points)) if by else (0,):
        points = []
        for i, altitude in enumerate(altitudes):
            index = _index(table, i, at, by, block)
            cell = cells.get(index)
            if cell:
                points.append((altitude, cell.value))
        if points:
            lines.append((table.point(by, at) if by else "", tuple(points)))
    outer = {0, len(lines) - 1}
    return [Curve(points, label if i in outer else "", dashed) for i, (label, points) in enumerate(lines)]


def _index(table: TypedTable, altitude: int, at: int, by: int, block: Index) -> Index:
    index = [0] * len(table.grid.axes)
    index[0] = altitude
    if by:
        index[by:] = [at, *block]
    return tuple(index)

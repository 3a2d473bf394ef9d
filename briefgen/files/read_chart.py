"""Read a takeoff or landing distance chart, as it stands on the handbook's page."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite

from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.files.read_notes import page_source, read_note
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.notes import Note
from briefgen.handbook.table import Axis, Grid

_CELL = re.compile(r"([0-9]+)/([0-9]+)")
Cell = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True)
class _Block:
    """The rows of one weight as they were read."""

    entry: Entry
    weight_lb: float
    altitudes: list[Entry]
    altitudes_ft: list[float]
    rows: list[list[Cell]]


def read_chart(entry: Entry, phase: str, title: str) -> DistanceChart | None:
    """Return one chart; None, with every fault noted, where something in it cannot be read."""
    faults, before = entry.faults, len(entry.faults.problems)
    source = page_source(title, entry.text("page"))
    notes = faults.parts(entry.items("notes"), lambda each: _note(each, phase, title))
    _one_note_each(entry)
    standard = entry["temperatures"].value == "standard"
    columns = entry["temperatures"].each()
    temperatures = [each.quantity("temperature", -60, 60) for each in columns]
    _rising(columns, temperatures, "temperature")
    width = 1 if standard else len(temperatures)
    blocks = list(faults.parts(entry.items("tables"), lambda each: _block(each, width)))
    _same_altitudes(blocks)
    blocks.sort(key=lambda block: block.weight_lb)
    grid = _grid(entry, blocks, None if standard else temperatures, source)
    checked = _checked(entry, grid) if grid else {}
    if grid is None or len(faults.problems) > before or faults.touch(entry.place):
        return None
    roll, total = _cells(blocks, standard)
    return DistanceChart(
        phase=phase,
        flaps=entry.text("flaps"),
        grid=grid,
        roll=roll,
        total=total,
        conditions=_conditions(entry["conditions"]),
        notes=notes,
        at_standard=standard,
        order_open=entry.text("notes_order", "open") == "open",
        checked=checked,
    )


def _one_note_each(entry: Entry) -> None:
    """Note a second note for one cause and one distance: a slip of copying."""
    seen: dict[tuple[str, str], int] = {}
    for number, note in enumerate(entry.items("notes"), 1):
        cause = note.text("for")
        for distance in ("ground roll", "over 50 ft"):
            if note.text("to") in (distance, "both"):
                before = seen.setdefault((cause, distance), number)
                if before != number and note.get("for"):
                    note["for"].fault(f"note {before} of this table is for {cause} too", "was another cause meant?")
                    break


def _note(entry: Entry, phase: str, title: str) -> Note | None:
    return read_note(entry, page_source(title, entry.text("page")), phase)


def _grid(entry: Entry, blocks: list[_Block], temperatures: list[float] | None, source: Source) -> Grid | None:
    """Return the axes of the table; None where a point of one could not be read."""
    weights, altitudes = [block.weight_lb for block in blocks], blocks[0].altitudes_ft if blocks else []
    axes = [altitudes, weights] if temperatures is None else [altitudes, temperatures, weights]
    if not all(points and all(map(isfinite, points)) for points in axes):
        return None
    beyond = entry.get("beyond")
    edge = {end: beyond is not None and beyond.text(end) == "edge" for end in ("cold", "low", "light")}
    altitude_axis = Axis("pressure_altitude_ft", tuple(altitudes), edge["low"])
    weight_axis = Axis("weight_lb", tuple(weights), edge["light"])
    if temperatures is None:
        return Grid((altitude_axis, weight_axis), source.text)
    return Grid(
        (altitude_axis, Axis("temperature_degC", tuple(temperatures), edge["cold"]), weight_axis), source.text
    )


def _block(entry: Entry, width: int) -> _Block:
    """Return the rows of one weight: altitudes, and a (roll, total) pair per column; `width` 0 if not known."""
    rows = [row for row in entry.items("rows") if row.each()]
    altitudes = [row.each()[0] for row in rows]
    altitudes_ft = [altitude.quantity("length", -2000, 20_000) for altitude in altitudes]
    _rising(altitudes, altitudes_ft, "altitude")
    for row, altitude in zip(rows, altitudes, strict=True):
        count = len(row.each()) - 1
        if width and count != width:
            columns = f"{width} temperatures" if width > 1 else "one column"
            message = f"the row for {altitude.value} has {count} cells; the table has {columns}"
            row.fault(message, "write 'blank' where the page prints nothing" if count < width else "")
    weight_lb = entry["weight"].quantity("weight", 300, 12_500)
    cells = [[_cell(cell) for cell in row.each()[1:]] for row in rows]
    return _Block(entry, weight_lb, altitudes, altitudes_ft, cells)


def _cell(entry: Entry) -> Cell:
    found = _CELL.fullmatch(str(entry.value))
    return (float(found[1]), float(found[2])) if found else (None, None)


def _rising(entries: list[Entry], values: list[float], what: str) -> None:
    for (before, a), (entry, b) in pairwise(zip(entries, values, strict=True)):
        if b <= a:
            entry.fault(f"{entry.value} stands after {before.value}", f"each {what} must be above the one before")


def _same_altitudes(blocks: list[_Block]) -> None:
    """Note a weight that stands twice, and a block whose altitudes are not those of the first sound one."""
    for i, block in enumerate(blocks):
        weight = block.entry["weight"]
        if block.weight_lb in [other.weight_lb for other in blocks[:i]]:
            weight.fault(f"the weight {weight.value} stands twice", "one block for each weight")
    sound = [block for block in blocks if all(b > a for a, b in pairwise(block.altitudes_ft))]
    for block in sound[1:]:
        first, ours = sound[0].altitudes_ft, block.altitudes_ft
        of_first = f"the block for {sound[0].entry['weight'].value}"
        if len(ours) != len(first):
            message = f"this block has {len(ours)} rows, {of_first} has {len(first)}"
            block.entry["rows"].fault(message, "every block has the same altitudes")
            continue
        for altitude, other, a, b in zip(block.altitudes, sound[0].altitudes, ours, first, strict=True):
            if a != b:
                message = f"{altitude.value} stands here, but {other.value} in {of_first}"
                altitude.fault(message, "every block has the same altitudes")
                break


def _cells(
    blocks: list[_Block], standard: bool
) -> tuple[dict[tuple[int, ...], float | None], dict[tuple[int, ...], float | None]]:
    roll: dict[tuple[int, ...], float | None] = {}
    total: dict[tuple[int, ...], float | None] = {}
    for w, block in enumerate(blocks):
        for a, row in enumerate(block.rows):
            for t, (short, long) in enumerate(row):
                index = (a, w) if standard else (a, t, w)
                roll[index], total[index] = short, long
    return roll, total


def _conditions(entry: Entry) -> ChartConditions:
    return ChartConditions(
        technique=entry.text("technique"),
        power=entry.text("power"),
        surface=entry.text("surface"),
        braking=entry.text("braking"),
        wind=entry.text("wind"),
        factored=bool(entry["factored"].value),
        factor_inside=_inside(entry),
    )


def _inside(entry: Entry) -> float | None:
    """Return how large the factor in the table is; a fault where the table has none."""
    found = entry.get("factor_inside")
    if found is None or entry.faults.touch(found.place):
        return None
    if entry["factored"].value is False:
        found.fault(f"a factor of {found.value:g} is inside a table that is not factored", "write factored: true")
    return float(found.value)


_KEYS = {
    "pressure_altitude_ft": ("altitude", "length"),
    "temperature_degC": ("temperature", "temperature"),
    "weight_lb": ("weight", "weight"),
}


def _checked(entry: Entry, grid: Grid) -> dict[tuple[int, ...], str]:
    """Return the cells that were checked against the page, each with its reason."""
    found: dict[tuple[int, ...], str] = {}
    for each in entry.items("checked"):
        indices = [_on_axis(each, axis) for axis in grid.axes]
        if None not in indices:
            found[tuple(i for i in indices if i is not None)] = each.text("reason")
    return found


def _on_axis(checked: Entry, axis: Axis) -> int | None:
    """Return which point of an axis a checked cell names; None, with the fault noted, if it names none."""
    key, kind = _KEYS[axis.name]
    given = checked.get(key)
    if given is None:
        if len(axis.points) == 1:
            return 0
        if not checked.faults.touch((*checked.place, key)):
            checked.fault(f"which {key} this cell has is not said", f"add '{key}'")
        return None
    value = given.quantity(kind)
    if value in axis.points:
        return axis.points.index(value)
    if isfinite(value):
        unit = axis.name.rpartition("_")[2]
        printed = ", ".join(f"{point:,.6g}" for point in axis.points)
        given.fault(f"the table has no cell at {key} {given.value}", f"it has {printed} {unit}")
    return None

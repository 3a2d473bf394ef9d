"""Read the rows of a printed table: blocks by weight, rows by pressure altitude, a cell for each temperature."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from math import isfinite
from typing import NamedTuple

from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.handbook.table import Axis, Grid

Cell = tuple[float | None, ...]
ENDS = {"cold": "temperature", "low": "pressure altitude", "light": "weight"}
_SPEED = re.compile(r"[0-9.]+ ?(?:kt|mph|km/h)")


class Block(NamedTuple):
    """The rows of one weight as they were read: `speeds_kt` where each row prints one before its cells."""

    entry: Entry
    weight_lb: float
    altitudes: list[Entry]
    altitudes_ft: list[float]
    rows: list[list[Cell]]
    speeds_kt: list[float]


def read_block(entry: Entry, width: int, read_cell: Callable[[Entry], Cell], *, weight_lb: float = 0.0) -> Block:
    """Return the rows of one weight: altitudes, and a cell per column; `width` 0 if that is not known.

    `weight_lb` is the weight of a table that is printed for one, or for none.
    """
    rows = [row for row in entry.items("rows") if row.each()]
    altitudes = [row.each()[0] for row in rows]
    altitudes_ft = [altitude.quantity("length", -2000, 30_000) for altitude in altitudes]
    rising(altitudes, altitudes_ft, "altitude")
    spoken = [_speed_of(row) for row in rows]
    if any(each is None for each in spoken) and any(spoken):
        odd = rows[spoken.index(None)]
        odd.fault("this row has no speed, others of the block have one", "after the altitude, such as 73 kt")
    cells = []
    for row, altitude, speed in zip(rows, altitudes, spoken, strict=True):
        given = row.each()[2 if speed else 1 :]
        if width and len(given) != width:
            columns = f"{width} temperatures" if width > 1 else "one column"
            message = f"the row for {altitude.value} has {len(given)} cells; the table has {columns}"
            row.fault(message, "write 'blank' where the page prints nothing" if len(given) < width else "")
        cells.append([read_cell(each) for each in given])
    weight = entry.get("weight")
    if weight is not None:
        weight_lb = weight.quantity("weight", 300, 12_500)
    speeds_kt = [each.quantity("speed", 30, 400) for each in spoken if each]
    return Block(entry, weight_lb, altitudes, altitudes_ft, cells, speeds_kt)


def _speed_of(row: Entry) -> Entry | None:
    """Return the speed that a row prints between its altitude and its cells."""
    second = row.each()[1] if len(row.each()) > 1 else None
    return second if second and _SPEED.fullmatch(str(second.value)) else None


def rising(entries: list[Entry], values: list[float], what: str) -> None:
    """Note every point of an axis that is not above the one before."""
    for (before, a), (entry, b) in pairwise(zip(entries, values, strict=True)):
        if b <= a:
            entry.fault(f"{entry.value} stands after {before.value}", f"each {what} must be above the one before")


def same_altitudes(blocks: list[Block]) -> None:
    """Note a weight that stands twice, and a block whose altitudes are not those of the first sound one."""
    for i, block in enumerate(blocks):
        weight = block.entry.get("weight")
        if weight and block.weight_lb in [other.weight_lb for other in blocks[:i]]:
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


def grid(entry: Entry, blocks: list[Block], columns: Axis | None, source: Source) -> Grid | None:
    """Return the axes of a table: altitude, its columns, weight; None where a point of one could not be read.

    Parameters
    ----------
    entry : the table, whose 'beyond' says at which ends its outermost figures may be used.
    blocks : at least one, lightest first.
    columns : the temperatures; None for a table of one column.
    source : its page.
    """
    beyond = entry.get("beyond")
    edge = {end: beyond is not None and beyond.text(end) == "edge" for end in ENDS}
    altitudes = blocks[0].altitudes_ft if blocks else []
    axes = [Axis("pressure_altitude_ft", tuple(altitudes), edge["low"])]
    if columns is not None:
        axes.append(columns._replace(low_edge=edge["cold"]))
    axes.append(Axis("weight_lb", tuple(block.weight_lb for block in blocks), edge["light"]))
    if not all(axis.points and all(map(isfinite, axis.points)) for axis in axes):
        return None
    return Grid(tuple(axes), source.text)


KEYS = {
    "pressure_altitude_ft": ("altitude", "length"),
    "temperature_degC": ("temperature", "temperature"),
    "above_standard_degC": ("above_standard", "temperature change"),
    "weight_lb": ("weight", "weight"),
}


def checked(entry: Entry, grid: Grid) -> dict[tuple[int, ...], str]:
    """Return the cells that were checked against the page, each with its reason."""
    found: dict[tuple[int, ...], str] = {}
    for each in entry.items("checked"):
        indices = [_on_axis(each, axis) for axis in grid.axes]
        if None not in indices:
            found[tuple(i for i in indices if i is not None)] = each.text("reason")
    return found


def _on_axis(checked: Entry, axis: Axis) -> int | None:
    """Return which point of an axis a checked cell names; None, with the fault noted, if it names none."""
    key, kind = KEYS[axis.name]
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

"""Read the rows of a printed table: blocks by weight and wind, rows by altitude, a cell for each temperature."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import pairwise
from math import isfinite
from typing import NamedTuple

from briefgen import units
from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.handbook.axes import HEADWIND, QUANTITIES
from briefgen.handbook.table import Axis, Grid

Cell = tuple[float | None, ...]
ENDS = {"cold": "temperature", "low": "pressure altitude", "light": "weight"}
_SPEED = re.compile(r"[0-9.]+ ?(?:kt|mph|km/h)")


class Block(NamedTuple):
    """The rows of one weight and wind as they were read: `speeds_kt` where each row prints one before its cells.

    `headwind_kt` None: the page prints no wind; below nil: a tailwind.
    """

    entry: Entry
    weight_lb: float
    altitudes: list[Entry]
    altitudes_ft: list[float]
    rows: list[list[Cell]]
    speeds_kt: list[float]
    headwind_kt: float | None = None

    def words(self) -> str:
        """Return what sets this block apart."""
        keys = [key for key in ("weight", "headwind") if self.entry.get(key)]
        return " with headwind ".join(self.entry.text(key) for key in keys)


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
    headwind_kt = entry.optional("headwind", "speed", -30, 60)
    return Block(entry, weight_lb, altitudes, altitudes_ft, cells, speeds_kt, headwind_kt)


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
    """Note a block that stands twice or is not there, and one whose altitudes are not those of the first sound."""
    for i, block in enumerate(blocks):
        weight = block.entry.get("weight")
        if weight and _at(block) in [_at(other) for other in blocks[:i]]:
            weight.fault(f"the weight {block.words()} stands twice", "one block for each weight")
    _every_wind(blocks)
    sound = [block for block in blocks if all(b > a for a, b in pairwise(block.altitudes_ft))]
    for block in sound[1:]:
        first, ours = sound[0].altitudes_ft, block.altitudes_ft
        of_first = f"the block for {sound[0].words()}"
        if len(ours) != len(first):
            message = f"this block has {len(ours)} rows, {of_first} has {len(first)}"
            block.entry["rows"].fault(message, "every block has the same altitudes")
            continue
        for altitude, other, a, b in zip(block.altitudes, sound[0].altitudes, ours, first, strict=True):
            if a != b:
                message = f"{altitude.value} stands here, but {other.value} in {of_first}"
                altitude.fault(message, "every block has the same altitudes")
                break


def _at(block: Block) -> tuple[float, float | None]:
    return block.weight_lb, block.headwind_kt


def _every_wind(blocks: list[Block]) -> None:
    """Note a block without a wind where others have one, a weight without one of the winds, and no still air."""
    with_wind = [block for block in blocks if block.headwind_kt is not None]
    if not with_wind:
        return
    for block in blocks:
        if block.headwind_kt is None:
            block.entry.fault("this block has no headwind, others of the table have one", "for example 0 kt")
    if len(with_wind) < len(blocks) or any(not isfinite(at or 0.0) for block in blocks for at in _at(block)):
        return
    winds = {block.headwind_kt: block.entry.text("headwind") for block in blocks}
    if 0.0 not in winds:
        with_wind[0].entry["headwind"].fault("no block is for still air", "headwind: 0 kt in one of them")
    there = {_at(block) for block in blocks}
    for block in blocks:
        lacking = [text for wind, text in winds.items() if (block.weight_lb, wind) not in there]
        if lacking:
            words = f"the weight {block.entry.text('weight')} has no block for headwind {', '.join(lacking)}"
            block.entry["weight"].fault(words, "every weight has the same winds; 'blank' where nothing is printed")
            return


def in_order(blocks: list[Block]) -> Iterator[tuple[tuple[int, ...], Block]]:
    """Return blocks, lightest and then least headwind first, each with its index along those axes."""
    weights = sorted({block.weight_lb for block in blocks})
    winds = sorted({block.headwind_kt for block in blocks if block.headwind_kt is not None})
    for block in sorted(blocks, key=lambda each: (each.weight_lb, each.headwind_kt or 0.0)):
        wind = () if block.headwind_kt is None else (winds.index(block.headwind_kt),)
        yield (weights.index(block.weight_lb), *wind), block


def columns(entry: Entry) -> Axis | None:
    """Return the temperatures of the columns, as such or above standard; None for one column of any temperature."""
    above = entry.get("above_standard")
    if above is not None:
        if entry.get("temperatures") is not None:
            entry["temperatures"].fault("the columns are temperatures, or above standard, not both", "delete one")
        given, name = above.each(), "above_standard_degC"
    else:
        given, name = entry["temperatures"].each(), "temperature_degC"
        if entry["temperatures"].value in ("standard", "any"):
            return None
    points = [each.quantity(QUANTITIES[name].kind, -60, 60) for each in given]
    rising(given, points, "temperature")
    return Axis(name, tuple(points), unit=unit_of(given, name))


def unit_of(given: list[Entry], name: str) -> str:
    """Return the unit that an axis is printed in, '' where it is the inside one."""
    kind = QUANTITIES[name].kind
    typed = str(given[0].value) if given else ""
    unit = max((unit for unit in units.KINDS[kind] if typed.endswith(unit)), key=len, default="")
    return "" if unit == units.INSIDE[kind] else unit


def grid(entry: Entry, blocks: list[Block], columns: Axis | None, source: Source) -> Grid | None:
    """Return the axes of a table: altitude, its columns, weight, wind; None where a point could not be read.

    Parameters
    ----------
    entry : the table: 'altitude' says which its rows are of, 'beyond' where its outermost figures may be used.
    blocks : at least one, in order.
    columns : the temperatures; None for a table of one column.
    source : its page.
    """
    beyond = entry.get("beyond")
    edge = {end: beyond is not None and beyond.text(end) == "edge" for end in ENDS}
    if not blocks:
        return None
    first = blocks[0]
    height = _ALTITUDES[entry.text("altitude", "pressure altitude")]
    axes = [Axis(height, tuple(first.altitudes_ft), edge["low"], unit_of(first.altitudes, height))]
    if columns is not None:
        axes.append(columns._replace(low_edge=edge["cold"]))
    given = [each for block in blocks if (each := block.entry.get("weight"))]
    weights = tuple(dict.fromkeys(block.weight_lb for block in blocks))
    axes.append(Axis("weight_lb", weights, edge["light"], unit_of(given, "weight_lb")))
    winds = sorted({block.headwind_kt for block in blocks if block.headwind_kt is not None})
    if winds:
        given = [each for block in blocks if (each := block.entry.get("headwind"))]
        axes.append(Axis(HEADWIND, tuple(winds), False, unit_of(given, HEADWIND)))
    if not all(axis.points and all(map(isfinite, axis.points)) for axis in axes):
        return None
    return Grid(tuple(axes), source.text)


_ALTITUDES = {"pressure altitude": "pressure_altitude_ft", "density altitude": "density_altitude_ft"}
KEYS = {
    "pressure_altitude_ft": "altitude",
    "density_altitude_ft": "altitude",
    "temperature_degC": "temperature",
    "above_standard_degC": "above_standard",
    "weight_lb": "weight",
    HEADWIND: "headwind",
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
    key = KEYS[axis.name]
    given = checked.get(key)
    if given is None:
        if len(axis.points) == 1:
            return 0
        if not checked.faults.touch((*checked.place, key)):
            checked.fault(f"which {key} this cell has is not said", f"add '{key}'")
        return None
    value = given.quantity(QUANTITIES[axis.name].kind)
    if value in axis.points:
        return axis.points.index(value)
    if isfinite(value):
        unit = axis.unit or units.INSIDE[QUANTITIES[axis.name].kind]
        scale, offset = units.KINDS[QUANTITIES[axis.name].kind][unit]
        printed = ", ".join(f"{(point - offset) / scale:,.6g}" for point in axis.points)
        given.fault(f"the table has no cell at {key} {given.value}", f"it has {printed} {unit}")
    return None

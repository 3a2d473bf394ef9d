"""Read a table of readings, as it stands on the handbook's page: a rate of climb, a climb, a cruise setting."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from math import isfinite

from briefgen import units
from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.files.read_rows import Block, Cell, checked, columns, grid, in_order, read_block, same_altitudes
from briefgen.handbook.chart import DistanceChart
from briefgen.handbook.readings import Readings

# What a cell may print: the kind of its unit, and the inside unit of the model where that is another.
_KINDS = {
    "rate": "climb rate",
    "time": "duration",
    "fuel": "volume",
    "distance": "distance",
    "power": "percent",
    "tas": "speed",
    "flow": "fuel flow",
}
INSIDE = {
    "rate": "ft/min",
    "time": "min",
    "fuel": "gal",
    "distance": "NM",
    "power": "%",
    "tas": "kt",
    "flow": "gal/h",
    "speed": "kt",
}
_OF_INSIDE = {"time": 1 / 60, "power": 100.0}  # minutes and percents are kept as a pilot says them
_BY_WEIGHT = {"lb": 1.0, "kg": units.LB_PER_KG}  # fuel that the page prints by weight


def read_readings(
    entry: Entry, wanted: tuple[str, ...], title: str, source: Source, course: Mapping[str, int] | None = None
) -> Readings | None:
    """Return one table of readings; None, with every fault noted, where something in it cannot be read.

    Parameters
    ----------
    entry : has 'cell', one of 'temperatures' and 'above_standard', and 'tables' or 'rows'.
    wanted : the quantities that a cell must print, at least; their order is the page's.
    title : what the table is called in a working.
    source : its page.
    course : which quantities can only rise or only fall; see `Readings`.
    """
    faults, before = entry.faults, len(entry.faults.problems)
    printed = _printed(entry, wanted)
    axis = columns(entry)
    width = len(axis.points) if axis else 1
    one = entry.get("tables") is None
    all_read = len(printed) == len(entry.items("cell"))  # else how many numbers a cell has is not known
    read = partial(_cell, names=list(printed) if all_read else [])
    blocks = [
        read_block(each, width, read)
        for each in ([entry] if one else entry.items("tables"))
        if not faults.touch(each.place)
    ]
    same_altitudes(blocks)
    blocks = [block for _, block in in_order(blocks)]
    table = grid(entry, blocks, axis, source)
    looked_at = checked(entry, table) if table else {}
    if table is None or len(faults.problems) > before or faults.touch(entry.place):
        return None
    if one and entry.get("weight") is None:  # printed for every weight: weight is no axis of it
        table = type(table)(table.axes[:-1], table.page)
        looked_at = {index[:-1]: reason for index, reason in looked_at.items()}
    cells = _cells(blocks, axis is not None, len(table.axes), printed)
    with_speed = {"speed": INSIDE["speed"]} if "speed" in cells else {}
    return Readings(
        title=title,
        grid=table,
        cells=cells,
        units={name: INSIDE[name] for name in printed} | with_speed,
        technique=entry.text("technique"),
        course=course or {},
        checked=looked_at,
    )


def _printed(entry: Entry, wanted: tuple[str, ...]) -> dict[str, float]:
    """Return what a cell prints, in its order, each with what its number is multiplied by."""
    found: dict[str, float] = {}
    named: set[str] = set()
    for each in entry.items("cell"):
        name, _, unit = str(each.value).partition(" ")
        if name in named:
            each.fault(f"a cell prints {name} twice", "name each quantity once, in the page's order")
        named.add(name)
        scale = _scale(entry, each, name, unit)
        if scale is not None:
            found[name] = scale
    lacking = [name for name in wanted if name not in named]
    if entry.get("cell") is None:
        entry.fault("missing key 'cell'", "what a cell prints, for example cell: [time min, fuel gal, distance NM]")
    elif lacking and not entry.faults.touch((*entry.place, "cell")):
        example = ", ".join(f"{name} {INSIDE[name]}" for name in wanted)
        entry["cell"].fault(f"a cell does not print {' and '.join(lacking)}", f"for example [{example}]")
    return found


def _scale(entry: Entry, each: Entry, name: str, unit: str) -> float | None:
    """Return what a number of a quantity is multiplied by; None, with the fault noted, for a unit it has not."""
    kind = _KINDS.get(name)
    if kind is None:
        if not entry.faults.touch(each.place):
            each.fault(f"'{name}' is nothing that a cell prints", f"it may print {', '.join(_KINDS)}")
        return None
    if name == "fuel" and unit in _BY_WEIGHT:
        density = entry.get("fuel_density")
        if density is None:
            each.fault(
                f"fuel in {unit} needs 'fuel_density' beside the table", "for example fuel_density: 6 lb/gal"
            )
            return None
        return _BY_WEIGHT[unit] / density.quantity("fuel density", 5, 8)
    if unit not in units.KINDS[kind]:
        if not entry.faults.touch(each.place):
            each.fault(f"'{unit}' is no unit of {name}", f"it has {', '.join(units.KINDS[kind])}")
        return None
    return units.KINDS[kind][unit][0] * _OF_INSIDE.get(name, 1.0)


def _cell(entry: Entry, names: list[str]) -> Cell:
    """Return the numbers of a cell in the page's own units, None for each where it is blank."""
    text = str(entry.value)
    if text == "blank" or not names:
        return (None,) * len(names)
    parts = text.split("/")
    if len(parts) != len(names):
        if not entry.faults.touch(entry.place):
            entry.fault(f"the cell '{text}' has {len(parts)} numbers; 'cell' names {len(names)}", "/".join(names))
        return (None,) * len(names)
    try:
        values = tuple(float(part) for part in parts)
    except ValueError:
        return (None,) * len(names)  # the schema's fault is noted
    return values if all(map(isfinite, values)) else (None,) * len(names)


def _cells(
    blocks: list[Block], columns: bool, axes: int, printed: Mapping[str, float]
) -> dict[str, dict[tuple[int, ...], float | None]]:
    """Return the cells by quantity, in the inside units, and each row's speed where it prints one."""
    found: dict[str, dict[tuple[int, ...], float | None]] = {name: {} for name in printed}
    speeds: dict[tuple[int, ...], float | None] = {}
    for tail, block in in_order(blocks):
        for a, row in enumerate(block.rows):
            for t, cell in enumerate(row):
                index = ((a, t, *tail) if columns else (a, *tail))[:axes]
                for (name, scale), value in zip(printed.items(), cell, strict=True):
                    found[name][index] = None if value is None else value * scale
                if block.speeds_kt:
                    speeds[index] = block.speeds_kt[a]
    return {**found, "speed": speeds} if speeds else found


def cells_of(entry: Entry, table: Readings | DistanceChart) -> Iterator[tuple[tuple[int, ...], Entry]]:
    """Return every cell that was read, by its index in the table."""
    blocks = entry.items("tables") or [entry]
    axes, wide = len(table.grid.axes), by_temperature(entry)
    points = [axis.points for axis in table.grid.axes]
    tails = [_tail(each, points[2 if wide else 1 :]) if len(blocks) > 1 else (0, 0) for each in blocks]
    for tail, block in sorted(zip(tails, blocks, strict=True), key=lambda pair: pair[0]):
        for a, row in enumerate(row for row in block.items("rows") if row.each()):
            width = len(points[1]) if wide else 1
            for t, cell in enumerate(row.each()[-width:]):
                yield ((a, t, *tail) if wide else (a, *tail))[:axes], cell


def _tail(block: Entry, points: list[tuple[float, ...]]) -> tuple[int, ...]:
    """Return the index of a block along the axes of weight and wind."""
    at = [block["weight"].quantity("weight"), block.optional("headwind", "speed") or 0.0]
    return tuple(there.index(value) for there, value in zip(points, at, strict=False))


def by_temperature(entry: Entry) -> bool:
    """Say whether a table has a column for each temperature."""
    columns = entry.get("above_standard") or entry.get("temperatures")
    return columns is not None and isinstance(columns.value, list)

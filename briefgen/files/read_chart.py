"""Read a takeoff or landing distance chart, as it stands on the handbook's page."""

from __future__ import annotations

import re

from briefgen.files.entry import Entry
from briefgen.files.read_notes import page_source, read_notes
from briefgen.files.read_rows import Block, Cell, checked, grid, read_block, rising, same_altitudes
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.table import Axis

_CELL = re.compile(r"([0-9]+)/([0-9]+)")


def read_chart(entry: Entry, phase: str, title: str) -> DistanceChart | None:
    """Return one chart; None, with every fault noted, where something in it cannot be read."""
    faults, before = entry.faults, len(entry.faults.problems)
    source = page_source(title, entry.text("page"))
    notes = read_notes(entry, title, phase)
    one_note_each(entry)
    standard = entry["temperatures"].value == "standard"
    columns = entry["temperatures"].each()
    temperatures = [each.quantity("temperature", -60, 60) for each in columns]
    rising(columns, temperatures, "temperature")
    width = 1 if standard else len(temperatures)
    blocks = list(faults.parts(entry.items("tables"), lambda each: read_block(each, width, _cell)))
    same_altitudes(blocks)
    blocks.sort(key=lambda block: block.weight_lb)
    axis = None if standard else Axis("temperature_degC", tuple(temperatures))
    table = grid(entry, blocks, axis, source)
    looked_at = checked(entry, table) if table else {}
    if table is None or len(faults.problems) > before or faults.touch(entry.place):
        return None
    roll, total = _cells(blocks, standard)
    return DistanceChart(
        phase=phase,
        flaps=entry.text("flaps"),
        grid=table,
        roll=roll,
        total=total,
        conditions=conditions_of(entry["conditions"]),
        notes=notes,
        at_standard=standard,
        order_open=entry.text("notes_order", "open") == "open",
        checked=looked_at,
    )


def one_note_each(entry: Entry) -> None:
    """Note a second note for one cause and one distance: a slip of copying."""
    seen: dict[tuple[str, str], int] = {}
    for number, note in enumerate(entry.items("notes"), 1):
        cause = note.text("for")
        applies = note.get("applies")
        if note.get("above") or (applies and applies.value is False):
            continue
        for distance in ("ground roll", "over 50 ft"):
            if note.text("to") in (distance, "both"):
                before = seen.setdefault((cause, distance), number)
                if before != number and note.get("for"):
                    note["for"].fault(f"note {before} of this table is for {cause} too", "was another cause meant?")
                    break


def _cell(entry: Entry) -> Cell:
    found = _CELL.fullmatch(str(entry.value))
    return (float(found[1]), float(found[2])) if found else (None, None)


def _cells(
    blocks: list[Block], standard: bool
) -> tuple[dict[tuple[int, ...], float | None], dict[tuple[int, ...], float | None]]:
    roll: dict[tuple[int, ...], float | None] = {}
    total: dict[tuple[int, ...], float | None] = {}
    for w, block in enumerate(blocks):
        for a, row in enumerate(block.rows):
            for t, (short, long) in enumerate(row):
                index = (a, w) if standard else (a, t, w)
                roll[index], total[index] = short, long
    return roll, total


def conditions_of(entry: Entry) -> ChartConditions:
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

"""Read a takeoff or landing distance chart, as it stands on the handbook's page."""

from __future__ import annotations

import re
from functools import partial

from briefgen.files.entry import Entry
from briefgen.files.read_notes import page_source, read_notes
from briefgen.files.read_rows import Block, Cell, checked, columns, grid, in_order, read_block, same_altitudes
from briefgen.handbook.axes import AGAINST, BEHIND, HEADWIND
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.table import Grid
from briefgen.units import KINDS

_CELL = re.compile(r"([0-9]+(?:\.[0-9]+)?)/([0-9]+(?:\.[0-9]+)?)")


def read_chart(entry: Entry, phase: str, title: str) -> DistanceChart | None:
    """Return one chart; None, with every fault noted, where something in it cannot be read."""
    faults, before = entry.faults, len(entry.faults.problems)
    source = page_source(title, entry.text("page"))
    notes = read_notes(entry, title, phase)
    one_note_each(entry)
    _columns_of_its_altitude(entry)
    axis = columns(entry)
    width = len(axis.points) if axis else 1
    unit = entry.text("distances", "ft")
    read = partial(_cell, unit=unit)
    blocks = list(faults.parts(entry.items("tables"), lambda each: read_block(each, width, read)))
    same_altitudes(blocks)
    blocks = [block for _, block in in_order(blocks)]
    table = grid(entry, blocks, axis, source)
    looked_at = checked(entry, table) if table else {}
    if table:
        _one_answer_to_the_wind(entry, table)
    if table is None or len(faults.problems) > before or faults.touch(entry.place):
        return None
    roll, total = _cells(blocks, axis is not None, KINDS["length"][unit][0])
    return DistanceChart(
        phase=phase,
        flaps=entry.text("flaps"),
        grid=table,
        roll=roll,
        total=total,
        conditions=conditions_of(entry["conditions"]),
        notes=notes,
        at_standard=entry.text("temperatures") == "standard",
        order_open=entry.text("notes_order", "open") == "open",
        checked=looked_at,
        unit=unit,
    )


def _columns_of_its_altitude(entry: Entry) -> None:
    """Note columns of temperature beside a density altitude, which holds it; none beside a pressure altitude."""
    given = entry.get("temperatures")
    dense = entry.text("altitude") == "density altitude"
    if dense and (given is None or given.value != "any") and not entry.faults.touch((*entry.place, "temperatures")):
        message = "a density altitude holds the temperature already, and columns would count it twice"
        (given or entry["above_standard"]).fault(message, "write temperatures: any, or altitude: pressure altitude")
    if given is not None and given.value == "any" and not dense:
        message = "a table over pressure altitude is of some temperature"
        given.fault(message, "its columns, or 'standard'; 'any' only with altitude: density altitude")


def _one_answer_to_the_wind(entry: Entry, table: Grid) -> None:
    """Note a note for a wind that the table's own columns answer."""
    axis = table.axes[-1]
    if axis.name != HEADWIND:
        return
    for note in entry.items("notes"):
        cause = note.text("for")
        if cause == AGAINST or (cause == BEHIND and axis.points[0] < 0):
            note["for"].fault(
                f"the table prints {cause} already, and this note would count it twice", "leave it out"
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


def _cell(entry: Entry, unit: str) -> Cell:
    found = _CELL.fullmatch(str(entry.value))
    if found and unit == "ft" and "." in found[0]:
        entry.fault(
            f"'{found[0]}' has decimals; feet are printed without", "distances: m if the page prints metres"
        )
    return (float(found[1]), float(found[2])) if found else (None, None)


def _cells(
    blocks: list[Block], by_temperature: bool, scale: float
) -> tuple[dict[tuple[int, ...], float | None], dict[tuple[int, ...], float | None]]:
    roll: dict[tuple[int, ...], float | None] = {}
    total: dict[tuple[int, ...], float | None] = {}
    for tail, block in in_order(blocks):
        for a, row in enumerate(block.rows):
            for t, pair in enumerate(row):
                index = (a, t, *tail) if by_temperature else (a, *tail)
                roll[index], total[index] = (None if each is None else each * scale for each in pair)
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

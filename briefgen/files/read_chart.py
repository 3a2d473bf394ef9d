"""Read a takeoff or landing distance chart, as it stands on the handbook's page."""

from __future__ import annotations

import re
from itertools import pairwise

from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.files.read_notes import page_source, read_note
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.notes import Note
from briefgen.handbook.table import Axis, Grid

_CELL = re.compile(r"([0-9]+)/([0-9]+)")
Block = tuple[Entry, float, list[float], list[list[tuple[float | None, float | None]]]]


def read_chart(entry: Entry, phase: str, title: str) -> DistanceChart | None:
    """Return one chart; None, with every fault noted, where its cells cannot be placed."""
    before = len(entry.faults.problems)
    source = page_source(title, str(entry["page"].value))
    standard = entry["temperatures"].value == "standard"
    temperatures = (
        [] if standard else [each.quantity("temperature", -60, 60) for each in entry["temperatures"].each()]
    )
    _rising(entry["temperatures"], temperatures, "temperature", "°C")
    blocks = [_block(block, len(temperatures) or 1) for block in entry["tables"].each()]
    blocks.sort(key=lambda block: block[1])
    _same_altitudes(blocks)
    notes = tuple(note for each in entry.items("notes") if (note := _note(each, title)))
    if len(entry.faults.problems) > before:
        return None
    edge = {
        end: entry.get("beyond") is not None and entry["beyond"].text(end) == "edge"
        for end in ("cold", "low", "light")
    }
    axes = [Axis("pressure_altitude_ft", tuple(blocks[0][2]), edge["low"])]
    if not standard:
        axes.append(Axis("temperature_degC", tuple(temperatures), edge["cold"]))
    axes.append(Axis("weight_lb", tuple(block[1] for block in blocks), edge["light"]))
    grid = Grid(tuple(axes), source.text)
    roll, total = _cells(blocks, standard)
    chart = DistanceChart(
        phase=phase,
        flaps=str(entry["flaps"].value),
        grid=grid,
        roll=roll,
        total=total,
        conditions=_conditions(entry["conditions"]),
        notes=notes,
        at_standard=standard,
        order_open=entry.text("notes_order", "open") == "open",
        checked=_checked(entry, grid),
    )
    return None if len(entry.faults.problems) > before else chart


def _note(entry: Entry, title: str) -> Note | None:
    return read_note(entry, Source(f"{title} p. {entry['page'].value}"))


def _block(entry: Entry, columns: int) -> Block:
    """Return the rows of one weight: altitudes, and a (roll, total) pair per column."""
    altitudes, rows = [], []
    for row in entry["rows"].each():
        cells = row.each()
        altitude = cells[0]
        altitudes.append(altitude.quantity("length", -2000, 20_000))
        if len(cells) - 1 != columns:
            row.fault(
                f"the row for {altitude.value} has {len(cells) - 1} cells; the table has {columns} temperatures"
            )
        rows.append([_cell(cell) for cell in cells[1:]])
    _rising(entry["rows"], altitudes, "altitude", "ft")
    return entry, entry["weight"].quantity("weight", 300, 12_500), altitudes, rows


def _cell(entry: Entry) -> tuple[float | None, float | None]:
    found = _CELL.fullmatch(str(entry.value))
    return (float(found[1]), float(found[2])) if found else (None, None)


def _rising(entry: Entry, values: list[float], what: str, unit: str) -> None:
    places = entry.each()
    for i, (a, b) in enumerate(pairwise(values), 1):
        if b <= a:
            places[i].fault(f"the {what} falls from {a:,.4g} to {b:,.4g} {unit}: each must be above the one before")


def _same_altitudes(blocks: list[Block]) -> None:
    for before, block in pairwise(blocks):
        if block[1] == before[1]:
            block[0]["weight"].fault(f"the weight {block[0]['weight'].value} stands twice")
        if block[2] != before[2]:
            block[0]["rows"].fault("the altitudes differ from those of the other weights")


def _cells(
    blocks: list[Block], standard: bool
) -> tuple[dict[tuple[int, ...], float | None], dict[tuple[int, ...], float | None]]:
    roll: dict[tuple[int, ...], float | None] = {}
    total: dict[tuple[int, ...], float | None] = {}
    for w, (_, _, _, rows) in enumerate(blocks):
        for a, row in enumerate(rows):
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
    )


def _checked(entry: Entry, grid: Grid) -> dict[tuple[int, ...], str]:
    """Return the cells that were checked against the page, each with its reason."""
    kinds = {"pressure_altitude_ft": ("altitude", "length"), "temperature_degC": ("temperature", "temperature")}
    found: dict[tuple[int, ...], str] = {}
    for each in entry.items("checked"):
        index = []
        for axis in grid.axes:
            key, kind = kinds.get(axis.name, ("weight", "weight"))
            given = each.get(key)
            value = given.quantity(kind) if given else axis.points[0] if len(axis.points) == 1 else None
            if value not in axis.points:
                (given or each).fault(f"the table has no cell at this {key}")
                break
            index.append(axis.points.index(value))
        else:
            found[tuple(index)] = each.text("reason")
    return found

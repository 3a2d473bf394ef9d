"""Read the tables of an aircraft file once more as they were typed, digit by digit, for whoever looks for slips."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.files.entry import Entry
from briefgen.files.read_readings import cells_of
from briefgen.handbook.chart import DistanceChart
from briefgen.handbook.readings import RISES, Readings
from briefgen.model.aircraft import Aircraft
from briefgen.model.typed import ROLL, TOTAL, Index, Typed, TypedSpeed, TypedSpeeds, TypedTable


def read_typed(root: Entry, aircraft: Aircraft) -> tuple[TypedTable, ...]:
    """Return every table of an aircraft file that was read without a fault, in the order of the file.

    Parameters
    ----------
    root : of the file.
    aircraft : read from it.
    """
    return tuple(_tables(root, aircraft))


def _tables(root: Entry, aircraft: Aircraft) -> Iterator[TypedTable]:
    for phase, charts in (("takeoff", aircraft.takeoff), ("landing", aircraft.landing)):
        for entry, chart in zip(root.items(phase), charts, strict=True):
            if not isinstance(chart, DistanceChart):  # a graph is points: `read_typed_graphs`
                continue
            units = {ROLL: chart.unit, TOTAL: chart.unit}
            course = dict.fromkeys(units, RISES)
            yield _typed(entry, chart, phase, f"{phase}, flaps {chart.flaps}", units, course)
    for entry, rates in zip(root.items("rate_of_climb"), aircraft.climb_rates, strict=True):
        yield _of_readings(entry, rates.table, "rate of climb")
    climb = root.get("climb")
    if climb and aircraft.climb:
        yield _of_readings(climb, aircraft.climb.table, "climb")
    for entry, setting in zip(root.items("cruise"), aircraft.cruise, strict=True):
        yield _of_readings(entry, setting.table, "cruise")


def read_typed_speeds(root: Entry) -> tuple[TypedSpeeds, ...]:
    """Return every speed that an aircraft file gives by weight, in its order."""
    speeds = root.get("speeds")
    if speeds is None:
        return ()
    given = [(kind, each) for kind in speeds.value for each in (speeds.items(kind) or [speeds[kind]])]
    return tuple(_speeds(kind, each) for kind, each in given if each.items("by_weight"))


def _speeds(kind: str, entry: Entry) -> TypedSpeeds:
    found = []
    for pair in entry["by_weight"].each():
        weight, speed = pair.each()
        marks = entry.faults.document.marks
        numbers = weight.quantity("weight"), speed.quantity("speed")
        places = *marks[speed.place], *marks[weight.place]
        found.append(TypedSpeed(*numbers, str(weight.value), str(speed.value), *places))
    flaps = entry.text("flaps")
    name = f"{kind.replace('_', ' ')} speed" + (f", flaps {flaps}" if flaps else "")
    return TypedSpeeds(kind, name, entry.text("page"), tuple(sorted(found)))


def _of_readings(entry: Entry, table: Readings, kind: str) -> TypedTable:
    units = dict(str(each.value).split(" ", 1) for each in entry.items("cell"))
    title = "climb: time, fuel and distance" if kind == "climb" else table.title
    return _typed(entry, table, kind, title, units, table.course)


def _typed(
    entry: Entry,
    table: Readings | DistanceChart,
    kind: str,
    name: str,
    units: Mapping[str, str],
    course: Mapping[str, int],
) -> TypedTable:
    document = entry.faults.document
    cells: dict[str, dict[Index, Typed | None]] = {name: {} for name in units}
    for index, cell in cells_of(entry, table):
        text = document.written.get(cell.place, str(cell.value))
        parts = text.split("/") if text != "blank" else [""] * len(units)
        for number, (quantity, part) in enumerate(zip(units, parts, strict=True)):
            mark = document.marks.get((*cell.place, number), document.marks[cell.place])  # of a sheet, each its own
            cells[quantity][index] = Typed(float(part), part.strip(), *mark) if part else None
    rows = (*entry.place, "tables") if entry.get("tables") else (*entry.place, "rows")
    file = document.file_of(rows)
    page = entry.text("page")
    if file != document.name:
        place = document.marks[rows]
        return TypedTable(kind, name, page, table.grid, units, cells, course, table.checked, *place, file)
    place = document.marks[entry.place]
    return TypedTable(kind, name, page, table.grid, units, cells, course, table.checked, *place)

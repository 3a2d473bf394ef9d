"""Read the tables that a route needs, as they stand on the handbook's pages: climb, and cruise by power setting."""

from __future__ import annotations

from briefgen.files.entry import Entry
from briefgen.files.read_notes import page_source
from briefgen.files.read_readings import by_temperature, cells_of, read_readings
from briefgen.handbook.climb import QUANTITIES, ClimbTable, WarmNote
from briefgen.handbook.cruise import LEAST_KT, WANTED, CruiseTable, SpeedNote
from briefgen.handbook.readings import RISES, Readings
from briefgen.model.limit import Limit

# What is plausible in a cell, in the inside unit.
_PLAUSIBLE = {
    "time": (0.0, 120.0),
    "fuel": (0.0, 60.0),
    "distance": (0.0, 300.0),
    "tas": (LEAST_KT, 400.0),
    "flow": (1.0, 100.0),
}

_Ratio = tuple[str, str, float, tuple[float, float], str]
# What the numbers of one cell make together; common practice, no source.
_CLIMB_RATIOS: tuple[_Ratio, ...] = (
    ("distance", "time", 60.0, (20.0, 300.0), "kt"),
    ("fuel", "time", 60.0, (1.0, 90.0), "gal/h"),
)
_CRUISE_RATIOS: tuple[_Ratio, ...] = (("tas", "flow", 1.0, (3.0, 40.0), "NM for a gallon"),)


def read_climb(entry: Entry, title: str) -> ClimbTable | None:
    """Return the climb table; None, with every fault noted, where something in it cannot be read."""
    before = len(entry.faults.problems)
    table = _table(entry, QUANTITIES, title, "climb table", rising=True)
    if table and len(entry.faults.problems) == before:
        _in_proportion(entry, table, _CLIMB_RATIOS)
    notes = entry.faults.parts(entry.items("notes"), lambda each: _warm_note(each, title))
    if entry.get("notes") and by_temperature(entry):
        message = "the columns correct for temperature already, and this note would do it again"
        entry["notes"].fault(message, "give the one or the other, as the page does")
    if table is None or len(entry.faults.problems) > before:
        return None
    return ClimbTable(table, _at_standard(entry), notes[0] if notes else None)


def read_allowance(entry: Entry, title: str) -> Limit:
    """Return what the handbook allows for start, taxi and takeoff [gal]."""
    return Limit(entry["value"].quantity("volume", 0, 20), page_source(title, entry.text("page")).text)


def read_cruise(entry: Entry, title: str) -> CruiseTable | None:
    """Return the table of one power setting; None, with every fault noted, where it cannot be read."""
    before = len(entry.faults.problems)
    power = entry.text("power")
    table = _table(entry, WANTED, title, f"cruise table, {power}", rising=False)
    if table and len(entry.faults.problems) == before:
        _in_proportion(entry, table, _CRUISE_RATIOS)
    notes = entry.faults.parts(entry.items("notes"), lambda each: _speed_note(each, title))
    if table is None or len(entry.faults.problems) > before:
        return None
    return CruiseTable(power, table, _at_standard(entry), notes)


def one_table_each(settings: list[Entry]) -> None:
    """Note a second table for a power setting."""
    seen: set[str] = set()
    for entry in settings:
        power = entry.get("power")
        if power and str(power.value) in seen:
            power.fault(f"a second cruise table for '{power.value}'", "one table for each setting")
        seen.add(str(power.value) if power else "")


def _table(entry: Entry, wanted: tuple[str, ...], title: str, name: str, *, rising: bool) -> Readings | None:
    """Return the table itself, its cells plausible, and rising with altitude where they must."""
    if entry.get("tables") and entry.get("rows"):
        entry["rows"].fault("'tables' and 'rows' are both given", "rows for one weight, tables for several")
    source = page_source(title, entry.text("page"))
    course = dict.fromkeys(wanted, RISES) if rising else {}
    table = read_readings(entry, wanted, name, source, course)
    for index, cell in cells_of(entry, table) if table else ():
        assert table is not None
        for quantity in wanted:
            value, (least, most) = table.cells[quantity][index], _PLAUSIBLE[quantity]
            if value is not None and not least <= value <= most:
                words = f"{quantity} comes to {value:,.6g} {table.units[quantity]}"
                cell.fault(f"{words}; {least:g} to {most:g} is plausible", "look at the cell and at the units")
            below = table.cells[quantity].get((index[0] - 1, *index[1:]))
            vouched = index in table.checked or (index[0] - 1, *index[1:]) in table.checked
            if rising and not vouched and None not in (value, below) and value < below:  # type: ignore[operator]
                words = f"{quantity} falls from {below:,.6g} to {value:,.6g} in a higher row"
                cell.fault(words, "check both cells against the page; 'checked' if it stands so")
    return table


def _in_proportion(entry: Entry, table: Readings, ratios: tuple[_Ratio, ...]) -> None:
    """Note a cell whose numbers cannot belong together: most often one of its units is another than the page's."""
    for index, cell in cells_of(entry, table):
        for first, second, scale, (least, most), unit in ratios:
            over, under = (table.cells[name][index] for name in (first, second))
            if over and under and not least <= over / under * scale <= most:
                words = f"{first} and {second} make {over / under * scale:,.3g} {unit}"
                cell.fault(f"{words}; {least:g} to {most:g} is plausible", "look at the cell and at the units")
                break


def _at_standard(entry: Entry) -> bool:
    return entry.text("temperatures") == "standard"


def _warm_note(entry: Entry, title: str) -> WarmNote:
    change = entry["change"].quantity("percent", 0.001, 1)
    per_degC = entry["per"].quantity("temperature change", 0.5, 40)
    return WarmNote(entry.text("for"), change, per_degC, page_source(title, entry.text("page")).text)


def _speed_note(entry: Entry, title: str) -> SpeedNote:
    change_kt = entry["airspeed"].quantity("speed", -50, 50)
    page = page_source(title, entry.text("page")).text
    return SpeedNote(entry.text("for"), change_kt, bool(entry["applies"].value), page)

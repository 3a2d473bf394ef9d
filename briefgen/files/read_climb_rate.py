"""Read the tables of the rate of climb of an aircraft file."""

from __future__ import annotations

from briefgen.files.entry import Entry
from briefgen.files.read_notes import page_source
from briefgen.files.read_readings import cells_of, read_readings
from briefgen.handbook.readings import FALLS, Readings
from briefgen.model.aircraft import ClimbRates, SpeedByWeight

LEAST_FPM, MOST_FPM = -1000.0, 2500.0  # of a light single; common practice, no source
COURSE = {"rate": FALLS}  # higher, hotter or heavier, an airplane without a supercharger climbs no better


def read_climb_rates(root: Entry, title: str, stalls: tuple[SpeedByWeight, ...]) -> tuple[ClimbRates, ...]:
    """Return the tables that can be read; what is wrong with the others is noted.

    Parameters
    ----------
    root : the aircraft file.
    title : the handbook's, for the pages.
    stalls : the stall speeds [kt indicated], which a climb speed must be above.
    """
    _once(root)
    return root.faults.parts(root.items("rate_of_climb"), lambda each: _table(each, title, stalls))


def _once(root: Entry) -> None:
    """Note a second table for the same flaps and purpose."""
    seen: set[tuple[str, str]] = set()
    for entry in root.items("rate_of_climb"):
        flaps, purpose = entry.get("flaps"), entry.get("for")
        if flaps is None or purpose is None:
            continue
        this = (str(flaps.value), str(purpose.value))
        if this in seen:
            flaps.fault(f"a second rate of climb for flaps '{this[0]}', {this[1]}", "one table for each of them")
        seen.add(this)


def _table(entry: Entry, title: str, stalls: tuple[SpeedByWeight, ...]) -> ClimbRates | None:
    flaps, purpose = entry.text("flaps"), entry.text("for")
    kinds = [key for key in ("tables", "rows") if entry.get(key) is not None]
    if len(kinds) != 1 and not entry.faults.touch(entry.place):
        hint = "'tables' has a block for each weight, 'rows' stands alone"
        words = (
            "only one of 'tables' or 'rows' can be given" if kinds else "one of 'tables' or 'rows' is wanted here"
        )
        entry.fault(words, hint)
        return None
    speed = entry.get("speed")
    speed_kt = speed.quantity("speed", 30, 200) if speed else None
    name = f"rate of climb, flaps {flaps}" if purpose == "climb" else f"rate of climb, {purpose}, flaps {flaps}"
    table = read_readings(entry, ("rate",), name, page_source(title, entry.text("page")), COURSE)
    if table is None:
        return None
    _plausible(entry, table)
    by_row = "speed" in table.cells
    if by_row == (speed is not None):
        hint = "'speed' for the whole table, or one in each row after the altitude, such as 73 kt"
        words = "the climb speed stands here and in the rows" if speed else "the climb speed is not given"
        entry.fault(words, hint)
        return None
    speeds = [each for each in table.cells["speed"].values() if each] if by_row else [speed_kt or 0.0]
    _above_stall(speed or entry, flaps, min(speeds), stalls)
    return ClimbRates(flaps, purpose, table, speed_kt)


def _plausible(entry: Entry, table: Readings) -> None:
    """Note a rate that no light airplane has: a slip of a digit, or of the unit."""
    for index, cell in cells_of(entry, table):
        value = table.cells["rate"][index]
        if value is not None and not LEAST_FPM <= value <= MOST_FPM:
            words = f"a rate of climb of {value:,.0f} ft/min"
            cell.fault(
                f"{words}; {LEAST_FPM:,.0f} to {MOST_FPM:,.0f} is plausible", "look at the cell and at the unit"
            )


def _above_stall(entry: Entry, flaps: str, slowest_kt: float, stalls: tuple[SpeedByWeight, ...]) -> None:
    """Note a climb speed that is no more than a stall speed for the same flaps."""
    stall_kt = next((max(each.speeds_kt) for each in stalls if each.flaps == flaps and each.speeds_kt), 0.0)
    if slowest_kt <= stall_kt:
        words = f"climb speed for flaps {flaps}, {slowest_kt:g} kt, beside a stall at {stall_kt:g} kt"
        entry.fault(f"{words} cannot be right", "look at both on their pages")

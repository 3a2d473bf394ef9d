"""Read the offset from UTC of the clocks at a field."""

from __future__ import annotations

from briefgen.files.entry import Entry
from briefgen.model.clock import Clock
from briefgen.model.strip import Strip

LEAST_H, MOST_H = -12, 14  # no clock in use is past these (from memory)
OFF_H = 3.5  # from the sun's time there: no zone in use is further off (from memory); most often a wrong sign
STEP_MIN = 15  # of every offset in use (from memory)


def read_clock(root: Entry, field: Entry, strip: Strip | None) -> Clock:
    """Return the clock of a field: by its own 'utc_offset', else the trip's; unknown where neither is given.

    Parameters
    ----------
    root : the trip.
    field : its departure, arrival or alternate.
    strip : the field, None where it could not be read; its longitude tells a wrong sign.
    """
    found = field.get("utc_offset") or root.get("utc_offset")
    if found is None or found.faults.touch(found.place):
        return Clock()
    minutes = found.quantity("duration", LEAST_H * 3600, MOST_H * 3600) / 60
    if found.faults.touch(found.place):
        return Clock()
    message, hint = "", ""
    if minutes % STEP_MIN:
        message, hint = f"no clock is {found.value} from UTC", "every offset in use is whole quarters of an hour"
    elif strip and abs((minutes / 60 - strip.longitude_deg / 15 + 12) % 24 - 12) > OFF_H:
        message = f"an offset of {found.value} is far from the sun's time at {strip.name}, "
        message += f"{strip.longitude_deg / 15:+.1f} h"
        hint = "west of Greenwich the clocks are behind UTC: '-4 h'"
    if not message:
        return Clock(round(minutes))
    problem = found.faults.document.problem(found.place, message, hint)
    if not any((each.line, each.column) == (problem.line, problem.column) for each in found.faults.problems):
        found.faults.problems.append(problem)  # the trip's own offset is that of several fields
    return Clock()

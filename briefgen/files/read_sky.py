"""Read what a leg says of its weather, its airspace and the ground below it."""

from __future__ import annotations

from math import inf
from typing import TypedDict

from briefgen.files.entry import Entry
from briefgen.files.read_weather import miles
from briefgen.model.route import Sky


class Below(TypedDict):
    """The fields of a leg that say what it is over, and in which airspace."""

    airspace: str
    terrain_ft: float | None
    lowest_ft: float | None


def read_below(entry: Entry, altitude_ft: float) -> Below:
    """Return the airspace and the ground of a leg; ground at or above its altitude [ft] is a fault."""
    heights = {key: entry.optional(key, "length", -1500, 25_000) for key in ("terrain", "lowest_ground")}
    highest_ft, lowest_ft = heights["terrain"], heights["lowest_ground"]
    for key, height_ft in heights.items():
        if height_ft is not None and height_ft >= altitude_ft:
            message = f"the leg at {entry['altitude'].value} does not clear {entry[key].value}"
            entry[key].fault(message, "plan it higher, or look at the number and its unit")
    if highest_ft is not None and lowest_ft is not None and lowest_ft > highest_ft:
        entry["lowest_ground"].fault(
            f"the lowest ground, {entry['lowest_ground'].value}, is above the highest, {entry['terrain'].value}",
            "look at both",
        )
    return {"airspace": entry.text("airspace"), "terrain_ft": highest_ft, "lowest_ft": lowest_ft}


def read_sky(entry: Entry) -> Sky:
    """Return the weather along a leg: its own, and of what it leaves out that of the whole route."""
    route = Entry(entry.faults, entry.place[:1], entry.faults.document.value["route"])
    own, whole = (_sky(each.get("along")) for each in (entry, route))
    return Sky(
        whole.base_ft if own.base_ft is None else own.base_ft,
        whole.visibility_SM if own.visibility_SM is None else own.visibility_SM,
    )


def _sky(entry: Entry | None) -> Sky:
    base, sight = (entry.get(key) if entry else None for key in ("cloud_base", "visibility"))
    base_ft = None
    if base is not None:
        base_ft = inf if base.value == "none" else base.quantity("length", -1500, 45_000)
    return Sky(base_ft, None if sight is None else miles(sight, 0, 100))

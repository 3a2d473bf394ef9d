"""Read a strip file."""

from __future__ import annotations

import re
from math import isfinite, nan

from briefgen.files.entry import Entry
from briefgen.model.strip import End, Mark, Obstacle, Runway, Strip

FIELD_OFF_FT = 100.0  # an elevation further from its own runways' ends is a slip
FROM_IDENT_KNOWN_TO_DEG = 5.0  # an ident is the magnetic heading in tens, rounded: 14 CFR 139 / AIM runway markings
STEEPEST = 0.2  # no strip that tables of distances are meant for is steeper; a typing error is likelier
_POSITION = re.compile(r"([0-9.]+) ([NS]) ([0-9.]+) ([EW])")


def read_strip(root: Entry) -> Strip:
    """Return the field of a file.

    Raises
    ------
    InputFault : every fault of the file.
    """
    faults = root.faults
    east = faults.part(root.get("variation"), read_variation) or 0.0
    runways = faults.parts(root.items("runways"), lambda each: _runway(each, east, root.text("lighting")))
    _once(root)
    latitude, longitude = faults.part(root.get("position"), read_position) or (0.0, 0.0)
    elevation_ft = faults.part(root.get("elevation"), lambda each: each.quantity("length", -1500, 15_000))
    _elevations_agree(root, elevation_ft, runways)
    faults.stop()
    assert elevation_ft is not None
    return Strip(
        name=root.text("strip"),
        elevation_ft=elevation_ft,
        latitude_deg=latitude,
        longitude_deg=longitude,
        variation_deg=east,
        runways=runways,
        source=root.text("source"),
        remarks=tuple(str(each.value) for each in root.items("remarks")),
        not_for_flight=root.text("not_for_flight"),
        airspace=root.text("airspace"),
    )


def _elevations_agree(root: Entry, elevation_ft: float | None, runways: tuple[Runway, ...]) -> None:
    """Note a field whose elevation cannot belong to the ends of its runways."""
    ends = [end.elevation_ft for runway in runways for end in runway.ends if end.elevation_ft is not None]
    if elevation_ft is None or not ends:
        return
    if not min(ends) - FIELD_OFF_FT <= elevation_ft <= max(ends) + FIELD_OFF_FT:
        field, low, high = (f"{each:,.0f}" for each in (elevation_ft, min(ends), max(ends)))
        message = f"the field's elevation of {field} ft does not belong to runway ends at {low} to {high} ft"
        root["elevation"].fault(message, "a digit may be missing")


def _once(root: Entry) -> None:
    """Note a runway end whose ident stands before."""
    seen: set[str] = set()
    for ident in (end.get("ident") for runway in root.items("runways") for end in runway.items("ends")):
        if ident and str(ident.value) in seen:
            ident.fault(f"runway '{ident.value}' stands twice", "every end has its own ident, such as 09L and 09R")
        seen.add(str(ident.value) if ident else "")


def read_variation(entry: Entry) -> float:
    """Return a magnetic variation [deg, east positive]."""
    number, side = str(entry.value).split()
    if float(number) > 90:
        entry.fault(f"a variation of {number} is past 90 degrees")
    return float(number) * (1 if side == "E" else -1)


def read_position(entry: Entry) -> tuple[float, float]:
    """Return a latitude and a longitude [deg], north and east positive."""
    found = _POSITION.fullmatch(str(entry.value))
    if not found:
        raise ValueError(entry.value)
    latitude, longitude = float(found[1]), float(found[3])
    if latitude > 90:
        entry.fault(f"a latitude of {found[1]} is past 90 degrees")
    if longitude > 180:
        entry.fault(f"a longitude of {found[3]} is past 180 degrees")
    return latitude * (1 if found[2] == "N" else -1), longitude * (1 if found[4] == "E" else -1)


def _runway(entry: Entry, variation_deg: float, lighting: str) -> Runway:
    length_ft = entry["length"].quantity("length", 300, 20_000)
    first, second = (_end(each, variation_deg, length_ft) for each in entry["ends"].each())
    if abs((first.heading_deg - second.heading_deg) % 360 - 180) > 3:
        headings = " and ".join(f"{each['ident'].value} ({each['heading'].value})" for each in entry["ends"].each())
        entry["ends"].fault(f"the headings of {headings} are not opposite", "they must differ by 180 degrees")
    if first.displaced_ft + second.displaced_ft >= length_ft:
        message = f"the displaced thresholds leave nothing of the runway's {length_ft:,.0f} ft between them"
        entry["ends"].fault(message, "each is measured from its own end")
    marks = [mark for each in entry.items("marks") for mark in _marks(each, (first, second), length_ft)]
    return Runway(
        length_ft=length_ft,
        surface=entry.text("surface"),
        ends=(first, second),
        slope=_slope(entry, first, second, length_ft),
        marks=tuple(marks),
        width_ft=entry.optional("width", "length", 10, 1000),
        lighting=entry.text("lighting", lighting),
    )


def _end(entry: Entry, variation_deg: float, length_ft: float) -> End:
    heading, known_to = _heading(entry, variation_deg)
    declared = entry.get("declared")
    distances = {
        name: declared.optional(name.upper(), "length", 200, 25_000) if declared else None
        for name in ("tora", "toda", "asda", "lda")
    }
    displaced_ft = entry.optional("displaced_threshold", "length", 0, 10_000) or 0.0
    if declared:
        _declared_in_order(declared, distances, length_ft, displaced_ft)
    use = entry.text("use", "both")
    return End(
        ident=entry.text("ident"),
        heading_deg=heading,
        heading_known_to_deg=known_to,
        displaced_ft=displaced_ft,
        elevation_ft=entry.optional("elevation", "length", -1500, 15_000),
        tora_ft=distances["tora"],
        toda_ft=distances["toda"],
        asda_ft=distances["asda"],
        lda_ft=distances["lda"],
        obstacles=tuple(_obstacle(each) for each in entry.items("obstacles")),
        beyond=entry.text("beyond"),
        go_around=entry.text("go_around", "possible") == "possible",
        takeoff=use != "landing only",
        landing=use != "takeoff only",
    )


def _declared_in_order(
    declared: Entry, distances: dict[str, float | None], length_ft: float, displaced_ft: float
) -> None:
    tora = distances["tora"] if distances["tora"] is not None else length_ft
    if tora > length_ft:
        declared["TORA"].fault(
            f"TORA {declared['TORA'].value} is longer than the runway, {length_ft:,.0f} ft",
            "a clearway or stopway counts in TODA or ASDA",
        )
    lda = distances["lda"]
    if lda is not None and lda > length_ft - displaced_ft:
        declared["LDA"].fault(
            f"LDA {declared['LDA'].value} is longer than the runway past the threshold, "
            f"{length_ft - displaced_ft:,.0f} ft"
        )
    for name in ("toda", "asda"):
        given = distances[name]
        if given is not None and given < tora:
            name = name.upper()
            declared[name].fault(f"{name} {declared[name].value} is shorter than the takeoff run, {tora:,.0f} ft")


def _heading(entry: Entry, variation_deg: float) -> tuple[float, float]:
    """Return the heading [deg true] and how far off it may be [deg]."""
    ident, heading = entry.text("ident"), entry["heading"]
    if heading.faults.touch(heading.place) or heading.faults.touch((*entry.place, "ident")):
        return nan, 0.0  # the schema's fault is noted
    if heading.value == "from ident":
        return (int(ident[:2]) * 10 + variation_deg) % 360, FROM_IDENT_KNOWN_TO_DEG
    number, _, reference = str(heading.value).partition(" ")
    degrees = float(number)
    if degrees > 360:
        heading.fault(f"a heading of {number} is past 360 degrees", "a heading goes from 001 to 360")
        return nan, 0.0
    magnetic = degrees if reference == "magnetic" else degrees - variation_deg
    if abs((magnetic - int(ident[:2]) * 10 + 180) % 360 - 180) > 20:
        number = f"{int(ident[:2]) * 10:03d}"
        heading.fault(
            f"a heading of {heading.value} does not belong to a runway named {ident}",
            f"it should be near {number} magnetic",
        )
        return nan, 0.0
    return (degrees + variation_deg if reference == "magnetic" else degrees) % 360, 0.0


def _obstacle(entry: Entry) -> Obstacle:
    return Obstacle(
        entry.text("what"),
        entry["height"].quantity("length", 0, 2000),
        entry["distance"].quantity("length", 0, 20_000),
    )


def _slope(entry: Entry, first: End, second: End, length_ft: float) -> float:
    """Return the slope, a fraction, up from the first end to the second."""
    faults = entry.faults
    given = entry.get("slope")
    if given:
        grade = given["grade"].quantity("percent", 0, STEEPEST)
        toward = given["higher_end"]
        if toward.value not in (first.ident, second.ident) and not faults.touch(toward.place):
            toward.fault(
                f"this runway has no end '{toward.value}'", f"its ends are {first.ident} and {second.ident}"
            )
        return grade if toward.value == second.ident else -grade
    if first.elevation_ft is None or second.elevation_ft is None:
        level = f'slope: {{grade: 0 %, higher_end: "{second.ident}"}}'
        hint = f"give both ends their 'elevation', or the runway {level}"
        entry.fault("the slope of this runway is not given", hint)
        return 0.0
    slope = (second.elevation_ft - first.elevation_ft) / length_ft
    if abs(slope) > STEEPEST:
        message = f"the elevations of {first.ident} and {second.ident} make a slope of {abs(slope):.0%}"
        entry["ends"].fault(message.replace("%", " %"), "look at both elevations and at the length")
    return slope


def _marks(entry: Entry, ends: tuple[End, End], length_ft: float) -> list[Mark]:
    what, origin = entry.text("what"), entry["from"]
    measured = next((end for end in ends if end.ident == origin.value), None)
    if measured is None:
        if not origin.faults.touch(origin.place):
            origin.fault(
                f"this runway has no end '{origin.value}'", f"its ends are {ends[0].ident} and {ends[1].ident}"
            )
        return []
    usable_ft = length_ft - measured.displaced_ft
    if entry.get("each"):
        spacing_ft = entry["each"].quantity("length", 25, 5000)
        if not isfinite(usable_ft / spacing_ft):
            return []  # the fault is noted
        return [
            Mark(what, spacing_ft * n, measured.ident, True) for n in range(1, int(usable_ft // spacing_ft) + 1)
        ]
    at = entry["at"].quantity("length", 0, 20_000)
    if at > usable_ft:
        entry["at"].fault(
            f"{entry['at'].value} is past the far end of the runway, {usable_ft:,.0f} ft from the threshold of "
            f"{measured.ident}"
        )
    return [Mark(what, at, measured.ident)]

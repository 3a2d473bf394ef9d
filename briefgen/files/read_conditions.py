"""Read the air and the ground that are expected at one field."""

from __future__ import annotations

import re

from briefgen.files.entry import Entry
from briefgen.model.weather import Conditions, Wind

_WIND = re.compile(
    r"(?:(?P<calm>calm)|(?:(?P<variable>variable)|(?P<from>[0-9]{3}) (?P<reference>true|magnetic)"
    r"(?: varying (?P<first>[0-9]{3}) to (?P<last>[0-9]{3}))?)"
    r" at (?P<steady>[0-9]{1,2})(?: gust (?P<gust>[0-9]{1,2}))? kt)"
)


def read_conditions(entry: Entry, surface: str | None, variation_deg: float) -> Conditions:
    """Return what is expected at a field.

    Parameters
    ----------
    entry : the conditions as typed.
    surface : what the runway is made of, None where it is not known; only then can its grass be judged.
    variation_deg : of the field, east positive, for a magnetic wind.
    """
    ground = entry.get("ground")
    if surface not in (None, "paved") and ground is None:
        message = f"the runway is {surface}; whether its ground is firm is not said"
        entry.faults.problems.append(
            entry.faults.document.problem(entry.place, message, "add 'ground: firm' or 'ground: soft'", key=True)
        )
    grass = entry.get("grass")
    if grass and surface not in (None, "grass"):
        grass.fault(f"the runway is {surface}; how long its grass is has no meaning", "leave it out")
    return Conditions(
        temperature_degC=entry["temperature"].quantity("temperature", -60, 60),
        altimeter_hPa=entry["altimeter"].quantity("pressure", 850, 1090),
        wind=_wind(entry["wind"], variation_deg),
        surface=entry.text("surface"),
        soft=ground is not None and ground.value == "soft",
        grass=entry.text("grass"),
        dew_point_degC=_dew_point(entry),
    )


def _dew_point(entry: Entry) -> float | None:
    """Return the dew point [degC]; above the temperature it cannot be right."""
    found = entry.get("dew_point")
    if found is None:
        return None
    dew_point = found.quantity("temperature", -60, 60)
    if dew_point > entry["temperature"].quantity("temperature"):
        message = f"a dew point of {found.value} is above the temperature of {entry['temperature'].value}"
        found.fault(message, "the dew point is the lower number of the report")
    return dew_point


def _wind(entry: Entry, variation_deg: float) -> Wind:
    found = _WIND.fullmatch(str(entry.value))
    if not found:
        raise ValueError(entry.value)
    if found["calm"]:
        return Wind(None, 0.0, 0.0, None, "calm")
    steady = float(found["steady"])
    gust = float(found["gust"]) if found["gust"] else steady
    if gust < steady:
        message = f"a gust of {gust:g} kt is under the steady wind of {steady:g} kt"
        entry.fault(message, "the gust is the higher number")
    turn = variation_deg if found["reference"] == "magnetic" else 0.0
    directions = [float(found[name]) for name in ("from", "first", "last") if found[name]]
    for degrees in directions:
        if degrees > 360:
            entry.fault(f"a wind from {degrees:g} is past 360 degrees", "a direction goes from 000 to 360")
    if len(directions) == 3 and (directions[0] - directions[1]) % 360 > (directions[2] - directions[1]) % 360:
        mean, first, last = (f"{degrees:03.0f}" for degrees in directions)
        entry.fault(f"a wind from {mean} does not lie between {first} and {last}", "the range runs clockwise")
    true = [(degrees + turn) % 360 for degrees in directions]
    wind = Wind(true[0] if true else None, steady, gust, None, str(entry.value))
    return wind._replace(between_deg=(true[1], true[2])) if len(true) == 3 else wind

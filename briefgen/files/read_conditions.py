"""Read the air and the ground that are expected at one field."""

from __future__ import annotations

import re
from datetime import datetime

from briefgen.files.entry import Entry
from briefgen.files.read_weather import Reported, field_weather, read_reports, worst_winds
from briefgen.model.strip import Strip
from briefgen.model.weather import Conditions, Wind

NO_BREAK = "\u00a0"
_WIND = re.compile(
    r"(?:(?P<calm>calm)|(?:(?P<variable>variable)|(?P<from>[0-9]{3}) (?P<reference>true|magnetic)"
    r"(?: varying (?P<first>[0-9]{3}) to (?P<last>[0-9]{3}))?)"
    r" at (?P<steady>[0-9]{1,2})(?: gust (?P<gust>[0-9]{1,2}))? kt)"
)


def read_conditions(
    entry: Entry, surface: str | None, strip: Strip | None, reached_at: datetime | None = None
) -> Conditions:
    """Return what is expected at a field.

    Parameters
    ----------
    entry : the conditions as typed.
    surface : what the runway is made of, None where it is not known; only then can its grass be judged.
    strip : the field, for the variation of a magnetic wind and the way to the station; None where not known.
    reached_at : when the airplane is there, as worked; None where not known, and for the departure.

    What is typed is used; what is not, comes from the report and the forecast, and is a fault where these do not
    give it.
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
    reported = read_reports(entry, reached_at)
    at, found = reported.at, worst_winds(reported)
    _gives(entry, reported)
    wind, others = _winds(entry, found, strip.variation_deg if strip else 0.0)
    temperature_degC = _typed(entry, "temperature", ("temperature", -60, 60), at and at.temperature_degC)
    conditions = Conditions(
        temperature_degC=temperature_degC,
        altimeter_hPa=_typed(entry, "altimeter", ("pressure", 850, 1090), at and at.altimeter_hPa),
        wind=wind,
        surface=entry.text("surface"),
        soft=ground is not None and ground.value == "soft",
        grass=entry.text("grass"),
        dew_point_degC=_dew_point(entry, temperature_degC, at and at.dew_point_degC),
        ground_said=ground is not None,
        other_winds=others,
    )
    winds_said = ", ".join(dict.fromkeys(each.text for each in at.winds)) if at else ""
    return conditions._replace(weather=field_weather(entry, reported, conditions, strip, winds_said))


def _gives(entry: Entry, reported: Reported) -> None:
    """Note what is typed nowhere and comes from no report."""
    at = reported.at
    for key, other, why in (
        ("temperature", at and at.temperature_degC, at and at.no_air),
        ("altimeter", at and at.altimeter_hPa, at and at.no_air),
        ("wind", (at and at.winds) or None, at and at.no_wind),
    ):
        sent = entry.get("report") or entry.get("forecast")
        if entry.get(key) is not None or other is not None or sent is None:
            continue
        place = (*entry.place, key)
        if at is not None and not entry.faults.touch(place):
            name = {"temperature": "temperature", "altimeter": "altimeter setting", "wind": "wind"}[key]
            timed = key != "wind" or entry.get("at") or entry.get("forecast")
            sent.fault(
                f"no {name} for this field: {(why or 'the report gives none').replace(NO_BREAK, ' ')}",
                f"type it, '{key}'" + ("" if timed else "; or when the field is used, 'at'; or the 'forecast'"),
            )
        entry.faults.refused.add(place)


def _typed(entry: Entry, key: str, plausible: tuple[str, float, float], reported: float | None) -> float:
    """Return a quantity as typed, else as reported."""
    if entry.get(key) is None and reported is not None:
        return reported
    kind, least, most = plausible
    return entry[key].quantity(kind, least, most)


def _winds(
    entry: Entry, reported: tuple[Wind, tuple[Wind, ...]] | None, variation_deg: float
) -> tuple[Wind, tuple[Wind, ...]]:
    """Return the wind as typed, else the one of the largest gust factor and all others that were reported."""
    if entry.get("wind") is None and reported:
        return reported
    return _wind(entry["wind"], variation_deg), ()


def _dew_point(entry: Entry, temperature_degC: float, reported_degC: float | None) -> float | None:
    """Return the dew point [degC]; above the temperature it cannot be right.

    One that is reported counts only with the temperature of the same report.
    """
    found = entry.get("dew_point")
    if found is None:
        return reported_degC if entry.get("temperature") is None else None
    dew_point = found.quantity("temperature", -60, 60)
    if dew_point > temperature_degC:
        typed = entry.get("temperature")
        other = typed.value if typed else f"{temperature_degC:g} degC in the report"
        message = f"a dew point of {found.value} is above the temperature of {other}"
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

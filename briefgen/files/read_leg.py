"""Read one leg of a route, and say what it was refused for where that was typed."""

from __future__ import annotations

import re
from difflib import get_close_matches

from briefgen.calc.performance import NO_AIR
from briefgen.errors import Refusal
from briefgen.files.entry import Entry
from briefgen.files.read_sky import read_below, read_sky
from briefgen.files.read_strip import read_position, read_variation
from briefgen.model.aircraft import Aircraft
from briefgen.model.route import Leg, Spot, TemperatureAloft, WindAloft

# What a cruise table refuses: the key of the leg that it is about, else its 'power', and a hint.
_PAST = "no table is used past what it prints"
_BY_TABLE = {
    "pressure_altitude_ft": ("altitude", _PAST),
    "temperature_degC": ("temperature", _PAST),
    "above_standard_degC": ("temperature", _PAST),
    "weight_lb": ("power", "it is entered with the takeoff weight; or type 'tas' and 'fuel_flow'"),
    "temperature": ("temperature", "add 'temperature' to this leg or to 'winds', or type 'tas' and 'fuel_flow'"),
    "off standard": ("power", "this page holds for standard temperature; type 'tas' and 'fuel_flow'"),
    "power": ("power", "choose another setting, or type 'tas' and 'fuel_flow'"),
}
_WIND = re.compile(r"calm|(?P<from>[0-9]{3}) true at (?P<speed>[0-9]{1,3}) kt")


def _flown(entry: Entry, aircraft: Aircraft) -> tuple[float | None, float | None, str]:
    """Return the airspeed and fuel flow of a leg, or the power setting whose table gives them."""
    power, typed = entry.get("power"), entry.get("tas") or entry.get("fuel_flow")
    airspeed_kt = entry["tas"].quantity("speed", 30, 400) if typed else None
    flow_galh = entry["fuel_flow"].quantity("fuel flow", 1, 100) if typed else None
    if typed and power:
        hint = "delete 'power', or delete 'tas' and 'fuel_flow'"
        typed.fault("a leg is flown by typed figures or by a power setting, not by both", hint)
    elif power is None and typed is None:
        message = "how the leg is flown is not said: 'power', or 'tas' and 'fuel_flow'"
        entry.faults.problems.append(
            entry.faults.document.problem(entry.place, message, _settings(aircraft), key=True)
        )
    elif power is not None and not entry.faults.touch(power.place):
        known = [each.power for each in aircraft.cruise]
        if str(power.value) not in known:
            near = get_close_matches(str(power.value), known, 1, 0.6)
            meant = f"did you mean '{near[0]}'? " if near else ""
            message = f"the handbook's tables have no power setting '{power.value}'"
            power.fault(message, f"{meant}{_settings(aircraft)}")
    return airspeed_kt, flow_galh, str(power.value) if power else ""


def _settings(aircraft: Aircraft) -> str:
    """Return which settings can be named, as a hint."""
    if not aircraft.cruise:
        return "the aircraft file has no 'cruise'; type 'tas' and 'fuel_flow'"
    return f"the settings are {', '.join(each.power for each in aircraft.cruise)}"


def read_leg(entry: Entry, places: dict[str, Spot], aircraft: Aircraft) -> Leg:
    """Return a leg as typed; what is wrong in it is noted. `places` need no position."""
    to = entry.text("to")
    position, course, distance = (entry.get(key) for key in ("position", "course", "distance"))
    altitude_ft = entry["altitude"].quantity("length", -1000, 25_000)
    airspeed_kt, flow_galh, power = _flown(entry, aircraft)
    spot = places.get(to) if position is None and course is None else None
    if position is not None:
        spot = Spot(*read_position(position))
    wanted = "where the leg ends is said by 'position', or by 'course' and 'distance'"
    if position is not None and (course is not None or distance is not None):
        (course or distance or entry).fault("a position and a course are given, and they may not agree", wanted)
    elif (course is None) != (distance is None):
        (course or distance or entry).fault("a course and a distance belong together", wanted)
    elif spot is None and course is None:
        entry["to"].fault(f"where {to} is, is not said", wanted)
    course_deg, magnetic = _course(course) if course else (None, False)
    wind, variation = entry.get("wind"), entry.get("variation")
    return Leg(
        to=to,
        altitude_ft=altitude_ft,
        airspeed_kt=airspeed_kt,
        flow_galh=flow_galh,
        position=spot,
        course_deg=course_deg,
        course_magnetic=magnetic,
        distance_nm=distance.quantity("distance", 0, 1000) if distance else None,
        wind=_wind(wind, altitude_ft) if wind else None,
        variation_deg=read_variation(variation) if variation else None,
        power=power,
        temperature_degC=entry.optional("temperature", "temperature", -60, 60),
        **read_below(entry, altitude_ft),
        sky=read_sky(entry),
    )


def _course(entry: Entry) -> tuple[float, bool]:
    number, _, reference = str(entry.value).partition(" ")
    if float(number) > 360:
        entry.fault(f"a course of {number} is past 360 degrees", "a course goes from 000 to 360")
    return float(number), reference == "magnetic"


def read_level(entry: Entry) -> WindAloft:
    """Return the wind of a level."""
    return _wind(entry["wind"], entry["altitude"].quantity("length", -1000, 40_000))


def level_temperature(entry: Entry) -> TemperatureAloft | None:
    """Return the temperature of a level; None where it gives none."""
    found = entry.optional("temperature", "temperature", -60, 60)
    return None if found is None else TemperatureAloft(entry["altitude"].quantity("length"), found)


def _wind(entry: Entry, height_ft: float) -> WindAloft:
    found = _WIND.fullmatch(str(entry.value))
    if not found:
        raise ValueError(entry.value)
    if found["from"] is None:
        return WindAloft(height_ft, 0.0, 0.0)
    if float(found["from"]) > 360:
        entry.fault(f"a wind from {found['from']} is past 360 degrees", "a direction goes from 000 to 360")
    return WindAloft(height_ft, float(found["from"]), float(found["speed"]))


def note_refused(root: Entry, route: Entry, leg: Entry, refusal: Refusal) -> None:
    """Note what a leg was refused for, where that was typed."""
    about, message = refusal.about, refusal.reason.replace("\u00a0", " ")
    if about == NO_AIR:
        return  # what a part that was left out costs is said on the sheet: it is no fault
    if about == "year":
        dated = route.get("takeoff_time") or root["as_of"]
        message = f"no magnetic variation for {str(dated.value)[:10]}: {message}"
        dated.fault(message, "write the variation: 'variation: 5.5 W'")
    elif about == "wind":
        (leg.get("wind") or leg.get("tas") or leg["power"]).fault(message, "look at the wind and at the airspeed")
    elif about in _BY_TABLE:
        key, hint = _BY_TABLE[about]
        (leg.get(key) or leg["power"]).fault(message, hint)
    elif about == "altitude":
        leg["altitude"].fault(message, "add a level to 'winds', or 'wind' to this leg")
    elif about == "turn":
        leg["to"].fault(message.replace("°", " degrees"), "look at its position, or put a place between")
    elif about == "no wind":
        leg["to"].fault(f"the leg to {leg['to'].value} has no wind", "add 'wind' to it, or 'winds' to the route")
    else:
        leg["to"].fault(message)

"""Read the route and the fuel of a trip file, and note what cannot be flown as it is typed."""

from __future__ import annotations

import re
from calendar import isleap
from datetime import datetime
from difflib import get_close_matches

from briefgen.calc.geodesic import between
from briefgen.calc.legs import Navigation, navigate
from briefgen.calc.performance import tables
from briefgen.calc.ways import said
from briefgen.errors import Refusal
from briefgen.files.entry import Entry
from briefgen.files.read_strip import read_position, read_variation
from briefgen.model.aircraft import Aircraft
from briefgen.model.route import Alternate, Fuel, Leg, Route, Spot, TemperatureAloft, WindAloft
from briefgen.model.strip import Strip
from briefgen.model.trip import Departure

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
MOST_OFF_DEG = 3.0  # of a typed variation from the fields'; common practice, no source
NEAR_NM = 1.0  # a route that ends this near the field ends there
DRIFT = 0.03  # of the way by typed courses, more: they are typed in whole degrees and miles
_WIND = re.compile(r"calm|(?P<from>[0-9]{3}) true at (?P<speed>[0-9]{1,3}) kt")


def read_route(
    root: Entry,
    ends: tuple[Departure, Strip],
    aircraft: Aircraft,
    fuel: Fuel | None,
    instead: Strip | None = None,
) -> Route | None:
    """Return the route of a trip; None where none is given, or where it has a fault, which is noted.

    `instead` is the alternate's field. A way to an alternate whose landing could not be read is left out.
    """
    entry = root.get("route")
    if entry is None:
        return None
    before, start, end = len(root.faults.problems), ends[0].use.strip, ends[1]
    takeoff = entry.get("takeoff_time")
    when = None if takeoff is None else read_time(takeoff)
    fields = (start, end, *((instead,) if instead else ()))
    places = {each.name: Spot(each.latitude_deg, each.longitude_deg) for each in fields}
    winds = entry.faults.parts(entry.items("winds"), _level)
    _each_height_once(entry, winds)
    legs = entry.faults.parts(entry.items("legs"), lambda each: _leg(each, places, aircraft))
    onward = None
    if instead or root.get("alternate") is None:
        onward = entry.faults.part(entry.get("alternate"), lambda each: _onward(each, places, instead, aircraft))
    dated = when or _date(root)
    if root.faults.touch(entry.place) or len(root.faults.problems) > before or dated is None:
        return None
    variation = entry.get("variation")
    _like_the_strips(variation, fields)
    _not_in_the_past(takeoff, when, _date(root))
    route = Route(
        start=start.name,
        start_position=places[start.name],
        legs=legs,
        year=_decimal_year(dated),
        winds=winds,
        variation_deg=None if variation is None or variation.value == "model" else read_variation(variation),
        takeoff_min=when.hour * 60 + when.minute if when else None,
        takeoff=when,
        temperatures=entry.faults.parts(entry.items("winds"), _temperature),
        alternate=onward,
        end_position=places[end.name],
    )
    book = tables(aircraft, ends[0], fuel)
    found = navigate(route, aircraft.deviation, book)
    if book is None:  # that is a fault of its own, and no leg by power can be flown
        found = found._replace(refused=tuple(each for each in found.refused if each[1].about != "power"))
    _flyable(root, entry, route, end, found)
    _fly_on(root, entry, route, {instead.name: places[instead.name]} if instead else places, found)
    return route if len(root.faults.problems) == before else None


def _each_height_once(entry: Entry, winds: tuple[WindAloft, ...]) -> None:
    """Note a level of the winds that stands twice: one of them would be used without a word."""
    heights = [level.height_ft for level in winds]
    for i, each in enumerate(entry.items("winds")):
        if len(heights) == len(entry.items("winds")) and heights[i] in heights[:i]:
            each["altitude"].fault(f"{each['altitude'].value} has a wind already", "delete one of them")


def _like_the_strips(variation: Entry | None, fields: tuple[Strip, ...]) -> None:
    """Note a typed variation that is far from that of every field: most often east and west changed places."""
    if variation is None or variation.value == "model":
        return
    typed = read_variation(variation)
    nearest = min(fields, key=lambda strip: abs(strip.variation_deg - typed))
    off_deg = abs(nearest.variation_deg - typed)
    if off_deg > MOST_OFF_DEG:
        message = f"variation {variation.value} is {off_deg:.1f} degrees from that of {nearest.name}"
        variation.fault(f"{message}, {said(nearest.variation_deg)}".replace("\u00b0", ""), "look at E and W")


def _not_in_the_past(takeoff: Entry | None, when: datetime | None, as_of: datetime | None) -> None:
    """Note a takeoff before the time that the trip's figures are of."""
    if takeoff is None or when is None or as_of is None or not 2000 <= as_of.year < 2100:
        return
    if when < as_of:
        takeoff.fault(
            f"a takeoff at {takeoff.value} is before 'as_of', {as_of:%Y-%m-%dT%H:%MZ}", "look at both dates"
        )


def _flyable(root: Entry, entry: Entry, route: Route, end: Strip, found: Navigation) -> None:
    """Note every leg that cannot be flown as it is typed, and a route that does not end at the destination."""
    entries = entry.items("legs")
    for i, refusal in found.refused:
        _refused(root, entry, entries[i], refusal)
    if any(refusal.about == "year" for _, refusal in found.refused):
        return
    field = Spot(end.latitude_deg, end.longitude_deg)
    off_nm = between(found.end, field).distance_nm
    typed_nm = sum(each.distance_nm or 0.0 for each in route.legs)
    if off_nm > NEAR_NM + DRIFT * typed_nm:
        last = entries[-1]["to"]
        last.fault(
            f"the last leg ends {off_nm:.1f} NM from {end.name}, the destination",
            f"end it with 'to: {end.name}', or within {NEAR_NM:g} NM of {field}".replace("\u00a0", " "),
        )


def _fly_on(root: Entry, entry: Entry, route: Route, places: dict[str, Spot], found: Navigation) -> None:
    """Note a way to the alternate that cannot be flown as it is typed, or that ends elsewhere than its field."""
    leg = route.alternate
    if found.alternate_refused:
        _refused(root, entry, entry["alternate"], found.alternate_refused)
    if leg is None or found.alternate_end is None or leg.to not in places:
        return
    off_nm = between(found.alternate_end, places[leg.to]).distance_nm
    if off_nm > NEAR_NM + DRIFT * sum(each.distance_nm or 0.0 for each in (*route.legs, leg)):
        entry["alternate"]["to"].fault(
            f"the way to the alternate ends {off_nm:.1f} NM from {leg.to}", "leave out its position or course"
        )


def _refused(root: Entry, route: Entry, leg: Entry, refusal: Refusal) -> None:
    """Note what a leg was refused for, where that was typed."""
    about, message = refusal.about, refusal.reason.replace("\u00a0", " ")
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
        leg["to"].fault(message.replace("°", " degrees"), "put a place between")
    elif about == "no wind":
        leg["to"].fault(f"the leg to {leg['to'].value} has no wind", "add 'wind' to it, or 'winds' to the route")
    else:
        leg["to"].fault(message)


def _onward(entry: Entry, places: dict[str, Spot], instead: Strip | None, aircraft: Aircraft) -> Leg | None:
    """Return the way to the alternate; another name than that of its field is noted elsewhere, in one line."""
    return _leg(entry, places | {entry.text("to"): places[instead.name]} if instead else places, aircraft)


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


def _leg(entry: Entry, places: dict[str, Spot], aircraft: Aircraft) -> Leg | None:
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
    )


def _course(entry: Entry) -> tuple[float, bool]:
    number, _, reference = str(entry.value).partition(" ")
    if float(number) > 360:
        entry.fault(f"a course of {number} is past 360 degrees", "a course goes from 000 to 360")
    return float(number), reference == "magnetic"


def _level(entry: Entry) -> WindAloft:
    return _wind(entry["wind"], entry["altitude"].quantity("length", -1000, 40_000))


def _temperature(entry: Entry) -> TemperatureAloft | None:
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


def read_time(entry: Entry) -> datetime | None:
    """Return a time that a flight can be planned for; None, with the fault noted, where it is none."""
    if entry.faults.touch(entry.place):
        return None
    try:
        when = datetime.fromisoformat(str(entry.value))
    except ValueError:
        message = f"'{entry.value}' is no date and time of the calendar"
        entry.fault(message, "look at the day, the month and the hour")
        return None
    if not 2000 <= when.year < 2100:
        entry.fault(f"{entry.value} is no time that a flight is planned for", "look at the year")
        return None
    return when


def _date(root: Entry) -> datetime | None:
    """Return when the trip's figures were good; None where that has a fault, which is noted elsewhere."""
    try:
        return datetime.fromisoformat(root.text("as_of"))
    except ValueError:
        return None


def _decimal_year(when: datetime) -> float:
    return when.year + (when.timetuple().tm_yday - 1) / (366 if isleap(when.year) else 365)


def read_fuel(root: Entry, aircraft: Aircraft | None) -> Fuel | None:
    """Return the fuel of a trip; None where none is given."""
    entry = root.get("fuel")
    if entry is None:
        return None
    on_board_gal = entry.optional("on_board", "volume", 0, 300)
    usable = aircraft.usable_fuel_gal if aircraft else None
    if usable and on_board_gal is not None and on_board_gal > usable.value:
        entry["on_board"].fault(
            f"fuel on board {entry['on_board'].value} is over the usable {usable.value:.1f} gal ({usable.page})"
        )
    _circuits_where_they_began(root, entry.get("circuits"))
    if entry.get("circuits") and root.get("route"):
        entry["circuits"].fault("a route is given too, and its legs have their own times", "delete one of them")
    night, takeoff = entry.get("night"), entry.get("takeoff_time")
    if takeoff and root.get("route"):
        takeoff.fault("the takeoff time of a trip with a route is said under 'route'", "move it there")
    when = read_time(takeoff) if takeoff else None
    _not_in_the_past(takeoff, when, _date(root))
    return Fuel(
        on_board_gal=on_board_gal,
        taxi_gal=entry.optional("taxi", "volume", 0, 20),
        climb_gal=entry.optional("climb", "volume", 0, 50),
        approach_gal=entry.optional("approach", "volume", 0, 20),
        alternate=entry.faults.part(entry.get("alternate"), _alternate),
        night=None if night is None else bool(night.value),
        circuits_s=entry.optional("circuits", "duration", 60, 36_000),
        flow_galh=entry.optional("fuel_flow", "fuel flow", 1, 100),
        takeoff=when,
    )


def _circuits_where_they_began(root: Entry, circuits: Entry | None) -> None:
    """Note circuits of a trip that ends at another field than it began: its way there would be left out."""
    ends = [root.get(key) for key in ("departure", "arrival")]
    strips = [each.text("strip") for each in ends if each]
    if circuits and root.get("route") is None and len(strips) == 2 and strips[0] != strips[1]:
        circuits.fault(
            "the trip ends at another field than it began, so that a 'route' is needed", "circuits stay home"
        )


def _alternate(entry: Entry) -> Alternate:
    time_s = entry.optional("time", "duration", 60, 36_000)
    return Alternate(entry.text("to"), time_s, entry.optional("fuel", "volume", 0, 100))

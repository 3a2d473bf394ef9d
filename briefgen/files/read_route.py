"""Read the route and the fuel of a trip file, and note what cannot be flown as it is typed."""

from __future__ import annotations

from calendar import isleap
from datetime import datetime

from briefgen.calc.geodesic import between
from briefgen.calc.legs import Navigation, navigate
from briefgen.calc.performance import NoTables, Tables, tables
from briefgen.calc.ways import said
from briefgen.files.entry import Entry
from briefgen.files.read_aloft_winds import Levels, read_levels
from briefgen.files.read_fuel_stop import read_fuel_stop, way_there
from briefgen.files.read_leg import level_temperature, note_refused, read_leg, read_level
from briefgen.files.read_strip import read_variation
from briefgen.model.aircraft import Aircraft
from briefgen.model.route import Alternate, Fuel, FuelStop, Leg, Route, Spot, WindAloft
from briefgen.model.strip import Strip
from briefgen.model.trip import Departure

MOST_OFF_DEG = 3.0  # of a typed variation from the fields'; common practice, no source
NEAR_NM = 1.0  # a route that ends this near the field ends there
DRIFT = 0.03  # of the way by typed courses, more: they are typed in whole degrees and miles


def read_route(
    root: Entry,
    ends: tuple[Departure, Strip],
    aircraft: Aircraft,
    fuel: Fuel | None,
    instead: Strip | None = None,
) -> Route | None:
    """Return the route of a trip; None where none is given, or where it has a fault, which is noted.

    `instead` is the alternate's field. Where its landing could not be read, the way there is left out, and a fuel
    stop, which may be there too.
    """
    entry = root.get("route")
    if entry is None:
        return None
    before, start, end = len(root.faults.problems), ends[0].use.strip, ends[1]
    takeoff = entry.get("takeoff_time")
    when = None if takeoff is None else read_time(takeoff)
    fields = (start, end, *((instead,) if instead else ()))
    places = {each.name: Spot(each.latitude_deg, each.longitude_deg) for each in fields}
    dated = when or _date(root)
    levels = _levels(entry, dated)
    legs = entry.faults.parts(entry.items("legs"), lambda each: read_leg(each, places, aircraft))
    onward = stop = None
    if instead or root.get("alternate") is None:
        onward = entry.faults.part(entry.get("alternate"), lambda each: _onward(each, places, instead, aircraft))
        stop = _stop(entry, legs, places, end.name, aircraft)
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
        winds=levels.winds,
        variation_deg=None if variation is None or variation.value == "model" else read_variation(variation),
        takeoff_min=when.hour * 60 + when.minute if when else None,
        takeoff=when,
        temperatures=levels.temperatures,
        aloft=levels.told,
        alternate=onward,
        end_position=places[end.name],
        fuel_stop=stop,
    )
    found = _navigated(route, aircraft, tables(aircraft, ends[0], fuel))
    _flyable(root, entry, route, end, found)
    _fly_on(root, entry, route, {instead.name: places[instead.name]} if instead else places, found)
    way_there(root, entry, places, found)
    return route if len(root.faults.problems) == before else None


def _stop(
    entry: Entry, legs: tuple[Leg, ...], places: dict[str, Spot], end: str, aircraft: Aircraft
) -> FuelStop | None:
    """Return the fuel stop of a route; None where none is given, or where there are no legs to decide it on."""
    given = entry.get("fuel_stop") if legs else None
    return entry.faults.part(given, lambda each: read_fuel_stop(each, legs, places, end, aircraft))


def _navigated(route: Route, aircraft: Aircraft, book: Tables | NoTables | None) -> Navigation:
    """Return a route worked; without tables no leg by power can be flown, and that is a fault of its own."""
    found = navigate(route, aircraft.deviation, book)
    if book is None:
        found = found._replace(refused=tuple(each for each in found.refused if each[1].about != "power"))
    return found


def _levels(entry: Entry, near: datetime | None) -> Levels:
    """Return the winds and temperatures aloft, those that are typed laid over those that were sent."""
    winds = entry.faults.parts(entry.items("winds"), read_level)
    _each_height_once(entry, winds)
    typed = Levels(winds, entry.faults.parts(entry.items("winds"), level_temperature))
    return read_levels(entry.get("winds_report"), typed, near) if near else typed


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
        note_refused(root, entry, entries[i], refusal)
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
        note_refused(root, entry, entry["alternate"], found.alternate_refused)
    if leg is None or found.alternate_end is None or leg.to not in places:
        return
    off_nm = between(found.alternate_end, places[leg.to]).distance_nm
    if off_nm > NEAR_NM + DRIFT * sum(each.distance_nm or 0.0 for each in (*route.legs, leg)):
        entry["alternate"]["to"].fault(
            f"the way to the alternate ends {off_nm:.1f} NM from {leg.to}", "leave out its position or course"
        )


def _onward(entry: Entry, places: dict[str, Spot], instead: Strip | None, aircraft: Aircraft) -> Leg | None:
    """Return the way to the alternate; another name than that of its field is noted elsewhere, in one line."""
    return read_leg(entry, places | {entry.text("to"): places[instead.name]} if instead else places, aircraft)


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


def real_times(root: Entry) -> None:
    """Note a time of the brief that is none; no flight can then be worked, as its day hangs on that time."""
    found = root.get("as_of")
    began = read_time(found) if found is not None else None
    if found is not None and began is None:
        root.faults.refused.add(found.place)
    prepared = root.get("prepared")
    at = read_time(prepared) if prepared is not None else None
    if prepared is not None and at and began and at < began:
        words = f"{prepared.value} is before as_of, {root.text('as_of')}"
        prepared.fault(words, "as_of is when the figures were good")

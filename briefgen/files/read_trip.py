"""Read a trip file and all that it refers to, and check them against each other."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime
from difflib import get_close_matches
from functools import reduce
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from briefgen.errors import InputFault, Problem
from briefgen.figures import Source
from briefgen.files.document import read
from briefgen.files.entry import Entry, opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.files.read_load import Loaded, agreed, read_load
from briefgen.files.read_policy import read_layer, read_policy, read_touchdown
from briefgen.files.read_route import read_fuel, read_route
from briefgen.files.read_strip import read_strip
from briefgen.files.schema import another_kind
from briefgen.model.aircraft import Aircraft
from briefgen.model.layers import stricter
from briefgen.model.limit import Limit
from briefgen.model.policy import Policy
from briefgen.model.route import Fuel, Route
from briefgen.model.strip import End, Runway
from briefgen.model.trip import Arrival, Departure, Trip, Use
from briefgen.model.weather import Conditions, Wind
from briefgen.units import up

T = TypeVar("T")
_WIND = re.compile(
    r"(?:(?P<calm>calm)|(?:(?P<variable>variable)|(?P<from>[0-9]{3}) (?P<reference>true|magnetic)"
    r"(?: varying (?P<first>[0-9]{3}) to (?P<last>[0-9]{3}))?)"
    r" at (?P<steady>[0-9]{1,2})(?: gust (?P<gust>[0-9]{1,2}))? kt)"
)


def read_trip(path: Path, name: str) -> tuple[Trip, Entry]:
    """Return a trip and the root of its file, so that a later fault can be placed in it.

    Raises
    ------
    InputFault : every fault of the trip, aircraft, strip and policy files.
    """
    trip, root, problems = read_as_far(path, name)
    if trip is None or problems:
        raise InputFault(problems)
    return trip, root


def read_as_far(path: Path, name: str) -> tuple[Trip | None, Entry, list[Problem]]:
    """Return a trip as far as it can be read, the root of its file, and every fault found.

    The trip is there in spite of faults where only figures of the trip file itself are at fault, such as a weight
    over the maximum: what the charts say of the others can then be told in the same run.

    Raises
    ------
    InputFault : the trip file is no trip file.
    """
    document = read(path, name)
    another = another_kind(document, "trip")
    if another:
        raise InputFault([document.problem((), f"this {another}")])
    root = opened(document, "trip")
    library = _Library(root, {}, [])
    aircraft = library.fetch(root.get("aircraft"), "aircraft", read_aircraft)
    club = library.fetch(root.get("policy"), "policy", read_policy)
    personal = library.fetch(root.get("personal"), "policy", read_policy)
    faults = root.faults
    today = faults.part(root.get("today"), lambda each: read_layer(each, "this trip"))
    layers = [layer for layer in (club, personal, today) if layer]
    policy = reduce(stricter, layers) if layers else None
    unread = any(root.get(key) and not layer for key, layer in (("policy", club), ("personal", personal)))
    answers = _answers(root.get("answers"), policy, unread=unread)
    _real_time(root)
    loaded = faults.part(root.get("load"), lambda each: read_load(each, aircraft))
    weights = _Weights(root.get("load"), loaded)
    departure = faults.part(root.get("departure"), lambda each: _departure(each, library, aircraft, weights))
    arrival = faults.part(root.get("arrival"), lambda each: _arrival(each, library, aircraft, weights))
    _lighter_on_landing(root)
    _one_fuel(root, loaded)
    route, fuel = _way(root, aircraft, departure, arrival)
    problems = [*library.problems, *faults.problems]
    if library.problems or faults.refused or not (aircraft and departure and arrival):
        return None, root, problems
    trip = Trip(
        title=root.text("trip"),
        as_of=root.text("as_of"),
        crew=root.text("crew"),
        aircraft=aircraft,
        departure=departure,
        arrival=arrival,
        policy=policy,
        remarks=tuple(str(each.value) for each in root.items("remarks")),
        not_for_flight=_not_for_flight(root, aircraft, departure, arrival, policy),
        load=loaded.load if loaded else None,
        answers=answers,
        route=route,
        fuel=fuel,
    )
    return trip, root, problems


def _way(
    root: Entry, aircraft: Aircraft | None, departure: Departure | None, arrival: Arrival | None
) -> tuple[Route | None, Fuel | None]:
    """Return the route and the fuel, as far as they can be read; neither without an airplane and two fields."""
    if not (aircraft and departure and arrival):
        return None, None
    end = arrival.use.strip
    route = root.faults.part(root, lambda each: read_route(each, departure, end, aircraft))
    return route, root.faults.part(root, lambda each: read_fuel(each, aircraft))


def _answers(entry: Entry | None, policy: Policy | None, *, unread: bool) -> dict[str, str]:
    """Return the answers to what the policy asks for; `unread`: one could not be read, so that is not known."""
    if entry is None or entry.faults.touch(entry.place) or not isinstance(entry.value, dict):
        return {}
    asked = {each.id for each in policy.asked} if policy else set()
    for id in entry.value:
        if policy and id not in asked and not unread:
            near = get_close_matches(id, sorted(asked), 1, 0.6)
            known = ", ".join(sorted(asked)) or "nothing"
            hint = f"did you mean '{near[0]}'?" if near else f"it asks for {known}"
            place = (*entry.place, id)
            message = f"no policy of this trip asks for '{id}'"
            entry.faults.problems.append(entry.faults.document.problem(place, message, hint, key=True))
    return {id: str(answer) for id, answer in entry.value.items()}


def _one_fuel(root: Entry, loaded: Loaded | None) -> None:
    """Note fuel that is typed twice and differs: in the tanks of the load, and on board for the fuel need."""
    fuel = root.get("fuel")
    typed = fuel.get("on_board") if fuel else None
    if loaded is None or typed is None:
        return
    in_tanks = sum(loaded.load.fuel_gal.values())
    if abs(typed.quantity("volume") - in_tanks) > 0.05:
        message = f"{typed.value} on board is not the {in_tanks:,.1f} gal in the tanks of the load"
        typed.fault(message, "mend the one that is wrong")


def _lighter_on_landing(root: Entry) -> None:
    departure, arrival = root.get("departure"), root.get("arrival")
    if departure is None or arrival is None or not (departure.get("weight") and arrival.get("weight")):
        return
    takeoff, landing = departure["weight"], arrival["weight"]
    if landing.quantity("weight") > takeoff.quantity("weight"):
        landing.fault(
            f"landing weight {landing.value} is over the takeoff weight of {takeoff.value}",
            "take off the fuel that will at least be burnt",
        )


class _Library:
    """The files that a trip refers to: each read once, all inside the trip's own folder."""

    def __init__(self, root: Entry, read_before: dict[tuple[Path, str], Any], problems: list[Problem]) -> None:
        self.root, self.read_before, self.problems = root, read_before, problems
        self.folder = root.faults.document.path.resolve().parent
        self.prefix = root.faults.document.name[: -len(root.faults.document.path.name)]

    def fetch(self, reference: Entry | None, kind: str, read_kind: Callable[[Entry], T]) -> T | None:
        """Return what a reference leads to; None, with the faults noted, if that cannot be read."""
        if reference is None or not isinstance(reference.value, str):
            return None
        if reference.faults.touch(reference.place):
            return None
        target = self._target(reference)
        if target is None:
            return None
        if (target, kind) not in self.read_before:
            self.read_before[target, kind] = None
            try:
                document = read(target, self.prefix + reference.value)
                another = another_kind(document, kind)
                if another:
                    reference.fault(f"'{reference.value}' {another}")
                    return None
                self.read_before[target, kind] = read_kind(opened(document, kind))
            except InputFault as fault:
                self.problems += fault.problems
        found: T | None = self.read_before[target, kind]
        return found

    def _target(self, reference: Entry) -> Path | None:
        """Return the file that a reference leads to; None, with the fault noted, if it may not be read."""
        try:
            target: Path = (self.folder / reference.value).resolve()
            there = target.is_relative_to(self.folder) and target.is_file()
        except (OSError, RuntimeError):  # a folder that is locked, or links that lead in a circle
            reference.fault(
                f"'{reference.value}' leads to nothing that can be read", "a link may lead back to itself"
            )
            return None
        if not target.is_relative_to(self.folder):
            hint = "put the file into the folder of the trip file, or below it"
            reference.fault(f"'{reference.value}' leads outside the trip's folder", hint)
            return None
        if not there:
            hint = _nearby(self.folder, reference.value)
            reference.fault(f"there is no file '{reference.value}' in the trip's folder", hint)
            return None
        return target


def _nearby(folder: Path, reference: str) -> str:
    """Return a hint that names what does stand in the folder looked in."""
    looked_in = (folder / reference).resolve().parent
    if not looked_in.is_dir() or not looked_in.is_relative_to(folder):
        return ""
    names = sorted(each.name for each in looked_in.iterdir() if each.suffix in (".yaml", ".yml"))[:8]
    return f"there are {', '.join(names)}" if names else ""


def _not_for_flight(root: Entry, aircraft: Aircraft, departure: Departure, arrival: Arrival, policy: Any) -> str:
    """Return the mark of invented data: one invented part marks the whole brief."""
    parts = (aircraft, departure.use.strip, arrival.use.strip, policy)
    marks = [root.text("not_for_flight"), *(part.not_for_flight for part in parts if part)]
    return next((mark for mark in marks if mark), "")


def _real_time(root: Entry) -> None:
    found = root.get("as_of")
    if found is None or root.faults.touch(found.place):
        return
    try:
        year = datetime.fromisoformat(str(found.value)).year
    except ValueError:
        found.fault(
            f"'{found.value}' is no date and time of the calendar", "look at the day, the month and the hour"
        )
        return
    if not 2000 <= year < 2100:
        found.fault(f"{found.value} is no time that a flight is planned for", "look at the year")


class _Weights(NamedTuple):
    """The load as typed, and what it comes to, None where that is not known."""

    typed: Entry | None
    loaded: Loaded | None

    def of(self, entry: Entry, phase: str, maximum: Limit | None) -> float | None:
        """Return the weight of a takeoff or a landing [lb]; None, with the fault noted, where there is none."""
        computed = None
        if self.loaded:
            computed = self.loaded.takeoff_lb if phase == "takeoff" else self.loaded.landing_lb
        if entry.get("weight") is None and computed is None:
            if self.typed is None:
                hint = "for example weight: 2450 lb; or give the load under 'load'"
                problem = entry.faults.document.problem(entry.place, "missing key 'weight'", hint, key=True)
                entry.faults.problems.append(problem)
            return None
        weight_lb = agreed(entry, computed, phase)
        if maximum and weight_lb > maximum.value:
            limit = f"the maximum of {maximum.value:,.0f} lb ({maximum.page})"
            place = entry["weight"] if entry.get("weight") else self.typed
            leave = f"leave {up(weight_lb - maximum.value):,.0f} lb behind" if computed else ""
            assert place is not None
            place.fault(f"{phase} weight {weight_lb:,.0f} lb is over {limit}", leave)
        return weight_lb


def _departure(entry: Entry, library: _Library, aircraft: Aircraft | None, weights: _Weights) -> Departure | None:
    use = _use(entry, library, "takeoff")
    weight_lb = weights.of(entry, "takeoff", aircraft.maximum_takeoff_lb if aircraft else None)
    flaps = _flaps(entry, "flaps", aircraft)
    return Departure(use, weight_lb, flaps, entry.text("technique")) if use and weight_lb is not None else None


def _arrival(entry: Entry, library: _Library, aircraft: Aircraft | None, weights: _Weights) -> Arrival | None:
    use = _use(entry, library, "landing")
    weight_lb = weights.of(entry, "landing", aircraft.maximum_landing_lb if aircraft else None)
    flaps, partial = _flaps(entry, "flaps", aircraft), _flaps(entry, "partial_flaps", aircraft)
    touchdown = entry.get("touchdown")
    if not use or weight_lb is None:
        return None
    return Arrival(
        use=use,
        weight_lb=weight_lb,
        flaps=flaps,
        technique=entry.text("technique"),
        partial_flaps=partial,
        extra_speed_kt=entry.optional("extra_speed", "speed", 0, 30) or 0.0,
        touchdown=read_touchdown(touchdown, Source("the pilot's own, trip file", "pilot")) if touchdown else None,
    )


def _flaps(entry: Entry, key: str, aircraft: Aircraft | None) -> str:
    found = entry.get(key)
    if found is None:
        return ""
    if aircraft and isinstance(found.value, str) and found.value not in aircraft.flap_settings:
        found.fault(
            f"flaps '{found.value}' is none of the airplane's settings: {', '.join(aircraft.flap_settings)}",
            "write it as the aircraft file does",
        )
    return str(found.value)


def _use(entry: Entry, library: _Library, phase: str) -> Use | None:
    strip = library.fetch(entry.get("strip"), "strip", read_strip)
    if strip is None:
        entry.faults.part(entry.get("conditions"), lambda each: _conditions(each, None, 0.0))
        return None
    ident = entry["runway"]
    found: tuple[Runway, End, End] | None = strip.end(str(ident.value))
    conditions = entry.faults.part(
        entry.get("conditions"),
        lambda each: _conditions(each, found[0].surface if found else None, strip.variation_deg),
    )
    if found is None:
        if not entry.faults.touch(ident.place):
            ident.fault(f"{strip.name} has no runway '{ident.value}'", f"its runways are {', '.join(strip.idents)}")
        return None
    runway, end, opposite = found
    if not (end.takeoff if phase == "takeoff" else end.landing):
        other = end.ident if opposite is end else opposite.ident
        ident.fault(
            f"the strip file does not allow a {phase} on runway {end.ident} ('use' there)",
            f"the other end is {other}",
        )
    return Use(strip, runway, end, opposite, conditions) if conditions else None


def _conditions(entry: Entry, surface: str | None, variation_deg: float) -> Conditions:
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

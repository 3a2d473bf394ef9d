"""Read a trip file and all that it refers to, and check them against each other."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime
from difflib import get_close_matches
from functools import reduce
from pathlib import Path
from typing import Any, TypeVar

from briefgen.calc.evening import reached
from briefgen.calc.fuel import least_burn
from briefgen.calc.legs import navigate
from briefgen.calc.performance import tables
from briefgen.errors import InputFault, Problem
from briefgen.figures import Source
from briefgen.files.document import bytes_of, read
from briefgen.files.entry import Entry, opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.files.read_alternate import one_alternate, read_alternate, read_flaps
from briefgen.files.read_clock import read_clock
from briefgen.files.read_conditions import read_conditions
from briefgen.files.read_fuel_stop import not_too_heavy, stop_weight
from briefgen.files.read_load import read_load
from briefgen.files.read_papers import read_airplane_papers, read_confirmed, read_pilot
from briefgen.files.read_policy import read_layer, read_policy, read_touchdown
from briefgen.files.read_route import read_fuel, read_route, real_times
from briefgen.files.read_strip import read_strip
from briefgen.files.read_weights import Weights, lighter_on_landing, one_fuel
from briefgen.files.schema import another_kind
from briefgen.model.aircraft import Aircraft
from briefgen.model.given import Given
from briefgen.model.layers import stricter
from briefgen.model.policy import Policy
from briefgen.model.route import Fuel, Route
from briefgen.model.strip import End, Runway, Strip
from briefgen.model.trip import Arrival, Departure, Trip, Use
from briefgen.model.weather import Conditions, NotGiven

T = TypeVar("T")


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
    if another := another_kind(document, "trip"):
        raise InputFault([document.problem((), f"this {another}")])
    root = opened(document, "trip")
    faults = root.faults
    library = _Library(root, {}, [])
    aircraft = library.fetch(root.get("aircraft"), "aircraft", read_aircraft)
    policy, unread = _standard(root, library)
    answers = _answers(root.get("answers"), policy, unread=unread)
    real_times(root)
    papers = _papers(root, library, aircraft)
    out = faults.part(root.get("departure"), lambda each: _use(root, each, library))
    fuel = faults.part(root, lambda each: read_fuel(each, aircraft))
    loaded = faults.part(root.get("load"), lambda each: read_load(each, aircraft, fuel))
    weights = Weights(root.get("load"), loaded)
    departure = faults.part(root.get("departure"), lambda each: _departure(each, out, aircraft, weights))
    route = _route(root, aircraft, departure, library, fuel)
    least_gal, onward_gal, stop_lb = _burns(route, aircraft, departure, fuel)
    home_at, other_at = _reached(route, aircraft, departure, fuel)
    home = faults.part(root.get("arrival"), lambda each: _use(root, each, library, home_at))
    other = faults.part(root.get("alternate"), lambda each: _use(root, each, library, other_at))
    unknown = onward_gal is None or not _burn_is_said(root)
    weights = weights.after_burn(aircraft and aircraft.balance, least_gal, unknown=unknown)
    arrival = faults.part(root.get("arrival"), lambda each: _arrival(each, home, aircraft, weights))
    not_too_heavy(root, None if unknown else stop_lb, (departure, arrival), aircraft)
    alternate = _alternate(root, route, (other, arrival), aircraft, (onward_gal, stop_lb))
    lighter_on_landing(root, least_gal, aircraft, weights.loaded)
    fuel = one_fuel(root, fuel, weights.loaded, aircraft.usable_fuel_gal if aircraft else None)
    if library.problems or faults.refused or not (aircraft and departure and arrival):
        return None, root, [*library.problems, *faults.problems]
    trip = Trip(
        **_said(root),
        aircraft=aircraft,
        departure=departure,
        arrival=arrival,
        policy=policy,
        not_for_flight=_not_for_flight(root, aircraft, departure, arrival, policy, alternate, papers),
        load=weights.loaded.load if weights.loaded else None,
        answers=answers,
        route=route,
        fuel=fuel,
        alternate=alternate,
        files=library.files(policy),
        **papers,
    )
    return trip, root, faults.problems


def _said(root: Entry) -> dict[str, Any]:
    """Return what the trip file says of itself."""
    return {
        "title": root.text("trip"),
        "as_of": root.text("as_of"),
        "prepared": root.text("prepared"),
        "crew": root.text("crew"),
        "remarks": tuple(str(each.value) for each in root.items("remarks")),
    }


def _standard(root: Entry, library: _Library) -> tuple[Policy | None, bool]:
    """Return the policy's layers laid over one another, and whether one of them could not be read."""
    club = library.fetch(root.get("policy"), "policy", read_policy)
    personal = library.fetch(root.get("personal"), "policy", read_policy)
    today = root.faults.part(root.get("today"), lambda each: read_layer(each, "this trip"))
    layers = [layer for layer in (club, personal, today) if layer]
    unread = any(root.get(key) and not layer for key, layer in (("policy", club), ("personal", personal)))
    return reduce(stricter, layers) if layers else None, unread


def _route(
    root: Entry,
    aircraft: Aircraft | None,
    departure: Departure | None,
    library: _Library,
    fuel: Fuel | None,
) -> Route | None:
    """Return the route, as far as it can be read; none without an airplane and two fields."""
    end, instead = (library.strip(root.get(key)) for key in ("arrival", "alternate"))
    if not (aircraft and departure and end):
        return None
    return root.faults.part(root, lambda each: read_route(each, (departure, end), aircraft, fuel, instead))


def _burns(
    route: Route | None, aircraft: Aircraft | None, departure: Departure | None, fuel: Fuel | None
) -> tuple[float | None, float | None, float | None]:
    """Return the least that the trip burns [gal], see `least_burn`; and that the way to the alternate takes.

    The latter is None where the way cannot be worked for want of the departure's air. Then the weight [lb] on
    landing at the fuel stop, None without one; where the way cannot be worked nothing is counted as burnt.
    """
    if not (route and aircraft and departure):
        return least_burn(fuel, None), 0.0, None
    found = navigate(route, aircraft.deviation, tables(aircraft, departure, fuel))
    stop_lb = stop_weight(route, found, departure.weight_lb, aircraft)
    if found.refused or found.alternate_refused:
        return least_burn(fuel, found), None, departure.weight_lb if route.fuel_stop else None
    return least_burn(fuel, found), found.alternate.least_gal if found.alternate else 0.0, stop_lb


def _reached(
    route: Route | None, aircraft: Aircraft | None, departure: Departure | None, fuel: Fuel | None
) -> tuple[datetime | None, datetime | None]:
    """Return when the destination and the alternate are reached, to look their weather up for; None: not known."""
    if route and route.takeoff and aircraft and departure:
        return reached(route.takeoff, navigate(route, aircraft.deviation, tables(aircraft, departure, fuel)))
    if fuel and fuel.takeoff and fuel.circuits_s is not None:
        return reached(fuel.takeoff, fuel.circuits_s / 60)
    return None, None


def _alternate(
    root: Entry,
    route: Route | None,
    there: tuple[Use | None, Arrival | None],
    aircraft: Aircraft | None,
    burns: tuple[float | None, float | None],
) -> Arrival | None:
    """Return the landing at the alternate, by its runway and that at the destination; None without.

    `burns`: what the way there takes [gal], and the weight [lb] on landing at the fuel stop, by `_burns`.
    """
    use, (onward_gal, stop_lb) = there[0], burns
    if not (route and route.fuel_stop and use and route.fuel_stop.leg.to == use.strip.name):
        stop_lb = None  # the stop is elsewhere
    alternate = root.faults.part(
        root.get("alternate"), lambda each: read_alternate(each, *there, aircraft, onward_gal, stop_lb)
    )
    one_alternate(root, alternate)
    return alternate


def _burn_is_said(root: Entry) -> bool:
    """Say whether something in the trip file says what is burnt, whether or not it can be read."""
    fuel = root.get("fuel")
    return root.get("route") is not None or (fuel is not None and fuel.get("circuits") is not None)


def _papers(root: Entry, library: _Library, aircraft: Aircraft | None) -> dict[str, Any]:
    """Return the fields of a trip that papers and confirmations are; a fault where they are another airplane's."""
    papers = library.fetch(root.get("papers"), "papers", read_airplane_papers)
    if aircraft and papers and papers.registration != aircraft.registration:
        message = f"these are the papers of {papers.registration}, and the airplane is {aircraft.registration}"
        root["papers"].fault(message, "name the papers file of this airplane")
    aboard = root.get("passengers")
    return {
        "pilot": library.fetch(root.get("pilot"), "pilot", read_pilot),
        "papers": papers,
        "passengers": aboard.value if aboard and isinstance(aboard.value, bool) else None,
        "confirmed": read_confirmed(root.get("confirmed")),
    }


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


class _Library:
    """The files that a trip refers to: each read once, all inside the trip's own folder."""

    def __init__(self, root: Entry, read_before: dict[tuple[Path, str], Any], problems: list[Problem]) -> None:
        self.root, self.read_before, self.problems = root, read_before, problems
        self.folder = root.faults.document.path.resolve().parent
        self.prefix = root.faults.document.name[: -len(root.faults.document.path.name)]
        self.given: dict[str, bytes] = {}  # the files read, by their names within the folder

    def fetch(self, reference: Entry | None, kind: str, read_kind: Callable[[Entry], T]) -> T | None:
        """Return what a reference leads to; None, with the faults noted, if that cannot be read."""
        if reference is None or not isinstance(reference.value, str):
            return None
        if reference.faults.touch(reference.place):
            return None
        target = self._target(reference)
        if target is None:
            reference.faults.refused.add(reference.place)  # told once, however often it is asked for
            return None
        if (target, kind) not in self.read_before:
            self.read_before[target, kind] = None
            try:
                document = read(target, self.prefix + reference.value)
                self.given[self._named(reference.value)] = document.content
                another = another_kind(document, kind)
                if another:
                    reference.fault(f"'{reference.value}' {another}")
                    return None
                opened_one = opened(document, kind)
                for name, content in opened_one.faults.document.sheets.items():  # beside it, or below it
                    self.given[self._named(str(Path(reference.value).parent / name))] = content
                self.read_before[target, kind] = read_kind(opened_one)
            except InputFault as fault:
                self.problems += fault.problems
        found: T | None = self.read_before[target, kind]
        return found

    def strip(self, entry: Entry | None) -> Strip | None:
        """Return the strip that a departure, arrival or alternate names."""
        return self.fetch(entry.get("strip"), "strip", read_strip) if entry else None

    def files(self, policy: Policy | None) -> tuple[Given, ...]:
        """Return every file that the trip was read from, the trip file first, and those of its policy's rules."""
        rules = {self._named(path): bytes_of(Path(path), name) for path, name in policy.rules} if policy else {}
        document = self.root.faults.document
        found = {document.path.name: document.content, **dict(sorted((self.given | rules).items()))}
        return tuple(Given(name, content) for name, content in found.items())

    def _named(self, reference: str) -> str:
        return Path(os.path.normpath(self.folder / reference)).relative_to(self.folder).as_posix()

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


def _not_for_flight(
    root: Entry,
    aircraft: Aircraft,
    departure: Departure,
    arrival: Arrival,
    policy: Any,
    other: Arrival | None,
    papers: dict[str, Any],
) -> str:
    """Return the mark of invented data: one invented part marks the whole brief."""
    parts = (aircraft, departure.use.strip, arrival.use.strip, policy, other.use.strip if other else None)
    marks = [root.text("not_for_flight"), *(part.not_for_flight for part in parts if part)]
    marks += [papers[key].not_for_flight for key in ("pilot", "papers") if papers[key]]
    return next((mark for mark in marks if mark), "")


def _departure(entry: Entry, use: Use | None, aircraft: Aircraft | None, weights: Weights) -> Departure | None:
    weight_lb = weights.of(entry, "takeoff", aircraft.maximum_takeoff_lb if aircraft else None)
    flaps, climb_flaps = read_flaps(entry, "flaps", aircraft), read_flaps(entry, "climb_flaps", aircraft)
    if not use or weight_lb is None:
        return None
    return Departure(use, weight_lb, flaps, entry.text("technique"), climb_flaps)


def _arrival(entry: Entry, use: Use | None, aircraft: Aircraft | None, weights: Weights) -> Arrival | None:
    weight_lb = weights.of(entry, "landing", aircraft.maximum_landing_lb if aircraft else None)
    flaps, partial = read_flaps(entry, "flaps", aircraft), read_flaps(entry, "partial_flaps", aircraft)
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


def _use(root: Entry, entry: Entry, library: _Library, reached_at: datetime | None = None) -> Use | None:
    """Return a runway in use; `reached_at`: when the airplane is there, where that is worked."""
    place = "destination" if entry.place == ("arrival",) else entry.place[-1]
    strip = library.strip(entry)
    clock = read_clock(root, entry, strip)
    if strip is None:
        entry.faults.part(entry.get("conditions"), lambda each: read_conditions(each, None, None))
        return None
    ident = entry["runway"]
    found: tuple[Runway, End, End] | None = strip.end(str(ident.value))
    given = entry.get("conditions")
    conditions: Conditions | NotGiven | None = NotGiven(f"the trip file gives no conditions at the {place}")
    if given is not None:
        conditions = entry.faults.part(
            given, lambda each: read_conditions(each, found[0].surface if found else None, strip, reached_at)
        )
    if found is None:
        if not entry.faults.touch(ident.place):
            ident.fault(f"{strip.name} has no runway '{ident.value}'", f"its runways are {', '.join(strip.idents)}")
        return None
    special = entry.get("special_vfr")
    if special is not None and strip.airspace == "G" and not special.faults.touch(special.place):
        special.fault(f"{strip.name} is in class G, which has no surface area: no special VFR", "leave it out")
    runway, end, opposite = found
    phase = "takeoff" if place == "departure" else "landing"
    if not (end.takeoff if phase == "takeoff" else end.landing):
        other = end.ident if opposite is end else opposite.ident
        ident.fault(
            f"the strip file does not allow a {phase} on runway {end.ident} ('use' there)",
            f"the other end is {other}",
        )
    if conditions is None:
        return None
    return Use(strip, runway, end, opposite, conditions, clock, entry.text("special_vfr"))

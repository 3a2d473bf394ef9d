"""What an airplane's papers and equipment must be for a flight, and through when: 14 CFR part 91.

For an airplane with a standard airworthiness certificate and one reciprocating engine, under visual rules.
Regulations change: the text in force governs. Not worked here: inspections by an approved program (91.409(e)), the
airplanes that need no emergency locator transmitter (91.207(f)), and inoperative items (91.213).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from briefgen.calc.due import Paper, answered, by_hours, by_months, until
from briefgen.figures import Source
from briefgen.model.papers import AirplanePapers, HoursLeft, Occasion

ANNUAL = Source("14 CFR 91.409(a)", "regulation")
HUNDRED_HOUR = Source("14 CFR 91.409(b)", "regulation", "second-hand")
ELT = Source("14 CFR 91.207(d)", "regulation", "second-hand")
ELT_BATTERY = Source("14 CFR 91.207(c)", "regulation")
TRANSPONDER = Source("14 CFR 91.413", "regulation", "second-hand")
STATIC = Source("14 CFR 91.411", "regulation")
REGISTRATION = Source("14 CFR 91.203(a)(2)", "regulation", "from memory")
DOCUMENTS = Source("14 CFR 91.203, 91.9", "regulation", "from memory")
DAY_EQUIPMENT = Source("14 CFR 91.205(b)", "regulation")
NIGHT_EQUIPMENT = Source("14 CFR 91.205(c)", "regulation", "second-hand")
LIGHTS = Source("14 CFR 91.209(a)", "regulation")

ANNUAL_MONTHS, ELT_MONTHS = 12, 12  # 91.409(a), 91.207(d)
TRANSPONDER_MONTHS, STATIC_MONTHS = 24, 24  # 91.413, 91.411
HUNDRED_HOURS_H = 100.0  # 91.409(b)

ON_BOARD = (
    "airworthiness certificate (displayed)",
    "registration certificate",
    "approved flight manual with its supplements",
    "placards and markings",
    "weight and balance data of this airplane",  # of the operating limitations of 91.9
)

# What an airplane has, which something else hangs on: endorsements (61.31) and equipment (91.205).
FEATURES: Mapping[str, str] = MappingProxyType(
    {
        "complex": "retractable gear, flaps and a controllable-pitch propeller",
        "high performance": "an engine of more than 200 hp",
        "tailwheel": "a tailwheel",
        "liquid-cooled": "a liquid-cooled engine",
        "air-cooled": "an air-cooled engine",
        "altitude engine": "an engine that holds its sea-level power to some altitude",
        "retractable gear": "landing gear that retracts",
        "certificated after 1996-03-11": "certificated under part 23 after that day",
        "made after 1978-07-18": "manufactured after that day",
        "transponder": "a transponder",
    }
)


class Equipment(NamedTuple):
    """One item of the rule's list. `feature`: only for airplanes that have it; `for_hire`: only when flown so."""

    name: str
    feature: str = ""
    for_hire: bool = False


DAY: tuple[Equipment, ...] = (
    Equipment("airspeed indicator"),
    Equipment("altimeter"),
    Equipment("magnetic direction indicator"),
    Equipment("tachometer"),
    Equipment("oil pressure gauge"),
    Equipment("coolant temperature gauge", "liquid-cooled"),
    Equipment("oil temperature gauge", "air-cooled"),
    Equipment("manifold pressure gauge", "altitude engine"),
    Equipment("fuel gauge for each tank"),
    Equipment("landing gear position indicator", "retractable gear"),
    Equipment("anticollision lights", "certificated after 1996-03-11"),
    Equipment("flotation gear and a signaling device (over water beyond gliding distance)", for_hire=True),
    Equipment("safety belts"),
    Equipment("shoulder harness for each front seat", "made after 1978-07-18"),
    Equipment("emergency locator transmitter"),
)
NIGHT: tuple[Equipment, ...] = (
    Equipment("position lights"),
    Equipment("anticollision lights"),
    Equipment("landing light", for_hire=True),
    Equipment("source of electrical energy"),
    Equipment("spare fuses (a set or three of each kind) in reach"),
)


def airplane_papers(airplane: AirplanePapers, flight: Occasion) -> tuple[Paper, ...]:
    """Return every paper of an airplane for a flight, each with its standing.

    Parameters
    ----------
    airplane : what its papers say.
    flight : when the flight is, how long [h], whether at night and for hire.
    """
    return (
        by_months("annual", "annual inspection", ANNUAL, airplane.annual, ANNUAL_MONTHS, flight),
        _hundred_hour(airplane, flight),
        *_avionics(airplane, flight),
        by_months("elt", "emergency locator transmitter", ELT, airplane.elt_inspected, ELT_MONTHS, flight),
        until("elt-battery", "emergency locator's battery", ELT_BATTERY, airplane.elt_battery_through, flight),
        until("registration", "registration", REGISTRATION, airplane.registration_through, flight),
        *(by_hours(f"hours-{due.name.lower().replace(' ', '-')}", due, flight) for due in airplane.by_hours),
        answered("on-board", "on board", DOCUMENTS, {name: airplane.on_board.get(name) for name in ON_BOARD}),
        answered("equipment-day", "equipment", DAY_EQUIPMENT, _equipment(DAY, airplane, flight)),
        _night(airplane, flight),
    )


def _avionics(airplane: AirplanePapers, flight: Occasion) -> list[Paper]:
    """Return the transponder, where there is one, and the static system, which visual rules do not ask about."""
    transponder = by_months(
        "transponder", "transponder", TRANSPONDER, airplane.transponder, TRANSPONDER_MONTHS, flight
    )
    static = by_months(
        "static-system", "static system and altimeter", STATIC, airplane.static_system, STATIC_MONTHS, flight
    )
    static = static._replace(asked_of="flights under instrument rules in controlled airspace")
    return [transponder, static] if airplane.features.get("transponder", True) else [static]


def _hundred_hour(airplane: AirplanePapers, flight: Occasion) -> Paper:
    """Return the 100-hour inspection, asked for unless the papers say that it is not.

    The 10 h past it, to reach a place where it can be done, are not offered.
    """
    since_h = airplane.since_hundred_hour_h
    left_h = None if since_h is None else HUNDRED_HOURS_H - since_h
    found = by_hours("hundred-hour", HoursLeft("100-hour inspection", left_h, HUNDRED_HOUR), flight)
    if airplane.hundred_hour is None and since_h is None:
        found = found._replace(reason=f"{found.reason}, nor whether it is asked of this airplane")
    if airplane.hundred_hour is not False or flight.for_hire:
        return found
    return found._replace(asked_of="airplanes that carry persons, or are instructed in, for hire")


def _equipment(items: tuple[Equipment, ...], airplane: AirplanePapers, flight: Occasion) -> dict[str, bool | None]:
    """Return the answers to those items of a list that this airplane and flight must have."""
    return {
        item.name: airplane.equipment.get(item.name)
        for item in items
        if (not item.feature or airplane.features.get(item.feature, True))
        and (flight.for_hire or not item.for_hire)
    }


def _night(airplane: AirplanePapers, flight: Occasion) -> Paper:
    """Return what a flight at night needs besides; where it is after sunset but not night, position lights only."""
    items = _equipment(NIGHT, airplane, flight)
    if flight.night is False and flight.after_sunset is not False:
        lights = NIGHT[0].name
        return answered("equipment-night", "equipment, from sunset to sunrise", LIGHTS, {lights: items[lights]})
    found = answered("equipment-night", "equipment at night, besides", NIGHT_EQUIPMENT, items)
    return found._replace(asked_of="flights at night") if flight.night is False else found

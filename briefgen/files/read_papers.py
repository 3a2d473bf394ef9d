"""Read the papers of a pilot and of an airplane, and what a trip file confirms by hand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date, datetime

from briefgen.calc.airplane_papers import DAY, FEATURES, NIGHT, ON_BOARD
from briefgen.calc.pilot_papers import CARRIED, ENDORSEMENTS
from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.model.confirmed import Confirmed
from briefgen.model.papers import AirplanePapers, BasicMed, ClubPaper, HoursLeft, LogLine, Medical, PilotPapers

_CLASSES = {"first": 1, "second": 2, "third": 3}
_MOST_SECONDS = 10_000 * 3600.0
_FORTY = 40
_SAID = {"full_stop": "landings to a full stop"}
_OLDEST = 110


def key_of(name: str) -> str:
    """Return the key of a thing that papers name in words, without what stands in brackets.

    >>> key_of("airworthiness certificate (displayed)")
    'airworthiness_certificate'
    """
    return re.sub(r"[^a-z0-9]+", "_", re.sub(r"\(.*?\)", "", name).lower()).strip("_")


def read_pilot(root: Entry) -> PilotPapers:
    """Return the papers of a pilot file.

    Raises
    ------
    InputFault : every fault of the file.
    """
    faults = root.faults
    medical = faults.part(root.get("medical"), _medical)
    basic = root.get("basicmed")
    log = None if root.get("landings") is None else faults.parts(root.items("landings"), _line)
    club = faults.parts(root.items("club"), _club)
    _once_each(root.items("club"))
    papers = PilotPapers(
        student=root.text("certificate") == "student",
        flight_review=_date(root.get("flight_review")),
        medical=medical,
        basic_med=BasicMed(_date(basic.get("course")), _date(basic.get("examined"))) if basic else None,
        log=log,
        solo=_date(root.get("solo_endorsement")),
        solo_cross_country=_date(root.get("solo_cross_country_endorsement")),
        held=_answers(root.get("endorsements"), ENDORSEMENTS),
        carried=_answers(root.get("carried"), CARRIED),
        club=club,
        name=root.text("pilot"),
        certificate=root.text("certificate"),
        not_for_flight=root.text("not_for_flight"),
    )
    faults.stop()
    return papers


def read_airplane_papers(root: Entry) -> AirplanePapers:
    """Return the papers of an airplane's papers file.

    Raises
    ------
    InputFault : every fault of the file.
    """
    faults = root.faults
    hundred, elt = root.get("hundred_hour"), root.get("elt")
    by_hours = faults.parts(root.items("due_by_hours"), _due)
    _once_each(root.items("due_by_hours"))
    papers = AirplanePapers(
        annual=_date(root.get("annual")),
        hundred_hour=_answers(hundred, ("required",)).get("required"),
        since_hundred_hour_h=_hours(hundred, "since"),
        elt_inspected=_date(elt.get("inspected")) if elt else None,
        elt_battery_through=_date(elt.get("battery_through")) if elt else None,
        transponder=_date(root.get("transponder")),
        static_system=_date(root.get("static_system")),
        registration_through=_date(root.get("registration_through")),
        on_board=_answers(root.get("on_board"), ON_BOARD),
        equipment=_answers(root.get("equipment"), (each.name for each in (*DAY, *NIGHT))),
        features=_answers(root.get("features"), FEATURES),
        by_hours=by_hours,
        registration=root.text("papers_of"),
        not_for_flight=root.text("not_for_flight"),
    )
    faults.stop()
    return papers


def read_confirmed(entry: Entry | None) -> Mapping[str, Confirmed]:
    """Return what a trip file confirms by hand, by its keys; a time that is none is a fault."""
    found: dict[str, Confirmed] = {}
    for key in entry.value if entry and isinstance(entry.value, dict) else ():
        given = entry[key] if entry else None
        if given is None or given.faults.touch(given.place):
            continue
        at = given["at"]
        try:
            datetime.fromisoformat(str(at.value))
        except ValueError:
            at.fault(f"'{at.value}' is no date and time of the calendar", "look at the day, the month and the hour")
            continue
        found[key] = Confirmed(given.text("by"), str(at.value))
    return found


def _date(entry: Entry | None) -> date | None:
    """Return a day; None where none is given, or with the fault noted where it is none of the calendar."""
    if entry is None or entry.faults.touch(entry.place):
        return None
    try:
        day = date.fromisoformat(str(entry.value))
    except ValueError:
        entry.fault(f"'{entry.value}' is no date of the calendar", "look at the day and the month")
        return None
    if not 1900 <= day.year < 2100:
        entry.fault(f"{entry.value} is no date that can stand in these papers", "look at the year")
        return None
    return day


def _hours(entry: Entry | None, key: str) -> float | None:
    """Return a time in service [h]."""
    seconds = entry.optional(key, "duration", 0, _MOST_SECONDS) if entry else None
    return None if seconds is None else seconds / 3600


def _answers(entry: Entry | None, names: Iterable[str]) -> dict[str, bool]:
    """Return the answers that a group gives, by the names that the rules use."""
    given = {name: entry.get(key_of(name)) for name in names} if entry else {}
    return {
        name: each.value for name, each in given.items() if each is not None and not each.faults.touch(each.place)
    }


def _medical(entry: Entry) -> Medical | None:
    examined, born = _date(entry["examined"]), _date(entry.get("born"))
    if examined is None or entry.faults.touch(entry.place):
        return None
    certificate = _CLASSES[entry.text("class")]
    if born is None:
        return Medical(examined, certificate)
    years = examined.year - born.year - ((examined.month, examined.day) < (born.month, born.day))
    if not 0 < years < _OLDEST:
        message = f"nobody born on {born} was examined on {examined}"
        entry["born"].fault(message, "look at both dates")
    return Medical(examined, certificate, years < _FORTY)


def _line(entry: Entry) -> LogLine | None:
    """Return one day of the log; a part of its takeoffs or landings that is more than all is a fault."""
    day, keys = _date(entry["date"]), ("takeoffs", "landings", "full_stop", "night_takeoffs", "night_full_stop")
    if day is None or entry.faults.touch(entry.place):
        return None
    given = {key: found.value if (found := entry.get(key)) else 0 for key in keys}
    for part, whole in (
        ("full_stop", "landings"),
        ("night_takeoffs", "takeoffs"),
        ("night_full_stop", "full_stop"),
    ):
        if given[part] > given[whole]:
            message = f"'{part}' is {given[part]}, more than the {given[whole]} of '{whole}'"
            entry[part].fault(message, f"it is how many of the {_SAID.get(whole, whole)}")
    tailwheel = entry.get("tailwheel")
    return LogLine(
        day,
        given["takeoffs"],
        given["landings"],
        given["full_stop"],
        tailwheel is not None and tailwheel.value is True,
        given["night_takeoffs"],
        given["night_full_stop"],
    )


def _club(entry: Entry) -> ClubPaper | None:
    months, days, done = entry.get("months"), entry.get("days"), _date(entry.get("done"))
    if entry.faults.touch(entry.place):
        return None
    if months and days:
        days.fault("'days' and 'months' cannot both be given", "keep the one that the club means")
    source = Source(entry.text("source"), "policy")
    return ClubPaper(
        entry.text("name"), done, source, months.value if months else None, days.value if days else None
    )


def _due(entry: Entry) -> HoursLeft:
    return HoursLeft(entry.text("name"), _hours(entry, "left"), Source(entry.text("source"), "policy"))


def _once_each(entries: list[Entry]) -> None:
    """Note a name that stands twice."""
    seen: set[str] = set()
    for entry in entries:
        name = entry.text("name").lower()
        if name in seen and entry.get("name"):
            entry["name"].fault(f"'{entry.text('name')}' stands twice", "give each a name of its own")
        seen.add(name)

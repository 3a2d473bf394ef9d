"""The whole way, from a file to a Brief: one function per arrow."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from briefgen.brief import Brief, assemble
from briefgen.calc.flight import fly
from briefgen.errors import InputFault, Problem
from briefgen.files.entry import Entry
from briefgen.files.read_trip import read_trip
from briefgen.items import Item
from briefgen.model.trip import Trip
from briefgen.rules.engine import PACKS, load, raise_cautions

# Where in the trip file an input of a chart or a note was typed.
_TYPED = {
    "temperature_degC": ("conditions", "temperature"),
    "pressure_altitude_ft": ("conditions", "altimeter"),
    "weight_lb": ("weight",),
    "above standard temperature": ("conditions", "temperature"),
    "tailwind": ("conditions", "wind"),
    "upslope": ("runway",),
    "downslope": ("runway",),
}
_LEGS = {"takeoff-roll": "departure", "takeoff-50": "departure", "landing": "arrival"}


def read(path: Path, name: str) -> Trip:
    """Read a trip file and all that it refers to, and refuse what its airplane's charts refuse.

    Raises
    ------
    InputFault : every fault, each with its file, line and column.
    """
    trip, root = read_trip(path, name)
    off_the_chart(root, work(trip).items)
    return trip


def work(trip: Trip) -> Brief:
    """Work a trip: model in, Brief out, cautions left to the rules."""
    return assemble(trip, fly(trip))


def brief_of(path: Path, name: str) -> Brief:
    """Return the finished Brief of a trip file; raises InputFault as `read` does."""
    trip, root = read_trip(path, name)
    brief = work(trip)
    off_the_chart(root, brief.items)
    return caution(brief)


def caution(brief: Brief) -> Brief:
    """Return a Brief with the cautions that the rules raise on its facts."""
    return replace(brief, cautions=raise_cautions(load(PACKS / "base.yaml"), brief.facts))


def off_the_chart(root: Entry, items: tuple[Item, ...]) -> None:
    """Refuse a trip whose planned takeoff or landing asks a chart for more than it prints.

    Raises
    ------
    InputFault : placed at the value that was typed.
    """
    problems: list[Problem] = []
    for row in items:
        leg = _LEGS.get(row.id)
        if leg is not None and row.about in _TYPED:
            place = (leg, *_TYPED[row.about])
            problems.append(root.faults.document.problem(place, f"{leg}: {row.reason}"))
    if problems:
        raise InputFault(problems)

"""The whole way, from a file to a Brief: one function per arrow.

What only the Brief and its cautions need is imported there, so that `check` stays quick.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from briefgen.calc.flight import fly
from briefgen.errors import InputFault, Problem
from briefgen.files.entry import Entry
from briefgen.files.read_trip import read_as_far
from briefgen.item import Item
from briefgen.items import required_items
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.trip import Trip

if TYPE_CHECKING:
    from briefgen.brief import Brief
    from briefgen.rules.engine import Rule

# Where in the trip file an input of a chart or a note was typed.
_TYPED = {
    "temperature_degC": ("conditions", "temperature"),
    "above_standard_degC": ("conditions", "temperature"),
    "density_altitude_ft": ("conditions", "temperature"),
    "pressure_altitude_ft": ("conditions", "altimeter"),
    "weight_lb": ("weight",),
    "above standard temperature": ("conditions", "temperature"),
    "tailwind": ("conditions", "wind"),
    "upslope": ("runway",),
    "downslope": ("runway",),
}
_BEYOND = {
    "pressure_altitude_ft": "from the strip's elevation and this setting; no table is used past what it prints",
    "density_altitude_ft": "of this temperature and the altimeter; no table is used past what it prints",
    "above_standard_degC": "no table is used past what it prints",
    "temperature_degC": "no table is used past what it prints",
    "weight_lb": "no table is used past what it prints; a lighter one only with beyond: {light: edge} in its table",
}
_RENAME = "give it a name of its own; no file can leave out or soften a rule of another"
_LEGS = {"takeoff-roll": "departure", "takeoff-50": "departure", "landing": "arrival"}


def check(path: Path, name: str) -> tuple[Item, ...]:
    """Return the items of a trip file worked; raises InputFault as `checked` does."""
    return checked(path, name)[1]


def checked(path: Path, name: str) -> tuple[Trip, tuple[Item, ...]]:
    """Read a trip file and all that it refers to, and return it with its items worked; the short way, for no sheet.

    Raises
    ------
    InputFault : every fault, each with its file, line and column; and what the airplane's charts refuse.
    """
    trip, root, problems = read_as_far(path, name)
    if trip is None:
        raise InputFault(problems)
    items = required_items(trip, fly(trip))
    refuse([*problems, *_faults_of_rules(trip.policy)], off_the_chart(root, items))
    return trip, items


def brief_of(path: Path, name: str, prepared: str = "") -> Brief:
    """Return the finished Brief of a trip file; raises InputFault as `check` does.

    `prepared` is when, in place of what the trip file says of that.
    """
    trip, root, problems = read_as_far(path, name)
    if trip is None:
        raise InputFault(problems)
    if prepared:
        trip = trip._replace(prepared=prepared)
    rules, faults = rules_of(trip.policy)
    if problems or faults:
        refuse([*problems, *faults], off_the_chart(root, required_items(trip, fly(trip))))
    brief = work(trip)
    refuse([], off_the_chart(root, brief.items))
    return caution(brief, rules)


def work(trip: Trip) -> Brief:
    """Work a trip: model in, Brief out, cautions left to the rules."""
    from briefgen.brief import assemble

    return assemble(trip, fly(trip))


def caution(brief: Brief, rules: tuple[Rule, ...]) -> Brief:
    """Return a Brief with the cautions that rules raise on its facts."""
    from briefgen.rules.engine import raise_cautions

    raised = raise_cautions(rules, brief.facts, brief.said)
    printed = tuple(each for each in raised if not each.folded_into)
    return replace(brief, cautions=printed, folded=tuple(each for each in raised if each.folded_into))


def rules_of(policy: Policy | None, *, own_only: bool = False) -> tuple[tuple[Rule, ...], list[Problem]]:
    """Return the rules of the policy's packs and own files, as serious as its layers make them; and all faults."""
    from briefgen.rules.engine import PACKS
    from briefgen.rules.pack import raised, read_pack

    policy = policy or NO_POLICY
    rules: list[Rule] = []
    problems: list[Problem] = []
    packs = () if own_only else dict.fromkeys(("base", *policy.packs))  # no policy does without the base pack
    files = [(PACKS / f"{name}.yaml", f"{name}.yaml") for name in packs]
    for path, name in [*files, *((Path(path), name) for path, name in policy.rules)]:
        try:
            found = read_pack(path, name)
            taken = {rule.id for rule in rules} & {rule.id for rule in found}
            problems += [Problem(name, 1, 1, f"another file of rules has '{id}' too", _RENAME) for id in taken]
            rules += found
        except InputFault as fault:
            problems += fault.problems
    if problems:
        return tuple(rules), problems
    return raised(tuple(rules), policy.severities)


def _faults_of_rules(policy: Policy | None) -> list[Problem]:
    """Return the faults of what a policy brings or says of rules; packs that come with the program have none."""
    if policy is None or not (policy.rules or policy.severities):
        return []
    return rules_of(policy, own_only=not policy.severities)[1]


def refuse(problems: list[Problem], off_chart: list[Problem]) -> None:
    """Raise InputFault for any problem; what a chart refuses of a value with a fault goes without saying."""
    places = {(problem.line, problem.column) for problem in problems}
    found = [*problems, *(each for each in off_chart if (each.line, each.column) not in places)]
    if found:
        raise InputFault(found)


def off_the_chart(root: Entry, items: tuple[Item, ...]) -> list[Problem]:
    """Return what the planned takeoff and landing ask of a chart that it does not print, where each was typed."""
    problems: list[Problem] = []
    for row in items:
        leg = _LEGS.get(row.id)
        if leg is not None and row.about in _TYPED:
            place: tuple[str, ...] = (leg, *_TYPED[row.about])
            if row.about == "weight_lb" and root[leg].get("weight") is None:
                place = ("load",)  # which it comes out of
            hint, sent = _BEYOND.get(row.about, ""), _sent(root[leg], place)
            if sent:
                place, hint = (leg, "conditions", sent), f"no '{place[-1]}' is typed, so it is as sent"
            problems.append(root.faults.document.problem(place, f"{leg}: {row.reason}", hint))
    return problems


def _sent(leg: Entry, place: tuple[str, ...]) -> str:
    """Return which text a condition that is not typed was taken from, 'report' or 'forecast'; '' where it is."""
    conditions = leg.get("conditions")
    if conditions is None or "conditions" not in place or conditions.get(place[-1]) is not None:
        return ""
    return next((key for key in ("report", "forecast") if conditions.get(key) is not None), "")

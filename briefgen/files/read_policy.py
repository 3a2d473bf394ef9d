"""Read a policy file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from briefgen.fact_list import FACTS
from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.files.read_guidance import KNOWN, published
from briefgen.files.read_notes import read_note
from briefgen.files.read_weather import miles
from briefgen.handbook.causes import CAUSES
from briefgen.handbook.notes import Note, published_first
from briefgen.model.layers import PRESENTED, STRICTER
from briefgen.model.policy import (
    NEAREST_WORSE,
    Asked,
    Braking,
    Factor,
    Letterhead,
    Policy,
    Raised,
    Rework,
    Touchdown,
)

_COMMON = "common practice, no source"
_WORKED = frozenset(path[6:].replace("_", "-") for path in FACTS if path.startswith("items."))


def read_policy(root: Entry) -> Policy:
    """Return the standard of a file.

    Raises
    ------
    InputFault : every fault of the file.
    """
    policy = read_layer(root, root.text("policy", "policy"))
    root.faults.stop()
    return policy


def read_layer(root: Entry, name: str) -> Policy:
    """Return the standard that a group of keys gives, as far as it can be read; its faults are noted."""
    faults = root.faults
    by_policy = Source(name, "policy")
    chosen = faults.parts(root.items("guidance_sets"), _from_set)
    own = faults.parts(root.items("guidance"), _guidance)
    guidance = published_first([*(note for notes in chosen for note in notes), *own])
    braking = faults.parts(root.items("braking"), _braking)
    values: dict[str, Any] = {}
    for key, read in _READERS.items():
        values |= faults.part(root.get(key), read) or {}
    touchdown = faults.part(root.get("touchdown"), lambda each: read_touchdown(each, by_policy))
    rework = faults.part(root.get("rework"), lambda each: _rework(each, by_policy))
    rules = faults.part(root.get("rules"), _rules_file)
    asked = faults.parts(root.items("required_items"), _asked)
    _once_each(root.items("required_items"))
    return Policy(
        name=name,
        touchdown=touchdown,
        braking=braking,
        takeoff_guidance=tuple(note for phase, note in guidance if phase == "takeoff"),
        landing_guidance=tuple(note for phase, note in guidance if phase == "landing"),
        rework=rework,
        not_for_flight=root.text("not_for_flight"),
        packs=tuple(str(each.value) for each in root.items("packs")) or ("base",),
        rules=(rules,) if rules else (),
        severities=_severities(root.get("severities"), name),
        asked=asked,
        confirm=tuple(str(each.value) for each in root.items("confirm")),
        whose=dict.fromkeys((key for key in values if key in STRICTER or key in PRESENTED), name),
        **values,
    )


def read_touchdown(entry: Entry, source: Source) -> Touchdown:
    """Return a pilot's own touchdown figures."""
    aim, plain, up, zone = (
        entry[key].quantity("length", 0, 3000) for key in ("aim_point", "float", "float_flaps_up", "zone")
    )
    if up < plain:
        plain_text, up_text = entry["float"].value, entry["float_flaps_up"].value
        message = f"the float with the flaps up, {up_text}, is less than the float with flaps, {plain_text}"
        entry["float_flaps_up"].fault(message, "an airplane floats at least as far without flaps")
    return Touchdown(aim, plain, up, zone, source)


def _factors(entry: Entry) -> dict[str, Any]:
    phases = ((phase, entry.get(phase)) for phase in ("takeoff", "landing"))
    chosen = {phase: _factor(each, phase) for phase, each in phases if each}
    return {f"{phase}_factor": factor for phase, factor in chosen.items() if factor}


def _factor(entry: Entry, phase: str) -> Factor | None:
    """Return a safety factor: the policy's own, or that of a published set."""
    if entry.get("set") is None:
        return Factor(float(entry["factor"].value), _source(entry, "policy"))
    name = entry.text("set")
    if entry.faults.touch((*entry.place, "set")):
        return None
    found = published(name).factors.get(phase)
    if found is None:
        entry["set"].fault(
            f"'{name}' gives no safety factor for {phase}", "`briefgen guidance` lists what it gives"
        )
    return found


def _margins(entry: Entry) -> dict[str, Any]:
    phases = ((phase, entry.get(phase)) for phase in ("takeoff", "landing"))
    return {f"{phase}_margin_ft": each.quantity("length", 0, 5000) for phase, each in phases if each}


def _gust(entry: Entry) -> dict[str, Any]:
    return {
        "gust_share": entry.quantity("percent", 0, 1),
        "gust_source": Source(f"{entry.value} of the gust factor: the policy", "policy"),
    }


def _last_touchdown(entry: Entry) -> dict[str, Any]:
    part, whole = (float(each) for each in str(entry.value).split("/"))
    if not 0 < part < whole:
        message = f"{entry.value} is not a share between nil and all of the landing distance"
        entry.fault(message, "for example 1/3")
        return {}
    return {
        "last_touchdown_share": part / whole,
        "last_touchdown_source": Source(f"last touchdown at {entry.value} of LDA: the policy", "policy"),
    }


# How much of a headwind and of a tailwind counts; the last as CAT.POL.A.305(c)(6) and .330(c)(2) ask of operators.
_SHARES = {"whole steps": (1.0, 1.0), "pro rata": (1.0, 1.0), "half and half again": (0.5, 1.5)}


def _wind_credit(way: str) -> dict[str, Any]:
    return {"pro_rata_credit": way == "pro rata", "wind_shares": _SHARES[way]}


def _letterhead(entry: Entry) -> dict[str, Any]:
    lines = tuple(str(each.value) for each in entry.items("lines"))
    return {"letterhead": Letterhead(entry.text("name"), lines)}


# The single figures of a policy: each key, and the fields that it sets.
_READERS: dict[str, Callable[[Entry], dict[str, Any]]] = {
    "factors": _factors,
    "minimum_margin": _margins,
    "gust_additive": _gust,
    "last_touchdown": _last_touchdown,
    "wind_credit": lambda each: _wind_credit(str(each.value)),
    "interpolation": lambda each: {"nearest_worse": each.value == NEAREST_WORSE},
    "crosswind_maximum": lambda each: {"crosswind_maximum_kt": each.quantity("speed", 1, 40)},
    "approach_angle": lambda each: {"approach_angle_deg": each.quantity("angle", 2, 10)},
    "obstacle_clearance": lambda each: {"obstacle_clearance_ft": each.quantity("length", 0, 500)},
    "departure_clearance": lambda each: {"departure_clearance_ft": each.quantity("length", 0, 1000)},
    "reaction_time": lambda each: {"reaction_s": each.quantity("duration", 0.5, 10)},
    "turn_back_height": lambda each: {"turn_back_height_ft": each.quantity("length", 200, 5000)},
    "fuel_reserve": lambda each: {"fuel_reserve_s": each.quantity("duration", 0, 21_600)},
    "daylight_margin": lambda each: {"daylight_margin_s": each.quantity("duration", 0, 21_600)},
    "burn_margin": lambda each: {"burn_margin": each.quantity("percent", 0, 1)},
    "minimum_ceiling": lambda each: {"minimum_ceiling_ft": each.quantity("length", 0, 20_000)},
    "minimum_visibility": lambda each: {"minimum_visibility_SM": miles(each, 0, 50)},
    "report_age": lambda each: {"report_age_min": each.quantity("duration", 300, 86_400) / 60},
    "units": lambda each: {"units": str(each.value)},
    "page_size": lambda each: {"page_size": str(each.value)},
    "letterhead": _letterhead,
    "pages": lambda each: {"pages": tuple(str(page.value) for page in each.each())},
}


def _source(entry: Entry, kind: str) -> Source:
    known = entry.text("known", "read")
    if known == _COMMON:
        return Source(entry.text("source", "common practice"), "common practice", "no source")
    return Source(entry.text("source"), kind, KNOWN[known])


def _from_set(entry: Entry) -> tuple[tuple[str, Note], ...] | None:
    """Return the notes chosen of a published set: all, or those for the causes and the phase that are named."""
    if entry.faults.touch((*entry.place, "set")):
        return None
    name, rank = entry.text("set"), entry.text("rank")
    phase, causes = entry.text("phase"), [str(each.value) for each in entry.items("for")]
    given = [(of, note) for of, note in published(name).notes if phase in ("", of)]
    for each in entry.items("for"):
        if not any(note.cause == each.value for _, note in given):
            where = f" for {phase}" if phase else ""
            have = ", ".join(dict.fromkeys(note.cause for _, note in given))
            each.fault(f"'{name}' has no correction for {each.value}{where}", f"it has {have}")
    return tuple((of, replace(note, rank=rank)) for of, note in given if not causes or note.cause in causes)


def _guidance(entry: Entry) -> tuple[str, Note] | None:
    cause = CAUSES[entry.text("for")]
    if cause.of_airplane:
        message = f"{cause.name} is never taken from guidance"
        entry["for"].fault(message, "the handbook's own note goes into the aircraft file")
    source, meant = _source(entry, "published"), entry.text("valid")
    source = source._replace(text=f"{source.text}, for {meant}") if meant else source
    note = read_note(entry, source, entry.text("phase"), entry.text("rank"))
    return (entry.text("phase"), note) if note else None


def _braking(entry: Entry) -> Braking:
    return Braking(
        surface=entry.text("surface"),
        wet=bool(entry["wet"].value),
        deceleration_g=entry["deceleration"].quantity("deceleration", 0.02, 0.6),
        source=_source(entry, "policy"),
    )


def _severities(entry: Entry | None, by: str) -> tuple[Raised, ...]:
    if entry is None or entry.faults.touch(entry.place):
        return ()
    document = entry.faults.document
    return tuple(
        Raised(id, str(severity), by, document.problem((*entry.place, id), ""))
        for id, severity in entry.value.items()
    )


def _asked(entry: Entry) -> Asked:
    return Asked(entry.text("id"), entry.text("title"), Source(entry.text("source"), "policy"))


def _once_each(entries: list[Entry]) -> None:
    """Note an item that is asked for twice, or bears the name of one that is worked."""
    seen: set[str] = set()
    for entry in entries:
        id = entry.text("id")
        if id in seen:
            entry["id"].fault(f"the item '{id}' stands twice")
        if id in _WORKED:
            entry["id"].fault(f"'{id}' is an item that is worked", "give it a name of its own")
        seen.add(id)


def _rework(entry: Entry, source: Source) -> Rework:
    return Rework(
        after_s=entry["after"].quantity("duration", 60, 86_400),
        warmer_degC=entry["warmer"].quantity("temperature change", 0, 30),
        wind_kt=entry["wind"].quantity("speed", 0, 30),
        heavier_lb=entry["heavier"].quantity("weight", 0, 1000),
        source=source,
    )


def _rules_file(entry: Entry) -> tuple[str, str] | None:
    """Return where a rule file is, beside the policy file or below it, and as a message names it."""
    if entry.faults.touch(entry.place) or not isinstance(entry.value, str):
        return None
    document = entry.faults.document
    folder = document.path.resolve().parent
    target = (folder / str(entry.value)).resolve()
    if not target.is_relative_to(folder):
        entry.fault(
            f"'{entry.value}' leads outside the policy's folder", "put the file beside the policy file, or below it"
        )
        return None
    if not target.is_file():
        entry.fault(f"there is no file '{entry.value}' in the policy's folder")
        return None
    return str(target), document.name[: -len(document.path.name)] + str(entry.value)

"""Read correction notes: a handbook's, or guidance that a policy chose."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

from briefgen import units
from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.handbook.causes import CAUSES, Cause
from briefgen.handbook.notes import ITSELF, Note, said

BASE = {"itself": ITSELF, "ground roll": "roll", "over 50 ft": "total"}
ANY = "any amount"
_ALL = "all of it"
_FACTOR = re.compile(r"[0-9](\.[0-9]+)?")
_ALIKE = ("percent_of", "of", "steps", "in_feet")
CHANGES = {"ground roll": ("roll",), "over 50 ft": ("total",), "both": ("roll", "total")}


def page_source(title: str, page: str) -> Source:
    """Return the source of something on a page of the handbook."""
    return Source(f"{title} p. {page}")


def read_notes(entry: Entry, title: str, phase: str) -> tuple[Note, ...]:
    """Return a table's own notes: what is printed for more of a cause joined to the note for less of it."""
    found: list[Note] = []
    for each in entry.items("notes"):
        note = entry.faults.part(each, lambda one: read_note(one, page_source(title, one.text("page")), phase))
        applies = each.get("applies")
        if note is None or (applies and applies.value is False):
            continue
        if note.above:
            _join(each, note, found)
        else:
            found.append(note)
    return tuple(found)


def _join(entry: Entry, note: Note, found: list[Note]) -> None:
    """Put a further note after the one that it goes on from; a fault where they do not fit together."""
    alike = [i for i, each in enumerate(found) if (each.cause, each.changes) == (note.cause, note.changes)]
    if not alike:
        hint = "the note for less of it stands before it, for the same distances, with its 'up_to'"
        entry["above"].fault(f"no note for {note.cause} stands before this one", hint)
        return
    before = found[alike[-1]]
    last = before.further[-1] if before.further else before
    joined = replace(before, further=(*before.further, note))
    just = note.above * 1.000001
    if last.up_to != note.above:
        ends = "has no 'up_to'" if last.up_to is None else f"ends at {said(last.up_to, CAUSES[note.cause].unit)}"
        words = f"above {entry.text('above')}, but the note before it {ends}"
        entry["above"].fault(words, "one begins where the other ends")
    elif any(getattr(before, name) != getattr(note, name) for name in _ALIKE):
        words = "this note is of another distance, or adds otherwise, than the one that it goes on from"
        entry["above"].fault(words, "'percent_of', 'of', 'steps', and percent or feet, are the same in both")
    elif abs(joined.fraction(just, whole_steps=False)) < abs(before.fraction(note.above, whole_steps=False)):
        words = f"just above {entry.text('above')} it changes less than just below"
        entry["change"].fault(words, "look at both notes, and at 'counts'")
    else:
        found[alike[-1]] = joined


def read_note(entry: Entry, source: Source, phase: str, rank: str = "handbook") -> Note | None:
    """Return one note; None, with the faults noted, where it cannot mean anything."""
    before = len(entry.faults.problems)
    change, in_feet = _change(entry["change"])
    missing = [f"'{key}'" for key in _BASES_ASKED if not in_feet and entry.get(key) is None]
    if missing:
        hint = "; ".join(words for key, words in _BASES_ASKED.items() if entry.get(key) is None)
        kind = "factor" if entry.text("change").startswith("times") else "percentage"
        entry.fault(f"the {kind} {entry.text('change')} needs {' and '.join(missing)} beside it", hint)
    cause = CAUSES[entry.text("for")]
    _right_sign(entry, change, cause, phase, rank)
    per, up_to = entry.get("per"), entry.get("up_to")
    anything = per is not None and per.value == ANY
    if per and anything and (not up_to or cause.helps(phase)):
        per.fault(f"'per: {ANY}' is for a note with 'up_to', for what hinders", "give how much one step stands for")
    if cause.unit and per is None:
        hint = f"how much of it one step stands for, for example per: {_PER[cause.kind]}"
        entry.fault(f"a note for {cause.name} needs 'per'", hint)
    for given in (per, up_to):
        if given and not cause.unit:
            given.fault(f"{cause.name} is there or not; '{given.place[-1]}' has no meaning for it", "leave it out")
    amount = _amount(per, cause) if per and cause.unit and not anything else None
    limit = _amount(up_to, cause) if up_to and cause.unit else None
    above = _above(entry, cause, limit)
    _equipped(entry, cause)
    extra_speed_kt = entry.optional("approach_speed", "speed", 0, 30) or 0.0
    if len(entry.faults.problems) > before or entry.faults.touch(entry.place):
        return None
    return Note(
        cause=cause.name,
        change=change,
        source=source,
        per=amount,
        up_to=limit,
        changes=CHANGES[entry.text("to")],
        percent_of=BASE[entry.text("percent_of", "itself")],
        of=entry.text("of", "table figure"),
        steps=entry.text("steps", "add"),
        in_feet=in_feet,
        extra_speed_kt=extra_speed_kt,
        rank=rank,
        above=above,
        counts_all=entry.text("counts", _ALL) == _ALL,
        which=entry.text("which"),
    )


def _above(entry: Entry, cause: Cause, limit: float | None) -> float:
    """Return from where a further note counts, nil for a first one."""
    given = entry.get("above")
    if given is None:
        return 0.0
    if not cause.unit:
        given.fault(f"{cause.name} is there or not; 'above' has no meaning for it", "leave it out")
        return 0.0
    above = _amount(given, cause) or 0.0
    if limit is not None and limit <= above:
        given.fault(f"above {given.value} is not under its own 'up_to'", "'up_to' is where it ends")
    return above


def _equipped(entry: Entry, cause: Cause) -> None:
    """Note a fault where a note for equipment does not say which, or another says it."""
    which, applies = entry.get("which"), entry.get("applies")
    if cause.fitted and (which is None or applies is None):
        entry.fault(
            f"a note for {cause.name} needs 'which' and 'applies' beside it",
            "which: no wheel fairings; applies: true or false, for this airplane",
        )
    for given in (which, applies):
        if given and not cause.fitted:
            given.fault(f"'{given.place[-1]}' is for a note on the airplane's own equipment", "leave it out")


def _right_sign(entry: Entry, change: float, cause: Cause, phase: str, rank: str) -> None:
    """Note a fault where a note shortens for what hinders, or lengthens for what helps: a slip of the sign."""
    typed = entry["change"]
    if cause.helps(phase):
        if change >= 0:
            message = f"{cause.name} helps a {phase}, and {typed.value} does not shorten it"
            typed.fault(message, "a credit has a minus sign")
        return
    hinders = f"{cause.name} hinders a {phase}, and {typed.value}"
    if change < 0:
        typed.fault(f"{hinders} shortens it", "a penalty has a plus sign")
    if change == 0 and not (cause.may_be_nothing and rank != "handbook"):
        hint = "give what the handbook prints" if rank == "handbook" else "give what the guidance says"
        typed.fault(f"{hinders} changes nothing", hint)


def _change(entry: Entry) -> tuple[float, bool]:
    times = str(entry.value).removeprefix("times ")
    if times != entry.value:
        return _factor(entry, times), False
    if str(entry.value).endswith("%"):
        return entry.quantity("percent", -0.9, 3), False
    return entry.quantity("length", -5000, 5000), True


def _factor(entry: Entry, times: str) -> float:
    """Return the change of a factor, such as 0.15 of times 1.15."""
    factor = Decimal(times) if _FACTOR.fullmatch(times) else Decimal(1)
    if not Decimal("0.1") <= factor <= 4:
        entry.fault(f"{entry.value} is outside what is plausible, times 0.1 to times 4", "look at the number")
    return float(factor - 1)


_BASES_ASKED = {
    "percent_of": "percent_of: itself, ground roll or over 50 ft",
    "of": "of: table figure, value so far or open",
}
_PER = {"speed": "9 kt", "percent": "1 %", "temperature change": "10 degC"}


def _amount(entry: Entry, cause: Cause) -> float | None:
    if not isinstance(entry.value, str):
        return None  # the schema's fault is noted
    try:
        value = units.parse(cause.kind, entry.value)
    except ValueError:
        names = ", ".join(units.KINDS[cause.kind])
        message = f"'{entry.value}' is not an amount of {cause.name} with its unit ({names})"
        entry.fault(message, f"for example {_PER[cause.kind]}")
        return None
    if value <= 0:
        entry.fault(f"'{entry.value}' must be above nil")
        return None
    return value

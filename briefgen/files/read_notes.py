"""Read correction notes: a handbook's, or guidance that a policy chose."""

from __future__ import annotations

from briefgen import units
from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.handbook.causes import CAUSES, Cause
from briefgen.handbook.notes import ITSELF, Note

BASE = {"itself": ITSELF, "ground roll": "roll", "over 50 ft": "total"}
CHANGES = {"ground roll": ("roll",), "over 50 ft": ("total",), "both": ("roll", "total")}


def page_source(title: str, page: str) -> Source:
    """Return the source of something on a page of the handbook."""
    return Source(f"{title} p. {page}")


def read_note(entry: Entry, source: Source, phase: str, rank: str = "handbook") -> Note | None:
    """Return one note; None, with the faults noted, where it cannot mean anything."""
    before = len(entry.faults.problems)
    change, in_feet = _change(entry["change"])
    missing = [f"'{key}'" for key in _BASES_ASKED if not in_feet and entry.get(key) is None]
    if missing:
        hint = "; ".join(words for key, words in _BASES_ASKED.items() if entry.get(key) is None)
        entry.fault(f"the percentage {entry.text('change')} needs {' and '.join(missing)} beside it", hint)
    cause = CAUSES[entry.text("for")]
    _right_sign(entry, change, cause, phase, rank)
    per, up_to = entry.get("per"), entry.get("up_to")
    if cause.unit and per is None:
        hint = f"how much of it one step stands for, for example per: {_PER[cause.kind]}"
        entry.fault(f"a note for {cause.name} needs 'per'", hint)
    for given in (per, up_to):
        if given and not cause.unit:
            given.fault(f"{cause.name} is there or not; '{given.place[-1]}' has no meaning for it", "leave it out")
    amount = _amount(per, cause) if per and cause.unit else None
    limit = _amount(up_to, cause) if up_to and cause.unit else None
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
    )


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
    if str(entry.value).endswith("%"):
        return entry.quantity("percent", -0.9, 3), False
    return entry.quantity("length", -5000, 5000), True


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

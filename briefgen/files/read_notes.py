"""Read correction notes: a handbook's, or guidance that a policy chose."""

from __future__ import annotations

from briefgen import units
from briefgen.figures import Source
from briefgen.files.entry import Entry
from briefgen.handbook.causes import CAUSES
from briefgen.handbook.notes import ITSELF, Note

BASE = {"itself": ITSELF, "ground roll": "roll", "over 50 ft": "total"}
CHANGES = {"ground roll": ("roll",), "over 50 ft": ("total",), "both": ("roll", "total")}


def page_source(title: str, page: str) -> Source:
    """Return the source of something on a page of the handbook."""
    return Source(f"{title} p. {page}")


def read_note(entry: Entry, source: Source, rank: str = "handbook") -> Note | None:
    """Return one note; None, with the faults noted, where it cannot mean anything."""
    cause = CAUSES[str(entry["for"].value)]
    change, in_feet = _change(entry["change"])
    if not in_feet and (entry.get("percent_of") is None or entry.get("of") is None):
        entry.fault(
            "a percentage needs 'percent_of' and 'of': which distance, and the table figure or the value so far"
        )
        return None
    per, up_to = entry.get("per"), entry.get("up_to")
    if cause.unit and per is None:
        entry.fault(f"a note for {cause.name} needs 'per': how much of it one step stands for")
        return None
    if not cause.unit and (per or up_to):
        entry.fault(f"{cause.name} is there or not: 'per' and 'up_to' have no meaning for it")
        return None
    amount = _amount(per, cause.kind) if per else None
    limit = _amount(up_to, cause.kind) if up_to else None
    if (per and amount is None) or (up_to and limit is None):
        return None
    return Note(
        cause=cause.name,
        change=change,
        source=source,
        per=amount,
        up_to=limit,
        changes=CHANGES[str(entry["to"].value)],
        percent_of=BASE[entry.text("percent_of", "itself")],
        of=entry.text("of", "table figure"),
        steps=entry.text("steps", "add"),
        in_feet=in_feet,
        extra_speed_kt=entry.optional("approach_speed", "speed", -30, 30) or 0.0,
        rank=rank,
    )


def _change(entry: Entry) -> tuple[float, bool]:
    if str(entry.value).endswith("%"):
        return entry.quantity("percent", -0.9, 3), False
    return entry.quantity("length", -5000, 5000), True


def _amount(entry: Entry, kind: str) -> float | None:
    try:
        value = units.parse(kind, entry.value)
    except ValueError:
        names = ", ".join(units.KINDS[kind])
        entry.fault(f"'{entry.value}' is not a {kind} with its unit ({names})")
        return None
    if value <= 0:
        entry.fault(f"'{entry.value}' must be above nil")
        return None
    return value

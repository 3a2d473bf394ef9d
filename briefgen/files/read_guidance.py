"""Read the published guidance that comes with the program: corrections and safety factors, a file a publication."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from briefgen.errors import InputFault
from briefgen.figures import Source
from briefgen.files.document import read
from briefgen.files.entry import Entry, Faults
from briefgen.files.read_notes import read_note
from briefgen.handbook.notes import Note
from briefgen.model.policy import Factor, GuidanceSet

FOLDER = Path(__file__).resolve().parent.parent / "guidance"
KNOWN = {
    "read": "",
    "second-hand": "second-hand",
    "from memory": "from memory",
    "common practice, no source": "no source",
}


def names() -> list[str]:
    """Return the names of the sets that a policy can choose."""
    return sorted(path.stem for path in FOLDER.glob("*.yaml"))


@cache
def published(name: str) -> GuidanceSet:
    """Return a set by its name.

    The files come with the program, and a test holds them to their schema: that is not done again at every run.

    Raises
    ------
    InputFault : a note that cannot mean anything.
    """
    document = read(FOLDER / f"{name}.yaml", f"{name}.yaml")
    root = Entry(Faults(document), (), document.value)
    title, factors = root.text("title"), root.get("factors")
    notes = [(each.text("phase"), _note(each, title)) for each in root.items("notes")]
    if root.faults.problems:
        raise InputFault(root.faults.problems)
    return GuidanceSet(
        name=name,
        title=title,
        meant_for=root.text("for"),
        checked=root.text("checked"),
        factors={
            phase: Factor(float(each["factor"].value), _source(each, title, "policy"))
            for phase in ("takeoff", "landing")
            if factors and (each := factors.get(phase))
        },
        notes=tuple((phase, note) for phase, note in notes if note),
        left_out=tuple(str(each.value) for each in root.items("left_out")),
    )


def _note(entry: Entry, title: str) -> Note | None:
    return read_note(entry, _source(entry, title, "published"), entry.text("phase"), "where silent")


def _source(entry: Entry, title: str, kind: str) -> Source:
    meant = entry.text("valid")
    text = f"{title}, {entry.text('section')}" + (f", for {meant}" if meant else "")
    return Source(text, kind, KNOWN[entry.text("known")])

"""Read the table of what a preflight is asked for, which comes with the program."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from briefgen.files.document import read
from briefgen.files.entry import Entry, Faults
from briefgen.model.required import RequiredPart, RequiredRow, RequiredTable

TABLE = Path(__file__).resolve().parent.parent / "required" / "private-pilot-preflight.yaml"
ANSWERS = ("items", "where_given", "pilot_papers", "airplane_papers", "confirmed", "pages", "see")


@cache
def required_table() -> RequiredTable:
    """Return the table. A test holds the file to its schema: that is not done again at every run."""
    document = read(TABLE, TABLE.name)
    root = Entry(Faults(document), (), document.value)
    return RequiredTable(
        title=root.text("title"),
        checked=root.text("checked"),
        sources={each.text("id"): (each.text("source"), each.text("known")) for each in root.items("sources")},
        parts=tuple(map(_part, root.items("parts"))),
        left_out=tuple(str(each.value) for each in root.items("left_out")),
    )


def _part(entry: Entry) -> RequiredPart:
    rows = tuple(map(_row, entry.items("rows")))
    return RequiredPart(entry.text("title"), entry.text("source"), rows)


def _row(entry: Entry) -> RequiredRow:
    answers = {key: tuple(str(each.value) for each in entry.items(key)) for key in ANSWERS}
    return RequiredRow(entry.text("code"), entry.text("asks"), aloud=entry.text("aloud"), **answers)

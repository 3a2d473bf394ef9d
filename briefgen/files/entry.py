"""A value of a document that knows its place, and the faults that are gathered while reading it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from math import nan
from typing import Any, TypeVar

from briefgen import units
from briefgen.errors import InputFault, Problem
from briefgen.files.document import Document, Place
from briefgen.files.schema import MOST_FAULTS, check

T = TypeVar("T")


@dataclass(slots=True)
class Faults:
    """All faults of one document, its schema's and those found while reading, gathered in one run."""

    document: Document
    problems: list[Problem] = field(default_factory=list)
    refused: set[Place] = field(default_factory=set)

    def touch(self, place: Place) -> bool:
        """Say whether the schema refused something at a place, above it or below it."""
        return any(place[: len(bad)] == bad or bad[: len(place)] == place for bad in self.refused)

    def part(self, entry: Entry | None, read: Callable[[Entry], T | None]) -> T | None:
        """Read a part as far as it can be read; None if it is not given, or the schema's faults stop it."""
        if entry is None:
            return None
        try:
            return read(entry)
        except (LookupError, TypeError, ValueError, AttributeError):
            if not self.touch(entry.place):
                raise  # not the file's fault: ours
            return None

    def parts(self, entries: Iterable[Entry], read: Callable[[Entry], T | None]) -> tuple[T, ...]:
        """Read the parts that can be read."""
        found = (self.part(entry, read) for entry in entries)
        return tuple(part for part in found if part is not None)

    def stop(self) -> None:
        """Raise InputFault if anything was found."""
        if self.problems:
            raise InputFault(self.problems)


@dataclass(frozen=True, slots=True)
class Entry:
    """One value of a document."""

    faults: Faults
    place: Place
    value: Any

    def __getitem__(self, key: str) -> Entry:
        """Return the value of a key that the schema requires; nothing, if the schema's fault for it is noted."""
        place = (*self.place, key)
        if isinstance(self.value, dict) and key in self.value:
            return Entry(self.faults, place, self.value[key])
        if self.faults.touch(place):
            return Entry(self.faults, place, None)
        raise KeyError(key)

    def get(self, key: str) -> Entry | None:
        """Return the value of a key, None if it is not given."""
        return self[key] if isinstance(self.value, dict) and key in self.value else None

    def items(self, key: str) -> list[Entry]:
        """Return the items of a list, none if the key is not given or is no list."""
        found = self.get(key)
        return found.each() if found else []

    def each(self) -> list[Entry]:
        """Return the items of this list."""
        if not isinstance(self.value, list):
            return []
        return [Entry(self.faults, (*self.place, i), item) for i, item in enumerate(self.value)]

    def fault(self, message: str, hint: str = "") -> None:
        """Note a fault at this value."""
        self.faults.problems.append(self.faults.document.problem(self.place, message, hint))

    def text(self, key: str, otherwise: str = "") -> str:
        """Return the text of a key."""
        found = self.get(key)
        return otherwise if found is None else str(found.value)

    def quantity(self, kind: str, least: float | None = None, most: float | None = None) -> float:
        """Return this quantity in the inside unit.

        Outside a plausible range, note a fault; a quantity with a fault is not a number, so that no comparison
        with it brings a second one.
        """
        try:
            value = units.parse(kind, self.value)
        except (ValueError, TypeError):
            if not self.faults.touch(self.place):
                raise
            return nan  # the schema's fault is noted; no comparison with this value will be
        if least is not None and value < least:
            return self._implausible(f"under the least that is plausible here, {_plainly(kind, least, self.value)}")
        if most is not None and value > most:
            return self._implausible(f"over the most that is plausible here, {_plainly(kind, most, self.value)}")
        return value

    def _implausible(self, words: str) -> float:
        self.fault(f"{self.value} is {words}", "look at the number and at its unit")
        self.faults.refused.add(self.place)
        return nan

    def optional(self, key: str, kind: str, least: float | None = None, most: float | None = None) -> float | None:
        """Return the quantity of a key, None if it is not given."""
        found = self.get(key)
        return None if found is None else found.quantity(kind, least, most)


def _plainly(kind: str, value: float, typed: str) -> str:
    """Return a limit in the unit that was typed."""
    unit = max((unit for unit in units.KINDS[kind] if typed.endswith(unit)), key=len)
    scale, offset = units.KINDS[kind][unit]
    return f"{(value - offset) / scale:,.5g} {unit}"


def _keeps_sheets(value: Any) -> bool:
    """Say whether an aircraft file keeps a table in a file of its own."""
    parts = value.values() if isinstance(value, dict) else ()
    tables = (table for part in parts for table in (part if isinstance(part, list) else [part]))
    return any(isinstance(table, dict) and "csv" in table for table in tables)


def opened(document: Document, kind: str) -> Entry:
    """Check a document against the schema of its kind, and return its root, faults noted.

    Raises
    ------
    InputFault : there are more faults than anyone would read.
    """
    laid: list[Problem] = []
    unread: set[Place] = set()
    if kind == "aircraft" and _keeps_sheets(document.value):
        from briefgen.files.laid_in import laid_in  # which most files have no need of

        document, laid, unread = laid_in(document)
    faults = Faults(document)
    found = check(document, kind)
    problems = sorted({*laid, *(problem for _, problem in found)})
    if len(problems) > MOST_FAULTS:
        first, last = problems[:MOST_FAULTS], problems[MOST_FAULTS]
        message = "the faults from here on are not shown, they are too many"
        raise InputFault([*first, Problem(last.file, last.line, last.column, message)])
    faults.problems += problems
    faults.refused.update(unread, (place for place, _ in found if place is not None))
    return Entry(faults, (), document.value)

"""Two typings of the same handbook, laid beside each other: what differs, cell by cell."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from briefgen.files.document import Document, Place
from briefgen.studies.one_form import COLUMNS, at, in_one_form, sheet_in_one_form

_NAMED_BY = ("flaps", "power", "weight", "headwind", "name", "category", "for", "to", "altitude", "temperature")
_OF_GRAPHS = ("input", "pressure_altitude")
_STRUCTURE = (
    "tables",
    "rows",
    "by weight",
    "graphs",
    "stages",
    "curves",
    "points",
    "the point",
    "the rows",
)  # keys that say nothing about where a value is
_SAID_OF_COLUMNS = ("temperatures", "temperatures above standard")  # of each of COLUMNS
NOTHING, GROUP = "nothing", "something"


class Difference(NamedTuple):
    """One thing that two typings give differently: where it is, in words; what each gives; its place in each."""

    where: str
    here: str
    there: str
    line: int
    column: int
    other_line: int
    other_column: int
    file: str = ""  # where each was typed, if not in the two files that are compared
    other_file: str = ""


class Compared(NamedTuple):
    """What differs, in the order of the first; `left_out` are the parts that only one of the two has."""

    other: str
    differences: tuple[Difference, ...]
    cells: int  # how many texts and numbers were the same or not
    left_out: tuple[str, ...]


def compare(first: Document, second: Document) -> Compared:
    """Return what two typings of an aircraft file give differently; the second may be of some of its parts only.

    Lists are laid beside each other by what names their parts: flaps, power setting, weight, altitude, temperature.

    Parameters
    ----------
    first : of the aircraft file, a mapping.
    second : another typing, a mapping too.
    """
    first, second = in_one_form(first, second)
    pair = _Pair(first, second)
    shared = [key for key in first.value if key in second.value]
    differences = [
        each
        for key in shared
        for each in pair.of(key.replace("_", " "), (key,), (key,), first.value[key], second.value[key])
    ]
    only = [key for key in first.value if key not in second.value]
    more = [key for key in second.value if key not in first.value]
    left = [f"only in {first.name}: {', '.join(only)}"] if only else []
    left += [f"only in {second.name}: {', '.join(more)}"] if more else []
    return Compared(second.name, tuple(differences), pair.count, tuple(left))


def compare_table(first: Document, table: Place, name: str, second: Document) -> Compared:
    """Return what two typings of one table give differently, of what the second gives.

    Parameters
    ----------
    first : of the aircraft file.
    table : where its table is.
    name : of the table.
    second : the table alone.
    """
    first, second = sheet_in_one_form(first, table, second)
    pair, here, there = _Pair(first, second), at(first, table), second.value
    ours, theirs = _heads(here), _heads(there)
    left_out = []
    if ours != theirs and {ours, theirs} & set(_SAID_OF_COLUMNS):
        differences = [pair.difference(f"{name}, columns", table, ("tables",), ours, theirs)]
        left_out = ["the cells: their columns are not of the same kind"]
        pair.count += 1
    else:
        differences = []
    keys = [key for key in there if not (left_out and key in (*COLUMNS, "tables"))]
    for key in keys:
        where = name if key in _STRUCTURE else f"{name}, {key.replace('_', ' ')}"
        if key in here:
            differences += pair.of(where, (*table, key), (key,), here[key], there[key])
        else:
            differences.append(pair.difference(where, table, (key,), NOTHING, GROUP))
    return Compared(second.name, tuple(differences), pair.count, tuple(left_out))


def _heads(table: Mapping[str, Any]) -> str:
    """Return what the columns of a table are for: temperatures, above standard, or a word for its only one."""
    for key in COLUMNS:
        if key in table:
            return _SAID_OF_COLUMNS[COLUMNS.index(key)] if isinstance(table[key], list) else str(table[key])
    return NOTHING


class _Pair:
    """Two documents, walked through together; `count` is how many values were compared."""

    def __init__(self, first: Document, second: Document) -> None:
        self.first, self.second, self.count = first, second, 0

    def of(self, where: str, a: Place, b: Place, here: Any, there: Any) -> Iterator[Difference]:
        """Return the differences of two values at their places."""
        if isinstance(here, dict) and isinstance(there, dict):
            yield from self._parts(where, a, b, _by_key(here), _by_key(there))
        elif isinstance(here, list) and isinstance(there, list):
            ours, theirs = _by_name(here, _columns(self.first, a)), _by_name(there, _columns(self.second, b))
            yield from self._parts(where, a, b, ours, theirs)
        else:
            self.count += b in self.second.marks  # else it was taken over from the first
            mine, other = _said(self.first, a, here), _said(self.second, b, there)
            if mine != other:
                parts = zip(mine.split("/"), other.split("/"), strict=False)
                number = next((i for i, (one, two) in enumerate(parts) if one != two), 0)
                yield self.difference(where, (*a, number), (*b, number), mine, other)

    def _parts(
        self, where: str, a: Place, b: Place, here: Mapping[str, Any], there: Mapping[str, Any]
    ) -> Iterator[Difference]:
        for name in dict.fromkeys([*here, *there]):
            said = where if name in _STRUCTURE else f"{where}, {name}"
            if name not in there:
                key, value = here[name]
                self.count += 1
                yield self.difference(said, (*a, key), b, _said(self.first, (*a, key), value), NOTHING)
            elif name not in here:
                key, value = there[name]
                self.count += 1
                yield self.difference(said, a, (*b, key), NOTHING, _said(self.second, (*b, key), value))
            else:
                (key, value), (other, theirs) = here[name], there[name]
                yield from self.of(said, (*a, key), (*b, other), value, theirs)

    def difference(self, where: str, a: Place, b: Place, here: str, there: str) -> Difference:
        """Return one difference, at the nearest values that stand in each."""
        places = (*_mark(self.first, a), *_mark(self.second, b))
        return Difference(where, here, there, *places, _file(self.first, a), _file(self.second, b))


def _by_key(value: dict[str, Any]) -> dict[str, tuple[str, Any]]:
    return {key.replace("_", " "): (key, each) for key, each in value.items()}


def _by_name(value: list[Any], columns: list[str]) -> dict[str, tuple[int, Any]]:
    """Return the items of a list by what names them, else by their number."""
    named: dict[str, tuple[int, Any]] = {}
    for i, each in enumerate(value):
        name = _name(each, i, value, columns)
        while name in named:
            name += " again"
        named[name] = i, each
    return named


def _name(each: Any, i: int, whole: list[Any], columns: list[str]) -> str:
    if isinstance(each, dict):
        found = [
            (key, str(each[key]))
            for key in (*_NAMED_BY, *_OF_GRAPHS)
            if not (key == "altitude" and "tables" in each)  # which altitude its rows are of
            and isinstance(each.get(key), str | int | float)
        ]
        if found:
            said = ("flaps", "for", "to", "headwind")
            return " ".join(f"{key} {_plain(name)}" if key in said else _plain(name) for key, name in found[:2])
        if "rows" in each:
            return "the rows"
    if isinstance(each, list) and each and not isinstance(each[0], list | dict):
        return _plain(str(each[0]))
    cells = len(whole) - len(columns)
    if columns and i >= cells >= 1:
        return columns[i - cells]
    if columns and i:
        return "its speed"
    return f"number {i + 1}"


def _columns(document: Document, place: Place) -> list[str]:
    """Return the temperatures over a row's cells, what is after a point's input; none where this is neither."""
    if (len(place) > 2 and "points" in place[-2:-1]) or place[-3:-2] == ("guide_lines",):
        return ["on the scale"]
    if len(place) < 2 or place[-2] != "rows":
        return []
    for depth in range(len(place) - 2, -1, -1):
        group = document.value
        for key in place[:depth]:
            group = group[key]
        if isinstance(group, dict):
            given = group.get("temperatures", group.get("above_standard"))
            if given is not None:
                return [str(each) for each in given] if isinstance(given, list) else ["its cell"]
    return []


def _said(document: Document, place: Place, value: Any) -> str:
    """Return a value as it was typed, spaces aside; only that there is something, where it is a group."""
    if isinstance(value, dict | list):
        return GROUP
    return _plain(document.written.get(place, str(value)))


def _plain(text: str) -> str:
    """Return a text without what is no difference: spaces, and commas between thousands."""
    return re.sub(r"(?<=[0-9]),(?=[0-9]{3})", "", " ".join(text.split()))


def _file(document: Document, place: Place) -> str:
    """Return the file of a part that was laid in from another one, else ''."""
    file = document.file_of(place)
    return "" if file == document.name else file


def _mark(document: Document, place: Place) -> tuple[int, int]:
    """Return the line and column of a value, or of the nearest that holds it."""
    while place not in document.marks:
        place = place[:-1]
    return document.marks[place]

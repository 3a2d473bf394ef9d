"""Lay the tables that an aircraft file keeps in CSV files into it, as if they had been typed inline.

From then on nothing knows the difference, but for the places: a fault of a table is told where it was typed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from briefgen.errors import InputFault, Problem
from briefgen.files.document import Document, Place
from briefgen.files.looked_at import look_at
from briefgen.files.sheet_table import SheetTable, read_sheet_table

_LISTS = ("takeoff", "landing", "rate_of_climb", "cruise")
_IN_THE_FILE = ("altitude", "distances", "cell", "temperatures", "above_standard", "tables", "rows")
_HEADED = {"altitude": "pressure altitude", "distances": "ft"}  # said by every header, laid in if it is not this
_NAME = re.compile(r"[^\\:]{1,195}\.[cC][sS][vV]")


class Named(NamedTuple):
    """A table of an aircraft file: where it is, what it is called, and what is written for it."""

    place: Place
    name: str
    value: dict[str, Any]

    @property
    def of_distances(self) -> bool:
        """Whether it prints ground rolls and distances over 50 ft."""
        return self.place[0] in ("takeoff", "landing")


def tables_of(value: Any) -> Iterator[Named]:
    """Return every table of an aircraft file's plain value, read or not, with its name."""
    if not isinstance(value, dict):
        return
    for key in _LISTS:
        listed = value.get(key)
        for i, each in enumerate(listed if isinstance(listed, list) else []):
            if isinstance(each, dict):
                yield Named((key, i), _name(key, each), each)
    if isinstance(value.get("climb"), dict):
        yield Named(("climb",), "climb", value["climb"])


def _name(key: str, table: dict[str, Any]) -> str:
    """Return what a table is called, as the command `checked` calls it."""
    of = f"power {table.get('power', '')}" if key == "cruise" else f"flaps {table.get('flaps', '')}"
    purpose = f", {table['for']}" if table.get("for") else ""
    return f"{key.replace('_', ' ')}, {of}{purpose}"


def same_name(one: str, other: str) -> bool:
    """Say whether two names are of the same table, commas and capitals aside."""
    return _plain(one) == _plain(other)


def _plain(name: str) -> list[str]:
    return re.findall(r"[a-z0-9]+", name.lower())


def laid_in(document: Document) -> tuple[Document, list[Problem], set[Place]]:
    """Return a document with its CSV tables in it, every fault of those, and the tables that cannot be read."""
    found = [table for table in tables_of(document.value) if isinstance(table.value.get("csv"), str)]
    problems: list[Problem] = []
    refused: set[Place] = set()
    for table in found:
        before = len(problems)
        read = _read(document, table, problems)
        if read and len(problems) == before:
            document = _with(document, table, read[0], read[1])
        else:
            refused.add(table.place)
    return document, problems, refused


def _read(document: Document, table: Named, problems: list[Problem]) -> tuple[SheetTable, str] | None:
    """Return the table of a CSV file and its name; None, with the fault noted, where it cannot be read."""
    place: Place = (*table.place, "csv")
    reference = table.value["csv"]
    path = _beside(document, place, reference, problems)
    if path is None:
        return None
    name = document.name[: -len(document.path.name)] + reference
    try:
        read = read_sheet_table(path, name)
    except InputFault as fault:
        problems += fault.problems
        return None
    if read.title and not same_name(read.title, table.name):
        words = f"this is the table '{read.title}', and '{table.name}' is wanted"
        problems.append(Problem(name, *read.place, words, "look whether this is the file you meant"))
        return None
    if table.of_distances != read.of_distances:
        wanted = (
            "ground rolls and distances over 50 ft are"
            if table.of_distances
            else "something else than distances is"
        )
        words = f"{reference} has the columns of another table; {wanted} wanted here"
        problems.append(document.problem(place, words, "look whether this is the file you meant"))
        return None
    _once_each(document, table, read, problems)
    return read, name


def _once_each(document: Document, table: Named, read: SheetTable, problems: list[Problem]) -> None:
    """Note what stands beside a file that holds it, and what neither has."""
    columns = {"temperatures", "above_standard"}
    for key in _IN_THE_FILE:
        headed = read.value.get(key, _HEADED.get(key))
        here = table.value.get(key)
        if key in _HEADED and isinstance(here, str) and here != headed:
            words = f"'{key}' is {here} here, but {headed} in the header of {table.value['csv']}"
            hint = "leave it out here; the header says what the page prints"
            problems.append(document.problem((*table.place, key), words, hint, key=True))
            continue
        twice = key in read.value or (key in columns and columns & set(read.value)) or key in ("tables", "rows")
        if key in table.value and twice:
            words = f"'{key}' is given here and by the columns of {table.value['csv']}"
            problems.append(document.problem((*table.place, key), words, "leave it out here", key=True))
    weighed = "tables" in read.value and "weight" in read.value["tables"][0]
    if weighed and "weight" in table.value:
        words = f"'weight' is given here and by the columns of {table.value['csv']}"
        problems.append(document.problem((*table.place, "weight"), words, "leave it out here", key=True))
    if not weighed and "weight" not in table.value and table.of_distances:
        words = f"the weight is given neither here nor by a column of {table.value['csv']}"
        problems.append(document.problem(table.place, words, "for example weight: 2550 lb", key=True))
    if not columns & (set(read.value) | set(table.value)):
        words = f"{table.value['csv']} has no column of temperatures"
        hint = "add 'temperature degC' to it, or write temperatures: standard beside it"
        problems.append(document.problem((*table.place, "csv"), words, hint))


def _beside(document: Document, place: Place, reference: str, problems: list[Problem]) -> Path | None:
    """Return the file that a reference leads to; None, with the fault noted, if it may not be read."""
    if not _NAME.fullmatch(reference):
        return None  # the schema's fault
    folder = document.path.resolve().parent
    try:
        target = (folder / reference).resolve()
        there = target.is_relative_to(folder) and target.is_file()
    except (OSError, RuntimeError):
        problems.append(document.problem(place, f"'{reference}' leads to nothing that can be read"))
        return None
    if not target.is_relative_to(folder):
        words = f"'{reference}' leads outside the aircraft file's folder"
        problems.append(document.problem(place, words, "put the file beside the aircraft file, or below it"))
        return None
    look_at(folder / reference)
    if not there:
        problems.append(document.problem(place, f"there is no file '{reference}' in the aircraft file's folder"))
        return None
    return target


def _with(document: Document, table: Named, read: SheetTable, name: str) -> Document:
    """Return a document with a table laid in where it is named."""
    laid = {key: value for key, value in table.value.items() if key != "csv"}
    marks, files = dict(document.marks), dict(document.files)
    for key, value in read.value.items():
        laid[key] = value
        files[(*table.place, key)] = name
    marks |= {(*table.place, *place): mark for place, mark in read.marks.items()}
    if "weight" in laid and table.of_distances:
        _weighed(document, table, laid, marks, files)
    value = dict(document.value)
    if len(table.place) == 1:
        value[table.place[0]] = laid
    else:
        value[table.place[0]] = list(value[table.place[0]])
        value[table.place[0]][table.place[1]] = laid
    sheets = {**document.sheets, table.value["csv"]: read.content}
    return document._replace(value=value, marks=marks, files=files, sheets=sheets)


def _weighed(
    document: Document,
    table: Named,
    laid: dict[str, Any],
    marks: dict[Place, tuple[int, int]],
    files: dict[Place, str],
) -> None:
    """Put the weight that stands beside the file into each of its blocks."""
    weight = laid.pop("weight")
    if "rows" in laid:
        laid["tables"] = [{"rows": laid.pop("rows")}]
        files[(*table.place, "tables")] = files[(*table.place, "rows")]
    for i, block in enumerate(laid["tables"]):
        block["weight"] = weight
        place = (*table.place, "tables", i, "weight")
        marks[place] = document.marks[(*table.place, "weight")]
        files[place] = document.name

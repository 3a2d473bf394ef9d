"""Read a table typed in a spreadsheet into the form that an aircraft file writes inline, with all places.

Below its header a row has a number for each axis, and one for each thing that the page prints there. An empty cell,
and a combination that no row has, is where the page prints nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product
from math import prod
from pathlib import Path
from typing import Any, NamedTuple

from briefgen.errors import InputFault, Problem
from briefgen.files.document import MOST_VALUES, Place
from briefgen.files.sheet import Cell, Sheet, read_sheet
from briefgen.files.sheet_columns import ALTITUDES, DISTANCES, TEMPERATURES, Column, read_columns
from briefgen.handbook.axes import HEADWIND, QUANTITIES

MOST_POINTS = 60  # of one axis
_KEPT_IN_ORDER = (*ALTITUDES, *TEMPERATURES, HEADWIND)  # weights stand in any order, as on many pages
_ORDER = "each must be above the one before; where the page prints nothing, leave the cells empty"
_DISTANCE = re.compile(r"[0-9]{2,5}(?:\.[0-9]{1,3})?")  # as the schema has it for a cell typed inline
_NO_DISTANCE = "two to five digits; where the page prints nothing, leave the cell empty"
_METRES = "if the page prints metres, the header says so: 'ground roll m', 'over 50 ft m'"
Point = tuple[float, ...]
Marks = dict[Place, tuple[int, int]]


class SheetTable(NamedTuple):
    """A table as an aircraft file writes it inline, and the place of each part; `title`: which it says it is."""

    value: dict[str, Any]
    marks: Marks
    title: str = ""
    place: tuple[int, int] = (1, 1)  # of the title
    content: bytes = b""  # of the file

    @property
    def of_distances(self) -> bool:
        """Whether it prints ground rolls and distances over 50 ft."""
        return "cell" not in self.value


class _Printed(NamedTuple):
    """What a row prints at one point: its numbers as typed by quantity, '' where blank, and the cells."""

    numbers: dict[str, tuple[str, Cell]]
    points: dict[str, Cell]


def read_sheet_table(path: Path, name: str) -> SheetTable:
    """Return the table of a CSV file.

    Raises
    ------
    InputFault : every fault of the file.
    """
    sheet = read_sheet(path, name)
    rows = list(sheet.rows)
    title: list[Cell] = []
    if rows[0][0].text.lower() == "table":
        title = [cell for cell in rows.pop(0)[1:] if cell.text]
    if len(rows) < 2:
        raise InputFault([Problem(name, 1, 1, "a header and the rows below it are wanted", "")])
    header = rows[0]
    while not header[-1].text:
        header = header[:-1]
    columns, problems = read_columns(sheet, header)
    if problems:
        raise InputFault(problems)
    reader = _Reader(sheet, columns, len(header))
    for row in rows[1:]:
        reader.read(row)
    reader.check()
    if reader.problems:
        raise InputFault(reader.problems)
    value, marks = reader.laid()
    if reader.problems:  # speeds that a row gives twice show only here
        raise InputFault(reader.problems)
    place = (title[0].line, title[0].column) if title else (1, 1)
    return SheetTable(value, marks, " ".join(cell.text for cell in title), place, sheet.content)


class _Reader:
    """The rows of one table, read one by one."""

    def __init__(self, sheet: Sheet, columns: list[Column], width: int) -> None:
        self.sheet, self.width = sheet, width
        self.axes = [column for column in columns if column.is_axis]
        self.printed = [column for column in columns if not column.is_axis]
        self.spread = next((column for column in self.printed if column.axis), None)
        names = [column.name for column in self.axes] + ([self.spread.axis] if self.spread else [])
        self.names = [name for name in QUANTITIES if name in names]  # in the order of a table's axes
        self.quantities = list(dict.fromkeys(column.name for column in self.printed))
        self.header = columns[0].cell
        self.found: dict[Point, _Printed] = {}
        self.points: dict[str, dict[float, tuple[str, Cell]]] = {name: {} for name in self.names}
        self.last: dict[tuple[str, Point], tuple[float, Cell]] = {}
        self.problems: list[Problem] = []

    def read(self, row: tuple[Cell, ...]) -> None:
        """Read one row."""
        if len(row) < self.width:
            words = f"row {row[0].line} has {len(row)} cells, the header has {self.width}"
            self._fault(row[-1], words, "an empty cell for each that the page does not print")
            return
        named = {column.place for column in (*self.axes, *self.printed)}
        stranger = next((cell for place, cell in enumerate(row) if cell.text and place not in named), None)
        if stranger:
            self._fault(stranger, f"'{stranger.text}' stands in a column without a name", "delete it, or name it")
            return
        at: dict[str, tuple[str, Cell]] = {}
        for column in self.axes:
            cell = row[column.place]
            if not cell.text:
                self._fault(cell, f"no {QUANTITIES[column.name].words} is given", "its number stands in every row")
                return
            number = self._number(cell)
            if number is None:
                return
            at[column.name] = number, cell
        self._values(row, at)

    def _values(self, row: tuple[Cell, ...], at: dict[str, tuple[str, Cell]]) -> None:
        """Read what a row prints: at one point, or at one for each of its columns."""
        here: dict[Point, _Printed] = {}
        for column in self.printed:
            there = {**at, column.axis: (column.point, column.cell)} if column.axis else at
            if self.spread and not column.axis:  # the row's speed is for all of its columns
                continue
            key = tuple([float(there[name][0]) for name in self.names])
            one = here.setdefault(key, _Printed({}, {name: each for name, (_, each) in there.items()}))
            one.numbers[column.name] = self._printed_in(row, column)
            for name in self.names:
                self.points[name].setdefault(float(there[name][0]), there[name])
        for column in self.printed:
            if self.spread and not column.axis:
                for one in here.values():
                    one.numbers[column.name] = self._printed_in(row, column)
        for key, one in here.items():
            self._add(row, key, one)

    def _printed_in(self, row: tuple[Cell, ...], column: Column) -> tuple[str, Cell]:
        cell = row[column.place]
        number = (self._number(cell) or "") if cell.text else ""
        if number and column.name in DISTANCES:
            if not _DISTANCE.fullmatch(number):
                self._fault(cell, f"'{cell.text}' is not a distance such as 925", _NO_DISTANCE)
            elif column.unit == "ft" and "." in number:
                self._fault(cell, f"'{cell.text}' has decimals; feet are printed without", _METRES)
        return number, cell

    def _add(self, row: tuple[Cell, ...], key: Point, one: _Printed) -> None:
        before = self.found.get(key)
        if before:
            where = ", ".join(self._said(name, value) for name, value in zip(self.names, key, strict=True))
            words = f"{where} stands in row {next(iter(before.points.values())).line} too"
            if not any(row[0].line == line for line in self._told()):
                self._fault(row[0], words, "one row for each combination")
            return
        self.found[key] = one
        filled = [bool(number) for name, (number, _) in one.numbers.items() if name != "speed"]
        if any(filled) and not all(filled) and not any(row[0].line == line for line in self._told()):
            blank = next(cell for name, (number, cell) in one.numbers.items() if not number and name != "speed")
            self._fault(blank, "nothing stands here, where the row prints the others", "all of them or none")
        for i, name in enumerate(self.names):
            if name in _KEPT_IN_ORDER:
                self._rising(name, key[i], (*key[:i], *key[i + 1 :]), one.points[name])

    def _told(self) -> set[int]:
        return {problem.line for problem in self.problems}

    def _rising(self, name: str, value: float, rest: Point, cell: Cell) -> None:
        """Note a point of an axis that does not come after the one before, all other axes being the same."""
        before = self.last.get((name, rest))
        if before and value < before[0] and not any(cell.line == line for line in self._told()):
            words = f"{self._said(name, value)} comes after {self._said(name, before[0])}"
            self._fault(cell, words, _ORDER)
        self.last[name, rest] = value, cell

    def check(self) -> None:
        """Note what is wrong with all rows together."""
        for name, points in self.points.items():
            if len(points) > MOST_POINTS:
                words = f"{len(points)} values of {QUANTITIES[name].words}; {MOST_POINTS} is the most"
                self._fault(self.header, words, "look whether another column was meant")
        if not self.problems and prod(len(points) for points in self.points.values()) > MOST_VALUES:
            self._fault(self.header, f"more than {MOST_VALUES:,} combinations of its axes", "")

    def _fault(self, cell: Cell, message: str, hint: str) -> None:
        self.problems.append(self.sheet.problem(cell, message, hint))

    def _number(self, cell: Cell) -> str | None:
        found = self.sheet.number(cell)
        if isinstance(found, Problem):
            self.problems.append(found)
            return None
        return found

    def _unit(self, name: str) -> str:
        column = next((column for column in self.axes if column.name == name), None)
        return column.unit if column else self.spread.point_unit if self.spread else ""

    def _said(self, name: str, value: float) -> str:
        return f"{self.points[name][value][0]} {self._unit(name)}"

    def laid(self) -> tuple[dict[str, Any], Marks]:
        """Return the table as it is written inline, and where each part of it was typed."""
        marks: Marks = {}
        value: dict[str, Any] = {}
        for key, words in self._heads():
            value[key] = words
            marks[key,] = _place(self.header)
        temperature = next((name for name in self.names if name in TEMPERATURES), "")
        if temperature:
            key = "above_standard" if temperature == "above_standard_degC" else "temperatures"
            points = sorted(self.points[temperature].items())
            value[key] = [f"{text} {self._unit(temperature)}" for _, (text, _) in points]
            marks[key,] = _place(points[0][1][1])
            marks |= {(key, i): _place(cell) for i, (_, (_, cell)) in enumerate(points)}
        blocks = [self._block(at, i, marks) for i, at in enumerate(self._outer())]
        marks["tables",] = _place(self.header)
        if not self._outer_names():
            value["rows"] = blocks[0]["rows"]
            marks |= {
                ("rows", *place[3:]): mark for place, mark in marks.items() if place[:3] == ("tables", 0, "rows")
            }
        else:
            value["tables"] = blocks
        return value, marks

    def _heads(self) -> Iterator[tuple[str, Any]]:
        if "density_altitude_ft" in self.names:
            yield "altitude", "density altitude"
            yield "temperatures", "any"
        first = {column.name: column for column in reversed(self.printed)}
        if set(self.quantities) & set(DISTANCES):
            if first[self.quantities[0]].unit != "ft":
                yield "distances", first[self.quantities[0]].unit
        else:
            yield "cell", [f"{name} {first[name].unit}" for name in self.quantities if name != "speed"]

    def _outer_names(self) -> list[str]:
        return [name for name in ("weight_lb", HEADWIND) if name in self.names]

    def _outer(self) -> list[dict[str, float]]:
        names = self._outer_names()
        return [dict(zip(names, at, strict=True)) for at in product(*(sorted(self.points[each]) for each in names))]

    def _block(self, at: dict[str, float], i: int, marks: Marks) -> dict[str, Any]:
        """Return the rows of one weight and wind."""
        block: dict[str, Any] = {}
        here: Place = ("tables", i)
        for name, key in (("weight_lb", "weight"), (HEADWIND, "headwind")):
            if name in at:
                block[key] = self._said(name, at[name])
                marks[(*here, key)] = _place(self._cell_of(name, at))
        height = self.names[0]
        block["rows"] = rows = []
        for a, altitude in enumerate(sorted(self.points[height])):
            place: Place = (*here, "rows", a)
            row = {**at, height: altitude}
            marks[place] = marks[(*place, 0)] = _place(self._cell_of(height, row))
            rows.append([self._said(height, altitude), *self._cells(row, place, marks)])
        marks[here] = marks[(*here, "rows")] = marks[(*here, "rows", 0)]
        return block

    def _cell_of(self, name: str, at: dict[str, float]) -> Cell:
        """Return where a point of an axis was typed: at the first row for `at`, else where it was first."""
        places = {each: self.names.index(each) for each in at}
        for key, one in self.found.items():
            if all(key[places[each]] == value for each, value in at.items()):
                return one.points[name]
        return self.points[name][at[name]][1]

    def _cells(self, row: dict[str, float], place: Place, marks: Marks) -> Iterator[str]:
        """Return what stands in a row: its speed where it prints one, then a cell for each temperature."""
        temperature = next((name for name in self.names if name in TEMPERATURES), "")
        keys = [
            tuple([{**row, temperature: each}[name] for name in self.names])
            for each in (sorted(self.points[temperature]) if temperature else (0.0,))
        ]
        order = DISTANCES if self.quantities[0] in DISTANCES else [q for q in self.quantities if q != "speed"]
        column = 1
        if "speed" in self.quantities:
            spoken = [self.found[key].numbers["speed"] for key in keys if key in self.found]
            speeds = [(number, cell) for number, cell in spoken if number]
            if speeds:
                unit = next(each.unit for each in self.printed if each.name == "speed")
                for number, cell in speeds[1:]:
                    if float(number) != float(speeds[0][0]):
                        words = f"a speed of {number} {unit}, and {speeds[0][0]} {unit} in row {speeds[0][1].line}"
                        self._fault(cell, words, "one speed for all temperatures of an altitude")
                marks[(*place, column)] = _place(speeds[0][1])
                yield f"{speeds[0][0]} {unit}"
                column += 1
        for key in keys:
            one = self.found.get(key)
            numbers = [one.numbers[quantity] for quantity in order if quantity in one.numbers] if one else []
            marks[(*place, column)] = (
                _place(numbers[0][1]) if numbers else marks[place]
            )  # no row has it: the nearest
            if numbers:
                marks |= {(*place, column, part): _place(cell) for part, (_, cell) in enumerate(numbers)}
            filled = numbers and all(number for number, _ in numbers)
            yield "/".join(number for number, _ in numbers) if filled else "blank"
            column += 1


def _place(cell: Cell) -> tuple[int, int]:
    return cell.line, cell.column

"""Read the header of a table typed in a spreadsheet: what each of its columns holds, and in which unit.

A column is an axis of the table ('weight lb'), or something that it prints ('ground roll ft'); one that it prints
may be for one point of an axis only ('ground roll ft at 20 degC').
"""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from types import MappingProxyType
from typing import NamedTuple

from briefgen import units
from briefgen.errors import Problem
from briefgen.files.sheet import Cell, Sheet
from briefgen.handbook.axes import HEADWIND, QUANTITIES

AXES: Mapping[str, str] = MappingProxyType(
    {
        "pressure altitude": "pressure_altitude_ft",
        "density altitude": "density_altitude_ft",
        "temperature": "temperature_degC",
        "above standard": "above_standard_degC",
        "weight": "weight_lb",
        "headwind": HEADWIND,
    }
)
ALTITUDES = ("pressure_altitude_ft", "density_altitude_ft")
TEMPERATURES = ("temperature_degC", "above_standard_degC")
ROLL, TOTAL = "ground roll", "over 50 ft"
DISTANCES = (ROLL, TOTAL)
READINGS = ("rate", "time", "fuel", "distance", "power", "tas", "flow", "speed")
_SIGNS = {"°c": "degC", "°f": "degF", "c": "degC", "f": "degF"}
_OTHER_WORDS = {
    "altitude": "say which: 'pressure altitude ft' or 'density altitude ft'",
    "tailwind": "a tailwind is a headwind below nil: 'headwind kt', and -5 in its cells",
    "wind": "'headwind kt'; a tailwind is below nil",
    "total": "'over 50 ft ft', the distance over 50 ft and its unit",
}
_EXAMPLE = "for example 'pressure altitude ft', 'weight lb' or 'ground roll ft'"


class Column(NamedTuple):
    """One column: the axis or the quantity that it holds, its unit, and the one point of an axis that it is for."""

    cell: Cell
    place: int
    name: str  # a value of `AXES`, or one of `DISTANCES` and `READINGS`
    unit: str
    axis: str = ""  # of the point
    point: str = ""  # its number in plain digits
    point_unit: str = ""

    @property
    def is_axis(self) -> bool:
        """Whether it holds the points of an axis."""
        return self.name in QUANTITIES


def read_columns(sheet: Sheet, header: tuple[Cell, ...]) -> tuple[list[Column], list[Problem]]:
    """Return the columns that a header names, and what is wrong with the others."""
    columns: list[Column] = []
    problems: list[Problem] = []
    for place, cell in enumerate(header):
        found = _column(sheet, cell, place) if cell.text else None
        if isinstance(found, Problem):
            problems.append(found)
        elif found:
            columns.append(found)
    problems += _together(sheet, columns)
    if not problems:
        problems += _lacking(sheet, header, columns)
    return columns, problems


def _column(sheet: Sheet, cell: Cell, place: int) -> Column | Problem:
    head, _, at = " ".join(cell.text.split()).partition(" at ")
    name, _, unit = head.rpartition(" ")
    name, unit = name.lower(), unit.strip("()[]")
    known = [*AXES, *DISTANCES, *READINGS]
    if head.lower() in known:
        return sheet.problem(
            cell, f"'{head}' has no unit of its own", f"write it behind: {_with_unit(head.lower())}"
        )
    if name not in known:
        near = get_close_matches(name or head.lower(), known, 1, 0.7)
        hint = _OTHER_WORDS.get(name or head.lower()) or (f"did you mean '{near[0]}'?" if near else _EXAMPLE)
        return sheet.problem(cell, f"'{cell.text}' is no column of a table", hint)
    known_unit = _unit(name, unit)
    if known_unit is None:
        return sheet.problem(cell, f"'{unit}' is no unit of {name}", f"write {_with_unit(name)}")
    column = Column(cell, place, AXES.get(name, name), known_unit)
    if not at:
        return column
    if column.is_axis:
        return sheet.problem(cell, f"{name} is an axis of the table, and stands for no one point of another", "")
    point = _point(sheet, cell, at)
    return (
        point if isinstance(point, Problem) else column._replace(axis=point[0], point=point[1], point_unit=point[2])
    )


def _with_unit(name: str) -> str:
    return " or ".join(f"'{name} {unit}'" for unit in _units(name))


def _units(name: str) -> tuple[str, ...]:
    """Return the units that a column may have."""
    if name in AXES:
        return tuple(units.KINDS[QUANTITIES[AXES[name]].kind])
    if name in DISTANCES:
        return tuple(units.KINDS["length"])
    kind = _KINDS[name]
    return (*units.KINDS[kind], *(units.KINDS["weight"] if name == "fuel" else ()))


_KINDS = {
    "rate": "climb rate",
    "time": "duration",
    "fuel": "volume",
    "distance": "distance",
    "power": "percent",
    "tas": "speed",
    "flow": "fuel flow",
    "speed": "speed",
}


def _unit(name: str, typed: str) -> str | None:
    """Return a unit as it is written elsewhere, None for one that the column cannot have."""
    typed = _SIGNS.get(typed.lower(), typed) if name in ("temperature", "above standard") else typed
    return next((unit for unit in _units(name) if unit.lower() == typed.lower()), None)


def _point(sheet: Sheet, cell: Cell, at: str) -> tuple[str, str, str] | Problem:
    """Return the axis, the number and the unit of the one point that a column is for."""
    words = at.split()
    above = [word.lower() for word in words[2:]] == ["above", "standard"]
    if len(words) == 2 or above:
        number = sheet.number(cell._replace(text=words[0]))
        names = ["above standard"] if above else ["temperature", "weight", "headwind"]
        for name in names:
            unit = _unit(name, words[1])
            if unit and isinstance(number, str):
                return AXES[name], number, unit
    hint = "for example 'ground roll ft at 20 degC', 'at 20 degC above standard', 'at 2550 lb' or 'at 10 kt'"
    return sheet.problem(cell, f"'at {at}' is no point of an axis", hint)


def _together(sheet: Sheet, columns: list[Column]) -> list[Problem]:
    """Return what columns cannot stand beside each other."""
    problems: list[Problem] = []
    seen: dict[tuple[str, str, float], Column] = {}
    for column in columns:
        key = (column.name, column.axis, float(column.point or 0))
        if key in seen:
            problems.append(sheet.problem(column.cell, f"stands in {seen[key].cell.name} too", "one of the two"))
        seen.setdefault(key, column)
    axes = [column for column in columns if column.is_axis]
    for one_of, words in ((ALTITUDES, "one altitude"), (TEMPERATURES, "temperatures of one kind")):
        both = [column for column in columns if (column.axis or column.name) in one_of]
        other = next((each for each in both if (each.axis or each.name) != (both[0].axis or both[0].name)), None)
        if other:
            problems.append(sheet.problem(other.cell, f"a table has {words}", "leave this or the other out"))
    spread = [column for column in columns if not column.is_axis and column.name != "speed"]
    for column in spread:
        if (column.axis, column.point_unit) != (spread[0].axis, spread[0].point_unit):
            words = f"is not spread over columns as {spread[0].cell.name} is"
            problems.append(sheet.problem(column.cell, words, "every number of the page for the same points"))
        elif column.axis in {each.name for each in axes}:
            words = f"{QUANTITIES[column.axis].words} has a column of its own too"
            problems.append(
                sheet.problem(column.cell, words, "either a column for it, or one for each of its points")
            )
        alike = DISTANCES if column.name in DISTANCES else (column.name,)
        first = next(each for each in spread if each.name in alike)
        if column.unit != first.unit:
            words = f"{column.name} in {column.unit}, but {first.unit} in {first.cell.name}"
            problems.append(sheet.problem(column.cell, words, "the page prints them in one unit"))
    return problems


def _lacking(sheet: Sheet, header: tuple[Cell, ...], columns: list[Column]) -> list[Problem]:
    """Return what a table cannot do without."""
    if not any(column.name in ALTITUDES for column in columns):
        words = "no column is for the altitude"
        return [
            sheet.problem(header[0], words, "'pressure altitude ft', or 'density altitude ft' if the page says so")
        ]
    printed = {column.name: column.cell for column in columns if not column.is_axis}
    if not printed:
        return [sheet.problem(header[0], "no column is for what the page prints", "for example 'ground roll ft'")]
    distances = [name for name in DISTANCES if name in printed]
    stranger = next((cell for name, cell in printed.items() if name not in DISTANCES), None)
    if distances and stranger:
        return [
            sheet.problem(stranger, f"'{stranger.text}' does not stand beside distances", "it is another table")
        ]
    if len(distances) == 1:
        words = f"no column is for the {next(name for name in DISTANCES if name not in distances)}"
        return [
            sheet.problem(header[0], words, "a table of distances has both, 'ground roll ft' and 'over 50 ft ft'")
        ]
    return []

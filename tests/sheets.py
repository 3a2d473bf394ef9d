"""Write the distance tables of the example airplane anew as a club member would type them in a spreadsheet."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import yaml

METRES = 0.3048


class Printed(NamedTuple):
    """One cell of a page: its axes in lb, ft and degC, and what it prints in ft; None where it is blank."""

    weight: int
    altitude: int
    degC: int
    roll: int | None
    total: int | None


def number(text: str) -> int:
    """Return the number of a quantity such as '2550 lb'."""
    return int(text.split()[0])


def printed(table: dict[str, Any]) -> Iterator[Printed]:
    """Return every cell of a table as an aircraft file has it, in the order of the page."""
    for block in table["tables"]:
        for altitude, *cells in block["rows"]:
            for degC, cell in zip(table["temperatures"], cells, strict=True):
                pair = (None, None) if cell == "blank" else tuple(map(int, cell.split("/")))
                yield Printed(number(block["weight"]), number(altitude), number(degC), *pair)


HEADER = ("weight lb", "pressure altitude ft", "temperature degC", "ground roll ft", "over 50 ft ft")


def long_in_feet(cells: list[Printed]) -> list[tuple[object, ...]]:
    """Return the rows of a sheet with a row for each cell."""
    return [HEADER, *cells]


def long_in_metres(cells: list[Printed]) -> list[tuple[object, ...]]:
    """Return the same in kg, m and degF: the numbers in full, so that they are the same quantities."""
    head = ("weight kg", "pressure altitude m", "temperature degF", "ground roll m", "over 50 ft m")
    rows: list[tuple[object, ...]] = [head]
    for each in cells:
        metres = [None if ft is None else f"{ft * METRES:.3f}" for ft in (each.roll, each.total)]
        rows.append(
            (repr(each.weight * 0.45359237), repr(each.altitude * METRES), each.degC * 9 // 5 + 32, *metres)
        )
    return rows


def wide(cells: list[Printed]) -> list[tuple[object, ...]]:
    """Return the rows of a sheet as the page has them: two columns for each temperature."""
    warm = sorted({each.degC for each in cells})
    head = ["weight lb", "pressure altitude ft"]
    for degC in warm:
        head += [f"ground roll ft at {degC} degC", f"over 50 ft ft at {degC} degC"]
    rows: dict[tuple[int, int], list[object]] = {}
    for each in cells:
        row = rows.setdefault((each.weight, each.altitude), [each.weight, each.altitude])
        row += [each.roll, each.total]
    return [tuple(head), *map(tuple, rows.values())]


def written(rows: list[tuple[object, ...]], apart: str = ",", end: str = "\n") -> str:
    """Return rows as a spreadsheet exports them."""
    comma = apart == ";"
    lines = []
    for row in rows:
        cells = ["" if each is None else str(each) for each in row]
        lines.append(apart.join(each.replace(".", ",") if comma else each for each in cells))
    return end.join(lines) + end


def moved_to_sheets(
    club: Path, make: Callable[[list[Printed]], list[tuple[object, ...]]], *, encoding: str = "utf-8", **more: str
) -> None:
    """Put the takeoff and landing tables of a copy of the club into CSV files, typed by `make`."""
    file = club / "aircraft" / "n0142.yaml"
    text = file.read_text(encoding="utf-8")
    plain = yaml.safe_load(text)
    (file.parent / "tables").mkdir()
    for phase in ("takeoff", "landing"):
        (table,) = plain[phase]
        sheet = file.parent / "tables" / f"{phase}.csv"
        sheet.write_bytes(written(make(list(printed(table))), **more).encode(encoding))
        start = text.index("    temperatures: ", text.index(f"\n{phase}:\n"))
        end = text.index("    notes:\n", start)
        text = f"{text[:start]}    csv: tables/{phase}.csv\n{text[end:]}"
    assert len(re.findall("csv: tables", text)) == 2
    file.write_text(text, encoding="utf-8")

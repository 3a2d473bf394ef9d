"""Two typings of one table in one form, so that only what they say differs: the same keys, blocks, order of a cell.

A sheet says by its header what an aircraft file writes out only where it is unusual, or beside the sheet.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from briefgen.files.document import Document, Place
from briefgen.files.laid_in import tables_of

_UNSAID = {"altitude": "pressure altitude", "distances": "ft"}  # what a table means that does not say it
COLUMNS = ("temperatures", "above_standard")


def in_one_form(first: Document, second: Document) -> tuple[Document, Document]:
    """Return two typings of an aircraft file, each table that both have in one form."""
    theirs = {table.name: table.place for table in tables_of(second.value)}
    for table in tables_of(first.value):
        if table.name in theirs:
            first, second = _alike(first, table.place, second, theirs[table.name])
    return first, second


def sheet_in_one_form(first: Document, table: Place, second: Document) -> tuple[Document, Document]:
    """Return an aircraft file and a sheet of one of its tables, both in one form.

    What stands beside a sheet, its weight or that its temperatures are the standard's, is said by no column: it is
    taken over from the aircraft file, where it has one, and has no mark in the sheet.
    """
    first, second = _alike(first, table, second, ())
    ours, theirs = at(first, table), dict(at(second, ()))
    given = next((key for key in COLUMNS if key in ours), "")
    if given and isinstance(ours[given], str) and not any(key in theirs for key in COLUMNS):
        theirs[given] = ours[given]
    weights = [block.get("weight") for block in ours.get("tables", ())]
    one = weights[0] if weights and weights.count(weights[0]) == len(weights) else None
    if one is not None and not any("weight" in block for block in theirs["tables"]):
        theirs["tables"] = [{"weight": one, **block} for block in theirs["tables"]]
    return first, second._replace(value=theirs)


def at(document: Document, place: Place) -> Any:
    """Return the value that stands at a place."""
    value = document.value
    for key in place:
        value = value[key]
    return value


def _alike(first: Document, a: Place, second: Document, b: Place) -> tuple[Document, Document]:
    first, second = _plain(first, a), _plain(second, b)
    ours, theirs = at(first, a), at(second, b)
    if all(isinstance(each.get("tables"), list) for each in (ours, theirs)):
        order = _order(ours.get("cell"), theirs.get("cell"))
        if order:
            second = _reordered(second, b, order)
    return first, second


def _plain(document: Document, place: Place) -> Document:
    """Return a document with a table of it in blocks, and with all said that goes without saying."""
    table = at(document, place)
    if not any(isinstance(table.get(key), list) for key in ("tables", "rows")):
        return document  # a graph, or only what stands beside the rows
    table, moved = dict(table), {}
    if "tables" not in table:
        head = {"weight": table.pop("weight")} if "weight" in table else {}
        table["tables"] = [{**head, "rows": table.pop("rows")}]
        moved = {(*place, key): (*place, "tables", 0, key) for key in (*head, "rows")}
    unsaid = {key: each for key, each in _UNSAID.items() if key == "altitude" or "cell" not in table}
    here = {(*place, key): document.marks[place] for key in unsaid if key not in table}
    marks = {**_moved(document.marks, moved), **here}
    if moved:
        rows = (*place, "tables", 0, "rows")
        marks[rows[:-1]] = marks[rows[:-2]] = marks[rows]
    written, files = _moved(document.written, moved), _moved(document.files, moved)
    document = document._replace(marks=marks, written=written, files=files)
    return _with(document, place, {**unsaid, **table})


def _moved(of: Mapping[Place, Any], moved: Mapping[Place, Place]) -> dict[Place, Any]:
    """Return what is kept by places, with some places and all below them elsewhere."""
    found = dict(of)
    for start, to in moved.items():
        for place in [each for each in found if each[: len(start)] == start]:
            found[(*to, *place[len(start) :])] = found.pop(place)
    return found


def _with(document: Document, place: Place, value: Any) -> Document:
    """Return a document with another value at a place."""
    if not place:
        return document._replace(value=value)
    held = at(document, place[:-1])
    outer: Any = list(held) if isinstance(held, list) else dict(held)
    outer[place[-1]] = value
    return _with(document, place[:-1], outer)


def _order(ours: Any, theirs: Any) -> list[int]:
    """Return where each quantity of a cell stands in the other's; empty for the same order, or other quantities."""
    if not isinstance(ours, list) or not isinstance(theirs, list):
        return []
    names, others = ([str(each).partition(" ")[0] for each in cell] for cell in (ours, theirs))
    if names == others or sorted(names) != sorted(others) or len(set(names)) < len(names):
        return []
    return [others.index(name) for name in names]


def _reordered(document: Document, place: Place, order: list[int]) -> Document:
    """Return a document with the numbers of a table's cells, and what a cell prints, in another order."""
    table, marks = dict(at(document, place)), dict(document.marks)
    parts: list[Place] = [(*place, "cell")]
    table["cell"] = [table["cell"][j] for j in order]
    table["tables"] = list(table["tables"])
    for i, block in enumerate(table["tables"]):
        rows = block.get("rows") if isinstance(block, dict) else None
        if not isinstance(rows, list) or not all(isinstance(row, list) for row in rows):
            continue  # a second typing need not be sound
        table["tables"][i] = {**block, "rows": [[_in_order(cell, order) for cell in row] for row in rows]}
        cells = [
            ((*place, "tables", i, "rows", a, t), cell) for a, row in enumerate(rows) for t, cell in enumerate(row)
        ]
        parts += [part for part, cell in cells if _in_order(cell, order) != cell]
    for part in parts:
        old = [document.marks.get((*part, j), document.marks[part]) for j in order]
        marks |= {(*part, number): mark for number, mark in enumerate(old)}
    return _with(document._replace(marks=marks), place, table)


def _numbers(cell: Any, order: list[int]) -> list[str]:
    """Return the numbers of a cell; none for what has not as many."""
    numbers = cell.split("/") if isinstance(cell, str) else []
    return numbers if len(numbers) == len(order) else []


def _in_order(cell: Any, order: list[int]) -> Any:
    numbers = _numbers(cell, order)
    return "/".join(numbers[j] for j in order) if numbers else cell

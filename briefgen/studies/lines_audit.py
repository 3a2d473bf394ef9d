"""Rows and columns of a table that were typed in the wrong place: many cells, one slip."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import NamedTuple

from briefgen.model.typed import Index
from briefgen.studies.surface import FAR
from briefgen.studies.table_audit import Finding, Grade, Key, Looked, finding

_LEAST_OF_SLICE = 6  # numbers
_LEAST_CELLS = 3  # a line of fewer is no line
_LEAST_SHARE = 0.6  # of a line's cells, how many must be out of place, and fit elsewhere


class Moved(NamedTuple):
    """Cells of one line of a table that fit one place further along an axis: `by` is 1 or -1."""

    cells: tuple[Key, ...]
    axis: int
    by: int


def grouped(looked: Looked, suspects: Mapping[Key, tuple[Grade, list[str]]]) -> Iterator[Finding]:
    """Return the findings of a table: one for each line that was moved, one for each other cell."""
    left = dict(suspects)
    for moved in _moved_lines(looked, suspects):
        taken = [key for key in moved.cells if key in left]
        if len(taken) >= _LEAST_CELLS:
            yield _of_line(looked, moved, max((left[key][0] for key in taken), key=lambda grade: grade.rank))
            for key in taken:
                del left[key]
    for axis, at, keys in _whole_slices(looked, left):
        yield _of_slice(looked, axis, at, keys, max((left[key][0] for key in keys), key=lambda grade: grade.rank))
        for key in keys:
            del left[key]
    for key, (grade, reasons) in left.items():
        yield finding(looked, key, grade, reasons)


def _whole_slices(looked: Looked, suspects: Iterable[Key]) -> list[tuple[int, int, list[Key]]]:
    """Return the points of the axes at which most numbers are out of place: the axis itself may be mistyped."""
    table = looked.table
    left = {key for key in suspects if key[1] not in table.checked}
    found = []
    for axis, each in enumerate(table.grid.axes):
        for at in range(len(each.points) if len(each.points) > 2 else 0):
            out = sorted(key for key in left if key[1][axis] == at)
            whole = sum(
                cell is not None for cells in table.cells.values() for i, cell in cells.items() if i[axis] == at
            )
            if len(out) >= max(_LEAST_OF_SLICE, _LEAST_SHARE * whole):
                found.append((axis, at, out))
                left -= set(out)
    return found


def _of_slice(looked: Looked, axis: int, at: int, keys: list[Key], grade: Grade) -> Finding:
    table = looked.table
    single = [finding(looked, key, grade, ()) for key in keys]
    name, point = table.line_name(axis), table.point(axis, at)
    words = (
        f"{len(keys)} of its numbers are off their neighbours' surface: is {point} the {name} that the page prints?"
    )
    first = min(single, key=lambda each: (each.line, each.column))
    return _of_many(first, keys, max((each.share for each in single), key=abs), f"all at {point}", words)


def _moved_lines(looked: Looked, suspects: Iterable[Key]) -> list[Moved]:
    """Return the lines whose cells fit one place further along an axis, the longest first."""
    found = []
    keys = [key for key in suspects if key[1] not in looked.table.checked]
    axes = range(len(looked.table.grid.axes))
    for along in axes:

        def line(key: Key, along: int = along) -> tuple[str, Index]:
            return key[0], (*key[1][:along], *key[1][along + 1 :])

        for (quantity, rest), group in groupby(sorted(keys, key=line), key=line):
            out = list(group)
            column = looked.table.cells[quantity]
            whole = sum(line((quantity, i))[1] == rest for i, cell in column.items() if cell)
            if len(out) < max(_LEAST_CELLS, _LEAST_SHARE * whole):
                continue
            for axis in axes:
                for by in (1, -1):
                    fit = [key for key in out if _fits(looked, key, axis, by)]
                    if len(fit) >= max(_LEAST_CELLS, _LEAST_SHARE * len(out)):
                        found.append(Moved(tuple(fit), axis, by))
    return sorted(found, key=lambda moved: -len(moved.cells))


def _fits(looked: Looked, key: Key, axis: int, by: int) -> bool:
    """Say whether what stands in a cell is what is expected in the next one along an axis."""
    quantity, index = key
    there = quantity, (*index[:axis], index[axis] + by, *index[axis + 1 :])
    cell, expected = looked.table.cells[quantity][index], looked.expected.get(there)
    if cell is None or expected is None:
        return False
    return abs(cell.value - expected.value) <= max(FAR * expected.error, looked.steps[quantity])


def _of_line(looked: Looked, moved: Moved, grade: Grade) -> Finding:
    table, quantity = looked.table, moved.cells[0][0]
    cells = sorted(moved.cells, key=lambda key: key[1])
    start, end = table.said(cells[0][1]), table.said(cells[-1][1])
    name = table.line_name(moved.axis)
    which = "next higher" if moved.by > 0 else "next lower"
    single = [finding(looked, key, grade, ()) for key in cells]
    words = f"{len(cells)} cells stand where those of the {which} {name} belong: the line is shifted"
    share = max((each.share for each in single), key=abs)
    many = _of_many(single[0], cells, share, f"{quantity} from {start} to {end}", words)
    return many._replace(typed=", ".join(each.typed for each in single))


def _of_many(first: Finding, cells: Sequence[Key], share: float, where: str, reason: str) -> Finding:
    """Return a finding of many cells, at the place of the first."""
    return first._replace(
        where=where,
        reasons=(reason,),
        cells=tuple(cells),
        typed="",
        expected=None,
        mend="",
        slip="",
        share=share,
        checked="",
    )

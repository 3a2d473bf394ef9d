"""One table of a handbook, looked through for cells that look wrong: why they do, and what may be meant."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from enum import Enum
from math import exp, inf, log, sqrt
from typing import NamedTuple

from briefgen.handbook.axes import HEADWIND
from briefgen.model.typed import ROLL, TOTAL, Index, Typed, TypedTable
from briefgen.studies.slips import mend, off_step, printed_step
from briefgen.studies.surface import FAR, Surface, surface

Key = tuple[str, Index]  # a quantity, a cell
UNIFORM = 1 / sqrt(12)  # standard deviation of a rounding error, in steps
MISFIT = 0.001  # how far a printed table is off any smooth surface beside its rounding, a share; seen on clean ones
_STEPS_FOR_SHARES = 20  # a table whose least number has so many steps is looked at in shares of each number
_LEAST_SHARE = 0.01  # less is within what handbooks smooth by hand
_COPIED_WITHIN = 2  # cells away
_HALFWAY = 0.7  # so far towards FAR a cell must be, if only the ratio of the two columns says that it is wrong
_APART = 1.8  # steps: by more than one, rounding prints no two cells the same; the rest is what a surface is off
_TYPED_BY_HAND = 20  # from so many numbers on, one that is no whole step stands out


class Grade(Enum):
    """How bad a finding is, from worst to least."""

    IMPOSSIBLE = "impossible"  # no table can be so
    SUSPECT = "suspect"
    UNUSUAL = "unusual"  # often right; look

    @property
    def rank(self) -> int:
        """Return 2 for the worst, 0 for the least."""
        return {Grade.IMPOSSIBLE: 2, Grade.SUSPECT: 1, Grade.UNUSUAL: 0}[self]


class Expected(NamedTuple):
    """What the neighbours of a cell say it is, and its standard error, in its unit; `off` in standard errors."""

    value: float
    error: float
    off: float


class Finding(NamedTuple):
    """What looks wrong, at its place. `cells` are those meant; `typed` their one number, '' where there is none.

    `expected` is what the neighbours say, None where nothing does; `mend` the number most likely meant, with the
    `slip` that made another of it, '' where no single slip did. `share`: how far off, of what is expected.
    """

    grade: Grade
    table: str
    page: str
    where: str
    line: int
    column: int
    reasons: tuple[str, ...]
    cells: tuple[Key, ...] = ()
    unit: str = ""
    typed: str = ""
    expected: float | None = None
    mend: str = ""
    slip: str = ""
    share: float = 0.0
    checked: str = ""  # why it was found right by whoever looked at the page
    file: str = ""  # where its cell was typed, if not in the aircraft file

    @property
    def order(self) -> tuple[int, float, int, int, str]:
        """What findings are ranked by: the worst, the furthest off, the first."""
        return -self.grade.rank, -abs(self.share), self.line, self.column, self.where


class Looked(NamedTuple):
    """One table that was looked through, and what its surface says; no `expected` where it has too few cells."""

    table: TypedTable
    steps: Mapping[str, float]
    expected: Mapping[Key, Expected]

    def off(self, key: Key) -> float:
        """Return how far a cell is off the surface [standard errors]; nil where nothing says."""
        found = self.expected.get(key)
        return abs(found.off) if found else 0.0


def look(table: TypedTable) -> Looked:
    """Return a table with what its own surface says of every cell."""
    steps, expected = {}, {}
    for quantity, cells in table.cells.items():
        typed = {index: cell for index, cell in cells.items() if cell}
        step = steps[quantity] = printed_step([cell.text for cell in typed.values()])
        for index, found in _expected(table, typed, step).items():
            expected[quantity, index] = found
    return Looked(table, steps, expected)


def suspects(looked: Looked) -> dict[Key, tuple[Grade, list[str]]]:
    """Return every cell that looks wrong, with the worst grade of its reasons."""
    found: dict[Key, tuple[Grade, list[str]]] = {}
    for check in (_not_shorter, _turns, _off_the_surface, _off_the_ratio, _same_as_next, _off_the_step):
        known = set(found)
        for key, grade, reason in check(looked):
            if check is _off_the_ratio and known & {(ROLL, key[1]), (TOTAL, key[1])}:
                continue  # one of the two that make the ratio is at fault, and known
            before, reasons = found.setdefault(key, (grade, []))
            found[key] = max(before, grade, key=lambda each: each.rank), [*reasons, reason]
    for key, (_, reasons) in found.items():
        reasons.extend(_copied(looked, key))
    return found


def finding(looked: Looked, key: Key, grade: Grade, reasons: Iterable[str]) -> Finding:
    """Return what is to be said of one cell."""
    table, (quantity, index) = looked.table, key
    cell, expected = table.cells[quantity][index], looked.expected.get(key)
    assert cell is not None
    meant = mend(cell.text, expected.value, expected.error, looked.steps[quantity]) if expected else None
    step = looked.steps[quantity]
    return Finding(
        grade=grade,
        table=table.name,
        page=table.page,
        where=f"{quantity} at {table.said(index)}",
        line=cell.line,
        column=cell.column,
        file=table.file,
        reasons=tuple(reasons),
        cells=(key,),
        unit=table.units[quantity],
        typed=cell.text,
        expected=round(round(expected.value / step) * step, 6) if expected else None,
        mend=meant.text if meant else "",
        slip=meant.slip if meant else "",
        share=_share(cell.value, expected.value) if expected else 0.0,
        checked=table.checked.get(index, ""),
    )


def _share(value: float, expected: float) -> float:
    return (value - expected) / max(abs(expected), 1e-9)


def _expected(table: TypedTable, typed: Mapping[Index, Typed], step: float) -> dict[Index, Expected]:
    """Return what the surface of one quantity says, in shares where its numbers are large beside their step."""
    values = [cell.value for cell in typed.values()]
    shares = bool(values) and sorted(values)[len(values) // 20] >= _STEPS_FOR_SHARES * step and min(values) > 0
    made: dict[Index, Expected] = {}
    for block in of_one_wind(table, typed):
        made |= _expected_in(table, {index: typed[index] for index in block}, step, shares=shares)
    return made


def of_one_wind(table: TypedTable, indexes: Iterable[Index]) -> list[list[Index]]:
    """Return cells by the wind that they are for: distances bend at calm, so no smooth surface runs over it."""
    winds = [i for i, axis in enumerate(table.grid.axes) if axis.name == HEADWIND]
    blocks: dict[Index, list[Index]] = {}
    for index in indexes:
        blocks.setdefault(tuple(index[axis] for axis in winds), []).append(index)
    return list(blocks.values())


def _expected_in(
    table: TypedTable, typed: Mapping[Index, Typed], step: float, *, shares: bool
) -> dict[Index, Expected]:
    """Return what the surface says of the cells of one wind."""
    values = [cell.value for cell in typed.values()]
    points = [_point(table, index) for index in typed]
    if shares:
        noise = [sqrt((step * UNIFORM / each) ** 2 + MISFIT**2) for each in _near(values, step)]
        fitted = surface(points, [log(each) for each in values], noise)
    else:
        fitted = surface(points, values, [step * UNIFORM] * len(values))
    if fitted is None:
        return {}
    made = {}
    for index, cell in zip(typed, fitted.cells, strict=True):
        if cell.error == inf:
            continue
        value = exp(cell.expected) if shares else cell.expected
        made[index] = Expected(value, cell.error * (value if shares else 1.0), cell.off)
    return made


def _near(values: list[float], step: float) -> list[float]:
    """Return numbers to take the share of rounding of: one that lost a digit is not as coarse as it looks."""
    middle = sorted(values)[len(values) // 2]
    return [min(max(each, middle / 4, step), middle * 4) for each in values]


def _point(table: TypedTable, index: Index) -> tuple[float, ...]:
    return tuple([axis.points[i] for axis, i in zip(table.grid.axes, index, strict=True)])


Checked = Iterator[tuple[Key, Grade, str]]


def _off_the_surface(looked: Looked) -> Checked:
    for key, expected in looked.expected.items():
        cell = looked.table.cells[key[0]][key[1]]
        assert cell is not None
        away = abs(cell.value - expected.value)
        share = _share(cell.value, expected.value)
        if abs(expected.off) > FAR and away > looked.steps[key[0]] and abs(share) > _LEAST_SHARE:
            yield key, Grade.SUSPECT, f"{abs(share):.1%} {'over' if share > 0 else 'under'} its neighbours' surface"


def _not_shorter(looked: Looked) -> Checked:
    """Find ground rolls not shorter than their totals; of the two the one that is further off is at fault."""
    cells = looked.table.cells
    for index, roll in cells.get(ROLL, {}).items():
        total = cells[TOTAL][index]
        if roll and total and roll.value >= total.value:
            words = f"ground roll {roll.text} is not shorter than the total {total.text}"
            if _near_to(looked, (ROLL, index), total) and _near_to(looked, (TOTAL, index), roll):
                words += ": exchanged, both fit"
            yield _worse(looked, (ROLL, index), (TOTAL, index)), Grade.IMPOSSIBLE, words


def _near_to(looked: Looked, key: Key, cell: Typed) -> bool:
    """Say whether a number is what is expected in a cell."""
    expected = looked.expected.get(key)
    return expected is not None and abs(cell.value - expected.value) <= FAR * expected.error + looked.steps[key[0]]


def _turns(looked: Looked) -> Checked:
    """Find neighbours that go the wrong way along an axis; of the two the one that is further off is at fault."""
    table, told = looked.table, set()
    for quantity, way in table.course.items():
        for index, cell in table.cells.get(quantity, {}).items():
            for axis in range(len(index)):
                before = (*index[:axis], index[axis] - 1, *index[axis + 1 :])
                other = table.cells[quantity].get(before)
                if cell and other and (cell.value - other.value) * way * table.worsens(axis) < 0:
                    goes = "falls" if cell.value < other.value else "rises"
                    words = (
                        f"{goes} from {other.text} at {table.said(before)} to {cell.text} at {table.said(index)}"
                    )
                    key = _worse(looked, (quantity, before), (quantity, index))
                    if key not in told:  # once is enough
                        yield key, Grade.IMPOSSIBLE, words
                    told.add(key)


def _worse(looked: Looked, first: Key, second: Key) -> Key:
    return first if looked.off(first) > looked.off(second) else second


def _off_the_ratio(looked: Looked) -> Checked:
    """Find cells whose total over roll is off the surface of that ratio."""
    cells = looked.table.cells
    both = {
        index: (roll, total)
        for index, roll in cells.get(ROLL, {}).items()
        if (total := cells[TOTAL][index]) and roll and total.value > roll.value > 0
    }
    for block in of_one_wind(looked.table, both):
        yield from _off_the_ratio_in(looked, {index: both[index] for index in block})


def _off_the_ratio_in(looked: Looked, both: Mapping[Index, tuple[Typed, Typed]]) -> Checked:
    """Find such cells among those of one wind."""
    steps = looked.steps
    noise = [
        sqrt((steps[ROLL] * UNIFORM / roll.value) ** 2 + (steps[TOTAL] * UNIFORM / total.value) ** 2 + MISFIT**2)
        for roll, total in both.values()
    ]
    points = [_point(looked.table, index) for index in both]
    fitted: Surface | None = surface(points, [log(b.value / a.value) for a, b in both.values()], noise)
    for index, cell in zip(both, fitted.cells if fitted else (), strict=False):
        worse = _worse(looked, (ROLL, index), (TOTAL, index))
        if abs(cell.off) > FAR and looked.off(worse) > _HALFWAY * FAR:
            roll, total = both[index]
            there, here = exp(cell.expected), total.value / roll.value
            yield worse, Grade.SUSPECT, f"total over roll is {here:.3f}, {there:.3f} around it"


def _same_as_next(looked: Looked) -> Checked:
    """Find whole cells that print what the next one prints, where their neighbours say that they differ."""
    table = looked.table
    for index in table.grid.cells():
        for axis in range(len(index)):
            after = (*index[:axis], index[axis] + 1, *index[axis + 1 :])
            pairs = {name: (cells.get(index), cells.get(after)) for name, cells in table.cells.items()}
            if not all(a and b and a.text == b.text for a, b in pairs.values()):
                continue
            apart = {name: _apart(looked, name, index, after) for name in pairs}
            if max(apart.values()) < _APART:
                continue
            name = max(apart, key=lambda each: apart[each])
            here, there = table.said(index), table.said(after)
            yield _worse(looked, (name, index), (name, after)), Grade.SUSPECT, f"{here} and {there} print the same"


def _apart(looked: Looked, name: str, first: Index, second: Index) -> float:
    """Return how many steps two cells are expected to be apart; nil where nothing is expected."""
    a, b = looked.expected.get((name, first)), looked.expected.get((name, second))
    return abs(a.value - b.value) / looked.steps[name] if a and b else 0.0


def _off_the_step(looked: Looked) -> Checked:
    for quantity, cells in looked.table.cells.items():
        step, typed = looked.steps[quantity], [cell for cell in cells.values() if cell]
        if len(typed) < _TYPED_BY_HAND:
            continue
        for index, cell in cells.items():
            if cell and off_step(cell.text, step):
                words = f"is no whole number of {step:g}, as the others of the table are"
                yield (quantity, index), Grade.SUSPECT, words


def _copied(looked: Looked, key: Key) -> Iterator[str]:
    """Say where near it the same number stands that is expected there: the eye slipped."""
    quantity, index = key
    cell = looked.table.cells[quantity][index]
    assert cell is not None
    units = looked.table.units
    for other, cells in looked.table.cells.items():
        if units[other] != units[quantity]:
            continue
        for there, same in cells.items():
            apart = [abs(a - b) for a, b in zip(there, index, strict=True)]
            near = max(apart, default=0) <= _COPIED_WITHIN and sum(map(bool, apart)) <= 1
            right = (other, there) != key and looked.off((other, there)) <= FAR
            if right and near and same and same.text == cell.text:
                yield f"the same number stands as {other} at {looked.table.said(there)}"
                return

"""Single slips of typing, put into clean tables from a stated seed: what the audit is measured and tested with."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from math import exp
from pathlib import Path
from typing import NamedTuple

from briefgen.calc.atmosphere import density_ratio, standard_temperature
from briefgen.files.document import read
from briefgen.files.entry import opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.files.read_typed import read_typed
from briefgen.handbook.table import Axis, Grid
from briefgen.model.typed import ROLL, TOTAL, Index, Typed, TypedTable
from briefgen.studies.lines_audit import grouped
from briefgen.studies.table_audit import Finding, Key, look, suspects

TESTS = Path(__file__).resolve().parent.parent
EXAMPLE = TESTS.parent / "examples" / "quillmere" / "aircraft" / "n0142.yaml"
FIG_11_24 = TESTS / "data" / "published_fig_11_24" / "aircraft.yaml"
FIG_11_32 = TESTS / "data" / "published_fig_11_32" / "aircraft.yaml"
# The three misprinted ground rolls of Fig. 11-24, between their neighbours geometrically (check values, 3.1: about
# 1,042, 1,150 and 1,271 ft), to the figure's 5 ft.
MENDED = {(5, 3, 0): "1040", (6, 3, 0): "1150", (7, 3, 0): "1270"}
DIGIT_SLIPS = ("swapped", "dropped", "doubled", "mistyped")
SLIPS = ("swapped", "dropped", "doubled", "row shifted", "neighbour copied")
LARGE = 0.03  # a slip that changes a number by more than this share


def typed_tables(path: Path) -> tuple[TypedTable, ...]:
    """Return the tables of an aircraft file that print anything."""
    root = opened(read(path, path.name), "aircraft")
    found = read_typed(root, read_aircraft(root))
    return tuple(table for table in found if any(any(cells.values()) for cells in table.cells.values()))


def put(table: TypedTable, texts: dict[Key, str]) -> TypedTable:
    """Return a table with other numbers in some cells."""
    cells = {name: dict(column) for name, column in table.cells.items()}
    for (name, index), text in texts.items():
        cell = cells[name][index]
        assert cell is not None
        cells[name][index] = cell._replace(value=float(text), text=text)
    return table._replace(cells=cells)


def mended(table: TypedTable) -> TypedTable:
    """Return the table of Fig. 11-24 with its three misprints mended."""
    return put(table, {(ROLL, index): text for index, text in MENDED.items()})


def blocks(table: TypedTable) -> list[TypedTable]:
    """Return the table of each weight on its own: of 45 cells, 90 numbers, in a distance table of 9 rows."""
    *axes, weights = table.grid.axes
    if weights.name != "weight_lb":
        return [table]
    return [
        table._replace(
            name=f"{table.name}, {weight:g} lb",
            grid=Grid((*axes, weights._replace(points=(weight,))), table.page),
            cells={
                name: {(*index[:-1], 0): cell for index, cell in column.items() if index[-1] == w}
                for name, column in table.cells.items()
            },
        )
        for w, weight in enumerate(weights.points)
    ]


def found_in(table: TypedTable) -> list[Finding]:
    """Return what the audit finds in a table."""
    looked = look(table)
    return list(grouped(looked, suspects(looked)))


class Slip(NamedTuple):
    """One slip: what it is, where, what stood there, how much it changed at most, and what was found."""

    kind: str
    table: str
    before: dict[Key, str]
    after: dict[Key, str]
    share: float
    findings: list[Finding]

    @property
    def flagged(self) -> bool:
        """Whether one of the cells that it changed was found."""
        return any(key in self.before for each in self.findings for key in each.cells)

    @property
    def mend_is_right(self) -> bool:
        """Whether the mending value of a slip of one cell is what stood there."""
        ((key, text),) = self.before.items()
        return any(each.mend == text for each in self.findings if each.cells == (key,))

    @property
    def bystanders(self) -> int:
        """How many cells were found that it did not change."""
        return len({key for each in self.findings for key in each.cells} - set(self.before))


def slips(tables: Sequence[TypedTable], count: int, seed: int, kinds: Sequence[str] = SLIPS) -> list[Slip]:
    """Return so many slips, each alone in a clean table, with what was found of it; every cell is as likely."""
    dice, made = random.Random(seed), []
    sizes = [sum(1 for column in table.cells.values() for cell in column.values() if cell) for table in tables]
    while len(made) < count:
        table, kind = dice.choices(tables, sizes)[0], dice.choice(kinds)
        texts = _MAKERS[kind](table, dice)
        before = {key: _text(table, key) for key in texts}
        texts = {key: text for key, text in texts.items() if text != before[key]}
        if not texts or not all(map(_is_number, texts.values())):
            continue
        before = {key: before[key] for key in texts}
        shares = [_share(float(before[key]), float(text)) for key, text in texts.items()]
        made.append(Slip(kind, table.name, before, texts, max(shares), found_in(put(table, texts))))
    return made


def _share(before: float, after: float) -> float:
    return abs(after - before) / abs(before) if before else float("inf")


def _is_number(text: str) -> bool:
    """Whether a text is a number as anyone would write it: no dot at an end, no nought before a digit."""
    return text.strip(".") == text != "" and not (text[0] == "0" and text[1:2] not in ("", "."))


def _text(table: TypedTable, key: Key) -> str:
    cell = table.cells[key[0]][key[1]]
    assert cell is not None
    return cell.text


def _some(table: TypedTable, dice: random.Random) -> Key:
    return dice.choice([(name, i) for name, column in table.cells.items() for i, cell in column.items() if cell])


def _swapped(table: TypedTable, dice: random.Random) -> dict[Key, str]:
    key = _some(table, dice)
    text = _text(table, key)
    i = dice.randrange(max(len(text) - 1, 1))
    return {} if "." in text[i : i + 2] else {key: text[:i] + text[i + 1 : i + 2] + text[i] + text[i + 2 :]}


def _dropped(table: TypedTable, dice: random.Random) -> dict[Key, str]:
    return _at_a_digit(table, dice, lambda _: "")


def _doubled(table: TypedTable, dice: random.Random) -> dict[Key, str]:
    return _at_a_digit(table, dice, lambda digit: digit * 2)


def _mistyped(table: TypedTable, dice: random.Random) -> dict[Key, str]:
    return _at_a_digit(table, dice, lambda _: dice.choice("0123456789"))


def _at_a_digit(table: TypedTable, dice: random.Random, change: Callable[[str], str]) -> dict[Key, str]:
    key = _some(table, dice)
    text = _text(table, key)
    i = dice.randrange(len(text))
    return {} if text[i] == "." else {key: text[:i] + change(text[i]) + text[i + 1 :]}


def _neighbour(table: TypedTable, dice: random.Random) -> dict[Key, str]:
    """A whole cell, all its numbers, typed from one beside it."""
    _, index = _some(table, dice)
    axis, by = dice.randrange(len(index)), dice.choice((1, -1))
    return _from(table, [index], axis, by)


def _row(table: TypedTable, dice: random.Random) -> dict[Key, str]:
    """The cells of a row, of one weight and altitude, typed from the next column or from the next row."""
    _, index = _some(table, dice)
    axis, by = dice.choice((0, 1)), dice.choice((1, -1))
    along = 1 if len(index) > 2 or table.grid.axes[-1].name != "weight_lb" else None
    if along is None or len(index) < 2:
        return {}
    row = [(*index[:along], i, *index[along + 1 :]) for i in range(len(table.grid.axes[along].points))]
    return _from(table, row, axis, by)


def _from(table: TypedTable, cells: Iterable[Index], axis: int, by: int) -> dict[Key, str]:
    made = {}
    for index in cells:
        there = (*index[:axis], index[axis] + by, *index[axis + 1 :])
        for name, column in table.cells.items():
            here, other = column.get(index), column.get(there)
            if here and other:
                made[name, index] = other.text
    return made


_MAKERS: dict[str, Callable[[TypedTable, random.Random], dict[Key, str]]] = {
    "swapped": _swapped,
    "dropped": _dropped,
    "doubled": _doubled,
    "mistyped": _mistyped,
    "row shifted": _row,
    "neighbour copied": _neighbour,
}


def distance_tables() -> list[TypedTable]:
    """Return the clean tables of distances: the example's, Fig. 11-24 mended, Fig. 11-32; whole and by weight."""
    example = [table for table in typed_tables(EXAMPLE) if table.kind in ("takeoff", "landing")]
    published = [mended(typed_tables(FIG_11_24)[0]), *typed_tables(FIG_11_32)]
    return [*example, *published]


def other_tables() -> list[TypedTable]:
    """Return the example's tables of rates of climb, of climb and of cruise."""
    return [table for table in typed_tables(EXAMPLE) if table.kind not in ("takeoff", "landing")]


SHAPES: dict[str, tuple[Sequence[float], Sequence[float], Sequence[float]]] = {
    "nine rows, five columns, three weights": (range(0, 9000, 1000), range(0, 50, 10), (2000, 2200, 2400)),
    "nine rows, five columns": (range(0, 9000, 1000), range(0, 50, 10), (2400,)),
    "five rows, four columns, two weights": (range(0, 10_000, 2000), range(0, 40, 10), (2000, 2400)),
    "four rows, three columns, three weights": (range(0, 8000, 2000), range(0, 45, 15), (2000, 2200, 2400)),
    "four rows, three weights": (range(0, 10_000, 2500), (15,), (2000, 2200, 2400)),
    "four rows, four columns": (range(0, 8000, 2000), range(0, 40, 10), (2400,)),
    "five rows": (range(0, 10_000, 2000), (15,), (2400,)),
    "four rows alone": (range(0, 10_000, 2500), (15,), (2400,)),
}
JITTER, KINK = 0.003, 0.02  # a share of each number by chance; a share for each 1,000 ft above 3,000 ft


def rough_tables(seed: int, each: int = 1, jitter: float = JITTER, kink: float = KINK) -> list[TypedTable]:
    """Return made tables of every shape that are less smooth than a model: by chance, or by a kink at 3,000 ft.

    Distances go with powers of weight and density, drawn near those of published tables (check values, S-4, LS-4);
    the kink is what leaning a mixture may do. Rounded to 1, 5 or 10 ft.
    """
    dice = random.Random(seed)
    return [
        _made(f"{phase}, {name}", phase, shape, dice, *roughness)
        for name, shape in SHAPES.items()
        for phase in ("takeoff", "landing")
        for roughness in ((jitter, 0.0), (0.0, kink))
        for _ in range(each)
    ]


def _made(
    name: str,
    phase: str,
    shape: tuple[Sequence[float], Sequence[float], Sequence[float]],
    dice: random.Random,
    jitter: float,
    kink: float,
) -> TypedTable:
    names = ("pressure_altitude_ft", "temperature_degC", "weight_lb")
    axes = [Axis(each, tuple(map(float, points))) for each, points in zip(names, shape, strict=True)]
    grid, step = Grid(tuple(axes), "5-1"), dice.choice((1, 5, 10))
    low, high = ((900, 2.3, 2.4), (700, 2.5, 3.2)) if phase == "takeoff" else ((500, 1.0, 1.0), (550, 0.7, 0.6))
    cells: dict[str, dict[Index, Typed | None]] = {ROLL: {}, TOTAL: {}}
    for index in grid.cells():
        altitude, temperature, weight = [axis.points[i] for axis, i in zip(axes, index, strict=True)]
        ratio = density_ratio(altitude, temperature if len(shape[1]) > 1 else standard_temperature(altitude))
        bent = exp(kink * max(altitude - 3000, 0) / 1000)
        parts = [
            feet * (weight / shape[2][-1]) ** heavy * ratio**-thin * bent * exp(dice.gauss(0, jitter))
            for feet, heavy, thin in (low, high)
        ]
        for quantity, value in ((ROLL, parts[0]), (TOTAL, sum(parts))):
            text = str(round(value / step) * step)
            cells[quantity][index] = Typed(float(text), text, 1, 1)
    return TypedTable(phase, name, "5-1", grid, {ROLL: "ft", TOTAL: "ft"}, cells, {ROLL: 1, TOTAL: 1}, {}, 1, 1)


def summary(made: Sequence[Slip]) -> str:
    """Return what was measured, as lines."""
    large = [slip for slip in made if slip.share > LARGE]
    lines = [f"{len(made)} slips, {len(large)} of them over {LARGE:.0%}: {_rate(large)} flagged"]
    for kind in dict.fromkeys(slip.kind for slip in made):
        ours = [slip for slip in large if slip.kind == kind]
        mending = f", mend right in {_of(ours, lambda s: s.mend_is_right)}" if kind in DIGIT_SLIPS else ""
        lines.append(f"  {kind}: {_rate(ours)} of those over {LARGE:.0%}{mending}")
    digits = [slip for slip in large if slip.kind in DIGIT_SLIPS]
    lines.append(f"mend right in {_of(digits, lambda s: s.mend_is_right)} of digit slips over {LARGE:.0%}")
    lines.append(f"cells flagged that no slip had changed: {sum(slip.bystanders for slip in made)}")
    lines.append("recall by size of the slip:")
    for low, high in pairwise(EDGES):
        here = [slip for slip in made if low < slip.share <= high]
        name = f"{low:.1%} to {high:.1%}" if high < 1e9 else f"over {low:.0%}"
        lines.append(f"  {name:>15}  {_rate(here):>16}  {'#' * round(30 * _flagged(here))}")
    missed = Counter(f"{slip.table}: {slip.kind}" for slip in large if not slip.flagged)
    lines += [f"missed, {name}: {count}" for name, count in missed.most_common(8)]
    return "\n".join(lines)


EDGES = (0.0, 0.005, 0.01, 0.015, 0.02, 0.03, 0.05, 0.1, 0.3, 1e9)


def _flagged(made: Sequence[Slip]) -> float:
    return sum(slip.flagged for slip in made) / len(made) if made else 0.0


def _rate(made: Sequence[Slip]) -> str:
    return _of(made, lambda slip: slip.flagged)


def _of(made: Sequence[Slip], holds: Callable[[Slip], bool]) -> str:
    count = sum(map(holds, made))
    return f"{count} of {len(made)}" + (f" ({count / len(made):.1%})" if made else "")

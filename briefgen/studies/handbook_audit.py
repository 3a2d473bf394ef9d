"""What looks odd about a table as a whole, and about speeds by weight: axes, blanks, pages, and physics."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from itertools import pairwise
from math import log, sqrt
from statistics import median
from types import MappingProxyType

from briefgen.calc.atmosphere import density_ratio, standard_temperature
from briefgen.handbook.axes import HEADWIND
from briefgen.handbook.table import Axis, Grid
from briefgen.model.typed import LINES, Index, Typed, TypedSpeed, TypedSpeeds, TypedTable
from briefgen.studies.slips import SWAPPED, meant_for, mend
from briefgen.studies.table_audit import Finding, Grade

# The powers that distances go with: of the weight, and of one over the density of the air. PHAK FAA-H-8083-25C,
# Takeoff and Landing Performance: a tenth more weight makes a takeoff at least 21 % longer (a power of 2), a
# landing 10 % (1); a landing goes with one over the density. Around these the room of tables: common practice.
_POWERS: Mapping[tuple[str, str], tuple[float, float]] = MappingProxyType(
    {
        ("takeoff", "weight"): (1.5, 3.5),
        ("landing", "weight"): (0.3, 2.5),
        ("takeoff", "density"): (1.0, 5.0),
        ("landing", "density"): (0.3, 2.5),
    }
)
_GO_WITH_ROOT_OF_WEIGHT = ("stall", "approach", "liftoff", "at_50_ft", "best_glide", "maneuvering")
_NEAR_KT = 2.0  # how far a printed speed may be from the law; printed ones are rounded. Common practice, no source
_SPEED_ERROR_KT = 0.6
_SAME_LB = 0.5


def of_whole(table: TypedTable) -> Iterator[Finding]:
    """Return what looks odd about a table that prints anything."""
    if not any(any(cells.values()) for cells in table.cells.values()):
        return
    if not any(sign.isdigit() for sign in table.page):  # such as ?, TBC, none
        yield _found(table, "its page", f"the page is given as '{table.page}': nobody can look it up", table.page)
    for axis in table.grid.axes:
        sides = (axis,) if axis.name != HEADWIND else _sides(axis)  # the two need not step alike
        for words in (each for side in sides for each in _uneven(side)):
            yield _found(table, f"its {LINES[axis.name][0]}s", words)
    yield from _blanks(table)
    yield from _far_from_physics(table)


def _found(table: TypedTable, where: str, reason: str, typed: str = "") -> Finding:
    place = table.line, table.column
    return Finding(Grade.UNUSUAL, table.name, table.page, where, *place, (reason,), typed=typed, file=table.file)


def _sides(axis: Axis) -> tuple[Axis, Axis]:
    """Return the tailwinds and the headwinds of an axis, each with calm."""
    points = axis.points
    tailwinds, headwinds = ([kt for kt in points if kt <= 0], [kt for kt in points if kt >= 0])
    return axis._replace(points=tuple(tailwinds)), axis._replace(points=tuple(headwinds))


def _uneven(axis: Axis) -> Iterator[str]:
    """Say where the steps of an axis are not all the same, though most of them are."""
    gaps = [round(b - a, 6) for a, b in pairwise(axis.points)]
    step, often = Counter(gaps).most_common(1)[0] if gaps else (0.0, 0)
    if often == len(gaps) or often < len(gaps) / 2 or len(gaps) < 3:
        return
    one = Grid((axis,), "")
    odd = [i for i, gap in enumerate(gaps) if gap != step]
    first = odd[0]
    if len(odd) == 1 and gaps[first] == 2 * step:
        ends = f"{one.short((first,))} and {one.short((first + 1,))}"
        yield f"a {LINES[axis.name][1]} seems to be left out between {ends}"
    elif len(odd) == 2 and odd[1] == first + 1 and gaps[first] + gaps[first + 1] == 2 * step:
        start = axis.points[first]
        even = Grid((axis._replace(points=(start, start + step)),), "").short((1,))
        yield f"{one.short((first + 1,))} is out of step with the others; even would be {even}"
    else:
        yield f"the steps are uneven: mostly {step:g}, but {', '.join(f'{gaps[i]:g}' for i in odd)} too"


def _blanks(table: TypedTable) -> Iterator[Finding]:
    """Find blank cells beyond which the page prints something: a table ends at its hot, high and heavy side."""
    for quantity in table.course:
        cells = table.cells[quantity]
        for index, cell in cells.items():
            beyond = (other for other, there in cells.items() if there and _beyond(table, other, index))
            further = next(beyond, None)
            if cell is None and further is not None:
                where = f"{quantity} at {table.said(index)}"
                yield _found(table, where, f"is blank, though {table.said(further)} is printed", "blank")


def _beyond(table: TypedTable, other: Index, index: Index) -> bool:
    """Say whether a cell is on the worse side of another along every axis."""
    apart = (table.worsens(axis) * (a - b) for axis, (a, b) in enumerate(zip(other, index, strict=True)))
    return other != index and all(each >= 0 for each in apart)


def _far_from_physics(table: TypedTable) -> Iterator[Finding]:
    """Find distances that go with the weight or the air as no airplane's do: an axis in another unit, mostly."""
    for quantity, cells in table.cells.items():
        for cause in ("weight", "density"):
            least, most = _POWERS.get((table.kind, cause), (0.0, 0.0))
            powers = list(_powers(table, cells, cause)) if most else []
            if powers and not least <= median(powers) <= most:
                of = "the weight" if cause == "weight" else "one over the density"
                axes = "weights" if cause == "weight" else "altitudes or temperatures"
                power = median(powers)
                words = (
                    f"goes with the power {power:.1f} of {of}; {least:g} to {most:g} is what tables print; "
                    f"the unit of its {axes} may not be the page's"
                )
                yield _found(table, quantity, words)


def _powers(table: TypedTable, cells: Mapping[Index, Typed | None], cause: str) -> Iterator[float]:
    """Return the power between each two neighbours along the axes of a cause."""
    for axis, each in enumerate(table.grid.axes):
        if (each.name == "weight_lb") != (cause == "weight") or each.name == "headwind_kt":
            continue
        for index, cell in cells.items():
            other = cells.get((*index[:axis], index[axis] + 1, *index[axis + 1 :]))
            if cell and other and min(cell.value, other.value) > 0:
                here, there = (
                    _amount(table, (*index[:axis], index[axis] + by, *index[axis + 1 :]), cause) for by in (0, 1)
                )
                yield log(other.value / cell.value) / log(there / here)


def _amount(table: TypedTable, index: Index, cause: str) -> float:
    """Return the weight of a cell, or one over the density of its air; standard air in a table of one column."""
    at = {axis.name: axis.points[i] for axis, i in zip(table.grid.axes, index, strict=True)}
    if cause == "weight":
        return at["weight_lb"]
    altitude_ft = at.get("pressure_altitude_ft", at.get("density_altitude_ft", 0.0))
    warm_degC = standard_temperature(altitude_ft) + at.get("above_standard_degC", 0.0)
    return 1 / density_ratio(altitude_ft, at.get("temperature_degC", warm_degC))


def of_weights(speeds: TypedSpeeds, elsewhere: Collection[float]) -> Iterator[Finding]:
    """Return the weights of a list that no table has, where one slip makes one of theirs, or an even step, of it.

    Parameters
    ----------
    speeds : the list.
    elsewhere : the weights of the file's tables, its other lists and its limits [lb].
    """
    given = [each.weight_lb for each in speeds.speeds]
    for place, each in enumerate(speeds.speeds):
        if len(given) < 2 or _among(each.weight_lb, elsewhere):
            continue
        number, _, unit = each.weight.partition(" ")
        scale = each.weight_lb / float(number)
        others = [one for one in speeds.speeds if one is not each]
        for text, slip in meant_for(number):
            meant_lb = float(text) * scale
            even = len(given) > 2 and _even(sorted([*given[:place], *given[place + 1 :], meant_lb]))
            if _among(meant_lb, given) or not (even or _among(meant_lb, elsewhere)):
                continue
            if not _fits_better(speeds.kind, each, others, meant_lb, sure=slip == SWAPPED):
                continue
            reason = "makes the steps even" if even else "is the weight of other tables here"
            yield Finding(
                grade=Grade.SUSPECT,
                table=speeds.name,
                page=speeds.page,
                where=f"the weight {each.weight}",
                line=each.weight_line,
                column=each.weight_column,
                reasons=(f"stands in no other table or list, and {text} {unit}, one slip away, {reason}",),
                unit=unit,
                typed=number,
                mend=text,
                slip=slip,
                share=each.weight_lb / meant_lb - 1,
            )
            break


def _among(weight_lb: float, weights_lb: Collection[float]) -> bool:
    return any(abs(weight_lb - each) < _SAME_LB for each in weights_lb)


def _even(weights_lb: list[float]) -> bool:
    gaps = [b - a for a, b in pairwise(weights_lb)]
    return max(gaps) - min(gaps) < _SAME_LB


def _fits_better(kind: str, each: TypedSpeed, others: list[TypedSpeed], meant_lb: float, *, sure: bool) -> bool:
    """Say whether the speed goes better with another weight: clearly so, or `sure`, as well by a common slip."""
    if kind not in _GO_WITH_ROOT_OF_WEIGHT:
        return sure
    share = median(one.speed_kt / sqrt(one.weight_lb) for one in others)
    here, there = (abs(each.speed_kt - share * sqrt(lb)) for lb in (each.weight_lb, meant_lb))
    return there < here if sure else there <= _SPEED_ERROR_KT and here > 2 * _SPEED_ERROR_KT


def of_speeds(speeds: TypedSpeeds) -> Iterator[Finding]:
    """Return the speeds that are off the law they go by: the square root of the weight."""
    if speeds.kind not in _GO_WITH_ROOT_OF_WEIGHT or len(speeds.speeds) < 2:
        return
    shares = [each.speed_kt / sqrt(each.weight_lb) for each in speeds.speeds]
    for each in speeds.speeds:
        law_kt = median(shares) * sqrt(each.weight_lb)
        if abs(each.speed_kt - law_kt) <= (_NEAR_KT if len(shares) > 2 else _NEAR_KT / 2):
            continue
        number, _, unit = each.speed.partition(" ")
        scale = each.speed_kt / float(number)
        law, error = law_kt / scale, _SPEED_ERROR_KT / scale
        meant = mend(number, law, error, 1.0) if len(shares) > 2 else None
        yield Finding(
            grade=Grade.SUSPECT if len(shares) > 2 else Grade.UNUSUAL,
            table=speeds.name,
            page=speeds.page,
            where=f"at {each.weight}",
            line=each.line,
            column=each.column,
            reasons=("is off the square-root law of weight that the others keep",),
            unit=unit,
            typed=number,
            expected=round(law),
            mend=meant.text if meant else "",
            slip=meant.slip if meant else "",
            share=each.speed_kt / law_kt - 1,
        )

"""What looks odd between the parts of an aircraft file: weights, runs and speeds, tanks."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from briefgen.handbook.axes import HEADWIND
from briefgen.model.aircraft import Aircraft, SpeedByWeight
from briefgen.model.typed import ROLL, TypedTable
from briefgen.studies.slips import SWAPPED, meant_for
from briefgen.studies.table_audit import Finding, Grade
from briefgen.units import G_FT_PER_S2, KT_TO_FT_PER_S, parse

# The share of gravity that a ground roll takes on the average, from a square over twice the roll: published tables
# print 0.1 to 0.3 for a takeoff, 0.2 to 0.45 for a landing. A table in meters comes out 3.3 times as much.
# Common practice, no source.
_RUNS = {"takeoff": (0.03, 0.4), "landing": (0.06, 0.8)}
_SAME_LB = 0.5
_SAME_GAL = 0.6  # tanks and the whole are rounded apart


def of_airplane(aircraft: Aircraft, tables: tuple[TypedTable, ...]) -> Iterator[Finding]:
    """Return what does not go together, though each part looks right by itself.

    Parameters
    ----------
    aircraft : as read.
    tables : of it, as typed.
    """
    for table in tables:
        yield from _lone_weights(table, [other for other in tables if other is not table])
        speeds = {"takeoff": aircraft.liftoff, "landing": aircraft.approach}.get(table.kind, ())
        yield from _runs(table, speeds)
        yield from _tanks(aircraft, table) if table is tables[0] else ()


def _weights(table: TypedTable) -> tuple[float, ...]:
    return next((axis.points for axis in table.grid.axes if axis.name == "weight_lb"), ())


def _lone_weights(table: TypedTable, others: list[TypedTable]) -> Iterator[Finding]:
    """Find a weight that no other table has, where two of its digits swapped make one that two others have."""
    for weight_lb in _weights(table):
        if sum(_has(each, weight_lb) for each in others):
            continue
        for text, slip in meant_for(f"{weight_lb:.0f}"):
            if (
                slip == SWAPPED
                and not _has(table, float(text))
                and sum(_has(each, float(text)) for each in others) > 1
            ):
                words = f"stands in no other table, and {text} lb, two digits swapped, stands in several"
                yield _found(table, f"the block of {weight_lb:.0f} lb", words, f"{weight_lb:.0f}", text, slip)


def _has(table: TypedTable, weight_lb: float) -> bool:
    return any(abs(each - weight_lb) < _SAME_LB for each in _weights(table))


def _runs(table: TypedTable, speeds: tuple[SpeedByWeight, ...]) -> Iterator[Finding]:
    """Find a table whose shortest ground roll no airplane of that speed has: in meters, or a speed mistyped."""
    flaps = table.name.rpartition("flaps ")[2]
    speed_kt = max((each.speeds_kt[-1] for each in speeds if each.flaps == flaps and each.speeds_kt), default=0.0)
    rolls_ft = _still_air_rolls_ft(table)
    if not speed_kt or not rolls_ft or min(rolls_ft) <= 0:
        return
    least, most = _RUNS.get(table.kind, (0.0, inf))
    shortest_ft = min(rolls_ft)
    share = (speed_kt * KT_TO_FT_PER_S) ** 2 / (2 * shortest_ft) / G_FT_PER_S2
    if not least <= share <= most:
        words = (
            f"its shortest ground roll, {shortest_ft:,.0f} ft, and {speed_kt:g} kt make {share:.2f} g on the way; "
            f"{least:g} to {most:g} is what airplanes do: look at the unit of the table, and at the speed"
        )
        yield _found(table, "ground roll", words)


def _still_air_rolls_ft(table: TypedTable) -> list[float]:
    """Return the ground rolls of a table in calm, in feet; none of a table that prints no calm."""
    winds = [(i, axis.points) for i, axis in enumerate(table.grid.axes) if axis.name == HEADWIND]
    return [
        cell.value * parse("length", f"1 {table.units[ROLL]}")
        for index, cell in table.cells.get(ROLL, {}).items()
        if cell and all(points[index[axis]] == 0 for axis, points in winds)
    ]


def _tanks(aircraft: Aircraft, table: TypedTable) -> Iterator[Finding]:
    """Find a usable fuel that is not that of the tanks."""
    whole, balance = aircraft.usable_fuel_gal, aircraft.balance
    tanks = sum(each.usable_gal for each in balance.tanks) if balance else 0.0
    if whole and tanks and abs(whole.value - tanks) > _SAME_GAL:
        words = f"{whole.value:g} gal under 'fuel', but {tanks:g} gal in the tanks of 'balance'"
        yield _found(table, "fuel", words)._replace(table="usable fuel", page=whole.page)


def _found(table: TypedTable, where: str, words: str, typed: str = "", meant: str = "", slip: str = "") -> Finding:
    return Finding(
        Grade.SUSPECT if meant else Grade.UNUSUAL,
        table.name,
        table.page,
        where,
        table.line,
        table.column,
        (words,),
        unit="lb" if meant else "",
        typed=typed,
        mend=meant,
        slip=slip,
    )

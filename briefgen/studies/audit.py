"""Look through every table of an aircraft file for slips of typing and misprints."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from briefgen.handbook.axes import HEADWIND
from briefgen.model.aircraft import Aircraft
from briefgen.model.typed import TypedSpeeds, TypedTable
from briefgen.model.typed_graph import TypedPanel
from briefgen.studies.airplane_audit import of_airplane
from briefgen.studies.compared import Compared
from briefgen.studies.graph_audit import Misread, misread
from briefgen.studies.graph_pairs import not_looked_at
from briefgen.studies.handbook_audit import of_speeds, of_weights, of_whole
from briefgen.studies.lines_audit import grouped
from briefgen.studies.table_audit import Finding, Grade, Looked, look, of_one_wind, suspects

STANDING = (
    "An audit finds cells that look wrong. A wrong cell that looks right it cannot find: have a second person read "
    "every table against the page.",
    "What is expected is not what the page prints. Type no number that you have not read there.",
    "The approved handbook and the pilot in command govern.",
)


class Audit(NamedTuple):
    """What was found in an aircraft file.

    `findings` are ranked, worst first; `checked` stand apart, which somebody looked up on the page. `compared`:
    against a second typing, None without one.
    """

    file: str
    registration: str
    description: str
    handbook: str
    not_for_flight: str
    tables: tuple[Looked, ...]
    findings: tuple[Finding, ...]
    checked: tuple[Finding, ...]
    compared: Compared | None = None
    standing: tuple[str, ...] = STANDING
    panels: tuple[TypedPanel, ...] = ()
    misread: tuple[Misread, ...] = ()  # the findings that are points of a graph

    @property
    def cells(self) -> int:
        """How many printed numbers, and points of graphs, were looked at."""
        return sum(each.table.printed for each in self.tables) + sum(each.printed for each in self.panels)

    @property
    def without_surface(self) -> tuple[str, ...]:
        """The tables, and what of them, in which no surface could be laid through the cells."""
        return tuple(said for each in self.tables for said in _without_surface(each))

    @property
    def not_looked_at(self) -> tuple[str, ...]:
        """The panels of graphs, and what of them was not looked at, or roughly."""
        return tuple(said for panel in self.panels if (said := not_looked_at(panel)))

    @property
    def worst(self) -> Grade | None:
        """The worst grade of what was found, None if nothing was; a difference of two typings is suspect."""
        grades = [each.grade for each in self.findings]
        if self.compared and self.compared.differences:
            grades.append(Grade.SUSPECT)
        return max(grades, key=lambda grade: grade.rank, default=None)

    def counted(self, grade: Grade) -> int:
        """Return how many findings are of a grade."""
        return sum(each.grade is grade for each in self.findings)


def audit(
    aircraft: Aircraft,
    tables: tuple[TypedTable, ...],
    speeds: tuple[TypedSpeeds, ...],
    compared: Compared | None = None,
    panels: tuple[TypedPanel, ...] = (),
) -> Audit:
    """Return what looks wrong in an aircraft file.

    Parameters
    ----------
    aircraft : as read.
    tables, speeds : of it, as typed.
    compared : its differences from a second typing, where there is one.
    panels : of its graphs, as typed.
    """
    off_graphs = tuple(each for panel in panels for each in misread(panel))
    looked = tuple(look(table) for table in tables)
    found = [each for one in looked for each in of_table(one)]
    printed = {lb for one in tables for axis in one.grid.axes if axis.name == "weight_lb" for lb in axis.points}
    printed |= {aircraft.maximum_takeoff_lb.value, aircraft.maximum_landing_lb.value}
    for one in speeds:
        other_lists = {each.weight_lb for other in speeds if other is not one for each in other.speeds}
        off = list(of_weights(one, printed | other_lists))
        found += off or of_speeds(one)  # a speed that is off its law by its weight is told once
    found += of_airplane(aircraft, tables)
    found += [each.finding for each in off_graphs]
    found.sort(key=lambda each: each.order)
    book = aircraft.handbook
    return Audit(
        file=aircraft.name,
        registration=aircraft.registration,
        description=aircraft.description,
        handbook=", ".join(part for part in book if part),
        not_for_flight=aircraft.not_for_flight,
        tables=looked,
        findings=tuple(each for each in found if not each.checked),
        checked=tuple(each for each in found if each.checked),
        compared=compared,
        panels=panels,
        misread=off_graphs,
    )


def _without_surface(looked: Looked) -> Iterator[str]:
    """Say which quantities of a table have no surface, or in which winds they have none."""
    table = looked.table
    wind = next((i for i, axis in enumerate(table.grid.axes) if axis.name == HEADWIND), None)
    for quantity, cells in table.cells.items():
        blocks = of_one_wind(table, [index for index, cell in cells.items() if cell])
        few = [block for block in blocks if not any((quantity, index) in looked.expected for index in block)]
        if few and len(few) == len(blocks):
            yield f"{table.name}, {quantity}"
        elif wind is not None:
            yield from (f"{table.name}, {quantity}, {table.point(wind, block[0][wind])}" for block in few)


def of_table(looked: Looked) -> Iterator[Finding]:
    """Return what looks wrong in one table."""
    yield from grouped(looked, suspects(looked))
    yield from of_whole(looked.table)

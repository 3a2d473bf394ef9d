"""The command `audit`: from an aircraft file to what looks wrong in it, one function per arrow.

What it works with is imported where it is needed: every command builds the arguments of all.
"""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from briefgen.errors import InputFault, Problem
from briefgen.writing import target_for, write

if TYPE_CHECKING:
    from briefgen.files.document import Document
    from briefgen.files.entry import Entry
    from briefgen.files.laid_in import Named
    from briefgen.files.sheet_table import SheetTable
    from briefgen.model.aircraft import Aircraft
    from briefgen.studies.audit import Audit
    from briefgen.studies.compared import Compared

KINDS = (".pdf", ".html", ".json", ".txt")
PARTS = ("takeoff", "landing", "rate_of_climb", "climb", "cruise", "speeds", "balance")  # one of them is enough
GRADES = ("unusual", "suspect", "impossible")  # from least to worst, as `Grade` names them


def arguments(command: argparse.ArgumentParser) -> None:
    """Add the arguments of the command."""
    command.add_argument("aircraft", metavar="AIRCRAFT", help="the aircraft file (YAML)")
    help = "a second typing of the aircraft file, of some of its tables (YAML), or of one (CSV): print what differs"
    command.add_argument("--against", metavar="OTHER", help=help)
    help = "which table a CSV typing is of, such as 'takeoff, flaps 10', where its first row does not say so"
    command.add_argument("--table", metavar="NAME", help=help)
    endings = ", ".join(KINDS)
    command.add_argument("-o", "--output", metavar="FILE", help=f"write a report: {endings}; else print it")
    help = f"exit with 1 if a finding is of this grade or a worse one; from least to worst: {', '.join(GRADES)}"
    also = "; a difference of two typings counts as suspect"
    command.add_argument("--fail-on", choices=GRADES, metavar="GRADE", help=help + also)


def run(options: argparse.Namespace) -> int:
    """Audit an aircraft file, print or write what was found, and return the exit status."""
    from briefgen.render.audit_words import counted

    target = target_for(options.output, KINDS) if options.output else None
    if target and target.suffix.lower() == ".pdf":
        from briefgen.render.pdf import require_libraries

        require_libraries()  # before any work, so that the answer comes at once
    found = audit_of(Path(options.aircraft), options.aircraft, options.against, options.table)
    if target:
        write(target, _rendered(found, target.suffix.lower()))
        print(f"{target}: {counted(found)}")
    else:
        print(_rendered(found, ".txt").decode(), end="")
    if options.fail_on is None or found.worst is None:
        return 0
    return 1 if GRADES.index(found.worst.value) >= GRADES.index(options.fail_on) else 0


def audit_of(path: Path, name: str, against: str | None = None, table: str | None = None) -> Audit:
    """Return the audit of an aircraft file.

    Parameters
    ----------
    path, name : of the aircraft file; the name is what a message says.
    against : a second typing, as it is named on the command line.
    table : which table that is, where it is a sheet that does not say so.

    Raises
    ------
    InputFault : every fault of the aircraft file, or what hinders reading the second typing.
    """
    from briefgen.files.read_typed import read_typed, read_typed_speeds
    from briefgen.files.read_typed_graph import read_typed_graphs
    from briefgen.studies.audit import audit

    root, aircraft = opened_aircraft(path, name)
    compared = _compared(root.faults.document, against, table) if against else None
    typed = read_typed(root, aircraft), read_typed_speeds(root)
    return audit(aircraft, *typed, compared, read_typed_graphs(root))


def opened_aircraft(path: Path, name: str) -> tuple[Entry, Aircraft]:
    """Return an aircraft file that no trip names, and the airplane of it; raises InputFault for its faults."""
    from briefgen.files.document import read
    from briefgen.files.entry import opened
    from briefgen.files.read_aircraft import read_aircraft
    from briefgen.files.schema import another_kind

    document = read(path, name)
    another = another_kind(document, "aircraft")
    if another:
        raise InputFault([document.problem((), another)])
    root = opened(document, "aircraft")
    return root, read_aircraft(root)


def _compared(document: Document, against: str, table: str | None) -> Compared:
    """Return what a second typing gives differently; it needs no more than one part of an aircraft file."""
    if against.lower().endswith(".csv"):
        return _compared_sheet(document, against, table)
    from briefgen.files.document import read
    from briefgen.files.laid_in import laid_in
    from briefgen.studies.compared import compare

    other = read(Path(against), against)
    shared = set(other.value) & set(document.value) if isinstance(other.value, dict) else set()
    if not shared.intersection(PARTS):
        words = f"it has no table that {document.name} has"
        hint = f"a second typing of the aircraft file is wanted, or of some of its parts: {', '.join(PARTS)}"
        raise InputFault([Problem(against, 1, 1, words, hint)])
    other, problems, _ = laid_in(other)
    if problems:
        raise InputFault(problems)
    return compare(document, other)


def _compared_sheet(document: Document, against: str, table: str | None) -> Compared:
    """Return what one table typed again in a spreadsheet gives differently."""
    from briefgen.files.document import Document
    from briefgen.files.sheet_table import read_sheet_table
    from briefgen.studies.compared import compare_table

    path = Path(against)
    sheet = read_sheet_table(path, against)
    meant = _meant(document, sheet, against, table)
    other = Document(against, path, sheet.value, {(): (1, 1), **sheet.marks}, {})
    return compare_table(document, meant.place, meant.name, other)


def _meant(document: Document, sheet: SheetTable, against: str, table: str | None) -> Named:
    """Return the table of an aircraft file that a sheet is of: as it is named, else the only one of its kind."""
    from briefgen.files.laid_in import same_name, tables_of

    every = list(tables_of(document.value))
    name = table or sheet.title
    if name:
        found = [each for each in every if same_name(each.name, name)]
    else:
        columns = {key for key in ("temperatures", "above_standard", "cell") if key in sheet.value}
        fits = [each for each in every if each.of_distances == sheet.of_distances and columns <= set(each.value)]
        printed = [sorted(map(str, of.get("cell", ()))) for of in (sheet.value, *(each.value for each in fits))]
        found = [each for each, cell in zip(fits, printed[1:], strict=True) if cell == printed[0]]
    if len(found) == 1 and found[0].of_distances == sheet.of_distances:
        return found[0]
    words = f"'{name}' is no such table of {document.name}" if name else "which table this is cannot be told"
    hint = "name it by --table, or in a first row: table, and its name beside it; there are "
    names = "; ".join(each.name for each in every if each.of_distances == sheet.of_distances)
    raise InputFault([Problem(against, *sheet.place, words, hint + names)])


def _rendered(found: Audit, kind: str) -> bytes:
    """Return the report's bytes; what each output needs is imported only for it."""
    if kind == ".txt":
        from briefgen.render.audit_words import audit_lines

        return audit_lines(found).encode()
    if kind == ".json":
        from briefgen.render.audit_words import audit_json

        return audit_json(found).encode()
    from briefgen.render.audit_page import audit_html, audit_pdf

    return audit_html(found, for_screen=True).encode() if kind == ".html" else audit_pdf(found)

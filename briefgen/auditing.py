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
    from briefgen.model.aircraft import Aircraft
    from briefgen.studies.audit import Audit
    from briefgen.studies.compared import Compared

KINDS = (".pdf", ".html", ".json", ".txt")
PARTS = ("takeoff", "landing", "rate_of_climb", "climb", "cruise", "speeds", "balance")  # one of them is enough
GRADES = ("unusual", "suspect", "impossible")  # from least to worst, as `Grade` names them


def arguments(command: argparse.ArgumentParser) -> None:
    """Add the arguments of the command."""
    command.add_argument("aircraft", metavar="AIRCRAFT", help="the aircraft file (YAML)")
    help = "a second typing of the aircraft file, or of some of its tables (YAML): print what differs, cell by cell"
    command.add_argument("--against", metavar="OTHER", help=help)
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
    found = audit_of(Path(options.aircraft), options.aircraft, options.against)
    if target:
        write(target, _rendered(found, target.suffix.lower()))
        print(f"{target}: {counted(found)}")
    else:
        print(_rendered(found, ".txt").decode(), end="")
    if options.fail_on is None or found.worst is None:
        return 0
    return 1 if GRADES.index(found.worst.value) >= GRADES.index(options.fail_on) else 0


def audit_of(path: Path, name: str, against: str | None = None) -> Audit:
    """Return the audit of an aircraft file.

    Parameters
    ----------
    path, name : of the aircraft file; the name is what a message says.
    against : a second typing, as it is named on the command line.

    Raises
    ------
    InputFault : every fault of the aircraft file, or what hinders reading the second typing.
    """
    from briefgen.files.read_typed import read_typed, read_typed_speeds
    from briefgen.files.read_typed_graph import read_typed_graphs
    from briefgen.studies.audit import audit

    root, aircraft = opened_aircraft(path, name)
    compared = _compared(root.faults.document, against) if against else None
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


def _compared(document: Document, against: str) -> Compared:
    """Return what a second typing gives differently; it needs no more than one part of an aircraft file."""
    from briefgen.files.document import read
    from briefgen.studies.compared import compare

    other = read(Path(against), against)
    shared = set(other.value) & set(document.value) if isinstance(other.value, dict) else set()
    if not shared.intersection(PARTS):
        words = f"it has no table that {document.name} has"
        hint = f"a second typing of the aircraft file is wanted, or of some of its parts: {', '.join(PARTS)}"
        raise InputFault([Problem(against, 1, 1, words, hint)])
    return compare(document, other)


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

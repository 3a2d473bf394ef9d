"""The command `checked`: the record of a check of an aircraft file, to be pasted into it.

It is printed, not written: a file that a program writes has lost its comments.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from briefgen.errors import InputFault, Problem

if TYPE_CHECKING:
    from briefgen.files.entry import Entry
    from briefgen.model.provenance import Provenance


def arguments(command: argparse.ArgumentParser) -> None:
    """Add the arguments of the command."""
    command.add_argument("aircraft", metavar="AIRCRAFT", help="the aircraft file (YAML)")
    command.add_argument("--by", metavar="NAME", required=True, help="who compared every figure with the pages")
    command.add_argument("--on", metavar="DATE", required=True, help="on which day, such as 2026-05-09")
    help = "one table's own record, such as 'landing, flaps 30'; without it, the file's"
    command.add_argument("--table", metavar="TABLE", help=help)


def run(options: argparse.Namespace) -> int:
    """Print the record of a check, after an audit; what the audit found is said above it."""
    from briefgen.auditing import audit_of, opened_aircraft
    from briefgen.render.audit_words import counted

    found = audit_of(Path(options.aircraft), options.aircraft)
    root, aircraft = opened_aircraft(Path(options.aircraft), options.aircraft)
    name = " ".join(str(options.by).split())
    record = next((each for each in aircraft.provenance if each.of == options.table), aircraft.provenance[0])
    _refuse(options, name, record)
    print(f"# briefgen audit: {counted(found)}")
    for line in _lines(root, options, name):
        print(line)
    if found.findings:
        print(f"look at what stands open first: briefgen audit {options.aircraft}", file=sys.stderr)
    if name.casefold() == record.typed.by.casefold():
        print(f"{name} typed it too: every brief says so", file=sys.stderr)
    return 0


def _refuse(options: argparse.Namespace, name: str, record: Provenance) -> None:
    """Raise InputFault for a name or a day that no record can have."""
    problems = []
    if not 0 < len(name) <= 60 or not name.isprintable():
        problems.append(("--by is not a name of at most 60 characters", "for example --by 'B. Checker'"))
    try:
        day = date.fromisoformat(options.on).isoformat()
        if day != options.on:
            raise ValueError(options.on)
        if day < record.typed.on:
            words = f"--on {day} is before the {record.of} was typed, {record.typed.on}"
            problems.append((words, "a check comes after the typing"))
    except ValueError:
        problems.append((f"--on '{options.on}' is no day", "for example --on 2026-05-09"))
    if problems:
        raise InputFault([Problem("briefgen checked", 0, 0, *each) for each in problems])


def _lines(root: Entry, options: argparse.Namespace, name: str) -> Iterator[str]:
    from briefgen.files.read_provenance import content_of, contents, tables_of

    by = json.dumps(name, ensure_ascii=False)
    if not options.table:
        yield from ("  checked:", f"    by: {by}", f"    on: {options.on}", "    content:")
        yield from (f'      {part}: "{digits}"' for part, digits in contents(root.value).items())
        return
    tables = dict(tables_of(root))
    if options.table not in tables:
        words = f"there is no table '{options.table}'"
        raise InputFault([Problem("briefgen checked", 0, 0, words, f"the tables are {'; '.join(tables)}")])
    table = tables[options.table]
    yield f'checked: {{by: {by}, on: {options.on}, content: "{content_of(table.value, table.place)}"}}'

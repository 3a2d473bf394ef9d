"""Read who typed an aircraft file and who checked it, and hold what was checked against what stands there now.

What is checked is the meaning: comments, spacing, the order of keys and the record itself count for nothing.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import date
from functools import cache
from importlib import import_module
from typing import Any

from briefgen.files.document import Place
from briefgen.files.entry import Entry
from briefgen.model.provenance import Provenance, Signed

THE_FILE = "aircraft file"
REST = "rest"
PARTS = ("weights", "speeds", "takeoff", "landing", "rate_of_climb", "climb", "cruise", "balance")
_DIGITS = 16  # of the SHA-256, FIPS 180-4: one chance in 2^64 that a changed part looks unchanged
_LISTS = ("takeoff", "landing", "rate_of_climb", "cruise")
_SPACES = re.compile(" {2,}")
_JSON = json.JSONEncoder(sort_keys=True, separators=(",", ":"), check_circular=False)
_NONE: Mapping[Place, Any] = {}


def read_provenance(root: Entry, source: str, files: Mapping[Place, Any] = _NONE) -> tuple[Provenance, ...]:
    """Return the record of an aircraft file, and of each table that has its own.

    Parameters
    ----------
    root : of the file.
    source : the handbook with its revision and date.
    files : the parsed contents of each file that it refers to, by the place where it does.
    """
    now = contents(root.value, files)
    entry = root["provenance"]
    of_file = _record(entry, THE_FILE, source)
    if of_file.checked:
        then = entry["checked"]["content"].value
        then = then if isinstance(then, dict) else {}
        changed = [part for part in (*PARTS, REST) if now.get(part) != then.get(part)]
        of_file = of_file._replace(changed=tuple(part.replace("_", " ") for part in changed))
    return of_file, *(
        _of_table(table, name, of_file, files) for name, table in tables_of(root) if _own(table.value)
    )


def _of_table(table: Entry, name: str, of_file: Provenance, files: Mapping[Place, Any]) -> Provenance:
    """Return a table's own record; with no check of its own, the file's counts for it."""
    entry = table["provenance"]
    page = f"p. {table.text('page')}"
    if entry.get("checked") is None and entry.get("unchecked") is None:
        return of_file._replace(of=name, source=page, typed=_signed(entry["typed"]), changed=())
    found = _record(entry, name, page)
    if found.checked and entry["checked"]["content"].value != content_of(table.value, table.place, files):
        found = found._replace(changed=("it",))
    return found


def _record(entry: Entry, of: str, source: str) -> Provenance:
    typed, check = _signed(entry["typed"]), entry.get("checked")
    checked = _signed(check) if check else None
    if check and checked and checked.on < typed.on:
        hint = "a check comes after the typing: write 'unchecked' with a reason in its place until the next one"
        check["on"].fault(f"checked on {checked.on}, before it was typed on {typed.on}", hint)
    return Provenance(of, source, typed, checked, unchecked=entry.text("unchecked"))


def _signed(entry: Entry) -> Signed:
    on = entry["on"]
    try:
        date.fromisoformat(str(on.value))
    except ValueError:
        if not on.faults.touch(on.place):
            on.fault(f"there is no day {on.value}", "year, month and day, such as 2026-05-02")
    return Signed(entry.text("by"), str(on.value))


def tables_of(root: Entry) -> Iterator[tuple[str, Entry]]:
    """Return every table of an aircraft file that may have a record of its own, with its name."""
    for part in _LISTS:
        for table in root.items(part):
            of = f"power {table.text('power')}" if part == "cruise" else f"flaps {table.text('flaps')}"
            purpose = f", {table.text('for')}" if table.get("for") else ""
            yield f"{part.replace('_', ' ')}, {of}{purpose}", table
    climb = root.get("climb")
    if climb:
        yield "climb", climb


def contents(value: Any, files: Mapping[Place, Any] = _NONE) -> dict[str, str]:
    """Return the content of each part of an aircraft file, `PARTS` and the rest, in hexadecimal digits.

    A table with a check of its own is left out: its own record answers for it.

    Parameters
    ----------
    value : the plain value of the file, as parsed.
    files : the parsed contents of each file that it refers to, by the place where it does; plain values too.
    """
    found = {}
    for part in PARTS:
        if part in value:
            left, places = _checked_here(value[part], (part,))
            if left:
                found[part] = _digest(left, [each for each in _below(files, (part,)) if not _in(each[0], places)])
    others = {key: each for key, each in value.items() if key not in (*PARTS, "provenance")}
    outside = [each for each in _below(files, ()) if each[0][0] not in PARTS]
    return {**found, REST: _digest(others, outside)}


def content_of(table: Any, place: Place, files: Mapping[Place, Any] = _NONE) -> str:
    """Return the content of one table, without its record; its place is that in the file."""
    return _digest(_bare(table), _below(files, place), len(place))


def _checked_here(part: Any, place: Place) -> tuple[Any, list[Place]]:
    """Return what of a part the file's record answers for, and the places that it does not."""
    if isinstance(part, list):
        alone = [i for i, each in enumerate(part) if _alone(each)]
        return [_bare(each) for i, each in enumerate(part) if i not in alone], [(*place, i) for i in alone]
    return (None, [place]) if _alone(part) else (_bare(part), [])


def _own(table: Any) -> bool:
    return isinstance(table, dict) and isinstance(table.get("provenance"), dict)


def _alone(table: Any) -> bool:
    return _own(table) and bool({"checked", "unchecked"} & set(table["provenance"]))


def _bare(table: Any) -> Any:
    if not isinstance(table, dict) or "provenance" not in table:
        return table
    return {key: each for key, each in table.items() if key != "provenance"}


def _below(files: Mapping[Place, Any], place: Place) -> list[tuple[Place, Any]]:
    """Return the files that are referred to at a place or below it, in the order of their places."""
    return sorted(((at, each) for at, each in files.items() if _in(at, [place])), key=lambda each: str(each[0]))


def _in(at: Place, places: list[Place]) -> bool:
    return any(at[: len(place)] == place for place in places)


@cache
def _sha256() -> Any:
    """Return the interpreter's own SHA-256: `hashlib` looks for OpenSSL first, which takes longer than hashing."""
    for name in ("_sha2", "_sha256"):
        with suppress(ImportError):
            return import_module(name).sha256
    return import_module("hashlib").sha256


def _digest(value: Any, files: list[tuple[Place, Any]], depth: int = 0) -> str:
    """Return the digits for a value: those of its JSON with sorted keys, runs of spaces as one, in ASCII."""
    whole = [value, [[list(at[depth:]), each] for at, each in files]] if files else value
    text = _JSON.encode(whole)
    text = _SPACES.sub(" ", text) if "  " in text else text
    digits: str = _sha256()(text.encode("ascii")).hexdigest()
    return digits[:_DIGITS]

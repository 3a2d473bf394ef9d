"""An audit as lines of text and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from briefgen import __version__
from briefgen.render.text import wrapped
from briefgen.studies.audit import Audit
from briefgen.studies.compared import Compared, Difference
from briefgen.studies.table_audit import Finding, Grade

FORMAT = 1
NOTHING_FOUND = "Nothing looks wrong."
NOT_ALL = "Nothing looks wrong of what was looked at; not everything was, see below."
HARDLY = "Panels of graphs that say too little of themselves; lay the drawing of each beside its page"
NO_SURFACE = "Too few cells to tell from their neighbours; only order and shape were looked at"
GRADES_SAID = (
    "Impossible: no table can be so. Suspect: far from what its neighbours say. Unusual: often right, but look."
)


def counted(found: Audit) -> str:
    """Return how many tables, numbers and findings there are."""
    grades = ", ".join(f"{found.counted(grade)} {grade.value}" for grade in Grade)
    printed = sum(1 for each in found.tables if each.table.printed)
    tables = f"{printed} table{'' if printed == 1 else 's'}"
    if found.panels:
        tables += f", {len(found.panels)} panel{'' if len(found.panels) == 1 else 's'} of graphs"
    words = f"{tables}, {found.cells:,} numbers: {grades}; {len(found.checked)} checked before"
    return words + (f"; {differing(found.compared)}" if found.compared else "")


def nothing_found(found: Audit) -> str:
    """Return what is said where nothing was found: no more than was looked at."""
    return NOT_ALL if found.not_looked_at or found.without_surface else NOTHING_FOUND


def differing(compared: Compared) -> str:
    """Return how many differences two typings have."""
    count = len(compared.differences)
    return f"{count} difference{'' if count == 1 else 's'} in {compared.cells:,} entries from {compared.other}"


def heading(each: Finding) -> str:
    """Return what a finding is about: the table, its page, the cell."""
    return f"{each.table} ({each.page}): {each.where}"


def numbers(each: Finding) -> str:
    """Return what is typed, what is expected, and what may have been meant; '' where there is no number."""
    if not each.typed:
        return ""
    words = f"typed {each.typed} {each.unit}".strip()
    if each.expected is not None:
        words += f"; its neighbours say about {each.expected:,.10g}"
    if each.mend:
        words += f"; {each.mend} may be meant: {each.slip}"
    elif each.expected is not None:
        words += "; no single slip of a finger explains it"
    return words


def differs(each: Difference) -> str:
    """Return what two typings give."""
    return f"{each.where}: here {each.here}, there {each.there}"


def places(file: str, each: Difference, other: str) -> str:
    """Return where the two stand."""
    here, there = each.file or file, each.other_file or other
    return f"{here}:{each.line}:{each.column}, {there}:{each.other_line}:{each.other_column}"


def audit_lines(found: Audit) -> str:
    """Return an audit as text."""
    return "\n".join(_lines(found)) + "\n"


def _lines(found: Audit) -> Iterator[str]:
    yield from wrapped(f"Audit of {found.registration}, {found.description}: {found.handbook}")
    if found.not_for_flight:
        yield f"NOT FOR FLIGHT: {found.not_for_flight}"
    yield from wrapped(counted(found))
    yield ""
    if not found.findings:
        yield nothing_found(found)
    for i, each in enumerate(found.findings, 1):
        yield from wrapped(f"{i}. {each.grade.value}: {heading(each)}", "", "   ")
        yield from wrapped(f"{each.file or found.file}:{each.line}:{each.column} {numbers(each)}".rstrip(), "   ")
        for reason in each.reasons:
            yield from wrapped(f"- {reason}", "   ", "     ")
    if found.checked:
        yield from ("", "Checked against the page before, and left alone")
    for each in found.checked:
        yield from wrapped(f"- {heading(each)}, {numbers(each)}: {each.checked}", "", "  ")
    if found.compared:
        yield from _differences(found.file, found.compared)
    if found.without_surface:
        yield from ("", *wrapped(f"{NO_SURFACE}: {'; '.join(found.without_surface)}."))
    if found.not_looked_at:
        yield from ("", *wrapped(f"{HARDLY}:"))
        for line in found.not_looked_at:
            yield from wrapped(f"- {line}", "", "  ")
    yield ""
    for line in (GRADES_SAID, *found.standing):
        yield from wrapped(line)


def _differences(file: str, compared: Compared) -> Iterator[str]:
    yield from ("", *wrapped(f"Against a second typing: {differing(compared)}"))
    for each in compared.differences:
        yield from wrapped(f"- {differs(each)}", "", "  ")
        yield f"  {places(file, each, compared.other)}"
    for line in compared.left_out:
        yield from wrapped(f"not compared, {line}", "", "  ")


def audit_json(found: Audit) -> str:
    """Return an audit as JSON text, by schemas/audit.schema.json; the same audit gives the same text."""
    data = {
        "format": FORMAT,
        "made_by": f"briefgen {__version__}",
        "file": found.file,
        "registration": found.registration,
        "description": found.description,
        "handbook": found.handbook,
        "not_for_flight": found.not_for_flight or None,
        "tables": [each.table.name for each in found.tables if each.table.printed],
        "graphs": [each.name for each in found.panels],
        "numbers": found.cells,
        "counts": {grade.value: found.counted(grade) for grade in Grade},
        "findings": [_finding(each) for each in found.findings],
        "checked": [_finding(each) | {"reason": each.checked} for each in found.checked],
        "without_surface": list(found.without_surface),
        "not_looked_at": list(found.not_looked_at),
        "compared": _compared(found.compared) if found.compared else None,
        "standing": list(found.standing),
    }
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _finding(each: Finding) -> dict[str, Any]:
    return {
        "grade": each.grade.value,
        "table": each.table,
        "page": each.page,
        "where": each.where,
        "file": each.file or None,
        "line": each.line,
        "column": each.column,
        "typed": each.typed or None,
        "unit": each.unit or None,
        "expected": each.expected,
        "off": round(each.share, 6) if each.expected is not None else None,
        "may_be_meant": each.mend or None,
        "slip": each.slip or None,
        "reasons": list(each.reasons),
    }


def _compared(compared: Compared) -> dict[str, Any]:
    return {
        "other": compared.other,
        "entries": compared.cells,
        "differences": [_difference(each) for each in compared.differences],
        "left_out": list(compared.left_out),
    }


def _difference(each: Difference) -> dict[str, Any]:
    return each._asdict() | {"file": each.file or None, "other_file": each.other_file or None}

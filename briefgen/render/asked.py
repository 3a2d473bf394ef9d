"""What the preflight is asked for, and the sides of its risk: as plain lines, as data, as words for the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from briefgen.brief import Brief
from briefgen.required_page import PLACES, Part, RequiredPage, Row, required_page
from briefgen.risk_page import RiskPage, risk_page


def lead(part: Part) -> str:
    """Return the word that a part of an answer begins with."""
    return part.lead.capitalize()


def place(key: str) -> str:
    """Return the head of a part of the sheet."""
    return PLACES[key].title


def printed(key: str, brief: Brief) -> bool:
    """Say whether a part of the sheet is on the printed one, or on a page that the policy leaves out."""
    return _PAGES.get(key, key) not in brief.pages_left_out


_PAGES = {"daylight": "route", "confirmed": "papers"}  # which page a part is on, where that is called otherwise


def answered(row: Row) -> str:
    """Return the answer of a row as one line."""
    said = [f"{lead(part)}: {part.words or ', '.join(map(place, part.places))}." for part in row.parts]
    return " ".join([*said, f"See {', '.join(map(place, row.see))}."] if row.see else said)


def asked_lines(brief: Brief) -> Iterator[str]:
    """Return the risk, then what the preflight is asked for, as lines to be wrapped."""
    risk, required = risk_page(brief), required_page(brief)
    yield from ("", "Risk")
    for side in risk.sides:
        yield f"  {side.title}"
        yield from (f"    {each.about}: {each.words}; {each.asks} ____" for each in side.prompts)
    yield from (f"  {risk.again}", f"  {risk.known}", "", required.title, f"  {required.tally}")
    for group in required.groups:
        yield f"  {group.title}"
        yield from (f"    {row.code} {row.asks}: {answered(row)}" for row in group.rows)
    yield f"  {required.notes}"


def risk_said(brief: Brief) -> Iterator[str]:
    """Return everything of the risk that must be readable on the sheet."""
    risk = risk_page(brief)
    for side in risk.sides:
        yield side.title
        yield from (each.about + each.words + each.asks for each in side.prompts)
    yield from (risk.again, risk.known)


def required_said(brief: Brief) -> Iterator[str]:
    """Return the same of what the preflight is asked for, but for the pages that it names."""
    required = required_page(brief)
    yield from (required.title, required.tally, required.notes)
    for group in required.groups:
        yield group.title
        for row in group.rows:
            first, *others = (f"{lead(part)}: {part.words}" for part in row.parts)
            yield f"{row.code} {row.asks}{first}"
            yield from others


def risk_data(page: RiskPage) -> dict[str, Any]:
    """Return the risk as plain values."""
    sides = [
        {
            "title": side.title,
            "prompts": [
                {
                    "about": each.about,
                    "said": each.said or None,
                    "reason": None if each.said else each.reason,
                    "asks": each.asks,
                }
                for each in side.prompts
            ],
        }
        for side in page.sides
    ]
    return {"sides": sides, "again": page.again, "known": page.known}


def required_data(page: RequiredPage) -> dict[str, Any]:
    """Return what the preflight is asked for as plain values."""
    groups = [{"title": group.title, "rows": [_row(row) for row in group.rows]} for group in page.groups]
    return {
        "title": page.title,
        "tally": page.tally,
        "groups": groups,
        "sources": list(page.sources),
        "left_out": list(page.left_out),
        "checked": page.checked,
    }


def _row(row: Row) -> dict[str, Any]:
    return {
        "code": row.code,
        "asks": row.asks,
        "answer": row.answer.value,
        "parts": [
            {
                "answer": part.answer.value,
                "says": part.lead,
                "words": part.words or None,
                "places": [place(key) for key in part.places],
            }
            for part in row.parts
        ],
        "see": [place(key) for key in row.see],
    }

"""The ranked runways of a trip, as lines of text and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from briefgen import __version__
from briefgen.item import State
from briefgen.render.data import item_data
from briefgen.render.text import COLUMNS, row_line, wrapped
from briefgen.render.words import SIGNS, note
from briefgen.studies.runways import RankedEnd, RankedField, RunwayStudy

FORMAT = 1
DECIDES = "The list says which end leaves more; which one to use, the pilot decides."


def runway_lines(study: RunwayStudy) -> str:
    """Return the study as text."""
    return "\n".join(_lines(study)) + "\n"


def _lines(study: RunwayStudy) -> Iterator[str]:
    yield f"Runways, {study.title}  ({study.registration}, {study.policy})"
    if study.not_for_flight:
        yield f"NOT FOR FLIGHT: {study.not_for_flight}"
    yield f"as of {study.as_of}"
    for field in study.fields:
        yield from ("", *_field(field))
    yield ""
    for line in (DECIDES, *study.standing):
        yield from wrapped(line)


def _field(field: RankedField) -> Iterator[str]:
    if field.reason:
        yield f"{field.title}: not shown: {field.reason}"
        return
    yield field.title
    yield from wrapped("; ".join(field.setting), "  ")
    yield from wrapped(f"{field.ranked_by} {field.remark}", "  ")
    yield COLUMNS
    for place, end in enumerate(field.ends, 1):
        yield from _end(place, end)


def _end(place: int, end: RankedEnd) -> Iterator[str]:
    mark = ", the trip's own" if end.chosen else ""
    state = f"{SIGNS[end.state]} {end.state.value}"
    if end.rows and end.state is not State.MEETS:
        state += f" ({end.binding.lower()})"
    yield from wrapped(f"{place}. runway {end.ident}, {end.surface}{mark}: {state}. {end.wind}", "", "   ")
    if end.closed:
        yield from wrapped(f"not worked: {end.closed}", "      ")
    for row in end.rows:
        yield row_line(row)
        if note(row):
            yield from wrapped(note(row), "      ")


def runways_json(study: RunwayStudy) -> str:
    """Return the study as JSON text, by schemas/runways.schema.json; the same study gives the same text."""
    data = {
        "format": FORMAT,
        "made_by": f"briefgen {__version__}",
        "title": study.title,
        "as_of": study.as_of,
        "registration": study.registration,
        "policy": study.policy,
        "units": study.printing.name,
        "not_for_flight": study.not_for_flight or None,
        "fields": [_field_data(field) for field in study.fields],
        "standing": [DECIDES, *study.standing],
    }
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _field_data(field: RankedField) -> dict[str, Any]:
    return {
        "place": field.place,
        "title": field.title,
        "setting": list(field.setting),
        "ranked_by": field.ranked_by or None,
        "remark": field.remark or None,
        "reason": field.reason or None,
        "ends": [
            {
                "runway": end.ident,
                "surface": end.surface,
                "chosen": end.chosen,
                "wind": end.wind,
                "state": end.state.value,
                "binding": end.binding or None,
                "margin": end.margin,
                "closed": end.closed or None,
                "items": [item_data(row) for row in end.rows],
            }
            for end in field.ends
        ],
    }

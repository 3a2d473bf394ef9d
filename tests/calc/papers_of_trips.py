"""A copy of the example club with a few edits, worked: its rows, and the lines of its page of papers."""

from __future__ import annotations

from pathlib import Path

from briefgen.brief import Brief
from briefgen.files.read_trip import read_trip
from briefgen.item import Item
from briefgen.model.trip import Trip
from briefgen.papers_page import ConfirmedLine, PaperLine
from briefgen.pipeline import brief_of

Edit = tuple[str, str, str]
TRIP, SOLO, POLICY = "trip.yaml", "solo.yaml", "policy.yaml"
PILOT, PAPERS = "pilots/instructor-a.yaml", "papers/n0142.yaml"
TAKEOFF = "takeoff_time: 2026-05-16T14:20Z"


def edited(club: Path, *edits: Edit, trip: str = TRIP) -> Path:
    """Return the trip file of a club after some edits: in which file, what is replaced, by what."""
    for file, old, new in edits:
        text = (club / file).read_text(encoding="utf-8")
        assert old in text, f"{file} has no {old!r}"
        (club / file).write_text(text.replace(old, new), encoding="utf-8")
    return club / trip


def worked(club: Path, *edits: Edit, trip: str = TRIP) -> Brief:
    return brief_of(edited(club, *edits, trip=trip), trip)


def trip_of(club: Path, *edits: Edit) -> Trip:
    return read_trip(edited(club, *edits), TRIP)[0]


def row(brief: Brief, id: str) -> Item:
    (found,) = (each for each in brief.items if each.id == id)
    return found


def line(brief: Brief, name: str) -> PaperLine:
    assert brief.papers
    (found,) = (each for table in brief.papers.tables for each in table.lines if each.name.startswith(name))
    return found


def confirmed(brief: Brief, id: str) -> ConfirmedLine:
    assert brief.papers
    (found,) = (each for each in brief.papers.confirmed if each.id == id)
    return found

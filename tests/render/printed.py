"""Sheets of the gallery with a few of their pages; what is looked at in flight is built once in a process."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path
from typing import NamedTuple

from changed import only
from stress import make_trip

from briefgen.pipeline import brief_of
from briefgen.render.pdf import render
from briefgen.render.sheet import to_html


class Printed(NamedTuple):
    """A finished sheet, the HTML that it was printed from, and its paper."""

    content: bytes
    html: str
    paper: str


@cache
def flown() -> Printed:
    """Return the example on half letter: its first pages, takeoff, landing, route, load and speeds."""
    return printed("half letter", "takeoff", "landing", "route", "load", "speeds")


@cache
def fronts() -> Printed:
    """Return the first pages of the example on A4."""
    return printed("A4")


def printed(name: str, *pages: str) -> Printed:
    """Return a trip of the gallery with its first pages and some others."""
    with tempfile.TemporaryDirectory() as folder:
        trip = make_trip(name, Path(folder))
        brief = only(brief_of(trip, trip.name), *pages)
        html = to_html(brief, for_screen=False)
    return Printed(render(html), html, brief.page_size)

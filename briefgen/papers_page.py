"""The page of papers as it is printed: the pilot's and the airplane's, and what is confirmed by hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from briefgen.calc.due import Paper
from briefgen.calc.flight import Flight
from briefgen.calc.occasion import Confirmation, confirmations
from briefgen.model.trip import Trip
from briefgen.units import down

CODE = "14 CFR "
_DASH = "—"


@dataclass(frozen=True, slots=True)
class PaperLine:
    """One paper, by its id. `left` has its unit; `rule` is the source without how well it is known."""

    id: str
    name: str
    done: str
    good_through: str
    left: str
    rule: str
    known: str
    standing: str
    why: str  # may be empty
    asked: bool


@dataclass(frozen=True, slots=True)
class PaperTable:
    """The papers of one, with whose they are."""

    whose: str
    lines: tuple[PaperLine, ...]


@dataclass(frozen=True, slots=True)
class ConfirmedLine:
    """One thing to confirm: `said` is by whom and when, or that it is open."""

    id: str
    words: str
    asked: bool
    confirmed: bool
    by: str
    at: str
    said: str


@dataclass(frozen=True, slots=True)
class PapersPage:
    """The whole page. `taken` is what was not said; `known` how well its rules are known."""

    tables: tuple[PaperTable, ...]
    confirmed: tuple[ConfirmedLine, ...]
    taken: str
    known: str


def papers_page(trip: Trip, flight: Flight) -> PapersPage | None:
    """Return the page of a worked trip; None where it gives no papers, and nothing is confirmed or asked to be."""
    found, said = flight.papers, confirmations(trip)
    groups = []
    if trip.pilot is not None and found.pilot is not None:
        groups.append(_table(f"{trip.pilot.name}, {trip.pilot.certificate}", found.pilot))
    if trip.papers is not None and found.airplane is not None:
        groups.append(_table(trip.papers.registration, found.airplane))
    if not (groups or trip.confirmed or any(each.asked for each in said)):
        return None
    papers = (*(found.pilot or ()), *(found.airplane or ()))
    return PapersPage(tuple(groups), tuple(map(_confirmed, said)), " ".join(found.taken), _known(papers))


def _table(whose: str, papers: Iterable[Paper]) -> PaperTable:
    return PaperTable(whose, tuple(map(_line, papers)))


def _line(paper: Paper) -> PaperLine:
    asked_of = f"asked of {paper.asked_of}; for information" if paper.asked_of else ""
    return PaperLine(
        id=paper.id,
        name=paper.name,
        done=_day(paper.done),
        good_through=_day(paper.good_through),
        left=_left(paper),
        rule=paper.source.text.removeprefix(CODE),
        known=paper.source.known,
        standing=paper.standing.value,
        why="; ".join(filter(None, (paper.reason, asked_of))),
        asked=not paper.asked_of,
    )


def _day(day: date | None) -> str:
    return _DASH if day is None else day.isoformat()


def _left(paper: Paper) -> str:
    """Return what is left, rounded down: whole days, or tenths of an hour."""
    left = paper.left
    if left.value is None:
        return _DASH
    if left.unit == "h":
        return f"{down(left.value, 0.1):.1f}\u00a0h".replace("-", "−")
    return f"{left.value:.0f}\u00a0d".replace("-", "−")


def _confirmed(each: Confirmation) -> ConfirmedLine:
    by = f"{each.by}, {each.at[:10]} {each.at[11:]}" if each.by else ""
    said = "; ".join(filter(None, (by, each.open)))
    return ConfirmedLine(each.id, each.words, each.asked, not each.open, each.by, each.at, said)


def _known(papers: Iterable[Paper]) -> str:
    """Return the rules that were not read in their own text, by how they are known."""
    by_known: dict[str, dict[str, None]] = {}
    for paper in papers:
        if paper.source.known:
            by_known.setdefault(paper.source.known, {})[paper.source.text.removeprefix(CODE)] = None
    return "; ".join(f"{known}: {', '.join(rules)}" for known, rules in by_known.items())

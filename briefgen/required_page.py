"""What is asked of the preflight, by code, and what of the sheet answers it; made only for what is printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import Enum
from types import MappingProxyType
from typing import NamedTuple

from briefgen.brief import Brief
from briefgen.files.read_required import required_table
from briefgen.item import Item, State
from briefgen.model.required import RequiredRow
from briefgen.papers_page import PaperLine

NOT_CONFIRMED = "nothing is confirmed by hand"
NO_PAPER = "no such paper is given"
NOT_SHOWN = "not shown"


class Answer(Enum):
    """How a row, or a part of it, is answered: the words that the sheet counts by."""

    WORKED = "worked"
    CONFIRMED = "confirmed by hand"
    MISSING = "not shown"
    ALOUD = "asked aloud"


class Part(NamedTuple):
    """A part of an answer: the word it begins with, and what is said; `places` are keys of `PLACES`."""

    answer: Answer
    lead: str
    words: str = ""
    places: tuple[str, ...] = ()


class Row(NamedTuple):
    """One thing asked, and its answer. `see`: keys of `PLACES`, all of which are on the sheet."""

    code: str
    asks: str
    parts: tuple[Part, ...]
    see: tuple[str, ...]

    @property
    def answer(self) -> Answer:
        """Not shown where any part is; worked where any part is; confirmed likewise; else only asked aloud."""
        found = {part.answer for part in self.parts}
        return next(
            each for each in (Answer.MISSING, Answer.WORKED, Answer.CONFIRMED, Answer.ALOUD) if each in found
        )


class Group(NamedTuple):
    """The rows of one rule, or of one task."""

    title: str
    rows: tuple[Row, ...]


class RequiredPage(NamedTuple):
    """The whole page. `sources`: each with how well it is known; `tally`: the rows by how they are answered."""

    title: str
    tally: str
    groups: tuple[Group, ...]
    sources: tuple[str, ...]
    left_out: tuple[str, ...]
    checked: str

    @property
    def notes(self) -> str:
        """What stands under the table: its sources, and what is asked in no row of it."""
        return f"{'. '.join(self.sources)}. Last compared {self.checked}. Besides: {'; '.join(self.left_out)}."


class Place(NamedTuple):
    """A part of the sheet: its head there, the field of the Brief that it prints, and why that may be missing."""

    title: str
    field: str = ""  # empty: every sheet has it
    lacking: str = ""

    def there(self, brief: Brief) -> bool:
        """Say whether a Brief has it."""
        found: object = brief
        for name in filter(None, self.field.split(".")):
            found = found and getattr(found, name)
        return bool(found)


PLACES: Mapping[str, Place] = MappingProxyType(
    {
        "takeoff": Place("Takeoff"),
        "landing": Place("Landing"),
        "alternate": Place("Alternate", "alternate", "the trip file gives no 'alternate'"),
        "route": Place("Route and fuel", "route", "the trip file gives no 'route'"),
        "daylight": Place("Daylight", "daylight", "the trip file gives no 'takeoff_time', or no way to work"),
        "load": Place("Load and balance", "load", "the trip file gives no 'load'"),
        "weather": Place("Weather", "weather", "the trip file gives no report, forecast, ceiling or visibility"),
        "speeds": Place("Speeds"),
        "papers": Place("Papers", "papers.tables", "the trip file gives no 'pilot' and no 'papers'"),
        "confirmed": Place("Confirmed by hand", "papers", NOT_CONFIRMED),
        "risk": Place("Risk"),
        "cautions": Place("Cautions"),
        "working": Place("Working"),
    }
)


def required_page(brief: Brief) -> RequiredPage:
    """Return the page of a finished Brief; it adds no figure, and says of each row where the Brief answers it."""
    table = required_table()
    groups = tuple(Group(part.title, tuple(_row(brief, row) for row in part.rows)) for part in table.parts)
    return RequiredPage(
        title=table.title,
        tally=_tally([row for group in groups for row in group.rows]),
        groups=groups,
        sources=tuple(f"{source}: {known}" for source, known in table.sources.values()),
        left_out=table.left_out,
        checked=table.checked,
    )


def _tally(rows: list[Row]) -> str:
    counts = [(each, sum(row.answer is each for row in rows)) for each in Answer]
    said = ", ".join(f"{count} {each.value}" for each, count in counts)
    also = sum(row.answer is not Answer.ALOUD and row.parts[-1].answer is Answer.ALOUD for row in rows)
    return f"{len(rows)} rows: {said}, as no sheet can show it; {also} of the others too."


def _row(brief: Brief, row: RequiredRow) -> Row:
    papers = brief.papers.tables if brief.papers else ()
    lines = {line.id: line for table in papers for line in table.lines}
    parts = [
        *_items(brief, row),
        *_papers(brief, lines, row.pilot_papers, "papers-pilot"),
        *_papers(brief, lines, row.airplane_papers, "papers-airplane"),
        *_confirmed(brief, row.confirmed),
        *_pages(brief, row.pages),
        *([Part(Answer.ALOUD, "aloud", row.aloud)] if row.aloud else ()),
    ]
    return Row(row.code, row.asks, tuple(parts), tuple(each for each in row.see if PLACES[each].there(brief)))


def _items(brief: Brief, row: RequiredRow) -> Iterator[Part]:
    """Return what the items say: those of one state together, then each reason why one is not shown."""
    by_id = {item.id: item for item in brief.items}
    items = [by_id[id] for id in (*row.items, *(id for id in row.where_given if id in by_id))]
    for state in (State.MEETS, State.UNDER, State.SHORT):
        found = [item for item in items if item.state is state]
        if found:
            yield Part(Answer.WORKED, state.value, "; ".join(_named(found, brief.items)))
    missing = [item for item in items if item.state is State.NOT_SHOWN]
    for reason in dict.fromkeys(item.reason for item in missing):
        names = "; ".join(_named([item for item in missing if item.reason == reason], brief.items))
        yield _missing(f"{names}: {reason}")


def _named(found: list[Item], items: tuple[Item, ...]) -> Iterator[str]:
    """Return the titles of some items, each once; with its places where the first page has it twice."""
    for title in dict.fromkeys(item.title for item in found):
        here = [item.where for item in found if item.title == title]
        twice = sum(item.title == title for item in items) > 1
        places = " and ".join(filter(None, (", ".join(here[:-1]), here[-1])))
        yield f"{title} ({places})" if twice else title


def _missing(why: str) -> Part:
    return Part(Answer.MISSING, Answer.MISSING.value, why)


def _papers(brief: Brief, lines: Mapping[str, PaperLine], ids: tuple[str, ...], item: str) -> Iterator[Part]:
    if not ids:
        return
    found = [lines[id] for id in ids if id in lines]
    if not found:
        reason = next(each.reason for each in brief.items if each.id == item)
        yield _missing(reason or NO_PAPER)
        return
    for standing in dict.fromkeys(line.standing for line in found if line.standing != NOT_SHOWN):
        said = [_dated(line) for line in found if line.standing == standing]
        yield Part(Answer.WORKED, standing, "; ".join(said))
    for line in found:
        if line.standing == NOT_SHOWN:
            yield _missing(f"{_short(line)}: {line.why or NO_PAPER}")


def _short(line: PaperLine) -> str:
    return line.name.partition(",")[0]


def _dated(line: PaperLine) -> str:
    dated = f", through {line.good_through}" if line.good_through[0].isdigit() else ""
    return _short(line) + dated + ("" if line.asked else ", not asked of this flight")


def _confirmed(brief: Brief, keys: tuple[str, ...]) -> Iterator[Part]:
    if keys and brief.papers is None:
        yield _missing(NOT_CONFIRMED)
        return
    by_key = {line.id: line for line in brief.papers.confirmed} if brief.papers else {}
    for done, answer, lead in ((True, Answer.CONFIRMED, "confirmed"), (False, Answer.MISSING, NOT_SHOWN)):
        lines = [by_key[key] for key in keys if by_key[key].confirmed is done]
        said = dict.fromkeys(line.said for line in lines)  # those of one person and time together
        if said:
            together = ("; ".join(line.words for line in lines if line.said == each) + f": {each}" for each in said)
            yield Part(answer, lead, "; ".join(together))


def _pages(brief: Brief, pages: tuple[str, ...]) -> Iterator[Part]:
    there = tuple(page for page in pages if PLACES[page].there(brief))
    if there:
        yield Part(Answer.WORKED, "on the sheet", places=there)
    yield from (_missing(PLACES[page].lacking) for page in pages if page not in there)

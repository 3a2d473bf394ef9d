"""What the preparation of a flight is asked for by rule and standard, and what of a sheet answers it."""

from typing import NamedTuple


class RequiredRow(NamedTuple):
    """One thing asked. What answers it, by ids: items, papers, confirmations, pages; and what is asked aloud.

    `where_given`: items that a trip may lack, which then leave nothing out.
    `see`: where on the sheet more of it stands.
    """

    code: str
    asks: str
    items: tuple[str, ...] = ()
    where_given: tuple[str, ...] = ()
    pilot_papers: tuple[str, ...] = ()
    airplane_papers: tuple[str, ...] = ()
    confirmed: tuple[str, ...] = ()
    pages: tuple[str, ...] = ()
    see: tuple[str, ...] = ()
    aloud: str = ""


class RequiredPart(NamedTuple):
    """The rows of one rule, or of one task of a standard; `source` is the id of its source."""

    title: str
    source: str
    rows: tuple[RequiredRow, ...]


class RequiredTable(NamedTuple):
    """The whole table. `sources`: by id, the publication and how well it is known; `left_out`: asked in no row."""

    title: str
    checked: str  # the day it was last compared
    sources: dict[str, tuple[str, str]]
    parts: tuple[RequiredPart, ...]
    left_out: tuple[str, ...]

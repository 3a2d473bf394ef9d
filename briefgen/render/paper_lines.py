"""The page of papers as plain lines of text."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from briefgen.papers_page import PapersPage

WIDTH = 88
_NAME = 34


def papers_lines(page: PapersPage | None) -> Iterator[str]:
    """Return each paper with its dates, rule and standing, then each confirmation with its box; nothing without."""
    if page is None:
        return
    yield ""
    yield from _wrapped(f"Papers. {page.taken}", "")
    for table in page.tables:
        yield from _wrapped(table.whose, "  ")
        yield f"    {'':{_NAME}}{'done':>11}{'through':>11}{'left':>8}  standing"
        for line in table.lines:
            first, *rest = wrap(line.name, _NAME - 1)
            yield f"    {first:{_NAME}}{line.done:>11}{line.good_through:>11}{line.left:>8}  {line.standing}"
            yield from (f"    {more}" for more in rest)
            known = f" ({line.known})" if line.known else ""
            yield from _wrapped("; ".join(filter(None, (line.rule + known, line.why))), "      ")
    if page.tables:
        yield "  Rules of 14 CFR but for what names another; the text in force governs."
    yield "  Confirmed by hand (*: the policy asks for it)"
    for each in page.confirmed:
        box, asked = "[x]" if each.confirmed else "[ ]", " *" if each.asked else ""
        yield from _wrapped(f"{box} {each.words}{asked}: {each.said}", "    ", "        ")


def _wrapped(text: str, first: str, later: str | None = None) -> list[str]:
    after_first = first + "  " if later is None else later
    return wrap(text, WIDTH, initial_indent=first, subsequent_indent=after_first, break_on_hyphens=False)

"""A Brief with some of it other than it was worked, for what a sheet makes of it."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from briefgen.brief import Brief


def changed(brief: Brief, **parts: Any) -> Brief:
    """Return a Brief with parts replaced: what it is made of, and the pages that are put together from that."""
    own = {each.name for each in fields(Brief)}
    other = replace(brief, **{name: part for name, part in parts.items() if name in own})
    pages = {name: page for name, page in brief.__dict__.items() if name not in own}  # as they were read
    other.__dict__.update(pages | {name: part for name, part in parts.items() if name not in own})
    return other


def only(brief: Brief, *pages: str) -> Brief:
    """Return a Brief that is printed with some pages after its items and cautions: a whole sheet takes long."""
    whole = (*brief.pages, *brief.pages_left_out)
    left_out = tuple(page for page in whole if page not in pages)
    return changed(brief, pages=tuple(page for page in pages if page in whole), pages_left_out=left_out)


def shortened(brief: Brief) -> Brief:
    """Return a Brief with the first four sections of its working: the others are most of a sheet's pages."""
    return changed(brief, sections=brief.sections[:4])

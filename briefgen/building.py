"""The command `build`: a trip file to a finished file, once or each time that something of it is saved."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from briefgen.errors import BriefgenError, InputFault, Problem
from briefgen.item import Item, State
from briefgen.pipeline import brief_of
from briefgen.writing import target_for, write

if TYPE_CHECKING:
    from briefgen.brief import Brief

FAIL_ON = {"under": State.UNDER, "short": State.SHORT, "not-shown": State.NOT_SHOWN}
KINDS = (".pdf", ".html", ".json", ".txt")


def arguments(command: argparse.ArgumentParser) -> None:
    """Add the arguments of the command."""
    endings = ", ".join(KINDS)
    command.add_argument("-o", "--output", metavar="FILE", required=True, help=f"file to write: {endings}")
    help = "when the brief is prepared, UTC, such as 2026-05-16T14:20Z, in place of what the trip file says"
    pair = "two half letter or A5 pages side by side on each sheet, to print and fold"
    command.add_argument("--two-up", action="store_true", help=f"PDF only: {pair}; to file, build it without")
    command.add_argument("--prepared", metavar="TIME", type=_time, default="", help=help)
    help = "stay, and build again whenever a file that the trip is read from is saved; Ctrl-C ends it"
    command.add_argument("--watch", action="store_true", help=help)


def _time(text: str) -> str:
    """Return a time that is written as in the trip file, or nothing; argparse says what is wrong with any other."""
    with suppress(ValueError):
        if not text or f"{datetime.strptime(text, _AS_TYPED):{_AS_TYPED}}" == text:
            return text
    raise argparse.ArgumentTypeError(f"{text!r} is no time in UTC such as 2026-05-16T14:20Z")


_AS_TYPED = "%Y-%m-%dT%H:%MZ"


def run(options: argparse.Namespace) -> int:
    """Build the brief and return the exit status; raises BriefgenError."""
    target = target_for(options.output, KINDS)
    if options.two_up and target.suffix.lower() != ".pdf":
        raise InputFault([Problem(options.output, 0, 0, "--two-up is for a PDF", "end the file in .pdf")])
    if target.suffix.lower() == ".pdf":
        from briefgen.render.pdf import require_libraries

        require_libraries()  # before any work, so that the answer comes at once
    if options.watch:
        from briefgen.watching import watch

        return watch(Path(options.trip), target, lambda: build(options, target))
    try:
        brief = build(options, target)
    except BriefgenError:
        if os.path.isfile(target):  # which, unlike a path of its own, also answers for a name that is too long
            print(f"{target} is still the one from an earlier build", file=sys.stderr)
        raise
    print(target)
    return status_of(brief.items, options.fail_on)


def build(options: argparse.Namespace, target: Path) -> Brief:
    """Write the file of a trip, and return what is in it; raises BriefgenError."""
    brief = brief_of(Path(options.trip), options.trip, options.prepared)
    write(target, rendered(brief, target.suffix.lower(), two_up=options.two_up))
    return brief


def rendered(brief: Brief, kind: str, *, two_up: bool = False) -> bytes:
    """Return the file's bytes; what each output needs is imported only for it."""
    if kind == ".json":
        from briefgen.render.data import to_json

        return to_json(brief).encode()
    if kind == ".txt":
        from briefgen.render.text import summary

        return summary(brief).encode()
    if kind == ".html":
        from briefgen.render.sheet import to_html

        return to_html(brief, for_screen=True).encode()
    from briefgen.render.pdf import to_pdf

    content = to_pdf(brief)
    if two_up:
        from briefgen.render.two_up import two_up as side_by_side

        return side_by_side(content, brief.page_size)
    return content


def status_of(items: Iterable[Item], fail_on: str | None) -> int:
    """Return the exit status for items in their states: 1 where one is in the state named, or a worse one."""
    if fail_on is None:
        return 0
    worst = max(item.state.rank for item in items)
    return 1 if worst >= FAIL_ON[fail_on].rank else 0

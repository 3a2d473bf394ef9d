"""Read what a policy has of a club's own for the printed sheet: its letterhead, templates and pages."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from briefgen.errors import InputFault, Problem
from briefgen.files.document import bytes_of, text_of
from briefgen.files.entry import Entry
from briefgen.files.looked_at import look_at
from briefgen.files.read_logo import read_logo
from briefgen.model.given import OwnFile
from briefgen.model.policy import ExtraPage, Letterhead, Part
from briefgen.resources import folder

LARGEST_BYTES = 200_000
MOST_CHARACTERS = 6_000  # of the text of a page, as the schema has it
_NOT_OF_THE_SHEET = ("audit.", "curves.")  # templates of another report
_KINDS = (("- ", "point"), ("[ ] ", "tick"))

_Page = tuple[ExtraPage, OwnFile | None]


def beside(entry: Entry, *, wanted: str = "file") -> tuple[Path, str] | None:
    """Return where a file or folder is, beside the policy file or below it, and as a message names it."""
    if entry.faults.touch(entry.place) or not isinstance(entry.value, str):
        return None
    document = entry.faults.document
    inside = document.path.resolve().parent
    try:
        target = (inside / entry.value).resolve()
        within = target.is_relative_to(inside)
        there = within and (target.is_dir() if wanted == "folder" else target.is_file())
    except (OSError, RuntimeError, ValueError):  # a folder that is locked, or links that lead in a circle
        within, there = True, False
    if not within:
        hint = f"put the {wanted} beside the policy file, or below it"
        entry.fault(f"'{entry.value}' leads outside the policy's folder", hint)
        return None
    look_at(inside / entry.value)
    if not there:
        entry.fault(f"there is no {wanted} '{entry.value}' in the policy's folder")
        return None
    return target, document.name[: -len(document.path.name)] + entry.value


def own_files(values: Mapping[str, Any], pages: Iterable[_Page]) -> tuple[OwnFile, ...]:
    """Return every file that was read for the figures of a policy and for its pages."""
    head: Letterhead | None = values.get("letterhead")
    logo = (head.logo.file,) if head and head.logo else ()
    return (*logo, *values.get("templates", ()), *(file for _, file in pages if file))


def read_letterhead(entry: Entry) -> dict[str, Any]:
    """Return the letterhead of a policy."""
    lines = tuple(str(each.value) for each in entry.items("lines"))
    given = entry.get("logo")
    file = _own(given) if given else None
    logo = read_logo(file, given) if file and given else None
    return {"letterhead": Letterhead(entry.text("name"), lines, logo)}


def read_templates(entry: Entry) -> dict[str, Any]:
    """Return the templates in a folder, by the names of those that they replace; other files there are not read."""
    found = beside(entry, wanted="folder")
    if found is None:
        return {}
    inside, name = found
    known = {each.name for each in folder("templates").glob("*.j2")}
    known = {each for each in known if not each.startswith(_NOT_OF_THE_SHEET)}
    files = []
    for path in sorted(inside.iterdir()):
        shown = f"{name.rstrip('/')}/{path.name}"
        if path.name not in known:
            _no_such_template(entry, path, shown, known)
        elif path.resolve() != path:
            entry.fault(f"'{shown}' is a link to another file", "put the file itself there")
        else:
            files.append(_read(entry, path, shown))
    if not files and not entry.faults.problems:
        entry.fault(
            f"the folder '{entry.value}' has no template in it", "each is named as the one that it replaces"
        )
    return {"templates": tuple(each for each in files if each)}


def read_extra_pages(entries: Iterable[Entry], whose: str) -> tuple[_Page, ...]:
    """Return the pages of a policy's own, each with the file that its text is from."""
    found = []
    for entry in entries:
        page = entry.faults.part(entry, lambda each: _extra_page(each, whose))
        found += [page] if page else []
    return tuple(found)


def _extra_page(entry: Entry, whose: str) -> _Page | None:
    text, file = entry.get("text"), entry.get("file")
    if (text is None) == (file is None):
        entry.fault("a page has either 'text' or 'file'", "write the text here, or name the file that has it")
        return None
    read = _own(file) if file else None
    if file and read is None:
        return None
    words = text_of(read.content, read.name) if read else str(text.value) if text else ""
    place = file or text or entry
    if len(words) > MOST_CHARACTERS:
        place.fault(
            f"the text has {len(words):,} characters; the most is {MOST_CHARACTERS:,}", "make two pages of it"
        )
        return None
    parts = tuple(_parts(words))
    if not parts:
        place.fault("this text says nothing")
        return None
    return ExtraPage(entry.text("title"), parts, entry.text("after"), whose), read


def _parts(text: str) -> Iterator[Part]:
    """Yield the paragraphs, points and things to tick of a plain text; lines that follow one go on with it.

    >>> [part.kind for part in _parts("Leaving the\\nairplane:\\n- lights\\n[ ] lock\\n\\nThen home.")]
    ['paragraph', 'point', 'tick', 'paragraph']
    """
    for block in re.split(r"\n[ \t]*(?:\n[ \t]*)+", text.replace("\r\n", "\n")):
        kind, words = "paragraph", list[str]()
        for line in (each.strip() for each in block.split("\n")):
            begun = next(((mark, name) for mark, name in _KINDS if line.startswith(mark)), None)
            if begun and words:
                yield Part(kind, " ".join(words))
                words = []
            if begun:
                kind, line = begun[1], line[len(begun[0]) :].strip()
            words += [line] if line else []
        if words:
            yield Part(kind, " ".join(words))


def _own(entry: Entry) -> OwnFile | None:
    """Return a file that a policy names; None, with the fault noted, where it may not or cannot be read."""
    found = beside(entry)
    return _read(entry, *found) if found else None


def _read(entry: Entry, path: Path, name: str) -> OwnFile | None:
    try:
        content = bytes_of(path, name)
        if path.suffix != ".png":
            text_of(content, name)
    except InputFault as fault:
        entry.faults.problems += fault.problems
        return None
    if len(content) > LARGEST_BYTES:
        message = f"'{entry.value}' has a file of {len(content):,} bytes" if path.suffix == ".j2" else ""
        message = message or f"'{entry.value}' has {len(content):,} bytes"
        entry.fault(f"{message}; the most is {LARGEST_BYTES:,}", "make it smaller")
        return None
    return OwnFile(str(path), name, content)


def _no_such_template(entry: Entry, path: Path, shown: str, known: set[str]) -> None:
    """Note a template that would replace none; what is no template is left alone."""
    if path.suffix == ".j2":
        stems = {each.partition(".")[0]: each for each in sorted(known)}
        near = get_close_matches(path.name.partition(".")[0], stems, 1, 0.6)
        hint = f"did you mean '{stems[near[0]]}'?" if near else f"there are {', '.join(sorted(known))}"
        message = "the sheet has no template of this name"
        entry.faults.problems.append(Problem(shown, 1, 0, message, hint))

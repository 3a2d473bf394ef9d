"""The commands `verify` and `reopen`: from a filed PDF back to the files and figures that it carries.

What they work with is imported where it is needed: every command builds the arguments of all.
"""

from __future__ import annotations

import argparse
import json
import re
from collections.abc import Iterator, Mapping
from difflib import SequenceMatcher
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from briefgen import __version__
from briefgen.errors import InputFault, Problem
from briefgen.model.given import Given, fingerprint

MOST_TOLD = 12  # differences of one kind, one by one
_MADE_BY = "made_by"
_NOT_OURS = "it carries no files of a brief; only a PDF that briefgen built can be verified or reopened"


class Filed(NamedTuple):
    """What a PDF carries: the files by their names, and its figures as they were written with it."""

    name: str  # of the PDF
    content: bytes
    files: Mapping[str, bytes]
    figures: Mapping[str, Any]

    @property
    def trip(self) -> str:
        """The name of its trip file."""
        return str(self.figures["files"][0]["name"])


class Verdict(NamedTuple):
    """What became of verifying: what was found in order, and what moved."""

    said: tuple[str, ...]
    moved: tuple[str, ...]


def arguments(command: argparse.ArgumentParser, name: str) -> None:
    """Add the arguments of one of the two commands."""
    command.add_argument("pdf", metavar="BRIEF.pdf", help="a brief as briefgen built it")
    if name == "reopen":
        command.add_argument("folder", metavar="DIR", type=Path, help="a folder that is not there, or is empty")


def verify(options: argparse.Namespace) -> int:
    """Verify a PDF, print what was found, and return the exit status: 1 if anything moved."""
    from briefgen.render.pdf import require_libraries

    require_libraries()
    verdict = verdict_on(opened(options.pdf))
    print("\n".join(verdict.said))
    told = verdict.moved[:MOST_TOLD]
    print("\n".join(f"MOVED {line}" for line in told), end="\n" if told else "")
    if len(verdict.moved) > len(told):
        print(f"and {len(verdict.moved) - len(told)} more")
    print("not everything reproduces" if verdict.moved else "every figure reproduces")
    return 1 if verdict.moved else 0


def reopen(options: argparse.Namespace) -> int:
    """Unpack what a PDF carries into a folder, ready to be worked in."""
    filed, target = opened(options.pdf), options.folder
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise InputFault([Problem(str(target), 0, 0, "exists and is not an empty folder; nothing was written")])
    unpack(filed, target)
    print(target / filed.trip)
    return 0


def opened(name: str) -> Filed:
    """Return what a PDF carries.

    Raises
    ------
    InputFault : there is no such file, or it carries no brief.
    """
    from briefgen.render.archive import RESULT, inside, taken_out

    path = Path(name)
    try:
        content = path.read_bytes()
    except OSError as error:
        raise InputFault([Problem(name, 0, 0, f"the file cannot be read: {error.strerror}")]) from None
    files = dict(taken_out(content))
    try:
        figures = json.loads(files.pop(RESULT))
        listed = [each["name"] for each in figures["files"]]
        sound = all(isinstance(each, str) and each in files and inside(each) for each in listed)
    except (KeyError, TypeError, ValueError, RecursionError):
        listed, sound, figures = [], False, {}
    if not listed or not sound or not all(map(inside, files)):
        raise InputFault([Problem(name, 0, 0, _NOT_OURS)])
    return Filed(name, content, files, figures)


def unpack(filed: Filed, folder: Path) -> None:
    """Write the files that a PDF carries into a folder; raises InputFault where that cannot be."""
    try:
        for name, content in filed.files.items():
            target = folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
    except OSError as error:
        raise InputFault([Problem(str(folder), 0, 0, f"cannot be written: {error.strerror}")]) from None


def verdict_on(filed: Filed) -> Verdict:
    """Work the carried files again with this version, and hold files, figures and pages against what is filed.

    Raises
    ------
    InputFault : the carried files cannot be worked.
    CannotPrint : the sheet cannot be printed here.
    """
    from briefgen.pipeline import brief_of
    from briefgen.render.data import to_json
    from briefgen.render.pdf import to_pdf

    with TemporaryDirectory() as folder:
        unpack(filed, Path(folder))
        brief = brief_of(Path(folder) / filed.trip, filed.trip, str(filed.figures.get("prepared") or ""))
    moved = [*_files(filed), *_figures(filed.figures, json.loads(to_json(brief)))]
    pages, said = _pages(filed.content, to_pdf(brief))
    by = filed.figures.get(_MADE_BY)
    ours = f"briefgen {__version__}"
    lines = [
        f"{filed.name}: {filed.figures.get('title')}, as of {filed.figures.get('as_of')}",
        f"made by {by}" + ("" if by == ours else f"; this is {ours}"),
        f"{len(filed.files)} files, fingerprint {fingerprint(_given(filed))}",
        f"{sum(1 for _ in flat(filed.figures))} values worked again",
        said,
    ]
    return Verdict(tuple(lines), (*moved, *pages))


def _given(filed: Filed) -> list[Given]:
    return [Given(name, content) for name, content in filed.files.items()]


def _files(filed: Filed) -> Iterator[str]:
    """Yield what of the files is not as the figures were worked from."""
    written = {each["name"]: each.get("sha256") for each in filed.figures["files"]}
    for each in _given(filed):
        if each.name not in written:
            yield f"file {each.name}: carried, but no file that the figures were worked from"
        elif each.digest != written[each.name]:
            yield f"file {each.name}: not the one that the figures were worked from"


def _figures(then: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[str]:
    """Yield every value that was written with the PDF and is another now."""
    before, after = dict(flat(then)), dict(flat(now))
    for path in [*before, *(each for each in after if each not in before)]:
        if path == _MADE_BY:
            continue
        both = before, after
        was, is_now = (json.dumps(each[path], ensure_ascii=False) if path in each else "not there" for each in both)
        if was != is_now:
            yield f"{path}: {was} as filed, {is_now} as worked now"


def flat(value: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Yield every plain value of nested data with its path; a thing in a list by its id, else by its number.

    >>> dict(flat({"a": [{"id": "x", "n": 1}, 2]}))
    {'a.x.id': 'x', 'a.x.n': 1, 'a.1': 2}
    """
    begin = f"{path}." if path else ""
    if isinstance(value, dict):
        for key, each in value.items():
            yield from flat(each, f"{begin}{key}")
    elif isinstance(value, list):
        for i, each in enumerate(value):
            name = each.get("id", i) if isinstance(each, dict) else i
            yield from flat(each, f"{begin}{name}")
    else:
        yield path, value


def _pages(filed: bytes, now: bytes) -> tuple[list[str], str]:
    """Return what is printed otherwise, and how the two PDFs compare."""
    from briefgen.render.proof import read_back

    if filed == now:
        return [], "the PDF is the same to the byte"
    before, after = (read_back(each)[1] for each in (filed, now))
    moved = [] if len(before) == len(after) else [f"{len(before)} pages as filed, {len(after)} as printed now"]
    for number, (one, other) in enumerate(zip(before, after, strict=False), 1):
        moved += [f"page {number}: {words}" for words in _words(one, other)]
    if moved:
        return moved, "the PDF is not the same"
    return [], "the PDF is not the same to the byte; every text of it is"


def _words(filed: str, now: str) -> Iterator[str]:
    """Yield what words of a page stand where others are printed now."""
    before, after = (re.sub(r"[\u00ad\ufffe\u0002]", "-", each).split() for each in (filed, now))
    for kind, a, b, c, d in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if kind != "equal":
            was, is_now = (" ".join(each)[:60] for each in (before[a:b], after[c:d]))
            yield f"'{was}' as filed, '{is_now}' as printed now"

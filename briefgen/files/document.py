"""Read one YAML file, written by a stranger, into plain values that know where they stand.

YAML 1.2 core scalars, from PyYAML's node graph. Refused: tags, repeated keys, keys that are not text, more than
one document, and anything past the bounds below.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from math import isfinite
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple

import yaml
from yaml.cyaml import CParser  # type: ignore[attr-defined]

from briefgen.errors import InputFault, Problem

LARGEST_BYTES = 1_000_000
MOST_VALUES = 50_000
DEEPEST = 30
_TOO_DEEP = (f"more than {DEEPEST} values inside one another", "look for brackets or indents that never close")
# What would steer a terminal, break a printed line or turn its words around.
UNPRINTABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]")

Place = tuple[str | int, ...]


class Document(NamedTuple):
    """One file read: its plain value, and the line and column of every value and key."""

    name: str  # as a message names it
    path: Path
    value: Any
    marks: dict[Place, tuple[int, int]]
    key_marks: dict[Place, tuple[int, int]]
    written: Mapping[Place, str] = MappingProxyType({})  # plain scalars that are no text, as typed: 09
    content: bytes = b""  # as it is in the file
    files: Mapping[Place, str] = MappingProxyType({})  # parts that were laid in from another file, and its name
    sheets: Mapping[str, bytes] = MappingProxyType({})  # those files as they are, as the document refers to them

    def file_of(self, place: Place) -> str:
        """Return the file that a value was typed in."""
        while place and place not in self.files:
            place = place[:-1]
        return self.files.get(place, self.name)

    def problem(self, place: Place, message: str, hint: str = "", *, key: bool = False) -> Problem:
        """Return a problem at a place, or at its key; at the nearest value above where it is not there."""
        marks = self.key_marks if key and place in self.key_marks else self.marks
        while place not in marks:
            place = place[:-1]
        line, column = marks[place]
        return Problem(self.file_of(place), line, column, message, hint)


def read(path: Path, name: str) -> Document:
    """Read a file.

    Raises
    ------
    InputFault : not there, too large, not UTF-8, not YAML, or YAML that is refused; every repeated key at once.
    """
    content = bytes_of(path, name)
    return parse(text_of(content, name), path, name)._replace(content=content)


def parse(text: str, path: Path, name: str) -> Document:
    """Turn the text of a file into a document; raises InputFault as `read` does."""
    _refuse_tab(text, name)
    try:
        _refuse_depth(text, name)
        node = yaml.compose(text, Loader=_Composer)  # type: ignore[arg-type]
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        raise InputFault([Problem(name, line, column, *_explain(error))]) from None
    except yaml.YAMLError:
        bad = re.search(r"[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", text)
        line, column = _place_of(text, bad.start() if bad else 0)
        which = f" (U+{ord(bad[0]):04X})" if bad else ""
        message = f"an invisible character that YAML does not allow{which}"
        raise InputFault([Problem(name, line, column, message, "delete it")]) from None
    if node is None:
        raise InputFault([Problem(name, 1, 1, "the file is empty")])
    builder = _Builder(name)
    value = builder.value(node, (), 0)
    if builder.problems:
        raise InputFault(builder.problems)
    return Document(name, path, value, builder.marks, builder.key_marks, builder.written)


def bytes_of(path: Path, name: str) -> bytes:
    """Return what a file holds.

    Raises
    ------
    InputFault : not there, too large, or not to be read.
    """
    try:
        if not path.is_file():
            message = "this is a folder; a file is wanted" if path.is_dir() else "there is no such file"
            raise InputFault([Problem(name, 0, 0, message)])
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            message = f"the file has {size:,} bytes; the most that is read is {LARGEST_BYTES:,}"
            raise InputFault([Problem(name, 1, 1, message, "look whether this is the file you meant")])
        return path.read_bytes()
    except OSError as error:
        raise InputFault([Problem(name, 0, 0, f"the file cannot be read: {error.strerror}")]) from None


def text_of(raw: bytes, name: str) -> str:
    """Return the text of what a file holds; raises InputFault where it is not UTF-8."""
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        message = f"this is not UTF-8 text (byte 0x{raw[error.start]:02x})"
        hint = "save the file again, with the encoding UTF-8"
        raise InputFault([Problem(name, line, column, message, hint)]) from None


def _refuse_tab(text: str, name: str) -> None:
    found = re.search(r"^[ -]*\t", text, re.MULTILINE)
    if found:
        line, column = _place_of(text, found.end() - 1)
        raise InputFault([Problem(name, line, column, "a tab indents this line", "use spaces")])


_DEEP_LINE = re.compile(r"^ {40}|^ *(?:[-?:] +){8}", re.MULTILINE)


def _refuse_depth(text: str, name: str) -> None:
    """Refuse, before anything recurses into them, values that nest too deeply.

    A file with few brackets, little indentation and no run of dashes cannot nest past what the parser's own
    recursion is safe for, and need not be walked twice.
    """
    brackets = text.count("[") + text.count("{")
    if brackets < 400 and not _DEEP_LINE.search(text):
        return
    depth = 0
    event: Any
    for event in yaml.parse(text, Loader=_Composer):  # type: ignore[arg-type]
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > DEEPEST:
                mark: Any = event.start_mark
                raise InputFault([Problem(name, mark.line + 1, mark.column + 1, *_TOO_DEEP)])
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1


def _place_of(text: str, offset: int) -> tuple[int, int]:
    return text.count("\n", 0, offset) + 1, offset - (text.rfind("\n", 0, offset) + 1) + 1


def _explain(error: yaml.MarkedYAMLError) -> tuple[str, str]:
    """Say a syntax error in our words; a parser's English changes from version to version."""
    if isinstance(error, yaml.composer.ComposerError):
        if "alias" in str(error.problem):
            return (
                "a '*' before a value refers to something that is not there",
                "a text that begins with '*' needs quotes",
            )
        if "anchor" in f"{error.context} {error.problem}":
            return "this name after a '&' stands twice", "a text that begins with '&' needs quotes"
        return "a second document begins here", "keep one in a file: delete the line '---' or '...'"
    return (
        "the layout of the file cannot be followed from here on",
        "look here and on the lines above for a missing colon, quote or bracket, or a wrong indent",
    )


class _Composer(CParser, yaml.composer.Composer, yaml.resolver.BaseResolver):
    """PyYAML's C parser, with the tags left to us: 'plain', 'text', 'map', 'list', or what the file wrote."""

    def __init__(self, stream: str) -> None:
        CParser.__init__(self, stream)
        yaml.resolver.BaseResolver.__init__(self)

    def resolve(self, kind: Any, value: Any, implicit: Any) -> str:
        if kind is yaml.ScalarNode:
            return "plain" if implicit[0] else "text"
        return "map" if kind is yaml.MappingNode else "list"


_OWN_TAGS = {"plain", "text", "map", "list"}
_CORE = (
    (re.compile(r"null|Null|NULL|~|"), lambda _: None),
    (re.compile(r"true|True|TRUE|false|False|FALSE"), lambda text: text.lower() == "true"),
    (re.compile(r"[-+]?[0-9]+"), lambda text: int(text) if len(text) < 300 else text),
    (re.compile(r"0o[0-7]+"), lambda text: int(text[2:], 8) if len(text) < 300 else text),
    (re.compile(r"0x[0-9a-fA-F]+"), lambda text: int(text[2:], 16) if len(text) < 300 else text),
    (re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?"), lambda text: _finite(float(text), text)),
)


def _finite(number: float, text: str) -> float | str:
    return number if isfinite(number) else text


def scalar(text: str) -> Any:
    """Return a plain scalar's value by the YAML 1.2 core schema; infinities and not-a-number stay text.

    >>> scalar("NO"), scalar("12:30"), scalar("07"), scalar("2026-05-16")
    ('NO', '12:30', 7, '2026-05-16')
    """
    if text and text[0] not in "+-.0123456789ntfNTF~":
        return text
    for form, convert in _CORE:
        if form.fullmatch(text):
            return convert(text)
    return text


@dataclass(slots=True)
class _Builder:
    """Turn nodes into plain values, marking each, and gather what is refused."""

    name: str
    marks: dict[Place, tuple[int, int]] = field(default_factory=dict)
    key_marks: dict[Place, tuple[int, int]] = field(default_factory=dict)
    written: dict[Place, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    count: int = 0
    open: list[Any] = field(default_factory=list)  # the groups and lists that hold the value being read

    def value(self, node: Any, place: Place, depth: int) -> Any:
        start = node.start_mark
        self.marks[place] = (start.line + 1, start.column + 1)
        self.count += 1
        if self.count > MOST_VALUES:
            message = f"more than {MOST_VALUES:,} values, each counted again where a '*' refers to it"
            raise InputFault([*self.problems, self._problem(node, message, "look for a '*' that is repeated")])
        if depth >= DEEPEST and not isinstance(node, yaml.ScalarNode):
            raise InputFault([*self.problems, self._problem(node, *_TOO_DEEP)])
        if node.tag not in _OWN_TAGS:
            self.problems.append(
                self._problem(
                    node,
                    "a value may not begin with a '!' here",
                    "leave it out; a text that begins with it needs quotes",
                )
            )
            return None
        if isinstance(node, yaml.ScalarNode):
            return self._scalar(node, place)
        if any(node is each for each in self.open):
            self.problems.append(
                self._problem(node, "this value holds itself, through a '*' inside it", "write it out")
            )
            return None
        self.open.append(node)
        value: Any
        if isinstance(node, yaml.SequenceNode):
            value = [self.value(item, (*place, i), depth + 1) for i, item in enumerate(node.value)]
        else:
            value = dict(self._pairs(node, place, depth))
        self.open.pop()
        return value

    def _scalar(self, node: Any, place: Place) -> Any:
        bad = UNPRINTABLE.search(node.value)
        if bad:
            message = f"the text has an invisible character in it (U+{ord(bad[0]):04X})"
            self.problems.append(self._problem(node, message, "delete it"))
        if node.tag != "plain":
            return node.value
        value = scalar(node.value)
        if not isinstance(value, str):
            self.written[place] = node.value
        return value

    def _pairs(self, node: Any, place: Place, depth: int) -> Iterator[tuple[str, Any]]:
        first: dict[str, int] = {}
        for key_node, value_node in node.value:
            key = key_node.value
            line = key_node.start_mark.line + 1
            if (
                not isinstance(key_node, yaml.ScalarNode)
                or key_node.tag not in _OWN_TAGS
                or not isinstance(key, str)
            ):
                message, hint = "a key must be a plain word", "look for a stray '?', '{' or '[' before a colon"
                self.problems.append(self._problem(key_node, message, hint))
                continue
            if UNPRINTABLE.search(key):
                self.problems.append(
                    self._problem(key_node, "the key has an invisible character in it", "delete it")
                )
                continue
            if key in first:
                message = f"the key '{key}' is repeated"
                hint = f"it stands on line {first[key]} too; keep one of them"
                self.problems.append(self._problem(key_node, message, hint))
                continue
            first[key] = line
            self.key_marks[(*place, key)] = (line, key_node.start_mark.column + 1)
            yield key, self.value(value_node, (*place, key), depth + 1)

    def _problem(self, node: Any, message: str, hint: str = "") -> Problem:
        return Problem(self.name, node.start_mark.line + 1, node.start_mark.column + 1, message, hint)

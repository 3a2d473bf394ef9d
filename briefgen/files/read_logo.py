"""Read the picture of a letterhead, made by strangers: bounded, and with nothing in it but what is drawn.

A PNG by its specification, ISO/IEC 15948: signature, IHDR, IDAT that fill the picture exactly, IEND, every CRC
right. An SVG by what of SVG 1.1 a mark in one ink needs, and no more.
"""

from __future__ import annotations

import re
import struct
import zlib
from base64 import b64decode
from collections.abc import Iterator
from typing import Any, NamedTuple
from xml.parsers import expat

from briefgen.errors import Problem
from briefgen.files.entry import Entry
from briefgen.model.given import OwnFile
from briefgen.model.policy import Logo

LEAST_PX, MOST_PX = 16, 2_000  # of each side of a PNG
MOST_RATIO = 6.0  # of the longer side to the shorter
MOST_PARTS = 3_000  # elements of an SVG
DEEPEST = 20
MOST_TOLD = 20  # faults of one picture
SVG = "http://www.w3.org/2000/svg"
_SIGNATURE = b"\x89PNG\r\n\x1a\n"
# Samples for each pixel, by the colour type of IHDR; and the bits that a sample may have.
_CHANNELS = {0: (1, (1, 2, 4, 8, 16)), 2: (3, (8, 16)), 3: (1, (1, 2, 4, 8)), 4: (2, (8, 16)), 6: (4, (8, 16))}
_SHAPES = frozenset(["path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "image"])
_ALLOWED = _SHAPES | {"svg", "g", "defs", "clipPath", "title", "desc", "metadata", "style"}
# What else is often in one, with what to do about it.
_INSTEAD = {
    "text": "turn text into paths",
    "tspan": "turn text into paths",
    "linearGradient": "fill with plain colours: one ink must print it",
    "radialGradient": "fill with plain colours: one ink must print it",
    "use": "draw it in its place",
    "symbol": "draw it in its place",
}


class Wrong(NamedTuple):
    """What is wrong with a picture, and what helps; where in it, if it has lines."""

    message: str
    hint: str = ""
    line: int = 0
    column: int = 0


def read_logo(file: OwnFile, entry: Entry) -> Logo | None:
    """Return a picture; None, with its faults noted, where it is not one that may be printed.

    Parameters
    ----------
    file : the picture.
    entry : where the policy names it; the faults of an SVG have a place of their own.
    """
    vector = file.name.endswith(".svg")
    ratio, wrong = _svg(file.content) if vector else _png(file.content)
    for each in wrong:
        if each.line:
            problem = Problem(file.name, each.line, each.column, each.message, each.hint)
            entry.faults.problems.append(problem)
        else:
            entry.fault(f"'{entry.value}' {each.message}", each.hint)
    if wrong:
        return None
    if not 1 / MOST_RATIO <= ratio <= MOST_RATIO:
        message = f"'{entry.value}' is {ratio:.3g} times as wide as it is high"
        entry.fault(message, f"at most {MOST_RATIO:g} times as wide as high, or as high as wide")
        return None
    return Logo(file, "image/svg+xml" if vector else "image/png", ratio)


def _png(content: bytes) -> tuple[float, list[Wrong]]:
    """Return how wide a PNG is for its height, and what is wrong with it."""
    if not content.startswith(_SIGNATURE):
        return 0, [Wrong("is no PNG picture, whatever its name says", "save it as PNG")]
    broken = Wrong("is a PNG picture that is broken", "save it once more")
    try:
        chunks = list(_chunks(content))
        kind, head = chunks[0]
        width, height, bits, colour, packing, filtering, interlaced = struct.unpack(">IIBBBBB", head)
    except (IndexError, ValueError, struct.error):
        return 0, [broken]
    channels, depths = _CHANNELS.get(colour, (0, ()))
    if kind != b"IHDR" or bits not in depths or packing or filtering or interlaced > 1 or chunks[-1][0] != b"IEND":
        return 0, [broken]
    if not all(LEAST_PX <= side <= MOST_PX for side in (width, height)):
        hint = f"each side from {LEAST_PX} to {MOST_PX:,} pixels"
        return 0, [Wrong(f"is a picture of {width:,} by {height:,} pixels", hint)]
    if interlaced:
        return 0, [Wrong("is an interlaced PNG picture", "save it without interlacing")]
    row = 1 + (width * channels * bits + 7) // 8  # with the byte that names its filter
    packed = b"".join(data for name, data in chunks if name == b"IDAT")
    palette = any(name == b"PLTE" and data and len(data) % 3 == 0 for name, data in chunks)
    if not _fills(packed, row, height) or (colour == 3 and not palette):
        return 0, [broken]
    return width / height, []


def _chunks(content: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Yield the chunks of a PNG; raises ValueError or struct.error where one is broken."""
    at = len(_SIGNATURE)
    while at < len(content):
        (length,) = struct.unpack_from(">I", content, at)
        named = content[at + 4 : at + 8 + length]
        (sum_,) = struct.unpack_from(">I", content, at + 8 + length)
        if zlib.crc32(named) != sum_:
            raise ValueError("a wrong sum")
        yield named[:4], named[4:]
        at += 12 + length


def _fills(packed: bytes, row: int, height: int) -> bool:
    """Say whether packed rows fill a picture exactly; never unpacks more than that."""
    unpacking = zlib.decompressobj()
    try:
        rows = unpacking.decompress(packed, row * height + 1)
    except zlib.error:
        return False
    return len(rows) == row * height and unpacking.eof and max(rows[::row]) <= 4  # the filters are 0 to 4


def _svg(content: bytes) -> tuple[float, list[Wrong]]:
    """Return how wide an SVG is for its height, and all that is wrong with it."""
    reader = _Reader()
    try:
        reader.parser.Parse(content, True)
    except expat.ExpatError as error:
        if not reader.stopped:
            hint = "save it once more as plain SVG"
            reader.wrong.append(Wrong("the file is no XML from here on", hint, error.lineno, error.offset + 1))
    return reader.ratio, reader.wrong


class _Reader:
    """What expat tells of an SVG, held against what may be in it; told in full, but for what ends it at once."""

    def __init__(self) -> None:
        self.parser: Any = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self._begin
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self.parser.StartDoctypeDeclHandler = self._doctype
        self.parser.ProcessingInstructionHandler = lambda *_: self._note("an instruction '<?'", "delete it")
        self.wrong: list[Wrong] = []
        self.stopped = False
        self.open: list[str] = []
        self.parts = 0
        self.ratio = 0.0

    def _note(self, what: str, hint: str, message: str = "") -> None:
        place = (self.parser.CurrentLineNumber, self.parser.CurrentColumnNumber + 1)
        if len(self.wrong) < MOST_TOLD:
            self.wrong.append(Wrong(message or f"a logo may not have {what}", hint, *place))

    def _stop(self, what: str, hint: str) -> None:
        """Note what makes it pointless, or unsafe, to read on; the error ends the parser."""
        self._note(what, hint)
        self.stopped = True
        raise expat.ExpatError(what)

    def _doctype(self, *_: object) -> None:
        self._stop("a document type", "delete '<!DOCTYPE …>' at its top")

    def _begin(self, name: str, attributes: dict[str, str]) -> None:
        space, _, tag = name.rpartition(" ")
        self.parts += 1
        if self.parts > MOST_PARTS or len(self.open) >= DEEPEST:
            self._stop(f"more than {MOST_PARTS:,} parts, or {DEEPEST} inside one another", "draw it more simply")
        if not self.open:
            self._root(space, tag, attributes)
        elif "metadata" not in self.open and (space not in ("", SVG) or tag not in _ALLOWED):
            self._note(f"<{tag}>", _INSTEAD.get(tag, "delete it"))
        self.open.append(tag)
        for key, value in attributes.items():
            self._attribute(tag, key.rpartition(" ")[2], value)

    def _end(self, _: str) -> None:
        self.open.pop()

    def _root(self, space: str, tag: str, attributes: dict[str, str]) -> None:
        if (space, tag) != (SVG, "svg"):
            self._stop(f"<{tag}> at its top", f'an SVG begins with <svg xmlns="{SVG}">')
        box = [float(each) for each in re.findall(r"-?\d{1,7}(?:\.\d{1,9})?", attributes.get("viewBox", ""))]
        if len(box) == 4 and min(box[2:]) > 0:
            self.ratio = box[2] / box[3]
            return
        sides = [attributes.get(key, "") for key in ("width", "height")]
        whole = [found[1] if (found := re.match(r"(\d+(?:\.\d+)?)", side)) else "" for side in sides]
        example = f'add viewBox="0 0 {" ".join(whole)}"' if all(whole) else 'such as viewBox="0 0 300 100"'
        self._note("", example, message="the drawing has no viewBox, so its size is not known")

    def _attribute(self, tag: str, key: str, value: str) -> None:
        if key.lower().startswith("on"):
            self._note(f"'{key}', which does something", "delete it")
        elif key == "href" and not (tag == "image" and value.startswith("data:image/png;base64,")):
            if not value.startswith("#"):
                self._note(f"'{key}' to something outside it", "put the picture itself into it, as PNG")
        elif key == "href":
            self._inside(value)
        else:
            self._style(value)

    def _inside(self, value: str) -> None:
        """Look at a picture inside it, which is held to the same bounds."""
        try:
            found = _png(b64decode(value.partition(",")[2], validate=False))[1]
        except ValueError:
            found = [Wrong("is broken")]
        for each in found:
            self._note(f"a picture in it that {each.message}", each.hint)

    def _style(self, value: str) -> None:
        for url in re.findall(r"url\s*\(\s*['\"]?\s*(.?)", value, re.IGNORECASE):
            if url != "#":
                self._note("'url(' to something outside it", "delete it")
        if "\\" in value:
            self._note("'\\' in its style", "delete it")

    def _text(self, text: str) -> None:
        if self.open[-1:] == ["style"]:
            self._style(text)
            if "@" in text:
                self._note("'@' in its style", "delete it")

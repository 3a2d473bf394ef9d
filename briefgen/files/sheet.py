"""Read a spreadsheet's export (CSV) into rows of cells that know their places, and their numbers.

UTF-8, with or without its mark; cells apart by a semicolon, a tab or a comma, whichever the first row has, or as a
first line such as 'sep=;' says; decimals after a comma where the cells are apart by semicolons, else after a point.
Empty rows, and rows that begin with '#', are passed over.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from briefgen.errors import InputFault, Problem
from briefgen.files.document import UNPRINTABLE, bytes_of, text_of

MOST_ROWS = 5_000
MOST_COLUMNS = 200
_LINE_BREAK = re.compile(r"\r\n|\n|\r")
_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")
_THOUSANDS = re.compile("[+-]?[0-9]{1,3}(?:[,.'’ \u00a0\u2009\u202f][0-9]{3})+")
_LIKE_DIGITS = str.maketrans("oOlI", "0011")
_APART = re.compile('"?sep=(.)"?', re.IGNORECASE)  # as a spreadsheet may write before everything else
_SEA_LEVEL = ("sl", "s.l.", "s.l", "s/l", "msl", "sea level")
_NOTHING = ("-", "–", "—", "n/a", "na", "none", "blank", "x")


class Cell(NamedTuple):
    """One cell: its text without the spaces around it, its line and character, its name in a spreadsheet."""

    text: str
    line: int
    column: int
    name: str


class Sheet(NamedTuple):
    """The rows of a file in which something stands; `comma`: decimals stand after a comma."""

    name: str  # as a message names it
    rows: tuple[tuple[Cell, ...], ...]
    comma: bool
    content: bytes = b""  # as it is in the file

    def problem(self, cell: Cell, message: str, hint: str = "") -> Problem:
        """Return a problem at a cell, which is named as a spreadsheet does: C14 is the third of row 14."""
        return Problem(self.name, cell.line, cell.column, f"cell {cell.name}: {message}", hint)

    def number(self, cell: Cell) -> str | Problem:
        """Return the number of a cell in plain digits with a decimal point, or what is wrong with it."""
        text = cell.text
        if self.comma and "." not in text:
            text = text.replace(",", ".")
        if _NUMBER.fullmatch(text) and not (self.comma and "." in cell.text):
            return text.removeprefix("+")
        return self.problem(cell, f"'{cell.text}' is not a number", self._mend(cell.text))

    def _mend(self, text: str) -> str:
        """Return a hint for what is no number."""
        if text.lower() in _NOTHING:
            return "leave the cell empty where the page prints nothing"
        if text.lower() in _SEA_LEVEL:
            return "write 0 if sea level is meant"
        if "/" in text:
            return "one number in each cell, and a column for each"
        sign = "comma" if self.comma else "point"
        if _THOUSANDS.fullmatch(text):
            plain = re.sub(r"[^0-9+-]", "", text)
            return f"write {plain} if that is meant: nothing stands between thousands, a {sign} before decimals"
        for mended in (text.replace(",", "."), text.translate(_LIKE_DIGITS), text.replace("−", "-")):
            if _NUMBER.fullmatch(mended):
                return f"write {mended.replace('.', ',') if self.comma else mended} if the page prints that"
        return f"digits, with a {sign} before decimals, and no unit: that is in the column's header"


def read_sheet(path: Path, name: str) -> Sheet:
    """Return the rows of a file.

    Raises
    ------
    InputFault : not there, too large, not UTF-8, empty, or cells that cannot be told apart.
    """
    content = bytes_of(path, name)
    lines = _LINE_BREAK.split(text_of(content, name))
    apart, told = _apart(lines, name)
    sheet = Sheet(name, (), apart == ";", content)
    rows, problems = [], []
    for number, line in enumerate(lines, 1):
        if line.startswith("#") or number == told:
            continue
        found = _cells(line, number, apart)
        row = [cell for cell in found if isinstance(cell, Cell)]
        if len(row) < len(found) and not isinstance(found[-1], Cell):
            problems.append(Problem(name, number, found[-1], "this quote is not closed on its line", _QUOTES))
        for cell in row:
            bad = UNPRINTABLE.search(cell.text)
            if bad:
                words = f"the text has an invisible character in it (U+{ord(bad[0]):04X})"
                problems.append(sheet.problem(cell, words, "delete it"))
        if any(cell.text for cell in row):
            rows.append(tuple(row))
    if len(rows) > MOST_ROWS or any(len(row) > MOST_COLUMNS for row in rows):
        words = f"more than {MOST_ROWS:,} rows or {MOST_COLUMNS} columns"
        problems.append(Problem(name, 1, 1, words, "look whether this is the file you meant"))
    if not rows and not problems:
        problems.append(Problem(name, 1, 1, "the file is empty"))
    if problems:
        raise InputFault(problems)
    return sheet._replace(rows=tuple(rows))


def _apart(lines: list[str], name: str) -> tuple[str, int]:
    """Return what stands between the cells of a file, and which line says so; 0 if none does."""
    number, first = next(((i, line) for i, line in enumerate(lines, 1) if line.strip() and line[0] != "#"), (0, ""))
    said = _APART.fullmatch(first.strip(" "))
    if said and said[1] in ";\t,":
        return said[1], number
    if said:
        words = f"cells apart by '{said[1]}' are not read"
        raise InputFault(
            [Problem(name, number, 1, words, "save it with a comma, a semicolon or a tab between them")]
        )
    bare = re.sub('"[^"]*"', "", first)
    return next((each for each in (";", "\t") if each in bare), ","), 0


_QUOTES = "a cell with a line break in it cannot be read: write it on one line"


def _cells(line: str, number: int, apart: str) -> list[Cell | int]:
    """Return the cells of a line; last the character at which a quote opens that never closes, where one does."""
    form = re.compile(rf' *"((?:[^"]|"")*)" *({apart}|$)|([^{apart}]*)({apart}|$)')
    cells: list[Cell | int] = []
    at = 0
    while True:
        found = form.match(line, at)
        assert found  # the second form fits anything
        quoted = found[1] is not None
        raw = found[1].replace('""', '"') if quoted else found[3]
        if not quoted and raw.lstrip().startswith('"'):
            return [*cells, at + 1]
        before = len(found[0]) - len(found[0].lstrip(" "))
        cells.append(
            Cell(raw.strip(), number, at + before + 1 if raw.strip() else at + 1, _named(len(cells), number))
        )
        if not (found[2] if quoted else found[4]):
            return cells
        at = found.end()


def _named(column: int, row: int) -> str:
    """Return a cell's name in a spreadsheet.

    >>> _named(0, 1), _named(27, 14)
    ('A1', 'AB14')
    """
    letters = ""
    column += 1
    while column:
        column, letter = divmod(column - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{row}"

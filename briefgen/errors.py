"""Say what went wrong, as data.

The tree, with the exit status that sits on each class::

    BriefgenError
    ├── InputFault        2   a file or a word on the command line is wrong
    └── CannotPrint       3   this machine lacks something, or a finished sheet failed its own proof

``Refusal`` is not an error of the user: a chart or a note that must not be used here. It never leaves
the calculation; it becomes the reason in an item's row, or a `Problem` where a typed value is at fault.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple


class Problem(NamedTuple):
    """One fault of one file, at one place."""

    file: str
    line: int
    column: int
    message: str
    hint: str = ""

    def __str__(self) -> str:
        column = f":{self.column}" if self.column else ""  # of a template only the line is known
        place = f"{self.file}:{self.line}{column}" if self.line else f"{self.file}:"
        tail = f"; {self.hint}" if self.hint else ""
        return "".join(map(_visible, f"{place} {self.message}{tail}"))


def _visible(character: str) -> str:
    """Return a character, or its code where it would break a line, steer a terminal or not be seen at all."""
    return character if character.isprintable() else character.encode("unicode_escape").decode()


class BriefgenError(Exception):
    """Anything that a command reports in plain lines and an exit status."""

    exit_status = 3

    def lines(self) -> list[str]:
        """Return what to print on stderr, a line each."""
        return [str(self)]


class InputFault(BriefgenError):
    """The input is wrong: every problem found, sorted by place."""

    exit_status = 2

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = sorted(set(problems))
        super().__init__("\n".join(map(str, self.problems)))

    def lines(self) -> list[str]:
        """Return one line per problem."""
        return [str(problem) for problem in self.problems]


class CannotPrint(BriefgenError):
    """The environment lacks something, or the sheet did not pass its own proof."""

    exit_status = 3


@dataclass(frozen=True, slots=True)
class Refusal(Exception):
    """A chart or a note that must not be used for these inputs.

    ``about`` is the name of the input that is at fault, or '' where no single typed value is: a blank
    cell, a silent handbook. Only a refusal about an input can become a fault of the trip file.
    """

    reason: str
    about: str = ""

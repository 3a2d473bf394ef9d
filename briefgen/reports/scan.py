"""Walk along a text token by token: each is taken into a group by a rule, or into one that is 'not decoded'.

A rule is a pattern of one token or several, and a reader that gives its words and value, or None where the
figures in it cannot be. Tokens keep their order and their spelling, so that all tokens of all groups are the
text again.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.reports.model import END, NOT_DECODED, Group, Value

LONGEST = 4000  # characters: some ten times the longest report or forecast
_SHOWN = 24  # characters of a token that a message repeats

Reading = tuple[str, Value] | None


class Rule(NamedTuple):
    """One form that a group can take."""

    kind: str
    pattern: re.Pattern[str]
    read: Callable[[re.Match[str]], Reading]


def rule(kind: str, pattern: str, read: Callable[[re.Match[str]], Reading] | str) -> Rule:
    """Return a rule. The pattern is of whole tokens, joined by single spaces; `read` may be the words."""
    whole = re.compile(rf"(?:{pattern})(?= |$)", re.ASCII)
    if isinstance(read, str):
        words = read
        return Rule(kind, whole, lambda _: (words, None))
    return Rule(kind, whole, read)


def shown(text: str) -> str:
    """Return what a message repeats of a text."""
    return text if len(text) <= _SHOWN else f"{text[:_SHOWN]}…"


class Cursor:
    """A text, and how far it has been read."""

    def __init__(self, text: str, about: str) -> None:
        """Split a text into tokens.

        Raises
        ------
        Refusal : it is empty, too long, or goes on after the '=' that ends a report.
        """
        if len(text) > LONGEST:
            raise Refusal(f"the text has {len(text):,} characters; no {about} has more than {LONGEST:,}", about)
        self.tokens = tuple(text.split())
        if not self.tokens:
            raise Refusal(f"the text of the {about} is empty", about)
        if any(token.endswith("=") for token in self.tokens[:-1]):
            raise Refusal(f"the text goes on after the '=' that ends a {about}: give one at a time", about)
        self.about = about
        self.index = 0
        bare = [token.upper() if token.isascii() else "\ufffd" for token in self.tokens]
        bare[-1] = bare[-1].rstrip("=")
        self._line = " ".join(bare)
        self._starts = [0]
        for token in bare:
            self._starts.append(self._starts[-1] + len(token) + 1)

    @property
    def done(self) -> bool:
        """Whether every token has been taken."""
        return self.index == len(self.tokens)

    @property
    def next(self) -> str:
        """The next token as a message repeats it; 'nothing' at the end."""
        return "nothing" if self.done else shown(self.tokens[self.index])

    def match(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        """Return the match of a pattern at the next token, and stay there."""
        return None if self.done else pattern.match(self._line, self._starts[self.index])

    def take(self, rules: Iterable[Rule]) -> Group:
        """Take the next group, by the first rule that can read it; without one, take one token as not decoded."""
        for each in rules:
            found = self.match(each.pattern)
            reading = each.read(found) if found else None
            if found and reading:
                return self.group(found, each.kind, *reading)
        token = self.tokens[self.index]
        self.index += 1
        return Group((token,), NOT_DECODED, "") if token.strip("=") else Group((token,), END, "end of the text")

    def group(self, found: re.Match[str], kind: str, words: str, value: Value = None) -> Group:
        """Take the tokens of a match."""
        first = self.index
        self.index += found[0].count(" ") + 1
        return Group(self.tokens[first : self.index], kind, words, value)

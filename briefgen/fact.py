"""What a fact is that a rule may ask about."""

from __future__ import annotations

from typing import NamedTuple

NUMBER, TEXT, YES_NO = "number", "string", "boolean"
UP, DOWN, HEIGHT = "up", "down", "stays in ft"


class Fact(NamedTuple):
    """One fact. A number's unit is what its name ends in. `maybe`: null where it was not given or not worked.

    `rounds`: of a number in ft or lb, the safe way to round it where a caution prints it in another unit; heights
    and altitudes stay in ft.
    """

    kind: str
    words: str
    maybe: bool = False
    rounds: str = ""
    values: tuple[str, ...] = ()  # all that a text can be, where that is a short list

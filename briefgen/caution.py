"""A caution, as the rules raise it and the sheet prints it."""

from typing import NamedTuple


class Caution(NamedTuple):
    """One caution: what to do, and where that comes from."""

    id: str
    severity: str
    text: str
    citation: str
    folded_into: str = ""  # the rule whose caution says the same, '' where this one is printed

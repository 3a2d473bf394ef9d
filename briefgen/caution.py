"""A caution, as the rules raise it and the sheet prints it."""

from typing import NamedTuple


class Caution(NamedTuple):
    """One caution: what to do, and where that comes from."""

    id: str
    severity: str
    text: str
    citation: str

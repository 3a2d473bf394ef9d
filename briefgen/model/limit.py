"""A printed limit."""

from typing import NamedTuple


class Limit(NamedTuple):
    """One printed limit, in the inside unit of its kind, with its page."""

    value: float
    page: str

"""The files that a trip was read from, as they were."""

from collections.abc import Iterable
from hashlib import sha256
from typing import NamedTuple

DIGITS = 8  # of a fingerprint: of a thousand briefs two share one by chance in one of 8,000 clubs


class Given(NamedTuple):
    """One file: its name within the folder of the trip file, with '/' between folders, and its bytes."""

    name: str
    content: bytes

    @property
    def digest(self) -> str:
        """What tells its content from any other: SHA-256, in hexadecimal digits."""
        return sha256(self.content).hexdigest()


class OwnFile(NamedTuple):
    """A file of a club's own that its policy refers to: where it is, as a message names it, and its bytes."""

    path: str
    name: str
    content: bytes


def fingerprint(files: Iterable[Given]) -> str:
    """Return a short text that is another for other files, or for other names of them; their order does not count.

    The first digits of the SHA-256 of all names and digests.

    >>> fingerprint([Given("a", b"1"), Given("b", b"2")]) == fingerprint([Given("b", b"2"), Given("a", b"1")])
    True
    """
    return sha256("".join(f"{each.name}\n{each.digest}\n" for each in sorted(files)).encode()).hexdigest()[:DIGITS]

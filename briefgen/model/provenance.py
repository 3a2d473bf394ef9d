"""Who typed an aircraft file, who checked it against the handbook's pages, and what changed since."""

from __future__ import annotations

from typing import NamedTuple


class Signed(NamedTuple):
    """Who did something, and on which day, such as 2026-05-02."""

    by: str
    on: str


class Provenance(NamedTuple):
    """Where an aircraft file, or one of its tables, comes from.

    `of`: what this is about. `changed`: the parts that are not as they were checked. `unchecked`: why nobody has
    checked it; '' where `checked` says who did.
    """

    of: str
    source: str  # handbook, revision and date; of a table its page
    typed: Signed
    checked: Signed | None = None
    changed: tuple[str, ...] = ()
    unchecked: str = ""

    @property
    def words(self) -> str:
        """The whole record in a sentence."""
        said = f"{self.of}, from {self.source}: typed by {self.typed.by} on {self.typed.on}"
        if self.checked is None:
            return f"{said}; checked by nobody ({self.unchecked})"
        since = f"; changed since: {', '.join(self.changed)}" if self.changed else ", unchanged since"
        return f"{said}; checked by {self.checked.by} on {self.checked.on}{since}"

    @property
    def change(self) -> str:
        """What changed since it was checked; '' where nothing did."""
        if self.checked is None or not self.changed:
            return ""
        parts = " and ".join(filter(None, (", ".join(self.changed[:-1]), self.changed[-1])))
        return f"{self.of}: {parts} changed since {self.checked.by} checked it on {self.checked.on}"

    @property
    def alone(self) -> str:
        """Who checked their own typing; '' where another did."""
        if self.checked is None or _plain(self.checked.by) != _plain(self.typed.by):
            return ""
        return f"{self.of}: {self.checked.by}"

    def doubts(self, day: str) -> tuple[str, ...]:
        """Return all that speaks against it on the day of a brief; nothing where it is as another checked it."""
        nobody = f"{self.of}: checked by nobody ({self.unchecked})" if self.checked is None else ""
        alone = f"{self.alone} both typed and checked it" if self.alone else ""
        later = f"{self.later(day)}, after the day of this brief" if self.later(day) else ""
        return tuple(each for each in (nobody, self.change, alone, later) if each)

    def later(self, day: str) -> str:
        """Return a check that is dated after a day, such as that of a brief; '' where it is not."""
        if self.checked is None or self.checked.on <= day:
            return ""
        return f"{self.of}: checked on {self.checked.on}"


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()

"""The clock of a field: its offset from UTC, where the trip file gives one, and times in it.

The offset is typed, and in the trip file, not that of the strip: most fields change it twice a year, and the rules
of the zones are data that not every machine has, nor in the same edition.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple

NO_OFFSET = "the trip file gives no 'utc_offset'"


class Clock(NamedTuple):
    """A clock that is ahead of UTC by so many minutes, less than none: behind it; None: that is not known."""

    offset_min: int | None = None

    @property
    def name(self) -> str:
        """How far the clock is from UTC, in words; '' where that is not known.

        >>> Clock(-240).name, Clock(330).name
        ('UTC−4 h', 'UTC+5:30 h')
        """
        if self.offset_min is None:
            return ""
        hours, minutes = divmod(abs(self.offset_min), 60)
        sign = "\u2212" if self.offset_min < 0 else "+"
        return f"UTC{sign}{hours}{f':{minutes:02d}' if minutes else ''}\u00a0h"

    def day(self, at: datetime) -> date:
        """Return the local date of an aware time; that of UTC where the offset is not known.

        >>> Clock(-240).day(datetime(2026, 5, 17, 3, 59, tzinfo=UTC))
        datetime.date(2026, 5, 16)
        """
        return self._there(at).date()

    def words(self, at: datetime, since: date | None = None) -> str:
        """Return an aware time, to the minute before: UTC, and local behind it where the offset is known.

        `since`: the local date of the takeoff; how many days later, or earlier, is added: +1.

        >>> Clock(-240).words(datetime(2026, 5, 17, 4, 5, tzinfo=UTC), date(2026, 5, 16))
        '04:05Z 00:05L+1'
        """
        zulu = f"{at.astimezone(UTC):%H:%M}Z"
        return zulu if self.offset_min is None else f"{zulu} {self.local(at, since)}"

    def local(self, at: datetime, since: date | None = None) -> str:
        """Return the same, local alone; of UTC where the offset is not known."""
        found = self._there(at)
        days = (found.date() - since).days if since else 0
        return f"{found:%H:%M}L{f'{days:+d}' if days else ''}".replace("-", "\u2212")

    def _there(self, at: datetime) -> datetime:
        """Return the time of day there, as if it were UTC."""
        return at.astimezone(UTC) + timedelta(minutes=self.offset_min or 0)

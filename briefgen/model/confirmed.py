"""What no file can know: that a person looked, asked or said so, by hand."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

DAY_H = 24.0  # how old a look at something that changes may be; common practice, no source


class Confirmable(NamedTuple):
    """Something to confirm: in words, and how long before the flight [h] it may have been; None: any time."""

    words: str
    keeps_h: float | None = DAY_H


# The last is RK-02, the FAA's checklist of the pilot's own state (FAA-H-8083-25C ch. 2, read second-hand).
CONFIRMABLE: Mapping[str, Confirmable] = MappingProxyType(
    {
        "notices": Confirmable("notices (NOTAMs), fields and way"),
        "restrictions": Confirmable("temporary flight restrictions"),
        "traffic_delays": Confirmable("known traffic delays"),
        "fuel_on_site": Confirmable("fuel on site"),
        "strip_permission": Confirmable("permission of the strip's owner", None),
        "runway_condition": Confirmable("runway condition by telephone"),
        "passenger_briefing": Confirmable("passengers briefed"),
        "overdue": Confirmable("who is told when overdue"),
        "self_assessment": Confirmable("illness, medication, stress, alcohol, fatigue, emotion"),
    }
)


class Confirmed(NamedTuple):
    """By whom, and when: RFC 3339, UTC."""

    by: str
    at: str

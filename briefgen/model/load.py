"""What is on board and where: the airplane's stations, tanks and envelopes, and the load of one trip."""

import re
from collections.abc import Mapping
from typing import NamedTuple

from briefgen.model.limit import Limit

_NO_SEATS = re.compile(r"baggage|luggage|cargo|locker|shelf|area|compartment|ballast|oil|fuel|tank|equipment", re.I)
FUEL_LB_PER_GAL = 6.0  # planning figure for avgas: FAA-H-8083-1, PHAK chapter 10


class Lever(NamedTuple):
    """How a weight turns into a moment: by one arm [in], or by a table of weights [lb] and moments [lb-in].

    Exactly one of the two is given. Arms before the datum are negative.
    """

    arm_in: float | None = None
    table: tuple[tuple[float, float], ...] = ()


class Station(NamedTuple):
    """A place for people or baggage, and the most it may carry [lb], None where the handbook sets no limit."""

    name: str
    lever: Lever
    page: str
    maximum_lb: float | None = None


class Tank(NamedTuple):
    """A tank: what of it can be used [US gal]. What cannot be used is part of the empty weight."""

    name: str
    lever: Lever
    usable_gal: float
    page: str


class Envelope(NamedTuple):
    """The limits of one category: a closed line of points, weight [lb] and arm [in] or moment [lb-in]."""

    category: str
    by: str  # 'arm' or 'moment', as the handbook draws it
    points: tuple[tuple[float, float], ...]
    page: str


class Balance(NamedTuple):
    """What the handbook and the last weighing say of weight and balance. `tanks` in the order they are burnt."""

    empty_lb: float
    empty_lb_in: float
    weighed: str  # the date of the weighing, ISO
    empty_page: str
    stations: tuple[Station, ...]
    tanks: tuple[Tank, ...]
    envelopes: tuple[Envelope, ...]
    fuel_lb_per_gal: float = FUEL_LB_PER_GAL
    maximum_ramp_lb: Limit | None = None
    maximum_zero_fuel_lb: Limit | None = None
    datum: str = ""


class Load(NamedTuple):
    """What one trip carries: weights [lb] by station, fuel [US gal] by tank, and what is burnt where.

    `counts` is how many weights were typed at each station.
    """

    category: str
    stations: Mapping[str, float]
    fuel_gal: Mapping[str, float]
    taxi_gal: float = 0.0
    burn_gal: float = 0.0  # the least credible, from takeoff to landing
    counts: Mapping[str, int] = {}

    @property
    def persons(self) -> int:
        """How many weights are in its seats: at every station but those whose name says what else it is for.

        Two persons that were typed as one weight count as one.
        """
        return sum(count for name, count in self.counts.items() if not _NO_SEATS.search(name))

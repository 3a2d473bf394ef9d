"""The papers of a pilot and of an airplane, as they were typed: dates, hours, and what is held or on board.

None is what the file does not say; it is never taken as held, done or nil.
"""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from briefgen.figures import Source


class Occasion(NamedTuple):
    """The flight that papers are looked at for. Days are those of the local calendar.

    `known_day` is the day that the trip's figures are of; None: the first day. `hours` is the time in service that
    it will add; None: not known. `persons` are those in the seats by the load; None: no load is given. `crew` is
    how many of them at the most are no passengers. `farthest_nm` is how far from the departure it gets, `elsewhere`
    whether it lands at another field; None: not known. The three nights are those of `calc.daylight`: whether any
    of the flight is in them; None: not known. `sights_SM` are the visibilities at the departure and at the
    destination, None where one is not known, and those on the legs that are typed; empty: nothing is known.
    """

    first_day: date
    last_day: date
    hours: float | None = None
    passengers: bool | None = None
    for_hire: bool = False
    after_sunset: bool | None = None  # the night of 91.209(a)
    night: bool | None = None  # of 1.1
    passenger_night: bool | None = None  # of 61.57(b)
    known_day: date | None = None
    persons: int | None = None
    crew: int = 2
    farthest_nm: float | None = None
    elsewhere: bool | None = None
    sights_SM: tuple[float | None, ...] = ()

    @property
    def carries(self) -> bool | None:
        """Whether it carries passengers: as the trip says, but more persons in the seats than a crew are some."""
        return True if self.contradicted else self.passengers

    @property
    def contradicted(self) -> bool:
        """Whether the trip says that nobody is carried, and its load has more persons in the seats than a crew."""
        return self.passengers is False and self.persons is not None and self.persons > self.crew

    @property
    def latest(self) -> date:
        """The last day that something can have been done on: not after the flight, nor after what was known."""
        return min(self.first_day, self.known_day or self.first_day)


class LogLine(NamedTuple):
    """Takeoffs and landings of one day as sole manipulator, in the airplane's category and class.

    `full_stops` are some of the landings. Those at night, 1 h after sunset to 1 h before sunrise, are some of all.
    """

    day: date
    takeoffs: int
    landings: int
    full_stops: int = 0
    tailwheel: bool = False
    night_takeoffs: int = 0
    night_full_stops: int = 0


class Medical(NamedTuple):
    """A medical certificate: class 1, 2 or 3. `under_40` at the examination; None, not said, is taken as not."""

    examined: date
    certificate: int
    under_40: bool | None = None


class BasicMed(NamedTuple):
    """The two dates of BasicMed."""

    course: date | None = None
    examined: date | None = None


class ClubPaper(NamedTuple):
    """What a club asks for: a checkout, a strip's sign-off. Good for calendar months, or for days, or for good."""

    name: str
    done: date | None
    source: Source
    months: int | None = None
    days: int | None = None


class PilotPapers(NamedTuple):
    """What a pilot holds. `held` and `carried` answer by the names in `calc.pilot_papers`."""

    student: bool = False
    flight_review: date | None = None
    medical: Medical | None = None
    basic_med: BasicMed | None = None
    log: tuple[LogLine, ...] | None = None
    solo: date | None = None  # the solo endorsement of a student
    solo_cross_country: date | None = None  # the one for this flight
    held: Mapping[str, bool] = {}
    carried: Mapping[str, bool] = {}
    club: tuple[ClubPaper, ...] = ()
    name: str = ""
    certificate: str = ""
    not_for_flight: str = ""


class HoursLeft(NamedTuple):
    """Something due by time in service: how much is left before the flight [h]; None: not known."""

    name: str
    left_h: float | None
    source: Source


class AirplanePapers(NamedTuple):
    """What an airplane's papers say. `on_board` and `equipment` answer by the names of `calc.airplane_papers`.

    `features` say by the names of `calc.airplane_papers.FEATURES` what the airplane has, which endorsements and
    items of equipment hang on; one that is not answered is taken as there.
    """

    annual: date | None = None
    # whether it is asked of this airplane: carried for hire, or instructed in for hire; None, not said, is as asked
    hundred_hour: bool | None = None
    since_hundred_hour_h: float | None = None  # time in service since it, or since the annual if that is later
    elt_inspected: date | None = None
    elt_battery_through: date | None = None  # the date marked on it
    transponder: date | None = None
    static_system: date | None = None
    registration_through: date | None = None
    on_board: Mapping[str, bool] = {}
    equipment: Mapping[str, bool] = {}
    features: Mapping[str, bool] = {}
    by_hours: tuple[HoursLeft, ...] = ()
    registration: str = ""
    not_for_flight: str = ""

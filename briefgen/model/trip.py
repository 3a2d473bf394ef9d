"""One trip: an airplane, a departure, an arrival, and the standard that it is held to."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import NamedTuple

from briefgen.model.aircraft import Aircraft
from briefgen.model.clock import Clock
from briefgen.model.confirmed import Confirmed
from briefgen.model.given import Given
from briefgen.model.load import Load
from briefgen.model.papers import AirplanePapers, PilotPapers
from briefgen.model.policy import Policy, Touchdown
from briefgen.model.route import Fuel, Route
from briefgen.model.strip import End, Runway, Strip
from briefgen.model.weather import Conditions, NotGiven

SPECIAL = (BY_DAY, FOR_INSTRUMENTS) = ("by day", "instrument pilot and airplane")  # under a clearance


class Use(NamedTuple):
    """One runway of one field, in one direction, in the conditions expected there, where they are given."""

    strip: Strip
    runway: Runway
    end: End
    opposite: End
    conditions: Conditions | NotGiven
    clock: Clock = Clock()  # of the field
    special: str = ""  # how special VFR is planned here: one of `SPECIAL`; '' where it is not

    @property
    def name(self) -> str:
        """The field and the runway, as a pilot would say them."""
        return f"{self.strip.name} {self.end.ident}"

    @property
    def ground(self) -> str:
        """What the wheels run on: 'paved, dry', or 'grass, very short, wet, firm'; 'grass' if no more is given."""
        conditions = self.conditions
        if isinstance(conditions, NotGiven):
            return self.runway.surface
        firm = "soft" if conditions.soft else "firm"
        words = [self.runway.surface, conditions.grass, conditions.surface]
        return ", ".join(filter(None, [*words, firm if self.runway.surface != "paved" else ""]))


class Departure(NamedTuple):
    """The takeoff as planned."""

    use: Use
    weight_lb: float
    flaps: str
    technique: str
    climb_flaps: str = ""  # the setting that the pilot climbs in from 50 ft on; '': the takeoff's


class Arrival(NamedTuple):
    """The landing as planned. `touchdown` is the pilot's own for this landing, where one is given.

    `weight_taken`: no weight was given for the alternate, and the landing weight at the destination stands in, or
    that on a landing there for fuel, where that is heavier.
    """

    use: Use
    weight_lb: float
    flaps: str
    technique: str
    partial_flaps: str = ""
    extra_speed_kt: float = 0.0
    touchdown: Touchdown | None = None
    weight_taken: bool = False


class Trip(NamedTuple):
    """Everything that one brief is worked from. `policy` is None where the trip names none."""

    title: str
    as_of: str  # RFC 3339, UTC
    crew: str
    aircraft: Aircraft
    departure: Departure
    arrival: Arrival
    policy: Policy | None
    remarks: tuple[str, ...] = ()
    not_for_flight: str = ""
    load: Load | None = None
    answers: Mapping[str, str] = {}  # to the items that the policy asks for, by their ids
    route: Route | None = None
    fuel: Fuel | None = None
    alternate: Arrival | None = None
    pilot: PilotPapers | None = None
    papers: AirplanePapers | None = None  # the airplane's
    passengers: bool | None = None  # carried; None: not said, which is taken as carried
    confirmed: Mapping[str, Confirmed] = {}  # by hand, by the keys of `model.confirmed`
    prepared: str = ""  # when the brief was prepared, as `as_of` is written; '': not said
    files: tuple[Given, ...] = ()  # that it was read from, the trip file first

    @property
    def uses(self) -> tuple[Use, ...]:
        """The runways used, in the order of the flight: departure, destination, and the alternate where one is."""
        found = (self.departure.use, self.arrival.use)
        return (*found, self.alternate.use) if self.alternate else found

    @property
    def takeoff_time(self) -> datetime | None:
        """When the flight begins, aware, UTC: said under the route, or beside circuits; None where it is not."""
        if self.route and self.route.takeoff:
            return self.route.takeoff
        return self.fuel.takeoff if self.fuel else None

    @property
    def takeoff_day(self) -> date | None:
        """The date of that by the clocks at the departure, of UTC where their offset is not known."""
        return self.departure.use.clock.day(self.takeoff_time) if self.takeoff_time else None

    @property
    def begins(self) -> datetime:
        """When the flight begins: at its takeoff or, where no time is given for that, at `as_of`."""
        return self.takeoff_time or datetime.fromisoformat(self.as_of)

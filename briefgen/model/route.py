"""The way of a trip, leg by leg, and its fuel, as they were typed."""

from datetime import datetime
from typing import NamedTuple


class Spot(NamedTuple):
    """A place: degrees of latitude, north positive, and of longitude, east positive."""

    latitude_deg: float
    longitude_deg: float

    def __str__(self) -> str:
        north, east = ("N" if self.latitude_deg >= 0 else "S"), ("E" if self.longitude_deg >= 0 else "W")
        return f"{abs(self.latitude_deg):.3f}\u00a0{north} {abs(self.longitude_deg):.3f}\u00a0{east}"


class WindAloft(NamedTuple):
    """A forecast wind: height above sea level [ft], where it blows from [deg true], and how fast [kt]."""

    height_ft: float
    from_deg: float
    speed_kt: float


class TemperatureAloft(NamedTuple):
    """A forecast temperature [degC] at a height above sea level [ft]."""

    height_ft: float
    temperature_degC: float


class AloftTold(NamedTuple):
    """A report of winds aloft as it was sent, group by group with its words.

    `use`: from when to when it is for use, None where it does not say; `remarks`: what was typed otherwise, and
    what was taken for a level.
    """

    station: str
    text: str
    words: tuple[tuple[str, str], ...]
    use: tuple[datetime, datetime] | None
    remarks: tuple[str, ...] = ()
    not_decoded: tuple[str, ...] = ()


class Sky(NamedTuple):
    """The weather along a leg as typed: cloud base [ft above sea level], infinite for no ceiling; visibility."""

    base_ft: float | None = None
    visibility_SM: float | None = None


class Leg(NamedTuple):
    """One leg. Either `position` or a course and a distance says where it ends.

    Airspeed and fuel flow are typed, or None: the cruise table for `power` gives them. `course_magnetic` says what
    the course is measured from. `wind` and `temperature_degC` None: from the route's levels. `variation_deg`
    (east positive) None: the route's, else the magnetic model's. `airspace` is its class, B to G, '' where that is
    not given; `terrain_ft` the highest ground or obstacle below it, `lowest_ft` the lowest ground, above sea level.
    """

    to: str
    altitude_ft: float
    airspeed_kt: float | None  # true
    flow_galh: float | None
    position: Spot | None = None
    course_deg: float | None = None
    course_magnetic: bool = False
    distance_nm: float | None = None
    wind: WindAloft | None = None
    variation_deg: float | None = None
    power: str = ""
    temperature_degC: float | None = None
    airspace: str = ""
    terrain_ft: float | None = None
    lowest_ft: float | None = None
    sky: Sky = Sky()


class FuelStop(NamedTuple):
    """A landing for fuel that may be decided on: `at` is where a leg ends, `leg` the way on from there instead."""

    at: str
    leg: Leg

    @property
    def places(self) -> tuple[str, str]:
        """Where it is decided, and where the landing is."""
        return self.at, self.leg.to


class Route(NamedTuple):
    """Legs from a place where they begin. `year` is the date as a decimal year, for the magnetic model.

    `alternate` is one more leg, from where the last one ends: flown only if the landing there cannot be made.
    `fuel_stop` begins where a leg before the last one ends.
    """

    start: str
    start_position: Spot
    legs: tuple[Leg, ...]
    year: float
    winds: tuple[WindAloft, ...] = ()
    variation_deg: float | None = None
    takeoff_min: int | None = None  # minutes after midnight UTC, None where no time is given
    alternate: Leg | None = None
    end_position: Spot | None = None  # of the destination
    temperatures: tuple[TemperatureAloft, ...] = ()
    takeoff: datetime | None = None  # aware, UTC; None where no time is given
    aloft: AloftTold | None = None  # what `winds` and `temperatures` were sent in; None: they are typed
    fuel_stop: FuelStop | None = None


class Alternate(NamedTuple):
    """Where to go instead, and what it takes: a time [s] at the greatest fuel flow of the flight, or fuel [gal]."""

    to: str
    time_s: float | None = None
    fuel_gal: float | None = None


class Fuel(NamedTuple):
    """Fuel [US gal] as typed; None where it is not given. `night` None: the file does not say.

    `circuits_s` and `flow_galh` stand in for a route where there is none, `takeoff` for its takeoff time.
    """

    on_board_gal: float | None = None  # usable
    taxi_gal: float | None = None
    climb_gal: float | None = None
    approach_gal: float | None = None
    alternate: Alternate | None = None
    night: bool | None = None
    circuits_s: float | None = None
    flow_galh: float | None = None
    takeoff: datetime | None = None

"""The airplane, as its approved handbook describes it."""

from typing import NamedTuple

from briefgen.handbook.charts import Chart
from briefgen.handbook.climb import ClimbTable
from briefgen.handbook.cruise import CruiseTable
from briefgen.handbook.readings import Readings
from briefgen.model.limit import Limit
from briefgen.model.load import FUEL_LB_PER_GAL, Balance
from briefgen.model.provenance import Provenance

UP = "up"


class Handbook(NamedTuple):
    """The approved document that every page number refers to."""

    title: str
    revision: str
    date: str


class SpeedByWeight(NamedTuple):
    """A speed [kt indicated] for one flap setting, by weight where the handbook prints it so."""

    flaps: str
    weights_lb: tuple[float, ...]  # empty: one speed for every weight
    speeds_kt: tuple[float, ...]
    page: str


class Calibration(NamedTuple):
    """Indicated and calibrated airspeed [kt] for one flap setting."""

    flaps: str
    indicated_kt: tuple[float, ...]
    calibrated_kt: tuple[float, ...]
    page: str


CLIMB, BALKED = "climb", "balked landing"


class ClimbRates(NamedTuple):
    """A rate of climb [ft/min] as one table prints it, for one flap setting.

    `purpose`: `CLIMB` or `BALKED`. `speed_kt`: the climb speed [kt indicated] where the page prints one for the
    whole table, None where each row prints its own.
    """

    flaps: str
    purpose: str
    table: Readings
    speed_kt: float | None = None


class Slips(NamedTuple):
    """What the handbook says against slips with flaps, and the settings that it is about."""

    restriction: str
    flaps: tuple[str, ...]
    page: str


class Deviation(NamedTuple):
    """The compass card: magnetic headings [deg], rising from 0 to under 360, each with the one to steer for it."""

    card: tuple[tuple[float, float], ...]
    source: str


class Aircraft(NamedTuple):
    """One airplane."""

    registration: str
    description: str
    handbook: Handbook
    maximum_takeoff_lb: Limit
    maximum_landing_lb: Limit
    flap_settings: tuple[str, ...]
    takeoff: tuple[Chart, ...]
    landing: tuple[Chart, ...]
    approach: tuple[SpeedByWeight, ...] = ()
    liftoff: tuple[SpeedByWeight, ...] = ()
    at_50_ft: tuple[SpeedByWeight, ...] = ()
    stall: tuple[SpeedByWeight, ...] = ()
    best_glide: SpeedByWeight | None = None
    best_angle: SpeedByWeight | None = None
    best_rate: SpeedByWeight | None = None
    maneuvering: SpeedByWeight | None = None  # always by weight
    glide_nm: Limit | None = None  # for each 1,000 ft of height, in still air
    demonstrated_crosswind_kt: Limit | None = None
    crosswind_limit_kt: Limit | None = None
    calibration: tuple[Calibration, ...] = ()
    differences: tuple[str, ...] = ()
    carburetor: bool | None = None  # None: the file does not say
    main_tires_psi: Limit | None = None
    slips: Slips | None = None
    balance: Balance | None = None
    usable_fuel_gal: Limit | None = None
    deviation: Deviation | None = None
    climb_rates: tuple[ClimbRates, ...] = ()
    not_for_flight: str = ""
    name: str = ""  # the file, as a message names it
    climb: ClimbTable | None = None
    taxi_allowance_gal: Limit | None = None  # printed beside the climb table, for start, taxi and takeoff
    cruise: tuple[CruiseTable, ...] = ()
    provenance: tuple[Provenance, ...] = ()  # of the file; then of each table that has its own

    @property
    def fuel_lb_per_gal(self) -> float:
        """The weight of its fuel [lb/gal]: as its balance says, else the planning figure."""
        return self.balance.fuel_lb_per_gal if self.balance else FUEL_LB_PER_GAL

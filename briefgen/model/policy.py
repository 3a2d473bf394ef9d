"""A club's or a pilot's standard: factors, minimums, allowances, and the guidance that fills gaps."""

from collections.abc import Mapping
from typing import NamedTuple

from briefgen.errors import Problem
from briefgen.figures import Source
from briefgen.handbook.notes import Note
from briefgen.printing import METRIC, METRIC_UNITS, PAGE_SIZES, PAGES, US, US_UNITS, Printing

NEAREST_WORSE = "nearest worse row"


class Factor(NamedTuple):
    """A safety factor on handbook feet, applied last."""

    value: float
    source: Source


class GuidanceSet(NamedTuple):
    """What one publication gives: corrections, each with its phase and base, and safety factors by phase."""

    name: str
    title: str
    meant_for: str
    checked: str  # the date on which it was last looked at
    factors: Mapping[str, Factor]
    notes: tuple[tuple[str, Note], ...]
    left_out: tuple[str, ...] = ()


class Touchdown(NamedTuple):
    """The pilot's own touchdown figures [ft], measured from the landing threshold and the aim point.

    `zone_ft` is how far past the aim point the wheels may still come down, by the pilot's own standard.
    """

    aim_ft: float
    float_ft: float
    flaps_up_float_ft: float
    zone_ft: float
    source: Source
    whose: tuple[str, ...] = ()  # of each figure, where layers were laid over one another

    def whose_is(self, field: str) -> str:
        """Return whose a figure is."""
        return self.whose[self._fields.index(field)] if self.whose else self.source.text


class Braking(NamedTuple):
    """A steady deceleration [g] that a pilot can count on, on one surface."""

    surface: str  # paved, grass, gravel
    wet: bool
    deceleration_g: float
    source: Source


class Rework(NamedTuple):
    """How far things may change before the brief must be worked again."""

    after_s: float
    warmer_degC: float
    wind_kt: float
    heavier_lb: float
    source: Source = Source("the policy", "policy")
    whose: tuple[str, ...] = ()  # as for the touchdown

    def whose_is(self, field: str) -> str:
        """Return whose a limit is."""
        return self.whose[self._fields.index(field)] if self.whose else self.source.text


class Raised(NamedTuple):
    """A rule that a layer makes more serious, by which layer, and where it says so."""

    id: str
    severity: str
    by: str
    where: Problem  # its place, for a fault that shows only when the rules are read


class Asked(NamedTuple):
    """Something that a standard wants answered on every sheet."""

    id: str
    title: str
    source: Source


class Letterhead(NamedTuple):
    """What stands at the head of the first page: a name, and up to three short lines. Text only."""

    name: str
    lines: tuple[str, ...] = ()


class Policy(NamedTuple):
    """One standard. Every figure in it has a source; what it leaves out is not made up.

    `last_touchdown_share` is a share of the landing distance available; `gust_share` of the gust factor is added
    to the approach speed. `whose` names the layer that gave each field.
    """

    name: str
    takeoff_factor: Factor | None = None
    landing_factor: Factor | None = None
    takeoff_margin_ft: float = 0.0
    landing_margin_ft: float = 0.0
    last_touchdown_share: float = 1 / 3
    last_touchdown_source: Source = Source("first third: AFH FAA-H-8083-3C p. 9-32", "published")
    pro_rata_credit: bool = False
    nearest_worse: bool = False  # takeoff and landing distances by the nearest worse row, not interpolated
    wind_shares: tuple[float, float] = (1.0, 1.0)  # how much of a headwind, and of a tailwind, is counted
    gust_share: float = 0.5
    gust_source: Source = Source("half the gust factor: AFH FAA-H-8083-3C p. 9-20", "published")
    touchdown: Touchdown | None = None
    crosswind_maximum_kt: float | None = None
    approach_angle_deg: float | None = None
    obstacle_clearance_ft: float = 0.0
    departure_clearance_ft: float = 0.0  # over what stands past the departure end
    reaction_s: float | None = None
    turn_back_height_ft: float | None = None  # above the field; below it never turn back
    fuel_reserve_s: float = 0.0  # at least the regulation's always rules
    minimum_ceiling_ft: float = 0.0  # above the field
    minimum_visibility_SM: float = 0.0
    report_age_min: float | None = None  # past which a report is old
    burn_margin: float = 0.0  # a share of the book's burn, added to it
    daylight_margin_s: float = 0.0  # between landing and sunset
    braking: tuple[Braking, ...] = ()
    takeoff_guidance: tuple[Note, ...] = ()
    landing_guidance: tuple[Note, ...] = ()
    rework: Rework | None = None
    not_for_flight: str = ""
    packs: tuple[str, ...] = ("base",)  # of the rules that come with the program
    rules: tuple[tuple[str, str], ...] = ()  # rule files of its own: where each is, and as a message names it
    severities: tuple[Raised, ...] = ()
    asked: tuple[Asked, ...] = ()
    confirm: tuple[str, ...] = ()  # what must be confirmed by hand, by the keys of `model.confirmed`
    units: str = US_UNITS  # what lengths and weights are printed in: US or metric
    page_size: str = PAGE_SIZES[0]
    pages: tuple[str, ...] = tuple(PAGES)  # that the sheet has after the cautions, in their order
    letterhead: Letterhead | None = None
    whose: Mapping[str, str] = {}  # each field that was given, and the layer that gave it

    def by(self, *fields: str) -> Source:
        """Return the layers that gave some fields, as the source of a step; that none did, where it is so."""
        names = dict.fromkeys(self.whose[field] for field in fields if field in self.whose)
        return Source(" and ".join(names) or f"none given by {self.name}", "policy")

    @property
    def printing(self) -> Printing:
        """The units that the sheet is printed in."""
        return METRIC if self.units == METRIC_UNITS else US


NO_POLICY = Policy("no policy")

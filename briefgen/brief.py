"""The Brief: everything that a sheet prints, worked and rounded. Rendering adds nothing to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property
from typing import Any

from briefgen import __version__
from briefgen.alternate_page import AlternatePage, alternate_page
from briefgen.calc.flight import Flight
from briefgen.calc.occasion import dark
from briefgen.caution import Caution
from briefgen.daylight_page import DaylightPage, daylight_page, daylight_said
from briefgen.facts import facts_of
from briefgen.fuel_stop_page import StopPage, stop_page
from briefgen.item import Item, State, tally
from briefgen.items import required_items
from briefgen.loading import LoadPage, load_page
from briefgen.model.given import OwnFile, fingerprint
from briefgen.model.policy import NO_POLICY, ExtraPage, Letterhead, Policy
from briefgen.model.trip import Trip
from briefgen.model.weather import Conditions
from briefgen.papers_page import PapersPage, papers_page
from briefgen.plans import (
    LandingPage,
    RecheckRow,
    TakeoffPage,
    landing_page,
    no_recheck,
    recheck_rows,
    takeoff_page,
)
from briefgen.printing import PAGES, Printing
from briefgen.route_page import RoutePage, route_page
from briefgen.said import said
from briefgen.speeds_page import SpeedsPage, speeds_page
from briefgen.standard import Ruling, rulings
from briefgen.units import down
from briefgen.weather_page import WeatherPage, weather_page
from briefgen.working import Compared, Section, checked_cells, compared, sections

STANDING = (
    "The approved handbook and the pilot in command govern. Defer to local rules and to licensed instruction.",
    "Figures hold for the conditions stated and for a technique as good as the handbook's. Check them before use.",
)

WORKED_IN = (
    "Worked in the units of the handbook's tables, feet and pounds, to compare with its pages; "
    "a figure that is printed in metric says so in its last line."
)


_NOT_ALWAYS = ("alternate", "load", "weather", "papers")  # pages that not every trip has


@dataclass(frozen=True)
class Brief:
    """One brief: a trip, its flight, the required items, the facts that rules may ask about, the cautions raised.

    Its pages are views of those, each put together when it is first read: `check` and the rules read none.
    """

    trip: Trip = field(compare=False)  # its policy's notes are themselves, not what they hold
    flight: Flight = field(compare=False)
    items: tuple[Item, ...]
    facts: Mapping[str, Any]
    cautions: tuple[Caution, ...] = ()
    folded: tuple[Caution, ...] = ()  # raised too, but another caution says the same

    @cached_property
    def title(self) -> str:
        """The trip, in its own words."""
        return self.trip.title

    @cached_property
    def as_of(self) -> str:
        """When its figures were good."""
        return self.trip.as_of

    @cached_property
    def prepared(self) -> str:
        """When it was prepared; where that is not said, when its figures were good."""
        return self.trip.prepared or self.trip.as_of

    @cached_property
    def fingerprint(self) -> str:
        """What tells the files that it was worked from from any others."""
        return fingerprint(self.trip.files)

    @cached_property
    def filed(self) -> str:
        """What stands at the foot of every page for its filing: from which files, by which version."""
        return f"{self.fingerprint} v{__version__}"

    @cached_property
    def crew(self) -> str:
        """Who flies."""
        return self.trip.crew

    @cached_property
    def registration(self) -> str:
        """The airplane."""
        return self.trip.aircraft.registration

    @cached_property
    def description(self) -> str:
        """What airplane it is."""
        return self.trip.aircraft.description

    @cached_property
    def handbook(self) -> str:
        """The handbook that its tables are from."""
        book = self.trip.aircraft.handbook
        return f"{book.title}, {book.revision}, {book.date}"

    @cached_property
    def differences(self) -> tuple[str, ...]:
        """How the airplane differs from the handbook's."""
        return self.trip.aircraft.differences

    @cached_property
    def not_for_flight(self) -> str:
        """Why it is not for flight; empty where it is none of invented data."""
        return self.trip.not_for_flight

    @cached_property
    def ruled_by(self) -> Policy | None:
        """The policy in force."""
        return self.trip.policy

    @cached_property
    def policy(self) -> str:
        """Its name."""
        policy = self.ruled_by
        return policy.name if policy else "no policy loaded: nothing is better than 'under policy'"

    @cached_property
    def printing(self) -> Printing:
        """The units of the sheet, and how they are rounded."""
        return (self.ruled_by or NO_POLICY).printing

    @cached_property
    def page_size(self) -> str:
        """The paper of the sheet."""
        return (self.ruled_by or NO_POLICY).page_size

    @cached_property
    def pages(self) -> tuple[str, ...]:
        """What the printed sheet has after the cautions, by the policy, of what there is for this trip."""
        return tuple(each for each in (self.ruled_by or NO_POLICY).pages if self._has(each))

    @cached_property
    def pages_left_out(self) -> tuple[str, ...]:
        """What it would have besides, if the policy did not leave it out."""
        return tuple(each for each in PAGES if each not in self.pages and self._has(each))

    def _has(self, page: str) -> bool:
        if page == "route":
            return bool(self.route or self.daylight)
        return page not in _NOT_ALWAYS or getattr(self, page) is not None

    @cached_property
    def letterhead(self) -> Letterhead | None:
        """The club's own head of the sheet."""
        return (self.ruled_by or NO_POLICY).letterhead

    @cached_property
    def sign_off(self) -> tuple[str, ...]:
        """What is signed at the foot of the first page."""
        return (self.ruled_by or NO_POLICY).sign_off

    @cached_property
    def templates(self) -> tuple[OwnFile, ...]:
        """The club's own templates that the sheet is made with."""
        return (self.ruled_by or NO_POLICY).templates

    @cached_property
    def extra_pages(self) -> tuple[ExtraPage, ...]:
        """The club's and the pilot's own pages."""
        return (self.ruled_by or NO_POLICY).extra_pages

    @cached_property
    def standing(self) -> tuple[str, ...]:
        """What stands on every sheet."""
        return STANDING

    @cached_property
    def counts(self) -> Mapping[State, int]:
        """The number of items in each state."""
        return tally(self.items)

    @cached_property
    def said(self) -> Mapping[str, str]:
        """The facts that a caution may quote, in the sheet's units."""
        return {**said(self.facts, self.flight, self.printing), **daylight_said(self.trip, self.flight)}

    @cached_property
    def remarks(self) -> tuple[str, ...]:
        """What the trip and its strips remark, what speaks against the aircraft file, and its checked cells."""
        return (*_remarks(self.trip), *checked_cells(self.sections))

    @cached_property
    def rework(self) -> tuple[str, ...]:
        """The limits past which it must be worked again."""
        return _rework(self.trip)

    @cached_property
    def takeoff(self) -> TakeoffPage:
        """The takeoff in large, with its points along the strip."""
        return takeoff_page(self.trip, self.flight)

    @cached_property
    def landing(self) -> LandingPage:
        """The landing in large, with its points along the strip."""
        return landing_page(self.trip, self.flight)

    @cached_property
    def speeds(self) -> SpeedsPage:
        """The speeds card."""
        return speeds_page(self.trip, self.flight)

    @cached_property
    def recheck(self) -> tuple[RecheckRow, ...]:
        """The landing need in other winds, dry and wet."""
        return recheck_rows(self.trip, self.flight)

    @cached_property
    def no_recheck(self) -> str:
        """Why there is no such grid, '' where there is."""
        return no_recheck(self.flight)

    @cached_property
    def load(self) -> LoadPage | None:
        """Load and balance."""
        return load_page(self.trip, self.flight)

    @cached_property
    def route(self) -> RoutePage | None:
        """Route and fuel."""
        fuel = next(each for each in self.items if each.id == "fuel")
        return route_page(self.trip, *self.flight.journey[:2], fuel, self.flight.journey.evening)

    @cached_property
    def stop(self) -> StopPage | None:
        """The fuel stop that may be decided on along the way."""
        return stop_page(self.trip, self.flight, self.items)

    @cached_property
    def alternate(self) -> AlternatePage | None:
        """The landing at the alternate."""
        return alternate_page(self.trip, self.flight)

    @cached_property
    def daylight(self) -> DaylightPage | None:
        """The sun, and the three nights."""
        return daylight_page(self.trip, self.flight)

    @cached_property
    def papers(self) -> PapersPage | None:
        """The papers of pilot and airplane, and what was confirmed by hand."""
        return papers_page(self.trip, self.flight)

    @cached_property
    def weather(self) -> WeatherPage | None:
        """The weather, typed beside reported, and what is asked of it."""
        return weather_page(self.trip, self.flight.journey.evening, night=self._night)

    @cached_property
    def compared(self) -> tuple[Compared, ...]:
        """Each table's own conditions, beside the technique planned."""
        return compared(self.trip, self.flight)

    @cached_property
    def sections(self) -> tuple[Section, ...]:
        """The working."""
        return sections(self.trip, self.flight, self.items, night=self._night)

    @cached_property
    def _night(self) -> bool | None:
        return dark(self.trip.fuel, self.flight.journey.evening)[1]

    @cached_property
    def worked_in(self) -> str:
        """The line that the working needs where the sheet is printed in other units than it was worked in."""
        return WORKED_IN if self.printing.metric else ""

    @cached_property
    def limits(self) -> str:
        """What stands at the foot of every page: when the figures were good, and past which limits they are not."""
        when = f"As of {self.as_of}"
        when += f", prepared {self.trip.prepared}" if self.trip.prepared else ""
        return f"{when}. Work again if: {'; '.join(self.rework)}."

    @cached_property
    def wind_counted(self) -> str:
        """How the standard counts a wind along the runway, in words."""
        policy = self.ruled_by or NO_POLICY
        steps = "parts of a step too" if policy.pro_rata_credit else "whole steps of the handbook's note"
        if policy.wind_shares != (1.0, 1.0):
            return f"half of a headwind counted, in {steps}; a tailwind one and a half times"
        return f"headwind counted in {steps}"

    @cached_property
    def raised(self) -> dict[str, str]:
        """What became of each rule that fired, by its id: printed, or folded into another."""
        folded = {each.id: f"fires, folded into {each.folded_into}" for each in self.folded}
        return {**folded, **{each.id: "fires" for each in self.cautions}}

    @cached_property
    def standard(self) -> tuple[Ruling, ...]:
        """Every figure of the standard in force, with whose it is."""
        return rulings(self.ruled_by)

    @cached_property
    def mark(self) -> str:
        """What stands beside it, in bold: the mark of invented data, else the airplane."""
        return "NOT FOR FLIGHT" if self.not_for_flight else self.registration


def assemble(trip: Trip, flight: Flight) -> Brief:
    """Return the Brief of a worked trip, without cautions: those are the rules' to add."""
    items = required_items(trip, flight)
    return Brief(trip, flight, items, facts_of(trip, flight, items))


def _remarks(trip: Trip) -> tuple[str, ...]:
    uses = (trip.departure.use, trip.arrival.use, *((trip.alternate.use,) if trip.alternate else ()))
    strips = dict.fromkeys(use.strip for use in uses)
    doubts = (doubt for each in trip.aircraft.provenance for doubt in each.doubts(trip.as_of[:10]))
    return (*trip.remarks, *(f"{strip.name}: {remark}" for strip in strips for remark in strip.remarks), *doubts)


def _rework(trip: Trip) -> tuple[str, ...]:
    """Return the limits past which the brief must be worked again."""
    policy = trip.policy or NO_POLICY
    rework, printing = policy.rework, policy.printing
    if rework is None:
        return ("anything is other than given here",)
    until = datetime.fromisoformat(trip.as_of) + timedelta(seconds=rework.after_s)
    uses = {"departure": trip.departure.use, "destination": trip.arrival.use}
    given = {name: use.conditions for name, use in uses.items() if isinstance(use.conditions, Conditions)}
    warmest = {name: down(each.temperature_degC + rework.warmer_degC) for name, each in given.items()}
    in_air = (
        "over " + ", ".join(f"{number:.0f}\u00a0°C at the {name}" for name, number in warmest.items()),
        f"wind or gust {rework.wind_kt:g}\u00a0kt other",
    )
    weights = {"takeoff": trip.departure.weight_lb, "landing": trip.arrival.weight_lb}
    return (
        f"after {until:%H:%M}Z" + (f" on {until:%Y-%m-%d}" if until.date().isoformat() != trip.as_of[:10] else ""),
        *(in_air if given else ()),
        *(
            f"{name} over {printing.said(printing.down(weight_lb + rework.heavier_lb, 'lb'), 'lb')}"
            for name, weight_lb in weights.items()
        ),
    )

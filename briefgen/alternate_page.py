"""The alternate as it is printed, and the facts of it: a plan B that can be flown from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from briefgen.calc.decision import GoAround
from briefgen.calc.flight import Ending, Flight
from briefgen.calc.landing import Landing
from briefgen.calc.speeds import find, speed
from briefgen.figures import Figure, Source, stated
from briefgen.item import Item
from briefgen.items import alternate_rows
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.trip import Arrival, Trip
from briefgen.model.weather import Conditions
from briefgen.place_facts import wind_facts
from briefgen.plans import Point, go_around_of, setting_of
from briefgen.printed import Reading, reading
from briefgen.side_view import SideView, approach_view
from briefgen.units import down, up
from briefgen.wind_picture import WindPicture, wind_along_and_across, wind_picture

Rounded = Callable[[Figure], float | None]
TAKEN = "the landing weight at the destination, which is heavier than it will be here"
FOR_FUEL = "that on a landing here for fuel, on the way, which is heavier than at the destination"


@dataclass(frozen=True, slots=True)
class AlternatePage:
    """The landing at the alternate. `rows`: as planned, flaps up, with partial flaps where given, the crosswind."""

    where: str
    setting: tuple[str, ...]
    remark: str  # what was taken for granted, '' where nothing was
    rows: tuple[Item, ...]
    speeds: tuple[Reading, ...]
    wind: str
    wind_picture: WindPicture
    side: SideView | None
    go_around: Point
    go_around_flaps_up: Point
    can_go_around: bool
    beyond: str


def alternate_page(trip: Trip, flight: Flight) -> AlternatePage | None:
    """Return the page of the alternate; None where the trip gives none."""
    home, ended = trip.alternate, flight.alternate
    if home is None or ended is None:
        return None
    policy = trip.policy or NO_POLICY
    stall = speed(find(trip.aircraft.stall, home.flaps), "stall", home.weight_lb)
    return AlternatePage(
        where=home.use.name,
        setting=setting_of(home.use, ended.there.have.slope, home.weight_lb, home.flaps, policy.printing),
        remark=_remark(home, trip.arrival.weight_lb, policy),
        rows=alternate_rows(trip, flight),
        speeds=(
            reading(f"approach, flaps {ended.planned.flaps}", ended.planned.approach, step=1, upward=True),
            reading("approach, flaps up", ended.flaps_up.approach, step=1, upward=True),
            reading(f"stall, flaps {home.flaps}", stall, step=1, upward=True),
        ),
        wind=wind_along_and_across(ended.there),
        wind_picture=wind_picture(home.use, ended.there),
        side=approach_view(trip, home.use, ended.planned, ended.plan.touchdown, ended.there.have.begins_ft),
        go_around=go_around_of("as planned", ended.go_around, policy.printing),
        go_around_flaps_up=go_around_of("flaps up", ended.go_around_flaps_up, policy.printing),
        can_go_around=home.use.end.go_around,
        beyond=home.use.opposite.beyond,
    )


def _taken(home: Arrival, at_destination_lb: float) -> str:
    return FOR_FUEL if home.weight_lb > at_destination_lb else TAKEN


def _remark(home: Arrival, at_destination_lb: float, policy: Policy) -> str:
    """Return what was taken for granted, and past which temperature there it must be worked again."""
    words = [f"The weight is {_taken(home, at_destination_lb)}."] if home.weight_taken else []
    if policy.rework and isinstance(home.use.conditions, Conditions):
        warmest = down(home.use.conditions.temperature_degC + policy.rework.warmer_degC)
        words.append(f"Work it again if it is over {warmest:.0f}\u00a0°C there.")
    return " ".join(words)


def weight_figure(home: Arrival, at_destination_lb: float) -> Figure:
    """Return the landing weight at the alternate, with where it is from."""
    label = "landing weight at the alternate"
    detail = _taken(home, at_destination_lb) if home.weight_taken else "as typed"
    by = Source("trip file", "pilot")
    return stated(label, "lb", home.weight_lb, detail, by)


def alternate_facts(trip: Trip, flight: Flight) -> dict[str, Any]:
    """Return the facts of the alternate; null where none is given, or where they could not be worked."""
    home, ended = trip.alternate, flight.alternate
    names = ("name", "available_ft", "headwind_kt", "tailwind_kt", "crosswind_kt", "crosswind_state")
    found: dict[str, Any] = {"given": home is not None, **dict.fromkeys(names)}
    if home is None or ended is None:
        return {**found, "planned": _landing(None, None, None), "flaps_up": _landing(None, None, None)}
    rows = {row.id: row for row in alternate_rows(trip, flight)}
    lda = ended.there.have.lda
    return found | {
        "name": home.use.name,
        "available_ft": None if lda.value is None else down(lda.value, 5),
        **wind_facts(ended.there),
        "crosswind_state": rows["alternate-crosswind"].state.value,
        "planned": _landing(rows["landing-alternate"], ended.planned, ended.go_around),
        "flaps_up": _landing(rows["landing-alternate-flaps-up"], ended.flaps_up, ended.go_around_flaps_up),
    }


def _landing(row: Item | None, case: Landing | None, point: GoAround | None) -> dict[str, Any]:
    if row is None or case is None or point is None:
        return dict.fromkeys(("need_ft", "policy_need_ft", "approach_kt", "go_around_ft", "mark", "state"))
    return {
        "need_ft": None if case.need.value is None else up(case.need.value, 5),
        "policy_need_ft": None if case.policy_need.value is None else up(case.policy_need.value, 5),
        "approach_kt": None if case.approach.value is None else up(case.approach.value),
        "go_around_ft": None if point.point.value is None else down(point.point.value, 5),
        "mark": point.mark.name if point.mark else None,
        "state": row.state.value,
    }


def alternate_lengths(
    ended: Ending | None, rounded_up: Rounded, rounded_down: Rounded
) -> Mapping[str, float | None]:
    """Return the facts of the alternate that stand elsewhere on the sheet too, by their paths, as printed there.

    Parameters
    ----------
    ended : the landing at the alternate, worked; None where none is given.
    rounded_up, rounded_down : how a figure is rounded in the sheet's unit.
    """
    if ended is None:
        return {}
    found = {"alternate.available_ft": rounded_down(ended.there.have.lda)}
    for name, case, point in (
        ("planned", ended.planned, ended.go_around),
        ("flaps_up", ended.flaps_up, ended.go_around_flaps_up),
    ):
        found[f"alternate.{name}.need_ft"] = rounded_up(case.need)
        found[f"alternate.{name}.policy_need_ft"] = rounded_up(case.policy_need)
        found[f"alternate.{name}.go_around_ft"] = rounded_down(point.point)
    return found

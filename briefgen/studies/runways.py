"""Every runway end of a trip's fields, worked in the day's wind, the one with the most margin first.

Nothing is left out: an end that could not be worked says why, and so does one that the strip file forbids.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import NamedTuple

from briefgen.brief import STANDING
from briefgen.calc.distance import NoAir, Scene
from briefgen.calc.flight import air_of, climb_away, ending, scene_of
from briefgen.calc.landing import forbidden
from briefgen.calc.takeoff import takeoff
from briefgen.figures import Figure, missing
from briefgen.item import Item, State, item
from briefgen.items import crosswind_row, ending_rows, obstacle_rows
from briefgen.model.policy import NO_POLICY
from briefgen.model.strip import Runway
from briefgen.model.trip import Arrival, Departure, Trip, Use
from briefgen.model.weather import Conditions, NotGiven
from briefgen.plans import setting_of
from briefgen.printing import Printing
from briefgen.wind_picture import wind_along_and_across

PLACES = ("departure", "arrival", "alternate")
NO_ALTERNATE = "the trip file gives no 'alternate'"
BY_TAKEOFF = (
    "Most margin first: by state, the worst of ground roll, over 50 ft, climb over obstacles and crosswind; "
    "then by the smaller margin of the two distances."
)
BY_LANDING = (
    "Most margin first: by state, the worse of the landing as planned and the crosswind; then by the margin of the "
    "landing as planned. Flaps up stands beside it."
)


class RankedEnd(NamedTuple):
    """One runway end. `rows` are its items, none where the strip file forbids it: `closed` says so.

    `state` is the worst of the rows that it is ranked by, `margin` the smallest of their distances' in the printed
    unit, None where one could not be worked.
    """

    ident: str
    surface: str
    chosen: bool
    wind: str
    rows: tuple[Item, ...]
    state: State
    margin: float | None
    closed: str = ""
    binding: str = ""  # the title of the row that gives the state

    @property
    def order(self) -> tuple[bool, int, float, str]:
        """What ends are ordered by; the ident last, so that the order in the strip file changes nothing."""
        return bool(self.closed), self.state.rank, inf if self.margin is None else -self.margin, self.ident


class RankedField(NamedTuple):
    """The ends of one field in their order. `reason` is why there are none."""

    place: str
    title: str
    setting: tuple[str, ...]
    ranked_by: str
    remark: str
    ends: tuple[RankedEnd, ...]
    reason: str = ""


class RunwayStudy(NamedTuple):
    """The runways of a trip."""

    title: str
    as_of: str
    registration: str
    policy: str
    not_for_flight: str
    fields: tuple[RankedField, ...]
    printing: Printing
    standing: tuple[str, ...] = STANDING

    @property
    def chosen(self) -> tuple[Item, ...]:
        """The items of the ends that the trip has chosen."""
        return tuple(row for field in self.fields for end in field.ends if end.chosen for row in end.rows)


def rank_runways(trip: Trip, places: tuple[str, ...] = PLACES) -> RunwayStudy:
    """Return the runway ends of a trip's fields, worked and ranked.

    Parameters
    ----------
    trip : its airplane, weights, flaps, policy and weather count.
    places : of `PLACES`, in the order wanted.
    """
    return RunwayStudy(
        title=trip.title,
        as_of=trip.as_of,
        registration=trip.aircraft.registration,
        policy=trip.policy.name if trip.policy else "no policy loaded: nothing is better than 'under policy'",
        not_for_flight=trip.not_for_flight,
        fields=tuple(_field(trip, place) for place in places),
        printing=(trip.policy or NO_POLICY).printing,
    )


def _field(trip: Trip, place: str) -> RankedField:
    plan: Departure | Arrival | None = getattr(trip, place)
    if plan is None:
        return RankedField(place, "Alternate", (), "", "", (), NO_ALTERNATE)
    use, printing = plan.use, (trip.policy or NO_POLICY).printing
    takes_off = isinstance(plan, Departure)
    whole = setting_of(use, 0.0, plan.weight_lb, plan.flaps, printing)
    ends = sorted((_end(trip, plan, each, place) for each in _uses(use)), key=lambda each: each.order)
    kind = "Takeoff" if takes_off else "Landing"
    unknown, lying = "", ""
    if isinstance(use.conditions, NotGiven):
        unknown = use.conditions.reason
    else:
        lying = use.conditions.surface
    return RankedField(
        place=place,
        title=f"{kind} at {use.strip.name}, {place}",
        setting=whole[:-2],  # the ground and the slope are each end's own
        ranked_by=f"Not ranked, by their names: {unknown}." if unknown else BY_TAKEOFF if takes_off else BY_LANDING,
        remark="" if unknown else f"Every runway is taken to be {lying}, as {use.end.ident} is in the trip file.",
        ends=tuple(ends),
    )


def _uses(chosen: Use) -> Iterator[Use]:
    """Return every end of a field, in the conditions of the one that the trip has chosen."""
    for runway in chosen.strip.runways:
        for end, opposite in (runway.ends, runway.ends[::-1]):
            yield chosen._replace(runway=runway, end=end, opposite=opposite, conditions=_on(runway, chosen))


def _on(runway: Runway, chosen: Use) -> Conditions | NotGiven:
    """Return the conditions on a runway: what is said of ground and grass counts only where there is any."""
    conditions = chosen.conditions
    if isinstance(conditions, NotGiven):
        return conditions
    return conditions._replace(
        soft=conditions.soft and runway.surface != "paved",
        grass=conditions.grass if runway.surface == "grass" else "",
    )


def _end(trip: Trip, plan: Departure | Arrival, use: Use, place: str) -> RankedEnd:
    """Return one end worked; what could not be worked is a row with its reason."""
    takes_off, end = isinstance(plan, Departure), use.end
    there = scene_of(use, trip.policy or NO_POLICY)
    made = RankedEnd(
        ident=end.ident,
        surface=use.runway.surface,
        chosen=end.ident == plan.use.end.ident,
        wind=wind_along_and_across(there),
        rows=(),
        state=State.NOT_SHOWN,
        margin=None,
    )
    if not (end.takeoff if takes_off else end.landing):
        phase = "takeoff" if takes_off else "landing"
        return made._replace(closed=f"the strip file does not allow a {phase} on runway {end.ident} ('use' there)")
    unknown = ""
    if isinstance(there, Scene) and use.runway.surface != "paved" and not there.conditions.ground_said:
        unknown = f"the runway is {use.runway.surface}, and whether its ground is firm is not said under '{place}'"
    if isinstance(plan, Departure):
        rows = _takeoff(trip, plan, (use, there), unknown)
    else:
        rows = _landing(trip, plan, use, unknown)
    ranking = [row for row in rows if not row.id.endswith("flaps-up")]
    margins = [row.margin for row in ranking if row.id != "climb-out" and not row.id.endswith("crosswind")]
    known = [margin for margin in margins if margin is not None]
    worst = max(ranking, key=lambda row: (row.state.rank, -inf if row.margin is None else -row.margin))
    return made._replace(
        rows=rows,
        state=worst.state,
        binding=worst.title,
        margin=min(known) if len(known) == len(margins) else None,
    )


def _takeoff(trip: Trip, plan: Departure, on: tuple[Use, Scene | NoAir], unknown: str) -> tuple[Item, ...]:
    policy, (use, there) = trip.policy or NO_POLICY, on
    worked = takeoff(trip.aircraft, there, plan.flaps, plan.weight_lb, policy)
    _, cleared = climb_away(trip.aircraft, plan._replace(use=use), there, worked, policy)

    def row(id: str, title: str, need: Figure, policy_need: Figure, have: Figure) -> Item:
        if unknown:
            need = policy_need = missing(need.label, "ft", unknown)
        return item(
            id,
            title,
            use.name,
            need,
            policy_need,
            have,
            policy=trip.policy,
            minimum=policy.takeoff_margin_ft,
            printing=policy.printing,
        )

    return (
        row("takeoff-roll", "Takeoff ground roll", worked.roll, worked.policy_roll, there.have.tora),
        row("takeoff-50", "Takeoff over 50 ft", worked.total, worked.policy_total, there.have.over_50),
        *(row for row, _ in obstacle_rows(trip, cleared, use.name)[:1]),
        crosswind_row(trip, "takeoff", use.name, air_of(use, there).across),
    )


def _landing(trip: Trip, plan: Arrival, use: Use, unknown: str) -> tuple[Item, ...]:
    ended = ending(trip.aircraft, plan._replace(use=use, partial_flaps=""), trip.policy or NO_POLICY)
    if unknown:
        ended = ended._replace(
            planned=forbidden(ended.planned, unknown), flaps_up=forbidden(ended.flaps_up, unknown)
        )
    return ending_rows(trip, ended, use.name)

"""A fuel stop that is decided on along the way: what continuing needs, what is left there, what the stop needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from briefgen.calc.fuel import FuelPlan, Journey, Stage, by_policy, greatest_flow, summed
from briefgen.calc.latest import dusk_of, in_daylight
from briefgen.calc.legs import LegWorked, Navigation
from briefgen.figures import Figure, Source, Step, missing, stated
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.route import FuelStop
from briefgen.model.trip import Trip

LEFT = Source("fuel on board less what is burnt", "standard")
WORKED = Source("sum of the legs, as each is worked", "standard")
TOO_LITTLE = "none: the fuel planned there is under what continuing asks for"
CLIMB = "climb"
NOT_AFTER = ("taxi", CLIMB, "legs")  # the stages of the plan that are not flown after the last leg


class Stop(NamedTuple):
    """A fuel stop worked; times in min after takeoff, fuel in gal. What could not be worked is a missing figure.

    `continue_need` is the least in the tanks at `at` for the rest of the flight, the approach, the alternate and
    the rule's reserve; `policy_continue_need` the same with the policy's. `planned` is what the most burn leaves
    there. `reached` is when it is reached as planned, `by` the latest with the policy's need still on board, at the
    greatest flow; where the day's reserve is kept, no later than leaves it by day. `land` and `policy_land` are the
    least there for the way to the stop, an approach and a reserve; `left` is what the most burn leaves on landing
    there.
    """

    at: str
    to: str
    way: LegWorked | None
    continue_need: Figure
    policy_continue_need: Figure
    planned: Figure
    reached: Figure
    by: Figure
    land: Figure
    policy_land: Figure
    left: Figure
    most_galh: float  # the greatest flow, with the policy's margin


def fuel_stop(trip: Trip, journey: Journey) -> Stop | None:
    """Return the fuel stop of a trip, worked as far as its fuel is; None where none is given.

    Parameters
    ----------
    trip : its route, fuel and policy.
    journey : the same, worked.
    """
    stop = trip.route.fuel_stop if trip.route else None
    if stop is None or journey.navigation is None:
        return None
    policy, plan, navigation = trip.policy or NO_POLICY, journey.fuel, journey.navigation
    if trip.fuel is None or not plan.stages:
        return _unworked(stop, navigation.stop, plan.need.reason)
    found = _worked(stop, navigation, plan, policy, greatest_flow(trip.fuel, navigation))
    dusk = dusk_of(journey.evening, plan.reserve_min, policy)
    if dusk is None:
        return found
    return found._replace(by=in_daylight(found.by, dusk, navigation.minutes - found.reached.known))


def _unworked(stop: FuelStop, way: LegWorked | None, reason: str) -> Stop:
    gallons, minutes = missing("fuel", "gal", reason), missing("time", "min", reason)
    return Stop(*stop.places, way, gallons, gallons, gallons, minutes, minutes, gallons, gallons, gallons, 0.0)


def _worked(given: FuelStop, navigation: Navigation, plan: FuelPlan, policy: Policy, flow_galh: float) -> Stop:
    """Return a stop of a trip whose fuel is worked; `flow_galh`: the greatest flow."""
    at, to = given.places
    before, most_galh = navigation.until(at), flow_galh * (1 + policy.burn_margin)
    after = navigation.legs[len(before) :]
    typed = tuple(each for each in plan.stages if each.name == CLIMB and each.minutes is None)
    ending = tuple(each for each in plan.stages[:-1] if each.name not in NOT_AFTER)
    again = typed if any(each.leg.altitude_ft > before[-1].leg.altitude_ft for each in after) else ()

    def need(label: str, stages: tuple[Stage, ...]) -> tuple[Figure, Figure]:
        more = by_policy(stages, plan.reserve_min, flow_galh, policy, f"from {at} on")
        found = summed(label, (*stages, plan.stages[-1]))
        return found, summed(f"{label}, under the policy", (*stages, plan.stages[-1], *more)) if more else found

    on = need(f"fuel at {at} to continue", (*again, _flown(f"legs after {at}", after), *ending))
    burnt = (*typed, _flown(f"legs to {at}", before))
    planned = _less(f"fuel planned at {at}", plan.have, plan.stages[:1], burnt, policy)
    flown_min = sum(each.time.known for each in before)
    reached = stated(f"planned at {at}, after takeoff", "min", flown_min, "", WORKED)
    label, left = f"fuel at {at} to land at {to}", f"fuel left on landing at {to}"
    if navigation.stop is None:
        assert navigation.stop_refused is not None
        none = missing(label, "gal", navigation.stop_refused.reason)
        land, left_gal = (none, none), none._replace(label=left)
    else:
        approach = tuple(each for each in ending if each.name == "approach")
        aside = (_flown(f"way to {to}", (navigation.stop,)), *approach)
        land, left_gal = need(label, aside), _less(left, planned, (), aside, policy)
    by = _by(at, planned, reached, on[1], most_galh)
    return Stop(at, to, navigation.stop, *on, planned, reached, by, *land, left_gal, most_galh)


def _flown(name: str, parts: Sequence[LegWorked]) -> Stage:
    """Return legs and parts of legs as one stage."""
    gallons, minutes = sum(each.fuel.known for each in parts), sum(each.time.known for each in parts)
    return Stage(name, gallons, minutes, f"{minutes:.1f}\u00a0min", WORKED)


def _less(label: str, have: Figure, ground: tuple[Stage, ...], air: tuple[Stage, ...], policy: Policy) -> Figure:
    """Return what is left of the fuel after stages on the ground and in the air, these with the policy's margin."""
    if have.value is None:
        return missing(label, "gal", have.reason)
    burnt = [*ground, *air]
    if policy.burn_margin:
        gallons, share = sum(each.fuel_gal for each in air), f"{policy.burn_margin:.0%}".replace("%", "\u00a0%")
        name, detail = f"burn margin, {share}", f"{share} of {gallons:.2f}\u00a0gal in the air"
        burnt.append(Stage(name, gallons * policy.burn_margin, None, detail, policy.by("burn_margin")))
    left = have.known
    steps = [Step("fuel", have.label, "", None, left, "gal", LEFT)]
    for each in burnt:
        before, left = left, left - each.fuel_gal
        detail = f"\u2212 {each.fuel_gal:.2f}\u00a0gal: {each.detail}"
        steps.append(Step("fuel", f"less {each.name}", detail, before, left, "gal", each.source))
    return Figure(label, "gal", left, tuple(steps))


def _by(at: str, planned: Figure, reached: Figure, least: Figure, most_galh: float) -> Figure:
    """Return the latest that the fix may be reached: what is over the need lasts so much longer than planned."""
    label = f"latest at {at}, after takeoff"
    if planned.value is None:
        return missing(label, "min", planned.reason)
    over_gal = planned.known - least.known
    if over_gal < 0:
        return missing(label, "min", TOO_LITTLE)
    detail = (
        f"{reached.known:.1f}\u00a0min as planned, then {over_gal:.2f}\u00a0gal over at {most_galh:.2f}\u00a0gal/h"
    )
    return stated(label, "min", reached.known + over_gal / most_galh * 60, detail, WORKED)

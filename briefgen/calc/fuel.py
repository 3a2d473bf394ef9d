"""The fuel that a trip needs, stage by stage, beside what is on board."""

from typing import NamedTuple

from briefgen.calc.legs import TYPED, Navigation, navigate
from briefgen.figures import Figure, Source, Step, missing
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.route import Fuel
from briefgen.model.trip import Trip

DAY_RESERVE_MIN, NIGHT_RESERVE_MIN = 30.0, 45.0  # 14 CFR 91.151(a), at normal cruise (read)
RULE = Source("14 CFR 91.151(a)", "regulation")
SUM = Source("sum of the stages", "standard")


class Stage(NamedTuple):
    """One stage of the fuel: gallons, minutes where it is a time, and where it comes from."""

    name: str
    fuel_gal: float
    minutes: float | None
    detail: str
    source: Source


class FuelPlan(NamedTuple):
    """A trip's fuel. Without a need that could be worked there are no stages, and no flow.

    `stages` add up to `need`, by the book's burn and the regulation's reserve; with `policy_stages` to
    `policy_need`. `least_burn` is for the landing weight: the legs alone, by the book. `most_burn` is all that the
    airplane may burn from takeoff to landing, by the policy. Times are at the greatest flow, with its margin.
    """

    need: Figure
    policy_need: Figure
    have: Figure
    stages: tuple[Stage, ...] = ()
    policy_stages: tuple[Stage, ...] = ()
    reserve_min: float = 0.0
    least_burn: Figure | None = None
    most_burn: Figure | None = None
    past_reserve: Figure | None = None  # min that remain past the regulation's reserve; negative: short of it
    endurance: Figure | None = None  # min after takeoff
    down_by: Figure | None = None  # min after takeoff, by which the wheels must be down to land with the reserve


class Journey(NamedTuple):
    """The way of a trip and its fuel."""

    navigation: Navigation | None
    fuel: FuelPlan


_NOTHING = missing("fuel", "gal", "not worked")
NO_JOURNEY = Journey(None, FuelPlan(_NOTHING, _NOTHING, _NOTHING))


def journey(trip: Trip) -> Journey:
    """Work the route and the fuel of a trip, as far as they are given."""
    policy = trip.policy or NO_POLICY
    navigation = navigate(trip.route, trip.aircraft.deviation) if trip.route else None
    return Journey(navigation, plan(trip.fuel, navigation, policy))


def plan(fuel: Fuel | None, navigation: Navigation | None, policy: Policy) -> FuelPlan:
    """Return the fuel of a trip: need, policy need and have, missing with the keys that were not given."""
    have = _on_board(fuel)
    lacking = _lacking(fuel, navigation)
    if fuel is None or lacking:
        none = missing("fuel", "gal", f"the trip file does not give {' and '.join(lacking)}")
        return FuelPlan(none, none, have)
    if navigation and navigation.refused:
        none = missing("fuel", "gal", navigation.refused[0][1].reason)
        return FuelPlan(none, none, have)
    stages, flow_galh = _stages(fuel, navigation), _flow(fuel, navigation)
    rule_min = DAY_RESERVE_MIN if fuel.night is False else NIGHT_RESERVE_MIN
    stages = (*stages, _rule(rule_min, flow_galh, fuel.night))
    more = _by_policy(stages, rule_min, flow_galh, policy)
    need = _summed("fuel", stages)
    policy_need = _summed("fuel, under the policy", (*stages, *more)) if more else need
    return _lasting(FuelPlan(need, policy_need, have, stages, more, rule_min), flow_galh, policy)


def least_burn(fuel: Fuel | None, navigation: Navigation | None) -> float | None:
    """Return the least that is credibly burnt from takeoff to landing [gal]: the legs or circuits, by the book.

    None where neither can be worked.
    """
    if navigation is not None:
        return None if navigation.refused else navigation.fuel_gal
    if fuel is None or fuel.circuits_s is None or fuel.flow_galh is None:
        return None
    return fuel.circuits_s / 3600 * fuel.flow_galh


def _on_board(fuel: Fuel | None) -> Figure:
    if fuel is None or fuel.on_board_gal is None:
        return missing("usable fuel on board", "gal", "the trip file does not give 'fuel: on_board'")
    label = "usable fuel on board"
    return Figure(label, "gal", fuel.on_board_gal, (Step(label, label, "", None, fuel.on_board_gal, "gal", TYPED),))


def _lacking(fuel: Fuel | None, navigation: Navigation | None) -> list[str]:
    """Return the keys that the need cannot be worked without; what was not typed is never taken as nil."""
    circuits = fuel is not None and fuel.circuits_s is not None
    keys = [] if navigation or circuits else ["'route'"]
    if fuel is None:
        return [*keys, "'fuel'"]
    wanted = {"taxi": fuel.taxi_gal} | ({} if circuits else {"climb": fuel.climb_gal})
    return keys + [f"'fuel: {key}'" for key, given in wanted.items() if given is None]


def _flow(fuel: Fuel, navigation: Navigation | None) -> float:
    """Return the greatest fuel flow [gal/h] of the flight."""
    return max(each.leg.flow_galh for each in navigation.legs) if navigation else fuel.flow_galh or 0.0


def _stages(fuel: Fuel, navigation: Navigation | None) -> tuple[Stage, ...]:
    """Return the stages before the reserve, by the book."""
    found = [Stage("taxi", fuel.taxi_gal or 0.0, None, "as typed", TYPED)]
    if fuel.climb_gal is not None:
        detail = "as typed, on top of the way: nothing is taken off for the climb's distance"
        found.append(Stage("climb", fuel.climb_gal, None, detail, TYPED))
    if navigation:
        detail = f"as worked leg by leg, {navigation.minutes:.1f}\u00a0min"
        found.append(Stage("legs", navigation.fuel_gal, navigation.minutes, detail, TYPED))
    else:
        minutes, flow = (fuel.circuits_s or 0.0) / 60, fuel.flow_galh or 0.0
        found.append(Stage("circuits", minutes / 60 * flow, minutes, _at(minutes, flow), TYPED))
    if fuel.approach_gal is not None:
        found.append(Stage("approach", fuel.approach_gal, None, "as typed", TYPED))
    if fuel.alternate is not None:
        name, time_s, flow = f"alternate {fuel.alternate.to}", fuel.alternate.time_s, _flow(fuel, navigation)
        if time_s is None:
            found.append(Stage(name, fuel.alternate.fuel_gal or 0.0, None, "as typed", TYPED))
        else:
            found.append(Stage(name, time_s / 3600 * flow, time_s / 60, _at(time_s / 60, flow), TYPED))
    return tuple(found)


def _at(minutes: float, flow_galh: float) -> str:
    return f"{minutes:g}\u00a0min at {flow_galh:g}\u00a0gal/h"


def _rule(minutes: float, flow_galh: float, night: bool | None) -> Stage:
    when = {True: "at night", False: "by day", None: "as at night: whether it is day is not said"}[night]
    detail = f"{_at(minutes, flow_galh)}, {when}"
    return Stage(f"reserve of the rule, {minutes:g}\u00a0min", minutes / 60 * flow_galh, minutes, detail, RULE)


def _by_policy(stages: tuple[Stage, ...], rule_min: float, flow_galh: float, policy: Policy) -> tuple[Stage, ...]:
    """Return what the policy adds: a margin on all that is burnt in the air, and a longer reserve."""
    found = []
    if policy.burn_margin:
        burnt = sum(each.fuel_gal for each in stages[1:-1])
        share = f"{policy.burn_margin:.0%}".replace("%", "\u00a0%")
        detail = f"{share} of {burnt:.2f}\u00a0gal from takeoff on"
        found.append(
            Stage(f"burn margin, {share}", burnt * policy.burn_margin, None, detail, policy.by("burn_margin"))
        )
    longer_min = policy.fuel_reserve_s / 60 - rule_min
    if longer_min > 0:
        name = f"more reserve, to {policy.fuel_reserve_s / 60:g}\u00a0min"
        gallons = longer_min / 60 * flow_galh
        found.append(Stage(name, gallons, longer_min, _at(longer_min, flow_galh), policy.by("fuel_reserve_s")))
    return tuple(found)


def _summed(label: str, stages: tuple[Stage, ...]) -> Figure:
    """Return the sum of some stages, a step for each."""
    total = 0.0
    steps: list[Step] = []
    for each in stages:
        detail = f"+ {each.fuel_gal:.2f}\u00a0gal: {each.detail}" if steps else each.detail
        before, total = (total if steps else None), total + each.fuel_gal
        steps.append(Step("fuel", each.name, detail, before, total, "gal", each.source))
    return Figure(label, "gal", total, tuple(steps))


def _lasting(found: FuelPlan, flow_galh: float, policy: Policy) -> FuelPlan:
    """Return a plan with its burns, and how long the fuel on board lasts: at the greatest flow, with the margin."""
    most_galh = flow_galh * (1 + policy.burn_margin)
    air = [each for each in found.stages[1:-1] if not each.name.startswith("alternate")]
    timed = [each for each in air if each.minutes is not None]
    most = sum(each.fuel_gal for each in air) * (1 + policy.burn_margin)
    found = found._replace(
        least_burn=_single(
            "least burn", "gal", sum(each.fuel_gal for each in timed), "the legs or circuits alone, by the book"
        ),
        most_burn=_single("most burn", "gal", most, "from takeoff to landing, with the policy's margin"),
    )
    if found.have.value is None:
        return found
    on_board, rate = found.have.value, f"at {most_galh:.2f}\u00a0gal/h"
    before = sum(each.fuel_gal for each in found.stages if each.name in ("taxi", "climb"))
    kept = found.policy_need.known - found.stages[0].fuel_gal - most
    spare = on_board - found.need.known
    return found._replace(
        past_reserve=_single(
            "time past the rule's reserve", "min", spare / most_galh * 60, f"{spare:.2f}\u00a0gal {rate}"
        ),
        endurance=_single(
            "endurance from takeoff",
            "min",
            (on_board - before) / most_galh * 60,
            f"{on_board - before:.2f}\u00a0gal {rate}, taxi and climb taken off",
        ),
        down_by=_single(
            "wheels down after takeoff by",
            "min",
            (on_board - before - kept) / most_galh * 60,
            f"{on_board - before - kept:.2f}\u00a0gal {rate}; {kept:.2f}\u00a0gal kept for reserve and alternate",
        ),
    )


def _single(label: str, unit: str, value: float, detail: str) -> Figure:
    return Figure(label, unit, value, (Step(label, label, detail, None, value, unit, SUM),))

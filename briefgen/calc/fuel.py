"""The fuel that a trip needs, stage by stage, beside what is on board."""

from collections.abc import Iterator
from typing import NamedTuple

from briefgen.calc.daylight import DAY_RESERVE_MIN, NIGHT_RESERVE_MIN, RULE
from briefgen.calc.evening import NO_TIME, Evening, evening
from briefgen.calc.latest import down_in_time, dusk_of
from briefgen.calc.legs import Navigation, navigate
from briefgen.calc.performance import TYPED, tables
from briefgen.figures import Figure, Source, Step, Steps, missing, stated
from briefgen.model.limit import Limit
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.route import Fuel
from briefgen.model.trip import Trip

SUM = Source("sum of the stages", "standard")
LEAST = "climb and legs alone, by the book, each leg in the wind as forecast or calm: the lesser; circuits nil"


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
    `policy_need`. `least_burn` is for the landing weight: the legs, and a climb that was worked, by the
    book. `most_burn` is all that the airplane may burn from takeoff to landing, by the policy. Times are at the
    greatest flow, with its margin.
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
    down_kept_min: float = 0.0  # the reserve that is kept by it


class Journey(NamedTuple):
    """The way of a trip, its fuel and its light; `dark_reason` says why there is no light worked."""

    navigation: Navigation | None
    fuel: FuelPlan
    evening: Evening | None = None
    dark_reason: str = NO_TIME


_NOTHING = missing("fuel", "gal", "not worked")
NO_JOURNEY = Journey(None, FuelPlan(_NOTHING, _NOTHING, _NOTHING))


def journey(trip: Trip) -> Journey:
    """Work the route and the fuel of a trip, as far as they are given."""
    policy = trip.policy or NO_POLICY
    aircraft, navigation = trip.aircraft, None
    if trip.route:
        book = tables(aircraft, trip.departure, trip.fuel)
        navigation = navigate(trip.route, aircraft.deviation, book)
    light, reason = evening(trip, navigation)
    by_sun, onward = light.reserve if light else None, trip.alternate is not None
    fuel = plan(trip.fuel, navigation, policy, aircraft.taxi_allowance_gal, by_sun, alternate=onward)
    dusk = dusk_of(light, fuel.reserve_min, policy)
    if fuel.down_by and dusk:
        down_by, kept_min = down_in_time(fuel.down_by, dusk, policy)
        fuel = fuel._replace(down_by=down_by, down_kept_min=kept_min)
    return Journey(navigation, fuel, light, reason)


def plan(
    fuel: Fuel | None,
    navigation: Navigation | None,
    policy: Policy,
    allowance: Limit | None = None,
    by_sun: Figure | None = None,
    *,
    alternate: bool = False,
) -> FuelPlan:
    """Return the fuel of a trip: need, policy need and have, missing with the keys that were not given.

    Parameters
    ----------
    fuel : as typed.
    navigation : with its climbs, where they were worked.
    policy : its margin and its reserve.
    allowance : what the handbook allows for start, taxi and takeoff [gal]; the taxi where none, or less, is typed.
    by_sun : the reserve that the sun makes the rule ask for [min]; None without a takeoff time.
    alternate : a landing at one is planned.
    """
    have = _on_board(fuel)
    lacking = _lacking(fuel, navigation, allowance, alternate=alternate)
    if fuel is None or lacking:
        none = missing("fuel", "gal", f"the trip file does not give {' and '.join(lacking)}")
        return FuelPlan(none, none, have)
    refused = _refused(navigation)
    if refused:
        none = missing("fuel", "gal", refused)
        return FuelPlan(none, none, have)
    stages, flow_galh = _stages(fuel, navigation, allowance), greatest_flow(fuel, navigation)
    rule_min, when = ruled_reserve(fuel.night, by_sun)
    stages = (*stages, _rule(rule_min, flow_galh, when))
    more = by_policy(stages[1:-1], rule_min, flow_galh, policy)
    need = summed("fuel", stages)
    policy_need = summed("fuel, under the policy", (*stages, *more)) if more else need
    found = FuelPlan(need, policy_need, have, stages, more, rule_min)
    return _lasting(found, flow_galh, policy, least_burn(fuel, navigation) or 0.0)


def _refused(navigation: Navigation | None) -> str:
    """Return why the way has no fuel: a leg that cannot be flown, or no climb; '' where it has."""
    if navigation and navigation.refused:
        return navigation.refused[0][1].reason
    if navigation and navigation.alternate_refused:
        return navigation.alternate_refused.reason
    if navigation and navigation.climb_reason:
        return f"no climb could be worked: {navigation.climb_reason}; 'fuel: climb' may be typed"
    return ""


def least_burn(fuel: Fuel | None, navigation: Navigation | None) -> float | None:
    """Return the least that is credibly burnt from takeoff to landing [gal]: the legs, by the book.

    Nil for circuits: the first landing comes minutes after the takeoff, and is the heaviest. A climb that was
    worked is in it; one that was typed, or could not be worked, is not. None without legs or circuits.
    """
    if navigation is not None:
        return None if navigation.refused else navigation.least_gal
    return 0.0 if fuel is not None and fuel.circuits_s is not None else None


def _on_board(fuel: Fuel | None) -> Figure:
    if fuel is None or fuel.on_board_gal is None:
        return missing("usable fuel on board", "gal", "the trip file does not give 'fuel: on_board'")
    label = "usable fuel on board"
    return stated(label, "gal", fuel.on_board_gal, "", TYPED)


def _lacking(
    fuel: Fuel | None, navigation: Navigation | None, allowance: Limit | None, *, alternate: bool
) -> list[str]:
    """Return the keys that the need cannot be worked without; what was not typed is never taken as nil.

    `alternate`: a landing at one is planned, so that fuel to fly there is needed; whether its way is given, is not
    asked while the way before it cannot be worked.
    """
    circuits = fuel is not None and fuel.circuits_s is not None
    keys = [] if navigation or circuits else ["'route'"]
    if fuel is None:
        return [*keys, "'fuel'"]
    worked = navigation is not None and bool(navigation.climbed or _refused(navigation))
    wanted = {} if allowance else {"taxi": fuel.taxi_gal}
    wanted |= {} if circuits or worked else {"climb": fuel.climb_gal}
    onward = fuel.alternate or (navigation and (navigation.alternate or _refused(navigation)))
    keys += [f"'fuel: {key}'" for key, given in wanted.items() if given is None]
    return [*keys, "'route: alternate'"] if alternate and not onward else keys


def greatest_flow(fuel: Fuel, navigation: Navigation | None) -> float:
    """Return the greatest fuel flow [gal/h] of the flight in cruise, to the alternate and to a fuel stop.

    Parameters
    ----------
    fuel : has the flow of circuits.
    navigation : the route, worked; None without one.
    """
    if navigation is None:
        return fuel.flow_galh or 0.0
    aside = navigation.alternate, navigation.stop
    return max(each.flow.known for each in (*navigation.legs, *aside) if each and each.flow)


def _stages(fuel: Fuel, navigation: Navigation | None, allowance: Limit | None) -> tuple[Stage, ...]:
    """Return the stages before the reserve, by the book."""
    found = [Stage("taxi", fuel.taxi_gal or 0.0, None, "as typed", TYPED)]
    if allowance and (fuel.taxi_gal or 0.0) < allowance.value:
        detail = "the handbook's allowance for start, taxi and takeoff"
        if fuel.taxi_gal is not None:
            detail += f"; {fuel.taxi_gal:.1f}\u00a0gal are typed"
        found = [Stage("taxi", allowance.value, None, detail, Source(allowance.page))]
    if fuel.climb_gal is not None:
        detail = "as typed, on top of the way: nothing is taken off for the climb's distance"
        found.append(Stage("climb", fuel.climb_gal, None, detail, TYPED))
    if navigation:
        found += _on_the_way(navigation)
    else:
        minutes, flow = (fuel.circuits_s or 0.0) / 60, fuel.flow_galh or 0.0
        found.append(Stage("circuits", minutes / 60 * flow, minutes, _at(minutes, flow), TYPED))
    if fuel.approach_gal is not None:
        found.append(Stage("approach", fuel.approach_gal, None, "as typed", TYPED))
    onward = navigation.alternate if navigation else None
    if onward:
        detail = f"as worked from the destination, {onward.time.known:.1f}\u00a0min, no climb counted"
        by = onward.fuel.steps[0].source
        found.append(Stage(f"alternate {onward.leg.to}", onward.fuel.known, onward.time.known, detail, by))
    elif fuel.alternate is not None:
        name, time_s, flow = (
            f"alternate {fuel.alternate.to}",
            fuel.alternate.time_s,
            greatest_flow(fuel, navigation),
        )
        if time_s is None:
            found.append(Stage(name, fuel.alternate.fuel_gal or 0.0, None, "as typed", TYPED))
        else:
            found.append(Stage(name, time_s / 3600 * flow, time_s / 60, _at(time_s / 60, flow), TYPED))
    return tuple(found)


def _on_the_way(navigation: Navigation) -> list[Stage]:
    """Return the climbs that were worked as one stage, and the cruise as another."""
    found = []
    for name, parts in (("climb", navigation.climbed), ("legs", navigation.cruised)):
        if parts:
            minutes = sum(each.time.known for each in parts)
            by = "from the climb table" if name == "climb" else "leg by leg"
            source = parts[0].climb.source if parts[0].climb else parts[0].fuel.steps[-1].source
            gallons = sum(each.fuel.known for each in parts)
            found.append(Stage(name, gallons, minutes, f"as worked {by}, {minutes:.1f}\u00a0min", source))
    return found


def _at(minutes: float, flow_galh: float) -> str:
    return f"{minutes:.4g}\u00a0min at {flow_galh:.4g}\u00a0gal/h"


def ruled_reserve(night: bool | None, by_sun: Figure | None) -> tuple[float, str]:
    """Return the reserve of the rule [min], and why: by the sun, or as typed where that is the stricter.

    Parameters
    ----------
    night : as typed; None where the trip file does not say.
    by_sun : the reserve that the sun makes the rule ask for [min]; None without a takeoff time.

    Source: 14 CFR 91.151(a), with the night of 1.1 (read).
    """
    if by_sun is None:
        minutes = DAY_RESERVE_MIN if night is False else NIGHT_RESERVE_MIN
        return minutes, {True: "at night", False: "by day", None: "as at night: whether it is day is not said"}[
            night
        ]
    said = by_sun.steps[0].detail
    if by_sun.known == NIGHT_RESERVE_MIN:
        return by_sun.known, f"{said}, by the sun" + (": 'night: false' is overruled" if night is False else "")
    if night:
        return NIGHT_RESERVE_MIN, f"at night, as typed, though by the sun: {said}"
    return by_sun.known, f"{said}, by the sun"


def _rule(minutes: float, flow_galh: float, when: str) -> Stage:
    detail = f"{_at(minutes, flow_galh)}, {when}"
    return Stage(f"reserve of the rule, {minutes:g}\u00a0min", minutes / 60 * flow_galh, minutes, detail, RULE)


def by_policy(
    in_the_air: tuple[Stage, ...],
    rule_min: float,
    flow_galh: float,
    policy: Policy,
    since: str = "from takeoff on",
) -> tuple[Stage, ...]:
    """Return what the policy adds: a margin on all that is burnt in the air, and a longer reserve.

    Parameters
    ----------
    in_the_air : the stages that the margin is on; the reserve is none of them.
    rule_min : the rule's reserve [min].
    flow_galh : the greatest fuel flow [gal/h].
    policy : its margin and its reserve.
    since : from where those stages are flown, in words.
    """
    found = []
    if policy.burn_margin:
        burnt = sum(each.fuel_gal for each in in_the_air)
        share = f"{policy.burn_margin:.0%}".replace("%", "\u00a0%")
        detail = f"{share} of {burnt:.2f}\u00a0gal {since}"
        found.append(
            Stage(f"burn margin, {share}", burnt * policy.burn_margin, None, detail, policy.by("burn_margin"))
        )
    longer_min = policy.fuel_reserve_s / 60 - rule_min
    if longer_min > 0:
        name = f"more reserve, to {policy.fuel_reserve_s / 60:g}\u00a0min"
        gallons = longer_min / 60 * flow_galh
        found.append(Stage(name, gallons, longer_min, _at(longer_min, flow_galh), policy.by("fuel_reserve_s")))
    return tuple(found)


def summed(label: str, stages: tuple[Stage, ...]) -> Figure:
    """Return the sum of some stages, a step for each.

    Parameters
    ----------
    label : what the sum is called.
    stages : at least one.
    """
    total = 0.0
    for each in stages:  # in the order of the steps, to the last bit
        total += each.fuel_gal
    return Figure(label, "gal", total, Steps(lambda: tuple(_added(stages))))


def _added(stages: tuple[Stage, ...]) -> Iterator[Step]:
    total: float | None = None
    for each in stages:
        detail = each.detail if total is None else f"+ {each.fuel_gal:.2f}\u00a0gal: {each.detail}"
        before, total = total, (total or 0.0) + each.fuel_gal
        yield Step("fuel", each.name, detail, before, total, "gal", each.source)


def _lasting(found: FuelPlan, flow_galh: float, policy: Policy, least_gal: float) -> FuelPlan:
    """Return a plan with its burns, and how long the fuel on board lasts: at the greatest flow, with the margin."""
    most_galh = flow_galh * (1 + policy.burn_margin)
    air = [each for each in found.stages[1:-1] if not each.name.startswith("alternate")]
    most = sum(each.fuel_gal for each in air) * (1 + policy.burn_margin)
    found = found._replace(
        least_burn=_single("least burn", "gal", least_gal, LEAST),
        most_burn=_single("most burn", "gal", most, "from takeoff to landing, with the policy's margin"),
    )
    if found.have.value is None:
        return found
    on_board, rate = found.have.value, f"at {most_galh:.2f}\u00a0gal/h"
    before, climb_min, taken = _before_cruise(found.stages, policy)
    spare = on_board - found.need.known
    return found._replace(
        past_reserve=_single(
            "time past the rule's reserve", "min", spare / most_galh * 60, f"{spare:.2f}\u00a0gal {rate}"
        ),
        endurance=_single(
            "endurance from takeoff",
            "min",
            (on_board - before) / most_galh * 60 + climb_min,
            f"{on_board - before:.2f}\u00a0gal {rate}, {taken}",
        ),
        down_by=_down_by(found, air, most_galh, policy),
        down_kept_min=max(found.reserve_min, policy.fuel_reserve_s / 60),
    )


def _down_by(found: FuelPlan, air: list[Stage], most_galh: float, policy: Policy) -> Figure:
    """Return by when the wheels must be down [min after takeoff], so that reserve and alternate are still on board.

    What is over the policy need lasts so much longer than the way that was worked. With less than the policy need,
    all that is not kept is burnt at the greatest flow from takeoff on, and the approach besides.
    """
    over = found.have.known - found.policy_need.known
    way_min = sum(each.minutes or 0.0 for each in air)
    label, rate = "wheels down after takeoff by", f"at {most_galh:.2f}\u00a0gal/h"
    if over >= 0:
        detail = f"{way_min:.1f}\u00a0min of the way, then {over:.2f}\u00a0gal over the policy need {rate}"
        return _single(label, "min", way_min + over / most_galh * 60, detail)
    most = sum(each.fuel_gal for each in air) * (1 + policy.burn_margin)
    kept = found.policy_need.known - found.stages[0].fuel_gal - most
    before = found.stages[0].fuel_gal
    before += sum(each.fuel_gal for each in air if each.minutes is None) * (1 + policy.burn_margin)
    left = found.have.known - before - kept
    untimed = f"{before:.2f}\u00a0gal for what has no time"
    detail = f"{left:.2f}\u00a0gal {rate}; {kept:.2f}\u00a0gal kept for reserve and alternate, {untimed}"
    return _single(label, "min", min(left / most_galh * 60, way_min), detail)


def _before_cruise(stages: tuple[Stage, ...], policy: Policy) -> tuple[float, float, str]:
    """Return what is burnt before cruise [gal], how long a climb that was worked takes [min], and words for both.

    A climb that was typed has no time. Either burns the policy's margin too.
    """
    taxi_gal = stages[0].fuel_gal
    climb = next((each for each in stages if each.name == "climb"), None)
    if climb is None or climb.minutes is None:
        climb_gal = climb.fuel_gal * (1 + policy.burn_margin) if climb else 0.0
        return taxi_gal + climb_gal, 0.0, "taxi and climb taken off"
    taken = f"taxi and climb taken off, {climb.minutes:.1f}\u00a0min of climb added"
    return taxi_gal + climb.fuel_gal * (1 + policy.burn_margin), climb.minutes, taken


def _single(label: str, unit: str, value: float, detail: str) -> Figure:
    return stated(label, unit, value, detail, SUM)

"""Landing: as planned, with the flaps up, with partial flaps; the need both ways, the longer governing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from briefgen.calc.atmosphere import true_airspeed
from briefgen.calc.causes import present
from briefgen.calc.distance import Longest, Multiply, Part, Scene, Sum, Workings, square_law, work_chart
from briefgen.calc.speeds import calibrated, find, gust_additive, speed
from briefgen.calc.takeoff import NO_FACTOR, chart_for, factor_for
from briefgen.errors import Refusal
from briefgen.figures import Figure, Operation, Source, Step, missing
from briefgen.handbook.chart import DistanceChart
from briefgen.model.aircraft import UP, Aircraft
from briefgen.model.policy import Factor, Policy, Touchdown
from briefgen.model.weather import Wind

WORKED = Source("worked from the figures above", "standard")
SQUARE_LAW = Source(
    "landing distance goes with the square of the ground speed: PHAK FAA-H-8083-25C ch. 11", "published"
)
NO_ALLOWANCE = "no touchdown figures (aim point and float) in the policy or the trip"


class LandingPlan(NamedTuple):
    """What a landing is worked from, beside the scene: the airplane and how it will be flown."""

    aircraft: Aircraft
    weight_lb: float
    policy: Policy
    touchdown: Touchdown | None
    extra_speed_kt: float = 0.0


class Landing(NamedTuple):
    """One landing case worked. Distances in ft from the landing threshold, speeds in kt indicated.

    `table_speed` is the handbook's approach speed for the case, `approach` the one to fly. `allowance` is where
    the wheels are counted as down.
    """

    name: str
    flaps: str
    chart: DistanceChart | None
    factor: Factor | None
    table_speed: Figure
    approach: Figure
    allowance: Figure
    roll: Figure
    total: Figure
    need: Figure
    policy_need: Figure
    speed_cost_ft: float | None = None


class Case(NamedTuple):
    """One way of landing, set up but not yet worked on any runway: chart, speeds, allowance, factor.

    `by_note`: flaps up, from the chart's flaps-up note. `reason`: why it cannot be worked, '' where it can.
    """

    name: str
    flaps: str
    chart: DistanceChart | None
    factor: Factor
    table_speed: Figure
    approach: Figure
    allowance: Figure
    by_note: bool = False
    reason: str = ""

    @property
    def estimate(self) -> bool:
        """The flaps-up note gives no distance from 50 ft."""
        return self.by_note and self.chart is not None and not self.chart.covers("flaps up", "total")


class Cases(NamedTuple):
    """The landing as planned and the one with the flaps up, set up once and worked on as many runways as wanted.

    `base`: the case from which a flaps-up note starts; as a rule the landing as planned itself.
    """

    planned: Case | None
    base: Case | None
    up: Case
    flaps: str

    def work(self, plan: LandingPlan, scene: Scene, *, keep_steps: bool = True) -> tuple[Landing, Landing]:
        """Return both landings worked on one runway in its air.

        A planned flap setting without a table takes the flaps-up distance and the flaps-up speed together.
        """
        planned = _worked(self.planned, plan, scene, None, keep_steps=keep_steps) if self.planned else None
        base = planned if self.base is self.planned else None
        if self.base and not base:
            base = _worked(self.base, plan, scene, None, keep_steps=keep_steps)
        up = _worked(self.up, plan, scene, base, keep_steps=keep_steps)
        return planned or up._replace(name="as planned", flaps=self.flaps), up

    def work_planned(self, plan: LandingPlan, scene: Scene) -> Landing:
        """Return the landing as planned alone."""
        return _worked(self.planned, plan, scene, None) if self.planned else self.work(plan, scene)[0]


def set_up(plan: LandingPlan, wind: Wind, flaps: str) -> Cases:
    """Set the landing as planned and the flaps-up case up.

    Parameters
    ----------
    plan : the airplane and how it will be flown.
    wind : for what is added to the approach speed.
    flaps : the planned setting.

    Flaps up is taken from the handbook's flaps-up table, else from its flaps-up note: on the planned setting's own
    table, or else on the first table that has one.
    """
    charts = plan.aircraft.landing
    own, up = chart_for(charts, flaps), chart_for(charts, UP)
    noted = own if own and own.note_for("flaps up") else next((c for c in charts if c.note_for("flaps up")), None)
    planned = _case(plan, wind, own, "as planned") if own else None
    if up:
        return Cases(planned, planned, _case(plan, wind, up, "flaps up"), flaps)
    if noted is None:
        none = "the handbook gives neither a flaps-up table nor a flaps-up note"
        return Cases(planned, planned, _case(plan, wind, None, "flaps up", reason=none), flaps)
    base = planned if noted is own else _case(plan, wind, noted, "as planned")
    return Cases(planned, base, _case(plan, wind, noted, "flaps up", by_note=True), flaps)


def partial(plan: LandingPlan, scene: Scene, flaps: str, up: Landing) -> Landing:
    """Work the partial-flap case: from its own table, else exactly as flaps up."""
    chart = chart_for(plan.aircraft.landing, flaps)
    if chart is not None:
        return _worked(_case(plan, scene.conditions.wind, chart, "partial flaps"), plan, scene, None)
    return up._replace(name="partial flaps", flaps=flaps)


def _case(
    plan: LandingPlan,
    wind: Wind,
    chart: DistanceChart | None,
    name: str,
    *,
    by_note: bool = False,
    reason: str = "",
) -> Case:
    flaps = UP if by_note or chart is None else chart.flaps
    if chart is None:
        table_speed = missing("approach", "kt", reason)
        factor = NO_FACTOR
    else:
        table_speed = _table_speed(plan, chart, by_note)
        factor = factor_for(chart, plan.policy.landing_factor)
    approach = _flown(table_speed, gust_additive(wind, plan.policy), plan.extra_speed_kt)
    allowance = _allowance(plan.touchdown, flaps)
    return Case(name, flaps, chart, factor, table_speed, approach, allowance, by_note, reason or allowance.reason)


def _worked(
    case: Case, plan: LandingPlan, scene: Scene, base: Landing | None, *, keep_steps: bool = True
) -> Landing:
    """Work one case on one runway; `base` is the landing that a flaps-up case is never shorter than."""
    reason = case.reason
    if base is not None and not reason and (why := base.need.reason or base.total.reason):
        reason = f"the landing as planned is not worked: {why}"
    chart = case.chart
    if reason or chart is None:
        return _not_worked(case, reason)
    try:
        ratio = _speed_ratio(case, chart, plan, scene)
    except Refusal as refusal:
        return _not_worked(case, refusal.reason)
    causes = present(
        along_kt=scene.wind.along_kt,
        slope=scene.have.slope,
        surface=scene.surface,
        conditions=scene.conditions,
        pressure_altitude_ft=scene.pressure_altitude_ft,
        at_standard=chart.at_standard,
    )
    if case.by_note:
        causes["flaps up"] = 1.0
    true_kt = _true(plan, scene, case.flaps, case.table_speed.value)
    inputs = {
        "pressure_altitude_ft": scene.pressure_altitude_ft,
        "temperature_degC": scene.conditions.temperature_degC,
        "weight_lb": plan.weight_lb,
        "headwind_bound": square_law(scene.wind.headwind_kt, true_kt),
        "speed ratio": ratio,
        "allowance": case.allowance.known,
        "factor": case.factor.value,
        **_planned_inputs(base),
    }
    worked = work_chart(
        chart,
        causes,
        plan.policy.landing_guidance,
        inputs,
        _tail(case, ratio, planned_too=base is not None, said=keep_steps),
        pro_rata=plan.policy.pro_rata_credit,
        keep_steps=keep_steps,
        estimated="flaps up" if case.estimate else "",
    )
    return _landing(case, worked, ratio)


def _landing(case: Case, worked: Workings, ratio: float) -> Landing:
    name, estimate = case.name, case.estimate
    roll = worked.figure("roll", f"landing ground roll, {name}")
    if estimate:
        total = missing(
            f"landing from 50 ft, {name}", "ft", "the handbook's flaps-up note gives no distance from 50 ft"
        )
    else:
        total = worked.figure("total", f"landing from 50 ft, {name}")
    return Landing(
        name=name,
        flaps=case.flaps,
        chart=case.chart,
        factor=case.factor,
        table_speed=case.table_speed,
        approach=case.approach,
        allowance=case.allowance,
        roll=roll,
        total=total,
        need=worked.figure("need", f"landing, {name}", estimate=estimate),
        policy_need=worked.figure("policy need", f"landing, {name}, under policy", estimate=estimate),
        speed_cost_ft=None if roll.value is None else roll.value * (1 - 1 / ratio),
    )


def _tail(case: Case, ratio: float, *, planned_too: bool, said: bool) -> list[Operation]:
    """Return what follows the corrections: the speed flown, then the need both ways, plain and under policy."""
    tail: list[Operation] = []
    if ratio != 1:
        flown, table = case.approach.known, case.table_speed.known
        detail = ""
        if said:
            detail = (
                f"× {ratio:.3f}: {flown:,.1f} kt flown, {table:,.1f} kt in the table, as ground speeds, squared"
            )
        label = "approach speed above the table's"
        tail += [Multiply(name, "speed ratio", label, detail, SQUARE_LAW) for name in ("roll", "total")]
    tail += _need("", "", WORKED, case.estimate, planned_too)
    tail += _need("policy ", "factor", case.factor.source, case.estimate, planned_too)
    return tail


@cache
def _need(prefix: str, by: str, source: Source, estimate: bool, planned_too: bool) -> tuple[Operation, ...]:
    """Return the operations that end in 'need' or, multiplying handbook feet by the factor, in 'policy need'."""
    down, air, over, words = (
        f"{prefix}down and roll",
        f"{prefix}air and roll",
        f"{prefix}from 50 ft",
        "allowance + ground roll",
    )
    factored = ", with the safety factor" if by else ""
    operations: list[Operation] = [Sum(down, (Part("allowance"), Part("roll", by)), words + factored, source)]
    among = [(down, words)]
    if estimate:
        parts = (Part("planned total", by), Part("planned roll", by, -1), Part("roll", by))
        operations += [
            Sum(air, parts, f"estimate: planned air distance + flaps-up roll{factored}", source),
            Sum(over, (Part("planned total", by),), f"planned distance from 50 ft{factored}", source),
        ]
        among += [(air, "planned air distance + roll"), (over, "planned distance from 50 ft")]
    else:
        operations.append(Sum(over, (Part("total", by),), f"distance from 50 ft{factored}", source))
        among.append((over, "distance from 50 ft"))
    if planned_too:
        among.append((f"planned {prefix}need", "the landing as planned"))
    return (*operations, Longest(f"{prefix}need", tuple(among), "the longest governs", WORKED))


def _planned_inputs(base: Landing | None) -> Mapping[str, float]:
    """Return what the flaps-up case reads from the landing as planned [ft]."""
    if base is None:
        return {}
    return {
        "planned total": base.total.known,
        "planned roll": base.roll.known,
        "planned need": base.need.known,
        "planned policy need": base.policy_need.known,
    }


def _table_speed(plan: LandingPlan, chart: DistanceChart, by_note: bool) -> Figure:
    """Return the approach speed that the distance stands for [kt]."""
    if not by_note:
        return speed(find(plan.aircraft.approach, chart.flaps), f"approach, flaps {chart.flaps}", plan.weight_lb)
    printed = find(plan.aircraft.approach, UP)
    if printed:
        return speed(printed, "approach, flaps up", plan.weight_lb)
    with_flaps = speed(find(plan.aircraft.approach, chart.flaps), f"approach, flaps {chart.flaps}", plan.weight_lb)
    note = chart.note_for("flaps up")
    if with_flaps.value is None or note is None or not note.extra_speed_kt:
        return missing("approach, flaps up", "kt", "the handbook gives no approach speed for flaps up")
    value = with_flaps.value + note.extra_speed_kt
    step = Step(
        "approach, flaps up",
        "flaps up",
        f"+{note.extra_speed_kt:g} kt",
        with_flaps.value,
        value,
        "kt",
        note.source,
    )
    return Figure("approach, flaps up", "kt", value, (*with_flaps.steps, step))


def _flown(table: Figure, additive: Figure, extra_kt: float) -> Figure:
    """Return the approach speed to fly [kt]: the table's, plus gusts, plus the pilot's own."""
    if table.value is None:
        return table
    value, steps = table.value, list(table.steps)
    for kt, label, source in (
        (additive.known, f"gusts: {additive.steps[0].detail}", additive.steps[0].source),
        (extra_kt, "pilot's choice", Source("trip file", "pilot")),
    ):
        if kt:
            steps.append(Step(table.label, label, f"+{kt:g} kt", value, value + kt, "kt", source))
            value += kt
    return Figure(table.label, "kt", value, tuple(steps))


def _true(plan: LandingPlan, scene: Scene, flaps: str, indicated_kt: float | None) -> float | None:
    if indicated_kt is None:
        return None
    return true_airspeed(calibrated(plan.aircraft, flaps, indicated_kt), scene.density_ratio)


def _speed_ratio(case: Case, chart: DistanceChart, plan: LandingPlan, scene: Scene) -> float:
    """Return (flown / table ground speed) squared, 1 where nothing is added.

    A headwind counts in the ground speed as far as the handbook's note credits it, no further: so more headwind
    never makes a landing longer, and the result is never under what physics gives.

    Raises
    ------
    Refusal : speed is added to one that is not known, or the headwind is as fast as the airplane.
    """
    table, flown = case.table_speed.value, case.approach.value
    if table is None or flown is None:
        if gust_additive(scene.conditions.wind, plan.policy).known + plan.extra_speed_kt:
            raise Refusal(
                f"no approach speed for flaps {case.flaps}, so what the added speed costs cannot be worked"
            )
        return 1.0
    if flown == table:
        return 1.0
    along = scene.wind.along_kt
    if along > 0:
        note = chart.note_for("headwind")
        along = note.counted(along, whole_steps=not plan.policy.pro_rata_credit) if note else 0.0
    fast, slow = (_true(plan, scene, case.flaps, each) or 0.0 for each in (flown, table))
    if along >= slow:
        raise Refusal("the headwind is as fast as the approach")
    return ((fast - along) / (slow - along)) ** 2


def _allowance(touchdown: Touchdown | None, flaps: str) -> Figure:
    label = "touchdown allowance"
    if touchdown is None:
        return missing(label, "ft", NO_ALLOWANCE)
    float_ft = touchdown.flaps_up_float_ft if flaps == UP else touchdown.float_ft
    value = touchdown.aim_ft + float_ft
    detail = f"aim point {touchdown.aim_ft:,.0f} + flare and float {float_ft:,.0f}"
    return Figure(label, "ft", value, (Step(label, label, detail, None, value, "ft", touchdown.source),))


def _not_worked(case: Case, reason: str) -> Landing:
    distance = missing(f"landing, {case.name}", "ft", reason)
    return Landing(
        name=case.name,
        flaps=case.flaps,
        chart=None,
        factor=None,
        table_speed=case.table_speed,
        approach=case.approach,
        allowance=case.allowance,
        roll=distance,
        total=distance,
        need=distance,
        policy_need=distance,
    )

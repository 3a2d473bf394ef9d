"""Landing: as planned, with the flaps up, with partial flaps; the need both ways, the longer governing."""

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from briefgen.calc.atmosphere import true_airspeed
from briefgen.calc.distance import (
    Longest,
    NoAir,
    Part,
    Scene,
    Sum,
    Workings,
    axes_there,
    causes_there,
    roll_taken_up,
    square_law,
    work_chart,
)
from briefgen.calc.landing_setup import Case, LandingPlan, case_of
from briefgen.calc.takeoff import chart_for
from briefgen.figures import Figure, Inputs, Operation, Source, Step, missing
from briefgen.handbook.charts import Chart
from briefgen.model.aircraft import UP
from briefgen.model.policy import Factor
from briefgen.model.weather import NotGiven, Wind

WORKED = Source("worked from the figures above", "standard")
SQUARE_LAW = Source(
    "landing distance goes with the square of the ground speed: PHAK FAA-H-8083-25C ch. 11", "published"
)


class Faster(NamedTuple):
    """Lengthen a distance for an approach speed above the table's."""

    quantity: str
    needs: tuple[str, ...] = ()

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the distance [ft] times (flown / table ground speed) squared."""
        return values[self.quantity] * inputs["speed ratio"]

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed."""
        flown, table = inputs["flown_kt"], inputs["table_kt"]
        speeds = f"{flown:,.1f} kt over the ground flown, {table:,.1f} kt in the table"
        detail = f"× {inputs['speed ratio']:.3f}: {speeds}, squared"
        label = "approach speed above the table's"
        return Step(self.quantity, label, detail, values[self.quantity], after, "ft", SQUARE_LAW)


class Landing(NamedTuple):
    """One landing case worked. Distances in ft from the landing threshold, speeds in kt indicated.

    `table_speed` is the handbook's approach speed for the case, `approach` the one to fly. `allowance` is where
    the wheels are counted as down, `edges` the axes of the table whose outermost figure was used.
    """

    name: str
    flaps: str
    chart: Chart | None
    factor: Factor | None
    table_speed: Figure
    approach: Figure
    allowance: Figure
    roll: Figure
    total: Figure
    need: Figure
    policy_need: Figure
    speed_cost_ft: float | None = None
    edges: tuple[str, ...] = ()
    checked_cell: bool = False  # a cell that looks wrong was used because somebody checked it
    roll_taken_up_ft: float = 0.0  # by which the roll may be shorter, for how well a graph can be read


class Cases(NamedTuple):
    """The landing as planned and the one with the flaps up, set up once and worked on as many runways as wanted.

    `base`: the landing that the flaps-up case is never shorter than: the one as planned, or where that has no table
    of its own, the one whose flaps-up note is used.
    """

    planned: Case | None
    base: Case | None
    up: Case
    flaps: str

    def work(self, plan: LandingPlan, scene: Scene | NoAir, *, keep_steps: bool = True) -> tuple[Landing, Landing]:
        """Return both landings worked on one runway in its air.

        A planned flap setting without a table takes the flaps-up distance and the flaps-up speed together.
        """
        planned = _worked(self.planned, plan, scene, None, keep_steps=keep_steps) if self.planned else None
        base = planned if self.base is self.planned else None
        if self.base and not base:
            base = _worked(self.base, plan, scene, None, keep_steps=keep_steps)
        up = _worked(self.up, plan, scene, base, keep_steps=keep_steps)
        return planned or up._replace(name="as planned", flaps=self.flaps), up

    def work_planned(self, plan: LandingPlan, scene: Scene | NoAir, *, keep_steps: bool = True) -> Landing:
        """Return the landing as planned alone."""
        if self.planned is None:
            return self.work(plan, scene, keep_steps=keep_steps)[0]
        return _worked(self.planned, plan, scene, None, keep_steps=keep_steps)


def set_up(plan: LandingPlan, wind: Wind | NotGiven, flaps: str) -> Cases:
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
    planned = case_of(plan, wind, own, "as planned") if own else None
    if up:
        return Cases(planned, planned, case_of(plan, wind, up, "flaps up"), flaps)
    if noted is None:
        none = "the handbook gives neither a flaps-up table nor a flaps-up note"
        return Cases(planned, planned, case_of(plan, wind, None, "flaps up", reason=none), flaps)
    base = planned or case_of(plan, wind, noted, "as planned")
    return Cases(planned, base, case_of(plan, wind, noted, "flaps up", by_note=True), flaps)


def partial(plan: LandingPlan, scene: Scene | NoAir, flaps: str, up: Landing) -> Landing:
    """Work the partial-flap case: from its own table, else exactly as flaps up."""
    chart = chart_for(plan.aircraft.landing, flaps)
    if chart is not None:
        return _worked(case_of(plan, scene.conditions.wind, chart, "partial flaps"), plan, scene, None)
    return up._replace(name="partial flaps", flaps=flaps)


def _worked(
    case: Case, plan: LandingPlan, scene: Scene | NoAir, base: Landing | None, *, keep_steps: bool = True
) -> Landing:
    """Work one case on one runway; `base` is the landing that a flaps-up case is never shorter than."""
    if isinstance(scene, NoAir):
        return _not_worked(case, scene.reason)
    reason = case.reason
    if base is not None and not reason and (why := base.need.reason or base.total.reason):
        reason = f"the landing as planned is not worked: {why}"
    chart = case.chart
    if reason or chart is None:
        return _not_worked(case, reason)
    flown_kt, over_ground_kt = _ground_speeds(case, chart, scene, whole_steps=not plan.policy.pro_rata_credit)
    faster = flown_kt != over_ground_kt
    if faster and over_ground_kt <= 0:
        return _not_worked(case, "the headwind is as fast as the approach")
    ratio = (flown_kt / over_ground_kt) ** 2 if faster else 1.0
    causes = causes_there(scene, chart)
    if case.by_note:
        causes["flaps up"] = 1.0
    table_kt = case.table_calibrated_kt
    true_kt = None if table_kt is None else true_airspeed(table_kt, scene.density_ratio)
    inputs = {
        **axes_there(scene, chart, pro_rata=plan.policy.pro_rata_credit),
        "weight_lb": plan.weight_lb,
        "headwind_bound": square_law(scene.wind.headwind_kt, true_kt),
        "speed ratio": ratio,
        "flown_kt": flown_kt,
        "table_kt": over_ground_kt,
        "allowance": case.allowance.known,
        "factor": case.factor.value,
        **_planned_inputs(base),
    }
    worked = work_chart(
        chart,
        causes,
        plan.policy.landing_guidance,
        inputs,
        _tail(case.factor.source, faster=faster, estimate=case.estimate, planned_too=base is not None),
        pro_rata=plan.policy.pro_rata_credit,
        nearest_worse=plan.policy.nearest_worse,
        keep_steps=keep_steps,
        estimated="flaps up" if case.estimate else "",
    )
    found = _landing(case, worked, ratio, chart.edges(inputs), vouched=chart.vouched(inputs))
    up_ft = roll_taken_up(chart, worked, inputs, causes, pro_rata=plan.policy.pro_rata_credit)
    return found._replace(roll_taken_up_ft=up_ft) if up_ft else found


def _landing(case: Case, worked: Workings, ratio: float, edges: tuple[str, ...], *, vouched: bool) -> Landing:
    name, estimate = case.name, case.estimate
    roll = worked.figure("roll", f"landing ground roll, {name}")
    need = worked.figure("need", f"landing, {name}", estimate=estimate)
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
        need=need,
        policy_need=worked.figure("policy need", f"landing, {name}, under policy", estimate=estimate),
        speed_cost_ft=_speed_cost(need, roll, total, case.allowance, ratio),
        edges=edges,
        checked_cell=vouched,
    )


def _speed_cost(need: Figure, roll: Figure, total: Figure, allowance: Figure, ratio: float) -> float | None:
    """Return by how much the speed above the table's lengthens a need [ft]; None where that is not known."""
    if need.value is None or roll.value is None or total.value is None:
        return None
    at_table_speed = max(total.value / ratio, allowance.known + roll.value / ratio)
    return max(need.value - at_table_speed, 0.0)


@cache
def _tail(source: Source, *, faster: bool, estimate: bool, planned_too: bool) -> tuple[Operation, ...]:
    """Return what follows the corrections: the speed flown, then the need both ways, plain and under policy."""
    speed = (Faster("roll"), Faster("total")) if faster else ()
    return (
        *speed,
        *_need("", "", WORKED, estimate, planned_too),
        *_need("policy ", "factor", source, estimate, planned_too),
    )


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
        "planned roll": base.roll.known - base.roll_taken_up_ft,
        "planned need": base.need.known,
        "planned policy need": base.policy_need.known,
    }


def _ground_speeds(case: Case, chart: Chart, scene: Scene, *, whole_steps: bool) -> tuple[float, float]:
    """Return the ground speeds [kt] of the approach as flown and as in the table; equal where nothing is added.

    True airspeeds. A headwind counts as far as the handbook credits it, no further: a headwind that gives no credit
    costs nothing either, and the result is never under what physics gives.
    """
    table_kt, flown_kt = case.table_calibrated_kt, case.flown_calibrated_kt
    if table_kt is None or flown_kt is None:
        return 1.0, 1.0
    along = scene.counted_kt
    if along > 0:
        along = chart.credited("headwind", along, whole_steps=whole_steps)
    flown, table = (true_airspeed(kt, scene.density_ratio) - along for kt in (flown_kt, table_kt))
    return flown, table


def forbidden(landing: Landing, reason: str) -> Landing:
    """Return a landing that must not be counted on, for a reason that its row will give."""
    none = missing(landing.need.label, "ft", reason)
    return landing._replace(roll=none, total=none, need=none, policy_need=none, speed_cost_ft=None)


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

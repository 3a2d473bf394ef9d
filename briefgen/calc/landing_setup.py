"""Set a landing up, before any runway: the chart it is worked from, the speeds, the touchdown allowance."""

from typing import NamedTuple

from briefgen.calc.speeds import calibrated, find, gust_additive, speed
from briefgen.calc.takeoff import NO_FACTOR, factor_for
from briefgen.figures import Figure, Source, Step, missing, stated
from briefgen.handbook.charts import Chart
from briefgen.model.aircraft import UP, Aircraft
from briefgen.model.policy import Factor, Policy, Touchdown
from briefgen.model.weather import NotGiven, Wind

NO_ALLOWANCE = "no touchdown figures (aim point and float) in the policy or the trip"


class LandingPlan(NamedTuple):
    """What a landing is worked from, beside the scene: the airplane and how it will be flown."""

    aircraft: Aircraft
    weight_lb: float
    policy: Policy
    touchdown: Touchdown | None
    extra_speed_kt: float = 0.0


class Case(NamedTuple):
    """One way of landing, set up but not yet worked on any runway: chart, speeds, allowance, factor.

    `by_note`: flaps up, from the chart's flaps-up note. `reason`: why it cannot be worked, '' where it can.
    """

    name: str
    flaps: str
    chart: Chart | None
    factor: Factor
    table_speed: Figure
    approach: Figure
    allowance: Figure
    table_calibrated_kt: float | None
    flown_calibrated_kt: float | None
    by_note: bool = False
    reason: str = ""

    @property
    def estimate(self) -> bool:
        """The flaps-up note gives no distance from 50 ft."""
        return self.by_note and self.chart is not None and not self.chart.covers("flaps up", "total")


def case_of(
    plan: LandingPlan,
    wind: Wind | NotGiven,
    chart: Chart | None,
    name: str,
    *,
    by_note: bool = False,
    reason: str = "",
) -> Case:
    """Return one way of landing, set up.

    Parameters
    ----------
    plan : the airplane and how it will be flown.
    wind : for what is added to the approach speed.
    chart : what the distances come from; None with a reason where there is nothing.
    name : 'as planned', 'flaps up' or 'partial flaps'.
    by_note : flaps up, from the chart's flaps-up note.
    reason : why it cannot be worked, where that is known already.
    """
    flaps = UP if by_note or chart is None else chart.flaps
    if chart is None:
        table_speed = missing("approach", "kt", reason)
        factor = NO_FACTOR
    else:
        table_speed = _table_speed(plan, chart, by_note)
        factor = factor_for(chart, plan.policy.landing_factor)
    gusts = gust_additive(wind, plan.policy)
    approach = _flown(table_speed, gusts, plan.extra_speed_kt)
    allowance = _allowance(plan.touchdown, flaps)
    known = [each.value for each in (table_speed, approach)]
    table_kt, flown_kt = (None if kt is None else calibrated(plan.aircraft, flaps, kt) for kt in known)
    reason = gusts.reason or reason
    if not reason and table_kt is None and gusts.known + plan.extra_speed_kt:
        reason = f"no approach speed for flaps {flaps}, so what the added speed costs cannot be worked"
    reason = reason or allowance.reason
    return Case(name, flaps, chart, factor, table_speed, approach, allowance, table_kt, flown_kt, by_note, reason)


def _table_speed(plan: LandingPlan, chart: Chart, by_note: bool) -> Figure:
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
    if additive.value is None:
        return table._replace(value=None, reason=f"what gusts add is not known: {additive.reason}")
    value, steps = table.value, list(table.steps)
    for kt, label, source in (
        (additive.known, f"gusts: {additive.steps[0].detail}", additive.steps[0].source),
        (extra_kt, "pilot's choice", Source("trip file", "pilot")),
    ):
        if kt:
            steps.append(Step(table.label, label, f"+{kt:g} kt", value, value + kt, "kt", source))
            value += kt
    return Figure(table.label, "kt", value, tuple(steps))


def _allowance(touchdown: Touchdown | None, flaps: str) -> Figure:
    label = "touchdown allowance"
    if touchdown is None:
        return missing(label, "ft", NO_ALLOWANCE)
    float_ft = touchdown.flaps_up_float_ft if flaps == UP else touchdown.float_ft
    value = touchdown.aim_ft + float_ft
    detail = f"aim point {touchdown.aim_ft:,.0f} + flare and float {float_ft:,.0f}"
    return stated(label, "ft", value, detail, touchdown.source)

"""Takeoff: ground roll and distance over 50 ft, as the handbook says, and under the policy's factor."""

from typing import NamedTuple

from briefgen.calc.atmosphere import true_airspeed
from briefgen.calc.distance import (
    NoAir,
    Part,
    Scene,
    Sum,
    axes_there,
    causes_there,
    roll_taken_up,
    square_law,
    work_chart,
)
from briefgen.calc.speeds import calibrated, find, speed
from briefgen.figures import Figure, Source, missing
from briefgen.handbook.charts import Chart
from briefgen.model.aircraft import Aircraft
from briefgen.model.policy import Factor, Policy

NO_FACTOR = Factor(1.0, Source("no factor: no policy loaded, or none in it", "policy"))
FACTORED = Factor(1.0, Source("no further factor: the table is already factored", "handbook"))

NO_TABLE = "the aircraft file has no takeoff table for flaps {}"


class Takeoff(NamedTuple):
    """One takeoff worked. Distances in ft from the start of the takeoff run, speeds in kt indicated."""

    flaps: str
    weight_lb: float
    chart: Chart | None
    liftoff: Figure
    at_50_ft: Figure
    roll: Figure
    total: Figure
    policy_roll: Figure
    policy_total: Figure
    factor: Factor
    edges: tuple[str, ...] = ()  # axes of the table whose outermost figure was used
    liftoff_true_kt: float | None = None
    checked_cell: bool = False  # a cell that looks wrong was used because somebody checked it
    roll_taken_up_ft: float = 0.0  # by which the roll may be shorter, for how well a graph can be read


def chart_for(charts: tuple[Chart, ...], flaps: str) -> Chart | None:
    """Return the chart printed for a flap setting."""
    return next((chart for chart in charts if chart.flaps == flaps), None)


def factor_for(chart: Chart, factor: Factor | None) -> Factor:
    """Return the safety factor to apply: a table that is already factored is never factored twice.

    Where its own factor is known and the policy's is larger, what is left of the policy's is applied.
    """
    table = chart.conditions
    if not table.factored:
        return factor or NO_FACTOR
    if factor is None or table.factor_inside is None or factor.value <= table.factor_inside:
        return FACTORED
    text = f"{factor.value:g} by {factor.source.text}, of which {table.factor_inside:g} is in the table already"
    return Factor(factor.value / table.factor_inside, factor.source._replace(text=text))


def takeoff(
    aircraft: Aircraft,
    scene: Scene | NoAir,
    flaps: str,
    weight_lb: float,
    policy: Policy,
    *,
    keep_steps: bool = True,
) -> Takeoff:
    """Work a takeoff.

    Parameters
    ----------
    aircraft : its takeoff charts; nothing stands in for a flap setting without one.
    scene : the departure runway in its air.
    flaps : the planned setting.
    weight_lb : takeoff weight [lb].
    policy : the factor, the guidance, and how wind credit is counted.
    keep_steps : leave the working out where only values are wanted.
    """
    liftoff = speed(find(aircraft.liftoff, flaps), "liftoff", weight_lb)
    at_50_ft = speed(find(aircraft.at_50_ft, flaps), "speed at 50 ft", weight_lb)
    chart = chart_for(aircraft.takeoff, flaps)
    if chart is None or isinstance(scene, NoAir):
        none = missing("takeoff", "ft", scene.reason if isinstance(scene, NoAir) else NO_TABLE.format(flaps))
        return Takeoff(flaps, weight_lb, None, liftoff, at_50_ft, none, none, none, none, NO_FACTOR)
    true_kt = _true_kt(aircraft, scene, liftoff, flaps)
    factor, pro_rata = factor_for(chart, policy.takeoff_factor), policy.pro_rata_credit
    inputs = {
        **axes_there(scene, chart, pro_rata=pro_rata),
        "weight_lb": weight_lb,
        "headwind_bound": square_law(scene.wind.headwind_kt, true_kt),
        "factor": factor.value,
    }
    causes, guidance = causes_there(scene, chart), policy.takeoff_guidance
    tail, worse = _under_policy(factor.source), policy.nearest_worse
    worked = work_chart(
        *(chart, causes, guidance, inputs, tail), pro_rata=pro_rata, nearest_worse=worse, keep_steps=keep_steps
    )
    return Takeoff(
        flaps=flaps,
        weight_lb=weight_lb,
        chart=chart,
        liftoff=liftoff,
        at_50_ft=at_50_ft,
        roll=worked.figure("roll", "takeoff ground roll"),
        total=worked.figure("total", "takeoff over 50 ft"),
        policy_roll=worked.figure("policy roll", "takeoff ground roll under policy"),
        policy_total=worked.figure("policy total", "takeoff over 50 ft under policy"),
        factor=factor,
        edges=chart.edges(inputs),
        liftoff_true_kt=true_kt,
        checked_cell=chart.vouched(inputs),
        roll_taken_up_ft=roll_taken_up(chart, worked, inputs, causes, pro_rata=pro_rata),
    )


def _true_kt(aircraft: Aircraft, scene: Scene, liftoff: Figure, flaps: str) -> float | None:
    """Return the true airspeed at liftoff [kt], None where the speed is not known."""
    if liftoff.value is None:
        return None
    return true_airspeed(calibrated(aircraft, flaps, liftoff.value), scene.density_ratio)


def _under_policy(source: Source) -> tuple[Sum, ...]:
    """Return what follows the corrections: each distance under the policy's factor, applied last."""
    return tuple(
        Sum(f"policy {quantity}", (Part(quantity, "factor"),), "safety factor", source)
        for quantity in ("roll", "total")
    )

"""Decision points: by where the wheels must be down, and by where the takeoff must be given up."""

from collections.abc import Iterable
from math import sqrt
from typing import NamedTuple

from briefgen.calc.climb_out import NO_FIGURES, Climb, said
from briefgen.calc.distance import NoAir, Scene
from briefgen.calc.landing import Landing
from briefgen.calc.runway import Seen
from briefgen.calc.takeoff import Takeoff
from briefgen.figures import Figure, Source, Step, missing
from briefgen.model.policy import Braking, Policy, Touchdown
from briefgen.model.strip import Obstacle
from briefgen.units import G_FT_PER_S2, KT_TO_FT_PER_S

HALF_WAY = 0.71  # 1/sqrt(2) rounded up: at constant acceleration, the speed half-way along
HALF_WAY_SOURCE = Source("70 % of liftoff speed half-way: AIM, runway half-way signs", "published", "second-hand")
LATEST, LAST_STOP, SPEED_THERE = "latest liftoff", "last stopping point", "speed to see there"
TOO_FAR = "none: the planned touchdown is already too far"


class GoAround(NamedTuple):
    """The last touchdown [ft from the landing threshold] that still leaves the policy need.

    `mark`: the last one that can be seen between the aim point and there. `window_ft`: from the aim point to the
    point the pilot will use, which is the mark where there is one. `climb_out`: what is known of
    the climb after it, in words; `climb`: the same in figures, None where none is to be counted on.
    `limit_ft`: the last touchdown, whether or not the one planned comes before it.
    """

    point: Figure
    mark: Seen | None
    window_ft: float | None
    zone_ft: float | None
    climb_out: str
    limit_ft: float | None = None
    climb: Climb | None = None


def go_around(
    landing: Landing,
    scene: Scene | NoAir,
    policy: Policy,
    touchdown: Touchdown | None,
    seen: Iterable[Seen],
    climbs: bool,
    *,
    after: Climb | None = None,
    beyond: tuple[Obstacle, ...] = (),
) -> GoAround:
    """Work the go-around point of one landing case.

    Parameters
    ----------
    landing : the case, worked.
    scene : the runway; its LDA may be missing.
    policy : the factor on the ground roll, and the last-touchdown share of LDA.
    touchdown : the pilot's aim point and zone [ft], None where not given.
    seen : the marks met on this landing, nearest first.
    climbs : False where the strip says that a landing cannot be broken off.
    after : the climb after it, in the flaps of this case.
    beyond : what stands past the far end. No handbook gives the path of a go-around: it is named, not worked.
    """
    climb_out, climb = "none: the strip says so", after if climbs else None
    if climbs:
        climb_out = said(after) if after else f"not shown: {NO_FIGURES}"
        tops = ", ".join(f"{each.what}, {each.height_ft:,.0f}\u00a0ft" for each in beyond)
        climb_out += f"; past the end, not worked: {tops}" if tops else ""
    point = _last_touchdown(landing, scene, policy)
    zone_ft = touchdown.zone_ft if touchdown else None
    limit_ft = min((step.after for step in point.steps), default=None)
    if point.value is None or touchdown is None:
        return GoAround(point, None, None, zone_ft, climb_out, limit_ft, climb)
    limit, aim_ft = point.value, scene.have.begins_ft + touchdown.aim_ft
    marks = [mark for mark in seen if aim_ft <= mark.from_threshold_ft <= limit]
    mark = max(marks, key=lambda each: each.from_threshold_ft, default=None)
    used = mark.from_threshold_ft if mark else limit
    return GoAround(point, mark, used - aim_ft, zone_ft, climb_out, limit_ft, climb)


def _last_touchdown(landing: Landing, scene: Scene | NoAir, policy: Policy) -> Figure:
    label, lda = f"go-around point, {landing.name}", scene.have.lda
    for figure in (lda, landing.roll, landing.allowance):
        if figure.value is None:
            return missing(label, "ft", figure.reason, figure.about)
    assert landing.factor is not None
    factor = landing.factor
    begins_ft = scene.have.begins_ft  # an approach obstacle moves the whole landing up the runway
    leaves_roll = begins_ft + lda.known - factor.value * landing.roll.known
    share = policy.last_touchdown_share * lda.known
    value = min(leaves_roll, share)
    steps = (
        Step(
            label,
            "leaves the ground roll",
            (f"50-ft point {begins_ft:,.1f} past the threshold + " if begins_ft else "")
            + f"LDA {lda.known:,.1f} − {factor.value:g} × roll {landing.roll.known:,.1f}",
            None,
            leaves_roll,
            "ft",
            factor.source,
        ),
        Step(
            label,
            "last-touchdown share",
            f"{policy.last_touchdown_share:.3f} × LDA {lda.known:,.1f}",
            None,
            share,
            "ft",
            policy.last_touchdown_source,
        ),
    )
    if value < begins_ft + landing.allowance.known:
        return Figure(label, "ft", None, steps, TOO_FAR)
    return Figure(label, "ft", value, (*steps, Step(label, "the lesser", "", None, value, "ft", factor.source)))


class Abort(NamedTuple):
    """The point [ft from the start] by which a stated speed [kt indicated] must show, else stop.

    Half of `latest_liftoff` and `stopping` are the two it was chosen from. An estimate, with its assumptions.
    """

    point: Figure
    speed: Figure
    mark: Seen | None
    latest_liftoff: Figure
    stopping: Figure
    assumptions: tuple[str, ...]


def abort(takeoff: Takeoff, scene: Scene | NoAir, policy: Policy, seen: Iterable[Seen]) -> Abort:
    """Work the abort point: half of the latest liftoff, or the last point to stop from, whichever is earlier.

    Parameters
    ----------
    takeoff : worked.
    scene : the runway, its wind and its surface.
    policy : the reaction time and the braking figure.
    seen : the marks met on this takeoff, nearest first.
    """
    label = "abort point"
    if isinstance(scene, NoAir):
        none = missing(label, "ft", scene.reason)
        latest, stopping = (none._replace(label=each) for each in (LATEST, LAST_STOP))
        return Abort(none, missing(SPEED_THERE, "kt", scene.reason), None, latest, stopping, ())
    latest = _latest_liftoff(takeoff, scene)
    stopping, stopping_speed = _last_stop(takeoff, scene, policy)
    lacking = next((figure for figure in (latest, takeoff.liftoff) if figure.value is None), None)
    if lacking is not None:
        none = missing(label, "ft", lacking.reason, lacking.about)
        return Abort(none, missing(SPEED_THERE, "kt", lacking.reason), None, latest, stopping, ())
    half = latest.known / 2
    half_step = Step(
        label, "half of the latest liftoff", f"{latest.known:,.1f} ÷ 2", None, half, "ft", HALF_WAY_SOURCE
    )
    point = Figure(label, "ft", half, (*latest.steps, half_step), estimate=True)
    seen_speed = _half_way_speed(takeoff.liftoff.known, scene.wind.headwind_kt)
    assumptions = ["constant acceleration", "liftoff speed and climb to 50 ft as worked"]
    if stopping.value is not None:
        assumptions += [
            "acceleration as worked",
            f"{policy.reaction_s:g} s before braking",
            "steady braking as stated",
        ]
        if stopping.value < half:
            point, seen_speed = Figure(label, "ft", stopping.value, stopping.steps, estimate=True), stopping_speed
    else:
        assumptions.append(f"stopping distance not shown: {stopping.reason}")
    passed = [mark for mark in seen if mark.from_start_ft <= point.known]
    mark = max(passed, key=lambda each: each.from_start_ft, default=None)
    return Abort(point, seen_speed, mark, latest, stopping, tuple(assumptions))


def _latest_liftoff(takeoff: Takeoff, scene: Scene) -> Figure:
    label, tora = LATEST, scene.have.tora
    for figure in (takeoff.roll, takeoff.total):
        if figure.value is None:
            return missing(label, "ft", figure.reason, figure.about)
    roll_ft = takeoff.roll.known - takeoff.roll_taken_up_ft
    value = tora.known - (takeoff.total.known - roll_ft)
    detail = f"TORA {tora.known:,.1f} − air distance to 50 ft ({takeoff.total.known:,.1f} − {roll_ft:,.1f})"
    detail += ", the roll at its shortest reading" if takeoff.roll_taken_up_ft else ""
    step = Step(label, label, detail, None, value, "ft", Source("worked from the figures above", "standard"))
    if value <= 0:
        return Figure(label, "ft", None, (step,), "none: the climb to 50 ft alone is longer than TORA")
    return Figure(label, "ft", value, (step,))


def _half_way_speed(liftoff_kt: float, headwind_kt: float) -> Figure:
    """Return the speed to see half-way [kt indicated]: the rule is about ground speed."""
    value = headwind_kt + HALF_WAY * (liftoff_kt - headwind_kt)
    detail = f"{headwind_kt:,.1f} + {HALF_WAY} × ({liftoff_kt:,.1f} − {headwind_kt:,.1f})"
    step = Step(SPEED_THERE, SPEED_THERE, detail, None, value, "kt", HALF_WAY_SOURCE)
    return Figure(SPEED_THERE, "kt", value, (step,))


def _last_stop(takeoff: Takeoff, scene: Scene, policy: Policy) -> tuple[Figure, Figure]:
    """Return the last point from which the airplane stops on the runway, and its speed there.

    Accelerating as worked, v = V sqrt(x / roll); then x + v t + v^2 / 2b = ASDA, which is a quadratic in sqrt(x).
    """
    label, speed_label = LAST_STOP, "speed at the last stopping point"
    braking = _braking(scene, policy)
    reason = ""
    if braking is None or policy.reaction_s is None:
        reason = "no braking figure for this surface" if braking is None else "no reaction time in the policy"
    elif takeoff.roll.value is None or takeoff.liftoff_true_kt is None:
        reason = takeoff.roll.reason or takeoff.liftoff.reason
    if reason:
        return missing(label, "ft", reason), missing(speed_label, "kt", reason)
    assert braking is not None
    assert policy.reaction_s is not None
    assert takeoff.liftoff_true_kt is not None
    liftoff_kt, roll = takeoff.liftoff.known, takeoff.roll.known
    ground_kt = takeoff.liftoff_true_kt - scene.wind.along_kt
    ground = ground_kt * KT_TO_FT_PER_S / sqrt(roll)  # ft/s per sqrt(ft)
    decel = braking.deceleration_g * G_FT_PER_S2
    a, b, c = 1 + ground**2 / (2 * decel), ground * policy.reaction_s, scene.have.asda.known
    root = (-b + sqrt(b * b + 4 * a * c)) / (2 * a)
    value = root**2
    share = min(sqrt(value / roll), 1.0)
    headwind = scene.wind.headwind_kt
    detail = (
        f"roll {roll:,.1f} ft to a ground speed of {ground_kt:,.1f} kt, then {policy.reaction_s:g} s, "
        f"then {braking.deceleration_g:g} g to stop within ASDA {c:,.1f}"
    )
    step = Step(label, label, detail, None, value, "ft", braking.source)
    knots = headwind + share * (liftoff_kt - headwind)
    kt_step = Step(
        speed_label, speed_label, f"{share:.3f} of the way to liftoff speed", None, knots, "kt", braking.source
    )
    return Figure(label, "ft", value, (step,), estimate=True), Figure(speed_label, "kt", knots, (kt_step,))


def _braking(scene: Scene, policy: Policy) -> Braking | None:
    conditions = scene.conditions
    if conditions.soft or conditions.surface not in ("dry", "wet"):
        return None
    wet = conditions.surface == "wet"
    given = [each for each in policy.braking if each.surface == scene.surface and each.wet == wet]
    return min(given, key=lambda each: each.deceleration_g, default=None)

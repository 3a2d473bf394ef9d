"""What there is: declared distances, obstacles, slope, and the marks a pilot counts, in one direction."""

from math import radians, tan
from typing import NamedTuple

from briefgen.figures import Figure, Source, Step, missing, stated
from briefgen.model.policy import Policy
from briefgen.model.strip import Obstacle
from briefgen.model.trip import Use

SCREEN_FT = 50.0  # the height that every 'over 50 ft' distance is measured from: 14 CFR 23 (former 23.53, 23.75)


class Seen(NamedTuple):
    """A mark as it is met: its name, and its distance [ft] from the landing threshold and from the start."""

    name: str
    from_threshold_ft: float
    from_start_ft: float
    number: int = 0  # in a row of marks that is counted


class Have(NamedTuple):
    """What one runway offers in one direction. Figures in ft; a missing one says why.

    `begins_ft`: how far past the threshold an approach obstacle puts the 50-ft point; the LDA is shorter by it.
    """

    tora: Figure
    over_50: Figure
    asda: Figure
    lda: Figure
    begins_ft: float
    slope: float  # fraction, up in this direction
    displaced_ft: float
    length_ft: float


def available(use: Use, policy: Policy) -> Have:
    """Return the distances available, each with its working.

    Parameters
    ----------
    use : the runway in one direction.
    policy : gives the approach angle and clearance by which an approach obstacle is worked.
    """
    runway, end = use.runway, use.end
    source = Source(use.strip.source, "published")
    tora = _declared("TORA", end.tora_ft, runway.length_ft, source)
    first = end is runway.ends[0]
    lda, begins_ft = _landing_distance(use, policy, source)
    return Have(
        tora=tora,
        over_50=_over_50(use, tora, source),
        asda=_declared("ASDA", end.asda_ft, tora.known, source),
        lda=lda,
        begins_ft=begins_ft,
        slope=runway.slope if first else -runway.slope,
        displaced_ft=end.displaced_ft,
        length_ft=runway.length_ft,
    )


def marks(use: Use, *, for_landing: bool) -> tuple[Seen, ...]:
    """Return the marks that are met on this runway, nearest first.

    A row of marks is numbered as a pilot counts it from the cockpit: the first one past the landing threshold,
    or, for a takeoff, past the start of the takeoff run.
    """
    runway, end = use.runway, use.end
    met = []
    for mark in runway.marks:
        measured = runway.ends[0] if mark.from_end == runway.ends[0].ident else runway.ends[1]
        from_its_end = measured.displaced_ft + mark.at_ft
        from_start = from_its_end if end is measured else runway.length_ft - from_its_end
        origin = end.displaced_ft if for_landing else 0.0
        if origin < from_start <= runway.length_ft:
            met.append((from_start, mark.what, mark.counted))
    numbers: dict[str, int] = {}
    seen = []
    for from_start, what, counted in sorted(met):
        if counted:
            numbers[what] = numbers.get(what, 0) + 1
        name = f"{ordinal(numbers[what])} {what}" if counted else what
        number = numbers[what] if counted else 0
        seen.append(Seen(name, from_start - end.displaced_ft, from_start, number))
    return tuple(seen)


def ordinal(number: int) -> str:
    """Return 1st, 2nd, 3rd, 4th, 11th, 21st.

    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 21)]
    ['1st', '2nd', '3rd', '4th', '11th', '12th', '21st']
    """
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def _declared(name: str, declared: float | None, otherwise: float, source: Source) -> Figure:
    if declared is not None:
        return stated(name, "ft", declared, "declared", source)
    words = "none declared: TORA" if name == "ASDA" else "none declared: length of the runway"
    return stated(name, "ft", otherwise, words, source)


def _over_50(use: Use, tora: Figure, source: Source) -> Figure:
    """TODA where declared, else TORA; no further than the nearest obstacle, however high.

    One that 50 ft does not clear is held against the climb too: see `obstacles`.
    """
    label = "distance available to 50 ft"
    toda = use.end.toda_ft
    have, words = (toda, "TODA, declared") if toda is not None else (tora.known, "no TODA declared: TORA")
    steps = [Step(label, label, words, None, have, "ft", source)]
    for obstacle in use.opposite.obstacles:
        where = f"{obstacle.what}, {obstacle.height_ft:,.0f} ft, {obstacle.distance_ft:,.0f} ft past the end"
        limit = use.runway.length_ft + obstacle.distance_ft
        if limit < have:
            steps.append(Step(label, f"50 ft by the {where}", "nearer than TODA", have, limit, "ft", source))
            have = limit
    return Figure(label, "ft", have, tuple(steps))


def _landing_distance(use: Use, policy: Policy, source: Source) -> tuple[Figure, float]:
    """LDA, else length less the displaced threshold; shorter where an obstacle holds the airplane up."""
    label, end = "LDA", use.end
    if end.lda_ft is not None:
        have = end.lda_ft
        steps = [Step(label, label, "declared", None, have, "ft", source)]
    else:
        have = use.runway.length_ft - end.displaced_ft
        words = f"{use.runway.length_ft:,.0f} ft less displaced threshold {end.displaced_ft:,.0f} ft"
        steps = [Step(label, label, words, None, have, "ft", source)]
    furthest, over = 0.0, ""
    for obstacle in end.obstacles:
        shift = _inside(obstacle, end.displaced_ft, policy)
        if shift is None:
            reason = f"{obstacle.what} on the approach: no approach angle in the policy to work it by"
            return missing(label, "ft", reason), 0.0
        if shift > furthest:
            furthest, over = shift, obstacle.what
        if shift <= 0:
            words = "does not put the 50-ft point past the threshold"
            by = policy.by("approach_angle_deg", "obstacle_clearance_ft")
            steps.append(Step(label, f"{obstacle.what} on the approach", words, have, have, "ft", by))
    if furthest:
        words = (
            f"at {policy.approach_angle_deg:g}° over its top + {policy.obstacle_clearance_ft:,.0f} ft, "
            f"50 ft is reached {furthest:,.1f} ft past the threshold"
        )
        by = policy.by("approach_angle_deg", "obstacle_clearance_ft")
        steps.append(Step(label, f"{over} on the approach", words, have, have - furthest, "ft", by))
        have -= furthest
    if have <= 0:
        reason = "nothing is left of the landing distance behind the approach obstacle"
        return Figure(label, "ft", None, tuple(steps), reason), furthest
    return Figure(label, "ft", have, tuple(steps)), furthest


def _inside(obstacle: Obstacle, displaced_ft: float, policy: Policy) -> float | None:
    """Return how far past the landing threshold [ft] 50 ft is reached over an obstacle; None if not workable."""
    above = obstacle.height_ft + policy.obstacle_clearance_ft - SCREEN_FT
    if above <= 0:
        return 0.0
    if policy.approach_angle_deg is None:
        return None
    return above / tan(radians(policy.approach_angle_deg)) - (obstacle.distance_ft + displaced_ft)

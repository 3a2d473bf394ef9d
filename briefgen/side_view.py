"""The side view of an approach or a climb: what stands there, the paths past it, each height and place as printed.

Drawn where something stands on the way, or where the landing threshold is displaced.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan

from briefgen.calc.approach import DEFAULT_ANGLE_DEG
from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.calc.runway import SCREEN_FT
from briefgen.items import over_obstacles
from briefgen.model.policy import NO_POLICY, Touchdown
from briefgen.model.strip import Obstacle
from briefgen.model.trip import Trip, Use
from briefgen.units import down

Point = tuple[float, float]  # along [ft], height [ft]


@dataclass(frozen=True, slots=True)
class Top:
    """Something of a height [ft] at a place [ft]; its label flies above. `post`: a height to be at, not a thing."""

    label: str
    at_ft: float
    height_ft: float
    post: bool = False


@dataclass(frozen=True, slots=True)
class Way:
    """A path through the air, from left to right; `dashed` tells it from the other."""

    points: tuple[Point, ...]
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class SideView:
    """An approach or a climb from the side. Places in ft from the landing threshold, or from the start."""

    title: str
    runway: tuple[float, float]  # from where to where
    threshold_ft: float | None  # where it is displaced
    stretch: tuple[float, float] | None  # on the ground: the touchdown allowance, or the ground roll
    tops: tuple[Top, ...]
    ways: tuple[Way, ...]
    marks: tuple[tuple[str, float], ...]  # named below the ground
    said: tuple[str, ...]  # beneath it, in words
    text: str  # all of it in words
    unit: str  # of lengths; heights are in ft


def approach_view(
    trip: Trip, use: Use, planned: Landing, touchdown: Touchdown | None, lda_from_ft: float
) -> SideView | None:
    """Return the approach to a landing; None where nothing stands there and the threshold is not displaced.

    Parameters
    ----------
    trip : its policy gives the angle.
    use : the runway in its direction.
    planned : the landing worked there.
    touchdown : the pilot's own aim point.
    lda_from_ft : how far past the threshold the landing distance begins, held up by an obstacle [ft].

    Two paths of the same angle: the one by which the landing distance is counted, through 50 ft where it begins,
    and the one to the pilot's own aim point.
    """
    end, policy = use.end, trip.policy or NO_POLICY
    if not end.obstacles and not end.displaced_ft:
        return None
    printing = policy.printing
    angle_deg = policy.approach_angle_deg or DEFAULT_ANGLE_DEG
    slope = tan(radians(angle_deg))
    aim_ft = None if touchdown is None else lda_from_ft + touchdown.aim_ft
    tops = [_top(each, -end.displaced_ft - each.distance_ft) for each in end.obstacles]
    ground_ft = lda_from_ft + SCREEN_FT / slope
    begins_ft = min([-end.displaced_ft, *(each.at_ft for each in tops)])
    ends_ft = min(ground_ft, use.runway.length_ft - end.displaced_ft)
    begins_ft -= (ends_ft - begins_ft) / 20
    whose = "the policy's" if policy.approach_angle_deg else "a normal descent's"
    ways = [_descent(begins_ft, ground_ft, slope)]
    where = "over the threshold"
    if lda_from_ft:
        past = printing.said(printing.whole(lda_from_ft, upward=True))
        where = f"{past} past the threshold, where the landing distance begins"
    at_50 = f"Solid: {angle_deg:g}°, {whose}, through 50\u00a0ft {where}"
    said = [_with_tops(at_50, tops, ground_ft, slope)]
    if aim_ft is not None:
        ways.append(_descent(begins_ft, aim_ft, slope, dashed=True))
        said.append(_with_tops(f"Dashed: {angle_deg:g}° to the aim point", tops, aim_ft, slope))
    marks = [("aim", aim_ft)] if aim_ft is not None else []
    marks += [("threshold", 0.0)]
    allowance = planned.allowance
    down_ft = None if allowance.value is None else lda_from_ft + allowance.value
    if down_ft is not None and allowance.value is not None:
        marks.append((f"down by {printing.up(allowance.value):,.0f}", down_ft))
    tops.append(Top("50 ft", lda_from_ft, SCREEN_FT, post=True))
    title = f"Approach from the side, {use.name}"
    return SideView(
        title=title,
        runway=(-end.displaced_ft, use.runway.length_ft - end.displaced_ft),
        threshold_ft=0.0 if end.displaced_ft else None,
        stretch=None if down_ft is None else (lda_from_ft, down_ft),
        tops=tuple(sorted(tops, key=lambda top: top.at_ft)),
        ways=tuple(ways),
        marks=tuple(sorted(marks, key=lambda mark: mark[1])),
        said=tuple(said),
        text=". ".join([title, *_standing(tops), *said]),
        unit=printing.length,
    )


def climb_view(trip: Trip, flight: Flight) -> SideView | None:
    """Return the takeoff and the climb past what stands beyond the far end; None where nothing does."""
    use, takeoff = trip.departure.use, flight.takeoff
    if not use.opposite.obstacles:
        return None
    printing, length_ft = (trip.policy or NO_POLICY).printing, use.runway.length_ft
    worked = {each.obstacle: row for row, each in over_obstacles(trip, flight)}
    tops, path = [], []
    for obstacle in sorted(use.opposite.obstacles, key=lambda each: each.distance_ft):
        row = worked.get(obstacle)
        top = _top(obstacle, length_ft + obstacle.distance_ft)
        if row is None or row.need is None:
            tops.append(top)
            continue
        climb = "climb not shown" if row.have is None else f"climb {row.have:,.0f}"
        tops.append(Top(f"{obstacle.what} {row.need:,.0f}, {climb}", top.at_ft, row.need))
        if row.have:
            path.append((top.at_ft, row.have))
    roll_ft, total_ft = takeoff.roll.value, takeoff.total.value
    ways = []
    if total_ft is not None:
        tops.append(Top(f"50 ft at {printing.up(total_ft):,.0f}", total_ft, SCREEN_FT, post=True))
        ways = [Way(((total_ft, SCREEN_FT), *(point for point in path if point[0] > total_ft)))]
    said = "Solid: climb as worked, from 50\u00a0ft on"
    title = f"Climb from the side, {use.name}"
    return SideView(
        title=title,
        runway=(0.0, length_ft),
        threshold_ft=None,
        stretch=None if roll_ft is None else (0.0, roll_ft),
        tops=tuple(sorted(tops, key=lambda top: top.at_ft)),
        ways=tuple(ways),
        marks=((f"end {printing.down(length_ft):,.0f}", length_ft),),
        said=(said,),
        text=". ".join([title, *_standing(tops), said]),
        unit=printing.length,
    )


def _top(obstacle: Obstacle, at_ft: float) -> Top:
    return Top(f"{obstacle.what}, {obstacle.height_ft:,.0f}\u00a0ft", at_ft, obstacle.height_ft)


def _with_tops(words: str, tops: list[Top], ground_ft: float, slope: float) -> str:
    """Return what a path is, and how high it passes whatever stands there, rounded down."""
    over = []
    for top in tops:
        up_ft = down((ground_ft - top.at_ft) * slope)
        over.append(
            f"{up_ft:.0f}\u00a0ft up at the {top.label}" + (": not over it" if up_ft <= top.height_ft else "")
        )
    return f"{words}: {'; '.join(over)}" if over else words


def _descent(begins_ft: float, ground_ft: float, slope: float, *, dashed: bool = False) -> Way:
    return Way(((begins_ft, (ground_ft - begins_ft) * slope), (ground_ft, 0.0)), dashed)


def _standing(tops: list[Top]) -> list[str]:
    """Return what stands there, in words; nothing where nothing does."""
    standing = "; ".join(each.label for each in tops)
    return [standing] if standing else []

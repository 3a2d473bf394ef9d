"""The weather along the way as it is printed: a row for the leg that is worst, a table of all, their facts."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from briefgen.calc.along import LegSky, along, over_ground_ft
from briefgen.calc.evening import Evening
from briefgen.calc.minima import OTHER_AREAS_FT, WeatherNeed
from briefgen.calc.sky import CEILING_STEP_FT, there
from briefgen.figures import Figure
from briefgen.item import Item, State, in_words
from briefgen.model.trip import Trip
from briefgen.units import down, up

ID, TITLE = "legs-weather", "Along the legs"
NEAR_FT = 1_000.0  # over the highest ground: below it the row says how high: 91.119(b), congested areas (read)


@dataclass(frozen=True, slots=True)
class LegLine:
    """One leg as it is printed. `asked` and `known` are a cloud base above sea level and a visibility."""

    to: str
    altitude: str
    asked: str
    rule: str
    known: str
    by: str
    ground: str  # '' where nothing is typed of the highest ground
    state: State
    reason: str
    near: bool  # to the highest ground


def leg_lines(trip: Trip, *, night: bool | None, light: Evening | None = None) -> tuple[LegLine, ...]:
    """Return each leg of a trip's route, and the way to the alternate, with its state."""
    return tuple(_line(trip, each) for each in along(trip, night, light))


def _line(trip: Trip, each: LegSky) -> LegLine:
    asked, leg = each.asked, each.leg
    state, _ = _state(trip, each)
    ground = "" if each.ground_ft is None else f"{down(each.ground_ft, 10):,.0f}\u00a0ft over the highest ground"
    known = _both(*_printed(each.base_ft, each.visibility_SM), beyond=each.beyond)
    return LegLine(
        to=leg.to,
        altitude=f"{leg.altitude_ft:,.0f}\u00a0ft",
        asked=_both(up(asked.cloud_base.known, 10), asked.visibility.known) if asked else "nothing",
        rule="; ".join(filter(None, (asked.minimum.where if asked else "", each.taken))),
        known=known,
        by=each.by,
        ground=ground,
        state=state,
        reason=_reason(each, state),
        near=_near(each),
    )


def _printed(base_ft: float | None, visibility_SM: float | None) -> tuple[float | None, float | None]:
    """Return what is there, rounded down; a cloud base above the sea to 100 ft, like a ceiling. None: not known."""
    if base_ft is not None and base_ft < 0:
        return down(base_ft, CEILING_STEP_FT), there(0.0, visibility_SM)[1]
    return there(base_ft, visibility_SM)


def _both(base_ft: float | None, sight_SM: float | None, *, beyond: bool = False) -> str:
    if base_ft is None and sight_SM is None:
        return "not known"
    height = "cloud not known" if base_ft is None else f"{base_ft:,.0f}\u00a0ft"
    height = "no ceiling" if base_ft == inf else f"none below {height}" if beyond else height
    return f"{height}, " + ("sight not known" if sight_SM is None else f"{sight_SM:g}\u00a0SM")


def _state(trip: Trip, each: LegSky) -> tuple[State, float | None]:
    """Return the state of a leg, from what is printed, and by how much the cloud base is over the need [ft]."""
    good = State.MEETS if trip.policy else State.UNDER
    low = each.ground_ft is not None and down(each.ground_ft, 10) < OTHER_AREAS_FT
    if each.asked is None:
        return State.SHORT if low else State.NOT_SHOWN, None
    base_ft, sight_SM = _printed(each.base_ft, each.visibility_SM)
    room_ft = None if base_ft is None else base_ft - up(each.asked.cloud_base.known, 10)
    if (room_ft is not None and room_ft < 0) or low:
        return State.SHORT, room_ft
    if sight_SM is not None and sight_SM < each.asked.visibility.known:
        return State.SHORT, room_ft
    return State.NOT_SHOWN if room_ft is None or sight_SM is None else good, room_ft


def _reason(each: LegSky, state: State) -> str:
    if each.ground_ft is not None and down(each.ground_ft, 10) < OTHER_AREAS_FT:
        low = f"less than {OTHER_AREAS_FT:.0f}\u00a0ft over the highest ground"
        return "; ".join(filter(None, (low, each.reason)))
    return each.reason if state is State.NOT_SHOWN else ""


def legs_row(trip: Trip, *, night: bool | None, light: Evening | None = None) -> tuple[Item, ...]:
    """Return one item for all legs, that of the worst; none where the trip has no route.

    The way to the alternate counts where it is short; where it is not known, the alternate's own row says so.
    """
    found = [(*_state(trip, each), each) for each in along(trip, night, light)]
    count = len(trip.route.legs) if trip.route else 0
    found = [*found[:count], *(each for each in found[count:] if each[0] is State.SHORT)]
    if not found:
        return ()
    where, worst = trip.departure.use.name, _line(trip, max(found, key=_how_bad)[2])
    said = f"{worst.to} at {worst.altitude}"
    if worst.state is State.NOT_SHOWN:
        return (in_words(ID, TITLE, where, worst.state, f"{said}: {worst.reason}", ""),)
    cloud = "" if worst.known.startswith(("no", "cloud")) else "cloud "
    answer = f"{said}: {cloud}{worst.known}; need {worst.asked}"
    answer += f"; {worst.ground}" if worst.near else ""
    return (in_words(ID, TITLE, where, worst.state, worst.reason, answer),)


def _how_bad(judged: tuple[State, float | None, LegSky]) -> tuple[float, float]:
    """Return what legs are put in order by: what is short before what is not shown, ground near, the least room."""
    state, room_ft, leg = judged
    rank = {State.NOT_SHOWN: 3, State.SHORT: 4}.get(state, int(_near(leg)))
    return rank, -(inf if room_ft is None else room_ft)


def _near(leg: LegSky) -> bool:
    return leg.ground_ft is not None and leg.ground_ft < NEAR_FT


def leg_figures(trip: Trip, *, night: bool | None, light: Evening | None = None) -> tuple[Figure, ...]:
    """Return the working of what is asked of the weather on the legs; of those that ask for the same, once."""
    legs: dict[WeatherNeed, list[str]] = {}
    for each in along(trip, night, light):
        if each.asked:
            legs.setdefault(each.asked, []).append(each.leg.to)
    return tuple(
        figure._replace(label=f"{figure.label}, to {' and '.join(names)}")
        for asked, names in legs.items()
        for figure in (asked.cloud_base, asked.visibility)
    )


def least_over_ground_ft(trip: Trip) -> float | None:
    """Return the least height of a leg over its highest ground [ft], rounded down; None where none is said."""
    route = trip.route
    legs = [*route.legs, *((route.alternate,) if route.alternate and trip.alternate else ())] if route else []
    heights = [height_ft for leg in legs if (height_ft := over_ground_ft(leg)) is not None]
    return down(min(heights), 10) if heights else None

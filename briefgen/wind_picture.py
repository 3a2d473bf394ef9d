"""The wind on a runway as it is drawn and said: the runway from above, its heading up."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.calc.distance import NoAir, Scene
from briefgen.model.trip import Use
from briefgen.model.weather import NotGiven, Wind
from briefgen.units import down, up

MOST_ARROWS = 3


@dataclass(frozen=True, slots=True)
class Arrow:
    """One wind, in degrees clockwise from straight ahead. `between_deg`: the range of one that varies."""

    from_deg: float | None  # None: variable, or calm
    between_deg: tuple[float, float] | None
    first: bool  # the one that the conditions name; the others are of reports and forecasts


@dataclass(frozen=True, slots=True)
class WindPicture:
    """A runway from above, the end that is used at the foot, and every wind that is counted with."""

    near_ident: str
    far_ident: str
    arrows: tuple[Arrow, ...]  # none of a calm, or where no wind is known
    words: tuple[str, ...]  # beside it: the wind, along, across
    text: str  # all of it in one sentence


def wind_picture(use: Use, there: Scene | NoAir) -> WindPicture:
    """Return the picture of the wind on one runway."""
    idents = use.end.ident, use.opposite.ident
    conditions = use.conditions
    above = f"Runway {idents[0]} from above, its heading up"
    if isinstance(there, NoAir) or isinstance(conditions, NotGiven):
        return WindPicture(*idents, (), ("no wind known",), f"{above}: no wind known, {conditions_reason(there)}")
    winds = [conditions.wind, *conditions.other_winds]
    arrows = [_arrow(wind, use.end.heading_deg, first=i == 0) for i, wind in enumerate(winds) if wind.gust_kt > 0]
    along, across = along_and_across(there)
    words = (_speed(conditions.wind), along, *across)
    counted = "; worst of all winds counted" if len(winds) > 1 else ""
    said = f"{above}: {_where(winds[0], use.end.heading_deg)}; {', '.join((along, ' '.join(across)))}{counted}"
    return WindPicture(*idents, tuple(arrows[:MOST_ARROWS]), words, said)


def conditions_reason(there: Scene | NoAir) -> str:
    """Return why there is no wind to draw."""
    return there.reason if isinstance(there, NoAir) else "none given"


def along_and_across(there: Scene) -> tuple[str, tuple[str, ...]]:
    """Return the wind along a runway in words, and the wind across it with its side: credits down, penalties up."""
    wind = there.wind
    along = f"headwind {down(wind.headwind_kt):.0f}\u00a0kt"
    if wind.tailwind_kt:
        along = f"tailwind {up(wind.tailwind_kt):.0f}\u00a0kt"
    side = wind.crosswind_from
    from_side = f"from the {side}" if side in ("left", "right") else f"from {side}" if side else ""
    return along, tuple(filter(None, (f"crosswind {up(wind.crosswind_kt):.0f}\u00a0kt", from_side)))


def wind_along_and_across(there: Scene | NoAir) -> str:
    """Return the same in one line; or why it is not shown."""
    if isinstance(there, NoAir):
        return f"Wind not shown: {there.reason}"
    along, across = along_and_across(there)
    return f"{along[0].upper()}{along[1:]}, {' '.join(across)}"


def _arrow(wind: Wind, heading_deg: float, *, first: bool) -> Arrow:
    between = None
    if wind.between_deg is not None:
        first_deg, last_deg = wind.between_deg
        between = (first_deg - heading_deg) % 360, (last_deg - heading_deg) % 360
    ahead = None if wind.from_deg is None else (wind.from_deg - heading_deg) % 360
    return Arrow(ahead, between, first)


def _speed(wind: Wind) -> str:
    """Return how strong a wind is: gusts up, and the steady wind as it is typed."""
    if wind.gust_kt == 0:
        return "calm"
    steady, gust = f"{wind.steady_kt:.3g}", up(wind.gust_kt)
    return f"{steady} gust {gust:.0f}\u00a0kt" if wind.gust_kt > wind.steady_kt else f"{steady}\u00a0kt"


def _where(wind: Wind, heading_deg: float) -> str:
    """Return a wind and where it is from, as a pilot who looks down the runway sees it."""
    if wind.gust_kt == 0:
        return "calm"
    speed = f"wind {_speed(wind)}"
    if wind.from_deg is None:
        return f"{speed}, variable"
    off = (wind.from_deg - heading_deg + 180) % 360 - 180
    where = "straight ahead" if round(off) == 0 else "straight behind" if round(abs(off)) == 180 else ""
    side = "right" if off > 0 else "left"
    varies = ", varying" if wind.between_deg else ""
    return f"{speed} from {where or f'{abs(off):.0f}° to the {side} of straight ahead'}{varies}"

"""Wind on a runway: headwind from the steady wind, tailwind and crosswind from the gust, worst case."""

from collections.abc import Iterable
from math import cos, radians, sin
from typing import NamedTuple

from briefgen.model.weather import Wind

_NIL = 1e-9  # a wind square across is neither a headwind nor a tailwind, whatever the last bit of a cosine says


class RunwayWind(NamedTuple):
    """The components that are counted [kt]. At most one of headwind and tailwind is above nil."""

    headwind_kt: float
    tailwind_kt: float
    crosswind_kt: float
    crosswind_from: str  # 'left', 'right', 'either side', or ''

    @property
    def along_kt(self) -> float:
        """Headwind positive, tailwind negative."""
        return self.headwind_kt - self.tailwind_kt


def on_runway(wind: Wind, heading_deg: float, heading_known_to_deg: float = 0.0) -> RunwayWind:
    """Resolve a wind on a runway, worst case over all that is not known.

    Parameters
    ----------
    wind : degrees true, speeds [kt].
    heading_deg : heading of the runway [deg true], 0 to 360.
    heading_known_to_deg : how far off that heading may be [deg], 0 to 90.

    A wind of variable direction counts as full tailwind and full crosswind.

    >>> components = on_runway(Wind(140, 25, 25), 170)
    >>> round(components.headwind_kt, 2), round(components.crosswind_kt, 2), components.crosswind_from
    (21.65, 12.5, 'left')
    """
    if wind.steady_kt == wind.gust_kt == 0:
        return RunwayWind(0.0, 0.0, 0.0, "")
    if wind.from_deg is None and wind.between_deg is None:
        return RunwayWind(0.0, wind.gust_kt, wind.gust_kt, "either side")
    first, last = wind.between_deg or (wind.from_deg, wind.from_deg)
    assert first is not None
    assert last is not None
    start = first - heading_deg - heading_known_to_deg
    span = min((last - first) % 360 + 2 * heading_known_to_deg, 360)
    angles = _extremes(start, span)
    least_along = min(_snap(cos(radians(angle))) for angle in angles)
    across = [_snap(sin(radians(angle))) for angle in angles]
    right, left = max(across), -min(across)
    side = "either side" if right > 0 and left > 0 else "right" if right > 0 else "left" if left > 0 else ""
    return RunwayWind(
        headwind_kt=max(0.0, wind.steady_kt * least_along),
        tailwind_kt=max(0.0, -wind.gust_kt * least_along),
        crosswind_kt=wind.gust_kt * max(right, left, 0.0),
        crosswind_from=side,
    )


def worst_on_runway(winds: Iterable[Wind], heading_deg: float, heading_known_to_deg: float = 0.0) -> RunwayWind:
    """Resolve several winds on a runway: the least headwind, most tailwind and most crosswind of any of them.

    Parameters
    ----------
    winds : at least one; degrees true, speeds [kt].
    heading_deg : heading of the runway [deg true], 0 to 360.
    heading_known_to_deg : how far off that heading may be [deg], 0 to 90.

    >>> worst_on_runway([Wind(170, 10, 10), Wind(260, 6, 9)], 170)
    RunwayWind(headwind_kt=0.0, tailwind_kt=0.0, crosswind_kt=9.0, crosswind_from='right')
    """
    found = [on_runway(wind, heading_deg, heading_known_to_deg) for wind in winds]
    across = max(found, key=lambda each: each.crosswind_kt)
    return RunwayWind(
        headwind_kt=min(each.headwind_kt for each in found),
        tailwind_kt=max(each.tailwind_kt for each in found),
        crosswind_kt=across.crosswind_kt,
        crosswind_from=across.crosswind_from,
    )


def _extremes(start: float, span: float) -> list[float]:
    """Return both ends of a range of angles [deg], and every quarter turn inside it."""
    quarters = [start + (90 - start % 90) % 90 + 90 * step for step in range(5)]
    return [start, start + span, *(angle for angle in quarters if angle < start + span)]


def _snap(value: float) -> float:
    return 0.0 if abs(value) < _NIL else value

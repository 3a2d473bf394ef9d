"""The ceiling and the visibility that the rule asks for at a field, and the policy.

Both are worked for flying the pattern, taken at 1,000 ft above the field: the row of 14 CFR 91.155(a) there, and
what (c) and (d) ask for in a surface area. Where the strip file gives no class of airspace, the strictest counts.
"""

from __future__ import annotations

from functools import lru_cache
from math import inf
from typing import NamedTuple

from briefgen.calc.minima import AIRSPACES, HEIGHT_RULE, above_station, minimum, need, special, surface_area
from briefgen.figures import Figure, Source, Step
from briefgen.model.policy import Policy
from briefgen.model.strip import Strip
from briefgen.units import down, up

STRICTEST_FIRST = ("C", *(each for each in AIRSPACES[1:] if each != "C"))  # of equal figures C has both
PATTERN_FT = 1_000.0  # above the field
PATTERN = Source("pattern at 1,000\u00a0ft above the field", "common practice", "no source")
LEAST_FT = 500.0  # above the surface, over other than congested areas: 14 CFR 91.119(c) (read)
CEILING_STEP_FT, VISIBILITY_STEP_SM = 100.0, 0.01  # what is there is printed rounded down to these


class SkyNeed(NamedTuple):
    """Ceiling [ft above the field] and visibility [SM] that are asked for."""

    ceiling: Figure
    visibility: Figure


def sky_need(strip: Strip, night: bool | None) -> SkyNeed:
    """Return the ceiling and the visibility that the rule asks for in the pattern of a field.

    Parameters
    ----------
    strip : its elevation, and its class of airspace at the surface.
    night : whether it is night; None, not known, is taken as night.
    """
    classes = (strip.airspace,) if strip.airspace else STRICTEST_FIRST
    found = [_of_class(each, strip.elevation_ft, night) for each in classes]
    ceiling = max((each.ceiling for each in found), key=lambda figure: figure.known)
    visibility = max((each.visibility for each in found), key=lambda figure: figure.known)
    return SkyNeed(ceiling, visibility)


def special_need(strip: Strip, sun_down: bool | None, *, instrument: bool) -> SkyNeed:
    """Return the ceiling and the visibility that special VFR asks for: it takes a clearance, in a surface area.

    The rule names no ceiling: clear of clouds, it is that of the least height over the ground.

    Parameters
    ----------
    strip : its elevation.
    sun_down : whether any of the flight is between sunset and sunrise; None, not known, is taken as so.
    instrument : pilot and airplane are qualified and equipped for instrument flight.

    Raises
    ------
    Refusal : the sun is down and pilot or airplane are not for instrument flight, or the field is too high.

    Source: 14 CFR 91.157, 91.119(c) (read).
    """
    altitude_ft = strip.elevation_ft + LEAST_FT
    asked = need(special(altitude_ft, sun_down, instrument=instrument), altitude_ft)
    base = above_station(asked.cloud_base, strip.elevation_ft)
    detail = "special VFR, clear of clouds: the rule names no ceiling"
    first = base.steps[0]._replace(label="500\u00a0ft over the ground", detail=detail, source=HEIGHT_RULE)
    return SkyNeed(base._replace(label="ceiling needed", steps=(first, *base.steps[1:])), asked.visibility)


@lru_cache(maxsize=64)  # the row, the page and the facts of a field ask for the same
def _of_class(airspace: str, elevation_ft: float, night: bool | None) -> SkyNeed:
    altitude_ft = elevation_ft + PATTERN_FT
    asked = need(minimum(airspace, altitude_ft, elevation_ft, night), altitude_ft)
    base = above_station(asked.cloud_base, elevation_ft)
    first = base.steps[0]._replace(label="altitude of the pattern", source=PATTERN)
    base = base._replace(label="ceiling needed", steps=(first, *base.steps[1:]))
    ceiling, sight = (_known(each) for each in surface_area(airspace))
    return SkyNeed(
        max((base, *ceiling), key=lambda figure: figure.known),
        max((asked.visibility, *sight), key=lambda figure: figure.known),
    )


def _known(figure: Figure) -> tuple[Figure, ...]:
    return () if figure.value is None else (figure,)


def policy_need(rule: SkyNeed, policy: Policy) -> SkyNeed:
    """Return what the rule asks for, or the policy's own minimum where that is more.

    Parameters
    ----------
    rule : what the rule asks for.
    policy : its least ceiling [ft above the field] and visibility [SM].
    """
    return SkyNeed(
        _at_least(rule.ceiling, policy.minimum_ceiling_ft, policy.by("minimum_ceiling_ft")),
        _at_least(rule.visibility, policy.minimum_visibility_SM, policy.by("minimum_visibility_SM")),
    )


def _at_least(figure: Figure, least: float, by: Source) -> Figure:
    if least <= figure.known:
        return figure
    label = f"{figure.label}, under the policy"
    step = Step(label, "the policy's minimum", "more than the rule asks for", figure.known, least, figure.unit, by)
    return Figure(label, figure.unit, least, (*figure.steps, step))


def rounded(asked: SkyNeed) -> tuple[float, float]:
    """Return a need as it is printed, rounded up: the ceiling to 10 ft, the visibility to a hundredth of a mile."""
    return up(asked.ceiling.known, 10.0), round(up(asked.visibility.known, VISIBILITY_STEP_SM), 2)


def there(ceiling_ft: float | None, visibility_SM: float | None) -> tuple[float | None, float | None]:
    """Return what is there as it is printed, rounded down; None: not known.

    Parameters
    ----------
    ceiling_ft : above the field [ft], 0 or more; infinite where there is none.
    visibility_SM : 0 or more.

    >>> there(3_590.0, 2.4855)
    (3500.0, 2.48)
    """
    least_ft = ceiling_ft if ceiling_ft in (None, inf) else down(ceiling_ft, CEILING_STEP_FT)
    return least_ft, None if visibility_SM is None else round(down(visibility_SM, VISIBILITY_STEP_SM), 2)

"""Lay one standard over another: a pilot's personal minimums over a club's. The stricter figure rules."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from briefgen.figures import Source
from briefgen.model.policy import Braking, Factor, Policy, Rework, Touchdown

# Which of two figures is the stricter, field by field. The schema says the same of each key ('stricter').
LARGER, SMALLER = "larger", "smaller"
STRICTER: Mapping[str, str] = MappingProxyType(
    {
        "takeoff_factor": LARGER,
        "landing_factor": LARGER,
        "takeoff_margin_ft": LARGER,
        "landing_margin_ft": LARGER,
        "last_touchdown_share": SMALLER,
        "gust_share": LARGER,
        "crosswind_maximum_kt": SMALLER,
        "approach_angle_deg": SMALLER,
        "obstacle_clearance_ft": LARGER,
        "departure_clearance_ft": LARGER,
        "reaction_s": LARGER,
        "turn_back_height_ft": LARGER,
        "fuel_reserve_s": LARGER,
        "burn_margin": LARGER,
        "daylight_margin_s": LARGER,
        "minimum_ceiling_ft": LARGER,
        "minimum_visibility_SM": LARGER,
        "report_age_min": SMALLER,
        "pro_rata_credit": SMALLER,
        "nearest_worse": LARGER,
        "wind_shares": SMALLER,
    }
)
# How the sheet is printed has no strictness: these are the one's where that one gives them, else the other's.
PILOT, CLUB = "the pilot's own, where given", "the club's, where given"
PRESENTED: Mapping[str, str] = MappingProxyType(
    {"units": PILOT, "page_size": PILOT, "letterhead": CLUB, "pages": CLUB}
)
_DEFAULTED = ("last_touchdown_share", "gust_share", "pro_rata_credit", "wind_shares")
_CARRIED = {"last_touchdown_share": "last_touchdown_source", "gust_share": "gust_source"}


def stricter(club: Policy, pilot: Policy) -> Policy:
    """Lay a pilot's own standard over a club's: figure by figure the stricter rules, whoever set it.

    What only one of them gives is taken from that one. Guidance and rules of both count; the longest result holds.
    Braking is the weaker of the two on each surface; the brief is worked again at the sooner limit.
    Units and page size are the pilot's own, letterhead and pages the club's, where each gives them.
    """
    chosen: dict[str, Any] = {}
    whose: dict[str, str] = {}
    for field, direction in STRICTER.items():
        layers = [layer for layer in (club, pilot) if field in layer.whose]
        if layers:
            pick = max if direction == LARGER else min
            if layers == [pilot] and field in _DEFAULTED:  # what holds by default is not loosened by a later layer
                layers.append(club)
            ruling = pick(layers, key=lambda layer: _size(getattr(layer, field)))  # the club's where they are equal
            chosen[field] = getattr(ruling, field)
            if field in ruling.whose:
                whose[field] = ruling.whose[field]
            if field in _CARRIED:
                chosen[_CARRIED[field]] = getattr(ruling, _CARRIED[field])
    for field, first in PRESENTED.items():
        order = (pilot, club) if first == PILOT else (club, pilot)
        ruling_layer = next((layer for layer in order if field in layer.whose), None)
        if ruling_layer:
            chosen[field], whose[field] = getattr(ruling_layer, field), ruling_layer.whose[field]
    return club._replace(
        name=f"{club.name}, {pilot.name}",
        touchdown=longer(club.touchdown, pilot.touchdown),
        braking=_weaker(club.braking, pilot.braking),
        takeoff_guidance=club.takeoff_guidance + pilot.takeoff_guidance,
        landing_guidance=club.landing_guidance + pilot.landing_guidance,
        rework=_sooner(club.rework, pilot.rework),
        not_for_flight=club.not_for_flight or pilot.not_for_flight,
        packs=tuple(dict.fromkeys(club.packs + pilot.packs)),
        rules=tuple(dict.fromkeys(club.rules + pilot.rules)),
        severities=club.severities + pilot.severities,
        asked=tuple({each.id: each for each in (*club.asked, *pilot.asked, *club.asked)}.values()),
        confirm=tuple(dict.fromkeys(club.confirm + pilot.confirm)),
        whose=whose,
        **chosen,
    )


def longer(one: Touchdown | None, other: Touchdown | None) -> Touchdown | None:
    """Return the longer of two sets of touchdown figures, one by one, each with whose it is."""
    if one is None or other is None:
        return one or other
    picked = [_pick(one, other, field, max) for field in ("aim_ft", "float_ft", "flaps_up_float_ft", "zone_ft")]
    (aim_ft, float_ft, flaps_up_float_ft, zone_ft), whose = zip(*picked, strict=True)
    names = list(dict.fromkeys(whose))
    text = names[0] if len(names) == 1 else f"the longer of {' and '.join(names)}"
    return Touchdown(aim_ft, float_ft, flaps_up_float_ft, zone_ft, Source(text, "policy"), whose)


def _pick(one: Any, other: Any, field: str, choose: Callable[..., float]) -> tuple[float, str]:
    """Return the figure of a field that rules, and whose it is: the first's where they are equal."""
    here, there = getattr(one, field), getattr(other, field)
    value = choose(here, there)
    return value, (one if value == here else other).whose_is(field)


def _size(value: Any) -> float:
    """Return what two figures are compared by; of the wind shares, that of the headwind."""
    if isinstance(value, Factor):
        return value.value
    return float(value[0] if isinstance(value, tuple) else value)


def _weaker(one: tuple[Braking, ...], other: tuple[Braking, ...]) -> tuple[Braking, ...]:
    surfaces = dict.fromkeys((each.surface, each.wet) for each in (*one, *other))
    both = (*one, *other)
    return tuple(
        min((each for each in both if (each.surface, each.wet) == surface), key=lambda each: each.deceleration_g)
        for surface in surfaces
    )


def _sooner(one: Rework | None, other: Rework | None) -> Rework | None:
    if one is None or other is None:
        return one or other
    fields = ("after_s", "warmer_degC", "wind_kt", "heavier_lb")
    picked = [_pick(one, other, field, min) for field in fields]
    (after_s, warmer_degC, wind_kt, heavier_lb), whose = zip(*picked, strict=True)
    return Rework(after_s, warmer_degC, wind_kt, heavier_lb, one.source, whose)

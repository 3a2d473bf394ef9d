"""The policy's figures in words, each with whose it is: what the sheet prints about the standard in force."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from briefgen.model.policy import NO_POLICY, Policy


class Ruling(NamedTuple):
    """One figure in force: what it is, its value as it is printed, and whose it is or where it comes from."""

    label: str
    value: str
    whose: str


def _feet(value: float) -> str:
    return f"{value:,.0f} ft"


_WORDS: dict[str, tuple[str, Callable[[Any], str]]] = {
    "takeoff_factor": ("takeoff factor", lambda factor: f"{factor.value:g}"),
    "landing_factor": ("landing factor", lambda factor: f"{factor.value:g}"),
    "takeoff_margin_ft": ("least takeoff margin", _feet),
    "landing_margin_ft": ("least landing margin", _feet),
    "last_touchdown_share": ("last touchdown", lambda share: f"{share:.0%} of LDA".replace("%", " %")),
    "gust_share": ("of the gust factor, added", lambda share: f"{share:.0%}".replace("%", " %")),
    "crosswind_maximum_kt": ("most crosswind", lambda kt: f"{kt:g} kt"),
    "approach_angle_deg": ("approach angle over an obstacle", lambda deg: f"{deg:g}°"),
    "obstacle_clearance_ft": ("height over an obstacle", _feet),
    "reaction_s": ("reaction time", lambda s: f"{s:g} s"),
    "wind_shares": (
        "of a headwind, of a tailwind, counted",
        lambda both: f"{both[0]:.0%}, {both[1]:.0%}".replace("%", " %"),
    ),
    "pro_rata_credit": ("headwind credit", lambda pro_rata: "pro rata" if pro_rata else "whole steps"),
}

_TOUCHDOWN: dict[str, tuple[str, Callable[[Any], str]]] = {
    "aim_ft": ("aim point", _feet),
    "float_ft": ("flare and float", _feet),
    "flaps_up_float_ft": ("flare and float, flaps up", _feet),
    "zone_ft": ("touchdown zone", _feet),
}
_REWORK: dict[str, tuple[str, Callable[[Any], str]]] = {
    "after_s": ("work again after", lambda s: f"{s / 3600:g} h"),
    "warmer_degC": ("work again if warmer by", lambda degC: f"{degC:g} °C"),
    "wind_kt": ("work again if the wind changes by", lambda kt: f"{kt:g} kt"),
    "heavier_lb": ("work again if heavier by", lambda lb: f"{lb:g} lb"),
}


def rulings(policy: Policy | None) -> tuple[Ruling, ...]:
    """Return every figure of the standard in force that somebody set, in one order."""
    policy = policy or NO_POLICY
    found = [
        Ruling(label, said(getattr(policy, field)), policy.whose[field])
        for field, (label, said) in _WORDS.items()
        if field in policy.whose
    ]
    for group, words in ((policy.touchdown, _TOUCHDOWN), (policy.rework, _REWORK)):
        if group is not None:
            found += [
                Ruling(label, said(getattr(group, field)), group.whose_is(field))
                for field, (label, said) in words.items()
            ]
    for each in policy.braking:
        wet = "wet" if each.wet else "dry"
        found.append(Ruling(f"braking, {wet} {each.surface}", f"{each.deceleration_g:g} g", str(each.source)))
    found += [Ruling(f"caution {each.id}", f"raised to {each.severity}", each.by) for each in policy.severities]
    found += [Ruling(f"asked for: {each.title}", "an answer", each.source.text) for each in policy.asked]
    return tuple(found)

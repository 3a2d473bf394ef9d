"""The policy's figures in words, each with whose it is: what the sheet prints about the standard in force."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from briefgen.model.policy import NEAREST_WORSE, NO_POLICY, Policy
from briefgen.printing import Printing


class Ruling(NamedTuple):
    """One figure in force: what it is, its value as it is printed, and whose it is or where it comes from."""

    label: str
    value: str
    whose: str


def _least(value_ft: float, printing: Printing) -> str:
    """Return a length that is asked for, which is never understated."""
    return printing.as_set(value_ft, upward=True)


def _plain(say: Callable[[Any], str]) -> Callable[[Any, Printing], str]:
    """Return words that are the same in all units."""
    return lambda value, _: say(value)


_WORDS: dict[str, tuple[str, Callable[[Any, Printing], str]]] = {
    "takeoff_factor": ("takeoff factor", _plain(lambda factor: f"{factor.value:g}")),
    "landing_factor": ("landing factor", _plain(lambda factor: f"{factor.value:g}")),
    "takeoff_margin_ft": ("least takeoff margin", _least),
    "landing_margin_ft": ("least landing margin", _least),
    "last_touchdown_share": ("last touchdown", _plain(lambda share: f"{share:.0%} of LDA".replace("%", "\u00a0%"))),
    "gust_share": ("of the gust factor, added", _plain(lambda share: f"{share:.0%}".replace("%", "\u00a0%"))),
    "crosswind_maximum_kt": ("most crosswind", _plain(lambda kt: f"{kt:g} kt")),
    "approach_angle_deg": ("approach angle over an obstacle", _plain(lambda deg: f"{deg:g}°")),
    "obstacle_clearance_ft": ("height over an obstacle", _plain(lambda ft: f"{ft:,.0f}\u00a0ft")),
    "departure_clearance_ft": ("height over a departure obstacle", _plain(lambda ft: f"{ft:,.0f}\u00a0ft")),
    "reaction_s": ("reaction time", _plain(lambda s: f"{s:g} s")),
    "turn_back_height_ft": ("never turn back below, above the field", _plain(lambda ft: f"{ft:,.0f}\u00a0ft")),
    "fuel_reserve_s": ("fuel reserve", _plain(lambda s: f"{s / 60:g}\u00a0min")),
    "daylight_margin_s": ("least daylight after landing", _plain(lambda s: f"{s / 60:g}\u00a0min")),
    "burn_margin": ("on the book's fuel burn", _plain(lambda share: f"{share:+.0%}".replace("%", "\u00a0%"))),
    "minimum_ceiling_ft": ("least ceiling", _plain(lambda ft: f"{ft:,.0f}\u00a0ft")),
    "minimum_visibility_SM": ("least visibility", _plain(lambda sm: f"{sm:g}\u00a0SM")),
    "report_age_min": ("a report is old past", _plain(lambda minutes: f"{minutes:g}\u00a0min")),
    "wind_shares": (
        "of a headwind, of a tailwind, counted",
        _plain(lambda both: f"{both[0]:.0%}, {both[1]:.0%}".replace("%", "\u00a0%")),
    ),
    "pro_rata_credit": ("headwind credit", _plain(lambda pro_rata: "pro rata" if pro_rata else "whole steps")),
    "nearest_worse": (
        "between the printed rows of a distance table",
        _plain(lambda worse: NEAREST_WORSE if worse else "linear"),
    ),
    "units": ("units", _plain(str)),
    "page_size": ("page size", _plain(str)),
    "pages": ("pages after the cautions", _plain(", ".join)),
}

_UNSAID = (("wind_shares", (1.0, 1.0)),)  # all of the wind counts: nothing to say

_TOUCHDOWN: dict[str, tuple[str, Callable[[Any, Printing], str]]] = {
    "aim_ft": ("aim point", lambda ft, printing: printing.as_set(ft, upward=False)),
    "float_ft": ("flare and float", _least),
    "flaps_up_float_ft": ("flare and float, flaps up", _least),
    "zone_ft": ("touchdown zone", lambda ft, printing: printing.as_set(ft, upward=False)),
}
_REWORK: dict[str, tuple[str, Callable[[Any, Printing], str]]] = {
    "after_s": ("work again after", _plain(lambda s: f"{s / 3600:g} h")),
    "warmer_degC": ("work again if warmer by", _plain(lambda degC: f"{degC:g} °C")),
    "wind_kt": ("work again if the wind changes by", _plain(lambda kt: f"{kt:g} kt")),
    "heavier_lb": ("work again if heavier by", lambda lb, printing: printing.said(printing.down(lb, "lb"), "lb")),
}


def rulings(policy: Policy | None) -> tuple[Ruling, ...]:
    """Return every figure of the standard in force that somebody set, in one order."""
    policy = policy or NO_POLICY
    printing = policy.printing
    found = [
        Ruling(label, said(getattr(policy, field), printing), policy.whose[field])
        for field, (label, said) in _WORDS.items()
        if field in policy.whose and (field, getattr(policy, field)) not in _UNSAID
    ]
    for group, words in ((policy.touchdown, _TOUCHDOWN), (policy.rework, _REWORK)):
        if group is not None:
            found += [
                Ruling(label, said(getattr(group, field), printing), group.whose_is(field))
                for field, (label, said) in words.items()
            ]
    for each in policy.braking:
        wet = "wet" if each.wet else "dry"
        found.append(Ruling(f"braking, {wet} {each.surface}", f"{each.deceleration_g:g} g", str(each.source)))
    found += [Ruling(f"caution {each.id}", f"raised to {each.severity}", each.by) for each in policy.severities]
    found += [Ruling(f"asked for: {each.title}", "an answer", each.source.text) for each in policy.asked]
    return tuple(found)

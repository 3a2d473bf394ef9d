"""The facts that rules may ask about the speeds card."""

from __future__ import annotations

from typing import Any

from briefgen.calc.flight import Flight
from briefgen.figures import Figure
from briefgen.units import down, up


def speed_facts(flight: Flight) -> dict[str, Any]:
    """Return the facts of the speeds card, those of `fact_list` under 'speeds'."""
    card, glide = flight.speeds, flight.speeds.glide
    known = [figure.value for _, figure in card.maneuvering if figure.value is not None]
    most_kt = down(min(known)) if len(known) == len(card.maneuvering) else None
    cruise_kt = None if card.cruise_kt is None else up(card.cruise_kt)
    over_kt = None if most_kt is None or cruise_kt is None else max(0.0, cruise_kt - most_kt)
    share = None
    if glide.into.value is not None and glide.still.value:
        share = round(down(glide.into.value / glide.still.value, 0.01), 2)
    return {
        "maneuvering_kt": most_kt,
        "cruise_kt": cruise_kt,
        "cruise_over_maneuvering_kt": over_kt,
        "glide_still_nm": _tenth(glide.still),
        "glide_into_nm": _tenth(glide.into),
        "glide_into_share": share,
        "glide_wind_kt": up(glide.strongest.speed_kt) if glide.strongest else None,
    }


def _tenth(figure: Figure) -> float | None:
    return None if figure.value is None else round(down(figure.value, 0.1), 1)

"""The facts of what is dangerous in the weather at the fields, or was typed better than the reports say."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from briefgen.model.trip import Trip, Use
from briefgen.model.weather import FOG, FREEZING, FUNNEL_CLOUD, HAIL, SHEAR, STORM_CLOUD, THUNDERSTORM, Hazard

_FACTS = {
    "thunderstorms": THUNDERSTORM,
    "funnel_cloud": FUNNEL_CLOUD,
    "hail": HAIL,
    "freezing": FREEZING,
    "storm_clouds": STORM_CLOUD,
    "wind_shear": SHEAR,
    "fog": FOG,
}


def by_field(said: Iterable[tuple[Use, str]]) -> str | None:
    """Return what is said of each field, by its name; None where nothing is."""
    return "; ".join(dict.fromkeys(f"{use.strip.name}: {words}" for use, words in said if words)) or None


def hazard_facts(trip: Trip) -> dict[str, Any]:
    """Return the facts of the dangers of the weather, those of `fact_list` under 'weather'.

    A storm cloud where a thunderstorm is told of already is not told again.
    """
    return {
        name: by_field((use, "; ".join(each.words for each in _told(use, kind))) for use in trip.uses)
        for name, kind in _FACTS.items()
    }


def _told(use: Use, kind: str) -> list[Hazard]:
    found = use.conditions.weather.hazards if use.conditions.weather else ()
    if kind == STORM_CLOUD and any(each.kind == THUNDERSTORM for each in found):
        return []
    return [each for each in found if each.kind == kind]

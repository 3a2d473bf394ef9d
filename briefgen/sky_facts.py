"""The facts of what is dangerous in the weather at the fields, or was typed better than the reports say."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from briefgen.calc.typed import Better, better
from briefgen.item import Item, State
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


def typed_noted(trip: Trip, rows: Iterable[Item]) -> list[Item]:
    """Return rows, those whose wind or air was typed better than was sent with the words of that."""
    found = {each: better(use) for each, use in zip(("takeoff", "landing", "alternate"), trip.uses, strict=False)}
    return [_noted(row, found) for row in rows]


_ROWS = {
    "takeoff-crosswind": ("takeoff", ("wind",)),
    "landing-crosswind": ("landing", ("wind",)),
    "alternate-crosswind": ("alternate", ("wind",)),
    "takeoff-50": ("takeoff", ("wind", "temperature", "altimeter")),
    "landing": ("landing", ("wind", "temperature", "altimeter")),
    "landing-alternate": ("alternate", ("wind", "temperature", "altimeter")),
}


def _noted(row: Item, found: Mapping[str, tuple[Better, ...]]) -> Item:
    where, whats = _ROWS.get(row.id, ("", ()))
    typed = [each for each in found.get(where, ()) if each.what in whats]
    if not typed or row.state is State.NOT_SHOWN:
        return row
    return row._replace(reason="; ".join(filter(None, (row.reason, typed_said(typed)))))


def typed_said(found: Iterable[Better]) -> str:
    """Return what was sent of things that were typed better, as a row says it; '' where none was."""
    said = ", ".join(each.short for each in found)
    return f"typed; reported {said}" if said else ""


def typed_facts(trip: Trip) -> dict[str, Any]:
    """Return the fact of what was typed better than anything sent with it."""
    return {
        "typed_better": by_field((use, "; ".join(each.words for each in better(use))) for use in trip.uses),
    }


def _told(use: Use, kind: str) -> list[Hazard]:
    found = use.conditions.weather.hazards if use.conditions.weather else ()
    if kind == STORM_CLOUD and any(each.kind == THUNDERSTORM for each in found):
        return []
    return [each for each in found if each.kind == kind]

"""The weather at the fields: the rows of ceiling and visibility, the page, and the facts of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Any

from briefgen.calc.minima import cloud_base_estimate
from briefgen.calc.sky import SkyNeed, policy_need, rounded, sky_need, there
from briefgen.figures import Figure
from briefgen.item import Item, State, in_words
from briefgen.model.policy import NO_POLICY
from briefgen.model.trip import Trip, Use
from briefgen.model.weather import Conditions, FieldWeather, NotGiven, Seen, Taken, Told
from briefgen.units import down, up

TITLE = "Ceiling and visibility"
_NONE = FieldWeather("", Seen(None), Seen(None))
_NOT_GIVEN = "the trip file gives no '{}', and no 'report' or 'forecast', under the conditions there"


@dataclass(frozen=True, slots=True)
class FieldPage:
    """The weather at one field. `age` and `old` are of the report; `estimate` a cloud base that nobody reported."""

    where: str
    window: str
    station: str
    report: Told | None
    forecast: Told | None
    age: str
    taken: tuple[Taken, ...]
    asked: str
    estimate: str
    thunderstorms: tuple[str, ...]
    doubts: tuple[str, ...]
    not_decoded: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WeatherPage:
    """The weather at each field that is used, in the order of the flight."""

    fields: tuple[FieldPage, ...]


def weather_row(trip: Trip, use: Use, id: str, where: str, *, night: bool | None) -> Item:
    """Return the item of ceiling and visibility at one field; `night` None: not known, taken as night."""
    if isinstance(use.conditions, NotGiven):
        return in_words(id, TITLE, where, State.NOT_SHOWN, use.conditions.reason, "")
    seen, missing = _weather(use), []
    for key, each in (("ceiling", seen.ceiling), ("visibility", seen.visibility)):
        if each.value is None:
            missing.append(each.reason or _NOT_GIVEN.format(key))
    if seen.ceiling.value is None or seen.visibility.value is None:
        same = not seen.given
        reason = _NOT_GIVEN.format("ceiling' and 'visibility") if same else "; ".join(dict.fromkeys(missing))
        return in_words(id, TITLE, where, State.NOT_SHOWN, reason, "")
    rule, policy = weather_needs(trip, use, night=night)
    (ceiling_ft, sight_SM), asked, own = (
        there(seen.ceiling.value, seen.visibility.value),
        rounded(rule),
        rounded(policy),
    )
    state = State.MEETS if trip.policy else State.UNDER
    if ceiling_ft < own[0] or sight_SM < own[1]:
        state = State.UNDER
    if ceiling_ft < asked[0] or sight_SM < asked[1]:
        state = State.SHORT
    said = f"{_both(ceiling_ft, sight_SM)}; need {_both(*asked)}"
    answer = said + (f"; policy {_both(*own)}" if trip.policy and own != asked else "")
    return in_words(id, TITLE, where, state, "", answer)


def _both(ceiling_ft: float, sight_SM: float) -> str:
    height = "no ceiling" if ceiling_ft == inf else f"{ceiling_ft:,.0f}\u00a0ft"
    return f"{height}, {sight_SM:g}\u00a0SM"


def weather_needs(trip: Trip, use: Use, *, night: bool | None) -> tuple[SkyNeed, SkyNeed]:
    """Return what the rule asks for at a field, and the same under the policy."""
    rule = sky_need(use.strip, night)
    return rule, policy_need(rule, trip.policy or NO_POLICY)


def weather_figures(trip: Trip, use: Use, *, night: bool | None) -> tuple[Figure, ...]:
    """Return the working of what is asked of the weather at a field."""
    rule, policy = weather_needs(trip, use, night=night)
    own = (figure for figure, before in zip(policy, rule, strict=True) if figure is not before)
    return (*rule, *own)


def _weather(use: Use) -> FieldWeather:
    return (isinstance(use.conditions, Conditions) and use.conditions.weather) or _NONE


def _uses(trip: Trip) -> tuple[tuple[str, Use], ...]:
    found = [("Departure", trip.departure.use), ("Destination", trip.arrival.use)]
    return (*found, ("Alternate", trip.alternate.use)) if trip.alternate else tuple(found)


def weather_page(trip: Trip, *, night: bool | None) -> WeatherPage | None:
    """Return the page of the weather; None where the trip file gives none."""
    fields = tuple(_field(trip, place, use, night) for place, use in _uses(trip) if _weather(use).given)
    return WeatherPage(fields) if fields else None


def _field(trip: Trip, place: str, use: Use, night: bool | None) -> FieldPage:
    seen = _weather(use)
    rule, policy = weather_needs(trip, use, night=night)
    of = rule.visibility.steps[0].detail or "a surface area"
    own = f"; by the policy {_both(*rounded(policy))}" if trip.policy and rounded(policy) != rounded(rule) else ""
    taken = "" if use.strip.airspace else "; the strictest, as the strip file gives no 'airspace'"
    taken += "; as at night, as it is not said" if night is None else ""
    return FieldPage(
        where=f"{place}: {use.strip.name}",
        window=seen.window,
        station=seen.station,
        report=seen.report,
        forecast=seen.forecast,
        age=_age(trip, seen),
        taken=tuple(each for each in seen.taken if each.used or each.reported),
        asked=f"asked for in the pattern: {_both(*rounded(rule))} ({of}{taken}){own}",
        estimate=_estimate(seen),
        thunderstorms=seen.thunderstorms,
        doubts=seen.doubts,
        not_decoded=seen.not_decoded,
    )


def _age(trip: Trip, seen: FieldWeather) -> str:
    if seen.report is None:
        return ""
    old = f", older than {trip.policy.report_age_min:g}\u00a0min" if trip.policy and _old(trip, seen) else ""
    return f"report {up(seen.report.age_min):.0f}\u00a0min old when the figures were good{old}"


def _old(trip: Trip, seen: FieldWeather) -> bool:
    most = trip.policy.report_age_min if trip.policy else None
    return seen.report is not None and most is not None and seen.report.age_min > most


def _estimate(seen: FieldWeather) -> str:
    """Return about where cumulus would form, where no ceiling is known and a dew point is."""
    if seen.ceiling.value is not None or seen.spread_degC is None:
        return ""
    figure = cloud_base_estimate(seen.spread_degC, 0.0)
    base_ft = down(figure.known, 100)
    height = f"{base_ft:,.0f}\u00a0ft above the station"
    return f"cumulus would form about {height}: an estimate from the spread, no ceiling"


def weather_facts(trip: Trip) -> dict[str, Any]:
    """Return the facts of the weather, those of `fact_list` under 'weather'."""
    fields = [(use, _weather(use)) for _, use in _uses(trip)]
    spreads = [seen.spread_degC for _, seen in fields if seen.spread_degC is not None]
    return {
        "given": any(seen.given for _, seen in fields),
        "no_conditions_at": _no_conditions_at(trip),
        "thunderstorms": _joined((use, "; ".join(seen.thunderstorms)) for use, seen in fields),
        "not_decoded": _joined((use, " ".join(seen.not_decoded)) for use, seen in fields),
        "old_report": _joined((use, _age(trip, seen) if _old(trip, seen) else "") for use, seen in fields),
        "typed_better": _joined((use, " and ".join(seen.better)) for use, seen in fields),
        "ceiling_under_cruise_ft": _under_cruise(trip, fields),
        "least_spread_degC": round(down(min(spreads), 0.1), 1) if spreads else None,
    }


def _no_conditions_at(trip: Trip) -> str | None:
    """Return the places of which the trip file gives no conditions; None where it gives those of all."""
    places = (place.lower() for place, use in _uses(trip) if isinstance(use.conditions, NotGiven))
    return " and the ".join(places) or None


def _joined(said: Any) -> str | None:
    """Return what is said of each field, by its name; None where nothing is."""
    return "; ".join(dict.fromkeys(f"{use.strip.name}: {words}" for use, words in said if words)) or None


def _under_cruise(trip: Trip, fields: list[tuple[Use, FieldWeather]]) -> float | None:
    """Return how far the lowest ceiling is under the highest leg [ft]; 0 or less: above it."""
    bases = [use.strip.elevation_ft + seen.ceiling.value for use, seen in fields if seen.ceiling.value is not None]
    if trip.route is None or not bases or min(bases) == inf:
        return None
    return up(max(leg.altitude_ft for leg in trip.route.legs) - min(bases), 10)

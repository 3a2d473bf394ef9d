"""The weather at the fields: the rows of ceiling and visibility, the page, and the facts of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from math import inf
from typing import Any

from briefgen.along_page import LegLine, least_over_ground_ft, leg_figures, leg_lines
from briefgen.calc.evening import Evening, FieldSun
from briefgen.calc.minima import cloud_base_estimate
from briefgen.calc.occasion import dark
from briefgen.calc.sky import SkyNeed, policy_need, rounded, sky_need, special_need, there
from briefgen.calc.typed import better, worst_sent
from briefgen.errors import Refusal
from briefgen.figures import Figure
from briefgen.item import Item, State, in_words
from briefgen.model.policy import NO_POLICY
from briefgen.model.route import AloftTold, Sky
from briefgen.model.trip import FOR_INSTRUMENTS, Trip, Use
from briefgen.model.weather import FieldWeather, Hazard, NotGiven, Seen, Taken, Told
from briefgen.reports.moments import said, window
from briefgen.sky_facts import by_field, hazard_facts, typed_facts, typed_said
from briefgen.units import down, up

TITLE = "Ceiling and visibility"
SKY = ("ceiling", "visibility")
CLEARANCE = "special VFR, only with a clearance"
OFF = timedelta(minutes=10)  # how far from the time of use a typed one may be; common practice, no source
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
    hazards: tuple[Hazard, ...]
    doubts: tuple[str, ...]
    soon: tuple[str, ...]  # what of the forecast begins or ends shortly after or before the time of use
    not_decoded: tuple[str, ...]
    warmer: str  # the highest temperature forecast, where it is over the one that is counted


@dataclass(frozen=True, slots=True)
class WeatherPage:
    """The weather at each field that is used, in the order of the flight; and along the legs of a route."""

    fields: tuple[FieldPage, ...]
    legs: tuple[LegLine, ...] = ()
    aloft: AloftTold | None = None
    aloft_times: str = ""  # when that is for use, and whether the flight is then


def weather_row(
    trip: Trip, use: Use, id: str, where: str, *, night: bool | None, light: Evening | None = None
) -> Item:
    """Return the item of ceiling and visibility at one field.

    `night` None: not known, taken as night. `light` has the sun there, which special VFR goes by; None: not known.
    """
    if isinstance(use.conditions, NotGiven):
        return in_words(id, TITLE, where, State.NOT_SHOWN, use.conditions.reason, "")
    seen = _weather(use)
    if seen.ceiling.value is None and seen.visibility.value is None:
        return in_words(id, TITLE, where, State.NOT_SHOWN, _unknown(seen, seen.ceiling, seen.visibility), "")
    try:
        rule, policy = weather_needs(trip, use, night=night, light=light)
    except Refusal as refusal:
        state = State.SHORT if light else State.NOT_SHOWN
        return in_words(id, TITLE, where, state, refusal.reason, refusal.reason if light else "")
    asked, own = rounded(rule), rounded(policy)
    ceiling = _as_far_as_known(seen.ceiling, own[0])
    known = there(ceiling.value, seen.visibility.value)
    state = _state(known, asked, own, trip)
    if state is State.NOT_SHOWN:
        return in_words(id, TITLE, where, state, _unknown(seen, ceiling, seen.visibility), "")
    answer = f"{_both(*known, beyond=ceiling.beyond)}; need {_both(*asked)}"
    answer += f"; policy {_both(*own)}" if trip.policy and own != asked else ""
    answer += f"; {CLEARANCE}" if use.special else ""
    if state is State.MEETS and _typed_over(use, asked):
        state = State.UNDER
    over = typed_said(each for each in better(use) if each.what in SKY)
    return in_words(id, TITLE, where, state, "", "; ".join(filter(None, (answer, over))))


def _state(
    known: tuple[float | None, float | None], asked: tuple[float, float], own: tuple[float, float], trip: Trip
) -> State:
    """Return the state of what is known: short as soon as one of the two is, whatever the other may be."""
    have = [inf if each is None else each for each in known]
    if any(each < least for each, least in zip(have, asked, strict=True)):
        return State.SHORT
    if None in known:
        return State.NOT_SHOWN
    under = any(each < least for each, least in zip(have, own, strict=True))
    return State.MEETS if trip.policy and not under else State.UNDER


def _as_far_as_known(ceiling: Seen, asked_ft: float) -> Seen:
    """Return a ceiling, not known where one is asked for above what the sky is known to be clear up to."""
    if ceiling.value is None or not ceiling.beyond or ceiling.value >= asked_ft:
        return ceiling
    return Seen(None, reason=f"no ceiling is known below {ceiling.value:,.0f}\u00a0ft, and nothing above it")


def _unknown(seen: FieldWeather, ceiling: Seen, sight: Seen) -> str:
    """Return why ceiling or visibility are not known."""
    if not seen.given:
        return _NOT_GIVEN.format("ceiling' and 'visibility")
    lacking = [(key, each) for key, each in (("ceiling", ceiling), ("visibility", sight)) if each.value is None]
    return "; ".join(dict.fromkeys(each.reason or _NOT_GIVEN.format(key) for key, each in lacking))


def _both(ceiling_ft: float | None, sight_SM: float | None, *, beyond: bool = False) -> str:
    height = "ceiling not known" if ceiling_ft is None else f"{ceiling_ft:,.0f}\u00a0ft"
    height = "no ceiling" if ceiling_ft == inf else f"none below {height}" if beyond else height
    return f"{height}, " + ("visibility not known" if sight_SM is None else f"{sight_SM:g}\u00a0SM")


def weather_needs(
    trip: Trip, use: Use, *, night: bool | None, light: Evening | None = None
) -> tuple[SkyNeed, SkyNeed]:
    """Return what the rule asks for at a field, and the same under the policy.

    Raises
    ------
    Refusal : special VFR is planned, and cannot be flown.
    """
    rule = sky_need(use.strip, _night_there(trip, use, night, light))
    if use.special:
        rule = special_need(use.strip, _sun_down(trip, use, light), instrument=use.special == FOR_INSTRUMENTS)
    return rule, policy_need(rule, trip.policy or NO_POLICY)


def _sun_there(trip: Trip, use: Use, light: Evening | None) -> FieldSun | None:
    """Return the sun at a field when it is used; None where that time is not known."""
    fields = zip(trip.uses, light.fields if light else (), strict=False)
    return next((field for each, field in fields if each is use), None)


def _sun_down(trip: Trip, use: Use, light: Evening | None) -> bool | None:
    """Return whether a field is used between sunset and sunrise; None, not known, without a time of it."""
    sun = _sun_there(trip, use, light)
    return None if sun is None else sun.after_sunset


def _night_there(trip: Trip, use: Use, night: bool | None, light: Evening | None) -> bool | None:
    """Return whether it is night at a field when it is used, by the sun or by the trip's own 'night: true'.

    Where no time is known for any field it is `night`, that of the flight; where it is not for this one, as typed.
    """
    typed, sun = trip.fuel.night if trip.fuel else None, _sun_there(trip, use, light)
    if sun is not None:
        return sun.night or typed is True
    return typed if light else night


def weather_figures(
    trip: Trip, use: Use, *, night: bool | None, light: Evening | None = None
) -> tuple[Figure, ...]:
    """Return the working of what is asked of the weather at a field; none where special VFR cannot be flown."""
    try:
        rule, policy = weather_needs(trip, use, night=night, light=light)
    except Refusal:
        return ()
    own = (figure for figure, before in zip(policy, rule, strict=True) if figure is not before)
    return (*rule, *own)


def weather_workings(
    trip: Trip, light: Evening | None, *, night: bool | None
) -> tuple[tuple[str, tuple[Figure, ...]], ...]:
    """Return what is asked of the weather: a title and its figures for each field, and for the legs of a route."""
    found = [(place.lower(), weather_figures(trip, use, night=night, light=light)) for place, use in _uses(trip)]
    legs = leg_figures(trip, night=night, light=light)
    titled = tuple((f"Weather asked for at the {place}", figures) for place, figures in found)
    return (*titled, ("Weather asked for on the way", legs)) if legs else titled


def _weather(use: Use) -> FieldWeather:
    return use.conditions.weather or _NONE


def _uses(trip: Trip) -> tuple[tuple[str, Use], ...]:
    found = [("Departure", trip.departure.use), ("Destination", trip.arrival.use)]
    return (*found, ("Alternate", trip.alternate.use)) if trip.alternate else tuple(found)


def weather_page(trip: Trip, light: Evening | None, *, night: bool | None) -> WeatherPage | None:
    """Return the page of the weather; None where the trip file gives none. `light` says when a field is used."""
    late = _other_times(trip, light)
    fields = tuple(_field(trip, place, use, night, light) for place, use in _uses(trip) if _weather(use).given)
    fields = tuple(
        replace(each, doubts=(*each.doubts, late[each.where])) if each.where in late else each for each in fields
    )
    legs = leg_lines(trip, night=night, light=light)
    typed = trip.route is not None and any(leg.sky != Sky() for leg in trip.route.legs)
    sent = trip.route.aloft if trip.route else None
    times = aloft_times(sent, light)[0] if sent else ""
    return WeatherPage(fields, legs, sent, times) if fields or typed or sent else None


def aloft_times(sent: AloftTold, light: Evening | None) -> tuple[str, bool]:
    """Return when a report of winds aloft is for use, in words; and whether it is known that the flight is then."""
    if sent.use is None:
        return "its times of use are not given", False
    said = f"for use {window(*sent.use)}"
    if light is None:
        return f"{said}; when the flight is, is not known", False
    inside = sent.use[0] <= light.takeoff and light.landing <= sent.use[1]
    return (said if inside else f"{said}, and the flight is {window(light.takeoff, light.landing)}"), inside


def _other_times(trip: Trip, light: Evening | None) -> dict[str, str]:
    """Return when a field is used, in words, of those whose typed time of use is another."""
    found = {}
    for (place, use), field in zip(_uses(trip), light.fields if light else (), strict=False):
        asked_at = _weather(use).asked_at
        if asked_at and abs(asked_at - field.at) > OFF:
            what = "the takeoff is" if field.role == "departure" else "the airplane is there"
            found[_where(place, use)] = f"'at' says {said(asked_at)}, but {what} at {said(field.at)}"
    return found


def _where(place: str, use: Use) -> str:
    return f"{place}: {use.strip.name}"


def _asked(trip: Trip, use: Use, night: bool | None, light: Evening | None) -> str:
    """Return what is asked of the weather at a field, and how that was taken."""
    try:
        rule, policy = weather_needs(trip, use, night=night, light=light)
    except Refusal as refusal:
        return refusal.reason
    own = f"; by the policy {_both(*rounded(policy))}" if trip.policy and rounded(policy) != rounded(rule) else ""
    if use.special:
        said = f"{_both(*rounded(rule))}, clear of clouds"
        return f"asked for under special VFR, {use.special}: {said}; only with a clearance{own}"
    of = rule.visibility.steps[0].detail or "a surface area"
    taken = "" if use.strip.airspace else "; the strictest, as the strip file gives no 'airspace'"
    unsaid = _night_there(trip, use, night, light) is None
    taken += "; as at night, as it is not said" if unsaid else ""
    return f"asked for in the pattern: {_both(*rounded(rule))} ({of}{taken}){own}"


def _field(trip: Trip, place: str, use: Use, night: bool | None, light: Evening | None) -> FieldPage:
    seen = _weather(use)
    return FieldPage(
        where=_where(place, use),
        window=seen.window,
        station=seen.station,
        report=seen.report,
        forecast=seen.forecast,
        age=_age(trip, seen),
        taken=tuple(each for each in seen.taken if each.used or each.reported),
        asked=_asked(trip, use, night, light),
        estimate=_estimate(seen),
        hazards=seen.hazards,
        doubts=(*seen.doubts, *seen.station_doubts),
        soon=seen.soon,
        not_decoded=seen.not_decoded,
        warmer=seen.warmer,
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


def weather_facts(trip: Trip, light: Evening | None) -> dict[str, Any]:
    """Return the facts of the weather, those of `fact_list` under 'weather'."""
    late = _other_times(trip, light).items()
    fields = [(use, _weather(use)) for _, use in _uses(trip)]
    spreads = [seen.spread_degC for _, seen in fields if seen.spread_degC is not None]
    return {
        "given": any(seen.given for _, seen in fields),
        **hazard_facts(trip),
        "no_conditions_at": _no_conditions_at(trip),
        "not_decoded": _not_decoded(trip, fields),
        "old_report": by_field((use, _age(trip, seen) if _old(trip, seen) else "") for use, seen in fields),
        "warmer_forecast": by_field((use, seen.warmer) for use, seen in fields),
        "special_vfr": "; ".join(f"{use.strip.name}, {use.special}" for use in trip.uses if use.special) or None,
        "winds_other_time": _winds_off(trip, light),
        "other_time": "; ".join(f"{where.partition(': ')[2]}: {words}" for where, words in late) or None,
        **typed_facts(trip),
        "station": by_field((use, "; ".join(seen.station_doubts)) for use, seen in fields),
        "soon": by_field((use, "; ".join(seen.soon)) for use, seen in fields),
        "typed_over": by_field((use, _typed_over_rule(trip, use, light)) for use, _ in fields),
        "least_over_ground_ft": least_over_ground_ft(trip),
        "ceiling_under_cruise_ft": _under_cruise(trip, fields),
        "least_spread_degC": round(down(min(spreads), 0.1), 1) if spreads else None,
    }


def _typed_over_rule(trip: Trip, use: Use, light: Evening | None) -> str:
    """Return what was typed of the sky that is enough by the rule, where what was sent is not; '' if nothing."""
    if not better(use):
        return ""
    try:
        asked = weather_needs(trip, use, night=dark(trip.fuel, light)[1], light=light)[0]
    except Refusal:
        return ""
    return _typed_over(use, rounded(asked))


def _typed_over(use: Use, asked: tuple[float, float]) -> str:
    seen = _weather(use)
    worst, used = worst_sent(seen), (seen.ceiling.value, seen.visibility.value)
    found = [
        f"{key} {each.short.removeprefix(key).strip()} reported"
        for each in better(use)
        for key, sent, least, taken in zip(SKY, worst, asked, used, strict=True)
        if each.what == key and sent < least <= (inf if taken is None else taken)
    ]
    return ", ".join(found)


def _no_conditions_at(trip: Trip) -> str | None:
    """Return the places of which the trip file gives no conditions; None where it gives those of all."""
    places = (place.lower() for place, use in _uses(trip) if isinstance(use.conditions, NotGiven))
    return " and the ".join(places) or None


def _winds_off(trip: Trip, light: Evening | None) -> str | None:
    """Return what the winds aloft as sent are for, where that is not known to be the flight; None where it is."""
    sent = trip.route.aloft if trip.route else None
    said, inside = aloft_times(sent, light) if sent else ("", True)
    return None if sent is None or inside else f"{sent.station}: {said}"


def _not_decoded(trip: Trip, fields: list[tuple[Use, FieldWeather]]) -> str | None:
    """Return what of the reports could not be read, by field, and of the winds aloft."""
    lost = trip.route.aloft.not_decoded if trip.route and trip.route.aloft else ()
    said = [by_field((use, " ".join(seen.not_decoded)) for use, seen in fields)]
    said += [f"winds aloft: {' '.join(lost)}"] if lost else []
    return "; ".join(filter(None, said)) or None


def _under_cruise(trip: Trip, fields: list[tuple[Use, FieldWeather]]) -> float | None:
    """Return how far the lowest ceiling is under the highest leg [ft]; 0 or less: above it."""
    bases = [
        use.strip.elevation_ft + seen.ceiling.value
        for use, seen in fields
        if seen.ceiling.value is not None and not seen.ceiling.beyond
    ]
    if trip.route is None or min(bases, default=inf) == inf:
        return None
    return up(max(leg.altitude_ft for leg in trip.route.legs) - min(bases), 10)

"""The light of a flight as it is printed: a line of time, the same in words, the sun at its fields; its facts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial as bound
from math import ceil, floor
from typing import Any

from briefgen.calc.daylight import LIGHTS, LOGGED, NIGHT_RESERVE_MIN, PASSENGERS, SUN, Event, Night, Touched, nights
from briefgen.calc.evening import Evening
from briefgen.calc.flight import Flight
from briefgen.calc.fuel import ruled_reserve
from briefgen.figures import Figure, Step
from briefgen.model.clock import NO_OFFSET, Clock
from briefgen.model.trip import Trip
from briefgen.units import down, up

TWILIGHT, DARK = "twilight", "night"
RISES = {TWILIGHT: "sunrise", DARK: "twilight begins"}  # where such a stretch ends
NOT_SAID = "not said"
HORIZON = "dusk: end of civil twilight; flat horizon at sea level: hills, haze and cloud make it dark sooner."
_MIN = timedelta(minutes=1)
_BEFORE_MIN = 120.0  # how long before the takeoff a sunset or dusk is still drawn


@dataclass(frozen=True, slots=True)
class Moment:
    """A time on the line [min after takeoff]; kind: flight above it, sun below it."""

    kind: str
    label: str
    at_min: float
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Shade:
    """A stretch of twilight or night at the destination [min after takeoff]."""

    kind: str
    from_min: float
    to_min: float


@dataclass(frozen=True, slots=True)
class Timeline:
    """One line of time. `from_min` and `to_min` are its ends and `eta_min` the landing [min after takeoff].

    `takeoff_min` is the takeoff in minutes after midnight UTC, for the scale.
    """

    from_min: float
    to_min: float
    eta_min: float
    takeoff_min: int
    moments: tuple[Moment, ...]
    shades: tuple[Shade, ...]
    text: str


@dataclass(frozen=True, slots=True)
class SunRow:
    """The sun at one field: the time that it is held against, and that evening's events, or why there is none."""

    field: str
    at: str
    sunrise: str
    sunset: str
    dusk: str


@dataclass(frozen=True, slots=True)
class DaylightPage:
    """The light of a flight. `lines` say in words what the drawing shows, and what follows from it."""

    where: str
    rows: tuple[SunRow, ...]
    lines: tuple[str, ...]
    line: Timeline
    horizon: str

    @property
    def has_local(self) -> bool:
        """Whether some times are local, which may be those of another day and then take more room."""
        return any(each.at[-1:] != "Z" for each in self.rows)


def daylight_page(trip: Trip, flight: Flight) -> DaylightPage | None:
    """Return the light of a trip; None where it gives no takeoff time, or its way could not be worked."""
    light = flight.journey.evening
    if light is None:
        return None
    lines = _lines(trip, light)
    return DaylightPage(
        where=light.destination.name,
        rows=tuple(_rows(trip, light)),
        lines=lines,
        line=_timeline(flight, light, lines[0]),
        horizon=f"{_zones(trip)}; {HORIZON}",
    )


def _zones(trip: Trip) -> str:
    """Return what the times are, and what the letters behind them mean."""
    clocks = [each.clock for each in trip.uses]
    names = dict.fromkeys(each.name for each in clocks if each.name)
    if not names:
        return f"UTC: {NO_OFFSET}"
    unknown = "" if all(each.name for each in clocks) else ", where the trip file gives an offset"
    day = f"+1, \u22121: a day after, before that of the takeoff, {trip.takeoff_day}"
    return f"Z: UTC; L: local, {' or '.join(names)}{unknown}; {day}"


def daylight_figures(light: Evening) -> tuple[Figure, ...]:
    """Return what the page prints beside the item's own figures: the reserve, and each event of the sun."""
    sun = [
        _after_takeoff(light, event, each.name)
        for each in light.fields
        for event in (each.day.sunrise, each.day.sunset, each.day.dusk)
        if event.at is not None
    ]
    return (light.reserve._replace(label="reserve of the rule, by the sun"), *sun)


def _after_takeoff(light: Evening, event: Event, name: str) -> Figure:
    """Return an event of the sun in minutes after takeoff; negative: before it."""
    assert event.at is not None
    minutes, label = (event.at - light.takeoff) / _MIN, f"{event.name}, {name}"
    step = Step(event.name, f"{event.name}, after takeoff", event.detail, None, minutes, "min", SUN)
    return Figure(label, "min", minutes, (step,), printed=event.printed)


def _clock(at: datetime) -> str:
    return f"{at:%H:%M}Z"


def _rows(trip: Trip, light: Evening) -> Iterator[SunRow]:
    """Return a row of UTC for each field, and one of local time below it where its clocks are known."""
    for field, use in zip(light.fields, trip.uses, strict=False):
        events = (field.day.sunrise, field.day.sunset, field.day.dusk)
        what = "takeoff" if field.role == "departure" else "ETA"
        yield SunRow(
            f"{field.name}, {field.role}",
            f"{what} {_clock(field.at)}",
            *(each.printed if each.at else "none" for each in events),
        )
        if use.clock.name:
            local = bound(use.clock.local, since=trip.takeoff_day)
            yield SunRow(
                f"{field.name}, {use.clock.name}",
                f"{what} {local(field.at)}",
                *(local(each.whole) if each.whole else "none" for each in events),
            )


def _event(trip: Trip, event: Event, clock: Clock) -> str:
    """Return when an event is, with local time where that is known; the reason where there is none."""
    return clock.words(event.whole, trip.takeoff_day) if event.whole else event.printed


def _night_clock(trip: Trip) -> Clock:
    """Return the clock that times of the way are said by: none where the fields have several."""
    clocks = {each.clock for each in trip.uses}
    return clocks.pop() if len(clocks) == 1 else Clock()


def left_min(light: Evening) -> float | None:
    """Return how long before sunset the landing is [min], from the printed times; negative: after it."""
    return None if light.have.value is None else down(light.have.value) - up(light.need.known)


def _lines(trip: Trip, light: Evening) -> tuple[str, ...]:
    """Return the light of a flight in words."""
    home, left, use, day = light.destination, left_min(light), trip.arrival.use, trip.takeoff_day
    about = "about " if light.estimate else ""
    landing = f"Landing {about}{use.clock.words(light.landing, day)}"
    if left is None:
        first = f"{landing}: {home.reason}."
    else:
        gap = f"{left:,.0f}\u00a0min before" if left >= 0 else f"{-left:,.0f}\u00a0min after"
        dusk = home.day.dusk
        twilight = f"civil twilight ends {_event(trip, dusk, use.clock)}" if dusk.at else dusk.printed
        first = f"{landing}, {gap} sunset {_event(trip, home.day.sunset, use.clock)}; {twilight}."
    rises = home.day.sunrise
    if home.before_sunrise_min is not None:
        first = f"{landing}, {home.dark} {_event(trip, rises, use.clock)}."
    said = _night_clock(trip)
    touched = [
        f"{each.night.used_for}, from {said.words(each.parts[0][0], day)} to {said.words(each.parts[-1][1], day)}"
        for each in light.nights
        if each.parts
    ]
    second = f"The flight is in the night: for {'; for '.join(touched)}." if touched else ""
    second = second or "No part of the flight is in the night, for lights, logging or carrying persons."
    minutes, why = ruled_reserve(trip.fuel.night if trip.fuel else None, light.reserve)
    reserve = f"Reserve of the rule {minutes:.0f}\u00a0min: {why}."
    lights = f"Lighting of runway {use.end.ident}: {use.runway.lighting or NOT_SAID}."
    return first, second, reserve, *_others_lit(trip, light), *((lights,) if _dark_soon(light) else ())


def _others_lit(trip: Trip, light: Evening) -> Iterator[str]:
    """Return the lighting of the departure's and the alternate's runways, where these are used in the dark."""
    uses = {"departure": trip.departure.use, "alternate": trip.alternate.use if trip.alternate else None}
    for field in light.fields:
        use = uses.get(field.role)
        if use and field.dark:
            yield f"Lighting of {use.name}, {field.role}: {use.runway.lighting or NOT_SAID}."


def _dark_soon(light: Evening) -> bool:
    """Say whether the lighting matters: the flight, or the reserve after it, is in the night for lights."""
    return light.destination.after_sunset or light.reserve.known == NIGHT_RESERVE_MIN or bool(light.nights[0].parts)


def _timeline(flight: Flight, light: Evening, text: str) -> Timeline:
    """Return the line of time: the flight and its fuel, and the sun at the destination."""
    fuel, home = flight.journey.fuel, light.destination
    eta_min = up(light.need.known)
    moments = [Moment("flight", f"takeoff {_clock(light.takeoff)}", 0.0)]
    moments.append(Moment("flight", f"ETA {_clock(light.landing)}", eta_min, strong=True))
    for each in light.fields[2:]:
        moments.append(Moment("flight", f"{each.name} {_clock(each.at)}", (each.at - light.takeoff) / _MIN))
    for label, figure in (("wheels down by", fuel.down_by), ("fuel out", fuel.endurance)):
        if figure is not None and figure.known >= 1:
            minutes = down(figure.known)
            moments.append(Moment("flight", f"{label} {_clock(light.takeoff + minutes * _MIN)}", minutes))
    for label, event in (("sunset", home.day.sunset), ("twilight ends", home.day.dusk)):
        if event.at is not None:
            minutes = floor((event.at - light.takeoff) / _MIN)
            moments.append(Moment("sun", f"{label} {event.printed}", minutes, strong=label == "sunset"))
    moments = [each for each in moments if each.at_min >= -_BEFORE_MIN]
    start, end = (pick(each.at_min for each in moments) for pick in (min, max))
    end = max(end, start + 60.0)
    shades = _shades(light, start, end)
    moments += [
        Moment("sun", f"{RISES[each.kind]} {_clock(light.takeoff + each.to_min * _MIN)}", each.to_min)
        for each in shades
        if each.to_min < end
    ]
    return Timeline(
        from_min=start,
        to_min=end,
        eta_min=eta_min,
        takeoff_min=light.takeoff.hour * 60 + light.takeoff.minute,
        moments=tuple(moments),
        shades=shades,
        text=text,
    )


def _shades(light: Evening, start: float, end: float) -> tuple[Shade, ...]:
    """Return twilight and night at the destination along the line; night lies over twilight."""
    span = light.takeoff + floor(start) * _MIN, light.takeoff + ceil(end) * _MIN
    found = {each.night: each.parts for each in nights(span, [light.destination.spot])}
    return tuple(
        Shade(kind, (first - light.takeoff) / _MIN, (last - light.takeoff) / _MIN)
        for kind, night in ((TWILIGHT, LIGHTS), (DARK, LOGGED))
        for first, last in found[night]
    )


def daylight_facts(trip: Trip, flight: Flight) -> dict[str, Any]:
    """Return the facts of the light; null where the trip gives no takeoff time."""
    light, runway = flight.journey.evening, trip.arrival.use.runway
    facts: dict[str, Any] = {"given": light is not None, "lighting": runway.lighting or NOT_SAID}
    if light is None:
        names = ("eta", "sunset", "dusk", "left_min", "lights_from", "logged_from", "passengers_from")
        return {**facts, **dict.fromkeys(names), "after_sunset": False, "night_reserve": False, "overruled": False}
    home, day = light.destination, light.destination.day
    by_night = light.reserve.known == NIGHT_RESERVE_MIN
    typed = trip.fuel.night if trip.fuel else None
    return {
        **facts,
        "eta": _clock(light.landing),
        "sunset": day.sunset.printed if day.sunset.at else None,
        "dusk": day.dusk.printed if day.dusk.at else None,
        "left_min": left_min(light),
        "after_sunset": home.after_sunset,
        "lights_from": _from(light.nights, LIGHTS),
        "logged_from": _from(light.nights, LOGGED),
        "passengers_from": _from(light.nights, PASSENGERS),
        "night_reserve": by_night and typed is not True,
        "overruled": by_night and typed is False,
    }


def _from(touched: tuple[Touched, ...], night: Night) -> str | None:
    return next(each.begins for each in touched if each.night is night) or None


def daylight_said(trip: Trip, flight: Flight) -> dict[str, str]:
    """Return the words of the facts that are times, with local time; none where no offset from UTC is known."""
    light, there, way = flight.journey.evening, trip.arrival.use.clock, _night_clock(trip)
    if light is None:
        return {}
    home, night = light.destination.day, {each.night: each.parts for each in light.nights}
    times = {
        "eta": (there, light.landing),
        "sunset": (there, home.sunset.whole),
        "dusk": (there, home.dusk.whole),
        **{
            f"{name}_from": (way, night[each][0][0])
            for name, each in (("lights", LIGHTS), ("logged", LOGGED), ("passengers", PASSENGERS))
            if night[each]
        },
    }
    return {
        f"daylight.{name}": clock.words(at, trip.takeoff_day)
        for name, (clock, at) in times.items()
        if at and clock.name
    }

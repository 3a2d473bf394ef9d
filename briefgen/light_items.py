"""The rows of the light: the landing held against sunset, and a takeoff or an alternate's landing in the dark."""

from __future__ import annotations

from briefgen.calc.daylight import NEVER_RISES
from briefgen.calc.evening import FieldSun
from briefgen.calc.flight import Flight
from briefgen.item import Item, State, in_words, item
from briefgen.model.policy import NO_POLICY
from briefgen.model.strip import NO_LIGHTING
from briefgen.model.trip import Trip, Use

ABOUT = "≈"


def daylight_row(trip: Trip, flight: Flight, where: str) -> Item:
    """Return the landing held against sunset at the destination, both in minutes after takeoff.

    In the dark it is short, or under policy where the runway has lights: what is not said counts as none. Before
    sunrise it is held against that, in words.
    """
    id, title, found, rules = "daylight", "Before sunset", flight.journey.evening, trip.policy or NO_POLICY
    if found is None:
        return in_words(id, title, where, State.NOT_SHOWN, flight.journey.dark_reason, "")
    home, dark, lights = found.destination, in_the_dark(trip.arrival.use), lights_said(trip.arrival.use)
    if home.before_sunrise_min is not None:
        return in_words(
            id, "After sunrise", where, dark, "", f"{home.dark} {home.day.sunrise.printed}, and {lights}"
        )
    if found.have.value is None:
        down = found.have.reason == NEVER_RISES
        said = f"{found.have.reason}; {lights}" if down else found.have.reason
        return in_words(id, title, where, dark if down else State.MEETS if trip.policy else State.UNDER, "", said)
    row = item(
        id,
        title,
        where,
        found.need,
        found.need,
        found.have,
        policy=trip.policy,
        minimum=rules.daylight_margin_s / 60,
        printing=rules.printing,
    )
    if home.after_sunset:
        return row._replace(state=dark, reason=f"{home.dark}, and {lights}")
    return row._replace(reason=f"{ABOUT} an estimate: {found.estimate}" if found.estimate else "")


def takeoff_in_the_dark(trip: Trip, flight: Flight, where: str) -> tuple[Item, ...]:
    """Return the row of a takeoff in the dark, by the lighting of its runway; none by day."""
    light = flight.journey.evening
    return (
        _dark_row("takeoff-dark", "Takeoff in the dark", where, light.fields[0], trip.departure.use)
        if light
        else ()
    )


def alternate_in_the_dark(trip: Trip, flight: Flight, where: str) -> tuple[Item, ...]:
    """Return the same of the landing at the alternate, where the way there is worked."""
    light = flight.journey.evening
    if light is None or trip.alternate is None or len(light.fields) < 3:
        return ()
    return _dark_row("alternate-dark", "Alternate in the dark", where, light.fields[2], trip.alternate.use)


def _dark_row(id: str, title: str, where: str, field: FieldSun, use: Use) -> tuple[Item, ...]:
    if not field.dark:
        return ()
    return (in_words(id, title, where, in_the_dark(use), "", f"{field.dark}, and {lights_said(use)}"),)


def in_the_dark(use: Use) -> State:
    """Return the state that the use of a runway in the dark has; lighting that is not said counts as none."""
    return State.UNDER if use.runway.lit else State.SHORT


def lights_said(use: Use) -> str:
    """Return what is said of the lighting of a runway, in words."""
    lighting, ident = use.runway.lighting, use.end.ident
    if not lighting:
        return f"no lighting of runway {ident} is said"
    return f"runway {ident} has " + ("no lighting" if lighting == NO_LIGHTING else f"lighting: {lighting}")

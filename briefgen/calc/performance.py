"""Enter the handbook's climb and cruise tables along a route: the air at each level, and what each climb takes."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import isfinite
from typing import NamedTuple

from briefgen.calc.atmosphere import pressure_altitude, standard_temperature
from briefgen.errors import Refusal
from briefgen.figures import Figure, Source, Step, Steps, stated
from briefgen.handbook.climb import Climbed, ClimbTable, End
from briefgen.handbook.cruise import Air, CruiseTable, Cruising
from briefgen.model.aircraft import Aircraft
from briefgen.model.route import Fuel, Leg, Route, TemperatureAloft
from briefgen.model.trip import Departure
from briefgen.model.weather import NotGiven

ALTIMETER = Source("altitude, and the departure's pressure altitude less its elevation", "standard")
ALOFT = Source("trip file, linear in height between levels", "pilot")
TYPED = Source("trip file", "pilot")
SUM = Source("distances of a leg and its parts", "standard")
SPLIT = Source("in proportion to the climb's distance", "standard")
FIELD = "the field"
NO_AIR = "no conditions"  # what a refusal is about that is no fault of the leg


class Tables(NamedTuple):
    """What the tables are entered with along a route. `climb` None: no table, or the trip types the climb's fuel.

    `weight_lb` is the takeoff's, for the whole way: no table of a lighter airplane is entered.
    """

    elevation_ft: float
    pressure_altitude_ft: float
    temperature_degC: float
    weight_lb: float
    climb: ClimbTable | None = None
    cruise: tuple[CruiseTable, ...] = ()


class NoTables(NamedTuple):
    """The tables where the trip file gives no air to enter them with: why, and why no climb is worked.

    The latter is '' where none is to be, because its fuel is typed or there is no table of it.
    """

    reason: str
    climb_reason: str


def tables(aircraft: Aircraft, departure: Departure, fuel: Fuel | None) -> Tables | NoTables | None:
    """Return the tables of an airplane, and the departure's air and weight to enter them with.

    None where one of those could not be read from the trip file, so that it is no number.

    Parameters
    ----------
    aircraft : its climb table is left out where the trip types the climb's fuel.
    departure : its field, its weather and its weight.
    fuel : as typed.
    """
    climb_typed = fuel is not None and fuel.climb_gal is not None
    strip, conditions = departure.use.strip, departure.use.conditions
    if isinstance(conditions, NotGiven):
        wanted = aircraft.climb and not climb_typed
        return NoTables(conditions.reason, conditions.reason if wanted else "")
    if not all(map(isfinite, (departure.weight_lb, conditions.temperature_degC, conditions.altimeter_hPa))):
        return None
    return Tables(
        elevation_ft=strip.elevation_ft,
        pressure_altitude_ft=pressure_altitude(strip.elevation_ft, conditions.altimeter_hPa),
        temperature_degC=conditions.temperature_degC,
        weight_lb=departure.weight_lb,
        climb=None if climb_typed else aircraft.climb,
        cruise=aircraft.cruise,
    )


def cruising(leg: Leg, route: Route, book: Tables | NoTables | None) -> Cruising:
    """Return the airspeed and the fuel flow of a leg: as typed, or from the table for its power.

    Raises
    ------
    Refusal : there is no such table, or it refuses.
    """
    if leg.airspeed_kt is not None and leg.flow_galh is not None:
        speed, flow = (leg.airspeed_kt, "true airspeed", "kt"), (leg.flow_galh, "fuel flow", "gal/h")
        return Cruising(_typed(*speed), _typed(*flow), TYPED)
    if isinstance(book, NoTables):
        raise Refusal(book.reason, NO_AIR)
    table = next((each for each in book.cruise if each.power == leg.power), None) if book else None
    if table is None or book is None:
        raise Refusal(f"the handbook's tables have no power setting '{leg.power}'", "power")
    air, steps = level(leg, route.temperatures, book)
    return table.cruise(air, book.weight_lb, steps)


def _typed(value: float, label: str, unit: str) -> Figure:
    return stated(label, unit, value, "as typed", TYPED)


def level(leg: Leg, levels: Sequence[TemperatureAloft], book: Tables) -> tuple[Air, Sequence[Step]]:
    """Return the air at a leg's altitude, and the steps that say it: its pressure altitude, its temperature.

    Parameters
    ----------
    leg : its own temperature goes before the levels'.
    levels : temperatures aloft, in any order.
    book : has the departure's pressure altitude and elevation.
    """
    height_ft = leg.altitude_ft + book.pressure_altitude_ft - book.elevation_ft
    found_degC = leg.temperature_degC
    try:
        if found_degC is None:
            found_degC = temperature_aloft(levels, leg.altitude_ft)
        air = Air(height_ft, found_degC, found_degC - standard_temperature(height_ft))
    except Refusal as refusal:
        air = Air(height_ft, None, None, refusal.reason)
    return air, Steps(lambda: tuple(_level_steps(leg, air)))


def _level_steps(leg: Leg, air: Air) -> Iterator[Step]:
    height_ft, name = air.pressure_altitude_ft, _feet(leg.altitude_ft)
    more_ft = height_ft - leg.altitude_ft
    detail = f"{'+' if more_ft >= 0 else '−'}{abs(more_ft):,.0f}\u00a0ft"
    label = f"pressure altitude at {name}"
    yield Step("pressure altitude", label, detail, leg.altitude_ft, height_ft, "ft", ALTIMETER)
    if air.temperature_degC is not None and air.above_standard_degC is not None:
        by = ALOFT if leg.temperature_degC is None else TYPED
        yield _warmth(name, air.temperature_degC, air.above_standard_degC, by)


def _warmth(name: str, found_degC: float, above_degC: float, by: Source) -> Step:
    side = "above" if above_degC >= 0 else "below"
    detail = f"{abs(above_degC):.1f}\u00a0°C {side} standard"
    return Step("temperature", f"temperature at {name}", detail, None, found_degC, "degC", by)


def temperature_aloft(levels: Sequence[TemperatureAloft], height_ft: float) -> float:
    """Return the temperature [degC] at a height, linear between levels that are given and never past them.

    Parameters
    ----------
    levels : none or more, in any order.
    height_ft : height above sea level [ft], from the lowest level to the highest.

    Raises
    ------
    Refusal : there are no levels, or the height is below the lowest or above the highest.

    >>> temperature_aloft([TemperatureAloft(3000, 20), TemperatureAloft(6000, 14)], 4500)
    17.0
    """
    ordered = sorted(levels)
    for each in ordered:
        if each.height_ft == height_ft:
            return each.temperature_degC
    for low, high in pairwise(ordered):
        if low.height_ft < height_ft < high.height_ft:
            share = (height_ft - low.height_ft) / (high.height_ft - low.height_ft)
            return low.temperature_degC + share * (high.temperature_degC - low.temperature_degC)
    if not ordered:
        raise Refusal(f"no temperature is given for {_feet(height_ft)}", "temperature")
    ends = f"{ordered[0].height_ft:,.0f} to {_feet(ordered[-1].height_ft)}"
    raise Refusal(f"there is no temperature for {_feet(height_ft)}: those given go from {ends}", "temperature")


def climbs(route: Route, book: Tables) -> tuple[Climbed | None, ...]:
    """Return the climb that begins each leg: from the field, then from the leg before where that is lower.

    Raises
    ------
    Refusal : the table refuses one of them.
    """
    assert book.climb is not None
    field_degC = book.temperature_degC - standard_temperature(book.pressure_altitude_ft)
    low = End(FIELD, book.pressure_altitude_ft, book.temperature_degC, field_degC)
    steps: Sequence[Step] = (
        Step("pressure altitude", f"pressure altitude of {FIELD}", "", None, low[1], "ft", ALTIMETER),
        _warmth(FIELD, book.temperature_degC, field_degC, TYPED),
    )
    found: list[Climbed | None] = []
    for leg in route.legs:
        air, level_steps = level(leg, route.temperatures, book)
        high = End(_feet(leg.altitude_ft), *air)
        if found and high.pressure_altitude_ft <= low.pressure_altitude_ft:
            found.append(None)
        else:
            known = low if (low.above_standard_degC, high.above_standard_degC) != (None, None) else None
            begins = known or low._replace(above_standard_degC=field_degC)
            climbed = book.climb.climb(begins, high, book.weight_lb)
            time = _after((steps, level_steps), climbed.time)
            found.append(climbed._replace(time=time))
        low, steps = high, level_steps
    return tuple(found)


def _after(before: Sequence[Sequence[Step]], figure: Figure) -> Figure:
    """Return a figure whose working begins with other steps."""
    return figure._replace(steps=Steps(lambda: (*(step for steps in before for step in steps), *figure.steps)))


def joined(pending: Climbed | None, more: Climbed | None) -> Climbed | None:
    """Return what is left of one climb and the one that goes on from it as one climb."""
    if pending is None or more is None:
        return pending or more
    speeds = None
    if pending.speeds_kt and more.speeds_kt:
        speeds = pending.speeds_kt[0], more.speeds_kt[1]
    return Climbed(
        _joined(pending.time, more.time),
        _joined(pending.fuel, more.fuel),
        _joined(pending.distance, more.distance),
        more.source,
        speeds,
        more.technique,
    )


def _joined(first: Figure, second: Figure) -> Figure:
    value = first.known + second.known
    words = "with what was left of the climb before"
    step = Step(first.label, first.label, words, second.known, value, first.unit, SUM)
    return second._replace(value=value, steps=Steps(lambda: (*first.steps, *second.steps, step)))


def parted(climbed: Climbed, share: float, to: str) -> tuple[Climbed, Climbed]:
    """Return the part of a climb that is done on the way to a place, and the rest of it; `share` from 0 to 1."""
    return (
        _part(climbed, share, f"the part of it to {to}"),
        _part(climbed, 1 - share, f"what is left of it after {to}"),
    )


def _part(climbed: Climbed, share: float, words: str) -> Climbed:
    def part(figure: Figure) -> Figure:
        value = figure.known * share
        detail = f"{share:.1%}".replace("%", "\u00a0%")
        step = Step(figure.label, words, detail, figure.known, value, figure.unit, SPLIT)
        return figure._replace(value=value, steps=Steps(lambda: (*figure.steps, step)))

    return climbed._replace(time=part(climbed.time), fuel=part(climbed.fuel), distance=part(climbed.distance))


def _feet(height_ft: float) -> str:
    return f"{height_ft:,.0f}\u00a0ft"

"""Rate of climb and gradient over the ground, by the handbook's own tables, after a takeoff or a go-around."""

from typing import NamedTuple

from briefgen.calc.atmosphere import density_ratio, standard_temperature, true_airspeed
from briefgen.calc.distance import NoAir, Scene
from briefgen.calc.speeds import calibrated, calibration
from briefgen.figures import Figure, Source, Step, Steps, missing, stated
from briefgen.handbook.climb import NEAR_STANDARD_DEGC
from briefgen.model.aircraft import BALKED, CLIMB, Aircraft, ClimbRates
from briefgen.units import FT_PER_NM, down, up

NO_FIGURES = "no climb figures in the aircraft file: their key is rate_of_climb"
DENSITY = Source("ICAO standard atmosphere, Doc 7488, dry air", "standard")
COUNTED = Source("wind along the runway as counted", "standard")
GEOMETRY = Source("worked from the figures above", "standard")
_COLUMNS = ("temperature_degC", "above_standard_degC")


class Climb(NamedTuple):
    """A climb in one flap setting.

    `speed` [kt indicated], `true` [kt] the same as true airspeed, `rate` [ft/min], `gradient` [ft/NM over the
    ground]; `technique`: how the table says to fly.
    """

    flaps: str
    speed: Figure
    true: Figure
    rate: Figure
    gradient: Figure
    technique: str = ""

    @property
    def percent(self) -> float | None:
        """The gradient in feet up for 100 ft along the ground, None where it was not worked."""
        return None if self.gradient.value is None else 100 * self.gradient.value / FT_PER_NM


def rates_for(aircraft: Aircraft, flaps: str, *purposes: str) -> ClimbRates | None:
    """Return the table for a flap setting, by the first of some purposes that has one."""
    of_flaps = [each for each in aircraft.climb_rates if each.flaps == flaps]
    return next((each for purpose in purposes for each in of_flaps if each.purpose == purpose), None)


def after_takeoff(
    aircraft: Aircraft, scene: Scene | NoAir, flaps: str, weight_lb: float, above_field_ft: float = 0.0
) -> Climb:
    """Work the climb after a takeoff; nothing stands in for a flap setting without a table.

    Parameters
    ----------
    aircraft : its tables for `climb`.
    scene : the departure runway in its air.
    flaps : the setting that the pilot climbs in.
    weight_lb : takeoff weight [lb].
    above_field_ft : how high above the field the climb is worked [ft], 0 or more.
    """
    rates = rates_for(aircraft, flaps, CLIMB)
    others = [each.flaps for each in aircraft.climb_rates if each.purpose == CLIMB]
    why = NO_FIGURES
    if others:
        named = f"to climb in another setting, {' or '.join(others)}, write climb_flaps under the trip's departure"
        why = f"no rate of climb for flaps {flaps} in the aircraft file (rate_of_climb); {named}"
    return _climb(aircraft, rates, scene, flaps, weight_lb, above_field_ft, why)


def after_go_around(aircraft: Aircraft, scene: Scene | NoAir, flaps: str, weight_lb: float) -> Climb:
    """Work the climb after a go-around: from the table for a balked landing, else from that for a climb.

    Parameters
    ----------
    aircraft : its tables.
    scene : the landing runway in its air.
    flaps : the setting that the landing is flown with; nothing stands in for one without a table.
    weight_lb : landing weight [lb].
    """
    rates = rates_for(aircraft, flaps, BALKED, CLIMB)
    why = NO_FIGURES
    if aircraft.climb_rates:
        why = f"no rate of climb for flaps {flaps} in the aircraft file (rate_of_climb, for: {BALKED})"
    return _climb(aircraft, rates, scene, flaps, weight_lb, 0.0, why)


def said(climb: Climb) -> str:
    """Return a climb in words, rates and gradients rounded down; why it is not shown, where it is not."""
    if climb.rate.value is None:
        return f"not shown: {climb.rate.reason}"
    rate = f"{down(climb.rate.value, 10):,.0f}\u00a0ft/min".replace("-", "−")
    if climb.gradient.value is None or climb.percent is None:
        return f"{rate}; no gradient: {climb.gradient.reason.removeprefix('none: ')}"
    gradient = f"{down(climb.gradient.value, 5):,.0f}\u00a0ft/NM, {down(climb.percent, 0.1):.1f}\u00a0%"
    return f"{rate}, {gradient}, at {up(climb.speed.known):.0f}\u00a0kt, flaps {climb.flaps}"


def _climb(
    aircraft: Aircraft,
    rates: ClimbRates | None,
    scene: Scene | NoAir,
    flaps: str,
    weight_lb: float,
    above_field_ft: float,
    why: str,
) -> Climb:
    if rates is None:
        return _not_worked(flaps, why)
    if isinstance(scene, NoAir):
        return _not_worked(flaps, scene.reason)
    height_ft, degC = scene.pressure_altitude_ft + above_field_ft, scene.conditions.temperature_degC
    above_degC = degC - standard_temperature(height_ft)
    axes = rates.table.grid.axes
    if above_degC > NEAR_STANDARD_DEGC and not any(axis.name in _COLUMNS for axis in axes):
        page = rates.table.source.text
        words = f"the table is for standard temperature, and it is {above_degC:,.1f} °C warmer ({page})"
        return _not_worked(flaps, words, "temperature_degC")
    inputs = {
        "pressure_altitude_ft": height_ft,
        "temperature_degC": degC,
        "above_standard_degC": above_degC,
        "weight_lb": weight_lb,
    }
    rate = rates.table.read("rate", f"rate of climb, flaps {flaps}", inputs)
    if rate.value is None:
        return _not_worked(flaps, rate.reason, rate.about)
    speed = _speed(rates, flaps, inputs)
    true = _true(aircraft, flaps, speed, height_ft, degC)
    return Climb(flaps, speed, true, rate, _gradient(rate, true, scene), rates.table.technique)


def _speed(rates: ClimbRates, flaps: str, inputs: dict[str, float]) -> Figure:
    words, value = "printed for the whole table", rates.speed_kt
    if value is None:
        words, value = "as the rows of the table print it", rates.table.value("speed", inputs)
    return stated(f"climb speed, flaps {flaps}", "kt", value, words, rates.table.source)


def _true(aircraft: Aircraft, flaps: str, speed: Figure, height_ft: float, degC: float) -> Figure:
    density = density_ratio(height_ft, degC)
    calibrated_kt = calibrated(aircraft, flaps, speed.known)

    def detail() -> str:
        known = calibration(aircraft, flaps, speed.known) is not None
        words = f"{calibrated_kt:,.1f} kt {'calibrated' if known else 'indicated, no calibration is printed,'}"
        return f"{words} ÷ √{density:.4f}, pressure altitude {height_ft:,.0f} ft, {degC:g} °C"

    return stated("true airspeed of the climb", "kt", true_airspeed(calibrated_kt, density), detail, DENSITY)


def _gradient(rate: Figure, true: Figure, scene: Scene) -> Figure:
    """Return the gradient over the ground [ft/NM]: a headwind steepens it, a tailwind flattens it."""
    label, unit, along = "climb gradient", "ft/NM", scene.counted_kt
    ground_kt = true.known - along
    if rate.known <= 0:
        return missing(label, unit, "none: the table gives no climb here")
    if ground_kt <= 0:
        return missing(label, unit, "the headwind is as fast as the climb")
    value = rate.known * 60 / ground_kt

    def steps() -> tuple[Step, ...]:
        wind = f"− headwind {along:,.1f}" if along >= 0 else f"+ tailwind {-along:,.1f}"
        name, percent = "ground speed of the climb", 100 * value / FT_PER_NM
        over_ground = f"{percent:.2f} ft up for 100 ft along the ground"
        words = f"{rate.known:,.1f} ft/min × 60 ÷ {ground_kt:,.1f} kt; {over_ground}"
        return (
            *true.steps,
            Step(name, name, f"{true.known:,.1f} {wind}", None, ground_kt, "kt", COUNTED),
            Step(label, label, words, None, value, unit, GEOMETRY),
        )

    return Figure(label, unit, value, Steps(steps))


def _not_worked(flaps: str, reason: str, about: str = "") -> Climb:
    return Climb(
        flaps,
        missing(f"climb speed, flaps {flaps}", "kt", reason, about),
        missing("true airspeed of the climb", "kt", reason, about),
        missing(f"rate of climb, flaps {flaps}", "ft/min", reason, about),
        missing("climb gradient", "ft/NM", reason, about),
    )

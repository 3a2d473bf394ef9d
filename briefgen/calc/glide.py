"""How far the airplane glides: the handbook's range in still air, and over the ground in the wind."""

from typing import NamedTuple

from briefgen.calc.atmosphere import density_ratio, pressure_altitude, standard_temperature, true_airspeed
from briefgen.calc.legs import Navigation, wind_said
from briefgen.calc.speeds import calibrated, speed
from briefgen.figures import Figure, Source, Step, missing
from briefgen.model.aircraft import UP, Aircraft
from briefgen.model.route import Route, WindAloft
from briefgen.model.trip import Trip
from briefgen.model.weather import Conditions, NotGiven, Wind

OVER_THE_GROUND = Source("range by ground speed over true airspeed", "standard")
DENSITY = Source("calibrated airspeed by the root of the density; ICAO standard atmosphere, Doc 7488", "standard")
NO_GLIDE = "the aircraft file has no speeds: best_glide"
NO_RANGE = "the aircraft file has no speeds: best_glide: range_per_1000_ft"
STILL, INTO, DOWNWIND = "glide per 1,000\u00a0ft, still air", "glide into the wind", "glide downwind"


class Blow(NamedTuple):
    """A wind that the glide may meet: its speed [kt], and where: aloft at a height, or at a field, in words."""

    speed_kt: float
    met: WindAloft | str
    height_ft: float = 0.0

    @property
    def words(self) -> str:
        """What it is, in words."""
        return self.met if isinstance(self.met, str) else f"{wind_said(self.met)}, {self.height_ft:,.0f}\u00a0ft"


class Glide(NamedTuple):
    """The glide: the speed to hold [kt indicated], and the range [NM] for each 1,000 ft of height."""

    speed: Figure
    still: Figure
    into: Figure
    downwind: Figure
    strongest: Blow | None = None  # None: not all the winds are known
    weakest: Blow | None = None


def glide(trip: Trip, navigation: Navigation | None) -> Glide:
    """Work the glide at the takeoff weight.

    Each way the worse is taken. Into the wind: the strongest of the steady winds at both fields and of those that
    the route is worked with at or below its highest leg, and the slower true airspeed, of the departure's air or of
    that leg's. Downwind: the weakest of those winds, which is all that the whole way down is sure to have, and the
    faster true airspeed. The speed is not changed for the wind. Without the conditions at either field not all the
    winds are known, and only still air is worked.
    """
    aircraft = trip.aircraft
    best = speed(aircraft.best_glide, "best glide", trip.departure.weight_lb)
    if aircraft.best_glide is None:
        best = missing("best glide", "kt", NO_GLIDE)
    if aircraft.glide_nm is None or best.value is None:
        reason = NO_RANGE if best.value is not None else best.reason
        none = [missing(label, "NM", reason) for label in (STILL, INTO, DOWNWIND)]
        return Glide(best, none[0], none[1], none[2])
    printed = Step(
        STILL, STILL, "printed, zero wind", None, aircraft.glide_nm.value, "NM", Source(aircraft.glide_nm.page)
    )
    still = Figure(STILL, "NM", aircraft.glide_nm.value, (printed,))
    ground, home = trip.departure.use.conditions, trip.arrival.use.conditions
    if isinstance(ground, NotGiven) or isinstance(home, NotGiven):
        reason = next(each.reason for each in (ground, home) if isinstance(each, NotGiven))
        return Glide(best, still, missing(INTO, "NM", reason), missing(DOWNWIND, "NM", reason))
    blows = winds_met(trip.route, navigation, (ground.wind, home.wind))
    strongest, weakest = (pick(blows, key=lambda blow: blow.speed_kt) for pick in (max, min))
    ratios = densities(trip.departure.use.strip.elevation_ft, ground, navigation)
    into = _in_wind(INTO, still, _true(aircraft, best, max(ratios)), -1, strongest)
    downwind = _in_wind(DOWNWIND, still, _true(aircraft, best, min(ratios)), 1, weakest)
    return Glide(best, still, into, downwind, strongest, weakest)


def winds_met(route: Route | None, navigation: Navigation | None, fields: tuple[Wind, Wind]) -> tuple[Blow, ...]:
    """Return the winds that a glide may meet: aloft at or below the highest leg, and steady at both fields.

    Parameters
    ----------
    route : as typed; None without one.
    navigation : the same worked.
    fields : the winds at the departure and at the destination.
    """
    found = []
    if route is not None and navigation is not None and navigation.legs:
        top_ft = max(each.leg.altitude_ft for each in navigation.legs)
        found = [Blow(each.wind.speed_kt, each.wind, each.leg.altitude_ft) for each in navigation.legs]
        found += [Blow(each.speed_kt, each, each.height_ft) for each in route.winds if each.height_ft <= top_ft]
    for place, surface in zip(("departure", "destination"), fields, strict=True):
        found.append(Blow(surface.steady_kt, f"{surface.text or 'calm'}, steady, at the {place}"))
    return tuple(found)


def densities(elevation_ft: float, ground: Conditions, navigation: Navigation | None) -> tuple[float, ...]:
    """Return the density ratio of the air at the departure, and at the highest leg where there is one.

    Parameters
    ----------
    elevation_ft : the departure's [ft].
    ground : its conditions.
    navigation : the route worked; None without one.
    """
    heights_ft = [elevation_ft]
    if navigation is not None and navigation.legs:
        heights_ft.append(max(each.leg.altitude_ft for each in navigation.legs))
    return tuple(density_aloft(elevation_ft, ground, height_ft) for height_ft in heights_ft)


def density_aloft(elevation_ft: float, ground: Conditions, height_ft: float) -> float:
    """Return the density ratio of dry air at a height, with the departure's pressure and its warmth above standard.

    Parameters
    ----------
    elevation_ft : the departure's [ft].
    ground : its conditions.
    height_ft : above sea level, -1,000 to 25,000 [ft].
    """
    field_ft, there_ft = (pressure_altitude(each, ground.altimeter_hPa) for each in (elevation_ft, height_ft))
    warmer_degC = ground.temperature_degC - standard_temperature(field_ft)
    return density_ratio(there_ft, standard_temperature(there_ft) + warmer_degC)


def _true(aircraft: Aircraft, best: Figure, ratio: float) -> Step:
    """Return the step to the true airspeed of the glide [kt]."""
    slow_kt = calibrated(aircraft, UP, best.known)
    words = f"{slow_kt:.1f}\u00a0kt in air {ratio:.3f} as dense as the standard's at sea level"
    return Step("true airspeed", "true airspeed", words, None, true_airspeed(slow_kt, ratio), "kt", DENSITY)


def _in_wind(label: str, still: Figure, true: Step, sign: int, wind: Blow) -> Figure:
    """Return the range over the ground, `sign` +1 downwind and -1 into the wind; refused where no ground is won."""
    over_kt = true.after + sign * wind.speed_kt
    if over_kt <= 0:
        reason = f"a wind of {wind.speed_kt:.0f} kt is no less than the true airspeed of {true.after:.0f} kt"
        return missing(label, "NM", reason, "wind")
    value = still.known * over_kt / true.after
    words = f"× {over_kt:.1f} / {true.after:.1f}\u00a0kt: {wind.words}"
    step = Step(label, label, words, still.known, value, "NM", OVER_THE_GROUND)
    return Figure(label, "NM", value, (*still.steps, true, step), estimate=True)

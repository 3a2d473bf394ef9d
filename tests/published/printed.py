"""The printed airplanes of the outside checks, read through the real reader, and the air to put them in."""

from __future__ import annotations

from pathlib import Path

from briefgen.calc.distance import Scene, scene
from briefgen.calc.runway import Have
from briefgen.calc.wind import on_runway
from briefgen.figures import Figure, Source
from briefgen.files.document import read
from briefgen.files.entry import opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.model.aircraft import Aircraft
from briefgen.model.policy import Factor, Touchdown
from briefgen.model.weather import Conditions, Wind

DATA = Path(__file__).resolve().parent.parent / "data"
FIG_11_24 = DATA / "published_fig_11_24"
FIG_11_32 = DATA / "published_fig_11_32"
STANDARD_HPA = 1013.25  # pressure altitude is then the elevation
CALM = Wind(None, 0.0, 0.0)


def read_airplane(path: Path) -> Aircraft:
    """Return the airplane of a file."""
    return read_aircraft(opened(read(path, path.name), "aircraft"))


def headwind(knots: float) -> Wind:
    """Return a steady wind straight down the runway of `place`; negative is a tailwind."""
    return Wind(360.0 if knots >= 0 else 180.0, abs(knots), abs(knots))


def place(
    pressure_altitude_ft: float,
    temperature_degC: float,
    wind: Wind = CALM,
    *,
    surface: str = "paved",
    length_ft: float = 10_000.0,
    slope: float = 0.0,
) -> Scene:
    """Return a dry runway 36 with standard pressure, so that its elevation is its pressure altitude."""
    length = Figure("length", "ft", length_ft)
    have = Have(length, length, length, length, 0.0, slope, 0.0, length_ft)
    conditions = Conditions(temperature_degC, STANDARD_HPA, wind, "dry")
    return scene(surface, pressure_altitude_ft, conditions, on_runway(wind, 360.0), have)


def touchdown(aim_ft: float, float_ft: float = 0.0, flaps_up_float_ft: float | None = None) -> Touchdown:
    """Return a pilot's touchdown figures."""
    up_ft = float_ft if flaps_up_float_ft is None else flaps_up_float_ft
    return Touchdown(aim_ft, float_ft, up_ft, 200.0, Source("test"))


def factor(value: float) -> Factor:
    """Return a policy's safety factor."""
    return Factor(value, Source("test", "policy"))

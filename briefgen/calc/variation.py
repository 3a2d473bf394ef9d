"""Magnetic variation by the World Magnetic Model, for a date, a place and a height."""

from functools import cache
from typing import Any

from briefgen.errors import Refusal
from briefgen.figures import Source

FIRST_YEAR, PAST_YEAR = (
    2025.0,
    2030.0,
)  # the life of WMM2025, by its own report (NOAA and BGS)
WEAKEST_NT = 6000.0  # of the horizontal field: below it the model's own report cautions against compasses
MODEL = Source("World Magnetic Model 2025 (NOAA NCEI and BGS)", "published")
_KM_PER_FT = 0.3048 / 1000


@cache
def _model() -> Any:
    from pygeomag import GeoMag
    from pygeomag.wmm.wmm_2025 import WMM_2025

    return GeoMag(coefficients_data=WMM_2025)


@cache
def variation(latitude_deg: float, longitude_deg: float, height_ft: float, year: float) -> float:
    """Return the magnetic variation [deg, east positive].

    Parameters
    ----------
    latitude_deg, longitude_deg : place [deg], north and east positive.
    height_ft : height above sea level [ft], taken as that above the ellipsoid: a hundred metres move it by nothing.
    year : date as a decimal year, 2025.0 up to, not including, 2030.0.

    Raises
    ------
    Refusal : the date is outside the model's life, or the place is too near a magnetic pole for a compass.
    """
    if not FIRST_YEAR <= year < PAST_YEAR:
        raise Refusal("the magnetic model holds from 2025-01-01 to 2029-12-31", "year")
    found = field(latitude_deg, longitude_deg, height_ft * _KM_PER_FT, year)
    if found.h < WEAKEST_NT:
        raise Refusal("too near a magnetic pole for a compass and the magnetic model", "variation")
    return float(found.d)


def field(latitude_deg: float, longitude_deg: float, height_km: float, year: float) -> Any:
    """Return the model's field: `d` is the declination [deg, east positive], `h` the horizontal intensity [nT].

    Parameters
    ----------
    latitude_deg, longitude_deg : place [deg], north and east positive.
    height_km : height above the ellipsoid [km].
    year : date as a decimal year, in the model's life.
    """
    return _model().calculate(glat=latitude_deg, glon=longitude_deg, alt=height_km, time=year)

"""The standard atmosphere below the tropopause: pressure altitude, density altitude, true airspeed.

Source: ICAO standard atmosphere, Doc 7488, in closed form. Air is dry unless a dew point is given: in hot,
saturated air humidity raises the density altitude by up to about 540 ft. Vapor by the formula of the National
Weather Service.
"""

from __future__ import annotations

from math import sqrt

from briefgen.units import FT_PER_M

SEA_LEVEL_HPA = 1013.25  # ICAO Doc 7488
SEA_LEVEL_K = 288.15  # ICAO Doc 7488
KELVIN = 273.15  # 0 degC
LAPSE_K_PER_FT = 0.0065 / FT_PER_M  # ICAO Doc 7488: 6.5 K per km
EXPONENT = 9.80665 / (287.05287 * 0.0065)  # g0 / (R L): ICAO Doc 7488
VAPOR_HPA, VAPOR_EXPONENT, VAPOR_DEGC = 6.11, 7.5, 237.7  # NWS, vapor pressure over water
VAPOR_SHARE = 0.622  # NWS: weight of water vapor as a share of dry air's
LOWEST_FT, HIGHEST_FT = -16_000.0, 36_089.0  # ICAO Doc 7488: -5 km to the tropopause


def standard_temperature(pressure_altitude_ft: float) -> float:
    """Return the standard temperature [degC].

    Parameters
    ----------
    pressure_altitude_ft : -16,000 to 36,089 [ft]

    Raises
    ------
    ValueError : outside that range.

    >>> round(standard_temperature(1500), 1)
    12.0
    """
    _check(pressure_altitude_ft)
    return SEA_LEVEL_K - KELVIN - LAPSE_K_PER_FT * pressure_altitude_ft


def pressure(pressure_altitude_ft: float) -> float:
    """Return the standard pressure [hPa] at a pressure altitude of -16,000 to 36,089 [ft]."""
    _check(pressure_altitude_ft)
    ratio: float = (1 - LAPSE_K_PER_FT * pressure_altitude_ft / SEA_LEVEL_K) ** EXPONENT
    return SEA_LEVEL_HPA * ratio


def pressure_altitude(elevation_ft: float, altimeter_hPa: float) -> float:
    """Return the pressure altitude [ft] of a field.

    An altimeter setting is by definition the pressure that puts the standard atmosphere's zero at sea level,
    so the correction does not depend on the elevation.

    Parameters
    ----------
    elevation_ft : height of the field above mean sea level [ft]
    altimeter_hPa : altimeter setting [hPa], 850 to 1090

    >>> round(pressure_altitude(0, 1013.25))
    0
    """
    correction: float = SEA_LEVEL_K / LAPSE_K_PER_FT * (1 - (altimeter_hPa / SEA_LEVEL_HPA) ** (1 / EXPONENT))
    return elevation_ft + correction


def density_ratio(pressure_altitude_ft: float, temperature_degC: float) -> float:
    """Return the density of dry air as a share of the standard's at sea level.

    Parameters
    ----------
    pressure_altitude_ft : -16,000 to 36,089 [ft]
    temperature_degC : outside air temperature [degC]
    """
    return pressure(pressure_altitude_ft) / SEA_LEVEL_HPA * SEA_LEVEL_K / (temperature_degC + KELVIN)


def density_altitude(pressure_altitude_ft: float, temperature_degC: float) -> float:
    """Return the height [ft] in the standard atmosphere at which dry air has this density.

    Parameters
    ----------
    pressure_altitude_ft : -16,000 to 36,089 [ft]
    temperature_degC : outside air temperature [degC]

    >>> round(density_altitude(5000, 30))
    7801
    """
    ratio = density_ratio(pressure_altitude_ft, temperature_degC)
    return float(SEA_LEVEL_K / LAPSE_K_PER_FT * (1 - ratio ** (1 / (EXPONENT - 1))))


def vapor_pressure(dew_point_degC: float) -> float:
    """Return the pressure of the water vapor in air [hPa].

    Parameters
    ----------
    dew_point_degC : -60 to 60 [degC]; the temperature itself gives the pressure in saturated air.

    Source: National Weather Service, density altitude formula.

    >>> round(vapor_pressure(0), 2)
    6.11
    """
    return float(VAPOR_HPA * 10 ** (VAPOR_EXPONENT * dew_point_degC / (VAPOR_DEGC + dew_point_degC)))


def relative_humidity(temperature_degC: float, dew_point_degC: float) -> float:
    """Return the relative humidity, 1 in saturated air.

    Parameters
    ----------
    temperature_degC : outside air temperature, -60 to 60 [degC]
    dew_point_degC : not above the temperature [degC]

    Source: vapor pressure by the formula of the National Weather Service, as a share of the saturated.
    """
    return vapor_pressure(dew_point_degC) / vapor_pressure(temperature_degC)


def virtual_temperature(pressure_altitude_ft: float, temperature_degC: float, dew_point_degC: float) -> float:
    """Return the temperature [degC] at which dry air is as thin as this humid air.

    Parameters
    ----------
    pressure_altitude_ft : -16,000 to 36,089 [ft]
    temperature_degC : outside air temperature [degC]
    dew_point_degC : not above the temperature [degC]

    Source: National Weather Service, density altitude formula: Tv = T / (1 - (e / P) (1 - 0.622)).
    """
    share = vapor_pressure(dew_point_degC) / pressure(pressure_altitude_ft)
    return (temperature_degC + KELVIN) / (1 - share * (1 - VAPOR_SHARE)) - KELVIN


def humid_density_altitude(pressure_altitude_ft: float, temperature_degC: float, dew_point_degC: float) -> float:
    """Return the height [ft] in the standard atmosphere at which dry air has the density of this humid air.

    Parameters
    ----------
    pressure_altitude_ft : -16,000 to 36,089 [ft]
    temperature_degC : outside air temperature [degC]
    dew_point_degC : not above the temperature [degC]

    >>> round(humid_density_altitude(5000, 30, 20))
    8141
    """
    thin_degC = virtual_temperature(pressure_altitude_ft, temperature_degC, dew_point_degC)
    return density_altitude(pressure_altitude_ft, thin_degC)


def true_airspeed(calibrated_kt: float, ratio: float) -> float:
    """Return the true airspeed [kt] of a light airplane (compressibility left out) at a density ratio."""
    return calibrated_kt / sqrt(ratio)


def _check(pressure_altitude_ft: float) -> None:
    if not LOWEST_FT <= pressure_altitude_ft <= HIGHEST_FT:
        raise ValueError(f"{pressure_altitude_ft:,.0f} ft is outside {LOWEST_FT:,.0f} to {HIGHEST_FT:,.0f} ft")

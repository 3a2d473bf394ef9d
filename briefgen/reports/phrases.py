"""The codes in plain words.

Source: Federal Meteorological Handbook No. 1 (FCM-H1, chapter 12, tables 12-2 and 12-3) and WMO-No. 306 (FM 15,
code table 4678) for what each code means; the sentences are our own.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from briefgen.model.weather import Wind
from briefgen.reports.model import Visibility, Weather

MINUS = "\u2212"

PRECIPITATION: Mapping[str, str] = MappingProxyType(
    {
        "DZ": "drizzle",
        "RA": "rain",
        "SN": "snow",
        "SG": "snow grains",
        "IC": "ice crystals",
        "PL": "ice pellets",
        "GR": "hail",
        "GS": "small hail or snow pellets",
        "UP": "precipitation of unknown kind",
    }
)
OTHER: Mapping[str, str] = MappingProxyType(
    {
        "BR": "mist",
        "FG": "fog",
        "FU": "smoke",
        "VA": "volcanic ash",
        "DU": "widespread dust",
        "SA": "sand",
        "HZ": "haze",
        "PY": "spray",
        "PO": "whirls of dust or sand",
        "SQ": "squalls",
        "FC": "funnel cloud",
        "SS": "sandstorm",
        "DS": "dust storm",
    }
)
_NAMES = {**PRECIPITATION, **OTHER}
_UNGRADED = ("IC", "GR", "GS")  # no intensity is coded for these alone (FMH 12.6.8)

# A descriptor, and what the first phenomenon after it can be; '' where it can stand alone.
DESCRIPTORS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "MI": ("FG",),
        "PR": ("FG",),
        "BC": ("FG",),
        "DR": ("SN", "DU", "SA"),
        "BL": ("SN", "DU", "SA", "PY"),
        "SH": ("", *PRECIPITATION),
        "TS": ("", *PRECIPITATION),
        "FZ": ("FG", "DZ", "RA", "UP"),
    }
)
_DESCRIBED = {
    "MI": "shallow {}",
    "PR": "{} over part of the field",
    "BC": "patches of {}",
    "DR": "low drifting {}",
    "BL": "blowing {}",
    "SH": "showers of {}",
    "FZ": "freezing {}",
}
_WIND_BORNE = ("DR", "BL")  # no intensity is meant where none is coded
_GRADES = {"-": "light ", "+": "heavy ", "": "moderate "}

DIRECTIONS: Mapping[str, str] = MappingProxyType(
    {
        "N": "north",
        "NE": "northeast",
        "E": "east",
        "SE": "southeast",
        "S": "south",
        "SW": "southwest",
        "W": "west",
        "NW": "northwest",
    }
)
AMOUNTS: Mapping[str, str] = MappingProxyType(
    {"FEW": "few", "SCT": "scattered", "BKN": "broken", "OVC": "overcast", "VV": "vertical visibility"}
)
EIGHTHS: Mapping[str, str] = MappingProxyType(
    {"FEW": "1 to 2 eighths", "SCT": "3 to 4 eighths", "BKN": "5 to 7 eighths", "OVC": "8 eighths"}
)
CLOUD_TYPES: Mapping[str, str] = MappingProxyType({"CB": "cumulonimbus", "TCU": "towering cumulus"})


def feet(height_ft: float) -> str:
    """Return a length in words: whole feet."""
    return f"{height_ft:,.0f}\u00a0ft"


def degrees_C(temperature_degC: float, digits: int) -> str:
    """Return a temperature in words, with so many decimals; nil has no sign."""
    text = f"{temperature_degC:.{digits}f}".replace("-", MINUS)
    return f"{text}\u00a0°C"


def wind_words(wind: Wind, more_than: bool = False) -> str:
    """Return a wind in words."""
    if wind.gust_kt == 0:
        return "calm"
    start = "of variable direction" if wind.from_deg is None else f"from {wind.from_deg:03.0f}° true"
    least = " or more" if more_than else ""
    gust = f", gusting {wind.gust_kt:.0f}\u00a0kt{least}" if wind.gust_kt > wind.steady_kt else ""
    steady = f"{wind.steady_kt:.0f}\u00a0kt{least if not gust else ''}"
    between = ""
    if wind.between_deg:
        first, last = wind.between_deg
        between = f", varying between {first:03.0f}° and {last:03.0f}°"
    return f"{start} at {steady}{gust}{between}"


def visibility_words(visibility: Visibility, said: str) -> str:
    """Return a visibility in words; `said` is the figure with its unit."""
    if visibility.less_than:
        return f"less than {said}"
    return f"more than {said}" if visibility.more_than else said


def weather_words(weather: Weather) -> str:
    """Return weather in words."""
    if weather.phenomena == ("FC",):
        words = "tornado or waterspout" if weather.intensity else "funnel cloud"
    else:
        words = _described(weather)
    if weather.nearby:
        return f"{words} nearby, not at the field"
    return f"earlier, not now: {words}" if weather.recent else words


def _described(weather: Weather) -> str:
    graded = any(code in PRECIPITATION and code not in _UNGRADED for code in weather.phenomena)
    plain = weather.nearby or weather.recent or weather.descriptor in _WIND_BORNE or not graded
    grade = "" if plain and not weather.intensity else _GRADES[weather.intensity]
    names = " and ".join(_NAMES[code] for code in weather.phenomena)
    if weather.descriptor == "TS":
        return f"thunderstorm with {grade}{names}" if names else "thunderstorm"
    if weather.descriptor:
        names = _DESCRIBED[weather.descriptor].format(names) if names else "showers"
    return f"{grade}{names}"

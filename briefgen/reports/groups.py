"""The groups that reports and forecasts share: wind, visibility, weather, cloud.

Source: Federal Meteorological Handbook No. 1, chapter 12 (read), and WMO-No. 306, FM 15 and FM 51 (read),
section by section beside each rule; steps of figures (tens of degrees, 50 m) from memory.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import inf

from briefgen.model.weather import Wind
from briefgen.reports import model
from briefgen.reports.model import Ceiling, Cloud, Group, ReportedWind, Shear, Visibility, Weather
from briefgen.reports.phrases import (
    AMOUNTS,
    CLOUD_TYPES,
    DESCRIPTORS,
    DIRECTIONS,
    EIGHTHS,
    OTHER,
    PRECIPITATION,
    feet,
    visibility_words,
    weather_words,
    wind_words,
)
from briefgen.reports.scan import Reading, rule
from briefgen.units import KT_PER_KMH, NM_PER_KM, NM_PER_SM

_KT = {"KT": 1.0, "MPS": 3.6 * KT_PER_KMH, "KMH": KT_PER_KMH}
_FASTEST_KT = 250  # no more is believed; the highest gust ever measured is below it (from memory)
SM_PER_KM = NM_PER_KM / NM_PER_SM
NO_CLOUD_BELOW_FT = 5000.0  # what CAVOK and NSC say at least (WMO-No. 306, 15.10)
CLEAR_BELOW_FT = 12_000.0  # how far up an automated station's CLR holds (FMH-1 table 12-3)


def _wind(found: re.Match[str]) -> Reading:
    """Read wind: FMH 12.6.5, WMO 15.5."""
    scale = _KT[found["unit"]]
    if (steady := _speed(found["steady"])) is None or (gust := _speed(found["gust"] or found["steady"])) is None:
        return None
    from_deg = None if found["from"] == "VRB" else float(found["from"])
    if from_deg is not None and not _is_direction(from_deg, calm=steady == gust == 0):
        return None
    between = None
    if found.groupdict().get("first"):
        between = (float(found["first"]), float(found["last"]))
        if from_deg is None or not all(map(_is_direction, between)):
            return None
    if gust < steady or gust * scale > _FASTEST_KT:
        return None
    wind = Wind(None if gust == 0 else from_deg, steady * scale, gust * scale, between, found[0])
    more_than = "P" in found["steady"] + (found["gust"] or "")
    return wind_words(wind, more_than), ReportedWind(wind, more_than)


def _speed(text: str) -> float | None:
    """Return a coded speed; P99 is 100 at least. Three digits only from 100 on."""
    if text.startswith("P"):
        return 100.0 if text == "P99" else None
    return None if len(text) == 3 and text[0] == "0" else float(text)


def _is_direction(from_deg: float, *, calm: bool = False) -> bool:
    """Whether a direction can be coded: tens of degrees from 10 to 360; 0 only of a calm."""
    return from_deg % 10 == 0 and (from_deg == 0 if calm else 0 < from_deg <= 360)


def miles(whole: str | None, upper: str | None, lower: str | None) -> tuple[float, str] | None:
    """Return statute miles [SM] of a whole number and a fraction, and how they are said; None of no such figure.

    >>> miles("1", "1", "2"), miles(None, "1", "3")
    ((1.5, '1 1/2\\xa0SM'), None)
    """
    if upper is None or lower is None:
        return float(whole or 0), f"{int(whole or 0)}\u00a0SM"
    if lower not in ("2", "4", "8", "16") or not 0 < int(upper) < int(lower):
        return None
    start = f"{int(whole)} " if whole else ""
    return float(whole or 0) + int(upper) / int(lower), f"{start}{upper}/{lower}\u00a0SM"


MILES = r"(?:(?P<upper>\d{1,2})/(?P<lower>\d{1,2})|(?P<whole>\d{1,2})(?: (?P<up>\d)/(?P<low>\d{1,2}))?)"


def read_miles(found: re.Match[str]) -> tuple[float, str] | None:
    """Return what `MILES` matched: the distance [SM] and how it is said."""
    return miles(found["whole"], found["upper"] or found["up"], found["lower"] or found["low"])


def _visibility_SM(found: re.Match[str]) -> Reading:
    """Read visibility in statute miles: FMH 12.6.6."""
    figure = read_miles(found)
    if figure is None:
        return None
    visibility = Visibility(figure[0], found["side"] == "M", found["side"] == "P", found[0])
    return f"visibility {visibility_words(visibility, figure[1])}", visibility


def _visibility_m(found: re.Match[str]) -> Reading:
    """Read visibility in metres: WMO 15.6. 9999 is 10 km or more, 0000 less than 50 m."""
    metres, where = int(found["metres"]), found["where"]
    if metres == 9999 and not where:
        return "visibility 10\u00a0km or more", Visibility(10 * SM_PER_KM, more_than=True, text=found[0])
    if metres % 50:
        return None
    toward = f" to the {DIRECTIONS[where]}" if where else ""
    least = Visibility(max(metres, 50) / 1000 * SM_PER_KM, metres == 0, text=found[0])
    return f"visibility{toward} {visibility_words(least, f'{max(metres, 50):,}' + chr(0xA0) + 'm')}", least


def _weather(found: re.Match[str]) -> Reading:
    """Read weather: FMH 12.6.8 and table 12-2."""
    codes = re.findall("..", found["codes"])
    descriptor = codes.pop(0) if codes[0] in DESCRIPTORS else ""
    sign, near_by = found["sign"] or "", found["place"] == "VC"
    if any(code in DESCRIPTORS for code in codes) or len(codes) > 3 or len(set(codes)) < len(codes):
        return None
    if descriptor and (codes[0] if codes else "") not in DESCRIPTORS[descriptor]:
        return None
    if len(codes) > 1 and not set(codes) <= set(PRECIPITATION):
        return None
    if descriptor == "SH" and not codes and not near_by:
        return None
    if sign and not (set(codes) & {*PRECIPITATION, "SS", "DS"} or (sign == "+" and codes == ["FC"])):
        return None
    weather = Weather(sign, descriptor, tuple(codes), near_by, found["place"] == "RE")
    words = weather_words(weather)
    return words, weather._replace(words=words)


_CODES = "|".join((*DESCRIPTORS, *PRECIPITATION, *OTHER))


def _layer(found: re.Match[str]) -> Reading:
    """Read a layer, or vertical visibility: FMH 12.6.9."""
    code, height = found["amount"], found["height"]
    base_ft = None if height == "///" else float(height) * 100
    kind = CLOUD_TYPES.get(found["type"] or "", "")
    where = "height not observed" if base_ft is None else f"{feet(base_ft)} above the ground"
    layer = Cloud(AMOUNTS[code], base_ft, kind, None, found[0])
    if code == "VV":
        return f"sky hidden, vertical visibility {where}", layer
    eighths = f" ({EIGHTHS[code]})"
    return f"{AMOUNTS[code]} clouds{eighths} at {where}{', ' + kind if kind else ''}", layer


def _unobserved_layer(found: re.Match[str]) -> Reading:
    kind = CLOUD_TYPES.get(found["type"] or "", "")
    return f"{kind or 'cloud'}: amount or height not observed", Cloud("", None, kind, None, found[0])


def _no_cloud(words: str, clear_below_ft: float | None) -> Callable[[re.Match[str]], Reading]:
    return lambda found: (words, Cloud("none", None, "", clear_below_ft, found[0]))


def _shear(found: re.Match[str]) -> Reading:
    """Read a wind aloft that shears: a TAF's WS group."""
    from_deg, speed_kt, height_ft = float(found["from"]), float(found["speed"]), float(found["height"]) * 100
    if not _is_direction(from_deg) or speed_kt > _FASTEST_KT:
        return None
    wind = Wind(from_deg, speed_kt, speed_kt, None, found[0])
    return f"wind shear: {feet(height_ft)} above the ground the wind is {wind_words(wind)}", Shear(height_ft, wind)


def _runway_shear(found: re.Match[str]) -> Reading:
    where = f"runway {found['runway']}" if found["runway"] else "all runways"
    return f"wind shear on {where}", Shear(None, None)


_WIND = r"(?P<from>\d{3}|VRB)(?P<steady>P?\d{2,3})(?:G(?P<gust>P?\d{2,3}))?(?P<unit>KT|MPS|KMH)"
_SHEAR_WIND = r"(?P<from>\d{3})(?P<speed>\d{2,3})KT"
SHARED = (
    rule(model.WIND, _WIND + r" (?P<first>\d{3})V(?P<last>\d{3})", _wind),
    rule(model.WIND, _WIND, _wind),
    rule(model.WIND, r"/////(?:KT|MPS)", "wind not observed"),
    rule(
        model.CAVOK,
        "CAVOK",
        lambda found: (
            f"visibility 10\u00a0km or more, no cloud below {feet(NO_CLOUD_BELOW_FT)} (or the highest minimum "
            "sector altitude), no cumulonimbus, no significant weather",
            Visibility(10 * SM_PER_KM, more_than=True, text=found[0]),
        ),
    ),
    rule(model.VISIBILITY, rf"(?P<side>[MP]?){MILES}SM", _visibility_SM),
    rule(model.VISIBILITY, r"(?P<metres>\d{4})(?P<where>N|NE|E|SE|S|SW|W|NW)?(?:NDV)?", _visibility_m),
    rule(model.VISIBILITY, r"////(?:SM)?", "visibility not observed"),
    rule(model.WEATHER, rf"(?:(?P<sign>[+-])|(?P<place>VC|RE))?(?P<codes>(?:{_CODES}){{1,4}})", _weather),
    rule(model.WEATHER, "NSW", lambda _: ("no significant weather", Weather(words="no significant weather"))),
    rule(model.WEATHER, "//", "weather not observed"),
    rule(model.CLOUD, r"(?P<amount>FEW|SCT|BKN|OVC)(?P<height>\d{3}|///)(?P<type>CB|TCU|///)?", _layer),
    rule(model.CLOUD, r"(?P<amount>VV)(?P<height>\d{3}|///)(?P<type>)", _layer),
    rule(model.CLOUD, r"///(?:///)?(?P<type>CB|TCU|///)?", _unobserved_layer),
    rule(model.CLOUD, "SKC", _no_cloud("sky clear, by an observer", None)),
    rule(
        model.CLOUD,
        "CLR",
        _no_cloud(f"no cloud found at or below {feet(CLEAR_BELOW_FT)}, by an automated station", CLEAR_BELOW_FT),
    ),
    rule(
        model.CLOUD,
        "NSC",
        _no_cloud(
            f"no cloud below {feet(NO_CLOUD_BELOW_FT)} (or the highest minimum sector altitude) and no "
            "cumulonimbus",
            NO_CLOUD_BELOW_FT,
        ),
    ),
    rule(model.CLOUD, "NCD", _no_cloud("no cloud detected, by an automated station", NO_CLOUD_BELOW_FT)),
    rule(model.SHEAR, rf"WS(?P<height>\d{{3}})/{_SHEAR_WIND}", _shear),
    rule(model.SHEAR, r"WS (?:R(?:WY)?(?P<runway>\d{2}[LCR]?)|ALL RWYS?)", _runway_shear),
)


def ceilings(groups: tuple[Group, ...]) -> tuple[list[tuple[Ceiling, Group]], str]:
    """Return every ceiling that groups give, the lowest first, and why the lowest is not known, or ''.

    A ceiling is the lowest broken or overcast layer, or the vertical visibility (FMH 9.4.5). Where cloud is
    reported and none of it is a ceiling, the one found has no height.
    """
    found: list[tuple[Ceiling, Group]] = []
    clear: list[tuple[Ceiling, Group]] = []
    unknown = ""
    for group in groups:
        value = group.value
        if isinstance(value, Ceiling):
            found.append((value, group))
        elif group.kind == model.CAVOK:
            clear.append((Ceiling(None, group.text, NO_CLOUD_BELOW_FT), group))
        elif isinstance(value, Cloud):
            if value.amount in ("broken", "overcast", "vertical visibility") and value.base_ft is not None:
                found.append((Ceiling(value.base_ft, group.text), group))
            elif value.amount in ("few", "scattered", "none"):
                clear.append((Ceiling(None, group.text, value.clear_below_ft), group))
            else:
                unknown = f"{group.text} gives no height of a ceiling"
    for each in (found, clear):
        each.sort(key=lambda pair: worst_ceiling(pair[0]))
    if not found and not clear and not unknown:
        unknown = "no cloud is given"
    return found or ([] if unknown else clear[:1]), unknown


def worst_visibility(visibility: Visibility) -> tuple[float, int]:
    """Return what visibilities are sorted by, the worst first."""
    return visibility.distance_SM, visibility.more_than - visibility.less_than


def worst_wind(wind: ReportedWind) -> tuple[float, float]:
    """Return what winds are sorted by, the strongest gust first and then the strongest steady wind."""
    return -wind.wind.gust_kt, -wind.wind.steady_kt


def worst_ceiling(ceiling: Ceiling) -> tuple[float, float]:
    """Return what ceilings are sorted by, the lowest first; without one, the least of how far up that is known."""
    height_ft, clear_ft = ceiling.height_ft, ceiling.clear_below_ft
    return inf if height_ft is None else height_ft, inf if clear_ft is None else clear_ft

"""The remarks of a METAR.

Source: Federal Meteorological Handbook No. 1, sections 12.7.1 and 12.7.2 (read); lightning, the notes of
sensors and the words of each from memory.
"""

from __future__ import annotations

import re

from briefgen.model.weather import Wind
from briefgen.reports import model
from briefgen.reports.groups import MILES, miles, read_miles
from briefgen.reports.model import Ceiling, ReportedWind, Temperatures, Visibility
from briefgen.reports.phrases import (
    AMOUNTS,
    DESCRIPTORS,
    DIRECTIONS,
    MINUS,
    OTHER,
    PRECIPITATION,
    degrees_C,
    feet,
    wind_words,
)
from briefgen.reports.scan import Reading, Rule, rule

_DIRECTION = "N|NE|E|SE|S|SW|W|NW"
_EVENT = "|".join((*DESCRIPTORS, *PRECIPITATION, *OTHER))
_SEEN_FROM = {"TWR": "from the tower", "SFC": "at the surface"}


def _minutes(text: str) -> str | None:
    """Return '19:55Z', or ':55' of this hour; None where there is no such time."""
    if int(text[-2:]) > 59 or (len(text) == 4 and int(text[:2]) > 23):
        return None
    return f"{text[:2]}:{text[2:]}Z" if len(text) == 4 else f"minute {text} of the hour"


def _peak(found: re.Match[str]) -> Reading:
    at = _minutes(found["at"])
    from_deg, speed_kt = float(found["from"]), float(found["speed"])
    if not at or from_deg % 10 or not 0 < from_deg <= 360:
        return None
    wind = Wind(from_deg, speed_kt, speed_kt, None, found[0])
    return f"peak wind {wind_words(wind)}, at {at}", ReportedWind(wind)


def _shift(found: re.Match[str]) -> Reading:
    at = _minutes(found["at"])
    return (f"the wind shifted at {at}{', a front passing' if found['front'] else ''}", None) if at else None


def _visibility(found: re.Match[str]) -> Reading:
    """Read a visibility seen from elsewhere, in one direction, or at another place on the field."""
    figure = read_miles(found)
    if not figure:
        return None
    groups = found.groupdict()
    if groups.get("from"):
        where = _SEEN_FROM[groups["from"]]
    elif groups.get("toward"):
        where = f"to the {DIRECTIONS[groups['toward']]}"
    else:
        where = f"at runway {groups['runway']}"
    return f"visibility {where} {figure[1]}", Visibility(figure[0], text=found[0])


def _variable_visibility(found: re.Match[str]) -> Reading:
    least = read_miles(found)
    upper, lower = found["most_upper"] or found["most_up"], found["most_lower"] or found["most_low"]
    most = miles(found["most_whole"], upper, lower)
    if not least or not most or most[0] < least[0]:
        return None
    return f"visibility varying from {least[1]} to {most[1]}", Visibility(least[0], text=found[0])


def _ceiling(found: re.Match[str]) -> Reading:
    least_ft = float(found["least"]) * 100
    if found.groupdict().get("most"):
        most_ft = float(found["most"]) * 100
        if most_ft < least_ft:
            return None
        words = f"ceiling varying from {feet(least_ft)} to {feet(most_ft)}"
    else:
        words = f"ceiling {feet(least_ft)} at runway {found['runway']}"
    return words, Ceiling(least_ft, found[0])


def _variable_amount(found: re.Match[str]) -> Reading:
    """Read a layer whose amount varies: a ceiling if it is one at times."""
    amounts = (found["amount"], found["other"])
    height_ft = float(found["height"]) * 100 if found["height"] else None
    where = f"the layer at {feet(height_ft)}" if height_ft is not None else "the layer"
    words = f"{where} varies between {AMOUNTS[amounts[0]]} and {AMOUNTS[amounts[1]]}"
    lowest = height_ft is not None and {"BKN", "OVC"} & set(amounts)
    return words, Ceiling(height_ft, found[0]) if lowest else None


def _events(found: re.Match[str]) -> Reading:
    """Read when weather began and ended: RAB05E30SNB20E55."""
    said = []
    for codes, times in re.findall(rf"(?:[+-])?((?:{_EVENT})+)((?:[BE](?:\d{{4}}|\d\d))+)", found[0]):
        names = _event_name(re.findall("..", codes))
        for kind, digits in re.findall(r"([BE])(\d{4}|\d\d)", times):
            at = _minutes(digits)
            if not at or not names:
                return None
            said.append(f"{names} {'began' if kind == 'B' else 'ended'} at {at}")
    return "; ".join(said), None


def _event_name(codes: list[str]) -> str:
    names = {**PRECIPITATION, **OTHER, "TS": "thunderstorm", "SH": "showers", "FZ": "freezing", "BL": "blowing"}
    return " ".join(names.get(code, "") for code in codes) if all(code in names for code in codes) else ""


def _sea_level(found: re.Match[str]) -> Reading:
    """Read sea-level pressure: from 500 on a 9 goes before the digits, else a 10."""
    digits = found["digits"]
    pressure_hPa = float(f"{'9' if int(digits) >= 500 else '10'}{digits}") / 10
    return f"sea-level pressure {pressure_hPa:.1f}\u00a0hPa", None


def _tenths(text: str) -> float:
    """Return degrees of a sign (0 or 1) and three digits of tenths; nil has no sign."""
    return (-1 if text[0] == "1" else 1) * int(text[1:]) / 10 + 0.0


def _exact(found: re.Match[str]) -> Reading:
    air = _tenths(found["air"])
    dew = _tenths(found["dew"]) if found["dew"] else None
    said = f"temperature {degrees_C(air, 1)}, dew point {degrees_C(dew, 1) if dew is not None else 'not observed'}"
    return said, Temperatures(air, dew)


def _extreme(words: str) -> Rule:
    code = {"highest": "1", "lowest": "2"}[words]
    return rule(
        model.REMARK,
        rf"{code}(?P<at>[01]\d{{3}})",
        lambda found: (f"{words} temperature of six hours {degrees_C(_tenths(found['at']), 1)}", None),
    )


def _tendency(found: re.Match[str]) -> Reading:
    """Read how the pressure changed in three hours: kinds 0 to 3 are a rise, 4 is steady, 5 to 8 are a fall."""
    kind, tenths = int(found["kind"]), int(found["change"])
    sign = "+" if kind <= 3 else MINUS
    change = f"{sign if tenths else ''}{tenths / 10:.1f}\u00a0hPa"
    return f"pressure changed by {change} in three hours (tendency {kind})", None


def _inches(words: str, pattern: str) -> Rule:
    return rule(
        model.REMARK, pattern, lambda found: (f"{words} {int(found['hundredths']) / 100:.2f}\u00a0in", None)
    )


def _lightning(found: re.Match[str]) -> Reading:
    how_often = {"OCNL": "occasional ", "FRQ": "frequent ", "CONS": "continuous ", None: ""}[found["often"]]
    kinds = {"IC": "in cloud", "CC": "cloud to cloud", "CG": "cloud to ground", "CA": "cloud to air"}
    kind = ", ".join(kinds[code] for code in re.findall("..", found["kinds"]))
    where = {"DSNT": "distant", "OHD": "overhead", "VC": "nearby", "ALQDS": "in all quarters"}
    toward = re.sub("[NESW]+", lambda code: DIRECTIONS[code[0]], (found["toward"] or "").replace(" AND ", "&"))
    toward = toward.replace("-", " to ").replace("&", " and ")
    parts = (kind, where.get(found["where"] or "", ""), f"to the {toward}" if toward else "")
    return f"{how_often}lightning{''.join(f', {part}' for part in parts if part)}", None


_MOST = (
    r"V(?:(?P<most_upper>\d{1,2})/(?P<most_lower>\d{1,2})"
    r"|(?P<most_whole>\d{1,2})(?: (?P<most_up>\d)/(?P<most_low>\d{1,2}))?)"
)
_NO_SENSOR = {
    "RVRNO": "runway visual range",
    "PWINO": "identification of precipitation",
    "PNO": "amount of precipitation",
    "FZRANO": "freezing rain sensor",
    "TSNO": "thunderstorm sensor",
    "SLPNO": "sea-level pressure",
}
REMARKS: tuple[Rule, ...] = (
    rule(model.REMARK, "AO1|A01", "automated station without a precipitation sensor"),
    rule(model.REMARK, "AO2|A02", "automated station with a precipitation sensor"),
    rule(model.PEAK, r"PK WND (?P<from>\d{3})(?P<speed>\d{2,3})/(?P<at>(?:\d\d)?\d\d)", _peak),
    rule(model.REMARK, r"WSHFT (?P<at>(?:\d\d)?\d\d)(?P<front> FROPA)?", _shift),
    rule(model.VISIBILITY, rf"(?P<from>TWR|SFC) VIS {MILES}", _visibility),
    rule(model.VISIBILITY, rf"VIS (?P<toward>{_DIRECTION}) {MILES}", _visibility),
    rule(model.VISIBILITY, rf"VIS {MILES}{_MOST}", _variable_visibility),
    rule(model.VISIBILITY, rf"VIS {MILES} R(?:WY)?(?P<runway>\d{{2}}[LCR]?)", _visibility),
    rule(model.CEILING, r"CIG (?P<least>\d{3})V(?P<most>\d{3})", _ceiling),
    rule(model.CEILING, r"CIG (?P<least>\d{3}) R(?:WY)?(?P<runway>\d{2}[LCR]?)", _ceiling),
    rule(
        model.CEILING,
        r"(?P<amount>FEW|SCT|BKN|OVC)(?P<height>\d{3})? V (?P<other>FEW|SCT|BKN|OVC)",
        _variable_amount,
    ),
    rule(model.REMARK, rf"(?:[+-]?(?:{_EVENT}){{1,4}}(?:[BE](?:\d{{4}}|\d\d))+)+", _events),
    rule(
        model.REMARK,
        rf"(?:(?P<often>OCNL|FRQ|CONS) )?LTG(?P<kinds>(?:IC|CC|CG|CA)*)(?: (?P<where>DSNT|OHD|VC|ALQDS))?"
        rf"(?: (?P<toward>(?:{_DIRECTION})(?:(?:-| AND )(?:{_DIRECTION}))*))?",
        _lightning,
    ),
    rule(model.REMARK, r"SLP(?P<digits>\d{3})", _sea_level),
    rule(model.REMARK, "PRESRR", "pressure rising rapidly"),
    rule(model.REMARK, "PRESFR", "pressure falling rapidly"),
    rule(model.TENTHS, r"T(?P<air>[01]\d{3})(?P<dew>[01]\d{3})?", _exact),
    _extreme("highest"),
    _extreme("lowest"),
    rule(
        model.REMARK,
        r"4(?P<most>[01]\d{3})(?P<least>[01]\d{3})",
        lambda found: (
            f"highest temperature of 24 hours {degrees_C(_tenths(found['most']), 1)}, "
            f"lowest {degrees_C(_tenths(found['least']), 1)}",
            None,
        ),
    ),
    rule(model.REMARK, r"5(?P<kind>[0-8])(?P<change>\d{3})", _tendency),
    _inches("precipitation of this hour", r"P(?P<hundredths>\d{4})"),
    _inches("precipitation of three or six hours", r"6(?P<hundredths>\d{4})"),
    _inches("precipitation of 24 hours", r"7(?P<hundredths>\d{4})"),
    rule(model.REMARK, "[67]////", "amount of precipitation not known"),
    rule(
        model.REMARK,
        r"4/(?P<depth>\d{3})",
        lambda found: (f"snow on the ground {int(found['depth'])}\u00a0in", None),
    ),
    rule(
        model.REMARK,
        r"933(?P<water>\d{3})",
        lambda found: (f"water in the snow on the ground {int(found['water']) / 10:.1f}\u00a0in", None),
    ),
    *(rule(model.REMARK, code, f"{words}: not working or not given") for code, words in _NO_SENSOR.items()),
    rule(model.REMARK, "NOSPECI", "this station makes no special reports"),
    rule(model.REMARK, r"\$", "the station's equipment asks for maintenance"),
)

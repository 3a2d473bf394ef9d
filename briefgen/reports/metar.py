"""Read one METAR or SPECI: heading, body, trend, remarks.

Source: Federal Meteorological Handbook No. 1, chapter 12 (read); WMO-No. 306, FM 15 and FM 16 (read).
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from briefgen.errors import Refusal
from briefgen.reports import model
from briefgen.reports.groups import SHARED, ceilings, worst_visibility, worst_wind
from briefgen.reports.model import (
    Ceiling,
    Group,
    Period,
    Pressure,
    Report,
    ReportedWind,
    RunwayRange,
    Temperatures,
    Visibility,
)
from briefgen.reports.moments import near, said
from briefgen.reports.phrases import degrees_C
from briefgen.reports.remarks import REMARKS
from briefgen.reports.scan import Cursor, Reading, Rule, rule
from briefgen.units import FT_PER_M, HPA_PER_INHG

_NAMED = re.compile(r"(?:METAR|SPECI|COR)(?= |$)")
_TAF = re.compile(r"TAF(?= |$)")
STATION = re.compile(r"[A-Z][A-Z0-9]{3}(?= |$)")
MADE = re.compile(r"(?P<day>\d{2})(?P<hour>\d{2})(?P<minute>\d{2})Z(?= |$)", re.ASCII)
_NIL = re.compile(r"NIL(?= |$)")
_REMARKS = re.compile(r"RMK(?= |$)")
_TREND = re.compile(r"(?P<change>BECMG|TEMPO)(?= |$)")
_TREND_LASTS = timedelta(hours=2)  # a trend is a forecast of two hours from the report (WMO-No. 306, 15.14; memory)
_HALF_A_DEGREE = 0.55  # tenths and whole degrees that round to each other differ by no more
_HALF_AN_HPA = 1.5  # settings in inHg and in whole hPa that are the same differ by no more

_SIDES = {"M": "less than ", "P": "more than ", None: ""}
_AUTOMATED = "by an automated station"
_HEADINGS = {"METAR": "a report", "SPECI": "a special report", "COR": "corrected"}


def _range(found: re.Match[str]) -> Reading:
    """Read a runway visual range: FMH 12.6.7, in feet or (WMO 15.7) in metres."""
    scale, unit = (1.0, "ft") if found["unit"] else (FT_PER_M, "m")
    least, most = int(found["least"]), int(found["most"] or found["least"])
    if most < least:
        return None
    more_than = (found["above"] if found["most"] else found["below"]) == "P"
    value = RunwayRange(found["runway"], least * scale, most * scale, found["below"] == "M", more_than)
    low = f"{_SIDES[found['below']]}{least:,}\u00a0{unit}"
    high = f" to {_SIDES[found['above']]}{most:,}\u00a0{unit}" if found["most"] else ""
    tendency = {"U": ", rising", "D": ", falling", "N": ", steady"}.get(found["tendency"] or "", "")
    return f"visual range along runway {value.runway}: {low}{high}{tendency}", value


def _temperatures(found: re.Match[str]) -> Reading:
    """Read whole degrees: FMH 12.6.10 and 11. M00 is nil, seen from below."""
    if found["air"] == "//" and not found["dew"]:
        return None
    both = [None if text in ("//", "") else _whole(text) for text in (found["air"], found["dew"])]
    air, dew = ("not observed" if each is None else degrees_C(each, 0) for each in both)
    if found["air"] == "M00":
        air += " (from half a degree below)"
    return f"temperature {air}, dew point {dew}", Temperatures(*both)


def _whole(text: str) -> float:
    return float(text.replace("M", "-")) + 0.0  # M00: no minus nil


def _setting(found: re.Match[str]) -> Reading:
    """Read an altimeter setting: FMH 12.6.12, WMO 15.12."""
    figure = int(found["figure"])
    if found["unit"] == "Q":
        return (f"altimeter {figure}\u00a0hPa", Pressure(figure, f"{figure}\u00a0hPa")) if _sane(figure) else None
    pressure = Pressure(figure / 100 * HPA_PER_INHG, f"{figure / 100:.2f}\u00a0inHg")
    return (f"altimeter {pressure.given}", pressure) if _sane(pressure.setting_hPa) else None


def _sane(setting_hPa: float) -> bool:
    return 850 <= setting_hPa <= 1090


BODY: tuple[Rule, ...] = (
    rule(model.HEADING, "AUTO", _AUTOMATED),
    rule(model.HEADING, "COR|CC[A-Z]", _HEADINGS["COR"]),
    rule(
        model.RANGE,
        r"R(?P<runway>\d{2}[LCR]{0,2})/(?P<below>[MP])?(?P<least>\d{4})(?:V(?P<above>[MP])?(?P<most>\d{4}))?"
        r"(?P<unit>FT)?/?(?P<tendency>[UDN])?",
        _range,
    ),
    rule(model.RANGE, r"R\d{2}[LCR]{0,2}/////(?:FT)?", "visual range along a runway not observed"),
    rule(model.TEMPERATURE, r"(?P<air>M?\d{2}|//)/(?P<dew>M?\d{2}|//|)", _temperatures),
    rule(model.ALTIMETER, r"(?P<unit>[AQ])(?P<figure>\d{4})", _setting),
    rule(model.ALTIMETER, "[AQ]////", "altimeter not observed"),
    rule(model.CHANGE, "NOSIG", "no significant change in the two hours after the report"),
    *SHARED,
)
_TREND_TIMES = (
    rule(model.CHANGE, r"FM(?P<hour>\d\d)(?P<minute>\d\d)", lambda found: (f"from {_hours(found)}", None)),
    rule(model.CHANGE, r"TL(?P<hour>\d\d)(?P<minute>\d\d)", lambda found: (f"until {_hours(found)}", None)),
    rule(model.CHANGE, r"AT(?P<hour>\d\d)(?P<minute>\d\d)", lambda found: (f"at {_hours(found)}", None)),
)


def _hours(found: re.Match[str]) -> str:
    return f"{found['hour']}:{found['minute']}Z"


def read_metar(text: str, reference: datetime) -> Report:
    """Read one METAR or SPECI.

    Parameters
    ----------
    text : as it was sent, in one line or several, with or without the '=' at its end; 4,000 characters at most.
    reference : an aware moment near which it was made: the day of a month becomes the nearest such day.

    Raises
    ------
    Refusal : the text is no METAR: it is empty, too long, a forecast, has no station, no time, or is NIL. Whatever
        else cannot be read stands in the report as not decoded.
    """
    cursor = Cursor(text, "METAR")
    if cursor.match(_TAF):
        raise Refusal("this is a forecast (TAF), not a report (METAR)", "METAR")
    groups: list[Group] = []
    station, made = heading(cursor, groups, _NAMED, _HEADINGS, reference)
    if cursor.done or cursor.match(_NIL):
        raise Refusal(f"the report of {station} has no content", "METAR")
    body: list[Group] = []
    while not (cursor.done or cursor.match(_REMARKS) or cursor.match(_TREND)):
        body.append(cursor.take(BODY))
    groups += body
    trend = _trend(cursor, groups, made)
    remarks = _remarks(cursor)
    named = {group.words for group in groups if group.kind == model.HEADING}
    temperatures, doubts = _best_temperatures(body, remarks)
    altimeter, doubt = _one_setting(body)
    return Report(
        station=station,
        made=made,
        special=_HEADINGS["SPECI"] in named,
        automated=_AUTOMATED in named,
        corrected=_HEADINGS["COR"] in named,
        groups=(*groups, *remarks),
        body=(*body, *(group for group in remarks if isinstance(group.value, Visibility | Ceiling))),
        trend=trend,
        temperature_degC=temperatures.temperature_degC,
        dew_point_degC=temperatures.dew_point_degC,
        altimeter=altimeter,
        doubts=(*doubts, *doubt),
    )


def heading(
    cursor: Cursor,
    groups: list[Group],
    named: re.Pattern[str],
    words: dict[str, str],
    reference: datetime,
) -> tuple[str, datetime]:
    """Take the name, the station and the day and time of a report or forecast.

    Parameters
    ----------
    cursor : at its start; it is left after the time.
    groups : where the groups are added.
    named : the pattern of the words that can come first.
    words : what these mean.
    reference : a moment near which it was made.

    Raises
    ------
    Refusal : there is no station or no day and time.
    """
    about = cursor.about
    while found := cursor.match(named):
        groups.append(cursor.group(found, model.HEADING, words[found[0]]))
    station = cursor.match(STATION)
    if not station:
        raise Refusal(f"a {about} names its station, four letters, where this has {cursor.next}", about)
    groups.append(cursor.group(station, model.HEADING, f"station {station[0]}"))
    found = cursor.match(MADE)
    if not found:
        raise Refusal(f"a {about} gives its day and time, such as 091955Z, where this has {cursor.next}", about)
    made = near(int(found["day"]), int(found["hour"]), int(found["minute"]), reference)
    if made is None:
        raise Refusal(f"{found[0]} is no day and time", about)
    groups.append(cursor.group(found, model.HEADING, f"made at {said(made)}", made))
    return station[0], made


def _trend(cursor: Cursor, taken: list[Group], made: datetime) -> tuple[Period, ...]:
    """Take what is forecast of the two hours after a report: each change counts over both."""
    periods = []
    while found := cursor.match(_TREND):
        becoming = found["change"] == "BECMG"
        words = f"{'becoming' if becoming else 'temporarily'}, within two hours of {said(made)}"
        taken.append(cursor.group(found, model.CHANGE, words))
        groups = []
        while not (cursor.done or cursor.match(_REMARKS) or cursor.match(_TREND)):
            groups.append(cursor.take((*_TREND_TIMES, *BODY)))
        taken += groups
        status = model.BECOMING if becoming else model.TEMPORARY
        periods.append(Period(status, found["change"], words, made, made + _TREND_LASTS, tuple(groups)))
    return tuple(periods)


def _remarks(cursor: Cursor) -> list[Group]:
    if not (found := cursor.match(_REMARKS)):
        return []
    remarks = [cursor.group(found, model.HEADING, "remarks")]
    while not cursor.done:
        remarks.append(cursor.take(REMARKS))
    return remarks


def _best_temperatures(body: list[Group], remarks: list[Group]) -> tuple[Temperatures, list[str]]:
    """Return temperatures in tenths where the remarks give them and agree, else in whole degrees; and doubts."""
    whole = list(dict.fromkeys(each.value for each in body if isinstance(each.value, Temperatures)))
    tenths = list(dict.fromkeys(each.value for each in remarks if isinstance(each.value, Temperatures)))
    doubts = []
    if len(whole) > 1:
        return Temperatures(None, None), ["two different temperatures are given"]
    if len(tenths) > 1:
        doubts.append("two different temperatures in tenths are given")
        tenths = []
    rough, fine = (each[0] if each else Temperatures(None, None) for each in (whole, tenths))
    best = []
    for about, one, other in zip(("temperature", "dew point"), rough, fine, strict=True):
        agree = one is None or other is None or abs(one - other) <= _HALF_A_DEGREE
        if not agree:
            doubts.append(f"the {about} in tenths does not agree with the {about} in whole degrees")
        best.append(other if agree and other is not None else one)
    return Temperatures(*best), doubts


def _one_setting(body: list[Group]) -> tuple[Pressure | None, list[str]]:
    """Return the altimeter setting, or none and a doubt where two are given that differ."""
    given = [each.value for each in body if isinstance(each.value, Pressure)]
    settings = [each.setting_hPa for each in given]
    if settings and max(settings) - min(settings) > _HALF_AN_HPA:
        return None, ["two different altimeter settings are given"]
    return (given[0] if given else None), []


def wind_of(report: Report) -> ReportedWind | None:
    """Return the wind of a report, the strongest where it gives several; None where it gives none."""
    winds = [group.value for group in report.body if isinstance(group.value, ReportedWind)]
    return min(winds, key=worst_wind, default=None)


def visibility_of(report: Report) -> Visibility | None:
    """Return the least visibility of a report, its remarks among them; None where it gives none."""
    given = [group.value for group in report.body if isinstance(group.value, Visibility)]
    return min(given, key=worst_visibility, default=None)


def ceiling_of(report: Report) -> tuple[Ceiling | None, str]:
    """Return the lowest ceiling of a report, and why that is not known, or ''.

    A ceiling of no height says that there is none; no ceiling at all, that the report does not tell. Where a
    layer's height was not observed, the lowest that was is returned with the reason why it may not be the
    lowest.
    """
    found, unknown = ceilings(report.body)
    return (found[0][0] if found else None), unknown

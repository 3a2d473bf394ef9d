"""Read a field's report and forecast, its typed ceiling and visibility, and say what of them is used."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from math import inf
from typing import NamedTuple, TypeVar

from briefgen.errors import Refusal
from briefgen.files.entry import Entry
from briefgen.files.read_station import read_station
from briefgen.model.strip import Strip
from briefgen.model.weather import Conditions, FieldWeather, Seen, Sent, Taken, Told, Wind
from briefgen.reports.field import AtField, at_field, kept
from briefgen.reports.metar import read_metar
from briefgen.reports.model import Forecast, Report, not_decoded
from briefgen.reports.moments import said, window
from briefgen.reports.outlook import age_min, highest, soon
from briefgen.reports.phrases import degrees_C
from briefgen.reports.sent import sent
from briefgen.reports.taf import read_taf
from briefgen.units import HPA_PER_INHG, NM_PER_SM

LATER = timedelta(hours=3)  # how far past the takeoff a landing is looked up where no 'at' is given
TYPED, REPORTED = "typed", "reported"
TYPEABLE = ("wind", "temperature", "altimeter", "ceiling", "visibility")
R = TypeVar("R", Report, Forecast)


class Reported(NamedTuple):
    """The report and the forecast of one field, each None where not given or not readable, and what counts."""

    report: Report | None
    forecast: Forecast | None
    at: AtField | None
    as_of: datetime | None
    window: str
    asked_at: datetime | None = None  # as typed
    sent: tuple[Sent, ...] = ()
    soon: tuple[str, ...] = ()


def miles(entry: Entry, least_SM: float, most_SM: float) -> float:
    """Return a visibility [SM]."""
    return entry.quantity("distance", least_SM * NM_PER_SM, most_SM * NM_PER_SM) / NM_PER_SM


def read_reports(entry: Entry, reached_at: datetime | None = None) -> Reported:
    """Return the report and the forecast under a field's conditions, and what of them counts when it is used.

    The time is that of the takeoff, or of the landing as worked, and from then on to `at`, where that is later.
    Where that time is not known, it is that of `at`; else `as_of` at the departure, and elsewhere the three hours
    from the takeoff time, or `as_of`, on.

    Parameters
    ----------
    entry : the conditions of a field.
    reached_at : when the airplane is there, as worked; None where not known, and for the departure.
    """
    as_of, takeoff = _typed_times(entry)
    if as_of is None:
        return Reported(None, None, None, None, "")
    report = _read(entry.get("report"), "METAR", read_metar, as_of)
    forecast = _read(entry.get("forecast"), "TAF", read_taf, as_of)
    _one_station(entry, report)
    typed = entry.get("at")
    at = None if typed is None else _moment(typed) or as_of
    from_, to, words = _when(entry.place[:1] == ("departure",), at, (as_of, takeoff), reached_at)
    if report is None and forecast is None:
        return Reported(None, None, None, as_of, words)
    near = soon(forecast, from_, to) if forecast else ()
    window_ = report, forecast, from_, to
    try:
        return Reported(report, forecast, at_field(*window_), as_of, words, at, sent(*window_), near)
    except Refusal as refusal:
        entry["report"].fault(f"this report cannot be used: {refusal.reason}", "look at the times")
        return Reported(report, forecast, None, as_of, words)


def _when(
    leaving: bool, at: datetime | None, given: tuple[datetime, datetime | None], reached_at: datetime | None
) -> tuple[datetime, datetime, str]:
    """Return both ends of the time that a field's weather is looked up for, and that in words."""
    as_of, takeoff = given
    used, name = (takeoff, "the takeoff time") if leaving else (reached_at, "the landing as worked")
    if used is not None and at is not None and at > used:
        return used, at, f"{window(used, at)}: from {name} to 'at'"
    if used is not None:
        return used, used, f"{said(used)}, {name}"
    if at is not None:
        return at, at, said(at)
    if leaving:
        return as_of, as_of, f"{said(as_of)}, the time of this file, as no takeoff time is given"
    from_ = takeoff or as_of
    to = from_ + LATER
    return from_, to, f"{window(from_, to)}: three hours, as no time is given ('at'), and no landing is worked"


def _typed_times(entry: Entry) -> tuple[datetime | None, datetime | None]:
    """Return when the figures of a trip file were good, and its takeoff time; None where not given or at fault."""
    faults, root = entry.faults, entry.faults.document.value
    part = "route" if root.get("route") is not None else "fuel"  # circuits have their time beside them
    said = root.get(part)
    typed = [root.get("as_of"), said.get("takeoff_time") if isinstance(said, dict) else None]
    places = [("as_of",), (part, "takeoff_time")]
    found = [None if faults.touch(place) else _time(str(text)) for place, text in zip(places, typed, strict=True)]
    return found[0], found[1]


def _time(text: str) -> datetime | None:
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        return None
    return found if found.tzinfo and 2000 <= found.year < 2100 else None


def _moment(entry: Entry) -> datetime | None:
    found = None if entry.faults.touch(entry.place) else _time(str(entry.value))
    if found is None and not entry.faults.touch(entry.place):
        entry.fault(
            f"'{entry.value}' is no date and time of the calendar", "look at the day, the month and the hour"
        )
    return found


def _read(entry: Entry | None, name: str, read: Callable[[str, datetime], R], as_of: datetime) -> R | None:
    """Return a text as read; None, with the fault noted, where it is none of its kind or was made after `as_of`."""
    if entry is None or entry.faults.touch(entry.place):
        return None
    try:
        found = read(str(entry.value), as_of)
        age_min(found, as_of)
    except Refusal as refusal:
        hint = "paste it as it was sent" if refusal.about == name else "'as_of' is when the figures were good"
        entry.fault(f"this {name} cannot be used: {refusal.reason}", hint)
        return None
    return found


def _one_station(entry: Entry, report: Report | None) -> None:
    """Note a report that is not of the station named; a forecast is often that of another field."""
    station = entry.get("station")
    if station is None or report is None or entry.faults.touch(station.place):
        return
    if station.text("ident") != report.station:
        message = f"the station is {station.text('ident')}, and the report that of {report.station}"
        station["ident"].fault(message, "name the station of the report")


def worst_winds(reported: Reported) -> tuple[Wind, tuple[Wind, ...]] | None:
    """Return the wind with the largest gust factor of all that count, and the others; None where none is known."""
    if reported.at is None or not reported.at.winds:
        return None
    winds = tuple(dict.fromkeys(reported.at.winds))
    first = max(winds, key=lambda each: each.gust_kt - each.steady_kt)
    others = tuple(each for each in winds if each != first)
    if others:
        first = first._replace(text=f"{first.text} and {len(others)} more, the worst of all counted")
    return first, others


def field_weather(
    entry: Entry, reported: Reported, conditions: Conditions, strip: Strip | None, winds_said: str
) -> FieldWeather:
    """Return what is known of a field's weather, and what of it is used."""
    at, report = reported.at, reported.report
    station = read_station(entry.get("station"), report, reported.forecast, strip)
    lower_ft = station.lower_ft
    seen = _lowered(at.ceiling, lower_ft) if at else Seen(None, reason="")
    ceiling, visibility = _typed_ceiling(entry), _typed_visibility(entry)
    sight = at.visibility if at else Seen(None)
    texts = (report, reported.forecast)
    return FieldWeather(
        window=reported.window,
        asked_at=reported.asked_at,
        soon=reported.soon,
        warmer=_warmer(reported.forecast, conditions.temperature_degC),
        ceiling=ceiling or seen._replace(reason=_why(seen, "ceiling")),
        visibility=visibility or sight._replace(reason=_why(sight, "visibility")),
        station=station.words,
        station_doubts=station.doubts,
        report=_told(report, reported.as_of),
        forecast=_told(reported.forecast, reported.as_of),
        taken=_taken(entry, reported, conditions, (ceiling, seen), (visibility, sight), winds_said),
        hazards=at.hazards if at else (),
        typed=tuple(key for key in TYPEABLE if entry.get(key) is not None),
        sent=tuple(each._replace(ceiling=_lowered(each.ceiling, lower_ft)) for each in reported.sent),
        doubts=kept(at) if at else (),
        not_decoded=tuple(token for each in texts if each for token in not_decoded(each.groups)),
        spread_degC=_spread(conditions, at),
        given=any(entry.get(key) is not None for key in ("report", "forecast", "ceiling", "visibility")),
    )


def _warmer(forecast: Forecast | None, used_degC: float) -> str:
    """Return the highest temperature of a forecast and when it is, where it is over that used [degC]; else ''."""
    found = highest(forecast) if forecast else None
    if found is None or found[0] <= used_degC:
        return ""
    return f"{degrees_C(found[0], 0)} is forecast for {found[1]}, {degrees_C(used_degC, 0)} is counted"


def _spread(conditions: Conditions, at: AtField | None) -> float | None:
    """Return the spread [degC], the less of what is used and what was reported; None where neither is known."""
    pairs = [(conditions.temperature_degC, conditions.dew_point_degC)]
    if at and at.temperature_degC is not None:
        pairs.append((at.temperature_degC, at.dew_point_degC))
    return min((max(warm - dew, 0.0) for warm, dew in pairs if dew is not None), default=None)


def _why(seen: Seen, key: str) -> str:
    """Return why a quantity is not known, and the key that would give it; '' where it is known."""
    if seen.value is not None:
        return ""
    if seen.reason:
        return f"{seen.reason}; or type '{key}' under its conditions"
    return f"the trip file gives no '{key}', and no 'report' or 'forecast', under the conditions there"


def _told(sent: Report | Forecast | None, as_of: datetime | None) -> Told | None:
    if sent is None or as_of is None:
        return None
    words = tuple((each.text, each.words or "NOT DECODED") for each in sent.groups)
    valid = window(sent.valid_from, sent.valid_to) if isinstance(sent, Forecast) else ""
    return Told(" ".join(each.text for each in sent.groups), words, age_min(sent, as_of), valid)


def _lowered(seen: Seen, lower_ft: float) -> Seen:
    """Return a ceiling above a station as one above a field that is higher; a lower field changes nothing."""
    if not lower_ft or seen.value is None or seen.value == inf:
        return seen
    height_ft = max(0.0, seen.value - lower_ft)
    return seen._replace(value=height_ft, words=f"{seen.words}; above the field {height_ft:,.0f}\u00a0ft")


def _typed_ceiling(entry: Entry) -> Seen | None:
    found = entry.get("ceiling")
    if found is None:
        return None
    if found.value == "none":
        return Seen(inf, "none")
    height_ft = found.quantity("length", 0, 45_000)
    return Seen(height_ft, f"{height_ft:,.0f}\u00a0ft")


def _typed_visibility(entry: Entry) -> Seen | None:
    found = entry.get("visibility")
    if found is None:
        return None
    distance_SM = miles(found, 0, 100)
    return Seen(distance_SM, f"{distance_SM:.3g}\u00a0SM")


def _taken(
    entry: Entry,
    reported: Reported,
    conditions: Conditions,
    ceiling: tuple[Seen | None, Seen],
    visibility: tuple[Seen | None, Seen],
    winds_said: str,
) -> tuple[Taken, ...]:
    at = reported.at

    def row(key: str, used: str, told: str) -> Taken:
        typed = entry.get(key) is not None
        return Taken(key.replace("_", " "), used, TYPED if typed else REPORTED if told else "", told)

    def degrees(value: float | None) -> str:
        return "" if value is None else f"{value:.0f}\u00a0°C".replace("-", "\u2212")

    setting = at.altimeter_hPa if at else None
    return (
        row("wind", conditions.wind.text.replace(" kt", "\u00a0kt"), winds_said.replace(" kt", "\u00a0kt")),
        row("temperature", degrees(conditions.temperature_degC), degrees(at.temperature_degC if at else None)),
        row("dew_point", degrees(conditions.dew_point_degC), degrees(at.dew_point_degC if at else None)),
        row("altimeter", _setting(conditions.altimeter_hPa), "" if setting is None else _setting(setting)),
        row("ceiling", (ceiling[0] or ceiling[1]).words, ceiling[1].words),
        row("visibility", (visibility[0] or visibility[1]).words, visibility[1].words),
    )


def _setting(setting_hPa: float) -> str:
    return f"{setting_hPa / HPA_PER_INHG:.2f}\u00a0inHg"

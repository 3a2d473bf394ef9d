"""The weather as plain lines, as data, and as words for the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from briefgen.along_page import LegLine
from briefgen.model.route import AloftTold
from briefgen.model.weather import Taken, Told
from briefgen.weather_page import FieldPage, WeatherPage


def decoded(told: Told | AloftTold) -> str:
    """Return a report or forecast group by group in plain words."""
    return "; ".join(f"{group}: {words}" if words == "NOT DECODED" else words for group, words in told.words)


def heading(page: FieldPage) -> str:
    """Return for when the weather was looked up, and where it is from."""
    return "; station ".join(filter(None, (page.window, page.station))) + "."


def used(page: FieldPage) -> str:
    """Return what was used and from where, and what the reports say where that is not the same."""
    return f"Used: {'; '.join(_used(each) for each in page.taken)}."


def _used(each: Taken) -> str:
    words = f"{each.what} {each.used or 'none'}"
    notes = [each.by] if each.used else []
    if each.reported and each.reported != each.used:
        notes.append(f"reported: {each.reported}" if notes else f"not used; reported: {each.reported}")
    return f"{words} [{'; '.join(notes)}]" if notes else words


def remarks(page: FieldPage) -> str:
    """Return what else must be said of a field: its need, age, dangers, and what is doubtful."""
    found = [page.asked, page.age, page.estimate, page.warmer]
    found += [f"{each.kind}: {each.words}" for each in page.hazards]
    found += [f"not counted, but near: {words}" for words in page.soon]
    found += [f"doubtful: {words}" for words in page.doubts]
    found += [f"not decoded: {' '.join(page.not_decoded)}"] if page.not_decoded else []
    return " ".join(f"{words[0].upper()}{words[1:]}." for words in found if words)


def aloft_said(page: WeatherPage) -> str:
    """Return when the winds aloft are for use, what was typed otherwise, and what could not be read."""
    found = [page.aloft_times]
    if page.aloft:
        found += page.aloft.remarks
        found += [f"not decoded: {' '.join(page.aloft.not_decoded)}"] if page.aloft.not_decoded else []
    return " ".join(f"{words[0].upper()}{words[1:]}." for words in found if words)


def ways(legs: Iterable[LegLine]) -> str:
    """Return how the legs' weather and their need were taken, each said once, and what else must be said of one."""
    by_words: dict[str, list[str]] = {}
    for leg in legs:
        for words in (f"known {leg.by}", leg.rule, leg.ground, leg.reason):
            if words:
                by_words.setdefault(words, []).append(leg.to)
    found = "; ".join(f"{', '.join(names)}: {words}" for words, names in by_words.items())
    return f"Cloud above sea level; between the fields no weather is known but what is typed. {found}."


def _sent(page: FieldPage) -> Iterator[tuple[str, Told]]:
    for name, told in (("report", page.report), ("forecast", page.forecast)):
        if told:
            yield name, told


def weather_lines(page: WeatherPage | None) -> Iterator[str]:
    """Return the weather of each field; nothing where the trip gives none."""
    if page is None:
        return
    yield from ("", "Weather")
    for field in page.fields:
        yield f"  {field.where}"
        yield f"    for {heading(field)}"
        for name, told in _sent(field):
            yield f"    {name}: {told.text}"
            yield f"      {decoded(told)}"
        yield f"    {used(field)}"
        yield f"    {remarks(field)}"
    if page.aloft:
        yield f"  Winds aloft: {page.aloft.text}"
        yield f"    {decoded(page.aloft)}"
        yield f"    {aloft_said(page)}"
    if page.legs:
        yield "  On the way"
        for leg in page.legs:
            yield f"    to {leg.to} at {leg.altitude}: {leg.known}; need {leg.asked}: {leg.state.value}"
        yield f"    {ways(page.legs)}"


def weather_said(page: WeatherPage | None) -> Iterator[str]:
    """Return everything of the weather that must be readable on the sheet."""
    for field in page.fields if page else ():
        yield field.where
        yield heading(field)
        for _, told in _sent(field):
            yield from (told.text, decoded(told))
        yield used(field)
        yield remarks(field)
    if page and page.aloft:
        yield from (page.aloft.text, decoded(page.aloft), aloft_said(page))
    for leg in page.legs if page else ():
        yield from (leg.to, leg.known, leg.asked)
    if page and page.legs:
        yield ways(page.legs)


def weather_data(page: WeatherPage | None) -> dict[str, Any]:
    """Return the weather as plain values: at the fields, along the legs, and the winds aloft."""
    fields = None if page is None else [_field(field) for field in page.fields]
    return {"weather": fields, "weather_legs": _legs(page), "winds_aloft": _aloft(page)}


def _field(page: FieldPage) -> dict[str, Any]:
    return {
        "where": page.where,
        "window": page.window,
        "station": page.station or None,
        "report": _told(page.report),
        "forecast": _told(page.forecast),
        "age": page.age or None,
        "taken": [{key: value or None for key, value in each._asdict().items()} for each in page.taken],
        "asked": page.asked,
        "estimate": page.estimate or None,
        "hazards": [each._asdict() for each in page.hazards],
        "soon": list(page.soon),
        "doubts": list(page.doubts),
        "not_decoded": list(page.not_decoded),
        "warmer": page.warmer or None,
    }


def _legs(page: WeatherPage | None) -> list[dict[str, Any]]:
    """Return the weather along the legs as plain values."""
    return [
        {
            "to": leg.to,
            "altitude": leg.altitude,
            "known": leg.known,
            "by": leg.by,
            "asked": leg.asked,
            "rule": leg.rule or None,
            "ground": leg.ground or None,
            "state": leg.state.value,
            "reason": leg.reason or None,
        }
        for leg in (page.legs if page else ())
    ]


def _aloft(page: WeatherPage | None) -> dict[str, Any] | None:
    """Return the winds aloft as sent, as plain values."""
    if page is None or page.aloft is None:
        return None
    sent = page.aloft
    return {
        "station": sent.station,
        "text": sent.text,
        "words": [{"group": group, "words": said} for group, said in sent.words],
        "times": page.aloft_times,
        "remarks": list(sent.remarks),
        "not_decoded": list(sent.not_decoded),
    }


def _told(told: Told | None) -> dict[str, Any] | None:
    if told is None:
        return None
    words = [{"group": group, "words": said} for group, said in told.words]
    return {"text": told.text, "words": words, "age_min": told.age_min, "valid": told.valid or None}

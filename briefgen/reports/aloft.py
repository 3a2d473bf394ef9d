"""Read winds and temperatures aloft: a table with a row per station.

Source: the standard coding of such tables, from memory: two digits of direction in tens of degrees true, two of
speed in kt, then the temperature; 50 added to the direction adds 100 kt; 9900 is light and variable; temperatures
above 24,000 ft are below zero and have no sign; a station leaves out the levels nearest to its ground.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.model.weather import Wind
from briefgen.reports import model
from briefgen.reports.model import Aloft, Group, Level, ReportedWind
from briefgen.reports.moments import near, said, window
from briefgen.reports.phrases import degrees_C, feet, wind_words
from briefgen.reports.scan import LONGEST, shown

ABOUT = "winds aloft"
NEGATIVE_ABOVE_FT = 24_000  # above it temperatures have no sign (from memory)
LIGHT_KT = 5  # 'light and variable' is less than this (from memory)
FASTEST_KT = 199  # the highest speed that can be coded; it stands for this or more (from memory)

_HEAD = re.compile(r"\s*FT(?:\s+[0-9]{4,5})+\s*")
_BASED = re.compile(r"\s*DATA BASED ON (?P<at>[0-9]{6})Z\s*")
_VALID = re.compile(
    r"\s*VALID\s+(?P<at>[0-9]{6})Z(?:\s+FOR USE\s+(?P<from>[0-9]{4})-(?P<to>[0-9]{4})Z)?\.?"
    r"(?:\s+TEMPS NEG ABV (?P<above>[0-9]{5}))?\s*"
)
_STATION = re.compile(r"[A-Z0-9]{3,4}")
_ROW = re.compile(r"\s*[A-Z0-9]{3,4}(?:\s+[0-9]{4}(?:[+-]?[0-9]{2})?)+\s*")
_WIND = re.compile(r"(?P<from>[0-9]{2})(?P<speed>[0-9]{2})(?:(?P<sign>[+-])?(?P<air>[0-9]{2}))?")
_WORD = re.compile(r"\S+")


class _Times(NamedTuple):
    """When the table is for, and above which altitude [ft] its temperatures have no sign."""

    valid: datetime | None = None
    use_from: datetime | None = None
    use_to: datetime | None = None
    negative_above_ft: int = NEGATIVE_ABOVE_FT


def read_aloft(text: str, station: str, reference: datetime) -> Aloft:
    """Read the row of one station from a table of winds and temperatures aloft.

    Parameters
    ----------
    text : as it was sent, line by line, with the line of altitudes that begins with FT; 4,000 characters at most.
    station : the letters at the start of its row.
    reference : an aware moment near which the table is valid.

    Raises
    ------
    Refusal : the text is too long, has no line of altitudes before the row, or not exactly one row of that station,
        the altitudes do not rise, or it cannot be told for which of them the groups of the row are.
    """
    if len(text) > LONGEST:
        raise Refusal(f"the text has {len(text):,} characters; no more than {LONGEST:,} are read", ABOUT)
    lines = [line.expandtabs() for line in text.splitlines()]
    wanted = station.upper()
    rows = [line for line in lines if line.split()[:1] == [wanted] and _STATION.fullmatch(wanted)]
    heads = [line for line in lines if _HEAD.fullmatch(line)]
    if len(heads) != 1:
        raise Refusal("the text has to have one line of altitudes, such as FT 3000 6000 9000", ABOUT)
    if len(rows) != 1:
        count = f"{len(rows)} rows" if rows else "no row"
        raise Refusal(f"the text has {count} of {shown(station)}: it has to have one", ABOUT)
    times, groups, levels = _Times(), [], []
    for line in lines:
        times = _times(line, reference) or times
    for line in lines:
        if line == rows[0]:
            name, *words = _WORD.finditer(line)
            groups.append(Group((name[0],), model.HEADING, f"station {name[0]}"))
            for word, altitude_ft in zip(words, _altitudes_ft(heads[0], words), strict=True):
                group, level = _level(word[0], altitude_ft, times.negative_above_ft)
                groups.append(group)
                levels += [level] if level else []
        else:
            groups += _other(line, reference)
    return Aloft(wanted, times.valid, times.use_from, times.use_to, tuple(levels), tuple(groups))


def _altitudes_ft(head: str, words: Sequence[re.Match[str]]) -> list[int]:
    """Return the altitude of each group of a row [ft]: of all in order, or of those whose columns end alike."""
    columns = list(_WORD.finditer(head))[1:]
    if any(int(one[0]) >= int(other[0]) for one, other in pairwise(columns)):
        raise Refusal("the altitudes do not rise along their line", ABOUT)
    if len(words) == len(columns):
        return [int(column[0]) for column in columns]
    ends = {column.end(): int(column[0]) for column in columns}
    if not all(word.end() in ends for word in words):
        reason = f"the row has {len(words)} groups for {len(columns)} altitudes, and its columns do not tell which"
        raise Refusal(reason, ABOUT)
    return [ends[word.end()] for word in words]


def _level(code: str, altitude_ft: int, negative_above_ft: int) -> tuple[Group, Level | None]:
    """Return one group of a row, and its level if it could be decoded."""
    found = _WIND.fullmatch(code)
    wind = _wind(found) if found else None
    high = altitude_ft > negative_above_ft
    if not found or not wind or (found["air"] and not found["sign"] and not high):
        return Group((code,), model.NOT_DECODED, ""), None
    temperature_degC = None
    if found["air"]:
        sign = found["sign"] or "-"
        temperature_degC = float(f"{sign}{found['air']}") + 0.0
    light = wind.wind.from_deg is None
    blowing = f"light and variable, less than {LIGHT_KT}\u00a0kt" if light else wind_words(*wind)
    air = "" if temperature_degC is None else f", {degrees_C(temperature_degC, 0)}"
    words = f"at {feet(altitude_ft)} the wind is {blowing}{air}"
    return Group((code,), model.WIND, words, wind), Level(altitude_ft, wind, temperature_degC, code, words)


def _wind(found: re.Match[str]) -> ReportedWind | None:
    """Return a coded wind; light and variable is of variable direction, at the speed that it is less than."""
    tens, speed_kt = int(found["from"]), int(found["speed"])
    if (tens, speed_kt) == (99, 0):
        return ReportedWind(Wind(None, LIGHT_KT, LIGHT_KT, None, found[0]))
    if 51 <= tens <= 86:
        tens, speed_kt = tens - 50, speed_kt + 100
    if not 1 <= tens <= 36:
        return None
    return ReportedWind(Wind(tens * 10.0, speed_kt, speed_kt, None, found[0]), speed_kt >= FASTEST_KT)


def _times(line: str, reference: datetime) -> _Times | None:
    """Read the line that says when a table is valid and for use; None of any other line."""
    found = _VALID.fullmatch(line)
    valid = _moment(found["at"], reference) if found else None
    if not found or not valid:
        return None
    above = int(found["above"] or NEGATIVE_ABOVE_FT)
    if not found["from"]:
        return _Times(valid, None, None, above)
    ends = [_clock(found[name], valid) for name in ("from", "to")]
    use_from, use_to = ends if None not in ends else (None, None)
    return _Times(valid, use_from, use_to, above)


def _moment(code: str, reference: datetime) -> datetime | None:
    return near(int(code[:2]), int(code[2:4]), int(code[4:]), reference)


def _clock(code: str, valid: datetime) -> datetime | None:
    """Return the moment of an hour and minute nearest to when a table is valid."""
    days = (valid + timedelta(days=step) for step in (-1, 0, 1))
    moments = [near(day.day, int(code[:2]), int(code[2:]), day) for day in days]
    return min((each for each in moments if each), key=lambda each: abs(each - valid), default=None)


def _other(line: str, reference: datetime) -> list[Group]:
    """Return the groups of a line that is not the station's: each of its tokens is accounted for."""
    tokens = tuple(line.split())
    if not tokens:
        return []
    if _HEAD.fullmatch(line):
        return [Group(tokens, model.HEADING, "altitudes above sea level, in feet")]
    if times := _times(line, reference):
        assert times.valid
        use = f", for use {window(times.use_from, times.use_to)}" if times.use_from and times.use_to else ""
        above = f"; temperatures are below zero above {feet(times.negative_above_ft)}"
        return [Group(tokens, model.HEADING, f"valid at {said(times.valid)}{use}{above}")]
    based = _BASED.fullmatch(line)
    at = _moment(based["at"], reference) if based else None
    if at:
        return [Group(tokens, model.HEADING, f"worked from observations of {said(at)}")]
    if _ROW.fullmatch(line):
        return [Group(tokens, model.OTHER, "")]
    return [Group((token,), model.NOT_DECODED, "") for token in tokens]

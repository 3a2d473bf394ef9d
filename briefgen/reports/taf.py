"""Read one TAF: heading, validity, the first period, and its changes.

Source: WMO-No. 306, FM 51 (51.8, 51.9; read); AIM chapter 7, key to TAF (read). The order of the grammar: a
text is a heading, groups, then changes; a change is FM, BECMG, TEMPO or PROB with its times, and groups.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.reports import model
from briefgen.reports.groups import SHARED
from briefgen.reports.metar import heading
from briefgen.reports.model import Forecast, Group, Period
from briefgen.reports.moments import near, said, window
from briefgen.reports.phrases import degrees_C
from briefgen.reports.scan import Cursor, Reading, rule, shown

_NAMED = re.compile(r"(?:TAF|AMD|COR)(?= |$)")
_HEADINGS = {"TAF": "a forecast", "AMD": "amended", "COR": "corrected"}
_REPORT = re.compile(r"(?:METAR|SPECI)(?= |$)")
_VALIDITY = re.compile(r"(?P<from>\d{4})/(?P<to>\d{4})(?= |$)", re.ASCII)
_OLD_VALIDITY = re.compile(r"\d{6}(?= |$)", re.ASCII)
_NO_CONTENT = re.compile(r"(?:NIL|CNL)(?= |$)")
_REMARKS = re.compile(r"RMK(?= |$)")
_FROM = re.compile(r"FM(?P<at>\d{6}|\d{4})(?= |$)", re.ASCII)
_CHANGE = re.compile(
    r"(?P<kind>BECMG|TEMPO|PROB(?P<share>[34]0)(?: TEMPO)?) (?P<from>\d{4})/(?P<to>\d{4})(?= |$)", re.ASCII
)
_ORDER = {model.WIND: 0, model.VISIBILITY: 1, model.CAVOK: 1, model.WEATHER: 2, model.CLOUD: 3, model.SHEAR: 4}
_LONGEST = timedelta(
    hours=36
)  # no forecast is longer than 30 h (AIM); room for what services other than it may send


def _extreme(found: re.Match[str]) -> Reading:
    """Read the highest or lowest temperature forecast."""
    day, hour = int(found["day"]), int(found["hour"])
    if hour > 24 or not 1 <= day <= 31:
        return None
    temperature_degC = float(found["at"].replace("M", "-")) + 0.0
    which = "highest" if found["which"] == "X" else "lowest"
    words = f"{which} temperature {degrees_C(temperature_degC, 0)}, on day {day} at {found['hour']}Z"
    return words, model.Extreme(which == "highest", temperature_degC, day, hour)


_TAF_RULES = (
    rule(model.REMARK, r"T(?P<which>[XN])(?P<at>M?\d\d)/(?P<day>\d\d)(?P<hour>\d\d)Z", _extreme),
    rule(
        model.REMARK,
        r"QNH(?P<setting>\d{4})INS",
        lambda found: (f"lowest altimeter setting {int(found['setting']) / 100:.2f}\u00a0inHg", None),
    ),
    *SHARED,
)
_TAF_REMARKS = (
    rule(model.HEADING, "RMK", "remarks"),
    rule(
        model.REMARK,
        r"NXT FCST BY (?P<at>\d\d|\d{4}|\d{6})Z",
        lambda found: (f"next forecast by {found['at']}Z", None),
    ),
    rule(model.REMARK, "AMD NOT SKED", "amendments are not scheduled"),
    *_TAF_RULES[:2],
)


class _Change(NamedTuple):
    """The heading of a period: how it is expected, from when to when, and whether these times fit the forecast."""

    status: str
    words: str
    from_: datetime
    to: datetime


def read_taf(text: str, reference: datetime) -> Forecast:
    """Read one TAF.

    Parameters
    ----------
    text : as it was sent, in one line or several, with or without the '=' at its end; 4,000 characters at most.
    reference : an aware moment near which it was made: the day of a month becomes the nearest such day.

    Raises
    ------
    Refusal : the text is no TAF that can be used: it is empty, too long, a report, has no station, time or
        validity, is cancelled, or its validity has the form of before November 2008. Whatever else cannot be read
        stands in the forecast as not decoded, in the period where it was sent.
    """
    cursor = Cursor(text, "TAF")
    if cursor.match(_REPORT):
        raise Refusal("this is a report (METAR), not a forecast (TAF)", "TAF")
    groups: list[Group] = []
    station, made = heading(cursor, groups, _NAMED, _HEADINGS, reference)
    valid_from, valid_to = _validity(cursor, groups, made)
    if cursor.done or cursor.match(_NO_CONTENT):
        raise Refusal(f"the forecast of {station} has no content: it is cancelled, or was not made", "TAF")
    named = {group.words for group in groups}
    change = _Change(model.PREVAILING, f"from {said(valid_from)}", valid_from, valid_to)
    code, periods = groups[-1].text, []
    while True:
        found = _groups(cursor)
        groups += found
        periods.append(Period(change.status, code, change.words, change.from_, change.to, found))
        if lost := _after_a_lost_heading(found):
            first = shown(lost[0].text)
            words = f"{first} and what follows may belong to a change that was lost, so it counts throughout"
            periods.append(Period(model.UNCLEAR, "", words, valid_from, valid_to, lost))
        groups += _remarks(cursor)
        if cursor.done:
            break
        change, head = _change(cursor, valid_from, valid_to)
        code = head.text
        groups.append(head)
    return Forecast(
        station=station,
        made=made,
        amended=_HEADINGS["AMD"] in named,
        corrected=_HEADINGS["COR"] in named,
        valid_from=valid_from,
        valid_to=valid_to,
        groups=tuple(groups),
        periods=tuple(periods),
    )


def _validity(cursor: Cursor, groups: list[Group], made: datetime) -> tuple[datetime, datetime]:
    """Take the validity, and return both its ends."""
    if cursor.match(_NO_CONTENT):
        raise Refusal("the forecast has no content: it is cancelled, or was not made", cursor.about)
    if found := cursor.match(_OLD_VALIDITY):
        form = (
            f"{found[0]} has the six digits of before November 2008; a validity now names both days, as 0918/1018"
        )
        raise Refusal(form, cursor.about)
    found = cursor.match(_VALIDITY)
    if not found:
        raise Refusal(f"a TAF gives its validity, such as 0918/1018, where this has {cursor.next}", cursor.about)
    valid_from = _moment(found["from"], made)
    valid_to = valid_from and _moment(found["to"], valid_from + _LONGEST / 2)
    if not valid_from or not valid_to or not timedelta() < valid_to - valid_from <= _LONGEST:
        raise Refusal(
            f"{found[0]} is no validity of {_LONGEST / timedelta(hours=1):.0f} hours at most", cursor.about
        )
    groups.append(cursor.group(found, model.HEADING, f"valid {window(valid_from, valid_to)}"))
    return valid_from, valid_to


def _moment(text: str, reference: datetime) -> datetime | None:
    """Return the moment of a day, an hour and perhaps minutes, as coded."""
    return near(int(text[:2]), int(text[2:4]), int(text[4:] or 0), reference)


def _at_change(cursor: Cursor) -> re.Match[str] | None:
    return cursor.match(_FROM) or cursor.match(_CHANGE)


def _groups(cursor: Cursor) -> tuple[Group, ...]:
    """Take groups up to the next change or the remarks."""
    found = []
    while not (cursor.done or _at_change(cursor) or cursor.match(_REMARKS)):
        found.append(cursor.take((*_TAF_RULES, *_TAF_REMARKS)))
    return tuple(found)


def _remarks(cursor: Cursor) -> list[Group]:
    """Take remarks, if they are next, up to the next change."""
    found: list[Group] = []
    while cursor.match(_REMARKS) or (found and not cursor.done and not _at_change(cursor)):
        found.append(cursor.take(_TAF_REMARKS))
    return found


def _after_a_lost_heading(groups: tuple[Group, ...]) -> tuple[Group, ...]:
    """Return what a period says from its first group on that was not decoded, or is out of order; mostly nothing.

    A period gives its wind, visibility, weather and cloud in this order. Where it starts again, or has what cannot
    be read, the heading of another change may have been spoiled or lost.
    """
    last = -1
    for index, group in enumerate(groups):
        rank = _ORDER.get(group.kind, last)
        again = rank == last and group.kind in (model.WIND, model.VISIBILITY, model.CAVOK)
        if group.kind == model.NOT_DECODED or rank < last or again:
            return groups[index:]
        last = rank
    return ()


def _change(cursor: Cursor, valid_from: datetime, valid_to: datetime) -> tuple[_Change, Group]:
    """Take the heading of a change.

    One whose times do not fit the forecast is kept, at an unclear time: what it says counts throughout.
    """
    if found := cursor.match(_FROM):
        change = _from(found["at"], valid_from, valid_to)
    else:
        found = cursor.match(_CHANGE)
        assert found, "`_groups` stops only there"
        change = _during(found, valid_from, valid_to)
    if change is None:
        words = f"{found[0]}: its times do not fit the forecast, so it counts throughout"
        change = _Change(model.UNCLEAR, words, valid_from, valid_to)
    return change, cursor.group(found, model.CHANGE, change.words)


def _from(at: str, valid_from: datetime, valid_to: datetime) -> _Change | None:
    """Read FMddhhmm, or the older FMhhmm where the validity has that time once: WMO 51.8.2."""
    middle = valid_from + (valid_to - valid_from) / 2
    days = [at[:2]] if len(at) == 6 else [f"{valid_from + timedelta(days=each):%d}" for each in range(3)]
    moments = {_moment(f"{day}{at[-4:]}", middle) for day in days}
    fitting = [moment for moment in moments if moment and valid_from <= moment < valid_to]
    if len(fitting) != 1:
        return None
    return _Change(model.PREVAILING, f"from {said(fitting[0])}", fitting[0], valid_to)


def _during(found: re.Match[str], valid_from: datetime, valid_to: datetime) -> _Change | None:
    """Read BECMG, TEMPO or PROB with its two times: WMO 51.8.3, 51.8.4, 51.9."""
    middle = valid_from + (valid_to - valid_from) / 2
    from_, to = _moment(found["from"], middle), _moment(found["to"], middle)
    if not from_ or not to or not valid_from <= from_ < to <= valid_to:
        return None
    kind, between = found["kind"], window(from_, to)
    if kind == "BECMG":
        return _Change(model.BECOMING, f"changing {between}, complete by its end", from_, to)
    if kind == "TEMPO":
        return _Change(model.TEMPORARY, f"temporarily, {between}", from_, to)
    status = model.PROBABLE[int(found["share"])]
    if kind.endswith("TEMPO"):
        return _Change(f"{status}, {model.TEMPORARY}", f"{status}, temporarily, {between}", from_, to)
    return _Change(status, f"{status}, {between}", from_, to)

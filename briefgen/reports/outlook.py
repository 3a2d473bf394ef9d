"""What to expect in a window of time, by forecast and observation: the worst of everything that overlaps it.

A design choice, not a published rule: inside the window of a BECMG both what was and what will be count; TEMPO
and PROB always count, under their own names. A period counts from its first minute up to, not with, its last.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple, TypeVar

from briefgen.errors import Refusal
from briefgen.reports import model
from briefgen.reports.groups import ceilings, worst_ceiling, worst_visibility, worst_wind
from briefgen.reports.model import (
    Ceiling,
    Cloud,
    Expected,
    Extreme,
    Forecast,
    Found,
    Group,
    Missing,
    Period,
    Report,
    ReportedWind,
    Shear,
    Visibility,
    Weather,
)
from briefgen.reports.moments import near, said
from briefgen.reports.scan import shown
from briefgen.reports.spoiled import may_be

# What a group of a kind says something of: CAVOK stands for three.
_SAYS = {model.CAVOK: (model.VISIBILITY, model.CLOUD, model.WEATHER), model.CEILING: (model.CLOUD,)}

T = TypeVar("T")
NEAR = timedelta(minutes=30)  # an ETA is no surer than that; a design choice, no source
Entries = dict[str, tuple[tuple[Group, Period], ...]]


class Stretch(NamedTuple):
    """A time over which one set of groups holds: by quantity, each group with the period that says it."""

    words: str
    whole: bool  # whether it must give every quantity, as what prevails must and a passing change need not
    from_: datetime
    to: datetime
    entries: Entries


def expected_how(found: Found[T]) -> str:
    """Return how much a value is expected, and in which period; what the period's own words say, once.

    >>> expected_how(Found(None, "", model.TEMPORARY, "temporarily, 14:00Z to 16:00Z on the 9th"))
    'temporarily, 14:00Z to 16:00Z on the 9th'
    """
    said = (model.OBSERVED, model.PREVAILING, model.TEMPORARY, *model.PROBABLE.values())
    if found.status in said or found.where.startswith(found.status.removesuffix(f", {model.TEMPORARY}")):
        return found.where
    return f"{found.status}, {found.where}"


def age_min(report: Report | Forecast, at: datetime) -> float:
    """Return how old a report or forecast is [min] at a moment.

    Raises
    ------
    Refusal : it was made after that moment.
    """
    age = (at - report.made) / timedelta(minutes=1)
    if age < 0:
        raise Refusal(f"it was made at {said(report.made)}, which is after {said(at)}", "day and time")
    return age


def stretches(forecast: Forecast) -> tuple[Stretch, ...]:
    """Return the times over which one set of groups holds.

    What prevails is superseded by FM; by BECMG kind by kind, when the change is complete. Other changes stand
    beside it.
    """
    first, *changes = forecast.periods
    done: list[Stretch] = []
    now = Stretch(first.words, True, first.from_, first.to, _entries(first))
    for period in sorted(changes, key=lambda each: each.from_):
        if period.status == model.PREVAILING:
            done = [each._replace(to=min(each.to, period.from_)) if each.whole else each for each in done]
            done.append(now._replace(to=period.from_))
            now = Stretch(period.words, True, period.from_, period.to, _entries(period))
        elif period.status == model.BECOMING:
            done.append(now._replace(to=period.to))
            entries = _laid_over(now.entries, _entries(period))
            now = Stretch(period.words, True, period.from_, forecast.valid_to, entries)
        else:
            done.append(_passing(period))
    return tuple(each for each in (*done, now) if each.from_ < each.to)


def _passing(period: Period) -> Stretch:
    return Stretch(period.words, False, period.from_, period.to, _entries(period))


def _entries(period: Period) -> Entries:
    entries: Entries = {}
    for group in period.groups:
        for quantity in _SAYS.get(group.kind, (group.kind,)):
            entries[quantity] = (*entries.get(quantity, ()), (group, period))
    return entries


def _laid_over(old: Entries, new: Entries) -> Entries:
    """Return entries with those of a change laid over them; what was not decoded in the old ones still counts."""
    kept = old.get(model.NOT_DECODED, ())
    both = {**old, **new}
    if kept:
        both[model.NOT_DECODED] = (*kept, *new.get(model.NOT_DECODED, ()))
    return both


def highest(forecast: Forecast) -> tuple[float, str] | None:
    """Return the highest temperature that a forecast names [degC], and when it is in words; None: it names none.

    Of several, in a forecast of more than one day, the highest.
    """
    named = [each.value for each in forecast.groups if isinstance(each.value, Extreme) and each.value.highest]
    if not named:
        return None
    most = max(named, key=lambda each: each.temperature_degC)
    at = near(most.day, most.hour, 0, forecast.valid_from)
    assert at  # of any three months that follow, one has such a day
    return most.temperature_degC, said(at)


def soon(forecast: Forecast, from_: datetime, to: datetime) -> tuple[str, ...]:
    """Return what of a forecast begins or ends within `NEAR` of a window, and does not count in it, in words.

    Parameters
    ----------
    forecast : of one station.
    from_, to : both ends of the window, aware.
    """
    inside = _overlapping(forecast, from_, to)
    found = []
    for each in stretches(forecast):
        if each not in inside and each.from_ - NEAR <= to and each.to + NEAR > from_:
            groups = dict.fromkeys(group.text for entries in each.entries.values() for group, _ in entries)
            when = f"begins at {said(each.from_)}" if each.from_ > to else f"ends at {said(each.to)}"
            found.append(f"{' '.join(groups)} {when} ({each.words})")
    return tuple(dict.fromkeys(found))


def _check(from_: datetime, to: datetime) -> None:
    if to < from_:
        raise Refusal(f"the window ends at {said(to)}, before it begins at {said(from_)}", "window")


def _overlapping(forecast: Forecast, from_: datetime, to: datetime) -> list[Stretch]:
    end = min(to, forecast.valid_to)
    return [each for each in stretches(forecast) if each.from_ <= end and each.to > from_]


def _outside(forecast: Forecast, from_: datetime, to: datetime) -> list[Missing]:
    """Return why a forecast does not cover the whole of a window."""
    missing = []
    if from_ < forecast.valid_from:
        missing.append(Missing("all", f"the forecast begins at {said(forecast.valid_from)}"))
    if to > forecast.valid_to or from_ >= forecast.valid_to:
        missing.append(Missing("all", f"the forecast ends at {said(forecast.valid_to)}"))
    return missing


def expected(forecast: Forecast, from_: datetime, to: datetime) -> Expected:
    """Return everything that a forecast says of a window, the worst first.

    Parameters
    ----------
    forecast : of one station.
    from_, to : both ends of the window, aware; they can be the same moment. A part of it outside the forecast's
        validity is missing, with the reason.

    Raises
    ------
    Refusal : the window ends before it begins.
    """
    _check(from_, to)
    return _gathered(_overlapping(forecast, from_, to), from_, to, _outside(forecast, from_, to))


def at_departure(
    report: Report | None, forecast: Forecast | None, from_: datetime, to: datetime, oldest_min: float
) -> Expected:
    """Return what to expect in a window, by observation and forecast, the worst first; each says whose.

    Parameters
    ----------
    report : the latest, or None. It counts where it is at most `oldest_min` old when the window begins; so does the
        trend in it.
    forecast : or None.
    from_, to : both ends of the window, aware.
    oldest_min : how old a report may be [min], 0 or more.

    Raises
    ------
    Refusal : the window ends before it begins, or the report was made after it begins.
    """
    _check(from_, to)
    inside: list[Stretch] = []
    left_out: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()
    if report is None:
        left_out = ("there is no report",)
    elif (age := age_min(report, from_)) > oldest_min:
        old = f"the report of {said(report.made)} is then {age:.0f}\u00a0min old"
        left_out = (f"{old}, more than {oldest_min:.0f}\u00a0min",)
    else:
        words = f"observed at {said(report.made)}"
        seen = Period(model.OBSERVED, "", words, report.made, to, report.body)
        inside = [Stretch(words, True, report.made, to, _entries(seen))]
        inside += [_passing(each) for each in report.trend if each.to > from_]
        doubts = tuple(f"{words}: {doubt}" for doubt in report.doubts)
    if forecast is None:
        missing = [Missing("all", "there is no forecast")]
    else:
        missing = _outside(forecast, from_, to)
        inside += _overlapping(forecast, from_, to)
    found = _gathered(inside, from_, to, missing)
    return found._replace(left_out=left_out, doubts=doubts + found.doubts)


def _gathered(inside: list[Stretch], from_: datetime, to: datetime, missing: list[Missing]) -> Expected:
    """Return every value of stretches, the worst first, and what they lack."""
    layers: list[Found[Ceiling]] = []
    lost: list[Missing] = []
    for stretch in inside:
        lost += _spoiled(stretch)
        entries = stretch.entries.get(model.CLOUD, ())
        found, unknown = ceilings(tuple(group for group, _ in entries))
        if unknown and (stretch.whole or entries):
            (lost if entries else missing).append(Missing("ceiling", f"{stretch.words}: {unknown}"))
        period_of = dict(entries)
        layers += [
            Found(ceiling, group.text, _status(period_of[group], from_), period_of[group].words)
            for ceiling, group in found
        ]
        for quantity in (model.WIND, model.VISIBILITY, model.WEATHER):
            given = stretch.entries.get(quantity, ())
            lacking = stretch.whole and not given and quantity != model.WEATHER  # none given: there is none
            if lacking or any(group.value is None for group, _ in given):
                missing.append(Missing(quantity, f"{stretch.words}: no {quantity} is given"))
    weather = _values(inside, from_, model.WEATHER, Weather)
    return Expected(
        from_=from_,
        to=to,
        winds=_sorted(_values(inside, from_, model.WIND, ReportedWind), worst_wind),
        visibilities=_sorted(_values(inside, from_, model.VISIBILITY, Visibility), worst_visibility),
        ceilings=_sorted(layers, worst_ceiling),
        weather=tuple(each for each in weather if each.value.phenomena or each.value.descriptor),
        shears=tuple(_values(inside, from_, model.SHEAR, Shear)),
        clouds=tuple(_values(inside, from_, model.CLOUD, Cloud)),
        missing=tuple(dict.fromkeys((*missing, *lost))),
        lost=tuple(dict.fromkeys(lost)),
        doubts=_doubts(inside),
    )


def _spoiled(stretch: Stretch) -> list[Missing]:
    """Return what is not known of a stretch because of a group in it that was not decoded.

    What stands in a period at an unclear time is a copy, and counts where it was sent.
    """
    return [
        Missing(quantity, f"{stretch.words}: {shown(group.text)} was not decoded, and may be a worse {quantity}")
        for group, period in stretch.entries.get(model.NOT_DECODED, ())
        if period.status != model.UNCLEAR
        for quantity in may_be(group.text)
    ]


def _values(inside: list[Stretch], at: datetime, quantity: str, of: type[T]) -> list[Found[T]]:
    """Return each value of a quantity once."""
    found = [
        Found(group.value, group.text, _status(period, at), period.words)
        for stretch in inside
        for group, period in stretch.entries.get(quantity, ())
        if isinstance(group.value, of)
    ]
    return _once(found)


def _once(found: Sequence[Found[T]]) -> list[Found[T]]:
    """Return each once, and not at an unclear time what a period with a time says too."""
    timed = {(each.value, each.text) for each in found if each.status != model.UNCLEAR}
    return [
        each
        for each in dict.fromkeys(found)
        if each.status != model.UNCLEAR or (each.value, each.text) not in timed
    ]


def _status(period: Period, at: datetime) -> str:
    """Return how a period's weather is expected at a moment: a change that is complete by then prevails."""
    complete = period.status == model.BECOMING and period.to <= at
    return model.PREVAILING if complete else period.status


def _sorted(found: Sequence[Found[T]], key: Callable[[T], tuple[float, float]]) -> tuple[Found[T], ...]:
    return tuple(sorted(_once(found), key=lambda each: key(each.value)))


def _doubts(inside: list[Stretch]) -> tuple[str, ...]:
    """Return what was not decoded, and which times are not clear, of every period that counts."""
    doubts = [
        period.words if period.status == model.UNCLEAR else f"{period.words}: {shown(group.text)} was not decoded"
        for stretch in inside
        for entries in stretch.entries.values()
        for group, period in entries
        if period.status == model.UNCLEAR or group.kind == model.NOT_DECODED
    ]
    return tuple(dict.fromkeys(doubts))

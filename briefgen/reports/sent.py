"""What a field's report and forecast say, each for itself: what counts in a window, and what does not.

What is typed is held against all of them: fog in a report that is too old to count is still the last that was seen.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from briefgen.model.weather import Sent
from briefgen.reports.field import at_field, ceiling_seen, no_older, visibility_seen, winds_of
from briefgen.reports.model import Forecast, Report
from briefgen.reports.moments import said

_BEFORE_IT_ENDS = timedelta(minutes=1)


def sent(report: Report | None, forecast: Forecast | None, from_: datetime, to: datetime) -> tuple[Sent, ...]:
    """Return what was given for a field: what counts in a window, then what does not, by itself.

    Parameters
    ----------
    report : the latest, or None.
    forecast : or None; one that does not cover the window speaks for its own end or beginning.
    from_, to : both ends of the window, aware.

    Raises
    ------
    Refusal : the window ends before it begins, or the report was made after it begins.
    """
    return (_sent(report, forecast, from_, to, ""), *_others(report, forecast, from_, to))


def _others(report: Report | None, forecast: Forecast | None, from_: datetime, to: datetime) -> Iterator[Sent]:
    if report and not no_older(report, from_):
        yield _sent(report, None, report.made, report.made, "too old to count")
    if forecast and forecast.valid_to <= from_:
        last = forecast.valid_to - _BEFORE_IT_ENDS
        yield _sent(None, forecast, last, last, f"the forecast ends at {said(forecast.valid_to)}")
    if forecast and forecast.valid_from > to:
        first = forecast.valid_from
        yield _sent(None, forecast, first, first, f"the forecast begins at {said(first)}")


def _sent(report: Report | None, forecast: Forecast | None, from_: datetime, to: datetime, but: str) -> Sent:
    found = at_field(report, forecast, from_, to)
    return Sent(
        but=but,
        ceiling=ceiling_seen(found.expected, ""),
        visibility=visibility_seen(found.expected, ""),
        winds=winds_of(found.expected),
        temperature_degC=found.temperature_degC,
        altimeter_hPa=found.altimeter_hPa,
        lost=tuple((each.quantity, each.reason) for each in found.expected.lost),
    )

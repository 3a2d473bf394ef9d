"""What counts at one field at one time, of its report and its forecast: the winds, the least of the rest, and why.

A report counts where it is at most `OLDEST_MIN` old when the window begins, beside the forecast; alone it counts
only for a window that ends before it is that old. That limit is a design choice, and no policy moves it: a report
left out could make the weather look better.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from math import inf
from typing import NamedTuple

from briefgen.model.weather import Hazard, Seen, Wind
from briefgen.reports import model
from briefgen.reports.hazards import hazards
from briefgen.reports.model import Ceiling, Expected, Forecast, Report, Visibility
from briefgen.reports.outlook import age_min, at_departure, expected_how
from briefgen.reports.phrases import feet, visibility_words

OLDEST_MIN = 90.0


class AtField(NamedTuple):
    """What counts in a window: temperatures [degC] and setting [hPa] are None where no report that counts has them.

    `no_wind` and `no_air` say why there is none.
    """

    expected: Expected
    winds: tuple[Wind, ...]
    no_wind: str
    ceiling: Seen
    visibility: Seen
    no_air: str
    temperature_degC: float | None = None
    dew_point_degC: float | None = None
    altimeter_hPa: float | None = None
    hazards: tuple[Hazard, ...] = ()


def at_field(report: Report | None, forecast: Forecast | None, from_: datetime, to: datetime) -> AtField:
    """Return what counts at a field in a window.

    Parameters
    ----------
    report : the latest, or None.
    forecast : or None.
    from_, to : both ends of the window, aware.

    Raises
    ------
    Refusal : the window ends before it begins, or the report was made after it begins.
    """
    found = at_departure(report, forecast, from_, to, OLDEST_MIN)
    counts = report if report and not found.left_out else None
    covered = counts is not None and to - counts.made <= timedelta(minutes=OLDEST_MIN)
    no_wind = _unknown(found, model.WIND, covered)
    return AtField(
        expected=found,
        winds=() if no_wind else winds_of(found),
        no_wind=no_wind,
        ceiling=ceiling_seen(found, _unknown(found, model.CEILING, covered)),
        visibility=visibility_seen(found, _unknown(found, model.VISIBILITY, covered)),
        no_air="; ".join(found.left_out),
        temperature_degC=counts.temperature_degC if counts else None,
        dew_point_degC=counts.dew_point_degC if counts else None,
        altimeter_hPa=counts.altimeter.setting_hPa if counts and counts.altimeter else None,
        hazards=hazards(found),
    )


def no_older(report: Report, at: datetime) -> bool:
    """Say whether a report counts at a moment, which is not before it was made."""
    return age_min(report, at) <= OLDEST_MIN


def winds_of(found: Expected) -> tuple[Wind, ...]:
    """Return every wind that is known of a window."""
    return tuple(_with_words(each.value.wind) for each in found.winds)


def _unknown(found: Expected, quantity: str, covered: bool) -> str:
    """Return why the worst of a quantity is not known, or ''."""
    reasons = [
        each.reason
        for each in found.missing
        if each.quantity == quantity or (each.quantity == "all" and not covered)
    ]
    return "; ".join(dict.fromkeys((*reasons, *(found.left_out if reasons else ()))))


def ceiling_seen(found: Expected, unknown: str) -> Seen:
    """Return the lowest ceiling of a window; None where none is given, or for the reason why it is not known."""
    worst = found.ceiling
    if unknown or worst is None:
        return Seen(None, reason=unknown)
    ceiling: Ceiling = worst.value
    if ceiling.height_ft is not None:
        return Seen(ceiling.height_ft, f"{feet(ceiling.height_ft)}: {worst.text} ({expected_how(worst)})")
    clear_ft = inf if ceiling.clear_below_ft is None else ceiling.clear_below_ft
    upto = "" if clear_ft == inf else f" below {feet(clear_ft)}"
    return Seen(clear_ft, f"none{upto}: {worst.text} ({expected_how(worst)})", beyond=clear_ft < inf)


def visibility_seen(found: Expected, unknown: str) -> Seen:
    """Return the least visibility of a window, likewise; `beyond`: it is more than that."""
    worst = found.visibility
    if unknown or worst is None:
        return Seen(None, reason=unknown)
    seen: Visibility = worst.value
    words = visibility_words(seen, f"{seen.distance_SM:.3g}\u00a0SM")
    value = 0.0 if seen.less_than else seen.distance_SM  # how much less is not said
    return Seen(value, f"{words}: {worst.text} ({expected_how(worst)})", beyond=seen.more_than)


def _with_words(wind: Wind) -> Wind:
    """Return a wind with the words that a trip file would say it in."""
    if wind.gust_kt == 0:
        return wind._replace(text="calm")
    speed = f"at {wind.steady_kt:.0f}" + (f" gust {wind.gust_kt:.0f}" if wind.gust_kt > wind.steady_kt else "")
    if wind.from_deg is None:
        return wind._replace(text=f"variable {speed} kt")
    varying = f" varying {wind.between_deg[0]:03.0f} to {wind.between_deg[1]:03.0f}" if wind.between_deg else ""
    return wind._replace(text=f"{wind.from_deg:03.0f} true{varying} {speed} kt")


def kept(found: AtField) -> tuple[str, ...]:
    """Return what is doubtful of what counts: what was left out, what is missing, and what is not clear."""
    expected = found.expected
    missing = (
        each.reason if each.quantity == "all" else f"{each.quantity} not known: {each.reason}"
        for each in expected.missing
    )
    return tuple(dict.fromkeys((*expected.left_out, *missing, *expected.doubts)))

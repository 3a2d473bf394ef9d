"""Read where a report is from: how far from the field, how much lower, and what of that is not said."""

from __future__ import annotations

from typing import NamedTuple

from briefgen.calc.geodesic import between
from briefgen.files.entry import Entry
from briefgen.files.read_strip import read_position
from briefgen.model.route import Spot
from briefgen.model.strip import Strip
from briefgen.reports.model import Forecast, Report
from briefgen.units import NM_PER_SM

# What a report calls 'in the vicinity' ends 10 SM from its point (FMH-1 12.6.8, read). That what it says holds no
# farther is common practice, no source.
FAR_NM = 10 * NM_PER_SM


class Station(NamedTuple):
    """The reporting station: by how much it is lower than the field [ft], itself in words, and what is doubtful."""

    lower_ft: float
    words: str
    doubts: tuple[str, ...] = ()


def read_station(
    entry: Entry | None, report: Report | None, forecast: Forecast | None, strip: Strip | None
) -> Station:
    """Return the station that a field's report is from, else its forecast.

    Parameters
    ----------
    entry : the station as typed; None: what was sent first is the field's own.
    report, forecast : as sent, or None.
    strip : the field; None where it could not be read.
    """
    sent = report or forecast
    ident = entry.text("ident") if entry else sent.station if sent else ""
    found = _typed(entry, strip) if entry else Station(0.0, f"{ident}, taken as the field's own" if sent else "")
    if forecast is None or forecast.station == ident:
        return found
    other = f"the forecast is that of {forecast.station}, whose distance and height are not said"
    return Station(found.lower_ft, f"{found.words}; {other}", (*found.doubts, other))


def _typed(entry: Entry, strip: Strip | None) -> Station:
    ident, words, doubts, lower_ft = entry.text("ident"), [], [], 0.0
    position, elevation_ft = entry.get("position"), entry.optional("elevation", "length", -1500, 15_000)
    if strip and position is not None:
        line = between(Spot(strip.latitude_deg, strip.longitude_deg), Spot(*read_position(position)))
        words.append(f"{line.distance_nm:.1f}\u00a0NM from the field")
        if line.distance_nm > FAR_NM:
            doubts.append(f"{ident} is {line.distance_nm:.1f}\u00a0NM away")
    if strip and elevation_ft is not None:
        off_ft = elevation_ft - strip.elevation_ft
        lower_ft = max(0.0, -off_ft)
        words.append(f"{abs(off_ft):,.0f}\u00a0ft {'lower' if off_ft < 0 else 'higher'}" if off_ft else "as high")
    lacking = [name for name, each in (("distance", position), ("height", elevation_ft)) if each is None]
    if lacking:
        unsaid = f"{' and '.join(lacking)} {'are' if len(lacking) > 1 else 'is'} not said"
        words.append(f"its {unsaid}")
        doubts.append(f"of {ident} {unsaid}")
    return Station(lower_ft, ", ".join((ident, *words)), tuple(doubts))

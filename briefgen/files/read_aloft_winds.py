"""Read winds and temperatures aloft as they were sent, and lay what is typed over them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.files.entry import Entry
from briefgen.model.route import AloftTold, TemperatureAloft, WindAloft
from briefgen.reports import model
from briefgen.reports.aloft import LIGHT_KT, read_aloft
from briefgen.reports.model import Aloft, Level, not_decoded
from briefgen.reports.phrases import feet


class Levels(NamedTuple):
    """The levels that count, and what was sent; None where nothing was, or where it could not be used."""

    winds: tuple[WindAloft, ...]
    temperatures: tuple[TemperatureAloft, ...]
    told: AloftTold | None = None


def read_levels(entry: Entry | None, typed: Levels, reference: datetime) -> Levels:
    """Return the levels of a report of winds aloft, those that are typed laid over them, height by height.

    Parameters
    ----------
    entry : of the report: its station and its text; None: there is none.
    typed : the levels that the trip file types.
    reference : an aware moment near which the report is valid.
    """
    if entry is None or entry.faults.touch(entry.place):
        return typed
    try:
        sent = read_aloft(str(entry["report"].value), entry.text("station"), reference)
    except Refusal as refusal:
        reason = refusal.reason.replace("\u00a0", " ")
        entry["report"].fault(f"these winds aloft cannot be used: {reason}", "paste the table as it was sent")
        return typed
    if not sent.levels:
        entry["report"].fault(f"the row of {sent.station} has no level that can be read", "look at its groups")
        return typed
    winds = {level.altitude_ft: _wind(level) for level in sent.levels}
    air = {
        level.altitude_ft: TemperatureAloft(level.altitude_ft, level.temperature_degC)
        for level in sent.levels
        if level.temperature_degC is not None
    }
    differs = tuple(_differing(sent, typed))
    winds |= {each.height_ft: each for each in typed.winds}
    air |= {each.height_ft: each for each in typed.temperatures}
    return Levels(tuple(winds.values()), tuple(air.values()), _told(sent, differs))


def _wind(level: Level) -> WindAloft:
    """Return the wind of a level; one that is light and variable has no direction, and counts as calm."""
    wind = level.wind.wind
    if wind.from_deg is None:
        return WindAloft(level.altitude_ft, 0.0, 0.0)
    return WindAloft(level.altitude_ft, wind.from_deg, wind.steady_kt)


def _differing(sent: Aloft, typed: Levels) -> Iterator[str]:
    """Return the levels that are typed other than they were sent, both told."""
    winds = {each.height_ft: each for each in typed.winds}
    air = {each.height_ft: each.temperature_degC for each in typed.temperatures}
    for level in sent.levels:
        wind, degrees = winds.get(level.altitude_ft), air.get(level.altitude_ft)
        said = []
        if wind is not None and wind != _wind(level):
            said.append(f"{wind.from_deg:03.0f} true at {wind.speed_kt:.0f}\u00a0kt" if wind.speed_kt else "calm")
        if None not in (degrees, level.temperature_degC) and degrees != level.temperature_degC:
            said.append(f"{degrees:.0f}\u00a0°C".replace("-", "\u2212"))
        if said:
            yield f"at {feet(level.altitude_ft)} typed {', '.join(said)}, which counts; sent {level.text}"


def _told(sent: Aloft, differs: tuple[str, ...]) -> AloftTold:
    own = [group for group in sent.groups if group.kind != model.OTHER]
    light = [feet(level.altitude_ft) for level in sent.levels if level.wind.wind.from_deg is None]
    more = f"counted as calm, so up to {LIGHT_KT}\u00a0kt of headwind may come on top"
    counted = (f"light and variable at {' and '.join(light)}: {more}",) if light else ()
    return AloftTold(
        station=sent.station,
        text=" ".join(group.text for group in own),
        words=tuple((group.text, group.words or "NOT DECODED") for group in own),
        use=(sent.use_from, sent.use_to) if sent.use_from and sent.use_to else None,
        remarks=(*differs, *counted),
        not_decoded=not_decoded(sent.groups),
    )

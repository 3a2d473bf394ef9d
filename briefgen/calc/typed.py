"""What was typed for a field better than a report or forecast given with it says, whether that counts or not.

Better is a higher ceiling, a farther sight, a wind kinder to the runway in use, cooler air, a higher setting: each
makes a figure of the sheet look better. What was sent and gives no figure may be anything, so what is typed over it
is better too.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import inf
from typing import NamedTuple

from briefgen.calc.wind import RunwayWind, on_runway, worst_on_runway
from briefgen.model.strip import End
from briefgen.model.trip import Use
from briefgen.model.weather import Conditions, FieldWeather, NotGiven, Seen, Sent, Wind
from briefgen.units import HPA_PER_INHG

# How much better is not told yet: the steps that reports are coded in, and what changes within minutes.
# A design choice, no source.
WIND_KT = 2.0
TEMPERATURE_DEGC = 1.0
ALTIMETER_HPA = 0.03 * HPA_PER_INHG


class Better(NamedTuple):
    """One thing typed better: what, as typed, as sent; `but`: why what was sent does not count, or ''."""

    what: str
    typed: str
    sent: str
    but: str = ""

    @property
    def words(self) -> str:
        """All of it, as a caution says it."""
        return f"{self.what} {self.typed} typed, reported {self.sent}" + (f" ({self.but})" if self.but else "")

    @property
    def short(self) -> str:
        """What was sent, as a row says it."""
        return f"{self.what} {self.sent.partition(':')[0]}"


@lru_cache(maxsize=32)  # the rows, the page and the facts of a field ask for the same
def better(use: Use) -> tuple[Better, ...]:
    """Return what was typed for a field better than anything says that was sent with it.

    Parameters
    ----------
    use : the runway, whose wind is compared along and across it; the conditions as used, with what was sent.
    """
    conditions = use.conditions
    if isinstance(conditions, NotGiven) or conditions.weather is None:
        return ()
    weather = conditions.weather
    found = (each for sent in weather.sent for each in _better(use.end, conditions, weather, sent))
    return tuple({each.what: each for each in reversed(list(found))}.values())[::-1]


def _better(end: End, conditions: Conditions, weather: FieldWeather, sent: Sent) -> Iterator[Better]:
    if "ceiling" in weather.typed:
        yield from _sky("ceiling", weather.ceiling, sent.ceiling, sent)
    if "visibility" in weather.typed:
        yield from _sky("visibility", weather.visibility, sent.visibility, sent)
    if "wind" in weather.typed:
        yield from _wind(end, conditions.wind, sent) if sent.winds else ()
        yield from _lost("wind", _kt(conditions.wind.text), sent)
    yield from _air(conditions, weather.typed, sent)


def _sky(what: str, typed: Seen, told: Seen, sent: Sent) -> Iterator[Better]:
    """Yield a typed ceiling or visibility that is more than was sent; past what is known nothing was."""
    if typed.value is not None and told.value is not None and not told.beyond and typed.value > told.value:
        yield Better(what, typed.words, told.words, sent.but)
    yield from _lost(what, typed.words, sent)


def _lost(what: str, typed: str, sent: Sent) -> Iterator[Better]:
    for quantity, reason in sent.lost:
        if quantity == what:
            yield Better(what, typed, f"not known: {reason}", sent.but)


def _wind(end: End, wind: Wind, sent: Sent) -> Iterator[Better]:
    runway = end.heading_deg, end.heading_known_to_deg
    typed, told = on_runway(wind, *runway), worst_on_runway(sent.winds, *runway)
    gusts = max(each.gust_kt - each.steady_kt for each in sent.winds)
    by_gusts = gusts - (wind.gust_kt - wind.steady_kt)
    if max(_along(typed, told), told.crosswind_kt - typed.crosswind_kt, by_gusts) > WIND_KT:
        winds = ", ".join(dict.fromkeys(each.text for each in sent.winds))
        yield Better("wind", _kt(wind.text), _kt(winds), sent.but)


def _kt(text: str) -> str:
    return text.replace(" kt", "\u00a0kt")


def _along(typed: RunwayWind, told: RunwayWind) -> float:
    """Return by how much a wind along the runway was typed kinder than it was sent [kt]."""
    return typed.along_kt - told.along_kt


def _air(conditions: Conditions, typed: tuple[str, ...], sent: Sent) -> Iterator[Better]:
    told_degC, told_hPa = sent.temperature_degC, sent.altimeter_hPa
    used_degC, used_hPa = conditions.temperature_degC, conditions.altimeter_hPa
    if "temperature" in typed and told_degC is not None and told_degC - used_degC > TEMPERATURE_DEGC:
        yield Better("temperature", _degrees(used_degC), _degrees(told_degC), sent.but)
    if "altimeter" in typed and told_hPa is not None and used_hPa - told_hPa > ALTIMETER_HPA:
        yield Better("altimeter", _setting(used_hPa), _setting(told_hPa), sent.but)


def _degrees(temperature_degC: float) -> str:
    return f"{temperature_degC:.0f}\u00a0°C".replace("-", "\u2212")


def _setting(setting_hPa: float) -> str:
    return f"{setting_hPa / HPA_PER_INHG:.2f}\u00a0inHg"


def worst_sent(weather: FieldWeather) -> tuple[float, float]:
    """Return the lowest ceiling [ft] and the least visibility [SM] of all that was sent; infinite: none was."""
    ceilings = (each.ceiling for each in weather.sent)
    sights = (each.visibility for each in weather.sent)
    return _least(ceilings), _least(sights)


def _least(seen: Iterator[Seen]) -> float:
    return min((each.value for each in seen if each.value is not None and not each.beyond), default=inf)

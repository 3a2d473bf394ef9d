"""What of the weather that counts is a danger by itself, whatever ceiling and visibility are.

Source of the codes: FMH-1 12.6.8 and table 12-2, 12.6.9 (read); WMO-No. 306, FM 51 (read). Ice pellets are taken as
freezing rain: rain that freezes falls above them (AC 00-6B, from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from briefgen.model.weather import FOG, FREEZING, FUNNEL_CLOUD, HAIL, SHEAR, STORM_CLOUD, THUNDERSTORM, Hazard
from briefgen.reports.model import Expected, Weather
from briefgen.reports.outlook import expected_how
from briefgen.reports.phrases import feet

_IN_WEATHER: tuple[tuple[str, Callable[[Weather], bool]], ...] = (
    (THUNDERSTORM, lambda each: each.descriptor == "TS"),
    (FUNNEL_CLOUD, lambda each: "FC" in each.phenomena),
    (HAIL, lambda each: bool({"GR", "GS"} & {*each.phenomena})),
    (FREEZING, lambda each: each.descriptor == "FZ" or "PL" in each.phenomena),
    (FOG, lambda each: "FG" in each.phenomena),
)


def hazards(found: Expected) -> tuple[Hazard, ...]:
    """Return the dangers of a window, each with how much it is expected; what is past is none.

    Parameters
    ----------
    found : everything that counts in the window.
    """
    return tuple(dict.fromkeys(_hazards(found)))


def _hazards(found: Expected) -> Iterator[Hazard]:
    for weather in found.weather:
        for kind, is_one in _IN_WEATHER:
            if not weather.value.recent and is_one(weather.value):
                yield Hazard(kind, f"{weather.value.words} ({expected_how(weather)})")
    for cloud in found.clouds:
        if cloud.value.type:
            height = "" if cloud.value.base_ft is None else f" at {feet(cloud.value.base_ft)}"
            yield Hazard(STORM_CLOUD, f"{cloud.value.type}{height} ({expected_how(cloud)})")
    for shear in found.shears:
        yield Hazard(SHEAR, f"{shear.text} ({expected_how(shear)})")

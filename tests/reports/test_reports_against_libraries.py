"""The same reports, read by two other readers: metar 2.0 (BSD) and metar-taf-parser-mivek 1.13 (MIT).

Neither decides what is right: they differ from each other and from the sources where the check values say so (sky
clear as CLR, minus nil, settings kept as whole hPa), which is left out here. Two things that were measured with
`metar` 2.0.2 are the reason why reports are not read by it: of two winds it mixes the figures, of two altimeter
settings it keeps the last without a word.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from made import metars, tafs
from metar.Metar import Metar
from metar_taf_parser.parser.parser import TAFParser
from reading import MT_01, MT_02, MT_04, MT_05, MT_06, NEAR

from briefgen.reports import model
from briefgen.reports.metar import read_metar, visibility_of, wind_of
from briefgen.reports.model import Cloud, Period, ReportedWind, Visibility, not_decoded
from briefgen.reports.taf import read_taf

AMOUNTS = {"few": "FEW", "scattered": "SCT", "broken": "BKN", "overcast": "OVC"}


def compare_metar(text: str) -> None:
    theirs = Metar(text, strict=True, month=5, year=2026)
    ours = read_metar(text, NEAR)
    assert not not_decoded(ours.groups)
    assert ours.made.replace(tzinfo=None) == theirs.time
    wind = wind_of(ours)
    assert wind
    assert wind.wind.steady_kt == theirs.wind_speed.value("KT")
    assert wind.wind.gust_kt == (theirs.wind_gust or theirs.wind_speed).value("KT")
    if wind.wind.from_deg is not None:
        assert wind.wind.from_deg == theirs.wind_dir.value()
    visibility = visibility_of(ours)
    assert visibility
    assert visibility.distance_SM == pytest.approx(theirs.vis.value("SM"), rel=1e-3)  # theirs has a rounded mile
    layers = [each.value for each in ours.body if isinstance(each.value, Cloud) and each.value.amount != "none"]
    assert [(AMOUNTS[layer.amount], layer.base_ft) for layer in layers] == [
        (amount, height.value("FT")) for amount, height, _ in theirs.sky if height
    ]
    assert ours.temperature_degC == pytest.approx(theirs.temp.value("C"))
    assert ours.dew_point_degC == pytest.approx(theirs.dewpt.value("C"))
    assert ours.altimeter
    assert ours.altimeter.setting_hPa == pytest.approx(theirs.press.value("HPA"), abs=0.1)


@pytest.mark.parametrize("text", [MT_01, MT_04, MT_05, MT_06])
def test_the_published_reports_are_read_alike(text: str) -> None:
    compare_metar(text)


@settings(max_examples=150, deadline=None)
@given(metars())
def test_reports_that_are_made_up_are_read_alike(text: str) -> None:
    compare_metar(text)


def theirs_miles(text: str) -> float:
    """Return '1 1/2' as a number."""
    parts = (part.split("/") for part in text.removeprefix("P").split())
    return sum(float(part[0]) / float(part[1] if len(part) > 1 else 1) for part in parts)


def compare_period(ours: Period, theirs: object) -> None:
    """Compare one period: wind, visibility and layers."""
    wind = [each.value for each in ours.groups if isinstance(each.value, ReportedWind)]
    assert bool(wind) == bool(theirs.wind)  # type: ignore[attr-defined]
    if wind:
        blows = theirs.wind  # type: ignore[attr-defined]
        assert (wind[0].wind.from_deg, wind[0].wind.steady_kt) == (blows.degrees, blows.speed)
        assert wind[0].wind.gust_kt == (blows.gust or blows.speed)
    seen = [each.value for each in ours.groups if isinstance(each.value, Visibility)]
    assert bool(seen) == bool(theirs.visibility)  # type: ignore[attr-defined]
    if seen:
        assert seen[0].distance_SM == theirs_miles(theirs.visibility.distance)  # type: ignore[attr-defined]
    layers = [each.value for each in ours.groups if isinstance(each.value, Cloud) and each.value.amount != "none"]
    assert [(AMOUNTS[layer.amount], layer.base_ft) for layer in layers] == [
        (each.quantity.name, each.height)
        for each in theirs.clouds  # type: ignore[attr-defined]
        if each.height is not None
    ]


def compare_taf(text: str) -> None:
    theirs, ours = TAFParser().parse(text), read_taf(text, NEAR)
    assert not not_decoded(ours.groups)
    assert (ours.made.day, ours.made.time()) == (theirs.day, theirs.time)
    assert (ours.valid_from.day, ours.valid_from.hour) == (theirs.validity.start_day, theirs.validity.start_hour)
    first, *changes = ours.periods
    compare_period(first, theirs)
    assert len(changes) == len(theirs.trends)
    for change, other in zip(changes, theirs.trends, strict=True):
        minute = getattr(other.validity, "start_minutes", 0)
        assert (change.from_.day, change.from_.hour, change.from_.minute) == (
            other.validity.start_day,
            other.validity.start_hour,
            minute,
        )
        assert change.status != model.UNCLEAR
        if other.probability:
            assert f"probability {other.probability}" in change.status.replace("\u00a0", " ")
        compare_period(change, other)


def test_the_published_forecast_is_read_alike() -> None:
    compare_taf(MT_02)


@settings(max_examples=150, deadline=None)
@given(tafs())
def test_forecasts_that_are_made_up_are_read_alike(text: str) -> None:
    compare_taf(text)


def test_a_second_wind_and_a_second_setting_are_neither_mixed_nor_lost() -> None:
    """As measured: the library reads these as 180 at 5 gusting 25, and as 28.92 alone."""
    said = read_metar("METAR XAAA 091955Z 22015G25KT 18005KT 3/4SM OVC010CB 18/16 A2992 A2892", NEAR)
    wind = wind_of(said)
    assert wind
    assert wind.wind.text == "22015G25KT"
    assert said.altimeter is None
    assert said.doubts == ("two different altimeter settings are given",)

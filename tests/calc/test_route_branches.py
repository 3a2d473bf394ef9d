"""The way and the fuel of a whole trip, and the last day of the magnetic model."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from geographiclib.geodesic import Geodesic

from briefgen.calc.fuel import journey, least_burn
from briefgen.calc.geodesic import along
from briefgen.calc.legs import navigate
from briefgen.calc.variation import variation
from briefgen.model.route import Fuel, Leg, Route, Spot, WindAloft

HOME = Spot(40, -80)


def leg(**more: Any) -> Leg:
    """Return a leg of 50 NM due east at 100 kt and 8 gal/h in calm air, or with something else of it."""
    return Leg("X", 3000, 100, 8, None, 90, False, 50, WindAloft(3000, 0, 0), 0.0)._replace(**more)


def test_a_trip_without_a_policy_has_its_route_and_fuel_worked() -> None:
    """By hand: 50 NM at 100 kt, 8 gal/h: 4 gal; 1 taxi, 1 climb, 30 min by day 4 (14 CFR 91.151(a), read): 10."""
    route = Route("A", HOME, (leg(),), 2026.0)
    trip: Any = SimpleNamespace(
        policy=None,
        alternate=None,
        takeoff_time=None,
        route=route,
        fuel=Fuel(30, 1, 1, night=False),
        aircraft=SimpleNamespace(deviation=None, climb=None, cruise=(), taxi_allowance_gal=None),
        departure=SimpleNamespace(
            weight_lb=2400.0,
            use=SimpleNamespace(
                strip=SimpleNamespace(elevation_ft=700.0),
                conditions=SimpleNamespace(altimeter_hPa=1013.25, temperature_degC=15.0),
            ),
        ),
    )
    found = journey(trip)
    assert found.navigation is not None
    assert found.fuel.need.known == pytest.approx(10)
    trip.route = None
    assert journey(trip).navigation is None
    assert journey(trip).fuel.need.value is None


def test_the_magnetic_model_holds_to_the_end_of_its_last_day() -> None:
    """WMM2025 (read): from 2025.0, through 2029-12-31."""
    assert abs(variation(41.3, -84.4, 0.0, 2025.0)) < 90
    assert abs(variation(41.3, -84.4, 0.0, 2029.999)) < 90


def test_a_heading_is_that_of_the_course_half_way() -> None:
    """By geographiclib itself: from 41.25 N 84.5 W to 41.5 N 93 W the course turns from 275 to 269 degrees.

    A leg that turns by more than 4 degrees is refused; half of it is not, and is flown by its own middle.
    """
    start, end = Spot(41.25, -84.5), Spot(41.5, -93.0)
    line = Geodesic.WGS84.Inverse(*start, *end)
    assert (line["azi1"] - line["azi2"]) % 360 > 4
    far = navigate(Route("A", start, (leg(position=end, course_deg=None, distance_nm=None),), 2026.0))
    assert far.refused[0][1].about == "turn"
    middle = Geodesic.WGS84.Direct(*start, line["azi1"], line["s12"] / 2)
    there = Spot(middle["lat2"], middle["lon2"])
    (half,) = navigate(Route("A", start, (leg(position=there, course_deg=None, distance_nm=None),), 2026.0)).legs
    quarter = Geodesic.WGS84.Direct(*start, line["azi1"], line["s12"] / 4)
    assert half.course_deg == pytest.approx(quarter["azi2"] % 360, abs=1e-6)
    assert half.course_deg != pytest.approx(line["azi1"] % 360, abs=0.1)


def test_what_a_typed_course_leaves_to_the_field_is_flown_too() -> None:
    """By hand: 50 NM typed due east; the field is 2 NM further on."""
    further = along(along(HOME, 90.0, 50.0), 90.0, 2.0)
    (short,) = navigate(Route("A", HOME, (leg(),), 2026.0, end_position=further)).legs
    (whole,) = navigate(Route("A", HOME, (leg(),), 2026.0)).legs
    assert short.distance.known - whole.distance.known == pytest.approx(2.0, abs=0.01)
    assert "2.00\u00a0NM from where that ends to the field" in short.distance.steps[0].detail
    (there,) = navigate(Route("A", HOME, (leg(),), 2026.0, end_position=along(HOME, 90.0, 50.05))).legs
    assert there.distance.known == whole.distance.known


def test_the_least_burn_does_without_a_headwind_and_keeps_a_tailwind() -> None:
    """By hand: 30 NM at 90 kt and 9 gal/h are 3 gal in calm; 30 kt ahead make 4.5, 30 kt behind 2.25."""
    for wind_from, burnt, least in ((90.0, 4.5, 3.0), (270.0, 2.25, 2.25)):
        one = leg(distance_nm=30.0, airspeed_kt=90.0, flow_galh=9.0, wind=WindAloft(3500, wind_from, 30.0))
        found = navigate(Route("A", HOME, (one,), 2026.0))
        assert found.fuel_gal == pytest.approx(burnt)
        assert least_burn(None, found) == pytest.approx(least)

"""The way and the fuel of a whole trip, and the last day of the magnetic model."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from briefgen.calc.fuel import journey
from briefgen.calc.variation import variation
from briefgen.model.route import Fuel, Leg, Route, Spot, WindAloft


def test_a_trip_without_a_policy_has_its_route_and_fuel_worked() -> None:
    """By hand: 50 NM at 100 kt, 8 gal/h: 4 gal; 1 taxi, 1 climb, 30 min by day 4 (14 CFR 91.151(a), read): 10."""
    leg = Leg("X", 3000, 100, 8, None, 90, False, 50, WindAloft(3000, 0, 0), 0.0)
    route = Route("A", Spot(40, -80), (leg,), 2026.0)
    trip: Any = SimpleNamespace(
        policy=None,
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

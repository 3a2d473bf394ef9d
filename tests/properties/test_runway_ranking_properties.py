"""The order of the runways in a strip file, and of the ends in a runway, changes nothing in their ranking."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from modelled import airplane, policy, quick, touchdown

from briefgen.item import State
from briefgen.model.strip import End, Runway, Strip
from briefgen.model.trip import Arrival, Departure, Trip, Use
from briefgen.model.weather import Conditions, Wind
from briefgen.render.runways import runways_json
from briefgen.studies.runways import rank_runways


@st.composite
def runways(draw: st.DrawFn) -> tuple[Runway, ...]:
    """Return one to four runways of one field, some of grass, some equal, some ends barred."""
    found = []
    for number in draw(st.lists(st.integers(1, 18), min_size=1, max_size=4, unique=True)):
        allowed = draw(st.sampled_from([(True, True), (True, False), (False, True)]))
        ends = (
            End(f"{number:02d}", 10.0 * number, 0.0, takeoff=True, landing=True),
            End(f"{number + 18:02d}", (10.0 * number + 180) % 360, 0.0, takeoff=allowed[0], landing=allowed[1]),
        )
        length, surface = draw(st.sampled_from([1500.0, 2200.0, 2200.0, 4000.0])), draw(st.sampled_from("pg"))
        grade = draw(st.sampled_from([0.0, 0.01, -0.015]))
        found.append(Runway(length, {"p": "paved", "g": "grass"}[surface], ends, grade))
    return tuple(found)


def trip_on(there: tuple[Runway, ...], conditions: Conditions, heavy: float) -> Trip:
    """Return a trip from and to one field, on the end with the lowest number."""
    strip = Strip("Nowhere", 700.0, 41.0, -84.0, 0.0, there, "invented")
    found = strip.end(min(strip.idents))
    assert found is not None
    use = Use(strip, *found, conditions)
    return Trip(
        title="invented",
        as_of="2026-05-16T14:00Z",
        crew="crew",
        aircraft=airplane(),
        departure=Departure(use, heavy, "10", "short field"),
        arrival=Arrival(use, heavy, "30", "short field"),
        policy=policy(touchdown=touchdown()),
    )


@quick
@given(runways(), st.data(), st.floats(0.0, 359.0), st.integers(0, 18), st.booleans(), st.floats(2150.0, 2550.0))
def test_the_order_of_the_runways_in_the_strip_file_changes_nothing(
    there: tuple[Runway, ...], data: st.DataObject, wind_deg: float, knots: int, said: bool, heavy: float
) -> None:
    gust = knots + data.draw(st.integers(0, 8))
    wind = Wind(wind_deg, knots, gust, None, "as drawn")
    conditions = Conditions(20.0, 1013.25, wind, "dry", ground_said=said)
    shuffled = tuple(
        runway._replace(ends=runway.ends[::-1], slope=-runway.slope) if data.draw(st.booleans()) else runway
        for runway in data.draw(st.permutations(there))
    )
    first, second = (rank_runways(trip_on(each, conditions, heavy)) for each in (there, shuffled))
    assert runways_json(first) == runways_json(second)
    for field in first.fields[:2]:
        assert sorted(each.ident for each in field.ends) == sorted(end.ident for r in there for end in r.ends)
        keys = [each.order for each in field.ends]
        assert keys == sorted(keys)
        closed = [bool(each.closed) for each in field.ends]
        assert closed == sorted(closed)  # those that the strip file forbids come last
        for each in field.ends:
            reasons = [row.reason for row in each.rows if row.state is State.NOT_SHOWN]
            assert all(reasons)
            assert each.closed or each.rows

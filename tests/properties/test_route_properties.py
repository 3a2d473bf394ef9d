"""Routes with climbs, on the example airplane's tables: what holds for every field, altitude, weight and wind.

Source: the contract's 'Time, fuel and distance to climb'; that a climb to a greater height never takes less, that
the parts of a way add up to it, and that a wind from the left slows as one from the right does: physics and sums.
"""

from __future__ import annotations

from itertools import permutations
from types import SimpleNamespace
from typing import Any

import pytest
from conftest import EXAMPLE
from hypothesis import assume, given
from hypothesis import strategies as st
from modelled import quick

from briefgen.calc.fuel import Journey, plan
from briefgen.calc.fuel_stop import fuel_stop
from briefgen.calc.legs import Navigation, navigate
from briefgen.calc.performance import Tables
from briefgen.calc.wind_triangle import aloft, solve
from briefgen.errors import Refusal
from briefgen.files.document import read
from briefgen.files.entry import opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.handbook.climb import QUANTITIES, Climbed, ClimbTable, End
from briefgen.item import item
from briefgen.model.aircraft import Aircraft
from briefgen.model.clock import Clock
from briefgen.model.policy import NO_POLICY
from briefgen.model.route import Fuel, FuelStop, Leg, Route, Spot, TemperatureAloft, WindAloft
from briefgen.route_page import route_page

FILE = EXAMPLE / "aircraft" / "n0142.yaml"


def airplane(path: Any = FILE) -> Aircraft:
    return read_aircraft(opened(read(path, "n0142.yaml"), "aircraft"))


AIRPLANE = airplane()
weights = st.floats(2150.0, 2550.0)
heights = st.floats(0.0, 10_000.0)


def table() -> ClimbTable:
    assert AIRPLANE.climb is not None
    return AIRPLANE.climb


def end(height_ft: float, above_degC: float = 0.0) -> End:
    return End(f"{height_ft:.0f} ft", height_ft, None, above_degC)


def taken(climbed: Climbed) -> list[float]:
    return [getattr(climbed, quantity).known for quantity in QUANTITIES]


@quick
@given(st.lists(heights, min_size=3, max_size=3, unique=True), weights, st.floats(-20.0, 30.0))
def test_a_climb_to_a_greater_height_never_takes_less_and_no_part_of_it_is_negative(
    three: list[float], weight_lb: float, above_degC: float
) -> None:
    low, middle, high = sorted(three)
    assume(low < middle < high)
    shorter = table().climb(end(low, above_degC), end(middle, above_degC), weight_lb)
    longer = table().climb(end(low, above_degC), end(high, above_degC), weight_lb)
    for less, more in zip(taken(shorter), taken(longer), strict=True):
        assert 0 <= less <= more + 1e-9
    rest = table().climb(end(middle, above_degC), end(high, above_degC), weight_lb)
    assert [a + b for a, b in zip(taken(shorter), taken(rest), strict=True)] == pytest.approx(taken(longer))


@quick
@given(heights, heights, weights, st.tuples(st.floats(-20, 30), st.floats(-20, 30)), st.booleans())
def test_warmer_at_either_end_never_climbs_in_less(
    one: float, other: float, weight_lb: float, warm: tuple[float, float], at_the_top: bool
) -> None:
    assume(one != other)
    low, high = sorted((one, other))
    ends = (min(warm), max(warm)) if at_the_top else (max(warm), min(warm))
    cool = table().climb(end(low, min(warm)), end(high, min(warm)), weight_lb)
    warmer = table().climb(end(low, ends[0]), end(high, ends[1]), weight_lb)
    assert all(less <= more for less, more in zip(taken(cool), taken(warmer), strict=True))


@pytest.mark.parametrize("order", list(permutations(range(3))))
def test_the_order_of_the_blocks_by_weight_does_not_matter(tmp_path: Any, order: tuple[int, ...]) -> None:
    text = FILE.read_text(encoding="utf-8")
    start = text.index("  tables:\n    - weight", text.index("\nclimb:")) + len("  tables:\n")
    finish = text.index("  allowance:", start)
    blocks = [f"    - weight{each}" for each in text[start:finish].split("    - weight")[1:]]
    assert len(blocks) == 3
    path = tmp_path / "n0142.yaml"
    path.write_text(text[:start] + "".join(blocks[i] for i in order) + text[finish:], encoding="utf-8")
    turned = airplane(path).climb
    assert turned is not None
    for weight_lb in (2150, 2250, 2350, 2500, 2550):
        found, wanted = (each.climb(end(700), end(5500), weight_lb) for each in (turned, table()))
        assert taken(found) == taken(wanted)


@st.composite
def routes(draw: st.DrawFn) -> Route:
    """Return one to four legs from a field at 700 ft, by power or typed, in wind that can be flown in."""
    legs = []
    for i in range(draw(st.integers(1, 4))):
        by_power = draw(st.booleans())
        legs.append(
            Leg(
                f"place {i}",
                draw(st.integers(3, 9)) * 1000.0 + 500.0,
                None if by_power else draw(st.floats(90.0, 130.0)),
                None if by_power else draw(st.floats(6.0, 12.0)),
                course_deg=draw(st.floats(0.0, 360.0)),
                distance_nm=draw(st.floats(2.0, 120.0)),
                wind=WindAloft(0.0, draw(st.floats(0.0, 360.0)), draw(st.floats(0.0, 50.0))),
                variation_deg=0.0,
                power="2300 rpm" if by_power else "",
            )
        )
    levels = (TemperatureAloft(3000, draw(st.floats(9.0, 25.0))), TemperatureAloft(10_000, -3.0))
    return Route("A", Spot(40.0, -80.0), tuple(legs), 2026.0, takeoff_min=600, temperatures=levels)


def flown(route: Route, weight_lb: float = 2400.0) -> Navigation:
    book = Tables(700, 650, 20.0, weight_lb, AIRPLANE.climb, AIRPLANE.cruise)
    return navigate(route, AIRPLANE.deviation, book)


@quick
@given(routes(), weights)
def test_the_parts_of_every_leg_add_up_to_it_and_the_fuel_to_its_stages(route: Route, weight_lb: float) -> None:
    found = flown(route, weight_lb)
    assert found.refused == ()
    for i, leg in enumerate(route.legs):
        parts = [each for each in found.legs if each.leg is leg]
        assert sum(each.distance.known for each in parts) == pytest.approx(leg.distance_nm), i
        assert all(min(each.distance.known, each.time.known, each.fuel.known) >= 0 for each in parts)
    minutes, gallons = (sum(getattr(each, name).known for each in found.legs) for name in ("time", "fuel"))
    assert (found.minutes, found.fuel_gal) == pytest.approx((minutes, gallons))
    worked = plan(Fuel(40.0, 1.0), found, NO_POLICY)
    if found.climb_reason:
        assert worked.stages == ()
        assert found.climbed == ()
        return
    assert [stage.name for stage in worked.stages[1:3]] == ["climb", "legs"]
    assert sum(stage.fuel_gal for stage in worked.stages[1:3]) == pytest.approx(gallons)
    assert sum(stage.minutes or 0 for stage in worked.stages[1:3]) == pytest.approx(minutes)
    assert worked.least_burn is not None
    assert worked.least_burn.known <= gallons * (1 + 1e-9)
    assert worked.least_burn.known == pytest.approx(sum(each.least_gal for each in found.legs))
    assert worked.need.known == pytest.approx(sum(stage.fuel_gal for stage in worked.stages))


@quick
@given(routes())
def test_every_printed_column_adds_up_to_its_total_and_to_the_fuel_s_stages(route: Route) -> None:
    found = flown(route)
    fuel = plan(Fuel(40.0, 1.0, night=False), found, NO_POLICY)
    use = SimpleNamespace(strip=SimpleNamespace(name="A"), clock=Clock())
    field, times = SimpleNamespace(use=use), {"takeoff_time": route.takeoff, "takeoff_day": None}
    trip: Any = SimpleNamespace(route=route, fuel=None, policy=None, departure=field, arrival=field, **times)
    page = route_page(
        trip, found, fuel, item("fuel", "Fuel", "", fuel.need, fuel.policy_need, fuel.have, policy=None)
    )
    assert page is not None
    assert sum(row.distance_nm for row in page.legs) == pytest.approx(page.distance_nm)
    assert sum(row.minutes for row in page.legs) == page.minutes
    assert sum(row.fuel for row in page.legs) == pytest.approx(page.fuel)
    assert found.fuel_gal - 1e-6 <= page.fuel < found.fuel_gal + 0.1
    assert found.minutes - 1e-6 <= page.minutes < found.minutes + 1
    logged = [row for row in page.ladder if row.name in ("climb", "legs")]
    if page.ladder:
        assert sum(row.amount or 0 for row in logged) == pytest.approx(page.fuel)
        assert sum(row.minutes or 0 for row in logged) == page.minutes
    assert bool(page.ladder) == page.has_climbs


@quick
@given(routes(), st.floats(20.0, 60.0), st.sampled_from((0.0, 0.1, 0.25)), st.sampled_from((1800.0, 3600.0)))
def test_what_is_over_the_need_of_going_on_is_at_every_place_what_was_over_the_trip_s(
    route: Route, on_board_gal: float, margin: float, reserve_s: float
) -> None:
    """By the definitions: what is burnt to a place leaves tanks and need alike; so less is asked further on."""
    policy = NO_POLICY._replace(burn_margin=margin, fuel_reserve_s=reserve_s)
    fuel, before = Fuel(on_board_gal, 1.0, approach_gal=0.5, night=False), None
    for fix in route.legs[:-1]:
        stop = FuelStop(fix.to, fix._replace(to="stop", altitude_ft=3500.0))
        navigation = flown(route._replace(fuel_stop=stop))
        whole = plan(fuel, navigation, policy)
        trip: Any = SimpleNamespace(route=route._replace(fuel_stop=stop), fuel=fuel, policy=policy)
        found = fuel_stop(trip, Journey(navigation, whole))
        assert found is not None
        if not whole.stages or found.way is None:
            assert found.left.value is None
            continue
        over_gal = found.planned.known - found.policy_continue_need.known
        assert over_gal == pytest.approx(whole.have.known - whole.policy_need.known, abs=1e-6)
        assert found.continue_need.known <= found.policy_continue_need.known < whole.policy_need.known
        assert (found.by.value is None) == (over_gal < 0)
        assert found.by.value is None or found.by.known >= found.reached.known
        burnt = (found.way.fuel.known + 0.5) * (1 + margin)
        assert found.left.known == pytest.approx(found.planned.known - burnt)
        flow_galh = max(each.flow.known for each in (*navigation.legs, navigation.stop) if each and each.flow)
        if before and before[1] == flow_galh:  # else the reserve is at another flow
            assert found.policy_continue_need.known < before[0]
        before = found.policy_continue_need.known, flow_galh


@quick
@given(routes(), st.data())
def test_the_order_of_legs_that_are_flown_level_changes_no_sum(route: Route, data: st.DataObject) -> None:
    """Courses and distances as typed, no climb table: each leg takes what it takes, wherever it stands."""
    cruise = Tables(700, 650, 20.0, 2400.0, None, AIRPLANE.cruise)
    about = route._replace(legs=tuple(data.draw(st.permutations(route.legs))))
    one, other = (navigate(each, None, cruise) for each in (route, about))
    assert not one.refused
    sums = (one.distance_nm, one.minutes, one.fuel_gal, one.least_gal)
    assert sums == pytest.approx((other.distance_nm, other.minutes, other.fuel_gal, other.least_gal))
    need, turned = (plan(Fuel(40.0, 1.0, 1.5), each, NO_POLICY).need for each in (one, other))
    assert need.known == pytest.approx(turned.known)


@quick
@given(
    st.lists(st.tuples(st.floats(0, 360), st.floats(0, 60)), min_size=4, max_size=4),
    st.permutations(range(4)),
)
def test_the_order_of_the_levels_of_wind_does_not_matter(
    winds: list[tuple[float, float]], order: list[int]
) -> None:
    levels = [WindAloft(3000.0 * (i + 1), *wind) for i, wind in enumerate(winds)]
    for height_ft in (3000, 4321, 7500, 9000, 11_999, 12_000):
        assert aloft([levels[i] for i in order], height_ft) == aloft(levels, height_ft)


@quick
@given(st.floats(0, 360), st.floats(60, 160), st.floats(0, 180), st.floats(0, 80))
def test_a_wind_from_the_left_and_its_mirror_from_the_right_leave_the_same_ground_speed(
    course: float, airspeed: float, angle: float, wind: float
) -> None:
    def found(wind_from: float) -> tuple[float, float] | str:
        try:
            triangle = solve(course, airspeed, wind_from, wind)
        except Refusal as refusal:
            return refusal.about
        return triangle.ground_speed_kt, triangle.correction_deg

    right, left = found(course + angle), found(course - angle)
    if isinstance(right, str) or isinstance(left, str):
        assert right == left == "wind"
        return
    assert left == pytest.approx((right[0], -right[1]), abs=1e-6)

"""Balance holds what needs no source: order and datum do not matter, every vertex is checked, mends mend.

Source: the properties that the check values list for weight and balance; the definitions in calc/balance.py.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.calc.balance import (
    EDGE,
    INSIDE,
    OUTSIDE,
    Mass,
    along,
    balanced,
    crosses_itself,
    fuel_lines,
    masses,
    place,
    stretches,
)
from briefgen.calc.mends import mends
from briefgen.errors import Refusal
from briefgen.model.load import Balance, Envelope, Lever, Load, Station, Tank

CALM = settings(deadline=None, derandomize=True, max_examples=80)
WEIGHT = st.floats(0, 400)
LIMITS = ((1500.0, 35.0), (1950.0, 35.0), (2550.0, 39.5), (2550.0, 47.3), (1500.0, 47.3))


def airplane(shift: float = 0.0, order: int = 1) -> Balance:
    """Return an invented airplane; `shift` moves the datum ahead by inches, `order` -1 turns the lists about."""
    stations = [
        Station("front", Lever(37.0 + shift), "p. 6-5"),
        Station("rear", Lever(73.0 + shift), "p. 6-5", 400),
        Station("baggage", Lever(95.0 + shift), "p. 6-5", 120),
    ]
    return Balance(
        1632,
        1632 * (39.2 + shift),
        "2025-04-02",
        "p. 6-1",
        tuple(stations[::order]),
        (Tank("wings", Lever(48.0 + shift), 50, "p. 6-5"), Tank("tail", Lever(110.0 + shift), 10, "p. 6-5")),
        (Envelope("normal", "arm", tuple((weight, arm + shift) for weight, arm in LIMITS), "p. 6-8"),),
    )


@st.composite
def loads(draw: st.DrawFn) -> Load:
    stations = {"front": draw(WEIGHT), "rear": draw(WEIGHT), "baggage": draw(st.floats(0, 120))}
    fuel = {"wings": draw(st.floats(5, 50)), "tail": draw(st.sampled_from([0.0, 0.5, 10.0]))}
    return Load("normal", stations, fuel, 1.0, draw(st.floats(0, 4)))


@CALM
@given(loads())
def test_neither_the_order_of_the_stations_nor_the_datum_moves_a_state(load: Load) -> None:
    plain, turned, moved = (balanced(plane, load) for plane in (airplane(), airplane(order=-1), airplane(shift=60)))
    for other, shift in ((turned, 0), (moved, 60)):
        assert [each.mass.name for each in other.points] == [each.mass.name for each in plain.points]
        for one, two in zip(plain.points, other.points, strict=True):
            assert two.mass.weight_lb == pytest.approx(one.mass.weight_lb)
            assert two.mass.arm_in - shift == pytest.approx(one.mass.arm_in)
            near = abs(one.room_in) < 1e-3 or abs(one.mass.weight_lb - 2550) < 1e-3
            assert near or one.place.where == two.place.where


@CALM
@given(loads())
def test_every_change_of_tank_and_every_corner_s_weight_is_looked_at(load: Load) -> None:
    worked = balanced(airplane(), load)
    names = [each.mass.name for each in worked.points]
    assert names[0] == "ramp"
    assert names[-1] == "zero fuel"
    assert {"takeoff", "landing"} < set(names)
    assert ("wings empty" in names) == (load.fuel_gal["tail"] > 0)
    weights = [each.mass.weight_lb for each in worked.points]
    assert weights == sorted(weights, reverse=True)
    corners = [weight for weight, _ in LIMITS if weights[-1] < weight < weights[0] and weight not in weights]
    assert sorted({each.mass.weight_lb for each in worked.between}) == sorted(set(corners))


@CALM
@given(loads())
def test_a_mend_that_is_offered_brings_every_point_inside_and_one_step_less_does_not(load: Load) -> None:
    plane = airplane()
    worked = balanced(plane, load)
    offers = mends(plane, load, worked)
    assert worked.inside is (not offers) or not worked.inside
    for mend in offers:
        words = mend.words.split()
        stations = {"move": {words[4]: -1, words[-1]: 1}, "leave": {words[4]: -1}, "carry": {words[-1]: 1}}
        change, tank = stations.get(words[0], {}), words[-1] if words[0] == "drain" else ""
        assert change or tank

        def inside(lb: float, change: dict[str, int] = change, tank: str = tank) -> bool:
            there = {name: lb_there + change.get(name, 0) * lb for name, lb_there in load.stations.items()}
            fuel = {name: gal - (lb / 6 if name == tank else 0) for name, gal in load.fuel_gal.items()}
            return balanced(plane, load._replace(stations=there, fuel_gal=fuel)).inside

        assert inside(mend.lb)
        assert not inside(mend.lb - (0.6 if tank else 1))  # a tenth of a gallon, or a pound


def test_a_point_on_the_line_counts_as_inside_and_one_past_it_is_outside_by_so_much() -> None:
    """By hand on the envelope above: at 2,250 lb the forward limit is half-way from 35.0 to 39.5, 37.25 in."""
    (envelope,) = airplane().envelopes

    def at(weight_lb: float, arm_in: float) -> Mass:
        return Mass("here", weight_lb, weight_lb * arm_in)

    assert place(at(2250, 37.25), envelope).where == EDGE
    assert place(at(2250, 40.0), envelope).where == INSIDE
    ahead, behind = place(at(2250, 37.0), envelope), place(at(2250, 48.0), envelope)
    assert (ahead.where, behind.where) == (OUTSIDE, OUTSIDE)
    assert ahead.out_in == pytest.approx(-0.25)
    assert behind.out_in == pytest.approx(0.7)
    assert place(at(2550, 42), envelope).where == EDGE
    assert place(at(2560, 42), envelope).over_lb == pytest.approx(10)
    assert place(at(1400, 42), envelope).under_lb == pytest.approx(100)


def test_a_burn_line_that_leaves_the_envelope_between_its_ends_is_found() -> None:
    """By hand: from 2,300 lb at 38.0 in to 1,600 lb at 35.6 in, past 1,950 lb at 37.0 in: a notch catches it."""
    notched = Envelope("n", "arm", ((1500, 35), (1950, 37.5), (2400, 35), (2400, 47), (1500, 47)), "p. 1")
    ends = (Mass("takeoff", 2300, 2300 * 38.0), Mass("landing", 1600, 1600 * 35.6))
    assert {place(each, notched).where for each in ends} == {INSIDE}
    (between,) = along(ends, notched)
    assert between.weight_lb == 1950
    assert between.arm_in == pytest.approx(37.015, abs=0.001)
    assert place(between, notched).out_in == pytest.approx(-0.485, abs=0.001)


def test_more_burnt_than_there_is_is_refused() -> None:
    with pytest.raises(Refusal, match=r"2\.0 gal more are burnt than there are in the tanks"):
        fuel_lines(airplane(), Load("normal", {}, {"wings": 10}), 12.0)


def test_a_landing_and_a_change_of_tank_at_the_same_moment_are_one_point() -> None:
    load = Load("normal", {"front": 340}, {"wings": 10, "tail": 5}, 1.0, 9.0)
    assert [mass.name for mass in masses(airplane(), load)] == ["ramp", "takeoff", "landing", "zero fuel"]


@CALM
@given(st.permutations(range(4)))
def test_a_line_that_crosses_itself_is_known(order: list[int]) -> None:
    """Of the orders of a square's corners, those that go around it do not cross; the others do."""
    square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    around = all(abs(a - b) in (1, 3) for a, b in zip(order, [*order[1:], order[0]], strict=True))
    assert crosses_itself(tuple(square[i] for i in order)) is not around


def test_how_often_a_weight_passes_the_inside() -> None:
    notched = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 1.0), (1.0, 2.0), (2.0, 2.0), (2.0, 3.0), (0.0, 3.0))
    assert (stretches(notched, 0.5), stretches(notched, 1.5)) == (1, 2)


def test_no_mend_is_offered_past_the_end_of_a_table_of_moments() -> None:
    """By hand: nose-heavy, and the only station aft ends its table at 10 lb, which is too little."""
    table = Station("aft", Lever(table=((0, 0), (10, 1000))), "p. 1")
    plane = airplane()._replace(empty_lb_in=1632 * 33.0, stations=(table,))
    load = Load("normal", {}, {"wings": 10})
    assert not balanced(plane, load).inside
    assert mends(plane, load, balanced(plane, load)) == ()


def test_two_sides_on_one_straight_line_cross_only_where_they_overlap() -> None:
    """A notch at the top: the two ends of the top lie on one line and do not meet; folded over, they do."""
    notched = ((0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.5, 2.0), (3.0, 3.0), (3.0, 4.0), (0.0, 4.0))
    assert not crosses_itself(notched)
    folded = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.5, 2.5), (3.0, 1.0), (3.0, 4.0), (0.0, 4.0))
    assert crosses_itself(folded)

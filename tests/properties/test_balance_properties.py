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
    Checked,
    Mass,
    along,
    balanced,
    crosses_itself,
    fuel_lines,
    masses,
    place,
    stretches,
    total,
)
from briefgen.calc.mends import Bounds, mends
from briefgen.errors import Refusal
from briefgen.model.load import Balance, Envelope, Lever, Load, Station, Tank

CALM = settings(deadline=None, derandomize=True, max_examples=80)
WEIGHT = st.floats(0, 400)
LIMITS = ((1500.0, 35.0), (1950.0, 35.0), (2550.0, 39.5), (2550.0, 47.3), (1500.0, 47.3))


def airplane(shift: float = 0.0, order: int = 1, by: str = "arm") -> Balance:
    """Return an invented airplane; `shift` moves the datum ahead by inches, `order` -1 turns the lists about.

    `by`: whether its envelope is drawn by arm or by moment.
    """
    limits = ((weight, (arm + shift) * (weight if by == "moment" else 1)) for weight, arm in LIMITS)
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
        (Envelope("normal", by, tuple(limits), "p. 6-8"),),
    )


@st.composite
def loads(draw: st.DrawFn) -> Load:
    stations = {"front": draw(WEIGHT), "rear": draw(WEIGHT), "baggage": draw(st.floats(0, 120))}
    fuel = {"wings": draw(st.floats(5, 50)), "tail": draw(st.sampled_from([0.0, 0.5, 10.0]))}
    return Load("normal", stations, fuel, 1.0, draw(st.floats(0, 4)))


@pytest.mark.parametrize("by", ["arm", "moment"])
@CALM
@given(load=loads(), shift=st.floats(-200, 200))
def test_neither_the_order_of_the_stations_nor_the_datum_moves_a_state(by: str, load: Load, shift: float) -> None:
    stations, fuel = (dict([*each.items()][::-1]) for each in (load.stations, load.fuel_gal))
    about = load._replace(stations=stations, fuel_gal=fuel)
    plain, loaded_about = (balanced(airplane(by=by), each) for each in (load, about))
    assert (loaded_about.points, loaded_about.between) == (plain.points, plain.between)
    turned, moved = (balanced(plane, load) for plane in (airplane(order=-1, by=by), airplane(shift, by=by)))
    for other, by_in in ((turned, 0.0), (moved, shift)):
        assert [each.mass.name for each in other.points] == [each.mass.name for each in plain.points]
        assert len(other.between) == len(plain.between)
        for one, two in zip((*plain.points, *plain.between), (*other.points, *other.between), strict=True):
            assert two.mass.weight_lb == pytest.approx(one.mass.weight_lb)
            assert two.mass.arm_in - by_in == pytest.approx(one.mass.arm_in)
            near = abs(one.room_in) < 1e-3 or abs(one.mass.weight_lb - 2550) < 1e-3
            assert near or one.place.where == two.place.where
            if not near:
                assert two.place[3:] == pytest.approx(one.place[3:], abs=1e-6)  # out by as much, over by as much


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
    offers = mends(plane, load, worked, Bounds(spare_gal=60))
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


def bowed(low_in: float, high_in: float, tank_in: float = 48.0) -> tuple[Balance, Load]:
    """Return 2,000 lb at 40 in with 300 lb of fuel; the aft limit is straight from low to full weight."""
    limits = ((1500, 20), (2300, 20), (2300, high_in), (2000, low_in), (1500, low_in))
    tank, envelope = Tank("wings", Lever(tank_in), 50, "p. 1"), Envelope("normal", "arm", limits, "p. 1")
    plane = Balance(2000, 80_000, "2025-04-02", "p. 1", (), (tank,), (envelope,))
    return plane, Load("normal", {}, {"wings": 50.0}, 0.0, 50.0)


def test_a_burn_line_that_bows_out_past_a_straight_limit_is_found() -> None:
    """By hand: full 94,400 / 2,300 = 41.0435 in, dry 40 in, both on a limit drawn straight between them.

    Half-way, at 2,150 lb, it is 87,200 / 2,150 = 40.558 in, behind the limit's 40.522. It is furthest behind where
    48 - 16,000 / W rises as the limit does, 1.0435 in 300 lb: at the root of 16,000 x 300 / 1.0435, 2,144.8 lb.
    """
    plane, load = bowed(40.0, 94_400 / 2300)
    worked = balanced(plane, load)
    assert {each.place.where for each in worked.points} == {EDGE}
    assert not worked.inside
    assert worked.worst.mass.weight_lb == pytest.approx(2144.8, abs=0.1)
    assert worked.worst.place.out_in == pytest.approx(0.036, abs=0.001)


@CALM
@given(st.floats(-0.05, 0.1), st.floats(-0.05, 0.1), st.floats(25, 70))
def test_a_load_that_is_said_to_be_inside_is_inside_at_every_gallon(
    low_in: float, high_in: float, tank_in: float
) -> None:
    plane, load = bowed(40 + low_in, (80_000 + 300 * tank_in) / 2300 + high_in, tank_in)
    worked = balanced(plane, load)
    burnt = [total("then", (*worked.dry, *fuel_lines(plane, load, 50 * i / 300))) for i in range(301)]
    if worked.inside:
        assert {place(each, worked.envelope).where for each in burnt} <= {INSIDE, EDGE}
    assert worked.worst.room_in <= min(Checked(each, place(each, worked.envelope)).room_in for each in burnt) + 1e-9


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


def test_fuel_that_may_be_needed_is_never_offered_to_be_drained() -> None:
    """By hand: 100 lb over the top of the envelope is 16.7 gal; with 10 gal spare no draining is offered."""
    top = Envelope("normal", "arm", ((1500, 30), (2000, 30), (2000, 60), (1500, 60)), "p. 1")
    plane = airplane()._replace(envelopes=(top,))
    load = Load("normal", {"front": 168.0}, {"wings": 50.0}, 0.0, 4.0)  # 1,632 + 168 + 300 lb
    worked = balanced(plane, load)

    def drained(spare_gal: float) -> list[str]:
        found = mends(plane, load, worked, Bounds(spare_gal=spare_gal))
        return [each.words for each in found if each.words.startswith("drain")]

    assert drained(20.0) == ["drain 16.7 gal from wings"]
    assert drained(10.0) == []
    assert drained(0.0) == []


@pytest.mark.parametrize("point", ["ramp", "takeoff", "landing", "zero fuel"])
def test_no_mend_breaks_a_maximum_weight(point: str) -> None:
    """By hand: nose-heavy at 1,632 + 500 + 60 lb; a maximum 5 lb above leaves no room for the ballast it needs."""
    plane = airplane()._replace(empty_lb_in=1632 * 35.0)
    load = Load("normal", {"front": 500.0}, {"wings": 10.0}, 1.0, 2.0)
    worked = balanced(plane, load)
    weight_lb = next(each.mass.weight_lb for each in worked.points if each.mass.name == point)
    free, bound = (mends(plane, load, worked, Bounds(maxima)) for maxima in ({}, {point: weight_lb + 5}))
    assert any(each.words.startswith("carry") and each.lb > 5 for each in free)
    assert not any(each.words.startswith("carry") and each.lb > 5 for each in bound)


def test_a_load_over_and_aft_at_once_is_mended_by_what_does_both() -> None:
    """By hand: the first pounds of baggage left behind bring it under the top, more of them bring it forward."""
    top = Envelope("normal", "arm", ((1500, 30), (2200, 30), (2200, 40), (1500, 40)), "p. 1")
    plane = airplane()._replace(envelopes=(top,))
    load = Load("normal", {"front": 340.0, "baggage": 60.0}, {"wings": 30.0}, 0.0, 4.0)
    worked = balanced(plane, load)
    assert worked.points[0].place.over_lb == pytest.approx(12)  # 1,632 + 340 + 60 + 180 lb
    (left,) = [each for each in mends(plane, load, worked) if each.words.startswith("leave")]
    assert left.words.endswith("lb of baggage behind")
    assert left.lb > 12

    def inside(lb: float) -> bool:
        return balanced(plane, load._replace(stations={"front": 340.0, "baggage": 60.0 - lb})).inside

    assert inside(left.lb)
    assert not inside(left.lb - 1)


def test_baggage_is_left_behind_before_people() -> None:
    """By hand: 16 lb over, on the fore-and-aft middle of the envelope: 16 lb of either station would do."""
    top = Envelope("normal", "arm", ((1500, 30), (2000, 30), (2000, 60), (1500, 60)), "p. 1")
    plane = airplane()._replace(envelopes=(top,))
    load = Load("normal", {"front": 284.0, "baggage": 40.0}, {"wings": 10.0}, 0.0, 4.0)
    found = [each.words for each in mends(plane, load, balanced(plane, load))]
    assert "leave 16 lb of baggage behind" in found


def test_the_burn_line_is_looked_at_where_a_tank_passes_a_row_of_its_table() -> None:
    """By hand: 60 lb left in the tank turn 4,800 lb-in, at 80 in; 240 lb 10,200, at 42.5: first aft, then forward.

    With 1,800 lb at 43.5 in dry it is at (78,300 + 4,800) / 1,860 = 44.677 in, behind a limit of 44.6.
    """
    tank = Tank("wings", Lever(table=((0, 0), (60, 4800), (240, 10_200))), 40, "p. 1")
    box = Envelope("normal", "arm", ((1500, 30), (2500, 30), (2500, 44.6), (1500, 44.6)), "p. 1")
    plane = airplane()._replace(empty_lb=1800, empty_lb_in=78_300, tanks=(tank,), envelopes=(box,))
    worked = balanced(plane, Load("normal", {}, {"wings": 40.0}, 0.0, 5.0))
    assert all(each.place.where == INSIDE for each in worked.points)
    assert not worked.inside
    assert worked.worst.mass.name == "wings at 60 lb"
    assert worked.worst.mass.arm_in == pytest.approx(44.677, abs=0.001)
    assert worked.worst.place.out_in == pytest.approx(0.077, abs=0.001)

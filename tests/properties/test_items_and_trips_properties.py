"""States follow from what is printed, a stricter policy never improves one, and one trip always gives one text."""

from __future__ import annotations

from copy import deepcopy
from math import ceil, floor

from hypothesis import given
from hypothesis import strategies as st
from modelled import FORMS, airplane, factor, pairs, policy, quick, touchdown

from briefgen.brief import assemble
from briefgen.calc.flight import fly
from briefgen.figures import Figure
from briefgen.item import State, item
from briefgen.items import required_items
from briefgen.model.policy import Policy
from briefgen.model.strip import End, Mark, Obstacle, Runway, Strip
from briefgen.model.trip import Arrival, Departure, Trip, Use
from briefgen.model.weather import Conditions, NotGiven, Wind
from briefgen.render.data import to_json

NEAR = 1e-5  # ft: a distance this near a multiple of five counts as on it
feet = st.one_of(st.floats(100.0, 6000.0), st.integers(20, 1200).map(lambda fives: 5.0 * fives))


def expected_state(need: float, asked: float, have: float, minimum: float, has_policy: bool) -> State:
    """Return the state of the design's table of words, from printed values."""
    if have < need:
        return State.SHORT
    if not has_policy or have < asked or have - need < minimum:
        return State.UNDER
    return State.MEETS


@quick
@given(feet, st.floats(1.0, 2.0), feet, st.sampled_from([0.0, 100.0, 300.0]), st.booleans())
def test_needs_are_printed_up_haves_down_and_the_state_follows_from_what_is_printed(
    need: float, multiple: float, have: float, minimum: float, has_policy: bool
) -> None:
    row = item(
        "landing",
        "Landing",
        "here",
        Figure("need", "ft", need),
        Figure("policy need", "ft", need * multiple),
        Figure("have", "ft", have),
        policy=policy() if has_policy else None,
        minimum=minimum,
    )
    assert row.need is not None
    assert row.have is not None
    assert (row.policy_need is not None) == has_policy
    asked = row.policy_need if row.policy_need is not None else row.need
    for printed, value in ((row.need, need), (asked, need * multiple if has_policy else need)):
        assert printed % 5 == 0
        assert value - NEAR <= printed < value + 5
    assert row.have % 5 == 0
    assert have - 5 < row.have <= have + NEAR
    assert row.margin == row.have - row.need
    assert row.ratio is not None
    assert row.ratio <= row.have / row.need + 1e-9
    assert row.state is expected_state(row.need, asked, row.have, minimum, has_policy)


@quick
@given(feet, feet, st.sampled_from(["need", "policy need", "have"]))
def test_a_figure_that_is_missing_makes_the_item_not_shown_with_the_reason(
    need: float, have: float, gone: str
) -> None:
    figures = {"need": need, "policy need": need, "have": have}
    row = item(
        "landing",
        "Landing",
        "here",
        *(
            Figure(name, "ft", None, (), "the page is torn") if name == gone else Figure(name, "ft", value)
            for name, value in figures.items()
        ),
        policy=policy(),
    )
    assert (row.state, row.reason, row.margin) == (State.NOT_SHOWN, "the page is torn", None)


@st.composite
def trips(draw: st.DrawFn) -> Trip:
    """Return a trip between two invented strips; everything in it can be worked."""
    grass = draw(st.booleans())
    hedge = Obstacle("hedge", draw(st.floats(0.0, 49.0)), 60.0)
    ends = (
        End("36", 360.0, draw(st.sampled_from([0.0, 5.0])), obstacles=(hedge,)),
        End("18", 180.0, 0.0, obstacles=(Obstacle("barn", 30.0, 500.0),)),
    )
    runway = Runway(
        draw(st.floats(900.0, 5000.0)),
        "grass" if grass else "paved",
        ends,
        draw(st.floats(-0.02, 0.02)),
        marks=tuple(Mark("cone", float(at), "36", counted=True) for at in range(200, 800, 200)),
    )
    strip = Strip("Nowhere", draw(st.floats(0.0, 3000.0)), 41.0, -84.0, 0.0, (runway,), "invented")
    steady = draw(st.integers(0, 15))
    conditions = Conditions(
        draw(st.floats(-10.0, 35.0)),
        draw(st.floats(990.0, 1035.0)),
        Wind(draw(st.floats(0.0, 75.0)), steady, steady + draw(st.integers(0, 12)), None, "as drawn"),
        draw(st.sampled_from(["dry", "wet"])),
    )
    use = Use(strip, runway, *ends, conditions)
    heavy = draw(st.floats(2000.0, 2550.0))
    return Trip(
        title="invented",
        as_of="2026-05-16T14:00Z",
        crew="crew",
        aircraft=airplane(draw(st.sampled_from(FORMS))),
        departure=Departure(use, heavy, "10", "short field"),
        arrival=Arrival(use, draw(st.floats(1900.0, heavy)), "30", "short field", "20", draw(st.floats(0.0, 5.0))),
        policy=policy(touchdown=touchdown()),
    )


def states(trip: Trip, rules: Policy | None) -> dict[str, State]:
    """Return the state of every item under one policy."""
    held = trip._replace(policy=rules)
    return {row.id: row.state for row in required_items(held, fly(held))}


@quick
@given(trips(), pairs(st.floats(1.0, 2.0)), pairs(st.floats(0.0, 500.0)))
def test_a_stricter_policy_never_improves_a_state(trip: Trip, factors: list[float], margins: list[float]) -> None:
    mild, strict = (
        policy(
            touchdown=touchdown(),
            takeoff_factor=factor(multiple),
            landing_factor=factor(multiple),
            takeoff_margin_ft=margin,
            landing_margin_ft=margin,
        )
        for multiple, margin in zip(factors, margins, strict=True)
    )
    before, after = states(trip, mild), states(trip, strict)
    assert set(before) == set(after)
    assert State.NOT_SHOWN not in (before["takeoff-roll"], before["landing"], before["landing-flaps-up"])
    assert all(after[id].rank >= before[id].rank for id in before)


@quick
@given(trips(), st.sampled_from([("departure",), ("arrival",), ("departure", "arrival")]), st.booleans())
def test_leaving_conditions_out_never_improves_a_state(
    trip: Trip, places: tuple[str, ...], has_policy: bool
) -> None:
    rules = policy(touchdown=touchdown()) if has_policy else None
    before = states(trip, rules)
    lacking = NotGiven("the trip file gives no conditions there")
    for place in places:
        leg = getattr(trip, place)
        trip = trip._replace(**{place: leg._replace(use=leg.use._replace(conditions=lacking))})
    after = states(trip, rules)
    assert set(after) == set(before)
    assert all(after[id].rank >= before[id].rank for id in before)
    needs = {"departure": ("takeoff-roll", "landing-back"), "arrival": ("landing", "landing-flaps-up")}
    assert {after[id] for place in places for id in needs[place]} == {State.NOT_SHOWN}


@quick
@given(trips())
def test_with_no_policy_nothing_is_better_than_under_policy(trip: Trip) -> None:
    assert State.MEETS not in states(trip, None).values()


@quick
@given(trips())
def test_every_item_of_a_trip_has_the_state_that_its_printed_values_have(trip: Trip) -> None:
    flight = fly(trip)
    rows = required_items(trip, flight)
    over = 1 if flight.cleared else 0  # a row for what stands past the departure end, where 50 ft does not clear it
    # the balance; four rows for the takeoff, six for the landings; fuel; the alternate; papers, weather
    assert len(rows) == 18 + over
    for row in rows:
        if row.need is None or row.policy_need is None or row.have is None:
            assert row.state is State.NOT_SHOWN
        elif row.unit != "kt":  # over a demonstrated crosswind is no worse than 'under policy'
            assert row.state is expected_state(row.need, row.policy_need, row.have, row.minimum, True)
            assert row.margin == row.have - row.need


@quick
@given(trips())
def test_the_places_printed_along_a_strip_keep_to_their_side(trip: Trip) -> None:
    flight = fly(trip)
    brief = assemble(trip, flight)
    for said, worked in (
        (brief.takeoff.abort.at, flight.abort.point),
        (brief.landing.go_around.at, flight.go_around.point),
        (brief.landing.go_around_flaps_up.at, flight.go_around_flaps_up.point),
    ):
        assert (said.value is None) == (worked.value is None)
        if said.value is not None:
            assert floor(worked.known / 5 + NEAR) * 5 == said.value
    for reading, worked in zip(
        brief.landing.speeds[:2], (flight.planned.approach, flight.flaps_up.approach), strict=True
    ):
        assert reading.value == ceil(worked.known - NEAR)


@quick
@given(trips())
def test_the_same_trip_gives_the_same_json_twice(trip: Trip) -> None:
    # The second is a deep copy, so that nothing kept from the first working is found again.
    first, second = (to_json(assemble(each, fly(each))) for each in (trip, deepcopy(trip)))
    assert first == second
    assert len(first) > 1000

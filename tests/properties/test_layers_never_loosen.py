"""A pilot's layer over a club's never makes a state better or a need shorter, whatever it says.

Source: the design's 'the stricter wins item by item', and 'a stricter policy still rules'. What only the club's
layer leaves 'not shown' may be shown with the pilot's guidance; that is what guidance is for.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.calc.flight import fly
from briefgen.figures import Source
from briefgen.files.read_trip import read_trip
from briefgen.handbook.notes import Note
from briefgen.item import Item, State
from briefgen.items import required_items
from briefgen.model.layers import stricter
from briefgen.model.policy import Factor, Policy, Touchdown
from briefgen.model.trip import Trip

TRIP, _ = read_trip(Path(__file__).parents[2] / "examples" / "quillmere" / "trip.yaml", "trip.yaml")
OWN = Source("the pilot's own", "policy")
PER = {"upslope": 0.01, "downslope": 0.01, "tailwind": 2.0}
FIGURES: dict[str, st.SearchStrategy[Any]] = {
    "takeoff_factor": st.floats(1, 2).map(lambda value: Factor(value, OWN)),
    "landing_factor": st.floats(1, 2).map(lambda value: Factor(value, OWN)),
    "takeoff_margin_ft": st.floats(0, 1000),
    "landing_margin_ft": st.floats(0, 400),
    "last_touchdown_share": st.floats(0.1, 0.9),
    "gust_share": st.floats(0, 1),
    "crosswind_maximum_kt": st.floats(2, 20),
    "approach_angle_deg": st.floats(2.5, 6),
    "obstacle_clearance_ft": st.floats(0, 60),
    "departure_clearance_ft": st.floats(0, 300),
    "reaction_s": st.floats(1, 6),
    "minimum_ceiling_ft": st.floats(0, 9000),
    "minimum_visibility_SM": st.floats(0, 9),
    "pro_rata_credit": st.booleans(),
    "nearest_worse": st.booleans(),
    "wind_shares": st.sampled_from([(1.0, 1.0), (0.5, 1.5)]),
}


@st.composite
def notes(draw: st.DrawFn) -> Note:
    cause = draw(st.sampled_from(["dry grass", "wet grass", "upslope", "downslope", "tailwind", "soft ground"]))
    return Note(
        cause,
        draw(st.floats(0, 0.8)),
        Source("g", draw(st.sampled_from(["published", "common practice"]))),
        per=PER.get(cause),
        percent_of=draw(st.sampled_from(["itself", "roll", "total"])),
        of=draw(st.sampled_from(["table figure", "value so far", "open"])),
        rank=draw(st.sampled_from(["where silent", "if longer"])),
    )


@st.composite
def layers(draw: st.DrawFn) -> Policy:
    given_ = draw(st.sets(st.sampled_from(sorted(FIGURES))))
    fields = {field: draw(FIGURES[field]) for field in sorted(given_)}
    guidance = tuple(draw(st.lists(notes(), max_size=4)))
    touchdown = None
    if draw(st.booleans()):
        aim, plain, up, zone = (draw(st.floats(0, most)) for most in (300, 200, 300, 300))
        touchdown = Touchdown(aim, plain, plain + up, zone, OWN)
    return Policy(
        "pilot",
        touchdown=touchdown,
        takeoff_guidance=guidance,
        landing_guidance=guidance,
        whose=dict.fromkeys(fields, "pilot"),
        **fields,
    )


@st.composite
def trips(draw: st.DrawFn) -> Trip:
    """Return the example's trip in another wind, dry or wet."""
    wind = TRIP.arrival.use.conditions.wind._replace(
        from_deg=draw(st.floats(0, 359)), steady_kt=draw(st.floats(0, 15)), gust_kt=draw(st.floats(15, 22))
    )
    surface = draw(st.sampled_from(["dry", "wet"]))
    legs = {}
    for name in ("departure", "arrival"):
        leg: Any = getattr(TRIP, name)
        conditions = leg.use.conditions._replace(wind=wind, surface=surface)
        legs[name] = leg._replace(use=leg.use._replace(conditions=conditions))
    return TRIP._replace(**legs)


def _room(row: Item) -> float:
    assert row.have is not None
    assert row.policy_need is not None
    return row.have - row.policy_need


@settings(deadline=None, derandomize=True, max_examples=150)
@given(trips(), layers())
def test_a_pilot_s_layer_never_loosens_a_club_s(trip: Trip, pilot: Policy) -> None:
    assert trip.policy is not None
    before = required_items(trip, fly(trip))
    both = trip._replace(policy=stricter(trip.policy, pilot))
    after = required_items(both, fly(both))
    now = {row.id: row for row in after}
    # no row goes; the alternate's crosswind comes where a stricter maximum makes it the worse
    assert [row.id for row in after if row.id in {each.id for each in before}] == [row.id for row in before]
    assert set(now) - {row.id for row in before} <= {"alternate-crosswind"}
    for club in before:
        layered = now[club.id]
        assert layered.state.rank >= club.state.rank or club.state is State.NOT_SHOWN
        if club.need is not None and layered.need is not None:
            assert layered.need >= club.need
            if layered.id == "climb-out":  # its policy need goes with the path: what it leaves never grows
                assert layered.have is None or club.have is None or _room(layered) <= _room(club)
                continue
            assert (layered.policy_need or 0) >= (club.policy_need or 0)
            assert (layered.have or 0) <= (club.have or 0) or club.have is None

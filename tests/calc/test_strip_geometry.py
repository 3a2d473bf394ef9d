"""One strip in both directions: what there is, the marks, the decision points, and every place of the sketch.

Source of every expected number: hand_worked_strip.md beside this file, drawn and computed by hand from the design.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest
from chain_steps import Worked
from hand_sheet import disagreements, rows

from briefgen.calc.runway import Seen
from briefgen.plans import Sketch

DATA = Path(__file__).resolve().parents[1] / "data" / "geometry"


def said(feet: float) -> str:
    """Write feet as the sheet does: to the hundredth, nothing after a whole number."""
    return f"{feet:.2f}".removesuffix(".00")


def marks(seen: Iterable[Seen], *, landing: bool) -> str:
    return ", ".join(f"{m.name} {said(m.from_threshold_ft if landing else m.from_start_ft)}" for m in seen)


def places(sketch: Sketch) -> str:
    return "; ".join(f"{place.label} {said(place.at_ft)}" for place in sketch.places)


def spans(sketch: Sketch) -> str:
    return "; ".join(f"{span.kind} {said(span.from_ft)}-{said(span.to_ft)}" for span in sketch.spans)


def of_direction(ident: str) -> dict[str, object]:
    """Return what the program makes of one direction, under the sheet's ids."""
    work = Worked(DATA / f"trip_{ident}.yaml")
    flight, have, page = work.flight, work.flight.arrival.have, work.brief
    abort, point, landing, takeoff = flight.abort, flight.go_around, page.landing, page.takeoff
    assert abort.mark is not None
    assert landing.go_around.window is not None
    found: dict[str, object] = {
        "crosswind": flight.arrival.wind.crosswind_kt,
        "crosswind side": flight.arrival.wind.crosswind_from,
        "slope": have.slope,
        "TORA": have.tora.known,
        "to 50 ft": "not shown" if have.over_50.value is None else have.over_50.value,
        "ASDA": have.asda.known,
        "shift": have.begins_ft,
        "LDA": have.lda.known,
        "takeoff roll": flight.takeoff.roll.known,
        "takeoff total": flight.takeoff.total.known,
        "latest liftoff": abort.latest_liftoff.known,
        "last stop": abort.stopping.known,
        "abort": abort.point.known,
        "abort speed": abort.speed.known,
        "abort mark": abort.mark.name,
        "abort mark at": takeoff.abort.mark_at.value,
        "landing marks": marks(flight.landing_marks, landing=True),
        "takeoff marks": marks(flight.takeoff_marks, landing=False),
        "need": flight.planned.need.known,
        "policy need": flight.planned.policy_need.known,
        "leaves the roll": point.point.steps[0].after,
        "go-around": point.point.known,
        "go-around printed": landing.go_around.at.value,
        "go-around mark": landing.go_around.mark,
        "go-around mark at": landing.go_around.mark_at.value,
        "window": landing.go_around.window.value,
        "go-around up": flight.go_around_flaps_up.point.value or flight.go_around_flaps_up.point.reason,
        "climb-out": point.climb_out.replace("\u00a0", " "),
        "landing places": places(landing.sketch),
        "landing spans": spans(landing.sketch),
        "landing end": landing.sketch.available_ft,
        "takeoff places": places(takeoff.sketch),
        "takeoff spans": spans(takeoff.sketch),
        "takeoff end": takeoff.sketch.available_ft,
        "beyond": landing.sketch.beyond,
    }
    if ident == "08":
        found["headwind"] = flight.arrival.wind.headwind_kt
    else:
        found["tailwind"] = flight.arrival.wind.tailwind_kt
        found["takeoff state"] = work.state("takeoff-50")
        found["climb-out state"] = work.state("climb-out")
    return {f"{ident} {id}": value for id, value in found.items()}


@pytest.mark.parametrize("ident", ["08", "26"])
def test_a_direction_agrees_with_the_sketch_drawn_by_hand(ident: str) -> None:
    written = {id: value for id, value in rows("hand_worked_strip.md").items() if id.startswith(ident)}
    assert len(written) > 30
    assert "\n".join(disagreements(of_direction(ident), written)) == ""


def test_both_sketches_of_a_direction_are_drawn_from_the_same_end() -> None:
    for ident, far in (("08", "26"), ("26", "08")):
        page = Worked(DATA / f"trip_{ident}.yaml").brief
        for sketch in (page.takeoff.sketch, page.landing.sketch):
            assert (sketch.near_ident, sketch.far_ident, sketch.length_ft) == (ident, far, 2600)


def test_an_obstacle_over_50_ft_past_the_departure_end_is_not_shown_without_climb_figures() -> None:
    item = Worked(DATA / "trip_26.yaml").items["climb-out"]
    assert item.state.value == "not shown"
    assert (item.title, item.need, item.have, item.margin) == ("Climb over poplars", 85, None, None)
    assert item.reason == "no climb figures in the aircraft file: their key is rate_of_climb"


def test_an_approach_obstacle_without_an_approach_angle_leaves_the_landing_not_shown() -> None:
    work = Worked(DATA / "trip_08_no_angle.yaml")
    for id in ("landing", "landing-flaps-up", "landing-back"):
        assert work.state(id) == "not shown"
        assert work.items[id].reason == "poplars on the approach: no approach angle in the policy to work it by"
    point = work.flight.go_around
    assert (point.point.value, point.mark, point.window_ft) == (None, None, None)

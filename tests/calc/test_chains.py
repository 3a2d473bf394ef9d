"""Three invented airplanes worked whole, against sheets worked by hand from the design before the program ran.

Source of every expected number: hand_worked_chain_one.md, _two.md and _three.md beside this file, computed by hand.
The tolerance is half of the last digit written there.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from chain_steps import Worked, after, common
from hand_sheet import agree, disagreements, rows

from briefgen.calc.atmosphere import standard_temperature, true_airspeed
from briefgen.calc.speeds import calibrated
from briefgen.model.trip import Trip

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT / "tests" / "data"


@pytest.fixture(scope="module")
def one() -> Worked:
    return Worked(ROOT / "examples" / "quillmere" / "trip.yaml")


@pytest.fixture(scope="module")
def two() -> Worked:
    return Worked(DATA / "chain_two" / "trip.yaml")


@pytest.fixture(scope="module")
def three() -> Worked:
    return Worked(DATA / "chain_three" / "trip.yaml")


def true_liftoff(trip: Trip, work: Worked) -> float:
    indicated = work.flight.takeoff.liftoff.known
    return true_airspeed(
        calibrated(trip.aircraft, trip.departure.flaps, indicated), work.flight.departure.density_ratio
    )


def test_chain_one_agrees_with_the_sheet_worked_by_hand(one: Worked) -> None:
    flight, items = one.flight, one.items
    planned, up, back, page = flight.planned, flight.flaps_up, flight.back, one.brief
    assert flight.partial is not None
    wet = {cell.case: cell.landing for cell in flight.recheck if cell.surface == "wet" and cell.along_kt == 0}
    worked = common(one) | {
        "hPa": one.trip.departure.use.conditions.altimeter_hPa,
        "DA out": flight.departure_air.density_altitude.known,
        "DA home": flight.arrival_air.density_altitude.known,
        "PA printed": page.takeoff.air[0].value,
        "DA printed": page.takeoff.air[1].value,
        "headwind out": flight.departure.wind.headwind_kt,
        "crosswind out printed": items["takeoff-crosswind"].need,
        "crosswind home printed": items["landing-crosswind"].need,
        "crosswind limit": items["landing-crosswind"].have,
        "crosswind state": one.state("landing-crosswind"),
        "TORA": flight.departure.have.tora.known,
        "takeoff roll printed": items["takeoff-roll"].need,
        "takeoff policy roll printed": items["takeoff-roll"].policy_need,
        "takeoff policy total printed": items["takeoff-50"].policy_need,
        "takeoff roll margin": items["takeoff-roll"].margin,
        "takeoff total ratio": items["takeoff-50"].ratio,
        "speed at 50 ft": flight.takeoff.at_50_ft.known,
        "half": flight.abort.latest_liftoff.known / 2,
        "true liftoff": true_liftoff(one.trip, one),
        "abort printed": page.takeoff.abort.at.value,
        "abort speed printed": page.takeoff.abort_speed.value,
        "abort mark printed": page.takeoff.abort.mark_at.value,
        "back after slope roll": after(back.roll, "roll", "downslope"),
        "back after slope total": after(back.total, "total", "downslope"),
        "back total": back.total.known,
        "back down and roll": after(back.need, "down and roll", ""),
        "back LDA": flight.departure.have.lda.known,
        "grass roll": after(planned.roll, "roll", "dry grass"),
        "grass total": after(planned.total, "total", "dry grass"),
        "down and roll": after(planned.need, "down and roll", ""),
        "policy need printed": items["landing"].policy_need,
        "ratio": items["landing"].ratio,
        "up note roll": after(up.roll, "roll", "flaps up"),
        "up total": items["landing"].state.NOT_SHOWN.value if up.total.value is None else up.total.value,
        "up allowance": up.allowance.known,
        "up down and roll": after(up.need, "down and roll", ""),
        "up air and roll": after(up.need, "air and roll", ""),
        "up need printed": items["landing-flaps-up"].need,
        "partial need": flight.partial.need.known,
        "partial approach": flight.partial.approach.known,
        "partial state": one.state("landing-partial"),
        "first third": flight.go_around.point.steps[1].after,
        "go-around printed": page.landing.go_around.at.value,
        "go-around mark at": page.landing.go_around.mark_at.value,
        "wet roll": wet["as planned"].roll.known,
        "wet need": wet["as planned"].need.known,
        "wet up roll": wet["flaps up"].roll.known,
        "wet up need": wet["flaps up"].need.known,
    }
    assert "\n".join(disagreements(worked, rows("hand_worked_chain_one.md"))) == ""
    assert up.need.estimate  # the design: 'labelled an estimate'


def test_chain_two_agrees_with_the_sheet_worked_by_hand(two: Worked) -> None:
    flight, items, page = two.flight, two.items, two.brief
    planned, up, back, takeoff = flight.planned, flight.flaps_up, flight.back, flight.takeoff
    worked = common(two) | {
        "headwind out": flight.departure.wind.headwind_kt,
        "crosswind out printed": items["takeoff-crosswind"].need,
        "crosswind limit": items["landing-crosswind"].have,
        "crosswind state": two.state("landing-crosswind"),
        "after wind roll": after(takeoff.roll, "roll", "headwind"),
        "after wind total": after(takeoff.total, "total", "headwind"),
        "after slope roll": after(takeoff.roll, "roll", "upslope"),
        "after slope total": after(takeoff.total, "total", "upslope"),
        "abort mark printed": page.takeoff.abort.mark_at.value,
        "noted roll": planned.roll.steps[-1].before,
        "noted total": planned.total.steps[-1].before,
        "up noted roll": up.roll.steps[-1].before,
        "up noted total": up.total.steps[-1].before,
        "up total": up.total.known,
        "up allowance": up.allowance.known,
        "up need printed": items["landing-flaps-up"].need,
        "zone": flight.go_around.zone_ft,
        "back noted roll": back.roll.steps[-1].before,
        "back noted total": back.total.steps[-1].before,
    }
    assert "\n".join(disagreements(worked, rows("hand_worked_chain_two.md"))) == ""
    assert not up.need.estimate  # the note gives the distance from 50 ft too


def test_chain_three_agrees_with_the_sheet_worked_by_hand(three: Worked) -> None:
    flight, items, page = three.flight, three.items, three.brief
    planned, up, back, takeoff = flight.planned, flight.flaps_up, flight.back, flight.takeoff
    silent = Worked(DATA / "chain_three" / "trip_silent.yaml")
    assert flight.partial is not None
    worked = common(three) | {
        "above standard out": 22 - standard_temperature(flight.departure.pressure_altitude_ft),
        "above standard home": 26 - standard_temperature(flight.arrival.pressure_altitude_ft),
        "tailwind out": flight.departure.wind.tailwind_kt,
        "crosswind side out": flight.departure.wind.crosswind_from,
        "crosswind home printed": items["landing-crosswind"].need,
        "crosswind home have": items["landing-crosswind"].have,
        "crosswind home state": three.state("landing-crosswind"),
        "warm roll": after(takeoff.roll, "roll", "above standard temperature"),
        "warm total": after(takeoff.total, "total", "above standard temperature"),
        "uphill roll": after(takeoff.roll, "roll", "upslope"),
        "uphill total": after(takeoff.total, "total", "upslope"),
        "tail roll": after(takeoff.roll, "roll", "tailwind"),
        "tail total": after(takeoff.total, "total", "tailwind"),
        "TORA": flight.departure.have.tora.known,
        "speed at 50 ft": takeoff.at_50_ft.known,
        "half": flight.abort.latest_liftoff.known / 2,
        "half speed": 0.71 * takeoff.liftoff.known,
        "true liftoff": true_liftoff(three.trip, three),
        "abort printed": page.takeoff.abort.at.value,
        "abort speed printed": page.takeoff.abort_speed.value,
        "warm landing roll": after(planned.roll, "roll", "above standard temperature"),
        "warm landing total": after(planned.total, "total", "above standard temperature"),
        "wind roll": after(planned.roll, "roll", "headwind"),
        "wind total": after(planned.total, "total", "headwind"),
        "wet landing roll": after(planned.roll, "roll", "wet grass"),
        "wet landing total": after(planned.total, "total", "wet grass"),
        "table speed": planned.table_speed.known,
        "up table roll": after(up.roll, "roll", "ground roll"),
        "up table total": after(up.total, "total", "distance over 50 ft"),
        "up warm roll": after(up.roll, "roll", "above standard temperature"),
        "up wind roll": after(up.roll, "roll", "headwind"),
        "up wind total": after(up.total, "total", "headwind"),
        "up wet roll": after(up.roll, "roll", "wet grass"),
        "up wet total": after(up.total, "total", "wet grass"),
        "up total": up.total.known,
        "partial need": flight.partial.need.known,
        "partial approach": flight.partial.approach.known,
        "up leaves the roll": flight.go_around_flaps_up.point.steps[0].after,
        "back warm total": after(back.total, "total", "above standard temperature"),
        "back tail total": after(back.total, "total", "tailwind"),
        "back wet roll": after(back.roll, "roll", "dry grass"),
        "back wet total": after(back.total, "total", "dry grass"),
        "silent takeoff": silent.state("takeoff-50"),
        "silent landing": silent.state("landing"),
        "silent flaps up": silent.state("landing-flaps-up"),
        "silent back": silent.state("landing-back"),
    }
    assert "\n".join(disagreements(worked, rows("hand_worked_chain_three.md"))) == ""


def test_without_guidance_the_uncorrected_figure_stands_in_the_working_only() -> None:
    silent = Worked(DATA / "chain_three" / "trip_silent.yaml")
    takeoff, landing = silent.items["takeoff-50"], silent.items["landing"]
    assert (takeoff.need, landing.need) == (None, None)
    assert takeoff.reason.startswith("no correction for tailwind: the handbook is silent")
    assert landing.reason.startswith("no correction for wet grass: the handbook is silent")
    table = rows("hand_worked_chain_three.md")
    assert agree(after(landing.figures[0], "total", "distance over 50 ft"), table["table total"])
    assert agree(after(takeoff.figures[0], "total", "distance over 50 ft"), table["takeoff table total"])


def test_a_sheet_that_says_otherwise_is_noticed() -> None:
    written = rows("hand_worked_chain_one.md")
    assert len(written) > 90  # the sheet is there, and read
    assert agree(1092.43, "1092.43")
    assert not agree(1092.44, "1092.43")
    assert not agree(1096.0, "1095")
    assert disagreements({"need": 1092.5}, {"need": "1092.43", "roll": "1"}) == [
        "roll: on the sheet, and not compared",
        "need: worked 1092.5, written 1092.43",
    ]

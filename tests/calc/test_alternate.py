"""The alternate is worked as the destination is, and its way as the legs are.

The example's alternate by hand, from the aircraft file's table of one weight (landing, flaps 30), 26 degC,
elevation 748 ft, altimeter 30.02 inHg: pressure altitude 657 ft (30.0 and 30.1 inHg are -73 and -165 ft: PHAK Fig.
11-3, read).
  roll    389.9 at 20 degC, 399.9 at 30: 395.9 ft     over 50 ft   851.4 and 871.4: 863.4 ft
  a headwind of 9 kt x cos 19 = 8.5 kt is under the note's whole step of 9 kt: no credit
  9 ft down in 2,260 ft is 0.398 %, guidance 5 % of the distance over 50 ft per 1 %: 863.4 x 1.0199 = 880.6 ft
  half of a gust factor of 4 kt on 58 kt: (60 / 58) squared = 1.070: 942.4 ft; x 1.43 = 1,347.6 ft
  printed up: 945 and 1,350 ft; LDA 2,140 ft; margin 1,195 ft
  go-around point: a third of 2,140 is 713.3 ft, down: 710; the last mark before it, the windsock at 520 ft
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.alternate_page import TAKEN
from briefgen.brief import Brief
from briefgen.calc.flight import ending, fly
from briefgen.calc.fuel import plan
from briefgen.calc.legs import navigate
from briefgen.files.document import read
from briefgen.files.entry import opened
from briefgen.files.read_alternate import read_alternate
from briefgen.files.read_trip import read_trip
from briefgen.item import State
from briefgen.items import required_items
from briefgen.model.policy import NO_POLICY
from briefgen.model.route import Alternate, Fuel, Leg, Route, Spot, WindAloft
from briefgen.pipeline import brief_of

CALM = WindAloft(3000, 0.0, 0.0)
WAY = "  alternate: {to: Pennywort Hill, altitude: 3000 ft, tas: 103 kt, fuel_flow: 8.5 gal/h}\n"
STOP = "  fuel_stop: {at: Two Chimneys, to: Pennywort Hill, altitude: 3000 ft, power: 2400 rpm}\n"
WIND = "wind: 150 magnetic at 9 gust 13 kt"
RUNWAY = 'runway: "13"\n'


def made(tmp_path: Path, *edits: tuple[str, str]) -> Brief:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    text = (club / "trip.yaml").read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    (club / "trip.yaml").write_text(text, encoding="utf-8")
    return brief_of(club / "trip.yaml", "trip.yaml")


def without(text: str) -> str:
    """Return a trip without its alternate, and without the way there."""
    before, _, after = text.partition("\nalternate:\n")
    return (before + "\n" + after[after.index("\nload:") :]).replace(WAY, "").replace(STOP, "")


def test_the_example_s_alternate_by_hand(tmp_path: Path) -> None:
    brief = made(tmp_path)
    row = next(each for each in brief.items if each.id == "landing-alternate")
    assert (row.title, row.where) == ("Landing, alternate", "Pennywort Hill 13")
    assert (row.need, row.policy_need, row.have, row.margin, row.state) == (945, 1350, 2140, 1195, State.MEETS)
    assert row.unrounded[:2] == pytest.approx((942.4, 1347.6), abs=0.6)
    assert brief.alternate is not None
    point = brief.alternate.go_around
    assert (point.at.value, point.mark) == (710, "windsock")
    assert point.mark_at is not None
    assert point.mark_at.value == 520
    # 58 kt of the handbook and half of a gust factor of 4 kt; 67 with the flaps up, 9 kt more by the note
    assert [each.value for each in brief.alternate.speeds[:2]] == [60, 69]
    # 13 kt x sin 19 = 4.2 kt of the gust, up
    assert "crosswind 5\u00a0kt from the right" in brief.alternate.wind


def test_it_is_the_destination_s_own_functions_that_work_it() -> None:
    """A landing at the destination worked as an alternate is the landing as planned, figure by figure."""
    trip = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")[0]
    flight = fly(trip._replace(alternate=trip.arrival))
    assert flight.alternate is not None
    again = flight.alternate
    assert again.planned.need.value == flight.planned.need.value is not None
    assert again.flaps_up.policy_need.value == flight.flaps_up.policy_need.value is not None
    assert again.go_around.point.value == flight.go_around.point.value
    assert again.marks == flight.landing_marks
    assert ending(trip.aircraft, trip.arrival, trip.policy or NO_POLICY).planned.need.value is not None


def test_an_alternate_on_the_destination_s_own_runway_is_told_apart() -> None:
    trip = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")[0]
    same = trip._replace(alternate=trip.arrival)
    rows = {each.id: each for each in required_items(same, fly(same))}
    assert rows["landing-alternate"].where == "Tansy Bottom 09, alternate"
    assert rows["landing-alternate"].need == rows["landing"].need == 1095


def test_what_it_leaves_out_is_the_arrival_s_and_the_weight_says_so(tmp_path: Path) -> None:
    brief = made(tmp_path)
    found = [f for s in brief.sections for f in s.figures if f.label == "landing weight at the alternate"]
    assert [figure.value for figure in found] == [pytest.approx(2410)]
    assert found[0].steps[0].detail == TAKEN
    assert TAKEN.startswith("the landing weight at the destination, which is heavier")
    assert brief.alternate is not None
    assert "heavier than it will be here" in brief.alternate.remark
    assert brief.alternate.setting[0] == "2,410\u00a0lb, flaps 30"
    assert [row.id for row in brief.alternate.rows][2] == "landing-alternate-partial"  # flaps 20, the arrival's


def test_what_it_gives_itself_counts(tmp_path: Path) -> None:
    more = RUNWAY + '  weight: 2408 lb\n  flaps: "20"\n  technique: a long float\n  extra_speed: 0 kt\n'
    more += "  touchdown: {aim_point: 200 ft, float: 400 ft, float_flaps_up: 500 ft, zone: 200 ft}\n"
    brief = made(tmp_path, (RUNWAY, more))
    assert brief.alternate is not None
    assert brief.alternate.setting[0] == "2,408\u00a0lb, flaps 20"
    assert "heavier" not in brief.alternate.remark
    compared = {each.title: {what: planned for what, _, planned in each.rows} for each in brief.compared}
    assert compared["Landing, alternate"]["technique"] == "a long float"
    assert brief.facts["alternate"]["planned"]["need_ft"] >= 200 + 400


def test_a_trip_without_one_is_not_shown_and_no_error(tmp_path: Path) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    trip = club / "trip.yaml"
    trip.write_text(without(trip.read_text(encoding="utf-8")), encoding="utf-8")
    brief = brief_of(trip, "trip.yaml")
    row = next(each for each in brief.items if each.id == "landing-alternate")
    assert (row.state, row.reason) == (State.NOT_SHOWN, "the trip file gives no 'alternate'")
    assert (row.where, row.unit, row.need) == ("Alternate", "", None)
    assert brief.alternate is None
    assert brief.facts["alternate"]["given"] is False
    assert not any("alternate" in section.title.lower() for section in brief.sections)


# What a chart or the strip refuses of a plan B is a row with its reason: the trip is still worked.
REFUSED = {
    "a tailwind past the note": (WIND, "wind: 311 magnetic at 12 kt", "past the note's limit of 10 kt"),
    "warmer than the table": ("temperature: 26 degC", "temperature: 44 degC", "44"),
    "snow": ("surface: dry, ground: firm,", "surface: snow,", "snow"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_its_charts_refuse_is_not_shown_and_no_fault_of_the_file(tmp_path: Path, name: str) -> None:
    old, new, reason = REFUSED[name]
    brief = made(tmp_path, (old, new))
    row = next(each for each in brief.items if each.id == "landing-alternate")
    assert row.state is State.NOT_SHOWN
    assert reason in row.reason
    assert "alternate-no-way-out" in {each.id for each in brief.cautions}
    others = {each.id: each.state for each in brief.items if each.id != "landing-alternate"}
    assert State.NOT_SHOWN not in others.values()


HOME = Spot(40.0, -80.0)


def leg(to: str, course: float, **more: object) -> Leg:
    return Leg(to, 3000, 100, 8, None, course, False, 50, CALM, 0.0)._replace(**more)  # type: ignore[arg-type]


def test_the_way_to_the_alternate_begins_at_the_end_and_is_in_no_sum() -> None:
    """By hand: 50 NM at 100 kt are 30 min, at 10 gal/h 5 gal; out 50 NM east and on 50 NM west is home again."""
    on = leg("B", 270.0, flow_galh=10)
    found = navigate(Route("A", HOME, (leg("X", 90.0),), 2026.0, alternate=on))
    assert found.alternate is not None
    assert (found.alternate.time.known, found.alternate.fuel.known) == pytest.approx((30, 5))
    assert (found.distance_nm, found.minutes, found.fuel_gal) == pytest.approx((50, 30, 4))
    assert found.alternate_end is not None
    assert found.alternate_end.longitude_deg == pytest.approx(-80, abs=0.01)
    by_place = navigate(
        Route("A", HOME, (leg("X", 90.0),), 2026.0, alternate=on._replace(position=HOME, course_deg=None))
    )
    assert by_place.alternate is not None
    assert by_place.alternate.distance.known == pytest.approx(50)


def test_its_time_and_fuel_stand_in_the_fuel_and_the_reserve_is_at_the_greatest_flow() -> None:
    """By hand: taxi 1, climb 1, legs 4, alternate 5; 30 min at its 10 gal/h 5 (14 CFR 91.151, read): 16."""
    route = Route("A", HOME, (leg("X", 90.0),), 2026.0, alternate=leg("B", 270.0, flow_galh=10))
    found = plan(Fuel(30, 1, 1, night=False), navigate(route), NO_POLICY)
    assert [(each.name, each.fuel_gal) for each in found.stages[2:4]] == [
        ("legs", pytest.approx(4)),
        ("alternate B", pytest.approx(5)),
    ]
    assert found.need.known == pytest.approx(16)
    assert found.least_burn is not None
    assert found.least_burn.known == pytest.approx(
        4
    )  # what is burnt past the destination makes it no lighter there
    typed = plan(Fuel(30, 1, 1, alternate=Alternate("B", 1800), night=False), navigate(route), NO_POLICY)
    assert typed.need.known == pytest.approx(16)  # never both


def test_a_way_that_cannot_be_flown_leaves_the_fuel_not_shown() -> None:
    wind = WindAloft(3000, 0.0, 150.0)
    route = Route("A", HOME, (leg("X", 90.0),), 2026.0, alternate=leg("B", 270.0, wind=wind))
    navigation = navigate(route)
    assert navigation.alternate is None
    assert navigation.alternate_refused is not None
    found = plan(Fuel(30, 1, 1, night=False), navigation, NO_POLICY)
    assert found.need.value is None
    assert found.need.reason == navigation.alternate_refused.reason


def test_legs_that_cannot_be_flown_leave_no_way_on() -> None:
    wind = WindAloft(3000, 0.0, 150.0)
    found = navigate(Route("A", HOME, (leg("X", 90.0, wind=wind),), 2026.0, alternate=leg("B", 270.0)))
    assert found.refused
    assert (found.alternate, found.alternate_refused) == (None, None)


def test_a_crosswind_over_the_policy_s_maximum_there_is_a_caution_though_the_runway_is_long(tmp_path: Path) -> None:
    """13 kt square across, from 221 magnetic on 131; the club's maximum is 12 kt."""
    brief = made(tmp_path, (WIND, "wind: 221 magnetic at 9 gust 13 kt"))
    assert brief.facts["alternate"]["crosswind_state"] == "short"
    assert brief.facts["items"]["landing_alternate"] == "meets policy"
    assert "alternate-no-way-out" in {each.id for each in brief.cautions}


@pytest.mark.parametrize(
    ("lb_per_gal", "lighter_lb", "refused"),
    [(6.0, 61, False), (6.0, 63, True), (6.7, 68, False), (6.7, 70, True), (5.5, 56, False), (5.5, 58, True)],
)
def test_what_the_way_there_burns_weighs_what_the_airplane_s_fuel_weighs(
    tmp_path: Path, lb_per_gal: float, lighter_lb: float, refused: bool
) -> None:
    """WB-15 (read): avgas 6 lb/gal, turbine 6.7. By hand: 10 gal are 60, 67 or 55 lb; 2 lb more are no fault."""
    trip = read_trip(EXAMPLE / "trip.yaml", "trip.yaml")[0]
    assert trip.aircraft.balance is not None
    aircraft = trip.aircraft._replace(balance=trip.aircraft.balance._replace(fuel_lb_per_gal=lb_per_gal))
    text = (EXAMPLE / "trip.yaml").read_text(encoding="utf-8")
    path = tmp_path / "trip.yaml"
    typed = f"\nalternate:\n  weight: {trip.arrival.weight_lb - lighter_lb:.6f} lb\n"
    path.write_text(text.replace("\nalternate:\n", typed), encoding="utf-8")
    root = opened(read(path, "trip.yaml"), "trip")
    read_alternate(root["alternate"], trip.arrival.use, trip.arrival, aircraft, 10.0)
    said = [problem.message for problem in root.faults.problems if "lighter than at" in problem.message]
    assert bool(said) is refused

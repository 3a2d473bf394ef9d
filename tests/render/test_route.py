"""The page of the route and the fuel: columns add up, needs are rounded up and haves down, in gal or in L.

The trip is the example's with legs of round numbers, so that figures can be worked by hand: 30 NM in calm air at
90 kt is 20 min; at 8.4 gal/h 2.8 gal.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from changed import changed, only
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.errors import CannotPrint
from briefgen.item import State
from briefgen.pipeline import brief_of
from briefgen.render.data import as_data
from briefgen.render.pdf import render, to_pdf
from briefgen.render.proof import prove
from briefgen.render.sheet import to_html
from briefgen.render.text import summary
from briefgen.route_page import RoutePage, clock

LEGS = """
route:
  takeoff_time: 2026-05-16T23:30Z
  variation: 5.5 W
  legs:
    - {to: Marl Pit, course: 350 true, distance: 30 NM,
       altitude: 3500 ft, tas: 90 kt, fuel_flow: 8.4 gal/h, wind: calm}
    - {to: Tansy Bottom, altitude: 3500 ft, tas: 90 kt, fuel_flow: 8.4 gal/h, wind: calm}
"""
FUEL = """
fuel: {on_board: 20.19 gal, taxi: 1.1 gal, climb: 1.2 gal, night: false}
"""


def made(folder: Path, more: str, policy: str = "") -> Brief:
    club = Path(shutil.copytree(EXAMPLE, folder / "club"))
    trip = club / "trip.yaml"
    text = trip.read_text(encoding="utf-8").partition("\nroute:")[0]
    assert "weight: 2410 lb" in text  # lighter than the short way of these tests makes it
    trip.write_text(text.replace("weight: 2410 lb", "weight: 2430 lb") + more, encoding="utf-8")
    with (club / "policy.yaml").open("a", encoding="utf-8") as file:
        file.write(policy)
    return brief_of(trip, "trip.yaml")


def page_of(brief: Brief) -> RoutePage:
    assert brief.route is not None
    return brief.route


def test_every_column_adds_up_to_its_total_and_no_total_is_too_small(tmp_path: Path) -> None:
    brief = made(tmp_path, LEGS + FUEL)
    page = page_of(brief)
    assert (page.legs[0].distance_nm, page.legs[0].minutes, page.legs[0].fuel, page.legs[0].eta) == (
        30.0,
        20,
        2.8,
        "23:50Z",
    )
    assert page.distance_nm == pytest.approx(sum(each.distance_nm for each in page.legs))
    assert page.fuel == pytest.approx(sum(each.fuel for each in page.legs))
    assert page.minutes == sum(each.minutes for each in page.legs)
    assert page.eta == page.legs[-1].eta == clock(23 * 60 + 30 + page.minutes)  # past midnight
    row = next(item for item in brief.items if item.id == "fuel")
    stages = [each.amount for each in page.ladder if not each.total]
    assert sum(each or 0 for each in stages) == pytest.approx(row.policy_need)
    assert sum(each or 0 for each in stages[:4]) == pytest.approx(row.need)  # taxi, climb, legs, the rule's reserve
    assert stages[3] == pytest.approx(4.2)  # 30 min at 8.4
    assert row.have == 20.1  # down
    assert row.margin == pytest.approx(20.1 - (row.need or 0))
    assert row.unrounded[0] is not None
    assert row.need is not None
    assert 0 <= row.need - row.unrounded[0] < 0.1


def test_the_bars_of_the_fuel_stand_end_to_end_and_reach_the_sums(tmp_path: Path) -> None:
    """By hand: each stage begins where the one before ends, so the last but the policy's reaches the need."""
    page = page_of(made(tmp_path, LEGS + FUEL))
    rows = {each.name: each for each in page.ladder}
    stages = [each for each in page.ladder if not each.total]
    assert stages[0].bar_from == 0
    assert [each.bar_from for each in stages[1:]] == [each.bar_to for each in stages[:-1]]
    need, asked, have = (rows[n] for n in ("need, with the rule's reserve", "policy need", "usable on board"))
    assert (need.bar_from, asked.bar_from, have.bar_from) == (0, 0, 0)
    assert stages[3].bar_to == pytest.approx(need.bar_to, abs=2e-4)
    assert stages[-1].bar_to == pytest.approx(asked.bar_to, abs=2e-4)
    assert max(each.bar_to for each in page.ladder) == 1
    assert have.bar_to / need.bar_to == pytest.approx((have.amount or 0) / (need.amount or 1), abs=1e-3)
    left = rows[page.left]
    assert {left.bar_from, left.bar_to} == {need.bar_to, have.bar_to}


def test_fuel_that_is_short_has_its_gap_from_what_is_there_to_the_need(tmp_path: Path) -> None:
    page = page_of(made(tmp_path, LEGS + FUEL.replace("20.19", "9")))
    rows = {each.name: each for each in page.ladder}
    assert rows[page.left].bar_from == rows["usable on board"].bar_to
    assert rows[page.left].bar_to == rows["need, with the rule's reserve"].bar_to


def test_in_metric_units_fuel_is_in_litres(tmp_path: Path) -> None:
    """20.19 gal x 3.785411784 = 76.427 L, down; 1.1 gal = 4.164 L, to a tenth along the sum."""
    brief = made(tmp_path, LEGS + FUEL, "units: metric\n")
    row = next(item for item in brief.items if item.id == "fuel")
    assert (row.unit, row.have) == ("L", 76.4)
    page = page_of(brief)
    assert page.unit == "L"
    assert page.ladder[0].amount == pytest.approx(4.164, abs=0.1)
    assert page.ladder[2].amount == page.fuel
    assert sum(each.amount or 0 for each in page.ladder if not each.total) == pytest.approx(row.policy_need)


def test_what_no_fuel_is_given_for_is_said(tmp_path: Path) -> None:
    page = page_of(made(tmp_path / "neither", LEGS + FUEL))
    assert page.not_counted == "No fuel is given for an approach or for an alternate, and none is counted."
    given = FUEL.replace(
        "climb: 1.2 gal", "climb: 1.2 gal, approach: 0.5 gal, alternate: {to: Marl Pit, fuel: 1 gal}"
    )
    assert page_of(made(tmp_path / "both", LEGS + given)).not_counted == ""


def test_without_a_route_there_is_no_page_and_the_row_says_why(tmp_path: Path) -> None:
    brief = made(tmp_path, "")
    row = next(item for item in brief.items if item.id == "fuel")
    assert (brief.route, row.state) == (None, State.NOT_SHOWN)
    assert row.reason == "the trip file does not give 'route' and 'fuel'"
    assert "Route and fuel" not in to_html(brief, for_screen=True)
    assert "Route and fuel" not in summary(brief)
    assert as_data(brief)["route"] is None
    assert to_pdf(only(brief, "route"))


def test_a_route_without_fuel_has_its_log_and_says_what_is_missing(tmp_path: Path) -> None:
    brief = made(tmp_path, LEGS.replace("  takeoff_time: 2026-05-16T23:30Z\n", ""))
    page = page_of(brief)
    assert (page.ladder, page.reason, page.down_by) == ((), "the trip file does not give 'fuel'", "")
    assert not page.has_times
    assert "no takeoff time given" in summary(brief)
    assert "fuel not shown: the trip file does not give 'fuel'" in summary(brief)
    assert to_pdf(only(brief, "route"))


def test_wheels_down_by_is_none_where_the_reserve_is_not_on_board(tmp_path: Path) -> None:
    brief = made(tmp_path, LEGS + FUEL.replace("20.19", "9"))
    assert page_of(brief).down_by == "none: the reserve is not on board"
    assert next(item for item in brief.items if item.id == "fuel").state is State.SHORT
    assert to_pdf(only(brief, "route"))


def test_a_number_of_the_log_that_changed_is_missed_by_the_proof(tmp_path: Path) -> None:
    brief = made(tmp_path, LEGS + FUEL)
    page, content = page_of(brief), render(to_html(only(brief, "route"), for_screen=False))
    prove(content, only(brief, "route"), [])
    leg = replace(page.legs[0], heading="999°")
    with pytest.raises(CannotPrint, match="lost from the sheet: 999°"):
        prove(content, changed(only(brief, "route"), route=replace(page, legs=(leg, *page.legs[1:]))), [])


def test_a_circuit_s_fuel_needs_no_route() -> None:
    """By hand: 1.1 taxi, 40 min at 8.4 is 5.6, 30 min are 4.2: 10.9; a tenth of 5.6 and 30 min more: 15.66."""
    brief = brief_of(EXAMPLE / "solo.yaml", "solo.yaml")
    row = next(item for item in brief.items if item.id == "fuel")
    assert (row.need, row.policy_need, row.have, row.state) == (10.9, 15.7, 28.0, State.MEETS)
    assert brief.route is None


POWER = LEGS.replace(
    "tas: 90 kt, fuel_flow: 8.4 gal/h, wind: calm", "power: 2400 rpm, wind: calm, temperature: 18 degC"
)
NO_CLIMB = FUEL.replace(" climb: 1.2 gal,", "")


def test_a_climb_that_is_left_out_is_worked_and_is_a_row_of_the_log_with_its_speeds(tmp_path: Path) -> None:
    """By the example's table and hand: 621 to 3,409 ft at 2,450 lb, 13.2 above standard at the field.

    At 3,409 ft 4.82 and 5.41 min at 2,350 and 2,550 lb, half way 5.11; at 621 ft 0.62: 4.49, +13.2 % is 5.09 min.
    Fuel: 0.823 and 0.923, 0.873; 0.124 and 0.186, 0.155: 0.718, +13.2 % is 0.81 gal. Distance 5.82 and 6.82, 6.32;
    1.24: 5.08, +13.2 % is 5.75 NM. Each half way between 2,350 and 2,550 lb.
    """
    brief = made(tmp_path, POWER + NO_CLIMB)
    page = page_of(brief)
    top = page.legs[0]
    assert (top.to, top.climb, top.altitude, top.flown) == (
        "top of climb",
        True,
        "3,500\u00a0ft",
        "76 to 75\u00a0kt",
    )
    assert (top.minutes, top.fuel, top.distance_nm, top.eta) == (6, 0.9, 5.8, "23:36Z")
    assert [row.flown for row in page.legs[1:]] == ["2400\u00a0rpm"] * 2
    assert page.distance_nm == pytest.approx(sum(each.distance_nm for each in page.legs))
    assert page.minutes == sum(each.minutes for each in page.legs)
    stages = {each.name: each for each in page.ladder}
    assert (stages["climb"].amount or 0) + (stages["legs"].amount or 0) == pytest.approx(page.fuel)
    assert (stages["climb"].minutes or 0) + (stages["legs"].minutes or 0) == page.minutes
    text, sheet = summary(brief), to_html(brief, for_screen=False)
    for said in ("climbs by the handbook", "descents at cruise figures", "top of climb", "2400\u00a0rpm"):
        assert said in text
        assert said in sheet
    legs = as_data(brief)["route"]["legs"]
    assert [(each["climb"], each["flown"]) for each in legs] == [
        (True, "76 to 75\u00a0kt"),
        (False, "2400\u00a0rpm"),
        (False, "2400\u00a0rpm"),
    ]
    titles = [section.title for section in brief.sections]
    end = titles.index("Fuel") + 1
    legs = ["Leg 1, to Marl Pit, climb", "Leg 1, to Marl Pit", "Leg 2, to Tansy Bottom"]
    assert titles[end - 4 : end] == [*legs, "Fuel"]
    assert to_pdf(only(brief, "route"))


def test_a_climb_that_is_typed_is_no_row_of_the_log(tmp_path: Path) -> None:
    page = page_of(made(tmp_path, LEGS + FUEL))
    assert not page.has_climbs
    assert "climbs by the handbook" not in page.setting
    assert {each.name: each.minutes for each in page.ladder}["climb"] is None


def test_a_climb_over_two_legs_has_a_row_on_each_of_them(tmp_path: Path) -> None:
    """5.75 NM of climb, by the test above: 4 NM of it on a first leg of 4 NM."""
    short = (
        "    - {to: Gate, course: 090 true, distance: 4 NM,\n"
        "       altitude: 3500 ft, tas: 90 kt, fuel_flow: 8.4 gal/h, wind: calm}\n"
    )
    brief = made(tmp_path, POWER.replace("  legs:\n", "  legs:\n" + short) + NO_CLIMB)
    page = page_of(brief)
    assert [(row.to, row.climb) for row in page.legs] == [
        ("Gate", True),
        ("top of climb", True),
        ("Marl Pit", False),
        ("Tansy Bottom", False),
    ]
    assert page.legs[0].distance_nm == 4.0
    assert "Gate: climb to 3,500\u00a0ft, 76 to 75\u00a0kt" in summary(brief)
    titles = [each.title for each in brief.sections]
    assert titles[titles.index("Fuel") - 4 : titles.index("Fuel")] == [
        "Leg 1, to Gate, climb",
        "Leg 2, to Marl Pit, climb",
        "Leg 2, to Marl Pit",
        "Leg 3, to Tansy Bottom",
    ]


def test_a_climb_that_cannot_be_worked_is_said_and_the_fuel_is_not_shown(tmp_path: Path) -> None:
    """At 10,500 ft the pressure altitude is over the climb table's 10,000 ft; the typed legs stand."""
    brief = made(tmp_path, LEGS.replace("3500 ft", "10500 ft") + NO_CLIMB)
    page = page_of(brief)
    row = next(item for item in brief.items if item.id == "fuel")
    assert row.state is State.NOT_SHOWN
    assert "no climb could be worked: pressure altitude 10,408.8 ft is above" in row.reason
    assert "no climb worked: legs as if in cruise all the way" in page.setting
    assert (page.ladder, page.reason) == ((), row.reason)
    assert to_pdf(only(brief, "route"))


def test_the_handbook_s_allowance_is_the_taxi_of_a_trip_that_types_none(tmp_path: Path) -> None:
    """1.1 gal beside the example's climb table (invented), and the same number typed: one need, two sources."""
    for folder, fuel in (("typed", FUEL), ("left out", FUEL.replace(" taxi: 1.1 gal,", ""))):
        brief = made(tmp_path / folder, LEGS + fuel)
        page = page_of(brief)
        assert (page.ladder[0].name, page.ladder[0].amount) == ("taxi", pytest.approx(1.1, abs=0.1))
        taxi = next(each for each in brief.sections if each.title == "Fuel").figures[0].steps[0]
        assert taxi.after == 1.1
        assert ("5-14 note 1" in taxi.source.text) == (folder == "left out")


def test_a_table_without_speeds_has_none_in_the_log(tmp_path: Path) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "plain"))
    file = club / "aircraft" / "n0142.yaml"
    text = file.read_text(encoding="utf-8")
    start = text.index("\nclimb:")
    finish = text.index("\ncruise:")
    file.write_text(text[:start] + re.sub(r" 7[1-6] kt,", "", text[start:finish]) + text[finish:], encoding="utf-8")
    top = page_of(brief_of(club / "trip.yaml", "trip.yaml")).legs[0]
    assert (top.climb, top.flown) == (True, "")

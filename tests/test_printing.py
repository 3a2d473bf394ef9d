"""Metric printing: metres and kilograms, rounded the safe way, and states from what is printed.

Source of the expected numbers: the values worked by hand in tests/calc/hand_worked_chain_one.md, in ft and lb,
times 0.3048 m (international foot, 1959) or 0.45359237 kg (international pound, 1959), both exact; each product is
written beside its number, then rounded by the design's directions: needs up, haves and points down.
"""

from __future__ import annotations

import doctest
import shutil
from pathlib import Path
from typing import Any

import pytest

from briefgen import printing
from briefgen.brief import Brief
from briefgen.calc.flight import fly
from briefgen.cli import main
from briefgen.fact import DOWN, HEIGHT, UP
from briefgen.fact_list import FACTS
from briefgen.facts import flat
from briefgen.figures import Figure, Source
from briefgen.files.read_trip import read_trip
from briefgen.item import Item, State, item
from briefgen.model.policy import Factor, Policy
from briefgen.pipeline import brief_of, check
from briefgen.plans import Sketch
from briefgen.printing import METRIC, US, Printing
from briefgen.render.drawings import lay_out
from briefgen.render.text import summary, working
from briefgen.said import lengths, said

EXAMPLE = Path(__file__).resolve().parent.parent / "examples" / "quillmere"


def club(folder: Path, extra: str) -> Path:
    """Return the trip file of a copy of the example club with more in its policy."""
    copy = Path(shutil.copytree(EXAMPLE, folder / "club"))
    with (copy / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write(f"\n{extra}\n")
    return copy / "trip.yaml"


@pytest.fixture(scope="module")
def trip(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return club(tmp_path_factory.mktemp("metric"), "units: metric")


@pytest.fixture(scope="module")
def brief(trip: Path) -> Brief:
    return brief_of(trip, "trip.yaml")


def figures(row: Item) -> tuple[Any, ...]:
    return row.need, row.policy_need, row.have, row.margin, row.ratio, row.unit, row.state.value


def test_the_example_in_metres_and_kilograms(brief: Brief) -> None:
    rows = {
        row.id: figures(row) for row in brief.items if row.unit and row.id not in ("fuel", "fuel-stop", "daylight")
    }  # the others are answers
    assert rows == {
        # 2450 lb = 1111.30 kg; 2550 lb = 1156.66 kg
        "takeoff-weight": (1112, 1112, 1156, 44, None, "kg", "meets policy"),
        # 876.93 ft = 267.29 m; 1166.32 ft = 355.49 m; 2990 ft = 911.35 m; 911 / 268 = 3.399
        "takeoff-roll": (268, 356, 911, 643, 3.39, "m", "meets policy"),
        # 1589.62 ft = 484.52 m; 2114.20 ft = 644.41 m; 911 / 485 = 1.878
        "takeoff-50": (485, 645, 911, 426, 1.87, "m", "meets policy"),
        # in ft: 50 + 562.7 ft/NM x 2700.4 ft - 28.2 = 271.9; from 2114.2 ft on 223.3; 95 + 50 + 271 - 223
        "climb-out": (95, 193, 271, 176, None, "ft", "meets policy"),
        "takeoff-crosswind": (4, 4, 12, 8, None, "kt", "meets policy"),
        # 970.66 ft = 295.86 m; 1388.04 ft = 423.07 m; 2840 ft = 865.63 m; 865 / 296 = 2.922
        "landing-back": (296, 424, 865, 569, 2.92, "m", "meets policy"),
        # 2410 lb = 1093.16 kg
        "landing-weight": (1094, 1094, 1156, 62, None, "kg", "meets policy"),
        # 1092.43 ft = 332.97 m; 1562.17 ft = 476.15 m; 1120 ft = 341.38 m; 341 / 333 = 1.024
        "landing": (333, 477, 341, 8, 1.02, "m", "under policy"),
        # 1292.53 ft = 393.96 m; 1848.32 ft = 563.37 m; 341 / 394 = 0.8655
        "landing-flaps-up": (394, 564, 341, -53, 0.86, "m", "short"),
        "landing-partial": (394, 564, 341, -53, 0.86, "m", "short"),
        "landing-crosswind": (6, 6, 12, 6, None, "kt", "meets policy"),
        # by hand in tests/calc/test_alternate.py: 942.4 ft = 287.24 m; 1347.6 ft = 410.75 m; 2140 ft = 652.27 m
        "landing-alternate": (288, 411, 652, 364, 2.26, "m", "meets policy"),
    }


def test_points_along_the_strip_are_in_metres_rounded_down(brief: Brief) -> None:
    point, abort = brief.landing.go_around, brief.takeoff.abort
    readings = (point.at, point.mark_at, point.window, point.zone, brief.landing.aim, abort.at, abort.mark_at)
    assert all(each is not None and each.unit == "m" for each in readings)
    # 273.24 ft = 83.28 m; 200 ft = 60.96 m; 120 ft = 36.58 m; 200 ft; 80 ft = 24.38 m; 1138.66 ft = 347.06 m;
    # 1050 ft = 320.04 m
    assert [each.value for each in readings if each] == [83, 60, 36, 60, 24, 347, 320]


def test_what_the_pilot_set_is_not_rounded_to_five_feet(tmp_path: Path) -> None:
    """An aim point of 83 ft and a zone of 203 ft are printed so: 25.30 and 61.87 m."""
    trip = club(tmp_path, "")
    policy = trip.with_name("policy.yaml")
    text = policy.read_text(encoding="utf-8")
    assert "aim_point: 80 ft" in text
    assert "zone: 200 ft" in text
    text = text.replace("aim_point: 80 ft", "aim_point: 83 ft").replace("zone: 200 ft", "zone: 203 ft")
    for units, expected in (("US", (83, 203)), ("metric", (25, 61))):
        policy.write_text(f"{text}units: {units}\n", encoding="utf-8")
        page = brief_of(trip, "trip.yaml").landing
        assert page.aim is not None
        assert page.go_around.zone is not None
        assert (page.aim.value, page.go_around.zone.value) == expected


def test_heights_speeds_and_temperatures_stay_in_the_trade_s_units(brief: Brief) -> None:
    assert {each.unit for each in (*brief.takeoff.air, *brief.landing.air)} == {"ft"}
    assert {each.unit for each in (*brief.takeoff.speeds, brief.takeoff.abort_speed)} == {"kt"}
    # 2450 lb = 1111.30 kg, up; 30.02 inHg x 33.8639 hPa = 1016.59 hPa, down
    assert brief.takeoff.setting[:3] == ("1,112\u00a0kg, flaps 10", "27 °C", "altimeter 1016\u00a0hPa")


def test_limits_at_the_foot_are_in_kilograms_rounded_down(brief: Brief) -> None:
    # (2450 + 20) lb = 1120.37 kg; (2410 + 20) lb = 1102.23 kg
    assert brief.limits.endswith("takeoff over 1,120\u00a0kg; landing over 1,102\u00a0kg.")


def test_the_re_check_grid_is_in_metres(brief: Brief) -> None:
    rows = {(row.surface, row.case): row for row in brief.recheck}
    calm = {key: cells.cells[1] for key, cells in rows.items()}
    assert {row.unit for row in rows.values()} == {"m"}
    assert calm["wet", "as planned"][1:] == (380, State.SHORT)  # 1246.38 ft = 379.90 m
    assert calm["wet", "flaps up"][1:] == (457, State.SHORT)  # 1498.51 ft = 456.75 m
    assert calm["dry", "as planned"][1:] == (333, State.UNDER)  # no credit in 6 kt: as planned


def test_a_caution_says_the_number_of_its_row(brief: Brief) -> None:
    texts = {caution.id: caution.text for caution in brief.cautions}
    assert "394\u00a0m needed" in texts["flaps-up-short"]
    # the window of 120 ft = 36.58 m, down; the zone of 200 ft = 60.96 m: 60.96 - 36 = 24.96 m, up
    zone = texts["go-around-before-zone-ends"]
    assert "25\u00a0m before" in zone
    assert "36\u00a0m from the aim point, not 60\u00a0m" in zone
    assert (
        "61\u00a0m past the threshold, 116\u00a0m with" in texts["float-allowance"]
    )  # 200, 380 ft = 60.96, 115.82 m
    assert "22\u00a0m longer" in texts["gusts"]  # 1092.43 - 1020.81 = 71.62 ft = 21.83 m
    assert "268\u00a0m" in texts["abort-past-liftoff"]
    assert "ft deep" in texts["beyond-the-end"], "what a strip file says is not ours to convert"


def test_facts_stay_in_feet(brief: Brief, example: Path) -> None:
    plain = brief_of(example, "trip.yaml")
    inside = {path: value for path, value in flat(brief.facts).items() if path.endswith(("_ft", "_lb"))}
    assert len(inside) > 20
    assert inside == {path: value for path, value in flat(plain.facts).items() if path in inside}
    assert plain.said == {}


def test_the_standard_in_force_never_understates_what_it_asks_for(brief: Brief) -> None:
    ruled = {each.label: (each.value, each.whose) for each in brief.standard}
    club_standard = "Quillmere club standard"
    assert ruled["least takeoff margin"] == ("92\u00a0m", club_standard)  # 300 ft = 91.44 m
    assert ruled["least landing margin"] == ("31\u00a0m", club_standard)  # 100 ft = 30.48 m
    assert ruled["flare and float"] == ("37\u00a0m", club_standard)  # 120 ft = 36.58 m
    assert ruled["height over an obstacle"][0] == "20\u00a0ft"
    assert ruled["units"] == ("metric", club_standard)


def test_the_working_stays_in_feet_and_ends_with_what_is_printed(brief: Brief) -> None:
    text = working(brief)
    assert brief.worked_in
    assert "Worked in the units of the handbook's tables, feet and pounds" in text
    one = working(brief, "landing").splitlines()
    assert "    printed as 333\u00a0m" in one
    assert "    printed as 477\u00a0m" in one
    assert "    printed as 341\u00a0m" in one
    steps = [step for row in brief.items for figure in row.figures for step in figure.steps]
    assert {step.unit for step in steps} == {"ft", "lb", "kt", "gal", "ft/min", "ft/NM", "min"}
    altitudes = [
        each
        for section in brief.sections
        if section.title.startswith("Air at")
        for each in section.figures
        if each.unit == "ft"
    ]
    assert altitudes
    assert {each.printed for each in altitudes} == {""}


def test_no_length_or_weight_is_left_in_ft_or_lb_on_the_terminal_s_page(brief: Brief, example: Path) -> None:
    text = summary(brief).split("\nCautions\n")[0]
    before, _, after = text.partition("Load and balance")  # which stays in the handbook's units
    text = before + after[after.index("Decision points") :]
    lines = text.replace("\u00a0", " ").splitlines()
    left = [line for line in lines if " ft" in line or " lb" in line]
    heights = (
        "over 50 ft",
        "from 50 ft",
        "at 50 ft",
        "altitude",
        "ft/min",
        "ft/NM",
        "beeches",
        "barn",
        " true, wind ",  # a leg of the route
        " SM",  # ceilings, above the field
        "above the ",
        "ceiling",
        "ft lower",  # a station
        "glide ",  # per 1,000 ft of height, and the altitude of its wind
    )
    assert len(left) >= 5
    left = [line.replace("\u00a0", " ") for line in left]
    assert [line for line in left if not any(height in line for height in heights)] == []
    assert "landing need in m" in text
    assert "landing need in ft" in summary(brief_of(example, "trip.yaml"))


def test_the_scale_of_the_sketch_is_in_round_metres(brief: Brief) -> None:
    drawing = lay_out(brief.landing.sketch)
    assert [label.text for label in drawing.scale] == ["0 m", "100", "200", "300"]  # 1120 ft = 341.38 m
    step = drawing.scale[1].tick_x - drawing.scale[0].tick_x
    assert step / drawing.strip.width == pytest.approx(100 / 341.376, abs=0.001)


@pytest.mark.parametrize("length_ft", [330.0, 1120.0, 2990.0, 12_000.0])
@pytest.mark.parametrize(("unit", "ft_per_unit"), [("ft", 1.0), ("m", 1 / 0.3048)])
def test_a_scale_has_three_to_seven_figures(length_ft: float, unit: str, ft_per_unit: float) -> None:
    sketch = Sketch("t", "09", "27", length_ft, None, "grass", (), (), "", "w", 0.0, unit, ft_per_unit)
    assert 3 <= len(lay_out(sketch).scale) <= 7


S = Source("invented", "policy")


def row(need: float, policy_need: float, have: float, printing: Printing, minimum: float = 0.0) -> Item:
    need_, policy_need_, have_ = (Figure("x", "ft", value) for value in (need, policy_need, have))
    rules = Policy("invented", Factor(1.0, S), Factor(1.0, S))
    return item("x", "X", "here", need_, policy_need_, have_, policy=rules, minimum=minimum, printing=printing)


def test_the_state_follows_the_printed_metres_not_the_feet() -> None:
    """By hand: 996 ft = 303.58 m, 999.9 ft = 304.77 m; 1000 ft = 304.8 m; 900 ft = 274.32 m; 100 ft = 30.48 m."""
    feet, metres = row(996, 996, 999.9, US), row(996, 996, 999.9, METRIC)
    assert (feet.need, feet.have, feet.state) == (1000, 995, State.SHORT)
    assert (metres.need, metres.have, metres.margin, metres.state) == (304, 304, 0, State.MEETS)
    feet, metres = row(1000, 1000, 1000, US), row(1000, 1000, 1000, METRIC)
    assert (feet.need, feet.have, feet.state) == (1000, 1000, State.MEETS)
    assert (metres.need, metres.have, metres.margin, metres.state) == (305, 304, -1, State.SHORT)
    feet, metres = row(900, 900, 1000, US, 100), row(900, 900, 1000, METRIC, 100)
    assert (feet.margin, feet.minimum, feet.state) == (100, 100, State.MEETS)
    assert (metres.margin, metres.minimum, metres.state) == (29, 31, State.UNDER)


def test_what_was_typed_in_metres_is_printed_as_typed() -> None:
    """300 m, 400 m and a minimum of 100 m, by way of feet and back: no last bit adds a metre."""
    made = row(300 / 0.3048, 300 / 0.3048, 400 / 0.3048, METRIC, 100 / 0.3048)
    assert (made.need, made.have, made.minimum, made.state) == (300, 400, 100, State.MEETS)
    assert made.unrounded == pytest.approx((300, 300, 400))


def test_every_fact_in_feet_or_pounds_says_how_it_is_rounded_or_that_it_is_a_height() -> None:
    inside = {path: fact.rounds for path, fact in FACTS.items() if path.endswith(("_ft", "_lb"))}
    assert len(inside) > 20
    assert {path: rounds for path, rounds in inside.items() if rounds not in (UP, DOWN, HEIGHT)} == {}
    assert {path for path, rounds in inside.items() if rounds == HEIGHT} >= {"departure.density_altitude_ft"}
    others = [path for path, fact in FACTS.items() if path not in inside and fact.rounds]
    assert others == []


def test_what_cautions_say_in_feet_would_be_the_facts_themselves(example: Path) -> None:
    """The words are worked anew from the unrounded figures; in ft they must come out as the facts do."""
    found = read_trip(example, "trip.yaml")[0]
    facts = flat(brief_of(example, "trip.yaml").facts)
    worked = lengths(fly(found), US)
    assert len(worked) > 20
    assert {path: facts[path] for path in worked} == worked


def test_a_fact_that_stands_nowhere_else_is_converted_from_its_printed_feet(trip: Path, brief: Brief) -> None:
    flight = fly(read_trip(trip, "trip.yaml")[0])
    known = lengths(flight, METRIC)
    words = said(brief.facts, flight, METRIC)
    assert set(words) == {
        path for path, fact in FACTS.items() if fact.rounds in (UP, DOWN) and flat(brief.facts)[path] is not None
    }
    assert words["landing.planned.need_ft"] == f"{known['landing.planned.need_ft']:,.0f}\u00a0m" == "333\u00a0m"
    assert words["departure.displaced_ft"] == "46\u00a0m"  # 150 ft = 45.72 m


def test_check_counts_by_the_printed_metres(trip: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(trip)]) == 0
    assert "21 meets policy, 1 under policy, 2 short, 0 not shown" in capsys.readouterr().out


def test_a_trip_without_a_policy_is_printed_in_feet(tmp_path: Path) -> None:
    trip = club(tmp_path, "units: metric")
    text = trip.read_text(encoding="utf-8")
    assert "policy: policy.yaml\n" in text
    trip.write_text(text.replace("policy: policy.yaml\n", ""), encoding="utf-8")
    brief = brief_of(trip, "trip.yaml")
    assert (brief.printing, brief.page_size, brief.letterhead) == (US, "half letter", None)


def test_the_examples_of_the_printing_hold() -> None:
    found = doctest.testmod(printing)
    assert found.attempted >= 3
    assert found.failed == 0


@pytest.mark.parametrize("units", ["US", "metric"])
def test_a_weight_at_its_maximum_is_not_printed_as_over_it(tmp_path: Path, units: str) -> None:
    """2550 lb is 1156.66 kg: rounded up as a need, down as a have, one weight would be a kilogram over itself."""
    trip = club(tmp_path, f"units: {units}\n")
    text = trip.read_text(encoding="utf-8")
    assert "weight: 2450 lb" in text
    text = text[: text.index("\nroute:")].replace("weight: 2450 lb", "weight: 2550 lb")
    trip.write_text(text, encoding="utf-8")
    row = next(item for item in check(trip, "trip.yaml") if item.id == "takeoff-weight")
    assert (row.need, row.margin, row.state) == ({"US": 2550, "metric": 1156}[units], 0, State.MEETS)

"""Weight and balance by published examples: the whole sum, the envelope, and what mends a load.

Sources, by the ids of the check values, with how well each is known: WB-01 to WB-03 AC 43.13-1B chapter 10, figs.
10-10, 10-11 and 10-13 (read; for WB-03 the printed +18.6 in is a slip of arithmetic: its own totals give 18.32);
WB-06 PHAK chapter 10, computational method (results read, arms from memory); WB-07 PHAK, weight shifting (read);
WB-10 FAA question bank 3662, 3663 (read); WB-11 FAA-CT-8080-2 fig. 34 (read); WB-13 FAA-H-8083-1, ballast (formula
read, figures from memory); WB-14 AMT Handbook, General (inputs read, results computed); WB-17 AC 65-9A (read).

WB-05 AC 43.13-1B par. 10-2p (read); WB-15 FAA-H-8083-1 and AMT General ch. 4 (read).

Not here, as there is nothing to compute: WB-12 (PHAK fig. 9-9) prints totals, 2,799 lb and 2,278 hundreds, without
the table that they are inside of; WB-16 (AC 43.13-1B par. 10-2c) says which repairs ask for no new weighing.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from conftest import EXAMPLE
from printed import read_airplane

from briefgen.calc.balance import (
    EDGE,
    INSIDE,
    OUTSIDE,
    Line,
    Mass,
    balanced,
    fuel_lines,
    masses,
    moment,
    place,
    total,
)
from briefgen.calc.balance import lines as loading_lines
from briefgen.calc.mends import Bounds, mends
from briefgen.errors import Refusal
from briefgen.loading import chart_of
from briefgen.model.load import Balance, Envelope, Lever, Load, Station, Tank
from briefgen.units import up

WIDE = Envelope("any", "arm", ((500, -100), (12_000, -100), (12_000, 200), (500, 200)), "p. 1")


def airplane(empty: tuple[float, float], stations: dict[str, float], tank_in: float, *limits: Envelope) -> Balance:
    """Return an airplane of stations by arm and one tank."""
    return Balance(
        empty_lb=empty[0],
        empty_lb_in=empty[0] * empty[1],
        weighed="2025-01-01",
        empty_page="p. 1",
        stations=tuple(Station(name, Lever(arm), "p. 1") for name, arm in stations.items()),
        tanks=(Tank("main", Lever(tank_in), 100, "p. 1"),),
        envelopes=limits or (WIDE,),
    )


def at_ramp(balance: Balance, fuel_lb: float, **weights: float) -> Mass:
    load = Load("any", {name.replace("_", " "): lb for name, lb in weights.items()}, {"main": fuel_lb / 6})
    return masses(balance, load)[0]


AC_43 = airplane(
    (1169, 10.6), {"oil": -49, "pilot": 16, "front passenger": 16, "rear passengers": 48, "baggage": 75.5}, 22
)
AC_LIMITS = Envelope("any", "arm", ((1000, 8.5), (2100, 8.5), (2100, 21.9), (1000, 21.9)), "fig. 10-10")


def test_the_most_forward_check() -> None:
    """WB-01: 1,439 lb, 16,104 lb-in, +11.2 in; the empty moment was printed as 12,391."""
    mass = at_ramp(AC_43, 83, oil=17, pilot=170)
    assert mass.weight_lb == pytest.approx(1439)
    assert mass.moment_lb_in == pytest.approx(16_104, abs=1)
    assert mass.arm_in == pytest.approx(11.2, abs=0.05)
    assert place(mass, AC_LIMITS).where == INSIDE


def test_the_most_rearward_check() -> None:
    """WB-02: 2,036 lb, 43,428 lb-in; 21.33 in (computed), inside the 21.9 in by 0.57 in."""
    mass = at_ramp(AC_43, 240, oil=17, pilot=170, rear_passengers=340, baggage=100)
    assert mass.weight_lb == pytest.approx(2036)
    assert mass.moment_lb_in == pytest.approx(43_428, abs=1)
    found = place(mass, AC_LIMITS)
    assert found.where == INSIDE
    assert found.aft_in is not None
    assert found.aft_in - mass.arm_in == pytest.approx(0.57, abs=0.005)


def test_all_seats_full() -> None:
    """WB-03: 2,100 lb, exactly the maximum, which counts as inside; 38,466 lb-in, 18.32 in by its own totals."""
    mass = at_ramp(AC_43, 234, oil=17, pilot=170, front_passenger=170, rear_passengers=340)
    assert mass.weight_lb == pytest.approx(2100)
    assert mass.moment_lb_in == pytest.approx(38_466, abs=1)
    assert mass.arm_in == pytest.approx(18.32, abs=0.005)
    assert place(mass, AC_LIMITS).where == EDGE


def test_the_least_fuel_of_a_balance_check_weighs_half_its_horsepower() -> None:
    """WB-05: a twelfth of a gallon for each of 165 hp is 13.75 gal, 82.5 lb; printed up, 83, as WB-01 has it.

    The program takes no horsepower: what it works is the weight of that fuel, and how it is printed.
    """
    (fuel,) = fuel_lines(AC_43, Load("any", {}, {"main": 165 / 12}))
    assert fuel.weight_lb == pytest.approx(82.5)
    assert up(fuel.weight_lb) == 83


@pytest.mark.parametrize(
    ("density", "gal", "lb"),
    [("", 10, 60), ("fuel_density: 6 lb/gal", 10, 60), ("fuel_density: 6.7 lb/gal", 10, 67)],
)
def test_a_gallon_weighs_what_the_airplane_s_fuel_does(tmp_path: Path, density: str, gal: float, lb: float) -> None:
    """WB-15: avgas 6 lb/gal, which is taken where nothing is said; turbine fuel 6.7. Read by the real reader."""
    text = (EXAMPLE / "aircraft" / "n0142.yaml").read_text(encoding="utf-8")
    path = tmp_path / "airplane.yaml"
    path.write_text(text.replace("\nbalance:\n", f"\nbalance:\n  {density}\n"), encoding="utf-8")
    aircraft = read_airplane(path)
    assert aircraft.balance is not None
    (fuel,) = fuel_lines(aircraft.balance, Load("normal", {}, {"wings": gal}))
    assert fuel.weight_lb == pytest.approx(lb)
    assert aircraft.fuel_lb_per_gal * gal == pytest.approx(lb)
    assert aircraft._replace(balance=None).fuel_lb_per_gal == 6.0


def test_the_computational_method() -> None:
    """WB-06: 3,320 lb at 84.8 in, inside 78 to 86 in at up to 3,400 lb."""
    balance = airplane((2100, 78.3), {"front": 85.0, "rear": 121.0, "baggage": 150.0}, 75.0)
    mass = at_ramp(balance, 450, front=340, rear=350, baggage=80)
    assert mass.weight_lb == pytest.approx(3320)
    assert mass.arm_in == pytest.approx(84.8, abs=0.05)
    limits = Envelope("any", "arm", ((2000, 78), (3400, 78), (3400, 86), (2000, 86)), "p. 1")
    assert place(mass, limits).where == INSIDE


def test_weight_moved_from_one_station_to_another() -> None:
    """WB-07: 8,000 lb at 77.0 in; 100 lb from station 30 to 150 adds 12,000 lb-in: 628,000, 78.5 in."""
    balance = airplane((7900, (616_000 - 100 * 30) / 7900), {"ahead": 30, "behind": 150}, 77)
    before, after = (at_ramp(balance, 0, **{name: 100.0}) for name in ("ahead", "behind"))
    assert before.arm_in == pytest.approx(77.0)
    assert after.moment_lb_in - before.moment_lb_in == pytest.approx(12_000)
    assert after.moment_lb_in == pytest.approx(628_000)
    assert after.arm_in == pytest.approx(78.5)


@pytest.mark.parametrize(("over_lb", "gal"), [(110, 18.4), (90, 15.0)])
def test_fuel_to_drain(over_lb: float, gal: float) -> None:
    """WB-10: 110 lb over is 18.4 gal (18.333 rounded up, so that it is never still over), 90 lb is 15 gal.

    The airplane is so much over the top of its envelope on the ramp and at takeoff, and 6 lb/gal are drained.
    """
    top_lb = 1500 + 300 + 300 - over_lb
    limits = Envelope("any", "arm", ((1000, 30.0), (top_lb, 30.0), (top_lb, 50.0), (1000, 50.0)), "p. 1")
    balance = airplane((1500, 40), {"front": 37}, 48, limits)
    load = Load("any", {"front": 300.0}, {"main": 50.0})
    worked = balanced(balance, load)
    assert worked.points[0].place.over_lb == pytest.approx(over_lb)
    (drain,) = [
        mend for mend in mends(balance, load, worked, Bounds(spare_gal=50)) if mend.words.startswith("drain")
    ]
    assert drain.words == f"drain {gal} gal from main"
    assert drain.lb == pytest.approx(6 * gal)
    drained = load._replace(fuel_gal={"main": 50.0 - gal})
    assert balanced(balance, drained).inside


def test_ballast() -> None:
    """WB-13: 1,876 lb at +32.2 in, forward limit +33.0, ballast at +228: 7.7 lb, in whole pounds 8."""
    limits = Envelope("any", "arm", ((1000, 33.0), (2200, 33.0), (2200, 50.0), (1000, 50.0)), "p. 1")
    balance = airplane((1876, 32.2), {"tail": 228}, 33.0, limits)
    load = Load("any", {}, {})
    worked = balanced(balance, load)
    assert [each.place.where for each in worked.points] == [OUTSIDE] * 4
    formula = 1876 * (33.0 - 32.2) / (228 - 33.0)
    assert formula == pytest.approx(7.696, abs=0.001)
    offered = [mend.words for mend in mends(balance, load, worked)]
    assert offered == ["carry 8 lb of ballast at tail"]


def test_an_envelope_by_moment_is_drawn_in_thousands() -> None:
    """WB-17: 52,772 lb-in at 1,386 lb is 52.8 thousands, half of the last digit allowed."""
    by_moment = Envelope("any", "moment", ((1350, 45_000), (2300, 80_000), (2300, 109_000)), "p. 1")
    alone = airplane((1386, 52_772 / 1386), {"front": 37}, 48, by_moment)
    worked = balanced(alone, Load("any", {}, {}))
    (_, across, weight_lb) = chart_of(worked).path[0]
    assert (across, weight_lb) == (pytest.approx(52.8, abs=0.05), 1386)


# WB-11: FAA-CT-8080-2 fig. 34 (read): a loading graph in thousands of lb-in, with an envelope by moment.
GRAPH = Balance(
    1350,
    51_500,
    "2025-01-01",
    "fig. 34",
    (
        Station("front", Lever(table=((0, 0), (250, 9_200), (400, 14_700))), "fig. 34"),
        Station("rear", Lever(table=((0, 0), (400, 29_000))), "fig. 34"),
        Station("oil", Lever(table=((0, 0), (15, -200))), "fig. 34"),
        Station("baggage", Lever(table=((0, 0), (120, 11_500))), "fig. 34", 120),
    ),
    (Tank("main", Lever(table=((0, 0), (180, 8_700))), 30, "fig. 34"),),
    (Envelope("any", "moment", ((1350, 45_000), (2300, 80_000), (2300, 109_000), (1350, 64_000)), "fig. 34"),),
)


def test_a_loading_graph_in_moments() -> None:
    """WB-11: before baggage 2,195 lb and 98.2 thousand; 105 lb of baggage (about 10) makes 2,300 lb and 108.2."""
    load = Load("any", {"front": 250, "rear": 400, "oil": 15}, {"main": 30})
    ramp = masses(GRAPH, load)[0]
    assert ramp.weight_lb == pytest.approx(2195)
    assert ramp.moment_lb_in / 1000 == pytest.approx(98.2, abs=0.05)
    full = masses(GRAPH, load._replace(stations={**load.stations, "baggage": 105}))[0]
    assert full.weight_lb == pytest.approx(2300)
    assert full.moment_lb_in / 1000 == pytest.approx(108.2, abs=0.3)  # read off a graph
    assert place(full, GRAPH.envelopes[0]).where == EDGE


def test_a_table_of_moments_is_never_read_past_its_end() -> None:
    with pytest.raises(Refusal, match="121 lb is past the end of the table of moments, 120 lb"):
        moment(GRAPH.stations[3].lever, 121)


def test_the_empty_airplane_and_nothing_else_is_a_loading_sheet_too() -> None:
    empty, *seats = loading_lines(AC_43, Load("any", {}, {}))
    assert total("alone", (empty, *seats)).arm_in == pytest.approx(10.6)
    assert [(seat.weight_lb, str(seat.moment_lb_in)) for seat in seats] == [(0, "0.0")] * 5  # each seat is there


def test_a_line_over_its_own_limit_says_by_how_much() -> None:
    heavy = loading_lines(GRAPH._replace(stations=GRAPH.stations), Load("any", {"baggage": 120, "oil": 15}, {}))
    assert {line.over_lb for line in heavy} == {0}
    (baggage,) = [line for line in heavy if line.name == "baggage"]
    assert baggage._replace(weight_lb=133).over_lb == 13


def test_an_empty_weight_from_a_weighing() -> None:
    """WB-14 (inputs read in a rewrite of the handbook, results computed there): 1,331.5 lb, 66,698 lb-in, 50.1 in.

    AMT Handbook, General, FAA-H-8083-30, ch. 4, fig. 4-20: mains at +70, nose at -30; scales 650, 640 and 225 lb,
    less tare 5, 5 and 2.5; 30 gal at 5.9 lb/gal at +95 taken off; what cannot be used, 6 lb at +98, put back.
    """
    off = [("left", 650 - 5, 70.0), ("right", 640 - 5, 70.0), ("nose", 225 - 2.5, -30.0)]
    off += [("usable and unusable fuel", -30 * 5.9, 95.0), ("unusable fuel", 6.0, 98.0)]
    empty = total("empty airplane", [Line(name, lb, lb * arm, "fig. 4-20") for name, lb, arm in off])
    assert empty.weight_lb == pytest.approx(1331.5)
    assert empty.moment_lb_in == pytest.approx(66_698, abs=0.5)
    assert empty.arm_in == pytest.approx(50.1, abs=0.05)

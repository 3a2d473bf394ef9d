"""What the rule asks of ceiling and visibility at a field, and the state of the row.

Source: 14 CFR 91.155(a), (c), (d) (read), for the pattern at 1,000 ft above the field (common practice, no source):
500 ft below cloud in classes C, D, E and, at night, G; clear of clouds in B and by day in G to 1,200 ft; 3 SM, but
1 SM in G by day; 5 SM in E and in G over 1,200 ft, from 10,000 ft on; in a surface area
a ceiling of 1,000 ft and 3 SM.
"""

from __future__ import annotations

from math import inf
from pathlib import Path

import pytest

from briefgen.calc.sky import policy_need, rounded, sky_need, there
from briefgen.calc.wind import worst_on_runway
from briefgen.files.read_trip import read_trip
from briefgen.item import State
from briefgen.model.policy import NO_POLICY, Policy
from briefgen.model.trip import Trip
from briefgen.model.weather import FieldWeather, Seen, Wind
from briefgen.weather_page import weather_row

TRIP, _ = read_trip(Path(__file__).parents[2] / "examples" / "quillmere" / "trip.yaml", "trip.yaml")
STRIP = TRIP.departure.use.strip  # 712 ft


@pytest.mark.parametrize(
    ("airspace", "night", "asked"),
    [
        ("G", False, (1000, 1)),
        ("G", True, (1500, 3)),
        ("G", None, (1500, 3)),
        ("E", False, (1500, 3)),
        ("D", True, (1500, 3)),
        ("C", False, (1500, 3)),
        ("B", False, (1000, 3)),
        ("", False, (1500, 3)),
    ],
)
def test_what_the_rule_asks_for(airspace: str, night: bool | None, asked: tuple[float, float]) -> None:
    assert rounded(sky_need(STRIP._replace(airspace=airspace), night)) == asked


def test_where_no_class_is_given_the_strictest_of_a_high_field_is_that_of_class_e() -> None:
    assert rounded(sky_need(STRIP._replace(airspace="", elevation_ft=9500), False)) == (2000, 5)


def test_a_surface_area_asks_for_more_than_the_row_of_the_table_where_it_does(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """With a pattern at 300 ft: class B is clear of clouds at 300 ft, and 91.155(c) asks for 1,000 ft."""
    monkeypatch.setattr("briefgen.calc.sky.PATTERN_FT", 300.0)
    assert rounded(sky_need(STRIP._replace(airspace="B"), False)) == (1000, 3)


def test_the_policy_asks_for_its_own_where_that_is_more() -> None:
    rule = sky_need(STRIP._replace(airspace="G"), True)
    own = policy_need(rule, Policy("p", minimum_ceiling_ft=2000, minimum_visibility_SM=2))
    assert rounded(own) == (2000, 3)
    assert own.visibility is rule.visibility
    assert policy_need(rule, NO_POLICY) == rule


def test_what_is_there_is_rounded_down() -> None:
    assert there(1_499, 4.999) == (1400, 4.99)
    assert there(inf, 10) == (inf, 10)


def row(ceiling_ft: float | None, sight_SM: float | None, trip: Trip = TRIP, night: bool | None = False) -> State:
    weather = FieldWeather("", Seen(ceiling_ft, reason="r"), Seen(sight_SM, reason="s"), given=True)
    use = trip.departure.use
    return weather_row(
        trip,
        use._replace(conditions=use.conditions._replace(weather=weather)),
        "departure-weather",
        "here",
        night=night,
    ).state


def test_the_state_of_the_row() -> None:
    """The rule: 1,000 ft and 1 SM; the example's policy: 1,500 ft and 5 SM."""
    assert row(1500, 5) is State.MEETS
    assert row(inf, 5) is State.MEETS
    assert row(1499, 5) is State.UNDER
    assert row(1500, 4.9) is State.UNDER
    assert row(999, 10) is State.SHORT
    assert row(5000, 0.99) is State.SHORT
    assert row(None, 10) is State.NOT_SHOWN
    assert row(5000, None) is State.NOT_SHOWN
    assert row(5000, 10, TRIP._replace(policy=None)) is State.UNDER
    assert (row(2000, 2.5), row(2000, 2.5, night=True), row(2000, 2.5, night=None)) == (  # 3 SM in class G at night
        State.UNDER,
        State.SHORT,
        State.SHORT,
    )


def test_of_several_winds_the_worst_of_each_part_counts() -> None:
    """On runway 09: 20 kt ahead; 10 kt from behind, gusting 12; 8 kt gusting 15 across from the left."""
    found = worst_on_runway([Wind(90, 20, 20), Wind(270, 10, 12), Wind(0, 8, 15)], 90)
    assert found.headwind_kt == 0
    assert found.tailwind_kt == pytest.approx(12)
    assert (found.crosswind_kt, found.crosswind_from) == (pytest.approx(15), "left")

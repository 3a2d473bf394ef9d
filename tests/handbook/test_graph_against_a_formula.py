"""A graph digitized from a closed formula gives it back: never shorter, longer by no more than is derived here.

The formula is that of this test, of the kind that published charts follow (a power of density, weight and wind):

    roll = 820 ft x (s(T, h))^-2.4 x (W / 2550 lb)^2.2 x (1 - w / 55 kt)^1.8
    total = roll + 640 ft x (roll / 820 ft)^1.25

s: density of the air as a share of the standard's at sea level. It is printed, so to say, as four panels, and each
of their points is read to the nearest 5 ft, so that a reading is off by e = 2.5 ft at most. Derived:

1. Never shorter. Every line is convex: s is T0/T x p(h)/p0, so that roll goes with T^2.4; the powers 2.2, 1.8 and
   1.25 are over 1, and s^-2.4 is convex over h. A chord of a convex line is not under it. A weight and a wind
   multiply, so that a proportional place between two of their guide lines is exact. With the readings' error taken
   up, no distance is shorter than the formula's.
2. Not much longer. E is how far off a value may be for the reading alone: e after the first panel, then
   e + g (E + e), with g how much further apart a panel's lines lie than at their starts, at most. What is taken up
   is at most E, and the readings may be too long by E already: 2 E. To it comes the height of the chords, step^2 /
   8 of the second derivative, which g carries on too.
"""

from __future__ import annotations

from itertools import pairwise
from random import Random

import pytest
from graphs import chart, digitized, followed, graph, worked

from briefgen.calc.atmosphere import density_ratio
from briefgen.handbook.graph import Scale
from briefgen.handbook.graph_chart import GraphChart
from briefgen.handbook.lines import HEIGHT

READ_TO_FT = 5.0
W0_LB, V_KT = 2550.0, 55.0
HEIGHTS_FT = [250.0 * i for i in range(33)]  # to 8,000 ft
TEMPERATURES_DEGC = [-10.0 + 5 * i for i in range(11)]  # to 40 degC
WEIGHTS_LB = [1950.0 + 50 * i for i in range(13)]
WINDS_KT = [-10.0, -5.0, 0.0, 5.0, 10.0, 15.0, 20.0]
STARTS_FT = [200.0 * 1.12**i for i in range(24)]  # to 2,711 ft


def calm(height_ft: float, degC: float) -> float:
    return float(820 * density_ratio(height_ft, degC) ** -2.4)


def by_weight(start: float, lb: float) -> float:
    return float(start * (lb / W0_LB) ** 2.2)


def by_wind(start: float, kt: float) -> float:
    return float(start * (1 - kt / V_KT) ** 1.8)


def over(start: float, height_ft: float) -> float:
    return float(start + height_ft / 50 * 640 * (start / 820) ** 1.25)


def nearest(value: float) -> float:
    return round(value / READ_TO_FT) * READ_TO_FT


def digitized_chart() -> GraphChart:
    one = graph(
        followed("weight", W0_LB, by_weight, STARTS_FT, WEIGHTS_LB, nearest),
        followed("wind", 0.0, by_wind, STARTS_FT, WINDS_KT, nearest),
        followed(HEIGHT, 0.0, over, STARTS_FT, (0.0, 50.0), nearest),
        curves=digitized(calm, HEIGHTS_FT, TEMPERATURES_DEGC, nearest),
        scale=Scale("ft", READ_TO_FT),
    )
    return chart(one, one)


def chord_ft(values: list[float]) -> float:
    """Return more than the greatest height of a chord over a line through evenly spaced values.

    A second difference is step^2 of a second derivative, of which the chord is an eighth; twice that is allowed.
    """
    return max(a - 2 * b + c for a, b, c in zip(values, values[1:], values[2:], strict=False)) / 4


def most_ft() -> tuple[float, float]:
    """Return by how much a roll and a total may be longer than the formula's [ft], as derived above."""
    e, top = READ_TO_FT / 2, 2000.0  # the longest roll that is asked for
    along = max(chord_ft([calm(ft, degC) for degC in TEMPERATURES_DEGC]) for ft in HEIGHTS_FT)
    across = max(chord_ft([calm(ft, degC) for ft in HEIGHTS_FT]) for degC in TEMPERATURES_DEGC)
    off, chords = e, along + across
    g = 1.0  # guide lines for weight come together below the reference, which is the greatest
    off, chords = e + g * (off + e), g * chords + chord_ft([by_weight(top, lb) for lb in WEIGHTS_LB])
    g = (1 + 10 / V_KT) ** 1.8  # at 10 kt of tailwind they lie furthest apart
    off, chords = e + g * (off + e), g * chords + chord_ft([by_wind(g * top, kt) for kt in WINDS_KT])
    roll = 2 * off + chords
    top *= g
    g = 1 + 640 * 1.25 / 820 * (top / 820) ** 0.25  # the slope of total over roll, at its steepest
    between = max(  # the chord between two guide lines, at its middle or near it
        over(a, 50.0) + (x - a) / (b - a) * (over(b, 50.0) - over(a, 50.0)) - over(x, 50.0)
        for a, b in pairwise(STARTS_FT)
        for x in (a + (b - a) * share / 10 for share in range(11))
    )
    return roll, 2 * (e + g * (off + e)) + g * chords + between


def test_the_formula_comes_back_from_its_digitized_graph() -> None:
    one, random = digitized_chart(), Random(20261201)
    most_roll, most_total = most_ft()
    assert most_roll < 45  # it says something
    assert most_total < 120
    longer: list[float] = []
    while len(longer) < 1000:
        degC, ft = random.uniform(-10, 40), random.uniform(0, 8000)
        lb, kt = random.uniform(1950, 2550), random.uniform(-10, 20)
        first = calm(ft, degC)
        roll = by_wind(by_weight(first, lb), kt)
        if first > 2000 or min(by_weight(first, lb), roll) < 240:
            continue  # off the guide lines, where there is none of it
        air = {"temperature_degC": degC, "pressure_altitude_ft": ft, "weight_lb": lb}
        causes = {"headwind": kt} if kt > 0 else {"tailwind": -kt}
        bound = (1 - max(kt, 0.0) / V_KT) ** 2 - 1
        got = [each.known for each in worked(one, causes, whole_steps=False, headwind_bound=bound, **air)]
        assert roll <= got[0] <= roll + most_roll
        assert over(roll, 50.0) <= got[1] <= over(roll, 50.0) + most_total
        longer.append(got[1] / over(roll, 50.0) - 1)
    assert max(longer) > 0.01  # not the formula itself: the reading is taken up


@pytest.mark.parametrize(("index", "name"), [(0, "roll"), (1, "total")])
def test_a_bound_that_is_too_small_would_be_noticed(index: int, name: str) -> None:
    """The plain reading, without what is taken up, is shorter than the formula somewhere: the proof can fail."""
    one, random, shorter = digitized_chart(), Random(1), 0
    for _ in range(200):
        degC, ft, lb = random.uniform(-10, 40), random.uniform(0, 5000), random.uniform(2150, 2550)
        roll = by_weight(calm(ft, degC), lb)
        inputs = {"temperature_degC": degC, "pressure_altitude_ft": ft, "weight_lb": lb}
        plain = one.reading_ft(name, inputs, whole_steps=False)
        shorter += plain < (roll, over(roll, 50.0))[index]
    assert shorter > 0

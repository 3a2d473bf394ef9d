"""Wind components on a runway agree with published problems.

Sources: PHAK FAA-H-8083-25C ch. 11, Sample Problem 10 and Fig. 11-31 (read); European and FAA question banks
(second-hand). Published components are rounded chart readings, so each row states its tolerance. The operator's
rule of half the headwind and one and a half times the tailwind (CAT.POL.A) is no part of the tool.
"""

from __future__ import annotations

import pytest

from briefgen.calc.wind import RunwayWind, on_runway
from briefgen.model.weather import Wind

HALF_KT = 0.5 + 1e-9  # 12.5 rounds to 13


def steady(from_deg: float, knots: float, runway_deg: float) -> RunwayWind:
    """Return the components of a steady wind."""
    return on_runway(Wind(from_deg, knots, knots), runway_deg)


def test_W_1_sample_problem_10() -> None:
    # PHAK-25C Sample Problem 10 / Fig. 11-31, read: headwind 22, crosswind 13 kt, a chart reading (half a knot).
    found = steady(140, 25, 170)
    assert found.headwind_kt == pytest.approx(22, abs=HALF_KT)
    assert found.crosswind_kt == pytest.approx(13, abs=HALF_KT)
    # Exact, computed: 25 cos 30, 25 sin 30, from the left.
    assert found.headwind_kt == pytest.approx(21.65, abs=0.005)
    assert found.crosswind_kt == pytest.approx(12.50, abs=0.005)
    assert found.crosswind_from == "left"
    assert found.tailwind_kt == 0


def test_W_3_sixty_degrees_off_the_runway() -> None:
    # European PPL bank, second-hand: head 7.5, cross 13 (0.1 kt).
    found = steady(280, 15, 220)
    assert found.headwind_kt == pytest.approx(7.5, abs=0.1)
    assert found.crosswind_kt == pytest.approx(13, abs=0.1)
    assert found.crosswind_from == "right"


def test_W_4_a_wind_square_across_is_all_crosswind() -> None:
    # The same bank, second-hand: head 0, cross 20 (0.01 kt).
    found = steady(130, 20, 40)
    assert (found.headwind_kt, found.tailwind_kt) == (0, 0)
    assert found.crosswind_kt == pytest.approx(20, abs=0.01)


def test_W_5_only_runway_14_is_into_wind_and_within_thirteen_knots_across() -> None:
    # FAA question bank, second-hand: runways 06, 14, 24, 32, wind 180/20, limit 13 kt: choose 14 (cross 12.86).
    fits = [
        ident
        for ident in (6, 14, 24, 32)
        if (found := steady(180, 20, ident * 10)).crosswind_kt <= 13 and found.tailwind_kt == 0
    ]
    assert fits == [14]
    assert steady(180, 20, 140).crosswind_kt == pytest.approx(12.86, abs=0.005)


# W-8: EASA bank, second-hand; printed rounded up, so 0.6 kt. The last pair is exact, computed: 3.47 and 19.70.
@pytest.mark.parametrize(("ident", "cross", "head"), [(6, 7, 19), (8, 13, 15), (9, 15, 13), (12, 20, 4)])
def test_W_8_four_runways_in_one_wind(ident: int, cross: int, head: int) -> None:
    found = steady(40, 20, ident * 10)
    assert found.crosswind_kt == pytest.approx(cross, abs=0.6)
    assert found.headwind_kt == pytest.approx(head, abs=0.6)


def test_W_8_runway_12_is_exact_to_a_hundredth_of_a_knot() -> None:
    found = steady(40, 20, 120)
    assert (found.headwind_kt, found.crosswind_kt) == pytest.approx((3.47, 19.70), abs=0.005)

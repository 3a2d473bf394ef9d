"""What is worse for the airplane never shortens a distance: weight, heat, altitude, wind, slope, surface, policy.

The airplane is invented; its tables come from the physical model that `modelled` gives, with the ends that may be
used declared so. No expected figure is needed: each property compares two workings.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from modelled import (
    FORMS,
    LIGHTEST_LB,
    airplane,
    alongs,
    distances,
    forms,
    heights,
    land,
    multiples,
    pairs,
    place,
    policy,
    quick,
    surfaces,
    take_off,
    temperatures,
    weights,
)

from briefgen.calc.distance import Scene

NEAR = 1e-6  # ft: the last bits of a float


@dataclass(frozen=True)
class Day:
    """One day on one runway with one airplane."""

    height_ft: float
    degC: float
    along_kt: float
    weight_lb: float
    slope: float
    ground: tuple[str, bool, bool]
    multiple: float
    pro_rata: bool
    form: str = FORMS[0]
    extra_kt: float = 0.0

    @property
    def scene(self) -> Scene:
        """The runway in its air."""
        surface, wet, soft = self.ground
        return place(
            self.height_ft, self.degC, self.along_kt, surface=surface, wet=wet, soft=soft, slope=self.slope
        )


days = st.builds(
    Day,
    height_ft=heights,
    degC=temperatures,
    along_kt=alongs,
    weight_lb=weights,
    slope=st.floats(-0.02, 0.02),
    ground=surfaces,
    multiple=multiples,
    pro_rata=st.booleans(),
    form=forms,
)


def worked(day: Day) -> list[dict[str, float]]:
    """Return the distances of the takeoff and of both landings."""
    rules = policy(day.multiple, pro_rata_credit=day.pro_rata)
    there = day.scene
    runs = [distances(take_off(there, day.weight_lb, rules))]
    # Slope turns round: a runway that is uphill for the takeoff is landed on downhill.
    back = there._replace(have=there.have._replace(slope=-there.have.slope))
    runs += [
        distances(each) for each in land(back, day.weight_lb, rules, of=airplane(day.form), extra_kt=day.extra_kt)
    ]
    assert len(runs[0]) == len(runs[1]) == 4
    assert len(runs[2]) >= 3
    return runs


def never_shorter(better: Day, worse: Day) -> None:
    """Assert that nothing is shorter on the worse day."""
    for before, after in zip(worked(better), worked(worse), strict=True):
        for name, value in before.items():
            assert after[name] >= value - NEAR, name


@quick
@given(days, pairs(weights))
def test_more_weight_never_shortens(day: Day, two: list[float]) -> None:
    never_shorter(replace(day, weight_lb=two[0]), replace(day, weight_lb=two[1]))


@quick
@given(days, pairs(temperatures))
def test_more_heat_never_shortens(day: Day, two: list[float]) -> None:
    never_shorter(replace(day, degC=two[0]), replace(day, degC=two[1]))


@quick
@given(days, pairs(heights))
def test_more_altitude_never_shortens(day: Day, two: list[float]) -> None:
    never_shorter(replace(day, height_ft=two[0]), replace(day, height_ft=two[1]))


@quick
@given(days, pairs(alongs))
def test_less_headwind_or_more_tailwind_never_shortens(day: Day, two: list[float]) -> None:
    never_shorter(replace(day, along_kt=two[1]), replace(day, along_kt=two[0]))


@quick
@given(days, pairs(st.floats(-0.02, 0.02)))
def test_more_slope_against_the_airplane_never_shortens(day: Day, two: list[float]) -> None:
    never_shorter(replace(day, slope=two[0]), replace(day, slope=two[1]))


@quick
@given(days, pairs(multiples))
def test_a_higher_factor_never_shortens(day: Day, two: list[float]) -> None:
    never_shorter(replace(day, multiple=two[0]), replace(day, multiple=two[1]))


@quick
@given(days)
def test_whole_steps_of_credit_are_never_shorter_than_pro_rata(day: Day) -> None:
    never_shorter(replace(day, pro_rata=True), replace(day, pro_rata=False))


@quick
@given(days, st.sampled_from(["paved", "grass"]), st.booleans())
def test_wet_or_soft_ground_is_never_shorter_than_dry_and_firm(day: Day, surface: str, wet: bool) -> None:
    never_shorter(replace(day, ground=(surface, False, False)), replace(day, ground=(surface, wet, True)))
    never_shorter(replace(day, ground=(surface, False, False)), replace(day, ground=(surface, True, False)))


@quick
@given(days, pairs(st.floats(0.0, 15.0)))
def test_a_faster_approach_never_shortens(day: Day, two: list[float]) -> None:
    never_shorter(replace(day, extra_kt=two[0]), replace(day, extra_kt=two[1]))


in_the_table = st.fixed_dictionaries(
    {"degC": pairs(st.floats(0.0, 40.0)), "height_ft": pairs(st.floats(0.0, 8000.0)), "weight_lb": pairs(weights)}
)


@quick
@given(days, in_the_table, st.floats(0.5, 10.0))
def test_weight_heat_and_altitude_never_shorten_a_faster_approach_either(
    day: Day, two: dict[str, list[float]], extra_kt: float
) -> None:
    first = replace(day, extra_kt=extra_kt, **{name: values[0] for name, values in two.items()})
    for name, values in two.items():
        never_shorter(first, replace(first, **{name: values[1]}))


@quick
@given(days, pairs(st.floats(-10.0, 0.0)), st.floats(0.5, 10.0))
def test_more_tailwind_never_shortens_a_faster_approach_either(day: Day, two: list[float], extra_kt: float) -> None:
    fast = replace(day, extra_kt=extra_kt)
    never_shorter(replace(fast, along_kt=two[1]), replace(fast, along_kt=two[0]))


@quick
@given(days, st.floats(0.0, 35.0), st.floats(0.5, 15.0))
def test_a_faster_approach_into_wind_is_never_worked_shorter_than_physics_makes_it(
    day: Day, along_kt: float, extra_kt: float
) -> None:
    # Square law (PHAK FAA-H-8083-25C ch. 11, read): ground speed flown over the table's in calm air, squared.
    calm = replace(day, along_kt=0.0, form="table")
    fast = replace(calm, along_kt=along_kt, extra_kt=extra_kt)
    there = fast.scene
    true_kt, flown_kt = (kt / there.density_ratio**0.5 for kt in (58.0, 58.0 + extra_kt))
    least = ((flown_kt - along_kt) / true_kt) ** 2
    assert worked(fast)[1]["roll"] >= worked(calm)[1]["roll"] * least - NEAR
    assert worked(fast)[1]["total"] >= worked(calm)[1]["total"] * least - NEAR


@pytest.mark.xfail(
    reason="a headwind is taken off both ground speeds whole, but the note credits far less: with much added speed "
    "the ratio of the ground speeds, squared, outgrows the credit (roll 447.3 ft in 9 kt, 449.2 ft in 27 kt)",
    strict=True,
)
def test_less_headwind_never_shortens_a_much_faster_approach_either() -> None:
    # One case is enough to show it: 58 kt in the table, 72 kt flown.
    day = Day(0.0, 0.0, 27.0, LIGHTEST_LB, 0.0, ("paved", False, False), 1.0, pro_rata=False, extra_kt=14.0)
    never_shorter(day, replace(day, along_kt=9.0))


@quick
@given(days, pairs(st.floats(0.0, 27.0)), st.floats(0.5, 5.0))
def test_less_headwind_never_shortens_an_approach_up_to_five_knots_faster(
    day: Day, two: list[float], extra_kt: float
) -> None:
    fast = replace(day, extra_kt=extra_kt)
    never_shorter(replace(fast, along_kt=two[1]), replace(fast, along_kt=two[0]))

"""Quantities are read in every unit, turned into the fixed ones, and rounded the careful way.

Sources: the exact definitions named beside each unit (BIPM, the SI Brochure, 9th edition; NIST SP 811 (2008),
appendix B.9), against which `pint` is the second witness: its registry defines these units by the same exact
numbers in every version (`foot = 0.3048 m` by way of the inch, `pound = 7000 grain`, `knot = nautical mile/hour`,
`mercury = 13.5951 kg/L` and `g_0 = 9.80665 m/s2` for the inch of mercury). Tolerance: 1e-9 of the value.
"""

from __future__ import annotations

import math
import re

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen import units

PINT = {
    "ft": "foot",  # 0.3048 m, exact: international foot, 1959
    "m": "meter",
    "kt": "knot",  # 1852 m in an hour, exact
    "mph": "mile/hour",  # 1609.344 m, exact: international mile
    "km/h": "kilometer/hour",
    "lb": "pound",  # 0.45359237 kg, exact: international avoirdupois pound, 1959
    "kg": "kilogram",
    "degC": "degC",
    "degF": "degF",  # 32 degF is 0 degC, 1 degF is 5/9 degC
    "hPa": "hectopascal",
    "inHg": "inch_Hg",  # 25.4 mm of mercury of 13 595.1 kg/m3 under 9.80665 m/s2: conventional
    "psi": "psi",  # a pound of force on a square inch: 0.45359237 x 9.80665 N on 0.0254^2 m2, exact
    "kPa": "kilopascal",
    "bar": "bar",  # 100 kPa, exact: SI Brochure, 9th edition, table 8's note; NIST SP 811
    "s": "second",
    "min": "minute",
    "h": "hour",
    "deg": "degree",
    "NM": "nautical_mile",  # 1852 m, exact
    "km": "kilometer",
    "SM": "mile",  # 1609.344 m, exact: international mile
    "gal": "gallon",  # 231 cubic inches, exact: NIST SP 811, B.8
    "L": "liter",
    "gal/h": "gallon/hour",
    "L/h": "liter/hour",
    "%": "percent",
    "g": "standard_gravity",  # 9.80665 m/s2, exact
    "in": "inch",  # 25.4 mm, exact
    "mm": "millimeter",
    "cm": "centimeter",
    "lb-in": "pound*inch",
    "kg-mm": "kilogram*millimeter",
    "kg-m": "kilogram*meter",
    "lb/gal": "pound/gallon",
    "kg/L": "kilogram/liter",
    "ft/min": "foot/minute",
    "m/s": "meter/second",
}
ALL = [(kind, unit) for kind, names in units.KINDS.items() for unit in names]
CALM = settings(deadline=None, derandomize=True, max_examples=100)  # the same on a busy machine
KINDS = st.sampled_from(sorted(units.KINDS))


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry(autoconvert_offset_to_baseunit=False)


def test_every_unit_has_its_witness() -> None:
    assert {unit for _, unit in ALL} == set(PINT)
    assert len(ALL) == 39


@pytest.mark.parametrize(("kind", "unit"), ALL, ids=lambda each: each)
def test_every_unit_agrees_with_pint(kind: str, unit: str, registry: pint.UnitRegistry) -> None:
    change = "delta_" if kind == "temperature change" else ""
    inside = "dimensionless" if kind == "percent" else change + PINT[units.INSIDE[kind]]
    for number in (-40, 0, 1, 7.25, 1234.5):
        worked = registry.Quantity(number, change + PINT[unit]).to(inside).magnitude
        assert units.parse(kind, f"{number} {unit}") == pytest.approx(worked, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    ("constant", "of", "to"),
    [
        (units.FT_PER_M, "meter", "foot"),
        (units.KT_PER_MPH, "mile/hour", "knot"),
        (units.KT_PER_KMH, "kilometer/hour", "knot"),
        (units.LB_PER_KG, "kilogram", "pound"),
        (units.HPA_PER_INHG, "inch_Hg", "hectopascal"),
        (units.KPA_PER_PSI, "psi", "kilopascal"),
        (units.NM_PER_KM, "kilometer", "nautical_mile"),
        (units.NM_PER_SM, "mile", "nautical_mile"),
        (units.L_PER_GAL, "gallon", "liter"),
        (units.FT_PER_NM, "nautical_mile", "foot"),
        (units.KT_TO_FT_PER_S, "knot", "foot/second"),
        (units.G_FT_PER_S2, "standard_gravity", "foot/second**2"),
    ],
    ids=lambda each: each if isinstance(each, str) else "",
)
def test_every_constant_agrees_with_pint(constant: float, of: str, to: str, registry: pint.UnitRegistry) -> None:
    assert constant == pytest.approx(registry.Quantity(1, of).to(to).magnitude, rel=1e-9)


@pytest.mark.parametrize(
    ("kind", "text", "value", "tolerance"),
    [
        ("length", "1 m", 3.280840, 5e-7),  # NIST SP 811 (2008), B.8: 'foot 3.048 E-01' m, its inverse by hand
        (
            "weight",
            "1 kg",
            2.204623,
            5e-7,
        ),  # the same, 'pound 4.535 924 E-01' kg, its inverse by hand
        ("pressure", "1 inHg", 33.86389, 5e-6),  # the same, 'inch of mercury, conventional 3.386 389 E+03' Pa
        ("pressure", "29.92 inHg", 1013.21, 5e-3),  # by hand: 29.92 x 33.86389
        ("tire pressure", "200 kPa", 29.0075, 5e-5),  # NIST SP 811, B.8: 'psi 6.894 757 E+03' Pa; by hand
        ("speed", "1 mph", 0.868976, 5e-7),  # by hand: 1609.344/1852
        ("temperature", "-40 degF", -40.0, 1e-9),  # where both scales meet
        ("temperature", "212 degF", 100.0, 1e-9),  # by hand: (212 - 32) x 5/9
        ("temperature change", "9 degF", 5.0, 1e-9),  # by hand: no offset in a change
        ("distance", "1 SM", 0.868976, 5e-7),  # by hand: 1609.344/1852
        ("volume", "1 L", 0.264172, 5e-7),  # NIST SP 811, B.8: 'gallon 3.785 412' L, its inverse by hand
        ("duration", "1.5 h", 5400.0, 1e-9),  # by hand
        ("percent", "-10 %", -0.1, 1e-12),  # by hand
    ],
)
def test_known_conversions(kind: str, text: str, value: float, tolerance: float) -> None:
    assert units.parse(kind, text) == pytest.approx(value, abs=tolerance, rel=0)


@CALM
@given(KINDS.flatmap(lambda kind: st.tuples(st.just(kind), st.sampled_from(sorted(units.KINDS[kind])))), st.data())
def test_a_quantity_read_and_turned_back_is_what_was_written(which: tuple[str, str], data: st.DataObject) -> None:
    kind, unit = which
    thousandths = data.draw(st.integers(-10_000_000, 10_000_000))
    number = f"{thousandths / 1000:.3f}"
    scale, offset = units.KINDS[kind][unit]
    read = units.parse(kind, f"{number} {unit}")
    assert (read - offset) / scale == pytest.approx(float(number), rel=1e-12, abs=1e-9)
    assert units.parse(kind, f"{number}{unit}") == read
    grouped = f"{thousandths / 1000:,.3f} {unit}"
    assert units.parse(kind, grouped) == read
    assert re.search(units.pattern(kind), grouped)


@CALM
@given(KINDS, st.data())
def test_what_the_form_of_a_schema_takes_is_read_and_nothing_else(kind: str, data: st.DataObject) -> None:
    some = st.from_regex(units.pattern(kind).replace("$", r"\Z"))
    text = data.draw(some | st.text("0123456789,.+- ftmkgdeCFhPainHs%", max_size=12))
    if re.search(units.pattern(kind).replace("$", r"\Z"), text):
        assert math.isfinite(units.parse(kind, text)) or len(text) > 300
    else:
        with pytest.raises(ValueError, match=re.escape(kind)):
            units.parse(kind, text)


@pytest.mark.parametrize(
    "text",
    ["950", "950 yd", "ft", "9 50 ft", "1,15 ft", "1,1500 ft", "950  ft", " 950 ft", "950 ft ", "950 FT", "1e3 ft",
     "950 ft\n", "--5 ft", ".5 ft", "5. ft", "٣ ft", "inf ft", "nan ft", "0x1F ft", "950\u00a0ft", ""],
)  # fmt: skip
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="length with a unit of ft, m"):
        units.parse("length", text)


STEPS = st.sampled_from([0.1, 1, 5, 10, 50])
VALUES = st.floats(-1e5, 1e5)


@CALM
@given(VALUES, STEPS)
def test_rounding_up_never_gives_less_and_never_a_whole_step_more(value: float, step: float) -> None:
    rounded = units.up(value, step)
    assert rounded >= value - 2e-6 * step  # the millionth of a step that counts as on it
    assert rounded - value < step * (1 + 1e-6)
    assert rounded / step == pytest.approx(round(rounded / step), abs=1e-6)


@CALM
@given(VALUES, STEPS)
def test_rounding_down_is_rounding_up_of_the_negative(value: float, step: float) -> None:
    assert units.down(value, step) == -units.up(-value, step)
    assert units.down(value, step) <= units.up(value, step)


@CALM
@given(st.integers(-20_000, 20_000), STEPS, st.floats(-0.9e-6, 0.9e-6))
def test_what_is_on_a_step_within_a_millionth_stays_there(count: int, step: float, off: float) -> None:
    value = (count + off) * step
    assert units.up(value, step) == pytest.approx(count * step, rel=1e-12, abs=1e-12)
    assert units.down(value, step) == pytest.approx(count * step, rel=1e-12, abs=1e-12)


@CALM
@given(VALUES, VALUES, STEPS)
def test_rounding_keeps_the_order(one: float, other: float, step: float) -> None:
    less, more = sorted((one, other))
    assert units.up(less, step) <= units.up(more, step)
    assert units.down(less, step) <= units.down(more, step)


@pytest.mark.parametrize(
    ("value", "step", "up", "down"),
    [(850.5, 5, 855, 850), (850, 5, 850, 850), (-12, 5, -10, -15), (0, 5, 0, 0), (7.21, 0.1, 7.3, 7.2)],  # by hand
)
def test_rounding_by_hand(value: float, step: float, up: float, down: float) -> None:
    assert units.up(value, step) == pytest.approx(up)
    assert units.down(value, step) == pytest.approx(down)

"""Pressure altitude, density altitude and the standard atmosphere agree with printed tables and with two libraries.

Sources: PHAK FAA-H-8083-25C ch. 11, Fig. 11-2 and 11-3 (read); exact columns computed from the closed form of the
ICAO standard atmosphere (Doc 7488) and cross-checked with the libraries `ambiance` and `fluids`, which are used
here again as independent oracles. Air is dry but for DA-7, whose formula is that of the National Weather Service.
"""

from __future__ import annotations

import numpy as np
import pytest
from ambiance import Atmosphere
from fluids.atmosphere import ATMOSPHERE_1976

from briefgen.calc.atmosphere import (
    density_altitude,
    density_ratio,
    humid_density_altitude,
    pressure,
    pressure_altitude,
    relative_humidity,
    standard_temperature,
    true_airspeed,
    vapor_pressure,
    virtual_temperature,
)
from briefgen.units import FT_PER_M, HPA_PER_INHG, parse

THOUSANDS = range(0, 10_001, 1000)


def correction_ft(setting: str) -> float:
    """Return what an altimeter setting adds to the elevation."""
    return pressure_altitude(0.0, parse("pressure", setting))


# ATM-1: PHAK-25C Fig. 11-2, read. 0.01 inHg: some printed cells are truncated.
FIG_11_2_INHG = (29.92, 28.86, 27.82, 26.82, 25.84, 24.89, 23.98, 23.09, 22.22, 21.38, 20.57)
# ATM-2: the same figure, read. 0.1 degC: print rounding.
FIG_11_2_DEGC = (15.0, 13.0, 11.0, 9.1, 7.1, 5.1, 3.1, 1.1, -0.9, -2.8, -4.8)
# ATM-3, ATM-4: computed, closed-form ISA and two libraries.
EXACT_HPA = (
    1013.25, 977.166, 942.129, 908.117, 875.105, 843.073, 811.996, 781.854, 752.624, 724.285, 696.816,
)  # fmt: skip
EXACT_SIGMA = (
    1.00000, 0.97106, 0.94277, 0.91512, 0.88809, 0.86167, 0.83586, 0.81065, 0.78602, 0.76196, 0.73848,
)  # fmt: skip


@pytest.mark.parametrize(("height_ft", "inHg"), list(zip(THOUSANDS, FIG_11_2_INHG, strict=True)))
def test_ATM_1_standard_pressure_is_that_of_fig_11_2(height_ft: int, inHg: float) -> None:
    assert pressure(height_ft) / HPA_PER_INHG == pytest.approx(inHg, abs=0.01)


@pytest.mark.parametrize(("height_ft", "degC"), list(zip(THOUSANDS, FIG_11_2_DEGC, strict=True)))
def test_ATM_2_standard_temperature_is_that_of_fig_11_2(height_ft: int, degC: float) -> None:
    assert standard_temperature(height_ft) == pytest.approx(degC, abs=0.1)


@pytest.mark.parametrize(("height_ft", "hPa"), list(zip(THOUSANDS, EXACT_HPA, strict=True)))
def test_ATM_3_standard_pressure_is_exact_to_a_hundredth_of_a_hectopascal(height_ft: int, hPa: float) -> None:
    assert pressure(height_ft) == pytest.approx(hPa, abs=0.01)


@pytest.mark.parametrize(("height_ft", "sigma"), list(zip(THOUSANDS, EXACT_SIGMA, strict=True)))
def test_ATM_4_the_density_ratio_at_standard_temperature_is_exact(height_ft: int, sigma: float) -> None:
    assert density_ratio(height_ft, standard_temperature(height_ft)) == pytest.approx(sigma, abs=1e-5)


def test_ATM_5_two_degrees_and_about_one_inch_go_with_each_thousand_feet() -> None:
    # PHAK-25C, Atmospheric Pressure section, read: a rule, so 'about' is taken as 0.02 degC and a tenth of an inch.
    assert standard_temperature(0) - standard_temperature(1000) == pytest.approx(2.0, abs=0.02)
    assert (pressure(0) - pressure(1000)) / HPA_PER_INHG == pytest.approx(1.0, abs=0.1)


# PA-1, PA-2, PA-3: PHAK-25C Fig. 11-3 and 11-22, read. PA-4: closed-form ISA, computed. 1.5 ft: the table
# truncates, and has its zero at 29.92 inHg where the exact one is at 29.9213.
FIG_11_3 = {
    28.0: 1824, 28.1: 1727, 28.2: 1630, 28.3: 1533, 28.4: 1436, 28.5: 1340, 28.6: 1244, 28.7: 1148, 28.8: 1053,
    29.7: 205,
    30.0: -73, 30.1: -165, 30.2: -257, 30.3: -348, 30.4: -440, 30.5: -531, 30.6: -622, 30.7: -712, 30.8: -803,
    30.9: -893, 31.0: -983,
}  # fmt: skip
COMPUTED_PA_4 = {
    28.9: 958, 29.0: 863, 29.1: 768, 29.2: 674, 29.3: 579, 29.4: 485, 29.5: 392, 29.6: 298, 29.8: 112, 29.9: 20,
}  # fmt: skip
# PA-5: closed-form ISA, computed; 2 ft.
COMPUTED_PA_5 = {980: 920, 990: 641, 1000: 364, 1008: 144, 1013.25: 0, 1020: -184, 1030: -454, 1040: -723}


@pytest.mark.parametrize(("inHg", "feet"), [*FIG_11_3.items(), *COMPUTED_PA_4.items()])
def test_PA_1_to_4_the_pressure_altitude_correction_is_the_printed_one(inHg: float, feet: int) -> None:
    assert correction_ft(f"{inHg:.1f} inHg") == pytest.approx(feet, abs=1.5)


@pytest.mark.parametrize(("hPa", "feet"), list(COMPUTED_PA_5.items()))
def test_PA_5_the_correction_is_the_same_for_settings_in_hectopascals(hPa: float, feet: int) -> None:
    assert correction_ft(f"{hPa:.2f} hPa") == pytest.approx(feet, abs=2)


# PA-6: the rule of 1,000 ft per inch, and by how much it is off, computed from PA-1 to PA-4.
@pytest.mark.parametrize(
    ("inHg", "rule_ft", "off_ft"), [(28.0, 1920, 95), (29.0, 920, 57), (30.5, -580, -49), (31.0, -1080, -97)]
)
def test_PA_6_the_rule_of_a_thousand_feet_per_inch_is_not_used(inHg: float, rule_ft: int, off_ft: int) -> None:
    assert rule_ft == round((29.92 - inHg) * 1000)
    assert rule_ft - correction_ft(f"{inHg:.1f} inHg") == pytest.approx(off_ft, abs=2)


@pytest.mark.parametrize("elevation_ft", [0.0, 640.0, 5000.0])
def test_the_correction_does_not_depend_on_the_elevation(elevation_ft: float) -> None:
    # By definition of an altimeter setting: PHAK-25C Fig. 11-3, which has no column for elevation (read).
    found = pressure_altitude(elevation_ft, parse("pressure", "29.7 inHg")) - elevation_ft
    assert found == pytest.approx(205, abs=1.5)


def test_DA_2_twenty_degrees_above_standard_at_5000_ft_is_above_7000_ft() -> None:
    # PHAK-25C, Density Altitude section, read: 'above 7,000 ft'; exact 7,272 ft, computed.
    found = density_altitude(5000, standard_temperature(5000) + 20)
    assert found > 7000
    assert found == pytest.approx(7272, abs=2)


def test_DA_4_the_rule_of_thumb_is_not_what_is_worked() -> None:
    # Weather-training question, second-hand. Rule: 12 degC standard, 13 degC x 120 ft = 1,560 ft, above 1,500 ft.
    assert standard_temperature(1500) == pytest.approx(12, abs=0.05)
    rule_ft = 1500 + 13 * 120
    assert rule_ft == 3060
    # The exact grid of DA-6 (computed) at 1,000 and 2,000 ft, 20 and 30 degC: (1816+2943+3043+4161)/4 = 2,991.
    found = density_altitude(1500, 25)
    assert found == pytest.approx(2991, abs=10)
    assert rule_ft - found > 50


# DA-6: exact (closed-form ISA, computed, checked against two libraries), NWS formula (computed), 120 ft per degC.
COLUMNS_DEGC = (0, 15, 20, 30, 40)
DA_6 = {
    0: ("-1838/-1819/-1800", "0/18/0", "587/604/600", "1724/1741/1800", "2816/2832/3000"),
    1000: ("-589/-570/-560", "1234/1251/1240", "1816/1833/1840", "2943/2960/3040", "4026/4042/4240"),
    2000: ("659/676/680", "2466/2483/2480", "3043/3059/3080", "4161/4176/4280", "5234/5249/5480"),
    3000: ("1904/1921/1920", "3696/3712/3720", "4268/4284/4320", "5376/5391/5520", "6440/6455/6720"),
    4000: ("3148/3164/3160", "4924/4939/4960", "5491/5506/5560", "6589/6604/6760", "7644/7658/7960"),
    5000: ("4389/4405/4400", "6150/6165/6200", "6712/6726/6800", "7801/7815/8000", "8846/8860/9200"),
    6000: ("5628/5643/5640", "7374/7388/7440", "7930/7944/8040", "9010/9023/9240", "10047/10059/10440"),
    8000: ("8101/8114/8120", "9815/9828/9920", "10362/10375/10520", "11423/11435/11720", "12441/12452/12920"),
}
DA_6_CELLS = [
    (height_ft, degC, *map(int, cell.split("/")))
    for height_ft, row in DA_6.items()
    for degC, cell in zip(COLUMNS_DEGC, row, strict=True)
]


@pytest.mark.parametrize(("height_ft", "degC", "exact", "nws", "rule"), DA_6_CELLS)
def test_DA_6_density_altitude_is_exact_within_two_feet(
    height_ft: int, degC: int, exact: int, nws: int, rule: int
) -> None:
    found = density_altitude(height_ft, degC)
    assert found == pytest.approx(exact, abs=2)
    # DA-5: the NWS formula in dry air sits 11 to 20 ft above the exact value (computed); a foot for print rounding.
    assert 10 <= nws - found <= 21
    # The rule of thumb is never low where the air is warmer than standard, by at most about 480 ft (computed).
    if degC > standard_temperature(height_ft):
        assert -1 <= rule - found <= 485


# DA-7: computed with the NWS formula (DA-5, read): dry, then by dew point [degC].
DA_7 = [
    (0, 1741, {0: 1818, 10: 1896, 20: 2036, 25: 2141, 30: 2277}),
    (5000, 7815, {0: 7903, 10: 7993, 20: 8154, 25: 8275}),
]
DA_7_CELLS = [(height, dry, dew_point, humid) for height, dry, row in DA_7 for dew_point, humid in row.items()]


def nws_density_altitude(height_ft: float, degC: float, dew_point_degC: float) -> float:
    """Return the density altitude [ft] by the formula of DA-5, written out here once more."""
    e = 6.11 * 10 ** (7.5 * dew_point_degC / (237.7 + dew_point_degC))
    hPa = 1013.25 * (1 - 6.8756e-6 * height_ft) ** 5.2559
    virtual = (degC + 273.15) / (1 - e / hPa * (1 - 0.622))
    return float(145366 * (1 - (17.326 * hPa / HPA_PER_INHG / (virtual * 9 / 5)) ** 0.235))


@pytest.mark.parametrize(("height_ft", "dry_ft", "dew_point", "humid_ft"), DA_7_CELLS)
def test_DA_7_humidity_raises_the_density_altitude_as_the_nws_formula_says(
    height_ft: int, dry_ft: int, dew_point: int, humid_ft: int
) -> None:
    """Two feet on what humidity adds; the NWS form itself sits 11 to 20 ft above the exact one (DA-6, computed)."""
    assert nws_density_altitude(height_ft, 30, dew_point) == pytest.approx(humid_ft, abs=2)
    found = humid_density_altitude(height_ft, 30, dew_point)
    assert found - density_altitude(height_ft, 30) == pytest.approx(humid_ft - dry_ft, abs=2)
    assert 10 <= humid_ft - found <= 21


def test_DA_7_saturated_hot_air_costs_about_540_ft() -> None:
    # DA-7, computed: the worst case of the grid, 2,277 - 1,741 ft.
    assert humid_density_altitude(0, 30, 30) - density_altitude(0, 30) == pytest.approx(540, abs=5)


@pytest.mark.parametrize(("degC", "hPa"), [(0, 6.11), (10, 12.27), (20, 23.37), (30, 42.43)])
def test_the_vapor_pressure_is_that_of_saturated_air(degC: float, hPa: float) -> None:
    # Smithsonian tables over water, from memory: 6.108, 12.27, 23.37, 42.43 hPa; three parts in a thousand:
    # the formula is a fit, lowest where it is hottest.
    assert vapor_pressure(degC) == pytest.approx(hPa, rel=3e-3)


@pytest.mark.parametrize(
    ("degC", "dew_point", "percent"), [(30, 30, 100), (30, 20, 55), (20, 10, 52.5), (35, 0, 10.9)]
)
def test_relative_humidity_is_the_share_of_the_saturated_vapor(
    degC: float, dew_point: float, percent: float
) -> None:
    # By hand from the Smithsonian figures (from memory): 23.37/42.43, 12.27/23.37, 6.108/56.24; half a per cent.
    assert 100 * relative_humidity(degC, dew_point) == pytest.approx(percent, abs=0.5)


def test_very_dry_air_is_as_dense_as_dry_air() -> None:
    assert virtual_temperature(0, 15, -60) == pytest.approx(15, abs=0.02)


def test_the_standard_atmosphere_agrees_with_two_libraries_over_its_whole_range() -> None:
    """Tolerance: relative 2e-5 for pressure, 3e-5 for density, 0.001 K.

    Both libraries take a height above the geoid; ours is a geopotential one, as pressure altitude is. The libraries
    turn one into the other with a slightly different radius of the earth, and round the gas constant differently.
    """
    heights_ft = np.linspace(-3000.0, 36_000.0, 79)
    ours = [(pressure(h), density_ratio(h, standard_temperature(h)), standard_temperature(h)) for h in heights_ft]
    first = Atmosphere(Atmosphere.geop2geom_height(heights_ft / FT_PER_M))
    sea_level = Atmosphere(0.0)
    for i, (hPa, sigma, degC) in enumerate(ours):
        geopotential_m = heights_ft[i] / FT_PER_M
        second = ATMOSPHERE_1976(6_356_766.0 * geopotential_m / (6_356_766.0 - geopotential_m))
        assert hPa == pytest.approx(first.pressure[i] / 100, rel=2e-5)
        assert hPa == pytest.approx(second.P / 100, rel=2e-5)
        assert sigma == pytest.approx(first.density[i] / sea_level.density[0], rel=3e-5)
        assert sigma == pytest.approx(second.rho / ATMOSPHERE_1976(0.0).rho, rel=3e-5)
        assert degC == pytest.approx(first.temperature_in_celsius[i], abs=0.001)
        assert degC == pytest.approx(second.T - 273.15, abs=0.001)


def test_density_altitude_is_the_height_at_which_a_library_finds_this_density() -> None:
    # ambiance finds a height from a density; 2 ft, as for DA-6.
    sea_level = Atmosphere(0.0).density[0]
    for height_ft in (0.0, 2500.0, 6000.0):
        for degC in (-20.0, 10.0, 35.0):
            there = Atmosphere.from_density(density_ratio(height_ft, degC) * sea_level)
            assert density_altitude(height_ft, degC) == pytest.approx(there.H[0] * FT_PER_M, abs=2)


@pytest.mark.parametrize(("height_ft", "sigma"), list(zip(THOUSANDS, EXACT_SIGMA, strict=True)))
def test_true_airspeed_goes_with_the_root_of_the_density_ratio(height_ft: int, sigma: float) -> None:
    # From ATM-4 (computed): the kinetic energy per pound at one indicated speed is 1/sigma times that at sea level.
    fast_kt = true_airspeed(60.0, density_ratio(height_ft, standard_temperature(height_ft)))
    assert (fast_kt / 60.0) ** 2 == pytest.approx(1 / sigma, rel=2e-5)

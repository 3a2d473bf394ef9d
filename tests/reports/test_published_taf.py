"""TAFs as published, row by row of the check values: MT-02, and GR-20 to GR-24.

Sources: AIM = Aeronautical Information Manual 7-1, key to TAF and METAR (read); WMO = WMO-No. 306 vol I.1 part A,
1995 edition, supplement 3, FM 51 (read). The worst of a window is a design choice, not a published rule.
"""

from __future__ import annotations

import pytest
from reading import MT_02, NEAR, forecast, group, on, tokens

from briefgen.errors import Refusal
from briefgen.reports import model
from briefgen.reports.model import Ceiling, Cloud, ReportedWind, Shear, Visibility, not_decoded
from briefgen.reports.outlook import expected
from briefgen.reports.taf import read_taf


def test_MT_02_the_key_to_taf_AIM_read() -> None:
    said = read_taf(MT_02, NEAR)
    assert (said.station, said.made) == ("XPIT", on(9, 17, 30))
    assert (said.valid_from, said.valid_to) == (on(9, 18), on(11, 0))
    assert [(period.status, period.from_, period.to) for period in said.periods] == [
        (model.PREVAILING, on(9, 18), on(11, 0)),
        (model.PREVAILING, on(9, 19, 30), on(11, 0)),
        (model.TEMPORARY, on(9, 20), on(9, 22)),
        (model.PREVAILING, on(10, 1), on(11, 0)),
        (model.PROBABLE[30], on(10, 4), on(10, 7)),
        (model.PREVAILING, on(10, 10, 15), on(11, 0)),
        (model.BECOMING, on(10, 13), on(10, 15)),
    ]
    shear = group(said, "WS010/31022KT").value
    assert isinstance(shear, Shear)
    assert shear.height_ft == 1000
    assert shear.wind
    assert (shear.wind.from_deg, shear.wind.steady_kt) == (310, 22)
    assert group(said, "P6SM").value == Visibility(6, more_than=True, text="P6SM")
    assert group(said, "NSW").words == "no significant weather"
    assert not not_decoded(said.groups)
    assert tokens(said) == MT_02.split()


def test_MT_02_what_each_period_says_AIM_read() -> None:
    winds, miles, clouds = [], [], []
    for period in read_taf(MT_02, NEAR).periods:
        values = [each.value for each in period.groups]
        blows = [each.wind for each in values if isinstance(each, ReportedWind)]
        winds.append([(each.from_deg, each.steady_kt, each.gust_kt) for each in blows])
        miles.append([each.distance_SM for each in values if isinstance(each, Visibility)])
        clouds.append([(each.amount, each.base_ft, each.type) for each in values if isinstance(each, Cloud)])
    assert winds == [[(150, 5, 5)], [(300, 15, 25)], [], [(270, 8, 8)], [], [(180, 5, 5)], []]
    assert miles == [[5], [3], [0.5], [5], [1], [6], [6]]
    assert clouds[:3] == [[("few", 2000, "")], [("overcast", 1500, "")], [("overcast", 800, "cumulonimbus")]]
    assert clouds[3:5] == [[("broken", 2000, ""), ("overcast", 4000, "")], []]
    assert [each[:2] for period in clouds[5:] for each in period] == [("overcast", 2000), ("none", None)]


def test_MT_02_the_worst_from_20_to_22Z_is_the_thunderstorm_AIM_read() -> None:
    found = expected(read_taf(MT_02, NEAR), on(9, 20), on(9, 22))
    assert found.visibility
    assert (found.visibility.value.distance_SM, found.visibility.status) == (0.5, model.TEMPORARY)
    assert found.ceiling
    assert (found.ceiling.value, found.ceiling.text) == (Ceiling(800, "OVC008CB"), "OVC008CB")
    assert [each.text for each in found.weather] == ["+TSRA", "SHRA"]
    assert found.wind
    assert isinstance(found.wind.value, ReportedWind)
    assert (found.wind.value.wind.gust_kt, found.wind.where) == (25, "from 19:30Z on the 9th")
    assert "cumulonimbus" in {each.value.type for each in found.clouds}
    assert not found.missing
    assert not found.doubts


def test_GR_20_from_a_time_on_all_earlier_conditions_are_superseded_WMO_51_8_2_read() -> None:
    said = forecast("15005KT 1SM OVC005 FM092000 30015KT P6SM SKC")
    after = expected(said, on(9, 20), on(9, 23))
    assert [each.text for each in after.visibilities] == ["P6SM"]
    before = expected(said, on(9, 18), on(9, 19, 59))
    assert [each.text for each in before.visibilities] == ["1SM"]


def test_GR_20_the_older_form_without_a_day_WMO_51_8_2_read() -> None:
    said = read_taf("TAF XAAA 091730Z 0918/1012 15005KT 5SM SKC FM0130 30015KT 5SM SKC", NEAR)
    assert said.periods[1].from_ == on(10, 1, 30)


def test_GR_21_a_change_is_complete_at_the_end_of_its_window_WMO_51_8_3_read() -> None:
    said = forecast("15005KT 1SM OVC005 BECMG 0920/0922 30015KT P6SM SKC")
    assert [each.text for each in expected(said, on(9, 19), on(9, 19, 59)).visibilities] == ["1SM"]
    assert [each.text for each in expected(said, on(9, 21), on(9, 21)).visibilities] == ["1SM", "P6SM"]
    after = expected(said, on(9, 22), on(9, 23))
    assert [(each.text, each.status) for each in after.visibilities] == [("P6SM", model.PREVAILING)]


def test_GR_21_what_a_change_does_not_name_goes_on_WMO_51_8_3_read() -> None:
    found = expected(forecast("15005KT 1SM BR OVC005 BECMG 0920/0922 P6SM"), on(10, 1), on(10, 2))
    assert [each.text for each in found.winds] == ["15005KT"]
    assert [each.text for each in found.ceilings] == ["OVC005"]
    assert [each.text for each in found.weather] == ["BR"]
    assert [each.text for each in found.visibilities] == ["P6SM"]


def test_GR_22_temporary_weather_stands_beside_what_prevails_WMO_51_8_4_read() -> None:
    found = expected(forecast("15005KT P6SM SKC TEMPO 0920/0922 1SM BR"), on(9, 20), on(9, 20))
    assert [(each.text, each.status) for each in found.visibilities] == [
        ("1SM", model.TEMPORARY),
        ("P6SM", model.PREVAILING),
    ]


@pytest.mark.parametrize(
    ("heading", "status"),
    [
        ("PROB30 0920/0922", "probability 30\u00a0%"),
        ("PROB40 0920/0922", "probability 40\u00a0%"),
        ("PROB40 TEMPO 0920/0922", "probability 40\u00a0%, temporary"),
    ],
)
def test_GR_23_probabilities_of_30_and_40_alone_or_before_TEMPO_WMO_51_9_read(heading: str, status: str) -> None:
    said = forecast(f"15005KT P6SM SKC {heading} 1SM")
    assert (said.periods[1].code, said.periods[1].status) == (heading, status)
    worst = expected(said, on(9, 21), on(9, 21)).visibility
    assert worst
    assert (worst.text, worst.status) == ("1SM", status)


@pytest.mark.parametrize("heading", ["PROB20 0920/0922", "PROB30 BECMG 0920/0922", "PROB30 FM092000"])
def test_GR_23_no_other_probability_and_none_with_BECMG_or_FM_WMO_51_9_read(heading: str) -> None:
    said = forecast(f"15005KT P6SM SKC {heading} 1SM")
    assert heading.split()[0] in not_decoded(said.groups)
    worst = expected(said, on(9, 21), on(9, 21)).visibility
    assert worst
    assert worst.text == "1SM"


def test_GR_24_a_validity_of_six_digits_is_refused_with_its_reason_read() -> None:
    with pytest.raises(Refusal, match=r"091818 has the six digits of before November 2008; .* as 0918/1018"):
        read_taf("TAF XAAA 091730Z 091818 15005KT 5SM HZ FEW020", NEAR)

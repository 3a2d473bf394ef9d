"""What tests of reports share: a moment near which they were sent, and short ways to one group.

The stations of published reports are replaced by letters that no place has (X begins none); nothing else is
changed.
"""

from __future__ import annotations

from datetime import UTC, datetime

from briefgen.reports.metar import read_metar
from briefgen.reports.model import Forecast, Group, Report
from briefgen.reports.scan import shown
from briefgen.reports.taf import read_taf

NEAR = datetime(2026, 5, 9, 20, tzinfo=UTC)

MT_01 = "METAR XPIT 091955Z COR 22015G25KT 3/4SM R28L/2600FT TSRA OVC010CB 18/16 A2992 RMK SLP045 T01820159"  # AIM
MT_02 = (
    "TAF XPIT 091730Z 0918/1024 15005KT 5SM HZ FEW020 WS010/31022KT FM091930 30015G25KT 3SM SHRA OVC015 "
    "TEMPO 0920/0922 1/2SM +TSRA OVC008CB FM100100 27008KT 5SM SHRA BKN020 OVC040 PROB30 1004/1007 1SM -RA BR "
    "FM101015 18005KT 6SM -SHRA OVC020 BECMG 1013/1015 P6SM NSW SKC"
)
MT_04 = "METAR XGGG 161753Z AUTO 14021G26KT 3/4SM +TSRA BR BKN008 OVC012CB 18/17 A2970 RMK PRESFR"
MT_05 = "XVVA 171100Z 00000KT 9999 FEW016 BKN250 21/19 Q1013 NOSIG"
MT_06 = (
    "XBIL 162256Z 29017G27KT 10SM FEW070 SCT085 BKN110 M02/M02 A2961 RMK AO2 PK WND 29027/2250 WSHFT 2241 SLP205 "
    "70033 T10171022 11006 21017 53016"
)


def on(day: int, hour: int, minute: int = 0, month: int = 5, year: int = 2026) -> datetime:
    """Return a moment of May 2026, where nothing else is said."""
    return datetime(year, month, day, hour, minute, tzinfo=UTC)


def report(body: str, remarks: str = "") -> Report:
    """Return the report of a body."""
    return read_metar(f"METAR XAAA 091955Z {body}{' RMK ' + remarks if remarks else ''}", NEAR)


def forecast(body: str) -> Forecast:
    """Return the forecast of a body, valid from 18Z on the 9th to 24Z on the 10th."""
    return read_taf(f"TAF XAAA 091730Z 0918/1024 {body}", NEAR)


def group(said: Report | Forecast, text: str) -> Group:
    """Return the group of a text; there must be exactly one."""
    found = [each for each in said.groups if each.text == text]
    assert len(found) == 1, f"{len(found)} groups {shown(text)}"
    return found[0]


def words(body: str, remarks: str = "") -> str:
    """Return the words of the one group of a body, or of remarks; no-break spaces as plain ones."""
    text = remarks or body
    return group(report(body, remarks), text).words.replace("\u00a0", " ")


def tokens(said: Report | Forecast) -> list[str]:
    """Return all tokens that a report accounts for, in order."""
    return [token for each in said.groups for token in each.tokens]

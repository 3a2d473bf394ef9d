"""However a text is spoiled: a report or a reason, never a traceback, and no token lost or made up.

Five hundred spoiled METARs, five hundred TAFs: rows MT-01 to MT-06 of the check values, and reports made up.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made import PUBLISHED_METARS, PUBLISHED_TAFS, metars, spoiled, tafs
from reading import MT_01, MT_02, NEAR, tokens

from briefgen.errors import Refusal
from briefgen.reports import model
from briefgen.reports.aloft import read_aloft
from briefgen.reports.field import at_field, kept
from briefgen.reports.metar import read_metar
from briefgen.reports.model import Expected, Forecast, Group, Report
from briefgen.reports.outlook import at_departure, expected
from briefgen.reports.scan import LONGEST
from briefgen.reports.taf import read_taf

STRANGE = st.characters(exclude_categories=["Cs"])
ANY = st.text(STRANGE, max_size=300)


def check(text: str, said: Report | Forecast) -> None:
    assert tokens(said) == text.split()  # the same tokens, in the same order
    for group in said.groups:
        check_group(group)


def check_group(group: Group) -> None:
    if group.kind == model.NOT_DECODED:
        assert len(group.tokens) == 1
        assert not group.words
        assert group.value is None
    else:
        assert group.words
        assert all(token.isascii() for token in group.tokens)


def metar_or_reason(text: str) -> Report | None:
    try:
        said = read_metar(text, NEAR)
    except Refusal as refusal:
        reason = refusal
    else:
        check(text, said)
        return said
    assert reason.reason
    assert reason.about == "METAR"
    return None


def taf_or_reason(text: str) -> Forecast | None:
    try:
        said = read_taf(text, NEAR)
    except Refusal as refusal:
        reason = refusal
    else:
        check(text, said)
        return said
    assert reason.reason
    assert reason.about == "TAF"
    return None


@settings(max_examples=500, deadline=None)
@given(spoiled(st.one_of(PUBLISHED_METARS, metars())))
def test_no_spoiled_report_loses_a_token(text: str) -> None:
    said = metar_or_reason(text)
    if said and said.made <= NEAR:
        window = said.made, said.made + timedelta(hours=1)
        at_departure(said, None, *window, 60)
        kept(at_field(said, None, *window))


@settings(max_examples=500, deadline=None)
@given(spoiled(st.one_of(PUBLISHED_TAFS, tafs())), st.integers(-60, 40 * 60))
def test_no_spoiled_forecast_loses_a_token(text: str, minutes: int) -> None:
    if said := taf_or_reason(text):
        from_ = said.valid_from + timedelta(minutes=minutes)
        found = expected(said, from_, from_ + timedelta(hours=1))
        kept(at_field(None, said, from_, from_ + timedelta(hours=1)))
        beyond = from_ < said.valid_from or from_ + timedelta(hours=1) > said.valid_to
        assert beyond == any(each.quantity == "all" for each in found.missing)


@settings(max_examples=100, deadline=None)
@given(ANY)
def test_any_text_at_all_is_read_or_has_a_reason(text: str) -> None:
    metar_or_reason(text)
    taf_or_reason(text)
    metar_or_reason(f"METAR XAAA 091955Z {text}")
    taf_or_reason(f"TAF XAAA 091730Z 0918/1024 {text}")


HEADING = 4  # tokens: TAF, station, day and time, validity


def worst(found: Expected) -> tuple[float, float, float]:
    """Return gust, visibility and ceiling, so that a smaller number is worse."""
    assert found.wind
    assert found.visibility
    assert found.ceiling
    height_ft = found.ceiling.value.height_ft
    return (
        -found.wind.value.wind.gust_kt,
        found.visibility.value.distance_SM,
        99_999 if height_ft is None else height_ft,
    )


def check_no_better(text: str) -> None:
    """Check every hour: no quantity is better than in the whole forecast, unless there is a word of doubt."""
    whole, said = read_taf(MT_02, NEAR), taf_or_reason(text)
    assert said
    for hour in range(30):
        at = whole.valid_from + timedelta(hours=hour, minutes=20)
        before, after = expected(whole, at, at), expected(said, at, at)
        if not after.doubts and not after.missing:
            assert all(one <= other for one, other in zip(worst(after), worst(before), strict=True)), at


@pytest.mark.parametrize("index", range(HEADING, len(MT_02.split())))
def test_a_token_that_cannot_be_read_makes_nothing_better_without_a_word(index: int) -> None:
    parts = MT_02.split()
    check_no_better(" ".join([*parts[:index], "?", *parts[index + 1 :]]))


@pytest.mark.parametrize("heading", ["FM091930", "TEMPO 0920/0922", "FM100100", "PROB30 1004/1007", "FM101015"])
def test_the_heading_of_a_change_that_is_lost_makes_nothing_better_without_a_word(heading: str) -> None:
    assert heading in MT_02
    check_no_better(MT_02.replace(f" {heading}", ""))


def test_the_headings_above_are_all_but_one_of_the_forecast() -> None:
    """The last, BECMG, ends in better weather: without its heading it may not count at once."""
    said = read_taf(MT_02.replace(" BECMG 1013/1015", ""), NEAR)
    found = expected(said, said.valid_to - timedelta(hours=2), said.valid_to)
    assert [each.text for each in found.visibilities] == ["6SM", "P6SM"]
    assert found.doubts


@pytest.mark.parametrize("index", range(3, MT_01.split().index("RMK")))
def test_a_token_of_a_report_that_cannot_be_read_makes_nothing_better_without_a_word(index: int) -> None:
    parts = MT_01.split()
    said = metar_or_reason(" ".join([*parts[:index], "?", *parts[index + 1 :]]))
    assert said
    assert "?" in model.not_decoded(said.groups)
    assert any("? was not decoded" in doubt for doubt in at_departure(said, None, NEAR, NEAR, 60).doubts)


TABLE = (
    "DATA BASED ON 010000Z\nVALID 010600Z   FOR USE 0500-0900Z. TEMPS NEG ABV 24000\n\n"
    "FT  3000    6000    9000   12000   18000   24000  30000  34000  39000\n"
    "XRL 2727 2226-06 2322-11 2124-16 2440-27 2350-38 236345 234554 731960\n"
    "XHI      9900+00 2322-11 2124-16 2440-27 2350-38 236345 234554 819960\n"
)


@st.composite
def spoiled_table(draw: st.DrawFn) -> str:
    text = TABLE
    for _ in range(draw(st.integers(1, 5))):
        at = draw(st.integers(0, len(text) - 1))
        length = draw(st.integers(0, 9))
        new = draw(st.text(st.one_of(st.sampled_from("0123456789 +-\n\tXRLF"), STRANGE)))
        text = text[:at] + new + text[at + length :]
    return text


@settings(max_examples=300, deadline=None)
@given(spoiled_table())
def test_no_spoiled_table_of_winds_aloft_loses_a_token(text: str) -> None:
    try:
        said = read_aloft(text, "XRL", NEAR)
    except Refusal:
        return
    assert [token for group in said.groups for token in group.tokens] == text.split()
    for group in said.groups:
        if group.kind == model.NOT_DECODED:
            assert not group.words


@pytest.mark.parametrize("read", [read_metar, read_taf])
def test_a_text_that_is_too_long_is_refused_by_its_length(read: object) -> None:
    text = f"{MT_01 if read is read_metar else MT_02} {'RA ' * LONGEST}"
    with pytest.raises(Refusal, match=r"has [0-9,]+ characters; no (METAR|TAF) has more than 4,000"):
        read(text, NEAR)  # type: ignore[operator]


def test_a_text_just_short_enough_is_read() -> None:
    text = MT_01 + " " + "Z" * (LONGEST - len(MT_01) - 1)
    assert len(text) == LONGEST
    assert tokens(read_metar(text, NEAR)) == text.split()

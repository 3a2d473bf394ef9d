"""The commercial operators' factors, as the European pack compares a private trip with them.

Sources: CAT.POL.A.305 and .330, GM1 CAT.POL.A.430, Reg. (EU) 965/2012 (read); CAP 698 section 3 (second-hand).
The example's takeoff needs 1,590 ft to 50 ft, its headwind giving no whole step of credit.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from briefgen.pipeline import brief_of

NEED_FT = 1590
PACKS = ("policy.yaml", "packs: [base, us-part-91]", "packs: [base, eu-uk]")


def worked(example: Path, tmp_path: Path, *edits: tuple[str, str, str]) -> Any:
    club = Path(shutil.copytree(example.parent, tmp_path / "club", dirs_exist_ok=True))
    for file, old, new in (PACKS, *edits):
        text = (club / file).read_text(encoding="utf-8")
        assert old in text
        (club / file).write_text(text.replace(old, new), encoding="utf-8")
    return brief_of(club / "trip.yaml", "trip.yaml")


def fired(brief: Any) -> set[str]:
    return {each.id for each in (*brief.cautions, *brief.folded)}


def declared(tora: int, toda: int, asda: int) -> tuple[str, str, str]:
    old = "{TORA: 2990 ft, TODA: 2990 ft, ASDA: 2990 ft, LDA: 2840 ft}"
    return "strips/quillmere.yaml", old, f"{{TORA: {tora} ft, TODA: {toda} ft, ASDA: {asda} ft, LDA: 1400 ft}}"


# F-1: 1.25 x 1,590 = 1,987.5 ft within TORA, where neither stopway nor clearway is declared.
@pytest.mark.parametrize(("feet", "over"), [(1985, True), (1990, False)])
def test_F_1_the_takeoff_times_one_and_a_quarter_within_tora(
    example: Path, tmp_path: Path, feet: int, over: bool
) -> None:
    brief = worked(example, tmp_path, declared(feet, feet, feet))
    assert brief.facts["takeoff"]["over_50_ft"] == NEED_FT
    assert ("eu-uk-takeoff-over-eighty-percent" in fired(brief)) == over
    assert "eu-uk-takeoff-declared-distances" not in fired(brief)


# F-2: 1,590 within TORA, 1.15 x 1,590 = 1,828.5 within TODA, 1.3 x 1,590 = 2,067 within ASDA.
@pytest.mark.parametrize(
    ("tora", "toda", "asda", "over"),
    [(1590, 1830, 2070, False), (1585, 1830, 2070, True), (1590, 1825, 2070, True), (1590, 1830, 2065, True)],
)
def test_F_2_with_a_stopway_or_clearway_all_three_distances(
    example: Path, tmp_path: Path, tora: int, toda: int, asda: int, over: bool
) -> None:
    brief = worked(example, tmp_path, declared(tora, toda, asda))
    assert (brief.facts["takeoff"]["clearway"], brief.facts["takeoff"]["stopway"]) == (True, True)
    assert ("eu-uk-takeoff-declared-distances" in fired(brief)) == over
    assert "eu-uk-takeoff-over-eighty-percent" not in fired(brief)


# F-4: 1.15 x 1.43 = 1.64 times the dry landing, on a wet runway.
@pytest.mark.parametrize(("times", "over"), [(1.62, True), (1.67, False)])
def test_F_4_a_wet_landing_within_seventy_percent_with_fifteen_percent_more(
    example: Path, tmp_path: Path, times: float, over: bool
) -> None:
    assert round(1.15 * 1.43, 2) == 1.64
    paved = ("strips/tansy-bottom.yaml", "surface: grass", "surface: paved")
    firm = ("trip.yaml", "surface: dry\n    ground: firm", "surface: dry")
    dry = worked(example, tmp_path, paved, firm)
    need = next(item for item in dry.items if item.id == "landing").need
    assert dry.facts["landing"]["wet_ratio"] is None
    length = ("strips/tansy-bottom.yaml", "length: 1120 ft", f"length: {times * need:.0f} ft")
    wet = ("trip.yaml", "surface: dry\n    ground: firm", "surface: wet")
    brief = worked(example, tmp_path, paved, length, wet)
    # no slope in either: a longer strip between the same two ends is less steep, and uphill gives no credit
    assert ("eu-uk-landing-wet" in fired(brief)) == over


DOWNHILL = (
    "    notes_order: as printed\n\nlanding:",
    "      - {for: downslope, change: -5 %, per: 1 %, up_to: 2 %, to: both, percent_of: itself, of: table figure, "
    "steps: add, page: note 4}\n    notes_order: as printed\n\nlanding:",
)
UPHILL = (
    "      - {for: flaps up,",
    "      - {for: upslope, change: -5 %, per: 1 %, up_to: 2 %, to: both, percent_of: itself, of: table figure, "
    "steps: add, page: note 5}\n      - {for: flaps up,",
)


@pytest.mark.parametrize(
    ("edits", "credited"),
    [
        ([], set()),
        ([("aircraft/n0142.yaml", *DOWNHILL)], {"takeoff"}),
        ([("aircraft/n0142.yaml", *UPHILL)], {"landing"}),
        ([("aircraft/n0142.yaml", *DOWNHILL), ("strips/quillmere.yaml", "703 ft", "720 ft")], set()),
    ],
)
def test_F_10_a_credit_for_slope_is_told(example: Path, tmp_path: Path, edits: Any, credited: set[str]) -> None:
    # CAP 698 section 3, second-hand: no credit for a downhill takeoff or an uphill landing. Quillmere 17 falls by
    # 9 ft, Tansy Bottom 09 rises by 2 ft; the handbook's own credit is counted where it prints one.
    brief = worked(example, tmp_path, *edits)
    assert {leg for leg in ("takeoff", "landing") if brief.facts[leg]["slope_credit"]} == credited
    assert ("eu-uk-no-slope-credit" in fired(brief)) == bool(credited)

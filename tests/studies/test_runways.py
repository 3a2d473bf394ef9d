"""The ranked runways: every end is there, the order is the one that is said, and what is refused says why.

The example's Quillmere has a paved runway 17/35 and a grass one 08/26; its trip takes off on 17. Source of the
order: the line that the study prints (state, then margin), applied by hand to the rows printed beside it.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from conftest import EXAMPLE
from jsonschema import Draft202012Validator

from briefgen.cli import main
from briefgen.files.read_trip import read_trip
from briefgen.item import State
from briefgen.pipeline import check
from briefgen.render.runways import DECIDES, runway_lines, runways_json
from briefgen.resources import folder
from briefgen.studies.runways import NO_ALTERNATE, RankedEnd, RankedField, RunwayStudy, rank_runways

Edit = tuple[str, str, str]
TRIP, HOME, POLICY, AIRCRAFT = "trip.yaml", "strips/quillmere.yaml", "policy.yaml", "aircraft/n0142.yaml"
FIRM: Edit = (TRIP, "gust 14 kt\n    surface: dry\n", "gust 14 kt\n    surface: dry\n    ground: firm\n")
WIND = "190 magnetic at 8 gust 14 kt"
CLIMB_TABLE, BALKED = ['  - flaps: "10"\n    for: ' + purpose for purpose in ("climb", "balked landing")]


def study(tmp_path: Path, *edits: Edit, trip: str = TRIP) -> RunwayStudy:
    club = tmp_path / "club"
    if not club.exists():
        shutil.copytree(EXAMPLE, club)
    for file, old, new in edits:
        text = (club / file).read_text(encoding="utf-8")
        assert old in text, old
        (club / file).write_text(text.replace(old, new), encoding="utf-8")
    return rank_runways(read_trip(club / trip, trip)[0])


def departure(tmp_path: Path, *edits: Edit) -> RankedField:
    return study(tmp_path, *edits).fields[0]


def end(field: RankedField, ident: str) -> RankedEnd:
    return next(each for each in field.ends if each.ident == ident)


def test_every_end_of_every_field_is_listed_once_and_the_trip_s_own_is_marked(tmp_path: Path) -> None:
    fields = study(tmp_path).fields
    assert [field.place for field in fields] == ["departure", "arrival", "alternate"]
    idents = [sorted(each.ident for each in field.ends) for field in fields]
    assert idents == [["08", "17", "26", "35"], ["09", "27"], ["06", "13", "24", "31"]]
    assert [[each.ident for each in field.ends if each.chosen] for field in fields] == [["17"], ["09"], ["13"]]


def test_the_chosen_ends_have_the_rows_of_the_brief(tmp_path: Path) -> None:
    """The same functions work both: need, policy need, have, margin and state are those of `check`, row by row."""
    items = {row.id: row for row in check(EXAMPLE / TRIP, TRIP)}
    for field in study(tmp_path).fields:
        for row in next(each for each in field.ends if each.chosen).rows:
            id = row.id
            if field.place == "alternate" and row.id == "landing":
                id = "landing-alternate"
            elif field.place == "alternate":
                continue
            assert row[4:10] == items[id][4:10], row.id
            assert row.state is not State.NOT_SHOWN


def test_the_order_is_state_then_margin_then_ident(tmp_path: Path) -> None:
    """In calm air on firm ground no crosswind tells the ends apart; the distances do."""
    field = departure(tmp_path, FIRM, (TRIP, WIND, "calm"))
    keys = [(each.state.rank, -(each.margin or 0.0), each.ident) for each in field.ends]
    assert keys == sorted(keys)
    assert {each.state for each in field.ends} >= {State.MEETS}
    for each in field.ends:
        distances = [row.margin for row in each.rows if row.unit == "ft" and row.id != "climb-out"]
        assert len(distances) == 2
        assert each.margin == min(margin for margin in distances if margin is not None)
        worst = max(row.state.rank for row in each.rows)
        assert each.state.rank == worst


def test_flaps_up_stands_beside_and_does_not_rank(tmp_path: Path) -> None:
    field = study(tmp_path).fields[1]
    first = field.ends[0]
    assert (first.ident, first.state, first.binding) == ("09", State.UNDER, "Landing as planned")
    assert {row.id: row.state for row in first.rows}["landing-flaps-up"] is State.SHORT


def test_grass_beside_a_paved_choice_is_not_shown_until_its_ground_is_said(tmp_path: Path) -> None:
    for ident in ("08", "26"):
        grass = end(departure(tmp_path), ident)
        assert (grass.state, grass.margin) == (State.NOT_SHOWN, None)
        reason = "the runway is grass, and whether its ground is firm is not said under 'departure'"
        assert [row.reason for row in grass.rows[:2]] == [reason, reason]
        assert grass.rows[2].need is not None  # the crosswind needs no ground
    said = end(departure(tmp_path, FIRM), "26")
    assert State.NOT_SHOWN not in {row.state for row in said.rows}


def test_soft_ground_counts_on_grass_and_not_on_pavement(tmp_path: Path) -> None:
    soft = (TRIP, "gust 14 kt\n    surface: dry\n", "gust 14 kt\n    surface: dry\n    ground: soft\n")
    firm, given = departure(tmp_path / "a", FIRM), departure(tmp_path / "b", soft)
    assert (end(given, "26").rows[0].need or 0) > (end(firm, "26").rows[0].need or 0) > 0
    assert end(given, "17").rows[0].need == end(firm, "17").rows[0].need == 880


def test_a_tailwind_past_the_note_is_not_shown_with_the_reason(tmp_path: Path) -> None:
    last = end(departure(tmp_path), "35")  # 14 kt of gust from 190, on 354: 13.5 kt from behind
    assert last.state is State.NOT_SHOWN
    assert "past the note's limit of 10 kt" in last.rows[0].reason


def test_a_refusal_of_the_chosen_end_is_a_row_and_no_fault_of_the_file(tmp_path: Path) -> None:
    """`check` refuses a trip whose own runway asks a note for too much; here that is what is compared."""
    field = departure(tmp_path, (TRIP, WIND, "354 magnetic at 12 kt"))
    assert end(field, "17").state is State.NOT_SHOWN
    assert field.ends[0].ident == "35"
    assert end(field, "17").chosen


def test_a_temperature_off_the_table_leaves_no_end_shown_and_none_out(tmp_path: Path) -> None:
    field = departure(tmp_path, FIRM, (TRIP, "temperature: 27 degC", "temperature: 45 degC"))
    assert {each.state for each in field.ends} == {State.NOT_SHOWN}
    assert len(field.ends) == 4
    assert all("45" in each.rows[0].reason for each in field.ends)


def test_an_end_that_the_strip_file_forbids_stands_last_with_that_reason(tmp_path: Path) -> None:
    barred = (HOME, "        heading: 083 magnetic\n", "        heading: 083 magnetic\n        use: landing only\n")
    field = departure(tmp_path, barred)
    last = field.ends[-1]
    assert (last.ident, last.rows, last.margin) == ("08", (), None)
    assert last.closed == "the strip file does not allow a takeoff on runway 08 ('use' there)"
    text = runway_lines(study(tmp_path))
    assert "not worked: the strip file does not allow a takeoff on runway 08" in " ".join(text.split())
    # 24 of the alternate is 'landing only': it is worked for the landing there
    assert end(study(tmp_path).fields[2], "24").rows


def test_an_obstacle_that_is_not_worked_is_not_shown(tmp_path: Path) -> None:
    """60 ft of poplars past the departure end of 35, and no climb table for flaps 10 to clear them by."""
    tall, wind = (HOME, "height: 38 ft", "height: 60 ft"), (TRIP, WIND, "354 magnetic at 5 kt")
    field = departure(tmp_path / "without", tall, wind, (AIRCRAFT, CLIMB_TABLE, BALKED))
    over = next(row for row in end(field, "35").rows if row.id == "climb-out")
    assert over.title == "Climb over poplars"
    assert over.state is State.NOT_SHOWN
    assert end(field, "35").state is State.NOT_SHOWN
    worked = departure(tmp_path / "with", tall, wind)
    assert next(row for row in end(worked, "35").rows if row.id == "climb-out").state is not State.NOT_SHOWN


def test_without_a_crosswind_figure_that_row_is_not_shown_everywhere(tmp_path: Path) -> None:
    field = departure(
        tmp_path,
        (AIRCRAFT, "  demonstrated_crosswind: {value: 15 kt, page: 4-9}\n", ""),
        (POLICY, "crosswind_maximum: 12 kt\n", ""),
    )
    assert {each.rows[-1].state for each in field.ends} == {State.NOT_SHOWN}
    assert field.ends[0].margin is not None  # the distances still order them
    assert field.ends[0].binding == "Crosswind"


def test_with_no_policy_nothing_is_better_than_under_policy(tmp_path: Path) -> None:
    found = study(tmp_path, FIRM, (TRIP, "policy: policy.yaml\n", ""))
    assert State.MEETS not in {row.state for field in found.fields for each in field.ends for row in each.rows}
    assert "nothing is better than 'under policy'" in runway_lines(found)


def test_a_trip_without_an_alternate_says_so(tmp_path: Path) -> None:
    last = study(tmp_path, trip="solo.yaml").fields[2]
    assert (last.ends, last.reason) == ((), NO_ALTERNATE)
    assert f"Alternate: not shown: {NO_ALTERNATE}" in runway_lines(study(tmp_path, trip="solo.yaml"))


def test_the_words_advise_nothing_and_the_foot_is_that_of_the_sheet(tmp_path: Path) -> None:
    text = " ".join(runway_lines(study(tmp_path)).split())
    for word in (" best ", "recommend", " safe ", " approved:", "should use"):
        assert word not in text.lower()
    assert "NOT FOR FLIGHT: invented data" in text
    assert text.count("Most margin first: ") == 3
    assert DECIDES in text
    assert "The approved handbook and the pilot in command govern." in text


def validator() -> Draft202012Validator:
    content = json.loads((folder("schemas") / "runways.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(content)
    return Draft202012Validator(content)


@pytest.mark.parametrize("trip", [TRIP, "solo.yaml"])
def test_the_json_is_by_its_schema(tmp_path: Path, trip: str) -> None:
    data: dict[str, Any] = json.loads(runways_json(study(tmp_path, trip=trip)))
    assert [error.message for error in validator().iter_errors(data)] == []
    assert list(validator().iter_errors({**data, "verdict": "good"}))
    assert data["not_for_flight"] == "invented data"
    ends = [each for field in data["fields"] for each in field["ends"]]
    assert len(ends) >= 8
    assert all(each["items"] or each["closed"] for each in ends)


def test_in_metric_units_the_order_is_by_printed_metres(tmp_path: Path) -> None:
    field = departure(tmp_path, FIRM, (POLICY, "page_size: A5", "page_size: A5\nunits: metric"))
    assert {row.unit for each in field.ends for row in each.rows if row.id != "climb-out"} == {"m", "kt"}
    chosen = end(field, "17")
    assert chosen.margin == 426  # of 911 m, 485: 1589.62 ft = 484.52 m, as tests/test_printing.py has it


@pytest.mark.parametrize("more", [[], ["--json"], ["--at", "arrival"]])
def test_the_same_trip_gives_the_same_bytes(capsys: pytest.CaptureFixture[str], more: list[str]) -> None:
    outputs = []
    for _ in range(2):
        assert main(["runways", str(EXAMPLE / TRIP), *more]) == 0
        outputs.append(capsys.readouterr().out)
    assert outputs[0] == outputs[1] != ""

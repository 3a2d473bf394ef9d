"""The speeds card as printed: rounded the safe way, marked in words and signs, and the same on every output.

The airplane is the example's, invented; what is expected is worked by hand beside it.
"""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from changed import changed, only
from conftest import EXAMPLE
from jsonschema import Draft202012Validator

from briefgen.brief import Brief
from briefgen.errors import CannotPrint
from briefgen.pipeline import brief_of
from briefgen.render.data import as_data
from briefgen.render.pdf import render, to_pdf
from briefgen.render.proof import prove, read_back
from briefgen.render.sheet import to_html
from briefgen.render.text import summary
from briefgen.resources import folder
from briefgen.speeds_page import SpeedLine

AIRCRAFT = "aircraft/n0142.yaml"
NEW_KEYS = (
    (AIRCRAFT, "  best_angle: {speed: 60 kt, page: 4-3}\n", ""),
    (AIRCRAFT, "  best_rate: {speed: 74 kt, page: 4-3}\n", ""),
    (
        AIRCRAFT,
        "  maneuvering: {by_weight: [[2550 lb, 97 kt], [2150 lb, 89 kt], [1750 lb, 80 kt]], page: 2-3}\n",
        "",
    ),
    (AIRCRAFT, ", range_per_1000_ft: 1.5 NM", ""),
)


def made(folder: Path, *edits: tuple[str, str, str]) -> Brief:
    club = Path(shutil.copytree(EXAMPLE, folder / "club"))
    for file, old, new in edits:
        text = (club / file).read_text(encoding="utf-8")
        assert old in text, f"{file} has no {old!r}"
        (club / file).write_text(text.replace(old, new), encoding="utf-8")
    return brief_of(club / "trip.yaml", "trip.yaml")


def line(brief: Brief, label: str, which: int = 0) -> SpeedLine:
    found = [each for group in brief.speeds.groups for each in group.lines if each.reading.label == label]
    return found[which]


def test_speeds_to_hold_are_rounded_up_and_the_maneuvering_speed_and_the_glide_down(example: Path) -> None:
    """By hand: liftoff 49 + 2 x 100 / 200 = 50; maneuvering 89 + 8 x 300 / 400 = 95; with the most burnt,
    (1.13 + 6.32 + 0.5) x 1.1 = 8.75 gal, 52.5 lb less, 89 + 8 x 247.5 / 400 = 93.95; into 17.4 kt, half-way from 14
    at 220 to 22 at 250 degrees, of 70.2: 1.13; downwind 7 kt, at the destination, and 74.1: 1.64.
    """
    brief = brief_of(example, "trip.yaml")
    assert line(brief, "liftoff, flaps 10").reading.value == 50
    assert [line(brief, "maneuvering, at most", i).reading.value for i in (0, 1)] == [95, 93]
    assert line(brief, "maneuvering, at most", 1).unrounded == pytest.approx(93.95, abs=0.02)
    assert line(brief, "maneuvering, at most", 1).worked_for == "2,398\u00a0lb, the lightest: lower"
    assert [line(brief, label).reading.value for label in ("best angle", "best rate", "best glide")] == [60, 74, 68]
    assert line(brief, "glide into the wind").reading.value == 1.1
    assert line(brief, "glide downwind").reading.value == 1.6
    assert (line(brief, "best rate").source, line(brief, "best rate").page) == ("Handbook p. 4-3", "p. 4-3")
    assert line(brief, "approach, flaps 30").worked_for == "2,410\u00a0lb, 2\u00a0kt added"


def test_a_maneuvering_speed_below_the_printed_weights_is_an_estimate_and_names_its_source(tmp_path: Path) -> None:
    """By hand: 97 kt x root of 2,450 / 2,550 = 95.08; of 2,410 / 2,550, 94.30; down."""
    one = "maneuvering: {speed: 97 kt, at_weight: 2550 lb, page: 2-3}\n"
    brief = made(tmp_path, (AIRCRAFT, NEW_KEYS[2][1], f"  {one}"))
    heavy, light = (line(brief, "maneuvering, at most", i) for i in (0, 1))
    assert (heavy.reading.value, light.reading.value) == (95, 94)
    assert "PHAK ch. 5" in light.worked_for
    assert "about 94 kt" in summary(brief).replace("\u00a0", " ")
    assert to_pdf(only(brief, "speeds"))


def test_the_stall_in_a_bank_is_rounded_up_beside_the_printed_one(example: Path) -> None:
    """By hand: 50 / root of cos 30, 45, 60 = 53.7, 59.5, 70.7; 43: 46.2, 51.1, 60.8."""
    brief = brief_of(example, "trip.yaml")
    rows = {row.label: [each.reading.value for each in row.lines] for row in brief.speeds.stalls}
    assert rows == {"flaps up, every weight": [50, 54, 60, 71], "flaps 30, every weight": [43, 47, 52, 61]}
    assert "it can be higher" in brief.speeds.stall_note


def test_with_a_calibration_the_card_does_not_say_that_the_stall_can_be_higher(tmp_path: Path) -> None:
    points = "[[40 kt, 44 kt], [90 kt, 90 kt]], page: 5-3}"
    both = f'  calibration:\n    - {{flaps: up, points: {points}\n    - {{flaps: "30", points: {points}\n'
    brief = made(tmp_path, (AIRCRAFT, "\ntakeoff:\n", f"{both}\ntakeoff:\n"))
    assert "it can be higher" not in brief.speeds.stall_note


def test_a_stall_by_weight_has_a_row_for_each_weight_and_a_reason_where_it_is_past_the_table(
    tmp_path: Path,
) -> None:
    by_weight = "by_weight: [[2150 lb, 46 kt], [2420 lb, 48 kt]]"
    brief = made(tmp_path, (AIRCRAFT, "{flaps: up, speed: 50 kt", f"{{flaps: up, {by_weight}"))
    heavy, light = brief.speeds.stalls[:2]
    assert (heavy.label, light.label) == ("flaps up, 2,450\u00a0lb", "flaps up, 2,410\u00a0lb")
    assert light.lines[0].reading.value == 48  # 46 + 2 x 260 / 270 = 47.93
    assert "not shown: printed up to 2,420 lb only (Handbook p. 5-7)" in " ".join(summary(brief).split())
    assert to_pdf(only(brief, "speeds"))


def test_crosswinds_over_a_limit_carry_a_sign(tmp_path: Path) -> None:
    """By hand, 28 degrees off at up to 30 either way: 16 x sin 58 = 13.6, 14 kt; over a maximum of 12, under 15."""
    brief = made(tmp_path)
    last = brief.speeds.crosswinds[0].rows[-1]
    assert [(cell.value, cell.over) for cell in last] == [(6, ()), (10, ()), (14, ("limit",))]
    assert "14\u00a0L/R!" in to_html(brief, for_screen=True)
    assert "over 12\u00a0kt (Quillmere club standard)" in brief.speeds.legend


def test_over_the_demonstrated_value_only_and_over_both(tmp_path: Path) -> None:
    shown = "demonstrated_crosswind: {value: 9 kt, page: 4-9}"
    brief = made(tmp_path, (AIRCRAFT, "demonstrated_crosswind: {value: 15 kt, page: 4-9}", shown))
    last = brief.speeds.crosswinds[0].rows[-1]
    assert [cell.over for cell in last] == [(), ("demonstrated",), ("limit", "demonstrated")]
    assert "14 L/R!*" in summary(brief).replace("\u00a0", " ")


def test_a_limitation_of_the_handbook_under_the_policy_s_maximum_is_the_one_that_counts(tmp_path: Path) -> None:
    limit = "crosswind_limitation: {value: 10 kt, page: 2-9}"
    brief = made(tmp_path, (AIRCRAFT, "demonstrated_crosswind: {value: 15 kt, page: 4-9}", limit))
    assert "over 10\u00a0kt (limitation, Handbook p. 2-9)" in brief.speeds.legend
    assert "demonstrated" not in brief.speeds.legend


def test_without_any_crosswind_figure_the_legend_says_which_key_would_give_one(tmp_path: Path) -> None:
    brief = made(
        tmp_path,
        (AIRCRAFT, "  demonstrated_crosswind: {value: 15 kt, page: 4-9}\n", ""),
        ("policy.yaml", "crosswind_maximum: 12 kt\n", ""),
    )
    assert "not shown: the aircraft file has no speeds: demonstrated_crosswind" in brief.speeds.legend
    assert {cell.over for table in brief.speeds.crosswinds for row in table.rows for cell in row} == {()}
    assert to_pdf(only(brief, "speeds"))


def test_an_aircraft_file_without_the_new_keys_says_so_in_each_row(tmp_path: Path) -> None:
    brief = made(tmp_path, *NEW_KEYS)
    text = " ".join(summary(brief).split())
    for key in ("best_angle", "best_rate", "maneuvering", "best_glide: range_per_1000_ft"):
        assert f"not shown: the aircraft file has no speeds: {key}" in text
    assert brief.facts["speeds"]["maneuvering_kt"] is None
    assert to_pdf(only(brief, "speeds"))


def test_old_keys_that_are_missing_are_named_too(tmp_path: Path) -> None:
    brief = made(
        tmp_path,
        (AIRCRAFT, '- {flaps: "30", speed: 58 kt', '- {flaps: "20", speed: 58 kt'),
        (AIRCRAFT, '  liftoff:\n    - flaps: "10"', '  liftoff:\n    - flaps: "20"'),
    )
    assert (
        line(brief, "liftoff, flaps 10").reading.reason == "the aircraft file has no speeds: liftoff for flaps 10"
    )
    assert (
        line(brief, "approach, flaps 30").reading.reason == "the aircraft file has no speeds: approach for flaps 30"
    )
    assert line(brief, "approach, flaps 30").worked_for == "2,410\u00a0lb"


def test_the_json_has_the_card_by_its_schema_with_the_values_before_rounding(example: Path) -> None:
    data = as_data(brief_of(example, "trip.yaml"))
    schema = json.loads((folder("schemas") / "brief.schema.json").read_text(encoding="utf-8"))
    assert list(Draft202012Validator(schema).iter_errors(json.loads(json.dumps(data)))) == []
    speeds = data["speeds"]
    glide = next(each for each in speeds["groups"] if each["title"] == "Engine out")["lines"][2]
    assert (glide["value"], glide["unit"], glide["estimate"]) == (1.1, "NM", True)
    assert glide["unrounded"] == pytest.approx(1.5 * 52.8 / 70.2, abs=0.02)
    cells = [cell for table in speeds["crosswinds"] for row in table["rows"] for cell in row["cells"]]
    assert len(cells) == 24
    assert all(0 <= cell["crosswind_kt"] - cell["unrounded"] < 1 for cell in cells)


def test_every_figure_of_the_card_is_in_the_working_with_its_steps(example: Path) -> None:
    brief = brief_of(example, "trip.yaml")
    worked = {section.title: section.figures for section in brief.sections}
    for title, count in (
        ("Climb and maneuvering speeds", 4),
        ("Glide", 4),
        ("Stall, wings level", 2),
    ):
        assert len(worked[title]) == count
        assert all(figure.steps for figure in worked[title])


def test_a_number_of_the_card_that_changed_is_missed_by_the_proof(example: Path) -> None:
    brief = brief_of(example, "trip.yaml")
    page = brief.speeds
    content = render(to_html(only(brief, "speeds"), for_screen=False))
    stall = replace(page.stalls[0], label="flaps up, at no weight")
    row = tuple(replace(cell, value=99.0) for cell in page.crosswinds[0].rows[0])
    table = replace(page.crosswinds[0], rows=(row, *page.crosswinds[0].rows[1:]))
    for other in (
        replace(page, stalls=(stall, *page.stalls[1:])),
        replace(page, crosswinds=(table, *page.crosswinds[1:])),
        replace(page, legend="another legend"),
    ):
        with pytest.raises(CannotPrint, match="lost from the sheet"):
            prove(content, changed(only(brief, "speeds"), speeds=other), [])
    prove(content, only(brief, "speeds"), [])


def test_the_example_s_card_is_one_page(example: Path) -> None:
    _, texts, _ = read_back(render(to_html(only(brief_of(example, "trip.yaml"), "speeds"), for_screen=False)))
    pages = [text for text in texts if "Stall, kt" in text]
    assert len(pages) == 1
    assert "liftoff, flaps 10" in pages[0]
    assert "Worst over the directions" in pages[0]


@pytest.mark.parametrize("size", ["A5"])  # tests/render/test_paper.py has the other papers
def test_the_card_is_proved_on_every_paper_and_in_metric(tmp_path: Path, size: str) -> None:
    brief = made(tmp_path, ("policy.yaml", "# units: metric\n", f"units: metric\npage_size: {size}\n"))
    assert line(brief, "best rate").worked_for == "1,112\u00a0kg"  # 2,450 lb / 2.2046 = 1,111.3, up
    assert to_pdf(only(brief, "speeds"))

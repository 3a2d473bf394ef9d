"""The JSON: by its own schema, with the values before rounding."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from briefgen.pipeline import brief_of
from briefgen.render.data import to_json
from briefgen.resources import folder
from briefgen.units import down, up


@pytest.fixture(scope="module")
def data() -> dict:  # type: ignore[type-arg]
    trip = Path(__file__).parents[2] / "examples" / "quillmere" / "trip.yaml"
    return json.loads(to_json(brief_of(trip, "trip.yaml")))  # type: ignore[no-any-return]


@pytest.fixture(scope="module")
def metric(tmp_path_factory: pytest.TempPathFactory) -> dict:  # type: ignore[type-arg]
    import shutil

    example = Path(__file__).parents[2] / "examples" / "quillmere"
    club = Path(shutil.copytree(example, tmp_path_factory.mktemp("metric") / "club"))
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write(
            "\nunits: metric\npage_size: A5\nletterhead: {name: Quillmere <Flying> Club, lines: [Hangar 2]}\n"
        )
    return json.loads(to_json(brief_of(club / "trip.yaml", "trip.yaml")))  # type: ignore[no-any-return]


def schema() -> Draft202012Validator:
    text = (folder("schemas") / "brief.schema.json").read_text(encoding="utf-8")
    Draft202012Validator.check_schema(json.loads(text))
    return Draft202012Validator(json.loads(text))


def test_the_json_is_by_its_schema(data: dict) -> None:  # type: ignore[type-arg]
    assert [error.message for error in schema().iter_errors(data)] == []


def test_the_schema_refuses_what_is_not_of_it(data: dict) -> None:  # type: ignore[type-arg]
    assert list(schema().iter_errors({**data, "verdict": "good"}))
    assert list(schema().iter_errors({key: value for key, value in data.items() if key != "items"}))


def test_printed_values_are_the_unrounded_ones_rounded_the_safe_way(data: dict) -> None:  # type: ignore[type-arg]
    distances = [item for item in data["items"] if item["unit"] == "ft" and item["id"] != "climb-out"]
    assert len(distances) >= 5
    (over,) = (item for item in data["items"] if item["id"] == "climb-out")  # heights: to a whole foot
    assert (over["need"], over["have"]) == (up(over["unrounded"]["need"]), down(over["unrounded"]["have"]))
    for item in distances:
        assert item["need"] == up(item["unrounded"]["need"], 5)
        assert item["policy_need"] == up(item["unrounded"]["policy_need"], 5)
        assert item["have"] == down(item["unrounded"]["have"], 5)
        assert item["margin"] == item["have"] - item["need"]


def test_metric_values_are_in_the_item_s_unit_and_the_working_in_the_handbook_s(metric: dict) -> None:  # type: ignore[type-arg]
    """By hand: 1092.43 ft = 332.97 m; 273.24 ft = 83.28 m; 0.3048 m to the international foot of 1959."""
    assert [error.message for error in schema().iter_errors(metric)] == []
    assert (metric["units"], metric["page_size"]) == ("metric", "A5")
    assert metric["letterhead"] == {"name": "Quillmere <Flying> Club", "lines": ["Hangar 2"], "logo": None}
    landing = next(item for item in metric["items"] if item["id"] == "landing")
    assert (landing["unit"], landing["need"]) == ("m", 333)
    assert landing["unrounded"]["need"] == pytest.approx(332.97, abs=0.005)
    assert landing["unrounded"]["have"] == pytest.approx(1120 * 0.3048)
    figures = [
        f for section in metric["working"] for f in section["figures"] if f["label"] == "landing, as planned"
    ]
    assert figures
    assert {each["unit"] for each in figures} == {"ft"}
    assert "333\u00a0m" in {each["printed"] for each in figures}
    assert metric["landing"]["go_around"]["at"] == {"label": "as planned", "value": 83, "unit": "m", "reason": None}
    assert {row["unit"] for row in metric["recheck"]} == {"m"}
    assert metric["facts"]["landing"]["planned"]["need_ft"] == 1095


def test_in_us_units_nothing_is_printed_in_another_unit(data: dict) -> None:  # type: ignore[type-arg]
    assert (data["units"], data["page_size"], data["letterhead"]) == ("US", "half letter", None)
    assert {
        f["printed"] for section in data["working"] if section["title"] != "Daylight" for f in section["figures"]
    } == {None}


def test_every_step_has_a_source(data: dict) -> None:  # type: ignore[type-arg]
    steps = [step for section in data["working"] for figure in section["figures"] for step in figure["steps"]]
    assert len(steps) > 50
    assert all(step["source"] for step in steps)


def test_the_counts_add_up(data: dict) -> None:  # type: ignore[type-arg]
    assert sum(data["counts"].values()) == len(data["items"])

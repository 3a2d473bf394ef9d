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
    distances = [item for item in data["items"] if item["unit"] == "ft"]
    assert len(distances) >= 5
    for item in distances:
        assert item["need"] == up(item["unrounded"]["need"], 5)
        assert item["policy_need"] == up(item["unrounded"]["policy_need"], 5)
        assert item["have"] == down(item["unrounded"]["have"], 5)
        assert item["margin"] == item["have"] - item["need"]


def test_every_step_has_a_source(data: dict) -> None:  # type: ignore[type-arg]
    steps = [step for section in data["working"] for figure in section["figures"] for step in figure["steps"]]
    assert len(steps) > 50
    assert all(step["source"] for step in steps)


def test_the_counts_add_up(data: dict) -> None:  # type: ignore[type-arg]
    assert sum(data["counts"].values()) == len(data["items"])

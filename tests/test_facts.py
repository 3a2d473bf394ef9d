"""The facts are those of the list, of the kinds that it promises, and its reference page is fresh."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from briefgen.cli import main
from briefgen.fact import NUMBER, TEXT
from briefgen.fact_list import FACTS, page
from briefgen.facts import flat
from briefgen.pipeline import brief_of
from briefgen.resources import folder

EDITS = {
    "no route": ("trip.yaml", "trip: ", "trip: "),
    "as it is": ("trip.yaml", "trip: ", "trip: "),
    "no policy": ("trip.yaml", "policy: policy.yaml\n", ""),
    "no partial flaps": ("trip.yaml", '  partial_flaps: "20"\n', ""),
    "wet": ("trip.yaml", "surface: dry", "surface: wet"),
    "a dew point": ("trip.yaml", "temperature: 27 degC", "temperature: 27 degC\n    dew_point: 20 degC"),
    "a variable wind": ("trip.yaml", "120 magnetic at 7 gust 11 kt", "120 magnetic varying 090 to 150 at 7 kt"),
    "snow": ("trip.yaml", "surface: dry", "surface: snow"),
    "no tires": ("aircraft/n0142.yaml", "tires: {main: 28 psi, page: 8-5}\n", ""),
    "no engine": ("aircraft/n0142.yaml", "engine: {carburetor: true, page: 1-3}\n", ""),
    "no slip restriction": ("aircraft/n0142.yaml", "slips_with_flaps:", "# slips_with_flaps:"),
    "no differences": ("aircraft/n0142.yaml", "differences:\n  - 8.00-6 main tires\n", ""),
    "no takeoff table": ("aircraft/n0142.yaml", 'takeoff:\n  - flaps: "10"', 'takeoff:\n  - flaps: "20"'),
    "no approach speed": (
        "aircraft/n0142.yaml",
        '  approach:\n    - {flaps: "30"',
        '  approach:\n    - {flaps: "20"',
    ),
    "no approach angle": ("policy.yaml", "approach_angle: 3.5 deg\n", ""),
    "calm": ("trip.yaml", "190 magnetic at 8 gust 14 kt", "calm"),
    "the same field": ("trip.yaml", 'tansy-bottom.yaml\n  runway: "09"', 'quillmere.yaml\n  runway: "35"'),
    "soft": ("trip.yaml", "ground: firm", "ground: soft"),
    "no demonstrated crosswind": (
        "aircraft/n0142.yaml",
        "  demonstrated_crosswind: {value: 15 kt, page: 4-9}\n",
        "",
    ),
}


def right_kind(value: Any, kind: str) -> bool:
    if kind == NUMBER:
        return isinstance(value, int | float) and not isinstance(value, bool)
    return isinstance(value, str if kind == TEXT else bool)


@pytest.mark.parametrize("name", EDITS)
def test_the_facts_are_those_of_the_list(example: Path, tmp_path: Path, name: str) -> None:
    file, old, new = EDITS[name]
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    text = (club / file).read_text(encoding="utf-8")
    assert old in text
    if name == "the same field":
        assert "to: Tansy Bottom" in text
        text = text.replace("to: Tansy Bottom", "to: Quillmere")
    if name == "no route":
        text = text.partition("\nroute:")[0]
    (club / file).write_text(text.replace(old, new), encoding="utf-8")
    facts = flat(brief_of(club / "trip.yaml", "trip.yaml").facts)
    assert list(facts) == [path for path in facts if path in FACTS]
    assert set(facts) == set(FACTS)
    wrong = {
        path: value
        for path, value in facts.items()
        if not (right_kind(value, FACTS[path].kind) or (value is None and FACTS[path].maybe))
    }
    assert wrong == {}


def test_the_reference_page_is_fresh(request: pytest.FixtureRequest) -> None:
    file = folder("schemas") / "facts.md"
    if request.config.getoption("--update-golden"):
        file.write_text(page(), encoding="utf-8")
    assert file.read_text(encoding="utf-8") == page()


def test_the_command_prints_every_fact(example: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["facts", str(example)]) == 0
    printed = dict(line.split(": ", 1) for line in capsys.readouterr().out.splitlines())
    assert set(printed) == set(FACTS)
    assert json.loads(printed["landing.flaps_up.need_ft"]) == 1295
    assert json.loads(printed["items.landing_flaps_up"]) == "short"

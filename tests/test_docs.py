"""Every command, item, rule and file of the layout is documented, and what the documents name exists."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from briefgen.building import FAIL_ON, KINDS
from briefgen.cli import COMMANDS
from briefgen.pipeline import brief_of, check
from briefgen.rules.engine import PACKS
from briefgen.rules.pack import read_pack

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_every_command_is_in_the_readme() -> None:
    assert len(COMMANDS) >= 4
    assert [name for name in COMMANDS if f"briefgen {name}" not in README] == []


def test_every_item_is_in_the_readme(example: Path) -> None:
    items = check(example, "trip.yaml")
    assert len(items) >= 10
    worked = [item.id for item in items if item.unit]  # the others are asked for by the example's own policy
    assert len(worked) >= 10
    assert [id for id in worked if f"`{id}`" not in README] == []


def test_every_rule_is_in_the_readme_and_no_other() -> None:
    rules = {rule.id for file in PACKS.glob("*.yaml") for rule in read_pack(file, file.name)}
    table = README[README.index("## The cautions") : README.index("## What it does not do yet")]
    documented = {
        name for row in re.findall(r"^\| (`.*?) \|", table, re.MULTILINE) for name in re.findall(r"`([^`]+)`", row)
    }
    assert len(rules) >= 15
    assert documented == rules


@pytest.mark.parametrize(
    "word", [*FAIL_ON, *(kind for kind in KINDS if kind != ".pdf"), "NO_COLOR", "make brief", "make test"]
)
def test_the_readme_names(word: str) -> None:
    assert word in README


def test_what_the_documents_name_exists() -> None:
    paths = re.findall(r"`((?:briefgen|examples|tests|schemas|templates)/[\w./-]+?)`", README + DEVELOPERS)
    paths += re.findall(r"\]\(([\w./-]+)\)", README)
    assert len(paths) > 8
    assert [path for path in paths if not (ROOT / path).exists()] == []
    inside = re.findall(r"`((?:calc|files|handbook|rules|render)/\w+\.py)", DEVELOPERS)
    assert len(inside) > 5
    assert [path for path in inside if not (ROOT / "briefgen" / path).exists()] == []


def test_the_layout_names_every_module_and_no_other() -> None:
    layout = DEVELOPERS[DEVELOPERS.index("## The layout") : DEVELOPERS.index("## To add a")]
    named = {Path(name).name for name in re.findall(r"`([\w/]+\.py)`", layout)}
    modules = {path.name for path in (ROOT / "briefgen").rglob("*.py")} - {"__init__.py"}
    assert len(modules) > 100
    assert named == modules | {"test_structure.py"}


def test_the_readme_s_own_commands_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from briefgen.cli import main

    monkeypatch.chdir(tmp_path)
    block = README[README.index("briefgen new") :]
    lines = [
        line.split("#")[0].split()
        for line in block[: block.index("```")].splitlines()
        if line.startswith("briefgen")
    ]
    assert len(lines) == 14
    for line in lines:
        assert main(line[1:]) == 0, line


def test_the_readme_s_policy_and_rule_are_good_ones(example: Path, tmp_path: Path) -> None:
    """Each is put in place of the example club's own, and the trip is checked with it."""
    blocks = re.findall(r"```yaml\n(.*?)```", README, re.DOTALL)
    (policy,) = (block for block in blocks if block.startswith("policy:"))
    (rules,) = (block for block in blocks if block.startswith("rules:\n"))
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    (club / "policy.yaml").write_text(policy, encoding="utf-8")
    (club / "rules.yaml").write_text(rules, encoding="utf-8")
    trip = club / "trip.yaml"
    text = trip.read_text(encoding="utf-8")
    assert "answers:\n  fuel-dipped: 21 gal, both tanks\n" in text
    trip.write_text(text.replace("answers:\n  fuel-dipped: 21 gal, both tanks\n", ""), encoding="utf-8")
    brief = brief_of(trip, "trip.yaml")
    assert brief.policy == "Our club's standard"
    assert "club-warm-and-heavy" in {caution.id for caution in brief.cautions}

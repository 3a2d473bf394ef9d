"""Every command, item, rule and file of the layout is documented, and what the documents name exists."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.cli import COMMANDS, FAIL_ON, KINDS
from briefgen.files.document import Document, read
from briefgen.files.entry import opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.handbook.graph_chart import GraphChart
from briefgen.pipeline import brief_of, check
from briefgen.rules.engine import PACKS
from briefgen.rules.pack import read_pack

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "examples" / "typing-in-a-handbook.md").read_text(encoding="utf-8")
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


def of_the_guide(tmp_path: Path, *edits: tuple[str, str]) -> Document:
    """Return the example's aircraft file with something of the guide put in."""
    text = (EXAMPLE / "aircraft" / "n0142.yaml").read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    (tmp_path / "a.yaml").write_text(text, encoding="utf-8")
    return read(tmp_path / "a.yaml", "a.yaml")


def test_every_note_of_the_guide_is_one(tmp_path: Path) -> None:
    found = re.findall(r"`(\{for: .*?\})`", GUIDE)
    assert len(found) >= 5
    first = re.search(
        r"    notes:\n(?:      - .*\n)+", (EXAMPLE / "aircraft" / "n0142.yaml").read_text(encoding="utf-8")
    )
    assert first
    for note in found:
        document = of_the_guide(tmp_path, (first[0], f"    notes:\n      - {note}\n"))
        root = opened(document, "aircraft")
        read_aircraft(root)
        told = [each.message for each in root.faults.problems if "is for" not in each.message]
        assert told == [], note


def test_the_graph_of_the_guide_is_a_good_one(tmp_path: Path) -> None:
    (block,) = (each for each in re.findall(r"```yaml\n(.*?)```", GUIDE, re.DOTALL) if "graphs:" in each)
    text = (EXAMPLE / "aircraft" / "n0142.yaml").read_text(encoding="utf-8")
    start, end = text.index("takeoff:\n"), text.index("\nlanding:\n")
    (tmp_path / "a.yaml").write_text(text[:start] + block + text[end:], encoding="utf-8")
    root = opened(read(tmp_path / "a.yaml", "a.yaml"), "aircraft")
    aircraft = read_aircraft(root)
    assert [each.message for each in root.faults.problems] == []
    assert isinstance(aircraft.takeoff[0], GraphChart)


def test_the_readme_links_to_the_guide_and_the_guide_to_its_own_heads() -> None:
    assert "(examples/typing-in-a-handbook.md)" in README
    heads = {re.sub(r"[^\w\- ]", "", line.lstrip("# ")).lower().replace(" ", "-") for line in GUIDE.splitlines()}
    links = re.findall(r"\]\(#([\w-]+)\)", GUIDE)
    assert len(links) >= 4
    assert [link for link in links if link not in heads] == []

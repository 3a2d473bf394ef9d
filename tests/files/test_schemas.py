"""The schemas are sound, say in words what they ask for, and agree with the code and with the example files.

Sources: JSON Schema 2020-12 (its own meta-schema, as `jsonschema` carries it); style.md 17, that each schema has a
good and a bad sample; the contract that every field has a title, a description and an example, from which the
messages are made.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from conftest import EXAMPLE, ROOT
from jsonschema import Draft202012Validator

from briefgen import units
from briefgen.cli import main
from briefgen.files.document import parse, read
from briefgen.files.read_guidance import FOLDER, names
from briefgen.files.read_required import TABLE
from briefgen.files.schema import KINDS, check
from briefgen.handbook.causes import CAUSES
from briefgen.model.confirmed import CONFIRMABLE
from briefgen.required_page import PLACES

SCHEMAS = sorted((ROOT / "schemas").glob("*.schema.json"))
OF_FILES_READ = ("trip", "aircraft", "strip", "policy", "pilot", "papers", "rules", "guidance", "required")
SAMPLES = {
    "trip": ["trip.yaml", "solo.yaml"],
    "aircraft": ["aircraft/n0142.yaml"],
    "strip": ["strips/quillmere.yaml", "strips/tansy-bottom.yaml", "strips/pennywort-hill.yaml"],
    "policy": ["policy.yaml", "pilot.yaml"],
    "pilot": ["pilots/instructor-a.yaml"],
    "papers": ["papers/n0142.yaml"],
    "rules": ["rules.yaml"],
}
OF_A_SCALAR = ("type", "pattern", "enum", "minimum", "maximum", "maxLength")
BAD = ROOT / "tests" / "bad"


@cache
def schema(kind: str) -> Any:
    return json.loads((ROOT / "schemas" / f"{kind}.schema.json").read_text(encoding="utf-8"))


def whole(part: Any, kind: str) -> Any:
    """Return a part of a schema with what it refers to; its own words go first."""
    if "$ref" not in part:
        return part
    file, _, path = part["$ref"].partition("#/")
    referred = file.removesuffix(".schema.json") or kind
    found = schema(referred)
    for name in path.split("/"):
        found = found[name]
    return {**whole(found, referred), **part}


def parts(part: Any, kind: str, path: str = "") -> Iterator[tuple[str, Any]]:
    """Return every field at every level, each with its path."""
    yield path, whole(part, kind)
    for key, each in part.get("properties", {}).items():
        yield from parts(each, kind, f"{path}/{key}")
    below = [part.get("items"), *part.get("prefixItems", []), *part.get("anyOf", []), *part.get("oneOf", [])]
    for i, each in enumerate(below):
        if isinstance(each, dict) and "const" not in each and not set(each) <= {"required", "not"}:
            if each in part.get("anyOf", []):  # an alternative of the same field: only what is in it has words
                each = each.get("items", {"title": "-", "description": "-", "examples": ["-"]})
            yield from parts(each, kind, f"{path}[{i}]")


def fields() -> list[tuple[str, str, Any]]:
    found = [(kind, path, part) for kind in OF_FILES_READ for path, part in parts(schema(kind), kind)]
    shared = schema("common")["$defs"]
    for name, each in [*shared.items(), *schema("rules")["$defs"].items()]:
        kind = "common" if name in shared else "rules"
        found += [(kind, f"{name}/{key}", whole(part, kind)) for key, part in each.get("properties", {}).items()]
    return found


@pytest.mark.parametrize("path", SCHEMAS, ids=lambda path: path.name)
def test_each_schema_is_a_sound_one_of_2020_12(path: Path) -> None:
    assert {f"{kind}.schema.json" for kind in (*OF_FILES_READ, "common")} <= {each.name for each in SCHEMAS}
    content = json.loads(path.read_text(encoding="utf-8"))
    assert content["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(content)
    assert content["title"]
    assert content["description"]


def test_every_field_at_every_level_has_a_title_a_description_and_an_example() -> None:
    found = fields()
    assert len(found) > 280
    lacking = [
        f"{kind}{path}: {word}"
        for kind, path, part in found
        for word in ("title", "description", "examples")
        if not part.get(word) and not (word == "examples" and part.get("type") in ("object", "array"))
    ]
    assert lacking == []


def test_every_group_of_keys_refuses_unknown_ones() -> None:
    """Those of strangers' files.

    A rule's condition is one of several forms, closed one by one; a case's facts, and keys that are ids of rules or
    items, are checked by name when read.
    """
    apart = ("/rules[0]/when", "/rules[0]/cases[0]/facts", "/severities", "/today/severities", "/answers")
    apart += ("/load/stations", "/load/fuel")
    groups = [each for each in fields() if each[2].get("type") == "object" and each[1] not in apart]
    assert len(groups) > 50
    assert [f"{kind}{path}" for kind, path, part in groups if part.get("additionalProperties") is not False] == []


def test_every_list_is_bounded() -> None:
    lists = [(kind, path, part) for kind, path, part in fields() if part.get("type") == "array"]
    assert len(lists) > 30
    assert [f"{kind}{path}" for kind, path, part in lists if "maxItems" not in part] == []


def test_every_text_is_bounded_by_its_length_its_form_or_a_list() -> None:
    """`per` and `up_to` are the exception: their form depends on the cause, and is checked when they are read."""
    texts = [(path, part) for _, path, part in fields() if part.get("type") == "string"]
    assert len(texts) > 100
    loose = {path.rpartition("/")[2] for path, part in texts if not {"maxLength", "pattern"} & set(part)}
    assert loose <= {"per", "up_to", "above"}


def test_every_example_is_what_its_own_field_takes() -> None:
    tried = 0
    for kind, path, part in fields():
        for example in part.get("examples", []):
            words = ("type",) if part.get("type") in ("object", "array") else OF_A_SCALAR
            own = {key: part[key] for key in words if key in part}
            assert Draft202012Validator(own).is_valid(example), f"{kind}{path}: {example}"
            tried += 1
    assert tried > 200


@pytest.mark.parametrize("kind", units.KINDS)
def test_a_quantity_has_the_form_and_the_units_that_the_code_reads(kind: str) -> None:
    shared = schema("common")["$defs"][kind.replace(" ", "_")]
    assert shared["pattern"] == units.pattern(kind)
    listed = re.fullmatch(r".* with its unit \((.*)\)", shared["title"])
    assert listed
    assert listed[1].split(", ") == list(units.KINDS[kind])


def test_every_quantity_of_the_shared_forms_is_a_kind_of_the_code() -> None:
    shared = {name: each for name, each in schema("common")["$defs"].items() if not name.startswith("note_")}
    quantities = {name for name, each in shared.items() if "with its unit" in each["title"]}
    assert quantities == {kind.replace(" ", "_") for kind in units.KINDS}


def test_the_causes_of_the_schemas_are_those_of_the_code() -> None:
    assert schema("common")["$defs"]["cause"]["enum"] == list(CAUSES)


def test_the_amounts_of_a_note_name_every_unit_that_a_cause_can_have() -> None:
    wanted = [unit for cause in CAUSES.values() if cause.unit for unit in units.KINDS[cause.kind]]
    titles = [
        part["title"] for _, path, part in fields() if path.endswith(("/per", "/up_to")) and "/climb/" not in path
    ]
    assert len(titles) == 8  # takeoff and landing notes, a policy's guidance, a published set
    for title in titles:
        assert title == f"an amount of the cause with its unit ({', '.join(dict.fromkeys(wanted))})"


@pytest.mark.parametrize(("kind", "name"), [(kind, name) for kind, names in SAMPLES.items() for name in names])
def test_the_example_files_are_good_samples(kind: str, name: str) -> None:
    assert check(read(EXAMPLE / name, name), kind) == []


def test_every_example_file_is_one_of_the_samples() -> None:
    there = {str(file.relative_to(EXAMPLE)) for file in EXAMPLE.rglob("*.yaml")}
    assert there == {name for names in SAMPLES.values() for name in names}


@pytest.mark.parametrize("name", names())
def test_the_published_sets_are_good_samples(name: str) -> None:
    assert check(read(FOLDER / f"{name}.yaml", name), "guidance") == []


def test_the_table_of_what_is_asked_is_a_good_sample() -> None:
    assert check(read(TABLE, TABLE.name), "required") == []


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("checked: 2026-11-28\n", "", "missing key 'checked'"),
        ("checked: 2026-11-28", "checked: someday", "someday"),
        ('code: "91.103", ', "", "missing key 'code'"),
        ("title: What is asked", "titel: What is asked", "unknown key 'titel'"),
        ("confirmed: [traffic_delays]", "confirmed: [delays]", "delays"),
        ("see: [weather]}", "see: [sky]}", "sky"),
        ("items: [fuel]", "items: []", "nothing is listed"),
        (', aloud: "plan with it"}', "}", "code"),
    ],
)
def test_bad_samples_of_that_table_are_refused(old: str, new: str, fault: str) -> None:
    text = TABLE.read_text(encoding="utf-8")
    assert old in text
    found = check(parse(text.replace(old, new, 1), TABLE, TABLE.name), "required")
    assert found
    assert fault in " ".join(str(problem) for _, problem in found)


def test_that_table_can_name_every_confirmation_and_every_part_of_the_sheet_and_no_other() -> None:
    row = schema("required")["properties"]["parts"]["items"]["properties"]["rows"]["items"]["properties"]
    assert row["confirmed"]["items"]["enum"] == list(CONFIRMABLE)
    assert row["pages"]["items"]["enum"] == row["see"]["items"]["enum"] == list(PLACES)


def test_a_policy_can_choose_every_published_set_and_no_other() -> None:
    policy = schema("policy")["properties"]
    asking = [policy["factors"]["properties"][phase] for phase in ("takeoff", "landing")]
    asking.append(policy["guidance_sets"]["items"])
    assert [each["properties"]["set"]["enum"] for each in asking] == [names()] * 3


@pytest.mark.parametrize("kind", KINDS)
def test_each_schema_has_bad_samples(kind: str) -> None:
    """A bad sample of a schema is a case whose lines tell a fault that its schema alone finds."""
    by_schema = re.compile(r":[0-9]+:[0-9]+ (?:unknown key|missing key|.* has no unit|.* is not a|.* is none of )")
    lines = [line for file in BAD.glob("*/expected.txt") for line in file.read_text("utf-8").splitlines()]
    assert [line for line in lines if line.startswith(tuple(SAMPLES[kind])) and by_schema.search(line)]


def test_every_example_file_leads_an_editor_to_the_schema_of_its_kind() -> None:
    looked_at = 0
    for kind, samples in SAMPLES.items():
        for name in samples:
            first = (EXAMPLE / name).read_text(encoding="utf-8").splitlines()[0]
            found = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first)
            assert found, name
            assert ((EXAMPLE / name).parent / found[1]).resolve() == ROOT / "schemas" / f"{kind}.schema.json"
            looked_at += 1
    assert looked_at == 11


def test_a_new_folder_leads_an_editor_to_its_schemas(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", str(tmp_path / "mine")]) == 0
    assert capsys.readouterr().out
    files = sorted((tmp_path / "mine").rglob("*.yaml"))
    assert len(files) == 11
    for file in files:
        leads = re.findall(r"\$schema=(\S+)", file.read_text(encoding="utf-8"))
        assert len(leads) == 1
        target = (file.parent / leads[0]).resolve()
        assert target.is_file()
        assert target.is_relative_to(tmp_path / "mine")


def test_a_pattern_ends_where_the_text_ends() -> None:
    """`$` in JSON Schema is that of ECMA-262: not before a last line break, as in Python (ECMA-262, 22.2.2.4)."""
    document = parse('trip: x\ncrew: y\ndeparture: {weight: "2450 lb\\n"}\n', Path("t"), "t")
    assert [str(problem) for _, problem in check(document, "trip") if "2450" in problem.message] == [
        "t:3:21 '2450 lb\\n' is not a weight with its unit (lb, kg); write 2450 lb"
    ]

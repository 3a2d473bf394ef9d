"""The rules: fragments mean what JSON Schema says, every rule's facts exist, and each fires where it should."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from briefgen.files.document import read
from briefgen.pipeline import brief_of
from briefgen.resources import folder
from briefgen.rules.engine import KEYWORDS, PACKS, SEVERITIES, Rule, fact, holds, raise_cautions
from briefgen.rules.pack import read_pack

PACK_FILES = sorted(PACKS.glob("*.yaml"))
RULES = [rule for file in PACK_FILES for rule in read_pack(file, file.name)]

values = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-5, 5),
    st.floats(-5, 5, allow_nan=False),
    st.sampled_from(["", "short", "a"]),
)
numbers = st.integers(-5, 5)
fragments = st.fixed_dictionaries(
    {},
    optional={
        "const": values,
        "enum": st.lists(values, min_size=1, max_size=3),
        "minimum": numbers,
        "maximum": numbers,
        "exclusiveMinimum": numbers,
        "exclusiveMaximum": numbers,
        "type": st.sampled_from(["number", "string", "boolean", "null"]),
    },
)


@settings(deadline=None, derandomize=True, max_examples=400)
@given(value=values, fragment=fragments)
def test_a_fragment_means_what_json_schema_says(value: Any, fragment: dict[str, Any]) -> None:
    """Source: JSON Schema 2020-12, by the jsonschema library."""
    assert holds({"fact": "one", "is": fragment}, {"one": value}) == Draft202012Validator(fragment).is_valid(value)


def test_every_keyword_was_tried() -> None:
    schema = json.loads((folder("schemas") / "rules.schema.json").read_text(encoding="utf-8"))
    fact_condition = schema["$defs"]["condition"]["oneOf"][0]
    assert set(KEYWORDS) == set(fact_condition["properties"]["is"]["properties"])


def test_joined_conditions() -> None:
    facts = {"a": {"b": 1}, "c": "x"}
    one, other = {"fact": "a.b", "is": {"const": 1}}, {"fact": "c", "is": {"const": "y"}}
    assert holds({"all": [one, {"not": other}]}, facts)
    assert not holds({"all": [one, other]}, facts)
    assert holds({"any": [other, one]}, facts)
    assert not holds({"any": [other]}, facts)


@pytest.mark.parametrize("path", ["nothing", "a.nothing", "c.b"])
def test_an_unknown_fact_is_an_error(path: str) -> None:
    with pytest.raises(LookupError, match=path):
        fact(path, {"a": {"b": 1}, "c": "x"})


def test_the_most_serious_comes_first() -> None:
    always = {"fact": "a", "is": {"const": 1}}
    rules = [Rule("one", "note", always, "A note.", "s"), Rule("two", "serious", always, "A serious one.", "s")]
    assert [caution.id for caution in raise_cautions(rules, {"a": 1})] == ["two", "one"]


ALWAYS = {"fact": "a", "is": {"const": 1}}


def folded(*rules: tuple[str, str, tuple[str, ...]]) -> dict[str, str]:
    """Return where each rule's caution is folded into, all firing: id, severity, folds."""
    made = [Rule(id, severity, ALWAYS, "Some text.", "s", folds=folds) for id, severity, folds in rules]
    return {caution.id: caution.folded_into for caution in raise_cautions(made, {"a": 1})}


def test_a_caution_is_folded_into_one_that_says_the_same() -> None:
    assert folded(("a", "watch", ("b",)), ("b", "note", ()), ("c", "note", ())) == {"a": "", "b": "a", "c": ""}
    assert folded(("b", "watch", ()), ("a", "watch", ("b",))) == {"a": "", "b": "a"}


def test_a_caution_is_never_folded_into_a_less_serious_one() -> None:
    assert folded(("a", "note", ("b",)), ("b", "watch", ())) == {"a": "", "b": ""}
    assert folded(("a", "watch", ("b",)), ("b", "serious", ())) == {"a": "", "b": ""}


def test_a_rule_that_is_quiet_folds_nothing() -> None:
    quiet = Rule("a", "serious", {"not": ALWAYS}, "Some text.", "s", folds=("b",))
    (caution,) = raise_cautions([quiet, Rule("b", "note", ALWAYS, "Some text.", "s")], {"a": 1})
    assert (caution.id, caution.folded_into) == ("b", "")


def test_folds_lead_to_one_that_is_printed() -> None:
    found = folded(("a", "serious", ("b",)), ("b", "watch", ("c",)), ("c", "note", ()))
    assert found == {"a": "", "b": "a", "c": "a"}


MADE_UP = st.lists(
    st.tuples(
        st.sampled_from("abcdef"), st.sampled_from(SEVERITIES), st.lists(st.sampled_from("abcdef")).map(tuple)
    ),
    unique_by=lambda rule: rule[0],
)


@settings(deadline=None, derandomize=True, max_examples=300)
@given(rules=MADE_UP)
def test_whatever_is_folded_is_said_by_something_printed_that_is_no_less_serious(
    rules: list[tuple[str, str, tuple[str, ...]]],
) -> None:
    found, severity = folded(*rules), {id: SEVERITIES.index(each) for id, each, _ in rules}
    for id, into in found.items():
        if into:
            assert found[into] == ""
            assert severity[into] <= severity[id]


def test_folds_in_a_circle_hide_nothing() -> None:
    """Two files that do not know each other can make one."""
    assert folded(("a", "watch", ("b",)), ("b", "watch", ("a",)), ("c", "note", ())) == {"a": "", "b": "", "c": ""}


def test_text_gives_each_fact_its_unit_and_says_what_is_missing() -> None:
    rule = Rule(
        "r", "note", {"fact": "a.need_ft", "is": {"type": "number"}}, "{a.need_ft}, {a.gone_kt}, {a.word}.", "s"
    )
    facts = {"a": {"need_ft": 1295.0, "gone_kt": None, "word": "grass"}}
    assert raise_cautions([rule], facts)[0].text == "1,295\u00a0ft, not worked, grass."


def test_there_are_packs_and_rules() -> None:
    assert PACK_FILES
    assert len(RULES) >= 15
    assert len({rule.id for rule in RULES}) == len(RULES)


@pytest.mark.parametrize("file", PACK_FILES, ids=lambda file: file.name)
def test_a_pack_is_by_its_schema(file: Path) -> None:
    schema = json.loads((folder("schemas") / "rules.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    value = read(file, file.name).value
    assert [error.message for error in Draft202012Validator(schema).iter_errors(value)] == []
    without = {"rules": [{key: each for key, each in value["rules"][0].items() if key != "citation"}]}
    assert list(Draft202012Validator(schema).iter_errors(without)), "a rule without a citation must not pass"


def asked(condition: Mapping[str, Any]) -> Iterator[str]:
    """Return the facts that a condition asks about."""
    if "fact" in condition:
        yield condition["fact"]
    for key in ("all", "any"):
        for each in condition.get(key, ()):
            yield from asked(each)
    if "not" in condition:
        yield from asked(condition["not"])


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_fact_that_a_rule_names_exists(rule: Rule, example: Path) -> None:
    facts = brief_of(example, "trip.yaml").facts
    names = [*asked(rule.when), *re.findall(r"\{([^}]+)\}", rule.text)]
    assert names
    for name in names:
        fact(name, facts)

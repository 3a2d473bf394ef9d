"""Every rule's cases hold, and they are enough: no part of any condition can be taken away unnoticed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from briefgen.errors import InputFault
from briefgen.rules.engine import PACKS, Rule, holds
from briefgen.rules.pack import case_facts, read_pack

RULES = [rule for file in sorted(PACKS.glob("*.yaml")) for rule in read_pack(file, file.name)]


def without_a_part(condition: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """Return the condition with each of its parts taken away in turn, and with each part weakened so."""
    for key in ("all", "any"):
        parts = condition.get(key, [])
        for i, part in enumerate(parts):
            if len(parts) > 1:
                yield {key: parts[:i] + parts[i + 1 :]}
            for weaker in without_a_part(part):
                yield {key: [*parts[:i], weaker, *parts[i + 1 :]]}
    if "not" in condition:
        yield condition["not"]
        for weaker in without_a_part(condition["not"]):
            yield {"not": weaker}
    if "fact" in condition:
        for keyword, wanted in condition["is"].items():
            rest = {name: value for name, value in condition["is"].items() if name != keyword}
            yield {"fact": condition["fact"], "is": rest}
            if keyword == "enum" and len(wanted) > 1:
                for each in wanted:
                    fewer = [value for value in wanted if value != each]
                    yield {"fact": condition["fact"], "is": {**rest, "enum": fewer}}


def caught(rule: Rule, condition: Mapping[str, Any]) -> bool:
    """Say whether a case tells this condition from the rule's own."""
    return any(holds(condition, case_facts(case.facts)) != case.fires for case in rule.cases)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_cases_hold(rule: Rule) -> None:
    assert {case.fires for case in rule.cases} == {True, False}
    assert not caught(rule, rule.when)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_no_part_of_a_condition_can_go_unnoticed(rule: Rule) -> None:
    mutants = list(without_a_part(rule.when))
    assert mutants
    assert [mutant for mutant in mutants if not caught(rule, mutant)] == []


PACK = """rules:
  - id: tail
    severity: watch
    when: {fact: arrival.tailwind_kt, is: {exclusiveMinimum: 0}}
    text: "A tailwind of {arrival.tailwind_kt}."
    citation: {source: a handbook, known: read, checked: 2026-11-25}
    cases:
      - {fires: true, facts: {arrival.tailwind_kt: 3}}
      - {fires: false, facts: {arrival.tailwind_kt: 0}}
"""

BAD = {
    "an unknown fact": (
        "{fact: arrival.tailwind_kt,",
        "{fact: arrival.tailwnd_kt,",
        "p.yaml:4:18 the condition names an unknown fact, 'arrival.tailwnd_kt';"
        " did you mean 'arrival.tailwind_kt'?",
    ),
    "a missing citation": (
        "    citation: {source: a handbook, known: read, checked: 2026-11-25}\n",
        "",
        "p.yaml:2:5 missing key 'citation'; it is for a citation",
    ),
    "a condition that can never match": (
        "{exclusiveMinimum: 0}}\n    text",
        "{const: strong}}\n    text",
        "p.yaml:4:51 this can never match: 'arrival.tailwind_kt' is number",
    ),
    "a type that can never match": (
        "{exclusiveMinimum: 0}}\n    text",
        '{type: "null"}}\n    text',
        "p.yaml:4:50 this can never match: 'arrival.tailwind_kt' is number",
    ),
    "a bound on a word": (
        "{fact: arrival.tailwind_kt, is: {exclusiveMinimum: 0}}",
        "{fact: arrival.surface, is: {minimum: 1}}",
        "p.yaml:4:49 this can never match: 'arrival.surface' is string",
    ),
    "a text with an unknown fact": (
        "of {arrival.tailwind_kt}",
        "of {arrival.tailwindkt}",
        "p.yaml:5:11 the text names an unknown fact, 'arrival.tailwindkt'; did you mean 'arrival.tailwind_kt'?",
    ),
    "a case with an unknown fact": (
        "facts: {arrival.tailwind_kt: 3}",
        "facts: {arrival.tailwind: 3}",
        "p.yaml:8:49 the case names an unknown fact, 'arrival.tailwind'; did you mean 'arrival.tailwind_kt'?",
    ),
    "a case of the wrong kind": (
        "{arrival.tailwind_kt: 3}",
        "{arrival.tailwind_kt: three}",
        "p.yaml:8:52 the fact 'arrival.tailwind_kt' is a number, which 'three' is not",
    ),
    "a case that does not hold": (
        "{arrival.tailwind_kt: 3}",
        "{arrival.tailwind_kt: 0}",
        "p.yaml:8:9 with these facts the rule is quiet; see 'fires'",
    ),
    "no quiet case": (
        "{fires: false, facts: {arrival.tailwind_kt: 0}}",
        "{fires: true, facts: {arrival.tailwind_kt: 1}}",
        "p.yaml:8:7 a rule needs a case in which it fires and one in which it is quiet",
    ),
    "no cases": (
        PACK[PACK.index("    cases:") :],
        "",
        "p.yaml:2:5 missing key 'cases'; it is for the cases of the rule",
    ),
    "an id that stands twice": (
        "",
        PACK[PACK.index("  - id") :],
        "p.yaml:2:9 the rule 'tail' stands twice",
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_pack_is_told_in_one_line_with_its_place(tmp_path: Any, name: str) -> None:
    old, new, expected = BAD[name]
    assert old in PACK
    text = PACK.replace(old, new, 1) if old else PACK + new
    (tmp_path / "p.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(InputFault) as caught_fault:
        read_pack(tmp_path / "p.yaml", "p.yaml")
    assert caught_fault.value.lines()[0] == expected


def test_the_pack_that_the_bad_ones_are_made_from_is_good(tmp_path: Any) -> None:
    (tmp_path / "p.yaml").write_text(PACK, encoding="utf-8")
    (rule,) = read_pack(tmp_path / "p.yaml", "p.yaml")
    assert (rule.id, rule.checked, len(rule.cases)) == ("tail", "2026-11-25", 2)

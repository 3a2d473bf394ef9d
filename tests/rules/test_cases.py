"""Every rule's cases hold, and they are enough: no part of any condition can be taken away unnoticed."""

from __future__ import annotations

from typing import Any

import pytest

from briefgen.errors import InputFault
from briefgen.rules.coverage import STRONGER, TURNED, WEAKER, case_facts, gaps, mutants
from briefgen.rules.engine import PACKS, SEVERITIES, Rule, holds
from briefgen.rules.folds import reached, shipped
from briefgen.rules.pack import read_pack

RULES = [rule for file in sorted(PACKS.glob("*.yaml")) for rule in read_pack(file, file.name)]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_cases_hold(rule: Rule) -> None:
    assert {case.fires for case in rule.cases} == {True, False}
    assert all(holds(rule.when, case_facts(case.facts)) == case.fires for case in rule.cases)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_no_part_of_a_condition_can_go_unnoticed(rule: Rule) -> None:
    assert list(mutants(rule.when))
    assert [mutant.said for mutant in gaps(rule)] == []


def leaf(fact: str, **asked: Any) -> dict[str, Any]:
    return {"fact": fact, "is": asked}


def mutated(condition: dict[str, Any]) -> list[tuple[Any, Any, str]]:
    return [(each.condition, each.path, each.said) for each in mutants(condition)]


def test_every_part_of_a_condition_is_taken_away_once() -> None:
    """By hand, from what a condition may be: a part of 'all' or 'any', a 'not', a keyword, a value."""
    a, b = leaf("x.a_kt", minimum=1, type="number"), leaf("x.b", enum=["u", "v"])
    assert mutated(a) == [
        (leaf("x.a_kt", type="number"), ("is", "minimum"), "x.a_kt at least 1"),
        (leaf("x.a_kt", minimum=1), ("is", "type"), "x.a_kt is a number"),
    ]
    assert mutated(b) == [
        (leaf("x.b"), ("is", "enum"), "x.b is one of u, v"),
        (leaf("x.b", enum=["v"]), ("is", "enum"), "x.b is u"),
        (leaf("x.b", enum=["u"]), ("is", "enum"), "x.b is v"),
    ]
    one, other = leaf("x.c", const=True), leaf("x.d", exclusiveMinimum=0)
    for key in ("all", "any"):
        assert mutated({key: [one, {"not": other}]}) == [
            ({key: [{"not": other}]}, (key, 0), "x.c is true"),
            ({key: [leaf("x.c"), {"not": other}]}, (key, 0, "is", "const"), "x.c is true"),
            ({key: [one]}, (key, 1), "not x.d over 0"),
            ({key: [one, other]}, (key, 1), "not x.d over 0"),
            ({key: [one, {"not": leaf("x.d")}]}, (key, 1, "not", "is", "exclusiveMinimum"), "x.d over 0"),
        ]


@pytest.mark.parametrize(
    ("condition", "hints"),
    [
        ({"all": [leaf("x.a", const=1), leaf("x.b", const=1)]}, {WEAKER}),
        ({"not": {"any": [leaf("x.a", const=1), leaf("x.b", const=1)]}}, {TURNED, WEAKER, STRONGER}),
        ({"any": [leaf("x.a", const=1), leaf("x.b", const=1)]}, {WEAKER, STRONGER}),
    ],
)  # fmt: skip
def test_the_hint_is_the_case_that_would_tell(condition: dict[str, Any], hints: set[str]) -> None:
    """A condition without a part of 'all' fires where only that part fails; without one of 'any' it falls quiet."""
    assert {each.hint for each in mutants(condition)} == hints


def test_what_a_pack_folds_is_there_and_leads_in_no_circle() -> None:
    """As a club's own file is held to when it is read; the program's packs may fold one another's rules."""
    folds = {rule.id: rule.folds for rule in RULES}
    assert len(folds) == len(RULES)
    assert sum(map(len, folds.values())) > 15
    for rule, names in folds.items():
        assert set(names) <= set(folds)
        assert all(rule not in reached(name, folds) for name in names)


PACK = """rules:
  - id: tail
    severity: watch
    when: {fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}
    text: "A tailwind of {route.off_rule_legs}."
    citation: {source: a handbook, known: read, checked: 2026-11-25}
    cases:
      - {fires: true, facts: {route.off_rule_legs: 3}}
      - {fires: false, facts: {route.off_rule_legs: 0}}
"""

BAD = {
    "an unknown fact": (
        "{fact: route.off_rule_legs,",
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
        "p.yaml:4:51 this can never match: 'route.off_rule_legs' is a number",
    ),
    "a type that can never match": (
        "{exclusiveMinimum: 0}}\n    text",
        '{type: "null"}}\n    text',
        "p.yaml:4:50 this can never match: 'route.off_rule_legs' is a number",
    ),
    "a bound on a word": (
        "{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}",
        "{fact: arrival.surface, is: {minimum: 1}}",
        "p.yaml:4:49 this can never match: 'arrival.surface' is paved, grass, gravel",
    ),
    "a text with an unknown fact": (
        "of {route.off_rule_legs}",
        "of {arrival.tailwindkt}",
        "p.yaml:5:11 the text names an unknown fact, 'arrival.tailwindkt'; did you mean 'arrival.tailwind_kt'?",
    ),
    "a case with an unknown fact": (
        "facts: {route.off_rule_legs: 3}",
        "facts: {arrival.tailwind: 3}",
        "p.yaml:8:49 the case names an unknown fact, 'arrival.tailwind'; did you mean 'arrival.tailwind_kt'?",
    ),
    "a case of the wrong kind": (
        "{route.off_rule_legs: 3}",
        "{route.off_rule_legs: three}",
        "p.yaml:8:52 the fact 'route.off_rule_legs' is a number, which 'three' is not",
    ),
    "a case that does not hold": (
        "{route.off_rule_legs: 3}",
        "{route.off_rule_legs: 0}",
        "p.yaml:8:9 with these facts the rule is quiet; see 'fires'",
    ),
    "no quiet case": (
        "{fires: false, facts: {route.off_rule_legs: 0}}",
        "{fires: true, facts: {route.off_rule_legs: 1}}",
        "p.yaml:8:7 a rule needs a case in which it fires and one in which it is quiet",
    ),
    "no cases": (
        PACK[PACK.index("    cases:") :],
        "",
        "p.yaml:2:5 missing key 'cases'; it is for the cases of the rule",
    ),
    "a part that no case looks at": (
        "{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}",
        "{all: [{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}},"
        " {not: {fact: arrival.surface, is: {const: grass}}}]}",
        'p.yaml:4:74 no case tells whether "not arrival.surface is grass" matters;'
        " add a quiet case in which only it fails",
    ),
    "an alternative that no case looks at": (
        "{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}",
        "{any: [{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}, {fact: arrival.soft, is: {const: true}}]}",
        'p.yaml:4:74 no case tells whether "arrival.soft is true" matters;'
        " add a firing case in which only it holds",
    ),
    "a value that no case looks at": (
        "{exclusiveMinimum: 0}}\n    text",
        "{enum: [3, 4]}}\n    text",
        'p.yaml:4:50 no case tells whether "route.off_rule_legs is 4" matters;'
        " add a firing case in which only it holds",
    ),
    "a value that its fact never has": (
        "{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}",
        "{fact: arrival.surface, is: {enum: [grass, gras]}}",
        "p.yaml:4:46 this can never match: 'arrival.surface' is paved, grass, gravel",
    ),
    "a case with such a value": (
        "{route.off_rule_legs: 0}",
        "{route.off_rule_legs: 0, arrival.state: damp}",
        "p.yaml:9:71 the fact 'arrival.state' is dry, wet, standing water, slush, snow, ice, which 'damp' is not",
    ),
    "a bound on a fact that can be null": (
        "{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}",
        "{fact: gusts.cost_ft, is: {minimum: 1}}",
        "p.yaml:4:47 'gusts.cost_ft' can be null, of which a bound says nothing; add type: number beside it",
    ),
    "a brace without its fellow": (
        "of {route.off_rule_legs}.",
        "of {route.off_rule_legs.",
        "p.yaml:5:11 a brace of the text has no other to go with it; a fact stands in {braces}",
    ),
    "a date that is none": (
        "checked: 2026-11-25",
        "checked: 2026-13-45",
        "p.yaml:6:58 this is no date of the calendar; year-month-day",
    ),
    "a bound with a unit": (
        "exclusiveMinimum: 0}",
        "exclusiveMinimum: 3 kt}",
        "p.yaml:4:62 '3 kt' is not a number; for example 0",
    ),
    "a word for a fragment": (
        "is: {exclusiveMinimum: 0}",
        "is: windy",
        "p.yaml:4:43 'windy' stands where a group of keys is wanted, for a JSON Schema fragment; write its keys"
        " below it, indented: const, enum, type, minimum, maximum, exclusiveMinimum, exclusiveMaximum",
    ),
    "a keyword that is none": (
        "exclusiveMinimum: 0}",
        "'>': 0}",
        "p.yaml:4:44 unknown key '>'; the keys here are const, enum, type, minimum, maximum, exclusiveMinimum,"
        " exclusiveMaximum",
    ),
    "a list for not": (
        "{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}",
        "{not: [{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}]}",
        "p.yaml:4:17 a list stands where a group of keys is wanted, for a condition; write its keys below it,"
        " indented: fact, is, all, any, not",
    ),
    "a slip in a joint": (
        "{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}",
        "{all_of: [{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}]}",
        "p.yaml:4:5 a condition has 'fact' and 'is', or 'all', or 'any', or 'not';"
        " did you mean 'all' for 'all_of'?",
    ),
    "two joints": (
        "{fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}",
        "{all: [{fact: route.off_rule_legs, is: {const: 1}}], any: [{fact: route.off_rule_legs, is: {const: 1}}]}",
        "p.yaml:4:5 only one of 'all' or 'any' can be given; put what else is meant below one of them",
    ),
    "no condition": (
        "    when: {fact: route.off_rule_legs, is: {exclusiveMinimum: 0}}\n",
        "",
        "p.yaml:2:5 missing key 'when'; it is for a group of keys",
    ),
    "a text that is too short": (
        'text: "A tailwind of {route.off_rule_legs}."',
        "text: Windy",
        "p.yaml:5:11 'Windy' is too short, 5 of at least 10 characters; it is what to do, in a sentence a pilot"
        " would say",
    ),
    "a rule that folds itself": (
        "    citation",
        "    folds: [tail]\n    citation",
        "p.yaml:6:13 a rule cannot fold itself",
    ),
    "a fold of a rule of the packs": (
        "    citation",
        "    folds: [tailwind-landing]\n    citation",
        "p.yaml:6:13 'tailwind-landing' is a rule of the packs: a file of your own cannot leave it out",
    ),
    "a name of the packs": (
        "id: tail\n",
        "id: gusts\n",
        "p.yaml:2:9 'gusts' is a rule of the packs already; give it a name of its own",
    ),
    "a fold of nothing like a rule": (
        "    citation",
        "    folds: [zzz]\n    citation",
        "p.yaml:6:13 there is no rule 'zzz' in this file",
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


def second(fold: str) -> str:
    return (
        PACK[PACK.index("  - id") :]
        .replace("id: tail", "id: other")
        .replace("    citation", f"    {fold}\n    citation")
    )


def test_folds_that_lead_in_a_circle_are_told_once(tmp_path: Any) -> None:
    text = PACK.replace("    citation", "    folds: [other]\n    citation") + second("folds: [tail]")
    (tmp_path / "p.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(InputFault) as caught_fault:
        read_pack(tmp_path / "p.yaml", "p.yaml")
    assert caught_fault.value.lines() == [
        "p.yaml:6:13 'tail' folds 'other', which leads back to 'tail'; one of them must be printed"
    ]


def test_a_rule_may_fold_those_of_its_file(tmp_path: Any) -> None:
    text = PACK.replace("    citation", "    folds: [other]\n    citation") + second("severity: watch")
    text = text.replace("    severity: watch\n    severity: watch\n", "    severity: watch\n")
    (tmp_path / "p.yaml").write_text(text.replace("\n    severity: watch\n    citation", "\n    citation"), "utf-8")
    assert [rule.folds for rule in read_pack(tmp_path / "p.yaml", "p.yaml")] == [("other",), ()]


def test_what_the_packs_fold_is_known_without_reading_them_whole() -> None:
    assert shipped() == {rule.id: rule.folds for rule in RULES}
    assert sum(map(len, shipped().values())) > 10


def test_no_pack_asks_for_a_fold_into_something_milder() -> None:
    """Such a fold would never happen."""
    rank = {rule.id: SEVERITIES.index(rule.severity) for rule in RULES}
    assert [(r.id, each) for r in RULES for each in r.folds if rank[r.id] > rank[each]] == []

"""Are a rule's cases enough? Take each part of its condition away in turn: a case must tell that it is gone."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, NamedTuple

from briefgen.fact_list import FACTS
from briefgen.rules.engine import Rule, holds

Path = tuple[str | int, ...]

# What a case must be like that tells a condition from the same one without a part.
WEAKER = "add a quiet case in which only it fails"
STRONGER = "add a firing case in which only it holds"
TURNED = "add a case in which it holds and one in which it does not"


class Mutant(NamedTuple):
    """A condition with one part taken away: the part's place in it and its words, and the case that would tell."""

    condition: Mapping[str, Any]
    path: Path
    said: str
    hint: str


def gaps(rule: Rule) -> list[Mutant]:
    """Return what no case of a rule tells from the rule's own condition, each part once."""
    missed = {
        mutant.said: mutant
        for mutant in reversed(list(mutants(rule.when)))
        if all(holds(mutant.condition, case_facts(case.facts)) == case.fires for case in rule.cases)
    }
    return list(reversed(missed.values()))


def mutants(condition: Mapping[str, Any], path: Path = (), *, negated: bool = False) -> Iterator[Mutant]:
    """Return a condition with each of its parts taken away in turn, and with each part weakened so."""
    weaker, stronger = (STRONGER, WEAKER) if negated else (WEAKER, STRONGER)
    for key in ("all", "any"):
        parts = condition.get(key, [])
        for i, part in enumerate(parts):
            here: Path = (*path, key, i)
            if len(parts) > 1:
                hint = weaker if key == "all" else stronger
                yield Mutant({key: parts[:i] + parts[i + 1 :]}, here, said(part), hint)
            for each in mutants(part, here, negated=negated):
                yield each._replace(condition={key: [*parts[:i], each.condition, *parts[i + 1 :]]})
    if "not" in condition:
        yield Mutant(condition["not"], path, said(condition), TURNED)
        for each in mutants(condition["not"], (*path, "not"), negated=not negated):
            yield each._replace(condition={"not": each.condition})
    for keyword, wanted in condition.get("is", {}).items():
        rest = {name: value for name, value in condition["is"].items() if name != keyword}
        leaf, here = condition["fact"], (*path, "is", keyword)
        yield Mutant({"fact": leaf, "is": rest}, here, _asked(leaf, keyword, wanted), weaker)
        for value in wanted if keyword == "enum" and len(wanted) > 1 else ():
            fewer = {**rest, "enum": [other for other in wanted if other != value]}
            yield Mutant({"fact": leaf, "is": fewer}, here, _asked(leaf, "const", value), stronger)


_WORDS = {
    "const": "is",
    "enum": "is one of",
    "type": "is a",
    "minimum": "at least",
    "maximum": "at most",
    "exclusiveMinimum": "over",
    "exclusiveMaximum": "under",
}


def said(condition: Mapping[str, Any]) -> str:
    """Return a condition in words.

    >>> said({"not": {"fact": "arrival.tailwind_kt", "is": {"exclusiveMinimum": 0}}})
    'not arrival.tailwind_kt over 0'
    """
    if "not" in condition:
        return f"not {said(condition['not'])}"
    for key, joint in (("all", " and "), ("any", " or ")):
        if key in condition:
            return joint.join(said(each) for each in condition[key])
    return " and ".join(_asked(condition["fact"], *each) for each in condition["is"].items())


def _asked(fact: str, keyword: str, wanted: Any) -> str:
    values = wanted if isinstance(wanted, list) else [wanted]
    words = ", ".join(value if isinstance(value, str) else json.dumps(value) for value in values)
    return f"{fact} {_WORDS[keyword]} {words}"


def case_facts(named: Mapping[str, Any]) -> dict[str, Any]:
    """Return all facts, as nested groups: those named with their values, every other one null."""
    facts = _copied(_nulls())
    for path, value in named.items():
        if path in FACTS:
            *groups, name = path.split(".")
            group = facts
            for each in groups:
                group = group[each]
            group[name] = value
    return facts


@cache
def _nulls() -> dict[str, Any]:
    facts: dict[str, Any] = {}
    for path in FACTS:
        *groups, name = path.split(".")
        group = facts
        for each in groups:
            group = group.setdefault(each, {})
        group[name] = None
    return facts


def _copied(facts: dict[str, Any]) -> dict[str, Any]:
    return {name: _copied(value) if isinstance(value, dict) else value for name, value in facts.items()}

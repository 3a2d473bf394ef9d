"""Read a pack of rules: by its schema, on facts that exist, in conditions that can be met, with cases that hold."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from briefgen.errors import Problem
from briefgen.fact import NUMBER, TEXT, YES_NO, Fact
from briefgen.fact_list import FACTS
from briefgen.files.document import read
from briefgen.files.entry import Entry, opened
from briefgen.model.policy import Raised
from briefgen.rules.coverage import case_facts, gaps
from briefgen.rules.engine import IN_TEXT, KEYWORDS, PACKS, SEVERITIES, Case, Rule
from briefgen.rules.folds import check_folds

_BOUNDS = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")


def read_pack(path: Path, name: str) -> tuple[Rule, ...]:
    """Return the rules of a pack file, in its order.

    A file that does not come with the program is also held to what tests hold the program's own to: that its folds
    can be followed, and that its cases are enough.

    Raises
    ------
    InputFault : every fault of the file, each with its line and column.
    """
    root = opened(read(path, name), "rules")
    faults = root.faults
    rules = faults.parts(root.items("rules"), _rule)
    ids = [rule.id for rule in rules]
    for entry in root.items("rules"):
        found = entry.get("id")
        if found and ids.count(str(found.value)) > 1:
            found.fault(f"the rule '{found.value}' stands twice")
    if path.resolve().parent != PACKS:
        check_folds(root.items("rules"), rules)
        _check_coverage(root.items("rules"), rules)
    faults.stop()
    return rules


def _check_coverage(entries: list[Entry], rules: tuple[Rule, ...]) -> None:
    """Note a fault at every part of a condition that no case looks at."""
    if entries and entries[0].faults.problems:
        return  # a case that does not hold tells nothing
    for entry, rule in zip(entries, rules, strict=True):
        when = entry["when"]
        for missed in gaps(rule):
            part = Entry(entry.faults, (*when.place, *missed.path), None)
            part.fault(f'no case tells whether "{missed.said}" matters', missed.hint)


def _rule(entry: Entry) -> Rule:
    before = len(entry.faults.problems)
    for leaf in leaves(entry["when"]):
        _can_match(leaf)
    for name in IN_TEXT.findall(str(entry["text"].value)):
        _known(entry["text"], name, "the text")
    if re.search(r"[{}]", IN_TEXT.sub("", str(entry["text"].value))):
        entry["text"].fault("a brace of the text has no other to go with it", "a fact stands in {braces}")
    try:
        date.fromisoformat(entry["citation"].text("checked"))
    except ValueError:
        entry["citation"]["checked"].fault("this is no date of the calendar", "year-month-day")
    cases = tuple(_case(each) for each in entry["cases"].each())
    citation = entry["citation"]
    rule = Rule(
        id=entry.text("id"),
        severity=entry.text("severity"),
        when=entry["when"].value,
        text=entry.text("text"),
        source=_cited(citation.text("source"), citation.text("known")),
        checked=citation.text("checked"),
        cases=cases,
        folds=tuple(str(each.value) for each in entry.items("folds")),
    )
    known = all(set(leaf["is"].value) <= set(KEYWORDS) for leaf in leaves(entry["when"]))
    if known and len(entry.faults.problems) == before and not entry.faults.touch(entry.place):
        _run(entry, rule)
    return rule


def _cited(source: str, known: str) -> str:
    return source if known == "read" else f"{source}, {known.removeprefix('common practice, ')}"


def raised(rules: tuple[Rule, ...], changes: Iterable[Raised]) -> tuple[tuple[Rule, ...], list[Problem]]:
    """Return the rules as serious as the layers of a policy make them, and a fault for every change that cannot be.

    A rule is only ever made more serious; where two layers raise one, the more serious holds.
    """
    own = {rule.id: SEVERITIES.index(rule.severity) for rule in rules}
    now, problems = dict(own), []
    for change in changes:
        to = SEVERITIES.index(change.severity)
        if change.id not in own:
            hint = _near(change.id, own) or "`briefgen rules` lists them; the policy's packs may leave it out"
            message = f"no rule of this policy has the id '{change.id}'"
            problems.append(change.where._replace(message=message, hint=hint))
        elif to >= own[change.id]:
            before = SEVERITIES[own[change.id]]
            message = f"'{change.id}' is '{before}' already; a caution is only ever made more serious"
            problems.append(change.where._replace(message=message))
        else:
            now[change.id] = min(now[change.id], to)
    return tuple(replace(rule, severity=SEVERITIES[now[rule.id]]) for rule in rules), problems


def _near(word: str, known: Iterable[str]) -> str:
    """Return a hint of the one that may have been meant, '' if none is near."""
    from difflib import get_close_matches

    near = get_close_matches(word, known, 1, 0.6)
    return f"did you mean '{near[0]}'?" if near else ""


def leaves(condition: Entry) -> Iterator[Entry]:
    """Return the parts of a condition that ask about one fact."""
    if condition.get("fact"):
        yield condition
    for key in ("all", "any"):
        for each in condition.items(key):
            yield from leaves(each)
    negated = condition.get("not")
    if negated:
        yield from leaves(negated)


def _known(entry: Entry, path: str, where: str) -> Fact | None:
    """Return a fact of the list; None, with the fault noted, if there is none of that name."""
    fact = FACTS.get(path)
    if fact is None:
        hint = _near(path, FACTS) or "`briefgen facts TRIP` lists them"
        entry.fault(f"{where} names an unknown fact, '{path}'", hint)
    return fact


def _can_match(leaf: Entry) -> None:
    """Note a fault where a fragment can never match its fact's kind of value."""
    fact = _known(leaf["fact"], str(leaf["fact"].value), "the condition")
    if fact is None:
        return
    path, fragment = str(leaf["fact"].value), leaf["is"]
    kind = ", ".join(fact.values) or _KINDS[fact.kind]
    kind += " or null" if fact.maybe else ""
    for keyword, wanted in fragment.value.items():
        values = wanted if keyword == "enum" else [wanted] if keyword == "const" else []
        never = (keyword in _BOUNDS and fact.kind != NUMBER) or any(not _can_be(v, fact) for v in values)
        if keyword == "type":
            never = wanted != fact.kind and not (wanted == "null" and fact.maybe)
        if never:
            fragment[keyword].fault(f"this can never match: '{path}' is {kind}")
        elif keyword in _BOUNDS and fact.maybe and "type" not in fragment.value:
            hint = "add type: number beside it"
            fragment[keyword].fault(f"'{path}' can be null, of which a bound says nothing", hint)


_KINDS = {NUMBER: "a number", TEXT: "a text", YES_NO: "true or false"}


def _can_be(value: Any, fact: Fact) -> bool:
    """Say whether a fact can have a value: of its kind, and of its list where it has one."""
    return _of_kind(value, fact) and (not fact.values or value is None or value in fact.values)


def _of_kind(value: Any, fact: Fact) -> bool:
    if value is None:
        return fact.maybe
    if fact.kind == NUMBER:
        return isinstance(value, int | float) and not isinstance(value, bool)
    return isinstance(value, str if fact.kind == TEXT else bool)


def _case(entry: Entry) -> Case:
    facts = entry["facts"]
    for path in facts.value:
        fact = _known(facts[path], path, "the case")
        if fact and facts.value[path] is not None and not _can_be(facts.value[path], fact):
            kind = ", ".join(fact.values) or _KINDS[fact.kind]
            facts[path].fault(f"the fact '{path}' is {kind}, which {facts.value[path]!r} is not")
    return Case(bool(entry["fires"].value), facts.value)


def _run(entry: Entry, rule: Rule) -> None:
    """Note a fault at every case that does not hold, and where all fire or none does."""
    for place, case in zip(entry["cases"].each(), rule.cases, strict=True):
        if rule.fires(case_facts(case.facts)) != case.fires:
            place.fault("with these facts the rule " + ("is quiet" if case.fires else "fires"), "see 'fires'")
    if len({case.fires for case in rule.cases}) < 2:
        entry["cases"].fault("a rule needs a case in which it fires and one in which it is quiet")

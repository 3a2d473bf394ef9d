"""Raise the cautions whose conditions the facts meet.

A condition is a fact's dotted path with a JSON Schema fragment that its value must match (`fact`, `is`), or
conditions joined by `all`, `any` and `not`. The fragment may use the keywords of `KEYWORDS`, which mean what JSON
Schema 2020-12 says they mean; a fact that could not be worked is null and matches only what asks for null.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any, NamedTuple

from briefgen.caution import Caution

SEVERITIES = ("serious", "watch", "note")
PACKS = Path(__file__).resolve().parent / "packs"


Test = Callable[[Mapping[str, Any]], bool]
IN_TEXT = re.compile(r"\{([^{}]*)\}")  # a fact's path, in braces


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


# Each keyword of a fragment, and what it asks of a value. Numbers only bound numbers, as in JSON Schema.
KEYWORDS: Mapping[str, Callable[[Any, Any], bool]] = {
    "const": lambda value, wanted: _same(value, wanted),
    "enum": lambda value, wanted: any(_same(value, each) for each in wanted),
    "minimum": lambda value, wanted: not _number(value) or value >= wanted,
    "maximum": lambda value, wanted: not _number(value) or value <= wanted,
    "exclusiveMinimum": lambda value, wanted: not _number(value) or value > wanted,
    "exclusiveMaximum": lambda value, wanted: not _number(value) or value < wanted,
    "type": lambda value, wanted: _TYPES[wanted](value),
}
_TYPES: Mapping[str, Callable[[Any], bool]] = {
    "number": _number,
    "string": lambda value: isinstance(value, str),
    "boolean": lambda value: isinstance(value, bool),
    "null": lambda value: value is None,
}


def _same(value: Any, wanted: Any) -> bool:
    return isinstance(value, bool) == isinstance(wanted, bool) and bool(value == wanted)


class Case(NamedTuple):
    """Facts by their paths, and whether the rule fires with them."""

    fires: bool
    facts: Mapping[str, Any]


@dataclass(frozen=True)
class Rule:
    """One rule: when the facts meet `when`, say `text`. `source` is its citation."""

    id: str
    severity: str
    when: Mapping[str, Any]
    text: str
    source: str
    checked: str = ""
    cases: tuple[Case, ...] = ()
    folds: tuple[str, ...] = ()  # rules that say the same, less well: not printed where this one is

    @cached_property
    def fires(self) -> Test:
        """Its condition, made ready to be asked of facts."""
        return test_of(self.when)


def raise_cautions(
    rules: Iterable[Rule], facts: Mapping[str, Any], said: Mapping[str, str] | None = None
) -> tuple[Caution, ...]:
    """Return a caution for every rule whose condition the facts meet, the most serious first, folds marked.

    `said` has the words of those facts that a text prints in another unit than their names end in, by their paths.

    Raises
    ------
    LookupError : a rule names a fact that does not exist.
    """
    fired = [rule for rule in rules if rule.fires(facts)]
    found = [
        Caution(rule.id, rule.severity, said_with(rule.text, facts, said or {}), rule.source) for rule in fired
    ]
    folds: dict[str, tuple[str, ...]] = {}
    for rule in fired:
        folds[rule.id] = folds.get(rule.id, ()) + rule.folds
    return fold(sorted(found, key=lambda caution: SEVERITIES.index(caution.severity)), folds)


def fold(cautions: Iterable[Caution], folds: Mapping[str, tuple[str, ...]]) -> tuple[Caution, ...]:
    """Return cautions with where each is folded into, '' where it is printed.

    None is folded into a less serious one. The one that it is folded into is itself printed; where folds lead in a
    circle, all of it is printed.
    """
    cautions = tuple(cautions)
    ranks = {each.id: SEVERITIES.index(each.severity) for each in cautions}
    into: dict[str, str] = {}
    for over in cautions:
        for under in folds.get(over.id, ()):
            if under in ranks and under != over.id and ranks[over.id] <= ranks[under]:
                into.setdefault(under, over.id)
    return tuple(each._replace(folded_into=_last(each.id, into)) if each.id in into else each for each in cautions)


def _last(name: str, into: Mapping[str, str]) -> str:
    """Return where a rule ends up, '' where it is not folded or its folds lead in a circle."""
    seen = [name]
    while seen[-1] in into:
        following = into[seen[-1]]
        if following in seen:
            return ""
        seen.append(following)
    return "" if len(seen) == 1 else seen[-1]


def holds(condition: Mapping[str, Any], facts: Mapping[str, Any]) -> bool:
    """Say whether the facts meet a condition."""
    return test_of(condition)(facts)


def test_of(condition: Mapping[str, Any]) -> Test:
    """Return a condition made ready to be asked of facts, many times over."""
    if "fact" in condition:
        return _test_of_one(condition["fact"], condition["is"])
    if "not" in condition:
        denied = test_of(condition["not"])
        return lambda facts: not denied(facts)
    decides = "any" in condition  # what one part decides: that any holds, or that not all do
    joined = [test_of(each) for each in condition["any" if decides else "all"]]

    def test(facts: Mapping[str, Any]) -> bool:
        for part in joined:
            if part(facts) is decides:
                return decides
        return not decides

    return test


def _test_of_one(path: str, fragment: Mapping[str, Any]) -> Test:
    asked = [(KEYWORDS[keyword], wanted) for keyword, wanted in fragment.items()]

    def test(facts: Mapping[str, Any]) -> bool:
        value = fact(path, facts)
        for meets, wanted in asked:  # noqa: SIM110 - asked some thousand times
            if not meets(value, wanted):
                return False
        return True

    return test


def reasons(condition: Mapping[str, Any], facts: Mapping[str, Any], depth: int = 0) -> list[str]:
    """Return why a condition holds or does not, a line for each of its parts, indented as they are joined."""
    verdict = "holds" if holds(condition, facts) else "does not hold"
    indent = "  " * depth
    if "fact" in condition:
        asked = condition["is"].items()
        wanted = ", ".join(
            f"a {asks}" if keyword == "type" else f"{_PLAIN[keyword]} {json.dumps(asks, ensure_ascii=False)}"
            for keyword, asks in asked
        )
        value = json.dumps(fact(condition["fact"], facts), ensure_ascii=False)
        return [f"{indent}{condition['fact']} is {value}; wanted: {wanted}: {verdict}"]
    for joint in ("all", "any"):
        if joint in condition:
            parts = [line for part in condition[joint] for line in reasons(part, facts, depth + 1)]
            return [f"{indent}{joint} of these: {verdict}", *parts]
    return [f"{indent}not this: {verdict}", *reasons(condition["not"], facts, depth + 1)]


_PLAIN = {
    "const": "exactly",
    "enum": "one of",
    "minimum": "at least",
    "maximum": "at most",
    "exclusiveMinimum": "more than",
    "exclusiveMaximum": "less than",
}


def fact(path: str, facts: Mapping[str, Any]) -> Any:
    """Return a fact by its dotted path; LookupError if there is none of that name."""
    value: Any = facts
    try:
        for name in _names(path):
            value = value[name]
    except (KeyError, TypeError):  # no such name, or nothing is grouped under the name before it
        raise LookupError(f"there is no fact '{path}'") from None
    return value


@cache
def _names(path: str) -> tuple[str, ...]:
    return tuple(path.split("."))


# After the number a space that does not break: a unit never stands on a line of its own.
_UNITS = {
    "ft": "\u00a0ft",
    "kt": "\u00a0kt",
    "lb": "\u00a0lb",
    "in": "\u00a0in",
    "min": "\u00a0min",
    "h": "\u00a0h",
    "days": "\u00a0days",
    "nm": "\u00a0NM",
    "degC": "\u00a0°C",
    "percent": "\u00a0%",
    "fpm": "\u00a0ft/min",
    "deg": "°",
}


def said_with(text: str, facts: Mapping[str, Any], said: Mapping[str, str]) -> str:
    """Return a rule's text with its {facts} in place, each with the unit of its name, or as it is said."""

    def put(found: re.Match[str]) -> str:
        value = fact(found[1], facts)
        if found[1] in said:
            return said[found[1]]
        if not _number(value):
            return "not worked" if value is None else str(value)
        number = f"{value:,.2f}".rstrip("0").rstrip(".")
        return number + _UNITS.get(found[1].rpartition("_")[2], "")

    return IN_TEXT.sub(put, text)

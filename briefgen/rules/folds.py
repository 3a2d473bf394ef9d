"""What the rules of the packs fold, and whether a file's own folds can be followed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from functools import cache

from briefgen.files.entry import Entry
from briefgen.rules.engine import PACKS, Rule

_SHIPPED = re.compile(r"^  - id: (?P<id>\S+)$|^    folds: \[(?P<folds>[^]]*)\]$", re.MULTILINE)


@cache
def shipped() -> Mapping[str, tuple[str, ...]]:
    """Return what each rule of the packs that come with the program folds, without reading the packs whole."""
    found: dict[str, tuple[str, ...]] = {}
    for file in sorted(PACKS.glob("*.yaml")):
        last = ""
        for each in _SHIPPED.finditer(file.read_text(encoding="utf-8")):
            if each["id"]:
                last = each["id"]
                found[last] = ()
            else:
                found[last] = tuple(each["folds"].split(", "))
    return found


def check_folds(entries: Iterable[Entry], rules: Iterable[Rule]) -> None:
    """Note a fault where a rule folds itself, one that is not there, or one that leads back to it."""
    folds = {**shipped(), **{rule.id: rule.folds for rule in rules}}
    told: set[str] = set()
    for entry in entries:
        own = entry.text("id")
        for each in entry.items("folds"):
            name = str(each.value)
            if name == own:
                each.fault("a rule cannot fold itself")
            elif name not in folds:
                near = get_close_matches(name, folds, 1, 0.6)
                hint = f"did you mean '{near[0]}'?" if near else "`briefgen rules` lists those of the packs"
                each.fault(f"there is no rule '{name}' in this file or in any pack", hint)
            elif own not in told and own in (circle := _reached(name, folds)):
                told |= circle
                each.fault(f"'{own}' folds '{name}', which leads back to '{own}'", "one of them must be printed")


def _reached(name: str, folds: Mapping[str, tuple[str, ...]]) -> set[str]:
    """Return every rule that is folded into one, at however many removes, that one with them."""
    found: set[str] = set()
    waiting = [name]
    while waiting:
        each = waiting.pop()
        if each not in found:
            found.add(each)
            waiting += folds.get(each, ())
    return found

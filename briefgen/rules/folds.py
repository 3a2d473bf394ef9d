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
    """Note a fault where a rule folds itself, one that is not in its file, or one that leads back to it.

    A file of a club's own cannot fold a rule of the packs, nor take its name: that would leave a caution out.
    """
    folds = {rule.id: rule.folds for rule in rules}
    told: set[str] = set()
    for entry in entries:
        own = entry.text("id")
        if own in shipped():
            entry["id"].fault(f"'{own}' is a rule of the packs already", "give it a name of its own")
        for each in entry.items("folds"):
            name = str(each.value)
            if name == own:
                each.fault("a rule cannot fold itself")
            elif name in shipped():
                each.fault(f"'{name}' is a rule of the packs: a file of your own cannot leave it out")
            elif name not in folds:
                near = get_close_matches(name, folds, 1, 0.6)
                each.fault(f"there is no rule '{name}' in this file", f"did you mean '{near[0]}'?" if near else "")
            elif own not in told and own in (circle := reached(name, folds)):
                told |= circle
                each.fault(f"'{own}' folds '{name}', which leads back to '{own}'", "one of them must be printed")


def reached(name: str, folds: Mapping[str, tuple[str, ...]]) -> set[str]:
    """Return every rule that is folded into one, at however many removes, that one with them."""
    found: set[str] = set()
    waiting = [name]
    while waiting:
        each = waiting.pop()
        if each not in found:
            found.add(each)
            waiting += folds.get(each, ())
    return found

"""Whatever is done to the example files, a command ends with 0 or 2, and what it says is placed: never a traceback.

Three hundred mutations, the same ones every time: lines deleted, doubled and changed over, values swapped for other
values of the club's files, junk put in. The source is the contract, design.md 'Bad input' and 'Exit status'.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from pathlib import Path

import pytest
from club import FILES, copied, runner

VALUE = re.compile(r'(?<=[:\[,]) *("[^"]*"|[^,\[\]{}:\n"#]+)')
JUNK = (
    *('"', "[", "]", "{", "}", ": ", "- ", "\n", "\t", "#", "? ", "|", ">", "&a ", "*a", "!x ", "~", "%", "---\n"),
    *("null", "true", "[]", "{}", "-1", "0", "9", "1e999", "9" * 400, '""', '"  "', '"\\0"', "é", "\x07", "\u202e"),
    *("-5 ft", "0 ft", "100000 ft", '"2450 lb\\n"', "99 %", "900 %", "0 kt", "1/0", "0/0", "blank", "standard"),
    *("from ident", "360 true at 99 gust 99 kt", "variable at 99 kt", "9999-12-31T23:59Z", "../policy.yaml"),
)
PER_FILE = 60


def mutated(text: str, values: list[str], dice: random.Random) -> str:
    """Return a text with one thing done to it."""
    lines = text.split("\n")
    one, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    kind = dice.choice(("delete", "delete more", "change over", "double", "swap", "swap", "junk", "splice"))
    if kind.startswith("delete"):
        del lines[one : one + (1 if kind == "delete" else 4)]
        return "\n".join(lines)
    if kind == "change over":
        lines[one], lines[other] = lines[other], lines[one]
        return "\n".join(lines)
    if kind == "double":
        return "\n".join([*lines[:one], lines[one], *lines[one:]])
    found = list(VALUE.finditer(text))
    if kind == "splice" or not found:
        at = dice.randrange(len(text) + 1)
        return text[:at] + dice.choice(JUNK) + text[at + dice.randrange(3) :]
    start, end = dice.choice(found).span(1)
    return text[:start] + dice.choice(values if kind == "swap" else JUNK) + text[end:]


@pytest.mark.parametrize("name", FILES)
def test_no_mutation_of_a_file_becomes_a_traceback(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    club, run = copied(tmp_path), runner(capsys)
    monkeypatch.chdir(club)
    values = [found[1].strip() for file in FILES for found in VALUE.finditer((club / file).read_text("utf-8"))]
    assert len(values) > 500
    original = (club / name).read_text(encoding="utf-8")
    ended_with: Counter[int] = Counter()
    for seed in range(PER_FILE):
        dice = random.Random(f"{name} {seed}")
        text = original
        for _ in range(dice.choice((1, 1, 1, 2, 3))):
            text = mutated(text, values, dice)
        (club / name).write_text(text, encoding="utf-8")
        ended = run("check", "trip.yaml")
        ended_with[ended.status] += 1
        lines = ended.err.splitlines()
        where = f"{name}, mutation {seed}:\n{ended.err}"
        assert ended.status == (2 if lines else 0), where
        assert all(re.fullmatch(r"[^ :]+:[0-9]+:[0-9]+ [^ ].*", line) for line in lines), where
    assert ended_with[2] > PER_FILE / 2  # most of them do harm
    assert ended_with.total() == PER_FILE

"""Read a hand-worked sheet: its rows `| id | what | arithmetic | value |`, by id."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

HERE = Path(__file__).resolve().parent
NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")


def rows(name: str) -> dict[str, str]:
    """Return the value written in each row of the tables headed 'id', by the row's id."""
    found: dict[str, str] = {}
    inside = False
    for line in (HERE / name).read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if not line.startswith("|"):
            inside = False
        elif cells[0] == "id":
            inside = True
        elif inside and set(cells[0]) != {"-"}:
            assert cells[0] not in found, f"{name} writes '{cells[0]}' twice"
            found[cells[0]] = cells[-1]
    return found


def agree(worked: object, written: str) -> bool:
    """Say whether a worked value is the written one: text as it stands, a number to half of its last digit."""
    if isinstance(worked, str) or not NUMBER.fullmatch(written):
        return worked == written
    _, _, decimals = written.partition(".")
    half = 0.5 * 10 ** -len(decimals) if decimals else 0.0  # a whole number is a printed one, and exact
    return worked == pytest.approx(float(written), rel=0, abs=half + 1e-9)


def disagreements(worked: dict[str, object], written: dict[str, str]) -> list[str]:
    """Return one line for every row on which the program and the sheet differ, or that only one of them has."""
    lines = [f"{id}: no such row on the sheet" for id in worked if id not in written]
    lines += [f"{id}: on the sheet, and not compared" for id in written if id not in worked]
    return lines + [
        f"{id}: worked {value!r}, written {written[id]}"
        for id, value in worked.items()
        if id in written and not agree(value, written[id])
    ]

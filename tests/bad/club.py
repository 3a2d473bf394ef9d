"""A copy of the example club to spoil, and the command line run on it."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.cli import main

FILES = (
    "trip.yaml",
    "policy.yaml",
    "aircraft/n0142.yaml",
    "strips/quillmere.yaml",
    "strips/tansy-bottom.yaml",
    "rules.yaml",
)


@dataclass(frozen=True, slots=True)
class Ended:
    """How a command ended."""

    status: int
    out: str
    err: str


Run = Callable[..., Ended]


def copied(folder: Path) -> Path:
    """Copy the example club below a folder, and return where it is."""
    return Path(shutil.copytree(EXAMPLE, folder / "club"))


def runner(capsys: pytest.CaptureFixture[str]) -> Run:
    """Return a function that runs a command and says how it ended."""

    def run(*arguments: str) -> Ended:
        capsys.readouterr()
        status = main(arguments)
        return Ended(status, *capsys.readouterr())

    return run


def listing(folder: Path) -> list[str]:
    """Return every file below a folder, so that one too many is seen."""
    return sorted(str(each.relative_to(folder)) for each in folder.rglob("*"))

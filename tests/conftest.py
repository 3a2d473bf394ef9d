"""What many tests share."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
EXAMPLE = ROOT / "examples" / "quillmere"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the flag that rewrites golden files."""
    parser.addoption("--update-golden", action="store_true", help="write the golden files anew")


@pytest.fixture
def example() -> Path:
    """The example club's trip file."""
    return EXAMPLE / "trip.yaml"

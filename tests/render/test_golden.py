"""The example's sheet, line by line, against the one that was looked at and kept.

A golden file shows what a change did to the sheet; it proves no figure. `make golden` writes it anew.
"""

from __future__ import annotations

import re
from base64 import b64decode
from difflib import unified_diff
from pathlib import Path

import pytest

from briefgen.pipeline import brief_of
from briefgen.render.sheet import to_html

GOLDEN = Path(__file__).parent / "golden" / "quillmere.html"


def readable(html: str) -> str:
    """Return a sheet with its drawings as text and without the place of the typeface."""
    html = re.sub(r'url\("file:[^"]*/([^"/]+)"\)', r'url("\1")', html)
    return re.sub(
        r'"data:image/svg\+xml;base64,([^"]+)"', lambda found: "\n" + b64decode(found[1]).decode() + "\n", html
    )


def test_the_sheet_is_the_one_that_was_looked_at(example: Path, request: pytest.FixtureRequest) -> None:
    html = readable(to_html(brief_of(example, "trip.yaml"), for_screen=False))
    if request.config.getoption("--update-golden"):
        GOLDEN.write_text(html, encoding="utf-8")
    expected = GOLDEN.read_text(encoding="utf-8")
    difference = list(unified_diff(expected.splitlines(), html.splitlines(), "kept", "now", lineterm="", n=1))
    assert not difference, "\n".join(difference[:60]) + "\n`make golden` keeps the new one, once it was looked at"


def test_the_kept_sheet_is_one_of_some_size() -> None:
    assert len(GOLDEN.read_text(encoding="utf-8")) > 20_000

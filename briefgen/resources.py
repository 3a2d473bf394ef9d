"""Find the schemas, templates and examples: inside an installed package, or at the top of a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def folder(name: str) -> Path:
    """Return the folder 'schemas', 'templates' or 'examples'."""
    installed = _PACKAGE / "resources" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name

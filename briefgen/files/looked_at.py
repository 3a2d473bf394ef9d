"""Which files were looked at while something was read, whether or not they were there: what a watch watches."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import NamedTuple


class Stamp(NamedTuple):
    """What of a file changes when it is saved, also by writing another one and renaming that."""

    modified_ns: int
    inode: int
    size: int


_NOTED: ContextVar[dict[Path, Stamp | None] | None] = ContextVar("noted", default=None)


def stamp(path: Path) -> Stamp | None:
    """Return the stamp of a file or folder; None where there is none to be seen."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return Stamp(found.st_mtime_ns, found.st_ino, found.st_size)


def look_at(path: Path) -> None:
    """Note a file or folder that is about to be read, as it stands now, where somebody wants to know."""
    noted = _NOTED.get()
    if noted is not None:
        noted.setdefault(path, stamp(path))


@contextmanager
def noting() -> Iterator[dict[Path, Stamp | None]]:
    """Gather every file that is looked at inside, with its stamp from before it was read."""
    noted: dict[Path, Stamp | None] = {}
    token = _NOTED.set(noted)
    try:
        yield noted
    finally:
        _NOTED.reset(token)

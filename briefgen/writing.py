"""Write a finished file: whole, or not at all."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from briefgen.errors import InputFault, Problem


def target_for(output: str, kinds: Sequence[str]) -> Path:
    """Return the file to write.

    Raises
    ------
    InputFault : its ending is none of `kinds`, or its folder is not there.
    """
    target = Path(output)
    if target.suffix.lower() not in kinds:
        raise InputFault([Problem(output, 0, 0, f"the ending must be one of {', '.join(kinds)}")])
    if not target.parent.is_dir():
        raise InputFault([Problem(output, 0, 0, "there is no such folder to write it in")])
    return target


def write(target: Path, content: bytes) -> None:
    """Write beside the target, then rename: a reader never sees half a file.

    Raises
    ------
    InputFault : it cannot be written there.
    """
    beside = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        beside.write_bytes(content)
        beside.replace(target)
    except OSError as error:
        raise InputFault([Problem(str(target), 0, 0, f"cannot be written: {error.strerror}")]) from None
    finally:
        with suppress(OSError):  # it was renamed, or could never be made
            beside.unlink(missing_ok=True)

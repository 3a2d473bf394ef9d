"""Renew the record of the check in aircraft files that were edited: run it on them, or use it in a test.

A record says what a person compared. Only invented files, and files of tests, may have it renewed by a program.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

from briefgen.files.document import parse
from briefgen.files.read_provenance import contents

_RECORD = re.compile(r"(?m)(?<=^    content:\n)(?:      \w+: .*\n)+")


def renewed(text: str) -> str:
    """Return the text of an aircraft file with its record as if it had just been checked; one without is left."""
    if not _RECORD.search(text):
        return text
    now = contents(parse(text, Path("aircraft.yaml"), "aircraft.yaml").value)
    return _RECORD.sub("".join(f'      {part}: "{digits}"\n' for part, digits in now.items()), text)


if __name__ == "__main__":
    for name in sys.argv[1:]:
        file = Path(name)
        file.write_text(renewed(file.read_text(encoding="utf-8")), encoding="utf-8")

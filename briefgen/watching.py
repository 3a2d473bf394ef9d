"""Build again whenever a file that a trip is read from is saved: `briefgen build --watch`.

Files are looked at twice a second, by when they were modified, by inode and by size: so an editor that writes
another file and renames it is seen too, and nothing of the system or of a library is needed.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path

from briefgen.brief import Brief
from briefgen.errors import BriefgenError
from briefgen.files.looked_at import Stamp, look_at, noting, stamp
from briefgen.item import tally, told

EVERY_S = 0.5
MOST_FILES = 500  # that are watched; of more, those that were looked at last

Seen = dict[Path, Stamp | None]


def watch(trip: Path, target: Path, build: Callable[[], Brief], *, every_s: float = EVERY_S) -> int:
    """Build, and again after each save, until the user stops it; return the exit status for that.

    Parameters
    ----------
    trip : the trip file.
    target : the file that is written.
    build : writes it, and returns what is in it; raises BriefgenError.
    every_s : how often the files are looked at.
    """
    seen: Seen = {}
    try:
        while True:
            seen = _built(trip, target, build, seen)
            while not changed(seen):
                time.sleep(every_s)
            _settle(seen, every_s)
    except KeyboardInterrupt:
        print(f"{_clock()} stopped", flush=True)
        return 0


def _built(trip: Path, target: Path, build: Callable[[], Brief], before: Seen) -> Seen:
    """Build once, say how it went, and return what to watch: where it failed, also what was known before."""
    with noting() as noted:
        look_at(trip)
        try:
            brief = build()
        except BriefgenError as error:
            for line in error.lines():
                print(line, file=sys.stderr)
            print(f"{_clock()} {_still(target)}", file=sys.stderr, flush=True)
            known = {path: stamp(path) for path in before}
        else:
            print(f"{_clock()} {target}: {told(tally(brief.items))}", flush=True)
            known = {}
    return dict(list({**known, **noted}.items())[-MOST_FILES:])


def changed(seen: Mapping[Path, Stamp | None]) -> bool:
    """Say whether any file is not as it was seen."""
    return any(stamp(path) != was for path, was in seen.items())


def _settle(seen: Seen, every_s: float) -> None:
    """Wait until a save is done: nothing changes from one look to the next, for at most ten of them."""
    last = {path: stamp(path) for path in seen}
    for _ in range(10):
        time.sleep(every_s / 5)
        now = {path: stamp(path) for path in seen}
        if now == last:
            return
        last = now


def _still(target: Path) -> str:
    found = stamp(target)
    if found is None:
        return f"{target} is not there yet"
    return f"{target} is still the one from {datetime.fromtimestamp(found.modified_ns / 1e9):%H:%M}"


def _clock() -> str:
    return f"{datetime.now():%H:%M:%S}"

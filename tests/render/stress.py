"""Trips that try a page hard, each made from the example club by edits: `make_trip` writes one into a folder."""

from __future__ import annotations

import re
import shutil
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from records import renewed  # noqa: E402 the folder above is no package

CLUB = ROOT / "examples" / "quillmere"
TRIP, POLICY, AIRCRAFT = "trip.yaml", "policy.yaml", "aircraft/n0142.yaml"
HOME, AWAY = "strips/quillmere.yaml", "strips/tansy-bottom.yaml"
Edit = tuple[str, str, str]  # the file; what stands there; what shall: "" for the first puts it at the end


def printed(size: str = "half letter", *more: str) -> tuple[Edit, ...]:
    """Return the edits for a paper, and for further lines of the policy."""
    return tuple((POLICY, "", line) for line in (f"page_size: {size}", *more))


METRIC = "units: metric"
HEAD = 'letterhead: {name: Quillmere Flying Club, lines: ["Hangar 2, Quillmere", "telephone 555 0142"]}'
SHORT_AWAY = (AWAY, "length: 1120 ft", "length: 600 ft")
LONG_AWAY = (AWAY, "length: 1120 ft", "length: 12000 ft")
LONG_HOME = (HOME, "2990 ft", "12000 ft"), (HOME, "LDA: 2840 ft", "LDA: 11850 ft")
SHORT_HOME = (
    (HOME, "2990 ft", "600 ft"),
    (HOME, "LDA: 2840 ft", "LDA: 450 ft"),
    (HOME, "at: 900 ft", "at: 90 ft"),
    (HOME, "at: 1500 ft", "at: 300 ft"),
)
LEGS = "".join(
    f"    - {{to: {name}, position: {40.05 + 0.095 * i:.3f} N {(84.12, 84.34)[i % 2]:.2f} W, "
    f"altitude: {(4500, 5500)[i % 2]} ft, power: 2400 rpm}}\n"
    for i, name in enumerate(
        [
            "Old Mill",
            "Water Tower",
            "Long Bridge",
            "Three Ponds",
            "Church Spire",
            "Two Chimneys",
            "Quarry",
            "River Bend",
            "Silos",
            "Depot",
            "Orchard",
        ]
    )
)
TWELVE_LEGS = (
    (TRIP, "    - {to: Two Chimneys, position: 40.950 N 84.600 W, altitude: 4500 ft, power: 2400 rpm}\n", LEGS),
)
RULE = """
  - id: gallery-{i}
    severity: {severity}
    when: {{fact: arrival.surface, is: {{const: grass}}}}
    text: "Number {i} of the cautions: sheep, the gate by the hedge, a soft patch in the second third."
    citation: {{source: "Quillmere club standard (invented), 2026-05", known: read, checked: 2026-11-25}}
    cases:
      - {{fires: true, facts: {{arrival.surface: grass}}}}
      - {{fires: false, facts: {{arrival.surface: paved}}}}
"""
CAUTIONS = tuple(
    ("rules.yaml", "", RULE.format(i=i, severity=("serious", "watch", "note")[i % 3])) for i in range(1, 26)
)
LONG = (
    "the grass by the third cone is soft after rain, the farmer wants to be telephoned the evening before, the "
    "gate at the far end is kept shut, and nobody crosses the lane on foot while an airplane is on final; "
)
REMARKS = tuple((TRIP, "remarks:\n", f"remarks:\n  - {(LONG * 2)[:398].strip()}\n") for _ in range(4))
NAMED = (
    *(
        "Quillmere",
        "Tansy Bottom",
        "Pennywort Hill",
        "Two Chimneys",
        "front seats",
        "rear seats",
        "baggage",
        "wings",
    ),
    *("windsock", "cone", "taxiway", "poplars", "hedge", "oil change", "Fuel dipped", "Instructor A"),
    *("instructor and student", "power line", "white board", "tire"),
)
FORTY = "of the northern orchard by Featherstonehaugh"
SHORT = (
    (TRIP, "temperature: 27 degC", "temperature: 38 degC"),
    (TRIP, "wind: 190 magnetic at 8 gust 14 kt", "wind: 260 magnetic at 18 gust 28 kt"),
    (TRIP, "wind: 120 magnetic at 7 gust 11 kt", "wind: 180 magnetic at 20 gust 30 kt"),
    (TRIP, "wind: 150 magnetic at 9 gust 13 kt", "wind: 220 magnetic at 20 gust 30 kt"),
    (TRIP, "    ceiling: 7000 ft\n    visibility: 6 SM", "    ceiling: 700 ft\n    visibility: 2 SM"),
    (TRIP, "ceiling: 6000 ft, visibility: 6 SM", "ceiling: 600 ft, visibility: 2 SM"),
    (TRIP, "on_board: 21 gal", "on_board: 12 gal"),
    (TRIP, "{wings: 21 gal}", "{wings: 12 gal}"),
    (TRIP, "weight: 2450 lb", "weight: 2396 lb"),
    (TRIP, "weight: 2410 lb", "weight: 2356 lb"),
    (
        POLICY,
        "minimum_margin: {takeoff: 300 ft, landing: 100 ft}",
        "minimum_margin: {takeoff: 3000 ft, landing: 3000 ft}",
    ),
    *SHORT_HOME,
    SHORT_AWAY,
)
BARE = """trip: nothing but the airplane, two runways, and how
as_of: 2026-05-16T14:00Z
crew: pilot
aircraft: aircraft/n0142.yaml
departure: {strip: strips/quillmere.yaml, runway: "17", weight: 2450 lb, flaps: "10", technique: short field}
arrival: {strip: strips/tansy-bottom.yaml, runway: "09", weight: 2410 lb, flaps: "30", technique: short field}
"""


def make_trip(name: str, folder: Path) -> Path:
    """Write one trip of the gallery into a new folder of its own, and return its trip file."""
    club = Path(shutil.copytree(CLUB, folder / name.replace(" ", "-")))
    trip = club / (name if name == "solo.yaml" else TRIP)
    for file, old, new in GALLERY[name]:
        path = club / file
        text = path.read_text(encoding="utf-8")
        assert old in text, (name, file, old)
        text = text.replace(old, new) if old else f"{text}\n{new}"
        path.write_text(renewed(text) if file == AIRCRAFT else text, encoding="utf-8")
    if name in MORE:
        MORE[name](club)
    return trip


def _named_at_length(club: Path) -> None:
    """Give all that has a name one of forty characters, but the trip, whose title has room for sixty in all."""
    name = re.compile(rf"\b({'|'.join(NAMED)})\b(?! club| standard| Flying)")
    for path in sorted(club.rglob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        lines = [
            line if line.startswith(("trip:", "#", "- ", "differences")) else name.sub(_forty, line)
            for line in text.splitlines(keepends=True)
        ]
        text = "".join(lines)
        path.write_text(renewed(text) if path.parent.name == "aircraft" else text, encoding="utf-8")


def _forty(found: re.Match[str]) -> str:
    return f"{found[0]} {FORTY}"[:40].rstrip()


def _bared(club: Path) -> None:
    (club / TRIP).write_text(BARE, encoding="utf-8")


def _bared_with_policy(club: Path) -> None:
    (club / TRIP).write_text(BARE + "policy: policy.yaml\n", encoding="utf-8")


GALLERY: Mapping[str, tuple[Edit, ...]] = {
    "half letter": printed(),
    "A5": printed("A5"),
    "letter": printed("letter", HEAD),
    "A4": printed("A4"),
    "half letter metric": printed("half letter", METRIC),
    "A4 metric": printed("A4", METRIC, HEAD),
    "600 ft at the destination": (SHORT_AWAY, *LONG_HOME),
    "12000 ft at the destination": (LONG_AWAY, *SHORT_HOME),
    "twelve legs": TWELVE_LEGS,
    "twelve legs A4": TWELVE_LEGS + printed("A4"),
    "25 cautions": CAUTIONS,
    "25 cautions letter": CAUTIONS + printed("letter"),
    "long names": (),
    "long names A4 metric": printed("A4", METRIC),
    "nothing given": (),
    "nothing given A4": printed("A4"),
    "solo.yaml": (),
    "short of everything": SHORT,
    "long remarks": REMARKS,
}
MORE: Mapping[str, Callable[[Path], None]] = {
    "long names": _named_at_length,
    "long names A4 metric": _named_at_length,
    "nothing given": _bared,
    "nothing given A4": _bared_with_policy,
}

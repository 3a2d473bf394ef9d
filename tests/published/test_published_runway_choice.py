"""The ranked runways agree with the published choice of a runway by its crosswind.

Source: W-5 of the outside check values, a European question bank and the FAA's (second-hand): runways 06, 14, 24
and 32, wind 180 at 20 kt, a crosswind limit of 13 kt: choose 14. The strip is invented, its two runways equal and
level, its headings exact; the wind is the only thing that tells the ends apart.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from briefgen.cli import main

STRIP = """
strip: Fourways
source: invented for the test
not_for_flight: invented data
elevation: 700 ft
position: 41.245 N 84.310 W
variation: 0 E
runways:
"""
RUNWAY = """
  - length: 3200 ft
    surface: paved
    ends:
      - {{ident: "{first:02d}", heading: {first:02d}0 true, elevation: 700 ft, beyond: level}}
      - {{ident: "{second:02d}", heading: {second:02d}0 true, elevation: 700 ft, beyond: level}}
"""
OLD_LIMIT = "  demonstrated_crosswind: {value: 15 kt, page: 4-9}\n"
LIMIT = "  crosswind_limitation: {value: 13 kt, page: invented}\n"


def ranked(example: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], chosen: str) -> list[dict[str, Any]]:
    """Return the ends of the field for takeoff, and for landing, as the command ranks them."""
    club = Path(shutil.copytree(example.parent, tmp_path / f"club{chosen}"))
    strip = STRIP + RUNWAY.format(first=6, second=24) + RUNWAY.format(first=14, second=32)
    (club / "strips" / "tansy-bottom.yaml").write_text(strip, encoding="utf-8")
    edits = {
        "trip.yaml": [
            ('strips/quillmere.yaml\n  runway: "17"', f'strips/tansy-bottom.yaml\n  runway: "{chosen}"'),
            ('runway: "09"', f'runway: "{chosen}"'),
            ("190 magnetic at 8 gust 14 kt", "180 true at 20 kt"),
            ("120 magnetic at 7 gust 11 kt", "180 true at 20 kt"),
        ],
        "aircraft/n0142.yaml": [(OLD_LIMIT, LIMIT)],
        "policy.yaml": [("crosswind_maximum: 12 kt\n", "")],
    }
    for file, changes in edits.items():
        text = (club / file).read_text(encoding="utf-8")
        text = text.partition("\nroute:")[0] if file == "trip.yaml" else text
        for old, new in changes:
            assert old in text, old
            text = text.replace(old, new)
        (club / file).write_text(text, encoding="utf-8")
    capsys.readouterr()
    assert main(["runways", str(club / "trip.yaml"), "--json"]) == 0
    fields = json.loads(capsys.readouterr().out)["fields"]
    assert [field["place"] for field in fields] == ["departure", "arrival", "alternate"]
    return fields[:2]


@pytest.mark.parametrize("chosen", ["06", "14", "24", "32"])
def test_W_5_runway_14_stands_first_whatever_the_trip_has_chosen(
    example: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], chosen: str
) -> None:
    for field in ranked(example, tmp_path, capsys, chosen):
        ends = {end["runway"]: end for end in field["ends"]}
        assert field["ends"][0]["runway"] == "14"
        assert set(ends) == {"06", "14", "24", "32"}
        assert [end["runway"] for end in field["ends"] if end["chosen"]] == [chosen]
        across = {ident: end["items"][-1] for ident, end in ends.items()}
        # 20 kt x sin 40 = 12.86 and sin 60 = 17.32, printed up; 13 is within the limit of 13, 18 is not.
        assert {ident: row["need"] for ident, row in across.items()} == {"06": 18, "14": 13, "24": 18, "32": 13}
        assert {row["have"] for row in across.values()} == {13}
        assert {ident: row["state"] for ident, row in across.items()} == {
            "06": "short", "14": "meets policy", "24": "short", "32": "meets policy"
        }  # fmt: skip
        assert ends["14"]["state"] != "short"
        # 32 has 15.3 kt from behind, past the handbook's note for 10 kt: it is there, with the reason.
        assert ends["32"]["state"] == "not shown"
        assert "past the note's limit of 10 kt" in ends["32"]["items"][0]["reason"]

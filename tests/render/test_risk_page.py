"""The prompts of the risk: facts of the trip, worked by hand beside each; what is unknown says so.

Sources: RK-01, RK-02, RK-03, RK-05 of the check values (PAVE, FAA-H-8083-2A; 5P: names read, points of decision
from memory; personal minimums: no figures published, none shipped). Of RK-04 (what may follow, and what may be done
about it) the sheet prints nothing: those are thoughts, and no fact of a trip answers them.
"""

from __future__ import annotations

import re
import shutil
from functools import cache
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.pipeline import brief_of
from briefgen.render.asked import risk_data
from briefgen.render.sheet import to_html
from briefgen.render.text import summary
from briefgen.risk_page import Prompt, RiskPage, risk_page


@cache
def brief(name: str = "trip.yaml") -> Brief:
    return brief_of(EXAMPLE / name, name)


def by_name(page: RiskPage) -> dict[str, Prompt]:
    return {prompt.about: prompt for side in page.sides for prompt in side.prompts}


def edited(tmp_path: Path, file: str, old: str, new: str) -> dict[str, Prompt]:
    """Return the prompts of the example with an edit; the old text is a pattern."""
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    text, count = re.subn(old, new, (club / file).read_text(encoding="utf-8"))
    assert count
    (club / file).write_text(text, encoding="utf-8")
    return by_name(risk_page(brief_of(club / "trip.yaml", "trip.yaml")))


def test_the_sides_and_the_five_are_those_of_the_publication() -> None:
    """RK-01, RK-02 (the last of it emotion, not eating), RK-03 (asked again at five points of decision)."""
    page = risk_page(brief())
    points = ["before the flight", "before takeoff", "on the way", "before the descent", "before the pattern"]
    assert page.again.partition(":")[0] == f"Again {', '.join(points)}"
    assert [side.title for side in page.sides] == ["Pilot", "Aircraft", "Environment", "External pressures"]
    assert page.again.endswith("plan, plane, pilot, passengers, programming.")
    for each in ("illness", "medication", "stress", "alcohol", "fatigue", "emotion"):
        assert each in by_name(page)["own state"].said


def test_recent_flying_is_counted_back_from_the_day_of_the_flight() -> None:
    """Flight 2026-05-16. 2026-02-15 is the 90th day before (13 + 31 + 30 + 16 = 90), not counted: 2 + 6 are left.

    The newest was on 05-02, 14 days before.
    """
    said = by_name(risk_page(brief()))["recent flying"].said
    assert said == "8 takeoffs, 8 landings in 90 days; the last 14 days ago"


def test_the_89th_day_counts(tmp_path: Path) -> None:
    """2026-02-16: 89 days before, with 1 more."""
    found = edited(tmp_path, "pilots/instructor-a.yaml", "date: 2026-02-15", "date: 2026-02-16")
    assert found["recent flying"].said.startswith("9 takeoffs, 9 landings in 90 days")


def test_the_least_margin_of_the_runways_is_named_with_its_row() -> None:
    """The example's rows of distances, have over need: the least is the flaps-up landing's, with its own state."""
    rows = [item for item in brief().items if item.ratio is not None and item.id != "fuel"]
    least = min(rows, key=lambda item: item.have / item.need)  # type: ignore[operator]
    said = by_name(risk_page(brief()))["least runway"].said
    assert said.startswith(f"{least.title}, {least.where}: ")
    assert said.endswith(f", {least.state.value}")
    assert least.have is not None
    assert least.need is not None
    assert f": {int(100 * least.have / least.need) / 100:.2f} of the need, " in said


def test_distances_that_are_not_shown_are_counted(tmp_path: Path) -> None:
    """Without a takeoff table for the planned flaps, ground roll and over 50 ft: 2."""
    found = edited(tmp_path, "aircraft/n0142.yaml", 'takeoff:\n  - flaps: "10"', 'takeoff:\n  - flaps: "20"')
    assert found["least runway"].said.endswith("; 2 more not shown")


def test_the_crosswind_is_a_share_of_what_is_demonstrated() -> None:
    """The greater of both is 6 kt; 6 / 15 = 40 %."""
    assert max(item.need or 0 for item in brief().items if item.id.endswith("-crosswind")) == 6
    assert by_name(risk_page(brief()))["crosswind"].said == "6\u00a0kt, 40\u00a0% of the 15\u00a0kt demonstrated"


def minutes(clock: str) -> int:
    return int(clock[:2]) * 60 + int(clock[2:])


def test_time_and_daylight_are_the_differences_of_the_clocks_they_name() -> None:
    found = by_name(risk_page(brief()))
    for about in ("time", "daylight"):
        gap, first, last = re.findall(r"[\d,]+(?=\u00a0min)|\d\d:\d\dZ", found[about].said)
        clocks = [minutes(each.replace(":", "")[:4]) for each in (first, last)]
        assert (clocks[1] - clocks[0]) % (24 * 60) == int(gap.replace(",", ""))


def test_ceiling_and_visibility_are_those_of_the_first_page() -> None:
    """Of the fields of departure and arrival, and between them of the leg that is worst."""
    found, items = by_name(risk_page(brief())), {item.id: item for item in brief().items}
    for id in ("departure-weather", "arrival-weather"):
        assert items[id].answer
        assert found[f"weather, {items[id].where}"].said == items[id].answer
    assert items["legs-weather"].answer
    assert found["weather, along the legs"].said == items["legs-weather"].answer
    assert "weather, along the legs" not in by_name(risk_page(brief("solo.yaml")))


def test_recent_flying_is_not_said_to_be_current() -> None:
    """The log may be short of what 61.57 asks for, or not given: the question holds all the same."""
    for name in ("trip.yaml", "solo.yaml"):
        assert by_name(risk_page(brief(name)))["recent flying"].asks == "proficient, not only current?"


SKY = "ceiling: 6000 ft, visibility: 6 SM}"


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (SKY, SKY, "Pennywort Hill 13: meets policy: Landing, alternate; Ceiling and visibility"),
        # under the 1 SM that 91.155 asks for at the least
        (
            SKY,
            "ceiling: 300 ft, visibility: 0.5 SM}",
            "Pennywort Hill 13: short: Ceiling and visibility",
        ),
        (SKY, "ceiling: 6000 ft}", "not shown: Ceiling and visibility: "),
        # at 01:05Z, after the sunset there at 00:50Z (by hand from the check values of the sun, +- 1 min)
        (
            "takeoff_time: 2026-05-16T14:20Z",
            "takeoff_time: 2026-05-17T00:00Z",
            "Pennywort Hill 13: short: Alternate in the dark",
        ),
    ],
)
def test_elsewhere_is_as_good_as_the_worst_of_it(tmp_path: Path, old: str, new: str, words: str) -> None:
    assert edited(tmp_path, "trip.yaml", old, new)["elsewhere"].words.startswith(words)


def test_what_is_short_elsewhere_is_said_beside_what_is_not_shown(tmp_path: Path) -> None:
    """On snow the landing there is not worked; the visibility is short."""
    old = r"surface: dry, ground: firm, ceiling: 6000 ft, visibility: 6 SM}"
    found = edited(tmp_path, "trip.yaml", old, "surface: snow, ceiling: 300 ft, visibility: 0.5 SM}")["elsewhere"]
    said = "Pennywort Hill 13: short: Ceiling and visibility; not shown: Landing, alternate: "
    assert found.words.startswith(said)


@pytest.mark.parametrize(
    ("about", "why"),
    [
        ("recent flying", "the trip file gives no 'pilot'"),
        ("own state", "illness, medication, stress, alcohol, fatigue, emotion: not confirmed"),
        ("weather, Quillmere 26", "the trip file gives no 'ceiling' and 'visibility'"),
        ("reports", "the trip file gives no 'report'"),
        ("daylight", "the trip file gives no 'takeoff_time'"),
        ("time", "the trip file gives no 'takeoff_time'"),
        ("elsewhere", "the trip file gives no 'alternate'"),
    ],
)
def test_what_is_not_known_says_why(about: str, why: str) -> None:
    prompt = by_name(risk_page(brief("solo.yaml")))[about]
    assert prompt.said == ""
    assert prompt.words.startswith(f"not shown: {why}")


@pytest.mark.parametrize(
    ("about", "file", "old", "new", "words"),
    [
        # RK-05: the pilot's own, and none comes with the program
        ("minimums", "trip.yaml", r"policy: policy.yaml\n|answers:\n.*\n", "", "not shown: no policy is loaded"),
        (
            "recent flying",
            "pilots/instructor-a.yaml",
            r"landings:\n(  - .*\n)+endorse",
            "endorse",
            "not shown: the pilot file gives no 'landings'",
        ),
        (
            "recent flying",
            "pilots/instructor-a.yaml",
            r"landings: [1-9], full_stop: \d",
            "landings: 0, full_stop: 0",
            "no landing in the log given",
        ),
        ("own state", "trip.yaml", r"  self_assessment: .*\n", "", "not shown: illness, medication, stress"),
        (
            "crosswind",
            "aircraft/n0142.yaml",
            r"  demonstrated_crosswind: .*\n",
            "",
            "not shown: the handbook demonstrates none; the most is 6",
        ),
        ("unlike the book's", "aircraft/n0142.yaml", r"differences:\n  - .*\n", "", "nothing is said of it"),
        (
            "unlike the book's",
            "aircraft/n0142.yaml",
            r"differences:\n",
            "differences:\n  - no wheel fairings\n",
            "in 2 things, on the first page",
        ),
        ("least runway", "trip.yaml", "surface: dry", "surface: snow", "not shown: no distance is worked"),
        ("time", "trip.yaml", r"\n(fuel|load):\n(  .*\n)+", "\n", "not shown: the trip file does not give 'fuel'"),
        (
            "aboard",
            "trip.yaml",
            r"165 lb\]\n    rear seats: \[171 lb, 78 lb\](\n(?:.*\n)*?)passengers: true",
            r"414 lb]\1passengers: false",  # with more weights in the seats it is not taken
            "instructor and student; no passengers",
        ),
        (
            "aboard",
            "trip.yaml",
            "passengers: true",
            "passengers: false",
            "instructor and student; passengers carried",
        ),
    ],
)
def test_each_prompt_without_its_fact(
    tmp_path: Path, about: str, file: str, old: str, new: str, words: str
) -> None:
    assert edited(tmp_path, file, old, new)[about].words.startswith(words)


def test_it_is_the_same_on_every_output_and_leaves_room_to_answer() -> None:
    page = risk_page(brief())
    html, text = to_html(brief(), for_screen=True), " ".join(summary(brief()).split())
    prompts = [prompt for side in page.sides for prompt in side.prompts]
    assert html.count('class="blank"') == len(prompts) >= 12
    assert [each.about for each in prompts if f"{' '.join(each.words.split())}; {each.asks} ____" not in text] == []
    data = risk_data(page)
    assert [each["asks"] for side in data["sides"] for each in side["prompts"]] == [each.asks for each in prompts]
    unknown = [each for side in risk_data(risk_page(brief("solo.yaml")))["sides"] for each in side["prompts"]]
    assert {each["said"] is None for each in unknown if each["reason"]} == {True}
    assert any(each["reason"] for each in unknown)

"""The table of what the preflight is asked for: every row answered by something that is there, and by no more.

Sources: 14 CFR 91.103 (RG-09 of the check values: text read in copies); the codes and elements of FAA-S-ACS-6C,
area I, tasks A to F and H (read in one copy by another hand, task D in two; edition from memory).
"""

from __future__ import annotations

import re
import shutil
from datetime import date
from functools import cache
from html import unescape
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from changed import only, shortened
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.calc.airplane_papers import airplane_papers
from briefgen.calc.pilot_papers import pilot_papers
from briefgen.errors import CannotPrint
from briefgen.files.read_required import ANSWERS, required_table
from briefgen.item import State
from briefgen.model.confirmed import CONFIRMABLE
from briefgen.model.papers import AirplanePapers, BasicMed, Medical, Occasion, PilotPapers
from briefgen.model.required import RequiredPart, RequiredRow, RequiredTable
from briefgen.pipeline import brief_of
from briefgen.render import asked
from briefgen.render.asked import answered, required_data
from briefgen.render.pdf import render
from briefgen.render.proof import prove, read_back
from briefgen.render.sheet import to_html
from briefgen.render.text import summary
from briefgen.required_page import PLACES, Answer, Part, Row, required_page

# Section 9 of the check values, code by code, and the things that 91.103 names (RG-09).
ASKED = {
    "91.103": [
        "91.103",
        "91.103(a) weather",
        "91.103(a) fuel",
        "91.103(a) elsewhere",
        "91.103(a) delays",
        "91.103(b) runways",
        "91.103(b) distances",
    ],
    "PA.I.A": ["K1", "K2", "K3", "K4", "K5", "R1", "R2", "S1"],
    "PA.I.B": ["K1", "K2", "K3", "K4", "R1", "S1", "S2", "S3"],
    "PA.I.C": ["K1", "K2", "K3", "K4", "R1", "R2", "S1", "S2", "S3"],
    "PA.I.D": [*(f"K{i}" for i in range(1, 7)), *(f"R{i}" for i in range(1, 8)), *(f"S{i}" for i in range(1, 6))],
    "PA.I.E": ["K4", "S1"],
    "PA.I.F": ["K1", "K2", "K3", "R1", "R2", "R3", "S1", "S2"],
    "PA.I.H": ["K1", "K2", "K3", "K4", "R1", "R2", "R3", "R4", "S2"],
}


@cache
def brief(name: str = "trip.yaml") -> Brief:
    return brief_of(EXAMPLE / name, name)


@cache
def by_night() -> Brief:
    """Return the example taking off after sunset, 00:50Z (by hand from the check values of the sun, +- 1 min).

    No runway is lit, at the alternate are 300 ft and 0.5 SM, and all of a wind of 13 kt, gust 28, is across.
    """
    with TemporaryDirectory() as folder:
        club = Path(shutil.copytree(EXAMPLE, Path(folder) / "club"))
        for file, old, new in (
            ("trip.yaml", "takeoff_time: 2026-05-16T14:20Z", "takeoff_time: 2026-05-17T01:00Z"),
            ("trip.yaml", "ceiling: 6000 ft, visibility: 6 SM}", "ceiling: 300 ft, visibility: 0.5 SM}"),
            ("trip.yaml", "wind: 150 magnetic at 9 gust 13 kt", "wind: 220 magnetic at 13 gust 28 kt"),
            ("strips/quillmere.yaml", "lighting: pilot-controlled", "lighting: none"),
        ):
            text = (club / file).read_text(encoding="utf-8")
            assert old in text
            (club / file).write_text(text.replace(old, new), encoding="utf-8")
        return brief_of(club / "trip.yaml", "trip.yaml")


def rows(name: str = "trip.yaml") -> dict[str, Row]:
    return rows_of(brief(name))


def rows_of(made: Brief) -> dict[str, Row]:
    return {row.code: row for group in required_page(made).groups for row in group.rows}


def ids_of(made: Brief) -> set[str]:
    return {item.id for item in made.items}


def elements(code: str) -> list[str]:
    """Return the single elements of a row's code: 'PA.I.H.K1–K4, R1' is five."""
    task, _, said = code.rpartition(".")
    found = []
    for each in said.split(", "):
        first, _, last = each.partition("–")
        numbers = range(int(first[1:]), int((last or first)[1:]) + 1)
        found += [f"{task}.{first[0]}{number}" for number in numbers]
    return found


def test_every_code_of_the_sources_stands_in_the_table_once() -> None:
    codes = [row.code for part in required_table().parts for row in part.rows]
    by_task = [code for code in codes if code.startswith("PA.")]
    found = [each for code in by_task for each in elements(code)]
    assert sorted(found) == sorted(f"{task}.{each}" for task in ASKED if task != "91.103" for each in ASKED[task])
    assert [code for code in codes if code not in by_task] == ASKED["91.103"]


def known_papers() -> tuple[set[str], set[str]]:
    """Return the ids of papers that a pilot or an airplane can have, from the code that makes them."""
    day = date.fromisoformat(brief().as_of[:10])
    flight = Occasion(day, day)
    held = PilotPapers(medical=Medical(flight.first_day, 3), basic_med=BasicMed())
    pilot = {paper.id for paper in pilot_papers(held, flight, {})}
    return pilot, {paper.id for paper in airplane_papers(AirplanePapers(), flight)}


def dangling(table: RequiredTable) -> list[str]:
    """Return everything that a row of a table names and that is nowhere."""
    pilot, airplane = known_papers()
    there = {
        "items": ids_of(brief()) & ids_of(brief("solo.yaml")),
        "where_given": ids_of(by_night()) - ids_of(brief("solo.yaml")),  # really there, and really lacking
        "pilot_papers": pilot,
        "airplane_papers": airplane,
        "confirmed": set(CONFIRMABLE),
        "pages": set(PLACES),
        "see": set(PLACES),
    }
    return [
        f"{row.code}: {key} {id}"
        for part in table.parts
        for row in part.rows
        for key, ids in there.items()
        for id in getattr(row, key)
        if id not in ids
    ]


def test_no_row_points_at_nothing() -> None:
    assert dangling(required_table()) == []


@pytest.mark.parametrize("key", ANSWERS)
def test_a_row_that_points_at_nothing_is_found(key: str) -> None:
    row = RequiredRow("X1", "what", **{key: ("nowhere",)})  # type: ignore[arg-type]
    table = RequiredTable("", "", {}, (RequiredPart("", "", (row,)),), ())
    assert dangling(table) == [f"X1: {key} nowhere"]


def test_the_example_answers_every_row() -> None:
    found = rows()
    assert len(found) >= 50
    assert [row.code for row in found.values() if row.answer is Answer.MISSING or not row.parts] == []
    assert {row.answer for row in found.values()} == {Answer.WORKED, Answer.CONFIRMED, Answer.ALOUD}


def test_an_answer_says_the_states_that_the_first_page_says() -> None:
    """The states are those of the items, none left out: the example's landing is under policy, flaps up short."""
    states = {item.id: item.state for item in brief().items}
    assert states["landing"] is State.UNDER
    assert states["landing-flaps-up"] is State.SHORT
    assert answered(rows()["91.103(b) distances"]) == (
        "Meets policy: Takeoff ground roll; Takeoff over 50 ft. Under policy: Landing as planned. "
        "Short: Landing, flaps up. See Working."
    )
    for part in required_table().parts:
        for row in part.rows:
            words = answered(rows()[row.code])
            ids = [*row.items, *(id for id in row.where_given if id in states)]
            assert [id for id in ids if f"{states[id].value.capitalize()}: " not in words] == [], row.code


def test_the_alternate_s_weather_and_light_and_the_legs_and_the_fuel_stop_are_in_the_rows_about_them() -> None:
    """0.5 SM is under the least that 91.155 asks for, 1 SM, and no runway is lit."""
    states = {item.id: item.state for item in by_night().items}
    assert {states[id] for id in ("alternate-weather", "alternate-dark", "takeoff-dark")} == {State.SHORT}
    found = rows_of(by_night())
    elsewhere = answered(found["91.103(a) elsewhere"])
    short = elsewhere.partition("Short: ")[2]
    for title in ("Crosswind (Pennywort", "Ceiling and visibility (Pennywort", "Alternate in the dark"):
        assert title in short
    named = {
        "Along the legs": ["91.103(a) weather", *(f"PA.I.{each}" for each in ("C.R1", "C.S3", "D.K1", "D.K2"))],
        "Pennywort Hill 13": ["91.103(a) weather", "91.103(a) elsewhere", "PA.I.C.R1", "PA.I.C.S3", "PA.I.F.R2"],
        "Fuel en route": ["91.103(a) fuel", "PA.I.D.K3", "PA.I.D.R6", "PA.I.D.S1", "PA.I.D.S4"],
        "Takeoff in the dark": ["PA.I.C.S3"],
    }
    for title, codes in named.items():
        assert [code for code in codes if title not in answered(found[code])] == [], title
    assert "Along the legs" in answered(found["PA.I.E.K4, S1"])


def test_a_trip_without_them_is_no_worse_for_it() -> None:
    """No legs, no fuel stop: nothing is said of them, neither as worked nor as not shown."""
    said = " ".join(map(answered, rows("solo.yaml").values()))
    assert [each for each in ("Along the legs", "Fuel en route", "in the dark") if each in said] == []


def test_what_the_trip_may_give_is_not_said_to_be_on_no_sheet() -> None:
    """Airspace, ground and special VFR may be typed: the words hold whether they are or not."""
    for code in ("PA.I.D.K1", "PA.I.D.K2", "PA.I.E.K4, S1"):
        for name in ("trip.yaml", "solo.yaml"):
            said = answered(rows(name)[code])
            assert "what the trip gives of" in said
            assert "the sheet has no" not in said


def test_what_is_confirmed_is_said_with_who_and_when() -> None:
    """`traffic_delays: {by: A, at: 2026-05-16T13:25Z}` of the example."""
    assert answered(rows()["91.103(a) delays"]).startswith("Confirmed: known traffic delays: A, 2026-05-16 13:25Z.")


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("91.103", "notices (NOTAMs), fields and way; temporary flight restrictions: not confirmed"),
        ("91.103(a) weather", "the trip file gives no 'ceiling' and 'visibility', and no 'report' or 'forecast'"),
        ("91.103(a) elsewhere", "Landing, alternate: the trip file gives no 'alternate'"),
        ("PA.I.A.K3", "the trip file gives no 'pilot'"),
        ("PA.I.B.K1", "the trip file gives no 'papers'"),
        ("PA.I.C.K2", "the trip file gives no report, forecast, ceiling or visibility"),
        ("PA.I.D.K3", "the trip file gives no 'route'"),
        ("PA.I.C.S3", "Before sunset: the trip file gives no 'takeoff_time'"),
    ],
)
def test_what_a_trip_leaves_out_is_not_shown_and_says_why(code: str, why: str) -> None:
    row = rows("solo.yaml")[code]
    assert row.answer is Answer.MISSING
    assert re.search(rf"Not shown: (.*: )?{re.escape(why)}", answered(row))
    assert why in " ".join(summary(brief("solo.yaml")).split())


def test_what_no_sheet_can_show_is_never_claimed() -> None:
    """Asked aloud on any trip, whatever it gives: displays, interception, aerodynamics and the like."""
    for name in ("trip.yaml", "solo.yaml"):
        for code in ("PA.I.C.K4", "PA.I.D.K6", "PA.I.F.K3", "PA.I.B.K2", "PA.I.C.S1", "PA.I.H.K1–K4, R1–R4"):
            assert rows(name)[code].answer is Answer.ALOUD
    said = {row.code: [part.answer for part in row.parts] for row in rows().values()}
    for code in (
        "PA.I.B.S2",
        "PA.I.C.S3",
        "PA.I.D.S1",
    ):  # a decision, a presentation: the pilot's, beside the figures
        assert Answer.ALOUD in said[code]


@pytest.mark.parametrize(
    ("parts", "answer"),
    [
        ("worked missing aloud", Answer.MISSING),
        ("confirmed worked aloud", Answer.WORKED),
        ("aloud confirmed", Answer.CONFIRMED),
        ("aloud", Answer.ALOUD),
    ],
)
def test_a_row_is_no_better_than_its_worst_part(parts: str, answer: Answer) -> None:
    found = tuple(Part(Answer[each.upper()], "") for each in parts.split())
    assert Row("", "", found, ()).answer is answer


def test_the_tally_is_that_of_the_rows() -> None:
    found = [row.answer for row in rows("solo.yaml").values()]
    counts = [f"{found.count(each)} {each.value}" for each in Answer]
    assert required_page(brief("solo.yaml")).tally.startswith(
        f"{len(found)} rows: {', '.join(counts)}, as no sheet"
    )


def test_the_heads_and_the_links_are_those_of_the_sheet() -> None:
    html = to_html(brief(), for_screen=True)
    heads = {key: unescape(text) for key, text in re.findall(r'<h[1-4] id="(\w+)" class="\w+">(.*?)</h', html)}
    assert set(heads) == set(PLACES)
    assert [key for key in PLACES if not heads[key].startswith(PLACES[key].title)] == []
    links = re.findall(r'href="#(\w+)">(.*?)</a>', html)
    assert len(links) > 40
    assert [(key, text) for key, text in links if PLACES[key].title != text] == []
    solo = to_html(brief("solo.yaml"), for_screen=True)
    assert set(re.findall(r'href="#(\w+)"', solo)) <= set(re.findall(r'id="(\w+)"', solo))


def test_the_printed_page_numbers_are_those_of_the_heads() -> None:
    _, texts, _ = read_back(render(to_html(shortened(brief()), for_screen=False)))
    table = " ".join(" ".join(text.split()) for text in texts if "PA.I." in text)
    looked_at = 0
    for place in PLACES.values():
        (number,) = set(re.findall(rf"{place.title} p\. (\d+)", table)) or {""}
        if number:
            heads = [line.strip() for line in texts[int(number) - 1].splitlines()]
            assert any(re.match(rf"{place.title}(?:$|:)", line) for line in heads), f"{place.title} p. {number}"
            looked_at += 1
    assert looked_at >= 10


def test_a_sheet_that_lost_a_row_or_a_prompt_is_not_written(monkeypatch: pytest.MonkeyPatch) -> None:
    printed = only(brief(), "risk", "required")
    content = render(to_html(printed, for_screen=False))
    prove(content, printed, [])
    page, risk = asked.required_page(brief()), asked.risk_page(brief())
    group = page.groups[0]
    more = group._replace(rows=(*group.rows, Row("91.103(c)", "more", (Part(Answer.ALOUD, "aloud", "what"),), ())))
    with monkeypatch.context() as patched:
        patched.setattr(asked, "required_page", lambda _: page._replace(groups=(more, *page.groups[1:])))
        with pytest.raises(CannotPrint, match=re.escape("lost from the sheet: 91.103(c) more")):
            prove(content, printed, [])
    monkeypatch.setattr(asked, "risk_page", lambda _: risk._replace(again="once more"))
    with pytest.raises(CannotPrint, match="lost from the sheet: once more"):
        prove(content, printed, [])


def test_every_row_is_in_the_text_and_in_the_data() -> None:
    text = " ".join(summary(brief()).split())
    data = required_data(required_page(brief()))
    assert [row["code"] for group in data["groups"] for row in group["rows"]] == list(rows())
    assert [code for code, row in rows().items() if f"{code} {row.asks}: {answered(row)}" not in text] == []
    assert "from memory" in required_page(brief()).notes


def test_no_policy_leaves_a_row_out(tmp_path: Path) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    text = (club / "trip.yaml").read_text(encoding="utf-8")
    assert "policy: policy.yaml\n" in text
    text = text.replace("policy: policy.yaml\n", "").replace("answers:\n  fuel-dipped: 34 gal, both tanks\n", "")
    (club / "trip.yaml").write_text(text, encoding="utf-8")
    alone = required_page(brief_of(club / "trip.yaml", "trip.yaml"))
    assert [row.code for group in alone.groups for row in group.rows] == list(rows())

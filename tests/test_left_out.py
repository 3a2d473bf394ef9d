"""Parts that a trip file leaves out: what needs them is 'not shown' and says why; the rest is worked as ever.

Expected reasons are told by hand from what each trip leaves out; expected figures are those of the same trip with
nothing left out, or of the strip and the aircraft file.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from itertools import combinations
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from briefgen.brief import Brief
from briefgen.cli import main
from briefgen.item import Item, State
from briefgen.pipeline import brief_of
from briefgen.render.data import to_json
from briefgen.render.sheet import to_html
from briefgen.render.text import summary, working
from briefgen.resources import folder

PLACES = ("departure", "arrival", "alternate")
NAMED = {"departure": "departure", "arrival": "destination", "alternate": "alternate"}
LACKING = {place: f"the trip file gives no conditions at the {name}" for place, name in NAMED.items()}
OUT, HOME, AWAY = (LACKING[place] for place in PLACES)
BARE = """trip: nothing but the airplane, two runways, and how
as_of: 2026-05-16T14:00Z
crew: pilot
aircraft: aircraft/n0142.yaml
departure: {strip: strips/quillmere.yaml, runway: "17", weight: 2450 lb, flaps: "10", technique: short field}
arrival: {strip: strips/tansy-bottom.yaml, runway: "09", weight: 2410 lb, flaps: "30", technique: short field}
"""
Edit = tuple[str, str]
Made = Callable[..., Brief]
FLOWN_BY = ("power: 2400 rpm", "tas: 100 kt, fuel_flow: 8 gal/h")  # 8 gal/h at 100 kt: 0.08 gal for each NM


def without(text: str, places: tuple[str, ...]) -> str:
    """Return a trip file without the conditions of some places."""
    kept, part, inside = [], "", False
    for line in text.splitlines(keepends=True):
        if re.match(r"\w", line):
            part = line.partition(":")[0]
        if not re.match(r" {4}", line):
            inside = part in places and line.startswith("  conditions:")
        if not inside:
            kept.append(line)
    assert "".join(kept) != text or not places
    return "".join(kept)


@pytest.fixture
def club(example: Path, tmp_path: Path) -> Path:
    """The example club, with the bare trip beside its own."""
    copied = Path(shutil.copytree(example.parent, tmp_path / "club"))
    (copied / "bare.yaml").write_text(BARE, encoding="utf-8")
    return copied


@pytest.fixture
def made(club: Path) -> Made:
    """Return the brief of a trip of the club without the conditions of some places, and with edits."""

    def make(*places: str, name: str = "trip.yaml", edits: tuple[Edit, ...] = ()) -> Brief:
        text = without((club / name).read_text(encoding="utf-8"), places)
        for old, new in edits:
            assert old in text, old
            text = text.replace(old, new)
        (club / "made.yaml").write_text(text, encoding="utf-8")
        return brief_of(club / "made.yaml", "made.yaml")

    return make


def rows(brief: Brief) -> dict[str, Item]:
    return {item.id: item for item in brief.items}


def reasons(brief: Brief) -> dict[str, str]:
    return {item.id: item.reason for item in brief.items if item.state is State.NOT_SHOWN}


def test_the_bare_trip_lists_what_is_not_shown_and_why(made: Made) -> None:
    brief = made(name="bare.yaml")
    assert reasons(brief) == {
        "balance": "the trip file gives no 'load'",
        "takeoff-roll": OUT,
        "takeoff-50": OUT,
        "climb-out": OUT,
        "takeoff-crosswind": OUT,
        "departure-weather": OUT,
        "landing-back": OUT,
        "landing": HOME,
        "landing-flaps-up": HOME,
        "landing-crosswind": HOME,
        "arrival-weather": HOME,
        "fuel": "the trip file does not give 'route' and 'fuel'",
        "daylight": "the trip file gives no 'takeoff_time'",
        "landing-alternate": "the trip file gives no 'alternate'",
        "papers-pilot": "the trip file gives no 'pilot'",
        "papers-airplane": "the trip file gives no 'papers'",
    }
    found = rows(brief)
    assert set(found) - set(reasons(brief)) == {"takeoff-weight", "landing-weight"}
    assert (found["takeoff-weight"].need, found["takeoff-weight"].have) == (2450, 2550)  # the airplane's most
    # By the strip files: TORA 2,990 ft and LDA 2,840 ft, declared; 1,120 ft, no threshold displaced.
    assert [found[id].have for id in ("takeoff-roll", "landing-back", "landing")] == [2990, 2840, 1120]
    assert all(item.need is None for id, item in found.items() if id in reasons(brief) and id != "climb-out")


def test_no_figure_of_the_bare_trip_stands_for_one_that_is_missing(made: Made) -> None:
    brief = made(name="bare.yaml")
    assert (brief.recheck, brief.no_recheck) == ((), HOME)
    flight = brief.flight
    for figure in (*flight.departure_air, flight.climb.rate, flight.climb.gradient, flight.abort.point):
        assert (figure.value, figure.reason) == (None, OUT), figure.label
    for figure in (*flight.arrival_air, flight.go_around.point, flight.planned.total, flight.planned.roll):
        assert (figure.value, figure.reason) == (None, HOME), figure.label
    assert brief.takeoff.flying_by is None
    assert [span.kind for page in (brief.takeoff, brief.landing) for span in page.sketch.spans] == []
    facts = brief.facts
    assert {facts["departure"][key] for key in ("temperature_degC", "headwind_kt", "state", "soft")} == {None}
    assert (facts["crosswind"]["most_kt"], facts["gusts"]["additive_kt"]) == (None, None)
    assert facts["departure"]["surface"] == "paved"
    assert facts["weather"]["no_conditions_at"] == "departure and the destination"


def test_speeds_that_need_no_air_are_worked_as_ever(made: Made) -> None:
    bare = made(name="bare.yaml")
    full = made(edits=(("policy: policy.yaml\n", ""), ('partial_flaps: "20"\n  ', "")))
    for brief in (bare, full):
        assert brief.flight.takeoff.liftoff.value is not None
    for part in ("best_angle", "best_rate", "stalls"):
        assert getattr(bare.flight.speeds, part) == getattr(full.flight.speeds, part)
    assert bare.flight.speeds.glide.still.known == 1.5  # printed in the aircraft file
    assert {each.reason for each in (bare.flight.speeds.glide.into, bare.flight.speeds.glide.downwind)} == {OUT}
    approach = bare.flight.planned.approach
    assert approach.reason == f"what gusts add is not known: {HOME}"
    assert approach.steps[-1].after == 58  # printed in the aircraft file; how far it was worked is in the working


def test_every_output_of_the_bare_trip_says_the_same(made: Made) -> None:
    brief = made(name="bare.yaml")
    text, html, data = summary(brief), to_html(brief, for_screen=True), json.loads(to_json(brief))
    said = " ".join(text.split())
    assert "16 not shown" in said
    assert f"Crosswind, Tansy Bottom 09: not shown: {HOME}" in said
    assert f"headwind + not shown: {HOME}" in said
    schema = json.loads((folder("schemas") / "brief.schema.json").read_text(encoding="utf-8"))
    assert [error.message for error in Draft202012Validator(schema).iter_errors(data)] == []
    assert data["no_recheck"] == HOME
    tables = [f"Tansy Bottom 09: not shown: {HOME}", f"Quillmere 17: not shown: {OUT}"]
    assert data["speeds"]["without_wind"] == tables
    for reason in set(reasons(brief).values()):
        assert reason in said
        assert reason.replace("'", "&#39;") in html
    assert f"not shown: {OUT}" in working(brief, "takeoff-50")
    for spoiled in ("nan", "inf", "None"):
        assert not re.search(rf"\b{spoiled}\b", text)


def test_the_foot_of_the_page_names_no_temperature_that_was_not_given(made: Made) -> None:
    warm = "over 30\u00a0°C at the departure, 30\u00a0°C at the destination"  # 27, and 3 by the policy
    assert warm in made().limits
    assert "over 30\u00a0°C at the destination; wind" in made("departure").limits
    for brief in (made("departure", "arrival"), made(*PLACES)):
        assert not any(word in brief.limits for word in ("°C", "wind", "gust"))
        assert "takeoff over 2,470\u00a0lb" in brief.limits
    page = made("alternate").alternate
    assert page is not None
    assert "°C" not in page.remark


@pytest.mark.parametrize("command", ["check", "explain", "facts", "rules", "runways"])
def test_every_command_takes_the_bare_trip(club: Path, command: str, capsys: pytest.CaptureFixture[str]) -> None:
    trip = str(club / "bare.yaml")
    assert main([command, trip]) == 0
    assert capsys.readouterr().out
    if command != "rules":
        assert main([command, trip, "--fail-on", "not-shown"]) == 1


def test_runways_are_listed_by_name_where_no_wind_ranks_them(
    club: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["runways", "--json", "--at", "departure", str(club / "bare.yaml")]) == 0
    (field,) = json.loads(capsys.readouterr().out)["fields"]
    assert field["ranked_by"] == f"Not ranked, by their names: {OUT}."
    assert field["remark"] is None
    assert [end["runway"] for end in field["ends"]] == ["08", "17", "26", "35"]
    assert {end["wind"] for end in field["ends"]} == {f"Wind not shown: {OUT}"}
    assert {item["state"] for end in field["ends"] for item in end["items"]} == {"not shown"}


def test_a_trip_without_conditions_says_that_it_cannot_be_flown_from(made: Made) -> None:
    for places in ((), ("departure",), ("arrival", "alternate")):
        first = made(*places).cautions[0]
        where = " and the ".join(NAMED[place] for place in places)
        said = f"No conditions are given at the {where}: no distance, climb or crosswind there is worked."
        assert first.text.startswith(said) == bool(places)


# what is not shown without the conditions of one place; the rest is as with them
NEEDS = {
    "departure": {
        "takeoff-roll", "takeoff-50", "climb-out", "takeoff-crosswind", "departure-weather", "landing-back",
        "fuel", "fuel-stop", "daylight", "legs-weather", "papers-airplane",
    },
    "arrival": {
        "landing", "landing-flaps-up", "landing-partial", "landing-crosswind", "arrival-weather", "legs-weather",
    },
    "alternate": {"landing-alternate", "alternate-weather"},
}  # fmt: skip


@pytest.mark.parametrize("place", PLACES)
def test_what_one_place_lacks_is_missing_and_all_else_is_worked_as_ever(made: Made, place: str) -> None:
    """The fuel and the light hang on the departure's air: legs by power, and the climb, are entered with it."""
    before, after = rows(made()), rows(made(place))
    gone = {id for id, item in after.items() if item.state is State.NOT_SHOWN}
    assert gone == NEEDS[place] & set(before)
    for id in gone - {"papers-airplane", "legs-weather"}:
        assert after[id].reason == LACKING[place], id
    for id in set(after) - gone:
        assert after[id]._replace(figures=()) == before[id]._replace(figures=()), id


@pytest.mark.parametrize("name", ["trip.yaml", "solo.yaml"])
def test_leaving_conditions_out_turns_no_item_better(made: Made, name: str) -> None:
    given = [place for place in PLACES if place != "alternate" or name == "trip.yaml"]
    before = rows(made(name=name))
    for count in range(1, len(given) + 1):
        for places in combinations(given, count):
            after = rows(made(*places, name=name))
            assert set(after) == set(before)
            assert [id for id in before if after[id].state.rank < before[id].state.rank] == []


def test_a_route_that_cannot_be_worked_still_says_where_it_goes(made: Made) -> None:
    """The lengths and courses are those of the log with the departure's conditions."""
    full, brief = made().route, made("departure").route
    assert full is not None
    assert brief is not None
    assert (brief.legs, brief.minutes, brief.fuel) == ((), None, None)
    assert brief.distance_nm == full.distance_nm
    assert [way.partition(":")[0] for way in brief.ways] == ["to Two Chimneys", "to Tansy Bottom"]
    assert all(leg.course in " ".join(brief.ways) for leg in full.legs)
    assert brief.no_log.endswith(OUT)
    assert brief.reason == OUT
    said = " ".join(summary(made("departure")).split())
    assert brief.no_log in said
    assert "no climb worked" not in said


def test_typed_legs_need_no_air_and_a_typed_climb_no_table(made: Made) -> None:
    """By hand, 0.08 gal for each NM in still air; the climb is what the trip file says."""
    climb = ("  # climb: left out, so worked from the aircraft file's table\n", "  climb: 1.5 gal\n")
    log = made("departure", edits=(FLOWN_BY,))
    assert log.route is not None
    assert len(log.route.legs) == 2
    assert rows(log)["fuel"].reason.startswith(f"no climb could be worked: {OUT}")
    typed = made("departure", edits=(FLOWN_BY, climb))
    assert rows(typed)["fuel"] == rows(made(edits=(FLOWN_BY, climb)))["fuel"]
    assert typed.flight.speeds.cruise_kt is None  # its calibrated airspeed hangs on the air


def test_what_a_way_without_air_burns_makes_no_landing_lighter(made: Made) -> None:
    """Nothing is counted as burnt: the landing is as heavy as the takeoff, unless its weight is typed.

    By hand from the load: 1,632 empty, 606 and 92 lb, 21 gal less 1.1 for the taxi at 6 lb: 2,449.4 lb.
    """
    untyped = (("  weight: 2410 lb\n", ""),)
    assert made("departure", edits=untyped).trip.arrival.weight_lb == pytest.approx(2449.4)
    assert made(edits=untyped).trip.arrival.weight_lb < 2440
    assert made("departure").trip.arrival.weight_lb == 2410
    alternate = made("departure").trip.alternate
    assert alternate is not None
    assert alternate.weight_lb == 2450  # the fuel stop is there too
    burn = (*untyped, ("  fuel: {wings: 21 gal}\n", "  fuel: {wings: 21 gal}\n  burn: 2 gal\n"))
    assert made("departure", edits=burn).trip.arrival.weight_lb == pytest.approx(2437.4)  # 12 lb less


def test_a_load_alone_is_worked_and_nothing_is_counted_as_burnt(made: Made) -> None:
    """By hand: 1,632 lb empty, 172 and 15 lb, 28 gal less 1.1 for the taxi at 6 lb: 1,980.4 lb."""
    flown = "fuel: {on_board: 28 gal, taxi: 1.1 gal, circuits: 40 min, fuel_flow: 8.4 gal/h, night: false}\n"
    brief = made("departure", "arrival", name="solo.yaml", edits=((flown, ""),))
    found = rows(brief)
    assert (found["takeoff-weight"].need, found["landing-weight"].need) == (1981, 1981)
    assert found["balance"].state is rows(made(name="solo.yaml"))["balance"].state
    assert found["fuel"].reason == "the trip file does not give 'route' and 'fuel'"
    typed = made(name="solo.yaml", edits=((flown, ""), ("  taxi: 1.1 gal\n", "  taxi: 1.1 gal\n  burn: 2 gal\n")))
    assert rows(typed)["landing-weight"].need == 1969  # 12 lb less: 1,968.4


def test_a_typed_weight_at_the_alternate_is_no_fault_for_want_of_air(made: Made) -> None:
    lighter = (('  runway: "13"\n', '  runway: "13"\n  weight: 2300 lb\n'),)
    found = made("departure", edits=lighter).trip.alternate
    assert found is not None
    assert found.weight_lb == 2300


def test_a_crosswind_that_is_known_is_not_hidden_by_one_that_is_not(made: Made) -> None:
    strong = (("wind: 120 magnetic at 7 gust 11 kt", "wind: 182 magnetic at 20 kt"),)  # square across, 20 kt
    brief = made("departure", edits=strong)
    assert brief.facts["crosswind"]["most_kt"] == 20
    assert "crosswind-over-demonstrated" in {each.id for each in (*brief.cautions, *brief.folded)}
    prompts = " ".join(summary(brief).split())
    assert "of the 15 kt demonstrated; no wind is given at the departure" in prompts.replace("\u00a0", " ")


def test_conditions_are_all_or_nothing(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = BARE.replace('runway: "17",', 'runway: "17", conditions: {wind: calm},')
    (club / "bare.yaml").write_text(text, encoding="utf-8")
    assert main(["check", str(club / "bare.yaml")]) == 2
    assert "missing key 'surface'" in capsys.readouterr().err

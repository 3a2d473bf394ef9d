"""A pilot's standard over a club's: the stricter figure rules, whoever set it, and the sheet says whose it was."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from briefgen.brief import Brief
from briefgen.cli import main
from briefgen.errors import InputFault, Problem
from briefgen.fact_list import FACTS
from briefgen.figures import Source
from briefgen.item import State
from briefgen.model.layers import CLUB, LARGER, PILOT, PRESENTED, SMALLER, STRICTER, stricter
from briefgen.model.policy import NEAREST_WORSE, Braking, Factor, Letterhead, Policy, Raised, Rework
from briefgen.pipeline import brief_of
from briefgen.render.text import working
from briefgen.resources import folder
from briefgen.rules.engine import SEVERITIES, Rule
from briefgen.rules.pack import raised

S = Source("invented", "policy")


def layer(name: str, **fields: object) -> Policy:
    return Policy(name, whose=dict.fromkeys(fields, name), **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize("field", STRICTER)
@pytest.mark.parametrize("club_has_the_larger", [True, False])
def test_the_stricter_rules_whoever_set_it(field: str, club_has_the_larger: bool) -> None:
    factors = (Factor(1.25, S), Factor(1.33, S))
    small, large = (
        (False, True) if field == "pro_rata_credit" else factors if field.endswith("factor") else (3.0, 4.0)
    )
    club, pilot = (large, small) if club_has_the_larger else (small, large)
    both = stricter(layer("club", **{field: club}), layer("pilot", **{field: pilot}))
    expected = large if STRICTER[field] == LARGER else small
    assert getattr(both, field) == expected
    assert both.whose == {field: "club" if expected == club else "pilot"}


@pytest.mark.parametrize("field", STRICTER)
def test_what_only_one_gives_is_taken_from_that_one(field: str) -> None:
    apart = {"pro_rata_credit": True, "wind_shares": (0.5, 1.5)}
    value = apart.get(field, Factor(1.3, S) if field.endswith("factor") else 7.0)
    given = layer("pilot", **{field: value})
    stricter_value = {"last_touchdown_share": 0.1, "pro_rata_credit": False}.get(field)
    if stricter_value is not None:  # else what holds by default rules, as the test below has it
        value = stricter_value
        given = layer("pilot", **{field: value})
    for both in (stricter(layer("club"), given), stricter(given, layer("club"))):
        assert getattr(both, field) == value
        assert both.whose == {field: "pilot"}


def test_the_pilot_s_units_and_paper_rule_and_the_club_s_letterhead_and_pages() -> None:
    club_head, own_head = Letterhead("The club", ("a hangar",)), Letterhead("A pilot")
    club = layer("club", units="US", page_size="letter", letterhead=club_head, pages=("takeoff", "working"))
    pilot = layer("pilot", units="metric", page_size="A5", letterhead=own_head, pages=("speeds",))
    both = stricter(club, pilot)
    assert (both.units, both.page_size, both.letterhead) == ("metric", "A5", club_head)
    assert both.pages == ("takeoff", "working")
    assert both.whose == {"units": "pilot", "page_size": "pilot", "letterhead": "club", "pages": "club"}
    assert both.printing.metric


@pytest.mark.parametrize(
    ("field", "value"), [("units", "metric"), ("page_size", "A4"), ("letterhead", Letterhead("Somebody"))]
)
def test_how_it_is_printed_is_the_one_s_where_the_other_says_nothing(field: str, value: object) -> None:
    given = layer("giver", **{field: value})
    for both in (stricter(layer("club"), given), stricter(given, layer("pilot"))):
        assert getattr(both, field) == value
        assert both.whose == {field: "giver"}


def test_equal_figures_are_the_club_s() -> None:
    both = stricter(layer("club", reaction_s=3.0), layer("pilot", reaction_s=3.0))
    assert both.whose == {"reaction_s": "club"}


def test_braking_is_the_weaker_on_each_surface_and_the_brief_ends_at_the_sooner_limit() -> None:
    paved, weaker = Braking("paved", False, 0.3, S), Braking("paved", False, 0.2, S)
    grass = Braking("grass", False, 0.25, S)
    club = layer("club")._replace(braking=(paved,), rework=Rework(7200, 3, 5, 20, Source("club")))
    pilot = layer("pilot")._replace(braking=(weaker, grass), rework=Rework(3600, 4, 3, 30, Source("pilot")))
    both = stricter(club, pilot)
    assert both.braking == (weaker, grass)
    assert both.rework == Rework(3600, 3, 3, 20, Source("club"), ("pilot", "club", "pilot", "club"))
    assert stricter(club, layer("pilot")).rework == club.rework


def test_the_schema_says_for_every_key_which_is_stricter() -> None:
    schema = json.loads((folder("schemas") / "policy.schema.json").read_text(encoding="utf-8"))
    keys = {key: part.get("stricter") for key, part in schema["properties"].items()}
    names = {"policy", "not_for_flight"}
    assert {key for key, direction in keys.items() if direction is None} == names
    fields = {
        "factors": "takeoff_factor",
        "minimum_margin": "landing_margin_ft",
        "last_touchdown": "last_touchdown_share",
        "gust_additive": "gust_share",
        "crosswind_maximum": "crosswind_maximum_kt",
        "approach_angle": "approach_angle_deg",
        "obstacle_clearance": "obstacle_clearance_ft",
        "reaction_time": "reaction_s",
        "turn_back_height": "turn_back_height_ft",
    }
    assert keys["interpolation"] == NEAREST_WORSE
    assert {key: keys[key] for key in fields} == {key: STRICTER[field] for key, field in fields.items()}
    assert {key: keys[key] for key in PRESENTED} == dict(PRESENTED)
    assert set(PRESENTED.values()) == {PILOT, CLUB}
    assert (keys["braking"], keys["touchdown"], keys["rework"]) == (SMALLER, LARGER, SMALLER)


@pytest.fixture
def layered(example: Path, tmp_path: Path) -> Brief:
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    trip = club / "trip.yaml"
    text = trip.read_text(encoding="utf-8")
    trip.write_text(
        text.replace("policy: policy.yaml\n", "policy: policy.yaml\npersonal: pilot.yaml\n"), encoding="utf-8"
    )
    return brief_of(trip, "trip.yaml")


def test_the_sheet_says_whose_figure_ruled(layered: Brief) -> None:
    """By hand: the pilot's 8 kt and 300 ft after landing, the club's 300 ft after takeoff and its factors."""
    whose = {ruling.label: (ruling.value, ruling.whose) for ruling in layered.standard}
    assert whose["most crosswind"] == ("8 kt", "a student's minimums")
    assert whose["least landing margin"] == ("300\u00a0ft", "a student's minimums")
    assert whose["least takeoff margin"] == ("300\u00a0ft", "Quillmere club standard")
    assert whose["landing factor"] == ("1.43", "Quillmere club standard")
    assert whose["flare and float"][0] == "200\u00a0ft"
    assert "most crosswind: 8 kt (a student's minimums)" in working(layered)
    assert layered.policy == "Quillmere club standard, a student's minimums"


def test_a_stricter_correction_of_the_pilot_s_own_rules_over_the_handbook_s(layered: Brief, example: Path) -> None:
    """Dry grass by hand: 60 % of the roll so far, not the handbook's 40 %: 395.2 x 1.6 = 632.4 before speed."""
    plain = brief_of(example, "trip.yaml")
    need, before = (next(item for item in brief.items if item.id == "landing") for brief in (layered, plain))
    assert need.need is not None
    assert before.need is not None
    assert need.need > before.need
    rolls = [step.after for step in need.figures[0].steps if step.quantity == "roll" and step.label == "dry grass"]
    assert rolls == [pytest.approx(632.4, abs=0.05)]


def test_a_pilot_s_metres_on_a_club_s_sheet(example: Path, tmp_path: Path) -> None:
    """Through the files: the sheet says whose choice the units were, and the club's letterhead stays."""
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    trip = club / "trip.yaml"
    text = trip.read_text(encoding="utf-8")
    assert "policy: policy.yaml\n" in text
    trip.write_text(
        text.replace("policy: policy.yaml\n", "policy: policy.yaml\npersonal: pilot.yaml\n"), encoding="utf-8"
    )
    for file, more in (
        ("policy.yaml", "units: US\npage_size: letter\nletterhead: {name: The club}\n"),
        ("pilot.yaml", "units: metric\nletterhead: {name: A pilot}\n"),
    ):
        with (club / file).open("a", encoding="utf-8") as policy:
            policy.write(more)
    brief = brief_of(trip, "trip.yaml")
    whose = {ruling.label: (ruling.value, ruling.whose) for ruling in brief.standard}
    assert whose["units"] == ("metric", "a student's minimums")
    assert whose["page size"] == ("letter", "Quillmere club standard")
    assert brief.letterhead == Letterhead("The club")
    assert {item.unit for item in brief.items if item.unit and not item.height} == {"m", "kg", "kt", "L", "min"}
    assert [(item.title, item.unit) for item in brief.items if item.height] == [("Climb over beeches", "ft")]


def test_personal_minimums_alone_are_a_policy(example: Path, tmp_path: Path) -> None:
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    trip = club / "trip.yaml"
    text = trip.read_text(encoding="utf-8")
    text = text.replace("policy: policy.yaml\n", "personal: pilot.yaml\n")
    trip.write_text(text.replace("fuel-dipped: 21 gal, both tanks", "sheet-seen: by the instructor"), "utf-8")
    assert brief_of(trip, "trip.yaml").policy == "a student's minimums"


@pytest.fixture(scope="module")
def solo() -> Brief:
    return brief_of(folder("examples") / "quillmere" / "solo.yaml", "solo.yaml")


def test_of_three_layers_the_sheet_names_the_one_that_ruled(solo: Brief) -> None:
    """By hand from the three files: today's 6 kt is under the pilot's 8 and the club's 12."""
    whose = {ruling.label: (ruling.value, ruling.whose) for ruling in solo.standard}
    club, student = "Quillmere club standard", "a student's minimums"
    assert whose["most crosswind"] == ("6 kt", "this trip")
    assert whose["least landing margin"] == ("300\u00a0ft", student)
    assert whose["takeoff factor"] == ("1.33", club)
    assert whose["aim point"] == ("80\u00a0ft", club)  # both have 80 ft: the club's
    assert whose["flare and float"] == ("200\u00a0ft", student)
    assert whose["touchdown zone"] == ("200\u00a0ft", club)
    assert whose["work again after"] == ("2 h", club)
    assert whose["caution beyond-the-end"] == ("raised to watch", student)
    crosswind = next(item for item in solo.items if item.id == "landing-crosswind")
    assert crosswind.figures[2].steps[0].source.text == "maximum of this trip"


def test_the_club_s_own_factor_and_the_pilot_s_are_in_the_working(solo: Brief) -> None:
    """By hand: +25 % of the distance to 50 ft, over the handbook's 15 % of the roll; +60 % of 382.3 ft of roll.

    To 50 ft at the lightest weight printed, between 925 and 1,015 (0 ft), 1,020 and 1,120 (1,000 ft): 1,035.1 ft.
    """
    out, back = (next(item for item in solo.items if item.id == id) for id in ("takeoff-50", "landing"))
    (grass,) = (step for step in out.figures[0].steps if step.label == "dry grass")
    assert grass.after == pytest.approx(1035.1 * 1.25, abs=0.1)
    assert "club figure, invented, for the grass of Quillmere" in grass.source.text
    (own,) = (step for step in back.figures[0].steps if step.label == "dry grass" and step.quantity == "roll")
    assert own.after == pytest.approx(382.3 * 1.6, abs=0.1)
    assert "the pilot's own landings" in own.source.text


def test_a_layer_makes_a_caution_more_serious_and_never_less(solo: Brief) -> None:
    assert {each.id: each.severity for each in solo.cautions}["beyond-the-end"] == "watch"
    rules = tuple(Rule(id, "watch", {}, "", "") for id in ("one", "other"))
    where = Problem("policy.yaml", 3, 1, "")
    up, down = Raised("one", "serious", "club", where), Raised("one", "note", "pilot", where)
    assert [rule.severity for rule in raised(rules, [up])[0]] == ["serious", "watch"]
    same, faults = raised(rules, [down, Raised("other", "watch", "pilot", where)])
    assert same == rules
    assert [fault.message for fault in faults] == [
        f"'{id}' is 'watch' already; a caution is only ever made more serious" for id in ("one", "other")
    ]


def test_of_two_layers_that_raise_one_caution_the_more_serious_holds() -> None:
    where = Problem("policy.yaml", 3, 1, "")
    changes = [Raised("one", severity, "x", where) for severity in ("serious", "watch")]
    for order in (changes, changes[::-1]):
        assert raised((Rule("one", "note", {}, "", ""),), order)[0][0].severity == "serious"


def test_a_rule_of_a_club_s_own_with_a_shipped_name_silences_nothing() -> None:
    twice = (Rule("one", "note", {}, "shipped", ""), Rule("one", "note", {}, "own", ""))
    assert [rule.text for rule in raised(twice, [])[0]] == ["shipped", "own"]


def test_what_the_policy_asks_for_is_answered_or_not_shown(solo: Brief, example: Path, tmp_path: Path) -> None:
    asked = {item.id: (item.state, item.answer) for item in solo.items if item.where.startswith("Asked")}
    assert asked == {
        "fuel-dipped": (State.MEETS, "28 gal, both tanks"),
        "sheet-seen": (State.MEETS, "seen with the instructor, 08:40"),
    }
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    trip = club / "solo.yaml"
    text = trip.read_text(encoding="utf-8")
    assert "  sheet-seen: seen with the instructor, 08:40\n" in text
    trip.write_text(text.replace("  sheet-seen: seen with the instructor, 08:40\n", ""), encoding="utf-8")
    row = next(item for item in brief_of(trip, "solo.yaml").items if item.id == "sheet-seen")
    assert row.state is State.NOT_SHOWN
    assert row.reason == "asked for by the student's minimums; answer it in the trip file, answers: sheet-seen"
    assert main(["check", str(trip), "--fail-on", "not-shown"]) == 1


def test_no_layer_can_silence_a_figure_that_is_not_shown() -> None:
    """No key of a policy names an item that is worked, or a state: there is nothing to silence one with."""
    schema = json.loads((folder("schemas") / "policy.schema.json").read_text(encoding="utf-8"))
    worked = {path.removeprefix("items.") for path in FACTS if path.startswith("items.")}
    assert len(worked) >= 10
    assert not worked & {key.replace("-", "_") for key in schema["properties"]}
    assert schema["properties"]["severities"]["additionalProperties"]["enum"] == list(SEVERITIES[:2])


def test_a_later_layer_does_not_loosen_what_holds_by_default() -> None:
    """The default third, half the gust and whole steps stand where the club is silent and the pilot is looser."""
    looser = layer("pilot", last_touchdown_share=0.9, gust_share=0.0, pro_rata_credit=True)
    both = stricter(layer("club"), looser)
    assert (both.last_touchdown_share, both.gust_share, both.pro_rata_credit) == (1 / 3, 0.5, False)
    assert both.whose == {}
    assert both.gust_source == Policy("any").gust_source


def test_no_layer_can_soften_or_leave_out_a_rule_of_another(example: Path, tmp_path: Path) -> None:
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    softer = (club / "rules.yaml").read_text(encoding="utf-8").replace("severity: watch", "severity: note")
    (club / "own.yaml").write_text(softer, encoding="utf-8")
    with (club / "pilot.yaml").open("a", encoding="utf-8") as pilot:
        pilot.write("rules: own.yaml\n")
    with pytest.raises(InputFault, match=r"own\.yaml:1:1 another file of rules has 'club-grass-with-students' too"):
        brief_of(club / "solo.yaml", "solo.yaml")


def test_a_rule_file_given_as_a_policy_ends_in_lines(example: Path, tmp_path: Path) -> None:
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    trip = club / "solo.yaml"
    trip.write_text(
        trip.read_text(encoding="utf-8").replace("personal: pilot.yaml", "personal: rules.yaml"), "utf-8"
    )
    with pytest.raises(InputFault, match=r"rules\.yaml:"):
        brief_of(trip, "solo.yaml")


def test_the_weaker_of_two_braking_figures_of_one_surface_counts(example: Path, tmp_path: Path) -> None:
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    policy = club / "policy.yaml"
    rest = 'source: club figure, known: "common practice, no source"}\n'
    line = f"  - {{surface: paved, wet: false, deceleration: 0.30 g, {rest}"
    text = policy.read_text(encoding="utf-8")
    assert line in text
    policy.write_text(text.replace(line, line + line.replace("0.30 g", "0.05 g")), encoding="utf-8")
    sections = {section.title: section for section in brief_of(club / "trip.yaml", "trip.yaml").sections}
    stopping = sections["Abort point"].figures[2]
    assert "0.05 g" in stopping.steps[0].detail


def test_a_pilot_who_reads_the_nearest_worse_row_has_longer_needs_and_the_sheet_says_so(
    example: Path, tmp_path: Path
) -> None:
    """The trip's fields, temperatures and weights lie between printed ones."""
    club = Path(shutil.copytree(example.parent, tmp_path / "club"))
    policy = club / "policy.yaml"
    text = policy.read_text(encoding="utf-8")
    policy.write_text(f"{text}interpolation: nearest worse row\n", encoding="utf-8")
    linear, nearest = (brief_of(folder / "trip.yaml", "trip.yaml") for folder in (example.parent, club))
    ids = ("takeoff-roll", "takeoff-50", "landing")
    runs = [[each for each in brief.items if each.id in ids] for brief in (linear, nearest)]
    assert len(runs[0]) == 3
    for before, after in zip(*runs, strict=True):
        assert before.need is not None
        assert after.need is not None
        assert after.need > before.need
    words = " ".join(working(nearest).split())
    assert ": nearest worse row" in words
    assert "between the printed rows of a distance table" in words

"""An audit of a staged graph: no alarm on points that were read well, a misread one at its place, kinks let be.

Sources: the lines of this test's own formula (a power of weight, wind and density, read to a step); a slip is set
by hand beside each test.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from pathlib import Path
from random import Random

import pytest
from conftest import EXAMPLE
from jsonschema import Draft202012Validator

from briefgen.auditing import audit_of
from briefgen.calc.atmosphere import density_ratio
from briefgen.files.document import parse
from briefgen.model.typed_graph import TypedLine, TypedPanel, TypedPoint
from briefgen.render.audit_page import audit_html, audit_pdf
from briefgen.render.audit_words import audit_json, audit_lines, counted
from briefgen.resources import folder
from briefgen.studies.compared import compare
from briefgen.studies.graph_audit import misread
from briefgen.studies.graph_pairs import not_looked_at
from briefgen.studies.table_audit import Grade

STARTS = [300 * 1.3**i for i in range(9)]
Law = Callable[[float, float], float]


def panel(subject: str, law: Law, lines: Sequence[float], inputs: Sequence[float], step: float) -> TypedPanel:
    """Return a panel whose points are read off a law to a step; where the two sides of a wind meet, it may bend."""
    read = []
    for i, of in enumerate(lines):
        values = [round(law(of, at) / step) * step for at in inputs]
        points = [
            TypedPoint(at, value, f"{value:g}", i, k, subject == "wind" and at == 0)
            for k, (at, value) in enumerate(zip(inputs, values, strict=True))
        ]
        read.append(TypedLine(f"line {i}", tuple(points)))
    return TypedPanel("takeoff", "5-1", subject, "x", "ft", step, tuple(read))


def panels(step: float) -> Iterator[TypedPanel]:
    yield panel(
        "temperature",
        lambda ft, c: 820 * density_ratio(ft, c) ** -2.4,
        range(0, 8001, 1000),
        range(-10, 41, 10),
        step,
    )
    yield panel("weight", lambda start, lb: start * (lb / 2550) ** 2.2, STARTS, (1950, 2150, 2350, 2550), step)
    yield panel("wind", lambda start, kt: start * (1 - kt / 55) ** 1.8, STARTS, range(-10, 21, 5), step)
    yield panel(
        "wind", lambda start, kt: start * (1 - (kt / 90 if kt > 0 else kt / 20)), STARTS, range(-10, 31, 10), step
    )
    yield panel(
        "obstacle height", lambda start, ft: start + ft * 13 * (start / 820) ** 1.25, STARTS, (0, 25, 50), step
    )


def changed(of: TypedPanel, line: int, at: int, value: float) -> TypedPanel:
    points = list(of.lines[line].points)
    points[at] = points[at]._replace(value=value, text=f"{value:g}")
    lines = list(of.lines)
    lines[line] = lines[line]._replace(points=tuple(points))
    return of._replace(lines=tuple(lines))


@pytest.mark.parametrize("step", [1.0, 5.0, 10.0, 20.0])
def test_points_that_were_read_well_raise_no_alarm(step: float) -> None:
    for each in panels(step):
        assert [one.finding.where for one in misread(each)] == [], each.subject


def test_a_misread_point_is_found_at_its_place() -> None:
    """Slips of eight readings, in the middle of a panel's lines and points: four in five are found and named."""
    random, found, tried = Random(3), 0, 0
    for step in (5.0, 10.0):
        for each in panels(step):
            for line in range(2, len(each.lines) - 2):
                at = random.randrange(1, len(each.lines[line].points) - 1)
                point = each.lines[line].points[at]
                if point.kink:
                    continue
                spoilt = changed(each, line, at, point.value + 8 * step)
                tried += 1
                found += any(one.point is spoilt.lines[line].points[at] for one in misread(spoilt))
    assert tried > 30
    assert found / tried > 0.8


def test_the_finding_says_what_is_expected_and_what_may_be_meant() -> None:
    # 2,000 ft, 20 degC: the air has 0.9298 x 288.15 / 293.15 = 0.9140 of the standard density; 820 x 0.9140^-2.4 =
    # 1,018, read as 1,020. Typed 1060, one digit mistyped; under the next line's 1,110 there.
    air = next(panels(5.0))
    assert air.lines[2].points[3].text == "1020"
    (one,) = misread(changed(air, 2, 3, 1060.0))
    assert one.finding.grade is Grade.SUSPECT
    assert one.finding.where == "line 2 at 20 x"
    assert one.finding.expected == pytest.approx(1018, abs=10)
    assert (one.finding.mend, one.finding.slip) == ("1020", "a digit mistyped")


def test_a_bend_that_is_marked_is_none() -> None:
    bent = panel(
        "temperature",
        lambda of, c: of + 4 * c + (10 * (c - 20) if c > 20 else 0),
        (500, 1500),
        range(-20, 61, 10),
        5,
    )
    assert misread(bent)
    marked = [
        line._replace(points=tuple(point._replace(kink=point.at == 20) for point in line.points))
        for line in bent.lines
    ]
    assert misread(bent._replace(lines=tuple(marked))) == ()


def test_lines_of_two_points_are_held_against_the_fan() -> None:
    fan = panel("weight", lambda start, lb: start * lb / 2550, STARTS, (2150, 2550), 5)
    assert misread(fan) == ()
    (first, *_) = misread(changed(fan, 4, 0, fan.lines[4].points[0].value + 130))
    assert "does not keep its place" in first.finding.reasons[0]


GRAPHS = """    graphs:
      - to: over 50 ft
        scale: ft
        reads_to: 10 ft
        stages:
          - input: temperature
            curves:
              - pressure_altitude: 0 ft
                points: [[0 degC, 700], [10 degC, 740], [20 degC, 780], [30 degC, 820], [40 degC, 860]]
              - pressure_altitude: 4000 ft
                points: [[0 degC, 1000], [10 degC, 1060], [20 degC, 1120], [30 degC, 1180], [40 degC, 1240]]
          - input: wind
            reference: 0 kt
            guide_lines:
              - [[-10 kt, 750], [0 kt, 500], [20 kt, 400]]
              - [[-10 kt, 2100], [0 kt, 1400], [20 kt, 1120]]
"""


def typed() -> str:
    """Return the example's aircraft file with one graph in place of its takeoff table."""
    text = (EXAMPLE / "aircraft" / "n0142.yaml").read_text(encoding="utf-8")
    begin = text.index("    temperatures:", text.index("\ntakeoff:"))
    text = text[:begin] + GRAPHS + text[text.index("    notes:", begin) :]
    return "".join(line for line in text.splitlines(keepends=True) if "5-11 note 1" not in line)


def test_a_whole_file_is_audited_with_its_graphs_and_they_are_drawn(tmp_path: Path) -> None:
    file = tmp_path / "airplane.yaml"
    file.write_text(typed(), encoding="utf-8")
    clean = audit_of(file, "airplane.yaml")
    assert clean.findings == ()
    assert "8 tables, 2 panels of graphs" in counted(clean)
    assert [each.name for each in clean.panels] == [
        f"takeoff, flaps 10, over 50 ft, {of}" for of in ("temperature", "wind")
    ]
    file.write_text(typed().replace("[20 degC, 1120]", "[20 degC, 1160]"), encoding="utf-8")
    found = audit_of(file, "airplane.yaml")
    (one,) = found.findings
    assert (one.table, one.where) == ("takeoff, flaps 10, over 50 ft, temperature", "the 4000 ft curve at 20 °C")
    line = file.read_text(encoding="utf-8").splitlines()[one.line - 1]
    assert line[one.column - 1 :].startswith("1160")
    assert "typed 1160 ft; its neighbours say about 1,120" in audit_lines(found)
    html = audit_html(found, for_screen=True)
    assert "takeoff, flaps 10, over 50 ft (5-11)" in html
    assert "Ringed 1; a cross is what the points beside it say." in html
    assert audit_pdf(found).startswith(b"%PDF")  # proved: every name and finding is in it


def test_two_typings_are_laid_beside_each_other_point_by_point() -> None:
    one, two = (
        typed(),
        typed().replace("[20 degC, 1120]", "[20 degC, 1210]").replace("[20 kt, 400]", "[25 kt, 400]"),
    )
    found = compare(parse(one, Path("one"), "one"), parse(two, Path("two"), "two"))
    graph = "takeoff, flaps 10, to over 50 ft"
    assert [(each.where, each.here, each.there) for each in found.differences] == [
        (f"{graph}, temperature, 4000 ft, 20 degC, on the scale", "1120", "1210"),
        (f"{graph}, wind, guide lines, number 1, 20 kt", "something", "nothing"),
        (f"{graph}, wind, guide lines, number 1, 25 kt", "nothing", "something"),
    ]


# Panels of two short lines


def as_in_the_guide(*edit: str) -> str:
    """Return the example's aircraft file with the graph of the guide in place of its takeoff table."""
    guide = (EXAMPLE.parent / "typing-in-a-handbook.md").read_text(encoding="utf-8")
    begin = guide.index("takeoff:\n", guide.index("**6. Obstacle.**"))
    graph = guide[begin : guide.index("```", begin)]
    if edit:
        assert edit[0] in graph
        graph = graph.replace(*edit)
    text = (EXAMPLE / "aircraft" / "n0142.yaml").read_text(encoding="utf-8")
    return text[: text.index("takeoff:\n  - flaps")] + graph + "\n" + text[text.index("landing:\n  - flaps") :]


@pytest.mark.parametrize(
    ("right", "wrong", "where"),
    [
        ("[20 degC, 1160]", "[20 degC, 1010]", "the 4000 ft curve at 20 °C"),
        ("[20 degC, 800]", "[20 degC, 710]", "the 0 ft curve at 20 °C"),
        ("[20 degC, 800]", "[20 degC, 900]", "the 0 ft curve at 20 °C"),
        ("[2350 lb, 1170]", "[2350 lb, 1000]", "guide line 2 at 2,350 lb"),
        ("[10 kt, 1190]", "[10 kt, 1030]", "guide line 2 at 10 kt"),
        ("[20 kt, 290]", "[20 kt, 190]", "guide line 1 at 20 kt"),
        ("[2550 lb, 1400]", "[2550 lb, 1200]", "guide line 2 at 2,550 lb"),
        ("[50 ft, 3800]", "[50 ft, 2800]", "guide line 2 at 50 ft"),
        ("[50 ft, 3800]", "[50 ft, 2150]", "guide line 2 at 50 ft"),
    ],
)
def test_a_large_slip_in_the_graph_of_the_guide_is_found(
    right: str, wrong: str, where: str, tmp_path: Path
) -> None:
    file = tmp_path / "airplane.yaml"
    file.write_text(as_in_the_guide(right, wrong), encoding="utf-8")
    (one,) = audit_of(file, "airplane.yaml").findings
    assert one.where == where
    assert one.typed == wrong.split()[-1].rstrip("]")


def test_the_report_says_of_each_panel_what_it_did_not_look_at(tmp_path: Path) -> None:
    file = tmp_path / "airplane.yaml"
    one_line = "              - [[2150 lb, 480], [2350 lb, 585], [2550 lb, 700]]\n"
    other = "              - [[2150 lb, 960], [2350 lb, 1170], [2550 lb, 1400]]\n"
    ends = "              - [[2150 lb, 480], [2550 lb, 700]]\n              - [[2150 lb, 960], [2550 lb, 1400]]\n"
    file.write_text(as_in_the_guide(one_line + other, ends), encoding="utf-8")
    found = audit_of(file, "airplane.yaml")
    assert found.findings == ()
    chart, rough = "takeoff, flaps 10, both distances", "points looked at only roughly, one line against the other"
    said = (
        f"{chart}, temperature: 6 of its 6 {rough}",
        f"{chart}, weight: not looked at, fewer than three lines, and than four points in a line",
        f"{chart}, wind: 8 of its 8 {rough}",
        f"{chart}, obstacle height: 4 of its 4 {rough}",
    )
    assert found.not_looked_at == said
    text, html = " ".join(audit_lines(found).split()), audit_html(found, for_screen=True)
    assert "Nothing looks wrong." not in text
    assert "Nothing looks wrong of what was looked at; not everything was, see below." in text
    assert all(each in text and each in html for each in said)
    assert "Nothing looks wrong of what was looked at; not everything in it was." in html
    data = json.loads(audit_json(found))
    assert data["not_looked_at"] == list(said)
    schema = json.loads((folder("schemas") / "audit.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(data)
    assert audit_pdf(found).startswith(b"%PDF")  # proved: every line of these is in it


def test_a_panel_that_was_looked_at_needs_no_words_and_one_in_part_says_how_many() -> None:
    air = next(panels(5.0))
    assert not_looked_at(air) == ""
    short = air.lines[1]._replace(points=air.lines[1].points[:2])
    in_part = air._replace(lines=(air.lines[0], short))
    assert not_looked_at(in_part) == "takeoff, temperature: 2 of its 8 points not looked at"


@pytest.mark.parametrize("step", [1.0, 5.0, 10.0])
def test_any_two_lines_that_were_read_well_raise_no_alarm(step: float) -> None:
    """Also where the wind takes less of a longer run, for its speed is higher; through calm, as a panel must be."""
    speeds_kt = {start: 50 + 1.5 * i for i, start in enumerate(STARTS)}
    uneven = panel("wind", lambda start, kt: start * (1 - kt / speeds_kt[start]) ** 2, STARTS, (-10, 0, 20), step)
    for each in (*panels(step), uneven):
        for two in combinations(each.lines, 2):
            for some in (slice(None), slice(0, None, 2), slice(0, 3)):
                lines = tuple(line._replace(points=line.points[some]) for line in two)
                assert misread(each._replace(lines=lines)) == (), (each.subject, two[0].name, two[1].name)

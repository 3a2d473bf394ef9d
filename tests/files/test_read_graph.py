"""A staged graph is read as it stands, in the page's order and units, and no mistyping of one ends in a crash.

Sources: the contract, design.md 'Bad input'; the numbers of the small graph below. The lines that faults end in are
in `tests/bad/graph_*`.
"""

from __future__ import annotations

import contextlib
import copy
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest
import yaml
from conftest import EXAMPLE

from briefgen.errors import InputFault
from briefgen.files.document import parse
from briefgen.files.entry import opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.handbook.graph_chart import GraphChart
from briefgen.model.aircraft import Aircraft

GRAPH = """
flaps: "20"
page: 5-12
conditions: {technique: short field, power: full throttle, surface: "paved, level, dry", factored: false}
beyond: {cold: edge, low: edge, light: edge}
graphs:
  - to: both
    page: 5-13
    scale: m
    reads_to: 5 m
    stages:
      - input: temperature
        curves:
          - {pressure_altitude: 0 ft, points: [[0 degC, 210], [20 degC, 240, kink], [40 degC, 280]]}
          - {pressure_altitude: 4000 ft, points: [[32 degF, 300], [68 degF, 350], [104 degF, 410]]}
      - input: wind
        reference: 0 kt
        guide_lines:
          - [[-10 kt, 150], [0 kt, 100], [20 kt, 70]]
          - [[-10 kt, 750], [0 kt, 500], [20 kt, 350]]
      - input: weight
        reference: 1150 kg
        guide_lines:
          - [[975 kg, 60], [1150 kg, 90]]
          - [[975 kg, 500], [1150 kg, 760]]
      - input: slope
        reference: 0 %
        guide_lines:
          - [[-2 %, 45], [0 %, 50], [2 %, 60]]
          - [[-2 %, 700], [0 %, 770], [2 %, 900]]
      - input: obstacle height
        reference: 0 ft
        guide_lines:
          - [[0 ft, 40], [50 ft, 80]]
          - [[0 ft, 910], [50 ft, 1500]]
notes:
  - {for: dry grass, change: +15 %, to: both, percent_of: ground roll, of: open, page: 5-12 note 2}
notes_order: as printed
"""
IN_DIVISIONS = """
to: over 50 ft
scale: divisions
reads_to: 0.2 divisions
stages:
  - input: temperature
    curves:
      - {pressure_altitude: 0 ft, points: [[0 degC, 2], [40 degC, 4]]}
      - {pressure_altitude: 4000 ft, points: [[0 degC, 3], [40 degC, 6]]}
distance_scale: [[1, 300 m], [3, 1500 ft], [8, 3000 ft]]
"""


@cache
def example() -> dict[str, Any]:
    """Return the example's aircraft file without what no graph touches."""
    whole = yaml.safe_load((EXAMPLE / "aircraft" / "n0142.yaml").read_text(encoding="utf-8"))
    typed = {"by": "A. Student", "on": "2026-04-18"}
    whole["provenance"] = {"typed": typed, "unchecked": "not yet compared with the pages"}
    whole["landing"][0]["tables"][0]["rows"] = [["0 ft", *["400/900"] * 5]]
    return {key: whole[key] for key in whole if key not in ("rate_of_climb", "climb", "cruise", "balance")}


def aircraft_with(*charts: Any) -> Aircraft:
    """Return the example's airplane with other takeoff charts."""
    text = yaml.safe_dump({**example(), "takeoff": list(charts)}, sort_keys=False, allow_unicode=True, width=500)
    return read_aircraft(opened(parse(text, Path("a.yaml"), "a.yaml"), "aircraft"))


def chart_of(graph: Any) -> GraphChart:
    (chart,) = aircraft_with(graph).takeoff
    assert isinstance(chart, GraphChart)
    return chart


def test_a_graph_is_read_in_the_page_s_order_and_in_feet() -> None:
    chart = chart_of(yaml.safe_load(GRAPH))
    graph = chart.graphs["roll"]
    assert chart.shared
    assert (chart.flaps, chart.page, graph.page) == ("20", "Handbook p. 5-12", "Handbook p. 5-13")
    assert [stage.subject.name for stage in graph.stages] == ["wind", "weight", "slope", "obstacle height"]
    assert (graph.curves.cold_edge, graph.curves.low_edge) == (True, True)
    assert [stage.light_edge for stage in graph.stages] == [False, True, False, False]
    assert graph.scale.reads_to == pytest.approx(5 / 0.3048)  # exact: international foot
    assert graph.curves.lines[0].values[0] == pytest.approx(210 / 0.3048)
    assert graph.curves.lines[1].inputs == pytest.approx((0.0, 20.0, 40.0))  # 32, 68 and 104 degF
    assert graph.stages[1].reference == pytest.approx(1150 / 0.45359237)  # exact: avoirdupois pound
    assert set(chart.answers) == {"headwind", "tailwind", "upslope", "downslope"}
    assert [note.cause for note in chart.notes] == ["dry grass"]
    assert not chart.order_open


def test_a_scale_of_divisions_has_its_distances_and_one_graph_may_give_one_distance() -> None:
    whole = yaml.safe_load(GRAPH)
    whole["graphs"] = [yaml.safe_load(IN_DIVISIONS)]
    chart = chart_of(whole)
    assert set(chart.graphs) == {"total"}
    scale = chart.graphs["total"].scale
    assert (scale.unit, scale.reads_to) == ("divisions", 0.2)
    assert scale.feet
    assert scale.feet.values == pytest.approx((300 / 0.3048, 1500.0, 3000.0))
    # 0 degC at sea level is 2 divisions: halfway from 984.25 ft to 1,500.
    assert scale.distance_ft(2.0, "") == pytest.approx((300 / 0.3048 + 1500) / 2)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda graphs: graphs.append(copy.deepcopy(graphs[0])), "a second graph gives both"),
        (lambda graphs: graphs[0].update(to="ground roll"), "gives both distances, not ground roll alone"),
        (lambda graphs: graphs[0].update(distance_scale=[[1, "300 ft"], [2, "600 ft"]]), "the scale is m already"),
        (lambda graphs: graphs[0]["stages"][1].pop("reference"), "a later panel needs 'reference'"),
        (lambda graphs: graphs[0]["stages"][0].pop("curves"), "the first panel needs 'curves'"),
        (lambda graphs: graphs[0]["stages"][4]["guide_lines"][0].__setitem__(1, ["50 ft", 40]), "stays to 40"),
        (lambda graphs: graphs[0]["stages"][1]["guide_lines"][0].__setitem__(2, ["20 kt", 110]), "rises to 110"),
        (lambda graphs: graphs[0]["stages"][1]["guide_lines"].reverse(), "is not above guide line 1"),
        (lambda graphs: graphs[0].update(reads_to="90 m"), "90 m is over the most that is plausible here"),
        (lambda graphs: graphs[0]["stages"][2].update(reference="9 kg"), "9 kg is under the least"),
        (lambda graphs: graphs.append(yaml.safe_load(IN_DIVISIONS)), "a second graph gives over 50 ft"),
    ],
)
def test_what_cannot_be_is_told(change: Any, words: str) -> None:
    whole = yaml.safe_load(GRAPH)
    change(whole["graphs"])
    with pytest.raises(InputFault) as told:
        aircraft_with(whole)
    assert [str(each) for each in told.value.problems if words in str(each)], told.value.problems


def test_two_graphs_with_different_panels_are_told() -> None:
    whole, other = yaml.safe_load(GRAPH), yaml.safe_load(IN_DIVISIONS)
    del whole["graphs"][0]["stages"][4]
    whole["graphs"][0]["to"] = "ground roll"
    whole["graphs"].append(other)
    with pytest.raises(InputFault) as told:
        aircraft_with(whole)
    said = [each.message for each in told.value.problems]
    assert "one of the two graphs has a panel for tailwind, the other has none" in said


def places(value: Any) -> list[tuple[Any, Any]]:
    """Return every holder below a value with each of its keys."""
    keys = list(value) if isinstance(value, dict) else list(range(len(value))) if isinstance(value, list) else []
    return [(value, key) for key in keys] + [pair for key in keys for pair in places(value[key])]


def test_no_mistyping_ends_in_a_crash() -> None:
    random, read = Random(7), 0
    junk: list[Any] = [
        None,
        "",
        "x",
        "10 lb",
        "-5 kt",
        0,
        -3,
        1e9,
        True,
        [],
        {},
        [[]],
        [1, 2],
        {"input": "wind"},
        "5 %",
    ]
    for _ in range(200):
        whole = yaml.safe_load(GRAPH)
        if random.random() < 0.3:
            whole["graphs"] = [yaml.safe_load(IN_DIVISIONS)]
        for _ in range(random.choice((1, 1, 2, 4))):
            holder, key = random.choice(places(whole))
            change = random.random()
            if change < 0.3:
                holder.pop(key) if isinstance(holder, list) else holder.pop(key, None)
            elif change < 0.4 and isinstance(holder, list):
                holder.insert(key, copy.deepcopy(holder[key]))
            else:
                holder[key] = copy.deepcopy(random.choice(junk))
        with contextlib.suppress(InputFault):
            aircraft_with(whole)
            read += 1
    assert 5 < read < 100  # most were refused, not all

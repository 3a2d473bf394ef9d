"""Read a staged graph, digitized as points, panel by panel; and a distance chart of either form."""

from __future__ import annotations

from itertools import pairwise
from math import isfinite

from briefgen import units
from briefgen.files.entry import Entry
from briefgen.files.read_chart import conditions_of, one_note_each, read_chart
from briefgen.files.read_notes import CHANGES, page_source, read_notes
from briefgen.files.read_panel import Panel, read_curves, read_guides
from briefgen.files.read_rows import rising
from briefgen.handbook.charts import Chart
from briefgen.handbook.graph import Graph, Scale
from briefgen.handbook.graph_chart import GraphChart
from briefgen.handbook.lines import HEIGHT, Curves, Guides, Line

DIVISIONS = "divisions"
_MOST_READ_TO_FT = 200.0  # read more coarsely, a graph is not worth digitizing; common practice, no source
_SHOWN = {True: "for example 0.2 divisions", False: "for example 20 ft"}
_OF_A_TABLE = ("temperatures", "checked")


def read_distance(entry: Entry, phase: str, title: str) -> Chart | None:
    """Return one takeoff or landing chart of either form; None, with every fault noted, if it cannot be read."""
    return read_graph_chart(entry, phase, title) if entry.get("graphs") else read_chart(entry, phase, title)


def read_graph_chart(entry: Entry, phase: str, title: str) -> GraphChart | None:
    """Return one chart of graphs; None, with every fault noted, where something in it cannot be read."""
    faults, before = entry.faults, len(entry.faults.problems)
    for key in _OF_A_TABLE:
        odd = entry.get(key)
        if odd and entry.get("tables") is None:
            odd.fault(f"'{key}' belongs to a table, and this is a graph", "leave it out")
    notes = read_notes(entry, title, phase)
    one_note_each(entry)
    given = entry["graphs"].each()
    _one_graph_each(given)
    beyond = entry.get("beyond")
    edges = {end: beyond is not None and beyond.text(end) == "edge" for end in ("cold", "low", "light")}
    read = [faults.part(each, lambda part: _graph(part, entry, phase, title, edges)) for each in given]
    graphs = {
        quantity: graph
        for each, graph in zip(given, read, strict=True)
        if graph
        for quantity in CHANGES.get(each.text("to"), ())
    }
    if len(faults.problems) > before or faults.touch(entry.place):
        return None
    chart = GraphChart(
        phase=phase,
        flaps=entry.text("flaps"),
        graphs=graphs,
        conditions=conditions_of(entry["conditions"]),
        page=page_source(title, entry.text("page")).text,
        notes=notes,
        order_open=entry.text("notes_order", "open") == "open",
    )
    _answered_once(entry, chart)
    return chart if len(faults.problems) == before else None


def _one_graph_each(given: list[Entry]) -> None:
    """Note a second graph of a distance."""
    seen: set[str] = set()
    for each in given:
        quantities = CHANGES.get(each.text("to"), ())
        if seen.intersection(quantities):
            hint = "one graph for each distance, or one for both"
            each["to"].fault(f"a second graph gives {each.text('to')}", hint)
        seen.update(quantities)


def _answered_once(entry: Entry, chart: GraphChart) -> None:
    """Note what would be counted twice, or for one of the two distances only."""
    found = {cause for graph in chart.graphs.values() for cause in graph.answers}
    for cause in sorted(found - set(chart.answers)):
        message = f"one of the two graphs has a panel for {cause}, the other has none"
        entry["graphs"].fault(message, "give both the same panels")
    for note in entry.items("notes"):
        cause = note.text("for")
        if cause in found:
            message = f"a panel of the graph answers {cause} already; with this note it would count twice"
            note["for"].fault(message, "leave the note out, or the panel")


def _graph(entry: Entry, whole: Entry, phase: str, title: str, edges: dict[str, bool]) -> Graph | None:
    before = len(entry.faults.problems)
    scale, per_unit = _scale(entry)
    panels = [Panel(each, phase, per_unit, edges) for each in entry["stages"].each()]
    _order(entry, panels)
    curves: Curves | None = None
    stages: list[Guides] = []
    for number, panel in enumerate(panels):
        if number == 0:
            curves = read_curves(panel)
        elif panel.subject:
            guides = read_guides(panel, panel.subject)
            stages += [guides] if guides else []
    if curves is None or scale is None or len(entry.faults.problems) > before:
        return None
    page = page_source(title, entry.text("page", whole.text("page"))).text
    return Graph(phase, curves, tuple(stages), scale, page)


def _order(entry: Entry, panels: list[Panel]) -> None:
    """Note panels that stand twice or in the wrong place, and a panel for the obstacle where there must be none."""
    seen: set[str] = set()
    for number, panel in enumerate(panels):
        name, there = panel.entry.text("input"), panel.entry.get("input")
        if there is None or entry.faults.touch(there.place):
            seen.add(HEIGHT)  # as it may be
        elif (number == 0) != (name == "temperature"):
            message = f"panel {number + 1} is entered with {name}"
            there.fault(message, "the first panel is entered with temperature, and no other")
        elif name in seen:
            there.fault(f"a second panel for {name}", "one panel for each input")
        else:
            seen.add(name)
    both, asked = entry.text("to") == "both", any(panel.entry.text("input") == HEIGHT for panel in panels)
    if panels and both and HEIGHT not in seen:
        message = f"a graph that gives both distances needs a panel for the {HEIGHT}"
        entry["to"].fault(message, "or say which of the two it gives")
    if asked and not both and entry.text("to"):
        message = f"a graph with a panel for the {HEIGHT} gives both distances, not {entry.text('to')} alone"
        entry["to"].fault(message, "write to: both")


def _scale(entry: Entry) -> tuple[Scale | None, float]:
    """Return the scale of a graph, and what one unit of it is inside: ft, or 1 for divisions."""
    unit, read_to, printed = entry.text("scale"), entry["reads_to"], entry.get("distance_scale")
    own = unit == DIVISIONS
    if any(entry.faults.touch(each.place) for each in (entry["scale"], read_to)):
        return None, 1.0  # the schema's fault is noted
    if read_to.value.endswith(DIVISIONS) != own:
        read_to.fault(f"{read_to.value} is not in the unit of the scale, which is {unit}", _SHOWN[own])
        return None, 1.0
    reads_to = _divisions(read_to) if own else read_to.quantity("length", 0.1, _MOST_READ_TO_FT)
    if own != (printed is not None):
        if own:
            message = "a scale of divisions needs 'distance_scale' beside it"
            entry["scale"].fault(message, "each printed distance, and at how many divisions it stands")
        elif printed:
            printed.fault(f"the scale is {unit} already", "leave it out, or write scale: divisions")
        return None, 1.0
    feet = _distances(printed) if printed else None
    return Scale(DIVISIONS if own else "ft", reads_to, feet), 1.0 if own else units.parse("length", f"1 {unit}")


def _divisions(entry: Entry) -> float:
    value = float(entry.value.removesuffix(DIVISIONS))
    if value <= 0:
        entry.fault(f"{entry.value} is nil", "no reading is exact")
    return value


def _distances(entry: Entry) -> Line | None:
    """Return the printed scale of distances over divisions, both rising."""
    pairs = [pair.each() for pair in entry.each() if len(pair.each()) == 2]
    at = [float(pair[0].value) for pair in pairs]
    feet = [pair[1].quantity("length", 0, 30_000) for pair in pairs]
    rising([pair[0] for pair in pairs], at, "mark")
    rising([pair[1] for pair in pairs], feet, "distance")
    sound = len(pairs) > 1 and all(map(isfinite, feet)) and all(b > a for a, b in pairwise(at))
    return Line(tuple(at), tuple(feet)) if sound else None

"""Read the staged graphs of an aircraft file once more as they were typed, point by point, for an audit."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.files.entry import Entry
from briefgen.handbook.lines import SUBJECTS, Subject
from briefgen.model.typed_graph import TypedLine, TypedPanel, TypedPoint
from briefgen.units import parse


def read_typed_graphs(root: Entry) -> tuple[TypedPanel, ...]:
    """Return every panel of the graphs of an aircraft file that was read without a fault, in its order."""
    return tuple(
        _panel(stage, f"{phase}, flaps {chart.text('flaps')}, {_of(graph)}", graph, chart)
        for phase in ("takeoff", "landing")
        for chart in root.items(phase)
        for graph in chart.items("graphs")
        for stage in graph.items("stages")
    )


def _of(graph: Entry) -> str:
    to = graph.text("to")
    return "both distances" if to == "both" else to


def _panel(stage: Entry, name: str, graph: Entry, chart: Entry) -> TypedPanel:
    subject = stage.text("input")
    given = SUBJECTS.get(subject)
    scale = graph.text("scale")
    return TypedPanel(
        chart=name,
        page=graph.text("page", chart.text("page")),
        subject=subject,
        across=given.unit if given else "°C",
        scale=scale,
        reads_to=_number(graph.text("reads_to"), scale),
        lines=tuple(_lines(stage, given)),
    )


def _number(text: str, scale: str) -> float:
    """Return how well points were read, in the unit of the scale."""
    if scale == "divisions":
        return float(text.removesuffix(scale))
    return parse("length", text) / parse("length", f"1 {scale}")


def _lines(stage: Entry, given: Subject | None) -> Iterator[TypedLine]:
    for curve in stage.items("curves"):
        yield TypedLine(f"the {curve.text('pressure_altitude')} curve", _points(curve["points"], given))
    for number, line in enumerate(stage.items("guide_lines"), 1):
        yield TypedLine(f"guide line {number}", _points(line, given))


def _points(line: Entry, given: Subject | None) -> tuple[TypedPoint, ...]:
    """Return the points of a line; where its two sides meet it may bend, marked or not."""
    found = []
    document = line.faults.document
    for point in line.each():
        first, value, *kink = point.each()
        at = first.quantity(given.kind if given else "temperature") * (100 if given and given.unit == "%" else 1)
        text = document.written.get(value.place, str(value.value))
        bends = bool(kink) or (at == 0 and given is not None and bool(given.more))
        found.append(TypedPoint(at, float(value.value), text, *document.marks[value.place], bends))
    return tuple(found)

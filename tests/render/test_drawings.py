"""The strip's drawing: to scale, and no label over another at any length of strip."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.plans import Place, Sketch, Span
from briefgen.render.drawings import LETTER, MARGIN, WIDTH, Label, lay_out


def sketch(length_ft: float, places: list[Place], spans: list[Span] | None = None) -> Sketch:
    return Sketch(
        "Landing", "09", "27", length_ft, length_ft, "grass", tuple(places), tuple(spans or ()), "", "words"
    )


def box(label: Label) -> tuple[float, float, float, float]:
    half = len(label.text) * LETTER / 2
    return label.x - half, label.x + half, label.y - 30, label.y + 8


def overlapping(labels: list[Label]) -> list[tuple[str, str]]:
    return [
        (a.text, b.text)
        for a, b in combinations(labels, 2)
        if min(box(a)[1], box(b)[1]) > max(box(a)[0], box(b)[0])
        and min(box(a)[3], box(b)[3]) > max(box(a)[2], box(b)[2])
    ]


names = st.sampled_from(["windsock", "1st cone", "taxiway", "the big oak", "hangar corner", "10th cone"])


@settings(deadline=None, derandomize=True, max_examples=200)
@given(
    length=st.floats(600, 12_000),
    marks=st.lists(st.tuples(names, st.floats(0, 1)), max_size=14),
    needs=st.lists(st.floats(0.1, 1.6), min_size=1, max_size=2),
    point=st.floats(0, 1),
)
def test_no_label_touches_another(
    length: float, marks: list[tuple[str, float]], needs: list[float], point: float
) -> None:
    places = [Place("mark", name, share * length) for name, share in marks]
    places.append(Place("go-around", f"go-around point {point * length:,.0f}", point * length))
    spans = []
    for kind, need in zip(("planned", "flaps-up"), needs, strict=False):
        spans.append(Span(f"{kind} roll", "ground roll", 0, need * length))
        places.append(Place(f"{kind} need", f"{kind} about {need * length:,.0f}", need * length))
    drawing = lay_out(sketch(length, places, spans))
    labels = [*drawing.marks, *drawing.ends, *drawing.scale, *([drawing.point] if drawing.point else [])]
    assert len(labels) >= len(places)
    assert overlapping(labels) == []
    assert all(box(label)[0] >= -0.01 and box(label)[1] <= WIDTH + 0.01 for label in labels)
    assert all(0 <= label.y <= drawing.height for label in labels)


@pytest.mark.parametrize("length", [600, 1120, 12_000])
def test_places_are_to_scale(length: float) -> None:
    """Half-way along the strip is half-way along its bar; the far end of the strip is the far end of the bar."""
    drawing = lay_out(sketch(length, [Place("mark", "half", length / 2), Place("mark", "end", length)]))
    middle, end = (next(mark.tick_x for mark in drawing.marks if mark.text == name) for name in ("half", "end"))
    assert drawing.strip.x == MARGIN
    assert middle == pytest.approx(drawing.strip.x + drawing.strip.width / 2, abs=0.1)
    assert end == pytest.approx(drawing.strip.x + drawing.strip.width, abs=0.1)


def test_a_need_longer_than_the_strip_is_drawn_past_its_end() -> None:
    spans = [Span("flaps-up roll", "ground roll", 380, 1175)]
    drawing = lay_out(sketch(1120, [Place("flaps-up need", "flaps up 1,295", 1295)], spans))
    assert drawing.ends[0].tick_x > drawing.strip.x + drawing.strip.width
    assert drawing.ends[0].tick_x <= WIDTH - MARGIN + 0.1

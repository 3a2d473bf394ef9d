"""The strip's drawing, at any length of strip: to scale, no words over words, no line through words, none off it.

The widths of words are read from the typeface here, letter by letter, and so are how far letters reach above and
below their line. That nothing lies over anything is a rule of legibility: common practice, no source.
"""

from __future__ import annotations

from itertools import combinations
from pathlib import Path
from typing import NamedTuple

import fontpkg_ibm_plex_sans_condensed as typeface
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.plans import Place, Sketch, Span
from briefgen.render.drawings import MARGIN, WIDTH, Drawing, Label, lay_out
from briefgen.render.flags import Flag
from briefgen.render.lettering import folded, width

SIZE = 36  # of the letters, by the template
FONTS = {
    strong: TTFont(Path(typeface.ROOT) / "files" / f"IBMPlexSansCondensed-{weight}.ttf")
    for strong, weight in ((False, "Regular"), (True, "SemiBold"))
}
FT_PER_M = 1 / 0.3048
HALF_A_PIXEL = 0.5 * 254 / 110 / 2  # of a page looked at with 110 pixels an inch, in tenths of a millimetre, halved


class Box(NamedTuple):
    """What some words cover: from left to right, from their highest letter to their lowest."""

    text: str
    left: float
    right: float
    top: float
    bottom: float

    def over(self, other: Box) -> bool:
        across = min(self.right, other.right) - max(self.left, other.left)
        return across > 0 and min(self.bottom, other.bottom) > max(self.top, other.top)


def real_width(text: str, strong: bool) -> float:
    font = FONTS[strong]
    glyphs = font.getBestCmap()
    return sum(font["hmtx"][glyphs[ord(letter)]][0] for letter in text) * SIZE / font["head"].unitsPerEm


def box_at(text: str, left: float, y: float, strong: bool) -> Box:
    """Words from their left end; capitals are 0.698 of the size high, as the face's OS/2 table has it."""
    return Box(text, left, left + real_width(text, strong), y - 0.698 * SIZE, y + 0.2 * SIZE)


def boxes_of(drawing: Drawing) -> list[Box]:
    """Every word of a drawing, by how its template places it."""
    strip = drawing.strip
    middle = strip.y + 23 + 0.35 * SIZE
    near = strip.x - 8 - real_width(drawing.near_ident, True)
    boxes = [
        box_at(drawing.near_ident, near, middle, True),
        box_at(drawing.far_ident, strip.x + strip.width + 8, middle, True),
    ]
    for flag in drawing.marks + drawing.ends:
        for text, y in flag.lines:
            left = flag.words_x - (real_width(text, flag.strong) if flag.leftward else 0)
            boxes.append(box_at(text, left, y, flag.strong))
    for label in (*drawing.scale, *([drawing.point] if drawing.point else [])):
        boxes.append(box_at(label.text, label.x - real_width(label.text, label.strong) / 2, label.y, label.strong))
    return boxes


def lines_of(drawing: Drawing) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Every line that leads to words, or that could lie over them."""
    lines = [pair for flag in drawing.marks + drawing.ends for pair in zip(flag.line, flag.line[1:], strict=False)]
    if drawing.point:
        x = drawing.point.tick_x
        lines.append(((x, drawing.point_from_y), (x, drawing.point.y - 30)))
    if drawing.available_x is not None:
        x = drawing.available_x
        lines += [((x, from_y), (x, to_y)) for from_y, to_y in drawing.available]
    return lines


def through(line: tuple[tuple[float, float], tuple[float, float]], box: Box) -> bool:
    """Whether a line crosses a box: looked at in 40 places along it."""
    (x0, y0), (x1, y1) = line
    points = [(x0 + (x1 - x0) * i / 40, y0 + (y1 - y0) * i / 40) for i in range(41)]
    return any(box.left < x < box.right and box.top < y < box.bottom for x, y in points)


def faults(drawing: Drawing) -> list[str]:
    """All that is wrong with a drawing."""
    boxes = boxes_of(drawing)
    found = [f"{a.text} over {b.text}" for a, b in combinations(boxes, 2) if a.over(b)]
    found += [f"a line through {box.text}" for box in boxes for line in lines_of(drawing) if through(line, box)]
    for box in boxes:
        if box.left < -0.1 or box.right > drawing.width + 0.1 or box.top < 0 or box.bottom > drawing.height:
            found.append(f"{box.text} leaves the drawing: {box}")
    return found


def sketch(
    length_ft: float,
    places: list[Place],
    spans: list[Span] | None = None,
    *,
    origin_ft: float = 0.0,
    metric: bool = False,
) -> Sketch:
    unit, ft_per_unit = ("m", FT_PER_M) if metric else ("ft", 1.0)
    ordered = tuple(sorted(places, key=lambda place: place.at_ft))
    return Sketch(
        *("Landing", "09L", "27R", length_ft, length_ft, "grass", ordered, tuple(spans or ()), "", "words"),
        origin_ft=origin_ft,
        unit=unit,
        ft_per_unit=ft_per_unit,
    )


LETTERS = st.sampled_from("abcdeilmnostuwABGMWQ019%&' -")
NAMES = st.one_of(
    st.sampled_from(["windsock", "taxiway", "the big oak", "W" * 40, "big oak by the farm gate and the red barn"]),
    st.text(LETTERS, min_size=1, max_size=40).filter(lambda name: bool(name.strip())),
)


@st.composite
def strips(draw: st.DrawFn) -> Sketch:
    """A strip with marks, crowded or not, a row of counted ones, needs short, long and past the end, a point."""
    length = draw(st.one_of(st.sampled_from([600.0, 1120.0, 2990.0, 12_000.0]), st.floats(600, 12_000)))
    origin = draw(st.one_of(st.just(0.0), st.floats(1, 0.6 * length)))
    metric = draw(st.booleans())
    crowd = draw(st.floats(0.005, 1))  # of the strip, in which all marks stand
    begins = draw(st.floats(0, 1 - crowd))
    marks = draw(st.lists(st.tuples(NAMES, st.floats(0, 1)), max_size=12))
    places = [Place("mark", name, (begins + share * crowd) * length) for name, share in marks]
    apart_ft = draw(st.sampled_from([0, 100, 200, 500]))
    row = range(1, int((length - origin) / apart_ft) + 1) if apart_ft else ()
    places += [Place("mark", f"{i}th cone", origin + i * apart_ft, i) for i in row]
    places += [Place("threshold", "threshold", origin)] if origin else []
    places.append(Place("aim", "aim", origin + draw(st.floats(0, 300))))
    said = FT_PER_M if metric else 1.0
    point = draw(st.floats(0, 1.4)) * length
    places.append(Place("go-around", f"go-around point {point / said:,.0f}", point))
    spans = []
    for kind, name in (("planned", "as planned"), ("flaps-up", "flaps up about"), ("takeoff", "50 ft at")):
        need = origin + draw(st.one_of(st.floats(0.01, 1.6), st.floats(1, 20))) * length
        spans.append(Span(f"{kind} roll", "ground roll", origin, need))
        places.append(Place(f"{kind} need", f"{name} {need / said:,.0f}", need))
    places.append(Place("takeoff need", f"liftoff {need / said / 2:,.0f}", need / 2))
    return sketch(length, places, spans, origin_ft=origin, metric=metric)


@settings(deadline=None, derandomize=True, max_examples=300)
@given(strips())
def test_no_words_touch_words_or_lines_and_none_leave_the_drawing(drawn: Sketch) -> None:
    drawing = lay_out(drawn)
    assert faults(drawing) == []
    assert len(drawing.scale) >= 1


def at_of(drawing: Drawing) -> list[float]:
    flags = [flag.at for flag in drawing.marks + drawing.ends]
    return sorted([*flags, *drawing.ticks, *([drawing.point.tick_x] if drawing.point else [])])


@settings(deadline=None, derandomize=True, max_examples=100)
@given(strips())
def test_every_point_stands_at_its_scaled_place(drawn: Sketch) -> None:
    """The scale is that of the strip's own bar: a foot of it is as long everywhere."""
    drawing = lay_out(drawn)
    a_foot = drawing.strip.width / drawn.length_ft
    wanted = sorted(drawing.strip.x + place.at_ft * a_foot for place in drawn.places)
    furthest = max([drawn.length_ft, *(place.at_ft for place in drawn.places)])
    slack = HALF_A_PIXEL + 0.1 * furthest / drawn.length_ft  # the bar's own end is rounded to 0.1
    assert [x - y for x, y in zip(at_of(drawing), wanted, strict=True) if abs(x - y) > slack] == []
    for label in drawing.scale:
        said = float(label.text.split()[0].replace(",", ""))
        place = drawing.strip.x + (drawn.origin_ft + said * drawn.ft_per_unit) * a_foot
        assert abs(label.tick_x - place) <= slack


@pytest.mark.parametrize("length", [600, 1120, 12_000])
def test_places_are_to_scale(length: float) -> None:
    """Half-way along the strip is half-way along its bar; the far end of the strip is the far end of the bar."""
    drawing = lay_out(sketch(length, [Place("mark", "half", length / 2), Place("mark", "end", length)]))
    end, middle = (flag.at for flag in drawing.marks)
    assert drawing.strip.x >= MARGIN
    assert middle == pytest.approx(drawing.strip.x + drawing.strip.width / 2, abs=0.1)
    assert end == pytest.approx(drawing.strip.x + drawing.strip.width, abs=0.1)


def test_a_need_longer_than_the_strip_is_drawn_past_its_end() -> None:
    spans = [Span("flaps-up roll", "ground roll", 380, 1175)]
    drawing = lay_out(sketch(1120, [Place("flaps-up need", "flaps up 1,295", 1295)], spans))
    assert drawing.ends[0].at > drawing.strip.x + drawing.strip.width
    assert drawing.ends[0].at <= WIDTH - MARGIN + 0.1


def test_a_long_row_of_marks_is_thinned_out_and_keeps_its_ticks() -> None:
    """Sixty cones in 12,000 ft: their words would stand 60 high."""
    cones = [Place("mark", f"{i}th cone", 200.0 * i, i) for i in range(1, 61)]
    drawing = lay_out(sketch(12_000, [*cones, Place("mark", "windsock", 4000)]))
    names = {text for flag in drawing.marks for text, _ in flag.lines}
    assert {"windsock", "1th cone", "20th cone", "60th cone"} <= names
    assert len(drawing.marks) + len(drawing.ticks) == 61
    assert drawing.ticks


def test_a_name_too_wide_is_folded_and_loses_no_letter() -> None:
    name = "the big oak by the farm gate, then the red barn"
    drawing = lay_out(sketch(1120, [Place("mark", name, 600)]))
    from_the_top = sorted(drawing.marks[0].lines, key=lambda line: line[1])
    assert len(from_the_top) == 2
    assert " ".join(text for text, _ in from_the_top) == name
    assert "".join(folded("W" * 60, 500)) == "W" * 60


def test_a_mark_at_the_far_end_flies_its_flag_to_the_left() -> None:
    drawing = lay_out(sketch(1120, [Place("mark", "hangar corner", 1115)]))
    assert drawing.marks[0].leftward
    assert drawing.marks[0].line[0][0] == drawing.marks[0].line[-1][0] == drawing.marks[0].at


@given(st.text(LETTERS, max_size=30), st.booleans())
def test_words_are_as_wide_as_the_typeface_says(text: str, strong: bool) -> None:
    assert width(text, strong=strong) == pytest.approx(real_width(text, strong))


def test_a_letter_that_the_typeface_lacks_counts_as_wide_as_it_is_high() -> None:
    assert width("\u5cb8") == SIZE


def test_the_check_of_drawings_finds_what_is_wrong() -> None:
    """Two labels in one place, a line through them, and one off the drawing, each put there by hand."""
    drawing = lay_out(sketch(1120, [Place("go-around", "go-around point 300", 300)]))
    assert faults(drawing) == []
    over = Flag((("over", drawing.scale[0].y),), drawing.scale[0].x, False, 0, ((600, 0), (600, 1)), False)
    leader = Flag((), 0, False, 0, ((drawing.scale[0].x, 0), (drawing.scale[0].x, 900)), False)
    off = Label("a long way off", WIDTH, drawing.scale[0].y, 0)
    for wrong in (
        {"marks": (over,)},
        {"marks": (leader,)},
        {"scale": (*drawing.scale, off)},
    ):
        parts = {name: getattr(drawing, name) for name in Drawing.__slots__} | wrong
        assert faults(Drawing(**parts)) != []

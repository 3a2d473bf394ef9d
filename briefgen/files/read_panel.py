"""Read one panel of a staged graph: curves to enter by, or guide lines from a reference line."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import isfinite, nan
from typing import NamedTuple

from briefgen import units
from briefgen.files.entry import Entry
from briefgen.files.read_rows import rising
from briefgen.handbook.lines import HEIGHT, SUBJECTS, Curves, Guides, Line, Subject, figures, guides, on_scale

_RANGES = {"weight": (300.0, 12_500.0), "wind": (-60.0, 60.0), "slope": (-0.1, 0.1), HEIGHT: (0.0, 500.0)}
_SHOWN = {"weight": "2400 lb", "wind": "10 kt", "slope": "2 %", HEIGHT: "50 ft"}
OBSTACLES_FT = (0.0, 50.0)
LATER, FIRST = ("reference", "guide_lines"), ("curves",)


class Panel(NamedTuple):
    """One panel, and what its whole graph says: `per_unit`, feet of one unit of its scale; which ends are edges."""

    entry: Entry
    phase: str
    per_unit: float
    edges: dict[str, bool]

    @property
    def subject(self) -> Subject | None:
        """What a later panel is entered with; None for the first, or where that cannot be known."""
        return SUBJECTS.get(self.entry.text("input"))


class Drawn(NamedTuple):
    """One line as it was read, with its points."""

    entry: Entry
    points: list[list[Entry]]
    line: Line

    @property
    def sound(self) -> bool:
        """Whether it can be held against others: it has points, and they rise."""
        inputs, values = self.line
        numbers = all(map(isfinite, (*inputs, *values)))
        return numbers and len(inputs) > 1 and all(b > a for a, b in pairwise(inputs))

    def near(self, at: float) -> Entry:
        """Return the point that stands nearest to an input."""
        return min(zip(self.line.inputs, self.points, strict=True), key=lambda each: abs(each[0] - at))[1][1]


def read_curves(panel: Panel) -> Curves | None:
    """Return the first panel; None where a fault, noted, leaves nothing to read."""
    _only(panel.entry, FIRST, LATER)
    given = panel.entry.items("curves")
    altitudes = [each["pressure_altitude"] for each in given if each.get("pressure_altitude")]
    altitudes_ft = [each.quantity("length", -2000, 30_000) for each in altitudes]
    rising(altitudes, altitudes_ft, "pressure altitude")
    drawn = [_drawn(each["points"], panel, None) for each in given]
    for each in drawn:
        _course(each, 1, "gets hotter")
    _apart(drawn, lambda i: f"the {altitudes[i].value} curve", lambda at: f"{figures(at)} degC")
    if len(drawn) < 2 or not all(each.sound for each in drawn) or len(altitudes) != len(drawn):
        return None
    lines = tuple(each.line for each in drawn)
    return Curves(tuple(altitudes_ft), lines, panel.edges["cold"], panel.edges["low"])


def read_guides(panel: Panel, subject: Subject) -> Guides | None:
    """Return a later panel; None where a fault, noted, leaves nothing to read.

    Parameters
    ----------
    panel : as given.
    subject : what it is entered with.
    """
    before = len(panel.entry.faults.problems)
    _only(panel.entry, LATER, FIRST)
    reference = panel.entry.get("reference")
    at = amount(reference, subject) if reference else nan
    if reference and subject.more and at != 0 and isfinite(at):
        nil = "0 kt" if subject.kind == "speed" else "0 %"
        reference.fault(f"the reference line of {subject.name} stands at {reference.value}", f"it is {nil}")
        return None
    drawn = [_drawn(each, panel, subject) for each in panel.entry.items("guide_lines")]
    words = f"more {subject.name}" if not subject.more else subject.more
    for each in drawn:
        _course(each, subject.course(panel.phase), f"goes to {words}", strictly=subject.name == HEIGHT)
        _reaches(each, subject, at, reference)
    _apart(drawn, lambda i: f"guide line {i + 1}", subject.said)
    if len(panel.entry.faults.problems) > before or len(drawn) < 2 or not all(each.sound for each in drawn):
        return None
    light = panel.edges["light"] and subject.name == "weight"
    return guides(subject, at, tuple(each.line for each in drawn), light_edge=light)


def amount(entry: Entry, subject: Subject) -> float:
    """Return an amount of a panel's input; not a number, with the fault noted, where it is none."""
    if not isinstance(entry.value, str):
        return nan  # the schema's fault is noted
    try:
        units.parse(subject.kind, entry.value)
    except ValueError:
        names = ", ".join(units.KINDS[subject.kind])
        message = f"'{entry.value}' is not an amount of {subject.name} with its unit ({names})"
        entry.fault(message, f"for example {_SHOWN[subject.name]}")
        entry.faults.refused.add(entry.place)
        return nan
    return entry.quantity(subject.kind, *_RANGES[subject.name])


def _only(entry: Entry, wanted: tuple[str, ...], odd: tuple[str, ...]) -> None:
    """Note the keys of the other kind of panel, and those that are missing."""
    which = "the first panel" if wanted == FIRST else "a later panel"
    for key in odd:
        found = entry.get(key)
        if found:
            found.fault(f"'{key}' has no meaning in {which}", f"it has {' and '.join(wanted)}")
    for key in wanted:
        if entry.get(key) is None and not entry.faults.touch((*entry.place, key)):
            entry.fault(f"{which} needs '{key}'", "see the guide to graphs")


def _drawn(entry: Entry, panel: Panel, subject: Subject | None) -> Drawn:
    """Return one line, faults of its points noted."""
    points = [point.each() for point in entry.each() if len(point.each()) > 1]
    firsts = [point[0] for point in points]
    at = [amount(each, subject) if subject else each.quantity("temperature", -60, 60) for each in firsts]
    values = [_value(point[1]) * panel.per_unit for point in points]
    rising(firsts, at, "point")
    return Drawn(entry, points, Line(tuple(at), tuple(values)))


def _value(entry: Entry) -> float:
    number = isinstance(entry.value, int | float) and not isinstance(entry.value, bool)
    return float(entry.value) if number else nan  # the schema's fault is noted


def _course(drawn: Drawn, course: int, words: str, *, strictly: bool = False) -> None:
    """Note every point at which a line goes the other way than the input can take it."""
    if not drawn.sound:
        return
    for (_, before), (point, value) in pairwise(zip(drawn.points, drawn.line.values, strict=True)):
        if (value - before) * course < 0 or (strictly and value == before):
            way = "falls" if value < before else ("rises" if value > before else "stays")
            message = f"the line {way} to {point[1].value} as it {words}"
            point[1].fault(message, "look at this point and the one before it on the page")


def _reaches(drawn: Drawn, subject: Subject, at: float, reference: Entry | None) -> None:
    """Note a guide line without a point on the reference line; or at the obstacle heights that are asked for."""
    if not drawn.sound:
        return
    if reference and isfinite(at) and at not in drawn.line.inputs:
        message = f"this guide line has no point on the reference line, at {reference.value}"
        drawn.entry.fault(message, "every guide line starts from it")
    if subject.name == HEIGHT:
        for height_ft in OBSTACLES_FT:
            if height_ft not in drawn.line.inputs:
                message = f"this guide line has no point at an obstacle height of {height_ft:g} ft"
                drawn.entry.fault(message, "0 ft is the ground roll, 50 ft the total")


def _apart(drawn: list[Drawn], name: Callable[[int], str], said: Callable[[float], str]) -> None:
    """Note a line that is not above the one before it wherever both were drawn: they cross, or are out of order."""
    for i, (lower, upper) in enumerate(pairwise(drawn), 1):
        if not (lower.sound and upper.sound):
            continue
        for at in sorted({*lower.line.inputs, *upper.line.inputs}):
            if lower.line.covers(at) and upper.line.covers(at) and upper.line.value(at) <= lower.line.value(at):
                beside = f"{on_scale(upper.line.value(at))} beside {on_scale(lower.line.value(at))}"
                message = f"{name(i)} is not above {name(i - 1)} at {said(at)}: {beside}"
                upper.near(at).fault(message, "lines of one panel never cross; the lowest stands first")
                break

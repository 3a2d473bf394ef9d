"""Digitized lines of a graph: curves to enter by, guide lines to follow as with a ruler; never past their ends.

Every line is straight between its points. A value is a height on the graph's own scale: feet, or divisions.
"""

from bisect import bisect_right
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Inputs
from briefgen.handbook.causes import CAUSES, SIDES

_GRACE = 1e-9  # a wind of 18.0 kt resolved to 17.999999999 reaches the printed 18


class Line(NamedTuple):
    """One line: inputs that rise strictly, and the value at each."""

    inputs: tuple[float, ...]
    values: tuple[float, ...]

    def covers(self, at: float) -> bool:
        """Say whether the line was drawn at an input."""
        return self.inputs[0] <= at <= self.inputs[-1]

    def value(self, at: float) -> float:
        """Return the value at an input that the line covers."""
        i = min(bisect_right(self.inputs, at) - 1, len(self.inputs) - 2)
        a, b = self.inputs[i], self.inputs[i + 1]
        return self.values[i + 1] if at == b else _part(self.values[i], self.values[i + 1], (at - a) / (b - a))


def _part(low: float, high: float, share: float) -> float:
    return low if share == 0 else low + share * (high - low)


class Found(NamedTuple):
    """What was read off a family: the value, the lines used, `share` of the way between them, an edge if used.

    `low`, `high`: the two lines' own figure (an altitude, or the value on the reference line), and the value there;
    one line alone is both.
    """

    value: float
    low: tuple[float, float]
    high: tuple[float, float]
    share: float
    edges: tuple[str, ...] = ()


class Curves(NamedTuple):
    """The first panel: a curve over temperature [degC] for each pressure altitude [ft], lowest first.

    `cold_edge`, `low_edge`: below the first temperature, and below the lowest curve, those may be used, because
    they are no better than what was asked for.
    """

    altitudes_ft: tuple[float, ...]
    lines: tuple[Line, ...]
    cold_edge: bool = False
    low_edge: bool = False

    def enter(self, temperature_degC: float, pressure_altitude_ft: float, page: str) -> Found:
        """Return the value on the curves, in proportion between two of them.

        Parameters
        ----------
        temperature_degC : outside air temperature [degC]
        pressure_altitude_ft : pressure altitude [ft]
        page : of the graph

        Raises
        ------
        Refusal : off the curves, at an end that is not declared as an edge.
        """
        altitude_ft, edges = max(pressure_altitude_ft, self.altitudes_ft[0]), []
        if altitude_ft > pressure_altitude_ft:
            if not self.low_edge:
                raise _off("pressure_altitude_ft", pressure_altitude_ft, "below", self.altitudes_ft[0], page)
            edges.append("pressure_altitude_ft")
        if altitude_ft > self.altitudes_ft[-1]:
            raise _off("pressure_altitude_ft", altitude_ft, "above", self.altitudes_ft[-1], page)
        low, high, share = _between(self.altitudes_ft, altitude_ft)
        read = []
        for i in dict.fromkeys((low, high)):
            first_degC, last_degC = self.lines[i].inputs[0], self.lines[i].inputs[-1]
            if temperature_degC > last_degC:
                raise _off("temperature_degC", temperature_degC, "above", last_degC, page, self.altitudes_ft[i])
            if temperature_degC < first_degC:
                if not self.cold_edge:
                    raise _off(
                        "temperature_degC", temperature_degC, "below", first_degC, page, self.altitudes_ft[i]
                    )
                edges.append("temperature_degC")
            read.append((self.altitudes_ft[i], self.lines[i].value(max(temperature_degC, first_degC))))
        value = _part(read[0][1], read[-1][1], share)
        return Found(value, read[0], read[-1], share, tuple(dict.fromkeys(edges)))


class Subject(NamedTuple):
    """What a later panel is entered with, and its unit.

    `input_name`: the input, for one that has a single direction. `more`, `less`: the causes above and below nil,
    for one that has two. `kind`, of `units.KINDS`.
    """

    name: str
    kind: str
    unit: str
    input_name: str = ""
    more: str = ""
    less: str = ""

    def course(self, phase: str) -> int:
        """Return 1 where more of it lengthens the distance of a phase, -1 where it shortens it."""
        return -1 if self.more and CAUSES[self.more].helps(phase) else 1

    def about(self, at: float) -> str:
        """Return the input at fault for a value that no line covers."""
        return self.input_name or (self.more if at > 0 else self.less)

    def said(self, at: float) -> str:
        """Return a value of it in a pilot's words.

        >>> SUBJECTS["wind"].said(-4.0), SUBJECTS["wind"].said(0.0), SUBJECTS["weight"].said(2400.0)
        ('tailwind 4 kt', 'calm', '2,400 lb')
        """
        if not self.more:
            return f"{figures(at)} {self.unit}"
        if at == 0:
            return "calm" if self.name == "wind" else "level"
        return f"{self.about(at)} {figures(abs(at) * (100 if self.unit == '%' else 1))} {self.unit}"


HEIGHT = "obstacle height"
SUBJECTS = {
    subject.name: subject
    for subject in (
        Subject("weight", "weight", "lb", input_name="weight_lb"),
        Subject("wind", "speed", "kt", "", *SIDES["wind"]),
        Subject("slope", "percent", "%", "", *SIDES["slope"]),
        Subject(HEIGHT, "length", "ft", input_name=HEIGHT),
    )
}


class Guides(NamedTuple):
    """A later panel: guide lines, lowest first, from the reference line at `reference` of its subject.

    `light_edge`: at a weight under the lightest, that may be used, because it is no better than what was asked for.
    Build it with `guides`, which finds the values on the reference line, and the inputs at which every line has a
    point: the printed steps of a credit.
    """

    subject: Subject
    reference: float
    lines: tuple[Line, ...]
    starts: tuple[float, ...]
    printed: tuple[float, ...]
    light_edge: bool = False

    def answers(self) -> tuple[str, ...]:
        """Return the causes of corrections that this panel answers: those of the sides that it prints."""
        sides = ((self.subject.more, self.printed[-1] > 0), (self.subject.less, self.printed[0] < 0))
        return tuple(cause for cause, there in sides if cause and there)

    def counted(self, inputs: Inputs, phase: str, *, whole_steps: bool) -> float:
        """Return at what input this panel is followed to: credits to a printed step and no further, penalties all.

        Parameters
        ----------
        inputs : the amount of each cause, and the subject's own input, by name.
        phase : 'takeoff' or 'landing'.
        whole_steps : count credits in whole printed steps only.
        """
        if self.subject.input_name:
            return inputs[self.subject.input_name]
        for cause in self.answers():
            amount = inputs.get(cause, 0.0)
            if amount and CAUSES[cause].helps(phase):
                sign = 1 if cause == self.subject.more else -1
                steps = [point * sign for point in self.printed if point * sign >= 0]
                amount = min(amount, max(steps))
                if whole_steps:
                    amount = max(step for step in steps if step <= amount + _GRACE)
            if amount:
                return amount if cause == self.subject.more else -amount
        return 0.0

    def follow(self, value: float, at: float, page: str) -> Found:
        """Return the value at an input, keeping its proportional place between two guide lines.

        Parameters
        ----------
        value : on the reference line, on the graph's scale.
        at : the subject's input.
        page : of the graph.

        Raises
        ------
        Refusal : the value is not between the guide lines, or one of the two does not reach the input.
        """
        if at == self.reference:
            return Found(value, (value, value), (value, value), 0.0)
        name, edges = self.subject.name, []
        for outside, there, words in (
            (value < self.starts[0], self.starts[0], "below the lowest"),
            (value > self.starts[-1], self.starts[-1], "above the highest"),
        ):
            if outside:
                end = f"{words} guide line, which starts at {on_scale(there)}"
                raise Refusal(f"{on_scale(value)} on the reference line of {name} is {end} ({page})")
        low, high, share = _between(self.starts, value)
        lightest = max(self.lines[i].inputs[0] for i in (low, high))
        if self.light_edge and at < lightest:
            at, edges = lightest, [self.subject.input_name]
        read = []
        for i in dict.fromkeys((low, high)):
            line = self.lines[i]
            if not line.covers(at):
                end = self.subject.said(line.inputs[0] if at < line.inputs[0] else line.inputs[-1])
                ends = f"is past the guide line from {on_scale(self.starts[i])}, which ends at {end}"
                raise Refusal(f"{_named(self.subject, at)} {ends} ({page})", self.subject.about(at))
            read.append((self.starts[i], line.value(at)))
        return Found(_part(read[0][1], read[-1][1], share), read[0], read[-1], share, tuple(edges))


def guides(subject: Subject, reference: float, lines: tuple[Line, ...], *, light_edge: bool = False) -> Guides:
    """Return a later panel.

    Parameters
    ----------
    subject : what it is entered with.
    reference : where its reference line stands.
    lines : each with a point on the reference line, lowest there first.
    light_edge : the lightest weight may be used for a lighter one.
    """
    common = set(lines[0].inputs).intersection(*(line.inputs for line in lines))
    starts = tuple(line.value(reference) for line in lines)
    return Guides(subject, reference, lines, starts, tuple(sorted(common)), light_edge)


def _between(points: tuple[float, ...], value: float) -> tuple[int, int, float]:
    """Return the two of rising points that a value inside them is between, and how far; one alone is both."""
    i = min(bisect_right(points, value) - 1, len(points) - 1)
    if value == points[i]:
        return i, i, 0.0
    return i, i + 1, (value - points[i]) / (points[i + 1] - points[i])


_WORDS = {"pressure_altitude_ft": ("pressure altitude", "ft"), "temperature_degC": ("temperature", "°C")}


def _off(name: str, value: float, side: str, end: float, page: str, altitude_ft: float | None = None) -> Refusal:
    words, unit = _WORDS[name]
    last = ("lowest" if side == "below" else "highest") + (
        " curve" if altitude_ft is None else f" of the {figures(altitude_ft)} ft curve"
    )
    return Refusal(
        f"{words} {figures(value)} {unit} is {side} the graph's {last}, {figures(end)} {unit} ({page})", name
    )


def _named(subject: Subject, at: float) -> str:
    return subject.said(at) if subject.more else f"{subject.name} {subject.said(at)}"


def on_scale(value: float) -> str:
    """Return a value on a graph's scale: feet to a tenth, divisions, which are few, to a hundredth.

    >>> on_scale(1018.25), on_scale(3.934), on_scale(4.0)
    ('1,018.2', '3.93', '4')
    """
    return figures(value) if abs(value) >= 100 else f"{value:,.2f}".rstrip("0").rstrip(".").replace("-", "−")


def figures(value: float) -> str:
    """Return a number as the working says it, to a tenth.

    >>> figures(1018.25), figures(1020.0)
    ('1,018.2', '1,020')
    """
    return f"{value:,.1f}".removesuffix(".0").replace("-", "−")

"""Staged graphs: enter on a curve, follow guide lines from panel to panel, read the distance off the last scale.

Each panel is a step, done as a pilot does it with a ruler: along the panel, the value keeps its proportional place
between the two guide lines beside it. The order is the page's.

A point that was read off paper is not exact. `reads_to` says how well it was read: the digitized line is nowhere
off the printed one by more than half of that, e. The distance is therefore worked a second time with every reading
at its longer end: e more where the first panel is read, and at both ends of every guide line that is followed.

If every point was read so well, that is never shorter than what the page gives. With guide lines L over starts R,
all within e, a true v' <= v + E is as far between its true lines as some w <= v + E + e is between the digitized
ones; the true result is then at most that of w, plus e.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Inputs, Source, Step
from briefgen.handbook.lines import HEIGHT, Curves, Found, Guides, Line, figures, on_scale


class Scale(NamedTuple):
    """The scale that every panel of a graph shares, 'ft' or 'divisions'; `reads_to` in that unit.

    `feet`: the printed scale of distances over the divisions; None where the scale is that of distances itself.
    """

    unit: str
    reads_to: float
    feet: Line | None = None

    @property
    def half(self) -> float:
        """How far a digitized point may be off."""
        return self.reads_to / 2

    def distance_ft(self, value: float, page: str) -> float:
        """Return a value on the scale as a distance [ft].

        Parameters
        ----------
        value : on the scale.
        page : of the graph.

        Raises
        ------
        Refusal : the printed scale does not go so far.
        """
        if self.feet is None:
            return value
        if not self.feet.covers(value):
            first, last = on_scale(self.feet.inputs[0]), on_scale(self.feet.inputs[-1])
            raise Refusal(f"{on_scale(value)} divisions is off the scale of distances, {first} to {last} ({page})")
        return self.feet.value(value)


@dataclass(frozen=True, slots=True, eq=False)  # one graph is itself
class Graph:
    """One graph of one distance, or of both with a panel for the obstacle height. `stages` in printed order."""

    phase: str
    curves: Curves
    stages: tuple[Guides, ...]
    scale: Scale
    page: str

    @property
    def answers(self) -> tuple[str, ...]:
        """The causes that its panels answer."""
        return tuple(chain.from_iterable(stage.answers() for stage in self.stages))

    def entered(self, inputs: Inputs) -> Found:
        """Return what the first panel gives; refuses off its curves."""
        return self.curves.enter(inputs["temperature_degC"], inputs["pressure_altitude_ft"], self.page)

    def counted(self, number: int, inputs: Inputs, *, whole_steps: bool) -> float:
        """Return at what input the panel of a number, from 0, is followed to."""
        return self.stages[number].counted(inputs, self.phase, whole_steps=whole_steps)

    def walk(self, inputs: Inputs, *, whole_steps: bool) -> Iterator[Found]:
        """Yield what each panel gives in turn; refuses where one does not go so far."""
        found = self.entered(inputs)
        yield found
        for number, stage in enumerate(self.stages):
            at = self.counted(number, inputs, whole_steps=whole_steps)
            found = stage.follow(found.value, at, self.page)
            yield found

    def longest_ft(self, inputs: Inputs, *, whole_steps: bool) -> float:
        """Return the distance [ft] with every reading at its longer end; refuses as `walk` does.

        A value raised past the highest guide line, or past the scale, stays on its end: where the page can be
        read at all, it is not above. A panel that is crossed on its reference line counts like one that is
        followed, so that a little more of what helps never makes it longer; but not one for the obstacle.

        Parameters
        ----------
        inputs : those of every panel.
        whole_steps : count credits in whole printed steps only.
        """
        half = self.scale.half
        read = self.entered(inputs).value
        longest = read + half
        for number, stage in enumerate(self.stages):
            at = self.counted(number, inputs, whole_steps=whole_steps)
            if at != stage.reference or stage.subject.name != HEIGHT:
                raised, top = longest + half, stage.starts[-1]
                longest = stage.follow(min(raised, top) if read <= top else raised, at, self.page).value + half
            read = stage.follow(read, at, self.page).value
        if self.scale.feet:
            longest = min(longest + half, self.scale.feet.inputs[-1])
        return self.scale.distance_ft(longest, self.page)


class Enter(NamedTuple):
    """Read a graph's first panel."""

    quantity: str
    graph: Graph
    prefix: str = ""
    needs: tuple[str, ...] = ()

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the value on the graph's scale; refuses off its curves."""
        return self.graph.entered(inputs).value

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed: the curves used, and what each gives."""
        found = self.graph.entered(inputs)
        low, high = (f"{figures(altitude_ft)} ft" for altitude_ft, _ in (found.low, found.high))
        lines = f"on the {low} line" if low == high else f"between the {low} and {high} lines"
        label = f"{self.prefix}enter at {figures(inputs['temperature_degC'])} °C {lines}"
        if low == high:
            detail = f"the {low} line gives {on_scale(found.value)}"
        else:
            altitude = f"{figures(inputs['pressure_altitude_ft'])} ft"
            detail = f"{on_scale(found.low[1])} and {on_scale(found.high[1])}; {altitude} is {_of_way(found.share)}"
        detail += "".join(f"; {_EDGES[edge]} of the graph used" for edge in found.edges)
        return Step(self.quantity, label, detail, None, after, self.graph.scale.unit, Source(self.graph.page))


class Follow(NamedTuple):
    """Follow the guide lines of one panel; `height_ft` for one that asks for the obstacle."""

    quantity: str
    graph: Graph
    number: int  # of the panel among the later ones, from 0
    before: str
    height_ft: float
    whole_steps: bool
    prefix: str = ""

    @property
    def needs(self) -> tuple[str, ...]:
        """The value that the panel before gives."""
        return (self.before,)

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the value on the graph's scale; refuses where the guide lines do not go."""
        return self._found(values, inputs)[0].value

    def _found(self, values: Mapping[str, float], inputs: Inputs) -> tuple[Found, float]:
        at = self.graph.counted(self.number, {**inputs, HEIGHT: self.height_ft}, whole_steps=self.whole_steps)
        return self.graph.stages[self.number].follow(values[self.before], at, self.graph.page), at

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed: from where to where, by which guide lines."""
        found, at = self._found(values, inputs)
        stage, before = self.graph.stages[self.number], values[self.before]
        subject = stage.subject
        source, unit = Source(self.graph.page), self.graph.scale.unit
        less = self._uncounted(inputs, at)
        if at == stage.reference:
            label = f"{self.prefix}{subject.name}: on the reference line, {subject.said(at)}"
            return Step(self.quantity, label, less or "straight across", before, after, unit, source)
        label = f"{self.prefix}follow {subject.name} from {subject.said(stage.reference)} to {subject.said(at)}"
        if found.low == found.high:
            detail = f"on the guide line from {on_scale(found.low[0])}"
        else:
            starts = f"{on_scale(found.low[0])} and {on_scale(found.high[0])}"
            ends = f"{on_scale(found.low[1])} and {on_scale(found.high[1])}"
            detail = f"{_of_way(found.share)} between the guide lines from {starts}, there {ends}"
        detail += "".join(f"; {_EDGES[edge]} of the graph used" for edge in found.edges)
        detail += f"; {less}" if less else ""
        return Step(self.quantity, label, detail, before, after, unit, source)

    def _uncounted(self, inputs: Inputs, at: float) -> str:
        """Say by how much a credit was held to what the panel prints, '' where it was not."""
        stage = self.graph.stages[self.number]
        for cause in stage.answers():
            amount = inputs.get(cause, 0.0)
            if amount > abs(at) + 1e-6:
                said = stage.subject.said(amount if cause == stage.subject.more else -amount)
                how = "to a whole printed step" if self.whole_steps else "no further than is printed"
                return f"of {said}, counted {how}" if at else f"{said} is less than one printed step: no credit"
        return ""


class ReadOff(NamedTuple):
    """Read the distance off a printed scale over divisions."""

    quantity: str
    graph: Graph
    before: str

    @property
    def needs(self) -> tuple[str, ...]:
        """The value that the last panel gives."""
        return (self.before,)

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the distance [ft]; refuses off the printed scale."""
        return self.graph.scale.distance_ft(values[self.before], self.graph.page)

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed."""
        detail = f"at {values[self.before]:,.2f} divisions"
        return Step(
            self.quantity, "read on the scale of distances", detail, None, after, "ft", Source(self.graph.page)
        )


def _of_way(share: float) -> str:
    return f"{share:.2f} of the way"


_EDGES = {
    "weight_lb": "lightest weight",
    "temperature_degC": "coldest point",
    "pressure_altitude_ft": "lowest line",
}

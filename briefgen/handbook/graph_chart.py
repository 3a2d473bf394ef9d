"""Distance charts that the handbook prints as staged graphs, and what ends their reading."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Inputs, Operation, Source, Step
from briefgen.handbook.causes import CAUSES
from briefgen.handbook.chart import ChartConditions
from briefgen.handbook.graph import Enter, Follow, Graph, ReadOff
from briefgen.handbook.lines import HEIGHT, figures
from briefgen.handbook.notes import ITSELF, Note, signed

HEIGHTS_FT = {"roll": 0.0, "total": 50.0}
SQUARE_LAW = Source("distance goes with the square of the ground speed: PHAK FAA-H-8083-25C ch. 11", "published")
_WORDS = {"roll": "ground roll", "total": "distance over 50 ft"}


class Hold(NamedTuple):
    """Hold a credit that a panel gives to what physics allows, of the distance without it."""

    quantity: str
    chart: "GraphChart"
    of: str  # 'roll' or 'total'
    cause: str
    before: str
    whole_steps: bool

    @property
    def needs(self) -> tuple[str, ...]:
        """The distance that the graph gives."""
        return (self.before,)

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the distance [ft], not shorter than the law allows."""
        return max(values[self.before], self._least(inputs))

    def _least(self, inputs: Inputs) -> float:
        return (1 + inputs.get(CAUSES[self.cause].bound, 0.0)) * self.chart.reading_ft(
            self.of, _without(inputs, self.cause), whole_steps=self.whole_steps
        )

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed: what the law allows, and whether it governs."""
        before, bound = values[self.before], inputs.get(CAUSES[self.cause].bound, 0.0)
        allows = f"the square law allows {signed(bound)} at most, to {figures(self._least(inputs))} ft"
        detail = f"held to it: {allows}" if after > before else f"{allows}: not reached"
        label = f"{_WORDS[self.of]}: credit for {self.cause}"
        return Step(self.quantity, label, detail, before, after, "ft", SQUARE_LAW)


class TakeUp(NamedTuple):
    """End a graph's reading: the distance, with every reading at its longer end."""

    quantity: str
    chart: "GraphChart"
    before: str
    held: str  # the cause whose credit is held to what physics allows, '' for none
    whole_steps: bool

    @property
    def needs(self) -> tuple[str, ...]:
        """The distance as read."""
        return (self.before,)

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the distance [ft].

        Raises
        ------
        Refusal : with every reading at its longer end a guide line does not go so far, or the two graphs give a
            ground roll that is not shorter than the total.
        """
        self.chart.refuse_crossed(inputs, whole_steps=self.whole_steps)
        longest_ft = self._longest_ft(inputs)
        if self.held:
            bound = inputs.get(CAUSES[self.held].bound, 0.0)
            longest_ft = max(longest_ft, (1 + bound) * self._longest_ft(_without(inputs, self.held)))
        return max(values[self.before], longest_ft)

    def _longest_ft(self, inputs: Inputs) -> float:
        there = {**inputs, HEIGHT: HEIGHTS_FT[self.quantity]}
        return self.chart.graphs[self.quantity].longest_ft(there, whole_steps=self.whole_steps)

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed: by how much it is taken up, and why."""
        scale, before = self.chart.graphs[self.quantity].scale, values[self.before]
        unit = scale.unit if scale.reads_to != 1 else scale.unit.removesuffix("s")
        to = f"{scale.reads_to:,.4g} {unit}"
        detail = f"+{after - before:,.1f} ft: every reading of the graph at its longer end, half of {to} each"
        source = Source(f"{self.chart.graphs[self.quantity].page}, as digitized")
        return Step(self.quantity, f"read to {to}: taken up", detail, before, after, "ft", source)


class Stricter(NamedTuple):
    """Weigh guidance for a cause that a panel answers: where it asks for more, that counts."""

    quantity: str
    chart: "GraphChart"
    note: Note
    whole_steps: bool
    needs: tuple[str, ...] = ()

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the longer distance [ft]; past the guidance's own limit it asks for what it asks there."""
        return max(values[self.quantity], self._asked_ft(inputs))

    def _asked_ft(self, inputs: Inputs) -> float:
        note, amount = self.note, inputs[self.note.cause]
        fraction = note.fraction(min(amount, note.up_to or amount), whole_steps=self.whole_steps)
        calm = _without(inputs, note.cause)
        itself_ft = self._calm_ft(self.quantity, calm)
        if note.in_feet:
            return itself_ft + fraction
        base = self.quantity if note.percent_of == ITSELF else note.percent_of
        return itself_ft + fraction * self._calm_ft(base, calm)

    def _calm_ft(self, quantity: str, calm: Inputs) -> float:
        there = {**calm, HEIGHT: HEIGHTS_FT[quantity]}
        return self.chart.graph_of(quantity).longest_ft(there, whole_steps=self.whole_steps)

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed: which of the two governs."""
        before, asked = values[self.quantity], figures(self._asked_ft(inputs))
        detail = f"{asked} ft is longer" if after > before else f"{asked} ft is not longer"
        label = f"policy's figure for {self.note.cause} beside the graph's"
        return Step(self.quantity, label, detail, before, after, "ft", self.note.source)


@dataclass(frozen=True, slots=True, eq=False)  # one chart is itself
class GraphChart:
    """Ground roll and distance over 50 ft by staged graphs: 'roll' and 'total' of `graphs`, one or both.

    One graph with a panel for the obstacle height gives both, and stands under both.
    """

    phase: str
    flaps: str
    graphs: Mapping[str, Graph]
    conditions: ChartConditions
    page: str
    notes: tuple[Note, ...] = ()
    order_open: bool = False
    at_standard: bool = False

    @property
    def axes(self) -> tuple[str, ...]:
        """None: its panels are entered with the causes themselves."""
        return ()

    @property
    def answers(self) -> tuple[str, ...]:
        """The causes that every graph of the chart answers."""
        first, *others = [graph.answers for graph in self.graphs.values()]
        return tuple(cause for cause in first if all(cause in each for each in others))

    @property
    def shared(self) -> bool:
        """One graph gives both distances."""
        return self.graphs.get("roll") is self.graphs.get("total")

    def note_for(self, cause: str) -> Note | None:
        """Return the first note printed for a cause."""
        return next((note for note in self.notes if note.cause == cause), None)

    def covers(self, cause: str, quantity: str) -> bool:
        """Say whether a note is printed for a cause that changes 'roll' or 'total'."""
        return any(note.cause == cause and quantity in note.changes for note in self.notes)

    def graph_of(self, quantity: str) -> Graph:
        """Return the graph of 'roll' or 'total'; refuses where none is printed."""
        if quantity not in self.graphs:
            raise Refusal(f"the handbook's graph gives no {_WORDS[quantity]} ({self.page})")
        return self.graphs[quantity]

    def reading_ft(self, quantity: str, inputs: Inputs, *, whole_steps: bool) -> float:
        """Return 'roll' or 'total' [ft] as read, not taken up; refuses as the panels do."""
        graph = self.graph_of(quantity)
        *_, last = graph.walk({**inputs, HEIGHT: HEIGHTS_FT[quantity]}, whole_steps=whole_steps)
        return graph.scale.distance_ft(last.value, graph.page)

    def refuse_crossed(self, inputs: Inputs, *, whole_steps: bool) -> None:
        """Refuse two graphs that give a ground roll which is not shorter than the total."""
        if len(self.graphs) == 1 or self.shared:
            return
        try:
            roll_ft, total_ft = (self.reading_ft(each, inputs, whole_steps=whole_steps) for each in HEIGHTS_FT)
        except Refusal:
            return  # told by the one that refuses
        if roll_ft >= total_ft:
            words = f"a ground roll of {figures(roll_ft)} ft, not shorter than the total of {figures(total_ft)} ft"
            raise Refusal(f"the graphs give {words} ({self.page}): check both against the page")

    def credited(self, cause: str, amount: float, *, whole_steps: bool) -> float:
        """Return how much of a cause that helps is credited by a panel, or else by the note.

        Parameters
        ----------
        cause : of `handbook.causes`, such as a wind from ahead.
        amount : of it, in its unit there, 0 or more.
        whole_steps : count credits in whole printed steps only.
        """
        counts = [
            abs(stage.counted({cause: amount}, self.phase, whole_steps=whole_steps))
            for graph in self.graphs.values()
            for stage in graph.stages
            if cause in stage.answers()
        ]
        note = self.note_for(cause)
        if counts:
            return min(counts)
        return note.counted(amount, whole_steps=whole_steps) if note else 0.0

    def taken_up_ft(self, quantity: str, inputs: Inputs, *, whole_steps: bool) -> float:
        """Return by how much 'roll' or 'total' is made longer for how well the graph can be read [ft], 0 or more.

        0 too where it cannot be read at all; the figure itself is then missing, with the reason.
        """
        try:
            read_ft = self.reading_ft(quantity, inputs, whole_steps=whole_steps)
            there = {**inputs, HEIGHT: HEIGHTS_FT[quantity]}
            longest_ft = self.graph_of(quantity).longest_ft(there, whole_steps=whole_steps)
        except Refusal:
            return 0.0
        return max(0.0, longest_ft - read_ft)

    def edges(self, inputs: Inputs) -> tuple[str, ...]:
        """Return the names of the inputs for which the outermost figure is used; none where it is refused."""
        found: dict[str, None] = {}
        for quantity, graph in self.graphs.items():
            try:
                for each in graph.walk({**inputs, HEIGHT: HEIGHTS_FT[quantity]}, whole_steps=True):
                    found |= dict.fromkeys(each.edges)
            except Refusal:
                return ()
        return tuple(found)

    def vouched(self, inputs: Inputs) -> bool:
        """Say that no figure of a graph is used although it looks wrong: one that does is refused when read."""
        return False

    def look_ups(
        self,
        causes: Sequence[str] = (),
        guidance: Sequence[Note] = (),
        *,
        whole_steps: bool = True,
        worse: bool = False,
    ) -> Sequence[Operation]:
        """Return the operations that begin every distance chain: panel by panel, in the page's order.

        Parameters
        ----------
        causes : present today.
        guidance : chosen by the policy; what ranks 'if longer' is weighed beside a panel's answer.
        whole_steps : count credits in whole printed steps only.
        worse : of tables; a graph has no rows, and its readings are taken up in any case.
        """
        made: dict[str, Operation] = {}
        for quantity in HEIGHTS_FT:
            made |= {each.quantity: each for each in self._panels(quantity, causes, whole_steps)}
        answered = [cause for cause in causes if cause in self.answers]
        stricter = [note for note in guidance if note.cause in answered and note.rank == "if longer"]
        return (
            *made.values(),
            *(Stricter(q, self, note, whole_steps) for note in stricter for q in HEIGHTS_FT if q in note.changes),
        )

    def _panels(self, quantity: str, causes: Sequence[str], whole_steps: bool) -> Iterator[Operation]:
        """Return the operations of one distance; those before the obstacle height bear the names of both."""
        graph = self.graphs.get(quantity)
        if graph is None:
            yield NotPrinted(quantity, self)
            return
        owner, words = ("graph", "") if self.shared else (quantity, f"{_WORDS[quantity]}: ")
        before = f"{owner}, panel 1"
        yield Enter(before, graph, words)
        for number, stage in enumerate(graph.stages):
            if stage.subject.name == HEIGHT:
                owner, words = quantity, f"{_WORDS[quantity]}: "
            name = f"{owner}, panel {number + 2}"
            yield Follow(name, graph, number, before, HEIGHTS_FT[quantity], whole_steps, words)
            before = name
        if graph.scale.feet:
            yield ReadOff(f"{quantity}, on the scale", graph, before)
            before = f"{quantity}, on the scale"
        held = next((cause for cause in causes if cause in self.answers and CAUSES[cause].bound), "")
        if held:
            yield Hold(f"{quantity}, held", self, quantity, held, before, whole_steps)
            before = f"{quantity}, held"
        yield TakeUp(quantity, self, before, held, whole_steps)


class NotPrinted(NamedTuple):
    """Refuse a distance that no graph of the chart gives."""

    quantity: str
    chart: GraphChart
    needs: tuple[str, ...] = ()

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Refuse."""
        return self.chart.graph_of(self.quantity).scale.reads_to

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return nothing that could be printed."""
        raise AssertionError("a refusal has no step")


def _without(inputs: Inputs, cause: str) -> Inputs:
    return {**inputs, cause: 0.0}

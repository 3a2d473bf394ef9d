"""Correction notes: what a handbook, or chosen guidance, prints beside a distance table.

A note is data: so much per so many of a cause, of which distance, of the table's figure or of the value so
far, adding or compounding, up to a limit. Applying one knows nothing of which cause it is.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from math import floor, inf
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Inputs, Source, Step
from briefgen.handbook.causes import ANSWERS, CAUSES

ITSELF = "itself"
BASES = {ITSELF: "each distance", "roll": "ground roll", "total": "distance over 50 ft"}
_GRACE = 1e-9  # a wind of 18.0 kt resolved to 17.999999999 is two whole steps of 9


@dataclass(frozen=True, slots=True, eq=False)  # one note is itself: it keys the prepared operations
class Note:
    """One correction note.

    `change` is a fraction (0.10 for +10 %), or feet where `in_feet`. `per`: the amount of the cause that one
    step stands for, None for a cause that is there or not. `up_to`: credits stop there, penalties are refused
    beyond it. `changes`: which of 'roll' and 'total' it lengthens or shortens. `percent_of`: 'itself', 'roll'
    or 'total'. `of`: 'table figure', 'value so far', or 'open' where the handbook does not say. `steps`: 'add'
    or 'compound'. `extra_speed_kt`: approach speed that comes with it. `rank`: 'handbook', 'where silent' or
    'if longer'. `further`: what is printed for more of the same cause, each from `above` on, where the one before
    ends; `counts_all`: in place of what stands before, not on top of it. `which`: the airplane's own equipment that
    it is for; it then holds on every runway.
    """

    cause: str
    change: float
    source: Source
    per: float | None = None
    up_to: float | None = None
    changes: tuple[str, ...] = ("roll", "total")
    percent_of: str = ITSELF
    of: str = "table figure"
    steps: str = "add"
    in_feet: bool = False
    extra_speed_kt: float = 0.0
    rank: str = "handbook"
    above: float = 0.0
    counts_all: bool = True
    further: tuple["Note", ...] = ()
    which: str = ""

    def counted(self, amount: float, *, whole_steps: bool) -> float:
        """Return how much of the cause is counted: credits in whole steps and up to the limit, penalties all.

        Raises
        ------
        Refusal : a cause that hinders is past the note's limit.
        """
        for later in reversed(self.further):
            if amount > later.above + _GRACE:
                return later.counted(amount, whole_steps=whole_steps)
        credit = self.change < 0
        if self.up_to is not None and amount > self.up_to + _GRACE:
            if not credit:
                cause = CAUSES[self.cause]
                past = f"{cause.name} {said(amount, cause.unit)} is past the note's limit"
                raise Refusal(f"{past} of {said(self.up_to, cause.unit)} ({self.source.text})", self.cause)
            amount = self.up_to
        if credit and whole_steps and self.per:
            start = self._start
            return start + floor((amount - start) / self.per + _GRACE) * self.per
        return amount

    @property
    def _start(self) -> float:
        """From where its steps are counted."""
        return 0.0 if self.counts_all else self.above

    def fraction(self, amount: float, *, whole_steps: bool) -> float:
        """Return the change for an amount of the cause, a fraction or feet; refuses as `counted` does."""
        if not self.further:
            return self._alone(amount, whole_steps)
        found = self._alone(min(amount, self.further[0].above), whole_steps)
        ends = (*(each.above for each in self.further[1:]), inf)
        for later, end in zip(self.further, ends, strict=True):
            if amount <= later.above + _GRACE:
                break
            own = later._alone(min(amount, end), whole_steps)
            compound = self.steps == "compound" and not self.in_feet
            found = own if later.counts_all else found + own + (found * own if compound else 0.0)
        return found

    def _alone(self, amount: float, whole_steps: bool) -> float:
        """Return its own change, without what is printed for more."""
        steps = (self.counted(amount, whole_steps=whole_steps) - self._start) / self.per if self.per else 1.0
        if self.steps == "compound" and not self.in_feet:
            return float((1 + self.change) ** steps - 1)
        return self.change * steps

    def words(self) -> str:
        """Return the note in words: for what, how much of which distance, and how far it goes.

        >>> Note("dry grass", 0.15, Source("p. 5"), percent_of="roll").words()
        'dry grass: +15 % of the ground roll, on both distances'
        """
        unit = CAUSES[self.cause].unit
        base = "itself" if self.percent_of == ITSELF else f"the {BASES[self.percent_of]}"
        of = "" if self.in_feet else f" of {base}"
        to = "both distances" if len(self.changes) == 2 else f"the {BASES[self.changes[0]]}"
        limit = f", up to {said(self.up_to, unit)}" if self.up_to else ""
        first = f"{self.which or self.cause}: {self._each()}{of}, on {to}{limit}"
        return "; ".join((first, *(f"above {said(each.above, unit)}: {each._each()}" for each in self.further)))

    def _each(self) -> str:
        """Return how much for how much of the cause."""
        change = f"{self.change:+,.0f} ft".replace("-", "−") if self.in_feet else signed(self.change)
        each = f" for each {said(self.per, CAUSES[self.cause].unit)}" if self.per else ""
        each += " (compound)" if self.per and self.steps == "compound" else ""
        return f"{change}{each}" + ("" if self.counts_all else " above that")


class _Increment(NamedTuple):
    """What one note adds: `feet`, being `fraction` of `of` feet of `base`."""

    feet: float
    fraction: float
    of: float
    base: str
    note: Note
    left_open: bool = False  # the handbook does not say of which figure, and it matters


class Correct(NamedTuple):
    """Correct one distance for one cause, by the note for it; where several may apply, by the longest.

    `other_changed`: the same notes have just changed the other distance, which is meant as it was before that.
    """

    quantity: str
    cause: str
    notes: tuple[Note, ...]
    whole_steps: bool = True
    remark: str = ""
    other_changed: bool = False

    @property
    def needs(self) -> tuple[str, ...]:
        """The other distance, where a note takes its percentage of that."""
        return tuple({n.percent_of for n in self.notes} - {ITSELF, self.quantity})

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the corrected distance [ft]."""
        notes = self.notes  # most often one, for which no list need be made
        one = len(notes) == 1
        feet = self._increment(notes[0], values, inputs).feet if one else self._longest(values, inputs).feet
        return values[self.quantity] + (feet if feet >= 0 else max(feet, self._least(values, inputs)))

    def _longest(self, values: Mapping[str, float], inputs: Inputs) -> _Increment:
        return max(self._weighed(values, inputs), key=lambda each: each.feet)

    def _weighed(self, values: Mapping[str, float], inputs: Inputs) -> list[_Increment]:
        """Return the increment of each note.

        Guidance past its own range does not answer by itself; where another does, it still asks for what it asks at
        its limit, so that more of the cause never makes a distance shorter.
        """
        if len(self.notes) == 1:
            return [self._increment(self.notes[0], values, inputs)]
        found: list[_Increment] = []
        refused: list[Refusal] = []
        for note in self.notes:
            try:
                found.append(self._increment(note, values, inputs))
            except Refusal as refusal:
                if note.rank == "handbook":
                    raise
                refused.append(refusal)
                limit = {**inputs, self.cause: note.up_to or 0.0}
                found.append(self._increment(note, values, limit))
        if len(refused) == len(self.notes):
            raise refused[0]
        return found

    def _least(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the largest credit that physics allows [ft, negative]."""
        bound = CAUSES[self.cause].bound
        return inputs.get(bound, 0.0) * values[self.quantity] if bound else -inf

    def _increment(self, note: Note, values: Mapping[str, float], inputs: Inputs) -> _Increment:
        fraction = note.fraction(inputs[self.cause], whole_steps=self.whole_steps)
        if note.in_feet:
            return _Increment(fraction, fraction, 1.0, "", note)
        base = self.quantity if note.percent_of == ITSELF else note.percent_of
        before = self.other_changed and base != self.quantity
        first, so_far = values[f"first {base}"], values[f"before {base}" if before else base]
        if note.of == "table figure":
            of = first
        elif note.of == "value so far":
            of = so_far
        else:
            of = first if fraction * first >= fraction * so_far else so_far
        return _Increment(fraction * of, fraction, of, base, note, note.of == "open" and first != so_far)

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed, with the source of every note that was weighed."""
        weighed, least, before = self._weighed(values, inputs), self._least(values, inputs), values[self.quantity]
        longest = max(weighed, key=lambda each: each.feet)
        cause = CAUSES[self.cause]
        label = (
            f"{cause.name} {said(inputs[self.cause], cause.unit)}"
            if cause.unit
            else longest.note.which or cause.name
        )
        label += f" ({self.remark})" if self.remark else ""
        detail = _arithmetic(longest, self.quantity)
        if longest.fraction == 0 and longest.note.change:
            detail = f"less than one whole step of {said(longest.note.per or 0.0, cause.unit)}: no credit"
        elif longest.feet < least:
            detail += f"; held to the square law, {signed(least / before)}"
        source = longest.note.source
        if len(weighed) > 1:
            texts = "; or ".join(str(each.note.source) for each in weighed)
            source = Source(f"the longer of {texts}", source.kind)
        return Step(self.quantity, label, detail, before, after, "ft", source)


def _arithmetic(increment: _Increment, quantity: str) -> str:
    """Return the arithmetic of one increment in a pilot's figures."""
    note = increment.note
    if note.in_feet:
        return f"{increment.feet:+,.1f} ft".replace("-", "−")
    name = "" if increment.base == quantity else f" ({BASES[increment.base]})"
    tail = "; the handbook leaves the base open: the longer result" if increment.left_open else ""
    return f"{signed(increment.fraction)} of {increment.of:,.1f} ft{name}{tail}"


class Silent(NamedTuple):
    """Refuse a distance, because nothing given answers a cause that hinders."""

    quantity: str
    cause: str
    needs: tuple[str, ...] = ()

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Refuse."""
        raise Refusal(f"no correction for {self.cause}: the handbook is silent and no guidance is chosen for it")

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return nothing that could be printed."""
        raise AssertionError("a refusal has no step")


@lru_cache(maxsize=256)  # the cases of a brief differ in amounts, seldom in causes
def corrections(
    phase: str,
    causes: tuple[str, ...],
    notes: tuple[Note, ...],
    guidance: tuple[Note, ...],
    *,
    whole_steps: bool,
    estimated: str = "",
) -> tuple[Correct | Silent, ...]:
    """Return the operations that answer every cause, in the handbook's order and then the guidance's.

    A cause of the airplane, such as flaps that stay up, multiplies what the runway made of the distance: guidance
    for the runway goes in before it.

    Parameters
    ----------
    phase : 'takeoff' or 'landing'.
    causes : those present; their amounts are inputs of the operations.
    notes : the chart's own notes, as printed.
    guidance : notes from outside the handbook, chosen by the policy.
    whole_steps : count credits in whole printed steps only.
    estimated : a cause for which a silent note leaves a distance as it is, because the caller estimates it.
    """
    return tuple(
        operation
        for cause in _in_order(causes, _places(notes), _places(guidance))
        for operation in _for_one(phase, cause, notes, guidance, whole_steps, cause == estimated)
    )


@lru_cache(maxsize=512)
def _for_one(
    phase: str, cause: str, notes: tuple[Note, ...], guidance: tuple[Note, ...], whole_steps: bool, estimated: bool
) -> tuple[Correct | Silent, ...]:
    """Return the operations that answer one cause, on both distances."""
    helps = CAUSES[cause].helps(phase)
    operations: list[Correct | Silent] = []
    for quantity in ("roll", "total"):
        found, remark = _answers(cause, quantity, helps, notes, guidance)
        if found:
            operations.append(Correct(quantity, cause, found, whole_steps, remark))
        elif not helps and not estimated:
            operations.append(Silent(quantity, cause))
    # A percentage of the other distance 'so far' means before this same note has changed it.
    if len(operations) == 2 and "roll" in operations[1].needs:
        operations.reverse()
        last = operations[1]
        if isinstance(last, Correct):
            operations[1] = last._replace(other_changed=True)
    return tuple(operations)


@lru_cache(maxsize=64)
def _places(notes: tuple[Note, ...]) -> dict[str, int]:
    """Return where each cause is answered among notes; where only a milder one is, its place."""
    places: dict[str, int] = {}
    for index, note in enumerate(notes):
        for name in ANSWERS[note.cause]:
            places.setdefault(name, index)
    return places


def _in_order(causes: tuple[str, ...], printed: Mapping[str, int], chosen: Mapping[str, int]) -> list[str]:
    """Return the causes in the order of the printed notes; what guidance answers goes before the airplane's own."""
    order = sorted((cause for cause in causes if cause in printed), key=printed.__getitem__)
    others = (cause for cause in causes if cause not in printed)
    first = next((i for i, cause in enumerate(order) if CAUSES[cause].of_airplane), len(order))
    return order[:first] + sorted(others, key=lambda cause: chosen.get(cause, len(chosen))) + order[first:]


def _answers(
    cause: str, quantity: str, helps: bool, notes: tuple[Note, ...], guidance: tuple[Note, ...]
) -> tuple[tuple[Note, ...], str]:
    """Return the notes to weigh for one cause and one distance, and a remark for the working.

    A cause is never answered by less than its milder one would be: whatever is chosen for that is weighed too.
    """

    def on(name: str, among: tuple[Note, ...]) -> tuple[Note, ...]:
        return tuple([note for note in among if note.cause == name and quantity in note.changes])

    printed, chosen = on(cause, notes), on(cause, guidance)
    if helps:  # a smaller credit is a stricter one; a credit that the handbook does not print is none
        return printed + tuple(note for note in chosen if printed and note.rank == "if longer"), ""
    less = tuple(dict.fromkeys(CAUSES[cause].milder_ones()))
    if printed:  # and what is printed or chosen for a milder cause, of which it is never the lesser
        milder = tuple(note for name in less for note in on(name, notes))
        stricter = chosen + tuple(note for name in less for note in on(name, guidance))
        return printed + milder + tuple(note for note in stricter if note.rank == "if longer"), ""
    if not chosen:
        return (), ""
    milder = tuple(note for name in less for note in (*on(name, notes), *on(name, guidance)))
    nearest = next((name for name in CAUSES[cause].milder_ones() if on(name, notes)), "")
    return milder + chosen, f"handbook prints {nearest} only" if nearest else "handbook silent"


def published_first(chosen: Iterable[tuple[str, Note]]) -> tuple[tuple[str, Note], ...]:
    """Return one layer's guidance without the common practice that something published of its own answers for.

    `chosen`: notes, each with its phase. Common practice that is ranked 'if longer' stays; so does that for the
    distance which the published note leaves alone.
    """
    chosen = tuple(chosen)
    kept = []
    for phase, note in chosen:
        changes = note.changes
        if note.source.kind == "common practice" and note.rank != "if longer":
            answered = {
                quantity
                for of, other in chosen
                if (of, other.cause) == (phase, note.cause) and other.source.kind != "common practice"
                for quantity in other.changes
            }
            changes = tuple(quantity for quantity in changes if quantity not in answered)
        if changes:
            kept.append((phase, note if changes == note.changes else replace(note, changes=changes)))
    return tuple(kept)


def signed(fraction: float) -> str:
    """Return a fraction as a signed percentage."""
    return f"{fraction * 100:+,.1f} %".replace(".0 %", " %").replace("-", "−")


def said(amount: float, unit: str) -> str:
    """Return an amount of a cause with its unit."""
    if unit == "%":
        return f"{amount * 100:,.1f} %"
    return f"{amount:,.1f} {unit}".replace(".0 ", " ")

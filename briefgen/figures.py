"""A figure is a chain of steps.

A chain is data: operations in order, each writing one named quantity, each with a label a pilot would
say and a source. `work` runs a chain on a mapping of inputs and keeps the value after every step, which
is the working that is printed. Nothing in an operation knows which inputs are fixed, so the same chain can
be worked again for another wind, weight or temperature.

An operation that may not be done raises `Refusal`; its quantity, and all that depends on it, is then
missing, with the reason.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from typing import NamedTuple, Protocol, overload

from briefgen.errors import Refusal

Inputs = Mapping[str, float]


class Source(NamedTuple):
    """Where a step comes from, and how well that is known."""

    text: str  # 'Handbook p. 5-11, note 2'
    kind: str = "handbook"  # handbook, regulation, published, standard, policy, pilot, common practice
    known: str = ""  # '', 'second-hand', 'from memory', 'no source'

    def __str__(self) -> str:
        return f"{self.text} ({self.known})" if self.known else self.text


class Step(NamedTuple):
    """One finished step of a working.

    `before` is the quantity before the step (None where the step begins it), `after` the quantity after;
    `detail` says the arithmetic in the pilot's figures.
    """

    quantity: str
    label: str
    detail: str
    before: float | None
    after: float
    unit: str
    source: Source


class Operation(Protocol):
    """One operation of a chain."""

    @property
    def quantity(self) -> str:
        """The quantity written."""

    @property
    def needs(self) -> tuple[str, ...]:
        """The quantities read."""

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the new value; raise Refusal if it must not be done."""

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the finished step as it is printed; `values` are those before it."""


class Steps(Sequence[Step]):
    """Steps that are written out when they are first read: most workings never are."""

    __slots__ = ("_write", "_written")

    def __init__(self, write: Callable[[], tuple[Step, ...]]) -> None:
        self._write = write
        self._written: tuple[Step, ...] | None = None

    @property
    def written(self) -> tuple[Step, ...]:
        """The steps."""
        if self._written is None:
            self._written = self._write()
        return self._written

    @overload
    def __getitem__(self, index: int) -> Step: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Step, ...]: ...
    def __getitem__(self, index: int | slice) -> Step | tuple[Step, ...]:
        return self.written[index]

    def __len__(self) -> int:
        return len(self.written)

    def __eq__(self, other: object) -> bool:
        return self.written == tuple(other) if isinstance(other, Sequence) else NotImplemented

    def __hash__(self) -> int:
        return hash(self.written)


class Figure(NamedTuple):
    """One worked figure, or the reason why it could not be worked.

    `value` is unrounded, in `unit`. A figure with no value has a `reason`, and keeps whatever steps were
    done before it stopped.
    """

    label: str
    unit: str
    value: float | None
    steps: Sequence[Step] = ()
    reason: str = ""
    about: str = ""  # the input at fault, where one is
    estimate: bool = False
    printed: str = ""  # as the sheet says it elsewhere, where that is in another unit

    @property
    def known(self) -> float:
        """The value of a figure that was worked; a bug if it was not."""
        if self.value is None:
            raise AssertionError(f"{self.label} was not worked: {self.reason}")
        return self.value


def stated(
    label: str, unit: str, value: float, detail: str | Callable[[], str], source: Source, *, step: str = ""
) -> Figure:
    """Return a figure of a single step, which is written out when it is first read.

    Parameters
    ----------
    label, unit, value : of the figure, and of the step.
    detail : the arithmetic in the pilot's figures, or how to write it.
    source : where it comes from.
    step : the step's own label, where that is another.
    """
    return Figure(label, unit, value, Steps(partial(_only_step, label, unit, value, detail, source, step or label)))


def _only_step(
    quantity: str, unit: str, value: float, detail: str | Callable[[], str], source: Source, label: str
) -> tuple[Step, ...]:
    words = detail if isinstance(detail, str) else detail()
    return (Step(quantity, label, words, None, value, unit, source),)


def missing(label: str, unit: str, reason: str, about: str = "") -> Figure:
    """Return a figure that could not be worked."""
    return Figure(label, unit, None, (), reason, about)


class Working:
    """A chain run once: every quantity's value or refusal, and the trail from which the steps are written.

    The trail keeps, for each operation, the values before it and the value after it, None where it refused.
    """

    __slots__ = ("inputs", "refusals", "trail", "values")

    def __init__(self, inputs: Inputs) -> None:
        self.inputs = inputs
        self.values: dict[str, float] = {}
        self.refusals: dict[str, Refusal] = {}
        self.trail: list[tuple[Operation, dict[str, float], float | None]] = []

    def figure(self, quantity: str, label: str, unit: str = "ft", *, estimate: bool = False) -> Figure:
        """Return one quantity as a figure, with the steps that led to it and no others."""
        steps = Steps(partial(self._steps, quantity)) if self.trail else ()
        refusal = self.refusals.get(quantity)
        if refusal:
            return Figure(label, unit, None, steps, refusal.reason, refusal.about, estimate)
        return Figure(label, unit, self.values[quantity], steps, "", "", estimate)

    def _steps(self, quantity: str) -> tuple[Step, ...]:
        wanted, found = {quantity}, []
        for operation, before, after in reversed(self.trail):
            if operation.quantity in wanted:
                wanted |= set(operation.needs)
                if after is not None:
                    found.append(operation.step(before, self.inputs, after))
        return tuple(reversed(found))


def work(chain: Iterable[Operation], inputs: Inputs, *, keep_steps: bool = True) -> Working:
    """Run a chain.

    Parameters
    ----------
    chain : operations in the order they are to be done.
    inputs : named numbers, in the inside units that their names end in.
    keep_steps : leave the working out where only values are wanted.
    """
    done = Working(inputs)
    values, refusals = done.values, done.refusals
    for operation in chain:
        quantity = operation.quantity
        before = dict(values) if keep_steps else {}
        try:
            if refusals:
                _refuse(operation, refusals)
            after = operation.work(values, inputs)
        except Refusal as refusal:
            values.pop(quantity, None)
            refusals[quantity] = refusal
            if keep_steps:
                done.trail.append((operation, before, None))
            continue
        if keep_steps:
            done.trail.append((operation, before, after))
        if quantity in values:
            values[f"before {quantity}"] = values[quantity]  # what this operation changed
        else:
            values[f"first {quantity}"] = after  # what notes call 'the table figure'
        values[quantity] = after
    return done


def _refuse(operation: Operation, refusals: Mapping[str, Refusal]) -> None:
    """Pass a refusal on to what depends on it."""
    for name in (operation.quantity, *operation.needs):
        if name in refusals:
            raise refusals[name]

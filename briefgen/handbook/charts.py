"""What every takeoff or landing chart gives, in whatever form it is printed: a table, or a staged graph."""

from collections.abc import Sequence
from typing import Protocol

from briefgen.figures import Inputs, Operation
from briefgen.handbook.chart import ChartConditions
from briefgen.handbook.notes import Note


class Chart(Protocol):
    """One printed chart of ground roll and distance over 50 ft, its own conditions, and its notes."""

    @property
    def phase(self) -> str:
        """'takeoff' or 'landing'."""

    @property
    def flaps(self) -> str:
        """The flap setting that it is printed for."""

    @property
    def page(self) -> str:
        """Its page, as a source text."""

    @property
    def conditions(self) -> ChartConditions:
        """What it assumes."""

    @property
    def notes(self) -> tuple[Note, ...]:
        """Its notes, as printed."""

    @property
    def at_standard(self) -> bool:
        """Printed at standard temperature only, so that temperature is a cause for the notes."""

    @property
    def order_open(self) -> bool:
        """The handbook does not say in which order its notes apply."""

    @property
    def axes(self) -> tuple[str, ...]:
        """The names of what it is entered with, as far as that is by a table's axes."""

    @property
    def answers(self) -> tuple[str, ...]:
        """The causes that the chart itself answers, so that no note needs to."""

    def note_for(self, cause: str) -> Note | None:
        """Return the first note printed for a cause."""

    def covers(self, cause: str, quantity: str) -> bool:
        """Say whether a note is printed for a cause that changes 'roll' or 'total'."""

    def look_ups(
        self,
        causes: Sequence[str] = (),
        guidance: Sequence[Note] = (),
        *,
        whole_steps: bool = True,
        worse: bool = False,
    ) -> Sequence[Operation]:
        """Return the operations that begin every distance chain.

        Parameters
        ----------
        causes : present today.
        guidance : chosen by the policy; a chart weighs what is stricter than an answer of its own.
        whole_steps : count credits in whole printed steps only.
        worse : of a table, look up at the nearest worse row, column and weight; a graph has none.
        """

    def credited(self, cause: str, amount: float, *, whole_steps: bool) -> float:
        """Return how much of a cause that helps the chart credits.

        Parameters
        ----------
        cause : of `handbook.causes`, such as a wind from ahead.
        amount : of it, in its unit there, 0 or more.
        whole_steps : count credits in whole printed steps only.
        """

    def taken_up_ft(self, quantity: str, inputs: Inputs, *, whole_steps: bool) -> float:
        """Return by how much 'roll' or 'total' is made longer for how well the page can be read [ft], 0 or more."""

    def edges(self, inputs: Inputs) -> tuple[str, ...]:
        """Return the names of the inputs for which its outermost figure is used as it stands."""

    def vouched(self, inputs: Inputs) -> bool:
        """Say whether a figure that looks wrong is used because somebody checked it."""

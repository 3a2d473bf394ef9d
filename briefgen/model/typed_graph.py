"""A staged graph of the handbook as it was typed: every point with its digits and its place in the file."""

from typing import NamedTuple


class TypedPoint(NamedTuple):
    """One point: its input inside, its value in the scale's own unit, its digits, its place; if it is a kink."""

    at: float
    value: float
    text: str
    line: int
    column: int
    kink: bool


class TypedLine(NamedTuple):
    """One line: what a pilot calls it, and its points, along the input."""

    name: str
    points: tuple[TypedPoint, ...]


class TypedPanel(NamedTuple):
    """One panel of a graph, as typed.

    `chart`: what it is a panel of, such as 'takeoff, flaps 10, ground roll'. `subject`: what it is entered with,
    and `across` the unit of that. `scale`: the unit of the values, and `reads_to` how well they were read, in it.
    """

    chart: str
    page: str
    subject: str
    across: str
    scale: str
    reads_to: float
    lines: tuple[TypedLine, ...]

    @property
    def name(self) -> str:
        """What the panel is called."""
        return f"{self.chart}, {self.subject}"

    @property
    def printed(self) -> int:
        """How many points it has."""
        return sum(len(line.points) for line in self.lines)

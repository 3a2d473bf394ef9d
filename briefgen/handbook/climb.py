"""What a climb takes: time, fuel and distance, as the difference of two readings of one printed table."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Figure, Source, Step, Steps
from briefgen.handbook.readings import Readings

QUANTITIES = ("time", "fuel", "distance")  # of a climb table, each from sea level up
NEAR_STANDARD_DEGC = 0.5  # temperatures are given to a whole degree
DIFFERENCE = Source("value at the top less value at the bottom", "standard")


class WarmNote(NamedTuple):
    """A note that lengthens a climb by a share (0.1: a tenth) for each `per_degC` above standard, pro rata.

    `cause`: what it is for, in the words of the aircraft file.
    """

    cause: str
    change: float
    per_degC: float
    page: str


class End(NamedTuple):
    """One end of a climb: its name in a working, and what is known of its air.

    `temperature_degC` and `above_standard_degC` None: not known, for the `reason`.
    """

    name: str
    pressure_altitude_ft: float
    temperature_degC: float | None
    above_standard_degC: float | None
    reason: str = ""


class Climbed(NamedTuple):
    """What one climb takes, each figure with its working: min, gal, NM in still air; `speeds_kt` low and high."""

    time: Figure
    fuel: Figure
    distance: Figure
    source: Source
    speeds_kt: tuple[float, float] | None = None
    technique: str = ""  # how the page says to fly, and with which mixture


@dataclass(frozen=True, slots=True, eq=False)  # one table is itself
class ClimbTable:
    """Time, fuel and distance to climb, printed from sea level.

    `at_standard`: printed at standard temperature only, so that warmer air needs the `note`.
    """

    table: Readings
    at_standard: bool = False
    note: WarmNote | None = None

    def climb(self, low: End, high: End, weight_lb: float) -> Climbed:
        """Return what a climb from one pressure altitude to another takes: the difference, then the note on it.

        Parameters
        ----------
        low, high : the ends of the climb.
        weight_lb : weight at its beginning [lb].

        Raises
        ------
        Refusal : the climb goes down; an end is off the table, at neither end is any figure used past it; a
            difference is negative; the table needs a temperature that is not known; or it is warmer than standard
            and nothing corrects for that.
        """
        if high.pressure_altitude_ft <= low.pressure_altitude_ft:
            words = f"{high.name} is not above {low.name}"
            raise Refusal(f"there is no climb: {words}", "pressure_altitude_ft")
        warm_degC = max([each for each in (low.above_standard_degC, high.above_standard_degC) if each is not None])
        inputs = [self._inputs(end, warm_degC, weight_lb) for end in (low, high)]
        share = self._share(warm_degC)
        time, fuel, distance = (
            self._difference(quantity, (low, high), inputs, (share, warm_degC)) for quantity in QUANTITIES
        )
        speeds = None
        if "speed" in self.table.units:
            speeds = self.table.value("speed", inputs[0]), self.table.value("speed", inputs[1])
        return Climbed(time, fuel, distance, self.table.source, speeds, self.table.technique)

    def _inputs(self, end: End, warm_degC: float, weight_lb: float) -> dict[str, float]:
        """Return the inputs of the table at one end; columns above standard are entered with the warmer end's."""
        inputs = {
            "pressure_altitude_ft": end.pressure_altitude_ft,
            "above_standard_degC": warm_degC,
            "weight_lb": weight_lb,
        }
        if any(axis.name == "temperature_degC" for axis in self.table.grid.axes):
            if end.temperature_degC is None:
                raise Refusal(f"the climb table needs the temperature at {end.name}: {end.reason}", "temperature")
            inputs["temperature_degC"] = end.temperature_degC
        return inputs

    def _share(self, warm_degC: float) -> float:
        """Return what the note adds, as a share; refuse warm air that a table at standard has no note for."""
        if self.note is not None:
            return max(0.0, self.note.change * warm_degC / self.note.per_degC)
        if self.at_standard and warm_degC > NEAR_STANDARD_DEGC:
            above = f"{warm_degC:.0f}\u00a0°C above ({self.table.grid.page})"
            words = "the climb table is printed at standard temperature, and it has no note for"
            raise Refusal(f"{words} {above}", "temperature")
        return 0.0

    def _difference(
        self,
        quantity: str,
        ends: tuple[End, End],
        inputs: list[dict[str, float]],
        warm: tuple[float, float],
    ) -> Figure:
        """Return one quantity: read at the top, less what is read at the bottom, then the note."""
        table, unit = self.table, self.table.units[quantity]
        (bottom, top), (share, _) = [table.value(quantity, each) for each in inputs], warm
        if top < bottom - 1e-9:  # the last bits of an interpolation
            words = f"{quantity} at {ends[1].name}, {top:,.6g}, is less than at {ends[0].name}, {bottom:,.6g}"
            raise Refusal(f"{words} ({table.grid.page}): check the table against the page")
        value = max(top - bottom, 0.0) * (1 + share)
        steps = Steps(lambda: tuple(self._steps(quantity, ends, inputs, warm)))
        return Figure(f"{quantity} to climb", unit, value, steps)

    def _steps(
        self, quantity: str, ends: tuple[End, End], inputs: list[dict[str, float]], warm: tuple[float, float]
    ) -> Iterator[Step]:
        """Return the steps of one quantity: both readings, their difference, and the note on it."""
        table, unit, (share, warm_degC) = self.table, self.table.units[quantity], warm
        found = []
        for end, at in zip(ends, inputs, strict=True):
            found.append(table.read(quantity, quantity, at).steps[0])
            yield found[-1]._replace(label=f"{table.title}, to {end.name}")
        bottom, top = (step.after for step in found)
        words, value = f"less {bottom:,.4g}", top - bottom
        yield Step(quantity, f"{quantity} to climb from {ends[0].name}", words, top, value, unit, DIFFERENCE)
        if share and self.note:
            unknown = "".join(f"; not known at {end.name}" for end in ends if end.above_standard_degC is None)
            detail = f"+{share:.1%}: {warm_degC:.1f}\u00a0°C above it at the warmer end{unknown}"
            detail = detail.replace("%", "\u00a0%")
            yield Step(quantity, self.note.cause, detail, value, value * (1 + share), unit, Source(self.note.page))

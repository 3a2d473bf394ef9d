"""Cruise: airspeed and fuel flow at a power setting that is printed; nothing stands between two settings."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Figure, Source, Step, Steps
from briefgen.handbook.climb import NEAR_STANDARD_DEGC
from briefgen.handbook.readings import Readings

WANTED = ("tas", "flow")  # what a cruise table prints at least
LEAST_KT = 30.0


class SpeedNote(NamedTuple):
    """A note that changes the airspeed for what this airplane has or has not, such as no wheel fairings.

    `applies`: it is so for this airplane; else the note is kept, and not used.
    """

    cause: str
    change_kt: float
    applies: bool
    page: str


class Air(NamedTuple):
    """The air at a cruising level: ft, degC. Temperatures None: not known, for the `reason`."""

    pressure_altitude_ft: float
    temperature_degC: float | None
    above_standard_degC: float | None
    reason: str = ""


class Cruising(NamedTuple):
    """What a setting gives, with its working: true airspeed [kt] and fuel flow [gal/h]."""

    airspeed: Figure
    flow: Figure
    source: Source
    technique: str = ""  # how the page says to fly, and with which mixture


@dataclass(frozen=True, slots=True, eq=False)  # one table is itself
class CruiseTable:
    """One power setting by its printed name. `at_standard`: printed at standard temperature only."""

    power: str
    table: Readings
    at_standard: bool = False
    notes: tuple[SpeedNote, ...] = ()

    def cruise(self, air: Air, weight_lb: float, before: Sequence[Step] = ()) -> Cruising:
        """Return the airspeed, with the notes that apply to this airplane, and the fuel flow.

        Parameters
        ----------
        air : at the level.
        weight_lb : weight [lb], where the table is printed by weight.
        before : steps that led to the air, to begin both workings with.

        Raises
        ------
        Refusal : off the table, a blank cell, or a temperature that the table needs and is not known, or was not
            printed for.
        """
        inputs = self._inputs(air, weight_lb)
        speed, flow = (self._read(name, inputs) for name in WANTED)
        value = speed.known + sum([note.change_kt for note in self.notes if note.applies])
        if value < LEAST_KT:
            raise Refusal(f"the airspeed comes to {value:,.0f}\u00a0kt ({self.table.grid.page})", "power")
        return Cruising(
            Figure("true airspeed", "kt", value, Steps(lambda: (*before, *speed.steps, *self._noted(speed.known)))),
            flow._replace(steps=Steps(lambda: (*before, *flow.steps))),
            self.table.source,
            self.table.technique,
        )

    def _noted(self, value: float) -> Iterator[Step]:
        """Return a step for each note that applies to this airplane."""
        for note in self.notes:
            if note.applies:
                before, value = value, value + note.change_kt
                detail = f"{note.change_kt:+g}\u00a0kt".replace("-", "−")
                yield Step("tas", note.cause, detail, before, value, "kt", Source(note.page))

    def _read(self, name: str, inputs: dict[str, float]) -> Figure:
        label = {"tas": "true airspeed", "flow": "fuel flow"}[name]
        figure = self.table.read(name, label, inputs)
        if figure.value is None:
            raise Refusal(figure.reason, figure.about or "power")
        return figure

    def _inputs(self, air: Air, weight_lb: float) -> dict[str, float]:
        page = self.table.grid.page
        inputs = {"pressure_altitude_ft": air.pressure_altitude_ft, "weight_lb": weight_lb}
        if self.at_standard:
            off_degC = air.above_standard_degC
            if off_degC is None:
                raise Refusal(
                    f"the table for {self.power} is for standard temperature: {air.reason}", "temperature"
                )
            if abs(off_degC) > NEAR_STANDARD_DEGC:
                side = "above" if off_degC > 0 else "below"
                words = f"the table for {self.power} is for standard temperature, and nothing corrects it"
                raise Refusal(f"{words} for {abs(off_degC):.0f}\u00a0°C {side} ({page})", "off standard")
        for axis, known in (
            ("temperature_degC", air.temperature_degC),
            ("above_standard_degC", air.above_standard_degC),
        ):
            if any(each.name == axis for each in self.table.grid.axes):
                if known is None:
                    raise Refusal(f"the table for {self.power} needs a temperature: {air.reason}", "temperature")
                inputs[axis] = known
        return inputs

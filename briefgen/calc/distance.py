"""The one chain behind every distance: look up, correct for every cause, allow for speed."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import chain, groupby, permutations
from math import inf
from typing import NamedTuple

from briefgen.calc.atmosphere import density_altitude, density_ratio, pressure_altitude, standard_temperature
from briefgen.calc.causes import present
from briefgen.calc.runway import Have
from briefgen.calc.wind import RunwayWind
from briefgen.figures import Figure, Inputs, Operation, Source, Step, Working, work
from briefgen.handbook.axes import AGAINST, BEHIND, HEADWIND
from briefgen.handbook.charts import Chart
from briefgen.handbook.notes import Note, corrections
from briefgen.model.weather import Conditions, NotGiven


class Scene(NamedTuple):
    """One runway in one direction in its air: all that a distance depends on, but for the airplane.

    `shares`: how much of a headwind, and of a tailwind, the policy counts.
    """

    surface: str
    conditions: Conditions
    pressure_altitude_ft: float
    density_ratio: float
    wind: RunwayWind
    have: Have
    shares: tuple[float, float] = (1.0, 1.0)

    @property
    def counted_kt(self) -> float:
        """The wind along the runway as distances count it [kt]: the policy's share of it, headwind positive."""
        along = self.wind.along_kt
        return along * self.shares[0 if along > 0 else 1]


class NoAir(NamedTuple):
    """The same runway where no conditions are given: what there is of it. No figure that needs its air is shown."""

    conditions: NotGiven
    have: Have

    @property
    def reason(self) -> str:
        """Why such a figure is not shown."""
        return self.conditions.reason


def scene(
    surface: str,
    elevation_ft: float,
    conditions: Conditions,
    wind: RunwayWind,
    have: Have,
    shares: tuple[float, float] = (1.0, 1.0),
) -> Scene:
    """Return the scene of one runway use; `elevation_ft` is the field's [ft]."""
    height_ft = pressure_altitude(elevation_ft, conditions.altimeter_hPa)
    density = density_ratio(height_ft, conditions.temperature_degC)
    return Scene(surface, conditions, height_ft, density, wind, have, shares)


def axes_there(scene: Scene, chart: Chart, *, pro_rata: bool) -> dict[str, float]:
    """Return what a chart is entered with on a runway in its air, but for the weight [ft, degC, kt].

    A table over density altitude is entered with that of dry air, as such tables are made; one over pressure
    altitude never is.

    Parameters
    ----------
    scene : the runway.
    chart : of its axes, those that it has and the pressure altitude and temperature.
    pro_rata : give wind credit for part of a printed step too.
    """
    height_ft, degC = scene.pressure_altitude_ft, scene.conditions.temperature_degC
    found = {"pressure_altitude_ft": height_ft, "temperature_degC": degC}
    if "density_altitude_ft" in chart.axes:
        found["density_altitude_ft"] = density_altitude(height_ft, degC)
    if "above_standard_degC" in chart.axes:
        found["above_standard_degC"] = degC - standard_temperature(height_ft)
    if HEADWIND in chart.axes:
        found[HEADWIND] = _along_kt(chart, scene.counted_kt, whole_steps=not pro_rata)
    return found


def _along_kt(chart: Chart, along_kt: float, *, whole_steps: bool) -> float:
    """Return the wind along the runway that printed columns of it are entered with [kt], a tailwind negative.

    A tailwind that they do not print is left to a note.
    """
    if along_kt > 0:
        return chart.credited(AGAINST, along_kt, whole_steps=whole_steps)
    return along_kt if BEHIND in chart.answers else 0.0


def causes_there(scene: Scene, chart: Chart) -> dict[str, float]:
    """Return the causes of corrections that are present on a runway in its air, with their amounts.

    Parameters
    ----------
    scene : the runway.
    chart : what they correct; one printed at standard temperature asks for the warmth too.
    """
    of_this_airplane = {note.cause: 1.0 for note in chart.notes if note.which}
    return of_this_airplane | present(
        along_kt=scene.counted_kt,
        slope=scene.have.slope,
        surface=scene.surface,
        conditions=scene.conditions,
        pressure_altitude_ft=scene.pressure_altitude_ft,
        at_standard=chart.at_standard,
        phase=chart.phase,
    )


class Part(NamedTuple):
    """One part of a sum: a quantity or an input, its sign, and the input that multiplies it, if any."""

    name: str
    by: str = ""
    sign: int = 1


class Sum(NamedTuple):
    """Begin a quantity as a sum of parts."""

    quantity: str
    parts: tuple[Part, ...]
    label: str
    source: Source

    @property
    def needs(self) -> tuple[str, ...]:
        """The names of the parts."""
        return tuple(part.name for part in self.parts)

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the sum [ft]."""
        total = 0.0
        for name, by, sign in self.parts:
            value = values[name] if name in values else inputs[name]
            total += sign * value * (inputs[by] if by else 1.0)
        return total

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed."""
        words = [
            f"{'+' if sign > 0 else '−'} {_read(name, values, inputs):,.1f}" + (f" × {inputs[by]:g}" if by else "")
            for name, by, sign in self.parts
        ]
        return Step(self.quantity, self.label, " ".join(words).removeprefix("+ "), None, after, "ft", self.source)


class Longest(NamedTuple):
    """Begin a quantity as the longest of others, each with the words for it."""

    quantity: str
    among: tuple[tuple[str, str], ...]  # (quantity, words)
    label: str
    source: Source

    @property
    def needs(self) -> tuple[str, ...]:
        """All of them: one that is missing makes the longest missing."""
        return tuple(name for name, _ in self.among)

    def work(self, values: Mapping[str, float], inputs: Inputs) -> float:
        """Return the longest [ft]."""
        return max([_read(name, values, inputs) for name, _ in self.among])

    def step(self, values: Mapping[str, float], inputs: Inputs, after: float) -> Step:
        """Return the step as printed: which it is, and what it was weighed against."""
        found = [(_read(name, values, inputs), words) for name, words in self.among]
        longest = next(words for value, words in found if value == after)
        others = ", ".join(f"{words} {value:,.1f}" for value, words in found if words != longest)
        detail = f"{longest}; not shorter than {others}" if others else longest
        return Step(self.quantity, self.label, detail, None, after, "ft", self.source)


def _read(name: str, values: Mapping[str, float], inputs: Inputs) -> float:
    return values[name] if name in values else inputs[name]


class Workings(NamedTuple):
    """A chain worked in every order that the handbook leaves open; each figure is the longest of them."""

    runs: tuple[Working, ...]

    def figure(self, quantity: str, label: str, *, estimate: bool = False) -> Figure:
        """Return the longest figure [ft], or the first refusal."""
        if len(self.runs) == 1:
            return self.runs[0].figure(quantity, label, estimate=estimate)
        figures = [run.figure(quantity, label, estimate=estimate) for run in self.runs]
        refused = next((figure for figure in figures if figure.value is None), None)
        return refused or max(figures, key=lambda figure: figure.known)

    def value(self, quantity: str) -> float | None:
        """Return the longest value [ft] alone, None if refused."""
        if any(quantity in run.refusals for run in self.runs):
            return None
        return max(run.values[quantity] for run in self.runs)


def work_chart(
    chart: Chart,
    causes: Mapping[str, float],
    guidance: tuple[Note, ...],
    inputs: Inputs,
    tail: Iterable[Operation],
    *,
    pro_rata: bool,
    nearest_worse: bool = False,
    keep_steps: bool = True,
    estimated: str = "",
) -> Workings:
    """Work a chart's chain: look-up, corrections in printed order (in every order where open), then a tail.

    Parameters
    ----------
    chart : the handbook's table pair or graphs, and notes.
    causes : present today, with amounts.
    guidance : the policy's notes for this phase.
    inputs : the chart's axes, by name, and whatever the tail reads.
    tail : what follows the corrections.
    pro_rata : give wind credit for part of a printed step too.
    nearest_worse : look up at the nearest worse row, column, weight and wind, and interpolate nothing.
    keep_steps : leave the working out where only values are wanted.
    estimated : a cause that a silent note leaves uncorrected, because the tail estimates it.
    """
    ends = tuple(tail)

    def runs(asked: tuple[str, ...], notes: tuple[Note, ...], inputs: Inputs) -> Iterator[Working]:
        fixes = corrections(chart.phase, asked, notes, guidance, whole_steps=not pro_rata, estimated=estimated)
        orders: Iterable[tuple[Operation, ...]] = [fixes]
        if chart.order_open:
            groups = [tuple(group) for _, group in groupby(fixes, key=lambda fix: fix.cause)]
            orders = (tuple(chain.from_iterable(order)) for order in permutations(groups))
        start = chart.look_ups(tuple(causes), guidance, whole_steps=not pro_rata, worse=nearest_worse)
        for order in orders:
            yield work((*start, *order, *ends), inputs, keep_steps=keep_steps)

    asked = tuple(cause for cause in causes if cause not in chart.answers)
    everything = {**inputs, **causes}
    found = list(runs(asked, chart.notes, everything))
    stricter = _stricter_wind(chart, guidance, inputs)
    if stricter:
        wind = {note.cause: min(abs(inputs[HEADWIND]), note.up_to or inf) for note in stricter}
        notes = (*stricter, *chart.notes)
        found += runs((*wind, *asked), notes, {**everything, **wind, HEADWIND: 0.0})
    return Workings(tuple(found))


def _stricter_wind(chart: Chart, guidance: tuple[Note, ...], inputs: Inputs) -> tuple[Note, ...]:
    """Return guidance that holds where it asks for more than a handbook's own columns of wind."""
    along_kt = inputs.get(HEADWIND, 0.0)
    cause = AGAINST if along_kt > 0 else BEHIND
    if not along_kt or cause not in chart.answers:
        return ()
    whole = [note for note in guidance if note.cause == cause and len(note.changes) == 2]
    return tuple(note for note in whole if note.rank == "if longer")


def roll_taken_up(
    chart: Chart, worked: Workings, inputs: Inputs, causes: Mapping[str, float], *, pro_rata: bool
) -> float:
    """Return by how much a ground roll may be shorter than it was worked, for how well the page can be read [ft].

    It was taken up by as much as every reading may be short, and it may be long by as much again. What is left of
    the total without the roll is the distance in the air, and is not to come out shorter for either. 0 or more.

    Parameters
    ----------
    chart, worked, inputs, causes : the chart, its chain worked, and what that was worked with.
    pro_rata : wind credit is given for part of a printed step too.
    """
    more_ft = chart.taken_up_ft("roll", {**inputs, **causes}, whole_steps=not pro_rata)
    if not more_ft:
        return 0.0
    grown = [run.values["roll"] / run.values["first roll"] for run in worked.runs if "roll" in run.values]
    return 2 * more_ft * max([1.0, *grown])


def square_law(along_kt: float, speed_kt: float | None) -> float:
    """Return the most that a headwind may shorten a distance, as a negative fraction: (1 - w/V)^2 - 1.

    Parameters
    ----------
    along_kt : headwind [kt], 0 or more
    speed_kt : true airspeed at liftoff or on the approach [kt]; None: no credit

    Source: PHAK FAA-H-8083-25C, chapter 11, Takeoff Performance.

    >>> round(1 + square_law(18, 51), 3)
    0.419
    """
    if speed_kt is None:
        return 0.0
    return (1 - min(along_kt / speed_kt, 1.0)) ** 2 - 1

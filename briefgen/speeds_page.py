"""The speeds card as it is printed: each speed with what it is for and its page, the stall, the crosswind table.

Speeds to hold are rounded up, the maneuvering speed, which is a most, and the glide down, crosswinds up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from briefgen.calc.bank import BANKS_DEG, StallRow
from briefgen.calc.crosswinds import COLUMNS, Crosswinds
from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.calc.wind import RunwayWind
from briefgen.figures import Figure
from briefgen.model.policy import NO_POLICY
from briefgen.model.trip import Trip
from briefgen.plans import Reading, reading
from briefgen.printing import Printing
from briefgen.units import up

OVER, DEMONSTRATED = "over", "demo"
_SIDES = {"left": "L", "right": "R", "either side": "L/R"}


@dataclass(frozen=True, slots=True)
class SpeedLine:
    """One line: the printed number, what it is worked for, its source, and the number before rounding."""

    reading: Reading
    worked_for: str
    source: str
    unrounded: float | None


@dataclass(frozen=True, slots=True)
class SpeedGroup:
    """Lines that belong to one part of the flight."""

    title: str
    lines: tuple[SpeedLine, ...]


@dataclass(frozen=True, slots=True)
class StallLine:
    """The stall of one setting: wings level, then by bank."""

    label: str
    lines: tuple[SpeedLine, ...]


@dataclass(frozen=True, slots=True)
class CrosswindCell:
    """One crosswind [kt], rounded up: its side (L, R, L/R or none), and '' or what it is over."""

    value: float
    side: str
    mark: str
    unrounded: float


@dataclass(frozen=True, slots=True)
class CrosswindTable:
    """The crosswinds of one runway: heads of the columns, and rows of a word and its cells."""

    where: str
    wind: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[CrosswindCell, ...]], ...]


@dataclass(frozen=True, slots=True)
class SpeedsPage:
    """The whole card. `legend`: what the marks of the crosswind tables mean; `stall_note`: what a bank assumes."""

    groups: tuple[SpeedGroup, ...]
    banks_deg: tuple[int, ...]
    stalls: tuple[StallLine, ...]
    stall_note: str
    crosswinds: tuple[CrosswindTable, ...]
    legend: str


@dataclass(frozen=True, slots=True)
class _Limits:
    """What a printed crosswind is compared with [kt]; None where it is not given."""

    least_set_kt: float | None
    demonstrated_kt: float | None
    words: str

    def mark(self, crosswind_kt: float) -> str:
        """Return what a printed crosswind is over: a limit that is set, else the demonstrated value."""
        if self.least_set_kt is not None and crosswind_kt > self.least_set_kt:
            return OVER
        over = self.demonstrated_kt is not None and crosswind_kt > self.demonstrated_kt
        return DEMONSTRATED if over else ""


def speeds_page(trip: Trip, flight: Flight) -> SpeedsPage:
    """Return the card of a worked trip."""
    card, limits = flight.speeds, _limits(trip)
    estimated = any(each.estimate for row in card.stalls for each in row.banked)
    return SpeedsPage(
        groups=_groups(trip, flight, (trip.policy or NO_POLICY).printing),
        banks_deg=BANKS_DEG,
        stalls=tuple(_stall(row, (trip.policy or NO_POLICY).printing) for row in card.stalls),
        stall_note="Wings level as the handbook prints it; in a bank worked for a level turn, × 1/√cos."
        + (
            " Scaled as indicated, with no airspeed calibration: the true figure can be higher."
            if estimated
            else ""
        ),
        crosswinds=tuple(_crosswind_table(each, limits) for each in card.crosswinds),
        legend=limits.words,
    )


def _groups(trip: Trip, flight: Flight, printing: Printing) -> tuple[SpeedGroup, ...]:
    card, glide = flight.speeds, flight.speeds.glide
    out, home = _weight(trip.departure.weight_lb, printing), _weight(trip.arrival.weight_lb, printing)
    flaps = f"flaps {trip.departure.flaps}"
    return (
        SpeedGroup(
            "Takeoff and climb",
            (
                _hold(f"liftoff, {flaps}", flight.takeoff.liftoff, out),
                _hold(f"at 50\u00a0ft, {flaps}", flight.takeoff.at_50_ft, out),
                _hold("best angle", card.best_angle, out),
                _hold("best rate", card.best_rate, out),
            ),
        ),
        SpeedGroup("Rough air", tuple(_maneuvering(card.maneuvering, printing))),
        SpeedGroup(
            "Engine out",
            (
                _hold("best glide", glide.speed, out),
                _range("glide per 1,000\u00a0ft", glide.still, "still air"),
                _range("into the wind", glide.into, glide.strongest.words),
                _range("downwind", glide.downwind, glide.weakest.words),
            ),
        ),
        SpeedGroup(
            "Approach",
            (
                _hold(
                    f"as planned, flaps {flight.planned.flaps}",
                    flight.planned.approach,
                    _with_gusts(home, flight.planned),
                ),
                _hold("flaps up", flight.flaps_up.approach, _with_gusts(home, flight.flaps_up)),
            ),
        ),
    )


def _weight(weight_lb: float, printing: Printing) -> str:
    return printing.said(printing.up(weight_lb, "lb"), "lb")


def _with_gusts(worked_for: str, case: Landing) -> str:
    """Return what an approach is worked for, with what is added to the handbook's speed."""
    if case.approach.value is None or case.table_speed.value is None:
        return worked_for
    added = case.approach.value - case.table_speed.value
    return f"{worked_for}, {added:.0f}\u00a0kt added" if added else worked_for


def _hold(label: str, figure: Figure, worked_for: str) -> SpeedLine:
    """Return a speed to hold, rounded up."""
    return _line(reading(label, figure, step=1, upward=True), figure, worked_for)


def _range(label: str, figure: Figure, worked_for: str) -> SpeedLine:
    """Return a distance glided, rounded down to a tenth."""
    found = reading(label, figure, step=0.1, upward=False)
    value = None if found.value is None else round(found.value, 1)  # without the last bits of a tenth
    return _line(replace(found, value=value), figure, worked_for)


def _line(printed: Reading, figure: Figure, worked_for: str) -> SpeedLine:
    source = str(figure.steps[0].source) if figure.steps else ""
    return SpeedLine(printed, worked_for, source, figure.value)


def _maneuvering(by_weight: tuple[tuple[float, Figure], ...], printing: Printing) -> Iterable[SpeedLine]:
    """Return the most for each weight, rounded down; the lighter airplane's is the lower, and says so."""
    for i, (weight_lb, figure) in enumerate(by_weight):
        said = _weight(weight_lb, printing) + (", lighter: lower" if i else "")
        yield _line(reading("maneuvering, at most", figure, step=1, upward=False), figure, said)


def _stall(row: StallRow, printing: Printing) -> StallLine:
    at = "every weight" if row.weight_lb is None else _weight(row.weight_lb, printing)
    heads = ("wings level", *(f"{bank}°" for bank in BANKS_DEG))
    lines = tuple(_hold(head, figure, at) for head, figure in zip(heads, row.figures, strict=True))
    return StallLine(f"flaps {row.flaps}, {at}", lines)


def _limits(trip: Trip) -> _Limits:
    """Return what the crosswinds are compared with, and the words for their marks."""
    aircraft, policy = trip.aircraft, trip.policy or NO_POLICY
    limit, shown = aircraft.crosswind_limit_kt, aircraft.demonstrated_crosswind_kt
    set_ = [(limit.value, f"limitation, {limit.page}")] if limit else []
    if policy.crosswind_maximum_kt is not None:
        set_.append((policy.crosswind_maximum_kt, policy.by("crosswind_maximum_kt").text))
    least = min(set_, default=None)
    words = ["L, R: from the left, the right."]
    if least:
        words.append(f"\u2018{OVER}\u2019: over {least[0]:g}\u00a0kt ({least[1]}).")
    if shown:
        words.append(f"\u2018{DEMONSTRATED}\u2019: over the {shown.value:g}\u00a0kt demonstrated ({shown.page}).")
    if not least and not shown:
        words.append(
            "Marks not shown: the aircraft file has no speeds: demonstrated_crosswind or crosswind_limitation."
        )
    return _Limits(least[0] if least else None, shown.value if shown else None, " ".join(words))


def _crosswind_table(worked: Crosswinds, limits: _Limits) -> CrosswindTable:
    def cell(wind: RunwayWind) -> CrosswindCell:
        value = up(wind.crosswind_kt)
        return CrosswindCell(value, _SIDES.get(wind.crosswind_from, ""), limits.mark(value), wind.crosswind_kt)

    return CrosswindTable(
        where=worked.use.name,
        wind=worked.use.conditions.wind.text or "calm",
        heads=tuple(f"{name}, {up(kt):.0f}\u00a0kt" for name, kt in zip(COLUMNS, worked.speeds_kt, strict=True)),
        rows=tuple((row.words, tuple(cell(wind) for wind in row.winds)) for row in worked.rows),
    )

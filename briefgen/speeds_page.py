"""The speeds card as it is printed: each speed with what it is for and its page, the stall, the crosswind table.

Speeds to hold are rounded up, the maneuvering speed, which is a most, and the glide down, crosswinds up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from briefgen.calc.bank import BANKS_DEG, StallRow
from briefgen.calc.crosswinds import MORE_KT, SPREADS_DEG, Crosswinds, turned_words
from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.calc.speeds import NO_SPEED
from briefgen.calc.wind import RunwayWind
from briefgen.figures import Figure
from briefgen.model.policy import NO_POLICY
from briefgen.model.trip import Trip
from briefgen.printed import Reading, reading
from briefgen.printing import Printing
from briefgen.units import up

LIMIT, DEMONSTRATED = "limit", "demonstrated"  # what a crosswind can be over
_SIDES = {"left": "L", "right": "R", "either side": "L/R"}


@dataclass(frozen=True, slots=True)
class SpeedLine:
    """One line: the printed number, what it is worked for, its source, and the number before rounding.

    `page` is the source without the handbook's title, which the card names once.
    """

    reading: Reading
    worked_for: str
    source: str
    page: str
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
    """One crosswind [kt], rounded up: its side (L, R, L/R or none), and all that it is over."""

    value: float
    side: str
    over: tuple[str, ...]
    unrounded: float


@dataclass(frozen=True, slots=True)
class CrosswindTable:
    """The crosswinds of one runway: heads of the columns, and rows of cells, each for the page's own `turned`."""

    where: str
    wind: str
    heads: tuple[str, ...]
    rows: tuple[tuple[CrosswindCell, ...], ...]


@dataclass(frozen=True, slots=True)
class SpeedsPage:
    """The whole card. `turned`: the rows of every crosswind table, `legend`: what its marks mean.

    `without_wind`: the runways that have no table, each with the reason.
    """

    groups: tuple[SpeedGroup, ...]
    banks_deg: tuple[int, ...]
    stalls: tuple[StallLine, ...]
    stall_note: str
    turned: tuple[str, ...]
    crosswinds: tuple[CrosswindTable, ...]
    legend: str
    without_wind: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Limits:
    """What a printed crosswind is compared with [kt]; None where it is not given."""

    least_set_kt: float | None
    demonstrated_kt: float | None
    words: str

    def over(self, crosswind_kt: float) -> tuple[str, ...]:
        """Return all that a printed crosswind is over."""
        limits = ((LIMIT, self.least_set_kt), (DEMONSTRATED, self.demonstrated_kt))
        return tuple(name for name, most_kt in limits if most_kt is not None and crosswind_kt > most_kt)


def speeds_page(trip: Trip, flight: Flight) -> SpeedsPage:
    """Return the card of a worked trip."""
    card, limits = flight.speeds, _limits(trip)
    estimated = any(each.estimate for row in card.stalls for each in row.banked)
    return SpeedsPage(
        groups=_groups(trip, flight, (trip.policy or NO_POLICY).printing),
        banks_deg=BANKS_DEG,
        stalls=tuple(_stall(row, (trip.policy or NO_POLICY).printing) for row in card.stalls),
        stall_note="Wings level as the handbook prints it; in a bank worked, × 1/√cos bank."
        + (" As indicated, no calibration: it can be higher." if estimated else ""),
        turned=tuple(turned_words(spread) for spread in SPREADS_DEG),
        crosswinds=tuple(_crosswind_table(each, limits) for each in card.crosswinds),
        legend=limits.words if card.crosswinds else "",
        without_wind=tuple(f"{use.name}: not shown: {reason}" for use, reason in card.without_wind),
    )


def _groups(trip: Trip, flight: Flight, printing: Printing) -> tuple[SpeedGroup, ...]:
    card, glide = flight.speeds, flight.speeds.glide
    out, home = _weight(trip.departure.weight_lb, printing), _weight(trip.arrival.weight_lb, printing)
    flaps = f"flaps {trip.departure.flaps}"
    return (
        SpeedGroup(
            "Takeoff and climb",
            (
                _hold(f"liftoff, {flaps}", _keyed(flight.takeoff.liftoff, f"liftoff for {flaps}"), out),
                _hold(f"at 50\u00a0ft, {flaps}", _keyed(flight.takeoff.at_50_ft, f"at_50_ft for {flaps}"), out),
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
                _range("glide into the wind", glide.into, glide.strongest.words if glide.strongest else ""),
                _range("glide downwind", glide.downwind, glide.weakest.words if glide.weakest else ""),
            ),
        ),
        SpeedGroup(
            "Approach",
            (
                _hold(
                    f"approach, flaps {flight.planned.flaps}",
                    _keyed(flight.planned.approach, f"approach for flaps {flight.planned.flaps}"),
                    _with_gusts(home, flight.planned),
                ),
                _hold("approach, flaps up", flight.flaps_up.approach, _with_gusts(home, flight.flaps_up)),
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


def _keyed(figure: Figure, key: str) -> Figure:
    """Return a figure that the aircraft file does not give with the key that would give it."""
    return (
        figure._replace(reason=f"the aircraft file has no speeds: {key}") if figure.reason == NO_SPEED else figure
    )


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
    page = source.rpartition(" p. ")[2]
    return SpeedLine(printed, worked_for, source, f"p. {page}" if page != source else source, figure.value)


def _maneuvering(by_weight: tuple[tuple[float, Figure], ...], printing: Printing) -> Iterable[SpeedLine]:
    """Return the most for each weight, rounded down; the lighter airplane's is the lower, and says so."""
    for i, (weight_lb, figure) in enumerate(by_weight):
        said = _weight(weight_lb, printing) + (", the lightest: lower" if i else "")
        said += ", below the printed weights: by its root, PHAK ch. 5" if figure.estimate else ""
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
    words = ["Worst over the directions of the row; +5: 5\u00a0kt over the gust. L, R: from the left, right."]
    if least:
        words.append(f"!\u00a0over {least[0]:g}\u00a0kt ({least[1]}).")
    if shown:
        words.append(f"*\u00a0over the {shown.value:g}\u00a0kt demonstrated ({shown.page}).")
    if not least and not shown:
        words.append(
            "Marks not shown: the aircraft file has no speeds: demonstrated_crosswind or crosswind_limitation."
        )
    return _Limits(least[0] if least else None, shown.value if shown else None, " ".join(words))


def _crosswind_table(worked: Crosswinds, limits: _Limits) -> CrosswindTable:
    def cell(wind: RunwayWind) -> CrosswindCell:
        value = up(wind.crosswind_kt)
        return CrosswindCell(value, _SIDES.get(wind.crosswind_from, ""), limits.over(value), wind.crosswind_kt)

    return CrosswindTable(
        where=worked.use.name,
        wind=(worked.wind.text or "calm").replace(" kt", "\u00a0kt"),
        heads=tuple(
            f"{name}\u00a0{up(kt):.0f}"
            for name, kt in zip(("steady", "gust", f"+{MORE_KT:.0f}:"), worked.speeds_kt, strict=True)
        ),
        rows=tuple(tuple(cell(wind) for wind in row.winds) for row in worked.rows),
    )

"""The numbers to fly, and the places along each strip, rounded as they are printed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from briefgen.calc.decision import GoAround
from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.calc.runway import Seen
from briefgen.calc.speeds import find, speed
from briefgen.figures import Figure
from briefgen.items import State, state_of
from briefgen.model.aircraft import UP
from briefgen.model.policy import NO_POLICY
from briefgen.model.trip import Trip, Use
from briefgen.units import HPA_PER_INHG, down, up


@dataclass(frozen=True, slots=True)
class Reading:
    """One printed number: rounded the safe way, or missing with the reason."""

    label: str
    value: float | None
    unit: str
    reason: str = ""
    estimate: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """A place along a strip [ft from the start of the runway in this direction]; kind names how it is drawn."""

    kind: str  # threshold, aim, mark, go-around, abort, planned need, flaps-up need, takeoff need
    label: str
    at_ft: float


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a strip [ft from the start]; kind names how it is drawn."""

    kind: str  # planned or flaps-up or takeoff, then roll, allowance or air
    label: str
    from_ft: float
    to_ft: float


@dataclass(frozen=True, slots=True)
class Sketch:
    """A strip to scale, in one direction."""

    title: str
    near_ident: str
    far_ident: str
    length_ft: float
    available_ft: float | None  # where what is available ends, from the start
    surface: str
    places: tuple[Place, ...]
    spans: tuple[Span, ...]
    beyond: str
    text: str  # the same in words
    origin_ft: float = 0.0  # where distances are counted from: the landing threshold, or the start


@dataclass(frozen=True, slots=True)
class Point:
    """A decision point as it is said: the distance, the mark to look for, and what else a pilot must know."""

    label: str
    at: Reading
    mark: str
    mark_ft: float | None
    window: Reading | None = None
    zone_ft: float | None = None
    climb_out: str = ""


@dataclass(frozen=True, slots=True)
class TakeoffPage:
    """The takeoff as flown."""

    where: str
    setting: tuple[str, ...]
    speeds: tuple[Reading, ...]
    air: tuple[Reading, ...]
    abort: Point
    abort_speed: Reading
    assumptions: tuple[str, ...]
    sketch: Sketch


@dataclass(frozen=True, slots=True)
class LandingPage:
    """The landing as flown."""

    where: str
    setting: tuple[str, ...]
    speeds: tuple[Reading, ...]
    air: tuple[Reading, ...]
    go_around: Point
    go_around_flaps_up: Point
    can_go_around: bool
    aim_ft: float | None
    sketch: Sketch


@dataclass(frozen=True, slots=True)
class RecheckRow:
    """One row of the re-check grid: a surface and a case; a need and a state for each wind."""

    surface: str
    case: str
    cells: tuple[tuple[float, float | None, State], ...]  # wind along the runway [kt], need [ft], state


def reading(label: str, figure: Figure, *, step: float, upward: bool) -> Reading:
    """Return a figure as it is printed."""
    if figure.value is None:
        return Reading(label, None, figure.unit, figure.reason)
    value = up(figure.value, step) if upward else down(figure.value, step)
    return Reading(label, value, figure.unit, estimate=figure.estimate)


def takeoff_page(trip: Trip, flight: Flight) -> TakeoffPage:
    """Return the numbers and places of the takeoff."""
    use, takeoff, abort = trip.departure.use, flight.takeoff, flight.abort
    glide = speed(trip.aircraft.best_glide, "best glide", trip.departure.weight_lb)
    return TakeoffPage(
        where=use.name,
        setting=_setting(use, flight.departure.have.slope, trip.departure.weight_lb, trip.departure.flaps),
        speeds=(
            _speed("liftoff", takeoff.liftoff),
            _speed("at 50 ft", takeoff.at_50_ft),
            _speed("best glide", glide),
        ),
        air=_air(flight.departure_air.pressure_altitude, flight.departure_air.density_altitude),
        abort=Point(
            "abort point",
            reading("abort point", abort.point, step=5, upward=False),
            abort.mark.name if abort.mark else "no mark",
            down(abort.mark.from_start_ft, 5) if abort.mark else None,
        ),
        abort_speed=_speed("speed to see there", abort.speed),
        assumptions=abort.assumptions,
        sketch=_takeoff_sketch(trip, flight),
    )


def landing_page(trip: Trip, flight: Flight) -> LandingPage:
    """Return the numbers and places of the landing."""
    use = trip.arrival.use
    stall = speed(find(trip.aircraft.stall, trip.arrival.flaps), "stall", trip.arrival.weight_lb)
    return LandingPage(
        where=use.name,
        setting=_setting(use, flight.arrival.have.slope, trip.arrival.weight_lb, trip.arrival.flaps),
        speeds=(
            _speed(f"approach, flaps {flight.planned.flaps}", flight.planned.approach),
            _speed("approach, flaps up", flight.flaps_up.approach),
            _speed(f"stall, flaps {trip.arrival.flaps}", stall),
            _speed("stall, flaps up", speed(find(trip.aircraft.stall, UP), "stall", trip.arrival.weight_lb)),
        ),
        air=_air(flight.arrival_air.pressure_altitude, flight.arrival_air.density_altitude),
        go_around=_go_around("as planned", flight.go_around),
        go_around_flaps_up=_go_around("flaps up", flight.go_around_flaps_up),
        can_go_around=use.end.go_around,
        aim_ft=None if flight.touchdown is None else flight.touchdown.aim_ft,
        sketch=_landing_sketch(trip, flight),
    )


def recheck_rows(trip: Trip, flight: Flight) -> tuple[RecheckRow, ...]:
    """Return the re-check grid, each need with the state that it would have against the LDA."""
    lda, rules = flight.arrival.have.lda, trip.policy or NO_POLICY
    rows: dict[tuple[str, str], list[tuple[float, float | None, State]]] = {}
    for cell in flight.recheck:
        need, policy_need = cell.landing.need.value, cell.landing.policy_need.value
        cells = rows.setdefault((cell.surface, cell.case), [])
        if need is None or policy_need is None or lda.value is None:
            cells.append((cell.along_kt, None, State.NOT_SHOWN))
            continue
        printed, have = up(need, 5), down(lda.value, 5)
        state = state_of(printed, up(policy_need, 5), have, rules.landing_margin_ft, trip.policy)
        cells.append((cell.along_kt, printed, state))
    return tuple(RecheckRow(surface, case, tuple(cells)) for (surface, case), cells in rows.items())


def _speed(label: str, figure: Figure) -> Reading:
    return reading(label, figure, step=1, upward=True)


def _air(pressure: Figure, density: Figure) -> tuple[Reading, ...]:
    return (
        reading("pressure altitude", pressure, step=10, upward=True),
        reading("density altitude", density, step=10, upward=True),
    )


def _setting(use: Use, slope: float, weight_lb: float, flaps: str) -> tuple[str, ...]:
    """Return what the page is worked for, in a pilot's words."""
    conditions = use.conditions
    return (
        f"{up(weight_lb):,.0f} lb, flaps {flaps}",
        f"{conditions.temperature_degC:.0f} °C",
        f"altimeter {conditions.altimeter_hPa / HPA_PER_INHG:.2f} inHg",
        f"wind {conditions.wind.text}",
        use.ground,
        "level" if not slope else f"slope {abs(slope) * 100:.1f} % {'up' if slope > 0 else 'down'}",
    )


def _go_around(label: str, worked: GoAround) -> Point:
    window = None
    if worked.window_ft is not None:
        window = Reading("from the aim point", down(worked.window_ft, 5), "ft")
    return Point(
        label=label,
        at=reading(label, worked.point, step=5, upward=False),
        mark=worked.mark.name if worked.mark else "no mark",
        mark_ft=down(worked.mark.from_threshold_ft, 5) if worked.mark else None,
        window=window,
        zone_ft=worked.zone_ft,
        climb_out=worked.climb_out,
    )


def _marks(seen: Iterable[Seen]) -> list[Place]:
    return [Place("mark", mark.name, mark.from_start_ft) for mark in seen]


def _takeoff_sketch(trip: Trip, flight: Flight) -> Sketch:
    use, takeoff = trip.departure.use, flight.takeoff
    places, spans, words = _marks(flight.takeoff_marks), [], []
    if takeoff.roll.value is not None:
        roll = up(takeoff.roll.value, 5)
        spans.append(Span("takeoff roll", "ground roll", 0, roll))
        words.append(f"ground roll {roll:,.0f} ft")
        if takeoff.total.value is not None:
            total = up(takeoff.total.value, 5)
            spans.append(Span("takeoff air", "to 50 ft", roll, total))
            places += [
                Place("takeoff need", f"liftoff {roll:,.0f}", roll),
                Place("takeoff need", f"50 ft at {total:,.0f}", total),
            ]
            words.append(f"50 ft reached at {total:,.0f} ft")
    if flight.abort.point.value is not None:
        at = down(flight.abort.point.value, 5)
        places.append(Place("abort", f"abort point {at:,.0f}", at))
        words.append(f"abort point {at:,.0f} ft")
    tora = flight.departure.have.tora
    return _sketch(use, f"Takeoff, {use.name}", places, spans, tora.value, words)


def _landing_sketch(trip: Trip, flight: Flight) -> Sketch:
    use = trip.arrival.use
    threshold = use.end.displaced_ft
    lda = flight.arrival.have.lda
    shift = flight.arrival.have.begins_ft
    places, spans, words = _marks(flight.landing_marks), [], []
    if threshold:
        places.append(Place("threshold", "threshold", threshold))
    for case, kind in ((flight.planned, "planned"), (flight.flaps_up, "flaps-up")):
        rolled, needed, said = _stop(case, kind, threshold + shift)
        spans += rolled
        places += needed
        words += said
    if flight.touchdown is not None:
        places.append(Place("aim", "aim", threshold + shift + flight.touchdown.aim_ft))
    point = flight.go_around.point
    if point.value is not None:
        at = down(point.value, 5)
        places.append(Place("go-around", f"go-around point {at:,.0f}", threshold + at))
        words.append(f"go-around point {at:,.0f} ft past the threshold")
    end_ft = None if lda.value is None else threshold + shift + lda.value
    return _sketch(use, f"Landing, {use.name}", places, spans, end_ft, words, threshold)


def _stop(case: Landing, kind: str, from_ft: float) -> tuple[list[Span], list[Place], list[str]]:
    """Return one case along the strip: touchdown allowance, roll from there, and where the whole need ends."""
    if case.need.value is None or case.roll.value is None or case.allowance.value is None:
        return [], [], []
    down_ft = from_ft + up(case.allowance.value, 5)
    need = up(case.need.value, 5)
    spans = [
        Span(f"{kind} allowance", "to touchdown", from_ft, down_ft),
        Span(f"{kind} roll", "ground roll", down_ft, from_ft + up(case.allowance.value + case.roll.value, 5)),
    ]
    about = "about " if case.need.estimate else ""
    return (
        spans,
        [Place(f"{kind} need", f"{case.name} {about}{need:,.0f}", from_ft + need)],
        [f"{case.name}: needs {need:,.0f} ft"],
    )


def _sketch(
    use: Use,
    title: str,
    places: list[Place],
    spans: list[Span],
    end_ft: float | None,
    words: list[str],
    origin_ft: float = 0.0,
) -> Sketch:
    return Sketch(
        title=title,
        near_ident=use.end.ident,
        far_ident=use.opposite.ident,
        length_ft=use.runway.length_ft,
        available_ft=end_ft,
        surface=use.runway.surface,
        places=tuple(sorted(places, key=lambda place: place.at_ft)),
        spans=tuple(spans),
        beyond=use.opposite.beyond,
        text="; ".join([f"{title}, {use.runway.length_ft:,.0f} ft", *words]),
        origin_ft=origin_ft,
    )

"""The numbers to fly, and the places along each strip, rounded as they are printed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from briefgen.calc.decision import GoAround
from briefgen.calc.distance import NoAir
from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.calc.obstacles import Cleared
from briefgen.calc.runway import Seen
from briefgen.calc.speeds import find, speed
from briefgen.figures import Figure
from briefgen.item import Item, State, state_of
from briefgen.items import over_obstacles
from briefgen.model.aircraft import UP
from briefgen.model.policy import NO_POLICY
from briefgen.model.trip import Trip, Use
from briefgen.model.weather import Conditions
from briefgen.printed import ClimbReadings, climb_readings, reading
from briefgen.printed import Reading as Reading
from briefgen.printing import Printing
from briefgen.side_view import SideView, approach_view, climb_view
from briefgen.units import down, up
from briefgen.wind_picture import WindPicture, wind_picture


@dataclass(frozen=True, slots=True)
class Place:
    """A place along a strip [ft from the start of the runway in this direction]; kind names how it is drawn."""

    kind: str  # threshold, aim, mark, go-around, abort, planned need, flaps-up need, takeoff need
    label: str
    at_ft: float
    counted: int = 0  # its number in a row of marks that a pilot counts


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
    unit: str = "ft"  # of the scale; places and spans are in ft, their labels in this unit
    ft_per_unit: float = 1.0


@dataclass(frozen=True, slots=True)
class Point:
    """A decision point as it is said: the distance, the mark to look for, and what else a pilot must know."""

    label: str
    at: Reading
    mark: str
    mark_at: Reading | None
    window: Reading | None = None
    zone: Reading | None = None
    climb_out: str = ""
    climb: ClimbReadings | None = None


@dataclass(frozen=True, slots=True)
class TakeoffPage:
    """The takeoff as flown."""

    where: str
    setting: tuple[str, ...]
    speeds: tuple[Reading, ...]
    wind_picture: WindPicture
    air: tuple[Reading, ...]
    abort: Point
    abort_speed: Reading
    flying_by: Reading | None  # where the wheels should have left the ground, if that comes before the abort point
    assumptions: tuple[str, ...]
    sketch: Sketch
    climb: ClimbReadings
    over: tuple[str, ...]  # what the climb is held against past the far end, the least room first
    side: SideView | None


@dataclass(frozen=True, slots=True)
class LandingPage:
    """The landing as flown."""

    where: str
    setting: tuple[str, ...]
    speeds: tuple[Reading, ...]
    wind_picture: WindPicture
    air: tuple[Reading, ...]
    go_around: Point
    go_around_flaps_up: Point
    can_go_around: bool
    aim: Reading | None
    sketch: Sketch
    side: SideView | None


@dataclass(frozen=True, slots=True)
class RecheckRow:
    """One row of the re-check grid: a surface and a case; a need and a state for each wind."""

    surface: str
    case: str
    unit: str  # of the needs
    cells: tuple[tuple[float, float | None, State], ...]  # wind along the runway [kt], need, state


def along(label: str, value_ft: float, printing: Printing) -> Reading:
    """Return a point along the strip [ft] as it is printed, rounded down."""
    return Reading(label, printing.down(value_ft), printing.length)


def _as_set(label: str, value_ft: float, printing: Printing) -> Reading:
    """Return a length that the pilot or the policy set, as it is printed."""
    return Reading(label, printing.whole(value_ft), printing.length)


def _point_at(label: str, figure: Figure, printing: Printing) -> Reading:
    """Return a decision point as it is printed, or why there is none."""
    if figure.value is None:
        return Reading(label, None, printing.length, figure.reason)
    return Reading(label, printing.down(figure.value), printing.length, estimate=figure.estimate)


def takeoff_page(trip: Trip, flight: Flight) -> TakeoffPage:
    """Return the numbers and places of the takeoff."""
    use, takeoff, abort, printing = trip.departure.use, flight.takeoff, flight.abort, _printing(trip)
    glide = speed(trip.aircraft.best_glide, "best glide", trip.departure.weight_lb)
    return TakeoffPage(
        where=use.name,
        setting=setting_of(
            use, flight.departure.have.slope, trip.departure.weight_lb, trip.departure.flaps, printing
        ),
        speeds=(
            _speed("liftoff", takeoff.liftoff),
            _speed("at 50 ft", takeoff.at_50_ft),
            _speed("best glide", glide),
        ),
        wind_picture=wind_picture(use, flight.departure),
        air=_air(flight.departure_air.pressure_altitude, flight.departure_air.density_altitude),
        abort=Point(
            "abort point",
            _point_at("abort point", abort.point, printing),
            abort.mark.name if abort.mark else "no mark",
            along(abort.mark.name, abort.mark.from_start_ft, printing) if abort.mark else None,
        ),
        abort_speed=_speed("speed to see there", abort.speed),
        flying_by=_flying_by(flight, printing),
        assumptions=abort.assumptions,
        sketch=_takeoff_sketch(trip, flight),
        climb=climb_readings(flight.climb, changed=flight.climb.flaps != takeoff.flaps),
        over=tuple(_over(row, each, printing) for row, each in over_obstacles(trip, flight)),
        side=climb_view(trip, flight),
    )


def _over(row: Item, each: Cleared, printing: Printing) -> str:
    """Return an obstacle past the far end, and how high the climb is there."""
    past = printing.as_set(each.obstacle.distance_ft, upward=False)
    path = "not shown" if row.have is None else f"at {row.have:,.0f}\u00a0ft there"
    return f"{each.obstacle.what}, {past} past the end, top {row.need:,.0f}\u00a0ft: climb {path}"


def _flying_by(flight: Flight, printing: Printing) -> Reading | None:
    """Return the worked liftoff where the abort point lies past it: not flying there means something is wrong."""
    roll, point = flight.takeoff.roll, flight.abort.point
    if roll.value is None or point.value is None or point.value <= roll.value:
        return None
    return Reading("flying by", printing.up(roll.value), printing.length)


def landing_page(trip: Trip, flight: Flight) -> LandingPage:
    """Return the numbers and places of the landing."""
    use, printing = trip.arrival.use, _printing(trip)
    stall = speed(find(trip.aircraft.stall, trip.arrival.flaps), "stall", trip.arrival.weight_lb)
    return LandingPage(
        where=use.name,
        setting=setting_of(use, flight.arrival.have.slope, trip.arrival.weight_lb, trip.arrival.flaps, printing),
        speeds=(
            _speed(f"approach, flaps {flight.planned.flaps}", flight.planned.approach),
            _speed("approach, flaps up", flight.flaps_up.approach),
            _speed(f"stall, flaps {trip.arrival.flaps}", stall),
            _speed("stall, flaps up", speed(find(trip.aircraft.stall, UP), "stall", trip.arrival.weight_lb)),
        ),
        wind_picture=wind_picture(use, flight.arrival),
        air=_air(flight.arrival_air.pressure_altitude, flight.arrival_air.density_altitude),
        go_around=go_around_of("as planned", flight.go_around, printing),
        go_around_flaps_up=go_around_of("flaps up", flight.go_around_flaps_up, printing),
        can_go_around=use.end.go_around,
        aim=None if flight.touchdown is None else _as_set("aim point", flight.touchdown.aim_ft, printing),
        sketch=_landing_sketch(trip, flight),
        side=approach_view(trip, use, flight.planned, flight.touchdown, flight.arrival.have.begins_ft),
    )


def recheck_rows(trip: Trip, flight: Flight) -> tuple[RecheckRow, ...]:
    """Return the re-check grid, each need with the state that it would have against the LDA."""
    lda, rules, printing = flight.arrival.have.lda, trip.policy or NO_POLICY, _printing(trip)
    least = printing.up(rules.landing_margin_ft)
    rows: dict[tuple[str, str], list[tuple[float, float | None, State]]] = {}
    for cell in flight.recheck:
        need, policy_need = cell.landing.need.value, cell.landing.policy_need.value
        cells = rows.setdefault((cell.surface, cell.case), [])
        if need is None or policy_need is None or lda.value is None:
            cells.append((cell.along_kt, None, State.NOT_SHOWN))
            continue
        printed, have = printing.up(need), printing.down(lda.value)
        state = state_of(printed, printing.up(policy_need), have, least, trip.policy)
        cells.append((cell.along_kt, printed, state))
    return tuple(
        RecheckRow(surface, case, printing.length, tuple(cells)) for (surface, case), cells in rows.items()
    )


def no_recheck(flight: Flight) -> str:
    """Return why there is no re-check grid; '' where there is one."""
    return flight.arrival.reason if isinstance(flight.arrival, NoAir) else ""


def _printing(trip: Trip) -> Printing:
    return (trip.policy or NO_POLICY).printing


def _speed(label: str, figure: Figure) -> Reading:
    return reading(label, figure, step=1, upward=True)


def _air(pressure: Figure, density: Figure) -> tuple[Reading, ...]:
    return (
        reading("pressure altitude", pressure, step=10, upward=True),
        reading("density altitude", density, step=10, upward=True),
    )


def setting_of(use: Use, slope: float, weight_lb: float, flaps: str, printing: Printing) -> tuple[str, ...]:
    """Return what the page is worked for, in a pilot's words; the ground and the slope come last."""
    conditions = use.conditions
    air: tuple[str, ...] = ("conditions not given",)
    if isinstance(conditions, Conditions):
        air = (
            f"{conditions.temperature_degC:.0f} °C",
            f"altimeter {printing.altimeter(conditions.altimeter_hPa)}",
            f"wind {conditions.wind.text}",
        )
    return (
        f"{printing.said(printing.up(weight_lb, 'lb'), 'lb')}, flaps {flaps}",
        *air,
        use.ground,
        "level" if not slope else f"slope {abs(slope) * 100:.1f} % {'up' if slope > 0 else 'down'}",
    )


def go_around_of(label: str, worked: GoAround, printing: Printing) -> Point:
    """Return a go-around point as it is said."""
    mark, window_ft, zone_ft = worked.mark, worked.window_ft, worked.zone_ft
    return Point(
        label=label,
        at=_point_at(label, worked.point, printing),
        mark=mark.name if mark else "no mark",
        mark_at=along(mark.name, mark.from_threshold_ft, printing) if mark else None,
        window=None if window_ft is None else along("from the aim point", window_ft, printing),
        zone=None if zone_ft is None else _as_set("touchdown zone", zone_ft, printing),
        climb_out=worked.climb_out,
        climb=None if worked.climb is None else climb_readings(worked.climb),
    )


def _marks(seen: Iterable[Seen]) -> list[Place]:
    return [Place("mark", mark.name, mark.from_start_ft, mark.number) for mark in seen]


def _takeoff_sketch(trip: Trip, flight: Flight) -> Sketch:
    use, takeoff, printing = trip.departure.use, flight.takeoff, _printing(trip)
    places, spans, words = _marks(flight.takeoff_marks), [], []
    if takeoff.roll.value is not None:
        roll = up(takeoff.roll.value, 5)
        spans.append(Span("takeoff roll", "ground roll", 0, roll))
        rolled = printing.up(takeoff.roll.value)
        words.append(f"ground roll {printing.said(rolled)}")
        if takeoff.total.value is not None:
            total, reached = up(takeoff.total.value, 5), printing.up(takeoff.total.value)
            spans.append(Span("takeoff air", "to 50 ft", roll, total))
            places += [
                Place("takeoff need", f"liftoff {rolled:,.0f}", roll),
                Place("takeoff need", f"50 ft at {reached:,.0f}", total),
            ]
            words.append(f"50 ft reached at {printing.said(reached)}")
    if flight.abort.point.value is not None:
        at = printing.down(flight.abort.point.value)
        places.append(Place("abort", f"abort point {at:,.0f}", down(flight.abort.point.value, 5)))
        words.append(f"abort point {printing.said(at)}")
    tora = flight.departure.have.tora
    return _sketch(use, f"Takeoff, {use.name}", places, spans, tora.value, words, printing)


def _landing_sketch(trip: Trip, flight: Flight) -> Sketch:
    use, printing = trip.arrival.use, _printing(trip)
    threshold = use.end.displaced_ft
    lda = flight.arrival.have.lda
    shift = flight.arrival.have.begins_ft
    places, spans, words = _marks(flight.landing_marks), [], []
    if threshold:
        places.append(Place("threshold", "threshold", threshold))
    for case, kind in ((flight.planned, "planned"), (flight.flaps_up, "flaps-up")):
        rolled, needed, said = _stop(case, kind, threshold + shift, printing)
        spans += rolled
        places += needed
        words += said
    if flight.touchdown is not None:
        places.append(Place("aim", "aim", threshold + shift + flight.touchdown.aim_ft))
    point = flight.go_around.point
    if point.value is not None:
        at = printing.down(point.value)
        places.append(Place("go-around", f"go-around point {at:,.0f}", threshold + down(point.value, 5)))
        words.append(f"go-around point {printing.said(at)} past the threshold")
    end_ft = None if lda.value is None else threshold + shift + lda.value
    return _sketch(use, f"Landing, {use.name}", places, spans, end_ft, words, printing, threshold)


def _stop(
    case: Landing, kind: str, from_ft: float, printing: Printing
) -> tuple[list[Span], list[Place], list[str]]:
    """Return one case along the strip: touchdown allowance, roll from there, and where the whole need ends."""
    if case.need.value is None or case.roll.value is None or case.allowance.value is None:
        return [], [], []
    down_ft = from_ft + up(case.allowance.value, 5)
    need_ft, need = up(case.need.value, 5), printing.up(case.need.value)
    spans = [
        Span(f"{kind} allowance", "to touchdown", from_ft, down_ft),
        Span(f"{kind} roll", "ground roll", down_ft, from_ft + up(case.allowance.value + case.roll.value, 5)),
    ]
    about = "about " if case.need.estimate else ""
    return (
        spans,
        [Place(f"{kind} need", f"{case.name} {about}{need:,.0f}", from_ft + need_ft)],
        [f"{case.name}: needs {printing.said(need)}"],
    )


def _sketch(
    use: Use,
    title: str,
    places: list[Place],
    spans: list[Span],
    end_ft: float | None,
    words: list[str],
    printing: Printing,
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
        text="; ".join([f"{title}, {printing.said(printing.down(use.runway.length_ft))}", *words]),
        origin_ft=origin_ft,
        unit=printing.length,
        ft_per_unit=printing.forms["ft"].inside_per_unit,
    )

"""The working: every figure of a flight with its steps, in sections; each table's conditions beside the plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from briefgen.alternate_page import weight_figure
from briefgen.calc.climb_out import Climb
from briefgen.calc.flight import Ending, Flight
from briefgen.calc.fuel import Journey
from briefgen.calc.fuel_stop import Stop
from briefgen.calc.landing import Landing
from briefgen.calc.legs import LegWorked
from briefgen.calc.speeds_card import SpeedsCard
from briefgen.daylight_page import daylight_figures
from briefgen.figures import Figure
from briefgen.handbook.charts import Chart
from briefgen.handbook.table import CHECKED
from briefgen.item import Item, stamped
from briefgen.items import over_obstacles
from briefgen.model.policy import NO_POLICY
from briefgen.model.trip import Trip, Use
from briefgen.model.weather import NotGiven
from briefgen.printing import Printing
from briefgen.table_picture import TablePicture, table_picture
from briefgen.weather_page import weather_workings

NO_FIGURES = "The handbook has no figures for this setting: the flaps-up distance and speed, as worked above."


@dataclass(frozen=True, slots=True)
class Compared:
    """A table's own conditions beside the technique that is planned."""

    title: str
    page: str
    rows: tuple[tuple[str, str, str], ...]  # what, table, planned
    picture: TablePicture | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the working: figures that belong together."""

    title: str
    figures: tuple[Figure, ...]
    remark: str = ""


def sections(trip: Trip, flight: Flight, items: tuple[Item, ...], *, night: bool | None) -> tuple[Section, ...]:
    """Return the working of a flight, in the order of the sheet; `night`: the weather of the night is asked for."""
    printing = (trip.policy or NO_POLICY).printing
    over = [row for row, _ in over_obstacles(trip, flight)]
    records = (Section("Who typed and who checked", (), each.words) for each in trip.aircraft.provenance)
    return (
        *records,
        *_legs(flight, items, over, printing),
        *_instead(trip, flight.alternate, items, printing),
        *(Section(*each) for each in weather_workings(trip, flight.journey.evening, night=night)),
    )


def checked_cells(sections: tuple[Section, ...]) -> tuple[str, ...]:
    """Return each page with a cell that looks wrong and was used, once for each reason that it was."""
    steps = (step for section in sections for figure in section.figures for step in figure.steps)
    found = {(step.source.text, why): None for step in steps for why in step.detail.split(CHECKED)[1:]}
    return tuple(f"{page}: a cell that looks wrong is used as it stands, checked: {why}" for page, why in found)


def compared(trip: Trip, flight: Flight) -> tuple[Compared, ...]:
    """Return the conditions of each table used, beside what is planned."""
    pairs: list[tuple[str, Chart | None, str, str, Use]] = [
        ("Takeoff", flight.takeoff.chart, trip.departure.technique, trip.departure.flaps, trip.departure.use),
        ("Landing", flight.planned.chart, trip.arrival.technique, trip.arrival.flaps, trip.arrival.use),
    ]
    if trip.alternate and flight.alternate:
        home, chart = trip.alternate, flight.alternate.planned.chart
        pairs.append(("Landing, alternate", chart, home.technique, home.flaps, home.use))
    pictured = {
        "Takeoff": (flight.departure, trip.departure.weight_lb),
        "Landing": (flight.arrival, trip.arrival.weight_lb),
    }
    found = []
    for title, chart, technique, flaps, use in pairs:
        conditions = use.conditions
        if chart is None or isinstance(conditions, NotGiven):
            continue
        table = chart.conditions
        rows = [
            ("technique", table.technique, technique),
            ("flaps", chart.flaps, flaps),
            ("power", table.power, "by the technique"),
            ("surface", table.surface, use.ground),
            ("wind", table.wind or "not stated", conditions.wind.text),
            ("braking", table.braking or "not stated", "by the technique"),
            ("already factored", table.factor_words, ""),
        ]
        worse = bool(trip.policy and trip.policy.nearest_worse)
        picture = table_picture(chart, *pictured[title], nearest_worse=worse) if title in pictured else None
        found.append(Compared(title, chart.page, tuple(rows), picture))
    return tuple(found)


def _legs(flight: Flight, items: tuple[Item, ...], over: list[Item], printing: Printing) -> tuple[Section, ...]:
    """Return the working of takeoff, landing, way and card, in the order of the sheet; each figure once."""
    takeoff, planned, up = flight.takeoff, flight.planned, flight.flaps_up
    by_id = {item.id: item for item in items}

    def point(figure: Figure) -> Figure:
        return stamped(figure, printing, upward=False)

    def allowance(figure: Figure) -> Figure:
        return stamped(figure, printing, upward=True)

    def need_of(id: str) -> tuple[Figure, ...]:
        return by_id[id].working

    sections = [
        Section("Air at the departure", tuple(flight.departure_air)),
        Section("Takeoff speeds", (takeoff.liftoff, takeoff.at_50_ft)),
        Section("Takeoff ground roll", need_of("takeoff-roll")),
        Section("Takeoff over 50 ft", need_of("takeoff-50")),
        *_climbs(flight, over),
        Section("Abort point", (point(flight.abort.point), flight.abort.speed, flight.abort.stopping)),
        Section("Land back at the departure, at takeoff weight", need_of("landing-back")),
        Section("Air at the destination", tuple(flight.arrival_air)),
        Section("Approach speeds", (planned.approach, up.approach)),
        Section(
            "Landing as planned", (allowance(planned.allowance), *need_of("landing"), point(flight.go_around.point))
        ),
        Section(
            "Landing, flaps up",
            (
                allowance(up.allowance),
                *_lacking(up),
                *need_of("landing-flaps-up"),
                point(flight.go_around_flaps_up.point),
            ),
        ),
    ]
    partial = by_id.get("landing-partial")
    if partial and flight.partial and flight.partial.need is up.need:
        sections.append(Section(partial.title, (), NO_FIGURES))
    elif partial:
        sections.append(Section(partial.title, need_of("landing-partial")))
    crosswinds = (by_id["takeoff-crosswind"], by_id["landing-crosswind"])
    sections.append(Section("Crosswind", tuple(f for row in crosswinds for f in (row.figures[0], row.figures[2]))))
    weights = (by_id["takeoff-weight"], by_id["landing-weight"])
    sections.append(Section("Weights", tuple(f for row in weights for f in (row.figures[0], row.figures[2]))))
    return (*sections, *_way(flight, by_id, printing), *_light(flight.journey), *_card(flight.speeds))


def _climbs(flight: Flight, over: list[Item]) -> tuple[Section, ...]:
    """Return the working of the climbs: after takeoff, over each obstacle, after a go-around."""
    first, flaps = _climb_section("Climb after takeoff", flight.climb), flight.takeoff.flaps
    if flight.climb.flaps != flaps:
        moved = (
            f"Flaps {flight.climb.flaps} from 50\u00a0ft on by the trip file: an assumption, which no page prints."
        )
        first = replace(first, remark=f"{moved} {first.remark}".strip())
    sections = [first, *(Section(row.title, row.working) for row in over[:1])]
    for row in over[1:]:  # worked in the same way, and with more room: their last steps
        last = tuple(figure._replace(steps=figure.steps[-1:]) for figure in row.working)
        sections.append(Section(row.title, last, "Worked as the one above, which has less room."))
    for point in (flight.go_around, flight.go_around_flaps_up):
        if point.climb:
            sections.append(_climb_section(f"Climb after the {point.point.label}", point.climb))
    return tuple(sections)


def _climb_section(title: str, climb: Climb) -> Section:
    if climb.rate.value is None:
        return Section(title, (climb.rate,))
    technique = f"The table's own: {climb.technique}." if climb.technique else ""
    return Section(title, (climb.rate, climb.speed, climb.gradient), technique)


def _way(flight: Flight, items: Mapping[str, Item], printing: Printing) -> tuple[Section, ...]:
    """Return the working of each leg, of the fuel, and of the fuel stop; `items` by their ids."""
    sections, number = [], 1
    navigation = flight.journey.navigation
    for each in navigation.legs if navigation else ():
        title = f"Leg {number}, to {each.leg.to}" + (", climb" if each.climb else "")
        sections.append(_leg(title, each))
        number += not each.tops
    if navigation and navigation.alternate:
        sections.append(_leg(f"Then, to the alternate, {navigation.alternate.leg.to}", navigation.alternate))
    plan = flight.journey.fuel
    more = (plan.least_burn, plan.most_burn, plan.past_reserve, plan.endurance, plan.down_by)
    fuel = Section("Fuel", (*items["fuel"].working, *(figure for figure in more if figure)))
    return (*sections, fuel, *(_stop(flight.stop, items["fuel-stop"], printing) if flight.stop else ()))


def _leg(title: str, leg: LegWorked) -> Section:
    taken, flown = (leg.time, leg.fuel), (leg.distance, leg.heading, leg.compass, leg.ground_speed)
    by_table = (leg.airspeed, leg.flow) if leg.leg.power else ()
    figures = (*taken, leg.airspeed, *flown) if leg.climb else (*by_table, *flown, *taken)
    remark = f"Flown as the page says: {leg.technique}." if leg.technique else ""
    return Section(title, tuple(figure for figure in figures if figure), remark)


def _stop(stop: Stop, row: Item, printing: Printing) -> Iterator[Section]:
    if stop.way:
        yield _leg(f"From {stop.at}, to {stop.to} for fuel", stop.way)

    def need(figure: Figure) -> Figure:
        return stamped(figure, printing, upward=True)

    first = need(stop.land)
    second = first if stop.policy_land is stop.land else need(stop.policy_land)
    land = row._replace(figures=(first, second, stamped(stop.left, printing, upward=False)))
    first = need(stop.continue_need)
    second = first if stop.policy_continue_need is stop.continue_need else need(stop.policy_continue_need)
    row = row._replace(figures=(first, second, stamped(stop.planned, printing, upward=False)))
    yield Section(f"Fuel stop, decided at {stop.at}", (*row.working, stop.reached, stop.by, *land.working))


def _light(journey: Journey) -> tuple[Section, ...]:
    """Return the working of the daylight; none where there is no takeoff time."""
    light = journey.evening
    return (Section("Daylight", (light.need, light.have, *daylight_figures(light))),) if light else ()


def _instead(trip: Trip, ended: Ending | None, items: tuple[Item, ...], printing: Printing) -> tuple[Section, ...]:
    """Return the working of the landing at the alternate; none where no alternate is given."""
    home = trip.alternate
    if home is None or ended is None:
        return ()
    planned, up, have = ended.planned, ended.flaps_up, ended.there.have.lda
    row = next(each for each in items if each.id == "landing-alternate")

    def worked(case: Landing) -> tuple[Figure, ...]:
        needs = (stamped(case.need, printing, upward=True), stamped(case.policy_need, printing, upward=True))
        return row._replace(figures=(*needs, stamped(have, printing, upward=False))).working

    def both(case: Landing, point: Figure) -> tuple[Figure, ...]:
        allowance = stamped(case.allowance, printing, upward=True)
        return allowance, *worked(case), stamped(point, printing, upward=False)

    weight = stamped(weight_figure(home, trip.arrival.weight_lb), printing, upward=True)
    return (
        Section("Air at the alternate", tuple(ended.air)),
        Section("Approach speeds, alternate", (planned.approach, up.approach)),
        Section("Landing, alternate", (weight, *both(planned, ended.go_around.point))),
        Section(
            "Landing, alternate, flaps up",
            (*_lacking(up), *both(up, ended.go_around_flaps_up.point)),
        ),
        *_partly(ended, worked),
    )


def _partly(ended: Ending, worked: Callable[[Landing], tuple[Figure, ...]]) -> tuple[Section, ...]:
    """Return the working of the partial-flap case at the alternate, where one is worked."""
    partial = ended.partial
    if partial is None:
        return ()
    title = f"Landing, alternate, flaps {partial.flaps}"
    if partial.need is ended.flaps_up.need:
        return (Section(title, (), NO_FIGURES),)
    return (Section(title, worked(partial)),)


def _card(card: SpeedsCard) -> tuple[Section, ...]:
    """Return the working of what only the speeds card prints; how its tables are worked stands below them."""
    glide = card.glide
    return (
        Section(
            "Climb and maneuvering speeds", (card.best_angle, card.best_rate, *(f for _, f in card.maneuvering))
        ),
        Section("Glide", (glide.speed, glide.still, glide.into, glide.downwind)),
        Section("Stall, wings level", tuple(row.figures[0] for row in card.stalls)),
    )


def _lacking(up: Landing) -> tuple[Figure, ...]:
    """Return the distance from 50 ft of a case only where it is missing for a reason that the need does not say."""
    return () if up.total.value is not None or up.total.reason == up.need.reason else (up.total,)

"""Every required item of a trip, row by row: what is needed of which figure, and what there is."""

import re
from collections.abc import Callable, Iterable
from functools import partial as bound

from briefgen.along_page import legs_row
from briefgen.calc.balance import EDGE, OUTSIDE, Checked
from briefgen.calc.flight import Ending, Flight
from briefgen.calc.fuel_stop import Stop
from briefgen.calc.landing import Landing
from briefgen.calc.obstacles import Cleared
from briefgen.calc.occasion import dark
from briefgen.figures import Figure, Source, missing, stated
from briefgen.item import Item, State, in_words, item
from briefgen.light_items import alternate_in_the_dark, daylight_row, takeoff_in_the_dark
from briefgen.model.limit import Limit
from briefgen.model.policy import NO_POLICY, Asked
from briefgen.model.trip import Trip, Use
from briefgen.paper_items import paper_rows
from briefgen.printing import HEIGHTS, Printing
from briefgen.sky_facts import typed_noted
from briefgen.units import up
from briefgen.weather_page import weather_row

CLIMB_OVER = "Climb over "


def required_items(trip: Trip, flight: Flight) -> tuple[Item, ...]:
    """Return every item of a trip, in the order in which it is flown."""
    policy, rules = trip.policy, trip.policy or NO_POLICY
    out, home = trip.departure.use.name, trip.arrival.use.name
    home += ", landing" if home == out else ""
    light = flight.journey.evening
    night = dark(trip.fuel, light)[1]
    sky = bound(weather_row, trip, night=night, light=light)
    take, there, arrive = flight.takeoff, flight.departure.have, flight.arrival.have

    def distance(id: str, title: str, where: str, need: Figure, policy_need: Figure, have: Figure) -> Item:
        minimum = rules.takeoff_margin_ft if id.startswith("takeoff") else rules.landing_margin_ft
        return item(
            id, title, where, need, policy_need, have, policy=policy, minimum=minimum, printing=rules.printing
        )

    def landing(id: str, title: str, case: Landing, where: str = home, have: Figure = arrive.lda) -> Item:
        return distance(id, title, where, case.need, case.policy_need, have)

    rows = [
        _weight(trip, "takeoff", out, trip.departure.weight_lb, trip.aircraft.maximum_takeoff_lb),
        distance("takeoff-roll", "Takeoff ground roll", out, take.roll, take.policy_roll, there.tora),
        distance("takeoff-50", "Takeoff over 50 ft", out, take.total, take.policy_total, there.over_50),
        *(row for row, _ in over_obstacles(trip, flight)[:1]),
        crosswind_row(trip, "takeoff", out, flight.departure_air.across),
        *takeoff_in_the_dark(trip, flight, out),
        sky(trip.departure.use, "departure-weather", out),
        landing("landing-back", "Land back at once", flight.back, out, there.lda),
        *legs_row(trip, night=night, light=light),
        _weight(trip, "landing", home, trip.arrival.weight_lb, trip.aircraft.maximum_landing_lb),
        landing("landing", "Landing as planned", flight.planned),
        landing("landing-flaps-up", "Landing, flaps up", flight.flaps_up),
    ]
    if flight.partial:
        rows.append(landing("landing-partial", f"Landing, flaps {flight.partial.flaps}", flight.partial))
    rows.append(crosswind_row(trip, "landing", home, flight.arrival_air.across))
    rows.append(sky(trip.arrival.use, "arrival-weather", home))
    rows += [_fuel(trip, flight, home), *_fuel_stop(trip, flight, home), daylight_row(trip, flight, home)]
    rows = [*_load_rows(trip, flight), *rows, *_instead(trip, flight, sky), *paper_rows(trip, flight)]
    rows = typed_noted(trip, rows)
    return (*rows, *(_answered(each, trip.answers.get(each.id, "")) for each in rules.asked))


_PLANNED = ("landing", "Landing as planned")


def alternate_rows(trip: Trip, flight: Flight) -> tuple[Item, ...]:
    """Return what is worked of the alternate: the row that every sheet has, and where one is given, more."""
    title, ended = "Landing, alternate", flight.alternate
    if trip.alternate is None or ended is None:
        reason = "the trip file gives no 'alternate'"
        return (in_words("landing-alternate", title, "Alternate", State.NOT_SHOWN, reason, ""),)
    where = trip.alternate.use.name
    where += ", alternate" if where in (trip.departure.use.name, trip.arrival.use.name) else ""
    return ending_rows(trip, ended, where, "alternate", ("landing-alternate", title))


def _instead(trip: Trip, flight: Flight, sky: Callable[[Use, str, str], Item]) -> list[Item]:
    """Return the landing at the alternate, its weather, its light in the dark; crosswind where that is worse."""
    first, *others = alternate_rows(trip, flight)
    rows = [
        first,
        *(row for row in others if row.id == "alternate-crosswind" and row.state.rank > first.state.rank),
        *alternate_in_the_dark(trip, flight, first.where),
    ]
    if trip.alternate:
        rows.append(sky(trip.alternate.use, "alternate-weather", first.where))
    return rows


def ending_rows(
    trip: Trip, ended: Ending, where: str, phase: str = "landing", first: tuple[str, str] = _PLANNED
) -> tuple[Item, ...]:
    """Return the rows of a landing worked anywhere: as planned, flaps up, with partial flaps if given, crosswind.

    Parameters
    ----------
    trip : gives the airplane and the policy.
    ended : the landing.
    where : the runway, as the rows name it.
    phase : what the crosswind's row is called by.
    first : id and title of the landing as planned; the ids of the others begin with it.
    """
    rules, (id, title) = trip.policy or NO_POLICY, first
    cases = [("", title, ended.planned), ("-flaps-up", "Landing, flaps up", ended.flaps_up)]
    if ended.partial:
        cases.append(("-partial", f"Landing, flaps {ended.partial.flaps}", ended.partial))
    rows = [
        item(
            f"{id}{which}",
            said,
            where,
            case.need,
            case.policy_need,
            ended.there.have.lda,
            policy=trip.policy,
            minimum=rules.landing_margin_ft,
            printing=rules.printing,
        )
        for which, said, case in cases
    ]
    return (*rows, crosswind_row(trip, phase, where, ended.air.across))


def over_obstacles(trip: Trip, flight: Flight) -> list[tuple[Item, Cleared]]:
    """Return an item for every obstacle past the departure end that is held against the climb, the worst first."""
    return obstacle_rows(trip, flight.cleared, trip.departure.use.name)


def obstacle_rows(trip: Trip, cleared: Iterable[Cleared], where: str) -> list[tuple[Item, Cleared]]:
    """Return the same for a takeoff worked anywhere; `where` names its runway."""
    rows = [(_over(trip, each, where), each) for each in cleared]
    return sorted(rows, key=lambda pair: _how_bad(*pair))


def _over(trip: Trip, each: Cleared, where: str) -> Item:
    title = f"{CLIMB_OVER}{each.obstacle.what}"
    figures = each.need, each.policy_need, each.have
    row = item("climb-out", title, where, *figures, policy=trip.policy, printing=HEIGHTS)
    return row._replace(ratio=None, height=(trip.policy or NO_POLICY).printing.metric)


def _how_bad(row: Item, each: Cleared) -> tuple[float, float, float, float, str]:
    """Return what rows are put in order by: the worst state first, then the least room, then the nearest."""
    asked = each.need.known if row.policy_need is None else row.policy_need
    room = (row.have or 0.0) - asked  # of those not shown the tallest
    return -row.state.rank, room, row.margin or 0.0, each.at_ft, each.obstacle.what


def _fuel(trip: Trip, flight: Flight, where: str) -> Item:
    fuel, printing = flight.journey.fuel, (trip.policy or NO_POLICY).printing
    return item(
        "fuel", "Fuel", where, fuel.need, fuel.policy_need, fuel.have, policy=trip.policy, printing=printing
    )


def _fuel_stop(trip: Trip, flight: Flight, where: str) -> list[Item]:
    """Return the fuel planned where a fuel stop is decided, against what continuing needs; none without one.

    A stop that takes more than continuing is the need instead. One that is no way out is under policy at best.
    """
    stop, printing = flight.stop, (trip.policy or NO_POLICY).printing
    if stop is None:
        return []
    needs = stop.continue_need, stop.policy_continue_need
    if stop.policy_land.value is not None and stop.policy_land.known > stop.policy_continue_need.known:
        needs = stop.land, stop.policy_land
    row = item("fuel-stop", "Fuel en route", where, *needs, stop.planned, policy=trip.policy, printing=printing)
    if no_way_out(stop, printing):
        row = row._replace(state=max(row.state, State.UNDER, key=lambda each: each.rank))
    return [row]


def no_way_out(stop: Stop, printing: Printing) -> bool:
    """Say whether a fuel stop is none to turn to, by the printed fuel of the standard in force.

    Its way could not be worked, or landing there asks for more than continuing does or than is planned: whoever
    turned to it for want of fuel would land on the reserve, or not reach it. False where no fuel is worked at all.
    """
    going_on, land, planned = stop.policy_continue_need, stop.policy_land, stop.planned
    if going_on.value is None:
        return False
    if land.value is None:
        return True
    asked = printing.up(land.value, "gal")
    short = planned.value is not None and printing.down(planned.value, "gal") < asked
    return short or asked > printing.up(going_on.value, "gal")


_DENIED = re.compile(r"(?:no|not|none yet)\b", re.IGNORECASE)  # 'no', 'not yet', 'not dipped'


def _answered(asked: Asked, answer: str) -> Item:
    """Return an item that the policy asks for: 'meets policy' where the trip file answers it, else 'not shown'.

    An answer that begins with 'no' or 'not' is an answer, but not what was asked for: 'under policy'.
    """
    reason = "" if answer else f"asked for by {asked.source.text}; answer it in the trip file, answers: {asked.id}"
    state = State.MEETS if answer else State.NOT_SHOWN
    if _DENIED.match(answer):
        state = State.UNDER
    return in_words(asked.id, asked.title, "Asked for by the policy", state, reason, answer)


def _load_rows(trip: Trip, flight: Flight) -> list[Item]:
    """Return the balance: the point of the flight that is nearest to a limit, or furthest outside."""
    where, title, worked, limits = "Load", "Balance", flight.balance, trip.aircraft.balance
    if worked is None or limits is None:
        reason = "the aircraft file has no 'balance'" if limits is None else "the trip file gives no 'load'"
        return [in_words("balance", title, where, State.NOT_SHOWN, reason, "")]
    state = State.SHORT if not worked.inside else State.MEETS if trip.policy else State.UNDER
    return [in_words("balance", title, where, state, "", balance_said(worked.worst))]


def balance_said(checked: Checked) -> str:
    """Return where a point of the flight balances, in words, to the nearest hundredth; it is compared unrounded."""
    mass, place = checked.mass, checked.place
    if place.forward_in is None or place.aft_in is None:
        by = f"{up(place.over_lb):,.0f} lb over" if place.over_lb else f"{up(place.under_lb):,.0f} lb under"
        return f"{by} the envelope ({mass.name})"
    inside = "outside" if place.where == OUTSIDE else "on the line of" if place.where == EDGE else "within"
    limits = f"{place.forward_in:.2f} to {place.aft_in:.2f}"
    return f"{mass.arm_in:.2f} in, {inside} {limits} ({mass.name})".replace("-", "−")


def _of_category(trip: Trip, maximum: Limit) -> Limit:
    """Return a maximum weight, or the heaviest of the category's envelope where that is less."""
    limits, load = trip.aircraft.balance, trip.load
    if limits is None or load is None:
        return maximum
    envelope = next(each for each in limits.envelopes if each.category == load.category)
    top_lb = max(weight for weight, _ in envelope.points)
    if top_lb >= maximum.value:
        return maximum
    return Limit(top_lb, f"{envelope.category} category, {envelope.page}")


def _weight(trip: Trip, phase: str, where: str, weight_lb: float, maximum: Limit) -> Item:
    label, source = f"{phase} weight", "trip file"
    if trip.load:
        source = "the load, or the trip file where that gives more"
    maximum = _of_category(trip, maximum)
    need = stated(label, "lb", weight_lb, source, Source(source, "pilot"))
    have = stated(f"maximum {label}", "lb", maximum.value, "printed", Source(maximum.page))
    return item(
        f"{phase}-weight",
        f"{phase.capitalize()} weight",
        where,
        need,
        need,
        have,
        policy=trip.policy,
        printing=(trip.policy or NO_POLICY).printing,
    )


def crosswind_row(trip: Trip, phase: str, where: str, across: Figure) -> Item:
    """Return the crosswind item: short over a limitation or a policy's maximum, never over a demonstrated value."""
    label, aircraft, policy = f"crosswind, {phase}", trip.aircraft, trip.policy
    detail = "gust across the runway, worst case"
    need = missing(label, "kt", across.reason)
    if across.value is not None:
        by = Source("wind of the trip file, resolved", "standard")
        need = stated(label, "kt", across.value, detail, by)
    limits: list[tuple[float, Source]] = []
    if aircraft.crosswind_limit_kt:
        limits.append(
            (aircraft.crosswind_limit_kt.value, Source(f"limitation, {aircraft.crosswind_limit_kt.page}"))
        )
    if policy and policy.crosswind_maximum_kt is not None:
        by = policy.by("crosswind_maximum_kt")
        limits.append((policy.crosswind_maximum_kt, by._replace(text=f"maximum of {by.text}")))
    shown = aircraft.demonstrated_crosswind_kt
    if not limits and shown is None:
        have = missing("crosswind limit", "kt", "neither the handbook nor the policy gives a crosswind figure")
    else:
        value, source = min(limits) if limits else (shown.value, Source(f"demonstrated, {shown.page}"))  # type: ignore[union-attr]
        have = stated("crosswind limit", "kt", value, source.text, source, step="least of what is set")
    row = item(f"{phase}-crosswind", "Crosswind", where, need, need, have, policy=policy)
    if not limits and row.state is State.SHORT:
        return row._replace(state=State.UNDER)
    return row

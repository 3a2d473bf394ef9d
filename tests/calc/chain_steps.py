"""What the three chains read from the program: every step of a worked trip, under the ids of the sheets."""

from __future__ import annotations

from pathlib import Path

from briefgen import pipeline
from briefgen.brief import Brief
from briefgen.calc.flight import Flight, fly
from briefgen.figures import Figure
from briefgen.files.read_trip import read_trip
from briefgen.item import Item
from briefgen.model.trip import Trip


class Worked:
    """One trip file, read through the real loader and worked, with short ways to what the sheets compare."""

    def __init__(self, path: Path) -> None:
        self.trip: Trip = read_trip(path, path.name)[0]
        self.flight: Flight = fly(self.trip)
        self.brief: Brief = pipeline.work(self.trip)
        self.items: dict[str, Item] = {item.id: item for item in self.brief.items}

    def state(self, id: str) -> str:
        """The state of an item, in the sheet's words."""
        return self.items[id].state.value


def after(figure: Figure, quantity: str, label: str) -> float:
    """Return the value of a quantity after the one step whose label begins as given."""
    found = [step.after for step in figure.steps if step.quantity == quantity and step.label.startswith(label)]
    assert len(found) == 1, f"{len(found)} steps '{label}' of {quantity} in {figure.label}"
    return found[0]


def ratio(figure: Figure, quantity: str) -> float:
    """Return what the step for the approach speed multiplied a distance by."""
    (step,) = [s for s in figure.steps if s.quantity == quantity and s.label.startswith("approach speed above")]
    assert step.before
    return step.after / step.before


def common(work: Worked) -> dict[str, object]:
    """Return what every sheet has: the planned landing, the go-around, the abort point, and landing back."""
    flight, items, page = work.flight, work.items, work.brief
    planned, up, back, takeoff, abort = flight.planned, flight.flaps_up, flight.back, flight.takeoff, flight.abort
    point, mark = flight.go_around, flight.go_around.mark
    assert mark is not None
    assert abort.mark is not None
    return {
        "PA out": flight.departure.pressure_altitude_ft,
        "PA home": flight.arrival.pressure_altitude_ft,
        "correction": flight.arrival.pressure_altitude_ft - work.trip.arrival.use.strip.elevation_ft,
        "sigma out": flight.departure.density_ratio,
        "sigma home": flight.arrival.density_ratio,
        "crosswind out": flight.departure.wind.crosswind_kt,
        "crosswind home": flight.arrival.wind.crosswind_kt,
        "headwind home": flight.arrival.wind.headwind_kt,
        "takeoff table roll": after(takeoff.roll, "roll", "ground roll"),
        "takeoff table total": after(takeoff.total, "total", "distance over 50 ft"),
        "takeoff roll": takeoff.roll.known,
        "takeoff total": takeoff.total.known,
        "takeoff policy roll": takeoff.policy_roll.known,
        "takeoff policy total": takeoff.policy_total.known,
        "have to 50 ft": flight.departure.have.over_50.known,
        "takeoff total printed": items["takeoff-50"].need,
        "takeoff total margin": items["takeoff-50"].margin,
        "takeoff state": work.state("takeoff-50"),
        "liftoff": takeoff.liftoff.known,
        "latest liftoff": abort.latest_liftoff.known,
        "last stop": abort.stopping.known,
        "abort": abort.point.known,
        "abort speed": abort.speed.known,
        "abort mark": abort.mark.name,
        "table roll": after(planned.roll, "roll", "ground roll"),
        "table total": after(planned.total, "total", "distance over 50 ft"),
        "approach": planned.approach.known,
        "speed ratio": ratio(planned.roll, "roll"),
        "roll": planned.roll.known,
        "total": planned.total.known,
        "allowance": planned.allowance.known,
        "need": planned.need.known,
        "policy need": planned.policy_need.known,
        "LDA": flight.arrival.have.lda.known,
        "need printed": items["landing"].need,
        "margin": items["landing"].margin,
        "state": work.state("landing"),
        "up approach": up.approach.known,
        "up speed ratio": ratio(up.roll, "roll"),
        "up roll": up.roll.known,
        "up need": up.need.known,
        "up policy need": up.policy_need.known,
        "up margin": items["landing-flaps-up"].margin,
        "up state": work.state("landing-flaps-up"),
        "leaves the roll": point.point.steps[0].after,
        "go-around": point.point.known,
        "go-around mark": mark.name,
        "window": page.landing.go_around.window.value if page.landing.go_around.window else None,
        "go-around up": flight.go_around_flaps_up.point.value or flight.go_around_flaps_up.point.reason,
        "back table roll": after(back.roll, "roll", "ground roll"),
        "back table total": after(back.total, "total", "distance over 50 ft"),
        "back approach": back.approach.known,
        "back speed ratio": ratio(back.roll, "roll"),
        "back roll": back.roll.known,
        "back need": back.need.known,
        "back policy need": back.policy_need.known,
        "back state": work.state("landing-back"),
    }

"""The words of the facts that a caution prints in another unit than their names end in.

Rules ask about facts in ft and lb. A caution's text prints them in the policy's unit, as the sheet prints them
elsewhere: worked anew from the unrounded figure, so that a need is the same number in its row and in the text.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from briefgen.alternate_page import alternate_lengths
from briefgen.calc.decision import GoAround
from briefgen.calc.flight import Flight
from briefgen.calc.landing import Landing
from briefgen.fact import DOWN, UP
from briefgen.fact_list import FACTS
from briefgen.facts import flat
from briefgen.figures import Figure
from briefgen.printing import Printing
from briefgen.units import up


def said(facts: Mapping[str, Any], flight: Flight, printing: Printing) -> Mapping[str, str]:
    """Return the words of each fact in ft along the ground or in lb, by its path; none where it needs none."""
    if not printing.metric:
        return MappingProxyType({})
    known, exact = flat(facts), lengths(flight, printing)
    words: dict[str, str] = {}
    for path, fact in FACTS.items():
        if fact.rounds in (UP, DOWN) and known[path] is not None:
            inside = path.rpartition("_")[2]
            rounded = printing.up if fact.rounds == UP else printing.down
            value = exact.get(path)
            words[path] = printing.said(rounded(known[path], inside) if value is None else value, inside)
    return MappingProxyType(words)


def lengths(flight: Flight, printing: Printing) -> dict[str, float | None]:
    """Return the facts that stand elsewhere on the sheet too, by their paths, rounded as they are printed there."""
    planned, flaps_up = flight.planned, flight.flaps_up
    found = {
        "takeoff.roll_ft": _up(flight.takeoff.roll, printing),
        "takeoff.over_50_ft": _up(flight.takeoff.total, printing),
        "takeoff.abort_ft": _down(flight.abort.point, printing),
        "landing.flaps_up.increase_ft": _more(_up(flaps_up.need, printing), _up(planned.need, printing)),
        "takeoff.calm_over_50_ft": _up(flight.calm_takeoff.total, printing) if flight.calm_takeoff else None,
        "landing.calm_need_ft": _up(flight.calm_landing.need, printing) if flight.calm_landing else None,
        "landing.available_ft": _down(flight.arrival.have.lda, printing),
        "gusts.cost_ft": None if planned.speed_cost_ft is None else printing.up(planned.speed_cost_ft),
    }
    found |= alternate_lengths(
        flight.alternate, lambda each: _up(each, printing), lambda each: _down(each, printing)
    )
    for place, there in (("departure", flight.departure.have), ("arrival", flight.arrival.have)):
        found[f"{place}.displaced_ft"] = printing.up(there.displaced_ft)
        found[f"{place}.obstacle_shift_ft"] = printing.up(there.begins_ft)
    for name, case, point in (
        ("planned", planned, flight.go_around),
        ("flaps_up", flaps_up, flight.go_around_flaps_up),
    ):
        found |= {f"landing.{name}.{key}": value for key, value in _landing(case, point, printing).items()}
    return found


def _landing(case: Landing, point: GoAround, printing: Printing) -> dict[str, float | None]:
    window = None if point.window_ft is None else printing.down(point.window_ft)
    return {
        "need_ft": _up(case.need, printing),
        "from_50_ft": _up(case.total, printing),
        "roll_ft": _up(case.roll, printing),
        "allowance_ft": _up(case.allowance, printing),
        "go_around_ft": _down(point.point, printing),
        "window_ft": window,
        "zone_ft": None if point.zone_ft is None else printing.down(point.zone_ft),
        "window_short_ft": _short(point.zone_ft, window, printing),
    }


def _short(zone_ft: float | None, window: float | None, printing: Printing) -> float | None:
    """Return by how much the printed window is narrower than the pilot's own zone, 0 where it is not."""
    if zone_ft is None or window is None:
        return None
    return max(0.0, up(printing.exact(zone_ft) - window, printing.forms["ft"].step))


def _more(larger: float | None, smaller: float | None) -> float | None:
    return None if larger is None or smaller is None else larger - smaller


def _up(figure: Figure, printing: Printing) -> float | None:
    return None if figure.value is None else printing.up(figure.value)


def _down(figure: Figure, printing: Printing) -> float | None:
    return None if figure.value is None else printing.down(figure.value)

"""Read the weight and balance of an aircraft file."""

from __future__ import annotations

from itertools import pairwise
from math import isfinite

from briefgen import units
from briefgen.calc.balance import crosses_itself, stretches
from briefgen.files.entry import Entry
from briefgen.files.read_notes import page_source
from briefgen.model.limit import Limit
from briefgen.model.load import Balance, Envelope, Lever, Station, Tank

_ARMS_IN = (-400.0, 400.0)  # plausible for an airplane of up to 12,500 lb
_MOMENTS_LB_IN = (-5e6, 5e6)


def read_balance(entry: Entry, title: str) -> Balance | None:
    """Return the weight and balance of an airplane; None, with the faults noted, where it cannot be read."""
    faults, before = entry.faults, len(entry.faults.problems)
    empty, datum = entry["empty"], entry.get("datum")
    behind = datum is not None and datum.get("all_behind") is not None and datum["all_behind"].value is True
    stations = faults.parts(entry.items("stations"), lambda each: _station(each, title, behind))
    tanks = faults.parts(entry.items("tanks"), lambda each: _tank(each, title, behind))
    envelopes = faults.parts(entry.items("envelopes"), lambda each: _envelope(each, title))
    for key in ("stations", "tanks", "envelopes"):
        _once_each(entry.items(key), "category" if key == "envelopes" else "name")
    weight_lb = empty["weight"].quantity("weight", 300, 12_500)
    turned = _moment(empty, weight_lb, behind)
    density = entry.optional("fuel_density", "fuel density", 5, 8)
    limits = {
        key: faults.part(entry.get(key), lambda each: _limit(each, title))
        for key in ("maximum_ramp", "maximum_zero_fuel")
    }
    if len(faults.problems) > before or faults.touch(entry.place):
        return None
    return Balance(
        empty_lb=weight_lb,
        empty_lb_in=turned,
        weighed=empty.text("weighed"),
        empty_page=f"{empty.text('page')}, {empty.text('weighed')}",
        stations=stations,
        tanks=tanks,
        envelopes=envelopes,
        fuel_lb_per_gal=density or Balance._field_defaults["fuel_lb_per_gal"],
        maximum_ramp_lb=limits["maximum_ramp"],
        maximum_zero_fuel_lb=limits["maximum_zero_fuel"],
        datum=datum.text("at") if datum else "",
    )


def _limit(entry: Entry, title: str) -> Limit:
    return Limit(entry["value"].quantity("weight", 300, 12_500), page_source(title, entry.text("page")).text)


def _moment(empty: Entry, weight_lb: float, behind: bool) -> float:
    """Return the moment of the empty airplane, from its arm where that is given."""
    if empty.get("arm"):
        return weight_lb * _arm(empty["arm"], behind)
    return empty["moment"].quantity("moment", *_MOMENTS_LB_IN)


def _arm(entry: Entry, behind: bool) -> float:
    """Return an arm [in]; a fault where it is negative and nothing can be ahead of the datum."""
    arm_in = entry.quantity("arm", *_ARMS_IN)
    if behind and arm_in < 0:
        entry.fault(
            f"an arm of {entry.value} is ahead of the datum, and nothing can be", "take the minus sign away"
        )
    return arm_in


def _lever(entry: Entry, behind: bool) -> Lever:
    if entry.get("arm"):
        return Lever(arm_in=_arm(entry["arm"], behind))
    rows = [row.each() for row in entry["moments"].each()]
    table = tuple((w.quantity("weight", 0, 12_500), m.quantity("moment", *_MOMENTS_LB_IN)) for w, m in rows)
    if table[0] != (0.0, 0.0):
        entry["moments"].fault("the table of moments does not begin with nil", "add [0 lb, 0 lb-in] before it")
    for (before, _), (weight, _), row in zip(table, table[1:], rows[1:], strict=False):
        if weight <= before:
            row[0].fault("the weights of a table of moments must rise from row to row", "look at both rows")
    _one_way(table, rows)
    return Lever(table=table)


def _one_way(table: tuple[tuple[float, float], ...], rows: list[list[Entry]]) -> None:
    """Note a moment that turns back as the weights rise: nothing that is loaded further moves the other way."""
    ahead = table[-1][1] < 0
    for (lighter, before), (weight, moment), row in zip(table, table[1:], rows[1:], strict=False):
        if weight > lighter and ((moment > before) if ahead else (moment < before)):
            message = f"the moment {row[1].value} stands after a {'smaller' if ahead else 'larger'} one"
            row[1].fault(message, "look at both rows: with more weight the moment goes on the same way")


def _station(entry: Entry, title: str, behind: bool) -> Station:
    page = page_source(title, entry.text("page")).text
    maximum = entry.optional("maximum", "weight", 1, 3000)
    return Station(entry.text("name"), _lever(entry, behind), page, maximum)


def _tank(entry: Entry, title: str, behind: bool) -> Tank:
    page = page_source(title, entry.text("page")).text
    return Tank(entry.text("name"), _lever(entry, behind), entry["usable"].quantity("volume", 1, 400), page)


def _once_each(entries: list[Entry], key: str) -> None:
    """Note a name that stands twice: two tanks of one name would share their fuel."""
    seen: set[str] = set()
    for entry in entries:
        name = entry.text(key)
        if name in seen and entry.get(key):
            entry[key].fault(f"'{name}' stands twice", "give each a name of its own")
        seen.add(name)


def _envelope(entry: Entry, title: str) -> Envelope | None:
    """Return one envelope; None, with the fault noted, where its line cannot be right."""
    by, kind = entry.text("by"), entry.text("by")
    limits = _ARMS_IN if by == "arm" else _MOMENTS_LB_IN
    points = []
    for corner in entry["points"].each():
        weight, across = corner.each()
        if not isinstance(across.value, str):
            return None  # the schema's fault is noted
        try:
            units.parse(kind, across.value)
        except ValueError:
            names = ", ".join(units.KINDS[kind])
            across.fault(
                f"'{across.value}' is not {_A[by]} with its unit ({names})", f"the envelope is drawn by {by}"
            )
            return None
        points.append((weight.quantity("weight", 0, 12_500), across.quantity(kind, *limits)))
    if not all(isfinite(number) for point in points for number in point):
        return None
    line = tuple(points)
    if crosses_itself(line):
        entry["points"].fault("the line around the envelope crosses itself", "go once around, corner by corner")
        return None
    for lower, upper in pairwise(sorted({weight for weight, _ in line})):
        if stretches(line, (lower + upper) / 2) != 1:
            here = f"between {lower:,.0f} and {upper:,.0f} lb"
            entry["points"].fault(f"{here} the envelope falls into two", "look at its corners")
            return None
    return Envelope(entry.text("category"), by, line, page_source(title, entry.text("page")).text)


_A = {"arm": "an arm", "moment": "a moment"}

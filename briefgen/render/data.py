"""The Brief as JSON, by schemas/brief.schema.json: printed values, and the unrounded ones behind them."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from briefgen import __version__
from briefgen.alternate_page import AlternatePage
from briefgen.brief import Brief
from briefgen.daylight_page import DaylightPage
from briefgen.figures import Figure
from briefgen.fuel_stop_page import StopPage
from briefgen.item import Item, State
from briefgen.loading import LoadPage
from briefgen.model.policy import Letterhead
from briefgen.model.provenance import Provenance
from briefgen.papers_page import PapersPage
from briefgen.plans import LandingPage, Point, Reading, RecheckRow, TakeoffPage
from briefgen.printed import ClimbReadings
from briefgen.render.asked import required_data, risk_data
from briefgen.render.sky import weather_data
from briefgen.required_page import required_page
from briefgen.risk_page import risk_page
from briefgen.route_page import LegRow, RoutePage
from briefgen.speeds_page import SpeedLine, SpeedsPage

FORMAT = 2


def to_json(brief: Brief) -> str:
    """Return the Brief as JSON text; the same Brief gives the same text."""
    return json.dumps(as_data(brief), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def as_data(brief: Brief) -> dict[str, Any]:
    """Return the Brief as plain values."""
    return {
        "format": FORMAT,
        "made_by": f"briefgen {__version__}",
        "title": brief.title,
        "as_of": brief.as_of,
        **_filed(brief),
        "crew": brief.crew,
        "aircraft": _aircraft(brief),
        "policy": brief.policy,
        "standard": [ruling._asdict() for ruling in brief.standard],
        **_printed(brief),
        "not_for_flight": brief.not_for_flight or None,
        "rework_if": list(brief.rework),
        "counts": {state.value: brief.counts[state] for state in State},
        "items": [item_data(item) for item in brief.items],
        "takeoff": _takeoff(brief.takeoff),
        "landing": _landing(brief.landing),
        "alternate": _alternate(brief.alternate),
        "load": _load(brief.load),
        "route": _route(brief.route) if brief.route else None,
        "fuel_stop": _stop(brief.stop),
        "daylight": _daylight(brief.daylight),
        "speeds": _speeds(brief.speeds),
        "papers": _papers(brief.papers),
        **weather_data(brief.weather),
        "risk": risk_data(risk_page(brief)),
        "required": required_data(required_page(brief)),
        **_rechecks(brief),
        "cautions": [
            {key: value for key, value in each._asdict().items() if key != "folded_into"} for each in brief.cautions
        ],
        "folded": [each._asdict() for each in brief.folded],
        "working": [
            {
                "title": section.title,
                "remark": section.remark or None,
                "figures": [_figure(figure) for figure in section.figures],
            }
            for section in brief.sections
        ],
        "facts": brief.facts,
        "remarks": list(brief.remarks),
        "standing": list(brief.standing),
    }


def _aircraft(brief: Brief) -> dict[str, Any]:
    return {
        "registration": brief.registration,
        "description": brief.description,
        "handbook": brief.handbook,
        "provenance": [_provenance(each) for each in brief.trip.aircraft.provenance],
    }


def _provenance(record: Provenance) -> dict[str, Any]:
    checked = record.checked._asdict() if record.checked else None
    changed, unchecked = list(record.changed), record.unchecked or None
    return {
        **record._asdict(),
        "typed": record.typed._asdict(),
        "checked": checked,
        "changed": changed,
        "unchecked": unchecked,
    }


def _rechecks(brief: Brief) -> dict[str, Any]:
    return {"recheck": [_recheck(row) for row in brief.recheck], "no_recheck": brief.no_recheck or None}


def _filed(brief: Brief) -> dict[str, Any]:
    """Return when it was prepared, and from which files."""
    files = [{"name": each.name, "sha256": each.digest} for each in brief.trip.files]
    return {"prepared": brief.trip.prepared or None, "fingerprint": brief.fingerprint, "files": files}


def _printed(brief: Brief) -> dict[str, Any]:
    """Return how the sheet is printed."""
    return {
        "units": brief.printing.name,
        "page_size": brief.page_size,
        "pages": list(brief.pages),
        "letterhead": _letterhead(brief.letterhead),
    }


def _letterhead(letterhead: Letterhead | None) -> dict[str, Any] | None:
    return {"name": letterhead.name, "lines": list(letterhead.lines)} if letterhead else None


def _recheck(row: RecheckRow) -> dict[str, Any]:
    cells = [{"headwind_kt": wind, "need": need, "state": state.value} for wind, need, state in row.cells]
    return {"surface": row.surface, "case": row.case, "unit": row.unit, "cells": cells}


def _load(page: LoadPage | None) -> dict[str, Any] | None:
    if page is None:
        return None
    return {
        "category": page.category,
        "envelope": page.pages,
        "weighed": page.weighed,
        "lines": [line._asdict() for line in page.lines],
        "points": [point._asdict() for point in page.points],
        "mends": list(page.mends),
    }


def _papers(page: PapersPage | None) -> dict[str, Any] | None:
    if page is None:
        return None
    return {
        "tables": [
            {
                "whose": table.whose,
                "lines": [
                    {**asdict(line), "known": line.known or None, "why": line.why or None} for line in table.lines
                ],
            }
            for table in page.tables
        ],
        "confirmed": [
            {**asdict(line), "by": line.by or None, "at": line.at or None, "said": line.said or None}
            for line in page.confirmed
        ],
        "taken": page.taken,
        "rules_known": page.known or None,
    }


def item_data(item: Item) -> dict[str, Any]:
    """Return an item as plain values."""
    return {
        "id": item.id,
        "title": item.title,
        "where": item.where,
        "unit": item.unit,
        "need": item.need,
        "policy_need": item.policy_need,
        "have": item.have,
        "margin": item.margin,
        "have_over_need": item.ratio,
        "state": item.state.value,
        "reason": item.reason or None,
        "answer": item.answer or None,
        "estimate": item.estimate,
        "source": item.source,
        "unrounded": dict(zip(("need", "policy_need", "have"), item.unrounded, strict=True)),
    }


def _figure(figure: Figure) -> dict[str, Any]:
    return {
        "label": figure.label,
        "unit": figure.unit,
        "value": figure.value,
        "reason": figure.reason or None,
        "estimate": figure.estimate,
        "printed": figure.printed or None,
        "steps": [
            {
                "quantity": step.quantity,
                "label": step.label,
                "detail": step.detail,
                "before": step.before,
                "after": step.after,
                "unit": step.unit,
                "source": str(step.source),
                "source_kind": step.source.kind,
            }
            for step in figure.steps
        ],
    }


def _reading(reading: Reading) -> dict[str, Any]:
    return {"label": reading.label, "value": reading.value, "unit": reading.unit, "reason": reading.reason or None}


def _line(line: SpeedLine) -> dict[str, Any]:
    return {
        **_reading(line.reading),
        "estimate": line.reading.estimate,
        "worked_for": line.worked_for,
        "source": line.source or None,
        "unrounded": line.unrounded,
    }


def _speeds(page: SpeedsPage) -> dict[str, Any]:
    return {
        "groups": [{"title": each.title, "lines": [_line(line) for line in each.lines]} for each in page.groups],
        "stalls": [{"label": row.label, "lines": [_line(line) for line in row.lines]} for row in page.stalls],
        "stall_note": page.stall_note,
        "crosswinds": [
            {
                "where": table.where,
                "wind": table.wind,
                "columns": list(table.heads),
                "rows": [
                    {
                        "wind": said,
                        "cells": [
                            {
                                "crosswind_kt": c.value,
                                "side": c.side,
                                "over": list(c.over),
                                "unrounded": c.unrounded,
                            }
                            for c in cells
                        ],
                    }
                    for said, cells in zip(page.turned, table.rows, strict=True)
                ],
            }
            for table in page.crosswinds
        ],
        "without_wind": list(page.without_wind),
        "legend": page.legend,
    }


def _point(point: Point) -> dict[str, Any]:
    return {
        "at": _reading(point.at),
        "mark": point.mark,
        "mark_at": _reading(point.mark_at) if point.mark_at else None,
        "window": _reading(point.window) if point.window else None,
        "zone": _reading(point.zone) if point.zone else None,
        "climb_out": point.climb_out or None,
        "climb": _climb(point.climb) if point.climb else None,
    }


def _climb(climb: ClimbReadings) -> dict[str, Any]:
    return {
        "flaps": climb.flaps,
        **{key: _reading(getattr(climb, key)) for key in ("speed", "rate", "gradient")},
        "gradient_percent": climb.percent,
    }


def _takeoff(page: TakeoffPage) -> dict[str, Any]:
    return {
        "where": page.where,
        "setting": list(page.setting),
        "readings": [_reading(each) for each in (*page.speeds, *page.air)],
        "abort": _point(page.abort),
        "abort_speed": _reading(page.abort_speed),
        "flying_by": _reading(page.flying_by) if page.flying_by else None,
        "assumptions": list(page.assumptions),
        "climb": _climb(page.climb),
        "over": list(page.over),
    }


def _landing(page: LandingPage) -> dict[str, Any]:
    return {
        "where": page.where,
        "setting": list(page.setting),
        "readings": [_reading(each) for each in (*page.speeds, *page.air)],
        "go_around": _point(page.go_around),
        "go_around_flaps_up": _point(page.go_around_flaps_up),
    }


def _alternate(page: AlternatePage | None) -> dict[str, Any] | None:
    if page is None:
        return None
    return {
        "where": page.where,
        "setting": list(page.setting),
        "remark": page.remark or None,
        "items": [item_data(row) for row in page.rows],
        "wind": page.wind,
        "readings": [_reading(each) for each in page.speeds],
        "go_around": _point(page.go_around),
        "go_around_flaps_up": _point(page.go_around_flaps_up),
        "can_go_around": page.can_go_around,
        "beyond": page.beyond or None,
    }


def _daylight(page: DaylightPage | None) -> dict[str, Any] | None:
    if page is None:
        return None
    line = page.line
    return {
        "where": page.where,
        "lines": list(page.lines),
        "fields": [asdict(row) for row in page.rows],
        "moments": [{"label": each.label, "after_takeoff_min": each.at_min} for each in line.moments],
        "dark": [{"kind": each.kind, "from_min": each.from_min, "to_min": each.to_min} for each in line.shades],
    }


def _leg(row: LegRow) -> dict[str, Any]:
    return {
        **{key: getattr(row, key) for key in ("to", "altitude", "wind", "airspeed_kt", "ground_speed_kt")},
        "true_course": row.course,
        "magnetic_heading": row.heading,
        "compass_heading": row.compass or None,
        **{key: getattr(row, key) for key in ("distance_nm", "minutes", "fuel")},
        "eta": row.eta or None,
        "flown": row.flown or None,
        "climb": row.climb,
    }


def _stop(page: StopPage | None) -> dict[str, Any] | None:
    if page is None:
        return None
    return {
        "at": page.at,
        "to": page.to,
        "decide": page.decide,
        "way": _leg(page.way) if page.way else None,
        "readings": [_reading(each) for each in page.readings],
        "landing": page.landing,
    }


def _route(page: RoutePage) -> dict[str, Any]:
    return {
        "where": page.where,
        "setting": list(page.setting),
        "legs": [_leg(row) for row in page.legs],
        "ways": list(page.ways),
        "no_log": page.no_log or None,
        "alternate": _leg(page.alternate) if page.alternate else None,
        "distance_nm": page.distance_nm,
        "minutes": page.minutes,
        "fuel": page.fuel,
        "eta": page.eta or None,
        "fuel_unit": page.unit,
        "stages": [
            {"name": row.name, "amount": row.amount, "minutes": row.minutes, "total": row.total}
            for row in page.ladder
        ],
        "reason": page.reason or None,
        "readings": [_reading(each) for each in page.readings],
        "wheels_down_by": page.down_by or None,
        "wheels_down_note": page.down_note or None,
        "not_counted": page.not_counted or None,
    }

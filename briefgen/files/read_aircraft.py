"""Read an aircraft file."""

from __future__ import annotations

from briefgen.files.entry import Entry
from briefgen.files.read_chart import read_chart
from briefgen.files.read_notes import page_source
from briefgen.handbook.chart import DistanceChart
from briefgen.model.aircraft import Aircraft, Calibration, Handbook, Limit, SpeedByWeight

_SPEED_LISTS = ("stall", "approach", "liftoff", "at_50_ft")


def read_aircraft(root: Entry) -> Aircraft:
    """Return the airplane of a file.

    Raises
    ------
    InputFault : every fault of the file.
    """
    faults = root.faults
    handbook = root.get("handbook")
    title = handbook.text("title", "Handbook") if handbook else "Handbook"
    charts = {
        phase: faults.parts(root.items(phase), lambda each, phase=phase: read_chart(each, phase, title))  # type: ignore[misc]
        for phase in ("takeoff", "landing")
    }
    speeds = root.get("speeds")
    lists = {
        name: faults.parts(speeds.items(name) if speeds else [], lambda each: _speed(each, title))
        for name in _SPEED_LISTS
    }
    calibration = faults.parts(
        speeds.items("calibration") if speeds else [], lambda each: _calibration(each, title)
    )
    _known_flaps(root)
    for phase, found in charts.items():
        _once(root, phase, found)
    faults.stop()
    glide = root["speeds"].get("best_glide")
    aircraft = Aircraft(
        registration=root.text("registration"),
        description=root.text("description"),
        handbook=Handbook(title, root["handbook"].text("revision"), root["handbook"].text("date")),
        maximum_takeoff_lb=_limit(root["weights"]["maximum_takeoff"], "weight", title, 300, 12_500),
        maximum_landing_lb=_limit(root["weights"]["maximum_landing"], "weight", title, 300, 12_500),
        flap_settings=tuple(str(each.value) for each in root["flap_settings"].each()),
        takeoff=charts["takeoff"],
        landing=charts["landing"],
        approach=lists["approach"],
        liftoff=lists["liftoff"],
        at_50_ft=lists["at_50_ft"],
        stall=lists["stall"],
        best_glide=_speed(glide, title) if glide else None,
        demonstrated_crosswind_kt=_crosswind(root, "demonstrated_crosswind", title),
        crosswind_limit_kt=_crosswind(root, "crosswind_limitation", title),
        calibration=calibration,
        differences=tuple(str(each.value) for each in root.items("differences")),
        not_for_flight=root.text("not_for_flight"),
        name=faults.document.name,
    )
    faults.stop()
    return aircraft


def _limit(entry: Entry, kind: str, title: str, least: float, most: float) -> Limit:
    return Limit(entry["value"].quantity(kind, least, most), page_source(title, entry.text("page")).text)


def _crosswind(root: Entry, key: str, title: str) -> Limit | None:
    found = root["speeds"].get(key)
    return _limit(found, "speed", title, 3, 40) if found else None


def _speed(entry: Entry, title: str) -> SpeedByWeight:
    page = page_source(title, entry.text("page")).text
    flaps = entry.text("flaps", "up")
    if entry.get("speed"):
        return SpeedByWeight(flaps, (), (entry["speed"].quantity("speed", 20, 200),), page)
    pairs = [
        (pair.each()[0].quantity("weight", 300, 12_500), pair.each()[1].quantity("speed", 20, 200))
        for pair in entry.items("by_weight")
    ]
    pairs.sort()
    if len({weight for weight, _ in pairs}) < len(pairs):
        entry["by_weight"].fault("a weight stands twice")
    return SpeedByWeight(flaps, tuple(w for w, _ in pairs), tuple(v for _, v in pairs), page)


def _calibration(entry: Entry, title: str) -> Calibration:
    pairs = [tuple(each.quantity("speed", 20, 250) for each in pair.each()) for pair in entry["points"].each()]
    for (a, _), (b, _), place in zip(pairs, pairs[1:], entry["points"].each()[1:], strict=False):
        if b <= a:
            place.fault("indicated speeds must rise from point to point")
    page = page_source(title, entry.text("page")).text
    return Calibration(entry.text("flaps"), tuple(i for i, _ in pairs), tuple(c for _, c in pairs), page)


def _known_flaps(root: Entry) -> None:
    """Note every flap setting that the airplane does not have."""
    settings = [str(each.value) for each in root.items("flap_settings")]
    speeds = root.get("speeds")
    users = [each for phase in ("takeoff", "landing") for each in root.items(phase)]
    users += [each for name in (*_SPEED_LISTS, "calibration") for each in (speeds.items(name) if speeds else [])]
    for user in users:
        flaps = user.get("flaps")
        if flaps and isinstance(flaps.value, str) and settings and flaps.value not in settings:
            flaps.fault(f"flaps '{flaps.value}' is none of the airplane's settings: {', '.join(settings)}")


def _once(root: Entry, phase: str, charts: tuple[DistanceChart, ...]) -> None:
    flaps = [chart.flaps for chart in charts]
    for setting in sorted(set(flaps)):
        if flaps.count(setting) > 1:
            root[phase].fault(f"there are {flaps.count(setting)} {phase} tables for flaps {setting}; one is wanted")

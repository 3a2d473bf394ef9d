"""Read an aircraft file."""

from __future__ import annotations

from typing import Any

from briefgen.files.entry import Entry, Faults
from briefgen.files.read_balance import read_balance
from briefgen.files.read_climb import one_table_each, read_allowance, read_climb, read_cruise
from briefgen.files.read_climb_rate import read_climb_rates
from briefgen.files.read_graph import read_distance
from briefgen.files.read_notes import page_source
from briefgen.files.read_provenance import read_provenance
from briefgen.files.read_speeds import check_single_speeds
from briefgen.model.aircraft import UP, Aircraft, Calibration, Deviation, Handbook, Slips, SpeedByWeight
from briefgen.model.limit import Limit

MOST_DEVIATION_DEG = 20.0  # further off a card is misread; common practice, no source
_SPEED_LISTS = ("stall", "approach", "liftoff", "at_50_ft")
_SINGLE_SPEEDS = ("best_glide", "best_angle", "best_rate", "maneuvering")


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
        phase: faults.parts(root.items(phase), lambda each, phase=phase: read_distance(each, phase, title))  # type: ignore[misc]
        for phase in ("takeoff", "landing")
    }
    speeds = _speeds(root.get("speeds"), faults, title)
    _known_flaps(root)
    _above_stall(root, speeds)
    check_single_speeds(root, speeds)
    for phase in charts:
        _once(root, phase)
    limits = [
        faults.part(root["weights"].get(key), lambda each: _limit(each, "weight", title, 300, 12_500))
        for key in ("maximum_takeoff", "maximum_landing")
    ]
    more = _more(root, faults, title)
    route_tables = _route_tables(root, faults, title)
    balance = faults.part(root.get("balance"), lambda each: read_balance(each, title))
    climb_rates = read_climb_rates(root, title, speeds.get("stall", ()))
    provenance = faults.part(root, lambda each: read_provenance(each, ", ".join(_handbook(each, title))))
    faults.stop()
    maximum_takeoff, maximum_landing = limits
    assert maximum_takeoff is not None
    assert maximum_landing is not None
    return Aircraft(
        registration=root.text("registration"),
        description=root.text("description"),
        handbook=_handbook(root, title),
        provenance=provenance or (),
        maximum_takeoff_lb=maximum_takeoff,
        maximum_landing_lb=maximum_landing,
        flap_settings=tuple(str(each.value) for each in root["flap_settings"].each()),
        differences=tuple(str(each.value) for each in root.items("differences")),
        balance=balance,
        climb_rates=climb_rates,
        not_for_flight=root.text("not_for_flight"),
        name=faults.document.name,
        takeoff=charts["takeoff"],
        landing=charts["landing"],
        **speeds,
        **more,
        **route_tables,
    )


def _handbook(root: Entry, title: str) -> Handbook:
    return Handbook(title, root["handbook"].text("revision"), root["handbook"].text("date"))


def _more(root: Entry, faults: Faults, title: str) -> dict[str, Any]:
    """Return the fields that only cautions ask about: engine, tires, slips; and those of a route: fuel, compass."""
    engine = root.get("engine")
    return {
        "carburetor": faults.part(engine, lambda each: bool(each["carburetor"].value)),
        "main_tires_psi": faults.part(root.get("tires"), lambda each: _tires(each, title)),
        "slips": faults.part(root.get("slips_with_flaps"), lambda each: _slips(each, title)),
        "usable_fuel_gal": faults.part(root.get("fuel"), lambda each: _usable(each, title)),
        "deviation": faults.part(root.get("deviation"), lambda each: _deviation(each, title)),
    }


def _route_tables(root: Entry, faults: Faults, title: str) -> dict[str, Any]:
    """Return the fields that a route is worked with: climb, the allowance beside it, cruise."""
    climb = root.get("climb")
    one_table_each(root.items("cruise"))
    return {
        "climb": faults.part(climb, lambda each: read_climb(each, title)),
        "taxi_allowance_gal": faults.part(
            climb.get("allowance") if climb else None, lambda each: read_allowance(each, title)
        ),
        "cruise": faults.parts(root.items("cruise"), lambda each: read_cruise(each, title)),
    }


def _tires(entry: Entry, title: str) -> Limit:
    return Limit(entry["main"].quantity("tire pressure", 5, 150), page_source(title, entry.text("page")).text)


def _usable(entry: Entry, title: str) -> Limit:
    return Limit(entry["usable"].quantity("volume", 2, 300), page_source(title, entry.text("page")).text)


def _deviation(entry: Entry, title: str) -> Deviation:
    """Return the compass card, its headings rising; one that steers far off is a slip."""
    pairs: list[tuple[float, float]] = []
    for pair in entry["card"].each():
        at, steer = (float(each.value) for each in pair.each())
        pairs.append((at, steer))
    for i, ((at, steer), place) in enumerate(zip(pairs, entry["card"].each(), strict=True)):
        if i and at <= pairs[i - 1][0]:
            place.fault("the headings of the card must rise from entry to entry", "the heading, then what to steer")
        elif abs((steer - at + 180) % 360 - 180) > MOST_DEVIATION_DEG:
            message = f"to steer {steer:03.0f} for {at:03.0f} is more than {MOST_DEVIATION_DEG:g} degrees off"
            place.fault(message, "look at the card again")
    if len(pairs) > 1 and pairs[-1][0] == 360:  # north stands at both ends of many cards
        first, last = pairs[0], pairs.pop()
        if first[0] != 0:
            pairs.insert(0, (0.0, last[1]))
        elif (first[1] - last[1]) % 360:
            message = f"the card steers {last[1]:03.0f} for 360, but {first[1]:03.0f} for 000"
            entry["card"].each()[-1].fault(message, "they are one heading")
    page = entry.get("page")
    by = page_source(title, str(page.value)).text if page else f"compass card of {entry.text('date')}"
    return Deviation(tuple(pairs), by)


def _slips(entry: Entry, title: str) -> Slips:
    flaps = tuple(str(each.value) for each in entry.items("flaps"))
    return Slips(entry.text("restriction"), flaps, page_source(title, entry.text("page")).text)


def _speeds(entry: Entry | None, faults: Faults, title: str) -> dict[str, Any]:
    """Return the fields of an airplane that come from its speeds."""
    if entry is None:
        return {}

    def crosswind(key: str) -> Limit | None:
        return faults.part(entry.get(key), lambda each: _limit(each, "speed", title, 3, 40))

    return {
        **{name: faults.parts(entry.items(name), lambda each: _speed(each, title)) for name in _SPEED_LISTS},
        **{name: faults.part(entry.get(name), lambda each: _speed(each, title)) for name in _SINGLE_SPEEDS},
        "glide_nm": faults.part(entry.get("best_glide"), lambda each: _glide(each, title)),
        "demonstrated_crosswind_kt": crosswind("demonstrated_crosswind"),
        "crosswind_limit_kt": crosswind("crosswind_limitation"),
        "calibration": faults.parts(entry.items("calibration"), lambda each: _calibration(each, title)),
    }


def _limit(entry: Entry, kind: str, title: str, least: float, most: float) -> Limit:
    return Limit(entry["value"].quantity(kind, least, most), page_source(title, entry.text("page")).text)


def _speed(entry: Entry, title: str) -> SpeedByWeight:
    page = page_source(title, entry.text("page")).text
    flaps = entry.text("flaps", "up")
    if entry.get("speed"):
        at = entry.get("at_weight")
        weights = (at.quantity("weight", 300, 12_500),) if at else ()
        return SpeedByWeight(flaps, weights, (entry["speed"].quantity("speed", 20, 200),), page)
    rows = [pair.each() for pair in entry.items("by_weight")]
    pairs = [
        (weight.quantity("weight", 300, 12_500), speed.quantity("speed", 20, 200))
        for weight, speed in (row for row in rows if len(row) == 2)
    ]
    given = [weight for weight, _ in pairs]
    for i, (weight, row) in enumerate(zip(given, rows, strict=False)):
        if weight in given[:i]:
            row[0].fault(f"the weight {row[0].value} stands twice", "one speed for each weight")
    pairs.sort()
    return SpeedByWeight(flaps, tuple(w for w, _ in pairs), tuple(v for _, v in pairs), page)


def _glide(entry: Entry, title: str) -> Limit | None:
    reach = entry.get("range_per_1000_ft")
    return Limit(reach.quantity("distance", 0.5, 5), page_source(title, entry.text("page")).text) if reach else None


def _calibration(entry: Entry, title: str) -> Calibration:
    pairs = [tuple(each.quantity("speed", 20, 250) for each in pair.each()) for pair in entry["points"].each()]
    for (a, _), (b, _), place in zip(pairs, pairs[1:], entry["points"].each()[1:], strict=False):
        if b <= a:
            place.fault("the indicated speeds must rise from point to point", "indicated first, then calibrated")
    page = page_source(title, entry.text("page")).text
    return Calibration(entry.text("flaps"), tuple(i for i, _ in pairs), tuple(c for _, c in pairs), page)


def _above_stall(root: Entry, speeds: dict[str, Any]) -> None:
    """Note every approach or liftoff speed that cannot be right beside the stall speed for the same flaps."""
    stalls = {each.flaps: max(each.speeds_kt, default=0.0) for each in speeds.get("stall", ())}
    approaches = {each.flaps: min(each.speeds_kt, default=0.0) for each in speeds.get("approach", ())}
    for name in ("approach", "liftoff"):
        for entry in root["speeds"].items(name) if speeds else []:
            flaps = entry.text("flaps")
            found = next((each for each in speeds[name] if each.flaps == flaps), None)
            stall = stalls.get(flaps)
            if found is None or not stall:
                continue
            if min(found.speeds_kt) <= stall or max(found.speeds_kt) > 2 * stall:
                words = (
                    f"{name} speed for flaps {flaps}, {min(found.speeds_kt):g} kt, beside a stall at {stall:g} kt"
                )
                entry.fault(f"{words} cannot be right", "look at both on their pages")
    with_flaps = [kt for flaps, kt in approaches.items() if flaps != UP]
    if UP in approaches and with_flaps and approaches[UP] < max(with_flaps):
        words = f"the approach speed for flaps up, {approaches[UP]:g} kt, is under that with flaps"
        root["speeds"]["approach"].fault(
            f"{words}, {max(with_flaps):g} kt", "an airplane is flown faster without flaps"
        )


def _known_flaps(root: Entry) -> None:
    """Note every flap setting that the airplane does not have."""
    settings = [str(each.value) for each in root.items("flap_settings")]
    speeds = root.get("speeds")
    users = [each for phase in ("takeoff", "landing", "rate_of_climb") for each in root.items(phase)]
    users += [each for name in (*_SPEED_LISTS, "calibration") for each in (speeds.items(name) if speeds else [])]
    for user in users:
        _known_setting(user.get("flaps"), settings)
    slips = root.get("slips_with_flaps")
    for setting in slips.items("flaps") if slips else []:
        _known_setting(setting, settings)


def _known_setting(flaps: Entry | None, settings: list[str]) -> None:
    if flaps and isinstance(flaps.value, str) and settings and flaps.value not in settings:
        message = f"flaps '{flaps.value}' is none of the airplane's settings: {', '.join(settings)}"
        flaps.fault(message, "write it as 'flap_settings' does")


def _once(root: Entry, phase: str) -> None:
    """Note a second table for a flap setting."""
    seen: set[str] = set()
    for chart in root.items(phase):
        flaps = chart.get("flaps")
        if flaps and str(flaps.value) in seen:
            flaps.fault(f"a second {phase} table for flaps '{flaps.value}'", "one table for each flap setting")
        seen.add(str(flaps.value) if flaps else "")

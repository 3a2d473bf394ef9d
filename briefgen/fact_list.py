"""Every fact that a rule may ask about: its kind, whether it can be missing, and what it says.

The list is a promise: `facts.facts_of` gives exactly these. `schemas/facts.md` is made from it.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from briefgen.fact import DOWN, HEIGHT, NUMBER, TEXT, UP, YES_NO, Fact

_STATES = ("meets policy", "under policy", "short", "not shown")
_STATE = f"state of the item: {', '.join(_STATES)}"
_STANDINGS = ("current", "runs out before the flight ends", "expired", "not met", "not shown")
_LYING = ("dry", "wet", "standing water", "slush", "snow", "ice")

_PLACE = {
    "name": Fact(TEXT, "the field and the runway"),
    "surface": Fact(TEXT, "paved, grass or gravel", values=("paved", "grass", "gravel")),
    "state": Fact(TEXT, "dry, wet, standing water, slush, snow or ice", True, values=_LYING),
    "grass": Fact(
        TEXT,
        "very short, to 20 cm or long; null where it is not said, or is no grass",
        True,
        values=("very short", "to 20 cm", "long"),
    ),
    "soft": Fact(YES_NO, "the ground gives under the wheels", True),
    "temperature_degC": Fact(NUMBER, "outside air temperature", True),
    "density_altitude_ft": Fact(NUMBER, "density altitude, of humid air by its dew point", True, rounds=HEIGHT),
    "density_above_field_ft": Fact(NUMBER, "density altitude less the field's elevation", True, rounds=HEIGHT),
    "headwind_kt": Fact(NUMBER, "headwind counted, from the steady wind, rounded down", True),
    "tailwind_kt": Fact(NUMBER, "tailwind counted, from the gust, worst case, rounded up", True),
    "crosswind_kt": Fact(NUMBER, "crosswind from the gust, worst case, rounded up", True),
    "gust_kt": Fact(NUMBER, "gust factor: gust less steady wind", True),
    "upslope_percent": Fact(NUMBER, "slope, up in the direction of use; down is negative"),
    "beyond": Fact(TEXT, "what lies past the far end", True),
    "displaced_ft": Fact(NUMBER, "how far in the landing threshold is", rounds=UP),
    "approach_obstacles": Fact(NUMBER, "obstacles off the near end"),
    "departure_obstacles": Fact(NUMBER, "obstacles off the far end"),
    "obstacle_shift_ft": Fact(
        NUMBER, "how far past the threshold an approach obstacle puts the 50-ft point", rounds=UP
    ),
    "go_around_possible": Fact(YES_NO, "false where the strip says that a landing cannot be broken off"),
    "dew_point_degC": Fact(NUMBER, "dew point", True),
    "humidity_percent": Fact(NUMBER, "relative humidity, rounded up", True),
    "humidity_cost_ft": Fact(NUMBER, "by how much humidity raises the density altitude", True, rounds=HEIGHT),
    "wind_variable": Fact(YES_NO, "the wind varies in direction", True),
}

_LANDING = {
    "need_ft": Fact(NUMBER, "landing need, unfactored", True, rounds=UP),
    "from_50_ft": Fact(NUMBER, "the handbook's distance from 50 ft, corrected", True, rounds=UP),
    "roll_ft": Fact(NUMBER, "ground roll, corrected", True, rounds=UP),
    "allowance_ft": Fact(NUMBER, "touchdown allowance", True, rounds=UP),
    "estimate": Fact(YES_NO, "the need is an estimate"),
    "edge_used": Fact(YES_NO, "an outermost figure of the table was used as it stands"),
    "approach_kt": Fact(NUMBER, "approach speed to fly, gusts and the pilot's own counted", True),
    "go_around_ft": Fact(NUMBER, "go-around point from the landing threshold", True, rounds=DOWN),
    "go_around_reason": Fact(TEXT, "why there is no go-around point", True),
    "factored": Fact(YES_NO, "a safety factor of unknown size is already in the table"),
    "mark_before_touchdown": Fact(YES_NO, "that mark is before the planned touchdown"),
    "mark": Fact(TEXT, "the last mark between the aim point and the go-around point", True),
    "window_ft": Fact(NUMBER, "from the aim point to where the go-around point will be used", True, rounds=DOWN),
    "zone_ft": Fact(NUMBER, "the pilot's own touchdown zone, past the aim point", True, rounds=DOWN),
    "window_short_ft": Fact(NUMBER, "by how much the window is narrower than the zone", True, rounds=UP),
    "checked_cell": Fact(YES_NO, "a cell that looks wrong was used because somebody checked it"),
    "touchdown_share": Fact(NUMBER, "planned touchdown as a share of the landing distance available", True),
    "past_first_third_ft": Fact(
        NUMBER, "by how much the planned touchdown is past the first third", True, rounds=UP
    ),
    "past_centre_ft": Fact(NUMBER, "by how much it is past the centre of the first third", True, rounds=UP),
    "limit_before_aim": Fact(
        YES_NO, "the last touchdown that leaves the policy need is at or before the aim point"
    ),
}

_ALTERNATE = {
    "need_ft": Fact(NUMBER, "landing need at the alternate, unfactored", True, rounds=UP),
    "policy_need_ft": Fact(NUMBER, "the same under the policy", True, rounds=UP),
    "approach_kt": Fact(NUMBER, "approach speed to fly there", True),
    "go_around_ft": Fact(NUMBER, "go-around point from the landing threshold", True, rounds=DOWN),
    "mark": Fact(TEXT, "the last mark between the aim point and the go-around point", True),
    "state": Fact(TEXT, f"{_STATE}; null where no alternate is given", True, values=_STATES),
}

_CLIMB = {
    "flaps": Fact(TEXT, "the flap setting of the climb"),
    "rate_fpm": Fact(NUMBER, "rate of climb, rounded down", True),
    "gradient_percent": Fact(NUMBER, "gradient over the ground, rounded down; null where it does not climb", True),
}

_GROUPS: dict[str, dict[str, Fact]] = {
    "policy": {
        "loaded": Fact(YES_NO, "the trip names a policy"),
        "takeoff_factor": Fact(NUMBER, "the safety factor that the standard sets for the takeoff", True),
        "landing_factor": Fact(NUMBER, "the same for the landing", True),
        "turn_back_height_ft": Fact(
            NUMBER, "height above the field below which the pilot never turns back", True, rounds=HEIGHT
        ),
    },
    "trip": {
        "same_field": Fact(YES_NO, "the trip ends where it began"),
        "takeoff_after_h": Fact(NUMBER, "from the time that the figures are of to the takeoff, rounded up", True),
        "passengers": Fact(
            YES_NO,
            "passengers are carried, by the trip file or by the seats of its load; null where it is not said",
            True,
        ),
        "humidity_cost_ft": Fact(
            NUMBER, "what humidity adds to the density altitude, the more of both fields", True, rounds=HEIGHT
        ),
    },
    "aircraft": {
        "carburetor": Fact(YES_NO, "the engine has a carburetor", True),
        "differences": Fact(TEXT, "what makes the airplane unlike the handbook's", True),
        "hydroplaning_kt": Fact(NUMBER, "speed from which the main tires can slide on water, rounded down", True),
        "slip_restriction": Fact(TEXT, "what the handbook says against slips with flaps", True),
        "unchecked": Fact(TEXT, "what of the aircraft file nobody has checked against the handbook", True),
        "changed_since_check": Fact(TEXT, "what of it changed since it was checked", True),
        "checked_by_its_typist": Fact(TEXT, "what of it was checked by who typed it", True),
        "checked_after_brief": Fact(TEXT, "what of it was checked after the day of the brief", True),
    },
    "load": {
        "given": Fact(YES_NO, "the trip gives a load and the aircraft file can work it"),
        "worst": Fact(TEXT, "the point of the flight nearest to a limit, or furthest outside", True),
        "room_in": Fact(NUMBER, "how far inside its limit it balances there; negative outside", True),
    },
    "departure": _PLACE,
    "arrival": _PLACE,
    "departure.climb": {
        **_CLIMB,
        "flaps_moved": Fact(YES_NO, "the trip file says that the flaps are moved at 50 ft"),
        "obstacle": Fact(TEXT, "what stands past the end and has the least room under the climb", True),
        "obstacle_top_ft": Fact(NUMBER, "its top above where the takeoff begins, rounded up", True, rounds=HEIGHT),
        "over_it_ft": Fact(NUMBER, "height of the path there, rounded down", True, rounds=HEIGHT),
        "asked_ft": Fact(NUMBER, "height that the policy asks of that path, rounded up", True, rounds=HEIGHT),
    },
    "arrival.climb": _CLIMB,
    "takeoff": {
        "weight_share": Fact(NUMBER, "takeoff weight as a share of the maximum"),
        "roll_ft": Fact(NUMBER, "ground roll, corrected", True, rounds=UP),
        "over_50_ft": Fact(NUMBER, "distance over 50 ft, corrected", True, rounds=UP),
        "over_50_share": Fact(NUMBER, "distance over 50 ft as a share of what is available", True),
        "edge_used": Fact(YES_NO, "an outermost figure of the table was used as it stands"),
        "factored": Fact(YES_NO, "a safety factor of unknown size is already in the table"),
        "abort_past_liftoff": Fact(YES_NO, "the abort point is past the worked ground roll"),
        "abort_ft": Fact(NUMBER, "abort point from the start of the takeoff run", True, rounds=DOWN),
        "stopping_worked": Fact(YES_NO, "the last stopping point could be worked"),
        "abort_speed_kt": Fact(NUMBER, "speed to see at the abort point", True),
        "best_glide_kt": Fact(NUMBER, "best glide speed at the takeoff weight", True),
        "checked_cell": Fact(YES_NO, "a cell that looks wrong was used because somebody checked it"),
        "slope_credit": Fact(YES_NO, "the handbook's credit for a downhill takeoff was counted"),
        "clearway": Fact(YES_NO, "a clearway is declared: TODA is longer than TORA"),
        "stopway": Fact(YES_NO, "a stopway is declared: ASDA is longer than TORA"),
        "tora_ratio": Fact(NUMBER, "TORA divided by the distance over 50 ft, rounded down", True),
        "toda_ratio": Fact(NUMBER, "TODA, else TORA, divided by the distance over 50 ft, rounded down", True),
        "asda_ratio": Fact(NUMBER, "ASDA, else TORA, divided by the distance over 50 ft, rounded down", True),
        "calm_over_50_ft": Fact(
            NUMBER, "distance over 50 ft without the headwind; null without one", True, rounds=UP
        ),
        "short_in_calm": Fact(YES_NO, "roll or distance over 50 ft would be short without the headwind"),
    },
    "landing": {
        "planned_flaps": Fact(TEXT, "the planned flap setting"),
        "planned_share": Fact(NUMBER, "the planned need as a share of the landing distance available", True),
        "extra_kt": Fact(NUMBER, "speed that the pilot adds to the approach by choice"),
        "planned_without_data": Fact(YES_NO, "the planned setting has no table: flaps-up figures stand in"),
        "partial_without_data": Fact(YES_NO, "the partial setting has no table: flaps-up figures stand in"),
        "available_ft": Fact(NUMBER, "landing distance available", True, rounds=DOWN),
        "first_third_ft": Fact(NUMBER, "a third of it", True, rounds=DOWN),
        "first_third_centre_ft": Fact(NUMBER, "a sixth of it: the centre of the first third", True, rounds=DOWN),
        "aim_ft": Fact(NUMBER, "the aim point from the landing threshold", True, rounds=UP),
        "ground_speed_kt": Fact(NUMBER, "ground speed of the approach as flown, in the steady wind", True),
        "approach_angle_deg": Fact(NUMBER, "the policy's approach angle, else 3"),
        "descent_fpm": Fact(NUMBER, "rate of descent on final at that ground speed and angle", True),
        "over_hydroplaning_kt": Fact(
            NUMBER, "the approach, over the ground or indicated, above that of sliding", True
        ),
        "tenth_fast_cost_ft": Fact(
            NUMBER, "what a tenth more speed over the ground adds to the need", True, rounds=UP
        ),
        "slip_restricted": Fact(YES_NO, "the handbook restricts slips at the planned flaps"),
        "slope_credit": Fact(YES_NO, "the handbook's credit for an uphill landing was counted"),
        "calm_need_ft": Fact(NUMBER, "the planned need without the headwind; null without one", True, rounds=UP),
        "aim_under_obstacle_ft": Fact(NUMBER, "how far the aim path is under an obstacle", True, rounds=HEIGHT),
        "short_in_calm": Fact(YES_NO, "the landing as planned would be short without the headwind"),
        "wet_ratio": Fact(NUMBER, "available, divided by 1.15 times the dry need; null where it is not wet", True),
    },
    "landing.planned": _LANDING,
    "landing.flaps_up": {
        **_LANDING,
        "increase_ft": Fact(NUMBER, "what flaps up needs more than as planned", True, rounds=UP),
    },
    "landing.partial": {
        "given": Fact(YES_NO, "the trip names a partial setting"),
        "flaps": Fact(TEXT, "the partial setting, empty where none is named"),
    },
    "alternate": {
        "given": Fact(YES_NO, "the trip gives the landing at an alternate"),
        "name": Fact(TEXT, "the field and the runway", True),
        "available_ft": Fact(NUMBER, "landing distance available there", True, rounds=DOWN),
        "headwind_kt": Fact(NUMBER, "headwind counted, from the steady wind, rounded down", True),
        "tailwind_kt": Fact(NUMBER, "tailwind counted, from the gust, worst case, rounded up", True),
        "crosswind_kt": Fact(NUMBER, "crosswind from the gust, worst case, rounded up", True),
        "crosswind_state": Fact(TEXT, f"state of that crosswind: {', '.join(_STATES)}", True, values=_STATES),
    },
    "alternate.planned": _ALTERNATE,
    "alternate.flaps_up": _ALTERNATE,
    "gusts": {
        "additive_kt": Fact(NUMBER, "speed added for gusts on the approach", True),
        "cost_ft": Fact(
            NUMBER, "by how much the speed above the table's lengthens the landing need", True, rounds=UP
        ),
    },
    "crosswind": {
        "most_kt": Fact(NUMBER, "the greater crosswind of takeoff and landing, of those known", True),
        "demonstrated_kt": Fact(NUMBER, "maximum demonstrated", True),
        "demonstrated_share": Fact(NUMBER, "the greater crosswind as a share of the demonstrated", True),
        "limitation_kt": Fact(NUMBER, "the handbook's limitation, where it prints one", True),
        "over_limitation": Fact(YES_NO, "the greater crosswind is over the handbook's limitation"),
        "policy_kt": Fact(NUMBER, "the standard's own maximum, where it sets one", True),
        "over_policy": Fact(YES_NO, "the greater crosswind is over the standard's own maximum"),
    },
    "route": {
        "given": Fact(YES_NO, "the trip gives a route"),
        "off_rule_legs": Fact(NUMBER, "legs over 3,000 ft above the higher field, at no altitude of 14 CFR 91.159"),
        "off_rule": Fact(TEXT, "those legs, each with its magnetic course and altitude", True),
    },
    "fuel": {
        "past_reserve_min": Fact(
            NUMBER, "minutes that the fuel lasts past the rule's reserve, rounded down; negative: short of it", True
        ),
        "reserve_min": Fact(NUMBER, "the rule's reserve: 30 by day, 45 at night or where that is not said", True),
        "endurance_min": Fact(NUMBER, "minutes that the fuel lasts from takeoff on, rounded down", True),
        "to_down_by_min": Fact(
            NUMBER, "minutes from the ETA to when the wheels must be down; negative: the ETA is later", True
        ),
    },
    "fuel_stop": {
        "given": Fact(YES_NO, "the trip gives a fuel stop that may be decided on along the way"),
        "at": Fact(TEXT, "where it is decided", True),
        "to": Fact(TEXT, "where the landing for fuel is", True),
        "landing_worked": Fact(
            YES_NO, "the landing there is worked: it is the alternate's or the departure's field"
        ),
        "continue_over_min": Fact(
            NUMBER,
            "minutes that the fuel planned there lasts past what the standard asks for continuing, rounded down; "
            "negative: under it",
            True,
        ),
        "land_over_min": Fact(
            NUMBER, "the same past what the standard asks for the way to the stop and its reserve", True
        ),
        "sooner_min": Fact(
            NUMBER,
            "minutes of fuel by which the least for continuing is over that for the stop, rounded down; negative: "
            "the stop takes more",
            True,
        ),
    },
    "daylight": {
        "given": Fact(YES_NO, "the trip gives a takeoff time, and its way could be worked"),
        "lighting": Fact(
            TEXT,
            "what the strip says of the lighting of the destination's runway",
            values=("none", "runway lights", "pilot-controlled", "not said"),
        ),
        "eta": Fact(TEXT, "ETA at the destination, UTC, rounded up", True),
        "sunset": Fact(TEXT, "sunset there on that evening, UTC, rounded down", True),
        "dusk": Fact(TEXT, "end of civil twilight there, UTC, rounded down", True),
        "left_min": Fact(NUMBER, "minutes from the ETA to sunset; negative: after sunset", True),
        "after_sunset": Fact(YES_NO, "the ETA is after sunset, and before sunrise"),
        "lights_from": Fact(TEXT, "when the flight is first between sunset and sunrise, UTC", True),
        "logged_from": Fact(TEXT, "when it is first between the twilights, UTC", True),
        "passengers_from": Fact(TEXT, "when it is first in the night of 14 CFR 61.57(b), UTC", True),
        "night_reserve": Fact(
            YES_NO, "by the sun the rule's reserve is that of the night, and the trip file does not say so itself"
        ),
        "overruled": Fact(YES_NO, "the trip file says that it is day, and is overruled by the sun"),
    },
    "speeds": {
        "maneuvering_kt": Fact(NUMBER, "maneuvering speed, the lower of takeoff and landing, rounded down", True),
        "cruise_kt": Fact(NUMBER, "calibrated airspeed of the fastest leg, rounded up", True),
        "cruise_over_maneuvering_kt": Fact(NUMBER, "by how much that is over the maneuvering speed", True),
        "glide_still_nm": Fact(NUMBER, "glide for each 1,000 ft in still air", True),
        "glide_into_nm": Fact(NUMBER, "the same into the strongest wind of the route, rounded down", True),
        "glide_into_share": Fact(NUMBER, "the second as a share of the first, rounded down", True),
        "glide_wind_kt": Fact(NUMBER, "that wind: aloft, else the departure's steady one", True),
    },
    "papers": {
        "pilot_given": Fact(YES_NO, "the trip names a pilot file"),
        "airplane_given": Fact(YES_NO, "the trip names a papers file of the airplane"),
        "annual": Fact(
            TEXT, f"standing of the annual inspection: {', '.join(_STANDINGS)}", True, values=_STANDINGS
        ),
        "annual_days": Fact(NUMBER, "days left of it on the day of the flight; negative: past", True),
        "flight_review": Fact(
            TEXT, "standing of the flight review; null where this flight asks for none", True, values=_STANDINGS
        ),
        "flight_review_days": Fact(NUMBER, "days left of it on the day of the flight; negative: past", True),
        "expired": Fact(TEXT, "papers that this flight asks for and that have run out", True),
        "day_90": Fact(TEXT, "what was last done on the 90th day before the flight", True),
        "persons_denied": Fact(
            NUMBER, "weights in the seats, where more than a crew's, and the trip says 'passengers: false'", True
        ),
        "takeoffs_90_days": Fact(
            NUMBER, "takeoffs logged in the preceding 90 days, the 90th not counted; null: no log", True
        ),
        "landings_90_days": Fact(NUMBER, "landings, likewise", True),
        "last_landing_days": Fact(NUMBER, "days since the newest landing logged before the flight", True),
        "confirmed_asked": Fact(NUMBER, "things that the policy asks to be confirmed by hand"),
        "confirmed_open": Fact(NUMBER, "those of them that are not"),
    },
    "weather": {
        "given": Fact(YES_NO, "the trip gives a report, a forecast, a ceiling or a visibility"),
        "no_conditions_at": Fact(TEXT, "where the trip gives no conditions, by departure and so on", True),
        "thunderstorms": Fact(TEXT, "thunderstorms of reports and forecasts at the time of use, by field", True),
        "funnel_cloud": Fact(TEXT, "funnel clouds and tornadoes, likewise", True),
        "hail": Fact(TEXT, "hail, small hail too, likewise", True),
        "freezing": Fact(TEXT, "freezing precipitation and ice pellets, likewise", True),
        "storm_clouds": Fact(TEXT, "cumulonimbus and towering cumulus, where no thunderstorm is told of", True),
        "wind_shear": Fact(TEXT, "wind shear near the ground, likewise", True),
        "fog": Fact(TEXT, "fog at the field or near it, likewise", True),
        "not_decoded": Fact(TEXT, "what of the reports and forecasts could not be read, by field", True),
        "old_report": Fact(TEXT, "reports older than the standard's report age, by field", True),
        "warmer_forecast": Fact(TEXT, "fields with a forecast maximum over the temperature counted", True),
        "special_vfr": Fact(TEXT, "fields where special VFR is planned, and how", True),
        "winds_other_time": Fact(TEXT, "winds aloft as sent that are not known to be for the flight", True),
        "other_time": Fact(
            TEXT, "fields whose typed time of use is not when they are used, and when that is", True
        ),
        "soon": Fact(TEXT, "what of a forecast begins or ends within 30 min of the use, by field", True),
        "station": Fact(TEXT, "stations that are far, or whose distance or height is not said, by field", True),
        "typed_better": Fact(TEXT, "what was typed better than anything sent with it says, by field", True),
        "typed_over": Fact(
            TEXT, "ceiling and visibility sent below what the rule asks for, and typed above it, by field", True
        ),
        "ceiling_under_cruise_ft": Fact(
            NUMBER, "the highest leg less the lowest ceiling known; negative: below it", True, rounds=HEIGHT
        ),
        "least_over_ground_ft": Fact(
            NUMBER, "the least height of a leg over its highest ground, rounded down", True, rounds=HEIGHT
        ),
        "least_spread_degC": Fact(NUMBER, "the least spread of temperature and dew point, rounded down", True),
    },
    "items": {
        "departure_weather": Fact(TEXT, _STATE, values=_STATES),
        "arrival_weather": Fact(TEXT, _STATE, values=_STATES),
        "legs_weather": Fact(TEXT, f"{_STATE}; null without a route", True, values=_STATES),
        "alternate_weather": Fact(TEXT, f"{_STATE}; null without an alternate", True, values=_STATES),
        "balance": Fact(TEXT, _STATE, values=_STATES),
        "takeoff_weight": Fact(TEXT, _STATE, values=_STATES),
        "takeoff_roll": Fact(TEXT, _STATE, values=_STATES),
        "takeoff_50": Fact(TEXT, _STATE, values=_STATES),
        "climb_out": Fact(TEXT, f"{_STATE}; null where nothing stands in the way", True, values=_STATES),
        "takeoff_crosswind": Fact(TEXT, _STATE, values=_STATES),
        "takeoff_dark": Fact(TEXT, f"{_STATE}; null by day", True, values=_STATES),
        "landing_back": Fact(TEXT, _STATE, values=_STATES),
        "landing_weight": Fact(TEXT, _STATE, values=_STATES),
        "landing": Fact(TEXT, _STATE, values=_STATES),
        "landing_flaps_up": Fact(TEXT, _STATE, values=_STATES),
        "landing_partial": Fact(TEXT, _STATE, True, values=_STATES),
        "landing_crosswind": Fact(TEXT, _STATE, values=_STATES),
        "landing_alternate": Fact(TEXT, _STATE, values=_STATES),
        "alternate_dark": Fact(TEXT, f"{_STATE}; null by day", True, values=_STATES),
        "fuel": Fact(TEXT, _STATE, values=_STATES),
        "fuel_stop": Fact(TEXT, f"{_STATE}; null where no fuel stop is given", True, values=_STATES),
        "daylight": Fact(TEXT, _STATE, values=_STATES),
        "papers_pilot": Fact(TEXT, _STATE, values=_STATES),
        "papers_airplane": Fact(TEXT, _STATE, values=_STATES),
        "confirmed": Fact(TEXT, f"{_STATE}; null where no policy asks for any", True, values=_STATES),
    },
}

FACTS: Mapping[str, Fact] = MappingProxyType(
    {f"{group}.{name}": fact for group, names in _GROUPS.items() for name, fact in names.items()}
)


def page() -> str:
    """Return the reference page of all facts."""
    lines = [
        "# The facts that rules may ask about",
        "",
        "Made from `briefgen/fact_list.py` by `make golden`; do not edit. `briefgen facts TRIP` prints the values.",
        "",
        "A rule names a fact by its path. A number's unit is what its name ends in; values are those printed,",
        "rounded the safe way. A fact marked 'or null' is null where it was not given or could not be worked.",
        "Facts are in ft and lb whatever the policy's `units`: rules are written on them. A caution's text prints",
        "a length along the ground in the policy's unit; heights and altitudes stay in ft.",
    ]
    for group, names in _GROUPS.items():
        lines += ["", f"## {group}", "", "| fact | kind | what it says |", "| --- | --- | --- |"]
        lines += [
            f"| `{group}.{name}` | {fact.kind}{' or null' if fact.maybe else ''} | {fact.words} |"
            for name, fact in names.items()
        ]
    return "\n".join(lines) + "\n"

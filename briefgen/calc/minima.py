"""Basic VFR weather minima: the visibility and the cloud base that a planned altitude needs.

The minima are a table, RULE by airspace, height and night. From them and an altitude come two needs: the flight
visibility, and the height that clouds overhead must be at: the altitude, and 500 or 1,000 ft more where the rule
keeps the airplane that far below them. Every cloud counts for it, not only a ceiling; one that is passed beside or
flown over asks for the other distances, which the minimum names. Hills that the clouds lie on are not looked at.

Night here is that of 14 CFR 1.1, after civil twilight, but for special VFR, which goes by sunset and sunrise.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from briefgen.errors import Refusal
from briefgen.figures import Figure, Source, Step, missing, stated

RULE = Source("14 CFR 91.155(a)", "regulation")
PATTERN_RULE = Source("14 CFR 91.155(b)(2)", "regulation")
SURFACE_RULE = Source("14 CFR 91.155(c), (d)", "regulation")
SPECIAL_RULE = Source("14 CFR 91.157", "regulation")
HEIGHT_RULE = Source("14 CFR 91.119", "regulation")
SPREAD = Source(
    "spread over 2.5\u00a0degC per 1,000\u00a0ft: PHAK FAA-H-8083-25C ch. 12", "published", "from memory"
)

LOW_FT = 1_200.0  # above the surface: up to it class G is low (read)
HIGH_FT = 10_000.0  # above sea level: at it classes E and G are high (read)
SURFACE_CEILING_FT, SURFACE_VISIBILITY_SM = 1_000.0, 3.0  # 91.155(c), (d) (read)
SPECIAL_SM = 1.0  # 91.157 (read)
FT_PER_DEGC = 400.0  # of spread: 1,000 ft by 2.5 degC


class Minimum(NamedTuple):
    """One row of the rule: flight visibility [SM], and how far from cloud [ft]; None, three times: clear of clouds.

    The distance beside a cloud of the high rows is one statute mile: 5,280 ft.
    """

    where: str
    visibility_sm: float
    below_ft: float | None
    above_ft: float | None
    beside_ft: float | None
    source: Source = RULE

    @property
    def words(self) -> str:
        """The minimum as a pilot would say it."""
        sight = f"{self.visibility_sm:g}\u00a0SM"
        if self.below_ft is None:
            return f"{sight}, clear of clouds"
        beside = "1\u00a0SM" if self.beside_ft == _SM_FT else f"{self.beside_ft:,.0f}\u00a0ft"
        away = f"{self.below_ft:,.0f}\u00a0ft below, {self.above_ft:,.0f}\u00a0ft above"
        return f"{sight}, {away}, {beside} beside cloud"


class WeatherNeed(NamedTuple):
    """What the rule asks of the weather: its row, flight visibility [SM], and cloud base [ft above sea level]."""

    minimum: Minimum
    visibility: Figure
    cloud_base: Figure


_SM_FT = 5_280.0
_AWAY = (500.0, 1_000.0, 2_000.0)  # below, above, beside
_HIGH = (1_000.0, 1_000.0, _SM_FT)
_CLEAR = (None, None, None)

B = Minimum("class B", 3, *_CLEAR)
C = Minimum("class C", 3, *_AWAY)
D = Minimum("class D", 3, *_AWAY)
E_LOW = Minimum("class E, below 10,000\u00a0ft", 3, *_AWAY)
E_HIGH = Minimum("class E, at or above 10,000\u00a0ft", 5, *_HIGH)
G_LOW_DAY = Minimum("class G, to 1,200\u00a0ft above the surface, by day", 1, *_CLEAR)
G_LOW_NIGHT = Minimum("class G, to 1,200\u00a0ft above the surface, at night", 3, *_AWAY)
G_DAY = Minimum("class G, over 1,200\u00a0ft above the surface, by day", 1, *_AWAY)
G_NIGHT = Minimum("class G, over 1,200\u00a0ft above the surface, at night", 3, *_AWAY)
G_HIGH = Minimum("class G, over 1,200\u00a0ft above the surface, at or above 10,000\u00a0ft", 5, *_HIGH)
G_PATTERN = Minimum(
    "class G, at night, in the pattern within 1/2\u00a0mile of the runway, below 1,200\u00a0ft above the surface",
    1,
    *_CLEAR,
    PATTERN_RULE,
)
SPECIAL = Minimum("special VFR", SPECIAL_SM, *_CLEAR, SPECIAL_RULE)

TABLE = (B, C, D, E_LOW, E_HIGH, G_LOW_DAY, G_LOW_NIGHT, G_DAY, G_NIGHT, G_HIGH, G_PATTERN, SPECIAL)
AIRSPACES = ("A", "B", "C", "D", "E", "G")


class MinimumHeight(NamedTuple):
    """One row of 14 CFR 91.119 (read). None: the rule names no such distance."""

    over: str
    height_ft: float | None
    above: str
    within_ft: float | None = None
    source: Source = HEIGHT_RULE


OTHER_AREAS_FT = 500.0  # above the surface: 14 CFR 91.119(c) (read)
MINIMUM_HEIGHTS = (
    MinimumHeight("anywhere", None, "high enough to land, the engine failed, without undue hazard to those below"),
    MinimumHeight("congested areas", 1_000, "the highest obstacle within 2,000\u00a0ft to the sides", 2_000),
    MinimumHeight("other areas", OTHER_AREAS_FT, "the surface"),
    MinimumHeight("open water and sparsely populated areas", None, "500\u00a0ft from any person or thing", 500),
)


def minimum(
    airspace: str, altitude_ft: float, ground_ft: float, night: bool | None, *, pattern: bool = False
) -> Minimum:
    """Return the row of the rule for an altitude.

    Parameters
    ----------
    airspace : A, B, C, D, E or G.
    altitude_ft : altitude above sea level [ft], not below the ground.
    ground_ft : height of the surface [ft] above sea level; the lowest on the way asks for the most.
    night : whether it is night; None, not known, is taken as night.
    pattern : in class G, in an airport's pattern within half a mile of the runway.

    Raises
    ------
    Refusal : class A, which no one flies in under visual rules; no such airspace; an altitude below the ground.

    Source: 14 CFR 91.155(a) and (b)(2) (read).

    >>> minimum("E", 9_999, 900, night=False).visibility_sm, minimum("E", 10_000, 900, night=False).visibility_sm
    (3, 5)
    """
    if airspace not in AIRSPACES:
        raise Refusal(f"there is no airspace of class {airspace!r}", "airspace")
    if altitude_ft < ground_ft:
        raise Refusal(f"{altitude_ft:,.0f} ft is below the ground at {ground_ft:,.0f} ft", "altitude")
    if airspace == "A":
        raise Refusal("no flight under visual rules in class A", "airspace")
    if airspace in _FIXED:
        return _FIXED[airspace]
    if airspace == "E":
        return E_HIGH if altitude_ft >= HIGH_FT else E_LOW
    return _class_g(altitude_ft, altitude_ft - ground_ft, night is not False, pattern)


_FIXED = {"B": B, "C": C, "D": D}


def _class_g(altitude_ft: float, height_ft: float, night: bool, pattern: bool) -> Minimum:
    if height_ft > LOW_FT:
        if altitude_ft >= HIGH_FT:
            return G_HIGH
        return G_NIGHT if night else G_DAY
    if not night:
        return G_LOW_DAY
    return G_PATTERN if pattern and height_ft < LOW_FT else G_LOW_NIGHT


def special(altitude_ft: float, sun_down: bool | None, *, instrument: bool = False) -> Minimum:
    """Return the minimum of special VFR, which needs a clearance, in the surface area of an airport.

    Parameters
    ----------
    altitude_ft : altitude above sea level [ft], below 10,000.
    sun_down : whether it is between sunset and sunrise; None, not known, is taken as so.
    instrument : pilot and airplane are qualified and equipped for instrument flight.

    Raises
    ------
    Refusal : at or above 10,000 ft, or the sun is down and pilot or airplane are not for instrument flight.

    Source: 14 CFR 91.157 (read). Airports of part 91 appendix D section 3 forbid it, and Alaska's wording differs.
    """
    if altitude_ft >= HIGH_FT:
        raise Refusal("special VFR is for altitudes below 10,000 ft", "altitude")
    if sun_down is not False and not instrument:
        raise Refusal("special VFR from sunset to sunrise is for instrument pilots and airplanes", "time")
    return SPECIAL


@lru_cache(maxsize=64)  # legs at one altitude ask for the same
def need(row: Minimum, altitude_ft: float) -> WeatherNeed:
    """Return the visibility and the cloud base that a row of the rule asks for at an altitude.

    Parameters
    ----------
    row : a minimum.
    altitude_ft : altitude above sea level [ft], below the clouds.
    """
    below_ft = row.below_ft or 0.0
    base_ft = altitude_ft + below_ft
    room = (
        f"+ {below_ft:,.0f}\u00a0ft below cloud"
        if below_ft
        else "clear of clouds: no cloud lower than the airplane"
    )
    label = "cloud base needed"
    steps = (
        Step("cloud base", "planned altitude", "", None, altitude_ft, "ft", Source("trip file", "pilot")),
        Step("cloud base", label, f"{room}; {row.where}", altitude_ft, base_ft, "ft", row.source),
    )
    sight = Step("visibility", "visibility needed", row.where, None, row.visibility_sm, "SM", row.source)
    return WeatherNeed(
        row,
        Figure("visibility needed", "SM", row.visibility_sm, (sight,)),
        Figure(label, "ft", base_ft, steps),
    )


def above_station(base: Figure, elevation_ft: float) -> Figure:
    """Return a cloud base that is needed [ft above sea level] as a report gives it: above its station [ft].

    Parameters
    ----------
    base : of a `WeatherNeed`.
    elevation_ft : of the station [ft]; a base below it asks for nothing there: 0.
    """
    height_ft = max(base.known - elevation_ft, 0.0)
    detail = f"less the station's elevation, {elevation_ft:,.0f}\u00a0ft"
    step = Step(
        "cloud base",
        "above the station",
        detail,
        base.known,
        height_ft,
        "ft",
        Source("height above it", "standard"),
    )
    return Figure(f"{base.label}, above the station", "ft", height_ft, (*base.steps, step))


def surface_area(airspace: str) -> tuple[Figure, Figure]:
    """Return the ceiling [ft above the field] and ground visibility [SM] that a surface area asks for.

    They are for flying beneath a ceiling, taking off, landing and entering the pattern, in the surface area of
    class B, C, D or E designated for an airport; without reported ground visibility the flight visibility counts.

    Parameters
    ----------
    airspace : B, C, D or E; of class G both are missing, as nothing is asked.

    Raises
    ------
    Refusal : class A, or no such airspace: there is no such surface area.

    Source: 14 CFR 91.155(c) and (d) (read).
    """
    ceiling, sight = "ceiling in the surface area", "ground visibility in the surface area"
    if airspace == "G":
        reason = "class G has no surface area"
        return missing(ceiling, "ft", reason), missing(sight, "SM", reason)
    if airspace not in AIRSPACES[1:]:
        raise Refusal(f"no surface area of class {airspace!r}", "airspace")
    return (
        stated(ceiling, "ft", SURFACE_CEILING_FT, "", SURFACE_RULE),
        stated(sight, "SM", SURFACE_VISIBILITY_SM, "", SURFACE_RULE),
    )


def cloud_base_estimate(temperature_degC: float, dew_point_degC: float) -> Figure:
    """Return about where cumulus clouds would form [ft above the station]: an estimate, never a reported base.

    Parameters
    ----------
    temperature_degC : at the surface [degC].
    dew_point_degC : at the surface [degC], not above the temperature.

    Raises
    ------
    Refusal : the dew point is above the temperature.

    Source: temperature and dew point of rising air come together by 2.5 degC for each 1,000 ft: PHAK (from memory).
    """
    spread = temperature_degC - dew_point_degC
    if spread < 0:
        raise Refusal("the dew point is above the temperature", "dew_point_degC")
    detail = f"spread {spread:.1f}\u00a0degC, times {FT_PER_DEGC:.0f}\u00a0ft"
    found = stated("cumulus base, about", "ft", spread * FT_PER_DEGC, detail, SPREAD)
    return found._replace(estimate=True)

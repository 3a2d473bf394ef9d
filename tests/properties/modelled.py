"""An invented airplane whose tables come from a physical model, and the air and runways to put it in.

The model, with s the density of dry air as a share of the standard's at sea level, and w the weight as a share of
2,550 lb (exponents near those that published tables for such airplanes show):

    takeoff ground roll   820 ft x w^2.3 x s^-2.4      over 50 ft   roll + 640 ft x w^2.6 x s^-3.2
    landing ground roll   370 ft x w / s               from 50 ft   roll + 450 ft x w^0.5 x s^-0.5

each rounded up to 5 ft, as printed tables are. With the flaps up: ground roll x1.3, air distance x1.2; and one
table that no airplane has, x0.8 and x0.7, to see that the flaps-up need is held to the planned one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from itertools import product

from hypothesis import settings
from hypothesis import strategies as st

from briefgen.calc.distance import Scene, scene
from briefgen.calc.landing import Landing, set_up
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.runway import Have
from briefgen.calc.takeoff import Takeoff
from briefgen.calc.takeoff import takeoff as work_takeoff
from briefgen.calc.wind import RunwayWind
from briefgen.figures import Figure, Source
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.notes import Note
from briefgen.handbook.table import Axis, Grid
from briefgen.model.aircraft import Aircraft, Handbook, SpeedByWeight
from briefgen.model.limit import Limit
from briefgen.model.policy import Factor, Policy, Touchdown
from briefgen.model.weather import Conditions, Wind
from briefgen.units import up

quick = settings(deadline=None, derandomize=True, max_examples=80, database=None)

PAGE = Source("invented page")
HEIGHTS_FT = tuple(1000.0 * row for row in range(9))
TEMPERATURES_DEGC = (0.0, 10.0, 20.0, 30.0, 40.0)
WEIGHTS_LB = (2150.0, 2350.0, 2550.0)
LIGHTEST_LB, HEAVIEST_LB = 1900.0, 2550.0
Model = Callable[[float, float], float]  # of weight share and density share


def density(height_ft: float, degC: float) -> float:
    """Return the density share, from the textbook form of the standard atmosphere's pressure."""
    return float((1 - 6.8756e-6 * height_ft) ** 5.2559 * 288.15 / (degC + 273.15))


def takeoff_roll(w: float, s: float) -> float:
    """Return the model's takeoff ground roll [ft]."""
    return float(820 * w**2.3 * s**-2.4)


def takeoff_total(w: float, s: float) -> float:
    """Return the model's takeoff distance over 50 ft [ft]."""
    return float(takeoff_roll(w, s) + 640 * w**2.6 * s**-3.2)


def landing_roll(w: float, s: float) -> float:
    """Return the model's landing ground roll [ft]."""
    return 370 * w / s


def landing_total(w: float, s: float) -> float:
    """Return the model's landing distance from 50 ft [ft]."""
    return float(landing_roll(w, s) + 450 * w**0.5 * s**-0.5)


@cache
def cells(model: Model) -> dict[tuple[int, ...], float | None]:
    """Return every cell of a table printed from a model."""
    places = product(range(len(HEIGHTS_FT)), range(len(TEMPERATURES_DEGC)), range(len(WEIGHTS_LB)))
    there = {at: (WEIGHTS_LB[at[2]] / 2550, density(HEIGHTS_FT[at[0]], TEMPERATURES_DEGC[at[1]])) for at in places}
    return {at: up(model(*shares), 5) for at, shares in there.items()}


def chart(
    phase: str,
    flaps: str,
    roll: Model,
    total: Model,
    notes: Iterable[Note],
    *,
    order_open: bool = False,
    edge: bool = True,
) -> DistanceChart:
    """Return a chart printed from a model; `edge`: its cold, low and light ends may be used."""
    grid = Grid(
        (
            Axis("pressure_altitude_ft", HEIGHTS_FT, edge),
            Axis("temperature_degC", TEMPERATURES_DEGC, edge),
            Axis("weight_lb", WEIGHTS_LB, edge),
        ),
        PAGE.text,
    )
    return DistanceChart(
        phase=phase,
        flaps=flaps,
        grid=grid,
        roll=cells(roll),
        total=cells(total),
        conditions=ChartConditions("short field", "as printed", "paved, level, dry"),
        notes=tuple(notes),
        order_open=order_open,
    )


HEADWIND = Note("headwind", -0.10, PAGE, per=9.0, up_to=27.0)
TAILWIND = Note("tailwind", 0.10, PAGE, per=2.0, up_to=10.0)
DRY_GRASS = Note("dry grass", 0.15, PAGE, percent_of="roll", of="open")
NOTES = (HEADWIND, TAILWIND, DRY_GRASS)
ROLL_NOTE = Note("flaps up", 0.35, PAGE, changes=("roll",), of="value so far", extra_speed_kt=9.0)
BOTH_NOTE = Note("flaps up", 0.30, PAGE, of="value so far", extra_speed_kt=9.0)

TAKEOFF = chart("takeoff", "10", takeoff_roll, takeoff_total, NOTES)
LANDING = {
    "roll note": (chart("landing", "30", landing_roll, landing_total, (*NOTES, ROLL_NOTE)),),
    "roll and total note": (chart("landing", "30", landing_roll, landing_total, (*NOTES, BOTH_NOTE)),),
    "table": (
        chart("landing", "30", landing_roll, landing_total, NOTES),
        chart(
            "landing",
            "up",
            lambda w, s: 1.3 * landing_roll(w, s),
            lambda w, s: 1.3 * landing_roll(w, s) + 1.2 * (landing_total(w, s) - landing_roll(w, s)),
            NOTES,
        ),
    ),
}
LANDING["table that is too short"] = (
    LANDING["table"][0],
    chart(
        "landing",
        "up",
        lambda w, s: 0.8 * landing_roll(w, s),
        lambda w, s: 0.8 * landing_roll(w, s) + 0.7 * (landing_total(w, s) - landing_roll(w, s)),
        NOTES,
    ),
)
FORMS = tuple(LANDING)


def airplane(
    form: str = "roll note",
    *,
    landing: tuple[DistanceChart, ...] = (),
    takeoff: DistanceChart = TAKEOFF,
) -> Aircraft:
    """Return the airplane; `form` names where its flaps-up landing comes from, unless charts are given."""
    return Aircraft(
        registration="N0104",
        description="invented, from a physical model",
        handbook=Handbook("invented", "1", "2026"),
        maximum_takeoff_lb=Limit(HEAVIEST_LB, PAGE.text),
        maximum_landing_lb=Limit(HEAVIEST_LB, PAGE.text),
        flap_settings=("up", "10", "20", "30"),
        takeoff=(takeoff,),
        landing=landing or LANDING[form],
        approach=(SpeedByWeight("30", (), (58.0,), PAGE.text), SpeedByWeight("up", (), (67.0,), PAGE.text)),
        liftoff=(SpeedByWeight("10", WEIGHTS_LB, (47.0, 49.0, 51.0), PAGE.text),),
        at_50_ft=(SpeedByWeight("10", WEIGHTS_LB, (52.0, 55.0, 57.0), PAGE.text),),
        demonstrated_crosswind_kt=Limit(15.0, PAGE.text),
    )


def guidance(phase: str) -> tuple[Note, ...]:
    """Return guidance for what the handbook is silent on: slope, wet grass, wet pavement, soft ground."""
    slope = "upslope" if phase == "takeoff" else "downslope"
    more = {"percent_of": "total", "of": "value so far", "rank": "where silent"}
    return (
        Note(slope, 0.05, Source("guidance", "published"), per=0.01, up_to=0.02, **more),  # type: ignore[arg-type]
        *(
            Note(cause, change, Source("guidance", "published"), **more)  # type: ignore[arg-type]
            for cause, change in (("wet grass", 0.30), ("wet paved", 0.15), ("soft ground", 0.25))
        ),
    )


def factor(value: float) -> Factor:
    """Return a safety factor."""
    return Factor(value, Source("invented policy", "policy"))


def policy(multiple: float = 1.33, **more: object) -> Policy:
    """Return a standard with one factor for takeoff and landing, and the guidance."""
    base = Policy(
        "invented policy",
        takeoff_factor=factor(multiple),
        landing_factor=factor(multiple),
        takeoff_guidance=guidance("takeoff"),
        landing_guidance=guidance("landing"),
    )
    return base._replace(**more)  # type: ignore[arg-type]


def wind_along(knots: float, gusting_kt: float = 0.0) -> Wind:
    """Return a wind straight down runway 36, negative from behind."""
    return Wind(360.0 if knots >= 0 else 180.0, abs(knots), abs(knots) + gusting_kt)


def place(
    height_ft: float,
    degC: float,
    along_kt: float,
    *,
    gusting_kt: float = 0.0,
    surface: str = "paved",
    wet: bool = False,
    soft: bool = False,
    slope: float = 0.0,
    length_ft: float = 20_000.0,
) -> Scene:
    """Return a runway at a pressure altitude; `along_kt` is what counts along it, a tailwind negative."""
    length = Figure("length", "ft", length_ft)
    have = Have(length, length, length, length, 0.0, slope, 0.0, length_ft)
    wind = wind_along(along_kt, gusting_kt)
    conditions = Conditions(degC, 1013.25, wind, "wet" if wet else "dry", soft)
    counted = RunwayWind(max(along_kt, 0.0), max(-along_kt, 0.0), 0.0, "")
    return scene(surface, height_ft, conditions, counted, have)


def take_off(there: Scene, weight_lb: float, rules: Policy, of: Aircraft | None = None) -> Takeoff:
    """Work a takeoff."""
    return work_takeoff(of or airplane(), there, "10", weight_lb, rules)


def land(
    there: Scene,
    weight_lb: float,
    rules: Policy,
    *,
    of: Aircraft | None = None,
    down: Touchdown | None = None,
    extra_kt: float = 0.0,
) -> tuple[Landing, Landing]:
    """Work a landing as planned and with the flaps up."""
    plan = LandingPlan(of or airplane(), weight_lb, rules, down or touchdown(), extra_kt)
    return set_up(plan, there.conditions.wind, "30").work(plan, there)


def touchdown(aim_ft: float = 80.0, float_ft: float = 120.0, flaps_up_float_ft: float = 300.0) -> Touchdown:
    """Return a pilot's touchdown figures."""
    return Touchdown(aim_ft, float_ft, flaps_up_float_ft, 200.0, Source("invented policy", "policy"))


def distances(worked: Takeoff | Landing) -> dict[str, float]:
    """Return every distance that was worked [ft]; an estimate has no total of its own."""
    names = (
        ("roll", "total", "policy_roll", "policy_total")
        if isinstance(worked, Takeoff)
        else ("roll", "total", "need", "policy_need")
    )
    found = {name: getattr(worked, name).value for name in names}
    return {name: value for name, value in found.items() if value is not None}


# Everything that these draw can be worked: inside the tables, or off them at an end that may be used.
heights = st.floats(-1500.0, 8000.0)
temperatures = st.floats(-25.0, 40.0)
weights = st.floats(LIGHTEST_LB, HEAVIEST_LB)
alongs = st.floats(-10.0, 35.0)
multiples = st.floats(1.0, 2.0)
surfaces = st.sampled_from(
    [("paved", False, False), ("paved", True, False), ("grass", False, False), ("grass", True, False),
     ("grass", False, True), ("grass", True, True)]
)  # fmt: skip
forms = st.sampled_from(FORMS)


def pairs(values: st.SearchStrategy[float]) -> st.SearchStrategy[list[float]]:
    """Return two values, the smaller first."""
    return st.lists(values, min_size=2, max_size=2).map(sorted)

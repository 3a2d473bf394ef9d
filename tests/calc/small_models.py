"""Small invented models for unit tests: one-number tables, a sea-level runway in standard air, a plain policy."""

from __future__ import annotations

from typing import Any

from briefgen.calc.causes import present
from briefgen.calc.distance import Scene, Workings, scene, work_chart
from briefgen.calc.runway import Have
from briefgen.calc.wind import RunwayWind
from briefgen.figures import Figure, Source
from briefgen.handbook.chart import ChartConditions, DistanceChart
from briefgen.handbook.notes import Note
from briefgen.handbook.table import Axis, Grid
from briefgen.model.aircraft import Aircraft, Handbook, SpeedByWeight
from briefgen.model.limit import Limit
from briefgen.model.policy import Factor, Policy, Touchdown
from briefgen.model.strip import End, Runway, Strip
from briefgen.model.trip import Use
from briefgen.model.weather import Conditions, Wind

INVENTED = Source("invented for the test")
TOUCHDOWN = Touchdown(100, 150, 300, 200, INVENTED)
CALM = Wind(None, 0.0, 0.0)
STILL = RunwayWind(0.0, 0.0, 0.0, "")


def note(cause: str, change: float, **more: Any) -> Note:
    return Note(cause, change, INVENTED, **more)


def chart(
    phase: str = "landing",
    flaps: str = "30",
    roll: float = 600.0,
    total: float = 1200.0,
    notes: tuple[Note, ...] = (),
    **more: Any,
) -> DistanceChart:
    """Return a chart whose every cell is the same, from sea level to 8000 ft and 0 to 40 degrees, up to 2500 lb."""
    axes = (
        Axis("pressure_altitude_ft", (0.0, 8000.0)),
        Axis("temperature_degC", (0.0, 40.0)),
        Axis("weight_lb", (2500.0,), True),
    )
    if more.get("at_standard"):
        axes = (axes[0], axes[2])
    grid = Grid(axes, "p. 5")
    factored, inside = more.pop("factored", False), more.pop("factor_inside", None)
    cells = grid.cells()
    conditions = ChartConditions("any", "any", "paved", factored=factored, factor_inside=inside)
    rolls, totals = dict.fromkeys(cells, roll), dict.fromkeys(cells, total)
    return DistanceChart(phase, flaps, grid, rolls, totals, conditions, notes, **more)


def speed_of(flaps: str, kt: float) -> SpeedByWeight:
    return SpeedByWeight(flaps, (), (kt,), "p. 5")


def aircraft(**more: Any) -> Aircraft:
    limit = Limit(2500.0, "p. 2")
    settings: dict[str, Any] = {
        "takeoff": (chart("takeoff", "10", 800.0, 1500.0),),
        "landing": (chart(),),
        "approach": (speed_of("30", 60.0),),
        "liftoff": (speed_of("10", 50.0),),
    }
    book = Handbook("Handbook", "1", "2020")
    return Aircraft("N0999", "invented", book, limit, limit, ("up", "10", "20", "30"), **(settings | more))


def have(*, lda: Figure | float = 3000.0, begins_ft: float = 0.0, slope: float = 0.0, tora: float = 3000.0) -> Have:
    def figure(label: str, value: float) -> Figure:
        return Figure(label, "ft", value)

    landing = lda if isinstance(lda, Figure) else figure("LDA", lda)
    return Have(
        figure("TORA", tora), figure("to 50 ft", tora), figure("ASDA", tora), landing, begins_ft, slope, 0, 3000
    )


def conditions(
    temperature: float = 15.0, wind: Wind = CALM, surface: str = "dry", *, soft: bool = False, grass: str = ""
) -> Conditions:
    return Conditions(temperature, 1013.25, wind, surface, soft, grass)


def place(
    *,
    surface: str = "paved",
    elevation_ft: float = 0.0,
    air: Conditions | None = None,
    wind: RunwayWind = STILL,
    there: Have | None = None,
) -> Scene:
    """Return a runway in its air: level, paved, at sea level in still standard air unless said otherwise."""
    return scene(surface, elevation_ft, air or conditions(), wind, there or have())


def policy(**more: Any) -> Policy:
    factors = {"takeoff_factor": Factor(1.2, INVENTED), "landing_factor": Factor(1.4, INVENTED)}
    return Policy("test", **({"touchdown": TOUCHDOWN, "gust_share": 0.0} | factors | more))


def use(first: End, second: End, *, length_ft: float = 3000.0, conditions_: Conditions | None = None) -> Use:
    """Return the first end of a runway in use."""
    runway = Runway(length_ft, "paved", (first, second), 0.0)
    strip = Strip("Test", 0.0, 40.0, -80.0, 0.0, (runway,), "invented")
    return Use(strip, runway, first, second, conditions_ or conditions())


def distances(table: DistanceChart, causes: dict[str, float], *guidance: Note, **more: Any) -> Workings:
    """Work a chart alone, for causes given with their amounts."""
    inputs = {"pressure_altitude_ft": 0.0, "temperature_degC": 15.0, "weight_lb": 2500.0, "headwind_bound": -1.0}
    pro_rata = more.pop("pro_rata", False)
    return work_chart(table, causes, guidance, inputs | more, (), pro_rata=pro_rata)


def causes_of(**more: Any) -> dict[str, float]:
    """Return the causes present on a level, dry, paved runway in still standard air, but for what is said."""
    settings: dict[str, Any] = {
        "along_kt": 0.0,
        "slope": 0.0,
        "surface": "paved",
        "conditions": conditions(),
        "pressure_altitude_ft": 0.0,
        "at_standard": False,
        "phase": "landing",
    }
    return present(**(settings | more))

"""A small staged graph worked by hand, and graphs digitized from a formula, for several tests."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from briefgen.figures import Figure, work
from briefgen.handbook.chart import ChartConditions
from briefgen.handbook.graph import Graph, Scale
from briefgen.handbook.graph_chart import GraphChart
from briefgen.handbook.lines import HEIGHT, SUBJECTS, Curves, Guides, Line, guides
from briefgen.handbook.notes import Note

PAGE = "Handbook p. 5-1"
TABLE = ChartConditions("", "", "")


def line(*points: tuple[float, float]) -> Line:
    return Line(tuple(float(at) for at, _ in points), tuple(float(value) for _, value in points))


def panel(name: str, reference: float, *lines: Line, light_edge: bool = False) -> Guides:
    return guides(SUBJECTS[name], reference, lines, light_edge=light_edge)


# Sea level 800 at 0 degC, 1,000 at 20, 1,300 at 40: a kink at 20. 4,000 ft: 1,200, 1,500, 2,000.
CURVES = Curves((0.0, 4000.0), (line((0, 800), (20, 1000), (40, 1300)), line((0, 1200), (20, 1500), (40, 2000))))
WEIGHT = panel("weight", 2400.0, line((2000, 600), (2400, 800)), line((2000, 1500), (2400, 2000)))
WIND = panel(
    "wind", 0.0, line((-10, 600), (0, 500), (10, 400), (20, 350)), line((-10, 2600), (0, 2000), (20, 1400))
)
OBSTACLE = panel(HEIGHT, 0.0, line((0, 300), (50, 700)), line((0, 2600), (50, 4600)))
SLOPE = panel("slope", 0.0, line((-0.02, 450), (0, 500), (0.02, 600)), line((-0.02, 1800), (0, 2000), (0.02, 2400)))


def graph(*stages: Guides, phase: str = "takeoff", curves: Curves = CURVES, scale: Scale | None = None) -> Graph:
    return Graph(phase, curves, stages, scale or Scale("ft", 20.0), PAGE)


def chart(roll: Graph | None, total: Graph | None, *notes: Note) -> GraphChart:
    graphs = {name: each for name, each in (("roll", roll), ("total", total)) if each}
    return GraphChart("takeoff", "10", graphs, TABLE, PAGE, notes)


def worked(
    of: GraphChart,
    causes: Mapping[str, float],
    *,
    whole_steps: bool = True,
    guidance: Sequence[Note] = (),
    **more: float,
) -> tuple[Figure, Figure]:
    """Return roll and total, at 20 degC, sea level and 2,400 lb unless said otherwise."""
    inputs = {
        "temperature_degC": 20.0,
        "pressure_altitude_ft": 0.0,
        "weight_lb": 2400.0,
        "headwind_bound": -0.9,
        **more,
        **causes,
    }
    done = work(of.look_ups(tuple(causes), guidance, whole_steps=whole_steps), inputs)
    return done.figure("roll", "roll"), done.figure("total", "total")


def digitized(
    curve: Callable[[float, float], float],
    altitudes_ft: Sequence[float],
    temperatures_degC: Sequence[float],
    read: Callable[[float], float],
) -> Curves:
    """Return a first panel, its points read off the curves of a formula."""
    lines = [line(*((degC, read(curve(ft, degC))) for degC in temperatures_degC)) for ft in altitudes_ft]
    return Curves(tuple(altitudes_ft), tuple(lines))


def followed(
    name: str,
    reference: float,
    law: Callable[[float, float], float],
    starts: Sequence[float],
    inputs: Sequence[float],
    read: Callable[[float], float],
) -> Guides:
    """Return a later panel, its points read off the guide lines of a law: of a start and an input."""
    return panel(name, reference, *(line(*((at, read(law(start, at))) for at in inputs)) for start in starts))

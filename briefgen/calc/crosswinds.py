"""The crosswind of the day in a table: the wind as forecast, and turned further than it was."""

from typing import NamedTuple

from briefgen.calc.wind import RunwayWind, on_runway
from briefgen.figures import Figure, Source, Step
from briefgen.model.trip import Use
from briefgen.model.weather import NotGiven, Wind

SPREADS_DEG = (0, 10, 20, 30)
MORE_KT = 5.0
RESOLVED = Source("speed times the sine of its angle to the runway, worst case", "standard")


class Turned(NamedTuple):
    """One row: how far the wind may have turned, and its components steady, in the gust, and 5 kt over the gust."""

    spread_deg: int
    winds: tuple[RunwayWind, RunwayWind, RunwayWind]

    @property
    def words(self) -> str:
        """What the row is for."""
        return turned_words(self.spread_deg)


class Crosswinds(NamedTuple):
    """The table of one runway in a wind: its speeds [kt] are the columns."""

    use: Use
    wind: Wind
    speeds_kt: tuple[float, float, float]
    rows: tuple[Turned, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Each row as a figure: the last column, with a step for every one."""
        return tuple(self._figure(row) for row in self.rows)

    def _figure(self, row: Turned) -> Figure:
        label = f"crosswind, {self.use.name}, wind {row.words}"
        steps = tuple(
            Step(label, f"{name}, {kt:g}\u00a0kt", _side(wind), None, wind.crosswind_kt, "kt", RESOLVED)
            for name, kt, wind in zip(
                ("steady", "gust", f"gust + {MORE_KT:.0f}"), self.speeds_kt, row.winds, strict=True
            )
        )
        return Figure(label, "kt", row.winds[-1].crosswind_kt, steps)


def turned_words(spread_deg: int) -> str:
    """Return what the row of a spread [deg] to either side is for."""
    return f"up to {spread_deg}° either way" if spread_deg else "as forecast"


def crosswinds(use: Use) -> Crosswinds | None:
    """Return the table of a runway: each row the worst over all directions that far to either side.

    None where no conditions are given, and so no wind.

    A wind of no known direction is all across in every row. A heading that is only known from the runway's ident
    counts as that far off too.
    """
    if isinstance(use.conditions, NotGiven):
        return None
    wind, end = use.conditions.strongest, use.end
    speeds_kt = (wind.steady_kt, wind.gust_kt, wind.gust_kt + MORE_KT)
    rows = []
    for spread_deg in SPREADS_DEG:
        off_deg = end.heading_known_to_deg + spread_deg
        steady, gust, more = (on_runway(_only(wind, kt), end.heading_deg, off_deg) for kt in speeds_kt)
        rows.append(Turned(spread_deg, (steady, gust, more)))
    return Crosswinds(use, wind, speeds_kt, tuple(rows))


def _only(wind: Wind, speed_kt: float) -> Wind:
    return wind._replace(steady_kt=speed_kt, gust_kt=speed_kt)


def _side(wind: RunwayWind) -> str:
    side = wind.crosswind_from
    return f"from the {side}" if side in ("left", "right") else f"from {side}" if side else "none across"

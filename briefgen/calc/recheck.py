"""The re-check grid: landing need by wind along the runway, dry and wet, as planned and flaps up."""

from typing import NamedTuple

from briefgen.calc.distance import Scene
from briefgen.calc.landing import Cases, Landing
from briefgen.calc.landing_setup import LandingPlan
from briefgen.calc.wind import RunwayWind

WINDS_KT = (-5.0, 0.0, 5.0, 10.0, 15.0)  # tailwind negative
SURFACES = ("dry", "wet")
CASES = ("as planned", "flaps up")


class Recheck(NamedTuple):
    """One cell: the landing worked for another wind or surface, gust additive as planned."""

    along_kt: float
    surface: str
    case: str
    landing: Landing


def grid(plan: LandingPlan, scene: Scene, cases: Cases) -> tuple[Recheck, ...]:
    """Return every cell of the grid, row by row.

    Parameters
    ----------
    plan : airplane, weight, policy and touchdown figures, as for the landing itself.
    scene : the runway and air of the landing; its wind and wetness are replaced.
    cases : the landing as planned and with the flaps up, set up for the wind expected.
    """
    winds = [
        RunwayWind(max(along, 0.0), max(-along, 0.0), scene.wind.crosswind_kt, scene.wind.crosswind_from)
        for along in WINDS_KT
    ]
    cells = []
    lying = scene.conditions.surface
    for surface in SURFACES if lying in SURFACES else (lying,):  # no dry row beside a runway under slush
        conditions = scene.conditions._replace(surface=surface)
        for along_kt, wind in zip(WINDS_KT, winds, strict=True):
            both = cases.work(plan, scene._replace(wind=wind, conditions=conditions), keep_steps=False)
            cells += [Recheck(along_kt, surface, case, landing) for case, landing in zip(CASES, both, strict=True)]
    return tuple(cells)

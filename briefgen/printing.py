"""How the sheet is printed: in which units, and rounded to which step.

Inside everything stays in ft, lb and US gal. A length along the ground, a weight, a volume of fuel and an altimeter
setting are printed in the policy's unit; heights and altitudes stay in ft, speeds in kt, distances flown in NM and
temperatures in degC, as they do where lengths are metric (ICAO Annex 5 allows it; from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from briefgen.units import FT_PER_M, HPA_PER_INHG, L_PER_GAL, LB_PER_KG, down, up

US_UNITS, METRIC_UNITS = "US", "metric"
PAGE_SIZES = ("half letter", "letter", "A5", "A4")
# What follows the items and the cautions, which every sheet begins with: each is a template, and starts a page.
PAGES: Mapping[str, str] = MappingProxyType(
    {
        "takeoff": "Takeoff",
        "landing": "Landing",
        "alternate": "Alternate",
        "route": "Route, fuel and daylight",
        "load": "Load and balance",
        "weather": "Weather",
        "speeds": "Speeds",
        "papers": "Papers",
        "risk": "Risk",
        "required": "What is asked of the preflight",
        "working": "Working",
    }
)
LENGTHS = ("ft", "m")  # in which a length along the ground is printed


# Units of which a tenth is printed; of every other a whole one.
_TENTHS = frozenset(("gal", "L", "NM", "divisions"))


def digits(unit: str) -> int:
    """Return how many decimals a printed number of a unit has.

    >>> digits("gal"), digits("ft")
    (1, 0)
    """
    return 1 if unit in _TENTHS else 0


class Form(NamedTuple):
    """How a quantity of one inside unit is printed: its unit, how many inside ones that is, the step rounded to."""

    unit: str
    inside_per_unit: float = 1.0
    step: float = 1


class Printing(NamedTuple):
    """The units of one sheet. `forms`: how each of ft (along the ground), lb, kt and gal is printed."""

    name: str
    forms: Mapping[str, Form]

    @property
    def metric(self) -> bool:
        """Whether lengths and weights are printed in other units than they are worked in."""
        return self.name == METRIC_UNITS

    @property
    def length(self) -> str:
        """The unit of lengths along the ground, as the heads of columns say it."""
        return self.unit("ft")

    def unit(self, inside: str) -> str:
        """Return the printed unit of an inside unit."""
        return self.forms[inside].unit

    def exact(self, value: float, inside: str = "ft") -> float:
        """Return a value in its printed unit, unrounded."""
        form = self.forms[inside]
        return value if form.inside_per_unit == 1 else value / form.inside_per_unit

    def up(self, value: float, inside: str = "ft") -> float:
        """Return a value as it is printed, rounded up.

        >>> US.up(1551.0), METRIC.up(1551.0), METRIC.up(2450.0, "lb")
        (1555, 473, 1112)
        """
        return self._rounded(up, value, inside)

    def down(self, value: float, inside: str = "ft") -> float:
        """Return a value as it is printed, rounded down.

        >>> US.down(1551.0), METRIC.down(1551.0), METRIC.down(1000 / 0.3048)
        (1550, 472, 1000)
        """
        return self._rounded(down, value, inside)

    def _rounded(self, way: Callable[[float, float], float], value: float, inside: str) -> float:
        """Return a value rounded to a step of its printed unit, without the last bits of a tenth."""
        unit, inside_per_unit, step = self.forms[inside]
        rounded = way(value if inside_per_unit == 1 else value / inside_per_unit, step)
        return round(rounded, digits(unit)) if digits(unit) else rounded

    def said(self, printed: float, inside: str = "ft") -> str:
        """Return a printed number with its unit, joined so that no line parts them."""
        unit = self.unit(inside)
        return f"{printed:,.{digits(unit)}f}\u00a0{unit}"

    def whole(self, value_ft: float, *, upward: bool = False) -> float:
        """Return a length that somebody set, to a whole ft or m: what is asked for up, points and zones down.

        >>> US.whole(83.0), METRIC.whole(300.0, upward=True)
        (83, 92)
        """
        return (up if upward else down)(self.exact(value_ft))

    def as_set(self, value_ft: float, *, upward: bool) -> str:
        """Return a length that somebody set, with its unit."""
        return self.said(self.whole(value_ft, upward=upward))

    def altimeter(self, setting_hPa: float) -> str:
        """Return an altimeter setting: inHg to a hundredth, or whole hPa rounded down as a QNH is (from memory)."""
        return f"{down(setting_hPa):.0f}\u00a0hPa" if self.metric else f"{setting_hPa / HPA_PER_INHG:.2f}\u00a0inHg"


US = Printing(
    US_UNITS,
    MappingProxyType(
        {
            "ft": Form("ft", step=5),
            "lb": Form("lb"),
            "kt": Form("kt"),
            "gal": Form("gal", step=0.1),
            "min": Form("min"),
        }
    ),
)
# Heights, which stay in ft on every sheet, to a whole one.
HEIGHTS = Printing(US_UNITS, MappingProxyType({"ft": Form("ft")}))
METRIC = Printing(
    METRIC_UNITS,
    MappingProxyType(
        {
            "ft": Form("m", FT_PER_M),
            "lb": Form("kg", LB_PER_KG),
            "kt": Form("kt"),
            "gal": Form("L", 1 / L_PER_GAL, 0.1),
            "min": Form("min"),
        }
    ),
)

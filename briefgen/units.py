"""Read quantities at the border; keep fixed units inside.

Inside: ft, kt, lb, in, lb-in, degC, hPa, s, deg, g, NM, US gal, gal/h, ft/min, and plain fractions for percent.
At the border every quantity carries its unit: ``950 ft``, ``18 degC``, ``30.02 inHg``. A bare number is refused.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

FT_PER_M = 1 / 0.3048  # exact: international foot, 1959
KT_PER_MPH = 1609.344 / 1852  # exact: international mile and nautical mile
KT_PER_KMH = 1 / 1.852  # exact: international nautical mile, 1929
LB_PER_KG = 1 / 0.45359237  # exact: international avoirdupois pound, 1959
HPA_PER_INHG = 13595.1 * 9.80665 * 0.0254 / 100  # conventional mercury at 0 degC, standard gravity (BS 350)
FT_PER_NM = 1852 / 0.3048  # exact
KT_TO_FT_PER_S = FT_PER_NM / 3600  # exact
NM_PER_KM = 1 / 1.852  # exact: international nautical mile, 1929
NM_PER_SM = 1609.344 / 1852  # exact: international mile
L_PER_GAL = 3.785411784  # exact: the US gallon is 231 cubic inches
G_FT_PER_S2 = 9.80665 / 0.3048  # exact: standard gravity, CGPM 1901

KPA_PER_PSI = 0.45359237 * 9.80665 / 0.0254**2 / 1000  # exact: pound, inch, standard gravity

# kind -> unit -> (scale, offset): inside = text number x scale + offset
_KINDS: dict[str, dict[str, tuple[float, float]]] = {
    "length": {"ft": (1, 0), "m": (FT_PER_M, 0)},
    "speed": {"kt": (1, 0), "mph": (KT_PER_MPH, 0), "km/h": (KT_PER_KMH, 0)},
    "weight": {"lb": (1, 0), "kg": (LB_PER_KG, 0)},
    "temperature": {"degC": (1, 0), "degF": (5 / 9, -32 * 5 / 9)},
    "temperature change": {"degC": (1, 0), "degF": (5 / 9, 0)},
    "pressure": {"hPa": (1, 0), "inHg": (HPA_PER_INHG, 0)},
    "tire pressure": {"psi": (1, 0), "kPa": (1 / KPA_PER_PSI, 0), "bar": (100 / KPA_PER_PSI, 0)},
    "duration": {"s": (1, 0), "min": (60, 0), "h": (3600, 0)},
    "angle": {"deg": (1, 0)},
    "percent": {"%": (0.01, 0)},
    "deceleration": {"g": (1, 0)},
    "distance": {"NM": (1, 0), "km": (NM_PER_KM, 0), "SM": (NM_PER_SM, 0)},
    "arm": {"in": (1, 0), "mm": (1 / 25.4, 0), "cm": (1 / 2.54, 0)},
    "moment": {"lb-in": (1, 0), "kg-mm": (LB_PER_KG / 25.4, 0), "kg-m": (LB_PER_KG / 0.0254, 0)},
    "volume": {"gal": (1, 0), "L": (1 / L_PER_GAL, 0)},
    "fuel density": {"lb/gal": (1, 0), "kg/L": (LB_PER_KG * L_PER_GAL, 0)},
    "fuel flow": {"gal/h": (1, 0), "L/h": (1 / L_PER_GAL, 0)},
    "climb rate": {"ft/min": (1, 0), "m/s": (60 * FT_PER_M, 0)},
}
KINDS: Mapping[str, Mapping[str, tuple[float, float]]] = MappingProxyType(_KINDS)
INSIDE: Mapping[str, str] = MappingProxyType({kind: next(iter(units)) for kind, units in _KINDS.items()})

_NUMBER = r"[+-]?(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]+)(?:\.[0-9]+)?"


def pattern(kind: str) -> str:
    """Return the regular expression, as JSON Schema writes it, of a quantity of one kind."""
    names = "|".join(_KINDS[kind])
    return f"^{_NUMBER} ?(?:{names})$"


_PARSERS = {kind: re.compile(rf"({_NUMBER}) ?({'|'.join(map(re.escape, units))})") for kind, units in KINDS.items()}


def parse(kind: str, text: str) -> float:
    """Return a quantity in the inside unit of its kind.

    Parameters
    ----------
    kind : one of `KINDS`.
    text : a number, at most one space, and a unit of that kind.

    Raises
    ------
    ValueError : the text is no quantity of this kind.

    >>> parse("length", "1,150 ft"), round(parse("temperature", "50 degF"), 6)
    (1150.0, 10.0)
    """
    found = _PARSERS[kind].fullmatch(text)
    if not found:
        raise ValueError(f"{text!r} is no {kind} with a unit of {', '.join(KINDS[kind])}")
    scale, offset = KINDS[kind][found[2]]
    return float(found[1].replace(",", "")) * scale + offset


# Rounding to what is printed. A quantity within a millionth of a step counts as on it, so that the
# last bit of a multiplication never adds five feet.
_GRACE = 1e-6


def up(value: float, step: float = 1) -> float:
    """Round up to a whole multiple of `step`.

    >>> up(850.5, 5), up(830.0000000001, 5)
    (855, 830)
    """
    return math.ceil(value / step - _GRACE) * step


def down(value: float, step: float = 1) -> float:
    """Round down to a whole multiple of `step`.

    >>> down(1118.9, 5)
    1115
    """
    return math.floor(value / step + _GRACE) * step

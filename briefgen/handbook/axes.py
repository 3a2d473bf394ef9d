"""The quantities that a handbook's table can be entered with: how each is said, which way of it is the worse."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from briefgen.units import INSIDE, KINDS


class Quantity(NamedTuple):
    """What an axis of a table is: its words, the kind of its unit, and what its low end is called.

    `rises`: more of it makes a distance longer; a headwind is the one that makes it shorter.
    """

    words: str
    kind: str  # of units.KINDS
    low_end: str
    rises: bool = True


QUANTITIES: Mapping[str, Quantity] = MappingProxyType(
    {
        "pressure_altitude_ft": Quantity("pressure altitude", "length", "lowest row"),
        "density_altitude_ft": Quantity("density altitude", "length", "lowest row"),
        "temperature_degC": Quantity("temperature", "temperature", "coldest column"),
        "above_standard_degC": Quantity("temperature above standard", "temperature change", "coldest column"),
        "weight_lb": Quantity("weight", "weight", "lightest weight"),
        "headwind_kt": Quantity("headwind", "speed", "least headwind", rises=False),
    }
)
HEADWIND = "headwind_kt"  # a tailwind is less than nil of it
AGAINST, BEHIND = "headwind", "tailwind"  # the causes that printed columns of wind answer, in place of notes
# What no other row of a working says: made of what is typed, and counted as the policy has it.
WORKED_OUT = ("density_altitude_ft", "above_standard_degC", HEADWIND)
_SIGNS = {"degC": "°C", "degF": "°F"}


def said(name: str, value: float, unit: str = "") -> str:
    """Return an amount with the words for it, in a page's unit.

    Parameters
    ----------
    name : one of `QUANTITIES`.
    value : in the inside unit that the name ends in.
    unit : the page's; '' for the inside unit.

    >>> said("temperature_degC", 20.0, "degF"), said("headwind_kt", -5.0)
    ('temperature 68 °F', 'tailwind 5 kt')
    """
    if name == HEADWIND:
        return brief(name, value, unit)
    return f"{QUANTITIES[name].words} {brief(name, value, unit)}"


def brief(name: str, value: float, unit: str = "") -> str:
    """Return an amount in figures and its unit alone; a wind with its name, for its sign would not be read."""
    kind = QUANTITIES[name].kind
    if unit:
        scale, offset = KINDS[kind][unit]
        value = (value - offset) / scale
    unit = unit or INSIDE[kind]
    words = f"{abs(value) if name == HEADWIND else value:,.1f}".removesuffix(".0") + f" {_SIGNS.get(unit, unit)}"
    if name == HEADWIND:
        return f"{BEHIND if value < 0 else AGAINST} {words}"
    return words


def about(name: str, value: float) -> str:
    """Return the name of the typed value that is at fault where an axis does not reach it."""
    return BEHIND if name == HEADWIND and value < 0 else name

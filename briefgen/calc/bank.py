"""The stall in a level turn: as printed with the wings level, faster by the root of the load factor in a bank."""

from math import cos, radians, sqrt
from typing import NamedTuple

from briefgen.calc.speeds import calibrated, calibration, find, indicated, speed
from briefgen.figures import Figure, Source, missing, stated
from briefgen.model.aircraft import UP, Aircraft

BANKS_DEG = (30, 45, 60)  # those of PHAK FAA-H-8083-25C fig. 11-34
LEVEL_TURN = Source(
    "level turn: the stall rises with the root of the load factor, 1/cos bank: PHAK FAA-H-8083-25C fig. 11-34",
    "published",
)
NO_STALL = "the aircraft file has no speeds: stall for flaps"


class StallRow(NamedTuple):
    """The stall of one flap setting [kt indicated]: wings level, then at each of `BANKS_DEG`.

    `weight_lb` is None where the handbook prints one speed for every weight.
    """

    flaps: str
    weight_lb: float | None
    level: Figure
    banked: tuple[Figure, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All of it, wings level first."""
        return (self.level, *self.banked)


def stalls(aircraft: Aircraft, flaps: str, weights_lb: tuple[float, ...]) -> tuple[StallRow, ...]:
    """Return the stall with the flaps up and at one setting, at each weight; once where all weights have one.

    Parameters
    ----------
    aircraft : its stall speeds and airspeed calibration.
    flaps : the landing's setting.
    weights_lb : each above 0 [lb].
    """
    rows = []
    for setting in dict.fromkeys((UP, flaps)):
        entry = find(aircraft.stall, setting)
        by_weight = entry is not None and bool(entry.weights_lb)
        for weight_lb in dict.fromkeys(weights_lb) if by_weight else (None,):
            label = f"stall, flaps {setting}" + (f", {weight_lb:,.0f}\u00a0lb" if weight_lb else "")
            level = speed(entry, label, weight_lb or weights_lb[0])
            if entry is None:
                level = missing(label, "kt", f"{NO_STALL} {setting}")
            rows.append(
                StallRow(setting, weight_lb, level, tuple(banked(aircraft, setting, level, b) for b in BANKS_DEG))
            )
    return tuple(rows)


def banked(aircraft: Aircraft, flaps: str, level: Figure, bank_deg: float) -> Figure:
    """Return the stall in a level turn [kt indicated].

    The law is of calibrated airspeed. Where the handbook's calibration covers the speed, it is gone through, and a
    result past its end is refused; where it does not, the printed speed is scaled as it stands, an estimate: near
    the stall an airspeed indicator can read low, and the true figure is then higher.

    Parameters
    ----------
    aircraft : its airspeed calibration.
    flaps : the setting.
    level : the stall with the wings level, as printed.
    bank_deg : 0 to under 90 [deg].
    """
    label = f"{level.label}, {bank_deg:g}° of bank"
    if level.value is None:
        return missing(label, "kt", level.reason, level.about)
    rise = 1 / sqrt(cos(radians(bank_deg)))
    table = calibration(aircraft, flaps, level.value)
    if table is None:
        detail = f"{level.value:.1f}\u00a0kt × {rise:.3f}; no airspeed calibration there"
        return _figure(label, level.value * rise, detail, estimate=True)
    slow_kt = calibrated(aircraft, flaps, level.value)
    value = indicated(table, slow_kt * rise)
    if value is None:
        return missing(label, "kt", f"{slow_kt * rise:.0f} kt is past the airspeed calibration ({table.page})")
    detail = f"{slow_kt:.1f}\u00a0kt calibrated × {rise:.3f}, back to indicated ({table.page})"
    return _figure(label, value, detail, estimate=False)


def _figure(label: str, value: float, detail: str, *, estimate: bool) -> Figure:
    return stated(label, "kt", value, detail, LEVEL_TURN)._replace(estimate=estimate)

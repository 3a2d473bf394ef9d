"""The air and the ground, as they are expected at one field."""

from typing import NamedTuple


class Wind(NamedTuple):
    """A wind. Directions are where it blows from, in degrees true.

    `from_deg` None with a speed means variable in direction; `between_deg` is the range, clockwise, of one that
    is reported as varying. `gust_kt` is at least the steady speed.
    """

    from_deg: float | None
    steady_kt: float
    gust_kt: float
    between_deg: tuple[float, float] | None = None
    text: str = ""


class Conditions(NamedTuple):
    """What to expect at one field.

    `surface`: dry, wet, standing water, slush, snow or ice. `soft` ground gives under the wheels. `grass`: very
    short, to 20 cm, long, or '' where it is not said, which counts as to 20 cm.
    `ground_said` False: whether the ground is firm is not said, as it need not be for a paved runway.
    """

    temperature_degC: float
    altimeter_hPa: float
    wind: Wind
    surface: str
    soft: bool = False
    grass: str = ""
    dew_point_degC: float | None = None
    ground_said: bool = True

"""The air and the ground, as they are expected at one field."""

from datetime import datetime
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


DANGERS = (THUNDERSTORM, FUNNEL_CLOUD, HAIL, FREEZING, STORM_CLOUD, SHEAR, FOG) = (
    "thunderstorm",
    "funnel cloud",
    "hail",
    "freezing precipitation",
    "storm cloud",
    "wind shear",
    "fog",
)


class Hazard(NamedTuple):
    """A danger of the weather: one of `DANGERS`, and what is said of it, with how much it is expected."""

    kind: str
    words: str


class Told(NamedTuple):
    """A report or a forecast: as it was sent, group by group in plain words, and how old it is [min]."""

    text: str
    words: tuple[tuple[str, str], ...]
    age_min: float
    valid: str = ""  # of a forecast: from when to when


class Taken(NamedTuple):
    """One thing that was taken from somewhere: what, as it was used, from where, and what the reports say of it."""

    what: str
    used: str
    by: str
    reported: str = ""


class Seen(NamedTuple):
    """A ceiling [ft above the field] or a visibility [SM]; None with the reason where it is not known.

    A ceiling that is not there is as high as the sky is known to be clear: infinite where that is all of it; else
    `beyond`: above it nothing is known.
    """

    value: float | None
    words: str = ""
    reason: str = ""
    beyond: bool = False


class Sent(NamedTuple):
    """What a report and a forecast give a field, the worst of each; `but`: why it does not count, '' where it does.

    A value that is not known is one that was not sent; `lost`: what was sent of ceiling, visibility or wind and
    gives no figure, and why.
    """

    but: str
    ceiling: Seen
    visibility: Seen
    winds: tuple[Wind, ...]
    temperature_degC: float | None
    altimeter_hPa: float | None
    lost: tuple[tuple[str, str], ...] = ()


class FieldWeather(NamedTuple):
    """What was typed, reported and forecast for one field, and what of it was used.

    `window`: the time that it was looked up for. `station`: the reporting station, and how far off and how much
    higher it is, where that is given. `typed`: which conditions were typed; `sent`: all that is to be held against
    them, whether it counts or not. `spread_degC` is that
    of the conditions used, None where a dew point is not known.
    """

    window: str
    ceiling: Seen
    visibility: Seen
    station: str = ""
    report: Told | None = None
    forecast: Told | None = None
    taken: tuple[Taken, ...] = ()
    hazards: tuple[Hazard, ...] = ()
    station_doubts: tuple[str, ...] = ()  # what of it is far, or not said
    typed: tuple[str, ...] = ()
    sent: tuple[Sent, ...] = ()
    doubts: tuple[str, ...] = ()
    not_decoded: tuple[str, ...] = ()
    spread_degC: float | None = None
    given: bool = False  # the trip file gives a report, a forecast, a ceiling or a visibility
    warmer: str = ""  # the highest temperature forecast, and when, where it is over the one that is used
    soon: tuple[str, ...] = ()  # what of the forecast begins or ends shortly after or before that time
    asked_at: datetime | None = None  # the typed time of use, beside a report or a forecast


class Conditions(NamedTuple):
    """What to expect at one field.

    `surface`: dry, wet, standing water, slush, snow or ice. `soft` ground gives under the wheels. `grass`: very
    short, to 20 cm, long, or '' where it is not said, which counts as to 20 cm.
    `wind` has the largest gust factor of all that count; `other_winds` are the rest, from reports and forecasts.
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
    other_winds: tuple[Wind, ...] = ()
    weather: FieldWeather | None = None

    @property
    def winds(self) -> tuple[Wind, ...]:
        """Every wind that must be counted with."""
        return (self.wind, *self.other_winds)

    @property
    def strongest(self) -> Wind:
        """The one of them with the strongest gust."""
        return max(self.winds, key=lambda each: each.gust_kt)


class NotGiven(NamedTuple):
    """What stands for conditions that the trip file does not give: why nothing that needs them is shown."""

    reason: str  # 'the trip file gives no conditions at the departure'

    @property
    def wind(self) -> "NotGiven":
        """Of what is not given, the wind is not given either."""
        return self

    @property
    def weather(self) -> None:
        """Nor is anything reported, forecast or typed of the sky."""
        return None

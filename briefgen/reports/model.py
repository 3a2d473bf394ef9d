"""What reports and forecasts say.

Winds in kt and degrees true, heights in ft above the ground, temperatures in degC, pressures in hPa, moments in
UTC. A visibility is in statute miles, because the minimums it is held against are: halves, quarters and eighths
are then exact. Metres become miles by the definition of the mile.
"""

from __future__ import annotations

from datetime import datetime
from typing import Generic, NamedTuple, TypeVar

from briefgen.model.weather import Wind

# Kinds of groups. The first four are quantities that `outlook` looks for in every period.
WIND, VISIBILITY, CLOUD, WEATHER = "wind", "visibility", "cloud", "weather"
CEILING, SHEAR, RANGE, PEAK = "ceiling", "wind shear", "runway visual range", "peak wind"
CAVOK, TEMPERATURE, TENTHS, ALTIMETER = "cloud and visibility", "temperature", "tenths of temperature", "altimeter"
HEADING, CHANGE, REMARK, END = "heading", "change", "remark", "end"
OTHER, NOT_DECODED = "of another station", "not decoded"

# How much a period's weather is expected.
OBSERVED, PREVAILING, BECOMING, TEMPORARY = "observed", "prevailing", "becoming", "temporary"
PROBABLE = {30: "probability 30\u00a0%", 40: "probability 40\u00a0%"}
UNCLEAR = "at an unclear time"


class ReportedWind(NamedTuple):
    """A wind of a report. `more_than`: the speed is at least that of `wind`, coded as P99."""

    wind: Wind
    more_than: bool = False


class Visibility(NamedTuple):
    """A horizontal visibility [SM], 0 or more; `less_than`, `more_than`: on which side of it the truth lies."""

    distance_SM: float
    less_than: bool = False
    more_than: bool = False
    text: str = ""


class Cloud(NamedTuple):
    """A layer, or what is said instead of one.

    `amount`: few, scattered, broken, overcast, vertical visibility, none, or '' where it was not observed.
    `base_ft` [ft above the ground]: None where there is no layer, or where its height was not observed.
    `clear_below_ft` [ft]: of 'none', up to which height the text says so; None where it says so of the whole sky.
    """

    amount: str
    base_ft: float | None = None
    type: str = ""  # 'cumulonimbus', 'towering cumulus', or ''
    clear_below_ft: float | None = None
    text: str = ""


class Ceiling(NamedTuple):
    """The height of a ceiling [ft above the ground]; None: there is none, up to `clear_below_ft` where given."""

    height_ft: float | None
    text: str = ""
    clear_below_ft: float | None = None


class Weather(NamedTuple):
    """Weather at a field or near it, by its code letters. No phenomena and no descriptor: none of significance.

    `intensity`: '-', '' or '+'. `nearby`: not at the field. `recent`: earlier, and no more.
    """

    intensity: str = ""
    descriptor: str = ""
    phenomena: tuple[str, ...] = ()
    nearby: bool = False
    recent: bool = False
    words: str = ""


class RunwayRange(NamedTuple):
    """The visual range along one runway [ft]; `least_ft` and `most_ft` are equal where it does not vary."""

    runway: str
    least_ft: float
    most_ft: float
    less_than: bool = False  # the least is less still
    more_than: bool = False  # the most is more still


class Shear(NamedTuple):
    """A wind at a height [ft above the ground] that differs from that below; None where only a runway is named."""

    height_ft: float | None
    wind: Wind | None


class Temperatures(NamedTuple):
    """Temperature and dew point [degC]; None where one was not reported."""

    temperature_degC: float | None
    dew_point_degC: float | None


class Extreme(NamedTuple):
    """The highest or the lowest temperature forecast [degC], and when: day of the month and hour, UTC."""

    highest: bool
    temperature_degC: float
    day: int
    hour: int


class Pressure(NamedTuple):
    """An altimeter setting [hPa], and as it was given: '29.92 inHg'."""

    setting_hPa: float
    given: str


Value = (
    ReportedWind
    | Visibility
    | Cloud
    | Ceiling
    | Weather
    | RunwayRange
    | Shear
    | Temperatures
    | Extreme
    | Pressure
    | datetime
    | None
)


class Group(NamedTuple):
    """One group of a text: its tokens as they were sent, its kind, its meaning in plain words and as a value.

    A group that was not decoded has one token and no words.
    """

    tokens: tuple[str, ...]
    kind: str
    words: str
    value: Value = None

    @property
    def text(self) -> str:
        """The group as it was sent."""
        return " ".join(self.tokens)


class Period(NamedTuple):
    """A part of a forecast: `code` is its heading as sent, `words` that in plain words, `groups` what it says."""

    status: str
    code: str
    words: str
    from_: datetime
    to: datetime
    groups: tuple[Group, ...]


class Report(NamedTuple):
    """One METAR.

    `groups` are all of them in the order sent; `body` is what describes the weather now; `trend` what it adds as a
    forecast of two hours. `doubts`: what in it contradicts itself. Temperatures are in tenths where the remarks
    give these and they agree.
    """

    station: str
    made: datetime
    special: bool
    automated: bool
    corrected: bool
    groups: tuple[Group, ...]
    body: tuple[Group, ...]
    trend: tuple[Period, ...]
    temperature_degC: float | None
    dew_point_degC: float | None
    altimeter: Pressure | None
    doubts: tuple[str, ...]


class Forecast(NamedTuple):
    """One TAF: `groups` are all of them in the order sent; `periods` the first one and its changes, as sent.

    A period at an unclear time covers the whole validity; one without a code repeats groups of the period before.
    """

    station: str
    made: datetime
    amended: bool
    corrected: bool
    valid_from: datetime
    valid_to: datetime
    groups: tuple[Group, ...]
    periods: tuple[Period, ...]


T = TypeVar("T")


class Found(NamedTuple, Generic[T]):
    """One value that counts in a window: as it was coded, how much it is expected, and in which period."""

    value: T
    text: str
    status: str
    where: str


class Missing(NamedTuple):
    """A quantity that a window lacks, or 'all', and why."""

    quantity: str
    reason: str


class Expected(NamedTuple):
    """Everything that counts in a window, the worst first.

    `missing` says what is not known in all or a part of the window: the worst of the rest is then not the worst.
    `lost` are those of them of which something was sent: a height not observed, a group that was not decoded.
    `doubts` are tokens that were not decoded, and contradictions; `left_out` is what was given and does not count.
    """

    from_: datetime
    to: datetime
    winds: tuple[Found[ReportedWind], ...]
    visibilities: tuple[Found[Visibility], ...]
    ceilings: tuple[Found[Ceiling], ...]
    weather: tuple[Found[Weather], ...]
    shears: tuple[Found[Shear], ...]
    clouds: tuple[Found[Cloud], ...]
    missing: tuple[Missing, ...]
    doubts: tuple[str, ...]
    left_out: tuple[str, ...] = ()
    lost: tuple[Missing, ...] = ()

    @property
    def wind(self) -> Found[ReportedWind] | None:
        """The one of the strongest gust, and among these of the strongest steady wind."""
        return self.winds[0] if self.winds else None

    @property
    def visibility(self) -> Found[Visibility] | None:
        """The least."""
        return self.visibilities[0] if self.visibilities else None

    @property
    def ceiling(self) -> Found[Ceiling] | None:
        """The lowest; one with no height where no period has a ceiling."""
        return self.ceilings[0] if self.ceilings else None


class Level(NamedTuple):
    """The wind and the temperature [degC] forecast at one altitude [ft above sea level]; None: not given there."""

    altitude_ft: float
    wind: ReportedWind
    temperature_degC: float | None
    text: str
    words: str


class Aloft(NamedTuple):
    """Winds aloft over one station. `valid` and the window of use are None where the text does not give them."""

    station: str
    valid: datetime | None
    use_from: datetime | None
    use_to: datetime | None
    levels: tuple[Level, ...]
    groups: tuple[Group, ...]


def not_decoded(groups: tuple[Group, ...]) -> tuple[str, ...]:
    """Return every token that has no meaning in words, in the order sent."""
    return tuple(group.text for group in groups if group.kind == NOT_DECODED)

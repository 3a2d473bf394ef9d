"""The field: its runways, both ends of each, and what a pilot can see from the cockpit."""

from typing import NamedTuple

NO_LIGHTING, LIGHTING = "none", ("runway lights", "pilot-controlled")  # to land by in the dark; or none


class Obstacle(NamedTuple):
    """Something to clear: its top above the runway end, and how far outside that end it stands [ft]."""

    what: str
    height_ft: float
    distance_ft: float


class Mark(NamedTuple):
    """Something a pilot can see beside the strip, by its distance from the end of the pavement or grass [ft].

    `from_end` is the ident of the end that it was measured from (from that end's landing threshold).
    """

    what: str
    at_ft: float
    from_end: str
    counted: bool = False  # one of a row: named by its number as the airplane passes


class End(NamedTuple):
    """One end of a runway, as used by a pilot who lands or begins a takeoff over it.

    `heading_deg` is true; `heading_known_to_deg` is 5 where it was only read from the ident. Declared distances are
    None where none are published.
    """

    ident: str
    heading_deg: float
    heading_known_to_deg: float
    displaced_ft: float = 0.0
    elevation_ft: float | None = None
    tora_ft: float | None = None
    toda_ft: float | None = None
    asda_ft: float | None = None
    lda_ft: float | None = None
    obstacles: tuple[Obstacle, ...] = ()
    beyond: str = ""  # what lies past this end
    go_around: bool = True  # False: the strip says that a landing on this runway cannot be broken off
    takeoff: bool = True
    landing: bool = True


class Runway(NamedTuple):
    """One runway: two ends, opposite ways. `slope` is a fraction, up from the first end to the second."""

    length_ft: float
    surface: str  # paved, grass, gravel
    ends: tuple[End, End]
    slope: float
    marks: tuple[Mark, ...] = ()
    width_ft: float | None = None
    lighting: str = ""  # none, runway lights, pilot-controlled; '' where the strip does not say

    @property
    def lit(self) -> bool:
        """Whether a landing in the dark has lights by the strip; what is not said counts as none."""
        return self.lighting in LIGHTING


class Strip(NamedTuple):
    """One field."""

    name: str
    elevation_ft: float
    latitude_deg: float
    longitude_deg: float
    variation_deg: float  # east positive
    runways: tuple[Runway, ...]
    source: str
    remarks: tuple[str, ...] = ()
    not_for_flight: str = ""
    airspace: str = ""  # its class at the surface: B, C, D, E or G; '' where that is not given

    def end(self, ident: str) -> tuple[Runway, End, End] | None:
        """Return the runway, the end with this ident, and the opposite end; None if there is no such end."""
        for runway in self.runways:
            for end, opposite in (runway.ends, runway.ends[::-1]):
                if end.ident == ident:
                    return runway, end, opposite
        return None

    @property
    def idents(self) -> tuple[str, ...]:
        """Every runway ident of the field."""
        return tuple(end.ident for runway in self.runways for end in runway.ends)

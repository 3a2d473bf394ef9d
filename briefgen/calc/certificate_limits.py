"""What a student's and a recreational pilot's certificate allows: whom to carry, how far, and in which light.

Looked at is what a trip file says of them; what else the rules limit is named in the words of each, and is not
looked at. All of it is from memory: the text in force governs.
"""

from __future__ import annotations

from datetime import date

from briefgen.calc.due import Paper, Standing, answered, for_good
from briefgen.figures import Source
from briefgen.model.papers import Occasion

STUDENT = Source("14 CFR 61.89(a), 61.87(o)", "regulation", "from memory")
CROSS_COUNTRY = Source("14 CFR 61.93", "regulation", "from memory")
RECREATIONAL = Source("14 CFR 61.101", "regulation", "from memory")

STUDENT_NM = 25.0  # from where the flight began, past which it is a cross-country of 61.93 (from memory)
RECREATIONAL_NM = 50.0  # from the departure, past which 61.101(c) asks for more (from memory)
RECREATIONAL_PERSONS = 2  # the pilot and one passenger: 61.101(a)(1) (from memory)


def student_limits(cross_country: date | None, flight: Occasion) -> tuple[Paper, ...]:
    """Return what limits a student pilot alone, and the endorsement to leave the field for another or far.

    Parameters
    ----------
    cross_country : the day of the endorsement for this flight; None: not given.
    flight : whom it carries, how far it goes, and whether it is at night.
    """
    limits = answered(
        "student-limits",
        "limits of a student pilot",
        STUDENT,
        {"carries nobody": _alone(flight), "by day, or with a night endorsement": _yes(flight.night is False)},
        no="broken",
        rest="visibility, sight of the surface, and the instructor's own limits are not looked at",
    )
    endorsed = for_good(
        "solo-cross-country", "solo cross-country endorsement", CROSS_COUNTRY, cross_country, flight
    )
    if endorsed.standing is Standing.CURRENT:
        endorsed = endorsed._replace(reason="that it is for this flight, and in its conditions, is not looked at")
    home = flight.elsewhere is False and _within(flight, STUDENT_NM)
    past = f"flights to another field, or past {STUDENT_NM:g}\u00a0NM"
    return limits, endorsed._replace(asked_of=past if home else "")


def recreational_limits(flight: Occasion) -> Paper:
    """Return what limits a recreational pilot; past the distance an endorsement would do, which no file gives.

    Parameters
    ----------
    flight : whom it carries, how far it goes, and whether any of it is between sunset and sunrise.
    """
    by_sun = None if flight.after_sunset is None else not flight.after_sunset
    return answered(
        "recreational-limits",
        "limits of a recreational pilot",
        RECREATIONAL,
        {
            "one passenger at most": _one_passenger(flight),
            f"within {RECREATIONAL_NM:g}\u00a0NM of the departure, or trained and endorsed for more": _yes(
                _within(flight, RECREATIONAL_NM)
            ),
            "between sunrise and sunset": by_sun,
        },
        no="broken",
        rest="its airspace, height, visibility, seats and power are not looked at",
    )


def _alone(flight: Occasion) -> bool | None:
    """Return whether a student carries nobody; None: neither the trip nor its load says it."""
    if flight.carries or (flight.persons is not None and flight.persons > 1):
        return False
    return None if flight.carries is None else True


def _one_passenger(flight: Occasion) -> bool | None:
    """Return whether no more than one is carried; None where no load says how many are."""
    if flight.persons is not None:
        return flight.persons <= RECREATIONAL_PERSONS
    return _yes(flight.carries is False)


def _within(flight: Occasion, distance_nm: float) -> bool:
    return flight.farthest_nm is not None and flight.farthest_nm <= distance_nm


def _yes(kept: bool) -> bool | None:
    """Return yes, or else not known: an endorsement that no file gives would do as well."""
    return True if kept else None

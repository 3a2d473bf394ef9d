"""What a student's and a recreational pilot's certificate allows: whom to carry, how far, in which light and sight.

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
DAY_SM, NIGHT_SM = 3.0, 5.0  # of a student: 61.89(a)(6); of a recreational pilot 3: 61.101(e) (from memory)
UNTYPED = "visibility not typed on the way"
RECREATIONAL_PERSONS = 2  # the pilot and one passenger: 61.101(a)(1) (from memory)


def student_limits(cross_country: date | None, flight: Occasion) -> tuple[Paper, ...]:
    """Return what limits a student pilot alone, and the endorsement to leave the field for another or far.

    Parameters
    ----------
    cross_country : the day of the endorsement for this flight; None: not given.
    flight : whom it carries, how far it goes, whether it is at night, and the visibility at its fields.
    """
    limits = answered(
        "student-limits",
        "limits of a student pilot",
        STUDENT,
        {
            "carries nobody": _alone(flight),
            "by day, or with a night endorsement": _yes(flight.night is False),
            f"visibility of {DAY_SM:g}\u00a0SM, at night {NIGHT_SM:g}\u00a0SM": _student_sees(flight),
        },
        no="broken",
        rest=f"{UNTYPED}, sight of the surface, and the instructor's own limits are not looked at",
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
    flight : whom it carries, how far it goes, whether any of it is between sunset and sunrise, and the visibility.
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
            f"visibility of {DAY_SM:g}\u00a0SM": _sees(flight, DAY_SM),
        },
        no="broken",
        rest=f"its airspace and height, {UNTYPED}, seats and power are not looked at",
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


def _student_sees(flight: Occasion) -> bool | None:
    """Return whether a student has the visibility; where night is not known, both are asked for."""
    by_day, by_night = _sees(flight, DAY_SM), _sees(flight, NIGHT_SM)
    if flight.night is None:
        return by_day if by_day is False else _yes(by_night is True)
    return by_night if flight.night else by_day


def _sees(flight: Occasion, least_SM: float) -> bool | None:
    """Return whether every visibility is enough; one that is too little is, whatever the others may be."""
    if any(each is not None and each < least_SM for each in flight.sights_SM):
        return False
    return _yes(bool(flight.sights_SM) and None not in flight.sights_SM)


def _within(flight: Occasion, distance_nm: float) -> bool:
    return flight.farthest_nm is not None and flight.farthest_nm <= distance_nm


def _yes(kept: bool) -> bool | None:
    """Return yes, or else not known: an endorsement that no file gives would do as well."""
    return True if kept else None

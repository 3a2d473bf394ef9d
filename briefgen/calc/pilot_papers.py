"""What a pilot must hold for a flight, and through when: 14 CFR part 61, part 68, and the club's own.

Only for the pilot in command of an airplane under part 91 whose flight asks for no more than a third-class medical
certificate: private, recreational and student pilots. Regulations change: the text in force governs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from types import MappingProxyType

from briefgen.calc.certificate_limits import recreational_limits, student_limits
from briefgen.calc.due import (
    Paper,
    Standing,
    answered,
    by_days,
    by_months,
    for_good,
    not_shown,
    too_late,
    within_90_days,
)
from briefgen.figures import Source, missing
from briefgen.model.papers import BasicMed, ClubPaper, LogLine, Medical, Occasion, PilotPapers

RECREATIONAL = "recreational"
REVIEW = Source("14 CFR 61.56(c)", "regulation")
MEDICAL = Source("14 CFR 61.23(d)", "regulation")
BASIC_COURSE = Source("14 CFR 61.23(c)(3), course", "regulation")
BASIC_EXAM = Source("14 CFR 61.23(c)(3), examination; 89 FR 90572", "regulation")
RECENT_DAY = Source("14 CFR 61.57(a)", "regulation")
RECENT_NIGHT = Source("14 CFR 61.57(b)", "regulation")
SOLO = Source("14 CFR 61.87(n)", "regulation")
CARRY = Source("14 CFR 61.3, 61.51", "regulation", "from memory")

REVIEW_MONTHS = 24  # 61.56(c) (read)
MEDICAL_MONTHS = MappingProxyType(
    {True: 60, False: 24}
)  # under 40 or not, for third-class privileges: 61.23(d) (read)
COURSE_MONTHS, EXAM_MONTHS = 24, 48  # BasicMed (read)
BASIC_MED_MONTHLY = date(2024, 11, 18)  # since when both run to the end of a month: 89 FR 90572 (read)
BASIC_LIMITS = "that the flight keeps to 18,000\u00a0ft and 250\u00a0kt is not looked at"  # (read)
TIMES = 3  # takeoffs, and landings: 61.57 (read)

CARRIED = ("pilot certificate", "medical or BasicMed papers", "photo identification")
ENDORSEMENTS: Mapping[str, Source] = MappingProxyType(
    {
        "complex": Source("14 CFR 61.31(e)", "regulation", "second-hand"),
        "high performance": Source("14 CFR 61.31(f)", "regulation"),
        "tailwheel": Source("14 CFR 61.31(i)", "regulation", "from memory"),
    }
)


def pilot_papers(pilot: PilotPapers, flight: Occasion, features: Mapping[str, bool]) -> tuple[Paper, ...]:
    """Return every paper of a pilot for a flight, each with its standing.

    Parameters
    ----------
    pilot : what the pilot holds.
    flight : when the flight is, and whom it carries.
    features : of the airplane: complex, high performance, tailwheel; one not answered is taken as there.
    """
    return (
        _review(pilot, flight),
        *_medical(pilot.medical, pilot.basic_med, flight),
        *recency(pilot.log, flight, tailwheel=features.get("tailwheel", True), student=pilot.student),
        *_limits(pilot, flight),
        *_endorsements(pilot, features),
        answered("carried", "carried by the pilot", CARRY, {name: pilot.carried.get(name) for name in CARRIED}),
        *(_club(paper, flight) for paper in pilot.club),
    )


def limited(pilot: PilotPapers) -> bool:
    """Say whether the certificate limits how far from the departure a flight gets."""
    return pilot.student or pilot.certificate == RECREATIONAL


def _limits(pilot: PilotPapers, flight: Occasion) -> tuple[Paper, ...]:
    """Return what a student's or a recreational pilot's certificate limits; of the others nothing."""
    if pilot.student:
        solo = within_90_days("solo", "solo endorsement", SOLO, pilot.solo, flight)
        return (solo, *student_limits(pilot.solo_cross_country, flight))
    return (recreational_limits(flight),) if limited(pilot) else ()


def _review(pilot: PilotPapers, flight: Occasion) -> Paper:
    """A student with a current solo endorsement needs none: 61.56(g) (second-hand)."""
    found = by_months("flight-review", "flight review", REVIEW, pilot.flight_review, REVIEW_MONTHS, flight)
    return found._replace(asked_of="pilots who are no student" if pilot.student else "")


def _medical(medical: Medical | None, basic: BasicMed | None, flight: Occasion) -> list[Paper]:
    """Return the medical certificate or BasicMed; where both are given, one that is current is enough."""
    if medical is None and basic is None:
        return [not_shown("medical", "medical certificate or BasicMed", MEDICAL)]
    certificate = [_certificate(medical, flight)] if medical else []
    by_basic = _basic_med(basic, flight) if basic else []
    if medical and basic:
        if certificate[0].standing is Standing.CURRENT:
            by_basic = _for_information(by_basic, "pilots without a current medical certificate")
        elif all(each.standing is Standing.CURRENT for each in by_basic):
            certificate = _for_information(certificate, "pilots without BasicMed")
    return certificate + by_basic


def _for_information(papers: Iterable[Paper], asked_of: str) -> list[Paper]:
    return [each._replace(asked_of=asked_of) for each in papers]


def _certificate(medical: Medical, flight: Occasion) -> Paper:
    """Return a medical certificate of any class, for what asks for a third-class one."""
    months = MEDICAL_MONTHS[medical.under_40 is True]
    kind = {1: "first", 2: "second", 3: "third"}[medical.certificate]
    age = {True: "under 40", False: "40 or over", None: "age not given: as at 40 or over"}[medical.under_40]
    name = f"medical certificate, {kind} class, {age} at the examination, for private flying"
    return by_months("medical", name, MEDICAL, medical.examined, months, flight)


def _basic_med(basic: BasicMed, flight: Occasion) -> list[Paper]:
    """Return the two dates of BasicMed by the rule since 2024-11-18; for an earlier flight the rule was another.

    Its limits on the airplane, 12,500 lb, 7 occupants and 6 passengers (read), are past any airplane here; those on
    the flight, 18,000 ft and 250 kt (read), are not: that they are not looked at is said.
    """
    course = ("basicmed-course", "BasicMed course", BASIC_COURSE)
    exam = ("basicmed-exam", "BasicMed examination", BASIC_EXAM)
    if flight.first_day < BASIC_MED_MONTHLY:
        reason = f"the rule held here is in force from {BASIC_MED_MONTHLY}"
        none = missing("left", "days", reason)
        return [Paper(*each, Standing.NOT_SHOWN, left=none, reason=reason) for each in (course, exam)]
    by_course = by_months(*course, basic.course, COURSE_MONTHS, flight)
    if by_course.standing is Standing.CURRENT:
        by_course = by_course._replace(reason=BASIC_LIMITS)
    return [
        by_course,
        by_months(*exam, basic.examined, EXAM_MONTHS, flight),
    ]


def recency(
    log: tuple[LogLine, ...] | None, flight: Occasion, *, tailwheel: bool, student: bool = False
) -> tuple[Paper, Paper]:
    """Return the recency that carrying persons asks for: at any time, and in the night of 61.57(b).

    At any time: 3 takeoffs and 3 landings in the preceding 90 days; for an airplane with a tailwheel, all of them
    in one, to a full stop. In that night: 3 takeoffs and 3 landings to a full stop that were made in it.

    Parameters
    ----------
    log : the pilot's takeoffs and landings; None: not given. Lines after the first day of the flight, or after the
        day of the figures, do not count.
    flight : when the flight is, whether it carries persons, and whether any of it is in that night.
    tailwheel : whether the airplane has a tailwheel.
    student : a student pilot carries nobody.

    Source: 14 CFR 61.57(a) and (b) (read).
    """
    alone = student or flight.carries is False
    if tailwheel:
        name = "3 takeoffs and full-stop landings in a tailwheel airplane"
        by_day = _recent(
            ("recency-day", name, RECENT_DAY),
            log,
            (lambda line: line.takeoffs * line.tailwheel, lambda line: line.full_stops * line.tailwheel),
            flight,
        )
    else:
        by_day = _recent(
            ("recency-day", "3 takeoffs and landings", RECENT_DAY),
            log,
            (lambda line: line.takeoffs, lambda line: line.landings),
            flight,
        )
    by_night = _recent(
        ("recency-night", "3 takeoffs and full-stop landings at night", RECENT_NIGHT),
        log,
        (lambda line: line.night_takeoffs, lambda line: line.night_full_stops),
        flight,
    )
    day_only = alone or flight.passenger_night is False
    return (
        by_day._replace(asked_of="flights that carry persons" if alone else ""),
        by_night._replace(
            asked_of="flights that carry persons from 1 h after sunset to 1 h before sunrise" if day_only else ""
        ),
    )


_Count = Callable[[LogLine], int]


def _recent(
    about: tuple[str, str, Source], log: tuple[LogLine, ...] | None, counts: tuple[_Count, _Count], flight: Occasion
) -> Paper:
    """Return one recency: it runs from the third newest takeoff or landing, whichever is earlier."""
    if log is None:
        return not_shown(*about, "takeoffs and landings")
    thirds, short = [], []
    late = f"not counted: what is dated {too_late(flight)}" if any(line.day > flight.latest for line in log) else ""
    for what, count in zip(("takeoffs", "landings"), counts, strict=True):
        days = [line.day for line in log for _ in range(count(line)) if line.day <= flight.latest]
        thirds += sorted(days)[-TIMES : -TIMES + 1]
        short += [f"{len(days)} of {TIMES} {what}"] if len(days) < TIMES else []
    if short:
        reason = "; ".join(filter(None, (f"the log given has {' and '.join(short)}", late)))
        return Paper(*about, Standing.NOT_MET, left=missing("left", "days", reason), reason=reason)
    found = within_90_days(*about, min(thirds), flight)
    return found._replace(reason="; ".join(filter(None, (found.reason, late))))


def _endorsements(pilot: PilotPapers, features: Mapping[str, bool]) -> list[Paper]:
    """Return the endorsements that the airplane asks for; they do not run out."""
    return [
        answered(
            f"endorsement-{name.replace(' ', '-')}", f"endorsement: {name}", source, {name: pilot.held.get(name)}
        )
        for name, source in ENDORSEMENTS.items()
        if features.get(name, True)
    ]


def _club(paper: ClubPaper, flight: Occasion) -> Paper:
    about = (f"club-{paper.name.lower().replace(' ', '-')}", paper.name, paper.source, paper.done)
    if paper.months is not None:
        return by_months(*about, paper.months, flight)
    if paper.days is not None:
        return by_days(*about, paper.days, flight)
    return for_good(*about, flight)

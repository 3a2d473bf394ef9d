"""Papers of pilot and airplane against the rules' own figures: rows PL-01 to PL-07 and AW-01 to AW-09.

Each rule with how well it is known: read (in a copy of the document), second-hand, from memory. Dates computed by
hand from the calendar.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from briefgen.calc import airplane_papers as airplane_rules
from briefgen.calc import certificate_limits as limit_rules
from briefgen.calc import pilot_papers as pilot_rules
from briefgen.calc.airplane_papers import DAY, FEATURES, NIGHT, ON_BOARD, airplane_papers
from briefgen.calc.due import DAY_90, Paper, Standing, month_end
from briefgen.calc.pilot_papers import CARRIED, pilot_papers, recency
from briefgen.model.papers import AirplanePapers, BasicMed, LogLine, Medical, Occasion, PilotPapers

PLAIN = dict.fromkeys(FEATURES, False)
TAIL = PLAIN | {"tailwheel": True}
ALL_NIGHT = {"after_sunset": True, "night": True, "passenger_night": True}


def on(day: date, **more: bool) -> Occasion:
    return Occasion(day, day, **more)  # type: ignore[arg-type]


def pilot(papers: PilotPapers, flight: Occasion, features: dict[str, bool] | None = None) -> dict[str, Paper]:
    return {each.id: each for each in pilot_papers(papers, flight, PLAIN if features is None else features)}


def airplane(papers: AirplanePapers, flight: Occasion) -> dict[str, Paper]:
    return {each.id: each for each in airplane_papers(papers, flight)}


@pytest.mark.parametrize(
    ("event", "months", "end"),
    [
        (date(2024, 2, 29), 12, date(2025, 2, 28)),  # the check values' oracle rows (computed there)
        (date(2024, 11, 30), 24, date(2026, 11, 30)),
        (date(2024, 9, 15), 24, date(2026, 9, 30)),  # PL-04
        (date(2025, 11, 3), 12, date(2026, 11, 30)),  # AW-01
        (date(2023, 2, 1), 12, date(2024, 2, 29)),  # into a leap year, by hand
        (date(2025, 12, 31), 0, date(2025, 12, 31)),
        (date(2025, 12, 31), 2, date(2026, 2, 28)),
    ],
)
def test_a_calendar_month_runs_to_its_end(event: date, months: int, end: date) -> None:
    assert month_end(event, months) == end


LOG = (LogLine(date(2026, 6, 1), 2, 2), LogLine(date(2026, 5, 20), 1, 1, 1), LogLine(date(2026, 4, 1), 5, 5, 5))


def test_three_takeoffs_and_landings_count_by_day_whatever_the_landing() -> None:
    """PL-01, 61.57(a) (read): 3 and 3 in the preceding 90 days. The third newest is of 2026-05-20, plus 89 days."""
    day, _ = recency(LOG, on(date(2026, 8, 7)), tailwheel=False)
    assert (day.standing, day.done, day.good_through) == (Standing.CURRENT, date(2026, 5, 20), date(2026, 8, 17))
    assert day.source.text == "14 CFR 61.57(a)"


def test_for_a_tailwheel_airplane_only_full_stops_in_one_count() -> None:
    """PL-01 (read)."""
    flight = on(date(2026, 6, 10))
    assert recency(LOG, flight, tailwheel=True)[0].standing is Standing.NOT_MET
    touch = tuple(line._replace(tailwheel=True) for line in LOG)
    day = recency(touch, flight, tailwheel=True)[0]
    assert day.done == date(2026, 4, 1)  # one full stop in May, the other two of April
    three = (LogLine(date(2026, 6, 9), 3, 3, 3, tailwheel=True),)
    assert recency(three, flight, tailwheel=True)[0].standing is Standing.CURRENT
    assert recency(three, flight, tailwheel=False)[0].standing is Standing.CURRENT


def test_the_night_asks_for_takeoffs_and_full_stops_in_it() -> None:
    """PL-02, 61.57(b) (read): 3 and 3, to a full stop, from 1 h after sunset to 1 h before sunrise."""
    flight = on(date(2026, 6, 10), **ALL_NIGHT)
    night = recency((LogLine(date(2026, 6, 1), 3, 3, 3, False, 3, 3),), flight, tailwheel=False)[1]
    assert (night.standing, night.good_through) == (Standing.CURRENT, date(2026, 8, 29))
    for short in (LogLine(date(2026, 6, 1), 3, 3, 3, False, 3, 2), LogLine(date(2026, 6, 1), 3, 3, 3, False, 2, 3)):
        found = recency((short,), flight, tailwheel=False)[1]
        assert found.standing is Standing.NOT_MET
        assert "2 of 3" in found.reason


@pytest.mark.parametrize(
    ("done", "standing"),
    [
        (date(2026, 5, 10), Standing.CURRENT),  # 89 days ago
        (date(2026, 5, 9), Standing.EXPIRED),  # exactly 90: the text does not settle it
        (date(2026, 5, 8), Standing.EXPIRED),
    ],
)
def test_day_90_is_not_counted_and_says_so(done: date, standing: Standing) -> None:
    """PL-03 (dates computed and read): flight of 2026-08-07."""
    day, _ = recency((LogLine(done, 3, 3),), on(date(2026, 8, 7)), tailwheel=False)
    assert day.standing is standing
    assert (DAY_90 in day.reason) == (done == date(2026, 5, 9))


def test_the_solo_endorsement_has_the_same_edge() -> None:
    """61.87(n)(2) (read): within the 90 days preceding the date of the flight."""
    student = PilotPapers(student=True, solo=date(2026, 5, 9))
    assert DAY_90 in pilot(student, on(date(2026, 8, 7)))["solo"].reason
    assert pilot(student, on(date(2026, 8, 6)))["solo"].standing is Standing.CURRENT
    assert "solo" not in pilot(PilotPapers(solo=date(2026, 5, 9)), on(date(2026, 8, 6)))


ALONE_BY_DAY = {
    "passengers": False,
    "night": False,
    "after_sunset": False,
    "elsewhere": False,
    "sights_SM": (3.0, 3.0),
}


def solo(**more: Any) -> Occasion:
    return Occasion(date(2026, 8, 7), date(2026, 8, 7), **{**ALONE_BY_DAY, "farthest_nm": 25.0, **more})


@pytest.mark.parametrize(
    ("more", "standing", "said"),
    [
        ({}, Standing.CURRENT, "visibility not typed on the way, sight of the surface"),
        ({"passengers": True}, Standing.NOT_MET, "broken: carries nobody; "),
        ({"persons": 2, "crew": 1}, Standing.NOT_MET, "broken: carries nobody; "),
        ({"passengers": None}, Standing.NOT_SHOWN, "not answered: carries nobody; "),
        ({"passengers": None, "persons": 1}, Standing.NOT_SHOWN, "not answered: carries nobody; "),
        (
            {"night": True, "sights_SM": (5.0, 5.0)},
            Standing.NOT_SHOWN,
            "not answered: by day, or with a night ",
        ),
        (
            {"night": None, "sights_SM": (5.0, 5.0)},
            Standing.NOT_SHOWN,
            "not answered: by day, or with a night ",
        ),
    ],
)
def test_a_student_carries_nobody_and_flies_by_day(more: dict[str, Any], standing: Standing, said: str) -> None:
    """61.89(a)(1), 61.87(o) (from memory)."""
    found = pilot(PilotPapers(student=True), solo(**more))["student-limits"]
    assert (found.standing, found.reason.startswith(said)) == (standing, True)
    assert found.reason.endswith("the instructor's own limits are not looked at")
    assert not found.asked_of


SIGHT = "visibility of 3\u00a0SM, at night 5\u00a0SM"


@pytest.mark.parametrize(
    ("night", "sights_SM", "said"),
    [
        (False, (3.0, 3.0), ""),
        (False, (3.0, 2.99), "broken"),
        (False, (None, 2.99), "broken"),  # whatever the other may be
        (False, (3.0, 6.0, 2.0), "broken"),  # on a leg
        (False, (3.0, None), "not answered"),
        (False, (), "not answered"),
        (True, (5.0, 4.99), "broken"),
        (True, (5.0, 5.0), ""),
        (True, (5.0, None), "not answered"),
        (None, (5.0, 5.0), ""),
        (None, (5.0, 4.99), "not answered"),  # enough if it is by day
        (None, (5.0, 2.99), "broken"),
    ],
)
def test_a_student_sees_3_miles_by_day_and_5_at_night(
    night: bool | None, sights_SM: tuple[float | None, ...], said: str
) -> None:
    """61.89(a)(6) (from memory)."""
    found = pilot(PilotPapers(student=True), solo(night=night, sights_SM=sights_SM))["student-limits"]
    told = [part.partition(": ") for part in found.reason.split("; ")]
    assert [how for how, _, what in told if SIGHT in what] == ([said] if said else [])
    if night is False:
        standings = {"": Standing.CURRENT, "broken": Standing.NOT_MET, "not answered": Standing.NOT_SHOWN}
        assert found.standing is standings[said]


@pytest.mark.parametrize(
    ("more", "asked"),
    [
        ({}, False),
        ({"farthest_nm": 25.1}, True),
        ({"farthest_nm": None}, True),  # not known
        ({"elsewhere": True}, True),
        ({"elsewhere": None}, True),
    ],
)
def test_a_student_is_endorsed_for_another_field_and_past_25_miles(more: dict[str, Any], asked: bool) -> None:
    """61.93 (from memory): landing elsewhere, or more than 25 NM from where the flight began."""
    none = pilot(PilotPapers(student=True), solo(**more))["solo-cross-country"]
    assert (none.standing, none.stops) == (Standing.NOT_SHOWN, asked)
    held = PilotPapers(student=True, solo_cross_country=date(2026, 8, 6))
    found = pilot(held, solo(**more))["solo-cross-country"]
    assert found.standing is Standing.CURRENT
    assert "is not looked at" in found.reason
    late = pilot(held._replace(solo_cross_country=date(2026, 8, 8)), solo(**more))["solo-cross-country"]
    assert late.standing is Standing.NOT_SHOWN
    assert "solo-cross-country" not in pilot(PilotPapers(certificate="private"), solo(**more))


@pytest.mark.parametrize(
    ("more", "standing", "said"),
    [
        ({}, Standing.CURRENT, "its airspace and height"),
        ({"passengers": True, "persons": 2}, Standing.CURRENT, "its airspace and height"),
        ({"passengers": True, "persons": 3}, Standing.NOT_MET, "broken: one passenger at most; "),
        (
            {"passengers": True},
            Standing.NOT_SHOWN,
            "not answered: one passenger at most; ",
        ),  # how many, nobody says
        ({"farthest_nm": 50.0}, Standing.CURRENT, "its airspace and height"),
        ({"farthest_nm": 50.1}, Standing.NOT_SHOWN, "not answered: within 50\u00a0NM of the departure, or trained"),
        ({"farthest_nm": None}, Standing.NOT_SHOWN, "not answered: within 50\u00a0NM"),
        ({"sights_SM": (3.0, 2.99)}, Standing.NOT_MET, "broken: visibility of 3\u00a0SM; "),
        ({"sights_SM": (3.0, None)}, Standing.NOT_SHOWN, "not answered: visibility of 3\u00a0SM; "),
        ({"after_sunset": True}, Standing.NOT_MET, "broken: between sunrise and sunset; "),
        ({"after_sunset": None}, Standing.NOT_SHOWN, "not answered: between sunrise and sunset; "),
    ],
)
def test_a_recreational_pilot_takes_one_passenger_not_far_and_in_daylight(
    more: dict[str, Any], standing: Standing, said: str
) -> None:
    """61.101 (from memory): one passenger, 50 NM, not between sunset and sunrise, 3 SM."""
    found = pilot(PilotPapers(certificate="recreational"), solo(**more))["recreational-limits"]
    assert (found.standing, found.reason.startswith(said)) == (standing, True)
    assert found.reason.endswith("visibility not typed on the way, seats and power are not looked at")
    assert "recreational-limits" not in pilot(PilotPapers(certificate="private"), solo(**more))


def test_a_flight_review_is_good_through_the_end_of_the_month() -> None:
    """PL-04, 61.56(c) (read): review 2024-09, valid to 2026-09-30; that day still counts."""
    papers = PilotPapers(flight_review=date(2024, 9, 2))
    last = pilot(papers, on(date(2026, 9, 30)))["flight-review"]
    assert (last.standing, last.left.value) == (Standing.CURRENT, 0)
    past = pilot(papers, on(date(2026, 10, 1)))["flight-review"]
    assert (past.standing, past.left.value) == (Standing.EXPIRED, -1)
    assert pilot(papers, on(date(2026, 9, 1)))["flight-review"].left.value == 29


@pytest.mark.parametrize(
    ("certificate", "under_40", "through"),
    [
        (3, True, date(2029, 3, 31)),
        (3, False, date(2026, 3, 31)),
        (2, True, date(2029, 3, 31)),
        (1, False, date(2026, 3, 31)),
        (3, None, date(2026, 3, 31)),  # not said: the shorter
    ],
)
def test_a_medical_certificate_lasts_60_or_24_months_for_private_flying(
    certificate: int, under_40: bool | None, through: date
) -> None:
    """61.23(d) (read): under 40 at the examination the 60th month after its month, else the 24th; any class."""
    papers = PilotPapers(medical=Medical(date(2024, 3, 5), certificate, under_40))
    assert pilot(papers, on(date(2025, 1, 1)))["medical"].good_through == through


def test_basicmed_has_two_clocks_both_to_the_end_of_the_month() -> None:
    """PL-06 (read, 89 FR 90572): course 24, examination 48 calendar months, since 2024-11-18."""
    found = pilot(PilotPapers(basic_med=BasicMed(date(2025, 1, 20), date(2023, 5, 10))), on(date(2026, 8, 7)))
    assert found["basicmed-course"].good_through == date(2027, 1, 31)
    assert found["basicmed-exam"].good_through == date(2027, 5, 31)
    assert "18,000\u00a0ft and 250\u00a0kt is not looked at" in found["basicmed-course"].reason
    assert "250" not in pilot(PilotPapers(basic_med=BasicMed()), on(date(2026, 8, 7)))["basicmed-course"].reason
    before = pilot(PilotPapers(basic_med=BasicMed(date(2024, 1, 20), date(2023, 5, 10))), on(date(2024, 11, 17)))
    assert before["basicmed-exam"].standing is Standing.NOT_SHOWN  # it was 48 months to the day
    assert "2024-11-18" in before["basicmed-exam"].reason


def test_a_pilot_carries_certificate_medical_and_identification() -> None:
    """PL-07, 61.3 (from memory). Of 91.17, 8 h and 0.04, no file gives a figure: 'alcohol' is confirmed by hand."""
    assert len(CARRIED) == 3
    assert pilot_rules.CARRY.known == "from memory"
    yes = pilot(PilotPapers(carried=dict.fromkeys(CARRIED, True)), on(date(2026, 8, 7)))["carried"]
    assert yes.standing is Standing.CURRENT
    silent = pilot(PilotPapers(carried={CARRIED[0]: True}), on(date(2026, 8, 7)))["carried"]
    assert silent.standing is Standing.NOT_SHOWN
    assert CARRIED[1] in silent.reason
    assert CARRIED[0] not in silent.reason


def test_an_endorsement_is_asked_for_by_what_the_airplane_has() -> None:
    """61.31(e) (second-hand), (f) (read), (i) (from memory)."""
    flight = on(date(2026, 8, 7))
    assert not [name for name in pilot(PilotPapers(), flight) if name.startswith("endorsement")]
    missing = pilot(PilotPapers(held={"tailwheel": False}), flight, TAIL)["endorsement-tailwheel"]
    assert missing.standing is Standing.NOT_MET
    assert missing.stops
    held = pilot(PilotPapers(held={"tailwheel": True}), flight, TAIL)["endorsement-tailwheel"]
    assert held.standing is Standing.CURRENT
    unsaid = pilot(PilotPapers(), flight, {})
    assert [each.standing for name, each in unsaid.items() if name.startswith("endorsement")] == [
        Standing.NOT_SHOWN
    ] * 3


def test_an_annual_is_good_through_the_twelfth_month() -> None:
    """AW-01, 91.409(a) (rule read, date computed): done 2025-11-03, good through 2026-11-30."""
    found = airplane(AirplanePapers(annual=date(2025, 11, 3)), on(date(2026, 11, 30)))["annual"]
    assert (found.standing, found.good_through, found.left.value) == (Standing.CURRENT, date(2026, 11, 30), 0)
    assert found.source.text == "14 CFR 91.409(a)"


def test_the_static_system_is_there_for_information() -> None:
    """AW-03, 91.411 (read): 24 calendar months, only for IFR in controlled airspace."""
    found = airplane(AirplanePapers(static_system=date(2022, 1, 5)), on(date(2026, 8, 7)))["static-system"]
    assert (found.standing, found.good_through) == (Standing.EXPIRED, date(2024, 1, 31))
    assert "instrument rules" in found.asked_of
    assert not found.stops


def test_the_transponder_has_24_months() -> None:
    """AW-04, 91.413 (a paraphrase read)."""
    found = airplane(AirplanePapers(transponder=date(2024, 8, 30)), on(date(2026, 8, 31)))["transponder"]
    assert (found.standing, found.good_through) == (Standing.CURRENT, date(2026, 8, 31))
    assert "transponder" not in airplane(AirplanePapers(features={"transponder": False}), on(date(2026, 8, 31)))


def test_the_emergency_locator_has_12_months_and_a_battery_with_its_own_date() -> None:
    """AW-05, 91.207 (battery read, inspection second-hand)."""
    papers = AirplanePapers(elt_inspected=date(2025, 7, 1), elt_battery_through=date(2026, 8, 6))
    found = airplane(papers, on(date(2026, 7, 31)))
    assert (found["elt"].good_through, found["elt"].standing) == (date(2026, 7, 31), Standing.CURRENT)
    assert found["elt-battery"].standing is Standing.CURRENT
    assert airplane(papers, on(date(2026, 8, 7)))["elt-battery"].standing is Standing.EXPIRED


def test_the_papers_on_board_are_each_confirmed() -> None:
    """AW-06, 91.203(a)(1) (read), 91.9 (from memory)."""
    assert {"airworthiness", "registration", "approved"} <= {each.split()[0] for each in ON_BOARD}
    answers = dict.fromkeys(ON_BOARD, True)
    flight = on(date(2026, 8, 7))
    assert airplane(AirplanePapers(on_board=answers), flight)["on-board"].standing is Standing.CURRENT
    for name in ON_BOARD:
        no = airplane(AirplanePapers(on_board=answers | {name: False}), flight)["on-board"]
        assert no.standing is Standing.NOT_MET
        assert name in no.reason


def test_the_day_s_equipment_is_the_rule_s_list() -> None:
    """AW-07, 91.205(b)(1) to (15) (read, 2014 edition): fifteen items, some for some airplanes only."""
    assert len(DAY) == 15
    assert [each.name for each in DAY][:5] == [
        "airspeed indicator",
        "altimeter",
        "magnetic direction indicator",
        "tachometer",
        "oil pressure gauge",
    ]
    assert sum(bool(each.feature) for each in DAY) == 6  # (6), (7), (8), (10), (11), (14)
    assert {each.feature for each in DAY} - {""} <= set(FEATURES)
    assert [each.for_hire for each in DAY].index(True) == 11  # (12)


def test_the_night_s_equipment_is_the_rule_s_list() -> None:
    """AW-08, 91.205(c)(2) to (6): lights second-hand, (4) to (6) read. The landing light only for hire."""
    assert len(NIGHT) == 5
    assert [each.name for each in NIGHT if each.for_hire] == ["landing light"]
    answers = {each.name: True for each in NIGHT if not each.for_hire}
    papers = AirplanePapers(equipment=answers)
    assert airplane(papers, on(date(2026, 8, 7), **ALL_NIGHT))["equipment-night"].standing is Standing.CURRENT
    hired = airplane(papers, on(date(2026, 8, 7), for_hire=True, **ALL_NIGHT))["equipment-night"]
    assert hired.standing is Standing.NOT_SHOWN
    assert "landing light" in hired.reason


def test_from_sunset_to_the_end_of_twilight_the_position_lights_are_asked_for() -> None:
    """NT-01, 91.209(a) (read), kept apart from NT-02."""
    papers = AirplanePapers(equipment={"position lights": True})
    twilight = Occasion(date(2026, 8, 7), date(2026, 8, 7), after_sunset=True, night=False, passenger_night=False)
    found = airplane(papers, twilight)["equipment-night"]
    assert (found.standing, found.source.text, found.asked_of) == (Standing.CURRENT, "14 CFR 91.209(a)", "")
    by_day = twilight._replace(after_sunset=False)
    assert airplane(papers, by_day)["equipment-night"].asked_of == "flights at night"


def test_the_hundred_hours_are_asked_of_flying_for_hire() -> None:
    """91.409(b) (second-hand): within the preceding 100 h of time in service; the 10 h of grace are not offered."""
    flight = Occasion(date(2026, 8, 7), date(2026, 8, 7), hours=1.5)
    papers = AirplanePapers(hundred_hour=True, since_hundred_hour_h=98.5)
    found = airplane(papers, flight)["hundred-hour"]
    assert (found.standing, found.left.value, found.stops) == (Standing.CURRENT, 1.5, False)
    late = airplane(papers._replace(since_hundred_hour_h=98.6), flight)["hundred-hour"]
    assert late.standing is Standing.RUNS_OUT
    thin = airplane(papers._replace(since_hundred_hour_h=98.6), flight._replace(hours=1.45))["hundred-hour"]
    assert thin.reason == "the flight takes 1.5\u00a0h, and 1.4\u00a0h are left"  # needs up, haves down
    over = airplane(papers._replace(since_hundred_hour_h=100.0), flight)["hundred-hour"]
    assert over.standing is Standing.EXPIRED
    private = airplane(papers._replace(hundred_hour=False, since_hundred_hour_h=150.0), flight)["hundred-hour"]
    assert private.asked_of
    assert not private.stops


def test_the_hundred_hours_are_asked_for_unless_the_papers_say_that_they_are_not() -> None:
    """91.409(b) (second-hand); the contract: what is not answered is asked for, and not shown."""
    flight = Occasion(date(2026, 8, 7), date(2026, 8, 7), hours=1.5)
    silent = airplane(AirplanePapers(), flight)["hundred-hour"]
    assert (silent.standing, silent.stops) == (Standing.NOT_SHOWN, True)
    assert silent.reason == "no hours given, nor whether it is asked of this airplane"
    assert airplane(AirplanePapers(since_hundred_hour_h=100.0), flight)["hundred-hour"].stops
    assert not airplane(AirplanePapers(hundred_hour=False), flight)["hundred-hour"].stops
    assert airplane(AirplanePapers(hundred_hour=True), flight)["hundred-hour"].reason == "no hours given"


def test_no_word_of_a_paper_says_that_the_airplane_or_the_pilot_is_fit() -> None:
    """AW-09, 91.7 (from memory): the pilot in command decides; a standing is about a paper alone."""
    words = " ".join(each.value for each in Standing).lower()
    assert not [word for word in ("airworthy", "fit", "safe", "approved", "legal") if word in words]


def test_every_source_says_how_well_it_is_known() -> None:
    """Rules known from memory or second-hand say so wherever they are printed."""
    from briefgen.figures import Source

    sources = [each for rules in (pilot_rules, airplane_rules, limit_rules) for each in vars(rules).values()]
    found = {each.text: each.known for each in sources if isinstance(each, Source)}
    assert len(found) > 16
    assert {text for text, known in found.items() if known == "from memory"} == {
        "14 CFR 61.3, 61.51",
        "14 CFR 61.89(a), 61.87(o)",
        "14 CFR 61.93",
        "14 CFR 61.101",
        "14 CFR 91.203(a)(2)",
        "14 CFR 91.203, 91.9",
    }
    assert {text for text, known in found.items() if known == "second-hand"} == {
        "14 CFR 91.205(c)",
        "14 CFR 91.207(d)",
        "14 CFR 91.409(b)",
        "14 CFR 91.413",
    }

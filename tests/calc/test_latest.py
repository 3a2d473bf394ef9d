"""The latest times of a flight by day, held against the night: 14 CFR 91.151(a), RG-01, with the night of NT-02."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace

import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.calc.latest import Dusk, down_in_time, dusk_of, in_daylight
from briefgen.figures import Figure, missing
from briefgen.model.policy import NO_POLICY
from briefgen.model.route import Spot
from briefgen.pipeline import brief_of
from briefgen.render.data import as_data
from briefgen.render.sheet import to_html
from briefgen.render.text import summary

DUSK = Dusk(100.0, "night from 01:40Z", 30.0)  # so down by 69 min, that the 30 end a minute before


def latest(minutes: float) -> Figure:
    return Figure("latest", "min", minutes, ())


def test_the_night_begins_with_the_civil_dusk_and_is_looked_for_a_day_ahead() -> None:
    """NT-04: at 41.281944 N 84.362778 W on 2019-11-08 civil dusk is 22:54Z (read), 174 min after 20:00Z.

    At 70 N there is no night in June: it is taken to begin where nobody looked, after 1,440 min.
    """
    light = SimpleNamespace(
        takeoff=datetime(2019, 11, 8, 20, tzinfo=UTC), places=(Spot(41.281944, -84.362778), Spot(41.28, -84.4))
    )
    found = dusk_of(light, 30.0, NO_POLICY)  # type: ignore[arg-type]
    assert found is not None
    assert found.begins_min == pytest.approx(174, abs=1)
    north = SimpleNamespace(takeoff=datetime(2026, 6, 21, 12, tzinfo=UTC), places=(Spot(70.0, 20.0),))
    light_all_day = dusk_of(north, 30.0, NO_POLICY)  # type: ignore[arg-type]
    assert light_all_day is not None
    assert light_all_day.begins_min == 1440
    # the night's reserve is kept anyway, by the rule or by the policy; or no time is known
    assert dusk_of(light, 45.0, NO_POLICY) is None  # type: ignore[arg-type]
    assert dusk_of(light, 30.0, NO_POLICY._replace(fuel_reserve_s=2700.0)) is None  # type: ignore[arg-type]
    assert dusk_of(None, 30.0, NO_POLICY) is None


@pytest.mark.parametrize(
    ("by_fuel", "margin", "expected", "kept"),
    [
        (69.9, 0.0, 69.9, 30.0),  # and 30 are 99.9, by day
        (70.0, 0.0, 69.0, 30.0),  # and 30 are 100: they meet the night; 70 - 15 are 55, sooner than 69
        (84.0, 0.0, 69.0, 30.0),  # 84 - 15 are 69, no later
        (90.0, 0.0, 75.0, 45.0),  # 90 - 15
        (90.0, 0.25, 78.0, 45.0),  # what 15 min burn by the book lasts 15 / 1.25 = 12 with the margin
    ],
)
def test_the_wheels_are_down_by_day_with_30_min_or_with_45(
    by_fuel: float, margin: float, expected: float, kept: float
) -> None:
    found, kept_min = down_in_time(latest(by_fuel), DUSK, NO_POLICY._replace(burn_margin=margin))
    assert (found.known, kept_min) == (pytest.approx(expected), kept)
    assert bool(found.steps) is (found.known != by_fuel)
    assert all("night from 01:40Z" in step.detail for step in found.steps)


def test_the_stop_s_latest_time_leaves_the_landing_and_30_min_by_day() -> None:
    """20 min on: 69 - 20 = 49. With 49.9 and 20 and 30 the night is not met."""
    assert in_daylight(latest(90.0), DUSK, 20.0).known == 49
    assert in_daylight(latest(49.9), DUSK, 20.0).known == 49.9
    assert in_daylight(missing("latest", "min", "no fuel"), DUSK, 20.0).reason == "no fuel"


def evening(tmp_path: Path, takeoff: str, lighting: str = "lighting: none") -> Brief:
    """Return the example's evening flight under a policy that adds nothing to the rule's fuel."""
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    strip = club / "strips" / "tansy-bottom.yaml"
    assert "lighting: none" in strip.read_text(encoding="utf-8")
    strip.write_text(strip.read_text(encoding="utf-8").replace("lighting: none", lighting), encoding="utf-8")
    policy = (club / "policy.yaml").read_text(encoding="utf-8")
    for line in ("fuel_reserve: 60 min\n", "burn_margin: 10 %\n"):
        assert line in policy
        policy = policy.replace(line, "")
    (club / "policy.yaml").write_text(policy, encoding="utf-8")
    text = (club / "trip.yaml").read_text(encoding="utf-8")
    for old, new in (
        ("as_of: 2026-05-16T14:00Z", "as_of: 2026-05-16T22:50Z"),
        ("    at: 2026-05-16T15:11Z\n", ""),
        ("takeoff_time: 2026-05-16T14:20Z", f"takeoff_time: {takeoff}"),
    ):
        assert old in text
        text = text.replace(old, new)
    (club / "trip.yaml").write_text(text, encoding="utf-8")
    return brief_of(club / "trip.yaml", "trip.yaml")


def test_an_evening_s_flight_is_down_with_45_min_or_with_30_by_day(tmp_path: Path) -> None:
    """Civil dusk is 01:16Z at the eastern place: the latest by day is 00:45Z, 77 min after 23:28Z.

    By the fuel alone it was 01:00Z, and 15 min less, for the night's reserve, are 00:45Z and some seconds.
    """
    brief = evening(tmp_path, "2026-05-16T23:28Z")
    assert brief.route is not None
    assert (brief.route.down_by, brief.route.kept) == ("00:45Z", "45\u00a0min and the alternate kept")
    stop, plan, navigation = brief.flight.stop, brief.flight.journey.fuel, brief.flight.journey.navigation
    assert plan.reserve_min == 30
    assert stop is not None
    assert navigation is not None
    assert stop.by.known == pytest.approx(77 - (navigation.minutes - stop.reached.known))


def test_by_day_the_night_changes_nothing(tmp_path: Path) -> None:
    """Half an hour sooner it is 00:30Z by the fuel, and the 30 min end at 01:00Z, before the 01:16Z."""
    brief = evening(tmp_path, "2026-05-16T22:58Z")
    assert brief.route is not None
    assert (brief.route.down_by, brief.route.kept) == ("00:30Z", "30\u00a0min and the alternate kept")


@pytest.mark.parametrize(
    ("takeoff", "lighting", "said"),
    [
        ("2026-05-16T23:28Z", "lighting: none", ""),  # down by 00:45Z, sunset at 00:50Z
        ("2026-05-17T00:40Z", "lighting: none", "sunset 00:50Z is before that; no lighting"),
        ("2026-05-17T00:40Z", "", "sunset 00:50Z is before that; lighting not said"),
        ("2026-05-17T00:40Z", "lighting: runway lights", ""),
    ],
)
def test_a_time_past_sunset_says_so_where_no_lights_are_known(
    tmp_path: Path, takeoff: str, lighting: str, said: str
) -> None:
    """The sunset by hand from the check values of the sun, +- 1 min, as in the rules' trips."""
    brief = evening(tmp_path, takeoff, lighting)
    assert brief.route is not None
    assert brief.route.down_note == said
    assert as_data(brief)["route"]["wheels_down_note"] == (said or None)
    for output in (summary(brief), to_html(brief, for_screen=False)):
        assert "is before that" not in output if not said else said in output

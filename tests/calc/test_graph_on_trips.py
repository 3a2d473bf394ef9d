"""The example's takeoff table replaced by graphs digitized from its own model: the same trip, the same needs.

Source of the expected numbers: the model in the head of the example's aircraft file, the closed formula that both
the table's cells and the graphs' points come from:

    ground roll  820 ft x (W / 2550)^2.3 x s^-2.4      over 50 ft  roll + 640 ft x (W / 2550)^2.6 x s^-3.2

Every point is read to the nearest 5 ft. Guide lines for weight are those of an air each, and the roll and the total
go with the weight by powers that differ, so that between two of them the proportional place is not quite the
formula's; a test works out by how much at most, under half a foot. Points are then within 2.5 + 0.5 ft, half of 6.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Sequence
from itertools import pairwise
from pathlib import Path

import pytest
from conftest import EXAMPLE

from briefgen.calc.atmosphere import density_ratio
from briefgen.calc.flight import Flight, fly
from briefgen.calc.takeoff import Takeoff
from briefgen.cli import main
from briefgen.files.read_trip import read_trip
from briefgen.render.words import step_label

HALF_FT = 3.0  # of reads_to
ALTITUDES_FT, TEMPERATURES_DEGC = range(0, 8001, 500), range(0, 41, 5)
WEIGHTS_LB = (2150, 2250, 2350, 2450, 2550)
AIRS = [0.7 + 0.025 * i for i in range(17)]  # a guide line each, by its density, to 1.1
Law = Callable[[float, float], float]


def roll(s: float, lb: float) -> float:
    return float(820 * (lb / 2550) ** 2.3 * s**-2.4)


def total(s: float, lb: float) -> float:
    return float(roll(s, lb) + 640 * (lb / 2550) ** 2.6 * s**-3.2)


def nearest(value: float) -> int:
    return round(value / 5) * 5


def graph(to: str, law: Law, wind: str = "") -> list[str]:
    """Return one graph as a member of the club would type it."""
    lines = [
        f"- to: {to}",
        "  scale: ft",
        "  reads_to: 6 ft",
        "  stages:",
        "    - input: temperature",
        "      curves:",
    ]
    for ft in ALTITUDES_FT:
        points = (f"[{degC} degC, {nearest(law(density_ratio(ft, degC), 2550))}]" for degC in TEMPERATURES_DEGC)
        lines.append(f"        - {{pressure_altitude: {ft} ft, points: [{', '.join(points)}]}}")
    lines += ["    - input: weight", "      reference: 2550 lb", "      guide_lines:"]
    for s in reversed(AIRS):
        lines.append(f"        - [{', '.join(f'[{lb} lb, {nearest(law(s, lb))}]' for lb in WEIGHTS_LB)}]")
    return [*lines, wind] if wind else lines


def by_wind(kt: float) -> float:
    """Return the share of a distance that the example's notes leave: 10 % for each 9 kt, or more for each 2 kt."""
    return 1 - kt / 90 if kt > 0 else 1 - kt / 20


def wind_panel() -> str:
    lines = [
        ", ".join(f"[{kt} kt, {start * by_wind(kt):g}]" for kt in (-10, 0, 9, 18, 27)) for start in (360, 7200)
    ]
    guides = "".join(f"\n        - [{line}]" for line in lines)
    return f"    - input: wind\n      reference: 0 kt\n      guide_lines:{guides}"


def club(tmp_path: Path, *graphs: list[str], wind: str = "") -> Path:
    """Return a copy of the example whose takeoff table is replaced by graphs; with a wind, its notes for it too."""
    folder = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    file = folder / "aircraft" / "n0142.yaml"
    text = file.read_text(encoding="utf-8")
    begin = text.index("    temperatures:", text.index("\ntakeoff:"))
    end = text.index("    notes:", begin)
    typed = "".join(f"      {line}\n" for each in graphs for whole in each for line in whole.splitlines())
    text = f"{text[:begin]}    graphs:\n{typed}{text[end:]}"
    if wind:
        kept = [line for line in text.splitlines() if "5-11 note 1" not in line]
        text = "\n".join(kept) + "\n"
        trip = folder / "trip.yaml"
        said = trip.read_text(encoding="utf-8")
        assert "wind: 190 magnetic at 8 gust 14 kt" in said
        trip.write_text(said.replace("wind: 190 magnetic at 8 gust 14 kt", f"wind: {wind}"), encoding="utf-8")
    file.write_text(text, encoding="utf-8")
    return folder / "trip.yaml"


def flown(path: Path) -> Flight:
    return fly(read_trip(path, path.name)[0])


def taken_off(path: Path) -> Takeoff:
    return flown(path).takeoff


def formula(of: Path, law: Law, lb: float) -> float:
    height_ft = air_of(flown(of), "pressure altitude")
    return law(density_ratio(height_ft, 27.0), lb)  # 27 degC: the trip file


def air_of(flight: Flight, label: str) -> float:
    return next(each.known for each in flight.departure_air if each.label == label)


def chords_ft(law: Law, s: float) -> float:
    """Return how high the chords of curves and guide lines stand over the formula beside a point, at most [ft].

    An eighth of a second difference, twice over for what it grows within two steps.
    """

    def height(values: Sequence[float]) -> float:
        return max(a - 2 * b + c for a, b, c in zip(values, values[1:], values[2:], strict=False)) / 4

    by_weight = height([law(s, lb) for lb in WEIGHTS_LB])
    hot = [density_ratio(0, degC) for degC in TEMPERATURES_DEGC]
    high = [density_ratio(ft, 40.0) for ft in ALTITUDES_FT if ft <= 3000]
    return by_weight + height([law(each, 2550) for each in hot]) + height([law(each, 2550) for each in high])


@pytest.mark.parametrize("law", [roll, total])
def test_between_two_guide_lines_the_proportional_place_is_within_half_a_foot_of_the_formula(law: Law) -> None:
    off = 0.0
    for a, b in pairwise(AIRS):
        for lb in WEIGHTS_LB:
            for share in (0.25, 0.5, 0.75):
                s = a + (b - a) * share
                place = (law(s, 2550) - law(a, 2550)) / (law(b, 2550) - law(a, 2550))
                off = max(off, abs(law(a, lb) + place * (law(b, lb) - law(a, lb)) - law(s, lb)))
    assert off < 0.5


def test_the_trip_asks_for_what_the_table_did_within_the_reading_and_never_less_than_the_model(
    tmp_path: Path,
) -> None:
    path = club(tmp_path, graph("ground roll", roll), graph("over 50 ft", total))
    got, table = taken_off(path), taken_off(EXAMPLE / "trip.yaml")
    # What is taken up, with readings off the other way as far: 2 E; E = e, then e + (E + e) through the weight
    # panel, whose lines come together: 2 x 3 e = 18 ft.
    for law, figure, printed in ((roll, got.roll, table.roll), (total, got.total, table.total)):
        by_model = formula(path, law, got.weight_lb)
        most = 6 * HALF_FT + chords_ft(law, 0.93)
        assert by_model <= figure.known <= by_model + most
        assert by_model <= printed.known  # the table's cells are rounded up
        assert abs(figure.known - printed.known) <= most
    assert got.factor == table.factor
    assert got.chart
    assert got.chart.conditions.technique == "short field, brakes held to full throttle"


def test_the_working_shows_every_panel_then_the_notes(tmp_path: Path) -> None:
    got = taken_off(club(tmp_path, graph("ground roll", roll), graph("over 50 ft", total)))
    assert [step_label(step) for step in got.total.steps] == [
        "distance over 50 ft: enter at 27 °C between the 500 ft and 1,000 ft lines",
        "distance over 50 ft: follow weight from 2,550 lb to 2,450 lb",
        "over 50 ft: read to 6 ft: taken up",
        "over 50 ft: headwind 7.7 kt",
    ]


@pytest.mark.parametrize(
    ("wind", "counted_kt"),
    [
        ("180 magnetic at 20 kt", 18),  # 19.7 kt along runway 17 or more: two printed steps of 9 kt
        ("180 magnetic at 8 kt", 0),
        ("350 magnetic at 6 kt", None),  # from behind, in full
    ],
)
def test_a_wind_panel_gives_what_the_notes_for_wind_did(tmp_path: Path, wind: str, counted_kt: int | None) -> None:
    panel = wind_panel()
    path = club(tmp_path, graph("ground roll", roll, panel), graph("over 50 ft", total, panel), wind=wind)
    flight = flown(path)
    got = flight.takeoff
    along = air_of(flight, "wind along the runway as counted")
    counted = along if counted_kt is None else counted_kt
    for law, figure in ((roll, got.roll), (total, got.total)):
        by_model = formula(path, law, got.weight_lb) * by_wind(counted)
        # Through the wind panel once more: e + g (E + e), E = 3 e, g at most 1.5 at 10 kt from behind: 7 e.
        assert by_model <= figure.known <= by_model + 14 * HALF_FT + 1.5 * chords_ft(law, 0.93)
        labels = " ".join(step.label for step in figure.steps)
        assert "follow wind from calm" in labels if counted else "wind: on the reference line, calm" in labels


def test_the_sheet_is_built_from_graphs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = club(tmp_path, graph("ground roll", roll), graph("over 50 ft", total))
    monkeypatch.chdir(path.parent)
    assert main(["build", "trip.yaml", "-o", "brief.html"]) == 0
    sheet = (path.parent / "brief.html").read_text(encoding="utf-8")
    assert "follow weight from 2,550 lb to 2,450 lb" in sheet


def test_a_tailwind_past_the_printed_panel_is_the_trip_file_s_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = club(tmp_path, graph("ground roll", roll, wind_panel()), wind="350 magnetic at 16 kt")
    monkeypatch.chdir(path.parent)
    assert main(["check", "trip.yaml"]) == 2
    assert "departure: tailwind" in capsys.readouterr().err


def test_a_wind_that_neither_a_panel_nor_a_note_answers_is_not_shown(tmp_path: Path) -> None:
    both = (graph("ground roll", roll), graph("over 50 ft", total))
    behind = taken_off(club(tmp_path / "behind", *both, wind="350 magnetic at 6 kt"))
    for figure in (behind.roll, behind.total):
        assert figure.value is None
        assert figure.reason.startswith("no correction for tailwind: the handbook is silent")
    ahead = taken_off(club(tmp_path / "ahead", *both, wind="180 magnetic at 20 kt"))
    calm = taken_off(club(tmp_path / "calm", *both, wind="180 magnetic at 0 kt"))
    assert ahead.roll.known == calm.roll.known  # a credit that nothing prints is none


def test_one_graph_of_the_total_alone_leaves_the_roll_not_shown(tmp_path: Path) -> None:
    got = taken_off(club(tmp_path, graph("over 50 ft", total)))
    assert got.roll.reason == "the handbook's graph gives no ground roll (Handbook p. 5-11)"
    assert got.total.value is not None


def test_the_distance_in_the_air_is_not_shorter_for_a_roll_that_was_taken_up(tmp_path: Path) -> None:
    """Read to 60 ft only, the roll is much longer than it is; what is left of the total must not shrink for it.

    The air takes total less roll; a latest liftoff that is later than TORA less that would be past the point from
    which the airplane still clears 50 ft at the end.
    """
    both = graph("ground roll", roll), graph("over 50 ft", total)
    coarse = [[line.replace("reads_to: 6 ft", "reads_to: 60 ft") for line in each] for each in both]
    flight = flown(club(tmp_path, *coarse))
    took, tora = flight.takeoff, flight.departure.have.tora.known
    assert took.roll_taken_up_ft >= 60 / 2
    air_ft = took.total.known - (took.roll.known - took.roll_taken_up_ft)
    assert flight.abort.latest_liftoff.known == pytest.approx(tora - air_ft)
    table = flown(EXAMPLE / "trip.yaml")
    assert flight.abort.latest_liftoff.known < table.abort.latest_liftoff.known - 60 / 2
    assert "the roll at its shortest reading" in flight.abort.latest_liftoff.steps[-1].detail


def test_a_wind_that_varies_is_said_as_it_is_beside_the_runway(tmp_path: Path) -> None:
    """Full tailwind and full crosswind, by the design: no angle is said, as none is known."""
    path = Path(shutil.copytree(EXAMPLE, tmp_path / "club")) / "trip.yaml"
    text = path.read_text(encoding="utf-8")
    assert "wind: 190 magnetic at 8 gust 14 kt" in text
    path.write_text(text.replace("wind: 190 magnetic at 8 gust 14 kt", "wind: variable at 4 kt"), encoding="utf-8")
    across = flown(path).departure_air.across
    assert across.known == 4
    assert across.steps[0].detail.startswith("variable at 4 kt; runway 17 at ")

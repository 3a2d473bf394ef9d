"""One page typed in three ways gives one brief, and every printed form of a table reads into its axes.

Sources: the example airplane's own tables, typed anew by `sheets` in feet, and in metres, kilograms and degrees
Fahrenheit with all the digits that make them the same quantities (0.3048 m and 0.45359237 kg are exact, F = 9/5 C +
32); what is expected of the small tables is read off them by hand.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import sheets
import yaml
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.errors import InputFault
from briefgen.files.document import parse
from briefgen.files.entry import opened
from briefgen.files.read_aircraft import read_aircraft
from briefgen.files.read_trip import read_trip
from briefgen.handbook.chart import DistanceChart
from briefgen.handbook.readings import Readings
from briefgen.model.aircraft import Aircraft
from briefgen.pipeline import brief_of

AIRPLANE = EXAMPLE / "aircraft" / "n0142.yaml"
TEXT = AIRPLANE.read_text(encoding="utf-8")


def airplane(text: str, folder: Path | None = None) -> Aircraft:
    path = (folder or AIRPLANE.parent) / "n0142.yaml"
    return read_aircraft(opened(parse(text, path, "n0142.yaml"), "aircraft"))


def landing(lines: str, *, notes: bool = True) -> DistanceChart:
    """Return the landing chart of the example with other columns and rows."""
    start = TEXT.index("    temperatures: ", TEXT.index("\nlanding:\n"))
    end = TEXT.index("    notes:\n", start)
    after = TEXT[end:]
    if not notes:
        after = "\n".join(line for line in after.split("\n") if "wind, change" not in line)
    return airplane(TEXT[:start] + lines + after).landing[0]


WAYS: list[tuple[Callable[..., Any], dict[str, str]]] = [
    (sheets.long_in_feet, {}),
    (sheets.long_in_feet, {"apart": ";", "end": "\r\n", "encoding": "utf-8-sig"}),
    (sheets.wide, {"apart": "\t"}),
    (sheets.long_in_metres, {}),
    (sheets.long_in_metres, {"apart": ";", "end": "\r\n"}),
]


def every_number(brief: Brief) -> list[float]:
    """Return the value after every step of the whole working."""
    figures = [figure for section in brief.sections for figure in section.figures]
    return [step.after for figure in figures for step in figure.steps]


@pytest.mark.parametrize(("make", "more"), WAYS)
def test_one_page_typed_in_other_ways_gives_the_same_brief(
    make: Callable[..., Any], more: dict[str, str], tmp_path: Path
) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    sheets.moved_to_sheets(club, make, **more)
    ours, typed = (brief_of(folder / "trip.yaml", "trip.yaml") for folder in (EXAMPLE, club))
    assert len(ours.items) >= 10
    for one, other in zip(ours.items, typed.items, strict=True):
        assert (one.id, one.need, one.policy_need, one.have, one.margin, one.state, one.reason) == (
            (other.id, other.need, other.policy_need, other.have, other.margin, other.state, other.reason)
        )
    numbers = every_number(ours)
    assert len(numbers) > 100
    assert every_number(typed) == pytest.approx(numbers, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("beside", "head", "said"),
    [
        (
            "altitude: density altitude\n    temperatures: any",
            "pressure altitude ft",
            "'altitude' is density altitude here, but pressure altitude in the header of tables/landing.csv",
        ),
        (
            "altitude: pressure altitude",
            "density altitude ft",
            "'altitude' is pressure altitude here, but density altitude in the header of tables/landing.csv",
        ),
        (
            "distances: m",
            "pressure altitude ft,temperature degC",
            "'distances' is m here, but ft in the header of tables/landing.csv",
        ),
    ],
)
def test_what_a_header_says_is_not_said_otherwise_beside_it(
    beside: str, head: str, said: str, tmp_path: Path
) -> None:
    """A header says the altitude and the unit of its distances also where it says the usual ones."""
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    sheets.moved_to_sheets(club, sheets.long_in_feet)
    file = club / "aircraft" / "n0142.yaml"
    text = file.read_text(encoding="utf-8").replace(
        "    csv: tables/landing", f"    {beside}\n    csv: tables/landing"
    )
    rows = "2550,0,0,355,795\n" if head.endswith("degC") else "2550,0,355,795\n"
    sheet = f"weight lb,{head},ground roll ft,over 50 ft ft\n{rows}"
    (club / "aircraft" / "tables" / "landing.csv").write_text(sheet, encoding="utf-8")
    with pytest.raises(InputFault) as fault:
        airplane(text, file.parent)
    line = text[: text.index(f"    {beside}")].count("\n") + 1
    (told,) = [each for each in fault.value.lines() if "header" in each]
    assert told == f"n0142.yaml:{line}:5 {said}; leave it out here; the header says what the page prints"


@pytest.mark.parametrize("beside", ["altitude: pressure altitude", "distances: ft"])
def test_what_a_header_says_may_be_said_again(beside: str, tmp_path: Path) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    sheets.moved_to_sheets(club, sheets.long_in_feet)
    file = club / "aircraft" / "n0142.yaml"
    text = file.read_text(encoding="utf-8").replace(
        "    csv: tables/landing", f"    {beside}\n    csv: tables/landing"
    )
    assert airplane(text, file.parent).landing[0].roll == airplane(TEXT).landing[0].roll


def test_the_working_says_the_cell_as_the_page_prints_it(tmp_path: Path) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    sheets.moved_to_sheets(club, sheets.long_in_metres)
    file = club / "aircraft" / "n0142.yaml"
    chart = airplane(file.read_text(encoding="utf-8"), file.parent).landing[0]
    assert chart.printed(chart.roll[1, 2, 0] or 0.0) == "120.396 m = 395 ft"  # 395 ft at 1,000 ft and 20 degC
    assert chart.grid.short((1, 2, 0)) == "304.8 m, 68 °F"


# 215 m / 0.3048 = 705.380 ft, not rounded.
def test_distances_in_metres_are_kept_unrounded() -> None:
    chart = landing(
        "    distances: m\n    temperatures: [14 degF, 104 degF]\n    tables:\n"
        "      - {weight: 1157 kg, rows: [[0 m, 215/400, 230/420], [3000 m, 240/430, blank]]}\n"
    )
    assert chart.unit == "m"
    assert chart.roll[0, 0, 0] == pytest.approx(705.380577, abs=1e-6)
    assert chart.total[1, 1, 0] is None
    assert [axis.unit for axis in chart.grid.axes] == ["m", "degF", "kg"]
    assert chart.grid.axes[1].points == (-10.0, 40.0)
    assert chart.grid.axes[0].points == (0.0, pytest.approx(9842.5197, abs=1e-4))


def test_a_table_by_wind_is_entered_by_four_axes() -> None:
    rows = "rows: [[0 ft, {0}00/900, {0}50/950], [2000 m, {0}60/980, {0}90/990]]"
    blocks = "".join(
        f"      - {{weight: {lb} lb, headwind: {mph} mph, {rows.format(hundreds)}}}\n"
        for lb, mph, hundreds in (
            (2550, -5, 8),
            (2550, 10, 6),
            (2550, 0, 7),
            (2350, 0, 5),
            (2350, 10, 4),
            (2350, -5, 6),
        )
    )
    chart = landing(f"    temperatures: [0 degC, 40 degC]\n    tables:\n{blocks}", notes=False)
    assert [axis.name for axis in chart.grid.axes][2:] == ["weight_lb", "headwind_kt"]
    wind = chart.grid.axes[3]
    assert (wind.unit, wind.points[1]) == ("mph", 0.0)
    assert wind.points[2] == pytest.approx(8.68976, abs=1e-5)  # 10 x 1609.344 / 1852
    assert [chart.roll[0, 0, 1, wind] for wind in range(3)] == [800, 700, 600]
    assert [chart.roll[0, 1, 0, wind] for wind in range(3)] == [650, 550, 450]
    assert chart.grid.short((0, 1, 0, 0)) == "0 ft, 40 °C, 2,350 lb, tailwind 5 mph"


def test_a_table_over_density_altitude_or_above_standard() -> None:
    dense = landing(
        "    altitude: density altitude\n    temperatures: any\n    tables:\n"
        "      - {weight: 2550 lb, rows: [[0 ft, 400/800], [9000 ft, 500/900]]}\n"
    )
    assert [axis.name for axis in dense.grid.axes] == ["density_altitude_ft", "weight_lb"]
    assert not dense.at_standard
    above = landing(
        "    above_standard: [-36 degF, 0 degF, 36 degF]\n"
        "    checked: [{altitude: 9000 ft, above_standard: 36 degF, reason: as printed}]\n    tables:\n"
        "      - weight: 2550 lb\n"
        "        rows: [[0 ft, 400/800, 410/810, 420/820], [9000 ft, 500/900, 510/910, 505/915]]\n"
    )
    assert above.grid.axes[1].name == "above_standard_degC"
    assert above.grid.axes[1].points == (-20, 0, 20)
    assert above.checked == {(1, 2, 0): "as printed"}


def rows_of(table: dict[str, Any]) -> list[tuple[object, ...]]:
    """Return a table of readings of the example as a sheet, wide where it has columns."""
    columns = table.get("temperatures", [f"{each} above standard" for each in table.get("above_standard", [])])
    columns = columns if isinstance(columns, list) else [""]
    blocks = table.get("tables") or [table]
    weighed = "weight" in blocks[0]
    spoken = any("kt" in str(each) for each in blocks[0]["rows"][0][1:2])
    head: list[object] = ["weight lb"] * weighed + ["pressure altitude ft"] + ["speed kt"] * spoken
    head += [f"{name} at {degC}" if degC else name for degC in columns for name in table["cell"]]
    rows: list[tuple[object, ...]] = [tuple(head)]
    for block in blocks:
        for altitude, *cells in block["rows"]:
            row: list[object] = [sheets.number(block["weight"])] if weighed else []
            row.append(sheets.number(altitude))
            row += [sheets.number(cells.pop(0))] if spoken else []
            for cell in cells:
                row += [None] * len(table["cell"]) if cell == "blank" else str(cell).split("/")
            rows.append(tuple(row))
    return rows


def test_tables_of_other_things_are_read_from_sheets_too(tmp_path: Path) -> None:
    plain = parse(TEXT, AIRPLANE, "n0142.yaml").value
    (tmp_path / "tables").mkdir()
    tables = [*plain["rate_of_climb"], plain["climb"], *plain["cruise"]]
    for number, table in enumerate(tables):
        sheet = tmp_path / "tables" / f"{number}.CSV"
        sheet.write_text(sheets.written(rows_of(table)), encoding="utf-8")
        for key in ("cell", "tables", "rows", "above_standard", "temperatures"):
            if table.get(key) != "standard":
                table.pop(key, None)
        table["csv"] = f"tables/{number}.CSV"
    ours, typed = airplane(TEXT), airplane(yaml.safe_dump(plain, allow_unicode=True), tmp_path)
    assert ours.climb
    assert typed.climb

    def readings(of: Aircraft) -> list[Readings]:
        assert of.climb
        return [*(each.table for each in of.climb_rates), of.climb.table, *(each.table for each in of.cruise)]

    assert len(tables) == len(readings(ours))
    for one, other in zip(readings(ours), readings(typed), strict=True):
        assert one.cells == other.cells
        assert [axis.points for axis in one.grid.axes] == [axis.points for axis in other.grid.axes]
        assert (one.units, one.title, one.technique) == (other.units, other.title, other.technique)


def test_a_brief_keeps_the_sheets_that_it_was_worked_from(tmp_path: Path) -> None:
    club = Path(shutil.copytree(EXAMPLE, tmp_path / "club"))
    sheets.moved_to_sheets(club, sheets.wide)
    trip, _ = read_trip(club / "trip.yaml", "trip.yaml")
    kept = {each.name: each.content for each in trip.files}
    for phase in ("takeoff", "landing"):
        name = f"aircraft/tables/{phase}.csv"
        assert kept[name] == (club / name).read_bytes()

"""Say numbers and states the same way on every output."""

from __future__ import annotations

from collections.abc import Sized
from math import floor

from briefgen.brief import Brief
from briefgen.figures import Figure, Step
from briefgen.item import Item, State
from briefgen.light_items import ABOUT
from briefgen.papers_page import PaperLine
from briefgen.plans import Reading
from briefgen.printing import LENGTHS, PAGES, digits
from briefgen.route_page import TOP, LadderRow, LegRow, RoutePage
from briefgen.speeds_page import DEMONSTRATED, LIMIT, CrosswindCell, SpeedLine, StallLine

# Word first; the sign beside it only helps the eye, and survives a photocopy and red light.
SIGNS = {State.MEETS: "●", State.UNDER: "◐", State.SHORT: "✗", State.NOT_SHOWN: "?"}
UNITS = {"degC": "°C"}
NOT_SAID = "the strip file does not say"
SHORT_RULE = 12  # characters that the column of rules holds in a line
OVER = {LIMIT: "!", DEMONSTRATED: "*"}


def number(value: float | None, digits: int = 0) -> str:
    """Return a number with thousands marked, a true minus, and a dash where there is none."""
    if value is None:
        return "—"
    return f"{value:,.{digits}f}".replace("-", "−")


def amount(value: float | None, unit: str) -> str:
    """Return a printed number with as many decimals as its unit has."""
    return number(value, digits(unit))


def needed(item: Item) -> str:
    """Return a row's need, marked where it is an estimate."""
    return f"{ABOUT if item.estimate else ''}{amount(item.need, item.unit)}"


def signed(value: float | None, unit: str = "") -> str:
    """Return a margin with its sign."""
    return "—" if value is None else f"{value:+,.{digits(unit)}f}".replace("-", "−") if value else "0"


def told(reading: Reading) -> str:
    """Return a printed number with its unit, never parted from it, or why there is none."""
    if reading.value is None:
        return reading.reason if reading.reason.startswith("none") else f"not shown: {reading.reason}"
    about = "about " if reading.estimate else ""
    said = f"{about}{amount(reading.value, reading.unit)}\u00a0{UNITS.get(reading.unit, reading.unit)}"
    return f"{said}, {reading.beside}" if reading.beside else said


def left_out(folded: Sized) -> str:
    """Return how many cautions are not printed, because one that is says the same."""
    says, is_left = ("says", "is") if len(folded) == 1 else ("say", "are")
    return f"{len(folded)} more {says} the same as one above, and {is_left} left out"


def pages_left_out(brief: Brief) -> str:
    """Return which pages the policy leaves out of the printed sheet, '' where it leaves out none."""
    titles = "; ".join(PAGES[each] for each in brief.pages_left_out)
    return f"Left out by {brief.policy}: {titles}." if titles else ""


def missed(figure: Figure) -> str:
    """Return why a figure has no value: 'none: ...' where there is none to have, else 'not shown: ...'."""
    return figure.reason if figure.reason.startswith("none") else f"not shown: {figure.reason}"


def note(item: Item) -> str:
    """Return what a row must say beside its numbers."""
    if item.state is State.NOT_SHOWN or item.reason:
        return item.reason
    if item.answer:
        return item.answer
    return f"{ABOUT} an estimate: the handbook gives no flaps-up distance from 50 ft" if item.estimate else ""


def beside(line: PaperLine) -> str:
    """Return a paper's rule where it is short enough to stand in its row."""
    return line.rule if len(line.rule) <= SHORT_RULE else ""


def beneath(line: PaperLine) -> str:
    """Return what stands under a paper's row: a long rule, and why it stands so."""
    return "; ".join(filter(None, ("" if beside(line) else line.rule, line.why)))


def after(step: Step) -> str:
    """Return the value after a step, to a tenth, or a hundredth of what is printed in tenths."""
    said = number(step.after, _finer(step))
    return f"{said}°" if step.unit == "deg" else f"{said}\u00a0{UNITS.get(step.unit, step.unit)}"


def title(item: Item) -> str:
    """Return an item's title, with its unit where that is no length along the ground, as the column's head says."""
    return item.title if item.unit in (*LENGTHS, "") and not item.height else f"{item.title}, {item.unit}"


def times(item: Item) -> str:
    """Return have divided by need, to two places down, from ten on to one; '' where that is not said."""
    if item.ratio is None:
        return ""
    return f"{item.ratio:.2f}" if item.ratio < 10 else f"{floor(10 * item.ratio) / 10:.1f}"


QUANTITIES = {"roll": "ground roll", "total": "over 50 ft"}


def step_label(step: Step) -> str:
    """Return a step's label, with the distance that it changes where a figure works two side by side."""
    name = QUANTITIES.get(step.quantity, "")
    return f"{name}: {step.label}" if name and step.before is not None else step.label


def alone(figure: Figure) -> bool:
    """Say whether a figure is one step of its own name, so that it needs no head above it."""
    steps = figure.steps
    return len(steps) == 1 and not figure.estimate and figure.value is not None and steps[0].label == figure.label


def arithmetic(step: Step) -> str:
    """Return the arithmetic of a step, beginning from the value before it."""
    if step.before is None or step.before == step.after:
        return step.detail
    return f"{number(step.before, _finer(step))}, {step.detail}"


def _finer(step: Step) -> int:
    return 1 + digits(step.unit)


def planned(row: LegRow) -> str:
    """Return what a leg was worked for, small beside its name."""
    how = f"climb to {row.altitude}" if row.climb and row.to != TOP else row.altitude
    how += f", {row.flown}" if row.flown else ""
    return f"{how}, {row.course} true, wind {row.wind}, TAS {row.airspeed_kt}\u00a0kt"


def flown(row: LegRow, page: RoutePage) -> list[str]:
    """Return the cells of a leg in the log, in the order of `heads`."""
    cells = [row.heading, row.compass, f"{row.ground_speed_kt}", number(row.distance_nm, 1), f"{row.minutes}"]
    cells += [amount(row.fuel, page.unit), row.eta]
    return _shown(cells, page)


def heads(page: RoutePage) -> list[str]:
    """Return the heads of the log's columns."""
    return _shown(["heading mag", "compass", "GS, kt", "NM", "min", page.unit, "arrive"], page)


def summed(page: RoutePage) -> list[str]:
    """Return the last four cells of the log's last row."""
    cells = [number(page.distance_nm, 1), number(page.minutes), amount(page.fuel, page.unit)]
    return [*cells, page.eta] if page.has_times else cells


def _shown(cells: list[str], page: RoutePage) -> list[str]:
    """Leave the compass out where there is no card, and the times of arrival where no takeoff time is given."""
    heading, compass, *rest, arrive = cells
    return [heading, *([compass] if page.has_card else []), *rest, *([arrive] if page.has_times else [])]


def minutes(row: LadderRow) -> str:
    """Return the minutes of a row of the fuel, '' where it has none."""
    return "" if row.minutes is None else number(row.minutes)


def begins(row: LadderRow) -> str:
    """Return where the bar of a row of the fuel begins, as a share of the drawing's width."""
    return f"{row.bar_from:.2%}"


def runs(row: LadderRow) -> str:
    """Return how wide the bar of a row of the fuel is."""
    return f"{row.bar_to - row.bar_from:.2%}"


def worked_for(line: SpeedLine) -> str:
    """Return what a line of the speeds card is worked for, and where its speed is printed."""
    return "; ".join(filter(None, (line.worked_for, line.page)))


def unshown(row: StallLine) -> str:
    """Return why a row of the stall has gaps, each reason once; '' where it has none."""
    reasons = dict.fromkeys(line.reading.reason for line in row.lines if line.reading.value is None)
    return f"not shown: {'; '.join(reasons)}" if reasons else ""


def across(cell: CrosswindCell) -> str:
    """Return a crosswind with its side and a sign for all that it is over, never parted."""
    return "\u00a0".join(filter(None, (number(cell.value), cell.side))) + "".join(OVER[each] for each in cell.over)

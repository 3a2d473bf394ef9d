"""The Brief in a terminal, or a text file: plain lines, no colour unless it is asked for."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from textwrap import wrap
from typing import Any

from briefgen import __version__
from briefgen.alternate_page import AlternatePage
from briefgen.brief import Brief
from briefgen.daylight_page import DaylightPage
from briefgen.fact_list import FACTS
from briefgen.figures import Figure
from briefgen.item import Item
from briefgen.item import told as tallied
from briefgen.model.policy import ExtraPage, GuidanceSet
from briefgen.plans import Point, Reading, TakeoffPage
from briefgen.render.asked import asked_lines
from briefgen.render.card import speeds_lines
from briefgen.render.log import route_lines, stop_lines
from briefgen.render.paper_lines import papers_lines
from briefgen.render.sky import weather_lines
from briefgen.render.words import (
    NOT_SAID,
    SIGNS,
    after,
    amount,
    arithmetic,
    left_out,
    missed,
    note,
    number,
    signed,
    step_label,
    times,
    told,
)
from briefgen.rules.engine import Rule, holds, reasons, said_with

WIDTH = 88
COLUMNS = f"{'item':30}{'need':>8}{'policy':>8}{'have':>8}{'margin':>8}{'ratio':>6}       state"
_BOLD, _PLAIN = "\033[1m", "\033[0m"


def summary(brief: Brief) -> str:
    """Return the whole Brief as text."""
    return "\n".join(_lines(brief)) + "\n"


def _lines(brief: Brief) -> Iterator[str]:
    if brief.letterhead:
        yield from (brief.letterhead.name, *brief.letterhead.lines, "")
    yield f"{brief.title}  ({brief.registration}, {brief.policy})"
    if brief.not_for_flight:
        yield f"NOT FOR FLIGHT: {brief.not_for_flight}"
    yield from wrapped(f"as of {brief.as_of}; work again if: {'; '.join(brief.rework)}")
    yield f"prepared {brief.prepared}; files {brief.fingerprint}; briefgen {__version__}"
    yield from ("", tallied(brief.counts), "")
    yield COLUMNS
    where = ""
    for item in brief.items:
        if item.where != where:
            where = item.where
            yield where
        yield row_line(item)
        if note(item):
            yield from wrapped(note(item), "      ")
    for title, page in (("Takeoff", brief.takeoff), ("Landing", brief.landing)):
        yield from ("", f"{title}: {page.where}", f"  {'; '.join(page.setting)}")
        climb = (page.climb.printed,) if isinstance(page, TakeoffPage) else ()
        yield from map(_reading, (*page.speeds, *page.air, *climb))
        for words in page.over if isinstance(page, TakeoffPage) else ():
            yield from wrapped(words, "  ", "    ")
    yield from _alternate(brief.alternate)
    yield from _load(brief)
    yield from ("", "Decision points")
    if brief.takeoff.flying_by:
        yield f"  give up the takeoff unless flying by {told(brief.takeoff.flying_by)}"
    yield from _point(brief.takeoff.abort, f"; speed to see there {told(brief.takeoff.abort_speed)}")
    for point in (brief.landing.go_around, brief.landing.go_around_flaps_up):
        yield from _point(point, f"; climb-out {point.climb_out}", "go-around point, ")
    if brief.route:
        yield from ("", *route_lines(brief.route))
        yield from stop_lines(brief.stop, brief.route) if brief.stop else ()
    yield from _daylight(brief.daylight)
    for line in (*weather_lines(brief.weather), *speeds_lines(brief.speeds)):
        yield from wrapped(line, "", "      ") if len(line) > WIDTH else (line,)
    yield from papers_lines(brief.papers)
    yield from _own(brief.extra_pages)
    yield from _at_the_end(brief)
    yield ""
    for line in (*brief.remarks, *brief.standing):
        yield from wrapped(line)


def _own(pages: tuple[ExtraPage, ...]) -> Iterator[str]:
    """Return the club's and the pilot's own pages."""
    marks = {"point": "- ", "tick": "[ ] "}
    for page in pages:
        yield from ("", page.title)
        for part in page.parts:
            mark = marks.get(part.kind, "")
            yield from wrapped(mark + part.text, "  ", "  " + " " * len(mark))


def _at_the_end(brief: Brief) -> Iterator[str]:
    """Return the re-check grid, the cautions, the risk, and what the preflight is asked for."""
    yield from ("", f"Re-check: landing need in {brief.printing.length}, by wind along the runway, headwind +")
    if brief.no_recheck:
        yield f"  not shown: {brief.no_recheck}"
    else:
        yield f"  {'':20}" + "".join(f"{signed(wind):>9} kt" for wind, _, _ in brief.recheck[0].cells)
    for row in brief.recheck:
        cells = "".join(f"{SIGNS[state]:>3}{number(need):>9}" for _, need, state in row.cells)
        yield f"  {row.surface + ', ' + row.case:20}{cells}"
    yield from ("", "Cautions")
    for caution in brief.cautions:
        yield from wrapped(f"{caution.severity}: {caution.text} [{caution.citation}]", "", "    ")
    if brief.folded:
        names = ", ".join(f"{each.id} into {each.folded_into}" for each in brief.folded)
        yield from wrapped(f"{left_out(brief.folded)} ({names})", "", "    ")
    for line in asked_lines(brief):
        indent = " " * (len(line) - len(line.lstrip()))
        yield from wrapped(line.strip(), indent, f"{indent}    ") or ("",)


def _alternate(page: AlternatePage | None) -> Iterator[str]:
    """Return the landing at the alternate, with its own decision points; nothing where none is given."""
    if page is None:
        return
    yield from ("", f"Alternate: {page.where}", *wrapped("; ".join(page.setting), "  "))
    yield from wrapped(f"{page.wind}. {page.remark}".strip(), "  ")
    for row in page.rows:
        yield row_line(row)
        if note(row):
            yield from wrapped(note(row), "      ")
    yield from map(_reading, page.speeds)
    for point in (page.go_around, page.go_around_flaps_up):
        yield from _point(point, f"; climb-out {point.climb_out}", "go-around point, ")
    yield f"  past the far end: {page.beyond or NOT_SAID}"


def _load(brief: Brief) -> Iterator[str]:
    page = brief.load
    if page is None:
        return
    yield from ("", f"Load and balance, {page.category} category: lb, in, lb-in")
    yield from (f"  {line.name:24}{line.weight:>10}{line.arm:>8}{line.moment:>10}" for line in page.lines)
    yield from (
        f"  {point.name:16}{point.weight:>7} lb {point.arm:>7} in; {point.limits or 'no limits'}: {point.verdict}"
        for point in page.points
    )
    for words in page.mends:
        yield f"  it would mend it to {words}"


def _daylight(page: DaylightPage | None) -> Iterator[str]:
    """Return the light of the flight in words; nothing without a takeoff time."""
    if page is None:
        return
    yield from ("", f"Daylight: {page.where}")
    for words in page.lines:
        yield from wrapped(words, "  ", "    ")
    for row in page.rows:
        said = f"{row.field}, {row.at}: sunrise {row.sunrise}, sunset {row.sunset}, dusk {row.dusk}"
        yield from wrapped(said, "  ", "    ")
    yield from wrapped(page.horizon, "  ")


def wrapped(text: str, first: str = "", later: str | None = None) -> list[str]:
    """Return a text as lines of the width of a terminal."""
    after_first = first if later is None else later
    return wrap(text, WIDTH, initial_indent=first, subsequent_indent=after_first, break_on_hyphens=False)


def row_line(item: Item) -> str:
    """Return an item as one line, under the columns of `COLUMNS`."""
    numbers = "".join(f"{amount(value, item.unit):>8}" for value in (item.need, item.policy_need, item.have))
    numbers += f"{signed(item.margin, item.unit):>8}{times(item):>6}"
    return f"  {item.title:28}{numbers} {item.unit:4} {SIGNS[item.state]} {item.state.value}"


def _reading(reading: Reading) -> str:
    return f"  {reading.label}: {told(reading)}"


def _point(point: Point, tail: str, prefix: str = "") -> Iterator[str]:
    mark = "" if point.at.value is None else f"; mark: {point.mark}"
    if point.mark_at is not None:
        mark += f" at {told(point.mark_at)}"
    yield from wrap(
        f"{prefix}{point.label}: {told(point.at)}{mark}{tail}", WIDTH, initial_indent="  ", subsequent_indent="    "
    )


def working(brief: Brief, item_id: str = "", *, colour: bool = False) -> str:
    """Return the working of every figure, or of one item."""
    if item_id:
        row = next(row for row in brief.items if row.id == item_id)
        lines = [
            _head(f"{row.title}, {row.where}", colour),
            *wrapped(brief.worked_in, "  "),
            *_figures(row.working),
        ]
        if row.answer:
            lines = [lines[0], f"  {row.answer}", *(_load(brief) if row.id == "balance" else ())]
        lines.append(f"  state: {row.state.value}" + (f": {row.reason}" if row.reason else ""))
        return "\n".join(lines) + "\n"
    lines = [*wrapped(brief.worked_in), ""] if brief.worked_in else []
    if brief.standard:
        lines += [_head("The standard in force, and whose each figure is", colour)]
        lines += [f"  {each.label}: {each.value} ({each.whose})" for each in brief.standard] + [""]
    for section in brief.sections:
        lines += [_head(section.title, colour), *wrapped(section.remark, "  "), *_figures(section.figures), ""]
    return "\n".join(lines)


def _head(text: str, colour: bool) -> str:
    return f"{_BOLD}{text}{_PLAIN}" if colour else text


def _figures(figures: Iterable[Figure]) -> Iterator[str]:
    for figure in figures:
        yield from _figure(figure)


def _figure(figure: Figure) -> Iterator[str]:
    yield f"  {figure.label}" + (" (estimate)" if figure.estimate else "")
    for step in figure.steps:
        detail = f": {arithmetic(step)}" if step.detail else ""
        line = f"{step_label(step)}{detail} = {after(step)} [{step.source}]"
        yield from wrap(line, WIDTH, initial_indent="    ", subsequent_indent="        ")
    if figure.printed:
        yield f"    printed as {figure.printed}"
    if figure.value is None:
        yield f"    {missed(figure)}"


def fact_lines(facts: Mapping[str, Any]) -> str:
    """Return facts as lines of a path and a value, as JSON writes it."""
    return "".join(f"{path}: {json.dumps(value, ensure_ascii=False)}\n" for path, value in facts.items())


def fact_meanings(facts: Mapping[str, Any]) -> str:
    """Return facts with what each of them says."""
    lines = [
        f"{path}: {json.dumps(value, ensure_ascii=False)}\n  {FACTS[path].words}\n" for path, value in facts.items()
    ]
    return "".join(lines)


def rule_lines(packs: Mapping[str, tuple[Rule, ...]], raised: Mapping[str, str]) -> str:
    """Return the packs, each with its rules: id, severity, text, citation, the date it was last checked.

    `raised`: what became of the rules that fire on a trip, by their ids.
    """
    lines = []
    for name, rules in packs.items():
        lines += [f"{name}: {len(rules)} rules", ""]
        for rule in rules:
            lines.append(f"  {rule.id} ({rule.severity})" + (f": {raised[rule.id]}" if rule.id in raised else ""))
            lines += wrapped(rule.text, "    ")
            lines += wrapped(f"[{rule.source}; checked {rule.checked}]", "    ")
            lines += [*wrapped(f"folds {', '.join(rule.folds)}" if rule.folds else "", "    "), ""]
    return "\n".join(lines) + "\n"


def guidance_lines(sets: Iterable[GuidanceSet]) -> str:
    """Return the published sets: safety factors, corrections by phase, what of them is left out."""
    lines = []
    for each in sets:
        lines.append(f"set {each.name}: {each.title}")
        lines += [*wrapped(f"for {each.meant_for}; checked {each.checked}", "  "), ""]
        for phase, factor in each.factors.items():
            lines += wrapped(f"safety factor, {phase}: {factor.value:g} [{factor.source}]", "  ", "      ")
        for phase, given in each.notes:
            lines += wrapped(f"{phase}, {given.words()} [{given.source}]", "  ", "      ")
        lines += [line for words in each.left_out for line in wrapped(f"left out: {words}", "  ", "      ")]
        lines.append("")
    return "\n".join(lines)


def why_lines(
    rule: Rule, facts: Mapping[str, Any], said: Mapping[str, str], folded_into: str = "", *, in_force: bool = True
) -> str:
    """Return whether a rule fires on the facts of a trip, and what it looked at."""
    verdict = "fires" if holds(rule.when, facts) else "does not fire"
    if not in_force:
        verdict += ", but its pack is not chosen by the policy of this trip"
    if folded_into:
        verdict = f"fires, but is folded into {folded_into}"
    looked_at = [f"  {line}" for line in reasons(rule.when, facts)]
    return (
        "\n".join([f"{rule.id} {verdict}: {said_with(rule.text, facts, said)}", *looked_at, f"  [{rule.source}]"])
        + "\n"
    )

"""The four sides of a flight's risk, as prompts filled from what the Brief knows; no score, and no weights.

The prompts follow RK-01 to RK-03 and RK-05: pilot, aircraft, environment, external pressures (FAA-H-8083-2A), and
the five of plan, plane, pilot, passengers, programming, asked again on the way. Which minimums are the pilot's own
is the policy's to say: none comes with the program.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from briefgen.along_page import ID as LEGS
from briefgen.brief import Brief
from briefgen.item import Item, State
from briefgen.printing import LENGTHS, digits
from briefgen.units import up
from briefgen.weather_page import FieldPage

ON_RUNWAYS = ("takeoff-", "landing")  # how the ids of the distances begin; of these, what has a ratio
WEATHER = (  # ids of rows, the place where it is not that of the row, and what to ask
    ("departure-weather", "", "and on the way?"),
    (LEGS, "along the legs", "where would I turn back?"),
    ("arrival-weather", "", "where else, if not?"),
)
ELSEWHERE = ("landing-alternate", "alternate-crosswind", "alternate-weather", "alternate-dark")
SELF = "self_assessment"
AGAIN = (
    "Again before the flight, before takeoff, on the way, before the descent, before the pattern: "
    "plan, plane, pilot, passengers, programming."
)
KNOWN = (
    "The sides: FAA-H-8083-2A, read; the five: names read, when to ask from memory. "
    "No score is made of it, and no minimums come with the program: yours stand in a policy file."
)


class Prompt(NamedTuple):
    """One line: a fact of this trip, or why there is none, and what to ask oneself of it."""

    about: str
    said: str
    asks: str
    reason: str = ""

    @property
    def words(self) -> str:
        """The fact, or why it is not shown."""
        return self.said or f"not shown: {self.reason}"


class Side(NamedTuple):
    """One side of the risk."""

    title: str
    prompts: tuple[Prompt, ...]


class RiskPage(NamedTuple):
    """The whole section. `again`: what to ask at each point of decision; `known`: where this comes from."""

    sides: tuple[Side, ...]
    again: str
    known: str


def risk_page(brief: Brief) -> RiskPage:
    """Return the prompts of a finished Brief; it works nothing that the Brief does not have."""
    return RiskPage(
        (
            Side("Pilot", tuple(_pilot(brief))),
            Side("Aircraft", tuple(_aircraft(brief))),
            Side("Environment", tuple(_environment(brief))),
            Side("External pressures", tuple(_external(brief))),
        ),
        AGAIN,
        KNOWN,
    )


def _pilot(brief: Brief) -> Iterator[Prompt]:
    papers = brief.facts["papers"]
    asks, landings, ago = "proficient, not only current?", papers["landings_90_days"], papers["last_landing_days"]
    lacking = "the pilot file gives no 'landings'" if papers["pilot_given"] else "the trip file gives no 'pilot'"
    said = f"{papers['takeoffs_90_days']} takeoffs, {landings} landings in 90 days; the last {ago} days ago"
    if landings is not None and ago is None:
        said = "no landing in the log given"
    yield Prompt("recent flying", "" if landings is None else said, asks, lacking)
    line = next((each for each in brief.papers.confirmed if each.id == SELF), None) if brief.papers else None
    said = f"{line.words}: {line.said}" if line and line.confirmed else ""
    why = f"{line.words}: {line.said}" if line else "nothing is confirmed by hand"
    yield Prompt("own state", said, "still so?", why)
    loaded = brief.facts["policy"]["loaded"]
    yield Prompt("minimums", brief.policy if loaded else "", "are mine stricter today?", "no policy is loaded")


def _aircraft(brief: Brief) -> Iterator[Prompt]:
    yield _least(brief)
    crosswind = brief.facts["crosswind"]
    share, most, shown = (crosswind[name] for name in ("demonstrated_share", "most_kt", "demonstrated_kt"))
    unknown = brief.facts["weather"]["no_conditions_at"]
    why = f"no wind is given at the {unknown}"
    if most is not None and not unknown:
        why = f"the handbook demonstrates none; the most is {most:g}\u00a0kt"
    said = (
        ""
        if share is None
        else f"{most:g}\u00a0kt, {up(100 * share):.0f}\u00a0% of the {shown:g}\u00a0kt demonstrated"
    )
    yield Prompt("crosswind", f"{said}; {why}" if said and unknown else said, "when last in as much?", why)
    said = f"in {len(brief.differences)} things, on the first page"
    if len(brief.differences) < 2:
        said = next(iter(brief.differences), "nothing is said of it")
    yield Prompt("unlike the book's", said, "do I know this one?")


def _least(brief: Brief) -> Prompt:
    """Return the row of a distance with the least ratio, and how many of them are not shown."""
    rows = [item for item in brief.items if item.id.startswith(ON_RUNWAYS)]
    worked = [item for item in rows if item.ratio is not None]
    lost = sum(_is_lost(item) for item in rows)
    more = f"; {lost} more not shown" if lost else ""
    about, asks = "least runway", "what would give more?"
    if not worked:
        return Prompt(about, "", asks, "no distance is worked")
    least = min(worked, key=lambda item: item.ratio or 0.0)
    margin = f"{least.margin:+,.{digits(least.unit)}f}".replace("-", "−") + f"\u00a0{least.unit}"
    said = f"{least.title}, {least.where}: {least.ratio:.2f} of the need, {margin}, {least.state.value}"
    return Prompt(about, said + more, asks)


def _is_lost(item: Item) -> bool:
    """Say whether a distance is not shown; that of an alternate which nobody gave has no unit, and is none."""
    return item.state is State.NOT_SHOWN and item.unit in LENGTHS


def _environment(brief: Brief) -> Iterator[Prompt]:
    by_id = {item.id: item for item in brief.items}
    for id, where, asks in WEATHER:
        if id in by_id:
            item = by_id[id]
            yield Prompt(f"weather, {where or item.where}", item.answer, asks, item.reason)
    fields = brief.weather.fields if brief.weather else ()
    ages = [f"{_field(each)}, {up(each.report.age_min):.0f}\u00a0min" for each in fields if each.report]
    said = f"{'; '.join(ages)} old at {brief.as_of[11:16]}Z" if ages else ""
    yield Prompt("reports", said, "what has changed since?", "the trip file gives no 'report'")
    light, item = brief.facts["daylight"], by_id["daylight"]
    left, eta = light["left_min"], light["eta"]
    said = "" if left is None else f"{left:,.0f}\u00a0min from ETA {eta} to sunset {light['sunset']}"
    yield Prompt("daylight", said.replace("-", "−") or item.answer, "and an hour late?", item.reason)


def _field(page: FieldPage) -> str:
    return page.where.partition(": ")[2]


def _external(brief: Brief) -> Iterator[Prompt]:
    spare, eta = brief.facts["fuel"]["to_down_by_min"], brief.facts["daylight"]["eta"]
    by = f" {brief.route.down_by}" if brief.route and brief.route.down_by else ""
    said = "" if spare is None else f"{spare:,.0f}\u00a0min from ETA {eta} to wheels down by{by}".replace("-", "−")
    by_id = {item.id: item for item in brief.items}
    why = by_id["daylight"].reason if eta is None else by_id["fuel"].reason
    yield Prompt("time", said, "who waits, and does it matter?", why)
    aboard = {True: "passengers carried", False: "no passengers", None: "passengers not said"}
    said = f"{brief.crew or 'crew not said'}; {aboard[brief.facts['trip']['passengers']]}"
    yield Prompt("aboard", said, "may each say: back?")
    yield _elsewhere([by_id[id] for id in ELSEWHERE if id in by_id])


def _elsewhere(items: list[Item]) -> Prompt:
    """Return the worst of what is worked of the alternate; what is not shown takes the place of all but short."""
    first, *_ = items
    shown = [item for item in items if item.state is not State.NOT_SHOWN]
    lost = [item for item in items if item.state is State.NOT_SHOWN]
    worst = max((item.state for item in shown), key=lambda state: state.rank, default=State.NOT_SHOWN)
    titles = "; ".join(item.title for item in shown if item.state is worst)
    alike = items == lost and len({item.reason for item in lost}) == 1
    reason = first.reason if alike else "; ".join(f"{item.title}: {item.reason}" for item in lost)
    said = f"{first.where}: {worst.value}: {titles}"
    if lost:
        said = f"{said}; not shown: {reason}" if worst is State.SHORT else ""
    return Prompt("elsewhere", said, "would I use it?", reason)

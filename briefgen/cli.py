"""The commands."""

from __future__ import annotations

import argparse
import io
import os
import sys
from collections.abc import Iterable, Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from briefgen import __version__, auditing, checking, filing
from briefgen.errors import BriefgenError, InputFault, Problem
from briefgen.item import Item, State, tally, told
from briefgen.pipeline import brief_of, checked
from briefgen.writing import target_for, write

if TYPE_CHECKING:
    from briefgen.brief import Brief

FAIL_ON = {"under": State.UNDER, "short": State.SHORT, "not-shown": State.NOT_SHOWN}
MOST_NAMED = 40  # of a list in a message: more would not be read
KINDS = (".pdf", ".html", ".json", ".txt")
EXIT_HELP = """exit status:
  0  done
  1  done, but an item (of an audit: a finding) is in a state that --fail-on names, or a worse one; of verify:
     something moved
  2  the input is wrong: one line for each fault, as file:line:column
  3  this machine lacks something, with the line that installs it, or a finished sheet failed its own proof
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command and return its exit status; print nothing but plain lines."""
    parser = _parser()
    options = parser.parse_args(arguments)
    if not hasattr(options, "run"):
        parser.print_help()
        return 0
    if isinstance(sys.stdout, io.TextIOWrapper):  # a sign that the terminal lacks is shown by its code
        sys.stdout.reconfigure(errors="backslashreplace")
    try:
        status: int = options.run(options)
        sys.stdout.flush()
    except BriefgenError as error:
        for line in error.lines():
            print(line, file=sys.stderr)
        return error.exit_status
    except BrokenPipeError:  # the reader, such as `head`, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 130
    return status


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="briefgen",
        description="Turn one trip file into a kneeboard brief: runway needed, runway there, margins, decisions.",
        epilog=EXIT_HELP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"briefgen {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    for name, (run, summary, description) in COMMANDS.items():
        command = commands.add_parser(
            name,
            help=summary,
            description=description,
            epilog=EXIT_HELP,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        command.set_defaults(run=run)
        _arguments(name, command)
    return parser


def _arguments(name: str, command: argparse.ArgumentParser) -> None:
    if name == "new":
        command.add_argument("folder", metavar="DIR", type=Path, help="folder to make; must not exist, or be empty")
        return
    if name == "rules":
        command.add_argument("--why", metavar="ID", help="say why one rule fires on a trip, or does not")
        command.add_argument("trip", metavar="TRIP", nargs="?", help="a trip file: list the rules in force on it")
        return
    if name == "guidance":
        command.add_argument("set", metavar="SET", nargs="?", default="", help="one set; without it, all of them")
        return
    if name == "audit":
        auditing.arguments(command)
        return
    if name in ("verify", "reopen"):
        filing.arguments(command, name)
        return
    if name == "checked":
        checking.arguments(command)
        return
    command.add_argument("trip", metavar="TRIP", help="the trip file (YAML)")
    if name == "build":
        endings = ", ".join(KINDS)
        command.add_argument("-o", "--output", metavar="FILE", required=True, help=f"file to write: {endings}")
        help = "when the brief is prepared, UTC, such as 2026-05-16T14:20Z, in place of what the trip file says"
        pair = (
            "two half letter or A5 pages side by side on each sheet, to print and fold; for filing build it without"
        )
        command.add_argument("--two-up", action="store_true", help=f"PDF only: {pair}")
        command.add_argument("--prepared", metavar="TIME", type=_time, default="", help=help)
    if name == "runways":
        places = "departure, arrival, alternate or all (without it: all)"
        command.add_argument("--at", metavar="PLACE", default="all", help=f"which field: {places}")
        command.add_argument("--json", action="store_true", help="print JSON, by schemas/runways.schema.json")
    if name == "facts":
        command.add_argument("path", metavar="PATH", nargs="?", default="", help="one fact or a group, explained")
    if name == "explain":
        command.add_argument(
            "item", metavar="ITEM", nargs="?", default="", help="one item, such as landing-flaps-up"
        )
    states = ", ".join(FAIL_ON)
    help = f"exit with 1 if an item is in this state or a worse one; from bad to worst: {states}"
    command.add_argument("--fail-on", choices=FAIL_ON, metavar="STATE", help=help)


def _time(text: str) -> str:
    """Return a time that is written as in the trip file, or nothing; argparse says what is wrong with any other."""
    with suppress(ValueError):
        if not text or f"{datetime.strptime(text, _AS_TYPED):{_AS_TYPED}}" == text:
            return text
    raise argparse.ArgumentTypeError(f"{text!r} is no time in UTC such as 2026-05-16T14:20Z")


_AS_TYPED = "%Y-%m-%dT%H:%MZ"


def _check(options: argparse.Namespace) -> int:
    trip, items = checked(Path(options.trip), options.trip)
    print(f"{options.trip}: {told(tally(items))}")
    for state in FAIL_ON.values():
        ids = [item.id for item in items if item.state is state]
        if ids:
            print(f"{state.value}: {', '.join(ids)}")
    for record in trip.aircraft.provenance:
        for doubt in record.doubts(trip.as_of[:10]):
            print(doubt)
    return _status(items, options.fail_on)


def _build(options: argparse.Namespace) -> int:
    target = target_for(options.output, KINDS)
    kind = target.suffix.lower()
    if options.two_up and kind != ".pdf":
        raise InputFault([Problem(options.output, 0, 0, "--two-up is for a PDF", "end the file in .pdf")])
    if kind == ".pdf":
        from briefgen.render.pdf import require_libraries

        require_libraries()  # before any work, so that the answer comes at once
    try:
        brief = brief_of(Path(options.trip), options.trip, options.prepared)
        write(target, _rendered(brief, kind, two_up=options.two_up))
    except BriefgenError:
        if os.path.isfile(target):  # which, unlike a path of its own, also answers for a name that is too long
            print(f"{target} is still the one from an earlier build", file=sys.stderr)
        raise
    print(target)
    return _status(brief.items, options.fail_on)


def _rendered(brief: Brief, kind: str, *, two_up: bool = False) -> bytes:
    """Return the file's bytes; what each output needs is imported only for it."""
    if kind == ".json":
        from briefgen.render.data import to_json

        return to_json(brief).encode()
    if kind == ".txt":
        from briefgen.render.text import summary

        return summary(brief).encode()
    if kind == ".html":
        from briefgen.render.sheet import to_html

        return to_html(brief, for_screen=True).encode()
    from briefgen.render.pdf import to_pdf

    content = to_pdf(brief)
    if two_up:
        from briefgen.render.two_up import two_up as side_by_side

        return side_by_side(content, brief.page_size)
    return content


def _explain(options: argparse.Namespace) -> int:
    from briefgen.render.text import working

    brief = brief_of(Path(options.trip), options.trip)
    ids = [item.id for item in brief.items]
    if options.item and options.item not in ids:
        raise InputFault([_no_such("explain", "item", options.item, ids)])
    print(working(brief, options.item, colour=_colour()), end="")
    return _status(brief.items, options.fail_on)


def _facts(options: argparse.Namespace) -> int:
    from briefgen.facts import flat
    from briefgen.render.text import fact_lines, fact_meanings

    brief = brief_of(Path(options.trip), options.trip)
    facts = flat(brief.facts)
    if not options.path:
        print(fact_lines(facts), end="")
        return _status(brief.items, options.fail_on)
    asked = {path: value for path, value in facts.items() if f"{path}.".startswith(f"{options.path}.")}
    if not asked:
        groups = {path.rpartition(".")[0] for path in facts}
        raise InputFault([_no_such("facts", "fact", options.path, [*facts, *sorted(groups)])])
    print(fact_meanings(asked), end="")
    return _status(brief.items, options.fail_on)


def _rules(options: argparse.Namespace) -> int:
    from briefgen.pipeline import rules_of
    from briefgen.render.text import rule_lines, why_lines
    from briefgen.rules.engine import PACKS
    from briefgen.rules.pack import read_pack

    packs = {f"pack {path.stem}": read_pack(path, path.name) for path in sorted(PACKS.glob("*.yaml"))}
    if options.why is not None and options.trip is None:
        raise InputFault([Problem("briefgen rules", 0, 0, "--why ID needs a TRIP to look at")])
    brief = brief_of(Path(options.trip), options.trip) if options.trip else None
    in_force = {rule.id: rule for rule in rules_of(brief.ruled_by)[0]} if brief else {}
    if options.why is None or brief is None:
        listed = {f"in force on {options.trip}": tuple(in_force.values())} if brief else packs
        print(rule_lines(listed, brief.raised if brief else {}), end="")
        return 0
    rules = {rule.id: rule for pack in packs.values() for rule in pack} | in_force
    if options.why not in rules:
        raise InputFault([_no_such("rules", "rule", options.why, rules)])
    into = next((each.folded_into for each in brief.folded if each.id == options.why), "")
    print(why_lines(rules[options.why], brief.facts, brief.said, into, in_force=options.why in in_force), end="")
    return 0


def _runways(options: argparse.Namespace) -> int:
    from briefgen.files.read_trip import read_trip
    from briefgen.render.runways import runway_lines, runways_json
    from briefgen.studies.runways import NO_ALTERNATE, PLACES, rank_runways

    if options.at not in (*PLACES, "all"):
        raise InputFault([_no_such("runways", "place", options.at, (*PLACES, "all"))])
    trip, _ = read_trip(Path(options.trip), options.trip)
    if options.at == "alternate" and trip.alternate is None:
        hint = "add 'alternate' with its strip, runway and conditions, or ask for another place"
        raise InputFault([Problem(options.trip, 0, 0, NO_ALTERNATE, hint)])
    study = rank_runways(trip, PLACES if options.at == "all" else (options.at,))
    print(runways_json(study) if options.json else runway_lines(study), end="")
    return _status(study.chosen, options.fail_on)


def _audit(options: argparse.Namespace) -> int:
    return auditing.run(options)


def _verify(options: argparse.Namespace) -> int:
    return filing.verify(options)


def _reopen(options: argparse.Namespace) -> int:
    return filing.reopen(options)


def _checked(options: argparse.Namespace) -> int:
    return checking.run(options)


def _guidance(options: argparse.Namespace) -> int:
    from briefgen.files.read_guidance import names, published
    from briefgen.render.text import guidance_lines

    if options.set and options.set not in names():
        raise InputFault([_no_such("guidance", "set", options.set, names())])
    chosen = [options.set] if options.set else names()
    print(guidance_lines([published(name) for name in chosen]), end="")
    return 0


def _no_such(command: str, kind: str, name: str, known: Iterable[str]) -> Problem:
    """Return the problem of a name that does not exist, with the one that may have been meant."""
    from difflib import get_close_matches

    known = list(known)
    near = get_close_matches(name, known, 1, 0.4)
    hint = (
        f"the {kind}s are {', '.join(known)}"
        if len(known) <= MOST_NAMED
        else f"all are listed by: briefgen {command} TRIP"
    )
    hint = f"did you mean '{near[0]}'?" if near else hint
    return Problem(f"briefgen {command}", 0, 0, f"there is no {kind} '{name}'", hint)


def _colour() -> bool:
    """Say whether headings may stand out: on a terminal that is not dumb, unless NO_COLOR is set."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _new(options: argparse.Namespace) -> int:
    import shutil

    from briefgen.resources import folder

    target: Path = options.folder
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise InputFault([Problem(str(target), 0, 0, "exists and is not an empty folder; nothing was written")])
    try:
        shutil.copytree(folder("examples") / "quillmere", target, dirs_exist_ok=True)
        shutil.copytree(folder("schemas"), target / "schemas")
        for file in target.rglob("*.yaml"):
            depth = len(file.relative_to(target).parts) - 1
            text = file.read_text(encoding="utf-8")
            here = "../" * depth + "schemas/"
            file.write_text(text.replace("../" * (depth + 2) + "schemas/", here), encoding="utf-8")
    except OSError as error:
        raise InputFault([Problem(str(target), 0, 0, f"cannot be written: {error.strerror}")]) from None
    print(f"{target}/trip.yaml")
    print(f"edit it, then: briefgen build {target}/trip.yaml -o {target}/brief.pdf", file=sys.stderr)
    return 0


def _status(items: Iterable[Item], fail_on: str | None) -> int:
    if fail_on is None:
        return 0
    worst = max(item.state.rank for item in items)
    return 1 if worst >= FAIL_ON[fail_on].rank else 0


# Each command: what runs it, a line for the list of commands, a sentence for its own help.
COMMANDS = {
    "check": (
        _check,
        "check a trip file and all it refers to",
        "Check a trip file and all it refers to; count the items by state, name those that do not meet policy.",
    ),
    "build": (_build, "build the brief", "Build the brief as PDF, HTML, JSON or text, by the ending of FILE."),
    "explain": (_explain, "print the working", "Print the working of every figure, or of one item, step by step."),
    "facts": (
        _facts,
        "print what rules may ask about",
        "Print every fact that a rule may ask about, and its value here.",
    ),
    "runways": (
        _runways,
        "rank the runways of a trip's fields",
        "Work every runway end of a trip's fields in its wind, airplane, weight and flaps; most margin first. "
        "--fail-on looks at the ends that the trip has chosen.",
    ),
    "rules": (
        _rules,
        "list the rules behind the cautions",
        "List the packs and their rules, each with its citation; or say why one fires on a trip.",
    ),
    "audit": (
        _audit,
        "look for slips of typing in an aircraft file",
        "Read every table of an aircraft file and say which cells look wrong, why, and what may be meant; worst "
        "first. With --against, lay a second typing beside it.",
    ),
    "verify": (
        _verify,
        "work a filed brief again, and say whether every figure reproduces",
        "Take the files out of a PDF that briefgen built, work them again with this version, and say whether every "
        "file, figure and printed text is the same, or which moved; exit with 1 if any did.",
    ),
    "reopen": (
        _reopen,
        "unpack the files of a filed brief",
        "Unpack the trip, airplane, strips, policy and rules that a PDF carries into a folder, to be worked in.",
    ),
    "checked": (
        _checked,
        "print the record of a check, to paste into an aircraft file",
        "Print who checked an aircraft file and what it held then, to be pasted below its 'provenance:'. A brief "
        "says which part has changed since. The audit is run first, and what it finds counted.",
    ),
    "guidance": (
        _guidance,
        "list the published corrections that a policy can choose",
        "List the published guidance by set: each correction with its base, its range, its source, how well known.",
    ),
    "new": (
        _new,
        "make a folder to start from",
        "Copy the example club into a new folder, to be edited. It is invented: not for flight.",
    ),
}

"""Check a document against its JSON Schema, and say each fault in a pilot's words.

The schemas' own titles and examples are the words: a title is a noun phrase ('a length with its unit'), the
first example shows how to write it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from itertools import islice
from typing import Any

from jsonschema import Draft202012Validator, ValidationError, validators

from briefgen.errors import Problem
from briefgen.files.document import Document, Place, scalar
from briefgen.resources import folder

# Each kind of file, and keys that only it has: by them a file given in the wrong place is known.
KINDS: Mapping[str, frozenset[str]] = {
    "trip": frozenset(("as_of", "crew", "departure", "arrival")),
    "aircraft": frozenset(("registration", "handbook", "flap_settings", "weights", "speeds")),
    "strip": frozenset(("elevation", "position", "variation", "runways")),
    "policy": frozenset(("factors", "minimum_margin", "guidance", "braking", "rework")),
    "pilot": frozenset(("certificate", "medical", "basicmed", "flight_review", "landings", "endorsements")),
    "papers": frozenset(("papers_of", "annual", "hundred_hour", "elt", "registration_through", "on_board")),
}
MOST_FAULTS = 200  # of one file: more would not be read
Fault = tuple[Place | None, Problem]  # the place that must not be read, None if all can


def check(document: Document, kind: str) -> list[Fault]:
    """Return every fault of a document of a kind (a key of `KINDS`), with its place."""
    errors = _validator(kind).iter_errors(document.value)
    return [fault for error in errors for fault in _faults(document, error)]


def another_kind(document: Document, kind: str) -> str:
    """Return what is wrong with a document that has nothing of its kind and something of another, else ''."""
    keys = set(document.value) if isinstance(document.value, dict) else set()
    found = [other for other, own in KINDS.items() if keys & own]
    if kind in found or len(found) != 1:
        return ""
    return f"looks like {_A[found[0]]} file; {_A[kind]} file is wanted here"


_A = {
    "trip": "a trip",
    "aircraft": "an aircraft",
    "strip": "a strip",
    "policy": "a policy",
    "pilot": "a pilot",
    "papers": "a papers",
}


@cache
def _validator(kind: str) -> Any:
    ours = validators.extend(  # type: ignore[no-untyped-call]
        Draft202012Validator, {"pattern": _pattern}
    )
    return ours(_inlined(_load(kind), _load("common")["$defs"]))


def _inlined(schema: Any, shared: Mapping[str, Any]) -> Any:
    """Return a schema with the shared forms in place of the references to them: that validates twice as fast.

    A reference's own title and description are for editors; the messages use those of the shared form. Its own
    examples are kept under 'here', for the messages about a key that is missing.
    """
    if isinstance(schema, list):
        return [_inlined(each, shared) for each in schema]
    if not isinstance(schema, dict):
        return schema
    reference = schema.get("$ref", "")
    file, _, name = reference.partition(".schema.json#/properties/")
    if name:
        return _inlined(_load(file)["properties"][name], shared)
    name = reference.rpartition("/")[2]
    if name in shared:  # else one of the schema's own, which may refer to itself
        form = _inlined(shared[name], shared)
        return {**form, "here": schema["examples"]} if "examples" in schema else form
    return {key: _inlined(value, shared) for key, value in schema.items()}


@cache
def _load(kind: str) -> Any:
    return json.loads((folder("schemas") / f"{kind}.schema.json").read_text(encoding="utf-8"))


def _pattern(_: Any, pattern: str, value: Any, __: Any) -> Iterator[ValidationError]:
    """Check a pattern as JSON Schema means it: its `$` does not pass over a last line break, as Python's does."""
    if isinstance(value, str) and not _fits(pattern, value):
        yield ValidationError("")


def _fits(pattern: str, text: str) -> bool:
    return _compiled(pattern).search(text) is not None


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(re.sub(r"\$$", r"\\Z", pattern))


def _faults(document: Document, error: ValidationError) -> Iterator[Fault]:
    say = _SAY.get(str(error.validator), _misshapen)
    yield from say(document, tuple(error.absolute_path), error)


def _unknown_keys(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    schema: Any = error.schema
    for key, near in _strangers(error.instance, schema).items():
        yield None, _unknown(document, place, key, near, schema)


def _strangers(value: Any, schema: Any) -> dict[str, str]:
    """Return the keys that are unknown, each with the known one that is near it; the first few hundred."""
    known = schema["properties"]
    return {
        key: _near(key, list(known)) for key in islice((key for key in value if key not in known), MOST_FAULTS + 1)
    }


def _unknown(document: Document, place: Place, key: str, near: str, schema: Any) -> Problem:
    hint = f"did you mean '{near}'?" if near else f"the keys here are {', '.join(schema['properties'])}"
    if re.match(r"[0-9]{3}(?![0-9])", str(key)):  # '{weight: 1,632 lb}' is read as the keys weight and '632 lb'
        hint = "inside braces a comma ends the value; write the number without it"
    return document.problem((*place, key), f"unknown key {_said(key)}", hint, key=True)


def _missing_keys(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    value: Any = error.instance
    schema: Any = error.schema
    wanted: Any = error.validator_value
    reasons = dict.fromkeys(wanted, "") if isinstance(wanted, list) else {}
    if isinstance(wanted, dict):
        reasons = {name: key for key, names in wanted.items() if key in value for name in names}
    known = schema.get("properties", {})
    strangers = {near: key for key, near in _strangers(value, schema).items()} if known else {}
    for name, reason in reasons.items():
        if name in value:
            continue
        if name in strangers:  # a slip of the pen: one line for one fault
            yield (*place, name), _unknown(document, place, strangers[name], name, schema)
            continue
        asked = _own(known.get(name, {}))
        message = f"'{reason}' needs the key '{name}' beside it" if reason else f"missing key '{name}'"
        hint = _for_example(asked, f"{name}: ") or f"it is for {asked.get('title', 'a group of keys')}"
        yield (*place, name), document.problem(place, message, hint, key=True)


def _alternatives(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    """Say the faults of the one alternative that was meant, as far as that can be known."""
    value: Any = error.instance
    branches: Any = error.validator_value
    schema: Any = error.schema
    if not isinstance(value, dict):
        if schema.get("type") != "object":  # else that it is no group of keys is told by itself
            yield from _misshapen(document, place, error)
        return
    if all(set(branch) <= {"required", "not"} for branch in branches):
        names = [name for branch in branches for name in branch["required"]]
        given = [name for name in names if name in value]
        listed = " or ".join(f"'{name}'" for name in given or names)
        message = f"only one of {listed} can be given" if given else f"one of {listed} is wanted here"
        hint = "delete what is not meant" if given else f"for example {_options(names, error.schema)}"
        yield place, document.problem(place, message, hint, key=True)
        return
    fitting = [sum(key in value for key in branch.get("required", ())) for branch in branches]
    best = max(fitting)
    meant = [i for i, count in enumerate(fitting) if count == best]
    if len(meant) == 1:
        yield from (
            fault
            for each in error.context or ()
            if each.relative_schema_path[0] == meant[0]
            for fault in _faults(document, each)
        )
    elif best:
        both = " or ".join(f"'{key}'" for i in meant for key in branches[i].get("required", ()) if key in value)
        message = f"only one of {both} can be given"
        yield place, document.problem(place, message, "put what else is meant below one of them", key=True)
    else:
        keys = [key for branch in branches for key in branch.get("required", ())]
        slips = {key: near for key in value if (near := _near(str(key), keys))}
        hint = "; ".join(f"did you mean '{near}' for '{key}'?" for key, near in slips.items())
        title = schema.get("title", "a group of keys")
        if not keys:  # no group at all is wanted here
            yield place, document.problem(place, f"this is a group of keys; wanted is {title}", "")
            return
        forms = ", or ".join(" and ".join(f"'{key}'" for key in branch["required"]) for branch in branches)
        yield place, document.problem(place, f"{title} has {forms}", hint, key=True)


def _options(names: list[str], schema: Any) -> str:
    known = schema["properties"]
    shown = ((name, _first(_own(known[name]))) for name in names)
    return ", or ".join(f"{name}: {text}" if text else f"'{name}'" for name, text in shown)


def _not_listed(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    value: Any = error.instance
    among: Any = error.validator_value
    wanted = [str(each) for each in among]
    listed = ", ".join(f'"{each}"' if "," in each else each for each in wanted)
    if value is None or isinstance(value, list | dict):
        yield from _misshapen(document, place, error)
        return
    near = _near(str(value), wanted)
    hint = f"did you mean '{near}'?" if near else ""
    yield place, document.problem(place, f"{_said(value)} is none of {listed}", hint)


def _length_of_list(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    schema: Any = error.schema
    listed: Any = error.instance
    count = len(listed)
    words, may = ("at least", "must") if error.validator == "minItems" else ("at most", "may")
    number, verb = count or "nothing", "are" if count > 1 else "is"
    message = f"{schema['title']}: {number} {verb} listed, but {words} {error.validator_value} {may} be"
    yield place, document.problem(place, message)


def _length_of_text(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    number, most = len(str(error.instance)), error.validator_value
    yield place, document.problem(place, f"this has {number:,} characters; the most is {most}", "shorten it")


def _too_short(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    text = str(error.instance)
    if not text.strip():
        yield from _misshapen(document, place, error)
        return
    least: Any = error.validator_value
    schema: Any = error.schema
    message = f"'{text}' is too short, {len(text)} of at least {least} characters"
    yield place, document.problem(place, message, f"it is {schema['title']}")


def _out_of_range(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    words = "under the least" if error.validator == "minimum" else "over the most"
    schema: Any = error.schema
    message = f"{_said(error.instance)} is {words} that is allowed, {error.validator_value:g}"
    yield place, document.problem(place, message, f"it is {schema['title']}")


def _misshapen(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    yield place, document.problem(place, *_not_a(error.instance, error.schema, document.written.get(place, "")))


def _twice(document: Document, place: Place, error: ValidationError) -> Iterator[Fault]:
    """Say of each thing in a list that it stands there already."""
    for i, each in enumerate(given := list(error.instance)):  # type: ignore[arg-type]
        if each in given[:i]:
            yield (*place, i), document.problem((*place, i), f"{_said(each)} stands twice", "once is enough")


_SAY: dict[str, Callable[[Document, Place, ValidationError], Iterator[Fault]]] = {
    "additionalProperties": _unknown_keys,
    "required": _missing_keys,
    "dependentRequired": _missing_keys,
    "anyOf": _alternatives,
    "oneOf": _alternatives,
    "enum": _not_listed,
    "minItems": _length_of_list,
    "maxItems": _length_of_list,
    "uniqueItems": _twice,
    "maxLength": _length_of_text,
    "minLength": _too_short,
    "minimum": _out_of_range,
    "maximum": _out_of_range,
}


def _keys(schema: Any) -> Iterator[str]:
    """Return the keys of a group, those of all its forms where it has several."""
    for form in (schema, *schema.get("oneOf", ())):
        yield from form.get("properties", ())


def _not_a(value: Any, schema: Any, written: str) -> tuple[str, str]:
    """Return the message and hint for a value that does not have the form asked for.

    `written` is a plain scalar as it was typed, where it was read as something else than text.
    """
    title = schema.get("title", "something else")
    thing = title.removesuffix(", in quotes")
    example = _for_example(schema)
    if schema.get("type") == "object":
        return (
            f"{_said(value)} stands where a group of keys is wanted, for {title}",
            f"write its keys below it, indented: {', '.join(_keys(schema))}",
        )
    if schema.get("type") == "array":
        return f"{_said(value)} stands where a list is wanted, for {title}", "begin each line of it with '- '"
    if value is None or (isinstance(value, str) and not value.strip()):
        return f"nothing is written here; {title} is wanted", example
    if isinstance(value, dict | list):
        return f"{_said(value)} stands where {title} is wanted", example
    if isinstance(value, str) and schema.get("type") in ("number", "boolean"):
        bare = scalar(value)
        if isinstance(bare, bool if schema["type"] == "boolean" else int | float):
            return f"{_said(value)} is text in quotes, not {title}", "take the quotes away"
        meant = _TRUTHS.get(value.lower()) if schema["type"] == "boolean" else None
        return f"{_said(value)} is not {title}", f"write {meant}" if meant else example
    if isinstance(value, str):
        mended = _mended(value, schema.get("pattern"))
        return f"{_said(value)} is not {thing}", f"write {mended}" if mended else example
    if not isinstance(value, bool) and "unit" in title:
        return f"{_short(written)} has no unit; {title} is wanted", example
    if schema.get("type") == "string" and _fits(schema.get("pattern", ""), written):
        return f"{_short(written)} is read as a number, not as {thing}", f'put it in quotes: "{written}"'
    return f"{_short(written)} is not {title}", example


_TRUTHS = {"yes": "true", "y": "true", "on": "true", "no": "false", "n": "false", "off": "false"}


# Other ways to write a unit, none of which is another unit too.
_OTHERWISE = {
    "kts": "kt",
    "knots": "kt",
    "gph": "gal/h",
    "gallons": "gal",
    "lbs": "lb",
    "feet": "ft",
    "mb": "hPa",
    "minutes": "min",
}


def _mended(text: str, pattern: str | None) -> str:
    """Return what was most likely meant: a space too many, a decimal comma, a unit in the wrong letters."""
    if not pattern or " ?(?:" not in pattern:  # no quantity
        return ""
    plain = re.sub(r"(?<=[0-9])\s(?=[0-9]{3})", "", " ".join(text.split())).replace("°", "deg")
    tries = [plain, re.sub(r"(?<=[0-9]),(?=[0-9])", ".", plain), re.sub(r"(?<=[0-9]) ?([CF])$", r" deg\1", plain)]
    tries += [
        re.sub(rf"(?<=[0-9 ]){other}$", unit, plain, flags=re.IGNORECASE) for other, unit in _OTHERWISE.items()
    ]
    units = pattern.rpartition("(?:")[2].rstrip(")$").split("|")
    for unit in units:
        tries += [re.sub(rf"{re.escape(unit)}$", unit, each, flags=re.IGNORECASE) for each in tries[:2]]
    return next((each for each in tries if _fits(pattern, each)), "")


def _own(schema: Any) -> dict[str, Any]:
    """Return a property's schema with the examples that are its own, where it has some."""
    return {**schema, "examples": schema.get("here", schema.get("examples"))}


def _first(schema: Any) -> str:
    """Return the first example as it must be typed, '' where a line cannot show it."""
    examples = schema.get("examples")
    if not examples or isinstance(examples[0], list):
        return ""
    if isinstance(examples[0], dict):
        return json.dumps(examples[0]).replace('"', "")  # the same in YAML: our examples have no comma in a text
    text = str(examples[0]).lower() if isinstance(examples[0], bool) else str(examples[0])
    read_as_text = isinstance(scalar(text), str) or schema.get("type") != "string"
    return text if read_as_text else f'"{text}"'


def _for_example(schema: Any, key: str = "") -> str:
    text = _first(schema)
    if not text or (not key and text.strip('"') in schema.get("title", "")):
        return ""
    return f"for example {key}{text}"


def _near(word: str, known: list[str]) -> str:
    from difflib import get_close_matches

    return next(iter(get_close_matches(word[:60], known, 1, 0.6)), "")


def _said(value: Any) -> str:
    if isinstance(value, dict):
        return "a group of keys"
    if isinstance(value, list):
        return "a list"
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return str(value).lower()
    return f"'{_short(value)}'" if isinstance(value, str) else _short(str(value))


def _short(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:57]}..."

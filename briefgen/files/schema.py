"""Check a document against its JSON Schema, and say each fault in a pilot's words.

The schemas' own titles and examples are the words: a title is a noun phrase ('a length with its unit'), the
first example shows how to write it.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator, ValidationError

from briefgen.errors import Problem
from briefgen.files.document import Document, Place
from briefgen.resources import folder

KINDS = ("trip", "aircraft", "strip", "policy")


def check(document: Document, kind: str) -> list[tuple[Place, Problem]]:
    """Return every fault of a document of a kind ('trip', 'aircraft', 'strip', 'policy'), with its place."""
    errors = _validator(kind).iter_errors(document.value)
    return [fault for error in errors for fault in _faults(document, error)]


@cache
def _validator(kind: str) -> Draft202012Validator:
    shared = _load("common")["$defs"]
    return Draft202012Validator(_inlined(_load(kind), shared))


def _inlined(schema: Any, shared: Mapping[str, Any]) -> Any:
    """Return a schema with the shared forms in place of the references to them, which validates twice as fast.

    A reference's own title and description are for editors; the messages use those of the shared form.
    """
    if isinstance(schema, list):
        return [_inlined(each, shared) for each in schema]
    if not isinstance(schema, dict):
        return schema
    if "$ref" in schema:
        return _inlined(shared[schema["$ref"].rpartition("/")[2]], shared)
    return {key: _inlined(value, shared) for key, value in schema.items()}


def _load(kind: str) -> Any:
    return json.loads((folder("schemas") / f"{kind}.schema.json").read_text(encoding="utf-8"))


def _faults(document: Document, error: ValidationError) -> Iterator[tuple[Place, Problem]]:
    place: Place = tuple(error.absolute_path)
    rule = error.validator
    value: Any = error.instance
    wanted: Any = error.validator_value
    schema: Any = error.schema
    if rule == "additionalProperties":
        known = list(schema["properties"])
        for key in value:
            if key not in known:
                near = get_close_matches(key, known, 1, 0.6)
                hint = f"did you mean '{near[0]}'?" if near else f"the keys here are {', '.join(known)}"
                yield (*place, key), document.problem((*place, key), f"unknown key '{key}'", hint, key=True)
    elif rule in ("required", "dependentRequired"):
        names = wanted if rule == "required" else [n for k, ns in wanted.items() if k in value for n in ns]
        for name in names:
            if name not in value:
                yield (
                    (*place, name),
                    document.problem(
                        place,
                        f"missing key '{name}'",
                        _for_example(schema.get("properties", {}).get(name, {})),
                        key=True,
                    ),
                )
    elif rule in ("anyOf", "oneOf"):
        deeper = [each for each in error.context or () if len(each.absolute_path) > len(place)]
        if deeper and isinstance(value, list | dict):
            for each in deeper:
                yield from _faults(document, each)
        else:
            yield place, document.problem(place, *_not_a(value, schema))
    elif rule == "enum":
        near = get_close_matches(str(value), [str(each) for each in wanted], 1, 0.6)
        hint = f"did you mean '{near[0]}'?" if near else ""
        yield place, document.problem(place, f"{_said(value)} is none of {', '.join(map(str, wanted))}", hint)
    elif rule in ("minItems", "maxItems"):
        words = "at least" if rule == "minItems" else "at most"
        yield place, document.problem(place, f"{words} {wanted} must be listed here, not {len(value)}")
    elif rule in ("minimum", "maximum"):
        words = "under the least" if rule == "minimum" else "over the most"
        yield place, document.problem(place, f"{_said(value)} is {words} that is allowed, {wanted:g}")
    else:
        yield place, document.problem(place, *_not_a(value, schema))


def _not_a(value: Any, schema: Any) -> tuple[str, str]:
    """Return the message and hint for a value that does not have the form asked for."""
    title = schema.get("title") or {"object": "a group of keys", "array": "a list", "string": "text"}.get(
        schema.get("type", ""), "what is wanted here"
    )
    if isinstance(value, int | float) and not isinstance(value, bool) and "unit" in title:
        return f"{_said(value)} has no unit: {title} is wanted", _for_example(schema)
    if isinstance(value, int | float) and schema.get("type") == "string":
        return f"{_said(value)} is a number, not {title}", f'put it in quotes: "{value}"'
    return f"{_said(value)} is not {title}", _for_example(schema)


def _for_example(schema: dict[str, Any]) -> str:
    examples = schema.get("examples")
    if not examples or isinstance(examples[0], dict | list):
        return ""
    return f"for example {examples[0]}"


def _said(value: Any) -> str:
    if isinstance(value, dict):
        return "a group of keys"
    if isinstance(value, list):
        return "a list"
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f"'{value}'" if len(value) <= 60 else f"'{value[:57]}...'"
    return str(value)

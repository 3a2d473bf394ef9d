"""Docstrings of the calculations and the handbook tell the truth: parameters, units, ranges, examples.

Source: habits 4 and 5 of the house style: a test compares docstring parameters and units with the signature.
"""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from types import ModuleType
from typing import Any

import pytest

import briefgen.calc
import briefgen.handbook
import briefgen.reports

# A name that holds a number of a unit ends in it; what its docstring then says in brackets.
UNITS = {"ft": "ft", "kt": "kt", "lb": "lb", "deg": "deg", "degC": "degC", "hPa": "hPa", "s": "s"}


def modules() -> Iterator[ModuleType]:
    for package in (briefgen.calc, briefgen.handbook, briefgen.reports):
        yield package
        for each in pkgutil.iter_modules(package.__path__, package.__name__ + "."):
            yield importlib.import_module(each.name)


def functions() -> Iterator[tuple[str, Callable[..., Any]]]:
    """Return every public function and method of the two packages, with its full name."""
    for module in modules():
        for name, found in vars(module).items():
            if getattr(found, "__module__", None) != module.__name__ or name.startswith("_"):
                continue
            if inspect.isclass(found):
                for method, member in vars(found).items():
                    inner = inspect.unwrap(member) if callable(member) else member
                    own = inspect.isfunction(inner) and inner.__module__ == module.__name__
                    if own and not method.startswith("_"):
                        yield f"{module.__name__}.{name}.{method}", inner
            elif callable(found):
                yield f"{module.__name__}.{name}", inspect.unwrap(found)


def documented(function: Callable[..., Any]) -> dict[str, str]:
    """Return what a docstring's Parameters section says of each parameter, by name; empty without one."""
    text = inspect.getdoc(function) or ""
    section = re.search(r"Parameters\n-+\n(.*?)(?:\n\n|\Z)", text, re.DOTALL)
    found: dict[str, str] = {}
    names: list[str] = []
    for line in section[1].splitlines() if section else ():
        if line.startswith(" "):
            for name in names:
                found[name] += " " + line.strip()
            continue
        left, _, said = line.partition(" : ")
        names = [name.strip() for name in left.split(",")]
        found |= dict.fromkeys(names, said.strip())
    return found


WITH_SECTION = {name: function for name, function in functions() if documented(function)}


def test_functions_with_a_parameters_section_were_found() -> None:
    assert len(list(functions())) > 60
    assert len(WITH_SECTION) > 14
    assert "briefgen.calc.wind.on_runway" in WITH_SECTION
    assert "briefgen.handbook.notes.corrections" in WITH_SECTION


@pytest.mark.parametrize("name", WITH_SECTION)
def test_docstring_parameters_are_those_of_the_signature_in_their_order(name: str) -> None:
    function = WITH_SECTION[name]
    said = documented(function)
    real = [each for each in inspect.signature(function).parameters if each not in ("self", "cls")]
    assert list(said) == real
    assert all(said.values()), f"{name}: a parameter without a word about it"


@pytest.mark.parametrize("name", WITH_SECTION)
def test_a_parameter_that_ends_in_a_unit_says_that_unit(name: str) -> None:
    for parameter, said in documented(WITH_SECTION[name]).items():
        unit = UNITS.get(parameter.rpartition("_")[2]) if "_" in parameter else None
        if unit:
            brackets = re.findall(r"\[([^]]+)\]", said)
            assert any(each.split()[0] == unit for each in brackets), f"{name}: {parameter} : {said}"


def test_every_public_function_has_a_docstring_of_a_line_that_ends_in_a_stop() -> None:
    for name, function in functions():
        first = (inspect.getdoc(function) or "").partition("\n")[0]
        assert first, f"{name} has no docstring"
        assert first.endswith((".", ":")), f"{name}: {first}"


def test_what_a_docstring_says_is_raised_is_named_in_the_code_s_own_words() -> None:
    for name, function in WITH_SECTION.items():
        text = inspect.getdoc(function) or ""
        for raised in re.findall(r"Raises\n-+\n(\w+) : ", text):
            assert raised in {"Refusal", "ValueError"}, f"{name} says that it raises {raised}"


def test_the_examples_in_docstrings_are_true() -> None:
    tried = 0
    for module in modules():
        result = doctest.testmod(module)
        assert result.failed == 0, f"{result.failed} examples of {module.__name__} are not true"
        tried += result.attempted
    assert tried >= 7

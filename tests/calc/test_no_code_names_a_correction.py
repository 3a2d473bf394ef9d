"""No code names a single correction: notes are data, and a cause is named only where causes are listed and found.

Source: the design's 'The central idea: No code names a single correction'. Every string of the package that is the
name of a cause is found in the syntax tree, and must be one of the uses listed here, with the reason for each.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable
from pathlib import Path

import briefgen
from briefgen.handbook.causes import CAUSES

PACKAGE = Path(briefgen.__file__).resolve().parent
WHERE_CAUSES_ARE_NAMED = {"handbook/causes.py", "calc/causes.py"}

# Where a cause's name may stand beside those two modules, and why.
KNOWN_USES = {
    ("calc/landing.py", "flaps up"): "the case to expect if the flaps stay up, and its note",
    ("calc/landing_setup.py", "flaps up"): "the same case, set up before any runway",
    ("calc/landing.py", "headwind"): "how far the note credits a headwind in the ground speed of the approach",
    ("calc/recheck.py", "flaps up"): "the name of a landing case, a row of the grid",
    ("plans.py", "flaps up"): "the label of a landing case",
    ("alternate_page.py", "flaps up"): "the label of a landing case",
    ("render/drawings.py", "flaps up"): "the label of a landing case",
    **{
        ("fact_list.py", name): "a surface, or what lies on one, as a fact says it"
        for name in ("gravel", "standing water", "slush", "snow", "ice")
    },
    ("pipeline.py", "above standard temperature"): "where in the trip file what a note refused was typed",
    ("pipeline.py", "tailwind"): "the same",
    ("pipeline.py", "upslope"): "the same",
    ("pipeline.py", "downslope"): "the same",
    (
        "handbook/axes.py",
        "headwind",
    ): "what columns of wind answer in place of a note, and their name",
    ("handbook/axes.py", "tailwind"): "the other side of that axis",
    ("model/typed.py", "headwind"): "the name of that axis in an audit",
    ("files/read_rows.py", "headwind"): "the key of a block's wind",
    ("files/read_readings.py", "headwind"): "the same",
    ("files/sheet_table.py", "headwind"): "the same",
    ("files/sheet_columns.py", "headwind"): "the name of a sheet's column",
    ("files/sheet_columns.py", "tailwind"): "what a sheet's column may be called wrongly",
    ("studies/compared.py", "headwind"): "the key by which a block is named",
    ("reports/phrases.py", "snow"): "what falls from the sky, in the words of a report",
}


def named(source: str) -> set[str]:
    """Return the names of causes that stand in a source as strings, docstrings and longer sentences apart."""
    strings = (node.value for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Constant))
    return {text for text in strings if isinstance(text, str) and text in CAUSES}


def uses(files: Iterable[Path]) -> set[tuple[str, str]]:
    found = set()
    for path in files:
        module = path.relative_to(PACKAGE).as_posix()
        if module not in WHERE_CAUSES_ARE_NAMED:
            found |= {(module, cause) for cause in named(path.read_text(encoding="utf-8"))}
    return found


def test_no_module_names_a_correction_but_for_the_uses_listed() -> None:
    files = sorted(PACKAGE.rglob("*.py"))
    assert len(files) > 40
    unlisted = uses(files) - set(KNOWN_USES)
    assert unlisted == set(), f"named in code, where a note should be data: {sorted(unlisted)}"


def test_no_use_is_listed_that_is_not_there() -> None:
    gone = set(KNOWN_USES) - uses(sorted(PACKAGE.rglob("*.py")))
    assert gone == set(), f"listed here and no longer in the code: {sorted(gone)}"


def test_in_the_handbook_and_the_calculations_only_the_documented_causes_are_asked_for_by_name() -> None:
    files = [*sorted((PACKAGE / "calc").rglob("*.py")), *sorted((PACKAGE / "handbook").rglob("*.py"))]
    assert len(files) > 12
    assert {cause for _, cause in uses(files)} == {"flaps up", "headwind", "tailwind"}


def test_a_comparison_with_a_cause_s_name_would_be_noticed() -> None:
    assert named('if cause == "dry grass": feet *= 1.15') == {"dry grass"}
    assert named('found["wet grass"] = 1.0') == {"wet grass"}
    assert named('"""Add for dry grass."""') == set()


def test_the_two_modules_where_causes_are_named_name_every_one() -> None:
    listed = named((PACKAGE / "handbook" / "causes.py").read_text(encoding="utf-8"))
    assert listed == set(CAUSES)
    found = named((PACKAGE / "calc" / "causes.py").read_text(encoding="utf-8"))
    # Those come from the landing case and from the airplane's own notes, not from the runway.
    assert found == set(CAUSES) - {"flaps up", "own equipment"}

"""The layout shows the flow: imports run one way, files and functions stay short, names of units stay true."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "briefgen"
MODULES = sorted(PACKAGE.rglob("*.py"))

# A module may import only what stands on its own line or on an earlier one.
LAYERS = [
    {
        "briefgen",
        "briefgen.errors",
        "briefgen.units",
        "briefgen.printing",
        "briefgen.resources",
        "briefgen.fact",
        "briefgen.fact_list",
        "briefgen.caution",
        "briefgen.writing",
    },
    {"briefgen.figures"},
    {"briefgen.handbook"},
    {"briefgen.model"},
    {"briefgen.files", "briefgen.calc", "briefgen.reports"},
    {"briefgen.item", "briefgen.printed"},
    {
        "briefgen.along_page",
        "briefgen.items",
        "briefgen.paper_items",
        "briefgen.light_items",
        "briefgen.sky_facts",
        "briefgen.weather_page",
    },
    {"briefgen.climb_facts", "briefgen.place_facts"},
    {
        "briefgen.plans",
        "briefgen.side_view",
        "briefgen.table_picture",
        "briefgen.wind_picture",
        "briefgen.loading",
        "briefgen.alternate_page",
        "briefgen.daylight_page",
        "briefgen.facts",
        "briefgen.speed_facts",
        "briefgen.way_facts",
        "briefgen.paper_facts",
        "briefgen.standard",
    },
    {
        "briefgen.said",
        "briefgen.route_page",
        "briefgen.fuel_stop_page",
        "briefgen.speeds_page",
        "briefgen.papers_page",
    },
    {"briefgen.working"},
    {"briefgen.brief"},
    {"briefgen.required_page", "briefgen.risk_page"},
    {"briefgen.rules", "briefgen.studies"},
    {"briefgen.render", "briefgen.pipeline"},
    {"briefgen.auditing", "briefgen.checking", "briefgen.filing", "briefgen.watching"},
    {"briefgen.building"},
    {"briefgen.cli"},
    {"briefgen.__main__"},
]


def name_of(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def layer_of(module: str) -> int:
    for level, names in enumerate(LAYERS):
        if module in names or any(module.startswith(f"{name}.") for name in names - {"briefgen"}):
            return level
    raise AssertionError(f"{module} has no layer")


def imported(tree: ast.Module) -> list[str]:
    names = []
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("briefgen"):
            names += [
                f"{node.module}.{each.name}" if node.module == "briefgen" else node.module for each in node.names
            ]
        elif isinstance(node, ast.Import):
            names += [each.name for each in node.names if each.name.startswith("briefgen")]
    return ["briefgen" if name in ("briefgen.__version__", "briefgen.units.up") else name for name in names]


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_imports_run_one_way(path: Path) -> None:
    here = layer_of(name_of(path))
    for name in imported(ast.parse(path.read_text(encoding="utf-8"))):
        assert layer_of(name) <= here, f"{name_of(path)} imports {name}, which is above it"


def test_there_are_modules() -> None:
    assert len(MODULES) > 40


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_files_and_functions_stay_short(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 400
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            docstring = ast.get_docstring(node) or ""
            length = (node.end_lineno or node.lineno) - node.lineno + 1 - len(docstring.splitlines())
            assert length <= 50, f"{node.name} has {length} lines"


def test_calculations_know_no_file_no_clock_and_no_rule() -> None:
    forbidden = {"pathlib", "os", "time", "random", "yaml", "jinja2", "json"}  # a date that is given is a value
    clocks = {"now", "today", "utcnow", "fromtimestamp"}
    found = 0
    for path in MODULES:
        if path.parent.name in ("calc", "handbook", "model"):
            found += 1
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                assert not (isinstance(node, ast.Attribute) and node.attr in clocks), f"{path} reads a clock"
                names = [each.name for each in node.names] if isinstance(node, ast.Import) else []
                names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
                assert not {name.split(".")[0] for name in names} & forbidden, path
    assert found > 15


def test_rendering_imports_no_calculation() -> None:
    for path in (PACKAGE / "render").glob("*.py"):
        names = imported(ast.parse(path.read_text(encoding="utf-8")))
        assert not [
            name for name in names if name.startswith(("briefgen.calc", "briefgen.handbook", "briefgen.files"))
        ]

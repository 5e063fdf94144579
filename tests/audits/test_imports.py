"""The house: every arrow points down, no cycles, and a box loads only what is its own.

Read from the text of the modules, imports inside functions included, and then from fresh processes.
"""

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

BELOW = ("core", "units", "library", "storage", "sheets", "ui", "headless")
# box -> boxes it may import besides itself
MAY = {
    "core": set(),
    "units": {"core"},
    "library": {"core"},
    "storage": {"core"},
    "sheets": {"core", "units"},
    "ui": {"core", "units", "sheets"},
    "headless": {"core", "units", "library", "storage", "sheets"},
    # row 4: the command, and what wires the screen to file and library
    "top": {*BELOW},
}
# box -> packages it may import that are not part of Python
OUTSIDE = {
    "core": set(),
    "units": {"pint"},
    "library": set(),
    "storage": set(),
    "sheets": set(),
    "ui": {"textual", "rich"},
    "headless": {"rich"},
    "top": set(),
}
# box -> parts of Python's own library it keeps its hands off
NEVER = {
    "core": set(),  # told by CORE_MAY
    "units": {"sqlite3", "tomllib"},
    "library": {"sqlite3"},
    "storage": {"tomllib"},
    "sheets": {"sqlite3", "tomllib"},
    "ui": {"sqlite3", "tomllib"},
    "headless": {"sqlite3", "tomllib"},
    "top": {"sqlite3", "tomllib"},
}
# The core computes: nothing here reads, writes, waits or asks the clock.
CORE_MAY = {
    *(
        "abc",
        "array",
        "bisect",
        "collections",
        "dataclasses",
        "difflib",
        "enum",
        "fractions",
        "functools",
        "heapq",
        "itertools",
    ),
    *("math", "operator", "random", "re", "statistics", "struct", "types", "typing", "unicodedata"),
}

BY_NAME, UNNAMED = ("__import__", "import_module"), "an import by name"

Sources = dict[str, str]


@cache
def sources() -> Sources:
    """Every module of the program with its text."""
    found = {}
    for path in sorted((ROOT / "bench").rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path.read_text(encoding="utf-8")
    return found


def box(module: str) -> str:
    """The box of the house a module stands in."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 and parts[1] in BELOW else "top"


@cache
def imported(text: str, modules: frozenset[str]) -> frozenset[str]:
    """Every module a text imports, at the top or inside a function."""
    found = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports hide what is imported"
            whole = {f"{node.module}.{name.name}" for name in node.names}
            inside = whole & modules
            found |= inside
            if len(inside) < len(whole):
                found.add(str(node.module))
        elif getattr(node, "id", "") in BY_NAME or getattr(node, "attr", "") in BY_NAME:
            found.add(UNNAMED)
    return frozenset(found)


def ui_row(module: str) -> int:
    """Within the screens: 0 widgets and helpers, 1 panes, 2 screens and the list of panes, 3 the app."""
    name = module.rpartition(".")[2]
    if name == "app":
        return 3
    if name.endswith("_screen") or name == "views":
        return 2
    return 1 if name.endswith(("_pane", "_view", "_views")) else 0


def wrong(module: str, other: str) -> str:
    """Why a module may not import another; empty where it may."""
    here, root = box(module), other.partition(".")[0]
    if other == UNNAMED:
        return "" if module == "bench.headless.verbs" else "imports by name cannot be audited"
    if root != "bench":
        if root not in sys.stdlib_module_names:
            return "" if root in OUTSIDE[here] else f"{here} may not import the package {root}"
        if here == "core" and root not in CORE_MAY:
            return f"the core may not import {root}"
        return f"{here} may not import {root}" if root in NEVER[here] else ""
    there = box(other)
    if other != "bench" and there != here and there not in MAY[here]:
        return f"{here} may not import {there}"
    if here == there == "ui" and module != other:
        mine, its = ui_row(module), ui_row(other)
        if its > mine or mine == its == 1:
            return "panes and widgets import only what is below them"
    return ""


def faults(modules: Sources) -> list[str]:
    """Every import that points the wrong way."""
    return [
        f"{module} imports {other}: {why}"
        for module, text in modules.items()
        for other in sorted(imported(text, frozenset(modules)))
        if (why := wrong(module, other))
    ]


def cycles(modules: Sources) -> list[str]:
    """Modules that import one another round in a ring."""
    names = frozenset(modules)
    graph = {module: imported(text, names) & names - {module} for module, text in modules.items()}
    left = dict(graph)
    while free := [module for module, others in left.items() if not others & set(left)]:
        for module in free:
            del left[module]
    return sorted(left)


def test_every_arrow_points_down() -> None:
    assert faults(sources()) == []


def test_no_cycles() -> None:
    assert cycles(sources()) == []


def test_every_module_has_a_box() -> None:
    modules = sources()
    assert {box(module) for module in modules} == set(MAY)
    tops = {module.split(".")[1] for module in modules if box(module) == "top" and module != "bench"}
    assert tops == {"__main__", "launch"}


def test_panes_and_screens_are_known_by_their_names() -> None:
    rows = {module: ui_row(module) for module in sources() if box(module) == "ui"}
    assert rows["bench.ui.app"] == 3 and rows["bench.ui.bench_screen"] == 2
    for pane in ("float_pane", "section_pane", "cuts_pane", "stock_view", "parts_view"):
        assert rows[f"bench.ui.{pane}"] == 1
    for widget in ("drawing", "frame", "grid", "fieldpane", "entry"):
        assert rows[f"bench.ui.{widget}"] == 0


PLANTED = [
    ("bench.core.water", "import sqlite3"),
    ("bench.core.water", "def f():\n    from pathlib import Path"),
    ("bench.core.water", "from time import sleep"),
    ("bench.core.water", "import pint"),
    ("bench.core.water", "from bench.units import reading"),
    ("bench.core.water", "import importlib\nimportlib.import_module('sqlite3')"),
    ("bench.units.reading", "import textual.app"),
    ("bench.units.reading", "from bench import sheets"),
    ("bench.library.species", "import pint"),
    ("bench.library.species", "import sqlite3"),
    ("bench.storage.rows", "from textual.app import App"),
    ("bench.storage.rows", "def f():\n    import pint"),
    ("bench.storage.rows", "from bench.library import load"),
    ("bench.sheets.wording", "import rich"),
    ("bench.sheets.wording", "from bench.ui import drawing"),
    ("bench.ui.grid", "import bench.storage"),
    ("bench.ui.grid", "def f():\n    from bench import library"),
    ("bench.ui.grid", "import pint"),
    ("bench.ui.grid", "from bench.ui.stock_view import StockView"),
    ("bench.ui.cuts_pane", "from bench.ui.float_pane import FloatPane"),
    ("bench.ui.cuts_pane", "from bench.ui import bench_screen"),
    ("bench.ui.cuts_pane", "from bench.ui.app import BenchApp"),
    ("bench.ui.bench_screen", "from bench.ui.app import BenchApp"),
    ("bench.ui.cuts_pane", "from bench import launch"),
    ("bench.headless.cuts", "from bench.ui.app import BenchApp"),
    ("bench.headless.cuts", "from bench import launch"),
    ("bench.headless.cuts", "import textual"),
    ("bench.headless.cuts", "import sqlite3"),
    ("bench.launch", "import sqlite3"),
]


@pytest.mark.parametrize(("module", "text"), PLANTED)
def test_a_planted_import_is_found(module: str, text: str) -> None:
    modules = sources()
    assert module in modules
    found = faults({**modules, module: modules[module] + "\n" + text})
    assert found and all(fault.startswith(f"{module} imports ") for fault in found)


def test_a_planted_cycle_is_found() -> None:
    modules = sources()
    text = "def f():\n    from bench.core.river import flow"
    found = cycles({**modules, "bench.core.strength": modules["bench.core.strength"] + "\n" + text})
    assert {"bench.core.strength", "bench.core.river"} <= set(found)


# --- what is really loaded -----------------------------------------------------------------------------

LOADS = [
    # modules imported in a fresh process, what must not have come with them
    ("core", {"textual", "rich", "pint", "sqlite3", "tomllib"}),
    ("units", {"pint", "textual", "rich", "sqlite3"}),
    ("library", {"pint", "sqlite3", "textual", "rich"}),
    ("storage", {"textual", "rich", "pint"}),
    ("sheets", {"textual", "rich", "sqlite3", "pint"}),
    ("ui", {"sqlite3", "pint", "bench.library", "bench.storage"}),
]


@pytest.mark.parametrize(("name", "banned"), LOADS)
def test_a_fresh_process_loads_no_more_than_it_may(name: str, banned: set[str]) -> None:
    # The registry of units is the one module that is itself loaded late.
    modules = [module for module in sources() if box(module) == name and module != "bench.units.registry"]
    code = "import sys\n" + "".join(f"import {module}\n" for module in modules) + "print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    loaded = set(run.stdout.split())
    assert set(modules) <= loaded
    assert loaded & banned == set()

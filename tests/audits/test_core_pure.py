"""The core computes: no files, no clock, no output, no chance without a seed, no state between calls."""

import ast
import importlib
import pkgutil
from collections.abc import Iterator
from dataclasses import is_dataclass
from pathlib import Path
from typing import Any

import pytest

import bench.core

CORE = Path(__file__).parents[2] / "bench" / "core"
FILES = sorted(CORE.glob("*.py"))

CALLS = {"open", "print", "input", "exec", "eval", "breakpoint", "globals", "compile", "exit", "quit"}
METHODS = {
    *("now", "today", "utcnow", "time", "monotonic", "perf_counter", "sleep"),
    *("write", "write_text", "write_bytes", "read_text", "read_bytes", "unlink", "mkdir", "urlopen"),
}
MODULES = {
    "os",
    "sys",
    "io",
    "time",
    "datetime",
    "pathlib",
    "logging",
    "threading",
    "socket",
    "secrets",
    "uuid",
}
CHANGERS = {
    *("append", "extend", "insert", "remove", "pop", "clear", "sort", "reverse"),
    *("update", "setdefault", "popitem", "add", "discard"),
}


def bound_at_top(tree: ast.Module) -> set[str]:
    """Names bound by the module itself, imports and definitions aside."""
    names = set()
    for node in tree.body:
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        names |= {target.id for target in targets if isinstance(target, ast.Name)}
    return names


def local_to(function: ast.FunctionDef | ast.Lambda) -> set[str]:
    """Names that a function binds itself, so that they are not the module's."""
    arguments = function.args
    names = {arg.arg for arg in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs)}
    names |= {arg.arg for arg in (arguments.vararg, arguments.kwarg) if arg}
    return names | {
        node.id
        for node in ast.walk(function)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    }


def root_of(node: ast.AST) -> str:
    """The name at the root of `name.a[0].b`."""
    while isinstance(node, (ast.Attribute, ast.Subscript)):
        node = node.value
    return node.id if isinstance(node, ast.Name) else ""


def changed(node: ast.AST) -> Iterator[str]:
    """Names whose object a node changes in place."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in CHANGERS:
        yield root_of(node.func.value)
    targets: list[Any] = getattr(node, "targets", None) or [getattr(node, "target", None)]
    if isinstance(node, (ast.Assign, ast.AugAssign, ast.AnnAssign, ast.Delete)):
        yield from (root_of(t) for t in targets if isinstance(t, (ast.Subscript, ast.Attribute)))


def state(tree: ast.Module) -> Iterator[str]:
    """Functions that change what belongs to the module."""
    top = bound_at_top(tree)
    for function in ast.walk(tree):
        if isinstance(function, (ast.FunctionDef, ast.Lambda)):
            shared = top - local_to(function)
            for node in ast.walk(function):
                yield from (f"line {node.lineno}: changes {name}" for name in changed(node) if name in shared)
        if isinstance(function, (ast.Global, ast.Nonlocal)):
            yield f"line {function.lineno}: rebinds {', '.join(function.names)}"


def calls(tree: ast.Module) -> Iterator[str]:
    """Calls and imports that reach outside, or draw without a seed."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = node.func.id if isinstance(node.func, ast.Name) else ""
            method = node.func.attr if isinstance(node.func, ast.Attribute) else ""
            if name in CALLS or method in METHODS:
                yield f"line {node.lineno}: calls {name or method}"
            if "Random" in (name, method) and not (node.args or node.keywords):
                yield f"line {node.lineno}: draws without a seed"
        if isinstance(node, ast.Import):
            names = {alias.name.partition(".")[0] for alias in node.names}
            yield from (f"line {node.lineno}: imports {name}" for name in names & {*MODULES, "random"})
        if isinstance(node, ast.ImportFrom):
            drawn = node.module == "random" and {alias.name for alias in node.names} != {"Random"}
            if str(node.module).partition(".")[0] in MODULES or drawn:
                yield f"line {node.lineno}: imports from {node.module}"


def impurities(text: str) -> list[str]:
    """Everything in a text that is more than calculation."""
    tree = ast.parse(text)
    return [*calls(tree), *state(tree)]


# Functions of records are compiled there, as the standard library compiles those of data classes.
COMPILES = "frozen.py"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_core_only_computes(path: Path) -> None:
    found = impurities(path.read_text(encoding="utf-8"))
    if path.name == COMPILES:
        assert found.pop().endswith("calls exec")
    assert found == []


PLANTED = [
    "def f():\n    return open('x')",
    "def f():\n    print(1)",
    "def f(path):\n    return path.read_text()",
    "import datetime",
    "from time import monotonic",
    "def f(clock):\n    return clock.now()",
    "from random import Random\nR = Random()",
    "import random\ndef f():\n    return random.random()",
    "from random import choice",
    "SEEN = []\ndef f(x):\n    SEEN.append(x)",
    "SEEN = {}\ndef f(x):\n    SEEN[x] = 1",
    "SEEN = {}\ndef f(x):\n    del SEEN[x]",
    "SEEN: dict[str, list[int]] = {}\ndef f(x):\n    SEEN['a'].append(x)",
    "SEEN = set()\nclass A:\n    def f(self, x):\n        SEEN.add(x)",
    "COUNT = 0\ndef f():\n    global COUNT\n    COUNT = 1",
    "ROWS = [0]\ndef f():\n    ROWS[0] += 1",
]


@pytest.mark.parametrize("text", PLANTED)
def test_a_planted_impurity_is_found(text: str) -> None:
    assert impurities(text)


CLEAN = [
    "from random import Random\ndef f(seed):\n    return Random(seed).random()",
    "def f(x):\n    seen = []\n    seen.append(x)\n    return seen",
    "TABLE = {'a': 1}\ndef f(x):\n    return TABLE[x]",
    "SEEN = [1]\ndef f(SEEN):\n    SEEN.append(2)",
]


@pytest.mark.parametrize("text", CLEAN)
def test_what_is_pure_is_let_through(text: str) -> None:
    assert impurities(text) == []


def test_every_record_of_the_core_is_frozen() -> None:
    kinds = {
        kind
        for info in pkgutil.iter_modules(bench.core.__path__)
        for kind in vars(importlib.import_module(f"bench.core.{info.name}")).values()
        if isinstance(kind, type) and is_dataclass(kind) and kind.__module__.startswith("bench.core")
    }
    assert len(kinds) > 30
    thawed = sorted(kind.__qualname__ for kind in kinds if not kind.__dataclass_params__.frozen)
    assert thawed == []

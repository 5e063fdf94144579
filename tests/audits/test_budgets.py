"""No file, function or class grows past what a reader holds in mind: the tail is what is bound."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

BENCH = Path(__file__).parents[2] / "bench"
FILES = sorted(BENCH.rglob("*.py"))

MODULE_LINES, FUNCTION_LINES, CLASS_METHODS = 400, 60, 30


def over(text: str) -> Iterator[str]:
    """Everything in a module that is too large."""
    lines = len(text.splitlines())
    if lines > MODULE_LINES:
        yield f"module: {lines} lines, {MODULE_LINES} at most"
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            assert node.end_lineno is not None
            length = node.end_lineno - node.lineno + 1
            if length > FUNCTION_LINES:
                yield f"{node.name}: {length} lines, {FUNCTION_LINES} at most"
        if isinstance(node, ast.ClassDef):
            methods = sum(isinstance(item, (ast.FunctionDef, ast.AsyncFunctionDef)) for item in node.body)
            if methods > CLASS_METHODS:
                yield f"{node.name}: {methods} methods, {CLASS_METHODS} at most"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(BENCH).as_posix())
def test_within_the_budget(path: Path) -> None:
    assert list(over(path.read_text(encoding="utf-8"))) == []


def test_the_budget_binds() -> None:
    module = "x = 1\n" * MODULE_LINES
    function = "def f():\n" + "    x = 1\n" * (FUNCTION_LINES - 1)
    kind = "class A:\n" + "".join(f"    def m{n}(self): ...\n" for n in range(CLASS_METHODS))
    for text, more in ((module, "x = 1\n"), (function, "    x = 1\n"), (kind, "    def more(self): ...\n")):
        assert list(over(text)) == []
        assert len(list(over(text + more))) == 1


def test_everything_was_looked_at() -> None:
    assert len(FILES) > 50

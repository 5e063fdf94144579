"""No file, function or class grows past what a reader holds in mind: the tail is what is bound."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

BENCH = Path(__file__).parents[2] / "bench"
TESTS = BENCH.parent / "tests"
FILES, TEST_FILES = (sorted(folder.rglob("*.py")) for folder in (BENCH, TESTS))

# A docstring is not counted against its function: saying more is never what makes one too long.
MODULE_LINES, FUNCTION_LINES, CLASS_METHODS = 400, 50, 30
# The one screen that owns the job, and alone applies edits, has a way in for each of them.
MAIN_SCREEN, MAIN_SCREEN_METHODS = "BenchScreen", 35

Function = ast.FunctionDef | ast.AsyncFunctionDef


def lines_of(node: ast.stmt) -> int:
    """How many lines a statement runs over."""
    return (node.end_lineno or node.lineno) - node.lineno + 1


def is_hook(method: Function) -> bool:
    """Whether a method only names what a subclass fills in."""
    if any(isinstance(node, ast.Name) and node.id == "NotImplementedError" for node in ast.walk(method)):
        return len(method.body) <= 2
    return all(isinstance(line, ast.Expr) and isinstance(line.value, ast.Constant) for line in method.body)


def over(text: str) -> Iterator[str]:
    """Everything in a module that is too large."""
    lines = len(text.splitlines())
    if lines > MODULE_LINES:
        yield f"module: {lines} lines, {MODULE_LINES} at most"
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, Function):
            said = node.body[0] if ast.get_docstring(node, clean=False) else None
            length = lines_of(node) - (lines_of(said) if said else 0)
            if length > FUNCTION_LINES:
                yield f"{node.name}: {length} lines, {FUNCTION_LINES} at most"
        if isinstance(node, ast.ClassDef):
            methods = [item for item in node.body if isinstance(item, Function) and not is_hook(item)]
            most = MAIN_SCREEN_METHODS if node.name == MAIN_SCREEN else CLASS_METHODS
            if len(methods) > most:
                yield f"{node.name}: {len(methods)} methods, {most} at most"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(BENCH).as_posix())
def test_within_the_budget(path: Path) -> None:
    assert list(over(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("path", TEST_FILES, ids=lambda path: path.relative_to(TESTS).as_posix())
def test_the_tests_are_within_it_too(path: Path) -> None:
    assert list(over(path.read_text(encoding="utf-8"))) == []


def test_the_budget_binds() -> None:
    module = "x = 1\n" * MODULE_LINES
    function = "def f():\n    '''One.\n\n    Two.\n    '''\n" + "    x = 1\n" * (FUNCTION_LINES - 1)
    method = "    def more(self): return 1\n"
    kind = "class A:\n" + method * CLASS_METHODS
    screen = f"class {MAIN_SCREEN}:\n" + method * MAIN_SCREEN_METHODS
    for text, more in ((module, "x = 1\n"), (function, "    x = 1\n"), (kind, method), (screen, method)):
        assert list(over(text)) == []
        assert len(list(over(text + more))) == 1


def test_what_a_subclass_fills_in_is_not_counted() -> None:
    hook = "    def hook(self):\n        'What it is.'\n        raise NotImplementedError\n"
    assert list(over("class A:\n" + (hook + "    def other(self): ...\n") * CLASS_METHODS)) == []


def test_everything_was_looked_at() -> None:
    assert len(FILES) > 50 and len(TEST_FILES) > 100

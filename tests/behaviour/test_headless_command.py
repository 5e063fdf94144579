"""The command itself: version, help, the app without a verb, and no traceback whatever happens."""

import sys
from pathlib import Path
from types import ModuleType

import pytest

from bench import __version__
from bench.__main__ import main
from tests.tools.verb_examples import DRYING

pytestmark = pytest.mark.usefixtures("home")


def test_version_and_help(run) -> None:
    assert run("--version") == (0, f"tenthmark {__version__}\n", "")
    status, out, err = run("--help")
    assert (status, err) == (0, "")
    assert all(verb in out for verb in ("float", "weigh", "moisture", "section", "cuts", "species", "demo"))


@pytest.mark.parametrize("verb", ["float", "weigh", "moisture", "section", "cuts", "species"])
def test_help_of_a_verb_names_its_options(run, verb: str) -> None:
    status, out, err = run(verb, "--help")
    assert (status, err) == (0, "")
    assert "--json" in out and "--working" in out and "--units" in out


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """What the app was opened with, the screen left out."""
    calls: list[object] = []

    def run(path: Path | None) -> int:
        calls.append(path)
        return 0

    def run_demo() -> int:
        calls.append("demo")
        return 7

    screen = ModuleType("bench.launch")
    screen.run, screen.run_demo = run, run_demo  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "bench.launch", screen)
    monkeypatch.setattr("bench.launch", screen, raising=False)
    return calls


def test_no_verb_opens_the_app(opened, tmp_path: Path) -> None:
    there = tmp_path / "kestrel"
    there.write_text("")
    new = tmp_path / "new.tenthmark"
    assert [main([]), main([str(there)]), main([str(new)]), main(["new.tenthmark"])] == [0, 0, 0, 0]
    assert opened == [None, there, new, Path("new.tenthmark")]
    assert main(["demo"]) == 7
    assert opened[-1] == "demo"


def test_a_fault_of_our_own_is_no_traceback(run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("bench.core.moisture.by_oven", broken)
    status, out, err = run(*DRYING)
    assert (status, out) == (70, "")
    assert err.startswith("tenthmark: a fault of the program") and err.count("\n") == 1


def test_interrupt_is_no_traceback(run, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("bench.core.moisture.by_oven", interrupted)
    assert run(*DRYING) == (130, "", "")

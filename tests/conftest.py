"""What all tests share."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from bench import library
from bench.__main__ import main
from bench.core.records import Species

# How fast cases are made says something of the machine, nothing of the program. Fifty cases a property keep
# the suite under five minutes on two cores; `--hypothesis-profile thorough` tries more.
settings.register_profile("any machine", max_examples=50, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("thorough", max_examples=1000, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any machine")


@pytest.fixture(scope="session")
def woods() -> dict[str, Species]:
    """The shipped species."""
    return library.load().species


# --- the verbs, as they are typed; a file of tests may have a `run` of its own, and the others follow it


@pytest.fixture
def home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A data folder of nobody."""
    monkeypatch.setenv("TENTHMARK_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture
def run(home: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """Exit status, standard output and standard error of a command."""

    def command(*words: str) -> tuple[int, str, str]:
        status = main(list(words))
        out, err = capsys.readouterr()
        return status, out, err

    return command


@pytest.fixture
def ask(run: Callable[..., tuple[int, str, str]]) -> Callable[..., dict[str, Any]]:
    """The JSON answer of a verb."""

    def answer(*words: Any) -> dict[str, Any]:
        status, out, err = run(*words, "--json")
        assert (status, err) == (0, "")
        found = json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in JSON"))
        assert isinstance(found, dict)
        return found

    return answer


@pytest.fixture
def refused(run: Callable[..., tuple[int, str, str]]) -> Callable[..., str]:
    """The one line that a command is refused with."""

    def line(*words: Any) -> str:
        status, out, err = run(*words)
        assert (status, out) == (2, "")
        assert err.startswith("tenthmark: ") and err.endswith("\n") and err.count("\n") == 1
        return err.removeprefix("tenthmark: ").rstrip("\n")

    return line

"""The command as a process of its own: what it imports, its pipes, its terminal and its encoding."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
COMMAND = [sys.executable, "-m", "bench"]
FLOAT = ["float", "--species", "sitka_spruce", "--side", "1/2", "--mark", "4.5", "--moisture", "12"]


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    """A data folder of nobody, and the project on the path."""
    return {**os.environ, "TENTHMARK_HOME": str(tmp_path), "PYTHONPATH": str(ROOT)}


def _run(words: list[str], environment: dict[str, str], **more: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*COMMAND, *words], capture_output=True, text=True, env={**environment, **more}, check=False
    )


@pytest.mark.parametrize("words", [FLOAT, [*FLOAT, "--json"], ["species"], ["species", "balsa", "--json"]])
def test_a_verb_loads_neither_the_screen_nor_pint(environment, words: list[str]) -> None:
    program = (
        "import sys, contextlib, io\n"
        "from bench.__main__ import main\n"
        "with contextlib.redirect_stdout(io.StringIO()): status = main(sys.argv[1:])\n"
        "names = {name.partition('.')[0] for name in sys.modules}\n"
        "print(status, sorted(names & {'textual', 'pint', 'sqlite3'}), 'bench.ui' in sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, *words], capture_output=True, text=True, env=environment, check=True
    )
    assert done.stdout == "0 [] False\n"


def test_json_and_nothing_else(environment) -> None:
    done = _run([*FLOAT, "--json"], environment)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["verdict"] == "accept"


def test_a_refusal(environment) -> None:
    done = _run([*FLOAT[:-1], "-3"], environment)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "tenthmark: --moisture: '-3' is negative; a moisture like 9.5 or 9.5 % would be read\n"
    )


def test_letters_that_the_output_cannot_hold(environment, tmp_path: Path) -> None:
    plan = tmp_path / "plan.json"
    listed = {"parts": [{"name": "Längsholm ½", "length": 3}], "sticks": [{"tag": "A", "length": 9}]}
    plan.write_text(json.dumps(listed, ensure_ascii=False), encoding="utf-8")
    for words in (["cuts", str(plan)], ["cuts", str(plan), "--json"], ["species", "sitka_spruce"], FLOAT):
        done = _run(words, environment, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
        assert (done.returncode, done.stderr) == (0, "")
        assert done.stdout.isascii() and done.stdout.strip()


@pytest.mark.skipif(sys.platform == "win32", reason="no such pipes there")
@pytest.mark.parametrize("words", [["species"], ["species", "--json"], ["--help"], ["float", "--help"]])
def test_a_reader_that_went_away(environment, words: list[str]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [*COMMAND, *words], stdout=writing, stderr=subprocess.PIPE, env=environment, check=False
    )
    os.close(writing)
    assert done.stderr == b""
    assert done.returncode in (0, 141)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_output_that_cannot_be_written(environment) -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [*COMMAND, "species"], stdout=full, stderr=subprocess.PIPE, env=environment, check=False
        )
    assert done.returncode == 1
    assert done.stderr.startswith(b"tenthmark: ") and done.stderr.count(b"\n") == 1


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo terminals there")
@pytest.mark.parametrize(("colours", "expected"), [({}, True), ({"NO_COLOR": "1"}, False)])
def test_styles_on_a_terminal_only_where_wanted(environment, colours: dict[str, str], expected: bool) -> None:
    import pty

    reading, writing = pty.openpty()
    kept = {key: value for key, value in environment.items() if key != "NO_COLOR"}
    done = subprocess.run(
        [*COMMAND, *FLOAT],
        stdout=writing,
        stderr=subprocess.PIPE,
        env={**kept, "TERM": "xterm-256color", "COLUMNS": "100", **colours},
        check=False,
    )
    os.close(writing)
    shown = b""
    try:
        while chunk := os.read(reading, 65536):
            shown += chunk
    except OSError:  # the other end is closed and everything has been read
        pass
    os.close(reading)
    assert done.returncode == 0
    assert b"ACCEPT" in shown
    assert (b"\x1b[" in shown) is expected

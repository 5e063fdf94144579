"""The footing of the benchmarks: a program on a pseudo-terminal starts, takes a key, its repaint is seen."""

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("a pseudo-terminal is wanted", allow_module_level=True)

from tests.speed import driven, jobs
from tests.speed.picture import Picture
from tests.speed.terminal import UP, Terminal, environment, python


def test_the_bare_app_answers_a_key(tmp_path: Path) -> None:
    bench = driven.Bench(tmp_path)
    with bench.settled("bare", tmp_path, (80, 24)) as terminal:
        before = terminal.total
        sent = terminal.send(UP)
        assert terminal.until("1 steps") > sent
        assert terminal.total > before
    assert terminal.process.returncode is not None


def test_the_program_answers_a_key_and_rests(tmp_path: Path) -> None:
    bench = driven.Bench(tmp_path)
    with bench.settled("ours", jobs.written(tmp_path, 2, 2), (80, 24)) as terminal:
        assert "> 6.40 of 10" in terminal.picture.text
        sent = terminal.send(UP)
        assert terminal.until("> 6.45 of 10") > sent
        terminal.send(b"q")
        while terminal.read(5.0):
            pass
        assert terminal.process.wait(10) == 0


def test_a_picture_is_what_the_terminal_would_show() -> None:
    picture = Picture(10, 3)
    for chunk in (
        b"\x1b[?2026h\x1b[1;1H\x1b[1;37mabc\x1b[0m\r\nd",
        b"\xc2",
        b"\xb0\x1b[3;",
        b"9Hxyz\x1b[?2026l",
    ):
        picture.feed(chunk)
    assert picture.text.split("\n") == ["abc       ", "d\u00b0        ", "        xy"]
    assert (picture.frames, picture.drawing) == (1, False)


@pytest.mark.parametrize(("late", "most", "left"), [(0, 0, 0), (7, 7, 7)])
def test_what_is_behind_is_counted(late: int, most: int, left: int) -> None:
    count, level, times, levels = 240, 0, [], []
    for number in range(count):
        level += 1 if number // driven.EACH_WAY % 2 == 0 else -1
        times.append(number * 0.01)
        levels.append(level)
    shown = [(times[number] + 0.001, 6.5 + 0.05 * levels[number - late]) for number in range(late, count)]
    found = driven._behind(times, 6.5, shown)
    assert (found[0], found[2]) == (most, left)


def test_a_program_that_ends_is_noticed(tmp_path: Path) -> None:
    command = python("-c", "print('gone')")
    with (
        Terminal(command, (20, 5), environment(str(tmp_path)), str(tmp_path)) as terminal,
        pytest.raises(Exception, match="never came"),
    ):
        terminal.until("something else")


@pytest.mark.skipif(sys.platform != "linux", reason="the driver that sleeps is for Linux")
def test_the_sleeping_driver_lets_go_takes_back_and_ends(tmp_path: Path) -> None:
    command = python(str(driven.ROOT / "tests" / "tools" / "suspending.py"))
    with Terminal(command, (40, 5), environment(str(tmp_path)), str(driven.ROOT)) as terminal:
        terminal.until("away 0, counted 0")
        for turn in (1, 2):
            terminal.send(b"s")
            terminal.until(f"away {turn}, counted {turn - 1}")
            terminal.send(b"n")
            terminal.until(f"away {turn}, counted {turn}")
        terminal.send(b"q")
        while terminal.read(5.0):
            pass
        assert terminal.process.wait(10) == 0

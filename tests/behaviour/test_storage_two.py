"""Two programs at one job: the first writes, the second is told so and reads; a crash leaves no lock."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

import bench
from bench import launch
from bench.core.edits import NameJob, StartJob
from bench.core.errors import CannotSave, FileFault
from bench.core.history import EDIT, UNDO, Entry
from bench.core.records import Species
from bench.storage import JobFile, schema
from bench.storage.rescue import rescue
from bench.ui.app import BenchApp
from tests.tools.driving import CLOCK, picture, press, settled, shows, until

# Opens a job, changes it, says so, and stays until it is told to leave or is killed.
HOLDER = """
import sys
from pathlib import Path
from bench.core.edits import NameJob
from bench.core.history import EDIT, Entry
from bench.storage import JobFile
file = JobFile.open(Path(sys.argv[1]))
file.append([(Entry(EDIT, NameJob("by the first")), "t")])
print("held", flush=True)
sys.stdin.read()
file.close()
"""


def job(folder: Path) -> Path:
    file = JobFile.create(folder / "wing.tenthmark", Entry(EDIT, StartJob("Tansy")), "t")
    file.close()
    return file.path


def holder(path: Path) -> subprocess.Popen[bytes]:
    """Another program that has the job open."""
    root = Path(bench.__file__).parents[1]
    words = [sys.executable, "-c", HOLDER, str(path)]
    other = subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=root)
    assert other.stdout is not None and other.stdout.readline() == b"held\n"
    return other


def test_the_second_reads_and_never_writes(tmp_path: Path) -> None:
    path = job(tmp_path)
    with holder(path) as first:
        second = JobFile.open(path)
        assert second.elsewhere and not second.writable()
        assert second.history.job.name == "by the first", "what is still in the log is read too"
        with pytest.raises(CannotSave, match="is open elsewhere"):
            second.append([(Entry(UNDO), "t")])
        assert len(second.lines()) == 2
        second.close()
        third = JobFile.open(path)
        assert third.elsewhere, "closing a reader lets go of nothing"
        third.close()
        first.communicate()
    assert os.listdir(tmp_path) == [path.name]
    after = JobFile.open(path)
    assert not after.elsewhere and after.writable()
    after.close()


def test_two_in_one_process(tmp_path: Path) -> None:
    path = job(tmp_path)
    first = JobFile.open(path)
    second = JobFile.open(tmp_path / "." / path.name)
    assert (first.elsewhere, second.elsewhere) == (False, True)
    second.close()
    first.append([(Entry(EDIT, NameJob("still ours")), "t")])
    first.close()
    assert os.listdir(tmp_path) == [path.name]


@pytest.mark.skipif(sys.platform == "win32", reason="links want rights there")
def test_a_link_is_the_same_job(tmp_path: Path) -> None:
    path, link = job(tmp_path), tmp_path / "link.tenthmark"
    link.symlink_to(path)
    first = JobFile.open(path)
    second = JobFile.open(link)
    assert second.elsewhere
    second.close()
    first.close()


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system kills in another way")
def test_a_crash_leaves_nothing_locked(tmp_path: Path) -> None:
    path = job(tmp_path)
    with holder(path) as first:
        first.kill()
    assert path.with_name(f"{path.name}-lock").exists(), "what is left is an empty file"
    after = JobFile.open(path)
    assert not after.elsewhere
    assert after.history.job.name == "by the first"
    after.append([(Entry(EDIT, NameJob("after")), "t")])
    after.close()
    assert os.listdir(tmp_path) == [path.name]


def test_reading_goes_on_reading_when_the_first_has_closed(tmp_path: Path) -> None:
    """What it shows may be old by then: it is opened again by hand, never written over."""
    path = job(tmp_path)
    first = JobFile.open(path)
    second = JobFile.open(path)
    first.append([(Entry(EDIT, NameJob("newer")), "t")])
    first.close()
    with pytest.raises(CannotSave, match="is open elsewhere"):
        second.append([(Entry(UNDO), "t")])
    second.close()
    again = JobFile.open(path)
    assert again.history.job.name == "newer"
    again.close()


def test_an_open_job_is_neither_brought_up_to_date_nor_rescued(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def later(db: object) -> None:
        raise AssertionError("nothing is migrated while the job is open elsewhere")

    path = job(tmp_path)
    first = JobFile.open(path)
    with pytest.raises(FileFault, match="is open elsewhere"):
        rescue(path)
    monkeypatch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, later))
    with pytest.raises(FileFault, match=r"earlier version.*is open elsewhere"):
        JobFile.open(path)
    first.close()
    assert os.listdir(tmp_path) == [path.name]


async def test_the_screen_says_that_it_only_reads(tmp_path: Path, woods: dict[str, Species]) -> None:
    path = job(tmp_path)
    with holder(path) as first:
        desk = launch.Desk(tmp_path, path)
        opened = desk.open(path)
        app = BenchApp(
            opened, woods, desk.save, desk.start, now=lambda: CLOCK, notice=desk.notice, reads=desk.reads
        )
        desk.app = app
        async with app.run_test(size=(80, 24)) as pilot:
            await until(pilot, shows(app, "OPENED TO READ"), "said at the head")
            await until(pilot, shows(app, "opened to read: this job is open elsewhere"), "said in words")
            await press(pilot, "u")
            await settled(pilot)
            assert app.bench is not None and app.bench.job.name == "by the first"
            await press(pilot, "o", "tab", "up", "enter")
            await until(pilot, shows(app, "opened to read"), "said why nothing is kept")
            assert app.bench.job == opened[0].job
            assert "NOT SAVED" not in picture(app)
        assert desk.close()
        first.communicate()
    after = JobFile.open(path)
    assert after.entries == 2
    after.close()

"""Invented jobs in files, and the verb `cuts` on one."""

import json
from collections.abc import Iterable
from pathlib import Path

import pytest
from core_cases import WOODS, ash_for_spruce

from bench.__main__ import main
from bench.core.demo import entries
from bench.core.edits import ChangeSettings, ChooseSection, Edit, StartJob
from bench.core.records import Job, Settings
from bench.storage import JobFile
from tests.tools import job_files

KEYS = {
    *("placed", "unplaced", "unplaced_critical", "sticks_used", "sticks_opened", "fewest_possible"),
    *("optimal", "largest_offcut_in", "waste_percent", "pieces_made", "scarfed", "sticks", "warnings"),
}


@pytest.fixture(autouse=True)
def nobody(home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A data folder of nobody, and a folder to write into."""
    (tmp_path / "shop").mkdir()
    monkeypatch.chdir(tmp_path / "shop")


def saved(edits: Iterable[Edit], name: str = "job.tenthmark") -> tuple[Path, Job]:
    """A job in a file, closed again."""
    path = job_files.saved(Path(name), *edits)
    return path, job_of(path)


def job_of(path: Path) -> Job:
    file = JobFile.open(path)
    file.close()
    return file.history.job


def shop(*more: Edit, parts: Iterable[Edit] = (), habits: Settings | None = None) -> list[Edit]:
    """An invented job of ash."""
    return [
        StartJob("Tansy"),
        ChooseSection(ash_for_spruce()),
        ChangeSettings(habits or Settings()),
        *parts,
        *more,
    ]


@pytest.fixture
def tansy() -> Path:
    return saved(entries(WOODS), "demo.tenthmark")[0]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]):
    """Exit status, standard output and standard error of `cuts` with these words."""

    def command(*words: object) -> tuple[int, str, str]:
        status = main(["cuts", *map(str, words)])
        out, err = capsys.readouterr()
        return status, out, err

    return command


@pytest.fixture
def ask(run):
    """The JSON answer."""

    def answer(*words: object) -> dict:
        status, out, err = run(*words, "--json")
        assert (status, err) == (0, "")
        found = json.loads(out)
        assert found.keys() >= KEYS
        return found

    return answer

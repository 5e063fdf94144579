"""The README's examples do what they say."""

import shlex
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.core import parcels
from bench.core.demo import entries
from bench.core.edits import StartJob
from bench.headless.job_files import read
from bench.headless.verbs import VERBS
from bench.library import load
from bench.sheets import parcel_file
from tests.tools.job_files import saved

README = Path(__file__).resolve().parents[2] / "README.md"
EXAMPLES = [line for line in README.read_text(encoding="utf-8").splitlines() if line.startswith("tenthmark ")]
PLAN = README.read_text(encoding="utf-8").partition("```\n{\n")[2].partition("```")[0]  # the list it shows

COUPONS = "group,value\nash,24 in\nash,26 in\nash,22 in\nspruce,14 in\nspruce,15 in\nspruce,13 in\n"


def test_there_is_an_example_of_every_verb() -> None:
    verbs = {shlex.split(line)[1] for line in EXAMPLES}
    assert verbs == set(VERBS)


def _two_jobs(folder: Path, parcel: bool) -> None:
    """Two invented jobs that share a stick, and what the one packed for the other."""
    theirs = entries(load().species)
    saved(folder / "theirs.tenthmark", *theirs)
    saved(folder / "ours.tenthmark", theirs[0], theirs[1])
    if parcel:
        packed = parcels.pack(read(folder / "theirs.tenthmark"), "2026-03-14", "invented lot 1")
        (folder / "ash.parcel").write_text(parcel_file.write(packed), encoding="utf-8")


@pytest.mark.parametrize("line", EXAMPLES)
def test_every_example_is_answered(
    line: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setenv("TENTHMARK_HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "plan.json").write_text("{\n" + PLAN, encoding="utf-8")
    saved(tmp_path / "JOB.tenthmark", StartJob("Wing"))
    saved(tmp_path / "damaged.tenthmark", StartJob("Wing"))
    (tmp_path / "coupons.csv").write_text(COUPONS, encoding="utf-8")
    words = shlex.split(line)[1:]
    if words[0] in ("pack", "bring"):
        _two_jobs(tmp_path, parcel=words[0] == "bring")
    assert main(words) == 0
    shown = capsys.readouterr()
    assert shown.out.strip()
    assert "tenthmark: fault" not in shown.err

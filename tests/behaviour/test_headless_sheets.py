"""The verbs `sheets` and `record`: files where they are asked for, none written over, jobs only read."""

import json
import re
from datetime import date
from pathlib import Path

import pytest
from core_cases import WOODS

from bench.__main__ import main
from bench.core.demo import entries
from bench.core.history import EDIT, UNDO, Entry
from bench.sheets import kinds
from bench.storage import JobFile

AT = "2031-05-01T10:00:00"


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TENTHMARK_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "wing.tenthmark"
    first, *rest = [Entry(EDIT, edit) for edit in entries(WOODS)]
    file = JobFile.create(path, first, AT)
    file.append([(entry, AT) for entry in (*rest, Entry(UNDO))])
    file.close()
    return path


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main([*words]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and "fault" not in said
    return said


def test_a_sheet_is_written_and_the_job_is_left_as_it_is(job: Path) -> None:
    before = job.read_bytes()
    for kind in (kinds.BINDER, kinds.STICK):
        stick = ("--stick", "A-01") if kind == kinds.STICK else ()
        assert main(["sheets", str(job), "--kind", kind, "--out", f"{kind}.html", *stick]) == 0
        text = Path(f"{kind}.html").read_text(encoding="utf-8")
        assert text.startswith("<!DOCTYPE html>") and date.today().isoformat()[:4] in text
    assert job.read_bytes() == before and not list(job.parent.glob("wing.tenthmark-*"))


def test_name_format_and_day_follow_what_is_given(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", str(job), "--kind", "acceptance", "--format", "md", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert Path(told["written"]).name == "Tansy-parasol-trainer-acceptance.md"
    day = ("--date", "2031-06-01")
    assert main(["sheets", str(job), "--kind", "cuts", "--out", "cuts.txt", *day]) == 0
    assert "tenthmark 0.1.0, 2031-06-01" in Path("cuts.txt").read_text()
    assert main(["sheets", str(job), "--kind", "cuts", "--out", "mm.txt", "--units", "mm"]) == 0
    assert re.search(r"\d mm", Path("mm.txt").read_text())


def test_nothing_is_written_over_unasked(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("a.html").write_text("mine")
    assert "a.html is there already" in refused(capsys, "sheets", str(job), "--out", "a.html")
    assert Path("a.html").read_text() == "mine"
    assert main(["sheets", str(job), "--kind", "labels", "--out", "a.html", "--replace"]) == 0
    assert "STICK A-01" in Path("a.html").read_text()
    capsys.readouterr()
    over = ("--out", str(job), "--format", "md", "--replace")
    assert "named as a job" in refused(capsys, "sheets", str(job), *over)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--kind", "stick"), "--stick: not given"),
        (("--stick", "A-01"), "--stick: 'A-01'"),
        (("--kind", "stick", "--stick", "A-1"), "nearest: A-01"),
        (("--out", "a.pdf"), "tells no format"),
        (("--format", "jsonl"), "jsonl is for --kind record"),
        (("--kind", "cuts", "--every-step"), "is for --kind binder"),
        (("--date", "soon"), "a day like 2031-05-01"),
    ],
)
def test_what_cannot_be_is_said(
    job: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str
) -> None:
    assert said in refused(capsys, "sheets", str(job), *words)
    assert [path.name for path in job.parent.iterdir()] == [job.name]


def test_a_record_goes_out_and_comes_back_entry_for_entry(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["record", str(job), "--out", "r.jsonl"]) == 0
    assert main(["record", "r.jsonl", "--out", "again.tenthmark"]) == 0
    assert main(["record", "again.tenthmark", "--out", "r2.jsonl"]) == 0
    assert Path("r.jsonl").read_bytes() == Path("r2.jsonl").read_bytes()
    opened = [JobFile.open(path) for path in (job, Path("again.tenthmark"))]
    assert opened[0].lines() == opened[1].lines() and opened[0].history.job == opened[1].history.job
    for file in opened:
        file.close()
    capsys.readouterr()
    assert "already" in refused(capsys, "record", "r.jsonl", "--out", "again.tenthmark")
    assert "never written over" in refused(
        capsys, "record", "r.jsonl", "--out", "again.tenthmark", "--replace"
    )
    assert ".tenthmark" in refused(capsys, "record", "r.jsonl", "--out", "again.db")


def test_a_bad_record_makes_nothing(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", str(job), "--out", "r.jsonl"]) == 0
    capsys.readouterr()
    rows = Path("r.jsonl").read_text().splitlines()
    rows[4] = rows[4].replace('"number": 4', '"number": 9')
    Path("bad.jsonl").write_text("\n".join(rows))
    said = refused(capsys, "record", "bad.jsonl", "--out", "new.tenthmark")
    assert "bad.jsonl, line 5: number: 9 stands where 4 is wanted" in said and "nothing was made" in said
    assert not Path("new.tenthmark").exists()

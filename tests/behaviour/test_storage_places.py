"""Where jobs go, what their files are called, and which was last."""

import os
from pathlib import Path

import pytest

from bench.core.edits import StartJob
from bench.core.errors import CannotSave
from bench.core.history import EDIT, Entry
from bench.storage import JobFile, jobs_folder, last_job, newer_aside, path_for, remember_last


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Kestrel trainer", "Kestrel-trainer"),
        ("  spar / rib:  no. 3 ", "spar-rib-no-3"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\wings", "C-wings"),
        ("..", "job"),
        ("", "job"),
        ("a\0b\nc\udcff", "a-b-c"),
        ("-rf", "rf"),
        ("Größe ½", "Größe-½"),
        ("नमूना", "नमूना"),
        # Device names: learn.microsoft.com, "Naming Files, Paths, and Namespaces".
        ("CON", "CON-job"),
        ("lpt1", "lpt1-job"),
        ("console", "console"),
    ],
)
def test_a_safe_name(tmp_path: Path, name: str, stem: str) -> None:
    path = path_for(tmp_path, name)
    assert path == tmp_path / "jobs" / f"{stem}.tenthmark"
    JobFile.create(path, Entry(EDIT, StartJob("x")), "t").close()


@pytest.mark.parametrize("letter", ["a", "木", "\U0001d400"])
def test_a_long_name_still_makes_a_file(tmp_path: Path, letter: str) -> None:
    for _ in range(2):
        path = path_for(tmp_path, letter * 300)
        file = JobFile.create(path, Entry(EDIT, StartJob("x")), "t")
        file.close()
        assert path.name.startswith(letter * 10)


def test_no_name_is_taken_twice(tmp_path: Path) -> None:
    (jobs_folder(tmp_path) / "Wing-2.tenthmark").symlink_to(tmp_path / "gone")
    names = []
    for _ in range(3):
        path = path_for(tmp_path, "Wing")
        path.write_text("")
        names.append(path.name)
    assert names == ["Wing.tenthmark", "Wing-3.tenthmark", "Wing-4.tenthmark"]


def test_the_last_job_is_remembered_until_it_is_gone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    data = tmp_path / "data"
    assert last_job(data) is None
    for name in ("one.tenthmark", "Größe 木\n.tenthmark", "odd \udcff.tenthmark"):
        path = tmp_path / name
        path.write_text("")
        remember_last(data, path)
        assert last_job(data) == path
    monkeypatch.chdir(tmp_path)
    remember_last(data, Path("one.tenthmark"))
    assert last_job(data) == tmp_path / "one.tenthmark"
    assert [entry.name for entry in data.iterdir()] == ["last-job"]
    (tmp_path / "one.tenthmark").unlink()
    assert last_job(data) is None


@pytest.mark.parametrize("note", [b"", b"\0", b"relative.tenthmark", b"\xff\xfe" * 4000])
def test_a_spoilt_note_is_no_last_job(tmp_path: Path, note: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("relative.tenthmark").write_text("")
    (tmp_path / "last-job").write_bytes(note)
    assert last_job(tmp_path) is None


def test_a_data_folder_that_cannot_be_is_named(tmp_path: Path) -> None:
    data = tmp_path / "file" / "data"
    (tmp_path / "file").write_text("")
    for attempt, named in (
        (lambda: jobs_folder(data), data / "jobs"),
        (lambda: path_for(data, "x"), data / "jobs"),
        (lambda: remember_last(data, tmp_path / "x"), data),
    ):
        with pytest.raises(CannotSave) as refusal:
            attempt()
        assert refusal.value.message.startswith(f"{named}: cannot be written (not a directory)")
        assert "is wanted" in refusal.value.message


def test_a_newer_copy_with_what_could_not_be_saved_is_found(tmp_path: Path) -> None:
    job, elsewhere = tmp_path / "wing [1].tenthmark", tmp_path / "jobs"
    elsewhere.mkdir()
    job.write_bytes(b"job")
    assert newer_aside(job, [elsewhere]) is None
    older, newer = (elsewhere / f"wing [1]-unsaved{more}.tenthmark" for more in ("", "-2"))
    for place, path in enumerate((older, newer)):
        path.write_bytes(b"copy")
        os.utime(path, (job.stat().st_mtime + 10 * place - 5,) * 2)
    assert newer_aside(job, [elsewhere]) == newer
    assert newer_aside(newer, [elsewhere]) is None, "it is such a copy itself"
    os.utime(job, (newer.stat().st_mtime + 1,) * 2)
    assert newer_aside(job, [elsewhere, tmp_path / "gone"]) is None, "it was saved again since"

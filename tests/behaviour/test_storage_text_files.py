"""Text files the user names: whole or not at all, nothing overwritten unasked, every fault said."""

import os
import stat
import sys
from pathlib import Path

import pytest

from bench.core.edits import StartJob
from bench.core.errors import CannotSave, Clash, FileFault
from bench.core.history import EDIT, Entry
from bench.storage import JobFile, TextFiles
from bench.storage.text_files import LARGEST

FILES = TextFiles()


def test_what_is_written_is_read_again(tmp_path: Path) -> None:
    text = "tag,wood\nA-1,Fichte ä\r\n"
    where = FILES.write(str(tmp_path / "stock.csv"), text)
    assert where == str(tmp_path / "stock.csv")
    assert FILES.read(where) == text
    assert [path.name for path in tmp_path.iterdir()] == ["stock.csv"], "no draft is left behind"


def test_a_mark_of_byte_order_is_no_part_of_the_text(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_bytes(b"\xef\xbb\xbftag\n")
    assert FILES.read(str(tmp_path / "a.csv")) == "tag\n"


def test_nothing_is_overwritten_unasked(tmp_path: Path) -> None:
    path = str(tmp_path / "a.txt")
    FILES.write(path, "one")
    with pytest.raises(Clash, match="there already"):
        FILES.write(path, "two")
    assert FILES.read(path) == "one"
    FILES.write(path, "two", replace=True)
    assert FILES.read(path) == "two"


def test_the_home_folder_may_be_short(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    assert FILES.write("~/a.txt", "x") == str(tmp_path / "a.txt")


@pytest.mark.parametrize("path", ["", "  "])
def test_no_name_is_refused(path: str) -> None:
    with pytest.raises(FileFault, match="no name given"):
        FILES.write(path, "x")


def test_what_cannot_be_read_is_said(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="cannot be read"):
        FILES.read(str(tmp_path / "none.csv"))
    with pytest.raises(FileFault, match="cannot be read"):
        FILES.read(str(tmp_path))
    (tmp_path / "latin.csv").write_bytes(b"tag\nwood\nesche \xe4\n")
    with pytest.raises(FileFault, match=r"line 3.*UTF-8"):
        FILES.read(str(tmp_path / "latin.csv"))
    with (tmp_path / "large.csv").open("wb") as out:
        out.truncate(LARGEST + 1)
    with pytest.raises(FileFault, match="larger than 5 MB"):
        FILES.read(str(tmp_path / "large.csv"))


def test_what_cannot_be_written_is_said(tmp_path: Path) -> None:
    with pytest.raises(CannotSave, match="cannot be written"):
        FILES.write(str(tmp_path / "no folder" / "a.txt"), "x")
    (tmp_path / "folder").mkdir()
    with pytest.raises(CannotSave, match="cannot be written"):
        FILES.write(str(tmp_path / "folder"), "x", replace=True)
    assert [path.name for path in tmp_path.iterdir()] == ["folder"]


@pytest.mark.parametrize("path", ["a\x00b.csv", "a\nb.csv", "a\ud800.csv"])
def test_a_character_that_no_path_has_is_refused(path: str) -> None:
    with pytest.raises(FileFault):
        FILES.read(path)
    with pytest.raises(FileFault):
        FILES.write(path, "x")


def test_half_a_character_does_not_stop_the_writing(tmp_path: Path) -> None:
    where = FILES.write(str(tmp_path / "a.txt"), "note \ud800 end")
    assert FILES.read(where) == "note ? end"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for go in (FILES.read, lambda path: FILES.write(path, "x", replace=True)):
        with pytest.raises(FileFault, match="no plain file"):
            go(str(tmp_path / "pipe"))


@pytest.mark.skipif(sys.platform == "win32", reason="modes and links are of another kind there")
def test_a_link_is_followed_and_the_mode_kept(tmp_path: Path) -> None:
    target, link = tmp_path / "real.txt", tmp_path / "link.txt"
    target.write_text("one")
    target.chmod(0o600)
    link.symlink_to(target)
    FILES.write(str(link), "two", replace=True)
    assert link.is_symlink() and target.read_text() == "two"
    assert stat.S_IMODE(target.stat().st_mode) == 0o600


def test_a_job_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "wing.tenthmark"
    file = JobFile.create(path, Entry(EDIT, StartJob("Tansy")), "t")
    file.close()
    before = path.read_bytes()
    copy = tmp_path / "copy.txt"
    copy.write_bytes(before)
    for name in ("wing.tenthmark", "wing.tenthmark-wal", "copy.txt"):
        with pytest.raises(CannotSave):
            FILES.write(str(tmp_path / name), "tag,wood", replace=True)
    assert path.read_bytes() == copy.read_bytes() == before


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(CannotSave, match="is a folder"):
        FILES.write(f"{tmp_path}/new/", "x")
    assert list(tmp_path.iterdir()) == []


def test_a_long_name_that_is_legal_is_written(tmp_path: Path) -> None:
    assert FILES.write(str(tmp_path / ("x" * 250)), "x")

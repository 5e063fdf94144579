"""Text files the user names: whole or not at all, nothing overwritten unasked, every fault said."""

from pathlib import Path

import pytest

from bench.core.errors import CannotSave, Clash, FileFault
from bench.storage import TextFiles
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

"""The user's own settings: read with every fault at its line, written in place, never in a start's way."""

from pathlib import Path

import pytest

from bench.__main__ import main
from bench.core.errors import CannotSave
from bench.library import UserSettings, keep_setting, load_settings
from bench.ui.actions import EXAMPLE, catalogue, checked, read_key
from bench.ui.bench_screen import BenchScreen

GROUPS = BenchScreen.key_groups()
FAULTY = """\
# mine
theme = "lite"
colour = "red"

[keys]
go.float = "s"     # swapped
"go.section" = ["f", "f6"]
list.only = 7

[typing]
";" = "/"
"ab" = "-"
"," = "!"
"""


def settings(folder: Path, text: str) -> UserSettings:
    """What a file of this text says."""
    path = folder / "settings.toml"
    path.write_text(text, encoding="utf-8")
    return load_settings(path)


def test_faults_are_named_at_their_line_and_the_rest_is_taken(tmp_path: Path) -> None:
    read = settings(tmp_path, FAULTY)
    assert read.keys == {"go.float": ("s",), "go.section": ("f", "f6")}
    assert (read.theme, read.characters, dict(read.typing)) == ("dark", "auto", {";": "/"})
    said = [(fault.line, fault.key) for fault in read.faults]
    assert said == [(2, "theme"), (3, "colour"), (12, "ab"), (13, ","), (8, "list.only")]
    assert "dark, light, contrast" in str(read.faults[0])


@pytest.mark.parametrize(
    ("text", "line"), [("theme = \n", 1), ('[keys]\na = "b"\na = "c"\n', 3), ('keys = "x"\n', 1)]
)
def test_a_file_that_says_nothing_readable_leaves_the_defaults(tmp_path: Path, text: str, line: int) -> None:
    read = settings(tmp_path, text)
    assert not read.keys and read.theme == "dark"
    assert [fault.line for fault in read.faults] == [line]


def test_no_file_and_a_file_that_is_no_text(tmp_path: Path) -> None:
    assert load_settings(tmp_path / "settings.toml") == UserSettings()
    (tmp_path / "settings.toml").write_bytes(b"\xff\xfe\x00")
    assert "UTF-8" in str(load_settings(tmp_path / "settings.toml").faults[0])
    assert load_settings(tmp_path).faults  # a folder


def test_one_setting_is_written_and_the_rest_stays(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "settings.toml"
    keep_setting(path, "theme", "light")
    assert path.read_text() == 'theme = "light"\n'
    path.write_text('# mine\ntheme="light"\n\n[keys]\n# a swap\ngo.float = "s"\n')
    keep_setting(path, "theme", "dark")
    keep_setting(path, "characters", "plain")
    assert path.read_text() == (
        '# mine\ntheme = "dark"\n\ncharacters = "plain"\n\n[keys]\n# a swap\ngo.float = "s"\n'
    )
    assert [file.name for file in path.parent.iterdir()] == ["settings.toml"]


def test_what_cannot_be_read_is_not_written_over(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text("theme = \n")
    with pytest.raises(CannotSave, match="line 1"):
        keep_setting(path, "theme", "dark")
    assert path.read_text() == "theme = \n"


# --- keys ----------------------------------------------------------------------------------------------


def test_the_programs_own_keys_clash_with_none() -> None:
    everything = {action.id: action.keys for action in catalogue(GROUPS)}
    table, faults = checked(GROUPS, everything)
    assert not faults and set(table.changed) == set(everything)


def test_a_swap_is_taken_and_what_is_fixed_stays() -> None:
    table, faults = checked(GROUPS, {"go.float": ["s"], "go.section": ["f"], "pane.keep": ["k"]})
    assert not faults
    assert table.said("<go.float> <go.section> <no.such> <list.add>") == "s f <no.such> a"
    assert table.changed["pane.keep"] == ("k", "enter")


@pytest.mark.parametrize(
    ("name", "key", "why"),
    [
        ("go.flaot", "x", "nearest: go.float"),
        ("go.float", "7", "begins a number"),
        ("go.float", ".", "begins a number"),
        ("go.float", "enter", "means the same everywhere"),
        ("go.float", "shift+banana", "is no key"),
        ("go.float", "", "is no key"),
        ("go.float", "t", "Stock (go.stock)"),  # both work everywhere
        ("go.float", "a", "'a' is the key of"),  # of a list, where it works too
        ("stock.lots", "a", "Add (list.add)"),  # of the list that Stock is
    ],
)
def test_a_key_that_cannot_be_is_refused_with_the_reason(name: str, key: str, why: str) -> None:
    table, faults = checked(GROUPS, {name: [key]})
    assert why in faults[name] and not table.changed


def test_screens_that_are_never_on_show_together_may_share_a_key() -> None:
    assert checked(GROUPS, {"stock.lots": ["#"], "cuts.view": ["#"]})[1] == {}


def test_two_that_clash_are_both_refused() -> None:
    table, faults = checked(GROUPS, {"go.float": ["#"], "go.cuts": ["#"], "go.stock": ["f5"]})
    assert set(faults) == {"go.float", "go.cuts"} and set(table.changed) == {"go.stock"}


def test_keys_as_people_write_them() -> None:
    said = {
        "?": "question_mark",
        "/": "slash",
        "F5": "f5",
        "space": "space",
        " ": "space",
        "Q": "Q",
        "minus": "minus",
        "-": "minus",
    }
    assert {text: read_key(text) for text in said} == said


# --- the verb ------------------------------------------------------------------------------------------


def test_the_example_is_what_it_says(tmp_path: Path) -> None:
    read = settings(tmp_path, EXAMPLE)
    assert not read.faults and read.keys and read.typing
    assert checked(GROUPS, read.keys)[1] == {}


def test_every_action_is_listed_and_faults_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("TENTHMARK_HOME", str(tmp_path))
    assert main(["keys"]) == 0
    out = capsys.readouterr().out
    assert all(f"  {action.id} " in out for action in catalogue(GROUPS))
    assert EXAMPLE in out and str(tmp_path / "settings.toml") in out
    settings(tmp_path, '[keys]\ngo.float = ["x", "f9"]\ngo.cuts = "f7"\n')
    assert main(["keys"]) == 2
    told = capsys.readouterr()
    assert "line 2, go.float: 'x' is the key of" in told.err and "(your own)" in told.out

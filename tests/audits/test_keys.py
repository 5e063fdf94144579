"""Every key: named, explained, doing something, hiding nothing, and in the README as it is in the code."""

import re
from pathlib import Path

import pytest
from textual.binding import Binding

from bench.sheets.screens import HELP
from bench.ui.actions import EXAMPLE, catalogue, key_name
from bench.ui.bench_screen import BenchScreen
from bench.ui.start_screen import StartScreen

README = Path(__file__).resolve().parents[2] / "README.md"
GROUPS = BenchScreen.key_groups()


def action_name(binding: Binding) -> str:
    return "action_" + binding.action.partition("(")[0]


def test_ids_are_unique_and_nothing_is_unexplained() -> None:
    bindings = [binding for _, kind in GROUPS for binding in kind.__dict__["BINDINGS"]]
    bindings += StartScreen.BINDINGS
    ids = [binding.id for binding in bindings]
    assert None not in ids
    assert len(ids) == len(set(ids))
    for binding in bindings:
        assert binding.description, binding.id
        assert binding.tooltip, binding.id


@pytest.mark.parametrize(("title", "kind"), GROUPS, ids=[title for title, _ in GROUPS])
def test_every_key_has_an_action_in_the_class_that_binds_it(title: str, kind: type) -> None:
    for binding in kind.__dict__["BINDINGS"]:
        assert callable(getattr(kind, action_name(binding), None)), (title, binding.id)


def test_no_key_of_a_pane_hides_one_that_works_everywhere() -> None:
    everywhere = {key for binding in BenchScreen.BINDINGS for key in binding.key.split(",")}
    for title, kind in GROUPS[1:]:
        for binding in kind.__dict__["BINDINGS"]:
            assert not everywhere & set(binding.key.split(",")), (title, binding.id)


def test_figures_and_the_point_are_free_for_numbers() -> None:
    for _, kind in GROUPS:
        for binding in kind.__dict__["BINDINGS"]:
            assert not set(binding.key.split(",")) & set("0123456789."), binding.id


def table() -> list[str]:
    """The README's table of keys, from the code."""
    rows = ["| where | key | what it does |", "|---|---|---|"]
    for title, kind in GROUPS:
        for binding in kind.__dict__["BINDINGS"]:
            if binding.show:
                rows.append(f"| {title} | `{key_name(binding)}` | {binding.tooltip} |")
    return rows


def test_the_readme_names_every_key_as_it_is() -> None:
    text = README.read_text(encoding="utf-8")
    shown = [
        line
        for line in text.splitlines()
        if line.startswith(("| where | key", "|---|---|---|")) or "| `" in line
    ]
    start = shown.index("| where | key | what it does |")
    assert shown[start : start + len(table())] == table()


def test_every_key_that_a_text_names_is_an_action() -> None:
    ids = {action.id for action in catalogue(GROUPS)}
    named = {
        name
        for folder in ("ui", "sheets")
        for path in sorted((README.parent / "bench" / folder).rglob("*.py"))
        for name in re.findall(r"<([a-z]+\.[a-z-]+)>", path.read_text(encoding="utf-8"))
    }
    assert {"go.stock", "list.add", "go.help"} <= named | {"list.add"}
    assert named <= ids


def test_no_text_names_a_key_that_the_user_may_have_moved() -> None:
    keys = "".join(sorted({key for _, kind in GROUPS for b in kind.__dict__["BINDINGS"] for key in b.key}))
    letters = "".join(char for char in keys if char.isalpha())
    loose = re.compile(rf"[Pp]ress [{letters}]\b|[\"' ][{letters}] (?:shows|stops|takes|brings|undoes)\b")
    for path in sorted((README.parent / "bench" / "ui").rglob("*.py")):
        assert not loose.search(path.read_text(encoding="utf-8")), path.name


def test_every_screen_has_its_help() -> None:
    views = {
        binding.action for binding in BenchScreen.BINDINGS if binding.action.startswith(("view", "pane"))
    }
    names = {action.split("'")[1] for action in views} - {"help"}
    assert names | {"saw", "buying", "trial", "groups"} <= set(HELP)
    assert all(HELP[name].caution for name in ("float", "section", "saw", "trial", "breaks"))


def test_the_readme_has_the_example_of_a_settings_file() -> None:
    assert f"```toml\n{EXAMPLE}```" in README.read_text(encoding="utf-8")

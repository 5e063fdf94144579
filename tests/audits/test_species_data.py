"""The shipped species files and the bibliography: nothing empty, nothing unresolved, nothing unused."""

import re
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from bench.core.quantities import DATA_UNITS, QUANTITIES
from bench.library import load, shipped_folder
from bench.library.parsing import parse
from bench.library.places import user_data_folder

LIBRARY = load()
BENCH = Path(__file__).parents[2] / "bench"
FILES = sorted(shipped_folder().glob("*.toml"))
SPECIES_FILES = [path for path in FILES if path.name != "sources.toml"]


def tables(path: Path, kind: str) -> list[dict[str, Any]]:
    """The tables of one kind, by the standard library's own reader."""
    read: list[dict[str, Any]] = tomllib.loads(path.read_text(encoding="utf-8")).get(kind, [])
    return read


def test_no_faults() -> None:
    assert LIBRARY.faults == ()
    assert len(SPECIES_FILES) == len(LIBRARY.species) > 0


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_quick_reader_agrees_with_the_standard_one(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert parse(text) == tomllib.loads(text)


@pytest.mark.parametrize("path", SPECIES_FILES, ids=lambda path: path.stem)
def test_key_is_the_file_name(path: Path) -> None:
    species = LIBRARY.get(path.stem)
    assert species.key == path.stem
    assert re.fullmatch(r"[a-z]+(_[a-z]+)*", species.key)
    assert species.name.strip() and species.kind in ("softwood", "hardwood")
    assert species.origin == "ours"


@pytest.mark.parametrize("path", SPECIES_FILES, ids=lambda path: path.stem)
def test_every_table_has_a_source_and_a_place(path: Path) -> None:
    rows = tables(path, "figure") + tables(path, "statement")
    assert rows
    for row in rows:
        assert all(value != "" for value in row.values()), row
        assert row["source"] in LIBRARY.sources, row
        assert any(row.get(place, "").strip() for place in ("table", "page", "section")), row


def test_every_figure_is_whole() -> None:
    for species in LIBRARY.species.values():
        for figure in species.figures:
            assert figure.quantity in QUANTITIES and figure.unit in DATA_UNITS
            assert figure.where and figure.source and figure.printed


def test_what_is_not_used_says_why() -> None:
    unused = [f for species in LIBRARY.species.values() for f in species.figures if not f.used]
    assert unused
    assert all(figure.note for figure in unused)


def test_one_figure_in_use_for_one_thing() -> None:
    for species in LIBRARY.species.values():
        used = Counter((f.quantity, f.at, f.volume, f.variant) for f in species.figures if f.used)
        assert used.most_common(1)[0][1] == 1, species.key


def test_no_source_key_twice() -> None:
    keys = Counter(row["key"] for row in tables(shipped_folder() / "sources.toml", "source"))
    assert max(keys.values()) == 1
    assert set(keys) == set(LIBRARY.sources)


def test_no_source_is_unused() -> None:
    """Each is named by a figure, a statement, or a docstring or comment of the program."""
    named = {row.source for s in LIBRARY.species.values() for row in s.figures}
    named |= {row.source for s in LIBRARY.species.values() for row in s.statements}
    code = "\n".join(path.read_text(encoding="utf-8") for path in BENCH.rglob("*.py"))
    named |= {key for key in LIBRARY.sources if re.search(rf"\b{key}\b", code)}
    assert named == set(LIBRARY.sources)


def test_sources_are_whole() -> None:
    """What was read on the web only carries when it was read."""
    for source in LIBRARY.sources.values():
        assert all((source.title, source.publisher, source.year)), source.key
        if source.publisher.startswith("a ") or "quoted" in source.note:
            assert source.retrieved, source.key


def test_readme_example_is_read(tmp_path: Path) -> None:
    """The example of the README is a file that loads."""
    readme = (shipped_folder() / "README.md").read_text(encoding="utf-8")
    block = re.search(r"```toml\n(.*?)```", readme, re.DOTALL)
    assert block is not None
    (tmp_path / "example_wood.toml").write_text(block[1], encoding="utf-8")
    library = load(tmp_path)
    assert library.faults == ()
    figure = library.get("example_wood").find("specific_gravity", "12 %", "12 %", "canadian")
    assert figure is not None
    assert figure.where == "Table 5-3b, p. 5-4, sec. 2.20"
    assert "specimens 24" in figure.note


def test_readme_names_the_folders() -> None:
    readme = (shipped_folder() / "README.md").read_text(encoding="utf-8")
    home = Path("/home/builder")
    for platform in ("linux", "darwin"):
        assert f"~/{user_data_folder({}, platform, home).relative_to(home).as_posix()}" in readme
    assert "TENTHMARK_HOME" in readme

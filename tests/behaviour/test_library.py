"""The library as its callers see it: the user's folder over ours, and what a faulty file does."""

import sys
from fractions import Fraction
from pathlib import Path

import pytest

from bench.core.errors import FileFault, UnknownName
from bench.core.quantities import DATA_UNITS
from bench.library import load, shipped_folder, user_data_folder

SHIPPED = load()
GOOD = """\
key = "hoop_pine"
name = "hoop pine"
kind = "softwood"

[[figure]]
quantity = "specific_gravity"
value = "0.46"
unit = "-"
at = "12 %"
volume = "12 %"
source = "own_tests"
page = "3"
"""
OWN_SOURCES = """\
[[source]]
key = "own_tests"
title = "Tests in the shop (invented)"
publisher = "the user"
year = "2024"
"""


def write(folder: Path, **files: str) -> Path:
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder


def only_fault(folder: Path) -> FileFault:
    """The one fault of a folder, after checking that nothing shipped is missing or changed."""
    library = load(folder)
    assert {key: library.species.get(key) for key in SHIPPED.species} == SHIPPED.species
    (fault,) = library.faults
    return fault


def test_shipped_species_are_ordered_by_key() -> None:
    assert list(SHIPPED.species) == sorted(SHIPPED.species)
    assert SHIPPED.faults == ()


def test_values_are_exact_until_the_last_step() -> None:
    """printed digits x exact factor, rounded to a float once."""
    checked = 0
    for species in SHIPPED.species.values():
        for figure in species.figures:
            exact = Fraction(figure.printed.replace(":", "/")) * DATA_UNITS[figure.unit][1]
            assert figure.value == float(exact), (species.key, figure)
            checked += 1
    assert checked > 1000


def test_printed_digits_keep_their_zeros() -> None:
    figure = SHIPPED.get("sitka_spruce").find("specific_gravity", "12 %", "12 %")
    assert figure is not None
    assert figure.printed == "0.40"


def test_unknown_species_names_the_nearest() -> None:
    with pytest.raises(UnknownName) as refused:
        SHIPPED.get("sitka_spruse")
    assert refused.value.near[0] == "sitka_spruce"
    assert "sitka_spruce" in str(refused.value)
    with pytest.raises(UnknownName) as refused:
        SHIPPED.get("qqq")
    assert refused.value.near == ()


def test_missing_user_folder_adds_nothing(tmp_path: Path) -> None:
    assert load(tmp_path / "nowhere") == SHIPPED


def test_new_key_adds_a_species(tmp_path: Path) -> None:
    library = load(write(tmp_path, hoop_pine=GOOD, sources=OWN_SOURCES))
    assert library.faults == ()
    assert set(library.species) == {*SHIPPED.species, "hoop_pine"}
    assert list(library.species) == sorted(library.species)
    assert library.get("hoop_pine").origin == str(tmp_path / "hoop_pine.toml")
    assert library.sources["own_tests"].publisher == "the user"


def test_shipped_key_overrides_figure_by_figure(tmp_path: Path) -> None:
    own = GOOD.replace("hoop_pine", "white_ash").replace("hoop pine", "white ash").replace("soft", "hard")
    own += '\n[[figure]]\nquantity = "contact_angle"\nvalue = 65\nunit = "deg"\n'
    own += 'source = "own_tests"\npage = "4"\n'
    library = load(write(tmp_path, white_ash=own, sources=OWN_SOURCES))
    assert library.faults == ()
    ours, theirs = SHIPPED.get("white_ash"), library.get("white_ash")
    gravity = theirs.find("specific_gravity", "12 %", "12 %")
    angle = theirs.find("contact_angle")
    assert gravity and angle
    assert (gravity.printed, angle.printed) == ("0.46", "65")
    kept = [
        f for f in theirs.figures if (f.quantity, f.at, f.source) == ("specific_gravity", "12 %", "wh282")
    ]
    assert [(figure.printed, figure.used) for figure in kept] == [("0.60", False)]
    assert "user's own file" in kept[0].note
    assert theirs.find("modulus_of_elasticity", "12 %") == ours.find("modulus_of_elasticity", "12 %")
    assert len(theirs.figures) == len(ours.figures) + 2


def test_an_unused_figure_of_the_user_overrides_nothing(tmp_path: Path) -> None:
    own = GOOD.replace("hoop_pine", "white_ash").replace("hoop pine", "white ash").replace("soft", "hard")
    library = load(write(tmp_path, white_ash=own + "used = false\n", sources=OWN_SOURCES))
    gravity = library.get("white_ash").find("specific_gravity", "12 %", "12 %")
    assert gravity is not None
    assert gravity.printed == "0.60"


def test_name_and_kind_may_be_left_out_over_a_shipped_species(tmp_path: Path) -> None:
    own = GOOD.replace("hoop_pine", "balsa").replace('name = "hoop pine"\nkind = "softwood"\n', "")
    library = load(write(tmp_path, balsa=own, sources=OWN_SOURCES))
    assert library.faults == ()
    assert library.get("balsa").name == SHIPPED.get("balsa").name


def test_new_species_needs_its_name(tmp_path: Path) -> None:
    fault = only_fault(
        write(tmp_path, hoop_pine=GOOD.replace('name = "hoop pine"\n', ""), sources=OWN_SOURCES)
    )
    assert fault.key == "name"


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "words"),
    [
        ('unit = "-"', 'unit = "lbf/sqin"', 8, "unit", ["lbf/sqin", "lbf/in2"]),
        ('unit = "-"', 'unit = "kPa"', 8, "unit", ["kPa", "specific_gravity"]),
        ('value = "0.46"', 'value = "-0.46"', 7, "value", ["-0.46", "above zero"]),
        ('value = "0.46"', 'value = "0,46"', 7, "value", ["0,46", "0.40"]),
        ('value = "0.46"', "value = nan", 7, "value", ["nan"]),
        ('value = "0.46"', "value = true", 7, "value", ["True"]),
        ('value = "0.46"', 'value = "4.6"', 7, "value", ["4.6", "0.05 to 1.5"]),
        ('value = "0.46"\n', "", 5, "value", ["missing"]),
        ('value = "0.46"', 'velue = "0.46"', 7, "velue", ["value"]),
        ('source = "own_tests"\n', "", 5, "source", ["missing"]),
        ('source = "own_tests"', 'source = "own_test"', 11, "source", ["own_tests"]),
        ('source = "own_tests"', 'source = ""', 11, "source", ["empty"]),
        ('page = "3"\n', "", 5, "table", ["page"]),
        (
            'quantity = "specific_gravity"',
            'quantity = "specific_weight"',
            6,
            "quantity",
            ["specific_gravity"],
        ),
        ('volume = "12 %"\n', "", 5, "volume", ["oven-dry"]),
        ('at = "12 %"', 'at = "12%"', 9, "at", ["12 %"]),
        ('page = "3"', 'page = "3"\nmemory = "yes"', 13, "memory", ["true or false"]),
        ('kind = "softwood"', 'kind = "soft"', 3, "kind", ["softwood"]),
        ('key = "hoop_pine"', 'key = "hoop pine"', 1, "key", ["hoop_pine"]),
        ('kind = "softwood"', 'kind = "softwood"\ncolour = "pale"', 4, "colour", ["not known"]),
    ],
)
def test_a_fault_is_named_with_line_key_and_reason(
    tmp_path: Path, old: str, new: str, line: int, key: str, words: list[str]
) -> None:
    assert old in GOOD
    fault = only_fault(write(tmp_path, hoop_pine=GOOD.replace(old, new, 1), sources=OWN_SOURCES))
    assert fault.path == str(tmp_path / "hoop_pine.toml")
    assert (fault.line, fault.key) == (line, key)
    assert all(word in fault.reason for word in words), fault.reason
    assert "\n" not in str(fault)


def test_a_syntax_error_is_named_with_its_line(tmp_path: Path) -> None:
    fault = only_fault(
        write(tmp_path, hoop_pine=GOOD.replace('unit = "-"', 'unit = "-'), sources=OWN_SOURCES)
    )
    assert fault.line == 8
    assert "TOML" in fault.reason


def test_an_unclosed_table_at_the_end_is_named_with_the_last_line(tmp_path: Path) -> None:
    fault = only_fault(write(tmp_path, hoop_pine=GOOD + "note =", sources=OWN_SOURCES))
    assert fault.line == 13


@pytest.mark.parametrize("bad", [b"\xff\xfe\x00", b'name = "caf\xe9"'])
def test_a_file_that_is_not_text_is_named(tmp_path: Path, bad: bytes) -> None:
    (tmp_path / "hoop_pine.toml").write_bytes(bad)
    assert "UTF-8" in only_fault(tmp_path).reason


def test_a_folder_in_the_place_of_a_file_is_named(tmp_path: Path) -> None:
    (tmp_path / "hoop_pine.toml").mkdir()
    assert "cannot be opened" in only_fault(tmp_path).reason


def test_a_file_in_the_place_of_the_folder_is_named(tmp_path: Path) -> None:
    (tmp_path / "species").write_text("", encoding="utf-8")
    fault = only_fault(tmp_path / "species")
    assert fault.path == str(tmp_path / "species")


def test_what_editors_leave_behind_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "._hoop_pine.toml").write_bytes(b"\x00\x05")
    (tmp_path / "hoop_pine.toml~").write_text("not TOML", encoding="utf-8")
    assert load(tmp_path) == SHIPPED


def test_missing_shipped_folder_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bench.library.species.shipped_folder", lambda: tmp_path / "gone")
    library = load()
    assert library.species == {}
    assert [fault.path for fault in library.faults] == [str(tmp_path / "gone")]


def test_a_faulty_copy_leaves_the_shipped_species(tmp_path: Path) -> None:
    own = GOOD.replace("hoop_pine", "white_ash").replace("0.46", "zero")
    fault = only_fault(write(tmp_path, white_ash=own, sources=OWN_SOURCES))
    assert fault.key == "value"


def test_every_fault_of_a_file_is_named_and_other_files_load(tmp_path: Path) -> None:
    second = GOOD.split("\n\n")[1]
    bad = GOOD.replace("0.46", "-1") + "\n" + second.replace('unit = "-"', 'unit = "x"')
    other = GOOD.replace("hoop_pine", "scots_pine").replace("hoop pine", "Scots pine")
    library = load(write(tmp_path, hoop_pine=bad, scots_pine=other, sources=OWN_SOURCES))
    assert [(fault.line, fault.key) for fault in library.faults] == [(7, "value"), (17, "unit")]
    assert "hoop_pine" not in library.species
    assert "scots_pine" in library.species


def test_two_figures_in_use_for_one_thing_are_refused(tmp_path: Path) -> None:
    twice = GOOD + "\n" + GOOD.split("\n\n")[1]
    fault = only_fault(write(tmp_path, hoop_pine=twice, sources=OWN_SOURCES))
    assert (fault.line, fault.key) == (15, "quantity")
    assert "used = false" in fault.reason
    assert load(write(tmp_path, hoop_pine=twice + "used = false\n")).faults == ()


def test_a_source_key_of_ours_cannot_be_taken(tmp_path: Path) -> None:
    fault = only_fault(write(tmp_path, sources=OWN_SOURCES.replace("own_tests", "wh282")))
    assert (fault.line, fault.key) == (2, "key")
    assert load(tmp_path).sources["wh282"] == SHIPPED.sources["wh282"]


def test_a_faulty_source_leaves_the_others(tmp_path: Path) -> None:
    entry = OWN_SOURCES.replace("own_tests", "half").replace('year = "2024"\n', "")
    library = load(write(tmp_path, hoop_pine=GOOD, sources=entry + OWN_SOURCES))
    assert [(fault.line, fault.key) for fault in library.faults] == [(1, "year")]
    assert "hoop_pine" in library.species


def test_numbers_may_stand_without_quotes(tmp_path: Path) -> None:
    """A number with a point keeps its digits, as text in quotes does; the rest of TOML is read too."""
    bare = GOOD.replace('"0.46"', "0.460  # mean of ten").replace('"hoop pine"', "'hoop pine'")
    library = load(write(tmp_path, hoop_pine="\ufeff" + bare, sources=OWN_SOURCES))
    assert library.faults == ()
    figure = library.get("hoop_pine").find("specific_gravity", "12 %", "12 %")
    assert figure is not None
    assert (figure.printed, figure.value) == ("0.460", 0.46)


def test_losses_of_strength_may_be_negative(tmp_path: Path) -> None:
    figure = SHIPPED.get("true_mahogany").find("strength_change_work_to_maximum_load")
    assert figure is not None
    assert figure.value == -2.9


def test_slope_is_read_as_rise_and_run() -> None:
    figure = SHIPPED.get("sitka_spruce").find("grain_slope_limit")
    assert figure is not None
    assert (figure.printed, figure.value) == ("1:15", 1 / 15)


def test_variants_stand_beside_the_species_at_large() -> None:
    fir = SHIPPED.get("douglas_fir_coast")
    at_large = fir.find("specific_gravity_minimum", "", "oven-dry")
    class_l = fir.find("specific_gravity_minimum", "", "oven-dry", "class L")
    canadian = fir.find("modulus_of_rupture", "12 %", "", "canadian")
    assert at_large and class_l and canadian
    assert (at_large.printed, class_l.printed, canadian.printed) == ("0.45", "0.38", "12800")


def test_shipped_folder_holds_the_data() -> None:
    assert (shipped_folder() / "sources.toml").is_file()
    assert (shipped_folder() / "sitka_spruce.toml").is_file()


@pytest.mark.skipif(sys.platform == "win32", reason="the paths of the other systems are not absolute there")
@pytest.mark.parametrize(
    ("environment", "platform", "folder"),
    [
        ({}, "linux", "/home/b/.local/share/tenthmark"),
        ({"XDG_DATA_HOME": "/data"}, "linux", "/data/tenthmark"),
        ({"XDG_DATA_HOME": "relative"}, "linux", "/home/b/.local/share/tenthmark"),
        ({}, "darwin", "/home/b/Library/Application Support/tenthmark"),
        ({"LOCALAPPDATA": "/local"}, "win32", "/local/tenthmark"),
        ({}, "win32", "/home/b/AppData/Local/tenthmark"),
        ({"TENTHMARK_HOME": "/mine", "XDG_DATA_HOME": "/data"}, "linux", "/mine"),
        ({"TENTHMARK_HOME": "/mine", "LOCALAPPDATA": "/local"}, "win32", "/mine"),
    ],
)
def test_user_data_folder(environment: dict[str, str], platform: str, folder: str) -> None:
    assert user_data_folder(environment, platform, Path("/home/b")) == Path(folder)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"a = " + b"[" * 5000, "brackets within brackets"),
        (b"a = " + b"9" * 5000, "number without end"),
        (b"# " + b"x" * 1_000_000, "larger than 1 MB"),
    ],
)
def test_a_file_without_measure_is_named_and_left_out(tmp_path: Path, content: bytes, words: str) -> None:
    (tmp_path / "hoop_pine.toml").write_bytes(content)
    assert words in only_fault(tmp_path).reason

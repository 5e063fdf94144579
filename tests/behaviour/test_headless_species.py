"""The verb `species`: every figure with its source, and the user's own woods, faulty ones too."""

from pathlib import Path

from tests.tools.verb_examples import FLOAT, INVENTED_WOOD, own_file


def test_species_lists_the_keys_of_the_handbook(ask) -> None:
    listed = {row["key"]: row for row in ask("species")["species"]}
    assert {"sitka_spruce", "douglas_fir_coast", "white_ash", "balsa"} <= listed.keys()
    assert listed["sitka_spruce"]["gravity_12"] == 0.40  # wh282 table 5-3b
    assert listed["sitka_spruce"]["minimum"] == 0.36  # ANC-19 table 2-13
    assert listed["balsa"]["minimum"] is None
    assert listed["balsa"]["gravity_12_from"] == "green"


def test_a_species_shows_each_figure_with_its_source(ask, run) -> None:
    answer = ask("species", "sitka_spruce")
    rupture = [
        row for row in answer["figures"] if (row["quantity"], row["at"]) == ("modulus_of_rupture", "12 %")
    ]
    used = [row for row in rupture if row["used"] and not row["variant"]]
    assert [(row["value"], row["unit"], row["source"]) for row in used] == [("10200", "lbf/in2", "wh282")]
    assert {"where", "standing", "note", "volume", "variant"} <= used[0].keys()
    assert "wh282" in run("species", "sitka_spruce")[1]


def test_the_users_own_species_is_read(ask, home: Path) -> None:
    own_file(home, "bare_wood", INVENTED_WOOD)
    assert ask("species", "bare_wood")["origin"].endswith("bare_wood.toml")


def test_a_faulty_file_of_the_user_is_a_warning(run, ask, home: Path) -> None:
    own_file(home, "bare_wood", INVENTED_WOOD.replace("0.46", "much"))
    status, out, err = run("species")
    assert (status, err.count("\n")) == (0, 1)
    assert err.startswith("tenthmark: warning: ") and "bare_wood.toml, line 7" in err
    assert "sitka_spruce" in out and "bare_wood" not in out
    assert "bare_wood.toml" in ask(*FLOAT)["warnings"][-1]


def test_asking_for_the_faulty_species_tells_its_fault(refused, home: Path) -> None:
    own_file(home, "bare_wood", INVENTED_WOOD.replace("0.46", "much"))
    assert "bare_wood.toml, line 7" in refused("species", "bare_wood")


def test_a_source_that_is_not_known_for_a_fault_in_the_bibliography_tells_that_one(
    refused, home: Path
) -> None:
    own_file(home, "bare_wood", INVENTED_WOOD.replace('source = "', 'source = "my_'))
    assert "is not known" in refused("species", "bare_wood")
    own_file(home, "sources", '[[source]]\nkey = "my_x"\ntitle = "T"\npublisher = "P"\nyear = 2031\n')
    said = refused("species", "bare_wood")
    assert "sources.toml, line 5" in said and "text in quotes" in said

"""The species files against the aircraft documents: ANC-19, ANC-18, AC 43.13-1B, and the second-hand ones."""

import pytest
from species_double_entry import LIBRARY, SPRUCES, entries, figures, found
from species_tables_aircraft import (
    AC_43_13_TABLE_1_1,
    ANC_18_TABLE_2_2,
    ANC_18_TABLE_2_2_RECALLED,
    ANC_19_TABLE_2_13,
    ANC_19_TABLE_2_13_CLASS_L,
    CHART_1998,
    OBSERVED_DRY_VOLUME,
    OBSERVED_GREEN_VOLUME,
    QUOTED,
    RECALLED,
    RECALLED_COLUMNS,
    STRENGTH_CHANGES,
    TABLE_2_6,
    WEIGHT_CHANGE_METRIC,
    WEIGHT_CHANGES,
    WEIGHTS,
)

from bench.core.records import Figure

POUND_PER_CUBIC_FOOT = 16.01846  # [kg/m3]; NIST Special Publication 811, appendix B, from memory
OBSERVED = ["specific_gravity_observed_least", "specific_gravity_average", "specific_gravity_observed_most"]
CHANGES = [f"strength_change_{name}" for name in STRENGTH_CHANGES]


def test_anc_19_table_2_13() -> None:
    """Minimum gravities and rings per inch, by AN specification."""
    typed = entries(ANC_19_TABLE_2_13, ["specific_gravity_minimum", "rings_minimum"], volume="oven-dry")
    typed |= entries(
        ANC_19_TABLE_2_13_CLASS_L,
        ["specific_gravity_minimum", "specific_gravity_maximum", "rings_minimum"],
        volume="oven-dry",
        variant="class L",
    )
    assert found("anc19", "Table 2-13") == typed
    assert all(figure.used and figure.standing == "read" for _, figure in figures("anc19", "Table 2-13"))


def test_anc_19_observed_gravities() -> None:
    typed = entries(OBSERVED_GREEN_VOLUME, OBSERVED, "green", "green")
    typed |= entries(OBSERVED_DRY_VOLUME, OBSERVED, volume="oven-dry")
    assert found("anc19", "Table 2-2", "Table 2-3") == typed


def test_anc_19_weights() -> None:
    typed = entries(WEIGHTS, ["weight_average", "weight_minimum"], "15 %")
    typed |= entries(WEIGHT_CHANGES, ["weight_change"])
    metric = {"weight_change": "g/cm3 per 1 %"}
    typed |= entries(WEIGHT_CHANGE_METRIC, ["weight_change"], units=metric)
    worked = found("anc19", "sec. 2.20", "sec. 2.200", "sec. 2.204")
    assert {cell for cell in worked if cell[1].startswith("weight")} == typed


def test_anc_19_noble_fir_worked_example() -> None:
    """Sec. 2.20: 0.36 x 62.4 + 15 x 0.095 = 23.9 lb/ft3, so the minimum is on oven-dry volume."""
    fir = LIBRARY.get("noble_fir")
    least = fir.find("specific_gravity_minimum", "", "oven-dry")
    change = fir.find("weight_change")
    weight = fir.find("weight_minimum", "15 %")
    assert least and change and weight
    worked = (least.value * 1000 + 0.15 * change.value) / POUND_PER_CUBIC_FOOT
    assert f"{worked:.1f}" == weight.printed == "23.9"


def test_anc_19_spruce_change_in_metric() -> None:
    """0.120 lb/ft3 per 1 % is 0.00192 g/cm3 per 1 %."""
    change = LIBRARY.get("sitka_spruce").find("weight_change")
    assert change is not None
    assert f"{change.value / 1e5:.5f}" == "0.00192"


def test_anc_19_slope_of_grain() -> None:
    """Sec. 2.4100: no steeper than 1:15, for every wood."""
    found_keys = {key for key, figure in figures("anc19", "sec. 2.4100") if figure.printed == "1:15"}
    assert found_keys == set(LIBRARY.species)


def test_ac_43_13_table_1_1_slope() -> None:
    assert found("ac4313", "Table 1-1") == entries(AC_43_13_TABLE_1_1, ["grain_slope_limit"])


def test_every_wood_has_a_slope_limit_of_one_in_fifteen() -> None:
    for species in LIBRARY.species.values():
        limit = species.find("grain_slope_limit")
        assert limit is not None
        assert limit.value == pytest.approx(1 / 15, rel=1e-15)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        (SPRUCES, ["reference", "100 percent"]),
        (["douglas_fir_coast", "port_orford_cedar"], ["Stronger"]),
        (["noble_fir"], ["little stronger", "8 percent weaker in shear"]),
        (["western_hemlock"], ["little stronger"]),
        (["eastern_white_pine"], ["85", "96"]),
        (["yellow_poplar"], ["little weaker", "crushing and shear"]),
    ],
)
def test_ac_43_13_table_1_1_strength(keys: list[str], words: list[str]) -> None:
    """Table 1-1, column 2: strength beside spruce."""
    for key in keys:
        (statement,) = LIBRARY.get(key).statements
        assert (statement.source, statement.where) == ("ac4313", "Table 1-1, column 2")
        assert all(word in statement.text for word in words)


def test_ac_43_13_names_nine_woods() -> None:
    assert len([species for species in LIBRARY.species.values() if species.statements]) == 9


def test_chart_of_1998() -> None:
    """Second-hand: on record, never in use."""
    assert found("building_with_wood") == entries(CHART_1998, ["rings_minimum", "grain_slope_limit"])
    assert not any(figure.used for _, figure in figures("building_with_wood"))


def test_anc_18_table_2_2() -> None:
    recalled = entries(ANC_18_TABLE_2_2_RECALLED, CHANGES)
    assert found("anc18", "Table 2-2") == entries(ANC_18_TABLE_2_2, CHANGES) | recalled
    assert {(key, f.quantity) for key, f in figures("anc18") if f.memory} == {cell[:2] for cell in recalled}


def test_strength_change_is_percent_for_each_percent() -> None:
    """Sitka spruce crushing gains 5.3 % for each 1 % of moisture lost: 5.3 times the change of the share."""
    change = LIBRARY.get("sitka_spruce").find("strength_change_compression_parallel")
    assert change is not None
    assert change.value == 5.3


def test_anc_18_of_1951_table_2_6() -> None:
    columns = [
        "weight_average",
        "bending_limit",
        "compression_parallel_limit",
        "shear_parallel",
        "tension_parallel",
    ]
    assert found("anc18_1951") == entries(TABLE_2_6, columns, "15 %")


def test_anc_18_as_quoted() -> None:
    columns = ["specific_gravity_average", "specific_gravity_minimum", "modulus_of_rupture"]
    assert found("anc18_quoted") == entries(QUOTED, columns, "15 %", "oven-dry")


def test_white_ash_of_the_trade() -> None:
    """Common practice, no published source: least 0.56 and average 0.62 on oven-dry volume."""
    assert found("trade") == {
        ("white_ash", "specific_gravity_minimum", "", "oven-dry", "", "0.56", "-"),
        ("white_ash", "specific_gravity_average", "", "oven-dry", "", "0.62", "-"),
    }
    for _, figure in figures("trade"):
        assert figure.used
        assert figure.standing == "trade"


def test_recalled_design_table() -> None:
    """All from memory. The two gravities of white ash stand as facts of the trade instead."""
    typed = entries(
        RECALLED, RECALLED_COLUMNS, "15 %", "oven-dry", units={"modulus_of_elasticity": "10^3 lbf/in2"}
    )
    assert found("naca354") == {cell for cell in typed if cell[:2] not in _ASH_GRAVITIES}
    assert all(figure.memory for _, figure in figures("naca354"))


_ASH_GRAVITIES = {("white_ash", "specific_gravity_average"), ("white_ash", "specific_gravity_minimum")}


def test_nothing_recalled_is_in_use_where_something_was_read() -> None:
    identity: dict[tuple[str, ...], list[Figure]] = {}
    for species in LIBRARY.species.values():
        for figure in species.figures:
            same = (species.key, figure.quantity, figure.at, figure.volume, figure.variant)
            identity.setdefault(same, []).append(figure)
    several = [group for group in identity.values() if len(group) > 1]
    assert several
    for group in several:
        used = [figure for figure in group if figure.used]
        assert len(used) == 1
        assert not used[0].memory or all(figure.memory for figure in group)


def test_memory_is_marked_and_nothing_else_is() -> None:
    """Every figure from memory comes from one of the recalled tables, checked one by one in these files."""
    sources = {
        (figure.source, figure.where)
        for species in LIBRARY.species.values()
        for figure in species.figures
        if figure.memory
    }
    assert sources == {
        ("naca354", "Table 1"),
        ("anc18", "Table 2-2"),
        ("wh190", "Table 4-3"),
        ("wh190", "Table 13-5"),
    }


def test_every_figure_was_typed_twice() -> None:
    """The tables of these files cover the library whole: what is in no table would not have been checked."""
    tables = [("wh282", place) for place in ("5-3b", "5-3a", "5-4b", "5-5b", "5-7", "5-13", "4-3")]
    tables += [("wh190", place) for place in ("4-3", "4-4", "13-5", "5-3a")]
    tables += [("anc19", place) for place in ("2-13", "2-2", "2-3")] + [("anc18", "2-2"), ("naca354", "1")]
    tables += [("anc18_1951", "2-6"), ("ac4313", "1-1")]
    covered = [(source, f"Table {place}") for source, place in tables]
    covered += [("anc19", f"sec. {section}") for section in ("2.20", "2.200", "2.204", "2.4100")]
    covered += [("wh282", "p. 5-34"), ("trade", ""), ("spruce_page", ""), ("pine_sheet", "")]
    covered += [("flooring_chart", ""), ("building_with_wood", ""), ("anc18_quoted", ""), ("wetting", "")]
    seen = [id(f) for source, place in covered for _, f in figures(source, *([place] if place else []))]
    every = [id(figure) for species in LIBRARY.species.values() for figure in species.figures]
    assert set(seen) == set(every)


def test_contact_angles() -> None:
    """Abstract of a study of the wetting of four North American woods: water, Wilhelmy plate, degrees."""
    assert found("wetting") == {
        ("sitka_spruce", "contact_angle", "", "", "", "60", "deg"),
        ("douglas_fir_coast", "contact_angle", "", "", "", "74", "deg"),
    }

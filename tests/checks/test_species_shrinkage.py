"""The species files against Tables 4-3, 4-4 and 13-5 of the Wood Handbook, and the secondary sources named.

wh190 is FPL-GTR-190 (2010), wh282 is FPL-GTR-282 (2021), USDA Forest Service, Forest Products Laboratory.
"""

from species_double_entry import LIBRARY, entries, figures, found, rows

SHRINKAGE = ["shrinkage_radial", "shrinkage_tangential", "shrinkage_volumetric"]
MOVEMENT = ["movement_radial", "movement_tangential"]

# Table 4-3, p. 4-6 and after: shrinkage from green to oven-dry, %.
TABLE_4_3 = """
alaska_yellow_cedar  2.8  6.0   9.2
american_basswood    6.6  9.3  15.8
black_ash            5.0  7.8  15.2
black_walnut         5.5  7.8  12.8
douglas_fir_coast    4.8  7.6  12.4
green_ash            4.6  7.1  12.5
noble_fir            4.3  8.3  12.4
oregon_ash           4.1  8.1  13.2
port_orford_cedar    4.6  6.9  10.1
sugar_maple          4.8  9.9  14.7
sweet_birch          6.5  9.0  15.6
western_hemlock      4.2  7.8  12.4
white_ash            4.9  7.8  13.3
yellow_birch         7.3  9.5  16.8
yellow_poplar        4.6  8.2  12.7
"""
# Two rows of it were read in the 2021 edition.
OF_2021 = {"western_hemlock", "sugar_maple"}

# Table 4-3 where the page was cut off: from memory.
TABLE_4_3_RECALLED = """
eastern_white_pine  2.1  6.1   8.2
red_spruce          3.8  7.8  11.8
western_white_pine  4.1  7.4  11.8
"""

# Table 4-4, imported woods.
TABLE_4_4 = """
african_mahogany  2.5  4.5  8.8
true_mahogany     3.0  4.1  7.8
"""

# A species page and a data sheet, both secondary.
SPRUCE_PAGE = """
sitka_spruce  4.3  7.5  11.5
"""
PINE_SHEET = """
eastern_white_pine  2.3  6.0  8.2
"""

# Table 13-5, p. 13-16: change of dimension per 1 % of moisture, 6 % to 14 %.
TABLE_13_5 = """
american_basswood  0.00230  0.00330
black_ash          0.00172  0.00274
black_walnut       0.00190  0.00274
green_ash          0.00169  0.00274
oregon_ash         0.00141  0.00285
sugar_maple        0.00165  0.00353
sweet_birch        0.00256  0.00338
white_ash          0.00169  0.00274
yellow_birch       0.00256  0.00338
"""

# Table 13-5 where the page was cut off: from memory.
TABLE_13_5_RECALLED = """
alaska_yellow_cedar  0.00095  0.00208
douglas_fir_coast    0.00165  0.00267
eastern_white_pine   0.00071  0.00212
noble_fir            0.00148  0.00293
port_orford_cedar    0.00158  0.00241
red_spruce           0.00130  0.00274
sitka_spruce         0.00148  0.00263
western_hemlock      0.00144  0.00274
western_white_pine   0.00141  0.00259
yellow_poplar        0.00158  0.00289
"""

# A trade chart of flooring woods, secondary.
FLOORING_CHART = """
douglas_fir_coast  -  0.00267
"""

# Table 13-5 prints the row of white ash for green ash, and that of yellow birch for sweet birch.
NOT_FROM_OWN_SHRINKAGE = {"green_ash", "sweet_birch"}


def test_table_4_3() -> None:
    read = entries(TABLE_4_3, SHRINKAGE)
    assert found("wh282", "Table 4-3") == {cell for cell in read if cell[0] in OF_2021}
    recalled = entries(TABLE_4_3_RECALLED, SHRINKAGE)
    assert found("wh190", "Table 4-3") == {cell for cell in read if cell[0] not in OF_2021} | recalled
    memory = {(key, f.quantity) for key, f in figures("wh190", "Table 4-3") if f.memory}
    assert memory == {cell[:2] for cell in recalled}


def test_table_4_4() -> None:
    assert found("wh190", "Table 4-4") == entries(TABLE_4_4, SHRINKAGE)


def test_secondary_shrinkage() -> None:
    assert found("spruce_page") == entries(SPRUCE_PAGE, SHRINKAGE)
    assert found("pine_sheet") == entries(PINE_SHEET, SHRINKAGE)


def test_a_figure_read_goes_before_one_recalled() -> None:
    """Eastern white pine: 2.3 and 6.0 were read in a secondary sheet, 2.1 and 6.1 are recalled."""
    pine = LIBRARY.get("eastern_white_pine")
    used = [pine.find(quantity) for quantity in SHRINKAGE]
    assert [figure.printed for figure in used if figure] == ["2.3", "6.0", "8.2"]
    assert not any(figure.memory for figure in used if figure)


def test_unknown_shrinkage_is_absent() -> None:
    """No text read gives the shrinkage of white spruce or of balsa."""
    for key in ("white_spruce", "balsa"):
        assert not [f for f in LIBRARY.get(key).figures if f.quantity in SHRINKAGE + MOVEMENT]


def test_table_13_5() -> None:
    recalled = entries(TABLE_13_5_RECALLED, MOVEMENT)
    assert found("wh190", "Table 13-5") == entries(TABLE_13_5, MOVEMENT) | recalled
    memory = {(key, f.quantity) for key, f in figures("wh190", "Table 13-5") if f.memory}
    assert memory == {cell[:2] for cell in recalled}
    assert found("flooring_chart") == entries(FLOORING_CHART, MOVEMENT)


def test_movement_follows_from_shrinkage() -> None:
    """Every printed or recalled coefficient is s/(30 - 20 s) to its fifth decimal, s the shrinkage.

    The relation was found by comparing Tables 4-3 and 13-5; s is taken from the same two tables.
    """
    shrinkage = {key: cells for key, *cells in rows(TABLE_4_3 + TABLE_4_3_RECALLED + SPRUCE_PAGE)}
    checked = 0
    for key, *cells in rows(TABLE_13_5 + TABLE_13_5_RECALLED):
        if key in NOT_FROM_OWN_SHRINKAGE:
            continue
        for printed, percent in zip(cells, shrinkage[key], strict=False):
            s = float(percent) / 100
            assert f"{s / (30 - 20 * s):.5f}" == printed, key
            checked += 1
    assert checked == 34


def test_borrowed_rows_of_13_5() -> None:
    cells = {key: rest for key, *rest in rows(TABLE_13_5)}
    assert cells["green_ash"] == cells["white_ash"]
    assert cells["sweet_birch"] == cells["yellow_birch"]
